package shedspace

import (
	"math"
	"slices"

	"leanbay/catalog"
	"leanbay/model/brief"
	"leanbay/model/joints"
	"leanbay/model/shed"
	"leanbay/optimize"
)

var (
	_ optimize.Bounder        = (*Problem)(nil)
	_ optimize.PartialBounder = (*Problem)(nil)
)

// roundOff is taken off bounds of mass and cost: they add up in another order than these do.
const roundOff = 1e-9

// Bound implements optimize.Bounder: mass and cost are known, secondaries and rules of pieces and fit are checked, and whatever
// an analysis finds can only add to that. It analyses nothing: a search asks it of far more variants than it evaluates.
func (p *Problem) Bound(point []int, _ string) optimize.Bound {
	at := p.planOf(point)
	if at.lacking { // before anything is laid down: half of the layouts that a search proposes are not needed
		return p.never()
	}
	o := outliners.Get().(*outliner)
	defer outliners.Put(o)
	d := &o.d
	p.designIn(d, at, point)
	if o.misfit(p, d) {
		return p.never()
	}
	return p.boundBy(o.outlineIn(p, p.laidBy(at, d), d), 0)
}

// misfit says whether a column and the rafter on it, or a prop on the ground and the rafter over it, do not fit. No objective softens
// that.
func (o *outliner) misfit(p *Problem, d *shed.Design) bool {
	var room [4][2]*catalog.Section
	knees, heads := room[:0:2], room[2:2:4]
	last := len(p.Shed.Frames) - 1
	add := func(list [][2]*catalog.Section, a, b brief.Group) [][2]*catalog.Section {
		pair := [2]*catalog.Section{d.Of(a).Section, d.Of(b).Section}
		if slices.Contains(list, pair) {
			return list
		}
		return append(list, pair)
	}
	knees = add(knees, brief.GroupEndColumn, brief.GroupEndRafter)
	if last > 1 {
		knees = add(knees, brief.GroupColumn, brief.GroupRafter)
	}
	for i := range d.Props {
		for _, f := range d.Props[i].Frames {
			switch {
			case p.Shed.PropStands(f, d.Props[i].Y) != shed.OnGround:
			case f == 0 || f == last:
				heads = add(heads, brief.GroupProp, brief.GroupEndRafter)
			default:
				heads = add(heads, brief.GroupProp, brief.GroupRafter)
			}
		}
	}
	fits := o.fits.Sections(knees, heads, &p.Brief.Proposal.Details)
	return slices.ContainsFunc(fits, func(f joints.Fit) bool { return f.Ratio > 1 })
}

// boundPoint is Bound sharpened by the parts that the design shares with others, looked up or analysed.
func (p *Problem) boundPoint(point []int) optimize.Bound {
	d, _ := p.Decode(point)
	a := p.outline(d)
	if p.score(a); p.classOf(a) != ClassRanked {
		return p.never() // before anything is analysed
	}
	w := p.partsOf(d, nothingOpen)
	if w.unfit(p) {
		return p.never()
	}
	return p.boundBy(a, w.u)
}

// boundBy draws the bound from what is known of a design, and from the use of its parts.
func (p *Problem) boundBy(a *Assessment, u float64) optimize.Bound {
	if p.score(a); p.classOf(a) != ClassRanked {
		return p.never()
	}
	a.U = math.Max(a.U, u)
	out := optimize.Bound{Objectives: p.values(a), CannotComply: !a.Complies || u > 1}
	for i, o := range p.objectives {
		if o.least != nil {
			out.Objectives[i] *= 1 - roundOff
		}
	}
	return out
}

func nothingOpen(brief.Group) bool { return false }

// unfit says that no design with the part is ranked.
func (a part) unfit(p *Problem) bool {
	return a.fails || a.u > stoneLimit || a.u > 1 && !p.wants(brief.ObjCompliance)
}

// never is the bound of what cannot be on a front.
func (p *Problem) never() optimize.Bound {
	out := optimize.Bound{Objectives: make([]float64, len(p.objectives)), CannotComply: true}
	for i := range out.Objectives {
		out.Objectives[i] = math.Inf(1)
	}
	return out
}

// branch is every design that shares the first genes of a point.
type branch struct {
	p     *Problem
	point []int
	fixed int
	d     *shed.Design // the first of them
}

// open says whether a gene that decides the group's section is left open.
func (b *branch) open(g brief.Group) bool {
	for i := b.fixed; i < len(b.p.genes); i++ {
		if slices.Contains(b.p.genes[i].groups, g) {
			return true
		}
	}
	return false
}

// left is what the genes that are fixed leave of a group's stock.
func (b *branch) left(g brief.Group) []shed.Steel {
	if !b.open(g) {
		return []shed.Steel{b.d.Of(g)}
	}
	var out []shed.Steel
	for i := range b.p.genes {
		gene := &b.p.genes[i]
		if !slices.Contains(gene.groups, g) {
			continue
		}
		if out == nil {
			out = gene.stock(g)
		}
		if i < b.fixed && gene.narrows != nil {
			out = slices.DeleteFunc(slices.Clone(out), func(s shed.Steel) bool { return !gene.narrows(b.point[i], s) })
		}
	}
	return out
}

// BoundPartial implements optimize.PartialBounder: of groups whose section is not chosen yet, the least that is left of the
// stock and that no part of the shed excludes; before the layout is complete, only frames and what the spacings decide.
func (p *Problem) BoundPartial(point []int, fixed int) optimize.Bound {
	if fixed == len(p.genes) {
		return p.boundPoint(point)
	}
	d, _ := p.Decode(point)
	b := &branch{p, point, fixed, d}
	if fixed >= p.layoutDecided() {
		return b.boundLayout()
	}
	var all []least
	for _, sp := range p.spacingsLeft(d, fixed) {
		with := *d
		with.PurlinSpacing, with.GirtSpacing, with.SecondaryWind, with.DrawnSecondaries = sp.purlin, sp.girt, sp.wind, false
		all = append(all, (&branch{p, point, fixed, &with}).leastFrame())
	}
	return p.boundOf(leastOfAll(all))
}

// least is what every design of a branch has at least: in kg and in money if it can be ranked, in kg if it complies; and
// whether none can be ranked at all.
type least struct {
	kg, complying, money float64
	u                    float64
	never                bool
}

// leastOfAll is the least of several branches together.
func leastOfAll(list []least) least {
	out := least{kg: math.Inf(1), complying: math.Inf(1), money: math.Inf(1), u: math.Inf(1), never: true}
	for _, l := range list {
		if !l.never {
			out = least{math.Min(out.kg, l.kg), math.Min(out.complying, l.complying), math.Min(out.money, l.money), math.Min(out.u, l.u), false}
		}
	}
	return out
}

// boundOf puts it in the engine's words; no other objective but the dear ones is below 0.
func (p *Problem) boundOf(l least) optimize.Bound {
	if l.never {
		return p.never()
	}
	out := optimize.Bound{Objectives: make([]float64, len(p.objectives)), CannotComply: l.u > 1 || math.IsInf(l.complying, 1)}
	for i, o := range p.objectives {
		switch {
		case o.least != nil:
			out.Objectives[i] = o.least(l) * (1 - roundOff)
		case o.Name == string(brief.ObjCompliance):
			out.Objectives[i] = math.Max(floorU, l.u)
		case o.dear != nil:
			out.Objectives[i] = o.value(p, nil)
		}
	}
	if p.objectives[0].Name == string(brief.ObjMass) {
		out.Complying = l.complying * (1 - roundOff)
	}
	return out
}

// boundLayout bounds designs of one layout of which some sections are chosen.
func (b *branch) boundLayout() optimize.Bound {
	p, l := b.p, b.p.layoutOf(b.d)
	if slices.ContainsFunc(l.findings, func(f shed.Finding) bool { return f.Missing }) {
		return p.never()
	}
	w := p.partsOf(b.d, b.open)
	if !b.open(brief.GroupColumn) && !b.open(brief.GroupRafter) && !w.unfit(p) {
		w = w.worse(b.swayPair(framePair{column: b.d.Of(brief.GroupColumn), rafter: b.d.Of(brief.GroupRafter)}))
	}
	if w.unfit(p) {
		return p.never()
	}
	set := p.setupOf(b.d)
	sum := least{kg: set.kilograms, complying: set.kilograms, money: set.money + l.costs.Connections + l.costs.Cuts + l.costs.Bases, u: w.u}
	b.addGroups(&sum, l, func(brief.Group) bool { return true })
	return p.boundOf(sum)
}

// leastFrame is the least of frames and secondaries whatever else the layout has.
func (b *branch) leastFrame() least {
	p := b.p
	if b.d.DrawnSecondaries || p.wants(brief.ObjDepartures) {
		return least{} // drawn secondaries may be lighter than those that pass
	}
	l := p.layoutOf(b.d)
	set := p.setupOf(b.d)
	sum := least{kg: set.kilograms, complying: set.kilograms}
	frames := p.frameGroups()
	b.addGroups(&sum, l, func(g brief.Group) bool { return slices.Contains(frames, g) })
	sum.money = 0 // what the layout costs is not known yet
	return sum
}

// addGroups adds the groups of a layout that are wanted. Without their fly braces: an open rafter may be hollow.
func (b *branch) addGroups(sum *least, l *layout, wanted func(brief.Group) bool) {
	paired := b.open(brief.GroupColumn) || b.open(brief.GroupRafter)
	for _, g := range l.groupsOf(b.offset) {
		switch {
		case !wanted(g.Group) || paired && g.Group == brief.GroupRafter:
		case paired && g.Group == brief.GroupColumn:
			b.addPair(sum, &g, l.weightOf(brief.GroupRafter))
		default:
			b.addGroup(sum, &g)
		}
	}
}

// offset is how far beams stand off a column at most, so that they are no longer than in any design of the branch.
func (b *branch) offset(s shed.Seat) float64 {
	most := 0.0
	of := s.Column
	if of == brief.GroupEndColumn && b.d.Steel[of].Section == nil {
		of = brief.GroupColumn // which they follow
	}
	for _, c := range b.left(of) {
		most = math.Max(most, shed.FaceOffset(c.Section, s.Along))
	}
	return most
}

// addGroup adds one group with the least that is left for it.
func (b *branch) addGroup(sum *least, g *shed.GroupWeight) {
	kg, complying, money := math.Inf(1), math.Inf(1), math.Inf(1)
	if !b.open(g.Group) {
		s := b.d.Of(g.Group)
		kg = g.Kilograms(s.Section)
		complying, money = kg, b.p.price(g, s)
	} else {
		light := *g
		light.FlyBraces = 0
		for _, s := range b.left(g.Group) {
			w := b.alone(g.Group, s)
			if w.unfit(b.p) {
				continue
			}
			kg, money = math.Min(kg, light.Kilograms(s.Section)), math.Min(money, b.p.price(&light, s))
			if w.u <= 1 {
				complying = math.Min(complying, light.Kilograms(s.Section))
			}
		}
	}
	sum.add(kg, complying, money)
}

func (l *least) add(kg, complying, money float64) {
	l.kg, l.complying, l.money = l.kg+kg, l.complying+complying, l.money+money
	l.never = l.never || math.IsInf(kg, 1)
}

// alone is what a section of a group says by itself, whatever the rest of the design is.
func (b *branch) alone(g brief.Group, s shed.Steel) part {
	if g != brief.GroupMullion || b.fixed < b.p.layoutDecided() && b.p.gablesMayBrace() {
		return part{}
	}
	with := b.with(map[brief.Group]shed.Steel{g: s})
	return b.p.mullionPart(with)
}

// with is the branch's first design with other sections of some groups.
func (b *branch) with(steel map[brief.Group]shed.Steel) *shed.Design {
	d := *b.d
	d.Steel = map[brief.Group]shed.Steel{}
	for g, s := range b.d.Steel {
		d.Steel[g] = s
	}
	for g, s := range steel {
		d.Steel[g] = s
	}
	return &d
}

// spacingsLeft are the spacings, with the wind of the secondaries, that the first fixed genes leave open, in order. The two
// spacings are the first genes; the wind, where it is a decision, is the third.
func (p *Problem) spacingsLeft(d *shed.Design, fixed int) []spacings {
	var out []spacings
	for _, sp := range p.allSpacings() {
		if (fixed < 1 || sp.purlin == d.PurlinSpacing) && (fixed < 2 || sp.girt == d.GirtSpacing) && (fixed < 3 || sp.wind == d.SecondaryWind) {
			out = append(out, sp)
		}
	}
	return out
}

// gablesMayBrace says whether some design braces a gable.
func (p *Problem) gablesMayBrace() bool {
	for _, options := range p.walls[2:] {
		if slices.ContainsFunc(options, func(o []shed.Brace) bool { return len(o) > 0 }) {
			return true
		}
	}
	return false
}
