package material

import (
	"fmt"
	"math"
)

// FitCarreauYasuda returns the Carreau-Yasuda law nearest to measured points, with η∞ = 0,
// and how near it is. The sharpness of its bend, a, is held at yasuda, 0.1 to 10, of
// which 2 is Bird-Carreau; 0 fits it too, which takes points on the plateau, in the
// bend and well beyond it. Temperature acts by an Arrhenius Shift from the mean
// temperature; points all within 2 K give a law of that temperature, its Shift nil.
//
// It errs on points out of range, with [ErrTooFew], [ErrFlat] where the viscosity does not
// fall with rate, [ErrUndetermined] where the standard error of η₀, λ or a is a factor of
// two and more, as of points that come nowhere near the plateau, and with
// [ErrUnphysical] where the nearest law is no melt's.
func FitCarreauYasuda(points []FlowPoint, yasuda float64) (CarreauYasuda, Fit, error) {
	const who = "material.FitCarreauYasuda"
	count := 3
	if yasuda == 0 {
		count = 4
	} else if !(yasuda >= 0.1 && yasuda <= 10) {
		return CarreauYasuda{}, Fit{}, refuseOne(who+": yasuda", yasuda, "", "0.1 to 10, or 0 to fit it")
	}
	t, err := tabulate(who, points, count)
	if err != nil {
		return CarreauYasuda{}, Fit{}, err
	}
	line, center, err := t.thins()
	if err != nil {
		return CarreauYasuda{}, Fit{}, err
	}
	c := t.carreau(yasuda)
	s, err := t.search(c, t.carreauStarts(line.coordinates, center, yasuda))
	if err != nil {
		return CarreauYasuda{}, Fit{}, err
	}
	at := s.coordinates
	law := CarreauYasuda{Eta0: math.Exp(at[0]), Lambda: math.Exp(at[1]), N: at[2], Yasuda: yasuda, Range: t.domain}
	parameters := []Parameter{
		{Name: "Eta0", Unit: "Pa·s", Value: law.Eta0, Logarithmic: true},
		{Name: "Lambda", Unit: "s", Value: law.Lambda, Logarithmic: true},
		{Name: "N", Value: law.N},
	}
	if yasuda == 0 {
		law.Yasuda = math.Exp(at[3])
		parameters = append(parameters, Parameter{Name: "Yasuda", Value: law.Yasuda, Logarithmic: true})
	}
	outer := identity(len(at))
	if last := len(at) - 1; !t.single {
		law.Shift = Arrhenius{ActivationEnergy: at[last] * kiloKelvin * GasConstant, Reference: t.middle}
		parameters = append(parameters, Parameter{Name: "Shift.ActivationEnergy", Unit: "J/mol", Value: at[last] * kiloKelvin * GasConstant})
		outer[last][last] = kiloKelvin * GasConstant
	}
	if err := unphysical(who, law); err != nil {
		return CarreauYasuda{}, Fit{}, err
	}
	f := s.fit(law, c, outer, parameters)
	if err := f.determined(who); err != nil {
		return CarreauYasuda{}, Fit{}, err
	}
	return law, f, nil
}

// kiloKelvin scales E/R to a coordinate of some tens at most [K].
const kiloKelvin = 1e3

// carreau returns the law in the coordinates ln η₀, ln λ, n, then ln a if it is fitted,
// then E/R in kK if there are temperatures.
func (t *table) carreau(yasuda float64) curve {
	reference, single := t.middle, t.single
	return func(c []float64, x, temperature float64, g []float64) float64 {
		a := yasuda
		if a == 0 {
			a = math.Exp(held(c[3]))
		}
		last, shift, lift := len(c)-1, 0.0, 0.0
		if !single {
			lift = kiloKelvin * (1/temperature - 1/reference)
			shift = c[last] * lift
		}
		z := a * (c[1] + x + shift)
		plus, steep := softplus(z), logistic(z)
		g[0], g[1], g[2] = 1, (c[2]-1)*steep, plus/a
		if yasuda == 0 {
			g[3] = (c[2] - 1) / a * (steep*z - plus)
		}
		if !single {
			g[last] = lift * (1 + (c[2]-1)*steep)
		}
		return c[0] + shift + (c[2]-1)/a*plus
	}
}

// carreauStarts spreads starts over where the bend may lie and how steep the melt thins.
func (t *table) carreauStarts(line []float64, center, yasuda float64) [][]float64 {
	var starts [][]float64
	low, high := math.Log(t.domain.RateLow), math.Log(t.domain.RateHigh)
	for _, share := range [...]float64{0, 0.3, 0.6} {
		for _, n := range [...]float64{0.2, 0.5} {
			bend := low + share*(high-low)
			start := []float64{line[0] + line[1]*(bend-center), -bend, n}
			if yasuda == 0 {
				start = append(start, math.Log(1.5))
			}
			if !t.single { // at equal rate, in the middle of the thinning
				start = append(start, line[2]*t.middle*t.middle/kiloKelvin/math.Max(0.2, 1+line[1]))
			}
			starts = append(starts, start)
		}
	}
	return starts
}

// determined refuses a fit of which one parameter, found in its logarithm, is not known
// within a factor of two.
func (f *Fit) determined(who string) error {
	for _, p := range f.Parameters {
		if p.Logarithmic && p.StandardError > math.Ln2 {
			return fmt.Errorf("%s: %w: %s = %.3g, give or take a factor of %.3g, allowed 2", who, ErrUndetermined, p.Name, p.Value, math.Exp(held(p.StandardError)))
		}
	}
	return nil
}
