package frame

import (
	"errors"
	"math"
)

// ErrMechanism reports a frame that can move without resistance where it must not.
var ErrMechanism = errors.New("a mechanism")

// assembly is a frame ready to be solved: D(λ), its dynamic stiffness at λ = ω²,
// and M(λ) = −dD/dλ, both over the motions that are free.
type assembly struct {
	lines  []line
	member []int   // of which each line is a piece
	pieces [][]int // of each member its lines, from start to end
	at     [][3]float64
	eq     [][6]int // number of each free motion of each node, or -1
	linear bool     // stiffness and consistent mass of finite elements instead
	fixed  struct { // of springs and lumps
		ground, k, m []entry
	}
	k, m   skyline
	lost   []pivot      // weak when last counted
	static [2][]float64 // diagonals of D and M at rest
	scale  []float64    // of each row at the λ last counted
	border *border      // nil if none were
}

// entry is a value of a block between two nodes.
type entry struct {
	a, b  int
	block mat6
}

// assemble prepares a valid frame, its member i in pieces[i] pieces, nil for one each.
func (s *SpaceFrame) assemble(pieces []int, linear bool) (*assembly, error) {
	a := &assembly{linear: linear, at: append([][3]float64{}, s.Nodes...), pieces: make([][]int, len(s.Members))}
	for i := range s.Members {
		l := s.Members[i].line(s.Nodes)
		n := 1
		if pieces != nil {
			n = pieces[i]
		}
		a.cut(i, l, n)
	}
	for i := range s.Lumps {
		a.fixed.m = append(a.fixed.m, entry{s.Lumps[i].Node, s.Lumps[i].Node, s.Lumps[i].inertia()})
	}
	for i := range s.Springs {
		a.spring(&s.Springs[i])
	}
	return a, a.number(s.Supports)
}

// cut lays a member's line in n pieces with new nodes between.
func (a *assembly) cut(member int, l line, n int) {
	from, to, arm := l.a, l.b, l.arm
	start := a.at[from]
	for d := range start {
		start[d] += arm[0][d]
	}
	whole := l.length
	l.length = whole / float64(n)
	for k := range n {
		l.a, l.b, l.arm = from, to, arm
		if k > 0 {
			l.a, l.arm[0] = len(a.at)-1, [3]float64{}
		}
		if k < n-1 {
			l.b, l.arm[1] = len(a.at), [3]float64{}
			p := start
			for d := range p {
				p[d] += l.axes[0][d] * whole * float64(k+1) / float64(n)
			}
			a.at = append(a.at, p)
		}
		l.armed = l.arm != [2][3]float64{}
		a.pieces[member] = append(a.pieces[member], len(a.lines))
		a.lines = append(a.lines, l)
		a.member = append(a.member, member)
	}
}

// inertia returns the body's, at its node.
func (l *Lump) inertia() (m mat6) {
	t := l.tensor()
	for i := range 3 {
		m[i][i] = l.Body.Mass
		for j := range 3 {
			m[i+3][j+3] = t[i][j]
		}
	}
	carry(&m, l.Body.Offset, l.Body.Offset)
	return m
}

func (a *assembly) spring(s *Spring) {
	axes := mat3(s.Axes)
	if s.Axes == [3][3]float64{} {
		axes = mat3{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	}
	var k mat6
	for d := range 3 {
		for p := range 3 {
			for q := range 3 {
				turn := axes[d][p] * axes[d][q]
				k[p][q] += s.Stiffness[d] * turn
				k[p+3][q+3] += s.Stiffness[d+3] * turn
			}
		}
	}
	add := func(i, j int, sign float64, arm, other [3]float64) {
		e := entry{a: i, b: j, block: k}
		for p := range 6 {
			for q := range 6 {
				e.block[p][q] *= sign
			}
		}
		carry(&e.block, arm, other)
		a.fixed.k = append(a.fixed.k, e)
	}
	var none, arm [3]float64
	if s.To == Ground {
		a.fixed.ground = append(a.fixed.ground, entry{s.Node, s.Node, k})
		return
	}
	add(s.Node, s.Node, 1, none, none)
	for d := range arm {
		arm[d] = a.at[s.Node][d] - a.at[s.To][d]
	}
	add(s.To, s.To, 1, arm, arm)
	add(s.Node, s.To, -1, none, arm)
}

// put adds a block between nodes i and j, once for both its places off the diagonal.
func (a *assembly) put(s *skyline, i, j int, b *mat6, sign float64) {
	for p, row := range a.eq[i] {
		if row < 0 {
			continue
		}
		for q, col := range a.eq[j] {
			if col < 0 || i == j && col > row {
				continue
			}
			s.add(row, col, sign*b[p][q])
		}
	}
}

// fill sets D and M at λ and returns the natural frequencies below √λ of the
// lines with both ends clamped.
func (a *assembly) fill(lambda float64) (between int) {
	for i := range a.k.data {
		a.k.data[i], a.m.data[i] = 0, 0
	}
	var e ends
	var b mat6
	for i := range a.lines {
		l := &a.lines[i]
		if i == 0 || !l.alike(&a.lines[i-1]) {
			l.stiffness(&e, lambda, a.linear)
		}
		between += e.between
		for pass, s := range [2]*skyline{&a.k, &a.m} {
			c := e.corners(pass == 1)
			l.block(&c[0], 0, 0, &b)
			a.put(s, l.a, l.a, &b, 1)
			l.block(&c[1], 0, 1, &b)
			a.put(s, l.a, l.b, &b, 1)
			l.block(&c[2], 1, 1, &b)
			a.put(s, l.b, l.b, &b, 1)
		}
	}
	for _, list := range [2][]entry{a.fixed.ground, a.fixed.k} {
		for i := range list {
			a.put(&a.k, list[i].a, list[i].b, &list[i].block, 1)
		}
	}
	for i := range a.fixed.m {
		f := &a.fixed.m[i]
		a.put(&a.k, f.a, f.b, &f.block, -lambda)
		a.put(&a.m, f.a, f.b, &f.block, 1)
	}
	return between
}

// alike reports lines that differ in place alone.
func (l *line) alike(o *line) bool {
	return l.length == o.length && l.stretch == o.stretch && l.twist == o.twist && l.y == o.y && l.z == o.z
}

// count fills and factors D at λ and returns how many natural frequencies lie
// below √λ: those of the lines with both ends clamped, and one for each negative
// pivot. W. H. Wittrick and F. W. Williams, A general algorithm for computing
// natural frequencies of elastic structures, Quart. J. Mech. Appl. Math. 24 (1971)
// 263, from memory.
func (a *assembly) count(lambda float64) int {
	between := a.fill(lambda)
	var negative int
	a.border = nil
	for i := range a.scale {
		a.scale[i] = a.static[0][i] + math.Abs(lambda)*a.static[1][i]
	}
	negative, a.lost = a.k.factor(a.scale, a.lost[:0])
	if len(a.lost) == 0 {
		return between + negative
	}
	a.fill(lambda)
	b, n, ok := newBorder(&a.k, a.lost)
	if !ok { // no better than before
		a.fill(lambda)
		negative, _ = a.k.factor(nil, nil)
		return between + negative
	}
	a.border = b
	return between + n
}

// solve puts the solution of D(λ) as last counted in place of the right side.
func (a *assembly) solve(x []float64) {
	if a.border != nil {
		a.border.solve(&a.k, x)
		return
	}
	a.k.solve(x)
}
