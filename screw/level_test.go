package screw_test

import (
	"fmt"
	"math"
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/internal/draw"
	"meltflight/internal/input"
	"meltflight/internal/verify"
	"meltflight/screw"
)

const kgPerHour = 1. / 3600

// A tube that holds 50 g between its switches, and as much below them.
func tubeOf50g() screw.LevelControl {
	const area, density = 2e-3, 250.
	return screw.LevelControl{Area: area, Below: 0.05 / area / density, Band: 0.05 / area / density, Above: 0.1,
		AugerRate: 5 * kgPerHour, BulkDensity: density}
}

func TestCheckLevelControl(t *testing.T) {
	const byHand = "balance of mass by hand, in fractions"
	row := func(name, how string, want, got, tol float64) verify.Row {
		return verify.Row{Name: name, Source: how, Kind: verify.Own, Want: want, Got: got, Tol: tol, Why: "rounding of a few steps"}
	}
	prompt := tubeOf50g()
	late := prompt
	late.StartDelay, late.AfterRun = 5, 2
	split := prompt // the same lateness, told by the sensor
	split.SensorDelay, split.StartDelay = 2, 3
	starved := late
	starved.Below = late.Below / 50 // 1 g, 1.8 s of the demand

	cycle := func(c screw.LevelControl, demand float64) screw.FeedCycle {
		s, err := c.Cycle(demand)
		require.NoError(t, err)
		return s
	}
	busiest := func(c screw.LevelControl) float64 {
		q, err := c.Busiest()
		require.NoError(t, err)
		return q
	}
	const gram = 2. // of flake in each mm of tube: 2e-3 m² of 250 kg/m³ are 0.5 kg/m
	p, l, s, x := cycle(prompt, 2*kgPerHour), cycle(late, 2*kgPerHour), cycle(split, 2*kgPerHour), cycle(starved, 2*kgPerHour)
	verify.Table(t, []verify.Row{
		row("run, no delays [s]", byHand, 60, p.Run, 1e-13),
		row("pause, no delays [s]", byHand, 90, p.Pause, 1e-13),
		row("period, no delays [s]", byHand, 150, p.Period, 1e-13),
		row("starts an hour, no delays", byHand, 24, p.Starts*3600, 1e-13),
		row("duty, no delays [-]", byHand, 0.4, p.Duty, 1e-13),
		row("overshoot, no delays [m]", byHand, 0, p.Overshoot, 1e-13),
		row("run, 5 s late on and 2 s late off [s]", byHand, 196./3, l.Run, 1e-13),
		row("pause, 5 s late on and 2 s late off [s]", byHand, 98, l.Pause, 1e-13),
		row("duty, 5 s late on and 2 s late off [-]", byHand, 0.4, l.Duty, 1e-13),
		row("overshoot, 2 s late off [g]", byHand, 5./3, l.Overshoot*1000/gram, 1e-13),
		row("undershoot, 5 s late on [g]", byHand, 25./9, l.Undershoot*1000/gram, 1e-13),
		row("run, told by the sensor [s]", byHand, 196./3, s.Run, 1e-13),
		row("pause, told by the sensor [s]", byHand, 98, s.Pause, 1e-13),
		row("starved, 1 g below the switch [s]", byHand, 3.2, x.Starved, 1e-12),
		row("missing, 1 g below the switch [g]", byHand, 16./9, x.Missing*1000, 1e-12),
		row("run, 1 g below the switch [s]", byHand, 63.2, x.Run, 1e-12),
		row("pause, 1 g below the switch [s]", byHand, 98, x.Pause, 1e-12),
		row("starts an hour at half the rate, Q/(4m)", byHand, 25, cycle(prompt, 2.5*kgPerHour).Starts*3600, 1e-13),
		row("busiest demand, no delays [kg/h]", byHand, 2.5, busiest(prompt)*3600, 1e-13),
		row("busiest demand, 5 s late on and 2 s off [kg/h]", "most starts by golden section, mpmath, 40 digits",
			2.4525145199685026, busiest(late)*3600, 1e-13),
	})
}

// controls draws level controls of small machines and a demand below their augers' rate.
func controls(t *rapid.T) (c screw.LevelControl, demand float64) {
	c = screw.LevelControl{
		Area:        draw.Log(2e-4, 2e-2).Draw(t, "area"),
		Below:       draw.Uniform(0, 0.3).Draw(t, "below"),
		Band:        draw.Log(1e-3, 0.3).Draw(t, "band"),
		Above:       draw.Uniform(0, 0.3).Draw(t, "above"),
		SensorDelay: draw.Uniform(0, 5).Draw(t, "sensor delay"),
		StartDelay:  draw.Uniform(0, 20).Draw(t, "start delay"),
		AfterRun:    draw.Uniform(0, 20).Draw(t, "after-run"),
		AugerRate:   draw.Log(1e-4, 1e-2).Draw(t, "rate"),
		BulkDensity: draw.Log(50, 700).Draw(t, "density"),
	}
	return c, c.AugerRate * draw.Uniform(0.02, 0.98).Draw(t, "demand/rate")
}

func TestPropertyLevelCycle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, demand := controls(t)
		s, err := c.Cycle(demand)
		require.NoError(t, err)
		same(t, s.Period, s.Run+s.Pause, 1e-14, "period")
		same(t, s.Run/s.Period, s.Duty, 1e-12, "duty")
		same(t, demand*s.Period, c.AugerRate*s.Run+s.Missing, 1e-12, "mass")
		if c.Below > 0 { // a tube with nothing below its switch has no safety, even if it is met in time
			require.Equal(t, s.Starved > 0, s.Reserve.Safety() < 1)
		}
		require.Equal(t, []float64{s.Undershoot, c.Below}, []float64{s.Reserve.Demand, s.Reserve.Capacity})
		require.Equal(t, s.Overshoot > c.Above, len(s.Beyond) > 0)
		if s.Starved == 0 {
			same(t, demand/c.AugerRate, s.Duty, 1e-15, "duty whatever band and delays are")
		} else {
			require.Zero(t, s.Lowest)
			require.Less(t, s.Duty, demand/c.AugerRate)
		}

		wide := c
		wide.Band *= 1.5
		w, err := wide.Cycle(demand)
		require.NoError(t, err)
		require.Less(t, w.Starts, s.Starts, "more band, fewer starts")
		require.Equal(t, s.Starved, w.Starved)

		slow := c
		slow.StartDelay += draw.Uniform(0.1, 20).Draw(t, "later")
		l, err := slow.Cycle(demand)
		require.NoError(t, err)
		require.GreaterOrEqual(t, l.Starved, s.Starved)
		require.GreaterOrEqual(t, l.Missing, s.Missing)
		require.Less(t, l.Starts, s.Starts)
		if s.Starved > 0 {
			require.Greater(t, l.Starved/l.Period, s.Starved/s.Period, "later, more of the time starved")
		}

		// No demand near the busiest starts the auger more often.
		if q, err := c.Busiest(); assert.NoError(t, err) {
			c.Below = 10
			most, err := c.Cycle(q)
			require.NoError(t, err)
			if most.Starved == 0 {
				for _, other := range []float64{0.97 * q, 1.03 * q} {
					if o, err := c.Cycle(other); err == nil {
						require.Less(t, o.Starts, most.Starts)
					}
				}
			}
		}
	})
}

func TestLevelRefuses(t *testing.T) {
	c := tubeOf50g()
	_, err := c.Cycle(c.AugerRate)
	require.ErrorIs(t, err, screw.ErrCannotKeepUp)
	require.NotErrorIs(t, err, input.ErrInvalid)
	_, err = c.Simulate(2*c.AugerRate, screw.Fluctuation{Interval: 1, Duration: 100})
	require.ErrorIs(t, err, screw.ErrCannotKeepUp)
	_, err = c.Cycle(math.NaN())
	require.ErrorContains(t, err, "screw.LevelControl demand")
	_, err = c.Simulate(c.AugerRate/2, screw.Fluctuation{Interval: 1e-3, Duration: 1e9})
	require.ErrorContains(t, err, "screw.Fluctuation.Duration")
	_, err = c.Simulate(2*kgPerHour, screw.Fluctuation{Interval: 1e6, Duration: 3e8}) // 2e6 periods of 150 s
	require.ErrorContains(t, err, "screw.Fluctuation.Duration")
	require.ErrorIs(t, err, input.ErrInvalid)
	c.Area, c.Band = 0, -1
	for _, err := range []error{c.Validate(), func() error { _, err := c.Busiest(); return err }()} {
		require.ErrorContains(t, err, "screw.LevelControl.Area")
		require.ErrorContains(t, err, "screw.LevelControl.Band")
	}
}

// Whatever bits come in, an error or finite numbers come out.
func TestPropertyLevelAnyBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, demand := controls(t)
		u := screw.Fluctuation{Demand: 0.2, Density: 0.1, Interval: 10, Duration: 1000, Seed: rapid.Uint64().Draw(t, "seed")}
		fields := []*float64{&c.Area, &c.Below, &c.Band, &c.Above, &c.SensorDelay, &c.StartDelay, &c.AfterRun, &c.AugerRate,
			&c.BulkDensity, &demand, &u.Demand, &u.Density, &u.Interval, &u.Duration}
		edges := rapid.SampledFrom([]float64{0, 1e-8, 1e-6, 1e-4, 1e-3, 0.5, 1, 10, 3000, 3600, 1e4})
		for range rapid.IntRange(0, 6).Draw(t, "spoilt") {
			*rapid.SampledFrom(fields).Draw(t, "field") = rapid.OneOf(draw.Bits(), edges).Draw(t, "bits")
		}
		if s, err := c.Cycle(demand); err == nil {
			finite(t, reflect.ValueOf(s))
			require.True(t, s.Run > 0 && s.Pause > 0 && s.Lowest >= 0 && s.Starved >= 0, "%+v", s)
		}
		if q, err := c.Busiest(); err == nil {
			require.True(t, q > 0 && q < c.AugerRate, "%g", q)
		}
		if r, err := c.Simulate(demand, u); err == nil {
			finite(t, reflect.ValueOf(r))
			require.True(t, r.Lowest >= 0 && r.Highest >= r.Lowest && r.Missing >= 0, "%+v", r)
		}
	})
}

func ExampleLevelControl() {
	// A 50 mm tube over the throat, 30 mm between two sensors, flake of 300 kg/m³.
	control := screw.LevelControl{Area: math.Pi / 4 * 0.05 * 0.05, Below: 0.04, Band: 0.03, Above: 0.05,
		SensorDelay: 1, StartDelay: 4, AfterRun: 2, AugerRate: 4 * kgPerHour, BulkDensity: 300}
	demand := 1.5 / 3600 // kg/s
	steady, err := control.Cycle(demand)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f starts an hour, %.0f s on, %.0f s off, level %.0f to %.0f mm\n",
		steady.Starts*3600, steady.Run, steady.Pause, steady.Lowest*1e3, steady.Highest*1e3)
	day, err := control.Simulate(demand, screw.Fluctuation{Demand: 0.1, Density: 0.1, Interval: 10, Duration: 24 * 3600, Seed: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("unsteady for a day: level %.0f to %.0f mm, starved %.0f %% of the time\n", day.Lowest*1e3, day.Highest*1e3, day.Starved*100)
	// Output:
	// 43 starts an hour, 31 s on, 52 s off, level 36 to 74 mm
	// unsteady for a day: level 35 to 74 mm, starved 0 % of the time
}
