package frame_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"meltflight/frame"
	"meltflight/internal/verify"
	"meltflight/material"
)

func twist(t require.TestingT, p frame.Polygon) float64 {
	j, err := p.Torsion()
	require.NoError(t, err)
	return j
}

func box(y, z, width, height float64) []frame.Point {
	return []frame.Point{{y, z}, {y + width, z}, {y + width, z + height}, {y, z + height}}
}

// roundBox is a box about the origin with round corners, each of 12 tangents.
func roundBox(width, height, radius float64) []frame.Point {
	const n = 12
	step := math.Pi / 2 / n
	var c []frame.Point
	for q, corner := range [][2]float64{{1, 1}, {-1, 1}, {-1, -1}, {1, -1}} {
		for i := range n {
			sin, cos := math.Sincos(math.Pi/2*float64(q) + step*(float64(i)+0.5))
			r := radius / math.Cos(step/2)
			c = append(c, frame.Point{Y: corner[0]*(width/2-radius) + r*cos, Z: corner[1]*(height/2-radius) + r*sin})
		}
	}
	return c
}

func TestCheckTorsionOfPolygons(t *testing.T) {
	const membrane = "finite differences of Prandtl's membrane, extrapolated"
	const timoshenko = "S. Timoshenko, J. Goodier, Theory of Elasticity, art. 105"
	side := 0.03
	triangle := frame.Polygon{Outline: []frame.Point{{0, 0}, {side, 0}, {side / 2, side * math.Sqrt(3) / 2}}}
	const pieces = "the stated error of extrapolation"
	var rows []verify.Row
	for _, c := range []struct {
		name, source string
		kind         verify.Kind
		p            frame.Polygon
		want, tol    float64
	}{
		{"equilateral triangle J/a⁴", timoshenko + ": √3/80", verify.Memory, triangle, math.Sqrt(3) / 80 * math.Pow(side, 4) * 1e12, 1e-5},
		{"strip of 100x10 [mm⁴]", "Saint-Venant's series summed to 30 digits", verify.Own, frame.Polygon{Outline: box(0, 0, 0.1, 0.01)}, 0.31232504 * 100000, 1e-3},
		{"tube 60x40x3 [mm⁴]", membrane, verify.Own, frame.Polygon{Outline: box(0, 0, 0.04, 0.06), Holes: [][]frame.Point{box(0.003, 0.003, 0.034, 0.054)}}, 283907.29787234 * 1.03133, 2e-5},
		{"angle 30x30x3 [mm⁴]", membrane, verify.Own, drawn("angle", 0.03, 0.03, 0.003, 0.003), 501.977, 2e-3},
		{"I 40x40x10x10 [mm⁴]", membrane, verify.Own, drawn("I", 0.04, 0.04, 0.01, 0.01), 34933.55, 1e-3},
	} {
		rows = append(rows, verify.Row{Name: c.name, Source: c.source, Kind: c.kind, Want: c.want, Got: twist(t, c.p) * 1e12, Tol: c.tol, Why: pieces})
	}
	for _, c := range []struct {
		h, w, wall, radius, tol float64
		why                     string
	}{{60, 40, 3, 6, 0.004, "the stated error, and 12 tangents for an arc"}, {40, 40, 3, 3, 0.015, "the stated error"}} {
		h, w, wall, r := c.h*1e-3, c.w*1e-3, c.wall*1e-3, c.radius*1e-3
		p := frame.Polygon{Outline: roundBox(w, h, r), Holes: [][]frame.Point{box(wall-w/2, wall-h/2, w-2*wall, h-2*wall)}}
		if r > wall {
			p.Holes[0] = roundBox(w-2*wall, h-2*wall, r-wall)
		}
		rows = append(rows, verify.Row{Name: fmt.Sprintf("tube %gx%gx%g round %g [mm⁴]", c.h, c.w, c.wall, c.radius), Source: "polygon by boundary elements, themselves held to the rows above", Kind: verify.Own,
			Want: twist(t, p) * 1e12, Got: rounded(t, c.h, c.w, c.wall, c.radius).J * 1e12, Tol: c.tol, Why: c.why})
	}
	verify.Table(t, rows)
}

// Torsion does not see where or how turned a section lies, nor which way its loops run.
func TestTorsionOfPolygonsLaws(t *testing.T) {
	p := frame.Polygon{Outline: drawn("tee", 0.04, 0.05, 0.012, 0.01).Outline, Holes: [][]frame.Point{box(-0.002, 0.003, 0.004, 0.005)}}
	j := twist(t, p)
	moved := frame.Polygon{Outline: move(p.Outline, 0.7, frame.Point{Y: 0.3, Z: -1}), Holes: [][]frame.Point{move(p.Holes[0], 0.7, frame.Point{Y: 0.3, Z: -1})}}
	hole := moved.Holes[0]
	hole[0], hole[1], hole[2], hole[3] = hole[3], hole[2], hole[1], hole[0]
	scaled := frame.Polygon{Holes: [][]frame.Point{nil}}
	for _, q := range moved.Outline {
		scaled.Outline = append(scaled.Outline, frame.Point{Y: 3 * q.Y, Z: 3 * q.Z})
	}
	for _, q := range hole {
		scaled.Holes[0] = append(scaled.Holes[0], frame.Point{Y: 3 * q.Y, Z: 3 * q.Z})
	}
	assert.InEpsilon(t, j*81, twist(t, scaled), 1e-9)
	// Boring a hole weakens, by less than the hole's own polar moment allows.
	assert.Less(t, j, twist(t, frame.Polygon{Outline: p.Outline}))
	m, err := p.Moments()
	require.NoError(t, err)
	s, err := m.Section(j)
	require.NoError(t, err)
	assert.Equal(t, j, s.J)
}

func TestTorsionOfPolygonsRefuses(t *testing.T) {
	_, err := frame.Polygon{Outline: box(0, 0, 1, 0.001)}.Torsion()
	assert.ErrorIs(t, err, frame.ErrThin)
	assert.NotErrorIs(t, err, material.ErrInvalid)
	_, err = frame.Polygon{Outline: box(0, 0, 1, 0)}.Torsion()
	assert.ErrorIs(t, err, material.ErrInvalid)
	many := make([]frame.Point, 201)
	for i := range many {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 201)
		many[i] = frame.Point{Y: cos, Z: sin}
	}
	_, err = frame.Polygon{Outline: many}.Torsion()
	assert.EqualError(t, err, "frame.Polygon.Torsion: corners in all = 201: allowed 3 to 200")
	// Nearly touching, far away, tiny, huge: a number or a word.
	for _, p := range []frame.Polygon{
		{Outline: box(0, 0, 0.1, 0.1), Holes: [][]frame.Point{box(1e-12, 0.01, 0.05, 0.05)}},
		{Outline: []frame.Point{{0, 0}, {0.1, 0}, {0.1, 0.1}, {math.Nextafter(0.1, 0), 0.1}, {0, 0.1}}},
	} {
		j, err := p.Torsion()
		finite(t, err, j)
	}
}
