package frame_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/frame"
	"meltflight/frame/frametest"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
)

// carriageAt puts the carriage of an axis anywhere.
func carriageAt(a frame.Axis, position float64) frame.Gantry {
	return frame.Gantry{Axis: a, Position: position}
}

func gantryModes(t require.TestingT, g frame.Gantry, n int) []frame.GantryMode {
	m, err := g.Modes(n)
	require.NoError(t, err)
	return m
}

func TestCheckGantry(t *testing.T) {
	const own = "exact dynamic stiffness with Wittrick-Williams counts by bisection, own, and 5 and 20 finite elements a span"
	soft := carriageAt(gantry(t, frame.EndStiffness{Y: 2e6, Z: 5e6, Roll: 2e4}, offset()...), 0.5)
	soft.Axis.Beam.Section.J = 283907.29787e-12
	soft.Along = 1e6
	hard := carriageAt(gantry(t, frame.EndStiffness{Y: 1e15, Z: 1e15, Roll: 1e15}, offset()...), 0.5)
	hard.Axis.Beam.Section.J = 283907.29787e-12
	var rows []verify.Row
	for _, c := range []struct {
		name   string
		g      frame.Gantry
		tol    float64
		why    string
		shapes []string
		want   []float64
	}{
		{"soft ends", soft, 1.3e-8, "the digits printed", []string{"sway", "vertical bending", "along", "twist"},
			[]float64{40.001788, 59.421563, 86.795512, 118.134242, 243.073778, 382.028195, 517.188645, 617.492958}},
		{"rigid ends", hard, 2e-8, "the digits printed, and ends of 1e15", []string{"sway", "vertical bending", "twist"},
			[]float64{45.136877, 64.143245, 144.471566, 179.921181, 458.661479, 865.432318}},
	} {
		for i, m := range gantryModes(t, c.g, len(c.want)) {
			rows = append(rows, verify.Row{Name: fmt.Sprintf("gantry at mid-span, %s, f%d [Hz]", c.name, i+1), Source: own, Kind: verify.Own, Want: c.want[i], Got: m.Frequency, Tol: c.tol, Why: c.why})
			if i < len(c.shapes) {
				assert.Equal(t, c.shapes[i], m.Shape, "%s, f%d, %v", c.name, i+1, m.Head)
				assert.Greater(t, m.Carried, 0.5)
			}
		}
	}
	verify.Table(t, rows)
}

// The Rayleigh-Ritz of Axis stands above, by what it says.
func TestPropertyGantryBelowAxis(t *testing.T) {
	alike, of := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		a := frametest.Axes().Draw(t, "axis")
		high, exact := modes(t, a), gantryModes(t, carriageAt(a, 0.5), 3)
		for i, m := range exact {
			require.LessOrEqual(t, m.Frequency, high[i].Frequency*(1+1e-9))
			require.GreaterOrEqual(t, m.Carried, 0.0)
			require.LessOrEqual(t, m.Carried, 1.0)
		}
		require.Less(t, high[0].Frequency, 1.008*exact[0].Frequency)
		if len(a.Bodies) > 0 && a.Bodies[0].Mass > a.Beam.Mass() {
			require.Less(t, high[1].Frequency, 1.05*exact[1].Frequency)
		}
		of++
		if high[0].Shape == exact[0].Shape {
			alike++
		}
	})
	// The names weigh otherwise, by inertia here and by stiffness there.
	assert.Greater(t, alike, of*3/4, "of %d", of)
}

func gantries() *rapid.Generator[frame.Gantry] {
	return rapid.Custom(func(t *rapid.T) frame.Gantry {
		g := carriageAt(frametest.Axes().Draw(t, "axis"), draw.Uniform(0, 1).Draw(t, "position"))
		g.Axis.Bodies = append(g.Axis.Bodies, frametest.Bodies(g.Axis.Beam.Mass(), g.Axis.Beam.Length).Draw(t, "hopper"))
		e := g.Axis.Ends
		if rapid.Bool().Draw(t, "drive") {
			g.Along = e.Y
		}
		if rapid.Bool().Draw(t, "seat") {
			g.Seat = [6]float64{e.Y, 2 * e.Y, e.Z, e.Roll, 2 * e.Roll, e.Roll}
		}
		g.Shear = rapid.Bool().Draw(t, "shear")
		return g
	})
}

func TestPropertyGantry(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := gantries().Draw(t, "gantry")
		const n = 5
		f := gantryModes(t, g, n)
		against := func(factor, slack float64, change func(*frame.Gantry)) []frame.GantryMode {
			h := g
			h.Axis.Bodies = append([]frame.Body(nil), g.Axis.Bodies...)
			change(&h)
			got := gantryModes(t, h, n)
			for i, m := range got {
				require.GreaterOrEqual(t, m.Frequency, factor*f[i].Frequency*(1-1e-6))
				require.LessOrEqual(t, m.Frequency, factor*f[i].Frequency*slack*(1+1e-6))
			}
			return got
		}
		any := math.Inf(1)
		// A lighter hopper raises all, and so does whatever is stiffer.
		against(1, any, func(h *frame.Gantry) {
			b := &h.Axis.Bodies[len(h.Axis.Bodies)-1]
			part := draw.Uniform(0.1, 0.9).Draw(t, "fill")
			b.Mass *= part
			for d := range b.Inertia {
				b.Inertia[d] *= part
			}
		})
		against(1, any, func(h *frame.Gantry) { h.Axis.Ends.Y *= 3; h.Axis.Ends.Z *= 2; h.Axis.Ends.Roll *= 2 })
		against(1, any, func(h *frame.Gantry) { h.Along = 0; h.Seat = [6]float64{}; h.Shear = false })
		// Seen from the other end.
		mirrored := against(1, 1, func(h *frame.Gantry) {
			h.Position = 1 - g.Position
			for i := range h.Axis.Bodies {
				h.Axis.Bodies[i].Offset[0] *= -1
			}
		})
		for i := range f {
			if i > 0 && f[i].Frequency < f[i-1].Frequency*1.001 || i+1 < n && f[i+1].Frequency < f[i].Frequency*1.001 {
				continue
			}
			for d := range 6 {
				require.InDelta(t, math.Abs(f[i].Head[d]), math.Abs(mirrored[i].Head[d]), 1e-4*(math.Abs(f[i].Head[1])+math.Abs(f[i].Head[2])+math.Abs(f[i].Head[d]))+1e-6)
			}
		}
		// At the very end it is held a millimetre off.
		g.Position = 0
		on := gantryModes(t, g, n)
		g.Position = 1e-3 / g.Axis.Beam.Length
		for i, m := range gantryModes(t, g, n) {
			require.InEpsilon(t, on[i].Frequency, m.Frequency, 1e-6)
		}
	})
}

// Σ share/ω² over all tones is how far a point gives way to a unit acceleration.
func TestPropertyGantryTones(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := gantries().Draw(t, "gantry")
		g.Position = draw.Uniform(0.1, 0.9).Draw(t, "not at an end")
		l := g.Axis.Beam.Length
		point := [3]float64{l * draw.Uniform(-0.1, 0.1).Draw(t, "x"), 0, l * draw.Uniform(-0.1, 0.1).Draw(t, "z")}
		tones, err := g.Tones(14, 0.01, point)
		if err != nil {
			require.ErrorIs(t, err, frame.ErrStubby)
		}
		sum, size := 0.0, 0.0
		for _, k := range tones {
			w := 2 * math.Pi * k.Frequency
			sum += k.Share / (w * w)
			size += math.Abs(k.Share) / (w * w)
		}
		s, err := g.Frame()
		require.NoError(t, err)
		d, err := s.Static(frame.Load{Field: [3]float64{0, 1, 0}})
		require.NoError(t, err)
		u := d.Nodes[len(d.Nodes)-1]
		require.InDelta(t, u[1]+u[5]*point[0]-u[3]*point[2], sum, 0.05*size) // the rest of the tones
		_, err = frame.Move{Distance: 0.1, Speed: 0.1, Acceleration: 1}.RingingOf(tones...)
		require.NoError(t, err)
	})
}

// On a seat far softer than the beam the carriage swings on it alone; shear lowers a
// pinned beam by about ½(βr)²(1+E/κG).
func TestGantrySeatAndShear(t *testing.T) {
	g := carriageAt(gantry(t, frame.EndStiffness{Y: 1e12, Z: 1e12, Roll: 1e12}, frame.Body{Mass: 4}), 0.3)
	g.Seat = [6]float64{1e3, 2e3, 3e3, 1, 1, 1}
	for i, m := range gantryModes(t, g, 3) {
		require.InEpsilon(t, math.Sqrt(1e3*float64(i+1)/4)/(2*math.Pi), m.Frequency, 0.01)
		require.Equal(t, []string{"along", "sway", "vertical bending"}[i], m.Shape)
	}
	g = carriageAt(gantry(t, frame.EndStiffness{Y: 1e12, Z: 1e12, Roll: 1e12}), 0.5)
	bare := gantryModes(t, g, 1)[0].Frequency
	g.Shear = true
	s := g.Axis.Beam.Section
	_, r := s.Gyration()
	fall := math.Pi * math.Pi * r * r / 2 * (1 + g.Axis.Beam.Metal.Young/g.Axis.Beam.Metal.Shear()*s.Area/s.ShearY)
	require.InEpsilon(t, fall, 1-gantryModes(t, g, 1)[0].Frequency/bare, 0.05)
}

func TestGantryErrors(t *testing.T) {
	g := carriageAt(gantry(t, frame.EndStiffness{Y: 2e6, Z: 5e6, Roll: 2e4}), 1.5)
	g.Along, g.Shear = -1, true
	g.Seat[3] = 1
	g.Axis.Beam.Section.ShearY, g.Axis.Beam.Section.ShearZ = 0, 0
	_, err := g.Modes(3)
	for _, name := range []string{"Gantry.Position = 1.5: allowed 0 to 1", "Gantry.Along = -1 N/m", "Gantry.Seat along x = 0 N/m", "ShearY = 0 m²", "ShearZ"} {
		require.ErrorContains(t, err, name)
	}
}

func TestPropertyGantryBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := gantries().Draw(t, "gantry")
		point := [3]float64{0, 0, -0.1}
		damping := 0.01
		b, e := &g.Axis.Bodies[0], &g.Axis.Ends
		spoil(t, &g.Position, &g.Along, &g.Seat[0], &g.Seat[4], &b.Mass, &b.Offset[0], &b.Offset[2], &b.Inertia[1], &e.Y, &e.Z, &e.Roll,
			&g.Axis.Beam.Length, &g.Axis.Beam.Section.Iy, &g.Axis.Beam.Section.ShearY, &g.Axis.Beam.Metal.Young, &point[0], &point[2], &damping)
		m, err := g.Modes(3)
		worded(t, err, frame.ErrLost)
		for _, v := range m {
			finite(t, nil, v.Frequency, v.Carried)
			finite(t, nil, v.Head[:]...)
			require.NotEmpty(t, v.Shape)
		}
		tones, err := g.Tones(3, damping, point)
		worded(t, err, frame.ErrLost, frame.ErrStubby)
		for _, k := range tones {
			finite(t, nil, k.Frequency, k.Share)
		}
		require.True(t, tones != nil || err != nil)
		require.False(t, tones != nil && err != nil && !errors.Is(err, frame.ErrStubby))
	})
}

func ExampleGantry_Modes() {
	tube, _ := frame.RectangularTube(0.060, 0.040, 0.003)
	g := frame.Gantry{Axis: frame.Axis{
		Beam: frame.Beam{Length: 1, Section: tube, Metal: alu},
		Ends: frame.EndStiffness{Y: 2e6, Z: 5e6, Roll: 2e4},
	}}
	for _, fill := range []float64{0, 3} {
		for _, at := range []float64{0.1, 0.5} {
			g.Position = at
			g.Axis.Bodies = []frame.Body{{Mass: 1.2 + fill, Offset: [3]float64{0, -0.1, 0.1}}}
			m, err := g.Modes(1)
			if err != nil {
				fmt.Println(err)
				return
			}
			fmt.Printf("%g kg at %g: %.3g Hz, %s\n", fill, at, m[0].Frequency, m[0].Shape)
		}
	}
	// Output:
	// 0 kg at 0.1: 95.2 Hz, sway
	// 0 kg at 0.5: 69.7 Hz, sway
	// 3 kg at 0.1: 61.5 Hz, twist
	// 3 kg at 0.5: 41.8 Hz, sway
}
