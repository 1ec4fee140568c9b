package material

import (
	"strings"

	"meltflight/internal/input"
)

// SteelFriction is the range in which the friction of a solid plastic on smooth
// steel lies, well below its softening.
type SteelFriction struct {
	Polymer string
	Low     float64 // coefficient of friction [-]
	High    float64 // [-]
	Source  string
}

// SteelFrictions returns the ranges the package knows. A design that only works
// in a part of a range does not work: friction moves with temperature, speed, pressure
// and the polish of the screw, and rises sharply near softening.
func SteelFrictions() []SteelFriction {
	return []SteelFriction{
		{"PP", 0.25, 0.35, typical + "; ground steel, dry, 0.3 in a table of semi-finished sheet"},
		{"HDPE", 0.10, 0.30, typical + "; ejection from moulds 0.12 to 0.22 at Ra 0.1 to 0.5 µm (C. Burke and R. Malloy, ANTEC 1991)"},
		{"LDPE", 0.30, 0.50, typical + "; above 0.6 near 100 °C"},
		{"PS", 0.30, 0.50, typical},
		{"ABS", 0.35, 0.50, typical},
		{"PET", 0.20, 0.25, typical},
		{"PA66", 0.30, 0.40, typical},
	}
}

// SteelFrictionOf returns the range of the polymer of a name, upper or lower
// case. Another name is an error that lists those known.
func SteelFrictionOf(polymer string) (SteelFriction, error) {
	var known []string
	for _, s := range SteelFrictions() {
		if strings.EqualFold(s.Polymer, polymer) {
			return s, nil
		}
		known = append(known, s.Polymer)
	}
	return SteelFriction{}, &input.Word{Name: "material.SteelFrictionOf: polymer", Value: polymer, Allowed: strings.Join(known, ", ")}
}
