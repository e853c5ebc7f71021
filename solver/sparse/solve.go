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
	for i := range s.super {
		p := &s.super[i]
		forward(y, s.rows[p.row:p.row+p.height-p.width], f.lx[p.base:], int(p.stride), int(p.first), int(p.width))
	}
	for i := len(s.super) - 1; i >= 0; i-- {
		p := &s.super[i]
		backward(y, s.rows[p.row:p.row+p.height-p.width], f.lx[p.base:], f.dinv[p.first:], int(p.stride), int(p.first), int(p.width))
	}
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

func (f *Factor) forwardOne(p *panel, y []float64) {
	w, ld, m := int(p.width), int(p.stride), int(p.height-p.width)
	a := f.lx[p.base : int(p.base)+w*ld]
	x := y[p.first : int(p.first)+w]
	for i := 1; i < w; i++ {
		sum := x[i]
		for k := range i {
			sum -= a[k*ld+i] * x[k]
		}
		x[i] = sum
	}
	rows := f.sym.rows[p.row : int(p.row)+m]
	t := f.t[:m]
	for q, r := range rows {
		t[q] = y[r]
	}
	subColumns(t, a[w:], ld, x)
	for q, r := range rows {
		y[r] = t[q]
	}
}

func (f *Factor) backwardOne(p *panel, y []float64) {
	w, ld, m := int(p.width), int(p.stride), int(p.height-p.width)
	a := f.lx[p.base : int(p.base)+w*ld]
	x := y[p.first : int(p.first)+w]
	t := f.t[:m]
	for q, r := range f.sym.rows[p.row : int(p.row)+m] {
		t[q] = y[r]
	}
	k := 0
	for ; k+3 <= w; k += 3 {
		a0 := a[k*ld+w:][:len(t)]
		a1 := a[(k+1)*ld+w:][:len(t)]
		a2 := a[(k+2)*ld+w:][:len(t)]
		x0, x1, x2 := x[k]*f.dinv[int(p.first)+k], x[k+1]*f.dinv[int(p.first)+k+1], x[k+2]*f.dinv[int(p.first)+k+2]
		for q, v := range t {
			x0 -= a0[q] * v
			x1 -= a1[q] * v
			x2 -= a2[q] * v
		}
		x[k], x[k+1], x[k+2] = x0, x1, x2
	}
	for ; k < w; k++ {
		a0 := a[k*ld+w:][:len(t)]
		x0 := x[k] * f.dinv[int(p.first)+k]
		for q, v := range t {
			x0 -= a0[q] * v
		}
		x[k] = x0
	}
	for k := w - 2; k >= 0; k-- {
		sum := x[k]
		for i := k + 1; i < w; i++ {
			sum -= a[k*ld+i] * x[i]
		}
		x[k] = sum
	}
}
