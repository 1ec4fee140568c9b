package frame

import (
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/internal/root"
)

// Ends says how the two ends of a beam are held. Clamped: neither moves nor
// turns. Pinned: turns, does not move. Guided: moves across, does not turn.
type Ends int

// The ways to hold a beam.
const (
	ClampedFree Ends = iota
	ClampedClamped
	ClampedPinned
	ClampedGuided
	PinnedPinned
	FreeFree
	FreePinned
	GuidedPinned
	GuidedGuided
	GuidedFree
)

var endNames = [...]string{
	"clamped-free", "clamped-clamped", "clamped-pinned", "clamped-guided", "pinned-pinned",
	"free-free", "free-pinned", "guided-pinned", "guided-guided", "guided-free",
}

// String returns a name such as "clamped-free".
func (e Ends) String() string {
	if e < 0 || int(e) >= len(endNames) {
		return fmt.Sprintf("Ends(%d)", int(e))
	}
	return endNames[e]
}

const (
	mostModes    = 1000
	mostAttached = 1e6 // mass ratio up to which the roots keep eleven digits
)

// Eigenvalue returns βL of a uniform Euler-Bernoulli beam [-]: its circular
// frequency is (βL)²·√(EI/ρA)/L². Modes count from 1 to 1000; a free beam's motion
// as a rigid body is not counted. The roots are exact to rounding. It errs on
// other ends and modes.
//
// Equations: R. Blevins, Formulas for Natural Frequency and Mode Shape (1979),
// Table 8-1, here divided by cosh βL, which overflows from the 226th mode.
func Eigenvalue(ends Ends, mode int) (float64, error) {
	var f input.Faults
	f.Count("frame.Eigenvalue: ends", int(ends), 0, len(endNames)-1)
	f.Count("frame.Eigenvalue: mode", mode, 1, mostModes)
	if err := f.Err(); err != nil {
		return 0, err
	}
	// Every bracket runs between multiples of π/2 at which the function is ±1 or
	// nearly so, and holds one root.
	n := float64(mode)
	switch ends {
	case PinnedPinned, GuidedGuided:
		return n * math.Pi, nil
	case GuidedPinned:
		return (n - 0.5) * math.Pi, nil
	case ClampedFree:
		return root.Find(func(b float64) float64 { return math.Cos(b) + 1/math.Cosh(b) }, (n-1)*math.Pi, n*math.Pi, 0)
	case ClampedClamped, FreeFree:
		return root.Find(func(b float64) float64 { return math.Cos(b) - 1/math.Cosh(b) }, n*math.Pi, (n+1)*math.Pi, 0)
	case ClampedPinned, FreePinned:
		return root.Find(func(b float64) float64 { return math.Sin(b) - math.Tanh(b)*math.Cos(b) }, n*math.Pi, (n+0.5)*math.Pi, 0)
	default: // ClampedGuided, GuidedFree
		return root.Find(func(b float64) float64 { return math.Sin(b) + math.Tanh(b)*math.Cos(b) }, (n-0.5)*math.Pi, n*math.Pi, 0)
	}
}

// TipMassEigenvalue returns βL [-] of a beam clamped at one end with a point mass
// at the other; massRatio is that mass ÷ mass of the beam, 0 to 1e6. Modes 1 to
// 1000, exact to eleven digits. It errs on other arguments. Equation:
// 1 + cos b·cosh b + μb(cos b·sinh b − sin b·cosh b) = 0, Blevins (1979), Table 8-8.
func TipMassEigenvalue(massRatio float64, mode int) (float64, error) {
	if err := attached("frame.TipMassEigenvalue", massRatio, mode); err != nil {
		return 0, err
	}
	// The root lies between those of a pinned and of a free tip, both of which
	// are inside the bracket.
	return root.Find(func(b float64) float64 {
		return 1/math.Cosh(b) + math.Cos(b) + massRatio*b*(math.Cos(b)*math.Tanh(b)-math.Sin(b))
	}, float64(mode-1)*math.Pi, float64(mode)*math.Pi, 0)
}

// MidMassEigenvalue returns βL [-] of the modes symmetric about mid-span of a beam
// with a point mass there; ends are PinnedPinned or ClampedClamped, massRatio is
// that mass ÷ mass of the beam, 0 to 1e6. Modes 1 to 1000, exact to eleven digits.
// It errs on other arguments. The antisymmetric modes do not feel the mass.
//
// From half the beam with a guided middle: 2 cos z = μz(sin z − cos z·tanh z) on
// pinned and sin z + cos z·tanh z = μz(sech z − cos z) on clamped ends, z = βL/2. Half of the
// latter βL is that of a column with a clamped foot and a guided, laden head.
func MidMassEigenvalue(ends Ends, massRatio float64, mode int) (float64, error) {
	if ends != PinnedPinned && ends != ClampedClamped {
		var f input.Faults
		f.Refuse("frame.MidMassEigenvalue: ends "+ends.String(), float64(ends), "",
			fmt.Sprintf("%d (%v) or %d (%v)", PinnedPinned, PinnedPinned, ClampedClamped, ClampedClamped))
		f.Add(attached("frame.MidMassEigenvalue", massRatio, mode))
		return 0, f.Err()
	}
	if err := attached("frame.MidMassEigenvalue", massRatio, mode); err != nil {
		return 0, err
	}
	lo, hi := float64(mode-1)*math.Pi, float64(mode)*math.Pi
	var z float64
	var err error
	if ends == PinnedPinned {
		z, err = root.Find(func(z float64) float64 {
			return 2*math.Cos(z) - massRatio*z*(math.Sin(z)-math.Cos(z)*math.Tanh(z))
		}, lo, hi, 0)
	} else {
		// The lower end stays clear of the double root at zero; the heaviest mass
		// allowed has its root at 0.06.
		z, err = root.Find(func(z float64) float64 {
			return math.Sin(z) + math.Cos(z)*math.Tanh(z) - massRatio*z*(1/math.Cosh(z)-math.Cos(z))
		}, math.Max(lo, 0.01), hi, 0)
	}
	return 2 * z, err
}

// attached checks the arguments of a beam with a point mass.
func attached(function string, massRatio float64, mode int) error {
	if massRatio >= 0 && massRatio <= mostAttached && mode >= 1 && mode <= mostModes {
		return nil // before any name is put together, which would allocate
	}
	var f input.Faults
	f.Between(function+": mass ratio", massRatio, 0, mostAttached, "")
	f.Count(function+": mode", mode, 1, mostModes)
	return f.Err()
}
