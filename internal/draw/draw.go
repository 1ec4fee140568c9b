// Package draw makes random physical quantities for property tests.
//
// rapid's own number generators favour small magnitudes; a length between 1 mm
// and 1 m would nearly always be 1 mm. These spread the drawn whole numbers over
// the range by the golden ratio, so that few draws already cover all of it.
package draw

import (
	"math"

	"pgregory.net/rapid"
)

const (
	grid   = 1 << 16
	golden = 40503 // odd and near grid/1.618, so the map below is one-to-one
)

func fraction() *rapid.Generator[float64] {
	return rapid.Map(rapid.IntRange(0, grid-1), func(i int) float64 {
		return float64(uint32(i)*golden%grid) / (grid - 1)
	})
}

// Uniform draws evenly between lo and hi.
func Uniform(lo, hi float64) *rapid.Generator[float64] {
	return rapid.Map(fraction(), func(x float64) float64 { return lo + (hi-lo)*x })
}

// Log draws evenly in the logarithm between lo and hi, both positive.
func Log(lo, hi float64) *rapid.Generator[float64] {
	return rapid.Map(fraction(), func(x float64) float64 {
		return math.Max(lo, math.Min(hi, lo*math.Pow(hi/lo, x)))
	})
}

// Bits draws any float64 at all: infinities, NaN and subnormals included.
func Bits() *rapid.Generator[float64] {
	return rapid.OneOf(
		rapid.Map(rapid.Uint64(), math.Float64frombits),
		rapid.SampledFrom([]float64{0, math.Copysign(0, -1), -1, 1, math.NaN(), math.Inf(1), math.Inf(-1),
			math.MaxFloat64, -math.MaxFloat64, math.SmallestNonzeroFloat64}),
		rapid.Float64(),
	)
}
