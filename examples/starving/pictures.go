package main

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"

	"meltflight/internal/chart"
	"meltflight/material"
)

// draw makes the pictures.
func (a *answer) draw() ([]chart.Picture, error) {
	var list []chart.Picture
	for _, d := range []struct {
		name string
		make func() ([]*plot.Plot, error)
	}{
		{"along.svg", a.drawAlong},
		{"density.svg", a.drawDensity},
		{"throat.svg", a.drawThroat},
		{"map.svg", a.drawMap},
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
	bar = 1e5  // [Pa]
	mm  = 1e-3 // [m]
)

// drawAlong shows bed, pressure and temperature along the screw, starved and not.
func (a *answer) drawAlong() ([]*plot.Plot, error) {
	solid := chart.New(fmt.Sprintf("along the screw at %g rpm", a.plan.state.speed), "", "solid, share of the width")
	pressure := chart.New("", "", "pressure / bar")
	heat := chart.New("", "along the screw from under the hopper / mm", "mean melt temperature / °C")
	long := a.plan.state.profile().Length()
	highest, warmest := 0.0, 0.0
	barrel := a.plan.state.plastic.barrel + a.plan.state.hotter
	for i, s := range a.starts[:2] {
		d := s.done
		var x plotter.XYs
		const points = 160
		for k := range points + 1 {
			at := long * float64(k) / points
			x = append(x, plotter.XY{X: at / mm, Y: d.Bed.Solid(at)})
		}
		p, t := plotter.XYs{{X: 0, Y: 0}, {X: d.Filled / mm, Y: 0}}, plotter.XYs{{X: d.Filled / mm, Y: barrel}}
		for _, at := range d.Course.Stations {
			p = append(p, plotter.XY{X: at.Position / mm, Y: at.Pressure / bar})
			t = append(t, plotter.XY{X: at.Position / mm, Y: material.ToCelsius(at.Temperature)})
			highest, warmest = math.Max(highest, at.Pressure/bar), math.Max(warmest, material.ToCelsius(at.Temperature))
		}
		ink, dashes := chart.Inks[i], chart.Dashes[i]
		name := fmt.Sprintf("flake of %g kg/m³: limited by %s, %.2g kg/h", s.state.bulk, word(&d), d.sound())
		for _, c := range []struct {
			panel *plot.Plot
			name  string
			line  plotter.XYs
		}{{solid, name, x}, {pressure, "", p}, {heat, "", t}} {
			if err := chart.Line(c.panel, c.name, c.line, ink, dashes...); err != nil {
				return nil, err
			}
		}
	}
	for i, s := range a.starts[:2] {
		d := s.done
		begins, ends, fills := "", "", ""
		if i == 0 {
			begins, fills = "melting begins; nothing solid is left", "melt fills it from here on"
		}
		for _, dot := range []struct {
			panel *plot.Plot
			name  string
			x, y  float64
		}{{solid, begins, d.Bed.From, 1}, {solid, ends, d.Bed.From + d.Bed.Length, 0}, {pressure, fills, d.Filled, 0}, {heat, "", d.Filled, barrel}} {
			if err := chart.Dot(dot.panel, dot.name, dot.x/mm, dot.y); err != nil {
				return nil, err
			}
		}
	}
	solid.Y.Min, solid.Y.Max = 0, 1.7
	pressure.Y.Min, pressure.Y.Max = 0, 1.4*highest
	heat.Y.Min, heat.Y.Max = math.Floor(barrel)-1, math.Ceil(warmest)+1
	solid.Y.Tick.Marker, pressure.Y.Tick.Marker, heat.Y.Tick.Marker = chart.TicksAt(0, 0.5, 1), chart.EveryTicks(5), chart.EveryTicks(1)
	for _, c := range []*plot.Plot{solid, pressure, heat} {
		c.X.Min, c.X.Max, c.X.Tick.Marker = 0, long/mm, chart.EveryTicks(40)
		for _, at := range []float64{throat, throat + feed, throat + feed + taper} {
			if err := upright(c, at, 0.72); err != nil {
				return nil, err
			}
		}
	}
	for _, z := range []struct {
		name string
		at   float64
	}{{"throat", 0}, {"feed", throat}, {"taper", throat + feed}, {"metering", throat + feed + taper}} {
		if err := chart.Word(heat, z.name, z.at, heat.Y.Min+0.7*(heat.Y.Max-heat.Y.Min), chart.Grey); err != nil {
			return nil, err
		}
	}
	pressure.Legend.Left, pressure.Legend.XOffs = true, 2*vg.Millimeter
	return []*plot.Plot{solid, pressure, heat}, nil
}

// upright draws a dotted line up to a share of the picture's height.
func upright(c *plot.Plot, at, high float64) error {
	return chart.Line(c, "", plotter.XYs{{X: at, Y: c.Y.Min}, {X: at, Y: c.Y.Min + high*(c.Y.Max-c.Y.Min)}}, chart.Grey, 1, 2)
}

// The flake's bulk densities that are drawn [kg/m³].
const thin, thick = 100.0, 600.0

// drawDensity shows the output over the flake's bulk density at some speeds, and where
// the throat no longer limits.
func (a *answer) drawDensity() ([]*plot.Plot, error) {
	c := chart.New("output over the flake's bulk density", "bulk density of the flake / (kg/m³)", "output, molten in time / (kg/h)")
	type turn struct {
		word string
		x, y float64
	}
	var turns []turn
	top := 0.0
	for i, speed := range a.plan.speeds {
		s := a.plan.state.after(func(s *state) { s.speed = speed })
		enough, _, err := s.enough()
		if err != nil {
			return nil, err
		}
		places := []float64{enough}
		for bulk := thin; bulk <= thick; bulk += 100 {
			places = append(places, bulk)
		}
		slices.Sort(places)
		var line plotter.XYs
		for _, bulk := range places {
			if bulk > thick {
				break
			}
			d, err := s.after(func(s *state) { s.bulk = bulk }).run()
			if err != nil {
				return nil, err
			}
			line = append(line, plotter.XY{X: bulk, Y: d.sound()})
			top = math.Max(top, d.sound())
			if bulk == enough {
				turns = append(turns, turn{limitOf(rest(&d), &d).String() + " limits", enough, d.sound()})
			}
		}
		if err := chart.Line(c, fmt.Sprintf("%g rpm", speed), line, chart.Inks[i%len(chart.Inks)], chart.Dashes[i%len(chart.Dashes)]...); err != nil {
			return nil, err
		}
	}
	c.X.Min, c.X.Max, c.Y.Min, c.Y.Max = thin, thick, 0, 1.3*top
	for i, t := range turns {
		name := ""
		if i == 0 {
			name = "the throat limits up to here"
		}
		if err := chart.Dot(c, name, t.x, t.y); err != nil {
			return nil, err
		}
		if err := chart.Word(c, t.word, t.x, t.y-0.05*top, chart.Grey); err != nil {
			return nil, err
		}
	}
	if err := upright(c, a.plan.state.bulk, 1); err != nil {
		return nil, err
	}
	if err := chart.Word(c, "flake as it is", a.plan.state.bulk, 0.05*top, chart.Grey); err != nil {
		return nil, err
	}
	if err := chart.Line(c, "", plotter.XYs{{X: thin, Y: a.plan.wanted}, {X: thick, Y: a.plan.wanted}}, chart.Grey, 1, 2); err != nil {
		return nil, err
	}
	if err := chart.Word(c, "wanted", thin, a.plan.wanted+0.04*top, chart.Grey); err != nil {
		return nil, err
	}
	c.Legend.Left, c.Legend.XOffs = true, 2*vg.Millimeter
	c.X.Tick.Marker, c.Y.Tick.Marker = chart.EveryTicks(100), chart.EveryTicks(0.5)
	return []*plot.Plot{c}, nil
}

// warmest root that is drawn [°C].
const warm = 140.0

// roots lists temperatures of the root, closer together where the flake begins to slip.
func (w warmth) roots() []float64 {
	list := []float64{w.rubs}
	for root := coldest; root < w.slips; root += 15 {
		list = append(list, root)
	}
	for _, before := range []float64{0.02, 0.3, 1, 2, 3} {
		list = append(list, math.Max(coldest, w.slips-before))
	}
	slices.Sort(list)
	return list
}

// drawThroat shows the output over the temperature of the root in the throat.
func (a *answer) drawThroat() ([]*plot.Plot, error) {
	s := a.plan.state
	c := chart.New(fmt.Sprintf("warm root, collar at %g °C, %g rpm, flake of %g kg/m³", s.collar, s.speed, s.bulk), "root's temperature in the throat / °C", "output, molten in time / (kg/h)")
	c.X.Min, c.X.Max, c.Y.Min, c.Y.Max = coldest, warm, 0, 1.6*a.base.sound()
	for i, w := range a.warm {
		s.plastic = w.plastic
		var line plotter.XYs
		for _, root := range w.roots() {
			d, err := s.after(func(s *state) { s.root = root }).run()
			if err != nil {
				return nil, err
			}
			line = append(line, plotter.XY{X: root, Y: d.sound()})
			if root == w.rubs {
				name := ""
				if i == 0 {
					name = "up to here the throat limits, from here on friction"
				}
				if err := chart.Dot(c, name, root, d.sound()); err != nil {
					return nil, err
				}
			}
		}
		line = append(line, plotter.XY{X: w.slips, Y: 0}, plotter.XY{X: warm, Y: 0})
		if err := chart.Line(c, w.plastic.Name, line, chart.Inks[i], chart.Dashes[i]...); err != nil {
			return nil, err
		}
		for _, word := range []struct {
			text     string
			at, high float64 // the latter of the picture's height
		}{{"slips", w.slips, 0.15}, {"sticks", material.ToCelsius(w.plastic.Softening), 0.7}} {
			if err := upright(c, word.at, word.high); err != nil {
				return nil, err
			}
			if err := chart.Word(c, w.plastic.Name+" "+word.text, word.at, word.high*c.Y.Max, chart.Grey); err != nil {
				return nil, err
			}
		}
	}
	c.X.Tick.Marker, c.Y.Tick.Marker = chart.EveryTicks(20), chart.EveryTicks(0.2)
	return []*plot.Plot{c}, nil
}
