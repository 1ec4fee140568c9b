package drive_test

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/internal/draw"
	"meltflight/material"
)

// gearBits is bits for gears: any bits in some fields, ends of ranges or valid numbers in others.
func gearBits(t *rapid.T) {
	wild := rapid.IntRange(5, 60).Draw(t, "one in")
	value := func(name string, lo, hi float64) float64 {
		switch {
		case rapid.IntRange(1, wild).Draw(t, "kind of "+name) == 1:
			return draw.Bits().Draw(t, name)
		case rapid.IntRange(0, 3).Draw(t, "end of "+name) == 0:
			return rapid.SampledFrom([]float64{lo, hi}).Draw(t, name)
		case lo > 0 && hi > 100*lo:
			return draw.Log(lo, hi).Draw(t, name)
		}
		return draw.Uniform(lo, hi).Draw(t, name)
	}
	shift := func(name string) float64 {
		if rapid.Bool().Draw(t, "wide "+name) {
			return value(name, -2, 2)
		}
		return value(name, -0.5, 0.8)
	}
	teeth := func(name string) int {
		return rapid.OneOf(rapid.IntRange(5, 40), rapid.IntRange(5, 10000), rapid.Int()).Draw(t, name)
	}
	rack := drive.RackA()
	if rapid.Bool().Draw(t, "any rack") {
		rack = drive.Rack{PressureAngle: value("angle", 0.17, 0.6), Addendum: value("addendum", 0.5, 1.5), Dedendum: value("dedendum", 0.5, 2), Fillet: value("fillet", 0, 0.5)}
	}
	g := drive.GearPair{
		Rack: rack, Module: value("module", 5e-5, 0.1), Helix: value("helix", 0, 0.8), Face: value("face", 1e-4, 1),
		Pinion: drive.Wheel{Teeth: teeth("pinion"), Shift: shift("x1")}, Wheel: drive.Wheel{Teeth: teeth("wheel"), Shift: shift("x2")},
		Ring: rapid.Bool().Draw(t, "ring"),
	}
	if rapid.IntRange(0, 3).Draw(t, "set distance") == 0 {
		z := float64(g.Wheel.Teeth + g.Pinion.Teeth)
		if g.Ring {
			z = float64(g.Wheel.Teeth - g.Pinion.Teeth)
		}
		g.Distance = g.Module * z / 2 * value("stretch", 0.9, 1.2)
	}
	tooth := func() drive.ToothMaterial {
		m := drive.ToothMaterial{
			Young: value("young", 1e7, 1e12), Poisson: value("poisson", 0, 0.5), RootLimit: value("root", 1e5, 1e10), FlankLimit: value("flank", 1e5, 1e10),
			Life: drive.QuenchedLife(), Cycles: value("cycles", 0, 1e15), Reversed: rapid.Bool().Draw(t, "reversed"),
		}
		if rapid.Bool().Draw(t, "any life") {
			m.Life.Root = drive.LifeCurve{Most: value("most", 1, 10), Few: value("few", 1, 1e9), Many: value("many", 2, 1e10)}
		}
		if rapid.Bool().Draw(t, "thin") {
			m.Rim = value("rim", 0, 100)
		}
		return m
	}
	m := [2]drive.ToothMaterial{tooth(), tooth()}
	k := drive.GearFactors{
		Application: value("application", 1, 10), Dynamic: value("dynamic", 1, 10), RootFace: value("root face", 1, 10),
		FlankFace: value("flank face", 1, 10), Sharing: value("sharing", 1, 10), Surface: value("surface", 0.3, 1.5),
	}
	torque := value("torque", 0, 1e8)
	r, err := g.Rate(torque, m, k)
	finite(t, "Rate", err, r)
	if err == nil {
		for i := range 2 {
			require.GreaterOrEqual(t, r.RootStress[i], 0.0)
			require.GreaterOrEqual(t, r.FlankStress[i], 0.0)
		}
		for _, u := range r.Utilisations {
			finite(t, "Safety", nil, u.Safety())
		}
	}
	forms, err := g.RootForms()
	finite(t, "RootForms", err, forms)
	forms, err = g.TipForms()
	finite(t, "TipForms", err, forms)
	form, err := rack.RootForm(value("virtual teeth", 5, 1e7), shift("x"), value("load", 0, 1e3))
	finite(t, "RootForm", err, form)
	finite(t, "RootForm.Stress", err, form.Stress())
	rim, err := g.BoredRim(value("bore", 0, 10), value("keyway", 0, 1))
	finite(t, "BoredRim", err, rim)
	rim, err = drive.RimFactor(value("rim ratio", 0.5, 1e6))
	finite(t, "RimFactor", err, rim)
	rim, err = drive.RingRimFactor(value("ring's rim", 1.75, 1e6))
	finite(t, "RingRimFactor", err, rim)

	wheel := rapid.Bool().Draw(t, "of the wheel")
	w, err := g.ToothWear(wheel, value("rate", 1e-25, 1e-5), torque)
	finite(t, "ToothWear", err, w)
	depth, turns := value("depth", 1e-9, 1), value("turns", 0, 1e15)
	worn, err := w.Turns(depth)
	finite(t, "Turns", err, worn)
	u, err := w.Utilisation("", turns, depth)
	finite(t, "ToothWear.Utilisation", err, u)
	w = drive.ToothWear{Mean: value("mean", 0, 1e20), Foot: value("foot", 0, 1e20), Tip: value("tip", 0, 1e20)}
	worn, err = w.Turns(depth)
	finite(t, "Turns", err, worn)
	u, err = w.Utilisation("", turns, depth)
	finite(t, "ToothWear.Utilisation", err, u)

	use := drive.PlasticUse{
		Torque: value("plastic torque", 0, 1e6), Speed: value("speed", 0, 1e4), Cycles: value("plastic cycles", 0, 1e12), Factor: value("factor", 1, 100),
		Friction: value("friction", 0, 1), On: value("on", 0, 1), Ambient: value("ambient", 200, 500), RootHeat: value("root heat", 0, 5), FlankHeat: value("flank heat", 0, 5),
		Housing: value("housing", 0, 1e3), Young: value("mate", 1e7, 1e12), Poisson: value("mate's", 0, 0.5),
	}
	plastic := rapid.SampledFrom(material.GearPlastics()).Draw(t, "plastic")
	if rapid.Bool().Draw(t, "any fit") {
		plastic.Root = material.CycleFit{A: value("A", -1e9, 1e9), D: value("D", -1e12, 1e12), Q: value("Q", 0, 1), Coldest: value("coldest", 273.15, 600), Hottest: value("hottest", 273.15, 600), Fewest: value("fewest", 1, 1e6), Most: value("most cycles", 1, 1e12)}
	}
	p, err := g.RatePlastic(wheel, plastic, use)
	walkAny(t, "RatePlastic", p) // what comes with an error is finite too
	if !errors.Is(err, material.ErrNoData) {
		finite(t, "RatePlastic", err, p, p.Root.Safety(), p.Flank.Safety())
	}

	line := drive.TorqueLine{Torque: value("line", 1e-9, 1e8), Cycles: value("line's cycles", 1, 1e15), Slope: value("slope", 1, 100), Knee: rapid.Bool().Draw(t, "knee")}
	duty := make([]drive.DutyBlock, rapid.IntRange(0, 4).Draw(t, "blocks"))
	for i := range duty {
		duty[i] = drive.DutyBlock{Torque: value("block", 0, 1e8), Cycles: value("block's cycles", 0, 1e15)}
	}
	d, err := line.Damage(duty)
	finite(t, "Damage", err, d)
	d, err = line.Life(duty, value("time", 1e-3, 1e12))
	finite(t, "TorqueLine.Life", err, d)
	d, err = drive.EquivalentTorque(duty, line.Slope)
	finite(t, "EquivalentTorque", err, d)
	d, err = m[0].Life.Root.Factor(m[0].Cycles)
	finite(t, "LifeCurve.Factor", err, d)
	d, err = m[0].Life.Root.Cycles(value("over", 0, 1e6))
	finite(t, "LifeCurve.Cycles", err, d)

	contact := drive.LineContact{
		Force: value("force", 0, 1e12), Length: value("length", 1e-6, 10), Radius: [2]float64{value("r1", 1e-6, 1e3), value("r2", -1e6, 1e3)},
		Young: [2]float64{m[0].Young, m[1].Young}, Poisson: [2]float64{m[0].Poisson, m[1].Poisson},
	}
	s, err := contact.Stress()
	finite(t, "LineContact", err, s)
}

func walkAny(t *rapid.T, name string, v any) { finite(t, name, nil, v) }

func TestPropertyGearBits(t *testing.T) { rapid.Check(t, gearBits) }

func FuzzGearBits(f *testing.F) { f.Fuzz(rapid.MakeFuzz(gearBits)) }

// What the validation lets through of plausible pairs mostly rates.
func TestPropertyPlausiblePairsRate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := ratedPairs().Draw(t, "pair")
		r, err := g.Rate(1, [2]drive.ToothMaterial{steel, steel}, drive.CommonGearFactors())
		require.NoError(t, err)
		require.False(t, math.IsNaN(r.RootStress[0]))
		for _, f := range r.Root {
			require.Greater(t, f.Form, 0.7)
			require.Less(t, f.Form, 3.0)
			require.Greater(t, f.Notch, 1.2)
			require.Less(t, f.Notch, 3.2)
		}
	})
}
