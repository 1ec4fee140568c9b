package material

import (
	"math"

	"meltflight/internal/input"
)

// Shift is a law of time-temperature superposition: heating a melt shifts its
// whole flow curve, η(γ̇, T) = aT·η(aT·γ̇, reference). In a [PowerLaw] alone it moves
// the consistency, as measurements at equal rate give it: there aT is that of the
// flow curve to the power n. A law whose Shift is nil was measured at one temperature
// and knows no other: give it a Range, so that a result can say so. Log and Slope are kernels: they
// expect a valid law and a temperature of 100 to 1500 K.
type Shift interface {
	// Log returns ln aT at a temperature [K], 0 at the reference, within ±100 [-].
	Log(temperature float64) float64
	// Slope returns how ln aT changes with temperature there [1/K].
	Slope(temperature float64) float64
	// Validate reports the constants that no melt can have.
	Validate() error
}

// GasConstant is the molar gas constant R, exact in the SI since 2019 [J/(mol·K)].
const GasConstant = 8.31446261815324

// Arrhenius is the shift of a melt far above its glass temperature, some 100 K or
// more: polyolefins, polyamides.
//
//	ln aT = E/R·(1/T − 1/T₀)
//
// Energies run from 26 kJ/mol for HDPE and 40 for PP to 100 and more for PS
// and ABS, where [WLF] does better (typical, from memory).
type Arrhenius struct {
	ActivationEnergy float64 `json:"activation_energy_j_per_mol"` // E, at equal stress, in a PowerLaw at equal rate, 0 to 1e6 [J/mol]
	Reference        float64 `json:"reference_k"`                 // T₀, where aT is 1; 100 to 1500 [K]
}

// Log returns ln aT [-].
func (a Arrhenius) Log(temperature float64) float64 {
	return held(a.ActivationEnergy / GasConstant * (1/temperature - 1/a.Reference))
}

// Slope returns d ln aT/dT [1/K].
func (a Arrhenius) Slope(temperature float64) float64 {
	if math.Abs(a.Log(temperature)) == mostExponent {
		return 0
	}
	return -a.ActivationEnergy / (GasConstant * temperature * temperature)
}

// Validate reports constants out of range.
func (a Arrhenius) Validate() error {
	var f input.Faults
	f.Between("material.Arrhenius.ActivationEnergy", a.ActivationEnergy, 0, 1e6, "J/mol")
	f.Between("material.Arrhenius.Reference", a.Reference, lowestTemperature, highestTemperature, "K")
	return f.Err()
}

// WLF is the shift of a melt within some 100 K of its glass temperature: PS, ABS, PC.
//
//	log₁₀ aT = −C1·(T−T₀)/(C2+T−T₀)
//
// M. L. Williams, R. F. Landel and J. D. Ferry, J. Am. Chem. Soc. 77 (1955) 3701,
// from memory, with C1 = 17.44 and C2 = 51.6 K from the glass temperature, or
// 8.86 and 101.6 K from some 50 K above it, for want of a melt's own. At and below
// its pole, T₀−C2, the melt is a solid and aT is held at e¹⁰⁰.
type WLF struct {
	C1        float64 `json:"c1"`          // of the decimal logarithm, 0 to 100 [-]
	C2        float64 `json:"c2_k"`        // 1 to 500 [K]
	Reference float64 `json:"reference_k"` // T₀, where aT is 1; 100 to 1500 [K]
}

// Log returns ln aT [-].
func (w WLF) Log(temperature float64) float64 {
	above := temperature - w.Reference
	if w.C2+above <= 0 {
		return mostExponent
	}
	return held(-math.Ln10 * w.C1 * above / (w.C2 + above))
}

// Slope returns d ln aT/dT [1/K].
func (w WLF) Slope(temperature float64) float64 {
	if math.Abs(w.Log(temperature)) == mostExponent {
		return 0
	}
	span := w.C2 + temperature - w.Reference
	return -math.Ln10 * w.C1 * w.C2 / (span * span)
}

// Referred returns the same shift with aT = 1 at another temperature [K] above the
// pole, T₀−C2: C1·C2 and C2−T₀ stay. At the pole or below it what comes out is no
// shift, and Validate refuses it. Constants given from a standard temperature, as by
// Rao and Schumacher, are referred to that of the measurement by it.
func (w WLF) Referred(reference float64) WLF {
	span := w.C2 + reference - w.Reference
	return WLF{C1: w.C1 * w.C2 / span, C2: span, Reference: reference}
}

// Validate reports constants out of range.
func (w WLF) Validate() error {
	var f input.Faults
	f.Between("material.WLF.C1", w.C1, 0, 100, "")
	f.Between("material.WLF.C2", w.C2, 1, 500, "K")
	f.Between("material.WLF.Reference", w.Reference, lowestTemperature, highestTemperature, "K")
	return f.Err()
}

// held keeps a logarithm where its exponential can be worked with.
func held(logarithm float64) float64 {
	return math.Max(-mostExponent, math.Min(mostExponent, logarithm))
}

func logShift(s Shift, temperature float64) float64 {
	if s == nil {
		return 0
	}
	return s.Log(temperature)
}

func shiftSlope(s Shift, temperature float64) float64 {
	if s == nil {
		return 0
	}
	return s.Slope(temperature)
}
