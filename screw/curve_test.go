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

// The local power law in a capillary against the flow of every layer, Q = πR³∫x²γ̇(xτ)dx
// by 4000 midpoints: the doc's figures are what is lost, no less than half of it.
func TestCapillaryAgainstItsLayers(t *testing.T) {
	for _, c := range []struct{ n, yasuda, stated float64 }{{0.3, 2, 0.025}, {0.05, 2, 0.04}, {0.05, 10, 0.095}} {
		law := material.CarreauYasuda{Eta0: 1000, Lambda: 1, N: c.n, Yasuda: c.yasuda}
		m := Melt{Viscosity: law, Density: 800, SpecificHeat: 2000, Temperature: 470}
		f := fluid{melt: m}
		worst := 0.0
		for k := -20; k < 30; k++ {
			wall := math.Pow(10, float64(k)/10)
			stress := wall * law.At(wall, 470, 0)
			sum := 0.0
			const layers = 4000
			for i := range layers {
				x := (float64(i) + 0.5) / layers
				rate, _ := f.rateAt(stress*x, wall*x)
				sum += x * x * rate / layers
			}
			_, got := Capillary{Diameter: 2e-3, Length: 1}.WallShear(m, math.Pi*1e-9*sum)
			worst = math.Max(worst, math.Abs(got/stress-1))
		}
		require.InDelta(t, 0.75*c.stated, worst, 0.25*c.stated, "n = %g, a = %g: %g", c.n, c.yasuda, worst)
	}
}
