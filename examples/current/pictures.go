package main

import (
	"errors"
	"fmt"
	"image/color"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"

	"meltflight/internal/chart"
	"meltflight/material"
	"meltflight/thermal"
)

// draw makes the pictures.
func (a *answer) draw() ([]chart.Picture, error) {
	var list []chart.Picture
	for _, d := range []struct {
		name string
		make func() ([]*plot.Plot, error)
	}{
		{"knee.svg", a.drawKnee},
		{"day.svg", a.drawDay},
	} {
		panels, err := d.make()
		if err != nil {
			return nil, fmt.Errorf("%s: %w", d.name, err)
		}
		svg, err := chart.SVG(panels...)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", d.name, err)
		}
		list = append(list, chart.Picture{Name: d.name, SVG: svg})
	}
	return list, nil
}

const (
	mostDrawn    = 4.5 // [A]
	hottestDrawn = 320 // [°C]
)

// drawKnee shows temperatures over current, each up to where nothing steady is left.
func (a *answer) drawKnee() ([]*plot.Plot, error) {
	p := &a.plan
	c := chart.New("how hot at which current, for good", "current, rms of a phase / A", "temperature / °C")
	c.X.Min, c.X.Max, c.Y.Min, c.Y.Max = 0, mostDrawn, 0, hottestDrawn
	best, m := p.cooled, p.motor
	larger(&best, &m)
	fan(&best, &m)
	blown, err := best.ways(material.Celsius(p.junction), material.Celsius(p.box))
	if err != nil {
		return nil, err
	}
	if err := a.drawChip(c, &a.ways, "junction", chart.Blue, nil); err != nil {
		return nil, err
	}
	if err := a.drawChip(c, &blown, "junction, larger sink and fan", chart.Green, chart.Dashes[2]); err != nil {
		return nil, err
	}
	winding, err := curve(mostDrawn, func(current float64) (float64, error) {
		s, err := a.copper.Steady(current, material.Celsius(p.shed))
		return s.Temperature, err
	})
	if err != nil {
		return nil, err
	}
	if err := chart.Line(c, fmt.Sprintf("winding; runs away from %.3g A", a.wire), winding, chart.Red, chart.Dashes[1]...); err != nil {
		return nil, err
	}
	for _, l := range []struct {
		word           string
		limit, current float64
	}{{"junction", p.junction, a.limit.Bridge}, {"winding", p.winding, a.limit.Winding}} {
		if err := chart.Line(c, "", plotter.XYs{{X: 0, Y: l.limit}, {X: mostDrawn, Y: l.limit}}, chart.Grey); err != nil {
			return nil, err
		}
		if err := chart.Dot(c, fmt.Sprintf("%s at its limit, %.3g A", l.word, l.current), l.current, l.limit); err != nil {
			return nil, err
		}
	}
	for _, w := range []struct {
		word string
		y    float64
	}{{fmt.Sprintf("%g °C, junction", p.junction), p.junction + 9}, {fmt.Sprintf("%g °C, winding", p.winding), p.winding - 10}} {
		if err := chart.Word(c, w.word, 0.79*mostDrawn, w.y, chart.Grey); err != nil {
			return nil, err
		}
	}
	c.X.Tick.Marker, c.Y.Tick.Marker = chart.EveryTicks(0.5), chart.EveryTicks(50)
	c.Legend.Left, c.Legend.XOffs = true, 2*vg.Millimeter
	return []*plot.Plot{c}, nil
}

// drawChip draws the junction of a chip whose switches bend upwards, and its knee.
func (a *answer) drawChip(c *plot.Plot, w *ways, name string, ink color.Color, dashes []vg.Length) error {
	box := material.Celsius(a.plan.box)
	largest, err := w.LargestCurrent(w.flow, material.Celsius(a.plan.junction), box)
	if err != nil {
		return err
	}
	_, path, err := w.at(largest, box)
	if err != nil {
		return err
	}
	knee, err := w.bent.RunawayCurrent(box, path)
	if err != nil {
		return err
	}
	last := knee * (1 - 1e-9)
	line, err := curve(last, func(current float64) (float64, error) {
		s, err := w.bent.Steady(current, box, path)
		return s.Junction, err
	})
	if err != nil {
		return err
	}
	if err := chart.Line(c, fmt.Sprintf("%s; runs away from %.3g A", name, knee), line, ink, dashes...); err != nil {
		return err
	}
	top := line[len(line)-1]
	return chart.Dot(c, "", top.X, top.Y)
}

// curve is a temperature over current, ever closer towards its end, as far as there is one and
// the picture goes.
func curve(last float64, at func(current float64) (float64, error)) (line plotter.XYs, err error) {
	const points = 120
	for k := range points + 1 {
		left := 1 - float64(k)/points
		current := last * (1 - left*left)
		t, err := at(current)
		if errors.Is(err, thermal.ErrRunaway) {
			break
		}
		if err != nil {
			return nil, err
		}
		if material.ToCelsius(t) > hottestDrawn {
			break
		}
		line = append(line, plotter.XY{X: current, Y: material.ToCelsius(t)})
	}
	return line, nil
}

// drawDay shows chip and motor over a day.
func (a *answer) drawDay() ([]*plot.Plot, error) {
	p, d := &a.plan, &a.day
	chip := chart.New(fmt.Sprintf("a day at %.1f A: %g min on, %g min off", a.set, p.run, p.rest), "", "chip / °C")
	motor := chart.New("", "time / h", "motor / °C")
	end := d.hours[len(d.hours)-1]
	for _, panel := range []struct {
		plot  *plot.Plot
		nodes []int
		names []string
		limit float64
		word  string
	}{
		{chip, []int{junctionNode, boardNode, sinkNode}, []string{"junction", "board", "sink"}, p.junction, "junction at most"},
		{motor, []int{windingNode, motorNode}, []string{"winding", "motor case"}, p.winding, "winding at most"},
	} {
		c := panel.plot
		for i, node := range panel.nodes {
			line := make(plotter.XYs, len(d.hours))
			for k, h := range d.hours {
				line[k] = plotter.XY{X: h, Y: material.ToCelsius(d.courses[node][k])}
			}
			if err := chart.Line(c, panel.names[i], line, chart.Inks[i], chart.Dashes[i]...); err != nil {
				return nil, err
			}
		}
		if err := chart.Line(c, "", plotter.XYs{{X: 0, Y: panel.limit}, {X: end, Y: panel.limit}}, chart.Grey); err != nil {
			return nil, err
		}
		if err := chart.Word(c, fmt.Sprintf("%s %g °C", panel.word, panel.limit), 0.05, panel.limit-6, chart.Grey); err != nil {
			return nil, err
		}
		c.X.Min, c.X.Max, c.Y.Min, c.Y.Max = 0, end, 20, panel.limit+10
		c.X.Tick.Marker = chart.EveryTicks(1)
		c.Legend.YOffs = -8 * vg.Millimeter
	}
	return []*plot.Plot{chip, motor}, nil
}
