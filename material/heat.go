package material

import (
	"fmt"

	"meltflight/internal/input"
	"meltflight/internal/root"
)

// HeatReference is the temperature at which [Polymer.EnthalpyAt] is zero, 25 °C [K].
const HeatReference = 298.15

// FusionHeat returns the heat taken up in melting [J/kg]: that of the pure crystal
// times the share of crystal; 0 for an amorphous polymer.
func (p Polymer) FusionHeat() float64 { return p.Crystallinity * p.CrystalFusionHeat }

// SpecificHeatAt returns the apparent specific heat [J/(kg·K)] at a temperature, 200
// to 800 [K]: rising on a line in the solid, constant in the melt, with a step
// between them at Transition, and for a semi-crystalline polymer the heat of fusion
// spread as a triangle from MeltingLow over its peak at Transition to MeltingHigh, as
// a calorimeter's trace is usually idealised. It is the exact derivative of
// [Polymer.EnthalpyAt].
//
// What handbooks say of one plastic's specific heat differs by 10 %, and so may an
// enthalpy; for HDPE charts of extrusion handbooks print 10 to 15 % more than comes out
// here, calorimetry 5 % less. The glass step of a semi-crystalline polymer is part of the slope; water
// in the plastic and crystals that form while it warms (quenched PET, PLA) are not
// counted. beyond says in words what leaves 0 °C to ProcessHigh; it is nil inside.
func (p Polymer) SpecificHeatAt(temperature float64) (specificHeat float64, beyond []string, err error) {
	if err := p.askHeat("material.Polymer.SpecificHeatAt: temperature", temperature); err != nil {
		return 0, nil, err
	}
	_, rate := p.molten(temperature)
	return p.baseHeat(temperature) + p.FusionHeat()*rate, p.beyondHeat(temperature), nil
}

// EnthalpyAt returns the heat [J/kg] that brings a kilogram from 25 °C to a
// temperature, 200 to 800 [K], negative below 25 °C. It is the integral of
// [Polymer.SpecificHeatAt] in closed form; the same cautions hold.
func (p Polymer) EnthalpyAt(temperature float64) (enthalpy float64, beyond []string, err error) {
	if err := p.askHeat("material.Polymer.EnthalpyAt: temperature", temperature); err != nil {
		return 0, nil, err
	}
	return p.enthalpy(temperature) - p.enthalpy(HeatReference), p.beyondHeat(temperature), nil
}

// TemperatureAt returns the temperature [K] at which the enthalpy above 25 °C is the
// given one [J/kg]: the inverse of [Polymer.EnthalpyAt]. It errs on an enthalpy
// that is not reached between 200 and 800 K.
func (p Polymer) TemperatureAt(enthalpy float64) (temperature float64, beyond []string, err error) {
	var f input.Faults
	if p.checkHeat(&f); f.None() {
		zero := p.enthalpy(HeatReference)
		f.Between("material.Polymer.TemperatureAt: enthalpy", enthalpy, p.enthalpy(coldest)-zero, p.enthalpy(hottest)-zero, "J/kg")
		if f.None() {
			temperature, err = root.Find(func(t float64) float64 { return p.enthalpy(t) - zero - enthalpy }, coldest, hottest, 0)
			f.Add(err)
		}
	}
	if err := f.Err(); err != nil {
		return 0, nil, err
	}
	return temperature, p.beyondHeat(temperature), nil
}

// MoltenAt returns what share of the crystals is molten at a temperature, 200 to 800
// [K], between 0 and 1 [-]; an amorphous polymer counts as molten from Transition on.
func (p Polymer) MoltenAt(temperature float64) (share float64, err error) {
	if err := p.askHeat("material.Polymer.MoltenAt: temperature", temperature); err != nil {
		return 0, err
	}
	share, _ = p.molten(temperature)
	return share, nil
}

func (p *Polymer) askHeat(name string, temperature float64) error {
	var f input.Faults
	p.checkHeat(&f)
	f.Between(name, temperature, coldest, hottest, "K")
	return f.Err()
}

func (p *Polymer) checkHeat(f *input.Faults) {
	f.Between("material.Polymer.Transition", p.Transition, coldest, hottest, "K")
	f.Between("material.Polymer.SolidSpecificHeat", p.SolidSpecificHeat, 100, 10000, "J/(kg·K)")
	// Steeper, the solid's specific heat would vanish somewhere above 200 K less a third.
	f.Between("material.Polymer.SolidSpecificHeatSlope", p.SolidSpecificHeatSlope, 0, p.SolidSpecificHeat/150, "J/(kg·K²)")
	f.Between("material.Polymer.ProcessHigh", p.ProcessHigh, p.Transition, hottest, "K")
	f.Between("material.Polymer.MeltSpecificHeat", p.MeltSpecificHeat, 100, 10000, "J/(kg·K)")
	if !p.Crystalline {
		f.Between("material.Polymer.Crystallinity (not Crystalline)", p.Crystallinity, 0, 0, "")
		f.Between("material.Polymer.CrystalFusionHeat (not Crystalline)", p.CrystalFusionHeat, 0, 0, "J/kg")
		f.Between("material.Polymer.MeltingLow (not Crystalline)", p.MeltingLow, 0, 0, "K")
		f.Between("material.Polymer.MeltingHigh (not Crystalline)", p.MeltingHigh, 0, 0, "K")
		return
	}
	const narrowest = 0.01 // half a melting range [K]
	f.Between("material.Polymer.Crystallinity", p.Crystallinity, 1e-3, 1, "")
	f.Between("material.Polymer.CrystalFusionHeat", p.CrystalFusionHeat, 1e3, 1e6, "J/kg")
	f.Between("material.Polymer.MeltingLow", p.MeltingLow, coldest, p.Transition-narrowest, "K")
	f.Between("material.Polymer.MeltingHigh", p.MeltingHigh, p.Transition+narrowest, hottest, "K")
}

// baseHeat returns the specific heat without fusion [J/(kg·K)].
func (p *Polymer) baseHeat(temperature float64) float64 {
	if temperature >= p.Transition {
		return p.MeltSpecificHeat
	}
	return p.SolidSpecificHeat + p.SolidSpecificHeatSlope*(temperature-HeatReference)
}

// enthalpy returns the heat from the unmolten state at Transition to a temperature [J/kg].
func (p *Polymer) enthalpy(temperature float64) float64 {
	share, _ := p.molten(temperature)
	h := p.FusionHeat() * share
	above := temperature - p.Transition
	if above >= 0 {
		return h + p.MeltSpecificHeat*above
	}
	middle := 0.5*(temperature+p.Transition) - HeatReference // of a line, the mean is the middle
	return h + (p.SolidSpecificHeat+p.SolidSpecificHeatSlope*middle)*above
}

// molten returns the share of crystals molten and its rise per kelvin [1/K].
func (p *Polymer) molten(temperature float64) (share, rate float64) {
	low, peak, high := p.MeltingLow, p.Transition, p.MeltingHigh
	switch {
	case !p.Crystalline && temperature < peak, p.Crystalline && temperature <= low:
		return 0, 0
	case !p.Crystalline, temperature >= high:
		return 1, 0
	case temperature < peak:
		rate = 2 * (temperature - low) / ((high - low) * (peak - low))
		return 0.5 * rate * (temperature - low), rate
	}
	rate = 2 * (high - temperature) / ((high - low) * (high - peak))
	return 1 - 0.5*rate*(high-temperature), rate
}

func (p *Polymer) beyondHeat(temperature float64) []string {
	const freezing = 273.15
	if temperature >= freezing && temperature <= p.ProcessHigh {
		return nil
	}
	return []string{fmt.Sprintf("%.4g °C, specific heat stated from 0 to %.4g °C",
		ToCelsius(temperature), ToCelsius(p.ProcessHigh))}
}

// CrystallinityOf returns the share of crystal by mass [-] in a sample from its
// density, that of the wholly amorphous plastic and that of its crystal, 100 to 5000
// [kg/m³], by the mixing of specific volumes:
//
//	X = (1/ρa − 1/ρ) / (1/ρa − 1/ρc)
//
// Voids, fillers and pigment spoil it. It errs on densities out of range or a
// sample that is not between amorphous and crystal.
func CrystallinityOf(density, amorphous, crystal float64) (float64, error) {
	var f input.Faults
	f.Between("material.CrystallinityOf: amorphous", amorphous, 100, 5000, "kg/m³")
	f.Between("material.CrystallinityOf: crystal", crystal, 100, 5000, "kg/m³")
	if f.None() && crystal <= amorphous {
		f.Refuse("material.CrystallinityOf: crystal", crystal, "kg/m³", "above the amorphous density, "+input.WithUnit(amorphous, "kg/m³"))
	}
	f.Between("material.CrystallinityOf: density", density, amorphous, crystal, "kg/m³")
	if err := f.Err(); err != nil {
		return 0, err
	}
	// The same with densities multiplied out, so that nearby volumes are not subtracted.
	return crystal * (density - amorphous) / (density * (crystal - amorphous)), nil
}
