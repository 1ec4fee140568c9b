package frame_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"meltflight/frame"
	"meltflight/internal/draw"
	"meltflight/internal/verify"
	"meltflight/material"
)

func TestCheckBuckling(t *testing.T) {
	var rows []verify.Row
	const sheet = "Steel Buildings in Europe, Multi-storey buildings part 4, App. A.5, HE 300 B, pp. 4-95 and 4-96"
	chi := func(slenderness, curve float64) float64 {
		x, err := frame.BucklingReduction(slenderness, curve)
		require.NoError(t, err)
		return x
	}
	euler := func(i, length float64) float64 { return math.Pi * math.Pi * 210e9 * i / (length * length) }
	ny, nz := euler(25170e-8, 8), euler(8560e-8, 5.6)
	ly, lz := math.Sqrt(149e-4*235e6/ny), math.Sqrt(149e-4*235e6/nz)
	rows = append(rows,
		verify.Row{Name: "χy, curve b, from the sheet's λ 0.655", Source: sheet, Kind: verify.Print, Want: 0.808, Got: chi(0.655, frame.CurveB), Tol: 0.0007, Why: "three digits printed of λ and χ"},
		verify.Row{Name: "χy, curve b, from its section", Source: sheet, Kind: verify.Print, Want: 0.808, Got: chi(ly, frame.CurveB), Tol: 0.0007, Why: "three digits printed"},
		verify.Row{Name: "χy of λ 0.655414", Source: "eq. 6.49 by hand", Kind: verify.Own, Want: 0.808278, Got: chi(ly, frame.CurveB), Tol: 1e-6, Why: "six digits printed"},
		verify.Row{Name: "χz of λ 0.786717", Source: "eq. 6.49 by hand", Kind: verify.Own, Want: 0.670498, Got: chi(lz, frame.CurveC), Tol: 1e-6, Why: "six digits printed"},
		verify.Row{Name: "Nb,z [N]", Source: "eq. 6.47 by hand", Kind: verify.Own, Want: 2347.75e3, Got: 149e-4 * 235e6 * chi(lz, frame.CurveC), Tol: 3e-6, Why: "six digits printed"})
	rows = append(rows, verify.Row{Name: "χ just beyond the plateau, λ 0.201, curve c", Source: "eq. 6.49 by hand", Kind: verify.Own, Want: 0.99948964, Got: chi(0.201, frame.CurveC), Tol: 1e-8, Why: "eight digits"})
	const table = "EN 1993-1-1, eq. 6.49, tables of χ recomputed"
	for curve, want := range map[float64][4]float64{
		frame.CurveA0: {0.95132, 0.72534, 0.39534, 0.23230}, frame.CurveA: {0.92427, 0.66560, 0.37244, 0.22289},
		frame.CurveB: {0.88422, 0.59702, 0.34223, 0.20946}, frame.CurveC: {0.84299, 0.53994, 0.31454, 0.19618},
		frame.CurveD: {0.77932, 0.46709, 0.27657, 0.17663},
	} {
		for i, w := range want {
			l := 0.5 + 0.5*float64(i)
			rows = append(rows, verify.Row{Name: fmt.Sprintf("χ(%g), α = %g", l, curve), Source: table, Kind: verify.Own, Want: w, Got: chi(l, curve), Tol: 3e-5, Why: "five decimals printed"})
		}
	}
	u, err := referenceStand(t, true).Buckling(12 * 9.80665)
	require.NoError(t, err)
	rows = append(rows,
		verify.Row{Name: "leg 30x30x2, h 0.9 m, Nb [N]", Source: "EN 1993-1-1, 6.3.1, curve c, K = 2, by hand", Kind: verify.Own, Want: 13931.929, Got: u.Capacity, Tol: 4e-8, Why: "eight digits printed"},
		verify.Row{Name: "load on a leg [N]", Source: "half of the whole: two diagonal legs", Kind: verify.Practice, Want: 6 * 9.80665, Got: u.Demand, Tol: 1e-12, Why: "rounding"})

	// Turning feet: the effective length of a sway portal with ring and legs of one
	// stiffness (k = 1) is 2.3279 heights, u·tan u = 6 solved by Newton's rule.
	s := referenceStand(t, false)
	s.Width, s.Depth, s.Leg = s.Height, s.Height, hair
	s.Metal.Strength = []material.Strength{{Section: 1, Yield: 1e10, Ultimate: 1e10}} // Euler's load alone
	const factor = math.Pi / 1.349552823716
	const portal = "u·tan u = 6k, S. Timoshenko and J. Gere, Theory of Elastic Stability, sway of a hinged portal"
	const weak = "Euler's load of the weaker way, twice the height, and curve c by hand"
	add := func(name, source string, weakest, length float64) {
		u, err := s.Buckling(1)
		require.NoError(t, err)
		slenderness := math.Sqrt(s.Leg.Area * 1e10 / euler(weakest, length))
		rows = append(rows, verify.Row{Name: name, Source: source, Kind: verify.Own,
			Want: s.Leg.Area * 1e10 * chi(slenderness, frame.CurveC), Got: u.Capacity, Tol: 1e-8, Why: "eleven digits of the root"})
	}
	add("Nb on turning feet, k = 1 [N]", portal, s.Leg.Iy, factor*s.Height)
	// Legs flat one way and the other: k is 1 about the weak axis, ring by Iy.
	s.Leg.Iz = 6 * s.Leg.Iy
	s.Depth = s.Height / 6
	add("Nb on turning feet, weak along x, k = 1 [N]", portal, s.Leg.Iy, factor*s.Height)
	s.Leg.Iz = hair.Iz
	s.Leg.Iy = 6 * hair.Iz
	s.Width, s.Depth = s.Height, 6*s.Height
	add("Nb on turning feet, weak along y, k = 1 [N]", portal, s.Leg.Iz, factor*s.Height)
	s.FeetFixed = true
	add("Nb on fixed feet, weak along y [N]", weak, s.Leg.Iz, 2*s.Height)
	s.Leg.Iy, s.Leg.Iz = s.Leg.Iz, s.Leg.Iy
	add("Nb on fixed feet, weak along x [N]", weak, s.Leg.Iy, 2*s.Height)
	verify.Table(t, rows)
}

func TestPropertyBucklingReduction(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := draw.Log(0.01, 1e6).Draw(t, "slenderness")
		alpha := draw.Uniform(0, 1).Draw(t, "imperfection")
		chi := func(l, alpha float64) float64 {
			x, err := frame.BucklingReduction(l, alpha)
			require.NoError(t, err)
			return x
		}
		x := chi(l, alpha)
		require.Positive(t, x)
		require.LessOrEqual(t, x, math.Min(1, 1/(l*l))*(1+1e-12)) // yield and Euler
		require.LessOrEqual(t, chi(1.01*l, alpha), x*(1+1e-12))
		require.LessOrEqual(t, chi(l, math.Min(1, 1.01*alpha)), x*(1+1e-12))
		require.InEpsilon(t, math.Min(1, 1/(l*l)), chi(l, 0), 1e-7)
		if l > 0.2 {
			// Ayrton-Perry: (1−χ)(1−χλ²) = α(λ−0.2)χ is where the curve comes from.
			require.InDelta(t, alpha*(l-0.2)*x, (1-x)*(1-x*l*l), 1e-9*(1+alpha*l))
		}
	})
}
