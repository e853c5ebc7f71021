package statics

import (
	"math"
	"testing"
)

// TestSuite runs every case: each figure must agree with its source.
func TestSuite(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range Cases() {
		if seen[c.Name] {
			t.Errorf("two cases are called %q", c.Name)
		}
		seen[c.Name] = true
		rows := c.Run()
		if len(rows) == 0 {
			t.Errorf("%s has no figure", c.Name)
		}
		for _, r := range rows {
			switch {
			case r.Source == "" || math.IsNaN(r.Want):
				t.Errorf("%s: %s lacks a source or a value", r.Case, r.What)
			case r.Problem != "":
				t.Errorf("%s: %s: %s", r.Case, r.What, r.Problem)
			case !r.Agrees:
				t.Errorf("%s: %s: expected %g %s (%s), got %g, difference %.3g", r.Case, r.What, r.Want, r.Unit, r.Source, r.Got, r.Difference)
			}
		}
	}
}
