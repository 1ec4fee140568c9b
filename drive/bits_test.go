package drive_test

import (
	"errors"
	"math"
	"reflect"
	"testing"

	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/drive/drivetest"
	"meltflight/internal/draw"
	"meltflight/material"
)

// finite fails if a result without an error holds NaN or an infinity anywhere, or
// an error is of neither documented kind.
func finite(t *rapid.T, name string, err error, results ...any) {
	if err != nil {
		if !errors.Is(err, material.ErrInvalid) && !errors.Is(err, drive.ErrOutOfStep) {
			t.Fatalf("%s: undocumented error %v", name, err)
		}
		return
	}
	for _, r := range results {
		walk(t, name, reflect.ValueOf(r))
	}
}

func walk(t *rapid.T, name string, v reflect.Value) {
	switch v.Kind() {
	case reflect.Float64:
		if x := v.Float(); math.IsNaN(x) || math.IsInf(x, 0) {
			t.Fatalf("%s: %v without an error", name, x)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			walk(t, name+"."+v.Type().Field(i).Name, v.Field(i))
		}
	case reflect.Array:
		for i := range v.Len() {
			walk(t, name, v.Index(i))
		}
	}
}

// bits tries every solver with arbitrary bits in every field and argument, or in
// one or the other only, so that whatever the validation lets through is computed.
func bits(t *rapid.T) {
	value := func(name string, lo, hi float64) float64 {
		switch rapid.IntRange(0, 5).Draw(t, "kind of "+name) {
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
		if rapid.IntRange(0, 5).Draw(t, "kind of "+name) == 0 {
			return rapid.Int().Draw(t, name)
		}
		return rapid.IntRange(lo, hi).Draw(t, name)
	}

	motor := drive.Stepper{
		HoldingTorque: value("holding", 1e-4, 1e3), Current: value("rated", 1e-3, 1e3), Resistance: value("resistance", 1e-4, 1e4),
		Inductance: value("inductance", 1e-7, 10), RotorTeeth: count("rotor teeth", 2, 1000),
	}
	speed, current, supply := value("speed", 0, 1e4), value("current", 1e-6, 1e3), value("supply", 0.1, 1e4)
	out, err := motor.PullOut(speed, current, supply)
	finite(t, "PullOut", err, out)
	full, bound, err := motor.Corners(current, supply)
	finite(t, "Corners", err, full, bound)
	need, err := motor.CurrentFor(value("torque", 0, 1e3), speed, supply)
	finite(t, "CurrentFor", err, need)
	warm, err := motor.Warm(value("temperature", 200, 600))
	finite(t, "Warm", err, warm)
	finite(t, "Stepper.Validate", motor.Validate())

	stage := drivetest.Stages().Draw(t, "stage")
	if rapid.Bool().Draw(t, "any teeth") {
		stage.Sun, stage.Planet, stage.Planets = count("sun", 12, 1000), count("planet", 12, 1000), count("planets", 2, 20)
		stage.Ring = stage.Sun + 2*stage.Planet
	}
	stage.Module, stage.Face = value("module", 5e-5, 0.1), value("face", 1e-4, 1)
	stage.MeshEfficiency, stage.LoadShare = value("mesh efficiency", 0.5, 1), value("load share", 1, 2)
	load, err := stage.Load(value("carrier torque", 0, 1e6), value("carrier speed", 0, 1e3))
	finite(t, "Load", err, load)
	allowable := value("allowable", 1e5, 1e10)
	roots, err := stage.Bending(load, allowable)
	finite(t, "Bending", err, roots)
	load.ToothForce, load.PitchSpeed = value("tooth force", 0, 1e12), value("pitch speed", 0, 20)
	roots, err = stage.Bending(load, allowable)
	finite(t, "Bending", err, roots)
	finite(t, "PlanetaryStage.Validate", stage.Validate())

	y, err := drive.LewisFormFactor(count("teeth", 12, 10000))
	finite(t, "LewisFormFactor", err, y)
	barth, err := drive.BarthFactor(load.PitchSpeed)
	finite(t, "BarthFactor", err, barth)
	tooth := drive.ToothBending{
		Force: load.ToothForce, PitchSpeed: load.PitchSpeed, Module: stage.Module, Face: stage.Face, FormFactor: value("form factor", 0.1, 1),
	}
	stress, err := tooth.Stress()
	finite(t, "Stress", err, stress)
	u, err := tooth.Utilisation("tooth", allowable)
	finite(t, "Utilisation", err, u, u.Safety())

	shaft := drive.Shaft{
		Diameter: value("diameter", 1e-4, 10), BendingNotch: value("bending notch", 1, 20), TorsionNotch: value("torsion notch", 1, 20),
		Yield: value("yield", 1e5, 1e10), Ultimate: value("ultimate", 1e5, 1e10), Endurance: value("endurance", 1e4, 1e10),
	}
	fatigue, err := shaft.Fatigue(drive.ShaftLoad{
		BendingMean: value("mean bending", 0, 1e8), BendingAlternating: value("bending", 0, 1e8), TorqueMean: value("mean torque", 0, 1e8),
		TorqueAlternating: value("torque", 0, 1e8), AxialMean: value("mean axial", 0, 1e10), AxialAlternating: value("axial", 0, 1e10),
	})
	finite(t, "Fatigue", err, fatigue)
	if err == nil {
		finite(t, "Fatigue.Utilisations", nil, fatigue.Utilisations(shaft))
	}
	for _, v := range fatigue.Utilisations(shaft) {
		finite(t, "Safety", nil, v.Safety()) // whatever the shaft
	}
	finite(t, "Shaft.Validate", shaft.Validate())

	limit, err := drive.EnduranceLimit(value("strength", 2e8, 2.2e9), value("bar", 1e-3, 0.254), drive.Finish(count("finish", 0, 3)), value("survival", 0.5, 0.999999))
	finite(t, "EnduranceLimit", err, limit)
	_ = drive.Finish(count("name", 0, 3)).String() + drive.Regime(count("regime", 0, 2)).String()

	shoulder := drive.Shoulder{Large: value("large", 1e-4, 10), Small: value("small", 1e-4, 10), Radius: value("radius", 1e-6, 1)}
	kt, err := shoulder.Bending()
	finite(t, "Shoulder.Bending", err, kt)
	kt, err = shoulder.Torsion()
	finite(t, "Shoulder.Torsion", err, kt)
	strength := value("notched strength", 345e6, 1517e6)
	kf, kfs, err := shoulder.Fatigue(strength)
	finite(t, "Shoulder.Fatigue", err, kf, kfs)
	q, qs, err := drive.NotchSensitivity(strength, shoulder.Radius)
	finite(t, "NotchSensitivity", err, q, qs)

	bearing := drive.Bearing{Dynamic: value("dynamic", 1, 1e9), Static: value("static", 1, 1e9), Exponent: value("exponent", 3, drive.Roller)}
	thrust, turning := value("thrust", 1e-3, 1e9), value("turning", 1e-6, 1e4)
	reliability, wanted := value("reliability", 0.9, 0.9995), value("wanted", 1, 1e10)
	life, err := bearing.Life(thrust, turning, reliability)
	finite(t, "Life", err, life)
	both, err := bearing.Utilisations(thrust, turning, reliability, wanted)
	finite(t, "Bearing.Utilisations", err, both)
	rating, err := drive.RequiredRating(thrust, turning, reliability, wanted, bearing.Exponent)
	finite(t, "RequiredRating", err, rating)
	finite(t, "Bearing.Validate", bearing.Validate())
}

func TestPropertyAnyBits(t *testing.T) { rapid.Check(t, bits) }

func FuzzAnyBits(f *testing.F) { f.Fuzz(rapid.MakeFuzz(bits)) }
