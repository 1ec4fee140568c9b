package thermal

import (
	"math"

	"meltflight/internal/input"
)

// Plate is a plate that heat enters by a small source amid one face and leaves by
// all of the other: the base of a sink under a chip.
type Plate struct {
	Source       float64 // area, round or near square, 1e-8 to 1 [m²]
	Area         float64 // of the plate, round or near square, at least Source, to 10 [m²]
	Thickness    float64 // 1e-5 to 0.5 [m]
	Conductivity float64 // 0.01 to 1e4 [W/(m·K)]
	Coefficient  float64 // on the other face; of a finned one what its fins come to on that area, 0.1 to 1e6 [W/(m²·K)]
}

// Spread is what a plate sets against heat from a small source.
type Spread struct {
	Mean     float64 // spreading resistance to the mean temperature of the source [K/W]
	Largest  float64 // spreading resistance to its middle [K/W]
	Straight float64 // of the plate as if heat entered everywhere, t/(k·A) [K/W]
	Surface  float64 // of the other face, 1/(h·A) [K/W]
}

// Validate reports the fields out of range.
func (p Plate) Validate() error {
	var f input.Faults
	p.check(&f)
	return f.Err()
}

func (p *Plate) check(f *input.Faults) {
	f.Between("thermal.Plate.Source", p.Source, 1e-8, 1, "m²")
	f.Between("thermal.Plate.Area", p.Area, 1e-8, 10, "m²")
	f.Between("thermal.Plate.Thickness", p.Thickness, 1e-5, 0.5, "m")
	f.Between("thermal.Plate.Conductivity", p.Conductivity, 0.01, 1e4, "W/(m·K)")
	f.Between("thermal.Plate.Coefficient", p.Coefficient, 0.1, 1e6, "W/(m²·K)")
	if f.None() && p.Area < p.Source {
		f.Refuse("thermal.Plate.Area", p.Area, "m²", "at least Source, "+input.WithUnit(p.Source, "m²"))
	}
}

// Spreading returns the resistances of the plate, which stand in series: spreading,
// straight through, and surface. With a = √(As/π), b = √(A/π), ε = a/b, τ = t/b,
// Bi = h·b/k, λ = π + 1/(√π·ε) and Φ = (tanh λτ + λ/Bi)/(1 + (λ/Bi)·tanh λτ):
//
//	mean     ½·(1 − ε)^1.5·Φ/(√π·k·a)
//	largest  (1 − ε)·Φ/(π·k·a)
//
// Error: up to 10 %; in the case compared with the exact series of Bessel functions
// the mean is 6 % and the largest 3 % low. A source off the middle meets more.
//
// Source: S. Lee, S. Song, V. Au and K. P. Moran, Constriction/Spreading Resistance
// Model for Electronics Packaging, ASME/JSME Thermal Engineering Conference 4 (1995) 199 (from memory).
func (p Plate) Spreading() (Spread, error) {
	var f input.Faults
	p.check(&f)
	if err := f.Err(); err != nil {
		return Spread{}, err
	}
	a, b := math.Sqrt(p.Source/math.Pi), math.Sqrt(p.Area/math.Pi)
	ratio := a / b
	lambda := math.Pi + 1/(math.Sqrt(math.Pi)*ratio)
	biot := p.Coefficient * b / p.Conductivity
	through := math.Tanh(lambda * p.Thickness / b)
	phi := (biot*through + lambda) / (biot + lambda*through)
	free := 1 - ratio
	return Spread{
		Mean:     0.5 * free * math.Sqrt(free) * phi / (math.Sqrt(math.Pi) * p.Conductivity * a),
		Largest:  free * phi / (math.Pi * p.Conductivity * a),
		Straight: p.Thickness / (p.Conductivity * p.Area),
		Surface:  1 / (p.Coefficient * p.Area),
	}, nil
}

// Interface returns the resistance [K/W] of a joint filled by a paste, pad or glue:
// (t/k + 2·r)/A, with thickness of the filling, 1e-7 to 0.01 [m], its conductivity,
// 1e-3 to 1e4 [W/(m·K)], the resistance by which it meets each face, 0 to 1e-2 [m²·K/W],
// and area, 1e-8 to 100 [m²]. Printed figures of a pad's conductivity are mostly without
// the second part (common practice, no source), which for a dry pad may be as much as the
// first. For a dry joint ask [Surface] with its contact conductance.
//
// Source: Çengel and Ghajar, 5th ed., sect. 3-2 (from memory).
func Interface(thickness, conductivity, contact, area float64) (float64, error) {
	var f input.Faults
	f.Between("thermal.Interface: thickness", thickness, 1e-7, 0.01, "m")
	f.Between("thermal.Interface: conductivity", conductivity, 1e-3, 1e4, "W/(m·K)")
	f.Between("thermal.Interface: contact", contact, 0, 1e-2, "m²·K/W")
	f.Between("thermal.Interface: area", area, 1e-8, 100, "m²")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return (thickness/conductivity + 2*contact) / area, nil
}
