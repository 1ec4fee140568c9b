package material_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/internal/versus"
	"meltflight/material"
	"meltflight/material/materialtest"
)

// pmma is in SI what the table prints in cgs: 1.48e6 dyn/cm² and 1e-16 g/(cm·s).
func pmma() material.CrossExponential {
	return material.CrossExponential{N: 0.21, TauStar: 1.48e5, B: 1e-17, Tb: 24294}
}

func TestCheckCross(t *testing.T) {
	const (
		table  = "open-access paper of 2020, PMC7388655, Table 1, PMMA, constants; formula evaluated independently"
		direct = "formula evaluated independently, constants made up"
		kazmer = "D. Kazmer, Injection Mold Design Engineering (2007), Appendix A, PP, constants; formula evaluated independently (the appendix's own η₀ is another by a factor of 2)"
		tryout = "formula evaluated independently; constants as printed for ABS in D. Kazmer, Injection Mold Design Engineering (2007), Appendix A"
		ps     = "formula evaluated independently; constants as remembered for general-purpose PS"
		digits = "digits of the independent value"
	)
	var rows []verify.Row
	at := func(name, source string, law material.Viscosity, celsius, rate, want, tol float64) {
		require.NoError(t, law.Validate())
		rows = append(rows, verify.Row{Name: fmt.Sprintf("%s, %g °C, %g 1/s [Pa·s]", name, celsius, rate), Source: source, Kind: verify.Own,
			Want: want, Got: law.At(rate, material.Celsius(celsius), 0), Tol: tol, Why: digits})
	}
	for celsius, want := range map[float64]float64{230: 9319.51, 240: 3637.08, 250: 1471.41} {
		thick := pmma()
		thick.TauStar = 1e8 // η₀, which 1e-9 1/s thins by next to nothing
		at("PMMA, plateau", table, thick, celsius, 1e-9, want, 1.5e-6)
	}
	at("PMMA", table, pmma(), 240, 100, 1198.52, 5e-6)
	at("PMMA", table, pmma(), 240, 1000, 268.508, 2e-6)
	at("PMMA", table, pmma(), 240, 10000, 46.418, 2e-5)
	for i, want := range []float64{7340.3386, 5515.6938, 2455.9603, 649.68243, 138.6413} {
		at("Cross", direct, material.CrossExponential{N: 0.3, TauStar: 25000, B: 8000}, 180, math.Pow(10, float64(i-1)), want, 5e-8)
	}
	made := material.CrossWLF{N: 0.3, TauStar: 25000, D1: 4.5e13, D2: 263.15, A1: 30, A2: 51.6}
	for celsius, wants := range map[float64][]float64{
		180: {2123.011, 1267.0816, 419.47662, 96.372578},
		200: {1367.6517, 909.30895, 339.34064, 81.936339},
		220: {928.08546, 668.64251, 278.47911, 70.959019},
	} {
		for i, want := range wants {
			at("Cross-WLF", direct, made, celsius, math.Pow(10, float64(i)), want, 5e-8)
		}
	}
	pp := material.CrossWLF{N: 0.378, TauStar: 5.30e3, D1: 1.99e14, D2: 263.15, A1: 30.02, A2: 51.6}
	at("PP Cross-WLF", kazmer, pp, 220, 100, 266.456, 2e-6)
	at("PP Cross-WLF", kazmer, pp, 220, 1000, 66.6489, 1e-6)
	at("PP Cross-WLF", kazmer, pp, 200, 100, 316.712, 2e-6)
	at("PP Cross-WLF", kazmer, pp, 240, 100, 228.664, 3e-6)
	abs := material.ABS().Viscosity
	for rate, want := range map[float64]float64{100: 779.836, 1000: 194.837, 10000: 37.1283} {
		at("ABS Cross-WLF", tryout, abs, 239, rate, want, 3e-6)
	}
	at("ABS Cross-WLF", tryout, abs, 220, 1000, 257.459, 2e-6)
	at("ABS Cross-WLF", tryout, abs, 250, 100, 605.334, 1e-6)
	general := material.CrossWLF{N: 0.252, TauStar: 3.08e4, D1: 4.76e10, D2: 373.15, D3: 0.51e-6, A1: 25.7, A2: 61.06}
	own := material.PS().Viscosity.(material.CrossWLF)
	own.Range = material.Domain{}
	require.Equal(t, general, own, "the rows below are of the polymer's own law")
	at("PS Cross-WLF", ps, general, 200, 10, 2182.74, 3e-6)
	at("PS Cross-WLF", ps, general, 200, 1000, 111.961, 5e-6)
	for _, p := range []struct {
		name, source string
		law          material.CrossWLF
		plateaus     map[float64]float64 // over °C
	}{
		{"Cross-WLF", direct, made, map[float64]float64{180: 2552.8569, 200: 1564.1765, 220: 1027.4576}},
		{"PP Cross-WLF", kazmer, pp, map[float64]float64{200: 6806.97, 220: 4470.03, 240: 3103.77}},
		{"ABS Cross-WLF", tryout, abs.(material.CrossWLF), map[float64]float64{220: 5614.37, 239: 2190.45, 250: 1377.51}},
		{"PS Cross-WLF", ps, general, map[float64]float64{180: 22264.3, 200: 5593.23, 220: 1906.59}},
	} {
		p.law.TauStar = 1e8 // so that 1e-9 1/s thins by nothing, even at an index of 0.378
		for celsius, want := range p.plateaus {
			at(p.name+", plateau", p.source, p.law, celsius, 1e-9, want, 3e-6)
		}
	}
	verify.Table(t, rows)
}

func TestPropertyCrossExponentialLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := materialtest.CrossExponentials().Draw(t, "law")
		temperature, pressure := draw.Uniform(430, 560).Draw(t, "temperature"), draw.Uniform(0, 60e6).Draw(t, "pressure")
		plateau := c.B * math.Exp(c.Tb/temperature+c.Beta*pressure)
		onset := c.TauStar / plateau
		require.InEpsilon(t, plateau/2, c.At(onset, temperature, pressure), 1e-13, "halved at the onset")
		if low := onset * math.Pow(1e-8, 1/(1-c.N)); low > 1e-9 {
			require.InEpsilon(t, plateau, c.At(low, temperature, pressure), 2e-8, "Newtonian at low rates")
		}
		high := onset * math.Pow(1e8, 1/(1-c.N))
		require.InEpsilon(t, c.TauStar*math.Pow(high/onset, c.N)/high, c.At(high, temperature, pressure), 2e-8, "power law at high rates")

		// The same law as Cross-WLF at the one temperature T*.
		w := material.CrossWLF{N: c.N, TauStar: c.TauStar, D1: plateau, D2: temperature, A1: 20, A2: 50}
		rate := draw.Log(1e-2, 1e5).Draw(t, "rate")
		if plateau >= 1 {
			require.InEpsilon(t, w.At(rate, temperature, 0), c.At(rate, temperature, pressure), 1e-12)
		}
		// And as Carreau-Yasuda with the Arrhenius shift, where neither thins.
		a := material.Arrhenius{ActivationEnergy: c.Tb * material.GasConstant, Reference: temperature}
		require.InEpsilon(t, a.Slope(temperature), -c.Tb/(temperature*temperature), 1e-13)
	})
}

func TestBadCrossIsNamed(t *testing.T) {
	err := material.CrossExponential{N: 1, TauStar: math.Inf(1), B: 0, Tb: -1, Beta: 1}.Validate()
	require.ErrorIs(t, err, material.ErrInvalid)
	for _, part := range []string{"material.CrossExponential.N = 1", "TauStar = +Inf Pa", "B = 0 Pa·s", "Tb = -1 K", "Beta = 1 1/Pa"} {
		assert.ErrorContains(t, err, part)
	}
}

func BenchmarkCrossExponential(b *testing.B) {
	c := pmma()
	var v material.Viscosity = c
	var sum float64
	versus.Report(b, "x-inline",
		func(i int) { sum += v.At(100+float64(i&1023), 510, 1e6) },
		func(i int) {
			eta0 := c.B * math.Exp(c.Tb/510+c.Beta*1e6)
			sum += eta0 / (1 + math.Pow(eta0*(100+float64(i&1023))/c.TauStar, 1-c.N))
		})
	if sum == 0 {
		b.Fatal("nothing computed")
	}
}
