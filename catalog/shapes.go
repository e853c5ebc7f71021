package catalog

import "math"

// outline returns the section's outline (anticlockwise, a hole clockwise) with the lower left corner of its bounding box
// at the origin. Channels have the web at the left, angles their corner at the lower left, zeds the wide flange at the
// bottom pointing right and the narrow flange at the top pointing left.
func (d Dims) outline(f Family) []edge {
	switch f {
	case RHS, SHS:
		return append(box(d.B, d.D, 0, d.Ro), reverse(box(d.B, d.D, d.T, d.Ri))...)
	case CHS:
		return append(box(d.D, d.D, 0, d.D/2), reverse(box(d.D, d.D, d.T, d.D/2-d.T))...)
	case Rod:
		return box(d.D, d.D, 0, d.D/2)
	case UB:
		l, r := (d.B-d.Tw)/2, (d.B+d.Tw)/2
		lo, hi := d.Tf, d.D-d.Tf
		return rounded(true,
			corner{0, 0, 0}, corner{d.B, 0, 0}, corner{d.B, lo, 0}, corner{r, lo, d.R1}, corner{r, hi, d.R1}, corner{d.B, hi, 0},
			corner{d.B, d.D, 0}, corner{0, d.D, 0}, corner{0, hi, 0}, corner{l, hi, d.R1}, corner{l, lo, d.R1}, corner{0, lo, 0})
	case PFC:
		lo, hi := d.Tf, d.D-d.Tf
		return rounded(true,
			corner{0, 0, 0}, corner{d.B, 0, 0}, corner{d.B, lo, 0}, corner{d.Tw, lo, d.R1}, corner{d.Tw, hi, d.R1}, corner{d.B, hi, 0},
			corner{d.B, d.D, 0}, corner{0, d.D, 0})
	case EA:
		toe := d.toe()
		return rounded(true,
			corner{0, 0, 0}, corner{d.D, 0, 0}, corner{d.D, d.T, toe}, corner{d.T, d.T, d.R1}, corner{d.T, d.D, toe}, corner{0, d.D, 0})
	case C:
		return d.lippedC()
	case Z:
		return d.lippedZ()
	}
	return nil
}

// toe is the radius at an angle's toe: no more than the thickness, where the nominal radius exceeds it.
func (d Dims) toe() float64 { return min(d.R2, d.T) }

// box is the rectangle w by h drawn in by inset, its corners of radius r.
func box(w, h, inset, r float64) []edge {
	x, y := w-inset, h-inset
	return rounded(true, corner{inset, inset, r}, corner{x, inset, r}, corner{x, y, r}, corner{inset, y, r})
}

// reverse runs the edges the other way round, as a hole.
func reverse(es []edge) []edge {
	out := make([]edge, len(es))
	for i, e := range es {
		e.a, e.b = e.b, e.a
		e.t0, e.t1 = e.t1, e.t0
		out[len(es)-1-i] = e
	}
	return out
}

func (d Dims) lippedC() []edge {
	ro, ri, t := d.Ro, d.Ri, d.T
	return rounded(true,
		corner{0, 0, ro}, corner{d.B, 0, ro}, corner{d.B, d.L, 0}, corner{d.B - t, d.L, 0}, corner{d.B - t, t, ri}, corner{t, t, ri},
		corner{t, d.D - t, ri}, corner{d.B - t, d.D - t, ri}, corner{d.B - t, d.D - d.L, 0}, corner{d.B, d.D - d.L, 0},
		corner{d.B, d.D, ro}, corner{0, d.D, ro})
}

func (d Dims) lippedZ() []edge {
	ro, ri, t := d.Ro, d.Ri, d.T
	w := d.F - t // left face of the web
	right := w + d.B
	return rounded(true,
		corner{w, 0, ro}, corner{right, 0, ro}, corner{right, d.L, 0}, corner{right - t, d.L, 0}, corner{right - t, t, ri}, corner{w + t, t, ri},
		corner{w + t, d.D, ro}, corner{0, d.D, ro}, corner{0, d.D - d.L, 0}, corner{t, d.D - d.L, 0}, corner{t, d.D - t, ri}, corner{w, d.D - t, ri})
}

// midline returns the walls of an open section's mid-line in the axes of outline, or of the right half of a hollow
// section, cut where symmetry leaves no shear flow under a force along y. A solid bar has none.
func (d Dims) midline(f Family) []wall {
	t := d.T
	switch f {
	case RHS, SHS:
		return d.halfBox(d.B, d.D, (d.Ro+d.Ri)/2)
	case CHS:
		return d.halfBox(d.D, d.D, (d.D-t)/2)
	case UB:
		return d.beamWalls()
	case PFC:
		x, lo, hi := d.Tw/2, d.Tf/2, d.D-d.Tf/2
		ws := chain(d.Tf, rounded(false, corner{d.B, lo, 0}, corner{x, lo, 0}, corner{x, hi, 0}, corner{d.B, hi, 0}))
		ws[1].t = d.Tw
		return ws
	case EA:
		return chain(t, rounded(false, corner{d.D, t / 2, 0}, corner{t / 2, t / 2, 0}, corner{t / 2, d.D, 0}))
	case C:
		lo, hi, l, r, m := t/2, d.D-t/2, t/2, d.B-t/2, d.Ri+t/2
		return chain(t, rounded(false,
			corner{r, d.L, 0}, corner{r, lo, m}, corner{l, lo, m}, corner{l, hi, m}, corner{r, hi, m}, corner{r, d.D - d.L, 0}))
	case Z:
		lo, hi, w, m := t/2, d.D-t/2, d.F-t/2, d.Ri+t/2
		right := d.F - t + d.B - t/2
		return chain(t, rounded(false,
			corner{right, d.L, 0}, corner{right, lo, m}, corner{w, lo, m}, corner{w, hi, m}, corner{t / 2, hi, m}, corner{t / 2, d.D - d.L, 0}))
	}
	return nil
}

// halfBox is the right half of a closed mid-line of a w by h box, from the middle of the bottom to that of the top.
func (d Dims) halfBox(w, h, r float64) []wall {
	lo, hi, right := d.T/2, h-d.T/2, w-d.T/2
	return chain(d.T, rounded(false, corner{w / 2, lo, 0}, corner{right, lo, r}, corner{right, hi, r}, corner{w / 2, hi, 0}))
}

// beamWalls are the four half flanges, running in, and the web, running up, of an I-section.
func (d Dims) beamWalls() []wall {
	m, lo, hi := d.B/2, d.Tf/2, d.D-d.Tf/2
	flange := func(x, y float64, to int) wall {
		return wall{edge: edge{a: point{x, y}, b: point{m, y}}, t: d.Tf, from: -1, to: to}
	}
	half := []wall{flange(0, lo, 1), flange(d.B, lo, 1), flange(0, hi, 2), flange(d.B, hi, 2)}
	return append(half, wall{edge: edge{a: point{m, lo}, b: point{m, hi}}, t: d.Tw, from: 1, to: 2})
}

// boxMid returns the mid-line length and the area it encloses of a hollow section (m, m2).
func (d Dims) boxMid() (h, area float64) {
	r := (d.Ro + d.Ri) / 2
	w, v := d.B-d.T, d.D-d.T
	return 2*(w+v) - (8-2*math.Pi)*r, w*v - (4-math.Pi)*r*r
}
