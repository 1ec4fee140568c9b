package frame_test

import (
	"math"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"meltflight/frame"
	"meltflight/material"
)

// model is a space frame of cubic beam elements, six motions a node.
type model struct {
	k, m *mat.SymDense
}

func newModel(nodes int) model {
	return model{mat.NewSymDense(6*nodes, nil), mat.NewSymDense(6*nodes, nil)}
}

func add(s *mat.SymDense, i, j int, v float64) {
	if i <= j {
		s.SetSym(i, j, s.At(i, j)+v)
	}
}

// member lays one element from node p to node q. The rows of axes are its own x
// (from p to q), y and z in the frame's directions.
func (f model) member(p, q int, axes [3][3]float64, l float64, b frame.Section, metal material.Metal) {
	var k, m [12][12]float64
	e, g, line := metal.Young, metal.Shear(), metal.Density*b.Area
	bar := func(i int, stiff, inertia float64) { // rod or shaft
		for p, r := range []int{i, i + 6} {
			for q, c := range []int{i, i + 6} {
				// The mean of lumped and consistent inertia is good to the fourth order.
				sign, share := 1.0, 5.0/12
				if p != q {
					sign, share = -1, 1.0/12
				}
				k[r][c] += sign * stiff / l
				m[r][c] += share * inertia * l
			}
		}
	}
	beam := func(dof [4]int, turn, ei float64) { // turn: sign of slope against the rotation
		ks := [4][4]float64{{12, 6 * l, -12, 6 * l}, {6 * l, 4 * l * l, -6 * l, 2 * l * l}, {-12, -6 * l, 12, -6 * l}, {6 * l, 2 * l * l, -6 * l, 4 * l * l}}
		ms := [4][4]float64{{156, 22 * l, 54, -13 * l}, {22 * l, 4 * l * l, 13 * l, -3 * l * l}, {54, 13 * l, 156, -22 * l}, {-13 * l, -3 * l * l, -22 * l, 4 * l * l}}
		sign := [4]float64{1, turn, 1, turn}
		for i := range 4 {
			for j := range 4 {
				k[dof[i]][dof[j]] += sign[i] * sign[j] * ei / (l * l * l) * ks[i][j]
				m[dof[i]][dof[j]] += sign[i] * sign[j] * line * l / 420 * ms[i][j]
			}
		}
	}
	bar(0, e*b.Area, line)
	bar(3, g*b.J, metal.Density*(b.Iy+b.Iz))
	beam([4]int{1, 5, 7, 11}, 1, e*b.Iz)
	beam([4]int{2, 4, 8, 10}, -1, e*b.Iy)
	at := func(i int) int {
		if i < 6 {
			return 6*p + i/3*3
		}
		return 6*q + (i-6)/3*3
	}
	for i := range 12 {
		for j := range 12 {
			if k[i][j] == 0 && m[i][j] == 0 {
				continue
			}
			for r := range 3 {
				for c := range 3 {
					turn := axes[i%3][r] * axes[j%3][c]
					add(f.k, at(i)+r, at(j)+c, turn*k[i][j])
					add(f.m, at(i)+r, at(j)+c, turn*m[i][j])
				}
			}
		}
	}
}

// vibrations returns 1/ω² of the twelve lowest modes and their shapes, scaled to
// a modal mass of 1/ω² and so to a modal stiffness of 1.
func (f model) vibrations(t require.TestingT) (values []float64, shapes [][]float64) {
	// K = UᵀU turns Kv = ω²Mv into the symmetric problem of U⁻ᵀMU⁻¹ with 1/ω².
	n := f.k.SymmetricDim()
	var chol mat.Cholesky
	require.True(t, chol.Factorize(f.k))
	var u, inv mat.TriDense
	chol.UTo(&u)
	require.NoError(t, inv.InverseTri(&u))
	var tmp, full, vectors, back mat.Dense
	tmp.Mul(f.m, &inv)
	full.Mul(inv.T(), &tmp)
	sym := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			sym.SetSym(i, j, full.At(i, j))
		}
	}
	var eig mat.EigenSym
	require.True(t, eig.Factorize(sym, true))
	eig.VectorsTo(&vectors)
	back.Mul(&inv, &vectors)
	rising := eig.Values(nil)
	for i := n - 1; i >= n-12; i-- {
		values = append(values, rising[i])
		shapes = append(shapes, mat.Col(nil, i, &back))
	}
	return values, shapes
}

func hertz(value float64) float64 { return 1 / (2 * math.Pi * math.Sqrt(value)) }

// finiteAxis is the slow twin of an Axis, ends rigid along x unless told
// otherwise, and returns its node at mid-span.
func finiteAxis(a frame.Axis, elements int, endX float64) (f model, mid int) {
	f = newModel(elements + 1)
	upright := [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	for i := range elements {
		f.member(i, i+1, upright, a.Beam.Length/float64(elements), a.Beam.Section, a.Beam.Metal)
	}
	for _, end := range []int{0, 6 * elements} {
		for d, s := range []float64{endX, a.Ends.Y, a.Ends.Z, a.Ends.Roll} {
			add(f.k, end+d, end+d, s)
		}
	}
	mid = elements / 2
	for _, body := range a.Bodies {
		x, y, z := body.Offset[0], body.Offset[1], body.Offset[2]
		// Velocity of the centre of mass: u + θ×r.
		rows := [3][6]float64{{1, 0, 0, 0, z, -y}, {0, 1, 0, -z, 0, x}, {0, 0, 1, y, -x, 0}}
		for i := range 6 {
			for j := range 6 {
				for _, r := range rows {
					add(f.m, 6*mid+i, 6*mid+j, body.Mass*r[i]*r[j])
				}
			}
		}
		for i, v := range body.Inertia {
			add(f.m, 6*mid+3+i, 6*mid+3+i, v)
		}
	}
	return f, mid
}

// finiteElements returns the frequencies of an axis. With eight elements the
// lowest are exact to about 1e-5 in bending and 1e-4 in torsion.
func finiteElements(t require.TestingT, a frame.Axis, elements int, endX float64) []float64 {
	model, _ := finiteAxis(a, elements, endX)
	values, _ := model.vibrations(t)
	f := make([]float64, len(values))
	for i, v := range values {
		f[i] = hertz(v)
	}
	return f
}

// finiteStand returns the frequencies of swaying along x and y and of twist of a
// stand, a quarter of its mass in each corner of the ring, with two elements to
// each member, good to 1e-4.
func finiteStand(t require.TestingT, s frame.Stand) (x, y, twist float64) {
	// Nodes: feet 0 to 3, corners 4 to 7, middles of legs 8 to 11, of ring 12 to 15.
	f := newModel(16)
	up := [3][3]float64{{0, 0, 1}, {0, 1, 0}, {-1, 0, 0}}
	along := [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	across := [3][3]float64{{0, 1, 0}, {-1, 0, 0}, {0, 0, 1}}
	for i := range 4 {
		f.member(i, 8+i, up, s.Height/2, s.Leg, s.Metal)
		f.member(8+i, 4+i, up, s.Height/2, s.Leg, s.Metal)
		held := 3
		if s.FeetFixed {
			held = 6
		}
		for d := range held {
			add(f.k, 6*i+d, 6*i+d, 1e6*s.Metal.Young*s.Leg.Area/s.Height)
		}
		for d := range 3 {
			add(f.m, 6*(4+i)+d, 6*(4+i)+d, s.Mass/4)
		}
	}
	for i, c := range [4][2]int{{4, 5}, {7, 6}, {4, 7}, {5, 6}} { // 4 and 5 in front, 7 and 6 behind them
		axes, l := along, s.Width
		if i > 1 {
			axes, l = across, s.Depth
		}
		f.member(c[0], 12+i, axes, l/2, s.Leg, s.Metal)
		f.member(12+i, c[1], axes, l/2, s.Leg, s.Metal)
	}
	// Each is the mode that gives way most to forces on the corners in its sense.
	values, shapes := f.vibrations(t)
	var most [3]float64
	for i, v := range shapes {
		at := func(corner, d int) float64 { return v[6*corner+d] }
		for j, moved := range []float64{
			at(4, 0) + at(5, 0) + at(6, 0) + at(7, 0),
			at(4, 1) + at(5, 1) + at(6, 1) + at(7, 1),
			(at(4, 0)+at(5, 0)-at(6, 0)-at(7, 0))*s.Depth - (at(4, 1)-at(5, 1)-at(6, 1)+at(7, 1))*s.Width,
		} {
			if math.Abs(moved) > most[j] {
				most[j] = math.Abs(moved)
				*[]*float64{&x, &y, &twist}[j] = hertz(values[i])
			}
		}
	}
	return x, y, twist
}
