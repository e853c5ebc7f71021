package shed

import (
	"math"
	"strings"

	"leanbay/catalog"
	"leanbay/model/brief"
)

// Weights is what weighs in a layout whatever its frames and braces are made of: the lengths of its groups, in the order in
// which the groups first occur among the members. Designs that differ in those sections alone have equal Weights.
type Weights struct {
	Groups []GroupWeight
	Fixed  float64 // kg of secondaries and of the framing of openings
}

// GroupWeight is one group's share of a layout.
type GroupWeight struct {
	Group     brief.Group
	Length    float64 // m, of all its members
	Longest   float64 // m, of one piece
	Feet      int     // members that stand on a base plate
	FlyBraces int
}

// Weights measures the model, with the secondaries that Mass takes.
func (m *Model) Weights(sec SecondarySections) Weights {
	var out Weights
	find := func(name string) *GroupWeight {
		for i := range out.Groups {
			if string(out.Groups[i].Group) == name {
				return &out.Groups[i]
			}
		}
		out.Groups = append(out.Groups, GroupWeight{Group: brief.Group(name)})
		return &out.Groups[len(out.Groups)-1]
	}
	for i := range m.Structure.Members {
		mem := &m.Structure.Members[i]
		if mem.Section == nil {
			continue
		}
		g := find(mem.Group)
		g.Length += mem.Length
		g.Longest = math.Max(g.Longest, mem.Length)
		for _, r := range mem.Restraints {
			if strings.HasSuffix(r.Source, flyBraceMark) {
				g.FlyBraces++
			}
		}
	}
	for _, f := range m.Bases {
		if mem := &m.Structure.Members[f.Member]; mem.Section != nil {
			find(mem.Group).Feet++
		}
	}
	mass := m.Mass(sec)
	out.Fixed = mass.Secondary + mass.Openings
	return out
}

// Kilograms is the group's share of the total mass if it is made of s: members with the allowance for connections, base
// plates and fly braces. Over all groups, with Fixed, it adds up to Mass.Total but for round-off.
func (g *GroupWeight) Kilograms(s *catalog.Section) float64 {
	return g.Length*s.Props.Mass*(1+connectionAllowance) + float64(g.Feet)*basePlate(s) + g.FlyBraceKilograms(s)
}

// FlyBraceKilograms is the mass of the group's fly braces if it is made of s.
func (g *GroupWeight) FlyBraceKilograms(s *catalog.Section) float64 {
	return float64(g.FlyBraces) * flyAngle * math.Sqrt2 * s.Dims.D
}
