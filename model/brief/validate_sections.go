package brief

import (
	"fmt"
	"slices"
	"strings"
)

// use is a group that the drawing shows, and where.
type use struct {
	group Group
	path  string
	what  string
}

// used lists the groups that the proposal must have a section for, once each.
func (v *validator) used() []use {
	p := v.b.Proposal
	out := []use{{GroupColumn, "proposal.sections", "columns"}, {GroupRafter, "proposal.sections", "rafters"}}
	add := func(yes bool, g Group, path, what string) {
		if yes && !slices.ContainsFunc(out, func(u use) bool { return u.group == g }) {
			out = append(out, use{g, path, what})
		}
	}
	add(len(p.Props) > 0, GroupProp, "proposal.props", "props")
	add(len(p.Mullions.West)+len(p.Mullions.East) > 0, GroupMullion, "proposal.mullions", "mullions")
	add(len(v.b.Mezzanines) > 0, GroupBeam, "mezzanines", "a mezzanine")
	add(len(v.b.Mezzanines) > 0, GroupPost, "mezzanines", "a mezzanine")
	add(p.Struts.Eaves, GroupEavesStrut, "proposal.struts.eaves", "struts at the eaves")
	add(p.Struts.Ridge, GroupRidgeStrut, "proposal.struts.ridge", "a strut at the ridge")
	add(p.Struts.Nodes, GroupNodeStrut, "proposal.struts.nodes", "struts at the brace nodes")
	for i, w := range p.WallBracing {
		for _, g := range wallGroups[w.Pattern] {
			add(true, g, fmt.Sprintf("proposal.wall_bracing[%d]", i), string(w.Pattern))
		}
	}
	for i, r := range p.RoofBracing {
		for _, g := range roofGroups[r.Pattern] {
			add(true, g, fmt.Sprintf("proposal.roof_bracing[%d]", i), string(r.Pattern))
		}
	}
	return out
}

// wallGroups are the groups of members that a pattern needs in a wall.
var wallGroups = map[Pattern][]Group{
	CrossedRods: {GroupWallRod}, SingleStrut: {GroupWallDiagonal}, TwoTier: {GroupWallRod, GroupNodeStrut},
	VBrace: {GroupWallDiagonal}, InvertedV: {GroupWallDiagonal}, KneeBrace: {GroupKneeBrace},
	PortalisedBay: {GroupPortalColumn, GroupPortalBeam},
}

// roofGroups are the groups of members that a pattern needs in the roof.
var roofGroups = map[Pattern][]Group{
	CrossedRods: {GroupRoofRod}, SingleStrut: {GroupRoofDiagonal}, ZigZag: {GroupRoofDiagonal},
}

// sections checks that what is drawn has a section, and that the catalogue has every section that is named.
func (v *validator) sections() {
	for _, u := range v.used() {
		if _, ok := v.b.Proposal.Sections[u.group]; !ok && v.good("proposal.sections", u.path) {
			v.fault(u.path, "the drawing shows %s, but proposal.sections%s has no %q; give its section", u.what, v.line("proposal.sections"), u.group)
		}
	}
	for _, g := range Groups {
		path := "proposal.sections." + string(g.Name)
		if s, ok := v.b.Proposal.Sections[g.Name]; ok && v.good(path) {
			s.Section, s.Grade = v.lookup(path, s.Section, s.Grade)
			v.b.Proposal.Sections[g.Name] = s
		}
	}
}

// stock checks the lists of what each group may be made of.
func (v *validator) stock() {
	for _, g := range Groups {
		s, ok := v.b.Freedoms.Stock[g.Name]
		path := "freedoms.stock." + string(g.Name)
		if !ok || !v.good(path) {
			continue
		}
		if s.MaxThickness > 0 && s.MinThickness > s.MaxThickness {
			v.fault(path+".min_thickness", "min_thickness is above max_thickness%s; nothing is left", v.line(path+".max_thickness"))
		}
		if s.MaxDepth > 0 && s.MinDepth > s.MaxDepth {
			v.fault(path+".min_depth", "min_depth is above max_depth%s; nothing is left", v.line(path+".max_depth"))
		}
		if s.Keep && v.b.Proposal.Sections[g.Name].Section == "" {
			v.fault(path+".keep", "the proposal has no section for %q to keep; give one under proposal.sections", g.Name)
		}
		for i, name := range s.Sections {
			s.Sections[i], _ = v.lookup(fmt.Sprintf("%s.sections[%d]", path, i), name, "")
		}
	}
}

// bracingFreedom checks that the roof's patterns are not offered to walls, nor the walls' to the roof.
func (v *validator) bracingFreedom() {
	f := v.b.Freedoms.Bracing
	for _, one := range []struct {
		key      string
		patterns []Pattern
		roof     bool
	}{{"south", f.South, false}, {"north", f.North, false}, {"west", f.West, false}, {"east", f.East, false}, {"roof", f.Roof, true}} {
		for i, p := range one.patterns {
			path := fmt.Sprintf("freedoms.bracing.%s[%d]", one.key, i)
			switch {
			case !v.good(path):
			case one.roof && !slices.Contains(roofPatterns, p):
				v.fault(path, "%s is no pattern of a roof; use %s", p, strings.Join(words(roofPatterns...), ", "))
			case !one.roof && p == ZigZag:
				v.fault(path, "zig-zag belongs to the roof; take it out")
			case (one.key == "west" || one.key == "east") && (p == KneeBrace || p == PortalisedBay):
				v.fault(path, "%s is no bracing of a gable: its end frame is rigid already; take it out", p)
			}
		}
	}
}

// details checks that each kind of connection is at a place for it.
func (v *validator) details() {
	d := v.b.Proposal.Details
	for _, one := range []struct {
		key   string
		d     *Detail
		kinds string
	}{
		{"eaves", d.Eaves, "end plate"}, {"ridge", d.Ridge, "end plate"}, {"prop_cap", d.PropCap, "cap plate"},
		{"beam_end", d.BeamEnd, "cleat or end plate"}, {"joist_end", d.JoistEnd, "cleat"},
		{"mullion_top", d.MullionTop, "cleat"}, {"strut_end", d.StrutEnd, "cleat or end plate"},
		{"wall_brace_end", d.WallBraceEnd, "rod end or cleat"}, {"roof_brace_end", d.RoofBraceEnd, "rod end or cleat"},
		{"column_base", d.ColumnBase, "base plate"}, {"prop_base", d.PropBase, "base plate"},
		{"mullion_base", d.MullionBase, "base plate"}, {"post_base", d.PostBase, "base plate"},
	} {
		path := "proposal.details." + one.key
		if one.d == nil || !v.good(path) {
			continue
		}
		if !slices.Contains(strings.Split(one.kinds, " or "), one.d.Kind) {
			v.fault(path+".kind", "a %s is no connection for this place; use %s", one.d.Kind, one.kinds)
		}
		if one.d.Kind != "rod end" && one.d.Plate.Thickness == 0 {
			v.fault(path, "the %s has no plate thickness; give plate.thickness, in mm", one.d.Kind)
		}
		if b := one.d.Bolts; (b.Rows > 0) != (b.Diameter > 0) {
			v.fault(path+".bolts", "bolts need both rows and diameter")
		}
	}
}
