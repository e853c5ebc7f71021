package frame

import (
	"slices"

	"leanbay/solver"
)

// seating keeps where the places of a structure's table come to lie on the elements of a topology, and what a unit force there does:
// with the same table and cases, and members cut alike, the next structure of the topology has the same. Purlins and girts sit on
// members whose length no section changes, so that most do.
type seating struct {
	m     *Model
	used  int
	table *solver.PointTable
	index []int // Structure.TableIndex
	runs  []tableRun
	under []seat // elements of members with places

	list         []place
	head, cursor []int32
	placed       []int32
	first, order []int32
	basis        []float64
}

// seat is what places on an element and the numbers of a unit force there depend on.
type seat struct {
	element int32
	bar     bool
	L       float64
	axial   condensation
}

func seatOf(els []element, e int) seat {
	return seat{int32(e), els[e].bar, els[e].L, els[e].linear.axialC}
}

// keptSeatings bounds how many a workspace keeps: as many as a search keeps topologies.
const keptSeatings = 12

// seatings are those of a workspace.
type seatings struct {
	kept []*seating
	now  int
}

// of finds the seating of a topology with the places of s; nil if none fits.
func (t *seatings) of(m *Model, s *solver.Structure, els []element, runs []tableRun) *seating {
	t.now++
	for _, k := range t.kept {
		if k.m == m && k.table == s.Table && slices.Equal(k.index, s.TableIndex) && slices.Equal(k.runs, runs) && k.fits(els) {
			k.used = t.now
			return k
		}
	}
	return nil
}

func (k *seating) fits(els []element) bool {
	for i := range k.under {
		if u := &k.under[i]; seatOf(els, int(u.element)) != *u {
			return false
		}
	}
	return true
}

// keep remembers the places of p, all of the structure's table, in the room of the seating that was not used longest.
func (t *seatings) keep(m *Model, s *solver.Structure, els []element, p *placeSet) {
	var k *seating
	if len(t.kept) < keptSeatings {
		k = &seating{}
		t.kept = append(t.kept, k)
	} else {
		k = slices.MinFunc(t.kept, func(a, b *seating) int { return a.used - b.used })
	}
	k.m, k.used, k.table = m, t.now, s.Table
	k.index, k.runs, k.under = append(k.index[:0], s.TableIndex...), append(k.runs[:0], p.runs...), k.under[:0]
	for i := range p.head {
		if p.head[i] < 0 {
			continue
		}
		for _, e := range s.Members[i].Elements {
			k.under = append(k.under, seatOf(els, e))
		}
	}
	k.list, k.head, k.cursor = append(k.list[:0], p.list...), append(k.head[:0], p.head...), append(k.cursor[:0], p.cursor...)
	k.placed = append(k.placed[:0], p.placed...)
	k.first, k.order, k.basis = append(k.first[:0], p.first...), append(k.order[:0], p.order...), append(k.basis[:0], p.basis...)
}

// take gives p the places of the seating, with room for their forces.
func (k *seating) take(p *placeSet) {
	p.list, p.head, p.cursor = append(p.list[:0], k.list...), append(p.head[:0], k.head...), append(p.cursor[:0], k.cursor...)
	p.placed = append(p.placed[:0], k.placed...)
	p.force = sized(p.force, 3*p.nc*len(k.list))
}

// settle is placeSet.settle for a set whose places are those of the seating.
func (k *seating) settle(p *placeSet) {
	p.first, p.order, p.basis = append(p.first[:0], k.first...), append(p.order[:0], k.order...), append(p.basis[:0], k.basis...)
}
