package drive_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
)

func TestCheckGroove(t *testing.T) {
	const (
		fit   = "Peterson's fit in plain decimal arithmetic"
		older = "Young & Budynas, Roark's Formulas for Stress and Strain, 7th ed. (2002), Table 17.1: an older fit, evaluated"
	)
	// A half-round groove so shallow that the bar is a half space.
	shallow := drive.Groove{Outer: 10, Bottom: 10 - 2e-3, Radius: 1e-3}
	torsion, err := shallow.Torsion()
	require.NoError(t, err)
	axial, err := shallow.Axial()
	require.NoError(t, err)
	rows := []verify.Row{
		{Name: "half-round in a half space, torsion", Source: "shear flow round a cylinder: exactly 2", Kind: verify.Own, Want: 2, Got: torsion, Tol: 2e-3, Why: "the fit's own error at its end"},
		{Name: "half-round in a half space, tension", Source: "edge notch in a half plane, 3.065, Peterson's, 3rd ed. (from memory)", Kind: verify.Memory,
			Want: 3.065, Got: axial, Tol: 0.03, Why: "plane against round, and the fit's error at its end"},
	}
	for _, c := range []struct {
		outer, bottom, radius             float64
		bending, torsion, axial           float64
		older, olderTorsion, olderTension float64
	}{
		{20, 18, 1, 2.387791, 1.691115, 2.473057, 2.405871, 1.701073, 2.557639},
		{12, 11.5, 0.25, 2.740051, 1.860207, 2.767181, 2.754432, 1.865796, 2.824765},
		{50, 40, 2, 2.502610, 1.823345, 2.901778, 2.610446, 1.841183, 3.048506},
		{10, 8, 0.2, 3.296339, 2.231660, 3.842168, 3.362454, 2.206607, 3.931175},
		{30, 10, 2, 1.592856, 1.344378, 1.844632, 1.638273, 1.349901, 1.950250},
	} {
		g := drive.Groove{Outer: c.outer * 1e-3, Bottom: c.bottom * 1e-3, Radius: c.radius * 1e-3}
		kt, err := g.Bending()
		require.NoError(t, err)
		kts, err := g.Torsion()
		require.NoError(t, err)
		ka, err := g.Axial()
		require.NoError(t, err)
		name := fmt.Sprintf("%g to %g mm, r %g mm, ", c.outer, c.bottom, c.radius)
		for _, r := range []verify.Row{
			{Name: name + "bending", Want: c.bending, Got: kt}, {Name: name + "torsion", Want: c.torsion, Got: kts}, {Name: name + "axial", Want: c.axial, Got: ka},
		} {
			r.Source, r.Kind, r.Tol, r.Why = fit, verify.Own, 4e-7, "seven digits given"
			rows = append(rows, r)
		}
		for _, r := range []verify.Row{
			{Name: name + "bending", Want: c.older, Got: kt}, {Name: name + "torsion", Want: c.olderTorsion, Got: kts}, {Name: name + "axial", Want: c.olderTension, Got: ka},
		} {
			r.Source, r.Kind, r.Tol, r.Why = older, verify.Own, 0.06, "distance of the two fits"
			rows = append(rows, r)
		}
	}
	verify.Table(t, rows)
}

func TestCheckKeyseatAndAxialShoulder(t *testing.T) {
	const (
		manual = "solutions manual to Mechanical Engineering Design, 8th ed., chapter 7, end-milled keyseat of r/d 0.02"
		hand   = "the fit by hand"
	)
	k := drive.Keyseat{Diameter: 20e-3, Radius: 0.4e-3}
	kt, err := k.Bending()
	require.NoError(t, err)
	empty, keyed, err := k.Torsion()
	require.NoError(t, err)
	kf, kfs, err := k.Fatigue(690e6)
	require.NoError(t, err)
	q, qs, err := drive.NotchSensitivity(690e6, 0.4e-3)
	require.NoError(t, err)
	rows := []verify.Row{
		{Name: "bending", Source: manual, Kind: verify.Print, Want: 2.2, Got: kt, Tol: 0.023, Why: "two digits printed"},
		{Name: "bending", Source: "Shigley's, 9th ed. (2011), section 7-4, from memory", Kind: verify.Memory, Want: 2.14, Got: kt, Tol: 0.03, Why: "chart read by eye against a fit to it"},
		{Name: "torsion, with key", Source: manual, Kind: verify.Print, Want: 3.0, Got: keyed, Tol: 0.017, Why: "two digits printed"},
		{Name: "torsion, no key", Source: "Shigley's, 9th ed. (2011), section 7-4, from memory", Kind: verify.Memory, Want: 2.62, Got: empty, Tol: 2e-3, Why: "three digits printed"},
		{Name: "bending", Source: hand, Kind: verify.Own, Want: 2.2, Got: kt, Tol: 1e-12, Why: "exact"},
		{Name: "torsion, no key", Source: hand, Kind: verify.Own, Want: 2.6175, Got: empty, Tol: 1e-12, Why: "exact"},
		{Name: "K_f", Source: "1 + q(K_t − 1)", Kind: verify.Own, Want: 1 + q*1.2, Got: kf, Tol: 1e-12, Why: "exact"},
		{Name: "K_fs", Source: "1 + q_s(K_ts − 1)", Kind: verify.Own, Want: 1 + qs*(2.6175*3/2.62-1), Got: kfs, Tol: 1e-12, Why: "exact"},
	}
	const (
		fit   = "Peterson's fit in plain decimal arithmetic"
		older = "Young & Budynas, Roark's Formulas for Stress and Strain, 7th ed. (2002), Table 17.1: an older fit, evaluated"
	)
	for _, c := range []struct{ large, small, radius, axial, older float64 }{
		{42, 28, 2.8, 1.860345, 1.867147}, {38, 32, 3, 1.703039, 1.708100}, {20, 15, 1, 1.994042, 2.001324},
		{12, 10, 0.4, 2.143925, 2.151745}, {24.2, 20, 1, 2.036878, 2.043808},
	} {
		got, err := drive.Shoulder{Large: c.large * 1e-3, Small: c.small * 1e-3, Radius: c.radius * 1e-3}.Axial()
		require.NoError(t, err)
		name := fmt.Sprintf("shoulder %g to %g mm, r %g mm, axial", c.large, c.small, c.radius)
		rows = append(rows,
			verify.Row{Name: name, Source: fit, Kind: verify.Own, Want: c.axial, Got: got, Tol: 4e-7, Why: "seven digits given"},
			verify.Row{Name: name, Source: older, Kind: verify.Own, Want: c.older, Got: got, Tol: 5e-3, Why: "distance of the two fits"})
	}
	verify.Table(t, rows)
}

func TestPropertyNotchForms(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		outer := draw.Log(10e-3, 60e-3).Draw(t, "outer diameter")
		bottom := outer * draw.Uniform(0.3, 0.97).Draw(t, "diameter ratio")
		g := drive.Groove{Outer: outer, Bottom: bottom, Radius: (outer - bottom) / 2 / draw.Log(0.25, 50).Draw(t, "depth in radii")}
		three := func(g drive.Groove) [3]float64 {
			kt, err := g.Bending()
			require.NoError(t, err)
			kts, err := g.Torsion()
			require.NoError(t, err)
			ka, err := g.Axial()
			require.NoError(t, err)
			return [3]float64{kt, kts, ka}
		}
		a := three(g)
		require.LessOrEqual(t, a[1], a[0]*1.01, "torsion concentrates least")
		require.LessOrEqual(t, a[0], a[2]*1.04, "tension most, within the fits' own error")
		k := draw.Log(0.5, 2).Draw(t, "scale")
		for i, x := range three(drive.Groove{Outer: outer * k, Bottom: bottom * k, Radius: g.Radius * k}) {
			require.InEpsilon(t, a[i], x, 1e-9, "shape alone counts")
		}
		kf, kfs, err := g.Fatigue(700e6)
		require.NoError(t, err)
		q, qs, err := drive.NotchSensitivity(700e6, g.Radius)
		require.NoError(t, err)
		require.InEpsilon(t, 1+q*(a[0]-1), kf, 1e-12)
		require.InEpsilon(t, 1+qs*(a[1]-1), kfs, 1e-12)
		require.True(t, kf >= 1 && kf <= a[0] && kfs >= 1 && kfs <= a[1], "fatigue sees a part of the peak")

		seat := drive.Keyseat{Diameter: min(outer, 0.16)}
		seat.Radius = seat.Diameter * draw.Log(0.005, 0.03).Draw(t, "fillet ratio")
		sharp, err := seat.Bending()
		require.NoError(t, err)
		sharpTorsion, _, err := seat.Torsion()
		require.NoError(t, err)
		seat.Radius *= 1.3
		blunt, err := seat.Bending()
		require.NoError(t, err)
		bluntTorsion, _, err := seat.Torsion()
		require.NoError(t, err)
		require.Greater(t, sharp, blunt)
		require.Greater(t, sharpTorsion, bluntTorsion)
	})
}

func TestNotchFormsRefuse(t *testing.T) {
	_, err := drive.Groove{Outer: 10e-3, Bottom: 11e-3, Radius: 0}.Bending()
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "drive.Groove.Bottom = 0.011 m: allowed 0.0001 to 0.01 m\n"+
		"drive.Groove.Radius = 0 m: allowed 1e-06 to 1 m")
	_, err = drive.Groove{Outer: 10e-3, Bottom: 9.8e-3, Radius: 1e-3}.Torsion()
	assert.EqualError(t, err, "drive.Groove: depth (Outer − Bottom)/2 ÷ Radius = 0.1: allowed 0.25 to 50")
	_, _, err = drive.Keyseat{Diameter: 20e-3, Radius: 1e-3}.Torsion()
	assert.EqualError(t, err, "drive.Keyseat.Radius = 0.001 m: allowed 0.0001 to 0.0008 m")
	_, _, err = drive.Keyseat{Diameter: 20e-3, Radius: 0.2e-3}.Fatigue(1e8)
	assert.EqualError(t, err, "drive.Keyseat.Fatigue: ultimate = 1e+08 Pa: allowed 3.45e+08 to 1.517e+09 Pa")
}
