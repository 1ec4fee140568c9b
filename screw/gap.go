package screw

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/input"
)

// Gap is the space between a still wall and a parallel one that slides over it,
// wide and long against its depth: a screw channel unrolled, or the clearance over
// a land.
type Gap struct {
	Depth  float64 // distance of the walls, 1e-7 to 1 [m]
	Along  float64 // speed of the sliding wall along the flow asked for, -1e3 to 1e3 [m/s]
	Across float64 // speed of the sliding wall across it, -1e3 to 1e3 [m/s]
}

// GapFlow is the fully developed flow of a melt in a gap across which nothing
// flows on the whole. Along and across are those of the Gap; the stresses are what
// the melt above drags the melt below with.
type GapFlow struct {
	Flow             float64 // along, for each metre of width [m²/s]
	Gradient         float64 // pressure rise along [Pa/m]
	CrossGradient    float64 // pressure rise across [Pa/m]
	Stress           float64 // shear stress at the still wall, along [Pa]
	CrossStress      float64 // shear stress at the still wall, across [Pa]
	SlidingStress    float64 // shear stress at the sliding wall, along [Pa]
	SlidingCross     float64 // shear stress at the sliding wall, across [Pa]
	Dissipation      float64 // turned to heat on each square metre of wall [W/m²]
	Power            float64 // put in by the sliding wall on each square metre, = Dissipation + Flow·Gradient [W/m²]
	HighestShearRate float64 // at a wall [1/s]
}

// ErrNotFound reports a gap whose stresses the solver did not find; the message
// says what was asked.
var ErrNotFound = errors.New("stresses in the gap were not found")

// Validate reports fields out of range.
func (g Gap) Validate() error {
	var f input.Faults
	f.Between("screw.Gap.Depth", g.Depth, 1e-7, 1, "m")
	f.Between("screw.Gap.Along", g.Along, -1e3, 1e3, "m/s")
	f.Between("screw.Gap.Across", g.Across, -1e3, 1e3, "m/s")
	return f.Err()
}

// Flow returns the flow of a melt in a gap under a pressure gradient along it,
// -1e15 to 1e15 [Pa/m], positive where pressure rises along. It errs on invalid
// input, and on a melt that at the rates found is no liquid.
//
// Both components of velocity are solved together, as viscosity follows the
// magnitude of the shear rate (R. M. Griffith, Ind. Eng. Chem. Fundam. 1 (1962)
// 180, from memory), to some 1e-12 for a power law and 1e-10 for other laws; a
// [Channel] tabulates the latter, to 1e-9.
func (g Gap) Flow(m Melt, gradient float64) (GapFlow, error) {
	var f input.Faults
	f.Add(g.Validate())
	m.check(&f)
	f.Between("screw.Gap.Flow: gradient", gradient, -1e15, 1e15, "Pa/m")
	if err := f.Err(); err != nil {
		return GapFlow{}, err
	}
	var s gapState
	if !s.solve(g, m, gradient) && !math.IsNaN(s.size) && !math.IsInf(s.size, 0) {
		return GapFlow{}, fmt.Errorf("%w: %+v, gradient %g Pa/m, %+v", ErrNotFound, g, gradient, m)
	}
	if eta, _ := m.local(s.rate); s.rate <= math.MaxFloat64 && !liquid(eta) {
		return GapFlow{}, m.notLiquid(s.rate, eta)
	}
	flow := s.flow(g)
	if math.IsInf(flow.Dissipation, 0) || math.IsNaN(flow.Dissipation) {
		f.Refuse("screw.Gap.Flow: gradient", gradient, "Pa/m", "less: so strong a push gives a flow beyond all numbers")
		return GapFlow{}, f.Err()
	}
	return flow, nil
}

// gapState is a gap in units of its depth, of a rate [1/s] and of a stress [Pa].
// Asked for are the stresses a + g·y, across (0) and along (1), at which the sliding
// wall moves at v and nothing flows across, g₁ being given. There the convex function
//
//	∫ Ψ(|τ|) dy − v·a − v₀·g₀,  dΨ/d|τ| = |γ̇|,
//
// of a and g₀ is least (complementary energy), so that the answer is unique and
// Newton's method, watched along its way, finds it from anywhere.
type gapState struct {
	fluid        fluid
	rate, stress float64 // units [1/s], [Pa]
	index        float64 // local power-law index at that rate [-]

	v, a, g [2]float64
	bend    bend
	want    [2]float64 // what speed is to be: v, and in a bent gap less, as is the root's way
	top     [2]float64 // flow if all moved with the sliding wall
	loose   float64    // what may be left of the residual, of its size; 0 for rounding
	across  float64    // net flow across, 0 unless it leaks over a land

	integrals
}

// integrals are those of the stresses over the depth.
type integrals struct {
	speed [2]float64       // ∫ γ̇ dy, of the sliding wall
	lever [2]float64       // ∫ y·γ̇ dy, top less the flow
	stiff [3][2][2]float64 // ∫ yᵐ·∂γ̇ᵢ/∂τⱼ dy for m = 0, 1, 2: speed by a, speed by g, lever by g
	size  float64          // ∫ |γ̇| dy, what cancels in the former
}

const (
	mostNewton = 500   // from too high a stress each step takes n of it off; above n = 0.1 tens are enough
	goodEnough = 1e-13 // of what cancels in the residual
)

func (s *gapState) solve(g Gap, m Melt, gradient float64) bool {
	s.prepare(g, m, gradient)
	return s.newton()
}

// prepare sets units, fluid and a first guess.
func (s *gapState) prepare(g Gap, m Melt, gradient float64) {
	speed := math.Hypot(g.Along, g.Across)
	s.fluid.melt = m
	s.rate = speed / g.Depth
	if push := math.Abs(gradient) * g.Depth / 2; push > 0 {
		// The rate that the gradient alone would make at a wall, where it is the larger.
		if rate, _ := s.fluid.rateAt(push, math.Max(s.rate, 1)); rate > s.rate {
			s.rate = rate
		}
	}
	if s.rate == 0 {
		s.rate = 1 // nothing moves
	}
	s.units(g, m, s.rate)
	s.g[1] = gradient * g.Depth / s.stress
	s.start(s.index)
}

// units measures a gap by a rate [1/s] and the melt's stress there.
func (s *gapState) units(g Gap, m Melt, rate float64) {
	eta, n := m.local(rate)
	s.rate, s.stress, s.index = rate, eta*rate, n
	s.fluid.prepare(rate, s.stress, n)
	s.v = [2]float64{g.Across / (g.Depth * rate), g.Along / (g.Depth * rate)}
	kappa := 1 - s.bend.h
	s.want = [2]float64{kappa * kappa * s.v[0], kappa * kappa * s.v[1]}
	s.top = [2]float64{(1 + kappa) / 2 * s.v[0], (1 + kappa) / 2 * s.v[1]}
}

// sliding returns the stress at the sliding wall, across and along.
func (s *gapState) sliding() (across, along float64) {
	kappa := 1 - s.bend.h
	if kappa == 1 {
		return s.a[0] + s.g[0], s.a[1] + s.g[1]
	}
	b := &s.bend
	round := b.round(s.a[0], s.a[1])*kappa*kappa + b.round(s.g[0], s.g[1])*(1+kappa)/2
	axial := b.axial(s.a[0], s.a[1])*kappa + b.axial(s.g[0], s.g[1])*(1+kappa)/2
	return b.cos*axial - b.sin*round, b.sin*axial + b.cos*round
}

// start guesses the stresses: those of a Newtonian melt with the viscosity of the
// rates that it would have.
func (s *gapState) start(n float64) {
	s.a = [2]float64{-2 * s.v[0], s.v[1]}
	s.g[0] = 6 * s.v[0]
	most := math.Max(math.Hypot(s.a[0], s.a[1]), math.Hypot(s.a[0]+s.g[0], s.a[1]))
	thin := 1.0
	if most > 0 {
		thin = math.Pow(most, n-1)
	}
	s.a[0] *= thin
	s.a[1] = s.a[1]*thin - s.g[1]/2
	s.g[0] *= thin
}

// startFrom guesses the stresses where the gradient across is known: at mid-gap those
// that drag alone would need, less what the gradients thin the melt.
func (s *gapState) startFrom(across float64) {
	s.g[0] = across
	thin := math.Pow(math.Max(1, math.Hypot(s.g[0], s.g[1])/4), 1-1/s.index)
	for i := range s.a {
		s.a[i] = s.v[i]*thin - s.g[i]/2
	}
}

func (s *gapState) newton() bool {
	s.fluid.evaluate(s)
	left := math.Inf(1)
	for range mostNewton {
		r := s.residual()
		last := left
		left = math.Abs(r[0]) + math.Abs(r[1]) + math.Abs(r[2])
		if left <= 2e-15*s.size || left <= goodEnough*s.size && left > last/4 || left <= s.loose*s.size { // rounding is all that is left
			return true
		}
		step, ok := cholesky(s.hessian(), r)
		if !ok {
			return false
		}
		slope := r[0]*step[0] + r[1]*step[1] + r[2]*step[2]
		a, g := s.a, s.g[0]
		for factor := 1.0; ; factor /= 2 {
			s.a = [2]float64{a[0] + factor*step[0], a[1] + factor*step[1]}
			s.g[0] = g + factor*step[2]
			s.fluid.evaluate(s)
			n := s.residual()
			// Beyond the least value the slope turns; up to half of it is no harm.
			if back := -(n[0]*step[0] + n[1]*step[1] + n[2]*step[2]); back <= 0.5*slope {
				break
			}
			if factor < 1e-9 {
				return left <= goodEnough*s.size
			}
		}
		if moved := math.Abs(step[0]) + math.Abs(step[1]) + math.Abs(step[2]); moved <=
			4e-16*(math.Abs(a[0])+math.Abs(a[1])+math.Abs(g)+math.Abs(s.g[1])) {
			return true
		}
	}
	return left <= goodEnough*s.size
}

func (s *gapState) residual() [3]float64 {
	return [3]float64{s.want[0] - s.speed[0], s.want[1] - s.speed[1], s.top[0] - s.across - s.lever[0]}
}

func (s *gapState) hessian() [3][3]float64 {
	k := &s.stiff
	return [3][3]float64{
		{k[0][0][0], k[0][0][1], k[1][0][0]},
		{k[0][0][1], k[0][1][1], k[1][1][0]},
		{k[1][0][0], k[1][1][0], k[2][0][0]},
	}
}

// along returns the flow along for each metre of width [m²/s].
func (s *gapState) along(g Gap) float64 { return (s.top[1] - s.lever[1]) * s.rate * g.Depth * g.Depth }

// flow puts the units back.
func (s *gapState) flow(g Gap) GapFlow {
	t := s.stress
	across, along := s.sliding()
	f := GapFlow{
		Flow:          s.along(g),
		Gradient:      s.g[1] * t / g.Depth,
		CrossGradient: s.g[0] * t / g.Depth,
		Stress:        s.a[1] * t, CrossStress: s.a[0] * t,
		SlidingStress: along * t, SlidingCross: across * t,
	}
	f.Power = f.SlidingStress*g.Along + f.SlidingCross*g.Across
	f.Dissipation = s.dissipation(g)
	still, _ := s.fluid.rateAt(t*math.Hypot(s.a[0], s.a[1]), s.rate)
	sliding, _ := s.fluid.rateAt(t*math.Hypot(across, along), s.rate)
	f.HighestShearRate = math.Max(still, sliding)
	return f
}

// dissipation returns ∫ τ·γ̇ dy, from what is known: a·∫γ̇ + g·∫yγ̇ [W/m²].
func (s *gapState) dissipation(g Gap) float64 {
	return s.stress * s.rate * g.Depth * (s.a[0]*s.speed[0] + s.a[1]*s.speed[1] + s.g[0]*s.lever[0] + s.g[1]*s.lever[1])
}

// cholesky solves a symmetric positive definite system of three. It stands in the
// innermost loop, where gonum's would allocate.
func cholesky(m [3][3]float64, r [3]float64) (x [3]float64, ok bool) {
	l00 := math.Sqrt(m[0][0])
	l10, l20 := m[1][0]/l00, m[2][0]/l00
	l11 := math.Sqrt(m[1][1] - l10*l10)
	l21 := (m[2][1] - l20*l10) / l11
	l22 := math.Sqrt(m[2][2] - l20*l20 - l21*l21)
	y0 := r[0] / l00
	y1 := (r[1] - l10*y0) / l11
	y2 := (r[2] - l20*y0 - l21*y1) / l22
	x[2] = y2 / l22
	x[1] = (y1 - l21*x[2]) / l11
	x[0] = (y0 - l10*x[1] - l20*x[2]) / l00
	sum := x[0] + x[1] + x[2]
	return x, !math.IsNaN(sum) && !math.IsInf(sum, 0)
}
