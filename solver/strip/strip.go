// Package strip finds the elastic buckling stresses of thin-walled cross-sections by the semi-analytical finite strip
// method: local, distortional and global buckling of a prismatic member with simply supported ends.
//
// In: the mid-line of a cross-section as flat strips, a longitudinal stress at every node, a half-wavelength. Out: the
// lowest load factor and its shape, the signature curve over half-wavelengths, its minima and what kind of buckling
// each is. It knows no catalogue, no code and no yield.
//
// Each strip carries plate bending (cubic across, sine along) and plane stress (linear across, sine and cosine along),
// and the geometric stiffness of a longitudinal stress that varies linearly across it. Sources: Y. K. Cheung, Finite
// strip method in structural analysis, Pergamon 1976, chapters 2, 3 and 8; G. J. Hancock, Local, distortional and
// lateral buckling of I-beams, J. Struct. Div. ASCE 104 (1978).
//
// The second-order work of the longitudinal displacement is left out, as in the classical theories of columns and
// plates; it would change a factor by stress/E at most.
package strip

import (
	"fmt"
	"math"
)

// Freedoms of a node, in order: translation along X, along Y (both in the plane of the cross-section), along the
// member, and rotation about the member's axis (from X to Y).
const (
	dofX = iota
	dofY
	dofLong
	dofTurn
	dofs
)

// Node is a point of the mid-line, in metres, in the plane of the cross-section. Held stops single freedoms: X, Y,
// along the member, rotation.
type Node struct {
	X, Y float64
	Held [4]bool
}

// Strip is a flat plate between nodes I and J, T thick (m).
type Strip struct {
	I, J int
	T    float64
}

// Material is isotropic and elastic: E in Pa, Nu Poisson's ratio.
type Material struct{ E, Nu float64 }

// Steel is the material of AS/NZS 4600 buckling analyses: E 200 GPa, nu 0.3.
var Steel = Material{E: 200e9, Nu: 0.3}

// shear is the shear modulus (Pa).
func (m Material) shear() float64 { return m.E / (2 * (1 + m.Nu)) }

// Section is a cross-section ready for analysis. It is read-only after New and may be shared between goroutines.
type Section struct {
	nodes  []Node
	strips []Strip
	mat    Material
	number []int // nodes·dofs → equation, -1 where held
	shape  *profile
	// The stiffness is a0 + k·a1 + k²·a2 + k⁴·a4, k = pi/half-wavelength; the common factor a/2 is left out everywhere.
	a0, a1, a2, a4 *skyline
	folds          []int   // nodes at the middle of each corner, in order along the mid-line
	outline        Outline // the sharp-cornered mid-line it was made from; empty if it was given by nodes
}

// New prepares the section of those nodes and strips. Number the nodes along the mid-line: the work grows with the
// square of the distance between the numbers of joined nodes. It returns an error for a strip that has no length, no
// thickness, or no such node, and for a section of no strips.
func New(nodes []Node, strips []Strip, mat Material) (*Section, error) {
	s := &Section{nodes: nodes, strips: strips, mat: mat}
	if err := s.validate(); err != nil {
		return nil, err
	}
	s.numberFreedoms()
	s.a0, s.a1, s.a2, s.a4 = newSkyline(s.shape), newSkyline(s.shape), newSkyline(s.shape), newSkyline(s.shape)
	for e := range strips {
		g := s.geometry(e)
		t := stiffness(g, mat)
		for i, m := range []*skyline{s.a0, s.a1, s.a2, s.a4} {
			s.scatter(m, e, g.rotate(t[i]))
		}
	}
	return s, nil
}

// validate reports the first strip that cannot be analysed.
func (s *Section) validate() error {
	if len(s.strips) == 0 {
		return fmt.Errorf("strip: a section needs at least one strip")
	}
	if !(s.mat.E > 0) || !(s.mat.Nu >= 0 && s.mat.Nu < 0.5) {
		return fmt.Errorf("strip: material E %g Pa, nu %g is not an elastic solid; give E > 0 and 0 <= nu < 0.5", s.mat.E, s.mat.Nu)
	}
	used := make([]bool, len(s.nodes))
	for e, st := range s.strips {
		if st.I < 0 || st.J < 0 || st.I >= len(s.nodes) || st.J >= len(s.nodes) {
			return fmt.Errorf("strip: strip %d joins nodes %d and %d, but there are nodes 0 to %d", e, st.I, st.J, len(s.nodes)-1)
		}
		g := s.geometry(e)
		if !(g.b > 0) || math.IsInf(g.b, 0) || !(st.T > 0) || math.IsInf(st.T, 0) {
			return fmt.Errorf("strip: strip %d is %g m wide and %g m thick; both must be positive", e, g.b, st.T)
		}
		used[st.I], used[st.J] = true, true
	}
	for i, ok := range used {
		if !ok {
			return fmt.Errorf("strip: node %d belongs to no strip; remove it", i)
		}
	}
	return nil
}

// numberFreedoms gives every free freedom an equation and every equation its first coupled one.
func (s *Section) numberFreedoms() {
	s.number = make([]int, dofs*len(s.nodes))
	n := 0
	for i, nd := range s.nodes {
		for d := range dofs {
			held := [dofs]bool{nd.Held[0], nd.Held[1], nd.Held[2], nd.Held[3]}
			if held[d] {
				s.number[dofs*i+d] = -1
				continue
			}
			s.number[dofs*i+d] = n
			n++
		}
	}
	first := make([]int, n)
	for i := range first {
		first[i] = i
	}
	for e := range s.strips {
		eq := s.equations(e)
		for _, i := range eq {
			for _, j := range eq {
				if i >= 0 && j >= 0 && j < first[i] {
					first[i] = j
				}
			}
		}
	}
	s.shape = newProfile(first)
}

// equations lists the eight equations of strip e, -1 where held.
func (s *Section) equations(e int) [2 * dofs]int {
	var eq [2 * dofs]int
	for d := range dofs {
		eq[d] = s.number[dofs*s.strips[e].I+d]
		eq[dofs+d] = s.number[dofs*s.strips[e].J+d]
	}
	return eq
}

// scatter adds a strip's matrix to m.
func (s *Section) scatter(m *skyline, e int, k matrix8) {
	eq := s.equations(e)
	for i, p := range eq {
		for j, q := range eq {
			if p >= 0 && q >= 0 && q <= p {
				m.add(p, q, k[i][j])
			}
		}
	}
}

// stressStiffness assembles the geometric stiffness of node stresses (Pa, compression positive), divided by k².
func (s *Section) stressStiffness(stress []float64) *skyline {
	if len(stress) != len(s.nodes) {
		panic(fmt.Sprintf("strip: %d stresses for %d nodes", len(stress), len(s.nodes)))
	}
	m := newSkyline(s.shape)
	for e, st := range s.strips {
		g := s.geometry(e)
		s.scatter(m, e, g.rotate(geometric(g, stress[st.I], stress[st.J])))
	}
	return m
}
