package frame

import (
	"cmp"
	"math"
	"slices"

	"leanbay/solver"
)

// Quick answers share factors: combinations that press alike form a group, and one stiffness is factorised under the least
// axial forces in it. Exact stiffness grows with axial force, so a definite factor there proves every answer of the group
// definite, and corrections with it settle fast. A combination for which this does not hold is analysed by itself.

const (
	// groupSize is about how many combinations share a factor.
	groupSize = 10
	// sharedShare and sharedFloor lower the axial forces of a group, by a share of each and of the greatest, so that those of the
	// answers, which move from the first-order ones, stay above.
	sharedShare = 0.05
	sharedFloor = 0.01
	// sharedRounds bounds the corrections with a shared factor.
	sharedRounds = 12
)

// sharing is the storage of AnalyseEach.
type sharing struct {
	order []int
	press []float64
	low   []float64
	left  []int
}

// AnalyseEach is AnalyseAll for quick answers: in what order it pleases, and until stop, given the index of a combination that
// has just been answered, says so; combinations that it did not come to are marked as not stable, without a note. Without
// Quick, or in first order, it answers one after the other.
func (w *Workspace) AnalyseEach(cs []solver.Combination, a Analysis, rs []Result, stop func(i int) bool) error {
	if !w.Quick || !a.second() {
		for i := range cs {
			if err := w.Analyse(&cs[i], a, &rs[i]); err != nil || stop(i) {
				return err
			}
		}
		return nil
	}
	sh := &w.so.sharing
	sh.order, sh.left = sh.order[:0], sh.left[:0]
	sh.press = zeroed(sh.press, len(cs))
	for i := range cs {
		ok, err := w.first(&cs[i], a, &rs[i])
		if err != nil {
			return err
		}
		if !ok {
			if stop(i) {
				return nil
			}
			continue
		}
		sh.order = append(sh.order, i)
		sh.press[i] = w.pressure(&rs[i])
	}
	slices.SortStableFunc(sh.order, func(i, j int) int { return cmp.Compare(sh.press[i], sh.press[j]) })
	for _, i := range sh.order {
		rs[i].Stable = false // until it is answered
	}
	groups := (len(sh.order) + groupSize - 1) / groupSize
	for g := range groups {
		group := sh.order[g*len(sh.order)/groups : (g+1)*len(sh.order)/groups]
		shared := w.factorGroup(group, rs)
		for _, i := range group {
			r := &rs[i]
			r.Stable = true
			if shared && w.iterateShared(r) {
				if stop(i) {
					return nil
				}
				continue
			}
			r.Stable = false
			sh.left = append(sh.left, i)
		}
	}
	for _, i := range sh.left {
		if err := w.Analyse(&cs[i], a, &rs[i]); err != nil || stop(i) {
			return err
		}
	}
	return nil
}

// first begins the answer of a combination in second order: its first-order answer, and a bound of the axial forces along
// every element. It returns false if there is no answer.
func (w *Workspace) first(c *solver.Combination, a Analysis, r *Result) (bool, error) {
	if ok, err := w.begin(c, a, r); !ok || err != nil {
		return false, err
	}
	if !w.startSecond(r) {
		return false, nil
	}
	r.size = w.so.size
	w.combineSmooth()
	r.low = zeroed(r.low, len(w.els))
	for e := range r.low {
		r.low[e] = r.axial[e] + w.so.smooth[e].least()
	}
	return true, nil
}

// least is the least that N may be along the element, less the pull at end i.
func (s *smoothLoad) least() float64 {
	n := s.axial[0]
	for _, v := range s.axial[1:] {
		n -= math.Abs(v)
	}
	return n
}

// pressure measures compression by what it takes from the stiffness of elements.
func (w *Workspace) pressure(r *Result) (p float64) {
	for e, n := range r.low {
		if el := &w.els[e]; n < 0 && el.weakest > 0 {
			p -= n * el.L * el.L / el.weakest
		}
	}
	return p
}

// factorGroup factorises the stiffness under the least axial forces of a group, all one-way elements acting; false if it is
// not definite.
func (w *Workspace) factorGroup(group []int, rs []Result) bool {
	so := &w.so
	low := w.leastOf(group, rs)
	if so.fac == nil && w.m.n > 0 {
		w.newSecondFactor()
	}
	so.val = zeroed(so.val, len(w.val))
	so.axial = append(so.axial[:0], low...)
	so.act.ready, so.negative = false, 0
	var none smoothSum
	var f [12]float64
	st := &so.state
	for e := range w.els {
		el := &w.els[e]
		*st = el.linear
		if w.m.elements[e].acts != solver.TensionOnly {
			if !el.smoothable(low[e], &none.smoothLoad) {
				return false
			}
			el.smoothState(low[e], &none, st, &f)
		}
		if st.negJ > 0 {
			return false
		}
		el.global(st, &w.kk)
		addAt(so.val, w.m.place[e][:], w.kk[:])
	}
	w.addNodeSprings(so.val)
	w.addTurns(so.val)
	if w.m.n == 0 || so.fac.Refactor(so.val) != nil {
		return false
	}
	neg, zero, _ := so.fac.Inertia()
	return neg+zero == 0
}

// leastOf is the least axial force of each element in a group, lowered; what acts in tension only is taken as without force.
func (w *Workspace) leastOf(group []int, rs []Result) []float64 {
	sh := &w.so.sharing
	sh.low = zeroed(sh.low, len(w.els))
	largest := 0.0
	for k, i := range group {
		for e, n := range rs[i].low {
			largest = max(largest, math.Abs(n))
			if k == 0 || n < sh.low[e] {
				sh.low[e] = n
			}
		}
	}
	for e, n := range sh.low {
		if w.m.elements[e].acts == solver.TensionOnly {
			sh.low[e] = 0
		} else {
			sh.low[e] = n - sharedShare*math.Abs(n) - sharedFloor*largest
		}
	}
	return sh.low
}

// resume takes up the combination of r, whose first-order answer is known.
func (w *Workspace) resume(r *Result) {
	w.factors = append(w.factors[:0], r.factors...)
	w.combineFixed()
	w.combineSmooth()
	w.so.gathered = false
	w.so.size = r.size
	w.so.under = zeroed(w.so.under, len(w.els))
	w.so.search.reset()
	for k, d := range w.m.dof {
		if d >= 0 {
			w.x[d] = r.U[k]
		}
	}
}

// withoutSlack takes the displacements x under all one-way elements to those without the slack ones; false if a motion is then
// held by nothing.
func (w *Workspace) withoutSlack(r *Result, x []float64) bool {
	if !w.prepareSlack(r) {
		return true
	}
	s := &w.so.act
	if s.nulls > 0 {
		return false
	}
	s.stretches(s.e0, x)
	s.solveSet()
	s.move(x, s.y, w.m.n)
	return true
}

// iterateShared runs the rounds of second order with the group's factor; false if they do not settle, or if the factor
// proves nothing about where they do.
func (w *Workspace) iterateShared(r *Result) bool {
	w.resume(r)
	defer func() { w.so.keeps = false }()
	before := r.Iterations
	for round, step := 0, 0; round < sharedRounds; round, step = round+1, step+1 {
		hidden := w.evaluate(r)
		r.Iterations++
		w.so.keeps = true
		switch {
		case !finite(r.Residual) || hidden > 0:
			r.Iterations = before
			return false
		case r.Residual <= quickBalance:
			if w.settled(r) {
				return w.proveShared(r)
			}
			if !r.Stable {
				return false
			}
			step, w.so.keeps = -1, false
			continue
		}
		w.outOfBalance(r, w.b)
		w.solveSecond(w.b, 1)
		if !w.withoutSlack(r, w.b) {
			return false
		}
		w.so.mix.advance(w.x, w.b, step)
	}
	return false
}

// proveShared tells whether the group's factor proves the answer definite: axial forces are nowhere below its own, and no
// motion is held by slack elements only.
func (w *Workspace) proveShared(r *Result) bool {
	for e, n := range r.axial {
		if !r.Slack[e] && n+w.so.smooth[e].least() < w.so.axial[e] {
			return false
		}
	}
	return !w.slackHold(r)
}

// sameState is the change of N·L²/EI of an element under which its state serves on: end forces then change by a millionth.
const sameState = 1e-5

// stateServes tells whether the state of element e was computed under nearly the axial force n; if not, it is taken to be now.
func (w *Workspace) stateServes(e int, n float64) bool {
	so := &w.so
	if len(so.under) != len(w.els) {
		return false
	}
	el := &w.els[e]
	if so.keeps && el.weakest > 0 && math.Abs(n-so.under[e])*el.L*el.L <= sameState*el.weakest {
		return true
	}
	so.under[e] = n
	return false
}
