package thermal

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"meltflight/internal/input"
)

// Modes is a linear network taken apart into changes that fade each by itself: exact at
// any time but for rounding.
type Modes struct {
	n      Network
	free   []int
	rates  []float64  // at which each mode fades; below 0 one that grows [1/s]
	shapes *mat.Dense // of modes, by column, times √capacity
	root   []float64  // √capacity
	start  []float64  // of each mode
	push   []float64  // of each mode by sources and held nodes
}

// Modes returns the modes of a network whose links are all [Conductance] and whose
// nodes have no Heat. It errs on invalid input and on a network that is not linear, or of
// more than 2000 free nodes, for which [Network.Warm] is quicker.
//
// With capacities C and conductances K, C·dT/dt = p − K·T; the eigenvectors of
// C^(−½)·K·C^(−½) part it into single ones (any text of linear systems). Rounding costs a slow
// mode digits in the ratio of the fastest rate to its own. Where it leaves none, the rate is taken as 0
// if some part is cut off from all that is held, and else is an error.
func (n Network) Modes() (*Modes, error) {
	var f input.Faults
	n.check(&f)
	if f.None() && !n.linear() {
		f.Add(&input.Word{Name: "thermal.Network.Modes", Value: "a law that is not linear", Allowed: "links of thermal.Conductance and nodes without Heat"})
	}
	free := 0
	for i := range n.Nodes {
		if !n.Nodes[i].Held {
			free++
		}
	}
	if free > 2000 {
		f.Count("thermal.Network.Modes: free nodes", free, 1, 2000)
	}
	if err := f.Err(); err != nil {
		return nil, err
	}
	m := &Modes{n: Network{Nodes: slices.Clone(n.Nodes), Links: n.Links}}
	place := make([]int, len(n.Nodes))
	for i := range n.Nodes {
		place[i] = -1
		if !n.Nodes[i].Held {
			place[i] = len(m.free)
			m.free = append(m.free, i)
			m.root = append(m.root, math.Sqrt(n.Nodes[i].Capacity))
		}
	}
	size := len(m.free)
	k := mat.NewSymDense(size, nil)
	at := func(a, b int, x float64) { k.SetSym(a, b, k.At(a, b)+x/(m.root[a]*m.root[b])) }
	for a, i := range m.free {
		at(a, a, -n.Nodes[i].PowerRise)
	}
	for _, l := range n.Links {
		g := float64(l.Exchange.(Conductance))
		a, b := place[l.From], place[l.To]
		if a >= 0 {
			at(a, a, g)
		}
		if b >= 0 {
			at(b, b, g)
		}
		if a >= 0 && b >= 0 {
			at(a, b, -g)
		}
	}
	var eigen mat.EigenSym
	if !eigen.Factorize(k, true) {
		return nil, errors.New("thermal.Network.Modes: no eigenvalues found")
	}
	m.rates = eigen.Values(nil)
	if err := m.round(); err != nil {
		return nil, err
	}
	m.shapes = new(mat.Dense)
	eigen.VectorsTo(m.shapes)
	m.start = make([]float64, size)
	for j := range size {
		for a, i := range m.free {
			m.start[j] += m.shapes.At(a, j) * m.root[a] * n.Nodes[i].Start
		}
	}
	m.push = m.pushes(&m.n)
	return m, nil
}

// round makes rates that are but rounding 0, where such are to be expected.
func (m *Modes) round() error {
	fastest := math.Max(math.Abs(m.rates[0]), m.rates[len(m.rates)-1])
	for j, r := range m.rates {
		if math.Abs(r) > 1e-15*float64(len(m.rates))*fastest {
			continue
		}
		if _, ok := m.n.adrift(); !ok && r != 0 {
			return fmt.Errorf("thermal.Network.Modes: the slowest part is lost in rounding beside the fastest, of %.4g s; see Network.Warm", 1/fastest)
		}
		m.rates[j] = 0
	}
	return nil
}

// pushes returns how sources and held nodes of a network, m's but for its powers, push each mode.
func (m *Modes) pushes(n *Network) []float64 {
	given := make([]float64, len(n.Nodes)) // to each node [W]
	for i := range n.Nodes {
		given[i] = n.Nodes[i].Power
		if rise := n.Nodes[i].PowerRise; rise != 0 { // else there need be no Reference
			given[i] -= rise * n.Nodes[i].Reference
		}
	}
	for _, l := range n.Links {
		g := float64(l.Exchange.(Conductance))
		if n.Nodes[l.To].Held {
			given[l.From] += g * n.Nodes[l.To].Start
		}
		if n.Nodes[l.From].Held {
			given[l.To] += g * n.Nodes[l.From].Start
		}
	}
	push := make([]float64, len(m.free))
	for j := range push {
		for a, i := range m.free {
			push[j] += m.shapes.At(a, j) / m.root[a] * given[i]
		}
	}
	return push
}

// TimeConstants returns those of the modes, the slowest first; infinite for a part that
// nothing cools, negative for one that runs away [s].
func (m *Modes) TimeConstants() []float64 {
	tau := make([]float64, len(m.rates))
	for i, r := range m.rates {
		tau[i] = 1 / r
	}
	slices.SortFunc(tau, func(a, b float64) int { return -compare(a, b) })
	return tau
}

func compare(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// At returns the temperatures of all nodes [K] at a time after the start, 0 to 1e12 [s]. It
// errs on a time out of range, and with [ErrNoBalance] where a part has run away beyond 1e6 K or is
// drained below 0 K.
func (m *Modes) At(time float64) ([]float64, error) {
	var f input.Faults
	f.Between("thermal.Modes.At: time", time, 0, 1e12, "s")
	if err := f.Err(); err != nil {
		return nil, err
	}
	x := make([]float64, len(m.n.Nodes))
	for i := range m.n.Nodes {
		x[i] = m.n.Nodes[i].Start
	}
	for _, i := range m.free {
		x[i] = 0
	}
	for j, r := range m.rates {
		faded, gained := fade(r, time)
		w := m.start[j]*faded + m.push[j]*gained
		for a, i := range m.free {
			x[i] += m.shapes.At(a, j) / m.root[a] * w
		}
	}
	for _, i := range m.free {
		if x[i] < 0 && x[i] >= -1e6 {
			return nil, drained(m.n.Nodes[i].Name)
		}
		if !(math.Abs(x[i]) <= 1e6) {
			return nil, fmt.Errorf("%w: %s runs away, beyond 1e6 K after %.4g s", ErrNoBalance, m.n.Nodes[i].Name, time)
		}
	}
	return x, nil
}

// fade returns e^(−rt) and (1 − e^(−rt))/r.
func fade(rate, time float64) (faded, gained float64) {
	z := rate * time
	if math.Abs(z) < 1e-300 {
		return 1, time
	}
	return math.Exp(-z), -math.Expm1(-z) / rate
}

// Foster is one term of a step response, Resistance·(1 − e^(−t/TimeConstant)).
type Foster struct {
	Resistance   float64 // [K/W]
	TimeConstant float64 // [s]
}

// Foster returns the terms by which a watt made in a node from a time on warms a node
// (the same or another, which gives the same), the slowest first: the thermal impedance
// that data sheets print, of a network such as [Ladder]. Of another node terms below 0 come
// in. It errs on a node that is held or is none, and with [ErrNoBalance] on a part that
// nothing cools or that runs away.
func (m *Modes) Foster(heated, read int) ([]Foster, error) {
	a, b := slices.Index(m.free, heated), slices.Index(m.free, read)
	if a < 0 || b < 0 {
		var f input.Faults
		f.Refuse("thermal.Modes.Foster: node", float64(min(heated, read)), "", "nodes that are not held")
		return nil, f.Err()
	}
	terms := make([]Foster, 0, len(m.rates))
	for j, r := range m.rates {
		if !(r > 0) {
			return nil, fmt.Errorf("%w: no end to the warming", ErrNoBalance)
		}
		terms = append(terms, Foster{m.shapes.At(a, j) * m.shapes.At(b, j) / (m.root[a] * m.root[b] * r), 1 / r})
	}
	slices.SortFunc(terms, func(x, y Foster) int { return -compare(x.TimeConstant, y.TimeConstant) })
	return terms, nil
}

// Ladder returns a network of nodes one after the other, each with a capacity [J/K] and
// a resistance to the next [K/W], the last to air of a temperature [K] that is the last node: what
// is called a Cauer network. All start at the air's temperature, and the first is heated by a
// power [W]. Its fields are checked when it is solved.
func Ladder(capacities, resistances []float64, power, air float64) Network {
	var n Network
	for i, c := range capacities {
		n.Nodes = append(n.Nodes, Node{Name: fmt.Sprintf("node %d", i), Capacity: c, Start: air})
	}
	if len(n.Nodes) > 0 {
		n.Nodes[0].Power = power
	}
	n.Nodes = append(n.Nodes, Node{Name: "air", Start: air, Held: true})
	for i, r := range resistances {
		n.Links = append(n.Links, Link{i, i + 1, Conductance(1 / r)})
	}
	return n
}
