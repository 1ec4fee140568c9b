package frame

import (
	"cmp"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// border keeps out of an elimination the rows whose pivots it would lose. That
// happens where a part of the frame on its own, still at the rest, resonates at the λ
// of the whole, as halves of a symmetric frame do. They come last, as
//
//	S = D22 − D21·D11⁻¹·D12,
//
// and the negative eigenvalues of D11 and S together are those of D.
type border struct {
	rows    []int
	columns [][]float64 // D12
	solved  [][]float64 // D11⁻¹·D12
	eigen   mat.EigenSym
	values  []float64 // of S
	vectors mat.Dense
}

// mostLost is how many rows are kept out, the weakest; a soft frame can have weak pivots all along.
const mostLost = 8

// newBorder takes rows out of a matrix, factors it and returns the number of
// negative eigenvalues of the whole, or false if S has none to be found.
func newBorder(k *skyline, lost []pivot) (b *border, negative int, ok bool) {
	slices.SortFunc(lost, func(a, b pivot) int { return cmp.Compare(a.part, b.part) })
	n := min(len(lost), mostLost)
	rows := make([]int, n)
	for i := range rows {
		rows[i] = lost[i].row
	}
	slices.Sort(rows)
	b = &border{rows: rows}
	s := mat.NewSymDense(n, nil)
	for i, r := range rows {
		c := k.take(r)
		for j, q := range rows {
			if j >= i {
				s.SetSym(i, j, c[q])
			}
			c[q] = 0
		}
		b.columns = append(b.columns, c)
	}
	negative, _ = k.factor(nil, nil)
	for _, c := range b.columns {
		y := append([]float64{}, c...)
		k.solve(y)
		b.solved = append(b.solved, y)
	}
	for i := range n {
		for j := i; j < n; j++ {
			s.SetSym(i, j, s.At(i, j)-product(b.columns[i], b.solved[j]))
		}
	}
	for i := range n {
		for j := i; j < n; j++ {
			if v := s.At(i, j); v-v != 0 {
				return b, negative, false
			}
		}
	}
	if !b.eigen.Factorize(s, true) {
		return b, negative, false
	}
	b.values = b.eigen.Values(nil)
	b.eigen.VectorsTo(&b.vectors)
	for i, v := range b.values {
		if v < 0 {
			negative++
		}
		if v == 0 {
			b.values[i] = 1e-290
		}
	}
	return b, negative, true
}

// solve puts the solution in place of the right side.
func (b *border) solve(k *skyline, x []float64) {
	n := len(b.rows)
	right := make([]float64, n)
	for i, r := range b.rows {
		right[i], x[r] = x[r], 0
	}
	k.solve(x)
	for i := range right {
		right[i] -= product(b.columns[i], x)
	}
	last := make([]float64, n)
	for e, v := range b.values {
		part := 0.0
		for i := range right {
			part += b.vectors.At(i, e) * right[i]
		}
		for i := range last {
			last[i] += b.vectors.At(i, e) * part / v
		}
	}
	for i, v := range last {
		for j, y := range b.solved[i] {
			x[j] -= v * y
		}
	}
	for i, r := range b.rows {
		x[r] = last[i]
	}
}
