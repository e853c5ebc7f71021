package frame

import (
	"math"

	"leanbay/solver"
)

// Bow is a station X (m) of a member, how far the member lies there from the straight line between its displaced ends, along its
// local y (Y, m), and by how much that may be wrong (Off, m).
type Bow struct{ X, Y, Off float64 }

// Bows appends to dst stations along member m of a second-order answer with the bow there, at a small part of a Diagram's
// cost: between two stations its curve lies within the Off of either of the straight line through them. It appends nothing where no
// bound is known, and panics like Diagram.
func (r *Result) Bows(m int, dst []Bow) []Bow {
	w := r.current()
	first, start := len(dst), 0.0
	for _, e := range w.m.members[m] {
		p, known := w.majorPlane(r, e)
		if !known || r.Slack[e] {
			return dst[:first]
		}
		dst = p.bows(start, dst)
		start += w.els[e].L
	}
	fromChord(dst[first:])
	return dst
}

// RoughBows is Bows at the ends of the member's elements alone, with wider bounds: those of bars bent all along by the greatest moment.
// They cost next to nothing where combinations were answered side by side.
func (r *Result) RoughBows(m int, dst []Bow) []Bow {
	w := r.current()
	x := r.RoughExtent(m)
	most := max(x.Mz[0], x.Mz[1])
	first, start := len(dst), 0.0
	for _, e := range w.m.members[m] {
		if !w.bends(r, e) || r.Slack[e] {
			return dst[:first]
		}
		el, t := &w.els[e], &w.m.elements[e]
		u := el.local(r.U[6*t.i:6*t.i+6], r.U[6*t.j:6*t.j+6])
		d, off := planeOf(&u, 0), most*el.L*el.L/(8*el.EI[0])
		dst = append(dst, Bow{start, d[0], off}, Bow{start + el.L, d[2], off})
		start += el.L
	}
	fromChord(dst[first:])
	return dst
}

// fromChord makes deflections along a member those from the straight line between its ends.
func fromChord(list []Bow) {
	if len(list) == 0 {
		return
	}
	last := list[len(list)-1]
	a := list[0].Y
	for i := range list {
		t := list[i].X / last.X
		list[i].Y -= (1-t)*a + t*last.Y
	}
}

// bends tells whether bounds of an element's bow about its major axis are known: it is stiff, without shear
// deformation, and its ends are at its nodes.
func (w *Workspace) bends(r *Result, e int) bool {
	el := &w.els[e]
	return r.Analysis.second() && !el.slender[0] && el.shear[0] == 0 && !el.plane[0].slides()
}

// Moments appends to dst stations along member m of a second-order answer with bounds of Mz there. It appends nothing where no
// bound is known, or where couples act, and panics like Diagram.
func (r *Result) Moments(m int, dst []solver.Moment) []solver.Moment {
	w := r.current()
	first, start := len(dst), 0.0
	for _, e := range w.m.members[m] {
		p, known := w.majorPlane(r, e)
		if !known {
			return dst[:first]
		}
		for i, x := range p.xs {
			if p.v[i].couple[0] != 0 {
				return dst[:first]
			}
			dst = append(dst, solver.Moment{X: start + x, Mz: p.m[i], Off: p.rest})
		}
		start += w.els[e].L
	}
	return dst
}

// majorPlane is an element's bending about its major axis in an answer: what stationMoments says of it. The lists are scratch.
type majorPlane struct {
	el    *element
	xs    []float64
	v     []statics
	m     []float64
	rest  float64
	start float64 // deflection of end i (m)
	chord float64
}

// majorPlane finds that of element e; false where no bound is known.
func (w *Workspace) majorPlane(r *Result, e int) (p majorPlane, known bool) {
	el, t, f := &w.els[e], &w.m.elements[e], &r.Ends[e]
	if w.loads.readyStatics(w.els); !w.bends(r, e) || w.loads.statics.rough[e] {
		return p, false
	}
	p.el = el
	p.xs, p.v = w.combineStatics(r, e)
	n, most := -f[0], 0.0
	for i := range p.v {
		a := n - p.v[i].force[0]
		most = max(most, math.Abs(a))
		if i+1 < len(p.v) {
			most = max(most, math.Abs(a-p.v[i+1].spread[0]+p.v[i].spread[0]))
		}
	}
	u := el.local(r.U[6*t.i:6*t.i+6], r.U[6*t.j:6*t.j+6])
	d, g := planeOf(&u, 0), planeOf(f, 0)
	p.start, p.chord = d[0], (d[2]-d[0])/el.L
	p.m, p.rest = w.stationMoments(el, 0, p.xs, p.v, &g, n, most, p.chord)
	return p, !math.IsInf(p.rest, 1)
}

// bows appends the stations of an element that begins at start, and half-way between them, with deflections from where the member
// was: its moments integrated twice.
func (p *majorPlane) bows(start float64, dst []Bow) []Bow {
	L, bend := p.el.L, 1/p.el.EI[0]
	off := p.rest * L * L * bend / 8
	first := len(dst)
	slope, defl, before := 0.0, 0.0, 0.0
	for i, x := range p.xs {
		if i > 0 {
			l := x - p.xs[i-1]
			a, b := (p.m[i-1]-p.v[i-1].couple[0])*bend, (p.m[i]-p.v[i-1].couple[0])*bend
			between := l * l / 32 * (max(math.Abs(a), math.Abs(b)) + p.rest*bend)
			dst[len(dst)-1].Off = max(dst[len(dst)-1].Off, off+between)
			mid := defl + l/2*slope + l*l*(5*a+b)/48
			defl += l*slope + l*l*(2*a+b)/6
			slope += l * (a + b) / 2
			dst = append(dst, Bow{start + p.xs[i-1] + l/2, mid, off + between})
			before = between
		}
		dst = append(dst, Bow{start + x, defl, off + before})
	}
	for i := first; i < len(dst); i++ {
		x := dst[i].X - start
		dst[i].Y += p.start + p.chord*x - defl*x/L
	}
	return dst
}

// slides tells whether an end of a plane moves off its node.
func (j *joint) slides() bool { return j.loose && !(math.IsInf(j.k[0], 1) && math.IsInf(j.k[2], 1)) }
