package frame

import "math"

// A smooth element takes its deflection in each plane as the exact first-order shapes of its end displacements plus a few
// inner polynomials that leave the ends alone (Rayleigh-Ritz), instead of exact strips between the jumps of its loads. The
// inner polynomials' curvatures are Legendre polynomials of degree 2 and up, so that bending stiffness is the unit matrix
// and end displacements, first-order fixed-end forces and inner amplitudes do not mix in first order: there, and in what
// N does to them at first, the element is exact. Axial force enters as its Legendre expansion along the element.

const (
	inners = 4 // inner polynomials per plane
	axials = 6 // terms of the expansion of the axial force: products of two end shapes' slopes are of degree four
	shapes = 4 + inners
	// smoothReach is the greatest |N|·L²/EI of a smooth element; a clamped element buckles at -4π². Up to a sixth of it, where
	// sheds' members are, stiffness agrees with the exact element to 1e-6 and fixed-end forces to 1e-4 even where N varies by a
	// tenth; up to all of it to 1e-4 and 1e-2 (TestSmoothElement).
	smoothReach = 12.0
)

// smoothLoad is what the loads of an element do to a smooth element, linear in them.
type smoothLoad struct {
	axial [axials]float64    // expansion of N(x) less the pull at end i (N)
	drop  float64            // N at end j less that at end i (N)
	inner [2][inners]float64 // per plane: work on the inner polynomials, of deflections in units of L (N·m)
}

// smoothSum is the sum of smoothLoads under one combination.
type smoothSum struct {
	smoothLoad
	varies    bool
	variation packed // geometric stiffness from the variation of the axial force
}

func (s *smoothLoad) add(o *smoothLoad, factor float64) {
	s.drop += factor * o.drop
	for k := range s.axial {
		s.axial[k] += factor * o.axial[k]
	}
	for p := range s.inner {
		for k := range s.inner[p] {
			s.inner[p][k] += factor * o.inner[p][k]
		}
	}
}

// geometric[j][a][b] is ∫ P_j·φ_a'·φ_b' dξ over 0..1 for j < axials, lower triangles (b ≤ a): φ_0 to φ_3 are the shapes of
// deflection and slope at ends i and j, then come the inner polynomials.
var geometric = func() (g [axials][shapes][shapes]float64) {
	for _, q := range gauss8 {
		p := legendre(q.x)
		d := shapeSlopes(&p)
		for j := range axials {
			for a := range shapes {
				for b := range shapes {
					g[j][a][b] += q.w * p[j] * d[a] * d[b]
				}
			}
		}
	}
	for j := range g { // what is nothing but round-off is nothing
		for a := range g[j] {
			for b := range g[j][a] {
				if math.Abs(g[j][a][b]) < 1e-14 {
					g[j][a][b] = 0
				}
			}
		}
	}
	return g
}()

// legendres is the number of shifted Legendre polynomials in use: the integral of that of degree inners+2 has one more.
const legendres = inners + 4

// legendre returns the Legendre polynomials of degree 0 and up at x of 0..1.
func legendre(x float64) (p [legendres]float64) {
	t := 2*x - 1
	p[0], p[1] = 1, t
	for n := 1; n+1 < legendres; n++ {
		p[n+1] = (float64(2*n+1)*t*p[n] - float64(n)*p[n-1]) / float64(n+1)
	}
	return p
}

// innerScale makes the curvatures of the inner polynomials orthonormal: √(2n+1) for degree n = k+2.
var innerScale = func() (s [inners]float64) {
	for k := range s {
		s[k] = math.Sqrt(float64(2*k + 5))
	}
	return s
}()

// shapeSlopes returns the slopes of all shapes from the Legendre polynomials there.
func shapeSlopes(p *[legendres]float64) (d [shapes]float64) {
	d[0], d[1], d[2], d[3] = p[2]-1, (p[2]-p[1])/2, 1-p[2], (p[2]+p[1])/2
	for k := range inners {
		n := k + 2
		d[4+k] = innerScale[k] * rise(p, n)
	}
	return d
}

// rise is ∫P_n from 0.
func rise(p *[legendres]float64, n int) float64 {
	if n == 0 {
		return (p[1] + 1) / 2
	}
	return (p[n+1] - p[n-1]) / float64(4*n+2)
}

// innerAt returns deflection and slope of the inner polynomials.
func innerAt(p *[legendres]float64) (v, s [inners]float64) {
	for k := range inners {
		n := k + 2
		s[k] = innerScale[k] * rise(p, n)
		v[k] = innerScale[k] * (rise(p, n+1) - rise(p, n-1)) / float64(4*n+2)
	}
	return v, s
}

// gauss5 integrates exactly to degree nine: the inner polynomials, of degree seven at most, under a linear load.
var gauss5 = gaussPoints(5)

var gauss8 = gaussPoints(8)

type gaussPoint struct{ x, w float64 }

// gaussPoints are the points and weights of n-point Gauss-Legendre integration on 0..1, by Newton on P_n.
func gaussPoints(n int) []gaussPoint {
	out := make([]gaussPoint, n)
	for i := range out {
		t := math.Cos(math.Pi * (float64(i) + 0.75) / (float64(n) + 0.5))
		slope := 0.0
		for range 50 {
			a, b := 1.0, t
			for k := 1; k < n; k++ {
				a, b = b, (float64(2*k+1)*t*b-float64(k)*a)/float64(k+1)
			}
			slope = float64(n) * (t*b - a) / (t*t - 1)
			t -= b / slope
		}
		out[i] = gaussPoint{(1 + t) / 2, 1 / ((1 - t*t) * slope * slope)}
	}
	return out
}

// addSmooth adds load ld to s.
func (e *element) addSmooth(ld *load, s *smoothLoad) {
	if ld.point {
		e.addSmoothPoint(ld.a, &ld.q1, &ld.q2, s)
		return
	}
	h := ld.b - ld.a
	if h == e.L && ld.q1 == ld.q2 { // by far the most: own weight
		e.addSmoothUniform(&ld.q1, s)
		return
	}
	for _, g := range gauss5 {
		var q [3]float64
		for k := range q {
			q[k] = ((1-g.x)*ld.q1[k] + g.x*ld.q2[k]) * g.w * h
		}
		e.addSmoothPoint(ld.a+g.x*h, &q, &[3]float64{}, s)
	}
}

// addSmoothUniform adds a load that is the same all along: N falls linearly, and of the inner polynomials only the first
// has a mean.
func (e *element) addSmoothUniform(q *[3]float64, s *smoothLoad) {
	all := q[0] * e.L
	s.drop -= all
	s.axial[0] -= all / 2
	s.axial[1] -= all / 2
	for p := range 2 {
		s.inner[p][0] += q[deflDOF[p]] * e.L * e.L * meanInner
	}
}

// meanInner is ∫b_0 over 0..1.
var meanInner = func() (m float64) {
	for _, q := range gauss5 {
		p := legendre(q.x)
		v, _ := innerAt(&p)
		m += q.w * v[0]
	}
	return m
}()

// addSmoothPoint adds a force and a moment at station a.
func (e *element) addSmoothPoint(a float64, force, moment *[3]float64, s *smoothLoad) {
	p := legendre(a / e.L)
	if f := force[0]; f != 0 {
		s.drop -= f
		s.axial[0] -= f * (1 - rise(&p, 0))
		for j := 1; j < axials; j++ {
			s.axial[j] += f * float64(2*j+1) * rise(&p, j)
		}
	}
	v, t := innerAt(&p)
	for k := range 2 {
		f, m := force[deflDOF[k]]*e.L, planeSign[k]*moment[turnDOF[k]-3]
		if f == 0 && m == 0 {
			continue
		}
		for i := range inners {
			s.inner[k][i] += f*v[i] + m*t[i]
		}
	}
}

// smoothable tells whether the element may be smooth when end i pulls with n.
func (e *element) smoothable(n float64, s *smoothLoad) bool {
	if e.bar {
		return true
	}
	if e.shear != [2]float64{} {
		return false
	}
	size := math.Abs(n + s.axial[0])
	for _, v := range s.axial[1:] {
		size += math.Abs(v)
	}
	return size*e.L*e.L <= smoothReach*e.weakest
}

// smoothState is stateUnder for a smooth element: stiffness when the node at end i pulls with n, and fixed-end forces with
// joints condensed from the first-order ones in f.
func (e *element) smoothState(n float64, s *smoothSum, st *state, f *[12]float64) {
	mean := n + s.axial[0]
	if e.slender[0] && e.slender[1] {
		k := mean / e.L
		bar := block{0: {0: k, 2: -k}, 2: {0: -k, 2: k}}
		st.plane = [2]block{bar, bar}
	} else {
		var g packed
		s.geometry(mean, &g)
		for p := range 2 {
			if e.slender[p] {
				k := mean / e.L
				st.plane[p] = block{0: {0: k, 2: -k}, 2: {0: -k, 2: k}}
				continue
			}
			v := planeOf(f, p)
			st.negJ += e.smoothPlane(p, &g, &s.inner[p], &st.plane[p], &v)
			st.negJ += st.planeC[p].condense(&st.plane[p], 4, &e.plane[p])
			putPlane(f, p, &v)
		}
	}
	e.condenseLoads(st, f)
	if e.arms {
		ends := [2]float64{n, n + s.drop}
		for end, sign := range [2]float64{1, -1} {
			a := &e.arm[end]
			st.arm[end] = sign * ends[end] * (a[0]*e.R[0][0] + a[1]*e.R[0][1] + a[2]*e.R[0][2])
		}
	}
}

// packed is a lower triangle of geometric stiffness over all shapes, row by row.
type packed [shapes * (shapes + 1) / 2]float64

// entry is one number of a packed triangle.
type entry struct {
	at int32
	v  float64
}

// evenPart lists what an even axial force of 1 puts into the triangle, and varying[j] is what term j of the expansion does.
var evenPart, varying = func() (even []entry, vary [axials]packed) {
	n := 0
	for a := range shapes {
		for b := range a + 1 {
			if v := geometric[0][a][b]; v != 0 {
				even = append(even, entry{int32(n), v})
			}
			for j := range axials {
				vary[j][n] = geometric[j][a][b]
			}
			n++
		}
	}
	return even, vary
}()

// settle sums what the variation of the axial force puts into the geometric stiffness, once all loads are in.
func (s *smoothSum) settle() {
	s.varies = false
	for j := 1; j < axials; j++ {
		c := s.axial[j]
		if c == 0 {
			continue
		}
		if !s.varies {
			s.variation, s.varies = packed{}, true
		}
		for n, v := range &varying[j] {
			s.variation[n] += c * v
		}
	}
}

// geometry sums the geometric stiffness under the mean axial force and the variation of s.
func (s *smoothSum) geometry(mean float64, g *packed) {
	if s.varies {
		*g = s.variation
	} else {
		*g = packed{}
	}
	for _, t := range evenPart {
		g[t.at] += mean * t.v
	}
}

// smoothPlane adds geometric stiffness g to plane p, eliminates the inner polynomials and returns the stiffness of the ends in
// k, with fixed-end forces added to f. The count is of negative pivots.
func (e *element) smoothPlane(p int, g *packed, inner *[inners]float64, k *block, f *[4]float64) (neg int) {
	m0 := e.EI[p] / e.L
	c := e.L / m0
	// Rows of y are the couplings of the inner polynomials to the four ends and to the load, reduced by L of the L·D·Lᵀ of
	// 1 + c·g; z is D⁻¹y.
	var y, z [inners][5]float64
	var l [inners][inners]float64
	var inv [inners]float64
	for a := range inners {
		at := triangle(4+a, 0)
		row := g[at : at+5+a]
		ya := &y[a]
		for end := range 4 {
			ya[end] = c * row[end]
		}
		ya[4] = inner[a] / m0
		d := 1 + c*row[4+a]
		for b := range a {
			t := c * row[4+b]
			for m := range b {
				t -= l[a][m] * l[b][m]
			}
			l[a][b] = t // times D: unscaled until the row is done
		}
		for b := range a {
			t := l[a][b] * inv[b]
			d -= t * l[a][b]
			yb := &y[b]
			for i := range ya {
				ya[i] -= t * yb[i]
			}
			l[a][b] = t
		}
		if d < 0 {
			neg++
		}
		inv[a] = 1 / d
		for i, v := range ya {
			z[a][i] = v * inv[a]
		}
	}
	unit := [4]float64{1 / e.L, 1, 1 / e.L, 1}
	*k = bend(e.EI[p], 0, e.L)
	for a := range 4 {
		ma := m0 * unit[a]
		at := triangle(a, 0)
		for b := range a + 1 {
			t := c*g[at+b] - y[0][a]*z[0][b] - y[1][a]*z[1][b] - y[2][a]*z[2][b] - y[3][a]*z[3][b]
			t *= ma * unit[b]
			k[a][b] += t
			if a != b {
				k[b][a] += t
			}
		}
		f[a] += ma * (y[0][a]*z[0][4] + y[1][a]*z[1][4] + y[2][a]*z[2][4] + y[3][a]*z[3][4])
	}
	return neg
}
