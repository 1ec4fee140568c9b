package main

import (
	"bytes"
	"fmt"
	"image/color"
	"math"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"

	"meltflight/material"
)

// Colours of Okabe and Ito (2008), told apart with any kind of colour vision; lines and
// marks differ in form too.
var inks = []color.RGBA{{0, 114, 178, 255}, {213, 94, 0, 255}, {0, 158, 115, 255}}

var (
	dashes = [][]vg.Length{nil, {7, 3}, {2, 2}}
	shapes = []draw.GlyphDrawer{draw.CircleGlyph{}, draw.SquareGlyph{}, draw.TriangleGlyph{}}
)

// draw makes the picture: points, curves of the law and its confidence bands, one
// colour a temperature.
func (p *pots) draw() ([]byte, error) {
	c := canvas("ground plant pots, power law with its 95 % band", "shear rate / (1/s)", "viscosity / (Pa·s)")
	domain := p.law.Range
	low, high := domain.RateLow/1.3, domain.RateHigh*1.3
	for i, temperature := range temperatures(p.points) {
		ink, faint := inks[i%len(inks)], inks[i%len(inks)]
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
		line.Color, line.Width, line.Dashes = ink, 1.6, dashes[i%len(dashes)]
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
		dots.Color, dots.Radius, dots.Shape = ink, 3.5, shapes[i%len(shapes)]
		c.Add(band, line, dots)
		c.Legend.Add(fmt.Sprintf("%.0f °C", material.ToCelsius(temperature)), line, dots)
	}
	c.X.Min, c.X.Max = low, high
	c.X.Scale, c.Y.Scale = plot.LogScale{}, plot.LogScale{}
	c.X.Tick.Marker, c.Y.Tick.Marker = roundTicks{}, roundTicks{}

	to := vgsvg.New(17*vg.Centimeter, 11.5*vg.Centimeter)
	// A margin for viewers whose letters are wider.
	c.Draw(draw.Crop(draw.New(to), 8*vg.Millimeter, -5*vg.Millimeter, 2*vg.Millimeter, -3*vg.Millimeter))
	var b bytes.Buffer
	if _, err := to.WriteTo(&b); err != nil {
		return nil, err
	}
	return bytes.ReplaceAll(b.Bytes(), []byte("font-family:Liberation Sans"), []byte("font-family:Liberation Sans,Arial,Helvetica,sans-serif")), nil
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

// roundTicks are marks at whole digits of the powers of ten, where they lie on the axis.
type roundTicks struct{}

func (roundTicks) Ticks(lo, hi float64) []plot.Tick {
	var ticks []plot.Tick
	for power := math.Floor(math.Log10(lo)); power <= math.Log10(hi); power++ {
		for _, digit := range []float64{1, 2, 3, 4, 5, 6, 7, 8, 9} {
			v := digit * math.Pow(10, power)
			if v < lo || v > hi {
				continue
			}
			tick := plot.Tick{Value: v}
			if digit == 1 || digit == 2 || digit == 3 || digit == 5 {
				tick.Label = fmt.Sprintf("%.4g", v)
			}
			ticks = append(ticks, tick)
		}
	}
	return ticks
}

func canvas(title, x, y string) *plot.Plot {
	// Drawn with the metrics of Liberation Sans, which Arial and Helvetica share.
	sans := font.Font{Typeface: "Liberation", Variant: "Sans", Size: 11}
	c := plot.New()
	for _, f := range []*font.Font{&c.Title.TextStyle.Font, &c.X.Label.TextStyle.Font, &c.Y.Label.TextStyle.Font,
		&c.X.Tick.Label.Font, &c.Y.Tick.Label.Font, &c.Legend.TextStyle.Font} {
		*f = sans
	}
	c.Title.TextStyle.Font.Size = 13
	c.Title.Text = title
	c.X.Label.Text, c.Y.Label.Text = x, y
	c.Title.Padding, c.X.Padding, c.Y.Padding = 3*vg.Millimeter, vg.Millimeter, vg.Millimeter
	c.Add(&plotter.Grid{
		Vertical:   draw.LineStyle{Color: color.Gray{225}, Width: 0.4},
		Horizontal: draw.LineStyle{Color: color.Gray{225}, Width: 0.4},
	})
	c.Legend.Top = true
	c.Legend.XOffs, c.Legend.Padding, c.Legend.ThumbnailWidth = -2*vg.Millimeter, 2*vg.Millimeter, vg.Centimeter
	return c
}
