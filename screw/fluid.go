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
}

func (f *fluid) prepare(rate, stress, n float64) {
	f.rate, f.stress = rate, stress
	switch f.melt.Viscosity.(type) {
	case material.Newtonian, material.PowerLaw:
		f.power = true
		f.s = (1/n - 1) / 2
		f.moments.set(f.s)
	}
}

// rateAt returns the shear rate [1/s] and the local index at a stress [Pa], sought
// from a rate near it.
func (f *fluid) rateAt(stress, near float64) (rate, index float64) {
	if stress <= 0 {
		return 0, 1
	}
	if f.curve != nil {
		if rate, index, ok := f.curve.at(stress); ok {
			return rate, index
		}
	}
	wanted, at := math.Log(stress), math.Log(near)
	for range 60 {
		eta, n := f.melt.local(math.Exp(at))
		miss := math.Log(eta) + at - wanted
		at -= miss / n
		if math.Abs(miss) < 1e-15*(1+math.Abs(wanted)) {
			return math.Exp(at), n
		}
		index = n
	}
	return math.Exp(at), index
}

func (f *fluid) evaluate(s *gapState) {
	s.speed, s.lever, s.stiff, s.size = [2]float64{}, [2]float64{}, [3][2][2]float64{}, 0
	// Seen from mid-gap: where the stress hardly varies all is smooth.
	m0, m1 := s.a[0]+s.g[0]/2, s.a[1]+s.g[1]/2
	g2 := s.g[0]*s.g[0] + s.g[1]*s.g[1]
	mild := m0*m0+m1*m1 > g2
	switch {
	case f.power && mild:
		f.panel(s, 0, 1)
	case f.power:
		f.closed(s)
	default:
		f.panels(s)
	}
}

// panel adds the integrals from y = lo to hi by Gauss's rule.
func (f *fluid) panel(s *gapState, lo, hi float64) {
	half, mid := (hi-lo)/2, (hi+lo)/2
	near := f.rate
	for k, node := range gaussNodes {
		y, weight := mid+half*node, half*gaussWeights[k]
		t0, t1 := s.a[0]+s.g[0]*y, s.a[1]+s.g[1]*y
		square := t0*t0 + t1*t1
		if square == 0 {
			continue
		}
		var fluidity, excess float64 // γ̇/τ, and (1/n − 1)·γ̇/τ³
		if f.power {
			fluidity = math.Pow(square, f.s)
			excess = 2 * f.s * fluidity / square
		} else {
			root := math.Sqrt(square)
			rate, n := f.rateAt(root*f.stress, near)
			near = rate
			fluidity = rate / (f.rate * root)
			excess = (1/n - 1) * fluidity / square
		}
		fluidity *= weight
		excess *= weight
		s.size += fluidity * math.Sqrt(square)
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
}

// panels cuts the gap where the stress is least, and each side into lengths that
// double away from there: over each the stress at most doubles, and a law that is
// smooth in the logarithm of stress is integrated to rounding.
func (f *fluid) panels(s *gapState) {
	g2 := s.g[0]*s.g[0] + s.g[1]*s.g[1]
	if m0, m1 := s.a[0]+s.g[0]/2, s.a[1]+s.g[1]/2; g2 <= 1e-6*(m0*m0+m1*m1) { // the stress hardly varies
		f.panel(s, 0, 1)
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
			next := math.Max(inner, outer/2)
			// What is below the least stress's own scale, Newtonian, or too little to
			// count, needs no further cutting.
			if outer <= d || f.flat(s, outer*math.Sqrt(g2)) || outer < 1e-14 {
				next = inner
			}
			lo, hi := y0+side*next, y0+side*outer
			f.panel(s, math.Min(lo, hi), math.Max(lo, hi))
			outer = next
		}
	}
}

// flat reports whether the melt is Newtonian to rounding up to a stress, in units of the gap.
func (f *fluid) flat(_ *gapState, stress float64) bool {
	_, n := f.rateAt(stress*f.stress, f.rate*stress)
	return math.Abs(1-n) < 1e-12
}
