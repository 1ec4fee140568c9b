package frame

import "math"

// dual is a value that depends on λ = ω², with its derivative by λ.
type dual struct{ v, d float64 }

func (a dual) plus(b dual) dual  { return dual{a.v + b.v, a.d + b.d} }
func (a dual) minus(b dual) dual { return dual{a.v - b.v, a.d - b.d} }
func (a dual) times(b dual) dual { return dual{a.v * b.v, a.d*b.v + a.v*b.d} }
func (a dual) over(b dual) dual  { q := a.v / b.v; return dual{q, (a.d - q*b.d) / b.v} }
func (a dual) by(c float64) dual { return dual{a.v * c, a.d * c} }

// wave returns cosh(√s·x) and sinh(√s·x)/√s, cos and sin/√−s where s is negative,
// both divided by cosh where s is positive and large. The derivative of that
// divisor is left out: a shape may be scaled at will, and drops out of its stiffness.
func wave(s dual, x float64) (even, odd dual) {
	z := s.v * x * x
	var slope float64 // of odd by s
	switch {
	case math.Abs(z) < 0.25:
		// Seven terms leave 1e-19.
		c, o, d, term := 1.0, 1.0, 0.0, 1.0
		for k := 1.0; k <= 7; k++ {
			d += k * term / ((2*k - 1) * 2 * k * (2*k + 1)) // before the power of z is raised
			term *= z / ((2*k - 1) * (2 * k))
			c += term
			o += term / (2*k + 1)
		}
		even.v, odd.v, slope = c, o*x, d*x*x*x
	case z > 0:
		a := math.Sqrt(s.v)
		even.v, odd.v = 1, math.Tanh(a*x)/a
		slope = (x - odd.v) / (2 * s.v)
	default:
		b := math.Sqrt(-s.v)
		sin, cos := math.Sincos(b * x)
		even.v, odd.v = cos, sin/b
		slope = (x*cos - odd.v) / (2 * s.v)
	}
	even.d, odd.d = x*odd.v/2*s.d, slope*s.d
	return even, odd
}

// rod is a member in tension or torsion: stiffness EA or GJ, inertia a length.
type rod struct{ stiff, inertia float64 }

// halves returns the stiffness of either end when both move alike and when they
// move against each other, over half the length h, and the integral of the motion
// over that half for a unit even motion of the end.
func (r *rod) halves(lambda, h float64) (even, odd, sum dual) {
	s := dual{-r.inertia / r.stiff * lambda, -r.inertia / r.stiff}
	f, g := wave(s, h)
	sum = g.over(offPole(f))
	return s.times(sum).by(r.stiff), f.over(offPole(g)).by(r.stiff), sum
}

// held returns how many natural frequencies the rod has below √λ with both ends held.
func (r *rod) held(lambda, h float64) int {
	return crossings(-r.inertia/r.stiff*lambda, h)
}

// crossings returns how many half waves of wave number √−s fit into the length 2h.
func crossings(s, h float64) int {
	if !(s < 0) {
		return 0
	}
	return int(math.Min(2*h*math.Sqrt(-s)/math.Pi, 1e9))
}

// offPole moves a divisor off zero, where a stiffness has its pole.
func offPole(a dual) dual {
	if math.Abs(a.v) < 1e-290 {
		a.v = math.Copysign(1e-290, a.v)
	}
	return a
}

// flexure is a member in bending. The motion w across it, the turn θ, the force Q
// across it in its first direction and the moment M follow
//
//	w' = (φQ + θ)/η, θ' = M/EI, Q' = −ρAω²w, M' = −Q/η + (N/η − ρIω²)θ
//
// with φ = 1/κGA, 0 after Euler and Bernoulli, and η = 1 + Nφ, N being tension.
// Source of the equations: W. P. Howson and F. W. Williams, Natural frequencies of
// frames with axially loaded Timoshenko members, J. Sound Vib. 26 (1973) 503,
// from memory, and derived here from the energy ∫EIθ'² + κGA(w'−θ)² + Nw'².
type flexure struct {
	ei      float64 // [N·m²]
	shear   float64 // φ [1/N]
	line    float64 // ρA [kg/m]
	rotary  float64 // ρI, 0 after Euler and Bernoulli [kg·m]
	tension float64 // N [N]
}

// half is the stiffness of one end against w and θ when the other moves alike
// (even w, odd θ) or against it.
type half struct{ ww, wt, tt dual }

// system holds the equations of a flexure at one λ: E = (w, M) and O = (θ, Q)
// follow E' = A·O and O' = B·E, so that E” = X·E and O” = Y·O.
type system struct {
	mu, a21            dual
	x11, x21, x22      dual
	x12, a11, a12, inv float64 // inv is 1/EI; A = [a11 a12; a21 −a11]
	e1, e2             dual    // trace and determinant of X
}

func (b *flexure) system(lambda float64) (s system) {
	eta := 1 + b.tension*b.shear
	s.mu = dual{b.line * lambda, b.line}
	s.inv = 1 / b.ei
	s.a11, s.a12 = 1/eta, b.shear/eta
	s.a21 = dual{b.tension/eta - b.rotary*lambda, -b.rotary}
	s.x11, s.x12 = s.mu.by(-s.a12), s.a11*s.inv
	s.x21, s.x22 = s.mu.by(s.a11), s.a21.by(s.inv)
	s.e1 = s.x11.plus(s.x22)
	// −μ(1 − ρIω²φ)/ηEI, by hand free of cancellation
	s.e2 = s.mu.times(dual{1 - b.rotary*lambda*b.shear, -b.rotary * b.shear}).by(-s.x12)
	return s
}

// roots returns the two of X, the second never above the first, and half their
// distance; their mean and nothing where they are complex, as a λ below 0 can make them.
func (s *system) roots() (p, q, apart dual) {
	d := s.x11.minus(s.x22).by(0.5)
	mean := s.e1.by(0.5)
	square := d.v*d.v + s.x12*s.x21.v
	if !(square > 0) {
		return mean, mean, dual{}
	}
	apart.v = math.Sqrt(square)
	apart.d = (d.v*d.d + s.x12*s.x21.d/2) / apart.v
	if mean.v >= 0 {
		p = mean.plus(apart)
		q = s.e2.over(p)
	} else {
		q = mean.minus(apart)
		p = s.e2.over(q)
	}
	return p, q, apart
}

// shape is one motion of half a member: what its end does and what it takes there;
// sum is ∫w from the middle to the end, −Q/ρAω² in an even motion.
type shape struct{ w, t, q, m, sum dual }

// halves returns the stiffness of an end in even and odd motion over half the
// length h, and the means over that half of even motions: ∫w by w and by θ of the end.
func (b *flexure) halves(lambda, h float64) (even, odd half, byW, byT dual) {
	s := b.system(lambda)
	var e, o [2]shape
	p, q, apart := s.roots()
	if math.Max(math.Abs(p.v), math.Abs(q.v))*h*h < 4 || !(apart.v > 0) {
		e, o = s.short(h)
	} else {
		e, o = s.long(p, q, apart, h)
	}
	return matrix(&e), matrix(&o), // then the same quotients for the sum
		quotient(e[0].sum, e[1].sum, e[0].t, e[1].t, &e), quotient(e[1].sum, e[0].sum, e[1].w, e[0].w, &e)
}

// quotient returns (a·d − b·c)/det of the end's motions.
func quotient(a, b, c, d dual, s *[2]shape) dual {
	det := offPole(s[0].w.times(s[1].t).minus(s[1].w.times(s[0].t)))
	return a.times(d).minus(b.times(c)).over(det)
}

func matrix(s *[2]shape) half {
	return half{
		ww: quotient(s[0].q, s[1].q, s[0].t, s[1].t, s),
		wt: quotient(s[1].q, s[0].q, s[1].w, s[0].w, s),
		tt: quotient(s[1].m, s[0].m, s[1].w, s[0].w, s),
	}
}

// short returns the shapes whose middle has unit w or M and unit θ or Q. By Cayley
// and Hamilton cosh(√X·h) = c0 + c2·X and sinh(√X·h)/√X = c1 + c3·X, the
// c being series in the trace and determinant of X alone, which lose no digits where h is short.
func (s *system) short(h float64) (even, odd [2]shape) {
	c0, c1 := dual{1, 0}, dual{h, 0}
	var c2, c3, before dual // before is the sum of products of roots of degree k−2, now of k−1
	now := dual{1, 0}
	t := 1.0
	for k := 1.0; k <= 16; k++ {
		t *= h * h / ((2*k - 1) * 2 * k)
		u := t * h / (2*k + 1)
		c2, c3 = c2.plus(now.by(t)), c3.plus(now.by(u))
		low := s.e2.times(before)
		c0, c1 = c0.minus(low.by(t)), c1.minus(low.by(u))
		now, before = s.e1.times(now).minus(low), now
	}
	minus := s.mu.by(-1)
	even[0] = shape{w: c0.plus(c2.times(s.x11)), t: c3.times(s.x21).by(s.inv), m: c2.times(s.x21), sum: c1.plus(c3.times(s.x11))}
	even[1] = shape{w: c2.by(s.x12), t: c1.plus(c3.times(s.x22)).by(s.inv), m: c0.plus(c2.times(s.x22)), sum: c3.by(s.x12)}
	for i := range even {
		even[i].q = minus.times(even[i].sum)
	}
	// Y = [x22 −x12; −x21 x11]
	odd[0] = s.odd(c0.plus(c2.times(s.x22)), c2.times(s.x21).by(-1), c1.plus(c3.times(s.x22)), c3.times(s.x21).by(-1))
	odd[1] = s.odd(c2.by(-s.x12), c0.plus(c2.times(s.x11)), c3.by(-s.x12), c1.plus(c3.times(s.x11)))
	return even, odd
}

// odd returns the odd shape of end turn t and force q whose integrals from the middle are it and iq.
func (s *system) odd(t, q, it, iq dual) shape {
	return shape{t: t, q: q, w: it.by(s.a11).plus(iq.by(s.a12)), m: s.a21.times(it).minus(iq.by(s.a11))}
}

// long returns the shapes of the two roots, those of X for even motion and of Y
// for odd, each eigenvector from the row of the matrix that does not cancel.
func (s *system) long(p, q, apart dual, h float64) (even, odd [2]shape) {
	fp, gp := wave(p, h)
	fq, gq := wave(q, h)
	minus := s.mu.by(-1)
	x12 := dual{s.x12, 0}
	d := s.x11.minus(s.x22).by(0.5)
	var v, u [2][2]dual // of p and q; u in Y, whose d is −d
	if d.v >= 0 {
		sum := apart.plus(d)
		v = [2][2]dual{{sum, s.x21}, {x12, sum.by(-1)}}
		u = [2][2]dual{{x12.by(-1), sum}, {sum.by(-1), s.x21.by(-1)}}
	} else {
		sum := apart.minus(d)
		v = [2][2]dual{{x12, sum}, {sum.by(-1), s.x21}}
		u = [2][2]dual{{sum, s.x21.by(-1)}, {x12.by(-1), sum.by(-1)}}
	}
	for i, w := range [2][2]dual{{fp, gp}, {fq, gq}} {
		f, g := w[0], w[1]
		sum := g.times(v[i][0])
		even[i] = shape{w: f.times(v[i][0]), t: g.times(v[i][1]).by(s.inv), q: minus.times(sum), m: f.times(v[i][1]), sum: sum}
		odd[i] = s.odd(f.times(u[i][0]), f.times(u[i][1]), g.times(u[i][0]), g.times(u[i][1]))
	}
	return even, odd
}

// held returns how many natural frequencies the member has below √λ with both ends
// clamped: those with pinned ends, where the shapes are sines, less those that
// clamping lifts above, which are the negative ones of the end's two stiffnesses
// against turning. F. W. Williams and W. H. Wittrick's count, taken backwards.
func (b *flexure) held(lambda, h float64, even, odd half) int {
	s := b.system(lambda)
	p, q, _ := s.roots()
	n := crossings(p.v, h) + crossings(q.v, h)
	if b.rotary*lambda*b.shear > 1 {
		n++ // all turn alike and nothing moves
	}
	if even.tt.v < 0 {
		n--
	}
	if odd.tt.v < 0 {
		n--
	}
	return max(0, n)
}
