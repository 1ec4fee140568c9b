package frame

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// Validate reports loops that do not bound one piece of metal: too few or too
// many corners, corners out of range, sides that cross or touch, holes outside
// the outline or inside one another.
func (p Polygon) Validate() error {
	var f input.Faults
	corners := 0
	for i := range p.loops() {
		c := p.loop(i)
		corners += len(c)
		if len(c) < 3 {
			f.Refuse(p.name(i)+": corners", float64(len(c)), "", "3 or more")
		}
		for k, q := range c {
			if !(math.Abs(q.Y) <= largestSide && math.Abs(q.Z) <= largestSide) {
				name := nth(p.name(i), k)
				f.Between(name+".Y", q.Y, -largestSide, largestSide, "m")
				f.Between(name+".Z", q.Z, -largestSide, largestSide, "m")
			}
		}
	}
	if corners > mostCorners {
		f.Refuse("frame.Polygon: corners in all", float64(corners), "", fmt.Sprintf("at most %d", mostCorners))
	}
	if !f.None() {
		return f.Err()
	}
	for i := range p.loops() {
		for k := range p.loop(i) {
			if err := p.met(i, k); err != nil {
				return err
			}
		}
	}
	for i := 1; i < p.loops(); i++ {
		for j := range i {
			if around(p.loop(j), p.loop(i)[0]) != (j == 0) || j > 0 && around(p.loop(i), p.loop(j)[0]) {
				f.Add(&input.Word{Name: p.name(i), Value: "misplaced", Allowed: "inside the outline and outside every other hole"})
				break
			}
		}
	}
	return f.Err()
}

// loops counts outline and holes, loop returns one of them, the outline first.
func (p Polygon) loops() int { return 1 + len(p.Holes) }

func (p Polygon) loop(i int) []Point {
	if i == 0 {
		return p.Outline
	}
	return p.Holes[i-1]
}

func (p Polygon) name(i int) string {
	if i == 0 {
		return "frame.Polygon.Outline"
	}
	return nth("frame.Polygon.Holes", i-1)
}

// met tells which later side the side from a corner on crosses or touches, other than at
// the corner that it shares with its neighbour.
func (p Polygon) met(i, k int) error {
	c := p.loop(i)
	n := len(c)
	a, b := c[k], c[(k+1)%n]
	if a == b {
		return &input.Word{Name: nth(p.name(i), k), Value: "corner given twice", Allowed: "corners apart"}
	}
	for j := i; j < p.loops(); j++ {
		d := p.loop(j)
		for l := range d {
			if j == i && l <= k {
				continue
			}
			e, g := d[l], d[(l+1)%len(d)]
			var hit bool
			switch {
			case j == i && l == k+1: // neighbours, which may not double back
				hit = turn(a, b, g) == 0 && within(b, g, a)
			case j == i && k == 0 && l == n-1:
				hit = turn(e, a, b) == 0 && within(a, e, b)
			default:
				hit = meet(a, b, e, g)
			}
			if hit {
				return &input.Word{Name: nth(p.name(i), k), Value: "side meets that from " + nth(p.name(j), l), Allowed: "sides that neither cross nor touch"}
			}
		}
	}
	return nil
}

// turn is twice the area of a triangle, positive where it runs from y to z.
func turn(a, b, c Point) float64 { return (b.Y-a.Y)*(c.Z-a.Z) - (c.Y-a.Y)*(b.Z-a.Z) }

// within tells for points in line whether b and c lie on the same side of a.
func within(a, b, c Point) bool {
	return (b.Y-a.Y)*(c.Y-a.Y)+(b.Z-a.Z)*(c.Z-a.Z) > 0
}

// meet tells whether two sides share a point.
func meet(a, b, c, d Point) bool {
	if math.Max(a.Y, b.Y) < math.Min(c.Y, d.Y) || math.Max(c.Y, d.Y) < math.Min(a.Y, b.Y) ||
		math.Max(a.Z, b.Z) < math.Min(c.Z, d.Z) || math.Max(c.Z, d.Z) < math.Min(a.Z, b.Z) {
		return false
	}
	return opposite(turn(a, b, c), turn(a, b, d)) && opposite(turn(c, d, a), turn(c, d, b))
}

// opposite is not a product, which a tiny pair of areas would bring to zero.
func opposite(x, y float64) bool { return !(x > 0 && y > 0 || x < 0 && y < 0) }

// around tells whether a loop runs around a point, by the sides that a ray along y crosses.
func around(c []Point, q Point) bool {
	inside := false
	last := c[len(c)-1]
	for _, p := range c {
		if (p.Z > q.Z) != (last.Z > q.Z) && q.Y < p.Y+(last.Y-p.Y)*(q.Z-p.Z)/(last.Z-p.Z) {
			inside = !inside
		}
		last = p
	}
	return inside
}

// nth names one of a list.
func nth(list string, i int) string { return fmt.Sprintf("%s[%d]", list, i) }
