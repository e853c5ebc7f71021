package sparse

import (
	"fmt"
	"unsafe"
)

// Solve replaces x by the solution of K X = x for nrhs right-hand sides. x is row-major: right-hand side k of unknown i is
// x[i*nrhs+k], so that what belongs to one unknown lies together. The columns are independent of each other: a column's
// bits do not depend on nrhs or on its place. It panics if there is no valid factor or len(x) is not n*nrhs.
func (f *Factor) Solve(x []float64, nrhs int) {
	f.mustBeValid("Solve")
	if len(x) != f.sym.n*nrhs {
		panic(fmt.Sprintf("sparse: Solve: %d values for %d unknowns and %d right-hand sides", len(x), f.sym.n, nrhs))
	}
	if f.sym.n == 0 {
		return
	}
	if nrhs == 1 {
		f.solveOne(x)
		return
	}
	f.solveBlocks(x, nrhs)
}

// SolveRows is Solve for eight right-hand sides, one array of eight an unknown; the bits are the same.
func (f *Factor) SolveRows(x [][8]float64) {
	f.mustBeValid("SolveRows")
	if len(x) != f.sym.n {
		panic(fmt.Sprintf("sparse: SolveRows: %d rows for %d unknowns", len(x), f.sym.n))
	}
	f.solveBlocks(flat(x), block)
}

// flat returns rows of eight, which lie together, as numbers.
func flat(x [][block]float64) []float64 {
	if len(x) == 0 {
		return nil
	}
	return unsafe.Slice(&x[0][0], block*len(x))
}

// solveBlocks solves in place. All blocks of right-hand sides pass through one piece of the factor before the next, so that a long
// factor comes from afar once each way, however many there are.
func (f *Factor) solveBlocks(x []float64, nrhs int) {
	s := f.sym
	pieces := s.pieces
	for i := range pieces {
		for k := 0; k < nrhs; {
			cols := columnsOf(nrhs - k)
			f.forwardPiece(pieces[i], x[k:], nrhs, cols)
			k += cols
		}
	}
	for i := len(pieces) - 1; i >= 0; i-- {
		for k := 0; k < nrhs; {
			cols := columnsOf(nrhs - k)
			f.backwardPiece(pieces[i], x[k:], nrhs, cols)
			k += cols
		}
	}
}

// columnsOf is how many of the right-hand sides that are left the kernels take next.
func columnsOf(left int) int {
	switch {
	case left >= block:
		return block
	case left >= 6:
		return 6
	case left >= 4:
		return 4
	case left >= 2:
		return 2
	}
	return 1
}

// forwardPiece takes a run of panels, from its first to before its last, off cols right-hand sides whose rows are stride apart.
func (f *Factor) forwardPiece(run [2]int32, x []float64, stride, cols int) {
	s := f.sym
	for i := run[0]; i < run[1]; i++ {
		p := &s.super[i]
		f.fetch(int(i) + fetchAhead)
		own, below := s.perm[p.first:p.first+p.width], s.below[p.row:p.row+p.height-p.width]
		forward(x, stride, cols, own, below, f.panel(int(i)), f.xs)
	}
}

// backwardPiece is the transpose of forwardPiece, with the division by the pivots.
func (f *Factor) backwardPiece(run [2]int32, x []float64, stride, cols int) {
	s := f.sym
	for i := run[1] - 1; i >= run[0]; i-- {
		p := &s.super[i]
		f.fetch(int(i) - fetchAhead)
		own, below := s.perm[p.first:p.first+p.width], s.below[p.row:p.row+p.height-p.width]
		backward(x, stride, cols, own, below, f.panel(int(i)), f.dinv[p.first:p.first+p.width], f.xs)
	}
}

// panel is the storage of panel i.
func (f *Factor) panel(i int) []float64 {
	p := &f.sym.super[i]
	return f.lx[p.base : int(p.base)+p.size()]
}

// fetchAhead is how many panels before its turn a panel of a long factor is asked from memory: four are some 300 ns, which it
// takes where others use the memory too (benchmarks.md, question 7).
const fetchAhead = 4

// fetch asks the memory for panel i, if there is one, of a factor that is not near the processor as a whole.
func (f *Factor) fetch(i int) {
	if f.sym.storage > filledWhole && i >= 0 && i < len(f.sym.super) {
		prefetch(f.panel(i))
	}
}

// solveOne is Solve for a single right-hand side; every sum runs in the order of the block kernels, so the bits agree.
func (f *Factor) solveOne(x []float64) {
	s := f.sym
	y := f.y
	for i, v := range s.perm {
		y[i] = x[v]
	}
	for i := range s.super {
		p := &s.super[i]
		f.fetch(i + fetchAhead)
		forwardOne(y, int(p.first), int(p.width), s.rows[p.row:p.row+p.height-p.width], f.panel(i))
	}
	for i := len(s.super) - 1; i >= 0; i-- {
		p := &s.super[i]
		below, soon := s.rows[p.row:p.row+p.height-p.width], f.panel(max(0, i-fetchAhead))
		backwardOne(y, f.dinv, int(p.first), int(p.width), below, f.panel(i), soon)
	}
	for i, v := range s.perm {
		x[v] = y[i]
	}
}
