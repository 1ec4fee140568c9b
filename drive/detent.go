package drive

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// Detent is what the magnet's own pull on the teeth leaves of a motor at low speed.
type Detent struct {
	Torque       float64  // held in every position while the field turns slowly [N·m]
	LeastCurrent float64  // below which the rotor rests in its detent and follows no field, rms [A]
	Lag          float64  // largest deviation of the shaft without load [rad]
	Jumps        bool     // micro-steps come in jumps: some positions are not stable
	Beyond       []string // in words, how the model's range is left; nil inside it
}

// Detent returns what a detent torque, the largest of the motor without current, 0 to 1e3
// [N·m], takes at a current setting, rms in each phase, 1e-6 to 1e3 [A].
//
// Detent varies four times as fast as the torque of the current, as T_d·sin(4pθ) with p
// the RotorTeeth (from memory; the fourth harmonic alone). A slow field drags the rotor
// through every position, and through the worst with Holding − T_d. Without load the
// field leads the rotor by up to asin(T_d/Holding)/p to and fro; above a quarter of
// Holding detent is the steeper of the two where it is unstable, and the rotor jumps.
// It does no work on average, so that pull-out at speed keeps its torque; a detent torque
// measured by hand holds friction of bearings and iron too, and that is lost at any speed.
//
// At low current, as a driver sets to hold, Holding falls with the current and detent
// does not. It errs with ErrOutOfStep where detent is the larger.
func (s Stepper) Detent(detent, current float64) (Detent, error) {
	var f input.Faults
	s.check(&f)
	f.Between("drive.Stepper.Detent: detent", detent, 0, 1e3, "N·m")
	f.Between("drive.Stepper.Detent: current", current, 1e-6, 1e3, "A")
	if err := f.Err(); err != nil {
		return Detent{}, err
	}
	holding := s.holding(current)
	least := s.Current * (detent / s.HoldingTorque)
	if detent >= holding {
		return Detent{}, fmt.Errorf("%w: drive.Stepper.Detent: %.4g A hold %.4g N·m and the detent %.4g N·m: above %.4g A the rotor follows",
			ErrOutOfStep, current, holding, detent, least)
	}
	return Detent{
		Torque: holding - detent, LeastCurrent: least, Lag: math.Asin(detent/holding) / float64(s.RotorTeeth),
		Jumps: 4*detent > holding, Beyond: s.over(current),
	}, nil
}
