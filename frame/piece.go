package frame

import "math"

// two is a matrix over the motion and the turning of one place.
type two [2][2]float64

func (a two) times(b two) two {
	return two{
		{a[0][0]*b[0][0] + a[0][1]*b[1][0], a[0][0]*b[0][1] + a[0][1]*b[1][1]},
		{a[1][0]*b[0][0] + a[1][1]*b[1][0], a[1][0]*b[0][1] + a[1][1]*b[1][1]},
	}
}

func (a two) plus(b two) two {
	return two{{a[0][0] + b[0][0], a[0][1] + b[0][1]}, {a[1][0] + b[1][0], a[1][1] + b[1][1]}}
}

func (a two) on(v [2]float64) [2]float64 {
	return [2]float64{a[0][0]*v[0] + a[0][1]*v[1], a[1][0]*v[0] + a[1][1]*v[1]}
}

func (a *two) det() float64 { return a[0][0]*a[1][1] - a[0][1]*a[1][0] }

// adjoint returns the inverse times the determinant.
func (a *two) adjoint() two { return two{{a[1][1], -a[0][1]}, {-a[1][0], a[0][0]}} }

// medium is the beam between its joints at one frequency, in units of its length,
// its EI and a mass.
type medium struct {
	soft float64 // c = 1/(1 − P/κGA)
	g    float64 // EI/κGAL²
	w    float64 // inertia against motion, mω²
	e    float64 // cP + inertia against turning, ρIω²
	b, q float64 // λ⁴ + bλ² − q = 0 for shapes exp(λx)
}

// newMedium is for inertia against motion and turning times ω².
func newMedium(shear, axial, moving, turning float64) medium {
	c := 1 / (1 - shear*axial)
	e := c*axial + turning
	return medium{soft: c, g: shear, w: moving, e: e, b: c*shear*moving + e, q: c * moving * (1 - shear*turning)}
}

// waves returns the wave number of the shape that oscillates, and the largest |λ| of all.
func (m *medium) waves() (oscillating, largest float64) {
	d := m.soft*m.g*m.w - m.e
	root := math.Sqrt(d*d + 4*m.w*m.soft*m.soft)
	// The larger of the two squares; the other follows from their product.
	big := 0.5 * (math.Abs(m.b) + root)
	if m.b >= 0 || big == 0 {
		return math.Sqrt(big), math.Sqrt(big)
	}
	return math.Sqrt(math.Max(0, m.q/big)), math.Sqrt(big)
}

// series returns aᵢ of exp(Ax) = a₀ + a₁A + a₂A² + a₃A³ and, as a₄ and a₅, the
// integrals of a₁ and a₃, for |λ|x up to 1. By A⁴ = −bA² + q every even power is
// u·A² + v, so that neither a static load, nor λ twice the same, nor a beam without
// mass is a special case.
func (m *medium) series(x float64) (a [6]float64) {
	b, q := m.b*x*x, m.q*x*x*x*x
	u, v := 0.0, 1.0
	share := 1.0 // 1/(2n)!
	for n := 1.0; n < 21; n += 2 {
		next := share / n
		after := next / (n + 1)
		a[0] += v * share
		a[1] += v * next
		a[2] += u * share
		a[3] += u * next
		a[4] += v * after
		a[5] += u * after
		share = after
		u, v = v-b*u, q*u
	}
	a[1] *= x
	a[2] *= x * x
	a[3] *= x * x * x
	a[4] *= x * x
	a[5] *= x * x * x * x
	return a
}

// piece takes motion and turning d, force and moment f from one place to another:
// d → dd·d + df·f, f → fd·d + ff·f. A load of 1 along the length adds even and
// evenForce.
type piece struct {
	dd, df, fd, ff  two
	even, evenForce [2]float64
}

// across returns the piece of length x, |λ|x up to 1: exp(Ax) of
//
//	w′ = cθ + cgV, θ′ = M, V′ = −mω²w − load, M′ = −cV − eθ
func (m *medium) across(x float64) piece {
	a := m.series(x)
	c, g, w, e := m.soft, m.g, m.w, m.e
	cw := c * w
	return piece{
		dd:   two{{a[0] - a[2]*g*cw, a[1]*c - a[3]*c*(e+g*cw)}, {a[3] * cw, a[0] - a[2]*e}},
		df:   two{{a[1]*c*g - a[3]*c*c*(1+g*g*w), a[2] * c}, {-a[2] * c, a[1] - a[3]*e}},
		fd:   two{{-a[1]*w + a[3]*g*cw*w, -a[2] * cw}, {a[2] * cw, -a[1]*e + a[3]*(c*cw+e*e)}},
		ff:   two{{a[0] - a[2]*g*cw, -a[3] * cw}, {-a[1]*c + a[3]*c*(e+g*cw), a[0] - a[2]*e}},
		even: [2]float64{a[5]*c*c*(1+g*g*w) - a[4]*c*g, a[3] * c}, evenForce: [2]float64{a[3]*g*cw - a[1], a[4]*c - a[5]*c*(e+g*cw)},
	}
}

// basis spans all that the part of a beam before a place allows there: motions in
// the columns of d, forces in those of f.
type basis struct{ d, f two }

// turn mixes the columns, by a rotation, so that row of d is zero in the other column.
func (y *basis) turn(row int) {
	other := 1 - row
	size := math.Hypot(y.d[row][0], y.d[row][1])
	if size == 0 {
		return
	}
	c, s := y.d[row][row]/size, y.d[row][other]/size
	for _, m := range [...]*two{&y.d, &y.f} {
		for k := range m {
			a, b := m[k][row], m[k][other]
			m[k][row], m[k][other] = c*a+s*b, c*b-s*a
		}
	}
	y.d[row][other] = 0 // to the last bit, for a hard spring would show it
}

// meet adds a joint with its stiffness, and holds the place still.
func (y *basis) meet(z two, still [2]bool) {
	// The stiffer direction shall push in one column alone, or a hard spring would
	// drown what the other tells.
	row := 0
	if math.Abs(z[1][1]) > math.Abs(z[0][0]) {
		row = 1
	}
	if still[0] != still[1] {
		row = 0
		if still[1] {
			row = 1
		}
	}
	y.turn(row)
	y.f = y.f.plus(z.times(y.d))
	for k, held := range still {
		if held {
			for n := range 2 {
				y.d[n][k], y.f[n][k] = 0, 0
				y.f[k][n] = 0
			}
			y.f[k][k] = 1
		}
	}
}

// pass takes the basis to the far end of a piece.
func (y *basis) pass(t *piece) basis {
	return basis{t.dd.times(y.d).plus(t.df.times(y.f)), t.fd.times(y.d).plus(t.ff.times(y.f))}
}

// even makes the columns of equal length and at right angles.
func (y *basis) even() {
	a := [4]float64{y.d[0][0], y.d[1][0], y.f[0][0], y.f[1][0]}
	b := [4]float64{y.d[0][1], y.d[1][1], y.f[0][1], y.f[1][1]}
	unit(&a)
	dot := a[0]*b[0] + a[1]*b[1] + a[2]*b[2] + a[3]*b[3]
	for k := range b {
		b[k] -= dot * a[k]
	}
	unit(&b)
	y.d = two{{a[0], b[0]}, {a[1], b[1]}}
	y.f = two{{a[2], b[2]}, {a[3], b[3]}}
}

func unit(a *[4]float64) {
	size := math.Sqrt(a[0]*a[0] + a[1]*a[1] + a[2]*a[2] + a[3]*a[3])
	for k := range a {
		a[k] /= size
	}
}

// negative counts the negative eigenvalues of a symmetric matrix of the motions
// that are not held, by the sign of its determinant and its diagonal.
func negative(det, trace float64, still [2]bool) int {
	switch {
	case det < 0:
		return 1
	case still[0] || still[1] || trace >= 0:
		return 0
	case det == 0:
		return 1
	}
	return 2
}
