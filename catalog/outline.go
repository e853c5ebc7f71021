package catalog

import "math"

// point is a place in the plane of the section, in m.
type point struct{ x, y float64 }

// edge is a straight piece or, with r > 0, a circular arc of an outline or a mid-line, run from its start to its end.
type edge struct {
	a, b   point   // straight: start and end
	c      point   // arc: centre
	r      float64 // arc: radius (m); 0 for a straight piece
	t0, t1 float64 // arc: angle at the start and the end (rad); t1 > t0 turns anticlockwise
}

// at returns the place at fraction u of the edge, and its derivative with respect to u.
func (e edge) at(u float64) (p, d point) {
	if e.r == 0 {
		d = point{e.b.x - e.a.x, e.b.y - e.a.y}
		return point{e.a.x + u*d.x, e.a.y + u*d.y}, d
	}
	s, c := math.Sincos(e.t0 + u*(e.t1-e.t0))
	w := e.r * (e.t1 - e.t0)
	return point{e.c.x + e.r*c, e.c.y + e.r*s}, point{-w * s, w * c}
}

// length returns the edge's length in m.
func (e edge) length() float64 {
	if e.r == 0 {
		return math.Hypot(e.b.x-e.a.x, e.b.y-e.a.y)
	}
	return e.r * math.Abs(e.t1-e.t0)
}

// move returns the edge shifted by (dx, dy).
func (e edge) move(dx, dy float64) edge {
	e.a.x, e.a.y = e.a.x+dx, e.a.y+dy
	e.b.x, e.b.y = e.b.x+dx, e.b.y+dy
	e.c.x, e.c.y = e.c.x+dx, e.c.y+dy
	return e
}

// turn returns the edge in axes turned anticlockwise by alpha (rad).
func (e edge) turn(alpha float64) edge {
	s, c := math.Sincos(alpha)
	rot := func(p point) point { return point{c*p.x + s*p.y, c*p.y - s*p.x} }
	e.a, e.b, e.c = rot(e.a), rot(e.b), rot(e.c)
	e.t0, e.t1 = e.t0-alpha, e.t1-alpha
	return e
}

// swap returns the edge mirrored about the line x = y, so that what is done along y can be done along x. Mirroring
// turns the sense of a closed outline round; callers take magnitudes.
func (e edge) swap() edge {
	m := func(p point) point { return point{p.y, p.x} }
	e.a, e.b, e.c = m(e.a), m(e.b), m(e.c)
	e.t0, e.t1 = math.Pi/2-e.t0, math.Pi/2-e.t1
	return e
}

// corner is a vertex of a polygon whose corner is rounded with radius r (m).
type corner struct{ x, y, r float64 }

// rounded joins the corners by straight pieces and tangent arcs. A closed outline returns to its first corner; an open
// path starts and ends sharp. Pieces of no length are left out.
func rounded(closed bool, cs ...corner) []edge {
	n := len(cs)
	in, out := make([]point, n), make([]point, n)
	arcs := make([]*edge, n)
	for i, k := range cs {
		in[i], out[i] = point{k.x, k.y}, point{k.x, k.y}
		if k.r > 0 && (closed || (i > 0 && i < n-1)) {
			arcs[i] = fillet(cs[(i+n-1)%n], k, cs[(i+1)%n], &in[i], &out[i])
		}
	}
	var es []edge
	for i := range cs {
		if arcs[i] != nil {
			es = append(es, *arcs[i])
		}
		j := (i + 1) % n
		if j == 0 && !closed {
			break
		}
		// 1e-12 m: what is left of a side after two arcs that meet is rounding, not steel
		if e := (edge{a: out[i], b: in[j]}); e.length() > 1e-12 {
			es = append(es, e)
		}
	}
	return es
}

// fillet returns the arc that rounds corner k between its neighbours and sets the points where it starts and ends.
func fillet(before, k, after corner, in, out *point) *edge {
	unit := func(to corner) point {
		l := math.Hypot(to.x-k.x, to.y-k.y)
		return point{(to.x - k.x) / l, (to.y - k.y) / l}
	}
	u, v := unit(before), unit(after)
	half := math.Acos(max(-1, min(1, u.x*v.x+u.y*v.y))) / 2
	back := k.r / math.Tan(half)
	*in = point{k.x + back*u.x, k.y + back*u.y}
	*out = point{k.x + back*v.x, k.y + back*v.y}
	bis := point{u.x + v.x, u.y + v.y}
	l := k.r / math.Sin(half) / math.Hypot(bis.x, bis.y)
	c := point{k.x + l*bis.x, k.y + l*bis.y}
	t0 := math.Atan2(in.y-c.y, in.x-c.x)
	sweep := math.Pi - 2*half
	if u.x*v.y-u.y*v.x > 0 { // a clockwise bend
		sweep = -sweep
	}
	return &edge{c: c, r: k.r, t0: t0, t1: t0 + sweep}
}

// gaussX and gaussW are the 8-point Gauss-Legendre rule on (0, 1). It is exact for the polynomials of straight edges
// (degree 6 at most) and leaves less than 1e-10 of the whole on arcs of a quarter turn.
var gaussX, gaussW = func() (x, w [8]float64) {
	// Abramowitz and Stegun, Table 25.4, n = 8
	ax := [4]float64{0.183434642495649805, 0.525532409916328986, 0.796666477413626740, 0.960289856497536232}
	aw := [4]float64{0.362683783378361983, 0.313706645877887287, 0.222381034453374471, 0.101228536290376259}
	for i := range ax {
		x[i], x[7-i] = (1-ax[i])/2, (1+ax[i])/2
		w[i], w[7-i] = aw[i]/2, aw[i]/2
	}
	return x, w
}()

// moments are the integrals of x^p y^q over an area, to the third order.
type moments struct {
	a, x, y, xx, yy, xy, xxx, xxy, xyy, yyy float64
}

// areaMoments integrates over the area to the left of the edges (a closed outline run anticlockwise; holes run
// clockwise) by Green's theorem: the integral of x^p y^q dA is the contour integral of x^(p+1) y^q/(p+1) dy.
func areaMoments(es []edge) moments {
	var m moments
	for _, e := range es {
		for i, u := range gaussX {
			p, d := e.at(u)
			w := gaussW[i] * d.y
			x2 := p.x * p.x / 2
			x3 := p.x * p.x * p.x / 3
			m.a += w * p.x
			m.x += w * x2
			m.y += w * p.x * p.y
			m.xx += w * x3
			m.xy += w * x2 * p.y
			m.yy += w * p.x * p.y * p.y
			m.xxx += w * p.x * p.x * p.x * p.x / 4
			m.xxy += w * x3 * p.y
			m.xyy += w * x2 * p.y * p.y
			m.yyy += w * p.x * p.y * p.y * p.y
		}
	}
	return m
}

// extent returns the least and greatest x and y of the edges.
func extent(es []edge) (lo, hi point) {
	lo, hi = point{math.Inf(1), math.Inf(1)}, point{math.Inf(-1), math.Inf(-1)}
	grow := func(p point) {
		lo = point{min(lo.x, p.x), min(lo.y, p.y)}
		hi = point{max(hi.x, p.x), max(hi.y, p.y)}
	}
	for _, e := range es {
		a, _ := e.at(0)
		b, _ := e.at(1)
		grow(a)
		grow(b)
		if e.r == 0 {
			continue
		}
		for k := -8; k <= 8; k++ { // the arc's own extremes, at whole quarter turns
			t := float64(k) * math.Pi / 2
			if u := (t - e.t0) / (e.t1 - e.t0); u > 0 && u < 1 {
				p, _ := e.at(u)
				grow(p)
			}
		}
	}
	return lo, hi
}

// below returns the area under the line y = c and its first moment about that line (negative), for a closed outline.
// Pieces that lie on the line add nothing, so the cut needs no closing.
func below(es []edge, c float64) (area, moment float64) {
	for _, e := range es {
		cuts := append([]float64{0}, crossings(e, c)...)
		cuts = append(cuts, 1)
		for k := 0; k+1 < len(cuts); k++ {
			span := cuts[k+1] - cuts[k]
			if mid, _ := e.at(cuts[k] + span/2); mid.y >= c {
				continue
			}
			for i, g := range gaussX {
				p, d := e.at(cuts[k] + g*span)
				w, y := gaussW[i]*span*d.x, p.y-c
				area -= w * y
				moment -= w * y * y / 2
			}
		}
	}
	return area, moment
}

// crossings returns the fractions strictly inside the edge at which it crosses y = c, in rising order.
func crossings(e edge, c float64) []float64 {
	var us []float64
	add := func(u float64) {
		if u > 0 && u < 1 {
			us = append(us, u)
		}
	}
	if e.r == 0 {
		if e.a.y != e.b.y {
			add((c - e.a.y) / (e.b.y - e.a.y))
		}
		return us
	}
	h := (c - e.c.y) / e.r
	if math.Abs(h) >= 1 {
		return nil
	}
	t := math.Asin(h)
	for _, base := range [2]float64{t, math.Pi - t} {
		for k := -2.0; k <= 2; k++ {
			add((base + 2*math.Pi*k - e.t0) / (e.t1 - e.t0))
		}
	}
	if len(us) == 2 && us[0] > us[1] {
		us[0], us[1] = us[1], us[0]
	}
	return us
}

// plasticModulus returns the integral of |y - c| over the area of a closed outline, c the line that halves the area,
// and c itself. The outline's centroid lies at y = 0; m are its moments.
func plasticModulus(es []edge, m moments) (s, c float64) {
	lo, hi := extent(es)
	a, b := lo.y, hi.y
	half := math.Abs(m.a) / 2
	for range 60 { // bisection: 60 halvings end below the rounding of any section's depth
		area, moment := below(es, c)
		s = math.Abs(m.a)*(0-c) + 2*math.Abs(moment)
		switch d := math.Abs(area) - half; {
		case math.Abs(d) < 1e-12*half || b-a < 1e-15:
			return s, c
		case d > 0:
			b = c
		default:
			a = c
		}
		c = (a + b) / 2
	}
	return s, c
}
