package frames

import (
	"fmt"
	"math"

	"leanbay/solver"
	"leanbay/solver/frame"
)

// buckle adds the load factors of elastic buckling about the state r.
func (a *analyst) buckle(c *CaseAnswer, r *frame.Result) error {
	a.w.RodsAsFound = true // the form asks for rods in the state found
	modes, err := a.w.Buckling(r, a.opts.Modes)
	if err != nil {
		return err
	}
	c.Factors = []float64{}
	for i := range modes {
		c.Factors = append(c.Factors, modes[i].Factor)
		c.Notes = append(c.Notes, fmt.Sprintf("mode %d, factor %.5g: %s", i+1, modes[i].Factor, a.modeText(&modes[i])))
	}
	return nil
}

// modeText says what buckles: the freedom that moves most, or the members between nodes that stand still.
func (a *analyst) modeText(m *frame.BucklingMode) string {
	s := a.file.Structure
	if len(m.Local) > 0 {
		text := "buckles between nodes that stand still: member"
		for i, e := range m.Local {
			if i == 8 {
				return fmt.Sprintf("%s and %d more", text, len(m.Local)-i)
			}
			text += " " + s.Elements[e].ID
		}
		return text
	}
	most, at := 0.0, 0
	for k, v := range m.Shape {
		if k%6 < 3 && math.Abs(v) > most*(1+1e-9) {
			most, at = math.Abs(v), k
		}
	}
	if most == 0 {
		for k, v := range m.Shape {
			if math.Abs(v) > most*(1+1e-9) {
				most, at = math.Abs(v), k
			}
		}
		return fmt.Sprintf("joints turn, most at node %d (%s)", s.Nodes[at/6].ID, solver.DOF(at%6))
	}
	return fmt.Sprintf("node %d moves most, along %s", s.Nodes[at/6].ID, solver.DOF(at % 6).String()[1:])
}
