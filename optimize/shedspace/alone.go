package shedspace

import (
	"leanbay/model/shed"
	"leanbay/solver"
	"leanbay/solver/frame"
)

// innerFramesAlone analyses all frames as plane frames, each by itself, and checks the inner ones: in the whole shed stiff
// ends may carry part of their sway through the roof rods, and the default does not rely on that. What runs along the
// building is left out, and no node moves along it.
func (j *judge) innerFramesAlone(m *shed.Model, a *Assessment) error {
	plane, index := planeFrames(m)
	if err := j.alone.load(plane, j.quick); err != nil {
		return err
	}
	if err := j.analyse(&j.alone, m.Structure.Combinations, j.p.bench.planar, frame.SecondOrder, a); err != nil {
		return err
	}
	if a.Mechanism != "" || len(a.Trouble) > 0 {
		return nil
	}
	for f := 1; f < len(m.Columns)-1; f++ {
		for _, i := range m.Columns[f] {
			j.checkMember(&m.Structure, i, index[i], true, a)
		}
		for _, i := range m.Rafters[f] {
			j.checkMember(&m.Structure, i, index[i], true, a)
		}
	}
	if j.joints != nil {
		j.gather(plane, innerOnly(m, index))
	}
	return nil
}

// planeFrames is the structure without struts, braces and floor diaphragms, with all nodes held along the building and
// against turning out of the frames' planes. index gives each member's place in it, or -1.
func planeFrames(m *shed.Model) (*solver.Structure, []int) {
	st := &m.Structure
	out := &solver.Structure{Nodes: make([]solver.Node, len(st.Nodes)), Combinations: st.Combinations}
	copy(out.Nodes, st.Nodes)
	for i := range out.Nodes {
		h := &out.Nodes[i].Held
		h[solver.UX], h[solver.RY], h[solver.RZ] = true, true, true
	}
	index := make([]int, len(st.Members))
	for i := range st.Members {
		index[i] = -1
		switch st.Members[i].Role {
		case solver.RoleStrut, solver.RoleWallBrace, solver.RoleRoofBrace, solver.RoleOther:
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
	for i := range st.Cases {
		out.Cases = append(out.Cases, keepLoads(&st.Cases[i], index))
	}
	return out, index
}

// keepLoads is a case with the loads of the members that are left, renumbered.
func keepLoads(c *solver.Case, index []int) solver.Case {
	out := solver.Case{ID: c.ID, Kind: c.Kind, Title: c.Title, SelfWeight: c.SelfWeight, Nodal: c.Nodal}
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
