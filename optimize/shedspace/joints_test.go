package shedspace

import (
	"math"
	"testing"

	"leanbay/model/brief"
	"leanbay/model/joints"
	"leanbay/solver"
	"leanbay/solver/checks/asnzs4600"
	"leanbay/solver/frame"
)

// braced is the full assessment of a shipped brief's proposal with its missing links added, once for all tests.
func braced(t *testing.T, name string) *Assessment {
	t.Helper()
	p := example(t, name)
	mu.Lock()
	defer mu.Unlock()
	if a := assessed[name]; a != nil {
		return a
	}
	a, _, err := p.AssessBraced()
	if err != nil {
		t.Fatal(err)
	}
	assessed[name] = a
	return a
}

var assessed = map[string]*Assessment{}

// TestFootingsAreReactions: the footings' greatest push and pull are at least those of the whole shed's reactions, and the
// concrete is the pull over 0.9 g.
func TestFootingsAreReactions(t *testing.T) {
	a := braced(t, "packhouse")
	if len(a.Footings) != len(a.Feet) || len(a.Feet) == 0 {
		t.Fatalf("%d footings, %d feet", len(a.Footings), len(a.Feet))
	}
	for i, f := range a.Footings {
		r := a.Feet[i]
		if f.Name != r.Name || f.Push.Value < r.Up || f.Pull.Value < r.Down {
			t.Errorf("%s: push %g and pull %g, by the reactions of %s %g and %g", f.Name, f.Push.Value, f.Pull.Value, r.Name, r.Up, r.Down)
		}
		if want := f.Pull.Value / 0.9 / 9.80665; math.Abs(f.Concrete-want) > 1e-9*want {
			t.Errorf("%s: %g kg of concrete, by hand %g", f.Name, f.Concrete, want)
		}
	}
}

// TestConnectionsOfPackhouse: every kind that the drawing has is listed, the knees as assumed, the rest as to be designed,
// and a joist's end carries w L/2: (1.2 x 0.7 + 1.5 x 3.0) kPa x 0.45 m x 4.4 m/2 = 5.287 kN, and 1.2 of its own weight.
func TestConnectionsOfPackhouse(t *testing.T) {
	a := braced(t, "packhouse")
	seen := map[joints.Kind]joints.Joint{}
	for _, j := range a.Connections {
		seen[j.Kind] = j
	}
	for _, k := range []joints.Kind{joints.Eaves, joints.Ridge, joints.PropCap, joints.MullionTop, joints.BeamEnd, joints.JoistEnd, joints.StrutEnd,
		joints.WallBraceEnd, joints.RoofBraceEnd, joints.ColumnBase, joints.PropBase, joints.MullionBase, joints.PostBase} {
		j, ok := seen[k]
		want := joints.ToBeDesigned
		if k == joints.Eaves || k == joints.Ridge {
			want = joints.Assumed
		}
		if !ok || j.Status != want {
			t.Errorf("%s: found %v, status %q, want %q", k, ok, j.Status, want)
		}
	}
	joist := example(t, "packhouse").bench.drawn.secondaries.Sections.Joist
	want := 5.287e3 + 1.2*joist.Props.Mass*9.80665*2.2
	if got := seen[joints.JoistEnd].Demand.Shear.Value; math.Abs(got-want) > 2 {
		t.Errorf("joist end: %g N, by hand %g", got, want)
	}
}

// TestFloorByHand: packhouse's office. Joist C20019 over 4.4 m, half of 1 kN (a screwed sheet floor): 0.5 x 4.4³/(48 EI); the
// longest beam over its span with 0.5 kN: L³ x 0.5/(48 EI). The frequency of the joist is pi/2 sqrt(EI/(m L⁴)) with m = (0.7 +
// psi_l 0.4 x 3.0 = 1.9 kPa) x 0.45/g and its own; the beams', as simple spans on rigid supports, bound the model's from above.
func TestFloorByHand(t *testing.T) {
	p, a := example(t, "packhouse"), braced(t, "packhouse")
	if len(a.Floors) != 1 {
		t.Fatalf("%d floors", len(a.Floors))
	}
	f := a.Floors[0]
	ix := p.bench.drawn.secondaries.Sections.Joist.Props.Ix
	m := p.Shed.Build(a.Design)
	beam, stiff := 0.0, math.Inf(1)
	for _, b := range m.BeamsOf(0) {
		mem := &m.Structure.Members[b]
		beam = math.Max(beam, 500*math.Pow(mem.Length, 3)/(48*200e9*mem.Section.Props.Ix))
		stiff = math.Min(stiff, mem.Section.Props.Ix/math.Pow(mem.Length, 4))
	}
	want := 500*math.Pow(4.4, 3)/(48*200e9*ix) + beam
	if math.Abs(f.Test-want) > 1e-9 {
		t.Errorf("1 kN: %g mm, by hand %g", f.Test*1e3, want*1e3)
	}
	kg := 1.9e3*0.45/9.80665 + p.bench.drawn.secondaries.Sections.Joist.Props.Mass
	joist := math.Pi / 2 * math.Sqrt(200e9*ix/(kg*math.Pow(4.4, 4)))
	if math.Abs(f.Joists-joist) > 1e-6*joist {
		t.Errorf("joists: %g Hz, by hand %g", f.Joists, joist)
	}
	// The beam with the least EI/L⁴ carries at least its own mass: its frequency unloaded is above the floor's.
	if unloaded := math.Pi / 2 * math.Sqrt(200e9*stiff/22.9); !(f.Beams > 1 && f.Beams < unloaded) {
		t.Errorf("beams: %g Hz, unloaded %g", f.Beams, unloaded)
	}
	if q := 1/(f.Beams*f.Beams) + 1/(f.Joists*f.Joists); math.Abs(1/math.Sqrt(q)-f.Frequency) > 1e-9 {
		t.Errorf("together: %g Hz", f.Frequency)
	}
}

// TestStiffJoist by hand: 4 m at 0.6 m, 3 kPa, limit 2 mm: EI for a force alone: 1000 x 64/(48 x 0.0015) = 888 889 N·m²; as a
// deflection limit of the uniform load: 888889 x 384/(5 x 1800 x 64) = 592.6.
func TestStiffJoist(t *testing.T) {
	n := stiffJoist(asnzs4600.Need{Span: 4, Spacing: 0.6, ServiceIn: 3e3, Deflect: 360}, 0.002)
	if math.Abs(n.Deflect-592.6) > 0.1 {
		t.Errorf("span/%g, by hand span/592.6", n.Deflect)
	}
}

// TestServiceSpring: a spring at a column's foot shares the moment as a cantilever's does: a lone column with stiffness k at
// its foot, height h, sways F h³/3EI + F h²/k under F at its head; without any it could not stand.
func TestServiceSpring(t *testing.T) {
	p := example(t, "kit")
	m := p.Shed.Build(p.Drawn)
	col := m.Structure.Members[m.Columns[1][0]]
	foot := m.Structure.Elements[col.Elements[0]].I
	undo := springFeet(m, 2e6)
	n := m.Structure.Nodes[foot]
	el := m.Structure.Elements[col.Elements[0]]
	lone := solver.Structure{Nodes: []solver.Node{n, {ID: 2, Pos: n.Pos}}, Members: []solver.Member{{ID: "column", Elements: []int{0}}}}
	lone.Nodes[1].Pos.Z += 3
	el.I, el.J, el.Member, el.ReleaseI, el.ReleaseJ, el.SpringI, el.SpringJ, el.Density = 0, 1, 0, [6]bool{}, [6]bool{}, [6]float64{}, [6]float64{}, 0
	lone.Elements = []solver.Element{el}
	lone.Cases = []solver.Case{{ID: "F", Nodal: []solver.NodalLoad{{Node: 1}}}}
	lone.Cases[0].Nodal[0].F.Y = 1000
	lone.Combinations = []solver.Combination{{ID: "F", Terms: []solver.Term{{Factor: 1}}}}
	var c compiled
	if err := c.load(&lone, false); err != nil {
		t.Fatal(err)
	}
	var r frame.Result
	if err := c.work.Analyse(&lone.Combinations[0], frame.Linear, &r); err != nil || !r.Stable {
		t.Fatal(err, r.Mechanisms)
	}
	want := 1000*27/(3*200e9*el.Iz) + 1000*9/2e6
	if got := r.U[6+int(solver.UY)]; math.Abs(got-want) > 1e-9*want {
		t.Errorf("sway %g, by hand %g", got, want)
	}
	undo()
	for i := range m.Structure.Nodes {
		if m.Structure.Nodes[i].Spring != [6]float64{} {
			t.Errorf("node %d keeps its spring", i)
		}
	}
}

// TestSpringHelpsService: with a spring at the feet the frames sway less in service, and strength does not change.
func TestSpringHelpsService(t *testing.T) {
	p := example(t, "packhouse")
	d := braced(t, "packhouse").Design
	without, err := newJudge(p).assess(d, p.bench.drawn)
	if err != nil {
		t.Fatal(err)
	}
	b := p.Brief
	old := b.Proposal.Bases.ServiceSpring
	b.Proposal.Bases.ServiceSpring = brief.RotationalStiffness(5e5)
	defer func() { b.Proposal.Bases.ServiceSpring = old }()
	with, err := newJudge(p).assess(d, p.bench.drawn)
	if err != nil {
		t.Fatal(err)
	}
	if with.U != without.U {
		t.Errorf("strength changed: %g and %g", with.U, without.U)
	}
	for i, s := range with.Service {
		if contains(s.Limit, "sway across") && !(s.Value*without.Service[i].Value > 0 && math.Abs(s.Value) < math.Abs(without.Service[i].Value)) {
			t.Errorf("%s: %g with, %g without springs", s.Limit, s.Value, without.Service[i].Value)
		}
	}
}

// TestStatedPad: a pad that is too light for the uplift makes what was drawn fail, by name, and nothing that the search scores.
func TestStatedPad(t *testing.T) {
	p := example(t, "packhouse")
	details := &p.Brief.Proposal.Details
	details.ColumnBase = &brief.Detail{Kind: "base plate", Plate: brief.Plate{Thickness: 0.016, Width: 0.25, Depth: 0.4, Yield: 250e6}, Pad: brief.Pad{Length: 0.4, Width: 0.4, Depth: 0.3, Strength: 25e6}}
	defer func() { details.ColumnBase = nil }()
	a, _, err := p.AssessBraced()
	if err != nil {
		t.Fatal(err)
	}
	if len(a.DetailFails) == 0 || a.Complies {
		t.Errorf("a pad of 0.05 m³ passes: %v", a.DetailFails)
	}
	if b := braced(t, "packhouse"); b.U != a.U || b.Class != a.Class {
		t.Error("a detail changed the class")
	}
}

// TestHoldingForce: the force along the barn's purlins, against the flange forces of its five rafters a slope read at fifty
// stations each: 0.025 of the greatest and 0.0125 of the others (AS 4100 5.4.3).
func TestHoldingForce(t *testing.T) {
	p := example(t, "barn")
	d, _, err := p.Braced()
	if err != nil {
		t.Fatal(err)
	}
	j, a := newJudge(p), &Assessment{}
	m := p.Shed.Build(d)
	m.Load(p.bench.drawn.loads, 0)
	if err := j.whole.load(&m.Structure, false); err != nil {
		t.Fatal(err)
	}
	if err := j.analyse(&j.whole, m.Structure.Combinations, p.bench.strength, frame.TensionOnlySecondOrder, a); err != nil || a.Mechanism != "" {
		t.Fatal(err, a.Mechanism)
	}
	var got HoldingForce
	j.holdingForce(m, &got)
	want := 0.0
	var curve solver.Diagram
	for k := range j.combos {
		for slope := range 2 {
			sum, most := 0.0, 0.0
			for f := range m.Rafters {
				i := m.Rafters[f][slope]
				j.res[k].Diagram(i, &curve)
				bend, axial := 0.0, 0.0
				for x := range 51 {
					at := curve.At(curve.Length * float64(x) / 50)
					bend, axial = math.Max(bend, math.Abs(at[solver.Mz])), math.Max(axial, math.Abs(at[solver.N]))
				}
				dims := m.Structure.Members[i].Section.Dims
				force := bend/(dims.D-dims.Tf) + axial/2
				sum, most = sum+force, math.Max(most, force)
			}
			want = math.Max(want, 0.025*most+0.0125*(sum-most))
		}
	}
	if math.Abs(got.Force-want) > 0.01*want || want < 1e3 {
		t.Errorf("%g N along a purlin, by sampling %g", got.Force, want)
	}
	if b := braced(t, "barn"); b.Holding.Force != got.Force || b.Holding.Purlin.Name == "" {
		t.Errorf("the assessment says %+v, the analysis %g N", b.Holding, got.Force)
	}
}
