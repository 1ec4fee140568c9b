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
	"meltflight/material"
)

const rigid = 1e13

// gantry is the beam of all reference problems: aluminium tube 60 x 40 x 3, 1 m,
// with J by Bredt, as they were solved.
func gantry(t require.TestingT, ends frame.EndStiffness, bodies ...frame.Body) frame.Axis {
	section := tube(t, 60, 40, 3)
	section.J = 283907.29787234e-12
	return frame.Axis{
		Beam: frame.Beam{Length: 1, Section: section, Metal: elastic(70e9, 0.33, 2700)},
		Ends: ends, Bodies: bodies,
	}
}

// hopper on its bracket and carriage, off the axis to the side and above.
func offset() []frame.Body {
	return []frame.Body{
		{Mass: 1.2, Offset: [3]float64{0, 0, 0.03}, Inertia: [3]float64{0.002, 0.002, 0.002}},
		{Mass: 3.0, Offset: [3]float64{0, -0.12, 0.15}, Inertia: [3]float64{0.010, 0.010, 0.006}},
	}
}

func modes(t require.TestingT, a frame.Axis) [3]frame.Mode {
	m, err := a.Modes()
	require.NoError(t, err)
	return m
}

// kind returns the frequency of the lowest mode of a shape.
func kind(t require.TestingT, a frame.Axis, shape string) float64 {
	for _, m := range modes(t, a) {
		if m.Shape == shape {
			return m.Frequency
		}
	}
	require.Fail(t, "no "+shape)
	return 0
}

func TestCheckAxis(t *testing.T) {
	const exact = "exact dynamic stiffness with Wittrick-Williams counting, own; finite elements agree to 7 digits"
	const hand = "48EI/L³ and 17/35 of the beam, or 4GJ/L, by hand"
	bound := "Rayleigh-Ritz is above by "
	var rows []verify.Row
	above := func(name string, want, got, tol float64, why string) {
		rows = append(rows, verify.Row{Name: name, Source: exact, Kind: verify.Own, Want: want, Got: got, Tol: tol, Why: bound + why})
		assert.GreaterOrEqual(t, got, want, name)
	}
	point := frame.Body{Mass: 4.2}
	soft := gantry(t, frame.EndStiffness{Y: 2e6, Z: 2e6, Roll: 2e4}, point)
	held := gantry(t, frame.EndStiffness{Y: rigid, Z: rigid, Roll: rigid}, point)
	above("f vertical, 4.2 kg, ends 2e6 N/m [Hz]", 61.343174, kind(t, soft, "vertical bending"), 2.4e-4, "0.023 %")
	above("f vertical, 4.2 kg, rigid ends [Hz]", 68.6799007, kind(t, held, "vertical bending"), 7e-5, "0.006 %")

	held.Bodies = offset()
	m := modes(t, held)
	above("f1 offset hopper, rigid ends [Hz]", 45.136877, m[0].Frequency, 9e-5, "0.008 %")
	above("f2 offset hopper, rigid ends [Hz]", 64.143245, m[1].Frequency, 8e-5, "0.007 %")
	above("f3 offset hopper, rigid ends [Hz]", 144.471566, m[2].Frequency, 1.4e-3, "0.13 %")
	assert.Equal(t, []string{"sway", "vertical bending", "twist"}, []string{m[0].Shape, m[1].Shape, m[2].Shape})

	soft = gantry(t, frame.EndStiffness{Y: 2e6, Z: 5e6, Roll: 2e4}, offset()...)
	m = modes(t, soft)
	const alongX = ", of which motion along x on 1e6 N/m at each end, left out here, costs nothing"
	above("f1 offset hopper, soft ends [Hz]", 40.001788, m[0].Frequency, 2.4e-4, "0.023 %"+alongX)
	above("f2 offset hopper, soft ends [Hz]", 59.421563, m[1].Frequency, 2e-4, "0.019 %"+alongX)
	above("f4 offset hopper, soft ends (f3 is along x) [Hz]", 118.134242, m[2].Frequency, 1.4e-3, "0.14 %")

	// Each motion alone: a hopper on the axis, then one heavy only about x.
	for name, c := range map[string]struct {
		body      frame.Body
		shape     string
		want, tol float64
		why       string
	}{
		"f sway alone [Hz]":     {point, "sway", 49.6604, 1.1e-4, "the shape counts the beam's own weight, by 1e-4 better"},
		"f vertical alone [Hz]": {point, "vertical bending", 68.6910, 1.1e-4, "the shape counts the beam's own weight, by 1e-4 better"},
		"f twist alone [Hz]": {frame.Body{Inertia: [3]float64{0.12378, 0.12378, 0.12378}}, "twist", 78.2026, 0.002,
			"the hand value leaves out the beam's own 1e-3 of the inertia, a third of which counts"},
	} {
		a := gantry(t, frame.EndStiffness{Y: rigid, Z: rigid, Roll: rigid}, c.body)
		rows = append(rows, verify.Row{Name: name, Source: hand, Kind: verify.Own, Want: c.want, Got: kind(t, a, c.shape), Tol: c.tol, Why: c.why})
	}

	// Bare beam on springs: (βL)² at kL³/EI, and Dunkerley's bound in closed form.
	for _, c := range []struct{ k, square, low float64 }{{10, 4.130411388, 4.073464}, {100, 8.275694555, 8.0935233}, {10000, 9.850162152, 9.8456571}} {
		a := gantry(t, frame.EndStiffness{Y: rigid, Z: c.k * 70e9 * 273852e-12, Roll: rigid})
		scale := 2 * math.Pi / math.Sqrt(70e9*273852e-12/a.Beam.Mass())
		high := kind(t, a, "vertical bending") * scale
		rows = append(rows, verify.Row{Name: fmt.Sprintf("(βL)² bare on K = %g", c.k), Source: exact, Kind: verify.Own, Want: c.square, Got: high, Tol: 2.5e-3, Why: bound + "0.24 % at most, near K = 100"})
		assert.GreaterOrEqual(t, high, c.square)
		low, err := a.Dunkerley()
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("lower bound of it, K = %g", c.k), Source: "1/ω² = 1/π⁴ + 1/2K", Kind: verify.Own, Want: c.low, Got: low * scale, Tol: 1e-7, Why: "seven to eight digits printed"})
		assert.Less(t, low*scale, c.square)
	}
	verify.Table(t, rows)
}

func TestCheckAxisStatics(t *testing.T) {
	a := gantry(t, frame.EndStiffness{Y: 3e6, Z: 2e6, Roll: 2e4}, frame.Body{Mass: 4.2})
	y, z, roll, err := a.Stiffness()
	require.NoError(t, err)
	sag, err := a.Sag()
	require.NoError(t, err)
	const hand = "springs in series, by hand"
	const book = "PL³/48EI + 5qL⁴/384EI + ends, by hand"
	const e = 70e9
	verify.Table(t, []verify.Row{
		{Name: "k z [N/m]", Source: hand, Kind: verify.Own, Want: 748061.812, Got: z, Tol: 1e-9, Why: "nine digits printed"},
		{Name: "k y [N/m]", Source: hand, Kind: verify.Own, Want: 1 / (1/(48*e*143132e-12) + 1/6e6), Got: y, Tol: 1e-12, Why: "rounding"},
		{Name: "k roll [N·m/rad]", Source: hand + ", 4GJ/L = 29884.979", Kind: verify.Own, Want: 1 / (1/29884.979 + 1/4e4), Got: roll, Tol: 2e-8, Why: "eight digits printed"},
		{Name: "sag [m]", Source: book, Kind: verify.Own, Want: 9.80665 * (4.2/748061.812 + 1.5228*5/(384*e*273852e-12) + 1.5228/4e6), Got: sag, Tol: 1e-9, Why: "nine digits of the stiffness"},
	})
}

// The slow twin: finite elements in space, with every coupling.
func TestPropertyAxisAboveFiniteElements(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := frametest.Axes().Draw(t, "axis")
		m, fe := modes(t, a), finiteElements(t, a, 8, rigid)
		first := m[0].Frequency / fe[0]
		require.Greater(t, first, 1-1e-5)
		require.Less(t, first, 1.008)
		require.Greater(t, m[1].Frequency, fe[1]*(1-1e-4))
		require.Greater(t, m[2].Frequency, fe[2]*(1-1e-3))
		if len(a.Bodies) > 0 && a.Bodies[0].Mass > a.Beam.Mass() {
			require.Less(t, m[1].Frequency, 1.05*fe[1])
		}
	})
}

func TestPropertyAxisModes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := frametest.Axes().Draw(t, "axis")
		m := modes(t, a)
		for i, mode := range m {
			require.InDelta(t, 1, mode.Sway+mode.Vertical+mode.Twist+mode.Pitch+mode.Yaw, 1e-12)
			require.NotEmpty(t, mode.Shape)
			if i > 0 {
				require.GreaterOrEqual(t, mode.Frequency, m[i-1].Frequency)
			}
		}
		same := func(factor float64, change func(*frame.Axis)) {
			b := a
			b.Bodies = append([]frame.Body(nil), a.Bodies...)
			change(&b)
			for i, mode := range modes(t, b) {
				require.InEpsilon(t, factor*m[i].Frequency, mode.Frequency, 1e-8)
			}
		}
		s := draw.Log(0.5, 2).Draw(t, "factor")
		same(math.Sqrt(s), func(b *frame.Axis) { // all stiffness
			b.Beam.Metal.Young *= s
			b.Ends = frame.EndStiffness{Y: s * a.Ends.Y, Z: s * a.Ends.Z, Roll: s * a.Ends.Roll}
		})
		same(1/math.Sqrt(s), func(b *frame.Axis) { // all mass
			b.Beam.Metal.Density *= s
			for i := range b.Bodies {
				b.Bodies[i].Mass *= s
				for j := range 3 {
					b.Bodies[i].Inertia[j] *= s
				}
			}
		})
		for mirrored := range 3 { // left for right, front for back, up for down
			same(1, func(b *frame.Axis) {
				for i := range b.Bodies {
					b.Bodies[i].Offset[mirrored] *= -1
				}
			})
		}
		same(1, func(b *frame.Axis) { // the whole machine turned a quarter about x
			b.Beam.Section.Iy, b.Beam.Section.Iz = b.Beam.Section.Iz, b.Beam.Section.Iy
			b.Ends.Y, b.Ends.Z = b.Ends.Z, b.Ends.Y
			for i, body := range b.Bodies {
				o, n := body.Offset, body.Inertia
				b.Bodies[i].Offset = [3]float64{o[0], -o[2], o[1]}
				b.Bodies[i].Inertia = [3]float64{n[0], n[2], n[1]}
			}
		})
		// More mass lowers, more stiffness raises every frequency; the shape follows
		// the load, so that the bound itself may move by its own small excess.
		heavier, stiffer := a, a
		heavier.Bodies = append([]frame.Body{{Mass: s * a.Beam.Mass()}}, a.Bodies...)
		stiffer.Ends = frame.EndStiffness{Y: 3 * a.Ends.Y, Z: 3 * a.Ends.Z, Roll: 3 * a.Ends.Roll}
		require.Less(t, modes(t, heavier)[0].Frequency, m[0].Frequency*1.001)
		require.Greater(t, modes(t, stiffer)[0].Frequency, m[0].Frequency*0.999)
	})
}

// On a beam on its own axis the vertical mode is held between two bounds, and on
// rigid ends between them lies the exact one.
func TestPropertyAxisBetweenBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := frametest.Axes().Draw(t, "axis")
		mu := draw.Log(1e-3, 100).Draw(t, "mass ratio")
		// Rolling and swaying out of the way, so that vertical bending is the first.
		a.Beam.Section.Iz = 30 * a.Beam.Section.Iy
		a.Beam.Section.J = 31 * a.Beam.Section.Iy
		a.Ends = frame.EndStiffness{Y: 1e15, Z: 1e15, Roll: 1e15}
		a.Bodies = []frame.Body{{Mass: mu * a.Beam.Mass()}}
		high, err := a.Modes()
		if !errors.Is(err, frame.ErrStubby) {
			require.NoError(t, err)
		}
		low, err := a.Dunkerley()
		require.NoError(t, err)
		b, err := frame.MidMassEigenvalue(frame.PinnedPinned, mu, 1)
		require.NoError(t, err)
		beam := a.Beam
		exact := b * b / (2 * math.Pi) * math.Sqrt(beam.Metal.Young*beam.Section.Iy/(beam.Mass()*math.Pow(beam.Length, 3)))
		require.Equal(t, "vertical bending", high[0].Shape)
		require.Greater(t, high[0].Frequency, exact*(1-1e-9))
		require.Less(t, high[0].Frequency, exact*1.0008)
		require.Less(t, low, exact*(1+1e-7))
		require.Greater(t, low, exact*0.99)
	})
}

// Turning about y is pitch, and about z yaw.
func TestPitchAndYaw(t *testing.T) {
	held := frame.EndStiffness{Y: rigid, Z: rigid, Roll: rigid}
	find := func(a frame.Axis) map[string]frame.Mode {
		found := map[string]frame.Mode{}
		for _, m := range modes(t, a) {
			found[m.Shape] = m
		}
		return found
	}
	flat := gantry(t, held)
	var err error
	flat.Beam.Section, err = frame.Rectangle(0.01, 0.08)
	require.NoError(t, err)
	upright := flat
	upright.Beam.Section, err = frame.Rectangle(0.08, 0.01)
	require.NoError(t, err)
	bare, _, err := flat.Beam.Frequency(frame.PinnedPinned, 1)
	require.NoError(t, err)
	// The second mode of a bare beam turns mid-span at rest.
	require.InEpsilon(t, 4*bare, find(flat)["pitch"].Frequency, 0.01)
	require.InEpsilon(t, 4*bare, find(upright)["yaw"].Frequency, 0.01)
	require.InDelta(t, 1, find(flat)["pitch"].Pitch, 1e-9)
	require.InDelta(t, 1, find(upright)["yaw"].Yaw, 1e-9)

	// A long bar up and down resists pitch, one across the beam yaw: 12EI/L.
	const heavy = 10 // that the beam's own hardly counts [kg·m²]
	up := find(gantry(t, held, frame.Body{Inertia: [3]float64{heavy, heavy, 0}}))
	across := find(gantry(t, held, frame.Body{Inertia: [3]float64{heavy, 0, heavy}}))
	require.InEpsilon(t, math.Sqrt(12*70e9*273852e-12/heavy)/(2*math.Pi), up["pitch"].Frequency, 1e-3)
	require.InEpsilon(t, math.Sqrt(12*70e9*143132e-12/heavy)/(2*math.Pi), across["yaw"].Frequency, 1e-3)
	require.NotContains(t, up, "yaw")
	require.NotContains(t, across, "pitch")
}

// A move along y of a lone mass on the axis rings as one mass on one spring.
func TestAxisRingsAsOneMass(t *testing.T) {
	move := frame.Move{Distance: 0.3, Speed: 0.15, Acceleration: 1.5}
	a := gantry(t, frame.EndStiffness{Y: 2e6, Z: 5e6, Roll: 2e4}, frame.Body{Mass: 40})
	m := modes(t, a)
	require.Equal(t, "sway", m[0].Shape)
	one, err := move.Ringing(m[0].Frequency, 0.01)
	require.NoError(t, err)
	at, err := a.Ringing(move, 0.01, [3]float64{0, 0, -0.2})
	require.NoError(t, err)
	// The beam's own 1.5 kg lag behind its 40 kg, by a percent of the whole.
	require.InEpsilon(t, one.Worst, at.Worst, 0.012)
	require.InEpsilon(t, one.AfterMove, at.AfterMove, 0.012)
}

func TestAxisRefuses(t *testing.T) {
	a := gantry(t, frame.EndStiffness{}, frame.Body{Mass: -1}, frame.Body{Mass: 1, Inertia: [3]float64{1, 0.1, 0.1}})
	_, err := a.Modes()
	assert.ErrorIs(t, err, material.ErrInvalid)
	for _, field := range []string{"frame.EndStiffness.Y", "frame.EndStiffness.Z", "frame.EndStiffness.Roll",
		"frame.Axis.Bodies[0]: frame.Body.Mass = -1 kg", "frame.Axis.Bodies[1]: frame.Body.Inertia"} {
		assert.ErrorContains(t, err, field)
	}
	assert.ErrorContains(t, err, "frame.Body.Inertia x = 1 kg·m²: allowed at most the sum of the other two, 0.2 kg·m²")
	ends := frame.EndStiffness{Y: 1, Z: 1, Roll: 1}
	assert.ErrorContains(t, gantry(t, ends, frame.Body{Mass: 1e6}, frame.Body{Mass: 1e6}).Validate(), "frame.Axis.Bodies: mass together = 2e+06 kg")
	far := frame.Body{Mass: 1, Offset: [3]float64{0, -2.1, 0}}
	assert.EqualError(t, gantry(t, ends, frame.Body{}, far).Validate(), "frame.Axis.Bodies[1].Offset y = -2.1 m: allowed -2 to 2 m, two lengths of the beam")
	assert.NoError(t, frame.Body{Mass: 1, Inertia: [3]float64{0.3, 0.1, 0.2}}.Validate()) // a flat plate
	assert.ErrorContains(t, frame.Body{Mass: 1, Inertia: [3]float64{0.1, 0.2, 0.3001}}.Validate(), "frame.Body.Inertia z")
	bare := gantry(t, ends)
	assert.NoError(t, bare.Validate())
	bare.Beam.Length = 0.2
	_, err = bare.Modes()
	assert.ErrorIs(t, err, frame.ErrStubby)
}

func TestBitsAxis(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := frametest.Axes().Draw(t, "axis")
		a.Beam = bitsBeam(t)
		spoil(t, &a.Ends.Y, &a.Ends.Z, &a.Ends.Roll)
		for i := range a.Bodies {
			b := &a.Bodies[i]
			spoil(t, &b.Mass, &b.Offset[0], &b.Offset[1], &b.Offset[2], &b.Inertia[0], &b.Inertia[1], &b.Inertia[2])
		}
		m, err := a.Modes()
		if errors.Is(err, frame.ErrStubby) {
			err = nil // the modes come with it
		}
		for i := range m {
			finite(t, err, m[i].Frequency, m[i].Sway, m[i].Vertical, m[i].Twist, m[i].Pitch, m[i].Yaw)
			require.True(t, err != nil || m[i].Frequency > 0)
		}
		y, z, roll, err := a.Stiffness()
		finite(t, err, y, z, roll)
		sag, err := a.Sag()
		finite(t, err, sag)
		low, err := a.Dunkerley()
		finite(t, err, low)
		point, damping := [3]float64{0, 0, -0.1}, 0.01
		move := frametest.Moves().Draw(t, "move")
		spoil(t, &point[0], &point[1], &point[2], &damping, &move.Distance, &move.Speed, &move.Acceleration)
		r, err := a.Ringing(move, damping, point)
		if errors.Is(err, frame.ErrStubby) {
			err = nil
		}
		finite(t, err, r.AfterRamp, r.AfterMove, r.Worst)
	})
}

// The heaviest, furthest-out body on the lightest beam allowed still has real modes.
func TestAxisAtItsLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := frametest.Axes().Draw(t, "axis")
		a.Beam.Section.Thickness = 0
		a.Ends = frame.EndStiffness{
			Y: draw.Log(1, 1e15).Draw(t, "y"), Z: draw.Log(1, 1e15).Draw(t, "z"), Roll: draw.Log(1, 1e15).Draw(t, "roll"),
		}
		reach := draw.Uniform(-2, 2)
		l := a.Beam.Length
		a.Bodies = []frame.Body{{
			Mass:   math.Min(1e6, a.Beam.Mass()*draw.Log(1, 9.9e5).Draw(t, "mass")),
			Offset: [3]float64{l * reach.Draw(t, "x"), l * reach.Draw(t, "y"), l * reach.Draw(t, "z")},
		}}
		m := modes(t, a)
		for i := range m {
			finite(t, nil, m[i].Frequency)
			require.Positive(t, m[i].Frequency)
		}
	})
}

func ExampleAxis_Modes() {
	tube, err := frame.RectangularTube(0.060, 0.040, 0.003)
	if err != nil {
		panic(err)
	}
	axis := frame.Axis{
		Beam: frame.Beam{Length: 1, Section: tube, Metal: material.Al6060()},
		Ends: frame.EndStiffness{Y: 2e6, Z: 5e6, Roll: 2e4},
		Bodies: []frame.Body{
			{Mass: 1.2, Offset: [3]float64{0, 0, 0.03}, Inertia: [3]float64{0.002, 0.002, 0.002}},
			{}, // the hopper on its bracket
		},
	}
	for _, fill := range []float64{0.8, 3.0} {
		axis.Bodies[1] = frame.Body{
			Mass: fill, Offset: [3]float64{0, -0.12, 0.15},
			Inertia: [3]float64{fill * 0.0033, fill * 0.0033, fill * 0.002},
		}
		modes, err := axis.Modes()
		if err != nil {
			panic(err)
		}
		fmt.Printf("hopper %.1f kg:", fill)
		for _, m := range modes {
			fmt.Printf("  %.3g Hz %s", m.Frequency, m.Shape)
		}
		fmt.Println()
	}
	// Output:
	// hopper 0.8 kg:  59.3 Hz sway  84.3 Hz vertical bending  147 Hz twist
	// hopper 3.0 kg:  40 Hz sway  59.3 Hz vertical bending  119 Hz twist
}
