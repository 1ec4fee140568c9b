package drive

import "math"

// A torque has a meaning only with the current it is stated at, and catalogues state
// that in three ways. With K the torque constant per amplitude, Stepper takes the first:
//
//	sinusoidal phases, I rms           √2·K·I   what a driver set in rms amperes gives
//	both phases on, direct current I   √2·K·I   the same number: a full-step rating
//	sinusoidal phases of peak I, or
//	one phase on, direct current I        K·I   √2 less; state HoldingTorque at I/√2

// RMS returns the rms current of a sinusoidal phase with an amplitude [A].
func RMS(peak float64) float64 { return peak / math.Sqrt2 }

// Peak returns the amplitude of a sinusoidal phase current with an rms value [A].
func Peak(rms float64) float64 { return math.Sqrt2 * rms }

// holding returns the torque at standstill and a current, rms in each phase [N·m].
func (s Stepper) holding(current float64) float64 { return s.HoldingTorque * (current / s.Current) }

// over says that a current setting is above the rated one.
func (s Stepper) over(current float64) []string {
	if current > s.Current {
		return []string{saturates}
	}
	return nil
}
