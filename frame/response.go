package frame

import (
	"fmt"
	"math"

	"meltflight/internal/input"
	"meltflight/internal/root"
)

// Response is what a motion does to a point relative to the base that follows it.
type Response struct {
	During float64 // largest deflection while the motion lasts [m]
	After  float64 // largest deflection from its end on [m]
	Left   float64 // amplitude of the free vibration at its end [m]
}

// Response returns what the motion does to a tone, or to several as if all peaked
// together: an upper bound then, of which [Profile.Deflection] tells what is used.
// Motion and machine start at rest. It errs on a profile or tones out of range.
//
// Exact for each tone: closed forms from piece to piece, the largest deflection
// where the speed is zero between them.
func (p Profile) Response(tones ...Tone) (Response, error) {
	if err := p.with(tones); err != nil {
		return Response{}, err
	}
	var sum Response
	for i := range tones {
		t := &tones[i]
		omega := 2 * math.Pi * t.Frequency
		o := atRest(t.Damping)
		during := 0.0
		for k := range p {
			x, a, j := p[k].scaled(omega)
			during = math.Max(during, o.largest(x, a, j))
			o = o.after(x, a, j)
		}
		part := math.Abs(t.Share)
		sum.During += part * during
		sum.After += part * o.largest(2*math.Pi/o.free, 0, 0)
		sum.Left += part * o.amplitude()
	}
	return sum, nil
}

// Deflection returns how far a point with several tones is deflected along the
// motion at a time from its start, 0 to 1e14 [s], after the end too [m]: negative
// while it lags. It errs on a profile, tones or a time out of range.
func (p Profile) Deflection(time float64, tones ...Tone) (float64, error) {
	var f input.Faults
	f.Add(p.with(tones))
	f.Between("frame.Profile.Deflection: time", time, 0, 1e14, "s")
	if err := f.Err(); err != nil {
		return 0, err
	}
	sum := 0.0
	for i := range tones {
		t := &tones[i]
		omega := 2 * math.Pi * t.Frequency
		o, left := atRest(t.Damping), time
		for k := range p {
			q := p[k]
			q.Duration = math.Min(q.Duration, left)
			left -= q.Duration
			o = o.after(q.scaled(omega))
		}
		o = o.after(omega*left, 0, 0)
		sum += t.Share * o.u
	}
	return sum, nil
}

// Settling returns how long after the end of the motion a point with several tones
// takes to stay within a band, 1e-12 to 1e3 [m], either way: 0 if the rest of the
// ringing is within it from the start [s]. It errs on a profile, tones or a band
// out of range, and with [ErrNeverSettles] where tones without damping alone
// exceed the band.
//
// It goes by the sum of the tones' decaying amplitudes, which the motion touches
// but seldom: a single tone is within the band up to half a cycle sooner.
func (p Profile) Settling(band float64, tones ...Tone) (float64, error) {
	var f input.Faults
	f.Add(p.with(tones))
	f.Between("frame.Profile.Settling: band", band, leastRipple, mostRipple, "m")
	if err := f.Err(); err != nil {
		return 0, err
	}
	var few [16]float64
	amplitudes := few[:0]
	var lasting, fading float64 // amplitude that stays, that decays
	slowest := math.Inf(1)      // rate of decay [1/s]
	for i := range tones {
		t := &tones[i]
		omega := 2 * math.Pi * t.Frequency
		o := atRest(t.Damping)
		for k := range p {
			o = o.after(p[k].scaled(omega))
		}
		a := math.Abs(t.Share) * o.amplitude()
		amplitudes = append(amplitudes, a)
		if t.Damping < 1e-12 {
			lasting += a
		} else if a > 0 {
			fading += a
			slowest = math.Min(slowest, t.Damping*omega)
		}
	}
	if lasting+fading <= band {
		return 0, nil
	}
	if lasting >= band*(1-1e-12) {
		return 0, fmt.Errorf("%w: tones without damping keep %.3g times the band", ErrNeverSettles, lasting/band)
	}
	excess := func(time float64) float64 {
		sum := -band
		for i := range tones {
			sum += amplitudes[i] * math.Exp(-2*math.Pi*tones[i].Frequency*tones[i].Damping*time)
		}
		return sum
	}
	// All decaying as the slowest does is later than they do.
	late := math.Log(fading/(band-lasting))/slowest*(1+1e-9) + 1e-300
	return root.Find(excess, 0, late, 1e-12)
}

// with reports what is wrong with a profile and the tones it is to move.
func (p Profile) with(tones []Tone) error {
	var f input.Faults
	f.Add(p.Validate())
	validTones(&f, tones)
	return f.Err()
}

// scaled returns the piece in the own time of an oscillation, accelerations over ω².
func (q *Piece) scaled(omega float64) (x, a, j float64) {
	return omega * q.Duration, q.Acceleration / (omega * omega), q.Jerk / (omega * omega * omega)
}
