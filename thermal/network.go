package thermal

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/input"
)

// Network is a machine cut into parts of one temperature each, between which heat flows.
type Network struct {
	Nodes []Node // 1 to 20000 of them, one at least not held
	Links []Link // each node has one at least
}

// Node is a part of one temperature: a chip, a sink, a length of barrel, or the air.
type Node struct {
	Name      string
	Capacity  float64 // heat that warms it by a kelvin, 1e-9 to 1e12; not asked for where it is held [J/K]
	Start     float64 // temperature at first, 50 to 3000; for good where it is held [K]
	Held      bool    // air, water, or what a controller keeps at Start
	Power     float64 // heat made in it at Reference, -1e9 to 1e9 [W]
	PowerRise float64 // for each kelvin above Reference, as of copper or a switch; -1e9 to 1e9 [W/K]
	Reference float64 // where Power holds, 50 to 3000; asked for with a PowerRise [K]

	// Heat, if not nil, returns what is made besides at a time [s] and temperature [K], and
	// how that rises with temperature [W, W/K]. It is asked for finite arguments and must
	// answer with finite numbers.
	Heat func(time, temperature float64) (power, rise float64)
}

// Link is a way of heat between two nodes.
type Link struct {
	From, To int // indices of Nodes
	Exchange Exchange
}

// Exchange is a law by which heat passes from one body to another, more as the first
// gets warmer and less as the second does.
type Exchange interface {
	// Flow returns the heat passed from a body of one temperature to one of another [K],
	// [W], and how it grows with each [W/K]: the first not below 0, the second not above.
	Flow(from, to float64) (heat, byFrom, byTo float64)
	Validate() error
}

// Conductance passes heat in proportion to the difference, 1e-12 to 1e12 [W/K]: the inverse of a
// resistance such as [Layer].
type Conductance float64

// Flow returns G·(from − to).
func (g Conductance) Flow(from, to float64) (heat, byFrom, byTo float64) {
	return float64(g) * (from - to), float64(g), -float64(g)
}

// Validate reports a conductance out of range.
func (g Conductance) Validate() error {
	var f input.Faults
	f.Between("thermal.Conductance", float64(g), 1e-12, 1e12, "W/K")
	return f.Err()
}

// Radiating passes heat by radiation from a body to walls all around it.
type Radiating struct {
	Area       float64 // 1e-10 to 1e6 [m²]
	Emissivity float64 // 0.001 to 1 [-]
}

// Flow returns ε·σ·A·(from⁴ − to⁴), the law of Stefan and Boltzmann.
func (r Radiating) Flow(from, to float64) (heat, byFrom, byTo float64) {
	k := r.Emissivity * r.Area * StefanBoltzmann
	a, b := from*from, to*to
	return k * (a + b) * (from + to) * (from - to), 4 * k * a * from, -4 * k * b * to
}

// Validate reports fields out of range.
func (r Radiating) Validate() error {
	var f input.Faults
	f.Between("thermal.Radiating.Area", r.Area, 1e-10, 1e6, "m²")
	f.Between("thermal.Radiating.Emissivity", r.Emissivity, 0.001, 1, "")
	return f.Err()
}

// Convecting passes heat as free air does, by a power of the difference.
type Convecting struct {
	Coefficient float64 // heat at a difference of 1 K, 1e-12 to 1e12 [W]
	Exponent    float64 // of the difference, 1 to 2: 1.25 of laminar, 1.33 of turbulent free convection [-]
}

// Flow returns C·|from − to|ⁿ, from the warmer to the colder.
func (c Convecting) Flow(from, to float64) (heat, byFrom, byTo float64) {
	d := math.Abs(from - to)
	slope := c.Coefficient * math.Pow(d, c.Exponent-1)
	return slope * (from - to), c.Exponent * slope, -c.Exponent * slope
}

// Validate reports fields out of range.
func (c Convecting) Validate() error {
	var f input.Faults
	f.Between("thermal.Convecting.Coefficient", c.Coefficient, 1e-12, 1e12, "W")
	f.Between("thermal.Convecting.Exponent", c.Exponent, 1, 2, "")
	return f.Err()
}

const mostNodes = 20000

// Validate reports every node and link out of range, nodes that no link reaches, and
// networks without a free node.
func (n Network) Validate() error {
	var f input.Faults
	n.check(&f)
	return f.Err()
}

func (n *Network) check(f *input.Faults) {
	f.Count("thermal.Network.Nodes", len(n.Nodes), 1, mostNodes)
	free := 0
	for i := range n.Nodes {
		if node := &n.Nodes[i]; node.sane() {
			if !node.Held {
				free++
			}
		} else {
			node.refuse(f, i)
		}
	}
	if f.None() && free == 0 {
		f.Count("thermal.Network.Nodes not held", free, 1, mostNodes)
	}
	linked := make([]bool, len(n.Nodes))
	for i := range n.Links {
		l := &n.Links[i]
		if l.From < 0 || l.From >= len(n.Nodes) || l.To < 0 || l.To >= len(n.Nodes) || l.From == l.To {
			f.Refuse(fmt.Sprintf("thermal.Network.Links[%d]", i), float64(l.To), "", fmt.Sprintf("two different nodes, 0 to %d", len(n.Nodes)-1))
			continue
		}
		linked[l.From], linked[l.To] = true, true
		if l.Exchange == nil {
			f.Add(&input.Word{Name: fmt.Sprintf("thermal.Network.Links[%d].Exchange", i), Value: "nil", Allowed: "a law such as thermal.Conductance"})
		} else if err := l.Exchange.Validate(); err != nil {
			f.Add(fmt.Errorf("thermal.Network.Links[%d]: %w", i, err))
		}
	}
	for i, ok := range linked {
		if !ok {
			f.Refuse(fmt.Sprintf("thermal.Network.Nodes[%d] (%s)", i, n.Nodes[i].Name), 0, "", "at least one link")
		}
	}
}

// sane spares naming the fields of nodes that are in order.
func (n *Node) sane() bool {
	within := func(x, lo, hi float64) bool { return x >= lo && x <= hi }
	return within(n.Start, 50, 3000) && (n.Held || within(n.Capacity, 1e-9, 1e12)) && within(n.Power, -1e9, 1e9) &&
		within(n.PowerRise, -1e9, 1e9) && (n.PowerRise == 0 || within(n.Reference, 50, 3000))
}

func (n *Node) refuse(f *input.Faults, i int) {
	name := fmt.Sprintf("thermal.Network.Nodes[%d]", i)
	f.Between(name+".Start", n.Start, 50, 3000, "K")
	if !n.Held {
		f.Between(name+".Capacity", n.Capacity, 1e-9, 1e12, "J/K")
	}
	f.Between(name+".Power", n.Power, -1e9, 1e9, "W")
	f.Between(name+".PowerRise", n.PowerRise, -1e9, 1e9, "W/K")
	if n.PowerRise != 0 {
		f.Between(name+".Reference", n.Reference, 50, 3000, "K")
	}
}

// linear reports whether every law is, and no heat hangs on time.
func (n *Network) linear() bool {
	for i := range n.Nodes {
		if n.Nodes[i].Heat != nil && !n.Nodes[i].Held {
			return false
		}
	}
	for i := range n.Links {
		if _, ok := n.Links[i].Exchange.(Conductance); !ok {
			return false
		}
	}
	return true
}

// ErrNoBalance reports a network whose steady state was not found, or has none: heat
// that can go nowhere, or that grows faster with temperature than it leaves.
var ErrNoBalance = errors.New("no steady temperatures")

// made returns the heat made in a node, and its rise [W, W/K].
func (n *Node) made(time, temperature float64) (power, rise float64) {
	power = n.Power
	if n.PowerRise != 0 {
		power += n.PowerRise * (temperature - n.Reference)
	}
	rise = n.PowerRise
	if n.Heat != nil {
		p, r := n.Heat(time, temperature)
		power, rise = power+p, rise+r
	}
	return power, rise
}

// balance is a network with its free nodes in an order that keeps its matrix narrow.
type balance struct {
	*Network
	free  []int // nodes, in order
	place []int // of each node in free; -1 if held
	lu    band  // see jacobian
	temp  []float64

	traffic []float64 // see within
}

func (n *Network) balance() *balance {
	b := &balance{Network: n, temp: make([]float64, len(n.Nodes)), traffic: make([]float64, len(n.Nodes))}
	b.free, b.place = n.order()
	width := 0
	for _, l := range n.Links {
		if i, j := b.place[l.From], b.place[l.To]; i >= 0 && j >= 0 {
			width = max(width, i-j, j-i)
		}
	}
	b.lu = newBand(len(b.free), width)
	for i := range n.Nodes {
		b.temp[i] = n.Nodes[i].Start
	}
	return b
}

// surplus puts into out the heat that is left in each free node [W], at temperatures x.
func (b *balance) surplus(time float64, x, out []float64) {
	for p, i := range b.free {
		b.temp[i] = x[p]
		out[p], _ = b.Nodes[i].made(time, x[p])
	}
	for i := range b.Links {
		l := &b.Links[i]
		q, _, _ := l.Exchange.Flow(b.temp[l.From], b.temp[l.To])
		if p := b.place[l.From]; p >= 0 {
			out[p] -= q
		}
		if p := b.place[l.To]; p >= 0 {
			out[p] += q
		}
	}
}

// jacobian fills the matrix with how the surplus falls as temperatures rise [W/K], plus
// each node's capacity times a rate [1/s].
func (b *balance) jacobian(time float64, x []float64, rate float64) {
	b.lu.clear()
	for p, i := range b.free {
		b.temp[i] = x[p]
		_, rise := b.Nodes[i].made(time, x[p])
		b.lu.add(p, p, b.Nodes[i].Capacity*rate-rise)
	}
	for i := range b.Links {
		l := &b.Links[i]
		_, byFrom, byTo := l.Exchange.Flow(b.temp[l.From], b.temp[l.To])
		p, q := b.place[l.From], b.place[l.To]
		if p >= 0 {
			b.lu.add(p, p, byFrom)
		}
		if q >= 0 {
			b.lu.add(q, q, -byTo)
		}
		if p >= 0 && q >= 0 {
			b.lu.add(p, q, byTo)
			b.lu.add(q, p, -byFrom)
		}
	}
}
