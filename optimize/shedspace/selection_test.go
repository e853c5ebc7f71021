package shedspace

import (
	"errors"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"leanbay/solver"
	"leanbay/solver/frame"
)

// TestSelectedCases: answers under the selected cases alone are those under all cases, to the bit, and a combination that weighs a case
// which is left out is refused.
func TestSelectedCases(t *testing.T) {
	p, j, m := sturdyPackhouse(t)
	if n := len(p.bench.wholeCases.cases); n >= len(p.bench.cases) {
		t.Fatalf("all %d cases are selected: the example shows nothing", n)
	}
	under := func(s *selection) (out [][]float64) {
		if err := j.whole.loadUnder(&m.Structure, s, true); err != nil {
			t.Fatal(err)
		}
		if err := j.analyseWhole(m, &Assessment{}); err != nil {
			t.Fatal(err)
		}
		for i := range p.bench.inWhole {
			if !j.answers[i].Stable {
				t.Fatalf("%s is not stable", m.Structure.Combinations[p.bench.inWhole[i]].ID)
			}
			out = append(out, slices.Clone(j.answers[i].U))
		}
		return out
	}
	all, selected := under(nil), under(p.bench.wholeCases)
	for i := range all {
		if !slices.Equal(all[i], selected[i]) {
			t.Errorf("combination %d: other displacements under the selected cases alone", i)
		}
	}
	left := slices.Index(p.bench.wholeCases.place, -1)
	c := []solver.Combination{{ID: "left out", Terms: []solver.Term{{Case: left, Factor: 1}}}}
	if err := j.whole.work.AnalyseEach(j.whole.combinations(c), frame.TensionOnlySecondOrder, make([]frame.Result, 1), func(int) bool { return false }); err == nil {
		t.Errorf("a combination of case %d, which is left out, was analysed", left)
	}
}

// TestAloneFromWhole: inner frames alone that take their elements and loads from the whole shed in hand have the answers, to the bit, of
// frames that were loaded by themselves.
func TestAloneFromWhole(t *testing.T) {
	for seed, name := range []string{"kit", "barn", "packhouse"} {
		p := example(t, name)
		j, own := newJudge(p), newJudge(p)
		j.brief, j.quick, own.brief, own.quick = true, true, true, true
		compared := 0
		for _, pt := range wander(t, p, 30, rand.New(rand.NewPCG(81, uint64(seed)))) {
			d, _ := p.Decode(pt)
			m := j.model(d, p.setupOf(d))
			if j.loadWhole(m) != nil {
				continue
			}
			plane, _ := j.planeFrames(m)
			if err := errors.Join(j.loadAlone(plane), own.loadAlone(plane)); err != nil {
				t.Fatal(err)
			}
			var got, want Assessment
			all, list := m.Structure.Combinations, p.bench.planar
			if err := errors.Join(j.analyse(&j.alone, all, list, frame.SecondOrder, &got), own.analyse(&own.alone, all, list, frame.SecondOrder, &want)); err != nil {
				t.Fatal(err)
			}
			if got.Mechanism != want.Mechanism || !slices.Equal(got.Trouble, want.Trouble) {
				t.Errorf("%s: %s %q, by themselves %s %q", p.Key(d), got.Mechanism, got.Trouble, want.Mechanism, want.Trouble)
			}
			for i := range j.res {
				g, w := &j.res[i], &own.res[i]
				if g.Stable != w.Stable || g.Stable && !reflect.DeepEqual([]any{g.U, g.Reactions, g.Ends}, []any{w.U, w.Reactions, w.Ends}) {
					t.Fatalf("%s: %s has another answer than by themselves", p.Key(d), all[list[i]].ID)
				}
				for k := 0; g.Stable && k < len(plane.Members); k++ {
					if g.Extent(k) != w.Extent(k) || g.RoughExtent(k) != w.RoughExtent(k) {
						t.Fatalf("%s: %s, member %s: other bounds than by themselves", p.Key(d), all[list[i]].ID, plane.Members[k].ID)
					}
					compared++
				}
			}
		}
		if compared < 1000 {
			t.Errorf("%s: only %d members compared: the test shows little", name, compared)
		}
	}
}
