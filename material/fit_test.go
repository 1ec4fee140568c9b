package material_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
	"meltflight/material/materialtest"
)

// measure returns points of a law at the rates and temperatures given, each off by a
// factor of normally distributed logarithm.
func measure(law material.Viscosity, rates, temperatures []float64, scatter float64, random *rand.Rand) []material.FlowPoint {
	var points []material.FlowPoint
	for _, temperature := range temperatures {
		for _, rate := range rates {
			eta := law.At(rate, temperature, 0)
			if random != nil {
				eta *= math.Exp(scatter * random.NormFloat64())
			}
			points = append(points, material.FlowPoint{ShearRate: rate, Temperature: temperature, Viscosity: eta})
		}
	}
	return points
}

func decades(low float64, steps int, factor float64) []float64 {
	rates := make([]float64, steps)
	for i := range rates {
		rates[i] = low * math.Pow(factor, float64(i))
	}
	return rates
}

func TestCheckFit(t *testing.T) {
	var points []material.FlowPoint
	for i, y := range []float64{8.0, 7.5, 6.7, 6.2} {
		points = append(points, material.FlowPoint{ShearRate: math.Exp(float64(i)), Temperature: 480, Viscosity: math.Exp(y)})
	}
	law, fit, err := material.FitPowerLaw(points)
	require.NoError(t, err)
	lo, hi, err := fit.Interval(1, 0.95)
	require.NoError(t, err)
	band, err := fit.Band(math.Exp(1.5), 480, 0.95)
	require.NoError(t, err)
	far, err := fit.Band(1, 480, 0.95)
	require.NoError(t, err)
	const hand = "four points, ln η of 8.0, 7.5, 6.7, 6.2 at ln γ̇ of 0 to 3: the line and its errors by hand"
	const student = "Student's t, 97.5 % at 2 degrees of freedom: 4.303, any statistical table"
	verify.Table(t, []verify.Row{
		{Name: "index [-]", Source: hand, Kind: verify.Own, Want: 0.38, Got: law.Index, Tol: 1e-13, Why: "rounding"},
		{Name: "ln consistency [-]", Source: hand, Kind: verify.Own, Want: 8.03, Got: math.Log(law.Consistency), Tol: 1e-13, Why: "rounding"},
		{Name: "standard deviation of ln η [-]", Source: hand, Kind: verify.Own, Want: math.Sqrt(0.009), Got: fit.Residual, Tol: 1e-12, Why: "rounding"},
		{Name: "standard error of the index [-]", Source: hand, Kind: verify.Own, Want: math.Sqrt(0.009 / 5), Got: fit.Parameters[1].StandardError, Tol: 1e-12, Why: "rounding"},
		{Name: "standard error of ln consistency [-]", Source: hand, Kind: verify.Own, Want: math.Sqrt(0.009 * 0.7), Got: fit.Parameters[0].StandardError, Tol: 1e-12, Why: "rounding"},
		{Name: "covariance of both [-]", Source: hand, Kind: verify.Own, Want: -0.009 * 1.5 / 5, Got: fit.Covariance[0][1], Tol: 1e-12, Why: "rounding"},
		{Name: "half 95 % interval of the index [-]", Source: student, Kind: verify.Memory, Want: 4.303 * math.Sqrt(0.009/5), Got: (hi - lo) / 2, Tol: 1.2e-4, Why: "t printed to four digits"},
		{Name: "half band in the middle, of ln η [-]", Source: student, Kind: verify.Memory, Want: 4.303 * math.Sqrt(0.009/4), Got: math.Log(band.High/band.Low) / 2, Tol: 1.2e-4, Why: "t printed to four digits"},
		{Name: "half band at the end, of ln η [-]", Source: student, Kind: verify.Memory, Want: 4.303 * math.Sqrt(0.009*0.7), Got: math.Log(far.High / far.Viscosity), Tol: 1.2e-4, Why: "t printed to four digits"},
	})
	assert.Equal(t, 2, fit.Freedom)
}

// Points without scatter give back the law they were taken from, and errors of nothing.
func TestPropertyFitsFindTheLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		temperatures := []float64{460, 490, 520}
		p := materialtest.PowerLaws().Draw(t, "power law")
		points := measure(p, decades(10, 5, 4), temperatures, 0, nil)
		for i := range points {
			points[i].Weight = draw.Log(0.1, 10).Draw(t, "weight")
		}
		law, fit, err := material.FitPowerLaw(points)
		require.NoError(t, err)
		require.InEpsilon(t, p.Index, law.Index, 1e-10)
		require.InEpsilon(t, p.TemperatureSlope, law.TemperatureSlope, 1e-10)
		require.InEpsilon(t, p.At(30, 500, 0), law.At(30, 500, 0), 1e-10)
		require.Less(t, fit.Residual, 1e-10)
		require.Equal(t, material.Domain{RateLow: 10, RateHigh: 2560, TemperatureLow: 460, TemperatureHigh: 520}, roundRate(law.Range))

		c := material.CarreauYasuda{Eta0: draw.Log(300, 3e4).Draw(t, "eta0"), Lambda: draw.Log(0.02, 2).Draw(t, "lambda"),
			N: draw.Uniform(0.2, 0.6).Draw(t, "n"), Yasuda: draw.Uniform(0.6, 2.5).Draw(t, "a"),
			Shift: material.Arrhenius{ActivationEnergy: draw.Uniform(25e3, 80e3).Draw(t, "E"), Reference: 490}}
		points = measure(c, decades(0.01/c.Lambda, 12, 3), temperatures, 0, nil)
		for _, held := range []float64{c.Yasuda, 0} {
			found, fit, err := material.FitCarreauYasuda(points, held)
			require.NoError(t, err)
			require.InEpsilon(t, c.Eta0, found.Eta0, 1e-6)
			require.InEpsilon(t, c.Lambda, found.Lambda, 1e-6)
			require.InEpsilon(t, c.N, found.N, 1e-6)
			require.InEpsilon(t, c.Yasuda, found.Yasuda, 1e-6)
			require.InEpsilon(t, c.Shift.(material.Arrhenius).ActivationEnergy, found.Shift.(material.Arrhenius).ActivationEnergy, 1e-6)
			require.Less(t, fit.Residual, 1e-7)
		}

		w := materialtest.CrossWLFs().Draw(t, "Cross-WLF")
		w.A2, w.D3 = 51.6, 0
		onset := w.TauStar / (w.D1 * math.Exp(-w.A1*(490-w.D2)/(51.6+490-w.D2)))
		points = measure(w, decades(math.Max(1e-5, onset/100), 12, 3), temperatures, 0, nil)
		for _, p := range points {
			if p.Validate() != nil { // a melt too stiff to measure at 460 K
				return
			}
		}
		crossed, fit, err := material.FitCrossWLF(points, w.D2)
		require.NoError(t, err)
		require.InEpsilon(t, w.TauStar, crossed.TauStar, 1e-5)
		require.InEpsilon(t, w.N, crossed.N, 1e-5)
		require.InEpsilon(t, w.D1, crossed.D1, 1e-4)
		require.InEpsilon(t, w.A1, crossed.A1, 1e-6)
		require.Less(t, fit.Residual, 1e-7)
	})
}

func roundRate(d material.Domain) material.Domain {
	d.RateLow, d.RateHigh = math.Round(d.RateLow), math.Round(d.RateHigh)
	return d
}

// 95 % intervals must hold the truth in 95 of 100 cases. Of 600 cases the share scatters by
// √(0.95·0.05/600) = 0.9 %; four times that is allowed, a chance of 1 in 15000 for each
// of the shares, and the seeds are fixed. A factor of 1.3 in any standard error fails.
func TestFitIntervalsHoldTheTruth(t *testing.T) {
	const cases, level = 600, 0.95
	const allowed = 0.036
	temperatures := []float64{465, 490, 515}
	arrhenius := material.Arrhenius{ActivationEnergy: 42e3, Reference: 490}
	power := material.PowerLaw{Consistency: 9000, Index: 0.4, Reference: 490, TemperatureSlope: 0.012}
	carreau := material.CarreauYasuda{Eta0: 3000, Lambda: 0.2, N: 0.35, Yasuda: 2, Shift: arrhenius}
	cross := material.CrossWLF{N: 0.3, TauStar: 3e4, D1: 3e12, D2: 373, A1: 29, A2: 51.6}
	wide, narrow := decades(0.1, 9, 4), decades(20, 4, 3)
	for name, run := range map[string]struct {
		law   material.Viscosity
		rates []float64
		truth map[string]float64
		fit   func([]material.FlowPoint) (material.Fit, error)
	}{
		"power law": {power, narrow, map[string]float64{"Consistency": 9000, "Index": 0.4, "TemperatureSlope": 0.012},
			func(p []material.FlowPoint) (material.Fit, error) {
				_, f, err := material.FitPowerLaw(p)
				return f, err
			}},
		"Carreau": {carreau, wide, map[string]float64{"Eta0": 3000, "Lambda": 0.2, "N": 0.35, "Shift.ActivationEnergy": 42e3},
			func(p []material.FlowPoint) (material.Fit, error) {
				_, f, err := material.FitCarreauYasuda(p, 2)
				return f, err
			}},
		"Carreau-Yasuda": {carreau, decades(0.05, 16, 2.5), map[string]float64{"Eta0": 3000, "Lambda": 0.2, "N": 0.35, "Yasuda": 2, "Shift.ActivationEnergy": 42e3},
			func(p []material.FlowPoint) (material.Fit, error) {
				_, f, err := material.FitCarreauYasuda(p, 0)
				return f, err
			}},
		"Cross-WLF": {cross, wide, map[string]float64{"TauStar": 3e4, "N": 0.3, "D1": 3e12, "A1": 29},
			func(p []material.FlowPoint) (material.Fit, error) {
				_, f, err := material.FitCrossWLF(p, 373)
				return f, err
			}},
	} {
		random := rand.New(rand.NewPCG(1, 2))
		held := map[string]float64{}
		var variance float64
		for range cases {
			f, err := run.fit(measure(run.law, run.rates, temperatures, 0.04, random))
			require.NoError(t, err, name)
			require.Len(t, f.Parameters, len(run.truth))
			for i, p := range f.Parameters {
				lo, hi, err := f.Interval(i, level)
				require.NoError(t, err)
				truth := run.truth[p.Name]
				if p.Name == "Consistency" || p.Name == "Lambda" || p.Name == "Eta0" { // at the fit's own reference, which is 490 K
					require.True(t, p.Logarithmic)
				}
				if lo <= truth && truth <= hi {
					held[p.Name] += 1.0 / cases
				}
			}
			for _, at := range [][2]float64{{30, 500}, {600, 470}, {0.1, 530}} {
				band, err := f.Band(at[0], at[1], level)
				require.NoError(t, err)
				if truth := run.law.At(at[0], at[1], 0); band.Low <= truth && truth <= band.High {
					held[fmt.Sprintf("band at %v", at)] += 1.0 / cases
				}
			}
			variance += f.Residual * f.Residual / cases
		}
		assert.InEpsilon(t, 0.04*0.04, variance, 0.06, "%s: the scatter put in", name)
		for what, share := range held {
			t.Logf("%-14s %-24s %.3f", name, what, share)
			assert.InDelta(t, level, share, allowed, "%s, %s", name, what)
		}
		assert.Len(t, held, len(run.truth)+3)
	}
}

// The closed form must agree with an ordinary regression where that can do the same.
func TestPropertyFitPowerLawIsARegression(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var points []material.FlowPoint
		var x, y, w []float64
		for range rapid.IntRange(3, 12).Draw(t, "points") {
			p := material.FlowPoint{ShearRate: draw.Log(1, 1e4).Draw(t, "rate"), Temperature: 480, Weight: draw.Log(0.1, 10).Draw(t, "weight")}
			p.Viscosity = 1e4 * math.Pow(p.ShearRate, -0.5) * draw.Log(0.8, 1.25).Draw(t, "off by")
			points = append(points, p)
			x, y, w = append(x, math.Log(p.ShearRate)), append(y, math.Log(p.Viscosity)), append(w, p.Weight)
		}
		law, fit, err := material.FitPowerLaw(points)
		if err != nil {
			return
		}
		a, b := stat.LinearRegression(x, y, w, false)
		require.InEpsilon(t, a, math.Log(law.Consistency), 1e-9)
		require.InDelta(t, b, law.Index-1, 1e-9)
		var sum float64
		for i := range x {
			sum += w[i] * (y[i] - a - b*x[i]) * (y[i] - a - b*x[i])
		}
		require.InDelta(t, math.Sqrt(sum/float64(len(x)-2)), fit.Residual, 1e-8)
		// A weight of two is the point twice, but for the freedom.
		doubled := append([]material.FlowPoint(nil), points...)
		doubled[0].Weight *= 2
		twice := append(append([]material.FlowPoint(nil), points...), points[0])
		one, _, err1 := material.FitPowerLaw(doubled)
		two, _, err2 := material.FitPowerLaw(twice)
		if err1 == nil && err2 == nil {
			require.InEpsilon(t, one.Index, two.Index, 1e-9)
			require.InEpsilon(t, one.Consistency, two.Consistency, 1e-8)
		}
	})
}

// Measured in other units of viscosity and time, the same melt.
func TestPropertyFitsScale(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		random := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		truth := material.CarreauYasuda{Eta0: 3000, Lambda: 0.2, N: 0.35, Yasuda: 2, Shift: material.Arrhenius{ActivationEnergy: 42e3, Reference: 490}}
		points := measure(truth, decades(0.1, 9, 4), []float64{465, 490, 515}, 0.03, random)
		k, s := draw.Log(0.1, 10).Draw(t, "viscosity"), draw.Log(0.1, 10).Draw(t, "rate")
		scaled := append([]material.FlowPoint(nil), points...)
		for i := range scaled {
			scaled[i].Viscosity *= k
			scaled[i].ShearRate *= s
		}
		a, fa, err := material.FitCarreauYasuda(points, 2)
		require.NoError(t, err)
		b, fb, err := material.FitCarreauYasuda(scaled, 2)
		require.NoError(t, err)
		require.InEpsilon(t, k*a.Eta0, b.Eta0, 1e-5)
		require.InEpsilon(t, a.Lambda/s, b.Lambda, 1e-5)
		require.InEpsilon(t, a.N, b.N, 1e-5)
		require.InEpsilon(t, fa.Residual, fb.Residual, 1e-7)
		for i := range fa.Parameters {
			require.InEpsilon(t, fa.Parameters[i].StandardError, fb.Parameters[i].StandardError, 1e-3)
		}
		one, err := fa.Band(10, 480, 0.9)
		require.NoError(t, err)
		wider, err := fa.Band(10, 480, 0.99)
		require.NoError(t, err)
		require.True(t, wider.Low < one.Low && one.Low < one.Viscosity && one.Viscosity < one.High && one.High < wider.High)
		require.Equal(t, a.At(10, 480, 0), one.Viscosity)
		require.Empty(t, one.Beyond)
	})
}

// Four strands, weighed from the machine's own nozzle at two screw speeds and two
// temperatures each, make a material that every solver of this module takes.
func ExampleFitPowerLaw() {
	var strands []material.Strand
	for _, run := range []struct{ grams, seconds, bar, celsius float64 }{
		{24.6, 120, 31.0, 205},
		{24.1, 60, 40.5, 205},
		{24.9, 120, 26.4, 225},
		{24.5, 60, 34.7, 225},
	} {
		strands = append(strands, material.Strand{
			Diameter: 1.5e-3, Length: 10e-3, // the nozzle's land
			MassFlow: run.grams / 1000 / run.seconds, Pressure: run.bar * 1e5, Temperature: material.Celsius(run.celsius),
		})
	}
	pots := material.PP()
	points, err := material.Rabinowitsch(strands, pots.MeltDensity)
	if err != nil {
		fmt.Println(err)
		return
	}
	law, fit, err := material.FitPowerLaw(points)
	if err != nil {
		fmt.Println(err)
		return
	}
	pots.Name, pots.Viscosity = "PP of plant pots", law
	eta, beyond, err := pots.ViscosityAt(1200, material.Celsius(215), 0)
	fmt.Printf("%s: %.3g Pa·s at 1200 1/s and 215 °C %v %v\n", pots.Name, eta, beyond, err)
	for _, p := range fit.Parameters {
		fmt.Printf("%s = %.3g %s, standard error %.2g\n", p.Name, p.Value, p.Unit, p.StandardError)
	}
	pots.Source["Viscosity"] = "strands weighed at the workshop's own nozzle"
	var file strings.Builder
	if err := pots.Write(&file); err != nil {
		fmt.Println(err)
		return
	}
	back, err := material.ReadPolymer(strings.NewReader(file.String()))
	fmt.Printf("a file for the machine: %s, viscosity from %s %v\n", back.Name, back.Source["Viscosity"], err)
	// Output:
	// PP of plant pots: 90.9 Pa·s at 1200 1/s and 215 °C [] <nil>
	// Consistency = 6.37e+03 Pa·sⁿ, standard error 0.024
	// Index = 0.401 , standard error 0.0032
	// TemperatureSlope = 0.00802 1/K, standard error 0.00011
	// a file for the machine: PP of plant pots, viscosity from strands weighed at the workshop's own nozzle <nil>
}

// The covariance that a fit hands out makes the same band as the one it keeps: with
// the law's own slopes by each parameter, in the scale of its error, taken numerically.
func TestCovarianceMakesTheBand(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 8))
	law := material.CrossWLF{N: 0.3, TauStar: 3e4, D1: 3e12, D2: 373, A1: 29, A2: 51.6}
	found, fit, err := material.FitCrossWLF(measure(law, decades(0.1, 9, 4), []float64{465, 490, 515}, 0.04, random), 373)
	require.NoError(t, err)
	fields := []*float64{&found.TauStar, &found.N, &found.D1, &found.A1}
	for _, at := range [][2]float64{{30, 500}, {600, 470}, {0.1, 530}} {
		gradient := make([]float64, len(fields))
		for i, field := range fields {
			const h = 1e-5
			value := *field
			move := func(by float64) float64 {
				*field = value + by
				if fit.Parameters[i].Logarithmic {
					*field = value * math.Exp(by)
				}
				return math.Log(found.At(at[0], at[1], 0))
			}
			gradient[i] = (move(h) - move(-h)) / (2 * h)
			*field = value
		}
		var variance float64
		for i := range fields {
			for j := range fields {
				variance += gradient[i] * fit.Covariance[i][j] * gradient[j]
			}
		}
		band, err := fit.Band(at[0], at[1], 0.95)
		require.NoError(t, err)
		lo, hi, err := fit.Interval(1, 0.95)
		require.NoError(t, err)
		quantile := (hi - lo) / 2 / fit.Parameters[1].StandardError
		assert.InEpsilon(t, math.Log(band.High/band.Low)/2/quantile, math.Sqrt(variance), 1e-4, "%v", at)
	}
}
