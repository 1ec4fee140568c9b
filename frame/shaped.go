package frame

import (
	"math"

	"meltflight/internal/input"
)

// run is one part on its way through the pieces.
type run struct {
	share float64
	start float64 // of the piece it is in; of the first one before that [s]
	piece int     // -1 before the first
}

// end returns when the part goes on to the next piece [s].
func (r *run) end(p Profile) float64 {
	if r.piece < 0 {
		return r.start
	}
	return r.start + p[r.piece].Duration
}

// Shape returns a motion as the shaper passes it on: the sum of its parts, each a
// delayed share of the motion. It ends at the same place and speed, Delay later.
// It errs on a shaper or a profile out of range, or one of more than 1e5 pieces.
func (s Shaper) Shape(p Profile) (Profile, error) {
	var f input.Faults
	f.Add(s.Validate())
	f.Add(p.Validate())
	f.Count("frame.Shaper.Shape: pieces", len(p), 1, 1e5)
	if err := f.Err(); err != nil {
		return nil, err
	}
	// Each part runs through the pieces by itself; where any of them goes on to the
	// next, a piece of the sum ends.
	var parts [4]run
	for i := range s.Impulses {
		share, delay := s.Impulse(i)
		parts[i] = run{share, delay, -1}
	}
	shaped := make(Profile, 0, s.Impulses*(len(p)+1))
	for now := 0.0; ; {
		next := math.Inf(1)
		for i := range s.Impulses {
			r := &parts[i]
			for r.piece < len(p) && r.end(p) <= now {
				r.start = r.end(p)
				r.piece++
			}
			if r.piece < len(p) {
				next = math.Min(next, r.end(p))
			}
		}
		if math.IsInf(next, 1) {
			break
		}
		sum := Piece{Duration: next - now}
		for _, r := range parts[:s.Impulses] {
			if r.piece >= 0 && r.piece < len(p) {
				q := &p[r.piece]
				sum.Jerk += r.share * q.Jerk
				sum.Acceleration += r.share * (q.Acceleration + q.Jerk*(now-r.start))
			}
		}
		shaped = append(shaped, sum)
		now = next
	}
	return shaped, nil
}
