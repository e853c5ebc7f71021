package sparse

import (
	"fmt"
	"math"
)

// Border is the analysis of a pattern of which some unknowns, the border, are eliminated last: those between which values change
// while all others stay. With
//
//	K = | A  Bᵀ |
//	    | B  C  |
//
// and C on the border, a Head factorises A and leaves the rest S = C - B A⁻¹ Bᵀ, on which a change of C acts as it is. A matrix like K
// but for its border then costs a factor of the rest alone. It is immutable and may be shared by any number of workers.
type Border struct {
	sym  *Symbolic
	last []int32 // the unknown of each of the border, ascending
	at   []int32 // place in the border of each unknown, -1 for others
	rest *Symbolic
	from []int32 // where a Head's storage has each value of the rest
}

// borderLimit is how many unknowns the elimination of one may couple that the caller did not ask into the border: rather than that it
// joins it. Without a limit the border would be coupled with itself as a whole wherever it does not cut the rest to pieces
// (benchmarks.md, question 12).
const borderLimit = 40

// NewBorder analyses p with the unknowns that last names in the border, in any order, repeats allowed. Others may join them. It
// panics if an index is outside 0..p.N-1.
func NewBorder(p *Pattern, last []int32) *Border {
	b := &Border{at: make([]int32, p.N)}
	in := make([]bool, p.N)
	for _, i := range last {
		if i < 0 || int(i) >= p.N {
			panic(fmt.Sprintf("sparse: NewBorder: unknown %d is outside a matrix of order %d", i, p.N))
		}
		in[i] = true
	}
	order, head := orderLast(p, in, borderLimit)
	for k, v := range order {
		in[v] = k >= head
	}
	for i, is := range in {
		if b.at[i] = -1; is {
			b.at[i] = int32(len(b.last))
			b.last = append(b.last, int32(i))
		}
	}
	b.sym = analyzeSplit(p, order, head)
	b.findRest()
	return b
}

// findRest finds the pattern of the rest: entries of the matrix, and what each panel of the head adds between its rows. A panel whose
// parent is of the head has no rows of the border that the parent has not.
func (b *Border) findRest() {
	s := b.sym
	var cliques [][]int32
	for _, i := range b.last {
		for _, r := range s.pattern.Row[s.pattern.Ptr[i]:s.pattern.Ptr[i+1]] {
			if b.at[r] >= 0 {
				cliques = append(cliques, []int32{b.at[i], b.at[r]})
			}
		}
	}
	for k := range int32(s.heads) {
		if rows := s.rowsOf(k); len(rows) > 0 && rows[0] >= s.head {
			clique := make([]int32, len(rows))
			for q, r := range rows {
				clique[q] = b.at[s.perm[r]]
			}
			cliques = append(cliques, clique)
		}
	}
	p := NewPatternFromCliques(len(b.last), cliques)
	b.rest = Analyze(p)
	b.from = make([]int32, 0, p.NNZ())
	for j := range p.N {
		for _, i := range p.Row[p.Ptr[j]:p.Ptr[j+1]] {
			u, v := s.inv[b.last[i]], s.inv[b.last[j]]
			b.from = append(b.from, s.place(max(u, v), min(u, v)))
		}
	}
}

// Rest returns the analysis of the rest; its unknowns are those of Unknowns.
func (b *Border) Rest() *Symbolic { return b.rest }

// Unknowns returns the unknowns of the border, ascending. The list must not be changed.
func (b *Border) Unknowns() []int32 { return b.last }

// At returns the place of unknown i in Unknowns; -1 if it is not in the border.
func (b *Border) At(i int32) int32 { return b.at[i] }

// Head holds the factor of the head of one matrix, and its rest. Each worker owns one; nothing is allocated after NewHead.
type Head struct {
	b *Border
	f *Factor
}

// NewHead returns a head with all the storage that it will ever need.
func (b *Border) NewHead() *Head { return &Head{b, NewFactor(b.sym)} }

// Border returns the analysis on which h rests.
func (h *Head) Border() *Border { return h.b }

// SetNull sets the relative size of a null pivot, see Factor.Null.
func (h *Head) SetNull(null float64) { h.f.Null = null }

// Refactor computes the factor of the head of the matrix whose lower triangle is val, in the order of the pattern, and puts the lower
// triangle of the rest, in the order of its pattern, into rest. It returns a *PivotError as Factor.Refactor does. It panics if val or
// rest do not fit.
func (h *Head) Refactor(rest, val []float64) error {
	f := h.f
	f.sym.pattern.checkValues("Head.Refactor", val)
	h.b.rest.pattern.checkValues("Head.Refactor", rest)
	if err := f.eliminate(val); err != nil {
		return err
	}
	for c := range f.sym.chunks {
		f.begin(int32(c), val)
	}
	for e, at := range h.b.from {
		rest[e] = f.lx[at]
	}
	f.valid = true
	return nil
}

// Negative returns how many pivots of the head are negative. The matrix has as many negative eigenvalues as they and the pivots of the rest.
func (h *Head) Negative() int {
	h.f.mustBeValid("Head.Negative")
	return h.f.neg
}

// Least returns the least pivot of the head relative to the number of its unknown in scale, which must be positive.
func (h *Head) Least(scale []float64) float64 {
	h.f.mustBeValid("Head.Least")
	least := math.Inf(1)
	for k, v := range h.f.sym.perm[:h.f.sym.head] {
		least = min(least, h.f.d[k]/scale[v])
	}
	return least
}

// Forward takes the head off eight right-hand sides, one array an unknown. Rows of the border then hold the right-hand sides of the rest.
func (h *Head) Forward(x [][block]float64) {
	h.check("Head.Forward", len(x))
	f := h.f
	for _, run := range f.sym.pieces {
		f.forwardPiece(run, flat(x), block, block)
	}
}

// Backward completes solutions of which Forward has taken off the head and rows of the border hold the solutions of the rest.
func (h *Head) Backward(x [][block]float64) {
	h.check("Head.Backward", len(x))
	f := h.f
	for i := len(f.sym.pieces) - 1; i >= 0; i-- {
		f.backwardPiece(f.sym.pieces[i], flat(x), block, block)
	}
}

func (h *Head) check(who string, n int) {
	h.f.mustBeValid(who)
	if n != h.f.sym.n {
		panic(fmt.Sprintf("sparse: %s: %d rows for %d unknowns", who, n, h.f.sym.n))
	}
}

// Take puts the rows of the border into out, one an unknown of it.
func (b *Border) Take(out, x [][block]float64) {
	for k, i := range b.last {
		out[k] = x[i]
	}
}

// Put puts the rows y of the border into x.
func (b *Border) Put(x, y [][block]float64) {
	for k, i := range b.last {
		x[i] = y[k]
	}
}
