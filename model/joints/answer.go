package joints

import (
	"fmt"
	"math"
	"slices"

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
	worst := slices.Clone(g.worst)
	for i, w := range worst {
		j.Checks = append(j.Checks, c.write(&w, g, &j.Working))
		if j.Governs < 0 || w.u > worst[j.Governs].u {
			j.Governs = i
		}
	}
	return j
}

// write turns a governing joint into a check and repeats it with its working.
func (c *Collector) write(x *worst, g *gathered, w *checks.Working) Check {
	p := &c.places[x.place]
	out := Check{Result: checks.Result{Name: x.name, Clause: x.clause, Utilisation: x.u, Raw: x.u, Station: math.NaN(), Combination: -1, Demand: x.demand, Capacity: x.capacity},
		Member: p.name, In: x.in, Alone: x.alone}
	in := x.in
	if in == "" {
		in = "minimum design action, " + p.least.clause
	}
	a := &x.action
	w.Heading(fmt.Sprintf("%s, %s: %s: N* %.4g kN, V* %.4g and %.4g kN, M* %.4g and %.4g kN·m", x.name, p.name, in,
		checks.KN(a.N)+0, checks.KN(a.V)+0, checks.KN(a.W)+0, checks.KNm(a.M)+0, checks.KNm(a.S)+0)) // no minus zero
	if g.detail != nil {
		g.detail.check(nil, p, x.action, w)
	} else {
		p.fullStrength(nil, x.action, w)
	}
	return out
}
