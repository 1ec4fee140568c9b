package screw

import (
	"errors"
	"fmt"

	"meltflight/internal/root"
	"meltflight/material"
)

// Point is the operating point of a screw and its die: the one flow at which the
// pressure the screw builds is the pressure the die needs.
type Point struct {
	Conveyance

	DieShearRate       float64 // greatest true wall shear rate in the die [1/s]
	DieShearStress     float64 // wall shear stress there [Pa]
	DieTemperatureRise float64 // of the melt in the die, if no heat passes the walls: Δp/ρc [K]
}

// OperatingPoint returns where the characteristics of channel and die cross at a
// speed, 1e-4 to 100 [rev/s]. ErrNoFlow if the clearance leaks all that is dragged.
//
// Newtonian melts are solved in closed form, others by bracketing to 1e-12.
func OperatingPoint(c Channel, d Die, m Melt, speed float64) (p Point, err error) {
	var b balance
	bad, badDie := b.prepare(&c, m, speed), d.Validate()
	if bad != nil || badDie != nil {
		return Point{}, errors.Join(bad, badDie)
	}
	if b.flow0 <= 0 {
		return Point{}, fmt.Errorf("%w: against no pressure the clearance of %.4g m leaks %.4g m³/s more than is dragged forward",
			ErrNoFlow, c.Clearance, -b.flow0)
	}
	pressure, err := b.crossing(d, m)
	if err != nil {
		return Point{}, err
	}
	b.fill(&p.Conveyance, &c, m, speed, pressure)
	p.DieTemperatureRise = p.Pressure / (m.Density * m.SpecificHeat)
	p.DieShearRate, p.DieShearStress = d.WallShear(m, p.Flow)
	if !b.newtonian {
		if text := inThe("die", m.Viscosity.Domain().BeyondRate(p.DieShearRate)); text != "" {
			p.Beyond = append(p.Beyond, text)
		}
	}
	return p, nil
}

// crossing returns the pressure at which screw and die ask for the same flow [Pa].
func (b *balance) crossing(d Die, m Melt) (float64, error) {
	if b.newtonian {
		full := d.PressureDrop(m, b.flow0)
		return full * b.flow0 / (b.flow0 + full*b.slope), nil
	}
	excess := func(flow float64) float64 {
		have, need := b.pressureAt(flow), d.PressureDrop(m, flow)
		// Compared as a ratio, so that no pressure is too small or too large to tell apart.
		return (have - need) / (have + need)
	}
	flow, err := root.Find(excess, 0, b.flow0, 1e-12)
	if flow > b.flow0/2 { // the screw's own pressure is a small difference there
		return d.PressureDrop(m, flow), err
	}
	return b.pressureAt(flow), err
}

// FractureStress is the wall shear stress at which the bead of most melts begins
// to roughen [Pa]; common practice, no source: 0.1 to 0.14 MPa.
const FractureStress = 0.1e6

// Fracture compares the wall shear stress in the die with FractureStress [Pa].
func (p Point) Fracture() material.Utilisation {
	return material.Utilisation{
		Part: "melt at the die wall", Demand: p.DieShearStress, Capacity: FractureStress, Unit: "Pa",
		Method: "onset of melt fracture, common practice",
	}
}

// SpecificEnergy returns the shaft's work on each kilogram delivered; 0 without
// forward flow [J/kg].
func (c Conveyance) SpecificEnergy() float64 {
	if c.MassFlow <= 0 {
		return 0
	}
	return c.Power / c.MassFlow
}
