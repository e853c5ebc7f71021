package shedspace

import (
	"fmt"
	"math"
	"slices"

	"leanbay/catalog"
	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/optimize"
)

// strutGroups share one section unless the brief frees them: one strut for the whole shed is what is bought.
var strutGroups = []brief.Group{brief.GroupEavesStrut, brief.GroupRidgeStrut, brief.GroupNodeStrut}

// addSteel frees the sections of every group that some design of the shed uses.
func (p *Problem) addSteel() error {
	if err := p.addFrameSteel(brief.GroupColumn, brief.GroupRafter); err != nil {
		return err
	}
	if p.Brief.Freedoms.EndFramesDiffer {
		if err := p.addFrameSteel(brief.GroupEndColumn, brief.GroupEndRafter); err != nil {
			return err
		}
	}
	s := p.Shed
	hasProps := len(p.Drawn.Props) > 0 || p.Brief.Freedoms.Props.Add
	for _, set := range []struct {
		groups []brief.Group
		wanted bool
	}{
		{[]brief.Group{brief.GroupMullion}, len(s.Mullions[0])+len(s.Mullions[1]) > 0},
		{[]brief.Group{brief.GroupProp}, hasProps},
		{[]brief.Group{brief.GroupBeam}, len(s.Mezzanines) > 0},
		{[]brief.Group{brief.GroupPost}, len(s.Mezzanines) > 0},
		{strutGroups, true},
		{[]brief.Group{brief.GroupWallRod}, p.anyWall(brief.GroupWallRod)},
		{[]brief.Group{brief.GroupWallDiagonal}, p.anyWall(brief.GroupWallDiagonal)},
		{[]brief.Group{brief.GroupKneeBrace}, p.anyWall(brief.GroupKneeBrace)},
		{[]brief.Group{brief.GroupPortalBeam}, p.anyWall(brief.GroupPortalBeam)},
		{[]brief.Group{brief.GroupPortalColumn}, p.anyWall(brief.GroupPortalColumn)},
		{[]brief.Group{brief.GroupRoofRod}, slices.Contains(p.roofPatterns(), "")},
		{[]brief.Group{brief.GroupRoofDiagonal}, p.roofPatterns()[len(p.roofPatterns())-1] != ""},
	} {
		if !set.wanted {
			continue
		}
		if err := p.addStock(set.groups); err != nil {
			return err
		}
	}
	return nil
}

// anyWall says whether some option of some wall has members of a group.
func (p *Problem) anyWall(g brief.Group) bool {
	for _, options := range p.walls {
		for _, o := range options {
			for _, b := range o {
				if b.Uses(g) {
					return true
				}
			}
		}
	}
	return false
}

// addStock adds one gene that chooses a section for groups that share it.
func (p *Problem) addStock(groups []brief.Group) error {
	list, err := p.stockOf(groups[0])
	if err != nil {
		return err
	}
	name := string(groups[0])
	if len(groups) > 1 {
		name = "strut"
	}
	steel := map[brief.Group][]shed.Steel{}
	for _, g := range groups {
		steel[g] = list
	}
	p.add(gene{
		groups: groups, steel: steel,
		Gene: optimize.Gene{Name: name, Options: names(list, shed.Steel.String), Family: familiesOf(list), Values: valuesOf(list), Kin: p.kin(), Ordered: true},
		apply: func(d *shed.Design, i int) {
			for _, g := range groups {
				d.Steel[g] = list[i]
			}
		},
		has: func(d *shed.Design, i int) bool { return same(d.Of(groups[0]), list[i]) },
		first: func(d *shed.Design) int {
			has := d.Of(groups[0])
			return slices.IndexFunc(list, func(s shed.Steel) bool { return same(has, s) })
		},
		near: func(d *shed.Design) int { return nextHeavier(list, d.Of(groups[0])) },
		idle: func(d *shed.Design) bool { return !p.usesAny(d, groups) },
	})
	return nil
}

// nextHeavier is the place of the first section of a list, ordered by mass, that is no lighter than another; else the last.
func nextHeavier(list []shed.Steel, s shed.Steel) int {
	if s.Section == nil {
		return 0
	}
	i := slices.IndexFunc(list, func(x shed.Steel) bool { return x.Section.Props.Mass >= s.Section.Props.Mass })
	if i < 0 {
		return len(list) - 1
	}
	return i
}

// stockOf lists what a group may be made of. Where departures count, what was drawn is among it even if the brief's limits on
// stock leave it out: keeping it must be possible.
func (p *Problem) stockOf(g brief.Group) ([]shed.Steel, error) {
	drawn := p.Drawn.Of(g)
	list, err := stock(p.Brief, g, drawn)
	if err != nil || drawn.Section == nil || !p.wants(brief.ObjDepartures) || slices.ContainsFunc(list, func(s shed.Steel) bool { return same(s, drawn) }) {
		return list, err
	}
	list = append(list, drawn)
	slices.SortStableFunc(list, func(a, b shed.Steel) int { return sign(a.Section.Props.Mass - b.Section.Props.Mass) })
	return list, nil
}

// usesAny says whether the design has members of one of the groups.
func (p *Problem) usesAny(d *shed.Design, groups []brief.Group) bool {
	for _, g := range p.Shed.UsedGroups(d) {
		if slices.Contains(groups, g) {
			return true
		}
	}
	return false
}

// familiesOf numbers the families of a list of sections.
func familiesOf(list []shed.Steel) []int {
	all := catalog.Families()
	out := make([]int, len(list))
	for i, s := range list {
		out[i] = slices.Index(all, s.Section.Family)
	}
	return out
}

// wall is a wall thickness in a grade.
type wall struct {
	t     float64
	grade string
}

// addFrameSteel frees column and rafter. Hollow ones of one outer size have a gene for the size and one for each wall
// thickness; a size that is not rolled in the thickness asked for takes the next thicker, or else its thickest.
func (p *Problem) addFrameSteel(column, rafter brief.Group) error {
	cs, err := p.stockOf(column)
	if err != nil {
		return err
	}
	rs, err := p.stockOf(rafter)
	if err != nil {
		return err
	}
	sizes := commonSizes(cs, rs)
	if !p.Brief.Freedoms.OneOuterSize || !allHollow(cs) || !allHollow(rs) || len(sizes) == 0 {
		if err := p.addStock([]brief.Group{column}); err != nil {
			return err
		}
		return p.addStock([]brief.Group{rafter})
	}
	prefix := ""
	if column == brief.GroupEndColumn {
		prefix = "end "
	}
	both, steel := []brief.Group{column, rafter}, map[brief.Group][]shed.Steel{column: ofSizes(cs, sizes), rafter: ofSizes(rs, sizes)}
	p.add(gene{
		groups: both, steel: steel,
		Gene:  optimize.Gene{Name: prefix + "frame size", Options: names(sizes, size.String), Values: worths(sizes), Ordered: true},
		apply: func(d *shed.Design, i int) { d.Steel[column] = shed.Steel{Section: firstOf(cs, sizes[i])} },
		has: func(d *shed.Design, i int) bool {
			c := d.Of(column).Section
			return allHollow([]shed.Steel{{Section: c}}) && outer(c) == sizes[i]
		},
		narrows: func(i int, s shed.Steel) bool { return outer(s.Section) == sizes[i] },
		idle:    never,
	})
	for _, set := range []struct {
		group brief.Group
		list  []shed.Steel
	}{{rafter, rs}, {column, cs}} { // the rafter first: the column's entry holds the size until then
		walls := wallsOf(set.list)
		group, list := set.group, set.list
		p.add(gene{
			groups: []brief.Group{group}, steel: steel,
			Gene: optimize.Gene{Name: string(group) + " wall", Options: names(walls, wall.String), Ordered: true},
			apply: func(d *shed.Design, i int) {
				d.Steel[group] = ofSize(list, outer(d.Steel[column].Section), walls[i])
			},
			has: func(d *shed.Design, i int) bool {
				c := d.Of(group)
				return walls[i] == wall{c.Section.Dims.T, c.Grade.Name}
			},
			idle: never,
		})
	}
	return nil
}

// same says whether two choices are one section in one grade.
func same(a, b shed.Steel) bool {
	return a.Section == b.Section && a.Grade.Name == b.Grade.Name
}

// size is an outer size of a hollow section (m).
type size struct{ d, b float64 }

func (s size) String() string { return fmt.Sprintf("%.0fx%.0f", s.d*1e3, s.b*1e3) }

// worths are what the stiffness of frames goes with, of each size.
func worths(sizes []size) []float64 {
	out := make([]float64, len(sizes))
	for i, s := range sizes {
		out[i] = s.d * s.d * s.b
	}
	return out
}

// ofSizes keeps the sections of some outer sizes.
func ofSizes(list []shed.Steel, sizes []size) []shed.Steel {
	return slices.DeleteFunc(slices.Clone(list), func(s shed.Steel) bool { return !slices.Contains(sizes, outer(s.Section)) })
}

// kin marks the genes of sections that gain by taking the same one: where distinct sections count.
func (p *Problem) kin() string {
	if p.wants(brief.ObjSections) {
		return "section"
	}
	return ""
}

func (w wall) String() string { return fmt.Sprintf("%.1f mm %s", w.t*1e3, w.grade) }

func outer(s *catalog.Section) size {
	if s.Family == catalog.CHS {
		return size{s.Dims.D, s.Dims.D}
	}
	return size{s.Dims.D, s.Dims.B}
}

func allHollow(list []shed.Steel) bool {
	return !slices.ContainsFunc(list, func(s shed.Steel) bool {
		f := s.Section.Family
		return f != catalog.RHS && f != catalog.SHS
	})
}

// commonSizes are the outer sizes that both lists have, by the least mass in the first.
func commonSizes(a, b []shed.Steel) []size {
	var out []size
	for _, s := range a {
		o := outer(s.Section)
		both := slices.ContainsFunc(b, func(t shed.Steel) bool { return outer(t.Section) == o })
		if both && !slices.Contains(out, o) {
			out = append(out, o)
		}
	}
	slices.SortFunc(out, func(a, b size) int {
		if a.d*a.d*a.b != b.d*b.d*b.b { // stiffness grows about so
			return sign(a.d*a.d*a.b - b.d*b.d*b.b)
		}
		return sign(a.d - b.d)
	})
	return out
}

// firstOf is the lightest section of a size.
func firstOf(list []shed.Steel, o size) *catalog.Section {
	i := slices.IndexFunc(list, func(s shed.Steel) bool { return outer(s.Section) == o })
	return list[i].Section
}

// wallsOf are the thicknesses and grades of a list, thinnest first.
func wallsOf(list []shed.Steel) []wall {
	var out []wall
	for _, s := range list {
		w := wall{s.Section.Dims.T, s.Grade.Name}
		if !slices.Contains(out, w) {
			out = append(out, w)
		}
	}
	slices.SortStableFunc(out, func(a, b wall) int { return sign(a.t - b.t) })
	return out
}

// ofSize is the section of a size whose wall is nearest to w from above, or the thickest that there is; of equal walls,
// that of w's grade.
func ofSize(list []shed.Steel, o size, w wall) shed.Steel {
	best, bestCost := -1, math.Inf(1)
	for i, s := range list {
		if outer(s.Section) != o {
			continue
		}
		cost := s.Section.Dims.T - w.t
		if cost < 0 {
			cost = 1 - cost // thinner than asked: only if nothing thicker is rolled, and then the thickest
		}
		if s.Grade.Name != w.grade {
			cost += 1e-6
		}
		if cost < bestCost {
			best, bestCost = i, cost
		}
	}
	return list[best]
}
