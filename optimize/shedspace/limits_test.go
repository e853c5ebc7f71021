package shedspace

import (
	"context"
	"math"
	"strings"
	"testing"

	"leanbay/catalog"
	"leanbay/model/brief"
)

func TestReadLimits(t *testing.T) {
	for text, bad := range map[string]string{
		"departures=4": "", " cost = 1e4": "", "departures": "give a name and a number", "mass=x": "give a name and a number", "sway=-1": "give a name and a number",
		"beauty=1": "not known", "wind reserve=1.1": "for the front alone",
	} {
		_, err := readLimits([]string{text})
		if (err == nil) != (bad == "") || err != nil && !strings.Contains(err.Error(), bad) {
			t.Errorf("%q: %v, want %q", text, err, bad)
		}
	}
	if _, err := readLimits([]string{"mass=1", "mass=2"}); err == nil || !strings.Contains(err.Error(), "twice") {
		t.Errorf("a limit given twice: %v", err)
	}
}

// TestLimitsBecomeObjectivesAndBack: the braced kit sways too far. As a limit that is failing; as an objective the design is
// ranked if it is at most a quarter beyond, and does not comply; with an own limit it is failing again.
func TestLimitsBecomeObjectivesAndBack(t *testing.T) {
	b := example(t, "kit").Brief
	scores := map[string]*Assessment{}
	for name, w := range map[string]Wishes{
		"limit": {}, "objective": {Objectives: []string{"mass", "sway"}}, "both": {Objectives: []string{"mass", "sway"}, Limits: []string{"sway=1"}},
		"wide": {Objectives: []string{"mass", "compliance"}, Limits: []string{"mass=1e6", "departures=1e3"}}, "light": {Limits: []string{"mass=100"}},
		"strong": {Limits: []string{"compliance=0.5"}},
	} {
		p, err := NewWith(b, w)
		if err != nil {
			t.Fatal(err)
		}
		d, err := p.Sturdy()
		if err != nil {
			t.Fatal(err)
		}
		if scores[name], err = p.Assess(d); err != nil {
			t.Fatal(err)
		}
	}
	sway := scores["limit"].Sway()
	for name, a := range scores {
		if math.Abs(a.Sway()-sway) > 1e-12 {
			t.Fatalf("%s: sway %v, elsewhere %v: not one design", name, a.Sway(), sway)
		}
	}
	if sway <= 1 {
		t.Fatalf("the design sways to %.3f of the limit: no case", sway)
	}
	if a := scores["limit"]; a.Class != ClassFailing || a.Complies {
		t.Errorf("as a limit: class %d, complies %v", a.Class, a.Complies)
	}
	rest := scores["limit"].worstOther()
	if a := scores["objective"]; a.Complies || (a.Class == ClassRanked) != (sway <= stoneLimit && rest <= 1 && a.U <= stoneLimit) {
		t.Errorf("as an objective: sway %.3f, other limits %.3f, utilisation %.3f, class %d, complies %v", sway, rest, a.U, a.Class, a.Complies)
	}
	for _, name := range []string{"both", "wide", "light", "strong"} {
		if a := scores[name]; a.Class != ClassFailing {
			t.Errorf("%s: class %d", name, a.Class)
		}
	}
	if scores["wide"].Violation != scores["limit"].Violation || scores["light"].Violation <= scores["limit"].Violation || scores["strong"].Violation < scores["limit"].Violation {
		t.Errorf("violations: %v with wide limits, %v without, %v with a narrow one", scores["wide"].Violation, scores["limit"].Violation, scores["light"].Violation)
	}
}

// worstOther is the greatest use of service limits but sway, and of rules.
func (a *Assessment) worstOther() float64 {
	u := 0.0
	for _, r := range a.Service {
		if !isSway(r.Limit) {
			u = math.Max(u, r.Utilisation)
		}
	}
	for _, r := range a.Rules {
		u = math.Max(u, r.Utilisation)
	}
	return u
}

// TestCostByHand reckons the drawn kit by the example list from its drawing: four frames of two columns and one rafter (two
// knees each), one mullion a gable, crossed rods in one bay of the roof, eight column feet and two of mullions. Decoding adds
// two lines of eaves struts of three pieces.
func TestCostByHand(t *testing.T) {
	p := example(t, "kit")
	at, _ := p.Encode(p.Drawn)
	d, _ := p.Decode(at)
	list, m := catalog.ExamplePrices(), p.Shed.Build(d)
	rods := len(m.Roof)
	pieces := 8 + 4 + 2 + 6 + rods
	c := p.Cost(d)
	for _, x := range []struct {
		what      string
		got, want float64
	}{
		{"bases", c.Bases, 10 * list.Base()},
		{"cuts", c.Cuts, 2 * float64(pieces) * list.Cut()},
		{"connections", c.Connections, 8*list.Connection("knee") + 2*list.Connection("cleat") + 12*list.Connection("cleat") + 2*float64(rods)*list.Connection("brace")},
	} {
		if math.Abs(x.got-x.want) > 1e-9 {
			t.Errorf("%s: %v, by hand %v", x.what, x.got, x.want)
		}
	}
	kg, money := p.Shed.Build(d).Mass(p.setupOf(d).secondaries.Sections), 0.0
	for _, g := range brief.Groups {
		if s := d.Of(g.Name); s.Section != nil && kg.Groups[g.Name] > 0 && !g.Secondary {
			money += kg.Groups[g.Name] * list.Rate(s.Section, s.Grade)
		}
	}
	if math.Abs(c.Steel-money) > 1e-6 {
		t.Errorf("steel %v, by group %v", c.Steel, money)
	}
	if sum := c.Steel + c.Secondary + c.Connections + c.Cuts + c.Bases; sum != c.Total || c.Secondary <= 0 {
		t.Errorf("total %v of parts %v", c.Total, sum)
	}
}

// heaviestPoint is the proposal with its missing links added, of the heaviest of everything.
func heaviestPoint(t *testing.T, p *Problem) []int {
	t.Helper()
	braced, _, err := p.Braced()
	if err != nil {
		t.Fatal(err)
	}
	at, _ := p.Encode(braced)
	for i := range p.genes {
		if len(p.genes[i].groups) > 0 {
			at[i] = p.genes[i].Count() - 1
		}
	}
	return at
}

// TestDearObjectives: the wind reserve and the what-ifs of a design are pending in its score at the best that can be, and
// completed as a reviewer finds them.
func TestDearObjectives(t *testing.T) {
	b := *kitSpace(t).Brief
	b.WhatIfs.Use = []brief.WhatIf{brief.NextTerrain, brief.OneSlackRod}
	p, err := New(&b, "wind reserve", "mass", objWhatIfs)
	if err != nil {
		t.Fatal(err)
	}
	key, at := p.Canonical(heaviestPoint(t, p))
	d, _ := p.Decode(at)
	e := p.NewEvaluator().(*evaluator)
	s, err := e.Evaluate(context.Background(), at, key)
	if err != nil {
		t.Fatal(err)
	}
	if s.Class != ClassRanked || !s.Pending || s.Objectives[0] != -p.setupOf(d).reserve || s.Objectives[2] != 0 {
		t.Fatalf("score %+v of a sturdy kit", s)
	}
	full, err := e.Complete(context.Background(), at, key, s)
	if err != nil {
		t.Fatal(err)
	}
	r := p.NewReviewer()
	reserve, err := r.WindReserve(d)
	if err != nil {
		t.Fatal(err)
	}
	complies, asked, err := r.Robust(d)
	if err != nil {
		t.Fatal(err)
	}
	if full.Pending || full.Objectives[0] != -reserve.Factor || full.Objectives[1] != s.Objectives[1] || full.Objectives[2] != float64(asked-complies) {
		t.Errorf("completed to %+v; reserve %v, %d of %d what-ifs pass", full, reserve, complies, asked)
	}
	if reserve.Factor > -s.Objectives[0] {
		t.Errorf("reserve %v, at most %v was to be", reserve, -s.Objectives[0])
	}
	if reserve.Factor < 1 || asked == 0 {
		t.Errorf("reserve %v of a design that complies, %d what-ifs", reserve, asked)
	}
}
