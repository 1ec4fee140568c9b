package frame_test

import (
	"math"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"meltflight/frame"
)

// finiteElements is the slow twin of Axis.Modes: the same axis in space with
// cubic beam elements, all six motions of every node, ends rigid along x unless
// told otherwise. With eight elements its lowest frequencies are exact to about
// 1e-5 in bending and 1e-4 in torsion.
func finiteElements(t require.TestingT, a frame.Axis, elements int, endX float64) []float64 {
	n := 6 * (elements + 1)
	k, m := mat.NewSymDense(n, nil), mat.NewSymDense(n, nil)
	add := func(s *mat.SymDense, i, j int, v float64) {
		if i <= j {
			s.SetSym(i, j, s.At(i, j)+v)
		}
	}
	b := a.Beam
	l := b.Length / float64(elements)
	e, g, line := b.Metal.Young, b.Metal.Shear(), b.Metal.Density*b.Section.Area
	bar := func(i, j int, stiff, inertia float64) { // rod or shaft
		for p, r := range []int{i, j} {
			for q, c := range []int{i, j} {
				// The mean of lumped and consistent inertia is good to the fourth order.
				sign, share := 1.0, 5.0/12
				if p != q {
					sign, share = -1, 1.0/12
				}
				add(k, r, c, sign*stiff/l)
				add(m, r, c, share*inertia*l)
			}
		}
	}
	beam := func(dof [4]int, turn, ei float64) { // turn: sign of slope against the rotation
		ks := [4][4]float64{{12, 6 * l, -12, 6 * l}, {6 * l, 4 * l * l, -6 * l, 2 * l * l}, {-12, -6 * l, 12, -6 * l}, {6 * l, 2 * l * l, -6 * l, 4 * l * l}}
		ms := [4][4]float64{{156, 22 * l, 54, -13 * l}, {22 * l, 4 * l * l, 13 * l, -3 * l * l}, {54, 13 * l, 156, -22 * l}, {-13 * l, -3 * l * l, -22 * l, 4 * l * l}}
		sign := [4]float64{1, turn, 1, turn}
		for i := range 4 {
			for j := range 4 {
				add(k, dof[i], dof[j], sign[i]*sign[j]*ei/(l*l*l)*ks[i][j])
				add(m, dof[i], dof[j], sign[i]*sign[j]*line*l/420*ms[i][j])
			}
		}
	}
	for i := range elements {
		p, q := 6*i, 6*(i+1)
		bar(p, q, e*b.Section.Area, line)
		bar(p+3, q+3, g*b.Section.J, b.Metal.Density*(b.Section.Iy+b.Section.Iz))
		beam([4]int{p + 1, p + 5, q + 1, q + 5}, 1, e*b.Section.Iz)
		beam([4]int{p + 2, p + 4, q + 2, q + 4}, -1, e*b.Section.Iy)
	}
	for _, end := range []int{0, 6 * elements} {
		for d, s := range []float64{endX, a.Ends.Y, a.Ends.Z, a.Ends.Roll} {
			add(k, end+d, end+d, s)
		}
	}
	mid := 6 * (elements / 2)
	for _, body := range a.Bodies {
		x, y, z := body.Offset[0], body.Offset[1], body.Offset[2]
		// Velocity of the centre of mass: u + θ×r.
		rows := [3][6]float64{{1, 0, 0, 0, z, -y}, {0, 1, 0, -z, 0, x}, {0, 0, 1, y, -x, 0}}
		for i := range 6 {
			for j := range 6 {
				for _, r := range rows {
					add(m, mid+i, mid+j, body.Mass*r[i]*r[j])
				}
			}
		}
		for i, v := range body.Inertia {
			add(m, mid+3+i, mid+3+i, v)
		}
	}
	// K = UᵀU turns Kv = ω²Mv into the symmetric problem of U⁻ᵀMU⁻¹ with 1/ω².
	var chol mat.Cholesky
	require.True(t, chol.Factorize(k))
	var u, inv mat.TriDense
	chol.UTo(&u)
	require.NoError(t, inv.InverseTri(&u))
	var tmp, full mat.Dense
	tmp.Mul(m, &inv)
	full.Mul(inv.T(), &tmp)
	sym := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			sym.SetSym(i, j, full.At(i, j))
		}
	}
	var eig mat.EigenSym
	require.True(t, eig.Factorize(sym, false))
	values := eig.Values(nil)
	f := make([]float64, 0, 12)
	for i := n - 1; i >= n-12; i-- {
		f = append(f, 1/(2*math.Pi*math.Sqrt(values[i])))
	}
	return f
}
