package drive

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
)

// Where the circles of current and voltage meet the current never strengthens the
// magnet's field, not even close to standstill, where the difference that finds the
// meeting is mostly rounding.
func TestPropertyCrossingNeverStrengthensField(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		limit, r := draw.Log(0.3, 8).Draw(t, "amplitude"), draw.Log(0.3, 10).Draw(t, "resistance")
		drop := r * limit
		slow := draw.Log(1e-6, 1e-4).Draw(t, "reactance ÷ resistance")
		x, e := r*slow, drop*slow*draw.Log(0.1, 10).Draw(t, "back-emf ÷ reactance")
		// The supply of the first corner: there i_d is zero.
		supply := math.Sqrt(square(x*limit)+square(drop+e)) * (1 - draw.Log(1e-18, 1e-13).Draw(t, "below the corner"))
		d, q := crossing(limit, supply, r, x, math.Hypot(r, x), e)
		require.LessOrEqual(t, d, 0.01*slow*limit)
		require.InEpsilon(t, limit, math.Hypot(d, q), 1e-12)
	})
}
