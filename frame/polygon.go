package frame

import (
	"math"

	"meltflight/internal/input"
)

// Point lies in the plane of a cross-section.
type Point struct {
	Y, Z float64 // -10 to 10 [m]
}

// Polygon is a cross-section with straight sides, such as a slotted profile drawn
// corner by corner; an arc is given by points on it. Outline and holes are each a
// closed loop of corners that runs either way round, without the first one again
// at the end.
type Polygon struct {
	Outline []Point
	Holes   [][]Point // inside the outline, apart from it and from each other
}

// mostCorners keeps the test for sides that cross, which takes the square of it, short.
const mostCorners = 2000

// Moments are the area and the second moments of area about axes through the
// centroid. They may come from a [Polygon] or from a table.
type Moments struct {
	Area     float64 // [m²]
	Centroid Point   // [m]
	Iy       float64 // ∫z² dA about y [m⁴]
	Iz       float64 // ∫y² dA about z [m⁴]
	Iyz      float64 // ∫y·z dA; zero about an axis of symmetry [m⁴]
}

// Moments returns the area, centroid and second moments of the polygon, exact but
// for rounding. It errs on corners that are not finite or not within 10 m, on less
// than 3 corners to a loop or more than 2000 in all, on sides that cross or touch,
// on holes outside the outline, and on an area below 1e-10 m² or so thin that its
// digits are lost. It takes the square of the number of corners in time.
//
// Source: Green's theorem over each side, as in C. Steger, On the calculation of
// arbitrary moments of polygons (1996), from memory; the checks derive them anew.
func (p Polygon) Moments() (Moments, error) {
	if err := p.Validate(); err != nil {
		return Moments{}, err
	}
	m := p.moments()
	return m, m.Validate()
}

func (p Polygon) moments() Moments {
	// About the first corner, then about the centroid, so that a small section far
	// from the origin loses no digits.
	origin := p.Outline[0]
	first := p.about(origin)
	m := p.about(Point{origin.Y + first.Centroid.Y, origin.Z + first.Centroid.Z})
	m.Centroid = Point{origin.Y + first.Centroid.Y, origin.Z + first.Centroid.Z}
	return m
}

// about sums outline less holes, centroid and second moments as seen from a point.
func (p Polygon) about(o Point) Moments {
	m := loop(p.Outline, o)
	for _, h := range p.Holes {
		hole := loop(h, o)
		m.Area -= hole.Area
		m.Centroid.Y -= hole.Centroid.Y
		m.Centroid.Z -= hole.Centroid.Z
		m.Iy -= hole.Iy
		m.Iz -= hole.Iz
		m.Iyz -= hole.Iyz
	}
	m.Centroid.Y /= m.Area
	m.Centroid.Z /= m.Area
	return m
}

// loop returns the moments of what a loop encloses, in Centroid the first ones,
// counted positive whichever way round it runs.
func loop(c []Point, o Point) (m Moments) {
	last := c[len(c)-1]
	y0, z0 := last.Y-o.Y, last.Z-o.Z
	for _, q := range c {
		y1, z1 := q.Y-o.Y, q.Z-o.Z
		cross := y0*z1 - y1*z0
		m.Area += cross / 2
		m.Centroid.Y += cross * (y0 + y1) / 6
		m.Centroid.Z += cross * (z0 + z1) / 6
		m.Iy += cross * (z0*z0 + z0*z1 + z1*z1) / 12
		m.Iz += cross * (y0*y0 + y0*y1 + y1*y1) / 12
		m.Iyz += cross * (y0*z1 + 2*(y0*z0+y1*z1) + y1*z0) / 24
		y0, z0 = y1, z1
	}
	if m.Area < 0 {
		return Moments{-m.Area, Point{-m.Centroid.Y, -m.Centroid.Z}, -m.Iy, -m.Iz, -m.Iyz}
	}
	return m
}

// Principal returns the second moments about the principal axes [m⁴], those of
// most and of least resistance, and the angle by which the axis of most, about
// which larger is taken, is turned from y towards z, -π/2 to π/2 [rad]. It is zero where
// every axis is a principal one.
func (m Moments) Principal() (larger, smaller, angle float64) {
	mean, half := 0.5*(m.Iy+m.Iz), math.Hypot(0.5*(m.Iy-m.Iz), m.Iyz)
	if half > 1e-12*mean {
		angle = 0.5 * math.Atan2(-2*m.Iyz, m.Iy-m.Iz)
	}
	return mean + half, mean - half, angle
}

// Turned returns the same area seen in axes y and z turned by an angle from y
// towards z [rad], any finite one.
func (m Moments) Turned(angle float64) Moments {
	sin, cos := math.Sincos(angle)
	twoSin, twoCos := math.Sincos(2 * angle)
	mean, half := 0.5*(m.Iy+m.Iz), 0.5*(m.Iy-m.Iz)
	y, z := m.Centroid.Y, m.Centroid.Z
	return Moments{
		Area:     m.Area,
		Centroid: Point{y*cos + z*sin, z*cos - y*sin},
		Iy:       mean + half*twoCos - m.Iyz*twoSin,
		Iz:       mean - half*twoCos + m.Iyz*twoSin,
		Iyz:      half*twoSin + m.Iyz*twoCos,
	}
}

// Plus returns the moments of two areas welded together that do not overlap, each
// in the same axes, by the theorem of parallel axes.
func (m Moments) Plus(other Moments) Moments {
	area := m.Area + other.Area
	dy, dz := other.Centroid.Y-m.Centroid.Y, other.Centroid.Z-m.Centroid.Z
	share := other.Area / area
	both := m.Area * share
	return Moments{
		Area:     area,
		Centroid: Point{m.Centroid.Y + share*dy, m.Centroid.Z + share*dz},
		Iy:       m.Iy + other.Iy + both*dz*dz,
		Iz:       m.Iz + other.Iz + both*dy*dy,
		Iyz:      m.Iyz + other.Iyz + both*dy*dz,
	}
}

// Section returns the section of a member that bends about its principal axes,
// Iy the larger, with a torsion constant from elsewhere [m⁴]. It errs where
// [Section.Validate] does.
func (m Moments) Section(torsion float64) (Section, error) {
	if err := m.Validate(); err != nil {
		return Section{}, err
	}
	s := Section{Area: m.Area, J: torsion}
	s.Iy, s.Iz, _ = m.Principal()
	return s, s.Validate()
}

// Validate reports fields out of range, and those that no shape can have together:
// the principal moments multiply to at least that of a solid disc of this area.
func (m Moments) Validate() error {
	var f input.Faults
	f.Between("frame.Moments.Area", m.Area, 1e-10, 100, "m²")
	f.Between("frame.Moments.Centroid.Y", m.Centroid.Y, -largestSide, largestSide, "m")
	f.Between("frame.Moments.Centroid.Z", m.Centroid.Z, -largestSide, largestSide, "m")
	f.Between("frame.Moments.Iy", m.Iy, 1e-22, 1e4, "m⁴")
	f.Between("frame.Moments.Iz", m.Iz, 1e-22, 1e4, "m⁴")
	f.Between("frame.Moments.Iyz", m.Iyz, -1e4, 1e4, "m⁴")
	if !f.None() {
		return f.Err()
	}
	disc := m.Area * m.Area / (4 * math.Pi)
	if product := (m.Iy*m.Iz - m.Iyz*m.Iyz) / disc; product < disc*(1-1e-9) {
		f.Refuse("frame.Moments (Iy·Iz - Iyz²) ÷ that of a solid disc of this Area", product/disc, "", "at least 1")
	}
	return f.Err()
}
