package shedspace

import (
	"fmt"
	"math"
	"slices"

	"leanbay/catalog"
	"leanbay/model/brief"
	"leanbay/model/shed"
)

// defaultFamilies are what a group is made of where neither the brief nor the drawing says.
var defaultFamilies = map[brief.Group][]catalog.Family{
	brief.GroupColumn: {catalog.RHS, catalog.SHS}, brief.GroupRafter: {catalog.RHS, catalog.SHS},
	brief.GroupEndColumn: {catalog.RHS, catalog.SHS}, brief.GroupEndRafter: {catalog.RHS, catalog.SHS},
	brief.GroupMullion: {catalog.RHS, catalog.SHS}, brief.GroupProp: {catalog.SHS}, brief.GroupPost: {catalog.SHS},
	brief.GroupBeam: {catalog.PFC}, brief.GroupEavesStrut: {catalog.SHS}, brief.GroupRidgeStrut: {catalog.SHS},
	brief.GroupNodeStrut: {catalog.SHS}, brief.GroupWallRod: {catalog.Rod}, brief.GroupRoofRod: {catalog.Rod},
	brief.GroupWallDiagonal: {catalog.SHS}, brief.GroupRoofDiagonal: {catalog.SHS},
	brief.GroupKneeBrace: {catalog.SHS}, brief.GroupPortalBeam: {catalog.RHS, catalog.SHS}, brief.GroupPortalColumn: {catalog.RHS, catalog.SHS},
}

// leastRod is the smallest rod that braces are made of: R16 (site practice: thinner ones sag and are stood on).
const leastRod = 0.016

// primary are the groups whose least thickness is that of primary members.
var primary = map[brief.Group]bool{
	brief.GroupColumn: true, brief.GroupRafter: true, brief.GroupEndColumn: true, brief.GroupEndRafter: true,
	brief.GroupProp: true, brief.GroupPost: true, brief.GroupBeam: true, brief.GroupMullion: true,
	brief.GroupPortalBeam: true, brief.GroupPortalColumn: true,
}

// stock lists what a group may be made of, by mass, then name. drawn is the proposal's section (it may be none).
func stock(b *brief.Brief, g brief.Group, drawn shed.Steel) ([]shed.Steel, error) {
	rule := b.Freedoms.Stock[g]
	if rule.Keep && drawn.Section != nil {
		return []shed.Steel{drawn}, nil
	}
	var out []shed.Steel
	for _, sec := range candidates(b, g, rule, drawn) {
		grades, err := gradesOf(sec, rule, drawn)
		if err != nil {
			return nil, err
		}
		for _, gr := range grades {
			out = append(out, shed.Steel{Section: sec, Grade: gr})
		}
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("freedoms.stock: nothing in the stock fits the limits of group %q; widen its families or thickness", g)
	}
	slices.SortStableFunc(out, func(a, b shed.Steel) int {
		switch {
		case a.Section.Props.Mass != b.Section.Props.Mass:
			return sign(a.Section.Props.Mass - b.Section.Props.Mass)
		case a.Section.Name != b.Section.Name:
			return map[bool]int{true: -1, false: 1}[a.Section.Name < b.Section.Name]
		}
		return sign(a.Grade.Fy - b.Grade.Fy)
	})
	return out, nil
}

func sign(v float64) int {
	switch {
	case v < 0:
		return -1
	case v > 0:
		return 1
	}
	return 0
}

// candidates are the sections that pass the rule: by name, or by family and size.
func candidates(b *brief.Brief, g brief.Group, rule brief.Stock, drawn shed.Steel) []*catalog.Section {
	lib := b.Library()
	var out []*catalog.Section
	if len(rule.Sections) > 0 {
		for _, n := range rule.Sections {
			if sec, err := lib.Find(n); err == nil { // names were checked when the brief was read
				out = append(out, sec)
			}
		}
		return out
	}
	least := float64(b.Freedoms.MinSecondaryThickness)
	if primary[g] {
		least = float64(b.Freedoms.MinThickness)
	}
	if rule.MinThickness > 0 {
		least = float64(rule.MinThickness)
	}
	for _, fam := range families(g, rule, drawn) {
		for _, sec := range lib.ByFamily(fam) {
			if fits(sec, least, rule) {
				out = append(out, sec)
			}
		}
	}
	return out
}

// families are the brief's, else those of the drawn section's kind, else the group's default.
func families(g brief.Group, rule brief.Stock, drawn shed.Steel) []catalog.Family {
	if len(rule.Families) > 0 {
		var out []catalog.Family
		for _, f := range rule.Families {
			out = append(out, catalog.Family(f))
		}
		return out
	}
	def := defaultFamilies[g]
	if drawn.Section == nil || slices.Contains(def, drawn.Section.Family) {
		return def
	}
	return []catalog.Family{drawn.Section.Family}
}

// fits says whether a section is within the thickness and depth limits.
func fits(sec *catalog.Section, least float64, rule brief.Stock) bool {
	d := &sec.Dims
	if sec.Family == catalog.Rod {
		return d.D >= leastRod
	}
	thin, thick := d.T, d.T
	if d.Tw > 0 {
		thin, thick = math.Min(d.Tw, d.Tf), math.Max(d.Tw, d.Tf)
	}
	const eps = 1e-9 // thicknesses come from millimetres
	return thin >= least-eps &&
		(rule.MaxThickness == 0 || thick <= float64(rule.MaxThickness)+eps) &&
		(rule.MinDepth == 0 || d.D >= float64(rule.MinDepth)-eps) &&
		(rule.MaxDepth == 0 || d.D <= float64(rule.MaxDepth)+eps)
}

// gradesOf are the rule's grades that the section has, else the drawn grade's name if it has that, else its first.
func gradesOf(sec *catalog.Section, rule brief.Stock, drawn shed.Steel) ([]catalog.Grade, error) {
	var out []catalog.Grade
	for _, n := range rule.Grades {
		if g, err := sec.Grade(n); err == nil {
			out = append(out, g)
		}
	}
	if len(rule.Grades) > 0 {
		return out, nil
	}
	if drawn.Section != nil {
		if g, err := sec.Grade(drawn.Grade.Name); err == nil {
			return []catalog.Grade{g}, nil
		}
	}
	if len(sec.Grades) == 0 {
		return nil, fmt.Errorf("section %s has no grade; give it one in its list", sec.Name)
	}
	return sec.Grades[:1], nil
}
