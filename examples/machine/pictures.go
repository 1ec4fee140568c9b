package main

import (
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"meltflight/internal/chart"
)

// draw makes the pictures.
func (m *Machine) draw(p *parts, a *answer) ([]chart.Picture, error) {
	var list []chart.Picture
	for _, d := range []struct {
		name string
		make func(*parts, *answer) (*plot.Plot, error)
	}{
		{"characteristic.svg", m.drawCharacteristic},
		{"limits.svg", m.drawLimits},
		{"frequency.svg", m.drawFrequency},
	} {
		made, err := d.make(p, a)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", d.name, err)
		}
		made.Title.Text = short(m.Name) + ": " + made.Title.Text
		if l := a.first(); l.stops && l.Safety() < 1 {
			made.Title.Text += " (does not run)"
		}
		svg, err := chart.SVG(made)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", d.name, err)
		}
		list = append(list, chart.Picture{Name: d.name, SVG: svg})
	}
	return list, nil
}

// short cuts a name that would not fit.
func short(name string) string {
	if letters := []rune(name); len(letters) > 32 {
		return string(letters[:31]) + "…"
	}
	return name
}

// drawCharacteristic shows output against pressure for the screw at three speeds
// and for the nozzle.
func (m *Machine) drawCharacteristic(p *parts, a *answer) (*plot.Plot, error) {
	c := chart.New("screw and nozzle", "head pressure / bar", "output / (kg/h)")
	top := math.Max(1e5, math.Max(2.2*a.whole.Course.Pressure, 0.15*a.whole.ClosedPressure))
	most := m.Feedstock.Wanted / hour
	const points = 60
	for _, s := range []struct {
		factor float64
		dashes []vg.Length
	}{{0.5, []vg.Length{2, 2}}, {1, nil}, {1.5, []vg.Length{7, 3}}} {
		var line plotter.XYs
		for i := range points + 1 {
			pressure := top * float64(i) / points
			state, err := p.channel.Convey(p.melt, s.factor*p.speed, pressure)
			if err != nil {
				return nil, err
			}
			if state.Flow < 0 {
				break
			}
			line = append(line, plotter.XY{X: pressure / 1e5, Y: state.MassFlow * hour})
			most = math.Max(most, state.MassFlow)
		}
		if len(line) < 2 {
			continue
		}
		if err := chart.Line(c, fmt.Sprintf("metering zone at %.3g rpm", s.factor*m.Screw.Speed), line, chart.Blue, s.dashes...); err != nil {
			return nil, err
		}
	}
	nozzle := plotter.XYs{{}}
	for i := range points {
		share := float64(i+1) / points // closer together where the curve bends
		flow := 1.05 * most / p.melt.Density * share * share
		pressure := p.die.PressureDrop(p.melt, flow)
		if pressure > top {
			break
		}
		nozzle = append(nozzle, plotter.XY{X: pressure / 1e5, Y: flow * p.melt.Density * hour})
	}
	if len(nozzle) > 1 {
		if err := chart.Line(c, "nozzle", nozzle, chart.Red); err != nil {
			return nil, err
		}
	}
	level := func(name string, flow float64, ink color.Color, dashes ...vg.Length) error {
		return chart.Line(c, name, plotter.XYs{{X: 0, Y: flow}, {X: top / 1e5, Y: flow}}, ink, dashes...)
	}
	if err := level("wanted", m.Feedstock.Wanted, chart.Grey, 1, 2); err != nil {
		return nil, err
	}
	if a.noFlow == nil {
		if err := level("throat lets in", a.whole.Throat*hour, chart.Green); err != nil {
			return nil, err
		}
		if err := level("melts in time", a.whole.Melting*hour, chart.Green, 4, 2); err != nil {
			return nil, err
		}
	}
	c.X.Min, c.Y.Min, c.X.Max = 0, 0, top/1e5
	c.Y.Max = 2 * most * hour
	if a.noFlow != nil {
		return c, nil
	}
	return c, chart.Dot(c, fmt.Sprintf("%.2f kg/h at %.0f bar", a.whole.Output*hour, a.whole.Course.Pressure/1e5),
		a.whole.Course.Pressure/1e5, a.whole.Output*hour)
}

// drawLimits shows every safety as a bar against 1, on a logarithmic scale.
func (m *Machine) drawLimits(_ *parts, a *answer) (*plot.Plot, error) {
	c := chart.New("how far each part is from its limit", "safety (capacity ÷ demand)", "")
	c.X.Tick.Label.Font.Size, c.Y.Tick.Label.Font.Size = 10, 10
	const least, most = 0.1, 100
	names := make([]string, len(a.limits))
	for i, l := range a.limits {
		y := float64(len(a.limits) - 1 - i)
		names[len(a.limits)-1-i] = l.Part
		s := math.Max(least, math.Min(most, l.Safety()))
		ink, style := color.Color(chart.Blue), draw.LineStyle{Color: color.Black, Width: 0.4}
		if s < 1 {
			ink = chart.Red
		}
		bar, err := plotter.NewPolygon(plotter.XYs{{X: 1, Y: y - 0.34}, {X: s, Y: y - 0.34}, {X: s, Y: y + 0.34}, {X: 1, Y: y + 0.34}})
		if err != nil {
			return nil, err
		}
		bar.Color, bar.LineStyle = ink, style
		c.Add(bar)
		if err := chart.Word(c, safetyText(l.Safety()), math.Max(s, 1), y, color.Black); err != nil {
			return nil, err
		}
	}
	if err := chart.Line(c, "", plotter.XYs{{X: 1, Y: -0.7}, {X: 1, Y: float64(len(names)) - 0.3}}, color.Black); err != nil {
		return nil, err
	}
	c.NominalY(names...)
	c.X.Scale, c.X.Tick.Marker = plot.LogScale{}, chart.TicksAt(0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100)
	c.X.Min, c.X.Max = least, 2*most
	return c, nil
}

// drawFrequency shows the gantry's lowest frequency and the worst ringing of a
// move over the filling of the hopper.
func (m *Machine) drawFrequency(_ *parts, a *answer) (*plot.Plot, error) {
	c := chart.New("natural frequency", "hopper filled / %", "lowest natural frequency / Hz")
	var line plotter.XYs
	for _, s := range a.fills {
		line = append(line, plotter.XY{X: 100 * s.fill, Y: s.modes[0].Frequency})
	}
	if err := chart.Line(c, "gantry, hopper on "+map[string]string{"axis": "it", "stand": "its own stand"}[m.Hopper.On], line, chart.Green); err != nil {
		return nil, err
	}
	top := math.Max(line[0].Y, line[len(line)-1].Y)
	straight := func(name string, y float64, ink color.Color, dashes ...vg.Length) error {
		top = math.Max(top, y)
		return chart.Line(c, name, plotter.XYs{{X: 0, Y: y}, {X: 100, Y: y}}, ink, dashes...)
	}
	if m.Hopper.On == "stand" {
		if err := straight("stand, hopper full", math.Min(a.swayX, a.swayY), chart.Red, 1, 2); err != nil {
			return nil, err
		}
	}
	c.Y.Min, c.Y.Max = 0, 1.5*top
	c.X.Min, c.X.Max = 0, 100
	c.X.Tick.Marker = chart.TicksAt(0, 25, 50, 75, 100)
	return c, chart.Dot(c, fmt.Sprintf("rings %.2g mm of %.2g allowed", a.worst.ringing.Worst/milli, m.Gantry.Ripple), 100*a.worst.fill, a.worst.modes[0].Frequency)
}
