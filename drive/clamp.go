package drive

import (
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// ClampHub is a hub that bolts draw together on a shaft: two halves, or one ring with a slot.
type ClampHub struct {
	Diameter  float64 // of the shaft, 1e-3 to 10 [m]
	Length    float64 // that grips, 1e-4 to 10 [m]
	Bolts     int     // all of them, both sides of two halves, 1 to 100 [-]
	BoltForce float64 // that each is left with, 0 to 1e8 [N]
	Lever     float64 // 1 for two halves; bolt to hinge ÷ shaft to hinge of a slotted ring, 1 to 5 [-]
	Friction  float64 // 0.001 to 2 [-]
}

// ClampGrip is what a clamp holds by friction.
type ClampGrip struct {
	Pressure float64 // mean over the projected seat [Pa]
	Loose    float64 // torque at slip if the bore is large and touches along two lines [N·m]
	Fitted   float64 // torque at slip if the bore fits and presses evenly [N·m]
	Axial    float64 // axial force at slip if the bore touches along two lines [N]
}

// Validate reports the fields out of range.
func (c ClampHub) Validate() error {
	var f input.Faults
	c.check(&f)
	return f.Err()
}

func (c *ClampHub) check(f *input.Faults) {
	c.checkHub(f)
	f.Between("drive.ClampHub.BoltForce", c.BoltForce, 0, 1e8, "N")
}

func (c *ClampHub) checkHub(f *input.Faults) {
	f.Between("drive.ClampHub.Diameter", c.Diameter, leastJoint, 10, "m")
	f.Between("drive.ClampHub.Length", c.Length, leastLength, 10, "m")
	f.Count("drive.ClampHub.Bolts", c.Bolts, 1, 100)
	f.Between("drive.ClampHub.Lever", c.Lever, 1, 5, "")
	checkFriction(f, "drive.ClampHub.Friction", c.Friction)
}

// Grip returns what the clamp holds. Bolts and lever press each half on the shaft with
// N = bolts·force·lever; the friction of both halves turns back
//
//	μ·N·d  (two lines)  to  π/2·μ·N·d  (even pressure N/(d·L))
//
// with 4/π in between for a pressure like a cosine: statics, as H. Wittel et al.,
// Roloff/Matek Maschinenelemente, section on clamp joints (from memory). What bending the
// hub itself takes of the force is not counted: a ring with a narrow slot keeps much.
func (c ClampHub) Grip() (ClampGrip, error) {
	var f input.Faults
	c.check(&f)
	if err := f.Err(); err != nil {
		return ClampGrip{}, err
	}
	return c.grip(), nil
}

func (c *ClampHub) grip() ClampGrip {
	n := float64(c.Bolts) * c.BoltForce * c.Lever
	lines := c.Friction * n * c.Diameter
	return ClampGrip{Pressure: n / (c.Diameter * c.Length), Loose: lines, Fitted: math.Pi / 2 * lines, Axial: 2 * c.Friction * n}
}

// Utilisations compares what torque, 0 to 1e8 [N·m], and axial force, 0 to 1e10 [N],
// together drag at the shaft with the friction of a bore that touches along two lines;
// and the mean pressure with a yield strength, the lower of shaft's and hub's, 1e5 to
// 1e10 [Pa]. A clamp slips without a warning and with no stop: what could fall or
// spring back needs one that does not rub.
func (c ClampHub) Utilisations(torque, axial, yield float64) ([2]material.Utilisation, error) {
	var f input.Faults
	c.check(&f)
	f.Between("drive.ClampHub.Utilisations: torque", torque, 0, mostTorque, "N·m")
	f.Between("drive.ClampHub.Utilisations: axial", axial, 0, 1e10, "N")
	f.Between("drive.ClampHub.Utilisations: yield", yield, 1e5, 1e10, "Pa")
	if err := f.Err(); err != nil {
		return [2]material.Utilisation{}, err
	}
	g := c.grip()
	return [2]material.Utilisation{
		{
			Part: "clamp slip", Demand: math.Hypot(2*torque/c.Diameter, axial), Capacity: g.Axial, Unit: "N",
			Method: "Coulomb friction along two lines",
		},
		{Part: "clamp seat", Demand: g.Pressure, Capacity: yield, Unit: "Pa", Method: "mean pressure on the projected seat"},
	}, nil
}

// BoltForceFor returns the force each bolt has to be left with [N] for a safety, 0.1 to
// 100 [-], against slip as in Utilisations; BoltForce itself is not read.
func (c ClampHub) BoltForceFor(torque, axial, safety float64) (float64, error) {
	var f input.Faults
	c.checkHub(&f)
	f.Between("drive.ClampHub.BoltForceFor: torque", torque, 0, mostTorque, "N·m")
	f.Between("drive.ClampHub.BoltForceFor: axial", axial, 0, 1e10, "N")
	f.Between("drive.ClampHub.BoltForceFor: safety", safety, 0.1, 100, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return safety * math.Hypot(2*torque/c.Diameter, axial) / (2 * c.Friction * float64(c.Bolts) * c.Lever), nil
}
