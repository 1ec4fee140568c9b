package drive_test

import (
	"errors"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/internal/draw"
)

// sizingBits tries stages, whole transmissions and sizing with any bits and with the ends of
// the ranges.
func sizingBits(t *rapid.T) {
	wild := rapid.IntRange(5, 60).Draw(t, "one in")
	tame := rapid.IntRange(0, 2).Draw(t, "tame") > 0 // else hardly any draw gets past the checks
	value := func(name string, lo, hi float64) float64 {
		switch {
		case !tame && rapid.IntRange(1, wild).Draw(t, "kind of "+name) == 1:
			return draw.Bits().Draw(t, name)
		case rapid.IntRange(0, 11).Draw(t, "end of "+name) == 0:
			return rapid.SampledFrom([]float64{lo, hi}).Draw(t, name)
		case lo > 0 && hi > 100*lo:
			return draw.Log(lo, hi).Draw(t, name)
		}
		return draw.Uniform(lo, hi).Draw(t, name)
	}
	check := func(name string, err error, results ...any) {
		if errors.Is(err, drive.ErrNoSize) || errors.Is(err, drive.ErrOutOfStep) {
			finite(t, name, nil, results...)
			return
		}
		finite(t, name, err, results...)
	}
	life := drive.QuenchedLife()
	if rapid.Bool().Draw(t, "any life") {
		life.Flank = drive.LifeCurve{Most: value("most", 1, 10), Few: value("few", 1, 1e9), Many: value("many", 2e9, 1e10)}
	}
	tooth := func() drive.ToothMaterial {
		m := drive.ToothMaterial{Young: value("young", 1e7, 1e12), Poisson: value("poisson", 0, 0.5), RootLimit: value("root", 1e5, 1e10), FlankLimit: value("flank", 1e5, 1e10), Life: life}
		if rapid.IntRange(0, 3).Draw(t, "thin") == 0 {
			m.Rim = value("rim", 0.1, 100)
		}
		return m
	}
	d := transmission()
	d.Teeth = [3]drive.ToothMaterial{tooth(), tooth(), tooth()}
	d.Factors = drive.GearFactors{Application: value("application", 1, 10), Dynamic: value("dynamic factor", 1, 10), RootFace: value("root face", 1, 10),
		FlankFace: value("flank face", 1, 10), Sharing: value("sharing", 1, 10), Surface: value("surface", 0.3, 1.5)}
	sun, planet := rapid.IntRange(12, 60).Draw(t, "sun"), rapid.IntRange(12, 60).Draw(t, "planet")
	d.Stage = drive.PlanetaryStage{Sun: sun, Planet: planet, Ring: sun + 2*planet, Planets: 2, Module: value("module", 5e-5, 0.1), Face: value("face", 1e-4, 1),
		MeshEfficiency: value("efficiency", 0.5, 1), LoadShare: value("share", 1, 2)}
	if rapid.IntRange(0, 3).Draw(t, "shifted") == 0 {
		d.Stage.SunShift, d.Stage.PlanetShift, d.Stage.RingShift = value("x1", 0, 0.5), value("x2", 0, 0.5), value("x3", 0.5, 2)
	}
	load := drive.StageLoad{ToothForce: value("force", 0, 1e6), SunSpeed: value("sun speed", -1e6, 1e6), CarrierSpeed: value("carrier speed", -1e6, 1e6), PlanetSpeed: value("planet speed", -1e6, 1e6)}
	time := value("time", 1, 1e12)
	s, err := d.Stage.Rate(load, time, d.Teeth, d.Factors)
	check("PlanetaryStage.Rate", err, s)
	if err == nil {
		for i, u := range s.Utilisations {
			check("Safety", nil, u.Safety())
			require.LessOrEqual(t, s.Shortest, s.Life[i])
			require.LessOrEqual(t, s.Life[s.First()], s.Life[i])
		}
	}

	yield := value("yield", 1e5, 3e9)
	d.Shank = drive.Shaft{Diameter: value("shank", 12e-3, 12.5e-3), BendingNotch: value("bending notch", 1, 20), TorsionNotch: value("torsion notch", 1, 20),
		Yield: yield, Ultimate: yield * value("ultimate", 1, 3), Endurance: value("endurance", 1e4, 1e10)}
	d.Bending, d.Ripple, d.Reliability = value("bending", 0, 1e6), value("ripple", 0, 10), value("reliability", 0.9, 0.9995)
	d.Bearing.Dynamic, d.Bearing.Static = value("dynamic", 1, 1e9), value("static", 1, 1e9)
	d.Key.Length = value("key", 8e-3, 20e-3)
	torque, thrust, speed := value("torque", 0, 1e6), value("thrust", 1e-3, 1e9), value("speed", 1e-6, 100)
	r, err := d.Rate(torque, thrust, speed, time)
	check("Transmission.Rate", err, r)
	if err == nil {
		for _, u := range r.Utilisations {
			check("Safety", nil, u.Safety())
			require.GreaterOrEqual(t, u.Safety(), r.Utilisations[r.Weakest].Safety()*(1-1e-12))
		}
	}

	light := value("light torque", 1e-3, 100) // or nothing holds
	pair := drive.GearPair{Rack: drive.RackA(), Helix: value("helix", 0, 0.8), Pinion: drive.Wheel{Teeth: sun, Shift: value("x4", -0.2, 0.6)}, Wheel: drive.Wheel{Teeth: sun + planet}, Ring: rapid.Bool().Draw(t, "ring")}
	root, flank := value("root safety", 0.1, 10), value("flank safety", 0.1, 10)
	m, err := pair.SizeModule(value("pinion torque", 0, 1e4), value("width", 1, 100), [2]drive.ToothMaterial{d.Teeth[0], d.Teeth[1]}, d.Factors, root, flank)
	check("SizeModule", err, m)
	shaft, err := d.Shank.SizeShaft(drive.ShaftLoad{BendingAlternating: value("bends", 0, 100), TorqueMean: light, AxialMean: value("pull", 0, 1e4)}, root)
	check("SizeShaft", err, shaft)
	key, err := drive.SizeKey(value("keyed", 6e-3, 0.13), light, drive.KeyStrength{Key: value("key yield", 1e5, 1e10), Shaft: d.Shank.Yield, Hub: value("hub yield", 1e5, 1e10)}, drive.KeyForm(rapid.IntRange(0, 1).Draw(t, "form")), root)
	check("SizeKey", err, key)
	least := value("least", 2.5, 11)
	wish := drive.StageWish{Torque: light, Speed: speed, Time: time, Least: least, Most: least * value("wide", 1, 1.1), Planets: rapid.IntRange(2, 6).Draw(t, "planets"),
		Width: value("width", 1, 40), MeshEfficiency: d.Stage.MeshEfficiency, LoadShare: d.Stage.LoadShare, Root: root, Flank: flank, Rim: value("rim", 2, 20), Outer: value("outer", 0.005, 0.06)}
	c, err := drive.SizeStage(wish, d.Teeth, d.Factors)
	check("SizeStage", err, c)

	motor := drive.Stepper{HoldingTorque: value("holding", 1e-3, 100), Current: value("current", 1e-2, 50), Resistance: value("resistance", 1e-3, 100), Inductance: value("inductance", 1e-6, 1), RotorTeeth: rapid.IntRange(6, 100).Draw(t, "rotor")}
	best, err := motor.BestOf([]float64{value("ratio", 1, 100), value("ratio", 1, 1e4)}, torque, speed, motor.Current, value("supply", 1, 500), value("gear", 0.01, 1))
	check("BestOf", err, best, best.Reserve.Safety())
}

func TestPropertySizingBits(t *testing.T) { rapid.Check(t, sizingBits) }

func FuzzSizingBits(f *testing.F) { f.Fuzz(rapid.MakeFuzz(sizingBits)) }
