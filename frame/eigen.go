package frame

import "math"

// motions is the number of ways in which mid-span of an axis moves: along y and
// z, about x, y and z.
const motions = 5

type (
	vector [motions]float64
	matrix [motions]vector
)

// eigen returns the eigenvalues of a symmetric positive definite matrix, falling,
// and in the same row of vectors the unit vector of each. Jacobi's rotations keep
// the small eigenvalues accurate relative to themselves, which a reduction to
// tridiagonal form does not: stiffnesses here may lie ten decades apart (J. Demmel
// and K. Veselić, SIAM J. Matrix Anal. Appl. 13 (1992) 1204).
func eigen(a matrix) (values vector, vectors matrix) {
	for i := range motions {
		vectors[i][i] = 1
	}
	const sweeps = 50 // five or six are usual
	for range sweeps {
		if !sweep(&a, &vectors) {
			break
		}
	}
	for i := range motions {
		values[i] = a[i][i]
	}
	for i := range motions { // the largest that is left comes next
		for j := i + 1; j < motions; j++ {
			if values[j] > values[i] {
				values[i], values[j] = values[j], values[i]
				vectors[i], vectors[j] = vectors[j], vectors[i]
			}
		}
	}
	return values, vectors
}

// sweep rotates every pair once and reports whether there was any to rotate.
func sweep(a, vectors *matrix) bool {
	rotated := false
	for p := range motions {
		for q := p + 1; q < motions; q++ {
			if math.Abs(a[p][q]) <= 0x1p-53*math.Sqrt(a[p][p]*a[q][q]) {
				continue
			}
			rotated = true
			theta := (a[q][q] - a[p][p]) / (2 * a[p][q])
			t := math.Copysign(1/(math.Abs(theta)+math.Sqrt(1+theta*theta)), theta)
			c := 1 / math.Sqrt(1+t*t)
			s := t * c
			shift := t * a[p][q]
			a[p][p] -= shift
			a[q][q] += shift
			a[p][q], a[q][p] = 0, 0
			for r := range motions {
				if r != p && r != q {
					x, y := a[r][p], a[r][q]
					a[r][p], a[r][q] = c*x-s*y, s*x+c*y
					a[p][r], a[q][r] = a[r][p], a[r][q]
				}
				x, y := vectors[p][r], vectors[q][r]
				vectors[p][r], vectors[q][r] = c*x-s*y, s*x+c*y
			}
		}
	}
	return rotated
}
