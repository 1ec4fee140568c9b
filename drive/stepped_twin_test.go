package drive_test

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"meltflight/drive"
	"meltflight/drive/drivetest"
	"meltflight/internal/versus"
)

// elements is the shaft once more by Hermite's cubic elements between all places where
// something is or at most a step apart: stiffness and consistent mass, stiff bearings
// taken out of the unknowns.
type elements struct {
	places          []float64
	free            []int // unknowns: 2i deflection, 2i+1 slope of place i
	stiffness, mass *mat.SymDense
}

func hermite(s drive.StepShaft, step float64) *elements {
	l := s.Length()
	e := &elements{places: []float64{0}}
	x := 0.0
	for _, g := range s.Segments {
		x += g.Length
		e.places = append(e.places, x)
	}
	for _, b := range s.Bearings {
		e.places = append(e.places, b.Position)
	}
	for _, p := range s.Loads {
		e.places = append(e.places, p.Position)
	}
	for _, d := range s.Disks {
		e.places = append(e.places, d.Position)
	}
	slices.Sort(e.places)
	e.places = slices.CompactFunc(e.places, func(a, b float64) bool { return math.Abs(a-b) < 1e-9*l })
	for i, from := range e.places[:len(e.places)-1] {
		n := math.Ceil((e.places[i+1] - from) / step)
		for k := 1.0; k < n; k++ {
			e.places = append(e.places, from+(e.places[i+1]-from)*k/n)
		}
	}
	slices.Sort(e.places)
	n := len(e.places)
	k, m := mat.NewSymDense(2*n, nil), mat.NewSymDense(2*n, nil)
	add := func(to *mat.SymDense, i, j int, v float64) { to.SetSym(i, j, to.At(i, j)+v) }
	for i := range n - 1 {
		h, mid := e.places[i+1]-e.places[i], (e.places[i+1]+e.places[i])/2
		x := 0.0
		var g drive.Segment
		for _, g = range s.Segments {
			if x += g.Length; mid < x {
				break
			}
		}
		ei := s.Modulus * math.Pi / 64 * (math.Pow(g.Diameter, 4) - math.Pow(g.Bore, 4)) / (h * h * h)
		mu := s.Density * math.Pi / 4 * (g.Diameter*g.Diameter - g.Bore*g.Bore) * h / 420
		for r, row := range [4][4]float64{{12, 6 * h, -12, 6 * h}, {0, 4 * h * h, -6 * h, 2 * h * h}, {0, 0, 12, -6 * h}, {0, 0, 0, 4 * h * h}} {
			for c := r; c < 4; c++ {
				add(k, 2*i+r, 2*i+c, ei*row[c])
			}
		}
		for r, row := range [4][4]float64{{156, 22 * h, 54, -13 * h}, {0, 4 * h * h, 13 * h, -3 * h * h}, {0, 0, 156, -22 * h}, {0, 0, 0, 4 * h * h}} {
			for c := r; c < 4; c++ {
				add(m, 2*i+r, 2*i+c, mu*row[c])
			}
		}
	}
	held := map[int]bool{}
	for _, b := range s.Bearings {
		i := 2 * e.near(b.Position)
		if b.Give == 0 {
			held[i] = true
		} else {
			add(k, i, i, 1/b.Give)
		}
	}
	for _, d := range s.Disks {
		i := 2 * e.near(d.Position)
		add(m, i, i, d.Mass)
		add(m, i+1, i+1, d.Inertia)
	}
	for i := range 2 * n {
		if !held[i] {
			e.free = append(e.free, i)
		}
	}
	e.stiffness, e.mass = mat.NewSymDense(len(e.free), nil), mat.NewSymDense(len(e.free), nil)
	for i, p := range e.free {
		for j, q := range e.free[:i+1] {
			e.stiffness.SetSym(i, j, k.At(p, q))
			e.mass.SetSym(i, j, m.At(p, q))
		}
	}
	return e
}

func (e *elements) near(x float64) int {
	best := 0
	for i, p := range e.places {
		if math.Abs(p-x) < math.Abs(e.places[best]-x) {
			best = i
		}
	}
	return best
}

// bend returns deflection and slope of each place.
func (e *elements) bend(loads []drive.PointLoad) []float64 {
	all := make([]float64, 2*len(e.places))
	for _, l := range loads {
		i := 2 * e.near(l.Position)
		all[i] += l.Force
		all[i+1] += l.Couple
	}
	known, y := mat.NewVecDense(len(e.free), nil), mat.NewVecDense(len(e.free), nil)
	for i, p := range e.free {
		known.SetVec(i, all[p])
	}
	var c mat.Cholesky
	if !c.Factorize(e.stiffness) || c.SolveVecTo(y, known) != nil {
		return nil
	}
	clear(all)
	for i, p := range e.free {
		all[p] = y.AtVec(i)
	}
	return all
}

// whirl returns the first two critical speeds [rev/s]: of M = LLᵀ, 1/ω² are the eigenvalues
// of Lᵀ·K⁻¹·L, whose largest keep their digits.
func (e *elements) whirl() (first, second float64) {
	var k, m mat.Cholesky
	k.Factorize(e.stiffness)
	m.Factorize(e.mass)
	var l mat.TriDense
	m.LTo(&l)
	var bent, whole mat.Dense
	_ = k.SolveTo(&bent, &l)
	whole.Mul(l.T(), &bent)
	n := len(e.free)
	sym := mat.NewSymDense(n, nil)
	for i := range n {
		for j := range i + 1 {
			sym.SetSym(i, j, (whole.At(i, j)+whole.At(j, i))/2)
		}
	}
	var eigen mat.EigenSym
	eigen.Factorize(sym, false)
	v := eigen.Values(nil)
	return 1 / math.Sqrt(v[n-1]) / (2 * math.Pi), 1 / math.Sqrt(v[n-2]) / (2 * math.Pi)
}

func TestPropertyStepShaftAgreesWithElements(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drivetest.StepShafts().Draw(t, "shaft")
		b := bentShaft(t, s)
		e := hermite(s, s.Length())
		for i, x := range e.places[1:] {
			if x-e.places[i] < 2e-3*s.Length() {
				return // elements of very different lengths lose their digits
			}
		}
		y := e.bend(s.Loads)
		require.NotNil(t, y)
		deflection, slope := largestBend(t, s, b)
		for i, x := range e.places {
			p := shaftPoint(t, b, x)
			require.InDelta(t, 0, (p.Deflection-y[2*i])/deflection, 1e-6)
			require.InDelta(t, 0, (p.Slope-y[2*i+1])/slope, 1e-6)
		}
		w, err := s.Whirl()
		require.NoError(t, err)
		first, second := hermite(s, s.Length()/24).whirl()
		require.InEpsilon(t, first, w.First, 5e-4) // five elements to a short bay
		require.InEpsilon(t, second, w.Second, 5e-3)
	})
}

// BenchmarkStepShaft compares the closed integrals with Hermite's elements at the same places.
func BenchmarkStepShaft(b *testing.B) {
	s := overhung()
	s.Bearings = append(s.Bearings, drive.ShaftBearing{Position: 0.15, Give: 1e-8})
	b.Run("bend", func(b *testing.B) {
		versus.Report(b, "x-elements", func(i int) {
			s.Loads[0].Force = -300 - float64(i%7)
			r, err := s.Bend()
			if err != nil {
				b.Fatal(err)
			}
			sink += r.Reactions[0]
		}, func(i int) {
			s.Loads[0].Force = -300 - float64(i%7)
			sink += hermite(s, 1).bend(s.Loads)[1]
		})
	})
	s.Density = 7850
	b.Run("whirl", func(b *testing.B) {
		versus.Report(b, "x-elements", func(i int) {
			s.Modulus = 205e9 + 1e6*float64(i%7)
			w, err := s.Whirl()
			if err != nil {
				b.Fatal(err)
			}
			sink += w.First
		}, func(i int) {
			s.Modulus = 205e9 + 1e6*float64(i%7)
			first, _ := hermite(s, 0.0151).whirl()
			sink += first
		})
	})
}
