package material

import (
	"fmt"
	"math"
	"strings"

	"meltflight/internal/input"
)

// GearPlastic is a plastic for gears, dry or greased for life against steel.
type GearPlastic struct {
	Name         string
	Density      float64           // 500 to 3000 [kg/m³]
	Young        float64           // modulus of elasticity at 23 °C, 1e8 to 1e11 [Pa]
	Poisson      float64           // 0 to 0.5 [-]
	Yield        float64           // tensile stress at yield at 23 °C, 1e6 to 1e9 [Pa]
	FrictionLow  float64           // dry against steel, least, 0.01 to 1 [-]
	FrictionHigh float64           // and most, FrictionLow to 1 [-]
	WearRate     float64           // dry against steel, volume a force and a distance, 1e-22 to 1e-9 [1/Pa]
	Root         CycleFit          // bending stress number σ_FlimN of the tooth root [Pa]
	Flank        CycleFit          // contact stress number σ_HlimN of the flank; zero if unknown [Pa]
	Source       map[string]string // where each number comes from, by field name; a CycleFit brings its own
}

// CycleFit is how the strength of a plastic tooth falls with its temperature ϑ
// in degrees Celsius and the number N of load cycles, as VDI 2736-2:2014 fits it:
//
//	σ = A + B·ϑ + C·ϑ² + (D + E·ϑ^P)·N^−Q
//
// The zero CycleFit is one that is not known.
type CycleFit struct {
	A                float64 // −1e9 to 1e9 [Pa]
	B                float64 // −1e9 to 1e9 [Pa/°C]
	C                float64 // −1e9 to 1e9 [Pa/°C²]
	D                float64 // −1e12 to 1e12 [Pa]
	E                float64 // −1e12 to 1e12 [Pa/°C^P]
	P                float64 // 0 to 3 [-]
	Q                float64 // 0 to 1 [-]
	Coldest, Hottest float64 // tooth temperature, 273.15 to 600 [K]
	Fewest, Most     float64 // load cycles, 1 to 1e12 [-]
	Source           string
}

// At returns the stress number [Pa] for a tooth temperature [K] and a number of
// load cycles [-]. It errs with [ErrNoData] where the fit is not known, on a
// temperature or number outside it, a constant out of range, and a stress that is
// not positive.
func (c CycleFit) At(temperature, cycles float64) (float64, error) {
	return c.at("material.CycleFit", "", temperature, cycles)
}

// at is At for a fit of the owner, of the name given.
func (c CycleFit) at(owner, name string, temperature, cycles float64) (float64, error) {
	if c.good() && c.covers(temperature, cycles) {
		if stress := c.stress(temperature, cycles); stress > 0 {
			return stress, nil
		}
	}
	return 0, c.fault(of(owner, name), temperature, cycles)
}

func (c CycleFit) covers(temperature, cycles float64) bool {
	return temperature >= c.Coldest-kelvinSlack && temperature <= c.Hottest+kelvinSlack && cycles >= c.Fewest && cycles <= c.Most
}

func (c CycleFit) stress(temperature, cycles float64) float64 {
	x := max(0, ToCelsius(temperature))
	return c.A + x*(c.B+x*c.C) + (c.D+c.E*math.Pow(x, c.P))*math.Pow(cycles, -c.Q)
}

// fault tells why at gives no stress.
func (c CycleFit) fault(owner string, temperature, cycles float64) error {
	if c.unknown() {
		return fmt.Errorf("%w: %s", ErrNoData, owner)
	}
	var f input.Faults
	c.check(&f, owner)
	if !(temperature >= c.Coldest-kelvinSlack && temperature <= c.Hottest+kelvinSlack) {
		f.Between(owner+": temperature", temperature, c.Coldest, c.Hottest, "K")
	}
	f.Between(owner+": cycles", cycles, c.Fewest, c.Most, "")
	if f.None() {
		f.Refuse(owner+": stress", c.stress(temperature, cycles), "Pa", "above 0: the fit gives no strength here")
	}
	return f.Err()
}

func (c CycleFit) unknown() bool { return c == CycleFit{Source: c.Source} }

func (c CycleFit) good() bool {
	inside := func(x, most float64) bool { return math.Abs(x) <= most }
	return inside(c.A, 1e9) && inside(c.B, 1e9) && inside(c.C, 1e9) && inside(c.D, 1e12) && inside(c.E, 1e12) &&
		c.P >= 0 && c.P <= 3 && c.Q >= 0 && c.Q <= 1 && c.Coldest >= 273.15 && c.Hottest >= c.Coldest && c.Hottest <= 600 &&
		c.Fewest >= 1 && c.Most >= c.Fewest && c.Most <= 1e12
}

func (c CycleFit) check(f *input.Faults, owner string) {
	if c.unknown() || c.good() {
		return // before any name is put together, which would allocate
	}
	f.Between(owner+".A", c.A, -1e9, 1e9, "Pa")
	f.Between(owner+".B", c.B, -1e9, 1e9, "Pa/°C")
	f.Between(owner+".C", c.C, -1e9, 1e9, "Pa/°C²")
	f.Between(owner+".D", c.D, -1e12, 1e12, "Pa")
	f.Between(owner+".E", c.E, -1e12, 1e12, "Pa")
	f.Between(owner+".P", c.P, 0, 3, "")
	f.Between(owner+".Q", c.Q, 0, 1, "")
	f.Between(owner+".Coldest", c.Coldest, 273.15, 600, "K")
	f.Between(owner+".Hottest", c.Hottest, c.Coldest, 600, "K")
	f.Between(owner+".Fewest", c.Fewest, 1, 1e12, "")
	f.Between(owner+".Most", c.Most, c.Fewest, 1e12, "")
}

// RootAt returns the bending stress number σ_FlimN [Pa] of the tooth root at a
// tooth temperature [K] after a number of load cycles [-]. Where a formula asks for
// σ_FE that is Y_ST·σ_FlimN = 2·σ_FlimN. It errs as [CycleFit.At] does.
func (g GearPlastic) RootAt(temperature, cycles float64) (float64, error) {
	return g.Root.at("material.GearPlastic.Root", g.Name, temperature, cycles)
}

// FlankAt returns the contact stress number σ_HlimN [Pa] of the flank at a tooth
// temperature [K] after a number of load cycles [-]. It errs as [CycleFit.At] does.
func (g GearPlastic) FlankAt(temperature, cycles float64) (float64, error) {
	return g.Flank.at("material.GearPlastic.Flank", g.Name, temperature, cycles)
}

// Validate reports the fields out of range.
func (g GearPlastic) Validate() error {
	var f input.Faults
	f.Between("material.GearPlastic.Density", g.Density, 500, 3000, "kg/m³")
	f.Between("material.GearPlastic.Young", g.Young, 1e8, 1e11, "Pa")
	f.Between("material.GearPlastic.Poisson", g.Poisson, 0, 0.5, "")
	f.Between("material.GearPlastic.Yield", g.Yield, 1e6, 1e9, "Pa")
	f.Between("material.GearPlastic.FrictionLow", g.FrictionLow, 0.01, 1, "")
	f.Between("material.GearPlastic.FrictionHigh", g.FrictionHigh, g.FrictionLow, 1, "")
	f.Between("material.GearPlastic.WearRate", g.WearRate, 1e-22, 1e-9, "1/Pa")
	g.Root.check(&f, "material.GearPlastic.Root")
	g.Flank.check(&f, "material.GearPlastic.Flank")
	return f.Err()
}

const vdi2736 = "VDI 2736-2:2014, fit of test gears of polymer on steel, from memory, and its range"

// POM returns polyoxymethylene (acetal), for small gears and bushes. No fit of
// its flanks' strength is known: dry, they wear rather than pit.
func POM() GearPlastic {
	return GearPlastic{
		Name: "POM", Density: 1410, Young: 2.8e9, Poisson: 0.37, Yield: 60e6,
		FrictionLow: 0.20, FrictionHigh: 0.24, WearRate: 1e-15,
		Root: CycleFit{A: 26e6, C: -0.0025e6, D: 400e6, Q: 0.2,
			Coldest: Celsius(20), Hottest: Celsius(80), Fewest: 1e5, Most: 1e8, Source: vdi2736},
		Source: map[string]string{
			"Density": typical, "Young": typical + ": 2.8 to 3.0 GPa", "Poisson": typical + ": 0.35 to 0.40",
			"Yield": typical + ": 60 to 70 MPa", "FrictionLow": typical, "FrictionHigh": typical,
			"WearRate": typical + ": about 1e-6 mm³/(N·m)",
		},
	}
}

// PA66 returns polyamide 66 with the moisture of a room. Dry as moulded it is
// twice as stiff.
func PA66() GearPlastic {
	return GearPlastic{
		Name: "PA66", Density: 1140, Young: 1.4e9, Poisson: 0.38, Yield: 55e6,
		FrictionLow: 0.2, FrictionHigh: 0.4, WearRate: 1e-15,
		Root: CycleFit{A: 30e6, B: -0.22e6, D: 4600e6, E: -900e6, P: 0.3, Q: 1. / 3,
			Coldest: Celsius(20), Hottest: Celsius(100), Fewest: 1e5, Most: 1e8, Source: vdi2736},
		Flank: CycleFit{A: 36e6, C: -0.0012e6, D: 1000e6, E: -0.025e6, P: 2, Q: 0.21,
			Coldest: Celsius(20), Hottest: Celsius(100), Fewest: 1e5, Most: 1e8, Source: vdi2736},
		Source: map[string]string{
			"Density": typical, "Young": typical + ": 1.1 to 1.7 GPa with the moisture of a room, 3.0 to 3.3 dry",
			"Poisson": typical + ": 0.35 to 0.40", "Yield": typical + ": 85 MPa dry",
			"FrictionLow": typical, "FrictionHigh": typical, "WearRate": typical + ": about 1e-6 mm³/(N·m)",
		},
	}
}

// GearPlastics returns every gear plastic the package knows.
func GearPlastics() []GearPlastic { return []GearPlastic{POM(), PA66()} }

// GearPlasticNamed returns the plastic of a name, upper or lower case. Another
// name is an error that lists those known.
func GearPlasticNamed(name string) (GearPlastic, error) {
	var known []string
	for _, g := range GearPlastics() {
		if strings.EqualFold(g.Name, name) {
			return g, nil
		}
		known = append(known, g.Name)
	}
	return GearPlastic{}, &input.Word{Name: "material.GearPlasticNamed: name", Value: name, Allowed: strings.Join(known, ", ")}
}
