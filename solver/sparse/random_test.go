package sparse

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// newRand is the generator of a test; the seed is part of the test.
func newRand(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 7)) }

// randomPattern has about degree entries a row beside the diagonal.
func randomPattern(rng *rand.Rand, n, degree int) *Pattern {
	return NewPattern(n, func(yield func(i, j int) bool) {
		for range n * degree / 2 {
			if !yield(rng.IntN(n), rng.IntN(n)) {
				return
			}
		}
	})
}

// gridPattern is rows x cols joints of six freedoms, neighbours coupled: the shape of a frame's matrix.
func gridPattern(rows, cols int) *Pattern {
	var cliques [][]int32
	joint := func(r, c int) []int32 {
		var d []int32
		for k := range 6 {
			d = append(d, int32((r*cols+c)*6+k))
		}
		return d
	}
	for r := range rows {
		for c := range cols {
			cliques = append(cliques, joint(r, c))
			if c > 0 {
				cliques = append(cliques, append(joint(r, c-1), joint(r, c)...))
			}
			if r > 0 {
				cliques = append(cliques, append(joint(r-1, c), joint(r, c)...))
			}
		}
	}
	return NewPatternFromCliques(rows*cols*6, cliques)
}

// dominant returns values whose diagonal outweighs its row: positive definite by Gershgorin's theorem. Rows are scaled over
// some orders of magnitude as different units do.
func dominant(rng *rand.Rand, p *Pattern) []float64 {
	val := make([]float64, p.NNZ())
	sum := make([]float64, p.N)
	for j := range p.N {
		for e := p.Ptr[j] + 1; e < p.Ptr[j+1]; e++ {
			val[e] = rng.NormFloat64()
			sum[j] += math.Abs(val[e])
			sum[p.Row[e]] += math.Abs(val[e])
		}
	}
	scale := make([]float64, p.N)
	for i := range scale {
		scale[i] = math.Pow(10, 3*rng.Float64())
	}
	for j := range p.N {
		val[p.Ptr[j]] = sum[j] + 0.1 + rng.Float64()
		for e := p.Ptr[j]; e < p.Ptr[j+1]; e++ {
			val[e] *= scale[j] * scale[p.Row[e]]
		}
	}
	return val
}

// quasiDefinite turns a dominant matrix into [-H C; Cᵀ K] with H and K positive definite, for a random choice of rows: it can
// be factorised in any order, and has as many negative eigenvalues as rows in the first part (R. J. Vanderbei, SIAM J. Optim.
// 5 (1995) 100-113).
func quasiDefinite(rng *rand.Rand, p *Pattern) (val []float64, negative int) {
	val = dominant(rng, p)
	flip := make([]bool, p.N)
	for i := range flip {
		if rng.IntN(3) == 0 {
			flip[i] = true
			negative++
		}
	}
	for j := range p.N {
		for e := p.Ptr[j]; e < p.Ptr[j+1]; e++ {
			if flip[j] && flip[p.Row[e]] {
				val[e] = -val[e]
			}
		}
	}
	return val, negative
}

// dense returns the matrix as gonum knows it.
func dense(p *Pattern, val []float64) *mat.SymDense {
	a := mat.NewSymDense(p.N, nil)
	for j := range p.N {
		for e := p.Ptr[j]; e < p.Ptr[j+1]; e++ {
			a.SetSym(int(p.Row[e]), j, val[e])
		}
	}
	return a
}

func randomBlock(rng *rand.Rand, n int) []float64 {
	x := make([]float64, n)
	for i := range x {
		x[i] = rng.NormFloat64()
	}
	return x
}

// denseSolve solves by gonum's Cholesky if spd, else by its LU.
func denseSolve(t *testing.T, a *mat.SymDense, b []float64, nrhs int, spd bool) []float64 {
	t.Helper()
	n := a.SymmetricDim()
	var x mat.Dense
	rhs := mat.NewDense(n, nrhs, append([]float64(nil), b...))
	if spd {
		var ch mat.Cholesky
		if !ch.Factorize(a) {
			t.Fatal("gonum finds the matrix not positive definite")
		}
		if err := ch.SolveTo(&x, rhs); err != nil {
			t.Fatal(err)
		}
	} else {
		var lu mat.LU
		lu.Factorize(a)
		if err := lu.SolveTo(&x, false, rhs); err != nil {
			t.Fatal(err)
		}
	}
	return x.RawMatrix().Data
}

// solved refactors and solves into a copy of b.
func solved(t *testing.T, f *Factor, val, b []float64, nrhs int) []float64 {
	t.Helper()
	if err := f.Refactor(val); err != nil {
		t.Fatal(err)
	}
	x := append([]float64(nil), b...)
	f.Solve(x, nrhs)
	return x
}

// largestDifference compares row by row, relative to the largest entry of each row of the scaled solution.
func largestDifference(p *Pattern, val, x, y []float64, nrhs int) float64 {
	// Unknowns differ by their scale; sqrt of the diagonal takes that out.
	var most, size float64
	for i := range p.N {
		s := math.Sqrt(math.Abs(val[p.Ptr[i]]))
		for k := range nrhs {
			most = max(most, s*math.Abs(x[i*nrhs+k]-y[i*nrhs+k]))
			size = max(size, s*math.Abs(y[i*nrhs+k]))
		}
	}
	if size == 0 {
		return most
	}
	return most / size
}

func assertClose(t *testing.T, what string, got, limit float64) {
	t.Helper()
	if !(got <= limit) {
		t.Errorf("%s: difference %.3g, limit %.3g", what, got, limit)
	}
}

// eigenvalues returns those of a, ascending, by gonum. Vectors are asked for because gonum 0.17 panics without them on
// matrices of very uneven scale (Dsterf rescales with a wrong stride).
func eigenvalues(t *testing.T, a *mat.SymDense) []float64 {
	t.Helper()
	var e mat.EigenSym
	if !e.Factorize(a, true) {
		t.Fatal("gonum's EigenSym failed")
	}
	return e.Values(nil)
}
