package drive

import (
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// Overhung is a shaft on two bearings whose end sticks out to a coupling.
type Overhung struct {
	Span     float64 // between the bearings, 1e-3 to 10; 0 for an end built in at the near one [m]
	Overhang float64 // from the near bearing to the joint, 1e-3 to 10 [m]
	Diameter float64 // 1e-3 to 1 [m]
	Young    float64 // 1e8 to 1e12 [Pa]
}

// Coupling is how a coupling gives way. 0 is stiff; a joint free to tilt has the least
// Angular.
type Coupling struct {
	Radial  float64 // force by parallel offset, 1 to 1e15; 0 for stiff [N/m]
	Angular float64 // moment by angle, 1e-6 to 1e15; 0 for stiff [N·m/rad]
	Torsion float64 // torque by twist, 1e-3 to 1e12; 0 for stiff [N·m/rad]
}

// Misalignment is what two shafts A and B, that do not lie in line, do to each other. All
// forces lie in the plane of the misalignment and stand still while the shafts turn.
type Misalignment struct {
	Force  float64 // at the joint, on A; −Force on B [N]
	Moment float64 // through the joint [N·m]
	A, B   Bent
	Beyond []string // in words, where the range of slender beams is left; nil inside it
}

// Bent is one of the misaligned shafts.
type Bent struct {
	Near    float64 // force of the bearing by the joint on the shaft [N]
	Far     float64 // force of the other bearing on the shaft; 0 if built in [N]
	Bending float64 // moment at the near bearing, which a turning shaft feels as alternating [N·m]
	Stress  float64 // of that moment, amplitude, no notch counted [Pa]
	Tilt    float64 // of the shaft in its far bearing; 0 if built in [rad]
}

func (o *Overhung) check(f *input.Faults, span, overhang, diameter, young string) {
	if o.Span != 0 {
		f.Between(span, o.Span, 1e-3, 10, "m")
	}
	f.Between(overhang, o.Overhang, 1e-3, 10, "m")
	f.Between(diameter, o.Diameter, 1e-3, 1, "m")
	f.Between(young, o.Young, 1e8, 1e12, "Pa")
}

func checkShafts(f *input.Faults, a, b *Overhung) {
	a.check(f, "drive.Overhung (A).Span", "drive.Overhung (A).Overhang", "drive.Overhung (A).Diameter", "drive.Overhung (A).Young")
	b.check(f, "drive.Overhung (B).Span", "drive.Overhung (B).Overhang", "drive.Overhung (B).Diameter", "drive.Overhung (B).Young")
}

// Validate reports the fields out of range.
func (c Coupling) Validate() error {
	var f input.Faults
	c.check(&f)
	return f.Err()
}

func (c *Coupling) check(f *input.Faults) {
	stiffOr(f, "drive.Coupling.Radial", c.Radial, 1, 1e15, "N/m")
	stiffOr(f, "drive.Coupling.Angular", c.Angular, 1e-6, 1e15, "N·m/rad")
	stiffOr(f, "drive.Coupling.Torsion", c.Torsion, 1e-3, 1e12, "N·m/rad")
}

func stiffOr(f *input.Faults, name string, stiffness, lo, hi float64, unit string) {
	if stiffness != 0 {
		f.Between(name, stiffness, lo, hi, unit)
	}
}

// compliance is how much a stiffness gives by a unit load, nothing if stiff.
func compliance(stiffness float64) float64 {
	if stiffness == 0 {
		return 0
	}
	return 1 / stiffness
}

func (o *Overhung) rigidity() float64 { return o.Young * math.Pi / 64 * square(square(o.Diameter)) }

// give is the flexibility of the end: deflection by force, deflection by moment (and
// slope by force, which is the same), slope by moment.
func (o *Overhung) give() (force, both, moment float64) {
	a, c, ei := o.Span, o.Overhang, o.rigidity()
	return c * c * (a + c) / (3 * ei), c * (2*a + 3*c) / (6 * ei), (a + 3*c) / (3 * ei)
}

func checkMisaligned(f *input.Faults, offset, angle float64) {
	f.Between("drive.Coupling.Misaligned: offset", offset, -0.1, 0.1, "m")
	f.Between("drive.Coupling.Misaligned: angle", angle, -0.2, 0.2, "rad")
}

// Misaligned returns what the coupling does to shafts whose axes miss each other at
// the joint by an offset, −0.1 to 0.1, positive if B lies above A [m], and meet at an
// angle, −0.2 to 0.2, positive if B climbs away from the joint [rad]; A lies left, B right:
//
//	(f₁₁A + f₁₁B + 1/k_r)·V + (f₁₂A − f₁₂B)·M = offset
//	(f₁₂A − f₁₂B)·V + (f₂₂A + f₂₂B + 1/k_φ)·M = angle
//
// statics of slender beams on bearings that tilt and do not give (own): f₁₁ = c²(a + c)/3EI,
// f₁₂ = c(2a + 3c)/6EI, f₂₂ = (a + 3c)/3EI. Offset and angle in planes at a right angle
// are two calls whose forces add as vectors. Clearance and give of bearings lower the
// forces, so a stiff coupling's are the most there can be; they go with d⁴/c³, and a
// tenth of a millimetre on small shafts is hundreds of newtons: such a joint has to
// flex, or one of its shafts to have one bearing less. An overloaded shaft breaks by
// fatigue at the near bearing, and the end that falls out keeps turning.
func (c Coupling) Misaligned(a, b Overhung, offset, angle float64) (Misalignment, error) {
	var f input.Faults
	c.check(&f)
	checkShafts(&f, &a, &b)
	checkMisaligned(&f, offset, angle)
	if err := f.Err(); err != nil {
		return Misalignment{}, err
	}
	v, m := c.solve(&a, &b, offset, angle)
	r := Misalignment{Force: v, Moment: m, A: a.bent(v, m), B: b.bent(-v, m)}
	r.Beyond = b.stubby(a.stubby(nil, "A"), "B")
	return r, nil
}

// slender is the length in diameters below which shear gives some 3 % and more of bending.
const slender = 5

func (o *Overhung) stubby(beyond []string, name string) []string {
	if l := (o.Span + o.Overhang) / o.Diameter; l < slender {
		return append(beyond, fmt.Sprintf("shaft %s of %.3g diameters, beams for %d and more: shear, not counted, lowers the forces", name, l, slender))
	}
	return beyond
}

// solve answers the two equations; their matrix is positive definite.
func (c *Coupling) solve(a, b *Overhung, offset, angle float64) (force, moment float64) {
	a11, a12, a22 := a.give()
	b11, b12, b22 := b.give()
	f11, f12, f22 := a11+b11+compliance(c.Radial), a12-b12, a22+b22+compliance(c.Angular)
	r := f12 / f11
	moment = (angle - r*offset) / (f22 - r*f12)
	return (offset - f12*moment) / f11, moment
}

func (o *Overhung) bent(force, moment float64) Bent {
	m := force*o.Overhang + moment
	s := Bent{Bending: m, Near: -force, Stress: 32 * math.Abs(m) / (math.Pi * o.Diameter * o.Diameter * o.Diameter)}
	if o.Span > 0 {
		s.Far = m / o.Span
		s.Near = -force - s.Far
		s.Tilt = -m * o.Span / (6 * o.rigidity())
	}
	return s
}

// Utilisations compares the larger force on a bearing of each shaft with what its
// bearings allow across the shaft, 1e-3 to 1e9 [N].
func (m Misalignment) Utilisations(allowedA, allowedB float64) ([2]material.Utilisation, error) {
	var f input.Faults
	f.Between("drive.Misalignment.Utilisations: allowedA", allowedA, leastLoad, mostLoad, "N")
	f.Between("drive.Misalignment.Utilisations: allowedB", allowedB, leastLoad, mostLoad, "N")
	if err := f.Err(); err != nil {
		return [2]material.Utilisation{}, err
	}
	const method = "beams in statics, bearings that do not give"
	return [2]material.Utilisation{
		{Part: "bearing of shaft A, misalignment", Demand: m.A.most(), Capacity: allowedA, Unit: "N", Method: method},
		{Part: "bearing of shaft B, misalignment", Demand: m.B.most(), Capacity: allowedB, Unit: "N", Method: method},
	}, nil
}

func (b *Bent) most() float64 { return math.Max(math.Abs(b.Near), math.Abs(b.Far)) }

// Twist returns the angle [rad] by which a torque, 0 to 1e8 [N·m], winds the coupling up.
// The rubber of a jaw or an elastomer coupling stiffens with torque and softens with heat:
// its catalogue's stiffness is for one torque, often half the rated.
func (c Coupling) Twist(torque float64) (float64, error) {
	var f input.Faults
	c.check(&f)
	f.Between("drive.Coupling.Twist: torque", torque, 0, mostTorque, "N·m")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return torque * compliance(c.Torsion), nil
}

// CouplingTorque compares a torque, 0 to 1e8 [N·m], times a service factor for shock and
// heat, 1 to 20 [-], with the torque a catalogue rates a coupling for, 1e-6 to 1e8 [N·m].
// An overloaded spider tears and lets jaws strike jaws or slip through; discs and bellows
// burst. What a screw then springs back, and what hung on the drive, is free at once.
func CouplingTorque(torque, service, rated float64) (material.Utilisation, error) {
	var f input.Faults
	f.Between("drive.CouplingTorque: torque", torque, 0, mostTorque, "N·m")
	f.Between("drive.CouplingTorque: service", service, 1, 20, "")
	f.Between("drive.CouplingTorque: rated", rated, 1e-6, mostTorque, "N·m")
	if err := f.Err(); err != nil {
		return material.Utilisation{}, err
	}
	return material.Utilisation{
		Part: "coupling torque", Demand: service * torque, Capacity: rated, Unit: "N·m", Method: "catalogue rating, service factor",
	}, nil
}
