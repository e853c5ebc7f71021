package sparse

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// Lanes holds the factors P K Pᵀ = L D Lᵀ of eight matrices of one pattern side by side, a matrix a lane. Where all factors fit near
// the processor eight cost three to four times what one does; for long patterns they still cost less than eight, and take the
// storage of eight. It is meant for definite matrices and tells which are. Each lane has the bits that Factor would have for its matrix.
type Lanes struct {
	// Null is the relative size of a null pivot, as in Factor.
	Null float64

	sym   *Symbolic
	lx    []row8 // as Factor.lx
	d     []row8
	dinv  []row8
	own   []row8 // diagonal of the matrices, in elimination order
	c     []row8 // coefficients of one column's update
	y     []row8 // right-hand sides in elimination order
	next  []int32
	spare []float64 // takes what TakeAll is not asked for
	stand [block]bool

	chunks  []chunk // of a long pattern: see Factor.begin, entry and lastOne counted in from; else none
	chunkOf []int32 // chunk of each panel
	from    []int32 // values of the pattern, chunk after chunk
	to      []int32 // and where they go
	begun   []bool
}

const (
	// laneChunkSize is about how many entries of the factor a chunk has: with eight lanes a fifth of the second-level cache.
	laneChunkSize = 1536
	// lanesWhole is the number of entries up to which factors are filled at once.
	lanesWhole = 1 << 14
)

// NewLanes returns factors with all the storage that they will ever need.
func NewLanes(s *Symbolic) *Lanes {
	f := &Lanes{Null: NullPivot}
	f.Use(s)
	return f
}

// Use is Factor.Use.
func (f *Lanes) Use(s *Symbolic) {
	f.sym, f.stand = s, [block]bool{}
	f.lx, f.d, f.dinv, f.own = sized(f.lx, s.storage), sized(f.d, s.n), sized(f.dinv, s.n), sized(f.own, s.n)
	f.c, f.y, f.next = sized(f.c, s.wide), sized(f.y, s.n), sized(f.next, s.tall)
	for i := range f.next {
		f.next[i] = int32(i)
	}
	f.chunks = f.chunks[:0]
	if s.storage > lanesWhole {
		f.cutChunks()
	}
}

// cutChunks groups the panels into chunks, and lists the values of the pattern chunk after chunk.
func (f *Lanes) cutChunks() {
	s := f.sym
	f.chunkOf = sized(f.chunkOf, len(s.super))
	for k := range s.super {
		p := &s.super[k]
		if n := len(f.chunks); n == 0 || f.chunks[n-1].end-f.chunks[n-1].base >= laneChunkSize {
			f.chunks = append(f.chunks, chunk{base: p.base})
		}
		f.chunkOf[k] = int32(len(f.chunks) - 1)
		f.chunks[f.chunkOf[k]].end = p.base + int32(p.size())
	}
	home := make([]int32, len(s.to))
	for e, at := range s.to {
		c, _ := slices.BinarySearchFunc(f.chunks, at+1, func(c chunk, end int32) int { return cmp.Compare(c.end, end) })
		home[e] = int32(c)
		f.chunks[c].lastOne++
	}
	order := countingSort(len(f.chunks), home)
	f.from, f.to = picked(s.from, order), picked(s.to, order)
	for c := 1; c < len(f.chunks); c++ {
		f.chunks[c].entry = f.chunks[c-1].lastOne
		f.chunks[c].lastOne += f.chunks[c].entry
	}
	f.begun = sized(f.begun, len(f.chunks))
}

// Symbolic returns the analysis on which f rests.
func (f *Lanes) Symbolic() *Symbolic { return f.sym }

// Refactor computes the factors of the matrices whose lower triangles are the lanes of val, in the order of the pattern, and
// returns which of them are definite: all pivots positive and none null or not finite. The others have no factor. It panics if
// len(val) does not fit the pattern.
func (f *Lanes) Refactor(val [][block]float64) [block]bool {
	s := f.sym
	if len(val) != len(s.to) {
		panic(fmt.Sprintf("sparse: Lanes.Refactor: %d values for a pattern of %d", len(val), len(s.to)))
	}
	for k, at := range s.diag {
		f.own[k] = val[at]
	}
	for l := range f.stand {
		f.stand[l] = true
	}
	long := len(f.chunks) > 0
	if !long {
		f.fill(val, f.lx, s.from, s.to)
	}
	clear(f.begun)
	for k := range s.super {
		p := &s.super[k]
		if long {
			f.begin(f.chunkOf[k], val)
			for _, g := range s.segs[p.seg:p.segEnd] {
				f.begin(f.chunkOf[g.target], val)
			}
		}
		f.factorPanel(p)
		f.updateAbove(p)
	}
	return f.stand
}

// fill fills part of the storage with the matrices, whose values from go to places to.
func (f *Lanes) fill(val [][block]float64, part []row8, from, to []int32) {
	clear(part)
	for e, at := range to {
		f.lx[at] = val[from[e]]
	}
}

// begin is Factor.begin.
func (f *Lanes) begin(at int32, val [][block]float64) {
	if f.begun[at] {
		return
	}
	f.begun[at] = true
	c := &f.chunks[at]
	f.fill(val, f.lx[c.base:c.end], f.from[c.entry:c.lastOne], f.to[c.entry:c.lastOne])
}

// factorPanel is Factor.factorPanel.
func (f *Lanes) factorPanel(p *panel) {
	h := int(p.height)
	lx := f.lx[p.base : int(p.base)+p.size()]
	for j := range int(p.width) {
		from, to := p.rise(j)+j, p.rise(j)+h
		gj := int(p.first) + j
		if j > 0 {
			c := f.c[:j]
			mulRows(c, lx[j:], h-1, 1, f.d[p.first:], 1)
			subRowsAt(lx[from:to], f.next[:h-j], 0, lx[j:], h-1, c)
		}
		f.takePivots(gj, &lx[from])
		mulRows(lx[from+1:to], lx[from+1:], 1, 0, f.dinv[gj:], 0)
	}
}

// takePivots stores the pivots of column j. Where all before were positive, what was taken off the diagonal is its fall, which
// gives the scale of the null test.
func (f *Lanes) takePivots(j int, d *row8) {
	f.d[j] = *d
	for l, v := range d {
		f.dinv[j][l] = 1 / v
		if own := f.own[j][l]; !(v > f.Null*(own+(own-v))) || math.IsInf(v, 0) {
			f.stand[l] = false
		}
	}
}

// updateAbove is Factor.updateAbove.
func (f *Lanes) updateAbove(p *panel) {
	s := f.sym
	w, h, m := int(p.width), int(p.height), int(p.height-p.width)
	if m == 0 {
		return
	}
	lx := f.lx[p.base : int(p.base)+p.size()]
	rows := s.rows[p.row : int(p.row)+m]
	c := f.c[:w]
	for _, g := range s.segs[p.seg:p.segEnd] {
		t := &s.super[g.target]
		rel := s.rel[g.rel : int(g.rel)+m-int(g.from)]
		for q := int(g.from); q < int(g.to); q++ {
			mulRows(c, lx[w+q:], h-1, 1, f.d[p.first:], 1)
			base := int(t.base) + t.rise(int(rows[q]-t.first))
			subRowsAt(f.lx[base:base+int(t.height)], rel[q-int(g.from):], 0, lx[w+q:], h-1, c)
		}
	}
}

// Solve replaces each lane of x, one array of eight an unknown, by the solution of that lane's matrix. Lanes that are not
// definite are left with numbers of no meaning. It panics if len(x) is not the order.
func (f *Lanes) Solve(x [][block]float64) {
	s := f.sym
	if len(x) != s.n {
		panic(fmt.Sprintf("sparse: Lanes.Solve: %d rows for %d unknowns", len(x), s.n))
	}
	y := f.y
	for i, v := range s.perm {
		y[i] = x[v]
	}
	for i := range s.super {
		f.forward(&s.super[i], y)
	}
	for i := len(s.super) - 1; i >= 0; i-- {
		f.backward(&s.super[i], y)
	}
	for i, v := range s.perm {
		x[v] = y[i]
	}
}

func (f *Lanes) forward(p *panel, y []row8) {
	w, h := int(p.width), int(p.height)
	a := f.lx[p.base : int(p.base)+p.size()]
	x := y[p.first : int(p.first)+w]
	for k := range w - 1 {
		subRowsAt(x, f.next[:w-k-1], k+1, a[p.rise(k)+k+1:], 0, x[k:k+1])
	}
	if h > w {
		subRowsAt(y, f.sym.rows[p.row:int(p.row)+h-w], 0, a[w:], h-1, x)
	}
}

func (f *Lanes) backward(p *panel, y []row8) {
	w, h := int(p.width), int(p.height)
	a := f.lx[p.base : int(p.base)+p.size()]
	x := y[p.first : int(p.first)+w]
	mulRows(x, x, 1, 0, f.dinv[p.first:], 1)
	if h > w {
		dotRowsAt(x, a[w:], h-1, y, f.sym.rows[p.row:int(p.row)+h-w])
	}
	for k := w - 2; k >= 0; k-- {
		col := a[p.rise(k):]
		for i := w - 1; i > k; i-- {
			subProduct(&x[k], &col[i], &x[i])
		}
	}
}

// Take copies the factor of lane l, which must be definite, to f.
func (f *Lanes) Take(l int, to *Factor) {
	if !f.stand[l] || to.sym != f.sym {
		panic("sparse: Lanes.Take: the lane has no factor, or the other is of another pattern")
	}
	for i := range f.lx {
		to.lx[i] = f.lx[i][l]
	}
	f.takePivotsOf(l, to)
}

// TakeAll is Take for the first lanes, as many as to has, that have a factor: row by row, in much less time than one by one.
func (f *Lanes) TakeAll(to []*Factor) {
	f.spare = sized(f.spare, len(f.lx))
	var lx [block][]float64
	for l := range lx {
		lx[l] = f.spare[:len(f.lx)]
		if l < len(to) && f.stand[l] {
			if to[l].sym != f.sym {
				panic("sparse: Lanes.TakeAll: a factor is of another pattern")
			}
			lx[l] = to[l].lx[:len(f.lx)]
			f.takePivotsOf(l, to[l])
		}
	}
	a, b, c, d, e, g, h, k := lx[0], lx[1], lx[2], lx[3], lx[4], lx[5], lx[6], lx[7]
	for i := range f.lx {
		row := &f.lx[i]
		a[i], b[i], c[i], d[i], e[i], g[i], h[i], k[i] = row[0], row[1], row[2], row[3], row[4], row[5], row[6], row[7]
	}
}

// takePivotsOf writes all of lane l's factor to that is not in lx.
func (f *Lanes) takePivotsOf(l int, to *Factor) {
	for k := range f.d {
		d := f.d[k][l]
		to.d[k], to.dinv[k] = d, f.dinv[k][l]
		to.grow[k] = f.own[k][l] + (f.own[k][l] - d)
	}
	to.neg, to.zero, to.pos, to.valid = 0, 0, f.sym.n, true
}

// Negative returns how many pivots of lane l are negative. Where none was null, it has as many negative eigenvalues.
func (f *Lanes) Negative(l int) (n int) {
	for k := range f.d {
		if f.d[k][l] < 0 {
			n++
		}
	}
	return n
}

// Least returns the least pivot of each lane relative to the number of its unknown in scale, which must be positive.
func (f *Lanes) Least(scale []float64) (least [block]float64) {
	for l := range least {
		least[l] = math.Inf(1)
	}
	for k, v := range f.sym.perm {
		for l, d := range f.d[k] {
			least[l] = min(least[l], d/scale[v])
		}
	}
	return least
}

// subProduct takes a·b off y.
func subProduct(y, a, b *row8) {
	for l := range y {
		y[l] -= float64(a[l] * b[l])
	}
}

// mulRowsGo sets out to the products of rows of a and of b. The second row of a comes step after the first, the third by less
// further on, and so on; rows of b are jump apart.
func mulRowsGo(out, a []row8, step, less int, b []row8, jump int) {
	at := 0
	for k := range out {
		for l := range out[k] {
			out[k][l] = a[at][l] * b[k*jump][l]
		}
		at, step = at+step, step-less
	}
}

// subRowsAtGo takes A·c off the rows of y from shift on that at names: A is len(at) x len(c), by columns as in a panel: the second
// comes step after the first, the third one less further on, and so on. Each row takes its terms in the order of the columns.
func subRowsAtGo(y []row8, at []int32, shift int, a []row8, step int, c []row8) {
	for q, r := range at {
		yr, from, next := &y[shift+int(r)], q, step
		for k := range c {
			subProduct(yr, &a[from], &c[k])
			from, next = from+next, next-1
		}
	}
}

// dotRowsAtGo takes off each row of x the sum of its column of A, columns as in subRowsAt, times the rows of y that at names.
func dotRowsAtGo(x, a []row8, step int, y []row8, at []int32) {
	from := 0
	for k := range x {
		for q, r := range at {
			subProduct(&x[k], &a[from+q], &y[r])
		}
		from, step = from+step, step-1
	}
}

// lastColumn is where the last of w columns of a panel starts, counted from the first.
func lastColumn(step, w int) int { return (w-1)*step - (w-1)*(w-2)/2 }
