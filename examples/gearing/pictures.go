package main

import (
	"fmt"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"

	"meltflight/drive"
	"meltflight/internal/chart"
)

// draw makes the pictures.
func (a *answer) draw() ([]chart.Picture, error) {
	var list []chart.Picture
	for _, d := range []struct {
		name string
		make func() ([]*plot.Plot, error)
	}{
		{"torque.svg", a.drawTorque},
		{"module.svg", a.drawModule},
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

// drawTorque shows what the motor holds at the screw through some ratios, and what the
// screw asks.
func (a *answer) drawTorque() ([]*plot.Plot, error) {
	p := &a.plan
	c := chart.New("motor seen from the screw", "speed of the screw / rpm", "torque at the screw / (N·m)")
	const points = 240
	right, top := 2.5*p.speed, 0.0
	for i, ratio := range p.ratios {
		var line plotter.XYs
		for k := range points + 1 {
			speed := right * float64(k) / points
			torque, err := a.atScrew(speed*rpm, ratio, efficiency)
			if err != nil {
				return nil, err
			}
			line = append(line, plotter.XY{X: speed, Y: torque})
			top = math.Max(top, torque)
		}
		if err := chart.Line(c, fmt.Sprintf("pull-out through a ratio of %g", ratio), line, chart.Inks[i%len(chart.Inks)], chart.Dashes[i%len(chart.Dashes)]...); err != nil {
			return nil, err
		}
	}
	for _, d := range []struct {
		name  string
		times float64
		dash  []vg.Length
	}{
		{fmt.Sprintf("what the screw asks, as its speed to the power of %g", p.index), 1, nil},
		{fmt.Sprintf("%g times that", p.reserve), p.reserve, []vg.Length{2, 2}},
	} {
		var line plotter.XYs
		for k := range points + 1 {
			speed := right * float64(k) / points
			line = append(line, plotter.XY{X: speed, Y: d.times * p.demand(speed*rpm)})
		}
		if err := chart.Line(c, d.name, line, chart.Grey, d.dash...); err != nil {
			return nil, err
		}
	}
	if err := chart.Dot(c, fmt.Sprintf("it runs at %g rpm, %g N·m", p.speed, p.torque), p.speed, p.torque); err != nil {
		return nil, err
	}
	c.X.Min, c.X.Max, c.Y.Min, c.Y.Max = 0, right, 0, 1.35*top
	c.X.Tick.Marker, c.Y.Tick.Marker = chart.EveryTicks(20), chart.EveryTicks(2)
	return []*plot.Plot{c}, nil
}

// drawModule shows the safeties of the chosen teeth over their module, faces in proportion.
func (a *answer) drawModule() ([]*plot.Plot, error) {
	p, s := &a.plan, a.choice.Stage
	title := fmt.Sprintf("%d/%d/%d teeth, face of %g modules, over %g h", s.Sun, s.Planet, s.Ring, p.width, p.wanted)
	panels := []*plot.Plot{chart.New(title, "", "safety of the roots"), chart.New("", "module / mm", "safety of the flanks")}
	rows, err := a.modules()
	if err != nil {
		return nil, err
	}
	for i, c := range panels {
		least, most := math.Inf(1), 0.0
		for k, name := range []string{"sun", "planet", "ring"} {
			var line plotter.XYs
			for _, r := range rows {
				safety := r.Utilisations[i*flanks+k].Safety()
				line = append(line, plotter.XY{X: r.module, Y: safety})
				least, most = math.Min(least, safety), math.Max(most, safety)
			}
			if i > 0 {
				name = ""
			}
			if err := chart.Line(c, name, line, chart.Inks[k], chart.Dashes[k]...); err != nil {
				return nil, err
			}
		}
		c.X.Min, c.X.Max = rows[0].module, rows[len(rows)-1].module
		c.Y.Min, c.Y.Max = 0.7*least, 1.2*most
		if i == 0 {
			c.Y.Max *= 3 // room for the legend
		}
		c.X.Scale, c.Y.Scale = plot.LogScale{}, plot.LogScale{}
		c.X.Tick.Marker, c.Y.Tick.Marker = chart.TicksAt(p.steps...), chart.RoundTicks{}
		asked := p.asked(i * flanks)
		if err := chart.Line(c, "", plotter.XYs{{X: c.X.Min, Y: asked}, {X: c.X.Max, Y: asked}}, chart.Grey); err != nil {
			return nil, err
		}
		if err := chart.Word(c, fmt.Sprintf("asked: %g", asked), 0.82*c.X.Max, asked/1.25, chart.Grey); err != nil {
			return nil, err
		}
		module := round(s.Module / mm)
		if err := chart.Line(c, "", plotter.XYs{{X: module, Y: c.Y.Min}, {X: module, Y: c.Y.Max}}, chart.Grey, 1, 2); err != nil {
			return nil, err
		}
		if err := chart.Word(c, "chosen", module, c.Y.Min*1.2, chart.Grey); err != nil {
			return nil, err
		}
	}
	panels[0].Legend.Left, panels[0].Legend.XOffs, panels[0].Legend.YOffs = true, 2*vg.Millimeter, -10*vg.Millimeter
	return panels, nil
}

// sized is the chosen stage in another module [mm].
type sized struct {
	module float64
	drive.StageRating
}

// modules rates the chosen teeth in the modules that are drawn.
func (a *answer) modules() (list []sized, err error) {
	for _, module := range a.plan.steps {
		s := a.choice.Stage
		s.Module, s.Face = module*mm, a.plan.width*module*mm
		r, err := a.rate(s, a.chosen.steel)
		if err != nil {
			return nil, fmt.Errorf("module %g mm: %w", module, err)
		}
		list = append(list, sized{module, r.rating})
	}
	return list, nil
}
