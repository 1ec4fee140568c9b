package drive

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// Allowance is a range that a workshop keeps.
type Allowance struct {
	Least, Most float64 // [m]
}

// Backlash is the play of a pair.
type Backlash struct {
	Circumferential float64 // along the working circles; negative where the teeth jam [m]
	Normal          float64 // between the flanks, as a feeler feels it [m]
	PinionAngle     float64 // of the pinion's whole lost motion while the wheel stands [rad]
	WheelAngle      float64 // of the wheel's whole lost motion while the pinion stands [rad]
}

// Backlash returns the least and the most play of a pair whose teeth are made thinner than
// nominal by pinion and wheel, -0.5 to 0.5 modules, in the normal plane along the reference circle, and
// whose axes are off Mesh's Distance by distance, -1 to 1 module:
//
//	j = ±2a·(inv α_wt − inv α_t − 2·Σx·tan α_n/Σz) + (thinning/cos β)·cos α_t/cos α_wt
//
// with the lower sign and differences for a ring, which has the less play the farther the axes are
// apart. ISO 21771:2007 (from memory). Heat, bearings and runout are not in it: put
// them into the ranges.
func (g GearPair) Backlash(pinion, wheel, distance Allowance) (least, most Backlash, err error) {
	m, err := g.Mesh()
	if err != nil {
		return Backlash{}, Backlash{}, err
	}
	var f input.Faults
	pinion.check(&f, "drive.GearPair.Backlash: least pinion", "drive.GearPair.Backlash: most pinion", g.Module/2)
	wheel.check(&f, "drive.GearPair.Backlash: least wheel", "drive.GearPair.Backlash: most wheel", g.Module/2)
	distance.check(&f, "drive.GearPair.Backlash: least distance", "drive.GearPair.Backlash: most distance", g.Module)
	if err := f.Err(); err != nil {
		return Backlash{}, Backlash{}, err
	}
	near, far := distance.Least, distance.Most
	if g.Ring {
		near, far = far, near
	}
	touch := m.Distance * math.Cos(m.WorkingAngle)
	if nearest := m.Distance + distance.Least; nearest <= touch {
		f.Refuse("drive.GearPair.Backlash: least distance", distance.Least, "m", fmt.Sprintf("more than %.6g m, where the base circles touch", touch-m.Distance))
		return Backlash{}, Backlash{}, f.Err()
	}
	return m.backlash(&g, m.Distance+near, pinion.Least+wheel.Least), m.backlash(&g, m.Distance+far, pinion.Most+wheel.Most), nil
}

func (a Allowance) check(f *input.Faults, least, most string, bound float64) {
	f.Between(least, a.Least, -bound, bound, "m")
	f.Between(most, a.Most, math.Max(-bound, math.Min(bound, a.Least)), bound, "m")
}

func (m *Meshing) backlash(g *GearPair, distance, thinning float64) Backlash {
	angle := math.Acos(m.Distance * math.Cos(m.WorkingAngle) / distance)
	cos := math.Cos(angle)
	j := m.play(g, distance, angle) + thinning/math.Cos(g.Helix)*math.Cos(m.PressureAngle)/cos
	return Backlash{
		Circumferential: j,
		Normal:          j * cos * math.Cos(m.BaseHelix),
		PinionAngle:     j * g.teeth() / (distance * float64(g.Pinion.Teeth)),
		WheelAngle:      j * g.teeth() / (distance * float64(g.Wheel.Teeth)),
	}
}

// ShiftFor returns the sum of both shifts, of a ring the wheel's less the pinion's, at which the
// pair has no backlash at a distance of its axes [m]; the pair's own shifts and
// distance do not matter. ISO 21771:2007, eq. 62 (as cited by others): note that the
// helical pair's sum goes by the normal pressure angle.
func (g GearPair) ShiftFor(distance float64) (float64, error) {
	var f input.Faults
	g.check(&f)
	if err := f.Err(); err != nil {
		return 0, err
	}
	var m Meshing
	m.transverse(&g)
	touch := m.Module * g.teeth() / 2 * math.Cos(m.PressureAngle)
	if f.Between("drive.GearPair.ShiftFor: distance", distance, touch, 2*touch, "m"); !f.None() {
		return 0, f.Err()
	}
	return (involute(math.Acos(math.Min(1, touch/distance))) - involute(m.PressureAngle)) * g.teeth() / (2 * math.Tan(g.Rack.PressureAngle)), nil
}
