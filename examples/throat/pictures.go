package main

import (
	"fmt"

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
		{"warmup.svg", a.drawWarmup},
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

// drawAlong shows barrel and screw of each case, steady, from the throat to the nozzle.
func (a *answer) drawAlong() ([]*plot.Plot, error) {
	p := &a.plan
	wall := chart.New("from throat to nozzle, screw standing", "", "sleeve and barrel / °C")
	screw := chart.New("", "from the throat / mm", "screw / °C")
	end := 0.0
	for i := range a.cases {
		c := &a.cases[i]
		for _, panel := range []struct {
			plot   *plot.Plot
			first  int
			prefix string
		}{{wall, c.net.Barrel, "sleeve of "}, {screw, c.net.Screw, "screw, sleeve of "}} {
			line := make(plotter.XYs, len(c.positions))
			for k, x := range c.positions {
				line[k] = plotter.XY{X: x, Y: material.ToCelsius(c.steady[panel.first+k])}
			}
			if err := chart.Line(panel.plot, panel.prefix+a.name(c.scene), line, chart.Inks[i], chart.Dashes[i]...); err != nil {
				return nil, err
			}
		}
		end = max(end, c.length+p.barrel)
	}
	for _, c := range []*plot.Plot{wall, screw} {
		if err := a.limits(c, end, 0.75); err != nil {
			return nil, err
		}
		c.X.Min, c.X.Max, c.Y.Min, c.Y.Max = 0, end, 0, p.hot+15
		c.X.Tick.Marker, c.Y.Tick.Marker = chart.EveryTicks(50), chart.EveryTicks(50)
		c.Legend.YOffs = -14 * vg.Millimeter
	}
	return []*plot.Plot{wall, screw}, nil
}

// limits draws what each plastic allows in the throat up to an end, its name at a part of the way,
// the first above its line, the others below.
func (a *answer) limits(c *plot.Plot, to, word float64) error {
	for k, m := range a.plan.plastics {
		y := a.limit(k)
		if err := chart.Line(c, "", plotter.XYs{{X: 0, Y: y}, {X: to, Y: y}}, chart.Grey, 1, 2); err != nil {
			return err
		}
		above := [...]float64{10, -8, -20}[min(k, 2)]
		if err := chart.Word(c, fmt.Sprintf("%s: at most %.0f °C", m.Name, y), word*to, y+above, chart.Grey); err != nil {
			return err
		}
	}
	return nil
}

// drawWarmup shows barrel and throat of each case over time, and what was read.
func (a *answer) drawWarmup() ([]*plot.Plot, error) {
	p := &a.plan
	barrel := chart.New(fmt.Sprintf("warming up with %g W", float64(p.bands)*p.power), "", "front band and rear / °C")
	throat := chart.New("", "time / min", "throat / °C")
	chosen := &a.cases[p.chosen]
	front := chosen.over(p.shed, func(x []float64) float64 { return x[chosen.bandNode(p.bands-1)+cuts/2] })
	if err := chart.Line(barrel, "front band, as good as alike in all", front, chart.Grey); err != nil {
		return nil, err
	}
	for i := range a.cases {
		c := &a.cases[i]
		lines := []struct {
			plot *plot.Plot
			name string
			of   func(x []float64) float64
		}{
			{barrel, "rear, sleeve of " + a.name(c.scene), c.rear},
			{throat, "sleeve of " + a.name(c.scene), c.throat},
		}
		for _, l := range lines {
			line := c.over(p.shed, l.of)
			if err := chart.Line(l.plot, l.name, line, chart.Inks[i], chart.Dashes[i]...); err != nil {
				return nil, err
			}
		}
	}
	for i, pair := range p.test.pairs {
		name := ""
		if i == 0 {
			name = fmt.Sprintf("read amid the barrel, from %g °C (invented)", p.test.air)
		}
		if err := chart.Dot(barrel, name, pair[0], pair[1]); err != nil {
			return nil, err
		}
	}
	if err := a.limits(throat, shown, 0.75); err != nil {
		return nil, err
	}
	for _, c := range []*plot.Plot{barrel, throat} {
		c.X.Min, c.X.Max, c.Y.Min = 0, shown, 0
		c.X.Tick.Marker, c.Y.Tick.Marker = chart.EveryTicks(5), chart.EveryTicks(50)
	}
	barrel.Y.Max, throat.Y.Max = p.hot+15, p.hot+15
	throat.Legend.YOffs = -16 * vg.Millimeter
	barrel.Legend.Top, barrel.Legend.YOffs = false, 2*vg.Millimeter
	return []*plot.Plot{barrel, throat}, nil
}

// over is a temperature over the warm-up, from that of the shed [min], [°C].
func (c *course) over(shed float64, of func(x []float64) float64) plotter.XYs {
	line := plotter.XYs{{X: 0, Y: shed}}
	for k, x := range c.warming {
		line = append(line, plotter.XY{X: c.times[k] / minute, Y: material.ToCelsius(of(x))})
	}
	return line
}
