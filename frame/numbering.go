package frame

import (
	"fmt"
	"math"
	"slices"

	"meltflight/internal/input"
)

// mostEntries is what the matrix of a frame may hold, 0.8 GB with its slope.
const mostEntries = 5e7

// number gives every free motion its place, by the order of nodes, and lays out the matrices.
func (a *assembly) number(supports []Support) error {
	nodes := len(a.at)
	near := make([][]int, nodes)
	join := func(i, j int) {
		if i != j {
			near[i], near[j] = append(near[i], j), append(near[j], i)
		}
	}
	borne := make([]bool, nodes) // by a member
	for i := range a.lines {
		join(a.lines[i].a, a.lines[i].b)
		borne[a.lines[i].a], borne[a.lines[i].b] = true, true
	}
	for i := range a.fixed.k {
		join(a.fixed.k[i].a, a.fixed.k[i].b)
	}
	a.eq = make([][6]int, nodes)
	for _, s := range supports {
		for d, held := range s.Held {
			if held {
				a.eq[s.Node][d] = -1
			}
		}
	}
	a.dropIdle(borne)
	rank := order(near)
	byRank := make([]int, nodes)
	for node, r := range rank {
		byRank[r] = node
	}
	n := 0
	lowest := make([]int, nodes) // first number at each node
	for _, node := range byRank {
		lowest[node] = n
		for d := range 6 {
			if a.eq[node][d] == 0 {
				a.eq[node][d] = n
				n++
			}
		}
	}
	first := make([]int, n)
	entries := 0.0
	for _, node := range byRank {
		f := lowest[node]
		for _, other := range near[node] {
			if lowest[other] < f {
				f = lowest[other]
			}
		}
		for _, e := range a.eq[node] {
			if e >= 0 {
				first[e] = f
				entries += float64(e - f + 1)
			}
		}
	}
	if entries > mostEntries {
		var f input.Faults
		f.Refuse("frame.SpaceFrame: entries of its matrix", entries, "", fmt.Sprintf("at most %g: a smaller or less interwoven frame", mostEntries))
		return f.Err()
	}
	a.k = newSkyline(first)
	a.m = a.k.like()
	a.fill(0)
	a.scale = make([]float64, n)
	for k, m := range [2]*skyline{&a.k, &a.m} {
		a.static[k] = make([]float64, n)
		for i := range n {
			a.static[k][i] = math.Abs(m.diagonal(i))
		}
	}
	return nil
}

// dropIdle holds motions of nodes without a member that have neither stiffness
// nor inertia, such as the turning of a point mass on a spring.
func (a *assembly) dropIdle(borne []bool) {
	used := make(map[[2]int]bool)
	for _, list := range [3][]entry{a.fixed.ground, a.fixed.k, a.fixed.m} {
		for i := range list {
			e := &list[i]
			for d := range 6 {
				if e.a == e.b && e.block[d][d] != 0 {
					used[[2]int{e.a, d}] = true
				}
			}
		}
	}
	for node, b := range borne {
		for d := range 6 {
			if !b && !used[[2]int{node, d}] {
				a.eq[node][d] = -1
			}
		}
	}
}

// order numbers the nodes of a graph so that neighbours get near numbers: after
// E. Cuthill and J. McKee (1969) from a far node of each part, then reversed.
func order(neighbours [][]int) (rank []int) {
	n := len(neighbours)
	rank = make([]int, n)
	seen := make([]int, n) // which walk saw a node last
	queue := make([]int, 0, n)
	walk := func(root, mark int) {
		seen[root] = mark
		queue = append(queue, root)
		for at := len(queue) - 1; at < len(queue); at++ {
			from := len(queue)
			for _, v := range neighbours[queue[at]] {
				if seen[v] != mark && seen[v] >= 0 {
					seen[v] = mark
					queue = append(queue, v)
				}
			}
			slices.SortStableFunc(queue[from:], func(a, b int) int { return len(neighbours[a]) - len(neighbours[b]) })
		}
	}
	mark := 0
	for root := range n {
		if seen[root] < 0 {
			continue
		}
		done := len(queue)
		for range 3 { // outward to a far node, twice
			queue = queue[:done]
			mark++
			walk(root, mark)
			root = queue[len(queue)-1]
		}
		for _, v := range queue[done:] {
			seen[v] = -1
		}
	}
	for i, v := range queue {
		rank[v] = n - 1 - i
	}
	return rank
}
