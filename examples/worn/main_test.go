package main

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"meltflight/material"
)

func Example() {
	run([]string{"-out", "-"}, os.Stdout, os.Stderr)
	// Output:
	// WHY A WORN OR RE-CUT SCREW PUMPS LESS, at 45 rpm (invented numbers)
	//
	// Screw of 20 mm, square pitch: taper 80 mm from 3.6 mm deep, then a metering zone of 120 mm.
	// Assumed: PP melt fills it from the taper on, entering at 215 °C; the barrel is held at that.
	//
	//   new: 1.6 mm deep, clearance 0.08 mm
	//   worn: 1.6 mm deep, clearance 0.30 mm
	//   re-cut: 2.6 mm deep, clearance 0.08 mm
	//
	// Through the tie nozzle, 1.2 mm with a land of 30 mm; flows in kg/h
	//            output  pressure  dragged  pressed  back over  torque  warmest      as much as the new one at
	//   screw            bar       along    back     the lands  N·m     melt, °C     rpm    N·m    °C
	//   new      0.63    81        1.51     0.75     0.13       2.9     217 to 236   45     2.9    217 to 236
	//   worn     0.14    44        1.51     0.34     1.02       2.1     216 to 259   195    3.7    220 to 276
	//   re-cut   0.44    69        2.41     1.86     0.12       2.7     217 to 240   65     3.1    217 to 243
	//
	// Through the edging nozzle, 1.5 mm with a land of 10 mm; flows in kg/h
	//            output  pressure  dragged  pressed  back over  torque  warmest      as much as the new one at
	//   screw            bar       along    back     the lands  N·m     melt, °C     rpm    N·m    °C
	//   new      1.27    23        1.51     0.14     0.10       2.4     216 to 225   45     2.4    216 to 225
	//   worn     0.77    19        1.51     0.08     0.65       2.0     216 to 228   74     2.4    217 to 231
	//   re-cut   1.62    26        2.41     0.69     0.10       2.3     216 to 222   35     2.0    216 to 221
	//   Melt from as warm as the held barrel leaves it to as warm as if no heat passed the barrel.
	//
	// What it says
	//   The worn screw puts out 77 % less through the tie nozzle and 39 % less through the edging nozzle.
	//     Behind the tie nozzle it drags 1.0 times as much along as the new one; 0.34 kg/h are pressed back, not 0.75, and 1.02 leak over the lands, not 0.13.
	//     To put out as much there it must turn 4.3 times as fast, with 1.3 times the torque.
	//   The re-cut screw puts out 31 % less through the tie nozzle and 28 % more through the edging nozzle.
	//     Behind the tie nozzle it drags 1.6 times as much along as the new one; 1.86 kg/h are pressed back, not 0.75, and 0.12 leak over the lands, not 0.13.
	//     To put out as much there it must turn 1.4 times as fast, with 1.1 times the torque.
	//   For the tie nozzle a metering zone of 1.5 mm is best, with new lands: 0.63 kg/h.
	//   For the edging nozzle a metering zone of 3.4 mm is best, with new lands: 1.69 kg/h.
	//   A deep screw is not bad: it wants a nozzle that asks for little pressure.
	// How fast lands wear is not computed. Feeding, melting and entrance loss are left out. Left of what is measured of this melt:
	//   melt at 215 °C, viscosity law fitted from 190 to 200 °C
	//   melt at 216.7 °C, viscosity law fitted from 190 to 200 °C
	//   in the channel: shear rate 28.1 1/s, viscosity law fitted from 100 to 3.5e+03 1/s
	// Melt under pressure burns: relieve it before you open anything, and never look into a nozzle.
}

func TestPictures(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "new")
	var out, faults bytes.Buffer
	require.Zero(t, run([]string{"-out", folder}, &out, &faults), faults.String())
	for name, words := range map[string][]string{
		"characteristic.svg": {"head pressure / bar", "output / (kg/h)", "worn: 1.6 mm deep", "re-cut: 2.6 mm deep", "tie nozzle", "edging nozzle"},
		"profiles.svg":       {"speed along the channel / (mm/s)", "speed across the channel / (mm/s)", "above the root / mm"},
		"depth.svg":          {"depth of the metering zone / mm", "best at 1.5 mm", "re-cut"},
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

// Drag, back flow and leakage at the tip add up to the output; the deeper screw gains
// behind one nozzle and loses behind the other, as the sentences say; and the speed that
// makes up for it does.
func TestWhereItGoes(t *testing.T) {
	a, err := find(workshop)
	require.NoError(t, err)
	for _, f := range a.fronts {
		for i, at := range f.points {
			assert.InEpsilon(t, at.course.Flow, at.tip.Drag+at.tip.PressureFlow+at.tip.Leakage, 1e-4)
			assert.InEpsilon(t, f.points[0].course.Flow, at.again.Flow, 1e-6)
			c, err := workshop.screws[i].profile().OperatingPoint(f.die, a.melt, held(at.speed))
			require.NoError(t, err)
			assert.InEpsilon(t, f.points[0].course.Flow, c.Flow, 1e-6)
		}
		assert.GreaterOrEqual(t, f.most.Flow, f.points[0].course.Flow)
	}
	tie, edging := a.fronts[0].points, a.fronts[1].points
	assert.Less(t, tie[2].course.Flow, tie[0].course.Flow)
	assert.Greater(t, edging[2].course.Flow, edging[0].course.Flow)
}

// The layers drawn carry what the channel does, but for leakage and side walls.
func TestLayersCarryTheFlow(t *testing.T) {
	a, err := find(workshop)
	require.NoError(t, err)
	for i, v := range workshop.screws {
		at := a.fronts[0].points[i]
		layers, err := a.layers(v, at.course)
		require.NoError(t, err)
		top := layers[len(layers)-1]
		zone := v.profile().ChannelAt(0.2)
		around := math.Pi * zone.Bore * workshop.speed / 60
		assert.InEpsilon(t, around, math.Hypot(top.Along, top.Across), 1e-9)
		assert.True(t, top.Along > 0 && top.Across < 0, "the barrel drags forward, and back to the flight behind")
		assert.InDelta(t, 0, top.BelowAcross/(around*zone.Depth), 1e-9)
		assert.InDelta(t, at.tip.Drag+at.tip.PressureFlow, zone.Width()*top.Below, 0.1*at.tip.Drag)
	}
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
		p.screws, p.nozzles = append([]version{}, p.screws...), append([]nozzle{}, p.nozzles[:1]...)
		change(&p)
		return p
	}
	assert.ErrorIs(t, tell(with(func(p *plan) { p.speed = 0 }), "-", &out), material.ErrInvalid)
	assert.ErrorIs(t, tell(with(func(p *plan) { p.screws[1].clearance = -1 }), "-", &out), material.ErrInvalid)
	assert.ErrorIs(t, tell(with(func(p *plan) { p.nozzles[0].diameter = entry }), "-", &out), material.ErrInvalid)
	assert.ErrorContains(t, tell(with(func(p *plan) { p.screws[1].clearance = 1.2 }), "-", &out), "worn screw, tie nozzle")
	assert.Empty(t, out.String())
}
