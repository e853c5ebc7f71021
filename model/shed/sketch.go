package shed

import "leanbay/solver"

// sketchbook is what sketches are drawn in, one after the other.
type sketchbook struct {
	nodes    []solver.Node
	elements []solver.Element
	members  []solver.Member
	lists    []int
}

// Sketch shows read what a search asks of layouts that it does not judge: the members of d with their groups, roles and lengths,
// which columns and props meet which rafters, feet and weights; findings without words. Nothing has a name, a section or a
// restraint, and nothing of it may be kept: its storage is the next sketch's. What stands in it is to the bit what Build has, but for beams
// that stand off columns (see Weights).
func (s *Shed) Sketch(d *Design, read func(m *Model)) {
	book, ok := s.known.sketches.Get().(*sketchbook)
	if !ok {
		book = &sketchbook{lists: make([]int, 4*manyElements)}
	}
	b := &builder{Model: &Model{Shed: s, Design: d}, nameless: d.Accident == (Accident{}), elements: book.lists}
	st := &b.Structure
	st.Nodes, st.Elements, st.Members = book.nodes[:0], book.elements[:0], book.members[:0]
	b.layMembers()
	b.listMeetings()
	held := b.anchored()
	if d.FlyBraces > 0 {
		b.purlinRestraints(held)
	}
	b.read(held)
	read(b.Model)
	book.nodes, book.elements, book.members = st.Nodes, st.Elements, st.Members
	s.known.sketches.Put(book)
}
