// Package chart draws the pictures of the stories in examples: alike in letters, grid
// and inks, and written all or none.
package chart

import (
	"bytes"
	"fmt"
	"image/color"
	"math"
	"os"
	"path/filepath"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/text"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
	"gonum.org/v1/plot/vg/vgsvg"
)

// Colours of Okabe and Ito (2008), told apart with any kind of colour vision; lines
// differ in dashes, marks in shape too.
var (
	Blue  = color.RGBA{0, 114, 178, 255}
	Red   = color.RGBA{213, 94, 0, 255}
	Green = color.RGBA{0, 158, 115, 255}
	Grey  = color.RGBA{110, 110, 110, 255}
)

// The same by number, for lines that are alike but for it.
var (
	Inks   = []color.RGBA{Blue, Red, Green}
	Dashes = [][]vg.Length{nil, {7, 3}, {2, 2}}
	Shapes = []draw.GlyphDrawer{draw.CircleGlyph{}, draw.SquareGlyph{}, draw.TriangleGlyph{}}
)

// sans is drawn with the metrics of Liberation Sans, which Arial and Helvetica share.
var sans = font.Font{Typeface: "Liberation", Variant: "Sans", Size: 11}

// New returns an empty picture with grid, and its legend at the top right.
func New(title, x, y string) *plot.Plot {
	c := plot.New()
	for _, f := range []*font.Font{&c.Title.TextStyle.Font, &c.X.Label.TextStyle.Font, &c.Y.Label.TextStyle.Font,
		&c.X.Tick.Label.Font, &c.Y.Tick.Label.Font, &c.Legend.TextStyle.Font} {
		*f = sans
	}
	c.Title.TextStyle.Font.Size = 13
	c.X.Tick.Marker, c.Y.Tick.Marker = plainTicks{}, plainTicks{}
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

// Line adds a curve, told in the legend if it has a name.
func Line(c *plot.Plot, name string, points plotter.XYs, ink color.Color, dashes ...vg.Length) error {
	l, err := plotter.NewLine(points)
	if err != nil {
		return err
	}
	l.Color, l.Width, l.Dashes = ink, 1.6, dashes
	c.Add(l)
	if name != "" {
		c.Legend.Add(name, l)
	}
	return nil
}

// Dot sets a dot, told in the legend if it has a name.
func Dot(c *plot.Plot, name string, x, y float64) error {
	dot, err := plotter.NewScatter(plotter.XYs{{X: x, Y: y}})
	if err != nil {
		return err
	}
	dot.Shape, dot.Radius, dot.Color = draw.CircleGlyph{}, 3.5, color.Black
	c.Add(dot)
	if name != "" {
		c.Legend.Add(name, dot)
	}
	return nil
}

// Word writes to the right of a place, at its height.
func Word(c *plot.Plot, word string, x, y float64, ink color.Color) error {
	l, err := plotter.NewLabels(plotter.XYLabels{XYs: plotter.XYs{{X: x, Y: y}}, Labels: []string{word}})
	if err != nil {
		return err
	}
	l.Offset = vg.Point{X: 3}
	l.TextStyle[0].YAlign, l.TextStyle[0].Font, l.TextStyle[0].Color = text.YCenter, sans, ink
	c.Add(l)
	return nil
}

// SVG draws one picture, or several below one another with their axes in line.
func SVG(panels ...*plot.Plot) ([]byte, error) {
	high := 11.5 * vg.Centimeter
	if len(panels) > 1 {
		high = vg.Length(len(panels)) * 8 * vg.Centimeter
	}
	to := vgsvg.New(17*vg.Centimeter, high)
	// A margin for viewers whose letters are wider.
	inner := draw.Crop(draw.New(to), 8*vg.Millimeter, -5*vg.Millimeter, 2*vg.Millimeter, -3*vg.Millimeter)
	if len(panels) == 1 {
		panels[0].Draw(inner)
	} else {
		column := make([][]*plot.Plot, len(panels))
		for i, p := range panels {
			column[i] = []*plot.Plot{p}
		}
		tiles := draw.Tiles{Rows: len(panels), Cols: 1, PadY: 4 * vg.Millimeter}
		for i, row := range plot.Align(column, tiles, inner) {
			panels[i].Draw(row[0])
		}
	}
	var b bytes.Buffer
	if _, err := to.WriteTo(&b); err != nil {
		return nil, err
	}
	return bytes.ReplaceAll(b.Bytes(), []byte("font-family:Liberation Sans"), []byte("font-family:Liberation Sans,Arial,Helvetica,sans-serif")), nil
}

// Picture is a drawing held in memory until all are made.
type Picture struct {
	Name string // of its file
	SVG  []byte
}

// Write puts pictures into a folder, made if need be: all of them or none, each under
// its name only once all are written.
func Write(folder string, pictures []Picture) (names []string, err error) {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return nil, err
	}
	defer func() {
		for _, p := range pictures {
			os.Remove(filepath.Join(folder, p.Name+".part"))
		}
	}()
	for _, p := range pictures {
		name := filepath.Join(folder, p.Name)
		if at, err := os.Stat(name); err == nil && at.IsDir() {
			return nil, fmt.Errorf("%s is a folder", name)
		}
		if err := os.WriteFile(name+".part", p.SVG, 0o644); err != nil {
			return nil, err
		}
		names = append(names, name)
	}
	for _, name := range names {
		if err := os.Rename(name+".part", name); err != nil {
			return nil, err
		}
	}
	return names, nil
}

// plainTicks are the usual ticks with labels no longer than they need to be.
type plainTicks struct{}

// Ticks returns the marks between two ends.
func (plainTicks) Ticks(lo, hi float64) []plot.Tick {
	ticks := plot.DefaultTicks{}.Ticks(lo, hi)
	for i := range ticks {
		if ticks[i].Label != "" {
			ticks[i].Label = fmt.Sprintf("%.4g", ticks[i].Value)
		}
	}
	return ticks
}

// TicksAt are ticks at given values.
func TicksAt(values ...float64) plot.ConstantTicks {
	var ticks plot.ConstantTicks
	for _, v := range values {
		ticks = append(ticks, plot.Tick{Value: v, Label: fmt.Sprintf("%g", v)})
	}
	return ticks
}

// EveryTicks are marks at the multiples of a step, above 0.
type EveryTicks float64

// Ticks lists the marks from lo to hi.
func (step EveryTicks) Ticks(lo, hi float64) []plot.Tick {
	var ticks []plot.Tick
	for k := math.Ceil(lo / float64(step)); k*float64(step) <= hi; k++ {
		v := k*float64(step) + 0 // no −0
		ticks = append(ticks, plot.Tick{Value: v, Label: fmt.Sprintf("%.4g", v)})
	}
	return ticks
}

// RoundTicks are marks at whole digits of the powers of ten, where they lie on a
// logarithmic axis.
type RoundTicks struct{}

// Ticks lists the marks from lo, above 0, to hi.
func (RoundTicks) Ticks(lo, hi float64) []plot.Tick {
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
