package shedspace

import (
	"slices"
	"strings"
	"testing"

	"leanbay/model/brief"
)

// TestFigures: every objective is described, and the figures described are those that Values gives, limits with them.
func TestFigures(t *testing.T) {
	for _, name := range ObjectiveNames() {
		if figureTexts[name].text == "" {
			t.Errorf("%s is not described", name)
		}
	}
	b, err := brief.ReadFile("../../experiments/briefs/kit.yaml")
	if err != nil {
		t.Fatal(err)
	}
	p, err := NewWith(b, Wishes{Objectives: []string{"mass", "distinct sections"}, Limits: []string{"cost=90000", "distinct sections=9"}})
	if err != nil {
		t.Fatal(err)
	}
	a, _, err := p.AssessBraced()
	if err != nil {
		t.Fatal(err)
	}
	values, err := p.Values(a)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, f := range p.Figures() {
		names = append(names, f.Name)
		if _, ok := values[f.Name]; !ok {
			t.Errorf("no value of %s", f.Name)
		}
		if f.Chosen != (f.Name != "cost") || f.Name == "cost" && (f.Limit != 90000 || f.Unit != "AUD") || f.Name == "distinct sections" && f.Limit != 9 {
			t.Errorf("%+v", f)
		}
	}
	if !slices.Equal(names, []string{"mass", "distinct sections", "cost"}) || len(values) != 3 {
		t.Errorf("figures %v, values %v", names, values)
	}
	if values["cost"] != p.Cost(a.Design).Total {
		t.Errorf("cost %v, reckoned %v", values["cost"], p.Cost(a.Design).Total)
	}
	if !strings.Contains(p.PricesText(), "example") {
		t.Errorf("a brief without prices: %s", p.PricesText())
	}
}
