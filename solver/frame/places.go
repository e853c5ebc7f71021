package frame

import (
	"fmt"
	"math"
	"slices"
	"unsafe"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/solver"
)

// placeSet holds plain forces on elements by place instead of by load: purlins, girts and joists bring the forces of all cases
// to the same few places of a member, so that what depends on the place is found once. It serves quick answers of structures
// that lanes know; loads along a stretch, moments and forces on arms stay in loadSet.
type placeSet struct {
	on     bool
	nc     int
	list   []place
	head   []int32   // per member: its first place in order of appearance, -1
	cursor []int32   // per member: the place that was asked for last
	force  []float64 // N in the element's axes: row 3·place + axis, by case
	first  []int32   // CSR over order by element
	order  []int32   // places by element, along it
	basis  []float64 // per place, see basis
	points []pointForce
	runs   []tableRun
	copies []tableRun // see part
	placed []int32    // by place of the structure's table: the place here, or -1

	seatings seatings
	seated   *seating // which the places began with; nil for none
	tabled   int      // how many places the table came to
}

// tableRun is cases, one after the other, whose columns of the structure's table are so too.
type tableRun struct{ first, column, n int }

// place is a station of a member that takes forces.
type place struct {
	at      float64 // as given, from the member's start (m)
	element int32
	next    int32   // of the member, -1
	a       float64 // from the element's end i (m)
}

// pointForce is the force of a combination at a place of an element (m, N in its axes).
type pointForce struct {
	a float64
	f [3]float64
}

// Numbers of a unit force at a place: what it puts into the rows of an element's sums. Both planes have the same.
const (
	basisEnds    = 0 // N at both ends, joints condensed
	basisAxial   = 2
	basisDrop    = 8
	basisFixed   = 9  // V·L and M at both ends
	basisInner   = 13 // work on the inner polynomials
	basisNumbers = 17
)

// begin empties the set for a structure; on tells whether it is to be used.
func (p *placeSet) begin(s *solver.Structure, els []element, quick bool) {
	p.on = quick
	for e := 0; p.on && e < len(els); e++ {
		p.on = els[e].fitsLanes()
	}
	p.nc, p.list, p.force = len(s.Cases), p.list[:0], p.force[:0]
	p.head, p.cursor = zeroed(p.head, len(s.Members)), zeroed(p.cursor, len(s.Members))
	for m := range p.head {
		p.head[m], p.cursor[m] = -1, -1
	}
}

// tabulate adds the forces of the structure's table, for structures of topology m.
func (p *placeSet) tabulate(m *Model, s *solver.Structure, els []element) error {
	p.runs, p.seated, p.tabled = p.runs[:0], nil, 0
	if !p.on || s.Table == nil {
		return nil
	}
	p.findRuns(s)
	if p.seated = p.seatings.of(m, s, els, p.runs); p.seated != nil {
		p.seated.take(p)
		clear(p.force)
	} else if err := p.seat(s, els); err != nil {
		return err
	}
	p.tabled = len(p.list)
	for k, j := range p.placed {
		if j >= 0 {
			p.addRows(s.Table, k, j, &els[p.list[j].element].R)
		}
	}
	return nil
}

// findRuns lists the cases that have columns of the structure's table.
func (p *placeSet) findRuns(s *solver.Structure) {
	p.runs = p.runs[:0]
	for c := range s.Cases {
		column := s.Cases[c].Column - 1
		if column < 0 {
			continue
		}
		if n := len(p.runs) - 1; n >= 0 && p.runs[n].first+p.runs[n].n == c && p.runs[n].column+p.runs[n].n == column {
			p.runs[n].n++
		} else {
			p.runs = append(p.runs, tableRun{c, column, 1})
		}
	}
}

// seat finds the places of the structure's table at which a case in hand has a force.
func (p *placeSet) seat(s *solver.Structure, els []element) error {
	p.placed = p.placed[:0]
	for k := range s.Table.Places() {
		p.placed = append(p.placed, -1)
		if p.loads(s.Table, k) {
			if _, err := p.place(s, els, k); err != nil {
				return err
			}
		}
	}
	return nil
}

// place finds or adds place k of the structure's table; -1 if the structure does not have its member.
func (p *placeSet) place(s *solver.Structure, els []element, k int) (int32, error) {
	if p.placed[k] >= 0 {
		return p.placed[k], nil
	}
	at := &s.Table.Places()[k]
	pl := solver.PointLoad{Member: s.Tabled(at.Member), At: at.At}
	if pl.Member < 0 {
		return -1, nil
	}
	j := int32(-1)
	if pl.Member < len(p.head) {
		j = p.find(pl.Member, pl.At)
	}
	if j < 0 {
		e, a, err := placeOf(s, els, &pl)
		if err != nil {
			return -1, fmt.Errorf("table of point loads, place %d: %w", k+1, err)
		}
		j = p.add(&pl, e, a)
	}
	p.placed[k] = j
	return j, nil
}

// push adds the pushes of case c.
func (p *placeSet) push(s *solver.Structure, els []element, c int) error {
	along := vec(s.Cases[c].Along)
	axis := onlyAxis(&along)
	for _, q := range s.Cases[c].Pushes {
		k := p.placed[q.Place]
		if k < 0 {
			var err error
			if k, err = p.place(s, els, q.Place); err != nil {
				return err
			}
			if k < 0 {
				continue
			}
		}
		R, at := &els[p.list[k].element].R, 3*int(k)*p.nc+c
		if axis >= 0 {
			f := q.Force * along[axis]
			for i := range R {
				if r := R[i][axis]; r != 0 {
					p.force[at+i*p.nc] += r * f
				}
			}
			continue
		}
		f := [3]float64{q.Force * along[0], q.Force * along[1], q.Force * along[2]}
		for i := range R {
			r := &R[i]
			p.force[at+i*p.nc] += r[0]*f[0] + r[1]*f[1] + r[2]*f[2]
		}
	}
	return nil
}

// onlyAxis is the axis that a direction has a part along; -1 if it has none, or parts along several.
func onlyAxis(v *[3]float64) int {
	only := -1
	for axis, x := range v {
		if x != 0 {
			if only >= 0 {
				return -1
			}
			only = axis
		}
	}
	return only
}

// loads tells whether a case in hand has a force at place k of the table.
func (p *placeSet) loads(t *solver.PointTable, k int) bool {
	for axis := range 3 {
		row := t.Row(k, axis)
		for _, r := range p.runs {
			for _, f := range row[r.column : r.column+r.n] {
				if f != 0 {
					return true
				}
			}
		}
	}
	return false
}

// addRows adds the forces at place k of the table to place j, whose element has the axes R.
func (p *placeSet) addRows(t *solver.PointTable, k int, j int32, R *[3][3]float64) {
	for i := range R {
		var along [3]float64 // the axis without what is zero, as most of frames' are in part: that adds nothing, not even to a sign
		var of [3][]float64
		n, low, high := 0, t.Columns(), 0 // of columns that have any force, which most rows of frames have few of
		for axis, r := range R[i] {
			if from, to := t.Span(k, axis); r != 0 && from < to {
				along[n], of[n] = r, t.Row(k, axis)
				n, low, high = n+1, min(low, from), max(high, to)
			}
		}
		for _, run := range p.runs {
			from, end := max(run.column, low), min(run.column+run.n, high)
			if from >= end {
				continue
			}
			at := (3*int(j)+i)*p.nc + run.first + from - run.column
			to := p.force[at : at+end-from]
			x := of[0][from:][:len(to)]
			switch n {
			case 1:
				for c := range to {
					to[c] += along[0] * x[c]
				}
			case 2:
				y := of[1][from:][:len(to)]
				for c := range to {
					to[c] += along[0]*x[c] + along[1]*y[c]
				}
			default:
				y, z := of[1][from:][:len(to)], of[2][from:][:len(to)]
				for c := range to {
					to[c] += along[0]*x[c] + along[1]*y[c] + along[2]*z[c]
				}
			}
		}
	}
}

// take adds a load of case c if it is a plain force; false if it is not.
func (p *placeSet) take(s *solver.Structure, els []element, c int, pl *solver.PointLoad) (bool, error) {
	if !p.on || pl.Axes != solver.GlobalAxes || pl.M != (r3.Vec{}) || pl.Arm != (r3.Vec{}) {
		return false, nil
	}
	k := int32(-1)
	if pl.Member >= 0 && pl.Member < len(p.head) {
		k = p.find(pl.Member, pl.At)
	}
	f := vec(pl.F)
	if k < 0 || !finite3(f) {
		e, a, err := placeOf(s, els, pl)
		if err != nil {
			return false, err
		}
		k = p.add(pl, e, a)
	}
	el := &els[p.list[k].element]
	at := 3*int(k)*p.nc + c
	for i := range 3 {
		r := &el.R[i]
		p.force[at+i*p.nc] += r[0]*f[0] + r[1]*f[1] + r[2]*f[2]
	}
	return true, nil
}

// find returns the place of member m at station at, or -1. Cases tend to name places in one order.
func (p *placeSet) find(m int, at float64) int32 {
	start := p.cursor[m]
	if start < 0 {
		return -1
	}
	k := start
	for {
		if p.list[k].at == at {
			p.cursor[m] = k
			return k
		}
		if k = p.list[k].next; k < 0 {
			k = p.head[m]
		}
		if k == start {
			return -1
		}
	}
}

// add appends a place to its member's, behind the one asked for last.
func (p *placeSet) add(pl *solver.PointLoad, e int, a float64) int32 {
	k := int32(len(p.list))
	o := place{at: pl.At, element: int32(e), next: -1, a: a}
	if c := p.cursor[pl.Member]; c >= 0 {
		o.next = p.list[c].next
		p.list[c].next = k
	} else {
		p.head[pl.Member] = k
	}
	p.list = append(p.list, o)
	p.cursor[pl.Member] = k
	n := len(p.force)
	p.force = slices.Grow(p.force, 3*p.nc)[:n+3*p.nc]
	clear(p.force[n:])
	return k
}

// settle sorts the places by element and along it, and finds what a unit force there does; where all are those of the structure's
// table, once for structures that follow.
func (p *placeSet) settle(m *Model, s *solver.Structure, els []element) {
	all := p.tabled > 0 && p.tabled == len(p.list)
	if all && p.seated != nil {
		p.seated.settle(p)
		return
	}
	p.sort(els)
	if all {
		p.seatings.keep(m, s, els, p)
	}
}

func (p *placeSet) sort(els []element) {
	n := len(els)
	p.first = zeroed(p.first, n+2)
	for i := range p.list {
		p.first[p.list[i].element+2]++
	}
	for e := range n {
		p.first[e+2] += p.first[e+1]
	}
	p.order = zeroed(p.order, len(p.list))
	for i := range p.list {
		at := &p.first[p.list[i].element+1]
		p.order[*at] = int32(i)
		*at++
	}
	for e := range n {
		slices.SortStableFunc(p.of(e), func(i, j int32) int {
			switch a, b := p.list[i].a, p.list[j].a; {
			case a < b:
				return -1
			case a > b:
				return 1
			}
			return 0
		})
	}
	p.basis = zeroed(p.basis, basisNumbers*len(p.list))
	for i := range p.list {
		els[p.list[i].element].placeBasis(p.list[i].a, p.basis[i*basisNumbers:(i+1)*basisNumbers])
	}
}

// of lists the places of element e.
func (p *placeSet) of(e int) []int32 {
	if !p.on {
		return nil
	}
	return p.order[p.first[e]:p.first[e+1]]
}

// placeBasis fills the numbers of a unit force at station a.
func (e *element) placeBasis(a float64, b []float64) {
	t := a / e.L
	ends := [4]float64{t - 1, -t}
	e.linear.axialC.loads(&ends, math.Inf(1))
	b[basisEnds], b[basisEnds+1] = ends[0], ends[1]
	p := legendre(t)
	b[basisAxial] = rise(&p, 0) - 1
	for j := 1; j < axials; j++ {
		b[basisAxial+j] = float64(2*j+1) * rise(&p, j)
	}
	b[basisDrop] = -1
	if e.bar {
		b[basisFixed], b[basisFixed+2] = -(1-t)*e.L, -t*e.L
		return
	}
	n, _ := shape(a, e.L, 0)
	b[basisFixed], b[basisFixed+1], b[basisFixed+2], b[basisFixed+3] = -n[0]*e.L, -n[1], -n[2]*e.L, -n[3]
	v, _ := innerAt(&p)
	for i := range v {
		b[basisInner+i] = v[i] * e.L
	}
}

// under lists the forces of a combination on element e. The list is good until the next call.
func (p *placeSet) under(e int, factors []float64) []pointForce {
	p.points = p.points[:0]
	list := p.of(e)
	if len(list) == 0 {
		return nil
	}
	for _, k := range list {
		p.points = append(p.points, pointForce{a: p.list[k].a})
	}
	for c, f := range factors {
		if f == 0 {
			continue
		}
		for i, k := range list {
			at := 3*int(k)*p.nc + c
			q := &p.points[i].f
			q[0] += f * p.force[at]
			q[1] += f * p.force[at+p.nc]
			q[2] += f * p.force[at+2*p.nc]
		}
	}
	return p.points
}

// eightOf copies the forces of the last cases, from one on, to rows of eight numbers.
func (p *placeSet) eightOf(from int, rows *[]row8) []float64 {
	*rows = zeroed(*rows, 3*len(p.list))
	if len(p.list) == 0 {
		return nil
	}
	for i := range *rows {
		copy((*rows)[i][:], p.force[i*p.nc+from:(i+1)*p.nc])
	}
	return unsafe.Slice(&(*rows)[0][0], lanes*len(*rows))
}
