package runs

import (
	"context"
	"fmt"
	"slices"

	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/optimize"
	"leanbay/optimize/shedspace"
	"leanbay/solver"
)

// Advice is the front of mass against departures from the drawing, among variants that comply: fewest departures first.
type Advice struct {
	Brief       string          `json:"brief"`
	BriefHash   string          `json:"brief_hash"`
	Seed        uint64          `json:"seed"`
	Version     string          `json:"version"`
	Caution     string          `json:"caution"`
	Evaluations int             `json:"evaluations"`
	Stopped     optimize.Reason `json:"stopped_because"`
	Proposal    Scores          `json:"proposal"`
	Currency    string          `json:"currency,omitempty"`
	Steps       []AdviceStep    `json:"steps"`
	NotCovered  []string        `json:"not_covered"`
}

// AdviceStep is one variant: how far it departs from the drawing, what it weighs, and what it changes against the step
// before. Masses are in kg, costs in the price list's currency for steel and bases alone.
type AdviceStep struct {
	Key     string   `json:"key"`
	Weight  float64  `json:"departures_weight"`
	Mass    float64  `json:"mass"`
	Saved   float64  `json:"saved"` // kg against the step before
	Cost    float64  `json:"steel_cost,omitempty"`
	Changes []string `json:"changes"`  // against the drawing
	New     []string `json:"new"`      // against the step before
	Dropped []string `json:"not_done"` // changes of the step before that this one does without
	// Why says of the changes of the first step what fails without each.
	Why map[string]string `json:"why,omitempty"`
	Scores
}

// adviceShare is the part of the evaluations that goes into changing one decision at a time; the search gets the rest.
const adviceShare = 0.4

// Advise finds what to change in the drawing: from the least that makes it comply to what saves most. look sees every
// generation of the search. The same seed gives the same advice.
func Advise(ctx context.Context, b *brief.Brief, s Settings, look func(optimize.State)) (*Advice, error) {
	p, err := shedspace.New(b, string(brief.ObjMass), string(brief.ObjDepartures))
	if err != nil {
		return nil, err
	}
	start, first, err := p.Repaired(ctx, shedspace.Mending{Budget: int(adviceShare * float64(s.Evaluations)), Workers: s.workers(), Watch: s.Mending})
	if err != nil {
		return nil, err
	}
	res, err := optimize.Run(ctx, p, optimize.Config{
		Seed: s.Seed, Population: s.Population, Islands: s.Islands, Workers: s.Workers, Start: append(start, p.Start()...), Stones: 1,
		Stop: optimize.Stop{Evaluations: max(s.Evaluations-first, 1), Generations: s.Generations, Stagnation: s.Stagnation},
	}, lookOnly(look))
	if err != nil {
		return nil, err
	}
	drawn, err := p.AssessProposal()
	if err != nil {
		return nil, err
	}
	out := &Advice{
		Brief: b.Name, BriefHash: b.Hash(), Seed: s.Seed, Version: Version, Caution: solver.Caution,
		Evaluations: res.Evaluations + first, Stopped: res.Reason, Proposal: NewScores(drawn), NotCovered: NotCovered(p),
	}
	return out, out.fill(p, res.Front)
}

// leastWorth is the saving against the step before below which a step is not told (kg): a letter to a fabricator does not
// ask for another section to save less.
const leastWorth = 20.0

// fill turns a front into steps: each variant is judged in full again, and only those that then comply are told.
func (a *Advice) fill(p *shedspace.Problem, front []optimize.Variant) error {
	for i := range front {
		d, _ := p.Decode(front[i].Point)
		as, err := p.Assess(d)
		if err != nil {
			return err
		}
		if !as.Complies {
			continue
		}
		list := p.Departures(d)
		step := AdviceStep{Key: front[i].Key, Weight: shed.TotalWeight(list), Mass: as.Mass.Total, Scores: NewScores(as)}
		for _, x := range list {
			step.Changes = append(step.Changes, x.Text)
		}
		if cost, currency, ok := p.SteelCost(as); ok {
			step.Cost, a.Currency = cost, currency
		}
		a.Steps = append(a.Steps, step)
	}
	slices.SortStableFunc(a.Steps, func(x, y AdviceStep) int {
		switch {
		case x.Weight < y.Weight:
			return -1
		case x.Weight > y.Weight:
			return 1
		case x.Mass < y.Mass:
			return -1
		}
		return 1
	})
	worth := a.Steps[:0]
	for _, step := range a.Steps {
		if len(worth) == 0 || worth[len(worth)-1].Mass-step.Mass >= leastWorth {
			worth = append(worth, step)
		}
	}
	a.Steps = worth
	if len(worth) > 0 {
		first := slices.IndexFunc(front, func(v optimize.Variant) bool { return v.Key == worth[0].Key })
		var err error
		if worth[0].Why, err = p.Needed(front[first].Point); err != nil {
			return err
		}
	}
	for i := range a.Steps {
		step := &a.Steps[i]
		if i == 0 {
			step.New = step.Changes
			continue
		}
		before := &a.Steps[i-1]
		step.Saved = before.Mass - step.Mass
		step.New, step.Dropped = minus(step.Changes, before.Changes), minus(before.Changes, step.Changes)
	}
	return nil
}

// minus lists the entries of a that b has not.
func minus(a, b []string) []string {
	var out []string
	for _, x := range a {
		if !slices.Contains(b, x) {
			out = append(out, x)
		}
	}
	return out
}

// Headline says in one sentence what a step is.
func (a *Advice) Headline(i int) string {
	s := &a.Steps[i]
	cost := ""
	if a.Currency != "" {
		cost = fmt.Sprintf(", steel and bases %.0f %s", s.Cost, a.Currency)
	}
	if i == 0 {
		return fmt.Sprintf("The least that makes the drawing comply: %s (weight %g), %s%s", changes(len(s.Changes)), s.Weight, a.against(s.Mass), cost)
	}
	return fmt.Sprintf("%s (weight %g), which saves %.0f kg more: %s%s", changes(len(s.Changes)), s.Weight, s.Saved, a.against(s.Mass), cost)
}

// changes counts changes in words.
func changes(n int) string {
	if n == 1 {
		return "one change"
	}
	return fmt.Sprintf("%d changes", n)
}

// against is a mass and how far it is from the drawing's.
func (a *Advice) against(mass float64) string {
	diff := mass - a.Proposal.Mass
	if diff < 0 {
		return fmt.Sprintf("%.0f kg in all, %.0f kg less than drawn", mass, -diff)
	}
	return fmt.Sprintf("%.0f kg in all, %.0f kg more than drawn", mass, diff)
}
