package material

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// crossA2 is the constant that the WLF law takes from the glass temperature on for
// want of a melt's own [K].
const crossA2 = 51.6

// FitCrossWLF returns the Cross-WLF law nearest to measured points, and how near it is.
// T* is held at the D2 given, a glass temperature of 100 to 1500 K that must lie below
// all points, A2 at 51.6 K and D3 at 0, as data sheets do; N, TauStar, D1 and A1 are found.
// D1 is the viscosity at T*, far from any measurement: its error is large and one with
// A1's, which [Fit.Covariance] tells and [Fit.Band] takes account of.
//
// It errs on arguments out of range, with [ErrTooFew], [ErrOneTemperature] on points
// all within 2 K, [ErrFlat] where the viscosity does not fall with rate, [ErrUndetermined]
// where the standard error of τ* or of the plateau is a factor of two and more, and with
// [ErrUnphysical] where the nearest law is no melt's.
func FitCrossWLF(points []FlowPoint, d2 float64) (CrossWLF, Fit, error) {
	const who = "material.FitCrossWLF"
	if !(d2 >= lowestTemperature && d2 <= highestTemperature) {
		return CrossWLF{}, Fit{}, refuseOne(who+": d2", d2, "K", input.Range(lowestTemperature, highestTemperature, "K"))
	}
	t, err := tabulate(who, points, 3)
	if err != nil {
		return CrossWLF{}, Fit{}, err
	}
	if t.domain.TemperatureLow <= d2 {
		return CrossWLF{}, Fit{}, refuseOne(who+": d2", d2, "K", "below all points, "+input.WithUnit(t.domain.TemperatureLow, "K"))
	}
	if t.single {
		return CrossWLF{}, Fit{}, fmt.Errorf("%s: %w: %.4g to %.4g °C, at least 2 K apart", who, ErrOneTemperature,
			ToCelsius(t.domain.TemperatureLow), ToCelsius(t.domain.TemperatureHigh))
	}
	line, center, err := t.thins()
	if err != nil {
		return CrossWLF{}, Fit{}, err
	}
	rise := func(temperature float64) float64 { return (temperature - d2) / (crossA2 + temperature - d2) }
	middle := rise(t.middle)
	// Coordinates: ln τ*, n, ln η₀ at the mean temperature, A1.
	c := curve(func(c []float64, x, temperature float64, g []float64) float64 {
		lift := rise(temperature) - middle
		plateau := c[2] - c[3]*lift
		z := (1 - c[1]) * (plateau + x - c[0])
		steep := logistic(z)
		g[0], g[1] = (1-c[1])*steep, steep*(plateau+x-c[0])
		g[2] = 1 - g[0]
		g[3] = -lift * g[2]
		return plateau - softplus(z)
	})
	var starts [][]float64
	low, high := math.Log(t.domain.RateLow), math.Log(t.domain.RateHigh)
	slope := crossA2 / ((crossA2 + t.middle - d2) * (crossA2 + t.middle - d2)) // of rise
	for _, share := range [...]float64{0, 0.3, 0.6} {
		for _, n := range [...]float64{0.2, 0.5} {
			bend := low + share*(high-low)
			plateau := line.coordinates[0] + line.coordinates[1]*(bend-center)
			starts = append(starts, []float64{plateau + bend, n, plateau, line.coordinates[2] / math.Max(0.2, 1+line.coordinates[1]) / slope})
		}
	}
	s, err := t.search(c, starts)
	if err != nil {
		return CrossWLF{}, Fit{}, err
	}
	at := s.coordinates
	law := CrossWLF{N: at[1], TauStar: math.Exp(held(at[0])), D1: math.Exp(held(at[2] + at[3]*middle)), D2: d2, A1: at[3], A2: crossA2, Range: t.domain}
	if err := unphysical(who, law); err != nil {
		return CrossWLF{}, Fit{}, err
	}
	parameters := []Parameter{
		{Name: "TauStar", Unit: "Pa", Value: law.TauStar, Logarithmic: true},
		{Name: "N", Value: law.N},
		{Name: "D1", Unit: "Pa·s", Value: law.D1, Logarithmic: true},
		{Name: "A1", Value: law.A1},
	}
	outer := identity(4)
	f := s.fit(law, c, outer, append([]Parameter(nil), parameters...))
	if err := f.determined(who); err != nil { // D1 stands for the plateau here
		return CrossWLF{}, Fit{}, err
	}
	outer[2][3] = middle
	return law, s.fit(law, c, outer, parameters), nil
}

func refuseOne(name string, value float64, unit, allowed string) error {
	var f input.Faults
	f.Refuse(name, value, unit, allowed)
	return f.Err()
}
