package drive

import (
	"math"

	"meltflight/internal/root"
)

// straight returns how deep the rack's straight flank reaches below its reference line, in
// modules; deeper its tip is rounded.
func (r *Rack) straight() float64 { return r.Dedendum - r.Fillet*(1-math.Sin(r.PressureAngle)) }

// rackTip is the rounded tip of the rack in mesh with the gear it cuts, in the transverse
// plane. A point of it is named by the normal's angle psi in the normal plane: the
// pressure angle where the straight flank ends, π/2 at the very tip.
type rackTip struct {
	depth, side float64 // of the centre of rounding below the rolling line and from the middle of the rack's tooth [m]
	fillet      float64 // [m]
	cosHelix    float64
	radius      float64 // of the circle that rolls [m]
	base        float64 // [m]
	space       float64 // half the angle of the tooth space at the base circle [rad]
}

func (g *GearPair) rackTip(w Wheel, m *Meshing, t *Toothing) rackTip {
	r, tan := &g.Rack, math.Tan(g.Rack.PressureAngle)
	sin, cos := math.Sincos(r.PressureAngle)
	half := math.Pi/4 - r.Dedendum*tan - r.Fillet*(1-sin)/cos // width of the flat at the tip
	return rackTip{
		depth: g.Module * (r.Dedendum - r.Fillet - w.Shift), side: g.Module * half,
		fillet: g.Module * r.Fillet, cosHelix: math.Cos(g.Helix), radius: t.Reference, base: t.Base,
		space: (math.Pi/2-2*w.Shift*tan)/float64(w.Teeth) - involute(m.PressureAngle),
	}
}

// cuts returns where on the gear a point of the tip cuts: its curvature radius on the
// involute through it, squared and negative inside the base circle [m²], and
// its angle past the involute flank, positive if it takes away from the tooth [rad].
func (c *rackTip) cuts(psi float64) (rho2, past float64) {
	sin, cos := math.Sincos(psi)
	depth := c.depth + c.fillet*sin
	side := (c.side + c.fillet*cos) / c.cosHelix
	// It cuts when its normal passes through the point that rolls.
	ahead := depth * c.cosHelix * cos / sin
	rho2 = (c.radius-depth)*(c.radius-depth) + ahead*ahead - c.base*c.base
	angle := math.Atan2(ahead, c.radius-depth) + (side-ahead)/c.radius
	rho := math.Sqrt(math.Max(0, rho2)) / c.base
	return rho2, angle - c.space - (rho - math.Atan(rho))
}

// begin returns the curvature radius at which a gear's involute begins [m] and whether the
// rack's tip undercuts it. Without undercut it begins where the end of the straight
// flank cuts. With it, it begins where the path of the rounded tip crosses it.
func (g *GearPair) begin(w Wheel, m *Meshing, t *Toothing) (rho float64, undercut bool) {
	sin, cos := math.Sincos(m.PressureAngle)
	rho = t.Base*sin/cos - g.Module*(g.Rack.straight()-w.Shift)/sin
	if rho >= 0 {
		return rho, false
	}
	tip := g.rackTip(w, m, t)
	onBase, err := root.Find(func(psi float64) float64 { r2, _ := tip.cuts(psi); return r2 }, g.Rack.PressureAngle, math.Pi/2, 0)
	if err != nil {
		return 0, true
	}
	crossing, err := root.Find(func(psi float64) float64 { _, past := tip.cuts(psi); return past }, g.Rack.PressureAngle, onBase, 0)
	if err != nil {
		return 0, true // by less than rounding tells
	}
	r2, _ := tip.cuts(crossing)
	return math.Sqrt(math.Max(0, r2)), true
}
