package screw

import "math"

// bend is a channel's curvature: as the screw's root is shorter than the bore, melt in
// it is sheared over a way that grows with the radius. With r from the axis, ρ = r/R in
// units of the bore's radius R, the stresses round and along the axis
//
//	τ_θ = a_θ·κ²/ρ² + g_θ·y·(ρ+κ)/2ρ²,  τ_z = a_z·κ/ρ + g_z·y·(ρ+κ)/2ρ,  ρ = κ + h·y,
//
// hold the balance of forces in a helical annulus of root radius κR for any melt
// (R. B. Bird, W. E. Stewart and E. N. Lightfoot, Transport Phenomena, 2nd ed. (2002),
// appendix B.5, from memory), a being stresses at the root, g gradients measured at the bore
// over the depth hR, and y running from root to bore. Between thin flights of constant
// lead and axial width this is the whole flow of a wide channel; see M. L. Booy, SPE
// Trans. 3 (1963) 176, for a Newtonian melt (from memory, derived anew).
//
// Flows are counted for each metre of bore, ∫u_θ dr round and ∫u_z·ρ dr along, so that
// what passes the flights is their sum along the flight's normal there.
type bend struct {
	h        float64 // depth over the bore's radius; 0 is a flat channel [-]
	sin, cos float64 // of the helix angle at the bore
}

// round and axial turn a vector from along and across the channel to the screw's own
// directions; across and along turn it back.
func (b *bend) round(across, along float64) float64 { return b.cos*along - b.sin*across }
func (b *bend) axial(across, along float64) float64 { return b.sin*along + b.cos*across }

// bent holds what curvature makes of the plane answers ½VH, gH³/12μ, μV/H and ½gH of a
// Newtonian melt; all are 1, and drag and lean ½, in a flat channel [-].
type bent struct {
	drag  float64 // flow round of the bore's motion, of V·H; the pressure's part of its torque too
	round float64 // flow round of the gradient round
	axial float64 // flow along the axis of the gradient along it
	shear float64 // stress of the bore's motion at the bore
	lean  float64 // stress along the axis of the gradient along it, of g·H
}

var flatBend = bent{0.5, 1, 1, 1, 0.5}

// bentBy returns the factors at a depth over the bore's radius, 0 to below 1. With
// x = −ln κ nothing cancels in a shallow channel:
//
//	drag = x/2h·(1 − xE/S),  round = 3(x/h)³κD/S,  axial = 3(x/h)³κ²SE,  shear = κh/xS,
//	S = sinh x/x,  D = (sinh²x − x²)/x⁴,  E = (x·cosh x − sinh x)/x³.
func bentBy(h float64) bent {
	if h == 0 {
		return flatBend
	}
	kappa := 1 - h
	x := -math.Log1p(-h)
	stretch := x / h
	x2 := x * x
	t := sinhRest(x)
	s := 1 + x2*t
	d := t * (2 + x2*t)
	e := s*s/(1+math.Sqrt(1+x2*s*s)) - t // (cosh x − 1)/x² less the rest of sinh
	cube := 3 * stretch * stretch * stretch * kappa
	return bent{
		drag:  stretch / 2 * (1 - x*e/s),
		round: cube * d / s,
		axial: cube * kappa * s * e,
		shear: kappa / (stretch * s),
		lean:  (1 - kappa*s) / (2 * h),
	}
}

// sinhRest returns (sinh x − x)/x³.
func sinhRest(x float64) float64 {
	if x > 1 {
		return (math.Sinh(x) - x) / (x * x * x)
	}
	x2 := x * x
	return 1. / 6 * (1 + x2/20*(1+x2/42*(1+x2/72*(1+x2/110*(1+x2/156*(1+x2/210*(1+x2/272)))))))
}

// bentPanels evaluates a bent gap, for any melt by quadrature.
func (f *fluid) bentPanels(s *gapState) {
	b := &s.bend
	kappa := 1 - b.h
	around := [2]float64{b.round(s.a[0], s.a[1]), b.round(s.g[0], s.g[1])}
	axial := [2]float64{b.axial(s.a[0], s.a[1]), b.axial(s.g[0], s.g[1])}
	if around == [2]float64{} && axial == [2]float64{} {
		return // nothing moves
	}
	p := bentPanel{f: f, kappa: kappa, around: around, axial: axial}
	// Where the stress is least, on the line from its value at the root to that at the
	// bore, then on the curve.
	t0, z0 := p.stress(kappa)
	t1, z1 := p.stress(1)
	dt, dz := t1-t0, z1-z0
	change := dt*dt + dz*dz
	mt, mz := (t0+t1)/2, (z0+z1)/2
	mean := mt*mt + mz*mz
	switch whole := f.power || f.rough; {
	case whole && mean > 16*change:
		p.add(0, 1, f.rule(true), mostCuts)
	case whole && mean > change, mean > 1e6*change:
		p.add(0, 1, f.rule(false), mostCuts)
	default:
		y := -(t0*dt + z0*dz) / change
		least := 0.0
		for range 4 {
			rho := kappa + b.h*math.Min(math.Max(y, -0.2), 1.2) // the curve ends somewhere
			tt, tz := p.stress(rho)
			st, sz := p.slope(rho)
			slope := st*st + sz*sz
			y = (rho-kappa)/b.h - (tt*st+tz*sz)/slope
			least = math.Abs(tt*sz-tz*st) / slope
		}
		p.cut(y, least)
	}
	p.sums.rotate(s)
}

// bentPanel adds up integrals in the screw's own directions.
type bentPanel struct {
	f             *fluid
	kappa         float64
	around, axial [2]float64 // a and g, round and along the axis
	sums          bentSums
}

type bentSums struct {
	a, g [2]float64    // rates by how stresses go with a and with g
	k    [3][4]float64 // and how these go with the stresses: a by a, a by g, g by g
	size float64
}

// stress at a radius ρ.
func (p *bentPanel) stress(rho float64) (around, axial float64) {
	r := p.kappa / rho
	lever := (rho*rho - p.kappa*p.kappa) / (2 * (1 - p.kappa) * rho)
	return p.around[0]*r*r + p.around[1]*lever/rho, p.axial[0]*r + p.axial[1]*lever
}

// slope of stress by y.
func (p *bentPanel) slope(rho float64) (around, axial float64) {
	r := p.kappa / rho
	h := 1 - p.kappa
	return -2*p.around[0]*r*r*h/rho + p.around[1]*r*r/rho, -p.axial[0]*r*h/rho + p.axial[1]*(1+r*r)/2
}

// cut parts the gap at the least stress as fluid.panels does.
func (p *bentPanel) cut(y0, d float64) {
	for _, side := range [...]float64{-1, 1} {
		outer, inner := 1-y0, math.Max(0, -y0)
		if side < 0 {
			outer, inner = y0, math.Max(0, y0-1)
		}
		for outer > inner {
			next := math.Max(inner, outer/p.f.growth())
			if outer <= p.f.growth()/2*d || outer < 1e-12 {
				next = inner
			}
			lo, hi := y0+side*next, y0+side*outer
			p.add(math.Min(lo, hi), math.Max(lo, hi), p.f.rule(false), mostCuts)
			outer = next
		}
	}
}

// add adds the integrals from y = lo to hi, cut in two as fluid.panelOf does.
func (p *bentPanel) add(lo, hi float64, rule []node, cuts int) {
	f, h, s := p.f, 1-p.kappa, &p.sums
	half, mid := (hi-lo)/2, (hi+lo)/2
	near := f.rate
	before := p.sums
	var most, last, lastButOne float64
	for _, k := range rule {
		y := mid + half*k.at
		rho := p.kappa + h*y
		per := 1 / rho
		az := p.kappa * per
		gz := y * (rho + p.kappa) * per / 2
		at, gt := az*az, gz*per
		t, z := p.around[0]*at+p.around[1]*gt, p.axial[0]*az+p.axial[1]*gz
		square := t*t + z*z
		if square == 0 {
			continue
		}
		fluidity, excess := f.soft(square, &near)
		rate := fluidity * math.Sqrt(square)
		most = math.Max(most, rate)
		last += rate * k.last
		lastButOne += rate * k.lastButOne
		weight := half * k.weight * rho
		fluidity *= weight
		excess *= weight
		s.size += weight * rate
		s.a[0] += fluidity * t * at
		s.a[1] += fluidity * z * az
		s.g[0] += fluidity * t * gt
		s.g[1] += fluidity * z * gz
		ktt, ktz, kzz := fluidity+excess*t*t, excess*t*z, fluidity+excess*z*z
		s.k[0][0] += ktt * at * at
		s.k[0][1] += ktz * at * az
		s.k[0][3] += kzz * az * az
		s.k[1][0] += ktt * at * gt
		s.k[1][1] += ktz * at * gz
		s.k[1][2] += ktz * az * gt
		s.k[1][3] += kzz * az * gz
		s.k[2][0] += ktt * gt * gt
		s.k[2][1] += ktz * gt * gz
		s.k[2][3] += kzz * gz * gz
	}
	if cuts > 0 && f.bends(last, lastButOne, hi-lo, most*s.size) {
		p.sums = before
		p.add(lo, mid, rule, cuts-1)
		p.add(mid, hi, rule, cuts-1)
	}
}

// rotate hands the sums over, across and along the channel.
func (p *bentSums) rotate(s *gapState) {
	sin, cos := s.bend.sin, s.bend.cos
	p.k[0][2], p.k[2][2] = p.k[0][1], p.k[2][1]
	s.size = p.size
	s.speed = [2]float64{cos*p.a[1] - sin*p.a[0], sin*p.a[1] + cos*p.a[0]}
	s.lever = [2]float64{cos*p.g[1] - sin*p.g[0], sin*p.g[1] + cos*p.g[0]}
	for m, k := range p.k {
		tt, tz, zt, zz := k[0], k[1], k[2], k[3]
		s.stiff[m] = [2][2]float64{
			{sin*sin*tt - sin*cos*(tz+zt) + cos*cos*zz, -sin*cos*tt - sin*sin*tz + cos*cos*zt + sin*cos*zz},
			{-sin*cos*tt + cos*cos*tz - sin*sin*zt + sin*cos*zz, cos*cos*tt + sin*cos*(tz+zt) + sin*sin*zz},
		}
	}
}
