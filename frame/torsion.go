package frame

import (
	"math"

	"meltflight/internal/input"
)

// barTorsion returns the torsion constant [m⁴] and modulus [m³] of a solid
// rectangle, both exact.
func barTorsion(long, short float64) (j, modulus float64) {
	// Σ tanh(nπa/2b)/n⁵ over odd n, less its limit 31ζ(5)/32 for a long side: what
	// is left falls as exp(-nπ), so that few terms exhaust a float64. So it does in
	// the stress at the middle of the long side, 1 − 8/π² Σ 1/(n² cosh(nπa/2b)), at half the pace.
	const limit = 31 * 1.0369277551433699 / 32
	sum, stress := limit, 1.0
	for n := 1.0; n*long < 24*short; n += 2 {
		e := math.Exp(-0.5 * n * math.Pi * long / short)
		sum -= 2 * e * e / (n * n * n * n * n * (1 + e*e))
		stress -= 16 / (math.Pi * math.Pi) * e / (n * n * (1 + e*e))
	}
	factor := 1.0/3 - 64/math.Pow(math.Pi, 5)*short/long*sum
	return factor * long * short * short * short, factor * long * short * short / stress
}

// Bredt returns the torsion constant [m⁴] of a closed thin wall and its torque ÷
// shear stress in the thinnest side [m³]. The mid-line has 3 to 2000 corners within
// 10 m, in order; walls are the thicknesses of its sides, each from one corner to the
// next, 1e-6 m to a quarter of its side. It errs on other input and on a mid-line that
// crosses itself.
//
// Source: R. Bredt (1896), J = 4·Am²/∮ds/t, τ = T/(2·Am·t), from memory. Square
// corners and the skin of the wall add to J: 3 % for a tube of 60×40×3 mm, which
// [RectangularTube] counts. At the inside of a corner the stress is higher.
func Bredt(midLine []Point, walls []float64) (j, modulus float64, err error) {
	p := Polygon{Outline: midLine}
	var f input.Faults
	f.Add(p.Validate())
	if len(walls) != len(midLine) {
		f.Refuse("frame.Bredt: walls", float64(len(walls)), "", "one for each side of the mid-line, "+input.WithUnit(float64(len(midLine)), ""))
	}
	if err := f.Err(); err != nil {
		return 0, 0, err
	}
	enclosed := loop(midLine, midLine[0]).Area
	if !(enclosed >= 1e-10) {
		f.Refuse("frame.Bredt: area inside the mid-line", enclosed, "m²", "1e-10 m² or more")
	}
	var sum float64
	least := math.Inf(1)
	for i, t := range walls {
		next := midLine[(i+1)%len(midLine)]
		side := math.Hypot(next.Y-midLine[i].Y, next.Z-midLine[i].Z)
		if !(t >= thinnestWall && t <= 0.25*side) {
			f.Refuse(nth("frame.Bredt: walls", i), t, "m", input.Range(thinnestWall, 0.25*side, "m"))
		}
		sum += side / t
		least = math.Min(least, t)
	}
	if err := f.Err(); err != nil {
		return 0, 0, err
	}
	return 4 * enclosed * enclosed / sum, 2 * enclosed * least, nil
}

// ThinOpen returns the torsion constant Σbt³/3 [m⁴] of walls joined to an open
// section and its torque ÷ shear stress in the thickest of them [m³]. Lengths are
// 1e-4 to 10 m, walls 1e-6 m to a quarter of the length, one for each.
//
// Free ends and joints are left out: each end takes 0.105 t⁴ from J, each right angle
// gives as a [Tee] or [Channel] counts it, fillets more. Source: S. Timoshenko and J. Goodier,
// Theory of Elasticity, art. 108 (from memory).
func ThinOpen(lengths, walls []float64) (j, modulus float64, err error) {
	var f input.Faults
	if len(lengths) == 0 || len(walls) != len(lengths) {
		f.Refuse("frame.ThinOpen: walls", float64(len(walls)), "", "one for each length, at least one")
		return 0, 0, f.Err()
	}
	var most float64
	for i, t := range walls {
		b := lengths[i]
		if !(b >= smallestSide && b <= largestSide) {
			f.Refuse(nth("frame.ThinOpen: lengths", i), b, "m", input.Range(smallestSide, largestSide, "m"))
			continue
		}
		if !(t >= thinnestWall && t <= 0.25*b) {
			f.Refuse(nth("frame.ThinOpen: walls", i), t, "m", input.Range(thinnestWall, 0.25*b, "m"))
			continue
		}
		j += b * t * t * t / 3
		most = math.Max(most, t)
	}
	if err := f.Err(); err != nil {
		return 0, 0, err
	}
	return j, j / most, nil
}
