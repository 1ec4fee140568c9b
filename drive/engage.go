package drive

import (
	"math"

	"meltflight/internal/input"
)

// engagement is what rating reads off a mesh: contact in the transverse plane, lengths in
// normal modules. A point of contact is known by the radius of curvature of the
// pinion's flank there, which grows evenly along the path.
type engagement struct {
	cosHelix, cosBaseHelix float64
	cosAngle               float64 // of the reference pressure angle
	sinWorking, cosWorking float64 // of the working pressure angle
	radius, base           [2]float64
	tip                    [2]float64
	used                   [2]float64 // where the flank in use ends: less than the tip where the mate cannot follow
	pitch                  float64    // of the base circles
	line                   float64    // between the points where the path touches both base circles
	touch                  float64    // of the pitch point
	start, end             float64    // of the path
	ratio, overlap         float64    // contact ratios ε_α, ε_β
	loss                   float64    // H_v
	cut                    bool       // a tip reaches for more flank than its mate has
}

// engage expects a pair that was checked. It is Mesh without what a workshop asks, and
// puts no words together.
func (g *GearPair) engage(f *input.Faults) (e engagement) {
	var m Meshing
	m.axes(g, f)
	if f.None() {
		m.circles(g, f)
	}
	if !f.None() {
		return e
	}
	r := m.contact(g, f)
	if f.None() && !(m.Contact >= 1) {
		f.Refuse("drive.GearPair: contact ratio", m.Contact, "", "1 or more, or a tooth lets go before the next takes hold")
	}
	if !f.None() {
		return e
	}
	one := g.Module
	e.cosHelix, e.cosBaseHelix, e.cosAngle = math.Cos(g.Helix), math.Cos(m.BaseHelix), math.Cos(m.PressureAngle)
	e.sinWorking, e.cosWorking = math.Sincos(m.WorkingAngle)
	e.radius = [2]float64{m.Pinion.Reference / one, m.Wheel.Reference / one}
	e.base = [2]float64{m.Pinion.Base / one, m.Wheel.Base / one}
	e.pitch, e.line = m.BasePitch/one, m.Distance*e.sinWorking/one
	e.touch = e.base[0] * e.sinWorking / e.cosWorking
	e.start, e.end = math.Max(0, e.touch-m.Approach/one), e.touch+m.Recess/one
	_, wheel := e.radii(e.start, g.Ring)
	e.tip = [2]float64{m.Pinion.Tip / one, m.Wheel.Tip / one}
	e.used = [2]float64{math.Hypot(e.base[0], e.end), math.Hypot(e.base[1], wheel)}
	e.ratio, e.overlap, e.loss = m.Contact, m.Overlap, m.lossFactor(g)
	e.cut = r != reach{}
	return e
}

// radii returns the radii of curvature of both flanks where the pinion's is x.
func (e *engagement) radii(x float64, ring bool) (pinion, wheel float64) {
	if ring {
		return x, x + e.line
	}
	return x, e.line - x
}
