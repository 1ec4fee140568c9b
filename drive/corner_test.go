package drive_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
)

func TestCheckCorners(t *testing.T) {
	const how = "root of |v| = V, and of |i| = I at the voltage optimum, by bisection at 30 digits"
	var rows []verify.Row
	for _, c := range []struct{ supply, full, bound float64 }{
		{36, 371.0459298, 591.7935055}, {32.4, 330.81008, 525.70645}, {36 * 4 / math.Pi, 480.80425, 771.64869},
		{36 / math.Sqrt2, 253.01512, 397.48662}, {24, 236.65931, 370.41492},
	} {
		full, bound, err := big.Corners(2.8, c.supply)
		require.NoError(t, err)
		rows = append(rows,
			verify.Row{Name: "end of full torque, rpm", Source: how, Kind: verify.Own, Want: c.full, Got: full * 60, Tol: 3e-8, Why: "eight digits given"},
			verify.Row{Name: "end of the current limit, rpm", Source: how, Kind: verify.Own, Want: c.bound, Got: bound * 60, Tol: 3e-8, Why: "eight digits given"})
	}
	for _, c := range []struct{ supply, full float64 }{{12, 247.7462}, {24, 547.2631}, {36, 845.9465}, {48, 1144.4229}} {
		full, _, err := small.Corners(1.5/math.Sqrt2, c.supply)
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: "small motor, end of full torque, rpm", Source: how, Kind: verify.Own,
			Want: c.full, Got: full * 60, Tol: 3e-7, Why: "seven digits given"})
	}
	_, end, err := small.Corners(1.5/math.Sqrt2, 24)
	require.NoError(t, err)
	rows = append(rows, verify.Row{Name: "small motor, end of torque, rpm", Source: "√(V² − R²I²)/(ψ − LI)/p by hand", Kind: verify.Own,
		Want: math.Sqrt(576-1.65*1.65*2.25) / (0.006 - 0.0048) / 50 * 30 / math.Pi, Got: end * 60, Tol: 1e-9, Why: "ψ − LI loses two digits"})
	verify.Table(t, rows)
}

func TestCornersWithoutVoltage(t *testing.T) {
	full, bound, err := big.Corners(2.8, 4) // 4.36 V would be needed
	require.NoError(t, err)
	assert.Zero(t, full)
	assert.Zero(t, bound)
	// Just as much as needed: full torque at standstill and nowhere else.
	just := drive.Stepper{HoldingTorque: 1, Current: 1, Resistance: 2, Inductance: 1e-3, RotorTeeth: 50}
	full, bound, err = just.Corners(1, 2*(math.Sqrt2*1.0))
	require.NoError(t, err)
	assert.Zero(t, full)
	assert.Zero(t, bound)
	_, _, err = big.Corners(0, 36)
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.ErrorContains(t, err, "drive.Stepper.Corners: current = 0 A: allowed 1e-06 to 1000 A")

	// Magnet flux ÷ inductance equal to the current puts the second corner at infinity.
	even := drive.Stepper{HoldingTorque: 1, Current: 1 / math.Sqrt2, Resistance: 1, Inductance: 0.01, RotorTeeth: 100}
	_, bound, err = even.Corners(1/math.Sqrt2, 24)
	require.NoError(t, err)
	assert.Equal(t, 1e4, bound)
}

// On either side of a corner the pull-out curve has to be in the regime the
// corner tells.
func TestPropertyCornersPartRegimes(t *testing.T) {
	tries, bounded, ended := 0.0, 0.0, 0.0
	rapid.Check(t, func(t *rapid.T) {
		tries++
		s, _, current, supply := driver(t)
		full, bound, err := s.Corners(current, supply)
		require.NoError(t, err)
		require.LessOrEqual(t, full, bound)
		if full == 0 {
			require.LessOrEqual(t, supply, math.Sqrt2*current*s.Resistance)
			return
		}
		regime := func(speed float64) drive.Regime {
			p, err := s.PullOut(speed, current, supply)
			require.NoError(t, err)
			return p.Regime
		}
		require.Equal(t, drive.CurrentLimited, regime(full*(1-1e-9)))
		if bound >= 9e3 || bound < full*(1+1e-5) {
			return // beyond the end, or the corners fall together as supply nears R·I
		}
		require.Equal(t, drive.BothLimited, regime(full*(1+1e-9)))
		require.Equal(t, drive.BothLimited, regime(bound*(1-1e-6)))
		if p, err := s.PullOut(bound*(1+1e-6), current, supply); err == nil {
			require.Equal(t, drive.VoltageLimited, p.Regime)
			bounded++
		} else {
			require.ErrorIs(t, err, drive.ErrOutOfStep)
			require.Greater(t, s.TorqueConstant()/float64(s.RotorTeeth), s.Inductance*math.Sqrt2*current)
			ended++
		}
	})
	assert.Greater(t, bounded, 0.05*tries) // half of thousands
	assert.Greater(t, ended, 0.05*tries)   // half
}

// With more magnet flux than the current can cancel, and a supply low enough for
// resistance to matter, the current of the voltage optimum dips below the limit and rises
// again: the corner is the first speed at which a walk up the curve meets the
// voltage limit.
func TestPropertyCornerWhereCurrentDips(t *testing.T) {
	dips, none := 0.0, 0.0
	rapid.Check(t, func(t *rapid.T) {
		r, tau := draw.Log(0.3, 10).Draw(t, "resistance"), draw.Log(0.5e-3, 5e-3).Draw(t, "time constant")
		flux := draw.Log(2e-3, 50e-3).Draw(t, "flux")
		supply := max(0.1, flux/tau*draw.Uniform(1.02, 2.3).Draw(t, "supply ÷ flux·R/L"))
		amplitude := flux / (r * tau) * draw.Uniform(0.8, 0.999).Draw(t, "current ÷ flux/L")
		current := amplitude / math.Sqrt2
		s := drive.Stepper{HoldingTorque: flux * 50 * amplitude, Current: current, Resistance: r, Inductance: r * tau, RotorTeeth: 50}
		full, bound, err := s.Corners(current, supply)
		require.NoError(t, err)
		met := math.Inf(1)
		for speed := full * 1.0001; speed < 1e4; speed *= 1.02 {
			p, err := s.PullOut(speed, current, supply)
			if err != nil {
				break
			}
			if p.Regime == drive.VoltageLimited {
				met = speed
				break
			}
		}
		if math.IsInf(met, 1) {
			none++
			if p, err := s.PullOut(bound*(1+1e-9), current, supply); err == nil {
				require.Equal(t, drive.VoltageLimited, p.Regime) // a dip too narrow for the walk
			}
			return
		}
		dips++
		require.InEpsilon(t, met, bound, 0.0201)
		require.LessOrEqual(t, bound, met)
	})
	assert.Greater(t, dips, 0.1*(dips+none))  // two thirds of thousands
	assert.Greater(t, none, 0.02*(dips+none)) // one third
}

// Where torque ends by resistance alone, before the current limit has a say.
func TestTorqueEndsOnLowSupply(t *testing.T) {
	s := drive.Stepper{HoldingTorque: 1, Current: 1, Resistance: 10, Inductance: 2e-3, RotorTeeth: 50}
	k, w := s.TorqueConstant(), 0.0
	// E·R/Z = V: with flux ψ = K/p, ω² (ψ²R² − V²L²) = V²R².
	psi, v := k/50, 5.0
	w = v * 10 / math.Sqrt(psi*psi*100-v*v*4e-6)
	end := w / (2 * math.Pi * 50)
	p, err := s.PullOut(end*(1-1e-6), 1, v)
	require.NoError(t, err)
	assert.Less(t, p.Torque, 1e-5)
	_, err = s.PullOut(end*(1+1e-6), 1, v)
	assert.ErrorIs(t, err, drive.ErrOutOfStep)
	assert.ErrorContains(t, err, "torque ends at 1.128 rev/s")
}
