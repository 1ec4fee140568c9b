package drive_test

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"meltflight/drive"
	"meltflight/internal/verify"
)

func TestCheckRim(t *testing.T) {
	const formula = "ISO 6336-3:2006 Y_B, AGMA K_B"
	var rows []verify.Row
	for _, c := range [][2]float64{{1.2, 1.000075}, {1.0, 1.291789}, {0.8, 1.648819}, {0.6, 2.109110}, {0.5, 2.400825}, {1.201, 1}, {5, 1}} {
		got, err := drive.RimFactor(c[0])
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("rim of %g depths", c[0]), Source: formula, Kind: verify.Memory, Want: c[1], Got: got, Tol: 5e-7, Why: "seven digits given"})
	}
	for _, c := range [][2]float64{{3.5, 1}, {1.75, 1.793468}} {
		got, err := drive.RingRimFactor(c[0])
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("rim of a ring, %g modules", c[0]), Source: "ISO 6336-3:2006, 1.15·ln(8.324·m/s)", Kind: verify.Memory, Want: c[1], Got: got, Tol: 4e-3, Why: "the standard's own step at 3.5"})
	}
	for _, c := range []struct {
		module      float64
		teeth       int
		shift, root float64 // mm
	}{{.5, 12, .3, 5.05}, {.5, 14, .3, 6.05}, {.8, 9, .5, 6.0}, {.5, 12, 0, 4.75}, {.6, 10, .4, 4.98}} {
		g := sized(c.module*1e-3, c.teeth, 60, c.shift, 0, 5e-3)
		rim, err := g.BoredRim(1e-3, 0)
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: fmt.Sprintf("root circle, %d of %g mm, shift %g, mm", c.teeth, c.module, c.shift), Source: "m·(z − 2.5 + 2x) by hand", Kind: verify.Own, Want: c.root, Got: 2*rim*1e3 + 1, Tol: 1e-12, Why: "exact"})
	}
	verify.Table(t, rows)

	// A motor's 5 mm shaft.
	_, err := sized(.5e-3, 12, 60, 0, 0, 5e-3).BoredRim(5e-3, 0)
	assert.EqualError(t, err, "drive.GearPair.BoredRim: bore = 0.005 m: allowed less than 0.00475 m, the root circle less twice the keyway")
	// 1.2 depths of metal want a root circle of the bore and 5.4 modules.
	g := sized(1e-3, 12, 60, 0.45, 0, 5e-3) // root circle 10.4 mm
	rim, err := g.BoredRim(5e-3, 0)
	require.NoError(t, err)
	assert.InEpsilon(t, 1.2*2.25e-3, rim, 1e-12)
	rim, err = g.BoredRim(5e-3, 1e-3)
	require.NoError(t, err)
	m := [2]drive.ToothMaterial{steel, steel}
	m[0].Rim = rim
	keyed, err := g.Rate(0.2, m, even)
	require.NoError(t, err)
	solid := rated1(t, g, 0.2, even)
	factor, err := drive.RimFactor(rim / 2.25e-3)
	require.NoError(t, err)
	assert.Greater(t, factor, 1.5)
	assert.InEpsilon(t, factor, keyed.RootStress[0]/solid.RootStress[0], 1e-12)
	assert.Equal(t, solid.RootStress[1], keyed.RootStress[1])
	ring := g
	ring.Ring, m[0].Rim, m[1].Rim = true, 0, 2e-3
	thin, err := ring.Rate(0.2, m, even)
	require.NoError(t, err)
	factor, err = drive.RingRimFactor(2)
	require.NoError(t, err)
	assert.InEpsilon(t, factor, thin.RootStress[1]/rated1(t, ring, 0.2, even).RootStress[1], 1e-12)

	_, err = drive.RimFactor(0.4)
	assert.EqualError(t, err, "drive.RimFactor: ratio = 0.4: allowed 0.5 to 1e+06")
	_, err = drive.RingRimFactor(1)
	assert.Error(t, err)
}
