package frame

import (
	"errors"
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/internal/root"
)

// ErrRingsAnyhow reports that even the gentlest acceleration may ring more than allowed.
var ErrRingsAnyhow = errors.New("no acceleration keeps the ripple")

// RippleWavelength returns the length along a bead of one wave that a vibration of
// an undamped frequency, 1e-3 to 1e6 [Hz], and damping ratio ζ, 0 to 0.3 [-], draws
// at a speed, 1e-9 to 1e4 [m/s]: v/(f√(1−ζ²)) [m]. Measured on a printed bead it
// tells the frequency. It errs on arguments out of range.
func RippleWavelength(speed, frequency, damping float64) (float64, error) {
	var f input.Faults
	f.Between("frame.RippleWavelength: speed", speed, 1e-9, 1e4, "m/s")
	oscillator(&f, frequency, damping)
	if err := f.Err(); err != nil {
		return 0, err
	}
	return speed / (frequency * math.Sqrt(1-damping*damping)), nil
}

// Allowance is how far a move may be hurried.
type Allowance struct {
	AnyTiming float64 // at and below it the ringing is within the ripple however the move is timed [m/s²]
	// At and below it this move, its distance, speed and jerk kept, stays within the
	// ripple as it is timed. Above it may do so again where ramp and period agree [m/s²].
	Timed  float64
	Beyond []string // in words, where the search for Timed was given up; nil otherwise
}

// Accelerations returns how far the move may be hurried for its ringing in several
// tones, after ramp and move, to keep within a ripple, 1e-12 to 1e3 [m]; no more than
// its own Acceleration is told. It errs on arguments out of range, and with
// [ErrRingsAnyhow] where 1e-6 m/s² is too much.
//
// Ringing.Worst rises with the acceleration and is solved for the ripple. The
// ringing as timed rises and falls: it is followed upwards by steps of at most 1/64
// period of the fastest tone to where it first passes the ripple, and may pass it
// unseen between two steps by some 0.3 % of Worst. It starts where all phases bad, but
// decay and jerk as they are, would ring by the ripple. Where the frequencies are not
// known to a few percent, AnyTiming is the one to trust.
func (m Move) Accelerations(ripple float64, tones ...Tone) (Allowance, error) {
	var f input.Faults
	f.Add(m.Validate())
	f.Between("frame.Move.Accelerations: ripple", ripple, leastRipple, mostRipple, "m")
	validTones(&f, tones)
	if err := f.Err(); err != nil {
		return Allowance{}, err
	}
	at := func(a float64) Ringing {
		trial := m
		trial.Acceleration = a
		return trial.ringingOf(tones)
	}
	worst := func(log float64) float64 { return at(math.Exp(log)).Worst - ripple }
	timed := func(a float64) float64 {
		r := at(a)
		return math.Max(r.AfterRamp, r.AfterMove) - ripple
	}
	const gentlest = 1e-6
	least, most := at(gentlest).Worst-ripple, at(m.Acceleration).Worst-ripple
	if least > 0 {
		return Allowance{}, fmt.Errorf("%w: %g m/s² may ring by %.3g times it", ErrRingsAnyhow, gentlest, 1+least/ripple)
	}
	if most <= 0 {
		return Allowance{AnyTiming: m.Acceleration, Timed: m.Acceleration}, nil
	}
	log, err := root.Between(worst, math.Log(gentlest), least, math.Log(m.Acceleration), most, 1e-14)
	if err != nil {
		return Allowance{}, err
	}
	safe := math.Exp(log)
	out := Allowance{AnyTiming: safe, Timed: safe}
	// The damping and the jerk of this move may let it start higher.
	bound := func(log float64) float64 {
		trial := m
		trial.Acceleration = math.Exp(log)
		return trial.bound(tones) - ripple
	}
	if bound(log) < 0 {
		if bound(math.Log(m.Acceleration)) <= 0 {
			out.Timed = m.Acceleration
			return out, nil
		}
		if log, err = root.Find(bound, log, math.Log(m.Acceleration), 1e-14); err != nil {
			return Allowance{}, err
		}
		out.Timed = math.Exp(log) * (1 - 1e-12)
	}
	fastest := 0.0
	for i := range tones {
		fastest = math.Max(fastest, tones[i].Frequency)
	}
	for steps := 0; out.Timed < m.Acceleration; steps++ {
		if steps == 20000 {
			out.Beyond = []string{fmt.Sprintf("as timed, followed only to %.3g m/s²: more than 150 periods of the fastest tone in a ramp", out.Timed)}
			return out, nil
		}
		trial := m
		trial.Acceleration = out.Timed
		ramp, _ := trial.Times()
		next := math.Min(m.Acceleration, out.Timed*(1+math.Min(0.02, 1/(128*fastest*ramp))))
		if timed(next) > 0 {
			if timed(out.Timed) < 0 {
				if out.Timed, err = root.Find(timed, out.Timed, next, 1e-12); err != nil {
					return Allowance{}, err
				}
			}
			return out, nil
		}
		out.Timed = next
	}
	return out, nil
}

// bound is the ringing of a move whose phases all fall badly, but whose vibrations
// decay while it lasts: it rises with the acceleration.
func (m Move) bound(tones []Tone) (sum float64) {
	t := m.timing()
	for i := range tones {
		omega := 2 * math.Pi * tones[i].Frequency
		pair := func(time float64) float64 { return 1 + math.Exp(-tones[i].Damping*omega*time) }
		b := t.peak / (omega * omega) * pair(t.speed) * pair(t.distance)
		if rise := omega * t.acceleration; rise > 2 {
			b *= 2 / rise
		}
		sum += math.Abs(tones[i].Share) * b / math.Sqrt(1-tones[i].Damping*tones[i].Damping)
	}
	return sum
}
