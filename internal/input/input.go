// Package input names what is wrong with an input.
//
// Every solver gathers the faults of all its inputs before it computes, so that
// a user mends a drawing once and not field by field:
//
//	var f input.Faults
//	f.Between("screw.Channel.Bore", c.Bore, 1e-3, 1, "m")
//	f.Between("screw.Channel.Land", c.Land, 0, 0.5, "m")
//	if err := f.Err(); err != nil {
//		return err
//	}
//
// Nothing is allocated while all is well.
package input

import (
	"errors"
	"fmt"
	"strings"
)

// ErrInvalid is what errors.Is finds in every error caused by a refused input.
var ErrInvalid = errors.New("invalid input")

// Field is one refused input.
type Field struct {
	Name    string  // package, type and field
	Value   float64 // as given
	Unit    string  // empty for a pure number
	Allowed string  // what would be accepted, with its unit
}

// Error names the field, the value and what is allowed.
func (f *Field) Error() string {
	return fmt.Sprintf("%s = %s: allowed %s", f.Name, WithUnit(f.Value, f.Unit), f.Allowed)
}

// Is reports whether target is ErrInvalid.
func (f *Field) Is(target error) bool { return target == ErrInvalid }

// Word is one refused input that is no number.
type Word struct {
	Name    string // package, type and field
	Value   string // as given
	Allowed string // what would be accepted
}

// Error names the field, the value and what is allowed.
func (w *Word) Error() string { return fmt.Sprintf("%s = %q: allowed %s", w.Name, w.Value, w.Allowed) }

// Is reports whether target is ErrInvalid.
func (w *Word) Is(target error) bool { return target == ErrInvalid }

// Faults gathers the refused inputs of one call. The zero value is ready.
type Faults struct {
	list []error
}

// Between refuses a value outside lo to hi, both included; NaN and infinities are outside.
func (f *Faults) Between(name string, value, lo, hi float64, unit string) {
	if !(value >= lo && value <= hi) {
		f.outside(name, value, lo, hi, unit)
	}
}

// outside and outsideCount are apart so that Between and Count are inlined.
func (f *Faults) outside(name string, value, lo, hi float64, unit string) {
	f.Refuse(name, value, unit, Range(lo, hi, unit))
}

// Count refuses a whole number outside lo to hi, both included.
func (f *Faults) Count(name string, value, lo, hi int) {
	if value < lo || value > hi {
		f.outsideCount(name, value, lo, hi)
	}
}

func (f *Faults) outsideCount(name string, value, lo, hi int) {
	f.Refuse(name, float64(value), "", fmt.Sprintf("%d to %d", lo, hi))
}

// Refuse records a value that breaks the rule stated in allowed.
func (f *Faults) Refuse(name string, value float64, unit, allowed string) {
	f.list = append(f.list, &Field{Name: name, Value: value, Unit: unit, Allowed: allowed})
}

// Add records the faults another validation found; a nil error adds nothing.
func (f *Faults) Add(err error) {
	if err != nil {
		f.list = append(f.list, err)
	}
}

// None reports whether nothing has been refused so far. Rules that relate
// several fields are worth checking only then.
func (f *Faults) None() bool { return len(f.list) == 0 }

// Err joins the faults into one error, or returns nil.
func (f *Faults) Err() error {
	if f.list == nil {
		return nil
	}
	return errors.Join(f.list...)
}

// Range words a closed range.
func Range(lo, hi float64, unit string) string {
	return WithUnit(lo, "") + " to " + WithUnit(hi, unit)
}

// WithUnit prints a value with its unit.
func WithUnit(value float64, unit string) string {
	return strings.TrimSuffix(fmt.Sprintf("%.6g %s", value, unit), " ")
}
