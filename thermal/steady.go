package thermal

import (
	"fmt"
	"math"
	"slices"

	"meltflight/internal/input"
)

// SteadyState is where a network comes to rest.
type SteadyState struct {
	Temperatures []float64 // of every node [K]
	Made         float64   // heat made in the nodes that are not held [W]
	Given        float64   // heat given to the held ones; Made but for rounding [W]
	Unique       bool      // whether this is proven to be the only steady state, see [Network.Steady]
}

// Steady returns the temperatures at which every node gives off what it takes in and
// makes, at a time for sources that hang on it, -1e12 to 1e12 [s]; by Newton's method
// from Start.
//
// Where no source grows with temperature, heat flows down every link and every node is
// tied to a held one, there is one such state and no other: warmer everywhere, every
// free part gives off more than it makes. Sources that grow leave it proven in linear
// networks; in others Unique is false, though the state found is stable.
//
// It errs on invalid input, and with [ErrNoBalance] where none is found from 0 to 1e5 K: a part that
// no way leads from to a held node, a source that runs away, or a law that answers with NaN.
func (n Network) Steady(time float64) (SteadyState, error) {
	var f input.Faults
	n.check(&f)
	f.Between("thermal.Network.Steady: time", time, -1e12, 1e12, "s")
	if err := f.Err(); err != nil {
		return SteadyState{}, err
	}
	if name, ok := n.adrift(); ok {
		return SteadyState{}, fmt.Errorf("%w: no way leads from %s to a node that is held", ErrNoBalance, name)
	}
	b := n.balance()
	x, err := b.steady(time)
	if err != nil {
		return SteadyState{}, err
	}
	return b.state(time, x), nil
}

// steady iterates from Start: by Newton's step where that brings heats much nearer to
// balance, else by one that time would take, ever longer.
func (b *balance) steady(time float64) ([]float64, error) {
	size := len(b.free)
	x, trial, step, heats := make([]float64, size), make([]float64, size), make([]float64, size), make([]float64, size)
	for p, i := range b.free {
		x[p] = b.Nodes[i].Start
	}
	b.surplus(time, x, heats)
	rate := 0.0 // one over the time that the next step would take [1/s]
	for p, i := range b.free {
		rate = math.Max(rate, math.Abs(heats[p])/b.Nodes[i].Capacity)
	}
	rate = math.Max(rate, slowest)
	before := norm(heats)
	if before == 0 {
		return b.stable(time, x)
	}
	calm, wide := 0, math.Inf(1) // how often heats were within rounding, and the step before
	for range 500 {
		newton := b.move(time, 0, x, step, trial, heats)
		if rounding := newton && b.within(1e-12, time, trial, heats); rounding {
			calm++
		} else if calm = 0; !newton || norm(heats) > before/2 {
			for newton = false; !b.move(time, rate, x, step, trial, heats); rate *= 4 {
				if !(rate <= 1e21) { // NaN too
					return nil, b.runsAway(x)
				}
			}
			rate *= 0.4
		}
		x, trial, before = trial, x, norm(heats)
		if slices.Max(x) > 1e5 {
			return nil, b.runsAway(x)
		}
		// Heats within rounding tell little of a part that passes little: it is at rest once
		// steps are nothing, were they as long as years, or only rounding makes them.
		last := wide
		wide = math.Max(slices.Max(step), -slices.Min(step))
		if before == 0 || (newton || rate <= slowest) && wide <= 1e-12 || calm > 3 && (wide > 0.7*last || calm > 60) {
			return b.stable(time, x)
		}
	}
	return nil, b.runsAway(x)
}

// stable passes a state on unless small changes grow from it.
func (b *balance) stable(time float64, x []float64) ([]float64, error) {
	if b.jacobian(time, x, slowest); !b.lu.factor() {
		return nil, b.runsAway(x)
	}
	return x, nil
}

// move puts into trial where a step from x leads, and into heats what is left there; it
// reports false where there is none, or none to be trusted.
func (b *balance) move(time, rate float64, x, step, trial, heats []float64) bool {
	b.surplus(time, x, step)
	if b.jacobian(time, x, rate); !b.lu.factor() {
		return false
	}
	b.lu.solve(step)
	for p := range x {
		trial[p] = x[p] + step[p]
		if !(trial[p] > x[p]/2 && trial[p] < 1e6) {
			return false
		}
	}
	b.surplus(time, trial, heats)
	return true
}

const slowest = 1e-9 // growth slower than this does not count [1/s]

// norm is the sum of what is not in balance [W].
func norm(heats []float64) (sum float64) {
	for _, q := range heats {
		sum += math.Abs(q)
	}
	return sum
}

// within reports whether what is left in every node is but a share of all heat made in it and passed by it.
func (b *balance) within(share, time float64, x, heats []float64) bool {
	clear(b.traffic)
	for p, i := range b.free {
		b.temp[i] = x[p]
		power, rise := b.Nodes[i].made(time, x[p])
		b.traffic[i] = math.Abs(power) + 1e-2*math.Abs(rise)*x[p] // temperatures are rounded, too
	}
	for i := range b.Links {
		l := &b.Links[i]
		from, to := b.temp[l.From], b.temp[l.To]
		q, byFrom, byTo := l.Exchange.Flow(from, to)
		q = math.Abs(q) + 1e-2*(byFrom*from-byTo*to)
		b.traffic[l.From] += q
		b.traffic[l.To] += q
	}
	for p, i := range b.free {
		if !(math.Abs(heats[p]) <= share*b.traffic[i]) {
			return false
		}
	}
	return true
}

// runsAway words why there is no balance.
func (b *balance) runsAway(x []float64) error {
	hottest, coldest := 0, 0
	for p := range x {
		if x[p] > x[hottest] {
			hottest = p
		}
		if x[p] < x[coldest] {
			coldest = p
		}
	}
	if x[coldest] < 1 {
		return drained(b.Nodes[b.free[coldest]].Name)
	}
	return fmt.Errorf("%w: last at %.4g K in %s; a source grows faster than its heat leaves, or a law is no law", ErrNoBalance, x[hottest], b.Nodes[b.free[hottest]].Name)
}

// drained words that a part would have to be colder than can be.
func drained(name string) error {
	return fmt.Errorf("%w: more heat is drawn from %s than reaches it, down to 0 K", ErrNoBalance, name)
}

// state tells of temperatures in balance.
func (b *balance) state(time float64, x []float64) SteadyState {
	s := SteadyState{Unique: b.linear()}
	if !s.Unique {
		s.Unique = true
		for i := range b.Nodes {
			if node := &b.Nodes[i]; !node.Held && (node.PowerRise > 0 || node.Heat != nil) {
				s.Unique = false
			}
		}
	}
	for p, i := range b.free {
		b.temp[i] = x[p]
		power, _ := b.Nodes[i].made(time, x[p])
		s.Made += power
	}
	for i := range b.Links {
		l := &b.Links[i]
		q, _, _ := l.Exchange.Flow(b.temp[l.From], b.temp[l.To])
		from, to := b.place[l.From] < 0, b.place[l.To] < 0
		switch {
		case to && !from:
			s.Given += q
		case from && !to:
			s.Given -= q
		}
	}
	s.Temperatures = slices.Clone(b.temp)
	return s
}

// adrift names a free node that no way leads from to a held one.
func (n *Network) adrift() (name string, ok bool) {
	tied := make([]bool, len(n.Nodes))
	for i := range n.Nodes {
		tied[i] = n.Nodes[i].Held
	}
	near := make([][]int, len(n.Nodes))
	for _, l := range n.Links {
		near[l.From] = append(near[l.From], l.To)
		near[l.To] = append(near[l.To], l.From)
	}
	var queue []int
	for i, t := range tied {
		if t {
			queue = append(queue, i)
		}
	}
	for len(queue) > 0 {
		i := queue[0]
		queue = queue[1:]
		for _, j := range near[i] {
			if !tied[j] {
				tied[j] = true
				queue = append(queue, j)
			}
		}
	}
	for i, t := range tied {
		if !t {
			return n.Nodes[i].Name, true
		}
	}
	return "", false
}
