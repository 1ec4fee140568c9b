package frame_test

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
	"pgregory.net/rapid"

	"meltflight/frame"
	"meltflight/frame/frametest"
	"meltflight/internal/draw"
	"meltflight/material"
)

// ring is Frequency whether the beam is stubby or not.
func ring(t require.TestingT, p frame.Planar, mode int) float64 {
	f, err := p.Frequency(mode)
	if !errors.Is(err, frame.ErrStubby) {
		require.NoError(t, err)
	}
	return f
}

// every returns all joints of a beam whose Between is its own.
func every(p *frame.Planar) []*frame.Joint {
	p.Between = append([]frame.Joint(nil), p.Between...)
	joints := []*frame.Joint{&p.Start, &p.End}
	for i := range p.Between {
		joints = append(joints, &p.Between[i])
	}
	return joints
}

// The number of modes below and above a frequency found is that of the mode.
func TestPropertyPlanarModesCounted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := frametest.Planars().Draw(t, "beam")
		mode := rapid.IntRange(1, 12).Draw(t, "mode")
		f := ring(t, p, mode)
		below, err := p.Count(f * (1 - 1e-9))
		require.NoError(t, err)
		above, err := p.Count(f * (1 + 1e-9))
		require.NoError(t, err)
		require.Less(t, below, mode)
		require.GreaterOrEqual(t, above, mode)
		require.LessOrEqual(t, f, ring(t, p, mode+1)*(1+1e-12))
	})
}

// Each mode stays within its neighbours as one mass or spring is added, and the
// beam is the same from its other end, or with a joint that does nothing.
func TestPropertyPlanarMassAndStiffness(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := frametest.Planars().Draw(t, "beam")
		p.Axial = 0
		mode := rapid.IntRange(1, 6).Draw(t, "mode")
		which := rapid.IntRange(0, len(p.Between)+1).Draw(t, "joint")
		more := draw.Log(1e-3, 10).Draw(t, "more")
		mass, l := p.Line*p.Length, p.Length
		f := ring(t, p, mode)
		loose := func(p frame.Planar) bool {
			_, err := p.Deflection(0)
			return errors.Is(err, frame.ErrLoose)
		}
		for i, change := range []func(j *frame.Joint){
			func(j *frame.Joint) { j.Mass += more * mass },
			func(j *frame.Joint) { j.Inertia += more * mass * l * l },
			func(j *frame.Joint) { j.Spring += more * p.Bending / (l * l * l) },
			func(j *frame.Joint) { j.Hinge += more * p.Bending / l },
			func(j *frame.Joint) { j.Hold = frame.HoldPinned },
		} {
			changed := p
			j := every(&changed)[which]
			if i == 4 && (j.Hold != frame.HoldFree || j.HungMass > 0) {
				continue
			}
			change(j)
			if i < 2 {
				require.LessOrEqual(t, ring(t, changed, mode), f*(1+1e-9))
			} else if !loose(p) { // else one mode more counts
				require.GreaterOrEqual(t, ring(t, changed, mode), f*(1-1e-9))
				require.LessOrEqual(t, ring(t, changed, mode), ring(t, p, mode+1)*(1+1e-9))
			}
		}
		back := p
		back.Start, back.End, back.Between = p.End, p.Start, nil
		for i := range p.Between {
			j := p.Between[len(p.Between)-1-i]
			j.At = l - j.At
			back.Between = append(back.Between, j)
		}
		for _, j := range every(&back) {
			j.Offset *= -1
		}
		require.InEpsilon(t, f, ring(t, back, mode), 1e-9)
		parted := p
		parted.Between = append([]frame.Joint{{At: 0.1234 * l}}, p.Between...)
		require.InEpsilon(t, f, ring(t, parted, mode), 1e-9)
	})
}

func TestPropertyPlanarScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := frametest.Planars().Draw(t, "beam")
		mode := rapid.IntRange(1, 6).Draw(t, "mode")
		s := draw.Log(0.5, 2).Draw(t, "factor")
		stiffer, heavier, longer := p, p, p
		stiffer.Bending *= s
		stiffer.Shear *= s
		stiffer.Axial *= s
		for _, j := range every(&stiffer) {
			j.Spring, j.Hinge, j.HungOn = j.Spring*s, j.Hinge*s, j.HungOn*s
		}
		heavier.Line *= s
		for _, j := range every(&heavier) {
			j.Mass, j.Inertia, j.HungMass = j.Mass*s, j.Inertia*s, j.HungMass*s
		}
		longer.Length, longer.Gyration = p.Length*s, p.Gyration*s // the same mass and springs
		longer.Bending *= s * s * s
		longer.Shear *= s
		longer.Axial *= s
		longer.Line /= s
		for _, j := range every(&longer) {
			j.At, j.Offset, j.Inertia, j.Hinge = j.At*s, j.Offset*s, j.Inertia*s*s, j.Hinge*s*s
		}
		f := ring(t, p, mode)
		require.InEpsilon(t, f*math.Sqrt(s), ring(t, stiffer, mode), 1e-9)
		require.InEpsilon(t, f/math.Sqrt(s), ring(t, heavier, mode), 1e-9)
		require.InEpsilon(t, f, ring(t, longer, mode), 1e-9)
	})
}

func TestPropertyPlanarAxialLoad(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := frametest.Planars().Draw(t, "beam")
		p.Axial = 0
		load, err := p.BucklingLoad()
		if errors.Is(err, frame.ErrLoose) {
			return
		}
		require.NoError(t, err)
		if _, err := p.Deflection(0); err != nil {
			return // a beam that shifts freely has a mode fewer
		}
		square := func(part float64) float64 {
			p.Axial = part * load
			f := ring(t, p, 1)
			return f * f
		}
		part := draw.Uniform(0, 0.99).Draw(t, "part of the buckling load")
		first := square(part)
		require.Less(t, first, square(part-0.01))
		// Southwell: ω² is concave over the load, and straight where it vanishes.
		require.GreaterOrEqual(t, 2*first, (square(part-0.01)+square(part+0.01))*(1-1e-9))
		require.InEpsilon(t, 2, square(1-2e-6)/square(1-1e-6), 0.02)
		p.Axial = load * (1 + 1e-6)
		_, err = p.Frequency(1)
		require.ErrorIs(t, err, frame.ErrBuckled)
		_, err = p.Deflection(1)
		require.ErrorIs(t, err, frame.ErrBuckled)
		require.ErrorContains(t, err, "N, at most")
	})
}

// A hold is a spring beyond measure, a free place a spring of nothing.
func TestPropertyPlanarEndsMeet(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mode := rapid.IntRange(1, 6).Draw(t, "mode")
		ends := frametest.AllEnds().Draw(t, "ends")
		hard := unitBeam(ends)
		for _, j := range every(&hard) {
			if j.Hold == frame.HoldPinned || j.Hold == frame.HoldClamped {
				j.Spring = 1e12
			}
			if j.Hold == frame.HoldGuided || j.Hold == frame.HoldClamped {
				j.Hinge = 1e12
			}
			j.Hold = frame.HoldFree
		}
		want := eigenvalue(t, ends, mode)
		require.InEpsilon(t, want, math.Sqrt(2*math.Pi*ring(t, hard, mode)), 1e-8)
		timoshenko := unitBeam(ends)
		timoshenko.Shear, timoshenko.Gyration = 1e10, 1e-5
		require.InEpsilon(t, want, math.Sqrt(2*math.Pi*ring(t, timoshenko, mode)), 1e-6)
		timoshenko.Shear, timoshenko.Gyration = 300, 0.03
		require.Less(t, math.Sqrt(2*math.Pi*ring(t, timoshenko, mode)), want)
		mu := draw.Log(1e-3, 1e6).Draw(t, "mass ratio")
		tip, mid := unitBeam(frame.ClampedFree), unitBeam(frame.ClampedClamped)
		tip.End.Mass = mu
		mid.Between = []frame.Joint{{At: 0.5, Mass: mu}}
		b, err := frame.TipMassEigenvalue(mu, mode)
		require.NoError(t, err)
		require.InEpsilon(t, b, math.Sqrt(2*math.Pi*ring(t, tip, mode)), 1e-11)
		b, err = frame.MidMassEigenvalue(frame.ClampedClamped, mu, (mode+1)/2)
		require.NoError(t, err)
		require.InEpsilon(t, b, math.Sqrt(2*math.Pi*ring(t, mid, (mode+1)/2*2-1)), 3e-11) // eleven digits where a mass is a million beams
	})
}

func TestPropertyPlanarBetweenBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := frametest.Planars().Draw(t, "beam")
		low, high, err := p.Bounds()
		if errors.Is(err, frame.ErrLoose) {
			return
		}
		require.NoError(t, err)
		f := ring(t, p, 1)
		require.LessOrEqual(t, low, f*(1+1e-9))
		require.GreaterOrEqual(t, high, f*(1-1e-9))
		require.Greater(t, low, 0.3*f)
	})
}

// Modes are at right angles in mass, each of 1 kg, and their energies are equal.
func TestPropertyPlanarModesOrthogonal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := frametest.Planars().Draw(t, "beam")
		a := rapid.IntRange(1, 4).Draw(t, "a mode")
		b := a + rapid.IntRange(1, 3).Draw(t, "another mode")
		ca, fa, err := p.Shape(a)
		stubbyOrNone(t, err)
		cb, fb, err := p.Shape(b)
		stubbyOrNone(t, err)
		require.InEpsilon(t, ring(t, p, a), fa, 1e-15)
		if fb < fa*(1+1e-6) {
			return
		}
		require.InDelta(t, 1, inner(t, p, ca, ca, fa, fa), 1e-8)
		require.InDelta(t, 1, inner(t, p, cb, cb, fb, fb), 1e-8)
		require.InDelta(t, 0, inner(t, p, ca, cb, fa, fb), 1e-5/(1-fa/fb)) // what shapes lose where joints lie close together; 3e-6 was seen
	})
}

func stubbyOrNone(t require.TestingT, err error) {
	if !errors.Is(err, frame.ErrStubby) {
		require.NoError(t, err)
	}
}

// inner is the mass product of two modes.
func inner(t require.TestingT, p frame.Planar, a, b frame.Curve, fa, fb float64) float64 {
	at := func(c frame.Curve, x float64) frame.Bent {
		y, err := c.At(x)
		require.NoError(t, err)
		return y
	}
	sum, from := 0.0, 0.0
	for _, j := range append(append([]frame.Joint{{}}, p.Between...), frame.Joint{At: p.Length}) {
		if j.At > from {
			sum += quad.Fixed(func(x float64) float64 {
				u, v := at(a, x), at(b, x)
				turned := 0.0
				if p.Shear > 0 {
					turned = p.Gyration * p.Gyration * u.Turn * v.Turn
				}
				return p.Line * (u.Deflection*v.Deflection + turned)
			}, from, j.At, 40, nil, 0)
		}
		from = j.At
	}
	ends := []frame.Joint{p.Start, p.End}
	ends[0].At, ends[1].At = 0, p.Length
	for _, j := range append(ends, p.Between...) {
		u, v := at(a, j.At), at(b, j.At)
		sum += j.Mass*(u.Deflection+j.Offset*u.Turn)*(v.Deflection+j.Offset*v.Turn) + j.Inertia*u.Turn*v.Turn
		if j.HungMass > 0 {
			own := math.Sqrt(j.HungOn/j.HungMass) / (2 * math.Pi)
			sum += j.HungMass * u.Deflection * v.Deflection / ((1 - fa*fa/(own*own)) * (1 - fb*fb/(own*own)))
		}
	}
	return sum
}

func TestPlanarRefuses(t *testing.T) {
	p := unitBeam(frame.ClampedFree)
	p.Shear, p.Gyration, p.Axial = 0.5, 2, 2e6
	p.End = frame.Joint{Hold: 9, Spring: -1, Hinge: math.NaN(), Mass: math.Inf(1), Inertia: -1, Offset: 11, HungMass: 2e6}
	p.Between = []frame.Joint{{At: 0.5, Hold: frame.HoldClamped, HungOn: 1}, {At: 0.5, Hold: frame.HoldPinned, HungMass: 1, HungOn: 1}}
	err := p.Validate()
	require.ErrorIs(t, err, material.ErrInvalid)
	for _, field := range []string{"Planar.Shear", "Gyration", "Axial", "end: Hold", "Spring", "Hinge", "Mass", "Inertia", "Offset", "HungMass",
		"joint 0: Hold = 3", "HungOn = 1", "joint 1: place", "would ring by itself"} {
		assert.ErrorContains(t, err, field)
	}
	massless := frame.Planar{Length: 1, Bending: 1}
	assert.ErrorContains(t, massless.Validate(), "mass of the bodies")
	massless.End.Mass = 1
	assert.ErrorContains(t, massless.Validate(), "not held at rest")
	_, err = unitBeam(frame.FreeFree).BucklingLoad()
	assert.ErrorIs(t, err, frame.ErrLoose)
	_, err = unitBeam(frame.GuidedGuided).Deflection(1)
	assert.ErrorIs(t, err, frame.ErrLoose)
	_, err = frame.Curve{}.At(0)
	assert.ErrorIs(t, err, material.ErrInvalid)
	_, _, err = unitBeam(frame.ClampedFree).Shape(101)
	assert.ErrorIs(t, err, material.ErrInvalid)
	pushed := unitBeam(frame.FreeFree)
	pushed.Axial = 1
	_, err = pushed.Frequency(1)
	assert.ErrorIs(t, err, frame.ErrBuckled)
}

func TestPlanarAllocatesNothing(t *testing.T) {
	p := unitBeam(frame.ClampedFree)
	p.End.Mass = 1
	p.Between = []frame.Joint{{At: 0.5, HungMass: 1, HungOn: 100}}
	assert.Zero(t, testing.AllocsPerRun(10, func() {
		f, err := p.Frequency(3)
		n, err2 := p.Count(f)
		if err != nil || err2 != nil || n < 2 {
			panic("refused")
		}
	}))
}

// Between the ends too a spring or hinge beyond measure is a hold, to the digits.
func TestPlanarHardJoints(t *testing.T) {
	for _, c := range []struct {
		hold  frame.Hold
		joint frame.Joint
	}{{frame.HoldPinned, frame.Joint{At: 0.4, Spring: 1e15}}, {frame.HoldGuided, frame.Joint{At: 0.4, Hinge: 1e15}}} {
		held, hard := unitBeam(frame.FreeFree), unitBeam(frame.FreeFree)
		held.Between = []frame.Joint{{At: 0.4, Hold: c.hold}}
		hard.Between = []frame.Joint{c.joint}
		for mode := 1; mode < 5; mode++ {
			require.InEpsilon(t, ring(t, held, mode), ring(t, hard, mode), 1e-11)
		}
	}
	// Drawn along, a beam on one pin swings as a stiff bar: ω² = 3·tension/mass·length.
	swing := unitBeam(frame.FreePinned)
	swing.Axial = -1e-4
	require.InEpsilon(t, math.Sqrt(3e-4), 2*math.Pi*ring(t, swing, 1), 1e-5)
}
