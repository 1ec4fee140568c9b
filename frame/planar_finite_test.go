package frame_test

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"meltflight/frame"
	"meltflight/frame/frametest"
	"meltflight/internal/draw"
	"meltflight/material"
)

// finitePlanar returns the natural frequencies of a beam without shear by cubic
// elements with consistent mass and the stiffness of an axial load, so that none
// lies below the exact one. Rigid motions come first, at zero.
func finitePlanar(t require.TestingT, p frame.Planar, elements int) []float64 {
	places := []float64{0}
	joints := map[int]*frame.Joint{0: &p.Start}
	all := append(append([]frame.Joint{}, p.Between...), p.End)
	all[len(all)-1].At = p.Length
	for i := range all {
		from := places[len(places)-1]
		for k := 1; k <= elements; k++ {
			places = append(places, from+(all[i].At-from)*float64(k)/float64(elements))
		}
		joints[len(places)-1] = &all[i]
	}
	n := 2 * len(places)
	hung := n
	k, m := mat.NewSymDense(n+len(joints), nil), mat.NewSymDense(n+len(joints), nil)
	for i := range len(places) - 1 {
		l := places[i+1] - places[i]
		ks := [4][4]float64{{12, 6 * l, -12, 6 * l}, {6 * l, 4 * l * l, -6 * l, 2 * l * l}, {-12, -6 * l, 12, -6 * l}, {6 * l, 2 * l * l, -6 * l, 4 * l * l}}
		kg := [4][4]float64{{36, 3 * l, -36, 3 * l}, {3 * l, 4 * l * l, -3 * l, -l * l}, {-36, -3 * l, 36, -3 * l}, {3 * l, -l * l, -3 * l, 4 * l * l}}
		ms := [4][4]float64{{156, 22 * l, 54, -13 * l}, {22 * l, 4 * l * l, 13 * l, -3 * l * l}, {54, 13 * l, 156, -22 * l}, {-13 * l, -3 * l * l, -22 * l, 4 * l * l}}
		for r := range 4 {
			for c := r; c < 4; c++ {
				add(k, 2*i+r, 2*i+c, p.Bending/(l*l*l)*ks[r][c]-p.Axial/(30*l)*kg[r][c])
				add(m, 2*i+r, 2*i+c, p.Line*l/420*ms[r][c])
			}
		}
	}
	held := map[int]bool{}
	for i, j := range joints {
		held[2*i] = j.Hold == frame.HoldPinned || j.Hold == frame.HoldClamped
		held[2*i+1] = j.Hold == frame.HoldGuided || j.Hold == frame.HoldClamped
		add(k, 2*i, 2*i, j.Spring)
		add(k, 2*i+1, 2*i+1, j.Hinge)
		add(m, 2*i, 2*i, j.Mass)
		add(m, 2*i, 2*i+1, j.Mass*j.Offset)
		add(m, 2*i+1, 2*i+1, j.Inertia+j.Mass*j.Offset*j.Offset)
		if j.HungMass > 0 {
			add(k, 2*i, 2*i, j.HungOn)
			add(k, 2*i, hung, -j.HungOn)
			add(k, hung, hung, j.HungOn)
			add(m, hung, hung, j.HungMass)
			hung++
		}
	}
	var free []int
	for i := range hung {
		if !held[i] {
			free = append(free, i)
		}
	}
	kf, mf := mat.NewSymDense(len(free), nil), mat.NewSymDense(len(free), nil)
	for r, i := range free {
		for c, j := range free[:r+1] {
			kf.SetSym(r, c, k.At(i, j))
			mf.SetSym(r, c, m.At(i, j))
		}
	}
	// M = UᵀU turns Kv = ω²Mv into the symmetric problem of U⁻ᵀKU⁻¹.
	var chol mat.Cholesky
	require.True(t, chol.Factorize(mf))
	var u, inv mat.TriDense
	chol.UTo(&u)
	require.NoError(t, inv.InverseTri(&u))
	var tmp, full mat.Dense
	tmp.Mul(kf, &inv)
	full.Mul(inv.T(), &tmp)
	sym := mat.NewSymDense(len(free), nil)
	for i := range free {
		for j := i; j < len(free); j++ {
			sym.SetSym(i, j, full.At(i, j))
		}
	}
	var eig mat.EigenSym
	require.True(t, eig.Factorize(sym, false))
	f := eig.Values(nil)
	for i := range f {
		f[i] = math.Sqrt(math.Max(0, f[i])) / (2 * math.Pi)
	}
	return f
}

func TestPropertyPlanarAgreesWithFiniteElements(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := frametest.Planars().Draw(t, "beam")
		p.Shear = 0
		if load, err := p.BucklingLoad(); err == nil {
			p.Axial = math.Min(p.Axial, 0.9*load)
		}
		f := finitePlanar(t, p, 9-2*len(p.Between))
		unit := math.Sqrt(p.Bending/p.Line) / (p.Length * p.Length)
		for f[0] < 1e-3*unit { // moves without bending
			f = f[1:]
		}
		for mode := 1; mode <= 3; mode++ {
			exact := ring(t, p, mode)
			require.InDelta(t, 1, f[mode-1]/exact, 6e-3, "mode %d", mode) // (βl)⁴/1440 of an element
			require.Greater(t, f[mode-1], exact*(1-1e-5))                 // from above, but for what a dense solution loses of its lowest
		}
	})
}

// J. Maxwell and E. Betti: what a load here does there, that load there does here.
// Loads add up, and a beam between loads is in balance.
func TestPropertyPlanarDeflections(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := frametest.Planars().Draw(t, "beam")
		l := p.Length
		unit := frame.BeamLoad{At: l * draw.Uniform(0, 1).Draw(t, "here"), Force: p.Bending / (l * l)}
		turn := frame.BeamLoad{At: l * draw.Uniform(0, 1).Draw(t, "there"), Moment: p.Bending / l}
		c, err := p.Deflection(0, unit)
		if errors.Is(err, frame.ErrLoose) {
			return
		}
		require.NoError(t, err)
		d, err := p.Deflection(0, turn)
		require.NoError(t, err)
		even := p.Bending / (l * l * l)
		both, err := p.Deflection(even, unit, turn)
		require.NoError(t, err)
		alone, err := p.Deflection(even)
		require.NoError(t, err)
		at := func(c frame.Curve, x float64) frame.Bent {
			y, err := c.At(x)
			require.NoError(t, err)
			return y
		}
		here := at(c, unit.At).Deflection / l
		require.GreaterOrEqual(t, here, -1e-12)
		require.InDelta(t, at(c, turn.At).Turn, at(d, unit.At).Deflection/l, 1e-7*(here+at(d, turn.At).Turn))
		x := l * draw.Uniform(0, 1).Draw(t, "place")
		require.InDelta(t, (at(c, x).Deflection+at(d, x).Deflection+at(alone, x).Deflection)/l, at(both, x).Deflection/l, 1e-9*(here+1))
		// Between the ends a free body; at an end itself a load there counts as beyond.
		if p.Between == nil && unit.At > 0 && unit.At < l && turn.At > 0 && turn.At < l {
			a, b := at(both, 0), at(both, l)
			if p.Start.Hold == frame.HoldFree || p.Start.Hold == frame.HoldGuided {
				require.InDelta(t, p.Start.Spring*a.Deflection/unit.Force, a.Force/unit.Force, 1e-6)
			}
			require.InDelta(t, 1+even*l/unit.Force, (a.Force-b.Force)/unit.Force, 1e-6)
			moment := b.Moment + b.Force*l - a.Moment + unit.Force*unit.At + even*l*l/2 + turn.Moment
			moment += p.Axial * (b.Deflection - a.Deflection)
			require.InDelta(t, 0, moment/turn.Moment, 1e-6)
		}
	})
}

func TestBitsPlanar(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := frametest.Planars().Draw(t, "beam")
		numbers := []*float64{&p.Length, &p.Bending, &p.Line, &p.Gyration, &p.Shear, &p.Axial}
		for _, j := range every(&p) {
			numbers = append(numbers, &j.At, &j.Spring, &j.Hinge, &j.Mass, &j.Inertia, &j.Offset, &j.HungMass, &j.HungOn)
		}
		spoil(t, numbers...)
		mode := rapid.SampledFrom([]int{1, 2, 7, 100, 0, -1, 101}).Draw(t, "mode")
		allBitsPlanar(t, p, mode, draw.Bits().Draw(t, "place"))
		kappa := draw.Bits().Draw(t, "kappa")
		b := bitsBeam(t)
		for _, make := range []func(float64) (frame.Planar, error){b.Vertical, b.Horizontal} {
			if p, err := make(kappa); err == nil && p.Validate() == nil {
				allBitsPlanar(t, p.Held(frame.Ends(rapid.IntRange(-1, 10).Draw(t, "ends"))), 1, 0)
			}
		}
		f, err := frame.SagFrequency(kappa)
		finite(t, err, f)
	})
}

// allBitsPlanar asks a beam everything.
func allBitsPlanar(t require.TestingT, p frame.Planar, mode int, place float64) {
	told := func(err error, values ...float64) {
		if errors.Is(err, frame.ErrStubby) {
			err = nil
		}
		finite(t, err, values...)
	}
	f, err := p.Frequency(mode)
	told(err, f)
	if err == nil {
		require.Positive(t, f)
	}
	c, f, err := p.Shape(mode)
	told(err, f)
	curve := func(c frame.Curve) {
		for _, x := range []float64{0, 0.5 * p.Length, p.Length, place} {
			y, err := c.At(x)
			finite(t, err, y.Deflection, y.Turn, y.Moment, y.Force)
		}
	}
	curve(c)
	n, err := p.Count(place)
	finite(t, err, float64(n))
	load, err := p.BucklingLoad()
	finite(t, err, load)
	low, high, err := p.Bounds()
	finite(t, err, low, high)
	c, err = p.Deflection(place, frame.BeamLoad{At: 0.3 * p.Length, Force: place, Moment: 1})
	if err == nil {
		curve(c)
	}
}

// Extremes of all that is allowed must neither overflow nor last.
func TestPlanarAtItsLimits(t *testing.T) {
	for _, length := range []float64{1e-3, 1000} {
		for _, bending := range []float64{1e-14, 1e16} {
			euler := bending / (length * length)
			for _, line := range []float64{0, 1e-8, 1e7} {
				for _, end := range []frame.Joint{{}, {Spring: 1e15, Hinge: 1e15}, {Spring: math.Min(1e15, 1e-9*euler/length), Hinge: 1e-9 * euler * length}, {Mass: 1e6, Inertia: 1e8, Offset: 10 * length}, {HungMass: 1e-3, HungOn: 1e-6}, {HungMass: 1e-3, HungOn: 1e15}} {
					for _, shear := range []float64{0, euler, 1e15 * euler} {
						for _, axial := range []float64{0, -1e4 * euler} {
							p := frame.Planar{Length: length, Bending: bending, Line: line, Shear: shear, Gyration: length, Axial: axial, Start: frame.Joint{Hold: frame.HoldPinned}, End: end}
							allBitsPlanar(t, p, 1, 0)
						}
					}
				}
			}
		}
	}
	assert.ErrorIs(t, frame.Planar{}.Validate(), material.ErrInvalid)
}
