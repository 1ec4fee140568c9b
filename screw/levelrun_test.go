package screw_test

import (
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/screw"
)

// Without fluctuation the simulation is the closed form, to rounding, starved or not.
func TestPropertyLevelSimulationIsTheCycle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, demand := controls(t)
		s, err := c.Cycle(demand)
		require.NoError(t, err)
		const turns = 7
		r, err := c.Simulate(demand, screw.Fluctuation{Interval: math.Min(1e6, s.Period*draw.Log(0.05, 10).Draw(t, "interval/period")), Duration: turns * s.Period})
		require.NoError(t, err)
		require.Equal(t, turns, r.Starts)
		same(t, s.Duty, r.Duty, 1e-11, "duty")
		same(t, s.Highest, r.Highest, 1e-11, "highest")
		require.InDelta(t, s.Lowest/s.Highest, r.Lowest/s.Highest, 1e-11, "lowest")
		require.InDelta(t, s.Starved/s.Period, r.Starved, 1e-11, "starved")
		require.InDelta(t, s.Missing/(demand*s.Period), r.Missing/(demand*turns*s.Period), 1e-11, "missing")
		require.InDelta(t, 0, r.Gained/(demand*s.Period), 1e-10, "gained")
	})
}

func TestPropertyLevelSimulationKeepsMass(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, demand := controls(t)
		s, err := c.Cycle(demand)
		require.NoError(t, err)
		u := screw.Fluctuation{
			Demand:   draw.Uniform(0, 1).Draw(t, "demand's variation"),
			Density:  draw.Uniform(0, 0.5).Draw(t, "density's variation"),
			Interval: s.Period * draw.Log(0.02, 3).Draw(t, "interval/period"),
			Duration: 20 * s.Period,
			Seed:     rapid.Uint64().Draw(t, "seed"),
		}
		r, err := c.Simulate(demand, u)
		require.NoError(t, err)
		finite(t, reflect.ValueOf(r))
		require.InDelta(t, 0, (r.Fed-r.Drawn-r.Gained)/(demand*u.Duration), 1e-10, "%+v", r)
		require.True(t, r.Duty >= 0 && r.Duty < 1+1e-12 && r.Starved >= 0 && r.Starved < 1+1e-12, "%+v", r)
		require.Equal(t, r.Starved > 0, r.Missing > 0)
		require.LessOrEqual(t, r.Lowest, r.Highest)
		again, err := c.Simulate(demand, u)
		require.NoError(t, err)
		require.Equal(t, r, again, "the same seed, the same run")
	})
}

// Over a long run what is drawn, the duty and the spread of levels are those of the
// fluctuation asked for.
func TestLevelSimulationFluctuates(t *testing.T) {
	c, demand := tubeOf50g(), 2*kgPerHour
	c.StartDelay, c.AfterRun = 5, 2
	u := screw.Fluctuation{Demand: 0.3, Density: 0.15, Interval: 20, Duration: 2e6, Seed: 1}
	steady, err := c.Cycle(demand)
	require.NoError(t, err)
	r, err := c.Simulate(demand, u)
	require.NoError(t, err)
	// The mean of n draws scatters by variation/√n, here 0.1 %; four times that.
	n := math.Sqrt(u.Duration / u.Interval)
	same(t, demand*u.Duration, r.Drawn, 4*u.Demand/n, "drawn")
	same(t, steady.Duty, r.Duty, 4*(u.Demand+u.Density)/n, "duty")
	same(t, u.Duration*steady.Starts, float64(r.Starts), 0.03, "starts") // a start's bias by the draws is of their variance
	require.Greater(t, r.Highest, steady.Highest)
	require.Less(t, r.Lowest, steady.Lowest)
	require.Zero(t, r.Starved)

	c.Below = steady.Undershoot * 1.01 // enough when steady, not when it is not
	r, err = c.Simulate(demand, u)
	require.NoError(t, err)
	require.Positive(t, r.Starved)
	require.Zero(t, r.Lowest)
	last := r.Starved
	for _, delay := range []float64{10, 15, 25, 60} {
		later := c
		later.StartDelay = delay
		r, err := later.Simulate(demand, u)
		require.NoError(t, err)
		require.Greater(t, r.Starved, last, "later, more starved")
		last = r.Starved
	}
	other := u
	other.Seed++
	q, err := c.Simulate(demand, other)
	require.NoError(t, err)
	require.NotEqual(t, r, q)
}

// Each fluctuation alone scatters what is drawn, or what the auger feeds in its time, by
// its variation over the root of the number of draws.
func TestLevelSimulationScatter(t *testing.T) {
	c, demand := tubeOf50g(), 2*kgPerHour
	const runs, draws, variation = 200, 40, 0.1
	deviation := func(u screw.Fluctuation, mean func(r screw.FeedRun) float64) float64 {
		u.Interval, u.Duration = 1000, 1000*draws
		var sum float64
		for seed := range uint64(runs) {
			u.Seed = seed
			r, err := c.Simulate(demand, u)
			require.NoError(t, err)
			sum += math.Pow(mean(r)-1, 2)
		}
		return math.Sqrt(sum / runs)
	}
	drawn := func(r screw.FeedRun) float64 { return r.Drawn / (demand * 1000 * draws) }
	density := func(r screw.FeedRun) float64 { return r.Fed / (c.AugerRate * r.Duty * 1000 * draws) }
	want := variation / math.Sqrt(draws)
	const tol = 0.2 // four times 1/√(2·runs), by which a deviation from so many runs scatters
	same(t, want, deviation(screw.Fluctuation{Demand: variation}, drawn), tol, "demand")
	same(t, want, deviation(screw.Fluctuation{Density: variation}, density), tol, "density")
	require.Less(t, deviation(screw.Fluctuation{Density: variation}, drawn), 1e-9, "the screw draws by mass")
	require.Less(t, deviation(screw.Fluctuation{Demand: variation}, density), 1e-9, "the auger feeds by volume")
}
