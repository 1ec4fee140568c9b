package material

import (
	"math"

	"meltflight/internal/input"
)

// Powers of [Mixed] and [Blend]: which quantity of two blended melts adds by mass.
const (
	Logarithmic   = 0.0       // logarithms add (Arrhenius): viscosity and melt-flow rate of like melts
	KendallMonroe = 1.0 / 3   // cube roots of viscosities add (J. Kendall and K. P. Monroe, J. Am. Chem. Soc. 39 (1917) 1787, from memory)
	ByMolarMass   = 1.0 / 3.4 // molar masses add, of which η₀ is the 3.4th power
	Linear        = 1.0       // specific heat, heat of fusion; the highest a viscosity can be
	Reciprocal    = -1.0      // density, since volumes add; the lowest a viscosity can be (layers)
)

// Mixed returns a property of a blend from those of its two parts, 1e-30 to 1e30 in
// any unit, and the mass share of the second, 0 to 1: the weighted power mean
//
//	x^p = (1−w)·x₁^p + w·x₂^p,  ln x = (1−w)·ln x₁ + w·ln x₂ for p = 0
//
// with a power p of −1 to 1. It errs on values out of range. The melt-flow rate of
// a blend takes Logarithmic (L. E. Nielsen, Polymer Rheology (1977), from memory), its
// density Reciprocal, its heats Linear. The logarithmic rule holds for grades of one
// resin; immiscible resins, such as PP in PE, stray to either side of it.
func Mixed(first, second, share, power float64) (float64, error) {
	var f input.Faults
	f.Between("material.Mixed: first", first, 1e-30, 1e30, "")
	f.Between("material.Mixed: second", second, 1e-30, 1e30, "")
	f.Between("material.Mixed: share", share, 0, 1, "")
	f.Between("material.Mixed: power", power, -1, 1, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return mixed(first, second, share, power), nil
}

// mixed keeps its digits for any power and ratio.
func mixed(first, second, share, power float64) float64 {
	switch {
	case share == 0 || first == second:
		return first
	case share == 1:
		return second
	}
	ratio := math.Log(second / first)
	switch {
	case math.Abs(power) < smallestPower:
		return first * math.Exp(share*ratio)
	case power*ratio < 0: // from the other end, where no difference is taken
		first, share, ratio = second, 1-share, -ratio
	}
	return first * math.Exp(math.Log1p(share*math.Expm1(power*ratio))/power)
}

const smallestPower = 1e-9 // below it a power is none, to rounding

// Blend is the melt of two melts mixed, such as regrind with virgin pellets, at
// equal rate, temperature and pressure. Its zero Power is the logarithmic rule;
// see [Mixed] for where that holds.
type Blend struct {
	First  Viscosity // law of the one melt
	Second Viscosity // law of the other
	Share  float64   // mass share of the second, 0 to 1 [-]
	Power  float64   // of the mixing rule, −1 to 1, Logarithmic to begin with [-]
}

// At returns the viscosity [Pa·s].
func (b Blend) At(shearRate, temperature, pressure float64) float64 {
	return mixed(b.First.At(shearRate, temperature, pressure), b.Second.At(shearRate, temperature, pressure), b.Share, b.Power)
}

// Slopes returns the exact derivatives of At.
func (b Blend) Slopes(shearRate, temperature, pressure float64) Slopes {
	weight := b.Share // of the second in the logarithm of the mean
	if math.Abs(b.Power) >= smallestPower && b.Share > 0 {
		ratio := b.First.At(shearRate, temperature, pressure) / b.Second.At(shearRate, temperature, pressure)
		weight = 1 / (1 + (1/b.Share-1)*math.Pow(ratio, b.Power))
	}
	first, second := b.First.Slopes(shearRate, temperature, pressure), b.Second.Slopes(shearRate, temperature, pressure)
	return Slopes{
		Rate:        first.Rate + weight*(second.Rate-first.Rate),
		Temperature: first.Temperature + weight*(second.Temperature-first.Temperature),
		Pressure:    first.Pressure + weight*(second.Pressure-first.Pressure),
	}
}

// Domain returns where both laws were fitted; where they have nothing in common, its
// low end lies above its high one, and everything is beyond it.
func (b Blend) Domain() Domain {
	x, y := b.First.Domain(), b.Second.Domain()
	switch (Domain{}) {
	case x:
		return y
	case y:
		return x
	}
	return Domain{
		RateLow: math.Max(x.RateLow, y.RateLow), RateHigh: math.Min(x.RateHigh, y.RateHigh),
		TemperatureLow: math.Max(x.TemperatureLow, y.TemperatureLow), TemperatureHigh: math.Min(x.TemperatureHigh, y.TemperatureHigh),
	}
}

// Validate reports a missing law, the faults of either and a share or power out of range.
func (b Blend) Validate() error {
	var f input.Faults
	for _, law := range [...]struct {
		name string
		law  Viscosity
	}{{"material.Blend.First", b.First}, {"material.Blend.Second", b.Second}} {
		if law.law == nil {
			f.Add(&input.Word{Name: law.name, Value: "nil", Allowed: "a law such as material.PowerLaw"})
		} else {
			f.Add(law.law.Validate())
		}
	}
	f.Between("material.Blend.Share", b.Share, 0, 1, "")
	f.Between("material.Blend.Power", b.Power, -1, 1, "")
	return f.Err()
}
