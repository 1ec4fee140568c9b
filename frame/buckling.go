package frame

import (
	"math"

	"meltflight/internal/input"
)

// Imperfection factors α of the buckling curves of EN 1993-1-1, Table 6.1 [-].
// Cold-formed tube takes curve c, hot-finished tube curve a, solid bar curve c
// (Table 6.2).
const (
	CurveA0 = 0.13
	CurveA  = 0.21
	CurveB  = 0.34
	CurveC  = 0.49
	CurveD  = 0.76
)

// BucklingReduction returns χ, the part of its yield load that a compressed member
// of steel can bear, above 0 to 1 [-]. slenderness is √(A·fy/Ncr), 0 to 1e9 [-],
// imperfection one of the curves, 0 (Euler's load) to 1 [-]. It errs on arguments out of range.
// Source: EN 1993-1-1:2005, 6.3.1.2, eq. 6.49. It holds for sections that yield
// before their walls dent (classes 1 to 3).
func BucklingReduction(slenderness, imperfection float64) (float64, error) {
	var f input.Faults
	f.Between("frame.BucklingReduction: slenderness", slenderness, 0, 1e9, "")
	f.Between("frame.BucklingReduction: imperfection", imperfection, 0, 1, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	if slenderness <= 0.2 {
		return 1, nil
	}
	phi := 0.5 * (1 + imperfection*(slenderness-0.2) + slenderness*slenderness)
	// φ² − λ² factored; rounding may bring it below zero where both are 1.
	rest := math.Max(0, (phi-slenderness)*(phi+slenderness))
	return math.Min(1, 1/(phi+math.Sqrt(rest))), nil
}
