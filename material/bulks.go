package material

import (
	"math"
	"strings"

	"meltflight/internal/input"
)

// Regrind returns ground PP parts, 4 mm flake.
func Regrind() Bulk {
	return flake("PP regrind flake", 375, typical+": PP regrind 300 to 450 kg/m³, the middle", 4e-3, 905, crawford)
}

// Pellets returns virgin PP pellets.
func Pellets() Bulk {
	return pellets("PP pellets", 535, typical+": PP pellets 500 to 570 kg/m³, the middle", 905, crawford)
}

// Bulks returns every bulk the package knows.
func Bulks() []Bulk {
	const table = "a processor's table of pellets: "
	return []Bulk{
		Regrind(),
		Pellets(),
		flake("HDPE flake", 375, typical+": rigid HDPE flake 300 to 450 kg/m³, the middle", 6e-3, 950, crawford),
		flake("PET bottle flake", 250, "a recycler's specification: at least 250 kg/m³; typical 250 to 450", 8e-3, 1360, crawford),
		fluff("LDPE film fluff", 90, 10e-3, 920, crawford),
		powder("PE powder", 375, 0.5e-3, 940, typical),
		pellets("HDPE pellets", 550, typical+": 500 to 600 kg/m³, the middle", 950, crawford),
		pellets("ABS pellets", 673, table+"42 lb/ft³; others print 580 to 650 kg/m³", 1040, crawford),
		pellets("PET pellets", 833, table+"52 lb/ft³", 1360, crawford),
		pellets("PA6 pellets", 657, table+"41 lb/ft³", 1130, typical),
		pellets("PLA pellets", 775, typical+": 750 to 800 kg/m³, the middle", 1240, typical),
	}
}

// BulkNamed returns the bulk of a name, upper or lower case. Another name is an
// error that lists those known.
func BulkNamed(name string) (Bulk, error) {
	var known []string
	for _, b := range Bulks() {
		if strings.EqualFold(b.Name, name) {
			return b, nil
		}
		known = append(known, b.Name)
	}
	return Bulk{}, &input.Word{Name: "material.BulkNamed: name", Value: name, Allowed: strings.Join(known, ", ")}
}

func pellets(name string, bulk float64, bulkSource string, solid float64, solidSource string) Bulk {
	b := friction(Bulk{Name: name, Shape: "pellets", BulkDensity: bulk, ParticleSize: 4e-3, SolidDensity: solid},
		[4]float64{31, 32, 16, 0.4},
		[4]string{": 28 to 35°", ": 30 to 36°", ": 12 to 20°", ": 0.3 to 0.5"})
	b.Source["BulkDensity"], b.Source["ParticleSize"], b.Source["SolidDensity"] = bulkSource, typical, solidSource
	return b
}

func flake(name string, bulk float64, bulkSource string, size, solid float64, solidSource string) Bulk {
	b := friction(Bulk{Name: name, Shape: "flake", BulkDensity: bulk, ParticleSize: size, SolidDensity: solid},
		[4]float64{44, 40, 23, 0.35},
		[4]string{": 38 to 50°", ": 35 to 45°", ": 18 to 28°", ""})
	b.Source["BulkDensity"], b.Source["SolidDensity"] = bulkSource, solidSource
	b.Source["ParticleSize"] = typical + ": the usual granulator screen"
	return b
}

// fluff has no angles: shredded film hangs together, and a heap of it says nothing.
func fluff(name string, bulk, size, solid float64, solidSource string) Bulk {
	return Bulk{Name: name, Shape: "fluff", BulkDensity: bulk, ParticleSize: size, SolidDensity: solid,
		Source: map[string]string{"BulkDensity": typical + ": 30 to 150 kg/m³, the middle", "ParticleSize": typical, "SolidDensity": solidSource}}
}

func powder(name string, bulk, size, solid float64, solidSource string) Bulk {
	b := friction(Bulk{Name: name, Shape: "powder", BulkDensity: bulk, ParticleSize: size, SolidDensity: solid},
		[4]float64{40, 38, 0, 0.4},
		[4]string{": 35 to 45°", "", "", ": 0.3 to 0.5"})
	b.Source["BulkDensity"] = typical + ": powder for rotational moulding 330 to 420 kg/m³, the middle"
	b.Source["ParticleSize"], b.Source["SolidDensity"] = typical, solidSource
	return b
}

// friction adds repose, internal and wall friction [°] and the stress ratio [-],
// 0 if unknown, with what their source adds to "typical".
func friction(b Bulk, values [4]float64, spread [4]string) Bulk {
	b.Source = map[string]string{}
	const degree = math.Pi / 180
	for i, field := range [...]*float64{&b.Repose, &b.InternalFriction, &b.WallFriction, &b.StressRatio} {
		if values[i] == 0 {
			continue
		}
		*field = values[i]
		if i < 3 {
			*field *= degree
		}
		b.Source[[...]string{"Repose", "InternalFriction", "WallFriction", "StressRatio"}[i]] = typical + spread[i]
	}
	return b
}
