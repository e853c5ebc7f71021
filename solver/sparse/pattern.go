// Package sparse factorises and solves sparse symmetric systems, and finds their eigenvalues.
//
// It is the bottom step of the solver: a pattern (which pairs of unknowns are coupled) and values come in; solutions,
// inertia, pivots that vanish and eigenpairs go out. It knows nothing of steel, frames, loads or units: every value has
// the unit its caller gives it.
//
// The steps are NewPattern, Analyze (once per pattern; shared by all workers), NewFactor (once per worker), then Refactor
// and Solve as often as values and right-hand sides change, without allocation. Nothing here runs in parallel or depends
// on a clock, a map's order or the number of workers: equal input gives equal bits.
package sparse

import (
	"fmt"
	"iter"
	"sort"
)

// Pattern is the structure of a symmetric matrix: its lower triangle with the diagonal, in compressed columns. The rows
// of column j are Row[Ptr[j]:Ptr[j+1]], sorted, the diagonal first (it is always present). Values that belong to a
// pattern are a slice of len(Row), in the same order. A Pattern must not be changed once made; it may be shared.
type Pattern struct {
	N   int
	Ptr []int32
	Row []int32
}

// NewPattern returns the pattern of order n with the diagonal and every pair (i, j) that pairs yields, in any order and
// either triangle, repeats allowed. It panics if an index is outside 0..n-1.
func NewPattern(n int, pairs iter.Seq2[int, int]) *Pattern {
	var low, high []int32
	for i, j := range pairs {
		if i < 0 || i >= n || j < 0 || j >= n {
			panic(fmt.Sprintf("sparse: NewPattern: pair (%d, %d) is outside a matrix of order %d", i, j, n))
		}
		low, high = append(low, int32(min(i, j))), append(high, int32(max(i, j)))
	}
	return compress(n, low, high)
}

// NewPatternFromCliques returns the pattern of order n in which the unknowns of each clique (the freedoms of one element)
// are all coupled with each other. Negative entries stand for restrained freedoms and are passed over. It panics if an
// index is n or more.
func NewPatternFromCliques(n int, cliques [][]int32) *Pattern {
	pairs := n // the diagonal's room
	for _, c := range cliques {
		pairs += len(c) * (len(c) - 1) / 2
	}
	low, high := make([]int32, 0, pairs), make([]int32, 0, pairs)
	for _, c := range cliques {
		for a, i := range c {
			if int(i) >= n {
				panic(fmt.Sprintf("sparse: NewPatternFromCliques: unknown %d is outside a matrix of order %d", i, n))
			}
			if i < 0 {
				continue
			}
			for _, j := range c[:a] {
				if j >= 0 {
					low, high = append(low, min(i, j)), append(high, max(i, j))
				}
			}
		}
	}
	return compress(n, low, high)
}

// compress sorts pairs into columns by two counting passes (by row, then by column), and drops repeats.
func compress(n int, low, high []int32) *Pattern {
	for i := range n {
		low, high = append(low, int32(i)), append(high, int32(i))
	}
	byRow := countingSort(n, high)
	col := make([]int32, len(low))
	row := make([]int32, len(low))
	for k, e := range byRow {
		col[k], row[k] = low[e], high[e]
	}
	p := &Pattern{N: n, Ptr: make([]int32, n+1), Row: make([]int32, 0, len(low))}
	last := int32(-1)
	at := int32(-1)
	for _, e := range countingSort(n, col) {
		if col[e] == at && row[e] == last {
			continue
		}
		at, last = col[e], row[e]
		p.Row = append(p.Row, last)
		p.Ptr[at+1] = int32(len(p.Row))
	}
	return p
}

// countingSort returns the indices of key in stable ascending order of key; keys are 0..n-1.
func countingSort(n int, key []int32) []int32 {
	start := make([]int32, n+1)
	for _, k := range key {
		start[k+1]++
	}
	for k := range n {
		start[k+1] += start[k]
	}
	out := make([]int32, len(key))
	for e, k := range key {
		out[start[k]] = int32(e)
		start[k]++
	}
	return out
}

// Index returns the position of entry (i, j), or equally (j, i), in a slice of values; -1 if the pattern has no such entry.
func (p *Pattern) Index(i, j int) int {
	i, j = max(i, j), min(i, j)
	if j < 0 || i >= p.N {
		return -1
	}
	lo, hi := int(p.Ptr[j]), int(p.Ptr[j+1])
	k := lo + sort.Search(hi-lo, func(k int) bool { return int(p.Row[lo+k]) >= i })
	if k < hi && int(p.Row[k]) == i {
		return k
	}
	return -1
}

// NNZ returns the number of stored entries: the length of a slice of values.
func (p *Pattern) NNZ() int { return len(p.Row) }

// checkValues panics if val does not fit the pattern.
func (p *Pattern) checkValues(who string, val []float64) {
	if len(val) != len(p.Row) {
		panic(fmt.Sprintf("sparse: %s: %d values for a pattern of %d entries", who, len(val), len(p.Row)))
	}
}

// adjacency returns both triangles of the pattern without the diagonal as compressed lists, sorted.
func (p *Pattern) adjacency() (ptr, adj []int32) {
	ptr = make([]int32, p.N+2)
	for j := range p.N {
		for _, i := range p.Row[p.Ptr[j]+1 : p.Ptr[j+1]] {
			ptr[i+2]++
			ptr[j+2]++
		}
	}
	for i := range p.N {
		ptr[i+2] += ptr[i+1]
	}
	adj = make([]int32, ptr[p.N+1])
	// Column by column: the lower neighbours of a vertex arrive before the upper ones, both ascending.
	for j := range p.N {
		for _, i := range p.Row[p.Ptr[j]+1 : p.Ptr[j+1]] {
			adj[ptr[i+1]] = int32(j)
			ptr[i+1]++
		}
	}
	for j := range p.N {
		for _, i := range p.Row[p.Ptr[j]+1 : p.Ptr[j+1]] {
			adj[ptr[j+1]] = i
			ptr[j+1]++
		}
	}
	return ptr[:p.N+1], adj
}
