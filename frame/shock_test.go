package frame_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/frame"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
)

func shock(t require.TestingT, p frame.Profile, frequency, damping float64) frame.Shock {
	s, err := p.Shock(frequency, damping)
	require.NoError(t, err)
	return s
}

func halfSine(t require.TestingT, cycles float64) frame.Shock {
	s, err := frame.HalfSineShock(cycles)
	require.NoError(t, err)
	return s
}

func TestCheckShock(t *testing.T) {
	const ayre = "Ayre in Harris, Shock and Vibration Handbook, ch. 8, spectra recomputed by maximising the closed forms"
	var rows []verify.Row
	add := func(name string, cycles, want, got float64) {
		row := verify.Row{Name: fmt.Sprintf("%s, %g cycles", name, cycles), Source: ayre, Kind: verify.Own, Want: want, Got: got, Tol: 1e-14, Why: "rounding"}
		if want != 0 {
			row.Tol, row.Why = 6e-6/want, "five decimals printed"
		}
		rows = append(rows, row)
	}
	for _, c := range [][4]float64{
		{0.1, 0.12246, 0.39627, 0.39627}, {0.25, 0.66667, 0.94281, 0.94281}, {0.5, math.Pi / 2, math.Pi / 2, math.Pi / 2}, {0.75, 1.76336, 1.69706, 1.76336},
		{1, 1.73205, 1.33333, 1.73205}, {1.5, 1.5, 0, 1.5}, {2, 1.26808, 0.53333, 1.26808}, {3, 1.16991, 0.34286, 1.16991}, {0.810, 1.76846, math.NaN(), 1.76846},
	} {
		s := halfSine(t, c[0])
		add("half sine, during", c[0], c[1], s.During)
		if !math.IsNaN(c[2]) {
			add("half sine, after", c[0], c[2], s.After)
		}
		add("half sine", c[0], c[3], s.Most())
	}
	// Pulses of a second: as many hertz as cycles.
	for _, c := range []struct {
		name  string
		pulse frame.Profile
		want  map[float64]float64
	}{
		{"rectangle", frame.Profile{{Duration: 1, Acceleration: 3}}, map[float64]float64{0.1: 0.6180339887, 0.25: math.Sqrt2, 0.5: 2, 0.75: 2, 3: 2}},
		{"triangle", frame.Profile{{Duration: 0.5, Jerk: 2}, {Duration: 0.5, Acceleration: 1, Jerk: -2}},
			map[float64]float64{0.1: 0.31158, 0.25: 0.74585, 0.5: 1.27324, 0.75: 1.48906, 1: 1.50849, 1.5: 1.28786, 2: 1, 3: 1.1695}},
		{"trapezoid", frame.Profile{{Duration: 0.25, Jerk: 4}, {Duration: 0.5, Acceleration: 1}, {Duration: 0.25, Acceleration: 1, Jerk: -4}},
			map[float64]float64{0.1: 0.46641, 0.25: 1.10401, 0.5: 1.80063, 0.75: 1.94222, 1: 1.90032, 1.5: 1.78421, 2: 1.63662, 3: 1.30011}},
		{"step rising evenly, after it", frame.Profile{{Duration: 1, Jerk: -1}, {Duration: 20, Acceleration: -1}},
			map[float64]float64{0.25: 1.90031632, 0.5: 1.63661977, 1: 1, 1.5: 1.21220659, 2: 1}},
	} {
		for cycles, want := range c.want {
			s := shock(t, c.pulse, cycles, 0)
			got := s.Most()
			if len(c.pulse) == 2 && c.pulse[1].Duration == 20 {
				got = s.During // its end is a step of its own
			}
			add(c.name, cycles, want, got)
		}
	}
	for _, x := range []float64{0.1, 0.3, 0.7, 1.5} {
		add("rectangle, after", x, 2*math.Abs(math.Sin(math.Pi*x)), shock(t, frame.Profile{{Duration: 1, Acceleration: 3}}, x, 0).After)
	}
	verify.Table(t, rows)
}

// Half a sine of two hundred straight pieces is half a sine.
func TestPropertyHalfSineIsThePiecewiseOne(t *testing.T) {
	const n = 200
	p := make(frame.Profile, n)
	for i := range p {
		a, b := math.Sin(math.Pi*float64(i)/n), math.Sin(math.Pi*float64(i+1)/n)
		p[i] = frame.Piece{Duration: 1.0 / n, Acceleration: a, Jerk: (b - a) * n}
	}
	rapid.Check(t, func(t *rapid.T) {
		cycles := draw.Log(0.01, 10).Draw(t, "cycles")
		want, got := halfSine(t, cycles), shock(t, p, cycles, 0)
		require.InDelta(t, want.During, got.During, 3e-4)
		require.InDelta(t, want.After, got.After, 3e-4)
		require.InEpsilon(t, want.Most(), got.Most(), 3e-4)
		require.LessOrEqual(t, got.Most(), 2.0)
		require.LessOrEqual(t, shock(t, p, cycles, 0.1).Most(), got.Most()*(1+1e-9))
		// Continuous where frequency and pulse agree.
		off := draw.Log(1e-15, 1e-6).Draw(t, "off")
		require.InDelta(t, math.Pi/2, halfSine(t, 0.5*(1+off)).Most(), 4*off+1e-14)
		require.InDelta(t, math.Pi/2, halfSine(t, 0.5*(1-off)).Most(), 4*off+1e-14)
	})
}

func TestShockRefuses(t *testing.T) {
	_, err := frame.HalfSineShock(0)
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.ErrorContains(t, err, "cycles")
	_, err = frame.Profile{{Duration: 1, Acceleration: 1}}.Shock(0, 0)
	assert.ErrorContains(t, err, "Frequency")
	s, err := frame.Profile{{Duration: 1}}.Shock(10, 0)
	assert.NoError(t, err)
	assert.Zero(t, s)
}
