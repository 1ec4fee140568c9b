package frame

import (
	"math"

	"meltflight/internal/input"
)

// Rolled is an open cross-section of straight walls without symmetry about both
// axes, with sharp corners: area and second moments are exact for them. Fillets of a
// rolled profile add 1 to 5 % to its area and, being in the thickest place, more to J (common
// practice, no source): with its table at hand, fill the Section from it.
// A force through its centroid twists it unless it passes through the shear
// centre too.
type Rolled struct {
	Moments     Moments // in axes along its sides
	ShearCentre Point   // in the same axes, on the mid-lines of thin walls [m]
	Section     Section // about its principal axes
}

// Angle returns two legs of one wall at a right angle, from the outer corner at
// the origin upwards along z (height) and along y (width), 1e-4 to 10 [m]; wall
// 1e-5 [m] to a quarter of the shorter leg. Its section bends about the principal
// axes, y the one of the larger moment, turned as [Moments.Principal] tells. J as in [IBeam].
func Angle(height, width, wall float64) (Rolled, error) {
	if err := walled("frame.Angle", height, width, wall, wall); err != nil {
		return Rolled{}, err
	}
	m := rectangle(0, 0, width, wall).Plus(rectangle(0, wall, wall, height-wall))
	iy, iz, turned := m.Principal()
	j := (width*wall*wall*wall+(height-wall)*wall*wall*wall)/3 + (elbow(1)-2*freeEnd)*math.Pow(wall, 4)
	half := 0.5 * wall
	a, b := height-half, width-half // mid-lines
	// Their tips from their own centroid.
	y, z := 0.5*b*b/(a+b), 0.5*a*a/(a+b)
	sin, cos := math.Sincos(turned)
	shear := func(ey, ez float64) float64 { // along the direction given
		var up, out flow
		up.along((a-z)*ez-y*ey, -ez, a, wall)
		out.along((b-y)*ey-z*ez, -ey, b, wall)
		up.second += out.second
		up.work += out.work
		return up.area(1)
	}
	return Rolled{
		Moments:     m,
		ShearCentre: Point{half, half},
		Section: Section{Area: m.Area, Iy: iy, Iz: iz, J: j, Thickness: wall,
			ShearY: shear(cos, sin), ShearZ: shear(-sin, cos), TorsionModulus: j / wall},
	}, nil
}

// Channel returns a web along z, outer height, on both ends of which flanges reach
// out along y to the width measured from the back of the web; the origin is
// halfway up that back. Height and width 1e-4 to 10 [m], web and flange
// thicknesses from 1e-5 [m] to a quarter of the smaller of them, the web 0.1 to 1.5
// of the flange. J as in [IBeam].
func Channel(height, width, web, flange float64) (Rolled, error) {
	if err := walled("frame.Channel", height, width, web, flange); err != nil {
		return Rolled{}, err
	}
	between := height - 2*flange
	m := rectangle(0, -0.5*between, web, between).
		Plus(rectangle(0, 0.5*between, width, flange)).
		Plus(rectangle(0, -0.5*height, width, flange))
	m.Iyz, m.Centroid.Z = 0, 0 // but for rounding
	j := (2*width*math.Pow(flange, 3)+between*math.Pow(web, 3))/3 + 2*(elbow(web/flange)-freeEnd)*math.Pow(flange, 4)
	h, b := height-flange, width-0.5*web // mid-lines
	out := b * b * flange / (2*b*flange + h*web)
	var up, across flow
	up.along(0.5*h, 0, b, flange)
	up.along(0.5*h, -1, 0.5*h, web)
	across.along(b-out, -1, b, flange)
	across.along(-out, 0, 0.5*h, web)
	return Rolled{
		Moments:     m,
		ShearCentre: Point{Y: 0.5*web - 3*b*b*flange/(h*web+6*b*flange)},
		Section: Section{Area: m.Area, Iy: m.Iy, Iz: m.Iz, J: j, Thickness: math.Max(web, flange),
			ShearY: across.area(2), ShearZ: up.area(2), TorsionModulus: j / math.Max(web, flange)},
	}, nil
}

// Tee returns a web along z that stands on the middle of a flange along y, height
// over both, the origin under the middle of the flange. Height and width 1e-4 to 10
// [m], thicknesses as in [Channel]. J as in [IBeam].
func Tee(height, width, web, flange float64) (Rolled, error) {
	if err := walled("frame.Tee", height, width, web, flange); err != nil {
		return Rolled{}, err
	}
	free := height - flange
	m := rectangle(-0.5*width, 0, width, flange).Plus(rectangle(-0.5*web, flange, web, free))
	m.Iyz, m.Centroid.Y = 0, 0 // but for rounding
	j := (width*math.Pow(flange, 3)+free*math.Pow(web, 3))/3 +
		(tee(web/flange)-2*freeEnd)*math.Pow(flange, 4) - freeEnd*math.Pow(web, 4)
	h := height - 0.5*flange // mid-line
	up := 0.5 * h * h * web / (h*web + width*flange)
	var stem, side flow
	stem.along(h-up, -1, h, web)
	side.along(-up, 0, 0.5*width, flange)
	stem.second += 2 * side.second
	stem.work += 2 * side.work
	return Rolled{
		Moments:     m,
		ShearCentre: Point{Z: 0.5 * flange},
		Section: Section{Area: m.Area, Iy: m.Iy, Iz: m.Iz, J: j, Thickness: math.Max(web, flange),
			ShearY: shearOfBar * width * flange, ShearZ: stem.area(1), TorsionModulus: j / math.Max(web, flange)},
	}, nil
}

// IBeam returns the section, as sharp-cornered as a [Rolled], of a web along z between two flanges along y, outer
// height and width 1e-4 to 10 [m], thicknesses as in [Channel].
//
// J is Σbt³/3 (S. Timoshenko and J. Goodier, Theory of Elasticity, art. 108, from
// memory) with what free ends take and right angles add, good to 0.2 % of finite
// differences, without fillets. The torsion modulus is J ÷ the largest thickness, its notches
// left out; the ends are free to warp. The shear areas are those of thin walls;
// against finite volumes they are low by 2 to 7 %.
func IBeam(height, width, web, flange float64) (Section, error) {
	if err := walled("frame.IBeam", height, width, web, flange); err != nil {
		return Section{}, err
	}
	between, arm := height-2*flange, 0.5*(height-flange)
	thick := math.Max(web, flange)
	j := (2*width*math.Pow(flange, 3)+between*math.Pow(web, 3))/3 + (2*tee(web/flange)-4*freeEnd)*math.Pow(flange, 4)
	var up flow
	up.along(arm, 0, 0.5*width, flange)
	up.twice()
	up.along(arm, -1, arm, web)
	return Section{
		Area:           2*width*flange + between*web,
		Iy:             2*width*flange*(arm*arm+flange*flange/12) + web*math.Pow(between, 3)/12,
		Iz:             (2*flange*math.Pow(width, 3) + between*math.Pow(web, 3)) / 12,
		J:              j,
		Thickness:      thick,
		ShearY:         2 * shearOfBar * width * flange,
		ShearZ:         up.area(2),
		TorsionModulus: j / thick,
	}, nil
}

// freeEnd is what the end of a wall takes from bt³/3, over t⁴: 32/π⁵ Σ1/n⁵ over odd n.
const freeEnd = 0.105041

// elbow and tee are what the joint of a flange, counted to its full width, and a web,
// counted from the flange on, adds to Σbt³/3 over flange⁴, by web ÷ flange up to 1.5: fits,
// to 0.004, of finite differences of Prandtl's membrane of 8 to 24 cells across
// the flange, extrapolated. Without a web an elbow is a free end.
func elbow(r float64) float64 { return r*(r*(r*0.0447+0.1824)-0.0523) - freeEnd }
func tee(r float64) float64   { return r * (r*0.3309 - 0.0416) }

// walled refuses sides and thicknesses out of range.
func walled(function string, height, width, web, flange float64) error {
	most := 0.25 * math.Min(height, width)
	if height >= smallestSide && height <= largestSide && width >= smallestSide && width <= largestSide &&
		web >= thinnestOpen && web <= most && flange >= thinnestOpen && flange <= most &&
		web >= 0.1*flange && web <= 1.5*flange {
		return nil // before any name is put together, which would allocate
	}
	var f input.Faults
	f.Between(function+": height", height, smallestSide, largestSide, "m")
	f.Between(function+": width", width, smallestSide, largestSide, "m")
	if f.None() {
		f.Between(function+": thickness of the web", web, thinnestOpen, most, "m")
		f.Between(function+": thickness of the flange", flange, thinnestOpen, most, "m")
	}
	if f.None() {
		f.Between(function+": web ÷ flange", web/flange, 0.1, 1.5, "")
	}
	return f.Err()
}

const thinnestOpen = 1e-5 // [m]

// rectangle returns the moments of a rectangle from its corner nearest -y, -z.
func rectangle(y, z, width, height float64) Moments {
	area := width * height
	return Moments{
		Area: area, Centroid: Point{y + 0.5*width, z + 0.5*height},
		Iy: area * height * height / 12, Iz: area * width * width / 12,
	}
}
