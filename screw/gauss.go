package screw

import "gonum.org/v1/gonum/integrate/quad"

// node is a point of a rule of quadrature from −1 to 1. Of values at all its points, last
// and lastButOne sum up the parts of the two highest Legendre polynomials they tell apart.
type node struct{ at, weight, last, lastButOne float64 }

var (
	four   = [4]node(gauss(4))
	five   = [5]node(gauss(5))
	six    = [6]node(gauss(6))
	eight  = [8]node(gauss(8))
	twelve = [12]node(gauss(12))
)

func gauss(points int) []node {
	x, w := make([]float64, points), make([]float64, points)
	quad.Legendre{}.FixedLocations(x, w, -1, 1)
	rule := make([]node, points)
	for i := range rule {
		p, q := 1.0, x[i]
		for n := 2; n < points; n++ {
			k := float64(n)
			p, q = q, ((2*k-1)*x[i]*q-(k-1)*p)/k
		}
		rule[i] = node{x[i], w[i], w[i] * q * (float64(points) - 0.5), w[i] * p * (float64(points) - 1.5)}
	}
	return rule
}
