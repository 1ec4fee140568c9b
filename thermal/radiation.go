package thermal

import "meltflight/internal/input"

// StefanBoltzmann is the constant of black radiation, exact to the digits given
// since the SI of 2019 (CODATA 2018) [W/(m²·K⁴)].
const StefanBoltzmann = 5.670374419e-8

// radiated is the heat of a square metre [W/m²], in a form that keeps its digits
// where both temperatures are near.
func radiated(emissivity, surface, surroundings float64) float64 {
	return radiationCoefficient(emissivity, surface, surroundings) * (surface - surroundings)
}

func radiationCoefficient(emissivity, a, b float64) float64 {
	return emissivity * StefanBoltzmann * (a + b) * (a*a + b*b)
}

// RadiationCoefficient returns h of radiation, ε·σ·(T+Ts)·(T²+Ts²) [W/(m²·K)], by
// which the difference of surface and surroundings [K], each 200 to 1200, is
// multiplied. With surroundings that close around the surface the emissivity is
// the surface's own, 0 to 1 [-]; between two faces it is that of [BetweenPlates].
// A polished metal has about 0.05, oxidised or painted 0.8 to 0.95 (typical, from
// memory). It is exact for grey surfaces.
//
// Source: Çengel and Ghajar, 5th ed., ch. 3 and 12.
func RadiationCoefficient(emissivity, surface, surroundings float64) (float64, error) {
	var f input.Faults
	f.Between("thermal.RadiationCoefficient: emissivity", emissivity, 0, 1, "")
	f.Between("thermal.RadiationCoefficient: surface", surface, lowestTemperature, hottestSurface, "K")
	f.Between("thermal.RadiationCoefficient: surroundings", surroundings, lowestTemperature, hottestSurface, "K")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return radiationCoefficient(emissivity, surface, surroundings), nil
}

// BetweenPlates returns the emissivity [-] of a pair of wide faces a small gap
// apart, or of a cylinder in another: 1/(1/ε₁ + (A₁/A₂)·(1/ε₂ − 1)), by the area of
// the first. Emissivities 1e-3 to 1, ratio of areas A₁/A₂ 0 to 1: 1 of plates, the
// ratio of diameters of long cylinders, 0 of surroundings out of all measure.
// Exact for grey faces that radiate evenly.
//
// Source: Çengel and Ghajar, 5th ed., table 13-3 (number of the table from memory).
func BetweenPlates(first, second, areas float64) (float64, error) {
	var f input.Faults
	f.Between("thermal.BetweenPlates: first", first, 1e-3, 1, "")
	f.Between("thermal.BetweenPlates: second", second, 1e-3, 1, "")
	f.Between("thermal.BetweenPlates: areas", areas, 0, 1, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return 1 / (1/first + areas*(1/second-1)), nil
}

// CavityEmissivity returns the emissivity [-] of an opening into a cavity whose
// walls have one temperature, by the area of the opening: 1/(1 + (Ao/Aw)·(1/ε − 1)),
// with the emissivity of the walls 1e-3 to 1 [-] and opening over wall area 0 to 1
// [-]. The gap between two fins is such a cavity, and radiates as its opening, not
// as its walls. It takes the walls to be lit evenly, which is a few percent off in deep
// cavities (from memory).
//
// Source: the two-surface enclosure with a black second surface, Çengel and
// Ghajar, 5th ed., ch. 13.
func CavityEmissivity(wall, opening float64) (float64, error) {
	var f input.Faults
	f.Between("thermal.CavityEmissivity: wall", wall, 1e-3, 1, "")
	f.Between("thermal.CavityEmissivity: opening", opening, 0, 1, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return cavityEmissivity(wall, opening), nil
}

func cavityEmissivity(wall, opening float64) float64 {
	return wall / (wall + opening*(1-wall))
}
