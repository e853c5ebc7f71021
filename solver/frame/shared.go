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
	// answers, which move from the first-order ones, stay above; ownShare and ownFloor those of a combination with a factor of its own.
	sharedShare = 0.05
	sharedFloor = 0.01
	ownShare    = 0.03
	ownFloor    = 0.003
	// sharedRounds bounds the corrections with a factor.
	sharedRounds = 20
	// leastOwn is the least pivot of a combination's own factor, relative to that of the first-order stiffness, under which a
	// motion may be held by slack elements alone: those leave some 1e-7 at most (see nullShare).
	leastOwn = 1e-5
)

// sharing is the storage of AnalyseEach.
type sharing struct {
	order  []int // combinations that have an answer in first order, by how hard they press
	groups [][]int
	press  []float64
	swing  []float64 // per combination and element: at most how much its axial force varies about the mean
	low    []float64
	axial  []row8 // scratch of firstAxial
	left   []int  // combinations without an answer yet
	alone  []int  // combinations that only their analysis by themselves can answer
	single int    // how many were analysed by themselves
}

// AnalyseEach is AnalyseAll for quick answers: in what order it pleases, and until stop, given the index of a combination that
// has just been answered, says so; combinations that it did not come to are marked as not stable, without a note, and hold nothing. Without
// Quick, or in first order, it answers one after the other; with StartQuick from quick answers.
func (w *Workspace) AnalyseEach(cs []solver.Combination, a Analysis, rs []Result, stop func(i int) bool) error {
	if w.StartQuick && !w.Quick && a.second() && w.s != nil {
		return w.analyseStarted(cs, a, rs, stop)
	}
	if !w.Quick || !a.second() || w.s == nil || !w.readyLanes() {
		for i := range cs {
			if err := w.Analyse(&cs[i], a, &rs[i]); err != nil || stop(i) {
				return err
			}
		}
		return nil
	}
	if w.manyRods() {
		return w.answerMany(cs, a, rs, stop)
	}
	return w.answerEach(cs, a, rs, stop)
}

// answerEach answers combinations side by side: group by group, then those that are left with factors of their own, then what is left
// still one by one. A group whose shared factor is not definite comes first: if one of its combinations does not stand, that may
// be the end.
func (w *Workspace) answerEach(cs []solver.Combination, a Analysis, rs []Result, stop func(i int) bool) error {
	sh := &w.so.sharing
	if done, err := w.firstOrder(cs, a, rs, stop); done || err != nil {
		return err
	}
	for from := 0; from < len(sh.groups); from += lanes {
		groups := sh.groups[from:min(from+lanes, len(sh.groups))]
		stand := w.factorGroups(groups, rs)
		sh.left = sh.left[:0]
		for g, group := range groups {
			if !stand[g] {
				sh.left = append(sh.left, group...)
			}
		}
		if len(sh.left) > 0 {
			if done, err := w.answerLeft(cs, a, rs, stop); done || err != nil {
				return err
			}
		}
		sh.left = sh.left[:0]
		for g, group := range groups {
			if !stand[g] {
				continue
			}
			w.answerGroup(g, group, rs)
			if w.tell(group, rs, stop) {
				return nil
			}
		}
		if done, err := w.answerLeft(cs, a, rs, stop); done || err != nil {
			return err
		}
	}
	return w.analyseList(sh.alone, cs, a, rs, stop)
}

// tell says which combinations of a group have answers, and lists those that are left without; true if stop has said so.
func (w *Workspace) tell(group []int, rs []Result, stop func(i int) bool) bool {
	sh := &w.so.sharing
	for _, i := range group {
		if !rs[i].Stable {
			sh.left = append(sh.left, i)
		} else if stop(i) {
			return true
		}
	}
	return false
}

// firstOrder begins the answers of all combinations, and groups those that press alike. It returns true if stop has said so.
func (w *Workspace) firstOrder(cs []solver.Combination, a Analysis, rs []Result, stop func(i int) bool) (bool, error) {
	sh := &w.so.sharing
	w.so.abreast.first(w)
	sh.order, sh.alone, sh.groups, sh.single = sh.order[:0], sh.alone[:0], sh.groups[:0], 0
	sh.press = zeroed(sh.press, len(cs))
	sh.swing = sized(sh.swing, len(cs)*len(w.els))
	w.so.abreast.y = zeroed(w.so.abreast.y, len(cs)*len(w.m.oneWay))
	for i := range cs {
		ok, err := w.first(&cs[i], a, &rs[i], i)
		switch {
		case err != nil:
			return true, err
		case ok:
			sh.order = append(sh.order, i)
			rs[i].Stable = false // until it is answered
		case rs[i].Stable:
			rs[i].Stable = false
			sh.alone = append(sh.alone, i)
		case stop(i):
			return true, nil
		}
	}
	for group := range slices.Chunk(sh.order, lanes) {
		w.firstAxial(group, rs)
	}
	sh.divide()
	return false, nil
}

// divide makes groups of combinations that press alike.
func (sh *sharing) divide() {
	slices.SortStableFunc(sh.order, func(i, j int) int { return cmp.Compare(sh.press[i], sh.press[j]) })
	groups := (len(sh.order) + lanes - 1) / lanes
	sh.groups = sh.groups[:0]
	for g := range groups {
		sh.groups = append(sh.groups, sh.order[g*len(sh.order)/groups:(g+1)*len(sh.order)/groups])
	}
}

// answerLeft answers the combinations in sh.left, those that press hardest first, with factors of their own, and by themselves
// where that does not settle. It returns true if stop has said so.
func (w *Workspace) answerLeft(cs []solver.Combination, a Analysis, rs []Result, stop func(i int) bool) (bool, error) {
	left := w.so.sharing.left
	for to := len(left); to > 0; to -= lanes {
		group := left[max(0, to-lanes):to]
		beyond := w.startOwn(group, rs)
		for l, i := range group {
			if beyond[l] && stop(i) {
				return true, nil
			}
		}
		w.answerLanes()
		for l, i := range group {
			if beyond[l] {
				continue
			}
			if !rs[i].Stable {
				w.so.sharing.single++
				if err := w.Analyse(&cs[i], a, &rs[i]); err != nil {
					return true, err
				}
			}
			if stop(i) {
				return true, nil
			}
		}
	}
	return false, nil
}

// analyseList analyses combinations by themselves, until stop says so.
func (w *Workspace) analyseList(list []int, cs []solver.Combination, a Analysis, rs []Result, stop func(i int) bool) error {
	for _, i := range list {
		w.so.sharing.single++
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
	return w.prepareLanes()
}

// first begins the answer of combination i in second order with its slack set in first order. It returns
// false if there is no answer, or, r being stable, if it is to be analysed by itself.
func (w *Workspace) first(c *solver.Combination, a Analysis, r *Result, i int) (bool, error) {
	if err := w.weigh(c); err != nil {
		return false, err
	}
	w.resetLanes(r, a)
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

// firstAxial sets the mean axial forces of first order of at most eight combinations, how much they vary along the elements, and how
// hard they press.
func (w *Workspace) firstAxial(group []int, rs []Result) {
	sh, t := &w.so.sharing, &w.so.abreast
	n, m := len(w.els), len(w.m.oneWay)
	t.weighCombinations(len(w.s.Cases), group, rs)
	t.rods = zeroed(t.rods, m)
	for l, i := range group {
		for q, v := range t.y[i*m : (i+1)*m] {
			t.rods[q][l] = v
		}
	}
	sh.axial = sized(sh.axial, n)
	pickRows(sh.axial, t.press, t.f, t.cases)
	t.addRods(sh.axial, t.rodPull)
	w.keepAxial(group, rs)
}

// keepAxial puts the mean axial forces in sh.axial into the results of a group, slack elements without any, with how hard they press
// and how much they vary.
func (w *Workspace) keepAxial(group []int, rs []Result) {
	sh, t := &w.so.sharing, &w.so.abreast
	n := len(w.els)
	for l, i := range group {
		r := &rs[i]
		for e := range r.axial {
			if r.axial[e] = sh.axial[e][l]; r.Slack[e] {
				r.axial[e] = 0
			}
		}
		sh.press[i] = w.pressure(r)
	}
	for _, c := range t.cases {
		for l, f := range t.f[c] {
			t.f[c][l] = math.Abs(f)
		}
	}
	pickRows(sh.axial, t.swing, t.f, t.cases)
	for l, i := range group {
		for e := range n {
			sh.swing[i*n+e] = sh.axial[e][l]
		}
	}
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

// leastAxial sets sh.low to the least axial force of each element in a group, lowered by shares of it and of the greatest.
func (w *Workspace) leastAxial(group []int, rs []Result, share, floor float64) {
	sh := &w.so.sharing
	n := len(w.els)
	sh.low = zeroed(sh.low, n)
	largest := 0.0
	for e := range sh.low {
		low := math.Inf(1)
		for _, i := range group {
			low = min(low, rs[i].axial[e]-sh.swing[i*n+e])
			largest = max(largest, math.Abs(rs[i].axial[e]))
		}
		sh.low[e] = low
	}
	for e, low := range sh.low {
		sh.low[e] = low - share*math.Abs(low) - floor*largest
	}
}
