package screw

import (
	"math"

	"meltflight/material"
)

// fluid evaluates the integrals over a gap for one melt: in closed form for a
// power law, and so for a Newtonian melt, by quadrature over the stress for others.
type fluid struct {
	melt         Melt
	rate, stress float64 // units of the gap
	power        bool
	s            float64 // (1/n − 1)/2 of a power law
	moments      powerMoments
	curve        *flowCurve // of a law that is none, or nil
	slower       float64    // ln a of the melt less that of the curve
	near         int        // row of the curve last used
	rough        bool       // integrals to some 1e-8 will do
}

func (f *fluid) prepare(rate, stress, n float64) {
	f.rate, f.stress = rate, stress
	switch f.melt.Viscosity.(type) {
	case material.Newtonian, material.PowerLaw:
		if s := (1/n - 1) / 2; !f.power || s != f.s {
			f.power, f.s = true, s
			f.moments.set(s)
		}
	}
	if f.curve != nil {
		f.slower = logShift(f.melt) - f.curve.shift
	}
}

// rateAt returns the shear rate [1/s] and the local index at a stress [Pa], sought
// from a rate near it.
func (f *fluid) rateAt(stress, near float64) (rate, index float64) {
	if stress <= 0 {
		return 0, 1
	}
	wanted := math.Log(stress)
	if f.curve != nil {
		if lnRate, slope, ok := f.curve.at(wanted, &f.near); ok {
			return math.Exp(lnRate - f.slower), 1 / slope
		}
	}
	// Newton's method on logarithms, held between rates known too low and too high: the
	// index of a blend falls and rises again, and bare steps would circle about its knee.
	at := math.Log(near)
	low, high := math.Inf(-1), math.Inf(1)
	for range 200 {
		eta, n := f.melt.local(math.Exp(at))
		index = n
		thick := math.Log(eta)
		miss := thick + at - wanted
		next := at - miss/n
		if math.Abs(miss) < 1e-15*(1+math.Abs(thick)+math.Abs(at)) { // rounding is all that is left
			return math.Exp(next), n
		}
		if miss > 0 {
			high = at
		} else {
			low = at
		}
		if at = next; !(at > low && at < high) {
			at = (low + high) / 2
		}
	}
	return math.Exp(at), index
}

func (f *fluid) evaluate(s *gapState) {
	s.integrals = integrals{}
	if s.bend.h > 0 {
		f.bentPanels(s)
		return
	}
	// Seen from mid-gap: where the stress hardly varies all is smooth.
	m0, m1 := s.a[0]+s.g[0]/2, s.a[1]+s.g[1]/2
	g2 := s.g[0]*s.g[0] + s.g[1]*s.g[1]
	m2 := m0*m0 + m1*m1
	switch whole := f.power || f.rough; {
	case whole && m2 > 16*g2: // its nearest to zero lies eight half-depths off
		f.panel(s, 0, 1, f.rule(true))
	case whole && m2 > g2:
		f.panel(s, 0, 1, f.rule(false))
	case f.power:
		f.closed(s)
	default:
		f.panels(s)
	}
}

// panel adds the integrals from y = lo to hi by one of Gauss's rules.
func (f *fluid) panel(s *gapState, lo, hi float64, rule []node) { f.panelOf(s, lo, hi, rule, mostCuts) }

// panelOf cuts a panel in two where a law bends too sharply for the rule: where the last
// two of the Legendre polynomials that its nodes tell apart are still seen in the
// rates. Its error is as their square.
func (f *fluid) panelOf(s *gapState, lo, hi float64, rule []node, cuts int) {
	half, mid := (hi-lo)/2, (hi+lo)/2
	near := f.rate
	before := s.integrals
	var most, last, lastButOne float64
	for _, k := range rule {
		y, weight := mid+half*k.at, half*k.weight
		t0, t1 := s.a[0]+s.g[0]*y, s.a[1]+s.g[1]*y
		square := t0*t0 + t1*t1
		if square == 0 {
			continue
		}
		fluidity, excess := f.soft(square, &near)
		rate := fluidity * math.Sqrt(square)
		most = math.Max(most, rate)
		last += rate * k.last
		lastButOne += rate * k.lastButOne
		fluidity *= weight
		excess *= weight
		s.size += weight * rate
		s.speed[0] += fluidity * t0
		s.speed[1] += fluidity * t1
		s.lever[0] += fluidity * t0 * y
		s.lever[1] += fluidity * t1 * y
		k00, k01, k11 := fluidity+excess*t0*t0, excess*t0*t1, fluidity+excess*t1*t1
		for m := range s.stiff {
			s.stiff[m][0][0] += k00
			s.stiff[m][0][1] += k01
			s.stiff[m][1][0] += k01
			s.stiff[m][1][1] += k11
			k00, k01, k11 = k00*y, k01*y, k11*y
		}
	}
	if cuts > 0 && f.bends(last, lastButOne, hi-lo, most*s.size) {
		s.integrals = before
		f.panelOf(s, lo, mid, rule, cuts-1)
		f.panelOf(s, mid, hi, rule, cuts-1)
	}
}

const mostCuts = 8

// bends reports whether a panel's last two polynomials are too much of the whole.
func (f *fluid) bends(last, lastButOne, length, whole float64) bool {
	seen := math.Abs(last) + math.Abs(lastButOne)
	return !f.power && !f.rough && seen*seen*length > 1e-12*whole
}

// soft returns γ̇/τ, and (1/n − 1)·γ̇/τ³, at the square of a stress, in units of the gap;
// near is a rate to seek from.
func (f *fluid) soft(square float64, near *float64) (fluidity, excess float64) {
	if f.power {
		fluidity = math.Exp(f.s * math.Log(square)) // half of what math.Pow takes
		return fluidity, 2 * f.s * fluidity / square
	}
	root := math.Sqrt(square)
	rate, n := f.rateAt(root*f.stress, *near)
	*near = rate
	fluidity = rate / (f.rate * root)
	return fluidity, (1/n - 1) * fluidity / square
}

// rule returns the points for a panel over which the stress varies little, or up to
// fourfold.
func (f *fluid) rule(little bool) []node {
	switch {
	case f.rough && little:
		return four[:]
	case f.rough:
		return eight[:]
	case little:
		return six[:]
	}
	return twelve[:]
}

// growth is how many times the stress grows over a panel: a law that is smooth in its
// logarithm is so integrated to rounding, or to some 1e-8.
func (f *fluid) growth() float64 {
	if f.rough {
		return 4
	}
	return 2
}

// panels cuts the gap where the stress is least, and each side into lengths that grow
// away from there.
func (f *fluid) panels(s *gapState) {
	g2 := s.g[0]*s.g[0] + s.g[1]*s.g[1]
	if m0, m1 := s.a[0]+s.g[0]/2, s.a[1]+s.g[1]/2; g2 <= 1e-6*(m0*m0+m1*m1) { // the stress hardly varies
		f.panel(s, 0, 1, f.rule(false))
		return
	}
	y0 := -(s.a[0]*s.g[0] + s.a[1]*s.g[1]) / g2
	d := math.Abs(s.a[0]*s.g[1]-s.a[1]*s.g[0]) / g2
	for _, side := range [...]float64{-1, 1} {
		// From far, outer, to near, inner, as distances from y0 on this side.
		var outer, inner float64
		if side > 0 {
			outer, inner = 1-y0, math.Max(0, -y0)
		} else {
			outer, inner = y0, math.Max(0, y0-1)
		}
		for outer > inner {
			next := math.Max(inner, outer/f.growth())
			// What is below the least stress's own scale, Newtonian, or too little to
			// count, needs no further cutting.
			if outer <= f.growth()/2*d || f.flat(outer*math.Sqrt(g2)) || outer < 1e-14 {
				next = inner
			}
			lo, hi := y0+side*next, y0+side*outer
			f.panel(s, math.Min(lo, hi), math.Max(lo, hi), f.rule(false))
			outer = next
		}
	}
}

// flat reports whether the melt is Newtonian to rounding up to a stress, in units of the gap.
func (f *fluid) flat(stress float64) bool {
	_, n := f.rateAt(stress*f.stress, f.rate*stress)
	return math.Abs(1-n) < 1e-12
}
