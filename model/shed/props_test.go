package shed

import (
	"strings"
	"testing"

	"leanbay/model/brief"
	"leanbay/solver"
)

// floored is a shed with a floor over its first bay, 3 m wide along the south wall, whose posts and beams may carry props.
const floored = `name: floored
site: {region: A2, terrain: 2.5, importance: 2, bearing: 0, hazard: 0.08, soil: Ce}
building: {frame_lines: [0, 5, 10], span: 10, roof: gable, eaves: 5, rise: 1}
mezzanines:
  - {name: loft, x: [0, 5], y: [0, 3], level: 2.6, use: office, permanent: 0.5, share_props: true, props_on_beams: true}
proposal:
  sections: {column: 250x150x6.0RHS, rafter: 250x150x6.0RHS, prop: 100x100x4.0SHS, mezzanine beam: 200PFC22.9, post: 89x89x3.5SHS, eaves strut: 89x89x3.5SHS, ridge strut: 89x89x3.5SHS, wall rod: R16, roof rod: R16}
  struts: {eaves: true, ridge: true}
  roof_bracing: [{bay: 2, pattern: crossed rods}]
  wall_bracing: [{wall: south, bay: 2, pattern: crossed rods}, {wall: north, bay: 2, pattern: crossed rods}]
`

// TestPropStands: frame 2 (X 5) bounds the floor, which ends at Y 3; its beam runs from Y 0 to 3 and posts stand at Y 3.
func TestPropStands(t *testing.T) {
	s := read(t, floored)
	barred := read(t, strings.Replace(floored, ", share_props: true, props_on_beams: true", "", 1))
	for _, tt := range []struct {
		y         float64
		want, bar Standing
	}{
		{5, OnGround, OnGround},
		{3, OnPost, Nowhere},
		{1.5, OnBeam, Nowhere},
		{0.4, Nowhere, Nowhere}, // too near the beam's end
		{3.1, Nowhere, Nowhere}, // beside the post: within the floor's clearance
	} {
		if got := s.PropStands(1, tt.y); got != tt.want {
			t.Errorf("prop at Y %.1f stands %s, want %s", tt.y, got, tt.want)
		}
		if got := barred.PropStands(1, tt.y); got != tt.bar {
			t.Errorf("where the brief does not allow it: prop at Y %.1f stands %s, want %s", tt.y, got, tt.bar)
		}
	}
}

// TestSharedProp: a prop in a post's place is one piece from the ground to the rafter, the post goes, and the floor's beams
// meet it; a prop on a beam has no base.
func TestSharedProp(t *testing.T) {
	s := read(t, floored)
	d, err := s.Proposal(s.brief.Library().Find)
	if err != nil {
		t.Fatal(err)
	}
	bare := s.Build(d)
	d.AddProp(1, 3)
	shared := s.Build(d)
	if len(shared.Posts) != len(bare.Posts)-1 || len(shared.Bases) != len(bare.Bases) {
		t.Errorf("posts %d and bases %d, without the prop %d and %d", len(shared.Posts), len(shared.Bases), len(bare.Posts), len(bare.Bases))
	}
	prop := &shared.Structure.Members[shared.Props[0]]
	if want := s.RoofZ(3); len(prop.Elements) != 2 || prop.Length < want-1e-9 || prop.Length > want+1e-9 {
		t.Errorf("the prop has %d pieces and %.3f m, want 2 and %.3f", len(prop.Elements), prop.Length, want)
	}
	floor := shared.Structure.Elements[prop.Elements[0]].J
	beams := 0
	for _, i := range shared.BeamMembers() {
		for _, e := range shared.Structure.Members[i].Elements {
			if el := &shared.Structure.Elements[e]; el.I == floor || el.J == floor {
				beams++
			}
		}
	}
	if beams != 2 { // the edge beam of the bay, and the beam across at X 5
		t.Errorf("%d beams meet the shared prop, want 2", beams)
	}
	d.Props = nil
	d.AddProp(1, 1.5)
	on := s.Build(d)
	if len(on.Bases) != len(bare.Bases) || len(on.Props) != 1 {
		t.Errorf("a prop on a beam: %d bases, without it %d", len(on.Bases), len(bare.Bases))
	}
	foot := on.Structure.Elements[on.Structure.Members[on.Props[0]].Elements[0]].I
	if n := on.Structure.Nodes[foot]; n.Held[solver.UZ] || n.Pos.Z != 2.6 {
		t.Errorf("the prop stands on %+v", n)
	}
	if got := on.Structure.Members[on.Props[0]].Group; got != string(brief.GroupProp) {
		t.Errorf("group %q", got)
	}
}
