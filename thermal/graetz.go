package thermal

import (
	"math"

	"meltflight/internal/input"
)

// Passage is what melt flows through between walls of one temperature.
type Passage int

const (
	Tube Passage = 1 + iota // of a diameter
	Slit                    // between wide plates a gap apart, both heated
)

// Nusselt numbers far down a passage, on the hydraulic diameter: that of a tube, twice the gap of a
// slit. Texts that take the gap print half as much for slits. A. L. London and R. K. Shah,
// Laminar Flow Forced Convection in Ducts (1978), print them (from memory); recomputed.
const (
	TubeWallNusselt    = 3.656793457763292 // wall of one temperature
	TubeFluxNusselt    = 48. / 11          // even flux
	TubeViscousNusselt = 48. / 5           // heat of the melt's own friction only
	SlitWallNusselt    = 7.540700874069438
	SlitFluxNusselt    = 140. / 17
	SlitViscousNusselt = 35. / 2
	SlitOneWallNusselt = 4.86073677894 // one wall of one temperature, the other insulated
	SlitOneFluxNusselt = 70. / 13      // even flux from one wall, the other insulated
)

// Graetz is the warming of a melt along a passage.
type Graetz struct {
	Left  float64 // mean temperature's difference from the wall as a part of that at the inlet, 0 to 1 [-]
	Local float64 // Nusselt number there [-]
	Mean  float64 // Nusselt number of all the way, by the logarithmic mean difference: −ln(Left)/(4x*) [-]
}

func (p Passage) check(f *input.Faults, name string) {
	f.Count(name, int(p), int(Tube), int(Slit))
}

// Graetz returns the warming of a Newtonian melt of settled flow, even in temperature at the inlet, at
// x* = (x/D)/(Re·Pr), the way in hydraulic diameters D over the Péclet number U·D/α, 1e-9 to 1e6
// [-]. Mind which Graetz number a text has: 1/x*, or π/4 of it, ṁ·c/(k·x).
//
// Exact for constant properties and no conduction along the flow: the series of L. Graetz
// (1885) with 28 eigenvalues, computed, and for short ways Lévêque's law with six terms added to it,
// fitted to 200 eigenvalues in 28-digit arithmetic; to 1e-9 of Left, 1e-7 of the numbers. A thinning
// melt is a few percent better off (from memory).
func (p Passage) Graetz(x float64) (Graetz, error) {
	var f input.Faults
	p.check(&f, "thermal.Passage")
	f.Between("thermal.Passage.Graetz: x*", x, 1e-9, 1e6, "")
	if err := f.Err(); err != nil {
		return Graetz{}, err
	}
	return p.graetz(x), nil
}

func (p Passage) graetz(x float64) Graetz {
	s := p.series()
	if x < s.short {
		third := math.Cbrt(x)
		// 1 − Left over x^(2/3), and ∂Left/∂x times x^(1/3).
		lost, slope := s.leveque, 2./3*s.leveque
		step := third
		for i, c := range s.after {
			lost -= c * step
			slope -= (1 + float64(i)/3) * c * step
			step *= third
		}
		way := third * third
		left := 1 - lost*way
		return Graetz{Left: left, Local: slope / (4 * third * left), Mean: -math.Log1p(-lost*way) / (4 * x)}
	}
	// Sums over the first term, so that far down nothing underflows.
	first := s.modes[0].root * s.modes[0].root
	var flux, mean float64
	for i := range s.modes {
		m := &s.modes[i]
		square := m.root * m.root
		z := s.decay * (square - first) * x
		if z > 45 {
			break
		}
		e := math.Exp(-z) * m.flux
		flux += e
		mean += e / square
	}
	log := math.Log(s.part*mean) - s.decay*first*x
	return Graetz{Left: math.Exp(log), Local: s.decay / 4 * flux / mean, Mean: -log / (4 * x)}
}

// viscous returns the mean excess over the wall by the melt's own friction, over μU²/k.
func (p Passage) viscous(x float64) float64 {
	s := p.series()
	if x < s.shortViscous {
		third := math.Cbrt(x)
		return x * (s.friction - third*(s.bent[0]+third*(s.bent[1]+third*(s.bent[2]+third*s.bent[3]))))
	}
	excess := s.settled
	for i := range s.modes {
		m := &s.modes[i]
		z := s.decay * m.root * m.root * x
		if z > 45 {
			break
		}
		excess -= m.viscous * math.Exp(-z)
	}
	return excess
}

func (p Passage) series() *graetzSeries {
	if p == Slit {
		return &slitSeries
	}
	return &tubeSeries
}

// HeatedMelt is melt on its way through a hot passage: a nozzle, a manifold, a gap around a torpedo.
type HeatedMelt struct {
	Passage      Passage
	Gap          float64 // diameter of a tube, gap of a slit, 1e-5 to 1 [m]
	Length       float64 // 1e-4 to 100 [m]
	Speed        float64 // mean, 1e-7 to 10 [m/s]
	Conductivity float64 // 0.01 to 10 [W/(m·K)]
	Density      float64 // 100 to 1e4 [kg/m³]
	SpecificHeat float64 // 100 to 1e4 [J/(kg·K)]
	Viscosity    float64 // at the shear of the passage, 0 to 1e7, 0 for no heat of friction [Pa·s]
}

// HeatedMeltState is the melt at the end of its way.
type HeatedMeltState struct {
	Graetz
	Way     float64  // x*, see [Passage.Graetz] [-]
	Outlet  float64  // mean temperature, friction included [K]
	Lack    float64  // by which the mean is below the wall, friction left out [K]
	Viscous float64  // by which friction has warmed the mean [K]
	Settled float64  // by which it would far down: (5/6)·μU²/k in a tube, (24/35)·μU²/k in a slit [K]
	Peak    float64  // far down, of the middle above the wall: μU²/k in a tube, ¾ of it in a slit [K]
	Beyond  []string // in words, where the model's range is left; nil inside it
}

// Validate reports the fields out of range.
func (m HeatedMelt) Validate() error {
	var f input.Faults
	m.check(&f)
	return f.Err()
}

func (m *HeatedMelt) check(f *input.Faults) {
	m.Passage.check(f, "thermal.HeatedMelt.Passage")
	f.Between("thermal.HeatedMelt.Gap", m.Gap, 1e-5, 1, "m")
	f.Between("thermal.HeatedMelt.Length", m.Length, 1e-4, 100, "m")
	f.Between("thermal.HeatedMelt.Speed", m.Speed, 1e-7, 10, "m/s")
	f.Between("thermal.HeatedMelt.Conductivity", m.Conductivity, 0.01, 10, "W/(m·K)")
	f.Between("thermal.HeatedMelt.Density", m.Density, 100, 1e4, "kg/m³")
	f.Between("thermal.HeatedMelt.SpecificHeat", m.SpecificHeat, 100, 1e4, "J/(kg·K)")
	f.Between("thermal.HeatedMelt.Viscosity", m.Viscosity, 0, 1e7, "Pa·s")
}

// At returns the melt at the end of the passage, from an inlet of one temperature, between walls of
// another, each 200 to 1200 [K]. Both warmings add up, since with constant properties the equation is linear:
// Tw − (Tw − Ti)·Left and the friction's own series, to 1e-5 of it. Melt that comes from pellets
// must have melted before.
//
// Range: Péclet numbers from 50, below which heat goes along the melt as well (from memory), and
// friction that warms by less than some 20 K, above which viscosity must follow, see [Sheared].
func (m HeatedMelt) At(inlet, wall float64) (HeatedMeltState, error) {
	var f input.Faults
	m.check(&f)
	checkBody(&f, "thermal.HeatedMelt.At: inlet", inlet)
	checkBody(&f, "thermal.HeatedMelt.At: wall", wall)
	if err := f.Err(); err != nil {
		return HeatedMeltState{}, err
	}
	diameter, peak := m.Gap, 1.
	if m.Passage == Slit {
		diameter, peak = 2*m.Gap, 0.75
	}
	peclet := m.Speed * diameter * m.Density * m.SpecificHeat / m.Conductivity
	way := m.Length / diameter / peclet
	unit := m.Viscosity * m.Speed * m.Speed / m.Conductivity
	s := HeatedMeltState{
		Graetz: m.Passage.graetz(way), Way: way,
		Viscous: unit * m.Passage.viscous(way), Settled: unit * m.Passage.series().settled, Peak: unit * peak,
	}
	s.Lack = (wall - inlet) * s.Left
	s.Outlet = wall - s.Lack + s.Viscous
	s.Beyond = beyond(s.Beyond, "melt in a passage", "Péclet number", peclet, 50, math.Inf(1))
	s.Beyond = beyond(s.Beyond, "melt in a passage", "kelvins of friction", s.Viscous, 0, 20)
	return s, nil
}
