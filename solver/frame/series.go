package frame

import (
	"math"

	"leanbay/solver"
)

// strip is a stretch of an element without a jump inside, under axial force that is known. All of it is in local axes and
// per the element's stations; polynomials are in ξ = (x - x0)/l.
type strip struct {
	x0, l  float64
	n      [3]float64 // axial force N0 + N1 ξ + N2 ξ², tension positive (N)
	q0, q1 [3]float64 // line load at its start and end (N/m)
	F, M   [3]float64 // point force and moment at its start (N, N·m)
}

// column is a deflected strip in one plane as power series in ξ, dimensionless: v/l, θ, M·l/EI and V·l²/EI.
type column struct {
	v, t, m, q [solver.Terms]float64
}

// theory is what a strip in one plane obeys, dimensionless.
type theory struct {
	n     [3]float64 // N·l²/EI
	shear float64    // EI/(G As l²)
	mu    float64    // ρA ω² l⁴/EI, in vibration
	terms int
}

// termLimit[k] is the greatest |N|·l²/EI for which k+1 terms of the series leave less than 1e-16.
var termLimit = func() (t [solver.Terms]float64) {
	for k := 1; k < solver.Terms; k++ {
		lg, _ := math.Lgamma(float64(k + 1))
		t[k] = math.Exp((lg - 16*math.Ln10) * 2 / float64(k))
	}
	return t
}()

// maxReach is the greatest |N|·l²/EI (and √μ) of a strip: the series then converges to round-off in its 26 terms, and no
// strip can buckle between held ends, which takes 4π².
const maxReach = 4.0

func newTheory(n *[3]float64, ei, shear, mu, l float64) theory {
	c := l * l / ei
	th := theory{n: [3]float64{n[0] * c, n[1] * c, n[2] * c}, shear: shear * ei / (l * l), mu: mu * l * l * l * l / ei}
	th.terms = 6
	if r := max(math.Abs(th.n[0])+math.Abs(th.n[1])+math.Abs(th.n[2]), math.Sqrt(math.Abs(th.mu))); r > 0 {
		k := 5
		for k < solver.Terms-2 && termLimit[k] < r {
			k++
		}
		th.terms = k + 2
	}
	return th
}

// solve fills c from its start values c.v[0], c.t[0], c.m[0], c.q[0] under the load q0 + q1 ξ (dimensionless, q·l³/EI).
//
// The equations are those of a Timoshenko beam under axial force in moderate rotations (Engesser): θ' = M/EI,
// v' = (θ + V/GA)/(1 + N/GA), M' = -V + N v', V' = -q - ρAω² v. V and N are along the undeformed axes.
func (th *theory) solve(c *column, q0, q1 float64) {
	g := th.shear
	d := 1 / (1 + g*th.n[0])
	n0, n1, n2 := th.n[0], th.n[1], th.n[2]
	s1, s2 := 0.0, 0.0 // slopes of order k-1 and k-2
	for k := range th.terms - 1 {
		inv := 1 / float64(k+1)
		lower := n1*s1 + n2*s2
		s := (c.t[k] + g*(c.q[k]-lower)) * d
		load := th.mu * c.v[k]
		switch k {
		case 0:
			load += q0
		case 1:
			load += q1
		}
		c.t[k+1] = c.m[k] * inv
		c.m[k+1] = (n0*s + lower - c.q[k]) * inv
		c.q[k+1] = -load * inv
		c.v[k+1] = s * inv
		s1, s2 = s, s1
	}
}

// sum evaluates a series at ξ = 1, smallest terms first.
func sum(a *[solver.Terms]float64, terms int) float64 {
	s := 0.0
	for k := terms - 1; k >= 0; k-- {
		s += a[k]
	}
	return s
}

type mat2 [2][2]float64

func (a *mat2) mul(b *mat2) (c mat2) {
	for i := range 2 {
		for j := range 2 {
			c[i][j] = a[i][0]*b[0][j] + a[i][1]*b[1][j]
		}
	}
	return c
}

func (a *mat2) vec(v [2]float64) [2]float64 {
	return [2]float64{a[0][0]*v[0] + a[0][1]*v[1], a[1][0]*v[0] + a[1][1]*v[1]}
}

func (a *mat2) transpose() mat2 { return mat2{{a[0][0], a[1][0]}, {a[0][1], a[1][1]}} }

func (a *mat2) inverse() mat2 {
	d := 1 / (a[0][0]*a[1][1] - a[0][1]*a[1][0])
	return mat2{{a[1][1] * d, -a[0][1] * d}, {-a[1][0] * d, a[0][0] * d}}
}

// link is the stiffness of a strip or of a chain of strips in one plane between its two ends, each with (deflection,
// slope), and its fixed-end forces: what the ends are pushed with.
type link struct {
	ii, ij, jj mat2
	fi, fj     [2]float64
}

// over[k] is 1/(k+1).
var over = func() (o [solver.Terms + 4]float64) {
	for k := range o {
		o[k] = 1 / float64(k+1)
	}
	return o
}()

// end is the state at ξ = 1: v/l, θ, M·l/EI, V·l²/EI.
type end struct{ v, t, m, q float64 }

// arriveAll sums the series of solve at ξ = 1, without keeping their terms, for the starts V = 1, M = 1, θ = 1 and for the
// load q0 + q1 ξ from rest, of a strip that does not vibrate. Four independent recurrences side by side keep the processor busy.
func (th *theory) arriveAll(q0, q1 float64) (v, m, t, q end) {
	g := th.shear
	n0, n1, n2 := th.n[0], th.n[1], th.n[2]
	d := 1 / (1 + g*n0)
	// Order 0 and 1 by hand: there V enters. Afterwards V has no terms but the load's.
	var (
		vt, vm, vs1, vs2 float64 // rotation and moment of the present order, slopes of the two orders before
		mt, mm, ms1, ms2 float64
		tt, tm, ts1, ts2 float64
		qt, qm, qs1, qs2 float64
	)
	vs1, ms1, ts1 = g*d, 0, d
	vm, vt = n0*vs1-1, 0
	mt, mm = 1, 0
	tt, tm = 0, n0*ts1
	v, m = end{v: vs1, t: vt, m: vm, q: 1}, end{v: 0, t: 1, m: 1}
	t, q = end{v: ts1, t: 1, m: tm}, end{q: -q0 - q1/2}
	load := [3]float64{0, -q0, -q1 / 2}
	for k := 1; k < th.terms-1; k++ {
		inv := over[k]
		vl, ml, tl, ql := n1*vs1+n2*vs2, n1*ms1+n2*ms2, n1*ts1+n2*ts2, n1*qs1+n2*qs2
		w := 0.0
		if k < 3 {
			w = load[k]
		}
		vs, ms, ts, qs := (vt-g*vl)*d, (mt-g*ml)*d, (tt-g*tl)*d, (qt+g*(w-ql))*d
		vt, mt, tt, qt = vm*inv, mm*inv, tm*inv, qm*inv
		vm, mm, tm, qm = (n0*vs+vl)*inv, (n0*ms+ml)*inv, (n0*ts+tl)*inv, (n0*qs+ql-w)*inv
		v.v += vs * inv
		m.v += ms * inv
		t.v += ts * inv
		q.v += qs * inv
		v.t += vt
		m.t += mt
		t.t += tt
		q.t += qt
		v.m += vm
		m.m += mm
		t.m += tm
		q.m += qm
		vs1, vs2, ms1, ms2, ts1, ts2, qs1, qs2 = vs, vs1, ms, ms1, ts, ts1, qs, qs1
	}
	return v, m, t, q
}

// arriveConst is arriveAll for the three starts under constant axial force without shear deformation: all
// follow from one entire function and its integrals (θ″ = nθ - V).
func (th *theory) arriveConst() (v, m, t end) {
	n := th.n[0]
	// s0..s3 are Σ nᵏ/(2k)!, Σ nᵏ/(2k+1)!, Σ nᵏ/(2k+2)!, Σ nᵏ/(2k+3)!.
	a := 1.0
	var s2, s3 float64
	for k := 0; 2*k < th.terms; k++ {
		i := 2 * k
		a2 := a * over[i] * over[i+1]
		s2 += a2
		s3 += a2 * over[i+2]
		a = a2 * n
	}
	s0, s1 := 1+n*s2, 1+n*s3
	t = end{v: s1, t: s0, m: n * s1}
	m = end{v: s2, t: s1, m: s0}
	v = end{v: -s3, t: -s2, m: -s1, q: 1}
	return v, m, t
}

// link computes the exact stiffness and fixed-end forces of the strip in plane p.
func (st *strip) link(p int, ei, shear, mu float64) link {
	th := newTheory(&st.n, ei, shear, mu, st.l)
	if mu != 0 {
		return st.dynamicLink(&th, p, ei)
	}
	axis := deflDOF[p]
	scale := st.l * st.l * st.l / ei
	q0, q1 := st.q0[axis]*scale, (st.q1[axis]-st.q0[axis])*scale
	var V, M, T, Q end
	if loaded := q0 != 0 || q1 != 0; !loaded && th.shear == 0 && th.n[1] == 0 && th.n[2] == 0 {
		V, M, T = th.arriveConst()
	} else {
		V, M, T, Q = th.arriveAll(q0, q1)
	}
	tab := mat2{{V.v, M.v}, {V.t, M.t}}
	tbb := mat2{{1, 0}, {V.m, M.m}}
	taa := mat2{{1, T.v}, {0, T.t}}
	inv := tab.inverse()
	k := newLink(&inv, &tbb, &taa)
	k.fi = inv.vec([2]float64{Q.v, Q.t})
	back := tbb.vec(k.fi)
	k.fj = [2]float64{Q.q - back[0], Q.m - back[1]}
	k.dimension(ei, st.l)
	return k
}

// newLink turns transfer submatrices (from deflections a and forces b at the start to those at the end) into stiffness;
// inv is the inverse of that from forces to deflections.
func newLink(inv, tbb, taa *mat2) (k link) {
	k.ii, k.jj = inv.mul(taa), tbb.mul(inv)
	k.ij = mat2{{-inv[0][0], -inv[0][1]}, {-inv[1][0], -inv[1][1]}}
	return k
}

// dynamicLink is link for a strip that vibrates (no loads).
func (st *strip) dynamicLink(th *theory, p int, ei float64) link {
	var c [4]column // start values: V, M, θ, v
	c[0].q[0], c[1].m[0], c[2].t[0], c[3].v[0] = 1, 1, 1, 1
	for i := range c {
		th.solve(&c[i], 0, 0)
	}
	n := th.terms
	tab := mat2{{sum(&c[0].v, n), sum(&c[1].v, n)}, {sum(&c[0].t, n), sum(&c[1].t, n)}}
	tbb := mat2{{sum(&c[0].q, n), sum(&c[1].q, n)}, {sum(&c[0].m, n), sum(&c[1].m, n)}}
	taa := mat2{{sum(&c[3].v, n), sum(&c[2].v, n)}, {sum(&c[3].t, n), sum(&c[2].t, n)}}
	inv := tab.inverse()
	k := newLink(&inv, &tbb, &taa)
	k.dimension(ei, st.l)
	return k
}

// dimension gives a dimensionless link its units: deflections were over l, forces over EI/l², moments over EI/l.
func (k *link) dimension(ei, l float64) {
	f, m := ei/(l*l), ei/l
	for _, a := range [3]*mat2{&k.ii, &k.ij, &k.jj} {
		a[0][0] *= f / l
		a[0][1] *= f
		a[1][0] *= f
		a[1][1] *= m
	}
	k.ii[0][1], k.jj[0][1] = k.ii[1][0], k.jj[1][0] // symmetric but for round-off: make it so
	k.fi[0] *= f
	k.fi[1] *= m
	k.fj[0] *= f
	k.fj[1] *= m
}

// inner keeps what is needed to find the displacements of a junction again.
type inner struct {
	inv      mat2 // of the stiffness at the junction
	toI, toJ mat2 // couplings to the chain's start and to the next strip's end
	r        [2]float64
}

// join appends strip b to chain a over a junction loaded by force and moment (plane signs), eliminates the junction and
// returns the number of negative pivots there.
func join(a, b *link, force, moment float64, in *inner) (out link, neg int) {
	d := mat2{{a.jj[0][0] + b.ii[0][0], a.jj[0][1] + b.ii[0][1]}, {a.jj[1][0] + b.ii[1][0], a.jj[1][1] + b.ii[1][1]}}
	neg = negatives(&d)
	inv := d.inverse()
	toI := a.ij.transpose()
	in.inv, in.toI, in.toJ = inv, toI, b.ij
	in.r = [2]float64{force - a.fj[0] - b.fi[0], moment - a.fj[1] - b.fi[1]}
	aD, bT := a.ij.mul(&inv), b.ij.transpose()
	bD := bT.mul(&inv)
	sub := func(k *mat2, x mat2) mat2 {
		return mat2{{k[0][0] - x[0][0], k[0][1] - x[0][1]}, {k[1][0] - x[1][0], k[1][1] - x[1][1]}}
	}
	out.ii = sub(&a.ii, aD.mul(&toI))
	out.ij = sub(&mat2{}, aD.mul(&b.ij))
	out.jj = sub(&b.jj, bD.mul(&b.ij))
	ar, br := aD.vec(in.r), bD.vec(in.r)
	out.fi = [2]float64{a.fi[0] + ar[0], a.fi[1] + ar[1]}
	out.fj = [2]float64{b.fj[0] + br[0], b.fj[1] + br[1]}
	return out, neg
}

// negatives counts the negative eigenvalues of a symmetric 2x2 matrix.
func negatives(d *mat2) int {
	det := d[0][0]*d[1][1] - d[0][1]*d[1][0]
	switch {
	case det < 0:
		return 1
	case d[0][0] < 0 || d[1][1] < 0:
		return 2
	}
	return 0
}
