package thermal

import (
	"math"

	"meltflight/internal/input"
)

// Sheared is melt between two walls, one of which slides, such as that over a flight or in a
// bearing of melt. Pressure's flow is in [HeatedMelt].
type Sheared struct {
	Viscosity    float64 // at the temperature of the walls, 0 to 1e7 [Pa·s]
	Conductivity float64 // 0.01 to 10 [W/(m·K)]
	Speed        float64 // of the wall, 0 to 10 [m/s]
	Sensitivity  float64 // b of viscosity·e^(−b·(T − T₀)), 0 to 1: polyolefins 0.01 to 0.02, styrenics 0.02 to 0.05 (typical, from memory) [1/K]
	OneSided     bool    // one of the walls insulated; else both at T₀
}

// ShearedState is the melt once its heat goes into the walls as it is made.
type ShearedState struct {
	Nahme  float64 // b·μ·U²/k: from 1 on friction thins the melt by its heat [-]
	Rise   float64 // of the hottest melt over the walls, whatever the gap [K]
	Stress float64 // as a part of what it would be without the warming, 0 to 1 [-]
}

// Validate reports the fields out of range.
func (s Sheared) Validate() error {
	var f input.Faults
	s.check(&f)
	return f.Err()
}

func (s *Sheared) check(f *input.Faults) {
	f.Between("thermal.Sheared.Viscosity", s.Viscosity, 0, 1e7, "Pa·s")
	f.Between("thermal.Sheared.Conductivity", s.Conductivity, 0.01, 10, "W/(m·K)")
	f.Between("thermal.Sheared.Speed", s.Speed, 0, 10, "m/s")
	f.Between("thermal.Sheared.Sensitivity", s.Sensitivity, 0, 1, "1/K")
}

// Warmed returns the steady warming: b·rise = ln(1 + Na/8), stress asinh(s)/(s·√(1+s²)) with
// s = √(Na/8). A wall that is insulated is the middle of a gap twice as wide and quick: 4·Na. Without
// sensitivity the rise is μU²/(8k), or μU²/(2k). Of the two states at one stress it is
// the one at the speed given. Exact for this viscosity, without thinning by shear.
//
// Source: derived from the equation of Bratu; held against integration of the equations.
func (s Sheared) Warmed() (ShearedState, error) {
	if err := s.Validate(); err != nil {
		return ShearedState{}, err
	}
	unit := s.Viscosity * s.Speed * s.Speed / s.Conductivity
	eighth := unit / 8
	if s.OneSided {
		eighth *= 4
	}
	z := s.Sensitivity * eighth
	r := ShearedState{Nahme: s.Sensitivity * unit, Rise: eighth, Stress: 1}
	if z > 1e-15 {
		root := math.Sqrt(z)
		r.Rise = math.Log1p(z) / s.Sensitivity
		r.Stress = math.Min(1, math.Asinh(root)/(root*math.Sqrt(1+z)))
	}
	return r, nil
}
