// Package drivetest makes random motors, gears, shafts and bearings for property
// tests, all valid and of the size of small machines. Copy the manner of this
// module's own tests to keep a design of your own under such laws:
//
//	rapid.Check(t, func(t *rapid.T) {
//		motor := drivetest.Steppers().Draw(t, "motor")
//		...
//	})
package drivetest

import (
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/internal/draw"
)

// Steppers draws motors of 0.05 to 12 N·m, 0.3 to 8 A, 1 to 10 V of resistive drop at
// rated current and 0.5 to 5 ms of electrical time constant, with 50 or 100 rotor teeth.
// Not every one could be wound; all are valid.
func Steppers() *rapid.Generator[drive.Stepper] {
	return rapid.Custom(func(t *rapid.T) drive.Stepper {
		current := draw.Log(0.3, 8).Draw(t, "rated current")
		resistance := draw.Log(1, 10).Draw(t, "resistive drop") / current
		return drive.Stepper{
			HoldingTorque: draw.Log(0.05, 12).Draw(t, "holding torque"),
			Current:       current,
			Resistance:    resistance,
			Inductance:    resistance * draw.Log(0.5e-3, 5e-3).Draw(t, "time constant"),
			RotorTeeth:    rapid.SampledFrom([]int{50, 100}).Draw(t, "rotor teeth"),
		}
	})
}

// Trains draws rotors of 1e-6 to 1e-3 kg·m² behind ratios of 0.5 to 50, with screws of 1e-6
// to 1e-2 kg·m², efficiencies above a half and play of up to a degree.
func Trains() *rapid.Generator[drive.Train] {
	return rapid.Custom(func(t *rapid.T) drive.Train {
		return drive.Train{
			Rotor:      draw.Log(1e-6, 1e-3).Draw(t, "rotor"),
			Gear:       draw.Log(1e-8, 1e-4).Draw(t, "gear"),
			Screw:      draw.Log(1e-6, 1e-2).Draw(t, "screw"),
			Ratio:      draw.Log(0.5, 50).Draw(t, "ratio"),
			Efficiency: draw.Uniform(0.5, 1).Draw(t, "efficiency"),
			Backlash:   draw.Uniform(0, 0.02).Draw(t, "backlash"),
		}
	})
}

// Stages draws planetary stages of 12 to 60 sun and planet teeth and 2 to 6
// planets that mesh at even spacing and clear each other.
func Stages() *rapid.Generator[drive.PlanetaryStage] {
	return rapid.Custom(func(t *rapid.T) drive.PlanetaryStage {
		n := rapid.IntRange(2, 6).Draw(t, "planets")
		sun := rapid.IntRange(12, 60).Draw(t, "sun teeth")
		planet := rapid.IntRange(12, 54).Draw(t, "planet teeth")
		for 2*(sun+planet)%n != 0 {
			planet++
		}
		return drive.PlanetaryStage{
			Sun: sun, Planet: planet, Ring: sun + 2*planet, Planets: n,
			Module:         draw.Log(0.2e-3, 4e-3).Draw(t, "module"),
			Face:           draw.Log(2e-3, 50e-3).Draw(t, "face"),
			MeshEfficiency: draw.Uniform(0.9, 1).Draw(t, "mesh efficiency"),
			LoadShare:      draw.Uniform(1, 1.5).Draw(t, "load share"),
		}
	}).Filter(func(p drive.PlanetaryStage) bool { return p.Validate() == nil })
}

// GearPairs draws pairs of rack A with tips kept clear of the roots, that mesh without backlash:
// spur and helical, external and one in three inside a ring, of 12 to 60 and up to 200 teeth.
func GearPairs() *rapid.Generator[drive.GearPair] {
	return rapid.Custom(func(t *rapid.T) drive.GearPair {
		g := drive.GearPair{
			Rack: drive.RackA(), Module: draw.Log(0.2e-3, 4e-3).Draw(t, "module"), ShortenTips: true,
			Pinion: drive.Wheel{Teeth: rapid.IntRange(12, 60).Draw(t, "pinion teeth"), Shift: draw.Uniform(-0.2, 0.5).Draw(t, "pinion shift")},
			Ring:   rapid.IntRange(0, 2).Draw(t, "inside") == 0,
		}
		g.Face = g.Module * draw.Uniform(5, 20).Draw(t, "face in modules")
		g.Wheel = drive.Wheel{Teeth: g.Pinion.Teeth + rapid.IntRange(0, 140).Draw(t, "more teeth"), Shift: draw.Uniform(-0.2, 0.5).Draw(t, "wheel shift")}
		if rapid.Bool().Draw(t, "helical") {
			g.Helix = draw.Uniform(0.05, 0.5).Draw(t, "helix")
		}
		return g
	}).Filter(func(g drive.GearPair) bool { _, err := g.Mesh(); return err == nil })
}

// Shafts draws steel shafts of 3 to 60 mm with notch factors of 1 to 3.
func Shafts() *rapid.Generator[drive.Shaft] {
	return rapid.Custom(func(t *rapid.T) drive.Shaft {
		ultimate := draw.Uniform(350e6, 1400e6).Draw(t, "ultimate")
		return drive.Shaft{
			Diameter:     draw.Log(3e-3, 60e-3).Draw(t, "diameter"),
			BendingNotch: draw.Uniform(1, 3).Draw(t, "bending notch"),
			TorsionNotch: draw.Uniform(1, 3).Draw(t, "torsion notch"),
			Ultimate:     ultimate,
			Yield:        ultimate * draw.Uniform(0.5, 0.95).Draw(t, "yield ratio"),
			Endurance:    ultimate * draw.Uniform(0.15, 0.45).Draw(t, "endurance ratio"),
		}
	})
}

// ShaftLoads draws loads with every component, moments of 0.01 to 100 N·m and
// axial forces of 1 N to 10 kN.
func ShaftLoads() *rapid.Generator[drive.ShaftLoad] {
	return rapid.Custom(func(t *rapid.T) drive.ShaftLoad {
		moment := draw.Log(0.01, 100)
		return drive.ShaftLoad{
			BendingMean:        moment.Draw(t, "mean bending"),
			BendingAlternating: moment.Draw(t, "alternating bending"),
			TorqueMean:         moment.Draw(t, "mean torque"),
			TorqueAlternating:  moment.Draw(t, "alternating torque"),
			AxialMean:          draw.Log(1, 1e4).Draw(t, "mean axial force"),
			AxialAlternating:   draw.Log(1, 1e4).Draw(t, "alternating axial force"),
		}
	})
}

// Shoulders draws fillets whose step is 0.25 to 4 radii, the range of both charts.
func Shoulders() *rapid.Generator[drive.Shoulder] {
	return rapid.Custom(func(t *rapid.T) drive.Shoulder {
		small := draw.Log(3e-3, 60e-3).Draw(t, "smaller diameter")
		large := small * draw.Uniform(1.02, 2).Draw(t, "diameter ratio")
		step := draw.Uniform(0.25, 4).Draw(t, "step in radii")
		return drive.Shoulder{Large: large, Small: small, Radius: (large - small) / (2 * step)}
	})
}

// Bearings draws ball and roller bearings of 0.5 to 100 kN.
func Bearings() *rapid.Generator[drive.Bearing] {
	return rapid.Custom(func(t *rapid.T) drive.Bearing {
		dynamic := draw.Log(500, 100e3).Draw(t, "dynamic rating")
		return drive.Bearing{
			Dynamic:  dynamic,
			Static:   dynamic * draw.Uniform(0.3, 3).Draw(t, "static ratio"),
			Exponent: rapid.SampledFrom([]float64{drive.Ball, drive.Roller}).Draw(t, "exponent"),
		}
	})
}

// StepShafts draws steel shafts of 1 to 5 segments of 5 to 30 mm, 0.1 to 1 m long, on 2 to 4
// bearings of which some give, with 1 to 4 loads and 0 to 3 disks.
func StepShafts() *rapid.Generator[drive.StepShaft] {
	return rapid.Custom(func(t *rapid.T) drive.StepShaft {
		s := drive.StepShaft{Modulus: draw.Uniform(70e9, 220e9).Draw(t, "modulus"), Density: draw.Uniform(2000, 8000).Draw(t, "density")}
		total := draw.Log(0.1, 1).Draw(t, "length")
		n := rapid.IntRange(1, 5).Draw(t, "segments")
		shares := rapid.SliceOfN(draw.Uniform(0.5, 2), n, n).Draw(t, "shares")
		sum := 0.0
		for _, x := range shares {
			sum += x
		}
		for _, x := range shares {
			g := drive.Segment{Length: total * x / sum, Diameter: draw.Uniform(5e-3, 30e-3).Draw(t, "diameter")}
			if rapid.Bool().Draw(t, "hollow") {
				g.Bore = g.Diameter * draw.Uniform(0.1, 0.8).Draw(t, "bore ratio")
			}
			s.Segments = append(s.Segments, g)
		}
		supports := rapid.IntRange(2, 4).Draw(t, "bearings")
		for i := range supports { // each in a part of the length of its own, with room between
			at := total * (float64(i) + draw.Uniform(0.1, 0.9).Draw(t, "place of bearing")) / float64(supports)
			b := drive.ShaftBearing{Position: at}
			if rapid.Bool().Draw(t, "gives") {
				b.Give = draw.Log(1e-9, 1e-6).Draw(t, "give")
			}
			s.Bearings = append(s.Bearings, b)
		}
		place := draw.Uniform(0, total)
		for range rapid.IntRange(1, 4).Draw(t, "loads") {
			s.Loads = append(s.Loads, drive.PointLoad{
				Position: place.Draw(t, "place of load"), Force: draw.Uniform(-500, 500).Draw(t, "force"), Couple: draw.Uniform(-20, 20).Draw(t, "couple"),
			})
		}
		for range rapid.IntRange(0, 3).Draw(t, "disks") {
			s.Disks = append(s.Disks, drive.Disk{
				Position: place.Draw(t, "place of disk"), Mass: draw.Log(0.01, 5).Draw(t, "mass"), Inertia: draw.Uniform(0, 1e-2).Draw(t, "inertia"),
			})
		}
		return s
	})
}
