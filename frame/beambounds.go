package frame

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"

	"meltflight/internal/input"
)

// SagFrequency returns the frequency of a mass that sinks by a sag, 1e-12 to 1e3
// [m], under its weight on a spring without mass: √(g/sag)/2π [Hz], with standard
// gravity. Of a beam with its sag at mid-span it is no more than a guess. It errs
// on other sags. Source: W. Thomson, M. Dahleh, Theory of Vibration with
// Applications, 5th ed., eq. 2.2-9, from memory.
func SagFrequency(sag float64) (float64, error) {
	var f input.Faults
	f.Between("frame.SagFrequency: sag", sag, 1e-12, 1e3, "m")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return math.Sqrt(gravity/sag) / (2 * math.Pi), nil
}

// Bounds returns two frequencies between which the first natural frequency lies
// [Hz], found without a search: low after Dunkerley, high after Rayleigh, with the
// beam bowed by the weight of all that is on it. It errs on a beam out of range,
// with [ErrLoose], [ErrBuckled] and, where no mass moves or weighs, [ErrNoModes].
//
// Dunkerley: 1/ω² is at most the sum of inertia × motion of its own place under a
// unit force there (Phil. Trans. R. Soc. A 185 (1894) 279), in the beam's own length an
// integral. Rayleigh: a beam let go from any bow has its energies in a ratio no
// lower than ω² (Theory of Sound, art. 89, from memory).
func (p Planar) Bounds() (low, high float64, err error) {
	if err := p.Validate(); err != nil {
		return 0, 0, err
	}
	s := p.scale()
	if err := s.rests(); err != nil {
		return 0, 0, err
	}
	if p.vibrations() == 0 {
		return 0, 0, fmt.Errorf("frame.Planar.Bounds: %w: no mass moves", ErrNoModes)
	}
	var c Curve
	s.chain(0, &c)
	low, high = math.Sqrt(s.rate/s.dunkerley(&c))/(2*math.Pi), math.Sqrt(s.rate*s.rayleigh(&c))/(2*math.Pi)
	if !(low > 0 && low <= math.MaxFloat64 && high > 0 && high <= math.MaxFloat64) { // weights that bow nothing, as of a body without mass that only turns
		return 0, 0, fmt.Errorf("frame.Planar.Bounds: %w: its weight bows it not at all", ErrNoModes)
	}
	return low, high, nil
}

// give returns motion and turning at x under a unit force and moment there, each
// under its own, and the turning under the force.
func (s *scaled) give(c *Curve, x float64) (across, turning, both float64) {
	l, ei := s.Length, s.Bending
	s.bend(c, 0, []BeamLoad{{At: x * l, Force: ei / (l * l)}})
	y := c.at(x)
	s.bend(c, 0, []BeamLoad{{At: x * l, Moment: ei / l}})
	return y[0], c.at(x)[1], y[1]
}

func (s *scaled) dunkerley(c *Curve) float64 {
	sum := 0.0
	for i := range s.joints() {
		j, at := s.joint(i)
		across, turning, both := s.give(c, at)
		m, hung, r := j.Mass/s.mass, j.HungMass/s.mass, j.Offset/s.Length
		sum += (m+hung)*across + 2*m*r*both + (j.Inertia/s.inertiaUnit+m*r*r)*turning
		if hung > 0 {
			sum += hung * s.spring / j.HungOn
		}
		if i == s.joints()-1 {
			break
		}
		_, next := s.joint(i + 1)
		sum += quad.Fixed(func(x float64) float64 {
			across, turning, _ := s.give(c, x)
			return s.moving*across + s.turning*turning
		}, at, next, 12, nil, 0)
	}
	return sum
}

// rayleigh returns ω² from the bow under the weight of all.
func (s *scaled) rayleigh(c *Curve) float64 {
	l := s.Length
	unit := s.Bending / (l * l * l) // the weight of all bends the beam by about its length
	turned := 1.0                   // where all inertia is against turning, the bow under moments like it
	for i := range s.joints() {
		if j, _ := s.joint(i); s.moving+j.Mass+j.HungMass > 0 {
			turned = 0
		}
	}
	var weights []BeamLoad
	for i := range s.joints() {
		j, at := s.joint(i)
		if m, inertia := (j.Mass+j.HungMass)/s.mass, turned*j.Inertia/s.inertiaUnit; m+inertia > 0 {
			weights = append(weights, BeamLoad{At: at * l, Force: m * unit * l, Moment: (j.Mass/s.mass*j.Offset + inertia*l) * unit * l})
		}
	}
	s.bend(c, s.moving*unit, weights)
	// What the weights do is twice the strain energy.
	work, inertia := 0.0, 0.0
	for i := range len(c.knots) - 1 {
		k := &c.knots[i]
		work += quad.Fixed(func(x float64) float64 { return s.moving * c.at(x)[0] }, k.at, k.at+k.long, 12, nil, 0)
		inertia += quad.Fixed(func(x float64) float64 {
			y := c.at(x)
			return s.moving*y[0]*y[0] + s.turning*y[1]*y[1]
		}, k.at, k.at+k.long, 12, nil, 0)
	}
	for i := range s.joints() {
		j, at := s.joint(i)
		y := c.at(at)
		m, r := j.Mass/s.mass, j.Offset/l
		w := y[0] + r*y[1]
		hung := j.HungMass / s.mass
		work += m*w + turned*j.Inertia/s.inertiaUnit*y[1]
		inertia += m*w*w + j.Inertia/s.inertiaUnit*y[1]*y[1]
		if hung > 0 {
			w := y[0] + hung*s.spring/j.HungOn
			work += hung * w
			inertia += hung * w * w
		}
	}
	return work / inertia
}
