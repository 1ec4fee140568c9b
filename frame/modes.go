package frame

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// Vibration is a natural vibration of a space frame. Its motions are scaled to a
// modal mass ∫u² dm of 1 kg.
type Vibration struct {
	Frequency     float64      // 0 for a rigid body or mechanism [Hz]
	Rigid         bool         // moves as a rigid body or mechanism, as far as rounding lets tell
	Nodes         [][6]float64 // motion of each node [m, rad]
	Participation [3]float64   // Γ = ∫u dm along x, y and z, over √(1 kg) [√kg]
	Effective     [3]float64   // Γ², what of the mass an acceleration along x, y, z calls up [kg]
	Beyond        []string     // where theory or rounding do not hold
	motion
}

// motion is what a frame's lines do, from which the motion inside them follows.
type motion struct {
	a      *assembly
	nodes  [][6]float64 // those between pieces too
	lambda float64
	field  [3]float64 // acceleration that acts as a load [m/s²]
}

const mostVibrations = 1000

// Modes returns the n lowest natural vibrations, rising in frequency, 1 to 1000,
// rigid motions first. It errs on a frame or n out of range, on more modes than there are, on a
// frame that its members' Axial loads buckle ([ErrBuckled]) and with [ErrLost].
//
// Method: each member's dynamic stiffness is exact for its theory, so that
// frequencies are exact to rounding; the count of W. H. Wittrick and F. W. Williams
// (Quart. J. Mech. Appl. Math. 24 (1971) 263, from memory) proves that none below
// is missing and how often one repeats. Members that vibrate between still nodes below the last
// frequency are cut first, which changes nothing else. Modal masses are xᵀ(−dD/dω²)x, exact too.
//
// Rounding leaves a relative error of a frequency of about 1e-16·EA/l ÷ (mass of all
// × ω²), EA/l that of the shortest members: a frame thousands of members long that
// is held at one end alone has lowest modes that float64 cannot tell; Beyond says so.
func (s SpaceFrame) Modes(n int) ([]Vibration, error) {
	return s.modes(n, nil, false)
}

func (s *SpaceFrame) modes(n int, pieces []int, linear bool) ([]Vibration, error) {
	var f input.Faults
	f.Add(s.Validate())
	f.Count("frame.SpaceFrame.Modes: number", n, 1, mostVibrations)
	if err := f.Err(); err != nil {
		return nil, err
	}
	a, err := s.assemble(pieces, linear)
	if err != nil {
		return nil, err
	}
	find, rigid, err := a.begin()
	if err != nil {
		return nil, err
	}
	if !find.above(n) {
		f.Refuse("frame.SpaceFrame.Modes: number", float64(n), "", fmt.Sprintf("at most %d, all that the frame has", find.samples[len(find.samples)-1].below))
		return nil, f.Err()
	}
	list := make([]Vibration, n)
	for i := range list {
		var e eigen
		if i >= rigid && !linear {
			if cut := a.loose(find.narrow(i + 1).lambda); cut != nil {
				if a, err = s.assemble(cut, false); err != nil {
					return nil, err
				}
				find.turnTo(a)
			}
		}
		if i < rigid {
			e = find.rigid()
		} else if e, err = find.next(i + 1); err != nil {
			return nil, fmt.Errorf("frame.SpaceFrame.Modes: mode %d: %w", i+1, err)
		}
		list[i] = a.vibration(e, i < rigid, len(s.Nodes))
		if i >= rigid {
			list[i].Beyond = s.beyond(e.lambda, find.floor)
		}
	}
	for i := range list { // what the motion inside members does not need
		list[i].a.k, list[i].a.m, list[i].a.border = skyline{}, skyline{}, nil
	}
	return list, nil
}

// begin starts a search with the number of rigid motions. It errs on a frame that is buckled.
func (a *assembly) begin() (find *search, rigid int, err error) {
	find = newSearch(a)
	if rigid = find.at(find.floor); rigid > 0 {
		if n := a.count(-find.floor); n > 0 {
			return nil, 0, fmt.Errorf("frame.SpaceFrame: %w in %d ways by the axial loads of its members", ErrBuckled, n)
		}
		return find, rigid, nil
	}
	// A first mode from statics.
	find.start()
	move := 0.0
	for range 3 {
		move = find.inverse(find.floor, false)
	}
	if move > find.floor && move < 1e250 {
		find.at(2 * move)
	}
	return find, rigid, nil
}

// loose returns into how many pieces each member is to be cut so that none vibrates
// below √λ with some room while its ends are still, or nil if they are so now.
// More pieces than needed would cost low frequencies their last digits.
func (a *assembly) loose(lambda float64) (pieces []int) {
	const room = 1.3
	var e ends
	for i, list := range a.pieces {
		l := a.lines[list[0]]
		if list[0] > 0 && l.alike(&a.lines[list[0]-1]) && len(a.pieces[i-1]) == len(list) {
			if pieces != nil {
				pieces[i] = pieces[i-1]
			}
			continue
		}
		n := len(list)
		whole := l.length * float64(n)
		for ; n <= mostVibrations; n++ {
			l.length = whole / float64(n)
			if l.stiffness(&e, room*lambda, false); e.between == 0 {
				break
			}
		}
		if n > len(list) && pieces == nil {
			pieces = make([]int, len(a.pieces))
			for j := range pieces {
				pieces[j] = len(a.pieces[j])
			}
		}
		if pieces != nil {
			pieces[i] = n
		}
	}
	return pieces
}

// turnTo goes on with the same frame cut otherwise; what was counted holds.
func (s *search) turnTo(a *assembly) {
	n := len(a.k.first)
	s.a, s.x, s.b, s.found = a, make([]float64, n), make([]float64, n), nil
}

// rigid returns one more motion below the floor.
func (s *search) rigid() eigen {
	s.a.count(s.floor)
	s.start()
	for range 6 {
		s.inverse(s.floor, true)
	}
	return s.keep(0)
}

// vibration turns a root into what a user reads.
func (a *assembly) vibration(e eigen, rigid bool, nodes int) Vibration {
	v := Vibration{Rigid: rigid, Frequency: math.Sqrt(e.lambda) / (2 * math.Pi)}
	v.motion = motion{a: a, nodes: a.spread(e.x), lambda: e.lambda}
	v.Nodes = v.motion.nodes[:nodes:nodes]
	for d := range 3 {
		var unit [3]float64
		unit[d] = 1
		for i, load := range a.weight(unit, e.lambda) {
			for k, f := range load {
				v.Participation[d] += f * v.motion.nodes[i][k]
			}
		}
		v.Effective[d] = v.Participation[d] * v.Participation[d]
	}
	return v
}

// spread returns the motion of every node.
func (a *assembly) spread(x []float64) [][6]float64 {
	nodes := make([][6]float64, len(a.at))
	for i, eq := range a.eq {
		for d, e := range eq {
			if e >= 0 {
				nodes[i][d] = x[e]
			}
		}
	}
	return nodes
}

// beyond tells members too stubby for the theory they are given, and digits lost.
func (s *SpaceFrame) beyond(lambda, floor float64) (words []string) {
	for i := range s.Members {
		m := &s.Members[i]
		for d, shear := range [2]float64{m.ShearZ, m.ShearY} {
			inertia := [2]float64{m.Section.Iy, m.Section.Iz}[d]
			// βr, β⁴ = ρAω²/EI
			if x := math.Sqrt(math.Sqrt(m.Metal.Density * lambda * inertia / (m.Metal.Young * m.Section.Area))); shear == 0 && x > stubby {
				return append(words, fmt.Sprintf("frame.SpaceFrame.Members[%d]: wave number × radius of gyration is %.3g, at most %g for bending without shear: give its shear areas", i, x, stubby))
			}
		}
	}
	if lost := floor / (100 * lambda); lost > 1e-9 {
		words = append(words, fmt.Sprintf("rounding leaves the frequency a relative error of about %.1g", lost))
	}
	return words
}

// Along returns the motion of a point of a member at x from its start, 0 to its
// length [m], in the frame's axes: along x, y, z [m] and about them [rad]. It errs
// on a member that is not there and a point outside it.
func (m *motion) Along(member int, x float64) ([6]float64, error) {
	var f input.Faults
	if m.a == nil {
		f.Refuse("frame: motion", math.NaN(), "", "one that Modes or Static returned")
		return [6]float64{}, f.Err()
	}
	f.Count("frame: motion along a member: member", member, 0, len(m.a.pieces)-1)
	if !f.None() {
		return [6]float64{}, f.Err()
	}
	pieces := m.a.pieces[member]
	length := m.a.lines[pieces[0]].length
	whole := length * float64(len(pieces))
	f.Between("frame: motion along a member: place", x, 0, whole*(1+1e-12), "m")
	if err := f.Err(); err != nil {
		return [6]float64{}, err
	}
	k := min(int(x/length), len(pieces)-1)
	return m.inside(&m.a.lines[pieces[k]], math.Min(x-float64(k)*length, length)), nil
}

// inside cuts a line at x and lets the cut move as its two parts bid.
func (m *motion) inside(l *line, x float64) (u [6]float64) {
	left, right := l.local(0, &m.nodes[l.a]), l.local(1, &m.nodes[l.b])
	const near = 1e-6
	switch {
	case x <= near*l.length:
		u = left
		x = 0
	case x >= (1-near)*l.length:
		u = right
	default:
		parts := [2]line{*l, *l}
		parts[0].length, parts[1].length = x, l.length-x
		var e [2]ends
		lambda := m.lambda
		if m.a.linear {
			lambda = 0
		}
		var sum mat6
		var force [6]float64
		q := l.turnTo(m.field)
		for i := range parts {
			p := &parts[i]
			p.axes, p.armed = mat3{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, false
			p.stiffness(&e[i], lambda, false)
			c := e[i].corners(false)
			var own, other mat6
			p.block(&c[2-2*i], 0, 0, &own)
			p.block(&c[1], 0, 1, &other) // start with end
			load := e[i].load(l.stretch.inertia, q)[1-i]
			for r := range 6 {
				force[r] += load[r]
				for s := range 6 {
					sum[r][s] += own[r][s]
					if i == 0 {
						force[r] -= other[s][r] * left[s]
					} else {
						force[r] -= other[r][s] * right[s]
					}
				}
			}
		}
		full := newSkyline(make([]int, 6))
		for r := range 6 {
			for s := range r + 1 {
				full.add(r, s, sum[r][s])
			}
		}
		full.factor(nil, nil)
		full.solve(force[:])
		u = force
	}
	var out [6]float64
	for d := range 3 {
		for i := range 3 {
			out[d] += l.axes[i][d] * u[i]
			out[d+3] += l.axes[i][d] * u[i+3]
		}
	}
	return out
}

// local returns the motion of an end of the line in its own axes.
func (l *line) local(end int, node *[6]float64) (u [6]float64) {
	turn := [3]float64{node[3], node[4], node[5]}
	move := cross(turn, l.arm[end])
	for d := range move {
		move[d] += node[d]
	}
	move, turn = l.turnTo(move), l.turnTo(turn)
	return [6]float64{move[0], move[1], move[2], turn[0], turn[1], turn[2]}
}

// turnTo returns a vector in the line's own axes.
func (l *line) turnTo(v [3]float64) [3]float64 {
	return [3]float64{dot(l.axes[0], v), dot(l.axes[1], v), dot(l.axes[2], v)}
}
