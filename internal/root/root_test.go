package root

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestFindKnownRoots(t *testing.T) {
	for _, c := range []struct {
		name string
		f    func(float64) float64
		a, b float64
		want float64
	}{
		{"line", func(x float64) float64 { return 3 - x }, 0, 10, 3},
		{"cosine", math.Cos, 1, 2, math.Pi / 2},
		{"clamped-free beam", func(x float64) float64 { return math.Cos(x)*math.Cosh(x) + 1 }, 1, 3, 1.875104068711961},
		{"triple root", func(x float64) float64 { return (x - 1) * (x - 1) * (x - 1) }, 0, 3, 1},
		{"tiny values, whose product underflows", func(x float64) float64 { return 1e-200 * (x - 2) }, 0, 5, 2},
		{"steep", func(x float64) float64 { return math.Pow(x, 9) - 1e-9 }, 0, 1, 0.1},
		{"reversed ends", func(x float64) float64 { return x*x - 2 }, 2, 0, math.Sqrt2},
		{"root at zero", math.Sin, -1, 2, 0},
		{"ends whose distance overflows", func(x float64) float64 { return x - 1e300 }, -1.5e308, 1.5e308, 1e300},
		{"a step far from both ends", func(x float64) float64 { return math.Copysign(1, x-1e-300) }, -1e300, 1e300, 1e-300},
	} {
		got, err := Find(c.f, c.a, c.b, 0)
		require.NoError(t, err, c.name)
		tol := 1e-15
		if c.name == "triple root" {
			tol = 1e-5 // the cube is rounding noise nearer than the cube root of 1e-16
		}
		assert.LessOrEqual(t, math.Abs(got-c.want), tol*(1+math.Abs(c.want)), c.name)
	}
}

// On a smooth function the three-point step must pay: bisection would take 50 calls.
func TestFindIsQuick(t *testing.T) {
	calls := 0
	_, err := Find(func(x float64) float64 { calls++; return math.Exp(x) - 2 }, -3, 5, 0)
	require.NoError(t, err)
	assert.LessOrEqual(t, calls, 14)
}

func TestFindRefuses(t *testing.T) {
	nan := func(float64) float64 { return math.NaN() }
	for _, f := range []func(float64) float64{nan, math.Exp} {
		_, err := Find(f, 0, 1, 0)
		assert.ErrorIs(t, err, ErrNoBracket)
	}
	hole := func(x float64) float64 {
		if x > 0.4 && x < 0.6 {
			return math.NaN()
		}
		return x - 0.5
	}
	_, err := Find(hole, 0, 1, 0)
	assert.ErrorIs(t, err, ErrNoBracket)
}

func TestPropertyFindsSignChangeInFewSteps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := float64(rapid.IntRange(-1000, 1000).Draw(t, "root")) / 7
		k := float64(rapid.IntRange(1, 9).Draw(t, "power"))*2 - 1 // odd powers keep the sign
		calls := 0
		f := func(v float64) float64 {
			calls++
			return math.Copysign(math.Pow(math.Abs(v-x), k), v-x) + 0.01*(v-x)
		}
		got, err := Find(f, x-3, x+5, 1e-14)
		require.NoError(t, err)
		require.InDelta(t, x, got, 1e-12*(1+math.Abs(x)))
		require.Less(t, calls, 60)
	})
}
