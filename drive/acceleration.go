package drive

import (
	"math"

	"meltflight/internal/input"
)

// Acceleration is an even run-up of a train from rest.
type Acceleration struct {
	MotorTorque   float64 // of load and inertia, to compare with pull-out at MotorSpeed [N·m]
	LoadTorque    float64 // the screw's part [N·m]
	InertiaTorque float64 // the part of rotor, gear and screw [N·m]
	Rate          float64 // of the motor [rad/s²]
	MotorSpeed    float64 // reached [rev/s]
	Time          float64 // [s]
	ScrewAngle    float64 // turned meanwhile [rad]
}

// Accelerate returns what the motor has to give to bring the screw evenly from rest to a
// speed, 1e-6 to 1e3 [rev/s], within a time, 1e-6 to 1e6 [s], while the screw asks a
// torque, 0 to 1e6 [N·m].
//
//	motor torque = screw torque/(ratio·η) + (rotor + gear + screw/(ratio²·η))·rate
//
// Newton's law of the train, stiff and without play. A screw starts cold and full: its
// torque at rest can be the largest it ever asks.
func (t Train) Accelerate(speed, time, screwTorque float64) (Acceleration, error) {
	var f input.Faults
	t.check(&f)
	f.Between("drive.Train.Accelerate: speed", speed, 1e-6, 1e3, "rev/s")
	f.Between("drive.Train.Accelerate: time", time, 1e-6, 1e6, "s")
	f.Between("drive.Train.Accelerate: screw torque", screwTorque, 0, 1e6, "N·m")
	if err := f.Err(); err != nil {
		return Acceleration{}, err
	}
	return t.accelerate(speed, time, screwTorque), nil
}

// AccelerateOver is Accelerate over an angle of the screw, 1e-6 to 1e6 [rad], in place of a
// time: the time is twice that at full speed.
func (t Train) AccelerateOver(speed, angle, screwTorque float64) (Acceleration, error) {
	var f input.Faults
	t.check(&f)
	f.Between("drive.Train.AccelerateOver: speed", speed, 1e-6, 1e3, "rev/s")
	f.Between("drive.Train.AccelerateOver: angle", angle, 1e-6, 1e6, "rad")
	f.Between("drive.Train.AccelerateOver: screw torque", screwTorque, 0, 1e6, "N·m")
	if err := f.Err(); err != nil {
		return Acceleration{}, err
	}
	return t.accelerate(speed, angle/(math.Pi*speed), screwTorque), nil
}

func (t Train) accelerate(speed, time, screwTorque float64) Acceleration {
	a := Acceleration{
		LoadTorque: t.atMotor(screwTorque), MotorSpeed: speed * t.Ratio,
		Time: time, ScrewAngle: math.Pi * speed * time,
	}
	a.Rate = 2 * math.Pi * a.MotorSpeed / time
	a.InertiaTorque = t.felt() * a.Rate
	a.MotorTorque = a.LoadTorque + a.InertiaTorque
	return a
}

// BestRatio returns the ratio at which a given motor torque speeds the screw of a valid
// train up fastest, √(screw/(rotor + gear)) without load and loss [-]. A screw is so light
// that its torque, and not this, chooses the ratio.
func (t Train) BestRatio() float64 { return math.Sqrt(t.Screw / (t.Rotor + t.Gear)) }
