package thermal

import (
	"math"

	"meltflight/internal/input"
)

// Throat is a sleeve from the hot barrel to a cooled collar, with the screw in it: a second way of
// heat that no water reaches.
type Throat struct {
	Sleeve            Sleeve
	ScrewSection      float64 // 1e-8 to 1 [m²]
	ScrewConductivity float64 // 0.01 to 1e4 [W/(m·K)]
	Exchange          float64 // between sleeve and screw by the plastic between them, of a metre, see [TubeLayer]; 0 to 1e4 [W/(m·K)]
	Collar            float64 // conductance of the sleeve's cold end to the coolant, 0 to 1e6 [W/K]
	Coolant           float64 // 200 to 1200 [K]
	Shank             float64 // conductance of the screw's cold end to the drive, 0 to 1e6 [W/K]
	Drive             float64 // temperature of the drive, 200 to 1200 [K]
	Air               float64 // 200 to 1200 [K]
}

// ThroatState is where the heat of a throat goes.
type ThroatState struct {
	Throat  float64  // temperature of the sleeve's cold end [K]
	Screw   float64  // temperature of the screw there [K]
	Hot     float64  // heat that the hot ends of both take in [W]
	Coolant float64  // heat into the coolant [W]
	Drive   float64  // heat into the drive [W]
	Side    float64  // heat into the air [W]
	Beyond  []string // in words, where the theory's range is left; nil inside it
}

// Validate reports the fields out of range.
func (t Throat) Validate() error {
	var f input.Faults
	t.check(&f)
	return f.Err()
}

func (t *Throat) check(f *input.Faults) {
	t.Sleeve.check(f)
	f.Between("thermal.Throat.ScrewSection", t.ScrewSection, 1e-8, 1, "m²")
	f.Between("thermal.Throat.ScrewConductivity", t.ScrewConductivity, 0.01, 1e4, "W/(m·K)")
	f.Between("thermal.Throat.Exchange", t.Exchange, 0, 1e4, "W/(m·K)")
	f.Between("thermal.Throat.Collar", t.Collar, 0, 1e6, "W/K")
	checkBody(f, "thermal.Throat.Coolant", t.Coolant)
	f.Between("thermal.Throat.Shank", t.Shank, 0, 1e6, "W/K")
	checkBody(f, "thermal.Throat.Drive", t.Drive)
	checkBody(f, "thermal.Throat.Air", t.Air)
}

// At returns the throat with the hot ends of sleeve and screw held at temperatures, each 200 to
// 1200 [K], of a screw that stands: what is left after a stop, the worst there is, since
// fresh pellets no longer carry heat back.
//
// Exact for two fins side by side: k₁A₁·θ₁″ = h·P·θ₁ + g·(θ₁ − θ₂), k₂A₂·θ₂″ = g·(θ₂ − θ₁),
// taken apart by the eigenvectors of their symmetric form, of which each is a [Sleeve] of its own.
func (t Throat) At(sleeve, screw float64) (ThroatState, error) {
	var f input.Faults
	t.check(&f)
	checkBody(&f, "thermal.Throat.At: sleeve", sleeve)
	checkBody(&f, "thermal.Throat.At: screw", screw)
	if err := f.Err(); err != nil {
		return ThroatState{}, err
	}
	s := &t.Sleeve
	first, second := s.Conductivity*s.Section(), t.ScrewConductivity*t.ScrewSection
	// In θ·√(kA) the matrix [a b; b d] is symmetric; the screw's eigenvalue is never below 0.
	a, b, d := (s.lossy()+t.Exchange)/first, -t.Exchange/math.Sqrt(first*second), t.Exchange/second
	large := (a+d)/2 + math.Hypot((a-d)/2, b)
	small := 0.0
	if large > 0 {
		small = s.lossy() / first * (t.Exchange / second) / large // their product is the determinant
	}
	angle := math.Atan2(2*b, a-d) / 2 // to the eigenvector of the large one
	cos, sin := math.Cos(angle), math.Sin(angle)
	l := s.Length
	rootOne, rootTwo := math.Sqrt(first/l), math.Sqrt(second/l)
	pair := func(of func(float64) float64) (m [3]float64) { // 11, 12, 22 [W/K]
		p, q := of(l*math.Sqrt(large)), of(l*math.Sqrt(small))
		m[0] = rootOne * rootOne * (p*cos*cos + q*sin*sin)
		m[1] = rootOne * rootTwo * (p - q) * cos * sin
		m[2] = rootTwo * rootTwo * (p*sin*sin + q*cos*cos)
		return m
	}
	across, along := pair(overSinh), pair(overTanh)
	h1, h2 := sleeve-t.Air, screw-t.Air
	w1, w2 := t.Coolant-t.Air, t.Drive-t.Air
	r1 := across[0]*h1 + across[1]*h2 + t.Collar*w1
	r2 := across[1]*h1 + across[2]*h2 + t.Shank*w2
	m1, m2 := along[0]+t.Collar, along[2]+t.Shank
	det := m1*m2 - along[1]*along[1]
	c1, c2 := (r1*m2-r2*along[1])/det, (r2*m1-r1*along[1])/det

	r := ThroatState{Throat: t.Air + c1, Screw: t.Air + c2, Coolant: t.Collar * (c1 - w1), Drive: t.Shank * (c2 - w2)}
	r.Hot = (along[0]+along[1])*h1 + (along[1]+along[2])*h2 - (across[0]+across[1])*c1 - (across[1]+across[2])*c2
	r.Side = r.Hot - r.Coolant - r.Drive
	r.Beyond = s.state(h1, c1, t.Air).Beyond
	return r, nil
}
