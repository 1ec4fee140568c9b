package drive

import (
	"math"

	"meltflight/internal/input"
)

// Start is the start of a motor without a ramp.
type Start struct {
	Speed  float64  // up to which the rotor catches a field that turns at once [rev/s]
	Beyond []string // in words, how the model's range is left; nil inside it
}

const startsAboveCorner = "speed above the end of full torque: the motor starts up to a lower one"

// Start returns the speed up to which a motor starts without a ramp, with an inertia at the
// motor, 1e-10 to 1e3 [kg·m²] (Train.Inertia), and a load torque, 0 to 1e3 [N·m], at a
// current, rms in each phase, 1e-6 to 1e3 [A], on a supply, 0.1 to 1e4 [V].
//
// The field turns evenly from one moment on, as micro-steps make it. A load that resists
// holds the rotor until the field leads by δ₀ with sin δ₀ = torque/holding. Seen from the
// field the rotor is then a pendulum thrown backwards with the field's speed Ω, and catches
// on if it does not pass the angle π − δ₀ where the torque no longer exceeds the load.
// With no damping its energy gives
//
//	J·Ω²/2 = (2·holding/p)·(sin γ − γ·cos γ),  γ = π/2 − δ₀
//
// so 2·√(holding/pJ) without load. Own closed form, without a margin: damping helps, full
// steps and detent hurt. To stop at once from the same speed is easier: the load helps.
//
// The torque of the field is taken as that at standstill, which holds up to the
// first corner of Corners; Beyond says where Speed is higher. It errs with
// ErrOutOfStep under a torque that is not held.
func (s Stepper) Start(inertia, torque, current, supply float64) (Start, error) {
	var f input.Faults
	s.check(&f)
	checkInertia(&f, "drive.Stepper.Start: inertia", inertia)
	f.Between("drive.Stepper.Start: torque", torque, 0, 1e3, "N·m")
	f.Between("drive.Stepper.Start: current", current, 1e-6, 1e3, "A")
	f.Between("drive.Stepper.Start: supply", supply, 0.1, 1e4, "V")
	if err := f.Err(); err != nil {
		return Start{}, err
	}
	holding := s.holding(current)
	if torque > holding {
		return Start{}, outOfHold("drive.Stepper.Start", torque, current, holding)
	}
	cosine := torque / holding // of γ
	sine := math.Sqrt((1 - cosine) * (1 + cosine))
	out := Start{Speed: math.Sqrt(4*holding/(float64(s.RotorTeeth)*inertia)*hill(math.Atan2(sine, cosine))) / (2 * math.Pi)}
	full, _ := s.corners(math.Sqrt2*current, supply)
	if out.Beyond = s.over(current); out.Speed > full {
		out.Beyond = append(out.Beyond, startsAboveCorner)
	}
	return out, nil
}

// hill returns sin γ − γ·cos γ, by its series where the difference is small.
func hill(gamma float64) float64 {
	if gamma < 0.1 {
		g := gamma * gamma
		return gamma * g / 3 * (1 - g/10*(1-g/28*(1-g/54)))
	}
	return math.Sin(gamma) - gamma*math.Cos(gamma)
}
