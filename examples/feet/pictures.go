package main

import (
	"fmt"
	"image/color"
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
		{"modes.svg", a.drawModes},
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
		{"axis without the hopper, second", level(a.bare.modes[1].Frequency), 0, 1},
		{"axis with the hopper, first", axis[0], 1, 0},
		{"axis with the hopper, second", axis[1], 1, 1},
		{"stand, feet bolted", feet[1], 2, 0},
		{"stand, feet loose", feet[0], 2, 1},
	} {
		if err := chart.Line(c, l.name, l.line, chart.Inks[l.ink], chart.Dashes[l.dash]...); err != nil {
			return nil, err
		}
		for _, at := range l.line {
			top = math.Max(top, at.Y)
		}
	}
	c.X.Min, c.X.Max, c.Y.Min, c.Y.Max = 0, 100, 0, 1.65*top
	c.X.Tick.Marker, c.Y.Tick.Marker = chart.EveryTicks(20), chart.EveryTicks(20)
	return []*plot.Plot{c}, nil
}

// drawn is how many modes are.
const drawn = 2

// swing is a mode of the axis, drawn so that what moves most at mid-span (beam, head, tip
// or hopper) moves by 1.
type swing struct {
	frame.Vibration
	scale  float64
	motion int // that mid-span's axis makes most: 1 along y, 2 along z
}

// planes that an axis moves in, by its motion.
var planes = map[int]string{1: "along the travel", 2: "up and down"}

// corners are the points at mid-span that are drawn: beam, head, tip and, where there is one, hopper.
func (p *plan) corners(l *laden) [][3]float64 {
	at := [][3]float64{{}, l.axis.Bodies[0].Offset, p.nozzle()}
	for _, b := range l.axis.Bodies[1:] {
		at = append(at, b.Offset)
	}
	return at
}

// moved is the motion along y and z of a point that goes with a node.
func moved(node [6]float64, at [3]float64) (y, z float64) {
	return node[1] - node[3]*at[2] + node[5]*at[0], node[2] + node[3]*at[1] - node[4]*at[0]
}

func (a *answer) swings(l *laden) ([]swing, error) {
	modes, err := space(l.axis).Modes(drawn)
	if err != nil {
		return nil, err
	}
	var list []swing
	for _, m := range modes {
		s, most := swing{Vibration: m, motion: 1}, 0.0
		mid := m.Nodes[1]
		for _, at := range a.plan.corners(l) {
			y, z := moved(mid, at)
			most = math.Max(most, math.Hypot(y, z))
		}
		if math.Abs(mid[2]) > math.Abs(mid[1]) {
			s.motion = 2
		}
		s.scale = math.Copysign(1/most, mid[s.motion])
		list = append(list, s)
	}
	return list, nil
}

// drawModes shows how the axis bends in its lowest modes with the full hopper and without,
// in the plane in which it moves most, and how head and hopper go along at mid-span.
func (a *answer) drawModes() ([]*plot.Plot, error) {
	cases := []struct {
		name  string
		laden *laden
		ink   color.Color
		dash  []vg.Length
		modes []swing
	}{
		{"full hopper", &a.laden[len(a.laden)-1], chart.Red, nil, nil},
		{"no hopper", &a.bare, chart.Blue, []vg.Length{7, 3}, nil},
	}
	for i := range cases {
		var err error
		if cases[i].modes, err = a.swings(cases[i].laden); err != nil {
			return nil, err
		}
	}
	var panels []*plot.Plot
	half := a.plan.span / 2
	for i := range drawn {
		c := chart.New(fmt.Sprintf("mode %d of the axis", i+1), "from mid-span / mm", "axis / most at mid-span")
		for _, k := range cases {
			line, err := bow(k.modes[i], a.plan.span*mm)
			if err != nil {
				return nil, err
			}
			name := fmt.Sprintf("%s, %.3g Hz, %s", k.name, k.modes[i].Frequency, planes[k.modes[i].motion])
			if err := chart.Line(c, name, line, k.ink, k.dash...); err != nil {
				return nil, err
			}
		}
		if err := chart.Line(c, "", plotter.XYs{{X: -half}, {X: half}}, chart.Grey, 1, 2); err != nil {
			return nil, err
		}
		c.X.Min, c.X.Max, c.Y.Min, c.Y.Max = -half, half, -0.1, 1.6
		c.X.Tick.Marker, c.Y.Tick.Marker = chart.EveryTicks(150), chart.EveryTicks(0.5)
		panels = append(panels, c)
	}
	c := chart.New("mid-span seen along the beam, at rest (grey) and at the end of a swing", "along the travel / mm", "up / mm")
	right := 0.0
	for _, k := range cases {
		for i, m := range k.modes {
			if err := a.drawEnd(c, k.laden, m, right, k.ink); err != nil {
				return nil, err
			}
			if err := chart.Word(c, fmt.Sprintf("%s, %d", k.name, i+1), right-0.4*apart, -1.45*a.plan.nozzleBelow, chart.Grey); err != nil {
				return nil, err
			}
			right += apart
		}
	}
	c.X.Min, c.X.Max = -0.5*apart, right-0.5*apart
	high := (c.X.Max - c.X.Min) / 2.5 // nearly as the picture is, so that angles are seen as they are
	c.Y.Min, c.Y.Max = -high/2-30, high/2-30
	c.X.Tick.Marker, c.Y.Tick.Marker = chart.TicksAt(), chart.EveryTicks(100)
	return append(panels, c), nil
}

// apart is how far two ends stand from each other [mm], swung how far what moves most goes.
const (
	apart = 420.0
	swung = 60.0
)

// bow is the beam's axis in a mode.
func bow(m swing, span float64) (line plotter.XYs, err error) {
	const points = 40
	for member := range 2 {
		for k := range points + 1 {
			x := span / 2 * float64(k) / points
			u, err := m.Along(member, x)
			if err != nil {
				return nil, err
			}
			line = append(line, plotter.XY{X: (x + span/2*float64(member-1)) / mm, Y: m.scale * u[m.motion]})
		}
	}
	return line, nil
}

// drawEnd draws beam, head, tip and hopper at rest and swung.
func (a *answer) drawEnd(c *plot.Plot, l *laden, m swing, right float64, ink color.Color) error {
	w, h := a.plan.width/2*mm, a.plan.height/2*mm
	loops := [][][3]float64{
		{{0, -w, -h}, {0, w, -h}, {0, w, h}, {0, -w, h}, {0, -w, -h}},
		{{}, a.plan.nozzle()},
	}
	corners := a.plan.corners(l)
	for _, hopper := range corners[3:] {
		y, z := hopper[1], hopper[2]
		loops = append(loops, [][3]float64{{}, hopper},
			[][3]float64{{0, y - 0.03, z - 0.05}, {0, y + 0.03, z - 0.05}, {0, y + 0.07, z + 0.07}, {0, y - 0.07, z + 0.07}, {0, y - 0.03, z - 0.05}})
	}
	head := corners[1][2]
	loops = append(loops, [][3]float64{{0, -0.025, head - 0.05}, {0, 0.025, head - 0.05}, {0, 0.025, head + 0.04}, {0, -0.025, head + 0.04}, {0, -0.025, head - 0.05}})
	for _, swings := range []float64{0, swung * m.scale} {
		colour := ink
		if swings == 0 {
			colour = chart.Grey
		}
		for _, loop := range loops {
			var line plotter.XYs
			for _, at := range loop {
				y, z := moved(m.Nodes[1], at)
				line = append(line, plotter.XY{X: right + at[1]/mm + swings*y, Y: at[2]/mm + swings*z})
			}
			if err := chart.Line(c, "", line, colour); err != nil {
				return err
			}
		}
	}
	return nil
}
