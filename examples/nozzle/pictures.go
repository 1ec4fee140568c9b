package main

import (
	"fmt"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"

	"meltflight/internal/chart"
	"meltflight/material"
	"meltflight/screw"
)

// draw makes the pictures.
func (a *answer) draw() ([]chart.Picture, error) {
	var list []chart.Picture
	for _, d := range []struct {
		name string
		make func() ([]*plot.Plot, error)
	}{
		{"characteristic.svg", a.drawCharacteristic},
		{"along.svg", a.drawAlong},
		{"residence.svg", a.drawResidence},
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

// drawCharacteristic shows output against pressure of the screw at three speeds and of
// the nozzles, with melt as warm as it comes to the chosen one.
func (a *answer) drawCharacteristic() ([]*plot.Plot, error) {
	c := chart.New("", "head pressure / bar", "output / (kg/h)")
	small, wide := a.ends()
	c.Title.Text = fmt.Sprintf("screw at three speeds, nozzles of %g to %g mm", small.nozzle, wide.nozzle)
	right := 1.25 * small.course.Pressure
	top := 0.0
	const points = 60
	for i, factor := range []float64{1.4, 1, 0.6} {
		list, err := a.screw.Characteristic(a.melt, held(factor*a.chosen.speed), points)
		if err != nil {
			return nil, err
		}
		var line plotter.XYs
		for _, s := range list {
			line = append(line, plotter.XY{X: s.Pressure / bar, Y: kgh(s)})
		}
		top = math.Max(top, line[0].Y)
		if err := chart.Line(c, fmt.Sprintf("screw at %.0f rpm", factor*a.chosen.speed*rpm), line, chart.Blue, chart.Dashes[[]int{1, 0, 2}[i]]...); err != nil {
			return nil, err
		}
	}
	hot := a.melt
	hot.Temperature = a.chosen.course.Temperature
	for i := range a.trials {
		t := &a.trials[i]
		die := nozzle(t.nozzle * 1e-3)
		end := top * (0.95 + 0.07*float64(i)) // names above one another
		var line plotter.XYs
		for k := range points + 1 {
			share := float64(k) / points // closer together where the curve bends
			output := end * share * share
			pressure := die.PressureDrop(hot, output/3600/hot.Density)
			if pressure > right {
				break
			}
			line = append(line, plotter.XY{X: pressure / bar, Y: output})
		}
		name, dashes := "", []vg.Length{1, 2}
		if t == a.chosen {
			name, dashes = "nozzle chosen", nil
		}
		if err := chart.Line(c, name, line, chart.Red, dashes...); err != nil {
			return nil, err
		}
		last := line[len(line)-1]
		if err := chart.Word(c, fmt.Sprintf("%g mm", t.nozzle), last.X, last.Y, chart.Red); err != nil {
			return nil, err
		}
	}
	c.X.Min, c.X.Max, c.Y.Min, c.Y.Max = 0, 1.1*right/bar, 0, 1.6*top
	c.X.Tick.Marker, c.Y.Tick.Marker = chart.EveryTicks(20), chart.EveryTicks(0.5)
	err := chart.Dot(c, fmt.Sprintf("%.2g kg/h at %.0f bar", kgh(a.chosen.course), a.chosen.course.Pressure/bar), a.chosen.course.Pressure/bar, kgh(a.chosen.course))
	return []*plot.Plot{c}, err
}

// drawAlong shows pressure and temperature along the screw with the chosen nozzle, for
// all that the barrel may do with the heat.
func (a *answer) drawAlong() ([]*plot.Plot, error) {
	along := "along the screw from where melt fills it / mm"
	pressure := chart.New(fmt.Sprintf("along the screw at %.0f rpm, nozzle of %g mm", a.chosen.speed*rpm, a.chosen.nozzle), "", "pressure / bar")
	heat := chart.New("", along, "mean melt temperature / °C")
	highest, warmest := 0.0, 0.0
	for i, h := range []struct {
		word    string
		heating screw.Heating
	}{{"no heat passes the barrel", screw.Adiabatic}, {fmt.Sprintf("barrel's bore held at %d °C", celsius), screw.HeldBarrel}, {"melt kept at one temperature", screw.Isothermal}} {
		s, err := a.screw.OperatingPoint(nozzle(a.chosen.nozzle*1e-3), a.melt, screw.Running{Speed: a.chosen.speed, Heating: h.heating})
		if err != nil {
			return nil, err
		}
		p, t := plotter.XYs{{X: 0, Y: 0}}, plotter.XYs{{X: 0, Y: celsius}}
		for _, at := range s.Stations {
			p = append(p, plotter.XY{X: at.Position * 1e3, Y: at.Pressure / bar})
			t = append(t, plotter.XY{X: at.Position * 1e3, Y: material.ToCelsius(at.Temperature)})
			highest, warmest = math.Max(highest, at.Pressure/bar), math.Max(warmest, material.ToCelsius(at.Temperature))
		}
		ink, dashes := chart.Inks[[]int{1, 0, 2}[i]], chart.Dashes[[]int{1, 0, 2}[i]]
		if err := chart.Line(pressure, h.word, p, ink, dashes...); err != nil {
			return nil, err
		}
		if err := chart.Line(heat, "", t, ink, dashes...); err != nil {
			return nil, err
		}
	}
	pressure.Legend.Top, pressure.Legend.YOffs = false, 2*vg.Millimeter
	pressure.Y.Min, pressure.Y.Max = 0, 1.15*highest
	heat.Y.Min, heat.Y.Max = celsius-1, celsius+1.15*(warmest-celsius)+1
	pressure.Y.Tick.Marker, heat.Y.Tick.Marker = chart.EveryTicks(5), chart.EveryTicks(5)
	for _, c := range []*plot.Plot{pressure, heat} {
		c.X.Min, c.X.Max, c.X.Tick.Marker = 0, a.screw.Length()*1e3, chart.EveryTicks(40)
		if err := chart.Line(c, "", plotter.XYs{{X: taper, Y: c.Y.Min}, {X: taper, Y: c.Y.Max}}, chart.Grey, 1, 2); err != nil {
			return nil, err
		}
	}
	y := pressure.Y.Max * 0.93
	if err := chart.Word(pressure, "taper", 0, y, chart.Grey); err != nil {
		return nil, err
	}
	return []*plot.Plot{pressure, heat}, chart.Word(pressure, "metering zone", taper, y, chart.Grey)
}

// drawResidence shows by when which share of the melt has left, beside a stirred pot of
// the same mean.
func (a *answer) drawResidence() ([]*plot.Plot, error) {
	t := a.chosen
	c := chart.New(fmt.Sprintf("how long the melt stays at %.0f rpm, nozzle of %g mm", t.speed*rpm, t.nozzle), "time since it came in at the taper / s", "melt that has left by then / %")
	right := 1.25 * t.latest
	most, err := t.stay.Share(right)
	if err != nil {
		return nil, err
	}
	line := plotter.XYs{{X: 0, Y: 0}}
	var stirred plotter.XYs
	const points = 200
	for i := range points + 1 {
		part := float64(i) / points
		stirred = append(stirred, plotter.XY{X: right * part, Y: -100 * math.Expm1(-right*part/t.stay.Mean)})
		share := most * part * (2 - part) // closer together where the last leave
		time, err := t.stay.At(share)
		if err != nil {
			return nil, err
		}
		line = append(line, plotter.XY{X: time, Y: 100 * share})
	}
	if err := chart.Line(c, "this screw", line, chart.Blue); err != nil {
		return nil, err
	}
	if err := chart.Line(c, "a stirred pot of the same mean", stirred, chart.Red, chart.Dashes[1]...); err != nil {
		return nil, err
	}
	mean, err := t.stay.Share(t.stay.Mean)
	if err != nil {
		return nil, err
	}
	for _, d := range []struct {
		word        string
		time, share float64
		right, up   float64 // of the word
	}{{"the first after", t.stay.Least, 0, 1, 4}, {"mean", t.stay.Mean, mean, -0.155 * right, 5}, {"99 % by", t.latest, late, 0, -6}} {
		if err := chart.Dot(c, "", d.time, 100*d.share); err != nil {
			return nil, err
		}
		if err := chart.Word(c, fmt.Sprintf("%s %.0f s", d.word, d.time), d.time+d.right, 100*d.share+d.up, chart.Blue); err != nil {
			return nil, err
		}
	}
	c.Legend.Top, c.Legend.YOffs = false, 2*vg.Millimeter
	c.X.Min, c.X.Max, c.Y.Min, c.Y.Max = 0, right, 0, 105
	c.X.Tick.Marker, c.Y.Tick.Marker = chart.EveryTicks(25), chart.EveryTicks(25)
	return []*plot.Plot{c}, nil
}
