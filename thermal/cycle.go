package thermal

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"meltflight/internal/input"
)

// Block is a part of a duty in which powers do not change.
type Block struct {
	Duration float64   // 1e-3 to 1e8 [s]
	Power    []float64 // of each node in place of Node.Power, -1e9 to 1e9 [W]
}

// Cycle is what a network settles to under a duty that repeats itself.
type Cycle struct {
	Start   []float64   // temperatures of every node at the first block's start, and so at the last one's end [K]
	Ends    [][]float64 // at the end of each block [K]
	Hottest []float64   // the highest each node comes to, of all moments looked at, some sixty in a block [K]
	Rounds  int         // cycles that were computed to find it; 1 for a linear network
}

const looks = 60 // in each block

// Duty returns what a network settles to while blocks of power follow each other over
// and over, without marching there: linear networks in closed form by their modes, others
// by looking for the start that a cycle comes back to, which the linear network that is
// nearest tells how to mend (Newton's method on the cycle with a matrix that is kept). The
// start is found to about a tolerance, 1e-8 to 1 [K]; rounding leaves less of the smallest where a
// cycle is a small part of the time that the slowest part takes. The time of a Node's Heat is counted from the start of
// each cycle, so that it repeats with the blocks; of its pulses see [Network.Warm]. A part that is hottest between two
// of the moments looked at is a little hotter than Hottest.
//
// It errs on invalid input; on a network of more than 300 free nodes; and with
// [ErrNoBalance] where no cycle is found, or a part has no way to a held node.
func (n Network) Duty(blocks []Block, tolerance float64) (Cycle, error) {
	var f input.Faults
	n.check(&f)
	f.Count("thermal.Network.Duty: blocks", len(blocks), 1, 1000)
	f.Between("thermal.Network.Duty: tolerance", tolerance, 1e-8, 1, "K")
	for i, b := range blocks {
		name := fmt.Sprintf("thermal.Network.Duty: blocks[%d]", i)
		if !(b.Duration >= 1e-3 && b.Duration <= 1e8) {
			f.Between(name+".Duration", b.Duration, 1e-3, 1e8, "s")
		}
		if len(b.Power) != len(n.Nodes) {
			f.Count(name+".Power, as many as nodes", len(b.Power), len(n.Nodes), len(n.Nodes))
		}
		for _, p := range b.Power {
			if !(math.Abs(p) <= 1e9) {
				f.Between(name+".Power", p, -1e9, 1e9, "W")
			}
		}
	}
	if free := n.free(); free > 300 {
		f.Count("thermal.Network.Duty: free nodes", free, 1, 300)
	}
	if err := f.Err(); err != nil {
		return Cycle{}, err
	}
	if name, ok := n.adrift(); ok {
		return Cycle{}, fmt.Errorf("%w: no way leads from %s to a node that is held", ErrNoBalance, name)
	}
	if n.linear() {
		return n.linearDuty(blocks)
	}
	return n.searchDuty(blocks, tolerance)
}

func (n *Network) free() (count int) {
	for i := range n.Nodes {
		if !n.Nodes[i].Held {
			count++
		}
	}
	return count
}

// under returns the network with the powers of a block and other starts.
func (n *Network) under(power, start []float64) Network {
	m := Network{Nodes: append([]Node(nil), n.Nodes...), Links: n.Links}
	for i := range m.Nodes {
		m.Nodes[i].Power = power[i]
		if start != nil && !m.Nodes[i].Held {
			m.Nodes[i].Start = start[i]
		}
	}
	return m
}

// linearDuty solves each mode's own cycle.
func (n *Network) linearDuty(blocks []Block) (Cycle, error) {
	m, err := n.Modes()
	if err != nil {
		return Cycle{}, err
	}
	pushes := make([][]float64, len(blocks))
	for k, b := range blocks {
		under := n.under(b.Power, nil)
		pushes[k] = m.pushes(&under)
	}
	for j, r := range m.rates {
		if !(r > 0) {
			return Cycle{}, fmt.Errorf("%w: a part that runs away", ErrNoBalance)
		}
		total, sum := 0.0, 0.0
		for k, b := range blocks {
			faded, gained := fade(r, b.Duration)
			total, sum = total+b.Duration, sum*faded+pushes[k][j]*gained
		}
		m.start[j] = sum / -math.Expm1(-r*total)
	}
	c := Cycle{Rounds: 1}
	if c.Start, err = m.At(0); err != nil {
		return Cycle{}, err
	}
	c.Hottest = append([]float64(nil), c.Start...)
	for k, b := range blocks {
		m.push = pushes[k]
		for i := 1; i <= looks; i++ {
			x, err := m.At(b.Duration * float64(i) / looks)
			if err != nil {
				return Cycle{}, err
			}
			c.look(x)
			if i == looks {
				c.Ends = append(c.Ends, x)
			}
		}
		for j, r := range m.rates {
			faded, gained := fade(r, b.Duration)
			m.start[j] = m.start[j]*faded + m.push[j]*gained
		}
	}
	return c, nil
}

func (c *Cycle) look(x []float64) {
	for i := range x {
		c.Hottest[i] = math.Max(c.Hottest[i], x[i])
	}
}

// searchDuty looks for the start that comes back.
func (n *Network) searchDuty(blocks []Block, tolerance float64) (Cycle, error) {
	mean, total := make([]float64, len(n.Nodes)), 0.0
	for _, b := range blocks {
		total += b.Duration
		for i, p := range b.Power {
			mean[i] += p * b.Duration
		}
	}
	for i := range mean {
		mean[i] /= total
	}
	middle := n.under(mean, nil)
	rest, err := middle.Steady(0)
	if err != nil {
		return Cycle{}, err
	}
	start := rest.Temperatures
	mend, err := middle.returns(start, total)
	if err != nil {
		return Cycle{}, err
	}
	for round := 1; round <= 100; round++ {
		c, err := n.round(blocks, start, tolerance/30)
		if err != nil {
			return Cycle{}, err
		}
		c.Rounds = round
		end := c.Ends[len(blocks)-1]
		off := 0.0
		var miss []float64
		for i := range end {
			if !n.Nodes[i].Held {
				miss = append(miss, end[i]-start[i])
				off = math.Max(off, math.Abs(end[i]-start[i]))
			}
		}
		var step mat.VecDense
		if err := mend.SolveVecTo(&step, false, mat.NewVecDense(len(miss), miss)); err != nil {
			return Cycle{}, fmt.Errorf("%w: %w", ErrNoBalance, err)
		}
		far, p := 0.0, 0
		start = append([]float64(nil), start...)
		for i := range start {
			if !n.Nodes[i].Held {
				start[i] = math.Max(1, start[i]+step.AtVec(p))
				far = math.Max(far, math.Abs(step.AtVec(p)))
				p++
			}
		}
		if far <= tolerance {
			return c, nil
		}
	}
	return Cycle{}, fmt.Errorf("%w: no start was found that the duty comes back to", ErrNoBalance)
}

// round follows one cycle.
func (n *Network) round(blocks []Block, start []float64, tolerance float64) (Cycle, error) {
	c := Cycle{Start: start, Hottest: append([]float64(nil), start...)}
	at, begin := start, 0.0
	for _, b := range blocks {
		m := n.under(b.Power, at)
		s := m.stepper(math.Max(1e-10, tolerance))
		if begin > 0 {
			s.time = begin
		}
		for i := 1; i <= looks; i++ {
			if err := s.to(begin + b.Duration*float64(i)/looks); err != nil {
				return Cycle{}, err
			}
			at = s.all()
			c.look(at)
		}
		begin += b.Duration
		c.Ends = append(c.Ends, at)
	}
	return c, nil
}

// returns is 1 − Φ, factored, Φ telling what of a change is left after a cycle of the
// linear network nearest to a state.
func (n *Network) returns(state []float64, total float64) (*mat.LU, error) {
	b := n.balance()
	x := make([]float64, len(b.free))
	for p, i := range b.free {
		x[p] = state[i] + 0.1*float64(1+p%7) // apart, as free air between bodies of one temperature would tell of no slope
	}
	b.jacobian(0, x, 0)
	var order []int // of free nodes, as numbered in the network
	for i := range n.Nodes {
		if !n.Nodes[i].Held {
			order = append(order, i)
		}
	}
	size := len(order)
	a := mat.NewDense(size, size, nil)
	for r, i := range order {
		for c, j := range order {
			a.Set(r, c, -b.lu.at(b.place[i], b.place[j])/n.Nodes[i].Capacity*total)
		}
	}
	// As good as the exponential where it matters, and at ease with stiff networks.
	const squarings = 6
	a.Scale(-1./(1<<squarings), a)
	for r := range size {
		a.Set(r, r, 1+a.At(r, r))
	}
	var phi mat.Dense
	if err := phi.Inverse(a); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrNoBalance, err)
	}
	for range squarings {
		phi.Mul(&phi, &phi)
	}
	for r := range size {
		for c := range size {
			phi.Set(r, c, -phi.At(r, c))
		}
		phi.Set(r, r, 1+phi.At(r, r))
	}
	var lu mat.LU
	lu.Factorize(&phi)
	if math.IsNaN(lu.Det()) || lu.Cond() > 1e12 {
		return nil, fmt.Errorf("%w: a part that nothing cools, or that runs away", ErrNoBalance)
	}
	return &lu, nil
}
