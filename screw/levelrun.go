package screw

import (
	"math"
	"math/rand/v2"

	"meltflight/internal/input"
)

// Fluctuation is how unsteady demand and flake are. Both keep a value for an Interval
// and then take another, independent and log-normal about the mean, cut at four
// deviations. Coefficients of variation of some 0.05 to 0.1 of what a screw draws of
// flake are common practice, no source.
type Fluctuation struct {
	Demand   float64 // coefficient of variation of what the screw draws, 0 to 1 [-]
	Density  float64 // that of the bulk density of what the auger brings, 0 to 0.5 [-]
	Interval float64 // 1e-3 to 1e6 [s]
	Duration float64 // of the whole run, up to 1e9 and to 1e6 intervals and periods [s]
	Seed     uint64  // the same seed gives the same run
}

// Validate reports fields out of range.
func (u Fluctuation) Validate() error {
	var f input.Faults
	f.Between("screw.Fluctuation.Demand", u.Demand, 0, 1, "")
	f.Between("screw.Fluctuation.Density", u.Density, 0, 0.5, "")
	f.Between("screw.Fluctuation.Interval", u.Interval, 1e-3, 1e6, "s")
	f.Between("screw.Fluctuation.Duration", u.Duration, 1e-3, 1e9, "s")
	return f.Err()
}

// scatter returns a factor of mean 1 with a coefficient of variation: 1 exactly for 0.
func scatter(random *rand.Rand, variation float64) float64 {
	square := math.Log1p(variation * variation)
	z := min(max(random.NormFloat64(), -4), 4)
	return math.Exp(math.Sqrt(square)*z - square/2)
}

// FeedRun is what came of a level control over some time.
type FeedRun struct {
	Starts  int     // of the auger [-]
	Duty    float64 // share of time it fed [-]
	Starved float64 // share of time with less than the demand in an empty tube [-]
	Highest float64 // level above the throat [m]
	Lowest  float64 // level above the throat [m]
	Fed     float64 // by the auger [kg]
	Drawn   float64 // by the screw [kg]
	Missing float64 // what the screw wanted and did not get [kg]
	Gained  float64 // by the tube's content, from first to last [kg]
}

// Simulate runs the control from a stop of the auger at the highest level of [LevelControl.Cycle],
// for a demand of the mean given [kg/s]. The auger moves AugerRate ÷ BulkDensity by
// volume whatever the density; flake leaves the tube in the order it came, by mass as
// the screw demands. It goes from event to event, between which levels are linear: no
// time step comes in, and without fluctuation it is Cycle to rounding.
//
// It errs as Cycle does, on a fluctuation out of range, and on a Duration of more than
// some 1e6 events.
func (c LevelControl) Simulate(demand float64, u Fluctuation) (FeedRun, error) {
	var f input.Faults
	f.Add(u.Validate())
	steady, err := c.Cycle(demand)
	f.Add(err)
	if f.None() && u.Duration/u.Interval+u.Duration/steady.Period > 1e6 {
		u.refuseDuration(&f)
	}
	if err := f.Err(); err != nil {
		return FeedRun{}, err
	}
	s := simulation{c: c, demand: demand, u: u, random: rand.New(rand.NewPCG(u.Seed, 0)), left: u.Duration}
	s.tube = []layer{{steady.Highest * c.Area, c.BulkDensity}}
	s.volume = s.tube[0].volume
	s.run.Highest, s.run.Lowest = s.volume, s.volume
	before := s.mass()
	for range 20_000_000 { // far above what 1e6 intervals and periods come to, unless draws are wild
		if s.left <= 0 {
			s.run.Gained = s.mass() - before
			s.run.Duty /= u.Duration
			s.run.Starved /= u.Duration
			s.run.Highest /= c.Area
			s.run.Lowest /= c.Area
			return s.run, nil
		}
		s.step()
	}
	u.refuseDuration(&f)
	return FeedRun{}, f.Err()
}

func (u Fluctuation) refuseDuration(f *input.Faults) {
	f.Refuse("screw.Fluctuation.Duration", u.Duration, "s", "up to 1e6 intervals and periods of the control")
}

// layer is flake of one density in the tube.
type layer struct{ volume, density float64 } // [m³], [kg/m³]

// phase is what the control does or waits for.
type phase int

const (
	draining phase = iota // still, until the lower switch
	late                  // still, though told to start
	filling               // feeding, until the upper switch
	running               // feeding, though told to stop
)

type simulation struct {
	c      LevelControl
	demand float64
	u      Fluctuation
	random *rand.Rand
	run    FeedRun // shares as times, levels as volumes, until the end

	left, interval, timer float64 // to the end, to the next draw, to the end of a delay [s]
	phase                 phase
	tube                  []layer // the lowest first
	volume                float64 // of all layers [m³]
	wanted, density       float64 // as drawn last [kg/s], [kg/m³]
}

func (s *simulation) mass() (kg float64) {
	for _, l := range s.tube {
		kg += l.volume * l.density
	}
	return kg
}

// step goes on to the next event.
func (s *simulation) step() {
	if s.interval <= 0 {
		s.wanted = s.demand * scatter(s.random, s.u.Demand)
		s.density = s.c.BulkDensity * scatter(s.random, s.u.Density)
		s.interval = s.u.Interval
	}
	var in float64 // [m³/s]
	if s.phase >= filling {
		in = s.c.AugerRate / s.c.BulkDensity
	}
	empty := len(s.tube) == 0
	starved := empty && in*s.density <= s.wanted
	if in > 0 && !starved && (empty || s.tube[len(s.tube)-1].density != s.density) {
		s.tube = append(s.tube, layer{0, s.density})
	}
	drawn := s.wanted // [kg/s]
	out := in         // [m³/s]
	if starved {
		drawn = in * s.density
	} else {
		out = s.wanted / s.tube[0].density
	}

	// The next event is the first of these.
	const (
		nothing = iota // a draw, or the end
		elapsed
		switched
		exhausted
	)
	event, dt := nothing, min(s.left, s.interval)
	sooner := func(e int, t float64) {
		if t <= dt {
			event, dt = e, max(t, 0)
		}
	}
	low := s.c.Below * s.c.Area
	high := (s.c.Below + s.c.Band) * s.c.Area
	switch s.phase {
	case late, running:
		sooner(elapsed, s.timer)
	case draining:
		if s.volume <= low {
			sooner(switched, 0)
		} else if out > in {
			sooner(switched, (s.volume-low)/(out-in))
		}
	case filling:
		if s.volume >= high {
			sooner(switched, 0)
		} else if in > out {
			sooner(switched, (high-s.volume)/(in-out))
		}
	}
	if !starved {
		sinking := out
		if len(s.tube) == 1 {
			sinking -= in
		}
		if sinking > 0 {
			sooner(exhausted, s.tube[0].volume/sinking)
		}
	}
	s.pass(dt, in, out, drawn, starved)

	switch event {
	case exhausted:
		if s.tube = s.tube[1:]; len(s.tube) == 0 {
			s.volume = 0
		}
	case elapsed:
		if s.phase == running {
			s.phase = draining
		} else {
			s.phase = filling
			s.run.Starts++
		}
	case switched:
		if s.phase == draining {
			s.volume, s.timer, s.phase = min(s.volume, low), s.c.SensorDelay+s.c.StartDelay, late
		} else {
			s.volume, s.timer, s.phase = max(s.volume, high), s.c.SensorDelay+s.c.AfterRun, running
		}
	}
	s.run.Highest, s.run.Lowest = max(s.run.Highest, s.volume), min(s.run.Lowest, s.volume)
}

// pass lets time go by in steady flows.
func (s *simulation) pass(dt, in, out, drawn float64, starved bool) {
	s.left -= dt
	s.interval -= dt
	s.timer -= dt
	s.run.Fed += in * s.density * dt
	s.run.Drawn += drawn * dt
	s.run.Missing += (s.wanted - drawn) * dt
	if in > 0 {
		s.run.Duty += dt
	}
	if starved {
		s.run.Starved += dt
		return
	}
	s.volume = max(0, s.volume+(in-out)*dt)
	s.tube[len(s.tube)-1].volume += in * dt
	s.tube[0].volume = max(0, s.tube[0].volume-out*dt)
}
