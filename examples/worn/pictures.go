package main

import (
	"fmt"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"

	"meltflight/internal/chart"
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
		{"profiles.svg", a.drawProfiles},
		{"depth.svg", a.drawDepth},
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

// drawCharacteristic shows output against pressure of the screws and of the nozzles, with
// melt as warm as it comes from the new screw.
func (a *answer) drawCharacteristic() ([]*plot.Plot, error) {
	c := chart.New(fmt.Sprintf("three screws at %g rpm and two nozzles", a.plan.speed), "head pressure / bar", "output / (kg/h)")
	const points = 50
	right, top := 0.0, 0.0
	for i, v := range a.plan.screws {
		list, err := v.profile().Characteristic(a.melt, held(a.plan.speed/60), points)
		if err != nil {
			return nil, err
		}
		var line plotter.XYs
		for _, s := range list {
			line = append(line, plotter.XY{X: s.Pressure / bar, Y: kgh(s)})
		}
		top = math.Max(top, line[0].Y)
		if err := chart.Line(c, v.label(), line, chart.Inks[i%len(chart.Inks)], chart.Dashes[i%len(chart.Dashes)]...); err != nil {
			return nil, err
		}
	}
	for _, f := range a.fronts {
		for _, at := range f.points {
			right = math.Max(right, 1.5*at.course.Pressure/bar)
		}
	}
	for i, f := range a.fronts {
		hot := a.melt
		hot.Temperature = f.points[0].course.Temperature
		end := top * (0.8 + 0.1*float64(i)) // names above one another
		var line plotter.XYs
		for k := range points + 1 {
			share := float64(k) / points // closer together where the curve bends
			output := end * share * share
			pressure := f.die.PressureDrop(hot, output/3600/hot.Density) / bar
			if pressure > 0.88*right {
				break
			}
			line = append(line, plotter.XY{X: pressure, Y: output})
		}
		if err := chart.Line(c, "", line, chart.Grey); err != nil {
			return nil, err
		}
		last := line[len(line)-1]
		if err := chart.Word(c, f.nozzle.name, last.X, last.Y, chart.Grey); err != nil {
			return nil, err
		}
		for _, at := range f.points {
			if err := chart.Dot(c, "", at.course.Pressure/bar, kgh(at.course)); err != nil {
				return nil, err
			}
		}
	}
	c.X.Min, c.X.Max, c.Y.Min, c.Y.Max = 0, right, 0, 1.25*top
	c.X.Tick.Marker, c.Y.Tick.Marker = chart.EveryTicks(20), chart.EveryTicks(0.5)
	return []*plot.Plot{c}, nil
}

// drawProfiles shows the velocity over the depth of the metering channel at the tip, in
// the middle between the flights, behind the first nozzle.
func (a *answer) drawProfiles() ([]*plot.Plot, error) {
	along := chart.New(fmt.Sprintf("melt in the metering channel at %g rpm, %s", a.plan.speed, a.fronts[0].nozzle.name), "speed along the channel / (mm/s)", "above the root / mm")
	across := chart.New("", "speed across the channel / (mm/s)", "above the root / mm")
	for i, v := range a.plan.screws {
		layers, err := a.layers(v, a.fronts[0].points[i].course)
		if err != nil {
			return nil, err
		}
		var z, x plotter.XYs
		for _, l := range layers {
			z = append(z, plotter.XY{X: l.Along * 1e3, Y: l.Height * 1e3})
			x = append(x, plotter.XY{X: l.Across * 1e3, Y: l.Height * 1e3})
		}
		ink, dashes := chart.Inks[i%len(chart.Inks)], chart.Dashes[i%len(chart.Dashes)]
		if err := chart.Line(along, v.label(), z, ink, dashes...); err != nil {
			return nil, err
		}
		if err := chart.Line(across, "", x, ink, dashes...); err != nil {
			return nil, err
		}
	}
	along.Legend.Top, along.Legend.YOffs = false, 2*vg.Millimeter
	along.X.Tick.Marker, across.X.Tick.Marker = chart.EveryTicks(10), chart.EveryTicks(5)
	for _, c := range []*plot.Plot{along, across} {
		c.Y.Min, c.Y.Max = 0, 1.05*c.Y.Max
		c.X.Min, c.X.Max = 1.05*c.X.Min, 1.05*c.X.Max
		c.Y.Tick.Marker = chart.EveryTicks(0.5)
		if err := chart.Line(c, "", plotter.XYs{{X: 0, Y: 0}, {X: 0, Y: c.Y.Max}}, chart.Grey, 1, 2); err != nil {
			return nil, err
		}
	}
	return []*plot.Plot{along, across}, nil
}

// layers are those of the metering channel at the tip, from root to barrel.
func (a *answer) layers(v version, c screw.Course) ([]screw.Layer, error) {
	p := v.profile()
	zone, tip := p.ChannelAt(p.Length()), c.Stations[len(c.Stations)-1]
	sin, cos := math.Sincos(zone.HelixAngle())
	around := math.Pi * zone.Bore * a.plan.speed / 60
	gap := screw.Gap{Depth: zone.Depth, Along: around * cos, Across: -around * sin}
	melt := a.melt
	melt.Temperature = tip.Temperature
	flow, err := gap.Flow(melt, tip.Slope*sin) // a turn of the channel is longer than its advance
	if err != nil {
		return nil, err
	}
	return gap.Layers(melt, flow, 81)
}

// drawDepth shows the output over the depth of the metering zone.
func (a *answer) drawDepth() ([]*plot.Plot, error) {
	c := chart.New(fmt.Sprintf("how deep a metering zone at %g rpm, lands as new", a.plan.speed), "depth of the metering zone / mm", "output / (kg/h)")
	const shallowest, points = 0.5, 31
	top := 0.0
	for i, f := range a.fronts {
		var line plotter.XYs
		for k := range points + 1 {
			depth := shallowest + (feed-shallowest)*float64(k)/points
			s, err := a.plan.screws[0].profile().Metered(depth*1e-3).OperatingPoint(f.die, a.melt, held(a.plan.speed/60))
			if err != nil {
				return nil, err
			}
			line = append(line, plotter.XY{X: depth, Y: kgh(s)})
		}
		if err := chart.Line(c, f.nozzle.name, line, chart.Inks[i%len(chart.Inks)], chart.Dashes[i%len(chart.Dashes)]...); err != nil {
			return nil, err
		}
		if err := chart.Dot(c, fmt.Sprintf("best at %.2g mm, %.2g kg/h", f.best*1e3, kgh(f.most)), f.best*1e3, kgh(f.most)); err != nil {
			return nil, err
		}
		top = math.Max(top, kgh(f.most))
	}
	c.X.Min, c.X.Max, c.Y.Min, c.Y.Max = shallowest, feed, 0, 1.6*top
	for _, v := range a.plan.screws {
		if v.clearance != a.plan.screws[0].clearance {
			continue
		}
		if err := chart.Line(c, "", plotter.XYs{{X: v.depth, Y: 0}, {X: v.depth, Y: 0.08 * top}}, chart.Grey); err != nil {
			return nil, err
		}
		if err := chart.Word(c, v.name, v.depth, 0.05*top, chart.Grey); err != nil {
			return nil, err
		}
	}
	c.Legend.Left, c.Legend.XOffs = true, 2*vg.Millimeter
	c.X.Tick.Marker, c.Y.Tick.Marker = chart.EveryTicks(0.5), chart.EveryTicks(0.5)
	return []*plot.Plot{c}, nil
}
