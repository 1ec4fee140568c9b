package material

import (
	"math"

	"meltflight/internal/input"
)

// CrossWLF is a melt with a Newtonian plateau at low rates, a power law at high
// ones, and the Williams-Landel-Ferry temperature law:
//
//	η  = η₀ / (1 + (η₀γ̇/τ*)^(1−n))
//	η₀ = D1·exp(−A1(T−T*)/(A2+T−T*)),  T* = D2 + D3·p,  A2 = Ã2 + D3·p
//
// as D. Kazmer, Injection Mold Design Engineering (2007), eqs. 5.8-5.11, states
// it. It is meant for T above T*; nearer to it than the fit, and below, the
// viscosity it gives is an extrapolation that [Domain] tells.
// Published constants of three digits reproduce a viscosity to a few percent only.
type CrossWLF struct {
	N       float64 `json:"n"`           // power-law index at high rates, 0.05 to 0.95; at 1 the law would halve η₀ [-]
	TauStar float64 `json:"tau_star_pa"` // τ*, stress where thinning sets in, 1 to 1e8 [Pa]
	D1      float64 `json:"d1_pa_s"`     // η₀ at T*, 1 to 1e30 [Pa·s]
	D2      float64 `json:"d2_k"`        // T* at atmospheric pressure, 100 to 1500 [K]
	D3      float64 `json:"d3_k_per_pa"` // shift of T* with pressure, 0 to 1e-5 [K/Pa]
	A1      float64 `json:"a1"`          // 0 to 100 [-]
	A2      float64 `json:"a2_k"`        // Ã2, the part of A2 that does not depend on pressure, 1 to 500 [K]
	Range   Domain  `json:"range"`       // where it was fitted
}

// At returns the viscosity [Pa·s].
func (c CrossWLF) At(shearRate, temperature, pressure float64) float64 {
	eta0 := c.plateau(temperature, pressure)
	rate := math.Max(math.Abs(shearRate), lowestRate)
	return eta0 / (1 + math.Pow(eta0*rate/c.TauStar, 1-c.N))
}

// Slopes returns the exact derivatives of At.
func (c CrossWLF) Slopes(shearRate, temperature, pressure float64) Slopes {
	eta0 := c.plateau(temperature, pressure)
	rate := math.Max(math.Abs(shearRate), lowestRate)
	z := math.Pow(eta0*rate/c.TauStar, 1-c.N)
	thin := (1 - c.N) * z / (1 + z)
	// A2+T−T* does not depend on pressure, so only the numerator moves with it.
	span := c.A2 + temperature - c.D2
	byTemperature := -c.A1 * (c.A2 + c.D3*pressure) / (span * span)
	byPressure := c.A1 * c.D3 / span
	if c.exponent(temperature, pressure) == mostExponent {
		byTemperature, byPressure = 0, 0
	}
	return Slopes{Rate: floored(shearRate, -thin), Temperature: (1 - thin) * byTemperature, Pressure: (1 - thin) * byPressure}
}

// Domain returns Range.
func (c CrossWLF) Domain() Domain { return c.Range }

// LogShift returns ln η₀, which the whole curve follows.
func (c CrossWLF) LogShift(temperature, pressure float64) float64 {
	return math.Log(c.D1) + c.exponent(temperature, pressure)
}

// Validate reports constants out of range.
func (c CrossWLF) Validate() error {
	var f input.Faults
	f.Between("material.CrossWLF.N", c.N, 0.05, 0.95, "")
	f.Between("material.CrossWLF.TauStar", c.TauStar, 1, 1e8, "Pa")
	f.Between("material.CrossWLF.D1", c.D1, 1, 1e30, "Pa·s")
	f.Between("material.CrossWLF.D2", c.D2, lowestTemperature, highestTemperature, "K")
	f.Between("material.CrossWLF.D3", c.D3, 0, 1e-5, "K/Pa")
	f.Between("material.CrossWLF.A1", c.A1, 0, 100, "")
	f.Between("material.CrossWLF.A2", c.A2, 1, 500, "K")
	c.Range.validate(&f, "material.CrossWLF")
	return f.Err()
}

// Near and below T*−A2 the law has a pole; a melt that stiff is a solid, and
// the plateau is held at D1·e¹⁰⁰ so that nothing overflows.
const mostExponent = 100

func (c *CrossWLF) exponent(temperature, pressure float64) float64 {
	span := c.A2 + temperature - c.D2
	above := temperature - c.D2 - c.D3*pressure
	if span <= 0 || -c.A1*above >= mostExponent*span {
		return mostExponent
	}
	return -c.A1 * above / span
}

// plateau returns η₀, the viscosity at vanishing shear rate [Pa·s].
func (c *CrossWLF) plateau(temperature, pressure float64) float64 {
	return c.D1 * math.Exp(c.exponent(temperature, pressure))
}
