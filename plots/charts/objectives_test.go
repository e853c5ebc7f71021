package charts

import (
	"bytes"
	"math"
	"os"
	"strings"
	"testing"

	"leanbay/experiments/runs"
)

// soughtFront is a made-up front in cost and wind reserve (the greater the better), costs by example prices.
func soughtFront() *runs.Front {
	f := madeFront(12, 6)
	f.Figures = []runs.Figure{{Name: "cost", Unit: "AUD", Chosen: true, Example: true}, {Name: "wind reserve", Unit: "-", Text: "factor on the wind", Decimals: 2, Greater: true, Chosen: true}}
	f.Prices = &runs.Prices{Mark: "doubtful", Text: "Cost by an example price list."}
	for i := range f.Variants {
		f.Variants[i].Scores.Objectives = map[string]float64{"cost": 30000 + 400*float64(i), "wind reserve": 1 + 0.01*float64(i)}
	}
	return f
}

// TestObjectivesChart: the picture has an axis for each objective, labels what is best in each (variant 0 costs least, 11 is
// the last that complies), and marks example prices; a front in mass and compliance gets none.
func TestObjectivesChart(t *testing.T) {
	f := soughtFront()
	var b bytes.Buffer
	if err := DrawObjectives(&b, f, "svg"); err != nil {
		t.Fatal(err)
	}
	text := svgText(t, b.Bytes())
	for _, want := range []string{"cost, AUD*", "wind reserve (the greater the better)", "least cost: 30 000 AUD*, 1.00", "greatest wind reserve: 34 400 AUD*, 1.11", "* Cost by an example price list.", "licensed structural engineer"} {
		if !strings.Contains(text, want) {
			t.Errorf("the drawing lacks %q", want)
		}
	}
	if strings.Contains(text, "as drawn") {
		t.Error("the key names what was drawn, which is not stable and has no place here")
	}
	b.Reset()
	if err := DrawFront(&b, f, "svg"); err != nil {
		t.Fatal(err)
	}
	if text := svgText(t, b.Bytes()); !strings.Contains(text, "lightest: cost 30000 AUD*, wind reserve 1.00") || !strings.Contains(text, "* Cost by an example") {
		t.Error("the front's chart lacks the cost of the lightest, or the mark of its prices")
	}
	dir := t.TempDir()
	plain := madeFront(12, 6)
	plain.Figures = []runs.Figure{{Name: "mass", Unit: "kg", Chosen: true}, {Name: "compliance", Unit: "-", Chosen: true}}
	if err := WriteObjectives(plain, dir); err != nil {
		t.Fatal(err)
	}
	if files, _ := os.ReadDir(dir); len(files) > 0 {
		t.Error("mass against compliance was drawn twice")
	}
	if err := DrawObjectives(&b, madeFront(1, 0), "svg"); err == nil {
		t.Error("a front that does not say its objectives was drawn")
	}
}

// TestDrawnBesideObjectives: what was drawn and complies is a mark on the tile, of which the axes take in the place; what is
// stable and does not comply stands in the small print.
func TestDrawnBesideObjectives(t *testing.T) {
	f := soughtFront()
	f.Braced.Objectives = map[string]float64{"cost": 90000, "wind reserve": 0.5}
	draw := func() string {
		var b bytes.Buffer
		if err := DrawObjectives(&b, f, "svg"); err != nil {
			t.Fatal(err)
		}
		return svgText(t, b.Bytes())
	}
	if text := draw(); !strings.Contains(text, "As drawn and braced (does not comply): cost 90000 AUD*, wind reserve 0.50.") {
		t.Error("the figures of what was drawn are missing")
	}
	f.Braced.Complies = true
	if text := draw(); strings.Contains(text, "does not comply)") || !strings.Contains(text, "as drawn and braced") {
		t.Error("what was drawn complies and is no mark")
	}
	if p, err := objectiveTile(f, f.Figures[0], f.Figures[1], true); err != nil || p.X.Max < 90000 || p.Y.Min > 0.5 {
		t.Errorf("what was drawn is outside the axes (%v)", err)
	}
}

// TestObjectiveTile: all variants are inside the axes, also where all are alike, and ticks of counts are whole.
func TestObjectiveTile(t *testing.T) {
	f := soughtFront()
	for i := range f.Variants {
		f.Variants[i].Scores.Objectives["wind reserve"] = float64(i % 3)
	}
	count := runs.Figure{Name: "wind reserve", Unit: "-", Chosen: true}
	p, err := objectiveTile(f, f.Figures[0], count, true)
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range f.Variants {
		o := v.Scores.Objectives
		if x, y := o["cost"], o["wind reserve"]; x <= p.X.Min || x >= p.X.Max || y <= p.Y.Min || y >= p.Y.Max {
			t.Errorf("variant at %g, %g is outside the axes", x, y)
		}
	}
	ticks := p.Y.Tick.Marker.Ticks(p.Y.Min, p.Y.Max)
	if len(ticks) != 3 { // 0, 1, 2
		t.Errorf("ticks %v", ticks)
	}
	for _, k := range ticks {
		if k.Value != math.Round(k.Value) {
			t.Errorf("a count has a tick at %g", k.Value)
		}
	}
	for i := range f.Variants {
		f.Variants[i].Scores.Objectives = map[string]float64{"cost": 5, "wind reserve": 0}
	}
	if p, err = objectiveTile(f, f.Figures[0], count, true); err != nil || !(p.X.Min < 5 && 5 < p.X.Max && p.Y.Min < 0 && 0 < p.Y.Max) {
		t.Errorf("equal variants: axes %g..%g, %g..%g, %v", p.X.Min, p.X.Max, p.Y.Min, p.Y.Max, err)
	}
}
