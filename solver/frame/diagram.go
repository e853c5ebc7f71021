package frame

import (
	"fmt"
	"math"

	"leanbay/solver"
)

// Diagram fills d with the exact internal forces and deflections along member m of the structure that was analysed. It
// panics if the answer is of an earlier Load, or not stable.
func (r *Result) Diagram(m int, d *solver.Diagram) { r.draw(m, 2, d) }

// MajorCurve is Diagram with the bending about the major axis and N and T alone: what MaxChordDeflection along local y asks for, to the same
// bits.
func (r *Result) MajorCurve(m int, d *solver.Diagram) { r.draw(m, 1, d) }

// draw draws a member in the first of its planes, and along it if that is both.
func (r *Result) draw(m, planes int, d *solver.Diagram) {
	w := r.current()
	if m < 0 || m >= len(w.m.members) {
		panic(fmt.Sprintf("frame: Diagram: member %d of %d", m, len(w.m.members)))
	}
	d.Reset()
	start := 0.0
	for _, e := range w.m.members[m] {
		w.draw(r, e, planes, start, d)
		start += w.els[e].L
	}
	d.Length = start
}

// draw appends the pieces of element e, which begins at station start, in the first of its planes, and along it if that is both.
func (w *Workspace) draw(r *Result, e, planes int, start float64, d *solver.Diagram) {
	el, t := &w.els[e], &w.m.elements[e]
	b := &w.so.strips
	b.gather(w.loads.on(e), w.loads.places.under(e, r.factors), r.factors, el.L)
	b.setAxial(-r.Ends[e][0])
	second := r.Analysis.second() && !r.Slack[e]
	if second {
		b.refine(el, 0)
	} else {
		b.fine = append(b.fine[:0], b.spans...)
	}
	u := el.local(r.U[6*t.i:6*t.i+6], r.U[6*t.j:6*t.j+6])
	first := len(d.Pieces)
	twist := -r.Ends[e][3]
	for i := range b.fine {
		s := &b.fine[i]
		twist -= s.M[0]
		d.Pieces = append(d.Pieces, solver.Piece{X: start + s.x0, L: s.l, N: s.n, T: twist})
	}
	pieces := d.Pieces[first:]
	if planes == 2 {
		el.drawAxial(b.fine, pieces, u[0], u[6])
	}
	for p := range planes {
		v, f := planeOf(&u, p), planeOf(&r.Ends[e], p)
		switch {
		case second && v == [4]float64{} && f == [4]float64{} && b.idle(p): // as across a plane frame: the curves are nothing
		case el.slender[p]:
			el.drawSlender(p, b.fine, pieces, v, f, second)
		case second:
			w.drawChain(el, p, pieces, v)
		default:
			el.drawBeam(p, b.fine, pieces, v, f, w.fixedOf(r, e))
		}
	}
}

// idle tells whether nothing acts in plane p on the spans, or at their end.
func (b *stripSet) idle(p int) bool {
	ax, turn := deflDOF[p], turnDOF[p]-3
	for i := range b.spans {
		if s := &b.spans[i]; s.q0[ax] != 0 || s.q1[ax] != 0 || s.F[ax] != 0 || s.M[turn] != 0 {
			return false
		}
	}
	return b.tailF[ax] == 0 && b.tailM[turn] == 0
}

// drawAxial integrates the axial displacement from the end that is joined to its node.
func (e *element) drawAxial(strips []strip, pieces []solver.Piece, ui, uj float64) {
	u := 0.0
	for i := range strips {
		s, p := &strips[i], &pieces[i]
		c := s.l / e.EA
		p.Ux.Len = 4
		p.Ux.C = [solver.Terms]float64{u, s.n[0] * c, s.n[1] * c / 2, s.n[2] * c / 3}
		u += c * (s.n[0] + s.n[1]/2 + s.n[2]/3)
	}
	shift := ui
	if e.axial.k[0] == 0 { // released at i: hang it on j
		shift = uj - u
	}
	for i := range pieces {
		pieces[i].Ux.C[0] += shift
	}
}

// put writes a plane's column to a piece in units; s is the plane's sign.
func put(p *solver.Piece, plane int, c *column, terms int, ei, l float64) {
	m, v, q := &p.Mz, &p.Uy, &p.Vy
	if plane == 1 {
		m, v, q = &p.My, &p.Uz, &p.Vz
	}
	m.Len, v.Len = terms, terms
	sg := planeSign[plane] * ei / l
	for k := range terms {
		m.C[k] = sg * c.m[k]
		v.C[k] = l * c.v[k]
	}
	for k := range q {
		q[k] = c.q[k] * ei / (l * l)
	}
	if terms == 6 { // first order: the moment is a cubic
		m.Len = 4
	}
}

// drawBeam draws a plane in first order: from the state at end i by exact integration.
func (e *element) drawBeam(p int, strips []strip, pieces []solver.Piece, v, f [4]float64, fixed [12]float64) {
	k := bend(e.EI[p], e.shear[p], e.L)
	v = e.plane[p].behind(&k, planeOf(&fixed, p), v)
	ei := e.EI[p]
	defl, slope, q, m := v[0], v[1], -f[0], -f[1]
	for i := range strips {
		s := &strips[i]
		q -= s.F[deflDOF[p]]
		m -= planeSign[p] * s.M[turnDOF[p]-3]
		th := newTheory(&[3]float64{}, ei, e.shear[p], 0, s.l)
		var c column
		c.v[0], c.t[0], c.m[0], c.q[0] = defl/s.l, slope, m*s.l/ei, q*s.l*s.l/ei
		scale := s.l * s.l * s.l / ei
		th.solve(&c, s.q0[deflDOF[p]]*scale, (s.q1[deflDOF[p]]-s.q0[deflDOF[p]])*scale)
		put(&pieces[i], p, &c, th.terms, ei, s.l)
		defl, slope = sum(&c.v, th.terms)*s.l, sum(&c.t, th.terms)
		m, q = sum(&c.m, th.terms)*ei/s.l, sum(&c.q, th.terms)*ei/(s.l*s.l)
	}
}

// drawSlender draws a plane without bending stiffness, or of a bar: a simple beam between its ends for its own loads. In
// second order the axial force acts on the straight chord.
func (e *element) drawSlender(p int, strips []strip, pieces []solver.Piece, v, f [4]float64, second bool) {
	ei := e.EI[p]
	chord := (v[2] - v[0]) / e.L
	unit := ei
	if unit == 0 {
		unit = 1
	}
	defl, slope, q, m := 0.0, 0.0, -f[0], 0.0
	for i := range strips {
		s := &strips[i]
		ax := deflDOF[p]
		q -= s.F[ax]
		m -= planeSign[p] * s.M[turnDOF[p]-3]
		var c column
		c.v[0], c.t[0], c.m[0] = defl/s.l, slope, m*s.l/unit
		cut := s.l * s.l / unit
		c.q[0], c.q[1], c.q[2] = q*cut, -s.q0[ax]*s.l*cut, -(s.q1[ax]-s.q0[ax])*s.l*cut/2
		for k := range 3 {
			push := -c.q[k]
			if second {
				push += s.n[k] * chord * cut
			}
			c.m[k+1] = push / float64(k+1)
		}
		if ei > 0 {
			for k := range 4 {
				c.t[k+1] = c.m[k] / float64(k+1)
			}
			for k := range 5 {
				c.v[k+1] = c.t[k] / float64(k+1)
			}
		}
		put(&pieces[i], p, &c, 6, unit, s.l)
		defl, slope = sum(&c.v, 6)*s.l, sum(&c.t, 6)
		m, q = sum(&c.m, 6)*unit/s.l, sum(&c.q, 6)/cut
	}
	e.closeChord(p, pieces, v, defl)
}

// closeChord turns the deflections of a simple beam, drawn from zero with zero slope and arriving at defl, so that they
// meet the displaced ends.
func (e *element) closeChord(p int, pieces []solver.Piece, v [4]float64, defl float64) {
	slope := (v[2] - v[0] - defl) / e.L
	x := 0.0
	for i := range pieces {
		c := &pieces[i].Uy
		if p == 1 {
			c = &pieces[i].Uz
		}
		c.C[0] += v[0] + slope*x
		c.C[1] += slope * pieces[i].L
		x += pieces[i].L
	}
}

// drawChain draws a plane under axial force: the chain's junctions are found again from its ends, and every strip is
// drawn between its own two ends, which stays accurate however slender the element is.
func (w *Workspace) drawChain(e *element, p int, pieces []solver.Piece, v [4]float64) {
	b := &w.so.strips
	n := len(b.fine)
	w.so.inner = zeroed(w.so.inner, n)
	w.so.at = zeroed(w.so.at, n+1)
	k, _ := b.chain(e, p, 0, w.so.inner)
	kb, f := k.asBlock()
	v = e.plane[p].behind(&kb, f, v)
	runs := len(b.links)
	w.so.at[0], w.so.at[runs] = [2]float64{v[0], v[1]}, [2]float64{v[2], v[3]}
	for r := runs - 1; r >= 1; r-- {
		w.so.at[r] = w.so.inner[r-1].find(w.so.at[0], w.so.at[r+1])
	}
	for i, r := 0, 0; i < n; r++ {
		m, l := b.runs[r], &b.links[r]
		a, z := w.so.at[r], w.so.at[r+1]
		fa, fz := l.ii.vec(a), l.ij.vec(z)
		e.drawRun(p, b.fine[i:i+m], pieces[i:i+m], a, [2]float64{-(fa[0] + fz[0] + l.fi[0]), -(fa[1] + fz[1] + l.fi[1])})
		i += m
	}
}

// drawRun draws the strips of a run, one after the other, from the displacements u and the forces f at its start.
func (e *element) drawRun(p int, strips []strip, pieces []solver.Piece, u, f [2]float64) {
	ei, ax := e.EI[p], deflDOF[p]
	for i := range strips {
		s := &strips[i]
		if i > 0 {
			f[0] -= s.F[ax]
			f[1] -= planeSign[p] * s.M[turnDOF[p]-3]
		}
		th := newTheory(&s.n, ei, e.shear[p], 0, s.l)
		var c column
		c.v[0], c.t[0], c.m[0], c.q[0] = u[0]/s.l, u[1], f[1]*s.l/ei, f[0]*s.l*s.l/ei
		scale := s.l * s.l * s.l / ei
		th.solve(&c, s.q0[ax]*scale, (s.q1[ax]-s.q0[ax])*scale)
		put(&pieces[i], p, &c, th.terms, ei, s.l)
		u = [2]float64{sum(&c.v, th.terms) * s.l, sum(&c.t, th.terms)}
		f = [2]float64{sum(&c.q, th.terms) * ei / (s.l * s.l), sum(&c.m, th.terms) * ei / s.l}
	}
}

// find returns the displacements of a junction from those of the chain's start and of the next strip's end.
func (in *inner) find(i, j [2]float64) [2]float64 {
	a, b := in.toI.vec(i), in.toJ.vec(j)
	return in.inv.vec([2]float64{in.r[0] - a[0] - b[0], in.r[1] - a[1] - b[1]})
}

// behind returns the displacements of the element's own ends from those of the nodes v, through joints j: the element's
// force K·x + f equals the spring's pull (none at a release). Freedoms that nothing holds follow the node.
func (j *joint) behind(k *block, f [4]float64, v [4]float64) [4]float64 {
	if !j.loose {
		return v
	}
	var a [4][5]float64
	for r := range 4 {
		if math.IsInf(j.k[r], 1) {
			a[r][r], a[r][4] = 1, v[r]
			continue
		}
		a[r][4] = j.k[r]*v[r] - f[r]
		for c := range 4 {
			if math.IsInf(j.k[c], 1) {
				a[r][4] -= k[r][c] * v[c]
			} else {
				a[r][c] = k[r][c]
			}
		}
		a[r][r] += j.k[r]
	}
	return eliminate(&a, &v, j, k)
}

// eliminate solves the 4x4 system a, whose rigid freedoms are uncoupled; a null pivot keeps the value of v.
func eliminate(a *[4][5]float64, v *[4]float64, j *joint, k *block) (x [4]float64) {
	null := func(c int) bool {
		return !math.IsInf(j.k[c], 1) && math.Abs(a[c][c]) <= nullJoint*math.Abs(k[c][c])
	}
	for c := range 3 {
		if null(c) {
			continue
		}
		for r := c + 1; r < 4; r++ {
			t := a[r][c] / a[c][c]
			for m := c; m < 5; m++ {
				a[r][m] -= t * a[c][m]
			}
		}
	}
	for c := 3; c >= 0; c-- {
		if null(c) {
			x[c] = v[c]
			continue
		}
		s := a[c][4]
		for m := c + 1; m < 4; m++ {
			s -= a[c][m] * x[m]
		}
		x[c] = s / a[c][c]
	}
	return x
}

// fixedOf sums the fixed-end forces (joints not condensed) of element e in the answer's combination.
func (w *Workspace) fixedOf(r *Result, e int) (f [12]float64) {
	loads := w.loads.on(e)
	for i := range loads {
		if factor := r.factors[loads[i].caseNo]; factor != 0 {
			var one [12]float64
			w.els[e].addFixed(&loads[i], &one)
			for k := range f {
				f[k] += factor * one[k]
			}
		}
	}
	for _, p := range w.loads.places.under(e, r.factors) {
		w.els[e].addFixedPoint(p.a, &p.f, &[3]float64{}, &f)
	}
	return f
}

// current is the workspace of a stable answer that can still be drawn; it panics for another.
func (r *Result) current() *Workspace {
	if r.w == nil || r.load != r.w.loadNo || !r.Stable {
		panic("frame: Diagram: the answer is not stable, or its workspace has been loaded again")
	}
	return r.w
}
