package shed

import (
	"fmt"
	"slices"

	"leanbay/model/actions"
	"leanbay/model/brief"
	"leanbay/solver"
)

// kindOrder is the order in which a combination's terms are written.
var kindOrder = []solver.CaseKind{
	solver.KindPermanent, solver.KindPermanentExtra, solver.KindRoofImposed, solver.KindFloorImposed, solver.KindSnow,
	solver.KindWindUltimate, solver.KindWindService, solver.KindEarthquake, solver.KindNotional,
}

// alternatives are the kinds whose cases exclude each other: a combination with one of them is one combination for each
// of its cases. The cases of the other kinds act together.
var alternatives = map[solver.CaseKind]bool{
	solver.KindSnow: true, solver.KindWindUltimate: true, solver.KindWindService: true, solver.KindEarthquake: true, solver.KindNotional: true,
}

// Combine adds the brief's own combinations to the pack's, or puts them in their place where the brief says so. Each is
// made once for every case of wind, snow, earthquake or notional force that it names, the last two with either sign. A
// kind that the brief names and no case has is an error.
func Combine(b *brief.Brief, cases []actions.Case, pack []solver.Combination) ([]solver.Combination, error) {
	out := pack
	if b.Actions.ReplaceCombinations {
		out = nil
	}
	for i := range b.Actions.Combinations {
		own, err := expand(&b.Actions.Combinations[i], cases)
		if err != nil {
			return nil, b.Fault(fmt.Sprintf("actions.combinations[%d]", i), "%v", err)
		}
		out = append(out[:len(out):len(out)], own...)
	}
	return out, nil
}

// expand makes the combinations that one of the brief's own stands for.
func expand(c *brief.Combination, cases []actions.Case) ([]solver.Combination, error) {
	reason := "the brief's own"
	if c.Reason != "" {
		reason += ": " + c.Reason
	}
	out := []solver.Combination{{ID: c.Name, State: solver.LimitState(c.State), Reason: reason}}
	for _, kind := range kindOrder {
		factor, named := c.Terms[brief.ActionKind(kind)]
		if !named || factor == 0 {
			continue
		}
		var of []int
		for i := range cases {
			if cases[i].Kind == kind {
				of = append(of, i)
			}
		}
		if len(of) == 0 {
			return nil, fmt.Errorf("%s: no case of kind %s acts on this shed; leave it out", c.Name, kind)
		}
		if !alternatives[kind] {
			for k := range out {
				for _, i := range of {
					out[k].Terms = append(out[k].Terms, solver.Term{Case: i, Factor: factor})
				}
			}
			continue
		}
		var next []solver.Combination
		for _, o := range out {
			for _, i := range of {
				for _, sign := range signs(kind) {
					n := o
					n.ID = fmt.Sprintf("%s, %s", o.ID, cases[i].ID)
					if sign < 0 {
						n.ID += " reversed"
					}
					n.Terms = append(slices.Clone(o.Terms), solver.Term{Case: i, Factor: sign * factor})
					next = append(next, n)
				}
			}
		}
		out = next
	}
	return out, nil
}

// signs are the senses in which a kind's cases act: wind and snow as they are, shares of weight either way.
func signs(kind solver.CaseKind) []float64 {
	if kind == solver.KindEarthquake || kind == solver.KindNotional {
		return []float64{1, -1}
	}
	return []float64{1}
}
