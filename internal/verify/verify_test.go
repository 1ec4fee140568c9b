package verify

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestRowFault(t *testing.T) {
	good := Row{Name: "x", Source: "s", Kind: Own, Want: 2e-9, Got: 2.001e-9, Tol: 1e-3, Why: "rounding"}
	assert.Empty(t, good.Fault())

	for name, spoil := range map[string]func(*Row){
		"small numbers still compare":   func(r *Row) { r.Got = 2.01e-9 },
		"not a number":                  func(r *Row) { r.Got = math.NaN() },
		"no kind":                       func(r *Row) { r.Kind = 0 },
		"nothing expected":              func(r *Row) { r.Want = math.NaN() },
		"an infinity expected":          func(r *Row) { r.Want = math.Inf(1) },
		"a tolerance of no number":      func(r *Row) { r.Tol = math.NaN() },
		"no source":                     func(r *Row) { r.Source = "" },
		"no reason":                     func(r *Row) { r.Why = "" },
		"a tolerance that cannot fail":  func(r *Row) { r.Tol = 0.9 },
		"no tolerance":                  func(r *Row) { r.Tol = 0 },
		"zero expected compares as set": func(r *Row) { r.Want, r.Got, r.Tol = 0, 0.1, 1e-3 },
	} {
		bad := good
		spoil(&bad)
		assert.NotEmpty(t, bad.Fault(), name)
	}
}
