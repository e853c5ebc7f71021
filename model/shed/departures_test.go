package shed

import (
	"slices"
	"testing"

	"leanbay/model/bracing"
	"leanbay/model/brief"
)

// TestDepartures counts by hand: the default weights are 1 a section, 2 a brace, 3 a prop, 1 a line of struts, 1 a spacing
// (brief, objectives.departures).
func TestDepartures(t *testing.T) {
	s, drawn := packhouse(t)
	if list := s.Departures(drawn, drawn, SecondarySections{}, SecondarySections{}); len(list) != 0 {
		t.Errorf("the drawing departs from itself: %+v", list)
	}
	for _, tt := range []struct {
		name   string
		change func(d *Design)
		want   float64
	}{
		{"one section", func(d *Design) { d.Steel[brief.GroupRafter] = d.Steel[brief.GroupMullion] }, 1},
		{"a brace more", func(d *Design) { d.Walls[1] = []Brace{{Bay: 0, Pattern: bracing.RisingStrut}} }, 2},
		{"a brace of another pattern", func(d *Design) { d.Walls[0] = []Brace{{Bay: 3, Pattern: bracing.InvertedV}} }, 2},
		{"a brace in another bay", func(d *Design) { d.Walls[0] = []Brace{{Bay: 4, Pattern: bracing.FallingStrut}} }, 4}, // one goes, one comes
		{"a prop moves", func(d *Design) { d.Props = []PropLine{{8.1, []int{1}}, {8.4, []int{2}}} }, 3},
		{"both props go", func(d *Design) { d.Props = nil }, 6},
		{"a ridge strut", func(d *Design) { d.Struts.Ridge = true }, 1},
		{"one roof bay less", func(d *Design) { d.Roof = []int{0} }, 2},
		{"roof nodes at the mullions", func(d *Design) { d.RoofNodes = nil }, 4}, // both braced bays
		{"purlins", func(d *Design) { d.PurlinSpacing = 1.5 }, 1},
	} {
		_, d := packhouse(t)
		d.Steel[brief.GroupWallDiagonal] = d.Steel[brief.GroupPost] // a section for what comes new is no change of section
		tt.change(d)
		list := s.Departures(drawn, d, SecondarySections{}, SecondarySections{})
		if got := TotalWeight(list); got != tt.want {
			t.Errorf("%s: weight %g, by hand %g: %+v", tt.name, got, tt.want, list)
		}
	}
}

// TestDeparturesKeepOrder: the list is a pure function of the two designs.
func TestDeparturesKeepOrder(t *testing.T) {
	s, drawn := packhouse(t)
	_, d := whole(t)
	d.Props = nil
	first := s.Departures(drawn, d, SecondarySections{}, SecondarySections{})
	for range 20 {
		if again := s.Departures(drawn, d, SecondarySections{}, SecondarySections{}); !slices.Equal(first, again) {
			t.Fatalf("%+v, then %+v", first, again)
		}
	}
}
