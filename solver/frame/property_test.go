package frame

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/solver"
)

// total sums applied forces and moments about the origin, of the first case of a structure of one-element members.
func total(s *solver.Structure) (F, M r3.Vec) {
	at := func(p, f, m r3.Vec) {
		F = r3.Add(F, f)
		M = r3.Add(M, r3.Add(m, r3.Cross(p, f)))
	}
	c := &s.Cases[0]
	for _, l := range c.Nodal {
		at(s.Nodes[l.Node].Pos, l.F, l.M)
	}
	axes := func(m int) (axes3, r3.Vec, r3.Vec) {
		el := &s.Elements[s.Members[m].Elements[0]]
		r, _ := denseAxes(s, el)
		return r, r3.Add(s.Nodes[el.I].Pos, el.OffsetI), r3.Vec{X: r[0][0], Y: r[0][1], Z: r[0][2]}
	}
	global := func(r axes3, v r3.Vec, a solver.LoadAxes) r3.Vec {
		if a == solver.GlobalAxes {
			return v
		}
		l := [3]float64{v.X, v.Y, v.Z}
		var o [3]float64
		for k := range 3 {
			for i := range 3 {
				o[k] += r[i][k] * l[i]
			}
		}
		return r3.Vec{X: o[0], Y: o[1], Z: o[2]}
	}
	for _, l := range c.Point {
		r, p, x := axes(l.Member)
		at(r3.Add(p, r3.Scale(l.At, x)), global(r, l.F, l.Axes), global(r, l.M, l.Axes))
	}
	for _, l := range c.Line { // exact for linear loads: Simpson
		r, p, x := axes(l.Member)
		h := l.To - l.From
		for _, g := range [3][2]float64{{0, 1. / 6}, {0.5, 4. / 6}, {1, 1. / 6}} {
			q := r3.Add(r3.Scale(1-g[0], l.Q1), r3.Scale(g[0], l.Q2))
			at(r3.Add(p, r3.Scale(l.From+g[0]*h, x)), r3.Scale(g[1]*h, global(r, q, l.Axes)), r3.Vec{})
		}
	}
	return F, M
}

// TestEquilibrium: reactions balance the loads, in force and (first order) in moment, for random frames.
func TestEquilibrium(t *testing.T) {
	for seed := range 6 {
		b := randomFrame(seed)
		F, M := total(&b.s)
		for _, a := range kinds {
			r := run(t, &b.s, a)
			for i := range b.s.Nodes {
				R := r.Reactions[6*i : 6*i+6]
				f := r3.Vec{X: R[0], Y: R[1], Z: R[2]}
				F = r3.Add(F, f)
				M = r3.Add(M, r3.Add(r3.Vec{X: R[3], Y: R[4], Z: R[5]}, r3.Cross(b.s.Nodes[i].Pos, f)))
			}
			if r3.Norm(F) > 1e-3 {
				t.Errorf("seed %d %v: %v is left over", seed, a, F)
			}
			if !a.second() && r3.Norm(M) > 1e-3 {
				t.Errorf("seed %d %v: moment %v is left over", seed, a, M)
			}
			F, M = total(&b.s)
		}
	}
}

// TestReciprocity (Maxwell and Betti): the displacement at B by a load at A equals that at A by the load at B.
func TestReciprocity(t *testing.T) {
	b := randomFrame(1)
	ask := func(node int, d solver.DOF) []float64 {
		f := make([]float64, 6)
		f[d] = 1000
		b.s.Cases[0] = solver.Case{Nodal: []solver.NodalLoad{{Node: node, F: r3.Vec{X: f[0], Y: f[1], Z: f[2]}, M: r3.Vec{X: f[3], Y: f[4], Z: f[5]}}}}
		return append([]float64(nil), run(t, &b.s, Linear).U...)
	}
	for _, p := range [][4]int{{4, 0, 14, 1}, {5, 4, 10, 2}, {7, 3, 8, 5}, {6, 2, 15, 0}} {
		ua := ask(p[0], solver.DOF(p[1]))
		ub := ask(p[2], solver.DOF(p[3]))
		near(t, "Betti", ua[6*p[2]+p[3]], ub[6*p[0]+p[1]], 1e-8)
	}
	// And with loads along members: a point load on a member against a moment at a node, by work on the deflection curve.
	b.s.Cases[0] = solver.Case{Nodal: []solver.NodalLoad{{Node: 6, M: r3.Vec{X: 1e4}}}}
	_, uy, _ := diagram(run(t, &b.s, Linear), 5).Deflection(1.1)
	b.s.Cases[0] = solver.Case{Point: []solver.PointLoad{{Member: 5, At: 1.1, F: r3.Vec{Y: 1e4}, Axes: solver.LocalAxes}}}
	near(t, "work", run(t, &b.s, Linear).U[6*6+3], uy, 1e-8)
}

// rotated turns a structure about an axis by an angle, loads too.
func rotated(s solver.Structure, angle float64, axis r3.Vec) solver.Structure {
	rot := r3.NewRotation(angle, axis)
	out := s
	out.Nodes = append([]solver.Node(nil), s.Nodes...)
	out.Elements = append([]solver.Element(nil), s.Elements...)
	for i := range out.Nodes {
		out.Nodes[i].Pos = rot.Rotate(out.Nodes[i].Pos)
	}
	for i := range out.Elements {
		e := &out.Elements[i]
		e.YAxis, e.OffsetI, e.OffsetJ = rot.Rotate(e.YAxis), rot.Rotate(e.OffsetI), rot.Rotate(e.OffsetJ)
	}
	c := s.Cases[0]
	turned := solver.Case{ID: c.ID, SelfWeight: rot.Rotate(c.SelfWeight)}
	for _, l := range c.Nodal {
		l.F, l.M = rot.Rotate(l.F), rot.Rotate(l.M)
		turned.Nodal = append(turned.Nodal, l)
	}
	for _, l := range c.Line {
		if l.Axes == solver.GlobalAxes {
			l.Q1, l.Q2 = rot.Rotate(l.Q1), rot.Rotate(l.Q2)
		}
		turned.Line = append(turned.Line, l)
	}
	for _, l := range c.Point {
		if l.Axes == solver.GlobalAxes {
			l.F, l.M = rot.Rotate(l.F), rot.Rotate(l.M)
		}
		turned.Point = append(turned.Point, l)
	}
	out.Cases = []solver.Case{turned}
	return out
}

// TestRotation: end forces do not change when everything is turned (all held nodes are held in all freedoms).
func TestRotation(t *testing.T) {
	for seed := range 3 {
		b := randomTower(seed)
		for i := range 3 {
			b.line(4*i+1, 0.5, 2, r3.Vec{Z: -900}, r3.Vec{X: 500}, solver.GlobalAxes)
		}
		b.s.Cases[0].SelfWeight = r3.Vec{Z: -1}
		turned := rotated(b.s, 0.83, r3.Vec{X: 0.3, Y: -0.5, Z: 0.7})
		for _, a := range kinds {
			p, q := run(t, &b.s, a), run(t, &turned, a)
			sameEnds(t, a, p, q, 1, 1e-6)
		}
	}
}

func sameEnds(t *testing.T, a Analysis, p, q *Result, factor, tol float64) {
	t.Helper()
	size := 0.0
	for e := range p.Ends {
		for k := range p.Ends[e] {
			size = max(size, math.Abs(p.Ends[e][k]))
		}
	}
	for e := range p.Ends {
		for k := range p.Ends[e] {
			if math.Abs(factor*p.Ends[e][k]-q.Ends[e][k]) > tol*size {
				t.Fatalf("%v: element %d component %d: %g and %g", a, e, k, factor*p.Ends[e][k], q.Ends[e][k])
			}
		}
	}
}

// TestRenumbering: nodes in reverse order give the same end forces.
func TestRenumbering(t *testing.T) {
	b := randomFrame(4)
	n := len(b.s.Nodes)
	s := b.s
	s.Nodes = make([]solver.Node, n)
	for i := range b.s.Nodes {
		s.Nodes[n-1-i] = b.s.Nodes[i]
	}
	s.Elements = append([]solver.Element(nil), b.s.Elements...)
	for i := range s.Elements {
		s.Elements[i].I, s.Elements[i].J = n-1-s.Elements[i].I, n-1-s.Elements[i].J
	}
	c := b.s.Cases[0]
	c.Nodal = append([]solver.NodalLoad(nil), c.Nodal...)
	for i := range c.Nodal {
		c.Nodal[i].Node = n - 1 - c.Nodal[i].Node
	}
	s.Cases = []solver.Case{c}
	for _, a := range kinds {
		sameEnds(t, a, run(t, &b.s, a), run(t, &s, a), 1, 1e-7)
	}
}

// TestSuperposition: a combination of two cases is the sum of the two answers, diagrams included; and load scales.
func TestSuperposition(t *testing.T) {
	b := randomFrame(2)
	full := b.s.Cases[0]
	b.s.Cases = []solver.Case{{Nodal: full.Nodal, SelfWeight: r3.Vec{Z: -1}}, {Line: full.Line, Point: full.Point}}
	w := workspace(t, &b.s)
	var p, q, both Result
	for _, c := range []struct {
		r *Result
		f [2]float64
	}{{&p, [2]float64{1, 0}}, {&q, [2]float64{0, 1}}, {&both, [2]float64{1.3, -0.7}}} {
		combo := solver.Combination{Terms: []solver.Term{{Case: 0, Factor: c.f[0]}, {Case: 1, Factor: c.f[1]}}}
		if err := w.Analyse(&combo, Linear, c.r); err != nil {
			t.Fatal(err)
		}
	}
	for i := range p.U {
		if want := 1.3*p.U[i] - 0.7*q.U[i]; math.Abs(both.U[i]-want) > 1e-13 {
			t.Errorf("u[%d] %g, want %g", i, both.U[i], want)
		}
	}
	var dp, dq, db solver.Diagram
	for m := range b.s.Members {
		p.Diagram(m, &dp)
		q.Diagram(m, &dq)
		both.Diagram(m, &db)
		for _, x := range []float64{0.13, 0.7, 1.9, 2.7} {
			want := solver.Forces{}.Add(1.3, dp.At(x)).Add(-0.7, dq.At(x))
			got := db.At(x)
			for c := range got {
				if math.Abs(got[c]-want[c]) > 1e-6*(1+math.Abs(want[c])) {
					t.Errorf("member %d x %g %v: %g, want %g", m, x, solver.Component(c), got[c], want[c])
				}
			}
		}
	}
}

// TestDiagramsMeetEnds: every member's diagram begins and ends with the end forces and the nodes' displacements, and its
// curves satisfy dMz/dx = -Vy + N·v′ (N·v′ in second order only), also with releases, springs and arms.
func TestDiagramsMeetEnds(t *testing.T) {
	for _, a := range kinds {
		b := randomFrame(5)
		r := run(t, &b.s, a)
		for m := range b.s.Members {
			d := diagram(r, m)
			first, last := d.At(0), d.Pieces[len(d.Pieces)-1].Forces(1)
			for c := range 6 {
				near(t, "start", first[c], -r.Ends[m][c], 1e-5)
				if math.Abs(last[c]-r.Ends[m][6+c]) > 1e-6*(1e3+math.Abs(last[c])) {
					t.Errorf("%v member %d end %v: %g, node exerts %g", a, m, solver.Component(c), last[c], r.Ends[m][6+c])
				}
			}
			el := &b.s.Elements[m]
			u := r.w.els[m].local(r.U[6*el.I:6*el.I+6], r.U[6*el.J:6*el.J+6])
			for end, x := range []float64{0, d.Length} {
				ux, uy, uz := d.Deflection(x)
				for k, v := range []float64{ux, uy, uz} {
					if math.Abs(v-u[6*end+k]) > 1e-9 {
						t.Errorf("%v member %d end %d: deflection %d is %g, node %g", a, m, end, k, v, u[6*end+k])
					}
				}
			}
			for i := range d.Pieces {
				p := &d.Pieces[i]
				for _, xi := range []float64{0.2, 0.6} {
					f := p.Forces(xi)
					pull := 0.0
					if a.second() {
						pull = f[solver.N] * p.Uy.Slope(xi) / p.L
					}
					if got, want := p.Mz.Slope(xi)/p.L, -f[solver.Vy]+pull; math.Abs(got-want) > 1e-6*(1e3+math.Abs(want)) {
						t.Errorf("%v member %d: dM/dx %g, want %g", a, m, got, want)
					}
				}
			}
		}
	}
}

// TestMirror: a structure mirrored in the plane X = 0 moves as its mirror image.
func TestMirror(t *testing.T) {
	b := randomTower(7)
	s := b.s
	s.Nodes = append([]solver.Node(nil), b.s.Nodes...)
	for i := range s.Nodes {
		s.Nodes[i].Pos.X *= -1
	}
	s.Elements = append([]solver.Element(nil), b.s.Elements...)
	for i := range s.Elements {
		s.Elements[i].YAxis.X *= -1
	}
	c := b.s.Cases[0]
	c.Nodal = append([]solver.NodalLoad(nil), c.Nodal...)
	for i := range c.Nodal {
		c.Nodal[i].F.X *= -1
	}
	s.Cases = []solver.Case{c}
	for _, a := range kinds {
		p, q := run(t, &b.s, a), run(t, &s, a)
		for i := range p.U {
			sign := 1.0
			switch i % 6 {
			case 0, 4, 5:
				sign = -1
			}
			if math.Abs(p.U[i]-sign*q.U[i]) > 1e-8 {
				t.Fatalf("%v: node %d %v: %g and %g", a, i/6, solver.DOF(i%6), p.U[i], q.U[i])
			}
		}
	}
}

// TestPure: the answer does not depend on what the workspace did before, to the last bit.
func TestPure(t *testing.T) {
	a, b := shed(3), shed(3)
	for i := range b.Elements {
		b.Elements[i].Iz *= 1.7
	}
	w := workspace(t, a)
	fresh := make([]Result, len(a.Combinations))
	used := make([]Result, len(a.Combinations))
	for _, kind := range kinds {
		if err := workspace(t, a).AnalyseAll(a.Combinations, kind, fresh); err != nil {
			t.Fatal(err)
		}
		if err := w.Load(b); err != nil {
			t.Fatal(err)
		}
		if err := w.AnalyseAll(b.Combinations, kind, used); err != nil {
			t.Fatal(err)
		}
		if err := w.Load(a); err != nil {
			t.Fatal(err)
		}
		for i := len(used) - 1; i >= 0; i-- { // backwards: order must not matter either
			if err := w.Analyse(&a.Combinations[i], kind, &used[i]); err != nil {
				t.Fatal(err)
			}
		}
		for i := range fresh {
			for k := range fresh[i].U {
				if fresh[i].U[k] != used[i].U[k] {
					t.Fatalf("%v combination %d: u[%d] is %v fresh and %v used", kind, i, k, fresh[i].U[k], used[i].U[k])
				}
			}
		}
	}
}
