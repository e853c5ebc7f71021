package as4100

import (
	"math"

	"leanbay/solver"
)

// BoundAlong is Bound where the moments about x are known along the member, but for what they leave open: none exceeds the greatest
// of them, and lateral buckling is bounded segment by segment, each with its own moments and their shape. Without moments it is Bound.
func (c *Checker) BoundAlong(x Maxima, along []solver.Moment) float64 {
	if len(along) == 0 || c.angle() { // an angle's axes are turned
		return c.Bound(x)
	}
	r := &c.run
	r.c, r.along = c, along
	r.lateral, r.known = r.lateralAlong(), true
	for flange, most := range x.Mx {
		x.Mx[flange] = min(most, r.mostAlong(flange))
	}
	u := c.Bound(x)
	r.known = false
	return u
}

// mostAlong bounds the moment (N·m) that compresses a flange (0 top, 1 bottom) anywhere along the member.
func (r *run) mostAlong(flange int) float64 {
	most := 0.0
	for i := range r.along {
		most = max(most, pressing(&r.along[i], flange))
	}
	return most
}

// lateralAlong bounds Mx*/(phi Mbx) over the segments from moments along the member.
func (r *run) lateralAlong() float64 {
	worst := 0.0
	for flange := range 2 {
		segs := r.c.of(flange)
		for i := range segs {
			worst = max(worst, r.segmentAlong(&segs[i], flange))
		}
	}
	return worst
}

// segmentAlong bounds one segment. Its Mbx is am Mb, at most Msx, with am = 1.7 mx/√q held between 1.0 and 2.5, mx the greatest moment
// and √q the root of squares at the quarter points: mx/Mbx grows with both.
func (r *run) segmentAlong(s *Segment, flange int) float64 {
	first := 0
	mx := max(r.bentAt(s.From, flange, &first), 0)
	for k := first; k < len(r.along) && r.along[k].X < s.To; k++ {
		if m := &r.along[k]; m.X > s.From {
			mx = max(mx, pressing(m, flange))
		}
	}
	k := first
	if mx = max(mx, r.bentAt(s.To, flange, &k)); mx == 0 {
		return 0
	}
	phi := r.c.Cap.phi
	if s.Free() {
		return mx / (phi * min(s.Mb*s.leastFactor(r.c.Cap.Rules), r.c.Cap.Msx))
	}
	q := 0.0
	for part := 1; part < 4; part++ {
		x := s.From + float64(part)/4*(s.To-s.From)
		k := first
		either := r.bentAt(x, 0, &first)
		m := max(either, r.bentAt(x, 1, &k))
		q += m * m
	}
	shaped := max(mx/alphaMMost, min(mx/alphaMLeast, math.Sqrt(q)/1.7))
	return max(shaped/(phi*s.Mb), mx/(phi*r.c.Cap.Msx))
}

// pressing bounds the moment (N·m) at a station that compresses a flange (0 top, 1 bottom); below zero where it compresses the other.
func pressing(m *solver.Moment, flange int) float64 { return [2]float64{1, -1}[flange]*m.Mz + m.Off }

// bentAt bounds the moment at x that compresses a flange: on the straight line between stations, and on both sides of a jump. From is
// a station before x, and is moved on towards it.
func (r *run) bentAt(x float64, flange int, from *int) float64 {
	k := *from
	for k+1 < len(r.along) && r.along[k+1].X < x-onePlace {
		k++
	}
	*from = k
	a := pressing(&r.along[k], flange)
	if k+1 == len(r.along) {
		return a
	}
	b := pressing(&r.along[k+1], flange)
	t := min(1, max(0, (x-r.along[k].X)/(r.along[k+1].X-r.along[k].X)))
	m := (1-t)*a + t*b
	for k++; k < len(r.along) && r.along[k].X < x+onePlace; k++ {
		m = max(m, pressing(&r.along[k], flange))
	}
	return m
}

// onePlace is how far (m) the stations of a jump may lie apart by round-off.
const onePlace = 1e-6
