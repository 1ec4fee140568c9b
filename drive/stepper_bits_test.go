package drive_test

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/internal/draw"
)

// numbers draws each of a list of quantities at an end of its range, within it, or, in
// bad places, as any bits; ok tells that all are within.
func numbers(t *rapid.T, ranges ...[2]float64) (v []float64, ok bool) {
	ok = true
	for _, r := range ranges {
		var x float64
		switch rapid.IntRange(0, 11).Draw(t, "kind") {
		case 0:
			x = draw.Bits().Draw(t, "bits")
		case 1:
			x = math.Nextafter(r[1], math.Inf(1))
		case 2, 3, 4:
			x = r[0]
		case 5, 6, 7:
			x = r[1]
		default:
			x = draw.Log(max(r[0], r[1]*1e-12), r[1]).Draw(t, "within")
		}
		ok = ok && x >= r[0] && x <= r[1]
		v = append(v, x)
	}
	return v, ok
}

// Whatever the bits: a result is finite, what is within its range is not refused, and what
// is not is refused by name.
func TestPropertyStepperAnyBits(t *testing.T) {
	torques, speeds, currents, supplies := [2]float64{0, 1e3}, [2]float64{0, 1e4}, [2]float64{1e-6, 1e3}, [2]float64{0.1, 1e4}
	inertias := [2]float64{1e-10, 1e3}
	judge := func(t *rapid.T, name string, ok bool, err error, results ...any) {
		if errors.Is(err, drive.ErrCurrent) {
			return
		}
		finite(t, name, err, results...)
		if !ok {
			require.ErrorContains(t, err, "allowed", name)
		} else if err != nil {
			require.ErrorIs(t, err, drive.ErrOutOfStep, name)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		v, fine := numbers(t, [2]float64{1e-4, 1e3}, [2]float64{1e-3, 1e3}, [2]float64{1e-4, 1e4}, [2]float64{1e-7, 10})
		s := drive.Stepper{HoldingTorque: v[0], Current: v[1], Resistance: v[2], Inductance: v[3],
			RotorTeeth: rapid.SampledFrom([]int{2, 50, 1000}).Draw(t, "rotor teeth")}

		a, ok := numbers(t, torques, speeds, currents, supplies, [2]float64{0, 1e6})
		o, err := s.Operate(a[0], a[1], a[2], a[3], a[4])
		ok = ok && (a[1] > 0 || a[4] == 0) // no iron loss at standstill
		judge(t, "Operate", ok && fine, err, o, o.Efficiency())
		a, ok = numbers(t, inertias, torques, currents, supplies)
		start, err := s.Start(a[0], a[1], a[2], a[3])
		judge(t, "Start", ok && fine, err, start)
		a, ok = numbers(t, inertias, torques, currents)
		r, err := s.Resonance(a[0], a[1], a[2])
		judge(t, "Resonance", ok && fine, err, r)
		if swing := r.Swing(draw.Bits().Draw(t, "amplitude")); err == nil {
			finite(t, "Swing", nil, swing)
			require.GreaterOrEqual(t, swing, 0.0)
			require.LessOrEqual(t, swing, r.Frequency)
		}
		a, ok = numbers(t, torques, currents)
		hold, err := s.Hold(a[0], a[1])
		judge(t, "Hold", ok && fine, err, hold)
		detent, err := s.Detent(a[0], a[1])
		judge(t, "Detent", ok && fine, err, detent)
		n := rapid.SampledFrom([]int{math.MinInt, 0, 1, 16, 1 << 16, 1<<16 + 1}).Draw(t, "microsteps")
		a, ok = numbers(t, currents)
		micro, err := s.Microstep(n, a[0])
		judge(t, "Microstep", ok && fine && n >= 1 && n <= 1<<16, err, micro)
		a, ok = numbers(t, currents, supplies)
		rise, err := s.CurrentRise(a[0], a[1])
		judge(t, "CurrentRise", ok && fine, err, rise)
		a, ok = numbers(t, [2]float64{1e-9, 1e12}, [2]float64{0.01, 1e4}, [2]float64{1e-9, 1e12})
		k, err := drive.StiffnessAtScrew(a[0], a[1], a[2])
		judge(t, "StiffnessAtScrew", ok, err, k)

		v, fine = numbers(t, [2]float64{1e-10, 1}, [2]float64{0, 1}, [2]float64{0, 10}, [2]float64{0.01, 1e4}, [2]float64{0.01, 1}, [2]float64{0, 1})
		train := drive.Train{Rotor: v[0], Gear: v[1], Screw: v[2], Ratio: v[3], Efficiency: v[4], Backlash: v[5]}
		judge(t, "Train.Validate", fine, train.Validate())
		if fine {
			finite(t, "Train", nil, train.Inertia(), train.BestRatio())
		}
		screw, times, load := [2]float64{1e-6, 1e3}, [2]float64{1e-6, 1e6}, [2]float64{0, 1e6}
		a, ok = numbers(t, screw, times, load)
		run, err := train.Accelerate(a[0], a[1], a[2])
		judge(t, "Accelerate", ok && fine, err, run)
		run, err = train.AccelerateOver(a[0], a[1], a[2])
		judge(t, "AccelerateOver", ok && fine, err, run)
		a, ok = numbers(t, [2]float64{1e-6, 1e3}, screw, [2]float64{1e-6, 1e3}, load)
		back, err := train.TurnBack(a[0], a[1], a[2], a[3])
		judge(t, "TurnBack", ok && fine, err, back)
	})
}

func TestStepperAllocatesNothing(t *testing.T) {
	train := drive.Train{Rotor: 6.8e-5, Gear: 1e-6, Screw: 5e-5, Ratio: 5, Efficiency: 0.9, Backlash: 0.003}
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		o, e1 := big.Operate(0.8, 7.5, 2.8, 36, 2)
		s, e2 := big.Start(train.Inertia(), 0.4, 2.8, 36)
		r, e3 := big.Resonance(train.Inertia(), 0.4, 2.8)
		h, e4 := big.Hold(0.4, 2.8)
		d, e5 := big.Detent(0.06, 1)
		m, e6 := big.Microstep(16, 2.8)
		c, e7 := big.CurrentRise(2.8, 36)
		a, e8 := train.Accelerate(1, 0.1, 4)
		b, e9 := train.TurnBack(1, 1, 1.2, 4)
		k, e10 := drive.StiffnessAtScrew(h.Stiffness, 5, 240)
		if err := errors.Join(e1, e2, e3, e4, e5, e6, e7, e8, e9, e10); err != nil {
			t.Fatal(err)
		}
		sink += o.Current + s.Speed + r.Swing(1) + d.Lag + m.Angle + c.FromZero + a.Time + b.Time + k
	}))
}
