package screw

import "math"

// DragCurvature returns the drag flow of a screw channel over that of the same
// channel unrolled flat at the barrel, for a depth ÷ bore from 0 to below 0.5 and a
// helix angle at the barrel, 0 to below π/2 [rad]: above 0 [-]. Anything else gives NaN.
// By reciprocity it is also what the pressure's part of the torque takes.
//
// A wide channel between thin sealing flights of constant lead and axial width, on a
// still screw in a turning barrel; exact for a Newtonian melt, and for a shallow
// channel 1 + (1/3 − 2 sin²θ)·depth/bore. The flow in a helical annulus after
// M. L. Booy, SPE Trans. 3 (1963) 176, and Z. Tadmor and I. Klein, Engineering
// Principles of Plasticating Extrusion (1970), both from memory and without their
// tables: derived anew.
func DragCurvature(depthToBore, helixAngle float64) float64 {
	drag, _, _ := curvature(depthToBore, rise(helixAngle))
	return drag
}

// PressureCurvature returns the pressure flow of a screw channel over that of the
// same channel unrolled flat at the barrel, under the same pressure per length of the
// screw: above 0 [-]; for a shallow channel 1 + (1 − 2 sin²θ)·depth/bore. Range and
// source as for [DragCurvature].
func PressureCurvature(depthToBore, helixAngle float64) float64 {
	_, pressure, _ := curvature(depthToBore, rise(helixAngle))
	return pressure
}

// PowerCurvature returns the power that the barrel puts in against no pressure over
// that of the same channel unrolled flat at the barrel, μV²(cos²θ + 4 sin²θ)/depth
// for each square metre: above 0, up to 1 [-]; for a shallow channel
// 1 − (3 − 5s² + 6s⁴)/(1 + 3s²)·depth/bore, s = sin θ. Range and source as for
// [DragCurvature].
func PowerCurvature(depthToBore, helixAngle float64) float64 {
	_, _, power := curvature(depthToBore, rise(helixAngle))
	return power
}

// rise returns the tangent of a helix angle, or NaN.
func rise(angle float64) float64 {
	if !(angle >= 0 && angle < math.Pi/2) {
		return math.NaN()
	}
	return math.Tan(angle)
}

// curvature works in units of the bore's radius R, of Ω and of μΩ. Pressure rises at
// p_φ a radian round and at p_z along the axis, so
//
//	τ_rφ = p_φ/2 + c/r²,  τ_rz = p_z·r/2 + d/r,
//
// and with the angular speed ω and u along the axis that these give between root κ
// and bore 1 (ω: 0 and 1, u: 0 and 0)
//
//	∫ω·r dr = A − p_φ·B/2,  ∫u·r dr = −p_z·C/4,  τ_rφ(1) = 2κ²/(1−κ²) + p_φ·A.
//
// A flight of lead 2πt, t = tan θ, lets nothing through where ∫(u − tω)·r dr = 0, and
// along it pressure rises at G = p_z + p_φ/t for each length of axis. Then for each
// axial width
//
//	flow = (A − tGB/2)·C/(C + 2t²B),  p_φ = (4t²A + tGC)/(C + 2t²B).
//
// With x = −ln κ nothing is left that cancels in a shallow channel:
//
//	A = x/2·(1 − xE/S),  B = κx³D/2S,  C = κ²x³SE,
//	S = sinh x/x,  D = (sinh²x − x²)/x⁴,  E = (x·cosh x − sinh x)/x³.
func curvature(depthToBore, tan float64) (drag, pressure, power float64) {
	if !(depthToBore >= 0 && depthToBore < 0.5 && tan >= 0) {
		return math.NaN(), math.NaN(), math.NaN()
	}
	h := 2 * depthToBore
	kappa := 1 - h
	x := -math.Log1p(-h)
	stretch := 1.0 // x/h
	if h > 0 {
		stretch = x / h
	}
	x2 := x * x
	t := sinhRest(x)
	s := 1 + x2*t
	d := t * (2 + x2*t)
	e := s*s/(1+math.Sqrt(1+x2*s*s)) - t // (cosh x − 1)/x² less the rest of sinh
	a := 1 - x*e/s
	cos2 := 1 / (1 + tan*tan)
	sin2 := 1 - cos2
	round := kappa * s * s * e
	whole := cos2*round + sin2*d
	drag = stretch * a * round / whole
	pressure = 3 * stretch * stretch * stretch * kappa * d / s * round / whole
	power = (2*kappa*kappa/(1+kappa) + sin2*a*a*s/(kappa*stretch*whole)) / (cos2 + 4*sin2)
	return drag, pressure, power
}

// thinCurvature returns what a melt of local power-law index n changes in that: by what
// flow and the pressure's part of the power grow once more, and what is to be added to
// the power factor; 1 and 0 for n = 1 [-].
//
// Off n = 1 no factors on the flat channel's answer are exact. These are read from the
// helical flow of power laws solved whole; for a small helix angle theory gives ⅔ in
// place of ½, and the power's term as it stands. Where q and P are the flow and power of
// the flat channel and g is any gradient up to that of closed discharge,
//
//	flow = more·(q(pressure·g) − (1 − drag)·V_z·depth/2),
//	power = (power + add)·P(0) + drag·more·(P(g) − P(0))
//
// are off by no more than, in shares of q(0) and P(0), at helix angles from 10° to 30°,
//
//	depth/bore          0.05          0.1          0.18          0.25
//	n = 0.5       1.3 %, 1.1 %  2.8 %, 1.7 %  5.7 %, 2.7 %  9.8 %, 5.8 %
//	n = 0.3       2.7 %, 1.2 %  5.8 %, 1.7 %  11 %, 4.1 %   17 %, 8.9 %
//
// where the flat channel is off by 8 %, 22 % at n = 0.5 and 14 %, 20 % at n = 0.3, and
// the factors of n = 1 alone by 6.5 %, 11 % and 14 %, 15 %, at a depth of 0.1.
func thinCurvature(depthToBore, tan, index float64) (more, add float64) {
	cos2 := 1 / (1 + tan*tan)
	along := cos2 / (4 - 3*cos2) // share of the flat channel's power that is put in along it
	return 1 + (1/index-1)*depthToBore/2, (1 - index) * depthToBore * along * along
}

// sinhRest returns (sinh x − x)/x³.
func sinhRest(x float64) float64 {
	if x > 1 {
		return (math.Sinh(x) - x) / (x * x * x)
	}
	x2 := x * x
	return 1. / 6 * (1 + x2/20*(1+x2/42*(1+x2/72*(1+x2/110*(1+x2/156*(1+x2/210*(1+x2/272)))))))
}
