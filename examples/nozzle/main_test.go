package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"meltflight/material"
	"meltflight/screw"
)

func Example() {
	run([]string{"-out", "-"}, os.Stdout, os.Stderr)
	// Output:
	// NOZZLE AND SPEED for 1.5 kg/h of PP bead (invented numbers)
	//
	// Screw of 20 mm, square pitch: taper 80 mm from 3.6 to 1.6 mm deep, then 120 mm of 1.6 mm; clearance 0.08 mm.
	// Assumed: melt fills it from the taper on, entering at 215 °C; the barrel is held at that.
	// Limits: bead 0.1 MPa at the nozzle's wall, torque 4 N·m, melt 230 °C even if no heat passed the barrel.
	//
	//   nozzle  speed  pressure  melt at tip  if no heat  torque  wall    melt stays, s        breaks
	//   mm      rpm    bar       °C           passed, °C  N·m     MPa     least  mean  99 % by
	//   1.0     71     59.5      217          231         3.2     0.14    25     36    123      bead, heat
	//   1.2     61     40.2      217          228         2.9     0.11    25     36    124      bead
	//   1.5     53     24.9      217          226         2.6     0.085   26     36    123      -
	//   2.0     48     13.4      217          225         2.4     0.06    26     36    123      -
	//   2.5     46     8.29      216          224         2.3     0.046   26     36    122      -
	//
	// The smallest nozzle within all limits is 1.5 mm, at 53 rpm.
	//   From 2.5 down to 1.0 mm pressure grows 7.2 times, but speed only 1.5 times and torque 1.4 times.
	//   Of the 14 W at the shaft the barrel must take 11 W; without that the melt could come at 226 °C.
	//   A hundredth of the melt stays longer than 3.4 times the mean: wait for it when you change plastic or colour.
	//   At the 45 rpm it turns now the screw wants a nozzle of 3.3 mm for as much, at 4.6 bar.
	//
	// As fast as the limits let it
	//   nozzle  barrel held                        no heat passes
	//   mm      rpm    kg/h   stopped by           rpm    kg/h   stopped by
	//   1.0     30     0.64   bead surface         42     0.91   bead surface
	//   1.2     45     1.1    bead surface         61     1.6    bead surface
	//   1.5     80     2.2    bead surface         110    3.2    bead surface
	//   2.0     183    5.7    screw torque         160    5      melt temperature
	//   2.5     195    6.3    screw torque         177    5.8    melt temperature
	//   Feeding and melting are not computed here, and may stop it before.
	//
	// Entrance loss is left out: a short nozzle's pressure is 10 to 30 % higher. Left of what is measured of this melt:
	//   melt at 215 °C, viscosity law fitted from 190 to 200 °C
	//   melt at 216.7 °C, viscosity law fitted from 190 to 200 °C
	//   in the channel: shear rate 33.2 1/s, viscosity law fitted from 100 to 3.5e+03 1/s
	// Melt under pressure burns: relieve it before you change a nozzle, and never look into one.
}

func TestPictures(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "new")
	var out, faults bytes.Buffer
	require.Zero(t, run([]string{"-out", folder}, &out, &faults), faults.String())
	for name, words := range map[string][]string{
		"characteristic.svg": {"head pressure / bar", "output / (kg/h)", "screw at 53 rpm", "nozzle chosen", "1.2 mm"},
		"along.svg":          {"pressure / bar", "mean melt temperature / °C", "no heat passes the barrel", "metering zone"},
		"residence.svg":      {"melt that has left by then / %", "mean 36 s", "99 % by"},
	} {
		assert.Contains(t, out.String(), name)
		svg, err := os.ReadFile(filepath.Join(folder, name))
		require.NoError(t, err)
		assert.True(t, strings.HasSuffix(strings.TrimSpace(string(svg)), "</svg>"))
		for _, word := range words {
			assert.Contains(t, string(svg), word)
		}
	}
}

// The choice keeps all limits and no smaller nozzle does; the fastest runs stand at one
// limit and keep the others.
func TestChoice(t *testing.T) {
	a, err := find(workshop)
	require.NoError(t, err)
	assert.Empty(t, a.chosen.broken)
	limits := a.limits()
	for i := range a.trials {
		trial := &a.trials[i]
		assert.InEpsilon(t, workshop.wanted, kgh(trial.course), 1e-6)
		if trial.nozzle < a.chosen.nozzle {
			assert.NotEmpty(t, trial.broken)
		}
		for _, f := range []fastest{trial.fastest, trial.insulated} {
			assert.InEpsilon(t, 1, f.stop.Safety(), 1e-6)
			assert.LessOrEqual(t, f.course.Torque, limits.Torque*(1+1e-6))
			assert.LessOrEqual(t, f.course.Hottest, limits.Temperature+1e-3)
			assert.LessOrEqual(t, f.course.DieShearStress, limits.DieStress*(1+1e-6))
		}
	}
	// What is told of the nozzle for the speed they run is so when the screw is run with it.
	c, err := a.screw.OperatingPoint(nozzle(a.now), a.melt, held(workshop.running/60))
	require.NoError(t, err)
	assert.InEpsilon(t, workshop.wanted, kgh(c), 1e-6)
}

// As wide as its cone, a nozzle is a hole, with no step in pressure.
func TestNozzleWithoutCone(t *testing.T) {
	m, err := screw.MeltOf(material.PP(), material.Celsius(celsius))
	require.NoError(t, err)
	assert.Len(t, nozzle(7.99e-3), 2)
	assert.Len(t, nozzle(8.01e-3), 1)
	assert.InEpsilon(t, nozzle(7.99e-3).PressureDrop(m, 1e-6), nozzle(8.01e-3).PressureDrop(m, 1e-6), 0.02)
}

func TestFaults(t *testing.T) {
	for _, args := range [][]string{{"-out", ""}, {"more"}, {"-what"}} {
		var faults bytes.Buffer
		assert.Equal(t, 2, run(args, &bytes.Buffer{}, &faults))
		assert.NotEmpty(t, faults.String())
	}
	assert.Zero(t, run([]string{"-h"}, &bytes.Buffer{}, &bytes.Buffer{}))
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o644))
	var out, faults bytes.Buffer
	assert.Equal(t, 1, run([]string{"-out", file}, &out, &faults))
	assert.Contains(t, faults.String(), "-out")
	with := func(change func(*plan)) plan {
		p := workshop
		p.nozzles = []float64{1.5}
		change(&p)
		return p
	}
	assert.ErrorIs(t, tell(with(func(p *plan) { p.wanted = -1 }), "-", &out), material.ErrInvalid)
	assert.ErrorIs(t, tell(with(func(p *plan) { p.nozzles = []float64{0} }), "-", &out), material.ErrInvalid)
	assert.ErrorIs(t, tell(with(func(p *plan) { p.running = 0 }), "-", &out), material.ErrInvalid)
	assert.ErrorIs(t, tell(with(func(p *plan) { p.hottest = celsius }), "-", &out), material.ErrInvalid)
	assert.ErrorIs(t, tell(with(func(p *plan) { p.torque = 1 }), "-", &out), errNone)
	assert.ErrorIs(t, tell(with(func(p *plan) { p.nozzles = nil }), "-", &out), errNone)
	assert.ErrorIs(t, tell(with(func(p *plan) { p.running = 20 }), "-", &out), screw.ErrNoFlow)
	assert.Empty(t, out.String())
}
