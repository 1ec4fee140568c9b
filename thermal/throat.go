package thermal

import (
	"math"

	"meltflight/internal/input"
)

// Sleeve is a length of barrel or tube that carries heat from a hot end to a cold one and
// loses some to air on the way: what lies between the first heater band and the throat. Its
// temperature is taken as even across its wall.
type Sleeve struct {
	Outer        float64 // radius, 1e-4 to 1, more than Inner by 1e-5 [m]
	Inner        float64 // radius, 0 to 1 [m]
	Length       float64 // 1e-4 to 10 [m]
	Conductivity float64 // 0.01 to 1e4: steel 45, stainless 16 (typical, from memory) [W/(m·K)]
	Coefficient  float64 // at the outside, radiation included, 0 to 1e4 [W/(m²·K)]
}

// SleeveState is the heat along a sleeve.
type SleeveState struct {
	Parameter float64  // m·L, 0 of a sleeve that loses nothing [-]
	Cold      float64  // temperature of its cold end [K]
	Hot       float64  // heat that its hot end takes in [W]
	Throat    float64  // heat that comes out of its cold end [W]
	Side      float64  // heat lost to the air between them [W]
	Beyond    []string // in words, where the theory's range is left; nil inside it
}

// Validate reports the fields out of range.
func (s Sleeve) Validate() error {
	var f input.Faults
	s.check(&f)
	return f.Err()
}

func (s *Sleeve) check(f *input.Faults) {
	f.Between("thermal.Sleeve.Outer", s.Outer, 1e-4, 1, "m")
	f.Between("thermal.Sleeve.Inner", s.Inner, 0, 1, "m")
	f.Between("thermal.Sleeve.Length", s.Length, 1e-4, 10, "m")
	f.Between("thermal.Sleeve.Conductivity", s.Conductivity, 0.01, 1e4, "W/(m·K)")
	f.Between("thermal.Sleeve.Coefficient", s.Coefficient, 0, 1e4, "W/(m²·K)")
	if f.None() && !(s.Outer >= s.Inner+1e-5) {
		f.Refuse("thermal.Sleeve.Outer", s.Outer, "m", "at least 1e-05 m more than Inner, "+input.WithUnit(s.Inner, "m"))
	}
}

// Section returns the area that heat flows through [m²]. It checks nothing.
func (s Sleeve) Section() float64 { return math.Pi * (s.Outer - s.Inner) * (s.Outer + s.Inner) }

// lossy is the conductance of a metre to the air [W/(m·K)].
func (s *Sleeve) lossy() float64 { return 2 * math.Pi * s.Outer * s.Coefficient }

func (s *Sleeve) parameter() float64 {
	return s.Length * math.Sqrt(s.lossy()/(s.Conductivity*s.Section()))
}

// Between returns the heat along the sleeve with both ends held at temperatures, in air, each
// 200 to 1200 [K]: with θ above the air, k·A·m·(θh·cosh mL − θc)/sinh mL goes in and
// k·A·m·(θh − θc·cosh mL)/sinh mL comes out. What is lost on the way is taken from the
// throat and asked of the heater both: the throat gets less than k·A·Δθ/L, the hot end gives more.
//
// Exact for heat that flows along the wall alone. Source: Çengel and Ghajar, 5th ed., ch. 3
// (fin with a given temperature at its tip).
func (s Sleeve) Between(hot, cold, air float64) (SleeveState, error) {
	var f input.Faults
	s.check(&f)
	checkBody(&f, "thermal.Sleeve.Between: hot", hot)
	checkBody(&f, "thermal.Sleeve.Between: cold", cold)
	checkBody(&f, "thermal.Sleeve.Between: air", air)
	if err := f.Err(); err != nil {
		return SleeveState{}, err
	}
	return s.state(hot-air, cold-air, air), nil
}

// Cooled returns the heat along the sleeve with its cold end in a collar, water or a finned
// block, of a conductance, 0 to 1e6 [W/K], to a coolant, and its hot end held at a temperature, in
// air, each temperature 200 to 1200 [K]. Without a collar (0) the cold end is
// insulated: θh/cosh mL, as warm as any sleeve lets it be. Cold is to stay below what makes pellets
// stick: some 20 to 30 K below glass transition or Vicat softening (common practice, no source).
func (s Sleeve) Cooled(hot, conductance, coolant, air float64) (SleeveState, error) {
	var f input.Faults
	s.check(&f)
	checkBody(&f, "thermal.Sleeve.Cooled: hot", hot)
	f.Between("thermal.Sleeve.Cooled: conductance", conductance, 0, 1e6, "W/K")
	checkBody(&f, "thermal.Sleeve.Cooled: coolant", coolant)
	checkBody(&f, "thermal.Sleeve.Cooled: air", air)
	if err := f.Err(); err != nil {
		return SleeveState{}, err
	}
	x := s.parameter()
	lossless := s.Conductivity * s.Section() / s.Length
	across, along := lossless*overSinh(x), lossless*overTanh(x)
	cold := (across*(hot-air) + conductance*(coolant-air)) / (along + conductance)
	return s.state(hot-air, cold, air), nil
}

// state tells of the ends' temperatures above air.
func (s *Sleeve) state(hot, cold, air float64) SleeveState {
	x := s.parameter()
	lossless := s.Conductivity * s.Section() / s.Length
	drop, half := overSinh(x)*(hot-cold), x*math.Tanh(x/2)
	r := SleeveState{
		Parameter: x,
		Cold:      air + cold,
		Hot:       lossless * (drop + half*hot),
		Throat:    lossless * (drop - half*cold),
		Side:      lossless * half * (hot + cold),
	}
	r.Beyond = beyond(nil, "sleeve", "Biot number of its wall", s.Coefficient*(s.Outer-s.Inner)/s.Conductivity, 0, 0.1)
	return r
}

// Temperature returns that of the wall [K] at a part of the way from the hot end to the cold, 0
// to 1 [-], with both ends held at temperatures, in air, each 200 to 1200 [K].
func (s Sleeve) Temperature(part, hot, cold, air float64) (float64, error) {
	var f input.Faults
	s.check(&f)
	f.Between("thermal.Sleeve.Temperature: part", part, 0, 1, "")
	checkBody(&f, "thermal.Sleeve.Temperature: hot", hot)
	checkBody(&f, "thermal.Sleeve.Temperature: cold", cold)
	checkBody(&f, "thermal.Sleeve.Temperature: air", air)
	if err := f.Err(); err != nil {
		return 0, err
	}
	x := s.parameter()
	return air + sinhPart(x, 1-part)*(hot-air) + sinhPart(x, part)*(cold-air), nil
}

// overSinh is x/sinh x, overTanh x/tanh x, sinhPart sinh(part·x)/sinh x, all for any x from 0.
func overSinh(x float64) float64 {
	if x < 1e-8 {
		return 1
	}
	return -2 * x * math.Exp(-x) / math.Expm1(-2*x)
}

func overTanh(x float64) float64 {
	if x < 1e-8 {
		return 1
	}
	return x / math.Tanh(x)
}

func sinhPart(x, part float64) float64 {
	if x < 1e-8 {
		return part
	}
	return math.Exp((part-1)*x) * math.Expm1(-2*part*x) / math.Expm1(-2*x)
}
