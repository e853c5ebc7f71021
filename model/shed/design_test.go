package shed

import (
	"strings"
	"testing"

	"leanbay/model/bracing"
	"leanbay/model/brief"
	"leanbay/solver"
)

// packhouse is the shipped example.
func packhouse(t *testing.T) (*Shed, *Design) {
	t.Helper()
	b, err := brief.ReadFile("../../experiments/briefs/packhouse.yaml")
	if err != nil {
		t.Fatal(err)
	}
	s, err := FromBrief(b)
	if err != nil {
		t.Fatal(err)
	}
	d, err := s.Proposal(b.Library().Find)
	if err != nil {
		t.Fatal(err)
	}
	return s, d
}

func has(fs []Finding, missing bool, words ...string) bool {
	for _, f := range fs {
		all := f.Missing == missing
		for _, w := range words {
			all = all && strings.Contains(f.Text, w)
		}
		if all {
			return true
		}
	}
	return false
}

// TestPackhouseDrawing: what an engineer sees in the drawing (issue of the scenario: no brace in the north wall, whose
// bays are doors but for one diagonal in bay 1; no strut at the ridge; mullion heads off the roof bracing).
func TestPackhouseDrawing(t *testing.T) {
	s, d := packhouse(t)
	fs := s.Build(d).Findings
	for _, want := range []struct {
		missing bool
		words   []string
	}{
		{false, []string{"north wall has no longitudinal line", "twist", "diagonal strut, rising in bay 1"}},
		{true, []string{"no strut at the ridge"}},
		{true, []string{"mullion heads", "4.40, 8.10, 13.30"}},
	} {
		if !has(fs, want.missing, want.words...) {
			t.Errorf("no finding (missing %v) with %q in %+v", want.missing, want.words, fs)
		}
	}
}

// whole is the packhouse with every link of the load path in place.
func whole(t *testing.T) (*Shed, *Design) {
	s, d := packhouse(t)
	d.Walls[1] = []Brace{{Bay: 0, Pattern: bracing.RisingStrut}}
	d.Struts = brief.Struts{Eaves: true, Ridge: true, Nodes: true}
	d.RoofNodes = nil
	d.Steel[brief.GroupWallDiagonal] = d.Steel[brief.GroupPost]
	return s, d
}

// TestRemovedLinkIsDiagnosed takes out one needed link after another.
func TestRemovedLinkIsDiagnosed(t *testing.T) {
	s, d := whole(t)
	if fs := s.Build(d).Findings; len(fs) != 0 {
		t.Fatalf("complete, but found %+v", fs)
	}
	for _, tt := range []struct {
		name    string
		remove  func(d *Design)
		missing bool
		word    string
	}{
		{"both walls", func(d *Design) { d.Walls = [planes][]Brace{} }, true, "neither long wall"},
		{"south wall", func(d *Design) { d.Walls[0] = nil }, false, "south wall has no longitudinal line"},
		{"roof", func(d *Design) { d.Roof = nil }, true, "no roof bracing"},
		{"eaves struts", func(d *Design) { d.Struts.Eaves = false }, true, "no struts at the eaves"},
		{"ridge strut", func(d *Design) { d.Struts.Ridge = false }, true, "no strut at the ridge"},
		{"node struts", func(d *Design) { d.Struts.Nodes = false }, true, "mullion heads"},
	} {
		_, e := whole(t)
		tt.remove(e)
		if fs := s.Build(e).Findings; !has(fs, tt.missing, tt.word) {
			t.Errorf("without %s: %+v", tt.name, fs)
		}
	}
}

// TestRestraintIsTraced: with the bracing in place rafters are held at eaves, ridge and struts; without wall bracing
// nothing along the building holds anything.
func TestRestraintIsTraced(t *testing.T) {
	s, d := whole(t)
	m := s.Build(d)
	inner := &m.Structure.Members[m.Rafters[2][0]] // frame 3, between the braced bays
	if len(inner.Restraints) < 2 {
		t.Errorf("%s has %d restraints with complete bracing", inner.ID, len(inner.Restraints))
	}
	for _, r := range inner.Restraints {
		if !strings.Contains(r.Source, "anchored") {
			t.Errorf("%s: restraint without an anchor: %+v", inner.ID, r)
		}
	}
	d.Walls = [planes][]Brace{}
	m = s.Build(d)
	for i := range m.Structure.Members {
		mem := &m.Structure.Members[i]
		if mem.Role == solver.RoleRafter && len(mem.Restraints) > 0 {
			t.Errorf("%s is held by %+v though no wall is braced", mem.ID, mem.Restraints)
		}
	}
}

// TestPropZones: no prop in the truck lane, behind the east door, on the office floor.
func TestPropZones(t *testing.T) {
	s, _ := packhouse(t)
	for _, tt := range []struct {
		frame int // 0-based
		y     float64
		want  bool
	}{
		{1, 8.1, true}, {1, 3.0, false}, {2, 8.1, true}, {2, 4.5, false}, // office to Y 4.4, and 150 mm
		{3, 8.1, false}, {3, 1.0, false}, // X 15.4 is in the lane over the full width
		{4, 8.1, false}, {4, 4.0, true}, {4, 12.0, true}, // X 21.0: Y 5.2 to 11.0 must be clear
	} {
		if got := s.PropAllowed(tt.frame, tt.y); got != tt.want {
			t.Errorf("prop at frame %d, Y %.1f: allowed %v, want %v", tt.frame+1, tt.y, got, tt.want)
		}
	}
}

// TestFixedMembersComeFirst: loads refer to columns, rafters and mullions by place, whatever the design.
func TestFixedMembersComeFirst(t *testing.T) {
	s, d := whole(t)
	_, other := packhouse(t)
	other.Props = nil
	a, b := s.Build(d), s.Build(other)
	fixed := s.mullionIndex(1, len(s.Mullions[1]))
	for i := range fixed {
		if a.Structure.Members[i].ID != b.Structure.Members[i].ID {
			t.Fatalf("member %d is %s in one design and %s in another", i, a.Structure.Members[i].ID, b.Structure.Members[i].ID)
		}
	}
	for f := range s.Frames {
		for side := range 2 {
			if a.Columns[f][side] != s.columnIndex(f, side) || a.Rafters[f][side] != s.rafterIndex(f, side) {
				t.Errorf("frame %d side %d is not where loads look for it", f+1, side)
			}
		}
	}
}

// TestKeyInWords: the key says every choice in the form that stored runs have, written out here by hand.
func TestKeyInWords(t *testing.T) {
	d := &Design{
		Props: []PropLine{{Y: 8.1, Frames: []int{1, 2}}}, Roof: []int{0, 4}, PurlinSpacing: 1.2, GirtSpacing: 1.5, FlyBraces: 3,
		Walls: [planes][]Brace{
			{{Bay: 1, Pattern: bracing.CrossedRods, Place: bracing.Place{From: 2.6}}},
			{{Bay: 0, Pattern: bracing.RisingStrut}, {Bay: 4, Pattern: bracing.FallingStrut}},
		},
	}
	d.Struts.Eaves = true
	want := "prop@8.100[1 2];south 2=" + string(bracing.CrossedRods) + "@2.600-0.000/0.000/0.000;north 1=" + string(bracing.RisingStrut) +
		";north 5=" + string(bracing.FallingStrut) + ";roof=[0 4];struts=truefalsefalse;purlins=1.200;girts=1.500;fly=3"
	if got := d.Key(nil); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}
