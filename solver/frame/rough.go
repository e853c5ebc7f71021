package frame

import (
	"math"
	"slices"
	"unsafe"
)

// roughLoads notes what bounds of forces need to know of the loads of a group: per element and plane a bound of a simple beam's
// moments, and the sum of the loads' magnitudes.
func (w *Workspace) roughLoads() {
	s, p := &w.so.abreast, &w.loads.places
	s.rough = zeroed(s.rough, len(w.els)*roughRows)
	for e := range w.els {
		rough := s.rough[e*roughRows : (e+1)*roughRows]
		for _, k := range p.of(e) {
			roughLoad(s.high[k:k+1], s.forces[3*k:3*k+3], rough)
		}
		if s.blunt[e] {
			continue
		}
		for i := w.loads.first[e]; i < w.loads.first[e+1]; i++ {
			if c := w.loads.sorted[i].caseNo; s.weighs[c] {
				roughLine(s.lines[roughNumbers*i:roughNumbers*(i+1)], s.f[c:], rough)
			}
		}
	}
}

// roughExtents bounds the forces of every member in the answers of a group.
func (w *Workspace) roughExtents() {
	s := &w.so.abreast
	w.roughLoads()
	s.extents = sized(s.extents, roughReach*len(w.m.members))
	for m, elements := range w.m.members {
		s.extent = [extentRows]row8{}
		for _, e := range elements {
			w.roughElement(e)
		}
		roughEnd(s.extent[:], s.extents[roughReach*m:])
	}
	var lists [lanes][]float64
	s.spare = sized(s.spare, len(s.extents))
	for l := range lanes {
		lists[l] = s.spare
		if r := s.lane[l].r; l < s.count && (r.Stable || s.lane[l].unproven) {
			r.rough = sized(r.rough, len(w.m.members))
			lists[l] = unsafe.Slice(&r.rough[0].Tension, len(s.extents)) // an Extent is its numbers in a row
		}
	}
	spreadRows(&lists, s.extents, 1)
	for m, elements := range w.m.members {
		if !slices.ContainsFunc(elements, func(e int) bool { return s.blunt[e] }) {
			continue
		}
		for l := range s.count {
			if r := s.lane[l].r; len(r.rough) > 0 {
				r.rough[m] = unbounded
			}
		}
	}
}

func (w *Workspace) roughElement(e int) {
	s, t := &w.so.abreast, &w.m.elements[e]
	at, to := s.u[6*t.i:6*t.i+6], s.u[6*t.j:6*t.j+6]
	if s.arms[e] {
		armsIn(s.sa[8*e:8*e+8], at, to, s.armed[:])
		at, to = s.armed[:6], s.armed[6:]
	}
	roughExtent(s.sr[e*roughNumber:(e+1)*roughNumber], at, to, s.sums[e*sumRows:(e+1)*sumRows], s.rough[e*roughRows:(e+1)*roughRows],
		s.ends[12*e:12*e+12], s.extent[:])
}

// RoughExtent is a wider bound than Extent, which costs nothing where combinations were answered side by side; elsewhere it is
// Extent. It panics like Diagram.
func (r *Result) RoughExtent(m int) Extent {
	r.current()
	if len(r.rough) == 0 || math.IsInf(r.rough[m].Tension, 1) {
		return r.Extent(m)
	}
	return r.rough[m]
}

// WidestExtents bounds the forces of members in all of some answers: what their RoughExtents cover together. They are put into dst's
// storage, in the order of the list.
func WidestExtents(answers []Result, members []int, dst []Extent) []Extent {
	dst = zeroed(dst, len(members))
	for i := range answers { // an answer's bounds lie together
		r := &answers[i]
		r.current()
		for n, m := range members {
			if len(r.rough) == 0 || math.IsInf(r.rough[m].Tension, 1) {
				e := r.Extent(m)
				dst[n].widen(&e)
			} else {
				dst[n].widen(&r.rough[m])
			}
		}
	}
	return dst
}

// widen makes x cover o too.
func (x *Extent) widen(o *Extent) {
	raise(&x.Tension, o.Tension)
	raise(&x.Compression, o.Compression)
	raise(&x.Vy, o.Vy)
	raise(&x.Vz, o.Vz)
	raise(&x.T, o.T)
	for i := range x.Mz {
		raise(&x.My[i], o.My[i])
		raise(&x.Mz[i], o.Mz[i])
	}
}

// raise makes x at least v, and no number once v is none. Where most answers lie below what has been met, a branch is quicker than max.
func raise(x *float64, v float64) {
	if !(v <= *x) {
		*x = max(*x, v)
	}
}
