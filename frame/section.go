package frame

import (
	"math"

	"meltflight/internal/input"
)

// Section is the cross-section of a straight member, symmetric about y and z so
// that its shear centre is its centroid.
type Section struct {
	Area      float64 // 1e-10 to 100 [m²]
	Iy        float64 // second moment of area about y, for vertical bending, 1e-22 to 1e4 [m⁴]
	Iz        float64 // second moment of area about z, for horizontal bending, 1e-22 to 1e4 [m⁴]
	J         float64 // Saint-Venant torsion constant, 1e-22 to 1e4 [m⁴]
	Thickness float64 // largest thickness of metal, which decides its strength; 0 if unknown [m]
}

const (
	smallestSide = 1e-4 // [m]
	largestSide  = 10   // [m]
	thinnestWall = 1e-6 // [m]
)

// RectangularTube returns the section of a tube with square corners, outer height
// along z and outer width along y, 1e-4 to 10 [m], wall 1e-6 [m] to a quarter of
// the smaller side.
//
// J is that of Prandtl's membrane (S. Timoshenko and J. Goodier, Theory of
// Elasticity, art. 115) with its corners, to 1e-4 of finite differences. The thin
// wall's 4·Am²·t/s on the mid-line (R. Bredt, 1896) is lower by 3 % for 60×40×3 mm,
// 5 % for 40×40×4 and 18 % for 40×40×10.
// Cold-formed tube has round corners: against square ones a 40×40×3 mm tube to EN
// 10219 has 5 % less area and 9 % less Iy. With its table at hand, fill a Section
// from the table.
func RectangularTube(height, width, wall float64) (Section, error) {
	var f input.Faults
	f.Between("frame.RectangularTube: height", height, smallestSide, largestSide, "m")
	f.Between("frame.RectangularTube: width", width, smallestSide, largestSide, "m")
	most := 0.25 * largestSide
	if f.None() {
		most = 0.25 * math.Min(height, width)
	}
	f.Between("frame.RectangularTube: wall", wall, thinnestWall, most, "m")
	if err := f.Err(); err != nil {
		return Section{}, err
	}
	h, w := height-wall, width-wall // mid-line
	enclosed, around := h*w, 2*(h+w)
	return Section{
		Area:      around * wall,
		Iy:        tubeBending(height, width, wall),
		Iz:        tubeBending(width, height, wall),
		J:         tubeTorsion(enclosed, around, wall),
		Thickness: wall,
	}, nil
}

// tubeTorsion splits the membrane over a tube into a plate that the hole lifts
// and a skin blown up over the wall between still edges. With u the plate's share
// of the hole's height, J = 4(hole + ∫u)²/∮∂u/∂n + J of the skin [m⁴].
//
// Between corners u is linear and the skin a parabola. What each corner adds is a
// number, since a wall twice as long inside as thick hardly feels the next corner: to
// ∮∂u/∂n, over the mid-line ÷ wall, −(2/π)ln 2 by conformal mapping (a square
// corner's 0.559 over its inner lengths); to ∫u and to the skin's J as below, by
// finite differences of 8 to 64 cells across the wall, extrapolated.
func tubeTorsion(enclosed, around, wall float64) float64 {
	const (
		slope   = -2 * math.Ln2 / math.Pi // [-]
		plate   = -0.10517                // ÷ wall²
		blown   = 0.0725                  // ÷ wall⁴
		corners = 4
	)
	t2 := wall * wall
	area := enclosed + corners*plate*t2
	return 4*area*area/(around/wall+corners*slope) + t2*t2*(around/(3*wall)+corners*blown)
}

// tubeBending sums two flanges across the width and two webs, which unlike outer
// minus inner rectangle loses no digits on a thin wall [m⁴].
func tubeBending(height, width, wall float64) float64 {
	arm, web := 0.5*(height-wall), height-2*wall
	return 2*width*wall*(arm*arm+wall*wall/12) + wall*web*web*web/6
}

// Rectangle returns the section of a solid bar, height along z and width along y,
// 1e-4 to 10 [m]. J is exact: Saint-Venant's series, S. Timoshenko and J. Goodier,
// Theory of Elasticity, art. 109.
func Rectangle(height, width float64) (Section, error) {
	var f input.Faults
	f.Between("frame.Rectangle: height", height, smallestSide, largestSide, "m")
	f.Between("frame.Rectangle: width", width, smallestSide, largestSide, "m")
	if err := f.Err(); err != nil {
		return Section{}, err
	}
	long, short := math.Max(height, width), math.Min(height, width)
	// Σ tanh(nπa/2b)/n⁵ over odd n, less its limit 31ζ(5)/32 for a long side: what
	// is left falls as exp(-nπ), so that six terms exhaust a float64.
	const limit = 31 * 1.0369277551433699 / 32
	sum := limit
	for n := 1.0; n < 12; n += 2 {
		sum -= 2 / (math.Pow(n, 5) * (math.Exp(n*math.Pi*long/short) + 1))
	}
	factor := 1.0/3 - 64/math.Pow(math.Pi, 5)*short/long*sum
	return Section{
		Area:      height * width,
		Iy:        width * height * height * height / 12,
		Iz:        height * width * width * width / 12,
		J:         factor * long * short * short * short,
		Thickness: short,
	}, nil
}

// RoundTube returns the section of a tube of outer diameter 1e-4 to 10 [m] and
// wall 1e-6 [m] to half of that. J is exact.
func RoundTube(diameter, wall float64) (Section, error) {
	var f input.Faults
	f.Between("frame.RoundTube: diameter", diameter, smallestSide, largestSide, "m")
	most := 0.5 * largestSide
	if f.None() {
		most = 0.5 * diameter
	}
	f.Between("frame.RoundTube: wall", wall, thinnestWall, most, "m")
	if err := f.Err(); err != nil {
		return Section{}, err
	}
	mean := diameter - wall
	area := math.Pi * mean * wall
	i := area * (mean*mean + wall*wall) / 8
	thickness := wall
	if wall == most {
		thickness = diameter
	}
	return Section{Area: area, Iy: i, Iz: i, J: 2 * i, Thickness: thickness}, nil
}

// Round returns the section of a solid bar of diameter 1e-4 to 10 [m]. J is exact.
func Round(diameter float64) (Section, error) {
	var f input.Faults
	f.Between("frame.Round: diameter", diameter, smallestSide, largestSide, "m")
	if err := f.Err(); err != nil {
		return Section{}, err
	}
	return RoundTube(diameter, 0.5*diameter)
}

// Gyration returns the radii of gyration √(I/A) about y and z [m].
func (s Section) Gyration() (y, z float64) {
	return math.Sqrt(s.Iy / s.Area), math.Sqrt(s.Iz / s.Area)
}

// Validate reports fields out of range, and those that no shape can have
// together: Iy + Iz of a solid disc is the least that an area can have, and J is
// at most Iy + Iz.
func (s Section) Validate() error {
	var f input.Faults
	f.Between("frame.Section.Area", s.Area, 1e-10, 100, "m²")
	f.Between("frame.Section.Iy", s.Iy, 1e-22, 1e4, "m⁴")
	f.Between("frame.Section.Iz", s.Iz, 1e-22, 1e4, "m⁴")
	f.Between("frame.Section.J", s.J, 1e-22, 1e4, "m⁴")
	f.Between("frame.Section.Thickness", s.Thickness, 0, largestSide, "m")
	if !f.None() {
		return f.Err()
	}
	const slack = 1 + 1e-9 // a round bar lies on all three limits
	polar, disc := s.Iy+s.Iz, s.Area*s.Area/(2*math.Pi)
	if polar*slack < disc {
		f.Refuse("frame.Section.Iy + Iz", polar, "m⁴", "at least "+input.WithUnit(disc, "m⁴")+", that of a solid disc of this Area")
	}
	if s.J > polar*slack {
		f.Refuse("frame.Section.J", s.J, "m⁴", "at most Iy + Iz, "+input.WithUnit(polar, "m⁴"))
	}
	if most := thickest(s.Area); s.Thickness > most*slack {
		f.Refuse("frame.Section.Thickness", s.Thickness, "m", "at most "+input.WithUnit(most, "m")+", a solid disc of this Area")
	}
	return f.Err()
}

// thickest returns the largest thickness that an area can have: the diameter of
// a solid disc [m].
func thickest(area float64) float64 { return 2 * math.Sqrt(area/math.Pi) }
