package frame

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// BeamLoad is a force and a moment on a beam at one place.
type BeamLoad struct {
	At     float64 // from the start [m]
	Force  float64 // -1e12 to 1e12 [N]
	Moment float64 // -1e12 to 1e12 [N·m]
}

// Deflection returns the beam bent by loads at rest and one along its length, even
// -1e12 to 1e12 [N/m], up to 1000 loads. Bodies and hung masses are not loads unless
// given as such. To ten digits; joints nearer than a hundredth of the length cost some.
//
// It errs on a beam or load out of range, with [ErrLoose] and with [ErrBuckled].
func (p Planar) Deflection(even float64, loads ...BeamLoad) (Curve, error) {
	var f input.Faults
	p.faults(&f)
	const most = 1e12
	f.Between("frame.Planar.Deflection: even", even, -most, most, "N/m")
	f.Count("frame.Planar.Deflection: loads", len(loads), 0, 1000)
	for i, l := range loads {
		if l.At >= 0 && l.At <= p.Length && math.Abs(l.Force) <= most && math.Abs(l.Moment) <= most {
			continue
		}
		name := fmt.Sprintf("frame.Planar.Deflection: loads[%d].", i)
		f.Between(name+"At", l.At, 0, p.Length, "m")
		f.Between(name+"Force", l.Force, -most, most, "N")
		f.Between(name+"Moment", l.Moment, -most, most, "N·m")
	}
	if err := f.Err(); err != nil {
		return Curve{}, err
	}
	s := p.scale()
	if err := s.rests(); err != nil {
		return Curve{}, err
	}
	var c Curve
	s.chain(0, &c)
	s.bend(&c, even, loads)
	return c, nil
}

// rests tells whether loads find the beam at rest.
func (s *scaled) rests() error {
	if n := s.loose(); n > 0 {
		return fmt.Errorf("frame.Planar: %w: it moves without bending in %d of 2 ways", ErrLoose, n)
	}
	return s.stands()
}

// bend puts loads on a chain at zero frequency.
func (s *scaled) bend(c *Curve, even float64, loads []BeamLoad) {
	l := s.Length
	c.even = even * l * l * l / s.Bending
	c.loads = make([]BeamLoad, len(loads))
	for i, load := range loads {
		c.loads[i] = BeamLoad{At: load.At / l, Force: load.Force * l * l / s.Bending, Moment: load.Moment * l / s.Bending}
	}
	for i := range c.knots {
		c.knots[i].right = [2]float64{}
	}
	last := len(c.knots) - 1
	for i := range last {
		k, next := &c.knots[i], &c.knots[i+1]
		k.add = c.loaded(&k.t, k.at, next.at, i+1 == last)
		near := k.soft.on([2]float64{k.add[0], k.add[1]})
		far := k.t.ff.on(near)
		for n := range 2 {
			k.right[n] -= near[n]
			next.right[n] += far[n] - k.add[2+n]
		}
	}
	c.solve()
}
