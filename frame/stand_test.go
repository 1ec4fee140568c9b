package frame_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/frame"
	"meltflight/frame/frametest"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
)

// referenceStand carries 12 kg on square tube 30 x 30 x 2.
func referenceStand(t require.TestingT, fixed bool) frame.Stand {
	return frame.Stand{
		Height: 0.9, Width: 0.5, Depth: 0.4, Leg: tube(t, 30, 30, 2), Metal: material.S235(),
		FeetFixed: fixed, Mass: 12, MassHeight: 1.05,
	}
}

// hair is a round wire of 11 µm, so slender that the stretch of its legs, at
// most 2e-9 of the whole below, hardly counts.
var hair = frame.Section{Area: 1e-10, Iy: 1e-21, Iz: 1e-21, J: 1e-21}

func TestCheckStandSway(t *testing.T) {
	var rows []verify.Row
	const slope = "slope-deflection, condensed from the 3x3 stiffness of a portal, own"
	const chopra = "A. Chopra, Dynamics of Structures, sec. 1.3, (24EI/h³)(12ρ+1)/(12ρ+4)"
	for _, c := range []struct{ k, fixed, pinned float64 }{
		{0.25, 10.909090909, 2}, {0.5, 13.714285714, 3}, {1, 16.8, 4}, {2, 19.5, 4.8}, {4, 21.428571429, 5.333333333},
	} {
		s := referenceStand(t, true)
		s.Leg = hair
		s.Width = s.Height / c.k // of one section throughout
		s.Depth = s.Width
		ei := s.Metal.Young * s.Leg.Iy / math.Pow(s.Height, 3)
		for _, fixed := range []bool{true, false} {
			s.FeetFixed = fixed
			x, y, err := s.SwayStiffness()
			require.NoError(t, err)
			want := c.pinned
			if fixed {
				want = c.fixed
			}
			rows = append(rows, verify.Row{Name: fmt.Sprintf("Kh³/EI of a portal, k = %g, fixed %v", c.k, fixed), Source: slope, Kind: verify.Own, Want: want, Got: x / 2 / ei, Tol: 3e-9, Why: "the stretch of legs as thin as hair, most on the narrowest stand"})
			require.InEpsilon(t, x, y, 1e-12)
			if fixed && c.k == 0.5 {
				rows = append(rows, verify.Row{Name: "Kh³/EI of a portal, ρ = 1/4, L = 2h", Source: chopra, Kind: verify.Memory, Want: 96.0 / 7, Got: x / 2 / ei, Tol: 2e-11, Why: "the stretch of legs as thin as hair"})
			}
		}
	}
	// The legs' own share of mass, from the consistent mass matrix of a beam (156, 22, 4
	// over 420) and the corner's turn: 13/35 − 11/105·0.6 + 0.36/105 = 0.312 of each leg on
	// fixed feet, 16/27 − 8/45 + 1/63 on turning ones; the ring's four beams go whole.
	bare := referenceStand(t, true)
	bare.Leg, bare.Metal, bare.Mass = hair, material.S235(), 0
	bare.Height, bare.Width, bare.Depth = 1, 1, 1
	for fixed, want := range map[bool]float64{true: 0.00658669686, false: 0.00307777953} {
		bare.FeetFixed = fixed
		x, _, err := bare.Modes()
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("sway of a bare stand of wires, fixed %v [Hz]", fixed), Source: "√(K/m)/2π with K = 33.6 or 8 EI/h³ and that mass, by hand", Kind: verify.Own, Want: want, Got: x, Tol: 1e-8, Why: "nine digits"})
	}
	// One portal of the finite-element and dynamic-stiffness reference.
	s := referenceStand(t, true)
	i := s.Leg.Iy / hair.Iy
	s.Height, s.Width, s.Leg = 0.5, 1, hair
	x, _, err := s.SwayStiffness()
	require.NoError(t, err)
	s.FeetFixed = false
	p, _, err := s.SwayStiffness()
	require.NoError(t, err)
	rows = append(rows,
		verify.Row{Name: "K fixed, h 0.5, L 1 m [N/m]", Source: slope, Kind: verify.Own, Want: 677806.080, Got: i * x / 2, Tol: 1e-9, Why: "nine digits printed"},
		verify.Row{Name: "K pinned, h 0.5, L 1 m [N/m]", Source: slope, Kind: verify.Own, Want: 148270.080, Got: i * p / 2, Tol: 1e-9, Why: "nine digits printed"})

	const exact = "exact dynamic stiffness of the space frame with Wittrick-Williams counting, own"
	const rayleigh = "the static shapes stand above, by "
	for _, c := range []struct {
		fixed     bool
		x, y      float64
		tolerance float64
		why       string
	}{
		{true, 21.767870, 22.135856, 3.8e-4, rayleigh + "0.036 %"},
		{false, 10.552848, 10.763038, 2.5e-4, rayleigh + "0.023 %"},
	} {
		fx, fy, err := referenceStand(t, c.fixed).Modes()
		require.NoError(t, err)
		ex, ey, _ := finiteStand(t, referenceStand(t, c.fixed))
		name := fmt.Sprintf("fixed %v [Hz]", c.fixed)
		rows = append(rows,
			verify.Row{Name: "f sway x, " + name, Source: exact, Kind: verify.Own, Want: c.x, Got: fx, Tol: c.tolerance, Why: c.why},
			verify.Row{Name: "f sway y, " + name, Source: exact, Kind: verify.Own, Want: c.y, Got: fy, Tol: c.tolerance, Why: c.why},
			verify.Row{Name: "f sway x by finite elements, " + name, Source: exact, Kind: verify.Own, Want: c.x, Got: ex, Tol: 3e-5, Why: "two elements a member"},
			verify.Row{Name: "f sway y by finite elements, " + name, Source: exact, Kind: verify.Own, Want: c.y, Got: ey, Tol: 3e-5, Why: "two elements a member"})
	}
	// Flat legs, both ways round, and stands so narrow that their legs' stretch counts.
	const elements = "space frame of finite elements, two to a member, own"
	for _, c := range []struct {
		height, width, depth, mass float64
		leg                        frame.Section
		x, y, tolerance            float64
	}{
		{0.9, 0.5, 0.4, 12, tube(t, 60, 20, 2), 42.567576, 19.010893, 7e-4},
		{0.9, 0.5, 0.4, 12, tube(t, 20, 60, 2), 17.432663, 34.843976, 5e-4},
		{0.9, 0.8, 0.2, 40, tube(t, 30, 30, 2), 12.765575, 14.040333, 1.3e-4},
		{1.5, 1.5, 0.15, 40, tube(t, 30, 30, 2), 5.6312298, 6.3471219, 3.3e-4},
	} {
		s := frame.Stand{Height: c.height, Width: c.width, Depth: c.depth, Leg: c.leg, Metal: material.S235(), FeetFixed: true, Mass: c.mass, MassHeight: c.height}
		fx, fy, err := s.Modes()
		require.NoError(t, err)
		name := fmt.Sprintf("%g x %g x %g m, Iy/Iz %.3g [Hz]", c.height, c.width, c.depth, c.leg.Iy/c.leg.Iz)
		rows = append(rows,
			verify.Row{Name: "f sway x, " + name, Source: elements, Kind: verify.Own, Want: c.x, Got: fx, Tol: c.tolerance, Why: rayleigh + "this much at most"},
			verify.Row{Name: "f sway y, " + name, Source: elements, Kind: verify.Own, Want: c.y, Got: fy, Tol: c.tolerance, Why: rayleigh + "this much at most"})
	}
	verify.Table(t, rows)
}

// The slow twin: finite elements in space, where legs stretch and rings swing.
func TestPropertyStandAboveFiniteElements(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := frametest.Stands().Draw(t, "stand")
		x, y, err := s.Modes()
		require.NoError(t, err)
		ex, ey, twist := finiteStand(t, s)
		for _, r := range []float64{x / ex, y / ey} {
			require.Greater(t, r, 1-5e-5)
			require.Less(t, r, 1.01)
		}
		require.Greater(t, twist, 0.999*math.Min(ex, ey))
	})
	// Legs much stiffer one way than the other.
	s := referenceStand(t, true)
	s.Leg = tube(t, 60, 20, 2)
	x, y, twist := finiteStand(t, s)
	require.Less(t, twist, x)
	require.Greater(t, twist, y)
}

func TestCheckTipping(t *testing.T) {
	// Published values are for g = 9.81; ours is the standard 9.80665.
	const g = 9.80665 / 9.81
	light := referenceStand(t, true)
	light.Leg = frame.Section{Area: 1e-10, Iy: 1e-8, Iz: 1e-8, J: 1e-9}
	u, err := light.Tipping(2)
	require.NoError(t, err)
	push, err := light.Push(0.9)
	require.NoError(t, err)
	// Legs and ring of 8 kg with their centre at 0.5 m: 2h² + 2h = 2h + 1.
	framed := light
	framed.Height, framed.Width, framed.Depth = math.Sqrt(0.5), 0.6, 0.4
	framed.Leg.Area = 8 / (4*framed.Height + 2) / framed.Metal.Density
	v, err := framed.Tipping(1)
	require.NoError(t, err)
	narrow := framed
	narrow.Width, narrow.Depth = framed.Depth, framed.Width
	w, err := narrow.Tipping(1)
	require.NoError(t, err)
	pushed, err := narrow.Push(0.9)
	require.NoError(t, err)
	const statics = "moments about the feet, by hand, g = 9.81 scaled to 9.80665"
	const frameless = "a frame of 4 mg instead of none"
	verify.Table(t, []verify.Row{
		{Name: "a that tips 12 kg at 1.05 on 0.40 m [m/s²]", Source: statics, Kind: verify.Own, Want: 1.86857143 * g, Got: 2 * u.Safety(), Tol: 1e-6, Why: frameless},
		{Name: "safety at 2 m/s²", Source: statics, Kind: verify.Own, Want: 0.93428571 * g, Got: u.Safety(), Tol: 1e-6, Why: frameless},
		{Name: "push at 0.9 m [N]", Source: statics, Kind: verify.Own, Want: 26.16 * g, Got: push, Tol: 1e-6, Why: frameless},
		{Name: "a that tips it with an 8 kg frame [m/s²]", Source: statics, Kind: verify.Own, Want: 2.36385542 * g, Got: v.Safety(), Tol: 3e-9, Why: "nine digits printed"},
		{Name: "the same, Width the smaller [m/s²]", Source: statics, Kind: verify.Own, Want: 2.36385542 * g, Got: w.Safety(), Tol: 3e-9, Why: "nine digits printed"},
		{Name: "push at 0.9 m, Width the smaller [N]", Source: "20 kg on 0.2 m, by hand", Kind: verify.Own, Want: 20 * 9.80665 * 0.2 / 0.9, Got: pushed, Tol: 1e-12, Why: "rounding"},
	})
}

func TestPropertyStand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := frametest.Stands().Draw(t, "stand")
		freq := func(s frame.Stand) [2]float64 {
			x, y, err := s.Modes()
			require.NoError(t, err)
			return [2]float64{x, y}
		}
		f := freq(s)
		scale := draw.Log(0.5, 2).Draw(t, "factor")
		by := func(factor float64, change func(*frame.Stand)) {
			c := s
			change(&c)
			for i, v := range freq(c) {
				require.InEpsilon(t, factor*f[i], v, 1e-9)
			}
		}
		by(math.Sqrt(scale), func(s *frame.Stand) { s.Metal.Young *= scale })
		by(1/math.Sqrt(scale), func(s *frame.Stand) { s.Metal.Density *= scale; s.Mass *= scale })
		by(1, func(s *frame.Stand) { s.MassHeight *= scale }) // at the ring, whatever its height
		square := s
		square.Leg.Iy = math.Max(s.Leg.Iy, s.Leg.Iz)
		square.Leg.Iz = square.Leg.Iy
		turned := square
		turned.Width, turned.Depth = s.Depth, s.Width
		e, g := freq(square), freq(turned)
		require.InEpsilon(t, e[0], g[1], 1e-12)
		require.InEpsilon(t, e[1], g[0], 1e-12)
		heavier, loose, bolted := s, s, s
		heavier.Mass *= 1.01
		loose.FeetFixed, bolted.FeetFixed = false, true
		for i := range f {
			require.Less(t, freq(heavier)[i], f[i])
			require.Less(t, freq(loose)[i], freq(bolted)[i])
		}
		// Between a ring that turns freely and one that does not turn at all.
		x, y, err := bolted.SwayStiffness()
		require.NoError(t, err)
		unit := s.Metal.Young / math.Pow(s.Height, 3)
		for _, k := range []float64{x / s.Leg.Iy, y / s.Leg.Iz} {
			require.Greater(t, k, 12*unit)
			require.Less(t, k, 48*unit)
		}
		// A long ring is a free one; a short one holds the legs upright.
		long, short := bolted, bolted
		long.Leg, short.Leg = hair, hair
		long.Height, long.Width = 0.01, 100
		short.Height, short.Width = 10, 0.01
		for _, c := range []struct {
			s      frame.Stand
			fixed  bool
			factor float64
		}{{long, true, 12}, {short, true, 48}, {short, false, 12}} {
			c.s.FeetFixed = c.fixed
			k, _, err := c.s.SwayStiffness()
			require.NoError(t, err)
			require.InEpsilon(t, c.factor*c.s.Metal.Young*hair.Iy/math.Pow(c.s.Height, 3), k, 1e-3)
		}

		load := draw.Log(1, 1e5).Draw(t, "load")
		u, err := s.Buckling(load)
		require.NoError(t, err)
		require.InEpsilon(t, load/2, u.Demand, 1e-12)
		require.Less(t, u.Capacity, s.Leg.Area*235e6)
		require.Positive(t, u.Safety())
		taller := s
		taller.Height *= 1.1
		w, err := taller.Buckling(load)
		require.NoError(t, err)
		require.Less(t, w.Capacity, u.Capacity)
		pinned, err := loose.Buckling(load)
		require.NoError(t, err)
		held, err := bolted.Buckling(load)
		require.NoError(t, err)
		require.LessOrEqual(t, pinned.Capacity, held.Capacity)

		// Whoever pushes at the height of the centre of mass does what the
		// acceleration does.
		tip, err := s.Tipping(1)
		require.NoError(t, err)
		total := s.Mass + (4*s.Height+2*(s.Width+s.Depth))*s.Metal.Density*s.Leg.Area
		centre := tip.Demand / total
		force, err := s.Push(centre)
		require.NoError(t, err)
		require.InEpsilon(t, total*tip.Safety(), force, 1e-9)
		wider := s
		wider.Width, wider.Depth = 2*s.Width, 2*s.Depth
		wide, err := wider.Tipping(1)
		require.NoError(t, err)
		require.Greater(t, wide.Safety(), tip.Safety())
	})
}

func TestStandRefuses(t *testing.T) {
	var none frame.Stand
	none.Mass = -1
	_, _, err := none.Modes()
	assert.ErrorIs(t, err, material.ErrInvalid)
	for _, field := range []string{"Height", "Width", "Depth", "Mass = -1", "MassHeight"} {
		assert.ErrorContains(t, err, "frame.Stand."+field)
	}
	s := referenceStand(t, true)
	_, err = s.Buckling(-1)
	assert.ErrorContains(t, err, "vertical load")
	_, err = s.Tipping(math.NaN())
	assert.ErrorContains(t, err, "acceleration")
	_, err = s.Push(0)
	assert.ErrorContains(t, err, "height")
	s.Metal.Strength = nil
	_, err = s.Buckling(1)
	assert.ErrorIs(t, err, material.ErrInvalid)
	_, err = frame.BucklingReduction(-1, 2)
	assert.ErrorContains(t, err, "slenderness")
	assert.ErrorContains(t, err, "imperfection")

	// Steel is rated by its own standard, aluminium is told that it is not.
	whole := referenceStand(t, true)
	u, err := whole.Buckling(1)
	require.NoError(t, err)
	assert.Equal(t, "EN 1993-1-1 6.3.1, curve c", u.Method)
	whole.Metal = material.Al6060()
	u, err = whole.Buckling(1)
	require.NoError(t, err)
	assert.Contains(t, u.Method, "EN 1999-1-1 applies")

	// Of unknown thickness a section is as weak as a round bar of its area: 16.9 mm.
	s = referenceStand(t, true)
	s.Height, s.Leg.Thickness = 0.05, 0
	u, err = s.Buckling(1)
	require.NoError(t, err)
	assert.InEpsilon(t, 225e6*s.Leg.Area, u.Capacity, 1e-9)
}

func TestBitsStand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := frametest.Stands().Draw(t, "stand")
		band := s.Metal.Strength[0]
		spoil(t, &s.Height, &s.Width, &s.Depth, &s.Mass, &s.MassHeight, &s.Leg.Area, &s.Leg.Iy, &s.Leg.Iz, &s.Leg.J, &s.Leg.Thickness,
			&s.Metal.Density, &s.Metal.Young, &s.Metal.Poisson, &band.Section, &band.Yield)
		s.Metal.Strength = []material.Strength{band}
		x, y, err := s.SwayStiffness()
		finite(t, err, x, y)
		x, y, err = s.Modes()
		finite(t, err, x, y)
		bits := draw.Bits().Draw(t, "bits")
		u, err := s.Buckling(bits)
		finite(t, err, u.Demand, u.Capacity)
		u, err = s.Buckling(1)
		finite(t, err, u.Demand, u.Capacity)
		u, err = s.Tipping(bits)
		finite(t, err, u.Demand, u.Capacity)
		x, err = s.Push(bits)
		finite(t, err, x)
		x, err = frame.BucklingReduction(bits, draw.Bits().Draw(t, "imperfection"))
		finite(t, err, x)
		x, err = frame.BucklingReduction(bits, 0.49)
		finite(t, err, x)
	})
}

func ExampleStand() {
	leg, err := frame.RectangularTube(0.030, 0.030, 0.002)
	if err != nil {
		panic(err)
	}
	s := frame.Stand{
		Height: 0.9, Width: 0.5, Depth: 0.4, Leg: leg, Metal: material.S235(),
		Mass: 14, MassHeight: 1.05,
	}
	x, y, err := s.Modes()
	if err != nil {
		panic(err)
	}
	push, err := s.Push(0.9)
	if err != nil {
		panic(err)
	}
	legs, err := s.Buckling(s.Mass * 9.81)
	if err != nil {
		panic(err)
	}
	fmt.Printf("sways at %.3g and %.3g Hz\n", x, y)
	fmt.Printf("tips under a push of %.2g N at 0.9 m\n", push)
	fmt.Printf("legs bear %.2g times their load\n", legs.Safety())
	// Output:
	// sways at 10 and 10.2 Hz
	// tips under a push of 51 N at 0.9 m
	// legs bear 1.7e+02 times their load
}
