package frame

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

const mostPlanarModes = 100

// scaled is a beam in units of its length, its EI and the mass of all.
type scaled struct {
	*Planar
	mass                       float64 // [kg]
	rate                       float64 // EI/L³mass, unit of ω² [1/s²]
	moving, turning            float64 // inertia ÷ length
	shear, axial               float64
	spring, hinge, inertiaUnit float64 // units of those [N/m], [N·m/rad], [kg·m²]
}

func (p *Planar) scale() scaled {
	l := p.Length
	s := scaled{Planar: p, mass: p.Line * l}
	for i := range p.joints() {
		j, _ := p.joint(i)
		s.mass += j.Mass + j.HungMass + j.Inertia/(l*l)
	}
	s.spring, s.hinge, s.inertiaUnit = p.Bending/(l*l*l), p.Bending/l, s.mass*l*l
	s.rate = s.spring / s.mass
	s.moving = p.Line * l / s.mass
	s.axial = p.Axial * l * l / p.Bending
	if p.Shear > 0 {
		s.shear = p.Bending / (p.Shear * l * l)
		s.turning = s.moving * p.Gyration * p.Gyration / (l * l)
	}
	return s
}

func (s *scaled) medium(omega2 float64) medium {
	return newMedium(s.shear, s.axial, s.moving*omega2, s.turning*omega2)
}

// dynamic returns the stiffness of a joint less ω² times its inertia, and the
// number of its hung masses that ring below ω by themselves.
func (s *scaled) dynamic(j *Joint, omega2 float64) (z two, below int) {
	m, r := j.Mass/s.mass*omega2, j.Offset/s.Length
	z[0][0] = j.Spring/s.spring - m
	z[0][1] = -m * r
	z[1][0] = z[0][1]
	z[1][1] = j.Hinge/s.hinge - j.Inertia/s.inertiaUnit*omega2 - m*r*r
	if j.HungMass > 0 {
		k, h := j.HungOn/s.spring, j.HungMass/s.mass*omega2
		left := k - h
		if left == 0 {
			left = 0x1p-53 * k
		}
		if left < 0 {
			below = 1
		}
		z[0][0] -= k * (h / left)
	}
	return z, below
}

// count returns how many natural frequencies lie below √omega2; at 0, how many
// ways to buckle.
//
// Method: W. Wittrick and F. Williams, Q. J. Mech. Appl. Math. 24 (1971) 263, from
// memory: as many as the matrix of dynamic stiffness has negative eigenvalues, plus
// the frequencies of its pieces with both ends clamped. A piece shorter than half a
// wave has none of those: ∫w′² and ∫θ′² are at least (π/x)² those of w and θ. So
// the beam is cut into pieces of |λ|x up to 1, and the matrix is eliminated from
// the start on. The part eliminated is carried as a basis of what it allows at its far
// end: unlike a stiffness that stays finite where a clamp would be at resonance, and
// unlike a sum of stiffnesses it keeps its digits where the beam hardly bends.
func (s *scaled) count(omega2 float64) int {
	m := s.medium(omega2)
	_, largest := m.waves()
	if largest > mostWave {
		return math.MaxInt / 2 // more than anyone asks for
	}
	y := basis{d: two{{1, 0}, {0, 1}}}
	sign, n := 1.0, 0 // sign of the determinant of y.d
	joints := s.joints()
	for i := range joints - 1 {
		j, at := s.joint(i)
		z, below := s.dynamic(j, omega2)
		n += below
		held := j.Hold.still()
		y.meet(z, held)
		_, next := s.joint(i + 1)
		pieces := int((next-at)*largest) + 1
		x := (next - at) / float64(pieces)
		t := m.across(x)
		resist := t.df.adjoint() // but for a determinant above zero
		for range pieces {
			far := y.pass(&t)
			pivot := resist.times(far.d).times(y.d.adjoint())
			y = far
			y.even()
			det := math.Copysign(1, y.d.det())
			n += negative(det*sign, sign*(pivot[0][0]*x*x+pivot[1][1]), held)
			sign, held = det, [2]bool{}
		}
	}
	z, below := s.dynamic(&s.End, omega2)
	held := s.End.Hold.still()
	if held[0] && held[1] {
		return n + below
	}
	y.f = y.f.plus(z.times(y.d))
	stiff := y.f.times(y.d.adjoint())
	for k := range held {
		if held[k] {
			y.f[k] = y.d[k]
		}
	}
	return n + below + negative(y.f.det()*sign, sign*(stiff[0][0]+stiff[1][1]), held)
}

// find returns where a count that rises with x passes from below n to n, by
// bisection to neighbouring numbers in four powers of x from 1; ok is false where
// it does not between 1e-200 and 1e200.
func find(n int, count func(x float64) int) (x float64, ok bool) {
	const far = 16
	lo, hi := 1.0, 1.0
	for count(lo) >= n {
		if hi, lo = lo, lo/far; lo < 1e-200 {
			return 0, false
		}
	}
	for hi == lo || count(hi) < n {
		if lo, hi = hi, hi*far; hi > 1e200 {
			return 0, false
		}
	}
	for hi-lo > 0x1p-52*hi {
		x := lo + 0.5*(hi-lo)
		if x == lo || x == hi {
			break
		}
		if count(x) < n {
			lo = x
		} else {
			hi = x
		}
	}
	return hi, true
}

// Frequency returns a natural frequency of the beam with all that is on it [Hz],
// modes from 1 to 100; motion without bending or force is not counted. The mode is
// the one that has so many below it, so that none is missed or met twice. Rounding
// leaves eleven digits and more; where springs are so soft that the beam hardly
// bends, as many fewer as they are softer than EI/L³.
//
// It errs on a beam or mode out of range, with [ErrBuckled], and with [ErrNoModes]
// where a beam without mass has fewer; with [ErrStubby] the value is returned too.
func (p Planar) Frequency(mode int) (float64, error) {
	omega2, s, err := p.mode("frame.Planar.Frequency: mode", mode)
	if err != nil {
		return 0, err
	}
	return math.Sqrt(omega2*s.rate) / (2 * math.Pi), s.slender(omega2)
}

func (p *Planar) mode(name string, mode int) (omega2 float64, s scaled, err error) {
	var f input.Faults
	p.faults(&f)
	f.Count(name, mode, 1, mostPlanarModes)
	if err := f.Err(); err != nil {
		return 0, s, err
	}
	s = p.scale()
	if err := s.stands(); err != nil {
		return 0, s, err
	}
	if most := p.vibrations(); mode > most {
		return 0, s, fmt.Errorf("frame.Planar: mode %d: %w, the beam without mass has %d", mode, ErrNoModes, most)
	}
	omega2, ok := find(mode+p.loose(), s.count)
	if !ok {
		return 0, s, fmt.Errorf("frame.Planar: mode %d: %w", mode, ErrNoModes)
	}
	return omega2, s, nil
}

// Count returns how many natural frequencies lie below one given, 0 to 1e9 [Hz],
// motion without bending or force not counted. The beam may have ten thousand waves
// at it, or shapes as steep. It errs on a beam or frequency out of range and with [ErrBuckled].
func (p Planar) Count(frequency float64) (int, error) {
	var f input.Faults
	p.faults(&f)
	f.Between("frame.Planar.Count: frequency", frequency, 0, 1e9, "Hz")
	if err := f.Err(); err != nil {
		return 0, err
	}
	s := p.scale()
	if err := s.stands(); err != nil {
		return 0, err
	}
	w := 2 * math.Pi * frequency
	omega2 := w * w / s.rate
	m := s.medium(omega2)
	if _, k := m.waves(); k > mostWave {
		f.Refuse("frame.Planar.Count: frequency", frequency, "Hz", "one of at most ten thousand waves on the beam")
		return 0, f.Err()
	}
	return min(p.vibrations(), max(0, s.count(omega2)-p.loose())), nil
}

const mostWave = 2e4 * math.Pi // |λ| × length [-]

// slender tells whether a beam after Euler and Bernoulli is beyond that theory.
func (s *scaled) slender(omega2 float64) error {
	if s.Shear > 0 {
		return nil
	}
	m := s.medium(omega2)
	k, _ := m.waves()
	if x := k * s.Gyration / s.Length; x > stubby {
		return fmt.Errorf("%w: wave number × radius of gyration is %.3g, at most %g; Shear would count it", ErrStubby, x, stubby)
	}
	return nil
}

// stands returns ErrBuckled where the compression is more than the beam bears.
func (s *scaled) stands() error {
	if s.Axial <= 0 || s.bears(s.axial) {
		return nil
	}
	if load, err := s.BucklingLoad(); err == nil {
		return fmt.Errorf("frame.Planar: %w: a compression of %.6g N, at most %.6g N", ErrBuckled, s.Axial, load)
	}
	return fmt.Errorf("frame.Planar: %w under any compression: nothing keeps it from turning", ErrBuckled)
}

// bears tells whether the beam is straight under a compression in units of EI/L².
func (s scaled) bears(axial float64) bool {
	s.axial = axial
	return s.shear*axial < 1-1e-9 && s.count(0) == 0
}

// BucklingLoad returns the least compression under which the beam bows away [N],
// whatever Axial is. It errs on a beam out of range and with [ErrLoose] where
// nothing keeps the beam from turning, which then falls over under any load.
//
// It is that at which the count of Frequency at zero frequency leaves 0. A hinge
// or spring counts, mass does not.
func (p Planar) BucklingLoad() (float64, error) {
	p.Axial = 0
	if err := p.Validate(); err != nil {
		return 0, err
	}
	s := p.scale()
	p.Axial = 1 // under load a beam on one support turns, and then a shift alone is loose
	moves := p.loose()
	p.Axial = 0
	if p.loose() > moves {
		return 0, fmt.Errorf("frame.Planar.BucklingLoad: %w against turning", ErrLoose)
	}
	axial, ok := find(1, func(axial float64) int {
		if s.bears(axial) {
			return 0
		}
		return 1
	})
	if !ok {
		return 0, fmt.Errorf("frame.Planar.BucklingLoad: %w against turning, or hardly so", ErrLoose)
	}
	return axial * p.Bending / (p.Length * p.Length), nil
}
