package material

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// Polymer is one plastic, solid and molten, as it comes back: unfilled, uncoloured,
// dry. Its numbers are for the named resin in general; a grade differs, in
// viscosity easily by a factor of two.
//
// Crystallinity, CrystalFusionHeat, MeltingLow and MeltingHigh are zero unless
// Crystalline. The json tags are the keys of a file, see [ReadPolymer].
type Polymer struct {
	Name string `json:"name"`

	Crystalline       bool    `json:"crystalline"`                  // whether it melts (semi-crystalline) or only softens (amorphous)
	Transition        float64 `json:"transition_k"`                 // peak of melting if Crystalline, else glass temperature, 200 to 800 [K]
	MeltingLow        float64 `json:"melting_low_k"`                // where melting sets in, 200 to below Transition [K]
	MeltingHigh       float64 `json:"melting_high_k"`               // where the last crystal is molten, above Transition to 800 [K]
	Crystallinity     float64 `json:"crystallinity"`                // share of crystal by mass, 0.001 to 1 [-]
	CrystalFusionHeat float64 `json:"crystal_fusion_heat_j_per_kg"` // heat of fusion of the pure crystal, 1e3 to 1e6 [J/kg]
	Softening         float64 `json:"softening_k"`                  // where flake begins to stick in throat, hopper and dryer, 200 to 800 [K]
	ProcessLow        float64 `json:"process_low_k"`                // lowest usual melt temperature, 200 to 800 [K]
	ProcessHigh       float64 `json:"process_high_k"`               // highest usual melt temperature, ProcessLow to 800 [K]
	Drying            Drying  `json:"drying"`                       // before melting; zero if it takes up no water worth drying

	SolidDensity           float64 `json:"solid_density_kg_per_m3"`               // at room temperature, 100 to 5000 [kg/m³]
	SolidSpecificHeat      float64 `json:"solid_specific_heat_j_per_kg_k"`        // at 25 °C, 100 to 10000 [J/(kg·K)]
	SolidSpecificHeatSlope float64 `json:"solid_specific_heat_slope_j_per_kg_k2"` // its rise per kelvin, 0 to SolidSpecificHeat/150 K [J/(kg·K²)]
	SolidConductivity      float64 `json:"solid_conductivity_w_per_m_k"`          // at room temperature, 0.01 to 100 [W/(m·K)]

	MeltDensity      float64 `json:"melt_density_kg_per_m3"`        // at atmospheric pressure, in the processing window, 100 to 5000 [kg/m³]
	MeltSpecificHeat float64 `json:"melt_specific_heat_j_per_kg_k"` // in the processing window, 100 to 10000 [J/(kg·K)]
	MeltConductivity float64 `json:"melt_conductivity_w_per_m_k"`   // in the processing window, 0.01 to 100 [W/(m·K)]

	Viscosity Viscosity `json:"-"` // law of the melt's shear viscosity; nil if none is published
	PVT       PVT       `json:"-"` // law of its specific volume; nil if none is published

	Source map[string]string `json:"source"` // where each number comes from, by field name
}

// Validate reports every field out of range, those of its laws included. A polymer
// without a law of viscosity or volume is valid.
func (p Polymer) Validate() error {
	var f input.Faults
	p.checkHeat(&f)
	f.Between("material.Polymer.Softening", p.Softening, coldest, hottest, "K")
	f.Between("material.Polymer.ProcessLow", p.ProcessLow, coldest, hottest, "K")
	f.Between("material.Polymer.ProcessHigh", p.ProcessHigh, p.ProcessLow, hottest, "K")
	p.Drying.check(&f)
	f.Between("material.Polymer.SolidDensity", p.SolidDensity, 100, 5000, "kg/m³")
	f.Between("material.Polymer.SolidConductivity", p.SolidConductivity, 0.01, 100, "W/(m·K)")
	f.Between("material.Polymer.MeltDensity", p.MeltDensity, 100, 5000, "kg/m³")
	f.Between("material.Polymer.MeltConductivity", p.MeltConductivity, 0.01, 100, "W/(m·K)")
	if p.Viscosity != nil {
		f.Add(p.Viscosity.Validate())
	}
	if p.PVT != nil {
		f.Add(p.PVT.Validate())
	}
	return f.Err()
}

// ViscosityAt returns the viscosity [Pa·s] at a shear rate, 1e-9 to 1e9 [1/s],
// a temperature, 100 to 1500 [K], and a pressure above atmospheric, 0 to 1e9
// [Pa], and in words where the law was not fitted there; beyond is nil inside its
// domain. It errs on a melt or argument out of range, and with [ErrNoData] for a
// polymer without a law.
func (p Polymer) ViscosityAt(shearRate, temperature, pressure float64) (eta float64, beyond []string, err error) {
	var f input.Faults
	f.Add(p.Validate())
	f.Between("material.Polymer.ViscosityAt: shear rate", math.Abs(shearRate), lowestRate, 1e9, "1/s")
	f.Between("material.Polymer.ViscosityAt: temperature", temperature, lowestTemperature, highestTemperature, "K")
	f.Between("material.Polymer.ViscosityAt: pressure", pressure, 0, 1e9, "Pa")
	if err := f.Err(); err != nil {
		return 0, nil, err
	}
	if p.Viscosity == nil {
		return 0, nil, p.without("viscosity")
	}
	d := p.Viscosity.Domain()
	for _, text := range [...]string{d.BeyondTemperature(temperature), d.BeyondRate(shearRate)} {
		if text != "" {
			beyond = append(beyond, text)
		}
	}
	// Some tens of MPa stiffen a melt by half and more.
	if d != (Domain{}) && pressure > 10e6 && p.Viscosity.Slopes(shearRate, temperature, pressure).Pressure == 0 {
		beyond = append(beyond, fmt.Sprintf("pressure %.3g MPa, the viscosity law knows none", pressure*1e-6))
	}
	return p.Viscosity.At(shearRate, temperature, pressure), beyond, nil
}

// DensityAt returns the density [kg/m³] of the PVT law at a temperature, 200 to 800
// [K], and a pressure above atmospheric, 0 to 1e9 [Pa], and in words where the law
// was not fitted there; beyond is nil inside its domain. It errs on a polymer or
// argument out of range, where the law gives less than 100 or more than 10000
// kg/m³ (which is no plastic's), and with [ErrNoData] for a polymer without a law.
func (p Polymer) DensityAt(temperature, pressure float64) (density float64, beyond []string, err error) {
	var f input.Faults
	f.Add(p.Validate())
	f.Between("material.Polymer.DensityAt: temperature", temperature, coldest, hottest, "K")
	f.Between("material.Polymer.DensityAt: pressure", pressure, 0, 1e9, "Pa")
	if err := f.Err(); err != nil {
		return 0, nil, err
	}
	if p.PVT == nil {
		return 0, nil, p.without("specific volume (PVT)")
	}
	absolute := pressure + atmosphere
	v := p.PVT.SpecificVolume(temperature, absolute)
	f.Between("material.Polymer.DensityAt: specific volume", v, 1e-4, 1e-2, "m³/kg")
	if err := f.Err(); err != nil {
		return 0, nil, err
	}
	d := p.PVT.Domain()
	for _, text := range [...]string{d.BeyondTemperature(temperature), d.BeyondPressure(absolute)} {
		if text != "" {
			beyond = append(beyond, text)
		}
	}
	return 1 / v, beyond, nil
}

func (p Polymer) without(model string) error {
	return fmt.Errorf("%w: %s has no published law of %s here; give it one of your own", ErrNoData, p.Name, model)
}

const (
	coldest    = 200    // no plastic is worked colder [K]
	hottest    = 800    // every plastic has burnt [K]
	atmosphere = 101325 // standard atmosphere [Pa]
)
