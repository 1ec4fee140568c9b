package screw

import "gonum.org/v1/gonum/integrate/quad"

// Points and weights of Gauss's rule on −1 to 1, and of a shorter one for what hardly varies.
var (
	gaussNodes, gaussWeights [12]float64
	shortNodes, shortWeights [5]float64
)

const shortHalf = 0.1

func init() {
	quad.Legendre{}.FixedLocations(gaussNodes[:], gaussWeights[:], -1, 1)
	quad.Legendre{}.FixedLocations(shortNodes[:], shortWeights[:], -1, 1)
}
