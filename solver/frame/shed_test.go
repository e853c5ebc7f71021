package frame

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/solver"
)

// shed is a portal-frame building of the given number of frames, 20 m span, 5 m eaves, 7 m ridge, 6 m bays, pinned bases,
// with struts at eaves and ridge, crossed rods in walls and roof of the first and the last bay, and cases of self weight,
// gravity at purlin points, wind across and wind along. Members are physical: two elements a rafter, two a column.
func shed(frames int) *solver.Structure {
	var b build
	const hinge = true
	type line struct{ n [8]int }
	lines := make([]line, frames)
	at := [8][2]float64{{0, 0}, {0, 2.5}, {0, 5}, {5, 6}, {10, 7}, {15, 6}, {20, 5}, {20, 2.5}}
	for f := range frames {
		x := 6 * float64(f)
		for k, p := range at {
			held := ""
			if k == 0 {
				held = "xyzZ"
			}
			lines[f].n[k] = b.node(x, p[0], p[1], held)
		}
		base := b.node(x, 20, 0, "xyzZ")
		n := &lines[f].n
		chain := func(nodes []int, up r3.Vec, iz, iy, a float64) {
			m := len(b.s.Members)
			mem := solver.Member{ID: "m"}
			for i := 1; i < len(nodes); i++ {
				e := b.beam(nodes[i-1], nodes[i], up)
				b.s.Members = b.s.Members[:m]
				e.Member, e.Iz, e.Iy, e.A, e.It = m, iz, iy, a, 4e-7
				mem.Elements = append(mem.Elements, len(b.s.Elements)-1)
			}
			b.s.Members = append(b.s.Members[:m], mem)
		}
		chain([]int{n[0], n[1], n[2]}, r3.Vec{Y: -1}, 1e-4, 1e-5, 0.006)
		chain([]int{n[2], n[3], n[4]}, ez, 1.2e-4, 1e-5, 0.0065)
		chain([]int{n[4], n[5], n[6]}, ez, 1.2e-4, 1e-5, 0.0065)
		chain([]int{base, n[7], n[6]}, ey, 1e-4, 1e-5, 0.006)
		_ = hinge
	}
	for f := 1; f < frames; f++ {
		p, q := &lines[f-1].n, &lines[f].n
		for _, k := range []int{2, 4, 6} {
			e := b.beam(p[k], q[k], ez)
			e.ReleaseI[4], e.ReleaseI[5], e.ReleaseJ[4], e.ReleaseJ[5] = true, true, true, true
			e.A, e.Iz, e.Iy = 0.002, 3e-6, 3e-6
		}
		if f > 1 && f < frames-1 {
			continue
		}
		last := func(g int) int { return lines[g].n[6] + 2 } // the second base follows the eight nodes of its frame
		for _, x := range [][4]int{{p[0], q[2], q[0], p[2]}, {last(f - 1), q[6], last(f), p[6]}, {p[2], q[4], q[2], p[4]}, {p[4], q[6], q[4], p[6]}} {
			b.rod(x[0], x[1], 3.14e-4)
			b.rod(x[2], x[3], 3.14e-4)
		}
	}
	shedLoads(&b, frames)
	return &b.s
}

// shedLoads adds four cases and combinations of them.
func shedLoads(b *build, frames int) {
	s := &b.s
	s.Cases = []solver.Case{
		{ID: "G", SelfWeight: r3.Vec{Z: -1}}, {ID: "Q"}, {ID: "Wy"}, {ID: "Wx"},
	}
	per := 4 // members a frame
	for f := range frames {
		for _, m := range []int{1, 2} {
			for k := range 7 {
				x := 0.6 + 1.4*float64(k)
				s.Cases[1].Point = append(s.Cases[1].Point, solver.PointLoad{Member: per*f + m, At: x, F: r3.Vec{Z: -4000}})
				s.Cases[2].Point = append(s.Cases[2].Point, solver.PointLoad{Member: per*f + m, At: x, F: r3.Vec{Y: 3000}, Axes: solver.LocalAxes})
			}
		}
		for i, q := range []float64{4000, 2500} {
			m := 3 * i
			s.Cases[2].Line = append(s.Cases[2].Line, solver.LineLoad{Member: per*f + m, To: 5, Q1: r3.Vec{Y: q}, Q2: r3.Vec{Y: q}})
		}
	}
	for _, n := range []int{2, 4, 6} {
		s.Cases[3].Nodal = append(s.Cases[3].Nodal, solver.NodalLoad{Node: n, F: r3.Vec{X: 8000}})
	}
	for k := range 40 {
		w := 0.4 + 0.05*float64(k%10)
		c := solver.Combination{Terms: []solver.Term{{Case: 0, Factor: 1.2}, {Case: 1, Factor: 1.5 * w}}}
		switch k % 4 {
		case 1:
			c.Terms = append(c.Terms, solver.Term{Case: 2, Factor: w})
		case 2:
			c.Terms = append(c.Terms, solver.Term{Case: 3, Factor: w})
		case 3:
			c.Terms = append(c.Terms, solver.Term{Case: 3, Factor: -w}, solver.Term{Case: 2, Factor: 0.3 * w})
		}
		s.Combinations = append(s.Combinations, c)
	}
}

var kinds = []Analysis{Linear, TensionOnly, SecondOrder, TensionOnlySecondOrder}

// TestShedStands: all kinds of analysis answer all combinations of a shed of twelve frames, in balance.
func TestShedStands(t *testing.T) {
	s := shed(12)
	w := workspace(t, s)
	rs := make([]Result, len(s.Combinations))
	for _, a := range kinds {
		if err := w.AnalyseAll(s.Combinations, a, rs); err != nil {
			t.Fatal(err)
		}
		rounds := 0
		for i := range rs {
			r := &rs[i]
			if !r.Stable || r.Residual > 1e-9 {
				t.Fatalf("%v, combination %d: stable %v, residual %g, %v %v", a, i, r.Stable, r.Residual, r.Mechanisms, r.Notes)
			}
			rounds += r.Iterations
		}
		t.Logf("%v: %.1f rounds a combination", a, float64(rounds)/float64(len(rs)))
	}
}

// TestNoAllocation: for a known topology loading and analysing allocate nothing.
func TestNoAllocation(t *testing.T) {
	s := shed(4)
	w := workspace(t, s)
	rs := make([]Result, len(s.Combinations))
	for _, a := range kinds {
		work := func() {
			if err := w.Load(s); err != nil {
				t.Fatal(err)
			}
			if err := w.AnalyseAll(s.Combinations, a, rs); err != nil {
				t.Fatal(err)
			}
		}
		work()
		got := testing.AllocsPerRun(3, work)
		if got > 0 {
			t.Errorf("%v: %g allocations", a, got)
		}
	}
	w.Quick = true
	quick := func() {
		if err := w.Load(s); err != nil {
			t.Fatal(err)
		}
		if err := w.AnalyseEach(s.Combinations, TensionOnlySecondOrder, rs, func(int) bool { return false }); err != nil {
			t.Fatal(err)
		}
	}
	quick()
	if got := testing.AllocsPerRun(3, quick); got > 0 {
		t.Errorf("quick: %g allocations", got)
	}
	withstand := func() {
		if _, err := w.Withstands(&rs[1], 2); err != nil {
			t.Fatal(err)
		}
	}
	withstand()
	if got := testing.AllocsPerRun(3, withstand); got > 0 {
		t.Errorf("withstand: %g allocations", got)
	}
	buckle := func() {
		if _, err := w.Buckling(&rs[1], 1); err != nil {
			t.Fatal(err)
		}
	}
	buckle()
	if got := testing.AllocsPerRun(3, buckle); got > 2 { // the mode and its shape, which are the caller's
		t.Errorf("buckling: %g allocations", got)
	}
	var d solver.Diagram
	room := make([]solver.Station, 0, 64)
	draw := func() {
		for m := range s.Members {
			rs[1].Diagram(m, &d)
			room = d.Extremes(room[:0])
		}
	}
	draw()
	if got := testing.AllocsPerRun(3, draw); got > 0 {
		t.Errorf("diagrams: %g allocations", got)
	}
}

func benchmarkKind(b *testing.B, a Analysis) {
	s := shed(12)
	w := workspace(b, s)
	rs := make([]Result, len(s.Combinations))
	b.ReportAllocs()
	for b.Loop() {
		if err := w.Load(s); err != nil {
			b.Fatal(err)
		}
		if err := w.AnalyseAll(s.Combinations, a, rs); err != nil {
			b.Fatal(err)
		}
	}
}

// The benchmarks load and analyse 40 combinations of a 12-frame shed.
func BenchmarkLinear(b *testing.B)                 { benchmarkKind(b, Linear) }
func BenchmarkTensionOnly(b *testing.B)            { benchmarkKind(b, TensionOnly) }
func BenchmarkSecondOrder(b *testing.B)            { benchmarkKind(b, SecondOrder) }
func BenchmarkTensionOnlySecondOrder(b *testing.B) { benchmarkKind(b, TensionOnlySecondOrder) }

// BenchmarkBuckling finds the lowest factor of one combination.
func BenchmarkBuckling(b *testing.B) {
	s := shed(12)
	w := workspace(b, s)
	var r Result
	if err := w.Analyse(&s.Combinations[1], TensionOnly, &r); err != nil || !r.Stable {
		b.Fatal(err, r.Notes)
	}
	for b.Loop() {
		if _, err := w.Buckling(&r, 1); err != nil {
			b.Fatal(err)
		}
	}
}
