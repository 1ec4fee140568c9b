package screw

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// ErrPlugs reports a taper steeper than its solids melt: the bed would have to widen
// beyond the channel, and jams there.
var ErrPlugs = errors.New("solids plug the taper")

// Bed is a solid bed in the melting zone, and the heat that melts it.
type Bed struct {
	Density      float64 // as packed in the screw, 10 to 5000 [kg/m³]
	Temperature  float64 // where melting begins, 100 to below Melting [K]
	Melting      float64 // temperature at which it counts as melt, 100 to 1500 [K]
	SpecificHeat float64 // of the solid, 100 to 10000 [J/(kg·K)]
	FusionHeat   float64 // taken up in melting, 0 to 1e6, 0 for an amorphous plastic [J/kg]
}

// Melted is how a bed melts along a screw.
type Melted struct {
	Length      float64 // along the axis until nothing solid is left, from where melting begins [m]
	Helical     float64 // the same along the helix [m]
	Rate        float64 // melted on each metre of helix while the bed fills the channel [kg/(m·s)]
	Film        float64 // thickness of the melt film there [m]
	Dissipation float64 // heat of shear in the film over heat conducted from the barrel, η·V²/2k(T_b−T_m), half its Brinkman number [-]
	Psi         float64 // twice the depth over the helical length in which the bed melts at that depth, ψ [-]
	Left        float64 // of the bed's width at the end of the zone [-]

	Beyond []string // in words, where the model's stated range is left; nil inside it

	depth, taper float64 // of the channel at its start, and how much shallower it gets along the helix
	sin          float64
}

func (b *Bed) check(f *input.Faults) {
	f.Between("screw.Bed.Density", b.Density, 10, 5000, "kg/m³")
	f.Between("screw.Bed.Melting", b.Melting, 100, hottest, "K")
	if !(b.Temperature >= 100 && b.Temperature < b.Melting) {
		f.Refuse("screw.Bed.Temperature", b.Temperature, "K", "100 K to below Melting, "+input.WithUnit(b.Melting, "K"))
	}
	f.Between("screw.Bed.SpecificHeat", b.SpecificHeat, 100, 10000, "J/(kg·K)")
	f.Between("screw.Bed.FusionHeat", b.FusionHeat, 0, 1e6, "J/kg")
}

// Validate reports properties out of range.
func (b Bed) Validate() error {
	var f input.Faults
	b.check(&f)
	return f.Err()
}

// BedOf returns the bed of a polymer packed to a density [kg/m³] at a temperature [K],
// by its own heat and melting temperature. It errs on an invalid polymer, density or
// temperature.
func BedOf(p material.Polymer, density, temperature float64) (Bed, error) {
	b := Bed{Density: density, Temperature: temperature, Melting: p.Transition, SpecificHeat: p.SolidSpecificHeat, FusionHeat: p.FusionHeat()}
	var f input.Faults
	f.Add(p.Validate())
	b.check(&f)
	return b, f.Err()
}

// MeltBed returns how a bed melts that fills a screw zone, from its start on, while the
// screw carries a mass flow, 1e-12 to 1e4 [kg/s], at a speed, 1e-4 to 100 [rev/s], and
// the barrel is held at the zone's Barrel temperature, above the bed's Melting [K]. The
// zone may be of constant or falling depth; Left and Beyond tell if it is too short.
//
// Between barrel and bed lies a film of melt, which the barrel drags off into a pool
// that grows behind the bed. The film conducts heat to the bed and makes its own by
// shear, at a viscosity taken at its mean temperature and shear rate; the bed yields
//
//	ω = Φ·√X,  Φ² = V_x·ρ·[k(T_b−T_m) + η·V_j²/2]/2λ*,  λ* = λ + c_s(T_m−T_s)
//
// on each metre of its width X. Z. Tadmor, Polym. Eng. Sci. 6 (1966) 185, and with I.
// Klein, Engineering Principles of Plasticating Extrusion (1970), from memory; the film's
// own sensible heat is left out, as is melting at root and flights. In small screws solids
// also warm through before they melt, which this does not count: there they melt sooner.
//
// It errs on invalid input, and with ErrPlugs.
func (p Profile) MeltBed(zone int, b Bed, film Melt, speed, massFlow float64) (Melted, error) {
	var f input.Faults
	p.check(&f, Isothermal)
	b.check(&f)
	film.check(&f)
	f.Count("screw.Profile.MeltBed: zone", zone, 0, max(0, len(p.Zones)-1))
	f.Between("screw: speed", speed, 1e-4, 100, "rev/s")
	f.Between("screw.Profile.MeltBed: mass flow", massFlow, 1e-12, 1e4, "kg/s")
	if film.Conductivity == 0 {
		f.Refuse("screw.Melt.Conductivity", 0, "W/(m·K)", "0.01 to 100 W/(m·K), as the bed is heated through it")
	}
	if f.None() {
		z := p.Zones[zone]
		if !(z.Barrel > b.Melting && z.Barrel <= hottest) {
			f.Refuse(fmt.Sprintf("screw.Profile.Zones[%d].Barrel", zone), z.Barrel, "K", "above the bed's Melting, "+input.WithUnit(b.Melting, "K"))
		}
		if z.DepthOut > z.DepthIn {
			f.Refuse(fmt.Sprintf("screw.Profile.Zones[%d].DepthOut", zone), z.DepthOut, "m", "at most DepthIn, "+input.WithUnit(z.DepthIn, "m"))
		}
	}
	if err := f.Err(); err != nil {
		return Melted{}, err
	}
	z := p.Zones[zone]
	c := p.channel(z.DepthIn, z.Length)
	sin, cos := c.sincos()
	width, starts := c.Width(), float64(p.Starts)
	v := math.Pi * p.Bore * speed
	bed := massFlow / (starts * b.Density * width * z.DepthIn) // its speed along the channel
	sliding := math.Sqrt(v*v + bed*bed - 2*v*bed*cos)
	heat := b.FusionHeat + b.SpecificHeat*(b.Melting-b.Temperature)
	conducted := film.Conductivity * (z.Barrel - b.Melting)
	film.Temperature = (z.Barrel + b.Melting) / 2
	var m Melted
	thick := math.Sqrt(2 * conducted * width / (v * sin * film.Density * heat)) // without shear's heat
	for range 100 {
		eta, _ := film.local(sliding / thick)
		if !liquid(eta) {
			return Melted{}, film.notLiquid(sliding/thick, eta)
		}
		m.Dissipation = eta * sliding * sliding / (2 * conducted)
		last := thick
		thick = math.Sqrt(2 * conducted * (1 + m.Dissipation) * width / (v * sin * film.Density * heat))
		if math.Abs(thick-last) <= 1e-14*thick {
			break
		}
		thick = math.Sqrt(thick * last) // which draws together whatever the law
	}
	phi := math.Sqrt(v * sin * film.Density * conducted * (1 + m.Dissipation) / (2 * heat))
	m.Film, m.Rate = thick, phi*math.Sqrt(width)
	m.Psi = phi / (bed * b.Density * math.Sqrt(width))
	m.depth, m.sin = z.DepthIn, sin
	m.taper = (z.DepthIn - z.DepthOut) / (z.Length / sin)
	if m.taper >= m.Psi {
		return Melted{}, fmt.Errorf("%w: it gets shallower by %.3g m for each metre of helix, its solids melt by %.3g", ErrPlugs, m.taper, m.Psi)
	}
	m.Helical = m.depth / m.Psi * (2 - m.taper/m.Psi)
	m.Length = m.Helical * sin
	if m.Left = m.Solid(z.Length); m.Left > 0 {
		m.Beyond = append(m.Beyond, fmt.Sprintf("a share of %.2g of the bed leaves the zone solid; Length is that of a zone that went on alike", m.Left))
	}
	d := film.Viscosity.Domain()
	for _, text := range [...]string{d.BeyondTemperature(film.Temperature), d.BeyondRate(sliding / thick)} {
		if text = inThe("film", text); text != "" {
			m.Beyond = append(m.Beyond, text)
		}
	}
	return m, nil
}

// Solid returns the bed's width over the channel's at an axial distance from where
// melting begins [m]: 1 at its start, 0 from Length on [-].
func (m Melted) Solid(distance float64) float64 {
	z := distance / m.sin
	if !(z < m.Helical) {
		return 0
	}
	if z <= 0 {
		return 1
	}
	var root float64
	if m.taper == 0 {
		root = 1 - m.Psi*z/(2*m.depth)
	} else {
		steep := m.Psi / m.taper
		root = steep - (steep-1)*math.Sqrt(m.depth/(m.depth-m.taper*z))
	}
	return root * root
}
