package sparse

import "testing"

// simplicial is an up-looking LDLᵀ, entry by entry, after T. A. Davis, Algorithm 849: a concise sparse Cholesky factorization
// package, ACM Trans. Math. Softw. 31 (2005) 587-591. It is an independent routine for the tests, and the other candidate of
// benchmarks.md, question 1.
type simplicial struct {
	n             int
	uptr, uidx    []int32 // rows above the diagonal of each column of the ordered matrix
	upos          []int32 // and where their values are
	diag          []int32
	parent        []int32
	lptr          []int32
	fill          []int32
	li            []int32
	lx, d, y      []float64
	pattern, flag []int32
}

func newSimplicial(s *Symbolic) *simplicial {
	g := &simplicial{n: s.n, uptr: make([]int32, s.n+2), diag: make([]int32, s.n), lptr: make([]int32, s.n+1)}
	p := s.pattern
	each := func(do func(k, i, e int32)) {
		for j := range s.n {
			for e := p.Ptr[j] + 1; e < p.Ptr[j+1]; e++ {
				a, b := s.inv[p.Row[e]], s.inv[j]
				do(max(a, b), min(a, b), e)
			}
		}
	}
	each(func(k, _, _ int32) { g.uptr[k+2]++ })
	for k := range s.n {
		g.uptr[k+2] += g.uptr[k+1]
		g.diag[s.inv[k]] = p.Ptr[k]
	}
	g.uidx, g.upos = make([]int32, g.uptr[s.n+1]), make([]int32, g.uptr[s.n+1])
	each(func(k, i, e int32) {
		g.uidx[g.uptr[k+1]], g.upos[g.uptr[k+1]] = i, e
		g.uptr[k+1]++
	})
	g.parent = etree(g.uptr[:s.n+1], g.uidx)
	for k, c := range counts(g.uptr[:s.n+1], g.uidx, g.parent) {
		g.lptr[k+1] = g.lptr[k] + c - 1
	}
	g.fill, g.li, g.lx = make([]int32, s.n), make([]int32, g.lptr[s.n]), make([]float64, g.lptr[s.n])
	g.d, g.y = make([]float64, s.n), make([]float64, s.n)
	g.pattern, g.flag = make([]int32, s.n), make([]int32, s.n)
	return g
}

func (g *simplicial) refactor(val []float64) {
	for k := range int32(g.n) {
		top := g.reach(k, val)
		d := val[g.diag[k]]
		for _, i := range g.pattern[top:] {
			yi := g.y[i]
			g.y[i] = 0
			from, to := g.lptr[i], g.lptr[i]+g.fill[i]
			rows := g.li[from:to]
			for q, x := range g.lx[from:to][:len(rows)] {
				g.y[rows[q]] -= x * yi
			}
			l := yi / g.d[i]
			d -= l * yi
			g.li[to], g.lx[to] = k, l
			g.fill[i]++
		}
		g.d[k] = d
	}
}

// reach scatters column k and finds the pattern of row k of L in topological order.
func (g *simplicial) reach(k int32, val []float64) (top int) {
	top = g.n
	g.flag[k], g.fill[k] = k+1, 0
	for e := g.uptr[k]; e < g.uptr[k+1]; e++ {
		i := g.uidx[e]
		g.y[i] += val[g.upos[e]]
		n := 0
		for ; g.flag[i] != k+1; i = g.parent[i] {
			g.pattern[n] = i
			g.flag[i] = k + 1
			n++
		}
		for n > 0 {
			n--
			top--
			g.pattern[top] = g.pattern[n]
		}
	}
	return top
}

// solve solves for nrhs right-hand sides in elimination order, row-major.
func (g *simplicial) solve(x []float64, nrhs int) {
	for k := range g.n {
		for e := g.lptr[k]; e < g.lptr[k+1]; e++ {
			axpy(x[int(g.li[e])*nrhs:][:nrhs], -g.lx[e], x[k*nrhs:][:nrhs])
		}
	}
	for k := g.n - 1; k >= 0; k-- {
		row := x[k*nrhs:][:nrhs]
		for i := range row {
			row[i] /= g.d[k]
		}
		for e := g.lptr[k]; e < g.lptr[k+1]; e++ {
			axpy(row, -g.lx[e], x[int(g.li[e])*nrhs:][:nrhs])
		}
	}
}

func TestPanelsAgainstSimplicial(t *testing.T) {
	rng := newRand(61)
	for range 40 {
		p := randomPattern(rng, 1+rng.IntN(90), rng.IntN(7))
		val, _ := quasiDefinite(rng, p)
		s := Analyze(p)
		f, g := NewFactor(s), newSimplicial(s)
		b := randomBlock(rng, p.N*5)
		x := solved(t, f, val, b, 5)
		g.refactor(val)
		y, back := make([]float64, len(b)), make([]float64, len(b))
		for k, v := range s.perm {
			copy(y[k*5:k*5+5], b[int(v)*5:])
		}
		g.solve(y, 5)
		for k, v := range s.perm {
			copy(back[int(v)*5:int(v)*5+5], y[k*5:])
			assertClose(t, "pivot", abs(g.d[k]-f.d[k]), 1e-11*f.grow[k])
		}
		assertClose(t, "solution", largestDifference(p, val, x, back, 5), 1e-11)
		if len(g.lx)+p.N != s.NNZ() {
			t.Errorf("%d entries, Symbolic.NNZ says %d", len(g.lx)+p.N, s.NNZ())
		}
	}
}
