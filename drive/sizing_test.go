package drive_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/internal/draw"
	"meltflight/internal/versus"
	"meltflight/material"
)

// hardened and tempered are teeth of case-hardened and of quenched steel, of numbers as
// a designer takes them.
var (
	hardened = drive.ToothMaterial{Young: 206e9, Poisson: 0.3, RootLimit: 430e6, FlankLimit: 1400e6, Life: drive.CaseLife()}
	tempered = drive.ToothMaterial{Young: 206e9, Poisson: 0.3, RootLimit: 250e6, FlankLimit: 600e6, Life: drive.QuenchedLife()}
)

func transmission() drive.Transmission {
	key, err := drive.StandardKey(12e-3)
	if err != nil {
		panic(err)
	}
	return drive.Transmission{
		Stage: drive.PlanetaryStage{Sun: 18, Planet: 27, Ring: 72, Planets: 3, Module: 0.6e-3, Face: 10e-3, MeshEfficiency: 0.97, LoadShare: 1.2},
		Teeth: [3]drive.ToothMaterial{tempered, tempered, tempered}, Factors: drive.CommonGearFactors(),
		Shank:   drive.Shaft{Diameter: 12e-3, BendingNotch: 2.1, TorsionNotch: 3, Yield: 490e6, Ultimate: 700e6, Endurance: 200e6},
		Bending: 1.5, Ripple: 0.3,
		Key: drive.KeyJoint{Diameter: 12e-3, Size: key, Length: 14e-3, Keys: 1}, KeyStrength: drive.KeyStrength{Key: 350e6, Shaft: 490e6, Hub: 300e6},
		Bearing: drive.Bearing{Dynamic: 14e3, Static: 24e3, Exponent: drive.Ball}, Reliability: 0.9,
	}
}

// A stage's rating is its two pairs', with the cycles each tooth sees.
func TestStageRatingIsItsPairs(t *testing.T) {
	d := transmission()
	load, err := d.Stage.Load(8, 1.2)
	require.NoError(t, err)
	const season = 600 * 3600.0
	r, err := d.Stage.Rate(load, season, d.Teeth, d.Factors)
	require.NoError(t, err)
	// 1.2 turns of the carrier a second, 6 of the sun: 4.8 against the carrier.
	assert.InEpsilon(t, 3*4.8*season, r.Cycles[0], 1e-12)
	assert.InEpsilon(t, 4.8*18/27*season, r.Cycles[1], 1e-12)
	assert.InEpsilon(t, 3*1.2*season, r.Cycles[2], 1e-12)
	sun, planet := tempered, tempered
	sun.Cycles, planet.Cycles, planet.Reversed = r.Cycles[0], r.Cycles[1], true
	pair := drive.GearPair{Rack: drive.RackA(), Module: 0.6e-3, Face: 10e-3, Pinion: drive.Wheel{Teeth: 18}, Wheel: drive.Wheel{Teeth: 27}}
	inner, err := pair.Rate(load.SunTorque*1.2/3, [2]drive.ToothMaterial{sun, planet}, d.Factors)
	require.NoError(t, err)
	assert.InEpsilon(t, inner.RootStress[0], r.Utilisations[0].Demand, 1e-12)
	assert.InEpsilon(t, inner.FlankStress[0], r.Utilisations[3].Demand, 1e-12)
	assert.GreaterOrEqual(t, r.Utilisations[1].Demand, inner.RootStress[1]*(1-1e-12))
	assert.Equal(t, []string{"sun tooth root", "planet tooth root", "ring tooth root", "sun flank", "planet flank", "ring flank"},
		[]string{r.Utilisations[0].Part, r.Utilisations[1].Part, r.Utilisations[2].Part, r.Utilisations[3].Part, r.Utilisations[4].Part, r.Utilisations[5].Part})
	for i, u := range r.Utilisations {
		assert.GreaterOrEqual(t, u.Safety(), r.Utilisations[r.Weakest].Safety(), i)
	}
}

// A part run to the end of its life is just at its limit, and one that is far within it
// lasts without end.
func TestPropertyStageLife(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := transmission()
		torque := draw.Log(1, 300).Draw(t, "torque")
		load, err := d.Stage.Load(torque, 1.2)
		require.NoError(t, err)
		r, err := d.Stage.Rate(load, 3600, d.Teeth, d.Factors)
		require.NoError(t, err)
		for i, life := range r.Life {
			u := r.Utilisations[i]
			if life >= 1e15 || life < 3600 {
				continue
			}
			again, err := d.Stage.Rate(load, life, d.Teeth, d.Factors)
			require.NoError(t, err)
			require.InEpsilon(t, 1, again.Utilisations[i].Safety(), 1e-6, u.Part)
		}
		more, err := d.Stage.Load(1.1*torque, 1.2)
		require.NoError(t, err)
		worse, err := d.Stage.Rate(more, 3600, d.Teeth, d.Factors)
		require.NoError(t, err)
		require.LessOrEqual(t, worse.Shortest, r.Shortest)
		for i := range r.Utilisations {
			require.Less(t, worse.Utilisations[i].Safety(), r.Utilisations[i].Safety())
		}
	})
}

// A small granulate screw behind a geared motor of some 2 N·m loses the teeth of its motor
// pinion within a season, behind one of some 9 N·m it does not (common practice, no source;
// the sizes of both gears are assumed).
func TestCheckMotorPinion(t *testing.T) {
	const season = 600 * 3600.0
	k := drive.CommonGearFactors()
	life := func(module, face, screw float64) float64 {
		s := drive.PlanetaryStage{Sun: 12, Planet: 24, Ring: 60, Planets: 3, Module: module, Face: face, MeshEfficiency: 0.96, LoadShare: 1.3}
		load, err := s.Load(screw, 0.75)
		require.NoError(t, err)
		r, err := s.Rate(load, season, [3]drive.ToothMaterial{tempered, tempered, tempered}, k)
		require.NoError(t, err)
		return r.Life[0] // of the sun's roots: it is their teeth that break
	}
	const screw = 6 // N·m under granulate
	assert.Less(t, life(0.3e-3, 5e-3, screw), season, "rated about 2 N·m")
	assert.Greater(t, life(0.5e-3, 10e-3, screw), season, "rated about 9 N·m")
}

// The drive's rating is its parts', its weakest the least of them, and none is left out.
func TestTransmission(t *testing.T) {
	d := transmission()
	const season = 600 * 3600.0
	r, err := d.Rate(6, 900, 1.2, season)
	require.NoError(t, err)
	for i, u := range r.Utilisations {
		assert.NotEmpty(t, u.Part, i)
		assert.Positive(t, u.Capacity, u.Part)
		assert.GreaterOrEqual(t, u.Safety(), r.Utilisations[r.Weakest].Safety(), u.Part)
	}
	bearing, err := d.Bearing.Life(900, 1.2, 0.9)
	require.NoError(t, err)
	assert.Equal(t, math.Min(bearing.Seconds, r.Teeth.Shortest), r.Lasts)
	key, err := d.Key.Utilisations(6*1.3, d.KeyStrength)
	require.NoError(t, err)
	assert.Equal(t, key[0], r.Utilisations[8])
	assert.Zero(t, testing.AllocsPerRun(20, func() { _, _ = d.Rate(6, 900, 1.2, season) }))
	_, err = drive.Transmission{Bending: -1}.Rate(math.NaN(), 0, 0, 0)
	require.ErrorIs(t, err, material.ErrInvalid)
	for _, part := range []string{"Bending = -1", "time = 0", "Shaft.Diameter", "PlanetaryStage.Sun", "KeyJoint.Diameter", "Bearing.Dynamic"} {
		assert.ErrorContains(t, err, part)
	}
}

// What is chosen holds, the next smaller does not, and more load never makes it smaller.
func TestPropertySizing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := drive.CommonGearFactors()
		teeth := [2]drive.ToothMaterial{hardened, tempered}
		teeth[0].Cycles, teeth[1].Cycles = 1e7, 5e6
		pair := drive.GearPair{Rack: drive.RackA(), Pinion: drive.Wheel{Teeth: 18}, Wheel: drive.Wheel{Teeth: 40}}
		torque, safety := draw.Log(0.05, 200).Draw(t, "torque"), draw.Uniform(1, 2).Draw(t, "safety")
		c, err := pair.SizeModule(torque, 10, teeth, k, safety, 1)
		require.NoError(t, err)
		for i, u := range c.Rating.Utilisations {
			require.GreaterOrEqual(t, u.Safety(), map[bool]float64{true: safety, false: 1}[i < 2])
		}
		if c.Smaller.Part != "" {
			require.Less(t, c.Smaller.Safety(), safety)
		}
		more, err := pair.SizeModule(1.5*torque, 10, teeth, k, safety, 1)
		require.NoError(t, err)
		require.GreaterOrEqual(t, more.Pair.Module, c.Pair.Module)

		shaft := drive.Shaft{BendingNotch: 2.1, TorsionNotch: 3, Yield: 490e6, Ultimate: 700e6, Endurance: 200e6}
		load := drive.ShaftLoad{BendingAlternating: torque / 5, TorqueMean: torque, TorqueAlternating: torque / 3}
		s, err := shaft.SizeShaft(load, safety)
		require.NoError(t, err)
		require.GreaterOrEqual(t, math.Min(s.Fatigue.Goodman, s.Fatigue.Yield), safety)
		least, err := shaft.Diameters(load, safety)
		require.NoError(t, err)
		require.GreaterOrEqual(t, s.Shaft.Diameter, math.Max(least.Goodman, least.Yield)*(1-1e-9))
		if s.Smaller.Part != "" {
			require.Less(t, s.Smaller.Safety(), safety)
		}

		d := math.Max(6e-3, s.Shaft.Diameter)
		if d > 0.13 {
			return
		}
		key, err := drive.SizeKey(d, torque, drive.KeyStrength{Key: 350e6, Shaft: 490e6, Hub: 300e6}, drive.RoundEnds, 1.5)
		if err != nil {
			require.ErrorIs(t, err, drive.ErrNoSize)
			return
		}
		for _, u := range key.Utilisations {
			require.GreaterOrEqual(t, u.Safety(), 1.5)
		}
		if key.Smaller.Part != "" {
			require.Less(t, key.Smaller.Safety(), 1.5)
		}
	})
}

func TestSizeStage(t *testing.T) {
	k := drive.CommonGearFactors()
	teeth := [3]drive.ToothMaterial{hardened, hardened, tempered}
	wish := drive.StageWish{Torque: 8, Speed: 1.2, Time: 2000 * 3600, Least: 4.5, Most: 5.5, Planets: 3, Width: 12, MeshEfficiency: 0.97, LoadShare: 1.2,
		Root: 1.4, Flank: 1, Rim: 3.5, Outer: 0.2}
	c, err := drive.SizeStage(wish, teeth, k)
	require.NoError(t, err)
	require.NoError(t, c.Stage.Validate())
	assert.LessOrEqual(t, c.Outer, wish.Outer)
	assert.GreaterOrEqual(t, c.Stage.Ratio(), 4.5)
	assert.LessOrEqual(t, c.Stage.Ratio(), 5.5)
	for i, u := range c.Rating.Utilisations {
		assert.GreaterOrEqual(t, u.Safety(), map[bool]float64{true: 1.4, false: 1}[i < 3], u.Part)
	}
	require.NotEmpty(t, c.Smaller.Part)
	assert.Less(t, c.Smaller.Safety(), 1.4)
	heavier := wish
	heavier.Torque *= 3
	h, err := drive.SizeStage(heavier, teeth, k)
	require.NoError(t, err)
	assert.Greater(t, h.Outer, c.Outer)
	wish.Outer = 0.8 * c.Outer
	_, err = drive.SizeStage(wish, teeth, k)
	require.ErrorIs(t, err, drive.ErrNoSize)
	assert.ErrorContains(t, err, "the nearest to it has a safety of")
	wish.Outer, wish.Least, wish.Most = 2e-3, 11.9, 12
	_, err = drive.SizeStage(wish, teeth, k)
	require.ErrorContains(t, err, "no tooth numbers")
	_, err = drive.SizeStage(drive.StageWish{}, teeth, k)
	for _, part := range []string{"Torque = 0", "Planets = 0", "Outer = 0", "Least = 0"} {
		assert.ErrorContains(t, err, part)
	}
}

func TestBestOf(t *testing.T) {
	motor := drive.Stepper{HoldingTorque: 1.9, Current: 2.8, Resistance: 1.1, Inductance: 3.6e-3, RotorTeeth: 50}
	ratios := []float64{3, 5, 10, 20, 1000}
	c, err := motor.BestOf(ratios, 6, 1.2, 2.8, 36, 0.95)
	require.NoError(t, err)
	for _, r := range ratios {
		if out, err := motor.PullOut(1.2*r, 2.8, 36); err == nil {
			assert.LessOrEqual(t, out.Torque*r, c.PullOut.Torque*c.Ratio*(1+1e-12))
		}
	}
	assert.InEpsilon(t, 6/(c.Ratio*0.95), c.Reserve.Demand, 1e-12)
	_, err = motor.BestOf([]float64{50}, 6, 100, 2.8, 1, 0.95)
	require.ErrorIs(t, err, drive.ErrOutOfStep)
	_, err = motor.BestOf([]float64{0.5}, -1, 0, 2.8, 36, 2)
	for _, part := range []string{"ratios[0] = 0.5", "torque = -1", "speed = 0", "efficiency = 2"} {
		assert.ErrorContains(t, err, part)
	}
}

// The whole drive, as a multiple of its parts rated one by one.
func BenchmarkTransmission(b *testing.B) {
	d := transmission()
	sun, planet := tempered, tempered
	sun.Cycles, planet.Cycles, planet.Reversed = 1e7, 1e7, true
	inner := drive.GearPair{Rack: drive.RackA(), Module: 0.6e-3, Face: 10e-3, Pinion: drive.Wheel{Teeth: 18}, Wheel: drive.Wheel{Teeth: 27}}
	outer := inner
	outer.Pinion, outer.Wheel, outer.Ring = drive.Wheel{Teeth: 27}, drive.Wheel{Teeth: 72}, true
	ok := func(err error) {
		if err != nil {
			b.Fatal(err)
		}
	}
	b.ReportAllocs()
	versus.Report(b, "x-parts", func(i int) {
		_, err := d.Rate(6+float64(i%16)/100, 900, 1.2, 3600)
		ok(err)
	}, func(i int) {
		torque := 6 + float64(i%16)/100
		load, err := d.Stage.Load(torque, 1.2)
		ok(err)
		_, err = inner.Rate(load.ToothForce*5.4e-3, [2]drive.ToothMaterial{sun, planet}, d.Factors)
		ok(err)
		_, err = outer.Rate(load.ToothForce*8.1e-3, [2]drive.ToothMaterial{planet, sun}, d.Factors)
		ok(err)
		_, err = d.Shank.Fatigue(drive.ShaftLoad{BendingAlternating: 1.5, TorqueMean: torque, TorqueAlternating: 0.3 * torque, AxialMean: 900})
		ok(err)
		_, err = d.Key.Utilisations(1.3*torque, d.KeyStrength)
		ok(err)
		_, err = d.Bearing.Utilisations(900, 1.2, 0.9, 3600)
		ok(err)
	})
}
