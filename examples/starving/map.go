package main

import (
	"errors"
	"fmt"
	"image/color"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"

	"meltflight/internal/chart"
	"meltflight/material"
)

// drawMap shows which limits over the flake's bulk density and speed, and over it and the
// temperature of the root. Feed is in proportion to bulk density, so that one density a
// column parts the two.
func (a *answer) drawMap() ([]*plot.Plot, error) {
	s := a.plan.state
	bySpeed := chart.New(fmt.Sprintf("what limits, root in the throat at %g °C, %s", s.root, s.plastic.Name), "speed / rpm", "bulk density / (kg/m³)")
	byRoot := chart.New(fmt.Sprintf("what limits at %g rpm, %s", s.speed, s.plastic.Name), "root's temperature in the throat / °C", "bulk density / (kg/m³)")
	const slow, quick, steps = 20.0, 180.0, 10
	at := func(speed float64) state { return s.after(func(s *state) { s.speed = speed }) }
	var fault error
	turn := first(slow, quick, 0.1, func(speed float64) bool { // from here on less is molten than could be pumped
		d, err := at(speed).run()
		fault = errors.Join(fault, err)
		return d.Melting < d.Pump
	})
	if fault != nil {
		return nil, fault
	}
	speeds := []float64{turn}
	for k := range steps + 1 {
		speeds = append(speeds, slow+(quick-slow)*float64(k)/steps)
	}
	slices.Sort(speeds)
	w, corner := a.warm[0], 0.0
	for _, c := range []struct {
		panel  *plot.Plot
		places []float64
		state  func(float64) state
		now    float64
	}{{bySpeed, speeds, at, s.speed}, {byRoot, w.roots(), func(root float64) state { return s.after(func(s *state) { s.root = root }) }, s.root}} {
		var line plotter.XYs
		for _, place := range c.places {
			enough, _, err := c.state(place).enough()
			if err != nil {
				return nil, err
			}
			line = append(line, plotter.XY{X: place, Y: enough})
			if c.panel == bySpeed && place == turn {
				corner = enough
			}
		}
		if err := chart.Line(c.panel, "", line, chart.Blue); err != nil {
			return nil, err
		}
		if err := chart.Dot(c.panel, "", c.now, s.bulk); err != nil {
			return nil, err
		}
		if err := chart.Word(c.panel, "as it runs", c.now+1, s.bulk, chart.Grey); err != nil {
			return nil, err
		}
		c.panel.Y.Min, c.panel.Y.Max, c.panel.Y.Tick.Marker = thin, 700, chart.EveryTicks(100)
		c.panel.X.Tick.Marker = chart.EveryTicks(20)
	}
	bySpeed.X.Min, bySpeed.X.Max, byRoot.X.Min, byRoot.X.Max = slow, quick, coldest, warm
	sticking := material.ToCelsius(w.plastic.Softening)
	for _, l := range []struct {
		panel    *plot.Plot
		at       float64
		from, to float64
	}{{bySpeed, turn, corner, 700}, {byRoot, w.rubs, thin, a.enough}, {byRoot, w.slips, thin, 700}, {byRoot, sticking, thin, 700}} {
		if err := chart.Line(l.panel, "", plotter.XYs{{X: l.at, Y: l.from}, {X: l.at, Y: l.to}}, chart.Blue); err != nil {
			return nil, err
		}
	}
	for _, l := range []struct {
		panel *plot.Plot
		word  string
		x, y  float64
	}{{bySpeed, "throat", 80, 200}, {bySpeed, "pump", slow + 15, 600}, {bySpeed, "melting", 130, 600},
		{byRoot, "throat", 50, 200}, {byRoot, "pump", 50, 600}, {byRoot, "friction →", w.rubs - 20, 440}, {byRoot, sticks, sticking, 400}, {byRoot, slips, w.slips, 500}} {
		if err := chart.Word(l.panel, l.word, l.x, l.y, color.Black); err != nil {
			return nil, err
		}
	}
	return []*plot.Plot{bySpeed, byRoot}, nil
}
