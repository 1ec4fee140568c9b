package thermal

import (
	"math"

	"meltflight/internal/input"
	"meltflight/internal/root"
	"meltflight/material"
)

// Platinum is a resistance thermometer by its resistance at 0 °C, 1 to 1e5 [Ω]: 100 of a Pt100.
type Platinum float64

// The law of Callendar and Van Dusen by IEC 60751 (2022), R = R₀·(1 + A·t + B·t² + C·(t − 100)·t³), t in
// °C, the last only below 0. Tables from before 1995 (on the scale of 1968) give 175.84 Ω at
// 200 °C where this is 175.856: 0.04 K.
const (
	platinumA = 3.9083e-3
	platinumB = -5.775e-7
	platinumC = -4.183e-12

	coldestPlatinum, hottestPlatinum = 73.1, 1123.2 // −200 and 850 °C, rounded outwards [K]
)

func (p Platinum) check(f *input.Faults) {
	f.Between("thermal.Platinum", float64(p), 1, 1e5, "Ω")
}

func platinum(t float64) float64 {
	r := t * (platinumA + t*platinumB)
	if t < 0 {
		r += platinumC * (t - 100) * t * t * t
	}
	return 1 + r
}

// Resistance returns that of the sensor [Ω] at a temperature, 73.1 to 1123.2 [K].
func (p Platinum) Resistance(temperature float64) (float64, error) {
	var f input.Faults
	p.check(&f)
	f.Between("thermal.Platinum.Resistance: temperature", temperature, coldestPlatinum, hottestPlatinum, "K")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return float64(p) * platinum(material.ToCelsius(temperature)), nil
}

// Temperature returns that of a resistance [Ω], 0.185 to 3.905 times that at 0 °C: exact
// above 0 °C, where the law is solved by its root, found by search below [K]. Two wires add
// their resistance: 0.4 Ω are 1 K of a Pt100.
func (p Platinum) Temperature(resistance float64) (float64, error) {
	var f input.Faults
	p.check(&f)
	if f.None() {
		least, most := float64(p)*platinum(coldestPlatinum-273.15), float64(p)*platinum(hottestPlatinum-273.15)
		f.Between("thermal.Platinum.Temperature: resistance", resistance, least, most, "Ω")
	}
	if err := f.Err(); err != nil {
		return 0, err
	}
	above := resistance/float64(p) - 1
	if above >= 0 {
		return material.Celsius(2 * above / (platinumA + math.Sqrt(platinumA*platinumA+4*platinumB*above))), nil
	}
	t, err := root.Find(func(t float64) float64 { return platinum(t) - 1 - above }, coldestPlatinum-273.15, 0, 1e-15)
	if err != nil {
		return 0, err
	}
	return material.Celsius(t), nil
}

// PlatinumTolerance returns by how much a sensor of class A, or B where not, may be off at a temperature, 243.15
// to 573.15 [K]: 0.15 + 0.002·|t| or 0.30 + 0.005·|t|, t in °C (IEC 60751, formula from memory) [K].
func PlatinumTolerance(temperature float64, classA bool) (float64, error) {
	var f input.Faults
	f.Between("thermal.PlatinumTolerance: temperature", temperature, 243.15, 573.15, "K")
	if err := f.Err(); err != nil {
		return 0, err
	}
	t := math.Abs(material.ToCelsius(temperature))
	if classA {
		return 0.15 + 0.002*t, nil
	}
	return 0.30 + 0.005*t, nil
}

// SteinhartHart is a thermistor by 1/T = A + B·ln R + C·(ln R)³, R in Ω, T in K.
//
// Source: J. S. Steinhart and S. R. Hart, Calibration curves for thermistors, Deep-Sea Research 15
// (1968) 497 (from memory).
type SteinhartHart struct {
	A float64 // -0.1 to 0.1 [1/K]
	B float64 // 1e-6 to 0.1 [1/K]
	C float64 // 0, of a Beta law, to 1e-3 [1/K]
}

// Beta returns a thermistor by its resistance, 0.1 to 1e8 [Ω], at a temperature, 200 to 600 [K], and β,
// 100 to 1e5 [K]: R = R₀·e^(β·(1/T − 1/T₀)), good near T₀ and some kelvins off 100 K away.
func Beta(resistance, temperature, beta float64) (SteinhartHart, error) {
	var f input.Faults
	f.Between("thermal.Beta: resistance", resistance, 0.1, 1e8, "Ω")
	f.Between("thermal.Beta: temperature", temperature, 200, 600, "K")
	f.Between("thermal.Beta: beta", beta, 100, 1e5, "K")
	if err := f.Err(); err != nil {
		return SteinhartHart{}, err
	}
	return SteinhartHart{A: 1/temperature - math.Log(resistance)/beta, B: 1 / beta}, nil
}

// Validate reports the fields out of range.
func (s SteinhartHart) Validate() error {
	var f input.Faults
	s.check(&f)
	return f.Err()
}

func (s *SteinhartHart) check(f *input.Faults) {
	f.Between("thermal.SteinhartHart.A", s.A, -0.1, 0.1, "1/K")
	f.Between("thermal.SteinhartHart.B", s.B, 1e-6, 0.1, "1/K")
	f.Between("thermal.SteinhartHart.C", s.C, 0, 1e-3, "1/K")
}

// Temperature returns that of a resistance, 1e-3 to 1e9 [Ω], within 100 to 1000 [K].
func (s SteinhartHart) Temperature(resistance float64) (float64, error) {
	var f input.Faults
	s.check(&f)
	f.Between("thermal.SteinhartHart.Temperature: resistance", resistance, 1e-3, 1e9, "Ω")
	if err := f.Err(); err != nil {
		return 0, err
	}
	l := math.Log(resistance)
	inverse := s.A + l*(s.B+s.C*l*l)
	if !(inverse >= 1e-3 && inverse <= 1e-2) {
		f.Refuse("thermal.SteinhartHart.Temperature: resistance", resistance, "Ω", "one that stands for 100 to 1000 K")
		return 0, f.Err()
	}
	return 1 / inverse, nil
}

// Resistance returns that of a temperature, 100 to 1000 [K], within 1e-3 to 1e9 [Ω].
func (s SteinhartHart) Resistance(temperature float64) (float64, error) {
	var f input.Faults
	s.check(&f)
	f.Between("thermal.SteinhartHart.Resistance: temperature", temperature, 100, 1000, "K")
	if err := f.Err(); err != nil {
		return 0, err
	}
	// The cubic grows throughout, since B is above 0 and C not below.
	miss := func(l float64) float64 { return s.A + l*(s.B+s.C*l*l) - 1/temperature }
	lo, hi := math.Log(1e-3), math.Log(1e9)
	low, high := miss(lo), miss(hi)
	if low > 0 || high < 0 {
		f.Refuse("thermal.SteinhartHart.Resistance: temperature", temperature, "K", "one that stands for 0.001 to 1e+09 Ω")
		return 0, f.Err()
	}
	l, err := root.Between(miss, lo, low, hi, high, 1e-15)
	if err != nil {
		return 0, err
	}
	return math.Exp(l), nil
}

// FitSteinhartHart returns the thermistor through three readings: resistances, 1e-3 to 1e9 [Ω], falling
// as temperatures, 100 to 1000 [K], rise. It errs where no such law goes through them; a printed set
// that does not, 2045, 100 and 15 Ω at −50, 25 and 100 °C with rounded coefficients, is 0.8 K off.
func FitSteinhartHart(resistances, temperatures [3]float64) (SteinhartHart, error) {
	var f input.Faults
	for i := range 3 {
		f.Between("thermal.FitSteinhartHart: resistances", resistances[i], 1e-3, 1e9, "Ω")
		f.Between("thermal.FitSteinhartHart: temperatures", temperatures[i], 100, 1000, "K")
		if i > 0 && f.None() {
			if !(temperatures[i] > temperatures[i-1]) {
				f.Refuse("thermal.FitSteinhartHart: temperatures", temperatures[i], "K", "above the one before")
			}
			if !(resistances[i] < resistances[i-1]) {
				f.Refuse("thermal.FitSteinhartHart: resistances", resistances[i], "Ω", "below the one before")
			}
		}
	}
	if err := f.Err(); err != nil {
		return SteinhartHart{}, err
	}
	l1, l2, l3 := math.Log(resistances[0]), math.Log(resistances[1]), math.Log(resistances[2])
	y1, y2, y3 := 1/temperatures[0], 1/temperatures[1], 1/temperatures[2]
	near, far := (y2-y1)/(l2-l1), (y3-y1)/(l3-l1)
	c := (far - near) / ((l3 - l2) * (l1 + l2 + l3))
	b := near - c*(l1*l1+l1*l2+l2*l2)
	s := SteinhartHart{A: y1 - l1*(b+c*l1*l1), B: b, C: c}
	s.check(&f)
	if err := f.Err(); err != nil {
		return SteinhartHart{}, err
	}
	return s, nil
}
