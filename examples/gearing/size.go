package main

import (
	"math"

	"meltflight/drive"
)

// What is assumed of shank and key.
const (
	yields    = 490e6 // shank [Pa]
	breaks    = 700e6 // [Pa]
	keyYields = 350e6 // [Pa]
	hubYields = 300e6 // [Pa]
	seat      = 0.2   // fillet of the keyseat [mm]
	reliable  = 0.9   // of shank and bearing
)

var thrustBearing = drive.Bearing{Dynamic: 14e3, Static: 24e3, Exponent: drive.Ball}

// size seeks the smallest stage that lasts, and a plain pair that would do instead.
func (a *answer) size() error {
	p := &a.plan
	teeth, err := cased.stage()
	if err != nil {
		return err
	}
	wish := drive.StageWish{Torque: p.torque, Speed: p.speed * rpm, Time: p.wanted * hour, Least: p.least, Most: p.most, Planets: planets,
		Width: p.width, MeshEfficiency: efficiency, LoadShare: share, Root: p.root, Flank: p.flank, Rim: rim, Outer: p.outer * mm}
	if a.choice, err = drive.SizeStage(wish, teeth, drive.CommonGearFactors()); err != nil {
		return err
	}
	if a.chosen, err = a.rate(a.choice.Stage, cased); err != nil {
		return err
	}
	ratio := a.choice.Stage.Ratio()
	pair := drive.GearPair{Rack: drive.RackA(), Pinion: drive.Wheel{Teeth: 18}, Wheel: drive.Wheel{Teeth: int(math.Round(18 * ratio))}}
	both := [2]drive.ToothMaterial{teeth[0], teeth[0]}
	both[0].Cycles, both[1].Cycles = ratio*p.speed*rpm*p.wanted*hour, p.speed*rpm*p.wanted*hour
	a.bare, err = pair.SizeModule(p.torque/ratio, p.width, both, drive.CommonGearFactors(), p.root, p.flank)
	return err
}

// support sizes shank and key, and rates all behind the screw.
func (a *answer) support() error {
	p := &a.plan
	load := drive.ShaftLoad{BendingAlternating: p.bending, TorqueMean: p.torque, TorqueAlternating: p.ripple * p.torque, AxialMean: p.thrust}
	// Notch and endurance change with the diameter: anew at each answer until it stays. A larger
	// one never asks for less, so that it does.
	for diameter := 12 * mm; ; diameter = a.shank.Shaft.Diameter {
		notched, err := shank(diameter)
		if err != nil {
			return err
		}
		if a.shank, err = notched.SizeShaft(load, p.safe); err != nil {
			return err
		}
		if a.shank.Shaft.Diameter == diameter {
			break
		}
	}
	strength := drive.KeyStrength{Key: keyYields, Shaft: yields, Hub: hubYields}
	var err error
	if a.key, err = drive.SizeKey(a.shank.Shaft.Diameter, p.torque*(1+p.ripple), strength, drive.RoundEnds, p.safe); err != nil {
		return err
	}
	teeth, err := cased.stage()
	if err != nil {
		return err
	}
	a.whole, err = drive.Transmission{Stage: a.choice.Stage, Teeth: teeth, Factors: drive.CommonGearFactors(),
		Shank: a.shank.Shaft, Bending: p.bending, Ripple: p.ripple, Key: a.key.Joint, KeyStrength: strength,
		Bearing: thrustBearing, Reliability: reliable}.Rate(p.torque, p.thrust, p.speed*rpm, p.wanted*hour)
	return err
}

// shank is one with a keyseat, of a diameter [m].
func shank(diameter float64) (drive.Shaft, error) {
	s := drive.Shaft{Diameter: diameter, Yield: yields, Ultimate: breaks}
	var err error
	if s.BendingNotch, s.TorsionNotch, err = (drive.Keyseat{Diameter: diameter, Radius: seat * mm}).Fatigue(breaks); err != nil {
		return s, err
	}
	s.Endurance, err = drive.EnduranceLimit(breaks, diameter, drive.Machined, reliable)
	return s, err
}
