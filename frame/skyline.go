package frame

import "math"

// skyline is a symmetric matrix of which each row is kept from its first entry that
// is not zero to the diagonal.
type skyline struct {
	first []int     // column of the first entry of each row
	start []int     // where each row's first entry lies in data
	data  []float64 // row after row
}

// newSkyline returns a matrix of zeros with those first columns.
func newSkyline(first []int) skyline {
	s := skyline{first: first, start: make([]int, len(first)+1)}
	for i, f := range first {
		s.start[i+1] = s.start[i] + i - f + 1
	}
	s.data = make([]float64, s.start[len(first)])
	return s
}

// like returns a matrix of zeros with the same outline.
func (s *skyline) like() skyline {
	return skyline{first: s.first, start: s.start, data: make([]float64, len(s.data))}
}

func (s *skyline) row(i int) []float64 { return s.data[s.start[i]:s.start[i+1]] }

func (s *skyline) add(i, j int, v float64) {
	if i < j {
		i, j = j, i
	}
	s.data[s.start[i]+j-s.first[i]] += v
}

func (s *skyline) diagonal(i int) float64 { return s.data[s.start[i+1]-1] }

// weak is the part of its row's scale below which a pivot costs those after it digits.
const weak = 1e-5

// pivot is a weak one.
type pivot struct {
	row  int
	part float64 // of its scale
}

// factor turns the matrix into L·D·Lᵀ in place, L below the diagonal of ones, and
// returns how many of D are negative: by Sylvester as many as eigenvalues are. It
// appends to lost the pivots, but for the last, that are weak against the scales of
// their rows, if any are given. A pivot of nothing becomes a tiny positive one.
func (s *skyline) factor(scale []float64, lost []pivot) (negative int, _ []pivot) {
	for i := range s.first {
		ri, fi := s.row(i), s.first[i]
		for j := fi; j < i; j++ {
			rj, fj := s.row(j), s.first[j]
			lo := max(fi, fj)
			ri[j-fi] -= product(ri[lo-fi:j-fi], rj[lo-fj:j-fj])
		}
		d := ri[i-fi]
		size := math.Abs(d)
		for j := fi; j < i; j++ {
			g := ri[j-fi]
			ri[j-fi] = g / s.diagonal(j)
			d -= g * ri[j-fi]
			size += math.Abs(g * ri[j-fi])
		}
		if scale != nil && math.Abs(d) < weak*scale[i] && i < len(s.first)-1 {
			lost = append(lost, pivot{i, math.Abs(d) / scale[i]})
		}
		if least := 1e-18*size + 1e-290; math.Abs(d) < least {
			d = least
		}
		ri[i-fi] = d
		if d < 0 {
			negative++
		}
	}
	return negative, lost
}

// product is a dot product in four strands.
func product(a, b []float64) float64 {
	b = b[:len(a)]
	var s0, s1, s2, s3 float64
	i := 0
	for ; i+4 <= len(a); i += 4 {
		s0 += a[i] * b[i]
		s1 += a[i+1] * b[i+1]
		s2 += a[i+2] * b[i+2]
		s3 += a[i+3] * b[i+3]
	}
	for ; i < len(a); i++ {
		s0 += a[i] * b[i]
	}
	return s0 + s1 + (s2 + s3)
}

// solve puts the solution for a factored matrix in place of the right side.
func (s *skyline) solve(x []float64) {
	for i := range x {
		f := s.first[i]
		x[i] -= product(s.row(i)[:i-f], x[f:i])
	}
	for i := range x {
		x[i] /= s.diagonal(i)
	}
	for i := len(x) - 1; i >= 0; i-- {
		f := s.first[i]
		xi := x[i]
		for j, l := range s.row(i)[:i-f] {
			x[f+j] -= l * xi
		}
	}
}

// times puts the product with x, of a matrix that is not factored, into y.
func (s *skyline) times(x, y []float64) {
	for i := range y {
		f := s.first[i]
		r := s.row(i)
		y[i] = product(r[:i-f], x[f:i]) + r[i-f]*x[i]
		for j, v := range r[:i-f] {
			y[f+j] += v * x[i]
		}
	}
}

// take returns row i as a whole and leaves in its place that of the unit matrix.
func (s *skyline) take(i int) []float64 {
	whole := make([]float64, len(s.first))
	copy(whole[s.first[i]:], s.row(i))
	clear(s.row(i))
	s.data[s.start[i+1]-1] = 1
	for j := i + 1; j < len(s.first); j++ {
		if f := s.first[j]; f <= i {
			whole[j] = s.row(j)[i-f]
			s.row(j)[i-f] = 0
		}
	}
	return whole
}
