package drive

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// Microstep is what one micro-step of the field does.
type Microstep struct {
	Angle  float64 // of the shaft [rad]
	Torque float64 // on a rotor that does not follow [N·m]
}

// Microstep returns the step of the field and the torque it builds up when a full step is
// parted into microsteps, 1 to 65536 [-], at a current, rms in each phase, 1e-6 to 1e3 [A].
//
// The field leads a rotor that was without load by 90°/microsteps electrical, so that the
// torque is holding torque · sin(90°/microsteps): the current fractions that micro-stepping
// drivers tabulate. Holding torque itself is not reduced by micro-stepping. Friction
// above it swallows the step, and the next ones until their sum breaks it loose: a
// finer step is finer in resolution, not in accuracy.
func (s Stepper) Microstep(microsteps int, current float64) (Microstep, error) {
	var f input.Faults
	s.check(&f)
	f.Count("drive.Stepper.Microstep: microsteps", microsteps, 1, 1<<16)
	f.Between("drive.Stepper.Microstep: current", current, 1e-6, 1e3, "A")
	if err := f.Err(); err != nil {
		return Microstep{}, err
	}
	electrical := math.Pi / 2 / float64(microsteps)
	return Microstep{Angle: electrical / float64(s.RotorTeeth), Torque: s.holding(current) * math.Sin(electrical)}, nil
}

// Hold is a motor that stands, or turns slowly, under a torque.
type Hold struct {
	Holding   float64  // the most it holds [N·m]
	Lag       float64  // of the shaft behind its place without load [rad]
	Stiffness float64  // of the shaft about this lag [N·m/rad]
	Beyond    []string // in words, how the model's range is left; nil inside it
}

// Hold returns lag and stiffness under a torque, 0 to 1e3 [N·m], at a current, rms in each
// phase, 1e-6 to 1e3 [A]. Torque is T = Holding·sin(p·lag) with p the RotorTeeth, so that
// the shaft is stiffest without load, by p·Holding, and has no stiffness left at Holding,
// one full step behind: D. W. Jones, Control of Stepping Motors, "Stepping Motor Physics"
// (from memory). The torque of a real motor is not quite a sine.
// It errs with ErrOutOfStep under more than Holding.
func (s Stepper) Hold(torque, current float64) (Hold, error) {
	var f input.Faults
	s.check(&f)
	f.Between("drive.Stepper.Hold: torque", torque, 0, 1e3, "N·m")
	f.Between("drive.Stepper.Hold: current", current, 1e-6, 1e3, "A")
	if err := f.Err(); err != nil {
		return Hold{}, err
	}
	holding, teeth := s.holding(current), float64(s.RotorTeeth)
	sine := torque / holding
	if sine > 1 {
		return Hold{}, outOfHold("drive.Stepper.Hold", torque, current, holding)
	}
	cosine := math.Sqrt((1 - sine) * (1 + sine))
	return Hold{
		Holding: holding, Lag: math.Atan2(sine, cosine) / teeth, Stiffness: teeth * holding * cosine, Beyond: s.over(current),
	}, nil
}

func outOfHold(name string, torque, current, holding float64) error {
	return fmt.Errorf("%w: %s: %.4g N·m with %.4g A, which hold %.4g N·m", ErrOutOfStep, name, torque, current, holding)
}

// StiffnessAtScrew returns the torsional stiffness that the screw feels [N·m/rad]: the
// motor's, 1e-9 to 1e12 [N·m/rad], times the square of the ratio of motor to screw speed,
// 0.01 to 1e4 [-], in series with that of shafts and teeth, 1e-9 to 1e12 [N·m/rad]. Play in
// the gear is no stiffness; it adds to the angle.
func StiffnessAtScrew(motor, ratio, shaft float64) (float64, error) {
	var f input.Faults
	f.Between("drive.StiffnessAtScrew: motor", motor, 1e-9, 1e12, "N·m/rad")
	f.Between("drive.StiffnessAtScrew: ratio", ratio, lowestRatio, highestRatio, "")
	f.Between("drive.StiffnessAtScrew: shaft", shaft, 1e-9, 1e12, "N·m/rad")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return 1 / (1/(ratio*ratio*motor) + 1/shaft), nil
}
