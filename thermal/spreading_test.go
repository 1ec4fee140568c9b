package thermal_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/thermal"
)

func TestCheckSpreading(t *testing.T) {
	const exact = "series of Bessel functions, 1600 terms"
	const closed = "the same formulas in 25-digit arithmetic"
	s, err := thermal.Plate{Source: math.Pi * 25e-6, Area: math.Pi * 16e-4, Thickness: 5e-3, Conductivity: 180, Coefficient: 120}.Spreading()
	require.NoError(t, err)
	joint, err := thermal.Interface(0.2e-3, 3, 0, 100e-6)
	require.NoError(t, err)
	dry, err := thermal.Interface(1e-7, 1e4, 0.5e-4, 1e-4)
	require.NoError(t, err)
	verify.Table(t, []verify.Row{
		row("mean of a 10 mm disc on an 80 mm disc", exact, verify.Own, 0.36819, s.Mean, 0.1, "stated error of the formula"),
		row("its middle", exact, verify.Own, 0.4303, s.Largest, 0.1, "stated error of the formula"),
		row("mean, closed form", closed, verify.Own, 0.344614, s.Mean, 2e-6, "six digits"),
		row("middle, closed form", closed, verify.Own, 0.415704, s.Largest, 2e-6, "six digits"),
		row("straight through", closed, verify.Own, 0.0055262133, s.Straight, 1e-8, "eight digits"),
		row("surface", closed, verify.Own, 1.65786399, s.Surface, 1e-8, "nine digits"),
		row("whole, by the series", exact, verify.Own, 2.03158, s.Mean+s.Straight+s.Surface, 0.02, "10 % of the spreading is 2 % of the whole"),
		row("pad of 0.2 mm, 3 W/(m·K), 1 cm²", "0.2 mm/(3·100 mm²) = 2/3 K/W", verify.Own, 2./3, joint, 1e-14, "exact"),
		row("two contacts of 0.5e-4 m²·K/W on 1 cm²", "2·0.5e-4/1e-4 and 1e-7 of filling", verify.Own, 1, dry, 2e-7, "the filling's share"),
	})
}

func TestPropertySpreading(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := thermal.Plate{
			Area: draw.Log(1e-4, 0.1).Draw(t, "area"), Thickness: draw.Log(1e-3, 0.02).Draw(t, "thickness"),
			Conductivity: draw.Log(1, 400).Draw(t, "conductivity"), Coefficient: draw.Log(5, 5000).Draw(t, "coefficient"),
		}
		part := draw.Uniform(0.01, 0.9).Draw(t, "part")
		p.Source = p.Area * part
		s, err := p.Spreading()
		require.NoError(t, err)
		require.Greater(t, s.Largest, s.Mean)
		require.Positive(t, s.Mean)
		// A source as wide as the plate does not spread; a smaller one spreads more.
		whole := p
		whole.Source = p.Area
		none, err := whole.Spreading()
		require.NoError(t, err)
		require.Zero(t, none.Mean)
		small := p
		small.Source *= 0.7
		more, err := small.Spreading()
		require.NoError(t, err)
		require.Greater(t, more.Mean, s.Mean)
		// All lengths n times, h as 1/n: 1/n of every resistance.
		n := draw.Log(0.5, 2).Draw(t, "scale")
		scaled := p
		scaled.Source *= n * n
		scaled.Area *= n * n
		scaled.Thickness *= n
		scaled.Coefficient /= n
		r, err := scaled.Spreading()
		require.NoError(t, err)
		near(t, s.Mean/n, r.Mean, 1e-12)
		near(t, s.Largest/n, r.Largest, 1e-12)
		near(t, s.Straight/n, r.Straight, 1e-12)
		near(t, s.Surface/n, r.Surface, 1e-12)
		// A disc on a half-space without end, of even heat: 8/(3π²·k·a), here by the formula's 1/(2·√π).
		deep := thermal.Plate{Source: 1e-8, Area: 1, Thickness: 0.5, Conductivity: p.Conductivity, Coefficient: 1000}
		d, err := deep.Spreading()
		require.NoError(t, err)
		near(t, 8/(3*math.Pi*math.Pi*p.Conductivity*math.Sqrt(1e-8/math.Pi)), d.Mean, 0.05)
	})
}
