package frame_test

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/frame"
	"meltflight/frame/frametest"
	"meltflight/internal/draw"
	"meltflight/material"
)

// Whatever the bits, motions and what they do are numbers or an error in words.
func TestPropertyMotionBits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := frametest.JerkMoves().Draw(t, "move")
		tones := frametest.Tones(20).Draw(t, "tones")
		s := shapers().Draw(t, "shaper")
		x, y, time := draw.Log(1e-6, 1e3).Draw(t, "x"), draw.Log(1e-6, 1e3).Draw(t, "y"), 0.1
		piece := frame.Piece{Duration: 0.1, Acceleration: 1, Jerk: 2}
		spoil(t, &m.Distance, &m.Speed, &m.Acceleration, &m.Jerk, &tones[0].Frequency, &tones[0].Damping, &tones[0].Share,
			&s.Frequency, &s.Damping, &x, &y, &time, &piece.Duration, &piece.Acceleration, &piece.Jerk)
		s.Impulses = rapid.OneOf(rapid.IntRange(2, 4), rapid.Int()).Draw(t, "impulses")

		r, err := m.RingingOf(tones...)
		finite(t, err, r.AfterRamp, r.AfterMove, r.Worst)
		a, err := m.Accelerations(x, tones...)
		finite(t, err, a.AnyTiming, a.Timed)
		worded(t, err, frame.ErrRingsAnyhow)

		p, err := m.Profile()
		worded(t, err)
		p = append(p, piece)
		motion(t, p, x, time, tones)
		shaped, err := s.Shape(p)
		worded(t, err)
		if err == nil {
			motion(t, shaped, x, time, tones)
		}

		v, err := s.Residual(x, tones[0].Damping)
		finite(t, err, v)
		worded(t, err)
		low, high, err := s.Insensitivity(x)
		finite(t, err, low, high)
		worded(t, err)
		over, v, err := frame.ShaperOver(x, y, s.Damping, s.Impulses)
		finite(t, err, v, over.Frequency)
		worded(t, err)
		for _, f := range []func() (float64, error){
			func() (float64, error) { return frame.RippleWavelength(x, y, time) },
			func() (float64, error) { return frame.Transmissibility(x, tones[0].Damping) },
			func() (float64, error) { return frame.Amplification(x, tones[0].Damping) },
			func() (float64, error) { return frame.Decrement(x) },
			func() (float64, error) { return frame.DecrementOfPeaks(x, y, s.Impulses) },
			func() (float64, error) { return frame.DampingOfBandwidth(x, y) },
		} {
			v, err := f()
			finite(t, err, v)
			worded(t, err)
		}
		half, err := frame.HalfSineShock(x)
		finite(t, err, half.During, half.After)
		worded(t, err)
	})
}

func motion(t *rapid.T, p frame.Profile, band, time float64, tones []frame.Tone) {
	r, err := p.Response(tones...)
	finite(t, err, r.During, r.After, r.Left)
	worded(t, err)
	u, err := p.Deflection(time, tones...)
	finite(t, err, u)
	worded(t, err)
	s, err := p.Settling(band, tones...)
	finite(t, err, s)
	worded(t, err, frame.ErrNeverSettles)
	k, err := p.Shock(tones[0].Frequency, tones[0].Damping)
	finite(t, err, k.During, k.After)
	worded(t, err)
	if p.Validate() == nil {
		x, v, a := p.At(time)
		if !math.IsInf(time, 0) && math.Abs(time) < 1e100 {
			finite(t, nil, x, v, a, p.Greatest(), p.Duration())
		}
	}
}

// worded requires of an error that it refuses an input or is one of those named.
func worded(t require.TestingT, err error, named ...error) {
	if err == nil || errors.Is(err, material.ErrInvalid) {
		return
	}
	for _, n := range named {
		if errors.Is(err, n) {
			return
		}
	}
	require.NoError(t, err)
}
