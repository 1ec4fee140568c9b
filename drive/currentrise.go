package drive

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/input"
)

// ErrCurrent reports a current that the supply cannot drive through the winding.
var ErrCurrent = errors.New("supply cannot drive the current")

// CurrentRise tells how long the current of a phase takes to follow full steps.
type CurrentRise struct {
	FromZero  float64 // from none to the level [s]
	Reversal  float64 // from the level one way to the level the other way [s]
	StepSpeed float64 // shaft speed at which a full step is as short as the reversal [rev/s]
}

// CurrentRise returns the times in which the current of a phase reaches a level, what flows
// and not an rms of a sine, 1e-6 to 1e3 [A], on a supply, 0.1 to 1e4 [V]. The two are the same
// in full steps with both phases on, where a current holds its level between reversals.
//
// With τ = L/R, current rises towards V/R as 1 − exp(−t/τ), so that a reversal takes
// τ·ln((V/R + I)/(V/R − I)), about 2LI/V where resistance is small: the rule by which
// speeds are called too high for full steps. Back-emf is not in it, and holds the current
// off earlier; it lies somewhere about the two corners of Corners, which are exact for
// sinusoidal currents.
//
// It errs with ErrCurrent at a level of V/R or above.
func (s Stepper) CurrentRise(level, supply float64) (CurrentRise, error) {
	var f input.Faults
	s.check(&f)
	f.Between("drive.Stepper.CurrentRise: level", level, 1e-6, 1e3, "A")
	f.Between("drive.Stepper.CurrentRise: supply", supply, 0.1, 1e4, "V")
	if err := f.Err(); err != nil {
		return CurrentRise{}, err
	}
	share := s.Resistance * level / supply
	if share >= 1 {
		return CurrentRise{}, fmt.Errorf("%w: drive.Stepper.CurrentRise: %.4g A through %.4g Ω take %.4g V, the supply has %.4g V",
			ErrCurrent, level, s.Resistance, s.Resistance*level, supply)
	}
	constant := s.Inductance / s.Resistance
	reversal := constant * 2 * math.Atanh(share)
	return CurrentRise{
		FromZero: -constant * math.Log1p(-share), Reversal: reversal,
		StepSpeed: 1 / (4 * float64(s.RotorTeeth) * reversal),
	}, nil
}
