package frame

import "math"

type (
	mat3 [3][3]float64
	mat6 [6][6]float64
)

// line is a member, or a piece of one, ready to be put into a frame's matrix.
type line struct {
	a, b           int  // nodes
	axes           mat3 // rows: its own x, y, z in the frame's axes
	arm            [2][3]float64
	armed          bool
	length         float64
	stretch, twist rod
	y, z           flexure // motion along its own y and z
}

func (m *Member) line(nodes [][3]float64) line {
	along := m.chord(nodes)
	l := line{a: m.From, b: m.To, arm: m.Offset, armed: m.Offset != [2][3]float64{}, length: norm(along)}
	up := m.Up
	if up == [3]float64{} {
		up = [3]float64{0, 0, 1}
		if level := math.Hypot(along[0], along[1]); level < 1e-6*l.length {
			up = [3]float64{-along[2], 0, 0} // so that y is the frame's y
		}
	}
	y := cross(up, along)
	z := cross(along, y)
	for i, v := range [3][3]float64{along, y, z} {
		n := norm(v)
		for j := range v {
			l.axes[i][j] = v[j] / n
		}
	}
	s, metal := m.Section, m.Metal
	mass := metal.Density * s.Area
	l.stretch = rod{metal.Young * s.Area, mass}
	l.twist = rod{metal.Shear() * s.J, metal.Density * (s.Iy + s.Iz)}
	bend := func(i, shear float64) flexure {
		f := flexure{ei: metal.Young * i, line: mass, tension: m.Axial}
		if shear > 0 {
			f.shear, f.rotary = 1/(metal.Shear()*shear), metal.Density*i
		}
		return f
	}
	l.y, l.z = bend(s.Iz, m.ShearY), bend(s.Iy, m.ShearZ)
	return l
}

// ends is the dynamic stiffness of a line in its own axes, in even and odd motion
// of its ends, with the integrals of even motions over half of it.
type ends struct {
	axial, torsion [2]dual // even, odd
	y, z           [2]half
	sumX           dual // of u by u of the end
	sumYW, sumYT   dual // of v by v and by θz
	sumZW, sumZT   dual // of w by w and by −θy
	between        int  // natural frequencies below √λ with both ends clamped
}

// stiffness returns the ends of a line at λ; linear takes what is true at λ = 0 and
// its tangent, the stiffness and consistent mass of one finite element.
func (l *line) stiffness(e *ends, lambda float64, linear bool) {
	at := lambda
	if linear {
		at = 0
	}
	h := l.length / 2
	e.axial[0], e.axial[1], e.sumX = l.stretch.halves(at, h)
	e.torsion[0], e.torsion[1], _ = l.twist.halves(at, h)
	e.y[0], e.y[1], e.sumYW, e.sumYT = l.y.halves(at, h)
	if l.z == l.y {
		e.z, e.sumZW, e.sumZT = e.y, e.sumYW, e.sumYT
	} else {
		e.z[0], e.z[1], e.sumZW, e.sumZT = l.z.halves(at, h)
	}
	e.between = 0
	if linear {
		e.tangent(lambda)
		return
	}
	e.between = l.stretch.held(at, h) + l.twist.held(at, h) + l.y.held(at, h, e.y[0], e.y[1]) + l.z.held(at, h, e.z[0], e.z[1])
}

func (e *ends) tangent(lambda float64) {
	for i := range 2 {
		for _, d := range []*dual{&e.axial[i], &e.torsion[i], &e.y[i].ww, &e.y[i].wt, &e.y[i].tt, &e.z[i].ww, &e.z[i].wt, &e.z[i].tt} {
			d.v += lambda * d.d
		}
	}
}

// corner is the stiffness, or its slope by −λ, that ties the motion of one end to the force
// at another in the line's own axes: force by motion, turn by turn, along x, y and
// z; wt ties y to the turn about z and z to that about y, and tw the other way round.
type corner struct {
	uu, tt   [3]float64
	wtY, wtZ float64
	twY, twZ float64
}

// corners returns those of start with start, start with end and end with end.
func (e *ends) corners(mass bool) (c [3]corner) {
	pick := func(d dual) float64 {
		if mass {
			return -d.d / 2
		}
		return d.v / 2
	}
	type bend struct{ ww, wt, tt [2]float64 }
	read := func(h *[2]half) (b bend) {
		for i := range h {
			b.ww[i], b.wt[i], b.tt[i] = pick(h[i].ww), pick(h[i].wt), pick(h[i].tt)
		}
		return b
	}
	ae, ao, te, to := pick(e.axial[0]), pick(e.axial[1]), pick(e.torsion[0]), pick(e.torsion[1])
	y, z := read(&e.y), read(&e.z)
	// Even: w = (w1+w2)/2, θ = (θ2−θ1)/2; odd: w = (w2−w1)/2, θ = (θ1+θ2)/2. Turning
	// about y is against the slope of z.
	same := corner{
		uu: [3]float64{ae + ao, y.ww[0] + y.ww[1], z.ww[0] + z.ww[1]},
		tt: [3]float64{te + to, z.tt[0] + z.tt[1], y.tt[0] + y.tt[1]},
	}
	wy, wz := y.wt[0]+y.wt[1], z.wt[0]+z.wt[1]
	same.wtY, same.wtZ, same.twY, same.twZ = -wy, wz, -wy, wz
	c[0], c[2] = same, same
	c[2].wtY, c[2].wtZ, c[2].twY, c[2].twZ = wy, -wz, wy, -wz
	dy, dz := y.wt[0]-y.wt[1], z.wt[0]-z.wt[1]
	c[1] = corner{
		uu:  [3]float64{ae - ao, y.ww[0] - y.ww[1], z.ww[0] - z.ww[1]},
		tt:  [3]float64{te - to, z.tt[1] - z.tt[0], y.tt[1] - y.tt[0]},
		wtY: dy, wtZ: -dz, twY: -dy, twZ: dz,
	}
	return c
}

// block turns a corner into the frame's axes, from end i to end j of the line, and
// out to its nodes.
func (l *line) block(c *corner, i, j int, k *mat6) {
	r := &l.axes
	for p := range 3 {
		for q := range 3 {
			var uu, ut, tu, tt float64
			for d := range 3 {
				uu += c.uu[d] * r[d][p] * r[d][q]
				tt += c.tt[d] * r[d][p] * r[d][q]
			}
			ut = c.wtY*r[1][p]*r[2][q] + c.wtZ*r[2][p]*r[1][q]
			tu = c.twY*r[2][p]*r[1][q] + c.twZ*r[1][p]*r[2][q]
			k[p][q], k[p][q+3], k[p+3][q], k[p+3][q+3] = uu, ut, tu, tt
		}
	}
	if l.armed {
		carry(k, l.arm[i], l.arm[j])
	}
}

// carry moves a block of forces by motions at two points to nodes: the points lie at a
// and b from them, so that u of the point is u + θ×b and the moment on the node m + a×f.
func carry(k *mat6, a, b [3]float64) {
	for p := range 6 {
		u := [3]float64{k[p][0], k[p][1], k[p][2]}
		m := cross(b, u) // u·(θ×b) = θ·(b×u)
		for q := range 3 {
			k[p][q+3] += m[q]
		}
	}
	for q := range 6 {
		m := cross(a, [3]float64{k[0][q], k[1][q], k[2][q]})
		for p := range 3 {
			k[p+3][q] += m[p]
		}
	}
}
