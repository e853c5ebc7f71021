package frame

import (
	"math"
	"slices"

	"leanbay/solver"
)

// abreast is the storage of quick second order, which takes eight combinations at a time through the same rounds, one a lane.
// What depends on the structure is prepared once a load, what depends on the combinations once a group of eight.
type abreast struct {
	load    uint64 // the load for which the first part is prepared
	serves  bool   // all elements are of kinds that lanes know
	tabled  bool   // the tables of first order are made
	loses   bool   // some case may load what nothing holds
	sc, sp  []float64
	sa      []float64
	sr      []float64 // per element, see roughNumber
	loaded  []bool    // per element: some case in hand loads it, beside forces at places
	nodes   []int32   // per element: the first rows of its nodes in u and g
	high    []float64 // per place: the greatest moment of a simple beam under a unit force there
	blunt   []bool    // per element: it has loads of which rough bounds know nothing
	lines   []float64 // per load of loadSet.sorted: its numbers for roughLine
	entries []float64 // per entry of loadSet.fixed: its sums, see sumRows
	plain   []bool    // per entry: only the rows of plainRows have any
	vary    []int32   // per element: its place in variation, -1 where N never varies along it
	kind    []planeKind
	act     []int32   // per element: its place in acting, -1 for beams
	arms    []bool    // per element
	swing   []float64 // per element and case: at most how much the axial force varies about its mean
	press   []float64 // mean axial force per element and case in first order, all elements acting
	rodPull []float64 // the same per element and unit of one-way slackening
	rodEase []float64 // stretch per one-way element and case
	rodSize []float64 // per case: what round-off of the stretches is measured by
	y       []float64 // slackening per combination and one-way element

	count     int // lanes in use
	f         []row8
	cases     []int32 // that some combination in hand weighs
	weighs    []bool  // per case: it is in cases
	forces    []row8  // at places, a row an axis
	sums      []row8
	uneven    []int32 // per element: its place in variation, -1 where N does not vary along it in the group in hand
	variation []row8
	streams   bool   // the structure is too long to stay near the processor: variation is worked out anew each time, and is of one element
	acting    []row8 // per bar: whether it acts, and its axial force
	ends      []row8
	pull      []row8
	rough     []row8
	extent    [extentRows]row8
	extents   []row8 // per member: its bounds
	u, g      []row8 // 6 per node
	applied   []row8
	x, b      []row8
	sprung    []int32   // freedoms at which nodes have springs
	held      []int32   // freedoms that are held
	spare     []float64 // takes what is written for lanes without an answer
	rods      []row8
	stretch   []row8  // of the one-way elements under the corrections
	pulled    []int32 // one-way elements with a row of rods that is not zero
	size      row8
	acc       [accRows]row8
	t         [tRows]row8
	armed     [12]row8
	lane      [lanes]lane
	mix       laneMix
}

// lane is one combination in the rounds.
type lane struct {
	r        *Result
	running  bool
	idle     bool // takes no step in this round
	unproven bool // it has settled, and the group's factor proves nothing
	step     int  // since its slack set changed
	search   setSearch
	set      activeSet // of the group's factor, decomposed for the lane's slack set
	fresh    bool      // the slack set is not decomposed yet
	any      bool      // something is slack
}

// prepareLanes makes the tables of the structure in hand; false if some element is of a kind that lanes do not know.
func (w *Workspace) prepareLanes() bool {
	s := &w.so.abreast
	if s.load == w.loadNo {
		return s.serves
	}
	s.load, s.serves, s.tabled = w.loadNo, w.loads.places.on, false
	if s.serves {
		s.tabulate(w.els)
		s.listNodes(w.m.elements)
		s.listFreedoms(w.s.Nodes, w.m.dof)
		s.weighCases(w)
	}
	return s.serves
}

// planeKind is how both planes of a beam end.
type planeKind uint8

const (
	mixedPlanes planeKind = iota // otherwise
	rigidPlanes
	loosePlanes // in joints that turn
	pinnedPlanes
)

func (e *element) planeKind() planeKind {
	a, b := &e.plane[0], &e.plane[1]
	switch {
	case a.pinned() && b.pinned():
		return pinnedPlanes
	case a.loose && b.loose:
		return loosePlanes
	case !a.loose && !b.loose:
		return rigidPlanes
	}
	return mixedPlanes
}

// fitsLanes tells whether an element is a bar without arms, or bends in both planes without shear deformation and with ends that do not
// slip across it.
func (e *element) fitsLanes() bool {
	if e.bar {
		return !e.arms
	}
	for p := range 2 {
		if e.slender[p] || e.shear[p] != 0 || e.plane[p].k[0] != rigid || e.plane[p].k[2] != rigid {
			return false
		}
	}
	return true
}

// listFreedoms lists the freedoms with springs, and those that are held.
func (s *abreast) listFreedoms(nodes []solver.Node, dof []int32) {
	s.sprung, s.held = s.sprung[:0], s.held[:0]
	for k, d := range dof {
		if d < 0 {
			s.held = append(s.held, int32(k))
		}
	}
	for i := range nodes {
		for d, k := range nodes[i].Spring {
			if k != 0 {
				s.sprung = append(s.sprung, int32(6*i+d))
			}
		}
	}
}

// listNodes lists where the elements' nodes have their rows.
func (s *abreast) listNodes(elements []elementTopology) {
	s.nodes = s.nodes[:0]
	for e := range elements {
		s.nodes = append(s.nodes, int32(6*elements[e].i), int32(6*elements[e].j))
	}
}

// tabulate writes the numbers of the elements.
func (s *abreast) tabulate(els []element) {
	n := len(els)
	s.sc, s.sp, s.sa = zeroed(s.sc, n*scNumbers), zeroed(s.sp, 2*n*spNumbers), zeroed(s.sa, 8*n)
	s.kind, s.arms = sized(s.kind, n), sized(s.arms, n)
	s.act, s.sr = zeroed(s.act, n), zeroed(s.sr, n*roughNumber)
	bars := 0
	for e := range els {
		el := &els[e]
		c := s.sc[e*scNumbers : (e+1)*scNumbers]
		for i := range 3 {
			copy(c[3*i:], el.R[i][:])
		}
		s.arms[e] = el.arms
		c[scStretch], c[scTwist], c[scInverse] = el.linear.kA, el.linear.kT, 1/el.L
		r := s.sr[e*roughNumber : (e+1)*roughNumber]
		for p := range 2 {
			copy(r[3*p:], el.R[1+p][:])
			if !el.slender[p] {
				r[srEighth+p] = el.L * el.L / (8 * el.EI[p])
			}
		}
		if s.act[e] = -1; el.bar {
			s.act[e] = int32(bars)
			bars++
			continue
		}
		s.kind[e] = el.planeKind()
		c[scReach] = el.L * el.L / el.weakest
		for p := range 2 {
			el.tabulatePlane(p, s.sp[(2*e+p)*spNumbers:(2*e+p+1)*spNumbers])
		}
		if el.arms {
			a := s.sa[8*e : 8*e+8]
			for end := range 2 {
				arm := &el.arm[end]
				copy(a[3*end:], arm[:])
				a[6+end] = arm[0]*el.R[0][0] + arm[1]*el.R[0][1] + arm[2]*el.R[0][2]
			}
			a[7] = -a[7]
		}
	}
	s.acting = slices.Grow(s.acting[:0], actRows*bars)[:actRows*bars]
}

func (e *element) tabulatePlane(p int, c []float64) {
	stiff := e.EI[p] / e.L
	c[spHold], c[spInverse], c[spStiff], c[spLength] = stiff/e.L, 1/e.L, stiff, e.L
	for end := range 2 {
		j := c[spJoint+jointNumbers*end:]
		if k := e.plane[p].k[2*end+1]; k == rigid {
			j[jointRigid] = 1
		} else {
			j[jointTurns], j[jointSpring] = 1, k
		}
	}
}

// weighCases writes what each case does to each element that it loads, and finds the elements along which N varies.
func (s *abreast) weighCases(w *Workspace) {
	l := &w.loads
	s.entries = sized(s.entries, len(l.fixed)*sumWeighed)
	s.plain = sized(s.plain, len(l.fixed))
	s.vary = zeroed(s.vary, len(w.els))
	for e := range s.vary {
		s.vary[e] = -1
	}
	s.blunt = zeroed(s.blunt, len(w.els))
	for e := range s.blunt {
		s.blunt[e] = slices.ContainsFunc(l.on(e), func(ld load) bool { return ld.point || ld.q1 != ld.q2 })
	}
	s.lines = sized(s.lines, roughNumbers*len(l.sorted))
	for i := range l.sorted {
		ld := &l.sorted[i]
		L, h, c := w.els[ld.element].L, ld.b-ld.a, (ld.a+ld.b)/2
		at := s.lines[roughNumbers*i:]
		if at[0] = c * (L - c) / L; h == L {
			at[0] = L / 8
		}
		at[1], at[2] = ld.q1[deflDOF[0]]*h, ld.q1[deflDOF[1]]*h
	}
	s.swing = zeroed(s.swing, len(w.els)*l.places.nc)
	for c := 0; c+1 < len(l.caseAt); c++ {
		for i := l.caseAt[c]; i < l.caseAt[c+1]; i++ {
			e := l.fixed[i].element
			v := s.entries[int(i)*sumWeighed : (int(i)+1)*sumWeighed]
			w.els[e].laneEntry(&l.fixed[i].f, &l.smooth[i], v)
			s.plain[i] = plainEntry(v)
			for _, x := range v[sumAxial+1 : sumAxial+axials] {
				s.swing[int(e)*l.places.nc+c] += math.Abs(x)
			}
		}
	}
	for k := range l.places.list {
		e, share := int(l.places.list[k].element), 0.0
		for _, x := range l.places.basis[k*basisNumbers+basisAxial+1 : k*basisNumbers+basisAxial+axials] {
			share += math.Abs(x)
		}
		for c, f := range l.places.force[3*k*l.places.nc : (3*k+1)*l.places.nc] {
			s.swing[e*l.places.nc+c] += share * math.Abs(f)
		}
	}
	s.high = sized(s.high, len(l.places.list))
	for k := range l.places.list {
		a, L := l.places.list[k].a, w.els[l.places.list[k].element].L
		s.high[k] = a * (L - a) / L
	}
	varying := int32(0)
	for e := range w.els {
		if !w.els[e].bar && slices.ContainsFunc(s.swing[e*l.places.nc:(e+1)*l.places.nc], func(x float64) bool { return x != 0 }) {
			s.vary[e] = varying
			varying++
		}
	}
	if s.streams = w.manyRods(); s.streams {
		varying = min(varying, 1)
	}
	s.variation = slices.Grow(s.variation[:0], int(varying)*chordTerms)[:int(varying)*chordTerms]
}

// plainEntry tells whether the sums of an entry are none but in plainRows.
func plainEntry(v []float64) bool {
	for _, k := range otherRows {
		if v[k] != 0 {
			return false
		}
	}
	return true
}

// laneEntry writes the sums of one case on one element: fixed-end forces f with joints of stretch and twist condensed, then what
// its loads do to the element as a smooth one.
func (e *element) laneEntry(f *[12]float64, o *smoothLoad, v []float64) {
	ends := [4]float64{f[0], f[6]}
	e.linear.axialC.loads(&ends, math.Inf(1))
	v[0], v[1] = ends[0], ends[1]
	ends = [4]float64{f[3], f[9]}
	e.linear.twistC.loads(&ends, math.Inf(1))
	v[2], v[3] = ends[0], ends[1]
	for p := range 2 {
		b := planeOf(f, p)
		b[0], b[2] = b[0]*e.L, b[2]*e.L
		copy(v[4+4*p:], b[:])
		copy(v[sumInner+inners*p:], o.inner[p][:])
	}
	copy(v[sumAxial:], o.axial[:])
	v[sumDrop] = o.drop
}

// first tabulates the axial forces of first order by case and by one-way element, and the stretches of these.
func (s *abreast) first(w *Workspace) {
	if s.tabled {
		return
	}
	s.tabled = true
	nc, n, m := len(w.s.Cases), len(w.els), len(w.m.oneWay)
	pulls := m // whose pull on every element is kept
	if w.manyRods() {
		pulls = 0
	}
	s.rodPull = zeroed(s.rodPull, n*pulls)
	s.rodEase, s.rodSize = zeroed(s.rodEase, m*nc), zeroed(s.rodSize, nc)
	oneWay := &w.active
	if m > 0 && !oneWay.ready {
		w.prepareOneWay(oneWay, w.solveLinear)
		oneWay.ready = true
	}
	var idx [12]int32
	var b [12]float64
	for e := range w.els {
		k := w.pullOf(e, &idx, &b)
		for c, i := range idx {
			if i < 0 || b[c] == 0 {
				continue
			}
			addTimes(s.press[e*nc:(e+1)*nc], k*b[c], w.cu[int(i)*nc:])
			if pulls > 0 {
				addTimes(s.rodPull[e*m:(e+1)*m], k*b[c], oneWay.w[int(i)*m:])
			}
		}
	}
	for r := range m {
		for q := range nc {
			size := 0.0
			for c, i := range oneWay.idx[r] {
				if i >= 0 {
					d := oneWay.b[r][c] * w.cu[int(i)*nc+q]
					s.rodEase[r*nc+q] += d
					size += math.Abs(d)
				}
			}
			s.rodSize[q] = max(s.rodSize[q], size)
		}
	}
}

// loadCasesAbreast is loadCases with eight cases side by side. It leaves the mean axial forces of held nodes in press.
func (w *Workspace) loadCasesAbreast(f []float64) {
	s := &w.so.abreast
	nc, n := len(w.s.Cases), len(w.els)
	s.press = sized(s.press, n*nc)
	s.u, s.g = zeroed(s.u, 6*len(w.m.nodes)), zeroed(s.g, 6*len(w.m.nodes))
	s.ends, s.pull = sized(s.ends, 12*n), zeroed(s.pull, pullRows*n)
	s.acting = zeroed(s.acting, len(s.acting))
	s.loaded = zeroed(s.loaded, n)
	s.loses = false
	s.sums = sized(s.sums, n*sumRows)
	places := &w.loads.places
	for from := 0; from < nc; from += lanes {
		count := min(lanes, nc-from)
		forces, stride := places.force, nc
		if count == lanes && len(forces) > 0 {
			forces = forces[from:]
		} else {
			forces, stride = places.eightOf(from, &s.forces), lanes
		}
		s.applied = zeroed(s.applied, 6*len(w.m.nodes))
		for c := from; c < from+count; c++ {
			l := c - from
			for i := int(w.loads.caseAt[c]); i < int(w.loads.caseAt[c+1]); i++ {
				e := int(w.loads.fixed[i].element)
				sums := s.sums[e*sumRows:][:heldRows]
				if !s.loaded[e] {
					s.loaded[e] = true
					clear(sums)
				}
				for k, v := range s.entries[i*sumWeighed:][:heldRows] {
					sums[k][l] += v
				}
			}
			for i := range w.s.Cases[c].Nodal {
				o := &w.s.Cases[c].Nodal[i]
				F, M := vec(o.F), vec(o.M)
				for k := range 3 {
					s.applied[6*o.Node+k][l] += F[k]
					s.applied[6*o.Node+3+k][l] += M[k]
				}
			}
		}
		clear(s.g)
		s.acc[accSize] = row8{}
		for e := range w.els {
			order, sums := places.of(e), s.sums[e*sumRows:]
			if !s.loaded[e] && len(order) == 0 {
				clear(s.press[e*nc+from : e*nc+from+count])
				continue
			}
			if !s.loaded[e] {
				clear(sums[:heldRows])
			}
			s.loaded[e] = false
			holdPlaces(order, places.basis, forces, stride, sums)
			w.holdLanes(e)
			for l := range count {
				s.press[e*nc+from+l] = sums[sumAxial][l] - sums[0][l]
			}
		}
		s.loses = s.loses || w.losesLoads()
		for k, d := range w.m.dof {
			if d >= 0 {
				for l := range count {
					f[int(d)*nc+from+l] = s.applied[k][l] - s.g[k][l]
				}
			}
		}
	}
}

// losesLoads tells whether one of the cases in hand loads a node that is joined to nothing or a joint that turns freely, or may twist
// an element that spins (see findLostLoads): combinations are then looked at one by one.
func (w *Workspace) losesLoads() bool {
	s := &w.so.abreast
	if len(w.spun) > 0 {
		return true
	}
	for _, i := range w.m.idle {
		for d := range 6 {
			if s.applied[6*i+d] != (row8{}) {
				return true
			}
		}
	}
	for i := range w.turns {
		t := &w.turns[i]
		for l := range lanes {
			m, size := 0.0, s.acc[accSize][l]
			for k, v := range t.dir {
				at := 6*t.node + 3 + k
				m += v * (s.applied[at][l] - s.g[at][l])
				size = max(size, math.Abs(s.applied[at][l]))
			}
			if math.Abs(m) > 1e-9*size {
				return true
			}
		}
	}
	return false
}

// holdLanes adds the forces that hold the ends of element e still under its loads, of which sums has heldRows.
func (w *Workspace) holdLanes(e int) {
	s, t := &w.so.abreast, &w.m.elements[e]
	sums := s.sums[e*sumRows : (e+1)*sumRows]
	still := s.u[:6]
	gi, gj := s.g[6*t.i:6*t.i+6], s.g[6*t.j:6*t.j+6]
	sc, ends := s.sc[e*scNumbers:(e+1)*scNumbers], s.ends[12*e:12*e+12]
	if b := s.act[e]; b >= 0 {
		barLanes(sc, still, still, sums, s.acting[actRows*b:actRows*(b+1)], s.acc[:], ends, gi, gj)
	} else {
		scratch := s.t[:]
		copy(scratch[tForce:], sums[4:12])
		for p := range 2 {
			if !w.els[e].plane[p].loose || unloaded(sums[4+4*p:8+4*p]) {
				continue
			}
			sp := s.sp[(2*e+p)*spNumbers : (2*e+p+1)*spNumbers]
			out := scratch[tForce+4*p:]
			if w.els[e].plane[p].pinned() {
				planePinned(sp, still, still, sums[4+4*p:], s.acc[:], out)
			} else {
				planeEvenLoose(sp, still, still, still, sums[4+4*p:], s.acc[:], out)
			}
		}
		beamHold(sc, sums, scratch, ends, gi, gj, s.acc[:])
	}
	if s.arms[e] {
		sums[sumDrop] = row8{} // arms that do not turn ask for no pull
		armsOut(sc, s.sa[8*e:8*e+8], still, still, sums, ends, gi, gj)
	}
}
