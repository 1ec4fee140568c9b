package screw

import "math"

// powerMoments evaluates the one integral from which all others of a power-law
// melt in a gap follow. There the square of the stress is G²(x²+d²), x measured from
// where it is least, the rate is stress times that to the power s, and
//
//	K(x) = ∫₀ˣ (ξ²+d²)^s dξ.
//
// Up to x = 2d it is x(x²+d²)^s·F(1,−s;3/2;t), t = x²/(x²+d²), by Gauss's series
// (M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions, 15.1.1 and
// 15.3.3); beyond, the binomial series in (d/ξ)² integrated term by term.
type powerMoments struct {
	s    float64
	near [nearTerms]float64 // coefficients of F(1,−s;3/2;t)
	far  [farTerms]float64  // binomial coefficients of s
	two  float64            // K(2) for d = 1
}

const (
	nearTerms = 170 // 0.8^170 is below 1e-16
	farTerms  = 27  // 4^−27 is below 1e-16
)

func (p *powerMoments) set(s float64) {
	p.s = s
	c, b := 1.0, 1.0
	for k := range p.near {
		p.near[k] = c
		c *= (float64(k) - s) / (float64(k) + 1.5)
	}
	for k := range p.far {
		p.far[k] = b
		b *= (s - float64(k)) / float64(k+1)
	}
	p.two = 2 * math.Pow(5, s) * p.series(0.8)
}

// series returns F(1,−s;3/2;t) for t from 0 to 0.8.
func (p *powerMoments) series(t float64) float64 {
	terms := nearTerms
	if t < 0.7 {
		terms = min(nearTerms, 6+int(-37/math.Log(math.Max(t, 1e-300))))
	}
	sum := 0.0
	for k := terms - 1; k >= 0; k-- {
		sum = sum*t + p.near[k]
	}
	return sum
}

// integral returns K(x), given that (x²+d²)^s is ws.
func (p *powerMoments) integral(x, d, ws float64) float64 {
	r := math.Abs(x)
	switch {
	case r == 0: // at a wall without stress d may be 0 too
		return 0
	case r <= 2*d:
		return x * ws * p.series(x*x/(x*x+d*d))
	case d < 1e-9*r: // its square is below rounding
		return x * ws / (2*p.s + 1)
	}
	// In units of d, ∫ from 2 to ρ of ξ^(e−1) is (ρ^e − 2^e)/e with e = 2s−2k+1.
	rho := r / d
	upper, lower := math.Pow(rho, 2*p.s+1), math.Pow(2, 2*p.s+1)
	shrink := 1 / (rho * rho)
	sum := 0.0
	for k, c := range p.far {
		if e := 2*(p.s-float64(k)) + 1; math.Abs(e) > 1e-3 {
			sum += c * (upper - lower) / e
		} else { // near a logarithm
			span := math.Log(rho / 2)
			if e != 0 {
				span = math.Expm1(e*span) / e
			}
			sum += c * lower * span
		}
		upper *= shrink
		lower *= 0.25
	}
	return math.Copysign(math.Pow(d, 2*p.s+1)*(p.two+sum), x)
}

// closed evaluates the integrals of a power-law melt where the least stress lies
// in the gap or near it. With K known the moments with x and x², and those with s+1
// and s−1, follow by parts.
func (f *fluid) closed(u *gapState) {
	if u.g == [2]float64{} && u.a == [2]float64{} {
		return // nothing moves
	}
	s := f.s
	g2 := u.g[0]*u.g[0] + u.g[1]*u.g[1]
	root := math.Sqrt(g2)
	y0 := -(u.a[0]*u.g[0] + u.a[1]*u.g[1]) / g2
	cross := (u.a[0]*u.g[1] - u.a[1]*u.g[0]) / g2 // d with a sign
	d := math.Abs(cross)
	// The least stress is g·d, square to g.
	square := [2]float64{u.g[1] / root, -u.g[0] / root}
	if cross < 0 {
		square = [2]float64{-square[0], -square[1]}
	}

	x0, x1 := -y0, 1-y0
	w0, w1 := x0*x0+d*d, x1*x1+d*d
	p0, p1 := math.Pow(w0, s), math.Pow(w1, s) // w^s
	big := math.Pow(g2, s)
	m0 := f.moments.integral(x1, d, p1) - f.moments.integral(x0, d, p0)
	q0, q1 := w0*p0, w1*p1 // w^(s+1)
	m1 := (q1 - q0) / (2*s + 2)
	m2 := (x1*q1 - x0*q0 - d*d*m0) / (2*s + 3)
	// 2s·∫ xᵏ·w^(s−1) dx, that of k = 0 times d².
	e0 := (2*s+1)*m0 - (x1*p1 - x0*p0)
	e1 := p1 - p0
	e2 := 2*s*m0 - e0
	e3 := 2*s*m1 - d*d*e1
	e4 := 2*s*m2 - d*d*e2

	for i := range 2 {
		least := square[i] * root * d
		u.speed[i] = big * (least*m0 + u.g[i]*m1)
		u.lever[i] = big * (least*(m1+y0*m0) + u.g[i]*(m2+y0*m1))
	}
	u.size = math.Abs(u.speed[0]) + math.Abs(u.speed[1]) + big*root*(math.Abs(x1*p1*x1)+math.Abs(x0*p0*x0))/(2*s+2)
	for i := range 2 {
		for j := range 2 {
			same := square[i] * square[j]
			mixed := (square[i]*u.g[j] + square[j]*u.g[i]) / root * d
			along := u.g[i] * u.g[j] / g2
			k0 := same*e0 + mixed*e1 + along*e2
			k1 := same*d*d*e1 + mixed*e2 + along*e3
			k2 := same*d*d*e2 + mixed*e3 + along*e4
			if i == j {
				k0, k1, k2 = k0+m0, k1+m1, k2+m2
			}
			u.stiff[0][i][j] = big * k0
			u.stiff[1][i][j] = big * (k1 + y0*k0)
			u.stiff[2][i][j] = big * (k2 + 2*y0*k1 + y0*y0*k0)
		}
	}
}
