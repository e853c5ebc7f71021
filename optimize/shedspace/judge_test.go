package shedspace

import (
	"context"
	"math"
	"reflect"
	"sync"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver/frame"
)

// example opens a shipped brief as a problem, once for all tests.
func example(t testing.TB, name string) *Problem {
	t.Helper()
	mu.Lock()
	defer mu.Unlock()
	if p := opened[name]; p != nil {
		return p
	}
	b, err := brief.ReadFile("../../experiments/briefs/" + name + ".yaml")
	if err != nil {
		t.Fatal(err)
	}
	p, err := New(b)
	if err != nil {
		t.Fatal(err)
	}
	opened[name] = p
	return p
}

var (
	mu     sync.Mutex
	opened = map[string]*Problem{}
)

// TestKitIsAMechanism: the kit's drawing has neither wall bracing nor struts; the analysis, not only the reading of the
// drawing, finds that it sways along the building.
func TestKitIsAMechanism(t *testing.T) {
	a, err := example(t, "kit").AssessProposal()
	if err != nil {
		t.Fatal(err)
	}
	if a.Class != ClassMechanism || a.Complies {
		t.Fatalf("class %d, %s", a.Class, a.Says())
	}
	if want := "along X"; !contains(a.Mechanism, want) {
		t.Errorf("the mechanism is told as %q, without %q", a.Mechanism, want)
	}
	if !a.Findings[0].Missing || !contains(a.Findings[0].Text, "neither long wall has a brace or a rigid frame") {
		t.Errorf("first finding: %+v", a.Findings[0])
	}
}

func contains(s, part string) bool {
	for i := 0; i+len(part) <= len(s); i++ {
		if s[i:i+len(part)] == part {
			return true
		}
	}
	return false
}

// TestReactionsEqualActions: for every strength combination of the braced kit, the feet carry what acts: the patches'
// forces (clipped polygons times pressure), the steel's weight, and the shares of weight that act sideways.
func TestReactionsEqualActions(t *testing.T) {
	p := example(t, "kit")
	d, _, err := p.Braced()
	if err != nil {
		t.Fatal(err)
	}
	set := p.bench.drawn
	m := p.Shed.Build(d)
	m.Load(set.loads, set.joistMass)
	model, err := frame.Compile(&m.Structure)
	if err != nil {
		t.Fatal(err)
	}
	w := model.NewWorkspace()
	if err := w.Load(&m.Structure); err != nil {
		t.Fatal(err)
	}
	var r frame.Result
	for _, k := range p.bench.strength {
		c := &m.Structure.Combinations[k]
		if err := w.Analyse(c, frame.TensionOnly, &r); err != nil || !r.Stable {
			t.Fatalf("%s: %v %v", c.ID, err, r.Notes)
		}
		var feet, acts r3.Vec
		for _, f := range m.Bases {
			feet = r3.Add(feet, r3.Vec{X: r.Reactions[6*f.Node], Y: r.Reactions[6*f.Node+1], Z: r.Reactions[6*f.Node+2]})
		}
		size := 0.0
		for _, term := range c.Terms {
			f := r3.Scale(term.Factor, caseForce(p, m, term.Case))
			acts = r3.Add(acts, f)
			size += r3.Norm(f)
		}
		if gap := r3.Norm(r3.Add(feet, acts)); gap > 1e-6*size {
			t.Errorf("%s: feet %v, actions %v, gap %g N", c.ID, feet, acts, gap)
		}
	}
}

// caseForce is the whole force of one case, from patches and masses.
func caseForce(p *Problem, m *shed.Model, i int) r3.Vec {
	src := &p.bench.cases[i]
	var sum r3.Vec
	if src.Fraction != 0 {
		for _, sh := range src.Shares {
			for k := range p.bench.cases {
				if p.bench.cases[k].ID == sh.Case {
					w := caseForce(p, m, k)
					if p.bench.cases[k].SelfWeight { // rods hang on nodes and take no share sideways
						w.Z += rodWeight(m)
					}
					sum = r3.Add(sum, r3.Scale(-sh.Factor*src.Fraction*w.Z, src.Direction))
				}
			}
		}
		return sum
	}
	for _, patch := range src.Patches {
		f, _ := p.Shed.Building.PatchForce(patch)
		sum = r3.Add(sum, f)
	}
	if src.SelfWeight {
		mass := m.Mass(p.bench.drawn.secondaries.Sections)
		laps := lapMass(p, m)
		sum.Z -= brief.Gravity * (mass.Primary + mass.Bracing + mass.Secondary - laps)
	}
	return sum
}

// rodWeight is the weight of all rods (N).
func rodWeight(m *shed.Model) float64 {
	kg := 0.0
	for i := range m.Structure.Members {
		mem := &m.Structure.Members[i]
		if mem.Section != nil && m.Structure.Elements[mem.Elements[0]].Bar {
			kg += mem.Length * mem.Section.Props.Mass
		}
	}
	return kg * brief.Gravity
}

// lapMass is the mass of purlins beyond one length along the building: laps are bought but their weight is left out of
// the actions, being within a few kilograms of a line.
func lapMass(p *Problem, m *shed.Model) float64 {
	sec := p.bench.drawn.secondaries.Sections.Purlin
	length := 0.0
	for _, s := range p.Shed.PurlinSpans(m.Design.PurlinSpacing) {
		length += s.Length
	}
	return m.Mass(p.bench.drawn.secondaries.Sections).Groups[brief.GroupPurlin] - length*sec.Props.Mass
}

// TestPureFunctionOfTheKey: scores do not depend on what a worker judged before, to the last bit.
func TestPureFunctionOfTheKey(t *testing.T) {
	p := example(t, "kit")
	points := p.Start()
	var repaired [][]int
	for _, pt := range points {
		_, r := p.Canonical(pt)
		repaired = append(repaired, r)
	}
	score := func(order []int) map[int]any {
		e := p.NewEvaluator()
		out := map[int]any{}
		for _, i := range order {
			key, r := p.Canonical(repaired[i])
			s, err := e.Evaluate(context.Background(), r, key)
			if err != nil {
				t.Fatal(err)
			}
			out[i] = s
		}
		return out
	}
	if a, b := score([]int{0, 1}), score([]int{1, 0, 1}); !reflect.DeepEqual(a, b) {
		t.Errorf("in one order %v, in another %v", a, b)
	}
}

// TestSwayFactor compares the root with Dumonteil's closed approximation of the same chart, good to about 2 % (P.
// Dumonteil, Engineering Journal AISC 29(3), 1992): k = √((1.6γ1γ2 + 4(γ1+γ2) + 7.5)/(γ1+γ2+7.5)); and with the end of
// the chart where both ends are fixed, k = 1.
func TestSwayFactor(t *testing.T) {
	for _, g := range [][2]float64{{10, 0.5}, {10, 1}, {10, 3}, {1, 1}, {0.6, 2}, {10, 10}} {
		want := math.Sqrt((1.6*g[0]*g[1] + 4*(g[0]+g[1]) + 7.5) / (g[0] + g[1] + 7.5))
		if got := swayFactor(g[0], g[1]); math.Abs(got/want-1) > 0.025 {
			t.Errorf("γ %v: %.3f, approximation %.3f", g, got, want)
		}
	}
	if got := swayFactor(1e-6, 1e-6); math.Abs(got-1) > 1e-3 {
		t.Errorf("fixed ends: %.4f", got)
	}
}

// TestMassByHand weighs the packhouse's columns, rafters and eaves struts by hand: lengths from the brief, mass per metre
// from the catalogue.
func TestMassByHand(t *testing.T) {
	p := example(t, "packhouse")
	m := p.Shed.Build(p.Drawn)
	got := m.Mass(p.bench.drawn.secondaries.Sections)
	kg := func(g brief.Group) float64 { return p.Drawn.Of(g).Section.Props.Mass }
	for _, tt := range []struct {
		group brief.Group
		want  float64
	}{
		{brief.GroupColumn, 12 * 5.2 * kg(brief.GroupColumn)},
		{brief.GroupRafter, 12 * math.Hypot(8.1, 1.6) * kg(brief.GroupRafter)},
		{brief.GroupEavesStrut, 2 * 26.0 * kg(brief.GroupEavesStrut)},
		{brief.GroupProp, 2 * 6.8 * kg(brief.GroupProp)},
		{brief.GroupPost, 3 * 2.75 * kg(brief.GroupPost)},
		{brief.GroupWallRod, 2 * math.Hypot(5.6, 5.2) * kg(brief.GroupWallRod)},
	} {
		if math.Abs(got.Groups[tt.group]-tt.want) > 1e-6*tt.want {
			t.Errorf("%s: %.2f kg, by hand %.2f kg", tt.group, got.Groups[tt.group], tt.want)
		}
	}
	if sum := got.Primary + got.Bracing + got.Secondary + got.Openings + got.BasePlates + got.Connections; math.Abs(sum-got.Total) > 1e-9 {
		t.Errorf("lines sum to %g, total %g", sum, got.Total)
	}
}

// TestPageAgreesWithAssessment: the page of a member finds the utilisation that the assessment found for it in the whole
// shed.
func TestPageAgreesWithAssessment(t *testing.T) {
	p := example(t, "kit")
	d, _, err := p.Braced()
	if err != nil {
		t.Fatal(err)
	}
	a, err := newJudge(p).assess(d, p.setupOf(d))
	if err != nil {
		t.Fatal(err)
	}
	for _, g := range a.Groups {
		if g.Alone || g.Combination == "" || g.Group == "stability" {
			continue
		}
		page, err := p.MemberPage(d, g.Member)
		if err != nil {
			t.Fatal(err)
		}
		worst := 0.0
		for _, r := range page.Results {
			worst = math.Max(worst, r.Utilisation)
		}
		if worst != g.Utilisation {
			t.Errorf("%s: page %g, assessment %g", g.Member, worst, g.Utilisation)
		}
		if len(page.Working.Steps) == 0 {
			t.Errorf("%s: no working", g.Member)
		}
	}
	if _, err := p.MemberPage(d, "rafter/9/X"); err == nil || !contains(err.Error(), "rafter/1/A-B") {
		t.Errorf("unknown member: %v", err)
	}
}
