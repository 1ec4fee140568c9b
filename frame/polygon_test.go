package frame_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/frame"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
)

// same requires two moments to agree but for rounding.
func same(t require.TestingT, want, got frame.Moments) {
	size := math.Sqrt(want.Area)
	require.InEpsilon(t, want.Area, got.Area, 1e-10)
	require.InEpsilon(t, want.Iy, got.Iy, 1e-9)
	require.InEpsilon(t, want.Iz, got.Iz, 1e-9)
	require.InDelta(t, 0, (want.Iyz-got.Iyz)/(want.Iy+want.Iz), 1e-9)
	require.InDelta(t, 0, (want.Centroid.Y-got.Centroid.Y)/size, 1e-9)
	require.InDelta(t, 0, (want.Centroid.Z-got.Centroid.Z)/size, 1e-9)
}

// star is a loop around a point, its corners at growing angles.
func star(about frame.Point, least, most float64) *rapid.Generator[[]frame.Point] {
	return rapid.Custom(func(t *rapid.T) []frame.Point {
		c := make([]frame.Point, rapid.IntRange(3, 9).Draw(t, "corners"))
		for i := range c {
			r := draw.Uniform(least, most).Draw(t, "radius")
			sin, cos := math.Sincos(2 * math.Pi * (float64(i) + draw.Uniform(0, 0.4).Draw(t, "turned")) / float64(len(c)))
			c[i] = frame.Point{Y: about.Y + r*cos, Z: about.Z + r*sin}
		}
		return c
	})
}

// move turns a loop about the origin, then shifts it.
func move(c []frame.Point, angle float64, by frame.Point) []frame.Point {
	sin, cos := math.Sincos(angle)
	out := make([]frame.Point, len(c))
	for i, p := range c {
		out[i] = frame.Point{Y: p.Y*cos - p.Z*sin + by.Y, Z: p.Y*sin + p.Z*cos + by.Z}
	}
	return out
}

func TestCheckPolygons(t *testing.T) {
	moments := func(p frame.Polygon) frame.Moments {
		m, err := p.Moments()
		require.NoError(t, err)
		return m
	}
	triangle := moments(frame.Polygon{Outline: []frame.Point{{0, 0}, {0.03, 0}, {0, 0.06}}})
	const right = "right triangle b = 3, h = 6: bh³/36, hb³/36, -b²h²/72 by hand in cm"
	tubed := moments(frame.Polygon{
		Outline: []frame.Point{{0, 0}, {0.04, 0}, {0.04, 0.06}, {0, 0.06}},
		Holes:   [][]frame.Point{{{0.003, 0.003}, {0.003, 0.057}, {0.037, 0.057}, {0.037, 0.003}}},
	})
	const hollow = "outer less inner rectangle, by hand in mm"
	gon := make([]frame.Point, 6)
	for i := range gon {
		sin, cos := math.Sincos(math.Pi / 3 * float64(i))
		gon[i] = frame.Point{Y: 0.01 * cos, Z: 0.01 * sin}
	}
	hexagon := moments(frame.Polygon{Outline: gon})
	l := moments(drawn("angle", 0.06, 0.04, 0.005, 0.005))
	larger, smaller, turned := l.Principal()
	const legs = "60x40x5 of two rectangles, numpy"
	const why = "digits given"
	verify.Table(t, []verify.Row{
		{Name: "triangle A [cm²]", Source: right, Kind: verify.Own, Want: 9, Got: triangle.Area * 1e4, Tol: 1e-12, Why: why},
		{Name: "triangle centroid y [cm]", Source: right, Kind: verify.Own, Want: 1, Got: triangle.Centroid.Y * 1e2, Tol: 1e-12, Why: why},
		{Name: "triangle centroid z [cm]", Source: right, Kind: verify.Own, Want: 2, Got: triangle.Centroid.Z * 1e2, Tol: 1e-12, Why: why},
		{Name: "triangle Iy [cm⁴]", Source: right, Kind: verify.Own, Want: 18, Got: triangle.Iy * 1e8, Tol: 1e-12, Why: why},
		{Name: "triangle Iz [cm⁴]", Source: right, Kind: verify.Own, Want: 4.5, Got: triangle.Iz * 1e8, Tol: 1e-12, Why: why},
		{Name: "triangle Iyz [cm⁴]", Source: right, Kind: verify.Own, Want: -4.5, Got: triangle.Iyz * 1e8, Tol: 1e-12, Why: why},
		{Name: "60x40x3 A [mm²]", Source: hollow, Kind: verify.Own, Want: 564, Got: tubed.Area * 1e6, Tol: 1e-12, Why: why},
		{Name: "60x40x3 Iy [mm⁴]", Source: hollow, Kind: verify.Own, Want: 273852, Got: tubed.Iy * 1e12, Tol: 1e-12, Why: why},
		{Name: "60x40x3 Iz [mm⁴]", Source: hollow, Kind: verify.Own, Want: 143132, Got: tubed.Iz * 1e12, Tol: 1e-12, Why: why},
		{Name: "hexagon of side 1, I [cm⁴]", Source: "5√3/16·a⁴", Kind: verify.Own, Want: 0.541265877365, Got: hexagon.Iy * 1e8, Tol: 1e-11, Why: why},
		{Name: "angle 60x40x5 larger I [mm⁴]", Source: legs, Kind: verify.Own, Want: 200723.536, Got: larger * 1e12, Tol: 3e-9, Why: why},
		{Name: "angle 60x40x5 smaller I [mm⁴]", Source: legs, Kind: verify.Own, Want: 35926.6829, Got: smaller * 1e12, Tol: 2e-9, Why: why},
		{Name: "angle 60x40x5 turned [rad]", Source: legs, Kind: verify.Own, Want: 0.414865955, Got: turned, Tol: 2e-9, Why: why},
	})
}

func TestPropertyPolygons(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := frame.Polygon{Outline: star(frame.Point{}, 0.03, 0.06).Draw(t, "outline")}
		if len(p.Outline) > 4 { // so near its centre no side passes
			p.Holes = append(p.Holes, star(frame.Point{Y: 0.004}, 0.0005, 0.003).Draw(t, "hole"))
			p.Holes = append(p.Holes, star(frame.Point{Y: -0.004}, 0.0005, 0.003).Draw(t, "other hole"))
		}
		m, err := p.Moments()
		require.NoError(t, err)

		// Either way round, whichever corner comes first.
		back := frame.Polygon{Holes: p.Holes}
		for i := range p.Outline {
			back.Outline = append(back.Outline, p.Outline[(len(p.Outline)+1-i)%len(p.Outline)])
		}
		other, err := back.Moments()
		require.NoError(t, err)
		same(t, m, other)

		// Outline less holes.
		whole := m
		for _, h := range p.Holes {
			hole, err := frame.Polygon{Outline: h}.Moments()
			require.NoError(t, err)
			whole = whole.Plus(hole)
		}
		solid, err := frame.Polygon{Outline: p.Outline}.Moments()
		require.NoError(t, err)
		same(t, solid, whole)

		// Triangles about the centre make up the outline.
		var sum frame.Moments
		for i, a := range p.Outline {
			piece, err := frame.Polygon{Outline: []frame.Point{{}, a, p.Outline[(i+1)%len(p.Outline)]}}.Moments()
			require.NoError(t, err)
			if i == 0 {
				sum = piece
			} else {
				sum = sum.Plus(piece)
			}
		}
		same(t, solid, sum)

		// Turned and moved, it turns and moves.
		angle := draw.Uniform(-3, 3).Draw(t, "angle")
		by := frame.Point{Y: draw.Uniform(-1, 1).Draw(t, "y"), Z: draw.Uniform(-1, 1).Draw(t, "z")}
		moved := frame.Polygon{Outline: move(p.Outline, angle, by)}
		for _, h := range p.Holes {
			moved.Holes = append(moved.Holes, move(h, angle, by))
		}
		other, err = moved.Moments()
		require.NoError(t, err)
		other.Centroid = frame.Point{Y: other.Centroid.Y - by.Y, Z: other.Centroid.Z - by.Z}
		same(t, m.Turned(-angle), other)
		require.InEpsilon(t, m.Iy+m.Iz, other.Iy+other.Iz, 1e-10)
		larger, smaller, at := m.Principal()
		l2, s2, _ := other.Principal()
		require.InEpsilon(t, larger, l2, 1e-9)
		require.InEpsilon(t, smaller, s2, 1e-9)
		principal := m.Turned(at)
		require.InEpsilon(t, larger, principal.Iy, 1e-10)
		require.InDelta(t, 0, principal.Iyz/larger, 1e-10)
		other = m.Turned(draw.Uniform(-3, 3).Draw(t, "axes"))
		require.LessOrEqual(t, other.Iy, larger*(1+1e-12))
		require.GreaterOrEqual(t, other.Iy, smaller*(1-1e-12))

		s, err := m.Section(0.5 * smaller)
		require.NoError(t, err)
		require.Equal(t, frame.Section{Area: m.Area, Iy: larger, Iz: smaller, J: 0.5 * smaller}, s)
	})
}

func TestPolygonRefuses(t *testing.T) {
	square := []frame.Point{{0, 0}, {0.04, 0}, {0.04, 0.04}, {0, 0.04}}
	inner := move([]frame.Point{{0, 0}, {0.01, 0}, {0.01, 0.01}, {0, 0.01}}, 0, frame.Point{Y: 0.01, Z: 0.01})
	for message, p := range map[string]frame.Polygon{
		"frame.Polygon.Outline: corners = 2: allowed 3 or more":                                                                   {Outline: square[:2]},
		"frame.Polygon.Outline: corners = 0: allowed 3 or more\nframe.Polygon.Holes[0]: corners = 1: allowed 3 or more":           {Holes: [][]frame.Point{square[:1]}},
		"frame.Polygon.Outline[1].Z = NaN m: allowed -10 to 10 m\nframe.Polygon.Outline[2].Y = 11 m: allowed -10 to 10 m":         {Outline: []frame.Point{{0, 0}, {0.1, math.NaN()}, {11, 0}}},
		"frame.Polygon: corners in all = 2001: allowed at most 2000":                                                              {Outline: make([]frame.Point, 2001)},
		`frame.Polygon.Outline[0] = "corner given twice": allowed corners apart`:                                                  {Outline: []frame.Point{{0, 0}, {0, 0}, {1, 0}, {0, 1}}},
		`frame.Polygon.Outline[1] = "side meets that from frame.Polygon.Outline[3]": allowed sides that neither cross nor touch`:  {Outline: []frame.Point{{0, 1}, {0, 0}, {1, 1}, {1, 0}}},
		`frame.Polygon.Outline[1] = "side meets that from frame.Polygon.Outline[2]": allowed sides that neither cross nor touch`:  {Outline: []frame.Point{{0, 0}, {1, 0}, {1, 1}, {1, 0.5}}},
		`frame.Polygon.Outline[0] = "side meets that from frame.Polygon.Outline[2]": allowed sides that neither cross nor touch`:  {Outline: []frame.Point{{1, 1}, {0.5, 0}, {0, 0}, {1, 0}}},
		`frame.Polygon.Outline[0] = "side meets that from frame.Polygon.Holes[0][0]": allowed sides that neither cross nor touch`: {Outline: square, Holes: [][]frame.Point{{{0.01, 0}, {0.02, 0.01}, {0.01, 0.01}}}},
		`frame.Polygon.Holes[0] = "misplaced": allowed inside the outline and outside every other hole`:                           {Outline: square, Holes: [][]frame.Point{move(inner, 0, frame.Point{Y: 1})}},
	} {
		_, err := p.Moments()
		assert.ErrorIs(t, err, material.ErrInvalid, message)
		assert.EqualError(t, err, message)
	}
	hidden := frame.Polygon{Outline: square, Holes: [][]frame.Point{inner, {{0.012, 0.012}, {0.014, 0.012}, {0.014, 0.014}}}}
	_, err := hidden.Moments()
	assert.ErrorContains(t, err, `frame.Polygon.Holes[1] = "misplaced"`)
	hidden.Holes[0], hidden.Holes[1] = hidden.Holes[1], hidden.Holes[0]
	_, err = hidden.Moments()
	assert.ErrorContains(t, err, `frame.Polygon.Holes[1] = "misplaced"`)
	_, err = frame.Polygon{Outline: []frame.Point{{0, 0}, {1e-5, 0}, {0, 1e-5}}}.Moments()
	assert.ErrorContains(t, err, "frame.Moments.Area = 5e-11 m²: allowed 1e-10 to 100 m²")
	_, err = frame.Moments{Area: 1, Iy: 1, Iz: 1, Iyz: 0.999}.Section(1)
	assert.ErrorContains(t, err, "solid disc")
	_, err = frame.Moments{Area: 1, Iy: 1, Iz: 1, Iyz: 0.5}.Section(3)
	assert.ErrorContains(t, err, "frame.Section.J")
}

func ExamplePolygon() {
	// A bar of 20 × 20 mm with a slot of 5 × 6 mm in one side and a bore of 4.2 mm.
	slotted := frame.Polygon{
		Outline: []frame.Point{{0, 0}, {0.020, 0}, {0.020, 0.020}, {0.0125, 0.020}, {0.0125, 0.014}, {0.0075, 0.014}, {0.0075, 0.020}, {0, 0.020}},
		Holes:   [][]frame.Point{make([]frame.Point, 24)},
	}
	for i := range slotted.Holes[0] {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / 24)
		slotted.Holes[0][i] = frame.Point{Y: 0.010 + 0.0021*cos, Z: 0.010 + 0.0021*sin}
	}
	m, err := slotted.Moments()
	if err != nil {
		panic(err)
	}
	fmt.Printf("A %.4g mm², centroid %.3g mm up, Iy %.3g cm⁴, Iz %.3g cm⁴\n", m.Area*1e6, m.Centroid.Z*1e3, m.Iy*1e8, m.Iz*1e8)
	// Output: A 356.3 mm², centroid 9.41 mm up, Iy 1.16 cm⁴, Iz 1.33 cm⁴
}
