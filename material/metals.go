package material

import (
	"strings"

	"meltflight/internal/input"
)

// Metals returns every metal the package knows.
func Metals() []Metal {
	return []Metal{S235(), S275(), S355(), C45E(), CrMo42(), MnCr16(), CrMoV31(), Stainless(),
		Al6060(), Al6061(), Al6082(), Brass()}
}

// MetalNamed returns the metal of a name, upper or lower case. Another name is
// an error that lists those known.
func MetalNamed(name string) (Metal, error) {
	var known []string
	for _, m := range Metals() {
		if strings.EqualFold(m.Name, name) {
			return m, nil
		}
		known = append(known, m.Name)
	}
	return Metal{}, &input.Word{Name: "material.MetalNamed: name", Value: name, Allowed: strings.Join(known, ", ")}
}
