package screw

import "math"

// sideWalls returns the shape factors on drag and on what pressure takes, for a melt
// of local power-law index n, above 0, at the channel's rate [-].
//
// A melt sheared over the depth resists a little more of that shear n times as much as
// shear across it, so its side walls are felt over more of the width: by 1/√n, would it
// only flow along, and less where it circulates across, which turns the shear. The cube
// root lies between; it was found on whole cross-sections solved by finite elements.
// With it, q being the infinitely wide channel's flow, F_d·q(0) + F_p·(q(g) − q(0)) is
// off by up to 0.6 % of the drag flow at n from 0.3, depth ÷ width 0.1, a helix angle of
// 18° and any pressure up to closed discharge (1 % at 10° and 30°, 1.5 % under a weak
// pull), and by 1.3 % at n = 0.2 or at a depth ÷ width of 0.2. The factors of n = 1
// leave 3.3 % at n = 0.3, and 6.5 % at a depth ÷ width of 0.2. At n = 1 it is exact.
func sideWalls(aspect, index float64) (drag, pressure float64) {
	return shapeFactors(aspect / math.Cbrt(index))
}
