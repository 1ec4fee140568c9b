package frame_test

import (
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

func profile(t require.TestingT, m frame.Move) frame.Profile {
	p, err := m.Profile()
	require.NoError(t, err)
	return p
}

// The three ways a jerk limit shows, by hand: all reached; speed not reached; not
// even the acceleration.
func TestCheckJerkLimitedMove(t *testing.T) {
	const hand = "v = d(v/a+a/j) or ¼d²j cube root by hand"
	var rows []verify.Row
	for _, c := range []struct {
		name               string
		m                  frame.Move
		peak, ramp, cruise float64
	}{
		{"all reached", frame.Move{Distance: 1, Speed: 0.5, Acceleration: 2, Jerk: 20}, 0.5, 0.35, 1.65},
		{"acceleration reached, speed not", frame.Move{Distance: 0.07, Speed: 1, Acceleration: 2, Jerk: 40}, 0.32749172176353746, 0.21374586088176873, 0},
		{"acceleration not reached", frame.Move{Distance: 0.002, Speed: 1, Acceleration: 50, Jerk: 1000}, 0.1, 0.02, 0},
		{"acceleration not reached, speed is", frame.Move{Distance: 0.1, Speed: 0.1, Acceleration: 50, Jerk: 1000}, 0.1, 0.02, 0.98},
	} {
		ramp, cruise := c.m.Times()
		for _, v := range [][2]float64{{c.peak, c.m.Peak()}, {c.ramp, ramp}, {c.cruise, cruise}} {
			rows = append(rows, verify.Row{Name: c.name, Source: hand, Kind: verify.Own, Want: v[0], Got: v[1], Tol: 1e-12, Why: "rounding"})
		}
	}
	verify.Table(t, rows)
}

func TestPropertyProfileIsTheMove(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := frametest.JerkMoves().Draw(t, "move")
		p := profile(t, m)
		ramp, cruise := m.Times()
		total := p.Duration()
		require.InEpsilon(t, 2*ramp+cruise, total, 1e-12)
		x, v, _ := p.At(total)
		require.InEpsilon(t, m.Distance, x, 1e-12)
		require.Less(t, math.Abs(v), 1e-12*m.Speed+1e-14*m.Acceleration*total)
		x, v, a := p.At(total + 1)
		require.InEpsilon(t, m.Distance, x, 1e-11/math.Min(1, m.Distance))
		require.Less(t, math.Abs(v), 1e-12*m.Speed+1e-14*m.Acceleration*total)
		require.Zero(t, a)
		x, v, a = p.At(-1)
		require.Zero(t, x+v+a)
		require.LessOrEqual(t, p.Greatest(), m.Acceleration*(1+1e-12))
		_, v, _ = p.At(ramp)
		require.InEpsilon(t, m.Peak(), v, 1e-12)
		require.LessOrEqual(t, v, m.Speed*(1+1e-12))
		// The second half is the first one backwards.
		at := total * draw.Uniform(0, 0.5).Draw(t, "time")
		x, v, _ = p.At(at)
		y, w, _ := p.At(total - at)
		require.InDelta(t, m.Distance, x+y, 1e-11*m.Distance)
		require.InDelta(t, 0, (v-w)/m.Peak(), 1e-9)
		// No limit is broken, and some limit is reached in every piece.
		for _, q := range p {
			limit := m.Jerk
			if m.Jerk == 0 {
				limit = 0
			}
			require.True(t, q.Jerk == 0 || math.Abs(math.Abs(q.Jerk)/limit-1) < 1e-9, "%v", q)
		}
		if cruise > 0 {
			require.InEpsilon(t, m.Speed, m.Peak(), 1e-12)
		}
		// Slower by a factor, all else in proportion.
		s := draw.Log(0.1, 10).Draw(t, "factor")
		slow := profile(t, frame.Move{Distance: m.Distance, Speed: m.Speed / s, Acceleration: m.Acceleration / (s * s), Jerk: m.Jerk / (s * s * s)})
		require.InEpsilon(t, total*s, slow.Duration(), 1e-9)
		z, _, _ := slow.At(at * s)
		require.InDelta(t, x/m.Distance, z/m.Distance, 1e-9)
	})
}

// As the jerk grows, the move becomes the trapezoid, and slower the lower it is.
func TestPropertyHighJerkIsTrapezoid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := frametest.Moves().Draw(t, "move")
		hard := m
		hard.Jerk = m.Acceleration * 1e6 / m.Peak() * m.Acceleration // rises in a millionth of the ramp
		f := draw.Log(0.1, 10).Draw(t, "cycles") / profile(t, m).Duration()
		a, b := ringing(t, m, f, 0.01), ringing(t, hard, f, 0.01)
		unit := m.Acceleration / (f * f)
		require.InDelta(t, a.AfterMove/unit, b.AfterMove/unit, 1e-5)
		require.InDelta(t, a.AfterRamp/unit, b.AfterRamp/unit, 1e-5)
		x, _, _ := profile(t, m).At(0.4 * profile(t, m).Duration())
		y, _, _ := profile(t, hard).At(0.4 * profile(t, m).Duration())
		require.InEpsilon(t, x, y, 1e-5)
		hard.Jerk *= 1e-5
		harder := hard
		harder.Jerk *= 2
		require.Greater(t, profile(t, hard).Duration(), profile(t, harder).Duration())
		require.Greater(t, profile(t, harder).Duration(), profile(t, m).Duration())
	})
}

// A rise of half a period, a ramp of three, a move of seven: all falls badly, and
// the bound 8j/ω³ is reached.
func TestCheckWorstOfJerk(t *testing.T) {
	const half, omega = 0.025, 40 * math.Pi
	r := ringing(t, frame.Move{Distance: 21 * half * half * half, Speed: 3 * half * half, Acceleration: half, Jerk: 1}, 20, 0)
	verify.Table(t, []verify.Row{
		{Name: "worst of a jerk of 1 m/s³ [m]", Source: "8j/ω³ by hand", Kind: verify.Own, Want: 8 / (omega * omega * omega), Got: r.Worst, Tol: 1e-12, Why: "rounding"},
		{Name: "the same left by the move [m]", Source: "8j/ω³ by hand", Kind: verify.Own, Want: 8 / (omega * omega * omega), Got: r.AfterMove, Tol: 1e-12, Why: "rounding"},
	})
}

func TestProfileRefuses(t *testing.T) {
	for words, p := range map[string]frame.Profile{
		"frame.Profile: pieces = 0":                                             {},
		"frame.Profile[1].Duration = -1 s":                                      {{1, 1, 0}, {-1, 0, 0}},
		"frame.Profile[0].Acceleration = NaN":                                   {{1, math.NaN(), 0}},
		"frame.Profile[0].Jerk = +Inf":                                          {{1, 0, math.Inf(1)}},
		"frame.Profile[0].Acceleration at its end = 1e+10 m/s²: allowed -1e+09": {{1e5, 0, 1e5}},
	} {
		err := p.Validate()
		assert.ErrorIs(t, err, material.ErrInvalid)
		assert.ErrorContains(t, err, words)
	}
	_, err := frame.Move{Distance: 1, Speed: 1, Acceleration: 1, Jerk: -1}.Profile()
	assert.ErrorContains(t, err, "frame.Move.Jerk = -1 m/s³: allowed 0 or 1e-06 to 1e+12 m/s³")
}
