package material

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// Viscosity is a law for the shear viscosity of a melt.
//
// Shear rates are true rates at the point considered (not apparent wall rates)
// and enter by their magnitude; a rate below 1e-9 1/s counts as 1e-9 1/s, where
// a power law would otherwise grow without bound. At and Slopes are kernels for
// solvers: they expect a valid law and finite arguments. People ask through
// [Polymer.ViscosityAt], which checks.
type Viscosity interface {
	// At returns the viscosity [Pa·s] at a shear rate [1/s], a temperature [K]
	// and a pressure above atmospheric [Pa].
	At(shearRate, temperature, pressure float64) float64
	// Slopes returns how the logarithm of the viscosity changes there.
	Slopes(shearRate, temperature, pressure float64) Slopes
	// Domain returns where the law was fitted.
	Domain() Domain
	// Validate reports the constants that no melt can have.
	Validate() error
}

// Superposed is a law whose flow curves at all temperatures and pressures are one
// curve, shifted: η = a·f(a·γ̇), so that at equal stress rates go as 1/a. A solver may
// then tabulate it once. Blends of laws that shift differently are not.
type Superposed interface {
	Viscosity
	// LogShift returns ln a at a temperature [K] and a pressure above atmospheric
	// [Pa], up to a constant of the law [-].
	LogShift(temperature, pressure float64) float64
}

// Slopes are the derivatives of the natural logarithm of viscosity.
type Slopes struct {
	Rate        float64 // by the logarithm of shear rate: local power-law index less one [-]
	Temperature float64 // by temperature [1/K]
	Pressure    float64 // by pressure [1/Pa]
}

// floored returns a law's slope by rate, which is 0 below the lowest rate, where
// viscosity no longer follows.
func floored(shearRate, slope float64) float64 {
	if math.Abs(shearRate) < lowestRate {
		return 0
	}
	return slope
}

// Index returns the local power-law index n, 1 for a Newtonian melt [-].
func (s Slopes) Index() float64 { return 1 + s.Rate }

// Domain is the range of shear rate and temperature over which a viscosity law
// was fitted to measurements. The zero Domain states nothing and covers everything.
type Domain struct {
	RateLow         float64 `json:"rate_low_per_s"`     // shear rate, 0 to 1e9 [1/s]
	RateHigh        float64 `json:"rate_high_per_s"`    // RateLow to 1e9 [1/s]
	TemperatureLow  float64 `json:"temperature_low_k"`  // 100 to 1500 [K]
	TemperatureHigh float64 `json:"temperature_high_k"` // TemperatureLow to 1500 [K]
}

// BeyondTemperature says in words how a temperature [K] leaves the domain; it is
// empty inside.
func (d Domain) BeyondTemperature(temperature float64) string {
	const slack = 1e-9 // Celsius and back leaves rounding [K]
	if d == (Domain{}) || temperature >= d.TemperatureLow-slack && temperature <= d.TemperatureHigh+slack {
		return ""
	}
	if d.TemperatureLow > d.TemperatureHigh {
		return fmt.Sprintf("melt at %.4g °C, blended viscosity laws have no temperature in common", ToCelsius(temperature))
	}
	return fmt.Sprintf("melt at %.4g °C, viscosity law fitted from %.4g to %.4g °C",
		ToCelsius(temperature), ToCelsius(d.TemperatureLow), ToCelsius(d.TemperatureHigh))
}

// BeyondRate says in words how a shear rate [1/s] leaves the domain; it is empty inside.
func (d Domain) BeyondRate(shearRate float64) string {
	shearRate = math.Abs(shearRate)
	if d == (Domain{}) || shearRate >= d.RateLow && shearRate <= d.RateHigh {
		return ""
	}
	if d.RateLow > d.RateHigh {
		return fmt.Sprintf("shear rate %.3g 1/s, blended viscosity laws have no shear rate in common", shearRate)
	}
	return fmt.Sprintf("shear rate %.3g 1/s, viscosity law fitted from %.3g to %.3g 1/s",
		shearRate, d.RateLow, d.RateHigh)
}

func (d Domain) validate(f *input.Faults, owner string) {
	const mostRate = 1e9
	if d == (Domain{}) || d.RateLow >= 0 && d.RateHigh >= d.RateLow && d.RateHigh <= mostRate &&
		d.TemperatureLow >= lowestTemperature && d.TemperatureHigh >= d.TemperatureLow && d.TemperatureHigh <= highestTemperature {
		return // before any name is put together, which would allocate
	}
	f.Between(owner+".Range.RateLow", d.RateLow, 0, mostRate, "1/s")
	f.Between(owner+".Range.RateHigh", d.RateHigh, d.RateLow, mostRate, "1/s")
	f.Between(owner+".Range.TemperatureLow", d.TemperatureLow, lowestTemperature, highestTemperature, "K")
	f.Between(owner+".Range.TemperatureHigh", d.TemperatureHigh, d.TemperatureLow, highestTemperature, "K")
}

const (
	lowestTemperature  = 100  // [K]
	highestTemperature = 1500 // [K]
	lowestRate         = 1e-9 // below it a rate is no flow [1/s]
)
