package frame

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"
)

// Shape returns a natural vibration, modes from 1 to 100, and its frequency [Hz]. Where two
// modes have one frequency it is some mixture of them. It errs as
// [Planar.Frequency], with [ErrStubby] too, when shape and value are returned.
//
// Method: the bow that a force far smaller calls up at that frequency (inverse
// iteration); its sign is that of the largest deflection of a joint or piece's end.
func (p Planar) Shape(mode int) (Curve, float64, error) {
	omega2, s, err := p.mode("frame.Planar.Shape: mode", mode)
	if err != nil {
		return Curve{}, 0, err
	}
	var c Curve
	s.chain(omega2, &c)
	for i := range c.knots { // no vibration is at right angles to all of these
		x := float64(i + 1)
		c.knots[i].right = [2]float64{math.Sin(3 * x * x), math.Cos(5 * x * x)}
	}
	for range 3 {
		c.solve()
		size := 0.0
		for i := range c.knots {
			size = math.Max(size, math.Max(math.Abs(c.knots[i].bow[0]), math.Abs(c.knots[i].bow[1])))
		}
		for i := range c.knots {
			k := &c.knots[i]
			k.right = [2]float64{k.bow[0] / size, k.bow[1] / size}
		}
	}
	most := 0.0
	for n := 1; n >= 0; n-- { // the turn where nothing moves across
		largest := 0.0
		for i := range c.knots {
			if w := c.knots[i].bow[n]; math.Abs(w) > math.Abs(largest) {
				largest = w
			}
		}
		if math.Abs(largest) > 1e-9*math.Abs(most) {
			most = largest
		}
	}
	c.stretch(1 / most)
	moves := s.inertia(&c, omega2)
	if !(moves > 0 && moves <= math.MaxFloat64) { // of a beam without mass, whose bodies stand still in it
		return Curve{}, 0, fmt.Errorf("%w: mode %d moves nothing that was found", ErrLost, mode)
	}
	c.stretch(1 / (s.Length * math.Sqrt(s.mass*moves)))
	return c, math.Sqrt(omega2*s.rate) / (2 * math.Pi), s.slender(omega2)
}

func (c *Curve) stretch(by float64) {
	for i := range c.knots {
		k := &c.knots[i]
		for n := range k.state {
			k.state[n] *= by
		}
		k.bow[0] *= by
		k.bow[1] *= by
	}
}

// inertia returns twice the kinetic energy of a curve at ω = 1, in units of the beam.
func (s *scaled) inertia(c *Curve, omega2 float64) float64 {
	sum := 0.0
	for i := range len(c.knots) - 1 {
		k := &c.knots[i]
		// A piece is at most a third of a half wave: eight points have it to rounding.
		sum += quad.Fixed(func(x float64) float64 {
			y := c.at(x)
			return s.moving*y[0]*y[0] + s.turning*y[1]*y[1]
		}, k.at, k.at+k.long, 8, nil, 0)
	}
	for i := range s.joints() {
		j, at := s.joint(i)
		y := c.at(at)
		w := y[0] + j.Offset/s.Length*y[1]
		sum += j.Mass/s.mass*w*w + j.Inertia/s.inertiaUnit*y[1]*y[1]
		if j.HungMass > 0 {
			k, h := j.HungOn/s.spring, j.HungMass/s.mass
			hung := y[0] / off(1-omega2*(h/k))
			sum += h * hung * hung
		}
	}
	return sum
}
