package main

import (
	"fmt"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"

	"meltflight/internal/chart"
	"meltflight/material"
)

// draw makes the picture: points, curves of the law and its confidence bands, one
// colour a temperature.
func (p *pots) draw() ([]byte, error) {
	c := chart.New("ground plant pots, power law with its 95 % band", "shear rate / (1/s)", "viscosity / (Pa·s)")
	domain := p.law.Range
	low, high := domain.RateLow/1.3, domain.RateHigh*1.3
	for i, temperature := range temperatures(p.points) {
		ink, faint := chart.Inks[i%len(chart.Inks)], chart.Inks[i%len(chart.Inks)]
		faint.R, faint.G, faint.B, faint.A = faint.R/5, faint.G/5, faint.B/5, 51 // multiplied by the share shown
		var curve, upper, lower plotter.XYs
		const steps = 40
		for k := range steps + 1 {
			rate := low * math.Pow(high/low, float64(k)/steps)
			band, err := p.fit.Band(rate, temperature, level)
			if err != nil {
				return nil, err
			}
			curve = append(curve, plotter.XY{X: rate, Y: band.Viscosity})
			upper = append(upper, plotter.XY{X: rate, Y: band.High})
			lower = append(plotter.XYs{{X: rate, Y: band.Low}}, lower...)
		}
		band, err := plotter.NewPolygon(append(upper, lower...))
		if err != nil {
			return nil, err
		}
		band.Color, band.LineStyle.Width = faint, 0
		line, err := plotter.NewLine(curve)
		if err != nil {
			return nil, err
		}
		line.Color, line.Width, line.Dashes = ink, 1.6, chart.Dashes[i%len(chart.Dashes)]
		var measured plotter.XYs
		for _, point := range p.points {
			if point.Temperature == temperature {
				measured = append(measured, plotter.XY{X: point.ShearRate, Y: point.Viscosity})
			}
		}
		dots, err := plotter.NewScatter(measured)
		if err != nil {
			return nil, err
		}
		dots.Color, dots.Radius, dots.Shape = ink, 3.5, chart.Shapes[i%len(chart.Shapes)]
		c.Add(band, line, dots)
		c.Legend.Add(fmt.Sprintf("%.0f °C", material.ToCelsius(temperature)), line, dots)
	}
	c.X.Min, c.X.Max = low, high
	c.X.Scale, c.Y.Scale = plot.LogScale{}, plot.LogScale{}
	c.X.Tick.Marker, c.Y.Tick.Marker = chart.RoundTicks{}, chart.RoundTicks{}

	return chart.SVG(c)
}

// temperatures lists each melt temperature once, in the order measured.
func temperatures(points []material.FlowPoint) (list []float64) {
	seen := map[float64]bool{}
	for _, p := range points {
		if !seen[p.Temperature] {
			seen[p.Temperature] = true
			list = append(list, p.Temperature)
		}
	}
	return list
}
