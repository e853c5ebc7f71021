package frame

import (
	"fmt"

	"leanbay/solver"
)

// Stiffness sums the first-order stiffness of the structure in hand, all one-way elements acting, into val: the lower
// triangle in the order of Symbolic().Pattern(); N/m, N and N·m/rad. Rotations that nothing holds have their token springs.
// It panics if nothing is loaded or val does not fit.
func (w *Workspace) Stiffness(val []float64) {
	if w.s == nil || len(val) != len(w.val) {
		panic(fmt.Sprintf("frame: Stiffness: %d values for %d entries, or nothing is loaded", len(val), len(w.val)))
	}
	w.sumElements(val)
	w.addTurns(val)
}

// LoadVectors writes the equivalent nodal loads of all cases, as first order solves them, into f: N and N·m, row-major, the
// load of case c on unknown i at f[i*len(Cases)+c]. It panics if nothing is loaded or f does not fit.
func (w *Workspace) LoadVectors(f []float64) {
	if w.s == nil || len(f) != w.m.n*len(w.s.Cases) {
		panic(fmt.Sprintf("frame: LoadVectors: %d values for %d unknowns, or nothing is loaded", len(f), w.m.n))
	}
	w.loadCases(f)
}

// Freedom returns the node index and the freedom of unknown k: unknowns are the freedoms that are not held, node by node.
func (m *Model) Freedom(k int) (node int, dof solver.DOF) {
	for i, d := range m.dof {
		if int(d) == k {
			return i / 6, solver.DOF(i % 6)
		}
	}
	panic(fmt.Sprintf("frame: Freedom: unknown %d of %d", k, m.n))
}
