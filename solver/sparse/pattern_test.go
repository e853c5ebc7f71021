package sparse

import (
	"slices"
	"testing"
)

func TestPatternHoldsLowerTriangle(t *testing.T) {
	p := NewPattern(4, func(yield func(i, j int) bool) {
		for _, q := range [][2]int{{0, 2}, {2, 0}, {3, 1}, {1, 1}, {2, 3}} {
			if !yield(q[0], q[1]) {
				return
			}
		}
	})
	// By hand: columns {0,2}, {1,3}, {2,3}, {3}.
	if want := []int32{0, 2, 4, 6, 7}; !slices.Equal(p.Ptr, want) {
		t.Errorf("Ptr %v, want %v", p.Ptr, want)
	}
	if want := []int32{0, 2, 1, 3, 2, 3, 3}; !slices.Equal(p.Row, want) {
		t.Errorf("Row %v, want %v", p.Row, want)
	}
	for _, q := range []struct{ i, j, want int }{{0, 0, 0}, {2, 0, 1}, {0, 2, 1}, {1, 0, -1}, {3, 3, 6}, {4, 0, -1}, {0, -1, -1}} {
		if got := p.Index(q.i, q.j); got != q.want {
			t.Errorf("Index(%d, %d) = %d, want %d", q.i, q.j, got, q.want)
		}
	}
}

func TestPatternOfCliquesSkipsRestrained(t *testing.T) {
	p := NewPatternFromCliques(3, [][]int32{{0, -1, 2}, {1}})
	if want := []int32{0, 2, 1, 2}; !slices.Equal(p.Row, want) {
		t.Errorf("Row %v, want %v", p.Row, want)
	}
}

func TestPatternPanicsOutside(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("no panic for an index outside")
		}
	}()
	NewPatternFromCliques(2, [][]int32{{0, 2}})
}

func TestMultiplicationAgainstDense(t *testing.T) {
	rng := newRand(3)
	for _, p := range []*Pattern{randomPattern(rng, 37, 5), gridPattern(2, 3), NewPattern(1, none)} {
		val := dominant(rng, p)
		a := dense(p, val)
		const nrhs = 3
		x, b := randomBlock(rng, p.N*nrhs), randomBlock(rng, p.N*nrhs)
		y, r, one := make([]float64, len(x)), make([]float64, len(x)), make([]float64, p.N)
		p.Mul(y, val, x, nrhs)
		p.Residual(r, val, x, b, nrhs)
		for k := range nrhs {
			col := make([]float64, p.N)
			for i := range col {
				col[i] = x[i*nrhs+k]
			}
			p.MulVec(one, val, col)
			for i := range p.N {
				var want, size float64
				for j := range p.N {
					want += a.At(i, j) * col[j]
					size += abs(a.At(i, j) * col[j])
				}
				assertClose(t, "Mul", abs(y[i*nrhs+k]-want), 1e-14*size)
				assertClose(t, "MulVec", abs(one[i]-want), 1e-14*size)
				assertClose(t, "Residual", abs(r[i*nrhs+k]-(b[i*nrhs+k]-want)), 1e-14*size)
			}
		}
	}
}

func none(func(i, j int) bool) {}

func abs(x float64) float64 { return max(x, -x) }
