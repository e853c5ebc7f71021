package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"leanbay/experiments/frames"
	"leanbay/solver"
)

// caseText writes one load case in trade units, with nodes and members in the order of the file.
func caseText(b *strings.Builder, s *solver.Structure, c *frames.CaseAnswer) {
	fmt.Fprintf(b, "Case %s (%s): %s\n", c.ID, strings.ReplaceAll(string(c.Analysis), "_", " "), verdict(c))
	for _, m := range c.Mechanisms {
		fmt.Fprintf(b, "  %s\n", m.Text)
		for _, v := range m.Moving {
			fmt.Fprintf(b, "    node %d  %s  %.4f\n", v.Node, v.DOF, v.Amount)
		}
	}
	if c.Factors != nil {
		fmt.Fprintf(b, "  Load factors at elastic buckling: %s\n", factorList(c.Factors))
	}
	for _, n := range c.Notes {
		fmt.Fprintf(b, "  Note: %s\n", n)
	}
	if c.Displacements != nil {
		nodeTable(b, "Displacements, mm and mrad", s, c.Displacements, solver.DOF.String, 1e3, 1e3, 4)
		nodeTable(b, "Reactions (what the support exerts), kN and kN·m", s, c.Reactions, reactionName, 1e-3, 1e-3, 3)
		endTable(b, s, c)
		diagramTables(b, s, c)
	}
	if c.Residual != nil {
		fmt.Fprintf(b, "\n  Out-of-balance %.1e of the greatest force; condition number about %.1e\n", *c.Residual, c.Condition)
	}
	b.WriteByte('\n')
}

func verdict(c *frames.CaseAnswer) string {
	switch {
	case !c.Stable:
		return "UNSTABLE"
	case c.Analysis == frames.Mechanism:
		return "it stands, no mechanism"
	}
	return "analysed"
}

func factorList(factors []float64) string {
	if len(factors) == 0 {
		return "none, nothing is compressed"
	}
	parts := make([]string, len(factors))
	for i, v := range factors {
		parts[i] = digits(v, 5)
	}
	return strings.Join(parts, ", ")
}

func reactionName(d solver.DOF) string { return [...]string{"fx", "fy", "fz", "mx", "my", "mz"}[d] }

// cell prints v with a number of places; what rounds to nothing is a plain 0.
func cell(v float64, places int) string {
	if math.Abs(v) < 0.5*math.Pow10(-places) {
		return "0"
	}
	return strconv.FormatFloat(v, 'f', places, 64)
}

func toRight(col int) bool { return col > 0 }

// nodeTable writes six values a node, translations (or forces) and rotations (or moments) scaled to trade units.
func nodeTable(b *strings.Builder, title string, s *solver.Structure, rows map[string]frames.Six, name func(solver.DOF) string, first, second float64, places int) {
	head := []string{"  node"}
	for d := range solver.DOF(6) {
		head = append(head, name(d))
	}
	table := [][]string{head}
	for i := range s.Nodes {
		id := strconv.Itoa(s.Nodes[i].ID)
		v, ok := rows[id]
		if !ok {
			continue
		}
		row := []string{"  " + id}
		for d := range v {
			scale := first
			if d >= 3 {
				scale = second
			}
			row = append(row, cell(v[d]*scale, places))
		}
		table = append(table, row)
	}
	fmt.Fprintf(b, "\n  %s\n", title)
	writeTable(b, table, toRight)
}

func endTable(b *strings.Builder, s *solver.Structure, c *frames.CaseAnswer) {
	head := []string{"  member", "end"}
	for k := range solver.Component(6) {
		head = append(head, k.String())
	}
	if c.States != nil {
		head = append(head, "state")
	}
	table := [][]string{head}
	for e := range s.Elements {
		id := s.Elements[e].ID
		ends := c.EndForces[id]
		for k, end := range [2]frames.Six{ends.I, ends.J} {
			row := []string{"  " + id, [2]string{"i", "j"}[k]}
			for _, v := range end {
				row = append(row, cell(v*1e-3, 3))
			}
			if c.States != nil {
				row = append(row, c.States[id])
			}
			table = append(table, row)
			id = ""
		}
	}
	b.WriteString("\n  End forces (what the node exerts on the member's end, member axes), kN and kN·m\n")
	writeTable(b, table, func(col int) bool { return col > 1 && col < 8 })
}

func diagramTables(b *strings.Builder, s *solver.Structure, c *frames.CaseAnswer) {
	if c.Diagrams == nil {
		return
	}
	b.WriteString("\n  Along the members (internal forces, tension positive), m, kN, kN·m, mm\n")
	table := [][]string{{"  member", "x", "N", "Vy", "Vz", "T", "My", "Mz", "uy", "uz"}}
	for m := range s.Members {
		id := s.Members[m].ID
		for _, p := range c.Diagrams[id] {
			row := []string{"  " + id, cell(p.X, 3)}
			for _, v := range []float64{p.N, p.Vy, p.Vz, p.T, p.My, p.Mz} {
				row = append(row, cell(v*1e-3, 3))
			}
			table = append(table, append(row, cell(p.Uy*1e3, 3), cell(p.Uz*1e3, 3)))
			id = ""
		}
	}
	writeTable(b, table, toRight)
}
