package frame

import (
	"fmt"
	"math"

	"meltflight/internal/input"
)

// Tone is one natural vibration as it shows at one point of a machine, whatever
// computed or measured it.
type Tone struct {
	Frequency float64 // undamped, 1e-3 to 1e6 [Hz]
	Damping   float64 // ratio ζ, not the logarithmic decrement, 0 to 0.3 [-]
	// How far it moves the point, as a part of what a mass on a spring of that
	// frequency would; of all tones together 1 on a rigid point of a machine moved as
	// a whole; -1e6 to 1e6 [-].
	Share float64
}

// Validate reports fields out of range.
func (t Tone) Validate() error {
	var f input.Faults
	f.Between("frame.Tone.Frequency", t.Frequency, leastFrequency, mostFrequency, "Hz")
	f.Between("frame.Tone.Damping", t.Damping, 0, mostDamping, "")
	f.Between("frame.Tone.Share", t.Share, -1e6, 1e6, "")
	return f.Err()
}

// validTones adds the faults of tones, of which 1 to 1000 are allowed.
func validTones(f *input.Faults, tones []Tone) {
	f.Count("frame: tones", len(tones), 1, 1000)
	for i := range tones {
		if err := tones[i].Validate(); err != nil {
			f.Add(fmt.Errorf("tone %d: %w", i, err))
		}
	}
}

// Tones returns the five natural vibrations of an axis, lowest first, as a point
// that goes with mid-span moves along y when both ends are moved along y; what
// stands under [Axis.Ringing] holds, arguments and errors included. Of an axis that
// hardly holds its bodies a tone can lie below the range of [Tone], and is told.
func (a Axis) Tones(damping float64, point [3]float64) ([]Tone, error) {
	var f input.Faults
	f.Add(a.Validate())
	f.Between("frame.Axis: damping ratio", damping, 0, mostDamping, "")
	for i, name := range directions {
		f.Between("frame.Axis: point "+name, point[i], -100, 100, "m")
	}
	if err := f.Err(); err != nil {
		return nil, err
	}
	v, err := a.vibrations()
	if err != nil {
		return nil, err
	}
	tones := make([]Tone, motions)
	for i := range tones {
		tones[i] = Tone{v.frequency(i), damping, v.response(i, point)}
	}
	return tones, a.Beam.slender(math.Pi)
}

// RingingOf returns what the move leaves of several tones at their point, added up
// as if all peaked together: an upper bound of what they do. It errs on arguments
// out of range.
//
// For each tone as [Move.Ringing], times its share.
func (m Move) RingingOf(tones ...Tone) (Ringing, error) {
	var f input.Faults
	f.Add(m.Validate())
	validTones(&f, tones)
	if err := f.Err(); err != nil {
		return Ringing{}, err
	}
	return m.ringingOf(tones), nil
}

func (m Move) ringingOf(tones []Tone) (sum Ringing) {
	for i := range tones {
		r := m.ringing(tones[i].Frequency, tones[i].Damping)
		part := math.Abs(tones[i].Share)
		sum.AfterRamp += part * r.AfterRamp
		sum.AfterMove += part * r.AfterMove
		sum.Worst += part * r.Worst
	}
	return sum
}
