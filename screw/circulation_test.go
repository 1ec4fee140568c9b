package screw

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/root"
	"meltflight/internal/verify"
	"meltflight/internal/versus"
	"meltflight/material"
	"meltflight/material/materialtest"
)

// crossed is a gap 2 mm deep whose wall slides at 50 mm/s at an angle [rad].
func crossed(angle float64) Gap {
	return Gap{Depth: 2e-3, Along: 0.05 * math.Cos(angle), Across: -0.05 * math.Sin(angle)}
}

func powerMelt(n float64) Melt {
	return Melt{Viscosity: material.PowerLaw{Consistency: 5000, Index: n, Reference: 470}, Density: 750, SpecificHeat: 2500, Temperature: 470}
}

// at solves a gap at G* = H^(n+1)·g/(6m·V_z^n).
func at(g Gap, n, gStar float64) (s gapState, ok bool) {
	ok = s.solve(g, powerMelt(n), gStar*6*5000*math.Pow(g.Along, n)/math.Pow(g.Depth, n+1))
	return s, ok
}

func (l *layers) sum() (sum float64) {
	for i, t := range l.at {
		sum += layerWeights[i] * t
	}
	return sum
}

func TestCheckCirculationThinning(t *testing.T) {
	const source = "two-component power-law flow at n = 0.5, θ = 17.66°, then y and yc of each share by Newton iteration on both conditions, all integrals by tanh-sinh at 22 digits (mpmath)"
	const why = "profile by panels: 1e-9 of the barrel's speed, over a flow that is a part of it"
	const between = "interpolated between the shares of the table"
	var rows []verify.Row
	for _, v := range []struct {
		gStar float64
		least float64
		times [4]float64
	}{
		{-0.5, 0.805632178573, [4]float64{0.806953616256, 0.851028927471, 1.25316309961, 2.95446103836}},
		{0, 0.748384312872, [4]float64{0.750876888144, 0.823162670613, 1.32638329825, 3.30685755843}},
		{0.2, 0.705678100734, [4]float64{0.708802989635, 0.799450215176, 1.39245862275, 3.55149840021}},
		{0.4, 0.706038974375, [4]float64{0.710295171259, 0.833593222332, 1.35351899411, 3.10907466964}},
	} {
		s, ok := at(crossed(deg(17.66)), 0.5, v.gStar)
		require.True(t, ok)
		var c circulation
		var l layers
		c.integrate(&s)
		require.True(t, c.locate())
		require.NoError(t, l.solve(crossed(deg(17.66)), &s))
		name := fmt.Sprintf(" at G* = %g", v.gStar)
		rows = append(rows, verify.Row{Name: "t/t̄ of the core" + name, Source: source, Kind: verify.Own, Want: v.least, Got: l.core / l.mean, Tol: 5e-8, Why: why})
		for i, share := range [...]float64{0.1, 0.5, 0.9, 0.99} {
			_, slowness, _ := c.layer(c.find(share, c.core))
			time, err := l.times().At(share)
			require.NoError(t, err)
			name := fmt.Sprintf("t/t̄ at F = %g, G* = %g", share, v.gStar)
			rows = append(rows,
				verify.Row{Name: name, Source: source, Kind: verify.Own, Want: v.times[i], Got: slowness * c.at[panelCount].sum[1], Tol: 5e-8, Why: why},
				verify.Row{Name: name + ", table", Source: source, Kind: verify.Own, Want: v.times[i], Got: time / l.mean, Tol: 5e-5, Why: between})
		}
	}
	verify.Table(t, rows)
}

// An index of 1, by panels and by a law whose index nothing knows, is the closed form,
// whatever the angle and the gradient.
func TestPropertyCirculationNewtonianLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := crossed(draw.Uniform(0.02, 1.4).Draw(t, "angle"))
		gStar := draw.Uniform(-10, 0.99).Draw(t, "G*")
		s, ok := at(g, 1, gStar)
		require.True(t, ok)
		s.fluid.power = rapid.Bool().Draw(t, "power")
		var l layers
		require.NoError(t, l.solve(g, &s))
		tol := 1e-8 / math.Min(1, 1-gStar) // of the drag, over what is left of it
		require.InEpsilon(t, 0.75, l.core/l.mean, tol)
		for i, want := range layerNewtonian {
			require.InEpsilon(t, want, l.at[i]/l.mean, tol, "share %g", layerShares[i])
		}
		require.InEpsilon(t, 1, l.sum()/l.mean, tol)
	})
}

// Whatever the law, the inner layers are the quicker, and the mean over the layers is
// cross-section ÷ flow as stated.
func TestPropertyCirculation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := powerMelt(draw.Uniform(0.15, 1).Draw(t, "index"))
		if rapid.Bool().Draw(t, "another law") {
			m.Viscosity = materialtest.Viscosities().Draw(t, "law")
		}
		g := crossed(draw.Uniform(0.05, 1.2).Draw(t, "angle"))
		g.Depth = draw.Log(1e-4, 1e-2).Draw(t, "depth")
		eta, _ := m.local(0.05 / g.Depth)
		if !liquid(eta) {
			t.Skip("no liquid")
		}
		var s gapState
		require.True(t, s.solve(g, m, draw.Uniform(-3, 1).Draw(t, "gradient")*6*eta*g.Along/(g.Depth*g.Depth)))
		part := 2 * s.along(g) / (g.Along * g.Depth)
		var l layers
		err := l.solve(g, &s)
		if part <= 0 {
			require.ErrorIs(t, err, ErrNoFlow)
			return
		}
		if part < 0.1 {
			t.Skip("next to closed discharge")
		}
		require.NoError(t, err)
		require.InEpsilon(t, g.Depth/s.along(g), l.mean, 1e-9, "cross-section ÷ flow")
		require.InEpsilon(t, 1, l.sum()/l.mean, 1e-4, "mean of the layers")
		last := l.core
		for _, x := range l.at {
			require.Greater(t, x, last, "the outer the slower")
			last = x
		}
		// The sense of crossing changes nothing.
		g.Across = -g.Across
		var other gapState
		require.True(t, other.solve(g, m, s.g[1]*s.stress/g.Depth))
		var turned layers
		require.NoError(t, turned.solve(g, &other))
		require.InEpsilon(t, l.core, turned.core, 1e-8)
		require.InEpsilon(t, l.at[layerCount-1], turned.at[layerCount-1], 1e-6)
	})
}

// What is stated of the quickest melt; at closed discharge the flow is along the
// barrel's motion alone, so that the helix angle leaves the times.
func TestQuickestThinningMelt(t *testing.T) {
	least, most, helped := 1.0, 0.0, 0.0
	for _, n := range [...]float64{0.15, 0.3, 0.6, 1} {
		for _, degrees := range [...]float64{10, 17.66, 35, 60} {
			g := crossed(deg(degrees))
			stall, err := root.Find(func(gStar float64) float64 { s, _ := at(g, n, gStar); return s.along(g) }, 0, 3, 1e-14)
			require.NoError(t, err)
			quickest := func(part float64) float64 {
				s, ok := at(g, n, part*stall)
				require.True(t, ok)
				var l layers
				require.NoError(t, l.solve(g, &s))
				return l.core / l.mean
			}
			for part := 0.0; part < 0.995; part += 0.03 {
				q := quickest(part)
				least, most = math.Min(least, q), math.Max(most, q)
			}
			for _, part := range [...]float64{-0.1, -1, -10} {
				helped = math.Max(helped, quickest(part))
			}
			closed := map[float64]float64{0.15: 0.854072, 0.3: 0.809307, 1: 0.75}[n]
			if closed != 0 {
				require.InEpsilon(t, closed, quickest(1-1e-5), 3e-5, "n = %g, %g°", n, degrees)
			}
		}
	}
	require.InDelta(t, 0.495, least, 0.002)
	require.InDelta(t, 0.853, most, 0.002)
	require.InDelta(t, 0.932, helped, 0.002)
}

// Between the shares of the table and beyond them, as stated.
func TestLayersBetween(t *testing.T) {
	for _, n := range [...]float64{0.15, 0.5, 0.8} {
		for _, gStar := range [...]float64{-1, 0, 0.3, 0.55, 0.75} {
			g := crossed(deg(10))
			s, ok := at(g, n, gStar)
			require.True(t, ok)
			if 2*s.along(g) < 0.1*g.Along*g.Depth {
				continue
			}
			var l layers
			require.NoError(t, l.solve(g, &s))
			var c circulation
			c.integrate(&s)
			require.True(t, c.locate())
			for i := range 100 {
				share := 1 - math.Pow(10, -0.08*float64(i)-0.01)
				tol := 3e-3
				if share > layerShares[layerCount-1] {
					tol = 1e-2
				}
				_, slowness, _ := c.layer(c.find(share, c.core))
				time, err := l.times().At(share)
				require.NoError(t, err)
				require.InEpsilon(t, slowness/(s.rate*g.Depth), time, tol, "n = %g, G* = %g, F = %g", n, gStar, share)
			}
		}
	}
}

func TestCirculationRefused(t *testing.T) {
	var l layers
	still, ok := at(Gap{Depth: 2e-3, Along: 0.05}, 0.5, 0)
	require.True(t, ok)
	require.ErrorContains(t, l.solve(Gap{Depth: 2e-3, Along: 0.05}, &still), "nothing circulates")
	g := crossed(0.3)
	back, ok := at(g, 0.5, 1)
	require.True(t, ok)
	err := l.solve(g, &back)
	require.ErrorIs(t, err, ErrNoFlow)
	require.ErrorContains(t, err, "of what is dragged comes out")
	// So close to closed discharge that the layers are rounding.
	stall, err := root.Find(func(gStar float64) float64 { s, _ := at(g, 0.8, gStar); return s.along(g) }, 0, 3, 1e-14)
	require.NoError(t, err)
	closing, ok := at(g, 0.8, stall*(1-1e-7))
	require.True(t, ok)
	require.ErrorIs(t, l.solve(g, &closing), ErrNoFlow)
}

// A channel that leaks has the layers of one that does not; stations add up; nothing
// is allocated.
func TestLayersOfStations(t *testing.T) {
	c, m := small(), powerMelt(0.4)
	var b balance
	require.NoError(t, b.prepare(&c, m, 1))
	g := Gap{Depth: b.h, Along: b.vz, Across: -b.vx}
	var s gapState
	require.True(t, s.solve(g, m, 3e6/b.z))
	leaking := s
	leaking.across = 0.02 * s.v[0]
	require.True(t, leaking.newton())
	var leaky, tight, both layers
	require.NoError(t, leaky.solve(g, &leaking))
	require.NoError(t, tight.solve(g, &s))
	both.add(0.3, &leaky)
	both.add(0.2, &tight)
	for i := range tight.at {
		require.InEpsilon(t, tight.at[i], leaky.at[i], 1e-7)
		require.InEpsilon(t, 0.5*tight.at[i], both.at[i], 1e-7)
	}
	require.InEpsilon(t, 0.5*tight.mean, both.mean, 1e-9)
	require.InEpsilon(t, 0.5*tight.core, both.core, 1e-9)
	require.Zero(t, testing.AllocsPerRun(10, func() {
		var l layers
		if l.solve(g, &leaking) != nil {
			panic("refused")
		}
	}))
}

// BenchmarkLayers compares the layers of a gap with the solution of that gap.
func BenchmarkLayers(b *testing.B) {
	g, m := crossed(0.3), powerMelt(0.5)
	s, ok := at(g, 0.5, 0.2)
	var l layers
	sum := 0.0
	versus.Report(b, "x-gap", func(int) {
		if !ok || l.solve(g, &s) != nil {
			b.Fatal("refused")
		}
		sum += l.core
	}, func(int) {
		var other gapState
		if !other.solve(g, m, 1e6) {
			b.Fatal("not found")
		}
		sum += other.a[0]
	})
	if sum == 0 {
		b.Fatal("nothing computed")
	}
}
