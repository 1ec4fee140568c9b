package drive

import (
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// ToothWear is the depth that one gear's flanks lose in each turn of that gear.
type ToothWear struct {
	FlankLength float64 // l_Fl, of the involute in use, root to tip [m]
	Mean        float64 // of the flank in use [m]
	Foot        float64 // where contact is nearest the root, and two pairs share the load [m]
	SingleLow   float64 // where one pair begins to carry all, towards the root [m]
	SingleHigh  float64 // the same towards the tip [m]
	Tip         float64 // [m]
}

// ToothWear returns the wear of the pinion's teeth, or of the wheel's, at a wear rate, 1e-25
// to 1e-5 [1/Pa], see material.WornVolume, and a torque of the pinion, 0 to 1e8 [N·m].
//
// Mean by VDI 2736-2:2014 (from memory): W = 2π·T·H_v·k/(b·z·l_Fl). Local by J. F.
// Archard and the single-point observation of A. Flodin and S. Andersson (Wear 207
// (1997), from memory): each mesh a point slides the width of the Hertz contact times
// |1 − v₂/v₁| under its mean pressure, so that the width cancels, h = k·F/b·|1 − v₂/v₁|.
// Equal sharing between two pairs. No wear at the pitch point, most at the foot of the
// driving pinion as a rule. As teeth wear the load moves: depths of a tenth of a module are
// the formula's and not more. Helical teeth are taken as spur ones of their transverse section.
func (g GearPair) ToothWear(wheel bool, rate, torque float64) (ToothWear, error) {
	var f input.Faults
	g.check(&f)
	f.Between("drive.GearPair.ToothWear: rate", rate, 1e-25, 1e-5, "1/Pa")
	f.Between("drive.GearPair.ToothWear: torque", torque, 0, 1e8, "N·m")
	if err := f.Err(); err != nil {
		return ToothWear{}, err
	}
	e := g.engage(&f)
	if err := f.Err(); err != nil {
		return ToothWear{}, err
	}
	return g.toothWear(&e, wheel, rate, torque), nil
}

func (g *GearPair) toothWear(e *engagement, wheel bool, rate, torque float64) (w ToothWear) {
	ratio := float64(g.Wheel.Teeth) / float64(g.Pinion.Teeth)
	force := torque / (e.base[0] * g.Module) // normal
	pairs := math.Min(e.pitch, e.end-e.start)
	// The four points from foot to tip of the pinion, by its radius of curvature.
	x := [4]float64{e.start, e.end - pairs, e.start + pairs, e.end}
	i, turning := 0, torque
	if wheel {
		i, turning = 1, torque*ratio
		x[0], x[1], x[2], x[3] = x[3], x[2], x[1], x[0] // the wheel's foot meets the pinion's tip
	}
	var depth, curve [4]float64
	for n := range x {
		pinion, mate := e.radii(x[n], g.Ring)
		mate /= ratio // speeds along the flanks, over the pinion's turning
		curve[n] = pinion
		if wheel {
			pinion, mate = mate, pinion
			curve[n] = pinion * ratio
		}
		share := 1.0
		if n == 0 || n == 3 {
			share = 0.5
		}
		depth[n] = share * rate * force / g.Face * math.Abs(1-mate/math.Max(pinion, leastCurve))
	}
	w.Foot, w.SingleLow, w.SingleHigh, w.Tip = depth[0], depth[1], depth[2], depth[3]
	// ∫ρ dρ/r_b between the ends is (d_a² − d_Nf²)/(4·d_b)
	w.FlankLength = math.Abs(curve[3]-curve[0]) * (curve[3] + curve[0]) / (2 * e.base[i]) * g.Module
	teeth := [2]int{g.Pinion.Teeth, g.Wheel.Teeth}[i]
	w.Mean = 2 * math.Pi * turning * e.loss * rate / (g.Face * float64(teeth) * w.FlankLength)
	return w
}

// Deepest returns the largest of the local depths [m].
func (w ToothWear) Deepest() float64 {
	return math.Max(math.Max(w.Foot, w.SingleLow), math.Max(w.SingleHigh, w.Tip))
}

// Utilisation compares the mean depth after a number of turns of the gear, 0 to 1e15
// [-], with the most allowed, 1e-9 to 1 [m]: 0.1 to 0.2 modules by VDI 2736-2 (from memory).
func (w ToothWear) Utilisation(part string, turns, most float64) (material.Utilisation, error) {
	var f input.Faults
	w.check(&f)
	f.Between("drive.ToothWear.Utilisation: turns", turns, 0, mostCycles, "")
	f.Between("drive.ToothWear.Utilisation: most", most, 1e-9, 1, "m")
	if err := f.Err(); err != nil {
		return material.Utilisation{}, err
	}
	return material.Utilisation{Part: part, Demand: w.Mean * turns, Capacity: most, Unit: "m", Method: wearMethod}, nil
}

// Turns returns after how many turns of the gear its deepest point has lost a depth,
// 1e-9 to 1 [m]; 1e15 at most, standing for no end [-].
func (w ToothWear) Turns(depth float64) (float64, error) {
	var f input.Faults
	w.check(&f)
	f.Between("drive.ToothWear.Turns: depth", depth, 1e-9, 1, "m")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return depth / math.Max(w.Deepest(), depth/mostCycles), nil
}

const wearMethod = "VDI 2736-2 wear"

func (w *ToothWear) check(f *input.Faults) {
	f.Between("drive.ToothWear.Mean", w.Mean, 0, 1e20, "m")
	f.Between("drive.ToothWear.Deepest", w.Deepest(), 0, 1e20, "m")
}
