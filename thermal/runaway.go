package thermal

import (
	"errors"
	"fmt"
)

// ErrRunaway is what errors.Is finds when a part has no steady temperature: each
// further kelvin adds more loss than the cooling takes away for it. The error
// itself is a [*RunawayError], which errors.As finds.
var ErrRunaway = errors.New("thermal runaway")

// ErrTooHot is what errors.Is finds when a part is above its limit before any
// current flows; the message says by how much.
var ErrTooHot = errors.New("too hot without any current")

// RunawayError tells which part runs away and from which current on.
type RunawayError struct {
	Part    string  // "bridge" or "winding"
	Current float64 // asked for, rms a phase [A]
	Limit   float64 // at and above which no steady temperature exists, rms a phase [A]
}

// Error names the part, the current and the limit.
func (e *RunawayError) Error() string {
	return fmt.Sprintf("%v: %s at %.6g A rms: no steady temperature from %.6g A on",
		ErrRunaway, e.Part, e.Current, e.Limit)
}

// Is reports whether target is ErrRunaway.
func (e *RunawayError) Is(target error) bool { return target == ErrRunaway }
