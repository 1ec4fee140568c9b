package material

import "meltflight/internal/input"

// Metal is a metal in a stated delivery condition. Strength falls with the size
// of the section it was heat-treated or rolled in, so it comes in bands.
type Metal struct {
	Name         string
	Density      float64           // 500 to 25000 [kg/m³]
	Young        float64           // modulus of elasticity, 1e8 to 1e12 [Pa]
	Poisson      float64           // 0 to 0.5 [-]
	Conductivity float64           // at room temperature, 0.05 to 500 [W/(m·K)]
	SpecificHeat float64           // at room temperature, 50 to 5000 [J/(kg·K)]
	Expansion    float64           // linear, 20 to 100 °C, 0 to 3e-4 [1/K]
	Strength     []Strength        // by rising section
	Source       map[string]string // where each number comes from, by field name
}

// Strength is what a metal is guaranteed to bear up to a section size.
type Strength struct {
	Section  float64 // largest thickness or diameter it holds for, above that of the band before, to 10 [m]
	Yield    float64 // smallest yield or 0.2 % proof stress, 1e5 to 1e10 [Pa]
	Ultimate float64 // smallest tensile strength, Yield to 1e10 [Pa]
}

// Shear returns the shear modulus G = E/2(1+ν) [Pa].
func (m Metal) Shear() float64 { return m.Young / (2 * (1 + m.Poisson)) }

// StrengthAt returns the guaranteed strength for a thickness or diameter [m]. It
// errs on a section that is not positive or is larger than the last band, and on
// a band out of range.
func (m Metal) StrengthAt(section float64) (Strength, error) {
	var largest float64
	for _, s := range m.Strength {
		// A nanometre of slack, since 16 mm written in metres has rounding.
		if section > 0 && section <= s.Section+1e-9 {
			var f input.Faults
			s.check(&f)
			if err := f.Err(); err != nil {
				return Strength{}, err
			}
			return s, nil
		}
		largest = s.Section
	}
	var f input.Faults
	f.Refuse("material.Metal.StrengthAt ("+m.Name+"): section", section, "m",
		"above 0, up to "+input.WithUnit(largest, "m"))
	return Strength{}, f.Err()
}

// Validate reports the fields out of range.
func (m Metal) Validate() error {
	var f input.Faults
	f.Between("material.Metal.Density", m.Density, 500, 25000, "kg/m³")
	f.Between("material.Metal.Young", m.Young, 1e8, 1e12, "Pa")
	f.Between("material.Metal.Poisson", m.Poisson, 0, 0.5, "")
	f.Between("material.Metal.Conductivity", m.Conductivity, 0.05, 500, "W/(m·K)")
	f.Between("material.Metal.SpecificHeat", m.SpecificHeat, 50, 5000, "J/(kg·K)")
	f.Between("material.Metal.Expansion", m.Expansion, 0, 3e-4, "1/K")
	section := 0.0
	for _, s := range m.Strength {
		if !(s.Section > section && s.Section <= 10) {
			f.Refuse("material.Strength.Section", s.Section, "m", "above that of the band before, "+
				input.WithUnit(section, "m")+", up to 10 m")
		}
		s.check(&f)
		section = s.Section
	}
	return f.Err()
}

func (s Strength) check(f *input.Faults) {
	f.Between("material.Strength.Yield", s.Yield, 1e5, 1e10, "Pa")
	f.Between("material.Strength.Ultimate", s.Ultimate, s.Yield, 1e10, "Pa")
}
