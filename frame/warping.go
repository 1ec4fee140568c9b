package frame

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"meltflight/internal/input"
)

// ErrThin says that a polygon's walls are too thin beside its outline for
// [Polygon.Torsion]; [Bredt] and [ThinOpen] are made for such.
var ErrThin = errors.New("walls too thin for the torsion of a polygon")

const (
	piecesAround = 240 // in the coarser of two divisions of the boundary
	twistCorners = 200
	mostChange   = 0.05 // between the finer division and what is extrapolated
)

// Torsion returns Saint-Venant's torsion constant of the polygon [m⁴], holes and
// all. It errs where Moments does, on more than 200 corners in all, and with
// [ErrThin] where two divisions of the boundary differ too much.
//
// The warping ω is found on the boundary, its mean on each of some hundred pieces
// graded towards the corners, from ∇²ω = 0 with ∂ω/∂n = z·n_y − y·n_z (boundary
// elements), and J = Iy + Iz − ∮ω ∂ω/∂n ds, which is a little high, extrapolated
// from 240 and 480 pieces. S. Timoshenko and J. Goodier, Theory of Elasticity, art.
// 105, has the problem, from memory. The error is 1e-5 for bars and tubes, 2e-3 for
// an angle whose wall is a tenth of its legs, and below 5e-3 wherever it answers. It
// takes a tenth of a second or two, and memory for a matrix.
func (p Polygon) Torsion() (float64, error) {
	m, err := p.Moments()
	if err != nil {
		return 0, err
	}
	corners := len(p.Outline)
	for _, h := range p.Holes {
		corners += len(h)
	}
	if corners > twistCorners {
		var f input.Faults
		f.Count("frame.Polygon.Torsion: corners in all", corners, 3, twistCorners)
		return 0, f.Err()
	}
	coarse := twist(m, p.strips(m.Centroid, 1))
	fine := twist(m, p.strips(m.Centroid, 2))
	j := math.Min(fine+(fine-coarse)/3, m.Iy+m.Iz) // error with the square of a piece
	if change := math.Abs(fine-j) / j; !(j > 0 && change <= mostChange) {
		return 0, fmt.Errorf("%w: finer pieces still change it by %.2g of itself, at most %g", ErrThin, change, mostChange)
	}
	return j, nil
}

// strip is a straight piece of boundary, the metal on its left, as seen from the centroid.
type strip struct {
	a, b   Point
	length float64 // [m]
	slope  float64 // ∂ω/∂n at its middle [m]
}

func (s *strip) middle() Point { return Point{0.5 * (s.a.Y + s.b.Y), 0.5 * (s.a.Z + s.b.Z)} }

// strips divides every side, finer by a whole factor.
func (p Polygon) strips(centroid Point, finer int) []strip {
	var around float64
	for i := range p.loops() {
		c := p.loop(i)
		for k := range c {
			around += distance(c[k], c[(k+1)%len(c)])
		}
	}
	var all []strip
	for i := range p.loops() {
		c := p.loop(i)
		var area float64
		for k := range c {
			area += turn(c[0], c[k], c[(k+1)%len(c)])
		}
		backwards := area > 0 != (i == 0) // an outline runs from y to z, a hole back
		for k := range c {
			a, b := c[k], c[(k+1)%len(c)]
			if backwards {
				a, b = b, a
			}
			dy, dz, length := b.Y-a.Y, b.Z-a.Z, distance(a, b)
			n := finer * int(math.Ceil(length/around*piecesAround))
			from := Point{a.Y - centroid.Y, a.Z - centroid.Z}
			start := from
			for j := 1; j <= n; j++ {
				u := 0.5 * (1 - math.Cos(math.Pi*float64(j)/float64(n)))
				s := strip{a: start, b: Point{from.Y + u*dy, from.Z + u*dz}}
				s.length = distance(s.a, s.b)
				mid := s.middle()
				s.slope = (mid.Y*dy + mid.Z*dz) / length
				all = append(all, s)
				start = s.b
			}
		}
	}
	return all
}

// twist solves for the warping of the strips and returns J, or NaN.
func twist(m Moments, strips []strip) float64 {
	n, size := len(strips), math.Sqrt(m.Area)
	k, f := mat.NewDense(n, n, nil), mat.NewVecDense(n, nil)
	for i := range strips {
		x := strips[i].middle()
		var sum, check float64
		for j := range strips {
			angle, log := strips[j].seen(x)
			if i == j {
				angle = -math.Pi // all other angles together
			}
			// A warping that is the same all round is no warping: its mean is zero.
			entry := angle + strips[j].length/size
			k.Set(i, j, entry)
			sum += strips[j].slope * log
			check += entry
		}
		if math.IsNaN(sum+check) || math.IsInf(sum+check, 0) {
			return math.NaN()
		}
		f.SetVec(i, sum)
	}
	var w mat.VecDense
	if err := w.SolveVec(k, f); err != nil {
		return math.NaN()
	}
	j := m.Iy + m.Iz
	for i := range strips {
		j -= w.AtVec(i) * strips[i].slope * strips[i].length
	}
	return j
}

// seen returns the angle under which a strip appears from a point, positive from
// the metal's side, and ∫ln r ds over it.
func (s *strip) seen(x Point) (angle, log float64) {
	ty, tz := (s.b.Y-s.a.Y)/s.length, (s.b.Z-s.a.Z)/s.length
	ay, az, by, bz := s.a.Y-x.Y, s.a.Z-x.Z, s.b.Y-x.Y, s.b.Z-x.Z
	angle = math.Atan2(ay*bz-az*by, ay*by+az*bz)
	off := ay*tz - az*ty
	return angle, (by*ty+bz*tz)*math.Log(math.Hypot(by, bz)) - (ay*ty+az*tz)*math.Log(math.Hypot(ay, az)) - s.length + off*angle
}

func distance(a, b Point) float64 { return math.Hypot(b.Y-a.Y, b.Z-a.Z) }
