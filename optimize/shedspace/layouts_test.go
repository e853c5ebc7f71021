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
