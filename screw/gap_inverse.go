package screw

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// GradientFor returns the state of a gap in which a given flow goes along it, for each
// metre of width, -1e4 to 1e4 [m²/s]: against what pressure gradient a gap delivers so
// much, 0 for a closed end. Every flow has one: what is beyond the drag flow needs a
// gradient that helps, Gradient below 0. What would shear the melt slower than 1e-200 1/s
// counts as none. It errs on invalid input, and on a melt that at the rates of that flow
// is no liquid.
//
// It is the flow of [Gap.Flow], to the same digits, found as directly: the energy that is
// least there is convex in the gradient along too.
func (g Gap) GradientFor(m Melt, flow float64) (GapFlow, error) {
	var f input.Faults
	f.Add(g.Validate())
	m.check(&f)
	f.Between("screw.Gap.GradientFor: flow", flow, -1e4, 1e4, "m²/s")
	if err := f.Err(); err != nil {
		return GapFlow{}, err
	}
	var s gapState
	lever := s.prepareFor(g, m, flow)
	if eta, _ := m.local(s.rate); !liquid(eta) {
		return GapFlow{}, m.notLiquid(s.rate, eta)
	}
	if !s.newtonFor(lever) {
		return GapFlow{}, fmt.Errorf("%w: %+v, flow %g m²/s, %+v", ErrNotFound, g, flow, m)
	}
	found := s.flow(g)
	found.Flow = flow // as far as the solver can tell
	return found, nil
}

// slowest is a rate below which nothing moves, as numbers would be lost to underflow [1/s].
const slowest = 1e-200

// prepareFor sets units, fluid and a first guess for a flow along [m²/s], and returns
// what the lever along must become.
func (s *gapState) prepareFor(g Gap, m Melt, flow float64) float64 {
	s.fluid.melt = m
	// The faster of what the walls shear and what a Newtonian melt pressed through would
	// be sheared at a wall.
	pressed := 6 * math.Abs(flow-g.Along*g.Depth/2) / (g.Depth * g.Depth)
	s.rate = math.Max(math.Hypot(g.Along, g.Across)/g.Depth, pressed)
	if s.rate < slowest {
		g.Along, g.Across, flow, s.rate = 0, 0, 0, 1
	}
	s.units(g, m, s.rate)
	lever := s.top[1] - flow/(g.Depth*g.Depth*s.rate)
	// A Newtonian melt with the viscosity of the rates that it would have.
	s.a = [2]float64{-2 * s.v[0], 4*s.v[1] - 6*lever}
	s.g = [2]float64{6 * s.v[0], 12*lever - 6*s.v[1]}
	most := math.Max(math.Hypot(s.a[0], s.a[1]), math.Hypot(s.a[0]+s.g[0], s.a[1]+s.g[1]))
	if most > 0 {
		thin := math.Pow(most, s.index-1)
		for i := range 2 {
			s.a[i] *= thin
			s.g[i] *= thin
		}
	}
	return lever
}

// newtonFor finds all four stresses for a lever along, as newton does three for a
// gradient: there
//
//	∫ Ψ(|τ|) dy − v·a − v₀·g₀ − lever·g₁
//
// is least.
func (s *gapState) newtonFor(lever float64) bool {
	s.fluid.evaluate(s)
	left := math.Inf(1)
	for range mostNewton {
		r := s.residualFor(lever)
		last := left
		left = math.Abs(r[0]) + math.Abs(r[1]) + math.Abs(r[2]) + math.Abs(r[3])
		if left <= 2e-15*s.size || left <= goodEnough*s.size && left > last/4 { // rounding is all that is left
			return true
		}
		step, ok := cholesky4(s.hessianFor(), r)
		if !ok {
			return false
		}
		slope := dot4(r, step)
		a, g := s.a, s.g
		for factor := 1.0; ; factor /= 2 {
			for i := range 2 {
				s.a[i] = a[i] + factor*step[i]
				s.g[i] = g[i] + factor*step[2+i]
			}
			s.fluid.evaluate(s)
			// Beyond the least value the slope turns; up to half of it is no harm.
			if back := -dot4(s.residualFor(lever), step); back <= 0.5*slope {
				break
			}
			if factor < 1e-9 {
				return left <= goodEnough*s.size
			}
		}
	}
	return left <= goodEnough*s.size
}

func (s *gapState) residualFor(lever float64) [4]float64 {
	return [4]float64{s.want[0] - s.speed[0], s.want[1] - s.speed[1], s.top[0] - s.across - s.lever[0], lever - s.lever[1]}
}

// hessianFor is in the order of the residual: a across and along, g across and along.
func (s *gapState) hessianFor() (h [4][4]float64) {
	for i := range 4 {
		for j := range 4 {
			h[i][j] = s.stiff[i/2+j/2][i%2][j%2]
		}
	}
	return h
}

func dot4(x, y [4]float64) float64 { return x[0]*y[0] + x[1]*y[1] + x[2]*y[2] + x[3]*y[3] }

// cholesky4 solves a symmetric positive definite system of four, as cholesky one of three.
func cholesky4(m [4][4]float64, r [4]float64) (x [4]float64, ok bool) {
	for i := range 4 { // m becomes its own lower factor
		for j := range i + 1 {
			sum := m[i][j]
			for k := range j {
				sum -= m[i][k] * m[j][k]
			}
			if i == j {
				m[i][i] = math.Sqrt(sum)
			} else {
				m[i][j] = sum / m[j][j]
			}
		}
	}
	for i := range 4 {
		x[i] = r[i]
		for k := range i {
			x[i] -= m[i][k] * x[k]
		}
		x[i] /= m[i][i]
	}
	for i := 3; i >= 0; i-- {
		for k := i + 1; k < 4; k++ {
			x[i] -= m[k][i] * x[k]
		}
		x[i] /= m[i][i]
	}
	sum := x[0] + x[1] + x[2] + x[3]
	return x, !math.IsNaN(sum) && !math.IsInf(sum, 0)
}
