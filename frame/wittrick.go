package frame

import (
	"errors"
	"math"
	"sort"
)

// ErrBuckled reports a beam or frame whose axial loads alone make it bow away.
var ErrBuckled = errors.New("buckled")

// ErrLost reports that the search for a natural frequency did not end, which
// rounding can cause in a frame far more stiff in one part than in another.
var ErrLost = errors.New("natural frequency not found")

// sample is a λ at which natural frequencies were counted.
type sample struct {
	lambda float64
	below  int
}

// search finds the roots of D(λ)x = 0 in their order.
type search struct {
	a       *assembly
	floor   float64  // the least λ that stands out from rounding
	samples []sample // by rising λ
	found   []eigen
	x, b    []float64
	seed    uint64
	counts  int // factorizations
}

// eigen is an eigenvalue with its vector, xᵀMx = 1.
type eigen struct {
	lambda float64
	x      []float64
}

func newSearch(a *assembly) *search {
	n := len(a.k.first)
	const least = 1e-12 // one vibration in two months
	return &search{a: a, floor: math.Max(a.haze(), least), x: make([]float64, n), b: make([]float64, n), seed: 1}
}

// at factors D(λ), counts and remembers.
func (s *search) at(lambda float64) int {
	n := s.a.count(lambda)
	s.counts++
	i := sort.Search(len(s.samples), func(i int) bool { return s.samples[i].lambda >= lambda })
	s.samples = append(s.samples, sample{})
	copy(s.samples[i+1:], s.samples[i:])
	s.samples[i] = sample{lambda, n}
	return n
}

// bracket returns the closest samples around the i-th root, from 1.
func (s *search) bracket(i int) (lo, hi sample) {
	j := sort.Search(len(s.samples), func(j int) bool { return s.samples[j].below >= i })
	if j > 0 {
		lo = s.samples[j-1]
	}
	if j < len(s.samples) {
		hi = s.samples[j]
	} else {
		hi = sample{math.Inf(1), math.MaxInt}
	}
	return lo, hi
}

// between returns a λ to count at inside a bracket.
func between(lo, hi float64) float64 {
	if hi > 4*lo {
		return math.Sqrt(lo) * math.Sqrt(hi)
	}
	return lo + (hi-lo)/2
}

// above raises the last sample until n roots lie below one, and tells whether it could.
func (s *search) above(n int) bool {
	for range 400 {
		_, hi := s.bracket(n)
		if !math.IsInf(hi.lambda, 1) {
			return true
		}
		last := s.samples[len(s.samples)-1].lambda
		if last > 1e250 {
			return false
		}
		s.at(16 * last)
	}
	return false
}

// narrow brings the bracket of the n-th root within a factor of two.
func (s *search) narrow(n int) sample {
	for range 400 {
		lo, hi := s.bracket(n)
		if hi.lambda <= 2*lo.lambda {
			return hi
		}
		s.at(between(lo.lambda, hi.lambda))
	}
	_, hi := s.bracket(n)
	return hi
}

// start fills x with numbers of no pattern.
func (s *search) start() {
	for i := range s.x {
		s.seed = s.seed*6364136223846793005 + 1442695040888963407
		s.x[i] = float64(s.seed>>11)/(1<<53) - 0.5
	}
}

// inverse takes a step of inverse iteration with the factored D(σ), returning
// xᵀDx/xᵀMx, which is the way from σ to the root, and scales x to xᵀMx = 1.
func (s *search) inverse(sigma float64, apart bool) float64 {
	if apart {
		s.part(sigma)
	}
	s.a.m.times(s.x, s.b)
	copy(s.x, s.b)
	s.a.solve(s.x)
	size := 0.0
	for _, v := range s.x {
		size = math.Max(size, math.Abs(v))
	}
	if !(size > 0) || math.IsInf(size, 0) {
		s.start()
		return math.NaN()
	}
	work := 0.0
	for i := range s.x {
		s.x[i] /= size
		work += s.x[i] * s.b[i] / size
	}
	if apart {
		s.part(sigma)
	}
	s.a.m.times(s.x, s.b)
	inertia := product(s.x, s.b)
	scale := 1 / math.Sqrt(inertia)
	for i := range s.x {
		s.x[i] *= scale
	}
	return work / inertia
}

// part takes out of x what it has of vectors found at the same root, as far as
// that can be told.
func (s *search) part(sigma float64) {
	for _, r := range s.found {
		if math.Abs(r.lambda-sigma) > 1e-7*sigma && sigma > s.floor {
			continue
		}
		s.a.m.times(r.x, s.b)
		share := product(s.x, s.b) / product(r.x, s.b)
		for i := range s.x {
			s.x[i] -= share * r.x[i]
		}
	}
}

// next finds the i-th root, from 1. Its bracket is halved by counts until it holds
// that root alone, or roots that all but agree; inverse iteration then doubles the
// digits at each factorization, and every factorization counts and narrows the bracket too.
func (s *search) next(i int) (eigen, error) {
	const (
		close = 1e-5  // relative width at which roots are taken together
		same  = 1e-12 // relative width that ends the search
		step  = 1e-8  // relative last step, whose square is rounding
		still = 1e-13 // relative change of that step once the vector has settled
		tries = 20    // after which rounding is taken to be what moves it
	)
	s.start()
	guess := math.NaN()
	for try := range 300 {
		lo, hi := s.bracket(i)
		alone := lo.below == i-1 && hi.below == i
		width := (hi.lambda - lo.lambda) / hi.lambda
		if !(guess > lo.lambda && guess < hi.lambda) {
			guess = between(lo.lambda, hi.lambda)
		}
		sigma := guess
		s.at(sigma)
		guess = math.NaN()
		if !alone && width > close {
			continue
		}
		var move, before float64
		for range 3 {
			before, move = move, s.inverse(sigma, !alone)
		}
		value := sigma + move
		if width < same {
			return s.keep(math.Min(math.Max(value, lo.lambda), hi.lambda)), nil
		}
		if math.Abs(move) < step*sigma && (math.Abs(move-before) < still*sigma || try > tries) && s.proven(i, value) {
			return s.keep(value), nil
		}
		guess = value
	}
	return eigen{}, ErrLost
}

// proven reports that a value found inside the bracket of the i-th root is that
// root: it is alone there, or counts on either side say so.
func (s *search) proven(i int, value float64) bool {
	const margin = 1e-11
	lo, hi := s.bracket(i)
	if lo.below == i-1 && hi.below == i && value > lo.lambda && value < hi.lambda {
		return true
	}
	return s.at(value*(1-margin)) < i && s.at(value*(1+margin)) >= i
}

func (s *search) keep(lambda float64) eigen {
	r := eigen{lambda, append([]float64{}, s.x...)}
	s.found = append(s.found, r)
	return r
}
