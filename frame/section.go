package frame

import (
	"math"

	"meltflight/internal/input"
)

// Section is the cross-section of a straight member that bends about its principal
// axes y and z. Beams, axes and stands take its shear centre for its centroid, as it is where
// the section is symmetric about both; a [Profile] tells how far off it is where not.
//
// The shear areas that the constructors fill in are those of shear stress in
// equilibrium with bending, which is G. Cowper's (1966) for a Poisson's ratio of
// zero; [CowperRectangle] and its like tell how much a Poisson's ratio adds.
type Section struct {
	Area      float64 // 1e-10 to 100 [m²]
	Iy        float64 // second moment of area about y, for vertical bending, 1e-22 to 1e4 [m⁴]
	Iz        float64 // second moment of area about z, for horizontal bending, 1e-22 to 1e4 [m⁴]
	J         float64 // Saint-Venant torsion constant, 1e-22 to 1e4 [m⁴]
	Thickness float64 // largest thickness of metal, which decides its strength; 0 if unknown [m]

	ShearY         float64 // area that takes a shear force along y, 1e-12 of Area to all of it; 0 if unknown [m²]
	ShearZ         float64 // the same along z, beside Iy [m²]
	TorsionModulus float64 // torque ÷ largest shear stress, notches left out, up to 1e3; 0 if unknown [m³]
}

const (
	smallestSide = 1e-4 // [m]
	largestSide  = 10   // [m]
	thinnestWall = 1e-6 // [m]
)

// Rectangle returns the section of a solid bar, height along z and width along y,
// 1e-4 to 10 [m]. J and the torsion modulus are exact: Saint-Venant's series, S.
// Timoshenko and J. Goodier, Theory of Elasticity, art. 109.
func Rectangle(height, width float64) (Section, error) {
	var f input.Faults
	f.Between("frame.Rectangle: height", height, smallestSide, largestSide, "m")
	f.Between("frame.Rectangle: width", width, smallestSide, largestSide, "m")
	if err := f.Err(); err != nil {
		return Section{}, err
	}
	j, modulus := barTorsion(math.Max(height, width), math.Min(height, width))
	area := height * width
	return Section{
		Area:           area,
		Iy:             area * height * height / 12,
		Iz:             area * width * width / 12,
		J:              j,
		Thickness:      math.Min(height, width),
		ShearY:         shearOfBar * area,
		ShearZ:         shearOfBar * area,
		TorsionModulus: modulus,
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
	bore := 1 - 2*wall/diameter
	shear := area * cowperRound(bore*bore, 0)
	return Section{Area: area, Iy: i, Iz: i, J: 2 * i, Thickness: thickness,
		ShearY: shear, ShearZ: shear, TorsionModulus: 4 * i / diameter}, nil
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
	f.Between("frame.Section.TorsionModulus", s.TorsionModulus, 0, 1e3, "m³")
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
	for _, shear := range [...]struct {
		name string
		area float64
	}{{"frame.Section.ShearY", s.ShearY}, {"frame.Section.ShearZ", s.ShearZ}} {
		if shear.area != 0 && !(shear.area >= 1e-12*s.Area && shear.area <= s.Area*slack) {
			f.Refuse(shear.name, shear.area, "m²", "0 if unknown, or "+input.Range(1e-12*s.Area, s.Area, "m²"))
		}
	}
	if most := thickest(s.Area); s.Thickness > most*slack {
		f.Refuse("frame.Section.Thickness", s.Thickness, "m", "at most "+input.WithUnit(most, "m")+", a solid disc of this Area")
	}
	return f.Err()
}

// thickest returns the largest thickness that an area can have: the diameter of
// a solid disc [m].
func thickest(area float64) float64 { return 2 * math.Sqrt(area/math.Pi) }
