package briefs

import (
	"io/fs"
	"math"
	"strings"
	"testing"

	"leanbay/model/brief"
	"leanbay/solver"
)

// TestExamplesRead reads every example, and holds it to the caution line in its head.
func TestExamplesRead(t *testing.T) {
	names, err := fs.Glob(FS, "*.yaml")
	if err != nil || len(names) != 3 {
		t.Fatalf("examples %v, %v: want three", names, err)
	}
	for _, name := range names {
		if _, err := brief.ReadFS(FS, name); err != nil {
			t.Errorf("%v", err)
		}
		text, err := fs.ReadFile(FS, name)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(string(text), "\n# "+solver.Caution+"\n") {
			t.Errorf("%s: the head lacks the caution", name)
		}
	}
}

// TestPackhouse holds the packhouse to its description, figure by figure.
func TestPackhouse(t *testing.T) {
	b, err := brief.ReadFS(FS, "packhouse.yaml")
	if err != nil {
		t.Fatal(err)
	}
	g := b.Building
	if g.Span != 16.2 || g.Eaves != 5.2 || g.Rise != 1.6 || g.Bays() != 5 || g.Length() != 26 || g.RidgeY() != 8.1 {
		t.Errorf("building %+v", g)
	}
	s := b.Site
	if s.Region != "A4" || s.Terrain != 2 || s.Importance != 2 || s.Hazard != 0.10 || s.Soil != "De" {
		t.Errorf("site %+v", s)
	}
	if d := float64(s.Bearing) - math.Pi/3; math.Abs(d) > 1e-15 { // 60° is π/3
		t.Errorf("bearing off by %g rad", d)
	}
	type hole struct {
		wall                 brief.Wall
		kind                 brief.OpeningKind
		at, end, sill, width float64
		height               float64
	}
	want := []hole{
		{brief.South, brief.Window, 0.9, 4.0, 1.1, 3.1, 0.9},
		{brief.South, brief.Window, 5.8, 8.9, 1.1, 3.1, 0.9},
		{brief.South, brief.Window, 5.8, 8.9, 3.7, 3.1, 0.9},
		{brief.South, brief.RollerDoor, 10.8, 14.4, 0, 3.6, 4.0},
		{brief.South, brief.PersonnelDoor, 21.6, 22.52, 0, 0.92, 2.1},
		{brief.North, brief.PersonnelDoor, 3.6, 4.52, 0, 0.92, 2.1},
		{brief.North, brief.Window, 6.2, 8.6, 1.1, 2.4, 0.9},
		{brief.North, brief.RollerDoor, 11.0, 14.2, 0, 3.2, 3.6},
		{brief.North, brief.RollerDoor, 16.6, 19.8, 0, 3.2, 3.6},
		{brief.North, brief.RollerDoor, 21.9, 25.1, 0, 3.2, 3.6},
		{brief.West, brief.Window, 1.0, 3.4, 3.7, 2.4, 0.9},
		{brief.West, brief.RollerDoor, 10, 13, 0, 3, 3},
		{brief.East, brief.SlidingDoor, 5.6, 10.6, 0, 5.0, 4.4},
	}
	if len(b.Openings) != len(want) {
		t.Fatalf("%d openings, want %d", len(b.Openings), len(want))
	}
	near := func(a brief.Length, b float64) bool { return math.Abs(float64(a)-b) < 1e-12 }
	for i, w := range want {
		o := b.Openings[i]
		if o.Wall != w.wall || o.Kind != w.kind || !near(o.At, w.at) || !near(o.Extent()[1], w.end) || !near(o.Sill, w.sill) ||
			!near(o.Width, w.width) || !near(o.Height, w.height) || !near(o.Head, w.sill+w.height) {
			t.Errorf("opening %d: %+v, want %+v", i, o, w)
		}
	}
	m := b.Mezzanines[0]
	if m.X != (brief.Range{0, 9.8}) || m.Y != (brief.Range{0, 4.4}) || m.Level != 2.75 || m.Imposed != 3000 || m.Permanent != 700 || m.Use != brief.Office {
		t.Errorf("mezzanine %+v", m)
	}
	if c := b.Clear; c[0].X != (brief.Range{10.2, 20.6}) || c[0].Y != (brief.Range{0, 16.2}) || c[0].Height != 4.2 ||
		c[1].X != (brief.Range{20.6, 26}) || c[1].Y != (brief.Range{5.2, 11}) || c[1].Height != 4.5 {
		t.Errorf("clear zones %+v", c)
	}
	p := b.Proposal
	if len(p.Props) != 2 || p.Props[0].Line != 2 || p.Props[1].Line != 3 || p.Props[0].Y != 8.1 {
		t.Errorf("props %+v", p.Props)
	}
	if p.Struts != (brief.Struts{Eaves: true}) || len(p.WallBracing) != 1 || p.WallBracing[0].Bay != 4 || len(p.RoofBracing) != 2 {
		t.Errorf("bracing %+v %+v %+v", p.Struts, p.WallBracing, p.RoofBracing)
	}
}

// TestKitHasNoLongitudinalLine: the kit is drawn as a mechanism.
func TestKitHasNoLongitudinalLine(t *testing.T) {
	b, err := brief.ReadFS(FS, "kit.yaml")
	if err != nil {
		t.Fatal(err)
	}
	p := b.Proposal
	if len(p.WallBracing) != 0 || p.Struts != (brief.Struts{}) || b.Building.Bays() != 3 || b.Building.Length() != 12 ||
		b.Building.Span != 7.5 || b.Building.Roof != brief.MonoPitch {
		t.Errorf("kit %+v %+v", b.Building, p)
	}
}

// TestBarnIsOpenAndUnpropped holds the barn to its description.
func TestBarnIsOpenAndUnpropped(t *testing.T) {
	b, err := brief.ReadFS(FS, "barn.yaml")
	if err != nil {
		t.Fatal(err)
	}
	s, err := b.Library().Find(b.Proposal.Sections[brief.GroupRafter].Section)
	if err != nil || s.Family != "UB" {
		t.Errorf("rafter %v, %v: want an I-section", s, err)
	}
	if !b.Building.Open(brief.South) || len(b.Building.OpenSides) != 1 || len(b.Proposal.Props) != 0 {
		t.Errorf("barn %+v", b.Building)
	}
}
