package drive

import "meltflight/internal/input"

// Train is what a motor turns: its rotor, a gear and the screw.
type Train struct {
	Rotor      float64 // inertia of the rotor, 1e-10 to 1 [kg·m²]
	Gear       float64 // inertia of the gear, taken at the motor's speed, 0 to 1 [kg·m²]
	Screw      float64 // inertia of the screw and what turns with it, 0 to 10 [kg·m²]
	Ratio      float64 // motor speed ÷ screw speed, 0.01 to 1e4 [-]
	Efficiency float64 // screw power ÷ motor power, 0.01 to 1 [-]
	Backlash   float64 // angle the screw can be turned to and fro with the motor held, 0 to 1 [rad]
}

const (
	lowestRatio, highestRatio = 0.01, 1e4 // motor speed ÷ screw speed
)

// Validate reports the fields out of range.
func (t Train) Validate() error {
	var f input.Faults
	t.check(&f)
	return f.Err()
}

func (t Train) check(f *input.Faults) {
	f.Between("drive.Train.Rotor", t.Rotor, lightestInertia, 1, "kg·m²")
	f.Between("drive.Train.Gear", t.Gear, 0, 1, "kg·m²")
	f.Between("drive.Train.Screw", t.Screw, 0, 10, "kg·m²")
	f.Between("drive.Train.Ratio", t.Ratio, lowestRatio, highestRatio, "")
	f.Between("drive.Train.Efficiency", t.Efficiency, 0.01, 1, "")
	f.Between("drive.Train.Backlash", t.Backlash, 0, 1, "rad")
}

// Inertia returns the inertia of a valid train as the rotor feels it, without loss:
// Rotor + Gear + Screw/Ratio² [kg·m²].
func (t Train) Inertia() float64 { return t.Rotor + t.Gear + t.Screw/(t.Ratio*t.Ratio) }

// felt returns the inertia that a driving motor feels: what speeds the screw up passes
// through the gear and its losses.
func (t Train) felt() float64 {
	return t.Rotor + t.Gear + t.Screw/(t.Ratio*t.Ratio*t.Efficiency)
}

// atMotor returns a torque of the screw at the driving motor.
func (t Train) atMotor(screwTorque float64) float64 { return screwTorque / (t.Ratio * t.Efficiency) }
