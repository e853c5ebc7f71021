package sparse

import (
	"slices"
	"testing"
)

// eliminated counts the entries of L and the operations by playing the elimination on a dense table of booleans.
func eliminated(p *Pattern, perm []int) (nnz int, flops int64) {
	n := p.N
	at := make([]int, n)
	for k, v := range perm {
		at[v] = k
	}
	full := make([][]bool, n)
	for i := range full {
		full[i] = make([]bool, n)
	}
	for j := range n {
		for _, i := range p.Row[p.Ptr[j]:p.Ptr[j+1]] {
			full[max(at[i], at[j])][min(at[i], at[j])] = true
		}
	}
	for k := range n {
		var col []int
		for i := k; i < n; i++ {
			if full[i][k] {
				col = append(col, i)
			}
		}
		for _, i := range col[1:] {
			for _, j := range col[1:] {
				full[max(i, j)][min(i, j)] = true
			}
		}
		nnz += len(col)
		flops += int64(len(col)) * int64(len(col))
	}
	return nnz, flops
}

func TestSymbolicCountsAgainstBooleanElimination(t *testing.T) {
	rng := newRand(11)
	for range 60 {
		n := 1 + rng.IntN(50)
		p := randomPattern(rng, n, rng.IntN(5))
		for _, s := range []*Symbolic{Analyze(p), AnalyzeWith(p, rng.Perm(n))} {
			nnz, flops := eliminated(p, s.Perm())
			if s.NNZ() != nnz || s.Flops() != flops {
				t.Fatalf("n=%d: NNZ %d Flops %d, boolean elimination %d %d", n, s.NNZ(), s.Flops(), nnz, flops)
			}
		}
	}
}

func TestOrderIsPermutation(t *testing.T) {
	rng := newRand(5)
	for range 100 {
		n := rng.IntN(80)
		got := Order(randomPattern(rng, n, rng.IntN(8)))
		slices.Sort(got)
		for i, v := range got {
			if i != v {
				t.Fatalf("n=%d: sorted order has %d at %d", n, v, i)
			}
		}
		if len(got) != n {
			t.Fatalf("n=%d: order of %d", n, len(got))
		}
	}
}

// A minimum degree order of a tree takes leaves first and fills nothing: n diagonal entries and n-1 edges. The same holds
// for a star (an arrow matrix) however its centre is numbered.
func TestOrderOfTreesFillsNothing(t *testing.T) {
	rng := newRand(6)
	for range 50 {
		n := 2 + rng.IntN(300)
		label := rng.Perm(n)
		star := rng.IntN(4) == 0
		p := NewPattern(n, func(yield func(i, j int) bool) {
			for i := 1; i < n; i++ {
				up := rng.IntN(i)
				if star {
					up = 0
				}
				if !yield(label[i], label[up]) {
					return
				}
			}
		})
		if got := Analyze(p).NNZ(); got != 2*n-1 {
			t.Fatalf("tree of %d: %d entries in L, want %d", n, got, 2*n-1)
		}
	}
}

// The freedoms of one joint have one closed neighbourhood and must come out as one class.
func TestCompressionFindsJoints(t *testing.T) {
	p := gridPattern(3, 4)
	ptr, adj := p.adjacency()
	_, members := indistinguishable(p.N, ptr, adj, make([]bool, p.N))
	if len(members) != 12 {
		t.Fatalf("%d classes, want 12 joints", len(members))
	}
	for _, m := range members {
		if len(m) != 6 {
			t.Errorf("class of %d freedoms, want 6", len(m))
		}
	}
}

// A square grid's best orders have about (31/4) n² log2 n entries for n x n points (A. George, SIAM J. Numer. Anal. 10
// (1973) 345-363); the row-wise band order has n³. Minimum degree must be on the side of the former.
func TestOrderOfGridFillsLittle(t *testing.T) {
	const n = 40
	p := NewPattern(n*n, func(yield func(i, j int) bool) {
		for r := range n {
			for c := range n {
				if c > 0 && !yield(r*n+c, r*n+c-1) || r > 0 && !yield(r*n+c, r*n+c-n) {
					return
				}
			}
		}
	})
	dissected := 31.0 / 4 * n * n * 5.32 // log2 40 = 5.32
	if got := Analyze(p).NNZ(); float64(got) > dissected/2 || got > n*n*n/2 {
		t.Errorf("%d entries in L; nested dissection's estimate is %.0f, band %d", got, dissected, n*n*n)
	}
}

func TestAnalyzeWithPanicsOnBadOrder(t *testing.T) {
	for _, perm := range [][]int{{0, 1}, {0, 1, 1}, {0, 1, 3}} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("no panic for order %v", perm)
				}
			}()
			AnalyzeWith(NewPattern(3, none), perm)
		}()
	}
}
