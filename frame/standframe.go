package frame

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// StandFrame is a [Stand] as a [SpaceFrame], with what holds it further: exact where
// [Stand.Modes] takes two portals, and it tells the twist. A quarter of the hopper's mass
// sits in each corner of the ring, as there, so that it does not rock.
//
// Corners are numbered round the ring: 0 at -x -y, 1 at +x -y, 2 at +x +y, 3 at -x +y.
type StandFrame struct {
	Stand  Stand
	Feet   [6]float64 // of the floor under each foot along and about x, y, z, along each 1 to 1e15, about each 0 to 1e15; all 0 for what Stand.FeetFixed says [N/m, N·m/rad]
	Braces []Brace    // at most 100
	Hoses  []Hose     // at most 100
}

// Brace is a straight member from a foot to a corner of the ring above another leg,
// of the stand's metal, joined rigidly at both ends.
type Brace struct {
	Foot, Corner int // 0 to 3, not the same
	Section      Section
}

// Hose is what pulls or presses a corner of the ring back to where it is, such as a
// hose to the machine or a tie to the wall.
type Hose struct {
	Corner    int        // 0 to 3
	Stiffness [3]float64 // along x, y, z, 0 to 1e15 [N/m]
}

// StandMode is one natural vibration of a stand.
type StandMode struct {
	Vibration
	Shape string // what the ring does most, as one body: "sway x", "sway y", "twist", "bounce" (along z)
	// Shares of the modal mass in the ring and hopper moving so, as one body [-].
	SwayX, SwayY, Twist, Bounce float64
}

// Validate reports fields out of range.
func (s StandFrame) Validate() error {
	var f input.Faults
	f.Add(s.Stand.Validate())
	if s.Feet != [6]float64{} {
		for d, k := range s.Feet {
			f.Between("frame.StandFrame.Feet "+motionNames[d], k, [2]float64{1, 0}[d/3], mostStiffness, [2]string{"N/m", "N·m/rad"}[d/3])
		}
	}
	f.Count("frame.StandFrame.Braces: number", len(s.Braces), 0, 100)
	f.Count("frame.StandFrame.Hoses: number", len(s.Hoses), 0, 100)
	for i, b := range s.Braces {
		name := fmt.Sprintf("frame.StandFrame.Braces[%d]", i)
		f.Count(name+".Foot", b.Foot, 0, 3)
		f.Count(name+".Corner", b.Corner, 0, 3)
		if b.Foot == b.Corner {
			f.Refuse(name+".Corner", float64(b.Corner), "", "another corner than Foot, where the leg is")
		}
		if err := b.Section.Validate(); err != nil {
			f.Add(fmt.Errorf("%s: %w", name, err))
		}
	}
	for i, h := range s.Hoses {
		f.Count(fmt.Sprintf("frame.StandFrame.Hoses[%d].Corner", i), h.Corner, 0, 3)
		for d, k := range h.Stiffness {
			f.Between(fmt.Sprintf("frame.StandFrame.Hoses[%d].Stiffness %s", i, directions[d]), k, 0, mostStiffness, "N/m")
		}
	}
	return f.Err()
}

// Frame returns the stand as a space frame, its middle above the origin: nodes 0 to
// 3 are the feet and 4 to 7 the ring's corners; members 0 to 3 the legs, 4 to 7 the
// ring from each corner to the next, then the braces. Turning feet turn about x and
// y and are held about z. It errs on a stand out of range.
func (s StandFrame) Frame() (SpaceFrame, error) {
	if err := s.Validate(); err != nil {
		return SpaceFrame{}, err
	}
	t := &s.Stand
	var c SpaceFrame
	for _, z := range [2]float64{0, t.Height} {
		for _, at := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
			c.Nodes = append(c.Nodes, [3]float64{at[0] * t.Width / 2, at[1] * t.Depth / 2, z})
		}
	}
	held := [6]bool{true, true, true, t.FeetFixed, t.FeetFixed, true}
	for i := range 4 {
		c.Members = append(c.Members, Member{From: i, To: 4 + i, Section: t.Leg, Metal: t.Metal})
		c.Lumps = append(c.Lumps, Lump{Node: 4 + i, Body: Body{Mass: t.Mass / 4}})
		if s.Feet == [6]float64{} {
			c.Supports = append(c.Supports, Support{Node: i, Held: held})
		} else {
			c.Springs = append(c.Springs, Spring{Node: i, To: Ground, Stiffness: s.Feet})
		}
	}
	for i := range 4 {
		c.Members = append(c.Members, Member{From: 4 + i, To: 4 + (i+1)%4, Section: t.Leg, Metal: t.Metal})
	}
	for _, b := range s.Braces {
		c.Members = append(c.Members, Member{From: b.Foot, To: 4 + b.Corner, Section: b.Section, Metal: t.Metal})
	}
	for _, h := range s.Hoses {
		k := h.Stiffness
		c.Springs = append(c.Springs, Spring{Node: 4 + h.Corner, To: Ground, Stiffness: [6]float64{k[0], k[1], k[2]}})
	}
	return c, nil
}

// Modes returns the n lowest natural vibrations, rising in frequency, 1 to 1000,
// exact to rounding for the theory of [SpaceFrame.Modes], whose errors and words
// apply. Two of one frequency, as the sways of a square stand, are told as sway x and
// sway y. Slender braces and long rings swing on their own too: the shares of such a
// mode are small.
//
// Forces in braces, and whether they buckle, are for [SpaceFrame.Static] and
// [SpaceFrame.Buckling] of Frame.
func (s StandFrame) Modes(n int) ([]StandMode, error) {
	c, err := s.Frame()
	if err != nil {
		return nil, err
	}
	list, err := c.Modes(n)
	if err != nil {
		return nil, err
	}
	for i := range n - 1 {
		if u, v := &list[i], &list[i+1]; v.Frequency <= u.Frequency*(1+1e-9) {
			u.unmix(v)
		}
	}
	mass := s.Stand.Mass + s.Stand.ringMass()
	square := (s.Stand.Width*s.Stand.Width + s.Stand.Depth*s.Stand.Depth) / 4 // from the middle to a corner
	modes := make([]StandMode, n)
	for i, v := range list {
		x, y, z, turn := ringMotion(&v, square, c.Nodes)
		m := StandMode{Vibration: v, SwayX: mass * x * x, SwayY: mass * y * y, Twist: mass * square * turn * turn, Bounce: mass * z * z}
		most := -1.0
		for k, share := range [4]float64{m.SwayX, m.SwayY, m.Twist, m.Bounce} {
			if share > most {
				most, m.Shape = share, [4]string{"sway x", "sway y", "twist", "bounce"}[k]
			}
		}
		modes[i] = m
	}
	return modes, nil
}

// ringMotion returns how the four corners move and turn about z as one body.
func ringMotion(v *Vibration, square float64, nodes [][3]float64) (x, y, z, turn float64) {
	for i, u := range v.Nodes[4:8] {
		at := nodes[4+i]
		x += u[0] / 4
		y += u[1] / 4
		z += u[2] / 4
		turn += (at[0]*u[1] - at[1]*u[0]) / (4 * square)
	}
	return x, y, z, turn
}

// unmix turns two vibrations of one frequency, any mixture of which is one too, so
// that only the first has mass moving along x.
func (v *Vibration) unmix(w *Vibration) {
	length := math.Hypot(v.Participation[0], w.Participation[0])
	if v.Rigid || v.motion.a != w.motion.a || !(length > 1e-6*(norm(v.Participation)+norm(w.Participation))) {
		return
	}
	cos, sin := v.Participation[0]/length, w.Participation[0]/length
	turn := func(a, b *float64) { *a, *b = cos**a+sin**b, cos**b-sin**a }
	for i := range v.motion.nodes { // Nodes is a part of them
		for d := range 6 {
			turn(&v.motion.nodes[i][d], &w.motion.nodes[i][d])
		}
	}
	for d := range 3 {
		turn(&v.Participation[d], &w.Participation[d])
		v.Effective[d], w.Effective[d] = v.Participation[d]*v.Participation[d], w.Participation[d]*w.Participation[d]
	}
}
