package drive_test

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/drive/drivetest"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
)

func ownRow(name, how string, want, got, tol float64, why string) verify.Row {
	return verify.Row{Name: name, Source: how, Kind: verify.Own, Want: want, Got: got, Tol: tol, Why: why}
}

func TestCheckResonance(t *testing.T) {
	var rows []verify.Row
	frequency := func(s drive.Stepper, inertia, torque float64) drive.Resonance {
		r, err := s.Resonance(inertia, torque, s.Current)
		require.NoError(t, err)
		return r
	}
	for _, c := range []struct{ inertia, hertz float64 }{{4.8e-5, 223.90372333}, {6.8e-5, 188.11675471}, {2.2e-4, 104.58528733}} {
		rows = append(rows, ownRow("resonance, Hz", "√(πh/2SJ)/2π with S = 1.8° in rad, in decimal arithmetic", c.hertz, frequency(big, c.inertia, 0).Frequency, 5.1e-9/c.hertz, "eight decimals given"))
	}
	rows = append(rows, ownRow("resonance in full steps, rpm", "223.904 steps/s ÷ 200 · 60", 67.17, 60*frequency(big, 4.8e-5, 0).StepSpeed, 7.5e-5, "four digits given"))
	r := frequency(small, 5.4e-6, 0)
	rows = append(rows, ownRow("small motor, resonance, Hz", "√(22.5/5.4e-6)/2π in decimal arithmetic", 324.8737, r.Frequency, 1.6e-7, "seven digits given"))
	for _, c := range []struct{ degrees, hertz float64 }{{1, 324.8675}, {45, 312.3865}, {90, 275.2372}, {120, 236.6365}} {
		rows = append(rows, ownRow("small motor, finite swings, Hz", "period of a pendulum by elliptic integral, 30 digits", c.hertz, r.Swing(c.degrees*deg), 5.1e-5/c.hertz, "four decimals given"))
	}
	rows = append(rows, ownRow("stiffness at half the torque lowers it by", "(1 − 1/4)^(1/4)", math.Pow(0.75, 0.25),
		frequency(small, 5.4e-6, 0.225).Frequency/r.Frequency, 1e-14, "exact"))
	verify.Table(t, rows)
}

func TestCheckCurrentRise(t *testing.T) {
	rise := func(s drive.Stepper, level, supply float64) drive.CurrentRise {
		r, err := s.CurrentRise(level, supply)
		require.NoError(t, err)
		return r
	}
	const how = "τ·ln of the ratio of what is missing before and after, in decimal arithmetic"
	ideal := big
	ideal.Resistance = 1e-4
	verify.Table(t, []verify.Row{
		ownRow("0 to 2.8 A, ms", how, 0.29270802, 1e3*rise(big, 2.8, 36).FromZero, 1.8e-8, "eight digits given"),
		ownRow("0 to 3.9598 A, ms", how, 0.42206190, 1e3*rise(big, 2.8*math.Sqrt2, 36).FromZero, 1.2e-8, "eight digits given"),
		ownRow("−2.8 to 2.8 A, ms", how, 0.56137239, 1e3*rise(big, 2.8, 36).Reversal, 0.9e-8, "eight digits given"),
		ownRow("small motor, 0 to 1.5 A, ms", how, 0.21108127, 1e3*rise(small, 1.5, 24).FromZero, 2.4e-8, "eight digits given"),
		{Name: "rule V/(2LI·200), rev/s", Source: "designers' rule for the highest speed in full steps", Kind: verify.Practice,
			Want: 8.9285714, Got: rise(ideal, 2.8, 36).StepSpeed, Tol: 5.7e-9, Why: "eight digits given; 0.1 mΩ in place of none costs 2e-11"},
	})
	_, err := big.CurrentRise(10, 11)
	assert.ErrorIs(t, err, drive.ErrCurrent)
	assert.EqualError(t, err, "supply cannot drive the current: drive.Stepper.CurrentRise: 10 A through 1.1 Ω take 11 V, the supply has 11 V")
}

// The same rise by small steps of L·di/dt = V − R·i.
func TestPropertyCurrentRiseByIntegration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drivetest.Steppers().Draw(t, "motor")
		level := s.Current * draw.Uniform(0.1, 1).Draw(t, "level ÷ rated")
		supply := s.Resistance * level * draw.Log(1.1, 20).Draw(t, "supply ÷ drop")
		supply = math.Max(supply, 0.1)
		r, err := s.CurrentRise(level, supply)
		require.NoError(t, err)
		const n = 400
		step := func(from float64) (sum float64) { // Simpson of L/(V − R·i) over the current
			h := (level - from) / n
			for i := range n + 1 {
				weight := 2 + 2*float64(i%2)
				if i == 0 || i == n {
					weight = 1
				}
				sum += weight * s.Inductance / (supply - s.Resistance*(from+h*float64(i)))
			}
			return sum * h / 3
		}
		require.InEpsilon(t, step(0), r.FromZero, 1e-6)
		require.InEpsilon(t, step(-level), r.Reversal, 1e-6)
		require.InEpsilon(t, 1, r.StepSpeed*r.Reversal*4*float64(s.RotorTeeth), 1e-12)
	})
}

func TestCheckAcceleration(t *testing.T) {
	plain := drive.Train{Rotor: 4.8e-5, Screw: 3e-3, Ratio: 5, Efficiency: 1}
	run, err := plain.Accelerate(1, 0.1, 0)
	require.NoError(t, err)
	light := drive.Train{Rotor: 5.4e-6, Screw: 2e-5, Ratio: 5.18, Efficiency: 1}
	quick, err := light.Accelerate(10/5.18, 0.1, 0)
	require.NoError(t, err)
	loaded := drive.Train{Rotor: 4.8e-5, Screw: 3e-3, Ratio: 5, Efficiency: 0.9}
	static, err := loaded.Accelerate(1e-6, 1e6, 4)
	require.NoError(t, err)
	verify.Table(t, []verify.Row{
		ownRow("inertia at the motor, kg·m²", "4.8e-5 + 3e-3/25", 1.68e-4, plain.Inertia(), 1e-14, "exact"),
		ownRow("0 to 300 rpm in 0.1 s, N·m", "1.68e-4·314.159265 in decimal arithmetic", 0.05277876, run.MotorTorque, 9.5e-8, "eight decimals given"),
		ownRow("its rate, rad/s²", "10π/0.1", 314.159265, run.Rate, 1.6e-9, "nine digits given"),
		ownRow("reflected inertia, kg·m²", "2e-5/5.18²", 7.453675e-7, light.Inertia()-5.4e-6, 6.8e-8, "seven digits given"),
		ownRow("0 to 600 rpm in 0.1 s, N·m", "6.1453675e-6·628.3185 in decimal arithmetic", 3.861248e-3, quick.MotorTorque, 1.3e-7, "seven digits given"),
		ownRow("4 N·m through 5:1 at 90 %, N·m", "4/4.5", 0.88888889, static.LoadTorque, 5.7e-9, "eight digits given"),
		ownRow("best ratio", "√(3e-3/4.8e-5)", 7.90569415, plain.BestRatio(), 6.4e-10, "nine digits given"),
	})
}

func TestCheckTurnBack(t *testing.T) {
	train := drive.Train{Rotor: 6.8e-5, Screw: 5e-5, Ratio: 5, Efficiency: 0.9, Backlash: 0.175 * deg}
	const how = "time along the fastest profile of speed against angle, by quadrature"
	quick, err := train.TurnBack(math.Pi/2, 10, 1.2, 4)
	require.NoError(t, err)
	slow, err := train.TurnBack(math.Pi/2, 1, 1.2, 4)
	require.NoError(t, err)
	verify.Table(t, []verify.Row{
		ownRow("quarter turn, speed not reached, s", how, 0.08429004400991513, quick.Time, 1e-12, "rounding"),
		ownRow("its highest motor speed, rev/s", how, 29.717164589645503, quick.MotorSpeed, 1e-12, "rounding"),
		ownRow("quarter turn, 1 rev/s at the screw, s", how, 0.2575771345292138, slow.Time, 1e-12, "rounding"),
		ownRow("rate of the motor, rad/s²", how, 4430.379746835443, slow.Rate, 1e-12, "rounding"),
		ownRow("play as a motor angle, °", "0.175·5", 0.875, slow.Lost*slow.MotorAngle/deg, 1e-12, "exact"),
	})
	_, err = train.TurnBack(1, 1, 1, 4.5)
	assert.ErrorIs(t, err, drive.ErrOutOfStep)
	assert.EqualError(t, err, "motor falls out of step: drive.Train.TurnBack: the screw takes 1 N·m of the motor's 1 N·m and leaves none to turn it back")
}

// What the motor gives goes into load, losses and speed.
func TestPropertyRunUpKeepsEnergy(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		train := drivetest.Trains().Draw(t, "train")
		speed, time, torque := draw.Log(0.1, 10).Draw(t, "speed"), draw.Log(0.01, 10).Draw(t, "time"), draw.Log(0.01, 20).Draw(t, "torque")
		a, err := train.Accelerate(speed, time, torque)
		require.NoError(t, err)
		w := 2 * math.Pi * speed
		screw := train.Screw*w*w/2 + torque*a.ScrewAngle
		motor := (train.Rotor+train.Gear)*w*w*train.Ratio*train.Ratio/2 + screw/train.Efficiency
		require.InEpsilon(t, motor, a.MotorTorque*a.ScrewAngle*train.Ratio, 1e-12)

		same, err := train.AccelerateOver(speed, a.ScrewAngle, torque)
		require.NoError(t, err)
		require.InEpsilon(t, a.Time, same.Time, 1e-12)
		require.InEpsilon(t, a.MotorTorque, same.MotorTorque, 1e-12)

		// Without loss the best ratio needs the least torque for the same screw.
		train.Efficiency = 1
		best := train
		best.Ratio = math.Max(0.01, train.BestRatio())
		least, err := best.Accelerate(speed, time, 0)
		require.NoError(t, err)
		other, err := train.Accelerate(speed, time, 0)
		require.NoError(t, err)
		require.LessOrEqual(t, least.InertiaTorque, other.InertiaTorque*(1+1e-12))
	})
}

func TestPropertyTurnBack(t *testing.T) {
	met, short, tries := 0.0, 0.0, 0.0
	rapid.Check(t, func(t *rapid.T) {
		tries++
		train := drivetest.Trains().Draw(t, "train")
		angle, speed := draw.Log(0.1, 30).Draw(t, "angle"), draw.Log(0.1, 30).Draw(t, "speed")
		motor := draw.Log(0.05, 5).Draw(t, "motor torque")
		screw := motor * train.Ratio * train.Efficiency * draw.Uniform(0, 0.95).Draw(t, "load share")
		b, err := train.TurnBack(angle, speed, motor, screw)
		require.NoError(t, err)
		require.LessOrEqual(t, b.MotorSpeed, speed*train.Ratio*(1+1e-12))
		// The way is the mean speed times the time; a run-up of half the triangle agrees.
		top := 2 * math.Pi * b.MotorSpeed
		require.InEpsilon(t, b.MotorAngle, top*(b.Time-top/b.Rate), 1e-9)
		if top/b.Rate >= 1e-6 { // shorter times are refused
			up, err := train.Accelerate(b.MotorSpeed/train.Ratio, top/b.Rate, screw)
			require.NoError(t, err)
			require.InEpsilon(t, motor, up.MotorTorque, 1e-9)
		}
		if b.MotorSpeed < speed*train.Ratio*(1-1e-9) {
			short++
		} else {
			met++
		}
		looser := train
		looser.Backlash += 0.01
		c, err := looser.TurnBack(angle, speed, motor, screw)
		require.NoError(t, err)
		require.Greater(t, c.Time, b.Time)
		c, err = train.TurnBack(angle, speed, motor*1.1, screw)
		require.NoError(t, err)
		require.Less(t, c.Time, b.Time)
		c, err = train.TurnBack(angle, speed*1.1, motor, screw)
		require.NoError(t, err)
		require.LessOrEqual(t, c.Time, b.Time*(1+1e-12))
	})
	assert.Greater(t, met, 0.05*tries)
	assert.Greater(t, short, 0.05*tries)
}

func TestCheckStart(t *testing.T) {
	var rows []verify.Row
	for _, c := range []struct{ torque, speed float64 }{{0, 4.787262973374}, {0.4, 3.981062273693}, {0.8, 3.134250282508}, {1.6, 1.169034399621}} {
		s, err := big.Start(1.68e-4, c.torque, 2.8, 36)
		require.NoError(t, err)
		assert.Empty(t, s.Beyond)
		rows = append(rows, ownRow("start without a ramp, rev/s", "motion of the rotor from rest integrated (8th order, 1e-12), speed bisected between caught and lost",
			c.speed, s.Speed, 1e-11, "thirteen digits given, twelve alike in both"))
	}
	s, err := big.Start(1e-5, 0, 2.8, 36)
	require.NoError(t, err)
	assert.Contains(t, strings.Join(s.Beyond, "; "), "above the end of full torque")
	s, err = big.Start(1e-5, 0, 3, 36)
	require.NoError(t, err)
	assert.Contains(t, strings.Join(s.Beyond, "; "), "saturation")
	assert.Contains(t, strings.Join(s.Beyond, "; "), "above the end of full torque")
	s, err = big.Start(1e-3, 0, 3, 36)
	require.NoError(t, err)
	assert.Contains(t, strings.Join(s.Beyond, "; "), "saturation")
	_, err = big.Start(1e-3, 2, 2.8, 36)
	assert.EqualError(t, err, "motor falls out of step: drive.Stepper.Start: 2 N·m with 2.8 A, which hold 1.9 N·m")
	full, _, err := big.Corners(2.8, 36)
	require.NoError(t, err)
	atCorner := 1.68e-4 * math.Pow(4.787262973374/full, 2) // speed goes with 1/√inertia
	s, err = big.Start(1.01*atCorner, 0, 2.8, 36)
	require.NoError(t, err)
	assert.Empty(t, s.Beyond)
	s, err = big.Start(0.99*atCorner, 0, 2.8, 36)
	require.NoError(t, err)
	assert.NotEmpty(t, s.Beyond)
	verify.Table(t, rows)
}

func TestPropertyStart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drivetest.Steppers().Draw(t, "motor")
		inertia := draw.Log(1e-6, 1e-2).Draw(t, "inertia")
		speed := func(share, inertia float64) float64 {
			out, err := s.Start(inertia, share*s.HoldingTorque, s.Current, 36)
			require.NoError(t, err)
			return out.Speed
		}
		free := speed(0, inertia)
		r, err := s.Resonance(inertia, 0, s.Current)
		require.NoError(t, err)
		require.InEpsilon(t, 8*r.StepSpeed, free, 1e-12) // two electrical turns in a period of small swings
		require.InEpsilon(t, free, 2*speed(0, 4*inertia), 1e-12)
		a, b := draw.Uniform(0, 0.999).Draw(t, "load"), draw.Uniform(0, 0.999).Draw(t, "other load")
		require.GreaterOrEqual(t, speed(math.Min(a, b), inertia), speed(math.Max(a, b), inertia))
		// Close to holding torque γ² = 2·gap, and sin γ − γ·cos γ = γ³/3.
		gap := draw.Log(1e-10, 1e-4).Draw(t, "gap")
		near := free * math.Sqrt(math.Pow(2*gap, 1.5)/3)
		require.InEpsilon(t, near, speed(1-gap, inertia), 1e-4)
	})
	end, err := big.Start(1e-4, 1.9, 2.8, 36)
	require.NoError(t, err)
	assert.Zero(t, end.Speed)
}

func TestSwingAtTheEnds(t *testing.T) {
	r := drive.Resonance{Frequency: 200}
	for _, small := range []float64{0, -1, math.NaN(), math.Inf(-1)} {
		assert.Equal(t, 200.0, r.Swing(small))
	}
	for _, large := range []float64{math.Pi, 10, math.Inf(1)} {
		assert.Zero(t, r.Swing(large), "balanced on its head")
	}
}
