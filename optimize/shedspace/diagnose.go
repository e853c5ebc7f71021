package shedspace

import (
	"fmt"
	"math"
	"slices"

	"leanbay/model/brief"
	"leanbay/model/shed"
)

// Assumption is something that is taken for granted, and what becomes of a design where it is taken otherwise.
type Assumption struct {
	Taken     string // what is assumed
	Otherwise string // what was tried instead
	Verdict   string // of the design then
	Complies  bool
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
	base, err := q.Assess(e)
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
		a, err := q.Assess(e)
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
	out := Assumption{Taken: taken, Otherwise: otherwise, Verdict: a.Verdict(), Complies: a.Complies, U: a.U}
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
