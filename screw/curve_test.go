package screw

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/material"
	"meltflight/material/materialtest"
)

// The table gives back the law that it was made of, to what its cubics are stated to
// hold. It is inside the package, as the table is nobody else's.
func TestPropertyFlowCurve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		law := materialtest.Viscosities().Draw(t, "law")
		if rapid.Bool().Draw(t, "sharp") { // to the limits of what Validate allows
			law = material.CarreauYasuda{Eta0: 1000, Lambda: draw.Log(0.01, 100).Draw(t, "lambda"), N: draw.Uniform(0.05, 0.3).Draw(t, "n"), Yasuda: draw.Uniform(2, 10).Draw(t, "a")}
		}
		m := Melt{Viscosity: law, Density: 800, SpecificHeat: 2500, Temperature: draw.Uniform(440, 560).Draw(t, "temperature")}
		c := tabulate(m, 1e-6, 1e6)
		rate := draw.Log(1e-5, 1e5).Draw(t, "rate")
		eta, n := m.local(rate)
		if c == nil || !liquid(eta) {
			t.Skip("a law left this far is no liquid's")
		}
		near := rapid.IntRange(0, len(c.rows)-2).Draw(t, "near")
		got, slope, ok := c.at(math.Log(eta*rate), &near)
		require.True(t, ok)
		require.LessOrEqual(t, math.Abs(got-math.Log(rate)), 2e-8, "rate at a stress")
		require.InDelta(t, n, 1/slope, 1e-6)
		_, _, ok = c.at(c.rows[len(c.rows)-1].lnStress, &near)
		require.False(t, ok, "beyond the table")
	})
}

// A capillary and a slit against the flow of every layer: Q = πR³∫x²γ̇(xτ)dx and
// WH²/2·∫xγ̇(xτ)dx, the law turned round at each x, by Gauss's rule on short
// lengths from the wall to the middle.
func TestHolesAgainstTheirLayers(t *testing.T) {
	for _, c := range []struct{ n, yasuda float64 }{{0.3, 2}, {0.05, 2}, {0.05, 10}, {0.7, 0.3}} {
		law := material.CarreauYasuda{Eta0: 1000, Lambda: 1, N: c.n, Yasuda: c.yasuda}
		m := Melt{Viscosity: law, Density: 800, SpecificHeat: 2000, Temperature: 470}
		f := fluid{melt: m}
		for k := -8; k < 12; k++ {
			wall := math.Pow(10, float64(k)/4)
			stress := wall * law.At(wall, 470, 0)
			var hole, slit float64
			for hi := 1.0; hi > 1e-4; hi *= 0.97 {
				for _, k := range twelve {
					x := hi * (0.985 + 0.015*k.at)
					rate, _ := f.rateAt(stress*x, wall*x)
					hole += k.weight * hi * 0.015 * x * x * rate
					slit += k.weight * hi * 0.015 * x * rate
				}
			}
			_, got := Capillary{Diameter: 2e-3, Length: 1}.WallShear(m, math.Pi*1e-9*hole)
			require.InEpsilon(t, stress, got, 1e-9, "hole, n = %g, a = %g, %g 1/s", c.n, c.yasuda, wall)
			_, got = Slit{Width: 1, Height: 1e-3, Length: 1}.wide(m, 0.5e-6*slit)
			require.InEpsilon(t, stress, got, 1e-9, "slit, n = %g, a = %g, %g 1/s", c.n, c.yasuda, wall)
		}
	}
}

// Going from wall to wall, as slices of a taper do, ends where starting anew does; so does
// a cone, from slices each of its own.
func TestWallsInARow(t *testing.T) {
	for _, law := range []material.CarreauYasuda{{Eta0: 1000, Lambda: 1, N: 0.3, Yasuda: 2}, {Eta0: 1000, Lambda: 1, N: 0.05, Yasuda: 10}} {
		m := Melt{Viscosity: law, Density: 800, SpecificHeat: 2000, Temperature: 470}
		l := tiers{m: m, d: inHole}
		for k := range 60 {
			apparent := 0.02 * math.Pow(1.3, float64(k))
			_, inRow := l.shearAt(apparent)
			_, anew := wallShear(m, inHole, apparent)
			require.InEpsilon(t, anew, inRow, 1e-11, "%g 1/s", apparent)
			fresh := tiers{m: m, d: inHole}
			fresh.start(l.wall.at)
			require.InEpsilon(t, fresh.part, l.part, 1e-10, "%g 1/s", apparent)
		}
	}
}
