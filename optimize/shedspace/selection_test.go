package shedspace

import (
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
