package shedspace

import (
	"fmt"
	"strings"

	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver"
	"leanbay/solver/checks"
	"leanbay/solver/checks/as4100"
	"leanbay/solver/frame"
)

// Page is one member's checks as a checker follows them: what the member is, what holds it, the worst of each check, and
// the working under the governing combination.
type Page struct {
	Member      solver.Member
	Results     []checks.Result // the worst of each kind that was found
	Names       []string        // the combination of each result
	Combination string          // of the working
	Working     checks.Working
}

// MemberPage analyses a design in the whole shed and works one member in full; "purlin", "girt" and "joist" are the
// governing ones of the design. An unknown member lists those of the nearest names; a design without a stable answer has no
// forces to check.
func (p *Problem) MemberPage(d *shed.Design, id string) (*Page, error) {
	set := p.setupOf(d)
	if d == p.Drawn {
		set = p.bench.drawn
	}
	j := newJudge(p)
	if r := secondaryOf(set, id); r != nil {
		return p.secondaryPage(set, r)
	}
	m := p.Shed.Build(d)
	setEffectiveLengths(m)
	m.Load(set.loads, set.joistMass)
	at, err := findMember(m, id)
	if err != nil {
		return nil, err
	}
	if err := j.whole.load(&m.Structure, j.quick); err != nil {
		return nil, err
	}
	a := &Assessment{}
	if err := j.analyse(&j.whole, m.Structure.Combinations, p.bench.strength, frame.TensionOnlySecondOrder, a); err != nil {
		return nil, err
	}
	if a.Mechanism != "" || len(a.Trouble) > 0 {
		return nil, fmt.Errorf("the design has no stable answer, so there are no forces to check: %s", a.Mechanism+strings.Join(a.Trouble, "; "))
	}
	j.findSeats(m)
	out, err := j.page(&m.Structure.Members[at], at)
	if err == nil {
		j.seatsOnPage(&m.Structure, at, out)
	}
	return out, err
}

// secondaryOf is the governing purlin, girt or joist that id asks for, or nil.
func secondaryOf(set *setup, id string) *SecondaryResult {
	for i := range set.secondaries.Results {
		if r := &set.secondaries.Results[i]; r.Group == id && (id == string(brief.GroupPurlin) || id == string(brief.GroupGirt) || id == string(brief.GroupJoist)) {
			return r
		}
	}
	return nil
}

// secondaryPage works a purlin, girt or joist in full.
func (p *Problem) secondaryPage(set *setup, r *SecondaryResult) (*Page, error) {
	sec := set.secondaries.Sections.Of(brief.Group(r.Group))
	b, err := p.bench.stock.Get(sec)
	if err != nil {
		return nil, err
	}
	run, err := r.Need.Run()
	if err != nil {
		return nil, err
	}
	out := &Page{Member: solver.Member{ID: r.Member, Group: r.Group, Section: sec, Grade: sec.Grades[0], Length: r.Need.Span}}
	resistance := p.bench.coldFormed.Resist(b, sec.Grades[0], &out.Working)
	got, err := p.bench.coldFormed.CheckRun(run, resistance, &out.Working)
	if err != nil {
		return nil, err
	}
	for _, q := range got.Results {
		if q.Name != "" {
			out.Results = append(out.Results, q)
			out.Names = append(out.Names, run.Cases[q.Combination].Name)
		}
	}
	out.Combination = "its own cases: " + r.Need.String()
	return out, nil
}

// page checks a member over all analysed combinations and repeats the governing one with its working.
func (j *judge) page(m *solver.Member, at int) (*Page, error) {
	c, err := j.p.bench.rules.NewChecker(m, as4100.Options{})
	if err != nil {
		return nil, err
	}
	var env as4100.Envelope
	for k := range j.combos {
		j.res[k].Diagram(at, &j.curve)
		c.Check(&j.curve, k, &env, nil)
	}
	out := &Page{Member: *m}
	for _, r := range env.Results {
		if r.Name != "" {
			out.Results = append(out.Results, r)
			out.Names = append(out.Names, j.combos[r.Combination].ID)
		}
	}
	g := env.Governing()
	if g.Name == "" {
		return out, nil
	}
	out.Combination = j.combos[g.Combination].ID
	j.res[g.Combination].Diagram(at, &j.curve)
	var again as4100.Envelope
	c.Check(&j.curve, g.Combination, &again, &out.Working)
	return out, nil
}

// findMember finds a member by its id.
func findMember(m *shed.Model, id string) (int, error) {
	var near []string
	group, _, _ := strings.Cut(id, "/")
	for i := range m.Structure.Members {
		mem := &m.Structure.Members[i]
		if mem.ID == id && mem.Section != nil {
			return i, nil
		}
		if strings.HasPrefix(mem.ID, group+"/") && mem.Section != nil {
			near = append(near, mem.ID)
		}
	}
	if len(near) == 0 {
		for i := range m.Structure.Members {
			if m.Structure.Members[i].Section != nil {
				near = append(near, m.Structure.Members[i].ID)
			}
		}
	}
	return 0, fmt.Errorf("no member is called %q; there are: %s", id, strings.Join(near, ", "))
}
