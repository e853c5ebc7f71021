package frame

import (
	"math"
	"slices"

	"leanbay/solver"
	"leanbay/solver/sparse"
)

// With many one-way elements (see manyRods) there are no tables of all on all from which a group could take slack elements out of its
// factor. There the rest of the stiffness on the border of the rods does: a group shares the head, and each lane has a rest of its own,
// slack elements gone. That is so in first order, where the slack sets of eight combinations are found side by side, and in the
// rounds of second order.

// laneRests are eight rests of one stiffness side by side, which differ by what is slack.
type laneRests struct {
	on    bool // the group in hand shares a head, and fac is of its rests
	head  *sparse.Head
	full  []float64 // rest of the group's stiffness with all one-way elements
	val   []row8
	out   []int32 // one-way elements that some lane has taken out of val
	fac   *sparse.Lanes
	x     []row8 // unknowns of the border as the round has them
	b     []row8 // what is out of balance there, the head taken off
	y     []row8 // and its correction
	was   []row8 // what was slack when the round in hand was evaluated
	e0, e []row8 // stretches per one-way element
	slack []row8 // per one-way element: 1 where it is slack
	seen  [lanes][]uint64
}

// rest8 makes sure that w.so.rests serves the topology in hand.
func (w *Workspace) rest8() *laneRests {
	q, b, m := &w.so.rests, w.m.rods().border, len(w.m.oneWay)
	if q.head == nil || q.head.Border() != b {
		q.head, q.fac = b.NewHead(), sparse.NewLanes(b.Rest())
		q.head.SetNull(criticalNull)
		q.fac.Null = criticalNull
	}
	n := b.Rest().Pattern().NNZ()
	q.full, q.val, q.y = sized(q.full, n), sized(q.val, n), sized(q.y, b.Rest().N())
	q.e0, q.e, q.slack = sized(q.e0, m), sized(q.e, m), sized(q.slack, m)
	return q
}

// takeRest makes rests like full.
func (q *laneRests) takeRest(full []float64) {
	for i, v := range full {
		q.val[i] = row8{v, v, v, v, v, v, v, v}
	}
	q.out = q.out[:0]
}

// factorRests factorises rests like full, which takeRest has taken, without share of the stiffness of what is slack. It returns which are
// definite.
func (w *Workspace) factorRests(full []float64, share float64) [lanes]bool {
	q, s, b := &w.so.rests, &w.active, w.m.rods()
	for _, r := range q.out {
		b.eachPlace(int(r), &s.b[r], func(p int32, _ float64) {
			v := full[p]
			q.val[p] = row8{v, v, v, v, v, v, v, v}
		})
	}
	q.out = q.out[:0]
	for r := range q.slack {
		if q.slack[r] == (row8{}) {
			continue
		}
		q.out = append(q.out, int32(r))
		k, slack := share*s.k[r], &q.slack[r]
		b.eachPlace(r, &s.b[r], func(p int32, t float64) {
			t *= k
			for l, is := range slack {
				q.val[p][l] -= float64(is * t)
			}
		})
	}
	return q.fac.Refactor(q.val)
}

// relieve solves for what share of the stiffness of the slack elements under their stretches e0 does once it is gone: the border's part
// of (K - share·M)⁻¹·share·B·k·e0 in y.
func (w *Workspace) relieve(share float64) {
	q, s, b := &w.so.rests, &w.active, w.m.rods()
	clear(q.y)
	for r := range q.slack {
		if q.slack[r] == (row8{}) {
			continue
		}
		for c, i := range b.idx[r] {
			if t := share * s.k[r] * s.b[r][c]; i >= 0 && t != 0 {
				for l, is := range q.slack[r] {
					q.y[i][l] += float64(float64(is*t) * q.e0[r][l])
				}
			}
		}
	}
	q.fac.Solve(q.y)
}

// answerMany is answerEach for many one-way elements.
func (w *Workspace) answerMany(cs []solver.Combination, a Analysis, rs []Result, stop func(i int) bool) error {
	sh := &w.so.sharing
	w.so.abreast.first(w)
	w.rest8()
	if done, err := w.firstMany(cs, a, rs, stop); done || err != nil {
		return err
	}
	for _, group := range sh.groups {
		w.answerSeated(group, rs)
		if sh.left = sh.left[:0]; w.tell(group, rs, stop) {
			return nil
		}
		if done, err := w.answerLeft(cs, a, rs, stop); done || err != nil {
			return err
		}
	}
	return w.analyseList(sh.alone, cs, a, rs, stop)
}

// firstMany is firstOrder for many one-way elements.
func (w *Workspace) firstMany(cs []solver.Combination, a Analysis, rs []Result, stop func(i int) bool) (bool, error) {
	sh, t := &w.so.sharing, &w.so.abreast
	sh.order, sh.alone, sh.single = sh.order[:0], sh.alone[:0], 0
	sh.press, sh.swing = zeroed(sh.press, len(cs)), sized(sh.swing, len(cs)*len(w.els))
	for i := range cs {
		if err := w.weigh(&cs[i]); err != nil {
			return true, err
		}
		r := &rs[i]
		w.resetLanes(r, a)
		if !t.loses {
			w.noteIdle(r)
		} else if w.combineFixed(); !w.holds(a, r) {
			if stop(i) {
				return true, nil
			}
			continue
		}
		r.Stable = false // until it is answered
		sh.order = append(sh.order, i)
	}
	if a.oneWay() {
		w.so.rests.takeRest(w.active.many.full)
	}
	order := sh.order[:0]
	for group := range slices.Chunk(sh.order, lanes) {
		for l, ok := range w.firstLanes(group, a, rs) {
			if l < len(group) {
				if ok {
					order = append(order, group[l])
				} else {
					sh.alone = append(sh.alone, group[l])
				}
			}
		}
	}
	sh.order = order
	sh.divide()
	return false, nil
}

// firstLanes answers at most eight combinations in first order: displacements, slack sets and mean axial forces. It returns those that
// have a plain answer.
func (w *Workspace) firstLanes(group []int, a Analysis, rs []Result) (ok [lanes]bool) {
	q, s, t, nc := &w.so.rests, &w.active, &w.so.abreast, len(w.s.Cases)
	if a.oneWay() && s.many.fails {
		return ok
	}
	t.weighCombinations(nc, group, rs)
	clear(q.slack)
	t.x, t.b = sized(t.x, w.m.n), zeroed(t.b, w.m.n)
	for l := range group {
		ok[l] = true
	}
	if a.oneWay() {
		w.searchLanes(group, rs, &ok)
		// A motion that slack elements alone would stop is judged one by one.
		for l, stands := range w.factorRests(s.many.full, 1+nullShare) {
			ok[l] = ok[l] && stands
		}
		w.factorRests(s.many.full, 1)
		w.relieve(1)
		s.many.border.Put(t.b, q.y)
		s.many.head.Backward(t.b)
	}
	pickRows(t.x, w.cu, t.f, t.cases)
	addRows(t.x, &row8{1, 1, 1, 1, 1, 1, 1, 1}, t.b)
	w.keepFirst(group, rs)
	return ok
}

// searchLanes finds the slack sets of at most eight combinations in first order, as activeSet.search does by Newton's steps. Lanes whose
// sets return to an earlier one, or that have no answer, are not ok, and are left without anything slack.
func (w *Workspace) searchLanes(group []int, rs []Result, ok *[lanes]bool) {
	q, s, t, nc := &w.so.rests, &w.active, &w.so.abreast, len(w.s.Cases)
	var tol, size row8
	for _, c := range t.cases {
		for l, f := range t.f[c] {
			tol[l] += math.Abs(f) * t.rodSize[c]
		}
	}
	clear(q.e0)
	pickRows(q.e0, t.rodEase[:len(q.e0)*nc], t.f, t.cases)
	for r := range q.e0 {
		for l, v := range q.e0[r] {
			if math.Abs(v) < 1e-13*tol[l] {
				q.e0[r][l] = 0
			}
			size[l] += s.k[r] * v * v
			if v <= 1e-9*tol[l] {
				q.slack[r][l] = 1
			}
		}
	}
	var running [lanes]bool
	for l, i := range group {
		rs[i].size, tol[l] = math.Sqrt(size[l]), 1e-9*tol[l]
		q.seen[l], running[l] = q.seen[l][:0], true
	}
	for sets := 1; running != [lanes]bool{}; sets++ {
		stand := w.factorRests(s.many.full, 1-tokenStiffness)
		w.relieve(1 - tokenStiffness)
		w.stretchLanes()
		for l, i := range group {
			if !running[l] {
				continue
			}
			rs[i].Iterations = sets
			changed := stand[l] && q.turn(l, tol[l])
			if !stand[l] || changed && (sets == maxSets || q.returns(l)) {
				ok[l], changed = false, false
				for r := range q.slack {
					q.slack[r][l] = 0
				}
			}
			running[l] = changed
		}
	}
}

// stretchLanes sets e to the stretches under y beside e0.
func (w *Workspace) stretchLanes() {
	q, s, b := &w.so.rests, &w.active, w.m.rods()
	copy(q.e, q.e0)
	for r := range q.e {
		for c, i := range b.idx[r] {
			if v := s.b[r][c]; i >= 0 && v != 0 {
				for l, y := range q.y[i] {
					q.e[r][l] += float64(v * y)
				}
			}
		}
	}
}

// turn makes elements of lane l slack or not where their stretches say so plainly, and tells whether any was not so before.
func (q *laneRests) turn(l int, tol float64) (changed bool) {
	for r := range q.slack {
		is := q.slack[r][l]
		if q.e[r][l] > tol {
			q.slack[r][l] = 0
		} else if q.e[r][l] < -tol {
			q.slack[r][l] = 1
		}
		changed = changed || q.slack[r][l] != is
	}
	return changed
}

// returns tells whether lane l had its slack set before.
func (q *laneRests) returns(l int) bool {
	h := uint64(14695981039346656037) // FNV-1a, see hashSet
	for r := range q.slack {
		if q.slack[r][l] != 0 {
			h ^= 1
		}
		h *= 1099511628211
	}
	if slices.Contains(q.seen[l], h) {
		return true
	}
	q.seen[l] = append(q.seen[l], h)
	return false
}

// keepFirst writes the answers of first order in hand to the results: displacements x, of which b comes from what is slack.
func (w *Workspace) keepFirst(group []int, rs []Result) {
	q, sh, t := &w.so.rests, &w.so.sharing, &w.so.abreast
	var u [lanes][]float64
	for l, i := range group {
		u[l] = rs[i].U
	}
	var none row8
	for k, d := range w.m.dof {
		x := &none
		if d >= 0 {
			x = &t.x[d]
		}
		for l, u := range u[:len(group)] {
			u[k] = x[l]
		}
	}
	for l, i := range group {
		r := &rs[i]
		for k, e := range w.m.oneWay {
			r.Slack[e] = q.slack[k][l] != 0
		}
	}
	sh.axial = sized(sh.axial, len(w.els))
	pickRows(sh.axial, t.press, t.f, t.cases)
	var idx [12]int32
	var b [12]float64
	for e := range w.els {
		k := w.pullOf(e, &idx, &b)
		for c, i := range idx {
			if v := k * b[c]; i >= 0 && v != 0 {
				for l, x := range t.b[i] {
					sh.axial[e][l] += float64(v * x)
				}
			}
		}
	}
	w.keepAxial(group, rs)
}

// startMany sets the displacements of first order, which the results of a group hold.
func (w *Workspace) startMany(group []int) {
	s := &w.so.abreast
	var u [lanes][]float64
	for l := range group {
		u[l] = s.lane[l].r.U
	}
	for k, d := range w.m.dof {
		if d >= 0 {
			x := &s.x[d]
			for l, u := range u[:len(group)] {
				x[l] = u[k]
			}
		}
	}
}

// answerSeated answers the combinations of a group, at most eight, by rounds side by side with one head and a rest each. Those that do
// not settle, or of which nothing proves the answer definite, stay marked as not stable.
func (w *Workspace) answerSeated(group []int, rs []Result) {
	q := &w.so.rests
	w.seatGroup(group, rs)
	w.leastAxial(group, rs, sharedShare, sharedFloor)
	for e, n := range w.so.sharing.low {
		for l := range lanes {
			w.setLow(e, l, n)
		}
	}
	if !w.factorHead() {
		return
	}
	q.on, w.so.factors.own = true, true
	defer func() { q.on = false }()
	w.startGroup(group)
	w.factorOwn()
	w.answerLanes()
}

// factorHead factorises the head of the stiffness under the axial forces of the first lane's factor, all one-way elements acting; false if it is not
// definite.
func (w *Workspace) factorHead() bool {
	q, s := &w.so.rests, &w.so.abreast
	for b := range len(s.acting) / actRows {
		s.acting[actRows*b] = row8{1, 1, 1, 1, 1, 1, 1, 1}
	}
	w.so.act.ready = false // which is of what so.val was
	w.so.val = zeroed(w.so.val, len(w.val))
	val := w.so.val
	w.eachStiffness(w.lowForces, func(place []int32, rows []row8) {
		for i, p := range place {
			if p >= 0 {
				val[p] += rows[i][0]
			}
		}
	})
	w.addNodeSprings(val)
	w.addTurns(val)
	if s.acc[accPivot][0] < 0 || q.head.Refactor(q.full, val) != nil || q.head.Negative() > 0 {
		return false
	}
	q.takeRest(q.full)
	return true
}

// factorSeated factorises the rests of the lanes, slack elements gone. A little more of them is taken out than there is: a rest that is
// definite even so leaves no motion to slack elements alone, see nullShare, and corrections do not feel it.
func (w *Workspace) factorSeated() [lanes]bool {
	q, s := &w.so.rests, &w.so.abreast
	for k, e := range w.m.oneWay {
		q.slack[k] = row8{}
		for l := range s.count {
			if s.lane[l].r.Slack[e] {
				q.slack[k][l] = 1
			}
		}
	}
	for l := range lanes {
		w.so.factors.least[l] = math.Inf(1)
	}
	return w.factorRests(q.full, 1+nullShare)
}

// solveRests solves with the head of the group and the rests of its lanes. Slack sets that do not agree with where the corrections lead
// are changed before that, so that a change takes no round of its own: it concerns the border alone.
func (w *Workspace) solveRests(b []row8) {
	q, border := &w.so.rests, w.so.rests.head.Border()
	q.was = append(q.was[:0], q.slack...) // in this round
	q.x, q.b = sized(q.x, len(q.y)), sized(q.b, len(q.y))
	q.head.Forward(b)
	border.Take(q.b, b)
	border.Take(q.x, w.so.abreast.x)
	for l := range lanes {
		w.so.abreast.lane[l].idle = false // a set that changed as the lane settled has its forces in b below
	}
	for turns := range maxTurns {
		if w.so.factors.stale {
			w.factorOwn()
		}
		copy(q.y, q.b)
		w.turnedForces(q.y)
		q.fac.Solve(q.y)
		if turns == maxTurns-1 || !w.turnLanes() {
			break
		}
	}
	border.Put(b, q.y)
	q.head.Backward(b)
}

// maxTurns bounds how often slack sets change within a correction; what is not found then a later one finds.
const maxTurns = 3

// turnLanes changes the slack sets of lanes where they disagree with the stretches that the corrections in y lead to, and tells whether it did.
// It leaves elements alone whose stretch changes more by the correction than half of what it becomes: the next correction may turn them back.
func (w *Workspace) turnLanes() (turned bool) {
	q, s, t, b := &w.so.rests, &w.active, &w.so.abreast, w.m.rods()
	size := q.stretchesAfter(s, b)
	for l := range t.count {
		ln := &t.lane[l]
		if !ln.running || !w.setsChange(ln.r) {
			continue
		}
		tol, changed := 1e-9*size[l], false
		for k, e := range w.m.oneWay {
			is, now := ln.r.Slack[e], q.e[k][l]
			if (is && now > tol || !is && now < -tol) && math.Abs(now) > 2*math.Abs(now-q.e0[k][l]) {
				ln.r.Slack[e], changed = !is, true
			}
		}
		if changed {
			w.noteSlack(l)
			ln.step, turned = 0, true
		}
	}
	return turned
}

// stretchesAfter puts the stretches of the round in hand into e0 and those after the correction y into e. It returns what their round-off is
// measured by, as activeSet.stretches does.
func (q *laneRests) stretchesAfter(s *activeSet, b *rodBorder) (size row8) {
	for r := range q.e {
		var before, after, sum row8
		for c, i := range b.idx[r] {
			v := s.b[r][c]
			if i < 0 || v == 0 {
				continue
			}
			x, y := &q.x[i], &q.y[i]
			for l := range lanes {
				d := float64(v * x[l])
				before[l] += d
				d += float64(v * y[l])
				after[l], sum[l] = after[l]+d, sum[l]+math.Abs(d)
			}
		}
		q.e0[r], q.e[r] = before, after
		for l, a := range sum {
			size[l] = max(size[l], a)
		}
	}
	return size
}

// turnedForces adds to y what is out of balance since one-way elements have turned slack, or no longer are, that were not when the round in
// hand was evaluated.
func (w *Workspace) turnedForces(y []row8) {
	q, b := &w.so.rests, w.m.rods()
	for k, e := range w.m.oneWay {
		if q.slack[k] == q.was[k] {
			continue
		}
		before, after := w.barForces(int(e), &q.was[k]), w.barForces(int(e), &q.slack[k])
		for c, i := range b.idx[k] {
			if i >= 0 {
				for l := range lanes {
					y[i][l] += before[c][l] - after[c][l]
				}
			}
		}
	}
}

// barForces are the forces that bar e exerts on its nodes at the displacements in hand, 1 in slack saying where it is slack.
func (w *Workspace) barForces(e int, slack *row8) (g [12]row8) {
	s, t := &w.so.abreast, &w.m.elements[e]
	act, acc := [actRows]row8{actLow: *s.lowOf(e)}, s.acc
	for l, is := range slack {
		act[0][l] = 1 - is
	}
	ui, uj, sums := s.u[6*t.i:6*t.i+6], s.u[6*t.j:6*t.j+6], s.sums[e*sumRows:(e+1)*sumRows]
	barLanes(s.sc[e*scNumbers:(e+1)*scNumbers], ui, uj, sums, act[:], acc[:], s.t[:12], g[:6], g[6:])
	return g
}

// proveSeated proves answers whose axial forces fell below those of the group's head, by a head under the least of them.
func (w *Workspace) proveSeated() {
	s := &w.so.abreast
	open := s.openLanes()
	if open == [lanes]bool{} {
		return
	}
	for e := range w.els {
		low := math.Inf(1)
		for l := range s.count {
			if open[l] {
				low = min(low, s.lane[l].r.axial[e]-s.sums[e*sumRows+sumSwing][l])
			}
		}
		for l := range lanes {
			w.setLow(e, l, low)
		}
		if !w.els[e].bar && s.lowOf(e)[0] > low {
			open = [lanes]bool{} // beyond what smooth elements are good for
			break
		}
	}
	if open != [lanes]bool{} && w.factorHead() {
		for l, stands := range w.factorSeated() {
			if open[l] && stands {
				s.lane[l].r.Stable, s.lane[l].unproven = true, false
			}
		}
	}
	for l := range s.count {
		w.noteSlack(l)
	}
}
