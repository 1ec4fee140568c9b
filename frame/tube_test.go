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

// rounded is a round-cornered tube in millimetres.
func rounded(t require.TestingT, height, width, wall, radius float64) frame.Section {
	s, err := frame.RoundedTube(height*1e-3, width*1e-3, wall*1e-3, radius*1e-3)
	require.NoError(t, err)
	return s
}

func TestCheckRoundedTubes(t *testing.T) {
	const table = "EN 10219-2, table of hollow sections, outer radius 2t"
	const annex = "EN 10219-2, Annex B, by hand"
	var rows []verify.Row
	for _, c := range []struct {
		h, w, t            float64
		area, i, j         float64
		tableArea, ti, tj  float64
		halfI, halfJ, halA float64
	}{
		{40, 40, 3, 4.20823, 9.32356, 15.7545, 4.21, 9.32, 15.8, 0.005, 0.05, 0.005},
		{60, 40, 3, 5.40823, 25.37883, 29.28362, 5.41, 25.4, 29.3, 0.05, 0.05, 0.005},
		{50, 50, 3, 5.40823, 19.46714, 32.13476, 5.41, 19.5, 32.1, 0.05, 0.05, 0.005},
	} {
		s := rounded(t, c.h, c.w, c.t, 2*c.t)
		name := fmt.Sprintf("%gx%gx%g round ", c.h, c.w, c.t)
		rows = append(rows,
			verify.Row{Name: name + "A [cm²]", Source: annex, Kind: verify.Own, Want: c.area, Got: s.Area * 1e4, Tol: 2e-6, Why: "six digits"},
			verify.Row{Name: name + "Iy [cm⁴]", Source: annex, Kind: verify.Own, Want: c.i, Got: s.Iy * 1e8, Tol: 1e-6, Why: "six digits"},
			verify.Row{Name: name + "It [cm⁴]", Source: annex, Kind: verify.Own, Want: c.j, Got: s.J * 1e8, Tol: 2e-6, Why: "six digits"},
			verify.Row{Name: name + "A [cm²]", Source: table, Kind: verify.Memory, Want: c.tableArea, Got: s.Area * 1e4, Tol: c.halA / c.tableArea, Why: "three digits printed"},
			verify.Row{Name: name + "Iy [cm⁴]", Source: table, Kind: verify.Memory, Want: c.ti, Got: s.Iy * 1e8, Tol: c.halfI / c.ti, Why: "three digits printed"},
			verify.Row{Name: name + "It [cm⁴]", Source: table, Kind: verify.Memory, Want: c.tj, Got: s.J * 1e8, Tol: c.halfJ / c.tj, Why: "three digits printed"})
	}
	// Square corners, whose Bredt's J the mid-line gives; a slit opens it.
	for _, c := range []struct{ h, w, t, bredt float64 }{{60, 40, 3, 283907.298}, {30, 30, 2, 43904}, {40, 40, 3, 151959}, {100, 50, 4, 1098651.042}} {
		h, w, wall := (c.h-c.t)*1e-3, (c.w-c.t)*1e-3, c.t*1e-3
		j, _, err := frame.Bredt([]frame.Point{{0, 0}, {w, 0}, {w, h}, {0, h}}, []float64{wall, wall, wall, wall})
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("%gx%gx%g J of Bredt [mm⁴]", c.h, c.w, c.t), Source: "4·Am²·t/s by hand", Kind: verify.Own, Want: c.bredt, Got: j * 1e12, Tol: 2e-9, Why: "nine digits"})
	}
	slit, modulus, err := frame.ThinOpen([]float64{0.094, 0.094}, []float64{0.003, 0.003})
	require.NoError(t, err)
	rows = append(rows,
		verify.Row{Name: "60x40x3 slit, J [mm⁴]", Source: "s·t³/3, s = 188 mm", Kind: verify.Own, Want: 1692, Got: slit * 1e12, Tol: 1e-12, Why: "rounding"},
		verify.Row{Name: "60x40x3 slit, T/τ [mm³]", Source: "s·t²/3", Kind: verify.Own, Want: 564, Got: modulus * 1e9, Tol: 1e-12, Why: "rounding"})
	verify.Table(t, rows)
}

func TestPropertyRoundedTube(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, w := draw.Log(0.01, 0.1).Draw(t, "height"), draw.Log(0.01, 0.1).Draw(t, "width")
		short := math.Min(h, w)
		wall := short * draw.Uniform(0.01, 0.25).Draw(t, "wall")
		r := draw.Uniform(wall, 0.5*short).Draw(t, "radius")
		s, err := frame.RoundedTube(h, w, wall, r)
		require.NoError(t, err)
		require.NoError(t, s.Validate())
		square, err := frame.RectangularTube(h, w, wall)
		require.NoError(t, err)
		// Rounding takes away metal where it counts most.
		for _, p := range [][2]float64{{s.Area, square.Area}, {s.Iy, square.Iy}, {s.Iz, square.Iz}, {s.J, 1.03 * square.J}, {s.ShearY, square.ShearY}} {
			require.Less(t, p[0], p[1])
		}
		// The other way round: bars and quarter discs, outer less inner.
		solid := func(h, w, r float64) float64 {
			quarter, c := math.Pi*r*r/4, 4*r/(3*math.Pi)
			own := math.Pi*math.Pow(r, 4)/16 - quarter*c*c
			arm := 0.5*h - r + c
			return (w-2*r)*h*h*h/12 + 2*r*math.Pow(h-2*r, 3)/12 + 4*(own+quarter*arm*arm)
		}
		require.InEpsilon(t, solid(h, w, r)-solid(h-2*wall, w-2*wall, r-wall), s.Iy, 1e-9)
		require.InEpsilon(t, solid(w, h, r)-solid(w-2*wall, h-2*wall, r-wall), s.Iz, 1e-9)
		turned, err := frame.RoundedTube(w, h, wall, r)
		require.NoError(t, err)
		require.InEpsilon(t, s.ShearY, turned.ShearZ, 1e-12)
		require.InEpsilon(t, s.TorsionModulus, turned.TorsionModulus, 1e-12)
		scale := draw.Log(0.1, 10).Draw(t, "scale")
		big, err := frame.RoundedTube(scale*h, scale*w, scale*wall, scale*r)
		require.NoError(t, err)
		similar(t, s, big, scale)

		// Round all the way it is a round tube; the skin is then taken as straight.
		pipe, err := frame.RoundedTube(h, h, 0.02*h, 0.5*h)
		require.NoError(t, err)
		round, err := frame.RoundTube(h, 0.02*h)
		require.NoError(t, err)
		require.InEpsilon(t, round.Area, pipe.Area, 1e-12)
		require.InEpsilon(t, round.Iy, pipe.Iy, 1e-12)
		require.InEpsilon(t, round.J, pipe.J, 0.02*0.02)
		require.InEpsilon(t, round.TorsionModulus, pipe.TorsionModulus, 0.02)
	})
}

// similar requires that b is a, larger by a scale.
func similar(t require.TestingT, a, b frame.Section, scale float64) {
	for power, p := range map[float64][][2]float64{
		1: {{a.Thickness, b.Thickness}}, 2: {{a.Area, b.Area}, {a.ShearY, b.ShearY}, {a.ShearZ, b.ShearZ}},
		3: {{a.TorsionModulus, b.TorsionModulus}}, 4: {{a.Iy, b.Iy}, {a.Iz, b.Iz}, {a.J, b.J}},
	} {
		for _, q := range p {
			require.InEpsilon(t, q[0]*math.Pow(scale, power), q[1], 1e-9)
		}
	}
}

func TestTubesRefuse(t *testing.T) {
	_, err := frame.RoundedTube(0.04, 0.04, 0.003, 0.002)
	assert.EqualError(t, err, "frame.RoundedTube: radius = 0.002 m: allowed 0.003 to 0.02 m")
	_, err = frame.RoundedTube(0.04, 0.04, 0.011, 0.002)
	assert.EqualError(t, err, "frame.RoundedTube: wall = 0.011 m: allowed 1e-06 to 0.01 m")
	_, err = frame.RoundedTube(math.NaN(), 11, 0.011, 0.002)
	assert.ErrorContains(t, err, "height")
	assert.ErrorContains(t, err, "width")
	square := []frame.Point{{0, 0}, {0.04, 0}, {0.04, 0.04}, {0, 0.04}}
	_, _, err = frame.Bredt(square, []float64{0.002, 0.002, 0.002})
	assert.EqualError(t, err, "frame.Bredt: walls = 3: allowed one for each side of the mid-line, 4")
	_, _, err = frame.Bredt(square, []float64{0.002, 0.002, 0.02, math.NaN()})
	assert.EqualError(t, err, "frame.Bredt: walls[2] = 0.02 m: allowed 1e-06 to 0.01 m\nframe.Bredt: walls[3] = NaN m: allowed 1e-06 to 0.01 m")
	_, _, err = frame.Bredt(square[:2], nil)
	assert.ErrorIs(t, err, material.ErrInvalid)
	_, _, err = frame.ThinOpen([]float64{0.04}, nil)
	assert.EqualError(t, err, "frame.ThinOpen: walls = 0: allowed one for each length, at least one")
	_, _, err = frame.ThinOpen([]float64{0.04, 11, 0.04}, []float64{0.02, 1, -1})
	assert.EqualError(t, err, "frame.ThinOpen: walls[0] = 0.02 m: allowed 1e-06 to 0.01 m\nframe.ThinOpen: lengths[1] = 11 m: allowed 0.0001 to 10 m\nframe.ThinOpen: walls[2] = -1 m: allowed 1e-06 to 0.01 m")
}
