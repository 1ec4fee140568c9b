package drive

import (
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// PlanetaryStage is a simple planetary gear of spur teeth of [RackA]: the ring is held,
// the sun drives, the carrier is the output. Without profile shift wheels of 12 to 17
// teeth are undercut. How the teeth mesh is not checked but by Meshes.
type PlanetaryStage struct {
	Sun            int     // teeth, 12 to 1000 [-]
	Planet         int     // teeth, 12 to 1000 [-]
	Ring           int     // teeth, Sun + 2·Planet; up to 4 more or fewer if shifts make up for it [-]
	Planets        int     // evenly spaced, 2 to 20 [-]
	Module         float64 // 5e-5 to 0.1 [m]
	Face           float64 // face width, 1e-4 to 1 [m]
	MeshEfficiency float64 // from sun to ring over both meshes, carrier locked, 0.5 to 1 [-]
	LoadShare      float64 // heaviest planet's load ÷ even share, 1 to Planets [-]

	// Profile shifts in modules, outward, of the ring as of the pinion that would fill its
	// spaces: -1 to 1, the ring's -2 to 2 [-]. Those of sun and planet set the axes' distance.
	SunShift, PlanetShift, RingShift float64
}

// Validate reports fields out of range. Of a stage whose fields are in range it
// reports teeth that do not lie on common axes, planets that cannot be put in at even
// spacing, and planets whose tips clash.
func (p PlanetaryStage) Validate() error {
	var f input.Faults
	p.check(&f)
	return f.Err()
}

func (p PlanetaryStage) check(f *input.Faults) {
	f.Count("drive.PlanetaryStage.Sun", p.Sun, fewestTeeth, 1000)
	f.Count("drive.PlanetaryStage.Planet", p.Planet, fewestTeeth, 1000)
	f.Count("drive.PlanetaryStage.Ring", p.Ring, 3*fewestTeeth, 3000)
	f.Count("drive.PlanetaryStage.Planets", p.Planets, 2, len(spacing)-1)
	f.Between("drive.PlanetaryStage.Module", p.Module, 5e-5, 0.1, "m")
	f.Between("drive.PlanetaryStage.Face", p.Face, 1e-4, 1, "m")
	f.Between("drive.PlanetaryStage.MeshEfficiency", p.MeshEfficiency, 0.5, 1, "")
	f.Between("drive.PlanetaryStage.LoadShare", p.LoadShare, 1, float64(max(1, p.Planets)), "")
	f.Between("drive.PlanetaryStage.SunShift", p.SunShift, -1, 1, "")
	f.Between("drive.PlanetaryStage.PlanetShift", p.PlanetShift, -1, 1, "")
	f.Between("drive.PlanetaryStage.RingShift", p.RingShift, -2, 2, "")
	if !f.None() {
		return
	}
	if p.shifted() {
		p.checkAxes(f)
	} else if p.Ring != p.Sun+2*p.Planet {
		f.Refuse("drive.PlanetaryStage.Ring", float64(p.Ring), "", fmt.Sprintf(
			"%d, the sun's %d + 2 × the planet's %d, for sun, planets and ring to lie on common axes",
			p.Sun+2*p.Planet, p.Sun, p.Planet))
	}
	if (p.Sun+p.Ring)%p.Planets != 0 {
		f.Refuse("drive.PlanetaryStage.Planets", float64(p.Planets), "", fmt.Sprintf(
			"a divisor of the sun's %d + the ring's %d = %d, for planets to mesh at even spacing",
			p.Sun, p.Ring, p.Sun+p.Ring))
	}
	if !f.None() && p.shifted() {
		return
	}
	if gap := p.neighbours(); gap <= 0 && p.shifted() {
		f.Refuse("drive.PlanetaryStage.Planets", float64(p.Planets), "", fmt.Sprintf(
			"so few that neighbours clear, here %.4g modules too little", -gap))
	} else if gap <= 0 {
		f.Refuse("drive.PlanetaryStage.Planets", float64(p.Planets), "", fmt.Sprintf(
			"so few that neighbours clear: (sun %d + planet %d)·sin(π/planets) above planet + 2 = %d, here %.4g modules too little",
			p.Sun, p.Planet, p.Planet+2, -gap))
	}
}

// spacing holds sin(π/N): half the distance of neighbouring planets ÷ their
// distance from the axis.
var spacing = func() (s [21]float64) {
	for n := 2; n < len(s); n++ {
		s[n] = math.Sin(math.Pi / float64(n))
	}
	return s
}()

// Ratio returns sun speed ÷ carrier speed of a valid stage, 1 + Ring/Sun [-].
func (p PlanetaryStage) Ratio() float64 { return 1 + float64(p.Ring)/float64(p.Sun) }

// Efficiency returns carrier power ÷ sun power of a valid stage [-]. It is better
// than MeshEfficiency, since a part of the power turns with the carrier and does not
// roll: η = (Sun + Ring·η₀)/(Sun + Ring), which the balance of torques gives if the
// ring passes on η₀ of what the sun puts in. Churned grease and bearings are not in it.
func (p PlanetaryStage) Efficiency() float64 {
	return (float64(p.Sun) + float64(p.Ring)*p.MeshEfficiency) / float64(p.Sun+p.Ring)
}

// StageLoad is what a planetary stage carries.
type StageLoad struct {
	SunTorque     float64 // of the motor on the sun, in the sense of rotation [N·m]
	CarrierTorque float64 // of the screw on the carrier, against rotation and so negative [N·m]
	RingTorque    float64 // of the housing on the ring; the three add up to zero [N·m]
	ToothForce    float64 // tangential, at the sun's reference circle, of the heaviest loaded planet [N]
	PinForce      float64 // on the pin of the heaviest loaded planet [N]
	PitchSpeed    float64 // of the pitch lines, relative to the carrier [m/s]
	SunSpeed      float64 // [rev/s]
	CarrierSpeed  float64 // [rev/s]
	PlanetSpeed   float64 // relative to the carrier, as the planet's bearing sees it; against the sun and so negative [rev/s]
}

// Load returns what the stage carries while the screw asks a torque of its
// carrier, 0 to 1e6 [N·m], at a speed, 0 to 1e3 [rev/s]. Sun power times Efficiency is
// carrier power; the loss is counted at standstill too, as for a stage about to turn.
// Tooth and pin forces hold LoadShare.
//
// Speeds by Willis' equation: Shigley's Mechanical Engineering Design, 10th ed. (2015),
// section 13-13.
func (p PlanetaryStage) Load(carrierTorque, carrierSpeed float64) (StageLoad, error) {
	var f input.Faults
	p.check(&f)
	f.Between("drive.PlanetaryStage.Load: carrier torque", carrierTorque, 0, 1e6, "N·m")
	f.Between("drive.PlanetaryStage.Load: carrier speed", carrierSpeed, 0, 1e3, "rev/s")
	if err := f.Err(); err != nil {
		return StageLoad{}, err
	}
	sun, ratio := float64(p.Sun), p.Ratio()
	share, axes := p.LoadShare/float64(p.Planets), p.axes()
	sunTorque := carrierTorque / (ratio * p.Efficiency())
	rolling := carrierSpeed * (ratio - 1) // of the sun, seen from the carrier
	return StageLoad{
		SunTorque:     sunTorque,
		CarrierTorque: -carrierTorque,
		RingTorque:    carrierTorque - sunTorque,
		ToothForce:    share * sunTorque / (p.Module * sun / 2),
		PinForce:      share * carrierTorque / (p.Module * axes),
		PitchSpeed:    2 * math.Pi * p.Module * axes * sun / (sun + float64(p.Planet)) * rolling,
		SunSpeed:      carrierSpeed * ratio,
		CarrierSpeed:  carrierSpeed,
		PlanetSpeed:   -rolling * sun / float64(p.Planet),
	}, nil
}

// Bending compares the root stresses of sun, planet and ring, in this order, with
// an allowable stress for teeth bent one way, 1e5 to 1e10 [Pa], by Lewis and Barth as
// in [ToothBending].
//
// A planet's tooth is bent by the sun and back by the ring: its allowable is 0.7 of
// the one given (ISO 6336-3, from memory, and common practice). A ring's tooth is thicker
// at the root than a rack's, whose form factor therefore rates it on the safe side.
// The ring's tooth force is taken as the sun's, which losses make a little larger. Teeth
// are rated as if they had no profile shift.
func (p PlanetaryStage) Bending(load StageLoad, allowable float64) ([3]material.Utilisation, error) {
	var f input.Faults
	p.check(&f)
	f.Between("drive.StageLoad.ToothForce", load.ToothForce, 0, 1e12, "N")
	f.Between("drive.StageLoad.PitchSpeed", load.PitchSpeed, 0, fastestCutTeeth, "m/s")
	f.Between("drive.PlanetaryStage.Bending: allowable", allowable, 1e5, strongestAllowed, "Pa")
	if err := f.Err(); err != nil {
		return [3]material.Utilisation{}, err
	}
	tooth := ToothBending{
		Force: load.ToothForce, PitchSpeed: load.PitchSpeed,
		Module: p.Module, Face: p.Face, FormFactor: 1,
	}
	unit := tooth.stress() // at a form factor of 1
	return [3]material.Utilisation{
		rootOf("sun tooth root", unit/lewisFactor(p.Sun), allowable, lewisMethod),
		rootOf("planet tooth root", unit/lewisFactor(p.Planet), reversedBending*allowable, lewisPlanet),
		rootOf("ring tooth root", unit/LewisRack, allowable, lewisRing),
	}, nil
}
