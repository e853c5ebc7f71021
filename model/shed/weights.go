package shed

import (
	"math"
	"slices"

	"leanbay/catalog"
	"leanbay/model/brief"
	"leanbay/solver"
)

// Weights is what weighs in a layout whatever its frames and braces are made of: the lengths of its groups, in the order in
// which the groups first occur among the members. Designs of one layout (AppendLayout) have equal Weights, to the bit.
type Weights []GroupWeight

// GroupWeight is one group's share of a layout.
type GroupWeight struct {
	Group     brief.Group
	Length    float64 // m, of all its members
	Longest   float64 // m, of one piece
	Feet      int     // members that stand on a base plate
	FlyBraces int     // where the group is of open sections
	// Between are the beams that stand off columns: neither Length nor Longest has them, since they are as long as the columns
	// leave. Seated adds them.
	Between []Between
}

// Between is a beam from axis to axis of what it stands off.
type Between struct {
	Span  float64 // m
	Seats [2]Seat
}

// Seat is what a beam's end stands off: a column, along its web or across it. The zero value is nothing.
type Seat struct {
	Column brief.Group
	Along  bool
}

// Seated is the group's share where its beams stand off columns as far as offset says (m; FaceOffset).
func (g *GroupWeight) Seated(offset func(Seat) float64) GroupWeight {
	out := *g
	out.Between = nil
	for _, b := range g.Between {
		length := b.Span
		for _, s := range b.Seats {
			if s.Column != "" {
				length -= offset(s)
			}
		}
		out.Length, out.Longest = out.Length+length, math.Max(out.Longest, length)
	}
	return out
}

// Weights measures the model.
func (m *Model) Weights() Weights {
	var out Weights
	find := func(name string) *GroupWeight {
		for i := range out {
			if string(out[i].Group) == name {
				return &out[i]
			}
		}
		out = append(out, GroupWeight{Group: brief.Group(name)})
		return &out[len(out)-1]
	}
	for i := range m.Structure.Members {
		mem := &m.Structure.Members[i]
		if mem.Role == solver.RoleOther {
			continue
		}
		g := find(mem.Group)
		if m.flyPlaces != nil {
			g.FlyBraces += m.flyPlaces[i]
		}
		if k := slices.IndexFunc(m.Beams, func(b beamLine) bool { return b.member == i && b.seats != [2]Seat{} }); k >= 0 {
			g.Between = append(g.Between, Between{m.span(i), m.Beams[k].seats})
			continue
		}
		g.Length += mem.Length
		g.Longest = math.Max(g.Longest, mem.Length)
	}
	for _, f := range m.Bases {
		if mem := &m.Structure.Members[f.Member]; mem.Role != solver.RoleOther {
			find(mem.Group).Feet++
		}
	}
	return out
}

// span is a member's length between its nodes.
func (m *Model) span(member int) float64 {
	sum := 0.0
	for _, e := range m.Structure.Members[member].Elements {
		sum += m.length(e)
	}
	return sum
}

// Kilograms is the group's share of the total mass if it is made of s: members with the allowance for connections, base
// plates and fly braces. Over all groups, with SecondaryShares, it adds up to Mass.Total but for round-off.
func (g *GroupWeight) Kilograms(s *catalog.Section) float64 {
	return g.Length*s.Props.Mass*(1+connectionAllowance) + float64(g.Feet)*basePlate(s) + g.FlyBraceKilograms(s)
}

// FlyBraceKilograms is the mass of the group's fly braces if it is made of s.
func (g *GroupWeight) FlyBraceKilograms(s *catalog.Section) float64 {
	if hollow(s) {
		return 0
	}
	return float64(g.FlyBraces) * flyAngle * math.Sqrt2 * s.Dims.D
}
