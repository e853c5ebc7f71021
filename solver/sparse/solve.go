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

// forwardOne works on the panel's part of y, gathered into one column, four columns of L at a time.
func (f *Factor) forwardOne(p *panel, y []float64) {
	w, ld, h := int(p.width), int(p.stride), int(p.height)
	a := f.lx[p.base : int(p.base)+w*ld]
	rows := f.sym.rows[p.row : int(p.row)+h-w]
	t := f.t[:h]
	copy(t, y[p.first:int(p.first)+w])
	for q, r := range rows {
		t[w+q] = y[r]
	}
	for k := 0; k < w; k += 4 {
		end := min(k+4, w)
		for i := k + 1; i < end; i++ {
			sum := t[i]
			for j := k; j < i; j++ {
				sum -= float64(a[j*ld+i] * t[j])
			}
			t[i] = sum
		}
		subColumns(t[end:], a[k*ld+end:], ld, t[k:end])
	}
	copy(y[p.first:int(p.first)+w], t)
	for q, r := range rows {
		y[r] = t[w+q]
	}
}

func (f *Factor) backwardOne(p *panel, y []float64) {
	w, ld, h := int(p.width), int(p.stride), int(p.height)
	a := f.lx[p.base : int(p.base)+w*ld]
	x, dinv := y[p.first:int(p.first)+w], f.dinv[p.first:int(p.first)+w]
	t := f.t[:h-w]
	for q, r := range f.sym.rows[p.row : int(p.row)+h-w] {
		t[q] = y[r]
	}
	k := 0
	for ; k+4 <= w; k += 4 {
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
		x[k], x[k+1], x[k+2], x[k+3] = x0, x1, x2, x3
	}
	for ; k < w; k++ {
		a0 := a[k*ld+w:][:len(t)]
		x0 := x[k] * dinv[k]
		for q, v := range t {
			x0 -= float64(a0[q] * v)
		}
		x[k] = x0
	}
	for i := w - 1; i > 0; i-- {
		xi := x[i]
		row := a[i*ld:][:i] // the transpose of L's row, see factorPanel
		for k := range row {
			x[k] -= float64(row[k] * xi)
		}
	}
}
