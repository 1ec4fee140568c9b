package main

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

// picture is a drawing held in memory until all are made.
type picture struct {
	name string
	svg  []byte
}

// Colours of Okabe and Ito (2008), told apart with any kind of colour vision;
// lines differ in dashes too.
var (
	blue  = color.RGBA{0, 114, 178, 255}
	red   = color.RGBA{213, 94, 0, 255}
	green = color.RGBA{0, 158, 115, 255}
	grey  = color.RGBA{110, 110, 110, 255}
)

// draw makes the pictures.
func (m *Machine) draw(p *parts, a *answer) ([]picture, error) {
	var list []picture
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
		to := vgsvg.New(17*vg.Centimeter, 11.5*vg.Centimeter)
		// A margin for viewers whose letters are wider.
		made.Draw(draw.Crop(draw.New(to), 8*vg.Millimeter, -5*vg.Millimeter, 2*vg.Millimeter, -3*vg.Millimeter))
		var b bytes.Buffer
		if _, err := to.WriteTo(&b); err != nil {
			return nil, fmt.Errorf("%s: %w", d.name, err)
		}
		svg := bytes.ReplaceAll(b.Bytes(), []byte("font-family:Liberation Sans"), []byte("font-family:Liberation Sans,Arial,Helvetica,sans-serif"))
		list = append(list, picture{d.name, svg})
	}
	return list, nil
}

// write puts the pictures into a folder, made if need be: all of them or none,
// each under its name only once all are written.
func write(folder string, pictures []picture) (names []string, err error) {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return nil, err
	}
	defer func() {
		for _, p := range pictures {
			os.Remove(filepath.Join(folder, p.name+".part"))
		}
	}()
	for _, p := range pictures {
		name := filepath.Join(folder, p.name)
		if at, err := os.Stat(name); err == nil && at.IsDir() {
			return nil, fmt.Errorf("%s is a folder", name)
		}
		if err := os.WriteFile(name+".part", p.svg, 0o644); err != nil {
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

// sans is drawn with the metrics of Liberation Sans, which Arial and Helvetica share.
var sans = font.Font{Typeface: "Liberation", Variant: "Sans", Size: 11}

func canvas(title, x, y string) *plot.Plot {
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

// plainTicks are the usual ticks with labels no longer than they need to be.
type plainTicks struct{}

func (plainTicks) Ticks(lo, hi float64) []plot.Tick {
	ticks := plot.DefaultTicks{}.Ticks(lo, hi)
	for i := range ticks {
		if ticks[i].Label != "" {
			ticks[i].Label = fmt.Sprintf("%.4g", ticks[i].Value)
		}
	}
	return ticks
}

// ticksAt are ticks at given values.
func ticksAt(values ...float64) plot.ConstantTicks {
	var ticks plot.ConstantTicks
	for _, v := range values {
		ticks = append(ticks, plot.Tick{Value: v, Label: fmt.Sprintf("%g", v)})
	}
	return ticks
}

func curve(c *plot.Plot, name string, points plotter.XYs, ink color.Color, dashes ...vg.Length) error {
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

// mark sets a dot and tells in the legend what it is.
func mark(c *plot.Plot, x, y float64, word string) error {
	dot, err := plotter.NewScatter(plotter.XYs{{X: x, Y: y}})
	if err != nil {
		return err
	}
	dot.Shape, dot.Radius, dot.Color = draw.CircleGlyph{}, 3.5, color.Black
	c.Add(dot)
	c.Legend.Add(word, dot)
	return nil
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
	c := canvas("screw and nozzle", "head pressure / bar", "output / (kg/h)")
	top := math.Max(1e5, math.Max(2.2*a.point.Pressure, 0.25*a.point.ClosedPressure))
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
		if err := curve(c, fmt.Sprintf("screw at %.3g rpm", s.factor*m.Screw.Speed), line, blue, s.dashes...); err != nil {
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
		if err := curve(c, "nozzle", nozzle, red); err != nil {
			return nil, err
		}
	}
	wanted := plotter.XYs{{X: 0, Y: m.Feedstock.Wanted}, {X: top / 1e5, Y: m.Feedstock.Wanted}}
	if err := curve(c, "wanted", wanted, grey, 1, 2); err != nil {
		return nil, err
	}
	c.X.Min, c.Y.Min, c.X.Max = 0, 0, top/1e5
	c.Y.Max = 1.6 * most * hour
	if a.noFlow != nil {
		return c, nil
	}
	return c, mark(c, a.point.Pressure/1e5, a.point.MassFlow*hour,
		fmt.Sprintf("%.2f kg/h at %.0f bar", a.point.MassFlow*hour, a.point.Pressure/1e5))
}

// drawLimits shows every safety as a bar against 1, on a logarithmic scale.
func (m *Machine) drawLimits(_ *parts, a *answer) (*plot.Plot, error) {
	c := canvas("how far each part is from its limit", "safety (capacity ÷ demand)", "")
	c.X.Tick.Label.Font.Size, c.Y.Tick.Label.Font.Size = 10, 10
	const least, most = 0.1, 100
	names := make([]string, len(a.limits))
	for i, l := range a.limits {
		y := float64(len(a.limits) - 1 - i)
		names[len(a.limits)-1-i] = l.Part
		s := math.Max(least, math.Min(most, l.Safety()))
		ink, style := color.Color(blue), draw.LineStyle{Color: color.Black, Width: 0.4}
		if s < 1 {
			ink = red
		}
		bar, err := plotter.NewPolygon(plotter.XYs{{X: 1, Y: y - 0.34}, {X: s, Y: y - 0.34}, {X: s, Y: y + 0.34}, {X: 1, Y: y + 0.34}})
		if err != nil {
			return nil, err
		}
		bar.Color, bar.LineStyle = ink, style
		word, err := plotter.NewLabels(plotter.XYLabels{XYs: plotter.XYs{{X: math.Max(s, 1), Y: y}}, Labels: []string{safetyText(l.Safety())}})
		if err != nil {
			return nil, err
		}
		word.Offset = vg.Point{X: 3}
		word.TextStyle[0].YAlign, word.TextStyle[0].Font = text.YCenter, sans
		c.Add(bar, word)
	}
	if err := curve(c, "", plotter.XYs{{X: 1, Y: -0.7}, {X: 1, Y: float64(len(names)) - 0.3}}, color.Black); err != nil {
		return nil, err
	}
	c.NominalY(names...)
	c.X.Scale, c.X.Tick.Marker = plot.LogScale{}, ticksAt(0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100)
	c.X.Min, c.X.Max = least, 2*most
	return c, nil
}

// drawFrequency shows the gantry's lowest frequency and the worst ringing of a
// move over the filling of the hopper.
func (m *Machine) drawFrequency(_ *parts, a *answer) (*plot.Plot, error) {
	c := canvas("natural frequency", "hopper filled / %", "lowest natural frequency / Hz")
	var line plotter.XYs
	for _, s := range a.fills {
		line = append(line, plotter.XY{X: 100 * s.fill, Y: s.modes[0].Frequency})
	}
	if err := curve(c, "gantry, hopper on "+map[string]string{"axis": "it", "stand": "its own stand"}[m.Hopper.On], line, green); err != nil {
		return nil, err
	}
	top := math.Max(line[0].Y, line[len(line)-1].Y)
	straight := func(name string, y float64, ink color.Color, dashes ...vg.Length) error {
		top = math.Max(top, y)
		return curve(c, name, plotter.XYs{{X: 0, Y: y}, {X: 100, Y: y}}, ink, dashes...)
	}
	if m.Hopper.On == "stand" {
		if err := straight("stand, hopper full", math.Min(a.swayX, a.swayY), red, 1, 2); err != nil {
			return nil, err
		}
	}
	c.Y.Min, c.Y.Max = 0, 1.5*top
	c.X.Min, c.X.Max = 0, 100
	c.X.Tick.Marker = ticksAt(0, 25, 50, 75, 100)
	return c, mark(c, 100*a.worst.fill, a.worst.modes[0].Frequency, fmt.Sprintf("rings %.2g mm of %.2g allowed", a.worst.ringing.Worst/milli, m.Gantry.Ripple))
}
