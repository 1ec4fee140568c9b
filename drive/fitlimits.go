package drive

import (
	"fmt"

	"meltflight/internal/input"
)

// FitLimits are the deviations of a hole and a shaft from their common nominal
// diameter, as ISO 286 or a drawing gives them, and how rough both are.
type FitLimits struct {
	HoleLower      float64 // -0.01 to 0.01 [m]
	HoleUpper      float64 // HoleLower to 0.01 [m]
	ShaftLower     float64 // -0.01 to 0.01 [m]
	ShaftUpper     float64 // ShaftLower to 0.01 [m]
	HoleRoughness  float64 // mean peak-to-valley height Rz, 0 to 1e-3; 0 for none counted [m]
	ShaftRoughness float64 // as HoleRoughness [m]
}

// Shares of Rz of both surfaces by which pressing flattens them.
const (
	flattenedMost  = 0.8 // DIN 7190:2001
	flattenedLeast = 0.4 // DIN 7190-1:2017
)

// Validate reports the fields out of range.
func (l FitLimits) Validate() error {
	var f input.Faults
	l.check(&f)
	return f.Err()
}

func (l *FitLimits) check(f *input.Faults) {
	f.Between("drive.FitLimits.HoleLower", l.HoleLower, -0.01, 0.01, "m")
	f.Between("drive.FitLimits.HoleUpper", l.HoleUpper, max(-0.01, min(0.01, l.HoleLower)), 0.01, "m")
	f.Between("drive.FitLimits.ShaftLower", l.ShaftLower, -0.01, 0.01, "m")
	f.Between("drive.FitLimits.ShaftUpper", l.ShaftUpper, max(-0.01, min(0.01, l.ShaftLower)), 0.01, "m")
	f.Between("drive.FitLimits.HoleRoughness", l.HoleRoughness, 0, 1e-3, "m")
	f.Between("drive.FitLimits.ShaftRoughness", l.ShaftRoughness, 0, 1e-3, "m")
}

// Interference returns the least and the greatest interference on the diameter that
// the limits leave after pressing [m]. Off the loosest come 0.8 of the sum of both Rz
// (DIN 7190:2001), off the tightest 0.4 (DIN 7190-1:2017, which halved it; both from
// memory), so that the truth lies between. It errs with ErrLoose, telling by how
// much, when the loosest pair has none: such a fit holds nothing that can be relied on.
func (l FitLimits) Interference() (loosest, tightest float64, err error) {
	var f input.Faults
	l.check(&f)
	if err := f.Err(); err != nil {
		return 0, 0, err
	}
	rough := l.HoleRoughness + l.ShaftRoughness
	loosest = l.ShaftLower - l.HoleUpper - flattenedMost*rough
	if loosest < 0 {
		return 0, 0, fmt.Errorf("drive.FitLimits.Interference: %w: %.3g m too little in the loosest pair", ErrLoose, -loosest)
	}
	return loosest, l.ShaftUpper - l.HoleLower - flattenedLeast*rough, nil
}
