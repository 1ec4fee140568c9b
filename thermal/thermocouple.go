package thermal

import (
	"math"

	"meltflight/internal/input"
	"meltflight/internal/root"
	"meltflight/material"
)

// Thermocouple is a pair of wires.
type Thermocouple int

const (
	TypeK Thermocouple = 1 + iota // nickel-chromium and nickel-aluminium, 0 to 1372 °C here
	TypeJ                         // iron and constantan, 0 to 760 °C here
)

// Polynomials of the electromotive force [mV] by °C, above 0 °C, with the reference at 0 °C: IEC 60584-1,
// as NIST's database 60 prints them (digits from memory, held against values at nine temperatures).
var (
	voltsK = [10]float64{-0.176004136860e-01, 0.389212049750e-01, 0.185587700320e-04, -0.994575928740e-07, 0.318409457190e-09,
		-0.560728448890e-12, 0.560750590590e-15, -0.320207200030e-18, 0.971511471520e-22, -0.121047212750e-25}
	voltsJ = [9]float64{0, 0.503811878150e-01, 0.304758369300e-04, -0.856810657200e-07, 0.132281952950e-09,
		-0.170529583370e-12, 0.209480906970e-15, -0.125383953360e-18, 0.156317256970e-22}
)

const coldestCouple = 273.15 // [K]

func (k Thermocouple) hottest() float64 {
	if k == TypeJ {
		return 1033.15
	}
	return 1645.15
}

func (k Thermocouple) check(f *input.Faults) {
	f.Count("thermal.Thermocouple", int(k), int(TypeK), int(TypeJ))
}

// volts returns that against 0 °C [V] at °C.
func (k Thermocouple) volts(t float64) (sum float64) {
	if k == TypeJ {
		for i := len(voltsJ) - 1; i >= 0; i-- {
			sum = sum*t + voltsJ[i]
		}
		return sum / 1000
	}
	for i := len(voltsK) - 1; i >= 0; i-- {
		sum = sum*t + voltsK[i]
	}
	const height, narrow, middle = 0.118597600000, -0.118343200000e-03, 126.9686
	return (sum + height*math.Exp(narrow*(t-middle)*(t-middle))) / 1000
}

// Voltage returns what the pair gives [V] with its tip at one temperature and its terminals, the cold
// junction, at another, each from 273.15 to 1645.15 of type K, to 1033.15 of type J [K].
func (k Thermocouple) Voltage(tip, cold float64) (float64, error) {
	var f input.Faults
	k.check(&f)
	f.Between("thermal.Thermocouple.Voltage: tip", tip, coldestCouple, k.hottest(), "K")
	f.Between("thermal.Thermocouple.Voltage: cold", cold, coldestCouple, k.hottest(), "K")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return k.volts(material.ToCelsius(tip)) - k.volts(material.ToCelsius(cold)), nil
}

// Temperature returns that of the tip [K] by the voltage [V] and the cold junction's temperature, in the range
// of [Thermocouple.Voltage]: the cold junction's voltage is added, not its temperature, and the
// polynomial turned round by search, where the inverse polynomials in use are off by up to 0.05 K. Reversed
// in a connector, the pair reads falling where the barrel gets hotter, and the heater stays on.
func (k Thermocouple) Temperature(voltage, cold float64) (float64, error) {
	var f input.Faults
	k.check(&f)
	f.Between("thermal.Thermocouple.Temperature: cold", cold, coldestCouple, k.hottest(), "K")
	var offset, top float64
	if f.None() {
		offset = k.volts(material.ToCelsius(cold))
		top = material.ToCelsius(k.hottest())
		f.Between("thermal.Thermocouple.Temperature: voltage", voltage, k.volts(0)-offset, k.volts(top)-offset, "V")
	}
	if err := f.Err(); err != nil {
		return 0, err
	}
	sought := voltage + offset
	miss := func(t float64) float64 { return k.volts(t) - sought }
	low, high := miss(0), miss(top)
	if low > 0 || high < 0 { // by rounding, at an end
		if low > 0 {
			return coldestCouple, nil
		}
		return k.hottest(), nil
	}
	t, err := root.Between(miss, 0, low, top, high, 1e-15)
	if err != nil {
		return 0, err
	}
	return material.Celsius(t), nil
}
