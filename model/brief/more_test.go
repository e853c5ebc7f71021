package brief

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"
	"testing/fstest"
)

// more mistakes, which need several changes of the base; the mark shows where the message must point.
var more = []struct {
	name  string
	edits []string // old and new in turn
	want  string
}{
	{"wrong rise", []string{"wall rod: R16", "wall diagonal: 89x89x3.5SHS", "bay: 1, pattern: crossed rods}\n  roof", "bay: 1, rises: ‸north, pattern: single diagonal}\n  roof"},
		"a diagonal in the north wall rises to the west or east, not to the north"},
	{"wrong rise in a gable", []string{"wall rod: R16", "wall diagonal: 89x89x3.5SHS", "{wall: north, bay: 1, pattern: crossed rods}", "{wall: west, bay: 3, rises: ‸west, pattern: single diagonal}"},
		"a diagonal in the west gable rises to the south or north, not to the west"},
	{"one diagonal falls into a window", []string{"wall rod: R16", "wall diagonal: 89x89x3.5SHS", "    - {wall: north, bay: 1, pattern: crossed rods}", "    - ‸{wall: south, bay: 1, rises: west, pattern: single diagonal}",
		"at: 1, width: 2, sill: 1.1, height: 0.9", "at: 2.7, width: 2, sill: 0.4, height: 1.6"},
		"single diagonal in bay 1 of the south wall would cross window at X 2.70 m in the south wall (line 18); brace another bay, or choose another pattern"},
	{"V into a window", []string{"wall rod: R16", "wall diagonal: 89x89x3.5SHS", "    - {wall: north, bay: 1, pattern: crossed rods}", "    - ‸{wall: south, bay: 1, pattern: V}"},
		"V in bay 1 of the south wall would cross window"},
	{"inverted V into a window", []string{"wall rod: R16", "wall diagonal: 89x89x3.5SHS", "    - {wall: north, bay: 1, pattern: crossed rods}", "    - ‸{wall: south, bay: 1, pattern: inverted V}"},
		"inverted V in bay 1 of the south wall would cross window"},
	{"two tiers into a window", []string{"wall rod: R16", "wall rod: R16\n    node strut: 89x89x3.5SHS", "    - {wall: north, bay: 1, pattern: crossed rods}", "    - ‸{wall: south, bay: 1, pattern: two-tier}"},
		"two-tier in bay 1 of the south wall would cross window"},
	{"panel above the eaves", []string{"bay: 1, pattern: crossed rods}\n  roof", "bay: 1, pattern: crossed rods, to: ‸5}\n  roof"},
		"the panel ends at 5.00 m, above the wall's top there, 4.20 m; lower it"},
	{"panel upside down", []string{"bay: 1, pattern: crossed rods}\n  roof", "bay: 1, pattern: crossed rods, from: ‸3, to: 2}\n  roof"},
		"the panel begins at 3.00 m, not below its end, 2.00 m; lower it"},
	{"bay braced twice", []string{"    - {wall: north, bay: 1, pattern: crossed rods}", "    - {wall: north, bay: 1, pattern: crossed rods}\n    - ‸{wall: north, bay: 1, pattern: crossed rods, from: 2}"},
		"bay 1 of the north wall is braced already (line 38); take one out, or give each its tier by from and to"},
	{"roof bay beyond", []string{"  roof_bracing:\n    - {bay: 1", "  roof_bracing:\n    - {bay: ‸4"}, "the roof has no bay 4; its bays are 1 to 3"},
	{"roof pattern", []string{"    roof rod: R16", "    knee brace: 89x89x3.5SHS", "roof_bracing:\n    - {bay: 1, pattern: crossed rods}", "roof_bracing:\n    - {bay: 1, pattern: ‸knee braces}"},
		"knee braces is no pattern of a roof; use none, crossed rods, single diagonal, zig-zag"},
	{"roof bay twice", []string{"roof_bracing:\n    - {bay: 1, pattern: crossed rods}", "roof_bracing:\n    - {bay: 1, pattern: crossed rods}\n    - ‸{bay: 1, pattern: none}"}, "bay 1 of the roof is braced already (line 40); take one out"},
	{"pattern of the roof offered to a wall", []string{"    windows: [[5, 7]]", "    windows: [[5, 7]]\n  bracing: {north: [none, ‸zig-zag]}"}, "zig-zag belongs to the roof; take it out"},
	{"pattern of a wall offered to the roof", []string{"    windows: [[5, 7]]", "    windows: [[5, 7]]\n  bracing: {roof: [‸V]}"}, "V is no pattern of a roof; use none, crossed rods, single diagonal, zig-zag"},
	{"wind of secondaries below the site's", []string{"    windows: [[5, 7]]", "    windows: [[5, 7]]\n  secondary_wind: [1.1, ‸0.9]"}, "secondary_wind entry 2: 0.9 is outside 1 to 1.5"},
	{"wind of secondaries, another name", []string{"    windows: [[5, 7]]", "    windows: [[5, 7]]\n  ‸secondary_winds: [1.1]"}, `unknown key "secondary_winds" in freedoms; did you mean "secondary_wind"?`},
	{"mullions descend", []string{"west: [4, 8]", "west: [8, ‸4]"}, "the mullion at Y 4.00 m is not beyond the one before, 8.00 m; list them ascending"},
	{"mullion in the corner", []string{"west: [4, 8]", "west: [4, ‸12]"}, "the mullion at Y 12.00 m is not between the column lines, 0 and 12.00 m"},
	{"prop beyond the lines", []string{"{line: 3, y: 6}", "{line: ‸9, y: 6}"}, "there is no frame line 9; the last is 4"},
	{"prop outside", []string{"{line: 3, y: 6}", "{line: 3, y: ‸12}"}, "the prop at Y 12.00 m is not between the column lines, 0 and 12.00 m; move it inside"},
	{"prop twice", []string{"    - {line: 3, y: 6}", "    - {line: 3, y: 6}\n    - ‸{x: 10, y: 6}"}, "a prop stands on frame line 3 at Y 6.00 m already (line 35); take one out"},
	{"prop on no beam", []string{"{line: 3, y: 6}", "{line: 3, y: 6, on_beam: ‸true}"}, "the prop at X 10.00 m, Y 6.00 m is on no mezzanine; take on_beam out, or move the prop"},
	{"prop on a beam that may not", []string{"{line: 3, y: 6}", "{line: 2, y: 8, on_beam: ‸true}"}, "mezzanine loft (line 21) does not allow props on its beams; set props_on_beams there, or take on_beam out"},
	{"props on a mezzanine's lines", []string{"windows: [[5, 7]]", "windows: [[5, 7]]\n    lines: [‸1]"}, "frame line 1 is no inner frame; props stand on lines 2 to 3"},
	{"props' line twice", []string{"windows: [[5, 7]]", "windows: [[5, 7]]\n    lines: [2, ‸2]"}, "frame line 2 is listed twice; once is enough"},
	{"post in a zone", []string{"  - {name: loft, x: [0, 5], y: [6, 12]", "  - ‸{name: loft, x: [0, 5], y: [6, 12]", "x: [6, 9], y: [0, 12], height: 4}", "x: [4, 5.5], y: [5, 6], height: 4}\n  - {name: yard, x: [4, 5.5], y: [5.5, 6.5], height: 2}"},
		"the post at X 5.00 m, Y 6.00 m stands in clear zone yard (line 24); move it out of X 4.00 m to 5.50 m, Y 5.50 m to 6.50 m"},
	{"floors too close", []string{"permanent: 0.5}", "permanent: 0.5}\n  - ‸{name: upper, x: [2, 5], y: [6, 12], level: 4, use: office, permanent: 0.5}"},
		"mezzanine upper overlaps mezzanine 1 (line 21) less than 1.80 m above or below; move one of them"},
	{"stored height in an office", []string{"permanent: 0.5}", "permanent: 0.5, stored_height: ‸2}"}, "stored_height belongs to storage, and the use is office (line 21); take it out or change the use"},
	{"storage without load", []string{"use: office", "use: ‸storage"}, "a storage floor needs its imposed load, in kPa, or its stored_height, in m"},
	{"zone outside", []string{"x: [6, 9], y: [0, 12]", "x: ‸[6, 16], y: [0, 5]"}, "clear zone lane reaches to X 16.00 m, beyond the east gable at 15.00 m; shorten it"},
	{"window with locks", []string{"height: 0.9}", "height: 0.9, lock_pull: ‸2}"}, "a window has no wind locks; take lock_pull out"},
	{"head under the sill", []string{"height: 0.9}", "head: ‸1}"}, "head 1.00 m is not above the sill, 1.10 m (line 18); raise the head or lower the sill"},
	{"flat gable", []string{"rise: 1.2", "rise: ‸0"}, "a gable without rise is flat; give the height from eaves to ridge, or make the roof a mono-pitch"},
	{"one frame line", []string{"[0, 5, 10, 15]", "‸[0]"}, "1 frame line makes no bay; give at least two, such as [0, 4.5, 9]"},
	{"open side twice", []string{"  rise: 1.2", "  rise: 1.2\n  open_sides: [north, ‸north]"}, "the north wall is listed twice; once is enough"},
	{"blocked without open sides", []string{"  rise: 1.2", "  rise: 1.2\n  blocked: ‸0.5"}, "blocked belongs to a roof with open_sides; take it out, or list the open sides"},
	{"spacings descend", []string{"  rise: 1.2", "  rise: 1.2\n  secondary: {purlins: {spacings: [1.2, ‸0.9]}}"}, "spacing 0.90 m is not above the one before, 1.20 m; list them ascending"},
	{"no spacing", []string{"  rise: 1.2", "  rise: 1.2\n  secondary: {girts: {spacings: ‸[]}}"}, "no spacing is allowed; give at least one, such as [1.2]"},
	{"state and region", []string{"  soil: De", "  soil: De\n  state: ‸NZ"}, "state NZ does not lie in region A4; correct one of them"},
	{"two hills", []string{"  soil: De", "  soil: De\n  hill: {height: 30, half_length: 100}\n  topography: ‸1.1"}, "topography and hill (line 10) both state the hill; keep one"},
	{"New Zealand's directions", []string{"region: A4", "region: ‸NZ1", "  soil: De", "  soil: De\n  regional_speed: {25: 37, 500: 45}"}, "region NZ1 has no direction multipliers in the tables; give site.direction, 1.0 if in doubt"},
	{"recurrence", []string{"  soil: De", "  soil: De\n  regional_speed: {‸often: 37}"}, `key "often" of regional_speed is no positive whole number`},
	{"objective twice", []string{"limits:", "objectives: {use: [mass, ‸mass]}\nlimits:"}, `objective "mass" is listed twice; name another`},
	{"all and one", []string{"limits:", "what_ifs: {use: ‸[all, prop lost]}\nlimits:"}, "none and all stand alone; list the changes by name, or write one of the two words"},
	{"combination without terms", []string{"limits:", "actions: {combinations: [{name: a, state: strength, terms: ‸{}}]}\nlimits:"}, `combination "a" has no terms; give factors, such as {G: 1.2, Wu: 1.0}`},
	{"combination twice", []string{"limits:", "actions: {combinations: [{name: a, state: strength, terms: {G: 1}}, {name: ‸a, state: service, terms: {G: 1}}]}\nlimits:"}, `combination "a" is given already (line 44); name it otherwise`},
	{"action unknown", []string{"limits:", "actions: {combinations: [{name: a, state: strength, terms: {‸Wux: 1}}]}\nlimits:"}, `unknown key "Wux" in terms; did you mean "Wu"?`},
	{"stiffness of a pinned base", []string{"freedoms:", "  bases: {columns: {kind: pinned, stiffness: ‸800}}\nfreedoms:"}, "a pinned base has no stiffness; take it out, or make the kind spring"},
	{"plate without thickness", []string{"freedoms:", "  details: {column_base: ‸{kind: base plate}}\nfreedoms:"}, "the base plate has no plate thickness; give plate.thickness, in mm"},
	{"bolts without rows", []string{"freedoms:", "  details: {column_base: {kind: base plate, plate: {thickness: 20}, bolts: ‸{diameter: 20}}}\nfreedoms:"}, "bolts need both rows and diameter"},
	{"nothing left in the stock", []string{"    windows: [[5, 7]]", "    windows: [[5, 7]]\n  stock: {prop: {min_thickness: ‸6, max_thickness: 4}}"}, "min_thickness is above max_thickness (line 44); nothing is left"},
	{"no depth left in the stock", []string{"    windows: [[5, 7]]", "    windows: [[5, 7]]\n  stock: {prop: {min_depth: ‸200, max_depth: 100}}"}, "min_depth is above max_depth (line 44); nothing is left"},
	{"nothing to keep", []string{"    windows: [[5, 7]]", "    windows: [[5, 7]]\n  stock: {ridge strut: {keep: ‸true}}"}, `the proposal has no section for "ridge strut" to keep; give one under proposal.sections`},
	{"unknown section in the stock", []string{"    windows: [[5, 7]]", "    windows: [[5, 7]]\n  stock: {prop: {sections: [100x100x4.0SHS, ‸100x100x4.7SHS]}}"}, `unknown section "100x100x4.7SHS"; nearest: `},
	{"unknown family in the stock", []string{"    windows: [[5, 7]]", "    windows: [[5, 7]]\n  stock: {prop: {families: [‸HSS]}}"}, `families entry 1: "HSS" is not known; known are RHS, SHS, CHS, UB, PFC, EA, ROD, C, Z`},
	{"mapping for a number", []string{"span: 12", "span: ‸{m: 12}"}, "span is a mapping; give a length in m or mm"},
	{"mapping for a word", []string{"roof: gable", "roof: ‸{shape: gable}"}, "roof is a mapping; use one of gable, mono-pitch"},
	{"empty entry", []string{"west: [4, 8]", "west: [4, ‸~]"}, "west entry 2 is empty; give a length in m or mm"},
	{"word for a list", []string{"west: [4, 8]", "west: ‸4"}, `west is "4"; write a list, such as [a, b]`},
	{"a list as a key", []string{"  span: 12", "  span: 12\n  ? ‸[a]\n  : 1"}, "a key of building is a list of 1; write a word"},
	{"true for a whole number", []string{"line: 3", "line: ‸true"}, `line: "true" is not a whole number`},
	{"maybe for true", []string{"  rise: 1.2", "  rise: 1.2\n  diaphragm: ‸maybe"}, `diaphragm: "maybe" is neither true nor false`},
	{"no for false", []string{"  rise: 1.2", "  rise: 1.2\n  diaphragm: ‸no"}, `diaphragm: "no"; write false`},
	{"no name", []string{"name: base", "name: ‸''"}, "name: is empty; give a name"},
}

func TestMoreMistakes(t *testing.T) {
	for _, m := range more {
		t.Run(m.name, func(t *testing.T) {
			text := base
			for i := 0; i < len(m.edits); i += 2 {
				if strings.Count(text, m.edits[i]) != 1 {
					t.Fatalf("%q is %d times in the text", m.edits[i], strings.Count(text, m.edits[i]))
				}
				text = strings.Replace(text, m.edits[i], m.edits[i+1], 1)
			}
			before, after, marked := strings.Cut(text, place)
			if !marked {
				t.Fatal("no mark")
			}
			line := strings.Count(before, "\n") + 1
			column := len([]rune(before[strings.LastIndex(before, "\n")+1:])) + 1
			_, err := Read("test.yaml", strings.NewReader(before+after))
			var errs Errors
			if !errors.As(err, &errs) {
				t.Fatalf("no mistake reported, but %v", err)
			}
			want := fmt.Sprintf("test.yaml:%d:%d: %s", line, column, m.want)
			if len(errs) > 1 || !strings.HasPrefix(errs[0].Error(), want) {
				t.Errorf("got  %s\nwant %s", errs, want)
			}
		})
	}
}

// TestSound reads changes of the base that are no mistakes.
func TestSound(t *testing.T) {
	for name, edits := range map[string][]string{
		"prop through a floor that shares": {"{line: 3, y: 6}", "{line: 2, y: 8}", "permanent: 0.5}", "permanent: 0.5, share_props: true}"},
		"prop on a beam":                   {"{line: 3, y: 6}", "{line: 2, y: 8, on_beam: true}", "permanent: 0.5}", "permanent: 0.5, props_on_beams: true}"},
		"panel above a window":             {"bay: 1, pattern: crossed rods}\n  roof", "bay: 2, pattern: crossed rods}\n    - {wall: south, bay: 1, from: 2.2, pattern: crossed rods}\n  roof"},
		"two tiers, each its own":          {"bay: 1, pattern: crossed rods}\n  roof", "bay: 1, to: 2, pattern: crossed rods}\n    - {wall: north, bay: 1, from: 2, pattern: crossed rods}\n  roof"},
		"gable stretch":                    {"{wall: north, bay: 1,", "{wall: west, bay: 3,"},
		"detail":                           {"freedoms:", "  details: {eaves: {kind: end plate, plate: {thickness: 20}, bolts: {diameter: 20, rows: 4}}}\nfreedoms:"},
		"directions":                       {"  soil: De", "  soil: De\n  shielding: {N: 0.9, SW: 0.85}\n  topography: 1.1"},
		"spring base":                      {"freedoms:", "  bases: {columns: {kind: spring, stiffness: 800}}\nfreedoms:"},
		"own combination":                  {"limits:", "actions: {combinations: [{name: a, state: strength, terms: {G: 1.2, Wu: 1}, reason: asked for}]}\nlimits:"},
	} {
		text := base
		for i := 0; i < len(edits); i += 2 {
			text = strings.Replace(text, edits[i], edits[i+1], 1)
		}
		if _, err := Read("test.yaml", strings.NewReader(text)); err != nil || text == base {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestEnvelope works the heights of both roof forms by hand.
func TestEnvelope(t *testing.T) {
	gable := Building{FrameLines: []Length{0, 5, 10}, Span: 12, Roof: Gable, Eaves: 4, Rise: 1.2}
	low := Building{Span: 12, Roof: MonoPitch, HighSide: North, Eaves: 4, Rise: 1.2}
	high := Building{Span: 12, Roof: MonoPitch, HighSide: South, Eaves: 4, Rise: 1.2}
	for _, c := range []struct {
		what      string
		got, want Length
	}{
		{"gable ridge Y", gable.RidgeY(), 6},
		{"gable ridge Z", gable.RidgeZ(), 5.2},
		{"gable at 9 of 12: half-way down", gable.RoofZ(9), 4.6},
		{"gable north eaves", gable.EavesAt(North), 4},
		{"length", gable.Length(), 10},
		{"bay 2", gable.Bay(2).Width(), 5},
		{"mono high north, at 3 of 12", low.RoofZ(3), 4.3},
		{"mono high north, its eaves", low.EavesAt(North), 5.2},
		{"mono high north, ridge", low.RidgeY(), 12},
		{"mono high south, at 3 of 12", high.RoofZ(3), 4.9},
		{"mono high south, ridge", high.RidgeY(), 0},
		{"no lines", low.Length(), 0},
	} {
		if math.Abs(float64(c.got-c.want)) > 1e-12 {
			t.Errorf("%s: %v, want %v", c.what, c.got, c.want)
		}
	}
	if gable.LineAt(5.0005) != 2 || gable.LineAt(5.002) != 0 {
		t.Error("lines are met within a millimetre, and no further")
	}
	p := Permanent{RoofCladding: 10, Services: 3, Panels: 7}
	if c, s := float64(p.Certain()), float64(p.Possible()); math.Abs(c-98.0665) > 1e-9 || math.Abs(s-98.0665) > 1e-9 {
		t.Errorf("certain %v, possible %v Pa: want 10 kg/m² of each, 98.0665 Pa", c, s)
	}
}

// TestPrices: prices are read with the brief.
func TestPrices(t *testing.T) {
	dir := fstest.MapFS{
		"base.yaml":  {Data: []byte(base + "files: {prices: rates.csv}\n")},
		"rates.csv":  {Data: []byte("item,of,grade,value\ncurrency,,,AUD\nper_kg,other,,3.5\nconnection,other,,120\n")},
		"wrong.yaml": {Data: []byte(base + "files: {prices: bad.csv}\n")},
		"bad.csv":    {Data: []byte("item,of,grade,value\ncurrency,,,AUD\nper_kg,other,,dear\nconnection,other,,120\n")},
	}
	b, err := ReadFS(dir, "base.yaml")
	if err != nil || b.Prices().Connection("knee") != 120 {
		t.Fatalf("%v", err)
	}
	if _, err := ReadFS(dir, "wrong.yaml"); err == nil || !strings.HasPrefix(err.Error(), "bad.csv:3:") {
		t.Errorf("got %v", err)
	}
	if _, err := ReadFS(dir, "none.yaml"); err == nil {
		t.Error("a brief that is not there was read")
	}
}

// TestLongLists: a list that no shed has is refused rather than worked through.
func TestLongLists(t *testing.T) {
	text := strings.Replace(base, "west: [4, 8]", "west: [4"+strings.Repeat(", 4", maxList)+"]", 1)
	_, err := Read("test.yaml", strings.NewReader(text))
	if err == nil || !strings.Contains(err.Error(), "west has 301 entries; a shed has at most 300") {
		t.Errorf("got %v", err)
	}
}
