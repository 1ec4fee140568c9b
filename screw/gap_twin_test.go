package screw_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mat"

	"meltflight/internal/versus"
	"meltflight/material"
	"meltflight/screw"
)

// bird is a melt with a bend, as the twins below know it.
var bird = material.CarreauYasuda{Eta0: 8000, Lambda: 0.5, N: 0.3, Yasuda: 2}

// birdRate returns the shear rate at a stress, by halving.
func birdRate(stress float64) float64 {
	low, high := 0.0, math.Abs(stress)/8000 // as if it did not thin
	curve := func(rate float64) float64 { return 8000 * rate * math.Pow(1+0.25*rate*rate, -0.35) }
	for curve(high) < math.Abs(stress) {
		high *= 2
	}
	for range 60 {
		if mid := (low + high) / 2; curve(mid) < math.Abs(stress) {
			low = mid
		} else {
			high = mid
		}
	}
	return math.Copysign(high, stress)
}

// twinFlow returns the flow along of a gap without crossing, by what anyone would write
// down: the stress at the still wall halved down to, trapezoids, twice as many, and what
// both say of none.
func twinFlow(g screw.Gap, gradient float64) (flow, uncertain float64) {
	trapezoids := func(stress float64, n int) (speed, flow float64) {
		for i := range n + 1 {
			y, weight := float64(i)/float64(n), g.Depth/float64(n)
			if i == 0 || i == n {
				weight /= 2
			}
			rate := birdRate(stress + gradient*g.Depth*y)
			speed += weight * rate
			flow += weight * rate * (1 - y) * g.Depth
		}
		return speed, flow
	}
	at := func(n int) float64 {
		low, high := -1e7, 1e7
		for range 60 {
			mid := (low + high) / 2
			if speed, _ := trapezoids(mid, n); speed < g.Along {
				low = mid
			} else {
				high = mid
			}
		}
		_, flow := trapezoids(low, n)
		return flow
	}
	once, twice := at(40), at(80)
	return twice + (twice-once)/3, math.Abs(twice-once) / 3
}

func TestGapAgreesWithAPlainTwin(t *testing.T) {
	m := screw.Melt{Viscosity: bird, Density: 750, SpecificHeat: 2500, Temperature: 470}
	for _, g := range []screw.Gap{{Depth: 2e-3, Along: 0.05}, {Depth: 1e-3, Along: 1e-4}, {Depth: 1e-4, Along: 1}} {
		drag := bird.At(g.Along/g.Depth, 470, 0) * g.Along / (g.Depth * g.Depth)
		for _, push := range []float64{-2, 0, 0.7, 3} {
			f, err := g.Flow(m, push*drag)
			require.NoError(t, err)
			want, uncertain := twinFlow(g, push*drag)
			require.Less(t, uncertain, 2e-3*turned(g, want), "the twin is worth asking")
			require.LessOrEqual(t, math.Abs(f.Flow-want), uncertain+1e-12*turned(g, want), "push %g in %+v", push, g)
		}
	}
}

// generalFlow solves both components as a library's parts are put together: adaptive
// quadrature, differences for derivatives, a linear solver.
func generalFlow(g screw.Gap, m screw.Melt, gradient float64) float64 {
	rate := math.Hypot(g.Along, g.Across) / g.Depth
	unit := m.Viscosity.At(rate, m.Temperature, 0) * rate
	push := gradient * g.Depth / unit
	at := func(stress float64) float64 { // rate by Newton's method on logarithms
		x, wanted := math.Log(rate), math.Log(stress*unit)
		for range 60 {
			miss := math.Log(m.Viscosity.At(math.Exp(x), m.Temperature, 0)) + x - wanted
			x -= miss / m.Viscosity.Slopes(math.Exp(x), m.Temperature, 0).Index()
			if math.Abs(miss) < 1e-14 {
				break
			}
		}
		return math.Exp(x) / rate
	}
	integrals := func(u [3]float64) (out [4]float64) {
		whole := func(lo, hi float64, nodes int) (sum [4]float64) {
			for k := range sum {
				sum[k] = quad.Fixed(func(y float64) float64 {
					a, b := u[0]+u[2]*y, u[1]+push*y
					stress := math.Hypot(a, b)
					return at(stress) / stress * [...]float64{a, b, a * y, b * y}[k]
				}, lo, hi, nodes, nil, 0)
			}
			return sum
		}
		var adapt func(lo, hi float64, coarse [4]float64)
		adapt = func(lo, hi float64, coarse [4]float64) {
			mid := (lo + hi) / 2
			left, right := whole(lo, mid, 8), whole(mid, hi, 8)
			off := 0.0
			for k := range coarse {
				off = math.Max(off, math.Abs(left[k]+right[k]-coarse[k]))
			}
			if off < 1e-9 || hi-lo < 1e-4 {
				for k := range out {
					out[k] += left[k] + right[k]
				}
				return
			}
			adapt(lo, mid, left)
			adapt(mid, hi, right)
		}
		adapt(0, 1, whole(0, 1, 8))
		return out
	}
	across, along := g.Across/(g.Depth*rate), g.Along/(g.Depth*rate)
	residual := func(u [3]float64) [3]float64 {
		i := integrals(u)
		return [3]float64{i[0] - across, i[1] - along, i[2] - across}
	}
	u := [3]float64{-2 * across, along - push/2, 6 * across}
	r := residual(u)
	size := func(r [3]float64) float64 { return math.Abs(r[0]) + math.Abs(r[1]) + math.Abs(r[2]) }
	for range 100 {
		if size(r) < 1e-9 {
			break
		}
		slopes := mat.NewDense(3, 3, nil)
		for j := range 3 {
			v := u
			v[j] += 1e-6
			shifted := residual(v)
			for i := range 3 {
				slopes.Set(i, j, (shifted[i]-r[i])/1e-6)
			}
		}
		var step mat.VecDense
		if err := step.SolveVec(slopes, mat.NewVecDense(3, r[:])); err != nil {
			return math.NaN()
		}
		for factor := 1.0; factor > 1e-6; factor /= 2 {
			v := u
			for i := range 3 {
				v[i] -= factor * step.AtVec(i)
			}
			if next := residual(v); size(next) < size(r) {
				u, r = v, next
				break
			}
		}
	}
	return (along - integrals(u)[3]) * rate * g.Depth * g.Depth
}

// BenchmarkGapAgainstGeneralParts compares Gap.Flow, good to 1e-12 here, with general
// parts that stop at 1e-9.
func BenchmarkGapAgainstGeneralParts(b *testing.B) {
	m := screw.Melt{Viscosity: bird, Density: 750, SpecificHeat: 2500, Temperature: 470}
	g := screw.Gap{Depth: 2e-3, Along: 0.0476, Across: 0.0152}
	var ours, other float64
	versus.Report(b, "x-general-parts", func(i int) {
		f, err := g.Flow(m, 1e7+1e5*float64(i&63))
		if err != nil {
			b.Fatal(err)
		}
		ours += f.Flow
	}, func(i int) {
		other += generalFlow(g, m, 1e7+1e5*float64(i&63))
	})
	if !(math.Abs(other/ours-1) < 1e-8) {
		b.Fatalf("%g, %g", ours, other)
	}
}

// BenchmarkGapInverse compares a flow's gradient with the flow of a gradient: one
// unknown more.
func BenchmarkGapInverse(b *testing.B) {
	m := screw.Melt{Viscosity: bird, Density: 750, SpecificHeat: 2500, Temperature: 470}
	g := screw.Gap{Depth: 2e-3, Along: 0.0476, Across: 0.0152}
	versus.Report(b, "x-flow", func(i int) {
		if _, err := g.GradientFor(m, 1e-5+1e-7*float64(i&63)); err != nil {
			b.Fatal(err)
		}
	}, func(i int) {
		if _, err := g.Flow(m, 2e7+1e5*float64(i&63)); err != nil {
			b.Fatal(err)
		}
	})
}
