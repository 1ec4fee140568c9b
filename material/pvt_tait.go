package material

import (
	"math"
	"strings"

	"meltflight/internal/input"
)

// taitC is the universal constant of the Tait equation for polymers [-].
const taitC = 0.0894

// Tait is a melt whose specific volume follows the Tait equation,
//
//	v = (A0 + A1·t + A2·t²)·(1 − 0.0894·ln(1 + p/B)),  B = B0·exp(−B1·t)
//
// with t in degrees Celsius, as the constants are published: R. P. Danner and
// M. S. High, Handbook of Polymer Solution Thermodynamics (1993), and the CRC
// Handbook of Chemistry and Physics, section 13, which states its error as 0.001
// to 0.002 cm³/g, 0.1 to 0.2 %. The methods take kelvins. It holds for the melt
// alone: below the transition it goes on as if the plastic had stayed liquid.
type Tait struct {
	A0    float64   `json:"a0_m3_per_kg"`       // v at 0 °C and no pressure, 1e-4 to 1e-2 [m³/kg]
	A1    float64   `json:"a1_m3_per_kg_degc"`  // −1e-5 to 1e-5 [m³/(kg·°C)]
	A2    float64   `json:"a2_m3_per_kg_degc2"` // −1e-7 to 1e-7 [m³/(kg·°C²)]
	B0    float64   `json:"b0_pa"`              // 1e6 to 1e11 [Pa]
	B1    float64   `json:"b1_per_degc"`        // 0 to 0.05 [1/°C]
	Range PVTDomain `json:"range"`              // where it was fitted
}

// SpecificVolume returns v [m³/kg].
func (c Tait) SpecificVolume(temperature, pressure float64) float64 {
	t := ToCelsius(temperature)
	return (c.A0 + t*(c.A1+t*c.A2)) * (1 - taitC*math.Log1p(pressure/c.stiffness(t)))
}

// Compressibility returns −(∂v/∂p)/v [1/Pa].
func (c Tait) Compressibility(temperature, pressure float64) float64 {
	b := c.stiffness(ToCelsius(temperature))
	return taitC / ((pressure + b) * (1 - taitC*math.Log1p(pressure/b)))
}

// Expansion returns (∂v/∂T)/v [1/K].
func (c Tait) Expansion(temperature, pressure float64) float64 {
	t := ToCelsius(temperature)
	return (c.A1+2*c.A2*t)/(c.A0+t*(c.A1+t*c.A2)) - pressure*c.B1*c.Compressibility(temperature, pressure)
}

// Domain returns Range.
func (c Tait) Domain() PVTDomain { return c.Range }

// Validate reports constants out of range.
func (c Tait) Validate() error {
	var f input.Faults
	f.Between("material.Tait.A0", c.A0, 1e-4, 1e-2, "m³/kg")
	f.Between("material.Tait.A1", c.A1, -1e-5, 1e-5, "m³/(kg·°C)")
	f.Between("material.Tait.A2", c.A2, -1e-7, 1e-7, "m³/(kg·°C²)")
	f.Between("material.Tait.B0", c.B0, 1e6, 1e11, "Pa")
	f.Between("material.Tait.B1", c.B1, 0, 0.05, "1/°C")
	c.Range.validate(&f, "material.Tait")
	return f.Err()
}

// stiffness returns B [Pa] at a temperature [°C].
func (c *Tait) stiffness(t float64) float64 { return c.B0 * math.Exp(-c.B1*t) }

// Danner and High's constants in the units of their table: A0 in 1e-3 m³/kg, A1 in
// 1e-7, A2 in 1e-10, B0 in 1e8 Pa, B1 in 1e-3, range in kelvins, and MPa.
var taits = [...]struct {
	name                   string
	a0, a1, a2, b0, b1     float64
	coldest, hottest, most float64
}{
	{"PP", 1.2033, 4.8182, 7.7589, 1.4236, 4.0184, 447, 571, 196},
	{"HDPE", 1.1567, 6.2888, 11.268, 1.7867, 4.7254, 415, 472, 200},
	{"LDPE", 1.1004, 14.557, -15.749, 1.7598, 4.6677, 398, 471, 200},
	{"LLDPE", 1.1105, 12.489, -4.0642, 1.7255, 4.4256, 420, 473, 200},
	{"PS", 0.93805, 3.3086, 6.6910, 2.5001, 4.1815, 389, 469, 200},
	{"PC", 0.79165, 4.4201, 2.8583, 3.1268, 3.9728, 430, 610, 177},
	{"PMMA", 0.82396, 3.0490, 7.0201, 2.9803, 4.3789, 387, 432, 200},
}

// TaitNamed returns Danner and High's constants for a melt, upper or lower case: PP
// (isotactic), HDPE, LDPE, LLDPE, PS, PC, PMMA. Another name is an error that lists
// those known. Left out are their "PA", which is a polyarylate and no nylon, and their
// POM, of which they make a melt of 1030 kg/m³ where 1150 to 1200 are usual.
func TaitNamed(name string) (Tait, error) {
	known := make([]string, 0, len(taits))
	for _, s := range taits {
		if strings.EqualFold(s.name, name) {
			return Tait{A0: s.a0 * 1e-3, A1: s.a1 * 1e-7, A2: s.a2 * 1e-10, B0: s.b0 * 1e8, B1: s.b1 * 1e-3,
				Range: PVTDomain{TemperatureLow: s.coldest, TemperatureHigh: s.hottest, PressureHigh: s.most * 1e6}}, nil
		}
		known = append(known, s.name)
	}
	return Tait{}, &input.Word{Name: "material.TaitNamed: name", Value: name, Allowed: strings.Join(known, ", ")}
}
