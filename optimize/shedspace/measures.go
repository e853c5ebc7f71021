package shedspace

import (
	"slices"
	"strings"

	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/optimize"
	"leanbay/solver/checks"
)

var _ optimize.Guesser = (*Problem)(nil)

// serviceKinds begin the names of the service limits, in the order of the measures.
var serviceKinds = []string{
	"eaves sway across", "eaves sway along", "adjacent frames", "mullion,", "rafter, service wind", "rafter, imposed", "rafter, permanent",
	"floor beam, total", "floor beam, imposed", "floor under 1 kN",
}

// measured are the groups whose utilisation is a measure: all but secondaries, whose check needs no analysis.
var measured = func() []brief.Group {
	var out []brief.Group
	for _, g := range brief.Groups {
		if !g.Secondary {
			out = append(out, g.Name)
		}
	}
	return out
}()

// unknownMeasure stands for a check that was not made: a group that the design does not have, or what the search did not
// come to because the design fails by far.
const unknownMeasure = -1

// measures lists the utilisations of an assessment: each group in the whole shed, each group at its worst, each service
// limit. Of what is not stable there are none.
func (a *Assessment) measures() []float64 {
	if a.Class >= ClassUnstable {
		return nil
	}
	out := make([]float64, 0, 2*len(measured)+len(serviceKinds))
	complete := len(a.Service) > 0
	for _, g := range measured {
		out = append(out, known(a.whole[string(g)]))
	}
	for _, g := range measured {
		u := unknownMeasure + 0.0
		if complete {
			u = known(a.utilisationOf(string(g)))
		}
		out = append(out, u)
	}
	for _, kind := range serviceKinds {
		u := 0.0
		for i := range a.Service {
			if strings.HasPrefix(a.Service[i].Limit, kind) {
				u = max(u, a.Service[i].Utilisation)
			}
		}
		out = append(out, known(u))
	}
	return out
}

// known is a utilisation as a measure; none is not known.
func known(u float64) float64 {
	if u > 0 {
		return u
	}
	return unknownMeasure
}

// utilisationOf is that of a group; 0 if it was not checked.
func (a *Assessment) utilisationOf(group string) float64 {
	for i := range a.Groups {
		if a.Groups[i].Group == group {
			return a.Groups[i].Utilisation
		}
	}
	return 0
}

// noteWhole keeps the utilisations found in the whole shed, before inner frames are looked at alone.
func (a *Assessment) noteWhole() {
	if a.whole == nil {
		a.whole = map[string]float64{}
	}
	for i := range a.Groups {
		a.whole[a.Groups[i].Group] = a.Groups[i].Utilisation
	}
}

// Guess implements optimize.Guesser: mass, links, secondaries and rules of pieces and fit as they are; utilisations from the measures.
// What no measure says is taken to pass. The score lists no measures.
func (p *Problem) Guess(point []int, _ string, measures []float64) optimize.Score {
	at, o := p.planOf(point), outliners.Get().(*outliner)
	defer outliners.Put(o)
	p.designIn(&o.d, at, point)
	a := o.outlineIn(p, p.laidBy(at, &o.d), &o.d)
	p.addMeasures(a, measures, at.used)
	p.score(a)
	return p.ranked(a)
}

// addMeasures reads measures into an outline; those of groups that the design does not use mean nothing.
func (p *Problem) addMeasures(a *Assessment, measures []float64, used []brief.Group) {
	n := len(measured)
	for i, g := range measured {
		if slices.Contains(used, g) {
			a.note(string(g), "", "", false, checks.Result{Utilisation: max(measures[i], measures[n+i], 0)})
		}
	}
	for i, kind := range serviceKinds {
		a.Service = append(a.Service, ServiceResult{Limit: kind, Utilisation: max(measures[2*n+i], 0)})
	}
}

// valuesOf are numbers that the effects of a stock's sections go with, for models of what was evaluated: a rod's strength;
// else its stiffness, with a share of the yield so that grades of one section differ.
func valuesOf(list []shed.Steel) []float64 {
	out := make([]float64, len(list))
	for i, s := range list {
		out[i] = worth(s)
	}
	return out
}
