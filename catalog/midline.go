package catalog

import "math"

// wall is one piece of a thin-walled section's mid-line with its thickness (m). Shear flow runs from node `from` to node
// `to`; what earlier walls bring to a node enters the walls that leave it.
type wall struct {
	edge
	t        float64
	from, to int
}

// chain numbers the nodes of an unbranched mid-line of even thickness.
func chain(t float64, es []edge) []wall {
	ws := make([]wall, len(es))
	for i, e := range es {
		ws[i] = wall{edge: e, t: t, from: i, to: i + 1}
	}
	return ws
}

// firstMoments returns the integrals of x and y along the edge from its start to fraction u (m2).
func (e edge) firstMoments(u float64) point {
	if e.r == 0 {
		l := e.length()
		return point{
			l * (e.a.x*u + (e.b.x-e.a.x)*u*u/2),
			l * (e.a.y*u + (e.b.y-e.a.y)*u*u/2),
		}
	}
	t := e.t0 + u*(e.t1-e.t0)
	s0, c0 := math.Sincos(e.t0)
	s1, c1 := math.Sincos(t)
	sense := e.r
	if e.t1 < e.t0 {
		sense = -e.r
	}
	return point{
		sense * (e.c.x*(t-e.t0) + e.r*(s1-s0)),
		sense * (e.c.y*(t-e.t0) - e.r*(c1-c0)),
	}
}

// swept returns twice the area swept about the origin from the edge's start to fraction u (m2): the sectorial
// coordinate's growth.
func (e edge) swept(u float64) float64 {
	if e.r == 0 {
		return u * (e.a.x*e.b.y - e.a.y*e.b.x)
	}
	t := e.t0 + u*(e.t1-e.t0)
	s0, c0 := math.Sincos(e.t0)
	s1, c1 := math.Sincos(t)
	return e.r * (e.r*(t-e.t0) + e.c.x*(s1-s0) - e.c.y*(c1-c0))
}

// along calls f at the Gauss points of the wall with the fraction u, the place and the element of area (m2).
func (w wall) along(f func(u float64, p point, dA float64)) {
	dA := w.length() * w.t
	for i, u := range gaussX {
		p, _ := w.at(u)
		f(u, p, gaussW[i]*dA)
	}
}

// thinWalled are the properties of a mid-line about its own centroid.
type thinWalled struct {
	xc, yc      float64 // centroid
	ix, iy, ixy float64
}

// centre returns the mid-line's properties and its walls moved so that the centroid is the origin.
func centre(ws []wall) (thinWalled, []wall) {
	var a float64
	var p thinWalled
	for _, w := range ws {
		w.along(func(_ float64, q point, dA float64) {
			a += dA
			p.xc += q.x * dA
			p.yc += q.y * dA
		})
	}
	p.xc, p.yc = p.xc/a, p.yc/a
	moved := make([]wall, len(ws))
	for i, w := range ws {
		w.edge = w.move(-p.xc, -p.yc)
		moved[i] = w
		w.along(func(_ float64, q point, dA float64) {
			p.ix += q.y * q.y * dA
			p.iy += q.x * q.x * dA
			p.ixy += q.x * q.y * dA
		})
	}
	return p, moved
}

// shearAreas returns the areas for elastic shear deformation under a force along y and along x (m2), from the energy of
// the thin-walled shear flow q of a unit force: 1/As is the integral of q^2/t along the mid-line. The flow at a point is
// q = -(Iy Sx - Ixy Sy)/(Ix Iy - Ixy^2) for a force along y, S the first moments of the area passed (Oden, Mechanics of
// elastic structures, ch. 7; Cowper's refinement for Poisson's ratio is left out). A free edge starts with none.
func shearAreas(ws []wall) (alongY, alongX float64) {
	p, ws := centre(ws)
	det := p.ix*p.iy - p.ixy*p.ixy
	carried := map[int]point{} // first moments brought to each node
	var cy, cx float64
	for _, w := range ws {
		start := carried[w.from]
		w.along(func(u float64, _ point, dA float64) {
			f := w.firstMoments(u)
			sx, sy := start.y+w.t*f.y, start.x+w.t*f.x
			qy := (p.iy*sx - p.ixy*sy) / det
			qx := (p.ix*sy - p.ixy*sx) / det
			cy += qy * qy / (w.t * w.t) * dA
			cx += qx * qx / (w.t * w.t) * dA
		})
		f, end := w.firstMoments(1), carried[w.to]
		carried[w.to] = point{end.x + start.x + w.t*f.x, end.y + start.y + w.t*f.y}
	}
	return 1 / cy, 1 / cx
}

// warping returns the shear centre (in the walls' own axes, m) and the warping constant (m6) of an unbranched mid-line,
// by its sectorial coordinate (Vlasov, Thin-walled elastic beams, ch. I).
func warping(ws []wall) (shear point, iw float64) {
	p, ws := centre(ws)
	var a, b float64 // integrals of omega x and omega y about the centroid
	omega := 0.0
	for _, w := range ws {
		w.along(func(u float64, q point, dA float64) {
			o := omega + w.swept(u)
			a += o * q.x * dA
			b += o * q.y * dA
		})
		omega += w.swept(1)
	}
	s := point{x: (b*p.iy - a*p.ixy) / (p.ix*p.iy - p.ixy*p.ixy)}
	s.y = (s.x*p.ixy - a) / p.iy
	var area, first, second float64
	omega = 0
	for _, w := range ws {
		w.edge = w.move(-s.x, -s.y)
		w.along(func(u float64, _ point, dA float64) {
			o := omega + w.swept(u)
			area += dA
			first += o * dA
			second += o * o * dA
		})
		omega += w.swept(1)
	}
	return point{p.xc + s.x, p.yc + s.y}, second - first*first/area
}
