package material

import (
	"fmt"

	"meltflight/internal/input"
)

// PVT is a law for the specific volume of a plastic over temperature and pressure.
//
// Temperatures are in kelvins and pressures absolute, as in the published fits (the
// difference to atmospheric shifts a volume by 1e-4). The methods are kernels for
// solvers: they expect a valid law and arguments in or near its domain. People ask
// through [Polymer.DensityAt], which checks.
type PVT interface {
	// SpecificVolume returns v [m³/kg].
	SpecificVolume(temperature, pressure float64) float64
	// Compressibility returns −(∂v/∂p)/v at constant temperature [1/Pa], exactly.
	Compressibility(temperature, pressure float64) float64
	// Expansion returns (∂v/∂T)/v at constant pressure [1/K], exactly.
	Expansion(temperature, pressure float64) float64
	// Domain returns where the law was fitted.
	Domain() PVTDomain
	// Validate reports the constants that no plastic can have.
	Validate() error
}

// PVTDomain is the range of temperature and pressure over which a law of specific
// volume was fitted. The zero PVTDomain states nothing and covers everything.
type PVTDomain struct {
	TemperatureLow  float64 `json:"temperature_low_k"`  // 100 to 1500 [K]
	TemperatureHigh float64 `json:"temperature_high_k"` // TemperatureLow to 1500 [K]
	PressureHigh    float64 `json:"pressure_high_pa"`   // from 0 up to this, absolute, to 1e10 [Pa]
}

// BeyondTemperature says in words how a temperature [K] leaves the domain; it is
// empty inside.
func (d PVTDomain) BeyondTemperature(temperature float64) string {
	const slack = 1e-9 // Celsius and back leaves rounding [K]
	if d == (PVTDomain{}) || temperature >= d.TemperatureLow-slack && temperature <= d.TemperatureHigh+slack {
		return ""
	}
	return fmt.Sprintf("%.4g °C, specific volume fitted from %.4g to %.4g °C",
		ToCelsius(temperature), ToCelsius(d.TemperatureLow), ToCelsius(d.TemperatureHigh))
}

// BeyondPressure says in words how an absolute pressure [Pa] leaves the domain; it
// is empty inside.
func (d PVTDomain) BeyondPressure(pressure float64) string {
	if d == (PVTDomain{}) || pressure >= 0 && pressure <= d.PressureHigh {
		return ""
	}
	return fmt.Sprintf("%.4g MPa, specific volume fitted up to %.4g MPa", pressure*1e-6, d.PressureHigh*1e-6)
}

func (d PVTDomain) validate(f *input.Faults, owner string) {
	if d == (PVTDomain{}) || d.TemperatureLow >= lowestTemperature && d.TemperatureHigh >= d.TemperatureLow &&
		d.TemperatureHigh <= highestTemperature && d.PressureHigh >= 0 && d.PressureHigh <= 1e10 {
		return // before any name is put together, which would allocate
	}
	f.Between(owner+".Range.TemperatureLow", d.TemperatureLow, lowestTemperature, highestTemperature, "K")
	f.Between(owner+".Range.TemperatureHigh", d.TemperatureHigh, d.TemperatureLow, highestTemperature, "K")
	f.Between(owner+".Range.PressureHigh", d.PressureHigh, 0, 1e10, "Pa")
}
