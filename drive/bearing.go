package drive

import (
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// Exponents of the life equation (ISO 281).
const (
	Ball   = 3.0
	Roller = 10.0 / 3
)

// Bearing is a rolling bearing as its catalogue rates it.
type Bearing struct {
	Dynamic  float64 // C, dynamic load rating, 1 to 1e9 [N]
	Static   float64 // C₀, static load rating, 1 to 1e9 [N]
	Exponent float64 // Ball or Roller; 3 to 10/3 [-]
}

// BearingLife is how long a bearing lasts under a load.
type BearingLife struct {
	Revolutions  float64  // reached with the reliability asked [-]
	Seconds      float64  // turning without pause [s]
	StaticSafety float64  // C₀ ÷ load [-]
	Beyond       []string // in words, how the range of the standard is left; nil inside it
}

// Validate reports the fields out of range.
func (b Bearing) Validate() error {
	var f input.Faults
	b.check(&f)
	return f.Err()
}

func (b Bearing) check(f *input.Faults) {
	f.Between("drive.Bearing.Dynamic", b.Dynamic, 1, 1e9, "N")
	f.Between("drive.Bearing.Static", b.Static, 1, 1e9, "N")
	f.Between("drive.Bearing.Exponent", b.Exponent, Ball, Roller, "")
}

const leastLoad, mostLoad, slowest, mostReliable = 1e-3, 1e9, 1e-6, 0.9995

// Life returns the life reached with a reliability, 0.9 to 0.9995 [-], under a
// steady equivalent load, 1e-3 to 1e9 [N], at a speed, 1e-6 to 1e4 [rev/s]:
//
//	L = a₁·(C/P)^p million revolutions,  a₁ = 0.05 + 0.95·(ln(1/S)/ln(1/0.9))^(2/3)
//
// ISO 281:2007, basic rating life; the expression for a₁, a three-parameter Weibull
// distribution, gives the standard's table to its rounding (from memory). The edition
// of 1990 had less, 0.21 for 99 % where this has 0.25. Lubrication, dirt and heat are
// not counted (that would be a_ISO). A load above C/2 or C₀ is beyond the standard and
// says so in the result. For a screw's thrust bearing the load is the whole thrust; for
// the static safety it is taken as the static equivalent load.
func (b Bearing) Life(load, speed, reliability float64) (BearingLife, error) {
	var f input.Faults
	b.check(&f)
	f.Between("drive.Bearing.Life: load", load, leastLoad, mostLoad, "N")
	f.Between("drive.Bearing.Life: speed", speed, slowest, highestSpeed, "rev/s")
	f.Between("drive.Bearing.Life: reliability", reliability, 0.9, mostReliable, "")
	if err := f.Err(); err != nil {
		return BearingLife{}, err
	}
	turns := 1e6 * lifeFactor(reliability) * ratingPower(b.Dynamic/load, b.Exponent)
	l := BearingLife{Revolutions: turns, Seconds: turns / speed, StaticSafety: b.Static / load}
	switch {
	case load > b.Static:
		l.Beyond = []string{"load above the static rating: races may be dented and the life not reached"}
	case load > b.Dynamic/2:
		l.Beyond = []string{"load above half the dynamic rating, where ISO 281 no longer holds"}
	}
	return l, nil
}

// RequiredRating returns the dynamic load rating [N] with which a bearing of an
// exponent, Ball to Roller [-], reaches a wanted life, 1 to 1e10 [s], with a
// reliability, under a load and at a speed as in [Bearing.Life]: its inverse, but at
// least twice the load, since ISO 281 does not hold above half the rating.
func RequiredRating(load, speed, reliability, wanted, exponent float64) (float64, error) {
	var f input.Faults
	checkWanted(&f, "drive.RequiredRating: ", load, speed, reliability, wanted)
	f.Between("drive.RequiredRating: exponent", exponent, Ball, Roller, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return requiredRating(load, speed, reliability, wanted, exponent), nil
}

// Utilisations compares the dynamic rating that a wanted life, 1 to 1e10 [s],
// requires, as told by [RequiredRating], with the bearing's, and the load with the static rating. Load, speed and
// reliability are as in Life.
func (b Bearing) Utilisations(load, speed, reliability, wanted float64) ([2]material.Utilisation, error) {
	var f input.Faults
	b.check(&f)
	checkWanted(&f, "drive.Bearing.Utilisations: ", load, speed, reliability, wanted)
	if err := f.Err(); err != nil {
		return [2]material.Utilisation{}, err
	}
	return [2]material.Utilisation{
		{
			Part: "bearing life", Demand: requiredRating(load, speed, reliability, wanted, b.Exponent),
			Capacity: b.Dynamic, Unit: "N", Method: "ISO 281 basic rating life, load at most half the rating",
		},
		{Part: "bearing static load", Demand: load, Capacity: b.Static, Unit: "N", Method: "ISO 76 static rating"},
	}, nil
}

func checkWanted(f *input.Faults, owner string, load, speed, reliability, wanted float64) {
	between(f, owner, "load", load, leastLoad, mostLoad, "N")
	between(f, owner, "speed", speed, slowest, highestSpeed, "rev/s")
	between(f, owner, "reliability", reliability, 0.9, mostReliable, "")
	between(f, owner, "wanted life", wanted, 1, 1e10, "s")
}

// between puts a name together only once the value is refused.
func between(f *input.Faults, owner, name string, value, lo, hi float64, unit string) {
	if !(value >= lo && value <= hi) {
		f.Between(owner+name, value, lo, hi, unit)
	}
}

func requiredRating(load, speed, reliability, wanted, exponent float64) float64 {
	return load * max(2, math.Pow(wanted*speed/(1e6*lifeFactor(reliability)), 1/exponent))
}

const tenth = 0.10536051565782630 // ln(1/0.9)

// lifeFactor is 1 at 90 %.
func lifeFactor(reliability float64) float64 {
	c := math.Cbrt(-math.Log(reliability) / tenth)
	return 0.05 + 0.95*c*c
}

func ratingPower(ratio, exponent float64) float64 {
	if exponent == Ball {
		return ratio * ratio * ratio
	}
	return math.Pow(ratio, exponent)
}
