package frame

import (
	"math"
	"slices"
)

// Extent bounds a member's internal forces under one combination, as magnitudes in N and N·m: My and Mz by sign, positive
// first. Infinite values mean that no bound is known.
type Extent struct {
	Tension, Compression float64
	Vy, Vz, T            float64
	My, Mz               [2]float64
}

// unbounded is the Extent that says nothing.
var unbounded = Extent{math.Inf(1), math.Inf(1), math.Inf(1), math.Inf(1), math.Inf(1), [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(1), math.Inf(1)}}

// statics is what the loads between end i and a station of an element sum to, for one case or one combination. Forces of
// the station's own point loads are in it, as are their couples.
type statics struct {
	force    [3]float64 // N, local axes
	spread   [3]float64 // the part of force that comes from loads per metre
	axialSum float64    // ∫ of force along x (N·m)
	moment   [2]float64 // ∫ of transverse force, per plane (N·m)
	couple   [2]float64 // couples in the plane's sign (N·m)
	torque   float64
}

// staticsSet holds the stations of all elements and the statics of every case there.
type staticsSet struct {
	ready bool      // for the loads in hand
	first []int32   // CSR over x by element
	x     []float64 // stations: both ends, quarters, and where loads jump
	rough []bool    // elements with loads that vary along them: no bound
	at    []int32   // CSR over value by entry of loadSet.fixed
	value []statics
	known []bool    // elements whose part of value is summed
	sum   []statics // scratch
	own   []float64 // likewise
}

// readyStatics makes the stations of the loads in hand ready: for quick answers with the loads, for others when they are asked for.
func (l *loadSet) readyStatics(els []element) {
	if l.statics.ready {
		return
	}
	l.statics.ready = true
	l.listEntries(len(els))
	l.statics.prepare(l, els)
}

// prepare finds the stations. The statics of the cases are summed element by element when they are asked for: rough bounds leave few.
func (t *staticsSet) prepare(l *loadSet, els []element) {
	t.first, t.x, t.at, t.value = append(t.first[:0], 0), t.x[:0], append(t.at[:0], 0), t.value[:0]
	t.rough = zeroed(t.rough, len(els))
	for e := range els {
		t.stations(l.on(e), &l.places, els[e].L, e)
	}
	total := int32(0)
	for k := range l.fixed {
		e := l.fixed[k].element
		total += t.first[e+1] - t.first[e]
		t.at = append(t.at, total)
	}
	t.value, t.known = sized(t.value, int(total)), zeroed(t.known, len(els))
}

// know sums the statics of every case on element e.
func (t *staticsSet) know(l *loadSet, e int) {
	if t.known[e] {
		return
	}
	t.known[e] = true
	xs, loads := t.x[t.first[e]:t.first[e+1]], l.on(e)
	for _, k := range l.entriesOf(e) {
		v := t.value[t.at[k.entry]:t.at[k.entry+1]]
		clear(v)
		for len(loads) > 0 && loads[0].caseNo == k.caseNo {
			t.add(&loads[0], xs, v)
			loads = loads[1:]
		}
	}
}

// stations lists those of one element.
func (t *staticsSet) stations(loads []load, places *placeSet, length float64, e int) {
	t.own = append(t.own[:0], 0, length/4, length/2, 3*length/4, length)
	tol := stationSlack * length
	from := 0 // places lie along the element
	for _, k := range places.of(e) {
		t.own, from = insert(t.own, from, places.list[k].a, tol)
	}
	for i := range loads {
		ld := &loads[i]
		t.rough[e] = t.rough[e] || !ld.point && ld.q1 != ld.q2
		if ld.a == 0 && ld.b == length { // by far the most
			continue
		}
		t.own, _ = insert(t.own, 0, ld.a, tol)
		t.own, _ = insert(t.own, 0, ld.b, tol)
	}
	t.x = append(t.x, t.own...)
	t.first = append(t.first, int32(len(t.x)))
}

// insert puts x into the ascending list, unless it has it already, looking from one place of it on. It returns where x is.
func insert(list []float64, from int, x, tol float64) ([]float64, int) {
	i := from
	for i < len(list) && list[i] < x-tol {
		i++
	}
	if i < len(list) && list[i] <= x+tol {
		return list, i
	}
	return slices.Insert(list, i, x), i
}

// add puts one load on the statics at the stations xs.
func (t *staticsSet) add(ld *load, xs []float64, v []statics) {
	tol := stationSlack * xs[len(xs)-1]
	for i, x := range xs {
		if x < ld.a-tol {
			continue
		}
		s := &v[i]
		f, arm := ld.q1, x-ld.a
		if ld.point {
			s.torque += ld.q2[0]
			for p := range 2 {
				s.couple[p] += planeSign[p] * ld.q2[turnDOF[p]-3]
			}
		} else {
			h := min(x, ld.b) - ld.a
			arm -= h / 2
			for k := range f {
				f[k] *= h
				s.spread[k] += f[k]
			}
		}
		for k := range f {
			s.force[k] += f[k]
		}
		s.axialSum += f[0] * arm
		for p := range 2 {
			s.moment[p] += f[deflDOF[p]] * arm
		}
	}
}

// combineStatics sums the statics of element e under the factors of r.
func (w *Workspace) combineStatics(r *Result, e int) (xs []float64, v []statics) {
	t := &w.loads.statics
	t.know(&w.loads, e)
	xs = t.x[t.first[e]:t.first[e+1]]
	t.sum = zeroed(t.sum, len(xs))
	v = t.sum
	for _, k := range w.loads.entriesOf(e) {
		f := r.factors[k.caseNo]
		if f == 0 {
			continue
		}
		for i := range v {
			v[i].add(&t.value[int(t.at[k.entry])+i], f)
		}
	}
	points := w.loads.places.under(e, r.factors)
	if len(points) > 0 {
		addPoints(points, xs, v)
	}
	return xs, v
}

// addPoints adds forces in order along an element to the statics at the stations xs.
func addPoints(points []pointForce, xs []float64, v []statics) {
	tol := stationSlack * xs[len(xs)-1]
	var sum [3]float64 // of the forces passed
	var arm [3]float64 // and of their moments about the station
	next, from := 0, 0.0
	for i, x := range xs {
		for k := range sum {
			arm[k] += sum[k] * (x - from)
		}
		from = x
		for ; next < len(points) && points[next].a <= x+tol; next++ {
			p := &points[next]
			for k := range sum {
				sum[k] += p.f[k]
				arm[k] += p.f[k] * (x - p.a)
			}
		}
		s := &v[i]
		for k := range sum {
			s.force[k] += sum[k]
		}
		s.axialSum += arm[0]
		s.moment[0] += arm[deflDOF[0]]
		s.moment[1] += arm[deflDOF[1]]
	}
}

func (s *statics) add(o *statics, f float64) {
	for k := range 3 {
		s.force[k] += f * o.force[k]
		s.spread[k] += f * o.spread[k]
	}
	s.axialSum += f * o.axialSum
	s.torque += f * o.torque
	for p := range 2 {
		s.moment[p] += f * o.moment[p]
		s.couple[p] += f * o.couple[p]
	}
}

// Extent bounds the internal forces along member m of a second-order answer, at a small part of a Diagram's cost: no force of the
// Diagram exceeds it. It panics like Diagram; first-order answers have no bounds.
func (r *Result) Extent(m int) Extent {
	w := r.current()
	if !r.Analysis.second() {
		return unbounded
	}
	w.loads.readyStatics(w.els)
	var x Extent
	for _, e := range w.m.members[m] {
		if el := &w.els[e]; w.loads.statics.rough[e] || el.shear != [2]float64{} || el.plane[0].slides() || el.plane[1].slides() {
			return unbounded
		}
		w.boundElement(r, e, &x)
	}
	for _, v := range []*float64{&x.Tension, &x.Compression, &x.Vy, &x.Vz, &x.T} {
		*v *= 1 + forceSlack
	}
	return x
}

// NearEnds bounds the moments Mz within reach (m) of both ends of member m, positive first; x is its RoughExtent. They are those at the end
// and what the greatest forces add over the reach, by their lever and, where the member leans, by its slope. It panics like Diagram.
func (r *Result) NearEnds(m int, reach [2]float64, x *Extent) (near [2][2]float64) {
	w := r.current()
	list := w.m.members[m]
	most := max(x.Mz[0], x.Mz[1])
	for end, e := range [2]int{list[0], list[len(list)-1]} {
		near[end] = x.Mz
		el, t, f := &w.els[e], &w.m.elements[e], &r.Ends[e]
		if reach[end] > el.L || len(r.rough) == 0 || math.IsInf(r.rough[m].Tension, 1) || !w.bends(r, e) { // the last two: couples, slipping ends
			continue
		}
		u := el.local(r.U[6*t.i:6*t.i+6], r.U[6*t.j:6*t.j+6])
		slope := math.Abs(u[6+deflDOF[0]]-u[deflDOF[0]])/el.L + most*el.L/(2*el.EI[0]) // of the chord, and of the bow at most
		at := -f[turnDOF[0]]
		if end == 1 {
			at = f[6+turnDOF[0]]
		}
		add := reach[end]*(x.Vy+max(x.Tension, x.Compression)*slope) + boundSlack*most
		near[end] = [2]float64{min(x.Mz[0], max(0, at+add)), min(x.Mz[1], max(0, add-at))}
	}
	return near
}

// forceSlack and boundSlack are by how much bounds of forces and of moments exceed what was found, for what a quick answer
// leaves open: smooth elements and curves drawn exactly agree to less than a tenth of it.
const (
	forceSlack = 1e-5
	boundSlack = 1e-3
)

// longestReach is the greatest |N|·L²/8EI with which a bound of moments is worked out: at 1 it would be infinite.
const longestReach = 0.95

// boundElement takes element e into x.
func (w *Workspace) boundElement(r *Result, e int, x *Extent) {
	el, t, f := &w.els[e], &w.m.elements[e], &r.Ends[e]
	xs, v := w.combineStatics(r, e)
	n := -f[0]
	most := 0.0
	shear := [2]*float64{&x.Vy, &x.Vz}
	for i := range v {
		s := &v[i]
		a := n - s.force[0]
		b := a
		if i+1 < len(v) {
			b -= v[i+1].spread[0] - s.spread[0]
		}
		x.Tension, x.Compression = max(x.Tension, a, b), max(x.Compression, -a, -b)
		most = max(most, math.Abs(a), math.Abs(b))
		x.T = max(x.T, math.Abs(-f[3]-s.torque))
		for p := range 2 {
			q := -f[deflDOF[p]] - s.force[deflDOF[p]]
			*shear[p] = max(*shear[p], math.Abs(q))
			if i+1 < len(v) {
				*shear[p] = max(*shear[p], math.Abs(q-v[i+1].spread[deflDOF[p]]+s.spread[deflDOF[p]]))
			}
		}
	}
	u := el.local(r.U[6*t.i:6*t.i+6], r.U[6*t.j:6*t.j+6])
	slip := r.Slack[e]
	for p := range 2 {
		d, g := planeOf(&u, p), planeOf(f, p)
		chord := (d[2] - d[0]) / el.L
		if slip {
			chord = 0
		}
		hi, lo := w.boundMoments(el, p, xs, v, &g, n, most, chord)
		if p == 1 { // plane 1 has -My
			x.My[0], x.My[1] = max(x.My[0], -lo), max(x.My[1], hi)
		} else {
			x.Mz[0], x.Mz[1] = max(x.Mz[0], hi), max(x.Mz[1], -lo)
		}
	}
}

// boundMoments bounds the moments of plane p (plane sign) between lo and hi.
func (w *Workspace) boundMoments(el *element, p int, xs []float64, v []statics, g *[4]float64, n, most, chord float64) (hi, lo float64) {
	m, rest := w.stationMoments(el, p, xs, v, g, n, most, chord)
	hi, lo = math.Inf(-1), math.Inf(1)
	couple := 0.0
	for i := range xs {
		hi, lo = max(hi, m[i]-couple, m[i]-v[i].couple[p]), min(lo, m[i]-couple, m[i]-v[i].couple[p])
		couple = v[i].couple[p]
	}
	return hi + rest, lo - rest
}

// stationMoments finds the moments of plane p (plane sign) at the stations, in scratch; with the couples of v taken off they lie
// within rest of the curve, there and on the straight lines between. At the stations M is that of the loads, of the axial force on the
// chord, and of its mean on the bow, which follows from M by integrating twice; what the bow of that bow adds, and what M does
// between stations, is bounded. An infinite rest means that no bound is known.
func (w *Workspace) stationMoments(el *element, p int, xs []float64, v []statics, g *[4]float64, n, most, chord float64) (m []float64, rest float64) {
	m = w.boundScratch(len(xs))
	q0, m0 := -g[0], -g[1]
	largest, couple := 0.0, 0.0
	for i, x := range xs {
		s := &v[i]
		m[i] = m0 - q0*x + s.moment[p] + chord*(n*x-s.axialSum)
		largest = max(largest, math.Abs(m[i]-couple), math.Abs(m[i]-s.couple[p]))
		couple = s.couple[p]
	}
	last := len(xs) - 1
	L := xs[last]
	mean := n - v[last].axialSum/L
	bend, grown := 0.0, largest
	if !el.slender[p] {
		bend = 1 / el.EI[p]
		r := most * L * L * bend
		if r > 8*longestReach {
			return m, math.Inf(1)
		}
		vary := 0.0
		for i := range v {
			vary = max(vary, math.Abs(n-v[i].force[0]-mean))
		}
		grown /= 1 - r/8
		bow := grown * L * L * bend / 8 // of the element, at most
		rest = (r/8)*most*bow + 2*vary*bow*4
		w.addBow(xs, m, v, p, mean, bend)
	}
	between := 0.0
	for i := 1; i < len(xs); i++ {
		l := xs[i] - xs[i-1]
		load := math.Abs(v[i].spread[deflDOF[p]]-v[i-1].spread[deflDOF[p]]) + math.Abs((v[i].spread[0]-v[i-1].spread[0])*chord)
		between = max(between, l/8*load+l*l/8*most*bend*grown)
	}
	return m, rest + 1.5*between + boundSlack*grown // half of it: what the loads between stations add to the bow
}

// addBow adds mean·v to m at the stations, v being the deflection from the chord that m makes.
func (w *Workspace) addBow(xs, m []float64, v []statics, p int, mean, bend float64) {
	d := w.so.extra[len(xs) : 2*len(xs)]
	slope, defl, couple := 0.0, 0.0, v[0].couple[p]
	d[0] = 0
	for i := 1; i < len(xs); i++ {
		l := xs[i] - xs[i-1]
		a, b := (m[i-1]-couple)*bend, (m[i]-couple)*bend
		defl += l*slope + l*l*(2*a+b)/6
		slope += l * (a + b) / 2
		d[i] = defl
		couple = v[i].couple[p]
	}
	L := xs[len(xs)-1]
	for i, x := range xs {
		m[i] += mean * (d[i] - defl*x/L)
	}
}

func (w *Workspace) boundScratch(n int) []float64 {
	w.so.extra = slices.Grow(w.so.extra[:0], 2*n)[:2*n]
	return w.so.extra[:n]
}

// loadEntry is one case's loads on one element: its place in loadSet.fixed.
type loadEntry struct{ entry, caseNo int32 }

// listEntries sorts the places in fixed by element.
func (l *loadSet) listEntries(n int) {
	l.of = zeroed(l.of, n+2)
	for i := range l.fixed {
		l.of[l.fixed[i].element+2]++
	}
	for e := range n {
		l.of[e+2] += l.of[e+1]
	}
	l.entries = zeroed(l.entries, len(l.fixed))
	for c := 0; c+1 < len(l.caseAt); c++ {
		for k := l.caseAt[c]; k < l.caseAt[c+1]; k++ {
			at := &l.of[l.fixed[k].element+1]
			l.entries[*at] = loadEntry{k, int32(c)}
			*at++
		}
	}
}

// entriesOf lists the cases that load element e.
func (l *loadSet) entriesOf(e int) []loadEntry { return l.entries[l.of[e]:l.of[e+1]] }
