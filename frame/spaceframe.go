package frame

import (
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// Ground stands for the ground where a spring asks for a node.
const Ground = -1

// SpaceFrame is a frame of straight members, rigidly joined at nodes that move and
// turn in space by little. Bodies, springs and supports act at nodes. A motion of a
// node is six numbers: along x, y and z [m] and about x, y and z [rad].
//
// Members are exact, not meshed: [SpaceFrame.Modes] and [SpaceFrame.Static] need one
// member from joint to joint, and more change nothing but rounding.
type SpaceFrame struct {
	Nodes    [][3]float64 // places x y z, each -1e5 to 1e5, 1 to 100000 of them [m]
	Members  []Member
	Lumps    []Lump
	Springs  []Spring
	Supports []Support
}

// Member is a straight uniform beam between two nodes. Its own x runs from From to
// To; its own y is level and z upward for a member that is not upright, and y is
// the frame's y for an upright one, unless Up tells otherwise.
//
// It bends after Euler and Bernoulli, without shear and the turning of the section,
// in each direction whose shear area is 0, and after Timoshenko, with both, in
// each whose area is given. It twists after Saint-Venant, its ends free to warp.
type Member struct {
	From, To int            // nodes
	Section  Section        // Iy bends it along its own z, Iz along its own y
	Metal    material.Metal // its Density, Young and Poisson count here
	Up       [3]float64     // any direction in its own x-z plane, towards z; 0 0 0 for the above [-]
	Offset   [2][3]float64  // from node From to the member's start, and from node To to its end: rigid and massless, in the frame's axes, -1e4 to 1e4 [m]
	ShearY   float64        // area that takes shear along its own y, κA: 0, or a thousandth of Section.Area to all of it [m²]
	ShearZ   float64        // along its own z, likewise [m²]
	Axial    float64        // tension that stiffens it or, below 0, thrust that softens it; at most a tenth of EA and, as thrust, half of the shear stiffness [N]
}

// Lump is a rigid body on a node, such as a motor, or a hopper with its fill.
type Lump struct {
	Node     int        // where it sits
	Body     Body       // Offset is from the node in the frame's axes; Inertia the tensor's Ixx, Iyy, Izz about its centre of mass
	Products [3]float64 // the tensor's Ixy, Iyz, Izx = −∫xy dm, −∫yz dm, −∫zx dm; 0 where the frame's axes are its principal ones [kg·m²]
}

// Spring ties a node to the ground or to another node by stiffnesses along and
// about three axes through Node. What ties it to another node is rigid from there
// to Node.
type Spring struct {
	Node      int           // where it acts
	To        int           // the other node, or Ground
	Stiffness [6]float64    // along and about its axes, 0 to 1e15 [N/m, N·m/rad]
	Axes      [3][3]float64 // its axes in those of the frame, unit vectors at right angles; all 0 for the frame's own [-]
}

// Support holds a node still.
type Support struct {
	Node int
	Held [6]bool // motions along and about the frame's x, y, z that cannot be
}

const (
	mostNodes   = 100000
	mostMembers = 200000
)

// Validate reports fields out of range, nodes that are not there, members without
// length and bodies that cannot be.
func (s SpaceFrame) Validate() error {
	var f input.Faults
	f.Count("frame.SpaceFrame.Nodes: number", len(s.Nodes), 1, mostNodes)
	f.Count("frame.SpaceFrame.Members: number", len(s.Members), 0, mostMembers)
	f.Count("frame.SpaceFrame.Lumps: number", len(s.Lumps), 0, mostMembers)
	f.Count("frame.SpaceFrame.Springs: number", len(s.Springs), 0, mostMembers)
	f.Count("frame.SpaceFrame.Supports: number", len(s.Supports), 0, mostMembers)
	if !f.None() {
		return f.Err()
	}
	for i, n := range s.Nodes {
		if !each(n, 1e5) {
			vector(&f, fmt.Sprintf("frame.SpaceFrame.Nodes[%d]", i), n, 1e5, "m")
		}
	}
	nodes := len(s.Nodes)
	for i := range s.Members {
		if err := s.Members[i].check(s.Nodes); err != nil {
			f.Add(fmt.Errorf("frame.SpaceFrame.Members[%d]: %w", i, err))
		}
	}
	for i := range s.Lumps {
		if err := s.Lumps[i].check(nodes); err != nil {
			f.Add(fmt.Errorf("frame.SpaceFrame.Lumps[%d]: %w", i, err))
		}
	}
	for i := range s.Springs {
		if err := s.Springs[i].check(nodes); err != nil {
			f.Add(fmt.Errorf("frame.SpaceFrame.Springs[%d]: %w", i, err))
		}
	}
	for i, p := range s.Supports {
		if p.Node < 0 || p.Node >= nodes {
			f.Count(fmt.Sprintf("frame.SpaceFrame.Supports[%d].Node", i), p.Node, 0, nodes-1)
		}
	}
	return f.Err()
}

func (m *Member) check(nodes [][3]float64) error {
	var f input.Faults
	f.Count("frame.Member.From", m.From, 0, len(nodes)-1)
	f.Count("frame.Member.To", m.To, 0, len(nodes)-1)
	f.Add(m.Section.Validate())
	elastic(&f, m.Metal)
	vector(&f, "frame.Member.Up", m.Up, 1e6, "")
	vector(&f, "frame.Member.Offset[0]", m.Offset[0], 1e4, "m")
	vector(&f, "frame.Member.Offset[1]", m.Offset[1], 1e4, "m")
	if !f.None() {
		return f.Err()
	}
	if m.From == m.To {
		f.Refuse("frame.Member.To", float64(m.To), "", "another node than From")
		return f.Err()
	}
	along := m.chord(nodes)
	length := norm(along)
	f.Between("frame.Member: length between its ends", length, 1e-3, 1000, "m")
	if m.Up != [3]float64{} && f.None() {
		if up := norm(cross(m.Up, along)); !(up > 1e-6*norm(m.Up)*length) {
			f.Refuse("frame.Member.Up: angle to the member", up/(norm(m.Up)*length), "rad", "above 1e-06 rad")
		}
	}
	a := m.Section.Area
	for i, shear := range [2]float64{m.ShearY, m.ShearZ} {
		if shear != 0 {
			f.Between("frame.Member.Shear"+[2]string{"Y", "Z"}[i], shear, 1e-3*a, a*(1+1e-9), "m²")
		}
	}
	if f.None() {
		least, largest := m.axialRange()
		f.Between("frame.Member.Axial", m.Axial, least, largest, "N")
	}
	return f.Err()
}

func (l *Lump) check(nodes int) error {
	var f input.Faults
	f.Count("frame.Lump.Node", l.Node, 0, nodes-1)
	principal := l.Body
	if l.Products != [3]float64{} {
		principal.Inertia = [3]float64{} // judged whole below
		vector(&f, "frame.Lump.Body.Inertia", l.Body.Inertia, 1e8, "kg·m²")
		vector(&f, "frame.Lump.Products", l.Products, 1e8, "kg·m²")
	}
	f.Add(principal.Validate())
	if !f.None() || l.Products == [3]float64{} {
		return f.Err()
	}
	// ∫rrᵀdm, half the trace less the tensor, is never negative in any direction.
	t := l.tensor()
	half := (t[0][0] + t[1][1] + t[2][2]) / 2
	for i := range t {
		for j := range t {
			t[i][j] = -t[i][j]
		}
		t[i][i] += half * (1 + 1e-9)
	}
	minor := func(i, j int) float64 { return t[i][i]*t[j][j] - t[i][j]*t[i][j] }
	det := t[0][0]*minor(1, 2) - t[0][1]*(t[0][1]*t[2][2]-t[1][2]*t[0][2]) + t[0][2]*(t[0][1]*t[1][2]-t[1][1]*t[0][2])
	slack := -1e-9 * half * half
	if min(t[0][0], t[1][1], t[2][2]) < 0 || min(minor(0, 1), minor(1, 2), minor(0, 2)) < slack || det < slack*half {
		f.Refuse("frame.Lump: inertia tensor, its trace", 2*half, "kg·m²", "those of a body: no principal moment above the sum of the other two")
	}
	return f.Err()
}

// tensor returns the body's inertia about its centre of mass [kg·m²].
func (l *Lump) tensor() [3][3]float64 {
	i, p := l.Body.Inertia, l.Products
	return [3][3]float64{{i[0], p[0], p[2]}, {p[0], i[1], p[1]}, {p[2], p[1], i[2]}}
}

func (s *Spring) check(nodes int) error {
	var f input.Faults
	f.Count("frame.Spring.Node", s.Node, 0, nodes-1)
	f.Count("frame.Spring.To", s.To, Ground, nodes-1)
	if f.None() && s.Node == s.To {
		f.Refuse("frame.Spring.To", float64(s.To), "", "another node than Node, or Ground")
	}
	for i, k := range s.Stiffness {
		if !(k >= 0 && k <= 1e15) {
			f.Between(fmt.Sprintf("frame.Spring.Stiffness[%d]", i), k, 0, 1e15, [2]string{"N/m", "N·m/rad"}[i/3])
		}
	}
	if s.Axes != [3][3]float64{} {
		for i := range 3 {
			for j := range i + 1 {
				want := 0.0
				if i == j {
					want = 1
				}
				f.Between(fmt.Sprintf("frame.Spring.Axes[%d]·Axes[%d]", i, j), dot(s.Axes[i], s.Axes[j]), want-1e-9, want+1e-9, "")
			}
		}
	}
	return f.Err()
}

// Mass returns the mass of members and lumps, those on supports included [kg].
// It errs on a frame out of range.
func (s SpaceFrame) Mass() (float64, error) {
	if err := s.Validate(); err != nil {
		return 0, err
	}
	sum := 0.0
	for i := range s.Members {
		m := &s.Members[i]
		sum += m.Metal.Density * m.Section.Area * norm(m.chord(s.Nodes))
	}
	for _, l := range s.Lumps {
		sum += l.Body.Mass
	}
	return sum, nil
}

// chord returns the way from a member's start to its end [m].
func (m *Member) chord(nodes [][3]float64) (d [3]float64) {
	for i := range d {
		d[i] = nodes[m.To][i] + m.Offset[1][i] - nodes[m.From][i] - m.Offset[0][i]
	}
	return d
}

func each(v [3]float64, most float64) bool {
	return math.Abs(v[0]) <= most && math.Abs(v[1]) <= most && math.Abs(v[2]) <= most
}

func vector(f *input.Faults, name string, v [3]float64, most float64, unit string) {
	if each(v, most) {
		return
	}
	for i, x := range v {
		f.Between(name+" "+directions[i], x, -most, most, unit)
	}
}

func dot(a, b [3]float64) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

func cross(a, b [3]float64) [3]float64 {
	return [3]float64{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

func norm(a [3]float64) float64 { return math.Sqrt(dot(a, a)) }
