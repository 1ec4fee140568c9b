package frame

import (
	"fmt"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"

	"meltflight/internal/verify"
)

// The constants of every span are integrals of two polynomials, which Gauss's rule
// with eight points has exactly.
func TestCheckSpanIntegrals(t *testing.T) {
	const why = "rounding; Gauss's rule is exact here"
	one := func(float64) float64 { return 1 }
	var rows []verify.Row
	for _, c := range []struct {
		name         string
		s            span
		middle, even func(x float64) float64 // unit motion of mid-span
		rigid        func(x float64) float64 // motion of the beam as a rigid body
		high         float64                 // end of the half over which they hold
		evenOver     float64                 // deflection under even ÷ under middle load, by hand
		evenSource   string
	}{
		{
			name: "bending", s: bending, rigid: one, high: 0.5,
			middle:   func(x float64) float64 { return 3*x - 4*x*x*x },
			even:     func(x float64) float64 { return 16.0 / 5 * (x - 2*x*x*x + x*x*x*x) },
			evenOver: (5.0 / 384) / (1.0 / 48), evenSource: "5qL⁴/384EI ÷ PL³/48EI",
		},
		{
			name: "torsion", s: torsion, rigid: one, high: 0.5,
			middle:   func(x float64) float64 { return 2 * x },
			even:     func(x float64) float64 { return 4 * x * (1 - x) },
			evenOver: (1.0 / 8) / (1.0 / 4), evenSource: "tL²/8GJ ÷ TL/4GJ",
		},
		{
			name: "turning", s: turning, high: 1,
			rigid:    func(x float64) float64 { return x },
			middle:   func(x float64) float64 { return x - 1.5*x*x + 0.5*x*x*x },
			even:     func(x float64) float64 { return x - 10.0/7*x*x*x + 3.0/7*x*x*x*x*x },
			evenOver: (7.0 / 480) / (1.0 / 12), evenSource: "7QL/480EI ÷ ML/12EI",
		},
	} {
		mean := func(f, g func(float64) float64) float64 {
			of := func(f, g func(float64) float64) float64 {
				return quad.Fixed(func(x float64) float64 { return f(x) * g(x) }, 0, c.high, 8, nil, 0)
			}
			return of(f, g) / of(c.rigid, c.rigid)
		}
		row := func(what string, want, got float64) {
			rows = append(rows, verify.Row{Name: c.name + " " + what, Source: "Gauss-Legendre quadrature of the shapes", Kind: verify.Own, Want: want, Got: got, Tol: 1e-13, Why: why})
		}
		row("mean", mean(c.middle, c.rigid), c.s.mean)
		row("mean, even", mean(c.even, c.rigid), c.s.meanEven)
		row("square", mean(c.middle, c.middle), c.s.square)
		row("product", mean(c.middle, c.even), c.s.product)
		row("square, even", mean(c.even, c.even), c.s.squaresEven)
		rows = append(rows,
			verify.Row{Name: c.name + " even", Source: fmt.Sprintf("deflections %s", c.evenSource), Kind: verify.Own, Want: c.evenOver, Got: c.s.even, Tol: 1e-13, Why: "rounding"},
			verify.Row{Name: c.name + " even = mean", Source: "Maxwell's and Betti's reciprocity", Kind: verify.Own, Want: c.s.mean, Got: c.s.even, Tol: 1e-13, Why: "rounding"})
	}
	verify.Table(t, rows)
}
