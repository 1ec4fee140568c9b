package drive

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// engagement is what rating needs of a pair's geometry, in the transverse plane and in
// normal modules. A point of contact is known by the radius of curvature of the
// pinion's flank there, which grows evenly along the path.
type engagement struct {
	cosHelix, cosBaseHelix float64
	cosAngle, tanAngle     float64 // of the reference pressure angle
	sinWorking, cosWorking float64 // of the working pressure angle
	radius, base           [2]float64
	tip                    [2]float64 // of the flank in use: less than the tip's where the mate cannot follow
	pitch                  float64    // of the base circles
	line                   float64    // between the points where the path touches both base circles
	start, end             float64    // of the path
	ratio, overlap         float64    // contact ratios ε_α, ε_β
	pinionPart, wheelPart  float64    // of ε_α: recess, to the pinion's tip, and approach
	cut                    bool       // by interference
}

// engage expects a pair that was checked. Tips of an outer pair are shortened as much as
// keeps their clearance.
func (g *GearPair) engage(f *input.Faults) (e engagement) {
	sinHelix, cosHelix := math.Sincos(g.Helix)
	tanNormal := math.Tan(g.Rack.PressureAngle)
	e.cosHelix = cosHelix
	sinBase := sinHelix * math.Cos(g.Rack.PressureAngle)
	e.cosBaseHelix = math.Sqrt(1 - sinBase*sinBase)
	e.tanAngle = tanNormal / cosHelix
	e.cosAngle = 1 / math.Sqrt(1+e.tanAngle*e.tanAngle)

	side, shift := 1.0, g.Wheel.Shift+g.Pinion.Shift
	if g.Ring {
		side, shift = -1, g.Wheel.Shift-g.Pinion.Shift
	}
	teeth := float64(g.Wheel.Teeth) + side*float64(g.Pinion.Teeth)
	e.radius = [2]float64{float64(g.Pinion.Teeth) / (2 * cosHelix), float64(g.Wheel.Teeth) / (2 * cosHelix)}
	e.base = [2]float64{e.radius[0] * e.cosAngle, e.radius[1] * e.cosAngle}
	unshifted := teeth / (2 * cosHelix)
	distance := g.Distance / g.Module
	if g.Distance != 0 {
		e.cosWorking = unshifted * e.cosAngle / distance
		if !(e.cosWorking < 1) {
			f.Refuse("drive.GearPair.Distance", g.Distance, "m", fmt.Sprintf("above %.6g m, where the base circles touch", unshifted*e.cosAngle*g.Module))
			return e
		}
		e.sinWorking = math.Sqrt(1 - e.cosWorking*e.cosWorking)
	} else {
		involute := e.tanAngle - math.Atan(e.tanAngle) + 2*tanNormal*shift/teeth
		if !(involute > 1e-9) {
			f.Refuse("drive.GearPair.Wheel.Shift", g.Wheel.Shift, "", "more, as with these shifts teeth without backlash do not mesh at any distance")
			return e
		}
		tan := tanOfInvolute(involute)
		e.cosWorking = 1 / math.Sqrt(1+tan*tan)
		e.sinWorking = tan * e.cosWorking
		distance = unshifted * e.cosAngle / e.cosWorking
	}
	e.line = distance * e.sinWorking
	e.tip[0] = e.radius[0] + g.Rack.Addendum + g.Pinion.Shift
	if g.Ring {
		e.tip[1] = e.radius[1] - g.Rack.Addendum + g.Wheel.Shift
	} else {
		short := math.Min(0, distance-unshifted-shift)
		e.tip[0] += short
		e.tip[1] = e.radius[1] + g.Rack.Addendum + g.Wheel.Shift + short
	}
	e.end = flank(e.tip[0], e.base[0])
	e.start = side * (e.line - flank(e.tip[1], e.base[1]))
	if e.start < 0 {
		e.start, e.cut = 0, true
	}
	if !g.Ring && e.end > e.line {
		e.end, e.cut = e.line, true
	}
	if e.cut {
		e.tip[0], e.tip[1] = math.Hypot(e.base[0], e.end), math.Hypot(e.base[1], e.line-side*e.start)
	}
	e.pitch = math.Pi * e.cosAngle / cosHelix
	e.ratio = (e.end - e.start) / e.pitch
	touch := e.base[0] * e.sinWorking / e.cosWorking // the pitch point
	e.pinionPart, e.wheelPart = (e.end-touch)/e.pitch, (touch-e.start)/e.pitch
	e.overlap = g.Face / g.Module * sinHelix / math.Pi
	if !(e.ratio >= 1) {
		f.Refuse("drive.GearPair: contact ratio", e.ratio, "", "1 or more, or a tooth lets go before the next takes hold")
	}
	return e
}

func flank(tip, base float64) float64 { return math.Sqrt(math.Max(0, (tip-base)*(tip+base))) }

// radii returns the radii of curvature of both flanks where the pinion's is x.
func (e *engagement) radii(x float64, ring bool) (pinion, wheel float64) {
	if ring {
		return x, x + e.line
	}
	return x, e.line - x
}

// tanOfInvolute returns tan α for tan α − α = v. Newton's steps come from above, where
// the curve of t − atan t bends up, and so never cross the root.
func tanOfInvolute(v float64) float64 {
	t := v + math.Pi/2
	if a := math.Cbrt(3 * v); a < 1.2 {
		t = math.Tan(a)
	}
	for range 60 {
		step := (t - math.Atan(t) - v) * (1 + t*t) / (t * t)
		t -= step
		if math.Abs(step) <= 1e-14*t {
			break
		}
	}
	return t
}
