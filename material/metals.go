package material

import (
	"strings"

	"meltflight/internal/input"
)

const (
	en10025  = "EN 10025-2:2004, Table 7 (edition from memory)"
	en10083c = "EN 10083-2:2006, +QT"
	en10083a = "EN 10083-3:2006, +QT"
	en1993   = "EN 1993-1-1, 3.2.6, from memory"
	en1993t  = "EN 1993-1-2, carbon steel at 20 °C, from memory"
	en755    = "EN 755-2, T66, from memory"
)

// S235 returns structural steel S235JR, for stands and frames.
func S235() Metal {
	return structural("S235", [...]float64{235, 225, 215, 215, 215, 195, 185, 175}, [...]float64{360, 350, 340})
}

// S355 returns structural steel S355JR, for stands and frames.
func S355() Metal {
	return structural("S355", [...]float64{355, 345, 335, 325, 315, 295, 285, 275}, [...]float64{470, 450, 450})
}

// structural builds a steel from the yield [MPa] of the eight thickness bands of
// EN 10025-2 and its tensile strength [MPa] up to 100, 150 and 250 mm.
func structural(name string, yield [8]float64, ultimate [3]float64) Metal {
	limits := [...]float64{16, 40, 63, 80, 100, 150, 200, 250}
	m := Metal{
		Name: name, Density: 7850, Young: 210e9, Poisson: 0.3,
		Conductivity: 53.3, SpecificHeat: 440, Expansion: 12e-6,
		Source: map[string]string{
			"Density": en1993, "Young": en1993, "Poisson": en1993, "Expansion": en1993,
			"Conductivity": en1993t, "SpecificHeat": en1993t, "Strength": en10025,
		},
	}
	for i, mm := range limits {
		rm := ultimate[0]
		if mm > 100 {
			rm = ultimate[1]
		}
		if mm > 150 {
			rm = ultimate[2]
		}
		m.Strength = append(m.Strength, Strength{Section: mm * 1e-3, Yield: yield[i] * 1e6, Ultimate: rm * 1e6})
	}
	return m
}

// C45E returns quenched and tempered carbon steel C45E (1.1191), for shafts and keys.
func C45E() Metal {
	return Metal{
		Name: "C45E", Density: 7850, Young: 210e9, Poisson: 0.3,
		Conductivity: 50, SpecificHeat: 460, Expansion: 12e-6,
		Strength: []Strength{
			{Section: 0.016, Yield: 490e6, Ultimate: 700e6},
			{Section: 0.040, Yield: 430e6, Ultimate: 650e6},
			{Section: 0.100, Yield: 370e6, Ultimate: 630e6},
		},
		Source: map[string]string{
			"Density": typical, "Young": typical, "Poisson": typical, "Expansion": typical,
			"Conductivity": typical + ": 45 to 54 W/(m·K)", "SpecificHeat": typical, "Strength": en10083c,
		},
	}
}

// CrMo42 returns quenched and tempered alloy steel 42CrMo4 (1.7225), for gears,
// screws and shafts.
func CrMo42() Metal {
	return Metal{
		Name: "42CrMo4", Density: 7840, Young: 210e9, Poisson: 0.3,
		Conductivity: 44, SpecificHeat: 460, Expansion: 12e-6,
		Strength: []Strength{
			{Section: 0.016, Yield: 900e6, Ultimate: 1100e6},
			{Section: 0.040, Yield: 750e6, Ultimate: 1000e6},
			{Section: 0.100, Yield: 650e6, Ultimate: 900e6},
			{Section: 0.160, Yield: 550e6, Ultimate: 800e6},
			{Section: 0.250, Yield: 500e6, Ultimate: 750e6},
		},
		Source: map[string]string{
			"Density": typical, "Young": typical + ": 190 to 210 GPa", "Poisson": typical, "Expansion": typical,
			"Conductivity": typical + ": 42 to 46 W/(m·K)", "SpecificHeat": typical, "Strength": en10083a,
		},
	}
}

// Al6060 returns extruded aluminium EN AW-6060 T66, for profiles and tubes.
func Al6060() Metal {
	return Metal{
		Name: "6060-T66", Density: 2700, Young: 69.5e9, Poisson: 0.33,
		Conductivity: 200, SpecificHeat: 900, Expansion: 23.4e-6,
		Strength: []Strength{
			{Section: 0.003, Yield: 160e6, Ultimate: 215e6},
			{Section: 0.025, Yield: 150e6, Ultimate: 195e6},
		},
		Source: map[string]string{
			"Density": typical, "Young": typical, "Poisson": typical, "Expansion": typical,
			"Conductivity": typical, "SpecificHeat": typical, "Strength": en755,
		},
	}
}

// Metals returns every metal the package knows.
func Metals() []Metal { return []Metal{S235(), S355(), C45E(), CrMo42(), Al6060()} }

// MetalNamed returns the metal of a name, upper or lower case. Another name is
// an error that lists those known.
func MetalNamed(name string) (Metal, error) {
	known := make([]string, 0, 5)
	for _, m := range Metals() {
		if strings.EqualFold(m.Name, name) {
			return m, nil
		}
		known = append(known, m.Name)
	}
	return Metal{}, &input.Word{Name: "material.MetalNamed: name", Value: name, Allowed: strings.Join(known, ", ")}
}
