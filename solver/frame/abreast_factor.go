package frame

import (
	"math"

	"leanbay/solver"
	"leanbay/solver/sparse"
)

// laneFactors are eight stiffnesses under axial force side by side, with their factors. They serve groups, a group a lane: each
// takes its factor over. Combinations whose group has no definite factor, or that did not settle with it, are answered
// with factors of their own, a combination a lane, slack elements gone from its stiffness.
type laneFactors struct {
	fac    *sparse.Lanes
	val    []row8
	plane  [2 * stiffRows]row8 // stiffness of an element's planes
	whole  [78]row8            // and in global axes
	place  [21]int32
	forces laneForces
	low    []row8 // per element: the axial forces of the groups' factors
	each   [lanes]*sparse.Factor
	group  *sparse.Factor // that of the group in hand

	own   bool // combinations are in hand that have a lane's factor each
	stale bool // some of these changed its slack set since
	least row8 // least pivot of each, relative to the first-order stiffness
}

// barPlaces are the places, in the lower triangle of an element, of that of a bar.
var barPlaces = func() (at [21]int) {
	n := 0
	of := [6]int{0, 1, 2, 6, 7, 8}
	for i := range of {
		for j := range i + 1 {
			at[n] = triangle(of[i], of[j])
			n++
		}
	}
	return at
}()

// barFreedoms are the freedoms of a bar that these join, by their places among its six.
var barFreedoms = func() (of [21][2]int) {
	n := 0
	for i := range 6 {
		for j := range i + 1 {
			of[n] = [2]int{i, j}
			n++
		}
	}
	return of
}()

// laneForces are the axial forces of an element under which the lanes' stiffness is made.
type laneForces struct {
	act   [1]row8 // of a bar: whether it acts
	mean  [1]row8
	pulls [2]row8 // at both ends
	vary  []row8  // geometric stiffness from the variation along it, see chord.go; nil if there is none
}

// lowForces are those in the pullLow and actLow rows, the same all along, with the bars that act.
func (w *Workspace) lowForces(e int, f *laneForces) {
	s := &w.so.abreast
	if b := s.act[e]; b >= 0 {
		f.act[0] = s.acting[actRows*b]
	}
	f.mean[0], f.vary = *s.lowOf(e), nil
	f.pulls = [2]row8{f.mean[0], f.mean[0]}
}

// factorLanes factorises the stiffnesses under the axial forces that of gives. It returns which lanes are definite.
func (w *Workspace) factorLanes(of func(e int, f *laneForces)) [lanes]bool {
	f := &w.so.factors
	switch {
	case f.fac == nil:
		f.fac = sparse.NewLanes(w.m.sym)
		f.fac.Null = criticalNull
	case f.fac.Symbolic() != w.m.sym:
		f.fac.Use(w.m.sym)
	}
	w.fillLanes(of)
	stand := f.fac.Refactor(f.val)
	for l, least := range w.so.abreast.acc[accPivot] {
		stand[l] = stand[l] && least >= 0
	}
	return stand
}

// fillLanes sums the stiffnesses.
func (w *Workspace) fillLanes(of func(e int, f *laneForces)) {
	f := &w.so.factors
	f.val = zeroed(f.val, len(w.val))
	w.eachStiffness(of, func(place []int32, rows []row8) { addRowsAt(f.val, place, rows) })
	w.addSupports()
}

// eachStiffness makes the stiffness of each element, rows and their places in the values of the whole, and hands it to add.
func (w *Workspace) eachStiffness(of func(e int, f *laneForces), add func(place []int32, rows []row8)) {
	s, f := &w.so.abreast, &w.so.factors
	for l := range lanes {
		s.acc[accPivot][l] = math.MaxFloat64
	}
	for e := range w.els {
		of(e, &f.forces)
		sc := s.sc[e*scNumbers : (e+1)*scNumbers]
		if s.act[e] >= 0 {
			spreadBar(sc, f.forces.act[:], f.forces.mean[:], f.whole[:])
			for i, at := range barPlaces {
				f.place[i] = w.m.place[e][at]
			}
			add(f.place[:], f.whole[:len(f.place)])
			continue
		}
		for p := range 2 {
			w.stiffPlane(e, p, f.plane[stiffRows*p:stiffRows*(p+1)])
		}
		spreadBeam(sc, f.plane[:], f.whole[:])
		if w.els[e].arms {
			spreadArms(sc, s.sa[8*e:8*e+8], f.forces.pulls[:], f.whole[:])
		}
		add(w.m.place[e][:], f.whole[:])
	}
}

// stiffPlane makes the stiffness of plane p of element e.
func (w *Workspace) stiffPlane(e, p int, out []row8) {
	s, n := &w.so.abreast, &w.so.factors.forces
	sp := s.sp[(2*e+p)*spNumbers : (2*e+p+1)*spNumbers]
	switch loose := w.els[e].plane[p].loose; {
	case n.vary == nil && w.els[e].plane[p].pinned():
		stiffPinned(sp, n.mean[:], s.acc[:], out)
	case n.vary == nil && loose:
		stiffEvenLoose(sp, n.mean[:], s.acc[:], out)
	case n.vary == nil:
		stiffEven(sp, n.mean[:], s.acc[:], out)
	case loose:
		stiffVaryLoose(sp, n.mean[:], n.vary, s.acc[:], out)
	default:
		stiffVary(sp, n.mean[:], n.vary, s.acc[:], out)
	}
}

// addSupports adds the springs at nodes, and those that hold what nothing else does.
func (w *Workspace) addSupports() {
	f := &w.so.factors
	for i := range w.s.Nodes {
		for d, k := range w.s.Nodes[i].Spring {
			if p := w.m.own[i][triangle(d, d)]; k != 0 && p >= 0 {
				addToRow(&f.val[p], k)
			}
		}
	}
	for i := range w.turns {
		t := &w.turns[i]
		for a := range 3 {
			for b := range a + 1 {
				if p := w.m.own[t.node][triangle(3+a, 3+b)]; p >= 0 {
					addToRow(&f.val[p], t.k*t.dir[a]*t.dir[b])
				}
			}
		}
	}
}

func addToRow(r *row8, v float64) {
	for l := range r {
		r[l] += v
	}
}

// setLow writes the least axial force of element e for lane l: none where it acts in tension only, and not below what a smooth element
// is good for.
func (w *Workspace) setLow(e, l int, n float64) {
	el := &w.els[e]
	switch {
	case w.m.elements[e].acts == solver.TensionOnly:
		n = 0
	case !el.bar:
		n = max(n, -smoothReach*el.weakest/(el.L*el.L))
	}
	w.so.abreast.lowOf(e)[l] = n
}

// factorGroups factorises the stiffness of each group, at most eight, all one-way elements acting, under the least axial forces in
// it, lowered. It returns which are definite.
func (w *Workspace) factorGroups(groups [][]int, rs []Result) [lanes]bool {
	s := &w.so.abreast
	for b := range len(s.acting) / actRows {
		for l := range lanes {
			s.acting[actRows*b][l] = 1
		}
	}
	for l, group := range groups {
		w.leastAxial(group, rs, sharedShare, sharedFloor)
		for e, n := range w.so.sharing.low {
			w.setLow(e, l, n)
		}
	}
	for l := len(groups); l < lanes; l++ { // what is in the other lanes does not matter, but that it is given
		for e := range w.els {
			w.setLow(e, l, 0)
		}
	}
	f := &w.so.factors
	f.low = zeroed(f.low, len(w.els))
	for e := range f.low {
		f.low[e] = *s.lowOf(e)
	}
	stand := w.factorLanes(w.lowForces)
	for l := range groups {
		f.each[l] = factorFor(f.each[l], w.m.sym)
	}
	f.fac.TakeAll(f.each[:len(groups)])
	return stand
}

// solveGroup solves with the factor of the group in hand.
func (w *Workspace) solveGroup(x []float64, nrhs int) { w.so.factors.group.Solve(x, nrhs) }

// takeGroup makes the factor of lane g that of the group in hand.
func (w *Workspace) takeGroup(g int) {
	so := &w.so
	so.factors.group = so.factors.each[g]
	so.factors.own, so.act.ready, so.negative = false, false, 0
	for e := range w.els {
		n := so.factors.low[e][g]
		for l := range lanes {
			so.abreast.lowOf(e)[l] = n
		}
	}
}

// factorOwn factorises the stiffness of each combination in hand under its own axial forces of first order, lowered, without
// what is slack in it. Lanes that are not definite end.
func (w *Workspace) factorOwn() {
	s, f := &w.so.abreast, &w.so.factors
	f.own, f.stale = true, false
	var stand [lanes]bool
	if w.so.rests.on {
		stand = w.factorSeated()
	} else {
		stand = w.factorLanes(w.lowForces)
		f.least = f.fac.Least(w.diag)
	}
	for l := range s.count {
		s.lane[l].running = s.lane[l].running && stand[l]
	}
}

// lowOf is the row of element e's least axial force in the factor in hand.
func (s *abreast) lowOf(e int) *row8 {
	if b := s.act[e]; b >= 0 {
		return &s.acting[actRows*b+actLow]
	}
	return &s.pull[pullRows*e+pullLow]
}

// openLanes are the lanes whose answers are still to be proven.
func (s *abreast) openLanes() (open [lanes]bool) {
	for l := range s.count {
		open[l] = s.lane[l].unproven
	}
	return open
}

// proveOwn proves answers whose axial forces fell below those of their own factors, by factors under the least axial force of each
// element in them.
func (w *Workspace) proveOwn() {
	s, f := &w.so.abreast, &w.so.factors
	open := s.openLanes()
	if open == [lanes]bool{} {
		return
	}
	for e := range w.els {
		for l := range s.count {
			if !open[l] {
				continue
			}
			n := s.lane[l].r.axial[e] - s.sums[e*sumRows+sumSwing][l]
			w.setLow(e, l, n)
			open[l] = w.els[e].bar || s.lowOf(e)[l] <= n
		}
	}
	stand := w.factorLanes(w.lowForces)
	f.least = f.fac.Least(w.diag)
	for l := range s.count {
		if open[l] && stand[l] && (!s.lane[l].any || f.least[l] > leastOwn) {
			s.lane[l].r.Stable, s.lane[l].unproven = true, false
		}
	}
}
