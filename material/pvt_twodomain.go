package material

import (
	"math"

	"meltflight/internal/input"
)

// TwoDomainTait is a plastic whose specific volume follows one Tait equation as a
// melt and another as a solid, on either side of a transition that rises with
// pressure, Tt = B5 + B6·p:
//
//	v = v0·(1 − 0.0894·ln(1 + p/B)) + vt
//	v0 = B1 + B2·(T−B5),  B = B3·exp(−B4·(T−B5))
//
// vt is 0 in the melt and B7·exp(B8·(T−B5) − B9·p) in the solid, where it stands for
// crystals near their melting point; B7 is 0 for an amorphous plastic. It is the
// form that injection-moulding practice fits, with temperatures in kelvins (H. H.
// Chiang, C. A. Hieber and K. K. Wang, Polym. Eng. Sci. 31 (1991) 116, from memory).
// Published constants are rounded so that v may jump by 0.1 % at Tt, up or down; the
// derivatives do not include that jump. At Tt
// itself the melt's side counts.
type TwoDomainTait struct {
	Melt  TaitBranch `json:"melt"`         // b1m to b4m
	Solid TaitBranch `json:"solid"`        // b1s to b4s
	B5    float64    `json:"b5_k"`         // transition without pressure, 100 to 1500 [K]
	B6    float64    `json:"b6_k_per_pa"`  // its rise with pressure, 0 to 1e-6 [K/Pa]
	B7    float64    `json:"b7_m3_per_kg"` // volume that crystals lose by the transition, 0 to 1e-3 [m³/kg]
	B8    float64    `json:"b8_per_k"`     // 0 to 1 [1/K]
	B9    float64    `json:"b9_per_pa"`    // 0 to 1e-6 [1/Pa]
	Range PVTDomain  `json:"range"`        // where it was fitted
}

// TaitBranch is one side of a [TwoDomainTait].
type TaitBranch struct {
	B1 float64 `json:"b1_m3_per_kg"`   // v at B5 without pressure, 1e-4 to 1e-2 [m³/kg]
	B2 float64 `json:"b2_m3_per_kg_k"` // its rise with temperature, 0 to 1e-5 [m³/(kg·K)]
	B3 float64 `json:"b3_pa"`          // stiffness B at B5, 1e6 to 1e11 [Pa]
	B4 float64 `json:"b4_per_k"`       // its fall with temperature, 0 to 0.05 [1/K]
}

// TransitionAt returns Tt at an absolute pressure [Pa] in kelvins [K].
func (c TwoDomainTait) TransitionAt(pressure float64) float64 { return c.B5 + c.B6*pressure }

// SpecificVolume returns v [m³/kg].
func (c TwoDomainTait) SpecificVolume(temperature, pressure float64) float64 {
	v, _, _ := c.at(temperature, pressure)
	return v
}

// Compressibility returns −(∂v/∂p)/v [1/Pa].
func (c TwoDomainTait) Compressibility(temperature, pressure float64) float64 {
	v, _, byPressure := c.at(temperature, pressure)
	return -byPressure / v
}

// Expansion returns (∂v/∂T)/v [1/K].
func (c TwoDomainTait) Expansion(temperature, pressure float64) float64 {
	v, byTemperature, _ := c.at(temperature, pressure)
	return byTemperature / v
}

// at returns the volume and its two derivatives.
func (c *TwoDomainTait) at(temperature, pressure float64) (v, byTemperature, byPressure float64) {
	side, solid := &c.Melt, temperature < c.TransitionAt(pressure)
	if solid {
		side = &c.Solid
	}
	above := temperature - c.B5
	v0 := side.B1 + side.B2*above
	b := side.B3 * math.Exp(-side.B4*above)
	squeezed := 1 - taitC*math.Log1p(pressure/b)
	perPressure := v0 * taitC / (pressure + b)
	v = v0 * squeezed
	byTemperature = side.B2*squeezed - side.B4*pressure*perPressure
	byPressure = -perPressure
	if solid && c.B7 > 0 {
		vt := c.B7 * math.Exp(c.B8*above-c.B9*pressure)
		v += vt
		byTemperature += c.B8 * vt
		byPressure -= c.B9 * vt
	}
	return v, byTemperature, byPressure
}

// Domain returns Range.
func (c TwoDomainTait) Domain() PVTDomain { return c.Range }

// Validate reports constants out of range.
func (c TwoDomainTait) Validate() error {
	var f input.Faults
	c.Melt.check(&f, "material.TwoDomainTait.Melt")
	c.Solid.check(&f, "material.TwoDomainTait.Solid")
	f.Between("material.TwoDomainTait.B5", c.B5, lowestTemperature, highestTemperature, "K")
	f.Between("material.TwoDomainTait.B6", c.B6, 0, 1e-6, "K/Pa")
	f.Between("material.TwoDomainTait.B7", c.B7, 0, 1e-3, "m³/kg")
	f.Between("material.TwoDomainTait.B8", c.B8, 0, 1, "1/K")
	f.Between("material.TwoDomainTait.B9", c.B9, 0, 1e-6, "1/Pa")
	c.Range.validate(&f, "material.TwoDomainTait")
	return f.Err()
}

func (s TaitBranch) check(f *input.Faults, owner string) {
	if s.B1 >= 1e-4 && s.B1 <= 1e-2 && s.B2 >= 0 && s.B2 <= 1e-5 && s.B3 >= 1e6 && s.B3 <= 1e11 && s.B4 >= 0 && s.B4 <= 0.05 {
		return // before any name is put together, which would allocate
	}
	f.Between(owner+".B1", s.B1, 1e-4, 1e-2, "m³/kg")
	f.Between(owner+".B2", s.B2, 0, 1e-5, "m³/(kg·K)")
	f.Between(owner+".B3", s.B3, 1e6, 1e11, "Pa")
	f.Between(owner+".B4", s.B4, 0, 0.05, "1/K")
}

// PMMATwoDomain returns the constants of a PMMA moulding grade as an open-access
// paper of 2020 prints them (National Library of Medicine, PMC7388655, Table 1).
// Its range of temperature and pressure is typical of such fits, from memory.
func PMMATwoDomain() TwoDomainTait {
	return TwoDomainTait{
		Melt:  TaitBranch{B1: 0.85982e-3, B2: 5.697e-7, B3: 209e6, B4: 4.9083e-3},
		Solid: TaitBranch{B1: 0.860702e-3, B2: 1.995e-7, B3: 273e6, B4: 3.394e-3},
		B5:    383, B6: 2e-7,
		Range: PVTDomain{TemperatureLow: Celsius(20), TemperatureHigh: Celsius(260), PressureHigh: 200e6},
	}
}
