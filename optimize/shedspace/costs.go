package shedspace

import (
	"leanbay/catalog"
	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver"
)

// Costs are what a design's steel and its working cost, in the price list's currency: a sum of rates to compare designs by, no
// quotation. Base plates are part of Bases, and what the mass's allowance for connections stands for is part of Connections.
type Costs struct {
	Steel       float64 // frames, bracing, floors' beams and posts, fly braces: by the kg
	Secondary   float64 // purlins, girts, joists, jambs, lintels: by the kg
	Connections float64
	Cuts        float64 // two for every piece
	Bases       float64
	Total       float64
}

// Prices is the list that costs are reckoned by: the brief's own, else the embedded example, which is a scenario and marked
// doubtful.
func (p *Problem) Prices() *catalog.PriceList {
	if list := p.Brief.Prices(); list != nil {
		return list
	}
	return catalog.ExamplePrices()
}

// Cost reckons a design.
func (p *Problem) Cost(d *shed.Design) Costs {
	l := p.layoutOf(d)
	c := l.costs
	c.Secondary = p.setupOf(d).money
	for _, g := range l.groupsOf(seatsOn(d)) {
		c.Steel += p.price(&g, d.Of(g.Group))
	}
	c.Total = c.Steel + c.Secondary + c.Connections + c.Cuts + c.Bases
	return c
}

// price is what a group's steel costs if it is made of s, with its fly braces.
func (p *Problem) price(g *shed.GroupWeight, s shed.Steel) float64 {
	list := p.Prices()
	return g.Length*s.Section.Props.Mass*list.Rate(s.Section, s.Grade) + g.FlyBraceKilograms(s.Section)*list.FamilyRate(catalog.EA)
}

// secondaryCosts is what secondaries cost by the kg.
func (p *Problem) secondaryCosts(shares *shed.SecondaryShares, sec shed.SecondarySections) float64 {
	list, sum := p.Prices(), 0.0
	for _, t := range shares {
		if s := sec.Of(t.Group); s != nil {
			sum += t.Kilograms * list.Rate(s, s.Grades[0])
		}
	}
	return sum
}

// layoutCosts is what a layout costs whatever its steel is.
func (p *Problem) layoutCosts(m *shed.Model) Costs {
	list := p.Prices()
	var c Costs
	members := m.Structure.Members
	for i := range members {
		if members[i].Role == solver.RoleOther {
			continue
		}
		c.Cuts += 2 * list.Cut()
		for _, k := range connectionsOf(&members[i], len(m.Rafters[0]) == 1) {
			c.Connections += k.share * list.Connection(k.kind)
		}
	}
	c.Bases = float64(len(m.Bases)) * list.Base()
	return c
}

// priced is a connection of a kind that a price list knows, or a share of one.
type priced struct {
	kind  string
	share float64
}

// connectionsOf names the connections that a piece brings with it, feet left out: a rafter its knee and half the ridge (two
// knees on a mono-pitch), what stands on a foot its head, a pinned piece its two ends.
func connectionsOf(m *solver.Member, mono bool) []priced {
	switch m.Role {
	case solver.RoleColumn:
		return nil // its head is the rafter's knee
	case solver.RoleRafter:
		if mono {
			return []priced{{"knee", 2}}
		}
		return []priced{{"knee", 1}, {"ridge", 0.5}}
	case solver.RoleProp:
		return []priced{{"end plate", 1}}
	case solver.RoleMullion, solver.RolePost:
		return []priced{{"cleat", 1}}
	case solver.RoleWallBrace, solver.RoleRoofBrace:
		if g := brief.Group(m.Group); g == brief.GroupPortalBeam || g == brief.GroupPortalColumn {
			return []priced{{"end plate", 2}}
		}
		return []priced{{"brace", 2}}
	}
	return []priced{{"cleat", 2}}
}
