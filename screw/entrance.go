package screw

import "meltflight/internal/input"

// Entrance is what a melt loses where it enters a round hole and leaves it, told as the
// length of hole that would cost as much, in diameters: material.Bagley measures it,
// and its EndLoss.Diameters() is the figure asked for. It grows with the wall stress;
// half a diameter to five (one radius to ten), common practice, no source. Without a
// measurement there is no better figure.
//
// E. B. Bagley, J. Appl. Phys. 28 (1957) 624, from memory.
type Entrance struct {
	Diameter  float64 // of the hole that follows, 1e-5 to 1 [m]
	Diameters float64 // 0.01 to 100 [-]
}

// Validate reports fields out of range.
func (e Entrance) Validate() error {
	var f input.Faults
	f.Between("screw.Entrance.Diameter", e.Diameter, 1e-5, 1, "m")
	f.Between("screw.Entrance.Diameters", e.Diameters, 0.01, 100, "")
	return f.Err()
}

// PressureDrop returns 4Nτ, τ being the stress at the hole's wall [Pa].
func (e Entrance) PressureDrop(m Melt, flow float64) float64 {
	_, stress := e.WallShear(m, flow)
	return 4 * e.Diameters * stress
}

// WallShear returns that of the hole [1/s], [Pa].
func (e Entrance) WallShear(m Melt, flow float64) (rate, stress float64) {
	return Capillary{Diameter: e.Diameter}.WallShear(m, flow)
}

// ViscousHeating returns zeros: an entrance has no walls.
func (e Entrance) ViscousHeating(Melt, float64) (nahme, graetz float64) { return 0, 0 }

// Volume returns 0 [m³].
func (e Entrance) Volume() float64 { return 0 }
