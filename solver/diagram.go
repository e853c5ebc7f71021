package solver

import (
	"cmp"
	"math"
	"slices"
)

// Terms is the number of coefficients of a curve: enough for the series of a beam-column piece whose length is kept under
// |N|·l²/EI = 4, to round-off. First-order curves use six at most.
const Terms = 26

// Curve is a polynomial in ξ = (x - X)/L of a piece; Len coefficients are in use, the rest is zero.
type Curve struct {
	Len int
	C   [Terms]float64
}

// At evaluates the curve at ξ.
func (c *Curve) At(xi float64) float64 {
	s := 0.0
	for k := c.Len - 1; k >= 0; k-- {
		s = s*xi + c.C[k]
	}
	return s
}

// Slope evaluates the derivative with respect to ξ.
func (c *Curve) Slope(xi float64) float64 {
	s := 0.0
	for k := c.Len - 1; k >= 1; k-- {
		s = s*xi + float64(k)*c.C[k]
	}
	return s
}

// Piece is a stretch of a member between two discontinuities of its loads, X..X+L in metres from the member's start.
// Forces are in N and N·m with the signs of Forces, deflections Ux, Uy, Uz in m along the member's local axes (absolute,
// not relative to the chord). In a second-order answer forces are along the undeformed axes.
type Piece struct {
	X, L       float64
	N, Vy, Vz  [3]float64 // quadratic in ξ at most
	T          float64
	My, Mz     Curve
	Ux, Uy, Uz Curve
}

// Forces evaluates all six components at ξ.
func (p *Piece) Forces(xi float64) Forces {
	return Forces{
		quad(&p.N, xi), quad(&p.Vy, xi), quad(&p.Vz, xi), p.T, p.My.At(xi), p.Mz.At(xi),
	}
}

func quad(c *[3]float64, xi float64) float64 { return c[0] + xi*(c[1]+xi*c[2]) }

// Diagram holds the exact internal forces and deflections along one physical member, as curves between discontinuities.
// The zero value is empty; a Diagram may be filled again and again without allocating once it has grown to its size.
// Pieces are in order, adjoin each other and cover 0..Length.
type Diagram struct {
	Length float64
	Pieces []Piece
}

// Station is a place along a member and the forces there. Where a load makes them jump there are two stations of equal X,
// before and after.
type Station struct {
	X      float64 // m
	Forces Forces
}

// Reset empties the diagram and keeps its storage.
func (d *Diagram) Reset() { d.Pieces, d.Length = d.Pieces[:0], 0 }

// piece returns the piece that holds x and the coordinate in it; x outside 0..Length is taken to the nearer end. At a
// boundary it is the piece beyond. It panics on an empty diagram.
func (d *Diagram) piece(x float64) (*Piece, float64) {
	if len(d.Pieces) == 0 {
		panic("solver: Diagram: nothing was put in it; fill it with frame.Result.Diagram first")
	}
	lo, hi := 0, len(d.Pieces)-1
	for lo < hi {
		mid := (lo + hi + 1) / 2
		if d.Pieces[mid].X <= x {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	p := &d.Pieces[lo]
	return p, min(max((x-p.X)/p.L, 0), 1)
}

// At returns the internal forces at station x (m). At a station where they jump it gives those just beyond.
func (d *Diagram) At(x float64) Forces {
	p, xi := d.piece(x)
	return p.Forces(xi)
}

// Deflection returns the displacement (m) at station x along the member's local axes.
func (d *Diagram) Deflection(x float64) (ux, uy, uz float64) {
	p, xi := d.piece(x)
	return p.Ux.At(xi), p.Uy.At(xi), p.Uz.At(xi)
}

// ChordDeflection returns the lateral displacement (m) at station x relative to the straight line between the member's
// displaced ends: what a service check compares with a fraction of the span.
func (d *Diagram) ChordDeflection(x float64) (uy, uz float64) {
	_, uy, uz = d.Deflection(x)
	first, last := &d.Pieces[0], &d.Pieces[len(d.Pieces)-1]
	t := min(max(x/d.Length, 0), 1)
	uy -= (1-t)*first.Uy.At(0) + t*last.Uy.At(1)
	uz -= (1-t)*first.Uz.At(0) + t*last.Uz.At(1)
	return uy, uz
}

// Extremes appends to dst the stations that a check of this member must look at: both ends of every piece and the
// stationary points of N, Mz and My, found from the roots of their derivatives; sorted, without duplicates.
func (d *Diagram) Extremes(dst []Station) []Station {
	start := len(dst)
	for i := range d.Pieces {
		p := &d.Pieces[i]
		first := len(dst)
		dst = append(dst, Station{X: p.X, Forces: p.Forces(0)})
		if r := -p.N[1] / (2 * p.N[2]); r > 0 && r < 1 {
			dst = append(dst, Station{X: p.X + r*p.L, Forces: p.Forces(r)})
		}
		dst = p.stationary(dst, &p.Mz)
		dst = p.stationary(dst, &p.My)
		slices.SortFunc(dst[first+1:], func(a, b Station) int { return cmp.Compare(a.X, b.X) })
		dst = append(dst, Station{X: p.X + p.L, Forces: p.Forces(1)})
	}
	return append(dst[:start], compact(dst[start:])...)
}

// compact drops stations that repeat the one before (same place and, to round-off, same forces).
func compact(s []Station) []Station {
	var size Forces
	for i := range s {
		for c, v := range s[i].Forces {
			size[c] = max(size[c], math.Abs(v))
		}
	}
	out := s[:0]
	for _, st := range s {
		if n := len(out); n > 0 && st.X-out[n-1].X < 1e-9 && same(&st.Forces, &out[n-1].Forces, &size) {
			continue
		}
		out = append(out, st)
	}
	return out
}

func same(a, b, size *Forces) bool {
	for c := range a {
		if math.Abs(a[c]-b[c]) > 1e-9*size[c] {
			return false
		}
	}
	return true
}

// stationary appends the stations strictly inside p where the slope of c vanishes.
func (p *Piece) stationary(dst []Station, c *Curve) []Station {
	add := func(xi float64) {
		if xi > 1e-12 && xi < 1-1e-12 {
			dst = append(dst, Station{X: p.X + xi*p.L, Forces: p.Forces(xi)})
		}
	}
	if c.Len <= 4 { // slope quadratic: closed form
		r1, r2, n := quadraticRoots(3*c.C[3], 2*c.C[2], c.C[1])
		if n > 0 {
			add(r1)
		}
		if n > 1 {
			add(r2)
		}
		return dst
	}
	if c.steady() {
		return dst
	}
	// A piece is at most |N|·l²/EI = 4 long, so its slope changes sign a few times at most; eight parts separate the roots.
	const parts = 8
	a, fa := 0.0, c.Slope(0)
	for k := 1; k <= parts; k++ {
		b := float64(k) / parts
		fb := c.Slope(b)
		if fa*fb < 0 || fb == 0 && k < parts {
			add(bracketedRoot(c, a, b, fa))
		}
		a, fa = b, fb
	}
	return dst
}

// steady tells whether there is no place on 0..1 to look at: the slope cannot vanish, by the sum of its terms of either sign,
// or is nothing all along, as for bending across a plane frame.
func (c *Curve) steady() bool {
	lo, hi := c.C[1], c.C[1]
	for k := 2; k < c.Len; k++ {
		t := float64(k) * c.C[k]
		lo, hi = lo+min(t, 0), hi+max(t, 0)
	}
	return lo > 0 || hi < 0 || lo == 0 && hi == 0
}

// rootWidth is how far a root of the slope may lie from where it is taken to be; the curve is flat there.
const rootWidth = 1e-13

// bracketedRoot finds where the slope of c vanishes on a..b, with fa at a and the other sign at b, by Newton's steps, or halving where
// they leave the bracket.
func bracketedRoot(c *Curve, a, b, fa float64) float64 {
	x := 0.5 * (a + b)
	for range 60 {
		f, bend := 0.0, 0.0
		for k := c.Len - 1; k >= 1; k-- {
			bend = bend*x + f
			f = f*x + float64(k)*c.C[k]
		}
		if f*fa > 0 {
			a = x
		} else {
			b = x
		}
		next := x - f/bend
		if !(next >= a && next <= b) {
			next = 0.5 * (a + b)
		}
		if math.Abs(next-x) < rootWidth {
			return next
		}
		x = next
	}
	return x
}

// quadraticRoots solves ax²+bx+c = 0 without cancellation; n is the number of real roots (none for a constant).
func quadraticRoots(a, b, c float64) (r1, r2 float64, n int) {
	if a == 0 {
		if b == 0 {
			return 0, 0, 0
		}
		return -c / b, 0, 1
	}
	disc := b*b - 4*a*c
	if disc < 0 {
		return 0, 0, 0
	}
	q := -0.5 * (b + math.Copysign(math.Sqrt(disc), b))
	if q == 0 {
		return 0, 0, 1
	}
	return q / a, c / q, 2
}

// MaxAbs returns the value of the component that is greatest in magnitude along the member, with its sign, and its station.
func (d *Diagram) MaxAbs(c Component) (value, x float64) {
	consider := func(p *Piece, xi float64) {
		if v := p.Forces(xi)[c]; math.Abs(v) > math.Abs(value) {
			value, x = v, p.X+xi*p.L
		}
	}
	var room [16]Station
	for i := range d.Pieces {
		p := &d.Pieces[i]
		consider(p, 0)
		switch c {
		case N, Vy, Vz:
			q := [...]*[3]float64{&p.N, &p.Vy, &p.Vz}[c]
			if r := -q[1] / (2 * q[2]); r > 0 && r < 1 {
				consider(p, r)
			}
		case My, Mz:
			curve := &p.My
			if c == Mz {
				curve = &p.Mz
			}
			for _, s := range p.stationary(room[:0], curve) {
				consider(p, (s.X-p.X)/p.L)
			}
		}
		consider(p, 1)
	}
	return value, x
}

// MaxChordDeflection returns the lateral chord deflections (m) along local y and z that are greatest in magnitude, with
// their signs, and their stations. They are sought at 16 points a piece and refined by parabola: good to 0.01 % of the peak.
func (d *Diagram) MaxChordDeflection() (uy, xy, uz, xz float64) {
	const parts = 16
	if len(d.Pieces) == 0 {
		d.piece(0) // says what is wrong
	}
	first, last := &d.Pieces[0], &d.Pieces[len(d.Pieces)-1]
	y0, z0 := first.Uy.At(0), first.Uz.At(0)
	dy, dz := (last.Uy.At(1)-y0)/d.Length, (last.Uz.At(1)-z0)/d.Length
	for i := range d.Pieces {
		p := &d.Pieces[i]
		for k := range parts + 1 {
			xi := float64(k) / parts
			x := p.X + xi*p.L
			y, z := p.Uy.At(xi)-y0-dy*x, p.Uz.At(xi)-z0-dz*x
			if math.Abs(y) > math.Abs(uy) {
				uy, xy = y, x
			}
			if math.Abs(z) > math.Abs(uz) {
				uz, xz = z, x
			}
		}
	}
	uy, xy = d.refine(uy, xy, 0)
	uz, xz = d.refine(uz, xz, 1)
	return uy, xy, uz, xz
}

// refine moves a sampled peak of the chord deflection along axis (0: y, 1: z) to the vertex of the parabola through it.
func (d *Diagram) refine(v, x float64, axis int) (float64, float64) {
	get := func(x float64) float64 {
		y, z := d.ChordDeflection(x)
		return [...]float64{y, z}[axis]
	}
	p, _ := d.piece(x)
	h := p.L / 32
	if x-h < 0 || x+h > d.Length {
		return v, x
	}
	a, b := get(x-h), get(x+h)
	curve := a - 2*v + b
	if curve == 0 || math.Abs(0.5*(a-b)/curve) > 1 {
		return v, x
	}
	xp := x + h*0.5*(a-b)/curve
	if vp := get(xp); math.Abs(vp) > math.Abs(v) {
		return vp, xp
	}
	return v, x
}
