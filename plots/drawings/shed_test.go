package drawings

import (
	"maps"
	"os"
	"path/filepath"
	"testing"

	"leanbay/experiments/briefs"
	"leanbay/model/bracing"
	"leanbay/model/brief"
	"leanbay/model/shed"
)

// proposal reads an example brief and builds what was drawn.
func proposal(t *testing.T, name string) *shed.Model {
	t.Helper()
	b, err := brief.ReadFS(briefs.FS, name+".yaml")
	if err != nil {
		t.Fatal(err)
	}
	s, err := shed.FromBrief(b)
	if err != nil {
		t.Fatal(err)
	}
	d, err := s.Proposal(b.Library().Find)
	if err != nil {
		t.Fatal(err)
	}
	return s.Build(d)
}

// keep writes a picture into the folder that LEANBAY_PICTURES names, to be looked at.
func keep(t *testing.T, name string, svg SVG) {
	t.Helper()
	if dir := os.Getenv("LEANBAY_PICTURES"); dir != "" {
		if err := os.WriteFile(filepath.Join(dir, name+".svg"), svg, 0o666); err != nil {
			t.Fatal(err)
		}
	}
}

// altered is m with another rafter, a braced north wall, a ridge strut, and a prop moved from frame 2 to frame 4.
func altered(m *shed.Model) *shed.Model {
	d := *m.Design
	d.Steel = maps.Clone(d.Steel)
	d.Steel[brief.GroupRafter] = d.Of(brief.GroupColumn)
	d.Steel[brief.GroupWallDiagonal] = d.Of(brief.GroupColumn)
	d.Walls[1] = []shed.Brace{{Bay: 0, Pattern: bracing.RisingStrut}}
	d.Steel[brief.GroupEavesStrut] = d.Of(brief.GroupColumn)
	d.Steel[brief.GroupRidgeStrut] = d.Of(brief.GroupColumn)
	d.Struts.Ridge = true
	d.Props = nil
	if len(m.Design.Props) > 0 {
		d.AddProp(3, m.Design.Props[0].Y)
	}
	d.PurlinSpacing = 1.5
	return m.Shed.Build(&d)
}

func TestPictures(t *testing.T) {
	for _, name := range []string{"packhouse", "kit", "barn"} {
		m := proposal(t, name)
		keep(t, name+"-walls", Walls(m))
		keep(t, name+"-roof", Roof(m))
		keep(t, name+"-changes", Changes(m, altered(m)))
		keep(t, name+"-restraints", Restraints(m))
		keep(t, name+"-candidates-south", Candidates(m.Shed, 0))
		keep(t, name+"-candidates-north", Candidates(m.Shed, 1))
		for _, set := range DistinctFrames(m) {
			keep(t, name+"-frame-"+framesText(set[:1]), Frame(m, set[0]))
		}
	}
}
