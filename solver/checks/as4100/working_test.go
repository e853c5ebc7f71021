package as4100_test

import (
	"fmt"
	"strings"
	"testing"

	"leanbay/catalog"
	"leanbay/solver/checks"
)

// TestNonCompactWorking: the numbers that the working prints for 5.2.4, put into the clause's formula by hand, give the
// printed value for every section of the catalogue.
func TestNonCompactWorking(t *testing.T) {
	found := 0
	for _, s := range catalog.Default().All() {
		for _, g := range s.Grades {
			var w checks.Working
			if _, err := code.Explain(s, g, &w); err != nil {
				continue
			}
			for _, step := range w.Steps {
				if step.Clause != "AS 4100 5.2.4" {
					continue
				}
				var z, zc, z2, sy, l, sy2, sp float64
				if n, err := fmt.Sscanf(strings.ReplaceAll(step.Numbers, "e3", ""), "%f + (%f - %f) (%f - %f)/(%f - %f)", &z, &zc, &z2, &sy, &l, &sy2, &sp); n != 7 {
					t.Fatalf("%s: %q: %v", s.Name, step.Numbers, err)
				}
				found++
				near(t, s.Name+" "+strings.TrimSpace(step.Numbers), step.Value/1e3, z+(zc-z)*(sy-l)/(sy-sp), 0.001, "5.2.4 with the printed numbers")
				if z != z2 || sy != sy2 || l > sy || l < sp {
					t.Errorf("%s: %q repeats other numbers than it starts with", s.Name, step.Numbers)
				}
			}
		}
	}
	if found < 20 {
		t.Errorf("only %d non-compact sections found", found)
	}
}
