package screw

import (
	"errors"
	"fmt"

	"meltflight/internal/input"
	"meltflight/material"
)

// Melt is a molten plastic at the temperature it is conveyed at.
type Melt struct {
	Viscosity    material.Viscosity // law of its shear viscosity
	Density      float64            // 100 to 5000 [kg/m³]
	SpecificHeat float64            // 100 to 10000 [J/(kg·K)]
	Temperature  float64            // 100 to 1500 [K]
	Conductivity float64            // of heat, 0.01 to 100, or 0 where it is not known; what needs it says so [W/(m·K)]
}

// MeltOf returns the melt of a polymer at a temperature [K], its density by the
// polymer's law of pressure, volume and temperature where it has one. It errs on an
// invalid polymer or temperature, and with material.ErrNoData on a polymer
// without a law of viscosity.
func MeltOf(p material.Polymer, temperature float64) (Melt, error) {
	m := Melt{Viscosity: p.Viscosity, Density: p.MeltDensity, SpecificHeat: p.MeltSpecificHeat, Temperature: temperature,
		Conductivity: p.MeltConductivity}
	var f input.Faults
	f.Add(p.Validate())
	f.Between("screw.Melt.Temperature", temperature, 100, 1500, "K")
	if err := f.Err(); err != nil {
		return Melt{}, err
	}
	if m.Viscosity == nil {
		return Melt{}, fmt.Errorf("screw.MeltOf: %w: %s has no published law of viscosity; give it one of your own",
			material.ErrNoData, p.Name)
	}
	density, _, err := p.DensityAt(temperature, 0)
	switch {
	case err == nil:
		m.Density = density
	case !errors.Is(err, material.ErrNoData):
		return Melt{}, fmt.Errorf("screw.MeltOf: %w", err)
	}
	return m, nil
}

// Validate reports every property out of range, those of the viscosity law included.
func (m Melt) Validate() error {
	var f input.Faults
	m.check(&f)
	return f.Err()
}

func (m Melt) check(f *input.Faults) {
	f.Between("screw.Melt.Density", m.Density, 100, 5000, "kg/m³")
	f.Between("screw.Melt.SpecificHeat", m.SpecificHeat, 100, 10000, "J/(kg·K)")
	f.Between("screw.Melt.Temperature", m.Temperature, 100, 1500, "K")
	if m.Conductivity != 0 {
		f.Between("screw.Melt.Conductivity", m.Conductivity, 0.01, 100, "W/(m·K)")
	}
	if m.Viscosity == nil {
		f.Add(&input.Word{Name: "screw.Melt.Viscosity", Value: "nil", Allowed: "a law such as material.PowerLaw"})
	} else {
		f.Add(m.Viscosity.Validate())
	}
}

// Outside these a viscosity law has been left so far that no flow it gives means anything.
const (
	thinnest = 1e-6 // [Pa·s]
	stiffest = 1e15 // [Pa·s]
)

// local returns viscosity [Pa·s] and power-law index [-] at a shear rate [1/s].
func (m Melt) local(rate float64) (eta, index float64) {
	if v, ok := m.Viscosity.(material.Newtonian); ok { // spares the common melt of handbooks two calls
		return v.Eta, 1
	}
	return m.Viscosity.At(rate, m.Temperature, 0), m.Viscosity.Slopes(rate, m.Temperature, 0).Index()
}

func liquid(eta float64) bool { return eta >= thinnest && eta <= stiffest }

// notLiquid refuses a viscosity at a shear rate [1/s] that is no liquid's.
func (m Melt) notLiquid(rate, eta float64) error {
	var f input.Faults
	if !liquid(eta) {
		f.Refuse(fmt.Sprintf("screw.Melt.Viscosity at %.4g 1/s and %.5g K", rate, m.Temperature),
			eta, "Pa·s", input.Range(thinnest, stiffest, "Pa·s"))
	}
	return f.Err()
}
