package frame

import (
	"math"

	"meltflight/internal/input"
)

// ConsistentModes returns the n lowest vibrations, 1 to 1000, of the frame meshed
// in finite elements, 1 to 1000 to each member: the slow twin of [SpaceFrame.Modes], for
// cross-checks and for comparison with other programs. Elements have the exact static stiffness and
// the mass consistent with it, so that each frequency is at or above the exact
// one and comes down to it as the fourth power of the number of elements in
// bending, as the square in stretch and twist. It errs as Modes does.
// Source: J. S. Archer, Consistent mass matrix for distributed mass systems, J.
// Struct. Div. ASCE 89 (1963) 161, from memory.
func (s SpaceFrame) ConsistentModes(n, elements int) ([]Vibration, error) {
	var f input.Faults
	f.Count("frame.SpaceFrame.ConsistentModes: elements", elements, 1, 1000)
	f.Count("frame.SpaceFrame.ConsistentModes: elements of all members", elements*len(s.Members), 0, mostMembers)
	if err := f.Err(); err != nil {
		return nil, err
	}
	pieces := make([]int, len(s.Members))
	for i := range pieces {
		pieces[i] = elements
	}
	return s.modes(n, pieces, true)
}

// Split returns the frame with a member cut into pieces by new nodes, 1 to 1000, to
// act upon between its ends. The first piece keeps the member's place, the others
// follow all members, the new nodes all nodes, in order from its start. It errs on
// a frame, member or number out of range.
func (s SpaceFrame) Split(member, pieces int) (SpaceFrame, error) {
	return s.split("Split", member, pieces, func(m *Member, _ float64) {})
}

// Taper returns the frame with a member that runs from its own section to another
// at its end: cut as by [SpaceFrame.Split] into uniform pieces, each with the section at its
// middle. √A, fourth roots of Iy, Iz and J, and roots of shear areas with √A, run straight, as where a
// section keeps its shape. The error falls as the square of the number of pieces.
func (s SpaceFrame) Taper(member int, end Section, pieces int) (SpaceFrame, error) {
	if err := end.Validate(); err != nil {
		return SpaceFrame{}, err
	}
	return s.split("Taper", member, pieces, func(m *Member, at float64) {
		mix := func(a, b, power float64) float64 {
			return math.Pow((1-at)*math.Pow(a, 1/power)+at*math.Pow(b, 1/power), power)
		}
		area := m.Section.Area
		m.Section = Section{
			Area: mix(area, end.Area, 2), Iy: mix(m.Section.Iy, end.Iy, 4), Iz: mix(m.Section.Iz, end.Iz, 4), J: mix(m.Section.J, end.J, 4),
			Thickness: math.Min(m.Section.Thickness, end.Thickness),
		}
		m.ShearY *= m.Section.Area / area
		m.ShearZ *= m.Section.Area / area
	})
}

// split cuts a member and changes each piece by the place of its middle, 0 to 1.
func (s *SpaceFrame) split(function string, member, pieces int, change func(*Member, float64)) (SpaceFrame, error) {
	var f input.Faults
	f.Add(s.Validate())
	f.Count("frame.SpaceFrame."+function+": member", member, 0, len(s.Members)-1)
	f.Count("frame.SpaceFrame."+function+": pieces", pieces, 1, 1000)
	if err := f.Err(); err != nil {
		return SpaceFrame{}, err
	}
	c := *s
	c.Nodes = append([][3]float64{}, s.Nodes...)
	c.Members = append([]Member{}, s.Members...)
	whole := s.Members[member]
	along, start := whole.chord(s.Nodes), s.Nodes[whole.From]
	for k := range pieces {
		m := whole
		if k > 0 {
			m.From, m.Offset[0] = len(c.Nodes)-1, [3]float64{}
		}
		if k < pieces-1 {
			p := start
			for d := range p {
				p[d] += whole.Offset[0][d] + along[d]*float64(k+1)/float64(pieces)
			}
			m.To, m.Offset[1] = len(c.Nodes), [3]float64{}
			c.Nodes = append(c.Nodes, p)
		}
		change(&m, (float64(k)+0.5)/float64(pieces))
		if k == 0 {
			c.Members[member] = m
		} else {
			c.Members = append(c.Members, m)
		}
	}
	return c, c.Validate()
}
