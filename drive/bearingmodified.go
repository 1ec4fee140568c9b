package drive

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// BearingKind is what rolls in a bearing and which way it bears.
type BearingKind int

const (
	RadialBall BearingKind = iota // deep groove, angular contact up to 45°
	RadialRoller
	ThrustBall
	ThrustRoller
)

// String names the kind.
func (k BearingKind) String() string {
	if k < RadialBall || k > ThrustRoller {
		return fmt.Sprintf("BearingKind(%d)", int(k))
	}
	return [...]string{"radial ball", "radial roller", "thrust ball", "thrust roller"}[k]
}

// BearingFilm is what a bearing runs in. Of bearings below 100 mm mean diameter ISO 281:2007
// (from memory) counts those sealed and greased for life as e_C 0.5 to 0.6, unsealed ones
// with wear and some dirt as 0.1 to 0.3, with much of it as 0 to 0.1.
type BearingFilm struct {
	Kind           BearingKind
	ViscosityRatio float64 // κ = ν/ν₁, 0.1 to 1e4; counted as 4 above [-]
	Cleanliness    float64 // e_C, 0 filthy to 1 as clean as a laboratory [-]
	FatigueLimit   float64 // C_u of the catalogue, 1e-3 to 1e9 [N]
}

// Factor returns the life modification factor a_ISO [-], 0.1 to 50, under an equivalent
// load, 1e-3 to 1e9 [N]:
//
//	radial ball    a = 0.1·(1 − c^0.83·(e_C·C_u/P)^(1/3))^−9.3
//	               c = 2.5671 − {2.2649/κ^0.054381, 1.9987/κ^0.19087, 1.9987/κ^0.071739}
//	radial roller  a = 0.1·(1 − c·(e_C·C_u/P)^0.4)^−9.185
//	               c = 1.5859 − {1.3993/κ^0.054381, 1.2348/κ^0.19087, 1.2348/κ^0.071739}
//
// for κ from 0.1, 0.4 and 1; thrust balls with 3P, thrust rollers with 2.5P for P. ISO
// 281:2007, equations 31 to 42 (from memory). Where the bracket ends the load is below
// the fatigue limit and 50, the standard's limit, is returned; the standard gives nothing
// below κ = 0.1. Additives are not counted. A screw turns slowly: κ of its thrust bearing is
// mostly below 1 in any grease, and the factor below 1 with it.
func (b BearingFilm) Factor(load float64) (float64, error) {
	var f input.Faults
	b.check(&f)
	f.Between("drive.BearingFilm.Factor: load", load, leastLoad, mostLoad, "N")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return b.factor(load), nil
}

// Validate reports the fields out of range.
func (b BearingFilm) Validate() error {
	var f input.Faults
	b.check(&f)
	return f.Err()
}

func (b BearingFilm) check(f *input.Faults) {
	f.Count("drive.BearingFilm.Kind", int(b.Kind), int(RadialBall), int(ThrustRoller))
	f.Between("drive.BearingFilm.ViscosityRatio", b.ViscosityRatio, 0.1, 1e4, "")
	f.Between("drive.BearingFilm.Cleanliness", b.Cleanliness, 0, 1, "")
	f.Between("drive.BearingFilm.FatigueLimit", b.FatigueLimit, leastLoad, mostLoad, "N")
}

func (b BearingFilm) factor(load float64) float64 {
	kappa := min(b.ViscosityRatio, 4)
	slope, boundary := 0.071739, false
	switch {
	case kappa < 0.4:
		slope, boundary = 0.054381, true
	case kappa < 1:
		slope = 0.19087
	}
	power := math.Pow(kappa, -slope)
	share := b.Cleanliness * b.FatigueLimit / load
	switch b.Kind {
	case ThrustBall:
		share /= 3
	case ThrustRoller:
		share /= 2.5
	}
	if b.Kind == RadialBall || b.Kind == ThrustBall {
		k := 1.9987
		if boundary {
			k = 2.2649
		}
		return stretched(math.Pow(max(0, 2.5671-k*power), 0.83)*math.Cbrt(share), 9.3)
	}
	k := 1.2348
	if boundary {
		k = 1.3993
	}
	return stretched(max(0, 1.5859-k*power)*math.Pow(share, 0.4), 9.185)
}

func stretched(taken, exponent float64) float64 {
	if taken >= 1 {
		return 50
	}
	return min(50, 0.1*math.Pow(1-taken, -exponent))
}

// ModifiedLife returns the life as [Bearing.Life] does, times a_ISO of the film: L =
// a₁·a_ISO·(C/P)^p (ISO 281:2007, from memory). Balls belong to a bearing of exponent
// [Ball], rollers to one of [Roller]. How long grease lasts is another matter and not
// told here; it may well end first.
func (b Bearing) ModifiedLife(load, speed, reliability float64, film BearingFilm) (BearingLife, error) {
	var f input.Faults
	film.check(&f)
	l, err := b.Life(load, speed, reliability)
	f.Add(err)
	if err := f.Err(); err != nil {
		return BearingLife{}, err
	}
	a := film.factor(load)
	l.Revolutions *= a
	l.Seconds *= a
	return l, nil
}

// ReferenceViscosity returns ν₁ [m²/s], the kinematic viscosity at running temperature that
// parts the surfaces of a bearing of a mean diameter, 1e-3 to 10 [m], halfway between bore
// and outside, at a speed, 1e-3 to 1e4 [rev/s]:
//
//	ν₁ = 45000·n^−0.83·D^−0.5 below 1000 rpm, 4500·n^−0.5·D^−0.5 from there on
//
// in mm²/s with n in rpm and D in mm: ISO 281:2007, equations 28 and 29 (from memory). The
// two differ by 2 % where they meet. κ is the oil's viscosity, of a grease its base oil's,
// divided by it.
func ReferenceViscosity(diameter, speed float64) (float64, error) {
	var f input.Faults
	f.Between("drive.ReferenceViscosity: diameter", diameter, 1e-3, 10, "m")
	f.Between("drive.ReferenceViscosity: speed", speed, 1e-3, highestSpeed, "rev/s")
	if err := f.Err(); err != nil {
		return 0, err
	}
	root, rpm := math.Sqrt(diameter*1e3), speed*60
	if rpm < 1000 {
		return 45000e-6 * math.Pow(rpm, -0.83) / root, nil
	}
	return 4500e-6 / (math.Sqrt(rpm) * root), nil
}
