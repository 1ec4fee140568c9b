package drive

import (
	"math"

	"meltflight/internal/input"
)

// TorsionalStiffness returns the torque by twist between two places of the shaft,
// 0 to its length and the second to the right of the first [m], of segments in series
// [N·m/rad]:
//
//	1/k = Σ L/(G·J),  J = π(d⁴ − d_i⁴)/32
//
// for a modulus of rigidity, 1e5 to 1e13 [Pa]. Saint-Venant's torsion of round bars, exact;
// a step, whose corner does not twist with the rest, and a keyway make it somewhat softer.
// Allocates nothing.
func (s StepShaft) TorsionalStiffness(rigidity, from, to float64) (float64, error) {
	var f input.Faults
	s.check(&f)
	f.Between("drive.StepShaft.TorsionalStiffness: rigidity", rigidity, 1e5, 1e13, "Pa")
	if f.None() {
		length := s.Length()
		f.Between("drive.StepShaft.TorsionalStiffness: from", from, 0, length*(1-1e-6), "m")
		f.Between("drive.StepShaft.TorsionalStiffness: to", to, max(0, min(from, length))+1e-6*length*(1-lengthSlack), length*(1+lengthSlack), "m")
	}
	if err := f.Err(); err != nil {
		return 0, err
	}
	left, give := 0.0, 0.0
	for i := range s.Segments {
		g := &s.Segments[i]
		right := left + g.Length
		if h := min(right, to) - max(left, from); h > 0 {
			polar := math.Pi / 32 * (square(g.Diameter) - square(g.Bore)) * (square(g.Diameter) + square(g.Bore))
			give += h / (rigidity * polar)
		}
		left = right
	}
	return 1 / give, nil
}

// TorsionalFrequency returns the frequency at which two inertias, each 1e-12 to 1e9
// [kg·m²], swing against each other on a shaft of a stiffness, 1e-9 to 1e15 [N·m/rad], that
// has no mass [Hz]:
//
//	f = √(k·(1/J₁ + 1/J₂)) / 2π
//
// for any that turn freely together; a very large one is a fixed end. A geared train has
// its inertias and stiffnesses brought to one shaft first, by the ratio squared. Exact
// (W. T. Thomson, Theory of Vibration with Applications, two-degree systems; from memory).
func TorsionalFrequency(stiffness, first, second float64) (float64, error) {
	var f input.Faults
	f.Between("drive.TorsionalFrequency: stiffness", stiffness, 1e-9, 1e15, "N·m/rad")
	f.Between("drive.TorsionalFrequency: first", first, 1e-12, 1e9, "kg·m²")
	f.Between("drive.TorsionalFrequency: second", second, 1e-12, 1e9, "kg·m²")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return math.Sqrt(stiffness*(1/first+1/second)) / (2 * math.Pi), nil
}
