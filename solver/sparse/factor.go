package sparse

import (
	"fmt"
	"math"
	"slices"
)

// NullPivot is the default relative size at or below which a pivot counts as null: |d| <= NullPivot * scale, where scale
// is the magnitude of what was added up to make d. Round-off leaves about 1e-16 times the growth of the elimination where a
// pivot is exactly zero; a soft but standing frame has pivots of 1e-9 and more.
const NullPivot = 1e-12

// Factor holds the numeric factor P K Pᵀ = L D Lᵀ of one matrix and the workspace of its solves. Each worker owns one;
// nothing is allocated after NewFactor. D may have negative entries: any symmetric matrix whose leading minors (in the
// elimination order) do not vanish can be factorised, and the pivots' signs are its inertia.
type Factor struct {
	// Null is the relative size of a null pivot (see NullPivot); it may be set before Refactor.
	Null float64

	sym   *Symbolic
	lx    []float64 // panels by columns
	d     []float64
	dinv  []float64
	grow  []float64 // |k_jj| plus the magnitudes that were subtracted from it: the scale of pivot j
	ld    []float64 // L D of the panel in hand
	taken []float64 // what its rows take off their own diagonals
	t     []float64 // one column of an update
	y     []float64 // one right-hand side in elimination order
	xs    []float64 // rows of a block of right-hand sides that a panel owns
	w     []float64 // vector of a rank-one update
	begun []bool    // chunks that hold the matrix in hand

	neg, zero, pos int
	valid          bool
}

// NewFactor returns a factor with all the storage that it will ever need.
func NewFactor(s *Symbolic) *Factor {
	f := &Factor{Null: NullPivot}
	f.Use(s)
	return f
}

// Use makes f one for matrices of another pattern, in the storage that it has as far as that goes. It holds no factor then.
func (f *Factor) Use(s *Symbolic) {
	f.sym, f.valid = s, false
	f.neg, f.zero, f.pos = 0, 0, 0
	f.lx = sized(f.lx, s.storage)
	f.d, f.dinv, f.grow = sized(f.d, s.n), sized(f.dinv, s.n), sized(f.grow, s.n)
	f.ld, f.taken, f.t = sized(f.ld, s.most), sized(f.taken, s.tall), sized(f.t, s.tall)
	f.y, f.xs, f.w = sized(f.y, s.n), sized(f.xs, s.wide*block), sized(f.w, s.n)
	clear(f.w) // Update leaves it so
	f.begun = sized(f.begun, len(s.chunks))
}

// sized returns v with length n and whatever is in it.
func sized[T any](v []T, n int) []T { return slices.Grow(v[:0], n)[:n] }

// Symbolic returns the analysis on which f rests.
func (f *Factor) Symbolic() *Symbolic { return f.sym }

// PivotError reports a pivot that is null or not finite: the leading part of the matrix up to Column, in the elimination
// order, is singular to working precision. It says nothing about definiteness: see Inertia.
type PivotError struct {
	Column int     // index of the unknown in the caller's numbering
	Pivot  float64 // what was left of its diagonal
	Scale  float64 // the magnitude of the terms that cancelled
}

func (e *PivotError) Error() string {
	if math.IsNaN(e.Pivot) || math.IsInf(e.Pivot, 0) || math.IsInf(e.Scale, 0) || math.IsNaN(e.Scale) {
		return fmt.Sprintf("sparse: pivot of unknown %d is %v: the matrix has values that are not finite; check them", e.Column, e.Pivot)
	}
	return fmt.Sprintf("sparse: singular at unknown %d: pivot %.3g against terms of %.3g; restrain it or shift the matrix",
		e.Column, e.Pivot, e.Scale)
}

// Refactor computes the factor of the matrix whose lower triangle is val, in the order of the pattern. It returns a
// *PivotError at the first null or non-finite pivot; until the next success Solve and Update then panic. The test is
// relative and does not change when unknowns are rescaled (D K D): a pivot is null if |d| <= Null * (|k_jj| + sum of |l²d|).
// It panics if len(val) does not fit the pattern. val is not kept.
//
// The method is right-looking over panels: a panel is factorised densely, then its outer product is subtracted from the
// panels above it in the tree, column by column, through precomputed local row numbers.
func (f *Factor) Refactor(val []float64) error {
	f.sym.pattern.checkValues("Refactor", val)
	err := f.eliminate(val)
	f.valid = err == nil
	return err
}

// eliminate factorises the panels of the head.
func (f *Factor) eliminate(val []float64) error {
	s := f.sym
	f.neg, f.zero, f.pos, f.valid = 0, 0, 0, false
	if len(s.chunks) == 0 {
		f.fill(val)
	}
	clear(f.begun)
	for k := range s.super[:s.heads] {
		p := &s.super[k]
		if len(s.chunks) > 0 {
			at := int(p.base) + chunkSize // in the next chunk
			prefetch(f.lx[min(at, s.storage):min(at+p.size(), s.storage)])
			f.begin(s.chunkOf[k], val)
			for _, g := range s.segs[p.seg:p.segEnd] {
				f.begin(s.chunkOf[g.target], val)
			}
		}
		if err := f.factorPanel(p); err != nil {
			return err
		}
		f.updateAbove(p)
	}
	return nil
}

// fill fills the whole storage with the matrix.
func (f *Factor) fill(val []float64) {
	clear(f.lx)
	s := f.sym
	for e, at := range s.to {
		f.lx[at] = val[s.from[e]]
	}
	for k, at := range s.diag {
		f.grow[k] = math.Abs(val[at])
	}
}

// begin fills the storage of a chunk with the matrix, when it is first met: what is worked on next is then in the cache.
func (f *Factor) begin(at int32, val []float64) {
	if f.begun[at] {
		return
	}
	f.begun[at] = true
	s := f.sym
	c := &s.chunks[at]
	clear(f.lx[c.base:c.end])
	to := s.to[c.entry:c.lastOne]
	for e, from := range s.from[c.entry:c.lastOne] {
		f.lx[to[e]] = val[from]
	}
	grow := f.grow[c.first:c.last]
	for k, at := range s.diag[c.first:c.last] {
		grow[k] = math.Abs(val[at])
	}
}

// factorPanel factorises the columns of p, to which all updates from below have been applied: left-looking inside. It leaves L D of
// them in f.ld, in the places of the panel, and in f.taken what each row takes off its own diagonal.
func (f *Factor) factorPanel(p *panel) error {
	h := int(p.height)
	lx := f.lx[p.base : int(p.base)+p.size()]
	taken := f.taken[:h]
	clear(taken)
	for j := range int(p.width) {
		from, to := p.rise(j)+j, p.rise(j)+h
		gj := int(p.first) + j
		f.grow[gj] += taken[j]
		subColumns(lx[from:to], lx[j:], f.ld[j:], panelColumns(h), j)
		if err := f.takePivot(gj, lx[from]); err != nil {
			return err
		}
		finishColumn(lx[from+1:to], f.ld[from+1:to], taken[j+1:], f.d[gj], f.dinv[gj])
	}
	return nil
}

// takePivot tests pivot d of column j, stores it and counts its sign.
func (f *Factor) takePivot(j int, d float64) error {
	scale := f.grow[j]
	if !(math.Abs(d) > f.Null*scale) || math.IsInf(d, 0) {
		if d == d && !math.IsInf(d, 0) {
			f.zero++
		}
		return &PivotError{Column: int(f.sym.perm[j]), Pivot: d, Scale: scale}
	}
	f.d[j], f.dinv[j] = d, 1/d
	if d < 0 {
		f.neg++
	} else {
		f.pos++
	}
	return nil
}

// updateAbove subtracts the outer product of p's rows below from the panels that own those rows as columns.
func (f *Factor) updateAbove(p *panel) {
	s := f.sym
	w, m, steps := int(p.width), int(p.height-p.width), panelColumns(int(p.height))
	lx := f.lx[p.base : int(p.base)+p.size()]
	rows := s.rows[p.row : int(p.row)+m]
	for _, g := range s.segs[p.seg:p.segEnd] {
		t := &s.super[g.target]
		rel := s.rel[g.rel : int(g.rel)+m-int(g.from)]
		for q := int(g.from); q < int(g.to); q++ {
			f.grow[rows[q]] += f.taken[w+q]
			r := rel[q-int(g.from):]
			base := int(t.base) + t.rise(int(rows[q]-t.first))
			dst := f.lx[base : base+int(t.height)]
			n := len(r)
			if int(r[n-1]-r[0]) == n-1 {
				subColumns(dst[r[0]:int(r[0])+n], lx[w+q:], f.ld[w+q:], steps, w)
				continue
			}
			y := f.t[:n]
			for i, at := range r {
				y[i] = dst[at]
			}
			subColumns(y, lx[w+q:], f.ld[w+q:], steps, w)
			for i, at := range r {
				dst[at] = y[i]
			}
		}
	}
}

// Inertia returns the number of negative, null and positive pivots of the last Refactor with its updates. By Sylvester's
// law these are the numbers of negative, zero and positive eigenvalues. After a breakdown it holds what was known when the
// elimination stopped, and the three add up to less than the order unless the last pivot was the null one.
func (f *Factor) Inertia() (neg, zero, pos int) { return f.neg, f.zero, f.pos }

// PivotRatio returns the smallest of |d| / scale over the pivots (the measure of the null test), and the unknown where it
// is: a cheap warning that the matrix is nearly singular there, invariant under rescaling of unknowns for a definite matrix.
func (f *Factor) PivotRatio() (ratio float64, column int) {
	f.mustBeValid("PivotRatio")
	ratio = math.Inf(1)
	for k, v := range f.sym.perm {
		if r := math.Abs(f.d[k]) / f.grow[k]; r < ratio {
			ratio, column = r, int(v)
		}
	}
	return ratio, column
}

func (f *Factor) mustBeValid(who string) {
	if !f.valid {
		panic("sparse: " + who + ": there is no factor: Refactor or Update has failed or was never called")
	}
}
