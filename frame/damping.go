package frame

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/input"
)

// Logarithmic decrements δ of steel structures at small motion [-]: ENV
// 1991-2-4:1995, Annex C, steel bridges. They are decrements, not damping ratios:
// δ = 0.05 is a ratio of 0.8 %, not 5 %. The 2 to 7 % quoted for buildings in an
// earthquake belong to stresses near yield and flatter a machine.
const (
	WeldedDecrement      = 0.02
	TightBoltedDecrement = 0.03 // pre-stressed bolts
	BoltedDecrement      = 0.05 // ordinary bolts
)

// ErrNeverSettles reports that an undamped ringing stays above the ripple allowed.
var ErrNeverSettles = errors.New("ringing never settles")

// DampingRatio returns ζ of a logarithmic decrement δ, the logarithm of the ratio
// of successive peaks, 0 to 100 [-]: ζ = δ/√(4π²+δ²). It errs on other decrements.
func DampingRatio(decrement float64) (float64, error) {
	var f input.Faults
	f.Between("frame.DampingRatio: decrement", decrement, 0, 100, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return decrement / math.Hypot(2*math.Pi, decrement), nil
}

// SettlingTime returns how long a ringing of an amplitude takes to fall to the
// ripple allowed, 0 if it is below from the start [s]: ln(amplitude/ripple)/ζω.
// frequency is 1e-3 to 1e6 [Hz], damping ζ is 0 to 0.3 [-], amplitude 0 to 1e3 [m], ripple 1e-12
// to 1e3 [m]. It errs on arguments out of range, and with [ErrNeverSettles]
// without damping.
func SettlingTime(frequency, damping, amplitude, ripple float64) (float64, error) {
	var f input.Faults
	oscillator(&f, frequency, damping)
	f.Between("frame.SettlingTime: amplitude", amplitude, 0, 1e3, "m")
	f.Between("frame.SettlingTime: ripple", ripple, leastRipple, mostRipple, "m")
	if err := f.Err(); err != nil {
		return 0, err
	}
	if amplitude <= ripple {
		return 0, nil
	}
	if damping < 1e-12 {
		return 0, fmt.Errorf("%w: undamped, the amplitude stays %.3g times the ripple allowed", ErrNeverSettles, amplitude/ripple)
	}
	return math.Log(amplitude/ripple) / (damping * 2 * math.Pi * frequency), nil
}

const (
	leastRipple = 1e-12 // [m]
	mostRipple  = 1e3   // [m]
)

const mostDamping = 0.3 // ratio [-]

// oscillator checks frequency and damping of one mode.
func oscillator(f *input.Faults, frequency, damping float64) {
	f.Between("frame: frequency", frequency, 1e-3, 1e6, "Hz")
	f.Between("frame: damping ratio", damping, 0, mostDamping, "")
}
