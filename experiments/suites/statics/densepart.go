package statics

import (
	"math"

	"leanbay/solver"
)

// part is one member of the dense routine: cut into elements, inner freedoms eliminated.
type part struct {
	gk       [12][12]float64 // at the nodes, global
	gf       [12]float64
	negative int // negative pivots met inside
	r        [3][3]float64
	l, ea    float64
	cuts     int
	share    float64 // of stiffness: 1, token, or 0 for a member left out
	lk       [][]float64
	lf       []float64
	steps    []step
	place    [][6]int // freedom of each cut point
}

// step records an eliminated freedom: u[k] = f - row·u.
type step struct {
	k   int
	row []float64
	f   float64
}

// tokenShare is the stiffness that a slack member keeps while the set is searched.
const tokenShare = 1e-7

// part builds element e under lambda times its axial forces.
func (d *denseFrame) part(e int, lambda float64) *part {
	el := &d.s.Elements[e]
	p := &part{ea: el.E * el.A, cuts: d.cutsOf(e), share: 1}
	p.r, p.l = d.axes(e)
	switch {
	case d.gone[e]:
		p.share = 0
	case d.token[e]:
		p.share = tokenShare
	}
	p.numberInside(el, d.bar(e))
	h := p.l / float64(p.cuts)
	for c := range p.cuts {
		n := lambda * d.axial[e][c]
		p.addCut(el, c, h, n, d.bar(e))
	}
	d.addLoads(e, p, h)
	for k := len(p.lk) - 1; k >= 12; k-- {
		p.eliminateInside(k)
	}
	p.toGlobal()
	return p
}

// numberInside numbers local freedoms: 0..11 at the nodes; ends that are released or sprung, and inner points, follow.
func (p *part) numberInside(el *solver.Element, bar bool) {
	next := 12
	springs := [][3]float64{}
	for c := range p.cuts + 1 {
		var at [6]int
		for k := range 6 {
			outer, released, spring := -1, false, 0.0
			switch c {
			case 0:
				outer, released, spring = k, el.ReleaseI[k], el.SpringI[k]
			case p.cuts:
				outer, released, spring = 6+k, el.ReleaseJ[k], el.SpringJ[k]
			}
			if outer >= 0 && (bar || !released && spring == 0) {
				at[k] = outer
				continue
			}
			at[k] = next
			if spring > 0 {
				springs = append(springs, [3]float64{float64(outer), float64(next), spring})
			}
			next++
		}
		p.place = append(p.place, at)
	}
	p.lk = make([][]float64, next)
	for i := range p.lk {
		p.lk[i] = make([]float64, next)
	}
	p.lf = make([]float64, next)
	for _, s := range springs {
		i, j := int(s[0]), int(s[1])
		p.lk[i][i] += s[2]
		p.lk[j][j] += s[2]
		p.lk[i][j] -= s[2]
		p.lk[j][i] -= s[2]
	}
}

// addCut adds the element between cut points c and c+1: cubic bending with its geometric stiffness.
func (p *part) addCut(el *solver.Element, c int, h, n float64, bar bool) {
	a, b := p.place[c], p.place[c+1]
	n *= p.share
	pair := func(i, j int, k float64) {
		p.lk[i][i] += k
		p.lk[j][j] += k
		p.lk[i][j] -= k
		p.lk[j][i] -= k
	}
	pair(a[0], b[0], p.share*p.ea/h)
	if bar {
		pair(a[1], b[1], n/h)
		pair(a[2], b[2], n/h)
		return
	}
	pair(a[3], b[3], el.G*el.It/h)
	for plane, ei := range [2]float64{el.E * el.Iz, el.E * el.Iy} {
		sign := 1.0
		dofs := [4]int{a[1], a[5], b[1], b[5]}
		if plane == 1 {
			sign = -1
			dofs = [4]int{a[2], a[4], b[2], b[4]}
		}
		s := [4]float64{1, sign, 1, sign}
		k := ei / (h * h * h)
		g := n / (30 * h)
		m := [4][4]float64{
			{12*k + 36*g, 6*k*h + 3*g*h, -12*k - 36*g, 6*k*h + 3*g*h},
			{0, 4*k*h*h + 4*g*h*h, -6*k*h - 3*g*h, 2*k*h*h - g*h*h},
			{0, 0, 12*k + 36*g, -6*k*h - 3*g*h},
			{0, 0, 0, 4*k*h*h + 4*g*h*h},
		}
		for i := range 4 {
			for j := range 4 {
				v := m[min(i, j)][max(i, j)] * s[i] * s[j]
				p.lk[dofs[i]][dofs[j]] += v
			}
		}
	}
}

// addLoads puts the member's loads on the cut points by the elements' own shapes.
func (d *denseFrame) addLoads(e int, p *part, h float64) {
	el := &d.s.Elements[e]
	for _, l := range d.lc.Line {
		if l.Member != el.Member {
			continue
		}
		for c := range p.cuts {
			lo, hi := max(l.From, float64(c)*h), min(l.To, float64(c+1)*h)
			if hi <= lo {
				continue
			}
			for _, g := range [3][2]float64{{0.5 - math.Sqrt(0.15), 5.0 / 18}, {0.5, 8.0 / 18}, {0.5 + math.Sqrt(0.15), 5.0 / 18}} {
				x := lo + g[0]*(hi-lo)
				t := (x - l.From) / (l.To - l.From)
				q := [3]float64{l.Q1.X + t*(l.Q2.X-l.Q1.X), l.Q1.Y + t*(l.Q2.Y-l.Q1.Y), l.Q1.Z + t*(l.Q2.Z-l.Q1.Z)}
				q = p.localLoad(q, l.Axes, l.Projected)
				for k := range q {
					q[k] *= g[1] * (hi - lo)
				}
				p.addPoint(c, x-float64(c)*h, h, q, d.bar(e))
			}
		}
	}
	for _, l := range d.lc.Point {
		if l.Member != el.Member {
			continue
		}
		c := min(int(l.At/h), p.cuts-1)
		p.addPoint(c, l.At-float64(c)*h, h, p.localLoad([3]float64{l.F.X, l.F.Y, l.F.Z}, l.Axes, false), d.bar(e))
	}
	if w := el.Density * el.A * 9.80665; w > 0 {
		for c := range p.cuts {
			q := p.localLoad([3]float64{d.lc.SelfWeight.X * w, d.lc.SelfWeight.Y * w, d.lc.SelfWeight.Z * w}, solver.GlobalAxes, false)
			for _, x := range [2]float64{0.5 - math.Sqrt(1.0/12), 0.5 + math.Sqrt(1.0/12)} {
				p.addPoint(c, x*h, h, [3]float64{q[0] * h / 2, q[1] * h / 2, q[2] * h / 2}, d.bar(e))
			}
		}
	}
}

func (p *part) localLoad(q [3]float64, axes solver.LoadAxes, projected bool) (o [3]float64) {
	if axes == solver.LocalAxes {
		return q
	}
	for i := range 3 {
		o[i] = p.r[i][0]*q[0] + p.r[i][1]*q[1] + p.r[i][2]*q[2]
	}
	if size := math.Sqrt(q[0]*q[0] + q[1]*q[1] + q[2]*q[2]); projected && size > 0 {
		s := math.Hypot(o[1], o[2]) / size
		o = [3]float64{o[0] * s, o[1] * s, o[2] * s}
	}
	return o
}

// addPoint puts a force at x of the element that begins at cut point c.
func (p *part) addPoint(c int, x, h float64, q [3]float64, bar bool) {
	a, b := p.place[c], p.place[c+1]
	t := x / h
	p.lf[a[0]] += q[0] * (1 - t)
	p.lf[b[0]] += q[0] * t
	n := [4]float64{1 - 3*t*t + 2*t*t*t, h * (t - 2*t*t + t*t*t), 3*t*t - 2*t*t*t, h * (t*t*t - t*t)}
	if bar {
		n = [4]float64{1 - t, 0, t, 0}
	}
	for k, d := range [4]int{a[1], a[5], b[1], b[5]} {
		p.lf[d] += q[1] * n[k]
	}
	for k, d := range [4]int{a[2], a[4], b[2], b[4]} {
		p.lf[d] += q[2] * n[k] * [4]float64{1, -1, 1, -1}[k]
	}
}

// eliminate takes freedom k out of the symmetric matrix a (rows above k are left as they are used no more) and of f.
func eliminate(a [][]float64, f []float64, k int) {
	pivot := a[k][k]
	if pivot == 0 {
		return
	}
	var with []int // freedoms that k is coupled to
	for i, v := range a[k][:k] {
		if v != 0 {
			with = append(with, i)
		}
	}
	for _, i := range with {
		t := a[i][k] / pivot
		for _, j := range with {
			a[i][j] -= t * a[k][j]
		}
		if f != nil {
			f[i] -= t * f[k]
		}
	}
}

// eliminateInside takes the last freedom k out and keeps what brings it back.
func (p *part) eliminateInside(k int) {
	pivot := p.lk[k][k]
	if pivot == 0 { // nothing holds it: it stays at rest
		p.steps = append(p.steps, step{k: k, row: make([]float64, k)})
		return
	}
	if pivot < 0 {
		p.negative++
	}
	s := step{k: k, row: make([]float64, k), f: p.lf[k] / pivot}
	for j := range k {
		s.row[j] = p.lk[k][j] / pivot
	}
	p.steps = append(p.steps, s)
	eliminate(p.lk, p.lf, k)
}

// toGlobal turns the twelve outer freedoms to global axes.
func (p *part) toGlobal() {
	for a := range 12 {
		for i := range 3 {
			p.gf[3*(a/3)+i] += p.r[a%3][i] * p.lf[a]
		}
		for b := range 12 {
			v := p.lk[a][b]
			if v == 0 {
				continue
			}
			for i := range 3 {
				for j := range 3 {
					p.gk[3*(a/3)+i][3*(b/3)+j] += p.r[a%3][i] * v * p.r[b%3][j]
				}
			}
		}
	}
}

// recover returns end forces and the axial force of every cut from the global displacements of the nodes.
func (p *part) recover(u [12]float64) (ends [12]float64, axial []float64) {
	x := make([]float64, len(p.lk))
	for a := range 12 {
		for i := range 3 {
			x[a] += p.r[a%3][i] * u[3*(a/3)+i]
		}
	}
	for a := range 12 {
		ends[a] = -p.lf[a]
		for b := range 12 {
			ends[a] += p.lk[a][b] * x[b]
		}
	}
	for i := len(p.steps) - 1; i >= 0; i-- {
		s := &p.steps[i]
		x[s.k] = s.f
		for j, v := range s.row {
			x[s.k] -= v * x[j]
		}
	}
	h := p.l / float64(p.cuts)
	for c := range p.cuts {
		axial = append(axial, p.share*p.ea/h*(x[p.place[c+1][0]]-x[p.place[c][0]]))
	}
	return ends, axial
}
