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
	var room []solver.Case
	if j.brief { // the search keeps nothing of a structure
		room = j.room
	}
	plane, index := planeFramesIn(m, room)
	j.room = plane.Cases
	if err := j.alone.load(plane, j.quick); err != nil {
		return err
	}
	if err := j.analyse(&j.alone, m.Structure.Combinations, j.p.bench.planar, frame.SecondOrder, a); err != nil {
		return err
	}
	if a.Mechanism != "" || len(a.Trouble) > 0 {
		return nil
	}
	var list []memberPlace
	for f := 1; f < len(m.Columns)-1; f++ {
		for _, i := range append(m.Columns[f][:], m.Rafters[f]...) {
			list = append(list, memberPlace{i, index[i]})
		}
	}
	j.checkMembers(&m.Structure, list, true, a)
	j.checkSeats(m, plane, innerOnly(m, index), a)
	if j.joints != nil {
		j.gather(plane, innerOnly(m, index))
	}
	return nil
}

// planeFrames is what hangs together with the inner frames in the structure without struts, braces and floor diaphragms, with
// all nodes held along the building and against turning out of the frames' planes. index gives each member's place in it,
// or -1.
func planeFrames(m *shed.Model) (*solver.Structure, []int) { return planeFramesIn(m, nil) }

// planeFramesIn is planeFrames with the storage of the cases in room used again.
func planeFramesIn(m *shed.Model, room []solver.Case) (*solver.Structure, []int) {
	st := &m.Structure
	out := &solver.Structure{Nodes: make([]solver.Node, len(st.Nodes)), Combinations: st.Combinations}
	copy(out.Nodes, st.Nodes)
	for i := range out.Nodes {
		h := &out.Nodes[i].Held
		h[solver.UX], h[solver.RY], h[solver.RZ] = true, true, true
	}
	root := hangTogether(st)
	kept := map[int]bool{}
	for f := 1; f < len(m.Columns)-1; f++ {
		for _, i := range append(m.Columns[f][:], m.Rafters[f]...) {
			kept[root(st.Elements[st.Members[i].Elements[0]].I)] = true
		}
	}
	index := copyMembers(out, st, func(i int) bool {
		return inPlane(&st.Members[i]) && kept[root(st.Elements[st.Members[i].Elements[0]].I)]
	})
	for i := range st.Cases {
		var points []solver.PointLoad
		if i < len(room) {
			points = room[i].Point[:0]
		}
		out.Cases = append(out.Cases, keepLoads(&st.Cases[i], points, index, func(node int) bool {
			h := &st.Nodes[node]
			return kept[root(node)] && (h.Held[solver.UZ] || h.Spring[solver.UZ] > 0)
		}))
	}
	return out, index
}

// copyMembers adds the members of st that keep says to out, with their elements. index gives each member's place in out, or -1.
func copyMembers(out, st *solver.Structure, keep func(i int) bool) (index []int) {
	index = make([]int, len(st.Members))
	for i := range st.Members {
		index[i] = -1
		if !keep(i) {
			continue
		}
		mem := st.Members[i]
		mem.Elements = nil
		index[i] = len(out.Members)
		for _, e := range st.Members[i].Elements {
			el := st.Elements[e]
			el.Member = len(out.Members)
			mem.Elements = append(mem.Elements, len(out.Elements))
			out.Elements = append(out.Elements, el)
		}
		out.Members = append(out.Members, mem)
	}
	return index
}

// keepLoads is a case with the loads of the members and nodes that are left, renumbered; points is storage.
func keepLoads(c *solver.Case, points []solver.PointLoad, index []int, node func(int) bool) solver.Case {
	out := solver.Case{ID: c.ID, Kind: c.Kind, Title: c.Title, SelfWeight: c.SelfWeight}
	for _, n := range c.Nodal {
		if node(n.Node) {
			out.Nodal = append(out.Nodal, n)
		}
	}
	out.Point = slices.Grow(points, len(c.Point))
	for _, p := range c.Point {
		if p.Member = index[p.Member]; p.Member >= 0 {
			out.Point = append(out.Point, p)
		}
	}
	for _, l := range c.Line {
		if l.Member = index[l.Member]; l.Member >= 0 {
			out.Line = append(out.Line, l)
		}
	}
	return out
}

// inPlane says whether a member belongs to plane frames.
func inPlane(m *solver.Member) bool {
	switch m.Role {
	case solver.RoleStrut, solver.RoleWallBrace, solver.RoleRoofBrace, solver.RoleOther:
		return false
	}
	return true
}

// hangTogether gives every node a representative of the nodes that members in plane frames join it to.
func hangTogether(st *solver.Structure) func(node int) int {
	parent := make([]int, len(st.Nodes))
	for i := range parent {
		parent[i] = i
	}
	root := func(n int) int {
		for parent[n] != n {
			parent[n] = parent[parent[n]]
			n = parent[n]
		}
		return n
	}
	for i := range st.Members {
		if !inPlane(&st.Members[i]) {
			continue
		}
		for _, e := range st.Members[i].Elements {
			parent[root(st.Elements[e].I)] = root(st.Elements[e].J)
		}
	}
	return root
}
