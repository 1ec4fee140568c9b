package screw_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/material"
	"meltflight/screw"
	"meltflight/screw/screwtest"
)

// regimeMelts draws the melts of all laws, and those with laws from thinner to sharper
// than plastics have them.
func regimeMelts() *rapid.Generator[screw.Melt] {
	wider := rapid.Custom(func(t *rapid.T) screw.Melt {
		n := draw.Uniform(0.15, 1).Draw(t, "index")
		law := rapid.SampledFrom([]material.Viscosity{
			material.PowerLaw{Consistency: 5000, Index: n, Reference: 470},
			hidden{material.PowerLaw{Consistency: 5000, Index: n, Reference: 470}},
			material.CarreauYasuda{Eta0: 5000, Lambda: draw.Log(1e-4, 100).Draw(t, "lambda"), N: n, Yasuda: draw.Uniform(0.5, 10).Draw(t, "yasuda")},
			material.CarreauYasuda{Eta0: 5000, EtaInf: 1, Lambda: draw.Log(1e-4, 100).Draw(t, "lambda"), N: n, Yasuda: 2},
			material.CrossExponential{N: math.Min(n, 0.95), TauStar: 3e4, B: 5000},
		}).Draw(t, "law")
		return screw.Melt{Viscosity: law, Density: 750, SpecificHeat: 2500, Temperature: 470}
	})
	known := screwtest.Melts()
	return rapid.OneOf(known, wider)
}

// Wherever a melt is asked, from its plateau to far beyond its bend, drag helped,
// opposed and overcome, there is an answer that keeps the energy and knows no unit.
func TestPropertyGapRegimes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, m := regime(t)
		gradient := asked(t, g) / (g.Depth * g.Depth) / g.Depth // by the rate it stands for
		rate := math.Abs(gradient) * g.Depth
		gradient *= m.Viscosity.At(rate, m.Temperature, 0)
		if math.Abs(gradient) > 1e15 {
			t.Skip("more than is taken")
		}
		f, err := g.Flow(m, gradient)
		require.NoError(t, err)
		balanced(t, f)
		closed, err := g.GradientFor(m, 0)
		require.NoError(t, err)
		require.Positive(t, closed.Gradient, "what is dragged against a closed end builds pressure")
		require.Equal(t, closed.Gradient > gradient, f.Flow > 0, "delivers up to closed discharge")

		// k times as deep and fast, at the same rates and stresses.
		k := draw.Log(0.1, 10).Draw(t, "scale")
		wide := screw.Gap{Depth: k * g.Depth, Along: k * g.Along, Across: k * g.Across}
		slow := screw.Gap{Depth: g.Depth, Along: g.Along / k, Across: g.Across / k}
		if math.Abs(gradient/k) > 1e15 || wide.Validate() != nil || slow.Validate() != nil {
			t.Skip("more than is taken")
		}
		big, err := wide.Flow(m, gradient/k)
		require.NoError(t, err)
		require.LessOrEqual(t, math.Abs(big.Flow-k*k*f.Flow), 1e-11*k*k*turned(g, f.Flow), "flow as lengths squared")
		same(t, f.Dissipation, big.Dissipation/k, 1e-11, "heat as lengths")
		same(t, f.HighestShearRate, big.HighestShearRate, 1e-10, "rate")

		// The same in slow motion: of a melt that takes k times as long at every stress.
		m.Viscosity = slowed{m.Viscosity, k}
		late, err := slow.Flow(m, gradient)
		require.NoError(t, err)
		tol := 2e-10 + 1e-9*math.Max(1, k)*g.Depth/math.Hypot(g.Along, g.Across) // slower than 1e-9 1/s counts as that slow
		require.LessOrEqual(t, math.Abs(k*late.Flow-f.Flow), tol*turned(g, f.Flow), "flow as time")
		same(t, f.Dissipation, late.Dissipation*k, tol, "heat as time")
	})
}

// slowed is a law with its times stretched.
type slowed struct {
	material.Viscosity
	by float64
}

func (s slowed) At(rate, temperature, pressure float64) float64 {
	return s.by * s.Viscosity.At(s.by*rate, temperature, pressure)
}

func (s slowed) Slopes(rate, temperature, pressure float64) material.Slopes {
	return s.Viscosity.Slopes(s.by*rate, temperature, pressure)
}
