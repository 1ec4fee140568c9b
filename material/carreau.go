package material

import (
	"math"

	"meltflight/internal/input"
)

// CarreauYasuda is a melt with a Newtonian plateau at low rates and a power law
// at high ones, with a bend as sharp as the melt's:
//
//	η = aT·[η∞ + (η₀−η∞)·(1+(λ·aT·γ̇)^a)^((n−1)/a)]
//
// The whole curve shifts with temperature (η∞ too, which is 0 for a melt). With
// a = 2 it is the model of R. B. Bird, R. C. Armstrong and O. Hassager, Dynamics of
// Polymeric Liquids, vol. 1, 2nd ed. (1987), ch. 4, called Bird-Carreau; with any
// other, K. Yasuda, R. C. Armstrong and R. E. Cohen, Rheol. Acta 20 (1981) 163; both
// from memory. With a = 1 it is the form A·aT/(1+B·aT·γ̇)^C of N. S. Rao and G.
// Schumacher, Design Formulas for Plastics Engineers, 2nd ed. (2004), eq. 1.39,
// for η₀ = A, λ = B, n = 1−C. The three are not the same melt with the same numbers.
type CarreauYasuda struct {
	Eta0   float64 `json:"eta0_pa_s"`    // η₀, plateau at vanishing rate where aT is 1; 1e-3 to 1e12 [Pa·s]
	EtaInf float64 `json:"eta_inf_pa_s"` // η∞, plateau beyond all rates, 0 to Eta0 [Pa·s]
	Lambda float64 `json:"lambda_s"`     // λ, its inverse is the rate where thinning sets in; 1e-9 to 1e6 [s]
	N      float64 `json:"n"`            // power-law index at high rates, 0.05 to 1 [-]
	Yasuda float64 `json:"yasuda"`       // a, sharpness of the bend, 0.1 to 10; 2 is Bird-Carreau [-]
	Shift  Shift   `json:"-"`            // temperature law, Arrhenius or WLF; nil for one temperature alone
	Range  Domain  `json:"range"`        // where it was fitted
}

// At returns the viscosity [Pa·s]; pressure has no effect.
func (c CarreauYasuda) At(shearRate, temperature, _ float64) float64 {
	shift := logShift(c.Shift, temperature)
	thinning := (c.N - 1) / c.Yasuda * softplus(c.bend(shearRate, shift))
	if c.EtaInf == 0 {
		return c.Eta0 * math.Exp(shift+thinning)
	}
	return math.Exp(shift) * (c.EtaInf + (c.Eta0-c.EtaInf)*math.Exp(thinning))
}

// Slopes returns the exact derivatives of At.
func (c CarreauYasuda) Slopes(shearRate, temperature, _ float64) Slopes {
	x := c.bend(shearRate, logShift(c.Shift, temperature))
	above := (c.Eta0 - c.EtaInf) * math.Exp((c.N-1)/c.Yasuda*softplus(x))
	thin := (1 - c.N) * logistic(x) * above / (c.EtaInf + above)
	return Slopes{Rate: floored(shearRate, -thin), Temperature: (1 - thin) * shiftSlope(c.Shift, temperature)}
}

// bend returns a·ln(λ·aT·γ̇), negative on the plateau [-]. Logarithms bear any sharpness.
func (c *CarreauYasuda) bend(shearRate, shift float64) float64 {
	return c.Yasuda * (math.Log(c.Lambda*math.Max(math.Abs(shearRate), lowestRate)) + shift)
}

// Domain returns Range.
func (c CarreauYasuda) Domain() Domain { return c.Range }

// LogShift returns ln aT; pressure has no effect.
func (c CarreauYasuda) LogShift(temperature, _ float64) float64 {
	return logShift(c.Shift, temperature)
}

// Validate reports constants out of range.
func (c CarreauYasuda) Validate() error {
	var f input.Faults
	f.Between("material.CarreauYasuda.Eta0", c.Eta0, 1e-3, 1e12, "Pa·s")
	f.Between("material.CarreauYasuda.EtaInf", c.EtaInf, 0, c.Eta0, "Pa·s")
	f.Between("material.CarreauYasuda.Lambda", c.Lambda, 1e-9, 1e6, "s")
	f.Between("material.CarreauYasuda.N", c.N, 0.05, 1, "")
	f.Between("material.CarreauYasuda.Yasuda", c.Yasuda, 0.1, 10, "")
	if c.Shift != nil {
		f.Add(c.Shift.Validate())
	}
	c.Range.validate(&f, "material.CarreauYasuda")
	return f.Err()
}

// softplus returns ln(1+eˣ) for any x.
func softplus(x float64) float64 {
	if x > 40 {
		return x // to rounding
	}
	return math.Log1p(math.Exp(x))
}

// logistic returns 1/(1+e⁻ˣ), the derivative of softplus.
func logistic(x float64) float64 { return 1 / (1 + math.Exp(-x)) }
