package drive

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// TurnBack is a screw turned back by a part of a turn, and again by as much.
type TurnBack struct {
	MotorAngle float64 // one way, the gear's play included [rad]
	Rate       float64 // at which the motor speeds up and slows down [rad/s²]
	MotorSpeed float64 // highest [rev/s]
	Time       float64 // one way; back and again take twice that [s]
	Lost       float64 // of Time's angle, the part that takes up play, screw at rest [-]
}

// TurnBack returns how fast a screw can be turned back by an angle, 1e-6 to 1e3 [rad], with
// a motor torque, 1e-6 to 1e3 [N·m], up to a speed of the screw, 1e-6 to 1e3 [rev/s], while
// the melt resists with a screw torque, 0 to 1e6 [N·m], either way.
//
// Torque left over by the load speeds the motor up over half of the angle, or until
// the speed is reached, and it slows down at the same rate, for which it then needs
// less. Each reversal first takes up Backlash; that is counted at the rate of the loaded
// train, though the rotor alone is faster there and lands with a blow. What shafts and
// motor wind up (StiffnessAtScrew) is set free by a reversal as well: add
// it to Backlash, twice the torque ÷ stiffness.
//
// Motor torque is that of PullOut at the speed, less a margin. It errs with
// ErrOutOfStep where the load leaves nothing of it.
func (t Train) TurnBack(angle, speed, motorTorque, screwTorque float64) (TurnBack, error) {
	var f input.Faults
	t.check(&f)
	f.Between("drive.Train.TurnBack: angle", angle, 1e-6, 1e3, "rad")
	f.Between("drive.Train.TurnBack: speed", speed, 1e-6, 1e3, "rev/s")
	f.Between("drive.Train.TurnBack: motor torque", motorTorque, 1e-6, 1e3, "N·m")
	f.Between("drive.Train.TurnBack: screw torque", screwTorque, 0, 1e6, "N·m")
	if err := f.Err(); err != nil {
		return TurnBack{}, err
	}
	load := t.atMotor(screwTorque)
	spare := motorTorque - load
	if spare < 1e-12*motorTorque { // the rest is rounding
		return TurnBack{}, fmt.Errorf("%w: drive.Train.TurnBack: the screw takes %.4g N·m of the motor's %.4g N·m and leaves none to turn it back",
			ErrOutOfStep, load, motorTorque)
	}
	out := TurnBack{MotorAngle: t.Ratio * (angle + t.Backlash), Rate: spare / t.felt(), Lost: t.Backlash / (angle + t.Backlash)}
	top, limit := math.Sqrt(out.Rate*out.MotorAngle), 2*math.Pi*speed*t.Ratio
	if top <= limit {
		out.Time = 2 * out.MotorAngle / top
	} else {
		top = limit
		out.Time = out.MotorAngle/top + top/out.Rate
	}
	out.MotorSpeed = top / (2 * math.Pi)
	return out, nil
}
