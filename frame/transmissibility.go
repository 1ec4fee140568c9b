package frame

import (
	"math"

	"meltflight/internal/input"
)

// Transmissibility returns the motion of a mass on a spring ÷ that of its base shaken
// steadily, or the force that reaches the ground ÷ the one that shakes the mass,
// for a ratio of shaking to undamped natural frequency, 0 to 1e6 [-], and damping
// ratio ζ, 1e-6 to 0.3 [-]. It errs on arguments out of range. It is below 1 above √2.
//
// √((1+(2ζr)²)/((1−r²)²+(2ζr)²)): W. T. Thomson, M. D. Dahleh, Theory of Vibration with
// Applications, 3.6, from memory.
func Transmissibility(ratio, damping float64) (float64, error) {
	if err := shaken("frame.Transmissibility", ratio, damping); err != nil {
		return 0, err
	}
	drag := 2 * damping * ratio
	return math.Hypot(1, drag) / math.Hypot((1-ratio)*(1+ratio), drag), nil
}

// Amplification returns the deflection of a mass on a spring under a steadily
// alternating force ÷ that under the same force at rest, arguments and errors as
// for [Transmissibility]: 1/√((1−r²)²+(2ζr)²), Thomson and Dahleh, 3.1, from memory.
func Amplification(ratio, damping float64) (float64, error) {
	if err := shaken("frame.Amplification", ratio, damping); err != nil {
		return 0, err
	}
	return 1 / math.Hypot((1-ratio)*(1+ratio), 2*damping*ratio), nil
}

func shaken(name string, ratio, damping float64) error {
	var f input.Faults
	if !(ratio >= 0 && ratio <= 1e6) {
		f.Between(name+": frequency ratio", ratio, 0, 1e6, "")
	}
	if !(damping >= 1e-6 && damping <= mostDamping) {
		f.Between(name+": damping ratio", damping, 1e-6, mostDamping, "")
	}
	return f.Err()
}
