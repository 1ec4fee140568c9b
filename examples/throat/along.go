package main

import (
	"fmt"
	"math"

	"meltflight/internal/root"
	"meltflight/material"
	"meltflight/thermal"
)

// course is barrel, sleeve and screw, steady and warming up.
type course struct {
	scene
	net       thermal.BarrelNetwork
	positions []float64   // of the lengths, from the throat [mm]
	steady    []float64   // of every node [K]
	holding   []float64   // power of each band [W]
	toThroat  float64     // heat that barrel and screw pass on towards the throat [W]
	times     []float64   // [s]
	warming   [][]float64 // of every node [K]
	until     float64     // both bands are at the temperature asked for, but for the controllers' width [s]
	stuck     float64     // after which a switch that sticks has made it too hot by overheat [s]
	heaters   thermal.HeaterState
}

const (
	cuts     = 12  // of each zone
	width    = 4.0 // in which a controller goes from full power to none, below what it is set to [K]
	overheat = 40  // above that, where a cut-out is to switch off [K]
	shown    = 40  // of the warm-up [min]
)

// zones lists the sleeve and, along the barrel, gaps and bands in turn, first a gap.
func (p *plan) zones(length, loss float64) (list []thermal.Zone, err error) {
	exchange, err := p.exchange()
	if err != nil {
		return nil, err
	}
	// A barrel is of one metal: the sleeve is as thin here as passes what stainless does.
	ro, ri := p.sleeve/2*mm, p.bore/2*mm
	thin := math.Sqrt(ri*ri + (ro*ro-ri*ri)*stainless/steel.Conductivity)
	list = append(list, thermal.Zone{Name: "sleeve", Length: length * mm, Outer: thin, Inner: ri, Loss: bare * 2 * math.Pi * ro, Exchange: exchange})
	gap := (p.barrel - float64(p.bands)*p.band) / float64(p.bands+1)
	add := func(name string, length, power float64) {
		list = append(list, thermal.Zone{Name: name, Length: length * mm, Outer: p.outer / 2 * mm, Inner: ri, Loss: loss, Power: power, Exchange: exchange})
	}
	for i := range p.bands {
		add("gap", gap, 0)
		add(fmt.Sprintf("band %d", i+1), p.band, p.power)
	}
	add("nozzle end", gap, 0)
	return list, nil
}

// bandNode is the first node of a band's barrel.
func (c *course) bandNode(band int) int { return c.net.Barrel + 2*(band+1)*cuts }

// live cuts a scene into a network and finds how it stands and warms up, each band held by a
// controller of its own.
func (a *answer) live(s scene) (c course, err error) {
	p := &a.plan
	c.scene = s
	collar, shed, hot := p.collars[s.collar], material.Celsius(p.shed), material.Celsius(p.hot)
	zones, err := p.zones(s.length, a.lagged.Conductance/(p.barrel*mm))
	if err != nil {
		return c, err
	}
	barrel := thermal.Barrel{Zones: zones, Metal: steel, ScrewSection: p.screwSection(), Screw: steel,
		Collar: collar.conductance, Coolant: material.Celsius(collar.coolant), Shank: p.shank, Drive: material.Celsius(p.gear), Air: shed}
	if c.net, err = barrel.Network(cuts); err != nil {
		return c, err
	}
	for i := range cuts { // as heavy as it is, not as thin: a volume of both metals warms alike
		c.net.Nodes[c.net.Barrel+i].Capacity *= steel.Conductivity / stainless
	}
	at := 0.0
	for _, z := range zones {
		for k := range cuts {
			c.positions = append(c.positions, (at+z.Length*(float64(k)+0.5)/cuts)/mm)
		}
		at += z.Length
	}
	if err := c.hold(p, hot); err != nil {
		return c, err
	}
	if err := c.warm(p, hot); err != nil {
		return c, err
	}
	if err := c.sticks(hot + overheat); err != nil {
		return c, err
	}
	full := float64(p.bands) * p.power
	body := thermal.HeatUp{Capacity: c.capacity(), Conductance: sum(c.holding) / (hot - shed), Air: shed}
	c.heaters, err = thermal.Heater{Kind: thermal.Band, Power: full, Length: float64(p.bands) * p.band * mm, Radius: p.outer / 2 * mm}.For(body, shed, hot, p.warm*minute)
	return c, err
}

// controlled is the network with its bands held: full power below the width, none above what
// is set.
func (c *course) controlled(p *plan, hot float64) thermal.Network {
	n := thermal.Network{Nodes: append([]thermal.Node(nil), c.net.Nodes...), Links: c.net.Links}
	for band := range p.bands {
		for k := range cuts {
			node := &n.Nodes[c.bandNode(band)+k]
			most := node.Power
			node.Power = 0
			node.Heat = func(_, temperature float64) (power, rise float64) {
				switch part := (hot - temperature) / width; {
				case part >= 1:
					return most, 0
				case part <= 0:
					return 0, 0
				default:
					return most * part, -most / width
				}
			}
		}
	}
	return n
}

// hold finds the steady state.
func (c *course) hold(p *plan, hot float64) error {
	n := c.controlled(p, hot)
	for i := range n.Nodes { // near where it will be
		if !n.Nodes[i].Held && i != c.net.Drive {
			n.Nodes[i].Start = hot - width/2
		}
	}
	s, err := n.Steady(0)
	if err != nil {
		return err
	}
	c.steady = s.Temperatures
	for band := range p.bands {
		power := 0.0
		for k := range cuts {
			i := c.bandNode(band) + k
			part, _ := n.Nodes[i].Heat(0, c.steady[i])
			power += part
		}
		if power > 0.999*p.power {
			return fmt.Errorf("%w: band %d of %g W does not hold %g °C", thermal.ErrNeverReached, band+1, p.power, p.hot)
		}
		c.holding = append(c.holding, power)
	}
	c.toThroat = c.along(cuts-1, cuts) + c.along(c.net.Screw+cuts-1, c.net.Screw+cuts)
	return nil
}

// along is the steady heat from a node to the one before it [W].
func (c *course) along(to, from int) float64 {
	for _, l := range c.net.Links {
		if l.From == to && l.To == from {
			heat, _, _ := l.Exchange.Flow(c.steady[from], c.steady[to])
			return heat
		}
	}
	return 0
}

// warm follows the warm-up from cold.
func (c *course) warm(p *plan, hot float64) error {
	for k := 1; k <= 2*shown; k++ {
		c.times = append(c.times, minute/2*float64(k))
	}
	w, err := c.controlled(p, hot).Warm(c.times, 1e-2)
	if err != nil {
		return err
	}
	c.warming = w.Temperatures
	c.until = math.NaN()
	for k, x := range c.warming {
		coldest := math.Inf(1)
		for band := range p.bands {
			coldest = math.Min(coldest, x[c.bandNode(band)+cuts/2])
		}
		if coldest >= hot-width {
			c.until = c.times[k]
			break
		}
	}
	return nil
}

// sticks finds when all power for good makes any of the barrel too hot, exactly, by its modes.
func (c *course) sticks(limit float64) error {
	n := thermal.Network{Nodes: append([]thermal.Node(nil), c.net.Nodes...), Links: c.net.Links}
	for i := range n.Nodes {
		n.Nodes[i].Start = c.steady[i]
	}
	m, err := n.Modes()
	if err != nil {
		return err
	}
	var failed error
	c.stuck, err = root.Find(func(time float64) float64 {
		x, err := m.At(time)
		if err != nil {
			failed = err
			return 0
		}
		hottest := 0.0
		for i := range c.positions {
			hottest = math.Max(hottest, x[c.net.Barrel+i])
		}
		return hottest - limit
	}, 0, 1e4, 1e-6)
	if failed != nil {
		return failed
	}
	return err
}

// capacity is that of barrel, sleeve and screw [J/K].
func (c *course) capacity() (all float64) {
	for i := range c.net.Nodes {
		if !c.net.Nodes[i].Held {
			all += c.net.Nodes[i].Capacity
		}
	}
	return all
}

func sum(list []float64) (all float64) {
	for _, x := range list {
		all += x
	}
	return all
}

// rear is the end of the barrel where the sleeve begins; throat and screw are at the cold end.
func (c *course) rear(x []float64) float64   { return x[c.net.Barrel+cuts] }
func (c *course) throat(x []float64) float64 { return x[c.net.Barrel] }
func (c *course) screw(x []float64) float64  { return x[c.net.Screw] }
