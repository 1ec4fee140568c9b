package frame_test

import (
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

func TestCheckRipple(t *testing.T) {
	const hand = "v/(f√(1−ζ²)), a = ripple·ω²/4 and the first root of 2a/ω²·|sin πf·v/a| = ripple, by hand and scan in 30 digits"
	length, err := frame.RippleWavelength(0.1, 20, 0.2)
	require.NoError(t, err)
	m := frame.Move{Distance: 0.1, Speed: 0.1, Acceleration: 5}
	a, err := m.Accelerations(1e-4, frame.Tone{Frequency: 20, Share: 1})
	require.NoError(t, err)
	verify.Table(t, []verify.Row{
		{Name: "wave along the bead [m]", Source: hand, Kind: verify.Own, Want: 0.00510310363, Got: length, Tol: 1e-9, Why: "nine digits printed"},
		{Name: "acceleration whatever the timing [m/s²]", Source: hand, Kind: verify.Own, Want: 0.39478417604357, Got: a.AnyTiming, Tol: 1e-12, Why: "rounding"},
		{Name: "acceleration as timed [m/s²]", Source: hand, Kind: verify.Own, Want: 0.792036554853, Got: a.Timed, Tol: 1e-11, Why: "twelve digits printed"},
	})
	assert.Nil(t, a.Beyond)
}

func TestPropertyAccelerations(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := frametest.JerkMoves().Draw(t, "move")
		tones := frametest.Tones(draw.Log(0.3, 30).Draw(t, "cycles")*m.Acceleration/m.Speed+0.01).Draw(t, "tones")
		for i := range tones {
			tones[i].Share += math.Copysign(0.05, tones[i].Share)
		}
		at := func(a float64) frame.Ringing {
			trial := m
			trial.Acceleration = a
			r, err := trial.RingingOf(tones...)
			require.NoError(t, err)
			return r
		}
		ripple := math.Max(1e-11, at(m.Acceleration).Worst*draw.Log(0.05, 1.5).Draw(t, "ripple"))
		got, err := m.Accelerations(ripple, tones...)
		require.NoError(t, err)
		require.LessOrEqual(t, got.AnyTiming, got.Timed)
		require.LessOrEqual(t, got.Timed, m.Acceleration)
		require.LessOrEqual(t, at(got.AnyTiming).Worst, ripple*(1+1e-9))
		if got.AnyTiming < m.Acceleration {
			require.InEpsilon(t, ripple, at(got.AnyTiming).Worst, 1e-9)
		}
		// Below, never more than allowed.
		for range 8 {
			a := got.Timed * draw.Uniform(0.05, 1).Draw(t, "part")
			r := at(a)
			require.LessOrEqual(t, math.Max(r.AfterRamp, r.AfterMove), ripple+0.003*r.Worst)
		}
		// A little above, more than allowed.
		if got.Timed < m.Acceleration && got.Beyond == nil {
			most := 0.0
			for i := range 50 {
				r := at(got.Timed * (1 + 0.0004*float64(i)))
				most = math.Max(most, math.Max(r.AfterRamp, r.AfterMove))
			}
			require.GreaterOrEqual(t, most, ripple*(1-1e-9))
		}
		// More for a larger ripple.
		more, err := m.Accelerations(2*ripple, tones...)
		require.NoError(t, err)
		require.GreaterOrEqual(t, more.AnyTiming, got.AnyTiming)
		if more.Beyond == nil {
			require.GreaterOrEqual(t, more.Timed, got.Timed*(1-1e-3))
		}
		// One undamped tone and no jerk limit: the closed form.
		if m.Jerk == 0 {
			one := frame.Tone{Frequency: tones[0].Frequency, Share: 1}
			got, err := m.Accelerations(ripple, one)
			require.NoError(t, err)
			want, err := frame.LargestAcceleration(one.Frequency, ripple)
			require.NoError(t, err)
			trial := m
			trial.Acceleration = math.Max(1e-6, want)
			if want < m.Acceleration && 2*want < 2*math.Pi*one.Frequency*trial.Peak() {
				require.InEpsilon(t, want, got.AnyTiming, 1e-9)
			} else { // the speed is too low to ring by as much
				require.GreaterOrEqual(t, got.AnyTiming, math.Min(want, m.Acceleration)*(1-1e-9))
			}
		}
		// Wave and frequency belong together.
		tone := tones[0]
		length, err := frame.RippleWavelength(m.Speed, tone.Frequency, tone.Damping)
		require.NoError(t, err)
		p := frame.Profile{{Duration: 1e-3, Acceleration: 1}}
		later := 1e-3 + length/m.Speed
		decay := math.Exp(-2 * math.Pi * tone.Frequency * tone.Damping * length / m.Speed)
		u := deflection(t, p, 1e-3, tone)
		require.InEpsilon(t, u*decay, deflection(t, p, later, tone), 1e-6)
	})
}

func TestAccelerationsAtTheirEdges(t *testing.T) {
	m := frame.Move{Distance: 10, Speed: 1, Acceleration: 10}
	tone := frame.Tone{Frequency: 1, Share: 1}
	_, err := m.Accelerations(1e-9, tone)
	assert.ErrorIs(t, err, frame.ErrRingsAnyhow)
	assert.NotErrorIs(t, err, material.ErrInvalid)
	assert.ErrorContains(t, err, "101 times")
	// A move of a whole million periods leaves nothing, and the ramp may be any of 500000.
	even := frame.Move{Distance: 1e4, Speed: 1, Acceleration: 10}
	a, err := even.Accelerations(2e-9, frame.Tone{Frequency: 100, Share: 1})
	require.NoError(t, err)
	require.Len(t, a.Beyond, 1)
	assert.Contains(t, a.Beyond[0], "followed only to")
	assert.Greater(t, a.Timed, a.AnyTiming)
	// A jerk limit low enough keeps the ripple by itself.
	m.Jerk = 1e-6
	a, err = m.Accelerations(1e-6, tone)
	require.NoError(t, err)
	assert.Equal(t, frame.Allowance{AnyTiming: 10, Timed: 10}, a)
	_, err = frame.Move{}.Accelerations(0)
	for _, field := range []string{"frame.Move.Speed", "ripple", "tones"} {
		assert.ErrorContains(t, err, field)
	}
	_, err = frame.RippleWavelength(0, 0, 1)
	for _, field := range []string{"speed", "frequency", "damping"} {
		assert.ErrorContains(t, err, field)
	}
}

func ExampleMove_Accelerations() {
	m := frame.Move{Distance: 0.2, Speed: 0.1, Acceleration: 5}
	tones := []frame.Tone{{Frequency: 20, Damping: 0.01, Share: 0.9}, {Frequency: 55, Damping: 0.01, Share: 0.1}}
	for _, m.Jerk = range []float64{0, 20} {
		a, err := m.Accelerations(50e-6, tones...)
		if err != nil {
			panic(err)
		}
		fmt.Printf("jerk %g: %.2g m/s² whatever the timing, %.2g as timed\n", m.Jerk, a.AnyTiming, a.Timed)
	}
	wave, err := frame.RippleWavelength(m.Speed, 20, 0.01)
	if err != nil {
		panic(err)
	}
	fmt.Printf("a wave every %.2g mm\n", wave*1e3)
	// Output:
	// jerk 0: 0.22 m/s² whatever the timing, 0.55 as timed
	// jerk 20: 0.22 m/s² whatever the timing, 5 as timed
	// a wave every 5 mm
}
