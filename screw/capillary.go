package screw

import (
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// Capillary is a straight round hole.
type Capillary struct {
	Diameter float64 // 1e-5 to 1 [m]
	Length   float64 // 1e-6 to 10 [m]
}

// Validate reports dimensions out of range.
func (c Capillary) Validate() error {
	var f input.Faults
	f.Between("screw.Capillary.Diameter", c.Diameter, 1e-5, 1, "m")
	f.Between("screw.Capillary.Length", c.Length, 1e-6, 10, "m")
	return f.Err()
}

// PressureDrop returns 4Lτ/D [Pa] with the wall stress of [Capillary.WallShear];
// what is lost at its ends is an [Entrance].
func (c Capillary) PressureDrop(m Melt, flow float64) float64 {
	_, stress := c.WallShear(m, flow)
	return 4 * c.Length / c.Diameter * stress
}

// WallShear returns the true shear rate [1/s] and the stress [Pa] at the wall: in
// closed form for Newtonian and power-law melts, of which the latter is sheared
// (3n+1)/4n times faster there than 4Q/πR³ (N. S. Rao and G. Schumacher, Design
// Formulas for Plastics Engineers, 2nd ed. (2004), eq. 1.23); for any other law
// summed over its layers (B. Rabinowitsch, Z. Phys. Chem. A 145 (1929) 1, from memory)
// to 1e-10.
func (c Capillary) WallShear(m Melt, flow float64) (rate, stress float64) {
	return wallShear(m, inHole, 32*flow/(math.Pi*c.Diameter*c.Diameter*c.Diameter))
}

// ViscousHeating returns the Nahme and Graetz numbers, see [Passage].
func (c Capillary) ViscousHeating(m Melt, flow float64) (nahme, graetz float64) {
	rate, stress := c.WallShear(m, flow)
	return heating(m, heated{rate: rate, gradient: 4 * stress / c.Diameter, speed: 4 * flow / (math.Pi * c.Diameter * c.Diameter),
		across: c.Diameter, newtonian: 32, length: c.Length})
}

// Volume returns πD²L/4 [m³].
func (c Capillary) Volume() float64 { return math.Pi / 4 * c.Diameter * c.Diameter * c.Length }

// wallShear returns rate [1/s] and stress [Pa] at the wall of a round or flat hole at
// an apparent rate [1/s].
func wallShear(m Melt, d, apparent float64) (rate, stress float64) {
	switch m.Viscosity.(type) {
	case material.Newtonian, material.PowerLaw:
		return powerShear(m, d, apparent)
	}
	l := tiers{m: m, d: d}
	return l.shearAt(apparent)
}

// powerShear takes the melt for the power law that touches its own at the apparent rate.
func powerShear(m Melt, d, apparent float64) (rate, stress float64) {
	if apparent <= 0 || math.IsInf(apparent, 1) {
		return apparent, apparent
	}
	eta, n := m.local(apparent)
	if n == 1 {
		return apparent, eta * apparent
	}
	rise := powerRise(d, n)
	return apparent * rise, eta * apparent * math.Pow(rise, n)
}
