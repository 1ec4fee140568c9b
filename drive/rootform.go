package drive

import (
	"math"

	"meltflight/internal/input"
)

// RootForm is the root of a tooth and what its shape does to the stress there; lengths
// in modules. Its critical section goes through the points where a line at 30° to the
// tooth's middle touches the fillets.
type RootForm struct {
	Chord  float64  // s_Fn, thickness at the section [-]
	Arm    float64  // h_F, from the section up to where the force crosses the tooth's middle [-]
	Fillet float64  // ρ_F, radius of the fillet at the section [-]
	Angle  float64  // α_F, of the force against the section [rad]
	Form   float64  // Y_F: large is weak [-]
	Notch  float64  // Y_S, stress at the fillet over that of a plain bar [-]
	Beyond []string // what lies outside the standard's range, in words
}

// Stress returns Y_F·Y_S [-], the root's stress over F/(b·m).
func (r RootForm) Stress() float64 { return r.Form * r.Notch }

// RootForm returns the root of an outer tooth that the rack generates on a spur wheel
// of 5 to 1e7 teeth, for helical ones the virtual number, shifted by -2 to 2 [-], with
// the whole load at a radius in modules, or at the tip if that is 0: the tip without
// shortening. It errs where the tooth has no such section, or one above the load.
//
// ISO 6336-3:2006, clause 6, method B (from memory), without protuberance:
//
//	Y_F = 6·h_F·cos α_F/(s_Fn²·cos α)
//	Y_S = (1.2 + 0.13·L)·q^(1/(1.21 + 2.3/L)),   L = s_Fn/h_F,   q = s_Fn/(2ρ_F), 1 to 8
//
// The section agrees with a fillet built point by point from the rolling rack.
func (r Rack) RootForm(teeth, shift, load float64) (RootForm, error) {
	var f input.Faults
	r.check(&f)
	f.Between("drive.Rack.RootForm: teeth", teeth, 5, 1e7, "")
	f.Between("drive.Rack.RootForm: shift", shift, -2, 2, "")
	if load != 0 {
		f.Between("drive.Rack.RootForm: load", load, math.Max(0, teeth/2*math.Cos(r.PressureAngle)), teeth/2+4, "")
	} else if f.None() {
		load = teeth/2 + r.Addendum + shift
		f.Between("drive.Rack.RootForm: tip", load, teeth/2*math.Cos(r.PressureAngle), teeth/2+4, "")
	}
	if err := f.Err(); err != nil {
		return RootForm{}, err
	}
	form := r.root(&f, teeth, shift, load)
	if err := f.Err(); err != nil {
		return RootForm{}, err
	}
	return form, nil
}

const (
	undercut  = "undercut root: the rack cut away involute at the foot"
	notchOut  = "sharpness s/2ρ outside 1 to 8, where ISO 6336-3 gives its notch factor"
	noSection = "so that the tooth has a root section below the load"
)

// root is RootForm for arguments that were checked.
func (r *Rack) root(f *input.Faults, teeth, shift, load float64) (o RootForm) {
	sin, cos := math.Sincos(r.PressureAngle)
	tan := sin / cos
	corner := math.Pi/4 - r.Dedendum*tan - (1-sin)*r.Fillet/cos // E, from the tip disc's centre to the rack's middle
	depth := r.Fillet - r.Dedendum + shift                      // G, of that centre, outward
	k := 2 * depth / teeth
	h := 2/teeth*(math.Pi/2-corner) - math.Pi/3
	// θ = k·tan θ − H. From −H Newton's steps go one way and never cross the root.
	roll := -h
	for range 60 {
		t := math.Tan(roll)
		slope := 1 - k*(1+t*t)
		if !(slope > 1e-6) {
			f.Refuse("drive.Wheel.Shift", shift, "", noSection)
			return o
		}
		step := (roll - k*t + h) / slope
		roll -= step
		if math.Abs(step) < 1e-15 {
			break
		}
	}
	cosRoll := math.Cos(roll)
	sinSection, cosSection := math.Sincos(math.Pi/3 - roll)
	o.Chord = teeth*sinSection + math.Sqrt(3)*(depth/cosRoll-r.Fillet)
	o.Fillet = r.Fillet + 2*depth*depth/(cosRoll*(teeth*cosRoll*cosRoll-2*depth))

	baseRadius := teeth / 2 * cos
	tanLoad := curvature(load, baseRadius) / baseRadius
	// γ, half the angle that the tooth spans at the load
	half := (math.Pi/2+2*shift*tan)/teeth + (tan - r.PressureAngle) - (tanLoad - math.Atan(tanLoad))
	o.Angle = math.Atan(tanLoad) - half
	sinHalf, cosHalf := math.Sincos(half)
	sinAngle, cosAngle := math.Sincos(o.Angle)
	o.Arm = 0.5 * ((cosHalf-sinHalf*sinAngle/cosAngle)*2*load - teeth*cosSection - depth/cosRoll + r.Fillet)
	o.finish(f, shift, cosAngle/cos)
	if shift < r.Dedendum-r.Fillet*(1-sin)-teeth/2*sin*sin-undercutSlack {
		o.Beyond = append(o.Beyond, undercut)
	}
	return o
}

// Teeth cut away by less look whole: 17 without shift, which the trade takes as free of it.
const undercutSlack = 0.006 // modules

// finish computes the factors from the section; lean is cos α_F/cos α.
func (o *RootForm) finish(f *input.Faults, shift, lean float64) {
	if !(o.Chord > 0.01 && o.Arm > 0.01 && lean > 0.01 && o.Fillet >= 0 && o.Chord < 100) {
		f.Refuse("drive.Wheel.Shift", shift, "", noSection)
		return
	}
	fillet := math.Max(o.Fillet, o.Chord/200)
	o.Form = 6 * o.Arm * lean / (o.Chord * o.Chord)
	slim := o.Chord / o.Arm
	sharp := o.Chord / (2 * fillet)
	o.Notch = (1.2 + 0.13*slim) * math.Pow(sharp, 1/(1.21+2.3/slim))
	if !(sharp >= 1 && sharp <= 8) && o.Fillet != shaperFillet {
		o.Beyond = append(o.Beyond, notchOut)
	}
}

// shaperFillet is the radius that a pinion cutter leaves in a ring's roots, in modules.
// Its notch is 1 % past the range of Y_S; the printed factor of rings has it so.
const shaperFillet = 0.15

// ringRoot is the root of a ring's tooth as that of a rack's tooth of the ring's height,
// with the load that far above the rack's datum line; see GearPair.RootForms.
func (r *Rack) ringRoot(f *input.Faults, shift, height float64) (o RootForm) {
	sin, cos := math.Sincos(r.PressureAngle)
	tan := sin / cos
	o.Fillet = math.Min(r.Fillet, shaperFillet)
	corner := math.Pi/4 - r.Dedendum*tan - (1-sin)*o.Fillet/cos
	o.Chord = math.Pi - 2*corner - math.Sqrt(3)*o.Fillet
	o.Angle = r.PressureAngle
	o.Arm = height + r.Dedendum - o.Fillet/2 - (math.Pi/4-height*tan)*tan
	o.finish(f, shift, 1)
	return o
}

// RootForms returns the roots of pinion and wheel with the load at the outer point of
// single contact, which depends on the mate. For helical teeth they are those of the virtual spur
// wheels in the normal section.
//
// A ring's tooth is taken as a rack's of the same height, with a fillet of at most 0.15
// modules as a pinion cutter leaves it (ISO 6336-3:1996 and DIN 3990-3:1987, from memory):
// thinner at the root than the ring's, which errs on the safe side.
func (g GearPair) RootForms() ([2]RootForm, error) {
	return g.forms(false)
}

// TipForms returns the roots of pinion and wheel with the load at the tip, as method C
// of ISO 6336-3 and VDI 2736-2 have it; these go with Y_ε, those of RootForms do not.
func (g GearPair) TipForms() ([2]RootForm, error) {
	return g.forms(true)
}

func (g *GearPair) forms(tip bool) (forms [2]RootForm, err error) {
	var f input.Faults
	g.check(&f)
	if f.None() {
		if e := g.engage(&f); f.None() {
			forms = g.roots(&f, &e, tip)
		}
	}
	if err := f.Err(); err != nil {
		return [2]RootForm{}, err
	}
	return forms, nil
}

func (g *GearPair) roots(f *input.Faults, e *engagement, atTip bool) (forms [2]RootForm) {
	virtual := 1 / (e.cosBaseHelix * e.cosBaseHelix)
	cos := math.Cos(g.Rack.PressureAngle)
	// From the tip down to where the neighbour lets go; over 2 the tooth is never alone.
	down, end := math.Pi*cos*(math.Min(e.ratio*virtual, 2)-1), e.used
	if atTip {
		down, end = 0, e.tip
	}
	shift := [2]float64{g.Pinion.Shift, g.Wheel.Shift}
	for i := range forms {
		radius := e.radius[i] * virtual
		base := radius * cos
		tip := radius + end[i] - e.radius[i]
		if i == 1 && g.Ring {
			load := math.Hypot(base, curvature(tip, base)+down)
			forms[i] = g.Rack.ringRoot(f, shift[i], radius+shift[i]-load)
			continue
		}
		forms[i] = g.Rack.root(f, 2*radius, shift[i], math.Hypot(base, math.Max(0, curvature(tip, base)-down)))
	}
	return forms
}
