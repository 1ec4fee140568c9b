package frame

import (
	"math"

	"meltflight/internal/input"
	"meltflight/internal/root"
	"meltflight/material"
)

// Stand is a hopper on its own four upright legs, joined at the top by a ring of
// four members of the same section. Legs stand with their local y along the
// stand's y, so that Iy bends as the stand sways along x; the ring's members lie
// as beams do.
type Stand struct {
	Height     float64        // feet to ring, 0.01 to 100 [m]
	Width      float64        // along x, between leg axes, 0.01 to 100 [m]
	Depth      float64        // along y, between leg axes, 0.01 to 100 [m]
	Leg        Section        // of legs and ring
	Metal      material.Metal // of legs and ring
	FeetFixed  bool           // feet bolted to a rigid floor; else they may turn
	Mass       float64        // hopper and contents, 0 to 1e6 [kg]
	MassHeight float64        // their centre of mass above the floor, 1e-3 to 200 [m]
}

// Validate reports fields out of range.
func (s Stand) Validate() error {
	var f input.Faults
	f.Between("frame.Stand.Height", s.Height, 0.01, 100, "m")
	f.Between("frame.Stand.Width", s.Width, 0.01, 100, "m")
	f.Between("frame.Stand.Depth", s.Depth, 0.01, 100, "m")
	f.Add(s.Leg.Validate())
	elastic(&f, s.Metal)
	f.Between("frame.Stand.Mass", s.Mass, 0, 1e6, "kg")
	f.Between("frame.Stand.MassHeight", s.MassHeight, 1e-3, 200, "m")
	return f.Err()
}

// perLength returns the mass of a metre of leg or ring [kg/m].
func (s *Stand) perLength() float64 { return s.Metal.Density * s.Leg.Area }

func (s *Stand) ringMass() float64 { return 2 * (s.Width + s.Depth) * s.perLength() }
func (s *Stand) legsMass() float64 { return 4 * s.Height * s.perLength() }

// ratio returns k, the stiffness of a ring member ÷ that of a leg, for a portal
// of two legs a distance apart that bend with second moment i. The legs' stretch
// turns the ring as a whole, a spring EA·distance²/2h in series with its own
// 12EI/distance.
func (s *Stand) ratio(distance, i float64) float64 {
	stretch := 24 * s.Leg.Iy * s.Height / (s.Leg.Area * distance * distance * distance)
	return s.Leg.Iy / distance * s.Height / (i * (1 + stretch))
}

// SwayStiffness returns the force at the ring ÷ its sideways motion along x and y
// [N/m]. It errs on a stand out of range.
//
// Two portals in each direction, each 24EI/h³·(6k+1)/(6k+4) on fixed and
// 12EI/h³·k/(2k+1) on turning feet, k = (I/L of ring)/(I/h of leg), by slope and
// deflection; the former is that of A. Chopra, Dynamics of Structures, sec. 1.3.
// The legs' stretch, which counts on a narrow stand, divides k by
// 1 + 24·I·h/(A·L³), I of the ring, A of a leg; the feet are taken not to lift.
func (s Stand) SwayStiffness() (x, y float64, err error) {
	if err := s.Validate(); err != nil {
		return 0, 0, err
	}
	x, _ = s.sway(s.Width, s.Leg.Iy)
	y, _ = s.sway(s.Depth, s.Leg.Iz)
	return x, y, nil
}

// sway returns the stiffness of two portals and the share of the legs' mass that
// moves with the ring, the mean square of their static shape, a cubic.
func (s *Stand) sway(distance, i float64) (stiffness, share float64) {
	k := s.ratio(distance, i)
	unit := s.Metal.Young * i / (s.Height * s.Height * s.Height)
	if s.FeetFixed {
		turn := 3 / (3*k + 2) // of the ring's corner, times height ÷ sway
		return 2 * 24 * unit * (6*k + 1) / (6*k + 4), (39 + turn*(turn-11)) / 105
	}
	a := (3*k + 1) / (2*k + 1) // the shape is aξ + (1−a)ξ³
	b := 1 - a
	return 2 * 12 * unit * k / (2*k + 1), a*a/3 + 2*a*b/5 + b*b/7
}

// Modes returns the natural frequencies of swaying along x and y [Hz]. It errs on
// a stand out of range.
//
// The moving mass is what is carried, the ring, and of each leg the mean square of
// its static shape: 0.24 under a soft ring to 13/35 under a stiff one on fixed
// feet, 1/3 to 17/35 on turning ones (Rayleigh). Against finite elements in space,
// the hopper a quarter in each corner, the frequencies are never low, and high by
// 0.1 % as a rule and at most 1.5 % while neither side is longer than the height and
// the load as heavy as the legs. The long ring of a low stand swings on its own,
// which is not counted: 0.3 m high and 0.15 by 0.76 m it is told 10 % too high.
// With its centre of mass higher above the ring than a quarter of the height the
// hopper also rocks, and the truth is lower. Rubber feet are softer than turning ones.
//
// The twist about the vertical is not told. With the hopper's mass within the
// legs it lies above the lower of the two, but legs much stiffer one way than
// the other can bring it below the higher.
func (s Stand) Modes() (swayX, swayY float64, err error) {
	if err := s.Validate(); err != nil {
		return 0, 0, err
	}
	carried, legs := s.Mass+s.ringMass(), s.legsMass()
	frequency := func(stiffness, share float64) float64 {
		return math.Sqrt(stiffness/(carried+share*legs)) / (2 * math.Pi)
	}
	return frequency(s.sway(s.Width, s.Leg.Iy)), frequency(s.sway(s.Depth, s.Leg.Iz)), nil
}

// Buckling compares the load on a leg with what it bears when the stand sways
// [N]. verticalLoad is all that presses on the ring, 0 to 1e9 [N]; each leg is
// taken to bear half of it, since an uneven floor can leave two diagonal legs to
// carry everything. It errs on a stand or load out of range, and if the metal's
// strength at the leg's thickness is not known.
//
// EN 1993-1-1:2005, 6.3.1, with curve c for cold-formed tube and γM1 = 1. The
// effective length is twice the height on fixed feet, which no bolted foot
// exceeds; on turning feet it is 2 or more, π/u with u·tan u = 6k of the pinned
// sway portal (k as for [Stand.SwayStiffness]).
//
// These curves are of steel. Aluminium belongs to EN 1999-1-1, whose curves lie
// lower on stout legs and which takes off for welds: below 150e9 Pa of Young's
// modulus the Method says so.
func (s Stand) Buckling(verticalLoad float64) (material.Utilisation, error) {
	var f input.Faults
	f.Add(s.Validate())
	f.Between("frame.Stand.Buckling: vertical load", verticalLoad, 0, 1e9, "N")
	if err := f.Err(); err != nil {
		return material.Utilisation{}, err
	}
	thickness := s.Leg.Thickness
	if thickness == 0 {
		thickness = thickest(s.Leg.Area)
	}
	strength, err := s.Metal.StrengthAt(thickness)
	if err != nil {
		return material.Utilisation{}, err
	}
	yield := s.Leg.Area * strength.Yield
	// An endless or senseless strength in a metal filled by hand ends here.
	f.Between("material.Metal.Strength: Yield", strength.Yield, 1e5, 1e10, "Pa")
	if err := f.Err(); err != nil {
		return material.Utilisation{}, err
	}
	ex, err := s.euler(s.Width, s.Leg.Iy)
	if err != nil {
		return material.Utilisation{}, err
	}
	ey, err := s.euler(s.Depth, s.Leg.Iz)
	if err != nil {
		return material.Utilisation{}, err
	}
	chi, err := BucklingReduction(math.Sqrt(yield/math.Min(ex, ey)), CurveC)
	if err != nil {
		return material.Utilisation{}, err
	}
	method := "EN 1993-1-1 6.3.1, curve c"
	if s.Metal.Young < softestSteel {
		method += ", as if of steel; for aluminium EN 1999-1-1 applies"
	}
	return material.Utilisation{
		Part: "stand leg buckling", Demand: 0.5 * verticalLoad, Capacity: chi * yield, Unit: "N", Method: method,
	}, nil
}

const softestSteel = 150e9 // Young's modulus that no structural steel is below [Pa]

// euler returns the elastic buckling load of a leg whose portal sways [N].
func (s *Stand) euler(distance, i float64) (float64, error) {
	u := math.Pi / 2
	if !s.FeetFixed {
		k := s.ratio(distance, i)
		var err error
		u, err = root.Find(func(u float64) float64 { return u*math.Sin(u) - 6*k*math.Cos(u) }, 0, math.Pi/2, 0)
		if err != nil {
			return 0, err
		}
	}
	return s.Metal.Young * i * u * u / (s.Height * s.Height), nil
}

// moments returns the weight of stand and hopper × half the smaller base, which
// keeps it upright [N·m], and the overturning moment per unit of sideways
// acceleration [kg·m].
func (s *Stand) moments() (righting, overturning float64) {
	ring, legs := s.ringMass(), s.legsMass()
	return gravity * (s.Mass + ring + legs) * 0.5 * math.Min(s.Width, s.Depth),
		s.Mass*s.MassHeight + ring*s.Height + 0.5*legs*s.Height
}

// Tipping compares the moment of a steady sideways acceleration, 0 to 1e4
// [m/s²], with that of the weight about the feet of the narrower side [N·m]. The
// stand's own mass counts; fill it as full, the highest centre of mass is the worst. It errs
// on a stand or acceleration out of range. Rigid-body statics: feet not bolted
// down; a short jerk that lifts two feet need not tip it over.
func (s Stand) Tipping(acceleration float64) (material.Utilisation, error) {
	var f input.Faults
	f.Add(s.Validate())
	f.Between("frame.Stand.Tipping: acceleration", acceleration, 0, 1e4, "m/s²")
	if err := f.Err(); err != nil {
		return material.Utilisation{}, err
	}
	righting, overturning := s.moments()
	return material.Utilisation{
		Part: "stand tipping", Demand: acceleration * overturning, Capacity: righting, Unit: "N·m",
		Method: "rigid-body statics about the feet",
	}, nil
}

// Push returns the sideways force that lifts two feet when it acts at a height
// above the floor, 1e-3 to 200 [m]: a person leaning, a cable, a jammed feed [N].
// It errs on a stand or height out of range.
func (s Stand) Push(height float64) (float64, error) {
	var f input.Faults
	f.Add(s.Validate())
	f.Between("frame.Stand.Push: height", height, 1e-3, 200, "m")
	if err := f.Err(); err != nil {
		return 0, err
	}
	righting, _ := s.moments()
	return righting / height, nil
}
