package shed

import (
	"strings"
	"testing"

	"leanbay/model/actions"
	"leanbay/model/brief"
	"leanbay/solver"
)

// TestOwnCombinations: 1.2G + 0.5Wu on two wind cases is two combinations; an earthquake acts either way; the brief may
// replace the pack's list; a kind that does not act is refused.
func TestOwnCombinations(t *testing.T) {
	cases := []actions.Case{
		{ID: "G", Kind: solver.KindPermanent}, {ID: "Qf1", Kind: solver.KindFloorImposed}, {ID: "Qf2", Kind: solver.KindFloorImposed},
		{ID: "Wu a", Kind: solver.KindWindUltimate}, {ID: "Wu b", Kind: solver.KindWindUltimate}, {ID: "E X", Kind: solver.KindEarthquake},
	}
	pack := []solver.Combination{{ID: "1.35G", State: solver.Strength}}
	b := &brief.Brief{}
	b.Actions.Combinations = []brief.Combination{
		{Name: "half wind", State: "strength", Terms: map[brief.ActionKind]float64{"G": 1.2, "Qf": 0.4, "Wu": 0.5}},
		{Name: "quake", State: "stability", Terms: map[brief.ActionKind]float64{"G": 1, "E": 1}},
	}
	got, err := Combine(b, cases, pack)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, c := range got {
		names = append(names, c.ID)
	}
	if want := "1.35G|half wind, Wu a|half wind, Wu b|quake, E X|quake, E X reversed"; strings.Join(names, "|") != want {
		t.Errorf("got %s, want %s", strings.Join(names, "|"), want)
	}
	if n := len(got[1].Terms); n != 4 {
		t.Errorf("half wind has %d terms: G, two floors and one wind are 4", n)
	}
	if f := got[4].Terms[1].Factor; f != -1 {
		t.Errorf("reversed earthquake at factor %g", f)
	}
	b.Actions.ReplaceCombinations = true
	if got, _ = Combine(b, cases, pack); len(got) != 4 {
		t.Errorf("replaced list has %d combinations, want 4", len(got))
	}
	b.Actions.Combinations[0].Terms["S"] = 1
	if _, err = Combine(b, cases, pack); err == nil || !strings.Contains(err.Error(), "no case of kind S") {
		t.Errorf("snow that does not fall: %v", err)
	}
}
