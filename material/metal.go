package material

import (
	"fmt"

	"meltflight/internal/input"
)

// Metal is a metal in a stated delivery condition. Strength falls with the size
// of the section it was heat-treated or rolled in, so it comes in bands.
type Metal struct {
	Name            string
	Density         float64           // 500 to 25000 [kg/m³]
	Young           float64           // modulus of elasticity, 1e8 to 1e12 [Pa]
	Poisson         float64           // 0 to 0.5 [-]
	Conductivity    float64           // at room temperature, 0.05 to 500 [W/(m·K)]
	SpecificHeat    float64           // at room temperature, 50 to 5000 [J/(kg·K)]
	Expansion       float64           // linear, 20 to 100 °C, 0 to 3e-4 [1/K]
	Strength        []Strength        // by rising section
	Fatigue         float64           // share of Ultimate that a polished specimen bears in rotating bending, 0.05 to 0.7; 0 if unknown [-]
	Hot             []Derating        // by rising temperature; none if unknown
	ConductivityLaw Trend             // [W/(m·K)]; zero if unknown
	HeatLaw         Trend             // of specific heat [J/(kg·K)]; zero if unknown
	Source          map[string]string // where each number comes from, by field name; a Trend brings its own
}

// Strength is what a metal is guaranteed to bear up to a section size.
type Strength struct {
	Section  float64 // largest thickness or diameter it holds for, above that of the band before, to 10 [m]
	Yield    float64 // smallest yield or 0.2 % proof stress, 1e5 to 1e10 [Pa]
	Ultimate float64 // smallest tensile strength, Yield to 1e10 [Pa]
	Brinell  float64 // smallest Brinell hardness HBW, to 1000; 0 if not stated [-]
}

// Derating is what heat leaves of the yield or proof stress.
type Derating struct {
	Temperature float64 // above that of the entry before, 100 to 1500 [K]
	Share       float64 // of the yield at room temperature, 0.001 to 1.5 [-]
}

// Shear returns the shear modulus G = E/2(1+ν) [Pa].
func (m Metal) Shear() float64 { return m.Young / (2 * (1 + m.Poisson)) }

// StrengthAt returns the guaranteed strength for a thickness or diameter [m]. It
// errs on a section that is not positive or is larger than the last band, and on
// a band out of range.
func (m Metal) StrengthAt(section float64) (Strength, error) {
	return band(m.Strength, m.Name, section)
}

// band is StrengthAt without a copy of all the rest of the metal.
func band(strength []Strength, name string, section float64) (Strength, error) {
	var largest float64
	for _, s := range strength {
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
	allowed := "above 0, up to " + input.WithUnit(largest, "m")
	if len(strength) == 0 {
		allowed = "none: the metal has no Strength"
	}
	f.Refuse("material.Metal.StrengthAt ("+name+"): section", section, "m", allowed)
	return Strength{}, f.Err()
}

// YieldAt returns the yield or 0.2 % proof stress [Pa] of a thickness or diameter
// [m] at a temperature [K], on a straight line between the entries of Hot. It errs
// as [Metal.StrengthAt] does, beyond the entries' temperatures, and with
// [ErrNoData] for a metal that has none.
func (m Metal) YieldAt(section, temperature float64) (float64, error) {
	s, err := band(m.Strength, m.Name, section)
	if err != nil {
		return 0, err
	}
	if len(m.Hot) == 0 {
		return 0, fmt.Errorf("%w: material.Metal.Hot (%s): yield at temperature", ErrNoData, m.Name)
	}
	low, high := m.Hot[0].Temperature, m.Hot[len(m.Hot)-1].Temperature
	var f input.Faults
	checkHot(&f, m.Hot)
	if !(temperature >= low-kelvinSlack && temperature <= high+kelvinSlack) {
		f.Between("material.Metal.YieldAt ("+m.Name+"): temperature", temperature, low, high, "K")
	}
	if err := f.Err(); err != nil {
		return 0, err
	}
	below := m.Hot[0]
	for _, d := range m.Hot[1:] {
		if temperature <= d.Temperature {
			x := max(0, (temperature-below.Temperature)/(d.Temperature-below.Temperature))
			return s.Yield * (below.Share + x*(d.Share-below.Share)), nil
		}
		below = d
	}
	return s.Yield * below.Share, nil
}

// mostFatigue is where rotating-bending strength stops rising with hardness [Pa].
const mostFatigue = 700e6

// RotatingBending returns the fatigue strength [Pa] of a polished specimen in
// rotating bending, guaranteed for a thickness or diameter [m]: Fatigue times
// Ultimate, at most 700 MPa (R. G. Budynas and J. K. Nisbett, Shigley's Mechanical
// Engineering Design, eq. 6-8, from memory). Steel bears it for ever; aluminium
// has no such limit and its figure is for about 1e8 turns. Size, surface and
// notches come off it. It errs as [Metal.StrengthAt] does, on a Fatigue out of
// range, and with [ErrNoData] where that is unknown.
func (m Metal) RotatingBending(section float64) (float64, error) {
	s, err := band(m.Strength, m.Name, section)
	if err != nil {
		return 0, err
	}
	if m.Fatigue == 0 {
		return 0, fmt.Errorf("%w: material.Metal.Fatigue (%s)", ErrNoData, m.Name)
	}
	var f input.Faults
	f.Between("material.Metal.Fatigue", m.Fatigue, leastFatigue, mostShare, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return min(m.Fatigue*s.Ultimate, mostFatigue), nil
}

// ConductivityAt returns the heat conductivity [W/(m·K)] at a temperature [K],
// by ConductivityLaw. It errs as [Trend.At] does.
func (m Metal) ConductivityAt(temperature float64) (float64, error) {
	return m.ConductivityLaw.at("material.Metal.ConductivityLaw", m.Name, temperature)
}

// SpecificHeatAt returns the specific heat [J/(kg·K)] at a temperature [K], by
// HeatLaw. It errs as [Trend.At] does.
func (m Metal) SpecificHeatAt(temperature float64) (float64, error) {
	return m.HeatLaw.at("material.Metal.HeatLaw", m.Name, temperature)
}

const leastFatigue, mostShare = 0.05, 0.7 // of Fatigue [-]

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
	if m.Fatigue != 0 {
		f.Between("material.Metal.Fatigue", m.Fatigue, leastFatigue, mostShare, "")
	}
	checkHot(&f, m.Hot)
	m.ConductivityLaw.check(&f, "material.Metal.ConductivityLaw")
	m.HeatLaw.check(&f, "material.Metal.HeatLaw")
	return f.Err()
}

func (s Strength) check(f *input.Faults) {
	f.Between("material.Strength.Yield", s.Yield, 1e5, 1e10, "Pa")
	f.Between("material.Strength.Ultimate", s.Ultimate, s.Yield, 1e10, "Pa")
	f.Between("material.Strength.Brinell", s.Brinell, 0, 1000, "")
}

func checkHot(f *input.Faults, hot []Derating) {
	before := float64(lowestTemperature)
	for i, d := range hot {
		if !(d.Temperature >= before && d.Temperature <= highestTemperature) || i > 0 && d.Temperature == before {
			f.Refuse("material.Derating.Temperature", d.Temperature, "K", "above that of the entry before, "+
				input.WithUnit(before, "K")+", up to "+input.WithUnit(highestTemperature, "K"))
		}
		f.Between("material.Derating.Share", d.Share, 1e-3, 1.5, "")
		before = d.Temperature
	}
}
