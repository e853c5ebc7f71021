package frame

import (
	"fmt"
	"reflect"
	"testing"

	"leanbay/solver"
)

// TestUse: a workspace that goes to and fro between topologies answers as one made for each, bit for bit, and what it said of the
// structure before is no longer good.
func TestUse(t *testing.T) {
	var simple build
	i, j := simple.node(0, 0, 0, all), simple.node(4, 0, 0, "")
	simple.beam(i, j, ez)
	simple.s.Cases = []solver.Case{{ID: "1", SelfWeight: ez}}
	simple.s.Combinations = []solver.Combination{one}
	list := []*solver.Structure{shed(4), shed(2), &simple.s, shed(5), shed(3)}
	models := make([]*Model, len(list))
	for k, s := range list {
		var err error
		if models[k], err = Compile(s); err != nil {
			t.Fatal(err)
		}
	}
	for _, way := range []struct {
		quick bool
		rods  int
	}{{false, keptRods}, {true, keptRods}, {true, 0}} { // the last by way of many rods
		quick := way.quick
		w := models[3].NewWorkspace()
		w.keptRods = way.rods
		var before *Result
		for _, k := range []int{0, 1, 2, 3, 0, 4, 1, 2, 4, 3} {
			w.Use(models[k])
			if before != nil && before.load == w.loadNo {
				t.Error("an answer of the structure before passes for one of this")
			}
			fresh := models[k].NewWorkspace()
			fresh.keptRods = way.rods
			got, want := answersOf(t, w, list[k], quick), answersOf(t, fresh, list[k], quick)
			if !reflect.DeepEqual(got, want) {
				t.Errorf("structure %d, %+v: the answers differ from those of a new workspace", k, way)
			}
			before = &Result{load: w.loadNo}
		}
	}
}

// answersOf loads s and lists what w says of it.
func answersOf(t *testing.T, w *Workspace, s *solver.Structure, quick bool) (out []any) {
	t.Helper()
	w.Quick = quick
	if err := w.Load(s); err != nil {
		t.Fatal(err)
	}
	return answersLoaded(t, w, s)
}

// answersLoaded is answersOf for what has been loaded.
func answersLoaded(t *testing.T, w *Workspace, s *solver.Structure) (out []any) {
	t.Helper()
	rs := make([]Result, len(s.Combinations))
	if err := w.AnalyseEach(s.Combinations, TensionOnlySecondOrder, rs, func(int) bool { return false }); err != nil {
		t.Fatal(err)
	}
	for i := range rs {
		r := &rs[i]
		out = append(out, r.Stable, r.U, r.Reactions, r.Ends, r.Slack, r.Touching, r.Iterations, r.Residual, r.Notes)
		if !r.Stable || i%10 > 1 {
			continue
		}
		for m := range s.Members {
			out = append(out, *diagram(r, m), r.Extent(m))
		}
		modes, err := w.Buckling(r, 1)
		out = append(out, modes, fmt.Sprint(err)) // upright on slack rods it has no answer
	}
	return out
}
