package frame

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// Load is what acts on a space frame at rest.
type Load struct {
	Field  [3]float64 // acceleration that acts on all mass, 0 0 -9.80665 for weight, and less that of the frame itself where it is driven, each -1e6 to 1e6 [m/s²]
	Forces []NodeForce
}

// NodeForce is a force and moment on a node.
type NodeForce struct {
	Node  int
	Force [6]float64 // along and about x, y, z, -1e12 to 1e12 [N, N·m]
}

// Deflection is how a space frame gives way to a load.
type Deflection struct {
	Nodes     [][6]float64 // motion of each node [m, rad]
	Reactions [][6]float64 // what each support puts on its node, in the order of Supports; all on the first for a node with several [N, N·m]
	Axial     []float64    // mean tension of each member, from the load alone [N]
	motion
}

func (l *Load) check(nodes int) error {
	var f input.Faults
	vector(&f, "frame.Load.Field", l.Field, 1e6, "m/s²")
	for i, p := range l.Forces {
		name := fmt.Sprintf("frame.Load.Forces[%d]", i)
		f.Count(name+".Node", p.Node, 0, nodes-1)
		for d, v := range p.Force {
			f.Between(fmt.Sprintf("%s.Force[%d]", name, d), v, -1e12, 1e12, [2]string{"N", "N·m"}[d/3])
		}
	}
	return f.Err()
}

// Static returns the deflection under a load, members bending in the theory and
// under the Axial loads they are given. It errs on a frame or load out of range,
// on one that can move without resistance ([ErrMechanism]) and on one that is buckled ([ErrBuckled]).
func (s SpaceFrame) Static(load Load) (Deflection, error) {
	var f input.Faults
	f.Add(s.Validate())
	f.Add(load.check(len(s.Nodes)))
	if err := f.Err(); err != nil {
		return Deflection{}, err
	}
	a, err := s.assemble(nil, false)
	if err != nil {
		return Deflection{}, err
	}
	find, rigid, err := a.begin()
	if err != nil {
		return Deflection{}, err
	}
	if rigid > 0 {
		return Deflection{}, a.mechanism(find, rigid)
	}
	forces := a.weight(load.Field, 0)
	for _, p := range load.Forces {
		for d, v := range p.Force {
			forces[p.Node][d] += v
		}
	}
	x := make([]float64, len(a.k.first))
	for i, eq := range a.eq {
		for d, e := range eq {
			if e >= 0 {
				x[e] = forces[i][d]
			}
		}
	}
	a.count(0)
	a.solve(x)
	d := Deflection{motion: motion{a: a, nodes: a.spread(x), field: load.Field}}
	d.Nodes = d.motion.nodes
	for i := range a.lines {
		l := &a.lines[i]
		u, v := l.local(0, &d.Nodes[l.a]), l.local(1, &d.Nodes[l.b])
		d.Axial = append(d.Axial, l.stretch.stiff/l.length*(v[0]-u[0]))
	}
	held := a.resist(d.Nodes)
	seen := make([][6]bool, len(s.Nodes))
	for _, p := range s.Supports {
		var r [6]float64
		for k, h := range p.Held {
			if h && !seen[p.Node][k] {
				r[k] = held[p.Node][k] - forces[p.Node][k]
				seen[p.Node][k] = true
			}
		}
		d.Reactions = append(d.Reactions, r)
	}
	for _, n := range d.Nodes {
		for _, v := range n {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return Deflection{}, fmt.Errorf("frame.SpaceFrame.Static: %w, as far as rounding lets tell", ErrMechanism)
			}
		}
	}
	return d, nil
}

// mechanism says where a frame that is one moves most.
func (a *assembly) mechanism(find *search, rigid int) error {
	nodes := a.spread(find.rigid().x)
	node, most := 0, 0.0
	for i, n := range nodes {
		for _, v := range n[:3] {
			if math.Abs(v) > most {
				node, most = i, math.Abs(v)
			}
		}
	}
	return fmt.Errorf("frame.SpaceFrame: %w: it moves without resistance in %d ways, at most at node %d in one of them", ErrMechanism, rigid, node)
}

// weight returns the forces on nodes of an acceleration that acts on all mass,
// those of a line as far as they do work on its motions at λ.
func (a *assembly) weight(field [3]float64, lambda float64) [][6]float64 {
	forces := make([][6]float64, len(a.at))
	var e ends
	if a.linear {
		lambda = 0
	}
	for i := range a.lines {
		l := &a.lines[i]
		if i == 0 || !l.alike(&a.lines[i-1]) {
			l.stiffness(&e, lambda, false)
		}
		for end, f := range e.load(l.stretch.inertia, l.turnTo(field)) {
			var force, moment [3]float64
			for d := range 3 {
				for k := range 3 {
					force[d] += l.axes[k][d] * f[k]
					moment[d] += l.axes[k][d] * f[k+3]
				}
			}
			lever := cross(l.arm[end], force)
			node := [2]int{l.a, l.b}[end]
			for d := range 3 {
				forces[node][d] += force[d]
				forces[node][d+3] += moment[d] + lever[d]
			}
		}
	}
	for i := range a.fixed.m {
		m := &a.fixed.m[i]
		for p := range 6 {
			for d := range 3 {
				forces[m.a][p] += m.block[p][d] * field[d]
			}
		}
	}
	return forces
}

// load returns the forces on both ends, in the line's own axes, of an acceleration
// q there on its mass a length.
func (e *ends) load(line float64, q [3]float64) (f [2][6]float64) {
	x, y, z := line*q[0], line*q[1], line*q[2]
	for end, sign := range [2]float64{-1, 1} {
		f[end] = [6]float64{
			x * e.sumX.v, y * e.sumYW.v, z * e.sumZW.v,
			0, -sign * z * e.sumZT.v, sign * y * e.sumYT.v,
		}
	}
	return f
}

// resist returns the forces at every node, held ones too, that the motions take at rest.
func (a *assembly) resist(u [][6]float64) [][6]float64 {
	f := make([][6]float64, len(u))
	times := func(i, j int, k *mat6, across bool) {
		for p := range 6 {
			for q := range 6 {
				f[i][p] += k[p][q] * u[j][q]
				if across {
					f[j][q] += k[p][q] * u[i][p]
				}
			}
		}
	}
	var e ends
	var b mat6
	for i := range a.lines {
		l := &a.lines[i]
		l.stiffness(&e, 0, false)
		c := e.corners(false)
		l.block(&c[0], 0, 0, &b)
		times(l.a, l.a, &b, false)
		l.block(&c[1], 0, 1, &b)
		times(l.a, l.b, &b, true)
		l.block(&c[2], 1, 1, &b)
		times(l.b, l.b, &b, false)
	}
	for _, list := range [2][]entry{a.fixed.ground, a.fixed.k} {
		for i := range list {
			times(list[i].a, list[i].b, &list[i].block, list[i].a != list[i].b)
		}
	}
	return f
}
