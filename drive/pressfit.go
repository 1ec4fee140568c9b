package drive

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// ErrLoose is what errors.Is finds when the parts of a press fit do not touch.
var ErrLoose = errors.New("no interference")

// Elastic is how a metal gives way to pressure and heat.
type Elastic struct {
	Young     float64 // modulus of elasticity, 1e8 to 1e12 [Pa]
	Poisson   float64 // 0 to 0.5 [-]
	Expansion float64 // linear, 0 to 3e-4 [1/K]
}

// PressFit is a hub pressed or shrunk on a shaft, both as long as the seat.
type PressFit struct {
	Diameter float64 // of the seat, 1e-3 to 10 [m]
	Bore     float64 // of a hollow shaft, 0 for a solid one, to 0.98 of Diameter [m]
	Outer    float64 // of the hub, 1.02 of Diameter to 100 [m]
	Length   float64 // of the seat, 1e-4 to 10 [m]
	Shaft    Elastic
	Hub      Elastic
}

// Press is the state of a press fit. Stresses are negative in compression.
type Press struct {
	Interference float64 // on the diameter [m]
	Pressure     float64 // in the seat [Pa]
	HubHoop      float64 // at the hub's bore, its greatest [Pa]
	HubMises     float64 // von Mises there [Pa]
	ShaftHoop    float64 // at the seat [Pa]
	ShaftMises   float64 // von Mises at the bore, or anywhere in a solid shaft [Pa]
}

const mostInterference = 0.02 // of the diameter

// Validate reports the fields out of range.
func (p PressFit) Validate() error {
	var f input.Faults
	p.check(&f)
	return f.Err()
}

func (p *PressFit) check(f *input.Faults) {
	f.Between("drive.PressFit.Diameter", p.Diameter, leastJoint, 10, "m")
	d := max(leastJoint, min(10, p.Diameter))
	f.Between("drive.PressFit.Bore", p.Bore, 0, 0.98*d, "m")
	f.Between("drive.PressFit.Outer", p.Outer, 1.02*d, 100, "m")
	f.Between("drive.PressFit.Length", p.Length, leastLength, 10, "m")
	f.Between("drive.PressFit.Shaft.Young", p.Shaft.Young, 1e8, 1e12, "Pa")
	f.Between("drive.PressFit.Shaft.Poisson", p.Shaft.Poisson, 0, 0.5, "")
	f.Between("drive.PressFit.Shaft.Expansion", p.Shaft.Expansion, 0, 3e-4, "1/K")
	f.Between("drive.PressFit.Hub.Young", p.Hub.Young, 1e8, 1e12, "Pa")
	f.Between("drive.PressFit.Hub.Poisson", p.Hub.Poisson, 0, 0.5, "")
	f.Between("drive.PressFit.Hub.Expansion", p.Hub.Expansion, 0, 3e-4, "1/K")
}

func (p *PressFit) checkInterference(f *input.Faults, name string, interference float64) {
	f.Between(name, interference, 0, mostInterference*max(leastJoint, min(10, p.Diameter)), "m")
}

// Press returns pressure and stresses for an interference δ on the diameter, 0 to 0.02
// of it [m]:
//
//	p = δ/(d·[((D² + d²)/(D² − d²) + ν_hub)/E_hub + ((d² + b²)/(d² − b²) − ν_shaft)/E_shaft])
//
// after Lamé, thick rings free to shorten: R. G. Budynas and J. K. Nisbett, Shigley's
// Mechanical Engineering Design, 9th ed. (2011), eq. 7-39 (number from memory). Elastic
// and even along the seat; at the hub's ends the pressure is greater, and a fatigue
// notch factor near 2 for the shaft is common practice, no source. The interference is
// that which roughness leaves, as [FitLimits.Interference] tells.
func (p PressFit) Press(interference float64) (Press, error) {
	var f input.Faults
	p.check(&f)
	p.checkInterference(&f, "drive.PressFit.Press: interference", interference)
	if err := f.Err(); err != nil {
		return Press{}, err
	}
	return p.press(interference), nil
}

func (p *PressFit) press(interference float64) Press {
	pressure := interference / p.yielding()
	hub, shaft := p.hubRatio(), p.shaftRatio()
	s := Press{
		Interference: interference,
		Pressure:     pressure,
		HubHoop:      pressure * hub,
		HubMises:     pressure * math.Sqrt(hub*hub+hub+1),
		ShaftHoop:    -pressure * shaft,
		ShaftMises:   pressure,
	}
	if p.Bore > 0 {
		s.ShaftMises = pressure * (1 + shaft) // hoop stress alone, at the bore
	}
	return s
}

// yielding is the interference that a unit pressure takes up [m/Pa].
func (p *PressFit) yielding() float64 {
	return p.Diameter * ((p.hubRatio()+p.Hub.Poisson)/p.Hub.Young + (p.shaftRatio()-p.Shaft.Poisson)/p.Shaft.Young)
}

func (p *PressFit) hubRatio() float64 {
	x := square(p.Diameter / p.Outer)
	return (1 + x) / (1 - x)
}

func (p *PressFit) shaftRatio() float64 {
	x := square(p.Bore / p.Diameter)
	return (1 + x) / (1 - x)
}

// HubStress returns the radial and the hoop stress [Pa] in the hub at a radius between
// seat and outside [m] for a pressure in the seat, 0 to 1e11 [Pa]: Lamé's A ∓ B/r².
func (p PressFit) HubStress(pressure, radius float64) (radial, hoop float64, err error) {
	var f input.Faults
	p.check(&f)
	f.Between("drive.PressFit.HubStress: pressure", pressure, 0, 1e11, "Pa")
	if f.None() {
		f.Between("drive.PressFit.HubStress: radius", radius, p.Diameter/2, p.Outer/2, "m")
	}
	if err := f.Err(); err != nil {
		return 0, 0, err
	}
	a := pressure / (square(p.Outer/p.Diameter) - 1)
	b := a * square(p.Outer/(2*radius))
	return a - b, a + b, nil
}

// Grip returns the torque [N·m] and the axial force [N], each alone, at which a press
// fit slips with a coefficient of friction, 0.001 to 2 [-]: T = π/2·μ·p·L·d² (Shigley's, eq.
// 7-49, number from memory). Dry steel on steel has 0.1 to 0.2, oiled less (common
// practice, no source): use the least, and the loosest fit, for what has to hold.
func (p PressFit) Grip(interference, friction float64) (torque, axial float64, err error) {
	var f input.Faults
	p.check(&f)
	p.checkInterference(&f, "drive.PressFit.Grip: interference", interference)
	checkFriction(&f, "drive.PressFit.Grip: friction", friction)
	if err := f.Err(); err != nil {
		return 0, 0, err
	}
	axial = friction * p.area() * interference / p.yielding()
	return axial * p.Diameter / 2, axial, nil
}

func (p *PressFit) area() float64 { return math.Pi * p.Diameter * p.Length }

func checkFriction(f *input.Faults, name string, friction float64) {
	f.Between(name, friction, 1e-3, 2, "")
}

// Utilisations compares, for the loosest interference, what torque, 0 to 1e8 [N·m], and
// axial force, 0 to 1e10 [N], together drag at the seat with its friction; and, for the
// tightest, the von Mises stresses of hub and shaft with their yield strengths, 1e5 to
// 1e10 [Pa]. A fit that slips once has polished itself, and slips at less the next time; a
// hub stressed past its tensile strength bursts and its pieces fly: press behind a guard.
func (p PressFit) Utilisations(torque, axial, friction, loosest, tightest, shaftYield, hubYield float64) ([3]material.Utilisation, error) {
	var f input.Faults
	p.check(&f)
	f.Between("drive.PressFit.Utilisations: torque", torque, 0, mostTorque, "N·m")
	f.Between("drive.PressFit.Utilisations: axial", axial, 0, 1e10, "N")
	checkFriction(&f, "drive.PressFit.Utilisations: friction", friction)
	p.checkInterference(&f, "drive.PressFit.Utilisations: tightest", tightest)
	f.Between("drive.PressFit.Utilisations: loosest", loosest, 0, max(0, min(tightest, 1)), "m")
	f.Between("drive.PressFit.Utilisations: shaftYield", shaftYield, 1e5, 1e10, "Pa")
	f.Between("drive.PressFit.Utilisations: hubYield", hubYield, 1e5, 1e10, "Pa")
	if err := f.Err(); err != nil {
		return [3]material.Utilisation{}, err
	}
	tight := p.press(tightest)
	return [3]material.Utilisation{
		{
			Part: "press fit slip", Demand: math.Hypot(2*torque/p.Diameter, axial),
			Capacity: friction * p.area() * loosest / p.yielding(), Unit: "N", Method: "Lamé, Coulomb friction, loosest fit",
		},
		{Part: "press fit hub", Demand: tight.HubMises, Capacity: hubYield, Unit: "Pa", Method: "Lamé, von Mises at the bore, tightest fit"},
		{Part: "press fit shaft", Demand: tight.ShaftMises, Capacity: shaftYield, Unit: "Pa", Method: "Lamé, von Mises, tightest fit"},
	}, nil
}

// InterferenceFor returns the interference on the diameter [m] that a fit has to be left
// with to carry torque and axial force together with a safety, 0.1 to 100 [-], against
// slip: the inverse of [PressFit.Grip]. It may be more than the metals bear.
func (p PressFit) InterferenceFor(torque, axial, friction, safety float64) (float64, error) {
	var f input.Faults
	p.check(&f)
	f.Between("drive.PressFit.InterferenceFor: torque", torque, 0, mostTorque, "N·m")
	f.Between("drive.PressFit.InterferenceFor: axial", axial, 0, 1e10, "N")
	checkFriction(&f, "drive.PressFit.InterferenceFor: friction", friction)
	f.Between("drive.PressFit.InterferenceFor: safety", safety, 0.1, 100, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	drag := safety * math.Hypot(2*torque/p.Diameter, axial)
	return drag / (friction * p.area()) * p.yielding(), nil
}

// Warmed returns the interference [m] left of one at rest when shaft and hub are warmer
// than they were measured by these, −300 to 1500 [K]. It errs with ErrLoose, telling
// the clearance, when none is left: an aluminium hub on a hot steel shaft lets go.
func (p PressFit) Warmed(interference, shaftRise, hubRise float64) (float64, error) {
	var f input.Faults
	p.check(&f)
	p.checkInterference(&f, "drive.PressFit.Warmed: interference", interference)
	f.Between("drive.PressFit.Warmed: shaftRise", shaftRise, -300, 1500, "K")
	f.Between("drive.PressFit.Warmed: hubRise", hubRise, -300, 1500, "K")
	if err := f.Err(); err != nil {
		return 0, err
	}
	left := interference + p.Diameter*(p.Shaft.Expansion*shaftRise-p.Hub.Expansion*hubRise)
	if left < 0 {
		return 0, fmt.Errorf("drive.PressFit.Warmed: %w: clearance of %.3g m", ErrLoose, -left)
	}
	return left, nil
}

// AssemblyRise returns by how much the hub has to be warmer than now [K], the shaft
// staying as it is, to slip over it with a clearance on the diameter, 0 to 0.02 of it
// [m]: (δ + clearance)/(α·d), for a hub that expands by 1e-7 /K or more. A thousandth of
// the diameter is a usual clearance; hardened steel does not stand the 300 K that
// soft steel does (common practice, no source). A hub seized half way cannot be moved
// again and is too hot to touch: have a stop ready, and tongs.
func (p PressFit) AssemblyRise(interference, clearance float64) (float64, error) {
	var f input.Faults
	p.check(&f)
	p.checkInterference(&f, "drive.PressFit.AssemblyRise: interference", interference)
	p.checkInterference(&f, "drive.PressFit.AssemblyRise: clearance", clearance)
	if p.Hub.Expansion < 1e-7 {
		f.Refuse("drive.PressFit.Hub.Expansion", p.Hub.Expansion, "1/K", "1e-07 to 0.0003 1/K to assemble by heat")
	}
	if err := f.Err(); err != nil {
		return 0, err
	}
	return (interference + clearance) / (p.Hub.Expansion * p.Diameter), nil
}
