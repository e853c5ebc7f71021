package shedspace

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"leanbay/model/brief"
)

// Wishes say what a search minimises, and within what.
type Wishes struct {
	// Objectives by name (ObjectiveNames); none is mass and compliance. What is an objective is no hard limit: a design up to a
	// quarter beyond the brief's limit on it is kept as a stepping stone, and shown as not complying.
	Objectives []string
	// Limits are hard limits beside the brief's, "name=value" by the name of an objective: "departures=4", "compliance=0.95".
	Limits []string
}

// ownLimit is a hard limit on what could be an objective.
type ownLimit struct {
	objective objective
	value     float64
}

// readLimits reads the limits of Wishes.
func readLimits(list []string) ([]ownLimit, error) {
	var out []ownLimit
	for _, text := range list {
		name, value, ok := strings.Cut(text, "=")
		name = strings.TrimSpace(name)
		v, err := strconv.ParseFloat(strings.TrimSpace(value), 64)
		k := slices.IndexFunc(objectives, func(o objective) bool { return o.Name == name })
		switch {
		case !ok || err != nil || !(v > 0) || math.IsInf(v, 0):
			return nil, fmt.Errorf("limit %q: give a name and a number above 0, such as departures=4", text)
		case k < 0:
			return nil, fmt.Errorf("limit on %q is not known here; choose from %s", name, strings.Join(ObjectiveNames(), ", "))
		case objectives[k].dear != nil:
			return nil, fmt.Errorf("limit on %q: it is found for the front alone, so it can be an objective but no limit", name)
		case slices.ContainsFunc(out, func(l ownLimit) bool { return l.objective.Name == name }):
			return nil, fmt.Errorf("limit on %q is given twice; once is enough", name)
		}
		out = append(out, ownLimit{objectives[k], v})
	}
	return out, nil
}

// softService says that a service limit is an objective, and so not hard.
func (p *Problem) softService(limit string) bool {
	return p.wants(objService) || p.wants(brief.ObjSway) && isSway(limit)
}

// score sums an assessment up (engineering practice: class first, then the sum of what is too much, then the worst).
func (p *Problem) score(a *Assessment) {
	a.sumUp()
	hard, soft := 0.0, 0.0
	for i := range a.Service {
		u := a.Service[i].Utilisation
		switch {
		case p.softService(a.Service[i].Limit):
			soft = math.Max(soft, u)
		case p.Brief.Limits.ServiceHard:
			hard += excess(u)
		}
	}
	for i := range a.Rules {
		if u := a.Rules[i].Utilisation; a.Rules[i].Rule == ruleSections && p.wants(brief.ObjSections) {
			soft = math.Max(soft, u)
		} else {
			hard += excess(u)
		}
	}
	for i := range a.Findings {
		if a.Findings[i].Missing {
			hard += missingLink
		}
	}
	for _, l := range p.limits {
		hard += excess(l.objective.value(p, a) / l.value)
	}
	if soft > stoneLimit {
		hard += excess(soft)
	}
	a.classify(hard, soft)
}

// sumUp finds the greatest utilisation and the sum of what is too much.
func (a *Assessment) sumUp() {
	a.U, a.Violation, a.Governing = 0, 0, nil
	for i := range a.Groups {
		g := &a.Groups[i]
		a.Violation += excess(g.Utilisation)
		if isSecondary[g.Group] && g.Utilisation <= 1 {
			continue // the table takes the lightest that passes, which is always near 1: it says nothing of the frames' reserve
		}
		if g.Utilisation > a.U {
			a.U, a.Governing = g.Utilisation, g
		}
	}
}

// classify draws the class from the excess over hard limits and the greatest use of soft ones.
func (a *Assessment) classify(hard, soft float64) {
	a.Violation += hard
	switch {
	case a.Mechanism != "":
		a.Class = ClassMechanism
	case len(a.Trouble) > 0:
		a.Class = ClassUnstable
	case hard > 0 || a.U > stoneLimit:
		a.Class = ClassFailing
	default:
		a.Class = ClassRanked
	}
	a.Complies = a.Class == ClassRanked && a.U <= 1 && soft <= 1
}
