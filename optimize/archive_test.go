package optimize

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
)

// cloud draws variants of several classes on a coarse grid, so that equal objectives occur.
func cloud(rng *rand.Rand, n, objectives int) []Variant {
	var out []Variant
	for i := range n {
		v := Variant{Key: fmt.Sprintf("%03d", i)}
		v.Score.Class = max(0, rng.IntN(5)-2)
		for range objectives {
			v.Score.Objectives = append(v.Score.Objectives, float64(rng.IntN(12)))
		}
		if v.Score.Class > 0 {
			v.Score.Violation = float64(1 + rng.IntN(6))
		}
		v.Score.Complies = v.Score.Class == 0 && rng.IntN(2) == 0
		out = append(out, v)
	}
	return out
}

// By definition: a member of class 0 stays if none of class 0 dominates it and none with equal objectives has an earlier
// key; the order of adding does not matter.
func TestArchiveIsExactInAnyOrder(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for round := range 60 {
		vs := cloud(rng, 80, 1+round%4)
		all := map[string]Variant{}
		for _, v := range vs {
			all[v.Key] = v
		}
		want := keys(nonDominated(all))
		var first *Archive
		for range 4 {
			rng.Shuffle(len(vs), func(i, j int) { vs[i], vs[j] = vs[j], vs[i] })
			a := NewArchive(2)
			for _, v := range vs {
				a.Add(v)
			}
			if got := keys(a.Front()); !slices.Equal(got, want) {
				t.Fatalf("round %d: front %v, want %v", round, got, want)
			}
			if first == nil {
				first = a
				checkStones(t, a, vs)
			}
			if !slices.Equal(keys(a.Stones()), keys(first.Stones())) || a.Closest().Key != first.Closest().Key {
				t.Fatalf("round %d: stones %v and %v, closest %s and %s", round, keys(a.Stones()), keys(first.Stones()), a.Closest().Key, first.Closest().Key)
			}
		}
	}
}

// checkStones holds the stepping stones to their definition.
func checkStones(t *testing.T, a *Archive, vs []Variant) {
	t.Helper()
	in := map[string]bool{}
	for _, s := range a.Stones() {
		in[s.Key] = true
	}
	for _, v := range vs {
		keep := v.Score.Class == 1 || v.Score.Class == 2
		for _, w := range vs {
			if w.Score.Class == 0 && covers(w.Score.Objectives, v.Score.Objectives) {
				keep = false
			}
			if (w.Score.Class == 1 || w.Score.Class == 2) && w.Key != v.Key && stoneBefore(&w, &v) {
				keep = false
			}
		}
		if keep != in[v.Key] {
			t.Errorf("stone %s: kept %v, want %v", v.Key, in[v.Key], keep)
		}
	}
}

func TestArchiveExcludesOnlyWhatCannotEnter(t *testing.T) {
	rng := rand.New(rand.NewPCG(9, 10))
	for round := range 200 {
		objectives := 1 + round%3
		a := &Archive{}
		for _, v := range cloud(rng, 30, objectives) {
			a.Add(v)
		}
		v := Variant{Key: "   "} // before every other key
		var bound []float64
		for range objectives {
			x := float64(rng.IntN(12))
			v.Score.Objectives = append(v.Score.Objectives, x)
			bound = append(bound, x-float64(rng.IntN(2)))
		}
		if a.Excludes(bound) && a.clone().Add(v) {
			t.Fatalf("bound %v excluded %v, which enters the front", bound, v.Score.Objectives)
		}
		if a.Excludes(v.Score.Objectives) == a.clone().Add(v) {
			t.Fatalf("an exact bound decides otherwise than the archive: %v", v.Score.Objectives)
		}
	}
}

func TestLightest(t *testing.T) {
	a := &Archive{}
	a.Add(Variant{Key: "stone", Score: Score{Objectives: []float64{1, 1.2}}})
	if a.Lightest() != nil {
		t.Error("a variant that does not comply is the lightest")
	}
	a.Add(Variant{Key: "heavy", Score: Score{Objectives: []float64{3, 0.8}, Complies: true}})
	a.Add(Variant{Key: "light", Score: Score{Objectives: []float64{2, 0.9}, Complies: true}})
	if l := a.Lightest(); l == nil || l.Key != "light" {
		t.Errorf("lightest %v", l)
	}
}
