package statics

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"leanbay/solver"
)

// TestSuite runs every case: each figure must agree with its source, and stand in the documentation's table.
func TestSuite(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "..", filepath.FromSlash(TablePath)))
	if err != nil {
		t.Fatal(err)
	}
	table := string(text)
	if !strings.Contains(table, solver.Caution) {
		t.Error("the table lacks the caution")
	}
	seen := map[string]bool{}
	cases := Cases()
	if len(cases) < 100 {
		t.Errorf("%d cases, want at least 100", len(cases))
	}
	lines := 0
	for _, c := range cases {
		if seen[c.Name] {
			t.Errorf("two cases are called %q", c.Name)
		}
		seen[c.Name] = true
		rows := c.Run()
		if len(rows) == 0 {
			t.Errorf("%s has no figure", c.Name)
		}
		for i := range rows {
			lines++
			checkRow(t, &rows[i], table)
		}
	}
	if got := strings.Count(table, "\n| ") - 1; got != lines {
		t.Errorf("the table has %d rows, the suite %d: rewrite it by 'leanbay verify --table'", got, lines)
	}
}

func checkRow(t *testing.T, r *Row, table string) {
	switch {
	case r.Source == "" || math.IsNaN(r.Want):
		t.Errorf("%s: %s lacks a source or a value", r.Case, r.What)
	case r.Problem != "":
		t.Errorf("%s: %s: %s", r.Case, r.What, r.Problem)
	case !r.Agrees:
		t.Errorf("%s: %s: expected %g %s (%s), got %g, difference %.3g", r.Case, r.What, r.Want, r.Unit, r.Source, r.Got, r.Difference)
	}
	if !inTable(table, r) {
		t.Errorf("%s: %s = %s does not stand in %s: rewrite it by 'leanbay verify --table'", r.Case, r.What, r.Shown(r.Want, 6), TablePath)
	}
}

// inTable finds case, figure and expected value; the last digit may differ by processor for values that are computed.
func inTable(table string, r *Row) bool {
	head := "\n| " + r.Case + " | " + r.What + " | "
	_, rest, ok := strings.Cut(table, head)
	if !ok {
		return false
	}
	shown, _, _ := strings.Cut(rest, " | ")
	for _, v := range []float64{r.Want, r.Want * (1 - 1e-6), r.Want * (1 + 1e-6)} {
		if shown == r.Shown(v, 6) {
			return true
		}
	}
	return false
}

// TestJudgement: a wrong figure must not agree, by a tolerance, by a yes, or by a small size.
func TestJudgement(t *testing.T) {
	f := span(2, planeSection, fixedEnd, freeEnd)
	f.load("a", "linear").force(2, 0, 0, -1000)
	a, err := analyse(f)
	if err != nil {
		t.Fatal(err)
	}
	src := closed("test")
	want := -1000 * 8 / (3 * planeSection.eiz())
	for _, c := range []struct {
		fig    Figure
		agrees bool
	}{
		{src.disp("a", 2, "uz", want), true}, {src.disp("a", 2, "uz", want*1.002), false}, {src.disp("a", 2, "uz", -want), false},
		{src.disp("a", 2, "uz", math.NaN()), false}, {src.stands("a", true), true}, {src.stands("a", false), false},
		{src.disp("a", 2, "ux", 0).upTo(1e-12), true}, {src.react("a", 1, "fz", 0).upTo(1), false},
		{src.disp("b", 2, "uz", want), false}, {src.react("a", 3, "fz", 0), false}, {src.factor("a", 0, 1), false},
		{src.slack("a", "m", false), false}, {src.end("a", "n", "i", "N", 0), false},
	} {
		if r := c.fig.judge("t", a); r.Agrees != c.agrees {
			t.Errorf("%s expected %g, got %g: agrees %v", c.fig.What, c.fig.Want, r.Got, r.Agrees)
		}
	}
}
