package drive

import (
	"math"

	"meltflight/internal/input"
)

// Tail is what shaft B carries beyond its far bearing, such as a screw in its barrel.
type Tail struct {
	Length   float64 // from the far bearing to the tip, 1e-3 to 10 [m]
	Diameter float64 // that bends, such as a screw's root, 1e-3 to 1 [m]
	Young    float64 // 1e8 to 1e12 [Pa]
	Gap      float64 // between tip and wall on one side, 0 to 0.1 [m]
}

// Tip is where a misaligned coupling throws the far end of shaft B.
type Tip struct {
	Throw float64 // of the tip if nothing stops it [m]
	Force float64 // of the wall on the tip, 0 if it does not reach it [N]
}

// Tip returns what a misalignment, as of Misaligned, does to the tip of a tail on shaft
// B, which is not built in: the shaft tilts in its far bearing, the tip swings
// Length·tilt, and where the gap is less the barrel pushes it back, with shafts and
// coupling all yielding (statics of beams, own). The force stands still: it wears one
// side of the barrel, and the flight all round.
func (c Coupling) Tip(a, b Overhung, t Tail, offset, angle float64) (Tip, error) {
	var f input.Faults
	c.check(&f)
	checkShafts(&f, &a, &b)
	f.Between("drive.Overhung (B).Span", b.Span, 1e-3, 10, "m")
	f.Between("drive.Tail.Length", t.Length, 1e-3, 10, "m")
	f.Between("drive.Tail.Diameter", t.Diameter, 1e-3, 1, "m")
	f.Between("drive.Tail.Young", t.Young, 1e8, 1e12, "Pa")
	f.Between("drive.Tail.Gap", t.Gap, 0, 0.1, "m")
	checkMisaligned(&f, offset, angle)
	if err := f.Err(); err != nil {
		return Tip{}, err
	}
	v, m := c.solve(&a, &b, offset, angle)
	bent := b.bent(-v, m)
	r := Tip{Throw: math.Abs(t.Length * bent.Tilt)}
	if r.Throw <= t.Gap {
		return r, nil
	}
	// A unit force at the tip moves the joint by these, and by the same the joint moves the
	// tip; the coupling then gives way by as much as it would to a misalignment.
	tilt := t.Length * b.Span / (6 * b.rigidity())
	offsetBy, angleBy := tilt*b.Overhang, -tilt
	v, m = c.solve(&a, &b, offsetBy, angleBy)
	tail := Overhung{Diameter: t.Diameter, Young: t.Young}
	own := square(t.Length) * (b.Span/b.rigidity() + t.Length/tail.rigidity()) / 3
	r.Force = (r.Throw - t.Gap) / (own - (offsetBy*v + angleBy*m))
	return r, nil
}
