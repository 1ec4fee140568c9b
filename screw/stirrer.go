package screw

import (
	"meltflight/internal/input"
	"meltflight/material"
)

// Stirrer is a ring of upright rods turning slowly in a bulk.
type Stirrer struct {
	Rods     int     // 1 to 100
	Diameter float64 // of a rod, 1e-4 to 0.1 [m]
	Depth    float64 // that a rod reaches below the bulk's top, 1e-3 to 10 [m]
	Radius   float64 // from shaft to rod, 1e-3 to 10 [m]
}

// Validate reports the fields out of range.
func (s Stirrer) Validate() error {
	var f input.Faults
	f.Count("screw.Stirrer.Rods", s.Rods, 1, 100)
	f.Between("screw.Stirrer.Diameter", s.Diameter, 1e-4, 0.1, "m")
	f.Between("screw.Stirrer.Depth", s.Depth, 1e-3, 10, "m")
	f.Between("screw.Stirrer.Radius", s.Radius, 1e-3, 10, "m")
	return f.Err()
}

// Torque returns what turns the stirrer in a bulk that flows freely [N·m], at any slow
// speed. It errs on a stirrer or a bulk out of range.
//
// R. Albert et al., Phys. Rev. Lett. 82 (1999) 205: a rod is held back by η ρ g d H²,
// η between 2 and 3 (from memory), here 2.5. Range: rods so far apart that each meets
// bulk at rest. Flake hooks and jams: a drive of ten times this torque that turns back
// when it stalls is usual (common practice, no source).
//
// Caution: such a drive crushes what it catches, and a stalled one starts by itself; a
// bridge is not cleared by hand while it can turn.
func (s Stirrer) Torque(b material.Bulk) (float64, error) {
	var f input.Faults
	f.Add(s.Validate())
	f.Add(b.Validate())
	if err := f.Err(); err != nil {
		return 0, err
	}
	const eta = 2.5
	return float64(s.Rods) * s.Radius * eta * b.BulkDensity * gravity * s.Diameter * s.Depth * s.Depth, nil
}
