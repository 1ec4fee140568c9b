package drive

import (
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// End-condition constants of a Column: R. G. Budynas and J. K. Nisbett, Shigley's
// Mechanical Engineering Design, 9th ed. (2011), Table 4-2 (from memory). For the last two
// 1.2 is recommended in place of theory, since no bearing holds like a wall.
const (
	FixedFree    = 0.25 // a shaft that one end alone holds
	PinnedPinned = 1.0  // bearings that let both ends tilt
	FixedPinned  = 2.0  // theory
	FixedFixed   = 4.0  // theory
)

// Column is an even round shaft under thrust that may bend out.
type Column struct {
	Diameter float64 // 1e-4 to 10 [m]
	Bore     float64 // 0, for a solid one, to 0.99 of Diameter [m]
	Length   float64 // between what holds its ends, 1e-5 to 100 [m]
	Ends     float64 // end-condition constant, FixedFree to FixedFixed [-]
	Modulus  float64 // of elasticity, 1e8 to 1e13 [Pa]
	Yield    float64 // yield strength in compression, 1e5 to 1e10 and a tenth of Modulus [Pa]
}

// Buckling is what a Column bears.
type Buckling struct {
	Critical    float64  // thrust at which it bends out, or yields [N]
	Slenderness float64  // length by radius of gyration [-]
	Transition  float64  // slenderness at which half the yield strength is critical [-]
	Beyond      []string // outside the range of the theory, in words
}

// Euler reports that the column buckles elastically, and Johnson's parabola is not used.
func (b Buckling) Euler() bool { return b.Slenderness > b.Transition }

// Utilisation compares a thrust [N] with the critical one.
func (b Buckling) Utilisation(thrust float64) material.Utilisation {
	method := "Johnson's parabola"
	if b.Euler() {
		method = "Euler"
	}
	return material.Utilisation{Part: "shaft buckling", Demand: thrust, Capacity: b.Critical, Unit: "N", Method: method}
}

// Validate reports every field out of range.
func (c Column) Validate() error {
	var f input.Faults
	c.check(&f)
	return f.Err()
}

// Buckling returns the critical thrust in the middle of the section, by Euler for a
// slender column and by Johnson's parabola for others (Shigley's, 9th ed., eqs. 4-43 to 4-46):
//
//	P = C·π²E·A/λ²                 λ = l/k > λ₁ = √(2π²CE/S_y)
//	P = A·(S_y − (S_y·λ/2π)²/CE)   below
//
// A shaft out of line, or bent by a load across it, bears less: the safety has to be large.
// A torque takes little as long as it is far below 2π·EI/l (A. G. Greenhill; from memory).
func (c Column) Buckling() (Buckling, error) {
	var f input.Faults
	c.check(&f)
	if err := f.Err(); err != nil {
		return Buckling{}, err
	}
	area := math.Pi / 4 * (c.Diameter - c.Bore) * (c.Diameter + c.Bore)
	b := Buckling{
		Slenderness: 4 * c.Length / math.Hypot(c.Diameter, c.Bore),
		Transition:  math.Pi * math.Sqrt(2*c.Ends*c.Modulus/c.Yield),
	}
	if b.Euler() {
		b.Critical = area * c.Ends * c.Modulus * square(math.Pi/b.Slenderness)
	} else {
		b.Critical = area * c.Yield * (1 - square(b.Slenderness/b.Transition)/2)
	}
	if b.Slenderness > 1e3 {
		b.Beyond = []string{fmt.Sprintf("slenderness %.4g, above 1000: its own weight and bow decide", b.Slenderness)}
	}
	return b, nil
}

// DiameterFor returns the least diameter at which the column, its Diameter not read and
// solid whatever its Bore, has a thrust, 1e-6 to 1e10 [N], for its critical one [m]; it may lie
// outside Column's own range. By Euler d⁴ = 64Pl²/(π³CE), by Johnson d² = 4P/(πS_y) + 4S_y·l²/(π²CE).
func (c Column) DiameterFor(thrust float64) (float64, error) {
	var f input.Faults
	c.Diameter, c.Bore = 1, 0
	c.check(&f)
	f.Between("drive.Column.DiameterFor: thrust", thrust, 1e-6, 1e10, "N")
	if err := f.Err(); err != nil {
		return 0, err
	}
	euler := math.Sqrt(math.Sqrt(64*thrust/(c.Ends*c.Modulus*math.Pi)) * c.Length / math.Pi)
	if 4*c.Length/euler > math.Pi*math.Sqrt(2*c.Ends*c.Modulus/c.Yield) {
		return euler, nil
	}
	return 2 * math.Sqrt(thrust/(math.Pi*c.Yield)+c.Yield/(c.Ends*c.Modulus)*square(c.Length/math.Pi)), nil
}

func (c *Column) check(f *input.Faults) {
	f.Between("drive.Column.Diameter", c.Diameter, 1e-4, 10, "m")
	f.Between("drive.Column.Bore", c.Bore, 0, 0.99*max(1e-4, min(c.Diameter, 10)), "m")
	f.Between("drive.Column.Length", c.Length, 1e-5, 100, "m")
	f.Between("drive.Column.Ends", c.Ends, FixedFree, FixedFixed, "")
	f.Between("drive.Column.Modulus", c.Modulus, 1e8, 1e13, "Pa")
	f.Between("drive.Column.Yield", c.Yield, 1e5, max(1e5, min(1e10, c.Modulus/10)), "Pa")
}
