package drive

import (
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// CrossPin is a solid pin across a shaft and the hub around it.
type CrossPin struct {
	Pin   float64 // diameter, 1e-4 to 1 and at most half of Shaft [m]
	Shaft float64 // diameter, 1e-3 to 10 [m]
	Hub   float64 // outer diameter, 1.02 of Shaft to 100 [m]
}

// PinStress is what a torque does to a cross pin and its holes.
type PinStress struct {
	Shear  float64  // in the pin, mean over its two sections [Pa]
	Shaft  float64  // pressure on the hole in the shaft, at the surface where it is greatest [Pa]
	Hub    float64  // pressure on the holes in the hub, mean over its wall [Pa]
	Beyond []string // in words, where the rule's range is left; nil inside it
}

// PinStrength holds yield strengths.
type PinStrength struct {
	Pin   float64 // 1e5 to 1e10 [Pa]
	Shaft float64 // 1e5 to 1e10 [Pa]
	Hub   float64 // 1e5 to 1e10 [Pa]
}

// Validate reports the fields out of range.
func (p CrossPin) Validate() error {
	var f input.Faults
	p.check(&f)
	return f.Err()
}

func (p *CrossPin) check(f *input.Faults) {
	p.checkHub(f)
	f.Between("drive.CrossPin.Pin", p.Pin, leastLength, max(leastJoint, min(1, p.Shaft/2)), "m")
}

func (p *CrossPin) checkHub(f *input.Faults) {
	f.Between("drive.CrossPin.Shaft", p.Shaft, leastJoint, 10, "m")
	f.Between("drive.CrossPin.Hub", p.Hub, 1.02*max(leastJoint, min(10, p.Shaft)), 100, "m")
}

func (s *PinStrength) check(f *input.Faults) {
	f.Between("drive.PinStrength.Pin", s.Pin, 1e5, 1e10, "Pa")
	f.Between("drive.PinStrength.Shaft", s.Shaft, 1e5, 1e10, "Pa")
	f.Between("drive.PinStrength.Hub", s.Hub, 1e5, 1e10, "Pa")
}

// Stress returns what a torque, 0 to 1e8 [N·m], does to the pin, diameter d, in a shaft D
// and a hub of wall s:
//
//	τ = 4T/(π·d²·D),  p_shaft = 6T/(d·D²),  p_hub = T/(d·s·(D + s))
//
// H. Wittel et al., Roloff/Matek Maschinenelemente, section on pins under torque (from
// memory): two sections in shear, a pressure in the shaft that grows in a straight line
// from its centre, an even one in the hub's wall. Good practice there is a pin of 0.2 to
// 0.3 shaft diameters; any other says so in Beyond. The hole weakens the shaft.
func (p CrossPin) Stress(torque float64) (PinStress, error) {
	var f input.Faults
	p.check(&f)
	f.Between("drive.CrossPin.Stress: torque", torque, 0, mostTorque, "N·m")
	if err := f.Err(); err != nil {
		return PinStress{}, err
	}
	return p.stress(torque), nil
}

func (p *CrossPin) stress(torque float64) PinStress {
	a, b, c := p.byPin()
	s := PinStress{Shear: torque * a / (p.Pin * p.Pin), Shaft: torque * b / p.Pin, Hub: torque * c / p.Pin}
	if x := p.Pin / p.Shaft; x < 0.2-1e-9 || x > 0.3+1e-9 {
		s.Beyond = []string{fmt.Sprintf("pin of %.3g shaft diameters, practice 0.2 to 0.3", x)}
	}
	return s
}

// byPin returns the stresses of a unit torque on a pin of unit diameter.
func (p *CrossPin) byPin() (shear, shaft, hub float64) {
	wall := (p.Hub - p.Shaft) / 2
	return 4 / (math.Pi * p.Shaft), 6 / (p.Shaft * p.Shaft), 1 / (wall * (p.Shaft + wall))
}

// Utilisations compares, for a torque as in Stress, the pin's shear with 0.577 of its yield
// strength and the pressures with the yield strength of the softer of pin and hole. A
// pin that shears leaves its halves in the holes and the shaft turning in the hub; a
// pin that is only pushed in can be thrown out, unless its ends are covered or headed.
func (p CrossPin) Utilisations(torque float64, strength PinStrength) ([3]material.Utilisation, error) {
	var f input.Faults
	p.check(&f)
	strength.check(&f)
	f.Between("drive.CrossPin.Utilisations: torque", torque, 0, mostTorque, "N·m")
	if err := f.Err(); err != nil {
		return [3]material.Utilisation{}, err
	}
	s, c := p.stress(torque), strength.capacities()
	return [3]material.Utilisation{
		{Part: "cross pin", Demand: s.Shear, Capacity: c[0], Unit: "Pa", Method: "double shear, 0.577 of yield"},
		{Part: "pin hole in shaft", Demand: s.Shaft, Capacity: c[1], Unit: "Pa", Method: "pressure growing from the centre, yield of the softer"},
		{Part: "pin hole in hub", Demand: s.Hub, Capacity: c[2], Unit: "Pa", Method: "even pressure, yield of the softer"},
	}, nil
}

func (s *PinStrength) capacities() [3]float64 {
	return [3]float64{shearYield * s.Pin, min(s.Pin, s.Shaft), min(s.Pin, s.Hub)}
}

// PinFor returns the least diameter of pin [m] with which the least safety of Utilisations is
// the one wanted, 0.1 to 100 [-]; Pin itself is not read. It may be more than the shaft
// has room for, which Stress then refuses.
func (p CrossPin) PinFor(torque float64, strength PinStrength, safety float64) (float64, error) {
	var f input.Faults
	p.checkHub(&f)
	strength.check(&f)
	f.Between("drive.CrossPin.PinFor: torque", torque, 0, mostTorque, "N·m")
	f.Between("drive.CrossPin.PinFor: safety", safety, 0.1, 100, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	a, b, c := p.byPin()
	have, t := strength.capacities(), safety*torque
	return max(leastLength, math.Sqrt(t*a/have[0]), t*b/have[1], t*c/have[2]), nil
}
