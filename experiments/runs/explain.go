package runs

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"leanbay/optimize"
	"leanbay/optimize/shedspace"
)

// Explain says in words and figures what a front has in common, what trades off along it, and what each limit costs. It speaks
// of the complying variants; masses are in kg.
type Explain struct {
	Text   []string          `json:"text"`
	Same   map[string]string `json:"same"`    // decisions that are alike in all complying variants
	Trades []Trade           `json:"trades"`  // the others
	SitsOn []Sits            `json:"sits_on"` // limits by the number of variants that use them up
	Steps  []StepCost        `json:"steps"`   // from the lightest complying variant, one decision one option down or up
	// Limits is what each limit costs: the lightest complying variant with the limit moved by 5 %, among those evaluated in the
	// run. A better one may exist.
	Limits []LimitCost `json:"limits"`
}

// Trade is a decision that changes along the front.
type Trade struct {
	Decision string   `json:"decision"`
	Options  []string `json:"options"` // of each complying variant, lightest first; "-" where it does not arise
}

// Sits says which variants use a limit up to at least 97 %.
type Sits struct {
	Limit    string   `json:"limit"`
	Variants []string `json:"variants"` // keys
}

// StepCost is one step from the lightest complying variant.
type StepCost struct {
	Decision    string  `json:"decision"`
	From        string  `json:"from"`
	To          string  `json:"to"`
	Mass        float64 `json:"mass_kg"` // more than the lightest has
	Utilisation float64 `json:"utilisation"`
	Complies    bool    `json:"complies"`
	Limit       string  `json:"limit"` // what it uses most, or breaks
	Use         float64 `json:"use"`   // of that limit; 0 where the design is not stable
}

// LimitCost is what moving one limit by 5 % does to the lightest mass; nil where no evaluated variant shows it.
type LimitCost struct {
	Limit   string   `json:"limit"`
	Wider   *float64 `json:"wider_kg"`    // 0 or less
	Tighter *float64 `json:"narrower_kg"` // 0 or more
}

// sitsAt is the use from which on a variant sits on a limit, and moved the share by which limits are moved.
const (
	sitsAt = 0.97
	moved  = 0.05
)

// explain reads a front and the run's evaluated variants. Without a complying variant it only says so.
func explain(p *shedspace.Problem, f *Front, points map[string][]int, seen []optimize.Variant, workers int) (*Explain, error) {
	var ok []*Variant
	for i := range f.Variants {
		if f.Variants[i].Complies {
			ok = append(ok, &f.Variants[i])
		}
	}
	e := &Explain{}
	if len(ok) == 0 {
		e.Text = []string{"No complying variant was found; the variants shown fail by the utilisation that stands beside them."}
		return e, nil
	}
	slices.SortStableFunc(ok, func(a, b *Variant) int { return sign(a.Mass - b.Mass) })
	e.decisions(ok)
	e.sits(ok)
	steps, err := p.Steps(points[ok[0].Key], workers)
	if err != nil {
		return nil, err
	}
	for _, s := range steps {
		e.Steps = append(e.Steps, StepCost{s.Decision, s.From, s.To, s.Mass, s.U, s.Complies, s.Limit, s.Use})
	}
	slices.SortStableFunc(e.Steps, func(a, b StepCost) int { return sign(a.Mass - b.Mass) })
	e.limits(p, seen)
	e.Text = e.words(len(ok), ok[0].Utilisation)
	return e, nil
}

func sign(v float64) int {
	switch {
	case v < 0:
		return -1
	case v > 0:
		return 1
	}
	return 0
}

// decisions parts what is alike from what trades off.
func (e *Explain) decisions(ok []*Variant) {
	names := map[string]bool{}
	for _, v := range ok {
		for n := range v.Design {
			names[n] = true
		}
	}
	e.Same = map[string]string{}
	for _, n := range slices.Sorted(maps.Keys(names)) {
		t := Trade{Decision: n}
		for _, v := range ok {
			o := v.Design[n]
			if o == "" {
				o = "-"
			}
			t.Options = append(t.Options, o)
		}
		if first := t.Options[0]; !slices.ContainsFunc(t.Options, func(o string) bool { return o != first }) {
			e.Same[n] = first
		} else {
			e.Trades = append(e.Trades, t)
		}
	}
}

// sits lists the limits that variants use up, those of most variants first.
func (e *Explain) sits(ok []*Variant) {
	keys := map[string][]string{}
	for _, v := range ok {
		for _, l := range v.usedUp() {
			keys[l] = append(keys[l], v.Key)
		}
	}
	for _, l := range slices.Sorted(maps.Keys(keys)) {
		e.SitsOn = append(e.SitsOn, Sits{l, keys[l]})
	}
	slices.SortStableFunc(e.SitsOn, func(a, b Sits) int { return len(b.Variants) - len(a.Variants) })
}

// usedUp names the limits that a variant sits on.
func (v *Variant) usedUp() []string {
	var out []string
	if g := v.Governing; g != nil && g.Utilisation >= sitsAt {
		out = append(out, "strength: "+groupOf(g.Member)+", "+g.Check)
	}
	for _, s := range v.Service {
		if s.Utilisation >= sitsAt {
			out = append(out, s.Limit)
		}
	}
	return out
}

// groupOf is the first part of a member's name.
func groupOf(member string) string {
	group, _, _ := strings.Cut(member, "/")
	return group
}

// limits asks what each limit costs, the dearest first; limits that move nothing either way are left out.
func (e *Explain) limits(p *shedspace.Problem, seen []optimize.Variant) {
	lightest, effects := p.Sensitivity(seen, moved)
	for _, x := range effects {
		c := LimitCost{Limit: x.Limit, Wider: difference(x.Relaxed, lightest), Tighter: difference(x.Tightened, lightest)}
		if c.Wider != nil && *c.Wider < 0 || c.Tighter == nil || *c.Tighter > 0 {
			e.Limits = append(e.Limits, c)
		}
	}
	slices.SortStableFunc(e.Limits, func(a, b LimitCost) int { return sign(a.least() - b.least()) })
}

func difference(a, b float64) *float64 {
	if math.IsNaN(a) || math.IsNaN(b) {
		return nil
	}
	d := a - b
	return &d
}

func (c LimitCost) least() float64 {
	if c.Wider == nil {
		return 0
	}
	return *c.Wider
}

// words says it in sentences.
func (e *Explain) words(n int, u float64) []string {
	out := []string{e.sameWords(n)}
	for i := range e.Trades {
		out = append(out, e.Trades[i].words())
	}
	for _, s := range e.SitsOn {
		out = append(out, fmt.Sprintf("%d of %d sit on: %s.", len(s.Variants), n, s.Limit))
	}
	if s := e.nextLighter(); s != nil {
		out = append(out, fmt.Sprintf("From the lightest, the step that saves most is %s from %s to %s: %.0f kg, %s.", s.Decision, s.From, s.To, -s.Mass, s.fate()))
	}
	if s := e.cheapestReserve(u); s != nil {
		out = append(out, fmt.Sprintf("The cheapest step that leaves the lightest more reserve is %s from %s to %s: %.0f kg for a utilisation of %.3f.", s.Decision, s.From, s.To, s.Mass, s.Utilisation))
	}
	for _, c := range e.Limits {
		if c.Wider != nil && *c.Wider <= -1 {
			out = append(out, fmt.Sprintf("If %s might be used to %.0f %%, %.0f kg less would do (among the variants evaluated).", c.Limit, 100*(1+moved), -*c.Wider))
		}
	}
	return out
}

// sameWords lists what is alike.
func (e *Explain) sameWords(n int) string {
	if n == 1 {
		return "One complying variant: nothing trades off."
	}
	var parts []string
	for _, name := range slices.Sorted(maps.Keys(e.Same)) {
		parts = append(parts, name+" "+e.Same[name])
	}
	if len(parts) == 0 {
		return fmt.Sprintf("No decision is the same in all %d complying variants.", n)
	}
	return fmt.Sprintf("The same in all %d complying variants: %s.", n, strings.Join(parts, "; "))
}

// words says how a decision changes from the lightest variant on.
func (t *Trade) words() string {
	var steps []string
	for i, o := range t.Options {
		if i == 0 || o != t.Options[i-1] {
			steps = append(steps, o)
		}
	}
	const most = 5
	if len(steps) > most {
		distinct := slices.Compact(slices.Sorted(slices.Values(steps)))
		return fmt.Sprintf("%s changes %d times among %d options, from %s (lightest) to %s (most reserve).", t.Decision, len(steps)-1, len(distinct), steps[0], steps[len(steps)-1])
	}
	return fmt.Sprintf("%s trades off, from the lightest on: %s.", t.Decision, strings.Join(steps, ", then "))
}

// nextLighter is the step that saves most, or nil.
func (e *Explain) nextLighter() *StepCost {
	if len(e.Steps) > 0 && e.Steps[0].Mass < 0 {
		return &e.Steps[0]
	}
	return nil
}

// fate says what becomes of a step's design.
func (s *StepCost) fate() string {
	if s.Complies {
		return "and it would still comply: another objective pays for it, or the search ended before it came to it"
	}
	if s.Use == 0 {
		return "but then it is " + s.Limit
	}
	return fmt.Sprintf("but then %s is used to %.3f", s.Limit, s.Use)
}

// cheapestReserve is the step that adds least mass to bring the utilisation from u down by a hundredth or more; nil if none does.
func (e *Explain) cheapestReserve(u float64) *StepCost {
	best := -1
	for i, s := range e.Steps {
		if s.Complies && s.Mass > 0 && s.Utilisation <= u-0.01 && (best < 0 || s.Mass < e.Steps[best].Mass) {
			best = i
		}
	}
	if best < 0 {
		return nil
	}
	return &e.Steps[best]
}
