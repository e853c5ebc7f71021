package shedspace

import (
	"math"
	"slices"
	"sync"

	"leanbay/catalog"
	"leanbay/model/brief"
	"leanbay/model/joints"
	"leanbay/model/shed"
)

// layout is what a design's lines and braces say before its frames have sections: lengths and findings.
type layout struct {
	groups       shed.Weights
	findings     []shed.Finding   // without words
	knees, heads [][2]brief.Group // groups that meet at knees, and at the heads of props
	costs        Costs            // but for Steel, Secondary and Total

	mu       sync.Mutex
	holdings map[float64]holding // by girt spacing, read when they are first asked for: a search never does
}

// groupsOf are the shares of a layout's groups, beams as long as offset leaves them.
func (l *layout) groupsOf(offset func(shed.Seat) float64) []shed.GroupWeight {
	if !slices.ContainsFunc(l.groups, func(g shed.GroupWeight) bool { return g.Between != nil }) {
		return l.groups
	}
	out := slices.Clone(l.groups)
	for i := range out {
		if out[i].Between != nil {
			out[i] = out[i].Seated(offset)
		}
	}
	return out
}

// seatsOn is how far beams stand off a design's columns.
func seatsOn(d *shed.Design) func(shed.Seat) float64 {
	return func(s shed.Seat) float64 { return shed.FaceOffset(d.Of(s.Column).Section, s.Along) }
}

// weightOf is the share of a group; nil if the layout has none of it.
func (l *layout) weightOf(g brief.Group) *shed.GroupWeight {
	for i := range l.groups {
		if l.groups[i].Group == g {
			return &l.groups[i]
		}
	}
	return nil
}

// layouts keeps the layouts that were built, by shed.Design.AppendLayout. They are pure functions of that; the lists of the layout
// genes are so much shorter than those of sections that most designs of a search share one.
type layouts struct {
	recent[*layout]
}

// layoutBytes is the room that a layout's key begins with: few are longer.
const layoutBytes = 256

// layoutOf builds a design's layout, or finds it.
func (p *Problem) layoutOf(d *shed.Design) *layout {
	key, c := d.AppendLayout(make([]byte, 0, layoutBytes)), &p.bench.layouts
	if l, ok := c.get(key); ok {
		return l
	}
	l := p.layDown(d)
	c.put(key, l)
	return l
}

// laidBy is the layout of a design of a plan.
func (p *Problem) laidBy(at *plan, d *shed.Design) *layout {
	l := at.laid.Load()
	if l == nil {
		l = p.layoutOf(d)
		at.laid.Store(l)
	}
	return l
}

// layDown reads a design's layout off a sketch of it.
func (p *Problem) layDown(d *shed.Design) *layout {
	l := &layout{}
	p.Shed.Sketch(d, func(m *shed.Model) {
		l.groups, l.findings, l.costs = m.Weights(), m.Findings, p.layoutCosts(m)
		l.knees, l.heads = meetingGroups(m)
	})
	return l
}

// holdingOf is how a design's layout holds its frames.
func (p *Problem) holdingOf(d *shed.Design) holding {
	l := p.layoutOf(d)
	l.mu.Lock()
	defer l.mu.Unlock()
	h, ok := l.holdings[d.GirtSpacing]
	if !ok {
		if l.holdings == nil {
			l.holdings = map[float64]holding{}
		}
		h = p.holdings(d, p.Shed.Build(d))
		l.holdings[d.GirtSpacing] = h
	}
	return h
}

// meetingGroups names each pair of groups that meet once.
func meetingGroups(m *shed.Model) (knees, heads [][2]brief.Group) {
	groups := func(pairs [][2]int) [][2]brief.Group {
		var out [][2]brief.Group
		for _, k := range pairs {
			g := [2]brief.Group{brief.Group(m.Structure.Members[k[0]].Group), brief.Group(m.Structure.Members[k[1]].Group)}
			if !slices.Contains(out, g) {
				out = append(out, g)
			}
		}
		return out
	}
	return groups(m.Knees), groups(m.Heads)
}

// outline is what can be said of a design without analysis: its mass (but for round-off), secondaries, missing links, and
// the rules of pieces and of fit. What it lacks can only add to the utilisation and to what is broken.
func (p *Problem) outline(d *shed.Design) *Assessment {
	return new(outliner).outlineIn(p, p.layoutOf(d), d)
}

// outliner draws outlines one after the other in storage that serves again: design and outline are gone with the next.
type outliner struct {
	d    shed.Design
	a    Assessment
	fits joints.Fitter
}

var outliners = sync.Pool{New: func() any { return &outliner{} }}

// outlineIn is outline in a layout that is known.
func (o *outliner) outlineIn(p *Problem, l *layout, d *shed.Design) *Assessment {
	set, a := p.setupOf(d), &o.a
	a.begin(d)
	a.Findings = l.findings
	a.Mass.Total = set.kilograms
	groups := l.groupsOf(seatsOn(d))
	for i := range groups {
		g := &groups[i]
		a.Mass.Total += g.Kilograms(d.Of(g.Group).Section)
	}
	for _, r := range set.secondaries.Results {
		a.note(r.Group, r.Member, "", false, r.Result)
	}
	a.Rules = p.pieceRules(d, l, groups, &o.fits, a.Rules)
	return a
}

// pieceRules are the rules on distinct sections, longest and heaviest piece of the groups, and on what fits where it meets; without
// texts, since a search asks this of far more designs than it judges. It appends to out.
func (p *Problem) pieceRules(d *shed.Design, l *layout, groups []shed.GroupWeight, fits *joints.Fitter, out []RuleResult) []RuleResult {
	f := &p.Brief.Freedoms
	var room [16]string
	sections := room[:0]
	longest, heaviest := 0.0, 0.0
	for i := range groups {
		g := &groups[i]
		if s := d.Of(g.Group).Section; s.Family != catalog.Rod {
			if !slices.Contains(sections, s.Name) {
				sections = append(sections, s.Name)
			}
			longest = math.Max(longest, g.Longest)
			heaviest = math.Max(heaviest, g.Longest*s.Props.Mass)
		}
	}
	out = append(out,
		RuleResult{Rule: ruleSections, Utilisation: float64(len(sections)) / float64(f.DistinctSections)},
		RuleResult{Rule: "piece length", Utilisation: longest / float64(f.PieceLength)},
		RuleResult{Rule: "piece mass", Utilisation: heaviest / float64(f.PieceMass)},
	)
	var pairs [8][2]*catalog.Section
	knees := sectionsOf(pairs[:0:4], d, l.knees)
	for _, fit := range fits.Sections(knees, sectionsOf(pairs[4:4], d, l.heads), &p.Brief.Proposal.Details) {
		out = append(out, RuleResult{Rule: fit.Rule, Utilisation: fit.Ratio})
	}
	return out
}

// sectionsOf appends the sections that a design has for pairs of groups.
func sectionsOf(out [][2]*catalog.Section, d *shed.Design, pairs [][2]brief.Group) [][2]*catalog.Section {
	for _, g := range pairs {
		out = append(out, [2]*catalog.Section{d.Of(g[0]).Section, d.Of(g[1]).Section})
	}
	return out
}

// frameGroups are the groups whose members every design of a brief has, with the same lengths and feet.
func (p *Problem) frameGroups() []brief.Group {
	out := []brief.Group{brief.GroupColumn, brief.GroupRafter}
	if p.Brief.Freedoms.EndFramesDiffer {
		out = append(out, brief.GroupEndColumn, brief.GroupEndRafter)
	}
	if len(p.Shed.Mullions[0])+len(p.Shed.Mullions[1]) > 0 {
		out = append(out, brief.GroupMullion)
	}
	if len(p.Shed.Mezzanines) > 0 {
		out = append(out, brief.GroupBeam)
	}
	return append(out, brief.GroupEavesStrut)
}
