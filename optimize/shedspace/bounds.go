package shedspace

import (
	"math"
	"slices"

	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/optimize"
)

var (
	_ optimize.Bounder        = (*Problem)(nil)
	_ optimize.PartialBounder = (*Problem)(nil)
)

// roundOff is taken off bounds of the mass: they add up in another order than the mass itself.
const roundOff = 1e-9

// Bound implements optimize.Bounder: the mass is known, secondaries and rules of pieces are checked, and whatever an
// analysis finds can only add to that.
func (p *Problem) Bound(point []int, _ string) optimize.Bound {
	d, _ := p.Decode(point)
	return p.boundBy(p.outline(d))
}

// boundBy draws the bound from an outline. What is failing already can stand on no front.
func (p *Problem) boundBy(a *Assessment) optimize.Bound {
	a.score(p.Brief.Limits.ServiceHard)
	if p.classOf(a) != ClassRanked {
		return p.never()
	}
	out := optimize.Bound{Objectives: p.values(a), CannotComply: !a.Complies}
	out.Objectives[0] *= 1 - roundOff // the mass comes first (choose)
	return out
}

// never is the bound of what cannot be on a front.
func (p *Problem) never() optimize.Bound {
	out := optimize.Bound{Objectives: make([]float64, len(p.objectives)), CannotComply: true}
	for i := range out.Objectives {
		out.Objectives[i] = math.Inf(1)
	}
	return out
}

// BoundPartial implements optimize.PartialBounder by mass: of groups whose section is not chosen yet, the lightest that is
// left of the stock; before the layout is complete, only frames and what the spacings decide.
func (p *Problem) BoundPartial(point []int, fixed int) optimize.Bound {
	if fixed == len(p.genes) {
		return p.Bound(point, "")
	}
	first := slices.IndexFunc(p.genes, func(g gene) bool { return len(g.groups) > 0 })
	d, _ := p.Decode(point)
	if first < 0 || fixed >= first {
		return p.boundLayout(d, point, fixed)
	}
	kg := math.Inf(1)
	for _, sp := range p.spacingsLeft(d, fixed) {
		with := *d
		with.PurlinSpacing, with.GirtSpacing, with.DrawnSecondaries = sp.purlin, sp.girt, false
		kg = math.Min(kg, p.leastFrame(&with, point, fixed))
	}
	return p.byMass(kg)
}

// byMass bounds the mass alone; no other objective is below its least.
func (p *Problem) byMass(kg float64) optimize.Bound {
	out := optimize.Bound{Objectives: make([]float64, len(p.objectives))}
	out.Objectives[0] = kg * (1 - roundOff)
	for i, o := range p.objectives {
		if o.Name == string(brief.ObjCompliance) {
			out.Objectives[i] = floorU
		}
	}
	return out
}

// boundLayout bounds designs of one layout of which some sections are chosen.
func (p *Problem) boundLayout(d *shed.Design, point []int, fixed int) optimize.Bound {
	l := p.layoutOf(d)
	if slices.ContainsFunc(l.findings, func(f shed.Finding) bool { return f.Missing }) {
		return p.never()
	}
	kg := l.Fixed
	for i := range l.Groups {
		kg += p.leastOf(&l.Groups[i], point, fixed)
	}
	return p.byMass(kg)
}

// leastFrame is the least mass of frames and secondaries whatever else the layout has.
func (p *Problem) leastFrame(d *shed.Design, point []int, fixed int) float64 {
	if d.DrawnSecondaries || p.wants(brief.ObjDepartures) {
		return 0 // drawn secondaries may be lighter than those that pass
	}
	l := p.layoutOf(d)
	kg := l.Fixed
	frames := p.frameGroups()
	for i := range l.Groups {
		if g := l.Groups[i]; slices.Contains(frames, g.Group) {
			g.FlyBraces = 0
			kg += p.leastOf(&g, point, fixed)
		}
	}
	return kg
}

// spacingsLeft are the pairs of spacings that the first fixed genes leave open. The two spacings are the first genes.
func (p *Problem) spacingsLeft(d *shed.Design, fixed int) []spacings {
	var out []spacings
	for sp := range p.bench.loads {
		if (fixed < 1 || sp.purlin == d.PurlinSpacing) && (fixed < 2 || sp.girt == d.GirtSpacing) {
			out = append(out, sp)
		}
	}
	return out
}

// leastOf is the least mass (kg) of a group: with its own section where all genes that decide it are fixed, else with any of
// its stock.
func (p *Problem) leastOf(g *shed.GroupWeight, point []int, fixed int) float64 {
	open, mine := false, []shed.Steel(nil)
	for i := range p.genes {
		if slices.Contains(p.genes[i].groups, g.Group) {
			open, mine = open || i >= fixed, p.genes[i].stock(g.Group)
		}
	}
	if len(mine) == 0 {
		return 0
	}
	if !open {
		d, _ := p.Decode(point)
		return g.Kilograms(d.Of(g.Group).Section)
	}
	least := math.Inf(1)
	for _, s := range mine {
		least = math.Min(least, g.Kilograms(s.Section))
	}
	return least
}
