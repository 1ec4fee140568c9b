package screw_test

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/internal/versus"
	"meltflight/material"
	"meltflight/screw"
	"meltflight/screw/screwtest"
)

// thin is a power-law melt.
func thin(n float64) screw.Melt {
	return screw.Melt{Viscosity: material.PowerLaw{Consistency: 5000, Index: n, Reference: 470},
		Density: 750, SpecificHeat: 2500, Temperature: 470}
}

// reduced returns q* = 2Q/(V_z·H) at G* = H^(n+1)·g/(6m·V_z^n), and the flow itself.
func reduced(t require.TestingT, m screw.Melt, n, angle, gStar float64) (float64, screw.GapFlow, screw.Gap) {
	const speed, depth = 0.05, 0.002
	gap := screw.Gap{Depth: depth, Along: speed * math.Cos(angle), Across: speed * math.Sin(angle)}
	f, err := gap.Flow(m, gStar*6*5000*math.Pow(gap.Along, n)/math.Pow(depth, n+1))
	require.NoError(t, err)
	return 2 * f.Flow / (gap.Along * depth), f, gap
}

func TestCheckGapOneComponent(t *testing.T) {
	const source = "plane Couette and pressure flow of a power-law melt, closed form with quadrature to 1e-12"
	const why = "nine digits printed"
	var rows []verify.Row
	indices := [...]float64{0.8, 0.5, 0.3}
	for _, v := range [][7]float64{
		{-1, 2.24591981, 3.75731150, 3.30499232, 3.33197825, 8.33129926, 3.07697445},
		{-0.5, 1.57854594, 2.38703796, 1.75492541, 2.12967922, 1.98699032, 1.86109661},
		{-0.2, 1.24715633, 1.58438162, 1.37523326, 1.53808315, 1.54372400, 1.46315641},
		{0, 1, 1, 1, 1, 1, 1},
		{0.1, 0.875334216, 0.696214629, 0.803022844, 0.68488578, 0.683928509, 0.665149888},
		{0.2, 0.752843667, 0.384381618, 0.624766739, 0.338083152, 0.456275997, 0.263156412},
		{0.5, 0.421454062, -0.612962044, 0.245074594, -0.870320777, 0.0130096754, -1.13890339},
		{1, -0.245919813, -2.2426885, -1.30499232, -2.66802175, -6.33129926, -2.92302555},
		{1.5, -1.0356032, -3.81424167, -4.08714133, -4.27795798, -27.2160153, -4.47009026},
	} {
		for i, n := range indices {
			q, f, _ := reduced(t, thin(n), n, 0, v[0])
			unit := 5000 * math.Pow(0.05/0.002, n)
			name := fmt.Sprintf(" at n = %g, G* = %g", n, v[0])
			rows = append(rows,
				verify.Row{Name: "q*" + name, Source: source, Kind: verify.Own, Want: v[1+2*i], Got: q, Tol: 6e-9, Why: why},
				verify.Row{Name: "stress at the screw" + name, Source: source, Kind: verify.Own, Want: v[2+2*i], Got: f.Stress / unit, Tol: 6e-9, Why: why})
		}
	}
	for i, n := range indices {
		onset := math.Pow((n+1)/n, n) / 6
		q, f, _ := reduced(t, thin(n), n, 0, onset)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("q* where the flow at the screw turns, n = %g", n), Source: "2n/(2n+1), exact", Kind: verify.Own,
			Want: 2 * n / (2*n + 1), Got: q, Tol: 1e-12, Why: "rounding"})
		require.InDelta(t, 0, f.Stress/f.SlidingStress, 1e-9)
		stall := [...]float64{0.8291183338, 0.6198902629, 0.5036706194}[i]
		q, _, _ = reduced(t, thin(n), n, 0, stall)
		require.InDelta(t, 0, q, 1e-9, "stall at n = %g", n)
	}
	verify.Table(t, rows)
}

func TestCheckGapTwoComponents(t *testing.T) {
	const source = "two-component power-law flow at θ = 17.66°, no net cross flow: Newton iteration on graded 40-point Gauss, five points by tanh-sinh at 25 digits"
	angle := 17.66 * math.Pi / 180
	var rows []verify.Row
	for _, v := range [][4]float64{
		{-0.5, 1.59056402, 1.83167249, 2.20792218}, {0, 0.98452171, 0.94429398, 0.88777304},
		{0.1, 0.86325863, 0.76620320, 0.62887896}, {0.2, 0.74428434, 0.60486777, 0.43464841},
		{0.4, 0.51804582, 0.34386054, 0.18074618}, {0.5, 0.40564027, 0.20274066, -0.04244185},
		{0.6, 0.28752076, 0.01144831, -0.53960546}, {1, -0.25511290, -1.32646788, -6.35312050},
	} {
		for i, n := range [...]float64{0.8, 0.5, 0.3} {
			q, _, _ := reduced(t, thin(n), n, angle, v[0])
			rows = append(rows, verify.Row{Name: fmt.Sprintf("q* at n = %g, G* = %g", n, v[0]), Source: source, Kind: verify.Own,
				Want: v[1+i], Got: q, Tol: 5.1e-9 / math.Abs(v[1+i]), Why: "eight decimals printed"})
		}
	}
	_, f, gap := reduced(t, thin(0.5), 0.5, angle, 0.2)
	stress := 5000 * math.Pow(0.05/0.002, 0.5)
	rows = append(rows,
		verify.Row{Name: "cross stress at the screw", Source: source, Kind: verify.Own, Want: -0.6174070, Got: f.CrossStress / stress, Tol: 1e-7, Why: "seven digits"},
		verify.Row{Name: "cross gradient", Source: source, Kind: verify.Own, Want: 1.5446649, Got: f.CrossGradient * gap.Depth / stress, Tol: 4e-8, Why: "eight digits"},
		verify.Row{Name: "stress at the screw", Source: source, Kind: verify.Own, Want: 0.2737800, Got: f.Stress / stress, Tol: 2e-7, Why: "seven digits"},
		verify.Row{Name: "dissipation", Source: source, Kind: verify.Own, Want: 1.32078713, Got: f.Dissipation / (stress * 0.05), Tol: 4e-9, Why: "nine digits"})
	for i, n := range [...]float64{0.8, 0.5, 0.3} {
		q, _, _ := reduced(t, thin(n), n, angle, [...]float64{0.82115203, 0.60510737, 0.48693534}[i])
		require.InDelta(t, 0, q, 3e-8, "stall at n = %g", n)
	}
	verify.Table(t, rows)
}

// gaps draws gaps from still to swift, shallow to deep.
func gaps() *rapid.Generator[screw.Gap] {
	return rapid.Custom(func(t *rapid.T) screw.Gap {
		speed, angle := draw.Log(1e-4, 10).Draw(t, "speed"), draw.Uniform(0, math.Pi/3).Draw(t, "angle")
		return screw.Gap{Depth: draw.Log(1e-5, 1e-2).Draw(t, "depth"), Along: speed * math.Cos(angle), Across: speed * math.Sin(angle)}
	})
}

// pushed draws a gradient from next to nothing to a thousand times what stalls the drag.
func pushed(t *rapid.T, g screw.Gap, m screw.Melt) float64 {
	speed := math.Hypot(g.Along, g.Across)
	unit := 6 * m.Viscosity.At(speed/g.Depth, m.Temperature, 0) * speed / (g.Depth * g.Depth)
	gradient := math.Min(9e14, unit*draw.Log(1e-6, 1e3).Draw(t, "gradient"))
	if rapid.Bool().Draw(t, "helping") {
		return -gradient
	}
	return gradient
}

func TestPropertyGap(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, m := gaps().Draw(t, "gap"), screwtest.Melts().Draw(t, "melt")
		gradient := pushed(t, g, m)
		at := func(g screw.Gap, gradient float64) screw.GapFlow {
			f, err := g.Flow(m, gradient)
			if errors.Is(err, material.ErrInvalid) && strings.Contains(err.Error(), "Viscosity at") {
				t.Skip("pushed to where the law is no liquid's")
			}
			require.NoError(t, err)
			return f
		}
		f := at(g, gradient)
		scale := math.Abs(f.Power) + f.Dissipation + math.Abs(f.Flow*f.Gradient)
		require.LessOrEqual(t, math.Abs(f.Power-f.Dissipation-f.Flow*f.Gradient), 1e-10*scale, "power in = dissipation + pumping")
		require.Positive(t, f.Dissipation)
		require.Less(t, at(g, gradient+0.1*math.Abs(gradient)).Flow, f.Flow, "pressure takes flow")
		size := math.Abs(f.Flow) + g.Along*g.Depth
		// Only the sign of what crosses turns with the sense of crossing.
		g.Across = -g.Across
		other := at(g, gradient)
		require.LessOrEqual(t, math.Abs(other.Flow-f.Flow), 1e-10*size)
		require.LessOrEqual(t, math.Abs(other.CrossGradient+f.CrossGradient), 1e-9*(math.Abs(f.CrossGradient)+math.Abs(gradient)))
		// Without crossing, seen from the sliding wall all is reversed: what flows
		// forward there under the opposite gradient is the rest of plug flow.
		g.Across = 0
		sum := at(g, gradient).Flow + at(g, -gradient).Flow
		size = math.Abs(at(g, -math.Abs(gradient)).Flow) + g.Along*g.Depth
		require.LessOrEqual(t, math.Abs(sum-g.Along*g.Depth), 1e-10*size, "forward and backward make plug flow")
	})
}

func TestPropertyGapNewtonianLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := gaps().Draw(t, "gap")
		m := screw.Melt{Viscosity: material.Newtonian{Eta: 500}, Density: 750, SpecificHeat: 2500, Temperature: 470}
		gradient := pushed(t, g, m)
		f, err := g.Flow(m, gradient)
		require.NoError(t, err)
		h := g.Depth
		size := g.Along*h + math.Abs(gradient)*h*h*h/6000
		require.LessOrEqual(t, math.Abs(f.Flow-(g.Along*h/2-gradient*h*h*h/6000)), 1e-12*size)
		require.LessOrEqual(t, math.Abs(f.CrossGradient-6*500*g.Across/(h*h)), 1e-10*(6*500*g.Across/(h*h)+math.Abs(gradient)))
		diss := 500/h*(g.Along*g.Along+4*g.Across*g.Across) + gradient*gradient*h*h*h/6000
		same(t, diss, f.Dissipation, 1e-10, "dissipation")
		// A power law next to Newtonian is next to it.
		m.Viscosity = material.PowerLaw{Consistency: 500, Index: 1 - 1e-9, Reference: 470}
		near, err := g.Flow(m, gradient)
		require.NoError(t, err)
		require.LessOrEqual(t, math.Abs(near.Flow-f.Flow), 1e-7*size)
	})
}

// Closed form and quadrature are two ways to the same flow.
func TestPropertyGapQuadratureEqualsClosedForm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := gaps().Draw(t, "gap")
		m := thin(draw.Uniform(0.15, 1).Draw(t, "index"))
		gradient := pushed(t, g, m)
		closed, err := g.Flow(m, gradient)
		if errors.Is(err, material.ErrInvalid) && strings.Contains(err.Error(), "Viscosity at") {
			t.Skip("pushed to where the law is no liquid's")
		}
		require.NoError(t, err)
		m.Viscosity = hidden{m.Viscosity}
		byParts, err := g.Flow(m, gradient)
		require.NoError(t, err)
		require.LessOrEqual(t, math.Abs(closed.Flow-byParts.Flow), 1e-10*(g.Along*g.Depth+math.Abs(closed.Flow)))
		same(t, closed.Dissipation, byParts.Dissipation, 1e-10, "dissipation")
	})
}

func TestGapAtRestAndAtItsWalls(t *testing.T) {
	newton := screw.Melt{Viscosity: material.Newtonian{Eta: 500}, Density: 750, SpecificHeat: 2500, Temperature: 470}
	for _, m := range []screw.Melt{newton, thin(0.2), thin(1.3), {Viscosity: hidden{newton.Viscosity}, Density: 750, SpecificHeat: 2500, Temperature: 470}} {
		f, err := screw.Gap{Depth: 1e-3}.Flow(m, 0)
		require.NoError(t, err)
		require.Equal(t, screw.GapFlow{}, f, "nothing moves")
	}
	for _, g := range []float64{-3e8, 3e8} { // V/H and gH/2η at one wall or the other
		f, err := screw.Gap{Depth: 1e-3, Along: 0.05}.Flow(newton, g)
		require.NoError(t, err)
		require.InEpsilon(t, 50+3e8*1e-3/2/500, f.HighestShearRate, 1e-12)
	}
	_, err := screw.Gap{Depth: 1e-3, Along: 0.1, Across: 0.1}.Flow(screw.Melt{Viscosity: material.PowerLaw{Consistency: 1e9, Index: 0.5,
		Reference: 1500, TemperatureSlope: 0.2}, Density: 750, SpecificHeat: 2500, Temperature: 100}, 1e6)
	require.ErrorContains(t, err, "screw.Melt.Viscosity at")
	for _, m := range []screw.Melt{newton, thin(1)} { // just as much as leaves the still wall without stress
		f, err := screw.Gap{Depth: 0.5, Along: 1}.Flow(m, 8*m.Viscosity.At(1, 470, 0))
		require.NoError(t, err)
		require.Zero(t, f.Stress)
		same(t, 1./6, f.Flow, 1e-14, "a third of plug flow")
	}
	// Next to nothing pushes: as good as nothing.
	cross := screw.Melt{Viscosity: material.CrossExponential{N: 0.3, TauStar: 3e4, B: 1000}, Density: 750, SpecificHeat: 2500, Temperature: 470}
	a, err := screw.Gap{Depth: 1e-4, Along: 0.05}.Flow(cross, 1e-9)
	require.NoError(t, err)
	b, err := screw.Gap{Depth: 1e-4, Along: 0.05}.Flow(cross, 0)
	require.NoError(t, err)
	same(t, a.Flow, b.Flow, 1e-12, "flow")
	// Where the closed form passes a logarithm, at indices next to 1/2k.
	for _, n := range []float64{0.5002, 0.25001, 0.49999, 1 / (2 + 1e-9), 0.5} {
		gap, m := screw.Gap{Depth: 1e-3, Along: 0.05, Across: 0.001}, thin(n)
		closed, err := gap.Flow(m, 3e8)
		require.NoError(t, err)
		m.Viscosity = hidden{m.Viscosity}
		byParts, err := gap.Flow(m, 3e8)
		require.NoError(t, err)
		same(t, closed.Flow, byParts.Flow, 1e-12, "flow")
	}
}

func BenchmarkGapPowerLaw(b *testing.B) {
	m := thin(0.3)
	gap := screw.Gap{Depth: 2e-3, Along: 0.0476, Across: 0.0152}
	var sum float64
	versus.Report(b, "x-24-pow", func(i int) {
		f, err := gap.Flow(m, 1e6+1e3*float64(i&1023))
		if err != nil {
			b.Fatal(err)
		}
		sum += f.Flow
	}, func(i int) {
		for k := range 24 {
			sum += math.Pow(1.5+float64(k+i&3), 1.1667)
		}
	})
	if sum == 0 {
		b.Fatal("nothing computed")
	}
}
