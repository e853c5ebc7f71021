package shedspace

import (
	"fmt"
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
	Fails    string // what fails worst, in words; nothing where it complies
}

// whatIfs lists the changes in the order of tables.
var whatIfs = []brief.WhatIf{brief.DoorOpen, brief.PropLost, brief.NextTerrain, brief.FloorLoad, brief.BaseSpring, brief.Settlement, brief.OneSlackRod}

// Reviewer judges designs of a problem again under changes of brief, site and structure. What is there of a design stays,
// secondaries, jambs and lintels with it. It keeps the actions of each change and may be used for many designs, by one
// caller at a time; its answers depend on the design alone.
type Reviewer struct {
	p       *Problem
	screen  *judge // quick, stops at what clearly fails
	full    *judge
	actions map[string]*Problem // of each change, without loads
	setups  map[string]*setup   // of each change, spacings and secondaries
}

// NewReviewer makes a reviewer of a problem's designs.
func (p *Problem) NewReviewer() *Reviewer {
	r := &Reviewer{p: p, screen: newJudge(p), full: newStartedJudge(p), actions: map[string]*Problem{}, setups: map[string]*setup{}}
	r.screen.quick, r.screen.brief, r.full.figures = true, true, true
	return r
}

// Robust counts the changes that can happen to a design, of those that the brief names, and those under which it complies.
func (r *Reviewer) Robust(d *shed.Design) (complies, asked int, err error) {
	list, err := r.WhatIfs(d)
	for _, w := range list {
		if w.Asked {
			asked++
		}
		if w.Asked && w.Complies {
			complies++
		}
	}
	return complies, asked, err
}

// WhatIfs judges a design again under each change that the brief names. Of changes that can happen in several places (a
// prop lost, a base that settles, a slack rod) the worst is told.
func (r *Reviewer) WhatIfs(d *shed.Design) ([]WhatIf, error) {
	var out []WhatIf
	for _, what := range whatIfs {
		use := r.p.Brief.WhatIfs.Use
		if !slices.Contains(use, what) && !slices.Contains(use, brief.AllWhatIfs) {
			continue
		}
		w, err := r.whatIf(what, d)
		if err != nil {
			return nil, fmt.Errorf("what if %s: %w", what, err)
		}
		out = append(out, w)
	}
	return out, nil
}

// whatIf judges one change.
func (r *Reviewer) whatIf(what brief.WhatIf, d *shed.Design) (WhatIf, error) {
	switch what {
	case brief.DoorOpen, brief.NextTerrain, brief.FloorLoad:
		b, text := r.p.changedBrief(what)
		if b == nil {
			return WhatIf{What: what, Text: text}, nil
		}
		q, e, err := r.under(string(what), b, nil, d)
		if err != nil {
			return WhatIf{}, err
		}
		return r.worstOf(what, q, []*shed.Design{e}, []string{text})
	}
	designs, texts := r.p.accidents(what, d)
	if len(designs) == 0 {
		return WhatIf{What: what, Text: texts[0]}, nil
	}
	return r.worstOf(what, r.p, designs, texts)
}

// worstOf screens designs of a problem and tells of the worst, judged in full.
func (r *Reviewer) worstOf(what brief.WhatIf, q *Problem, designs []*shed.Design, texts []string) (WhatIf, error) {
	at, worst := 0, (*Assessment)(nil)
	for i, d := range designs {
		if len(designs) == 1 {
			break
		}
		a, err := r.judge(r.screen, q, d)
		if err != nil {
			return WhatIf{}, err
		}
		if worst == nil || a.Class > worst.Class || a.Class == worst.Class && (a.Violation > worst.Violation || a.Violation == worst.Violation && a.U > worst.U) {
			at, worst = i, a
		}
	}
	a, err := r.judge(r.full, q, designs[at])
	if err != nil {
		return WhatIf{}, err
	}
	return WhatIf{What: what, Text: texts[at], Asked: true, Complies: a.Complies, U: a.U, Fails: a.Fails()}, nil
}

// judge assesses a design of a problem.
func (r *Reviewer) judge(j *judge, q *Problem, d *shed.Design) (*Assessment, error) {
	j.p = q
	return j.assess(d, q.setupOf(d))
}

// Fails says in a few words what fails worst in a design; nothing where it complies.
func (a *Assessment) Fails() string {
	switch {
	case a.Complies:
		return ""
	case a.Mechanism != "":
		return "a mechanism"
	case len(a.Trouble) > 0:
		return a.Trouble[0]
	}
	for _, f := range a.Findings {
		if f.Missing {
			return fmt.Sprintf("a link of the load path is missing (%s)", f.Where)
		}
	}
	worst, text := 1.0, a.Verdict()
	note := func(u float64, format string, args ...any) {
		if u > worst {
			worst, text = u, fmt.Sprintf(format, args...)
		}
	}
	for _, g := range a.Groups {
		note(g.Utilisation, "%s, %s %.2f", g.Member, g.Name, g.Utilisation)
	}
	for _, s := range a.Service {
		note(s.Utilisation, "%s at %s %.2f", s.Limit, s.Where, s.Utilisation)
	}
	for _, r := range a.Rules {
		note(r.Utilisation, "%s", r.Text)
	}
	return text
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

// under is the problem of a changed brief or site, known by the name of the change, with one design as drawn, its secondaries
// with it, and that design there.
func (r *Reviewer) under(change string, b *brief.Brief, site func(*actions.Site), d *shed.Design) (*Problem, *shed.Design, error) {
	base, err := r.changed(change, b, site)
	if err != nil {
		return nil, nil, err
	}
	has := r.p.setupOf(d).secondaries
	e := *d
	e.DrawnSecondaries, e.SecondaryWind = true, 0 // what is there is judged under the changed wind itself
	e.Steel = map[brief.Group]shed.Steel{}
	for g, c := range d.Steel {
		e.Steel[g] = c
	}
	key := fmt.Sprintf("%s;%v;", change, spacingsOf(d)) // the jambs and lintels follow from these
	for _, g := range []brief.Group{brief.GroupPurlin, brief.GroupGirt, brief.GroupJoist} {
		if sec := has.Sections.Of(g); sec != nil {
			e.Steel[g] = shed.Steel{Section: sec, Grade: sec.Grades[0]}
			key += sec.Name + ";"
		}
	}
	q := &Problem{Brief: base.Brief, Shed: base.Shed, Drawn: &e, objectives: r.p.objectives, trimmers: has.trimmers}
	q.bench = base.bench.alike()
	if r.setups[key] == nil {
		if r.setups[key], err = q.newSetup(q.bench, spacingsOf(&e), true); err != nil {
			return nil, nil, err
		}
	}
	q.bench.drawn = r.setups[key]
	return q, &e, nil
}

// changed is the problem of a change with its actions and without loads, made once.
func (r *Reviewer) changed(change string, b *brief.Brief, site func(*actions.Site)) (*Problem, error) {
	if q := r.actions[change]; q != nil {
		return q, nil
	}
	s, err := shed.FromBrief(b)
	if err != nil {
		return nil, err
	}
	if site != nil {
		site(s.Site)
	}
	narrow := *b
	narrow.Freedoms.Spacings = false
	q := &Problem{Brief: &narrow, Shed: s, Drawn: r.p.Drawn}
	if q.bench, err = newActions(q); err != nil {
		return nil, err
	}
	// The buckling stresses of sections do not depend on what changes.
	q.bench.coldFormed, q.bench.stock = r.p.bench.coldFormed, r.p.bench.stock
	r.actions[change] = q
	return q, nil
}

// alike is a bench with the same actions and tables of secondaries, and no loads yet.
func (b *bench) alike() *bench {
	return &bench{
		pack: b.pack, cases: b.cases, combinations: b.combinations, strength: b.strength, planar: b.planar, wholeCases: b.wholeCases, planarCases: b.planarCases, planarInWhole: b.planarInWhole, serviceCases: b.serviceCases,
		service: b.service, inWhole: b.inWhole, stability: b.stability, loads: map[spacings]*setup{}, rules: b.rules, coldFormed: b.coldFormed, stock: b.stock, tables: b.tables, framed: map[spacings]*Secondaries{}, blows: map[float64]*blow{},
	}
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
