package frame

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/solver"
)

// Steel of the test frames.
const (
	testE = 200e9
	testG = 80e9
)

// build is a structure under construction: each element is a member of its own unless chained.
type build struct{ s solver.Structure }

func (b *build) node(x, y, z float64, held string) int {
	n := solver.Node{ID: len(b.s.Nodes) + 1, Pos: r3.Vec{X: x, Y: y, Z: z}}
	for _, c := range held {
		switch c {
		case 'x', 'y', 'z':
			n.Held[c-'x'] = true
		case 'X', 'Y', 'Z':
			n.Held[3+c-'X'] = true
		}
	}
	b.s.Nodes = append(b.s.Nodes, n)
	return len(b.s.Nodes) - 1
}

const all = "xyzXYZ"

// beam adds an element with A 0.01, Iz 2e-5, Iy 1e-5, J 5e-6 and local y along up, as its own member.
func (b *build) beam(i, j int, up r3.Vec) *solver.Element {
	id := fmt.Sprint("e", len(b.s.Elements)+1)
	b.s.Elements = append(b.s.Elements, solver.Element{
		ID: id, I: i, J: j, Member: len(b.s.Members), E: testE, G: testG, Density: 7850,
		A: 0.01, Iz: 2e-5, Iy: 1e-5, It: 5e-6, YAxis: up,
	})
	b.s.Members = append(b.s.Members, solver.Member{ID: id, Elements: []int{len(b.s.Elements) - 1}})
	return &b.s.Elements[len(b.s.Elements)-1]
}

// rod adds a tension-only bar.
func (b *build) rod(i, j int, a float64) *solver.Element {
	e := b.beam(i, j, r3.Vec{X: 0.3, Y: 0.5, Z: 0.8})
	e.Bar, e.Acts, e.A = true, solver.TensionOnly, a
	return e
}

// load returns the only case, made on first use.
func (b *build) load() *solver.Case {
	if len(b.s.Cases) == 0 {
		b.s.Cases = append(b.s.Cases, solver.Case{ID: "1"})
	}
	return &b.s.Cases[0]
}

func (b *build) force(node int, f, m r3.Vec) {
	c := b.load()
	c.Nodal = append(c.Nodal, solver.NodalLoad{Node: node, F: f, M: m})
}

func (b *build) line(member int, from, to float64, q1, q2 r3.Vec, axes solver.LoadAxes) {
	c := b.load()
	c.Line = append(c.Line, solver.LineLoad{Member: member, From: from, To: to, Q1: q1, Q2: q2, Axes: axes})
}

func (b *build) point(member int, at float64, f, m r3.Vec, axes solver.LoadAxes) {
	c := b.load()
	c.Point = append(c.Point, solver.PointLoad{Member: member, At: at, F: f, M: m, Axes: axes})
}

// workspace compiles and loads.
func workspace(t testing.TB, s *solver.Structure) *Workspace {
	t.Helper()
	m, err := Compile(s)
	if err != nil {
		t.Fatal(err)
	}
	w := m.NewWorkspace()
	if err := w.Load(s); err != nil {
		t.Fatal(err)
	}
	return w
}

var one = solver.Combination{ID: "1", Terms: []solver.Term{{Case: 0, Factor: 1}}}

// run analyses the first case, and requires a stable answer in balance.
func run(t testing.TB, s *solver.Structure, a Analysis) *Result {
	t.Helper()
	r := runAny(t, s, a)
	if !r.Stable {
		t.Fatalf("not stable: %v %v", r.Mechanisms, r.Notes)
	}
	if r.Residual > 1e-9 {
		t.Fatalf("residual %g", r.Residual)
	}
	return r
}

func runAny(t testing.TB, s *solver.Structure, a Analysis) *Result {
	t.Helper()
	w := workspace(t, s)
	r := new(Result)
	if err := w.Analyse(&one, a, r); err != nil {
		t.Fatal(err)
	}
	return r
}

// near compares with a tolerance relative to the expected value (or to 1 where that is zero, times scale).
func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	scale := math.Abs(want)
	if scale == 0 {
		scale = 1
	}
	if !(math.Abs(got-want) <= tol*scale) {
		t.Errorf("%s: got %.10g, want %.10g (off by %.2g)", what, got, want, (got-want)/scale)
	}
}

// diagram draws member m.
func diagram(r *Result, m int) *solver.Diagram {
	d := new(solver.Diagram)
	r.Diagram(m, d)
	return d
}

var (
	ex = r3.Vec{X: 1}
	ey = r3.Vec{Y: 1}
	ez = r3.Vec{Z: 1}
)
