package frame

import (
	"math"

	"meltflight/internal/input"
)

// Gantry is an [Axis] whose carriage stands anywhere along the beam, solved exactly
// as a [SpaceFrame] and not by one shape a motion. A loop over Position and over the
// fill among Axis.Bodies tells the lowest the machine ever rings.
type Gantry struct {
	Axis     Axis       // beam, 0.01 to 1000 m long, ends, and the bodies, their offsets from the beam's axis at the carriage
	Position float64    // of the carriage from the beam's start, part of its length, 0 to 1; 0.5 is what Axis takes [-]
	Along    float64    // stiffness of each end along x, 1 to 1e15; 0 holds it still, as Axis does [N/m]
	Seat     [6]float64 // of the carriage on the beam along and about x, y, z, each 1 to 1e15; all 0 for rigid, as Axis takes it [N/m, N·m/rad]
	Shear    bool       // count shear and the turning of the section, which takes Section.ShearY and ShearZ
}

// GantryMode is one natural vibration of a gantry.
type GantryMode struct {
	Vibration
	// What the carriage does most, weighed by the inertia of bodies and beam in each
	// motion: "sway", "vertical bending", "twist", "pitch", "yaw" as in [Mode], or "along".
	Shape   string
	Head    [6]float64 // motion of the carriage on the beam's axis, in the scale of Nodes [m, rad]
	Carried float64    // share of the modal mass in the bodies, 0 to 1: near 0 the beam vibrates on its own [-]
}

const leastPiece = 1e-3 * (1 + 1e-9) // a SpaceFrame refuses a member shorter than 1e-3, with room for rounding [m]

// Validate reports fields out of range.
func (g Gantry) Validate() error {
	var f input.Faults
	f.Add(g.Axis.Validate())
	f.Between("frame.Gantry.Axis.Beam.Length", g.Axis.Beam.Length, 0.01, 1000, "m")
	f.Between("frame.Gantry.Position", g.Position, 0, 1, "")
	if g.Along != 0 {
		f.Between("frame.Gantry.Along", g.Along, 1, 1e15, "N/m")
	}
	if g.Seat != [6]float64{} {
		for d, k := range g.Seat {
			f.Between("frame.Gantry.Seat "+motionNames[d], k, 1, 1e15, [2]string{"N/m", "N·m/rad"}[d/3])
		}
	}
	if s := &g.Axis.Beam.Section; g.Shear {
		f.Between("frame.Gantry.Axis.Beam.Section.ShearY", s.ShearY, 1e-3*s.Area, s.Area, "m²")
		f.Between("frame.Gantry.Axis.Beam.Section.ShearZ", s.ShearZ, 1e-3*s.Area, s.Area, "m²")
	}
	return f.Err()
}

var motionNames = [6]string{"along x", "along y", "along z", "about x", "about y", "about z"}

// Frame returns the gantry as a space frame along x from the origin: nodes 0 and 1
// are the beam's ends, node 2 the beam at the carriage and, where that has a Seat, node
// 3 the carriage; the last carries the bodies. A carriage closer to an end than 1 mm is
// taken to be 1 mm from it. It errs on a gantry out of range.
func (g Gantry) Frame() (SpaceFrame, error) {
	if err := g.Validate(); err != nil {
		return SpaceFrame{}, err
	}
	return g.frame(), nil
}

func (g *Gantry) frame() SpaceFrame {
	b := &g.Axis.Beam
	at := math.Max(leastPiece, math.Min(b.Length-leastPiece, g.Position*b.Length))
	left := Member{From: 0, To: 2, Section: b.Section, Metal: b.Metal}
	if g.Shear {
		left.ShearY, left.ShearZ = b.Section.ShearY, b.Section.ShearZ
	}
	right := left
	right.From, right.To = 2, 1
	s := SpaceFrame{
		Nodes:   [][3]float64{{0, 0, 0}, {b.Length, 0, 0}, {at, 0, 0}},
		Members: []Member{left, right},
	}
	if g.Seat != [6]float64{} {
		s.Nodes = append(s.Nodes, [3]float64{at, 0, 0})
		s.Springs = append(s.Springs, Spring{Node: 3, To: 2, Stiffness: g.Seat})
	}
	for _, body := range g.Axis.Bodies {
		s.Lumps = append(s.Lumps, Lump{Node: len(s.Nodes) - 1, Body: body})
	}
	for end := range 2 {
		s.Springs = append(s.Springs, Spring{Node: end, To: Ground, Stiffness: [6]float64{g.Along, g.Axis.Ends.Y, g.Axis.Ends.Z, g.Axis.Ends.Roll}})
		if g.Along == 0 {
			s.Supports = append(s.Supports, Support{Node: end, Held: [6]bool{true}})
		}
	}
	return s
}

// Modes returns the n lowest natural vibrations, rising in frequency, 1 to 1000,
// exact to rounding for the theory of [SpaceFrame.Modes], whose errors and words
// apply. At mid-span, ends held along x, none is above that of [Axis.Modes].
func (g Gantry) Modes(n int) ([]GantryMode, error) {
	if err := g.Validate(); err != nil {
		return nil, err
	}
	s := g.frame()
	list, err := s.Modes(n)
	if err != nil {
		return nil, err
	}
	var bodies mat6
	for i := range s.Lumps {
		m := s.Lumps[i].inertia()
		for p := range m {
			for q := range m {
				bodies[p][q] += m[p][q]
			}
		}
	}
	weights := g.weights()
	modes := make([]GantryMode, n)
	for i, v := range list {
		m := GantryMode{Vibration: v, Head: v.Nodes[len(s.Nodes)-1]}
		for p := range bodies {
			for q := range bodies {
				m.Carried += m.Head[p] * bodies[p][q] * m.Head[q]
			}
		}
		m.Carried = math.Max(0, math.Min(1, m.Carried)) // rounding
		most := 0.0
		for d, w := range weights {
			if e := w * m.Head[d] * m.Head[d]; e >= most {
				most, m.Shape = e, gantryShapes[d]
			}
		}
		modes[i] = m
	}
	return modes, nil
}

var gantryShapes = [6]string{"along", shapes[0], shapes[1], shapes[2], shapes[3], shapes[4]}

// weights returns the inertia that goes with each motion of the carriage, the
// beam's by its static shape under a load at mid-span.
func (g *Gantry) weights() (w [6]float64) {
	b := &g.Axis.Beam
	own, half := b.Mass(), b.Mass()*b.Length*b.Length/12
	w = [6]float64{own * torsion.square, own * bending.square, own * bending.square, b.rollInertia() * torsion.square, half * turning.square, half * turning.square}
	for _, body := range g.Axis.Bodies {
		l := Lump{Body: body}
		m := l.inertia()
		for d := range w {
			w[d] += m[d][d]
		}
	}
	return w
}

// Tones returns the n lowest natural vibrations, 1 to 1000, as a point moves along y
// that goes with the carriage, x y z from the beam's axis there, such as a nozzle,
// when both ends are moved along y: what [Move.RingingOf] and a [Profile] take.
// Damping ratio ζ is of all, 0 to 0.3 [-]; each of point -100 to 100 [m]. It errs as
// Modes and on arguments out of range, and with [ErrStubby] if a Gantry without
// Shear is stubby in its first bending, when the tones are returned too.
//
// Shares are those of [Axis.Ringing], of exact shapes. Those of all vibrations add up
// to 1 with Seat or without; the few lowest leave out the rest.
func (g Gantry) Tones(n int, damping float64, point [3]float64) ([]Tone, error) {
	var f input.Faults
	f.Add(g.Validate())
	f.Count("frame.Gantry.Tones: number", n, 1, mostVibrations)
	f.Between("frame.Gantry: damping ratio", damping, 0, mostDamping, "")
	for i, name := range directions {
		f.Between("frame.Gantry: point "+name, point[i], -100, 100, "m")
	}
	if err := f.Err(); err != nil {
		return nil, err
	}
	modes, err := g.Modes(n)
	if err != nil {
		return nil, err
	}
	tones := make([]Tone, n)
	for i, m := range modes {
		y := m.Head[1] + m.Head[5]*point[0] - m.Head[3]*point[2]
		tones[i] = Tone{m.Frequency, damping, m.Participation[1] * y}
	}
	if g.Shear {
		return tones, nil
	}
	return tones, g.Axis.Beam.slender(math.Pi)
}
