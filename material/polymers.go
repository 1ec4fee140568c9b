package material

import (
	"math"
	"strings"

	"meltflight/internal/input"
)

const (
	tadmorGogos = "Z. Tadmor and C. G. Gogos, Principles of Polymer Processing, 2nd ed. (2006), Table A.1, from memory"
	crawford    = "R. J. Crawford, Plastics Engineering, 3rd ed. (1998), Table 1.8"
	kazmer      = "D. Kazmer, Injection Mold Design Engineering (2007), Appendix A"
	dannerHigh  = "R. P. Danner and M. S. High, Handbook of Polymer Solution Thermodynamics (1993), Tait equation evaluated"
	typical     = "typical, from memory"
)

// PP returns polypropylene, homopolymer.
func PP() Polymer {
	return Polymer{
		Name:        "PP",
		Crystalline: true,
		Transition:  Celsius(165),
		FusionHeat:  95e3,
		ProcessLow:  Celsius(200),
		ProcessHigh: Celsius(260),

		SolidDensity:      905,
		SolidSpecificHeat: 2000,
		SolidConductivity: 0.20,

		MeltDensity:      742.6,
		MeltSpecificHeat: 2700,
		MeltConductivity: 0.18,

		// The two temperatures of the table share n; b is the slope between them.
		Viscosity: PowerLaw{
			Consistency:      4.35e3,
			Index:            0.41,
			Reference:        Celsius(200),
			TemperatureSlope: math.Log(4.89e3/4.35e3) / 10,
			Range: Domain{RateLow: 100, RateHigh: 3500,
				TemperatureLow: Celsius(190), TemperatureHigh: Celsius(200)},
		},
		Source: map[string]string{
			"Transition":        typical + ": 160 to 175 °C",
			"FusionHeat":        "B. Wunderlich, Thermal Analysis (1990): crystal 207 kJ/kg, times a crystallinity of 0.46, " + typical,
			"ProcessLow":        typical,
			"ProcessHigh":       typical,
			"SolidDensity":      crawford,
			"SolidSpecificHeat": crawford,
			"SolidConductivity": crawford,
			"MeltDensity":       dannerHigh + " at 220 °C",
			"MeltSpecificHeat":  typical + ": 2600 to 2900 J/(kg·K)",
			"MeltConductivity":  typical + ": 0.15 to 0.22 W/(m·K)",
			"Viscosity":         tadmorGogos + ", 190 and 200 °C",
		},
	}
}

// HDPE returns high-density polyethylene.
func HDPE() Polymer {
	return Polymer{
		Name:        "HDPE",
		Crystalline: true,
		Transition:  Celsius(131),
		FusionHeat:  190e3,
		ProcessLow:  Celsius(180),
		ProcessHigh: Celsius(260),

		SolidDensity:      950,
		SolidSpecificHeat: 2200,
		SolidConductivity: 0.44,

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
		Source: map[string]string{
			"Transition":        typical + ": 130 to 137 °C",
			"FusionHeat":        typical + ": 180 to 200 kJ/kg at density 950",
			"ProcessLow":        typical,
			"ProcessHigh":       typical,
			"SolidDensity":      crawford,
			"SolidSpecificHeat": crawford,
			"SolidConductivity": typical + "; sources from 0.25 to 0.53",
			"MeltDensity":       dannerHigh + " at 190 °C",
			"MeltSpecificHeat":  typical + ": 2500 to 2700 J/(kg·K)",
			"MeltConductivity":  typical,
			"Viscosity":         tadmorGogos + ", 180 and 220 °C",
		},
	}
}

// ABS returns acrylonitrile-butadiene-styrene.
func ABS() Polymer {
	return Polymer{
		Name:        "ABS",
		Transition:  Celsius(115),
		ProcessLow:  Celsius(200),
		ProcessHigh: Celsius(260),

		SolidDensity:      1040,
		SolidSpecificHeat: 1300,
		SolidConductivity: 0.25,

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
			"Transition":        crawford,
			"ProcessLow":        typical,
			"ProcessHigh":       typical,
			"SolidDensity":      crawford,
			"SolidSpecificHeat": crawford,
			"SolidConductivity": crawford,
			"MeltDensity":       typical + ": 930 to 960 kg/m³ at 230 °C",
			"MeltSpecificHeat":  typical + ": 2300 to 2500 J/(kg·K)",
			"MeltConductivity":  typical + ": 0.17 to 0.25 W/(m·K)",
			"Viscosity":         kazmer + "; its range of rate and temperature is " + typical,
		},
	}
}

// Polymers returns every polymer the package knows.
func Polymers() []Polymer { return []Polymer{PP(), HDPE(), ABS()} }

// PolymerNamed returns the polymer of a name, upper or lower case. Another name
// is an error that lists those known.
func PolymerNamed(name string) (Polymer, error) {
	known := make([]string, 0, 3)
	for _, p := range Polymers() {
		if strings.EqualFold(p.Name, name) {
			return p, nil
		}
		known = append(known, p.Name)
	}
	return Polymer{}, &input.Word{Name: "material.PolymerNamed: name", Value: name, Allowed: strings.Join(known, ", ")}
}
