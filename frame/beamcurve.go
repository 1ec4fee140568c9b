package frame

import (
	"sort"

	"meltflight/internal/input"
)

// Bent is what a beam does at one place. The signs are those of motion across and of
// turning from the beam's line towards it; force and moment are those of what lies beyond
// on what lies before.
type Bent struct {
	Deflection float64 // across [m]
	Turn       float64 // of the section; the line's slope less what shear gives [rad]
	Moment     float64 // EI × change of Turn along the beam [N·m]
	Force      float64 // across the straight line of the beam [N]
}

// Curve is a beam bent by loads or by a natural vibration.
type Curve struct {
	medium          medium
	length, bending float64
	knots           []knot
	loads           []BeamLoad // in units of the beam, for the places between the knots
	even            float64    // load along the length, in units of the beam
}

// knot is a place where pieces meet, and the piece from it on.
type knot struct {
	at, long   float64 // place and length of the piece, as parts of the beam's
	t          piece
	soft       two // inverse of t.df
	z          two // of the joint here
	held       [2]bool
	add        [4]float64 // motion and force that loads add across the piece
	pivot      two        // inverse of the eliminated matrix
	state      [4]float64 // motion and force at the start of the piece
	right, bow [2]float64 // right side and solution
}

// At returns deflection, turn, moment and force at a place, 0 to the length [m]. At
// a joint or a load these are what lies just beyond it, at the end just before.
// Those of a mode are for 1 kg of modal mass, ∫m·w² = 1 kg·m², so that its strain
// energy is ω²/2 [J]. It errs on a place off the beam.
func (c Curve) At(place float64) (Bent, error) {
	var f input.Faults
	f.Between("frame.Curve.At: place", place, 0, c.length, "m")
	if err := f.Err(); err != nil {
		return Bent{}, err
	}
	if len(c.knots) < 2 {
		f.Refuse("frame.Curve: knots", float64(len(c.knots)), "", "a curve of Planar.Deflection or Planar.Shape")
		return Bent{}, f.Err()
	}
	y := c.at(place / c.length)
	l, ei := c.length, c.bending
	return Bent{Deflection: y[0] * l, Turn: y[1], Moment: y[3] * ei / l, Force: y[2] * ei / (l * l)}, nil
}

// at is At in units of the beam.
func (c *Curve) at(x float64) [4]float64 {
	i := sort.Search(len(c.knots)-2, func(i int) bool { return x < c.knots[i+1].at })
	k := &c.knots[i]
	t := c.medium.across(x - k.at)
	y := t.take(k.state)
	add := c.loaded(&t, k.at, x, x < k.at+k.long)
	for n := range y {
		y[n] += add[n]
	}
	return y
}

// take carries motion and force across the piece.
func (t *piece) take(y [4]float64) [4]float64 {
	d, f := [2]float64{y[0], y[1]}, [2]float64{y[2], y[3]}
	a, b := t.dd.on(d), t.df.on(f)
	p, q := t.fd.on(d), t.ff.on(f)
	return [4]float64{a[0] + b[0], a[1] + b[1], p[0] + q[0], p[1] + q[1]}
}

// loaded returns what the loads between two places add at the second, those on the
// first and, if closed, on the second included.
func (c *Curve) loaded(t *piece, from, to float64, closed bool) [4]float64 {
	e := c.even
	add := [4]float64{t.even[0] * e, t.even[1] * e, t.evenForce[0] * e, t.evenForce[1] * e}
	for _, l := range c.loads {
		if l.At < from || l.At > to || l.At == to && !closed {
			continue
		}
		rest := c.medium.across(to - l.At)
		for n, v := range rest.take([4]float64{0, 0, -l.Force, -l.Moment}) {
			add[n] += v
		}
	}
	return add
}

// chain cuts the beam at its joints and into pieces as count does, and eliminates.
func (s *scaled) chain(omega2 float64, c *Curve) {
	c.medium, c.length, c.bending = s.medium(omega2), s.Length, s.Bending
	_, largest := c.medium.waves()
	for i := range s.joints() {
		j, at := s.joint(i)
		z, _ := s.dynamic(j, omega2)
		k := knot{at: at, z: z, held: j.Hold.still()}
		if i == s.joints()-1 {
			c.knots = append(c.knots, k)
			break
		}
		_, next := s.joint(i + 1)
		pieces := int((next-at)*largest) + 1
		k.long = (next - at) / float64(pieces)
		k.t = c.medium.across(k.long)
		det := k.t.df.det()
		k.soft = k.t.df.adjoint()
		for n := range k.soft {
			k.soft[n][0] /= det
			k.soft[n][1] /= det
		}
		for range pieces {
			c.knots = append(c.knots, k)
			k.at, k.z, k.held = k.at+k.long, two{}, [2]bool{}
		}
	}
	var before two // stiffness of all before, at the knot
	for i := range c.knots {
		k := &c.knots[i]
		m := before.plus(k.z).plus(k.soft.times(k.t.dd))
		k.pivot = free(m, k.held)
		across := k.pivot.times(k.soft)
		back := k.soft.transpose().times(across)
		before = k.t.ff.times(k.soft)
		for r := range 2 {
			for q := range 2 {
				before[r][q] -= back[r][q]
			}
		}
	}
}

// free returns the inverse over the motions that are not held, zero for the others.
func free(m two, held [2]bool) two {
	switch {
	case held[0] && held[1]:
		return two{}
	case held[0]:
		return two{{0, 0}, {0, 1 / off(m[1][1])}}
	case held[1]:
		return two{{1 / off(m[0][0]), 0}, {0, 0}}
	}
	inverse, det := m.adjoint(), off(m.det())
	for n := range inverse {
		inverse[n][0] /= det
		inverse[n][1] /= det
	}
	return inverse
}

// off keeps a divisor off zero.
func off(x float64) float64 {
	if x == 0 {
		return 1e-100
	}
	return x
}

func (a two) transpose() two { return two{{a[0][0], a[1][0]}, {a[0][1], a[1][1]}} }

// solve finds the bow of every knot from its right side.
func (c *Curve) solve() {
	for i := range c.knots {
		k := &c.knots[i]
		k.bow = k.pivot.on(k.right)
		if i+1 < len(c.knots) {
			pushed := k.soft.transpose().on(k.bow)
			c.knots[i+1].right[0] += pushed[0]
			c.knots[i+1].right[1] += pushed[1]
		}
	}
	for i := len(c.knots) - 2; i >= 0; i-- {
		k := &c.knots[i]
		more := k.pivot.on(k.soft.on(c.knots[i+1].bow))
		k.bow[0] += more[0]
		k.bow[1] += more[1]
	}
	for i := range len(c.knots) - 1 {
		k := &c.knots[i]
		d := k.t.dd.on(k.bow)
		next := c.knots[i+1].bow
		f := k.soft.on([2]float64{next[0] - d[0] - k.add[0], next[1] - d[1] - k.add[1]})
		k.state = [4]float64{k.bow[0], k.bow[1], f[0], f[1]}
	}
}
