package screw

import (
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

const (
	inch       = 0.0254     // [m]
	foot       = 0.3048     // [m]
	pound      = 0.45359237 // [kg]
	horsepower = 550 * foot * pound * gravity
)

// AugerDrive is what turns an auger, at its shaft: gears and bearings of the drive come on top.
type AugerDrive struct {
	Convey   float64  // moves the bulk along [W]
	NoLoad   float64  // turns the auger empty [W]
	Lift     float64  // raises the bulk [W]
	Overload float64  // factor on the sum of these for drives so small that any lump stalls them, 1 to 3 [-]
	Power    float64  // sum × Overload [W]
	Torque   float64  // [N·m]
	Beyond   []string // in words, where the method's stated range is left; nil inside it
}

// Drive returns what turns the auger while it brings a mass flow, 1e-9 to 1e4 [kg/s], at a speed, 1e-4
// to 100 [rev/s], against a progress resistance of 0.1 to 20 [-]. It errs on input out of range.
//
// ISO 7119 and DIN 15262, from memory: power is ṁ·g·L·λ + 50·D·L + ṁ·g·H, in W with D and L in m (in
// t/h and kW: Q·L·λ/367 + D·L/20 + Q·H/367), H being the height raised. The progress resistance λ is
// 1.2 for flour, cereals and sawdust, 1.6 for coal dust, 2.5 for lump coal and rock salt, 4 for
// cement, gypsum, ash and lime (as worksheets restate the tables); for plastics see
// [ProgressResistance]. Up an upright auger see Progress of [Auger.Lift]. Overload is 1 here.
//
// Range: augers of 100 mm and more, partly full, up to 20°. The term of the empty auger is a fit with
// units in it, and far the largest of a small auger: of one of 30 mm that brings 20 kg/h it is
// nine times the rest, so that the power says little there. Left out are what shears the bulk under a full hopper at the start, and
// jams, by which the motor of a small auger is sized.
func (a Auger) Drive(massFlow, speed, progress float64) (AugerDrive, error) {
	var f input.Faults
	a.check(&f)
	f.Between("screw: mass flow", massFlow, 1e-9, 1e4, "kg/s")
	f.Between("screw: speed", speed, 1e-4, 100, "rev/s")
	f.Between("screw.Auger.Drive: progress", progress, 0.1, 20, "")
	if err := f.Err(); err != nil {
		return AugerDrive{}, err
	}
	r := AugerDrive{Convey: massFlow * gravity * a.Length * progress, NoLoad: 50 * a.Diameter * a.Length, Overload: 1}
	if a.Diameter < 0.1*(1-1e-9) {
		r.Beyond = append(r.Beyond, fmt.Sprintf("auger of %.3g mm, method for 100 mm and more: a jam sizes the motor", a.Diameter*1e3))
	}
	a.finish(&r, massFlow, speed)
	return r, nil
}

// finish adds lift, sum and torque.
func (a *Auger) finish(r *AugerDrive, massFlow, speed float64) {
	r.Lift = massFlow * gravity * a.Length * math.Sin(a.Incline)
	r.Power = (r.Convey + r.NoLoad + r.Lift) * r.Overload
	r.Torque = r.Power / (2 * math.Pi * speed)
	if a.Incline > steepestOpen*(1+1e-12) {
		r.Beyond = append(r.Beyond, fmt.Sprintf("rising at %.3g°, method for 20° and less", a.Incline*180/math.Pi))
	}
}

// HandbookDrive is [Auger.Drive] by the method of imperial handbooks, for a material factor of 0.05 to
// 10 [-], about 0.5 for light grains that flow freely, and a hanger factor of 1 to 5 [-]: 1 for ball
// bearings, 1.7 to 2 for bronze, wood or plastic, 3.4 for hard iron, 4.4 if hard-surfaced. It errs on
// input out of range and on a Diameter outside 4 to 24 in.
//
// CEMA 350, Screw Conveyors, factors from memory: (DF·HBF·L·S + W·MF·L)·F/10⁶ in hp, with L in ft, S
// in rpm, W in lb/h; DF from 12 at 4 in to 235 at 24 in, linear between the sizes; F from 3 at 0.2 hp
// to 1 at 5.2 hp, falling with their logarithm. What raises the bulk is added as ISO 7119 has it, before F.
// Hangers are bearings between lengths of a screw, which a short auger has none of: 1 is its least.
func (a Auger) HandbookDrive(massFlow, speed, factor, hanger float64) (AugerDrive, error) {
	var f input.Faults
	a.check(&f)
	f.Between("screw: mass flow", massFlow, 1e-9, 1e4, "kg/s")
	f.Between("screw: speed", speed, 1e-4, 100, "rev/s")
	f.Between("screw.Auger.HandbookDrive: factor", factor, 0.05, 10, "")
	f.Between("screw.Auger.HandbookDrive: hanger", hanger, 1, 5, "")
	const slack = 1e-9 * inch
	if f.None() && !(a.Diameter >= 4*inch-slack && a.Diameter <= 24*inch+slack) {
		f.Refuse("screw.Auger.Diameter", a.Diameter, "m", "0.1016 to 0.6096 m: the method's table of sizes")
	}
	if err := f.Err(); err != nil {
		return AugerDrive{}, err
	}
	feet, perHour := a.Length/foot, massFlow*3600/pound
	r := AugerDrive{
		Convey: perHour * factor * feet / 1e6 * horsepower,
		NoLoad: diameterFactor(a.Diameter/inch) * hanger * feet * speed * 60 / 1e6 * horsepower,
	}
	const small, large = 0.2, 5.2 // [hp]
	hp := (r.Convey + r.NoLoad + massFlow*gravity*a.Length*math.Sin(a.Incline)) / horsepower
	r.Overload = math.Min(3, math.Max(1, 3-2*math.Log(hp/small)/math.Log(large/small)))
	a.finish(&r, massFlow, speed)
	return r, nil
}

func diameterFactor(inches float64) float64 {
	sizes := [...][2]float64{{4, 12}, {6, 18}, {9, 31}, {10, 37}, {12, 55}, {14, 78}, {16, 106}, {18, 135}, {20, 165}, {24, 235}}
	i := 1
	for i < len(sizes)-1 && inches > sizes[i][0] {
		i++
	}
	lo, hi := sizes[i-1], sizes[i]
	return lo[1] + (hi[1]-lo[1])*(inches-lo[0])/(hi[0]-lo[0])
}

// ProgressResistance returns the progress resistance of [Auger.Drive] [-] for which it finds the same
// power to move the bulk as [Auger.HandbookDrive] for a material factor [-]: 1.98 times it, exactly,
// as a horsepower is 550 ft·lbf/s and an hour 3600 s.
func ProgressResistance(factor float64) float64 { return factor * (550 * 3600 / 1e6) }

// Thrust returns the force along the axis with which a torque, 0 to 1e6 [N·m], pushes the bulk, and
// the shaft's bearing back [N]: for the bearing, that of the stalled motor. It errs as [Auger.Feed],
// at any incline.
//
// The flight is a thread with friction: F = T/(R·tan(α+φ)), with R as in Feed. Handbooks of machine
// elements take a radius of D/4 (from memory), 6 % more force for a pitch of one diameter, a shaft of
// a third of it and an angle of friction of 23°. What the tube's own friction takes off the torque is
// left out, so it is the most.
func (a Auger) Thrust(b material.Bulk, torque float64) (float64, error) {
	var f input.Faults
	a.check(&f)
	f.Add(b.Validate())
	f.Between("screw.Auger.Thrust: torque", torque, 0, 1e6, "N·m")
	if err := f.Err(); err != nil {
		return 0, err
	}
	radius := a.effectiveRadius()
	alpha, err := a.pushes(&b, radius)
	if err != nil {
		return 0, err
	}
	return torque / (radius * math.Tan(alpha+b.WallFriction)), nil
}
