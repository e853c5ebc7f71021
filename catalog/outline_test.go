package catalog

import (
	"math"
	"slices"
	"testing"
)

// A second, independent way to the outline's properties: the section as a sum of rectangles and corner spandrels with
// hand formulas, and its width fibre by fibre for the plastic moduli.

// piece is a rectangle w by h from (x, y), or with r > 0 the spandrel between the corner (x, y), reaching along (qx, qy),
// and the circle of radius r that touches its sides. sign is -1 for what is cut out.
type piece struct {
	sign       float64
	x, y, w, h float64
	qx, qy, r  float64
}

func rect(x, y, w, h float64) piece { return piece{sign: 1, x: x, y: y, w: w, h: h} }
func cut(p piece) piece             { p.sign = -p.sign; return p }
func spandrel(x, y, qx, qy, r float64) piece {
	return piece{sign: 1, x: x, y: y, qx: qx, qy: qy, r: r}
}

// pieces takes a section of the catalogue apart, from its dimensions.
func pieces(f Family, d Dims) []piece {
	switch f {
	case RHS, SHS:
		ps := []piece{rect(0, 0, d.B, d.D), cut(rect(d.T, d.T, d.B-2*d.T, d.D-2*d.T))}
		for _, q := range [][2]float64{{1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
			at := func(inset float64) (x, y float64) {
				return d.B/2 - q[0]*(d.B/2-inset), d.D/2 - q[1]*(d.D/2-inset)
			}
			x, y := at(0)
			ps = append(ps, cut(spandrel(x, y, q[0], q[1], d.Ro)))
			x, y = at(d.T)
			ps = append(ps, spandrel(x, y, q[0], q[1], d.Ri))
		}
		return ps
	case UB:
		l, r := (d.B-d.Tw)/2, (d.B+d.Tw)/2
		return []piece{rect(0, 0, d.B, d.Tf), rect(0, d.D-d.Tf, d.B, d.Tf), rect(l, d.Tf, d.Tw, d.D-2*d.Tf),
			spandrel(l, d.Tf, -1, 1, d.R1), spandrel(r, d.Tf, 1, 1, d.R1),
			spandrel(l, d.D-d.Tf, -1, -1, d.R1), spandrel(r, d.D-d.Tf, 1, -1, d.R1)}
	case PFC:
		return []piece{rect(0, 0, d.B, d.Tf), rect(0, d.D-d.Tf, d.B, d.Tf), rect(0, d.Tf, d.Tw, d.D-2*d.Tf),
			spandrel(d.Tw, d.Tf, 1, 1, d.R1), spandrel(d.Tw, d.D-d.Tf, 1, -1, d.R1)}
	case EA:
		toe := math.Min(d.R2, d.T)
		return []piece{rect(0, 0, d.D, d.T), rect(0, d.T, d.T, d.D-d.T), spandrel(d.T, d.T, 1, 1, d.R1),
			cut(spandrel(d.D, d.T, -1, -1, toe)), cut(spandrel(d.T, d.D, -1, -1, toe))}
	case C:
		t, ro, ri := d.T, d.Ri+d.T, d.Ri
		return []piece{rect(0, 0, d.B, t), rect(0, d.D-t, d.B, t), rect(0, t, t, d.D-2*t),
			rect(d.B-t, t, t, d.L-t), rect(d.B-t, d.D-d.L, t, d.L-t),
			cut(spandrel(0, 0, 1, 1, ro)), cut(spandrel(d.B, 0, -1, 1, ro)), cut(spandrel(0, d.D, 1, -1, ro)), cut(spandrel(d.B, d.D, -1, -1, ro)),
			spandrel(t, t, 1, 1, ri), spandrel(d.B-t, t, -1, 1, ri), spandrel(t, d.D-t, 1, -1, ri), spandrel(d.B-t, d.D-t, -1, -1, ri)}
	case Z:
		t, ro, ri := d.T, d.Ri+d.T, d.Ri
		w := d.F - t
		e := w + d.B
		return []piece{rect(w, 0, d.B, t), rect(0, d.D-t, d.F, t), rect(w, t, t, d.D-2*t),
			rect(e-t, t, t, d.L-t), rect(0, d.D-d.L, t, d.L-t),
			cut(spandrel(w, 0, 1, 1, ro)), cut(spandrel(e, 0, -1, 1, ro)), cut(spandrel(0, d.D, 1, -1, ro)), cut(spandrel(d.F, d.D, -1, -1, ro)),
			spandrel(w+t, t, 1, 1, ri), spandrel(e-t, t, -1, 1, ri), spandrel(t, d.D-t, 1, -1, ri), spandrel(w, d.D-t, -1, -1, ri)}
	}
	return nil
}

// spandrel constants of radius 1, by hand from the square less the quarter circle: area, first moment, second moment and
// product about the corner's sides.
const (
	spArea  = 1 - math.Pi/4
	spFirst = 0.5 - (math.Pi/4 - 1.0/3)                // quarter circle: area pi/4, centroid 1 - 4/(3 pi)
	spSec   = 1.0/3 - (math.Pi/4 - 2.0/3 + math.Pi/16) // integral of (1-u)^2: A - 2 A u + pi/16, A u = 1/3
	spProd  = 0.25 - (math.Pi/4 - 2.0/3 + 1.0/8)       // integral of (1-u)(1-v), integral of u v = 1/8
)

// sums returns area, first and second moments about the origin.
func (p piece) sums() (a, ax, ay, axx, ayy, axy float64) {
	if p.r == 0 {
		if p.w == 0 {
			return
		}
		xm, ym := p.x+p.w/2, p.y+p.h/2
		a = p.sign * p.w * p.h
		return a, a * xm, a * ym, a * (xm*xm + p.w*p.w/12), a * (ym*ym + p.h*p.h/12), a * xm * ym
	}
	r := p.r
	a, f, s, q := p.sign*spArea*r*r, p.sign*spFirst*r*r*r, p.sign*spSec*r*r*r*r, p.sign*spProd*r*r*r*r
	return a, a*p.x + p.qx*f, a*p.y + p.qy*f,
		a*p.x*p.x + 2*p.x*p.qx*f + s, a*p.y*p.y + 2*p.y*p.qy*f + s,
		a*p.x*p.y + p.x*p.qy*f + p.y*p.qx*f + p.qx*p.qy*q
}

// width is the piece's width at height y; swap gives its height at x.
func (p piece) width(y float64) float64 {
	if p.r == 0 {
		if y > p.y && y < p.y+p.h {
			return p.sign * p.w
		}
		return 0
	}
	eta := (y - p.y) * p.qy
	if eta <= 0 || eta >= p.r {
		return 0
	}
	return p.sign * (p.r - math.Sqrt(p.r*p.r-(p.r-eta)*(p.r-eta)))
}

func (p piece) swap() piece {
	p.x, p.y, p.w, p.h, p.qx, p.qy = p.y, p.x, p.h, p.w, p.qy, p.qx
	return p
}

// fibrePlastic returns the plastic modulus from n fibres between every two levels at which a piece begins or ends.
func fibrePlastic(ps []piece, n int) float64 {
	var levels []float64
	for _, p := range ps {
		levels = append(levels, p.y, p.y+p.h, p.y+p.qy*p.r)
	}
	slices.Sort(levels)
	var ys, area []float64
	total := 0.0
	for k := range len(levels) - 1 {
		h := (levels[k+1] - levels[k]) / float64(n)
		for i := 0; i < n && h > 1e-9; i++ {
			y, a := levels[k]+(float64(i)+0.5)*h, 0.0
			for _, p := range ps {
				a += p.width(y) * h
			}
			ys, area, total = append(ys, y), append(area, a), total+a
		}
	}
	below, axis := 0.0, 0.0
	for i, a := range area {
		if below+a >= total/2 {
			axis = ys[i] // the axis inside a fibre matters to the second order only
			break
		}
		below += a
	}
	s := 0.0
	for i, a := range area {
		s += a * math.Abs(ys[i]-axis)
	}
	return s
}

// TestOutlineByPieces holds the exact outline integrals to the sum of pieces, for every section with corners.
func TestOutlineByPieces(t *testing.T) {
	for _, s := range All() {
		ps := pieces(s.Family, s.Dims)
		if ps == nil {
			continue
		}
		var a, ax, ay, axx, ayy, axy float64
		for _, p := range ps {
			a1, ax1, ay1, axx1, ayy1, axy1 := p.sums()
			a, ax, ay, axx, ayy, axy = a+a1, ax+ax1, ay+ay1, axx+axx1, ayy+ayy1, axy+axy1
		}
		p := s.Props
		near(t, s.Name+" A", p.A, a, 1e-10)
		near(t, s.Name+" Xc", p.Xc, ax/a, 1e-10)
		near(t, s.Name+" Yc", p.Yc, ay/a, 1e-10)
		near(t, s.Name+" Ix", p.Ix, ayy-ay*ay/a, 1e-9)
		near(t, s.Name+" Iy", p.Iy, axx-ax*ax/a, 1e-9)
		if ixy := axy - ax*ay/a; math.Abs(p.Ixy-ixy) > 1e-9*p.Ix {
			t.Errorf("%s Ixy: got %g, want %g", s.Name, p.Ixy, ixy)
		}
	}
}

// TestPlasticByFibres holds the exact plastic moduli to a sum over fibres, 200 between any two levels.
func TestPlasticByFibres(t *testing.T) {
	for _, s := range All() {
		ps := pieces(s.Family, s.Dims)
		if ps == nil {
			continue
		}
		near(t, s.Name+" Sx", s.Props.Sx, fibrePlastic(ps, 200), 1e-4)
		for i := range ps {
			ps[i] = ps[i].swap()
		}
		near(t, s.Name+" Sy", s.Props.Sy, fibrePlastic(ps, 200), 1e-4)
	}
}

// TestPlasticAxisInWeb: a channel whose web holds more than half the area has its minor plastic axis inside the web;
// a rectangle pair by hand.
func TestPlasticAxisInWeb(t *testing.T) {
	d := Dims{D: 0.3, B: 0.03, Tf: 0.01, Tw: 0.02} // web 6000 mm2, two stubs of 10 x 10 mm
	p := compute(PFC, d)
	// half of 6200 mm2 over 300 mm: axis 10.333 mm from the back; S = (300 (10.333^2 + 9.667^2) / 2) + 200 (25 - 10.333)
	axis := 6200.0 / 2 / 300
	want := 300*(axis*axis+(20-axis)*(20-axis))/2 + 200*(25-axis)
	near(t, "Sy", p.Sy*1e9, want, 1e-9)
}
