package shedspace

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"leanbay/model/brief"
	"leanbay/model/joints"
	"leanbay/model/shed"
)

// What a point of a diagnosis is about, in the order in which an engineer would raise it.
const (
	AboutStability  = "stability"
	AboutMissing    = "missing"
	AboutNote       = "load path"
	AboutStrength   = "too weak"
	AboutService    = "moves too much"
	AboutRule       = "not as the brief asks"
	AboutDetail     = "details"
	AboutAssumption = "assumption"
)

// DiagnosisPoint is one thing to raise.
type DiagnosisPoint struct {
	About string `json:"about"`
	Where string `json:"where,omitempty"`
	Text  string `json:"text"`
}

// Diagnosis lists what an engineer would raise of an assessed design, in that order: whether it stands, what is missing from
// the load path and how it goes where it is not straight, what fails and by how much, which details the drawings lack, and
// which assumptions decide. assumptions are those of the design; none leaves them out.
func (p *Problem) Diagnosis(a *Assessment, assumptions []Assumption) []DiagnosisPoint {
	var out []DiagnosisPoint
	add := func(about, where, format string, args ...any) {
		out = append(out, DiagnosisPoint{about, where, fmt.Sprintf(format, args...)})
	}
	if a.Mechanism != "" {
		add(AboutStability, "", "%s", a.Mechanism)
	}
	for _, t := range a.Trouble {
		add(AboutStability, "", "%s", t)
	}
	for _, f := range a.Findings {
		if f.Missing {
			add(AboutMissing, f.Where, "%s", f.Text)
		}
	}
	for _, f := range a.Findings {
		if !f.Missing {
			add(AboutNote, f.Where, "%s", f.Text)
		}
	}
	groups := slices.Clone(a.Groups)
	slices.SortStableFunc(groups, func(x, y GroupResult) int { return cmp.Compare(y.Utilisation, x.Utilisation) })
	for _, g := range groups {
		if g.Utilisation > 1 {
			under := ""
			if g.Combination != "" {
				under = " under " + g.Combination
			}
			add(AboutStrength, g.Group, "used to %.2f, %s%s (%s; %s)", g.Utilisation, g.Member, under, g.Name, g.Clause)
		}
	}
	service := slices.Clone(a.Service)
	slices.SortStableFunc(service, func(x, y ServiceResult) int { return cmp.Compare(y.Utilisation, x.Utilisation) })
	for _, s := range service {
		if s.Utilisation > 1 {
			add(AboutService, s.Where, "%s is used to %.2f, %.1f mm of %.1f mm under %s", s.Limit, s.Utilisation, math.Abs(s.Value)*1e3, s.Allowed*1e3, s.Combination)
		}
	}
	for _, r := range a.Rules {
		if r.Utilisation > 1 {
			add(AboutRule, r.Rule, "%s", r.Text)
		}
	}
	p.diagnoseDetails(a, add)
	for _, x := range assumptions {
		if x.Decides {
			add(AboutAssumption, "", "%s; if %s: %s", x.Taken, x.Otherwise, x.outcome())
		}
	}
	return out
}

// diagnoseDetails says which details are too weak, and which the drawing lacks.
func (p *Problem) diagnoseDetails(a *Assessment, add func(about, where, format string, args ...any)) {
	for _, t := range a.DetailFails {
		add(AboutDetail, "", "%s", t)
	}
	lacks := map[joints.Status][]string{}
	for i := range a.Connections {
		j := &a.Connections[i]
		lacks[j.Status] = append(lacks[j.Status], string(j.Kind))
		if j.Status == joints.Assumed && j.Utilisation() > 1 {
			add(AboutDetail, string(j.Kind), "no detail is drawn, and a full-strength joint of these members would be used to %.2f", j.Utilisation())
		}
	}
	if list := lacks[joints.Assumed]; len(list) > 0 {
		add(AboutDetail, "", "no detail is drawn of %s: full strength is assumed", strings.Join(list, ", "))
	}
	if list := lacks[joints.ToBeDesigned]; len(list) > 0 {
		add(AboutDetail, "", "no detail is drawn of %s: their design actions are listed, they are to be designed", strings.Join(list, ", "))
	}
	if p.Brief.Site.GroundBearing == 0 && len(a.Footings) > 0 {
		add(AboutDetail, "footings", "no bearing pressure of the ground is stated, so that no footing is sized (site.ground_bearing)")
	}
}

// outcome says what becomes of the design under the other assumption.
func (x *Assumption) outcome() string {
	if x.Complies {
		return fmt.Sprintf("it complies, at %.2f", x.U)
	}
	switch {
	case !x.Stands:
		return x.Verdict
	case x.Failing == 0:
		return "no check is beyond 1, and yet " + x.Verdict
	case x.Failing == 1:
		return fmt.Sprintf("%s, at %.2f, with one check beyond 1", x.Verdict, x.U)
	}
	return fmt.Sprintf("%s, at %.2f, with %d checks beyond 1", x.Verdict, x.U, x.Failing)
}

// Assumption is something that is taken for granted, and what becomes of a design where it is taken otherwise.
type Assumption struct {
	Taken     string // what is assumed
	Otherwise string // what was tried instead
	Verdict   string // of the design then
	Complies  bool
	Stands    bool // it is stable; else nothing was checked
	U         float64
	Failing   int // groups, limits and rules that fail then
	Decides   bool
}

// Assumptions judges a design again with each of its main assumptions taken otherwise, and says which of them decide: those
// that change whether it complies or is stable, or move its greatest utilisation, or a service limit's, by a tenth or more.
// The first entry is the design as it is. Those that decide come before the others.
func (p *Problem) Assumptions(d *shed.Design) ([]Assumption, error) {
	r := p.NewReviewer()
	q, e, err := r.under("", p.Brief, nil, d)
	if err != nil {
		return nil, err
	}
	quick := newJudge(p)
	quick.quick = true
	base, err := r.judge(quick, q, e)
	if err != nil {
		return nil, err
	}
	out := []Assumption{describeAssumption("as it is", "", base)}
	for _, c := range p.alternatives() {
		b := *p.Brief
		c.change(&b)
		q, e, err := r.under(c.otherwise, &b, nil, d)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", c.otherwise, err)
		}
		a, err := r.judge(quick, q, e)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", c.otherwise, err)
		}
		x := describeAssumption(c.taken, c.otherwise, a)
		x.Decides = a.Complies != base.Complies || a.Class != base.Class || math.Abs(a.U-base.U) >= 0.1 || math.Abs(worstService(a)-worstService(base)) >= 0.1
		out = append(out, x)
	}
	slices.SortStableFunc(out[1:], func(a, b Assumption) int {
		switch {
		case a.Decides == b.Decides:
			return 0
		case a.Decides:
			return -1
		}
		return 1
	})
	return out, nil
}

// alternative is an assumption of the brief or of the drawing, and its change.
type alternative struct {
	taken, otherwise string
	change           func(b *brief.Brief)
}

// alternatives lists the assumptions that this brief makes.
func (p *Problem) alternatives() []alternative {
	b := p.Brief
	var out []alternative
	add := func(taken, otherwise string, change func(b *brief.Brief)) {
		out = append(out, alternative{taken, otherwise, change})
	}
	if slices.ContainsFunc(b.Openings, func(o brief.Opening) bool { return o.State != brief.StaysShut }) {
		add("doors may be open in the design wind", "every door and window stays shut, rated for the wind", func(b *brief.Brief) {
			b.Openings = slices.Clone(b.Openings)
			for i := range b.Openings {
				b.Openings[i].State = brief.StaysShut
			}
		})
	}
	if b.Proposal.Bases.Columns.Kind != brief.FixedBase {
		add("column bases are pinned", "column bases are fixed, and footings made for it", func(b *brief.Brief) { b.Proposal.Bases.Columns = brief.Base{Kind: brief.FixedBase} })
	}
	if b.Limits.InnerFrames != brief.WholeShed {
		add("inner frames are judged alone too", "inner frames are judged in the whole shed only, held by the roof bracing", func(b *brief.Brief) { b.Limits.InnerFrames = brief.WholeShed })
	}
	if !b.Proposal.Mullions.Carry && len(p.Shed.Mullions[0])+len(p.Shed.Mullions[1]) > 0 {
		add("mullions do not carry the end rafters", "mullions carry the end rafters", func(b *brief.Brief) { b.Proposal.Mullions.Carry = true })
	}
	for i := range b.Mezzanines {
		was, word := b.Mezzanines[i].Diaphragm, map[bool]string{true: "a diaphragm", false: "no diaphragm"}
		name := p.Shed.Mezzanines[i].Name
		add(fmt.Sprintf("%s is %s", name, word[was]), fmt.Sprintf("%s is %s", name, word[!was]), func(b *brief.Brief) {
			b.Mezzanines = slices.Clone(b.Mezzanines)
			b.Mezzanines[i].Diaphragm = !was
		})
	}
	return out
}

// describeAssumption reads an assessment.
func describeAssumption(taken, otherwise string, a *Assessment) Assumption {
	out := Assumption{Taken: taken, Otherwise: otherwise, Verdict: a.Verdict(), Complies: a.Complies, Stands: a.Class < ClassUnstable, U: a.U}
	for i := range a.Groups {
		if a.Groups[i].Utilisation > 1 {
			out.Failing++
		}
	}
	for i := range a.Service {
		if a.Service[i].Utilisation > 1 {
			out.Failing++
		}
	}
	for i := range a.Rules {
		if a.Rules[i].Utilisation > 1 {
			out.Failing++
		}
	}
	return out
}

// worstService is the greatest use of a service limit.
func worstService(a *Assessment) float64 {
	worst := 0.0
	for i := range a.Service {
		worst = math.Max(worst, a.Service[i].Utilisation)
	}
	return worst
}
