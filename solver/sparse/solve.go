package sparse

import "fmt"

// Solve replaces x by the solution of K X = x for nrhs right-hand sides. x is row-major: right-hand side k of unknown i is
// x[i*nrhs+k], so that what belongs to one unknown lies together. The columns are independent of each other: a column's
// bits do not depend on nrhs or on its place. It panics if there is no valid factor or len(x) is not n*nrhs.
func (f *Factor) Solve(x []float64, nrhs int) {
	f.mustBeValid("Solve")
	if len(x) != f.sym.n*nrhs {
		panic(fmt.Sprintf("sparse: Solve: %d values for %d unknowns and %d right-hand sides", len(x), f.sym.n, nrhs))
	}
	if nrhs == 1 {
		f.solveOne(x)
		return
	}
	for k := 0; k < nrhs; k += block {
		f.solveBlock(x, nrhs, k, min(block, nrhs-k))
	}
}

// SolveRows is Solve for eight right-hand sides, one array of eight an unknown; the bits are the same.
func (f *Factor) SolveRows(x [][8]float64) {
	f.mustBeValid("SolveRows")
	if len(x) != f.sym.n {
		panic(fmt.Sprintf("sparse: SolveRows: %d rows for %d unknowns", len(x), f.sym.n))
	}
	y := f.y
	for i, v := range f.sym.perm {
		*(*row8)(y[i*block:]) = x[v]
	}
	f.sweep(y)
	for i, v := range f.sym.perm {
		x[v] = *(*row8)(y[i*block:])
	}
}

// solveBlock solves columns k..k+width-1 of x.
func (f *Factor) solveBlock(x []float64, nrhs, k, width int) {
	s := f.sym
	y := f.y
	if width == block {
		for i, v := range s.perm {
			*(*row8)(y[i*block:]) = *(*row8)(x[int(v)*nrhs+k:])
		}
	} else {
		clear(y)
		for i, v := range s.perm {
			copy(y[i*block:i*block+width], x[int(v)*nrhs+k:])
		}
	}
	f.sweep(y)
	if width == block {
		for i, v := range s.perm {
			*(*row8)(x[int(v)*nrhs+k:]) = *(*row8)(y[i*block:])
		}
		return
	}
	for i, v := range s.perm {
		copy(x[int(v)*nrhs+k:int(v)*nrhs+k+width], y[i*block:])
	}
}

// sweep solves a block of right-hand sides in elimination order.
func (f *Factor) sweep(y []float64) {
	s := f.sym
	for i := range s.super {
		p := &s.super[i]
		forward(y, s.rows[p.row:p.row+p.height-p.width], f.lx[p.base:], int(p.stride), int(p.first), int(p.width))
	}
	for i := len(s.super) - 1; i >= 0; i-- {
		p := &s.super[i]
		backward(y, s.rows[p.row:p.row+p.height-p.width], f.lx[p.base:], f.dinv[p.first:], int(p.stride), int(p.first), int(p.width))
	}
}

// solveOne is Solve for a single right-hand side; every sum runs in the order of the block kernels, so the bits agree.
func (f *Factor) solveOne(x []float64) {
	s := f.sym
	y := f.y[:s.n]
	for i, v := range s.perm {
		y[i] = x[v]
	}
	for i := range s.super {
		f.forwardOne(&s.super[i], y)
	}
	for i := len(s.super) - 1; i >= 0; i-- {
		f.backwardOne(&s.super[i], y)
	}
	for i, v := range s.perm {
		x[v] = y[i]
	}
}

// forwardOne solves with the panel's head, then takes its columns off the rows below in one go.
func (f *Factor) forwardOne(p *panel, y []float64) {
	w, ld, h := int(p.width), int(p.stride), int(p.height)
	a := f.lx[p.base : int(p.base)+w*ld]
	x := y[p.first : int(p.first)+w]
	forwardHead(x, a, ld)
	rows := f.sym.rows[p.row : int(p.row)+h-w]
	if len(rows) == 0 {
		return
	}
	t := f.t[:h-w]
	for q, r := range rows {
		t[q] = y[r]
	}
	subColumns(t, a[w:], ld, x)
	for q, r := range rows {
		y[r] = t[q]
	}
}

// forwardHead solves with the unit lower triangle at a panel's head, whose rows stand transposed above the diagonal (see
// factorPanel), four rows at a time in registers.
func forwardHead(x, a []float64, ld int) {
	w := len(x)
	i := 0
	for ; i+4 <= w; i += 4 {
		r0, r1, r2, r3 := a[i*ld:][:i], a[(i+1)*ld:][:i+1], a[(i+2)*ld:][:i+2], a[(i+3)*ld:][:i+3]
		x0, x1, x2, x3 := x[i], x[i+1], x[i+2], x[i+3]
		for k, v := range x[:len(r0)] {
			x0 -= float64(r0[k] * v)
			x1 -= float64(r1[k] * v)
			x2 -= float64(r2[k] * v)
			x3 -= float64(r3[k] * v)
		}
		x1 -= float64(r1[i] * x0)
		x2 -= float64(r2[i] * x0)
		x3 -= float64(r3[i] * x0)
		x2 -= float64(r2[i+1] * x1)
		x3 -= float64(r3[i+1] * x1)
		x3 -= float64(r3[i+2] * x2)
		x[i], x[i+1], x[i+2], x[i+3] = x0, x1, x2, x3
	}
	for ; i < w; i++ {
		s := x[i]
		for k, l := range a[i*ld:][:i] {
			s -= float64(l * x[k])
		}
		x[i] = s
	}
}

// backwardOne works on four columns at a time from the last, and keeps their four unknowns in registers over all of their terms:
// the rows below, then the later columns of the panel, whose rows of L stand transposed above the diagonal (see factorPanel).
func (f *Factor) backwardOne(p *panel, y []float64) {
	w, ld, h := int(p.width), int(p.stride), int(p.height)
	a := f.lx[p.base : int(p.base)+w*ld]
	x, dinv := y[p.first:int(p.first)+w], f.dinv[p.first:int(p.first)+w]
	t := f.t[:h-w]
	for q, r := range f.sym.rows[p.row : int(p.row)+h-w] {
		t[q] = y[r]
	}
	k := w
	for ; k%4 != 0; k-- {
		c := k - 1
		s := x[c] * dinv[c]
		below := a[c*ld+w:][:len(t)]
		for q, v := range t {
			s -= float64(below[q] * v)
		}
		for i := w - 1; i > c; i-- {
			s -= float64(a[i*ld+c] * x[i])
		}
		x[c] = s
	}
	for k -= 4; k >= 0; k -= 4 {
		a0 := a[k*ld+w:][:len(t)]
		a1 := a[(k+1)*ld+w:][:len(t)]
		a2 := a[(k+2)*ld+w:][:len(t)]
		a3 := a[(k+3)*ld+w:][:len(t)]
		x0, x1, x2, x3 := x[k]*dinv[k], x[k+1]*dinv[k+1], x[k+2]*dinv[k+2], x[k+3]*dinv[k+3]
		for q, v := range t {
			x0 -= float64(a0[q] * v)
			x1 -= float64(a1[q] * v)
			x2 -= float64(a2[q] * v)
			x3 -= float64(a3[q] * v)
		}
		for i := w - 1; i > k+3; i-- {
			l, v := (*[4]float64)(a[i*ld+k:]), x[i]
			x0 -= float64(l[0] * v)
			x1 -= float64(l[1] * v)
			x2 -= float64(l[2] * v)
			x3 -= float64(l[3] * v)
		}
		l3, l2, l1 := (*[3]float64)(a[(k+3)*ld+k:]), (*[2]float64)(a[(k+2)*ld+k:]), a[(k+1)*ld+k]
		x2 -= float64(l3[2] * x3)
		x1 -= float64(l3[1] * x3)
		x0 -= float64(l3[0] * x3)
		x1 -= float64(l2[1] * x2)
		x0 -= float64(l2[0] * x2)
		x0 -= float64(l1 * x1)
		x[k], x[k+1], x[k+2], x[k+3] = x0, x1, x2, x3
	}
}
