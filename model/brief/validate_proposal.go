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
		if !p.Wall.Long() && (p.Pattern == KneeBrace || p.Pattern == PortalisedBay) {
			v.fault(path+".pattern", "%s is no bracing of a gable: its end frame is rigid already; use crossed rods, a single diagonal, two-tier, V or inverted V", p.Pattern)
			continue
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
		v.blocked(path, p, braceLines(p, v.panel(p, lines), float64(from), float64(v.above(p, to, lines))))
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

// patternParts are the patterns that a word of a drawing stands for, where they have lines across the panel. Knee braces and
// portalised bays stay at its edges.
var patternParts = map[Pattern]bracing.Pattern{
	CrossedRods: bracing.CrossedRods, SingleStrut: bracing.RisingStrut, TwoTier: bracing.TwoTierRods, VBrace: bracing.VStruts, InvertedV: bracing.InvertedV,
}

// braceLines returns the lines of a pattern that cross the panel, from from to to above the floor; to is 0 at the panel's top.
func braceLines(p WallPanel, panel bracing.Panel, from, to float64) []bracing.Line {
	pattern, ok := patternParts[p.Pattern]
	if !ok {
		return nil
	}
	if p.Pattern == SingleStrut && (p.Rises == West || p.Rises == South) {
		pattern = bracing.FallingStrut
	}
	at := bracing.Place{From: from, To: to}
	if p.Pattern == TwoTier {
		top := to
		if top == 0 {
			top = min(panel.V1, panel.V1+panel.Rise[1])
		}
		at.Mid = (from + top) / 2
	}
	var out []bracing.Line
	for _, part := range bracing.Parts(pattern, panel, at) {
		if part.Kind == bracing.Diagonal || p.Pattern == TwoTier {
			out = append(out, part.Line)
		}
	}
	return out
}

// panel is the bay of a wall, or the stretch of a gable, that a panel is drawn in.
func (v *validator) panel(p WallPanel, lines []Length) bracing.Panel {
	u0, u1 := lines[p.Bay-1], lines[p.Bay]
	out := bracing.Panel{Rect: bracing.Rect{U0: float64(u0), U1: float64(u1)}, Bay: p.Bay, Gable: !p.Wall.Long()}
	if !out.Gable {
		out.V1 = float64(v.b.Building.EavesAt(p.Wall))
		return out
	}
	roof := func(y Length) float64 { z, _ := v.b.Building.lowestRoof(Range{y, y}); return float64(z) }
	out.V1 = roof(u0)
	out.Rise = [2]float64{roof((u0+u1)/2) - out.V1, roof(u1) - out.V1}
	return out
}

// above is the upper end of a panel where it stops below the wall's top, else 0.
func (v *validator) above(p WallPanel, to Length, lines []Length) Length {
	if top := v.upper(WallPanel{Wall: p.Wall, Bay: p.Bay}, lines); to > top-snap {
		return 0
	}
	return to
}

// blocked reports the openings that a panel's brace lines cross.
func (v *validator) blocked(path string, p WallPanel, lines []bracing.Line) {
	var names []string
	for i, o := range v.b.Openings {
		opening := fmt.Sprintf("openings[%d]", i)
		if o.Wall != p.Wall || !v.good(opening) {
			continue
		}
		hole := bracing.Rect{U0: float64(o.At), U1: float64(o.At + o.Width), V0: float64(o.Sill), V1: float64(o.Head)}
		crosses := func(l bracing.Line) bool { return l.Crosses(hole) }
		if slices.ContainsFunc(lines, crosses) {
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
