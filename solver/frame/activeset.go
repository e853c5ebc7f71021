package frame

import (
	"fmt"
	"math"
	"slices"

	"leanbay/solver"
)

// Which one-way elements act is a convex problem: the energy ½uᵀKu - fᵀu with K of the elements that act both ways plus
// ½k·e² of every one-way element that is stretched (e > 0, in its own sense). It is solved in the space of the one-way
// elements alone: with W = K⁻¹B for unit stretches B of all of them (all acting in K), slackening a set S changes the
// displacements by W_S (D⁻¹ - G_SS)⁻¹ e_S with G = BᵀW. Newton's step is the plain active set; if a set returns, exact
// line searches on the energy make every later step lower it, so that none returns again and the search ends.

const (
	// tokenStiffness is the share of its stiffness that a slack element keeps while the set is searched, so that the search
	// never meets a mechanism that another set would stop.
	tokenStiffness = 1e-7
	// nullShare is the stiffness of a motion relative to that of the slack elements in it, under which they alone stop it.
	nullShare = 1e-7
	// nullWork is the share of the load that may work on such a motion and still be round-off.
	nullWork = 1e-7
	// maxSets bounds the search; Newton takes a handful of steps.
	maxSets = 400
)

// activeSet is the reduced problem of one load of values, and scratch.
type activeSet struct {
	ready bool
	size  float64   // √Σk·e0² under the whole load
	m     int       // one-way elements
	k     []float64 // N/m
	root  []float64 // √k
	idx   [][12]int32
	b     [][12]float64 // stretch in its own sense per unknown
	w     []float64     // n x m
	g     []float64     // m x m
	wide  []float64     // w with right-hand sides up to a multiple of eight

	e0, e, y, yn, en []float64
	slack, next      []bool
	set              []int
	a, v             []float64 // dense scratch m x m
	rhs, tmp         []float64
	seen             []uint64
	null             []float64 // null motions as combinations of the slack set: rows of m
	nulls            int
	spectral         bool      // a holds eigenvalues, v eigenvectors; else a is a Cholesky factor
	lean             []float64 // stretch of each slack element in each null motion: m x nulls
	many             *manyRods // in place of w, g, a and v where there are many; else nil
}

// grow makes room for m one-way elements, with matrices of all on all and on n unknowns if dense.
func (s *activeSet) grow(m, n int, dense bool) {
	s.k, s.root = zeroed(s.k, m), zeroed(s.root, m)
	s.idx, s.b = zeroed(s.idx, m), zeroed(s.b, m)
	if dense {
		s.w, s.g = sized(s.w, n*m), zeroed(s.g, m*m) // w is written as a whole
	}
	s.growScratch(m, dense)
}

// growScratch makes room for what belongs to one slack set.
func (s *activeSet) growScratch(m int, dense bool) {
	s.m = m
	if dense {
		s.a, s.v = zeroed(s.a, m*m), zeroed(s.v, m*m)
		s.null, s.lean = zeroed(s.null, m*m), zeroed(s.lean, m*m)
	}
	s.e0, s.e, s.y = zeroed(s.e0, m), zeroed(s.e, m), zeroed(s.y, m)
	s.yn, s.en, s.rhs, s.tmp = zeroed(s.yn, m), zeroed(s.en, m), zeroed(s.rhs, m), zeroed(s.tmp, m)
	s.slack, s.next = zeroed(s.slack, m), zeroed(s.next, m)
	s.set = slices.Grow(s.set[:0], m)
	s.seen = slices.Grow(s.seen[:0], maxSets)
}

// prepareOneWay computes the influence of all one-way elements with the factor in solve, once per stiffness.
func (w *Workspace) prepareOneWay(s *activeSet, solve func(x []float64, nrhs int)) {
	s.grow(len(w.m.oneWay), w.m.n, !w.manyRods())
	wide := (s.m + lanes - 1) / lanes * lanes // right-hand sides go by eight fastest
	if !w.manyRods() {
		s.wide = zeroed(s.wide, w.m.n*wide)
	}
	for r, e := range w.m.oneWay {
		w.stretchOf(int(e), &s.idx[r], &s.b[r])
		s.k[r] = w.els[e].EA / w.els[e].L
		s.root[r] = math.Sqrt(s.k[r])
		for c, i := range s.idx[r] {
			if i >= 0 && !w.manyRods() {
				s.wide[int(i)*wide+r] += s.b[r][c]
			}
		}
	}
	if s.m == 0 || w.m.n == 0 {
		return
	}
	if w.manyRods() {
		w.prepareMany(s)
		return
	}
	solve(s.wide, wide)
	for i := range w.m.n {
		copy(s.w[i*s.m:(i+1)*s.m], s.wide[i*wide:])
	}
	for r := range s.m {
		for c, i := range s.idx[r] {
			if i >= 0 {
				addTimes(s.g[r*s.m:(r+1)*s.m], s.b[r][c], s.w[int(i)*s.m:])
			}
		}
	}
	for r := range s.m {
		for q := range r {
			t := 0.5 * (s.g[r*s.m+q] + s.g[q*s.m+r])
			s.g[r*s.m+q], s.g[q*s.m+r] = t, t
		}
	}
}

// manyRods tells whether the one-way elements are too many for matrices of all on all.
func (w *Workspace) manyRods() bool { return len(w.m.oneWay) > w.keptRods && w.m.n > 0 }

// stretchOf writes the stretch of element e, positive in the sense in which it acts, as coefficients of the unknowns.
func (w *Workspace) stretchOf(e int, idx *[12]int32, b *[12]float64) {
	el := &w.els[e]
	*idx = w.m.freedoms(e)
	sense := 1.0
	if w.m.elements[e].acts == solver.CompressionOnly {
		sense = -1
	}
	f := [12]float64{0: -sense, 6: sense}
	*b = [12]float64{}
	el.scatter(&f, b[:6], b[6:])
}

// pullOf writes stretchOf element e, and returns the axial force (N, tension positive) that a unit of it is in first order.
func (w *Workspace) pullOf(e int, idx *[12]int32, b *[12]float64) float64 {
	w.stretchOf(e, idx, b)
	if w.m.elements[e].acts == solver.CompressionOnly {
		return -w.els[e].linear.kA
	}
	return w.els[e].linear.kA
}

// stretches sets e = Bᵀu and returns the greatest sum of magnitudes in it: what its round-off is measured by.
func (s *activeSet) stretches(e, u []float64) (size float64) {
	for r := range s.m {
		t, a := 0.0, 0.0
		for c, i := range s.idx[r] {
			if i >= 0 {
				t += s.b[r][c] * u[i]
				a += math.Abs(s.b[r][c] * u[i])
			}
		}
		e[r] = t
		size = max(size, a)
	}
	return size
}

// analyseOneWay answers a linear combination with the active set.
func (w *Workspace) analyseOneWay(r *Result) {
	s := &w.active
	if !s.ready {
		w.prepareOneWay(s, w.solveLinear)
		s.ready = true
	}
	w.superpose(w.x)
	sets, cycled, ok := s.search(s.stretches(s.e0, w.x))
	r.Iterations = sets
	if cycled {
		r.Notes = append(r.Notes, "the active set returned to an earlier state; it was finished by line searches on the energy")
	}
	if !ok {
		r.Stable = false
		r.Notes = append(r.Notes, fmt.Sprintf("the active set of one-way elements did not settle in %d steps; no answer is given", maxSets))
		return
	}
	s.settle()
	if !w.judgeNulls(r, s) {
		return
	}
	s.move(w.x, s.y, w.m.n)
	for i, e := range w.m.oneWay {
		r.Slack[e] = s.slack[i]
	}
	w.finish(r)
	if r.Residual > 1e-11 {
		w.improve(r, s)
	}
}

func (w *Workspace) solveLinear(x []float64, nrhs int) {
	if w.m.n > 0 {
		w.fac.Solve(x, nrhs)
	}
}

// improve takes one step of iterative refinement with the slack set as it is.
func (w *Workspace) improve(r *Result, s *activeSet) {
	w.outOfBalance(r, w.b)
	w.solveLinear(w.b, 1)
	s.stretches(s.e0, w.b)
	s.solveSet()
	s.move(w.b, s.y, w.m.n)
	for i := range w.x {
		w.x[i] += w.b[i]
	}
	w.finish(r)
}

// move adds W·y to u.
func (s *activeSet) move(u, y []float64, n int) {
	if s.many != nil {
		s.many.move(s, u, y)
		return
	}
	for i := range n {
		row := s.w[i*s.m : i*s.m+s.m]
		t := 0.0
		for q, v := range y {
			t += row[q] * v
		}
		u[i] += t
	}
}

// search finds which elements are slack, with token stiffness in those that are: s.slack, s.y and s.e. scale is
// the size of the displacements: stretches of 1e-12 of it are round-off, which the token stiffness blows up to 1e-9 at most
// in motions that only slack elements stop. An element that is not stretched counts as slack.
func (s *activeSet) search(scale float64) (sets int, cycled, ok bool) {
	s.measure(scale)
	tol := 1e-9 * scale
	copy(s.e, s.e0)
	clear(s.y)
	s.seen = s.seen[:0]
	for r := range s.slack {
		s.slack[r] = s.e[r] <= tol
	}
	for sets = 1; sets < maxSets; sets++ {
		if !s.target() {
			return sets, cycled, false
		}
		if cycled {
			s.lineSearch()
		} else {
			copy(s.y, s.yn)
			copy(s.e, s.en)
		}
		same := true
		for r := range s.slack {
			s.next[r] = s.slack[r]
			if s.e[r] > tol {
				s.next[r] = false
			} else if s.e[r] < -tol {
				s.next[r] = true
			}
			same = same && s.next[r] == s.slack[r]
		}
		if same {
			return sets, cycled, true
		}
		h := hashSet(s.next)
		if !cycled && slices.Contains(s.seen, h) {
			cycled = true
		}
		s.seen = append(s.seen, h)
		copy(s.slack, s.next)
	}
	return sets, cycled, false
}

// measure sets the size of the stretches e0, and clears those that are round-off at the given scale.
func (s *activeSet) measure(scale float64) {
	s.size = 0
	for r, v := range s.e0 {
		if math.Abs(v) < 1e-13*scale {
			s.e0[r] = 0
		}
		s.size += s.k[r] * v * v
	}
	s.size = math.Sqrt(s.size)
}

// hashSet is FNV-1a over the states.
func hashSet(set []bool) uint64 {
	h := uint64(14695981039346656037)
	for _, b := range set {
		if b {
			h ^= 1
		}
		h *= 1099511628211
	}
	return h
}

// target solves the problem with the present slack set, token stiffness left in it: yn and en. It is false if that has no
// answer.
func (s *activeSet) target() bool {
	if s.many != nil {
		return s.many.target(s)
	}
	s.listSet()
	p := len(s.set)
	for a, r := range s.set {
		for b, q := range s.set[:a+1] {
			s.a[a*p+b] = -s.root[r] * s.g[r*s.m+q] * s.root[q]
		}
		s.a[a*p+a] += 1 / (1 - tokenStiffness)
		s.rhs[a] = s.root[r] * s.e0[r]
	}
	cholesky(s.a, p, tokenStiffness/2)
	cholSolve(s.a, s.rhs, p)
	clear(s.yn)
	for a, r := range s.set {
		s.yn[r] = s.root[r] * s.rhs[a]
	}
	s.stretchesAfter(s.en, s.yn)
	return true
}

func (s *activeSet) listSet() {
	s.set = s.set[:0]
	for r, slack := range s.slack {
		if slack {
			s.set = append(s.set, r)
		}
	}
}

// stretchesAfter sets e = e0 + G·y.
func (s *activeSet) stretchesAfter(e, y []float64) {
	for r := range e {
		t := s.e0[r]
		row := s.g[r*s.m : r*s.m+s.m]
		for q, v := range y {
			t += row[q] * v
		}
		e[r] = t
	}
}

// lineSearch moves y and e from where they are towards yn and en to the least energy on the way (and beyond).
func (s *activeSet) lineSearch() {
	slope := func(t float64) float64 {
		g := 0.0
		for r := range s.y {
			de, dy := s.en[r]-s.e[r], s.yn[r]-s.y[r]
			e := s.e[r] + t*de
			g += dy * (e - s.e0[r]) // dyᵀG(y + t·dy)
			if e < 0 {
				g -= (1 - tokenStiffness) * s.k[r] * e * de
			}
		}
		return g
	}
	lo, hi := 0.0, 1.0
	for slope(hi) < 0 && hi < 1e6 {
		lo, hi = hi, 2*hi
	}
	for range 80 {
		mid := 0.5 * (lo + hi)
		if slope(mid) < 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	for r := range s.y {
		s.y[r] += hi * (s.yn[r] - s.y[r])
		s.e[r] += hi * (s.en[r] - s.e[r])
	}
}

// settle solves with the slack set really gone. Motions that only slack elements would stop get no share; they are left in
// s.null (combinations of the slack set), with the stretches of the slack elements in s.lean.
func (s *activeSet) settle() {
	s.listSet()
	s.decompose()
	s.solveSet()
	if s.nulls > 0 {
		s.findLean()
	}
}

// decompose prepares solveSet for the slack set: by Cholesky where it is plainly definite, else by its spectrum.
func (s *activeSet) decompose() {
	if s.many != nil {
		s.many.decompose(s)
		return
	}
	p := len(s.set)
	s.nulls = 0
	s.relative()
	s.spectral = !cholesky(s.a, p, 0) || lowestPivot(s.a, p) < 100*nullShare
	if s.spectral {
		s.relative()
		s.spectrum()
	}
}

// relative sets a = I - √k G √k of the slack set: the stiffness of the rest relative to the slack elements' own.
func (s *activeSet) relative() {
	p := len(s.set)
	for a, r := range s.set {
		for b, q := range s.set {
			s.a[a*p+b] = -s.root[r] * s.g[r*s.m+q] * s.root[q]
		}
		s.a[a*p+a] += 1
	}
}

// spectrum diagonalises a; an eigenvalue that is null or negative belongs to a motion that nothing but slack elements
// stops. Rows of s.v are the eigenvectors.
func (s *activeSet) spectrum() {
	p := len(s.set)
	spectrum(s.a, s.v, s.en, p)
	for c := range p {
		if s.a[c*p+c] < nullShare {
			copy(s.null[s.nulls*p:(s.nulls+1)*p], s.v[c*p:(c+1)*p])
			s.nulls++
		}
	}
}

// solveSet sets y for the stretches e0 with the slack set gone, null motions left out.
func (s *activeSet) solveSet() {
	if s.many != nil {
		s.many.solveSet(s)
		return
	}
	p := len(s.set)
	clear(s.y)
	if !s.spectral {
		for a, r := range s.set {
			s.rhs[a] = s.root[r] * s.e0[r]
		}
		cholSolve(s.a, s.rhs, p)
		for a, r := range s.set {
			s.y[r] = s.root[r] * s.rhs[a]
		}
		return
	}
	for c := range p {
		mu := s.a[c*p+c]
		if mu < nullShare {
			continue
		}
		t := 0.0
		for a, r := range s.set {
			t += s.v[c*p+a] * s.root[r] * s.e0[r]
		}
		t /= mu
		for a, r := range s.set {
			s.y[r] += s.root[r] * s.v[c*p+a] * t
		}
	}
}

// findLean computes the stretch of each slack element in each null motion.
func (s *activeSet) findLean() {
	if s.many != nil {
		return // decompose has found it
	}
	p := len(s.set)
	for a, r := range s.set {
		for c := range s.nulls {
			t := 0.0
			for b, q := range s.set {
				t += s.g[r*s.m+q] * s.root[q] * s.null[c*p+b]
			}
			s.lean[a*s.nulls+c] = t
		}
	}
}
