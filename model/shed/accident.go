package shed

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/solver"
)

// Accident is something that happens to a design as built: for what-ifs. The zero value is nothing.
type Accident struct {
	Without    string  // the rod that hangs slack and takes no force, by its id
	PropSpring float64 // N/m, vertical stiffness of the ground under each prop; 0 is rigid
	Settled    string  // the prop whose base settles, by its id
	Settlement float64 // m, downwards, under the permanent action at its factor
}

// key names the accident; nothing for none.
func (a Accident) key() string {
	if a == (Accident{}) {
		return ""
	}
	return fmt.Sprintf("without %s, prop springs %.0f, %s settles %.4f;", a.Without, a.PropSpring, a.Settled, a.Settlement)
}

// settling is the stiffness of the stand-in spring under a base that settles (N/m): far above that of any frame, whose
// resistance shortens the settlement by its share of it.
const settling = 1e9

// applyAccident changes the bases that the design's accident names.
func (b *builder) applyAccident() {
	a := b.Design.Accident
	for _, i := range b.Props {
		mem := &b.Structure.Members[i]
		n := &b.Structure.Nodes[b.Structure.Elements[mem.Elements[0]].I]
		if !n.Held[solver.UZ] {
			continue // it stands on a beam
		}
		switch {
		case a.Settled == mem.ID && a.Settlement > 0:
			n.Held[solver.UZ], n.Spring[solver.UZ] = false, settling
		case a.PropSpring > 0:
			n.Held[solver.UZ], n.Spring[solver.UZ] = false, a.PropSpring
		}
	}
}

// settle adds the pull that makes the accident's base go down, to a case of permanent action.
func (m *Model) settle(c *solver.Case) {
	a := m.Design.Accident
	if a.Settlement == 0 {
		return
	}
	for _, i := range m.Props {
		if mem := &m.Structure.Members[i]; mem.ID == a.Settled {
			foot := m.Structure.Elements[mem.Elements[0]].I
			c.Nodal = append(c.Nodal, solver.NodalLoad{Node: foot, F: r3.Vec{Z: -settling * a.Settlement}})
		}
	}
}
