package frame

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/solver"
)

// load is one case's load on one element, in the element's local axes and stations.
type load struct {
	element int32
	caseNo  int32
	point   bool
	a, b    float64    // stations from end i (m); a point load is at a
	q1, q2  [3]float64 // N/m at a and b; for a point load: force (N) and moment (N·m)
}

// fixed is what the loads of one case do to one element with its ends held: forces of the nodes on the ends, local axes,
// joints not yet condensed.
type fixed struct {
	element int32
	f       [12]float64
}

// stationSlack is how far (relative to the member's length) a station may lie outside a member, or beside an element's
// boundary, before it is taken for another place: round-off of files in millimetres.
const stationSlack = 1e-9

// loadSet holds the loads of all cases, resolved to elements. Storage is kept between structures.
type loadSet struct {
	all     []load
	sorted  []load
	first   []int32 // CSR over sorted by element
	fixed   []fixed
	smooth  []smoothLoad // beside fixed, if wanted; so are the following
	statics staticsSet
	entries []loadEntry // by element
	of      []int32     // CSR over entries by element
	caseAt  []int32     // CSR over fixed by case
	places  placeSet    // forces that are in none of the above
	tabled  []solver.PointLoad
	slot    []int32 // element -> index in fixed for the case in hand
	stamped []int32

	here, hereCase []int32 // see part: places of the whole's elements and cases
}

// resolve puts the loads of s on elements and sums their fixed-end forces by case, and what they do to smooth elements if
// wanted.
func (l *loadSet) resolve(m *Model, s *solver.Structure, els []element, smooth bool) error {
	l.all, l.fixed, l.caseAt, l.smooth = l.all[:0], l.fixed[:0], l.caseAt[:0], l.smooth[:0]
	l.places.begin(s, els, smooth)
	if err := l.places.tabulate(m, s, els); err != nil {
		return err
	}
	l.makeRoom(s)
	for i := range l.stamped {
		l.stamped[i] = -1
	}
	for c := range s.Cases {
		l.caseAt = append(l.caseAt, int32(len(l.fixed)))
		first := len(l.all)
		if err := l.resolveCase(s, els, c); err != nil {
			return err
		}
		for i := range l.all[first:] {
			ld := &l.all[first+i]
			e := ld.element
			if l.stamped[e] != int32(c) {
				l.stamped[e], l.slot[e] = int32(c), int32(len(l.fixed))
				l.fixed = append(l.fixed, fixed{element: e})
				if smooth {
					l.smooth = append(l.smooth, smoothLoad{})
				}
			}
			els[e].addFixed(ld, &l.fixed[l.slot[e]].f)
			if smooth {
				els[e].addSmooth(ld, &l.smooth[l.slot[e]])
			}
		}
	}
	l.caseAt = append(l.caseAt, int32(len(l.fixed)))
	l.places.settle(m, s, els)
	l.sortByElement(len(els))
	if l.statics.ready = false; smooth {
		l.readyStatics(els)
	}
	return nil
}

// makeRoom grows the storage to about the loads of s, once.
func (l *loadSet) makeRoom(s *solver.Structure) {
	n := 0
	for c := range s.Cases {
		n += len(s.Cases[c].Line)
		if !l.places.on {
			n += len(s.Cases[c].Point)
			n += len(s.Cases[c].Pushes)
			if s.Cases[c].Column > 0 {
				n += len(s.Table.Places())
			}
		}
		if s.Cases[c].SelfWeight != (r3.Vec{}) {
			n += len(s.Elements)
		}
	}
	l.all = slices.Grow(l.all, n)
}

// sortByElement orders the loads by element, then case, then as given.
func (l *loadSet) sortByElement(n int) {
	l.first = slices.Grow(l.first[:0], n+2)[:n+2]
	clear(l.first)
	for i := range l.all {
		l.first[l.all[i].element+2]++
	}
	for e := range n {
		l.first[e+2] += l.first[e+1]
	}
	l.sorted = slices.Grow(l.sorted[:0], len(l.all))[:len(l.all)]
	for i := range l.all {
		e := l.all[i].element
		l.sorted[l.first[e+1]] = l.all[i]
		l.first[e+1]++
	}
}

// on returns the loads of all cases on element e.
func (l *loadSet) on(e int) []load { return l.sorted[l.first[e]:l.first[e+1]] }

func (l *loadSet) resolveCase(s *solver.Structure, els []element, c int) error {
	lc := &s.Cases[c]
	for i := range lc.Line {
		if err := l.addLine(s, els, c, &lc.Line[i]); err != nil {
			return fmt.Errorf("case %s, line load %d: %w", lc.ID, i+1, err)
		}
	}
	if err := l.addTabled(s, els, c); err != nil {
		return fmt.Errorf("case %s, table of point loads: %w", lc.ID, err)
	}
	for i := range lc.Point {
		taken, err := l.places.take(s, els, c, &lc.Point[i])
		if err == nil && !taken {
			err = l.addPoint(s, els, c, &lc.Point[i])
		}
		if err != nil {
			return fmt.Errorf("case %s, point load %d: %w", lc.ID, i+1, err)
		}
	}
	for _, v := range vec(lc.SelfWeight) {
		if !finite(v) {
			return fmt.Errorf("case %s: self weight %v is not a number", lc.ID, lc.SelfWeight)
		}
	}
	if lc.SelfWeight == (r3.Vec{}) {
		return nil
	}
	for e := range els {
		el := &s.Elements[e]
		w := el.Density * el.A * Gravity
		if w == 0 {
			continue
		}
		q := els[e].toLocal(vec(lc.SelfWeight))
		for k := range q {
			q[k] *= w
		}
		l.all = append(l.all, load{element: int32(e), caseNo: int32(c), b: els[e].L, q1: q, q2: q})
	}
	return nil
}

// addTabled puts the forces of a case at places of the structure's table on elements; of its column only where tabulate did not.
func (l *loadSet) addTabled(s *solver.Structure, els []element, c int) error {
	if lc := &s.Cases[c]; lc.Column == 0 && len(lc.Pushes) == 0 {
		return nil
	}
	if l.places.on {
		return l.places.push(s, els, c)
	}
	l.tabled = s.PointsOf(c, l.tabled[:0])
	for i := range l.tabled {
		if err := l.addPoint(s, els, c, &l.tabled[i]); err != nil {
			return err
		}
	}
	return nil
}

func (e *element) toLocal(v [3]float64) (o [3]float64) {
	for i := range o {
		r := &e.R[i]
		o[i] = r[0]*v[0] + r[1]*v[1] + r[2]*v[2]
	}
	return o
}

// addLine cuts a line load at the boundaries of its member's elements.
func (l *loadSet) addLine(s *solver.Structure, els []element, c int, ll *solver.LineLoad) error {
	m, length, err := loadedMember(s, els, ll.Member)
	if err != nil {
		return err
	}
	slack := stationSlack * length
	if !(ll.From < ll.To) || ll.From < -slack || ll.To > length+slack {
		return fmt.Errorf("member %s: stations %g to %g m do not lie on it in order; it is %g m long", m.ID, ll.From, ll.To, length)
	}
	q1, q2 := vec(ll.Q1), vec(ll.Q2)
	if !finite3(q1) || !finite3(q2) {
		return fmt.Errorf("member %s: the load is not a number", m.ID)
	}
	start := 0.0
	for _, e := range m.Elements {
		el := &els[e]
		if a, b := max(ll.From-start, 0), min(ll.To-start, el.L); b-a > slack {
			l.all = append(l.all, load{element: int32(e), caseNo: int32(c), a: a, b: b})
			ld := &l.all[len(l.all)-1]
			if q1 == q2 { // without the round-off of parts
				ld.q1 = el.lineToLocal(&q1, ll)
				ld.q2 = ld.q1
			} else {
				qa, qb := lineAt(ll, &q1, &q2, start+a), lineAt(ll, &q1, &q2, start+b)
				ld.q1, ld.q2 = el.lineToLocal(&qa, ll), el.lineToLocal(&qb, ll)
			}
		}
		start += el.L
	}
	return nil
}

// lineAt is the load per metre at station x of the member, q1 and q2 being those at its ends.
func lineAt(ll *solver.LineLoad, q1, q2 *[3]float64, x float64) (q [3]float64) {
	t := min(max((x-ll.From)/(ll.To-ll.From), 0), 1)
	for k := range q {
		q[k] = (1-t)*q1[k] + t*q2[k]
	}
	return q
}

// lineToLocal turns a load per metre to local axes and to true length. A projected load is spread on the length seen
// square to its own direction.
func (e *element) lineToLocal(q *[3]float64, ll *solver.LineLoad) [3]float64 {
	if ll.Axes == solver.LocalAxes {
		return *q
	}
	v := e.toLocal(*q)
	if ll.Projected {
		n := math.Sqrt(v[0]*v[0] + v[1]*v[1] + v[2]*v[2])
		if n > 0 {
			seen := math.Sqrt(v[1]*v[1]+v[2]*v[2]) / n
			for k := range v {
				v[k] *= seen
			}
		}
	}
	return v
}

// addPoint puts a point load on its element, in local axes.
func (l *loadSet) addPoint(s *solver.Structure, els []element, c int, pl *solver.PointLoad) error {
	e, a, err := placeOf(s, els, pl)
	if err != nil {
		return err
	}
	el := &els[e]
	f, mom, arm := vec(pl.F), vec(pl.M), vec(pl.Arm)
	if pl.Axes == solver.GlobalAxes {
		f, mom = el.toLocal(f), el.toLocal(mom)
	}
	mom[0] += arm[1]*f[2] - arm[2]*f[1]
	mom[1] += arm[2]*f[0] - arm[0]*f[2]
	mom[2] += arm[0]*f[1] - arm[1]*f[0]
	if el.bar && mom[0] != 0 {
		return fmt.Errorf("member %s: a torque cannot act on a bar, which has no torsional stiffness", s.Members[pl.Member].ID)
	}
	l.all = append(l.all, load{element: int32(e), caseNo: int32(c), point: true, a: a, b: a, q1: f, q2: mom})
	return nil
}

// placeOf is the one element that holds a point load's station, and where (m from its end i); a station on a boundary belongs
// to the element that begins there.
func placeOf(s *solver.Structure, els []element, pl *solver.PointLoad) (e int, a float64, err error) {
	m, length, err := loadedMember(s, els, pl.Member)
	if err != nil {
		return 0, 0, err
	}
	slack := stationSlack * length
	if !(pl.At >= -slack && pl.At <= length+slack) {
		return 0, 0, fmt.Errorf("member %s: station %g m does not lie on it; it is %g m long", m.ID, pl.At, length)
	}
	if !finite3(vec(pl.F)) || !finite3(vec(pl.M)) || !finite3(vec(pl.Arm)) {
		return 0, 0, fmt.Errorf("member %s: the load is not a number", m.ID)
	}
	start, k := 0.0, 0
	for k+1 < len(m.Elements) && pl.At >= start+els[m.Elements[k]].L-slack {
		start += els[m.Elements[k]].L
		k++
	}
	e = m.Elements[k]
	L := els[e].L
	a = min(max(pl.At-start, 0), L)
	switch {
	case a < slack:
		a = 0
	case L-a < slack:
		a = L
	}
	return e, a, nil
}

// loadedMember checks that a load names a member with elements, and returns its length as analysed.
func loadedMember(s *solver.Structure, els []element, m int) (*solver.Member, float64, error) {
	if m < 0 || m >= len(s.Members) {
		return nil, 0, fmt.Errorf("it names member %d of %d; give the index of a member", m, len(s.Members))
	}
	mem := &s.Members[m]
	if len(mem.Elements) == 0 {
		return nil, 0, fmt.Errorf("member %s has no elements to carry it", mem.ID)
	}
	length := 0.0
	for _, e := range mem.Elements {
		length += els[e].L
	}
	return mem, length, nil
}

func finite(v float64) bool { return v-v == 0 }

func finite3(v [3]float64) bool { return finite(v[0]) && finite(v[1]) && finite(v[2]) }
