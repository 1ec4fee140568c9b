package thermal

import "math"

// The modified Bessel functions of fins, scaled by e^∓x so that none overflows.
// Power series: M. Abramowitz and I. A. Stegun, Handbook of Mathematical Functions,
// 9.6.10 and 9.6.13; large x: 9.7.1 (numbers from memory).

// besselI returns e^−x·I₀(x) and e^−x·I₁(x), x ≥ 0.
func besselI(x float64) (zero, one float64) {
	if x > 40 {
		return besselIFar(x, 0), besselIFar(x, 4)
	}
	// No term is negative, so nothing cancels.
	q := x * x / 4
	term0, term1 := 1., x/2
	zero, one = term0, term1
	for k := 1.; term0 > 1e-17*zero; k++ {
		term0 *= q / (k * k)
		term1 *= q / (k * (k + 1))
		zero += term0
		one += term1
	}
	scale := math.Exp(-x)
	return zero * scale, one * scale
}

// besselIFar is the asymptotic series; its least term at x = 40 is far below rounding.
func besselIFar(x, order float64) float64 {
	sum, term := 1., 1.
	for k := 1.; k < 40 && math.Abs(term) > 1e-17; k++ {
		odd := 2*k - 1
		term *= (odd*odd - order) / (8 * k * x)
		sum += term
	}
	return sum / math.Sqrt(2*math.Pi*x)
}

// besselK returns e^x·K₀(x) and e^x·K₁(x), x > 0. From 2 on by the continued
// fraction of N. M. Temme, J. Comput. Phys. 19 (1975) 324 (from memory).
func besselK(x float64) (zero, one float64) {
	if x <= 2 {
		return besselKNear(x)
	}
	b := 2 * (1 + x)
	d := 1 / b
	h, step := d, d
	q1, q2 := 0., 1.
	c, a := 0.25, -0.25
	q := c
	s := 1 + q*step
	for i := 2.; i < 500; i++ {
		a -= 2 * (i - 1)
		c *= -a / i
		next := (q1 - b*q2) / a
		q1, q2 = q2, next
		q += c * next
		b += 2
		d = 1 / (b + a*d)
		step *= b*d - 1
		h += step
		s += q * step
		if math.Abs(q*step) < 1e-17*math.Abs(s) {
			break
		}
	}
	zero = math.Sqrt(math.Pi/(2*x)) / s
	return zero, zero * (x + 0.5 - h/4) / x
}

func besselKNear(x float64) (zero, one float64) {
	const euler = 0.57721566490153286061
	q := x * x / 4
	i0, i1, harmonic := 1., x/2, 0.
	term0, term1 := 1., x/2
	for k := 1.; term0 > 1e-18; k++ {
		term0 *= q / (k * k)
		term1 *= q / (k * (k + 1))
		harmonic += 1 / k
		i0 += term0
		i1 += term1
		zero += term0 * harmonic
	}
	zero -= (math.Log(x/2) + euler) * i0
	one = (1/x - i1*zero) / i0 // Wronskian
	scale := math.Exp(x)
	return zero * scale, one * scale
}
