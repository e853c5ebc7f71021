package frame

import (
	"errors"
	"fmt"
	"sync"

	"leanbay/solver"
	"leanbay/solver/sparse"
)

// Model is a topology: which nodes elements join, what is held, released and one-way, and the symbolic factor of the
// stiffness. It is immutable and may be shared between workers.
type Model struct {
	nodes    []nodeTopology
	elements []elementTopology
	members  [][]int
	dof      []int32 // 6 per node: unknown, or -1 where held
	n        int     // unknowns
	pattern  *sparse.Pattern
	sym      *sparse.Symbolic
	place    [][78]int32  // per element: where its lower triangle goes in the values, -1 for held
	own      [][21]int32  // per node: where its own 6x6 lower triangle is, -1 for held
	oneWay   []int32      // elements that act one way
	at       [][]attached // per node: elements that meet there
	idle     []int        // nodes that nothing holds or joins: left out
	rods     func() *rodBorder
}

type nodeTopology struct{ held, sprung [6]bool }

type elementTopology struct {
	i, j       int32
	relI, relJ [6]bool
	sprI, sprJ [6]bool
	bar        bool
	acts       solver.Activity
}

type attached struct{ element, end int32 }

// Compile validates s and prepares its topology. The error lists what is wrong, naming nodes, elements and members.
func Compile(s *solver.Structure) (*Model, error) {
	if err := validate(s); err != nil {
		return nil, err
	}
	m := &Model{
		nodes:    make([]nodeTopology, len(s.Nodes)),
		elements: make([]elementTopology, len(s.Elements)),
		at:       make([][]attached, len(s.Nodes)),
	}
	for i := range s.Nodes {
		m.nodes[i] = topologyOfNode(&s.Nodes[i])
	}
	for i := range s.Elements {
		t := topologyOf(&s.Elements[i])
		m.elements[i] = t
		m.at[t.i] = append(m.at[t.i], attached{int32(i), 0})
		m.at[t.j] = append(m.at[t.j], attached{int32(i), 1})
		if t.acts != solver.BothWays {
			m.oneWay = append(m.oneWay, int32(i))
		}
	}
	for i := range s.Members {
		m.members = append(m.members, append([]int(nil), s.Members[i].Elements...))
	}
	m.number()
	m.analyse()
	m.rods = sync.OnceValue(m.findRodBorder)
	return m, nil
}

func topologyOfNode(n *solver.Node) (t nodeTopology) {
	t.held = n.Held
	for d, k := range n.Spring {
		t.sprung[d] = k != 0
	}
	return t
}

func topologyOf(el *solver.Element) elementTopology {
	t := elementTopology{i: int32(el.I), j: int32(el.J), relI: el.ReleaseI, relJ: el.ReleaseJ, bar: el.Bar, acts: el.Acts}
	for c := range 6 {
		t.sprI[c], t.sprJ[c] = el.SpringI[c] != 0, el.SpringJ[c] != 0
	}
	return t
}

// number gives every freedom that is not held an unknown, node by node. A node that nothing joins is left out.
func (m *Model) number() {
	m.dof = make([]int32, 6*len(m.nodes))
	for i := range m.nodes {
		alone := len(m.at[i]) == 0 && m.nodes[i].sprung == [6]bool{}
		if alone && m.nodes[i].held != [6]bool{true, true, true, true, true, true} {
			m.idle = append(m.idle, i)
		}
		for d := range 6 {
			if m.nodes[i].held[d] || alone {
				m.dof[6*i+d] = -1
				continue
			}
			m.dof[6*i+d] = int32(m.n)
			m.n++
		}
	}
}

// analyse builds the pattern, the places of element and node stiffness in it, and the symbolic factor.
func (m *Model) analyse() {
	cliques := make([][]int32, 0, len(m.elements)+len(m.nodes))
	for i := range m.elements {
		d := m.freedoms(i)
		cliques = append(cliques, d[:])
	}
	for i := range m.nodes {
		cliques = append(cliques, m.dof[6*i:6*i+6])
	}
	m.pattern = sparse.NewPatternFromCliques(m.n, cliques)
	m.place = make([][78]int32, len(m.elements))
	for e := range m.elements {
		m.placeTriangle(m.place[e][:], cliques[e])
	}
	m.own = make([][21]int32, len(m.nodes))
	for i := range m.nodes {
		m.placeTriangle(m.own[i][:], m.dof[6*i:6*i+6])
	}
	if m.n > 0 {
		m.sym = sparse.Analyze(m.pattern)
	}
}

// freedoms returns the twelve unknowns of element e, -1 where held.
func (m *Model) freedoms(e int) (d [12]int32) {
	t := &m.elements[e]
	copy(d[:6], m.dof[6*t.i:6*t.i+6])
	copy(d[6:], m.dof[6*t.j:6*t.j+6])
	return d
}

func (m *Model) placeTriangle(out []int32, dofs []int32) {
	n := 0
	for a, i := range dofs {
		for _, j := range dofs[:a+1] {
			out[n] = -1
			if i >= 0 && j >= 0 {
				out[n] = int32(m.pattern.Index(int(i), int(j)))
			}
			n++
		}
	}
}

// SameTopology tells whether s can be loaded into a workspace of m: equal nodes (what is held and sprung), elements (ends,
// releases, springs, activity) and members. Values, positions, loads, cases and combinations may differ.
func (m *Model) SameTopology(s *solver.Structure) bool {
	if len(s.Nodes) != len(m.nodes) || len(s.Elements) != len(m.elements) || len(s.Members) != len(m.members) {
		return false
	}
	for i := range s.Nodes {
		if m.nodes[i] != topologyOfNode(&s.Nodes[i]) {
			return false
		}
	}
	for i := range s.Elements {
		if m.elements[i] != topologyOf(&s.Elements[i]) {
			return false
		}
	}
	for i, want := range m.members {
		got := s.Members[i].Elements
		if len(got) != len(want) {
			return false
		}
		for k := range want {
			if got[k] != want[k] {
				return false
			}
		}
	}
	return true
}

// Unknowns returns the number of freedoms that are solved for.
func (m *Model) Unknowns() int { return m.n }

// Symbolic returns the symbolic factor of the stiffness; nil if there is no unknown.
func (m *Model) Symbolic() *sparse.Symbolic { return m.sym }

// maxComplaints limits how many faults one error lists.
const maxComplaints = 25

// validate checks what the topology needs: indices, ends, member chains.
func validate(s *solver.Structure) error {
	var errs []error
	complain := func(format string, args ...any) {
		if len(errs) < maxComplaints {
			errs = append(errs, fmt.Errorf(format, args...))
		}
	}
	if len(s.Nodes) == 0 {
		complain("the structure has no nodes")
	}
	for i := range s.Elements {
		el := &s.Elements[i]
		switch {
		case el.I < 0 || el.I >= len(s.Nodes) || el.J < 0 || el.J >= len(s.Nodes):
			complain("element %s: joins node index %d to %d of %d nodes", el.ID, el.I, el.J, len(s.Nodes))
		case el.I == el.J:
			complain("element %s: both ends are node %d; give it two different nodes", el.ID, s.Nodes[el.I].ID)
		}
		if el.Member >= len(s.Members) {
			complain("element %s: names member index %d of %d", el.ID, el.Member, len(s.Members))
		}
		if isBar(el) && (el.ReleaseI[solver.N] || el.ReleaseJ[solver.N]) {
			complain("element %s: is axial only and has N released; it would carry nothing, leave it out", el.ID)
		}
		for c := range 6 {
			if el.ReleaseI[c] && el.SpringI[c] != 0 || el.ReleaseJ[c] && el.SpringJ[c] != 0 {
				complain("element %s: %s is both released and sprung at one end; give one of them", el.ID, solver.Component(c))
			}
			if c < 3 && (el.SpringI[c] != 0 || el.SpringJ[c] != 0) {
				complain("element %s: end springs are for T, My and Mz; %s has one", el.ID, solver.Component(c))
			}
		}
	}
	for i := range s.Members {
		validateChain(s, &s.Members[i], complain)
	}
	return errors.Join(errs...)
}

func validateChain(s *solver.Structure, m *solver.Member, complain func(string, ...any)) {
	for k, e := range m.Elements {
		if e < 0 || e >= len(s.Elements) {
			complain("member %s: names element index %d of %d", m.ID, e, len(s.Elements))
			return
		}
		if k > 0 && s.Elements[e].I != s.Elements[m.Elements[k-1]].J {
			complain("member %s: element %s does not begin where element %s ends; list its elements in order from end to end",
				m.ID, s.Elements[e].ID, s.Elements[m.Elements[k-1]].ID)
		}
	}
}
