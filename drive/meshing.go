package drive

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// Toothing is what one gear of a pair has come out as. Of a ring the tip is its inner
// circle and the root its outer one.
type Toothing struct {
	Reference, Base, Working, Tip, Root float64 // radii [m]

	// Begin is the radius at which the rack lets the involute begin; of a ring, whose cutter
	// is not known, its root. Active is the radius where contact with the mate begins or
	// ends at the root.
	Begin, Active float64 // [m]

	TipThickness float64 // in the normal plane, on the tip circle [m]
	LeastShift   float64 // of the profile, in modules, below which the rack undercuts the gear; 0 for a ring [-]
	Undercut     bool    // the rack cuts away a part of the involute

	// RootSliding and TipSliding are the specific sliding where the active flank ends, 1 − the
	// mate's rolling speed ÷ the own one; never less than -1e6 [-].
	RootSliding, TipSliding float64

	// Span is the distance over SpanTeeth teeth along the base tangent, in the normal
	// plane [m]; 0 for a ring and where both jaws do not touch involutes, or a helical face
	// is too narrow.
	Span      float64
	SpanTeeth int

	// Chord is the thickness at the reference circle along a straight line, and ChordHeight the
	// tip's height above it, both in the normal plane; 0 for a ring [m].
	Chord, ChordHeight float64
}

// Meshing is a gear pair in mesh; radii and lengths are of the transverse plane.
type Meshing struct {
	Pinion, Wheel Toothing

	Module        float64 // transverse [m]
	PressureAngle float64 // transverse, at the reference circle [rad]
	BaseHelix     float64 // helix angle at the base circle [rad]
	WorkingAngle  float64 // transverse pressure angle at the working circles [rad]
	Distance      float64 // of the axes [m]
	Tight         float64 // distance at which there would be no backlash [m]
	Shortening    float64 // taken off each tip [m]
	Clearance     float64 // the smaller one of tip to root [m]
	Backlash      float64 // nominal, along the working circles; negative where teeth must be thinned by as much to go in [m]
	BasePitch     float64 // [m]

	// Approach and Recess are the parts of the path of contact before and after the pitch
	// point while the pinion drives; one is negative if the pitch point lies outside.
	Approach, Recess, Path float64 // [m]

	Contact float64 // transverse contact ratio [-]
	Overlap float64 // contact ratio of the helix [-]

	// StartSliding and EndSliding are the sliding speeds of the flanks where contact starts and
	// ends ÷ the speed of the working circles [-].
	StartSliding, EndSliding float64

	LossFactor float64 // H_v: the power lost by friction ÷ (coefficient of friction · power) [-]

	Beyond []string // in words, what runs badly or leaves the formulas' range; nil if nothing
}

const (
	worstSliding   = 1e6
	leastClearance = 0.1 // modules
	leastTip       = 0.2 // modules
	leastContact   = 1.1
)

// Mesh returns the geometry of a pair: ISO 21771:2007 (from memory), with the ring's teeth
// counted positive.
//
// A pair that cannot be or turn is refused: axes too close or too far for the shifts, tips
// that are pointed, meet a root or lie inside the base circle, as a ring's do that has no
// involute there, tips of ring and pinion that foul each other outside the path of
// contact, and contact that ends before the next tooth takes over. What turns badly, or only
// once it is relieved, is told in Beyond: undercut, a tip that reaches for more flank
// than the mate has, where contact is counted as if the tip were shortened to what there
// is and so is right for a pair that is, teeth that jam at the distance unless thinned,
// less than 0.1 modules of clearance, 0.2 of tip thickness, or a contact ratio of 1.1
// (these limits are common practice, no source). A ring's tips nearly always reach past the involute
// of a pinion cut by a rack, which is no deeper than a rack's own tips need.
//
// LossFactor is that of H. Ohlendorf and G. Niemann (from memory), which is exact for friction of
// constant coefficient and load shared evenly among the tooth pairs in contact; here it is kept
// exact also where more than two pairs are in contact or the pitch point is not in the single
// zone.
func (g GearPair) Mesh() (Meshing, error) {
	var f input.Faults
	g.check(&f)
	if err := f.Err(); err != nil {
		return Meshing{}, err
	}
	var m Meshing
	m.axes(&g, &f)
	if f.None() {
		m.circles(&g, &f)
	}
	if f.None() {
		r := m.contact(&g, &f)
		m.reaches("wheel", "pinion", r.wheel)
		m.reaches("pinion", "wheel", r.pinion)
	}
	if f.None() && g.Ring {
		m.foul(&g, &f)
	}
	if err := f.Err(); err != nil {
		return Meshing{}, err
	}
	m.slide(&g)
	m.measure(&g)
	m.tell(&g)
	return m, nil
}

// teeth and shift return the sums that pair with the distance: those of both gears, or for a ring the
// differences.
func (g *GearPair) teeth() float64 {
	if g.Ring {
		return float64(g.Wheel.Teeth - g.Pinion.Teeth)
	}
	return float64(g.Wheel.Teeth + g.Pinion.Teeth)
}

func (g *GearPair) shift() float64 {
	if g.Ring {
		return g.Wheel.Shift - g.Pinion.Shift
	}
	return g.Wheel.Shift + g.Pinion.Shift
}

// side is 1, or -1 for a ring.
func (g *GearPair) side() float64 {
	if g.Ring {
		return -1
	}
	return 1
}

// transverse fills in what rack, module and helix alone decide.
func (m *Meshing) transverse(g *GearPair) {
	sin, cos := math.Sincos(g.Helix)
	m.Module = g.Module / cos
	m.PressureAngle = math.Atan(math.Tan(g.Rack.PressureAngle) / cos)
	m.BaseHelix = math.Asin(sin * math.Cos(g.Rack.PressureAngle))
	m.BasePitch = math.Pi * m.Module * math.Cos(m.PressureAngle)
}

// tightInvolute is the involute of the working angle at which there is no backlash.
func (m *Meshing) tightInvolute(g *GearPair) float64 {
	return involute(m.PressureAngle) + 2*g.shift()*math.Tan(g.Rack.PressureAngle)/g.teeth()
}

// play returns the backlash along the working circles for a working angle [m].
func (m *Meshing) play(g *GearPair, distance, angle float64) float64 {
	return g.side() * 2 * distance * (involute(angle) - m.tightInvolute(g))
}

// axes finds distance and working angle.
func (m *Meshing) axes(g *GearPair, f *input.Faults) {
	m.transverse(g)
	base := m.Module * g.teeth() / 2 * math.Cos(m.PressureAngle) // of both base circles, touching
	tight := m.tightInvolute(g)
	if tight < 0 && g.Distance == 0 {
		f.Refuse("drive.GearPair.Wheel.Shift", g.Wheel.Shift, "",
			"a sum of shifts (of a ring: wheel's less pinion's) for which there is a distance without backlash")
		return
	}
	angle := involuteAngle(tight)
	m.Tight = base / math.Cos(angle)
	m.WorkingAngle, m.Distance = angle, m.Tight
	if g.Distance != 0 {
		if g.Distance <= base {
			f.Refuse("drive.GearPair.Distance", g.Distance, "m", fmt.Sprintf("more than %.6g m, where the base circles touch", base))
			return
		}
		m.Distance = g.Distance
		m.WorkingAngle = math.Acos(base / g.Distance)
		m.Backlash = m.play(g, m.Distance, m.WorkingAngle)
	}
}

// circles finds all radii of both gears, and tip thickness.
func (m *Meshing) circles(g *GearPair, f *input.Faults) {
	rack, module := &g.Rack, g.Module
	if g.ShortenTips {
		// What the axes are nearer, or with a ring farther apart, than the shifts alone would have them.
		near := g.side() * (module*g.shift() - (m.Distance - m.Module*g.teeth()/2))
		m.Shortening = math.Max(0, near)
	}
	p, w, x := &m.Pinion, &m.Wheel, g.Wheel.Shift
	m.ref(p, g.Pinion)
	m.ref(w, g.Wheel)
	p.Working = m.Distance * float64(g.Pinion.Teeth) / g.teeth()
	w.Working = m.Distance * float64(g.Wheel.Teeth) / g.teeth()
	p.Tip = p.Reference + module*(rack.Addendum+g.Pinion.Shift) - m.Shortening
	p.Root = p.Reference - module*(rack.Dedendum-g.Pinion.Shift)
	if g.Ring {
		w.Tip = w.Reference - module*(rack.Addendum-x) + m.Shortening
		w.Root = w.Reference + module*(rack.Dedendum+x)
		m.Clearance = math.Min(w.Root-m.Distance-p.Tip, w.Tip-m.Distance-p.Root)
	} else {
		w.Tip = w.Reference + module*(rack.Addendum+x) - m.Shortening
		w.Root = w.Reference - module*(rack.Dedendum-x)
		m.Clearance = m.Distance - math.Max(p.Tip+w.Root, w.Tip+p.Root)
	}
	if !(p.Root > 0 && p.Tip > math.Max(p.Base, p.Root)) {
		f.Refuse("drive.GearPair.Pinion.Shift", g.Pinion.Shift, "", "one that leaves a body and a tip outside the base circle")
	}
	if !(w.Root > 0 && w.Tip > w.Base && (g.Ring || w.Tip > w.Root)) {
		f.Refuse("drive.GearPair.Wheel.Shift", x, "", fmt.Sprintf(
			"one that puts the wheel's tip outside its base circle, where involutes are: tip radius %.6g m, base radius %.6g m", w.Tip, w.Base))
	}
	if !f.None() {
		return
	}
	if m.Clearance < 0 {
		f.Refuse("drive.GearPair.Distance", m.Distance, "m", fmt.Sprintf("one at which tips clear the roots: they meet by %.3g m", -m.Clearance))
	}
	p.TipThickness = m.tipThickness(g, p, g.Pinion, false)
	w.TipThickness = m.tipThickness(g, w, g.Wheel, g.Ring)
	if p.TipThickness <= 0 {
		f.Refuse("drive.GearPair.Pinion.Shift", g.Pinion.Shift, "", "less, as its tips are pointed below their circle")
	}
	if w.TipThickness <= 0 {
		f.Refuse("drive.GearPair.Wheel.Shift", x, "", "one that leaves its tips a width, as they are pointed below their circle")
	}
}

func (m *Meshing) ref(t *Toothing, w Wheel) {
	t.Reference = m.Module * float64(w.Teeth) / 2
	t.Base = t.Reference * math.Cos(m.PressureAngle)
}

// tipThickness is in the normal plane.
func (m *Meshing) tipThickness(g *GearPair, t *Toothing, w Wheel, ring bool) float64 {
	z := float64(w.Teeth)
	half := (math.Pi/2+2*w.Shift*math.Tan(g.Rack.PressureAngle))/z + involute(m.PressureAngle) - involute(math.Acos(t.Base/t.Tip))
	if ring {
		half = math.Pi/z - half // what the filling pinion leaves
	}
	across := math.Tan(g.Helix) * t.Tip / t.Reference
	return 2 * t.Tip * half / math.Sqrt(1+across*across)
}
