package brief

import (
	"fmt"
	"slices"
	"strings"

	"leanbay/model/bracing"
)

// mullions checks that each list ascends between the columns.
func (v *validator) mullions() {
	for _, g := range []struct {
		wall Wall
		at   []Length
	}{{West, v.b.Proposal.Mullions.West}, {East, v.b.Proposal.Mullions.East}} {
		path := "proposal.mullions." + string(g.wall)
		if v.good(path) {
			v.between(path, "mullion", g.at)
		}
	}
	if v.good("proposal.roof_nodes") {
		v.between("proposal.roof_nodes", "roof node", v.b.Proposal.RoofNodes)
	}
}

// between checks that the list ascends strictly between the column lines.
func (v *validator) between(path, what string, ys []Length) {
	for i, y := range ys {
		at := fmt.Sprintf("%s[%d]", path, i)
		if y <= snap || y >= v.b.Building.Span-snap {
			v.fault(at, "the %s at Y %s is not between the column lines, 0 and %s", what, metres(y), metres(v.b.Building.Span))
		}
		if i > 0 && y <= ys[i-1] {
			v.fault(at, "the %s at Y %s is not beyond the one before, %s; list them ascending", what, metres(y), metres(ys[i-1]))
		}
	}
}

// wallBracing checks that each panel exists, is braced once, and that no opening is in the way of its pattern.
func (v *validator) wallBracing() {
	for i, p := range v.b.Proposal.WallBracing {
		path := fmt.Sprintf("proposal.wall_bracing[%d]", i)
		if !v.good(path) {
			continue
		}
		if p.Pattern == ZigZag {
			v.fault(path+".pattern", "zig-zag belongs to the roof; use crossed rods or a single diagonal in a wall")
		}
		lines := v.linesOf(p.Wall)
		if p.Bay >= len(lines) {
			v.fault(path+".bay", "the %s has no bay %d; its bays are 1 to %d", wallName(p.Wall), p.Bay, len(lines)-1)
			continue
		}
		v.rises(path, p)
		if !v.shape {
			continue
		}
		from, to, ok := v.tier(path, p, lines)
		if !ok {
			continue
		}
		for j, q := range v.b.Proposal.WallBracing[:i] {
			if p.Wall == q.Wall && p.Bay == q.Bay && from < v.upper(q, lines) && q.From < to {
				v.fault(path, "bay %d of the %s is braced already%s; take one out, or give each its tier by from and to",
					p.Bay, wallName(p.Wall), v.line(fmt.Sprintf("proposal.wall_bracing[%d]", j)))
			}
		}
		panel := bracing.Rect{U0: float64(lines[p.Bay-1]), U1: float64(lines[p.Bay]), V0: float64(from), V1: float64(to)}
		v.blocked(path, p, panel)
	}
}

// linesOf returns the positions of the columns (and mullions) of a wall.
func (v *validator) linesOf(w Wall) []Length {
	switch w {
	case West:
		return slices.Concat([]Length{0}, v.b.Proposal.Mullions.West, []Length{v.b.Building.Span})
	case East:
		return slices.Concat([]Length{0}, v.b.Proposal.Mullions.East, []Length{v.b.Building.Span})
	}
	return v.b.Building.FrameLines
}

// upper returns the upper end of a panel: as stated, or the eaves (the lower end of the slope in a gable).
func (v *validator) upper(p WallPanel, lines []Length) Length {
	switch {
	case p.To > 0:
		return p.To
	case p.Wall.Long():
		return v.b.Building.EavesAt(p.Wall)
	}
	z, _ := v.b.Building.lowestRoof(Range{lines[p.Bay-1], lines[p.Bay]})
	return z
}

// tier returns the ends of the panel's height.
func (v *validator) tier(path string, p WallPanel, lines []Length) (from, to Length, ok bool) {
	top := v.upper(WallPanel{Wall: p.Wall, Bay: p.Bay}, lines)
	from, to = p.From, v.upper(p, lines)
	switch {
	case to > top+snap:
		v.fault(path+".to", "the panel ends at %s, above the wall's top there, %s; lower it", metres(to), metres(top))
	case from >= to:
		v.fault(path+".from", "the panel begins at %s, not below its end, %s; lower it", metres(from), metres(to))
	default:
		return from, to, true
	}
	return 0, 0, false
}

// rises checks the direction of a single diagonal.
func (v *validator) rises(path string, p WallPanel) {
	switch {
	case p.Rises == "":
	case p.Pattern != SingleStrut:
		v.fault(path+".rises", "rises belongs to a single diagonal, not to %s; take it out", p.Pattern)
	case p.Wall.Long() == p.Rises.Long():
		ends := "west or east"
		if !p.Wall.Long() {
			ends = "south or north"
		}
		v.fault(path+".rises", "a diagonal in the %s rises to the %s, not to the %s", wallName(p.Wall), ends, p.Rises)
	}
}

// braceLines returns the lines of a pattern that cross the panel. Knee braces and portalised bays stay at its edges.
func braceLines(p WallPanel, r bracing.Rect) []bracing.Line {
	mid := (r.U0 + r.U1) / 2
	line := func(u0, v0, u1, v1 float64) bracing.Line {
		return bracing.Line{From: bracing.Point{U: u0, V: v0}, To: bracing.Point{U: u1, V: v1}}
	}
	switch p.Pattern {
	case CrossedRods:
		return bracing.Lines(bracing.CrossedRods, r)
	case SingleStrut:
		if p.Rises == West || p.Rises == South {
			return bracing.Lines(bracing.FallingStrut, r)
		}
		return bracing.Lines(bracing.RisingStrut, r)
	case TwoTier:
		half := (r.V0 + r.V1) / 2
		lower, upper := r, r
		lower.V1, upper.V0 = half, half
		strut := line(r.U0, half, r.U1, half)
		return slices.Concat(bracing.Lines(bracing.CrossedRods, lower), bracing.Lines(bracing.CrossedRods, upper), []bracing.Line{strut})
	case VBrace:
		return []bracing.Line{line(r.U0, r.V1, mid, r.V0), line(r.U1, r.V1, mid, r.V0)}
	case InvertedV:
		return []bracing.Line{line(r.U0, r.V0, mid, r.V1), line(r.U1, r.V0, mid, r.V1)}
	}
	return nil
}

// blocked reports the openings that a panel's brace lines cross.
func (v *validator) blocked(path string, p WallPanel, panel bracing.Rect) {
	var names []string
	for i, o := range v.b.Openings {
		opening := fmt.Sprintf("openings[%d]", i)
		if o.Wall != p.Wall || !v.good(opening) {
			continue
		}
		hole := bracing.Rect{U0: float64(o.At), U1: float64(o.At + o.Width), V0: float64(o.Sill), V1: float64(o.Head)}
		crosses := func(l bracing.Line) bool { return l.Crosses(hole) }
		if slices.ContainsFunc(braceLines(p, panel), crosses) {
			names = append(names, o.Title()+v.line(opening))
		}
	}
	if len(names) > 0 {
		v.fault(path, "%s in bay %d of the %s would cross %s; brace another bay, or choose another pattern",
			p.Pattern, p.Bay, wallName(p.Wall), strings.Join(names, " and "))
	}
}

// roofPatterns are the patterns of a roof plane.
var roofPatterns = []Pattern{NoBracing, CrossedRods, SingleStrut, ZigZag}

// roofBracing checks that each bay exists and is braced once.
func (v *validator) roofBracing() {
	bays := v.b.Building.Bays()
	for i, p := range v.b.Proposal.RoofBracing {
		path := fmt.Sprintf("proposal.roof_bracing[%d]", i)
		if !v.good(path) {
			continue
		}
		if p.Bay > bays {
			v.fault(path+".bay", "the roof has no bay %d; its bays are 1 to %d", p.Bay, bays)
		}
		if !slices.Contains(roofPatterns, p.Pattern) {
			v.fault(path+".pattern", "%s is no pattern of a roof; use %s", p.Pattern, strings.Join(words(roofPatterns...), ", "))
		}
		for j, q := range v.b.Proposal.RoofBracing[:i] {
			if p.Bay == q.Bay {
				v.fault(path, "bay %d of the roof is braced already%s; take one out", p.Bay, v.line(fmt.Sprintf("proposal.roof_bracing[%d]", j)))
			}
		}
	}
}

// bases checks that a spring has its stiffness and nothing else has one.
func (v *validator) bases() {
	p := v.b.Proposal.Bases
	for _, one := range []struct {
		key string
		Base
	}{{"columns", p.Columns}, {"props", p.Props}, {"mullions", p.Mullions}, {"posts", p.Posts}} {
		path := "proposal.bases." + one.key
		switch {
		case !v.good(path):
		case one.Kind == SpringBase && one.Stiffness == 0:
			v.fault(path, "a spring base needs its stiffness, in kN·m/rad")
		case one.Kind != SpringBase && one.Stiffness > 0:
			v.fault(path+".stiffness", "a %s base has no stiffness; take it out, or make the kind spring", one.Kind)
		}
	}
}
