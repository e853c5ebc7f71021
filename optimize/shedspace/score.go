package shedspace

import (
	"context"
	"fmt"
	"math"
	"slices"

	"leanbay/catalog"
	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/optimize"
)

// NewEvaluator implements optimize.Problem.
func (p *Problem) NewEvaluator() optimize.Evaluator {
	j := newJudge(p)
	j.brief, j.quick = true, true
	n := len(p.bench.combinations)
	return &evaluator{p: p, j: j, tells: [2]tellings{make(tellings, n), make(tellings, n)}}
}

// evaluator scores points for one worker.
type evaluator struct {
	p        *Problem
	j        *judge
	reviewer *Reviewer   // made when a dear objective is first asked for
	a        Assessment  // of the design in hand: only its score is kept
	tells    [2]tellings // of the whole shed, and of inner frames alone
	left     int         // evaluations left half way
}

// Evaluate implements optimize.Evaluator. Where compliance is no objective it is a limit: what does not comply is failing.
func (e *evaluator) Evaluate(_ context.Context, point []int, key string) (optimize.Score, error) {
	d, _ := e.p.Decode(point)
	set := e.p.setupOf(d)
	if err := e.j.assessModel(e.j.model(d, set), set, &e.a); err != nil {
		return optimize.Score{}, fmt.Errorf("variant %s: %w", key, err)
	}
	return e.p.scoreOf(&e.a), nil
}

// scoreOf sums up an assessment for the search.
func (p *Problem) scoreOf(a *Assessment) optimize.Score {
	s := p.ranked(a)
	s.Measures = a.measures()
	return s
}

// ranked is scoreOf without measures.
func (p *Problem) ranked(a *Assessment) optimize.Score {
	s := optimize.Score{Class: p.classOf(a), Violation: a.Violation, Tie: a.U, Complies: a.Complies}
	if s.Class == ClassRanked {
		s.Objectives, s.Pending = p.values(a), slices.ContainsFunc(p.objectives, func(o objective) bool { return o.dear != nil })
	}
	if a.Class >= ClassUnstable {
		// Nothing was checked: what is missing ranks it, then its mass, so that the search has a slope to climb.
		s.Violation = float64(len(a.Findings)) + a.Violation + float64(len(a.Trouble))
		s.Tie = 0
	}
	return s
}

// classOf is the class in the search: where compliance is no objective it is a limit, and what does not comply is failing.
func (p *Problem) classOf(a *Assessment) int {
	if a.Class == ClassRanked && !a.Complies && !p.wants(brief.ObjCompliance) {
		return ClassFailing
	}
	return a.Class
}

// setupOf is the setup of a design's spacings and of the wind that its secondaries are sized for.
func (p *Problem) setupOf(d *shed.Design) *setup {
	if d.DrawnSecondaries {
		return p.bench.drawn
	}
	return p.bench.loads[spacingsOf(d)]
}

// Assess judges a design in full, with the secondaries that the table chooses.
func (p *Problem) Assess(d *shed.Design) (*Assessment, error) {
	return newStartedJudge(p).assess(d, p.setupOf(d))
}

// Scorer assesses designs as Assess does, for their figures alone: without connections, footings, reactions of feet, holding forces and
// frequencies of floors. It serves one caller at a time; its answers depend on the design alone.
type Scorer struct{ j *judge }

// NewScorer makes a scorer of a problem's designs.
func (p *Problem) NewScorer() *Scorer {
	j := newStartedJudge(p)
	j.figures = true
	return &Scorer{j}
}

// Assess judges a design with the secondaries that the table chooses.
func (s *Scorer) Assess(d *shed.Design) (*Assessment, error) { return s.j.assess(d, s.j.p.setupOf(d)) }

// AssessProposal judges what was drawn, with the secondaries that were drawn.
func (p *Problem) AssessProposal() (*Assessment, error) {
	a, err := newStartedJudge(p).assess(p.Drawn, p.bench.drawn)
	if err == nil {
		a.holdDetails()
	}
	return a, err
}

// Braced is the proposal with the missing links of its load path added, each by the first choice that the architecture
// allows, and what was added in words. Sections that the proposal does not have are the lightest of their stock that is
// not too slender.
func (p *Problem) Braced() (*shed.Design, []string, error) {
	d := *p.Drawn
	d.Steel = map[brief.Group]shed.Steel{}
	for g, s := range p.Drawn.Steel {
		d.Steel[g] = s
	}
	d.RoofNodes = nil
	var added []string
	for side, name := range []string{"south", "north"} {
		if len(d.Walls[side]) > 0 {
			continue
		}
		for _, o := range p.walls[side] {
			if len(o) == 1 {
				d.Walls[side] = o
				added = append(added, fmt.Sprintf("%s wall: %s", name, describe(side, o)))
				break
			}
		}
	}
	if len(d.Roof) == 0 {
		bays := len(p.Shed.Frames) - 1
		d.Roof = []int{0}
		if bays > 1 {
			d.Roof = []int{0, bays - 1}
		}
		added = append(added, fmt.Sprintf("roof: crossed rods in bays %v", oneBased(d.Roof)))
	}
	if !p.Shed.HasRidge() {
		d.Struts.Ridge = true // there is none to add
	}
	for _, s := range []struct {
		has  *bool
		text string
	}{{&d.Struts.Eaves, "struts at the eaves"}, {&d.Struts.Ridge, "a strut along the ridge"}, {&d.Struts.Nodes, "struts at the mullion heads and other nodes of the roof bracing"}} {
		if !*s.has {
			*s.has = true
			added = append(added, s.text)
		}
	}
	chosen, err := p.fillSteel(&d)
	return &d, append(added, chosen...), err
}

// fillSteel gives every group without a section the lightest of its stock that is not too slender.
func (p *Problem) fillSteel(d *shed.Design) (said []string, err error) {
	lists := map[brief.Group][]shed.Steel{}
	var groups []brief.Group
	for _, g := range p.Shed.UsedGroups(d) {
		if d.Of(g).Section != nil {
			continue
		}
		if lists[g], err = stock(p.Brief, g, shed.Steel{}); err != nil {
			return nil, err
		}
		groups = append(groups, g)
	}
	for _, g := range groups {
		d.Steel[g] = lists[g][0]
	}
	for _, g := range groups {
		d.Steel[g] = notSlender(lists[g], p.longestOf(d, g))
		said = append(said, fmt.Sprintf("%s: %s, the lightest of the stock with a slenderness up to %d", g, d.Steel[g], slendernessLimit))
	}
	return said, nil
}

// slendernessLimit is the greatest length over radius of gyration for a brace that is added to a proposal: site practice
// for struts; the checks decide afterwards.
const slendernessLimit = 200

// notSlender is the lightest section of a list, ordered by mass, that is not too slender over a length; rods always pass.
func notSlender(list []shed.Steel, length float64) shed.Steel {
	for _, s := range list {
		if s.Section.Family == catalog.Rod || s.Section.Props.Rmin*slendernessLimit >= length {
			return s
		}
	}
	return list[len(list)-1]
}

// longestOf is the length of the longest member of a group.
func (p *Problem) longestOf(d *shed.Design, g brief.Group) float64 {
	longest := 0.0
	for _, m := range p.Shed.Build(d).Structure.Members {
		if m.Group == string(g) {
			longest = math.Max(longest, m.Length)
		}
	}
	return longest
}

// AssessBraced judges the proposal with its missing links added and its own secondaries.
func (p *Problem) AssessBraced() (*Assessment, []string, error) {
	d, added, err := p.Braced()
	if err != nil {
		return nil, nil, err
	}
	a, err := newStartedJudge(p).assess(d, p.bench.drawn)
	if err == nil {
		a.holdDetails()
	}
	return a, added, err
}

// Start are points that the first population should contain: what was drawn, as it is and with its missing links.
func (p *Problem) Start() [][]int {
	var out [][]int
	drawn, _ := p.Encode(p.Drawn)
	out = append(out, drawn)
	if d, _, err := p.Braced(); err == nil {
		braced, _ := p.Encode(d)
		out = append(out, braced)
	}
	return out
}

// Pack is the name of the action codes, and what they and the checks leave out.
func (p *Problem) Pack() (name string, overrides string) {
	return p.bench.pack.Name(), p.bench.pack.Overrides().Digest()
}

// NotCovered lists what the action codes' pack leaves out.
func (p *Problem) NotCovered() []string { return p.bench.pack.NotCovered() }

// SteelOf names the section of a group in an assessed design, secondaries included.
func (p *Problem) SteelOf(a *Assessment, g brief.Group) string {
	if s := a.secondaries.Of(g); s != nil {
		return s.Name
	}
	if c := a.Design.Of(g); c.Section != nil {
		return c.String()
	}
	return ""
}
