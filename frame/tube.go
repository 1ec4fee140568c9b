package frame

import (
	"math"

	"meltflight/internal/input"
)

// RectangularTube returns the section of a tube with square corners, outer height
// along z and outer width along y, 1e-4 to 10 [m], wall 1e-6 [m] to a quarter of
// the smaller side.
//
// J is that of Prandtl's membrane (S. Timoshenko and J. Goodier, Theory of
// Elasticity, art. 115) with its corners, to 1e-4 of finite differences. The thin
// wall's 4·Am²·t/s on the mid-line (R. Bredt, 1896) is lower by 3 % for 60×40×3 mm,
// 5 % for 40×40×4 and 18 % for 40×40×10.
// The torsion modulus leaves out the notch of the inner corner. The shear areas are
// those of the thin wall; against finite volumes they are low by 1 to 6 %, along
// the short side of 60×20×5 by 11 %.
//
// Cold-formed tube has round corners: against square ones a 40×40×3 mm tube to EN
// 10219 has 5 % less area and 9 % less Iy. [RoundedTube] has them.
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
	iy, iz := tubeBending(height, width, wall), tubeBending(width, height, wall)
	j, modulus := tubeTorsion(enclosed, around, wall)
	return Section{
		Area:           around * wall,
		Iy:             iy,
		Iz:             iz,
		J:              j,
		Thickness:      wall,
		ShearY:         tubeShear(w, h, wall, iz),
		ShearZ:         tubeShear(h, w, wall, iy),
		TorsionModulus: modulus,
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
func tubeTorsion(enclosed, around, wall float64) (j, modulus float64) {
	const (
		slope   = -2 * math.Ln2 / math.Pi // [-]
		plate   = -0.10517                // ÷ wall²
		blown   = 0.0725                  // ÷ wall⁴
		corners = 4
	)
	t2 := wall * wall
	area := enclosed + corners*plate*t2
	hole := 2 * area / (around/wall + corners*slope) // height of the membrane
	j = 2*area*hole + t2*t2*(around/(3*wall)+corners*blown)
	return j, j / (hole/wall + wall) // steepest outside, away from corners
}

// tubeBending sums two flanges across the width and two webs, which unlike outer
// minus inner rectangle loses no digits on a thin wall [m⁴].
func tubeBending(height, width, wall float64) float64 {
	arm, web := 0.5*(height-wall), height-2*wall
	return 2*width*wall*(arm*arm+wall*wall/12) + wall*web*web*web/6
}

// RoundedTube returns the section of a tube with round corners, outer height along
// z and outer width along y, 1e-4 to 10 [m], wall 1e-6 [m] to a quarter of the
// smaller side, outer radius of the corners from the wall to half the smaller side
// [m]; the inner corner has the same centre. Tube formed cold (EN 10219) has about
// twice the wall for a radius up to 6 mm of wall, formed hot (EN 10210) one and a
// half times with a smaller inner radius than here (both from memory).
//
// Area and second moments are exact. J and the torsion modulus are those of EN
// 10219-2, Annex B (from memory): Bredt's on the mid-line and the skin's t³s/3. Beside [Polygon.Torsion]
// J is low by 0.2 to 0.6 % for a wall up to a tenth of the side and a radius of one and a half walls or
// more, within 2 % for others.
// The shear areas are those of a square-cornered tube with the same mid-line, less
// in the proportion of the areas.
func RoundedTube(height, width, wall, radius float64) (Section, error) {
	var f input.Faults
	f.Between("frame.RoundedTube: height", height, smallestSide, largestSide, "m")
	f.Between("frame.RoundedTube: width", width, smallestSide, largestSide, "m")
	short := math.Min(height, width)
	if f.None() {
		f.Between("frame.RoundedTube: wall", wall, thinnestWall, 0.25*short, "m")
	}
	if f.None() {
		f.Between("frame.RoundedTube: radius", radius, wall, 0.5*short, "m")
	}
	if err := f.Err(); err != nil {
		return Section{}, err
	}
	h, w, r := height-wall, width-wall, radius-0.5*wall // mid-line
	enclosed := h*w - (4-math.Pi)*r*r
	around := 2*(h+w) - (8-2*math.Pi)*r
	hole := 2 * enclosed * wall / around
	area := around * wall
	square := 2 * (h + w) * wall
	iy, iz := roundedBending(height, width, wall, radius), roundedBending(width, height, wall, radius)
	j := math.Min(around*wall*wall*wall/3+2*enclosed*hole, iy+iz) // which is that of a round one
	return Section{
		Area:           area,
		Iy:             iy,
		Iz:             iz,
		J:              j,
		Thickness:      wall,
		ShearY:         tubeShear(w, h, wall, tubeBending(width, height, wall)) * area / square,
		ShearZ:         tubeShear(h, w, wall, tubeBending(height, width, wall)) * area / square,
		TorsionModulus: j / (hole/wall + wall),
	}, nil
}

// roundedBending sums flanges, webs and four quarter rings, all about the axis
// across the height [m⁴].
func roundedBending(height, width, wall, radius float64) float64 {
	inner := radius - wall
	arm, flange, web := 0.5*(height-wall), width-2*radius, height-2*radius
	// Of a ring: area, first moment of a quarter about its diameter, second of all.
	area := math.Pi * wall * (radius + inner)
	first := wall * (radius*radius + radius*inner + inner*inner) / 3
	second := area * (radius*radius + inner*inner) / 4
	half := 0.5 * web // from the axis to the centre of a corner
	return 2*flange*wall*(arm*arm+wall*wall/12) + wall*web*web*web/6 +
		second + half*half*area + 8*half*first
}
