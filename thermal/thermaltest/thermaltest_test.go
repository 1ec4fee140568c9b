package thermaltest

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestDrawnThingsAreValidAndRunSteadily(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, p, w := Bridges().Draw(t, "bridge"), Paths().Draw(t, "path"), Windings().Draw(t, "winding")
		ambient, fraction := Ambients().Draw(t, "ambient"), Fractions().Draw(t, "fraction")
		runaway, err := b.RunawayCurrent(p)
		require.NoError(t, err)
		_, err = b.Steady(fraction*runaway, ambient, p)
		require.NoError(t, err)
		runaway, err = w.RunawayCurrent()
		require.NoError(t, err)
		_, err = w.Steady(fraction*runaway, ambient)
		require.NoError(t, err)
	})
}
