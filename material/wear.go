package material

import "meltflight/internal/input"

// ThirdsRate returns the wear rate K/(3H) [1/Pa] of a coefficient K as Archard
// defines it, 1e-12 to 1 [-], and a hardness H of the softer body, 1e5 to 1e12
// [Pa], for which see [HardnessPressure].
//
// A rubbed body loses volume V = k·F·s under a force F over a sliding distance s.
// This package means by wear rate that k alone, in m³/(N·m) = 1/Pa; handbooks
// print 1e9 times the number, in mm³/(N·m). What they call the wear coefficient K
// is a pure number, and there are two: k = K/(3H) after J. F. Archard, Contact and
// Rubbing of Flat Surfaces, J. Appl. Phys. 24 (1953) 981, and k = K/H of other
// books, see [PlainRate]. A table's K is worth nothing before its definition is
// known.
func ThirdsRate(coefficient, hardness float64) (float64, error) {
	return wearRate("material.ThirdsRate: coefficient", "material.ThirdsRate: hardness", coefficient, hardness, 3)
}

// PlainRate returns the wear rate K/H [1/Pa] of a coefficient K defined without
// the factor 3, 1e-12 to 1 [-], and a hardness H, 1e5 to 1e12 [Pa].
func PlainRate(coefficient, hardness float64) (float64, error) {
	return wearRate("material.PlainRate: coefficient", "material.PlainRate: hardness", coefficient, hardness, 1)
}

func wearRate(coefficientName, hardnessName string, coefficient, hardness, factor float64) (float64, error) {
	var f input.Faults
	f.Between(coefficientName, coefficient, 1e-12, 1, "")
	f.Between(hardnessName, hardness, 1e5, 1e12, "Pa")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return coefficient / (factor * hardness), nil
}

// WornVolume returns the volume [m³] lost at a wear rate, 1e-25 to 1e-5 [1/Pa],
// under a force, 0 to 1e9 [N], over a sliding distance, 0 to 1e12 [m].
func WornVolume(rate, force, distance float64) (float64, error) {
	var f input.Faults
	f.Between("material.WornVolume: rate", rate, 1e-25, 1e-5, "1/Pa")
	f.Between("material.WornVolume: force", force, 0, 1e9, "N")
	f.Between("material.WornVolume: distance", distance, 0, 1e12, "m")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return rate * force * distance, nil
}

// WornDepth returns the depth [m] lost at a wear rate, 1e-25 to 1e-5 [1/Pa], under
// a mean contact pressure, 0 to 1e11 [Pa], over a sliding distance, 0 to 1e12 [m],
// by a body that rubs all the time over all of its face.
func WornDepth(rate, pressure, distance float64) (float64, error) {
	var f input.Faults
	f.Between("material.WornDepth: rate", rate, 1e-25, 1e-5, "1/Pa")
	f.Between("material.WornDepth: pressure", pressure, 0, 1e11, "Pa")
	f.Between("material.WornDepth: distance", distance, 0, 1e12, "m")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return rate * pressure * distance, nil
}

// WearCoefficient is one measured coefficient of dry sliding.
type WearCoefficient struct {
	Pair        string  // what slides
	Coefficient float64 // K of V = K·F·s/(3H), for ThirdsRate, as reprinted; see WearCoefficients [-]
	Source      string
}

// WearCoefficients returns dry coefficients by rising wear. Of two like pairs
// one may wear ten times as fast as the other: they tell orders of magnitude.
// The reprint's formula has the 3; the first authors' own wear rates and hardnesses, from
// memory, give the same K without it, by which three times as much wears: to be safe
// take PlainRate. Lubrication takes K to 1e-6 and below, grit raises it to 1e-2 and 1e-1.
func WearCoefficients() []WearCoefficient {
	const source = "the usual table of unlubricated sliding, as an encyclopaedia reprints it; experiments as of J. F. Archard " +
		"and W. Hirst, The Wear of Metals under Unlubricated Conditions, Proc. R. Soc. A 236 (1956) 397"
	return []WearCoefficient{
		{"polyethylene", 1.3e-7, source},
		{"PMMA", 7e-6, source},
		{"ferritic stainless steel", 1.7e-5, source},
		{"PTFE", 2.5e-5, source},
		{"copper-beryllium", 3.7e-5, source},
		{"hard tool steel", 1.3e-4, source},
		{"alpha-beta brass", 6e-4, source},
		{"mild steel on mild steel", 7e-3, source},
	}
}

// WearPair is a pair of plastics as gears pair them, run dry in a thrust washer test.
type WearPair struct {
	Body, Counter string
	BodyRate      float64 // wear rate of Body [1/Pa]
	CounterRate   float64 // wear rate of Counter [1/Pa]
	Friction      float64 // [-]
	Source        string
}

// WearPairs returns measured pairs. A gear pair of one and the same plastic
// seizes; of two, the polyamide is the one that wears.
func WearPairs() []WearPair {
	const source = "typical of thrust washer tests after ASTM D3702, as a compounder prints them"
	const unit = 1e-17 // 1e-8 mm³/(N·m) [1/Pa]
	return []WearPair{
		{"POM", "PA66", 26 * unit, 265 * unit, 0.24, source},
		{"POM", "PC", 26 * unit, 82 * unit, 0.47, source},
		{"POM", "PA66-GF30", 122 * unit, 459 * unit, 0.22, source},
		{"POM with PTFE", "PA66", 8 * unit, 22 * unit, 0.10, source},
	}
}
