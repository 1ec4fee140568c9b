package frame

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// Piece is a stretch of a motion over which the acceleration changes evenly.
type Piece struct {
	Duration     float64 // 0 to 1e14 [s]
	Acceleration float64 // at its start, there and at its end -1e9 to 1e9 [m/s²]
	Jerk         float64 // rate of change of the acceleration, -1e15 to 1e15 [m/s³]
}

// Profile is a motion along a line that starts at rest: pieces of constant jerk,
// one after the other, so that position is a cubic in each. The acceleration may
// step between two pieces, speed and position do not. 1 to 1e6 pieces.
type Profile []Piece

// Validate reports pieces out of range and a profile without any.
func (p Profile) Validate() error {
	var f input.Faults
	f.Count("frame.Profile: pieces", len(p), 1, 1e6)
	for i := range p {
		if q := &p[i]; !q.valid() {
			f.Add(q.fault(i))
			break // the first says enough
		}
	}
	return f.Err()
}

func (q *Piece) valid() bool {
	return q.Duration >= 0 && q.Duration <= 1e14 && math.Abs(q.Acceleration) <= 1e9 && math.Abs(q.Jerk) <= 1e15 && math.Abs(q.end()) <= 1e9
}

// end is the acceleration at the end of the piece [m/s²].
func (q *Piece) end() float64 { return q.Acceleration + q.Jerk*q.Duration }

// fault is apart so that names are put together only once something is wrong.
func (q *Piece) fault(i int) error {
	var f input.Faults
	name := fmt.Sprintf("frame.Profile[%d].", i)
	f.Between(name+"Duration", q.Duration, 0, 1e14, "s")
	f.Between(name+"Acceleration", q.Acceleration, -1e9, 1e9, "m/s²")
	f.Between(name+"Jerk", q.Jerk, -1e15, 1e15, "m/s³")
	if f.None() {
		f.Between(name+"Acceleration at its end", q.end(), -1e9, 1e9, "m/s²")
	}
	return f.Err()
}

// Profile returns the move as pieces: three, or seven with a jerk limit, less
// those that last no time. It errs on a move out of range.
func (m Move) Profile() (Profile, error) {
	if err := m.Validate(); err != nil {
		return nil, err
	}
	t := m.timing()
	cruise := math.Max(0, t.distance-t.speed-t.acceleration)
	level := math.Max(0, t.speed-t.acceleration) // of the highest acceleration
	a, rise := t.peak, t.acceleration
	p := make(Profile, 0, 7)
	add := func(duration, from, to float64) {
		if duration > 0 {
			p = append(p, Piece{duration, from, (to - from) / duration})
		}
	}
	add(rise, 0, a)
	add(level, a, a)
	add(rise, a, 0)
	add(cruise, 0, 0)
	add(rise, 0, -a)
	add(level, -a, -a)
	add(rise, -a, 0)
	return p, nil
}

// Duration returns how long a valid profile lasts [s].
func (p Profile) Duration() float64 {
	sum := 0.0
	for i := range p {
		sum += p[i].Duration
	}
	return sum
}

// Greatest returns the largest acceleration of a valid profile, either way [m/s²].
func (p Profile) Greatest() float64 {
	most := 0.0
	for i := range p {
		q := &p[i]
		most = math.Max(most, math.Max(math.Abs(q.Acceleration), math.Abs(q.end())))
	}
	return most
}

// At returns where a valid profile is at a time from its start [s]: position [m],
// speed [m/s] and acceleration [m/s²]. Before its start it is at rest, after its
// end it keeps its speed. At a step of the acceleration it tells the later one.
func (p Profile) At(time float64) (position, speed, acceleration float64) {
	if !(time >= 0) {
		return 0, 0, 0
	}
	for i := range p {
		q := &p[i]
		h := math.Min(time, q.Duration)
		position += h * (speed + h*(q.Acceleration/2+h*q.Jerk/6))
		speed += h * (q.Acceleration + h*q.Jerk/2)
		if time < q.Duration {
			return position, speed, q.Acceleration + h*q.Jerk
		}
		time -= h
	}
	return position + time*speed, speed, 0
}
