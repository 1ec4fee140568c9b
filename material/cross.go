package material

import (
	"math"

	"meltflight/internal/input"
)

// CrossExponential is the Cross law with an exponential temperature law, the
// other of the two pairings that data sheets of injection moulding print:
//
//	η  = η₀ / (1 + (η₀γ̇/τ*)^(1−n))
//	η₀ = B·exp(Tb/T)·exp(β·p)
//
// The shear law is that of M. M. Cross, J. Colloid Sci. 20 (1965) 417, from memory, as
// in [CrossWLF]. Sheets often print dyn/cm² (0.1 Pa) and g/(cm·s) (0.1 Pa·s).
// Tb is the activation energy over R; Tb = 0 makes a melt of one temperature, η₀ = B.
// Where the exponent passes 300, η₀ is held.
type CrossExponential struct {
	N       float64 `json:"n"`           // power-law index at high rates, 0.05 to 0.95 [-]
	TauStar float64 `json:"tau_star_pa"` // τ*, stress where thinning sets in, 1 to 1e8 [Pa]
	B       float64 `json:"b_pa_s"`      // 1e-40 to 1e9 [Pa·s]
	Tb      float64 `json:"tb_k"`        // 0 to 1e5 [K]
	Beta    float64 `json:"beta_per_pa"` // β, rise of ln η₀ with pressure, 0 to 1e-6 [1/Pa]
	Range   Domain  `json:"range"`       // where it was fitted
}

// At returns the viscosity [Pa·s].
func (c CrossExponential) At(shearRate, temperature, pressure float64) float64 {
	eta0 := c.B * math.Exp(c.exponent(temperature, pressure))
	rate := math.Max(math.Abs(shearRate), lowestRate)
	return eta0 / (1 + math.Pow(eta0*rate/c.TauStar, 1-c.N))
}

// Slopes returns the exact derivatives of At.
func (c CrossExponential) Slopes(shearRate, temperature, pressure float64) Slopes {
	exponent := c.exponent(temperature, pressure)
	rate := math.Max(math.Abs(shearRate), lowestRate)
	z := math.Pow(c.B*math.Exp(exponent)*rate/c.TauStar, 1-c.N)
	thin := (1 - c.N) * z / (1 + z)
	if exponent == mostCrossExponent {
		return Slopes{Rate: floored(shearRate, -thin)}
	}
	return Slopes{Rate: floored(shearRate, -thin), Temperature: -(1 - thin) * c.Tb / (temperature * temperature), Pressure: (1 - thin) * c.Beta}
}

// B may be as small as 1e-40 Pa·s, so that the exponent of a true melt goes far beyond
// mostExponent; from here on nothing could flow.
const mostCrossExponent = 300

func (c *CrossExponential) exponent(temperature, pressure float64) float64 {
	return math.Min(mostCrossExponent, c.Tb/temperature+c.Beta*pressure)
}

// Domain returns Range.
func (c CrossExponential) Domain() Domain { return c.Range }

// LogShift returns ln η₀, which the whole curve follows.
func (c CrossExponential) LogShift(temperature, pressure float64) float64 {
	return math.Log(c.B) + c.exponent(temperature, pressure)
}

// Validate reports constants out of range.
func (c CrossExponential) Validate() error {
	var f input.Faults
	f.Between("material.CrossExponential.N", c.N, 0.05, 0.95, "")
	f.Between("material.CrossExponential.TauStar", c.TauStar, 1, 1e8, "Pa")
	f.Between("material.CrossExponential.B", c.B, 1e-40, 1e9, "Pa·s")
	f.Between("material.CrossExponential.Tb", c.Tb, 0, 1e5, "K")
	f.Between("material.CrossExponential.Beta", c.Beta, 0, 1e-6, "1/Pa")
	c.Range.validate(&f, "material.CrossExponential")
	return f.Err()
}
