package drawings

import (
	"bytes"
	"encoding/csv"
	"encoding/xml"
	"fmt"
	"io"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"leanbay/experiments/briefs"
	"leanbay/model/bracing"
	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver"
)

var examples = []string{"packhouse", "kit", "barn"}

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

// altered is m with another rafter, one diagonal in bay 1 of the north wall, a ridge strut, and its props moved to frame 4.
func altered(m *shed.Model) *shed.Model {
	d := *m.Design
	d.Steel = maps.Clone(d.Steel)
	d.Steel[brief.GroupRafter] = d.Of(brief.GroupMullion)
	d.Steel[brief.GroupWallDiagonal] = d.Of(brief.GroupColumn)
	d.Steel[brief.GroupRidgeStrut] = d.Of(brief.GroupColumn)
	d.Walls[1] = []shed.Brace{{Bay: 0, Pattern: bracing.RisingStrut}}
	d.Struts.Ridge = true
	d.Props = nil
	if len(m.Design.Props) > 0 {
		d.AddProp(3, m.Design.Props[0].Y)
	}
	d.PurlinSpacing = 1.5
	return m.Shed.Build(&d)
}

// element is one element of a drawing.
type element struct {
	name, class, member, text string
	attr                      map[string]string
}

func (e element) num(t *testing.T, key string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(e.attr[key], 64)
	if err != nil {
		t.Fatalf("attribute %s of %v: %v", key, e, err)
	}
	return v
}

// read parses a drawing; samples of the key are left out. Texts are those of text elements, not of tool tips.
func read(t *testing.T, svg SVG) []element {
	t.Helper()
	var out []element
	var open []int
	for d := xml.NewDecoder(bytes.NewReader(svg)); ; {
		tok, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		switch tok := tok.(type) {
		case xml.StartElement:
			e := element{name: tok.Name.Local, attr: map[string]string{}}
			for _, a := range tok.Attr {
				e.attr[a.Name.Local] = a.Value
			}
			e.class, e.member = e.attr["class"], e.attr["data-member"]
			open = append(open, len(out))
			out = append(out, e)
		case xml.EndElement:
			open = open[:len(open)-1]
		case xml.CharData:
			if len(open) > 0 {
				out[open[len(open)-1]].text += string(tok)
			}
		}
	}
	return slices.DeleteFunc(out, func(e element) bool { return strings.Contains(e.class, "d-sample") })
}

// count is the number of elements of a class.
func count(es []element, class string) int {
	n := 0
	for _, e := range es {
		if e.class == "d-"+class {
			n++
		}
	}
	return n
}

// texts joins all texts of a drawing by spaces.
func texts(es []element) string {
	var out []string
	for _, e := range es {
		if e.name == "text" {
			out = append(out, e.text)
		}
	}
	return strings.Join(out, " ")
}

// of returns the one element of a member.
func of(t *testing.T, es []element, member string) element {
	t.Helper()
	var found []element
	for _, e := range es {
		if e.member == member {
			found = append(found, e)
		}
	}
	if len(found) != 1 {
		t.Fatalf("member %s is drawn %d times, want once", member, len(found))
	}
	return found[0]
}

// all draws everything there is of a model.
func all(m *shed.Model) map[string]SVG {
	out := map[string]SVG{"plan": Plan(m), "walls": Walls(m), "roof": Roof(m), "restraints": Restraints(m), "changes": Changes(m, altered(m)),
		"candidates-south": Candidates(m.Shed, 0), "candidates-north": Candidates(m.Shed, 1), "candidates-west": Candidates(m.Shed, 2), "candidates-east": Candidates(m.Shed, 3)}
	for _, set := range DistinctFrames(m) {
		out["frame-"+framesText(set[:1])] = Frame(m, set[0])
	}
	return out
}

// TestEverySheet: well formed, with title, caution and scale bar; no text leaves the sheet. LEANBAY_PICTURES names a folder
// that keeps them, to be looked at.
func TestEverySheet(t *testing.T) {
	for _, name := range examples {
		for kind, svg := range all(proposal(t, name)) {
			es := read(t, svg)
			text := texts(es)
			// The caution is broken into lines, which the texts' spaces join again.
			if !strings.Contains(text, solver.Caution) || !strings.Contains(text, name+": ") {
				t.Errorf("%s %s: no caution or no title", name, kind)
			}
			if count(es, "scalebar") != 1 {
				t.Errorf("%s %s: no scale bar", name, kind)
			}
			if plan := kind == "plan" || kind == "roof" || kind == "changes"; (count(es, "north") == 1) != plan {
				t.Errorf("%s %s: %d north arrows", name, kind, count(es, "north"))
			}
			width, height := es[0].num(t, "width"), es[0].num(t, "height")
			for _, e := range es {
				if e.name == "text" && (e.num(t, "x") < 0 || e.num(t, "x") > width || e.num(t, "y") < 0 || e.num(t, "y") > height) {
					t.Errorf("%s %s: text %q lies outside of the sheet", name, kind, e.text)
				}
			}
			if dir := os.Getenv("LEANBAY_PICTURES"); dir != "" {
				if err := os.WriteFile(filepath.Join(dir, name+"-"+kind+".svg"), svg, 0o666); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
}

// TestWallsDrawEverythingOnce: every opening, every column, mullion, eaves strut and wall brace once; every grid line and bay.
func TestWallsDrawEverythingOnce(t *testing.T) {
	for _, name := range examples {
		m := proposal(t, name)
		es := read(t, Walls(m))
		if got, want := count(es, "opening"), len(m.Shed.Building.Openings); got != want {
			t.Errorf("%s: %d openings drawn, want %d", name, got, want)
		}
		var members []int
		members = append(members, slices.Concat(m.Walls[0], m.Walls[1], m.Mullions[0], m.Mullions[1])...)
		for _, s := range m.Struts {
			if m.Structure.Members[s].Group == string(brief.GroupEavesStrut) {
				members = append(members, s)
			}
		}
		for f := 1; f+1 < len(m.Columns); f++ { // the corners' columns stand in two views
			members = append(members, m.Columns[f][0], m.Columns[f][1])
		}
		for _, i := range members {
			of(t, es, m.Structure.Members[i].ID)
		}
		text := " " + texts(es) + " "
		for b := 1; b < len(m.Shed.Frames); b++ {
			want := 2
			for _, mullions := range m.Shed.Mullions {
				if b <= len(mullions)+1 { // gables count their stretches
					want++
				}
			}
			if n := strings.Count(text, fmt.Sprintf(" bay %d ", b)); n != want {
				t.Errorf("%s: bay %d is named %d times, want once a wall and gable that has it, %d", name, b, n, want)
			}
		}
		for _, o := range m.Shed.Building.Openings {
			if !strings.Contains(text, o.Name) {
				t.Errorf("%s: opening %q is not named", name, o.Name)
			}
		}
	}
}

// TestWallsGeometry compares drawn places with the packhouse's own figures: lines at 0, 4.9, 9.8, 15.4, 21.0, 26.0, eaves at
// 5.2 m. From outside, X runs to the right on the south wall and to the left on the north wall; Y runs to the left on the
// west gable and to the right on the east gable.
func TestWallsGeometry(t *testing.T) {
	m := proposal(t, "packhouse")
	es := read(t, Walls(m))
	foot := func(f int, side string) (float64, float64, float64) {
		var c element
		for _, e := range es {
			if e.member == fmt.Sprintf("column/%d/%s", f, side) {
				c = e // corner columns also stand in a gable, which comes later; see below
				break
			}
		}
		return c.num(t, "x1"), c.num(t, "y1"), c.num(t, "y2")
	}
	x1, y, top := foot(1, "A")
	x6, _, _ := foot(6, "A")
	scale := (x6 - x1) / 26.0
	if math.Abs((y-top)-5.2*scale) > 0.2 {
		t.Errorf("eaves %.1f px over the floor, want %.1f", y-top, 5.2*scale)
	}
	for f, x := range map[int]float64{2: 4.9, 3: 9.8, 4: 15.4, 5: 21.0} {
		if got, _, _ := foot(f, "A"); math.Abs(got-(x1+x*scale)) > 0.2 {
			t.Errorf("south column %d at %.1f px, want %.1f", f, got, x1+x*scale)
		}
		north1, _, _ := foot(1, "B")
		if got, _, _ := foot(f, "B"); math.Abs(got-(north1-x*scale)) > 0.2 {
			t.Errorf("north column %d at %.1f px, want %.1f", f, got, north1-x*scale)
		}
	}
	// The rising rod of south bay 4 runs from the foot of column 4 to the eaves of column 5.
	rod := of(t, es, "wall rod/south/4/rising")
	x4, _, _ := foot(4, "A")
	x5, _, _ := foot(5, "A")
	for _, c := range []struct {
		key  string
		want float64
	}{{"x1", x4}, {"y1", y}, {"x2", x5}, {"y2", top}} {
		if got := rod.num(t, c.key); math.Abs(got-c.want) > 0.2 {
			t.Errorf("rod %s = %.1f px, want %.1f", c.key, got, c.want)
		}
	}
	rafter := func(f int) (a, ridge float64) {
		e := of(t, es, fmt.Sprintf("rafter/%d/A-ridge", f))
		return e.num(t, "x1"), e.num(t, "x2")
	}
	if a, ridge := rafter(1); a-ridge < 8.0*scale || a-ridge > 8.2*scale {
		t.Errorf("west gable: eaves A lies %.1f px right of the ridge, want %.1f", a-ridge, 8.1*scale)
	}
	if a, ridge := rafter(6); ridge-a < 8.0*scale || ridge-a > 8.2*scale {
		t.Errorf("east gable: eaves A lies %.1f px left of the ridge, want %.1f", ridge-a, 8.1*scale)
	}
}

// TestRoof: every rafter, strut and roof rod once, every prop and mullion once, every purlin line; south at the bottom.
func TestRoof(t *testing.T) {
	for _, name := range examples {
		m := proposal(t, name)
		es := read(t, Roof(m))
		for i := range m.Structure.Members {
			switch mem := &m.Structure.Members[i]; mem.Role {
			case solver.RoleRafter, solver.RoleStrut, solver.RoleRoofBrace, solver.RoleProp, solver.RoleMullion, solver.RoleColumn:
				of(t, es, mem.ID)
			}
		}
		if got, want := count(es, "purlin"), len(m.Shed.PurlinPositions(m.Design.PurlinSpacing)); got != want || got == 0 {
			t.Errorf("%s: %d purlin lines, want %d", name, got, want)
		}
		r := of(t, es, m.Structure.Members[m.Rafters[0][0]].ID)
		if r.num(t, "y1") <= r.num(t, "y2") {
			t.Errorf("%s: the rafter from A runs down the sheet; the south wall belongs at the bottom", name)
		}
	}
}

// TestPlan: every column, mullion, prop, post and mezzanine beam once, every opening and its name.
func TestPlan(t *testing.T) {
	for _, name := range examples {
		m := proposal(t, name)
		es := read(t, Plan(m))
		for i := range m.Structure.Members {
			switch mem := &m.Structure.Members[i]; mem.Role {
			case solver.RoleColumn, solver.RoleMullion, solver.RoleProp, solver.RolePost, solver.RoleBeam:
				of(t, es, mem.ID)
			}
		}
		if got, want := count(es, "opening"), len(m.Shed.Building.Openings); got != want {
			t.Errorf("%s: %d openings drawn, want %d", name, got, want)
		}
		text := texts(es)
		for _, o := range m.Shed.Building.Openings {
			if !strings.Contains(text, o.Name) {
				t.Errorf("%s: opening %q is not named", name, o.Name)
			}
		}
		for _, z := range m.Shed.ClearZones() {
			if !strings.Contains(text, z.Name) {
				t.Errorf("%s: clear zone %q is not named", name, z.Name)
			}
		}
	}
}

// TestNorthArrow: north lies the bearing of X counter-clockwise from the right: X to the north points right, X to the east
// up, X to the south left.
func TestNorthArrow(t *testing.T) {
	for deg, want := range map[float64][2]float64{0: {26, 0}, 90: {0, -26}, 180: {-26, 0}, 60: {13, -22.5}} {
		d := &drawing{bearing: deg * math.Pi / 180, used: map[string]bool{}}
		d.northArrow(100, 100)
		_, points, _ := strings.Cut(d.body.String(), `points="`)
		var x, y float64
		if _, err := fmt.Sscanf(points, "%f,%f", &x, &y); err != nil {
			t.Fatal(err)
		}
		if math.Abs(x-100-want[0]) > 0.06 || math.Abs(y-100-want[1]) > 0.06 {
			t.Errorf("X to %.0f°: the arrow points to (%.1f, %.1f), want (%.1f, %.1f)", deg, x-100, y-100, want[0], want[1])
		}
	}
}

// TestFrames: the sets cover every frame once, and each drawing has exactly the members whose ends lie in the frame's plane,
// with their sections.
func TestFrames(t *testing.T) {
	for _, name := range examples {
		m := proposal(t, name)
		var seen []int
		for _, set := range DistinctFrames(m) {
			seen = append(seen, set...)
			es := read(t, Frame(m, set[0]))
			text, pieces := texts(es), 0
			for i := range m.Structure.Members {
				mem := &m.Structure.Members[i]
				a, b := endsOf(&m.Structure, i)
				if x := m.Shed.Frames[set[0]]; mem.Section == nil || math.Abs(a.X-x) > 1e-6 || math.Abs(b.X-x) > 1e-6 {
					continue
				}
				of(t, es, mem.ID)
				pieces++
				if !strings.Contains(text, mem.Section.Name) {
					t.Errorf("%s frame %d: section %s is not named", name, set[0]+1, mem.Section.Name)
				}
			}
			if got := count(es, "piece"); got != pieces {
				t.Errorf("%s frame %d: %d members drawn, want %d", name, set[0]+1, got, pieces)
			}
		}
		slices.Sort(seen)
		for f := range m.Shed.Frames {
			if f >= len(seen) || seen[f] != f {
				t.Fatalf("%s: frames %v, want each once", name, seen)
			}
		}
	}
	// The kit's end frames have mullions, its two inner frames are alike.
	if got := fmt.Sprint(DistinctFrames(proposal(t, "kit"))); got != "[[0 3] [1 2]]" {
		t.Errorf("kit: frames %s, want [[0 3] [1 2]]", got)
	}
}

// TestChanges counts what altered changes in the packhouse: 12 rafters of other section, a prop, five ridge struts and a
// diagonal added, two props removed, and the purlins' spacing.
func TestChanges(t *testing.T) {
	m := proposal(t, "packhouse")
	n := altered(m)
	got := map[string]int{}
	for _, c := range ChangeList(m, n) {
		got[string(c.Kind)+" "+c.What] += len(c.Members)
	}
	want := map[string]int{"changed rafter": 12, "added prop": 1, "added ridge strut": 5, "added wall diagonal": 1, "removed prop": 2, "changed purlin spacing": 0}
	if !maps.Equal(got, want) {
		t.Errorf("changes %v, want %v", got, want)
	}
	es := read(t, Changes(m, n))
	// In the plan 12 rafters, and the four of the end frames again in the gables; 5 struts, the prop and the diagonal.
	for class, want := range map[string]int{"changed": 16, "added": 7, "removed": 2} {
		if got := count(es, class); got != want {
			t.Errorf("%d elements %s, want %d", got, class, want)
		}
	}
	text := texts(es)
	for _, sign := range []string{"~1", "+2", "350x250x6.0RHS C450L0 becomes 200x100x4.0RHS C450L0", "1.20 m becomes 1.50 m"} {
		if !strings.Contains(text, sign) {
			t.Errorf("the sheet lacks %q", sign)
		}
	}
}

// TestNoChanges: a design against itself.
func TestNoChanges(t *testing.T) {
	m := proposal(t, "packhouse")
	es := read(t, Changes(m, proposal(t, "packhouse")))
	if n := count(es, "added") + count(es, "removed") + count(es, "changed"); n != 0 {
		t.Errorf("%d elements change in a design against itself", n)
	}
	if !strings.Contains(texts(es), "Nothing changes") {
		t.Error("the sheet does not say that nothing changes")
	}
}

// TestMovedMember: another division of the roof bracing moves rods whose ids stay; they are removed and added.
func TestMovedMember(t *testing.T) {
	m := proposal(t, "packhouse")
	d := *m.Design
	d.RoofNodes = []float64{4.0, 8.1, 12.2}
	n := m.Shed.Build(&d)
	added, removed := 0, 0
	for _, c := range ChangeList(m, n) {
		switch c.Kind {
		case Added:
			added += len(c.Members)
		case Removed:
			removed += len(c.Members)
		}
	}
	if added != len(n.Roof) || removed != len(m.Roof) {
		t.Errorf("%d rods added, %d removed; want all %d and %d", added, removed, len(n.Roof), len(m.Roof))
	}
}

// TestRestraints: the map shows a tick for every flange held in each row, and the table every restraint of the model.
func TestRestraints(t *testing.T) {
	for _, name := range examples {
		m := proposal(t, name)
		ticks, listed := 0, 0
		for _, r := range restraintRows(m) {
			listed += len(r.members)
			for _, h := range r.member.Restraints {
				ticks++
				if h.Flange == solver.BothFlanges {
					ticks++
				}
			}
		}
		if want := 2*len(m.Columns) + len(slices.Concat(m.Rafters...)); listed != want {
			t.Errorf("%s: %d members on the map, want %d", name, listed, want)
		}
		if got := count(read(t, Restraints(m)), "held"); got != ticks {
			t.Errorf("%s: %d ticks, want %d", name, got, ticks)
		}
		var b bytes.Buffer
		if err := RestraintsCSV(&b, m); err != nil {
			t.Fatal(err)
		}
		if !strings.HasPrefix(b.String(), "# "+solver.Caution) {
			t.Errorf("%s: the table lacks the caution", name)
		}
		r := csv.NewReader(&b)
		r.Comment = '#'
		rows, err := r.ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		want := 1
		for i := range m.Structure.Members {
			if mem := &m.Structure.Members[i]; mem.Role == solver.RoleColumn || mem.Role == solver.RoleRafter {
				want += max(1, len(mem.Restraints))
			}
		}
		if len(rows) != want {
			t.Errorf("%s: %d lines in the table, want %d", name, len(rows), want)
		}
	}
}

// TestCandidates: every line of every candidate is drawn in its sketch, the diagonals of full panels also in the wall, and
// every reason is there in full.
func TestCandidates(t *testing.T) {
	for _, name := range examples {
		m := proposal(t, name)
		for side := range 4 {
			list := m.Shed.Candidates(side)
			es := read(t, Candidates(m.Shed, side))
			text := texts(es)
			want := 0
			for i := range list {
				c := &list[i]
				want += len(c.Lines)
				if c.Pattern == bracing.CrossedRods && fullPanel(c) {
					want += len(c.Lines)
				}
				if !strings.Contains(text, strings.TrimPrefix(c.Reason(), fmt.Sprintf("bay %d: ", c.Panel.Bay))) {
					t.Errorf("%s, side %d: %q is missing or cut off", name, side, c.Reason())
				}
			}
			if got := count(es, "free") + count(es, "blocked"); got != want {
				t.Errorf("%s, side %d: %d brace lines, want %d", name, side, got, want)
			}
			if len(list) == 0 && !strings.Contains(text, "no candidates are offered") {
				t.Errorf("%s, side %d: an open wall is not explained", name, side)
			}
		}
	}
}

// TestWriteAll writes the files it names, and no others.
func TestWriteAll(t *testing.T) {
	m := proposal(t, "kit")
	dir := t.TempDir()
	names, err := WriteAll(dir, m, altered(m))
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"plan.svg", "walls.svg", "roof.svg", "frame-1.svg", "frame-2.svg", "restraints.svg", "restraints.csv", "candidates-south.svg", "candidates-north.svg", "candidates-west.svg", "candidates-east.svg", "changes.svg"}
	if !slices.Equal(names, want) {
		t.Errorf("files %v, want %v", names, want)
	}
	entries, err := os.ReadDir(dir)
	if err != nil || len(entries) != len(names) {
		t.Errorf("%d files in the folder (%v), want %d", len(entries), err, len(names))
	}
	if _, err := WriteAll(filepath.Join(dir, "not there"), m, nil); err == nil {
		t.Error("a folder that does not exist was accepted")
	}
}

// TestTwice: drawing twice gives the same bytes.
func TestTwice(t *testing.T) {
	a, b := all(proposal(t, "packhouse")), all(proposal(t, "packhouse"))
	for k := range a {
		if !bytes.Equal(a[k], b[k]) {
			t.Errorf("%s differs from one time to the other", k)
		}
	}
}
