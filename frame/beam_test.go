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

// elastic is a metal of which only what vibrates is known.
func elastic(young, poisson, density float64) material.Metal {
	return material.Metal{Name: "elastic", Young: young, Poisson: poisson, Density: density}
}

func TestCheckBeamFrequencies(t *testing.T) {
	var rows []verify.Row
	const fv2 = "NAFEMS, Selected Benchmarks for Natural Frequency Analysis (R0015), test FV2, one arm; its size from memory"
	const arm = "frequency equation by 30-digit arithmetic, arm of FV2"
	bar, err := frame.Rectangle(0.125, 0.125)
	require.NoError(t, err)
	b := frame.Beam{Length: 5, Section: bar, Metal: elastic(200e9, 0.3, 8000)}
	for _, c := range []struct {
		ends           frame.Ends
		mode           int
		printed, exact float64
	}{
		{frame.PinnedPinned, 1, 11.336, 11.33624603}, {frame.ClampedPinned, 1, 17.709, 17.70937985},
		{frame.PinnedPinned, 2, 45.345, 45.34498411}, {frame.ClampedPinned, 2, 57.390, 57.38973374},
	} {
		v, h, err := b.Frequency(c.ends, c.mode)
		require.NoError(t, err)
		name := fmt.Sprintf("f %v, mode %d [Hz]", c.ends, c.mode)
		rows = append(rows,
			verify.Row{Name: name, Source: fv2, Kind: verify.Memory, Want: c.printed, Got: v, Tol: 0.0006 / c.printed, Why: "three decimals printed"},
			verify.Row{Name: name, Source: arm, Kind: verify.Own, Want: c.exact, Got: h, Tol: 1e-9, Why: "ten digits printed"})
	}
	verify.Table(t, rows)
}

// The deflections behind Stiffness are found anew from a cantilever alone, by
// making its free end meet what holds it (force method), with EI = L = 1.
func TestCheckBeamStiffness(t *testing.T) {
	// Deflection and slope at the tip and deflection at the middle under a force at
	// the middle, a force at the tip and a moment at the tip.
	const (
		tipByMid, slopeByMid, midByMid = 5.0 / 48, 1.0 / 8, 1.0 / 24
		tipByTip, slopeByTip           = 1.0 / 3, 1.0 / 2
		tipByTurn, slopeByTurn         = 1.0 / 2, 1.0
		midByTurn                      = 1.0 / 8
	)
	prop := tipByMid / tipByTip
	det := tipByTip*slopeByTurn - tipByTurn*slopeByTip
	force := (tipByMid*slopeByTurn - slopeByMid*tipByTurn) / det
	turn := (slopeByMid*tipByTip - tipByMid*slopeByTip) / det
	b := frame.Beam{Length: 2, Section: tube(t, 60, 40, 3), Metal: material.S235()}
	unit := b.Metal.Young * b.Section.Iy / 8
	var rows []verify.Row
	for ends, want := range map[frame.Ends]float64{
		frame.ClampedFree:    1 / tipByTip,
		frame.ClampedGuided:  1 / (tipByTip - slopeByTip*tipByTurn/slopeByTurn),
		frame.ClampedPinned:  1 / (midByMid - prop*tipByMid),
		frame.ClampedClamped: 1 / (midByMid - force*tipByMid - turn*midByTurn),
		// Half a pinned beam is a cantilever from the middle under half the force.
		frame.PinnedPinned: 1 / (0.5 * tipByTip / 8),
	} {
		v, h, err := b.Stiffness(ends)
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("kL³/EI %v", ends), Source: "force method on a cantilever", Kind: verify.Own, Want: want, Got: v / unit, Tol: 1e-12, Why: "rounding"})
		require.InEpsilon(t, v/h, b.Section.Iy/b.Section.Iz, 1e-12)
	}
	verify.Table(t, rows)
	_, _, err := b.Stiffness(frame.FreeFree)
	assert.ErrorIs(t, err, material.ErrInvalid)
}

func TestPropertyBeamScaling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := frametest.Beams().Draw(t, "beam")
		ends := frametest.AllEnds().Draw(t, "ends")
		mode := rapid.IntRange(1, 2).Draw(t, "mode")
		f := func(b frame.Beam) [2]float64 {
			v, h, err := b.Frequency(ends, mode)
			if !errors.Is(err, frame.ErrStubby) {
				require.NoError(t, err)
			}
			return [2]float64{v, h}
		}
		first := f(b)
		s := draw.Log(0.5, 2).Draw(t, "factor")
		for _, c := range []struct {
			change func(*frame.Beam)
			power  float64
		}{
			{func(b *frame.Beam) { b.Length *= s }, -2},
			{func(b *frame.Beam) { b.Metal.Young *= s }, 0.5},
			{func(b *frame.Beam) { b.Metal.Density *= s }, -0.5},
			{func(b *frame.Beam) { // every length at once
				b.Length *= s
				b.Section.Area *= s * s
				b.Section.Iy *= math.Pow(s, 4)
				b.Section.Iz *= math.Pow(s, 4)
				b.Section.J *= math.Pow(s, 4)
				b.Section.Thickness *= s
				b.Section.ShearY *= s * s
				b.Section.ShearZ *= s * s
				b.Section.TorsionModulus *= math.Pow(s, 3)
			}, -1},
		} {
			changed := b
			c.change(&changed)
			second := f(changed)
			for i := range first {
				require.InEpsilon(t, first[i]*math.Pow(s, c.power), second[i], 1e-9)
			}
		}
		turned := b
		turned.Section.Iy, turned.Section.Iz = b.Section.Iz, b.Section.Iy
		other := f(turned)
		require.Equal(t, [2]float64{first[1], first[0]}, other)
		require.InEpsilon(t, b.Metal.Density*b.Section.Area*b.Length, b.Mass(), 1e-12)
		// A thing that rings at f under g sinks by some g/ω²; half the beam's mass
		// on its stiffness rings within a third of the first frequency.
		v, h, err := b.Stiffness(frame.PinnedPinned)
		require.NoError(t, err)
		pv, ph, err := b.Frequency(frame.PinnedPinned, 1)
		require.NoError(t, err)
		for _, p := range [][2]float64{{v, pv}, {h, ph}} {
			require.InEpsilon(t, math.Sqrt(p[0]/(0.4927671*b.Mass()))/(2*math.Pi), p[1], 1e-6) // 48/π⁴
		}
	})
}

func TestStubbyBeamSaysSo(t *testing.T) {
	bar, err := frame.Rectangle(0.1, 0.02)
	require.NoError(t, err)
	b := frame.Beam{Length: 0.3, Section: bar, Metal: material.S235()}
	v, h, err := b.Frequency(frame.PinnedPinned, 1)
	assert.ErrorIs(t, err, frame.ErrStubby)
	assert.NotErrorIs(t, err, material.ErrInvalid)
	assert.ErrorContains(t, err, "0.302, at most 0.14")
	assert.Positive(t, v)
	assert.Positive(t, h)
	b.Length = 0.4
	_, _, err = b.Frequency(frame.ClampedFree, 1)
	assert.NoError(t, err)
}

// The lower root of S. Timoshenko's frequency equation of a pinned beam with shear
// and the turning of its section, a = (βr)², s = E/κG: sa²Ω² − (1+a(1+s))Ω + 1 = 0,
// Ω the ratio to bending theory squared. At the limit told it is 4 to 6 % lower.
func TestCheckStubbyLimit(t *testing.T) {
	const limit = 0.14
	bar, err := frame.Rectangle(0.02, 0.02)
	require.NoError(t, err)
	b := frame.Beam{Section: bar, Metal: material.S235()}
	r, _ := bar.Gyration()
	at := func(x float64) (float64, error) {
		b.Length = math.Pi * r / x
		v, _, err := b.Frequency(frame.PinnedPinned, 1)
		return v, err
	}
	_, err = at(limit * (1 - 1e-9))
	require.NoError(t, err)
	v, err := at(limit * (1 + 1e-9))
	require.ErrorIs(t, err, frame.ErrStubby)
	var rows []verify.Row
	for kappa, excess := range map[float64]float64{5.0 / 6: 0.039, 0.5: 0.058} {
		a, s := limit*limit, 2*(1+b.Metal.Poisson)/kappa
		sum := 1 + a*(1+s)
		exact := v * math.Sqrt(2/(sum+math.Sqrt(sum*sum-4*s*a*a)))
		rows = append(rows, verify.Row{Name: fmt.Sprintf("excess at the limit, κ = %.3g", kappa), Source: "S. Timoshenko, Phil. Mag. 41 (1921) 744, frequency equation of a pinned beam, from memory, solved by hand",
			Kind: verify.Own, Want: 1 + excess, Got: v / exact, Tol: 5e-4, Why: "told to a tenth of a percent"})
	}
	verify.Table(t, rows)
}

func TestBeamRefuses(t *testing.T) {
	b := frame.Beam{Length: -1, Section: frame.Section{}, Metal: elastic(0, 0.6, math.NaN())}
	_, _, err := b.Frequency(frame.Ends(77), 0)
	assert.ErrorIs(t, err, material.ErrInvalid)
	for _, field := range []string{"frame.Beam.Length", "frame.Section.Area", "material.Metal.Density", "material.Metal.Young", "material.Metal.Poisson", "ends = 77", "mode"} {
		assert.ErrorContains(t, err, field)
	}
}

func TestBitsBeam(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b := bitsBeam(t)
		ends := frame.Ends(rapid.IntRange(-1, 10).Draw(t, "ends"))
		v, h, err := b.Frequency(ends, rapid.IntRange(-1, 1001).Draw(t, "mode"))
		if errors.Is(err, frame.ErrStubby) {
			err = nil // the values come with it
		}
		finite(t, err, v, h)
		v, h, err = b.Stiffness(ends)
		finite(t, err, v, h)
		number := rapid.OneOf(draw.Bits(), draw.Log(1e-7, 20))
		x, y, z, u := number.Draw(t, "x"), number.Draw(t, "y"), number.Draw(t, "z"), number.Draw(t, "u")
		for _, make := range []func() (frame.Section, error){
			func() (frame.Section, error) { return frame.RectangularTube(x, y, z) },
			func() (frame.Section, error) { return frame.Rectangle(x, y) },
			func() (frame.Section, error) { return frame.RoundTube(x, y) },
			func() (frame.Section, error) { return frame.Round(x) },
			func() (frame.Section, error) { return frame.RoundedTube(x, y, z, u) },
			func() (frame.Section, error) { return frame.IBeam(x, y, z, u) },
			func() (frame.Section, error) { p, err := frame.Angle(x, y, z); return p.Section, err },
			func() (frame.Section, error) { p, err := frame.Channel(x, y, z, u); return p.Section, err },
			func() (frame.Section, error) { p, err := frame.Tee(x, y, z, u); return p.Section, err },
		} {
			s, err := make()
			finite(t, err, s.Area, s.Iy, s.Iz, s.J, s.Thickness, s.ShearY, s.ShearZ, s.TorsionModulus)
			if err == nil {
				require.NoError(t, s.Validate())
			}
		}
	})
}

// spoil puts any bits into some of the numbers.
func spoil(t *rapid.T, numbers ...*float64) {
	for range rapid.IntRange(0, 2).Draw(t, "spoilt") {
		i := rapid.IntRange(0, len(numbers)-1).Draw(t, "which")
		*numbers[i] = rapid.OneOf(draw.Bits(), draw.Log(1e-12, 1e12)).Draw(t, "bits")
	}
}

func bitsBeam(t *rapid.T) frame.Beam {
	b := frametest.Beams().Draw(t, "beam")
	spoil(t, &b.Length, &b.Section.Area, &b.Section.Iy, &b.Section.Iz, &b.Section.J, &b.Section.Thickness,
		&b.Section.ShearY, &b.Section.ShearZ, &b.Section.TorsionModulus,
		&b.Metal.Density, &b.Metal.Young, &b.Metal.Poisson)
	return b
}

// Extremes of all that is allowed must not overflow.
func TestBeamAtItsLimits(t *testing.T) {
	for _, section := range []frame.Section{
		{Area: 1e-10, Iy: 1e4, Iz: 1e4, J: 1e4}, {Area: 1e-10, Iy: 2e-21, Iz: 1e-22, J: 1e-22}, {Area: 100, Iy: 1e4, Iz: 1e-22, J: 1e-22},
	} {
		for _, length := range []float64{1e-3, 1000} {
			for _, young := range []float64{1e8, 1e12} {
				for _, density := range []float64{500, 25000} {
					b := frame.Beam{Length: length, Section: section, Metal: elastic(young, 0, density)}
					require.NoError(t, b.Validate())
					v, h, err := b.Frequency(frame.ClampedClamped, 1000)
					require.NotErrorIs(t, err, material.ErrInvalid)
					finite(t, nil, v, h)
				}
			}
		}
	}
}

func ExampleBeam_Frequency() {
	tube, err := frame.RectangularTube(0.060, 0.040, 0.003)
	if err != nil {
		panic(err)
	}
	b := frame.Beam{Length: 1, Section: tube, Metal: material.Al6060()}
	up, across, err := b.Frequency(frame.PinnedPinned, 1)
	if err != nil {
		panic(err)
	}
	fmt.Printf("%.2f kg, %.3g Hz up and down, %.3g Hz across\n", b.Mass(), up, across)
	// Output: 1.52 kg, 176 Hz up and down, 127 Hz across
}
