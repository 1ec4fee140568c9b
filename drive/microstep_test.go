package drive_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/drive/drivetest"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
)

const deg = math.Pi / 180

func TestCheckPhaseCurrents(t *testing.T) {
	own := func(name, how string, want, got, tol float64, why string) verify.Row {
		return verify.Row{Name: name, Source: how, Kind: verify.Own, Want: want, Got: got, Tol: tol, Why: why}
	}
	asPeak := drive.Stepper{HoldingTorque: 1.9, Current: drive.RMS(2.8), Resistance: 1.1, Inductance: 3.6e-3, RotorTeeth: 50}
	const scan = "largest q-current within both circles, constrained optimiser"
	verify.Table(t, []verify.Row{
		own("amplitude of 2.8 A rms, A", "2.8√2 in decimal arithmetic", 3.95979797, drive.Peak(2.8), 1.3e-9, "nine digits given"),
		own("one phase on at 2.8 A, N·m", "1.9/√2", 1.34350288, big.TorqueConstant()*2.8, 3.8e-9, "nine digits given"),
		own("2.8 A taken as amplitude: torque constant", "1.9/2.8", 0.67857, asPeak.TorqueConstant(), 3e-6, "five digits given"),
		own("2.8 A taken as amplitude: 450 rpm, N·m", scan, 1.7998278, pullOut(t, asPeak, 450, drive.RMS(2.8), 36).Torque, 3e-8, "eight digits given"),
		own("2.8 A taken as amplitude: 900 rpm, N·m", scan, 0.9523545, pullOut(t, asPeak, 900, drive.RMS(2.8), 36).Torque, 5.3e-8, "seven digits given"),
		own("2.8 A taken as amplitude: 1500 rpm, N·m", scan, 0.4079416, pullOut(t, asPeak, 1500, drive.RMS(2.8), 36).Torque, 1.3e-7, "seven digits given"),
	})
	assert.InEpsilon(t, 3.0, drive.RMS(drive.Peak(3)), 1e-15)
}

func TestCheckMicrostep(t *testing.T) {
	var rows []verify.Row
	for _, c := range []struct {
		microsteps int
		torque     float64
	}{
		{1, 1.9}, {2, 1.34350288}, {4, 0.72709852}, {8, 0.37067161}, {16, 0.18623257}, {32, 0.09322858},
		{64, 0.04662833}, {128, 0.02331592}, {256, 0.01165818},
	} {
		m, err := big.Microstep(c.microsteps, 2.8)
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: "torque of a micro-step, N·m", Source: "1.9·sin(90°/m) in decimal arithmetic", Kind: verify.Own,
			Want: c.torque, Got: m.Torque, Tol: 0.51e-8 / c.torque, Why: "eight decimals given"})
	}
	// The current fractions that drivers tabulate, in percent.
	for _, c := range []struct {
		microsteps int
		percent    float64
	}{{2, 70.71}, {4, 38.27}, {8, 19.51}, {16, 9.80}, {32, 4.91}, {64, 2.45}, {128, 1.23}, {256, 0.61}} {
		m, err := big.Microstep(c.microsteps, 2.8)
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: "first step of a coil's current, %", Source: "table in drivers' data sheets", Kind: verify.Practice,
			Want: c.percent, Got: 100 * m.Torque / 1.9, Tol: 0.0051 / c.percent, Why: "two decimals printed"})
	}
	m, err := big.Microstep(16, 1.4)
	require.NoError(t, err)
	rows = append(rows,
		verify.Row{Name: "half the current, sixteenth, N·m", Source: "half of the row above", Kind: verify.Own, Want: 0.093116285, Got: m.Torque, Tol: 6e-8, Why: "half of eight decimals"},
		verify.Row{Name: "sixteenth of a step of 1.8°, °", Source: "1.8/16", Kind: verify.Own, Want: 0.1125, Got: m.Angle / deg, Tol: 1e-14, Why: "exact"})
	verify.Table(t, rows)
}

func TestCheckHold(t *testing.T) {
	var rows []verify.Row
	for _, c := range []struct{ torque, lag, stiffness float64 }{
		{0.1, 0.06033923, 94.8683298}, {0.5, 0.30515047, 91.6515139}, {0.95, 0.6, 82.2724134}, {1.5, 1.04272707, 58.3095189}, {1.8, 1.42656564, 30.4138127},
	} {
		h, err := big.Hold(c.torque, 2.8)
		require.NoError(t, err)
		rows = append(rows,
			verify.Row{Name: "lag under a torque, °", Source: "asin(T/1.9)/50 in decimal arithmetic", Kind: verify.Own, Want: c.lag, Got: h.Lag / deg, Tol: 0.51e-8 / c.lag, Why: "eight decimals given"},
			verify.Row{Name: "stiffness, N·m/rad", Source: "50·1.9·cos(50·lag) in decimal arithmetic", Kind: verify.Own, Want: c.stiffness, Got: h.Stiffness, Tol: 0.51e-7 / c.stiffness, Why: "seven decimals given"})
	}
	idle, err := big.Hold(0, 2.8)
	require.NoError(t, err)
	step, err := small.Hold(0.2, 1.5/math.Sqrt2)
	require.NoError(t, err)
	free, err := small.Hold(0, 1.5/math.Sqrt2)
	require.NoError(t, err)
	atScrew, err := drive.StiffnessAtScrew(free.Stiffness, 5, 243.289)
	require.NoError(t, err)
	rows = append(rows,
		verify.Row{Name: "stiffness without load, N·m/rad", Source: "(π/2)·h/S of a sine with a period of four steps, S = 1.8° in rad", Kind: verify.Own,
			Want: math.Pi / 2 * 1.9 / (1.8 * deg), Got: idle.Stiffness, Tol: 1e-14, Why: "rounding"},
		verify.Row{Name: "small motor, stiffness, N·m/rad", Source: "50·0.45", Kind: verify.Own, Want: 22.5, Got: free.Stiffness, Tol: 1e-14, Why: "exact"},
		verify.Row{Name: "small motor, lag, °", Source: "asin(0.2/0.45)/50 in decimal arithmetic", Kind: verify.Own, Want: 0.527756, Got: step.Lag / deg, Tol: 9.6e-7, Why: "six digits given"},
		verify.Row{Name: "in series at the screw, N·m/rad", Source: "1/(1/562.5 + 1/243.289) in decimal arithmetic", Kind: verify.Own, Want: 169.8336, Got: atScrew, Tol: 3e-7, Why: "seven digits given"})
	verify.Table(t, rows)
}

// Lag is the inverse of the torque curve, and stiffness its slope.
func TestPropertyHoldIsTheTorqueCurve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drivetest.Steppers().Draw(t, "motor")
		current := s.Current * draw.Uniform(0.1, 1).Draw(t, "current ÷ rated")
		share := draw.Uniform(0.01, 0.98).Draw(t, "share of holding")
		p := float64(s.RotorTeeth)
		full, err := s.Hold(0, current)
		require.NoError(t, err)
		h, err := s.Hold(share*full.Holding, current)
		require.NoError(t, err)
		require.InEpsilon(t, share*full.Holding, full.Holding*math.Sin(p*h.Lag), 1e-12)
		nudge := 1e-4 * h.Lag
		slope := full.Holding * (math.Sin(p*(h.Lag+nudge)) - math.Sin(p*(h.Lag-nudge))) / (2 * nudge)
		require.InEpsilon(t, slope, h.Stiffness, 1e-6)
		require.Less(t, h.Stiffness, full.Stiffness)

		rest, err := s.PullOut(0, current, 1e4) // a supply that drives any current
		require.NoError(t, err)
		require.InEpsilon(t, rest.Torque, full.Holding, 1e-12)

		// A full step is the lag at holding torque; the lag of n micro-steps is their sum.
		step, err := s.Microstep(1, current)
		require.NoError(t, err)
		n := rapid.IntRange(2, 256).Draw(t, "microsteps")
		micro, err := s.Microstep(n, current)
		require.NoError(t, err)
		require.InEpsilon(t, step.Angle, float64(n)*micro.Angle, 1e-12)
		require.Less(t, micro.Torque, step.Torque)
		lag, err := s.Hold(micro.Torque, current)
		require.NoError(t, err)
		require.InEpsilon(t, micro.Angle, lag.Lag, 1e-9)

		shaft := draw.Log(1, 1e4).Draw(t, "shaft")
		ratio := draw.Log(0.5, 50).Draw(t, "ratio")
		k, err := drive.StiffnessAtScrew(h.Stiffness, ratio, shaft)
		require.NoError(t, err)
		require.LessOrEqual(t, k, math.Min(shaft, ratio*ratio*h.Stiffness)*(1+1e-12))
		require.InEpsilon(t, 1/k, 1/shaft+1/(h.Stiffness*ratio*ratio), 1e-12)
	})
}

// Every rotor position that a slow field drags the rotor through, by search.
func TestPropertyDetentLeavesTheWorstPosition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drivetest.Steppers().Draw(t, "motor")
		current := s.Current * draw.Uniform(0.1, 1).Draw(t, "current ÷ rated")
		hold, err := s.Hold(0, current)
		require.NoError(t, err)
		detent := hold.Holding * draw.Uniform(0.001, 0.95).Draw(t, "detent ÷ holding")
		d, err := s.Detent(detent, current)
		require.NoError(t, err)
		least, lag, unstable := math.Inf(1), 0.0, false
		for i := range 360 {
			at := float64(i) * deg // electrical
			pull := detent * math.Sin(4*at)
			least = math.Min(least, hold.Holding-pull)
			lag = math.Max(lag, math.Asin(pull/hold.Holding))
			unstable = unstable || hold.Holding*math.Cos(math.Asin(pull/hold.Holding))+4*detent*math.Cos(4*at) < 0
		}
		// A deg beside the worst position costs 0.02 % of detent.
		require.InDelta(t, least, d.Torque, 0.001*detent)
		require.InEpsilon(t, lag/float64(s.RotorTeeth), d.Lag, 0.03)
		if math.Abs(4*detent/hold.Holding-1) > 1e-3 {
			require.Equal(t, unstable, d.Jumps)
		}
		_, err = s.Detent(detent, d.LeastCurrent*(1+1e-9))
		require.NoError(t, err)
		_, err = s.Detent(detent, d.LeastCurrent*(1-1e-9))
		require.ErrorIs(t, err, drive.ErrOutOfStep)
	})
}

func TestHoldRefuses(t *testing.T) {
	_, err := big.Hold(2, 2.8)
	assert.EqualError(t, err, "motor falls out of step: drive.Stepper.Hold: 2 N·m with 2.8 A, which hold 1.9 N·m")
	_, err = big.Detent(0.1, 0.1)
	assert.EqualError(t, err, "motor falls out of step: drive.Stepper.Detent: 0.1 A hold 0.06786 N·m and the detent 0.1 N·m: above 0.1474 A the rotor follows")
	_, err = big.Microstep(0, 0)
	assert.EqualError(t, err, "drive.Stepper.Microstep: microsteps = 0: allowed 1 to 65536\ndrive.Stepper.Microstep: current = 0 A: allowed 1e-06 to 1000 A")
	_, err = drive.StiffnessAtScrew(0, 5, math.Inf(1))
	assert.ErrorContains(t, err, "drive.StiffnessAtScrew: shaft = +Inf N·m/rad")
	h, err := big.Hold(2, 3)
	require.NoError(t, err)
	assert.NotEmpty(t, h.Beyond)
}
