package frame_test

import (
	"fmt"
	"math"
	"slices"
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

func respond(t require.TestingT, p frame.Profile, tones ...frame.Tone) frame.Response {
	r, err := p.Response(tones...)
	require.NoError(t, err)
	return r
}

func deflection(t require.TestingT, p frame.Profile, time float64, tones ...frame.Tone) float64 {
	u, err := p.Deflection(time, tones...)
	require.NoError(t, err)
	return u
}

// ride integrates masses on springs whose base follows a profile, by the
// fourth-order rule of Runge and Kutta: u̎ = −M⁻¹(Cu̇ + Ku) − a·load. It calls seen
// with the time and the deflections after every step of at most h.
func ride(p frame.Profile, stiff, damp [][]float64, load []float64, h float64, seen func(time float64, u []float64)) {
	n := len(load)
	y := make([]float64, 2*n)
	rate := func(y []float64, a float64) []float64 {
		out := make([]float64, 2*n)
		for i := range n {
			out[i] = y[n+i]
			out[n+i] = -a * load[i]
			for j := range n {
				out[n+i] -= stiff[i][j]*y[j] + damp[i][j]*y[n+j]
			}
		}
		return out
	}
	plus := func(y, k []float64, h float64) []float64 {
		out := slices.Clone(y)
		for i := range out {
			out[i] += h * k[i]
		}
		return out
	}
	time := 0.0
	for _, q := range p {
		steps := math.Max(1, math.Ceil(q.Duration/h))
		h := q.Duration / steps
		for s := range int(steps) {
			a := func(part float64) float64 { return q.Acceleration + q.Jerk*h*(float64(s)+part) }
			k1 := rate(y, a(0))
			k2 := rate(plus(y, k1, h/2), a(0.5))
			k3 := rate(plus(y, k2, h/2), a(0.5))
			k4 := rate(plus(y, k3, h), a(1))
			for i := range y {
				y[i] += h / 6 * (k1[i] + 2*k2[i] + 2*k3[i] + k4[i])
			}
			time += h
			seen(time, y[:n])
		}
	}
}

// The slow twin of one tone: a mass on a spring, integrated.
func TestPropertyResponseMatchesIntegration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := frametest.JerkMoves().Draw(t, "move")
		p := profile(t, m)
		tone := frame.Tone{Frequency: math.Max(0.002, draw.Log(0.05, 4).Draw(t, "cycles")/p.Duration()), Damping: draw.Uniform(0, 0.3).Draw(t, "damping"), Share: 1}
		if rapid.Bool().Draw(t, "shaped") {
			s := frame.Shaper{Frequency: tone.Frequency * 1.2, Damping: tone.Damping, Impulses: rapid.IntRange(2, 4).Draw(t, "impulses")}
			var err error
			p, err = s.Shape(p)
			require.NoError(t, err)
		}
		omega := 2 * math.Pi * tone.Frequency
		unit := p.Greatest() * math.Min(1/(omega*omega), p.Duration()*p.Duration())
		h := math.Min(0.01/tone.Frequency, p.Duration()/200)
		most, steps := 0.0, 0
		ride(p, [][]float64{{omega * omega}}, [][]float64{{2 * tone.Damping * omega}}, []float64{1}, h, func(time float64, u []float64) {
			most = math.Max(most, math.Abs(u[0]))
			if steps++; steps%17 == 0 {
				require.InDelta(t, u[0]/unit, deflection(t, p, time, tone)/unit, 1e-5)
			}
		})
		r := respond(t, p, tone)
		require.InDelta(t, most/unit, r.During/unit, 5e-4*(1+most/unit)) // a peak missed by half a step: (0.01π)²/2
		require.Greater(t, r.During, most-1e-5*unit)
	})
}

// Of a move, the closed form and the recursion agree.
func TestPropertyResponseIsTheMovesRinging(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := frametest.JerkMoves().Draw(t, "move")
		p := profile(t, m)
		tones := frametest.Tones(math.Max(0.02, draw.Log(0.01, 100).Draw(t, "cycles")/p.Duration())).Draw(t, "tones")
		r, err := m.RingingOf(tones...)
		require.NoError(t, err)
		got := respond(t, p, tones...)
		unit := 0.0
		for _, tone := range tones {
			omega := 2 * math.Pi * tone.Frequency
			unit += math.Abs(tone.Share) * p.Greatest() / (omega * omega)
		}
		require.InDelta(t, r.AfterMove/unit, got.Left/unit, 1e-10)
		require.LessOrEqual(t, got.Left, r.Worst*(1+1e-9))
		require.LessOrEqual(t, got.After, got.Left*(1+1e-9))
		single, err := m.RingingOf(tones[0])
		require.NoError(t, err)
		one := ringing(t, m, tones[0].Frequency, tones[0].Damping)
		require.InDelta(t, math.Abs(tones[0].Share)*one.AfterMove/unit, single.AfterMove/unit, 1e-12)
		// No instant passes what is told.
		for range 4 {
			at := p.Duration() * draw.Uniform(0, 1.5).Draw(t, "time")
			limit := got.During
			if at > p.Duration() {
				limit = got.After
			}
			require.LessOrEqual(t, math.Abs(deflection(t, p, at, tones...)), limit+1e-10*unit)
		}
	})
}

func TestPropertyResponseLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := profile(t, frametest.JerkMoves().Draw(t, "move"))
		if rapid.Bool().Draw(t, "cut short") { // so that it is not symmetric
			p = p[:len(p)-1]
		}
		tone := frame.Tone{Frequency: math.Max(0.01, draw.Log(0.1, 20).Draw(t, "cycles")/p.Duration()), Share: 1}
		omega := 2 * math.Pi * tone.Frequency
		unit := p.Greatest() / (omega * omega)
		r := respond(t, p, tone)
		// Undamped, a motion run backwards leaves as much.
		back := make(frame.Profile, len(p))
		for i, q := range p {
			back[len(p)-1-i] = frame.Piece{Duration: q.Duration, Acceleration: q.Acceleration + q.Jerk*q.Duration, Jerk: -q.Jerk}
		}
		require.InDelta(t, r.Left/unit, respond(t, back, tone).Left/unit, 1e-10)
		// Ten times slower and a tone ten times lower: a hundredth the acceleration does the same.
		slow := make(frame.Profile, len(p))
		for i, q := range p {
			slow[i] = frame.Piece{Duration: 10 * q.Duration, Acceleration: q.Acceleration / 100, Jerk: q.Jerk / 1000}
		}
		low := tone
		low.Frequency /= 10
		require.InEpsilon(t, r.During, respond(t, slow, low).During, 1e-9)
		// More damping, less left of a single push.
		push := frame.Profile{{Duration: p[0].Duration, Acceleration: p.Greatest()}}
		damped := tone
		before := respond(t, push, damped)
		for _, damped.Damping = range []float64{0.01, 0.1, 0.3} {
			now := respond(t, push, damped)
			require.Less(t, now.During, before.During*(1+1e-12))
			before = now
		}
		// A stiff machine follows: u = −a/ω² at leisure; a soft one stays behind.
		soft := tone
		soft.Frequency = 1e-3 / p.Duration()
		if soft.Frequency >= 1e-3 {
			x, _, _ := p.At(p.Duration())
			require.InEpsilon(t, -x, deflection(t, p, p.Duration(), soft), 1e-4)
		}
		// Pieces cut in two are the same motion.
		cut := frame.Profile{}
		for _, q := range p {
			h := q.Duration * draw.Uniform(0, 1).Draw(t, "cut")
			cut = append(cut, frame.Piece{Duration: h, Acceleration: q.Acceleration, Jerk: q.Jerk},
				frame.Piece{Duration: q.Duration - h, Acceleration: q.Acceleration + h*q.Jerk, Jerk: q.Jerk})
		}
		c := respond(t, cut, tone)
		require.InDelta(t, r.During/unit, c.During/unit, 1e-9)
		require.InDelta(t, r.Left/unit, c.Left/unit, 1e-9)
	})
}

func TestPropertySettling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := profile(t, frametest.JerkMoves().Draw(t, "move"))
		tones := frametest.Tones(math.Max(0.004, draw.Log(0.1, 20).Draw(t, "cycles")/p.Duration())).Draw(t, "tones")
		for i := range tones {
			tones[i].Damping += 0.01
		}
		left := respond(t, p, tones...).Left
		band := math.Max(1e-11, left*draw.Log(1e-3, 2).Draw(t, "band"))
		settle := func(band float64, tones ...frame.Tone) float64 {
			s, err := p.Settling(band, tones...)
			require.NoError(t, err)
			return s
		}
		s := settle(band, tones...)
		require.Equal(t, left <= band, s == 0)
		for range 4 {
			after := s + draw.Uniform(0, 3).Draw(t, "later")/tones[0].Frequency
			require.LessOrEqual(t, math.Abs(deflection(t, p, p.Duration()+after, tones...)), band*(1+1e-6))
		}
		// Longer for a narrower band; of one tone the closed form.
		require.LessOrEqual(t, s, settle(band/2, tones...))
		one := respond(t, p, tones[0]).Left
		want, err := frame.SettlingTime(tones[0].Frequency, tones[0].Damping, one, band)
		require.NoError(t, err)
		require.InDelta(t, want*tones[0].Frequency, settle(band, tones[0])*tones[0].Frequency, 1e-6)
		// A tone without damping that takes half the band leaves the other half.
		hum := frame.Tone{Frequency: 1.7 * tones[0].Frequency, Share: 1}
		if hum.Share = band / 2 / respond(t, p, hum).Left; hum.Share < 1e6 {
			require.InDelta(t, settle(band/2, tones...)*tones[0].Frequency, settle(band, append(tones, hum)...)*tones[0].Frequency, 1e-6)
		}
		// Within the last half cycle before it settles by its amplitude, one tone passes 0.6 of the band.
		if want > 1/tones[0].Frequency {
			most := 0.0
			for k := range 41 {
				most = math.Max(most, math.Abs(deflection(t, p, p.Duration()+want-float64(k)/40*0.55/tones[0].Frequency, tones[0])))
			}
			require.Greater(t, most, 0.6*band)
		}
	})
}

// A rise of the acceleration over f·tj cycles takes |sinc| of what the trapezoid leaves.
func TestCheckJerkOnRinging(t *testing.T) {
	var rows []verify.Row
	for x, want := range map[float64]float64{0.25: 0.90031632, 0.5: 0.63661977, 0.75: 0.30010544, 1.25: 0.18006326, 1.5: 0.21220659} {
		const f, a = 20.0, 2.0
		rise := x / f
		m := frame.Move{Distance: 0.1, Speed: a * 0.0833, Acceleration: a, Jerk: a / rise}
		even := frame.Move{Distance: 0.1, Speed: a * 0.0833, Acceleration: a}
		rows = append(rows, verify.Row{Name: fmt.Sprintf("|sinc %g| by jerk", x), Source: "Ayre in Harris, Shock and Vibration Handbook, ch. 8, closed form by hand",
			Kind: verify.Own, Want: want, Got: ringing(t, m, f, 0).AfterMove / ringing(t, even, f, 0).AfterMove, Tol: 6e-9 / want, Why: "eight decimals printed"})
	}
	verify.Table(t, rows)
}

// A move of seven pieces on three vibrations.
func TestCheckJerkLimitedResponse(t *testing.T) {
	const duhamel = "Duhamel's integral by quadrature in 30 digits, the peak by golden section"
	const why = "rounding, and twelve digits printed"
	m := frame.Move{Distance: 0.03, Speed: 0.1, Acceleration: 2.5, Jerk: 100}
	p := profile(t, m)
	var rows []verify.Row
	for _, c := range []struct{ f, zeta, ramp, move, during, amid, end float64 }{
		{18, 0.01, 0.000202968538387, 0.00033093190263, 0.000410223401071, -9.8973900862e-6, -7.77366079372e-5},
		{40, 0.05, 2.60938893361e-6, 2.54950539905e-6, 4.11466154483e-5, 2.375980623e-7, -3.89112204729e-7},
		{7, 0.2, 0.0014743251867, 0.00137632429011, 0.00143217215026, -0.000341273930195, 0.00132625564303},
	} {
		tone := frame.Tone{Frequency: c.f, Damping: c.zeta, Share: 1}
		r, left := ringing(t, m, c.f, c.zeta), respond(t, p, tone)
		for name, v := range map[string][2]float64{
			"after ramp": {c.ramp, r.AfterRamp}, "after move": {c.move, r.AfterMove}, "after move, piece by piece": {c.move, left.Left},
			"largest during": {c.during, left.During}, "at 0.2 s": {c.amid, deflection(t, p, 0.2, tone)}, "at its end": {c.end, deflection(t, p, p.Duration(), tone)},
		} {
			rows = append(rows, verify.Row{Name: fmt.Sprintf("%s, %g Hz, ζ %g [m]", name, c.f, c.zeta), Source: duhamel, Kind: verify.Own, Want: v[0], Got: v[1], Tol: 1e-9, Why: why})
		}
	}
	verify.Table(t, rows)
}

// A steady push overshoots its rest by e^(−πζ/√(1−ζ²)).
func TestCheckOvershoot(t *testing.T) {
	var rows []verify.Row
	const f = 20.0
	for zeta, want := range map[float64]float64{0.005: 0.9844145701, 0.01: 0.9690709040, 0.02: 0.9390895629, 0.05: 0.8544678930, 0.1: 0.7292476143, 0.2: 0.5266205993} {
		r := respond(t, frame.Profile{{Duration: 3, Acceleration: -2}}, frame.Tone{Frequency: f, Damping: zeta, Share: 1})
		rows = append(rows, verify.Row{Name: fmt.Sprintf("overshoot, ζ %g", zeta), Source: "e^(−πζ/√(1−ζ²)) in 30 digits", Kind: verify.Own,
			Want: want, Got: r.During*4*math.Pi*math.Pi*f*f/2 - 1, Tol: 1.2e-10, Why: "ten digits printed"})
	}
	verify.Table(t, rows)
}

func TestResponseRefuses(t *testing.T) {
	_, err := frame.Profile{}.Response(frame.Tone{Frequency: 1, Damping: 0.5})
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.ErrorContains(t, err, "frame.Profile: pieces")
	assert.ErrorContains(t, err, "tone 0: frame.Tone.Damping = 0.5: allowed 0 to 0.3")
	p := frame.Profile{{Duration: 1, Acceleration: 1}}
	_, err = p.Response()
	assert.ErrorContains(t, err, "frame: tones = 0")
	_, err = p.Deflection(-1, frame.Tone{Frequency: 1})
	assert.ErrorContains(t, err, "time")
	_, err = p.Settling(0, frame.Tone{Frequency: 1})
	assert.ErrorContains(t, err, "band")
	_, err = p.Settling(1e-3, frame.Tone{Frequency: 1.3, Share: 1}, frame.Tone{Frequency: 3, Share: 1, Damping: 0.1})
	assert.ErrorIs(t, err, frame.ErrNeverSettles)
	assert.ErrorContains(t, err, "times the band")
	_, err = frame.Move{}.RingingOf(frame.Tone{Frequency: -1})
	assert.ErrorContains(t, err, "frame.Move.Speed")
	assert.ErrorContains(t, err, "frame.Tone.Frequency")
}
