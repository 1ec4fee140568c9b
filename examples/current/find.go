package main

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/internal/root"
	"meltflight/material"
	"meltflight/thermal"
)

// What is assumed of glue, aluminium, board and air.
const (
	glueConducts = 1.0   // [W/(m·K)]
	meets        = 1e-5  // of glue and each face [m²·K/W]
	aluminium    = 200.0 // [W/(m·K)]
	sheet        = 0.025 // two layers of 35 µm, a little of it cut away [W/K]
	faces        = 18.0  // both faces of the board together [W/(m²·K)]
)

const (
	mm     = 1e-3
	room   = 298.15 // 25 °C
	minute = 60.0   // [s]
	litre  = 1e-3   // [m³]
)

// ways is the chip with what is between it and the box.
type ways struct {
	thermal.OnSink
	bent   thermal.ExponentialBridge
	toCase float64 // junction to case [K/W]
	glued  float64 // case to the sink's base, spreading included [K/W]
	flow   float64 // [m³/s]
}

// ways makes the links from the drawing. On-resistance is a line through that of 25 °C and that
// at the limit, and so a little too much between, too little beyond. The sink's base spreads as if its fins took what
// they do at the limit.
func (c *cooled) ways(limit, air float64) (w ways, err error) {
	chip := c.body * mm * c.body * mm
	w.OnSink = thermal.OnSink{Bridge: c.bridge, Sink: c.sink}
	w.Bridge.TemperatureCoefficient = math.Expm1(c.bends*(limit-room)) / (limit - room)
	w.bent = thermal.ExponentialBridge(c.bridge)
	w.bent.TemperatureCoefficient = c.bends
	w.toCase, w.flow = c.top, c.flow*litre
	glue, err := thermal.Interface(c.glue*mm, glueConducts, meets, chip)
	if err != nil {
		return w, err
	}
	if err := c.sink.Validate(); err != nil {
		return w, err
	}
	footprint := c.sink.Width * c.sink.Length
	spread, err := thermal.Plate{Source: chip, Area: footprint, Thickness: c.base * mm, Conductivity: aluminium,
		Coefficient: c.sink.Loss(limit, air) / (limit - air) / footprint}.Spreading()
	if err != nil {
		return w, err
	}
	w.glued = glue + spread.Mean + spread.Straight
	w.Before = w.toCase + w.glued
	across := math.Sqrt(math.Pi)
	board, err := thermal.Board{Source: c.body * mm / across, Radius: c.pour * mm / across, Sheet: sheet, Coefficient: faces}.Resistance()
	if err != nil {
		return w, err
	}
	w.Board = c.pad + board
	return w, nil
}

func (m *motor) winding() (thermal.Winding, error) {
	total, err := m.mount.Resistance()
	return thermal.Winding{Resistance: m.resistance, Phases: 2, ThermalResistance: total, IronLoss: m.iron}, err
}

// answer is what is found.
type answer struct {
	plan                 plan
	ways                 ways
	copper               thermal.Winding
	onSink               thermal.OnSinkState // at the chip's limit
	path                 thermal.Path        // the same as resistances, as they are there
	limit                thermal.CurrentLimit
	straight, bent, wire float64 // where switches of a straight and of a bent law, and copper run away [A]
	gains                []thermal.CurrentLimit
	duties               []thermal.CurrentLimit // one a factor
	work                 thermal.CurrentLimit   // by the network, for the day's work
	set                  float64                // what is advised [A]
	tenth                float64                // the chip's heat at a tenth more, over that at what is set [-]
	day                  day
}

func find(p plan) (*answer, error) {
	a := &answer{plan: p}
	if err := p.check(); err != nil {
		return nil, err
	}
	var err error
	if a.ways, a.copper, a.limit, err = p.largest(p.cooled, p.motor); err != nil {
		return nil, err
	}
	for _, c := range p.changes {
		chip, m := p.cooled, p.motor
		c.do(&chip, &m)
		_, _, limit, err := p.largest(chip, m)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", c.name, err)
		}
		a.gains = append(a.gains, limit)
	}
	if err := a.runaway(); err != nil {
		return nil, err
	}
	if err := a.dutyTable(); err != nil {
		return nil, err
	}
	if err := a.forWork(); err != nil {
		return nil, err
	}
	lowest, _ := a.work.Lowest()
	a.set = math.Floor(10*p.reserve*lowest) / 10
	if err := a.tenthMore(); err != nil {
		return nil, err
	}
	a.day, err = a.live(a.set)
	return a, err
}

// check refuses what no law sees.
func (p plan) check() error {
	var f input.Faults
	f.Between("current: box", p.box, -40, 100, "°C")
	f.Between("current: shed", p.shed, -40, 100, "°C")
	f.Between("current: junction", p.junction, max(50, p.box+1), 190, "°C")
	f.Between("current: winding", p.winding, p.shed+1, 190, "°C")
	f.Between("current: reserve", p.reserve, 0.1, 1, "")
	f.Between("current: run", p.run, 1, 1000, "min")
	f.Between("current: rest", p.rest, 1, 1000, "min")
	f.Between("current: cycle", p.cycle, 0.1, 1e4, "min")
	f.Count("current: factors", len(p.factors), 1, 10)
	return f.Err()
}

// largest returns the largest steady currents of chip and motor.
func (p plan) largest(c cooled, m motor) (w ways, copper thermal.Winding, limit thermal.CurrentLimit, err error) {
	if w, err = c.ways(material.Celsius(p.junction), material.Celsius(p.box)); err != nil {
		return w, copper, limit, err
	}
	if copper, err = m.winding(); err != nil {
		return w, copper, limit, err
	}
	if limit.Bridge, err = w.LargestCurrent(w.flow, material.Celsius(p.junction), material.Celsius(p.box)); err != nil {
		return w, copper, limit, err
	}
	limit.Winding, err = copper.LargestCurrent(material.Celsius(p.winding), material.Celsius(p.shed))
	return w, copper, limit, err
}

// runaway finds the knees, of the chip with the resistances it has at its limit: a hotter
// sink cools a little better, so that its real knee lies a little higher.
func (a *answer) runaway() (err error) {
	box := material.Celsius(a.plan.box)
	if a.onSink, a.path, err = a.ways.at(a.limit.Bridge, box); err != nil {
		return err
	}
	if a.straight, err = a.ways.Bridge.RunawayCurrent(a.path); err != nil {
		return err
	}
	if a.bent, err = a.ways.bent.RunawayCurrent(box, a.path); err != nil {
		return err
	}
	a.wire, err = a.copper.RunawayCurrent()
	return err
}

// at is the chip at a current, and its way to the box as one resistance as it is then.
func (w *ways) at(current, box float64) (s thermal.OnSinkState, path thermal.Path, err error) {
	if s, err = w.Steady(current, w.flow, box); err != nil {
		return s, path, err
	}
	upper := s.Loss.Total - s.BoardHeat
	path.SinkToAir, err = thermal.Parallel(w.Before+(s.Base-box)/upper, w.Board)
	return s, path, err
}

func (a *answer) tenthMore() error {
	box := material.Celsius(a.plan.box)
	now, err := a.ways.Steady(a.set, a.ways.flow, box)
	if err != nil {
		return err
	}
	more, err := a.ways.Steady(1.1*a.set, a.ways.flow, box)
	a.tenth = more.Loss.Total / now.Loss.Total
	return err
}

// dutyTable asks what chip and motor bear in duties of one cycle, each as a single body.
func (a *answer) dutyTable() error {
	p := &a.plan
	chip := thermal.Chip{Bridge: a.ways.Bridge, Path: a.path, Capacity: sinkCapacity(&p.cooled)}
	body := thermal.Motor{Winding: a.copper, Capacity: p.motor.copper + p.motor.rest}
	for _, factor := range p.factors {
		on := factor * p.cycle * minute
		limit, err := thermal.LargestDutyCurrent(thermal.Duty{On: on, Off: p.cycle*minute - on},
			chip, material.Celsius(p.junction), material.Celsius(p.box), body, material.Celsius(p.winding), material.Celsius(p.shed))
		if err != nil {
			return fmt.Errorf("duty of %g: %w", factor, err)
		}
		a.duties = append(a.duties, limit)
	}
	return nil
}

// forWork seeks the currents at which the day's work, over and over, brings junction and
// winding to their limits.
func (a *answer) forWork() (err error) {
	if a.work.Bridge, err = a.dutyCurrent(junctionNode, a.plan.junction, a.limit.Bridge); err != nil {
		return err
	}
	a.work.Winding, err = a.dutyCurrent(windingNode, a.plan.winding, a.limit.Winding)
	return err
}

// dutyCurrent is between what is borne for good and what is borne for no more than the part
// that is run, √((run + rest)/run) of that: of copper and its iron, or less.
func (a *answer) dutyCurrent(node int, limit, steady float64) (float64, error) {
	var failed error
	above := func(current float64) float64 {
		c, err := a.repeated(current)
		if errors.Is(err, thermal.ErrNoBalance) {
			return 1e3
		}
		if err != nil {
			failed = errors.Join(failed, err)
			return 1
		}
		return c.Hottest[node] - material.Celsius(limit)
	}
	most := steady * math.Sqrt((a.plan.run+a.plan.rest)/a.plan.run) * 1.1
	current, err := root.Find(above, steady*0.98, most, 1e-4)
	return current, errors.Join(failed, err)
}
