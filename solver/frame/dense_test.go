package frame

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/solver"
)

// An independent routine: every element is cut into equal parts of Timoshenko cubics whose geometric stiffness is
// integrated from the shape functions; hinges and end springs are extra unknowns at the ends, rigid arms are eliminated by
// a transformation, and the whole is solved densely by LU. It shares nothing with the package but the types.

type denseFrame struct {
	s     *solver.Structure
	parts int
	fine  int // points at which line loads are summed in a part
	n     int
	k     *mat.Dense
	f     *mat.VecDense
	node  [][6]int // unknowns of nodes, -1 held
	axial [][]float64
	u     []float64
}

// dof12 maps the ends of a part to unknowns: values are weighed sums (rigid arms).
type term struct {
	i int
	w float64
}

func (d *denseFrame) number() {
	d.n = 0
	d.node = make([][6]int, len(d.s.Nodes))
	for i := range d.s.Nodes {
		for c := range 6 {
			d.node[i][c] = -1
			if !d.s.Nodes[i].Held[c] {
				d.node[i][c] = d.n
				d.n++
			}
		}
	}
}

type axes3 [3][3]float64

func denseAxes(s *solver.Structure, e *solver.Element) (axes3, float64) {
	d := r3.Sub(r3.Add(s.Nodes[e.J].Pos, e.OffsetJ), r3.Add(s.Nodes[e.I].Pos, e.OffsetI))
	x := r3.Unit(d)
	z := r3.Unit(r3.Cross(x, e.YAxis))
	y := r3.Cross(z, x)
	return axes3{{x.X, x.Y, x.Z}, {y.X, y.Y, y.Z}, {z.X, z.Y, z.Z}}, r3.Norm(d)
}

// endTerms gives each local freedom at the end of an element at a node as sums of unknowns.
func (d *denseFrame) endTerms(node int, arm r3.Vec, r axes3) (t [6][]term) {
	a := [3]float64{arm.X, arm.Y, arm.Z}
	for l := range 3 {
		for g := range 3 {
			if i := d.node[node][g]; i >= 0 {
				t[l] = append(t[l], term{i, r[l][g]})
			}
			if i := d.node[node][3+g]; i >= 0 {
				t[3+l] = append(t[3+l], term{i, r[l][g]})
				// u += θ × a: rotation about g moves direction h by ε_{h g m} a_m
				h, m := (g+1)%3, (g+2)%3
				t[l] = append(t[l], term{i, r[l][h]*-a[m] + r[l][m]*a[h]})
			}
		}
	}
	return t
}

// partShape returns the slope and deflection shape functions of a cubic with shear at t in 0..1.
func partShape(t, l, phi float64) (v, dv [4]float64) {
	c := 1 / (1 + phi)
	v = [4]float64{c * (1 - 3*t*t + 2*t*t*t + phi*(1-t)), c * l * (t - 2*t*t + t*t*t + phi/2*(t-t*t)),
		c * (3*t*t - 2*t*t*t + phi*t), c * l * (-t*t + t*t*t + phi/2*(t*t-t))}
	dv = [4]float64{c * (-6*t + 6*t*t - phi) / l, c * (1 - 4*t + 3*t*t + phi/2*(1-2*t)), c * (6*t - 6*t*t + phi) / l,
		c * (-2*t + 3*t*t + phi/2*(2*t-1))}
	return v, dv
}

// loadAt gives the local line load of a case at station x of a one-element member, left and right values averaged.
func (d *denseFrame) loadAt(c *solver.Case, e int, r axes3, x float64) (q [3]float64) {
	for _, l := range c.Line {
		if l.Member != d.s.Elements[e].Member || x < l.From || x > l.To {
			continue
		}
		t := (x - l.From) / (l.To - l.From)
		v := r3.Add(r3.Scale(1-t, l.Q1), r3.Scale(t, l.Q2))
		g := [3]float64{v.X, v.Y, v.Z}
		for k := range 3 {
			if l.Axes == solver.LocalAxes {
				q[k] += g[k]
			} else {
				q[k] += r[k][0]*g[0] + r[k][1]*g[1] + r[k][2]*g[2]
			}
		}
	}
	return q
}

// assemble builds K + Kg(axial) and the loads; axial is per element and part (nil: first order).
func (d *denseFrame) assemble(axial [][]float64) {
	d.number()
	type row struct {
		r    axes3
		l    float64
		ends [][6][]term // at parts+1 stations
	}
	rows := make([]row, len(d.s.Elements))
	var springs []struct {
		a, b []term
		k    float64
	}
	for e := range d.s.Elements {
		el := &d.s.Elements[e]
		r, l := denseAxes(d.s, el)
		rw := row{r: r, l: l}
		for p := 0; p <= d.parts; p++ {
			var t [6][]term
			switch p {
			case 0, d.parts:
				node, arm, rel, spr := el.I, el.OffsetI, el.ReleaseI, el.SpringI
				if p > 0 {
					node, arm, rel, spr = el.J, el.OffsetJ, el.ReleaseJ, el.SpringJ
				}
				t = d.endTerms(node, arm, r)
				for c := range 6 {
					if rel[c] || spr[c] > 0 {
						own := []term{{d.n, 1}}
						d.n++
						if spr[c] > 0 {
							springs = append(springs, struct {
								a, b []term
								k    float64
							}{t[c], own, spr[c]})
						}
						t[c] = own
					}
				}
			default:
				for c := range 6 {
					t[c] = []term{{d.n, 1}}
					d.n++
				}
			}
			rw.ends = append(rw.ends, t)
		}
		rows[e] = rw
	}
	d.k, d.f = mat.NewDense(d.n, d.n, nil), mat.NewVecDense(d.n, nil)
	add := func(a, b []term, k float64) {
		for _, i := range a {
			for _, j := range b {
				d.k.Set(i.i, j.i, d.k.At(i.i, j.i)+k*i.w*j.w)
			}
		}
	}
	push := func(a []term, f float64) {
		for _, i := range a {
			d.f.SetVec(i.i, d.f.AtVec(i.i)+f*i.w)
		}
	}
	for _, s := range springs {
		add(s.a, s.a, s.k)
		add(s.b, s.b, s.k)
		add(s.a, s.b, -s.k)
		add(s.b, s.a, -s.k)
	}
	c := &d.s.Cases[0]
	for i := range d.s.Nodes {
		for k, s := range d.s.Nodes[i].Spring {
			if j := d.node[i][k]; j >= 0 {
				d.k.Set(j, j, d.k.At(j, j)+s)
			}
		}
	}
	for _, l := range c.Nodal {
		for k, v := range [6]float64{l.F.X, l.F.Y, l.F.Z, l.M.X, l.M.Y, l.M.Z} {
			if j := d.node[l.Node][k]; j >= 0 {
				d.f.SetVec(j, d.f.AtVec(j)+v)
			}
		}
	}
	for e := range d.s.Elements {
		el, rw := &d.s.Elements[e], &rows[e]
		h := rw.l / float64(d.parts)
		for p := range d.parts {
			a, b := &rw.ends[p], &rw.ends[p+1]
			for x, k := range map[int]float64{0: el.E * el.A / h, 3: el.G * el.It / h} {
				add(a[x], a[x], k)
				add(b[x], b[x], k)
				add(a[x], b[x], -k)
				add(b[x], a[x], -k)
			}
			for plane := range 2 {
				vi, ti, sg, ei, as := 1, 5, 1.0, el.E*el.Iz, el.Asy
				if plane == 1 {
					vi, ti, sg, ei, as = 2, 4, -1.0, el.E*el.Iy, el.Asz
				}
				phi := 0.0
				if as > 0 {
					phi = 12 * ei / (el.G * as * h * h)
				}
				dof := [4][]term{a[vi], a[ti], b[vi], b[ti]}
				sign := [4]float64{1, sg, 1, sg}
				c0 := ei / (h * h * h * (1 + phi))
				k := [4][4]float64{{12, 6 * h, -12, 6 * h}, {6 * h, (4 + phi) * h * h, -6 * h, (2 - phi) * h * h},
					{-12, -6 * h, 12, -6 * h}, {6 * h, (2 - phi) * h * h, -6 * h, (4 + phi) * h * h}}
				for i := range 4 {
					for j := range 4 {
						s := c0 * k[i][j]
						if axial != nil {
							for _, g := range gauss4 {
								_, dv := partShape(g[0], h, phi)
								s += axial[e][p] * h * g[1] * dv[i] * dv[j]
							}
						}
						add(dof[i], dof[j], s*sign[i]*sign[j])
					}
				}
				d.partLoads(c, e, rw.r, float64(p)*h, h, phi, vi, ti, sg, dof, push)
			}
			// axial and torsional loads: linear shapes; line loads by fine summation
			fine := d.fine
			for q := range fine {
				t := (float64(q) + 0.5) / float64(fine)
				f := d.loadAt(c, e, rw.r, (float64(p)+t)*h)[0] * h / float64(fine)
				push(a[0], f*(1-t))
				push(b[0], f*t)
			}
			for _, l := range c.Point {
				if l.Member == el.Member && l.At >= float64(p)*h && l.At < float64(p+1)*h {
					t := l.At/h - float64(p)
					F, M := turned(rw.r, l.F), turned(rw.r, l.M)
					push(a[0], F[0]*(1-t))
					push(b[0], F[0]*t)
					push(a[3], M[0]*(1-t))
					push(b[3], M[0]*t)
				}
			}
		}
	}
}

func turned(r axes3, v r3.Vec) (o [3]float64) {
	for k := range 3 {
		o[k] = r[k][0]*v.X + r[k][1]*v.Y + r[k][2]*v.Z
	}
	return o
}

var gauss4 = [4][2]float64{{0.0694318442029737, 0.1739274225687269}, {0.3300094782075719, 0.3260725774312731},
	{0.6699905217924281, 0.3260725774312731}, {0.9305681557970263, 0.1739274225687269}}

// partLoads adds the lateral loads of one part; point moments by the slope of the deflection shapes less the shear angle.
func (d *denseFrame) partLoads(c *solver.Case, e int, r axes3, x0, h, phi float64, vi, ti int, sg float64, dof [4][]term, push func([]term, float64)) {
	fine := d.fine
	for q := range fine {
		t := (float64(q) + 0.5) / float64(fine)
		f := d.loadAt(c, e, r, x0+t*h)[vi] * h / float64(fine)
		v, _ := partShape(t, h, phi)
		for i := range 4 {
			s := 1.0
			if i%2 == 1 {
				s = sg
			}
			push(dof[i], f*v[i]*s)
		}
	}
	for _, l := range c.Point {
		if l.Member != d.s.Elements[e].Member || l.At < x0 || l.At >= x0+h {
			continue
		}
		t := (l.At - x0) / h
		F, M := turned(r, l.F), turned(r, l.M)
		v, dv := partShape(t, h, phi)
		shear := phi / (1 + phi) // v' less the section's rotation is constant: of chord slope and mean end slope
		gamma := [4]float64{-shear / h, -shear / 2, shear / h, -shear / 2}
		for i := range 4 {
			s := 1.0
			if i%2 == 1 {
				s = sg
			}
			push(dof[i], (F[vi]*v[i]+sg*M[ti-3]*(dv[i]-gamma[i]))*s)
		}
	}
}

// solve returns the displacements of all nodes, six each.
func (d *denseFrame) solve(t testing.TB, axial [][]float64) []float64 {
	t.Helper()
	d.assemble(axial)
	var x mat.VecDense
	if err := x.SolveVec(d.k, d.f); err != nil {
		t.Logf("dense: %v", err)
	}
	out := make([]float64, 6*len(d.s.Nodes))
	for i := range d.node {
		for c, j := range d.node[i] {
			if j >= 0 {
				out[6*i+c] = x.AtVec(j)
			}
		}
	}
	return out
}

// compareU holds displacements to those of the dense routine.
func compareU(t *testing.T, what string, got, want []float64, tol float64) {
	t.Helper()
	size := [2]float64{}
	for i, v := range want {
		k := i % 6 / 3
		size[k] = max(size[k], math.Abs(v))
	}
	for i := range want {
		if diff := math.Abs(got[i] - want[i]); diff > tol*size[i%6/3] {
			t.Errorf("%s: node %d %v: got %.8g, dense %.8g", what, i/6+1, solver.DOF(i%6), got[i], want[i])
		}
	}
}

// TestAgainstDense compares first and second order with the independent routine on space frames with hinges, springs,
// arms, shear and loads along members. First order differs by the dense routine's summation of line loads; second order by
// its parts (6 an element).
func TestAgainstDense(t *testing.T) {
	for seed := range 3 {
		b := randomFrame(seed)
		d := &denseFrame{s: &b.s, parts: 2, fine: 4000}
		lin := run(t, &b.s, Linear)
		compareU(t, "linear", lin.U, d.solve(t, nil), 2e-5)

		// Second order under four times the load: about half of the critical one.
		for i := range b.s.Cases[0].Nodal {
			b.s.Cases[0].Nodal[i].F = r3.Scale(6, b.s.Cases[0].Nodal[i].F)
		}
		b.s.Elements[5].OffsetI, b.s.Elements[5].OffsetJ = r3.Vec{Z: 0.1}, r3.Vec{Z: 0.1} // arms across: no stiffness of their own under thrust
		sec := run(t, &b.s, SecondOrder)
		d = &denseFrame{s: &b.s, parts: 5, fine: 4000}
		axial := make([][]float64, len(b.s.Elements))
		var dia solver.Diagram
		for e := range axial { // the axial forces of the answer: the dense routine then has to find the same displacements
			sec.Diagram(e, &dia)
			axial[e] = make([]float64, d.parts)
			for p := range axial[e] {
				const fine = 100
				for q := range fine {
					axial[e][p] += dia.At(dia.Length * (float64(p) + (float64(q)+0.5)/fine) / float64(d.parts))[solver.N] / fine
				}
			}
		}
		compareU(t, "second order", sec.U, d.solve(t, axial), 2e-4)
		lin = run(t, &b.s, Linear)
		worst := 0.0
		for i := range lin.U {
			worst = max(worst, math.Abs(sec.U[i]-lin.U[i]))
		}
		size := 0.0
		for _, v := range lin.U {
			size = max(size, math.Abs(v))
		}
		t.Logf("seed %d: second order moves the greatest displacement by %.0f %%", seed, 100*worst/size)
	}
}

// TestBucklingAgainstDense brackets the lowest load factor of a space frame with hinges, springs, arms and shear by whether
// the independent routine's matrix (4 parts an element) has a Cholesky factor.
func TestBucklingAgainstDense(t *testing.T) {
	b := randomFrame(2)
	b.s.Elements[5].OffsetI, b.s.Elements[5].OffsetJ = r3.Vec{Z: 0.1}, r3.Vec{Z: 0.1}
	b.s.Cases[0] = solver.Case{ID: "1"}
	for i := range 12 {
		b.force(4+i, r3.Vec{X: 1e3, Z: -1e5 - 1e4*float64(i)}, r3.Vec{})
	}
	modes, r := buckle(t, &b.s, Linear, 3)
	definite := func(lambda float64) bool {
		d := &denseFrame{s: &b.s, parts: 4, fine: 1}
		axial := make([][]float64, len(b.s.Elements))
		for e := range axial {
			for range d.parts {
				axial[e] = append(axial[e], -lambda*r.Ends[e][0])
			}
		}
		d.assemble(axial)
		sym := mat.NewSymDense(d.n, nil)
		for i := range d.n {
			for j := i; j < d.n; j++ {
				sym.SetSym(i, j, d.k.At(i, j))
			}
		}
		var c mat.Cholesky
		return c.Factorize(sym)
	}
	if f := modes[0].Factor; !definite(f*0.9995) || definite(f*1.0005) {
		t.Errorf("factor %g: dense matrix definite just below %v, just above %v", f, definite(f*0.9995), definite(f*1.0005))
	}
	if modes[1].Factor < modes[0].Factor || modes[2].Factor < modes[1].Factor {
		t.Errorf("not ascending: %g %g %g", modes[0].Factor, modes[1].Factor, modes[2].Factor)
	}
}
