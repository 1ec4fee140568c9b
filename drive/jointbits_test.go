package drive_test

import (
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/internal/draw"
)

// jointBits tries every joint and coupling as bits tries motor, gears, shaft and bearing.
func jointBits(t *rapid.T) {
	value := func(name string, lo, hi float64) float64 {
		switch rapid.IntRange(0, 9).Draw(t, "kind of "+name) {
		case 0:
			return draw.Bits().Draw(t, name)
		case 1:
			return lo
		case 2:
			return hi
		}
		return draw.Log(math.Max(lo, 1e-12), hi).Draw(t, name)
	}
	count := func(name string, lo, hi int) int {
		if rapid.IntRange(0, 9).Draw(t, "kind of "+name) == 0 {
			return rapid.Int().Draw(t, name)
		}
		return rapid.IntRange(lo, hi).Draw(t, name)
	}
	check := func(name string, err error, results ...any) {
		if errors.Is(err, drive.ErrLoose) {
			return
		}
		finite(t, name, err, results...)
	}
	torque, axial, safety := value("torque", 0, 1e8), value("axial", 0, 1e10), value("safety", 0.1, 100)
	yield, d := value("yield", 1e5, 1e10), value("diameter", 1e-3, 10)

	size, err := drive.StandardKey(d)
	check("StandardKey", err, size)
	if rapid.Bool().Draw(t, "any key") {
		h := value("height", 1e-4, 1)
		size = drive.KeySize{Width: value("width", 1e-4, 1), Height: h, ShaftDepth: h * value("depth", 0.1, 0.9)}
	}
	key := drive.KeyJoint{Diameter: d, Size: size, Form: drive.KeyForm(count("form", 0, 1)), Length: value("length", 1e-4, 10), Keys: count("keys", 1, 2)}
	strength := drive.KeyStrength{Key: yield, Shaft: value("shaft yield", 1e5, 1e10), Hub: value("hub yield", 1e5, 1e10)}
	stress, err := key.Stress(torque)
	check("KeyJoint.Stress", err, stress)
	three, err := key.Utilisations(torque, strength)
	check("KeyJoint.Utilisations", err, three)
	x, err := key.LengthFor(torque, strength, safety)
	check("LengthFor", err, x)
	check("KeyJoint.Validate", key.Validate())

	pin := drive.CrossPin{Pin: value("pin", 1e-4, 1), Shaft: d, Hub: value("hub", 1e-3, 100)}
	pressed, err := pin.Stress(torque)
	check("CrossPin.Stress", err, pressed)
	of := drive.PinStrength{Pin: yield, Shaft: strength.Shaft, Hub: strength.Hub}
	three, err = pin.Utilisations(torque, of)
	check("CrossPin.Utilisations", err, three)
	x, err = pin.PinFor(torque, of, safety)
	check("PinFor", err, x)
	check("CrossPin.Validate", pin.Validate())

	friction := value("friction", 1e-3, 2)
	clamp := drive.ClampHub{Diameter: d, Length: key.Length, Bolts: count("bolts", 1, 100), BoltForce: value("bolt", 0, 1e8), Lever: value("lever", 1, 5), Friction: friction}
	grip, err := clamp.Grip()
	check("Grip", err, grip)
	two, err := clamp.Utilisations(torque, axial, yield)
	check("ClampHub.Utilisations", err, two)
	x, err = clamp.BoltForceFor(torque, axial, safety)
	check("BoltForceFor", err, x)
	check("ClampHub.Validate", clamp.Validate())
	x, err = drive.GrubScrewHolds(value("screw", 1.6e-3, 12.7e-3))
	check("GrubScrewHolds", err, x)
	u, err := drive.GrubScrewUtilisation(value("screw", 1.6e-3, 12.7e-3), d, torque, axial)
	check("GrubScrewUtilisation", err, u, u.Safety())

	metal := func(name string) drive.Elastic {
		return drive.Elastic{Young: value(name+" modulus", 1e8, 1e12), Poisson: value(name+" ratio", 0, 0.5), Expansion: value(name+" expansion", 0, 3e-4)}
	}
	fit := drive.PressFit{Diameter: d, Bore: value("bore", 0, 10), Outer: value("outer", 1e-3, 100), Length: key.Length, Shaft: metal("shaft"), Hub: metal("hub")}
	delta, loose := d*value("interference", 0, 0.02), d*value("loosest", 0, 0.02)
	press, err := fit.Press(delta)
	check("Press", err, press)
	a, b, err := fit.HubStress(value("pressure", 0, 1e11), value("radius", 1e-3, 50))
	check("HubStress", err, a, b)
	a, b, err = fit.Grip(delta, friction)
	check("PressFit.Grip", err, a, b)
	three, err = fit.Utilisations(torque, axial, friction, loose, delta, yield, strength.Hub)
	check("PressFit.Utilisations", err, three)
	x, err = fit.InterferenceFor(torque, axial, friction, safety)
	check("InterferenceFor", err, x)
	x, err = fit.Warmed(delta, value("rise", 0, 1500), -value("cooling", 0, 300))
	check("Warmed", err, x)
	x, err = fit.AssemblyRise(delta, loose)
	check("AssemblyRise", err, x)
	check("PressFit.Validate", fit.Validate())
	limits := drive.FitLimits{
		HoleLower: -value("hole lower", 0, 0.01), HoleUpper: value("hole upper", 0, 0.01), ShaftLower: value("shaft lower", 0, 0.01),
		ShaftUpper: value("shaft upper", 0, 0.01), HoleRoughness: value("hole Rz", 0, 1e-3), ShaftRoughness: value("shaft Rz", 0, 1e-3),
	}
	a, b, err = limits.Interference()
	check("Interference", err, a, b)
	check("FitLimits.Validate", limits.Validate())

	shaft := func(name string) drive.Overhung {
		o := drive.Overhung{Overhang: value(name+" overhang", 1e-3, 10), Diameter: value(name+" diameter", 1e-3, 1), Young: value(name+" modulus", 1e8, 1e12)}
		if rapid.IntRange(0, 3).Draw(t, "built in") > 0 {
			o.Span = value(name+" span", 1e-3, 10)
		}
		return o
	}
	var coupling drive.Coupling
	if rapid.Bool().Draw(t, "soft") {
		coupling = drive.Coupling{Radial: value("radial", 1, 1e15), Angular: value("angular", 1e-6, 1e15), Torsion: value("torsion", 1e-3, 1e12)}
	}
	one, other, offset, angle := shaft("A"), shaft("B"), value("offset", 0, 0.1), -value("angle", 0, 0.2)
	m, err := coupling.Misaligned(one, other, offset, angle)
	check("Misaligned", err, m)
	two, err = m.Utilisations(value("allowed", 1e-3, 1e9), yield)
	check("Misalignment.Utilisations", err, two)
	tip, err := coupling.Tip(one, other, drive.Tail{Length: value("tail", 1e-3, 10), Diameter: value("root", 1e-3, 1), Young: yield * 100, Gap: value("gap", 0, 0.1)}, offset, angle)
	check("Tip", err, tip)
	if err == nil && tip.Force < 0 {
		t.Fatalf("a wall that pulls: %v", tip)
	}
	x, err = coupling.Twist(torque)
	check("Twist", err, x)
	u, err = drive.CouplingTorque(torque, value("service", 1, 20), value("rated", 1e-6, 1e8))
	check("CouplingTorque", err, u, u.Safety())
	check("Coupling.Validate", coupling.Validate())

	lost, err := drive.Lost(torque, []drive.Play{{Angle: value("play", 0, 1), Stiffness: value("stiffness", 1e-3, 1e12), Ratio: value("ratio", 1e-3, 1e6)}})
	check("Lost", err, lost)
	x, err = drive.PlayAngle(value("clearance", 0, 0.1), value("at", 1e-4, 10))
	check("PlayAngle", err, x)
	x, err = drive.AlongCircle(value("normal", 0, 0.1), value("pressure angle", 0, 0.8))
	check("AlongCircle", err, x)
	x, err = drive.SeriesStiffness(value("first", 1e-3, 1e12), value("second", 1e-3, 1e12))
	check("SeriesStiffness", err, x)
}

func TestPropertyJointBits(t *testing.T) { rapid.Check(t, jointBits) }

func FuzzJointBits(f *testing.F) { f.Fuzz(rapid.MakeFuzz(jointBits)) }

// drivetrain is one of every joint.
type drivetrain struct {
	key      drive.KeyJoint
	pin      drive.CrossPin
	clamp    drive.ClampHub
	fit      drive.PressFit
	coupling drive.Coupling
	a, b     drive.Overhung
	tail     drive.Tail
	plays    [3]drive.Play
}

var joined = drivetrain{
	key: keyOf(12, 4, 4, 2.5, 14), pin: drive.CrossPin{Pin: 3e-3, Shaft: 12e-3, Hub: 24e-3},
	clamp: drive.ClampHub{Diameter: 12e-3, Length: 15e-3, Bolts: 2, BoltForce: 4000, Lever: 1.8, Friction: 0.12},
	fit:   fitOf(12, 24, 15, 205, 0.29), coupling: drive.Coupling{Radial: 2e6, Angular: 50, Torsion: 400},
	a: steelShaft(8, 40, 20), b: steelShaft(12, 60, 25), tail: drive.Tail{Length: 0.2, Diameter: 0.01, Young: 205e9},
	plays: [3]drive.Play{{Angle: 2e-3, Ratio: 1}, {Angle: 5e-3, Stiffness: 2000, Ratio: 4}, {Stiffness: 400, Ratio: 20}},
}

func (d *drivetrain) rate(torque float64) (least float64, err error) {
	least = math.Inf(1)
	keys, err := d.key.Utilisations(torque, drive.KeyStrength{Key: 500e6, Shaft: 400e6, Hub: 300e6})
	if err != nil {
		return 0, err
	}
	pins, err := d.pin.Utilisations(torque, drive.PinStrength{Pin: 600e6, Shaft: 400e6, Hub: 300e6})
	if err != nil {
		return 0, err
	}
	fits, err := d.fit.Utilisations(torque, 0, 0.12, 5e-6, 15e-6, 400e6, 300e6)
	if err != nil {
		return 0, err
	}
	clamps, err := d.clamp.Utilisations(torque, 0, 300e6)
	if err != nil {
		return 0, err
	}
	m, err := d.coupling.Misaligned(d.a, d.b, 1e-4, 5e-3)
	if err != nil {
		return 0, err
	}
	bearings, err := m.Utilisations(200, 800)
	if err != nil {
		return 0, err
	}
	for i := range keys {
		least = min(least, keys[i].Safety(), pins[i].Safety(), fits[i].Safety())
	}
	for i := range clamps {
		least = min(least, clamps[i].Safety(), bearings[i].Safety())
	}
	return least, nil
}

func TestJointsAllocateNothing(t *testing.T) {
	d := joined
	assert.Zero(t, testing.AllocsPerRun(100, func() {
		if _, err := d.rate(8); err != nil {
			t.Fatal(err)
		}
		if _, err := d.coupling.Tip(d.a, d.b, d.tail, 1e-4, 5e-3); err != nil {
			t.Fatal(err)
		}
		if _, err := drive.Lost(8, d.plays[:]); err != nil {
			t.Fatal(err)
		}
		if _, err := drive.SeriesStiffness(400, 2000, 3000); err != nil {
			t.Fatal(err)
		}
		if _, err := drive.GrubScrewHolds(5e-3); err != nil {
			t.Fatal(err)
		}
	}))
}
