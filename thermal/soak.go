package thermal

import (
	"math"

	"meltflight/internal/input"
)

// Soak is the wall of a barrel that a band heats from outside.
type Soak struct {
	Outer        float64 // radius, 1e-3 to 1, more than Inner by 1e-4 [m]
	Inner        float64 // radius, 5e-4 to 1 [m]
	Conductivity float64 // 0.1 to 1e3 [W/(m·K)]
	Density      float64 // 100 to 3e4 [kg/m³]
	SpecificHeat float64 // 50 to 1e4 [J/(kg·K)]
}

// SoakState is the wall once it warms evenly.
type SoakState struct {
	Rate       float64 // at which all of it warms [K/s]
	Difference float64 // outside warmer than inside [K]
	Settling   float64 // time constant with which the even warming sets in, about [s]
}

// Validate reports the fields out of range.
func (s Soak) Validate() error {
	var f input.Faults
	s.check(&f)
	return f.Err()
}

func (s *Soak) check(f *input.Faults) {
	f.Between("thermal.Soak.Outer", s.Outer, 1e-3, 1, "m")
	f.Between("thermal.Soak.Inner", s.Inner, 5e-4, 1, "m")
	f.Between("thermal.Soak.Conductivity", s.Conductivity, 0.1, 1e3, "W/(m·K)")
	f.Between("thermal.Soak.Density", s.Density, 100, 3e4, "kg/m³")
	f.Between("thermal.Soak.SpecificHeat", s.SpecificHeat, 50, 1e4, "J/(kg·K)")
	if f.None() && !(s.Outer >= s.Inner+1e-4) {
		f.Refuse("thermal.Soak.Outer", s.Outer, "m", "at least 0.0001 m more than Inner, "+input.WithUnit(s.Inner, "m"))
	}
}

// Heated returns how the wall warms under a flux into its outside, 0 to 1e7 [W/m²], with nothing
// taken from its inside: rate 2q·ro/(ρc(ro² − ri²)), difference rate/(4α)·[ro² − ri² − 2ri²·ln(ro/ri)].
// A sensor in the wall reads between the two. Exact but for Settling, (ro − ri)²/(π²·α) of a
// flat wall.
//
// Source: the heat equation of a hollow cylinder (any text).
func (s Soak) Heated(flux float64) (SoakState, error) {
	var f input.Faults
	s.check(&f)
	f.Between("thermal.Soak.Heated: flux", flux, 0, 1e7, "W/m²")
	if err := f.Err(); err != nil {
		return SoakState{}, err
	}
	wall := s.Outer - s.Inner
	ring := wall * (s.Outer + s.Inner)
	spread := s.Conductivity / (s.Density * s.SpecificHeat)
	rate := 2 * flux * s.Outer / (s.Density * s.SpecificHeat * ring)
	bent := math.Max(0, ring-2*s.Inner*s.Inner*math.Log1p(wall/s.Inner))
	return SoakState{Rate: rate, Difference: rate / (4 * spread) * bent, Settling: wall * wall / (math.Pi * math.Pi * spread)}, nil
}

// RodSoak returns how long [s] it takes until the middle of a long rod, of plastic in a heated
// barrel for instance, lacks only a part of what it lacked at first, 1e-9 to 0.5 [-], once
// its outside has been brought to a temperature: r²/α·ln(1.6020/part)/5.7832. Radius [m] 1e-5 to 1,
// diffusivity [m²/s] 1e-9 to 1e-2: plastics have about 1e-7 (typical, from memory), so that a
// thickness counts far more than a hotter barrel. Heat of melting makes it longer.
//
// Source: first term of the series, Çengel and Ghajar, 5th ed., ch. 4; the terms left out are
// 0.5 % of the part where it is 0.5, less below.
func RodSoak(radius, diffusivity, part float64) (float64, error) {
	const zero, first = 2.404825557695773, 1.601974696928045 // of J₀, and 2/(ζ·J₁(ζ))
	return soaked("thermal.RodSoak: radius", "thermal.RodSoak: diffusivity", "thermal.RodSoak: part", radius, diffusivity, part, zero, first)
}

// SlabSoak is [RodSoak] for a flat layer, by its half thickness if heated from both faces, by
// all of it if from one: L²/α·ln(1.2732/part)/2.4674. The terms left out are 0.3 % of the part at 0.5.
func SlabSoak(half, diffusivity, part float64) (float64, error) {
	return soaked("thermal.SlabSoak: half", "thermal.SlabSoak: diffusivity", "thermal.SlabSoak: part", half, diffusivity, part, math.Pi/2, 4/math.Pi)
}

func soaked(depthName, diffusivityName, partName string, depth, diffusivity, part, zero, first float64) (float64, error) {
	var f input.Faults
	f.Between(depthName, depth, 1e-5, 1, "m")
	f.Between(diffusivityName, diffusivity, 1e-9, 1e-2, "m²/s")
	f.Between(partName, part, 1e-9, 0.5, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return depth * depth / diffusivity * math.Log(first/part) / (zero * zero), nil
}
