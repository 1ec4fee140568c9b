package drive_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"meltflight/drive"
	"meltflight/material"
)

// The trade's experience (common practice, no source): under a small granulate screw the
// motor geared for some 2 N·m loses its teeth within a season of 600 h, and one for some 9
// N·m is what it is replaced by. Assumed: 5 N·m at the screw, 45 rpm, three planets, 12/18 teeth
// of 0.4 mm, 6 mm wide, of plain carbon steel in the small one; 18/27 of 0.6 mm, 12 mm wide, of
// alloy steel in the large. Flanks so small pit earlier than they break; roots decide here.
func TestGearedMotorsUnderASmallScrew(t *testing.T) {
	const screw, season = 5.0, 600.0
	// hours returns those until the weaker of sun and planet breaks.
	hours := func(sun, planet int, module, face, vickers float64, grade string, torque float64) (least float64) {
		g, err := material.GearSteelNamed(grade)
		require.NoError(t, err)
		root, err := g.Root(vickers)
		require.NoError(t, err)
		flank, err := g.Contact(vickers)
		require.NoError(t, err)
		stage := drive.PlanetaryStage{Sun: sun, Planet: planet, Ring: sun + 2*planet, Planets: 3, Module: module, Face: face, MeshEfficiency: 0.97, LoadShare: 1.1}
		l, err := stage.Load(torque, 0.75)
		require.NoError(t, err)
		m := drive.ToothMaterial{Young: 206e9, Poisson: 0.3, RootLimit: root, FlankLimit: flank, Cycles: 1e9}
		p := m
		p.Reversed = true
		r, err := sized(module, sun, planet, 0, 0, face).Rate(l.ToothForce*module*float64(sun)/2, [2]drive.ToothMaterial{m, p}, drive.CommonGearFactors())
		require.NoError(t, err)
		least = math.Inf(1)
		for i, often := range []float64{3 * (l.SunSpeed - l.CarrierSpeed), -l.PlanetSpeed} {
			n, err := drive.QuenchedLife().Root.Cycles(1 / r.Utilisations[i].Safety())
			require.NoError(t, err)
			least = math.Min(least, n/often/3600)
			t.Logf("%d/%d, %g mm, %g N·m: %s %.0f of %.0f MPa", sun, planet, module*1e3, torque, r.Utilisations[i].Part, r.Utilisations[i].Demand/1e6, r.Utilisations[i].Capacity/1e6)
		}
		return least
	}
	small := hours(12, 18, 0.4e-3, 6e-3, 210, "carbon QT MQ", screw)
	assert.Less(t, small, season)
	assert.Greater(t, small, 10.0, "not on the first day")
	assert.Greater(t, hours(12, 18, 0.4e-3, 6e-3, 210, "carbon QT MQ", 2), season, "it bears what it is sold for")
	assert.Greater(t, hours(18, 27, 0.6e-3, 12e-3, 300, "alloy QT MQ", screw), 100*season)
	assert.Greater(t, hours(18, 27, 0.6e-3, 12e-3, 300, "alloy QT MQ", 9), 100*season)
}
