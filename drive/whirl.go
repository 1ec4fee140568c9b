package drive

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/mat"

	"meltflight/internal/input"
)

// Whirl holds the critical speeds of a StepShaft, at which it vibrates freely in
// bending. Rayleigh and Dunkerley enclose First.
type Whirl struct {
	First     float64  // [rev/s]
	Second    float64  // 0 if nothing moves a second way [rev/s]
	Rayleigh  float64  // from above, by the shape that the weights bend when each pulls the way it swings [rev/s]
	Dunkerley float64  // from below, by the shaft alone and each disk alone [rev/s]
	Beyond    []string // outside the range of the theory, in words
}

// ErrNoWhirl reports that the search for the eigenvalues of a shaft did not end. No
// shaft within the ranges is known that does it.
var ErrNoWhirl = errors.New("no eigenvalues found")

// Whirl returns the critical speeds of the shaft with its disks; loads play no part.
//
// Method: with A the deflections by unit forces, of Bend, and M the masses, 1/ω² are
// the eigenvalues of √M·A·√M; the shaft's own mass sits at Gauss points, two for each tenth of
// its longest bay, by which an even shaft's first speed is 7e-7 off and its second 1.2e-5. Bounds: Rayleigh's
// quotient; Dunkerley's 1/ω² < 1/ω_shaft² + Σ m·δ; R. G. Budynas and J. K. Nisbett, Shigley's
// Mechanical Engineering Design, 9th ed. (2011), section 7-6.
//
// A disk's inertia about its diameter counts as of a shaft that does not turn; the
// gyroscopic moment, by which a turning disk stiffens the shaft in forward whirl and softens it
// in backward whirl, is left out. So are damping, shear and the give of the frame, unless
// Give counts it.
func (s StepShaft) Whirl() (Whirl, error) {
	var f input.Faults
	s.check(&f)
	if err := f.Err(); err != nil {
		return Whirl{}, err
	}
	supports, err := s.supports()
	if err != nil {
		return Whirl{}, err
	}
	swung, own := s.swung()
	if len(swung) == 0 {
		f.Refuse("drive.StepShaft.Density", s.Density, "kg/m³", "above 0 where there are no disks")
		return Whirl{}, f.Err()
	}
	g, mass := supports.receptance(swung), 0.0
	length := supports.line.length()
	for i := range swung {
		mass += square(swung[i].root / swung[i].arm(length))
	}
	values, shape, err := eigen(g, true)
	if err != nil {
		return Whirl{}, err
	}
	// Below this part of what the mass could do nothing is left of the digits.
	if first := values[0]; !(first > 1e-13*supports.unit*mass) {
		f.Refuse("drive.StepShaft.Disks: flexibility × mass that can swing", first, "s²",
			"above the rounding of the whole; a mass that sits on a stiff bearing cannot swing")
		return Whirl{}, f.Err()
	}
	w := Whirl{First: criticalSpeed(values[0]), Rayleigh: rayleigh(g, shape, swung, length), Beyond: s.beyond()}
	if len(values) > 1 && values[1] > 1e-12*values[0] {
		w.Second = criticalSpeed(values[1])
	}
	sum := 0.0
	for i := own; i < len(swung); i++ {
		sum += g.At(i, i)
	}
	if own > 0 {
		alone, _, err := eigen(g.SliceSym(0, own).(*mat.SymDense), false)
		if err != nil {
			return Whirl{}, err
		}
		sum += alone[0]
	}
	w.Dunkerley = criticalSpeed(sum)
	return w, nil
}

// swinging is one mass, or one inertia that tilts with the shaft.
type swinging struct {
	position float64 // [m]
	root     float64 // square root of mass or inertia [√kg or m·√kg]
	tilts    bool
}

// arm makes an inertia comparable with a mass.
func (w *swinging) arm(length float64) float64 {
	if w.tilts {
		return length
	}
	return 1
}

// The shaft's own mass sits at Gauss points of parts of a tenth of its longest bay or less,
// from bearing to bearing or out to an end: no mode is shorter than some bay.
const (
	massParts  = 10
	massPoints = 2
)

// swung returns all that swings, and how many of them, the first, are of the shaft itself.
func (s *StepShaft) swung() (list []swinging, own int) {
	length := s.Length()
	var at, weight [massPoints]float64
	if s.Density > 0 {
		from, longest := 0.0, 0.0
		for i := range s.Bearings {
			longest, from = max(longest, s.Bearings[i].Position-from), s.Bearings[i].Position
		}
		longest, from = max(longest, length-from), 0
		for i := range s.Segments {
			g := &s.Segments[i]
			n := math.Ceil(massParts * g.Length / longest * (1 - lengthSlack))
			h := g.Length / n
			lineal := s.Density * math.Pi / 4 * (square(g.Diameter) - square(g.Bore))
			for p := range int(n) {
				quad.Legendre{}.FixedLocations(at[:], weight[:], from+h*float64(p), from+h*float64(p+1))
				for k := range at {
					list = append(list, swinging{position: at[k], root: math.Sqrt(lineal * weight[k])})
				}
			}
			from += g.Length
		}
	}
	own = len(list)
	for i := range s.Disks {
		d := &s.Disks[i]
		list = append(list, swinging{position: min(d.Position, length), root: math.Sqrt(d.Mass)})
		if d.Inertia > 0 {
			list = append(list, swinging{position: min(d.Position, length), root: math.Sqrt(d.Inertia), tilts: true})
		}
	}
	return list, own
}

// receptance returns √M·A·√M.
func (u *supports) receptance(swung []swinging) *mat.SymDense {
	g := mat.NewSymDense(len(swung), nil)
	unit := make([]PointLoad, 1)
	for j, of := range swung {
		unit[0] = PointLoad{Position: of.position, Force: 1}
		if of.tilts {
			unit[0] = PointLoad{Position: of.position, Couple: 1}
		}
		b := u.bend(unit, nil)
		for i, at := range swung[:j+1] {
			p := b.at(at.position)
			y := p.Deflection
			if at.tilts {
				y = p.Slope
			}
			g.SetSym(i, j, at.root*y*of.root)
		}
	}
	return g
}

// eigen returns the eigenvalues, largest first, and the first eigenvector if wanted.
func eigen(g *mat.SymDense, wanted bool) (values, first []float64, err error) {
	var e mat.EigenSym
	if !e.Factorize(g, wanted) {
		return nil, nil, ErrNoWhirl
	}
	values = e.Values(nil)
	n := len(values)
	slices.Reverse(values)
	if !wanted {
		return values, nil, nil
	}
	var vectors mat.Dense
	e.VectorsTo(&vectors)
	return values, mat.Col(nil, n-1, &vectors), nil
}

// rayleigh returns the speed by the shape that each mass bends by its weight, pulled
// the way it swings in the first mode; an inertia pulls as its mass at the shaft's length.
func rayleigh(g *mat.SymDense, shape []float64, swung []swinging, length float64) float64 {
	n := len(swung)
	pull, bent := mat.NewVecDense(n, nil), mat.NewVecDense(n, nil)
	for i := range swung {
		pull.SetVec(i, math.Copysign(swung[i].root/swung[i].arm(length), shape[i]))
	}
	bent.MulVec(g, pull)
	return criticalSpeed(mat.Dot(bent, bent) / mat.Dot(pull, bent))
}

// rev turns 1/ω² into a speed [rev/s].
func criticalSpeed(inverse float64) float64 { return 1 / (2 * math.Pi * math.Sqrt(inverse)) }
