package frame

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/input"
)

// ErrNoBuckling reports a frame that no multiple of its load buckles before a member
// is strained or sheared past what [Member].Axial allows.
var ErrNoBuckling = errors.New("does not buckle")

// Count returns how many natural vibrations lie below a frequency, 1e-6 to 1e9
// [Hz], rigid motions included. It errs on a frame or frequency out of range.
// Source: as [SpaceFrame.Modes].
func (s SpaceFrame) Count(frequency float64) (int, error) {
	var f input.Faults
	f.Add(s.Validate())
	f.Between("frame.SpaceFrame.Count: frequency", frequency, 1e-6, 1e9, "Hz")
	if err := f.Err(); err != nil {
		return 0, err
	}
	a, err := s.assemble(nil, false)
	if err != nil {
		return 0, err
	}
	lambda := 4 * math.Pi * math.Pi * frequency * frequency
	n := a.count(lambda)
	// Cut where members may resonate between still nodes, near which D has no digits.
	if cut := a.loose(lambda); cut != nil && n < mostMembers/10 {
		if a, err = s.assemble(cut, false); err != nil {
			return 0, err
		}
		n = a.count(lambda)
	}
	return n, nil
}

// Stiffened returns the frame with the mean tension that a load puts into each
// member added to its Axial, so that [SpaceFrame.Modes] and [SpaceFrame.Static] know of it. It errs as Static does,
// and where a member then is out of range. Where the tension changes along a
// member, as under its own weight, [SpaceFrame.Split] it.
func (s SpaceFrame) Stiffened(load Load) (SpaceFrame, error) {
	d, err := s.Static(load)
	if err != nil {
		return SpaceFrame{}, err
	}
	c := s
	c.Members = append([]Member{}, s.Members...)
	for i := range c.Members {
		c.Members[i].Axial += d.Axial[i]
	}
	return c, c.Validate()
}

// Buckling returns how many times a load buckles the frame [-]: the least factor
// at which the members, under their Axial and that factor times the mean tensions of [SpaceFrame.Static],
// leave it no stiffness against some motion. It is elastic, of a straight frame; a leg that
// yields first takes [Stand.Buckling]'s way. It errs as Static does, and with
// [ErrNoBuckling].
//
// Method: the stiffness of members under axial load is exact, and the count of
// [SpaceFrame.Modes] at no frequency tells at any factor how many buckling loads
// lie below.
func (s SpaceFrame) Buckling(load Load) (float64, error) {
	d, err := s.Static(load)
	if err != nil {
		return 0, err
	}
	// The largest factor that every member allows.
	most := math.Inf(1)
	for i := range s.Members {
		m := &s.Members[i]
		least, largest := m.axialRange()
		switch n := d.Axial[i]; {
		case n > 0:
			most = math.Min(most, (largest-m.Axial)/n)
		case n < 0:
			most = math.Min(most, (least-m.Axial)/n)
		}
	}
	a, err := s.assemble(nil, false)
	if err != nil {
		return 0, err
	}
	count := func(factor float64) int {
		for i := range a.lines {
			n := s.Members[i].Axial + factor*d.Axial[i]
			a.lines[i].y.tension, a.lines[i].z.tension = n, n
		}
		return a.count(0)
	}
	most = math.Min(most, 1e15)
	if !(most > 1e-15) || count(most) == 0 {
		return 0, fmt.Errorf("frame.SpaceFrame.Buckling: %w at up to %.3g times the load", ErrNoBuckling, most)
	}
	lo, hi := 1e-15, most
	for range 200 {
		if hi-lo <= 1e-13*hi {
			break
		}
		if mid := between(lo, hi); count(mid) == 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi, nil
}

// axialRange returns the least and largest Axial of a valid member [N].
func (m *Member) axialRange() (least, largest float64) {
	largest = 0.1 * m.Metal.Young * m.Section.Area
	least = -largest
	for _, shear := range [2]float64{m.ShearY, m.ShearZ} {
		if shear > 0 {
			least = math.Max(least, -0.5*m.Metal.Shear()*shear)
		}
	}
	return least, largest
}
