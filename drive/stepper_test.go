package drive_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/drive/drivetest"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
)

// big is a motor as large small machines use it; small has more magnet flux ÷
// inductance than its current amplitude, so that its current limit always binds.
var (
	big    = drive.Stepper{HoldingTorque: 1.9, Current: 2.8, Resistance: 1.1, Inductance: 3.6e-3, RotorTeeth: 50}
	lowOhm = drive.Stepper{HoldingTorque: 1.2, Current: 4, Resistance: 0.35, Inductance: 0.4e-3, RotorTeeth: 50}
	small  = drive.Stepper{HoldingTorque: 0.45, Current: 1.5 / math.Sqrt2, Resistance: 1.65, Inductance: 3.2e-3, RotorTeeth: 50}
)

func pullOut(t *testing.T, s drive.Stepper, rpm, current, supply float64) drive.PullOut {
	t.Helper()
	p, err := s.PullOut(rpm/60, current, supply)
	require.NoError(t, err)
	return p
}

func TestCheckPullOut(t *testing.T) {
	const (
		scan   = "largest q-current within both circles, scanned over d-current (ternary search, 300 steps)"
		simul  = scan + "; confirmed by integrating the phase equations from zero current"
		digits = "ten digits given"
		seven  = "seven digits given"
	)
	own := func(name, how string, want, got, tol float64, why string) verify.Row {
		return verify.Row{Name: name, Source: how, Kind: verify.Own, Want: want, Got: got, Tol: tol, Why: why}
	}
	at450, at1500 := pullOut(t, big, 450, 2.8, 36), pullOut(t, big, 1500, 2.8, 36)
	at225, rest := pullOut(t, big, 225, 2.8, 36), pullOut(t, big, 0, 2.8, 36)
	const state = "amplitudes from the phasor diagram at the torque scanned"
	rows := []verify.Row{
		own("torque constant, N·m per A amplitude", "1.9/(2.8√2) in decimal arithmetic", 0.47982245866, big.TorqueConstant(), 1e-10, "eleven digits given"),
		own("torque at 225 rpm", simul, 1.9, at225.Torque, 1e-12, "current limit: holding torque exactly"),
		own("torque at 450 rpm", simul, 1.7729048115, at450.Torque, 1e-10, digits),
		own("torque at 900 rpm", simul, 0.9334934024, pullOut(t, big, 900, 2.8, 36).Torque, 1e-10, digits),
		own("torque at 1500 rpm", simul, 0.5607813338, at1500.Torque, 1e-10, digits),
		own("torque at 2400 rpm", scan, 0.3506355178, pullOut(t, big, 2400, 2.8, 36).Torque, 1.5e-10, digits),
		own("torque at 3000 rpm", scan, 0.2805356084, pullOut(t, big, 3000, 2.8, 36).Torque, 1.8e-10, digits),
		own("24 V: torque at 450 rpm", scan, 1.1832195, pullOut(t, big, 450, 2.8, 24).Torque, 1e-7, "eight digits given"),
		own("small motor, 24 V, 600 rpm", scan, 0.4423258232, pullOut(t, small, 600, 1.5/math.Sqrt2, 24).Torque, 1e-9, digits),
		own("small motor, 24 V, 1500 rpm", scan, 0.2016091892, pullOut(t, small, 1500, 1.5/math.Sqrt2, 24).Torque, 1e-9, digits),
		own("small motor, 12 V, 1500 rpm", scan, 0.0508018403, pullOut(t, small, 1500, 1.5/math.Sqrt2, 12).Torque, 1e-8, digits),
		own("small motor, voltage alone, 24 V, 600 rpm", scan+"; Runge-Kutta on the phase equations 0.6168408",
			0.6168407963, pullOut(t, small, 600, 1e3, 24).Torque, 1e-9, digits),
		own("small motor, voltage alone, 12 V, 2000 rpm", scan, 0.0796698910, pullOut(t, small, 2000, 1e3, 12).Torque, 1e-8, digits),
		own("low-ohm motor, 7 V, 300 rpm", scan, 0.8936242746, pullOut(t, lowOhm, 300, 4, 7).Torque, 1e-9, digits),
		own("voltage at 225 rpm", state, 22.963425, at225.Voltage, 1e-7, "eight digits given"),
		own("voltage at standstill", state, 4.355778, rest.Voltage, 2e-7, seven),
		own("voltage at 1500 rpm", "the supply, exactly", 36, at1500.Voltage, 1e-12, "rounding"),
		own("rms current at 450 rpm", "the setting, exactly", 2.8, at450.Current, 1e-12, "rounding"),
		own("rms current at 900 rpm", "phase equations integrated in the stationary frame", 2.327169, pullOut(t, big, 900, 2.8, 36).Current, 3e-7, seven),
		own("rms current at 1500 rpm", "phase equations integrated in the stationary frame", 2.055518, at1500.Current, 3e-7, seven),
		own("shaft power at 450 rpm", state, 83.54617, at450.MechanicalPower, 1e-7, seven),
		own("electrical power at 450 rpm", state, 100.79417, at450.ElectricalPower, 1e-7, "eight digits given"),
		own("copper loss at standstill", "2·R·rms²", 17.248, rest.CopperLoss, 1e-12, "exact"),
	}
	warm, err := big.Warm(material.Celsius(100))
	require.NoError(t, err)
	rows = append(rows, verify.Row{Name: "copper, resistance at 100 °C ÷ at 20 °C", Source: "IEC 60028, (234.5+100)/254.5, rule of −234.5 °C, recomputed",
		Kind: verify.Own, Want: 1.314342, Got: warm.Resistance / big.Resistance, Tol: 4e-7, Why: "seven digits"})
	verify.Table(t, rows)

	assert.Equal(t, drive.CurrentLimited, at225.Regime)
	assert.Equal(t, drive.BothLimited, at450.Regime)
	assert.Equal(t, drive.VoltageLimited, at1500.Regime)
}

// Where torque ends, and what the messages say about it.
func TestOutOfStep(t *testing.T) {
	_, err := small.PullOut(2000.0/60, 1.5/math.Sqrt2, 12)
	assert.ErrorIs(t, err, drive.ErrOutOfStep)
	assert.NotErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "motor falls out of step: drive.Stepper.PullOut: no torque at 33.33 rev/s with 1.061 A on 12 V: torque ends at 31.15 rev/s")

	_, err = big.CurrentFor(0.6, 25, 36)
	assert.ErrorIs(t, err, drive.ErrOutOfStep)
	assert.EqualError(t, err, "motor falls out of step: drive.Stepper.CurrentFor: 0.6 N·m at 25 rev/s: 36 V allow at most 0.5608 N·m")
}

func TestStepperRefuses(t *testing.T) {
	bad := big
	bad.Current, bad.RotorTeeth = math.NaN(), 1
	_, err := bad.PullOut(-1, 2.8, 0)
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "drive.Stepper.Current = NaN A: allowed 0.001 to 1000 A\n"+
		"drive.Stepper.RotorTeeth = 1: allowed 2 to 1000\n"+
		"drive.Stepper.PullOut: speed = -1 rev/s: allowed 0 to 10000 rev/s\n"+
		"drive.Stepper.PullOut: supply = 0 V: allowed 0.1 to 10000 V")
	assert.ErrorIs(t, bad.Validate(), material.ErrInvalid)
	assert.NoError(t, big.Validate())
	_, err = big.Warm(20)
	assert.ErrorContains(t, err, "drive.Stepper.Warm: temperature = 20 K")
	_, err = big.CurrentFor(-1, 1, 36)
	assert.ErrorContains(t, err, "drive.Stepper.CurrentFor: torque = -1 N·m")

	over := pullOut(t, big, 100, 2.81, 36)
	assert.NotEmpty(t, over.Beyond, "above rated current the result must say so")
	assert.Empty(t, pullOut(t, big, 100, 2.8, 36).Beyond)
	assert.Equal(t, "current and voltage limited", drive.BothLimited.String())
	assert.Equal(t, "Regime(7)", drive.Regime(7).String())
}

// driver draws a motor, a current up to rated, a supply, and a speed about the
// one where back-emf and reactance take up the supply.
func driver(t *rapid.T) (s drive.Stepper, speed, current, supply float64) {
	s = drivetest.Steppers().Draw(t, "motor")
	current = s.Current * draw.Uniform(0.1, 1).Draw(t, "current ÷ rated")
	supply = draw.Log(5, 60).Draw(t, "supply")
	perRev := 2 * math.Pi * math.Hypot(s.TorqueConstant(), float64(s.RotorTeeth)*s.Inductance*math.Sqrt2*current)
	speed = supply / perRev * draw.Log(0.3, 3).Draw(t, "relative speed")
	return s, speed, current, supply
}

// torqueAt counts a motor out of step as one without torque.
func torqueAt(t require.TestingT, s drive.Stepper, speed, current, supply float64) float64 {
	p, err := s.PullOut(speed, current, supply)
	if err != nil {
		require.ErrorIs(t, err, drive.ErrOutOfStep)
	}
	return p.Torque
}

// The same torque by search: at each d-current the q-current is bounded by either
// circle; the bound is concave in the d-current.
func TestPropertyPullOutAgreesWithSearch(t *testing.T) {
	seen := map[drive.Regime]float64{}
	tries := 0.0
	rapid.Check(t, func(t *rapid.T) {
		tries++
		s, speed, current, supply := driver(t)
		full, bound, err := s.Corners(current, supply)
		require.NoError(t, err)
		// Any speed, one between the corners and one beyond them.
		between := full + (bound-full)*draw.Uniform(0.01, 0.99).Draw(t, "between")
		for _, speed := range []float64{speed, between, math.Min(1e4, 1.2*bound)} {
			k, limit := s.TorqueConstant(), math.Sqrt2*current
			e := k * 2 * math.Pi * speed
			x := float64(s.RotorTeeth) * 2 * math.Pi * speed * s.Inductance
			z2 := s.Resistance*s.Resistance + x*x
			centre, radius := -e*x/z2, supply/math.Sqrt(z2)
			most := func(d float64) float64 {
				byCurrent := math.Sqrt(math.Max(0, limit*limit-d*d))
				byVoltage := math.Sqrt(math.Max(0, radius*radius-(d-centre)*(d-centre))) - e*s.Resistance/z2
				return math.Min(byCurrent, byVoltage)
			}
			lo, hi := math.Max(-limit, centre-radius), math.Min(limit, centre+radius)
			want := 0.0
			if lo < hi {
				for range 200 {
					if a, b := lo+(hi-lo)/3, hi-(hi-lo)/3; most(a) < most(b) {
						lo = a
					} else {
						hi = b
					}
				}
				want = math.Max(0, k*most((lo+hi)/2))
			}
			p, err := s.PullOut(speed, current, supply)
			if want < 1e-9*s.HoldingTorque {
				require.True(t, err != nil || p.Torque < 1e-6*s.HoldingTorque)
				continue
			}
			require.NoError(t, err)
			seen[p.Regime]++
			require.InEpsilon(t, want, p.Torque, 1e-7)
		}
	})
	for r, share := range map[drive.Regime]float64{drive.CurrentLimited: 0.05, drive.BothLimited: 0.05, drive.VoltageLimited: 0.05} {
		assert.Greater(t, seen[r], share*tries, "%v was hardly tried", r)
	}
}

func TestPropertyPullOutKeepsLimitsAndPower(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, speed, current, supply := driver(t)
		p, err := s.PullOut(speed, current, supply)
		if err != nil {
			return
		}
		require.LessOrEqual(t, p.Current, current*(1+1e-9))
		require.LessOrEqual(t, p.Voltage, supply*(1+1e-6))
		require.LessOrEqual(t, p.Torque, s.HoldingTorque*current/s.Current*(1+1e-12))
		require.InEpsilon(t, p.Torque*2*math.Pi*speed, p.MechanicalPower, 1e-12)
		require.InEpsilon(t, p.MechanicalPower+2*s.Resistance*p.Current*p.Current, p.ElectricalPower, 1e-9)
		// Two phases take at most amplitude × amplitude ÷ 2 each.
		require.LessOrEqual(t, p.ElectricalPower, p.Voltage*p.Current*math.Sqrt2*(1+1e-6))
		switch p.Regime {
		case drive.CurrentLimited:
			require.InEpsilon(t, current, p.Current, 1e-12)
		case drive.BothLimited:
			require.InEpsilon(t, current, p.Current, 1e-6)
			require.InEpsilon(t, supply, p.Voltage, 1e-6)
		case drive.VoltageLimited:
			require.InEpsilon(t, supply, p.Voltage, 1e-9)
		}
	})
}

func TestPropertyPullOutFallsWithSpeedAndResistance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, speed, current, supply := driver(t)
		more := draw.Uniform(1, 3).Draw(t, "factor")
		torque, slack := torqueAt(t, s, speed, current, supply), 1e-9*s.HoldingTorque
		require.LessOrEqual(t, torqueAt(t, s, speed*more, current, supply), torque+slack)
		require.GreaterOrEqual(t, torqueAt(t, s, speed, current*more, supply), torque-slack)
		require.GreaterOrEqual(t, torqueAt(t, s, speed, current, supply*more), torque-slack)
		hot := s
		hot.Resistance *= more
		require.LessOrEqual(t, torqueAt(t, hot, speed, current, supply), torque+slack)
	})
}

// Slowing time k times with windings of k times the flux per volt changes nothing
// but the scale; so does trading current for voltage.
func TestPropertyPullOutScales(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, speed, current, supply := driver(t)
		k := draw.Log(0.3, 3).Draw(t, "scale")
		want := torqueAt(t, s, speed, current, supply)
		slack := 1e-7*want + 1e-9*s.HoldingTorque

		rewound := s
		rewound.Current, rewound.Resistance, rewound.Inductance = s.Current/k, s.Resistance*k*k, s.Inductance*k*k
		require.InDelta(t, want, torqueAt(t, rewound, speed, current/k, supply*k), slack)

		slower := s
		slower.Inductance *= k
		slower.HoldingTorque *= k
		require.InDelta(t, k*want, torqueAt(t, slower, speed/k, current, supply), k*slack)
	})
}

func TestPropertyCurrentForInvertsPullOut(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, speed, current, supply := driver(t)
		p, err := s.PullOut(speed, current, supply)
		if err != nil {
			return
		}
		asked := p.Torque * (1 - 1e-9) // at the end of voltage alone the inverse has a square root
		got, err := s.CurrentFor(asked, speed, supply)
		require.NoError(t, err)
		require.InEpsilon(t, p.Current, got, 1e-3)
		require.LessOrEqual(t, got, current*(1+1e-9))

		part := p.Torque * draw.Uniform(0.01, 0.99).Draw(t, "share of pull-out")
		least, err := s.CurrentFor(part, speed, supply)
		require.NoError(t, err)
		require.InEpsilon(t, part, torqueAt(t, s, speed, least, supply), 1e-6)

		_, err = s.CurrentFor(torqueAt(t, s, speed, 1e3, supply)*1.001, speed, supply)
		require.ErrorIs(t, err, drive.ErrOutOfStep)
	})
}

// A supply that just drives the current puts both corners close to standstill, where
// the meeting of the circles is a small difference of large numbers over a small one.
func TestPropertyPullOutKeepsLimitsAtTheCorner(t *testing.T) {
	tries, both := 0.0, 0.0
	rapid.Check(t, func(t *rapid.T) {
		tries++
		s := drivetest.Steppers().Draw(t, "motor")
		supply := s.Resistance * math.Sqrt2 * s.Current * (1 + draw.Log(1e-15, 1e-2).Draw(t, "supply above R·I"))
		full, bound, err := s.Corners(s.Current, supply)
		require.NoError(t, err)
		require.LessOrEqual(t, full, bound)
		for _, speed := range []float64{full * (1 + 1e-13), full * (1 + 1e-12), full + (bound-full)*draw.Uniform(0, 1).Draw(t, "between")} {
			p, err := s.PullOut(speed, s.Current, supply)
			require.NoError(t, err)
			if p.Regime == drive.BothLimited {
				both++
				require.InEpsilon(t, s.Current, p.Current, 1e-12)
				require.InEpsilon(t, supply, p.Voltage, 1e-12)
			}
		}
	})
	assert.Greater(t, both, 0.01*tries) // 0.4 of thousands, but few draws can cluster
}

// Near standstill, and where the supply just drives the current, the geometry of
// the two circles degenerates.
func TestPullOutNearStandstill(t *testing.T) {
	supplies := []float64{0.1, 1.1, 36}
	for ulp := -4; ulp <= 4; ulp++ {
		supplies = append(supplies, 2.8*math.Sqrt2*1.1*(1+float64(ulp)*0x1p-52))
	}
	speeds := []float64{0, math.SmallestNonzeroFloat64, 1e-300, 1e-20}
	for speed := 1e-17; speed < 1e-9; speed *= 1.3 {
		speeds = append(speeds, speed)
	}
	for _, supply := range supplies {
		for _, speed := range speeds {
			p, err := big.PullOut(speed, 2.8, supply)
			require.NoError(t, err, fmt.Sprint(speed, supply))
			want := math.Min(2.8*math.Sqrt2, supply/1.1) * big.TorqueConstant()
			assert.InEpsilon(t, want, p.Torque, 1e-7, "%v rev/s, %v V", speed, supply)
		}
	}
}
