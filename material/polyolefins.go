package material

import "math"

// PP returns polypropylene, homopolymer.
func PP() Polymer {
	return Polymer{
		Name:              "PP",
		Crystalline:       true,
		Transition:        Celsius(165),
		MeltingLow:        Celsius(130),
		MeltingHigh:       Celsius(175),
		Crystallinity:     0.46,
		CrystalFusionHeat: 207e3,
		Softening:         Celsius(120),
		ProcessLow:        Celsius(200),
		ProcessHigh:       Celsius(260),

		SolidDensity:           905,
		SolidSpecificHeat:      1834,
		SolidSpecificHeatSlope: 7,
		SolidConductivity:      0.20,

		MeltDensity:      742.6,
		MeltSpecificHeat: 2700,
		MeltConductivity: 0.18,

		// The two temperatures of the table share n; b is the slope between them. The
		// table's third, 180 °C, has another n and lies below the processing window.
		Viscosity: PowerLaw{
			Consistency:      4.35e3,
			Index:            0.41,
			Reference:        Celsius(200),
			TemperatureSlope: math.Log(4.89e3/4.35e3) / 10,
			Range: Domain{RateLow: 100, RateHigh: 3500,
				TemperatureLow: Celsius(190), TemperatureHigh: Celsius(200)},
		},
		PVT: tait("PP"),
		Source: map[string]string{
			"Transition":             typical + ": 160 to 175 °C",
			"MeltingLow":             typical,
			"MeltingHigh":            typical,
			"Crystallinity":          typical + ": measured heats of fusion 85 to 110 kJ/kg; density 905 between amorphous 855 and crystal 946 would say 0.57",
			"CrystalFusionHeat":      wunderlich,
			"Softening":              typical + ": feeds badly from 110 to 130 °C",
			"ProcessLow":             plastics,
			"ProcessHigh":            plastics,
			"SolidDensity":           crawford,
			"SolidSpecificHeat":      webbook + " (Dainton 1962), isotactic, 77.18 J/(mol·K); Crawford 2000",
			"SolidSpecificHeatSlope": typical + ": some 2350 J/(kg·K) at 100 °C",
			"SolidConductivity":      crawford + "; sources from 0.15 to 0.22",
			"MeltDensity":            dannerHigh + " at 220 °C",
			"MeltSpecificHeat":       typical + ": 2600 to 2900 J/(kg·K)",
			"MeltConductivity":       typical + ": 0.15 to 0.22 W/(m·K)",
			"Viscosity":              tadmorGogos + ", 190 and 200 °C",
			"PVT":                    dannerTable + ", isotactic",
		},
	}
}

// HDPE returns high-density polyethylene.
func HDPE() Polymer {
	return Polymer{
		Name:              "HDPE",
		Crystalline:       true,
		Transition:        Celsius(131),
		MeltingLow:        Celsius(100),
		MeltingHigh:       Celsius(137),
		Crystallinity:     0.69,
		CrystalFusionHeat: 293e3,
		Softening:         Celsius(110),
		ProcessLow:        Celsius(180),
		ProcessHigh:       Celsius(260),

		SolidDensity:           950,
		SolidSpecificHeat:      1930,
		SolidSpecificHeatSlope: 6.5,
		SolidConductivity:      0.44,

		MeltDensity:      759.5,
		MeltSpecificHeat: 2600,
		MeltConductivity: 0.25,

		// The table's index rises from 0.56 to 0.61 with temperature; the law keeps
		// 0.56 and takes b from the viscosities at 100 1/s.
		Viscosity: PowerLaw{
			Consistency:      6.19e3,
			Index:            0.56,
			Reference:        Celsius(180),
			TemperatureSlope: math.Log(816.00/619.03) / 40,
			Range: Domain{RateLow: 100, RateHigh: 1000,
				TemperatureLow: Celsius(180), TemperatureHigh: Celsius(220)},
		},
		PVT: tait("HDPE"),
		Source: map[string]string{
			"Transition":             typical + ": 130 to 137 °C",
			"MeltingLow":             typical,
			"MeltingHigh":            typical,
			"Crystallinity":          "density 950 between amorphous 855 and crystal 1000 kg/m³ (" + typical + "); measured 0.60 to 0.69",
			"CrystalFusionHeat":      wunderlich + "; Atkinson and Richardson, Trans. Faraday Soc. 65 (1969) 1764, say 307 kJ/kg",
			"Softening":              typical,
			"ProcessLow":             plastics,
			"ProcessHigh":            plastics,
			"SolidDensity":           crawford,
			"SolidSpecificHeat":      webbook + " (Wunderlich 1962), crystal 24.53 and amorphous 32.85 J/(mol·K) of CH2 mixed at crystallinity 0.69; Crawford 2200",
			"SolidSpecificHeatSlope": typical,
			"SolidConductivity":      typical + "; sources from 0.25 to 0.53",
			"MeltDensity":            dannerHigh + " at 190 °C",
			"MeltSpecificHeat":       typical + ": 2500 to 2700 J/(kg·K)",
			"MeltConductivity":       typical,
			"Viscosity":              tadmorGogos + ", 180 and 220 °C, whose table the law follows within 11 %; T. A. Osswald and G. Menges, Materials Science of Polymers for Engineers, from memory, have 1.6 times as much at 180 °C and 100 1/s",
			"PVT":                    dannerTable,
		},
	}
}

// LDPE returns low-density polyethylene.
func LDPE() Polymer {
	return Polymer{
		Name:              "LDPE",
		Crystalline:       true,
		Transition:        Celsius(110),
		MeltingLow:        Celsius(70),
		MeltingHigh:       Celsius(116),
		Crystallinity:     0.42,
		CrystalFusionHeat: 293e3,
		Softening:         Celsius(85),
		ProcessLow:        Celsius(160),
		ProcessHigh:       Celsius(240),

		SolidDensity:           920,
		SolidSpecificHeat:      2315,
		SolidSpecificHeatSlope: 4.5,
		SolidConductivity:      0.33,

		MeltDensity:      757.6,
		MeltSpecificHeat: 2600,
		MeltConductivity: 0.24,

		// The table's index rises from 0.41 at 160 °C over 0.46 to 0.47 at 200 °C; the law
		// keeps that of 180 °C and takes b from the viscosities at 100 1/s of 180 and 200 °C.
		Viscosity: PowerLaw{
			Consistency:      5.21e3,
			Index:            0.46,
			Reference:        Celsius(180),
			TemperatureSlope: math.Log(433.35/375.39) / 20,
			Range: Domain{RateLow: 100, RateHigh: 6000,
				TemperatureLow: Celsius(180), TemperatureHigh: Celsius(200)},
		},
		PVT: tait("LDPE"),
		Source: map[string]string{
			"Transition":             typical + ": 98 to 115 °C",
			"MeltingLow":             typical,
			"MeltingHigh":            typical,
			"Crystallinity":          typical + ": measured heats of fusion 100 to 140 kJ/kg; density 920 between 855 and 1000 would say 0.49",
			"CrystalFusionHeat":      wunderlich,
			"Softening":              typical,
			"ProcessLow":             plastics,
			"ProcessHigh":            plastics,
			"SolidDensity":           crawford,
			"SolidSpecificHeat":      webbook + " (Dainton 1962), high-pressure sample, 32.47 J/(mol·K) of CH2; Crawford 2200",
			"SolidSpecificHeatSlope": typical,
			"SolidConductivity":      typical + "; Crawford 0.24, others to 0.36",
			"MeltDensity":            dannerHigh + " at 190 °C",
			"MeltSpecificHeat":       typical + ": 2500 to 2700 J/(kg·K)",
			"MeltConductivity":       typical,
			"Viscosity":              tadmorGogos + ", 180 and 200 °C",
			"PVT":                    dannerTable,
		},
	}
}
