package frames

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"leanbay/solver"
)

// everything uses each key of the form once.
const everything = `{
  "schema": "frame-1", "id": "all", "title": "t", "notes": "n", "source": "s", "units": "SI", "conventions": "c",
  "nodes": [{"id": 30, "x": 0, "y": 0, "z": 0}, {"id": -2, "x": 3, "y": 4, "z": 0}, {"id": 7, "x": 3, "y": 4, "z": 5.0}],
  "supports": [{"node": 30, "ux": true, "uy": true, "uz": true, "rx": true, "ry": true, "rz": false, "krz": 5e3},
    {"node": 7, "ux": false, "uy": true, "kx": 100}],
  "members": [
    {"id": "b", "i": 30, "j": -2, "E": 2e11, "G": 8e10, "A": 0.01, "Iy": 1e-5, "Iz": 2e-5, "J": 3e-6, "Asy": 4e-3, "Asz": null,
     "y_axis": [0, 0, 1], "release_i": ["My"], "release_j": ["T", "Mz"], "tension_only": false, "rod": false,
     "springs_i": {"Mz": 700}, "springs_j": {"My": 0}, "offset_i": [0.3, 0.4, 0], "offset_j": [0, 0, 0], "density": 7850},
    {"id": 12, "i": 7, "j": -2, "E": 2e11, "A": 1e-4, "rod": true, "tension_only": true, "release_i": ["My", "Mz"]},
    {"id": "strut", "i": 30, "j": 7, "E": 2e11, "A": 1e-4, "rod": true, "compression_only": true}
  ],
  "load_cases": [
    {"id": "one", "analysis": "tension_only", "expected": 3,
     "nodal": [{"node": -2, "F": [1, 2, 3]}, {"node": 7, "M": [0, 0, 4]}],
     "udl": [{"member": "b", "q": [0, 0, -5], "axes": "global", "per": "projected", "from": 0.5, "to": 1.5, "q2": [0, 0, -10]},
             {"member": "b", "q": [0, -1, 0], "axes": "local"}],
     "point": [{"member": "b", "a": 1.25, "F": [0, 6, 0], "M": [7, 0, 0], "axes": "local"}, {"member": 12, "a": 5, "F": [1, 0, 0]}],
     "self_weight": [0, 0, -1]},
    {"id": 2, "analysis": "buckling"}
  ], "author": "x"
}`

func TestReadEverything(t *testing.T) {
	f, err := Read("all.json", []byte(everything))
	if err != nil {
		t.Fatal(err)
	}
	s := f.Structure
	if f.ID != "all" || f.Title != "t" || !slices.Equal(f.Asked, []Analysis{TensionOnly, Buckling}) {
		t.Errorf("head: %q %q %v", f.ID, f.Title, f.Asked)
	}
	if len(s.Nodes) != 3 || s.Nodes[0].ID != 30 || s.Nodes[1].ID != -2 || s.Nodes[2].Pos.Z != 5 {
		t.Errorf("nodes: %+v", s.Nodes)
	}
	if n := s.Nodes[0]; n.Held != [6]bool{true, true, true, true, true, false} || n.Spring != [6]float64{5: 5e3} {
		t.Errorf("support 30: %+v", n)
	}
	if n := s.Nodes[2]; n.Held != [6]bool{1: true} || n.Spring != [6]float64{0: 100} {
		t.Errorf("support 7: %+v", n)
	}
	b := s.Elements[0]
	if b.I != 0 || b.J != 1 || b.E != 2e11 || b.G != 8e10 || b.A != 0.01 || b.Iy != 1e-5 || b.Iz != 2e-5 || b.It != 3e-6 ||
		b.Asy != 4e-3 || b.Asz != 0 || b.YAxis.Z != 1 || b.Density != 7850 || b.OffsetI.Y != 0.4 || b.Bar || b.Acts != solver.BothWays {
		t.Errorf("member b: %+v", b)
	}
	if b.ReleaseI != [6]bool{solver.My: true} || b.ReleaseJ != [6]bool{solver.T: true, solver.My: true, solver.Mz: true} {
		t.Errorf("releases of b: %v %v (a spring of 0 is a release)", b.ReleaseI, b.ReleaseJ)
	}
	if b.SpringI != [6]float64{solver.Mz: 700} || b.SpringJ != [6]float64{} {
		t.Errorf("springs of b: %v %v", b.SpringI, b.SpringJ)
	}
	// Nodes 5 m apart in the plane, an arm of 0.5 m along it.
	if l := s.Members[0].Length; math.Abs(l-4.5) > 1e-12 {
		t.Errorf("length of b %g, want 4.5", l)
	}
	if r := s.Elements[1]; r.ID != "12" || !r.Bar || r.Acts != solver.TensionOnly || r.ReleaseI != [6]bool{} || s.Elements[2].Acts != solver.CompressionOnly {
		t.Errorf("bars: %+v", s.Elements[1:])
	}
	c := s.Cases[0]
	if c.Nodal[0].Node != 1 || c.Nodal[0].F.Z != 3 || c.Nodal[1].M.Z != 4 || c.SelfWeight.Z != -1 {
		t.Errorf("nodal: %+v", c)
	}
	if l := c.Line[0]; !l.Projected || l.Axes != solver.GlobalAxes || l.From != 0.5 || l.To != 1.5 || l.Q1.Z != -5 || l.Q2.Z != -10 {
		t.Errorf("udl 1: %+v", l)
	}
	if l := c.Line[1]; l.Projected || l.Axes != solver.LocalAxes || l.From != 0 || math.Abs(l.To-4.5) > 1e-12 || l.Q2 != l.Q1 {
		t.Errorf("udl 2: %+v", l)
	}
	if p := c.Point[0]; p.At != 1.25 || p.F.Y != 6 || p.M.X != 7 || p.Axes != solver.LocalAxes || c.Point[1].Member != 1 {
		t.Errorf("point: %+v", c.Point)
	}
	for _, w := range []string{`unknown key "expected" is ignored`, `unknown key "author" is ignored`} {
		if !slices.ContainsFunc(f.Warnings, func(s string) bool { return strings.HasSuffix(s, w) }) {
			t.Errorf("no warning ends in %q: %q", w, f.Warnings)
		}
	}
}

// small is a cantilever with a place to put a mistake.
const small = `{"schema": "frame-1", "id": "c",
"nodes": [{"id": 1, "x": 0, "y": 0, "z": 0}, {"id": 2, "x": 2, "y": 0, "z": 0}],
"supports": [{"node": 1, "ux": true, "uy": true, "uz": true, "rx": true, "ry": true, "rz": true}],
"members": [{"id": "m", "i": 1, "j": 2, "E": 2e11, "G": 8e10, "A": 0.01, "Iy": 1e-5, "Iz": 2e-5, "J": 3e-6, "y_axis": [0, 1, 0]}],
"load_cases": [{"id": "a", "analysis": "linear", "nodal": [{"node": 2, "F": [0, 0, -1000]}]}]}`

func TestMistakes(t *testing.T) {
	for _, c := range []struct{ old, new, at, want string }{
		{`"id": 2, "x"`, `"id": 1, "x"`, `{"id": 1, "x": 2`, "node 1 is given twice; ids must differ"},
		{`"id": 2, "x"`, `"id": 1.5, "x"`, `1.5`, "node 1.5: id is 1.5; node ids are whole numbers"},
		{`"x": 2,`, ``, `{"id": 2`, `node 2 lacks "x": metres`},
		{`"x": 2`, `"x": "2"`, `"2"`, `node 2: x is a text; write a number`},
		{`"x": 2`, `"x": 1e400`, `1e400`, `node 2: x is 1e400: no quantity of a structure is beyond 1e+30`},
		{`"x": 2`, `"x": 2, "w": 1`, `"w"`, `node 2: unknown key "w"; known are id, x, y, z`},
		{`"x": 2`, `"x": 2, "x": 3`, `"x": 3`, `node 2: "x" is given twice (first in line 2); keep one`},
		{`"x": 2`, `"x": 0`, `{"id": "m"`, `member m: from node 1 to node 2 its length is 0 m; move a node or an offset`},
		{`"x": 2`, `"x": NaN`, `NaN`, `not JSON: invalid character 'N' looking for beginning of value; write a plain number`},
		{`"ux": true`, `"ux": 1`, `1, "uy"`, `support number 1: ux is a number; write true or false`},
		{`"rz": true`, `"krz": -4`, `-4`, `support number 1: krz is -4; give a positive number in N·m/rad`},
		{`[{"node": 1,`, `[{"node": 9,`, `9,`, `support number 1: node: there is no node 9; add it to nodes or name another`},
		{`"j": 2`, `"j": 1`, `{"id": "m"`, `member m: both ends are node 1; give two different nodes`},
		{`"E": 2e11`, `"E": 0`, `0, "G"`, `member m: E is 0; give a positive number in Pa`},
		{`"Iz": 2e-5`, `"Iz": null`, `null`, `member m: "Iz" is null; give m⁴, bending in the local x-y plane`},
		{`[0, 1, 0]`, `[-1, 0, 0]`, `{"id": "m"`, `member m: y_axis [-1, 0, 0] is zero or runs along the member; give a direction across it`},
		{`[0, 1, 0]`, `[0, 0, 0]`, `{"id": "m"`, `member m: y_axis [0, 0, 0] is zero or runs along the member; give a direction across it`},
		{`[0, 1, 0]`, `[0, 1]`, `[0, 1]`, `member m: y_axis must be a list of three numbers [x, y, z]`},
		{`"J": 3e-6`, `"J": 3e-6, "release_i": ["Mx"]`, `"Mx"`, `member m: release_i is "Mx"; write one of N, Vy, Vz, T, My, Mz`},
		{`"J": 3e-6`, `"J": 3e-6, "release_i": ["Mz"], "springs_i": {"Mz": 5}`, `5}`, `member m: springs_i: Mz is released and sprung at this end; keep one`},
		{`"J": 3e-6`, `"J": 3e-6, "tension_only": true, "compression_only": true`, `{"id": "m"`, `member m is both tension_only and compression_only; keep one`},
		{`"J": 3e-6`, `"J": 3e-6, "rod": true, "release_j": ["N"]`, `{"id": "m"`, `member m: a bar that releases N carries nothing; take the release or the member out`},
		{`"J": 3e-6`, `"J": 3e-6, "alpha": 1`, `"alpha"`, `member m: unknown key "alpha"; known are rod, tension_only`},
		{`"linear"`, `"static"`, `"static"`, `load case a: analysis is "static"; write one of linear, second_order, tension_only`},
		{`"F": [0, 0, -1000]`, `"G": 1`, `"G": 1`, `load case a, nodal load 1: unknown key "G"; known are node, F, M`},
		{`"F": [0, 0, -1000]`, `"F": null`, `{"node": 2`, `load case a, nodal load 1 has neither F nor M; give [x, y, z] in N or N·m`},
		{`"nodal": [{"node": 2, "F": [0, 0, -1000]}]`, `"udl": [{"member": "m", "q": [0, 0, 1], "from": 1, "to": 2.1}]`, `{"member"`,
			`load case a, udl 1: from 1 to 2.1 m does not lie on member m in order; it is 2 m long`},
		{`"nodal": [{"node": 2, "F": [0, 0, -1000]}]`, `"udl": [{"member": "m", "q": [0, 0, 1], "axes": "local", "per": "projected"}]`, `{"member"`,
			`load case a, udl 1: a load per projected length is given in global axes; write "axes": "global"`},
		{`"nodal": [{"node": 2, "F": [0, 0, -1000]}]`, `"point": [{"member": "x", "a": 1, "F": [0, 0, 1]}]`, `"x", "a"`,
			`load case a, point load 1: member: there is no member "x"`},
		{`"nodal": [{"node": 2, "F": [0, 0, -1000]}]`, `"point": [{"member": "m", "a": -1, "F": [0, 0, 1]}]`, `{"member"`,
			`load case a, point load 1: a = -1 m does not lie on member m; it is 2 m long`},
		{`"load_cases": [{"id": "a", "analysis": "linear", "nodal": [{"node": 2, "F": [0, 0, -1000]}]}]`, `"expected": 1`, `{"schema"`,
			`the frame lacks "load_cases": a list of`},
		{`[{"id": "a", "analysis": "linear", "nodal": [{"node": 2, "F": [0, 0, -1000]}]}]`, `[]`, `[]`, `load_cases is empty; give at least one`},
	} {
		text := strings.Replace(small, c.old, c.new, 1)
		if text == small {
			t.Fatalf("%s does not stand in the small file", c.old)
		}
		want := place(t, text, c.at) + c.want
		_, err := Read("c.json", []byte(text))
		follows := strings.HasPrefix(c.old, `"id": 2`) // who refers to the node complains too
		if err == nil || !strings.HasPrefix(err.Error(), want) || !follows && strings.Contains(err.Error(), "\n") {
			t.Errorf("%s:\n got %v\nwant %s", c.new, err, want)
		}
	}
}

// place finds the file:line:column of the first at in text.
func place(t *testing.T, text, at string) string {
	t.Helper()
	before, _, ok := strings.Cut(text, at)
	if !ok {
		t.Fatalf("%s does not stand in the file", at)
	}
	line := 1 + strings.Count(before, "\n")
	column := 1 + utf8.RuneCountInString(before[strings.LastIndex(before, "\n")+1:])
	return fmt.Sprintf("c.json:%d:%d: ", line, column)
}

// TestAllMistakesAtOnce: one reading names them all, sorted by place.
func TestAllMistakesAtOnce(t *testing.T) {
	text := strings.NewReplacer(`"x": 2`, `"x": "a"`, `"E": 2e11`, `"E": -1`, `"linear"`, `"none"`, `{"node": 2,`, `{"node": 3,`).Replace(small)
	_, err := Read("c.json", []byte(text))
	if err == nil {
		t.Fatal("accepted")
	}
	lines := strings.Split(err.Error(), "\n")
	if len(lines) != 4 {
		t.Errorf("%d mistakes, want the four that were made", len(lines))
	}
	for i, prefix := range []string{"c.json:2:", "c.json:4:", "c.json:5:40:", "c.json:5:67:"} {
		if i >= len(lines) || !strings.HasPrefix(lines[i], prefix) {
			t.Errorf("mistake %d does not stand at %s:\n%v", i+1, prefix, err)
		}
	}
}

// FuzzRead: any text is read or refused with places; what is read can be analysed without a panic.
func FuzzRead(f *testing.F) {
	f.Add([]byte(everything))
	f.Add([]byte(small))
	for _, s := range []string{"", "[]", "{}", `{"load_cases":[]}`, `{"nodes":[{"id":1,"x":0,"y":0,"z":0}],"members":[],"load_cases":[{"id":"a","analysis":"mechanism"}]}`,
		strings.Replace(small, "2e11", "1e-29", 1), strings.Replace(small, "2e-5", "0", 1), strings.Replace(small, `"x": 2`, `"x": 2e-6`, 1),
		strings.Replace(small, `"linear"`, `"second_order"`, 1), strings.Replace(small, `"linear"`, `"buckling"`, 1),
		strings.Replace(small, `[0, 0, -1000]`, `[-1e29, 0, 0]`, 1)} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if len(data) > 20000 {
			return
		}
		file, err := Read("f.json", data)
		if err != nil {
			if !strings.HasPrefix(err.Error(), "f.json:") {
				t.Fatalf("a mistake without its place: %v", err)
			}
			return
		}
		a, err := Analyse(file, Options{Stations: 3})
		if err == nil && len(a.Cases) != len(file.Asked) {
			t.Fatalf("%d answers to %d cases", len(a.Cases), len(file.Asked))
		}
	})
}
