package shedspace

import (
	"context"
	"slices"
	"strings"
	"testing"

	"leanbay/model/brief"
	"leanbay/model/shed"
)

func TestChooseObjectives(t *testing.T) {
	for _, tt := range []struct {
		list string
		bad  string
	}{
		{"mass,compliance", ""}, {"mass,departures", ""}, {"mass,compliance,departures", ""},
		{"compliance,mass", ""}, {"wind reserve,cost", ""}, {"mass,beauty", "not known"}, {"mass,mass", "named twice"},
	} {
		_, err := choose(strings.Split(tt.list, ","))
		if (err == nil) != (tt.bad == "") || err != nil && !strings.Contains(err.Error(), tt.bad) {
			t.Errorf("%s: %v, want %q", tt.list, err, tt.bad)
		}
	}
	if got, err := choose(nil); err != nil || len(got) != 2 || got[0].Name != "mass" || got[1].Name != "compliance" {
		t.Errorf("default objectives %v, %v", got, err)
	}
}

// TestDrawingIsAPoint: where departures count, the drawing itself is a point of the space but for what repair always does
// (roof nodes, eaves struts), so that nothing departs but those.
func TestDrawingIsAPoint(t *testing.T) {
	b, err := brief.ReadFile("../../experiments/briefs/packhouse.yaml")
	if err != nil {
		t.Fatal(err)
	}
	p, err := New(b, "mass", "departures")
	if err != nil {
		t.Fatal(err)
	}
	point, _ := p.Encode(p.Drawn)
	d, _ := p.Decode(point)
	for _, x := range p.Departures(d) {
		if !strings.Contains(x.Text, "bracing meets the rafters") {
			t.Errorf("the nearest point departs by: %s", x.Text)
		}
	}
}

// TestRepaired: from the kit, a mechanism as drawn, a few evaluations lead to a complying design, in which no change can be
// taken back that the search took as needed.
func TestRepaired(t *testing.T) {
	b, err := brief.ReadFile("../../experiments/briefs/kit.yaml")
	if err != nil {
		t.Fatal(err)
	}
	p, err := New(b, "mass", "departures")
	if err != nil {
		t.Fatal(err)
	}
	points, spent, err := p.Repaired(context.Background(), Mending{Budget: 120, Workers: 1})
	if err != nil || len(points) == 0 {
		t.Fatalf("%d points, %v", len(points), err)
	}
	mass := 1e9
	for i, pt := range points {
		d, _ := p.Decode(pt)
		a, err := p.Assess(d)
		if err != nil {
			t.Fatal(err)
		}
		if !a.Complies {
			t.Errorf("point %d: %s", i, a.Verdict())
		}
		if a.Mass.Total >= mass {
			t.Errorf("point %d weighs %.0f kg, the one before %.0f kg", i, a.Mass.Total, mass)
		}
		mass = a.Mass.Total
		if w := shed.TotalWeight(p.Departures(d)); w == 0 {
			t.Error("a mechanism complies without a change")
		}
	}
	told := Mended{}
	again, _, _ := p.Repaired(context.Background(), Mending{Budget: spent, Workers: 3, Watch: func(m Mended) { told = m }})
	if spent > 120 || !slices.EqualFunc(again, points, slices.Equal[[]int]) {
		t.Errorf("%d designs; points %v, with more workers %v", spent, points, again)
	}
	if told.Judged != spent || !told.Complies || told.Lightest > mass+1e-6 {
		t.Errorf("told of %+v at the end; %d designs were judged and the lightest point weighs %.3f kg", told, spent, mass)
	}
}
