package as4100

import (
	"fmt"
	"slices"
	"strings"

	"leanbay/catalog/typo"
	"leanbay/solver/checks"
)

// Rules are the coefficients in force: the code's own, or with some that the certifier set. They are read-only once checks
// run and may be shared. A nil *Rules is the code's own.
type Rules struct {
	factors  []Factor
	table52  []limitRow
	table624 []yieldRow
	alphaB   []alphaBRow
	tension  []TensionFactor
	moments  []momentFactorRow
	bolts    []boltStrength
	metals   []weldMetal
	least    []minimumRow
	named    []Coefficient // of the tables above, in order
	own      []checks.Step // those that the certifier set, for the working
}

// Coefficient is one figure of the rules with the name by which a certifier's file sets it.
type Coefficient struct {
	Name   string
	Value  float64
	Clause string
	Mark   string
	at     *float64 // its place in the tables
	mark   *string
}

// standard are the code's own rules.
var standard = NewRules()

// NewRules returns the code's own rules, to be changed by Override before they are used.
func NewRules() *Rules {
	r := &Rules{factors: slices.Clone(capacityFactors), table52: slices.Clone(table52), table624: slices.Clone(table624), alphaB: slices.Clone(alphaBTable),
		tension: slices.Clone(tensionFactors), moments: slices.Clone(momentFactors), bolts: slices.Clone(boltStrengths), metals: slices.Clone(weldMetals), least: slices.Clone(minimumActions)}
	r.name()
	return r
}

// in is r, or the code's own rules for nil.
func (r *Rules) in() *Rules {
	if r == nil {
		return standard
	}
	return r
}

// Phi is the capacity factor of members, PhiBolt of bolts, PhiPly of plies in bearing (Table 3.4).
func (r *Rules) Phi() float64 { return r.in().factors[factorMember].Value }

// PhiBolt is the capacity factor of bolts.
func (r *Rules) PhiBolt() float64 { return r.in().factors[factorBolt].Value }

// PhiPly is the capacity factor of a ply in bearing.
func (r *Rules) PhiPly() float64 { return r.in().factors[factorPly].Value }

// Phi is the capacity factor of members in the rules of c.
func (c *Capacity) Phi() float64 { return c.phi }

// factorNames are the names of the rows of Table 3.4.
var factorNames = [...]string{"member", "bolt", "ply", "block-shear", "butt-sp", "fillet-sp", "fillet-thin-tube", "weld-gp"}

// name lists the coefficients with their places.
func (r *Rules) name() {
	add := func(name string, v *float64, clause string, mark *string) {
		r.named = append(r.named, Coefficient{Name: "as4100." + strings.ReplaceAll(name, " ", "-"), Clause: clause, at: v, mark: mark})
	}
	for i := range r.factors {
		add("phi."+factorNames[i], &r.factors[i].Value, r.factors[i].Clause, &r.factors[i].Mark)
	}
	stresses := map[stress]string{uniform: "uniform", freeEdge: "free-edge", gradient: "gradient"}
	for i := range r.table52 {
		t := &r.table52[i]
		base := fmt.Sprintf("slenderness.%s.%s.%s", t.support, stresses[t.stress], t.class)
		add(base+".plastic", &t.ep, "AS 4100 Table 5.2", &t.mark)
		add(base+".yield", &t.ey, "AS 4100 Table 5.2", &t.mark)
	}
	for i := range r.table624 {
		t := &r.table624[i]
		add(fmt.Sprintf("compression.%s.%s.yield", t.support, t.class), &t.ey, "AS 4100 Table 6.2.4", &t.mark)
	}
	for i := range r.alphaB {
		t := &r.alphaB[i]
		add(fmt.Sprintf("alpha-b.%s.kf-1", t.family), &t.full, t.clause, &t.mark)
		add(fmt.Sprintf("alpha-b.%s.kf-less", t.family), &t.local, t.clause, &t.mark)
	}
	for i, n := range []string{"uniform", "angle-one-leg", "unequal-angle-short-leg", "channel-web", "tee-flange", "both-flanges"} {
		add("kt."+n, &r.tension[i].Kt, r.tension[i].Clause, &r.tension[i].Mark)
	}
	for i, n := range []string{"", "", "cantilever-moment", "cantilever-tip-load", "cantilever-uniform"} {
		if n != "" {
			add("alpha-m."+n, &r.moments[i].alphaM, r.moments[i].clause, &r.moments[i].mark)
		}
	}
	for i := range r.bolts {
		size := "all"
		if r.bolts[i].category == "8.8" {
			size = "below-M16"
			if i > 0 && r.bolts[i-1].category == "8.8" {
				size = "from-M16"
			}
		}
		add(fmt.Sprintf("bolt.%s.%s.fuf", r.bolts[i].category, size), &r.bolts[i].fuf, r.bolts[i].clause, &r.bolts[i].mark)
	}
	for i := range r.metals {
		add("weld."+r.metals[i].name+".fuw", &r.metals[i].fuw, r.metals[i].clause, &r.metals[i].mark)
	}
	for i := range r.least {
		add(fmt.Sprintf("minimum.%s", strings.ReplaceAll(string(r.least[i].kind), ",", "")), &r.least[i].share, r.least[i].clause, &r.least[i].mark)
	}
	for i := range r.named {
		r.named[i].Value, r.named[i].Mark = *r.named[i].at, *r.named[i].mark
	}
}

// Coefficients lists what a certifier's file can set, with the values in force. Strengths are in Pa.
func (r *Rules) Coefficients() []Coefficient {
	out := slices.Clone(r.in().named)
	for i := range out {
		out[i].Value, out[i].Mark = *out[i].at, *out[i].mark
	}
	return out
}

// Override sets a coefficient by its name and marks it as the certifier's. The error names the nearest where there is none
// such, and refuses values that are not positive (the section constant alpha_b may be of either sign).
func (r *Rules) Override(name string, value float64, reason string) error {
	best, least := "", 1<<30
	for i := range r.named {
		c := &r.named[i]
		if c.Name == name {
			if !(value > 0) && !strings.HasPrefix(name, "as4100.alpha-b.") {
				return fmt.Errorf("%s: %g is not positive", name, value)
			}
			*c.at, *c.mark = value, checks.MarkCertifier+reason
			r.own = append(r.own, checks.Step{Clause: c.Clause, Symbol: c.Name, Value: value, Mark: *c.mark})
			return nil
		}
		if d := typo.Distance(name, c.Name); d < least {
			best, least = c.Name, d
		}
	}
	return fmt.Errorf("no coefficient is named %q; the nearest is %q", name, best)
}
