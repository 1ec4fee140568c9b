package screw_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/material"
	"meltflight/screw"
)

func TestPropertyProfile(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, m := regime(t)
		f, err := g.GradientFor(m, asked(t, g))
		require.NoError(t, err)
		n := 2 * rapid.IntRange(1, 100).Draw(t, "points")
		layers, err := g.Layers(m, f, n+1)
		require.NoError(t, err)
		require.Len(t, layers, n+1)
		speed := turned(g, f.Flow)/g.Depth + g.Depth // rates below 1e-9 1/s count as that slow

		first, last := layers[0], layers[n]
		require.Equal(t, screw.Layer{Stress: first.Stress, ShearRate: first.ShearRate}, first, "still")
		same(t, math.Hypot(f.Stress, f.CrossStress), first.Stress, 1e-13, "stress at the still wall")
		same(t, math.Hypot(f.SlidingStress, f.SlidingCross), last.Stress, 1e-12, "stress at the sliding wall")
		same(t, f.HighestShearRate, math.Max(first.ShearRate, last.ShearRate), 1e-10, "highest rate")
		require.LessOrEqual(t, math.Abs(last.Height-g.Depth), 1e-15*g.Depth)
		for _, v := range [...]struct {
			what      string
			want, got float64
		}{
			{"along", g.Along, last.Along}, {"across", g.Across, last.Across},
			{"flow", f.Flow / g.Depth, last.Below / g.Depth}, {"no net flow across", 0, last.BelowAcross / g.Depth},
		} {
			require.LessOrEqual(t, math.Abs(v.want-v.got), 1e-9*speed, v.what)
		}
		// Linear as the stress is, no layer is sheared faster than at one of its ends.
		for i, l := range layers[1:] {
			under := layers[i]
			rate := math.Hypot(l.Along-under.Along, l.Across-under.Across) / (l.Height - under.Height)
			require.LessOrEqual(t, rate, math.Max(l.ShearRate, under.ShearRate)*(1+1e-9)+1e-9*speed/g.Depth)
			same(t, l.Stress, m.Viscosity.At(l.ShearRate, m.Temperature, 0)*l.ShearRate, 1e-9, "on the flow curve")
		}
		// One height of every other profile is the same.
		coarse, err := g.Layers(m, f, 3)
		require.NoError(t, err)
		require.LessOrEqual(t, math.Abs(coarse[1].Along-layers[n/2].Along), 1e-9*speed)
		require.LessOrEqual(t, math.Abs(coarse[1].Below-layers[n/2].Below), 1e-9*speed*g.Depth)
		require.LessOrEqual(t, math.Abs(coarse[1].BelowAcross-layers[n/2].BelowAcross), 1e-9*speed*g.Depth)
	})
}

// Simpson's rule over the layers knows nothing of levers.
func TestProfileMeanIsTheFlow(t *testing.T) {
	m := screw.Melt{Viscosity: material.CarreauYasuda{Eta0: 8000, Lambda: 0.5, N: 0.3, Yasuda: 2}, Density: 750, SpecificHeat: 2500, Temperature: 470}
	g := screw.Gap{Depth: 2e-3, Along: 0.05, Across: 0.02}
	for _, gradient := range []float64{-2e7, 0, 1e7, 4e7} {
		f, err := g.Flow(m, gradient)
		require.NoError(t, err)
		const n = 400
		layers, err := g.Layers(m, f, n+1)
		require.NoError(t, err)
		along, across := 0.0, 0.0
		for i, l := range layers {
			weight := 2 + 2*float64(i%2)
			if i == 0 || i == n {
				weight = 1
			}
			along += weight * l.Along / (3 * n)
			across += weight * l.Across / (3 * n)
		}
		require.LessOrEqual(t, math.Abs(along-f.Flow/g.Depth), 1e-9)
		require.LessOrEqual(t, math.Abs(across), 1e-9)
	}
}

func TestPropertyProfileNewtonian(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := gaps().Draw(t, "gap")
		m := screw.Melt{Viscosity: material.Newtonian{Eta: 500}, Density: 750, SpecificHeat: 2500, Temperature: 470}
		f, err := g.Flow(m, pushed(t, g, m))
		require.NoError(t, err)
		layers, err := g.Layers(m, f, 11)
		require.NoError(t, err)
		h, speed := g.Depth, turned(g, f.Flow)/g.Depth
		for _, l := range layers {
			y := l.Height / h
			bow := f.Gradient * h * h / 1000
			require.LessOrEqual(t, math.Abs(l.Along-(g.Along*y-bow*y*(1-y))), 1e-12*(speed+math.Abs(bow)))
			require.LessOrEqual(t, math.Abs(l.Below-h*(g.Along*y*y/2-bow*y*y*(0.5-y/3))), 1e-12*h*(speed+math.Abs(bow)))
			require.LessOrEqual(t, math.Abs(l.Across-g.Across*y*(3*y-2)), 1e-11*(speed+math.Abs(bow)))
			require.LessOrEqual(t, math.Abs(l.BelowAcross-g.Across*h*y*y*(y-1)), 1e-11*h*(speed+math.Abs(bow)))
		}
	})
}

// A power law between walls along one line: n/(n+1)·(τ^(1/n+1) − τ₀^(1/n+1))/(g·m^(1/n)).
func TestPropertyProfilePowerLaw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := gaps().Draw(t, "gap")
		g.Along, g.Across = math.Hypot(g.Along, g.Across), 0
		n := draw.Uniform(0.15, 1.4).Draw(t, "index")
		m := thin(n)
		drag := math.Log(g.Along / g.Depth)
		gradient := math.Min(9e14, 5000*math.Exp(n*drag)/g.Depth*draw.Log(0.1, 10).Draw(t, "push"))
		gradient *= rapid.SampledFrom([]float64{-1, 1}).Draw(t, "sense")
		f, err := g.Flow(m, gradient)
		require.NoError(t, err)
		for _, law := range []material.Viscosity{m.Viscosity, hidden{m.Viscosity}} {
			m.Viscosity = law
			layers, err := g.Layers(m, f, 21)
			require.NoError(t, err)
			power := func(stress float64) float64 {
				return n / (n + 1) * math.Pow(math.Abs(stress)/5000, 1/n+1) * 5000 / gradient
			}
			size := math.Abs(power(f.Stress)) + math.Abs(power(f.SlidingStress))
			for _, l := range layers {
				stress := f.Stress + gradient*l.Height
				require.LessOrEqual(t, math.Abs(l.Along-(power(stress)-power(f.Stress))), 1e-11*size+1e-9*g.Depth) // rates below 1e-9 1/s count as none
				require.Zero(t, l.Across)
				require.LessOrEqual(t, math.Abs(l.Stress-math.Abs(stress)), 1e-13*(math.Abs(f.Stress)+math.Abs(f.SlidingStress)))
			}
		}
	})
}

func TestProfileRefuses(t *testing.T) {
	g := screw.Gap{Depth: 1e-3, Along: 0.05, Across: 0.02}
	m := thin(0.4)
	f, err := g.Flow(m, 1e7)
	require.NoError(t, err)
	for _, points := range []int{-1, 0, 1, 100001} {
		_, err := g.Layers(m, f, points)
		require.ErrorContains(t, err, "screw.Gap.Layers: points")
	}
	two, err := g.Layers(m, f, 2)
	require.NoError(t, err)
	require.Len(t, two, 2)
	_, err = screw.Gap{Depth: 1e-3, Along: 0.06, Across: 0.02}.Layers(m, f, 5)
	require.ErrorIs(t, err, material.ErrInvalid)
	require.ErrorContains(t, err, "allowed that of the wall: the flow of this gap and melt")
	_, err = g.Layers(thin(0.41), f, 5)
	require.ErrorContains(t, err, "velocity at the sliding wall")
	_, err = g.Layers(m, screw.GapFlow{Stress: math.NaN(), CrossStress: math.Inf(1), Gradient: 1e41, CrossGradient: -1e41}, 5)
	for _, part := range []string{"screw.GapFlow.Stress = NaN Pa", "CrossStress = +Inf Pa", "screw.GapFlow.Gradient", "CrossGradient"} {
		require.ErrorContains(t, err, part)
	}
	still, err := screw.Gap{Depth: 1e-3}.Layers(m, screw.GapFlow{}, 3)
	require.NoError(t, err)
	require.Equal(t, []screw.Layer{{}, {Height: 0.5e-3}, {Height: 1e-3}}, still, "nothing moves")
}
