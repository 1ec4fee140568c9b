package screw

import (
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// Annulus is a straight hole with a core in its middle, as a die for tubes.
type Annulus struct {
	Outer  float64 // diameter of the hole, 1e-5 to 1 [m]
	Inner  float64 // diameter of the core, a thousandth of Outer up to 1e-6 of it short of Outer [m]
	Length float64 // 1e-6 to 10 [m]
}

// Validate reports dimensions out of range.
func (a Annulus) Validate() error {
	var f input.Faults
	f.Between("screw.Annulus.Outer", a.Outer, 1e-5, 1, "m")
	f.Between("screw.Annulus.Length", a.Length, 1e-6, 10, "m")
	if f.None() {
		f.Between("screw.Annulus.Inner", a.Inner, 1e-3*a.Outer, (1-1e-6)*a.Outer, "m")
	}
	return f.Err()
}

// PressureDrop returns the pressure [Pa] a flow costs: of a Newtonian melt
//
//	8ηLQ/πR⁴ over (1−κ⁴) − (1−κ²)²/ln(1/κ),  κ = Inner/Outer
//
// (R. B. Bird, W. E. Stewart and E. N. Lightfoot, Transport Phenomena, §2.4, from
// memory), of any other to 1e-9 from the two walls at which it must stand still (for a
// power law A. G. Fredrickson and R. B. Bird, Ind. Eng. Chem. 50 (1958) 347, from memory).
func (a Annulus) PressureDrop(m Melt, flow float64) float64 {
	if flow <= 0 {
		return 0
	}
	r := a.Outer / 2
	return 2 * a.Length / r * a.solve(m, flow).g
}

// WallShear returns the wall shear at the core, where it is greatest [1/s], [Pa].
func (a Annulus) WallShear(m Melt, flow float64) (rate, stress float64) {
	if flow <= 0 {
		return 0, 0
	}
	core := a.solve(m, flow).core
	return core.rate, core.stress
}

// ViscousHeating returns the Nahme number for the rate at the core, and the Graetz number of
// the space between the walls; see [Passage].
func (a Annulus) ViscousHeating(m Melt, flow float64) (nahme, graetz float64) {
	if flow <= 0 {
		return 0, 0
	}
	found := a.solve(m, flow)
	gap, speed := a.gap(), flow*a.Length/a.Volume()
	newtonian := a.PressureDrop(unit, flow) / a.Length * gap * gap / speed
	return heating(m, heated{rate: found.core.rate, gradient: 4 * found.g / a.Outer, speed: speed,
		across: gap, newtonian: newtonian, length: a.Length})
}

// Volume returns that between the walls [m³].
func (a Annulus) Volume() float64 { return math.Pi / 2 * (a.Outer + a.Inner) * a.gap() * a.Length }

func (a Annulus) gap() float64 { return (a.Outer - a.Inner) / 2 }

// annulus is the flow between hole and core, lengths in units of the hole's radius. By
// the balance of forces the stress at r is
//
//	τ = g·r − b/r = g·(r − λ²/r)
//
// and nothing is sheared at λ.
type annulus struct {
	m          Melt
	kappa, gap float64 // core, and 1 − κ [-]
	hole, core tier    // wall shear
	g, b       float64 // [Pa]
	lambda     float64
	outside    ring // from λ to the hole
	inside     ring // from λ to the core
}

// ring is the flow on one side of λ: integrals over r of shear rate and of its
// derivative by stress.
type ring struct {
	g, lambda float64
	side      float64 // 1 from λ to the hole, −1 from λ to the core

	speed  float64 // ∫ γ̇ dr, of the melt at λ past the wall [1/s]
	flow   float64 // ∫ |r²−λ²|·γ̇ dr [1/s]
	inner  float64 // ∫ (dγ̇/dτ)/r dr [1/(Pa·s)]
	middle float64 // ∫ (dγ̇/dτ)·r dr
	outer  float64 // ∫ (dγ̇/dτ)·r³ dr
}

func (a Annulus) solve(m Melt, flow float64) annulus {
	r := a.Outer / 2
	s := annulus{m: m, kappa: a.Inner / a.Outer, gap: (a.Outer - a.Inner) / a.Outer}
	wanted := flow / (math.Pi * r * r * r)
	apparent := 6 * wanted / ((1 + s.kappa) * s.gap * s.gap) // as in a slit
	if math.IsInf(apparent, 1) {
		s.g, s.core = apparent, tier{rate: apparent, stress: apparent}
		return s
	}
	lnInverse := -math.Log1p(-s.gap)
	if _, ok := m.Viscosity.(material.Newtonian); ok || !layered(apparent) {
		eta, _ := m.local(apparent)
		s.newtonian(eta, wanted, lnInverse)
		return s
	}
	s.guess(apparent, lnInverse)
	s.newton(wanted)
	return s
}

// newtonian solves in closed form.
func (s *annulus) newtonian(eta, wanted, lnInverse float64) {
	// (1−κ⁴) − (1−κ²)²/L = (1−κ²)·[(1+κ²) − (1−κ²)/L], L = ln(1/κ), in a form that
	// cancels nothing in a narrow gap.
	sinh := math.Sinh(lnInverse)
	s.g = 4 * eta * wanted / (4 * s.kappa * s.kappa * sinh * coshLess(lnInverse))
	square := s.gap * (1 + s.kappa) / (2 * lnInverse) // λ²
	s.core.stress = s.g * (square/s.kappa - s.kappa)
	s.core.rate = s.core.stress / eta
}

// coshLess returns cosh x − sinh(x)/x = Σ 2i·x²ⁱ/(2i+1)!.
func coshLess(x float64) float64 {
	if x > 1 {
		return math.Cosh(x) - math.Sinh(x)/x
	}
	var sum float64
	for i, term := 1.0, x*x/6; i < 12; i++ { // term is x²ⁱ/(2i+1)!
		sum += 2 * i * term
		term *= x * x / ((2*i + 2) * (2*i + 3))
	}
	return sum
}

// guess starts from the wall rates of a slit, λ between what it is of a Newtonian
// melt and √κ, that of one whose stress hardly varies.
func (s *annulus) guess(apparent, lnInverse float64) {
	rate, _ := wallShear(s.m, inSlit, apparent)
	_, n := s.m.local(rate)
	square := s.kappa + math.Sqrt(math.Min(1, n))*(s.gap*(1+s.kappa)/(2*lnInverse)-s.kappa)
	ratio := (square/s.kappa - s.kappa) / (1 - square)
	s.hole = s.m.tier(math.Log(rate))
	s.core = s.m.tier(s.hole.at + math.Log(ratio)/n)
}

// newton seeks the logarithms of the two wall rates, in which both the ratio of the
// speeds found from either side and the flow are nearly straight lines.
func (s *annulus) newton(wanted float64) {
	for range 60 { // two to ten, up to 34 for bends as sharp as laws can have
		s.integrate()
		o, i := &s.outside, &s.inside
		slip := math.Log(o.speed / i.speed)
		flow := o.flow + i.flow
		miss := math.Log(flow / wanted)
		// By g and b, then by the wall rates: dτ = n·τ d ln γ̇ and the balance of forces.
		square, behind := s.lambda*s.lambda, (o.speed-i.speed)/s.g
		inner, middle, outer := o.inner+i.inner, o.middle+i.middle, o.outer+i.outer
		slipG, slipB := o.middle/o.speed+i.middle/i.speed, -o.inner/o.speed-i.inner/i.speed
		flowG, flowB := (outer-square*middle+square*behind)/flow, -(middle-square*inner+behind)/flow
		across := s.gap * (1 + s.kappa)
		hole, core := s.hole.index*s.hole.stress, s.core.index*s.core.stress
		gHole, gCore := hole/across, s.kappa*core/across
		bHole, bCore := gHole-hole, gCore
		a11, a12 := slipG*gHole+slipB*bHole, slipG*gCore+slipB*bCore
		a21, a22 := flowG*gHole+flowB*bHole, flowG*gCore+flowB*bCore
		det := a11*a22 - a12*a21
		dHole, dCore := -(slip*a22-miss*a12)/det, -(miss*a11-slip*a21)/det
		most := math.Max(math.Abs(dHole), math.Abs(dCore))
		if most > 2 {
			dHole, dCore = 2*dHole/most, 2*dCore/most
		}
		s.hole, s.core = s.m.tier(s.hole.at+dHole), s.m.tier(s.core.at+dCore)
		if !(most > 1e-7) {
			s.balance()
			return
		}
	}
}

// balance follows g, b and λ from the wall stresses.
func (s *annulus) balance() {
	across := s.gap * (1 + s.kappa)
	s.g = (s.kappa*s.core.stress + s.hole.stress) / across
	s.b = s.kappa * (s.core.stress + s.kappa*s.hole.stress) / across
	s.lambda = math.Sqrt(s.b / s.g)
}

func (s *annulus) integrate() {
	s.balance()
	s.outside = ring{g: s.g, lambda: s.lambda, side: 1}.integrated(s.m, s.hole)
	s.inside = ring{g: s.g, lambda: s.lambda, side: -1}.integrated(s.m, s.core)
}

const ringFolds = 5. // where r turns from growing with τ to growing with √τ, the integrands bend

// integrated goes by parts over shear rate, as tiers do, so that the law is not
// turned round.
func (r ring) integrated(m Melt, wall tier) ring {
	l := tiers{m: m, d: 1, wall: wall, folded: ringFolds, ring: r}
	l.inwards()
	r = l.ring
	away, _ := r.place(wall.stress)
	r.speed += wall.rate * away
	r.flow += wall.rate * r.between(away)
	return r
}

// add takes a point from what the wall contributes.
func (r *ring) add(weight float64, y tier) {
	weight *= y.rate
	away, at := r.place(y.stress)
	r.speed -= weight * away
	r.flow -= weight * r.between(away)
	slope := weight / (r.g * (1 + r.lambda*r.lambda/(at*at)))
	r.inner += slope / at
	r.middle += slope * at
	r.outer += slope * at * at * at
}

// place returns where a stress is, as distance from λ and from the middle.
func (r *ring) place(stress float64) (away, at float64) {
	x := stress / (2 * r.g)
	root := math.Sqrt(x*x + r.lambda*r.lambda)
	at = root + x
	if r.side < 0 {
		at = r.lambda * r.lambda / at
	}
	return x * (at + r.lambda) / (root + r.lambda), at
}

// between returns ∫|r²−λ²|dr from λ on.
func (r *ring) between(away float64) float64 {
	return away * away * (r.lambda + r.side*away/3)
}
