package drive

import (
	"math"

	"meltflight/internal/input"
)

// ThrustLoad returns the equivalent load of a thrust ball bearing of flat (90°) contact
// under an axial load, 0 to 1e9 [N], of which it needs a least one, 0 to 1e9 [N]: both
// P and P₀ are the axial load (ISO 281:2007 and ISO 76:2006, from memory).
//
// Such a bearing bears no radial load at all, which a bearing beside it has to take,
// and hardly any tilt of its washers: a spherical seat, or an abutment turned square
// with its bore, is what the load rests on (common practice, no source). Under less than
// the least load, as [LeastThrust] tells it, the balls slide in their grooves.
func ThrustLoad(axial, least float64) (EquivalentLoad, error) {
	var f input.Faults
	f.Between("drive.ThrustLoad: axial load", axial, 0, mostLoad, "N")
	f.Between("drive.ThrustLoad: least load", least, 0, mostLoad, "N")
	if err := f.Err(); err != nil {
		return EquivalentLoad{}, err
	}
	l := EquivalentLoad{Dynamic: axial, Static: axial, Axial: 1}
	if axial < least {
		l.Beyond = append(l.Beyond, "axial load below the least load: the balls slide instead of rolling")
	}
	return l, nil
}

// LeastThrust returns the least axial load [N] of a thrust ball bearing at a speed, 0 to
// 1e4 [rev/s], with the minimum load factor of its catalogue, 0 to 1e6 [N]: factor ×
// (speed ÷ 1000 rpm)². Centrifugal and gyroscopic forces on the balls grow so (common
// practice, no source). A factor printed for kN is to be multiplied by 1000.
func LeastThrust(factor, speed float64) (float64, error) {
	var f input.Faults
	f.Between("drive.LeastThrust: factor", factor, 0, 1e6, "N")
	f.Between("drive.LeastThrust: speed", speed, 0, highestSpeed, "rev/s")
	if err := f.Err(); err != nil {
		return 0, err
	}
	thousands := speed * 60 / 1000
	return factor * thousands * thousands, nil
}

// AngularThrustLoad returns the equivalent load of a single-direction thrust bearing of a
// contact angle of 45 to 85° (0.785 to 1.484) [rad], of balls or, by exponent Roller, of
// rollers, under a radial and an axial load, each 0 to 1e9 [N]; a spherical roller thrust
// bearing is one of tan α = 1.2 (common practice, no source):
//
//	P = X·Fr + Fa,  P₀ = 2.3·Fr·tan α + Fa
//
// with X = 1.25·tan α·(1 − ⅔·sin α) of balls, tan α of rollers (ISO 281:2007 and ISO
// 76:2006, from memory). P holds while Fa/Fr is above e, 1.25·tan α of balls and
// 1.5·tan α of rollers, and P₀ while Fr/Fa is at most 0.44·cot α; Beyond tells. The
// exponent is [Ball] or [Roller].
func AngularThrustLoad(radial, axial, angle, exponent float64) (EquivalentLoad, error) {
	var f input.Faults
	checkLoads(&f, "drive.AngularThrustLoad: ", radial, axial)
	f.Between("drive.AngularThrustLoad: angle", angle, 0.785, 1.484, "rad")
	if exponent != Ball && exponent != Roller {
		f.Refuse("drive.AngularThrustLoad: exponent", exponent, "", "Ball (3) or Roller (10/3)")
	}
	if err := f.Err(); err != nil {
		return EquivalentLoad{}, err
	}
	sin, cos := math.Sincos(angle)
	tan := sin / cos
	x, e := 1.25*tan*(1-sin/1.5), 1.25*tan
	if exponent == Roller {
		x, e = tan, 1.5*tan
	}
	l := EquivalentLoad{Dynamic: x*radial + axial, Static: 2.3*tan*radial + axial, Radial: x, Axial: 1}
	if radial > 0 && axial <= e*radial {
		l.Beyond = append(l.Beyond, "radial load too large for a thrust bearing of one direction: a part of the row runs unloaded")
	}
	if radial*tan > 0.44*axial {
		l.Beyond = append(l.Beyond, "radial load above 0.44·cot α of the axial, where the static load is less sure")
	}
	return l, nil
}
