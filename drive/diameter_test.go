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
	"meltflight/material"
)

func TestCheckDiameters(t *testing.T) {
	const kpsi = 1e3 * psi
	inches, err := drive.Shaft{BendingNotch: 2.2, TorsionNotch: 1.8, Yield: 80 * kpsi, Ultimate: 100 * kpsi, Endurance: 30 * kpsi}.Diameters(
		drive.ShaftLoad{BendingAlternating: 600 * lbin, TorqueAlternating: 400 * lbin, BendingMean: 500 * lbin, TorqueMean: 300 * lbin}, 2)
	require.NoError(t, err)
	// The shoulder of problem 7-2, its notch factors and endurance limit as this package finds them.
	surface, err := drive.EnduranceLimit(1226e6, 22e-3, drive.Machined, 0.5)
	require.NoError(t, err)
	shoulder, err := drive.Shaft{BendingNotch: 1.81, TorsionNotch: 1.49, Yield: 1130e6, Ultimate: 1226e6, Endurance: 375e6}.Diameters(
		drive.ShaftLoad{BendingAlternating: 70, TorqueMean: 45}, 2.5)
	require.NoError(t, err)
	// Tension alone, by hand: σ = 4K_f·F/πd² at n·σ = S_y.
	rod, err := drive.Shaft{BendingNotch: 1.5, TorsionNotch: 1, Yield: 400e6, Ultimate: 600e6, Endurance: 200e6}.Diameters(drive.ShaftLoad{AxialMean: 20e3}, 3)
	require.NoError(t, err)
	const (
		first  = "solutions manual to Mechanical Engineering Design, 8th ed., problem 7-1, p. 178"
		second = "solutions manual to Mechanical Engineering Design, 8th ed., problem 7-2"
		four   = "four digits printed"
		hand   = "the criteria solved for d by hand"
		eight  = "eight digits given"
	)
	verify.Table(t, []verify.Row{
		{Name: "Gerber, in", Source: first, Kind: verify.Print, Want: 1.016, Got: inches.Gerber / inch, Tol: 5e-4, Why: four},
		{Name: "elliptic, in", Source: first, Kind: verify.Print, Want: 1.012, Got: inches.Elliptic / inch, Tol: 5e-4, Why: four},
		{Name: "Soderberg, in", Source: first, Kind: verify.Print, Want: 1.090, Got: inches.Soderberg / inch, Tol: 5e-4, Why: four},
		{Name: "Goodman, in", Source: first, Kind: verify.Print, Want: 1.073, Got: inches.Goodman / inch, Tol: 5e-4, Why: four},
		{Name: "Gerber, in", Source: hand, Kind: verify.Own, Want: 1.0157240, Got: inches.Gerber / inch, Tol: 5e-8, Why: eight},
		{Name: "elliptic, in", Source: hand, Kind: verify.Own, Want: 1.0121879, Got: inches.Elliptic / inch, Tol: 5e-8, Why: eight},
		{Name: "Soderberg, in", Source: hand, Kind: verify.Own, Want: 1.0901917, Got: inches.Soderberg / inch, Tol: 5e-8, Why: eight},
		{Name: "Goodman, in", Source: hand, Kind: verify.Own, Want: 1.0728439, Got: inches.Goodman / inch, Tol: 5e-8, Why: eight},
		{Name: "problem 7-2, endurance limit, Pa", Source: second, Kind: verify.Print, Want: 375e6, Got: surface, Tol: 1.4e-3, Why: "three digits printed"},
		{Name: "problem 7-2, elliptic, mm", Source: second, Kind: verify.Print, Want: 20.6, Got: shoulder.Elliptic * 1e3, Tol: 2.5e-3, Why: "three digits printed"},
		{Name: "problem 7-2, elliptic, mm", Source: hand, Kind: verify.Own, Want: 20.569185, Got: shoulder.Elliptic * 1e3, Tol: 3e-8, Why: eight},
		{Name: "tension alone, yield, m", Source: "√(4K_f·n·F/πS_y)", Kind: verify.Own, Want: math.Sqrt(4 * 1.5 * 3 * 20e3 / (math.Pi * 400e6)), Got: rod.Yield, Tol: 1e-12, Why: "closed form"},
		{Name: "tension alone, Goodman, m", Source: "√(4K_f·n·F/πS_ut)", Kind: verify.Own, Want: math.Sqrt(4 * 1.5 * 3 * 20e3 / (math.Pi * 600e6)), Got: rod.Goodman, Tol: 1e-12, Why: "closed form"},
	})
}

// The diameter for a safety has that safety, by the criterion it is for.
func TestPropertyDiametersInvertFatigue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, l := drivetest.Shafts().Draw(t, "shaft"), drivetest.ShaftLoads().Draw(t, "load")
		n := draw.Log(0.5, 5).Draw(t, "safety")
		d, err := s.Diameters(l, n)
		require.NoError(t, err)
		require.Greater(t, d.Soderberg, d.Goodman)
		require.Greater(t, d.Goodman, d.Gerber)
		for i, x := range [5]float64{d.Soderberg, d.Goodman, d.Gerber, d.Elliptic, d.Yield} {
			s.Diameter = x
			f, err := s.Fatigue(l)
			require.NoError(t, err)
			require.InEpsilon(t, n, [5]float64{f.Soderberg, f.Goodman, f.Gerber, f.Elliptic, f.Yield}[i], 1e-12)
		}
		// And the safety of a diameter asks for that diameter.
		f, err := s.Fatigue(l)
		require.NoError(t, err)
		if f.Gerber < 1000 && f.Gerber > 0.01 {
			again, err := s.Diameters(l, f.Gerber)
			require.NoError(t, err)
			require.InEpsilon(t, s.Diameter, again.Gerber, 1e-12)
		}
	})
}

func TestDiametersRefuseAndIdle(t *testing.T) {
	s := drive.Shaft{Diameter: math.NaN(), BendingNotch: 1, TorsionNotch: 1, Yield: 580e6, Ultimate: 690e6, Endurance: 200e6}
	d, err := s.Diameters(drive.ShaftLoad{}, 2)
	require.NoError(t, err)
	assert.Zero(t, d)
	_, err = s.Diameters(drive.ShaftLoad{TorqueMean: -1}, math.Inf(1))
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "drive.ShaftLoad.TorqueMean = -1 N·m: allowed 0 to 1e+08 N·m\n"+
		"drive.Shaft.Diameters: safety = +Inf: allowed 0.01 to 1000")
}
