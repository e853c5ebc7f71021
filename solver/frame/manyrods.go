package frame

import (
	"math"
	"slices"

	"leanbay/solver/sparse"
)

// keptRods is the number of one-way elements up to which the influence of each on each is kept. It grows with their square, and
// what is done with it with their cube (figures: experiments/speed/benchmarks.md); with more of them the rest of the stiffness where
// they stand is factorised anew for each slack set instead, which a long building answers in time and memory in proportion to its length.
const keptRods = 40

// rodBorder is where many one-way elements stand in a topology: the unknowns of the nodes that they join come last, so that slack sets
// change nothing but the rest of the stiffness on these, whose factor takes a tenth of the work of that of the whole.
type rodBorder struct {
	border *sparse.Border
	idx    [][12]int32 // per one-way element: its unknowns' places in the border, -1 where held
	place  [][78]int32 // and where its lower triangle goes in the values of the rest
}

// findRodBorder analyses the stiffness for slack sets.
func (m *Model) findRodBorder() *rodBorder {
	b := &rodBorder{idx: make([][12]int32, len(m.oneWay)), place: make([][78]int32, len(m.oneWay))}
	var last []int32
	for _, e := range m.oneWay {
		for _, i := range m.freedoms(int(e)) {
			if i >= 0 {
				last = append(last, i)
			}
		}
	}
	b.border = sparse.NewBorder(m.pattern, last)
	rest := b.border.Rest().Pattern()
	for r, e := range m.oneWay {
		n := 0
		for c, i := range m.freedoms(int(e)) {
			if b.idx[r][c] = -1; i >= 0 {
				b.idx[r][c] = b.border.At(i)
			}
			for _, j := range b.idx[r][:c+1] {
				b.place[r][n] = -1
				if j >= 0 && b.idx[r][c] >= 0 {
					b.place[r][n] = int32(rest.Index(int(b.idx[r][c]), int(j)))
				}
				n++
			}
		}
	}
	return b
}

// pull adds f times the unit pull of one-way element r, whose coefficients are c, to the unknowns u of the border.
func (b *rodBorder) pull(u []float64, r int, c *[12]float64, f float64) {
	for k, i := range b.idx[r] {
		if i >= 0 {
			u[i] += c[k] * f
		}
	}
}

// stretch is the stretch of one-way element r under the unknowns u of the border.
func (b *rodBorder) stretch(u []float64, r int, c *[12]float64) (e float64) {
	for k, i := range b.idx[r] {
		if i >= 0 {
			e += c[k] * u[i]
		}
	}
	return e
}

// eachPlace hands to do the places in the rest's values that one-way element r, whose coefficients are c, has a part in, with the product of
// the two coefficients there.
func (b *rodBorder) eachPlace(r int, c *[12]float64, do func(p int32, cc float64)) {
	for i := range c {
		if c[i] == 0 {
			continue
		}
		for j, p := range b.place[r][triangle(i, 0) : triangle(i, i)+1] {
			if p >= 0 && c[j] != 0 {
				do(p, c[i]*c[j])
			}
		}
	}
}

// manyRods does for an activeSet what its dense matrices do for a few elements. With K the stiffness with all elements
// acting, M = B_S·k·B_Sᵀ of the slack ones and v = √k·B_Sᵀz, a motion z with (K - M)z = λMz is an eigenvector v of the dense I -
// √k·G·√k with the eigenvalue λ/(1+λ), so that nulls are the same motions either way. K stands for its rest on the border of the rods.
type manyRods struct {
	*rodBorder
	head    *sparse.Head
	full    []float64 // the rest of K
	val     []float64 // with the slack set taken out
	fresh   bool      // full has changed, so that val is to be made anew
	fails   bool      // K has no head
	without []int     // the slack set that has been taken out of val
	fac     *sparse.Factor
	whole   *sparse.Factor // of K
	shift   float64        // fac is of K - (1 + shift)·M
	u       []float64      // scratch: unknowns
	v       []float64      // scratch: those of the border
	r, w    []float64      // scratch: slack set
	basis   [][]float64    // of the search for null motions, and their images
	image   [][]float64
}

// prepareMany makes s ready without matrices of all on all.
func (w *Workspace) prepareMany(s *activeSet) {
	if s.many == nil {
		b := w.m.rods()
		rest := b.border.Rest()
		s.many = &manyRods{rodBorder: b, head: b.border.NewHead(), fac: sparse.NewFactor(rest), full: make([]float64, rest.Pattern().NNZ()),
			u: make([]float64, w.m.n), v: make([]float64, rest.N())}
		s.many.head.SetNull(criticalNull) // as in second order: soft is not null
		s.many.fac.Null = criticalNull
	}
	q, val := s.many, w.val
	q.whole = w.fac
	if s == &w.so.act {
		q.whole, val = w.so.fac, w.so.val
	}
	q.fails = q.head.Refactor(q.full, val) != nil
	q.fresh = true
}

// factorise makes the factor of the stiffness with the slack set taken out 1 + shift times; false if there is none.
func (q *manyRods) factorise(s *activeSet, shift float64) bool {
	if q.fails {
		return false
	}
	q.shift = shift
	if q.fresh {
		q.val, q.fresh = append(q.val[:0], q.full...), false
	} else {
		q.restore()
	}
	q.without = append(q.without[:0], s.set...)
	for _, r := range s.set {
		k := (1 + shift) * s.k[r]
		q.eachPlace(r, &s.b[r], func(p int32, cc float64) { q.val[p] -= k * cc })
	}
	return q.fac.Refactor(q.val) == nil
}

// restore puts K's own values back where the last slack set had been taken out.
func (q *manyRods) restore() {
	for _, r := range q.without {
		for _, p := range q.place[r] {
			if p >= 0 {
				q.val[p] = q.full[p]
			}
		}
	}
}

// answer sets out = √k·B_Sᵀ(K - (1 + shift)M)⁻¹·B_S·√k·in over the slack set. out may be in.
func (q *manyRods) answer(s *activeSet, out, in []float64) {
	clear(q.v)
	for a, r := range s.set {
		q.pull(q.v, r, &s.b[r], s.root[r]*in[a])
	}
	q.fac.Solve(q.v, 1)
	for a, r := range s.set {
		out[a] = s.root[r] * q.stretch(q.v, r, &s.b[r])
	}
}

// target is activeSet.target; false if the stiffness with token stiffness in the slack set has no factor.
func (q *manyRods) target(s *activeSet) bool {
	s.listSet()
	if !q.factorise(s, -tokenStiffness) {
		return false
	}
	clear(q.v)
	for _, r := range s.set {
		q.pull(q.v, r, &s.b[r], (1-tokenStiffness)*s.k[r]*s.e0[r])
	}
	q.fac.Solve(q.v, 1)
	for r := range s.en {
		s.en[r] = s.e0[r] + q.stretch(q.v, r, &s.b[r])
	}
	clear(s.yn)
	for _, r := range s.set {
		s.yn[r] = (1 - tokenStiffness) * s.k[r] * s.en[r]
	}
	return true
}

// shiftTries bounds how often a shift that happens to hit an eigenvalue is moved.
const shiftTries = 5

// decompose is activeSet.decompose: the number of null motions is the number of negative pivots under a shift of nullShare.
func (q *manyRods) decompose(s *activeSet) {
	s.nulls = 0
	shift := nullShare
	for range shiftTries {
		if q.factorise(s, shift) {
			break
		}
		shift *= 1.1
	}
	neg := q.negative()
	if neg == 0 {
		q.factorise(s, 0) // stiffer than under the shift, hence definite
		return
	}
	s.nulls = neg
	q.findNulls(s)
}

// negative counts the negative pivots of head and rest.
func (q *manyRods) negative() int {
	neg, _, _ := q.fac.Inertia()
	if !q.fails {
		neg += q.head.Negative()
	}
	return neg
}

// findNulls computes the null motions of the slack set, the eigenvectors of answer with negative eigenvalues, by projection on
// the space of repeated answers. They lie at one end of the spectrum, so that it settles in a few steps. Source: G. H. Golub, R.
// Underwood, The block Lanczos method for computing eigenvalues, in: Mathematical Software III (1977) 361-377; here with
// every vector orthogonalised against all.
func (q *manyRods) findNulls(s *activeSet) {
	p := len(s.set)
	width := min(s.nulls+1, p)
	q.basis, q.image = q.basis[:0], q.image[:0]
	state := uint64(1)
	for range width {
		v := make([]float64, p)
		for a := range v {
			state = state*6364136223846793005 + 1442695040888963407 // Knuth's generator: any start will do, but always the same
			v[a] = float64(state>>11)/(1<<53) - 0.5
		}
		q.extend(s, v)
	}
	for {
		h, v := q.project()
		n := len(q.basis)
		if q.settled(h, v, s.nulls) || n == p {
			q.keepNulls(s, h, v)
			return
		}
		grown := false
		for c := max(0, n-width); c < n; c++ {
			grown = q.extend(s, slices.Clone(q.image[c])) || grown
		}
		if !grown { // the space holds its own image
			h, v = q.project()
			q.keepNulls(s, h, v)
			return
		}
	}
}

// extend adds v, made square to the basis, and its image; false if nothing of it is new.
func (q *manyRods) extend(s *activeSet, v []float64) bool {
	size := math.Sqrt(dot(v, v))
	for range 2 {
		for _, b := range q.basis {
			t := dot(b, v)
			for a := range v {
				v[a] -= t * b[a]
			}
		}
	}
	left := math.Sqrt(dot(v, v))
	if !(left > 1e-14*size) {
		return false
	}
	for a := range v {
		v[a] /= left
	}
	image := make([]float64, len(v))
	q.answer(s, image, v)
	q.basis, q.image = append(q.basis, v), append(q.image, image)
	return true
}

// project returns the answer projected on the basis, diagonal, and the eigenvectors as rows.
func (q *manyRods) project() (h, v []float64) {
	n := len(q.basis)
	h, v = make([]float64, n*n), make([]float64, n*n)
	for a := range n {
		for b := range a + 1 {
			t := 0.5 * (dot(q.basis[a], q.image[b]) + dot(q.basis[b], q.image[a]))
			h[a*n+b], h[b*n+a] = t, t
		}
	}
	jacobi(h, v, n)
	return h, v
}

// nullSettled is the residual of a null motion, relative to its eigenvalue, at which it is taken as found.
const nullSettled = 1e-9

// settled tells whether as many negative eigenvalues as there are have settled.
func (q *manyRods) settled(h, v []float64, nulls int) bool {
	n := len(q.basis)
	found := 0
	for c := range n {
		theta := h[c*n+c]
		if theta >= 0 {
			continue
		}
		rest := 0.0
		for a := range q.basis[0] {
			t := 0.0
			for b := range n {
				t += v[c*n+b] * (q.image[b][a] - theta*q.basis[b][a])
			}
			rest += t * t
		}
		if math.Sqrt(rest) > nullSettled*math.Abs(theta) {
			return false
		}
		found++
	}
	return found == nulls
}

// keepNulls stores the null motions as activeSet has them: s.null and s.lean.
func (q *manyRods) keepNulls(s *activeSet, h, v []float64) {
	p, n := len(s.set), len(q.basis)
	s.null, s.lean = zeroed(s.null, p*s.nulls), zeroed(s.lean, p*s.nulls)
	at := 0
	for c := range n {
		theta := h[c*n+c]
		if theta >= 0 || at == s.nulls {
			continue
		}
		z := s.null[at*p : (at+1)*p]
		for b := range n {
			for a := range z {
				z[a] += v[c*n+b] * q.basis[b][a]
			}
		}
		lambda := q.shift + 1/theta
		for a, r := range s.set {
			s.lean[a*s.nulls+at] = z[a] / s.root[r] / (1 + lambda)
		}
		at++
	}
	s.nulls = at
}

const (
	// shiftSettled is the change, relative to the answer, at which the shift of the factor counts as made good.
	shiftSettled = 1e-14
	// shiftRounds bounds the rounds: each takes the error of a motion of relative stiffness λ down by nullShare/λ.
	shiftRounds = 20
)

// solveSet is activeSet.solveSet. Under a shift the answer is corrected until the shift has no part in it.
func (q *manyRods) solveSet(s *activeSet) {
	p := len(s.set)
	r, w := zeroed(q.r, p), zeroed(q.w, p)
	q.r, q.w = r, w
	for a, i := range s.set {
		r[a] = s.root[i] * s.e0[i]
	}
	s.dropNulls(r)
	if q.shift == 0 {
		q.answer(s, w, r)
	} else {
		q.unshift(s, r, w)
	}
	clear(s.y)
	for a, i := range s.set {
		s.y[i] = s.root[i] * (r[a] + w[a])
	}
}

// unshift solves for w under no shift: w = answer(r - shift·w), repeated.
func (q *manyRods) unshift(s *activeSet, r, w []float64) {
	next := zeroed(s.rhs, len(r))
	for range shiftRounds {
		for a := range next {
			next[a] = r[a] - q.shift*w[a]
		}
		q.answer(s, next, next)
		s.dropNulls(next)
		change := 0.0
		for a := range w {
			change = max(change, math.Abs(next[a]-w[a]))
			w[a] = next[a]
		}
		if change <= shiftSettled*norm(w) {
			return
		}
	}
}

// dropNulls takes the null motions out of v.
func (s *activeSet) dropNulls(v []float64) {
	p := len(v)
	for c := range s.nulls {
		z := s.null[c*p : (c+1)*p]
		t := dot(z, v)
		for a := range v {
			v[a] -= t * z[a]
		}
	}
}

// move adds K⁻¹·B·y to x.
func (q *manyRods) move(s *activeSet, x, y []float64) {
	clear(q.u)
	for r, f := range y {
		if f == 0 {
			continue
		}
		for c, i := range s.idx[r] {
			if i >= 0 {
				q.u[i] += s.b[r][c] * f
			}
		}
	}
	q.whole.Solve(q.u, 1)
	for i, v := range q.u {
		x[i] += v
	}
}
