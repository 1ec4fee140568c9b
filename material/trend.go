package material

import (
	"fmt"

	"meltflight/internal/input"
)

// Trend is how a property changes with temperature, as the Eurocodes print it: a
// polynomial in degrees Celsius, c₀ + c₁ϑ + c₂ϑ² + c₃ϑ³. The zero Trend is one that is
// not known.
type Trend struct {
	Coefficients [4]float64 // c₀ to c₃, each −1e6 to 1e6, in the property's unit per °C to the power
	Low, High    float64    // where it holds, 100 to 1500 [K]
	Source       string
}

// At returns the property at a temperature [K]. It errs with [ErrNoData] if the
// trend is not known, and on a temperature outside it, a coefficient out of range
// or a value that is not positive.
func (t Trend) At(temperature float64) (float64, error) { return t.at("material.Trend", temperature) }

func (t Trend) at(owner string, temperature float64) (float64, error) {
	if t.unknown() {
		return 0, fmt.Errorf("%w: %s", ErrNoData, owner)
	}
	var f input.Faults
	t.check(&f, owner)
	const slack = 1e-9 // Celsius and back leaves rounding [K]
	if !(temperature >= t.Low-slack && temperature <= t.High+slack) {
		f.Between(owner+": temperature", temperature, t.Low, t.High, "K")
	}
	if err := f.Err(); err != nil {
		return 0, err
	}
	value := t.value(temperature)
	if !(value > 0) {
		f.Refuse(owner+": value", value, "", "above 0")
		return 0, f.Err()
	}
	return value, nil
}

func (t Trend) value(temperature float64) float64 {
	x, c := ToCelsius(temperature), t.Coefficients
	return c[0] + x*(c[1]+x*(c[2]+x*c[3]))
}

func (t Trend) unknown() bool { return t.Coefficients == [4]float64{} && t.Low == 0 && t.High == 0 }

func (t Trend) check(f *input.Faults, owner string) {
	if t.unknown() {
		return
	}
	good := t.Low >= lowestTemperature && t.High >= t.Low && t.High <= highestTemperature
	for _, c := range t.Coefficients {
		good = good && c >= -1e6 && c <= 1e6
	}
	if good {
		return // before any name is put together, which would allocate
	}
	for _, c := range t.Coefficients {
		f.Between(owner+".Coefficients", c, -1e6, 1e6, "")
	}
	f.Between(owner+".Low", t.Low, lowestTemperature, highestTemperature, "K")
	f.Between(owner+".High", t.High, t.Low, highestTemperature, "K")
}
