package material

import (
	"fmt"
	"math"
)

// FitPowerLaw returns the power law nearest to measured points, in closed form, and
// how near it is; its Reference is their mean temperature, its Range theirs.
//
// Points all within 2 K give a law of that temperature alone, with a TemperatureSlope
// of 0 and a Range that says so. It takes three points, or four over more temperatures.
//
// It errs on points out of range, with [ErrTooFew], with [ErrUndetermined] where rate
// and temperature do not vary each on its own, and with [ErrUnphysical] where the
// nearest law thickens with temperature or has an index outside 0.05 to 1.5.
func FitPowerLaw(points []FlowPoint) (PowerLaw, Fit, error) {
	const who = "material.FitPowerLaw"
	t, err := tabulate(who, points, 2)
	if err != nil {
		return PowerLaw{}, Fit{}, err
	}
	s, line, center, err := t.powerLaw()
	if err != nil {
		return PowerLaw{}, Fit{}, err
	}
	law := PowerLaw{
		Consistency: math.Exp(held(s.coordinates[0] - s.coordinates[1]*center)),
		Index:       1 + s.coordinates[1],
		Reference:   t.middle,
		Range:       t.domain,
	}
	parameters := []Parameter{
		{Name: "Consistency", Unit: "Pa·sⁿ", Value: law.Consistency, Logarithmic: true},
		{Name: "Index", Value: law.Index},
	}
	if !t.single {
		law.TemperatureSlope = s.coordinates[2]
		parameters = append(parameters, Parameter{Name: "TemperatureSlope", Unit: "1/K", Value: law.TemperatureSlope})
	}
	if err := unphysical(who, law); err != nil {
		return PowerLaw{}, Fit{}, err
	}
	outer := identity(len(parameters))
	outer[0][1] = -center // ln m is the line at rate 1
	return law, s.fit(law, line, outer, parameters), nil
}

// powerLaw solves for the line ln η = c₀ + c₁·(ln γ̇ − center) − c₂·(T − middle).
func (t *table) powerLaw() (s solution, line curve, center float64, err error) {
	var weights float64
	for i, x := range t.x {
		center += t.root[i] * t.root[i] * x
		weights += t.root[i] * t.root[i]
	}
	center /= weights
	line = func(c []float64, x, temperature float64, g []float64) float64 {
		g[0], g[1] = 1, x-center
		sum := c[0] + c[1]*(x-center)
		if len(c) > 2 {
			g[2] = t.middle - temperature
			sum += c[2] * g[2]
		}
		return sum
	}
	start := make([]float64, 3)
	if t.single {
		start = start[:2]
	}
	if math.Log(t.domain.RateHigh/t.domain.RateLow) < 0.01 {
		return s, line, center, fmt.Errorf("%s: %w: rates of %.4g to %.4g 1/s, at least 1 %% apart",
			t.who, ErrUndetermined, t.domain.RateLow, t.domain.RateHigh)
	}
	s, err = t.settle(line, start)
	return s, line, center, err
}

// thins refuses points whose viscosity does not fall with rate by more than its scatter.
func (t *table) thins() (line solution, center float64, err error) {
	line, _, center, err = t.powerLaw()
	if err != nil {
		return line, center, err
	}
	slope, spread := line.coordinates[1], math.Sqrt(line.covariance[1][1])
	if -slope <= math.Max(2*spread, 1e-4) {
		return line, center, fmt.Errorf("%s: %w: ln η changes by %.3g ± %.2g with each unit of ln rate over the %.3g to %.3g 1/s measured",
			t.who, ErrFlat, slope, spread, t.domain.RateLow, t.domain.RateHigh)
	}
	return line, center, nil
}
