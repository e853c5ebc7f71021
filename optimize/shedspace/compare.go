package shedspace

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"leanbay/model/bracing"
	"leanbay/model/brief"
	"leanbay/model/shed"
)

// Family is one way to brace the long walls, in the trade's words.
type Family struct {
	Name string
	has  func(b shed.Brace) bool
}

// Families lists the ways to brace the walls that are compared, by habit.
var Families = []Family{
	{"crossed rods, whole panels", func(b shed.Brace) bool { return b.Pattern == bracing.CrossedRods && !b.Bends(b.Pattern) }},
	{"single diagonals, whole panels", func(b shed.Brace) bool { return isSingle(b.Pattern) && !b.Bends(b.Pattern) }},
	{"two tiers of crossed rods", func(b shed.Brace) bool { return b.Pattern == bracing.TwoTierRods }},
	{"two-tier diagonals", func(b shed.Brace) bool {
		return b.Pattern == bracing.TwoTierWest || b.Pattern == bracing.TwoTierEast
	}},
	{"V and inverted V, whole panels", func(b shed.Brace) bool { return isVee(b.Pattern) && !b.Bends(b.Pattern) }},
	{"rods above or below openings", func(b shed.Brace) bool { return b.Pattern == bracing.CrossedRods && b.Bends(b.Pattern) }},
	{"V above openings", func(b shed.Brace) bool { return isVee(b.Pattern) && b.Bends(b.Pattern) }},
	{"knee braces", func(b shed.Brace) bool { return b.Pattern == bracing.KneeBraces }},
	{"portalised bay, own columns", func(b shed.Brace) bool { return b.Pattern == bracing.PortalFrame }},
	{"portal round a door", func(b shed.Brace) bool { return b.Pattern == bracing.DoorPortal }},
	{"portalised bay, frame columns", func(b shed.Brace) bool { return b.Pattern == bracing.PortalBay }},
}

func isSingle(p bracing.Pattern) bool { return p == bracing.RisingStrut || p == bracing.FallingStrut }
func isVee(p bracing.Pattern) bool    { return p == bracing.VStruts || p == bracing.InvertedV }

// Option is what one family comes to.
type Option struct {
	Family      string
	Walls       [2]string // what each wall has, south first
	Blocked     [2]string // why a wall has nothing of this family; empty where it has
	Found       bool      // something was judged
	Braces      int       // rods, diagonals, knees, and columns of portals in the long walls
	Connections int       // made ends in the long walls' planes, struts at the eaves left out
	Sway        float64   // use of the limit on the eaves' movement along the building
	Uplift      float64   // N, greatest pull on a footing
	UpliftAt    string
	Assessment  *Assessment
}

// Compare optimises the sections under each family of wall bracing, the same number of evaluations each, and says what each
// comes to. Where a wall cannot have the family it keeps the readiest bracing that it can have. told hears of each family as
// it is done.
func (p *Problem) Compare(ctx context.Context, evaluations int, told func(Option)) ([]Option, error) {
	var out []Option
	for _, f := range Families {
		if err := ctx.Err(); err != nil {
			return out, err
		}
		o, err := p.compareOne(ctx, f, evaluations)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", f.Name, err)
		}
		out = append(out, o)
		if told != nil {
			told(o)
		}
	}
	return out, nil
}

// compareOne optimises under one family.
func (p *Problem) compareOne(ctx context.Context, f Family, evaluations int) (Option, error) {
	o := Option{Family: f.Name}
	q := *p
	q.genes, q.space.Genes = nil, nil
	var walls [2][][]shed.Brace
	any := false
	for side := range 2 {
		walls[side], o.Blocked[side] = p.familyOptions(side, f)
		any = any || o.Blocked[side] == ""
	}
	if !any {
		return o, nil
	}
	q.onlyWalls = &walls
	if err := q.buildGenes(); err != nil {
		return o, err
	}
	j := newJudge(&q)
	j.quick = true
	a := &adviser{p: &q, ctx: ctx, hands: []hand{{full: j, yes: j}}, seen: map[string]*Assessment{}, budget: evaluations}
	d, _, err := q.Braced()
	if err != nil {
		return o, err
	}
	for side := range 2 {
		d.Walls[side] = walls[side][0]
	}
	if _, err := q.fillSteel(d); err != nil {
		return o, err
	}
	if err := q.startHeavy(d); err != nil {
		return o, err
	}
	start, _ := q.Encode(d)
	best, err := a.lightestFrom(start)
	if err != nil {
		return o, err
	}
	bd, _ := q.Decode(best)
	if o.Assessment, err = q.Assess(bd); err != nil {
		return o, err
	}
	o.describe(&q, bd)
	return o, nil
}

// startHeavy gives what carries by bending the heaviest section whose pieces the brief allows, one for all where their stocks
// have it, since distinct sections are counted, and knees the heaviest that the shed has already: from there it is quickly
// made lighter, while from the lightest of a long stock most of the budget would go into standing at all.
func (p *Problem) startHeavy(d *shed.Design) error {
	used := p.Shed.UsedGroups(d)
	lists, longest := map[brief.Group][]shed.Steel{}, 0.0
	var groups []brief.Group
	for _, g := range []brief.Group{brief.GroupPortalColumn, brief.GroupPortalBeam, brief.GroupKneeBrace} {
		if !slices.Contains(used, g) {
			continue
		}
		list, err := stock(p.Brief, g, p.Drawn.Of(g))
		if err != nil {
			return err
		}
		groups, lists[g], longest = append(groups, g), list, math.Max(longest, p.longestOf(d, g))
	}
	for k, g := range groups {
		for _, s := range lists[g] {
			if s.Section.Props.Mass*longest <= float64(p.Brief.Freedoms.PieceMass) {
				d.Steel[g] = s
			}
		}
		if k > 0 && slices.Contains(lists[g], d.Steel[groups[0]]) {
			d.Steel[g] = d.Steel[groups[0]]
		}
	}
	if knees := lists[brief.GroupKneeBrace]; knees != nil {
		for _, s := range knees {
			if slices.ContainsFunc(used, func(g brief.Group) bool { return g != brief.GroupKneeBrace && d.Of(g).Section == s.Section }) {
				d.Steel[brief.GroupKneeBrace] = s
			}
		}
	}
	return nil
}

// everyPattern are the brief's words for all patterns of a wall: a comparison also shows what the brief does not offer the
// search.
var everyPattern = []brief.Pattern{brief.CrossedRods, brief.SingleStrut, brief.TwoTier, brief.VBrace, brief.InvertedV, brief.KneeBrace, brief.PortalisedBay}

// familyOptions are one wall's options of a family, or its readiest free bracing with the reason why it has none of the
// family.
func (p *Problem) familyOptions(side int, f Family) (options [][]shed.Brace, blocked string) {
	var rest [][]shed.Brace
	for _, o := range p.wallOptions(side, everyPattern, max(1, p.Brief.Freedoms.Bracing.MaxBays)) {
		switch {
		case len(o) == 0:
		case !slices.ContainsFunc(o, func(b shed.Brace) bool { return !f.has(b) }):
			options = append(options, o)
		case len(o) == 1:
			rest = append(rest, o)
		}
	}
	if len(options) > 0 {
		return options, ""
	}
	if len(rest) == 0 {
		rest = [][]shed.Brace{nil}
	}
	return rest[:1], p.whyNot(side, f)
}

// whyNot says what keeps a family out of a wall.
func (p *Problem) whyNot(side int, f Family) string {
	var names []string
	for _, c := range p.Shed.Candidates(side) {
		b := shed.Brace{Bay: c.Panel.Bay - 1, Pattern: c.Pattern, Place: c.Place}
		if !f.has(b) {
			continue
		}
		for _, k := range c.Blocks {
			if !slices.Contains(names, k.Obstacle.Name) {
				names = append(names, k.Obstacle.Name)
			}
		}
		if c.Unfit != "" && !slices.Contains(names, c.Unfit) {
			names = append(names, c.Unfit)
		}
	}
	if len(names) == 0 {
		return "no panel has a place for it"
	}
	return strings.Join(names, ", ")
}

// describe reads the figures of a judged option.
func (o *Option) describe(p *Problem, d *shed.Design) {
	o.Found = true
	for side := range 2 {
		o.Walls[side] = describe(side, d.Walls[side])
	}
	m := p.Shed.Build(d)
	o.Braces = len(m.Walls[0]) + len(m.Walls[1])
	o.Connections = 2 * o.Braces
	for _, i := range m.Struts {
		e := &m.Structure.Elements[m.Structure.Members[i].Elements[0]]
		y := m.Structure.Nodes[e.I].Pos.Y
		if (math.Abs(y) < 1e-6 || math.Abs(y-p.Shed.Span) < 1e-6) && (!atEaves(m, i) || m.Structure.Members[i].Group == "portal beam") {
			o.Connections += 2
		}
	}
	for _, r := range o.Assessment.Service {
		if strings.HasPrefix(r.Limit, "eaves sway along") {
			o.Sway = math.Max(o.Sway, r.Utilisation)
		}
	}
	for _, f := range o.Assessment.Feet {
		if f.Down > o.Uplift {
			o.Uplift, o.UpliftAt = f.Down, f.Name
		}
	}
}

// lightestFrom strengthens a point until it complies and then makes decisions lighter, round after round, while the budget
// lasts. Where nothing complies it returns the best that it saw.
func (a *adviser) lightestFrom(point []int) ([]int, error) {
	at, ok, err := a.strengthen(point)
	if err != nil {
		return nil, err
	}
	if !ok {
		return at, nil
	}
	for len(a.seen) < a.budget {
		path, err := a.save(at)
		if err != nil {
			return nil, err
		}
		if len(path) == 1 {
			return at, nil
		}
		at = path[len(path)-1]
	}
	return at, nil
}
