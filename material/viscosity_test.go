package material_test

import (
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

func TestCheckViscosity(t *testing.T) {
	const (
		rao      = "N. S. Rao and G. Schumacher, Design Formulas for Plastics Engineers, 2nd ed. (2004), eq. 1.32, worked example"
		kazmer   = "D. Kazmer, Injection Mold Design Engineering (2007), Appendix A and 5.5.1, ABS at 239 °C"
		direct   = "formula evaluated independently in extended precision; constants as remembered for general-purpose PS"
		rounding = "the source's rounding"
		digits   = "digits of the independent value"
	)
	ldpe := material.PowerLaw{Consistency: 135990, Index: 0.3286, Reference: 273.15, TemperatureSlope: 0.00863}
	abs := material.ABS().Viscosity
	high := material.PowerLaw{Consistency: 17070, Index: 0.348, Reference: material.Celsius(239)}
	ps := material.CrossWLF{N: 0.252, TauStar: 3.08e4, D1: 4.76e10, D2: 373.15, D3: 0.51e-6, A1: 25.7, A2: 61.06}
	at := func(v material.Viscosity, rate, celsius, pressure float64) float64 {
		require.NoError(t, v.Validate())
		return v.At(rate, material.Celsius(celsius), pressure)
	}
	verify.Table(t, []verify.Row{
		{Name: "LDPE power law, 200 °C, 500 1/s", Source: rao, Kind: verify.Print,
			Want: 373.1, Got: at(ldpe, 500, 200, 0), Tol: 2e-4, Why: rounding},
		{Name: "LDPE power law, 190 °C, 500 1/s", Source: "same formula evaluated independently", Kind: verify.Own,
			Want: 406.7297, Got: at(ldpe, 500, 190, 0), Tol: 1e-6, Why: digits},
		{Name: "ABS Cross-WLF, 239 °C, 2000 1/s", Source: kazmer, Kind: verify.Print,
			Want: 120, Got: at(abs, 2000, 239, 0), Tol: 4.2e-3, Why: "printed to a whole Pa·s"},
		{Name: "ABS Cross-WLF, 239 °C, plateau", Source: kazmer, Kind: verify.Print,
			Want: 2210, Got: at(abs, 1e-6, 239, 0), Tol: 0.029, Why: "A1 is printed to three digits: ±0.05·139/190.5 in ln η₀, and η₀ to three"},
		{Name: "ABS power law near 239 °C, 2000 1/s", Source: kazmer, Kind: verify.Print,
			Want: 120, Got: at(high, 2000, 239, 0), Tol: 4.2e-3, Why: "printed to a whole Pa·s"},
		{Name: "ABS Cross-WLF, 220 °C, 100 1/s", Source: "same formula evaluated independently", Kind: verify.Own,
			Want: 1201.05, Got: at(abs, 100, 220, 0), Tol: 5e-6, Why: digits},
		{Name: "ABS Cross-WLF, 250 °C, 1000 1/s", Source: "same formula evaluated independently", Kind: verify.Own,
			Want: 167.518, Got: at(abs, 1000, 250, 0), Tol: 5e-6, Why: digits},
		{Name: "PS Cross-WLF, 200 °C, 100 1/s", Source: direct, Kind: verify.Own,
			Want: 573.893, Got: at(ps, 100, 200, 0), Tol: 5e-6, Why: digits},
		{Name: "PS Cross-WLF, 180 °C, 100 1/s", Source: direct, Kind: verify.Own,
			Want: 870.391, Got: at(ps, 100, 180, 0), Tol: 5e-6, Why: digits},
		{Name: "PS Cross-WLF, 220 °C, 100 1/s", Source: direct, Kind: verify.Own,
			Want: 388.293, Got: at(ps, 100, 220, 0), Tol: 5e-6, Why: digits},
		{Name: "PS plateau, 200 °C, 50 MPa", Source: "η₀ = D1·exp(−A1·x), x = (473.15−373.15−25.5)/(61.06+100), worked by hand", Kind: verify.Own,
			Want: 4.76e10 * math.Exp(-25.7*74.5/161.06), Got: at(ps, 1e-9, 200, 50e6), Tol: 1.2e-6,
			Why: "the 1e-9 1/s at which it is asked thins it by 1.1e-6"},
	})
}

// Every law must pass the same battery.
func TestPropertyViscosityLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := materialtest.Viscosities().Draw(t, "law")
		require.NoError(t, v.Validate())
		rate := draw.Log(1e-2, 1e5).Draw(t, "rate")
		temperature := draw.Uniform(430, 560).Draw(t, "temperature")
		pressure := draw.Uniform(0, 60e6).Draw(t, "pressure")
		eta := v.At(rate, temperature, pressure)
		require.True(t, eta > 0 && !math.IsInf(eta, 0), "positive and finite: %g", eta)
		require.LessOrEqual(t, v.At(2*rate, temperature, pressure), eta, "thins with rate")
		require.Greater(t, 2*v.At(2*rate, temperature, pressure), eta, "stress still rises with rate")
		require.LessOrEqual(t, v.At(rate, temperature+5, pressure), eta, "thins with temperature")
		require.GreaterOrEqual(t, v.At(rate, temperature, pressure+1e6), eta, "thickens with pressure")
		require.Equal(t, eta, v.At(-rate, temperature, pressure), "direction of shear does not matter")

		s := v.Slopes(rate, temperature, pressure)
		slope := func(up, down, step float64) float64 { return math.Log(up/down) / (2 * step) }
		const dr, dT, dp = 1e-4, 1e-3, 1e3
		near := func(want, got, scale float64, name string) {
			require.LessOrEqual(t, math.Abs(want-got), 2e-6*scale+2e-7*math.Abs(want), "%s: %g, numerically %g", name, got, want)
		}
		near(slope(v.At(rate*math.Exp(dr), temperature, pressure), v.At(rate*math.Exp(-dr), temperature, pressure), dr), s.Rate, 1, "by rate")
		near(slope(v.At(rate, temperature+dT, pressure), v.At(rate, temperature-dT, pressure), dT), s.Temperature, 0.1, "by temperature")
		near(slope(v.At(rate, temperature, pressure+dp), v.At(rate, temperature, pressure-dp), dp), s.Pressure, 1e-7, "by pressure")
	})
}

func TestPropertyCrossLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := materialtest.CrossWLFs().Draw(t, "law")
		temperature := draw.Uniform(450, 540).Draw(t, "temperature")
		above := temperature - c.D2
		plateau := c.D1 * math.Exp(-c.A1*above/(c.A2+above))
		onset := c.TauStar / plateau
		// Below the plateau by the thinning term alone: (γ̇/onset)^(1−n).
		low := onset * math.Pow(1e-8, 1/(1-c.N))
		if low > 1e-9 {
			require.InEpsilon(t, plateau, c.At(low, temperature, 0), 2e-8, "Newtonian at low rates")
		}
		// Far above: the power law τ*·(γ̇/onset)^n.
		high := onset * math.Pow(1e8, 1/(1-c.N))
		require.InEpsilon(t, c.TauStar*math.Pow(high/onset, c.N)/high, c.At(high, temperature, 0), 2e-8, "power law at high rates")
	})
}

func TestDomainTellsWhereItIsLeft(t *testing.T) {
	d := material.PP().Viscosity.Domain()
	assert.Empty(t, d.BeyondRate(500))
	assert.Empty(t, d.BeyondRate(100), "the ends belong to it")
	assert.Equal(t, "shear rate 5e+03 1/s, viscosity law fitted from 100 to 3.5e+03 1/s", d.BeyondRate(5000))
	assert.Empty(t, d.BeyondTemperature(material.Celsius(190)))
	assert.Equal(t, "melt at 215 °C, viscosity law fitted from 190 to 200 °C", d.BeyondTemperature(material.Celsius(215)))
	assert.Empty(t, material.Domain{}.BeyondRate(1e9), "no domain stated")
	assert.Empty(t, material.Domain{}.BeyondTemperature(1))
}

func BenchmarkPowerLaw(b *testing.B) {
	p := material.PP().Viscosity.(material.PowerLaw)
	var v material.Viscosity = p
	var sum float64
	versus.Report(b, "x-inline",
		func(i int) { sum += v.At(100+float64(i&1023), 470, 0) },
		func(i int) {
			rate := 100 + float64(i&1023)
			sum += p.Consistency * math.Exp(-p.TemperatureSlope*(470-p.Reference)) * math.Pow(rate, p.Index-1)
		})
	if sum == 0 {
		b.Fatal("nothing computed")
	}
}

func BenchmarkCrossWLF(b *testing.B) {
	c := material.ABS().Viscosity.(material.CrossWLF)
	var v material.Viscosity = c
	var sum float64
	versus.Report(b, "x-inline",
		func(i int) { sum += v.At(100+float64(i&1023), 510, 1e6) },
		func(i int) {
			rate, above := 100+float64(i&1023), 510-c.D2-c.D3*1e6
			eta0 := c.D1 * math.Exp(-c.A1*above/(c.A2+c.D3*1e6+above))
			sum += eta0 / (1 + math.Pow(eta0*rate/c.TauStar, 1-c.N))
		})
	if sum == 0 {
		b.Fatal("nothing computed")
	}
}

func TestBadRangeIsRefused(t *testing.T) {
	for _, d := range []material.Domain{{RateLow: -1, RateHigh: 10, TemperatureLow: 400, TemperatureHigh: 500},
		{RateLow: 10, RateHigh: 1, TemperatureLow: 400, TemperatureHigh: 500}, {RateLow: 1, RateHigh: 1e10, TemperatureLow: 400, TemperatureHigh: 500},
		{RateLow: 1, RateHigh: 10, TemperatureLow: 500, TemperatureHigh: 400}, {RateLow: 1, RateHigh: 10, TemperatureLow: 50, TemperatureHigh: 500},
		{RateLow: 1, RateHigh: 10, TemperatureLow: 400, TemperatureHigh: 2000}, {RateLow: math.NaN(), RateHigh: 10, TemperatureLow: 400, TemperatureHigh: 500}} {
		law := material.PowerLaw{Consistency: 1e3, Index: 0.5, Reference: 400, Range: d}
		assert.ErrorIs(t, law.Validate(), material.ErrInvalid, "%+v", d)
	}
	law := material.PowerLaw{Consistency: 1e3, Index: 0.5, Reference: math.NaN(), Shift: material.Arrhenius{ActivationEnergy: 4e4, Reference: 400}}
	assert.ErrorContains(t, law.Validate(), "material.PowerLaw.Reference")
}

// Below the lowest rate no law follows the rate any more.
func TestPropertyFloor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := materialtest.Viscosities().Draw(t, "law")
		require.Equal(t, v.At(0, 480, 0), v.At(5e-10, 480, 0))
		require.Zero(t, v.Slopes(5e-10, 480, 0).Rate)
	})
}

func TestPressureThatALawDoesNotKnowIsTold(t *testing.T) {
	_, beyond, err := material.PP().ViscosityAt(1000, material.Celsius(195), 50e6)
	require.NoError(t, err)
	require.Len(t, beyond, 1)
	assert.Contains(t, beyond[0], "the viscosity law knows none")
	_, beyond, err = material.PS().ViscosityAt(1000, material.Celsius(200), 50e6)
	require.NoError(t, err)
	assert.Empty(t, beyond)
}

// A law that says its curves are one, shifted, must hold to it: stress at a rate is
// stress at the shifted rate elsewhere.
func TestPropertySuperposedLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v, ok := materialtest.Viscosities().Draw(t, "law").(material.Superposed)
		if !ok {
			t.Skip("not one of them")
		}
		rate := draw.Log(1e-3, 1e4).Draw(t, "rate")
		t1, t2 := draw.Uniform(440, 560).Draw(t, "one"), draw.Uniform(440, 560).Draw(t, "other")
		p := draw.Uniform(0, 5e7).Draw(t, "pressure")
		other := rate * math.Exp(v.LogShift(t1, p)-v.LogShift(t2, 0))
		require.InEpsilon(t, rate*v.At(rate, t1, p), other*v.At(other, t2, 0), 1e-11)
	})
}
