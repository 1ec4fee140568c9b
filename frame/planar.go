package frame

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/input"
)

// Hold says what a joint forbids a beam.
type Hold int

// The ways to hold a beam at one place.
const (
	HoldFree    Hold = iota // moves and turns
	HoldPinned              // turns, does not move
	HoldGuided              // moves, does not turn
	HoldClamped             // does neither; only at an end
)

// still tells which of moving and turning is forbidden.
func (h Hold) still() [2]bool {
	return [2]bool{h == HoldPinned || h == HoldClamped, h == HoldGuided || h == HoldClamped}
}

// Joint is what a beam meets at one place: a hold, springs to the ground, a body
// fixed to it, a mass hung on it by a spring. What is zero is not there.
type Joint struct {
	At   float64 // place from the start, of a joint between the ends [m]
	Hold Hold

	Spring float64 // force of the ground ÷ motion across, 0 or 1e-9 EI ÷ length³ to 1e15 [N/m]
	Hinge  float64 // moment of the ground ÷ turning, 0 or 1e-9 EI ÷ length to 1e15 [N·m/rad]

	Mass    float64 // of a rigid body, 0 to 1e6 [kg]
	Inertia float64 // of the body about its centre of mass, 0 to 1e8 [kg·m²]
	Offset  float64 // of that centre along the beam, from start to end, -10 to 10 lengths of the beam [m]

	HungMass float64 // moves across only, 0 to 1e6 [kg]
	HungOn   float64 // the spring that bears it; 1e-6 to 1e15 with HungMass, else 0 [N/m]
}

// Planar is a straight uniform beam that moves and bends in one plane. Without
// Shear it bends after Euler and Bernoulli, with it after Timoshenko: shear gives
// way and the section's turning has inertia (S. Timoshenko, Phil. Mag. 41 (1921)
// 744). A load along the beam keeps its direction, and pushes along the bent line
// (F. Engesser's way where shear gives way).
//
// All its results are of this model to rounding: nothing is lumped or assumed.
type Planar struct {
	Length   float64 // 1e-3 to 1000 [m]
	Bending  float64 // EI, 1e-14 to 1e16 [N·m²]
	Line     float64 // mass ÷ length, 1e-8 to 1e7; 0 if the bodies alone count [kg/m]
	Gyration float64 // radius of gyration √(I/A), 0 if unknown, at most a length [m]
	Shear    float64 // κGA, from EI ÷ length²; 0 for Euler and Bernoulli [N]
	Axial    float64 // compression, negative for tension, to 1e6 EI ÷ length² [N]

	Start, End Joint   // their At is not read
	Between    []Joint // rising along the beam, 1e-3 lengths apart and from the ends, at most 100
}

const (
	mostJoints = 100
	mostAxial  = 1e6  // ÷ EI/L² [-]
	mostReach  = 10   // offset of a body ÷ length [-]
	softest    = 1e-9 // spring to the ground ÷ EI/L³, and hinge ÷ EI/L [-]
	leastGap   = 1e-3 // between joints ÷ length [-]
)

// Vertical returns the beam as it bends up and down, about y, its ends free. kappa
// is the share of its area that takes shear, 0.1 to 1 (5/6 for a solid bar, about
// 0.5 for a thin tube, S. Timoshenko and G. Cowper, from memory), or 0 for Euler and
// Bernoulli [-]. It errs on a beam or kappa out of range.
func (b Beam) Vertical(kappa float64) (Planar, error) {
	return b.planar("frame.Beam.Vertical: kappa", kappa, b.Section.Iy)
}

// Horizontal is Vertical for bending to the sides, about z.
func (b Beam) Horizontal(kappa float64) (Planar, error) {
	return b.planar("frame.Beam.Horizontal: kappa", kappa, b.Section.Iz)
}

func (b *Beam) planar(name string, kappa, second float64) (Planar, error) {
	var f input.Faults
	f.Add(b.Validate())
	if kappa != 0 {
		f.Between(name, kappa, 0.1, 1, "")
	}
	if err := f.Err(); err != nil {
		return Planar{}, err
	}
	return Planar{
		Length: b.Length, Bending: b.Metal.Young * second, Line: b.Metal.Density * b.Section.Area,
		Gyration: math.Sqrt(second / b.Section.Area), Shear: kappa * b.Metal.Shear() * b.Section.Area,
	}, nil
}

// Held returns the beam with its ends held so; what else is at them stays. Other
// ends than those named hold nothing.
func (p Planar) Held(ends Ends) Planar {
	h := [2]Hold{}
	if ends >= 0 && int(ends) < len(endHolds) {
		h = endHolds[ends]
	}
	p.Start.Hold, p.End.Hold = h[0], h[1]
	return p
}

var endHolds = [...][2]Hold{
	ClampedFree:    {HoldClamped, HoldFree},
	ClampedClamped: {HoldClamped, HoldClamped},
	ClampedPinned:  {HoldClamped, HoldPinned},
	ClampedGuided:  {HoldClamped, HoldGuided},
	PinnedPinned:   {HoldPinned, HoldPinned},
	FreeFree:       {HoldFree, HoldFree},
	FreePinned:     {HoldFree, HoldPinned},
	GuidedPinned:   {HoldGuided, HoldPinned},
	GuidedGuided:   {HoldGuided, HoldGuided},
	GuidedFree:     {HoldGuided, HoldFree},
}

// Validate reports fields out of range, joints out of order, and bodies so heavy
// that the beam's own mass is lost in rounding.
func (p Planar) Validate() error {
	var f input.Faults
	p.faults(&f)
	return f.Err()
}

func (p *Planar) faults(f *input.Faults) {
	f.Between("frame.Planar.Length", p.Length, 1e-3, 1000, "m")
	f.Between("frame.Planar.Bending", p.Bending, 1e-14, 1e16, "N·m²")
	if p.Line != 0 {
		f.Between("frame.Planar.Line", p.Line, 1e-8, 1e7, "kg/m")
	}
	f.Count("frame.Planar.Between: joints", len(p.Between), 0, mostJoints)
	if !f.None() {
		return
	}
	f.Between("frame.Planar.Gyration", p.Gyration, 0, p.Length, "m")
	euler := p.Bending / (p.Length * p.Length)
	if p.Shear != 0 {
		f.Between("frame.Planar.Shear", p.Shear, euler, 1e15*euler, "N")
	}
	f.Between("frame.Planar.Axial", p.Axial, -mostAxial*euler, mostAxial*euler, "N")
	own := p.Line * p.Length
	bodies, before := 0.0, 0.0
	for i := range p.joints() {
		j, at := p.joint(i)
		if err := j.fault(p.Length, euler, i == 0 || i == p.joints()-1); err != nil {
			f.Add(fmt.Errorf("frame.Planar, %s: %w", p.place(i), err))
		}
		if i > 0 && !(at-before >= leastGap*(1-1e-9)) {
			f.Refuse("frame.Planar, "+p.place(i)+": place", at*p.Length, "m",
				"at least "+input.WithUnit((before+leastGap)*p.Length, "m")+", 1e-3 lengths beyond the joint before")
		}
		before = at
		bodies += j.Mass + j.HungMass + j.Inertia/(p.Length*p.Length)
	}
	switch {
	case !f.None():
	case own == 0 && !(bodies > 1e-12):
		f.Refuse("frame.Planar: mass of the bodies", bodies, "kg", "above 1e-12 kg on a beam without mass")
	case own == 0 && p.loose() > 0:
		f.Refuse("frame.Planar.Line", 0, "kg/m", "1e-8 to 1e+07 kg/m on a beam that is not held at rest")
	case own > 0 && bodies > mostAttached*own:
		f.Refuse("frame.Planar: bodies together", bodies, "kg", "at most "+input.WithUnit(mostAttached*own, "kg")+", 1e6 of the beam, or a beam without mass")
	}
}

// fault is apart so that a sound joint puts no names together.
func (j *Joint) fault(length, euler float64, end bool) error {
	var f input.Faults
	f.Count("Hold", int(j.Hold), 0, int(HoldClamped))
	if j.Hold == HoldClamped && !end {
		f.Refuse("Hold", float64(j.Hold), "", "free, pinned or guided between the ends: a clamp parts the beam in two")
	}
	if j.Spring != 0 {
		f.Between("Spring", j.Spring, softest*euler/length, 1e15, "N/m")
	}
	if j.Hinge != 0 {
		f.Between("Hinge", j.Hinge, softest*euler*length, 1e15, "N·m/rad")
	}
	f.Between("Mass", j.Mass, 0, 1e6, "kg")
	f.Between("Inertia", j.Inertia, 0, 1e8, "kg·m²")
	f.Between("Offset", j.Offset, -mostReach*length, mostReach*length, "m")
	f.Between("HungMass", j.HungMass, 0, 1e6, "kg")
	if j.HungMass > 0 && j.Hold.still()[0] {
		f.Refuse("HungMass", j.HungMass, "kg", "0 on a hold that does not move: it would ring by itself")
	}
	if j.HungMass > 0 {
		f.Between("HungOn", j.HungOn, 1e-6, 1e15, "N/m")
	} else if j.HungOn != 0 {
		f.Refuse("HungOn", j.HungOn, "N/m", "0 without a HungMass")
	}
	return f.Err()
}

// joints counts the ends too.
func (p *Planar) joints() int { return len(p.Between) + 2 }

// joint returns one with its place as part of the length.
func (p *Planar) joint(i int) (j *Joint, at float64) {
	switch i {
	case 0:
		return &p.Start, 0
	case p.joints() - 1:
		return &p.End, 1
	}
	j = &p.Between[i-1]
	return j, j.At / p.Length
}

func (p *Planar) place(i int) string {
	switch i {
	case 0:
		return "start"
	case p.joints() - 1:
		return "end"
	}
	return fmt.Sprintf("joint %d", i-1)
}

// vibrations returns how many natural frequencies there are.
func (p *Planar) vibrations() int {
	if p.Line > 0 {
		return math.MaxInt
	}
	n := 0
	for i := range p.joints() {
		j, _ := p.joint(i)
		still := j.Hold.still()
		if !still[0] && j.Mass > 0 {
			n++
		}
		if !still[1] && (j.Inertia > 0 || still[0] && j.Mass > 0 && j.Offset != 0) {
			n++
		}
		if j.HungMass > 0 {
			n++
		}
	}
	return n
}

// ErrLoose reports a beam that can move without bending where it must not.
var ErrLoose = errors.New("beam not held")

// loose returns in how many ways the beam moves without any force.
func (p *Planar) loose() int {
	moving, turning := 0, 0 // places held against either
	for i := range p.joints() {
		j, _ := p.joint(i)
		still := j.Hold.still()
		if still[0] || j.Spring > 0 {
			moving++
		}
		if still[1] || j.Hinge > 0 {
			turning++
		}
	}
	ways := 0
	if moving == 0 {
		ways++
	}
	if turning == 0 && moving < 2 && p.Axial == 0 {
		ways++
	}
	return ways
}
