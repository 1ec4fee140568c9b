package thermal

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

const (
	copperAt   = 293.15                                  // 20 °C, where data sheets state a winding's resistance [K]
	copperZero = copperAt - 1/material.CopperCoefficient // where the line meets zero [K]
)

// Winding is the copper of a motor as a heat source: all phases at one mean
// temperature, one resistance to the surroundings. A motor that stands still
// with one phase at the peak of the sine has the same loss, but all of it in
// that phase, whose copper becomes hotter than this mean.
type Winding struct {
	Resistance        float64 // of one phase at 20 °C, 1e-4 to 1e5 [Ω]
	Phases            int     // that carry the current, 1 to 12 [-]
	ThermalResistance float64 // from winding to ambient, motor mounted as it will be, 1e-3 to 1e4 [K/W]
	IronLoss          float64 // and other loss that does not follow the copper's temperature, 0 to 1e5 [W]
}

// Validate reports the fields out of range.
func (w Winding) Validate() error {
	var f input.Faults
	w.check(&f)
	return f.Err()
}

func (w *Winding) check(f *input.Faults) {
	w.checkSource(f)
	f.Between("thermal.Winding.ThermalResistance", w.ThermalResistance, leastResistance, mostResistance, "K/W")
}

// checkSource leaves the cooling out, for those who ask what it must be.
func (w *Winding) checkSource(f *input.Faults) {
	f.Between("thermal.Winding.Resistance", w.Resistance, 1e-4, 1e5, "Ω")
	f.Count("thermal.Winding.Phases", w.Phases, 1, 12)
	f.Between("thermal.Winding.IronLoss", w.IronLoss, 0, 1e5, "W")
}

// WindingState is what a winding settles to.
type WindingState struct {
	Temperature    float64  // mean of the copper [K]
	Loss           float64  // copper and iron [W]
	Resistance     float64  // of one hot phase [Ω]
	RunawayCurrent float64  // rms a phase, from which on there is no steady state, at most MostCurrent [A]
	Beyond         []string // in words, where the temperature leaves the range of the copper law; nil inside it
}

// hot is the resistance of one phase [Ω].
func (w *Winding) hot(temperature float64) float64 {
	return w.Resistance * (1 + material.CopperCoefficient*(temperature-copperAt))
}

func (w *Winding) loss(current, temperature float64) float64 {
	return float64(w.Phases)*current*current*w.hot(temperature) + w.IronLoss
}

// Steady returns the state a winding settles to at a current, rms a phase, 0 to
// MostCurrent [A], in surroundings at ambient, 200 to 473.15 [K]. Where there is
// none the error is a [*RunawayError].
func (w Winding) Steady(current, ambient float64) (s WindingState, err error) {
	var f input.Faults
	w.check(&f)
	checkCurrent(&f, "thermal.Winding.Steady: current", current)
	checkTemperature(&f, "thermal.Winding.Steady: ambient", ambient)
	if err = f.Err(); err != nil {
		return s, err
	}
	feedback := w.ThermalResistance * material.CopperCoefficient * float64(w.Phases) * current * current * w.Resistance
	if feedback >= 1 {
		return s, &RunawayError{Part: "winding", Current: current, Limit: w.runaway()}
	}
	s.Temperature = ambient + w.ThermalResistance*w.loss(current, ambient)/(1-feedback)
	s.Loss, s.Resistance = w.loss(current, s.Temperature), w.hot(s.Temperature)
	s.RunawayCurrent = w.runaway()
	s.Beyond = beyondLine("winding", s.Temperature, "copper taken as linear")
	return s, nil
}

// RunawayCurrent returns the rms current of a phase [A] from which on the
// winding has no steady temperature, 1/√(n·R₂₀·α·Rth), or MostCurrent where that
// is less.
func (w Winding) RunawayCurrent() (float64, error) {
	if err := w.Validate(); err != nil {
		return 0, err
	}
	return w.runaway(), nil
}

func (w *Winding) runaway() float64 {
	return runawayCurrent(float64(w.Phases) * w.Resistance * material.CopperCoefficient * w.ThermalResistance)
}

// LargestCurrent returns the rms current of a phase [A] at which the winding
// reaches limit [K] in surroundings at ambient [K]. It is below RunawayCurrent.
// Where iron loss alone makes it hotter than limit the error is ErrTooHot.
func (w Winding) LargestCurrent(limit, ambient float64) (float64, error) {
	var f input.Faults
	w.check(&f)
	checkTemperature(&f, "thermal.Winding.LargestCurrent: limit", limit)
	checkTemperature(&f, "thermal.Winding.LargestCurrent: ambient", ambient)
	if err := f.Err(); err != nil {
		return 0, err
	}
	room := (limit-ambient)/w.ThermalResistance - w.IronLoss
	if room < 0 {
		return 0, fmt.Errorf("%w: winding at %.6g °C, limit %.6g °C", ErrTooHot,
			material.ToCelsius(ambient+w.IronLoss*w.ThermalResistance), material.ToCelsius(limit))
	}
	return math.Sqrt(room / (float64(w.Phases) * w.hot(limit))), nil
}

// LargestResistance returns the resistance to the surroundings [K/W] that brings
// the winding just to limit [K] at a current, rms a phase [A], with ambient [K]
// around it; ThermalResistance need not be known. It is at most 1e4 K/W. Where
// ambient is not below limit the error is ErrTooHot.
func (w Winding) LargestResistance(current, limit, ambient float64) (float64, error) {
	var f input.Faults
	w.checkSource(&f)
	checkCurrent(&f, "thermal.Winding.LargestResistance: current", current)
	checkTemperature(&f, "thermal.Winding.LargestResistance: limit", limit)
	checkTemperature(&f, "thermal.Winding.LargestResistance: ambient", ambient)
	if err := f.Err(); err != nil {
		return 0, err
	}
	return largestResistance("winding", w.loss(current, limit), limit, ambient)
}

// Utilisation compares a current, rms a phase [A], with the largest that keeps
// the winding at limit [K] in surroundings at ambient [K]. Where even no current
// is cool enough the capacity is 0. It errs on arguments out of range.
func (w Winding) Utilisation(current, limit, ambient float64) (material.Utilisation, error) {
	largest, err := w.LargestCurrent(limit, ambient)
	var f input.Faults
	checkCurrent(&f, "thermal.Winding.Utilisation: current", current)
	if !errors.Is(err, ErrTooHot) {
		f.Add(err)
	}
	if err := f.Err(); err != nil {
		return material.Utilisation{}, err
	}
	return material.Utilisation{
		Part: "motor winding", Demand: current, Capacity: largest, Unit: "A",
		Method: "heat balance of the winding, copper linear in temperature",
	}, nil
}

// RiseByResistance returns by how much a copper winding is warmer than its
// surroundings [K], from its resistance cold and hot, 1e-6 to 1e6 [Ω]:
//
//	rise = (hot/cold)·(234.5 + t₁) − 234.5 − tₐ   in °C
//
// with t₁ the temperature at which cold was measured and tₐ that of the
// surroundings at the end of the test, both [K] here, 200 to 473.15. Take tₐ at
// the end: a room that warmed by 5 K takes 5 K off the rise. A resistance that
// means copper outside that range is refused.
//
// Source: IEC 60034-1, resistance method, from memory.
func RiseByResistance(cold, hot, coldTemperature, ambientAtEnd float64) (float64, error) {
	var f input.Faults
	f.Between("thermal.RiseByResistance: cold", cold, 1e-6, 1e6, "Ω")
	f.Between("thermal.RiseByResistance: hot", hot, 1e-6, 1e6, "Ω")
	checkTemperature(&f, "thermal.RiseByResistance: coldTemperature", coldTemperature)
	checkTemperature(&f, "thermal.RiseByResistance: ambientAtEnd", ambientAtEnd)
	if f.None() {
		perKelvin := cold / (coldTemperature - copperZero)
		f.Between("thermal.RiseByResistance: hot", hot,
			perKelvin*(lowestTemperature-copperZero), perKelvin*(highestTemperature-copperZero), "Ω")
	}
	if err := f.Err(); err != nil {
		return 0, err
	}
	return hot/cold*(coldTemperature-copperZero) + copperZero - ambientAtEnd, nil
}
