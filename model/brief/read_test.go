package brief

import (
	_ "embed"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"
	"testing/fstest"
)

//go:embed testdata/base.yaml
var base string

// place is put into a mistaken brief where the mistake is to be reported.
const place = "‸"

// mistakes change one text of the base into another; the mark shows where the message must point.
var mistakes = []struct{ name, old, new, want string }{
	// keys
	{"unknown key", "  span: 12", "  span: 12\n  ‸colour: red", `unknown key "colour" in building; known are frame_lines, span, roof, high_side, eaves, rise, open_sides, blocked, permanent, leaks, secondary, diaphragm`},
	{"slip in a needed key", "  span: 12", "  ‸spam: 12", `unknown key "spam" in building; did you mean "span"?`},
	{"unknown top key", "limits:", "‸limit:", `unknown key "limit" in the brief; did you mean "limits"?`},
	{"double key", "  rise: 1.2", "  rise: 1.2\n  ‸rise: 1.3", `key "rise" of building was given already in line 15; take one out`},
	{"missing key", "  frame_lines: [0, 5, 10, 15]\n  span: 12\n", "  ‸frame_lines: [0, 5, 10, 15]\n", `building lacks "span": Distance between the column lines A (Y = 0) and B, in m`},
	{"empty value", "  span: 12", "  span:‸", `span has no value; give one or take the key out`},
	{"unknown group", "    prop: 100x100x4.0SHS", "    ‸prob: 100x100x4.0SHS", `unknown key "prob" in sections; did you mean "prop"?`},
	// types, units, ranges
	{"word for number", "  span: 12", "  span: ‸wide", `span: "wide" is not a number; give a length in m or mm`},
	{"decimal comma", "  span: 12", "  span: ‸12,5", `span: "12,5" has a decimal comma; write a decimal point`},
	{"wrong unit", "  span: 12", "  span: ‸12 kPa", `span: "kPa" is no unit of a length; use m or mm`},
	{"unit on a plain number", "  terrain: 2", "  terrain: ‸2 m", `terrain: "2 m" is a plain number without a unit; write 2`},
	{"out of range", "  span: 12", "  span: ‸80", `span: 80 m is outside 2 to 60 m`},
	{"out of range in mm", "  span: 12", "  span: ‸1200 mm", `span: 1.2 m is outside 2 to 60 m`},
	{"mm taken for m", "  eaves: 4.2", "  eaves: ‸4200", `eaves: 4200 m is outside 1.8 to 20 m`},
	{"not a number", "  rise: 1.2", "  rise: ‸.nan", `rise: ".nan" is not a number`},
	{"infinite", "  rise: 1.2", "  rise: ‸1e999", `rise: "1e999" is too large a number`},
	{"half importance", "  importance: 2", "  importance: ‸2.5", `importance: "2.5" is not a whole number`},
	{"unknown word", "  region: A4", "  region: ‸A9", `region: "A9" is not known; did you mean "A0"?`},
	{"case matters", "  roof: gable", "  roof: ‸Gable", `roof: "Gable" is not known; did you mean "gable"?`},
	{"yes for true", "  rise: 1.2", "  rise: 1.2\n  diaphragm: ‸yes", `diaphragm: "yes"; write true`},
	{"list for mapping", "limits:\n  eaves_sway: H/150", "limits: ‸[150]", `limits is a list of 1; write its keys indented below it`},
	{"one number for a stretch", "y: [6, 12], level", "y: ‸6, level", `y is "6"; write the stretch as [from, to] in m`},
	{"stretch backwards", "y: [6, 12], level", "y: ‸[12, 6], level", `y runs from 12.00 m to 6.00 m; give the smaller number first`},
	{"ratio as a fraction", "H/150", "‸0.0067", `eaves_sway: 0.0067 is the fraction itself; write the number under its stroke, 149`},
	{"alias", "  span: 12", "  span: ‸&s 12", `span uses a YAML anchor or alias; write the value out`},
	{"compass", "  soil: De", "  soil: De\n  shielding: {‸NNE: 0.9}", `"NNE" is no compass point; use N, NE, E, SE, S, SW, W, NW`},
	{"name in file names", "name: base", "name: ‸a/b", `name "a/b" goes into file names`},
	// envelope
	{"lines descend", "[0, 5, 10, 15]", "[0, 5, ‸4, 15]", `frame line 3 at X 4.00 m is not at least 0.50 m beyond line 2 at X 5.00 m; list them ascending`},
	{"first line", "[0, 5, 10, 15]", "[‸1, 5, 10, 15]", `the first frame line is at X 1.00 m; measure from it, so that it is 0`},
	{"mono-pitch without side", "  roof: gable", "  roof: ‸mono-pitch", `a mono-pitch roof needs building.high_side: south or north`},
	{"gable with side", "  roof: gable", "  roof: gable\n  high_side: ‸north", `a gable has no high side; take the key out, or make the roof a mono-pitch`},
	// openings
	{"beyond the wall", "at: 6, width: 3, height: 3.6", "at: ‸14, width: 3, height: 3.6", `roller door at X 14.00 m in the south wall ends at X 17.00 m, beyond the south wall, 15.00 m long; move it back or narrow it`},
	{"over a column", "at: 6, width: 3, height: 3.6", "at: ‸4, width: 3, height: 3.6", `roller door at X 4.00 m in the south wall runs over frame line 2 at X 5.00 m, where a column stands; move it into one bay`},
	{"overlap", "  - {kind: window, wall: south, at: 1,", "  - ‸{kind: window, wall: south, at: 7,", `window at X 7.00 m in the south wall overlaps roller door at X 6.00 m in the south wall (line 17); move or narrow one of them`},
	{"above the slope", "at: 4, width: 4, head: 4}", "at: 0.5, width: 2, head: ‸4.5}", `the door head, 4.50 m, is above the roof at Y 0.50 m, 4.30 m; lower the door or move it towards the ridge`},
	{"mullion in a door", "east: [3, 9]", "east: [3, ‸6]", `the mullion at Y 6.00 m stands in sliding door at Y 4.00 m in the east gable (line 19); move it beside the opening`},
	{"head and height", "width: 4, head: 4}", "width: 4, height: 4, head: ‸4}", `sliding door at Y 4.00 m in the east gable has both height and head (line 19); keep one`},
	{"no head", "  - {kind: sliding door, wall: east, at: 4, width: 4, head: 4}", "  - ‸{kind: sliding door, wall: east, at: 4, width: 4}", `sliding door at Y 4.00 m in the east gable has neither height nor head; give one, in m`},
	{"door with sill", "width: 4, head: 4}", "width: 4, sill: ‸1, head: 4}", `a sliding door stands on the floor; take the sill out, or make it a window`},
	{"window without sill", "  - {kind: window, wall: south, at: 1, width: 2, sill: 1.1,", "  - ‸{kind: window, wall: south, at: 1, width: 2,", `window at X 1.00 m in the south wall has no sill; give the height of its lower edge above the floor, in m`},
	{"opening in an open side", "{kind: window, wall: south, at: 1, width: 2, sill: 1.1, height: 0.9}\n", "{kind: window, wall: ‸west, at: 1, width: 2, sill: 1.1, height: 0.9}\n", `the west gable is open (line 16) and has no room for an opening; take one of them out`},
	// inside
	{"floor through a door", "x: [0, 5], y: [6, 12], level: 2.7", "x: [10.5, 15], y: [6, 12], posts_x: [10.5], level: ‸2.7", `mezzanine loft at 2.70 m runs through sliding door at Y 4.00 m in the east gable (line 19), 0.00 m to 4.00 m high; move the floor or the opening`},
	{"floor beyond the wall", "y: [6, 12], level", "y: ‸[6, 13], level", `mezzanine loft reaches to Y 13.00 m, beyond the north wall at 12.00 m; shorten it`},
	{"floor above the roof", "level: 2.7", "level: ‸4.3", `level 4.30 m is not below the roof at Y 12.00 m, 4.20 m; lower the floor`},
	{"floor in a zone", "  - {name: loft, x: [0, 5],", "  - ‸{name: loft, x: [0, 6.5],", `mezzanine loft at 2.70 m is in clear zone lane (line 23), clear to 4.00 m; shorten one of them`},
	{"zone above the roof", "height: 4}\nproposal", "height: ‸4.5}\nproposal", `clear zone lane is 4.50 m high, but the roof at Y 0.00 m is at 4.20 m; lower the zone or raise the eaves (line 14)`},
	{"prop off a line", "{line: 3, y: 6}", "{x: ‸9.6, y: 6}", `no frame line is at X 9.60 m; the nearest is line 3 at 10.00 m`},
	{"prop twice placed", "    - {line: 3, y: 6}", "    - ‸{line: 3, x: 10, y: 6}", `a prop needs its frame line, by number (line) or by position (x); give one of the two`},
	{"prop on an end frame", "    - {line: 3, y: 6}", "    - ‸{line: 4, y: 6}", `frame line 4 is an end frame; its inner columns are mullions, list them under proposal.mullions`},
	{"prop through a floor", "    - {line: 3, y: 6}", "    - ‸{line: 2, y: 8}", `the prop at X 5.00 m, Y 8.00 m runs through mezzanine loft (line 21); set share_props there, or move the prop`},
	{"post in a door path", "  - {name: loft, x: [0, 5], y: [6, 12], level: 2.7", "  - ‸{name: loft, x: [10.5, 15], y: [6, 12], level: 4.1", `the post at X 15.00 m, Y 6.00 m stands within 1.50 m of sliding door at Y 4.00 m in the east gable (line 19); move it out of the door's path`},
	{"post off the floor", "permanent: 0.5}", "permanent: 0.5, posts_x: ‸[0, 7]}", `the post at X 7.00 m is off mezzanine loft, X 0.00 m to 5.00 m; move it`},
	// bracing and sections
	{"no such bay", "{wall: north, bay: 1,", "{wall: north, bay: ‸4,", `the north wall has no bay 4; its bays are 1 to 3`},
	{"bay blocked", "    - {wall: north, bay: 1,", "    - ‸{wall: south, bay: 2,", `crossed rods in bay 2 of the south wall would cross roller door at X 6.00 m in the south wall (line 17); brace another bay, or choose another pattern`},
	{"zig-zag in a wall", "bay: 1, pattern: crossed rods}\n  roof", "bay: 1, pattern: ‸zig-zag}\n  roof", `zig-zag belongs to the roof; use crossed rods or a single diagonal in a wall`},
	{"wrong rise", "bay: 1, pattern: crossed rods}\n  roof", "bay: 1, rises: ‸west, pattern: crossed rods}\n  roof", `rises belongs to a single diagonal, not to crossed rods; take it out`},
	{"unknown section", "    column: 200x100x5.0RHS", "    column: ‸200x100x5.5RHS", `unknown section "200x100x5.5RHS"; nearest: `},
	{"unknown grade", "    column: 200x100x5.0RHS", "    column: {section: 200x100x5.0RHS, grade: ‸C500}", `200x100x5.0RHS has no grade "C500"; its grades: `},
	{"spring without stiffness", "freedoms:", "  bases: {columns: ‸spring}\nfreedoms:", `a spring base needs its stiffness, in kN·m/rad`},
	{"base plate at the eaves", "freedoms:", "  details: {eaves: {kind: ‸base plate, plate: {thickness: 20}}}\nfreedoms:", `a base plate is no connection for this place; use end plate`},
	// freedoms and the rest
	{"window beyond the wall", "windows: [[5, 7]]", "windows: [‸[5, 13]]", `the window for props reaches to Y 13.00 m, beyond the north wall at 12.00 m; shorten it`},
	{"refuse above warn", "limits:", "limits:\n  lambda_refuse: ‸5", `lambda_refuse 5 is above lambda_warn, 4; a warning comes before a refusal`},
	{"one objective", "limits:", "objectives: {use: ‸[mass]}\nlimits:", `a front needs two or three objectives, not 1`},
	{"New Zealand", "  region: A4", "  direction: 1\n  region: ‸NZ2", `region NZ2 has no speeds in the tables; give site.regional_speed by recurrence, such as {25: 37, 500: 45}`},
	{"replace by nothing", "limits:", "actions: {replace_combinations: ‸true}\nlimits:", `the code's combinations would be replaced by none; give actions.combinations`},
	// YAML itself
	{"tab", "  span: 12", "‸\tspan: 12", `is not valid YAML here: found character that cannot start any token; check indentation, colons and quotes at and above this line`},
}

// mistaken returns the text of a mistake and the place of its mark.
func mistaken(t *testing.T, old, with string) (text string, at Pos) {
	t.Helper()
	if strings.Count(base, old) != 1 {
		t.Fatalf("%q is %d times in the base", old, strings.Count(base, old))
	}
	text = strings.Replace(base, old, with, 1)
	i := strings.Index(text, place)
	if i < 0 {
		return text, Pos{}
	}
	before := text[:i]
	line := strings.Count(before, "\n") + 1
	column := len([]rune(before[strings.LastIndex(before, "\n")+1:])) + 1
	return strings.Replace(text, place, "", 1), Pos{line, column}
}

func TestMistakes(t *testing.T) {
	for _, m := range mistakes {
		t.Run(m.name, func(t *testing.T) {
			text, at := mistaken(t, m.old, m.new)
			if strings.Contains(m.new, "‸west") { // this one needs the wall open as well
				text = strings.Replace(text, "  rise: 1.2\n", "  rise: 1.2\n  open_sides: [west]\n", 1)
				at.Line++
			}
			_, err := Read("test.yaml", strings.NewReader(text))
			var errs Errors
			if !errors.As(err, &errs) {
				t.Fatalf("no mistake reported, but %v", err)
			}
			want := fmt.Sprintf("test.yaml:%d:%d: %s", at.Line, at.Column, m.want)
			if len(errs) > 1 || !strings.HasPrefix(errs[0].Error(), want) {
				t.Errorf("got  %s\nwant %s", errs, want)
			}
		})
	}
}

// TestMistakesElsewhere has the mistakes whose message points at another line than the change.
func TestMistakesElsewhere(t *testing.T) {
	for _, m := range []struct{ old, new, want string }{
		{"x: [6, 9]", "x: [9, 11]", "test.yaml:35:7: the prop at X 10.00 m, Y 6.00 m stands in clear zone lane (line 23); move it out of X 9.00 m to 11.00 m, Y 0.00 m to 12.00 m"},
		{"    wall rod: R16\n", "", `test.yaml:37:7: the drawing shows crossed rods, but proposal.sections (line 26) has no "wall rod"; give its section`},
		{"width: 3, height: 3.6", "width: 3, height: 4.3", "test.yaml:14:10: eaves 4.20 m is below the door head, 4.30 m (line 17); raise the eaves or lower the door"},
		{"at: 6, width: 3", "at: 9.2, width: 0.7", ""}, // no mistake: narrow, but in one bay
	} {
		text, _ := mistaken(t, m.old, m.new)
		_, err := Read("test.yaml", strings.NewReader(text))
		if (err == nil) != (m.want == "") || (err != nil && err.Error() != m.want) {
			t.Errorf("got  %v\nwant %s", err, m.want)
		}
	}
}

// TestAllMistakesAtOnce reads a brief with a mistake in each part; they come sorted, each once.
func TestAllMistakesAtOnce(t *testing.T) {
	text := base
	for _, r := range [][2]string{
		{"region: A4", "region: Q"}, {"eaves: 4.2", "eaves: 42"}, {"at: 1, width: 2", "at: 14, width: 2"},
		{"level: 2.7", "level: two"}, {"    - {line: 3, y: 6}", "    - {line: 9, y: 6}"}, {"windows: [[5, 7]]", "windos: [[5, 7]]"},
	} {
		text = strings.Replace(text, r[0], r[1], 1)
	}
	_, err := Read("test.yaml", strings.NewReader(text))
	var errs Errors
	if !errors.As(err, &errs) {
		t.Fatal(err)
	}
	var lines []int
	for _, e := range errs {
		lines = append(lines, e.Line)
	}
	if want := []int{4, 14, 18, 21, 35, 43}; !reflect.DeepEqual(lines, want) {
		t.Errorf("mistakes in lines %v, want %v:\n%v", lines, want, err)
	}
}

func TestFileMistakes(t *testing.T) {
	for _, c := range []struct{ name, text, want string }{
		{"empty", "", "test.yaml: is empty; 'leanbay schema' describes what a brief holds"},
		{"comment only", "# nothing\n", "test.yaml: is empty; 'leanbay schema' describes what a brief holds"},
		{"scalar", "shed\n", `test.yaml:1:1: the brief is "shed"; write its keys indented below it`},
		{"two documents", base + "---\nname: b\n", "test.yaml:46:1: a second document begins here; a brief is one document, take out the line ---"},
		{"too large", base + strings.Repeat("#", maxFile), "test.yaml: is larger than 1048576 bytes; this is no brief"},
	} {
		if _, err := Read("test.yaml", strings.NewReader(c.text)); err == nil || err.Error() != c.want {
			t.Errorf("%s: got  %v\nwant %s", c.name, err, c.want)
		}
	}
}

// TestValues holds values to what the file says, converted by hand.
func TestValues(t *testing.T) {
	b, err := Read("base.yaml", strings.NewReader(base))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"bearing, 60°", float64(b.Site.Bearing), math.Pi / 3},
		{"permanent, 0.5 kPa", float64(b.Mezzanines[0].Permanent), 500},
		{"head of the window, 1.1 + 0.9", float64(b.Openings[1].Head), 2},
		{"height of the east door", float64(b.Openings[2].Height), 4},
		{"sway H/150", float64(b.Limits.EavesSway), 150},
		{"x of the prop on line 3", float64(b.Proposal.Props[0].X), 10},
		{"joist spacing by default", float64(b.Mezzanines[0].JoistSpacing), 0.45},
		{"least thickness by default, 4 mm", float64(b.Freedoms.MinThickness), 0.004},
		{"longest piece by default", float64(b.Freedoms.PieceLength), 12},
		{"roof at a quarter span: half the rise", float64(b.Building.RoofZ(3)), 4.8},
	} {
		if math.Abs(c.got-c.want) > 1e-12 {
			t.Errorf("%s: %v, want %v", c.what, c.got, c.want)
		}
	}
	if !b.Freedoms.OneOuterSize || b.Proposal.Bases.Columns.Kind != PinnedBase || b.Openings[0].State != MayBeOpen {
		t.Errorf("defaults: %+v %+v", b.Freedoms, b.Proposal.Bases)
	}
	if p := b.Where("openings[1].sill"); p != (Pos{18, 56}) { // counted in testdata/base.yaml
		t.Errorf("sill at %v", p)
	}
	if b.Stated("limits.jamb") || !b.Stated("limits.eaves_sway") {
		t.Error("stated and default values mixed up")
	}
}

// TestWide opens what is narrow by default, wherever the word stands, and keeps what is stated.
func TestWide(t *testing.T) {
	for _, f := range []string{"freedoms: wide\n", "freedoms:\n  props: {max_lines: 3}\n  breadth: wide\n"} {
		text := strings.Replace(base, "freedoms:\n  props:\n    windows: [[5, 7]]\n", f, 1)
		b, err := Read("base.yaml", strings.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		lines := 4
		if strings.Contains(f, "max_lines") {
			lines = 3
		}
		if g := b.Freedoms; g.Breadth != Wide || g.OneOuterSize || g.PieceLength != 18 || g.Props.Step != 0.1 || g.Props.MaxLines != lines {
			t.Errorf("%q gives %+v", f, g)
		}
	}
}

// TestHash: spelling does not change it, content does, and so does the content of a file that is named.
func TestHash(t *testing.T) {
	hash := func(text string) string {
		t.Helper()
		b, err := Read("base.yaml", strings.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		return b.Hash()
	}
	first := hash(base)
	for _, same := range []string{
		strings.Replace(base, "eaves: 4.2", "eaves: 4200 mm   # in millimetres", 1),
		strings.Replace(base, "permanent: 0.5", "permanent: 500 Pa", 1),
		strings.Replace(base, "column: 200x100x5.0RHS", "column: {section: RHS 200x100x5}", 1),
		strings.Replace(base, "  span: 12\n  roof: gable\n", "  roof: gable\n\n  span: 12.0\n", 1),
		strings.Replace(base, "{line: 3, y: 6}", "{x: 10, y: 6}", 1),
		base + "  jamb: 150\n", // the default, stated
	} {
		if hash(same) != first {
			t.Errorf("the hash changes with the spelling:\n%s", same)
		}
	}
	for _, other := range []string{
		strings.Replace(base, "eaves: 4.2", "eaves: 4.21", 1),
		strings.Replace(base, "line: 3", "line: 2", 1) + "  jamb: 150\n",
		base + "  jamb: 151\n",
	} {
		other = strings.Replace(other, "{line: 2, y: 6}", "{line: 3, y: 5.7}", 1)
		if hash(other) == first {
			t.Errorf("the hash misses a change:\n%s", other)
		}
	}
}

// TestNamedFiles opens what the brief names, relative to it, and reports mistakes at their own places.
func TestNamedFiles(t *testing.T) {
	text := base + "files: {overrides: own/wind.yaml, sections: own/stock.csv}\n"
	text = strings.Replace(text, "column: 200x100x5.0RHS", "column: 210x100x5.0RHS", 1)
	stock := "family,designation,d_mm,b_mm,t_mm\nRHS,210x100x5.0RHS,210,100,5\n"
	dir := fstest.MapFS{
		"briefs/base.yaml":      {Data: []byte(text)},
		"briefs/own/wind.yaml":  {Data: []byte("a: 1\n")},
		"briefs/own/stock.csv":  {Data: []byte(stock)},
		"other/base.yaml":       {Data: []byte(text)},
		"other/own/wind.yaml":   {Data: []byte("a: 2\n")},
		"other/own/stock.csv":   {Data: []byte(stock)},
		"missing/base.yaml":     {Data: []byte(text)},
		"missing/own/stock.csv": {Data: []byte("family,designation,d_mm,b_mm,t_mm\nRHS,210x100x5.0RHS,210,wide,5\n")},
	}
	one, err := ReadFS(dir, "briefs/base.yaml")
	if err != nil {
		t.Fatal(err)
	}
	two, err := ReadFS(dir, "other/base.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if one.Hash() == two.Hash() {
		t.Error("the hash misses the content of a named file")
	}
	if string(one.Overrides()) != "a: 1\n" {
		t.Errorf("overrides %q", one.Overrides())
	}
	if _, err := one.Library().Find("210x100x5.0RHS"); err != nil {
		t.Error(err)
	}
	_, err = ReadFS(dir, "missing/base.yaml")
	if err == nil || !strings.Contains(err.Error(), "missing/base.yaml:46:20: own/wind.yaml cannot be opened") ||
		!strings.Contains(err.Error(), "own/stock.csv:2:") {
		t.Errorf("got %v", err)
	}
}

// TestReadFile reads from disk and says which file is not there.
func TestReadFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "base.yaml")
	if err := os.WriteFile(path, []byte(base), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := ReadFile(path); err != nil {
		t.Error(err)
	}
	if _, err := ReadFile(path + "x"); !errors.Is(err, fs.ErrNotExist) || !strings.Contains(err.Error(), "base.yamlx") {
		t.Errorf("got %v", err)
	}
}
