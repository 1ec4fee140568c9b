package frame

import (
	"math"

	"meltflight/internal/input"
	"meltflight/material"
)

// Move is a straight move from rest to rest: acceleration, cruise, deceleration.
// With a jerk limit the acceleration rises and falls evenly (the S-curve of seven
// pieces), without one it is there at once (the trapezoid of speed).
type Move struct {
	Distance     float64 // 1e-9 to 1e4 [m]
	Speed        float64 // of the cruise, not reached if the distance is short, 1e-9 to 1e4 [m/s]
	Acceleration float64 // of both ramps, not reached if the jerk is low, 1e-6 to 1e6 [m/s²]
	Jerk         float64 // with which it rises and falls, 1e-6 to 1e12; 0 for no limit [m/s³]
}

// Ringing is the amplitude of the free vibration that a move leaves in a mass on
// a spring whose base follows the move exactly, relative to the base.
type Ringing struct {
	AfterRamp float64 // at the end of the acceleration [m]
	AfterMove float64 // at the end of the move [m]
	Worst     float64 // the least of 4a/ω², 2v/(ω√(1−ζ²)) and 8j/ω³, which none exceeds whatever the timing [m]
}

// Validate reports fields out of range.
func (m Move) Validate() error {
	var f input.Faults
	f.Between("frame.Move.Distance", m.Distance, 1e-9, 1e4, "m")
	f.Between("frame.Move.Speed", m.Speed, 1e-9, 1e4, "m/s")
	f.Between("frame.Move.Acceleration", m.Acceleration, 1e-6, 1e6, "m/s²")
	if m.Jerk != 0 && !(m.Jerk >= 1e-6 && m.Jerk <= 1e12) {
		f.Refuse("frame.Move.Jerk", m.Jerk, "m/s³", "0 or "+input.Range(1e-6, 1e12, "m/s³"))
	}
	return f.Err()
}

// Times returns how long the acceleration, its rise and fall included, and the
// cruise of a valid move take [s]; it lasts 2·ramp + cruise. A move too short to
// reach its speed has no cruise.
func (m Move) Times() (ramp, cruise float64) {
	t := m.timing()
	return t.speed + t.acceleration, math.Max(0, t.distance-(t.speed+t.acceleration))
}

// Peak returns the highest speed of a valid move, below Speed if it is too short:
// √(a·d) without a jerk limit [m/s].
func (m Move) Peak() float64 {
	v, a := m.Speed, m.Acceleration
	if m.Jerk == 0 {
		return math.Min(v, math.Sqrt(a*m.Distance))
	}
	// No cruise: d = v(v/a + a/j), and d = 2v√(v/j) where a is not reached.
	rise := a / m.Jerk
	if reached := 2 * m.Distance / (rise + math.Sqrt(rise*rise+4*m.Distance/a)); reached >= a*rise {
		return math.Min(v, reached)
	}
	return math.Min(v, math.Cbrt(m.Distance*m.Distance*m.Jerk/4))
}

// timing is a valid move as a step of its distance, spread evenly over one time,
// the outcome over a second and that over a third.
type timing struct {
	distance     float64 // distance ÷ highest speed [s]
	speed        float64 // highest speed ÷ highest acceleration [s]
	acceleration float64 // highest acceleration ÷ jerk [s]
	peak         float64 // highest acceleration [m/s²]
}

func (m Move) timing() (t timing) {
	v := m.Peak()
	t.peak = m.Acceleration
	if m.Jerk != 0 {
		t.peak = math.Min(t.peak, math.Sqrt(v*m.Jerk))
		t.acceleration = t.peak / m.Jerk
	}
	t.speed = v / t.peak
	t.distance = t.speed + t.acceleration
	if v == m.Speed {
		t.distance = math.Max(t.distance, m.Distance/v)
	}
	return t
}

// Ringing returns what the move leaves of a mode of a frequency, 1e-3 to 1e6
// [Hz], and damping ratio ζ, 0 to 0.3 [-]. It errs on arguments out of range.
//
// The four steps of acceleration are summed as free vibrations: undamped,
// (2a/ω²)|sin πf·ta| after the ramp and (4a/ω²)|sin πf·ta·sin πf(ta+tc)| after the
// move, R. Ayre in Harris, Shock and Vibration Handbook, ch. 8. A ramp of a whole number of
// periods leaves nothing, but only as exactly as the frequency is known. A rise of
// the acceleration over a time tj is one more such pair: |sin πf·tj|/(πf·tj) undamped.
func (m Move) Ringing(frequency, damping float64) (Ringing, error) {
	var f input.Faults
	f.Add(m.Validate())
	oscillator(&f, frequency, damping)
	if err := f.Err(); err != nil {
		return Ringing{}, err
	}
	return m.ringing(frequency, damping), nil
}

// ringing is for a mode of any frequency.
func (m Move) ringing(frequency, damping float64) Ringing {
	t := m.timing()
	omega := 2 * math.Pi * frequency
	free := math.Sqrt(1 - damping*damping)
	unit := t.peak / (omega * omega)
	// A step and its opposite a time t later leave |1 − e^(−ζωt + iω_d·t)|; the two
	// ramps, ramp + cruise apart, are such a pair of such pairs.
	pair := func(t float64) float64 {
		decay := math.Expm1(-damping * omega * t)
		return math.Hypot(decay, 2*math.Sin(0.5*omega*free*t)*math.Sqrt(1+decay))
	}
	after := pair(t.speed) / free
	// A ramp leaves no more than its speed, suddenly given, would: v/ω√(1−ζ²).
	worst := 2 * math.Min(2*unit, t.peak*t.speed/(omega*free))
	if rise := omega * t.acceleration; rise > 0 {
		after *= pair(t.acceleration) / rise
		worst = math.Min(worst, 8*unit/rise)
	}
	return Ringing{AfterRamp: unit * after, AfterMove: unit * after * pair(t.distance), Worst: worst}
}

// LargestAcceleration returns the acceleration that keeps the ringing of a mode,
// 1e-3 to 1e6 [Hz], within a ripple, 1e-12 to 1e3 [m], however ramps and cruise are timed:
// ripple·ω²/4 [m/s²]. It errs on arguments out of range. For a move of a given
// speed, several tones or a jerk limit see [Move.Accelerations].
func LargestAcceleration(frequency, ripple float64) (float64, error) {
	var f input.Faults
	oscillator(&f, frequency, 0)
	f.Between("frame.LargestAcceleration: ripple", ripple, leastRipple, mostRipple, "m")
	if err := f.Err(); err != nil {
		return 0, err
	}
	omega := 2 * math.Pi * frequency
	return ripple * omega * omega / 4, nil
}

// Utilisation compares the larger ringing of the move, after its ramp or after
// its end, with the ripple allowed, 1e-12 to 1e3 [m]; frequency and damping as for
// [Move.Ringing]. It counts on the timing: where the frequency is not known to a
// few percent, compare Ringing.Worst. It errs on arguments out of range.
func (m Move) Utilisation(frequency, damping, ripple float64) (material.Utilisation, error) {
	var f input.Faults
	f.Between("frame.Move.Utilisation: ripple", ripple, leastRipple, mostRipple, "m")
	r, err := m.Ringing(frequency, damping)
	f.Add(err)
	if err := f.Err(); err != nil {
		return material.Utilisation{}, err
	}
	return material.Utilisation{
		Part: "ringing after a move", Demand: math.Max(r.AfterRamp, r.AfterMove), Capacity: ripple, Unit: "m",
		Method: "free vibration after steps of acceleration",
	}, nil
}
