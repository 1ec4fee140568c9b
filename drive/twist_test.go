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

func TestCheckTorsionalStiffness(t *testing.T) {
	const (
		rigidity = 205e9 / 2.58 // ν 0.29
		hand     = "GπD⁴/32L by hand, E 205 GPa, ν 0.29"
	)
	stiffness := func(s drive.StepShaft, rigidity, from, to float64) float64 {
		k, err := s.TorsionalStiffness(rigidity, from, to)
		require.NoError(t, err)
		return k
	}
	tube := evenShaft(0.1, 20e-3, 205e9, 0)
	tube.Segments[0].Bore = 10e-3
	whole := stiffness(overhung(), rigidity, 0, 0.15)
	rows := []verify.Row{}
	for _, c := range []struct {
		name string
		got  float64
		want float64
	}{
		{"8 mm, 100 mm long", stiffness(evenShaft(0.1, 8e-3, 205e9, 0), rigidity, 0, 0.1), 319.517020272},
		{"12 mm, 100 mm long", stiffness(evenShaft(0.1, 12e-3, 205e9, 0), rigidity, 0, 0.1), 1617.55491513},
		{"20 mm, 100 mm long", stiffness(evenShaft(0.1, 20e-3, 205e9, 0), rigidity, 0, 0.1), 12481.1336044},
		{"tube 20/10 mm, 100 mm long", stiffness(tube, rigidity, 0, 0.1), 11701.0627541},
		{"four segments in series", whole, 2181.16897941},
		{"of them, 50 to 150 mm", stiffness(overhung(), rigidity, 0.05, 0.15), 3217.60605332},
	} {
		rows = append(rows, verify.Row{Name: c.name + ", N·m/rad", Source: hand, Kind: verify.Own, Want: c.want, Got: c.got, Tol: 4e-12, Why: "twelve digits given"})
	}
	f, err := drive.TorsionalFrequency(95, 6.8e-5, 1e9)
	require.NoError(t, err)
	rows = append(rows,
		verify.Row{Name: "twist by 8 N·m, °", Source: hand, Kind: verify.Own, Want: 0.2101470544, Got: 8 / whole * 180 / math.Pi, Tol: 4e-10, Why: "ten digits given"},
		verify.Row{Name: "5 mm, 20 mm long, G 79.3 GPa, N·m/rad", Source: "GπD⁴/32L by hand", Kind: verify.Own, Want: 243.289,
			Got: stiffness(evenShaft(0.02, 5e-3, 205e9, 0), 79.3e9, 0, 0.02), Tol: 3e-6, Why: "six digits given"},
		verify.Row{Name: "6.8e-5 kg·m² on 95 N·m/rad against a wall, Hz", Source: "√(k/J)/2π by hand", Kind: verify.Own, Want: 188.11675471, Got: f,
			Tol: 1e-10, Why: "eleven digits given"})
	verify.Table(t, rows)
}

func TestPropertyTwist(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drivetest.StepShafts().Draw(t, "shaft")
		k := func(from, to float64) float64 {
			k, err := s.TorsionalStiffness(80e9, from*s.Length(), to*s.Length())
			require.NoError(t, err)
			return k
		}
		mid := draw.Uniform(0.01, 0.99).Draw(t, "middle")
		require.InEpsilon(t, 1/k(0, 1), 1/k(0, mid)+1/k(mid, 1), 1e-10, "parts in series")

		// The node of the mode: each inertia alone on its part of the shaft swings at the same frequency.
		stiffness, first, second := draw.Log(1, 1e5).Draw(t, "stiffness"), draw.Log(1e-6, 1).Draw(t, "first"), draw.Log(1e-6, 1).Draw(t, "second")
		f, err := drive.TorsionalFrequency(stiffness, first, second)
		require.NoError(t, err)
		toNode := second / (first + second) // share of the shaft on the side of the first
		require.InEpsilon(t, stiffness/toNode/first, square(2*math.Pi*f), 1e-9)
		require.InEpsilon(t, stiffness/(1-toNode)/second, square(2*math.Pi*f), 1e-9)
	})
}

func TestTwistRefuses(t *testing.T) {
	_, err := overhung().TorsionalStiffness(0, 0.1, 0.05)
	assert.ErrorIs(t, err, material.ErrInvalid)
	assert.EqualError(t, err, "drive.StepShaft.TorsionalStiffness: rigidity = 0 Pa: allowed 100000 to 1e+13 Pa")
	_, err = overhung().TorsionalStiffness(80e9, 0.1, 0.05)
	assert.ErrorContains(t, err, "drive.StepShaft.TorsionalStiffness: to = 0.05 m: allowed 0.1 to 0.15 m")
	_, err = drive.TorsionalFrequency(math.NaN(), -1, 0)
	assert.EqualError(t, err, "drive.TorsionalFrequency: stiffness = NaN N·m/rad: allowed 1e-09 to 1e+15 N·m/rad\n"+
		"drive.TorsionalFrequency: first = -1 kg·m²: allowed 1e-12 to 1e+09 kg·m²\n"+
		"drive.TorsionalFrequency: second = 0 kg·m²: allowed 1e-12 to 1e+09 kg·m²")
}
