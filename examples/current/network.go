package main

import (
	"meltflight/material"
	"meltflight/thermal"
)

// Nodes of the network.
const (
	junctionNode = iota
	caseNode
	sinkNode
	boardNode
	windingNode
	motorNode
	boxNode
	shedNode
	nodes
)

// Capacities that are assumed [J/K]; the sink's follows from its aluminium.
const (
	dieCapacity   = 0.02
	caseCapacity  = 0.15
	boardCapacity = 6.0
	aluminiumHeat = 2.43e6 // of a volume [J/(m³·K)]
)

func sinkCapacity(c *cooled) float64 {
	s := c.sink
	return aluminiumHeat * s.Length * (s.Width*c.base*mm + float64(s.Fins)*s.FinHeight*s.FinThickness)
}

// finned passes what a sink gives off, in still air or blown.
type finned struct {
	sink thermal.Sink
	flow float64 // [m³/s]
}

// Flow is that of [thermal.Sink], with slopes by small differences.
func (f finned) Flow(from, to float64) (heat, byFrom, byTo float64) {
	const step = 1e-3 // [K]
	heat = f.loss(from, to)
	byFrom = max(0, (f.loss(from+step, to)-heat)/step)
	return heat, byFrom, -byFrom // all but the air's own properties goes with the difference
}

func (f finned) loss(base, air float64) float64 {
	still := f.sink.Loss(base, air)
	if f.flow == 0 || base <= air {
		return still
	}
	d, _ := f.sink.Blow(f.flow, base, air)
	return max(still, d.Conductance*(base-air))
}

func (f finned) Validate() error { return f.sink.Validate() }

// network is chip and motor, as warm as box and shed, with a current that hangs on time [A].
func (a *answer) network(current func(time float64) float64) thermal.Network {
	p, w := &a.plan, &a.ways
	m := p.motor
	box, shed := material.Celsius(p.box), material.Celsius(p.shed)
	n := thermal.Network{Nodes: make([]thermal.Node, nodes)}
	n.Nodes[junctionNode] = thermal.Node{Name: "junction", Capacity: dieCapacity, Start: box, Heat: func(time, t float64) (float64, float64) {
		i := current(time)
		slope := 4 * w.Bridge.OnResistance * i * i * w.Bridge.TemperatureCoefficient
		loss, err := w.Bridge.Loss(i, box)
		if err != nil { // none is made beyond what the law takes
			return 0, 0
		}
		return loss.Total + slope*(t-box), slope
	}}
	n.Nodes[caseNode] = thermal.Node{Name: "case", Capacity: caseCapacity, Start: box}
	n.Nodes[sinkNode] = thermal.Node{Name: "sink", Capacity: sinkCapacity(&p.cooled), Start: box}
	n.Nodes[boardNode] = thermal.Node{Name: "board", Capacity: boardCapacity, Start: box}
	n.Nodes[windingNode] = thermal.Node{Name: "winding", Capacity: m.copper, Start: shed, Heat: func(time, t float64) (float64, float64) {
		i := current(time)
		if i == 0 {
			return 0, 0
		}
		cold := 2 * m.resistance * i * i
		slope := cold * material.CopperCoefficient
		return m.iron + cold + slope*(t-material.Celsius(20)), slope
	}}
	n.Nodes[motorNode] = thermal.Node{Name: "motor", Capacity: m.rest, Start: shed}
	n.Nodes[boxNode] = thermal.Node{Name: "box", Start: box, Held: true}
	n.Nodes[shedNode] = thermal.Node{Name: "shed", Start: shed, Held: true}
	resists := func(from, to int, resistance float64) {
		n.Links = append(n.Links, thermal.Link{From: from, To: to, Exchange: thermal.Conductance(1 / resistance)})
	}
	resists(junctionNode, caseNode, w.toCase)
	resists(caseNode, sinkNode, w.glued)
	n.Links = append(n.Links, thermal.Link{From: sinkNode, To: boxNode, Exchange: finned{w.Sink, w.flow}})
	resists(junctionNode, boardNode, p.cooled.pad)
	resists(boardNode, boxNode, w.Board-p.cooled.pad)
	resists(windingNode, motorNode, m.mount.WindingToCase)
	resists(motorNode, shedNode, a.copper.ThermalResistance-m.mount.WindingToCase)
	return n
}

// repeated is what the run and rest of the day's work settle to.
func (a *answer) repeated(current float64) (thermal.Cycle, error) {
	run, rest := a.plan.run*minute, a.plan.rest*minute
	n := a.network(func(time float64) float64 {
		if time <= run {
			return current
		}
		return 0
	})
	none := make([]float64, nodes) // all is made by Heat
	return n.Duty([]thermal.Block{{Duration: run, Power: none}, {Duration: rest, Power: none}}, 1e-2)
}

// day is the course of a day's work.
type day struct {
	hours   []float64
	courses [nodes][]float64 // [K]
	hottest [nodes]float64   // [K]
}

// Phases of a day [min].
const (
	heating  = 30  // barrel warms, motor off
	morning  = 210 // runs and rests
	lunch    = 45
	evening  = 210
	cooling  = 105
	interval = 1 // between what is kept
)

// live follows a day from a cold morning: each stretch of one current from where the one
// before it ended, so that no step of the solver goes across a jump.
func (a *answer) live(current float64) (d day, err error) {
	off := func(float64) float64 { return 0 }
	on := func(float64) float64 { return current }
	from, passed := a.network(off).Nodes, 0.0
	d.keep(0, from)
	stretch := func(law func(float64) float64, minutes float64) error {
		n := a.network(law)
		for i := range n.Nodes {
			n.Nodes[i].Start = from[i].Start
		}
		var times []float64
		for t := float64(interval); t < minutes; t += interval {
			times = append(times, t*minute)
		}
		w, err := n.Warm(append(times, minutes*minute), 1e-3)
		if err != nil {
			return err
		}
		for k, x := range w.Temperatures {
			for i := range x {
				n.Nodes[i].Start = x[i]
			}
			d.keep(passed+w.Times[k]/minute, n.Nodes)
		}
		from, passed = n.Nodes, passed+minutes
		return nil
	}
	work := func(minutes float64) error {
		for left := minutes; left > 0; left -= a.plan.run + a.plan.rest {
			if err := stretch(on, min(left, a.plan.run)); err != nil {
				return err
			}
			if left <= a.plan.run {
				break
			}
			if err := stretch(off, min(left-a.plan.run, a.plan.rest)); err != nil {
				return err
			}
		}
		return nil
	}
	for _, part := range []func() error{
		func() error { return stretch(off, heating) },
		func() error { return work(morning) },
		func() error { return stretch(off, lunch) },
		func() error { return work(evening) },
		func() error { return stretch(off, cooling) },
	} {
		if err := part(); err != nil {
			return d, err
		}
	}
	return d, nil
}

func (d *day) keep(minutes float64, nodes []thermal.Node) {
	d.hours = append(d.hours, minutes/60)
	for i := range nodes {
		d.courses[i] = append(d.courses[i], nodes[i].Start)
		d.hottest[i] = max(d.hottest[i], nodes[i].Start)
	}
}
