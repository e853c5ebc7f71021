package charts

import (
	"bytes"
	"strings"
	"testing"

	"leanbay/experiments/runs"
	"leanbay/solver"
)

// TestBracingChart: every judged family stands on the chart with its figures, those that fit nowhere do not, and the caution
// is there.
func TestBracingChart(t *testing.T) {
	table := &runs.BracingTable{Brief: "shed", BriefHash: strings.Repeat("a", 64), Evaluations: 7, Options: []runs.BracingOption{
		{Family: "crossed rods", Found: true, Mass: 14012, Braces: 4, Sway: 0.93, Uplift: 64.2, Complies: true},
		{Family: "knee braces", Found: true, Mass: 15110, Braces: 4, Sway: 1.31, Uplift: 12},
		{Family: "two tiers"},
	}}
	var b bytes.Buffer
	if err := DrawBracing(table, &b, "svg"); err != nil {
		t.Fatal(err)
	}
	svg := b.String()
	for _, want := range []string{"crossed rods", "knee braces", "uplift 64 kN", "sway along 1.31", solver.Caution[:40]} {
		if !strings.Contains(svg, want) {
			t.Errorf("the chart lacks %q", want)
		}
	}
	if strings.Contains(svg, "two tiers") {
		t.Error("a family that fits nowhere is on the chart")
	}
	if err := DrawBracing(&runs.BracingTable{Brief: "none"}, &b, "svg"); err == nil {
		t.Error("an empty table was drawn")
	}
}
