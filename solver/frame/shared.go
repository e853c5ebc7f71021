package frame

import (
	"cmp"
	"math"
	"slices"

	"leanbay/solver"
)

// Quick answers share factors: combinations that press alike form a group, and one stiffness is factorised under the least
// axial forces in it. Exact stiffness grows with axial force, so a definite factor there proves every answer of the group
// definite, and corrections with it settle fast. The combinations of a group go through the rounds side by side. One for which
// this does not hold is analysed by itself.

const (
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
// Quick, in first order, or with many one-way elements, it answers one after the other.
func (w *Workspace) AnalyseEach(cs []solver.Combination, a Analysis, rs []Result, stop func(i int) bool) error {
	if !w.Quick || !a.second() || w.s == nil || w.manyRods() || !w.readyLanes() {
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
	w.so.abreast.y = zeroed(w.so.abreast.y, len(cs)*len(w.m.oneWay))
	for i := range cs {
		ok, err := w.first(&cs[i], a, &rs[i], i)
		if err != nil {
			return err
		}
		if !ok && rs[i].Stable {
			rs[i].Stable = false
			sh.left = append(sh.left, i)
			continue
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
	groups := (len(sh.order) + lanes - 1) / lanes
	for g := range groups {
		group := sh.order[g*len(sh.order)/groups : (g+1)*len(sh.order)/groups]
		w.answerGroup(group, rs)
		for _, i := range group {
			if !rs[i].Stable {
				sh.left = append(sh.left, i)
			} else if stop(i) {
				return nil
			}
		}
	}
	for _, i := range sh.left {
		if err := w.Analyse(&cs[i], a, &rs[i]); err != nil || stop(i) {
			return err
		}
	}
	return nil
}

// readyLanes solves the cases in first order and prepares the lanes; false if the structure does not stand or has elements that
// lanes do not know.
func (w *Workspace) readyLanes() bool {
	w.factorise()
	if w.status != definite || len(w.loose) > 0 || w.m.n == 0 {
		return false
	}
	w.solveCases()
	if !w.prepareLanes() {
		return false
	}
	w.so.abreast.first(w)
	return true
}

// first begins the answer of combination i in second order: its slack set in first order, and the mean axial forces. It returns
// false if there is no answer, or, r being stable, if it is to be analysed by itself.
func (w *Workspace) first(c *solver.Combination, a Analysis, r *Result, i int) (bool, error) {
	if err := w.weigh(c); err != nil {
		return false, err
	}
	w.reset(r, a)
	if w.so.abreast.loses {
		w.combineFixed()
		if !w.holds(a, r) {
			return false, nil
		}
	} else {
		w.noteIdle(r)
	}
	if a.oneWay() && len(w.m.oneWay) > 0 && !w.firstSlack(r, i) {
		return false, nil
	}
	w.firstAxial(r, i)
	return true, nil
}

// firstSlack finds the slack set of combination i in first order, as analyseOneWay does.
func (w *Workspace) firstSlack(r *Result, i int) bool {
	s, t := &w.active, &w.so.abreast
	nc, scale := len(r.factors), 0.0
	clear(s.e0)
	for c, f := range r.factors {
		if f == 0 {
			continue
		}
		scale += math.Abs(f) * t.rodSize[c]
		for k := range s.e0 {
			s.e0[k] += f * t.rodEase[k*nc+c]
		}
	}
	sets, cycled, ok := s.search(scale)
	r.Iterations, r.size = sets, s.size
	if !ok || cycled {
		return false
	}
	s.settle()
	if !w.judgeNulls(r, s) {
		return false
	}
	if s.nulls > 0 { // second order judges the motions held by slack elements anew
		r.Notes = r.Notes[:len(r.Notes)-1]
		clear(r.Touching)
	}
	copy(t.y[i*s.m:(i+1)*s.m], s.y)
	for k, e := range w.m.oneWay {
		r.Slack[e] = s.slack[k]
	}
	return true
}

// firstAxial sets the mean axial forces of first order.
func (w *Workspace) firstAxial(r *Result, i int) {
	t := &w.so.abreast
	nc, m := len(r.factors), len(w.m.oneWay)
	y := t.y[i*m : (i+1)*m]
	t.weighed = t.weighed[:0]
	for c, f := range r.factors {
		if f != 0 {
			t.weighed = append(t.weighed, weighedCase{c, f})
		}
	}
	for e := range r.axial {
		if r.Slack[e] {
			r.axial[e] = 0
			continue
		}
		n := 0.0
		row := t.press[e*nc : e*nc+nc]
		for _, k := range t.weighed {
			n += k.factor * row[k.at]
		}
		for q, v := range t.rodPull[e*m : e*m+m] {
			n += v * y[q]
		}
		r.axial[e] = n
	}
}

// weighedCase is a case that takes part in a combination.
type weighedCase struct {
	at     int
	factor float64
}

// pressure measures compression by what it takes from the stiffness of elements.
func (w *Workspace) pressure(r *Result) (p float64) {
	for e, n := range r.axial {
		if el := &w.els[e]; n < 0 && el.weakest > 0 {
			p -= n * el.L * el.L / el.weakest
		}
	}
	return p
}

// factorGroup factorises the stiffness under the least axial forces of a group, all one-way elements acting; false if it is
// not definite.
func (w *Workspace) factorGroup() bool {
	so := &w.so
	low := w.leastOfGroup()
	if so.fac == nil {
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
	if so.fac.Refactor(so.val) != nil {
		return false
	}
	neg, zero, _ := so.fac.Inertia()
	return neg+zero == 0
}

// leastOfGroup is the least axial force of each element in the group in hand, lowered; what acts in tension only is taken as
// without force.
func (w *Workspace) leastOfGroup() []float64 {
	sh, s := &w.so.sharing, &w.so.abreast
	sh.low = zeroed(sh.low, len(w.els))
	largest := 0.0
	for e := range sh.low {
		swing := &s.sums[e*sumRows+sumSwing]
		low := math.Inf(1)
		for l := range s.count {
			n := s.lane[l].r.axial[e] - swing[l]
			largest = max(largest, math.Abs(n))
			low = min(low, n)
		}
		sh.low[e] = low
	}
	for e, n := range sh.low {
		if w.m.elements[e].acts == solver.TensionOnly {
			sh.low[e] = 0
		} else {
			sh.low[e] = n - sharedShare*math.Abs(n) - sharedFloor*largest
		}
		s.sc[e*scNumbers+scLow] = sh.low[e]
	}
	return sh.low
}
