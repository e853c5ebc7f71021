package shedspace

import (
	"slices"

	"leanbay/model/shed"
	"leanbay/solver"
	"leanbay/solver/frame"
)

// innerFramesAlone analyses the inner frames as plane frames, each by itself, and checks them: in the whole shed stiff
// ends may carry part of their sway through the roof rods, and the default does not rely on that. What runs along the
// building is left out, its weight with it (without it uplift governs a little sooner), and no node moves along it.
func (j *judge) innerFramesAlone(m *shed.Model, a *Assessment) error {
	plane, index := j.planeFrames(m)
	if err := j.loadAlone(plane); err != nil {
		return err
	}
	if err := j.analyse(&j.alone, m.Structure.Combinations, j.p.bench.planar, frame.SecondOrder, a); err != nil {
		return err
	}
	if a.Mechanism != "" || len(a.Trouble) > 0 {
		return nil
	}
	j.listed = innerPlaces(m, index, j.listed[:0])
	j.checkMembers(&m.Structure, j.listed, true, a)
	j.inner = innerOnly(m, index, j.inner)
	j.checkSeats(m, plane, j.inner, a)
	if j.joints != nil {
		j.gather(plane, j.inner)
	}
	return nil
}

// loadAlone makes what planeFrames returned ready: it has the selected cases already. Where the whole shed of the same model is loaded
// for the search, elements and loads are taken from there.
func (j *judge) loadAlone(plane *solver.Structure) error {
	b := j.p.bench
	var err error
	if j.brief && j.loaded == j.models {
		err = j.alone.loadPart(plane, &j.whole, &frame.Part{Elements: j.room.elements, Cases: b.planarInWhole}, j.quick)
	} else {
		err = j.alone.load(plane, j.quick)
	}
	j.alone.selected = b.planarCases
	return err
}

// planeRoom is storage of plane frames that serves again.
type planeRoom struct {
	plane    solver.Structure
	index    []int
	elements []int // where each is in the whole shed
	ids      []int // of elements, by member
	parents  []int
	kept     []bool // by node that stands for what hangs together
}

// planeFrames is planeFramesIn under the cases of the combinations that frames by themselves are analysed under; the search keeps nothing of a
// structure, so that its storage serves again.
func (j *judge) planeFrames(m *shed.Model) (*solver.Structure, []int) {
	if j.brief {
		return planeFramesIn(m, &j.room, j.p.bench.planarCases)
	}
	return planeFramesIn(m, &planeRoom{}, j.p.bench.planarCases)
}

// planeFrames is what hangs together with the inner frames in the structure without struts, braces and floor diaphragms, with
// all nodes held along the building and against turning out of the frames' planes. index gives each member's place in it,
// or -1.
func planeFrames(m *shed.Model) (*solver.Structure, []int) {
	return planeFramesIn(m, &planeRoom{}, nil)
}

// planeFramesIn is planeFrames in storage whose plane frames of before are gone, with the selected cases alone; nil selects all.
func planeFramesIn(m *shed.Model, room *planeRoom, selected *selection) (*solver.Structure, []int) {
	st, out := &m.Structure, &room.plane
	out.Nodes = append(out.Nodes[:0], st.Nodes...)
	if out.Combinations = st.Combinations; selected != nil {
		out.Combinations = nil // which name all cases
	}
	for i := range out.Nodes {
		h := &out.Nodes[i].Held
		h[solver.UX], h[solver.RY], h[solver.RZ] = true, true, true
	}
	room.hangTogether(st)
	room.kept = slices.Grow(room.kept[:0], len(st.Nodes))[:len(st.Nodes)]
	clear(room.kept)
	for f := 1; f < len(m.Columns)-1; f++ {
		for _, list := range [2][]int{m.Columns[f][:], m.Rafters[f]} {
			for _, i := range list {
				room.kept[room.root(st.Elements[st.Members[i].Elements[0]].I)] = true
			}
		}
	}
	room.copyMembers(st, func(i int) bool {
		return inPlane(&st.Members[i]) && room.kept[room.root(st.Elements[st.Members[i].Elements[0]].I)]
	})
	out.Cases, out.Table, out.TableIndex = out.Cases[:0], st.Table, room.index
	for i := range st.Cases {
		if selected != nil && selected.place[i] < 0 {
			continue
		}
		n := len(out.Cases)
		out.Cases = slices.Grow(out.Cases, 1)[:n+1] // which may hold storage of before
		keepLoads(&out.Cases[n], &st.Cases[i], room.index, func(node int) bool {
			h := &st.Nodes[node]
			return room.kept[room.root(node)] && (h.Held[solver.UZ] || h.Spring[solver.UZ] > 0)
		})
	}
	return out, room.index
}

// copyMembers makes the members of st that keep says those of the room's structure, with their elements. index gives each member's
// place there, or -1.
func (r *planeRoom) copyMembers(st *solver.Structure, keep func(i int) bool) {
	out := &r.plane
	out.Members, out.Elements = out.Members[:0], out.Elements[:0]
	r.index, r.ids, r.elements = r.index[:0], slices.Grow(r.ids[:0], len(st.Elements)), r.elements[:0]
	for i := range st.Members {
		if !keep(i) {
			r.index = append(r.index, -1)
			continue
		}
		mem := st.Members[i]
		first := len(r.ids)
		r.index = append(r.index, len(out.Members))
		for _, e := range st.Members[i].Elements {
			el := st.Elements[e]
			el.Member = len(out.Members)
			r.ids = append(r.ids, len(out.Elements))
			out.Elements, r.elements = append(out.Elements, el), append(r.elements, e)
		}
		mem.Elements = r.ids[first:len(r.ids):len(r.ids)]
		out.Members = append(out.Members, mem)
	}
}

// keepLoads makes out a case with the loads of the members and nodes that are left, renumbered, in out's own storage.
func keepLoads(out, c *solver.Case, index []int, node func(int) bool) {
	*out = solver.Case{ID: c.ID, Kind: c.Kind, Title: c.Title, SelfWeight: c.SelfWeight, Column: c.Column, Pushes: c.Pushes, Along: c.Along,
		Nodal: out.Nodal[:0], Line: out.Line[:0], Point: slices.Grow(out.Point[:0], len(c.Point))}
	for _, n := range c.Nodal {
		if node(n.Node) {
			out.Nodal = append(out.Nodal, n)
		}
	}
	for i := range c.Point {
		if at := index[c.Point[i].Member]; at >= 0 {
			out.Point = append(out.Point, c.Point[i])
			out.Point[len(out.Point)-1].Member = at
		}
	}
	for _, l := range c.Line {
		if l.Member = index[l.Member]; l.Member >= 0 {
			out.Line = append(out.Line, l)
		}
	}
}

// inPlane says whether a member belongs to plane frames.
func inPlane(m *solver.Member) bool {
	switch m.Role {
	case solver.RoleStrut, solver.RoleWallBrace, solver.RoleRoofBrace, solver.RoleOther:
		return false
	}
	return true
}

// hangTogether gives every node a representative of the nodes that members in plane frames join it to: its root.
func (r *planeRoom) hangTogether(st *solver.Structure) {
	r.parents = r.parents[:0]
	for i := range st.Nodes {
		r.parents = append(r.parents, i)
	}
	for i := range st.Members {
		if !inPlane(&st.Members[i]) {
			continue
		}
		for _, e := range st.Members[i].Elements {
			r.parents[r.root(st.Elements[e].I)] = r.root(st.Elements[e].J)
		}
	}
}

// root is a node's representative.
func (r *planeRoom) root(node int) int {
	p := r.parents
	for p[node] != node {
		p[node] = p[p[node]]
		node = p[node]
	}
	return node
}
