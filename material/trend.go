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
func (t Trend) At(temperature float64) (float64, error) {
	return t.at("material.Trend", "", temperature)
}

// at is At for a trend of the owner, of the name given.
func (t Trend) at(owner, name string, temperature float64) (float64, error) {
	if t.good() && temperature >= t.Low-kelvinSlack && temperature <= t.High+kelvinSlack {
		if value := t.value(temperature); value > 0 {
			return value, nil
		}
	}
	return 0, t.fault(of(owner, name), temperature)
}

// fault tells why at gives no value.
func (t Trend) fault(owner string, temperature float64) error {
	if t.unknown() {
		return fmt.Errorf("%w: %s", ErrNoData, owner)
	}
	var f input.Faults
	t.check(&f, owner)
	if !(temperature >= t.Low-kelvinSlack && temperature <= t.High+kelvinSlack) {
		f.Between(owner+": temperature", temperature, t.Low, t.High, "K")
	}
	if f.None() {
		f.Refuse(owner+": value", t.value(temperature), "", "above 0")
	}
	return f.Err()
}

// of joins an owner and a name for a message.
func of(owner, name string) string {
	if name == "" {
		return owner
	}
	return owner + " (" + name + ")"
}

// kelvinSlack is the rounding that degrees Celsius and back leave [K].
const kelvinSlack = 1e-9

func (t Trend) value(temperature float64) float64 {
	x, c := ToCelsius(temperature), t.Coefficients
	return c[0] + x*(c[1]+x*(c[2]+x*c[3]))
}

func (t Trend) unknown() bool { return t.Coefficients == [4]float64{} && t.Low == 0 && t.High == 0 }

func (t Trend) good() bool {
	good := t.Low >= lowestTemperature && t.High >= t.Low && t.High <= highestTemperature
	for _, c := range t.Coefficients {
		good = good && c >= -1e6 && c <= 1e6
	}
	return good
}

func (t Trend) check(f *input.Faults, owner string) {
	if t.unknown() || t.good() {
		return // before any name is put together, which would allocate
	}
	for _, c := range t.Coefficients {
		f.Between(owner+".Coefficients", c, -1e6, 1e6, "")
	}
	f.Between(owner+".Low", t.Low, lowestTemperature, highestTemperature, "K")
	f.Between(owner+".High", t.High, t.Low, highestTemperature, "K")
}
