package thermal

import (
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// Fluid is what convection asks of the air or liquid beside a surface, taken at
// the film temperature, halfway between the two.
type Fluid struct {
	Conductivity       float64 // of heat, 1e-3 to 1e3 [W/(m·K)]
	KinematicViscosity float64 // 1e-9 to 1 [m²/s]
	Prandtl            float64 // 0.6 to 1e5: gases and liquids, not liquid metals [-]
	Expansion          float64 // volume a kelvin, of a gas 1/T, 1e-6 to 0.1 [1/K]
}

// Validate reports the fields out of range.
func (p Fluid) Validate() error {
	var f input.Faults
	p.check(&f)
	return f.Err()
}

func (p *Fluid) check(f *input.Faults) {
	f.Between("thermal.Fluid.Conductivity", p.Conductivity, 1e-3, 1e3, "W/(m·K)")
	f.Between("thermal.Fluid.KinematicViscosity", p.KinematicViscosity, 1e-9, 1, "m²/s")
	f.Between("thermal.Fluid.Prandtl", p.Prandtl, 0.6, 1e5, "")
	f.Between("thermal.Fluid.Expansion", p.Expansion, 1e-6, 0.1, "1/K")
}

// AirFilm returns the air between a surface and air at the two temperatures [K],
// by [material.AirAt] at their mean, which must be 200 to 1000 K.
func AirFilm(surface, air float64) (Fluid, error) {
	a, err := material.AirAt(surface/2 + air/2)
	if err != nil {
		return Fluid{}, err
	}
	return airFluid(a), nil
}

func airFluid(a material.Air) Fluid {
	return Fluid{
		Conductivity:       a.Conductivity,
		KinematicViscosity: a.KinematicViscosity(),
		Prandtl:            a.Prandtl(),
		Expansion:          1 / a.Temperature,
	}
}

// filmOf is AirFilm with the mean held inside the range of the air's properties.
func filmOf(surface, air float64) Fluid {
	a, _ := material.AirAt(math.Max(200, math.Min(1000, surface/2+air/2)))
	return airFluid(a)
}

const standardGravity = 9.80665 // (3rd CGPM, 1901) [m/s²]

// Rayleigh returns g·β·|ΔT|·L³/(ν·a) [-] of a length [m] and a temperature
// difference [K]. It checks nothing.
func (p Fluid) Rayleigh(length, difference float64) float64 {
	return standardGravity * p.Expansion * math.Abs(difference) * length * length * length *
		p.Prandtl / (p.KinematicViscosity * p.KinematicViscosity)
}

// Shape is how a surface lies in still air.
type Shape int

// The length that counts is the height of a vertical plate, area over perimeter
// of a horizontal one (half the width of a long strip), the diameter of a cylinder.
const (
	VerticalPlate      Shape = 1 + iota
	PlateUp                  // horizontal and facing up where it is warmer than the air
	PlateDown                // horizontal and facing down where it is warmer than the air
	HorizontalCylinder       // a barrel, a pipe
)

// String names the shape.
func (s Shape) String() string {
	if s < VerticalPlate || s > HorizontalCylinder {
		return "no shape"
	}
	return [...]string{"vertical plate", "plate facing up", "plate facing down", "horizontal cylinder"}[s-1]
}

func (s Shape) check(f *input.Faults, name string) {
	f.Count(name, int(s), int(VerticalPlate), int(HorizontalCylinder))
}

// turned is the shape that a surface colder than the air acts as: a cold face
// that looks up has the air of a warm one that looks down.
func (s Shape) turned() Shape {
	switch s {
	case PlateUp:
		return PlateDown
	case PlateDown:
		return PlateUp
	}
	return s
}

// laws is the range of Rayleigh numbers each law was made for.
func (s Shape) laws() (lo, hi float64) {
	switch s {
	case PlateUp:
		return 1e4, 1e11
	case PlateDown:
		return 1e5, 1e11
	case HorizontalCylinder:
		return 1e-5, 1e12
	}
	return 0.1, 1e12
}

// Nusselt returns the mean Nusselt number [-] of natural convection at a Rayleigh
// and a Prandtl number [-], the surface warmer than the air and of one temperature:
//
//	vertical plate       {0.825 + 0.387·Ra^(1/6)/[1+(0.492/Pr)^(9/16)]^(8/27)}²   Ra 0.1 to 1e12
//	facing up            0.54·Ra^¼ and 0.15·Ra^⅓, the larger                     Ra 1e4 to 1e11
//	facing down          0.27·Ra^¼                                              Ra 1e5 to 1e11
//	horizontal cylinder  {0.60 + 0.387·Ra^(1/6)/[1+(0.559/Pr)^(9/16)]^(8/27)}²   Ra 1e-5 to 1e12
//
// It checks nothing, and is NaN of no shape.
//
// Source: Y. A. Çengel and A. J. Ghajar, Heat and Mass Transfer, 5th ed., table 9-1
// (numbers compared with its examples, ranges from memory); the first and the last are S. W. Churchill
// and H. H. S. Chu, Int. J. Heat Mass Transfer 18 (1975) 1323 and 1049. The source
// changes from 0.54·Ra^¼ to 0.15·Ra^⅓ at Ra = 1e7, by a step of 6 %; the larger of
// both has none, and changes at 4.7e6. Usual error: up to 25 % (common practice,
// no source), more for small plates facing up or down, below their ranges, where
// these laws give too little.
func (s Shape) Nusselt(rayleigh, prandtl float64) float64 {
	switch s {
	case VerticalPlate:
		return churchillChu(0.825, 0.492, rayleigh, prandtl)
	case PlateUp:
		return math.Max(0.54*math.Sqrt(math.Sqrt(rayleigh)), 0.15*math.Cbrt(rayleigh))
	case PlateDown:
		return 0.27 * math.Sqrt(math.Sqrt(rayleigh))
	case HorizontalCylinder:
		return churchillChu(0.60, 0.559, rayleigh, prandtl)
	}
	return math.NaN()
}

func churchillChu(least, shape, rayleigh, prandtl float64) float64 {
	root := least + 0.387*math.Sqrt(math.Cbrt(rayleigh))/math.Pow(1+math.Pow(shape/prandtl, 9./16), 8./27)
	return root * root
}

// LaminarPlateNusselt returns the mean Nusselt number [-] of a vertical plate while
// the air along it is laminar, Ra up to 1e9: 0.68 + 0.670·Ra^¼/[1+(0.492/Pr)^(9/16)]^(4/9).
// It is a little better there than that of [VerticalPlate], which is up to 20 % above it
// towards Ra = 1e9. It checks nothing.
//
// Source: Churchill and Chu (1975), as in F. P. Incropera and others, Fundamentals of
// Heat and Mass Transfer, 6th ed., eq. 9.27 (number of the equation from memory).
func LaminarPlateNusselt(rayleigh, prandtl float64) float64 {
	return 0.68 + 0.670*math.Sqrt(math.Sqrt(rayleigh))/math.Pow(1+math.Pow(0.492/prandtl, 9./16), 4./9)
}

// Convection is what a fluid takes from a surface.
type Convection struct {
	Number      float64  // Rayleigh number of natural, Reynolds number of forced convection [-]
	Nusselt     float64  // mean over the surface [-]
	Coefficient float64  // mean h, Nu·k/L [W/(m²·K)]
	Beyond      []string // in words, where the law's stated range is left; nil inside it
}

// Natural returns the natural convection of a surface of a shape, with the length
// that counts for it, 1e-4 to 10 [m], and a difference of surface less fluid
// temperature, −1000 to 1000 [K]. Laws, ranges and errors are those of
// [Shape.Nusselt].
func Natural(s Shape, length, difference float64, fluid Fluid) (Convection, error) {
	var f input.Faults
	s.check(&f, "thermal.Natural: shape")
	f.Between("thermal.Natural: length", length, 1e-4, 10, "m")
	f.Between("thermal.Natural: difference", difference, -1000, 1000, "K")
	fluid.check(&f)
	if err := f.Err(); err != nil {
		return Convection{}, err
	}
	return natural(s, length, difference, fluid), nil
}

func natural(s Shape, length, difference float64, fluid Fluid) (c Convection) {
	if difference < 0 {
		s = s.turned()
	}
	c.Number = fluid.Rayleigh(length, difference)
	c.Nusselt = s.Nusselt(c.Number, fluid.Prandtl)
	c.Coefficient = c.Nusselt * fluid.Conductivity / length
	lo, hi := s.laws()
	c.Beyond = beyond(c.Beyond, s.String(), "Rayleigh number", c.Number, lo, hi)
	return c
}

// beyond adds to a list that a number is outside lo to hi, if it is.
func beyond(list []string, what, name string, value, lo, hi float64) []string {
	if value >= lo && value <= hi {
		return list
	}
	return append(list, what+": "+name+" "+input.WithUnit(value, "")+", the law's range is "+input.Range(lo, hi, ""))
}
