// Package verify holds computed values against values from outside the project.
//
// A check is a row; rows of one topic make one test whose name starts with
// TestCheck. Running
//
//	go test -run TestCheck -v ./...
//
// prints every row as source, kind, expected, got and deviation: a report that
// an engineer can read and sign.
package verify

import (
	"fmt"
	"math"
	"testing"
)

// Kind says where an expected value comes from.
type Kind int

const (
	Print    Kind = 1 + iota // inputs and result stand in the source named
	Memory                   // a source's result as remembered, its page not seen
	Own                      // computed independently at higher accuracy; the row says how
	Practice                 // common practice, or a page that cannot be named; no source to follow
)

// String names the kind as the report prints it.
func (k Kind) String() string {
	if k < Print || k > Practice {
		return "no kind"
	}
	return [...]string{"print", "memory", "own", "practice"}[k-1]
}

// Row is one check.
type Row struct {
	Name   string // what is computed
	Source string // author, title, place; or how an own value was made
	Kind   Kind
	Want   float64
	Got    float64
	Tol    float64 // relative to Want; absolute where Want is zero
	Why    string  // why that tolerance
}

// Deviation is the relative deviation, or the absolute one where Want is zero.
func (r Row) Deviation() float64 {
	if r.Want == 0 {
		return math.Abs(r.Got)
	}
	return math.Abs(r.Got-r.Want) / math.Abs(r.Want)
}

// Fault tells what is wrong with the row, or is empty.
func (r Row) Fault() string {
	switch {
	case r.Source == "" || r.Kind < Print || r.Kind > Practice:
		return "no source, or no kind of source"
	case math.IsNaN(r.Want) || math.IsInf(r.Want, 0):
		return "nothing expected"
	case !(r.Tol > 0 && r.Tol < 0.5) || r.Why == "":
		return "no tolerance, or none that could fail, or no reason for it"
	case math.IsNaN(r.Got) || r.Deviation() > r.Tol:
		return fmt.Sprintf("deviates by %.2g, allowed %.2g", r.Deviation(), r.Tol)
	}
	return ""
}

// Table logs every row and fails the test for each that does not hold.
func Table(t *testing.T, rows []Row) {
	t.Helper()
	for _, r := range rows {
		t.Logf("%-8s %-44s expected %-12.8g got %-12.8g deviation %-8.1e | %s | %s",
			r.Kind, r.Name, r.Want, r.Got, r.Deviation(), r.Source, r.Why)
		if fault := r.Fault(); fault != "" {
			t.Errorf("%s: %s (expected %.10g, got %.10g; %s)", r.Name, fault, r.Want, r.Got, r.Source)
		}
	}
}
