package drive

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// Rack is the basic rack that generates a gear's teeth; lengths in modules.
type Rack struct {
	PressureAngle float64 // 0.17 to 0.6 (10 to 34°) [rad]
	Addendum      float64 // of the tooth it cuts, 0.5 to 1.5 [-]
	Dedendum      float64 // of the tooth it cuts, Addendum to 2 [-]
	Fillet        float64 // radius of its tip, which cuts the tooth's root, 0 up to what its tip has room for [-]
}

// RackA returns profile A of ISO 53:1998 (from memory): 20°, 1, 1.25, 0.38.
func RackA() Rack {
	return Rack{PressureAngle: 20 * math.Pi / 180, Addendum: 1, Dedendum: 1.25, Fillet: 0.38}
}

// Wheel is one gear of a pair.
type Wheel struct {
	Teeth int     // 5 to 10000 [-]
	Shift float64 // of its profile, in modules, outward: -2 to 2 [-]
}

// GearPair is two gears in mesh, of spur or helical teeth; the wheel may be a ring with
// its teeth inside.
type GearPair struct {
	Rack     Rack
	Module   float64 // normal, 5e-5 to 0.1 [m]
	Helix    float64 // angle at the reference circle, 0 to 0.8 [rad]
	Face     float64 // width that both share, 1e-4 to 1 [m]
	Pinion   Wheel
	Wheel    Wheel   // of a ring, Shift is counted as of the pinion that would fill its spaces
	Ring     bool    // the wheel's teeth are inside
	Distance float64 // of the axes, or 0 for that at which there is no backlash [m]

	// ShortenTips takes off both tips what shift brings them nearer to the roots than the
	// rack's clearance. Gear handbooks do so in their tables; ISO 21771 leaves it open.
	ShortenTips bool
}

// Validate reports every field out of range and every pair that does not fit.
func (g GearPair) Validate() error {
	var f input.Faults
	g.check(&f)
	return f.Err()
}

func (r *Rack) check(f *input.Faults) {
	f.Between("drive.Rack.PressureAngle", r.PressureAngle, 0.17, 0.6, "rad")
	f.Between("drive.Rack.Addendum", r.Addendum, 0.5, 1.5, "")
	f.Between("drive.Rack.Dedendum", r.Dedendum, math.Max(0.5, math.Min(1.5, r.Addendum)), 2, "")
	if !f.None() {
		return
	}
	// The two fillets of a rack's tip may meet, not cross.
	sin, cos := math.Sincos(r.PressureAngle)
	room := (math.Pi/4 - r.Dedendum*sin/cos) * cos / (1 - sin)
	if !(r.Fillet >= 0 && r.Fillet <= room+1e-12) {
		f.Refuse("drive.Rack.Fillet", r.Fillet, "", fmt.Sprintf("0 to %.6g, for which its tip has room", room))
	}
}

func (g *GearPair) check(f *input.Faults) {
	g.Rack.check(f)
	f.Between("drive.GearPair.Module", g.Module, 5e-5, 0.1, "m")
	f.Between("drive.GearPair.Helix", g.Helix, 0, 0.8, "rad")
	f.Between("drive.GearPair.Face", g.Face, 1e-4, 1, "m")
	f.Count("drive.GearPair.Pinion.Teeth", g.Pinion.Teeth, 5, 10000)
	f.Count("drive.GearPair.Wheel.Teeth", g.Wheel.Teeth, 5, 10000)
	f.Between("drive.GearPair.Pinion.Shift", g.Pinion.Shift, -2, 2, "")
	f.Between("drive.GearPair.Wheel.Shift", g.Wheel.Shift, -2, 2, "")
	if g.Distance != 0 {
		f.Between("drive.GearPair.Distance", g.Distance, 1e-5, 1e3, "m")
	}
	if f.None() && g.Ring && g.Wheel.Teeth <= g.Pinion.Teeth {
		f.Refuse("drive.GearPair.Wheel.Teeth", float64(g.Wheel.Teeth), "", fmt.Sprintf("more than the pinion's %d, as the ring is around it", g.Pinion.Teeth))
	}
}
