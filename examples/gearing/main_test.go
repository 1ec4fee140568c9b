package main

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"meltflight/drive"
	"meltflight/material"
)

func Example() {
	run([]string{"-out", "-"}, os.Stdout, os.Stderr)
	// Output:
	// WHICH GEAR STAGE NEXT? A stripped motor pinion ended the season (invented numbers)
	//
	// The screw asks 6.3 N·m at 72 rpm and pushes back with 900 N; a season is 600 h, a new stage should last 2000 h.
	// At other speeds it asks (speed/72 rpm)^0.35 of that: the power law of a melt that stays as warm.
	// Motor of 1.9 N·m at 2.8 A, winding 80 °C, on 35 V. Assumed: 3 planets, the heaviest with 1.2 of an even share;
	// meshes of 0.97; rings of quenched alloy steel; no profile shift; teeth cut 0.01 to 0.03 mm thinner, axes ±0.01 mm.
	//
	// The stage that broke: 12/24/60 teeth, ratio 6, module 0.4 mm, face 4.5 mm, case-hardened, modest
	//   Its sun turns 432 rpm under 1.08 N·m. For a season its teeth bear 1.2 N·m of the screw; it asks 6.3.
	//             safety over 2000 h         lasts, h
	//             sun     planet  ring      sun      planet   ring
	//     root    0.90    0.79    0.82     18       35       69
	//     flank   0.43    0.54    0.79     at once  at once  96
	//   Nearest to its limit: sun flank. Of the roots, whose teeth break off, the first to go is the sun tooth root, after 18 h.
	//   At once: stressed more than it bears even a few times. Flanks wear to pits and steps first; then roots break.
	//   The motor holds 1.63 times what is asked: not for want of it did the pinion go.
	//
	// What can be had, safeties over 2000 h (root/flank)
	//      teeth      ratio  mod.  face  outer  sun        planet     ring       sun lasts, h       bears  motor  play
	//                        mm    mm    mm                                      root     flank     N·m           °
	//   a  12/24/60   6      0.4   4.5   27.8   0.90/0.43  0.79/0.54  0.82/0.79  18       at once   1.2    1.63   0.10 to 0.54
	//   b  12/24/60   6      0.5   8     34.8   3.40/0.82  2.99/1.04  2.29/1.32  no end   54        4.4    1.63   0.08 to 0.43
	//   c  18/27/72   5      0.6   10    48.9   7.11/0.85  5.27/0.95  5.17/2.05  no end   110       4.9    1.47   0.05 to 0.29
	//   d  18/27/72   5      0.5   8     40.8   5.34/1.24  3.96/1.39  2.87/1.53  no end   no end    10     1.47   0.06 to 0.34
	//   e  18/36/90   6      0.5   8     49.8   6.53/1.41  4.92/1.62  3.49/1.97  no end   no end    13     1.63   0.05 to 0.29
	//   f  18/45/108  7      0.5   8     58.8   7.71/1.57  5.84/1.83  4.10/2.41  no end   no end    16     1.69   0.05 to 0.24
	//   g  12/42/96   9      0.4   8     42.2   3.26/0.83  3.07/1.11  2.24/1.76  no end   43        4.4    1.70   0.07 to 0.36
	//   *  17/34/85   6      0.5   6     47.2   4.53/1.14  3.45/1.32  2.46/1.61  no end   no end    8.6    1.63   0.06 to 0.30
	//   a  the one that broke; case-hardened, modest, sun undercut: not enough, sun tooth root 0.90, planet tooth root 0.79, ring tooth root 0.82, sun flank 0.43, planet flank 0.54, ring flank 0.79
	//   b  same teeth, larger; case-hardened, good, sun undercut: not enough, sun flank 0.82, planet flank 1.04
	//   c  more teeth, soft; quenched alloy, good: not enough, sun flank 0.85, planet flank 0.95, motor 1.47
	//   d  more teeth, hard; case-hardened, good: not enough, motor 1.47
	//   e  slower; case-hardened, good: does all that is asked
	//   f  slower still; case-hardened, good: does all that is asked
	//   g  slow and slim; case-hardened, good, sun undercut: not enough, sun flank 0.83
	//   *  chosen below; case-hardened, good, sun undercut: does all that is asked
	//   Asked: roots 1.4, flanks 1.1, 60 mm outside at most, motor 1.5 (2 is common practice).
	//   Bears: torque of the screw that its teeth bear for a season. Motor: pull-out over what is asked. Play: of the screw, motor held.
	//
	// The smallest that lasts, ratio 6 to 9, face of 12 modules: 17/34/85 teeth, ratio 6, module 0.5 mm, face 6 mm, case-hardened, good
	//             safety over 2000 h         lasts, h
	//             sun     planet  ring      sun      planet   ring
	//     root    4.53    3.45    2.46     no end   no end   no end
	//     flank   1.14    1.32    1.61     no end   no end   no end
	//   Nearest to its limit: sun flank. No root breaks.
	//   The next smaller module of these teeth fails: sun flank 0.82.
	//   Its teeth hum at 102 Hz; each of the sun is loaded 18 times a second.
	//   To mind: pinion undercut: a shift of 0.00566 modules or more avoids it.
	//   To mind: wheel's tip reaches past the pinion's involute and may foul its fillet: contact is counted as if the tip ended at a radius of 20.795 mm.
	//   A plain pair of 18 and 108 teeth instead: module 0.6 mm, face 7.2 mm, 77 mm across both.
	//
	// Shank and key behind the screw, safety 1.5, ripple 0.3 of the torque, 1.5 N·m of turning moment
	//   Shank 9 mm: 1.98; the next smaller fails: shaft fatigue 1.40
	//   Key 3 × 3 × 12 mm: 1.60; the next smaller fails: key groove in hub 1.25
	//   All behind the screw, with a thrust bearing of 14 kN: nearest to its limit is the sun flank, 1.14; teeth and bearing last 870000 h.
	//
	// What it says
	//   Of the ratios 5, 6, 9 the motor has most to spare at 9: 1.70, against 1.46 at 5 and 1.62 at 6.
	//     A larger ratio buys torque only while the motor has its full current. Beyond, its supply limits power:
	//     through none of these does it turn the screw faster than 107 rpm.
	//   Next: e, slower (18/36/90 teeth, ratio 6, module 0.5 mm, face 8 mm, case-hardened, good), 49.8 mm outside. It bears 13 N·m for a season, 11 times what broke.
	//   Made to measure (*) it could be as small as 47.2 mm.
	// Not rated: scuffing, the planets' pins, grease, shock of a cold start, teeth that are already worn.
	// Turning gears and screws draw fingers in: cover them, and switch off before you reach in. A broken tooth lets go under load, and what was wound up springs back.
}

// found is the workshop's answer, found once.
var found = sync.OnceValues(func() (*answer, error) { return find(workshop) })

func TestPictures(t *testing.T) {
	folder := filepath.Join(t.TempDir(), "new")
	var out, faults bytes.Buffer
	require.Zero(t, run([]string{"-out", folder}, &out, &faults), faults.String())
	a, err := found()
	require.NoError(t, err)
	again, err := a.draw()
	require.NoError(t, err)
	words := map[string][]string{
		"torque.svg": {"torque at the screw", "through a ratio of 9", "what the screw asks", "it runs at 72 rpm"},
		"module.svg": {"safety of the roots", "safety of the flanks", "module / mm", "planet", "asked: 1.4", "chosen"},
	}
	require.Len(t, again, len(words))
	for _, p := range again {
		assert.Contains(t, out.String(), p.Name)
		svg, err := os.ReadFile(filepath.Join(folder, p.Name))
		require.NoError(t, err)
		assert.True(t, strings.HasSuffix(strings.TrimSpace(string(svg)), "</svg>"))
		assert.True(t, bytes.Equal(svg, p.SVG), "%s is drawn alike each time", p.Name)
		for _, word := range words[p.Name] {
			assert.Contains(t, string(svg), word)
		}
	}
}

// Roots bear the cube of the module if the face grows with it, flanks its power of 1.5: the
// force falls with the radius, and all that carries it grows. No more than that, as a
// larger tooth has no other shape.
func TestSafetiesGrowWithModule(t *testing.T) {
	a, err := found()
	require.NoError(t, err)
	rows, err := a.modules()
	require.NoError(t, err)
	require.Len(t, rows, len(workshop.steps))
	for i, r := range rows[1:] {
		larger := r.module / rows[i].module
		for k, u := range r.Utilisations {
			power := map[bool]float64{false: 3, true: 1.5}[k >= flanks]
			was := rows[i].Utilisations[k].Safety()
			assert.InEpsilon(t, math.Pow(larger, power), u.Safety()/was, 1e-9, "%s at %g mm", u.Part, r.module)
			assert.GreaterOrEqual(t, r.Life[k], rows[i].Life[k])
		}
	}
}

// What is chosen does what is asked within its room; the next smaller module of its teeth does not.
func TestChosen(t *testing.T) {
	a, err := found()
	require.NoError(t, err)
	p := &a.plan
	assert.Empty(t, a.lacks(&a.chosen))
	assert.InEpsilon(t, a.choice.Outer, a.chosen.outer, 1e-12)
	for i, u := range a.chosen.rating.Utilisations {
		assert.GreaterOrEqual(t, u.Safety(), p.asked(i), u.Part)
		assert.Greater(t, a.chosen.rating.Life[i], p.wanted*hour)
		assert.Equal(t, u, a.whole.Utilisations[i])
	}
	assert.LessOrEqual(t, a.chosen.outer, p.outer*mm)
	ratio := a.choice.Stage.Ratio()
	assert.True(t, ratio >= p.least-1e-9 && ratio <= p.most+1e-9)

	rows, err := a.modules()
	require.NoError(t, err)
	smaller := -1
	for i, r := range rows {
		if r.module*mm < a.choice.Stage.Module*(1-1e-9) {
			smaller = i
		}
	}
	require.GreaterOrEqual(t, smaller, 0)
	seen := false
	for i, u := range rows[smaller].Utilisations {
		seen = seen || u.Part == a.choice.Smaller.Part && u.Safety() < p.asked(i)
	}
	assert.True(t, seen, "the next smaller module fails as it is said to")
	assert.Less(t, a.choice.Smaller.Safety(), p.root)

	// Shank and key as well.
	assert.GreaterOrEqual(t, math.Min(a.shank.Fatigue.Goodman, a.shank.Fatigue.Yield), p.safe)
	assert.Less(t, a.shank.Smaller.Safety(), p.safe)
	assert.GreaterOrEqual(t, worst(a.key.Utilisations[:]), p.safe)
	assert.Less(t, a.key.Smaller.Safety(), p.safe)
	notched, err := shank(a.shank.Shaft.Diameter)
	require.NoError(t, err)
	assert.Equal(t, notched, a.shank.Shaft, "notched as large as it is")

	// The plain pair carries all on one mesh, and needs more room.
	for i, u := range a.bare.Rating.Utilisations {
		assert.GreaterOrEqual(t, u.Safety(), []float64{p.root, p.root, p.flank, p.flank}[i], u.Part)
	}
	assert.Less(t, a.bare.Smaller.Safety(), p.root)
	pair := a.bare.Pair
	assert.Greater(t, pair.Module*float64(pair.Pinion.Teeth+pair.Wheel.Teeth), a.chosen.outer)
}

// The stage that broke breaks within the season, its sun the first of the roots, and not
// for want of torque of the motor.
func TestWhatBroke(t *testing.T) {
	a, err := found()
	require.NoError(t, err)
	r := &a.stages[0]
	assert.Less(t, r.rating.Life[0], workshop.season*hour)
	for _, life := range r.rating.Life[1:flanks] {
		assert.Less(t, r.rating.Life[0], life)
	}
	assert.Greater(t, r.reserve.Safety(), workshop.reserve)
	// Under what its teeth bear, the worst of them is just at its limit.
	for i, s := range append(append([]rated{}, a.stages...), a.chosen) {
		load, err := s.Load(s.bears, workshop.speed*rpm)
		require.NoError(t, err)
		teeth, err := s.steel.stage()
		require.NoError(t, err)
		again, err := s.Rate(load, workshop.season*hour, teeth, drive.CommonGearFactors())
		require.NoError(t, err)
		assert.InEpsilon(t, 1, again.Utilisations[again.Weakest].Safety(), 1e-9, i)
	}
}

// The motor's share by ratio: torque in proportion while its current is full, and the
// speed at which it falls out of step is where both curves cross.
func TestMotorByRatio(t *testing.T) {
	a, err := found()
	require.NoError(t, err)
	for i := range a.stages {
		r := &a.stages[i]
		torque, err := a.atScrew(r.stalls, r.Ratio(), r.Efficiency())
		require.NoError(t, err)
		assert.InEpsilon(t, a.plan.demand(r.stalls), torque, 1e-6)
		assert.Greater(t, r.stalls, workshop.speed*rpm)
	}
	slow, err := a.atScrew(0.1, 5, 1)
	require.NoError(t, err)
	twice, err := a.atScrew(0.1, 10, 1)
	require.NoError(t, err)
	assert.InEpsilon(t, 2*slow, twice, 1e-12)
	assert.InEpsilon(t, workshop.torque, a.plan.demand(workshop.speed*rpm), 1e-12)
	assert.InEpsilon(t, math.Pow(2, workshop.index), a.plan.demand(2)/a.plan.demand(1), 1e-12)
	for _, spare := range a.spare {
		assert.LessOrEqual(t, spare, a.best.Reserve.Safety()*(1+1e-12))
	}
}

// Play at the carrier is that of both meshes in line: the same at the sun with the carrier
// held, divided by the ratio.
func TestPlay(t *testing.T) {
	a, err := found()
	require.NoError(t, err)
	s := a.choice.Stage
	inner := drive.GearPair{Rack: drive.RackA(), Module: s.Module, Face: s.Face, Pinion: drive.Wheel{Teeth: s.Sun}, Wheel: drive.Wheel{Teeth: s.Planet}}
	outer := drive.GearPair{Rack: drive.RackA(), Module: s.Module, Face: s.Face, Pinion: drive.Wheel{Teeth: s.Planet}, Wheel: drive.Wheel{Teeth: s.Ring}, Ring: true}
	thin, off := drive.Allowance{Least: thinLeast * mm, Most: thinMost * mm}, drive.Allowance{Least: -axes * mm, Most: axes * mm}
	at, _, err := inner.Backlash(thin, thin, off)
	require.NoError(t, err)
	ring, _, err := outer.Backlash(thin, thin, off)
	require.NoError(t, err)
	// A planet that is free by the ring's play takes the sun along by its teeth. Working circles
	// move with the axes, by less than a hundredth.
	sun := at.PinionAngle + ring.PinionAngle*float64(s.Planet)/float64(s.Sun)
	assert.InEpsilon(t, sun/s.Ratio(), a.chosen.play[0], 0.01)
	assert.Greater(t, a.chosen.play[1], a.chosen.play[0])
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
	for _, c := range []struct {
		change func(*plan)
		is     error
		says   string
	}{
		{func(p *plan) { p.speed = 0 }, material.ErrInvalid, "speed = 0"},
		{func(p *plan) { p.torque = math.NaN() }, material.ErrInvalid, "torque = NaN"},
		{func(p *plan) { p.reserve = math.Inf(1) }, material.ErrInvalid, "reserve"},
		{func(p *plan) { p.stages = nil }, material.ErrInvalid, "stages = 0"},
		{func(p *plan) { p.steps = nil }, material.ErrInvalid, "steps = 0"},
		{func(p *plan) { p.ratios = []float64{0.5} }, material.ErrInvalid, "ratios[0] = 0.5"},
		{func(p *plan) { p.stages[0].planet = 25 }, material.ErrInvalid, "the one that broke"},
		{func(p *plan) { p.stages[0].steel.line = "cheese" }, material.ErrInvalid, "cheese"},
		{func(p *plan) { p.thrust = -1 }, material.ErrInvalid, "AxialMean"},
		{func(p *plan) { p.warm = 1e3 }, material.ErrInvalid, "temperature"},
		{func(p *plan) { p.outer = 30 }, drive.ErrNoSize, "within 0.03 m"},
		{func(p *plan) { p.most = 20 }, material.ErrInvalid, "Most"},
		{func(p *plan) { p.supply = 3 }, drive.ErrOutOfStep, "the one that broke"},
		{func(p *plan) { p.stages[0].module = 0 }, material.ErrInvalid, "Module"},
	} {
		p := workshop
		p.stages = append([]stage{}, p.stages[:1]...)
		c.change(&p)
		err := tell(p, "-", &out)
		assert.ErrorIs(t, err, c.is)
		assert.ErrorContains(t, err, c.says)
	}
	assert.Empty(t, out.String())

	// A motor too weak to turn the screw, or teeth that are not sold, are answers.
	p := workshop
	p.stages, p.current = p.stages[:1], 1
	require.NoError(t, tell(p, "-", &out))
	assert.Contains(t, out.String(), "None that can be had does all that is asked")
	assert.Contains(t, out.String(), "but: motor 0.")
}
