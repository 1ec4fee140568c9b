package screw

import (
	"math"

	"meltflight/internal/input"
)

// Slit is a straight hole of rectangular section.
type Slit struct {
	Width  float64 // 1e-5 to 10 [m]
	Height float64 // 1e-5 up to Width [m]
	Length float64 // 1e-6 to 10 [m]
}

// Validate reports dimensions out of range.
func (s Slit) Validate() error {
	var f input.Faults
	f.Between("screw.Slit.Width", s.Width, 1e-5, 10, "m")
	f.Between("screw.Slit.Length", s.Length, 1e-6, 10, "m")
	if f.None() {
		f.Between("screw.Slit.Height", s.Height, 1e-5, s.Width, "m")
	}
	return f.Err()
}

// PressureDrop returns what the melt costs between infinitely wide walls, over F_p,
// the [PressureShape] of the section [Pa]; entrance loss is not included.
//
// Between wide walls 2Lτ/H is exact as in [Capillary.WallShear]. F_p is exact for a
// Newtonian melt. Brought in on the pressure it makes that of a power law too high by
// 1.5 % at H/W = 0.1, 2.6 % at 0.2, 7 % at 0.5 and 23 % in a square, at an index of 0.3
// (full solutions of the section by finite elements); nearer to 1 by less, below by more.
func (s Slit) PressureDrop(m Melt, flow float64) float64 {
	_, stress := s.wide(m, flow)
	return 2 * s.Length / s.Height * stress / PressureShape(s.Height/s.Width)
}

// wide returns the wall shear between infinitely wide walls, sheared apparently at
// 6Q/WH² [1/s], [Pa].
func (s Slit) wide(m Melt, flow float64) (rate, stress float64) {
	return wallShear(m, inSlit, 6*flow/(s.Width*s.Height*s.Height))
}

// WallShear returns true shear rate [1/s] and stress [Pa] midway along the wide walls,
// where they are greatest: side walls are taken to raise the rate as they do in a
// Newtonian melt, which gives a power law's stress within 3 % (as above).
func (s Slit) WallShear(m Melt, flow float64) (rate, stress float64) {
	rate, stress = s.wide(m, flow)
	if !(rate > 0 && rate <= math.MaxFloat64) {
		return rate, stress
	}
	aspect := s.Height / s.Width
	rate *= wallShape(aspect) / PressureShape(aspect)
	eta, _ := m.local(rate)
	return rate, eta * rate
}

// wallShape returns the shear stress midway along the wide wall of a rectangular
// section, up to square, over that between infinitely wide walls [-]:
//
//	1 − (8/π²)·Σ i⁻²/cosh(iπ/2r), i odd
//
// from the series for the velocity of a Newtonian melt, J. Boussinesq (1868), from memory.
func wallShape(aspect float64) float64 {
	sum := 0.0
	for i, step := 1.0, math.Pi/(2*aspect); i*step < 39; i += 2 {
		sum += 1 / (i * i * math.Cosh(i*step))
	}
	return 1 - 8/(math.Pi*math.Pi)*sum
}

// ViscousHeating returns the Nahme and Graetz numbers, see [Passage].
func (s Slit) ViscousHeating(m Melt, flow float64) (nahme, graetz float64) {
	rate, _ := s.WallShear(m, flow)
	return heating(m, heated{rate: rate, gradient: s.PressureDrop(m, flow) / s.Length, speed: flow / (s.Width * s.Height),
		across: s.Height, newtonian: 12 / PressureShape(s.Height/s.Width), length: s.Length})
}

// Volume returns W·H·L [m³].
func (s Slit) Volume() float64 { return s.Width * s.Height * s.Length }
