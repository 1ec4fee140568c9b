package drive

import (
	"math"

	"meltflight/internal/input"
)

// Resonance is the swinging of a rotor about its place in the field.
type Resonance struct {
	Frequency float64  // of small oscillations [Hz]
	StepSpeed float64  // shaft speed at which full steps come at Frequency [rev/s]
	Beyond    []string // in words, how the model's range is left; nil inside it
}

// Resonance returns the natural frequency of a motor with all that turns with it, an inertia
// at the motor, 1e-10 to 1e3 [kg·m²] (Train.Inertia), about the lag under a steady torque,
// 0 to 1e3 [N·m], at a current, rms in each phase, 1e-6 to 1e3 [A]:
//
//	f = √(stiffness/inertia)/2π,  stiffness of Hold
//
// D. W. Jones, Control of Stepping Motors, "Stepping Motor Physics". The gear is taken as
// stiff. Within its backlash the rotor swings alone, faster: try both inertias.
//
// Full steps excite it at StepSpeed. Micro-steps excite it less, yet detent does so at
// the same speed, unequal phases at twice and an offset of the current at four times that
// speed (common practice, no source). A screw in melt damps well; a screw that
// runs empty does not.
//
// Mid-speed instability is another matter: near and above the corners the current follows
// the rotor's swing late and feeds it, so that a motor can fall out at a speed and a torque
// well inside the pull-out curve (common practice, no source). It depends on the driver
// and is not computed. Friction or viscous drag at the shaft mends it.
//
// It errs with ErrOutOfStep under a torque that is not held; at the torque just
// held the frequency is zero.
func (s Stepper) Resonance(inertia, torque, current float64) (Resonance, error) {
	var f input.Faults
	s.check(&f)
	checkInertia(&f, "drive.Stepper.Resonance: inertia", inertia)
	f.Between("drive.Stepper.Resonance: torque", torque, 0, 1e3, "N·m")
	f.Between("drive.Stepper.Resonance: current", current, 1e-6, 1e3, "A")
	if err := f.Err(); err != nil {
		return Resonance{}, err
	}
	holding, teeth := s.holding(current), float64(s.RotorTeeth)
	sine := torque / holding
	if sine > 1 {
		return Resonance{}, outOfHold("drive.Stepper.Resonance", torque, current, holding)
	}
	stiffness := teeth * holding * math.Sqrt((1-sine)*(1+sine))
	frequency := math.Sqrt(stiffness/inertia) / (2 * math.Pi)
	return Resonance{Frequency: frequency, StepSpeed: frequency / (4 * teeth), Beyond: s.over(current)}, nil
}

// Swing returns the frequency of free swings without load [Hz] that are not small: of an
// electrical amplitude, taken into 0 to π [rad], a full step being π/2. The motor is then a
// pendulum, f = Frequency·agm(1, cos(amplitude/2)) (C. F. Gauss' solution, from memory).
func (r Resonance) Swing(amplitude float64) float64 {
	if !(amplitude > 0) {
		return r.Frequency
	}
	a, b := 1.0, math.Cos(min(amplitude, math.Pi)/2)
	if b < 1e-15 {
		return 0 // it balances on its head
	}
	for range 8 { // converges quadratically; from 1e-15 seven steps do
		a, b = (a+b)/2, math.Sqrt(a*b)
	}
	return r.Frequency * a
}

const (
	lightestInertia, heaviestInertia = 1e-10, 1e3 // at the motor [kg·m²]
)

func checkInertia(f *input.Faults, name string, inertia float64) {
	f.Between(name, inertia, lightestInertia, heaviestInertia, "kg·m²")
}
