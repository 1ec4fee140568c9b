package drive

import (
	"math"

	"meltflight/internal/input"
)

// Involute returns tan α − α of a pressure angle of 0 to 1.5 [rad]: the angle from where the
// involute begins on its base circle [rad]. ISO 21771:2007, clause 4 (from
// memory). It keeps its relative accuracy, better than 1e-13, down to 0.
func Involute(angle float64) (float64, error) {
	var f input.Faults
	f.Between("drive.Involute: angle", angle, 0, 1.5, "rad")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return involute(angle), nil
}

// InvoluteAngle returns the pressure angle [rad] whose [Involute] is given, 0 to 12 [rad].
func InvoluteAngle(inv float64) (float64, error) {
	var f input.Faults
	f.Between("drive.InvoluteAngle: involute", inv, 0, 12, "rad")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return involuteAngle(inv), nil
}

func involute(a float64) float64 {
	if a > 0.1 {
		return math.Tan(a) - a
	}
	// Where the difference would cancel, the tangent's series without its first term.
	q := a * a
	return a * q * (1./3 + q*(2./15+q*(17./315+q*(62./2835+q*(1382./155925+q*(21844./6081075+q*929569./638512875))))))
}

// involuteAngle is Newton's method. The involute is convex, so that from a start above the
// angle it falls on it without ever passing it, and from one below by little it is
// above after a step: the first terms of the inverse series up to 1, and above it
// tan α = inv + α < inv + π/2.
func involuteAngle(inv float64) float64 {
	if inv <= 0 {
		return 0
	}
	a := math.Cbrt(3*inv) - 0.4*inv
	if inv > 1 {
		a = math.Atan(inv + math.Pi/2)
	}
	for range 20 {
		tan := math.Tan(a)
		step := (involute(a) - inv) / (tan * tan)
		a -= step
		if math.Abs(step) <= 1e-16*a {
			break
		}
	}
	return a
}
