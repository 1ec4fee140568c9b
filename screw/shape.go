package screw

import "math"

// Odd sums of i⁻³ and i⁻⁵: 7ζ(3)/8 and 31ζ(5)/32.
const (
	oddCubes  = 1.051799790264644999724770891322518741919
	oddFifths = 1.004523762795139616133510640084575046019
)

// DragShape returns F_d, drag flow in a rectangular channel of depth ÷ width
// ratio aspect, above 0, over drag flow between infinitely wide plates: above 0, up
// to 1 [-]. Another aspect gives NaN.
//
// Z. Tadmor and C. G. Gogos, Principles of Polymer Processing, 2nd ed. (2006),
// §6.3 (from memory), after R. S. Rowell and D. Finlayson, Engineering 126 (1928); the series
// is summed in the form that converges geometrically, to rounding.
func DragShape(aspect float64) float64 {
	drag, _ := shapeFactors(aspect)
	return drag
}

// PressureShape returns F_p, pressure flow in a rectangular channel of depth ÷
// width ratio aspect, above 0, over pressure flow between infinitely wide plates:
// above 0, up to 1 [-]. Another aspect gives NaN. Source as for [DragShape].
func PressureShape(aspect float64) float64 {
	_, pressure := shapeFactors(aspect)
	return pressure
}

// shapeFactors uses that the four sliding walls of a duct together carry plug
// flow, so F_d(r) + F_d(1/r) = 1, and that turning the duct on its side changes
// nothing, so F_p(1/r) = r²F_p(r). What remains for r ≤ 1 is
//
//	1−F_d = (16r/π³)·Σ i⁻³·tanh(iπ/2r),  1−F_p = (192r/π⁵)·Σ i⁻⁵·tanh(iπ/2r), i odd,
//
// with tanh x = 1 − 2/(e^{2x}+1), whose last part vanishes quickly.
func shapeFactors(aspect float64) (drag, pressure float64) {
	if !(aspect > 0) {
		return math.NaN(), math.NaN()
	}
	r := aspect
	if aspect > 1 {
		r = 1 / aspect
	}
	third, fifth := oddCubes, oddFifths
	// Beyond an exponent of 39 a term is below rounding.
	for i, step := 1.0, math.Pi/r; i*step < 39; i += 2 {
		rest := 2 / (math.Exp(i*step) + 1) / (i * i * i)
		third -= rest
		fifth -= rest / (i * i)
	}
	const pi3 = math.Pi * math.Pi * math.Pi
	drag = 1 - 16*r/pi3*third
	pressure = 1 - 192*r/(pi3*math.Pi*math.Pi)*fifth
	if aspect > 1 {
		return 1 - drag, pressure * r * r
	}
	return drag, pressure
}
