package screw

import (
	"errors"
	"fmt"

	"meltflight/material"
)

// Point is the operating point of a screw and its die: the one flow at which the
// pressure the screw builds is the pressure the die needs.
type Point struct {
	Conveyance

	DieShearRate       float64 // greatest true wall shear rate in the die [1/s]
	DieShearStress     float64 // wall shear stress there [Pa]
	DieTemperatureRise float64 // of the melt in the die, if no heat passes the walls: Δp/ρc [K]
	DieNahme           float64 // largest Nahme number of a passage, see [Passage]; 0 if the melt's conductivity is not known [-]
	DieGraetz          float64 // Graetz number of that passage [-]
	DieVolume          float64 // melt held in the die [m³]
	DieResidenceTime   float64 // mean, DieVolume ÷ Flow [s]
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
	if b.newtonian {
		if b.flow0 <= 0 {
			return Point{}, leaksAll(c.Clearance, b.flow0)
		}
		flow, pressure := b.crossing(d, m)
		b.fill(&p.Conveyance, &c, m, speed, pressure, flow)
	} else if err := c.meetThinning(&p.Conveyance, &b, d, m, speed); err != nil {
		return Point{}, err
	}
	at := ahead(d, m, p.Flow)
	p.Beyond = append(p.Beyond, at.Beyond...)
	at.Conveyance = p.Conveyance
	return at, nil
}

// ahead fills in what the die ahead of a screw does to a flow.
func ahead(d Die, m Melt, flow float64) (p Point) {
	p.DieTemperatureRise = d.PressureDrop(m, flow) / (m.Density * m.SpecificHeat)
	p.DieShearRate, p.DieShearStress = d.WallShear(m, flow)
	p.DieNahme, p.DieGraetz = d.ViscousHeating(m, flow)
	p.DieVolume = d.Volume()
	p.DieResidenceTime = p.DieVolume / flow
	if _, newtonian := m.Viscosity.(material.Newtonian); !newtonian {
		if text := inThe("die", m.Viscosity.Domain().BeyondRate(p.DieShearRate)); text != "" {
			p.Beyond = append(p.Beyond, text)
		}
	}
	if p.DieNahme > mostNahme {
		p.Beyond = append(p.Beyond, fmt.Sprintf("in the die: viscous heating thins the melt, Nahme number %.2g, taken as isothermal up to %g (Graetz number %.2g)",
			p.DieNahme, mostNahme, p.DieGraetz))
	}
	return p
}

// mostNahme is the Nahme number up to which a flow is taken as isothermal (common
// practice, no source).
const mostNahme = 1.

// crossing returns flow [m³/s] and pressure [Pa] at which screw and die agree.
func (b *balance) crossing(d Die, m Melt) (flow, pressure float64) {
	full := d.PressureDrop(m, b.flow0)
	flow = b.flow0 * b.flow0 / (b.flow0 + full*b.slope)
	return flow, flow * full / b.flow0
}

// meetThinning fills in the operating point of a melt that is not Newtonian.
func (c *Channel) meetThinning(s *Conveyance, b *balance, d Die, m Melt, speed float64) error {
	var t thinning
	if err := t.open(b, m); err != nil {
		return err
	}
	if t.openFlow <= 0 {
		return leaksAll(c.Clearance, t.openFlow)
	}
	closed, err := t.closedPressure()
	if err != nil {
		return err
	}
	flow, pressure, err := t.crossing(d, closed)
	if err != nil {
		return err
	}
	t.fill(s, c, speed, pressure, flow)
	s.ClosedPressure = closed
	return nil
}

func leaksAll(clearance, openFlow float64) error {
	return fmt.Errorf("%w: against no pressure the clearance of %.4g m leaks %.4g m³/s more than is dragged forward",
		ErrNoFlow, clearance, -openFlow)
}

// FractureStress is the wall shear stress at which the bead of most polyolefins
// begins to roughen [Pa]; common practice, no source: 0.1 to 0.14 MPa.
const FractureStress = 0.1e6

// Fracture compares the greatest wall shear stress in the die with the stress at
// which the bead roughens, such as FractureStress [Pa].
func (p Point) Fracture(limit float64) material.Utilisation {
	return material.Utilisation{
		Part: "bead surface", Demand: p.DieShearStress, Capacity: limit, Unit: "Pa",
		Method: "wall shear stress at onset of melt fracture",
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
