package shedspace

import (
	"fmt"
	"math"
	"slices"

	"leanbay/model/actions"
	"leanbay/model/brief"
	"leanbay/model/shed"
)

// WhatIf is how a design fares under one change.
type WhatIf struct {
	What     brief.WhatIf
	Text     string // what was changed, in words
	Asked    bool   // false where the change cannot happen to this design; Text says why
	Complies bool
	U        float64
	Verdict  string
	Member   string // that governs
}

// WhatIfs judges a design again under each change that the brief names. Of changes that can happen in several places (a
// prop lost, a base that settles, a slack rod) the worst is told.
func (p *Problem) WhatIfs(d *shed.Design) ([]WhatIf, error) {
	var out []WhatIf
	for _, what := range []brief.WhatIf{brief.DoorOpen, brief.PropLost, brief.NextTerrain, brief.FloorLoad, brief.BaseSpring, brief.Settlement, brief.OneSlackRod} {
		use := p.Brief.WhatIfs.Use
		if !slices.Contains(use, what) && !slices.Contains(use, brief.AllWhatIfs) {
			continue
		}
		w, err := p.whatIf(what, d)
		if err != nil {
			return nil, fmt.Errorf("what if %s: %w", what, err)
		}
		out = append(out, w)
	}
	return out, nil
}

// whatIf judges one change.
func (p *Problem) whatIf(what brief.WhatIf, d *shed.Design) (WhatIf, error) {
	switch what {
	case brief.DoorOpen, brief.NextTerrain, brief.FloorLoad:
		b, text := p.changedBrief(what)
		if b == nil {
			return WhatIf{What: what, Text: text}, nil
		}
		q, e, err := p.under(b, nil, d)
		if err != nil {
			return WhatIf{}, err
		}
		return q.worstOf(what, []*shed.Design{e}, []string{text})
	}
	designs, texts := p.accidents(what, d)
	if len(designs) == 0 {
		return WhatIf{What: what, Text: texts[0]}, nil
	}
	return p.worstOf(what, designs, texts)
}

// worstOf assesses designs and tells of the worst.
func (p *Problem) worstOf(what brief.WhatIf, designs []*shed.Design, texts []string) (WhatIf, error) {
	var worst *Assessment
	out := WhatIf{What: what, Asked: true}
	for i, d := range designs {
		a, err := p.Assess(d)
		if err != nil {
			return out, err
		}
		if worst == nil || a.Class > worst.Class || a.Class == worst.Class && (a.Violation > worst.Violation || a.Violation == worst.Violation && a.U > worst.U) {
			worst, out.Text = a, texts[i]
		}
	}
	out.Complies, out.U, out.Verdict = worst.Complies, worst.U, worst.Verdict()
	if worst.Governing != nil {
		out.Member = worst.Governing.Member
	}
	return out, nil
}

// terrains are the terrain categories from smooth to rough (AS/NZS 1170.2:2021, 4.2.1) [M].
var terrains = []float64{1, 2, 2.5, 3, 4}

// changedBrief is the brief under a change of its loads, or nil with the reason why it cannot change.
func (p *Problem) changedBrief(what brief.WhatIf) (*brief.Brief, string) {
	b := *p.Brief
	switch what {
	case brief.DoorOpen:
		b.Openings = slices.Clone(b.Openings)
		n := 0
		for i := range b.Openings {
			if b.Openings[i].Door() && b.Openings[i].State == brief.StaysShut {
				b.Openings[i].State = brief.MayFail
				n++
			}
		}
		if n == 0 {
			return nil, "no door is taken as shut: each may be open already"
		}
		return &b, fmt.Sprintf("the %d doors taken as shut fail open", n)
	case brief.NextTerrain:
		smoother := 0.0
		for _, t := range terrains {
			if t < b.Site.Terrain-1e-9 {
				smoother = t
			}
		}
		if smoother == 0 {
			return nil, "the terrain is the smoothest already"
		}
		b.Site.Terrain = smoother
		return &b, fmt.Sprintf("terrain category %g instead of %g", smoother, p.Brief.Site.Terrain)
	}
	if len(b.Mezzanines) == 0 {
		return nil, "there is no floor"
	}
	b.Mezzanines = slices.Clone(b.Mezzanines)
	for i := range b.Mezzanines {
		b.Mezzanines[i].Imposed = brief.Pressure(p.bench.floorImposed(p.Shed, i) * b.WhatIfs.FloorFactor)
	}
	return &b, fmt.Sprintf("imposed load of floors times %g", b.WhatIfs.FloorFactor)
}

// accidents are the designs that a change of the structure makes of one, or none with the reason.
func (p *Problem) accidents(what brief.WhatIf, d *shed.Design) (designs []*shed.Design, texts []string) {
	add := func(change func(e *shed.Design), text string, args ...any) {
		e := *d
		change(&e)
		designs, texts = append(designs, &e), append(texts, fmt.Sprintf(text, args...))
	}
	m := p.Shed.Build(d)
	if what != brief.OneSlackRod && len(m.Props) == 0 {
		return nil, []string{"there is no prop"}
	}
	w := &p.Brief.WhatIfs
	switch what {
	case brief.PropLost:
		for l := range d.Props {
			for _, f := range d.Props[l].Frames {
				add(func(e *shed.Design) { e.Props = withoutProp(d.Props, l, f) }, "the prop of frame %d at Y %.2f is lost", f+1, d.Props[l].Y)
			}
		}
	case brief.BaseSpring:
		k := float64(w.BaseStiffness)
		add(func(e *shed.Design) { e.Accident.PropSpring = k }, "the ground under props yields at %.0f kN/m", k/1e3)
	case brief.Settlement:
		for _, i := range m.Props {
			id := m.Structure.Members[i].ID
			add(func(e *shed.Design) { e.Accident.Settled, e.Accident.Settlement = id, float64(w.Settlement) }, "the base of %s settles %.0f mm", id, float64(w.Settlement)*1e3)
		}
	case brief.OneSlackRod:
		for _, i := range slices.Concat(append(m.Walls[:], m.Roof)...) {
			mem := &m.Structure.Members[i]
			if m.Structure.Elements[mem.Elements[0]].Bar {
				add(func(e *shed.Design) { e.Accident.Without = mem.ID }, "%s hangs slack", mem.ID)
			}
		}
		if len(designs) == 0 {
			return nil, []string{"there is no rod"}
		}
	}
	return designs, texts
}

// withoutProp copies lines of props and leaves one prop out.
func withoutProp(lines []shed.PropLine, line, frame int) []shed.PropLine {
	var out []shed.PropLine
	for l, x := range lines {
		frames := slices.Clone(x.Frames)
		if l == line {
			frames = slices.DeleteFunc(frames, func(f int) bool { return f == frame })
		}
		if len(frames) > 0 {
			out = append(out, shed.PropLine{Y: x.Y, Frames: frames})
		}
	}
	return out
}

// under is the problem of a changed brief or site with one design as drawn, its secondaries with it, and that design there.
func (p *Problem) under(b *brief.Brief, site func(*actions.Site), d *shed.Design) (*Problem, *shed.Design, error) {
	s, err := shed.FromBrief(b)
	if err != nil {
		return nil, nil, err
	}
	if site != nil {
		site(s.Site)
	}
	e := *d
	e.DrawnSecondaries = true
	e.Steel = map[brief.Group]shed.Steel{}
	for g, c := range d.Steel {
		e.Steel[g] = c
	}
	for _, g := range []brief.Group{brief.GroupPurlin, brief.GroupGirt, brief.GroupJoist} {
		if sec := p.setupOf(d).secondaries.Sections.Of(g); sec != nil {
			e.Steel[g] = shed.Steel{Section: sec, Grade: sec.Grades[0]}
		}
	}
	narrow := *b
	narrow.Freedoms.Spacings = false
	q := &Problem{Brief: &narrow, Shed: s, Drawn: &e, objectives: p.objectives}
	if q.bench, err = newBench(q); err != nil {
		return nil, nil, err
	}
	return q, &e, nil
}

// The wind reserve is sought between these factors on the site wind speed, to this step.
const (
	leastReserve = 0.5
	mostReserve  = 1.5
	reserveStep  = 1.0 / 64
)

// WindReserve is the largest factor on the site wind speed, of those tried by bisection, at which the design passes
// everything (engineering practice: which sites one product covers); 0 where it fails at half the speed already. Passing is
// taken to end once for all as the wind grows. What is drawn of the secondaries stays; the factor acts as a topographic
// multiplier in all directions.
func (p *Problem) WindReserve(d *shed.Design) (float64, error) {
	passes := func(f float64) (bool, error) {
		q, e, err := p.under(p.Brief, func(s *actions.Site) {
			for i, v := range s.Topographic {
				if v == 0 {
					v = 1
				}
				s.Topographic[i] = v * f
			}
		}, d)
		if err != nil {
			return false, err
		}
		a, err := q.Assess(e)
		return err == nil && a.Complies, err
	}
	if ok, err := passes(leastReserve); err != nil || !ok {
		return 0, err
	}
	lo, hi := leastReserve, mostReserve+reserveStep
	for hi-lo > reserveStep*1.001 {
		mid := leastReserve + math.Round((lo+hi-2*leastReserve)/2/reserveStep)*reserveStep
		ok, err := passes(mid)
		if err != nil {
			return 0, err
		}
		if ok {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo, nil
}

// PointOf finds the point that a front's table describes, by the names of decisions and options; ok is false where one is
// unknown to this brief.
func (p *Problem) PointOf(text map[string]string) (point []int, ok bool) {
	point = make([]int, len(p.genes))
	for i := range p.genes {
		g := &p.genes[i]
		name, has := text[g.Name]
		if !has {
			continue // a decision that the variant does not use
		}
		if point[i] = slices.Index(g.Options, name); point[i] < 0 {
			return nil, false
		}
	}
	_, point = p.Canonical(point)
	return point, true
}
