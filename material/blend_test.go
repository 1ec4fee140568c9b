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

func TestCheckMixed(t *testing.T) {
	const (
		own     = "formula evaluated independently"
		nielsen = "L. E. Nielsen, Polymer Rheology (1977), melt index of 1.0 and 2.0 half and half, as a processor's note quotes it"
		digits  = "digits of the independent value"
	)
	var rows []verify.Row
	at := func(name, source string, kind verify.Kind, first, second, share, power, want, tol float64, why string) {
		got, err := material.Mixed(first, second, share, power)
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: name, Source: source, Kind: kind, Want: want, Got: got, Tol: tol, Why: why})
	}
	powers := []float64{material.Logarithmic, material.KendallMonroe, material.ByMolarMass, material.Linear, material.Reciprocal}
	names := []string{"logarithmic", "cube root", "molar mass", "linear", "reciprocal"}
	for share, wants := range map[float64][]float64{
		0.5: {316.2278, 392.3509, 382.8987, 550, 181.8182},
		0.7: {199.5262, 244.0366, 238.0163, 370, 136.9863}, // of the thinner
		0.3: {501.1872, 591.1129, 581.0306, 730, 270.2703},
	} {
		for i, want := range wants {
			at(fmt.Sprintf("1000 and 100 Pa·s, %.1f of the second, %s", share, names[i]), own, verify.Own, 1000, 100, share, powers[i], want, 3e-7, digits)
		}
	}
	at("melt-flow rate of 1 and 2", nielsen, verify.Print, 1, 2, 0.5, material.Logarithmic, 1.4145, 3e-4, "the note takes logarithms of four digits")
	at("melt-flow rate of 1 and 2, exact", own, verify.Own, 1, 2, 0.5, material.Logarithmic, math.Sqrt2, 1e-15, "rounding")
	at("melt-flow rate of 1 and 2, cube root of viscosity", own, verify.Own, 1, 2, 0.5, -material.KendallMonroe, 1.386246, 4e-7, digits)
	at("melt-flow rate of 2 with 30 % of 6", own, verify.Own, 2, 6, 0.3, material.Logarithmic, 2.780778, 2e-7, digits)
	at("density of 900 and 1000 kg/m³, half and half", "2/(1/900+1/1000) by hand", verify.Own, 900, 1000, 0.5, material.Reciprocal, 2/(1.0/900+1.0/1000), 1e-15, "rounding")
	verify.Table(t, rows)
}

func TestPropertyMixed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, y := draw.Log(1, 1e6).Draw(t, "first"), draw.Log(1, 1e6).Draw(t, "second")
		share, power := draw.Uniform(0, 1).Draw(t, "share"), draw.Uniform(-1, 1).Draw(t, "power")
		mix := func(x, y, share, power float64) float64 {
			m, err := material.Mixed(x, y, share, power)
			require.NoError(t, err)
			return m
		}
		const rounding = 1 + 1e-14
		last := math.Min(x, y)
		for _, p := range []float64{material.Reciprocal, material.Logarithmic, material.ByMolarMass, material.KendallMonroe, material.Linear} {
			m := mix(x, y, share, p)
			require.GreaterOrEqual(t, m*rounding, last, "rises with the power: %g", p)
			last = m
		}
		require.LessOrEqual(t, last, math.Max(x, y)*rounding)
		m := mix(x, y, share, power)
		require.InEpsilon(t, m, mix(y, x, 1-share, power), 1e-12, "either may be the first")
		require.InEpsilon(t, m, 1/mix(1/x, 1/y, share, -power), 1e-12, "the inverse property by the inverse power")
		require.InEpsilon(t, 7*m, mix(7*x, 7*y, share, power), 1e-12, "in any unit")
		require.InEpsilon(t, x, mix(x, y, 0, power), 1e-15)
		require.InEpsilon(t, y, mix(x, y, 1, power), 1e-15)
		if math.Abs(power) > 0.01 {
			require.InEpsilon(t, math.Pow((1-share)*math.Pow(x, power)+share*math.Pow(y, power), 1/power), m, 1e-11, "the power mean as it is written")
		}
		require.InEpsilon(t, mix(x, y, share, 0), mix(x, y, share, 1e-8), 1e-6, "smooth through the logarithmic rule")
		require.InEpsilon(t, mix(x, y, share, 0), mix(x, y, share, -1e-8), 1e-6)
	})
}

// Where the parts weigh alike in the mean but not in the blend, no digits may be lost.
func TestMixedKeepsItsDigits(t *testing.T) {
	const share = 1 - 1e-10
	got, err := material.Mixed(1, 1e10, share, material.Reciprocal)
	require.NoError(t, err)
	rest := 1 - float64(share)
	assert.InEpsilon(t, 1/(rest+share/1e10), got, 1e-13)
}

func TestPropertyBlend(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := materialtest.Blends().Draw(t, "blend")
		rate, temperature, pressure := draw.Log(1e-2, 1e5).Draw(t, "rate"), draw.Uniform(430, 560).Draw(t, "temperature"), draw.Uniform(0, 60e6).Draw(t, "pressure")
		x, y := b.First.At(rate, temperature, pressure), b.Second.At(rate, temperature, pressure)
		want, err := material.Mixed(x, y, b.Share, b.Power)
		require.NoError(t, err)
		require.InEpsilon(t, want, b.At(rate, temperature, pressure), 1e-13)
		turned := material.Blend{First: b.Second, Second: b.First, Share: 1 - b.Share, Power: b.Power}
		require.InEpsilon(t, want, turned.At(rate, temperature, pressure), 1e-11, "either may be the first")
		b.Second = b.First
		require.Equal(t, x, b.At(rate, temperature, pressure), "a melt blended with itself")
	})
}

func TestBlendDomain(t *testing.T) {
	a := material.PowerLaw{Range: material.Domain{RateLow: 10, RateHigh: 1000, TemperatureLow: 450, TemperatureHigh: 480}}
	b := material.PowerLaw{Range: material.Domain{RateLow: 100, RateHigh: 5000, TemperatureLow: 470, TemperatureHigh: 500}}
	none := material.Newtonian{Eta: 100}
	both := material.Domain{RateLow: 100, RateHigh: 1000, TemperatureLow: 470, TemperatureHigh: 480}
	assert.Equal(t, both, material.Blend{First: a, Second: b}.Domain())
	assert.Equal(t, both, material.Blend{First: b, Second: a}.Domain())
	assert.Equal(t, b.Range, material.Blend{First: none, Second: b}.Domain(), "a law without limits sets none")
	assert.Equal(t, b.Range, material.Blend{First: b, Second: none}.Domain())
	b.Range.TemperatureLow, b.Range.TemperatureHigh = 490, 500
	apart := material.Blend{First: a, Second: b}.Domain()
	assert.NotEmpty(t, apart.BeyondTemperature(470), "nothing in common")
	assert.NotEmpty(t, apart.BeyondTemperature(495), "nothing in common")
	b.Range.RateLow, b.Range.RateHigh = 2000, 5000
	apart = material.Blend{First: a, Second: b}.Domain()
	assert.NotEmpty(t, apart.BeyondRate(1500), "nothing in common")
	assert.Contains(t, apart.BeyondRate(1000), "no shear rate in common")
	assert.Contains(t, apart.BeyondTemperature(480), "no temperature in common")
	assert.Contains(t, apart.BeyondTemperature(490), "no temperature in common")
}

func TestBadBlendIsNamed(t *testing.T) {
	err := material.Blend{Second: material.Newtonian{}, Share: 1.5, Power: math.NaN()}.Validate()
	require.ErrorIs(t, err, material.ErrInvalid)
	for _, part := range []string{`material.Blend.First = "nil"`, "material.Newtonian.Eta = 0", "material.Blend.Share = 1.5: allowed 0 to 1", "material.Blend.Power = NaN: allowed -1 to 1"} {
		assert.ErrorContains(t, err, part)
	}
}

func FuzzMixed(f *testing.F) {
	f.Add(1000.0, 100.0, 0.5, 1.0/3)
	f.Add(1e-30, 1e30, 1-1e-16, -1.0)
	f.Fuzz(func(t *testing.T, first, second, share, power float64) {
		m, err := material.Mixed(first, second, share, power)
		if err == nil && !(m >= math.Min(first, second)*(1-1e-12) && m <= math.Max(first, second)*(1+1e-12)) {
			t.Fatalf("%g", m)
		}
	})
}

func BenchmarkBlend(b *testing.B) {
	p, q := material.PP().Viscosity.(material.PowerLaw), material.HDPE().Viscosity.(material.PowerLaw)
	var v material.Viscosity = material.Blend{First: p, Second: q, Share: 0.3}
	var sum float64
	versus.Report(b, "x-inline",
		func(i int) { sum += v.At(100+float64(i&1023), 470, 0) },
		func(i int) {
			rate := 100 + float64(i&1023)
			x := p.Consistency * math.Exp(-p.TemperatureSlope*(470-p.Reference)) * math.Pow(rate, p.Index-1)
			y := q.Consistency * math.Exp(-q.TemperatureSlope*(470-q.Reference)) * math.Pow(rate, q.Index-1)
			sum += math.Exp(0.7*math.Log(x) + 0.3*math.Log(y))
		})
	if sum == 0 {
		b.Fatal("nothing computed")
	}
}

func ExampleBlend() {
	// Regrind has lost some of its chains' length; virgin pellets stiffen it again.
	regrind := material.PowerLaw{Consistency: 2900, Index: 0.45, Reference: material.Celsius(215)}
	pellets := material.PowerLaw{Consistency: 4300, Index: 0.40, Reference: material.Celsius(215)}
	for _, share := range []float64{0, 0.3, 1} {
		blend := material.Blend{First: regrind, Second: pellets, Share: share}
		fmt.Printf("%3.0f %% virgin: %.4g Pa·s\n", 100*share, blend.At(50, material.Celsius(215), 0))
	}
	rate, err := material.Mixed(12, 6, 0.3, material.Logarithmic)
	fmt.Printf("30 %% of MFR 6 in MFR 12: MFR %.3g, %v\n", rate, err)
	// Output:
	//   0 % virgin: 337.3 Pa·s
	//  30 % virgin: 357.9 Pa·s
	// 100 % virgin: 411.2 Pa·s
	// 30 % of MFR 6 in MFR 12: MFR 9.75, <nil>
}
