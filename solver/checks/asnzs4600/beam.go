package asnzs4600

import (
	"fmt"
	"math"
	"sort"
)

// Beam is a straight run over supports, held at each against moving across but free to turn; its ends are pinned.
// Between supports the flexural stiffness EI (N·m²) is constant; over a lap, Lap long and centred on each interior
// support, both sections act and it is doubled.
type Beam struct {
	Spans []float64 // m
	Lap   float64   // m, whole length of a lap; 0: continuous without laps
	EI    float64
}

// LineLoad is Q (N/m, positive inwards) from From to To, stations in metres from the run's start.
type LineLoad struct{ From, To, Q float64 }

// Response is a solved beam. Moments are positive where they compress the outer (top) flange; shear is dM/dx; deflection
// is positive inwards. A reaction is positive where the support pushes outwards.
type Response struct {
	Reactions []float64 // N, one per support
	pieces    []piece
}

// piece is one element: its start, length, stiffness, load, and shear, moment, deflection and slope at its start.
type piece struct {
	x, l, ei, q   float64
	v0, m0, d, th float64
	lapped        bool
}

// Length is the run's length (m).
func (b *Beam) Length() float64 {
	l := 0.0
	for _, s := range b.Spans {
		l += s
	}
	return l
}

// validate reports what cannot be solved.
func (b *Beam) validate() error {
	if len(b.Spans) == 0 || !(b.EI > 0) {
		return fmt.Errorf("a run needs at least one span and a stiffness; it has %d and EI %g N·m²", len(b.Spans), b.EI)
	}
	for i, s := range b.Spans {
		if !(s > 1e-3) || math.IsInf(s, 0) {
			return fmt.Errorf("span %d of a run is %g m long", i+1, s)
		}
		if len(b.Spans) > 1 && b.Lap >= s {
			return fmt.Errorf("laps of %g m do not fit in span %d of %g m", b.Lap, i+1, s)
		}
	}
	if !(b.Lap >= 0) {
		return fmt.Errorf("a lap of %g m is not a length", b.Lap)
	}
	return nil
}

// supports returns the stations of the supports.
func (b *Beam) supports() []float64 {
	xs := make([]float64, len(b.Spans)+1)
	for i, s := range b.Spans {
		xs[i+1] = xs[i] + s
	}
	return xs
}

// lapped reports whether station x lies within a lap.
func (b *Beam) lapped(x float64) bool {
	xs := b.supports()
	for _, s := range xs[1 : len(xs)-1] {
		if math.Abs(x-s) < b.Lap/2 {
			return true
		}
	}
	return false
}

// near is the distance (m) within which two stations are one.
const near = 1e-7

// cuts returns every station at which stiffness, load or support changes, ascending.
func (b *Beam) cuts(loads []LineLoad) []float64 {
	xs := b.supports()
	end := xs[len(xs)-1]
	for _, s := range append([]float64(nil), xs[1:len(xs)-1]...) {
		if b.Lap > 0 {
			xs = append(xs, s-b.Lap/2, s+b.Lap/2)
		}
	}
	for _, q := range loads {
		xs = append(xs, min(max(q.From, 0), end), min(max(q.To, 0), end))
	}
	sort.Float64s(xs)
	out := xs[:1]
	for _, x := range xs[1:] {
		if x-out[len(out)-1] > near {
			out = append(out, x)
		}
	}
	return out
}

// Solve finds the response to loads; parts of loads beyond the run's ends are ignored. It is exact: the force method with
// the moments at interior supports as unknowns (the three-moment equations with stiffness varying along the spans), which
// stays well conditioned however short the pieces are.
func (b *Beam) Solve(loads []LineLoad) (*Response, error) {
	if err := b.validate(); err != nil {
		return nil, err
	}
	xs, at := b.cuts(loads), b.supports()
	r := &Response{Reactions: make([]float64, len(at)), pieces: make([]piece, 0, len(xs)-1)}
	spans := make([]span, len(b.Spans))
	s := 0
	for i := range len(xs) - 1 {
		p := piece{x: xs[i], l: xs[i+1] - xs[i], ei: b.EI}
		mid := p.x + p.l/2
		if b.lapped(mid) {
			p.ei, p.lapped = 2*b.EI, true
		}
		for _, q := range loads {
			if mid > q.From && mid < q.To {
				p.q += q.Q
			}
		}
		for mid > at[s+1] {
			s++
		}
		if spans[s].l == 0 {
			spans[s] = span{x: at[s], l: b.Spans[s], first: i}
		}
		spans[s].after = i + 1
		r.pieces = append(r.pieces, p)
	}
	for i := range spans {
		spans[i].release(r.pieces)
	}
	join(spans)
	for i := range spans {
		spans[i].restore(r.pieces)
		first, last := &r.pieces[spans[i].first], &r.pieces[spans[i].after-1]
		r.Reactions[i] += first.v0
		r.Reactions[i+1] -= last.shear(last.l)
	}
	return r, nil
}

// span is one span while the run is solved: its pieces, its flexibilities for unit end moments and for the loads, and the
// end moments.
type span struct {
	x, l          float64
	first, after  int
	f00, f01, f11 float64 // ∫(1-r)², ∫(1-r)r, ∫r² over EI, r the share of the span
	b0, b1        float64 // ∫M(1-r), ∫Mr over EI with simply supported ends
	left, right   float64 // end moments
}

// threePoint are Gauss points and weights on 0…1, exact to degree 5; the integrands here reach degree 3.
var threePoint = [3][2]float64{{0.1127016653792583, 5.0 / 18}, {0.5, 4.0 / 9}, {0.8872983346207417, 5.0 / 18}}

// release solves the span as simply supported and integrates its flexibilities.
func (s *span) release(pieces []piece) {
	v := 0.0
	for i := s.first; i < s.after; i++ {
		p := &pieces[i]
		v += p.q * p.l * (s.x + s.l - p.x - p.l/2) / s.l
	}
	m := 0.0
	for i := s.first; i < s.after; i++ {
		p := &pieces[i]
		p.v0, p.m0 = v, m
		v, m = p.shear(p.l), p.moment(p.l)
		for _, g := range threePoint {
			r, w := (p.x+g[0]*p.l-s.x)/s.l, g[1]*p.l/p.ei
			s.f00 += w * (1 - r) * (1 - r)
			s.f01 += w * (1 - r) * r
			s.f11 += w * r * r
			s.b0 += w * (1 - r) * p.moment(g[0]*p.l)
			s.b1 += w * r * p.moment(g[0]*p.l)
		}
	}
}

// join finds the moments at interior supports: equal slopes on both sides, a tridiagonal system by elimination.
func join(spans []span) {
	n := len(spans) - 1
	diag, rhs := make([]float64, n), make([]float64, n)
	for i := range n {
		diag[i] = spans[i].f11 + spans[i+1].f00
		rhs[i] = -spans[i].b1 - spans[i+1].b0
		if i > 0 {
			f := spans[i].f01 / diag[i-1]
			diag[i] -= f * spans[i].f01
			rhs[i] -= f * rhs[i-1]
		}
	}
	for i := n - 1; i >= 0; i-- {
		m := rhs[i]
		if i < n-1 {
			m -= spans[i+1].f01 * spans[i+1].right
		}
		m /= diag[i]
		spans[i].right, spans[i+1].left = m, m
	}
}

// restore adds the end moments to the pieces and marches deflection and slope along them.
func (s *span) restore(pieces []piece) {
	th := s.b0 + s.left*s.f00 + s.right*s.f01
	d := 0.0
	for i := s.first; i < s.after; i++ {
		p := &pieces[i]
		p.m0 += s.left + (s.right-s.left)*(p.x-s.x)/s.l
		p.v0 += (s.right - s.left) / s.l
		p.d, p.th = d, th
		d, th = p.deflection(p.l), p.slope(p.l)
	}
}

func (p *piece) moment(s float64) float64 { return p.m0 + p.v0*s - p.q*s*s/2 }
func (p *piece) shear(s float64) float64  { return p.v0 - p.q*s }
func (p *piece) slope(s float64) float64 {
	return p.th - (p.m0*s+p.v0*s*s/2-p.q*s*s*s/6)/p.ei
}
func (p *piece) deflection(s float64) float64 {
	return p.d + p.th*s - (p.m0*s*s/2+p.v0*s*s*s/6-p.q*s*s*s*s/24)/p.ei
}

// at finds the piece of station x, the left one at a cut if left is set.
func (r *Response) at(x float64, left bool) (p *piece, s float64) {
	i := sort.Search(len(r.pieces), func(i int) bool { return r.pieces[i].x > x }) - 1
	i = min(max(i, 0), len(r.pieces)-1)
	if left && i > 0 && x-r.pieces[i].x <= near {
		i--
	}
	p = &r.pieces[i]
	return p, min(max(x-p.x, 0), p.l)
}

// Moment is M (N·m) at station x (m).
func (r *Response) Moment(x float64) float64 { p, s := r.at(x, false); return p.moment(s) }

// Shear is V (N) at x, to the right of a support there.
func (r *Response) Shear(x float64) float64 { p, s := r.at(x, false); return p.shear(s) }

// Deflection is the movement (m) at x.
func (r *Response) Deflection(x float64) float64 { p, s := r.at(x, false); return p.deflection(s) }

// Most returns the greatest deflection in magnitude between two stations and where it is (m), exactly: where the slope
// passes zero.
func (r *Response) Most(from, to float64) (deflection, x float64) {
	try := func(p *piece, s float64) {
		if d := p.deflection(s); math.Abs(d) > math.Abs(deflection) {
			deflection, x = d, p.x+s
		}
	}
	const parts = 4 // a cubic slope has at most three zeros in a piece
	for i := range r.pieces {
		p := &r.pieces[i]
		lo, hi := max(from-p.x, 0), min(to-p.x, p.l)
		for j := 0; j < parts && lo < hi; j++ {
			a, b := lo+(hi-lo)*float64(j)/parts, lo+(hi-lo)*float64(j+1)/parts
			try(p, a)
			try(p, b)
			if p.slope(a)*p.slope(b) >= 0 {
				continue
			}
			for range 60 {
				if m := (a + b) / 2; p.slope(a)*p.slope(m) > 0 {
					a = m
				} else {
					b = m
				}
			}
			try(p, a)
		}
	}
	return deflection, x
}
