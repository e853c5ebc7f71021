package shedspace

import (
	"bytes"
	"maps"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"leanbay/model/brief"
)

// TestLayoutsForgetTheFirst: what is kept of a layout does not depend on sections and girts of the design that came to it first:
// not where beams stand off columns (packhouse), nor where rafters may be open or hollow (a barn of both).
func TestLayoutsForgetTheFirst(t *testing.T) {
	b, err := brief.ReadFile("../../experiments/briefs/barn.yaml")
	if err != nil {
		t.Fatal(err)
	}
	mixed := *b
	mixed.Freedoms.Stock = maps.Clone(b.Freedoms.Stock)
	if mixed.Freedoms.Stock == nil {
		mixed.Freedoms.Stock = map[brief.Group]brief.Stock{}
	}
	rule := mixed.Freedoms.Stock[brief.GroupRafter]
	rule.Families, rule.Sections = []string{"UB", "RHS"}, nil
	mixed.Freedoms.Stock[brief.GroupRafter], mixed.Freedoms.OneOuterSize = rule, false
	barn, err := New(&mixed)
	if err != nil {
		t.Fatal(err)
	}
	for name, p := range map[string]*Problem{"kit": example(t, "kit"), "packhouse": example(t, "packhouse"), "barn of open and hollow rafters": barn} {
		rng := rand.New(rand.NewPCG(53, 54))
		compared := 0
		for _, pt := range wander(t, p, 25, rng) {
			one, _ := p.Decode(pt)
			first := fresh(p).p.layoutOf(one)
			p.holdingOf(one)
			for range 3 {
				for i := range pt {
					if p.genes[i].groups != nil || p.genes[i].Name == "girt spacing" {
						pt[i] = rng.IntN(p.genes[i].Count())
					}
				}
				other, _ := p.Decode(pt)
				if !bytes.Equal(other.AppendLayout(nil), one.AppendLayout(nil)) {
					continue
				}
				compared++
				kg := p.Shed.Build(other).Mass(p.setupOf(other).secondaries.Sections).Total
				if got := p.outline(other).Mass.Total; math.Abs(got-kg) > roundOff*kg/2 { // p knows the layout from others
					t.Errorf("%s: %s has %v kg in the outline, %v in the model", name, p.Key(other), got, kg)
				}
				if again := fresh(p).p.layoutOf(other); !reflect.DeepEqual(first, again) {
					t.Errorf("%s: %s lays down %+v, %s %+v", name, p.Key(one), first, p.Key(other), again)
				}
				if known, again := p.holdingOf(other), fresh(p).p.holdingOf(other); !reflect.DeepEqual(known, again) {
					t.Errorf("%s: %s is held by %v, its like by %v", name, p.Key(other), again, known)
				}
			}
		}
		if compared < 30 {
			t.Errorf("%s: only %d layouts were laid down twice: the test shows little", name, compared)
		}
	}
}

// TestSketchesAreTheModels: what a search reads off a sketch of a layout is to the bit what the layout's model has: weights, costs,
// which groups meet, and which findings say that a link is missing.
func TestSketchesAreTheModels(t *testing.T) {
	for name, p := range spaces(t) {
		rng := rand.New(rand.NewPCG(71, 72))
		missing := 0
		for range 120 {
			d, _ := p.Decode(randomPoint(p, rng))
			l, m := p.layDown(d), p.Shed.Build(d)
			knees, heads := meetingGroups(m)
			if want := m.Weights(); !reflect.DeepEqual(l.groups, want) {
				t.Fatalf("%s: %s: the sketch weighs %+v, the model %+v", name, p.Key(d), l.groups, want)
			}
			if l.costs != p.layoutCosts(m) || !reflect.DeepEqual(l.knees, knees) || !reflect.DeepEqual(l.heads, heads) {
				t.Fatalf("%s: %s: other costs or meetings in the sketch than in the model", name, p.Key(d))
			}
			if len(l.findings) != len(m.Findings) {
				t.Fatalf("%s: %s: %d findings in the sketch, %d in the model", name, p.Key(d), len(l.findings), len(m.Findings))
			}
			links := true
			for i, f := range m.Findings {
				if f.Missing != l.findings[i].Missing || f.Where == "" || f.Text == "" {
					t.Fatalf("%s: %s: finding %+v is %+v in the sketch", name, p.Key(d), f, l.findings[i])
				}
				links = links && !f.Missing
			}
			if p.Shed.LinkMissing(d) {
				missing++
				if links {
					t.Fatalf("%s: %s: a link is missing that no finding names", name, p.Key(d))
				}
			}
		}
		if missing < 10 || missing > 110 {
			t.Errorf("%s: a reading misses links in %d of 120 designs: the test shows little", name, missing)
		}
	}
}

// TestBoundsGiveUpEarly: what is given up before its layout is laid down is not ranked by its outline either, and that is a good
// part of what cannot be.
func TestBoundsGiveUpEarly(t *testing.T) {
	for _, name := range []string{"kit", "barn", "packhouse"} {
		p := example(t, name)
		rng := rand.New(rand.NewPCG(73, 74))
		points := wander(t, p, 150, rng)
		for range 150 {
			points = append(points, randomPoint(p, rng))
		}
		early, never := 0, 0
		for _, pt := range points {
			d, _ := p.Decode(pt)
			want := p.boundBy(p.outline(d), 0)
			if got := p.Bound(pt, ""); !reflect.DeepEqual(got, want) {
				t.Errorf("%s: %s is bounded by %v, its outline by %v", name, p.Key(d), got, want)
			}
			if reflect.DeepEqual(want, p.never()) {
				never++
			}
			if new(outliner).misfit(p, d) || p.planOf(pt).lacking {
				early++
			}
		}
		if 2*early < never || never == len(points) {
			t.Errorf("%s: %d of %d designs are given up early, %d cannot be ranked: the test shows little", name, early, len(points), never)
		}
	}
}
