package material

import (
	"math"

	"meltflight/internal/input"
)

// PowerLaw is a shear-thinning melt on the straight part of its flow curve:
//
//	η = m·exp(−b(T−T₀))·γ̇^(n−1)
//
// with the index n below 1 for thinning (some German texts print its reciprocal).
// The exponential temperature law is that of N. S. Rao and G. Schumacher, Design
// Formulas for Plastics Engineers, 2nd ed. (2004), eq. 1.32, there with T₀ = 0 °C.
// It holds over the decade or two of rate and the few tens of kelvins it was
// fitted to, usually within some 10 %; at low rates it is far too high.
//
// A Shift multiplies m by its own aT in place of that exponential: an Arrhenius law
// with the activation energy at equal rate, n times that at equal stress.
type PowerLaw struct {
	Consistency      float64 `json:"consistency_pa_s_n"`      // m, viscosity at 1 1/s and Reference, 1e-3 to 1e9 [Pa·sⁿ]
	Index            float64 `json:"index"`                   // n, 0.05 to 1.5 [-]
	Reference        float64 `json:"reference_k"`             // T₀, 100 to 1500 [K]
	TemperatureSlope float64 `json:"temperature_slope_per_k"` // b, at equal rate, 0 to 0.2 [1/K]
	Shift            Shift   `json:"-"`                       // another temperature law for m, at equal rate, in place of Reference and TemperatureSlope
	Range            Domain  `json:"range"`                   // where it was fitted
}

// At returns the viscosity [Pa·s]; pressure has no effect.
func (p PowerLaw) At(shearRate, temperature, _ float64) float64 {
	rate := math.Max(math.Abs(shearRate), lowestRate)
	if p.Shift != nil {
		return p.Consistency * math.Exp((p.Index-1)*math.Log(rate)+p.Shift.Log(temperature))
	}
	return p.Consistency * math.Exp((p.Index-1)*math.Log(rate)-p.TemperatureSlope*(temperature-p.Reference))
}

// Slopes returns n−1, −b or that of the Shift, and 0.
func (p PowerLaw) Slopes(shearRate, temperature, _ float64) Slopes {
	s := Slopes{Rate: floored(shearRate, p.Index-1), Temperature: -p.TemperatureSlope}
	if p.Shift != nil {
		s.Temperature = p.Shift.Slope(temperature)
	}
	return s
}

// Domain returns Range.
func (p PowerLaw) Domain() Domain { return p.Range }

// Validate reports constants out of range.
func (p PowerLaw) Validate() error {
	var f input.Faults
	f.Between("material.PowerLaw.Consistency", p.Consistency, 1e-3, 1e9, "Pa·sⁿ")
	f.Between("material.PowerLaw.Index", p.Index, 0.05, 1.5, "")
	if p.Shift == nil {
		f.Between("material.PowerLaw.Reference", p.Reference, lowestTemperature, highestTemperature, "K")
		f.Between("material.PowerLaw.TemperatureSlope", p.TemperatureSlope, 0, 0.2, "1/K")
	} else {
		f.Add(p.Shift.Validate())
		if p.TemperatureSlope != 0 {
			f.Refuse("material.PowerLaw.TemperatureSlope", p.TemperatureSlope, "1/K", "0 with a Shift, which stands in its place")
		}
		if p.Reference != 0 {
			f.Between("material.PowerLaw.Reference", p.Reference, lowestTemperature, highestTemperature, "K")
		}
	}
	p.Range.validate(&f, "material.PowerLaw")
	return f.Err()
}
