package drive

import (
	"fmt"
	"math"
)

// measure finds what a workshop measures on either gear.
func (m *Meshing) measure(g *GearPair) {
	m.Pinion.measure(g, m, g.Pinion)
	if !g.Ring {
		m.Wheel.measure(g, m, g.Wheel)
	}
}

// measure: base tangent length after ISO 21771:2007 and chord at the reference circle of the
// equivalent spur gear of z/cos³β teeth (both from memory).
func (t *Toothing) measure(g *GearPair, m *Meshing, w Wheel) {
	z, x := float64(w.Teeth), w.Shift
	sin, cos := math.Sincos(g.Rack.PressureAngle)
	helix := math.Cos(m.BaseHelix)

	// Jaws that touch at the height of the reference circle plus shift.
	aim := 2 * t.curvature(t.Reference+g.Module*x) / helix
	one := math.Pi * g.Module * cos
	rest := g.Module * (cos*z*involute(m.PressureAngle) + 2*x*sin)
	k := math.Max(1, math.Round((aim-rest)/one+0.5))
	span := one*(k-0.5) + rest
	touch := t.radius(span * helix / 2)
	if span > 0 && touch >= t.Begin && touch <= t.Tip && span*math.Sin(m.BaseHelix) <= g.Face {
		t.Span, t.SpanTeeth = span, int(k)
	}

	beta := math.Cos(g.Helix)
	virtual := z / (beta * beta * beta)
	half := (math.Pi/2 + 2*x*sin/cos) / virtual
	t.Chord = g.Module * virtual * math.Sin(half)
	t.ChordHeight = t.Tip - t.Reference + g.Module*virtual/2*(1-math.Cos(half))
}

// tell puts into words what runs badly.
func (m *Meshing) tell(g *GearPair) {
	say := func(format string, value ...any) { m.Beyond = append(m.Beyond, fmt.Sprintf(format, value...)) }
	if m.Pinion.Undercut {
		say("pinion undercut: a shift of %.3g modules or more avoids it", m.Pinion.LeastShift)
	}
	if m.Wheel.Undercut {
		say("wheel undercut: a shift of %.3g modules or more avoids it", m.Wheel.LeastShift)
	}
	if m.Backlash < -1e-9*g.Module {
		say("teeth jam unless both together are thinned by %.3g µm along the working circles", -m.Backlash*1e6)
	}
	if m.Clearance < leastClearance*g.Module*(1-1e-9) {
		say("clearance of tip and root of %.3g modules, %.3g and more is usual", m.Clearance/g.Module, leastClearance)
	}
	if s := m.Pinion.TipThickness; s < leastTip*g.Module {
		say("pinion's tip %.3g modules thick, %.3g and more is usual", s/g.Module, leastTip)
	}
	if s := m.Wheel.TipThickness; s < leastTip*g.Module {
		say("wheel's tip %.3g modules thick, %.3g and more is usual", s/g.Module, leastTip)
	}
	if m.Contact < leastContact {
		say("contact ratio of %.3g, %.3g and more is usual", m.Contact, leastContact)
	}
	if m.Approach < 0 || m.Recess < 0 {
		say("pitch point outside the path of contact: flanks slide one way only")
	}
}
