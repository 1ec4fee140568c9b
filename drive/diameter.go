package drive

import (
	"math"

	"meltflight/internal/input"
)

// ShaftDiameters are the least diameters by each criterion [m]. They may lie outside
// Shaft's own range, and are 0 where nothing loads the shaft.
type ShaftDiameters struct {
	Soderberg float64 // [m]
	Goodman   float64 // [m]
	Gerber    float64 // [m]
	Elliptic  float64 // [m]
	Yield     float64 // against first-cycle yield [m]
}

// Diameters returns the diameters at which Fatigue finds a safety, 0.01 to 1000 [-], by
// each criterion, for the notch factors and endurance limit as given; s.Diameter is not read.
// For moments alone it is, as by R. G. Budynas and J. K. Nisbett, Shigley's Mechanical
// Engineering Design, 9th ed. (2011), eqs. 7-8 to 7-14,
//
//	d = ∛(16n/π·(A/S_e + B/S_ut))   by Goodman, A and B = √(4(K_f·M)² + 3(K_fs·T)²)
//
// and so for the others; with axial load it is found by steps. Since notch sensitivity and
// endurance limit change with size, find them anew at the answer, and go round once or twice.
func (s Shaft) Diameters(l ShaftLoad, safety float64) (ShaftDiameters, error) {
	var f input.Faults
	s.Diameter = 1
	s.check(&f)
	l.check(&f)
	f.Between("drive.Shaft.Diameters: safety", safety, 0.01, 1000, "")
	if err := f.Err(); err != nil {
		return ShaftDiameters{}, err
	}
	return ShaftDiameters{
		Soderberg: s.diameter(l, safety, bySoderberg), Goodman: s.diameter(l, safety, byGoodman), Gerber: s.diameter(l, safety, byGerber),
		Elliptic: s.diameter(l, safety, byElliptic), Yield: s.diameter(l, safety, byYield),
	}, nil
}

// diameter finds where the share of one criterion times the safety is 1. The share falls
// with d⁻³ for moments and d⁻² for forces, so that a step by the cube root never
// oversteps, keeps at most a third of the error, and is all it takes for moments alone.
func (s *Shaft) diameter(l ShaftLoad, safety float64, criterion int) float64 {
	s.Diameter = 1
	for range 60 {
		step := math.Cbrt(safety * s.shares(s.stresses(l))[criterion])
		s.Diameter *= step
		if math.Abs(step-1) < 1e-15 || s.Diameter == 0 {
			break
		}
	}
	return s.Diameter
}
