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

// timed is the move of a ramp, a cruise and a speed.
func timed(ramp, cruise, speed float64) frame.Move {
	return frame.Move{Distance: speed * (ramp + cruise), Speed: speed, Acceleration: speed / ramp}
}

func ringing(t require.TestingT, m frame.Move, frequency, damping float64) frame.Ringing {
	r, err := m.Ringing(frequency, damping)
	require.NoError(t, err)
	return r
}

func TestCheckRinging(t *testing.T) {
	var rows []verify.Row
	const closed = "R. Ayre in Harris, Shock and Vibration Handbook, ch. 8, closed form by hand"
	const sum = "sum of damped free vibrations, own, checked by integration"
	for _, c := range []struct{ ramp, cruise, after, move, damped float64 }{
		{0.05, 0.2, 0, 0, 6.979280e-6}, {0.04, 0.2, 1.8610968e-4, 2.1878505e-4, 1.7487345e-4},
		{0.025, 0.2, 5.0660592e-4, 1.01321184e-3, 7.7036269e-4}, {0.0333, 0, 3.2977714e-4, 5.7188019e-4, 5.2755066e-4},
	} {
		m := timed(c.ramp, c.cruise, 0.1)
		r, d := ringing(t, m, 20, 0), ringing(t, m, 20, 0.02)
		name := fmt.Sprintf(" 20 Hz, ramp %g s, cruise %g s [m]", c.ramp, c.cruise)
		why := "eight digits printed"
		tol := 2e-8
		if c.after == 0 {
			tol, why = 1e-15, "rounding of an amplitude of 1e-4"
		}
		rows = append(rows,
			verify.Row{Name: "after ramp" + name, Source: closed, Kind: verify.Own, Want: c.after, Got: r.AfterRamp, Tol: tol, Why: why},
			verify.Row{Name: "after move" + name, Source: closed, Kind: verify.Own, Want: c.move, Got: r.AfterMove, Tol: tol, Why: why},
			verify.Row{Name: "after move, ζ 0.02," + name, Source: sum, Kind: verify.Own, Want: c.damped, Got: d.AfterMove, Tol: 1e-7, Why: "seven digits printed"})
	}
	// (V/ω)|sinc f·ta| after a ramp to V.
	for x, want := range map[float64]float64{0.25: 0.90031632, 0.5: 0.63661977, 0.75: 0.30010544, 1: 0, 1.25: 0.18006326, 1.5: 0.21220659, 2.5: 0.12732395} {
		r := ringing(t, timed(x/10, 1, 0.1), 10, 0)
		tol := 1e-15
		if want != 0 {
			tol = 6e-9 / want
		}
		rows = append(rows, verify.Row{Name: fmt.Sprintf("|sinc %g|", x), Source: closed, Kind: verify.Own, Want: want, Got: r.AfterRamp * 20 * math.Pi / 0.1, Tol: math.Max(tol, 1e-15), Why: "eight decimals printed"})
	}
	verify.Table(t, rows)
}

func TestCheckDamping(t *testing.T) {
	const env = "ENV 1991-2-4:1995, Annex C, steel bridges"
	var rows []verify.Row
	for _, c := range []struct{ delta, percent float64 }{{frame.WeldedDecrement, 0.318}, {frame.TightBoltedDecrement, 0.477}, {frame.BoltedDecrement, 0.796}} {
		z, err := frame.DampingRatio(c.delta)
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("ζ of δ = %g [%%]", c.delta), Source: env + ", δ; ζ = δ/2π", Kind: verify.Own, Want: c.percent, Got: 100 * z, Tol: 0.0006 / c.percent, Why: "three digits printed"})
	}
	const exact = "δ = 2πζ/√(1−ζ²) and ω·t = −ln(0.02√(1−ζ²))/ζ by 30-digit arithmetic"
	for _, c := range []struct{ zeta, delta, settle float64 }{
		{0.005, 0.03141631924, 782.4071011}, {0.01, 0.06283499490, 391.2073008}, {0.02, 0.1256888464, 195.6111523},
		{0.05, 0.3145527023, 78.26549141}, {0.1, 0.6314838834, 39.17048173}, {0.2, 1.282549830, 19.66217001},
	} {
		z, err := frame.DampingRatio(c.delta)
		require.NoError(t, err)
		s, err := frame.SettlingTime(1/(2*math.Pi), c.zeta, 1/math.Sqrt(1-c.zeta*c.zeta), 0.02)
		require.NoError(t, err)
		rows = append(rows,
			verify.Row{Name: fmt.Sprintf("ζ of δ = %g", c.delta), Source: exact, Kind: verify.Own, Want: c.zeta, Got: z, Tol: 6e-10, Why: "ten digits printed"},
			verify.Row{Name: fmt.Sprintf("2 %% settling of a step, ζ = %g", c.zeta), Source: exact, Kind: verify.Own, Want: c.settle, Got: s, Tol: 6e-10, Why: "ten digits printed"})
	}
	const thomson = "Thomson, Dahleh, Theory of Vibration with Applications, Ex. 2.6-2"
	z, err := frame.DampingRatio(0.429)
	require.NoError(t, err)
	rows = append(rows, verify.Row{Name: "ζ of δ = 0.429", Source: thomson, Kind: verify.Memory, Want: 0.0681, Got: z, Tol: 0.0008, Why: "three digits printed"})
	verify.Table(t, rows)
}

// The slow twin integrates the mass on its spring through the move, by the
// fourth-order rule of Runge and Kutta.
func TestPropertyRingingMatchesIntegration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := frametest.Moves().Draw(t, "move")
		ramp, cruise := m.Times()
		frequency := draw.Log(0.3, 5).Draw(t, "cycles") / (ramp + cruise)
		damping := draw.Uniform(0, 0.3).Draw(t, "damping")
		omega := 2 * math.Pi * frequency
		u, v := 0.0, 0.0 // relative to the base
		through := func(a, time float64) float64 {
			steps := math.Ceil(300 * (frequency*time + 0.1))
			h := time / steps
			accel := func(u, v float64) float64 { return -a - 2*damping*omega*v - omega*omega*u }
			for range int(steps) {
				k1, l1 := v, accel(u, v)
				k2, l2 := v+h/2*l1, accel(u+h/2*k1, v+h/2*l1)
				k3, l3 := v+h/2*l2, accel(u+h/2*k2, v+h/2*l2)
				k4, l4 := v+h*l3, accel(u+h*k3, v+h*l3)
				u += h / 6 * (k1 + 2*k2 + 2*k3 + k4)
				v += h / 6 * (l1 + 2*l2 + 2*l3 + l4)
			}
			return math.Hypot(u, (v+damping*omega*u)/(omega*math.Sqrt(1-damping*damping)))
		}
		after := through(m.Acceleration, ramp)
		through(0, cruise)
		end := through(-m.Acceleration, ramp)
		r := ringing(t, m, frequency, damping)
		require.InDelta(t, 1, 1+(r.AfterRamp-after)/r.Worst, 1e-6)
		require.InDelta(t, 1, 1+(r.AfterMove-end)/r.Worst, 1e-6)
	})
}

func TestPropertyRinging(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := frametest.Moves().Draw(t, "move")
		frequency := draw.Log(1, 1000).Draw(t, "frequency")
		damping := draw.Uniform(0, 0.3).Draw(t, "damping")
		ramp, cruise := m.Times()
		require.InEpsilon(t, m.Distance, m.Peak()*(ramp+cruise), 1e-9)
		require.InEpsilon(t, m.Peak(), m.Acceleration*ramp, 1e-9)
		require.LessOrEqual(t, m.Peak(), m.Speed)
		if cruise == 0 {
			require.InEpsilon(t, m.Distance, m.Acceleration*ramp*ramp, 1e-9)
		}
		r, free := ringing(t, m, frequency, damping), ringing(t, m, frequency, 0)
		for _, v := range []float64{r.AfterRamp, r.AfterMove, free.AfterRamp, free.AfterMove} {
			require.LessOrEqual(t, v, r.Worst*(1+1e-12))
		}
		require.LessOrEqual(t, r.AfterRamp, r.Worst/2*(1+1e-12))
		// Slow moves ring little however hard they start; two half-period steps of speed reach the bound.
		require.LessOrEqual(t, r.Worst, 2*m.Peak()/(2*math.Pi*frequency)*1.05)
		jerk := ringing(t, timed(0.01/frequency, 0.49/frequency, m.Speed), frequency, 0) // a step but for (0.01π)²/6
		require.InEpsilon(t, 2*m.Speed/(2*math.Pi*frequency), jerk.AfterMove, 2e-4)
		require.InEpsilon(t, jerk.Worst, jerk.AfterMove, 2e-4)
		// The undamped closed form.
		omega := 2 * math.Pi * frequency
		unit := m.Acceleration / (omega * omega)
		sin := math.Abs(math.Sin(math.Pi * frequency * ramp))
		require.InDelta(t, 2*sin, free.AfterRamp/unit, 1e-9)
		require.InDelta(t, 4*sin*math.Abs(math.Sin(math.Pi*frequency*(ramp+cruise))), free.AfterMove/unit, 1e-9)
		// Proportional to length; the same with all times scaled.
		s := draw.Log(0.1, 10).Draw(t, "factor")
		twice := ringing(t, frame.Move{Distance: s * m.Distance, Speed: s * m.Speed, Acceleration: s * m.Acceleration}, frequency, damping)
		slow := ringing(t, frame.Move{Distance: m.Distance, Speed: m.Speed / s, Acceleration: m.Acceleration / (s * s)}, frequency/s, damping)
		for _, p := range [][3]float64{{r.AfterRamp, twice.AfterRamp, slow.AfterRamp}, {r.AfterMove, twice.AfterMove, slow.AfterMove}, {r.Worst, twice.Worst, slow.Worst}} {
			require.InDelta(t, p[0]/unit, p[1]/unit/s, 1e-9)
			require.InDelta(t, p[0]/unit, p[2]/unit, 1e-8)
		}
		// A ramp of whole periods leaves nothing behind.
		whole := float64(rapid.IntRange(1, 20).Draw(t, "periods"))
		tuned := ringing(t, timed(whole/frequency, 1/frequency, m.Speed), frequency, 0)
		require.Less(t, tuned.AfterRamp, 1e-12*tuned.Worst)
		require.Less(t, tuned.AfterMove, 1e-12*tuned.Worst)
		// The acceleration allowed rings by just the ripple when all is at its worst:
		// ramps of half a period, half a period apart.
		ripple := draw.Log(1e-6, 1e-3).Draw(t, "ripple")
		a, err := frame.LargestAcceleration(frequency, ripple)
		require.NoError(t, err)
		half := 0.5 / frequency
		worst := timed(half, 2*half, a*half)
		require.InEpsilon(t, ripple, ringing(t, worst, frequency, 0).AfterMove, 1e-9)
		u, err := worst.Utilisation(frequency, 0, ripple)
		require.NoError(t, err)
		require.InEpsilon(t, 1, u.Safety(), 1e-9)
		u, err = m.Utilisation(frequency, damping, ripple)
		require.NoError(t, err)
		require.InEpsilon(t, math.Max(r.AfterRamp, r.AfterMove), u.Demand, 1e-12)
		// Settled is settled.
		if damping > 0.001 && r.AfterMove > ripple {
			time, err := frame.SettlingTime(frequency, damping, r.AfterMove, ripple)
			require.NoError(t, err)
			require.InEpsilon(t, ripple, r.AfterMove*math.Exp(-damping*omega*time), 1e-9)
		}
	})
}

func TestMoveRefuses(t *testing.T) {
	_, err := frame.Move{Distance: -1, Speed: math.Inf(1)}.Ringing(0, 0.5)
	assert.ErrorIs(t, err, material.ErrInvalid)
	for _, field := range []string{"frame.Move.Distance", "frame.Move.Speed", "frame.Move.Acceleration", "frequency", "damping"} {
		assert.ErrorContains(t, err, field)
	}
	_, err = frame.SettlingTime(20, 0, 2e-4, 1e-4)
	assert.ErrorIs(t, err, frame.ErrNeverSettles)
	assert.NotErrorIs(t, err, material.ErrInvalid)
	assert.ErrorContains(t, err, "2 times")
	s, err := frame.SettlingTime(20, 0, 1e-4, 1e-4)
	assert.NoError(t, err)
	assert.Zero(t, s)
	_, err = frame.LargestAcceleration(-1, 0)
	assert.ErrorContains(t, err, "ripple")
	_, err = frame.Move{}.Utilisation(1, 0, 0)
	assert.ErrorContains(t, err, "ripple")
	_, err = frame.DampingRatio(-1)
	assert.ErrorIs(t, err, material.ErrInvalid)
}

func TestBitsMove(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := frametest.Moves().Draw(t, "move")
		frequency, damping, ripple, amplitude := 20.0, 0.01, 1e-4, 1e-3
		spoil(t, &m.Distance, &m.Speed, &m.Acceleration, &frequency, &damping, &ripple, &amplitude)
		r, err := m.Ringing(frequency, damping)
		finite(t, err, r.AfterRamp, r.AfterMove, r.Worst)
		u, err := m.Utilisation(frequency, damping, ripple)
		finite(t, err, u.Demand, u.Capacity)
		a, err := frame.LargestAcceleration(frequency, ripple)
		finite(t, err, a)
		s, err := frame.SettlingTime(frequency, damping, amplitude, ripple)
		if !errors.Is(err, frame.ErrNeverSettles) {
			finite(t, err, s)
		}
		z, err := frame.DampingRatio(amplitude)
		finite(t, err, z)
		if m.Validate() == nil {
			ramp, cruise := m.Times()
			finite(t, nil, ramp, cruise)
			require.GreaterOrEqual(t, cruise, 0.0)
		}
	})
}

func ExampleMove_Ringing() {
	m := frame.Move{Distance: 0.024, Speed: 0.1, Acceleration: 2.5}
	zeta, err := frame.DampingRatio(frame.BoltedDecrement)
	if err != nil {
		panic(err)
	}
	r, err := m.Ringing(20, zeta)
	if err != nil {
		panic(err)
	}
	settle, err := frame.SettlingTime(20, zeta, r.AfterMove, 50e-6)
	if err != nil {
		panic(err)
	}
	a, err := frame.LargestAcceleration(20, 50e-6)
	if err != nil {
		panic(err)
	}
	fmt.Printf("%.0f µm after the ramp, %.0f µm after the move, %.2g s until within 50 µm\n", r.AfterRamp*1e6, r.AfterMove*1e6, settle)
	fmt.Printf("never above 50 µm: %.2g m/s²\n", a)
	// Output:
	// 183 µm after the ramp, 194 µm after the move, 1.4 s until within 50 µm
	// never above 50 µm: 0.2 m/s²
}
