package frame

import "meltflight/internal/input"

// shearOfBar is the share of a solid rectangle that takes shear: 1/∫(6u(1-u))²du.
const shearOfBar = 5.0 / 6

// flow follows the shear of a thin wall from a free edge, where there is none, or
// from an axis of symmetry. A shear force Q makes a flow Q·S/I, S the first moment
// of the wall passed; its work is that of an even stress over the area I²/∫S²ds/t.
type flow struct {
	first  float64 // S so far [m³]
	second float64 // I of what is passed, on the mid-line [m⁴]
	work   float64 // ∫S²ds/t [m⁶]
}

// along adds a straight wall whose distance from the axis of bending begins at
// arm and grows by slope with each metre.
func (f *flow) along(arm, slope, length, wall float64) {
	c0, c1, c2 := f.first, wall*arm*length, 0.5*wall*slope*length*length
	f.work += length / wall * (c0*(c0+c1) + (c1*c1+2*c0*c2)/3 + c1*c2/2 + c2*c2/5)
	f.second += wall * length * (arm*arm + length*slope*(arm+length*slope/3))
	f.first += c1 + c2
}

// twice joins an equal wall to the end reached.
func (f *flow) twice() { *f = flow{2 * f.first, 2 * f.second, 2 * f.work} }

// area is the shear area of as many walls alike as given [m²].
func (f *flow) area(walls float64) float64 { return walls * f.second * f.second / f.work }

// tubeShear returns the shear area of a thin rectangular tube along its height,
// both sides on the mid-line, by its second moment about the width, which is that
// of the wall as thick as it is: it halves the error of a thick one [m²].
func tubeShear(height, width, wall, second float64) float64 {
	var quarter flow
	quarter.along(0.5*height, 0, 0.5*width, wall)
	quarter.along(0.5*height, -1, 0.5*height, wall)
	return second * second / (4 * quarter.work)
}

// CowperRectangle returns the shear coefficient κ of a solid rectangle [-], the
// share of its area that takes shear; Poisson's ratio 0 to 0.5. Set
// Section.ShearY and ShearZ to κ·Area to use it.
//
// Source of this and the other Cowper functions: G. Cowper, The Shear Coefficient
// in Timoshenko's Beam Theory, J. Appl. Mech. 33 (1966) 335, table, from memory. For
// a Poisson's ratio of zero each is what static equilibrium gives, derived anew in the checks.
func CowperRectangle(poisson float64) (float64, error) {
	var f input.Faults
	f.Between("frame.CowperRectangle: Poisson's ratio", poisson, 0, 0.5, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return 10 * (1 + poisson) / (12 + 11*poisson), nil
}

// CowperRound returns the shear coefficient κ of a round tube [-]; bore is inner ÷
// outer diameter, 0 (solid) to 1 (thin wall), Poisson's ratio 0 to 0.5.
func CowperRound(bore, poisson float64) (float64, error) {
	var f input.Faults
	f.Between("frame.CowperRound: bore ÷ diameter", bore, 0, 1, "")
	f.Between("frame.CowperRound: Poisson's ratio", poisson, 0, 0.5, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return cowperRound(bore*bore, poisson), nil
}

func cowperRound(m2, poisson float64) float64 {
	sum := (1 + m2) * (1 + m2)
	return 6 * (1 + poisson) * sum / ((7+6*poisson)*sum + (20+12*poisson)*m2)
}

// CowperTube returns the shear coefficient κ of a thin rectangular tube along its
// height [-]; aspect is width ÷ height on the mid-line, 0.01 to 100, Poisson's ratio
// 0 to 0.5. Along the width, give the aspect upside down.
func CowperTube(aspect, poisson float64) (float64, error) {
	var f input.Faults
	f.Between("frame.CowperTube: aspect", aspect, 0.01, 100, "")
	f.Between("frame.CowperTube: Poisson's ratio", poisson, 0, 0.5, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	m := aspect
	return cowperWebs(m, poisson, 10*m*m*((3+poisson)*m+3*m*m)), nil
}

// CowperI returns the shear coefficient κ of a thin I along its web [-]; flanges is
// the area of both ÷ that of the web, 0 to 100, aspect their width ÷ height on
// the mid-line, 0.01 to 100, Poisson's ratio 0 to 0.5.
func CowperI(flanges, aspect, poisson float64) (float64, error) {
	var f input.Faults
	f.Between("frame.CowperI: flanges ÷ web", flanges, 0, 100, "")
	f.Between("frame.CowperI: aspect", aspect, 0.01, 100, "")
	f.Between("frame.CowperI: Poisson's ratio", poisson, 0, 0.5, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	m := flanges
	return cowperWebs(m, poisson, aspect*aspect*(30*(m+m*m)+5*poisson*(8*m+9*m*m))), nil
}

// cowperWebs is what tube and I have in common; in sideways they differ, the flow
// along the flanges.
func cowperWebs(m, poisson, sideways float64) float64 {
	return 10 * (1 + poisson) * (1 + 3*m) * (1 + 3*m) /
		(12 + m*(72+m*(150+m*90)) + poisson*(11+m*(66+m*(135+m*90))) + sideways)
}
