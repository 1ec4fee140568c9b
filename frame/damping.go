package frame

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/input"
)

// Logarithmic decrements δ of steel structures at small motion [-]: ENV
// 1991-2-4:1995, Annex C, steel bridges, lattice towers and buildings. They are
// decrements, not damping ratios: δ = 0.05 is a ratio of 0.8 %, not 5 %. The 2 to
// 7 % quoted for buildings in an earthquake belong to stresses near yield and
// flatter a machine.
const (
	WeldedDecrement      = 0.02
	TightBoltedDecrement = 0.03 // pre-stressed bolts; lattice towers too
	BoltedDecrement      = 0.05 // ordinary bolts; the least of buildings too
)

// Damping ratios ζ, not decrements, to expect of a small steel or aluminium machine
// at the motions of its ringing [-]: common practice, no source. Design with the
// lower one, and knock and measure ([DecrementOfPeaks], [DampingOfBandwidth]).
const (
	LeastWeldedRatio = 0.003
	MostWeldedRatio  = 0.01
	LeastBoltedRatio = 0.005
	MostBoltedRatio  = 0.02
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

// Decrement returns the logarithmic decrement of a damping ratio ζ, 0 to 0.99 [-]:
// 2πζ/√(1−ζ²), six times the ratio, for which it is easily mistaken. It errs on
// other ratios.
func Decrement(ratio float64) (float64, error) {
	var f input.Faults
	f.Between("frame.Decrement: damping ratio", ratio, 0, 0.99, "")
	if err := f.Err(); err != nil {
		return 0, err
	}
	return 2 * math.Pi * ratio / math.Sqrt((1-ratio)*(1+ratio)), nil
}

// DecrementOfPeaks returns the logarithmic decrement of a vibration knocked and left
// to itself, from two peaks on the same side, in any one unit, 1 to 1e6 cycles
// apart: the later 1e-100 to 1e100, the first 1 to 1e9 times that; ln(first/later)/cycles
// [-]. It errs on others.
func DecrementOfPeaks(first, later float64, cycles int) (float64, error) {
	var f input.Faults
	f.Between("frame.DecrementOfPeaks: later peak", later, 1e-100, 1e100, "")
	if f.None() {
		f.Between("frame.DecrementOfPeaks: first peak", first, later, 1e9*later, "")
	}
	f.Count("frame.DecrementOfPeaks: cycles", cycles, 1, 1e6)
	if err := f.Err(); err != nil {
		return 0, err
	}
	return math.Log(first/later) / float64(cycles), nil
}

// DampingOfBandwidth returns the damping ratio of a resonance from the two
// frequencies at which a steadily alternating force moves it by 1/√2 of its highest
// deflection, 1e-3 to 1e6, the upper at most 5 times the lower [Hz]. It errs on others.
//
// (f₂−f₁)/(f₂+f₁) for light damping; exactly ζ = sin ½φ, tan φ = (f₂²−f₁²)/(f₂²+f₁²),
// from the half-power points f² = f₀²(1−2ζ²∓2ζ√(1−ζ²)), A. K. Chopra, Dynamics of
// Structures, 3.2, from memory. Of accelerations it holds for light damping only.
func DampingOfBandwidth(lower, upper float64) (float64, error) {
	var f input.Faults
	f.Between("frame.DampingOfBandwidth: lower frequency", lower, leastFrequency, mostFrequency, "Hz")
	if f.None() {
		f.Between("frame.DampingOfBandwidth: upper frequency", upper, lower, 5*lower, "Hz")
	}
	if err := f.Err(); err != nil {
		return 0, err
	}
	return math.Sin(0.5 * math.Atan((upper-lower)*(upper+lower)/(upper*upper+lower*lower))), nil
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

const (
	leastFrequency = 1e-3 // [Hz]
	mostFrequency  = 1e6  // [Hz]
	mostDamping    = 0.3  // ratio [-]
)

// oscillator checks frequency and damping of one mode.
func oscillator(f *input.Faults, frequency, damping float64) {
	f.Between("frame: frequency", frequency, leastFrequency, mostFrequency, "Hz")
	f.Between("frame: damping ratio", damping, 0, mostDamping, "")
}
