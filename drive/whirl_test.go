package drive_test

import (
	"math"
	"slices"
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

// evenShaft is a solid even shaft on a stiff bearing at each end.
func evenShaft(length, diameter, modulus, density float64, disks ...drive.Disk) drive.StepShaft {
	return drive.StepShaft{
		Modulus: modulus, Density: density,
		Segments: []drive.Segment{{Length: length, Diameter: diameter}},
		Bearings: []drive.ShaftBearing{{Position: 0}, {Position: length}},
		Disks:    disks,
	}
}

// angularWhirl returns the critical speeds in rad/s.
func angularWhirl(t *testing.T, s drive.StepShaft) drive.Whirl {
	w, err := s.Whirl()
	require.NoError(t, err)
	for _, x := range []*float64{&w.First, &w.Second, &w.Rayleigh, &w.Dunkerley} {
		*x *= 2 * math.Pi
	}
	return w
}

func TestCheckWhirl(t *testing.T) {
	const (
		g       = 386.1 * inch // of the source, which gives weights
		pound   = psi * inch * inch / g
		density = 0.282 * psi / inch / g
		example = "Budynas & Nisbett, Shigley's Mechanical Engineering Design, 9th ed. (2011), Example 7-5, pp. 386-388"
		exact   = "transfer matrix of the continuous shaft with two masses, at 30 digits"
		digits  = "ten digits given, rounded constants of unit"
		beads   = "its own mass at 20 places: 7e-7 for the first speed, 1.2e-5 for the second"
		four    = "four digits printed"
	)
	masses := []drive.Disk{{Position: 7 * inch, Mass: 35 * pound}, {Position: 20 * inch, Mass: 55 * pound}}
	even := func(density float64, disks ...drive.Disk) drive.Whirl {
		return angularWhirl(t, evenShaft(31*inch, inch, 30e6*psi, density, disks...))
	}
	light, both, bare := even(0, masses...), even(density, masses...), even(density)
	metric := angularWhirl(t, evenShaft(0.6, 25e-3, 207e9, 7850))
	rows := []verify.Row{
		{Name: "35 lbf alone, rad/s", Source: example + ", as remembered", Kind: verify.Memory, Want: 231.4, Got: even(0, masses[0]).First, Tol: 3e-4, Why: four},
		{Name: "55 lbf alone, rad/s", Source: example + ", as remembered", Kind: verify.Memory, Want: 140.9, Got: even(0, masses[1]).First, Tol: 4e-4, Why: four},
		{Name: "35 lbf alone, rad/s", Source: "√(g/wδ) by hand", Kind: verify.Own, Want: 231.362860, Got: even(0, masses[0]).First, Tol: 1e-8, Why: digits},
		{Name: "both, Rayleigh, rad/s", Source: example + ", as remembered", Kind: verify.Memory, Want: 124.8, Got: light.Rayleigh, Tol: 4e-4, Why: four},
		{Name: "both, Rayleigh, rad/s", Source: "√(gΣwy/Σwy²) by hand", Kind: verify.Own, Want: 124.8001519, Got: light.Rayleigh, Tol: 1e-8, Why: digits},
		{Name: "both, Dunkerley, rad/s", Source: example, Kind: verify.Print, Want: 120.4, Got: light.Dunkerley, Tol: 4e-4, Why: four},
		{Name: "both, Dunkerley, rad/s", Source: "Σ1/ω² by hand", Kind: verify.Own, Want: 120.3649497, Got: light.Dunkerley, Tol: 1e-8, Why: digits},
		{Name: "both, first, rad/s", Source: "roots of the quadratic in 1/ω² by hand", Kind: verify.Own, Want: 124.6792414, Got: light.First, Tol: 1e-8, Why: digits},
		{Name: "both, second, rad/s", Source: "roots of the quadratic in 1/ω² by hand", Kind: verify.Own, Want: 461.5483798, Got: light.Second, Tol: 1e-8, Why: digits},
		{Name: "shaft alone, rad/s", Source: example, Kind: verify.Print, Want: 520.4, Got: bare.First, Tol: 1e-4, Why: four},
		{Name: "shaft alone, rad/s", Source: "(π/l)²·√(EI/μ)", Kind: verify.Own, Want: 520.3581253, Got: bare.First, Tol: 1e-6, Why: beads},
		{Name: "shaft alone, second ÷ first", Source: "n² for an even shaft", Kind: verify.Own, Want: 4, Got: bare.Second / bare.First, Tol: 1.5e-5, Why: beads},
		{Name: "both with shaft, Dunkerley, rad/s", Source: example, Kind: verify.Print, Want: 117.3, Got: both.Dunkerley, Tol: 4e-4, Why: four},
		{Name: "both with shaft, Dunkerley, rad/s", Source: "Σ1/ω² by hand", Kind: verify.Own, Want: 117.2685923, Got: both.Dunkerley, Tol: 1e-6, Why: beads},
		{Name: "both with shaft, first, rad/s", Source: exact, Kind: verify.Own, Want: 121.279475543, Got: both.First, Tol: 1e-6, Why: beads},
		{Name: "25 mm, 0.6 m, 207 GPa, 7850 kg/m³, rad/s", Source: "(π/l)²·√(EI/μ)", Kind: verify.Own, Want: 879.89, Got: metric.First, Tol: 6e-6, Why: "five digits given"},
	}

	// A disk at the middle of a shaft without mass swings and tilts apart, on bearings that give.
	const l, c, m, j = 0.4, 2e-8, 3.0, 0.02
	s := evenShaft(l, 20e-3, 205e9, 0, drive.Disk{Position: l / 2, Mass: m, Inertia: j})
	s.Bearings[0].Give, s.Bearings[1].Give = c, c
	stiffness := 205e9 * math.Pi / 64 * math.Pow(20e-3, 4)
	w := angularWhirl(t, s)
	rows = append(rows,
		verify.Row{Name: "disk at the middle, swinging, rad/s", Source: "1/√(m(l³/48EI + Give/2))", Kind: verify.Own,
			Want: 1 / math.Sqrt(m*(l*l*l/(48*stiffness)+c/2)), Got: w.First, Tol: 1e-12, Why: "closed form"},
		verify.Row{Name: "disk at the middle, tilting, rad/s", Source: "1/√(J(l/12EI + 2·Give/l²))", Kind: verify.Own,
			Want: 1 / math.Sqrt(j*(l/(12*stiffness)+2*c/(l*l))), Got: w.Second, Tol: 1e-12, Why: "closed form"})
	verify.Table(t, rows)
}

func TestPropertyWhirl(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drivetest.StepShafts().Draw(t, "shaft")
		whirl := func(s drive.StepShaft) drive.Whirl {
			w, err := s.Whirl()
			require.NoError(t, err)
			return w
		}
		w := whirl(s)
		require.GreaterOrEqual(t, w.Rayleigh, w.First*(1-1e-12), "Rayleigh is above")
		require.LessOrEqual(t, w.Dunkerley, w.First*(1+1e-12), "Dunkerley is below")
		require.GreaterOrEqual(t, w.Second, w.First)

		k := draw.Log(0.5, 2).Draw(t, "scale")
		require.InEpsilon(t, w.First/k, whirl(scaledShaft(s, k)).First, 1e-9)

		other := s
		switch rapid.IntRange(0, 2).Draw(t, "change") {
		case 0:
			other.Disks = append(slices.Clone(s.Disks), drive.Disk{Position: s.Length() * draw.Uniform(0, 1).Draw(t, "place"), Mass: 0.5})
			require.LessOrEqual(t, whirl(other).First, w.First*(1+1e-9), "mass slows")
		case 1:
			other.Bearings = slices.Clone(s.Bearings)
			other.Bearings[0].Give += 1e-7
			require.LessOrEqual(t, whirl(other).First, w.First*(1+1e-9), "a bearing that gives slows")
		case 2:
			half := s.Segments[0]
			half.Length /= 2
			other.Segments = append([]drive.Segment{half, half}, s.Segments[1:]...)
			require.InEpsilon(t, w.First, whirl(other).First, 1e-4, "the places of the shaft's own mass alone change")
		}
	})
}

func TestWhirlNeedsMassThatSwings(t *testing.T) {
	_, err := evenShaft(0.3, 0.01, 2e11, 0).Whirl()
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "drive.StepShaft.Density = 0 kg/m³: allowed above 0 where there are no disks")
	_, err = evenShaft(0.3, 0.01, 2e11, 0, drive.Disk{Position: 0.3, Mass: 1}).Whirl()
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.ErrorContains(t, err, "drive.StepShaft.Disks: flexibility × mass that can swing")
}
