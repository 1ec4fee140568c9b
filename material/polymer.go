package material

import (
	"math"

	"meltflight/internal/input"
)

// Polymer is one plastic, solid and molten. Its numbers are for the named
// resin in general; a grade differs, in viscosity easily by a factor of two.
type Polymer struct {
	Name string

	Crystalline bool    // whether it melts (semi-crystalline) or only softens (amorphous)
	Transition  float64 // melting temperature if Crystalline, else glass temperature, 100 to 800 [K]
	FusionHeat  float64 // heat taken up in melting at usual crystallinity; 0 if amorphous, to 1e6 [J/kg]
	ProcessLow  float64 // lowest usual melt temperature, 100 to 800 [K]
	ProcessHigh float64 // highest usual melt temperature, ProcessLow to 800 [K]

	SolidDensity      float64 // at room temperature, 100 to 5000 [kg/m³]
	SolidSpecificHeat float64 // at room temperature, 100 to 10000 [J/(kg·K)]
	SolidConductivity float64 // at room temperature, 0.01 to 100 [W/(m·K)]

	MeltDensity      float64 // at atmospheric pressure, in the processing window, 100 to 5000 [kg/m³]
	MeltSpecificHeat float64 // in the processing window, 100 to 10000 [J/(kg·K)]
	MeltConductivity float64 // in the processing window, 0.01 to 100 [W/(m·K)]

	Viscosity Viscosity // law of the melt's shear viscosity

	Source map[string]string // where each number comes from, by field name
}

// Validate reports every field out of range, those of the viscosity law included.
func (p Polymer) Validate() error {
	var f input.Faults
	f.Between("material.Polymer.Transition", p.Transition, lowestTemperature, 800, "K")
	f.Between("material.Polymer.FusionHeat", p.FusionHeat, 0, 1e6, "J/kg")
	f.Between("material.Polymer.ProcessLow", p.ProcessLow, lowestTemperature, 800, "K")
	f.Between("material.Polymer.ProcessHigh", p.ProcessHigh, p.ProcessLow, 800, "K")
	f.Between("material.Polymer.SolidDensity", p.SolidDensity, 100, 5000, "kg/m³")
	f.Between("material.Polymer.SolidSpecificHeat", p.SolidSpecificHeat, 100, 10000, "J/(kg·K)")
	f.Between("material.Polymer.SolidConductivity", p.SolidConductivity, 0.01, 100, "W/(m·K)")
	f.Between("material.Polymer.MeltDensity", p.MeltDensity, 100, 5000, "kg/m³")
	f.Between("material.Polymer.MeltSpecificHeat", p.MeltSpecificHeat, 100, 10000, "J/(kg·K)")
	f.Between("material.Polymer.MeltConductivity", p.MeltConductivity, 0.01, 100, "W/(m·K)")
	if p.Viscosity == nil {
		f.Add(&input.Word{Name: "material.Polymer.Viscosity", Value: "nil", Allowed: "a law such as material.PowerLaw"})
	} else {
		f.Add(p.Viscosity.Validate())
	}
	return f.Err()
}

// ViscosityAt returns the viscosity [Pa·s] at a shear rate, 1e-9 to 1e9 [1/s],
// a temperature, 100 to 1500 [K], and a pressure above atmospheric, 0 to 1e9
// [Pa], and in words where the law was not fitted there; beyond is nil inside its
// domain. It errs on a melt or argument out of range.
func (p Polymer) ViscosityAt(shearRate, temperature, pressure float64) (eta float64, beyond []string, err error) {
	var f input.Faults
	f.Add(p.Validate())
	f.Between("material.Polymer.ViscosityAt: shear rate", math.Abs(shearRate), lowestRate, 1e9, "1/s")
	f.Between("material.Polymer.ViscosityAt: temperature", temperature, lowestTemperature, highestTemperature, "K")
	f.Between("material.Polymer.ViscosityAt: pressure", pressure, 0, 1e9, "Pa")
	if err := f.Err(); err != nil {
		return 0, nil, err
	}
	d := p.Viscosity.Domain()
	for _, text := range [...]string{d.BeyondTemperature(temperature), d.BeyondRate(shearRate)} {
		if text != "" {
			beyond = append(beyond, text)
		}
	}
	return p.Viscosity.At(shearRate, temperature, pressure), beyond, nil
}
