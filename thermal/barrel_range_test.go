package thermal_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"

	"meltflight/material"
	"meltflight/thermal"
)

// Every number of a barrel is taken up to the ends of its range and refused by name beyond them.
func TestBarrelRanges(t *testing.T) {
	l := thermal.Lagged{Radius: 0.02, Length: 0.3, Thickness: 0.02, Conductivity: 0.05, Emissivity: 0.5}
	h := heatUp()
	soak := thermal.Soak{Outer: 0.5, Inner: 0.008, Conductivity: 45, Density: 7850, SpecificHeat: 490}
	s := sleeve()
	throat := thermal.Throat{Sleeve: s, ScrewSection: 1e-4, ScrewConductivity: 30, Exchange: 1.5, Collar: 2, Coolant: 293, Shank: 0.1, Drive: 300, Air: 298}
	melt := heated(thermal.Tube, 0.01)
	sheared := thermal.Sheared{Viscosity: 800, Conductivity: 0.2, Speed: 0.05, Sensitivity: 0.02}
	heater := thermal.Heater{Kind: thermal.Band, Power: 500, Length: 0.12, Radius: 0.0225}
	thermistor := thermal.SteinhartHart{A: 1.129148e-3, B: 2.34125e-4, C: 8.76741e-8}
	sheath := thermal.Sheath{Radius: 1.5e-3, Immersion: 0.03, Conductivity: 16, Coefficient: 200}
	melting := thermal.Melting{Flow: 1e-3, Enthalpy: 5e5, Loss: 200, Shaft: 150}
	zones := []thermal.Zone{{Name: "zone", Length: 0.1, Outer: 0.02, Inner: 0.008, Loss: 0.5, Power: 100, Exchange: 1}}
	barrel := thermal.Barrel{Zones: zones, Metal: thermal.BarrelMetal{Conductivity: 45, Density: 7850, SpecificHeat: 490},
		ScrewSection: 1e-4, Screw: thermal.BarrelMetal{Conductivity: 45, Density: 7850, SpecificHeat: 490}, Collar: 1, Coolant: 293, Shank: 0.1, Drive: 300, Air: 295}
	hot, cold, air, part, x, time, rate, depth, flux := 500., 320., 300., 0.3, 0.01, 100., 0.3, 0.004, 3e4
	ohms, spread := 1000., 1e-7
	number := func(_ float64, err error) error { return err }
	lag := func() error { return number(thermal.RampLag(rate, depth, time)) }
	for _, c := range []struct {
		name   string
		value  *float64
		lo, hi float64
		ask    func() error
	}{
		{"thermal.Lagged.Radius", &l.Radius, 1e-4, 1, func() error { return l.Validate() }},
		{"thermal.Lagged.Length", &l.Length, 1e-3, 5, func() error { return l.Validate() }},
		{"thermal.Lagged.Thickness", &l.Thickness, 0, 1, func() error { return l.Validate() }},
		{"thermal.Lagged.Conductivity", &l.Conductivity, 1e-3, 1e4, func() error { return l.Validate() }},
		{"thermal.Lagged.Emissivity", &l.Emissivity, 0, 1, func() error { return l.Validate() }},
		{"thermal.Lagged.Blown", &l.Blown, 0, 1e4, func() error { return l.Validate() }},
		{"thermal.Lagged.At: barrel", &hot, 200, 1200, func() error { _, err := l.At(hot, air); return err }},
		{"thermal.Lagged.At: air", &air, 200, 473.15, func() error { _, err := l.At(hot, air); return err }},
		{"thermal.HeatUp.Capacity", &h.Capacity, 1e-3, 1e9, func() error { return h.Validate() }},
		{"thermal.HeatUp.Power", &h.Power, 0, 1e7, func() error { return h.Validate() }},
		{"thermal.HeatUp.Conductance", &h.Conductance, 0, 1e6, func() error { return h.Validate() }},
		{"thermal.HeatUp.Air", &h.Air, 200, 473.15, func() error { return h.Validate() }},
		{"thermal.HeatUp.After: time", &time, 0, 1e12, func() error { return number(h.After(time, hot)) }},
		{"thermal.HeatUp.PowerFor: time", &time, 0.1, 1e9, func() error { return number(h.PowerFor(time, cold, hot)) }},
		{"thermal.RadiationCooling: emissivity", &part, 1e-3, 1, func() error { return number(thermal.RadiationCooling(100, 0.1, part, hot, cold, air)) }},
		{"thermal.FreeCooling: power", &part, 0, 1, func() error { return number(thermal.FreeCooling(100, 0.1, part, 0.5)) }},
		{"thermal.FreeCooling: part", &part, 1e-9, 1, func() error { return number(thermal.FreeCooling(100, 0.1, 0.25, part)) }},
		{"thermal.Soak.Outer", &soak.Outer, 0.0081, 1, func() error { return soak.Validate() }},
		{"thermal.Soak.Conductivity", &soak.Conductivity, 0.1, 1e3, func() error { return soak.Validate() }},
		{"thermal.Soak.Density", &soak.Density, 100, 3e4, func() error { return soak.Validate() }},
		{"thermal.Soak.SpecificHeat", &soak.SpecificHeat, 50, 1e4, func() error { return soak.Validate() }},
		{"thermal.Soak.Heated: flux", &flux, 0, 1e7, func() error { _, err := soak.Heated(flux); return err }},
		{"thermal.RodSoak: radius", &depth, 1e-5, 1, func() error { return number(thermal.RodSoak(depth, spread, 0.1)) }},
		{"thermal.RodSoak: diffusivity", &spread, 1e-9, 1e-2, func() error { return number(thermal.RodSoak(depth, spread, 0.1)) }},
		{"thermal.SlabSoak: part", &part, 1e-9, 0.5, func() error { return number(thermal.SlabSoak(depth, spread, part)) }},
		{"thermal.Sleeve.Length", &s.Length, 1e-4, 10, func() error { return s.Validate() }},
		{"thermal.Sleeve.Outer", &s.Outer, 0.00801, 1, func() error { return s.Validate() }},
		{"thermal.Sleeve.Conductivity", &s.Conductivity, 0.01, 1e4, func() error { return s.Validate() }},
		{"thermal.Sleeve.Coefficient", &s.Coefficient, 0, 1e4, func() error { return s.Validate() }},
		{"thermal.Sleeve.Between: hot", &hot, 200, 1200, func() error { _, err := s.Between(hot, cold, air); return err }},
		{"thermal.Sleeve.Cooled: coolant", &cold, 200, 1200, func() error { _, err := s.Cooled(hot, 1, cold, air); return err }},
		{"thermal.Sleeve.Cooled: conductance", &x, 0, 1e6, func() error { _, err := s.Cooled(hot, x, cold, air); return err }},
		{"thermal.Sleeve.Temperature: part", &part, 0, 1, func() error { return number(s.Temperature(part, hot, cold, air)) }},
		{"thermal.Throat.ScrewSection", &throat.ScrewSection, 1e-8, 1, func() error { return throat.Validate() }},
		{"thermal.Throat.ScrewConductivity", &throat.ScrewConductivity, 0.01, 1e4, func() error { return throat.Validate() }},
		{"thermal.Throat.Exchange", &throat.Exchange, 0, 1e4, func() error { return throat.Validate() }},
		{"thermal.Throat.Collar", &throat.Collar, 0, 1e6, func() error { return throat.Validate() }},
		{"thermal.Throat.Coolant", &throat.Coolant, 200, 1200, func() error { return throat.Validate() }},
		{"thermal.Throat.Shank", &throat.Shank, 0, 1e6, func() error { return throat.Validate() }},
		{"thermal.Throat.Drive", &throat.Drive, 200, 1200, func() error { return throat.Validate() }},
		{"thermal.Throat.Air", &throat.Air, 200, 1200, func() error { return throat.Validate() }},
		{"thermal.Passage.Graetz: x*", &x, 1e-9, 1e6, func() error { _, err := thermal.Slit.Graetz(x); return err }},
		{"thermal.HeatedMelt.Gap", &melt.Gap, 1e-5, 1, func() error { return melt.Validate() }},
		{"thermal.HeatedMelt.Length", &melt.Length, 1e-4, 100, func() error { return melt.Validate() }},
		{"thermal.HeatedMelt.Speed", &melt.Speed, 1e-7, 10, func() error { return melt.Validate() }},
		{"thermal.HeatedMelt.Conductivity", &melt.Conductivity, 0.01, 10, func() error { return melt.Validate() }},
		{"thermal.HeatedMelt.Density", &melt.Density, 100, 1e4, func() error { return melt.Validate() }},
		{"thermal.HeatedMelt.SpecificHeat", &melt.SpecificHeat, 100, 1e4, func() error { return melt.Validate() }},
		{"thermal.HeatedMelt.Viscosity", &melt.Viscosity, 0, 1e7, func() error { return melt.Validate() }},
		{"thermal.HeatedMelt.At: wall", &hot, 200, 1200, func() error { _, err := melt.At(cold, hot); return err }},
		{"thermal.Sheared.Viscosity", &sheared.Viscosity, 0, 1e7, func() error { return sheared.Validate() }},
		{"thermal.Sheared.Conductivity", &sheared.Conductivity, 0.01, 10, func() error { return sheared.Validate() }},
		{"thermal.Sheared.Speed", &sheared.Speed, 0, 10, func() error { return sheared.Validate() }},
		{"thermal.Sheared.Sensitivity", &sheared.Sensitivity, 0, 1, func() error { return sheared.Validate() }},
		{"thermal.Heater.Power", &heater.Power, 0.1, 1e6, func() error { return heater.Validate() }},
		{"thermal.Heater.Length", &heater.Length, 1e-3, 5, func() error { return heater.Validate() }},
		{"thermal.Heater.Radius", &heater.Radius, 5e-4, 1, func() error { return heater.Validate() }},
		{"thermal.Heater.Gap", &heater.Gap, 0, 0.9, func() error { return heater.Validate() }},
		{"thermal.Platinum", &ohms, 1, 1e5, func() error { return number(thermal.Platinum(ohms).Resistance(air)) }},
		{"thermal.Platinum.Resistance: temperature", &hot, 73.1, 1123.2, func() error { return number(thermal.Platinum(100).Resistance(hot)) }},
		{"thermal.PlatinumTolerance: temperature", &hot, 243.15, 573.15, func() error { return number(thermal.PlatinumTolerance(hot, true)) }},
		{"thermal.Thermocouple.Voltage: tip", &hot, 273.15, 1645.15, func() error { return number(thermal.TypeK.Voltage(hot, air)) }},
		{"thermal.Thermocouple.Voltage: cold", &air, 273.15, 1033.15, func() error { return number(thermal.TypeJ.Voltage(hot, air)) }},
		{"thermal.SteinhartHart.A", &thermistor.A, -0.1, 0.1, func() error { return thermistor.Validate() }},
		{"thermal.SteinhartHart.B", &thermistor.B, 1e-6, 0.1, func() error { return thermistor.Validate() }},
		{"thermal.SteinhartHart.C", &thermistor.C, 0, 1e-3, func() error { return thermistor.Validate() }},
		{"thermal.RampLag: rate", &rate, -1e3, 1e3, lag},
		{"thermal.RampLag: constant", &depth, 1e-3, 1e6, lag},
		{"thermal.RampLag: time", &time, 0, 1e9, lag},
		{"thermal.Sheath.Radius", &sheath.Radius, 1e-4, 0.1, func() error { return sheath.Validate() }},
		{"thermal.Sheath.Immersion", &sheath.Immersion, 1e-4, 10, func() error { return sheath.Validate() }},
		{"thermal.Sheath.Conductivity", &sheath.Conductivity, 0.01, 1e4, func() error { return sheath.Validate() }},
		{"thermal.Sheath.Coefficient", &sheath.Coefficient, 0.01, 1e6, func() error { return sheath.Validate() }},
		{"thermal.Sheath.Error: root", &cold, 200, 1200, func() error { return number(sheath.Error(cold, hot)) }},
		{"thermal.Melting.Flow", &melting.Flow, 1e-9, 10, func() error { return melting.Validate() }},
		{"thermal.Melting.Enthalpy", &melting.Enthalpy, 1e3, 5e6, func() error { return melting.Validate() }},
		{"thermal.Melting.Loss", &melting.Loss, 0, 1e6, func() error { return melting.Validate() }},
		{"thermal.Melting.Cooling", &melting.Cooling, 0, 1e6, func() error { return melting.Validate() }},
		{"thermal.Melting.Shaft", &melting.Shaft, 0, 1e6, func() error { return melting.Validate() }},
		{"thermal.Barrel.Zones[0].Length", &zones[0].Length, 1e-3, 5, func() error { return barrel.Validate() }},
		{"thermal.Barrel.Zones[0].Loss", &zones[0].Loss, 0, 1e3, func() error { return barrel.Validate() }},
		{"thermal.Barrel.Zones[0].Power", &zones[0].Power, 0, 1e5, func() error { return barrel.Validate() }},
		{"thermal.Barrel.Zones[0].Exchange", &zones[0].Exchange, 0, 1e4, func() error { return barrel.Validate() }},
		{"thermal.Barrel.Metal.Conductivity", &barrel.Metal.Conductivity, 0.1, 1e3, func() error { return barrel.Validate() }},
		{"thermal.Barrel.Screw.Density", &barrel.Screw.Density, 100, 3e4, func() error { return barrel.Validate() }},
		{"thermal.Barrel.Collar", &barrel.Collar, 0, 1e6, func() error { return barrel.Validate() }},
		{"thermal.Barrel.Coolant", &barrel.Coolant, 200, 1200, func() error { return barrel.Validate() }},
		{"thermal.Barrel.Shank", &barrel.Shank, 0, 1e6, func() error { return barrel.Validate() }},
		{"thermal.Barrel.Drive", &barrel.Drive, 200, 1200, func() error { return barrel.Validate() }},
		{"thermal.Barrel.Air", &barrel.Air, 200, 473.15, func() error { return barrel.Validate() }},
	} {
		was := *c.value
		for _, v := range []float64{c.lo, c.hi} {
			*c.value = v
			assert.NoError(t, c.ask(), "%s %g", c.name, v)
		}
		for _, v := range []float64{math.Nextafter(c.lo, math.Inf(-1)), math.Nextafter(c.hi, math.Inf(1)), math.NaN(), math.Inf(1), math.Inf(-1)} {
			*c.value = v
			err := c.ask()
			assert.ErrorIs(t, err, material.ErrInvalid, "%s %g", c.name, v)
			assert.ErrorContains(t, err, c.name+" = ")
		}
		*c.value = was
	}
}
