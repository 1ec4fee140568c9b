package drive_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/internal/draw"
)

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
		key, err := drive.SizeKey(d, 4*torque, drive.KeyStrength{Key: 350e6, Shaft: 490e6, Hub: 300e6}, drive.RoundEnds, 1.5)
		if err != nil {
			require.ErrorIs(t, err, drive.ErrNoSize)
			return
		}
		stress, err := key.Joint.Stress(4 * torque)
		require.NoError(t, err)
		require.Empty(t, stress.Beyond, "no longer than helps")
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
	assert.InEpsilon(t, c.Stage.Module*(float64(c.Stage.Ring)+2*1.25+2*3.5), c.Outer, 1e-12)
	assert.GreaterOrEqual(t, c.Stage.Ratio(), 4.5)
	assert.LessOrEqual(t, c.Stage.Ratio(), 5.5)
	for i, u := range c.Rating.Utilisations {
		assert.GreaterOrEqual(t, u.Safety(), map[bool]float64{true: 1.4, false: 1}[i < 3], u.Part)
	}
	require.NotEmpty(t, c.Smaller.Part)
	assert.Less(t, c.Smaller.Safety(), 1.4)
	thin := wish // an elastic ring needs wider teeth, or more of them
	thin.Rim = 2
	e, err := drive.SizeStage(thin, teeth, k)
	require.NoError(t, err)
	bent, stiff := teeth, c.Stage
	bent[2].Rim = 2 * stiff.Module
	r, err := stiff.Rate(c.Load, wish.Time, bent, k)
	require.NoError(t, err)
	assert.InEpsilon(t, 1.15*math.Log(8.324/2), r.Utilisations[2].Demand/c.Rating.Utilisations[2].Demand, 1e-9)
	bent[2].Rim = 2 * e.Stage.Module
	r, err = e.Stage.Rate(e.Load, wish.Time, bent, k)
	require.NoError(t, err)
	assert.Equal(t, r.Utilisations, e.Rating.Utilisations, "the wish's rim is rated")
	weak := teeth
	weak[0].Rim = 0.8e-3
	e, err = drive.SizeStage(wish, weak, k)
	require.NoError(t, err)
	assert.LessOrEqual(t, e.Stage.Module, 0.8e-3/(0.5*2.25))
	crowd := wish // tooth numbers whose neighbours clash are passed over
	crowd.Planets, crowd.Least, crowd.Most, crowd.LoadShare = 4, 4, 6, 1.3
	e, err = drive.SizeStage(crowd, teeth, k)
	require.NoError(t, err)
	require.NoError(t, e.Stage.Validate())
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

// SizeStage passes over no tooth numbers because they do not mesh: all do.
func TestSizedStagesMesh(t *testing.T) {
	for sun := 12; sun <= 60; sun++ {
		for planet := 12; planet <= 60; planet += 1 + planet/20 {
			s := drive.PlanetaryStage{Sun: sun, Planet: planet, Ring: sun + 2*planet, Planets: 2, Module: 1e-3, Face: 10e-3, MeshEfficiency: 0.97, LoadShare: 1}
			_, err := s.Meshes()
			require.NoError(t, err)
			_, err = s.Rate(drive.StageLoad{ToothForce: 1}, 1, [3]drive.ToothMaterial{steel, steel, steel}, even)
			require.NoError(t, err)
		}
	}
}

func TestSizeKeyShortest(t *testing.T) {
	strength := drive.KeyStrength{Key: 350e6, Shaft: 490e6, Hub: 300e6}
	for d, want := range map[float64]float64{12e-3: 6e-3, 30e-3: 12e-3, 130e-3: 50e-3} { // one and a half widths
		k, err := drive.SizeKey(d, 1e-3, strength, drive.RoundEnds, 1)
		require.NoError(t, err)
		assert.Equal(t, want, k.Joint.Length)
		assert.Empty(t, k.Smaller.Part)
	}
	_, err := drive.SizeKey(12e-3, 1e3, strength, drive.SquareEnds, 1)
	require.ErrorIs(t, err, drive.ErrNoSize)
	assert.ErrorContains(t, err, "of 14 mm key")
}

func TestSizeModuleWideFace(t *testing.T) {
	pair := drive.GearPair{Rack: drive.RackA(), Pinion: drive.Wheel{Teeth: 18}, Wheel: drive.Wheel{Teeth: 40}}
	_, err := pair.SizeModule(1e8, 100, [2]drive.ToothMaterial{steel, steel}, even, 1, 1)
	require.ErrorIs(t, err, drive.ErrNoSize)
	assert.ErrorContains(t, err, "at 10 mm of module")
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
	fast, err := motor.BestOf([]float64{1e4, 5}, 6, 1.2, 2.8, 36, 0.95) // 12000 rev/s are passed over
	require.NoError(t, err)
	assert.Equal(t, 5.0, fast.Ratio)
	_, err = motor.BestOf([]float64{1e4}, 6, 1.2, 2.8, 36, 0.95)
	require.ErrorIs(t, err, drive.ErrOutOfStep)
	_, err = motor.BestOf([]float64{50}, 6, 100, 2.8, 1, 0.95)
	require.ErrorIs(t, err, drive.ErrOutOfStep)
	_, err = motor.BestOf([]float64{0.5}, -1, 0, 2.8, 36, 2)
	for _, part := range []string{"ratios[0] = 0.5", "torque = -1", "speed = 0", "efficiency = 2"} {
		assert.ErrorContains(t, err, part)
	}
}
