package frame

import "math"

// roughLoads notes what bounds of forces need to know of the loads of a group: per element and plane a bound of a simple beam's
// moments, and the sum of the loads' magnitudes.
func (w *Workspace) roughLoads() {
	s, p := &w.so.abreast, &w.loads.places
	s.rough = zeroed(s.rough, len(w.els)*roughRows)
	var sw [1]float64
	var q [3]row8
	for e := range w.els {
		L := w.els[e].L
		rough := s.rough[e*roughRows : (e+1)*roughRows]
		for _, k := range p.of(e) {
			a := p.list[k].a
			sw[0] = a * (L - a) / L
			roughLoad(sw[:], s.forces[3*k:3*k+3], rough)
		}
		if s.blunt[e] {
			continue
		}
		loads := w.loads.on(e)
		for i := range loads {
			ld := &loads[i]
			f := &s.f[ld.caseNo]
			if !s.weighs[ld.caseNo] {
				continue
			}
			h, c := ld.b-ld.a, (ld.a+ld.b)/2
			for plane := range 2 {
				for l := range lanes {
					q[1+plane][l] = f[l] * ld.q1[deflDOF[plane]] * h
				}
			}
			if sw[0] = c * (L - c) / L; h == L {
				sw[0] = L / 8
			}
			roughLoad(sw[:], q[:], rough)
		}
	}
}

// roughExtents bounds the forces of every member in the answers of a group.
func (w *Workspace) roughExtents() {
	s := &w.so.abreast
	w.roughLoads()
	for l := range s.count {
		if r := s.lane[l].r; r.Stable || s.lane[l].unproven {
			r.rough = zeroed(r.rough, len(w.m.members))
		}
	}
	for m, elements := range w.m.members {
		s.extent = [extentRows]row8{}
		known := true
		for _, e := range elements {
			known = known && !s.blunt[e]
			w.roughElement(e)
		}
		for l := range s.count {
			r := s.lane[l].r
			if !r.Stable && !s.lane[l].unproven {
				continue
			}
			if !known {
				r.rough[m] = unbounded
				continue
			}
			x := &s.extent
			const more = 1 + forceSlack
			r.rough[m] = Extent{x[0][l] * more, x[1][l] * more, x[2][l] * more, x[3][l] * more, x[4][l] * more,
				[2]float64{x[5][l], x[6][l]}, [2]float64{x[7][l], x[8][l]}}
			if x[roughReach][l] > longestReach {
				r.rough[m].My, r.rough[m].Mz = unbounded.My, unbounded.Mz
			}
		}
	}
}

func (w *Workspace) roughElement(e int) {
	s, t := &w.so.abreast, &w.m.elements[e]
	at, to := s.u[6*t.i:6*t.i+6], s.u[6*t.j:6*t.j+6]
	if w.els[e].arms {
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
	x.Tension, x.Compression = max(x.Tension, o.Tension), max(x.Compression, o.Compression)
	x.Vy, x.Vz, x.T = max(x.Vy, o.Vy), max(x.Vz, o.Vz), max(x.T, o.T)
	for i := range x.Mz {
		x.My[i], x.Mz[i] = max(x.My[i], o.My[i]), max(x.Mz[i], o.Mz[i])
	}
}
