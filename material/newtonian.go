package material

import "meltflight/internal/input"

// Newtonian is a melt whose viscosity does not depend on anything: the
// handbooks' melt, and a reference for every other law.
type Newtonian struct {
	Eta float64 `json:"viscosity_pa_s"` // viscosity, 1e-4 to 1e9 [Pa·s]
}

// At returns Eta [Pa·s].
func (n Newtonian) At(_, _, _ float64) float64 { return n.Eta }

// Slopes returns zeros.
func (n Newtonian) Slopes(_, _, _ float64) Slopes { return Slopes{} }

// Domain states no limits.
func (n Newtonian) Domain() Domain { return Domain{} }

// Validate reports an Eta out of range.
func (n Newtonian) Validate() error {
	var f input.Faults
	f.Between("material.Newtonian.Eta", n.Eta, 1e-4, 1e9, "Pa·s")
	return f.Err()
}
