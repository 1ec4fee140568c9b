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

func TestCheckShoulder(t *testing.T) {
	const (
		shigley = "Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed. (2011), "
		fit     = "Peterson's fit in plain decimal arithmetic"
		roark   = "Young & Budynas, Roark's Formulas for Stress and Strain, 7th ed. (2002), Table 17.1: an older fit to the same tests, evaluated"
	)
	var rows []verify.Row
	for _, c := range []struct{ large, small, radius, bending, roark, torsion float64 }{
		{42, 28, 2.8, 1.743008, 1.733076, 1.412576}, {38, 32, 3, 1.681895, 1.655320, 1.368414}, {20, 15, 1, 1.905474, 1.894840, 1.517632},
		{25, 20, 1, 2.013077, 2.001961, 1.589717}, {12, 10, 0.4, 2.089256, 2.077790, 1.641811}, {60, 50, 2.5, 1.956360, 1.947715, 1.560026},
	} {
		s := drive.Shoulder{Large: c.large * 1e-3, Small: c.small * 1e-3, Radius: c.radius * 1e-3}
		kt, err := s.Bending()
		require.NoError(t, err)
		kts, err := s.Torsion()
		require.NoError(t, err)
		name := fmt.Sprintf("%g to %g mm, r %g mm, ", c.large, c.small, c.radius)
		rows = append(rows,
			verify.Row{Name: name + "bending", Source: fit, Kind: verify.Own, Want: c.bending, Got: kt, Tol: 4e-7, Why: "seven digits given"},
			verify.Row{Name: name + "torsion", Source: fit, Kind: verify.Own, Want: c.torsion, Got: kts, Tol: 4e-7, Why: "seven digits given"},
			verify.Row{Name: name + "bending", Source: roark, Kind: verify.Own, Want: c.roark, Got: kt, Tol: 0.017, Why: "distance of the two fits"})
	}
	above, err := drive.Shoulder{Large: 24.2e-3, Small: 20e-3, Radius: 1e-3}.Bending()
	require.NoError(t, err)
	rows = append(rows, verify.Row{Name: "24.2 to 20 mm, r 1 mm, bending, a step of 2.1 radii", Source: fit, Kind: verify.Own, Want: 1.970488, Got: above, Tol: 4e-7, Why: "seven digits given"})
	first, second := drive.Shoulder{Large: 1.65, Small: 1.1, Radius: 0.11}, drive.Shoulder{Large: 38e-3, Small: 32e-3, Radius: 3e-3}
	a, err := first.Bending()
	require.NoError(t, err)
	b, err := first.Torsion()
	require.NoError(t, err)
	c, err := second.Bending()
	require.NoError(t, err)
	const chart = "chart read by eye against a fit to it"
	rows = append(rows,
		verify.Row{Name: "D/d 1.5, r/d 0.1, bending", Source: shigley + "Example 7-1", Kind: verify.Memory, Want: 1.68, Got: a, Tol: 0.04, Why: chart},
		verify.Row{Name: "D/d 1.5, r/d 0.1, torsion", Source: shigley + "Example 7-1", Kind: verify.Memory, Want: 1.42, Got: b, Tol: 0.01, Why: chart},
		verify.Row{Name: "38 to 32 mm, r 3 mm, bending", Source: "worked sheet of Example 6-6, Mechanical Engineering Design, 10th ed.",
			Kind: verify.Print, Want: 1.65, Got: c, Tol: 0.02, Why: chart})
	verify.Table(t, rows)
}

func TestCheckNotchSensitivity(t *testing.T) {
	const sheet = "worked sheet of Example 6-6, Mechanical Engineering Design, 10th ed."
	q, qs, err := drive.NotchSensitivity(690e6, 3e-3)
	require.NoError(t, err)
	kf, kfs, err := drive.Shoulder{Large: 20e-3, Small: 15e-3, Radius: 1e-3}.Fatigue(690e6)
	require.NoError(t, err)
	const slip = "the source takes 6.89 MPa for 1 kpsi and prints four digits"
	const chain = "Peterson's fit, Neuber's polynomials and K_f = 1 + q(K_t − 1) by hand"
	verify.Table(t, []verify.Row{
		{Name: "bending, 690 MPa, 3 mm", Source: sheet, Kind: verify.Print, Want: 0.8468, Got: q, Tol: 2.5e-4, Why: slip},
		{Name: "torsion, 690 MPa, 3 mm", Source: sheet, Kind: verify.Print, Want: 0.8792, Got: qs, Tol: 2.5e-4, Why: slip},
		{Name: "bending, 690 MPa, 3 mm", Source: "1/(1 + 0.06223457/√(3/25.4)) by hand", Kind: verify.Own, Want: 0.8466775, Got: q, Tol: 1e-7, Why: "seven digits of the constant"},
		{Name: "torsion, 690 MPa, 3 mm", Source: "1/(1 + 0.04725357/√(3/25.4)) by hand", Kind: verify.Own, Want: 0.8791238, Got: qs, Tol: 1e-7, Why: "seven digits of the constant"},
		{Name: "20 to 15 mm, r 1 mm, 690 MPa: K_f", Source: chain, Kind: verify.Own, Want: 1.68927977, Got: kf, Tol: 5e-7, Why: "the chain starts from seven digits"},
		{Name: "20 to 15 mm, r 1 mm, 690 MPa: K_fs", Source: chain, Kind: verify.Own, Want: 1.41806872, Got: kfs, Tol: 5e-7, Why: "the chain starts from seven digits"},
	})
}

func TestShoulderRefuses(t *testing.T) {
	_, err := drive.Shoulder{Large: 10e-3, Small: 12e-3, Radius: 0}.Bending()
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "drive.Shoulder.Small = 0.012 m: allowed 0.0001 to 0.01 m\n"+
		"drive.Shoulder.Radius = 0 m: allowed 1e-06 to 1 m")
	_, err = drive.Shoulder{Large: 20e-3, Small: 15e-3, Radius: 0.1e-3}.Bending()
	assert.EqualError(t, err, "drive.Shoulder: step (Large − Small)/2 ÷ Radius = 25: allowed 0.1 to 20")
	sharp := drive.Shoulder{Large: 20e-3, Small: 15e-3, Radius: 0.5e-3}
	_, err = sharp.Bending()
	assert.NoError(t, err)
	_, err = sharp.Torsion()
	assert.EqualError(t, err, "drive.Shoulder: step (Large − Small)/2 ÷ Radius = 5: allowed 0.25 to 4")
	_, _, err = sharp.Fatigue(2e9)
	assert.EqualError(t, err, "drive.Shoulder: step (Large − Small)/2 ÷ Radius = 5: allowed 0.25 to 4\n"+
		"drive.Shoulder.Fatigue: ultimate = 2e+09 Pa: allowed 3.45e+08 to 1.517e+09 Pa")
	_, _, err = drive.NotchSensitivity(690e6, math.NaN())
	assert.EqualError(t, err, "drive.NotchSensitivity: radius = NaN m: allowed 1e-06 to 1 m")
	_, err = drive.Shoulder{Large: math.NaN(), Small: 1e-2, Radius: 1e-3}.Torsion()
	assert.ErrorIs(t, err, material.ErrInvalid)
}

// The ends of the charts' ranges, written in metres, are inside.
func TestShoulderRangeEnds(t *testing.T) {
	for _, step := range []float64{0.1, 20} {
		_, err := drive.Shoulder{Large: 15e-3 + 2*step*0.1e-3, Small: 15e-3, Radius: 0.1e-3}.Bending()
		assert.NoError(t, err)
	}
	for _, step := range []float64{0.25, 4} {
		_, err := drive.Shoulder{Large: 15e-3 + 2*step*0.1e-3, Small: 15e-3, Radius: 0.1e-3}.Torsion()
		assert.NoError(t, err)
	}
}

func TestPropertyNotch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drivetest.Shoulders().Draw(t, "shoulder")
		ultimate := draw.Uniform(345e6, 1517e6).Draw(t, "ultimate")
		k := draw.Log(0.5, 2).Draw(t, "scale")
		kt, err := s.Bending()
		require.NoError(t, err)
		kts, err := s.Torsion()
		require.NoError(t, err)
		kf, kfs, err := s.Fatigue(ultimate)
		require.NoError(t, err)
		q, qs, err := drive.NotchSensitivity(ultimate, s.Radius)
		require.NoError(t, err)

		require.Less(t, kts, kt, "torsion is milder than bending")
		require.Greater(t, kts, 1.0)
		require.Less(t, kt, 4.0)
		for _, share := range []float64{q, qs} {
			require.Positive(t, share)
			require.Less(t, share, 1.0)
		}
		require.Greater(t, qs, q, "Neuber's constant is smaller in torsion")
		require.InEpsilon(t, kt-1, (kf-1)/q, 1e-9)
		require.InEpsilon(t, kts-1, (kfs-1)/qs, 1e-9)

		// K_t is of shape alone; a larger or harder notch is more sensitive.
		similar := drive.Shoulder{Large: s.Large * k, Small: s.Small * k, Radius: s.Radius * k}
		again, err := similar.Bending()
		require.NoError(t, err)
		if step := (s.Large - s.Small) / (2 * s.Radius); math.Abs(step-2) > 1e-9 { // where the fit jumps
			require.InEpsilon(t, kt, again, 1e-9)
		}
		blunt, _, err := drive.NotchSensitivity(ultimate, s.Radius*1.1)
		require.NoError(t, err)
		require.Greater(t, blunt, q)
		hard, _, err := drive.NotchSensitivity(math.Min(1517e6, ultimate*1.1), s.Radius)
		require.NoError(t, err)
		require.GreaterOrEqual(t, hard, q)
	})
}

// The two halves of the fit in bending nearly meet at a step of two radii.
func TestPropertyBendingFitMeets(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ratio := draw.Uniform(1.05, 2).Draw(t, "diameter ratio")
		at := func(step float64) float64 {
			kt, err := drive.Shoulder{Large: 0.01 * ratio, Small: 0.01, Radius: 0.01 * (ratio - 1) / 2 / step}.Bending()
			require.NoError(t, err)
			return kt
		}
		require.InEpsilon(t, at(2*(1-1e-6)), at(2*(1+1e-6)), 6e-3)
		// A sharper fillet is worse.
		step := draw.Uniform(0.1, 18).Draw(t, "step in radii")
		require.Greater(t, at(step*1.1), at(step)*(1-2e-3))
	})
}
