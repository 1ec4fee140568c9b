package main

import (
	"errors"
	"fmt"
	"math"

	"meltflight/material"
	"meltflight/screw"
)

// answer is what is found.
type answer struct {
	plan   plan
	base   done
	least  done    // with the least feed efficiency of smooth throats
	most   done    // with the most
	enough float64 // bulk density from which on the feed does not limit [kg/m³]
	rows   []row
	warm   []warmth // one a plastic: the plan's, and the other
	starts []start  // where the changes start
	steps  []step   // to what is wanted, the best change first
}

// row is a line of the sweep.
type row struct {
	speed, bulk float64
	done        done
}

// start is a state, and what each change makes of it.
type start struct {
	name  string
	state state
	done  done
	after []done // one a change
}

// step is the change that buys most after those before it.
type step struct {
	name string
	done done
}

// even is how much alike two flows may be to count as equal [-].
const even = 1e-6

// warmth is how warm the root in the throat may become [°C].
type warmth struct {
	plastic *plastic
	rubs    float64 // from here on friction carries less than the throat lets in
	slips   float64 // from here on nothing
}

// Feed efficiency of smooth throats, see [screw.Channel.Feed].
const leastFed, mostFed = 0.2, 0.45

func find(p plan) (*answer, error) {
	a := &answer{plan: p}
	var err error
	if a.enough, a.base, err = p.state.enough(); err != nil {
		return nil, err
	}
	if a.base.stop != "" {
		return nil, fmt.Errorf("%w: %s", screw.ErrNoFlow, a.base.stop)
	}
	if a.least, err = p.state.after(func(s *state) { s.efficiency = leastFed }).run(); err != nil {
		return nil, err
	}
	if a.most, err = p.state.after(func(s *state) { s.efficiency = mostFed }).run(); err != nil {
		return nil, err
	}
	for _, speed := range p.speeds {
		for _, bulk := range p.densities {
			d, err := p.state.after(func(s *state) { s.speed, s.bulk = speed, bulk }).run()
			if err != nil {
				return nil, fmt.Errorf("%g rpm, flake of %g kg/m³: %w", speed, bulk, err)
			}
			a.rows = append(a.rows, row{speed, bulk, d})
		}
	}
	for _, of := range []*plastic{p.state.plastic, p.other} {
		w, err := p.state.after(func(s *state) { s.plastic = of }).warmth()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", of.Name, err)
		}
		a.warm = append(a.warm, w)
	}
	dense := p.state.after(func(s *state) { s.bulk = p.dense })
	fast := dense.after(func(s *state) { s.speed = p.fast })
	for _, s := range []start{{name: "as it runs", state: p.state}, {name: "dense flake", state: dense}, {name: "dense and fast", state: fast}} {
		if s.done, err = s.state.run(); err != nil {
			return nil, fmt.Errorf("%s: %w", s.name, err)
		}
		if s.after, err = tryAll(s.state, p.changes); err != nil {
			return nil, fmt.Errorf("%s: %w", s.name, err)
		}
		a.starts = append(a.starts, s)
	}
	return a, a.climb()
}

// tryAll makes each change to a state by itself.
func tryAll(s state, changes []change) ([]done, error) {
	var list []done
	for _, c := range changes {
		d, err := s.after(c.do).run()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", c.name, err)
		}
		list = append(list, d)
	}
	return list, nil
}

// best is the change after which most is molten in time and no larger share of the output
// comes too late, the first of equals; or -1 if none buys anything.
func (s *start) best() int {
	best, most := -1, s.done.Sound
	for i := range s.after {
		d := &s.after[i]
		if d.Sound > most*(1+even) && d.Sound/d.Output >= s.done.Sound/s.done.Output*(1-even) {
			best, most = i, d.Sound
		}
	}
	return best
}

// climb takes the change that buys most, then the next, each once, until as much as is
// wanted comes or none buys anything.
func (a *answer) climb() error {
	at := start{state: a.plan.state, done: a.base}
	left := append([]change{}, a.plan.changes...)
	for at.done.sound() < a.plan.wanted {
		after, err := tryAll(at.state, left)
		if err != nil {
			return err
		}
		at.after = after
		best := at.best()
		if best < 0 {
			return nil
		}
		at.state, at.done = at.state.after(left[best].do), after[best]
		a.steps = append(a.steps, step{left[best].name, at.done})
		left = append(left[:best], left[best+1:]...)
	}
	return nil
}

// coldest is as far down as friction is known of any plastic here [°C].
const coldest = 20.0

// warmth finds how warm the root may become.
func (s state) warmth() (w warmth, err error) {
	w.plastic = s.plastic
	fed, err := s.run()
	if err != nil {
		return w, err
	}
	less := func(than float64) func(float64) bool {
		return func(root float64) bool {
			_, most, _, fault := s.after(func(s *state) { s.root = root }).carried()
			err = errors.Join(err, fault)
			return most < than
		}
	}
	sticking := material.ToCelsius(s.plastic.Softening)
	w.rubs = first(coldest, sticking, 1e-4, less(fed.fed.MassFlow))
	w.slips = first(coldest, sticking, 1e-4, less(math.SmallestNonzeroFloat64))
	return w, err
}

// first returns where something that stays so once it is begins to be so, between two
// ends and as near as told, or the upper end.
func first(low, high, near float64, is func(float64) bool) float64 {
	for high-low > near {
		if middle := (low + high) / 2; is(middle) {
			high = middle
		} else {
			low = middle
		}
	}
	return high
}
