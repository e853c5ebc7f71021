package shedspace

import (
	"cmp"
	"context"
	"math"
	"slices"
	"strings"

	"leanbay/model/brief"
	"leanbay/model/shed"
)

// adviser improves designs one decision at a time, for fronts of mass against departures. It is deterministic, and remembers
// what it evaluated.
type adviser struct {
	p      *Problem
	ctx    context.Context
	j      *judge // in full, for what fails and by how much
	yes    *judge // stops at what decides, for whether a design complies
	seen   map[string]*Assessment
	budget int
}

// MendFirst is a budget of Repaired that is enough for the examples to be mended and then lightened one decision at a time.
const MendFirst = 400

// Repaired are points that comply, found from the proposal with its missing links added: first it is strengthened until it
// complies, then every change that is not needed is taken back, then decisions are changed one after another, those that
// save most for their weight first; and the same again from the best exchange of a heavy section for another layout. It
// evaluates at most budget designs, and returns an empty list where it finds nothing that complies. spent is how many it took: with
// that as its budget it returns the same.
func (p *Problem) Repaired(ctx context.Context, budget int) (points [][]int, spent int, err error) {
	a := &adviser{p: p, ctx: ctx, j: newJudge(p), yes: newJudge(p), seen: map[string]*Assessment{}, budget: budget}
	a.j.quick, a.yes.quick, a.yes.brief = true, true, true
	points, err = a.repaired()
	return points, len(a.seen), err
}

func (a *adviser) repaired() ([][]int, error) {
	d, _, err := a.p.Braced()
	if err != nil {
		return nil, err
	}
	start, _ := a.p.Encode(d)
	at, ok, err := a.strengthen(start)
	if err != nil || !ok {
		return nil, err
	}
	if at, err = a.takeBack(at); err != nil {
		return nil, err
	}
	other, err := a.exchange(at)
	if err != nil {
		return nil, err
	}
	out, err := a.save(at)
	if err != nil || other == nil {
		return out, err
	}
	if other, err = a.takeBack(other); err != nil {
		return nil, err
	}
	more, err := a.save(other)
	return append(out, more...), err
}

// assess judges a point in full, or remembers it; nil when the budget is spent.
func (a *adviser) assess(point []int) (*Assessment, error) { return a.judge(a.j, point) }

// complies says whether a point complies; false when the budget is spent.
func (a *adviser) complies(point []int) (bool, error) {
	as, err := a.judge(a.yes, point)
	return as != nil && as.Complies, err
}

func (a *adviser) judge(j *judge, point []int) (*Assessment, error) {
	d, _ := a.p.Decode(point)
	key := a.p.Key(d)
	if as, ok := a.seen[key]; ok {
		return as, nil
	}
	if len(a.seen) >= a.budget || a.ctx.Err() != nil {
		return nil, nil
	}
	as, err := j.assess(d, a.p.setupOf(d))
	if err != nil {
		return nil, err
	}
	a.seen[key] = as
	return as, nil
}

// mostSteps bounds the rounds of strengthening.
const mostSteps = 40

// strengthen mends what fails, round by round: of the decisions that may mend it, each is tried heavier by itself, and the
// one that leaves least violated stays; where nothing can be checked yet, all of them get heavier together.
func (a *adviser) strengthen(point []int) ([]int, bool, error) {
	for range mostSteps {
		as, err := a.assess(point)
		if err != nil || as == nil {
			return point, false, err
		}
		if as.Complies {
			return point, true, nil
		}
		next := slices.Clone(point)
		if as.Class >= ClassUnstable {
			for gene, u := range a.culprits(as) {
				next[gene] = a.heavier(next, gene, u)
			}
			_, next = a.p.Canonical(next)
		} else if next, err = a.bestStep(point, as); err != nil {
			return point, false, err
		}
		if next == nil || slices.Equal(next, point) {
			return point, false, nil
		}
		point = next
	}
	return point, false, nil
}

// bestStep is the single change that complies with least weight and mass, or else that ends in the best class and leaves least
// violated there; nil if none helps.
func (a *adviser) bestStep(point []int, now *Assessment) ([]int, error) {
	culprits := a.culprits(now)
	var best []int
	var bestScore [4]float64
	for gene := range point {
		u, asked := culprits[gene]
		if !asked {
			continue
		}
		for _, o := range a.tries(point, gene, u) {
			try := slices.Clone(point)
			try[gene] = o
			_, try = a.p.Canonical(try)
			as, err := a.assess(try)
			if err != nil {
				return nil, err
			}
			if as == nil || as.Class > now.Class || as.Class == now.Class && !as.Complies && as.shortfall() > now.shortfall()-1e-4 {
				continue
			}
			score := [4]float64{float64(as.Class), as.shortfall(), a.weight(try), as.Mass.Total}
			if best == nil || slices.Compare(score[:], bestScore[:]) < 0 {
				best, bestScore = try, score
			}
		}
	}
	return best, nil
}

// tries are the options of a decision that may mend what fails: heavier ones, or the first few others where there is no order.
func (a *adviser) tries(point []int, gene int, u float64) []int {
	at, count := point[gene], a.p.genes[gene].Count()
	var out []int
	if !a.p.genes[gene].Ordered {
		for o := range min(count, 10) {
			if o != at {
				out = append(out, o)
			}
		}
		return out
	}
	for _, o := range []int{at + 1, at + 3, a.heavier(point, gene, u)} {
		if o < count && !slices.Contains(out, o) {
			out = append(out, o)
		}
	}
	return out
}

// shortfall measures how far a design that was checked is from complying; 0 where it complies.
func (a *Assessment) shortfall() float64 {
	if a.Complies {
		return 0
	}
	sum := 1e-9
	for i := range a.Groups {
		sum += math.Max(0, a.Groups[i].Utilisation-1)
	}
	for i := range a.Service {
		sum += math.Max(0, a.Service[i].Utilisation-1)
	}
	for i := range a.Rules {
		sum += math.Max(0, a.Rules[i].Utilisation-1)
	}
	return sum
}

// culprits are the decisions that what fails asks to be heavier, with how much is asked.
func (a *adviser) culprits(as *Assessment) map[int]float64 {
	out := map[int]float64{}
	add := func(u float64, names ...string) {
		for _, n := range names {
			if i := a.gene(n); i >= 0 {
				out[i] = math.Max(out[i], u)
			}
		}
	}
	if as.Class >= ClassUnstable {
		for _, names := range [][]string{
			{"portal beam", "portal column", "knee brace"}, // what the walls stand by, where it is bending
			{"frame size", "column", "rafter", "strut", "mullion", "prop", "post", "wall diagonal", "roof diagonal"},
		} {
			for _, n := range names {
				if i := a.gene(n); i >= 0 && !a.p.genes[i].idle(as.Design) && a.p.genes[i].option(as.Design) < a.p.genes[i].Count()-1 {
					add(unstableStep, n)
				}
			}
			if len(out) > 0 {
				return out
			}
		}
		return out
	}
	for _, g := range as.Groups {
		if g.Utilisation <= 1 {
			continue
		}
		switch {
		case g.Group == "stability":
			add(g.Utilisation, "column wall", "rafter wall", "column", "rafter", "post", "prop", "strut", "frame size")
		case slices.Contains(strutGroups, brief.Group(g.Group)):
			add(g.Utilisation, "strut")
		case g.Group == "column" || g.Group == "rafter":
			add(g.Utilisation, g.Group+" wall", g.Group, "frame size")
		case strings.HasPrefix(g.Group, "wall ") || strings.HasPrefix(g.Group, "portal ") || g.Group == "knee brace":
			add(g.Utilisation, g.Group)
			if a.p.onlyWalls != nil {
				add(g.Utilisation, "south wall", "north wall")
			}
		default:
			add(g.Utilisation, g.Group+" wall", g.Group)
		}
	}
	for _, r := range as.Service {
		if r.Utilisation <= 1 {
			continue
		}
		switch {
		case strings.HasPrefix(r.Limit, "mullion"):
			add(r.Utilisation, "mullion")
		case strings.HasPrefix(r.Limit, "floor"):
			add(r.Utilisation, "mezzanine beam")
		case strings.HasPrefix(r.Limit, "eaves sway along"):
			add(r.Utilisation, "wall rod", "wall diagonal", "portal beam", "portal column", "knee brace", "roof rod", "column wall", "column")
			if a.p.onlyWalls != nil {
				add(r.Utilisation, "south wall", "north wall")
			}
		case strings.HasPrefix(r.Limit, "rafter"):
			add(r.Utilisation, "rafter wall", "rafter", "frame size")
		default:
			add(r.Utilisation, "column wall", "rafter wall", "column", "rafter", "frame size")
		}
	}
	return out
}

// unstableStep is what is asked of every group of a design that is not stable, where nothing can be checked yet.
const unstableStep = 1.2

// gene is the place of a decision by its name, or -1.
func (a *adviser) gene(name string) int {
	return slices.IndexFunc(a.p.genes, func(g gene) bool { return g.Name == name })
}

// heavier is the first later option that weighs the shed up by what u asks of the group, at least one step.
func (a *adviser) heavier(point []int, gene int, u float64) int {
	last := a.p.genes[gene].Count() - 1
	at := point[gene]
	if !strings.HasSuffix(a.p.genes[gene].Name, "wall") && a.p.genes[gene].Name != "frame size" {
		at += int((math.Min(u, 1.6) - 1) * 10) // stock lists rise by a few per cent a step
	}
	return min(at+1, last)
}

// takeBack returns decisions to the drawing where the design complies without the change.
func (a *adviser) takeBack(point []int) ([]int, error) {
	drawn, _ := a.p.Encode(a.p.Drawn)
	for i := range point {
		if point[i] == drawn[i] {
			continue
		}
		try := slices.Clone(point)
		try[i] = drawn[i]
		_, try = a.p.Canonical(try)
		if a.weight(try) > a.weight(point) {
			continue
		}
		ok, err := a.complies(try)
		if err != nil {
			return nil, err
		}
		if ok {
			point = try
		}
	}
	return point, nil
}

// weight is the departures' weight of a point.
func (a *adviser) weight(point []int) float64 {
	d, _ := a.p.Decode(point)
	return shed.TotalWeight(a.p.Departures(d))
}

// mass is the mass of a point (kg); it needs no analysis.
func (a *adviser) mass(point []int) float64 {
	d, _ := a.p.Decode(point)
	return a.p.Shed.Build(d).Mass(a.p.setupOf(d).secondaries.Sections).Total
}

// saving is one decision changed, and what that saves.
type saving struct {
	gene, option int
	kg, weight   float64
}

// save changes decisions one after another, each to its lightest option that complies, the best saving for its weight
// first. It returns every point on the way.
func (a *adviser) save(point []int) ([][]int, error) {
	out := [][]int{point}
	var list []saving
	for i := range point {
		s, err := a.lightest(point, i)
		if err != nil {
			return nil, err
		}
		if s.kg > leastSaving {
			list = append(list, s)
		}
	}
	slices.SortStableFunc(list, func(x, y saving) int {
		return cmp.Compare(y.kg/math.Max(y.weight, 0.1), x.kg/math.Max(x.weight, 0.1))
	})
	for _, s := range list {
		next, err := a.settle(point, s)
		if err != nil {
			return nil, err
		}
		if next != nil {
			point = next
			out = append(out, point)
		}
	}
	return out, nil
}

// leastSaving is the mass below which a change is not worth a line of advice (kg).
const leastSaving = 5.0

// lightest finds the lightest option of a decision that complies, all others as they are: among a few of the options
// lighter than now, by bisection where they are ordered.
func (a *adviser) lightest(point []int, gene int) (saving, error) {
	now := a.mass(point)
	type option struct {
		i  int
		kg float64
	}
	var lighter []option
	for i := range a.p.genes[gene].Count() {
		try := slices.Clone(point)
		try[gene] = i
		if _, try = a.p.Canonical(try); try[gene] != i {
			continue
		}
		if kg := a.mass(try); kg < now-leastSaving {
			lighter = append(lighter, option{i, kg})
		}
	}
	slices.SortStableFunc(lighter, func(x, y option) int { return cmp.Compare(x.kg, y.kg) })
	best := saving{gene: gene}
	check := func(o option) (bool, error) {
		try := slices.Clone(point)
		try[gene] = o.i
		_, try = a.p.Canonical(try)
		ok, err := a.complies(try)
		if ok && now-o.kg > best.kg {
			best = saving{gene, o.i, now - o.kg, a.weight(try) - a.weight(point)}
		}
		return ok, err
	}
	if !a.p.genes[gene].Ordered {
		for _, o := range lighter[:min(len(lighter), 8)] {
			if ok, err := check(o); ok || err != nil {
				return best, err
			}
		}
		return best, nil
	}
	lo, hi := 0, len(lighter) // what complies begins somewhere from lo up, if strength rises with mass
	for lo < hi {
		mid := (lo + hi) / 2
		ok, err := check(lighter[mid])
		if err != nil {
			return best, err
		}
		if ok {
			hi = mid
		} else {
			lo = mid + 1
		}
	}
	return best, nil
}

// settle applies a saving, backing off to heavier options while it does not comply with the changes before it.
func (a *adviser) settle(point []int, s saving) ([]int, error) {
	for o := s.option; ; o++ {
		try := slices.Clone(point)
		try[s.gene] = o
		_, try = a.p.Canonical(try)
		if a.mass(try) > a.mass(point)-leastSaving {
			return nil, nil
		}
		ok, err := a.complies(try)
		if ok || err != nil {
			return try, err
		}
		if !a.p.genes[s.gene].Ordered || o == point[s.gene] || o+1 >= a.p.genes[s.gene].Count() {
			return nil, nil
		}
	}
}

// SteelCost is what the steel of an assessed design costs by the brief's price list, bases included: members and
// secondaries by the kilogram. Connections, cuts and work are left out. ok is false without a list.
func (p *Problem) SteelCost(a *Assessment) (cost float64, currency string, ok bool) {
	prices := p.Brief.Prices()
	if prices == nil {
		return 0, "", false
	}
	for _, g := range brief.Groups {
		kg := a.Mass.Groups[g.Name]
		if kg == 0 {
			continue
		}
		steel := a.Design.Of(g.Name)
		if set := p.setupOf(a.Design); set != nil {
			if sec := set.secondaries.Sections.Of(g.Name); sec != nil {
				steel = shed.Steel{Section: sec, Grade: sec.Grades[0]}
			}
		}
		if steel.Section != nil {
			cost += kg * prices.Rate(steel.Section, steel.Grade)
		}
	}
	return cost + float64(len(p.Shed.Build(a.Design).Bases))*prices.Base(), prices.Currency, true
}
