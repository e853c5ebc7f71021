package frame

// judgeLane ends lane l if it has settled or will not, and changes its slack set where its displacements disagree with that.
func (w *Workspace) judgeLane(l int) {
	s := &w.so.abreast
	ln := &s.lane[l]
	r := ln.r
	ln.idle = false
	switch {
	case !finite(r.Residual) || s.acc[accPivot][l] < 0 || s.acc[accReach][l] > smoothReach:
		ln.running = false
	case r.Residual <= w.balance():
		if w.setsChange(r) {
			for i := range w.x {
				w.x[i] = s.x[i][l]
			}
		}
		w.so.search, ln.search = ln.search, w.so.search
		settled := w.settled(r)
		w.so.search, ln.search = ln.search, w.so.search
		switch {
		case settled:
			ln.running = false
			r.Stable = w.provenLane(l)
			ln.unproven = !r.Stable
		case ln.search.changes > maxSets:
			ln.running = false
		default:
			w.noteSlack(l)
			ln.step, ln.idle = 0, true
		}
	}
}

// provenLane tells whether the group's factor proves the answer of lane l definite: axial forces are nowhere below its own, and
// motions that only slack elements hold are stopped by these. Less compressed, the structure resists every motion as much and more, so
// that no other motion is held by them alone.
func (w *Workspace) provenLane(l int) bool {
	s := &w.so.abreast
	ln := &s.lane[l]
	if s.acc[accMargin][l] < 0 {
		return false
	}
	if !ln.any {
		return true
	}
	if w.so.factors.own {
		return w.so.factors.least[l] > leastOwn
	}
	w.decomposeLane(l)
	if ln.set.nulls > 0 {
		ln.set.findLean()
	}
	return w.restsOnSlack(ln.r, &ln.set)
}

// restsOnSlack is judgeNulls at rest, with no load left to work on the motions; where it is false it leaves r as it was.
func (w *Workspace) restsOnSlack(r *Result, s *activeSet) bool {
	notes, mechanisms := len(r.Notes), len(r.Mechanisms)
	clear(s.e0)
	if w.judgeNulls(r, s) {
		return true
	}
	r.Notes, r.Mechanisms = r.Notes[:notes], r.Mechanisms[:mechanisms]
	clear(r.Touching)
	return false
}

// proveAlone proves the answer of lane l by a factor of its own, and judges motions that only slack elements would stop. Where that
// fails, the combination is left to be analysed by itself.
func (w *Workspace) proveAlone(l int) {
	r := w.so.abreast.lane[l].r
	w.factors = append(w.factors[:0], r.factors...)
	w.smoothOfLane(l)
	w.so.gathered, w.so.size = false, r.size
	if neg, ok := w.factorUnder(r, func(n float64) float64 { return n }, false); neg > 0 || !ok {
		return
	}
	r.Stable = !w.slackHold(r) || w.restsOnSlack(r, &w.so.act)
}

// smoothOfLane is combineSmooth for the combination in lane l.
func (w *Workspace) smoothOfLane(l int) {
	s := &w.so.abreast
	w.so.smooth = sized(w.so.smooth, len(w.els))
	for e := range w.so.smooth {
		o, sums := &w.so.smooth[e], s.sums[e*sumRows:(e+1)*sumRows]
		for k := range o.axial {
			o.axial[k] = sums[sumAxial+k][l]
		}
		for k := range inners {
			o.inner[0][k], o.inner[1][k] = sums[sumInner+k][l], sums[sumInner+inners+k][l]
		}
		o.drop = sums[sumDrop][l]
		o.settle()
	}
}

// decomposeLane has the slack set of lane l decomposed.
func (w *Workspace) decomposeLane(l int) {
	ln := &w.so.abreast.lane[l]
	if !ln.fresh {
		return
	}
	if !w.so.act.ready {
		w.prepareOneWay(&w.so.act, w.solveGroup)
		w.so.act.ready = true
	}
	ln.set.follow(&w.so.act)
	ln.set.size = ln.r.size
	ln.fresh = false
	for k, e := range w.m.oneWay {
		ln.set.slack[k] = ln.r.Slack[e]
	}
	ln.set.listSet()
	ln.set.decompose()
}

// pushLane moves lane l along the motion that its correction drives and nothing that acts resists, until a slack element bites (see
// push); the lane ends if none does.
func (w *Workspace) pushLane(l int) {
	s := &w.so.abreast
	ln := &s.lane[l]
	for i := range w.x {
		w.x[i] = s.x[i][l]
	}
	ln.set.findLean()
	far, bite := w.drift(&ln.set)
	ln.search.changes++
	if bite < 0 || ln.search.changes > maxSets {
		ln.running = false
		return
	}
	for i, v := range w.b {
		s.x[i][l] += far * v
	}
	ln.r.Slack[w.m.oneWay[bite]] = false
	w.noteSlack(l)
	ln.step, ln.idle = 0, true
}

// slackenLanes takes the corrections under all one-way elements to those without the slack ones.
func (w *Workspace) slackenLanes() {
	s := &w.so.abreast
	any, stretched := false, false
	for l := range s.count {
		ln := &s.lane[l]
		if !ln.running || ln.idle || !ln.any {
			for q := range s.rods {
				s.rods[q][l] = 0
			}
			continue
		}
		w.decomposeLane(l)
		a := &ln.set
		if !stretched {
			s.stretchRods(a)
			stretched = true
		}
		for q := range a.e0 {
			a.e0[q] = s.stretch[q][l]
		}
		if a.nulls > 0 && a.drive(a.tmp[:a.nulls]) {
			w.pushLane(l)
			continue
		}
		a.solveSet()
		for q, v := range a.y {
			s.rods[q][l] = v
		}
		any = true
	}
	if any {
		s.addRods(s.b, w.so.act.w)
	}
}

// stretchRods finds the stretches of the one-way elements of a under the corrections.
func (s *abreast) stretchRods(a *activeSet) {
	s.stretch = zeroed(s.stretch, a.m)
	for q := range s.stretch {
		for c, i := range a.idx[q] {
			if b := a.b[q][c]; i >= 0 && b != 0 {
				addTimes(s.stretch[q][:], b, s.b[i][:])
			}
		}
	}
}

// addRods adds to x what the rows of rods do to it, given the influence of each one-way element, len(x) by their number.
func (s *abreast) addRods(x []row8, influence []float64) {
	s.pulled = s.pulled[:0]
	for q := range s.rods {
		if s.rods[q] != (row8{}) {
			s.pulled = append(s.pulled, int32(q))
		}
	}
	if len(s.pulled) > 0 {
		addPicked(x, influence, s.rods, s.pulled)
	}
}
