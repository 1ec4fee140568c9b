package thermal

import (
	"math"

	"meltflight/internal/input"
)

// Profile is how a fin narrows from its base.
type Profile int

const (
	Rectangular Profile = 1 + iota // a fin or pin of one thickness
	Triangular                     // to an edge; a pin to a cone's point
	Parabolic                      // a fin to an edge by two hollow curves; a pin bluntly, by a bulging one
)

func (p Profile) check(f *input.Faults, name string) {
	f.Count(name, int(p), int(Rectangular), int(Parabolic))
}

// Fin is what a fin does.
type Fin struct {
	Parameter   float64  // m·L, 0 of a fin that is as warm as its base throughout [-]
	Area        float64  // that gives off heat [m²]
	Efficiency  float64  // heat as a part of what the fin would lose as warm as its base, 0 to 1 [-]
	Conductance float64  // heat for each kelvin of the base above the air [W/K]
	Beyond      []string // in words, where the theory's range is left; nil inside it
}

// fin joins the pieces; half is half the thickness at the base [m].
func fin(parameter, area, efficiency, coefficient, conductivity, half float64) Fin {
	f := Fin{
		Parameter: parameter, Area: area, Efficiency: efficiency,
		Conductance: efficiency * area * coefficient,
	}
	f.Beyond = beyond(nil, "fin", "Biot number of half its thickness", coefficient*half/conductivity, 0, 0.1)
	return f
}

// checkFin refuses a mean coefficient of both sides, radiation included, outside 0.01 to
// 1e5 [W/(m²·K)] and a conductivity of the fin outside 0.01 to 1e4 [W/(m·K)].
func checkFin(f *input.Faults, name string, coefficient, conductivity float64) {
	f.Between(name+": coefficient", coefficient, 0.01, 1e5, "W/(m²·K)")
	f.Between(name+": conductivity", conductivity, 0.01, 1e4, "W/(m·K)")
}

// StraightFin stands on a flat base.
type StraightFin struct {
	Profile   Profile
	Length    float64 // from base to edge, 1e-5 to 1 [m]
	Thickness float64 // at the base, 1e-5 to 0.1 [m]
	Width     float64 // along the base, 1e-4 to 10 [m]
}

// Validate reports the fields out of range.
func (s StraightFin) Validate() error {
	var f input.Faults
	s.check(&f)
	return f.Err()
}

func (s *StraightFin) check(f *input.Faults) {
	s.Profile.check(f, "thermal.StraightFin.Profile")
	f.Between("thermal.StraightFin.Length", s.Length, 1e-5, 1, "m")
	f.Between("thermal.StraightFin.Thickness", s.Thickness, 1e-5, 0.1, "m")
	f.Between("thermal.StraightFin.Width", s.Width, 1e-4, 10, "m")
}

// At returns what the fin does at a mean coefficient on both sides, radiation
// included, 0.01 to 1e5 [W/(m²·K)], of a conductivity, 0.01 to 1e4 [W/(m·K)]:
// with m = √(2h/(k·t)),
//
//	rectangular  tanh(m·Lc)/(m·Lc), Lc = L + t/2 for the edge
//	triangular   I₁(2mL)/(mL·I₀(2mL))
//	parabolic    2/(1 + √(1 + (2mL)²))
//
// Exact for heat that flows along the fin alone, but that Lc stands for the edge
// (1e-5 of the heat where m·t is 0.02), in the Parameter too; the two ends of the width are left out.
//
// Source: Çengel and Ghajar, Heat and Mass Transfer, 5th ed., table 3-3 (its number from memory).
func (s StraightFin) At(coefficient, conductivity float64) (Fin, error) {
	var f input.Faults
	s.check(&f)
	checkFin(&f, "thermal.StraightFin.At", coefficient, conductivity)
	if err := f.Err(); err != nil {
		return Fin{}, err
	}
	m := math.Sqrt(2 * coefficient / (conductivity * s.Thickness))
	x := m * s.Length
	var area, efficiency float64
	switch s.Profile {
	case Rectangular:
		edged := s.Length + s.Thickness/2
		x = m * edged
		area, efficiency = 2*s.Width*edged, straight(x)
	case Triangular:
		area, efficiency = 2*s.Width*math.Hypot(s.Length, s.Thickness/2), triangular(x)
	case Parabolic:
		// The arc of the curve, its series where the fin is so slender that the logarithm cancels.
		slope := s.Thickness / s.Length
		c := math.Hypot(1, slope)
		area = s.Width * s.Length * (c + math.Asinh(slope)/slope)
		efficiency = 2 / (1 + math.Hypot(1, 2*x))
	}
	return fin(x, area, efficiency, coefficient, conductivity, s.Thickness/2), nil
}

// straight is the efficiency of a fin of one section, whose tip is insulated.
func straight(x float64) float64 {
	if x < 1e-4 {
		return 1 - x*x/3
	}
	return math.Tanh(x) / x
}

func triangular(x float64) float64 {
	if x < 1e-4 {
		return 1 - x*x/2
	}
	zero, one := besselI(2 * x)
	return math.Min(1, one/(x*zero))
}

// PinFin stands on a base by its round end.
type PinFin struct {
	Profile  Profile
	Length   float64 // 1e-5 to 1 [m]
	Diameter float64 // at the base, 1e-5 to 0.1 [m]
}

// Validate reports the fields out of range.
func (p PinFin) Validate() error {
	var f input.Faults
	p.check(&f)
	return f.Err()
}

func (p *PinFin) check(f *input.Faults) {
	p.Profile.check(f, "thermal.PinFin.Profile")
	f.Between("thermal.PinFin.Length", p.Length, 1e-5, 1, "m")
	f.Between("thermal.PinFin.Diameter", p.Diameter, 1e-5, 0.1, "m")
}

// At returns what the pin does at a mean coefficient, radiation included, 0.01 to
// 1e5 [W/(m²·K)], of a conductivity, 0.01 to 1e4 [W/(m·K)]: with m = √(4h/(k·D)),
//
//	rectangular  tanh(m·Lc)/(m·Lc), Lc = L + D/4 for the end
//	triangular   2·I₂(2mL)/(mL·I₁(2mL))
//	parabolic    3·I₁(4mL/3)/(2mL·I₀(4mL/3)), blunt
//
// A square pin is one of its side as the diameter, with 4/π of the conductance.
// Source and errors are those of [StraightFin.At].
func (p PinFin) At(coefficient, conductivity float64) (Fin, error) {
	var f input.Faults
	p.check(&f)
	checkFin(&f, "thermal.PinFin.At", coefficient, conductivity)
	if err := f.Err(); err != nil {
		return Fin{}, err
	}
	m := math.Sqrt(4 * coefficient / (conductivity * p.Diameter))
	x := m * p.Length
	var area, efficiency float64
	switch p.Profile {
	case Rectangular:
		ended := p.Length + p.Diameter/4
		x = m * ended
		area, efficiency = math.Pi*p.Diameter*ended, straight(x)
	case Triangular:
		area, efficiency = math.Pi/2*p.Diameter*math.Hypot(p.Length, p.Diameter/2), cone(x)
	case Parabolic:
		area, efficiency = bluntArea(p.Length, p.Diameter), triangular(2*x/3)
	}
	return fin(x, area, efficiency, coefficient, conductivity, p.Diameter/4), nil
}

// cone is 2·I₂(2x)/(x·I₁(2x)), I₂ from the other two where that does not cancel.
func cone(x float64) float64 {
	z := 2 * x
	if z > 1 {
		zero, one := besselI(z)
		return 2 * (zero/one - 2/z) / x
	}
	// I₂/I₁ as a continued fraction, which converges at once for small z.
	var tail float64
	for k := 12.; k >= 2; k-- {
		tail = z * z / (2*k + tail)
	}
	return 4 * tail / (z * z)
}

// bluntArea is the mantle of a paraboloid, π·D⁴/(96L²)·[(16(L/D)²+1)^1.5 − 1].
func bluntArea(length, diameter float64) float64 {
	x := 4 * length / diameter
	return math.Pi * diameter * diameter / 6 * math.Expm1(1.5*math.Log1p(x*x)) / (x * x)
}

// AnnularFin is a disc around a tube or a rod, such as that of a heat break's sink.
type AnnularFin struct {
	Inner     float64 // radius at its base, 1e-5 to 1 [m]
	Outer     float64 // radius, more than Inner by 1e-5 to 1 [m]
	Thickness float64 // 1e-5 to 0.1 [m]
}

// Validate reports the fields out of range.
func (a AnnularFin) Validate() error {
	var f input.Faults
	a.check(&f)
	return f.Err()
}

func (a *AnnularFin) check(f *input.Faults) {
	f.Between("thermal.AnnularFin.Inner", a.Inner, 1e-5, 1, "m")
	f.Between("thermal.AnnularFin.Outer", a.Outer, 2e-5, 2, "m")
	f.Between("thermal.AnnularFin.Thickness", a.Thickness, 1e-5, 0.1, "m")
	if f.None() && !(a.Outer >= a.Inner+1e-5) {
		f.Refuse("thermal.AnnularFin.Outer", a.Outer, "m", "at least 1e-05 m more than Inner, "+input.WithUnit(a.Inner, "m"))
	}
}

// At returns what the disc does at a mean coefficient on both sides, radiation
// included, 0.01 to 1e5 [W/(m²·K)], of a conductivity, 0.01 to 1e4 [W/(m·K)], with the
// Bessel functions of m·r, not by a chart: m = √(2h/(k·t)), the rim counted by an outer
// radius greater by t/2. The Parameter is m times the breadth of that ring.
//
// Source: Çengel and Ghajar, Heat and Mass Transfer, 5th ed., table 3-3 (its number from memory). Two examples of
// textbooks read 0.95 off the chart where the functions give 0.979 and 0.961.
func (a AnnularFin) At(coefficient, conductivity float64) (Fin, error) {
	var f input.Faults
	a.check(&f)
	checkFin(&f, "thermal.AnnularFin.At", coefficient, conductivity)
	if err := f.Err(); err != nil {
		return Fin{}, err
	}
	outer := a.Outer + a.Thickness/2
	m := math.Sqrt(2 * coefficient / (conductivity * a.Thickness))
	area := 2 * math.Pi * (outer - a.Inner) * (outer + a.Inner)
	return fin(m*(outer-a.Inner), area, annular(m*a.Inner, m*outer), coefficient, conductivity, a.Thickness/2), nil
}

// annular is the efficiency of a ring by its radii times m.
func annular(inner, outer float64) float64 {
	breadth := outer - inner
	ring := breadth * (outer + inner)
	if breadth < 1e-4*inner && breadth < 1e-3 {
		return straight(breadth) // nothing left of the curvature, and digits to lose
	}
	// Of a ring that is nearly of one temperature, by the flow of one that is; the
	// functions would cancel.
	square := outer * outer
	if drop := (square*(square*math.Log1p(breadth/inner)/2-ring/4) - ring*ring/8) / ring; drop < 1e-6 {
		return 1 - math.Max(0, drop)
	}
	i0, i1 := besselI(inner)
	k0, k1 := besselK(inner)
	_, far1 := besselI(outer)
	_, farK := besselK(outer)
	back := math.Exp(-2 * breadth)
	flow := (k1*far1 - i1*farK*back) / (i0*farK*back + k0*far1)
	return math.Min(1, 2*inner/ring*flow)
}

// ArrayEfficiency returns that of a finned face as a whole [-]: fin area as a part
// of all that gives off heat, 0 to 1 [-], and efficiency of a fin, 0 to 1 [-], make
// 1 − part·(1 − η). The base between the fins counts as fully warm.
//
// Source: Incropera and others, Fundamentals of Heat and Mass Transfer, 6th ed., eq. 3.102
// (number of the equation from memory).
func ArrayEfficiency(part, efficiency float64) (float64, error) {
	var f input.Faults
	f.Between("thermal.ArrayEfficiency: part", part, 0, 1, "")
	f.Between("thermal.ArrayEfficiency: efficiency", efficiency, 0, 1, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return 1 - part*(1-efficiency), nil
}
