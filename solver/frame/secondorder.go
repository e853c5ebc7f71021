package frame

import (
	"fmt"
	"math"
	"slices"

	"leanbay/solver/sparse"
)

const (
	// strictBalance is the residual at which a second-order answer counts as converged: out-of-balance over the greatest force.
	// quickBalance is that of quick answers: what is left moves forces by some 1e-5 of the greatest (TestQuickAnswers), far less than
	// any coefficient of a code is known to.
	strictBalance = 1e-10
	quickBalance  = 2e-6
	// roundOff is the residual that is accepted where it falls no further: structures with members of very different stiffness.
	// Above balanceNote it is told.
	roundOff    = 1e-5
	balanceNote = 1e-7
	// maxRounds bounds the iteration on axial forces.
	maxRounds = 60
	// lower is the share by which compression is taken greater than in first order when the stiffness is factorised. If the
	// answer's axial forces are nowhere lower than those, its stiffness is at least as stiff, and the factor proves it definite.
	lower = 0.02
	// slowFall is the fall of the residual in one round under which a new factor is made.
	slowFall = 0.2
)

// secondOrder is the storage of second-order analysis.
type secondOrder struct {
	strips   stripSet
	inner    []inner
	at       [][2]float64
	arena    []strip // spans of all elements under the combination in hand
	first    []int32 // CSR by element
	tails    [][2][3]float64
	val      []float64
	fac      *sparse.Factor
	axial    []float64 // axial force per element at which fac was made
	mix      mixing
	base     []base        // states at the first factor
	fixed    [][12]float64 // fixed-end forces with joints condensed, as evaluated last
	act      activeSet
	search   setSearch
	negative int     // negative eigenvalues at fac, hidden ones included
	hidden   []int   // negative eigenvalues hidden in each element at the last exact stiffness
	size     float64 // √Σk·e² of the one-way elements under the whole load: what work on a motion is compared with
	state    state
	extra    []float64 // scratch of Extent
	sharing  sharing
	abreast  abreast
	factors  laneFactors
	rests    laneRests
	buckling laneBuckling
	smooth   []smoothSum // per element, of the combination in hand, in quick answers
	gathered bool        // arena, first and tails are of the combination in hand
}

// gatherAll cuts all elements at the jumps of the combination's loads.
func (w *Workspace) gatherAll() {
	so := &w.so
	so.gathered = true
	so.arena, so.first, so.tails = so.arena[:0], append(so.first[:0], 0), so.tails[:0]
	for e := range w.els {
		so.strips.gather(w.loads.on(e), w.loads.places.under(e, w.factors), w.factors, w.els[e].L)
		so.arena = append(so.arena, so.strips.spans...)
		so.first = append(so.first, int32(len(so.arena)))
		so.tails = append(so.tails, [2][3]float64{so.strips.tailF, so.strips.tailM})
	}
}

// balance is the residual that is asked for.
func (w *Workspace) balance() float64 {
	switch {
	case w.starts:
		return startBalance
	case w.Quick:
		return quickBalance
	}
	return strictBalance
}

// combineSmooth sums what the weighed cases do to smooth elements.
func (w *Workspace) combineSmooth() {
	sums := slices.Grow(w.so.smooth[:0], len(w.els))[:len(w.els)]
	w.so.smooth = sums
	for e := range sums {
		sums[e].smoothLoad = smoothLoad{}
	}
	for c, factor := range w.factors {
		if factor == 0 {
			continue
		}
		for i := w.loads.caseAt[c]; i < w.loads.caseAt[c+1]; i++ {
			sums[w.loads.fixed[i].element].add(&w.loads.smooth[i], factor)
		}
	}
	for e := range sums {
		for _, p := range w.loads.places.under(e, w.factors) {
			w.els[e].addSmoothPoint(p.a, &p.f, &[3]float64{}, &sums[e].smoothLoad)
		}
		sums[e].settle()
	}
}

// stateUnder computes the stiffness of element e when the node at end i pulls with n (tension), and its fixed-end forces
// with joints condensed.
func (w *Workspace) stateUnder(e int, n float64, st *state, f *[12]float64) {
	el := &w.els[e]
	so := &w.so
	*st = el.linear
	*f = w.fe[e]
	if w.Quick && el.smoothable(n, &so.smooth[e].smoothLoad) {
		el.smoothState(n, &so.smooth[e], st, f)
		return
	}
	if !so.gathered {
		w.gatherAll()
	}
	b := stripSet{spans: so.arena[so.first[e]:so.first[e+1]], fine: so.strips.fine, tailF: so.tails[e][0], tailM: so.tails[e][1]}
	b.setAxial(n)
	b.refine(el, 0)
	so.strips.fine = b.fine
	for p := range 2 {
		if el.slender[p] {
			k := b.meanAxial(el.L) / el.L
			st.plane[p] = block{0: {0: k, 2: -k}, 2: {0: -k, 2: k}}
			continue
		}
		k, neg := b.chain(el, p, 0, nil)
		var v [4]float64
		st.plane[p], v = k.asBlock()
		st.negJ += neg + st.planeC[p].condense(&st.plane[p], 4, &el.plane[p])
		putPlane(f, p, &v)
	}
	el.condenseLoads(st, f)
	if el.arms {
		last := &b.spans[len(b.spans)-1]
		ends := [2]float64{n, last.n[0] + last.n[1] + last.n[2] - b.tailF[0]}
		for end, sign := range [2]float64{1, -1} {
			a := &el.arm[end]
			st.arm[end] = sign * ends[end] * (a[0]*el.R[0][0] + a[1]*el.R[0][1] + a[2]*el.R[0][2])
		}
	}
}

// pull returns the axial force that the node at end i puts into element e (tension positive) when its ends move by d.
func (w *Workspace) pull(e int, d *[12]float64) float64 {
	el := &w.els[e]
	f := w.fe[e]
	v := [4]float64{f[0], f[6]}
	el.linear.axialC.loads(&v, math.Inf(1))
	return -(v[0] - el.linear.kA*(d[6]-d[0]))
}

// evaluate computes end forces, sums at nodes and the residual of the displacements w.x in second order, with slack
// elements gone. It leaves the states in w.states and the axial forces in r.axial, and returns the count of hidden negative
// eigenvalues.
func (w *Workspace) evaluate(r *Result) (hidden int) {
	w.states = slices.Grow(w.states[:0], len(w.els))[:len(w.els)]
	w.so.fixed = slices.Grow(w.so.fixed[:0], len(w.els))[:len(w.els)]
	w.spread(r)
	clear(w.g)
	for e := range w.els {
		el, t := &w.els[e], &w.m.elements[e]
		ui, uj := r.U[6*t.i:6*t.i+6], r.U[6*t.j:6*t.j+6]
		gi, gj := w.g[6*t.i:6*t.i+6], w.g[6*t.j:6*t.j+6]
		st := &w.states[e]
		if r.Slack[e] {
			f := w.fe[e]
			r.Ends[e], r.axial[e], w.so.fixed[e] = f, 0, f
			*st = state{}
			el.scatter(&f, gi, gj)
			continue
		}
		d := el.local(ui, uj)
		r.axial[e] = w.pull(e, &d)
		f := &w.so.fixed[e]
		w.stateUnder(e, r.axial[e], st, f)
		hidden += st.negJ
		r.Ends[e] = el.endForces(st, &d, f)
		el.scatter(&r.Ends[e], gi, gj)
		if el.arms {
			el.scatterArms(st, ui, uj, gi, gj)
		}
	}
	w.react(r)
	return hidden
}

// base is an element's state at the axial force of the first factor: with the state evaluated last it gives the change of
// stiffness with axial force.
type base struct {
	ok    bool
	n     float64
	plane [2]block
	fixed [12]float64
}

// restate computes the sums at nodes of the displacements w.x. The states are those evaluated last, moved to the axial
// forces of w.x along the secant through the base. It serves between two exact evaluations: the error is of second order
// in a change of axial force that is small already.
func (w *Workspace) restate(r *Result) {
	w.spread(r)
	clear(w.g)
	for e := range w.els {
		el, t, st := &w.els[e], &w.m.elements[e], &w.states[e]
		ui, uj := r.U[6*t.i:6*t.i+6], r.U[6*t.j:6*t.j+6]
		gi, gj := w.g[6*t.i:6*t.i+6], w.g[6*t.j:6*t.j+6]
		f := w.so.fixed[e]
		if r.Slack[e] {
			el.scatter(&f, gi, gj)
			continue
		}
		d := el.local(ui, uj)
		f = el.endForces(st, &d, &f)
		if b := &w.so.base[e]; b.ok && r.axial[e] != b.n {
			share := (w.pull(e, &d) - r.axial[e]) / (r.axial[e] - b.n)
			b.addChange(st, &w.so.fixed[e], &d, share, &f)
		}
		el.scatter(&f, gi, gj)
		if el.arms {
			el.scatterArms(st, ui, uj, gi, gj)
		}
	}
}

// addChange adds to the end forces f of the bending planes what a change of state by share of that from b to st makes.
func (b *base) addChange(st *state, fixed, d *[12]float64, share float64, f *[12]float64) {
	for p := range 2 {
		v, g := planeOf(d, p), planeOf(f, p)
		f1, f0 := planeOf(fixed, p), planeOf(&b.fixed, p)
		k1, k0 := &st.plane[p], &b.plane[p]
		for i := range 4 {
			s := f1[i] - f0[i]
			for j := range 4 {
				s += (k1[i][j] - k0[i][j]) * v[j]
			}
			g[i] += share * s
		}
		putPlane(f, p, &g)
	}
}

// scatterArms adds the moments that rigid arms exert when they turn under axial force.
func (e *element) scatterArms(st *state, ui, uj, gi, gj []float64) {
	for end, u := range [2][]float64{ui, uj} {
		g := [2][]float64{gi, gj}[end]
		for axis := 1; axis < 3; axis++ {
			a := &e.R[axis]
			m := st.arm[end] * (a[0]*u[3] + a[1]*u[4] + a[2]*u[5])
			for k := range 3 {
				g[3+k] += m * a[k]
			}
		}
	}
}

// factorUnder factorises the stiffness under the axial forces of r, each lowered by drop(n); slack elements keep their
// stretching stiffness, so that the set can change without a new factor. It returns the number of negative eigenvalues of
// the whole, hidden ones included, and whether there is a factor. keep stores the states as the base of restate.
func (w *Workspace) factorUnder(r *Result, drop func(n float64) float64, keep bool) (neg int, ok bool) {
	so := &w.so
	w.beginFactor()
	so.base = slices.Grow(so.base[:0], len(w.els))[:len(w.els)]
	st := &so.state
	for e := range w.els {
		n := r.axial[e]
		var f [12]float64
		if r.Slack[e] {
			*st = w.els[e].linear
		} else {
			n = drop(n)
			w.stateUnder(e, n, st, &f)
		}
		if b := &so.base[e]; keep {
			*b = base{ok: !r.Slack[e], n: n, plane: st.plane, fixed: f}
		}
		w.addFactor(e, st, n)
	}
	return w.endFactor()
}

// factorEvaluated is factorUnder for the axial forces of r as they are, from the states evaluated last.
func (w *Workspace) factorEvaluated(r *Result) (neg int, ok bool) {
	w.beginFactor()
	for e := range w.els {
		if r.Slack[e] {
			w.addFactor(e, &w.els[e].linear, r.axial[e])
		} else {
			w.addFactor(e, &w.states[e], r.axial[e])
		}
	}
	return w.endFactor()
}

// beginFactor begins a factor, to which addFactor adds the elements.
func (w *Workspace) beginFactor() {
	so := &w.so
	w.readySecond()
	so.val = zeroed(so.val, len(w.val))
	so.axial = zeroed(so.axial, len(w.els))
	so.negative = 0
}

// addFactor adds element e in a state under the axial force n.
func (w *Workspace) addFactor(e int, st *state, n float64) {
	so := &w.so
	so.axial[e] = n
	so.negative += st.negJ
	w.els[e].global(st, &w.kk)
	addAt(so.val, w.m.place[e][:], w.kk[:])
}

// endFactor factorises the sum, and returns what factorUnder does.
func (w *Workspace) endFactor() (neg int, ok bool) {
	so := &w.so
	w.addNodeSprings(so.val)
	w.addTurns(so.val)
	so.act.ready = false
	if w.m.n == 0 {
		return so.negative, true
	}
	if so.fac.Refactor(so.val) != nil {
		so.negative++
		return so.negative, false
	}
	n, _, _ := so.fac.Inertia()
	so.negative += n
	return so.negative, true
}

// criticalNull is the relative size of a null pivot of stiffness under axial force. Its signs are wanted up to the critical state
// itself, so only pivots of the size of round-off count as null.
const criticalNull = 1e-15

// readySecond makes sure that so.fac is a factor of this topology's stiffness under axial force.
func (w *Workspace) readySecond() {
	if w.m.n > 0 {
		w.so.fac = factorFor(w.so.fac, w.m.sym)
		w.so.fac.Null = criticalNull
	}
}

func (w *Workspace) solveSecond(x []float64, nrhs int) {
	if w.m.n > 0 {
		w.so.fac.Solve(x, nrhs)
	}
}

// analyseSecond answers a combination in second order. It starts from the first-order answer, iterates on the axial forces
// to the residual balance with one factor as long as that converges fast, and proves the end state definite.
func (w *Workspace) analyseSecond(r *Result) {
	if !w.startSecond(r) {
		return
	}
	w.so.gathered = false
	if w.Quick {
		w.combineSmooth()
	} else {
		w.gatherAll()
	}
	w.iterate(r)
}

// startSecond makes the first-order answer from which second order starts; false if there is none.
func (w *Workspace) startSecond(r *Result) bool {
	if r.Analysis.oneWay() && len(w.m.oneWay) > 0 {
		w.analyseOneWay(r)
		if !r.Stable {
			return false
		}
		if w.active.nulls > 0 { // second order judges the motions held by slack elements anew
			r.Notes = r.Notes[:len(r.Notes)-1]
			clear(r.Touching)
		}
		w.so.size = w.active.size
	} else {
		w.superpose(w.x)
		w.finish(r)
	}
	for e := range r.Ends {
		r.axial[e] = -r.Ends[e][0]
		if r.Slack[e] {
			r.axial[e] = 0
		}
	}
	return true
}

// iterate runs the rounds of second order from the axial forces and slack set in r.
func (w *Workspace) iterate(r *Result) {
	largest := 0.0
	for _, n := range r.axial {
		largest = max(largest, math.Abs(n))
	}
	lowered := func(n float64) float64 { return n - lower*math.Abs(n) - 1e-3*lower*largest }
	asIs := func(n float64) float64 { return n }
	neg, ok := w.factorUnder(r, lowered, true)
	exact := false
	if neg > 0 || !ok {
		if neg, ok = w.factorUnder(r, asIs, false); neg > 0 || !ok {
			w.beyond(r, neg)
			return
		}
		exact = true
	}
	w.so.search.reset()
	last, renewed := math.Inf(1), false
	for round := 1; round <= maxRounds; round++ {
		hidden := w.evaluate(r)
		r.Iterations++
		switch {
		case !finite(r.Residual):
			round = maxRounds
			continue
		case hidden > 0 && round > 1:
			w.beyond(r, hidden)
			return
		case r.Residual <= w.balance() || renewed && r.Residual <= roundOff && r.Residual > 0.9*last:
			if w.settled(r) {
				w.prove(r)
				if r.Residual > max(balanceNote, w.balance()) {
					r.Notes = append(r.Notes, fmt.Sprintf("out of balance by %.1g of the greatest force: members of very different stiffness meet; "+
						"use rigid offsets in place of very stiff members", r.Residual))
				}
				return
			}
			if !r.Stable {
				return
			}
			last, renewed = math.Inf(1), false
			continue
		case r.Residual > slowFall*last:
			if neg, ok := w.factorEvaluated(r); !ok || neg > 0 && exact {
				w.beyond(r, neg)
				return
			}
			exact, renewed = true, true
		default:
			renewed = false
		}
		last = r.Residual
		if !w.correct(r) {
			return
		}
	}
	r.Stable = false
	r.Notes = append(r.Notes, fmt.Sprintf("second order did not converge in %d rounds (out-of-balance %.1g of the greatest force); the load is near or beyond the critical one",
		maxRounds, r.Residual))
}

// outOfBalance puts what is missing at the free freedoms into b.
func (w *Workspace) outOfBalance(r *Result, b []float64) {
	for k, d := range w.m.dof {
		if d < 0 {
			continue
		}
		out := w.g[k] - w.applied[k]
		if spring := w.s.Nodes[k/6].Spring[k%6]; spring != 0 {
			out += spring * r.U[k]
		}
		b[d] = -out
	}
}

// prove makes sure that the stiffness at the answer is positive definite: either the factor in hand was made under nowhere
// higher axial forces (exact member stiffness grows with axial force), or a new one is made. Motions that only slack
// elements would stop are judged as in first order.
func (w *Workspace) prove(r *Result) {
	if !w.ranksBelow(r) || w.slackHold(r) {
		if neg, ok := w.factorEvaluated(r); neg > 0 || !ok {
			w.beyond(r, neg)
			return
		}
		if w.slackHold(r) {
			clear(w.so.act.e0) // at rest: no load is left to work on them
			w.judgeNulls(r, &w.so.act)
		}
	}
}

// ranksBelow tells whether the factor is definite and was made under axial forces nowhere above those of the answer.
func (w *Workspace) ranksBelow(r *Result) bool {
	if w.so.negative > 0 {
		return false
	}
	for e, n := range r.axial {
		if n < w.so.axial[e] && !r.Slack[e] {
			return false
		}
	}
	return true
}

// slackHold tells whether some motion under the factor in hand is held by slack elements only.
func (w *Workspace) slackHold(r *Result) bool { return w.prepareSlack(r) && w.so.act.nulls > 0 }

// beyond reports loads above the critical ones.
func (w *Workspace) beyond(r *Result, neg int) {
	r.Stable = false
	r.Notes = append(r.Notes, fmt.Sprintf("the loads are beyond the critical ones: under its axial forces the stiffness is not positive definite "+
		"(%d buckling modes are passed); stiffen the structure or lower the load", max(neg, 1)))
}
