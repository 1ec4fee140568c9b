package frame

import "math"

// haze returns about how large λ must be to stand out from the rounding of D: for
// each motion of the whole as a rigid body, Σ|Kii|rᵢ² times rounding over its
// inertia. Springs to the ground are left out: a rigid motion that strains them is none.
func (a *assembly) haze() float64 {
	const rounding = 1e-14
	ground := a.fixed.ground
	a.fixed.ground = nil
	a.fill(0)
	a.fixed.ground = ground
	diagonal := make([]float64, len(a.k.first))
	for i := range diagonal {
		diagonal[i] = math.Abs(a.k.diagonal(i))
	}
	var centre [3]float64
	for _, p := range a.at {
		for d := range p {
			centre[d] += p[d] / float64(len(a.at))
		}
	}
	x, y := make([]float64, len(diagonal)), make([]float64, len(diagonal))
	worst := 0.0
	for motion := range 6 {
		a.rigid(motion, centre, x)
		a.m.times(x, y)
		var stiff, inertia float64
		for i, v := range x {
			stiff += diagonal[i] * v * v
			inertia += v * y[i]
		}
		if inertia > 0 {
			worst = math.Max(worst, rounding*stiff/inertia)
		}
	}
	return worst
}

// rigid sets x to a unit motion of the whole along or about an axis through centre.
func (a *assembly) rigid(motion int, centre [3]float64, x []float64) {
	for node, p := range a.at {
		var v [6]float64
		v[motion] = 1
		if motion >= 3 {
			var turn, arm [3]float64
			turn[motion-3] = 1
			for d := range arm {
				arm[d] = p[d] - centre[d]
			}
			u := cross(turn, arm)
			copy(v[:3], u[:])
		}
		for d, e := range a.eq[node] {
			if e >= 0 {
				x[e] = v[d]
			}
		}
	}
}
