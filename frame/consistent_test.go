package frame_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"meltflight/frame"
	"meltflight/internal/verify"
)

// TestCheckTipBody holds a cantilever with a rigid body at its tip, μ its mass and κ
// its radius of gyration ÷ those of the beam, its centre c lengths beyond the tip:
// exact, and as one finite element.
func TestCheckTipBody(t *testing.T) {
	const determinant = "w‴ + b⁴μ(w + cw′) = 0 and w″ − b⁴μ(cw + (c²+κ²)w′) = 0 at the tip, own"
	var rows []verify.Row
	for _, c := range []struct {
		mu, kappa, c float64
		exact        [3]float64 // βL
		element      float64    // (βL)² of one element
	}{
		{1, 0, 0, [3]float64{1.2479174096, 4.0311394367, 7.1341322409}, 1.55756464},
		{1, 0.1, 0, [3]float64{1.2424479077, 3.6386245423, 5.6630010427}, 1.54393078},
		{1, 0.2, 0, [3]float64{1.2263468110, 2.9786219647, 5.1014360549}, 1.50414578},
		{1, 0.1, 0.1, [3]float64{1.1729167651, 3.4425372445, 5.8105733944}, 1.37587108},
		{2, 0.1, 0.2, [3]float64{0.9479648508, 3.1351732718, 5.5955534249}, 0.89865285},
		{0.5, 0.1, 0.15, [3]float64{1.3158603778, 3.4974140779, 6.0483920945}, 1.73192242},
	} {
		s := along(1, thinTube(), alu, false, clamped, free)
		bar := s.Members[0].Section
		m := c.mu * alu.Density * bar.Area
		i := m * c.kappa * c.kappa
		s.Lumps = []frame.Lump{{Node: 1, Body: frame.Body{Mass: m, Offset: [3]float64{c.c, 0, 0}, Inertia: [3]float64{i, i, i}}}}
		square := func(f float64) float64 {
			return 2 * math.Pi * f * math.Sqrt(alu.Density*bar.Area/(alu.Young*bar.Iy))
		}
		name := fmt.Sprintf("μ %g, κ %g, c %g", c.mu, c.kappa, c.c)
		for k, f := range upright(t, s, 3) {
			rows = append(rows, verify.Row{Name: fmt.Sprintf("βL%d, %s", k+1, name), Source: determinant, Kind: verify.Own, Want: c.exact[k], Got: math.Sqrt(square(f)), Tol: 1e-10, Why: "ten decimals"})
		}
		one, err := s.ConsistentModes(1, 1)
		require.NoError(t, err)
		rows = append(rows, verify.Row{Name: "(βL)² of one element, " + name, Source: "two motions of a cubic element, its mass consistent, own", Kind: verify.Own, Want: c.element, Got: square(one[0].Frequency), Tol: 6e-9, Why: "the digits printed"})
	}
	verify.Table(t, rows)
}

// TestCheckConsistentOrder: half the element, a sixteenth of the error in bending, a
// quarter in stretch.
func TestCheckConsistentOrder(t *testing.T) {
	bend := along(1, thinTube(), alu, false, pinned, pinned)
	rod := along(1, thinTube(), alu, true, clamped, [6]bool{2: true, 4: true})
	var rows []verify.Row
	for _, c := range []struct {
		name  string
		s     frame.SpaceFrame
		order float64
	}{{"bending", bend, 4}, {"stretch", rod, 2}} {
		if c.order == 2 { // bending far above the first stretch
			c.s.Members[0].Section.Iy *= 1e4
			c.s.Members[0].Section.Iz = c.s.Members[0].Section.Iy
			c.s.Members[0].Section.J = 2 * c.s.Members[0].Section.Iy
		}
		exact := frequencies(t, c.s, 1)[0]
		miss := func(elements int) float64 {
			m, err := c.s.ConsistentModes(1, elements)
			require.NoError(t, err)
			return m[0].Frequency - exact
		}
		rows = append(rows, verify.Row{Name: "order of the error of finite elements in " + c.name, Source: "theory of finite elements, twice the degree of the shape less two derivatives of the energy, own", Kind: verify.Own, Want: c.order, Got: math.Log2(miss(4) / miss(8)), Tol: 0.02, Why: "the next power of the size"})
	}
	verify.Table(t, rows)
}
