package joints

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/bracing"
	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver"
	"leanbay/solver/checks/as4100"
	"leanbay/solver/frame"
)

// loaded is a shipped shed with random loads on every member, in a handful of cases, and its analysed answers.
func loaded(t *testing.T, name string, scale float64) (*shed.Model, []*Answer, []frame.Result) {
	t.Helper()
	b, err := brief.ReadFile("../../experiments/briefs/" + name + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	s, err := shed.FromBrief(b)
	if err != nil {
		t.Fatal(err)
	}
	d, err := s.Proposal(b.Library().Find)
	if err != nil {
		t.Fatal(err)
	}
	m := s.Build(d)
	rng := rand.New(rand.NewPCG(1, 2))
	st := &m.Structure
	for k := range 6 {
		c := solver.Case{ID: string(rune('a' + k))}
		for i := range st.Members {
			if st.Elements[st.Members[i].Elements[0]].Bar {
				continue
			}
			q := r3.Scale(scale, r3.Vec{X: rng.NormFloat64(), Y: rng.NormFloat64(), Z: rng.NormFloat64()})
			c.Line = append(c.Line, solver.LineLoad{Member: i, To: st.Members[i].Length, Q1: q, Q2: q})
		}
		st.Cases = append(st.Cases, c)
		st.Combinations = append(st.Combinations, solver.Combination{ID: c.ID, State: solver.Strength, Terms: []solver.Term{{Case: k, Factor: 1}}})
	}
	model, err := frame.Compile(st)
	if err != nil {
		t.Fatal(err)
	}
	w := model.NewWorkspace()
	if err := w.Load(st); err != nil {
		t.Fatal(err)
	}
	res := make([]frame.Result, len(st.Combinations))
	var out []*Answer
	for k := range st.Combinations {
		if err := w.Analyse(&st.Combinations[k], frame.Linear, &res[k]); err != nil || !res[k].Stable {
			t.Fatalf("%s: %v %v", name, err, res[k].Notes)
		}
		out = append(out, &Answer{Name: st.Combinations[k].ID, Structure: st, Ends: res[k].Ends, Reactions: res[k].Reactions})
	}
	return m, out, res
}

// TestCollectorIsBruteForce: the envelope of every kind of joint is that of the members' own diagrams, read at their
// ends over all combinations, where the loads are far beyond the minimum design actions; and those alone where they are far below.
func TestCollectorIsBruteForce(t *testing.T) {
	m, answers, res := loaded(t, "barn", 1e6)
	d := &brief.Details{}
	c, err := New(m, d, 0, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range answers {
		c.Add(a)
	}
	var curve solver.Diagram
	for _, j := range c.Joints() {
		if j.Kind.base() {
			continue
		}
		var want [6]float64 // tension, compression, shear, inside, outside, minor
		n := 0
		for i := range c.places {
			p := &c.places[i]
			if kinds[p.kind].kind != j.Kind {
				continue
			}
			n++
			for k := range answers {
				res[k].Diagram(p.member, &curve)
				x := 0.0
				if p.far {
					x = curve.Length
				}
				f := curve.At(x)
				for q, v := range []float64{f[solver.N], -f[solver.N], math.Abs(f[solver.Vy]), f[solver.Mz], -f[solver.Mz], math.Abs(f[solver.My])} {
					want[q] = math.Max(want[q], v)
				}
			}
		}
		dm := &j.Demand
		for q, got := range []float64{dm.Tension.Value, dm.Compression.Value, dm.Shear.Value, dm.Inside.Value, dm.Outside.Value, dm.Minor.Value} {
			least := 1e5 // minimum actions, of the order of a member's capacity
			if want[q] > 10*least && math.Abs(got-want[q]) > 1e-6*want[q] {
				t.Errorf("%s, quantity %d: collected %g, by the diagrams %g", j.Kind, q, got, want[q])
			}
		}
		if n != j.Count {
			t.Errorf("%s: %d joints, counted %d", j.Kind, j.Count, n)
		}
	}
}

// TestCounts of the barn by its drawing: five frames with two knees and one ridge each, two mullions a gable, and ten
// column and four mullion bases; eight eaves and four ridge struts with two ends each; three walls' bays and two roof bays
// of crossed rods, the roof in two panels.
func TestCounts(t *testing.T) {
	m, answers, _ := loaded(t, "barn", 1)
	c, err := New(m, &brief.Details{}, 0, nil)
	if err != nil {
		t.Fatal(err)
	}
	c.Add(answers[0])
	want := map[Kind]int{Eaves: 10, Ridge: 10, MullionTop: 4, StrutEnd: 24, WallBraceEnd: 12, RoofBraceEnd: 16, ColumnBase: 10, MullionBase: 4}
	for _, j := range c.Joints() {
		if j.Count != want[j.Kind] {
			t.Errorf("%s: %d, by the drawing %d", j.Kind, j.Count, want[j.Kind])
		}
		delete(want, j.Kind)
	}
	if len(want) > 0 {
		t.Errorf("not found: %v", want)
	}
}

// TestMinimumActions: a shed that carries next to nothing has the minimum design actions of AS 4100 9.1.4: at its knees
// half of phi Ms of the rafter (310UB32.0, published 134 kN·m; 0.5 x 134 = 67), both signs; at its rods, which have turnbuckles, the
// whole of the rod (R20: 0.9 x 0.85 x 245 x 440 = 82.5 kN); at the column's foot min(0.15 phi Vv, 40 kN) = 40 kN (310UB40.4: phi
// Vv 320 kN, x 0.15 = 48).
func TestMinimumActions(t *testing.T) {
	m, answers, _ := loaded(t, "barn", 1e-3)
	c, err := New(m, &brief.Details{}, 0, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range answers {
		c.Add(a)
	}
	for _, j := range c.Joints() {
		switch j.Kind {
		case Eaves:
			near(t, "knee, inside", j.Demand.Inside.Value/1e3, 67, 0.02, "0.5 phi Ms")
			near(t, "knee, outside", j.Demand.Outside.Value/1e3, 67, 0.02, "0.5 phi Ms")
			if j.Status != Assumed || j.Demand.Inside.Minimum == "" {
				t.Errorf("a knee without detail is %q, minimum %q", j.Status, j.Demand.Inside.Minimum)
			}
			near(t, "knee", j.Utilisation(), 0.5, 0.01, "half of the section")
		case WallBraceEnd:
			near(t, "rod", j.Demand.Tension.Value/1e3, 82.5, 0.01, "1.0 phi Nt")
			if j.Status != ToBeDesigned {
				t.Errorf("a rod's end without detail is %q", j.Status)
			}
		case ColumnBase:
			near(t, "foot", j.Demand.Shear.Value/1e3, 40, 1e-9, "9.1.4(b)")
		case StrutEnd:
			if w := m.Structure.Members[m.Struts[0]]; w.Section == nil || as4100.RestraintShare == 0 {
				t.Error("no struts")
			}
		}
	}
}

// TestFootings by hand: the foot with the greatest pull T needs T/(0.9 x 9.80665) kg of concrete, 2400 kg/m³; a pad of 1.2 x
// 1.0 x 0.8 m weighs 2304 kg; each check of it is repeated here from the reactions alone.
func TestFootings(t *testing.T) {
	m, answers, res := loaded(t, "barn", 1e3)
	pad := brief.Pad{Length: 1.2, Width: 1.0, Depth: 0.8, Strength: 25e6}
	d := &brief.Details{ColumnBase: &brief.Detail{Kind: "base plate", Plate: brief.Plate{Thickness: 0.016, Width: 0.3, Depth: 0.4, Yield: 250e6}, Pad: pad}}
	c, err := New(m, d, 100e3, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range answers {
		c.Ground(a, solver.Stability)
		c.Ground(a, solver.Service)
	}
	const weight, held = 2304 * 9.80665, 0.9 * 2304 * 9.80665
	for i, f := range c.Footings() {
		foot := m.Bases[i]
		pull, over, pressure := 0.0, 0.0, 0.0
		for k := range res {
			r := res[k].Reactions[6*foot.Node:]
			x, y, z := math.Abs(r[0]), math.Abs(r[1]), r[2]
			pull = math.Max(pull, -z)
			up, down := math.Max(0, -z), math.Max(0, z)
			over = math.Max(over, math.Max((x*0.8+up*0.6)/((held+down)*0.6), (y*0.8+up*0.5)/((held+down)*0.5)))
			if n := weight + z; n > 0 {
				l, b := 1.2-2*x*0.8/n, 1.0-2*y*0.8/n
				u := 2.0
				if l > 0 && b > 0 {
					u = n / (l * b) / 100e3
				}
				pressure = math.Max(pressure, u)
			}
		}
		near(t, f.Name+" concrete", f.Concrete, pull/0.9/9.80665, 1e-9, "pull over 0.9 g")
		near(t, f.Name+" volume", f.Volume, pull/0.9/9.80665/2400, 1e-9, "2400 kg/m³")
		if f.Kind != ColumnBase {
			continue
		}
		near(t, f.Name+" pad", f.PadMass, 2304, 1e-9, "1.2 x 1.0 x 0.8 x 2400")
		got := map[string]float64{}
		for _, q := range f.Checks {
			got[q.Name] = q.Utilisation
		}
		near(t, f.Name+" overturning", got["overturning of the pad"], over, 1e-9, "by the reactions")
		near(t, f.Name+" pressure", got["pressure on the ground"], pressure, 1e-9, "by the reactions")
		near(t, f.Name+" uplift", got["uplift held by the pad"], pull/held, 1e-9, "by the reactions")
	}
}

// TestChecksAreBruteForce: the governing utilisation of every check of every kind with a detail is the greatest of that
// check over all joints and combinations, worked one by one from the diagrams and the reactions, each raised to its minimum.
func TestChecksAreBruteForce(t *testing.T) {
	m, answers, res := loaded(t, "barn", 2e3)
	plate := brief.Plate{Thickness: 0.020, Width: 0.200, Depth: 0.420, Yield: 250e6}
	bolts := brief.Bolts{Diameter: 0.020, Class: "8.8/S", Rows: 2, PerRow: 2, Gauge: 0.090, Pitch: 0.360, Edge: 0.030}
	weld := brief.Weld{Kind: "fillet", Leg: 0.006, Quality: "SP"}
	cleat := brief.Detail{Kind: "cleat", Plate: brief.Plate{Thickness: 0.010, Width: 0.100, Depth: 0.160, Yield: 250e6}, Weld: weld, Eccentricity: 0.03,
		Bolts: brief.Bolts{Diameter: 0.016, Class: "8.8/S", Rows: 2, PerRow: 1, Pitch: 0.070, Edge: 0.030}}
	d := &brief.Details{Eaves: &brief.Detail{Kind: "end plate", Plate: plate, Bolts: bolts, Weld: weld}, MullionTop: &cleat, StrutEnd: &cleat, WallBraceEnd: &cleat,
		ColumnBase: &brief.Detail{Kind: "base plate", Plate: plate, Bolts: bolts, Weld: weld, Pad: brief.Pad{Strength: 25e6}}}
	c, err := New(m, d, 0, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range answers {
		c.Add(a)
	}
	worked := 0
	var curve solver.Diagram
	for _, j := range c.Joints() {
		if kinds[indexOf(j.Kind)].detail(d) == nil {
			continue
		}
		want := map[string]float64{}
		for i := range c.places {
			p := &c.places[i]
			if kinds[p.kind].kind != j.Kind {
				continue
			}
			det, _ := newDetail(j.Kind, kinds[p.kind].detail(d), p, nil)
			list := []Action{{M: p.least.moment}, {M: -p.least.moment}, {V: p.least.shear}}
			for k := range answers {
				res[k].Diagram(p.member, &curve)
				x := 0.0
				if p.far {
					x = curve.Length
				}
				f := curve.At(x)
				a := Action{f[solver.N], f[solver.Vy], f[solver.Vz], f[solver.Mz], f[solver.My]}
				if p.node >= 0 { // pinned feet; webs of the barn's columns lie across the building
					r := res[k].Reactions[6*p.node:]
					a = Action{N: -r[2], V: r[1], W: r[0]}
				}
				list = append(list, p.least.raise(a))
			}
			for _, a := range list {
				for _, r := range det.check(nil, p, a, nil) {
					want[r.name] = math.Max(want[r.name], r.u)
				}
			}
		}
		for _, q := range j.Checks {
			worked++
			near(t, string(j.Kind)+", "+q.Name, q.Utilisation, want[q.Name], 1e-6, "one by one")
		}
	}
	if worked < 20 {
		t.Errorf("only %d checks were compared", worked)
	}
}

// TestPortalEnds: in a portalised bay the beam's two ends and the columns' two heads are rigid joints with half of phi Ms as
// their least moment; the columns' feet are bases.
func TestPortalEnds(t *testing.T) {
	b, err := brief.ReadFile("../../experiments/briefs/kit.yaml")
	if err != nil {
		t.Fatal(err)
	}
	s, err := shed.FromBrief(b)
	if err != nil {
		t.Fatal(err)
	}
	d, err := s.Proposal(b.Library().Find)
	if err != nil {
		t.Fatal(err)
	}
	rhs, _ := b.Library().Find("150x100x5.0RHS")
	steel := shed.Steel{Section: rhs, Grade: rhs.Grades[0]}
	d.Steel[brief.GroupPortalColumn], d.Steel[brief.GroupPortalBeam], d.Steel[brief.GroupEavesStrut] = steel, steel, steel
	d.Struts.Eaves = true
	d.Walls[0] = []shed.Brace{{Bay: 1, Pattern: bracing.PortalFrame, Place: bracing.Place{Reach: 0.3}}}
	m := s.Build(d)
	list, err := places(m, &brief.Details{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	heads, beams, feet := 0, 0, 0
	for _, p := range list {
		switch g := m.Structure.Members[p.member].Group; {
		case g == string(brief.GroupPortalColumn) && p.node >= 0:
			feet++
		case g == string(brief.GroupPortalColumn) && p.least.moment > 0:
			heads++
			near(t, "least moment", p.least.moment, 0.5*0.9*p.steel.Msx, 1e-12, "9.1.4(a)")
		case g == string(brief.GroupPortalBeam) && kinds[p.kind].kind == StrutEnd:
			beams++
		case p.least.moment > 0 && kinds[p.kind].kind == StrutEnd:
			t.Errorf("%s is pinned and has a least moment", p.name)
		}
	}
	if heads != 2 || feet != 2 || beams != 2 {
		t.Errorf("%d heads, %d feet, %d beam ends; want 2 of each", heads, feet, beams)
	}
}
