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

// balanced holds the energy put in against what becomes of it.
func balanced(t require.TestingT, f screw.GapFlow) {
	scale := math.Abs(f.Power) + f.Dissipation + math.Abs(f.Flow*f.Gradient)
	require.LessOrEqual(t, math.Abs(f.Power-f.Dissipation-f.Flow*f.Gradient), 1e-10*scale, "power in = dissipation + pumping")
}

// turned is ∫|γ̇|·y dy at most, of which a flow is the difference [m²/s].
func turned(g screw.Gap, flow float64) float64 {
	return math.Hypot(g.Along, g.Across)*g.Depth + math.Abs(flow)
}

func TestPropertyGradientForIsTheInverseOfFlow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, m := regime(t)
		wanted := asked(t, g)
		there, err := g.GradientFor(m, wanted)
		require.NoError(t, err)
		require.Equal(t, wanted, there.Flow)
		balanced(t, there)
		if math.Abs(there.Gradient) > 1e15 {
			return // more than Flow takes
		}
		back, err := g.Flow(m, there.Gradient)
		require.NoError(t, err)
		require.LessOrEqual(t, math.Abs(back.Flow-wanted), 1e-10*turned(g, wanted), "flow")
		same(t, there.Dissipation, back.Dissipation, 1e-9, "dissipation")
		wall := math.Hypot(back.Stress, back.CrossStress) + math.Hypot(back.SlidingStress, back.SlidingCross)
		for _, v := range [...][2]float64{{there.Stress, back.Stress}, {there.CrossStress, back.CrossStress},
			{there.SlidingStress, back.SlidingStress}, {there.SlidingCross, back.SlidingCross}} {
			require.LessOrEqual(t, math.Abs(v[0]-v[1]), 1e-9*wall, "stress %v", v)
		}
		// More flow needs a gradient that helps more.
		more, err := g.GradientFor(m, wanted+0.01*turned(g, wanted))
		require.NoError(t, err)
		require.Less(t, more.Gradient, there.Gradient)
	})
}

func TestGradientForAtTheEnds(t *testing.T) {
	newton := screw.Melt{Viscosity: material.Newtonian{Eta: 500}, Density: 750, SpecificHeat: 2500, Temperature: 470}
	for _, m := range []screw.Melt{newton, thin(0.2), thin(1.3), {Viscosity: hidden{newton.Viscosity}, Density: 750, SpecificHeat: 2500, Temperature: 470}} {
		still, err := screw.Gap{Depth: 1e-3}.GradientFor(m, 0)
		require.NoError(t, err)
		require.Equal(t, screw.GapFlow{}, still, "nothing moves")
		for _, flow := range []float64{-1e-5, 3e-6} { // between still walls
			f, err := screw.Gap{Depth: 1e-3}.GradientFor(m, flow)
			require.NoError(t, err)
			same(t, -f.Stress, f.SlidingStress, 1e-12, "both walls hold alike")
			same(t, f.Dissipation, -flow*f.Gradient, 1e-12, "what pushes turns to heat")
		}
		// Drag alone, without crossing, is half of plug flow in any melt.
		g := screw.Gap{Depth: 1e-3, Along: -0.05}
		f, err := g.GradientFor(m, g.Along*g.Depth/2)
		require.NoError(t, err)
		require.LessOrEqual(t, math.Abs(f.Gradient)*g.Depth, 1e-12*math.Abs(f.Stress))
	}
	g := screw.Gap{Depth: 2e-3, Along: 0.04, Across: -0.03}
	f, err := g.GradientFor(newton, 0)
	require.NoError(t, err)
	same(t, 6*500*0.04/4e-6, f.Gradient, 1e-12, "closed")
	same(t, -6*500*0.03/4e-6, f.CrossGradient, 1e-12, "across")
	for _, flow := range []float64{math.NaN(), math.Inf(1), -1.1e4, 1.1e4} {
		_, err := g.GradientFor(newton, flow)
		require.ErrorIs(t, err, material.ErrInvalid)
		require.ErrorContains(t, err, "screw.Gap.GradientFor: flow")
	}
	_, err = screw.Gap{Depth: 1e-7, Along: 1e-3}.GradientFor(thin(0.05), 1e4)
	require.ErrorContains(t, err, "screw.Melt.Viscosity at")
	// The slowest flows keep their digits; slower ones are none.
	g = screw.Gap{Depth: 1e-7}
	f, err = g.GradientFor(newton, 1e-200)
	require.NoError(t, err)
	same(t, -12*500*1e-200/1e-21, f.Gradient, 1e-12, "slow")
	f, err = screw.Gap{Depth: 1e-7, Along: 5e-324}.GradientFor(newton, 1e-300)
	require.NoError(t, err)
	require.Zero(t, f.Gradient)
}

// regime draws a gap and a melt of any law and thinning, at shear rates over ten decades.
func regime(t *rapid.T) (screw.Gap, screw.Melt) {
	depth, rate := draw.Log(1e-5, 1e-2).Draw(t, "depth"), draw.Log(1e-5, 1e5).Draw(t, "rate")
	angle := draw.Uniform(0, math.Pi/3).Draw(t, "angle")
	if rapid.IntRange(0, 9).Draw(t, "straight") == 0 {
		angle = 0
	}
	speed := math.Min(900, depth*rate)
	return screw.Gap{Depth: depth, Along: speed * math.Cos(angle), Across: speed * math.Sin(angle)}, regimeMelts().Draw(t, "melt")
}

// asked draws a flow from strongly backward to many times what is dragged, or none.
func asked(t *rapid.T, g screw.Gap) float64 {
	drag := math.Hypot(g.Along, g.Across) * g.Depth
	return drag * rapid.SampledFrom([]float64{0, -1, 1, 1}).Draw(t, "sense") * draw.Log(1e-4, 300).Draw(t, "flow")
}
