package screw

import (
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// Bed is a solid bed in the melting zone, and the heat that melts it.
type Bed struct {
	Density      float64 // as packed in the screw, 10 to 5000 [kg/m³]
	Temperature  float64 // where melting begins, 100 to below Melting [K]
	Melting      float64 // temperature at which it counts as melt, 100 to 1500 [K]
	SpecificHeat float64 // of the solid, mean from Temperature to Melting, 100 to 10000 [J/(kg·K)]
	FusionHeat   float64 // taken up in melting, 0 to 1e6, 0 for an amorphous plastic [J/kg]
	Conductivity float64 // of the packed bed, 0.001 to 100, or 0 where it is not known [W/(m·K)]
}

func (b *Bed) check(f *input.Faults) {
	f.Between("screw.Bed.Density", b.Density, 10, 5000, "kg/m³")
	f.Between("screw.Bed.Melting", b.Melting, 100, hottest, "K")
	if !(b.Temperature >= 100 && b.Temperature < b.Melting) {
		f.Refuse("screw.Bed.Temperature", b.Temperature, "K", "100 K to below Melting, "+input.WithUnit(b.Melting, "K"))
	}
	f.Between("screw.Bed.SpecificHeat", b.SpecificHeat, 100, 10000, "J/(kg·K)")
	f.Between("screw.Bed.FusionHeat", b.FusionHeat, 0, 1e6, "J/kg")
	if b.Conductivity != 0 {
		f.Between("screw.Bed.Conductivity", b.Conductivity, 0.001, 100, "W/(m·K)")
	}
}

// Validate reports properties out of range.
func (b Bed) Validate() error {
	var f input.Faults
	b.check(&f)
	return f.Err()
}

// flowing is how far above its glass temperature an amorphous plastic counts as melt
// (common practice, no source) [K].
const flowing = 50

// BedOf returns the bed of a polymer packed to a density [kg/m³] at a temperature [K].
// A semi-crystalline plastic counts as melt from its Transition on, an amorphous one
// from 50 K above it (common practice, no source). Its conductivity is taken as the share of
// plastic in it times that of the plastic: air between the flakes carries next to
// nothing (assumed). It errs on an invalid polymer, density or temperature.
func BedOf(p material.Polymer, density, temperature float64) (Bed, error) {
	melting, above := p.Transition, 0.0
	if !p.Crystalline {
		above = flowing
		melting += above
	}
	solid := p.SolidSpecificHeat + p.SolidSpecificHeatSlope*((p.Transition+temperature)/2-material.HeatReference)
	b := Bed{Density: density, Temperature: temperature, Melting: melting, FusionHeat: p.FusionHeat(),
		SpecificHeat: (solid*(p.Transition-temperature) + p.MeltSpecificHeat*above) / (melting - temperature),
		Conductivity: p.SolidConductivity * math.Min(1, density/p.SolidDensity)}
	var f input.Faults
	f.Add(p.Validate())
	if f.None() {
		b.check(&f)
	}
	return b, f.Err()
}
