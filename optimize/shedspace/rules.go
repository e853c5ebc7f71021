package shedspace

import (
	"fmt"
	"slices"

	"leanbay/catalog"
	"leanbay/model/joints"
	"leanbay/model/shed"
)

// rules judges what makes a design awkward to buy or build: distinct sections, long pieces, heavy pieces, and members that
// do not fit where they meet. It appends to out; texts are written only if fit writes them.
func (p *Problem) rules(m *shed.Model, fit *joints.Fitter, out []RuleResult) []RuleResult {
	f := &p.Brief.Freedoms
	var room [16]string
	sections := room[:0]
	longest, heaviest := -1, -1
	members := m.Structure.Members
	for i := range members {
		mem := &members[i]
		if mem.Section == nil {
			continue
		}
		if mem.Section.Family != catalog.Rod {
			if !slices.Contains(sections, mem.Section.Name) {
				sections = append(sections, mem.Section.Name)
			}
			if longest < 0 || mem.Length > members[longest].Length {
				longest = i
			}
			if heaviest < 0 || kilograms(m, i) > kilograms(m, heaviest) {
				heaviest = i
			}
		}
	}
	first := len(out)
	out = append(out, RuleResult{Rule: ruleSections, Utilisation: float64(len(sections)) / float64(f.DistinctSections)})
	if longest >= 0 {
		out = append(out, RuleResult{Rule: "piece length", Utilisation: members[longest].Length / float64(f.PieceLength)},
			RuleResult{Rule: "piece mass", Utilisation: kilograms(m, heaviest) / float64(f.PieceMass)})
	}
	if fit.Words {
		out[first].Text = fmt.Sprintf("%d distinct hollow and hot-rolled sections, at most %d", len(sections), f.DistinctSections)
		if longest >= 0 {
			out[first+1].Text = fmt.Sprintf("%s is %.2f m long, at most %.1f m", members[longest].ID, members[longest].Length, float64(f.PieceLength))
			out[first+2].Text = fmt.Sprintf("%s weighs %.0f kg, at most %.0f kg", members[heaviest].ID, kilograms(m, heaviest), float64(f.PieceMass))
		}
	}
	for _, f := range fit.Fits(m, &p.Brief.Proposal.Details) {
		out = append(out, RuleResult{f.Rule, f.Text, f.Ratio})
	}
	return out
}

// ruleSections is the rule on the number of sections, which can be an objective instead.
const ruleSections = "distinct sections"

func kilograms(m *shed.Model, i int) float64 {
	mem := &m.Structure.Members[i]
	return mem.Length * mem.Section.Props.Mass
}
