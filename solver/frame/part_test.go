package frame

import (
	"reflect"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/solver"
)

// planes is frames 1 and 3 of tabled by themselves, held in their planes, under all cases but the second.
func planes(s *solver.Structure) (*solver.Structure, *Part) {
	out, p := &solver.Structure{Table: s.Table, TableIndex: slices.Clone(s.TableIndex)}, &Part{Cases: []int{0, 2, 3}}
	out.Nodes = slices.Clone(s.Nodes)
	for i := range out.Nodes {
		h := &out.Nodes[i].Held
		h[solver.UX], h[solver.RY], h[solver.RZ] = true, true, true
	}
	index := make([]int, len(s.Members))
	for m := range s.Members {
		if index[m] = -1; m > 3 && m < 8 || m > 11 {
			continue
		}
		mem := s.Members[m]
		index[m], mem.Elements = len(out.Members), nil
		for _, e := range s.Members[m].Elements {
			el := s.Elements[e]
			el.Member = index[m]
			mem.Elements = append(mem.Elements, len(out.Elements))
			out.Elements, p.Elements = append(out.Elements, el), append(p.Elements, e)
		}
		out.Members = append(out.Members, mem)
	}
	for i, m := range out.TableIndex {
		if m >= 0 {
			out.TableIndex[i] = index[m]
		}
	}
	for _, c := range p.Cases {
		lc := s.Cases[c]
		lc.Nodal, lc.Line, lc.Point = nil, nil, nil
		for _, l := range s.Cases[c].Line {
			if l.Member = index[l.Member]; l.Member >= 0 {
				lc.Line = append(lc.Line, l)
			}
		}
		for _, l := range s.Cases[c].Point {
			if l.Member = index[l.Member]; l.Member >= 0 {
				lc.Point = append(lc.Point, l)
			}
		}
		out.Cases = append(out.Cases, lc)
	}
	out.Combinations = []solver.Combination{
		{ID: "1", Terms: []solver.Term{{Case: 0, Factor: 1.35}}},
		{ID: "2", Terms: []solver.Term{{Case: 0, Factor: 1.2}, {Case: 1, Factor: 1}}},
		{ID: "3", Terms: []solver.Term{{Case: 0, Factor: 0.9}, {Case: 1, Factor: -1}, {Case: 2, Factor: 0.5}}},
	}
	return out, p
}

// TestLoadPart: a structure taken over from the workspace of a greater one is what Load makes of it, to the bit, and so are its answers;
// also where nothing can be taken over: at first, when the table's places on it are not known yet, with forces at places of the whole's own,
// and after an element has changed.
func TestLoadPart(t *testing.T) {
	_, s := tabled()
	s.Cases[3].Pushes = slices.DeleteFunc(s.Cases[3].Pushes, func(q solver.Push) bool { return q.Place%7 == 3 }) // where no column has a force
	whole, err := Compile(s)
	if err != nil {
		t.Fatal(err)
	}
	w := whole.NewWorkspace()
	w.Quick = true
	frames, _ := planes(s)
	m, err := Compile(frames)
	if err != nil {
		t.Fatal(err)
	}
	got, want := m.NewWorkspace(), m.NewWorkspace()
	got.Quick, want.Quick = true, true
	for _, step := range []struct {
		name   string
		taken  bool
		before func() // changes the whole before it is loaded
		after  func(part *solver.Structure)
	}{
		{name: "first"},
		{name: "again", taken: true},
		{name: "heavier", taken: true, before: func() {
			for e := range s.Elements {
				s.Elements[e].A, s.Elements[e].Iz = 1.3*s.Elements[e].A, 1.2*s.Elements[e].Iz
			}
			for i := range s.Cases[3].Pushes {
				s.Cases[3].Pushes[i].Force *= 1.7
			}
		}},
		{name: "changed", after: func(part *solver.Structure) { part.Elements[5].Iz *= 1.1 }},
		{name: "moved", after: func(part *solver.Structure) {
			for i := range part.Nodes {
				part.Nodes[i].Pos.X++
			}
		}},
		{name: "back", taken: true},
		{name: "own place", before: func() {
			s.Cases[2].Point = append(s.Cases[2].Point, solver.PointLoad{Member: 0, At: 2.2, F: r3.Vec{Y: -900}})
		}},
	} {
		if step.before != nil {
			step.before()
		}
		if err := w.Load(s); err != nil {
			t.Fatal(err)
		}
		frames, p := planes(s)
		if step.after != nil {
			step.after(frames)
		}
		if err := got.LoadPart(frames, w, p); err != nil {
			t.Fatal(err)
		}
		if taken := len(got.loads.all) == 0 && len(got.loads.sorted) > 0; taken != step.taken {
			t.Errorf("%s: taken over %v, want %v", step.name, taken, step.taken)
		}
		if err := want.Load(frames); err != nil {
			t.Fatal(err)
		}
		g, h := &got.loads, &want.loads
		for what, pair := range map[string][2]any{
			"elements": {got.els, want.els}, "stiffness": {got.val, want.val}, "fixed ends": {g.fixed, h.fixed}, "smooth": {g.smooth, h.smooth},
			"loads": {g.sorted, h.sorted}, "by element": {g.first[:len(got.els)+1], h.first[:len(got.els)+1]}, "by case": {g.caseAt, h.caseAt},
			"forces": {g.places.force, h.places.force}, "places": {g.places.list, h.places.list}, "stations": {g.statics.x, h.statics.x},
		} {
			if !reflect.DeepEqual(pair[0], pair[1]) {
				t.Errorf("%s: other %s than Load makes", step.name, what)
			}
		}
		if !reflect.DeepEqual(answersLoaded(t, got, frames), answersLoaded(t, want, frames)) {
			t.Errorf("%s: other answers than with Load", step.name)
		}
	}
}
