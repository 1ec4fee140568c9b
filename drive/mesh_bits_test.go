package drive_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/internal/draw"
)

func meshBits(t *rapid.T) {
	value := func(name string, lo, hi float64) float64 {
		switch rapid.IntRange(0, 9).Draw(t, "kind of "+name) {
		case 0:
			return draw.Bits().Draw(t, name)
		case 1:
			return lo
		case 2:
			return hi
		}
		return draw.Uniform(lo, hi).Draw(t, name)
	}
	count := func(name string, lo, hi int) int {
		if rapid.IntRange(0, 9).Draw(t, "kind of "+name) == 0 {
			return rapid.Int().Draw(t, name)
		}
		return rapid.IntRange(lo, hi).Draw(t, name)
	}
	g := drive.GearPair{
		Rack: drive.RackA(), Module: value("module", 5e-5, 0.1), Face: value("face", 1e-4, 1),
		Pinion: drive.Wheel{Teeth: count("pinion", 5, 60), Shift: value("pinion shift", -2, 2)},
		Wheel:  drive.Wheel{Teeth: count("wheel", 5, 100), Shift: value("wheel shift", -2, 2)},
		Ring:   rapid.Bool().Draw(t, "ring"), ShortenTips: rapid.Bool().Draw(t, "shorten"),
	}
	if rapid.Bool().Draw(t, "any rack") {
		g.Rack = drive.Rack{PressureAngle: value("angle", 0.17, 0.6), Addendum: value("addendum", 0.5, 1.5), Dedendum: value("dedendum", 0.5, 2), Fillet: value("fillet", 0, 0.4)}
	}
	if rapid.Bool().Draw(t, "mild") {
		g.Pinion.Shift, g.Wheel.Shift = g.Pinion.Shift/4, g.Wheel.Shift/4
	}
	if rapid.Bool().Draw(t, "helical") {
		g.Helix = value("helix", 0, 0.8)
	}
	m, err := g.Mesh()
	finite(t, "Mesh", err, m)
	if rapid.Bool().Draw(t, "distance") {
		g.Distance = value("distance", 0.9, 1.2) * math.Max(m.Tight, 1e-5)
		apart, err := g.Mesh()
		finite(t, "Mesh at a distance", err, apart)
	}
	eta, err := m.Efficiency(value("friction", 0, 1))
	finite(t, "Efficiency", err, eta)
	sum, err := g.ShiftFor(value("for", 1e-5, 0.1))
	finite(t, "ShiftFor", err, sum)
	allow := func(name string) drive.Allowance {
		return drive.Allowance{Least: value(name+" least", -0.5, 0.5) * g.Module, Most: value(name+" most", 0, 0.5) * g.Module}
	}
	least, most, err := g.Backlash(allow("pinion"), allow("wheel"), allow("axes"))
	finite(t, "Backlash", err, least, most)

	inv, err := drive.Involute(value("involute of", 0, 1.5))
	finite(t, "Involute", err, inv)
	angle, err := drive.InvoluteAngle(value("angle of", 0, 12))
	finite(t, "InvoluteAngle", err, angle)
	module, err := drive.NextModule(value("least module", 5e-5, 0.05), rapid.Bool().Draw(t, "second"))
	finite(t, "NextModule", err, module)

	p := drive.PlanetaryStage{
		Sun: count("sun", 12, 60), Planet: count("planet", 12, 60), Planets: count("planets", 2, 8), Module: g.Module, Face: g.Face,
		MeshEfficiency: 0.97, LoadShare: 1.1,
		SunShift: value("sun shift", -1, 1), PlanetShift: value("planet shift", -1, 1), RingShift: value("ring shift", -1, 1),
	}
	p.Ring = p.Sun + 2*p.Planet + rapid.IntRange(-5, 5).Draw(t, "off")
	s, err := p.Meshes()
	finite(t, "Meshes", err, s)
	both, err := s.BasicEfficiency(value("stage friction", 0, 1))
	finite(t, "BasicEfficiency", err, both)
	speed := value("carrier", 0, 1e3)
	f, err := p.Frequencies(speed)
	finite(t, "Frequencies", err, f)
	load, err := p.Load(5, speed)
	finite(t, "Load", err, load)
	share, err := drive.UsualLoadShare(count("shared", 2, 7))
	finite(t, "UsualLoadShare", err, share)
}

func TestPropertyMeshAnyBits(t *testing.T) { rapid.Check(t, meshBits) }

func FuzzMeshAnyBits(f *testing.F) { f.Fuzz(rapid.MakeFuzz(meshBits)) }
