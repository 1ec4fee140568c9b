package drive

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// ReliabilityTable is an edition of ISO 281 by its table of a₁.
type ReliabilityTable int

const (
	ISO281of2007 ReliabilityTable = iota // 0.64 at 95 %, 0.25 at 99 %
	ISO281of1990                         // 0.62 at 95 %, 0.21 at 99 %
)

// String names the edition.
func (t ReliabilityTable) String() string {
	if t < ISO281of2007 || t > ISO281of1990 {
		return fmt.Sprintf("ReliabilityTable(%d)", int(t))
	}
	return [...]string{"ISO 281:2007", "ISO 281:1990"}[t]
}

// ReliabilityFactor returns a₁ [-], the life reached with a reliability ÷ that reached with
// 90 %, by an edition of ISO 281: of 2007 for 0.9 to 0.9995 [-],
//
//	a₁ = 0.05 + 0.95·(ln(1/S)/ln(1/0.9))^(2/3)
//
// and of 1990 for 0.9 to 0.99, the power alone. Both give the edition's table to its
// rounding (from memory). [Bearing.Life] uses 2007; a rating sized by one edition and
// checked by the other is out by up to 19 % in life.
func ReliabilityFactor(reliability float64, table ReliabilityTable) (float64, error) {
	var f input.Faults
	most := mostReliable
	if table == ISO281of1990 {
		most = 0.99
	}
	f.Count("drive.ReliabilityFactor: table", int(table), int(ISO281of2007), int(ISO281of1990))
	f.Between("drive.ReliabilityFactor: reliability", reliability, 0.9, most, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	if table == ISO281of1990 {
		c := math.Cbrt(-math.Log(reliability) / tenth)
		return c * c, nil
	}
	return lifeFactor(reliability), nil
}

// LifeSpread is how the lives of like bearings under like load scatter: a three-parameter
// Weibull distribution of life ÷ rating life.
//
//	R = exp(−((x − Least)/Scale)^Slope),  1 below Least
type LifeSpread struct {
	Least float64 // life that every bearing reaches, 0 to 1 [-]
	Scale float64 // characteristic life − Least, 0.1 to 100 [-]
	Slope float64 // 0.5 to 10 [-]
}

// ManufacturerSpread returns the Weibull parameters 0.02, 4.439, 1.483 of Shigley's
// Mechanical Engineering Design, 9th ed. (2011), Table 11-6, manufacturer 2 (from memory).
// At 90 % it is 0.993 and not 1 of the rating life.
func ManufacturerSpread() LifeSpread { return LifeSpread{Least: 0.02, Scale: 4.439, Slope: 1.483} }

// StandardSpread returns the Weibull parameters behind the a₁ of ISO 281:2007: with it,
// Reliability undoes [Bearing.Life].
func StandardSpread() LifeSpread {
	c := math.Cbrt(tenth)
	return LifeSpread{Least: 0.05, Scale: 0.95 / (c * c), Slope: 1.5}
}

// Validate reports the fields out of range.
func (s LifeSpread) Validate() error {
	var f input.Faults
	s.check(&f)
	return f.Err()
}

func (s LifeSpread) check(f *input.Faults) {
	f.Between("drive.LifeSpread.Least", s.Least, 0, 1, "")
	f.Between("drive.LifeSpread.Scale", s.Scale, 0.1, 100, "")
	f.Between("drive.LifeSpread.Slope", s.Slope, 0.5, 10, "")
}

// Rating returns the dynamic rating [N] with which bearings of an exponent, Ball to Roller
// [-], reach a number of revolutions, 1 to 1e14 [-], under a load, 1e-3 to 1e9 [N], with a
// reliability, 0.5 to 0.9999 [-]:
//
//	C = P·(x/(Least + Scale·ln(1/R)^(1/Slope)))^(1/p),  x = revolutions/1e6
//
// Shigley's Mechanical Engineering Design, 9th ed. (2011), eq. 11-6 (from memory), whose
// examples take 1 − R for ln(1/R). The load is to hold the book's application factor.
// Unlike [RequiredRating] it does not ask for twice the load.
func (s LifeSpread) Rating(load, revolutions, reliability, exponent float64) (float64, error) {
	var f input.Faults
	s.check(&f)
	checkSpread(&f, "drive.LifeSpread.Rating: ", load, revolutions, exponent)
	f.Between("drive.LifeSpread.Rating: reliability", reliability, 0.5, 0.9999, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	x := s.Least + s.Scale*math.Pow(-math.Log(reliability), 1/s.Slope)
	return load * math.Pow(revolutions/1e6/x, 1/exponent), nil
}

// Reliability returns the share of bearings [-] of a dynamic rating, 1 to 1e9 [N], that
// reach a number of revolutions under a load, all as in Rating, whose inverse it is
// (the same, section 11-5, from memory).
func (s LifeSpread) Reliability(load, rating, revolutions, exponent float64) (float64, error) {
	var f input.Faults
	s.check(&f)
	checkSpread(&f, "drive.LifeSpread.Reliability: ", load, revolutions, exponent)
	f.Between("drive.LifeSpread.Reliability: rating", rating, 1, 1e9, "N")
	if err := f.Err(); err != nil {
		return 0, err
	}
	x := revolutions / 1e6 * ratingPower(load/rating, exponent)
	return math.Exp(-math.Pow(max(0, x-s.Least)/s.Scale, s.Slope)), nil
}

func checkSpread(f *input.Faults, owner string, load, revolutions, exponent float64) {
	between(f, owner, "load", load, leastLoad, mostLoad, "N")
	between(f, owner, "revolutions", revolutions, 1, 1e14, "")
	between(f, owner, "exponent", exponent, Ball, Roller, "")
}

// Weibull slopes for the life of several bearings together (ISO 281, from memory).
const (
	BallSlope   = 10.0 / 9
	RollerSlope = 9.0 / 8
)

// SystemLife returns the life that 1 to 1000 bearings reach all together with the
// reliability with which each reaches its own, 1e-6 to 1e30 [s, h or revolutions of one
// shaft, as given]:
//
//	L = (Σ L_i^−e)^(−1/e)
//
// for a Weibull slope e, 1 to 10 [-], [BallSlope], [RollerSlope] or the 1.5 of a₁. It is
// the product of the bearings' reliabilities where all scatter alike, from no life at
// all on (A. Palmgren, Ball and Roller Bearing Engineering, 3rd ed. (1959), from memory).
func SystemLife(lives []float64, slope float64) (float64, error) {
	var f input.Faults
	f.Count("drive.SystemLife: lives", len(lives), 1, 1000)
	f.Between("drive.SystemLife: slope", slope, 1, 10, "")
	least := math.Inf(1)
	for i, l := range lives {
		if !(l >= 1e-6 && l <= 1e30) {
			f.Between(fmt.Sprintf("drive.SystemLife: life %d", i+1), l, 1e-6, 1e30, "")
		}
		least = min(least, l)
	}
	if err := f.Err(); err != nil {
		return 0, err
	}
	sum := 0.0
	for _, l := range lives {
		sum += math.Pow(least/l, slope)
	}
	return least * math.Pow(sum, -1/slope), nil
}
