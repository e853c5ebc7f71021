package sizing

import (
	"context"
	"testing"

	"leanbay/optimize"
)

// The yardstick must be a fair one: it finds feasible designs within its budget, never below the published best, and
// analyses no more than allowed; the search as a whole does no worse.
func TestMeasureAgainstTheYardstick(t *testing.T) {
	for _, name := range []string{"ten-bar.json", "twenty-five-bar.json"} {
		_, text := shipped(t, name)
		plain, err := Measure(context.Background(), name, text, PlainMethod(), 2, 1500, 1)
		if err != nil {
			t.Fatal(err)
		}
		whole, err := Measure(context.Background(), name, text, Method{Name: "whole"}, 2, 300, 2)
		if err != nil {
			t.Fatal(err)
		}
		for k, o := range plain.Runs {
			w := whole.Runs[k]
			if !o.Feasible || o.Mass < plain.Published-0.005 || o.EvaluationsToBest > 1500 {
				t.Errorf("%s: yardstick %+v", name, o)
			}
			if !w.Feasible || w.Mass > o.Mass || w.Mass < whole.Published-0.005 || w.Evaluations > 300 {
				t.Errorf("%s: search %+v, yardstick %+v", name, w, o)
			}
		}
	}
}

// Each part that can be switched off must be one that Config knows, and only one at a time but for the last.
func TestPartsChangeTheSearch(t *testing.T) {
	for i, m := range Parts() {
		var c optimize.Config
		if m.Tune != nil {
			m.Tune(&c)
		}
		changed := c.NoBounds || c.NoForecast || c.NoPolish || c.NoRestart || c.NoAdapt || c.Islands != 0
		if changed != (i > 0) {
			t.Errorf("%s: changes the search: %v", m.Name, changed)
		}
	}
}
