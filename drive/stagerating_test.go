package drive_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
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
	outer := drive.GearPair{Rack: drive.RackA(), Module: 0.6e-3, Face: 10e-3, Pinion: drive.Wheel{Teeth: 27}, Wheel: drive.Wheel{Teeth: 72}, Ring: true, Distance: 13.5e-3}
	meets := func(sun drive.ToothMaterial) { // a planet's teeth by their worse mesh
		teeth := d.Teeth
		teeth[0] = sun
		r, err := d.Stage.Rate(load, season, teeth, d.Factors)
		require.NoError(t, err)
		sun.Cycles = r.Cycles[0]
		inner, err := pair.Rate(load.SunTorque*1.2/3, [2]drive.ToothMaterial{sun, planet}, d.Factors)
		require.NoError(t, err)
		ring := tempered
		ring.Cycles = r.Cycles[2]
		outer, err := outer.Rate(load.SunTorque*1.2/3*27/18, [2]drive.ToothMaterial{planet, ring}, d.Factors)
		require.NoError(t, err)
		assert.InEpsilon(t, math.Max(inner.RootStress[1], outer.RootStress[0]), r.Utilisations[1].Demand, 1e-12)
		assert.InEpsilon(t, math.Max(inner.FlankStress[1], outer.FlankStress[0]), r.Utilisations[4].Demand, 1e-12)
		assert.InEpsilon(t, outer.RootStress[1], r.Utilisations[2].Demand, 1e-12)
		assert.InEpsilon(t, outer.FlankStress[1], r.Utilisations[5].Demand, 1e-12)
	}
	meets(tempered)
	soft := tempered
	soft.Young = 2e9 // so that the ring presses harder
	meets(soft)
	assert.Equal(t, []string{"sun tooth root", "planet tooth root", "ring tooth root", "sun flank", "planet flank", "ring flank"},
		[]string{r.Utilisations[0].Part, r.Utilisations[1].Part, r.Utilisations[2].Part, r.Utilisations[3].Part, r.Utilisations[4].Part, r.Utilisations[5].Part})
	for i, u := range r.Utilisations {
		assert.GreaterOrEqual(t, u.Safety(), r.Utilisations[r.Weakest].Safety(), i)
	}
}

// Two stages from the torque to the lives by a program of its own: the standard's formulas in
// diameters, 30 digits, contact cut where the rack lets the planet's involute begin, the
// torques from the balance of sun and ring.
func TestCheckStageRating(t *testing.T) {
	const how = "ISO 6336-2 and -3 in diameters, d_en and radians, 30 digits; torques by balance"
	plain := transmission()
	shifted := plain
	shifted.Stage = drive.PlanetaryStage{Sun: 15, Planet: 21, Ring: 57, Planets: 3, Module: 0.8e-3, Face: 9e-3, MeshEfficiency: 0.96, LoadShare: 1.3,
		SunShift: 0.4, PlanetShift: 0.2, RingShift: 0.81}
	var rows []verify.Row
	for _, c := range []struct {
		name                    string
		d                       drive.Transmission
		torque, speed, hours    float64
		sun, force              float64 // N·m, N
		cycles                  [3]float64
		demand, capacity, lives [6]float64 // MPa, s
	}{
		{"18/27/72", plain, 30, 1.2, 600, 6.14754098361, 455.373406193, [3]float64{31104000, 6912000, 7776000},
			[6]float64{421.11704041, 397.78490174, 579.02588164, 1674.8786575, 1580.9115446, 752.73365443},
			[6]float64{500, 350, 500, 528.64161348, 592.32907982, 587.07616456},
			[6]float64{1e15, 422660.76932, 334288.15094, 0, 0, 80747.573308}},
		{"15/21/57, shifted", shifted, 20, 0.75, 300, 4.30292598967, 310.766877032, [3]float64{9234000, 2198571.4286, 2430000},
			[6]float64{238.37061512, 247.65896557, 354.06588076, 1299.6682255, 1236.3799057, 609.47463997},
			[6]float64{500, 367.91896172, 517.21550345, 579.4954014, 645.93024084, 641.05952499},
			[6]float64{1e15, 1e15, 1e15, 0, 0, 2106496.0452}},
	} {
		load, err := c.d.Stage.Load(c.torque, c.speed)
		require.NoError(t, err)
		r, err := c.d.Stage.Rate(load, c.hours*3600, c.d.Teeth, c.d.Factors)
		require.NoError(t, err)
		row := func(what string, want, got float64) {
			rows = append(rows, verify.Row{Name: c.name + ": " + what, Source: how, Kind: verify.Own, Want: want, Got: got, Tol: 2e-10, Why: "eleven digits given"})
		}
		row("sun's torque, N·m", c.sun, load.SunTorque)
		row("tooth force, N", c.force, load.ToothForce)
		for i, n := range c.cycles {
			row("cycles", n, r.Cycles[i])
		}
		for i, u := range r.Utilisations {
			row(u.Part+", MPa", c.demand[i], u.Demand/1e6)
			row(u.Part+" bears, MPa", c.capacity[i], u.Capacity/1e6)
			row(u.Part+" lasts, s", c.lives[i], r.Life[i])
		}
	}
	verify.Table(t, rows)
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
		often, err := d.Stage.Frequencies(1.2)
		require.NoError(t, err)
		for i, f := range []float64{often.Sun, often.Planet, often.Ring} {
			require.InEpsilon(t, f*3600, r.Cycles[i], 1e-12)
		}
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
	assert.Equal(t, key[:], r.Utilisations[8:11])
	shank, err := d.Shank.Fatigue(drive.ShaftLoad{BendingAlternating: 1.5, TorqueMean: 6, TorqueAlternating: 0.3 * 6, AxialMean: 900})
	require.NoError(t, err)
	assert.Equal(t, shank, r.Shank)
	load, err := d.Bearing.Utilisations(900, 1.2, 0.9, season)
	require.NoError(t, err)
	assert.Equal(t, load[:], r.Utilisations[11:])
	assert.Zero(t, testing.AllocsPerRun(20, func() { _, _ = d.Rate(6, 900, 1.2, season) }))
	_, err = drive.Transmission{Bending: -1}.Rate(math.NaN(), 0, 0, 0)
	require.ErrorIs(t, err, material.ErrInvalid)
	for _, part := range []string{"Bending = -1", "time = 0", "Shaft.Diameter", "PlanetaryStage.Sun", "KeyJoint.Diameter", "Bearing.Dynamic"} {
		assert.ErrorContains(t, err, part)
	}
}

func TestStageRatingSaysOnce(t *testing.T) {
	s := drive.PlanetaryStage{Sun: 12, Planet: 12, Ring: 36, Planets: 3, Module: 1e-3, Face: 10e-3, MeshEfficiency: 0.97, LoadShare: 1}
	r, err := s.Rate(drive.StageLoad{ToothForce: 1}, 1, [3]drive.ToothMaterial{steel, steel, steel}, even)
	require.NoError(t, err)
	assert.Equal(t, []string{"undercut root: the rack cut away involute at the foot"}, r.Beyond)
}

func TestStageRatingRefuses(t *testing.T) {
	d := transmission()
	d.Teeth[0].Young, d.Teeth[2].Rim = 0, math.NaN()
	d.Factors.Surface = 0
	_, err := d.Stage.Rate(drive.StageLoad{ToothForce: -1}, 1, d.Teeth, d.Factors)
	require.ErrorIs(t, err, material.ErrInvalid)
	for _, part := range []string{"ToothForce = -1", "Rate: sun's Young = 0", "Rate: ring's Rim = NaN", "GearFactors.Surface = 0"} {
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
