package screw

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/material/materialtest"
)

// The table gives back the law that it was made of, to what its cubics are stated to
// hold. It is inside the package, as the table is nobody else's.
func TestPropertyFlowCurve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Melt{Viscosity: materialtest.Viscosities().Draw(t, "law"), Density: 800, SpecificHeat: 2500, Temperature: draw.Uniform(440, 560).Draw(t, "temperature")}
		f := fluid{melt: m}
		f.tabulate(1e-6, 1e6)
		rate := draw.Log(1e-5, 1e5).Draw(t, "rate")
		eta, n := m.local(rate)
		if f.curve == nil || !liquid(eta) {
			t.Skip("a law left this far is no liquid's")
		}
		got, index, ok := f.curve.at(eta * rate)
		require.True(t, ok)
		require.LessOrEqual(t, math.Abs(math.Log(got/rate)), 1e-7, "rate at a stress")
		require.InDelta(t, n, index, 1e-6)
		_, _, ok = f.curve.at(1e3 * math.Exp(f.curve.low+rowStep*float64(len(f.curve.rows))))
		require.False(t, ok, "beyond the table")
	})
}
