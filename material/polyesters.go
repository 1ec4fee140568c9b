package material

// PET returns poly(ethylene terephthalate) as bottle flake. No viscosity law is
// published that this package could vouch for: a bottle's depends on how much
// chain its drying left, see [Hydrolysed].
func PET() Polymer {
	return Polymer{
		Name:              "PET",
		Crystalline:       true,
		Transition:        Celsius(250),
		MeltingLow:        Celsius(220),
		MeltingHigh:       Celsius(260),
		Crystallinity:     0.32,
		CrystalFusionHeat: 140e3,
		Softening:         Celsius(75),
		ProcessLow:        Celsius(265),
		ProcessHigh:       Celsius(290),
		Drying:            Drying{Moisture: 50e-6, Temperature: Celsius(160), Time: 5 * 3600},

		SolidDensity:           1360,
		SolidSpecificHeat:      1170,
		SolidSpecificHeatSlope: 3.6,
		SolidConductivity:      0.24,

		MeltDensity:      1180,
		MeltSpecificHeat: 2000,
		MeltConductivity: 0.22,

		Source: map[string]string{
			"Transition":             typical + ": 242 to 256 °C measured, 245 to 265 in tables",
			"MeltingLow":             typical,
			"MeltingHigh":            typical,
			"Crystallinity":          typical + ": measured heats of fusion 40 to 55 kJ/kg",
			"CrystalFusionHeat":      "B. Wunderlich, 26.9 kJ/mol, from memory",
			"Softening":              crawford + ": glass temperature; flake that is not yet crystalline sticks from here and until it has crystallised, crystalline flake only near melting",
			"ProcessLow":             plastics,
			"ProcessHigh":            plastics,
			"Drying":                 "practice of bottle makers: below 50 ppm, 150 to 180 °C, 4 to 7 h at a dew point of −30 to −40 °C, after crystallising",
			"SolidDensity":           crawford,
			"SolidSpecificHeat":      typical + "; Crawford 1000, Rauwendaal 1550",
			"SolidSpecificHeatSlope": typical,
			"SolidConductivity":      typical + "; Crawford 0.20, Rauwendaal 0.29",
			"MeltDensity":            typical + ": 1160 to 1200 kg/m³ at 280 °C",
			"MeltSpecificHeat":       typical + ": 1900 to 2100 J/(kg·K)",
			"MeltConductivity":       typical,
		},
	}
}

// PETG returns glycol-modified PET, which does not crystallise. No viscosity law is
// published that this package could vouch for.
func PETG() Polymer {
	return Polymer{
		Name:        "PETG",
		Transition:  Celsius(81),
		Softening:   Celsius(66),
		ProcessLow:  Celsius(220),
		ProcessHigh: Celsius(260),
		Drying:      Drying{Moisture: 400e-6, Temperature: Celsius(65), Time: 4 * 3600},

		SolidDensity:           1270,
		SolidSpecificHeat:      1200,
		SolidSpecificHeatSlope: 3.5,
		SolidConductivity:      0.2,

		MeltDensity:      1130,
		MeltSpecificHeat: 1950,
		MeltConductivity: 0.2,

		Source: map[string]string{
			"Transition":             typical + ": 75 to 88 °C",
			"Softening":              "processors' sheets: never dry above 66 °C, pellets stick",
			"ProcessLow":             typical + ": 220 to 290 °C by grade",
			"ProcessHigh":            typical + ": 220 to 290 °C by grade",
			"Drying":                 "processors' sheets: below 0.04 %, 4 h at 65 °C",
			"SolidDensity":           typical + ": 1250 to 1290 kg/m³",
			"SolidSpecificHeat":      "property pages, 1200 J/(kg·K)",
			"SolidSpecificHeatSlope": typical,
			"SolidConductivity":      typical + "; others 0.29",
			"MeltDensity":            typical + ": near 1130 kg/m³ at 240 °C",
			"MeltSpecificHeat":       typical,
			"MeltConductivity":       typical,
		},
	}
}

// PLA returns polylactide as printed scrap: slow to crystallise, mostly glassy. No
// viscosity law is published that this package could vouch for.
func PLA() Polymer {
	return Polymer{
		Name:              "PLA",
		Crystalline:       true,
		Transition:        Celsius(155),
		MeltingLow:        Celsius(140),
		MeltingHigh:       Celsius(165),
		Crystallinity:     0.25,
		CrystalFusionHeat: 93e3,
		Softening:         Celsius(58),
		ProcessLow:        Celsius(180),
		ProcessHigh:       Celsius(220),
		Drying:            Drying{Moisture: 250e-6, Temperature: Celsius(50), Time: 6 * 3600},

		SolidDensity:           1250,
		SolidSpecificHeat:      1250,
		SolidSpecificHeatSlope: 5.5,
		SolidConductivity:      0.13,

		MeltDensity:      1080,
		MeltSpecificHeat: 2100,
		MeltConductivity: 0.19,

		Source: map[string]string{
			"Transition":             typical + ": 150 to 160 °C",
			"MeltingLow":             typical,
			"MeltingHigh":            typical,
			"Crystallinity":          typical + ": measured heats of fusion 0 to 45 kJ/kg, the middle; quenched scrap crystallises while it warms and gives that heat back",
			"CrystalFusionHeat":      "E. W. Fischer et al. (1973), from memory; sources from 81 to 140 kJ/kg",
			"Softening":              typical + ": glass temperature 45 to 65 °C",
			"ProcessLow":             plastics,
			"ProcessHigh":            plastics,
			"Drying":                 typical + ": below 250 ppm; at 80 °C and faster once crystallised",
			"SolidDensity":           typical + ": 1210 to 1300 kg/m³",
			"SolidSpecificHeat":      typical + "; property pages 1800, which is above the glass temperature",
			"SolidSpecificHeatSlope": typical,
			"SolidConductivity":      "property pages, 0.13 W/(m·K)",
			"MeltDensity":            typical + ": 1070 to 1100 kg/m³ at 200 °C",
			"MeltSpecificHeat":       typical + ": 2000 to 2200 J/(kg·K)",
			"MeltConductivity":       typical,
		},
	}
}
