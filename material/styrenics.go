package material

import "math"

// ABS returns acrylonitrile-butadiene-styrene.
func ABS() Polymer {
	return Polymer{
		Name:        "ABS",
		Transition:  Celsius(115),
		Softening:   Celsius(95),
		ProcessLow:  Celsius(200),
		ProcessHigh: Celsius(260),
		Drying:      Drying{Moisture: 1e-3, Temperature: Celsius(85), Time: 3 * 3600},

		SolidDensity:           1040,
		SolidSpecificHeat:      1300,
		SolidSpecificHeatSlope: 4,
		SolidConductivity:      0.25,

		MeltDensity:      945,
		MeltSpecificHeat: 2400,
		MeltConductivity: 0.20,

		Viscosity: CrossWLF{
			N: 0.247, TauStar: 9.97e4,
			D1: 1.93e13, D2: 373.15, D3: 0, A1: 31.4, A2: 51.6,
			Range: Domain{RateLow: 1, RateHigh: 1e4,
				TemperatureLow: Celsius(220), TemperatureHigh: Celsius(260)},
		},
		Source: map[string]string{
			"Transition":             crawford + "; others 95 to 105 °C",
			"Softening":              typical,
			"ProcessLow":             plastics,
			"ProcessHigh":            plastics,
			"Drying":                 typical + ": at most 0.1 %, 80 to 90 °C, 2 to 4 h",
			"SolidDensity":           crawford,
			"SolidSpecificHeat":      crawford,
			"SolidSpecificHeatSlope": typical,
			"SolidConductivity":      crawford + "; others from 0.17",
			"MeltDensity":            typical + ": 930 to 960 kg/m³ at 230 °C",
			"MeltSpecificHeat":       typical + ": 2300 to 2500 J/(kg·K)",
			"MeltConductivity":       typical + ": 0.17 to 0.25 W/(m·K)",
			"Viscosity":              kazmer + "; its range of rate and temperature is " + typical,
		},
	}
}

// PS returns polystyrene, general purpose.
func PS() Polymer {
	return Polymer{
		Name:        "PS",
		Transition:  Celsius(100),
		Softening:   Celsius(90),
		ProcessLow:  Celsius(180),
		ProcessHigh: Celsius(260),

		SolidDensity:           1050,
		SolidSpecificHeat:      1220,
		SolidSpecificHeatSlope: 4.5,
		SolidConductivity:      0.15,

		MeltDensity:      975.6,
		MeltSpecificHeat: 2050,
		MeltConductivity: 0.15,

		Viscosity: CrossWLF{
			N: 0.252, TauStar: 3.08e4,
			D1: 4.76e10, D2: 373.15, D3: 0.51e-6, A1: 25.7, A2: 61.06,
			Range: Domain{RateLow: 1, RateHigh: 1e4,
				TemperatureLow: Celsius(180), TemperatureHigh: Celsius(240)},
		},
		PVT: tait("PS"),
		Source: map[string]string{
			"Transition":             crawford,
			"Softening":              typical,
			"ProcessLow":             plastics,
			"ProcessHigh":            plastics,
			"SolidDensity":           crawford,
			"SolidSpecificHeat":      typical + "; Rauwendaal 1200, Crawford 1300",
			"SolidSpecificHeatSlope": typical,
			"SolidConductivity":      crawford + "; Rauwendaal 0.12",
			"MeltDensity":            dannerHigh + " at 190 °C",
			"MeltSpecificHeat":       typical + ": 2000 to 2100 J/(kg·K)",
			"MeltConductivity":       typical,
			"Viscosity":              "constants of a general-purpose PS in use in papers on injection moulding, from memory (A1 is also given as 25.74); Tadmor and Gogos's PS, from memory, is 1.75 times as thick at 190 °C and 100 1/s; its range of rate and temperature is " + typical,
			"PVT":                    dannerTable,
		},
	}
}

// HIPS returns impact polystyrene, PS with rubber in it.
func HIPS() Polymer {
	return Polymer{
		Name:        "HIPS",
		Transition:  Celsius(100),
		Softening:   Celsius(85),
		ProcessLow:  Celsius(180),
		ProcessHigh: Celsius(260),

		SolidDensity:           1040,
		SolidSpecificHeat:      1300,
		SolidSpecificHeatSlope: 4.5,
		SolidConductivity:      0.16,

		MeltDensity:      960,
		MeltSpecificHeat: 2100,
		MeltConductivity: 0.15,

		// The table's index is 0.20, 0.21 and 0.19 at 170, 190 and 210 °C; the law keeps
		// that of 190 °C and takes b from the viscosities at 100 1/s of 170 and 210 °C.
		Viscosity: PowerLaw{
			Consistency:      4.57e4,
			Index:            0.21,
			Reference:        Celsius(190),
			TemperatureSlope: math.Log(1904.01/865.98) / 40,
			Range: Domain{RateLow: 100, RateHigh: 7000,
				TemperatureLow: Celsius(170), TemperatureHigh: Celsius(210)},
		},
		Source: map[string]string{
			"Transition":             typical,
			"Softening":              typical,
			"ProcessLow":             typical,
			"ProcessHigh":            typical,
			"SolidDensity":           typical + ": 1030 to 1050 kg/m³",
			"SolidSpecificHeat":      typical,
			"SolidSpecificHeatSlope": typical,
			"SolidConductivity":      typical,
			"MeltDensity":            typical,
			"MeltSpecificHeat":       typical,
			"MeltConductivity":       typical,
			"Viscosity":              tadmorGogos + ", 170, 190 and 210 °C, within 7 %",
		},
	}
}
