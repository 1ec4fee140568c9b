// Package root finds where a function of one variable crosses zero.
package root

import (
	"errors"
	"fmt"
	"math"
)

// ErrNoBracket reports that the function does not change sign over the interval
// given, or is not a number somewhere in it.
var ErrNoBracket = errors.New("no change of sign")

// Bisection alone reaches neighbouring numbers from any interval within about
// 2100 halvings; in practice a search takes fewer than a dozen steps.
const mostSteps = 2200

// Find returns x between a and b with f(x) = 0, to within tol·|x| plus rounding.
// The signs of f(a) and f(b) must differ; an end where f is exactly zero is returned.
//
// Method: bracketing by secant, inverse quadratic interpolation and bisection,
// R. P. Brent, Algorithms for Minimization without Derivatives (1973), ch. 4.
// It never leaves the interval and always ends.
func Find(f func(float64) float64, a, b, tol float64) (float64, error) {
	return Between(f, a, f(a), b, f(b), tol)
}

// Between is Find where f(a) and f(b) are known already.
func Between(f func(float64) float64, a, fa, b, fb, tol float64) (float64, error) {
	switch {
	case fa == 0:
		return a, nil
	case fb == 0:
		return b, nil
	case math.IsNaN(fa) || math.IsNaN(fb) || math.Signbit(fa) == math.Signbit(fb):
		return 0, fmt.Errorf("%w: f(%g) = %g, f(%g) = %g", ErrNoBracket, a, fa, b, fb)
	}
	// b is the best point, c lies on the other side of zero, a is the last b.
	c, fc := a, fa
	step, previous := b-a, b-a
	for range mostSteps {
		if math.Signbit(fb) == math.Signbit(fc) {
			c, fc = a, fa
			step, previous = b-a, b-a
		}
		if math.Abs(fc) < math.Abs(fb) {
			a, b, c = b, c, b
			fa, fb, fc = fb, fc, fb
		}
		near := (0x1p-51+0.5*tol)*math.Abs(b) + math.SmallestNonzeroFloat64
		half := 0.5*c - 0.5*b
		if math.Abs(half) <= near || fb == 0 {
			return b, nil
		}
		trial, ok := interpolate(a, fa, b, fb, c, fc, half)
		if ok && math.Abs(previous) >= near && math.Abs(fa) > math.Abs(fb) &&
			math.Abs(trial) < math.Min(1.5*math.Abs(half)-0.5*near, 0.5*math.Abs(previous)) {
			previous, step = step, trial
		} else {
			previous, step = half, half
		}
		a, fa = b, fb
		if math.Abs(step) > near {
			b += step
		} else {
			b += math.Copysign(near, half)
		}
		if fb = f(b); math.IsNaN(fb) {
			return 0, fmt.Errorf("%w: f(%g) is not a number", ErrNoBracket, b)
		}
	}
	return b, nil
}

// interpolate returns the step from b to the zero of the line through two points
// or of the inverse parabola through three; ok tells that it leads towards c.
func interpolate(a, fa, b, fb, c, fc, half float64) (step float64, ok bool) {
	s := fb / fa
	var p, q float64
	if a == c {
		p, q = 2*half*s, 1-s
	} else {
		t, r := fa/fc, fb/fc
		p = s * (2*half*t*(t-r) - (b-a)*(r-1))
		q = (t - 1) * (r - 1) * (s - 1)
	}
	step = -p / q
	return step, step*half > 0
}
