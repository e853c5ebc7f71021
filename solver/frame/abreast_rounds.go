package frame

import (
	"math"
	"unsafe"
)

// answerGroup answers the combinations of group g, at most eight, by rounds side by side with its factor. Those that do not settle, or
// of which the factor proves nothing, stay marked as not stable.
func (w *Workspace) answerGroup(g int, group []int, rs []Result) {
	w.seatGroup(group, rs)
	w.takeGroup(g)
	w.startGroup(group)
	w.answerLanes()
}

// startOwn makes the combinations of a group ready for the rounds, each with a factor of its own. It returns those whose loads are
// beyond the critical ones, which it reports.
func (w *Workspace) startOwn(group []int, rs []Result) (beyond [lanes]bool) {
	s := &w.so.abreast
	w.seatGroup(group, rs)
	w.so.factors.own = true
	w.startGroup(group)
	w.setOwn(group, rs)
	w.factorOwn()
	for l := range group {
		if !s.lane[l].running {
			return w.beyondLanes(group, rs)
		}
	}
	return beyond
}

// setOwn writes the axial forces of each combination, lowered, for its own factor.
func (w *Workspace) setOwn(group []int, rs []Result) {
	for l := range group {
		w.leastAxial(group[l:l+1], rs, ownShare, ownFloor)
		for e, n := range w.so.sharing.low {
			w.setLow(e, l, n)
		}
	}
}

// beyondLanes finds out which of the lanes that ended are beyond the critical loads: not definite even with what is slack and under
// the greatest axial forces that each element has anywhere in first order. The others keep their factors.
func (w *Workspace) beyondLanes(group []int, rs []Result) (beyond [lanes]bool) {
	s := &w.so.abreast
	n := len(w.els)
	for e, b := range s.act {
		for l, i := range group {
			w.setLow(e, l, rs[i].axial[e]+w.so.sharing.swing[i*n+e])
			if b >= 0 {
				s.acting[actRows*b][l] = 1
			}
		}
	}
	stand := w.factorLanes(w.lowForces)
	any := false
	for l := range group {
		if beyond[l] = !s.lane[l].running && !stand[l]; beyond[l] {
			w.beyond(s.lane[l].r, w.so.factors.fac.Negative(l))
		}
		any = any || s.lane[l].running
	}
	for l := range group {
		w.noteSlack(l)
	}
	if any {
		w.setOwn(group, rs)
		w.factorOwn()
	}
	return beyond
}

// answerLanes runs the rounds and proves what needs it.
func (w *Workspace) answerLanes() {
	w.iterateLanes()
	w.finishLanes()
	w.roughExtents()
	if w.so.rests.on {
		w.proveSeated()
	}
	if w.so.factors.own {
		w.proveOwn()
	}
	for l := range w.so.abreast.count {
		if w.so.abreast.lane[l].unproven {
			w.proveAlone(l)
		}
	}
}

// iterateLanes runs the rounds of the group in hand until none goes on.
func (w *Workspace) iterateLanes() {
	s := &w.so.abreast
	for range sharedRounds {
		w.evaluateLanes()
		w.balanceLanes()
		running := false
		for l := range s.count {
			if ln := &s.lane[l]; ln.running {
				ln.r.Iterations++
				w.judgeLane(l)
				running = running || ln.running
			}
		}
		if !running {
			return
		}
		if f := &w.so.factors; w.so.rests.on {
			w.solveRests(s.b)
		} else if f.own {
			if f.stale {
				w.factorOwn()
			}
			f.fac.Solve(s.b)
		} else {
			w.so.factors.group.SolveRows(s.b)
			w.slackenLanes()
		}
		s.mix.advance(s)
		w.spreadLanes()
	}
}

// seatGroup gives each combination of a group its lane, and sums its loads.
func (w *Workspace) seatGroup(group []int, rs []Result) {
	s := &w.so.abreast
	n := len(w.els)
	s.count = len(group)
	for l, i := range group {
		ln := &s.lane[l]
		ln.r, ln.running, ln.unproven, ln.step = &rs[i], true, false, 0
		ln.search.reset()
	}
	s.weighCombinations(len(w.s.Cases), group, rs)
	s.sums = zeroed(s.sums, n*sumRows)
	s.uneven = sized(s.uneven, n)
	s.forces = sized(s.forces, 3*len(w.loads.places.list))
	pickRows(s.forces, w.loads.places.force, s.f, s.cases)
	for e := range w.els {
		sums := s.sums[e*sumRows : (e+1)*sumRows]
		for _, k := range w.loads.entriesOf(e) {
			if s.weighs[k.caseNo] {
				if entry := s.entries[int(k.entry)*sumWeighed:]; s.plain[k.entry] {
					weighPlain(entry, s.f[k.caseNo:], sums)
				} else {
					weigh(entry, s.f[k.caseNo:], sums)
				}
			}
		}
		weighPlaces(w.loads.places.basis, w.loads.places.of(e), s.forces, sums)
		s.uneven[e] = -1
		if v := int(s.vary[e]); v >= 0 && !even(sums) {
			s.uneven[e] = s.vary[e]
			if s.streams {
				v = 0
			}
			settleLanes(sums, s.variation[v*chordTerms:])
		} else if w.els[e].bar {
			swingOfBar(sums)
		}
	}
	w.applyLanes()
}

// weighCombinations writes the factors of at most eight combinations on nc cases.
func (s *abreast) weighCombinations(nc int, group []int, rs []Result) {
	s.f, s.cases, s.weighs = zeroed(s.f, nc), s.cases[:0], sized(s.weighs, nc)
	for l, i := range group {
		for c, f := range rs[i].factors {
			s.f[c][l] = f
		}
	}
	for c := range s.f {
		if s.weighs[c] = s.f[c] != (row8{}); s.weighs[c] {
			s.cases = append(s.cases, int32(c))
		}
	}
}

// even tells whether the axial force of an element is the same all along in every lane.
func even(sums []row8) bool {
	return unloaded(sums[sumAxial+1 : sumAxial+axials])
}

// unloaded tells whether rows are zero in all lanes.
func unloaded(rows []row8) bool {
	for k := range rows {
		if rows[k] != (row8{}) {
			return false
		}
	}
	return true
}

// swingOfBar notes how much the axial force of a bar may vary.
func swingOfBar(sums []row8) {
	for l := range lanes {
		t := 0.0
		for j := 1; j < axials; j++ {
			t += math.Abs(sums[sumAxial+j][l])
		}
		sums[sumSwing][l] = t
	}
}

// applyLanes sums the nodal loads of the group.
func (w *Workspace) applyLanes() {
	s := &w.so.abreast
	s.applied = zeroed(s.applied, 6*len(w.m.nodes))
	for _, c := range s.cases {
		for i := range w.s.Cases[c].Nodal {
			o := &w.s.Cases[c].Nodal[i]
			F, M := vec(o.F), vec(o.M)
			for k := range 3 {
				for l, f := range s.f[c] {
					s.applied[6*o.Node+k][l] += float64(f * F[k])
					s.applied[6*o.Node+3+k][l] += float64(f * M[k])
				}
			}
		}
	}
	s.size = peakRows(s.applied)
}

// startGroup sets the displacements of first order, and prepares the lanes' slack sets under the factor in hand.
func (w *Workspace) startGroup(group []int) {
	s := &w.so.abreast
	n, m := w.m.n, len(w.m.oneWay)
	s.x, s.b = sized(s.x, n), sized(s.b, n) // written as a whole, as g is
	s.u, s.g = zeroed(s.u, 6*len(w.m.nodes)), sized(s.g, 6*len(w.m.nodes))
	s.rods = zeroed(s.rods, m)
	if w.manyRods() {
		clear(s.x)
		w.startMany(group)
	} else {
		pickRows(s.x, w.cu, s.f, s.cases)
		for l, i := range group {
			for q, v := range s.y[i*m : (i+1)*m] {
				s.rods[q][l] = v
			}
		}
		s.addRods(s.x, w.active.w)
	}
	s.mix.begin(n)
	w.spreadLanes()
	shared := &w.so.act
	for l := range s.count {
		w.noteSlack(l)
		if ln := &s.lane[l]; ln.any && !w.so.factors.own {
			if !shared.ready {
				w.prepareOneWay(shared, w.solveGroup)
				shared.ready = true
			}
			ln.set.follow(shared)
			ln.set.size = ln.r.size
		}
	}
}

// follow makes s read the influence of o; it keeps a slack set and scratch of its own.
func (s *activeSet) follow(o *activeSet) {
	if m := o.m; s.m != m || len(s.a) != m*m {
		s.growScratch(m, true)
	}
	s.k, s.root, s.idx, s.b, s.w, s.g = o.k, o.root, o.idx, o.b, o.w, o.g
}

// noteSlack sets which bars act in lane l.
func (w *Workspace) noteSlack(l int) {
	s := &w.so.abreast
	ln := &s.lane[l]
	for e, at := range s.act {
		if at >= 0 {
			s.acting[actRows*at][l] = 1
			if ln.r.Slack[e] {
				s.acting[actRows*at][l] = 0
			}
		}
	}
	ln.fresh, ln.any, w.so.factors.stale = true, false, true
	for _, e := range w.m.oneWay {
		ln.any = ln.any || ln.r.Slack[e]
	}
}

// spreadLanes writes the unknowns to the nodes.
func (w *Workspace) spreadLanes() {
	s := &w.so.abreast
	for k, d := range w.m.dof {
		if d >= 0 {
			s.u[k] = s.x[d]
		}
	}
}

// evaluateLanes computes end forces and sums at nodes of all lanes.
func (w *Workspace) evaluateLanes() {
	s := &w.so.abreast
	clear(s.g)
	s.acc[accSize], s.acc[accReach] = s.size, row8{}
	for l := range lanes {
		s.acc[accPivot][l], s.acc[accMargin][l] = math.MaxFloat64, math.MaxFloat64
	}
	for e := range w.els {
		i, j := s.nodes[2*e], s.nodes[2*e+1]
		ui, uj, gi, gj := s.u[i:i+6], s.u[j:j+6], s.g[i:i+6], s.g[j:j+6]
		sums, ends := s.sums[e*sumRows:(e+1)*sumRows], s.ends[12*e:12*e+12]
		sc, sa := s.sc[e*scNumbers:(e+1)*scNumbers], s.sa[8*e:8*e+8]
		arms := s.arms[e]
		at, to := ui, uj
		if arms {
			armsIn(sa, ui, uj, s.armed[:])
			at, to = s.armed[:6], s.armed[6:]
		}
		if b := s.act[e]; b >= 0 {
			barLanes(sc, at, to, sums, s.acting[actRows*b:actRows*(b+1)], s.acc[:], ends, gi, gj)
			s.pull[pullRows*e] = s.acting[actRows*b+actPull]
		} else {
			w.beamLanes(e, at, to, sums, ends, gi, gj)
		}
		if arms {
			armsOut(sc, sa, ui, uj, sums, ends, gi, gj)
		}
	}
}

// beamLanes answers beam e, whose ends move by ui and uj.
func (w *Workspace) beamLanes(e int, ui, uj, sums, ends, gi, gj []row8) {
	s := &w.so.abreast
	sc, sp, pull := s.sc[e*scNumbers:(e+1)*scNumbers], s.sp[2*e*spNumbers:2*(e+1)*spNumbers], s.pull[pullRows*e:]
	v := int(s.uneven[e])
	switch kind := s.kind[e]; {
	case kind == mixedPlanes:
		beamIn(sc, ui, uj, sums, s.acc[:], s.t[:], pull)
		w.bendLanes(e, sums)
		beamOut(sc, s.t[:], ends, gi, gj, s.acc[:])
	case v >= 0 && kind == rigidPlanes:
		beamVary(sc, sp, ui, uj, sums, s.variationOf(v, sums), s.acc[:], pull, ends, gi, gj)
	case v >= 0:
		beamVaryLoose(sc, sp, ui, uj, sums, s.variationOf(v, sums), s.acc[:], pull, ends, gi, gj)
	case kind == rigidPlanes:
		beamEven(sc, sp, ui, uj, sums, s.acc[:], pull, ends, gi, gj)
	case kind == pinnedPlanes:
		beamPinned(sc, sp, ui, uj, sums, s.acc[:], pull, ends, gi, gj)
	default:
		beamEvenLoose(sc, sp, ui, uj, sums, s.acc[:], pull, ends, gi, gj)
	}
}

// variationOf is the geometric stiffness of an element, at place v, from the variation of its axial force.
func (s *abreast) variationOf(v int, sums []row8) []row8 {
	if s.streams {
		settleLanes(sums, s.variation)
		return s.variation
	}
	return s.variation[v*chordTerms : (v+1)*chordTerms]
}

// bendLanes bends element e in both planes.
func (w *Workspace) bendLanes(e int, sums []row8) {
	s, el := &w.so.abreast, &w.els[e]
	for p := range 2 {
		sp := s.sp[(2*e+p)*spNumbers : (2*e+p+1)*spNumbers]
		d, mean, out := s.t[tBend+4*p:], s.t[tMean:], s.t[tForce+4*p:]
		inner, f := sums[sumInner+inners*p:], sums[4+4*p:]
		v := int(s.uneven[e])
		switch loose := el.plane[p].loose; {
		case v < 0 && el.plane[p].pinned():
			planePinned(sp, d, mean, f, s.acc[:], out)
		case v < 0 && loose:
			planeEvenLoose(sp, d, mean, inner, f, s.acc[:], out)
		case v < 0:
			planeEven(sp, d, mean, inner, f, s.acc[:], out)
		case loose:
			planeVaryLoose(sp, d, mean, s.variationOf(v, sums), inner, f, s.acc[:], out)
		default:
			planeVary(sp, d, mean, s.variationOf(v, sums), inner, f, s.acc[:], out)
		}
	}
}

// balanceLanes puts what is missing at the free freedoms into b, and the residuals into the results.
func (w *Workspace) balanceLanes() {
	s := &w.so.abreast
	for _, k := range s.sprung {
		if w.m.dof[k] >= 0 {
			c := w.s.Nodes[k/6].Spring[k%6]
			for l, v := range s.u[k] {
				s.g[k][l] += float64(c * v)
			}
		}
	}
	worst, total := balanceRows(s.b, s.applied, s.g, w.m.dof)
	for l := range s.count {
		if ln := &s.lane[l]; ln.running {
			ln.r.Residual = 0
			if size := s.acc[accSize][l]; !finite(total[l]) {
				ln.r.Residual = math.NaN() // of one that is no number the greatest tells nothing
			} else if size > 0 {
				ln.r.Residual = worst[l] / size
			}
		}
	}
}

// finishLanes writes the answers of the lanes that have settled: since then they have stood still.
func (w *Workspace) finishLanes() {
	s := &w.so.abreast
	var u, ends, axial, reactions [lanes][]float64
	s.spare = sized(s.spare, max(12*len(w.els), len(s.u)))
	for l := range lanes {
		u[l], ends[l], axial[l], reactions[l] = s.spare[:len(s.u)], s.spare[:12*len(w.els)], s.spare[:len(w.els)], s.spare[:len(s.u)]
		if r := s.lane[l].r; l < s.count && (r.Stable || s.lane[l].unproven) {
			u[l], axial[l], reactions[l] = r.U, r.axial, r.Reactions
			ends[l] = unsafe.Slice(&r.Ends[0][0], 12*len(r.Ends)) // those of an element lie together
		}
		clear(reactions[l])
	}
	w.finishReactions(&reactions)
	spreadRows(&u, s.u, 1)
	spreadRows(&ends, s.ends, 1)
	spreadRows(&axial, s.pull, pullRows)
}

// finishReactions writes the reactions of all lanes.
func (w *Workspace) finishReactions(to *[lanes][]float64) {
	s := &w.so.abreast
	for _, k := range s.held {
		g, a := &s.g[k], &s.applied[k]
		for l := range lanes {
			to[l][k] = g[l] - a[l]
		}
	}
	for _, k := range s.sprung {
		if w.m.dof[k] >= 0 {
			c := w.s.Nodes[k/6].Spring[k%6]
			for l, v := range s.u[k] {
				to[l][k] = -c * v
			}
		}
	}
}
