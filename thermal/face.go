package thermal

import (
	"meltflight/internal/input"
	"meltflight/internal/root"
)

// hottestSurface is the hottest a surface may be [K]: with the warmest air its
// film is still within the properties of air.
const hottestSurface = 1200

// Face is a surface that gives heat to air and to surroundings of the air's
// temperature. A touched surface has limits of its own (ISO 13732-1), which are
// not in this package.
type Face struct {
	Shape      Shape   // how it lies
	Length     float64 // the one that counts for the shape, 1e-4 to 10 [m]
	Area       float64 // of all that gives off heat, 1e-8 to 100 [m²]
	Emissivity float64 // 0 to 1 [-]
	Blown      float64 // coefficient of forced convection, which then stands in place of the natural; 0 to 1e4, 0 in still air [W/(m²·K)]
}

// FaceState is what a face is at and what leaves it.
type FaceState struct {
	Temperature float64  // of the face [K]
	Convection  float64  // [W]
	Radiation   float64  // [W]
	Loss        float64  // both [W]
	Coefficient float64  // of both, Loss by area and difference, 0 where there is none [W/(m²·K)]
	Beyond      []string // in words, where the law's stated range is left; nil inside it
}

// Validate reports the fields out of range.
func (s Face) Validate() error {
	var f input.Faults
	s.check(&f)
	return f.Err()
}

func (s *Face) check(f *input.Faults) {
	s.Shape.check(f, "thermal.Face.Shape")
	f.Between("thermal.Face.Length", s.Length, 1e-4, 10, "m")
	f.Between("thermal.Face.Area", s.Area, 1e-8, 100, "m²")
	f.Between("thermal.Face.Emissivity", s.Emissivity, 0, 1, "")
	f.Between("thermal.Face.Blown", s.Blown, 0, 1e4, "W/(m²·K)")
}

// Loss returns the heat [W] that leaves the face at the temperatures of face and
// air [K], by convection in air at their mean (held to 200 to 1000 K) and by
// radiation. It is negative where the face is the colder, never falls as the face
// gets warmer, allocates nothing and checks nothing: ask it of a valid face.
func (s Face) Loss(surface, air float64) float64 {
	return s.Area * (s.convected(surface, air) + radiated(s.Emissivity, surface, air))
}

// convected is the heat of a square metre [W/m²]. Natural convection grows with the
// difference to the power 1 to 4/3; that the air thins as it warms takes less than
// that back, so that hotter is always more.
func (s *Face) convected(surface, air float64) float64 {
	difference := surface - air
	if s.Blown > 0 {
		return s.Blown * difference
	}
	fluid, shape := filmOf(surface, air), s.Shape
	if difference < 0 {
		shape = shape.turned()
	}
	return shape.Nusselt(fluid.Rayleigh(s.Length, difference), fluid.Prandtl) * fluid.Conductivity / s.Length * difference
}

// At returns what leaves the face at a temperature, 200 to 1200 [K], in air at
// 200 to 473.15 [K].
func (s Face) At(surface, air float64) (FaceState, error) {
	var f input.Faults
	s.check(&f)
	f.Between("thermal.Face.At: surface", surface, lowestTemperature, hottestSurface, "K")
	checkTemperature(&f, "thermal.Face.At: air", air)
	if err := f.Err(); err != nil {
		return FaceState{}, err
	}
	return s.at(surface, air), nil
}

func (s *Face) at(surface, air float64) (r FaceState) {
	r.Temperature = surface
	r.Convection = s.Area * s.convected(surface, air)
	r.Radiation = s.Area * radiated(s.Emissivity, surface, air)
	r.Loss = r.Convection + r.Radiation
	if surface != air {
		r.Coefficient = r.Loss / (s.Area * (surface - air))
		if s.Blown == 0 {
			r.Beyond = natural(s.Shape, s.Length, surface-air, filmOf(surface, air)).Beyond
		}
	}
	return r
}

// Steady returns the state in which the face gives off a power, 0 to 1e5 [W], in
// air at 200 to 473.15 [K]. There is only one, since hotter is always more. A power
// that needs more than 1200 K is refused, with the most that may be asked.
func (s Face) Steady(power, air float64) (FaceState, error) {
	var f input.Faults
	s.check(&f)
	f.Between("thermal.Face.Steady: power", power, 0, 1e5, "W")
	checkTemperature(&f, "thermal.Face.Steady: air", air)
	if err := f.Err(); err != nil {
		return FaceState{}, err
	}
	most := s.Loss(hottestSurface, air)
	if power > most {
		f.Refuse("thermal.Face.Steady: power", power, "W", "up to "+input.WithUnit(most, "W")+", lost at 1200 K")
		return FaceState{}, f.Err()
	}
	// The difference is sought, not the temperature, to keep its digits where it is small.
	difference, err := root.Between(func(d float64) float64 { return s.Loss(air+d, air) - power },
		0, -power, hottestSurface-air, most-power, 1e-13)
	if err != nil {
		return FaceState{}, err
	}
	return s.at(air+difference, air), nil
}
