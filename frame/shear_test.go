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

func TestCheckShearAreas(t *testing.T) {
	const volumes = "finite volumes of ∇²χ = -z, ∂χ/∂n = 0, up to 4 cells a millimetre, extrapolated: area I²/∫zχ"
	var rows []verify.Row
	for _, c := range []struct{ h, w, t, y, z, tol float64 }{
		{60, 40, 3, 171.447412, 313.012800, 0.04}, {30, 30, 2, 96.828464, 96.828464, 0.03}, {40, 40, 4, 255.635993, 255.635993, 0.04},
		{40, 40, 10, 652.778168, 652.778168, 0.06}, {60, 20, 5, 93.364576, 525.718312, 0.11},
	} {
		s := tube(t, c.h, c.w, c.t)
		name := fmt.Sprintf("%gx%gx%g shear area along ", c.h, c.w, c.t)
		const why = "thin wall: the stated error, always low"
		rows = append(rows,
			verify.Row{Name: name + "y [mm²]", Source: volumes, Kind: verify.Own, Want: c.y, Got: s.ShearY * 1e6, Tol: c.tol, Why: why},
			verify.Row{Name: name + "z [mm²]", Source: volumes, Kind: verify.Own, Want: c.z, Got: s.ShearZ * 1e6, Tol: c.tol, Why: why})
		assert.Less(t, s.ShearY*1e6, c.y)
		assert.Less(t, s.ShearZ*1e6, c.z)
	}
	must := func(k float64, err error) float64 {
		require.NoError(t, err)
		return k
	}
	bar, err := frame.Rectangle(0.06, 0.04)
	require.NoError(t, err)
	const cowper = "G. Cowper, J. Appl. Mech. 33 (1966) 335, as it prints the case"
	rows = append(rows,
		verify.Row{Name: "60x40 bar, shear area [mm²]", Source: volumes, Kind: verify.Own, Want: 2000.00003, Got: bar.ShearZ * 1e6, Tol: 2e-8, Why: "error of extrapolation"},
		verify.Row{Name: "rectangle, ν 0.3", Source: "κ 0.85 of the deep beam of R0015, FV5, taken as 10·1.3/15.3", Kind: verify.Memory, Want: 0.85, Got: must(frame.CowperRectangle(0.3)), Tol: 0.0006, Why: "two digits, 0.8497"},
		verify.Row{Name: "solid round, ν 0.3", Source: cowper + ": 6(1+ν)/(7+6ν)", Kind: verify.Memory, Want: 7.8 / 8.8, Got: must(frame.CowperRound(0, 0.3)), Tol: 1e-14, Why: "closed form"},
		verify.Row{Name: "thin round, ν 0.3", Source: cowper + ": 2(1+ν)/(4+3ν)", Kind: verify.Memory, Want: 2.6 / 4.9, Got: must(frame.CowperRound(1, 0.3)), Tol: 1e-14, Why: "closed form"},
		verify.Row{Name: "thin square tube, ν 0.3", Source: cowper + ": 20(1+ν)/(48+39ν)", Kind: verify.Memory, Want: 26 / 59.7, Got: must(frame.CowperTube(1, 0.3)), Tol: 1e-14, Why: "closed form"},
		verify.Row{Name: "I, flanges half the web, aspect 0.5, ν 0.3", Source: cowper + ": 10·1.3·2.5²/(96.75 + 0.3·89 + 5.625 + 2.34375)", Kind: verify.Memory, Want: 81.25 / 131.41875, Got: must(frame.CowperI(0.5, 0.5, 0.3)), Tol: 1e-14, Why: "closed form"},
		verify.Row{Name: "I without flanges, ν 0.3", Source: cowper + ": rectangle", Kind: verify.Memory, Want: 13 / 15.3, Got: must(frame.CowperI(0, 1, 0.3)), Tol: 1e-14, Why: "closed form"})
	verify.Table(t, rows)
}

// Without Poisson's ratio Cowper's coefficients are those of the flow of shear.
func TestPropertyCowperIsShearFlow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, w := draw.Log(0.03, 0.3).Draw(t, "height"), draw.Log(0.03, 0.3).Draw(t, "width")
		const wall = 1e-5
		s, err := frame.RectangularTube(h+wall, w+wall, wall)
		require.NoError(t, err)
		k, err := frame.CowperTube(w/h, 0)
		require.NoError(t, err)
		require.InEpsilon(t, k, s.ShearZ/s.Area, 1e-6)
		web := wall * draw.Uniform(1, 1.5).Draw(t, "web")
		i, err := frame.IBeam(h+wall, w, web, wall)
		require.NoError(t, err)
		k, err = frame.CowperI(2*w*wall/(h*web), w/h, 0)
		require.NoError(t, err)
		require.InEpsilon(t, k, i.ShearZ/i.Area, 2e-3)
		// A channel turned over its web is an I with flanges on one side, whose flow
		// has twice as far to go: work of flanges four times, so a lower share.
		c, err := frame.Channel(h+wall, w+0.5*web, web, wall)
		require.NoError(t, err)
		require.Less(t, c.Section.ShearZ, i.ShearZ)
		bore := draw.Uniform(0.1, 0.99).Draw(t, "bore")
		r, err := frame.RoundTube(h, 0.5*(1-bore)*h)
		require.NoError(t, err)
		k, err = frame.CowperRound(bore, 0)
		require.NoError(t, err)
		require.InEpsilon(t, k, r.ShearY/r.Area, 1e-9)

		// More of Poisson's ratio lends more of the section to shear, never all.
		nu := draw.Uniform(0, 0.5).Draw(t, "ν")
		for _, f := range []func(nu float64) (float64, error){
			frame.CowperRectangle,
			func(nu float64) (float64, error) { return frame.CowperRound(bore, nu) },
			func(nu float64) (float64, error) { return frame.CowperTube(math.Min(w/h, 3), nu) },
			func(nu float64) (float64, error) { return frame.CowperI(0.5, 0.5, nu) },
		} {
			none, err := f(0)
			require.NoError(t, err)
			some, err := f(nu)
			require.NoError(t, err)
			require.GreaterOrEqual(t, some, none)
			require.Less(t, some, 1.0)
		}
	})
}

func TestCowperRefuses(t *testing.T) {
	_, err := frame.CowperRectangle(math.NaN())
	assert.EqualError(t, err, "frame.CowperRectangle: Poisson's ratio = NaN: allowed 0 to 0.5")
	_, err = frame.CowperRound(1.1, -1)
	assert.EqualError(t, err, "frame.CowperRound: bore ÷ diameter = 1.1: allowed 0 to 1\nframe.CowperRound: Poisson's ratio = -1: allowed 0 to 0.5")
	_, err = frame.CowperTube(0, 0.3)
	assert.ErrorIs(t, err, material.ErrInvalid)
	_, err = frame.CowperI(math.Inf(1), 1, 0.3)
	assert.ErrorIs(t, err, material.ErrInvalid)
}

func TestSectionsAllocateNothing(t *testing.T) {
	square := []frame.Point{{0, 0}, {0.04, 0}, {0.04, 0.04}, {0, 0.04}}
	p := frame.Polygon{Outline: square, Holes: [][]frame.Point{{{0.01, 0.01}, {0.02, 0.01}, {0.01, 0.02}}}}
	walls := []float64{0.002, 0.002, 0.002, 0.002}
	lengths := []float64{0.04, 0.04, 0.04, 0.04}
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		var errs [11]error
		_, errs[0] = frame.RectangularTube(0.06, 0.04, 0.003)
		_, errs[1] = frame.RoundedTube(0.06, 0.04, 0.003, 0.006)
		_, errs[2] = frame.Angle(0.06, 0.04, 0.003)
		_, errs[3] = frame.Channel(0.06, 0.04, 0.003, 0.004)
		_, errs[4] = frame.Tee(0.06, 0.04, 0.003, 0.004)
		_, errs[5] = frame.IBeam(0.06, 0.04, 0.003, 0.004)
		_, errs[6] = p.Moments()
		_, _, errs[7] = frame.Bredt(square, walls)
		_, _, errs[8] = frame.ThinOpen(lengths, walls)
		_, errs[9] = frame.CowperI(0.5, 0.5, 0.3)
		_, errs[10] = frame.Rectangle(0.06, 0.04)
		for _, err := range errs {
			if err != nil {
				panic(err)
			}
		}
	}))
}

func TestPropertySectionsBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := rapid.OneOf(draw.Bits(), draw.Log(1e-6, 20), draw.Uniform(-0.1, 0.1))
		point := rapid.Custom(func(t *rapid.T) frame.Point {
			return frame.Point{Y: number.Draw(t, "y"), Z: number.Draw(t, "z")}
		})
		loop := rapid.OneOf(star(frame.Point{}, 1e-9, 0.1), rapid.SliceOfN(point, 0, 5))
		p := frame.Polygon{Outline: loop.Draw(t, "outline"), Holes: rapid.SliceOfN(loop, 0, 2).Draw(t, "holes")}
		m, err := p.Moments()
		finite(t, err, m.Area, m.Centroid.Y, m.Centroid.Z, m.Iy, m.Iz, m.Iyz)
		s, err := m.Section(number.Draw(t, "J"))
		finite(t, err, s.Area, s.Iy, s.Iz, s.J)
		j, w, err := frame.Bredt(p.Outline, rapid.SliceOfN(number, len(p.Outline), len(p.Outline)).Draw(t, "walls"))
		finite(t, err, j, w)
		j, w, err = frame.ThinOpen([]float64{number.Draw(t, "length")}, []float64{number.Draw(t, "wall")})
		finite(t, err, j, w)
		a, b, nu := number.Draw(t, "a"), number.Draw(t, "b"), number.Draw(t, "ν")
		for _, f := range []func() (float64, error){
			func() (float64, error) { return frame.CowperRectangle(nu) },
			func() (float64, error) { return frame.CowperRound(a, nu) },
			func() (float64, error) { return frame.CowperTube(a, nu) },
			func() (float64, error) { return frame.CowperI(a, b, nu) },
		} {
			k, err := f()
			finite(t, err, k)
		}
	})
}
