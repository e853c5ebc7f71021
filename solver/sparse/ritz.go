package sparse

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// ritz holds the eigenpairs of a projection, the most wanted first.
type ritz struct {
	dim   int
	theta []float64
	s     []float64 // coefficients of pair c are s[c*dim:(c+1)*dim]
	res   []float64 // residual norms, absolute

	a, eig, work, spare []float64
	rank                []int
	row                 []float64
}

// solve finds the eigenpairs of the leading dim x dim part of t (row stride ld) and sorts them by wish.
func (z *ritz) solve(t []float64, ld, dim int, ahead func(float64) float64) {
	z.dim = dim
	z.a, z.eig = grown(z.a, dim*dim), grown(z.eig, dim)
	for i := range dim {
		copy(z.a[i*dim:(i+1)*dim], t[i*ld:i*ld+dim])
	}
	sym := blas64.Symmetric{N: dim, Stride: max(1, dim), Data: z.a, Uplo: blas.Upper}
	z.work = grown(z.work, max(1, 34*dim))
	if dim > 0 && !lapack64.Syev(lapack.EVCompute, sym, z.eig, z.work, len(z.work)) {
		panic("sparse: the QR iteration of a small symmetric matrix did not converge") // needs values that are not finite
	}
	z.rank = z.rank[:0]
	for i := range dim {
		z.rank = append(z.rank, i)
	}
	slices.SortStableFunc(z.rank, func(i, j int) int {
		switch a, b := ahead(z.eig[i]), ahead(z.eig[j]); {
		case a > b:
			return -1
		case a < b:
			return 1
		}
		return 0
	})
	z.theta, z.s, z.res = grown(z.theta, dim), grown(z.s, dim*dim), grown(z.res, dim)
	for c, i := range z.rank {
		z.theta[c] = z.eig[i]
		for j := range dim {
			z.s[c*dim+j] = z.a[j*dim+i]
		}
	}
}

// exists tells whether pair c is a wanted eigenvalue rather than one at infinity or on the unwanted side.
func (z *ritz) exists(op operator, c int) bool {
	return op.ahead(z.theta[c]) > negligible*z.largest()
}

// largest returns the largest |θ|.
func (z *ritz) largest() float64 {
	var most float64
	for _, v := range z.theta[:z.dim] {
		most = max(most, math.Abs(v))
	}
	return most
}

// settled tells whether the first goal pairs have converged. If patience is over, pairs that do not show count as absent.
func (z *ritz) settled(op operator, goal int, tol float64, patient bool) bool {
	for c := range min(goal, z.dim) {
		if !z.exists(op, c) {
			return patient
		}
		if z.res[c] > tol*math.Abs(z.theta[c]) {
			return false
		}
	}
	return z.dim >= goal
}

// converged returns the number of converged pairs at distances up to r.
func (z *ritz) converged(op operator, tol, r float64) (found int) {
	for c := range z.dim {
		if !z.exists(op, c) || 1/op.ahead(z.theta[c]) > r {
			break
		}
		if z.res[c] <= tol*math.Abs(z.theta[c]) {
			found++
		}
	}
	return found
}

// worst returns the largest relative residual of the first goal pairs.
func (z *ritz) worst(goal int) (most float64) {
	for c := range min(goal, z.dim) {
		most = max(most, z.res[c]/math.Abs(z.theta[c]))
	}
	return most
}

// combineRows is the number of rows that combine takes at a time.
const combineRows = 64

// combine replaces the first dim vectors of v (n long, one after another) by the first keep pairs' combinations of them.
func (z *ritz) combine(v []float64, n, dim, keep int) {
	z.row = grown(z.row, keep*dim)
	for i, c := range z.s[:keep*dim] {
		z.row[i] = -c // subColumns subtracts
	}
	z.spare = grown(z.spare, keep*combineRows)
	// A few rows at a time, so that nothing of the size of the basis is needed beside it.
	for i := 0; i < n; i += combineRows {
		m := min(combineRows, n-i)
		out := z.spare[:keep*m]
		clear(out)
		for c := range keep {
			subColumns(out[c*m:(c+1)*m], v[i:], z.row[c*dim:(c+1)*dim], columns{n, 1, 0}, dim)
		}
		for c := range keep {
			copy(v[c*n+i:c*n+i+m], out[c*m:])
		}
	}
}
