package shedspace

import (
	"fmt"
	"math"
	"sync"

	"leanbay/catalog"
	"leanbay/model/brief"
	"leanbay/model/shed"
)

// layout is what a design's lines and braces say before its frames have sections: lengths and findings.
type layout struct {
	shed.Weights
	findings []shed.Finding
}

// layouts keeps the layouts that were built, by key. They are pure functions of the key; the lists of the layout genes are
// so much shorter than those of sections that most designs of a search share one.
type layouts struct {
	mu    sync.RWMutex
	known map[string]*layout
}

// mostLayouts bounds the memory (a layout takes about 2 kB).
const mostLayouts = 20_000

// layoutOf builds a design's layout, or finds it.
func (p *Problem) layoutOf(d *shed.Design) *layout {
	key, c := d.Key(nil), &p.bench.layouts
	c.mu.RLock()
	l := c.known[key]
	c.mu.RUnlock()
	if l != nil {
		return l
	}
	m := p.Shed.Build(d)
	l = &layout{m.Weights(p.setupOf(d).secondaries.Sections), m.Findings}
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.known == nil || len(c.known) >= mostLayouts {
		c.known = map[string]*layout{}
	}
	c.known[key] = l
	return l
}

// outline is what can be said of a design without analysis: its mass (but for round-off), secondaries, missing links, and
// the rules of pieces. What it lacks can only add to the utilisation and to what is broken.
func (p *Problem) outline(d *shed.Design) *Assessment {
	l := p.layoutOf(d)
	a := &Assessment{Design: d, Findings: l.findings, Stable: true}
	a.Mass.Total = l.Fixed
	for i := range l.Groups {
		g := &l.Groups[i]
		a.Mass.Total += g.Kilograms(d.Of(g.Group).Section)
	}
	for _, r := range p.setupOf(d).secondaries.Results {
		a.note(r.Group, r.Member, "", false, r.Result)
	}
	a.Rules = p.pieceRules(d, l)
	return a
}

// pieceRules are the rules on distinct sections, longest and heaviest piece.
func (p *Problem) pieceRules(d *shed.Design, l *layout) []RuleResult {
	f := &p.Brief.Freedoms
	sections := map[string]bool{}
	longest, heaviest := 0.0, 0.0
	for i := range l.Groups {
		g := &l.Groups[i]
		if s := d.Of(g.Group).Section; s.Family != catalog.Rod {
			sections[s.Name] = true
			longest = math.Max(longest, g.Longest)
			heaviest = math.Max(heaviest, g.Longest*s.Props.Mass)
		}
	}
	return []RuleResult{
		{"distinct sections", fmt.Sprint(len(sections)), float64(len(sections)) / float64(f.DistinctSections)},
		{"piece length", "", longest / float64(f.PieceLength)},
		{"piece mass", "", heaviest / float64(f.PieceMass)},
	}
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
