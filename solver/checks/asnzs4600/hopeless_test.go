package asnzs4600

import (
	"errors"
	"math"
	"slices"
	"testing"

	"leanbay/catalog"
)

// TestHopeless: over light and heavy needs, no section resists more with its buckling than without it, and a table that passes
// over the hopeless ones finds the same section, or the same best, as trying all of them in full.
func TestHopeless(t *testing.T) {
	lib := catalog.Default()
	list := slices.Concat(lib.ByFamily(catalog.C), lib.ByFamily(catalog.Z))
	slices.SortStableFunc(list, func(a, b *catalog.Section) int { return int(math.Copysign(1, a.Props.Mass-b.Props.Mass)) })
	list = append(list[:6:6], list[len(list)/2:len(list)/2+4]...)
	code, stock := New(), NewStock()
	skipped, passed := 0, 0
	for _, span := range []float64{1.5, 3, 6, 9} {
		for _, n := range []Need{
			{Role: "purlin", Span: span, Spans: 4, Continuous: true, Lap: 0.15 * span, Spacing: 1.2, Bridging: 1, Inward: 900, Outward: 1400, EdgeOutward: 2100, Edge: 2, ServiceIn: 300, ServiceOut: 500, Deflect: 150},
			{Role: "girt", Span: span, Spacing: 1.2, Slope: math.Pi / 2, Bridging: 1, Inward: 800, Outward: 700, Along: 50, Strut: 4000, ServiceIn: 400, Deflect: 120},
			{Role: "joist", Span: span, Spacing: 0.45, SheetHolds: true, Inward: 4500, ServiceIn: 3000, Deflect: 300},
		} {
			run, err := n.Run()
			if err != nil {
				t.Fatal(err)
			}
			table := NewTable(code, stock, list)
			var best *RunResult
			for _, s := range table.list {
				full, err := table.check(run, s)
				if err != nil {
					t.Fatal(err)
				}
				free, err := code.CheckRun(run, code.Resist(unbuckled(s), s.Grades[0], nil), nil)
				if err != nil {
					t.Fatal(err)
				}
				if free.Utilisation > full.Utilisation*(1+1e-12) {
					t.Errorf("%s of %g m, %s: %g without buckling, %g with it", n.Role, span, s.Name, free.Utilisation, full.Utilisation)
				}
				if !free.Complies() {
					skipped++
				}
				if best == nil || !best.Complies() && full.Utilisation < best.Utilisation {
					best = full
				}
			}
			got, err := table.Lightest(n)
			if err != nil && !errors.Is(err, ErrNonePasses) {
				t.Fatal(err)
			}
			if got.Section != best.Section || got.Utilisation != best.Utilisation || (err == nil) != best.Complies() {
				t.Errorf("%s of %g m: %s at %g, in full %s at %g", n.Role, span, got.Section.Name, got.Utilisation, best.Section.Name, best.Utilisation)
			}
			if err == nil {
				passed++
			}
		}
	}
	if skipped == 0 || passed == 0 || passed == 12 {
		t.Errorf("%d sections were hopeless, %d needs were met: the test looks at one side only", skipped, passed)
	}
}
