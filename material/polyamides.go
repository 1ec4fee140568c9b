package material

import "math"

// PA6 returns polyamide 6, dry.
func PA6() Polymer {
	return Polymer{
		Name:              "PA6",
		Crystalline:       true,
		Transition:        Celsius(222),
		MeltingLow:        Celsius(195),
		MeltingHigh:       Celsius(228),
		Crystallinity:     0.30,
		CrystalFusionHeat: 230e3,
		Softening:         Celsius(180),
		ProcessLow:        Celsius(230),
		ProcessHigh:       Celsius(280),
		Drying:            Drying{Moisture: 1.5e-3, Temperature: Celsius(80), Time: 6 * 3600},

		SolidDensity:           1130,
		SolidSpecificHeat:      1600,
		SolidSpecificHeatSlope: 6,
		SolidConductivity:      0.25,

		MeltDensity:      975,
		MeltSpecificHeat: 2750,
		MeltConductivity: 0.22,

		// The table's index is 0.63 at 225 and 0.66 at 230 and 235 °C; the law keeps that
		// of the upper two and takes b from the viscosities at 100 1/s of 230 and 235 °C.
		Viscosity: PowerLaw{
			Consistency:      1.95e3,
			Index:            0.66,
			Reference:        Celsius(230),
			TemperatureSlope: math.Log(1.95/1.81) / 5,
			Range: Domain{RateLow: 100, RateHigh: 2000,
				TemperatureLow: Celsius(230), TemperatureHigh: Celsius(235)},
		},
		Source: map[string]string{
			"Transition":             typical + ": 210 to 230 °C",
			"MeltingLow":             typical,
			"MeltingHigh":            typical,
			"Crystallinity":          typical + ": measured heats of fusion 55 to 85 kJ/kg",
			"CrystalFusionHeat":      wunderlich,
			"Softening":              typical,
			"ProcessLow":             plastics,
			"ProcessHigh":            plastics,
			"Drying":                 typical + ": at most 0.1 to 0.2 %, 80 °C, 4 to 8 h in vacuum or dry air; saturated it holds 9.5 %",
			"SolidDensity":           rauwendaal,
			"SolidSpecificHeat":      typical + ": 1590 to 1700 J/(kg·K)",
			"SolidSpecificHeatSlope": typical,
			"SolidConductivity":      rauwendaal + "; others 0.22 to 0.33",
			"MeltDensity":            typical + ": 960 to 990 kg/m³ at 240 °C",
			"MeltSpecificHeat":       typical + ": 2700 to 2800 J/(kg·K)",
			"MeltConductivity":       typical,
			"Viscosity":              tadmorGogos + ", 230 and 235 °C",
		},
	}
}
