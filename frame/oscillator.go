package frame

import (
	"math"

	"meltflight/internal/root"
)

// oscillation is a damped mass on a spring on a moved base in its own time x = ωt:
// u″ + 2ζu′ + u = −(a + jx)/ω², u relative to the base [m], and a piece of constant
// jerk is solved exactly: N. C. Nigam, P. C. Jennings, Bull. Seism. Soc. Am. 59
// (1969) 909, from memory; A. K. Chopra, Dynamics of Structures, 5.2, from memory.
type oscillation struct {
	zeta, free float64 // damping ratio, √(1−ζ²)
	u, v       float64 // deflection and du/dx [m]
}

func atRest(zeta float64) oscillation {
	return oscillation{zeta: zeta, free: math.Sqrt(1 - zeta*zeta)}
}

// impulses returns the response x after a unit impulse and its first and second
// integrals, the responses to a unit step and a unit ramp.
func (o *oscillation) impulses(x float64) (impulse, step, ramp float64) {
	if x < 0.5 {
		// Differences of near equals below; the power series of the impulse instead:
		// sixteen terms leave 1e-20.
		before, now, power := 0.0, 1.0, x
		for n := 1.0; n <= 16; n++ {
			impulse += now * power
			step += now * power * x / (n + 1)
			ramp += now * power * x * x / ((n + 1) * (n + 2))
			before, now = now, -2*o.zeta*now-before
			power *= x / (n + 1)
		}
		return impulse, step, ramp
	}
	decay := math.Exp(-o.zeta * x)
	sin, cos := math.Sincos(o.free * x)
	impulse = decay * sin / o.free
	step = 1 - decay*cos - o.zeta*impulse
	return impulse, step, x - impulse - 2*o.zeta*step
}

// after returns the state x later under a base acceleration that is a at first
// and changes by j for each unit of x, both over ω² [m].
func (o oscillation) after(x, a, j float64) oscillation {
	impulse, step, ramp := o.impulses(x)
	u, v := o.u, o.v
	o.u = u - u*step + v*impulse - a*step - j*ramp
	o.v = v - v*(step+2*o.zeta*impulse) - (u+a)*impulse - j*step
	return o
}

// amplitude is A of the free vibration A·e^(−ζx)·cos that the state starts.
func (o *oscillation) amplitude() float64 {
	return math.Hypot(o.u, (o.v+o.zeta*o.u)/o.free)
}

// largest returns the largest deflection either way within a piece of length x.
//
// Between the ends it is where u′ = 0. At equal phase, where the vibration adds to
// the drift, the sum of a line and a decaying exponential is convex over the cycles;
// so the first or the last cycle has it, and no others are searched.
func (o oscillation) largest(x, a, j float64) float64 {
	end := o.after(x, a, j)
	most := math.Max(math.Abs(o.u), math.Abs(end.u))
	cycle := 2 * math.Pi / o.free
	most = math.Max(most, o.within(0, math.Min(x, cycle), a, j))
	if x > cycle {
		most = math.Max(most, o.within(x-cycle, x, a, j))
	}
	return most
}

// within returns the largest deflection where u′ = 0 between two times no more
// than a cycle apart, or 0 if it is zero nowhere.
func (o oscillation) within(from, to, a, j float64) float64 {
	// u′ = −j + e^(−ζx)(c·cos + s·sin)(√(1−ζ²)x) is monotone between zeros of u″.
	c := o.v + j
	s := (c*o.zeta - (o.u + a + 2*o.zeta*o.v)) / o.free
	turn := math.Atan2(o.zeta*c-o.free*s, -o.zeta*s-o.free*c)
	first := math.Ceil((o.free*from - turn) / math.Pi)
	most := 0.0
	left := from
	for k := range 4 {
		right := math.Min(to, math.Max(left, (turn+(first+float64(k))*math.Pi)/o.free))
		// Names the function, so that it stays off the heap.
		slope := func(x float64) float64 { return o.after(x, a, j).v }
		if l, r := slope(left), slope(right); l*r < 0 {
			if at, err := root.Between(slope, left, l, right, r, 1e-12); err == nil {
				most = math.Max(most, math.Abs(o.after(at, a, j).u))
			}
		}
		left = right
	}
	return most
}
