package frame

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/solver"
)

const exact = 1e-9

// TestCantilever: closed forms PL³/3EI, PL²/2EI, wL⁴/8EI, TL/GJ, PL/EA (Roark, Table 8.1), bending in both planes.
func TestCantilever(t *testing.T) {
	const L, P = 3.0, 1000.0
	var b build
	i, j := b.node(0, 0, 0, all), b.node(L, 0, 0, "")
	b.beam(i, j, ez)
	b.force(j, r3.Vec{X: 2 * P, Y: P, Z: -P}, r3.Vec{X: 500})
	r := run(t, &b.s, Linear)
	u := r.U[6:]
	near(t, "ux", u[0], 2*P*L/(testE*0.01), exact)
	near(t, "uy (minor)", u[1], P*L*L*L/(3*testE*1e-5), exact)
	near(t, "uz (major)", u[2], -P*L*L*L/(3*testE*2e-5), exact)
	near(t, "rx", u[3], 500*L/(testG*5e-6), exact)
	near(t, "ry", u[4], P*L*L/(2*testE*2e-5), exact)
	near(t, "rz", u[5], P*L*L/(2*testE*1e-5), exact)
	near(t, "reaction z", r.Reactions[2], P, exact)
	near(t, "reaction my", r.Reactions[4], -P*L, exact)
	d := diagram(r, 0)
	f := d.At(1)
	near(t, "N", f[solver.N], 2*P, exact)
	near(t, "T", f[solver.T], 500, exact)
	near(t, "Mz hogging", f[solver.Mz], -P*(L-1), exact)
	ux, uy, uz := d.Deflection(L)
	near(t, "end ux", ux, u[0], exact)
	near(t, "end local y", uy, u[2], exact)
	near(t, "end local z", uz, -u[1], exact)
}

// TestTimoshenkoCantilever: PL³/3EI + PL/GAs.
func TestTimoshenkoCantilever(t *testing.T) {
	const L, P, as = 1.0, 1000.0, 0.004
	var b build
	i, j := b.node(0, 0, 0, all), b.node(0, L, 0, "")
	e := b.beam(i, j, ez)
	e.Asy, e.Asz = as, as/2
	b.force(j, r3.Vec{Z: P, X: P}, r3.Vec{})
	r := run(t, &b.s, Linear)
	near(t, "uz", r.U[8], P*L*L*L/(3*testE*2e-5)+P*L/(testG*as), exact)
	near(t, "ux", r.U[6], P*L*L*L/(3*testE*1e-5)+2*P*L/(testG*as), exact)
}

// TestFixedEnds: fixed-end moments and midspan values of Roark Table 8.1 and Timoshenko's Strength of Materials.
func TestFixedEnds(t *testing.T) {
	const L, w, P, a = 6.0, 5000.0, 20000.0, 2.0
	const EI = testE * 2e-5
	bb := L - a
	cases := []struct {
		name       string
		load       func(b *build)
		mi, mj     float64 // internal moments at the ends, sagging positive
		x, mx, def float64 // a station, moment and deflection there (down)
	}{
		{"uniform", func(b *build) { b.line(0, 0, L, r3.Vec{Z: -w}, r3.Vec{Z: -w}, solver.GlobalAxes) },
			-w * L * L / 12, -w * L * L / 12, L / 2, w * L * L / 24, w * L * L * L * L / (384 * EI)},
		{"point", func(b *build) { b.point(0, a, r3.Vec{Z: -P}, r3.Vec{}, solver.GlobalAxes) },
			-P * a * bb * bb / (L * L), -P * a * a * bb / (L * L), a, 2 * P * a * a * bb * bb / (L * L * L),
			P * a * a * a * bb * bb * bb / (3 * EI * L * L * L)},
		{"triangle", func(b *build) { b.line(0, 0, L, r3.Vec{}, r3.Vec{Z: -w}, solver.GlobalAxes) },
			-w * L * L / 30, -w * L * L / 20, L / 2, w * L * L / 48, w * L * L * L * L / (768 * EI)},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var b build
			i, j := b.node(0, 0, 0, all), b.node(L, 0, 0, all)
			b.beam(i, j, ez)
			c.load(&b)
			r := run(t, &b.s, Linear)
			d := diagram(r, 0)
			near(t, "Mi", d.At(0)[solver.Mz], c.mi, exact)
			near(t, "Mj", d.At(L)[solver.Mz], c.mj, exact)
			near(t, "Mx", d.At(c.x)[solver.Mz], c.mx, exact)
			_, uy, _ := d.Deflection(c.x)
			near(t, "deflection", uy, -c.def, exact)
			_, uy, _ = d.Deflection(L)
			near(t, "closure", uy, 0, 1e-12)
		})
	}
}

// TestSimpleBeamByReleases: a fixed element whose ends are released is a simple beam; 5wL⁴/384EI, and both the ends'
// rotation behind the joints and the extreme are exact. A partial load: Roark Table 8.1 case 2e by direct integration.
func TestSimpleBeamByReleases(t *testing.T) {
	const L, w = 6.0, 5000.0
	const EI = testE * 2e-5
	var b build
	i, j := b.node(0, 0, 0, all), b.node(L, 0, 0, all)
	e := b.beam(i, j, ez)
	e.ReleaseI[solver.Mz], e.ReleaseJ[solver.Mz] = true, true
	b.line(0, 0, L, r3.Vec{Y: -w}, r3.Vec{Y: -w}, solver.LocalAxes)
	r := run(t, &b.s, Linear)
	d := diagram(r, 0)
	m, x := d.MaxAbs(solver.Mz)
	near(t, "M", m, w*L*L/8, exact)
	near(t, "x", x, L/2, exact)
	_, uy, _ := d.Deflection(L / 2)
	near(t, "deflection", uy, -5*w*L*L*L*L/(384*EI), exact)
	uyMax, at, _, _ := d.MaxChordDeflection()
	near(t, "max deflection", uyMax, uy, exact)
	near(t, "at", at, L/2, 1e-6)
	near(t, "Mi", r.Ends[0][5], 0, 1e-9)
}

// TestPropped: 3wL²... closed forms of a propped cantilever: wL²/8 at the fixed end, 9wL²/128 at 5L/8 from it.
func TestPropped(t *testing.T) {
	const L, w = 5.0, 4000.0
	var b build
	i, j := b.node(0, 0, 0, all), b.node(0, L, 0, "xyzYZ")
	b.beam(i, j, ez)
	b.line(0, 0, L, r3.Vec{Z: -w}, r3.Vec{Z: -w}, solver.GlobalAxes)
	r := run(t, &b.s, Linear)
	d := diagram(r, 0)
	near(t, "M fixed", d.At(0)[solver.Mz], -w*L*L/8, exact)
	st := d.Extremes(nil)
	if len(st) != 3 {
		t.Fatalf("%d stations, want the two ends and the extreme: %v", len(st), st)
	}
	near(t, "x", st[1].X, 5*L/8, exact)
	near(t, "M", st[1].Forces[solver.Mz], 9*w*L*L/128, exact)
	near(t, "prop", r.Reactions[6+2], 3*w*L/8, exact)
}

// TestRoll: a load across a beam rolled by 30° splits into its principal axes.
func TestRoll(t *testing.T) {
	const L, P = 4.0, 1000.0
	for _, deg := range []float64{0, 30, 90, 137} {
		s, c := math.Sincos(deg * math.Pi / 180)
		var b build
		i, j := b.node(0, 0, 0, all), b.node(L, 0, 0, "")
		b.beam(i, j, r3.Vec{Y: -s, Z: c, X: 0.2}) // the part along the beam must not matter
		b.force(j, r3.Vec{Z: -P}, r3.Vec{})
		r := run(t, &b.s, Linear)
		k := P * L * L * L / (3 * testE)
		near(t, "uz", r.U[8], -k*(c*c/2e-5+s*s/1e-5), exact)
		near(t, "uy", r.U[7], k*s*c*(1/2e-5-1/1e-5), 1e-8)
	}
}

// TestKleinlogel: fixed- and pinned-base portal under uniform load and side load, closed forms of Kleinlogel's rigid frame
// formulas: k = (I2/I1)(h/l); N1 = k+2, N2 = 6k+1 (fixed), N = 2k+3 (pinned). Axial shortening is suppressed by a large A (what is left of it: 1e-5).
func TestKleinlogel(t *testing.T) {
	const l, h, q, W = 8.0, 4.0, 10000.0, 5000.0
	const k = h / l
	make := func(base string) (*build, int) {
		var b build
		a, d := b.node(0, 0, 0, base), b.node(0, l, 0, base)
		bb, c := b.node(0, 0, h, ""), b.node(0, l, h, "")
		b.beam(a, bb, r3.Vec{Y: -1})
		b.beam(bb, c, ez)
		b.beam(c, d, ey)
		for i := range b.s.Elements {
			b.s.Elements[i].A = 50
		}
		return &b, bb
	}
	t.Run("fixed uniform", func(t *testing.T) {
		b, _ := make(all)
		b.line(1, 0, l, r3.Vec{Z: -q}, r3.Vec{Z: -q}, solver.GlobalAxes)
		r := run(t, &b.s, Linear)
		near(t, "M_B", diagram(r, 1).At(0)[solver.Mz], -q*l*l/(6*(k+2)), 1e-5)
		near(t, "M_A", math.Abs(r.Reactions[3]), q*l*l/(12*(k+2)), 1e-5)
	})
	t.Run("fixed side", func(t *testing.T) {
		b, n := make(all)
		b.force(n, r3.Vec{Y: W}, r3.Vec{})
		r := run(t, &b.s, Linear)
		near(t, "M_A", math.Abs(r.Reactions[3]), W*h/2*(3*k+1)/(6*k+1), 1e-5)
		near(t, "M_B", diagram(r, 1).At(0)[solver.Mz], W*h/2*3*k/(6*k+1), 1e-5)
	})
	t.Run("pinned uniform", func(t *testing.T) {
		b, _ := make("xyzYZ")
		b.line(1, 0, l, r3.Vec{Z: -q}, r3.Vec{Z: -q}, solver.GlobalAxes)
		r := run(t, &b.s, Linear)
		near(t, "M_B", diagram(r, 1).At(0)[solver.Mz], -q*l*l/(4*(2*k+3)), 1e-5)
	})
}

// TestJoints: a beam with end springs: fixed-end moment of a uniform load is wL²/12 · 1/(1 + 2EI/(kL)) for equal springs
// (Monforton and Wu); torsion and minor springs in series with GJ/L.
func TestJoints(t *testing.T) {
	const L, w, k = 5.0, 3000.0, 2e6
	const EI = testE * 2e-5
	var b build
	i, j := b.node(0, 0, 0, all), b.node(L, 0, 0, all)
	e := b.beam(i, j, ez)
	e.SpringI[solver.Mz], e.SpringJ[solver.Mz] = k, k
	b.line(0, 0, L, r3.Vec{Z: -w}, r3.Vec{Z: -w}, solver.GlobalAxes)
	r := run(t, &b.s, Linear)
	near(t, "M", diagram(r, 0).At(0)[solver.Mz], -w*L*L/12/(1+2*EI/(k*L)), exact)

	var c build
	i, j = c.node(0, 0, 0, all), c.node(L, 0, 0, "")
	e = c.beam(i, j, ez)
	e.SpringI[solver.T], e.SpringI[solver.My] = 3e4, 5e5
	c.force(j, r3.Vec{Y: 100}, r3.Vec{X: 70})
	r = run(t, &c.s, Linear)
	near(t, "twist", r.U[9], 70*(1/3e4+L/(testG*5e-6)), exact)
	near(t, "sway", r.U[7], 100*(L*L*L/(3*testE*1e-5)+L*L/5e5), exact)
}

// TestNodeSpring: a beam on three springs, statically indeterminate: force method.
func TestNodeSpring(t *testing.T) {
	const L, P, k = 2.0, 9000.0, 1e6
	var b build
	i, j, m := b.node(0, 0, 0, "xyzXZ"), b.node(2*L, 0, 0, "yzXZ"), b.node(L, 0, 0, "")
	b.beam(i, m, ez)
	b.beam(m, j, ez)
	b.s.Nodes[m].Spring[solver.UZ] = k
	b.force(m, r3.Vec{Z: -P}, r3.Vec{})
	r := run(t, &b.s, Linear)
	kb := 48 * testE * 2e-5 / (8 * L * L * L)
	near(t, "uz", r.U[6*m+2], -P/(k+kb), exact)
	near(t, "spring", r.Reactions[6*m+2], P*k/(k+kb), exact)
}

// TestOffsets: a cantilever whose end stands on rigid arms: the clear length bends, arms carry.
func TestOffsets(t *testing.T) {
	const L, a, P = 3.0, 0.4, 1000.0
	const EI = testE * 2e-5
	var b build
	i, j := b.node(0, 0, 0, all), b.node(L+2*a, 0, 0, "")
	e := b.beam(i, j, ez)
	e.OffsetI, e.OffsetJ = r3.Vec{X: a}, r3.Vec{X: -a, Z: 0.2}
	e.OffsetI.Z = 0.2
	b.force(j, r3.Vec{Z: -P, X: 5000}, r3.Vec{})
	r := run(t, &b.s, Linear)
	// The load at the far node is P and moment P·a (and 5000·0.2) at the clear end.
	m := P*a - 5000*0.2*0 // axial force at the node acts 0.2 below the element's axis
	m += 5000 * -0.2 * -1 * -1
	slope := P*L*L/(2*EI) + m*L/EI
	defl := P*L*L*L/(3*EI) + m*L*L/(2*EI)
	near(t, "uz", r.U[8], -(defl + slope*a), exact)
	near(t, "ux", r.U[6], 5000*L/(testE*0.01)-0.2*slope, exact)
	near(t, "fixed moment", r.Reactions[4], -P*(L+2*a), exact)
}

// TestArmOfPointLoad: a force on a cleat beside the axis twists and bends as its moment says.
func TestArmOfPointLoad(t *testing.T) {
	const L, P = 3.0, 1000.0
	var b build
	i, j := b.node(0, 0, 0, all), b.node(L, 0, 0, "")
	b.beam(i, j, ez)
	c := b.load()
	c.Point = append(c.Point, solver.PointLoad{Member: 0, At: L, F: r3.Vec{Z: -P}, Axes: solver.GlobalAxes, Arm: r3.Vec{Z: 0.1}})
	// local z = x cross y = X cross Z = -Y: the arm is at Y = -0.1, so the torque about X is +P·0.1.
	r := run(t, &b.s, Linear)
	near(t, "torque", r.Reactions[3], -P*0.1, exact)
	near(t, "twist", r.U[9], P*0.1*L/(testG*5e-6), exact)
}

// TestProjectedLoad: snow on plan gives the same total as on the horizontal run, and wind on elevation on the rise.
func TestProjectedLoad(t *testing.T) {
	var b build
	i, j := b.node(0, 0, 0, all), b.node(0, 4, 3, "")
	b.beam(i, j, ez)
	c := b.load()
	c.Line = append(c.Line,
		solver.LineLoad{Member: 0, From: 0, To: 5, Q1: r3.Vec{Z: -100}, Q2: r3.Vec{Z: -100}, Projected: true},
		solver.LineLoad{Member: 0, From: 0, To: 5, Q1: r3.Vec{Y: 100}, Q2: r3.Vec{Y: 100}, Projected: true})
	r := run(t, &b.s, Linear)
	near(t, "vertical", r.Reactions[2], 400, exact)
	near(t, "horizontal", r.Reactions[1], -300, exact)
}

// TestSelfWeight: mass times g is the reaction; bars carry theirs to the ends.
func TestSelfWeight(t *testing.T) {
	var b build
	i, j := b.node(0, 0, 0, all), b.node(0, 3, 1, all)
	b.beam(i, j, ez).Bar = true
	b.load().SelfWeight = r3.Vec{Z: -1}
	r := run(t, &b.s, Linear)
	near(t, "weight", r.Reactions[2]+r.Reactions[8], 7850*0.01*math.Sqrt(10)*9.80665, exact)
	d := diagram(r, 0)
	m, _ := d.MaxAbs(solver.Mz)
	q := 7850 * 0.01 * 9.80665 * 3 / math.Sqrt(10)
	near(t, "M of a simple beam", m, q*10/8, exact)
	_, uy, _ := d.Deflection(math.Sqrt(10) / 2)
	near(t, "its deflection", uy, -5*q*100/(384*testE*2e-5), exact)
}

// TestTruss: three-bar truss by equilibrium; rotations at its joints meet nothing and are held with a note.
func TestTruss(t *testing.T) {
	var b build
	a, c, d := b.node(0, 0, 0, "xyz"), b.node(4, 0, 0, "yz"), b.node(2, 0, 1.5, "y")
	for _, p := range [][2]int{{a, c}, {a, d}, {d, c}} {
		b.beam(p[0], p[1], ey).Bar = true
	}
	b.force(d, r3.Vec{Z: -3000}, r3.Vec{})
	r := run(t, &b.s, Linear)
	near(t, "rafters", r.Ends[1][6], -1500/0.6, exact)
	near(t, "tie", r.Ends[0][6], 2000, exact)
	if len(r.Notes) == 0 {
		t.Error("no note about held rotations")
	}
}

// TestEveryCaseCounts: tip force, line load and self weight in three cases, weighed (one of them twice), on a cantilever:
// base moment by statics, tip deflection PL³/3EI + wL⁴/8EI, in all kinds of analysis.
func TestEveryCaseCounts(t *testing.T) {
	const L, P, q = 3.0, 1000.0, 400.0
	const EI = testE * 2e-5
	var b build
	i, j := b.node(0, 0, 0, all), b.node(L, 0, 0, "")
	b.beam(i, j, ez)
	b.s.Cases = []solver.Case{
		{ID: "P", Nodal: []solver.NodalLoad{{Node: j, F: r3.Vec{Z: -P}}}},
		{ID: "q", Line: []solver.LineLoad{{Member: 0, To: L, Q1: r3.Vec{Z: -q}, Q2: r3.Vec{Z: -q}}}},
		{ID: "G", SelfWeight: r3.Vec{Z: -1}},
	}
	w := workspace(t, &b.s)
	c := solver.Combination{Terms: []solver.Term{{Case: 2, Factor: 0.5}, {Case: 0, Factor: 1.2}, {Case: 1, Factor: 0.4}, {Case: 1, Factor: 0.3}}}
	line := 0.7*q + 0.5*7850*0.01*9.80665
	for _, a := range kinds {
		var r Result
		if err := w.Analyse(&c, a, &r); err != nil {
			t.Fatal(err)
		}
		near(t, "M", r.Reactions[4], -(1.2*P*L + line*L*L/2), exact)
		near(t, "tip", r.U[8], -(1.2*P*L*L*L/(3*EI) + line*L*L*L*L/(8*EI)), exact)
	}
	if err := w.Analyse(&solver.Combination{Terms: []solver.Term{{Case: 3, Factor: 1}}}, Linear, new(Result)); err == nil {
		t.Error("a case that does not exist was accepted")
	}
}

// TestReleaseAtItsEnd: a fixed beam hinged at one end is a propped cantilever: wL²/8 at the other end, nothing at the hinge.
func TestReleaseAtItsEnd(t *testing.T) {
	const L, w = 6.0, 5000.0
	for _, atJ := range []bool{false, true} {
		var b build
		i, j := b.node(0, 0, 0, all), b.node(L, 0, 0, all)
		e := b.beam(i, j, ez)
		x := 0.0
		if atJ {
			e.ReleaseJ[solver.Mz] = true
		} else {
			e.ReleaseI[solver.Mz], x = true, L
		}
		b.line(0, 0, L, r3.Vec{Z: -w}, r3.Vec{Z: -w}, solver.GlobalAxes)
		d := diagram(run(t, &b.s, Linear), 0)
		near(t, "fixed end", d.At(x)[solver.Mz], -w*L*L/8, exact)
		near(t, "hinge", d.At(L - x)[solver.Mz]/w, 0, 1e-9)
	}
}

// TestSplitMember: a member of three elements takes partial line loads and point loads at its elements' boundaries as one
// piece of one element does, and its diagram is continuous.
func TestSplitMember(t *testing.T) {
	const L = 6.0
	load := func(b *build) {
		b.line(0, 1, 5, r3.Vec{Z: -3000}, r3.Vec{Z: -1000, X: 200}, solver.GlobalAxes)
		for _, x := range []float64{0, 2, 4, L} { // at ends and on boundaries
			b.point(0, x, r3.Vec{Z: -4000}, r3.Vec{Y: 300}, solver.GlobalAxes)
		}
	}
	var whole, cut build
	i, j := whole.node(0, 0, 0, all), whole.node(L, 0, 0, "z")
	whole.beam(i, j, ez)
	load(&whole)
	n := []int{cut.node(0, 0, 0, all), cut.node(2, 0, 0, ""), cut.node(4, 0, 0, ""), cut.node(L, 0, 0, "z")}
	for k := range 3 {
		cut.beam(n[k], n[k+1], ez).Member = 0
	}
	cut.s.Members = []solver.Member{{ID: "m", Elements: []int{0, 1, 2}}}
	load(&cut)
	for _, a := range kinds {
		p, q := diagram(run(t, &whole.s, a), 0), diagram(run(t, &cut.s, a), 0)
		for x := 0.05; x < L; x += 0.1 {
			f, g := p.At(x), q.At(x)
			for c := range f {
				if math.Abs(f[c]-g[c]) > 1e-5*(1e3+math.Abs(f[c])) {
					t.Errorf("%v at %g %v: %g and %g", a, x, solver.Component(c), f[c], g[c])
				}
			}
			_, u, _ := p.Deflection(x)
			_, v, _ := q.Deflection(x)
			near(t, "deflection", v, u, 1e-5)
		}
	}
}

// TestBadInput: errors name what and where.
func TestBadInput(t *testing.T) {
	for _, c := range []struct {
		spoil func(b *build)
		want  string
	}{
		{func(b *build) { b.s.Elements[0].YAxis = ex }, "element e1: its local y direction"},
		{func(b *build) { b.s.Elements[0].A = 0 }, "element e1: A is 0"},
		{func(b *build) { b.s.Elements[0].E = math.NaN() }, "element e1: E is NaN"},
		{func(b *build) { b.s.Elements[0].J = 0 }, "element e1: both ends are node 1"},
		{func(b *build) { b.s.Elements[0].J = 9 }, "element e1: joins node index 0 to 9"},
		{func(b *build) { b.s.Nodes[1].Pos = b.s.Nodes[0].Pos }, "element e1: from node 1 to node 2 its length is 0"},
		{func(b *build) { b.point(0, 9, ez, r3.Vec{}, solver.GlobalAxes) }, "member e1: station 9 m does not lie on it"},
		{func(b *build) { b.line(0, 2, 1, ez, ez, solver.GlobalAxes) }, "member e1: stations 2 to 1 m"},
		{func(b *build) { b.line(5, 0, 1, ez, ez, solver.GlobalAxes) }, "names member 5 of 1"},
		{func(b *build) { b.force(7, ez, ez) }, "names node index 7 of 2"},
		{func(b *build) { b.s.Elements[0].ReleaseI[5], b.s.Elements[0].SpringI[5] = true, 1 }, "both released and sprung"},
	} {
		var b build
		i, j := b.node(0, 0, 0, all), b.node(3, 0, 0, "")
		b.beam(i, j, ez)
		c.spoil(&b)
		m, err := Compile(&b.s)
		if err == nil {
			err = m.NewWorkspace().Load(&b.s)
		}
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("want %q, got %v", c.want, err)
		}
	}
}
