package drive

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// StepShaft is a shaft of round segments on bearings, with what it carries in one
// plane. Positions are from its left end; forces and deflections are positive upward,
// slopes and couples counterclockwise.
type StepShaft struct {
	Modulus  float64        // of elasticity, 1e6 to 1e13 [Pa]
	Density  float64        // 1 to 1e5, or 0 to leave the shaft's mass out [kg/m³]
	Segments []Segment      // from left to right, 1 to 64
	Bearings []ShaftBearing // from left to right, a thousandth of the length apart or more, 2 to 8
	Loads    []PointLoad    // up to 64
	Disks    []Disk         // what is mounted, for critical speeds alone: weight is a load; up to 32
}

// Segment is a length of shaft of one section. The diameters of a shaft lie within
// a hundredfold.
type Segment struct {
	Length   float64 // 1e-5 to 100 [m]
	Diameter float64 // 1e-4 to 10 [m]
	Bore     float64 // 0, for a solid one, to 0.99 of Diameter [m]
}

// ShaftBearing holds a shaft at a place and lets it tilt.
type ShaftBearing struct {
	Position float64 // 0 to the shaft's length [m]
	Give     float64 // deflection by force, 0 for a stiff one, to 0.01 [m/N]
}

// PointLoad is a force and a couple at a place.
type PointLoad struct {
	Position float64 // 0 to the shaft's length [m]
	Force    float64 // upward, -1e9 to 1e9 [N]
	Couple   float64 // counterclockwise, -1e9 to 1e9 [N·m]
}

// Disk is a mounted part: gear, pulley, coupling half.
type Disk struct {
	Position float64 // 0 to the shaft's length [m]
	Mass     float64 // 1e-9 to 1e6 [kg]
	Inertia  float64 // about its diameter, 0 for a point, to 1e8 [kg·m²]
}

// ShaftBending is a StepShaft bent by its loads.
type ShaftBending struct {
	Reactions []float64 // forces of the bearings on the shaft, upward, from left to right [N]
	Beyond    []string  // outside the range of the theory, in words

	line    elasticLine
	carried []PointLoad // loads and reactions
	lift    float64     // deflection at the left end [m]
	tilt    float64     // slope there [rad]
}

// ShaftPoint is the state of a bent shaft at a place: just to the right of a jump
// there, at the right end just to the left of it.
type ShaftPoint struct {
	Deflection float64 // upward [m]
	Slope      float64 // counterclockwise [rad]
	Moment     float64 // EI·y", positive where the shaft is bent hollow upward [N·m]
	Shear      float64 // dM/dx [N]
	Stress     float64 // |M| by the modulus of section, of the thinner side of a step, no notch counted [Pa]
}

// Validate reports every field out of range.
func (s StepShaft) Validate() error {
	var f input.Faults
	s.check(&f)
	return f.Err()
}

// Length returns the sum of the segments' lengths [m].
func (s StepShaft) Length() float64 {
	sum := 0.0
	for i := range s.Segments {
		sum += s.Segments[i].Length
	}
	return sum
}

// Bend returns the reactions and the elastic line, for any number of bearings, that is
// statically determinate or not. It is exact for a slender shaft: no deflection by shear,
// small slopes, and a stiffness that changes at once where the diameter does.
//
// Method: y = y₀ + θ₀·x + the deflections by each force and couple of a shaft clamped
// to its left (Macaulay; S. P. Timoshenko, Strength of Materials, Part I; from memory).
// Equilibrium and y = −Give·R at each bearing give y₀, θ₀ and the reactions R.
//
// Bearings whose equations lose twelve digits are refused: they are too close to each
// other for the stiffness of the shaft between them.
func (s StepShaft) Bend() (ShaftBending, error) {
	var f input.Faults
	s.check(&f)
	if err := f.Err(); err != nil {
		return ShaftBending{}, err
	}
	supports, err := s.supports()
	if err != nil {
		return ShaftBending{}, err
	}
	return supports.bend(s.Loads, s.beyond()), nil
}

// At returns the state at a position from 0 to the shaft's length [m]. Allocates nothing.
func (b *ShaftBending) At(position float64) (ShaftPoint, error) {
	var f input.Faults
	length := b.line.length()
	f.Between("drive.ShaftBending.At: position", position, 0, length*(1+lengthSlack), "m")
	if err := f.Err(); err != nil {
		return ShaftPoint{}, err
	}
	return b.at(min(position, length)), nil
}

func (b *ShaftBending) at(x float64) ShaftPoint {
	p := ShaftPoint{Deflection: b.lift + b.tilt*x, Slope: b.tilt}
	end := b.line.length()
	for i := range b.carried {
		l := &b.carried[i]
		deflection, slope := b.line.bentBy(l, x)
		p.Deflection += deflection
		p.Slope += slope
		if l.Position < x || l.Position == x && x < end {
			p.Moment += l.Force*(x-l.Position) - l.Couple
			p.Shear += l.Force
		}
	}
	p.Stress = math.Abs(p.Moment) / b.line.modulus(x)
	return p
}

// lengthSlack lets a position be the sum of lengths that have rounding.
const lengthSlack = 1e-9

func (s *StepShaft) check(f *input.Faults) {
	f.Between("drive.StepShaft.Modulus", s.Modulus, 1e6, 1e13, "Pa")
	if s.Density != 0 {
		f.Between("drive.StepShaft.Density", s.Density, 1, 1e5, "kg/m³")
	}
	f.Count("drive.StepShaft.Segments: number", len(s.Segments), 1, 64)
	f.Count("drive.StepShaft.Bearings: number", len(s.Bearings), 2, 8)
	f.Count("drive.StepShaft.Loads: number", len(s.Loads), 0, 64)
	f.Count("drive.StepShaft.Disks: number", len(s.Disks), 0, 32)
	if !f.None() {
		return
	}
	thinnest, thickest := math.Inf(1), 0.0
	for i := range s.Segments {
		g := &s.Segments[i]
		var e input.Faults
		e.Between("Length", g.Length, 1e-5, 100, "m")
		e.Between("Diameter", g.Diameter, 1e-4, 10, "m")
		e.Between("Bore", g.Bore, 0, 0.99*max(1e-4, min(g.Diameter, 10)), "m")
		addMember(f, "Segments", i, &e)
		thinnest, thickest = min(thinnest, g.Diameter), max(thickest, g.Diameter)
	}
	if !f.None() {
		return
	}
	f.Between("drive.StepShaft.Segments: thickest ÷ thinnest diameter", thickest/thinnest, 1, 100, "")
	length := s.Length()
	least := 0.0
	for i := range s.Bearings {
		b := &s.Bearings[i]
		var e input.Faults
		e.Between("Position", b.Position, least, length*(1+lengthSlack), "m")
		e.Between("Give", b.Give, 0, 0.01, "m/N")
		addMember(f, "Bearings", i, &e)
		least = max(least, min(b.Position, length)) + 1e-3*length*(1-lengthSlack)
	}
	for i := range s.Loads {
		l := &s.Loads[i]
		var e input.Faults
		e.Between("Position", l.Position, 0, length*(1+lengthSlack), "m")
		e.Between("Force", l.Force, -1e9, 1e9, "N")
		e.Between("Couple", l.Couple, -1e9, 1e9, "N·m")
		addMember(f, "Loads", i, &e)
	}
	for i := range s.Disks {
		d := &s.Disks[i]
		var e input.Faults
		e.Between("Position", d.Position, 0, length*(1+lengthSlack), "m")
		e.Between("Mass", d.Mass, 1e-9, 1e6, "kg")
		e.Between("Inertia", d.Inertia, 0, 1e8, "kg·m²")
		addMember(f, "Disks", i, &e)
	}
}

// addMember puts the place in the list before the faults of one of its members.
func addMember(f *input.Faults, list string, i int, member *input.Faults) {
	if !member.None() {
		f.Add(fmt.Errorf("drive.StepShaft.%s[%d]: %w", list, i, member.Err()))
	}
}

// beyond tells where a shaft is too stubby for the theory of slender ones.
func (s *StepShaft) beyond() []string {
	thickest := 0.0
	for i := range s.Segments {
		thickest = max(thickest, s.Segments[i].Diameter)
	}
	first, last := s.Bearings[0].Position, s.Bearings[len(s.Bearings)-1].Position
	if span := last - first; span < 5*thickest {
		return []string{fmt.Sprintf("bearings %.3g m apart on a shaft of %.3g m: below five diameters shear deflects it too, which is left out",
			span, thickest)}
	}
	return nil
}
