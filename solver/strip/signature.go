package strip

import (
	"math"
)

// Curve is a signature curve: the lowest load factor over half-wavelengths.
type Curve struct {
	Lengths []float64 // m, ascending
	Factors []float64 // +Inf where nothing is compressed
	Kinds   []Kind
	section *Section
	stress  []float64
}

// Minimum is a minimum of a signature curve, found to well below the accuracy of the strips.
type Minimum struct {
	HalfWave float64 // m
	Factor   float64
	Kind     Kind
	Shares   Shares
	Mode     Mode
}

// Lengths returns n half-wavelengths from a to b (m) in equal ratios.
func Lengths(a, b float64, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = a * math.Pow(b/a, float64(i)/float64(n-1))
	}
	return out
}

// Span returns the half-wavelengths that hold every local and distortional minimum of the section's outline: from
// 0.12 times the widest side (lips and flanges under a gradient buckle in waves much shorter than the web's) to 12 times the whole mid-line. For a section given by nodes it goes by the strips' total
// width.
func (s *Section) Span() (from, to float64) {
	l := 0.0
	for e := range s.strips {
		l += s.geometry(e).b
	}
	widest := l / 4
	for i := 1; i < len(s.outline.Points); i++ {
		if i == 1 {
			widest = 0
		}
		widest = max(widest, dist(s.outline.Points[i-1], s.outline.Points[i]))
	}
	return 0.12 * widest, 12 * l
}

// Signature computes the curve of node stresses (Pa, compression positive) at ascending half-wavelengths (m).
func (s *Section) Signature(stress, lengths []float64) *Curve {
	c := &Curve{Lengths: lengths, Factors: make([]float64, len(lengths)), Kinds: make([]Kind, len(lengths)), section: s, stress: stress}
	v := s.Solver(stress)
	for i, a := range lengths {
		f, mode := v.Lowest(a)
		c.Factors[i] = f
		if mode != nil {
			c.Kinds[i] = s.Shares(mode).Kind()
		}
	}
	return c
}

// Minima returns the minima of the curve between its ends, in order of half-wavelength, each refined on the exact curve.
// Where the curve is nearly level between two of its points they are parted further, so that a shallow minimum beside a
// shallow crest is not stepped over.
func (c *Curve) Minima() []Minimum {
	var out []Minimum
	v := c.section.Solver(c.stress)
	l, f := c.parted(v)
	for i := 1; i+1 < len(f); i++ {
		if math.IsInf(f[i], 1) || !(f[i] <= f[i-1] && f[i] < f[i+1]) {
			continue
		}
		out = append(out, v.refine(l[i-1], l[i], l[i+1]))
	}
	return out
}

// An interval over which the curve changes by less than levelChange is parted in two, partings times over: shares of the
// curve's points of 1.16 in length become 1.04.
const (
	levelChange = 0.03
	partings    = 2
)

// parted returns the curve with its nearly level intervals parted.
func (c *Curve) parted(v *Solver) (lengths, factors []float64) {
	lengths, factors = c.Lengths, c.Factors
	for range partings {
		var l, f []float64
		for i := range lengths {
			if i > 0 && math.Abs(math.Log(factors[i]/factors[i-1])) < levelChange {
				mid := math.Sqrt(lengths[i-1] * lengths[i])
				q, _ := v.Lowest(mid)
				l, f = append(l, mid), append(f, q)
			}
			l, f = append(l, lengths[i]), append(f, factors[i])
		}
		lengths, factors = l, f
	}
	return lengths, factors
}

// waveTol is the relative width to which a minimum's half-wavelength is enclosed. The factor's error goes with its square.
const waveTol = 2e-3

// refine closes in on a minimum between a and c with b lower than both, by parabolas in the logarithm of the length,
// with golden section as the fallback (R. P. Brent, Algorithms for minimization without derivatives, 1973, ch. 5).
func (v *Solver) refine(a, b, c float64) Minimum {
	la, lc := math.Log(a), math.Log(c)
	at := func(x float64) float64 {
		f, _ := v.Lowest(math.Exp(x))
		return f
	}
	x, _ := brent(at, la, math.Log(b), lc, waveTol)
	l := math.Exp(x)
	f, mode := v.Lowest(l)
	sh := v.s.Shares(mode)
	return Minimum{HalfWave: l, Factor: f, Kind: sh.Kind(), Shares: sh, Mode: mode}
}

// brent finds a minimum of f between a and c, starting at b, to within tol.
func brent(f func(float64) float64, a, b, c, tol float64) (x, fx float64) {
	const gold = 0.3819660112501051
	x = b
	fx = f(x)
	w, v, fw, fv := x, x, fx, fx
	d, e := 0.0, 0.0
	for range 60 {
		mid := (a + c) / 2
		if math.Abs(x-mid) <= 2*tol-(c-a)/2 {
			break
		}
		golden := true
		if math.Abs(e) > tol {
			r, q := (x-w)*(fx-fv), (x-v)*(fx-fw)
			p := (x-v)*q - (x-w)*r
			if q = 2 * (q - r); q > 0 {
				p = -p
			}
			q = math.Abs(q)
			if math.Abs(p) < math.Abs(0.5*q*e) && p > q*(a-x) && p < q*(c-x) {
				e, d, golden = d, p/q, false
				if u := x + d; u-a < 2*tol || c-u < 2*tol {
					d = math.Copysign(tol, mid-x)
				}
			}
		}
		if golden {
			if e = c - x; x >= mid {
				e = a - x
			}
			d = gold * e
		}
		u := x + d
		if math.Abs(d) < tol {
			u = x + math.Copysign(tol, d)
		}
		fu := f(u)
		if fu <= fx {
			if u >= x {
				a = x
			} else {
				c = x
			}
			v, w, x, fv, fw, fx = w, x, u, fw, fx, fu
			continue
		}
		if u < x {
			a = u
		} else {
			c = u
		}
		if fu <= fw || w == x {
			v, w, fv, fw = w, u, fw, fu
		} else if fu <= fv || v == x || v == w {
			v, fv = u, fu
		}
	}
	return x, fx
}
