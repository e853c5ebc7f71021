package shedspace

import (
	"context"
	"math"
	"slices"
	"strings"

	"leanbay/model/shed"
	"leanbay/optimize"
)

// Step is what one step of one decision does to a design: the next option up or down its list.
type Step struct {
	Decision string
	Up       bool
	From, To string
	Mass     float64 // kg more (less is negative)
	U        float64
	Class    int
	Complies bool
	Limit    string  // what it uses most, or breaks, in words
	Use      float64 // of that limit
}

// Steps judges every single step of an ordered decision from a point, with so many workers. Steps that repair takes back are left
// out.
func (p *Problem) Steps(point []int, workers int) ([]Step, error) {
	d, point := p.Decode(point)
	key := p.Key(d)
	out, designs := []Step{{}}, []*shed.Design{d} // where it starts comes first
	for i := range p.genes {
		g := &p.genes[i]
		if !g.Ordered || g.idle(d) {
			continue
		}
		for _, way := range []int{-1, 1} {
			o := point[i] + way
			if o < 0 || o >= g.Count() {
				continue
			}
			q := slices.Clone(point)
			q[i] = o
			next, q := p.Decode(q)
			if q[i] != o || p.Key(next) == key {
				continue
			}
			out = append(out, Step{Decision: g.Name, Up: way > 0, From: g.Options[point[i]], To: g.Options[o]})
			designs = append(designs, next)
		}
	}
	if err := p.judgeSteps(out, designs, workers); err != nil {
		return nil, err
	}
	for i := range out[1:] {
		out[i+1].Mass -= out[0].Mass
	}
	return out[1:], nil
}

// judgeSteps fills in what becomes of designs; masses are their own.
func (p *Problem) judgeSteps(out []Step, designs []*shed.Design, workers int) error {
	hands := make([]*judge, min(workers, len(designs)))
	for i := range hands {
		hands[i] = newJudge(p)
		hands[i].quick, hands[i].figures = true, true
	}
	return optimize.Share(context.Background(), hands, len(designs), func(j *judge, i int) error {
		a, err := j.assess(designs[i], p.setupOf(designs[i]))
		if err != nil {
			return err
		}
		s := &out[i]
		s.Mass, s.U, s.Class, s.Complies = a.Mass.Total, a.U, a.Class, a.Complies
		s.Limit, s.Use = a.worstLimit()
		return nil
	})
}

// worstLimit names the limit that is used most, and its use; 0 for what is not stable.
func (a *Assessment) worstLimit() (name string, u float64) {
	if a.Class >= ClassUnstable {
		return a.Verdict(), 0
	}
	if g := a.Governing; g != nil {
		name, u = "strength of "+g.Group, g.Utilisation
	}
	for _, r := range a.Service {
		if r.Utilisation > u {
			name, u = r.Limit, r.Utilisation
		}
	}
	for _, r := range a.Rules {
		if r.Utilisation > math.Max(u, 1) {
			name, u = r.Rule, r.Utilisation
		}
	}
	return name, u
}

// Effect is what one limit costs, as far as the variants evaluated in a run show: masses in kg, NaN where no evaluated variant
// complies so.
type Effect struct {
	Limit     string
	Relaxed   float64 // lightest that complies if this limit alone is wider by the share
	Tightened float64 // lightest that complies if this limit alone is narrower by the share
}

// Sensitivity looks among evaluated variants for the lightest that comply when one limit at a time is moved by a share (0.05 is
// five per cent), and returns the lightest with the limits as they are. A better variant than those found may exist.
func (p *Problem) Sensitivity(seen []optimize.Variant, share float64) (lightest float64, out []Effect) {
	weighed := p.weighed(seen)
	names := p.limitNames()
	lightest = math.NaN()
	for _, n := range names {
		out = append(out, Effect{n, math.NaN(), math.NaN()})
	}
	for _, w := range weighed {
		if w.keeps(-1, 1) {
			lightest = lesser(lightest, w.mass)
		}
		for i := range names {
			if w.keeps(i, 1+share) {
				out[i].Relaxed = lesser(out[i].Relaxed, w.mass)
			}
			if w.keeps(i, 1-share) {
				out[i].Tightened = lesser(out[i].Tightened, w.mass)
			}
		}
	}
	return lightest, out
}

// lesser is the lesser of two masses of which the first may be missing.
func lesser(a, b float64) float64 {
	if math.IsNaN(a) || b < a {
		return b
	}
	return a
}

// weighedVariant is a variant with its mass and its utilisation of each limit.
type weighedVariant struct {
	mass float64
	use  []float64
}

// keeps says whether the variant keeps all limits when limit i is multiplied by a factor (i < 0: none is).
func (w *weighedVariant) keeps(i int, factor float64) bool {
	for k, u := range w.use {
		limit := 1.0
		if k == i {
			limit = factor
		}
		if u > limit {
			return false
		}
	}
	return true
}

// limitNames are the limits whose effect is looked for: strength of each group, then service limits, where they bind.
func (p *Problem) limitNames() []string {
	var out []string
	for _, g := range measured {
		out = append(out, "strength of "+string(g))
	}
	if p.Brief.Limits.ServiceHard {
		for _, k := range serviceKinds {
			out = append(out, strings.TrimSuffix(k, ","))
		}
	}
	return out
}

// weighed keeps the variants about which everything is known and that break nothing but the limits of limitNames.
func (p *Problem) weighed(seen []optimize.Variant) []weighedVariant {
	var out []weighedVariant
	for i := range seen {
		v := &seen[i]
		if v.Score.Measures == nil || v.Score.Measures[len(measured)] == unknownMeasure { // every shed has columns: no complete list
			continue
		}
		d, _ := p.Decode(v.Point)
		a := p.outline(d)
		if slices.ContainsFunc(a.Findings, func(f shed.Finding) bool { return f.Missing }) {
			continue
		}
		p.addMeasures(a, v.Score.Measures, p.Shed.UsedGroups(d))
		p.score(a)
		if a.breaksOther(v.Score.Violation) {
			continue
		}
		w := weighedVariant{mass: a.Mass.Total}
		for _, g := range measured {
			w.use = append(w.use, a.utilisationOf(string(g)))
		}
		if p.Brief.Limits.ServiceHard {
			for _, s := range a.Service {
				w.use = append(w.use, s.Utilisation)
			}
		}
		out = append(out, w)
	}
	return out
}

// breaksOther says that a design breaks a rule, has a secondary that fails, or fails in what no measure shows (the buckling
// factor): its violation was then found greater.
func (a *Assessment) breaksOther(found float64) bool {
	for _, r := range a.Rules {
		if r.Utilisation > 1 {
			return true
		}
	}
	for i := range a.Groups {
		if isSecondary[a.Groups[i].Group] && a.Groups[i].Utilisation > 1 {
			return true
		}
	}
	return found > a.Violation+1e-6
}
