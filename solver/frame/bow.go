package frame

import "math"

// Bow is a station X (m) of a member, how far the member lies there from the straight line between its displaced ends, along its
// local y (Y, m), and by how much that may be wrong (Off, m).
type Bow struct{ X, Y, Off float64 }

// Bows appends to dst stations along member m of a quick second-order answer with the bow there, at a small part of a Diagram's
// cost: between two stations its curve lies within the Off of either of the straight line through them. It appends nothing where no
// bound is known, and panics like Diagram.
func (r *Result) Bows(m int, dst []Bow) []Bow {
	w := r.current()
	if !w.Quick || !r.Analysis.second() {
		return dst
	}
	first, start := len(dst), 0.0
	for _, e := range w.m.members[m] {
		el := &w.els[e]
		if w.loads.statics.rough[e] || el.slender[0] || el.shear[0] != 0 || r.Slack[e] || el.plane[0].slides() {
			return dst[:first]
		}
		var known bool
		if dst, known = w.bowElement(r, e, start, dst); !known {
			return dst[:first]
		}
		start += el.L
	}
	own := dst[first:]
	if len(own) == 0 {
		return dst
	}
	a, z := own[0].Y, own[len(own)-1].Y
	for i := range own {
		t := own[i].X / start
		own[i].Y -= (1-t)*a + t*z
	}
	return dst
}

// bowElement appends the stations of element e, which begins at start, and half-way between them, with deflections from where the
// member was.
func (w *Workspace) bowElement(r *Result, e int, start float64, dst []Bow) (out []Bow, known bool) {
	el, t, f := &w.els[e], &w.m.elements[e], &r.Ends[e]
	xs, v := w.combineStatics(r, e)
	n, most := -f[0], 0.0
	for i := range v {
		a := n - v[i].force[0]
		most = max(most, math.Abs(a))
		if i+1 < len(v) {
			most = max(most, math.Abs(a-v[i+1].spread[0]+v[i].spread[0]))
		}
	}
	u := el.local(r.U[6*t.i:6*t.i+6], r.U[6*t.j:6*t.j+6])
	d, g := planeOf(&u, 0), planeOf(f, 0)
	chord := (d[2] - d[0]) / el.L
	m, rest := w.stationMoments(el, 0, xs, v, &g, n, most, chord)
	if math.IsInf(rest, 1) {
		return dst, false
	}
	bend := 1 / el.EI[0]
	off := rest * el.L * el.L * bend / 8
	first := len(dst)
	slope, defl, before := 0.0, 0.0, 0.0
	for i, x := range xs {
		if i > 0 {
			l := x - xs[i-1]
			a, b := (m[i-1]-v[i-1].couple[0])*bend, (m[i]-v[i-1].couple[0])*bend
			between := l * l / 32 * (max(math.Abs(a), math.Abs(b)) + rest*bend)
			dst[len(dst)-1].Off = max(dst[len(dst)-1].Off, off+between)
			mid := defl + l/2*slope + l*l/4*(5*a+b)/12
			defl += l*slope + l*l*(2*a+b)/6
			slope += l * (a + b) / 2
			dst = append(dst, Bow{start + xs[i-1] + l/2, mid, off + between})
			before = between
		}
		dst = append(dst, Bow{start + x, defl, off + before})
	}
	for i := first; i < len(dst); i++ {
		x := dst[i].X - start
		dst[i].Y += d[0] + chord*x - defl*x/el.L
	}
	return dst, true
}

// slides tells whether an end of a plane moves off its node.
func (j *joint) slides() bool { return j.loose && !(math.IsInf(j.k[0], 1) && math.IsInf(j.k[2], 1)) }
