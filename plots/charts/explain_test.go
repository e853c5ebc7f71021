package charts

import (
	"bytes"
	"strings"
	"testing"

	"leanbay/experiments/runs"
)

// explained is a front of three variants of which one decision is alike and one trades off.
func explained() *runs.Front {
	f := &runs.Front{Brief: "shed", Explain: &runs.Explain{
		Same: map[string]string{"mullion": "100x50x4.0RHS"}, Trades: []runs.Trade{{Decision: "column", Options: []string{"light one", "light one", "heavy one"}}},
	}}
	for _, kg := range []float64{1000, 1100, 1250} {
		f.Variants = append(f.Variants, runs.Variant{Scores: runs.Scores{Mass: kg, Complies: true}})
	}
	return f
}

// TestExplainShowsTradesOnce: the matrix names the decision that trades off and each option once for its stretch of variants,
// not the decision that is alike, and the masses below.
func TestExplainShowsTradesOnce(t *testing.T) {
	var b bytes.Buffer
	if err := DrawExplain(&b, explained(), "svg"); err != nil {
		t.Fatal(err)
	}
	text := b.String()
	for part, count := range map[string]int{">column<": 1, ">light one<": 1, ">heavy one<": 1, ">mullion<": 0, ">1 250<": 1} {
		if got := strings.Count(text, part); got != count {
			t.Errorf("%q is drawn %d times, want %d", part, got, count)
		}
	}
}

// TestExplainWithoutTrades draws what is alike, and refuses a front without complying variants.
func TestExplainWithoutTrades(t *testing.T) {
	f := explained()
	f.Explain.Trades = nil
	var b bytes.Buffer
	if err := DrawExplain(&b, f, "svg"); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(b.String(), ">mullion<") {
		t.Error("the decision that is alike is not drawn")
	}
	f.Explain = &runs.Explain{}
	if err := DrawExplain(&b, f, "svg"); err == nil || WriteExplain(f, t.TempDir()) != nil {
		t.Errorf("nothing to draw: error %v", err)
	}
}
