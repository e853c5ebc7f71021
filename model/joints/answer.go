package joints

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"leanbay/solver/checks"
)

// Joints are the kinds of joint that the shed has, in the order of tables. Call it once all combinations were added.
func (c *Collector) Joints() []Joint {
	var out []Joint
	for k := range c.joints {
		if g := &c.joints[k]; g.count > 0 {
			out = append(out, c.joint(k, g))
		}
	}
	return out
}

// joint writes one kind up: status, checks with their working, and what is left out.
func (c *Collector) joint(k int, g *gathered) Joint {
	j := Joint{Kind: kinds[k].kind, Count: g.count, Demand: g.demand, Governs: -1, Clearing: c.places[g.first].least.words}
	switch {
	case g.detail != nil && len(g.open) == 0:
		j.Status = Checked
	case g.detail != nil && len(g.worst) > 0:
		j.Status = CheckedPart
	case g.detail == nil && c.places[g.first].rigid():
		j.Status = Assumed
	default:
		j.Status = ToBeDesigned
	}
	switch {
	case g.detail != nil:
		j.Detail = g.detail.words()
		j.NotDone = g.detail.notDone()
		for _, o := range g.open {
			j.NotDone = append(j.NotDone, "not stated: "+o)
		}
	case j.Status == Assumed:
		j.Detail = fmt.Sprintf("full-strength end plate assumed, hollow walls of at least %.0f mm, either sign of moment", KneeWall*1e3)
		j.NotDone = []string{"plate, bolts, welds, and the walls or webs within the joint"}
	default:
		j.Detail = "none stated"
	}
	for i, w := range g.worst {
		j.Checks = append(j.Checks, c.write(&w))
		if j.Governs < 0 || w.u > g.worst[j.Governs].u {
			j.Governs = i
		}
	}
	c.work(g, &j.Working)
	return j
}

// write turns a governing joint into a check.
func (c *Collector) write(x *worst) Check {
	return Check{Result: checks.Result{Name: x.name, Clause: x.clause, Utilisation: x.u, Raw: x.u, Station: math.NaN(), Combination: -1, Demand: x.demand, Capacity: x.capacity},
		Member: c.places[x.place].name, In: x.in, Alone: x.alone}
}

// work repeats every governing joint and action with its working, once for all the checks that it governs.
func (c *Collector) work(g *gathered, w *checks.Working) {
	for i := range g.worst {
		x := &g.worst[i]
		same := func(y worst) bool { return y.place == x.place && y.action == x.action }
		if slices.ContainsFunc(g.worst[:i], same) {
			continue
		}
		var names []string
		for _, y := range g.worst {
			if same(y) {
				names = append(names, y.name)
			}
		}
		p, in := &c.places[x.place], x.in
		if in == "" {
			in = "minimum design action, " + p.least.clause
		}
		a := &x.action
		w.Heading(fmt.Sprintf("%s: %s, %s: N* %.4g kN, V* %.4g and %.4g kN, M* %.4g and %.4g kN·m", strings.Join(names, "; "), p.name, in,
			checks.KN(a.N)+0, checks.KN(a.V)+0, checks.KN(a.W)+0, checks.KNm(a.M)+0, checks.KNm(a.S)+0)) // no minus zero
		if g.detail != nil {
			g.detail.check(nil, p, x.action, w)
		} else {
			p.fullStrength(nil, x.action, w)
		}
	}
}
