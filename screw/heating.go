package screw

import "math"

// Heating says what heat passes between melt and barrel.
type Heating int

const (
	// Isothermal keeps the melt at the temperature that it starts with: the barrel takes
	// what the screw turns to heat.
	Isothermal Heating = iota
	// Adiabatic lets no heat pass: the melt keeps what the screw turns to heat.
	Adiabatic
	// HeldBarrel holds the barrel's bore at the temperature of each zone; heat passes by
	// [FilmCoefficient].
	HeldBarrel
)

// FilmCoefficient returns the heat transfer coefficient from barrel to melt [W/(m²·K)]
//
//	α = 2·√(k·ρ·c·N·i/π)
//
// of a wall that each passing flight wipes clean and on which fresh melt then takes up
// heat by conduction until the next, i flights passing N times a second. It expects a
// valid melt of known conductivity, and a speed [rev/s] and a number of starts above 0.
//
// The theory of penetration (R. Higbie, 1935), applied to extruders by H.
// Janeschitz-Kriegl and J. Schijf, Plastics and Polymers 37 (1969) 523 (from memory).
// Melt that stays on the wall under the clearance makes it less, by up to a half.
func FilmCoefficient(m Melt, speed float64, starts int) float64 {
	return 2 * math.Sqrt(m.Conductivity*m.Density*m.SpecificHeat*speed*float64(starts)/math.Pi)
}
