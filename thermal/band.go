package thermal

import "sort"

// band is a square matrix that is zero but near its diagonal. It is factored without
// pivots, which is safe where every diagonal outweighs its row or column, as where heat
// flows from warm to cold and no source grows faster than its heat leaves.
type band struct {
	n, width int
	rows     []float64 // of 2·width+1 each, the diagonal in the middle
}

func newBand(n, width int) band {
	return band{n: n, width: width, rows: make([]float64, n*(2*width+1))}
}

func (b *band) clear() { clear(b.rows) }

func (b *band) add(i, j int, x float64) { b.rows[i*(2*b.width+1)+b.width+j-i] += x }

func (b *band) at(i, j int) float64 {
	if i-j > b.width || j-i > b.width {
		return 0
	}
	return b.rows[i*(2*b.width+1)+b.width+j-i]
}

// factor replaces the matrix by its factors. It reports false on a pivot that is not above 0.
func (b *band) factor() bool {
	w, stride := b.width, 2*b.width+1
	for k := range b.n {
		row := b.rows[k*stride : (k+1)*stride]
		pivot := row[w]
		if !(pivot > 0) {
			return false
		}
		last := min(b.n-1, k+w)
		for i := k + 1; i <= last; i++ {
			below := b.rows[i*stride : (i+1)*stride]
			f := below[w+k-i]
			if f == 0 {
				continue
			}
			f /= pivot
			below[w+k-i] = f
			for j := k + 1; j <= last; j++ {
				below[w+j-i] -= f * row[w+j-k]
			}
		}
	}
	return true
}

// solve replaces x by the solution for it.
func (b *band) solve(x []float64) {
	w, stride := b.width, 2*b.width+1
	for i := range b.n {
		row := b.rows[i*stride : (i+1)*stride]
		for j := max(0, i-w); j < i; j++ {
			x[i] -= row[w+j-i] * x[j]
		}
	}
	for i := b.n - 1; i >= 0; i-- {
		row := b.rows[i*stride : (i+1)*stride]
		for j := i + 1; j <= min(b.n-1, i+w); j++ {
			x[i] -= row[w+j-i] * x[j]
		}
		x[i] /= row[w]
	}
}

// order numbers the free nodes so that linked ones come near each other, by E. Cuthill
// and J. McKee, Proc. 24th ACM National Conf. (1969) 157, reversed.
func (n *Network) order() (free, place []int) {
	near := make([][]int, len(n.Nodes))
	for _, l := range n.Links {
		if !n.Nodes[l.From].Held && !n.Nodes[l.To].Held {
			near[l.From] = append(near[l.From], l.To)
			near[l.To] = append(near[l.To], l.From)
		}
	}
	place = make([]int, len(n.Nodes))
	var starts []int
	for i := range n.Nodes {
		place[i] = -1
		if !n.Nodes[i].Held {
			starts = append(starts, i)
		}
	}
	byDegree := func(list []int) {
		sort.SliceStable(list, func(a, b int) bool { return len(near[list[a]]) < len(near[list[b]]) })
	}
	byDegree(starts)
	for i := range near {
		byDegree(near[i])
	}
	const queued = -2
	for _, start := range starts {
		if place[start] != -1 {
			continue
		}
		place[start] = queued
		first := len(free)
		free = append(free, start)
		for k := first; k < len(free); k++ {
			for _, j := range near[free[k]] {
				if place[j] == -1 {
					place[j] = queued
					free = append(free, j)
				}
			}
		}
	}
	for a, b := 0, len(free)-1; a < b; a, b = a+1, b-1 {
		free[a], free[b] = free[b], free[a]
	}
	for p, i := range free {
		place[i] = p
	}
	return free, place
}
