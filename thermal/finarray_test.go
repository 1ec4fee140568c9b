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

func TestCheckFinArray(t *testing.T) {
	const how = "the same law in 25-digit arithmetic"
	air := book(0.02772, 1.847e-5, 0.7215, 1/328.)
	// The source takes the thin fins' spacing though its fins have 1 mm.
	s, err := thermal.OptimumSpacing(0.18, 0, 0.12, 50, air)
	require.NoError(t, err)
	fins := 0.12 / (s.Gap + 0.001)
	heat := s.Coefficient * 2 * 14 * 0.18 * 0.024 * 50
	e := math.Pow(2.714, 4)
	const second = "numbers as quoted elsewhere from " + cengel + "Example 9-3"
	const rounded = "the source's 2.714 for 2.7155, 0.06 %, and its rounding"
	verify.Table(t, []verify.Row{
		row("Rayleigh number", second, verify.Practice, 1.845e7, air.Rayleigh(0.18, 50), 0.0005/1.845, "4 digits"),
		row("gap [mm]", second, verify.Practice, 7.45, s.Gap*1e3, 0.0012, rounded),
		row("Nusselt number", second, verify.Practice, 1.307, s.Nusselt, 0.0012, rounded),
		row("coefficient", second, verify.Practice, 4.863, s.Coefficient, 0.0012, rounded),
		row("fins", how+", 14.1938 by the printed spacing", verify.Own, 14.1938, fins, 0.001, "the source's 2.714 for 2.7155"),
		row("heat of 14 fins [W]", second, verify.Practice, 29.4, heat, 0.05/29.4, "3 digits"),
		row("optimum E", how, verify.Own, 54.3764981297, s.Elenbaas, 1e-11, digits),
		row("optimum E, constant", "(2·576/2.873)^⅔ here", verify.Own, math.Pow(2*576/2.873, 2./3), thermal.OptimumElenbaas, 1e-14, "rounding"),
		row("optimum gap over L/Ra^¼", how, verify.Own, 2.71551876883, s.Gap/0.18*math.Pow(air.Rayleigh(0.18, 50), 0.25), 1e-11, digits),
		row("Nusselt number at the optimum", how, verify.Own, 1.30809524303, s.Nusselt, 1e-11, digits),
		row("Nusselt number at the printed 2.714", how, verify.Own, 1.306632, thermal.ChannelNusselt(e), 5e-7, "7 digits"),
		row("narrow channel, Nu over E", "1/24 of a channel full of warm air", verify.Own, 1./24, thermal.ChannelNusselt(1e-6)/1e-6, 1e-9, "the limit"),
		row("wide channel, Nu over E^¼", "2.873^−½", verify.Own, 0.5899731, thermal.ChannelNusselt(1e12)/1e3, 2e-7, "7 digits"),
	})
}

func TestPropertyOptimumSpacing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		height := draw.Log(0.01, 0.5).Draw(t, "height")
		thickness := draw.Log(1e-4, 5e-3).Draw(t, "thickness")
		d := draw.Log(3, 150).Draw(t, "difference")
		p, err := thermal.AirFilm(300+d, 300)
		require.NoError(t, err)
		best, err := thermal.OptimumSpacing(height, thickness, 0.1, d, p)
		require.NoError(t, err)
		thin, err := thermal.OptimumSpacing(height, 0, 0.1, d, p)
		require.NoError(t, err)
		require.Greater(t, best.Gap, thin.Gap)
		near(t, thermal.OptimumElenbaas, thin.Elenbaas, 1e-12)
		// Any other gap gives off less.
		heat := func(gap float64) float64 {
			return thermal.ChannelNusselt(p.Rayleigh(gap, d)*gap/height) / gap / (gap + thickness)
		}
		off := draw.Uniform(0.5, 2).Draw(t, "off")
		require.LessOrEqual(t, heat(best.Gap*off), heat(best.Gap)*(1+1e-14))
		near(t, best.Coefficient*best.Fins/0.1, heat(best.Gap)*p.Conductivity, 1e-10)
		// The law rises with E between its limits.
		e := draw.Log(1e-3, 1e6).Draw(t, "e")
		nu := thermal.ChannelNusselt(e)
		require.Greater(t, thermal.ChannelNusselt(1.01*e), nu)
		require.Less(t, nu, math.Min(e/24, math.Pow(e, 0.25)/math.Sqrt(2.873)))
	})
}
