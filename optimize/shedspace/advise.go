package shedspace

import (
	"context"
	"math"
	"slices"
	"strings"

	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/optimize"
)

// adviser improves designs one decision at a time, for fronts of mass against departures. It is deterministic, and remembers
// what it judged. What can be judged side by side is: how many hands there are changes no result.
type adviser struct {
	p      *Problem
	ctx    context.Context
	hands  []hand
	seen   map[string]*Assessment
	budget int
	watch  func(Mended) // nil if nobody listens
	told   Mended
}

// hand is what one worker of an adviser judges with.
type hand struct {
	full *judge // for what fails and by how much
	yes  *judge // stops at what decides, for whether a design complies
}

// abreast is the number of designs that are judged side by side where the answer to one may make the others superfluous: more
// would waste more, less leave a second processor idle. It is a number of its own, so that results and counts do not depend on
// the processors.
const abreast = 2

// MendFirst is a budget of Repaired that is enough for the examples to be mended and then lightened one decision at a time.
const MendFirst = 400

// Mending says how to mend a drawing.
type Mending struct {
	Budget  int          // designs judged at most
	Workers int          // goroutines that judge; 0 is 1. It never changes a result.
	Watch   func(Mended) // if set, hears how far it is, from one goroutine at a time
}

// Mended says how far mending is.
type Mended struct {
	Judged   int     // designs so far
	Complies bool    // one that complies was found
	Lightest float64 // mass of the lightest of those (kg)
}

// Repaired are points that comply, found from the proposal with its missing links added: first it is strengthened until it
// complies, then every change that is not needed is taken back, then decisions are changed one after another, those that
// save most for their weight first; and the same again from the best exchange of a heavy section for another layout. It
// judges at most m.Budget designs, and returns an empty list where it finds nothing that complies. spent is how many it took: with
// that as its budget it returns the same.
func (p *Problem) Repaired(ctx context.Context, m Mending) (points [][]int, spent int, err error) {
	a := &adviser{p: p, ctx: ctx, seen: map[string]*Assessment{}, budget: m.Budget, watch: m.Watch}
	for range max(1, m.Workers) {
		h := hand{newJudge(p), newJudge(p)}
		h.full.quick, h.yes.quick, h.yes.brief = true, true, true
		a.hands = append(a.hands, h)
	}
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
func (a *adviser) assess(point []int) (*Assessment, error) {
	err := a.ask(true, point)
	return a.seen[a.key(point)], err
}

// known says that a point is known to comply.
func (a *adviser) known(point []int) bool {
	as := a.seen[a.key(point)]
	return as != nil && as.Complies
}

func (a *adviser) key(point []int) string {
	d, _ := a.p.Decode(point)
	return a.p.Key(d)
}

// ask judges what is new among points side by side, in full or until it is decided whether they comply, those first that come
// first, while the budget lasts.
func (a *adviser) ask(full bool, points ...[]int) error {
	type task struct {
		key    string
		design *shed.Design
		answer *Assessment
		err    error
	}
	var todo []task
	for _, pt := range points {
		d, _ := a.p.Decode(pt)
		t := task{key: a.p.Key(d), design: d}
		if _, ok := a.seen[t.key]; ok || len(a.seen)+len(todo) >= a.budget || slices.ContainsFunc(todo, func(o task) bool { return o.key == t.key }) {
			continue
		}
		todo = append(todo, t)
	}
	err := optimize.Share(a.ctx, a.hands, len(todo), func(h hand, i int) error {
		j := h.yes
		if full {
			j = h.full
		}
		todo[i].answer, todo[i].err = j.assess(todo[i].design, a.p.setupOf(todo[i].design))
		return nil
	})
	if err != nil && a.ctx.Err() == nil {
		return err
	}
	for _, t := range todo {
		if t.err != nil {
			return t.err
		}
		if t.answer != nil { // else it was interrupted
			a.seen[t.key] = t.answer
			a.tell(t.answer)
		}
	}
	return nil
}

// tell lets the watcher know of what was judged.
func (a *adviser) tell(as *Assessment) {
	if a.told.Judged = len(a.seen); as.Complies && (!a.told.Complies || as.Mass.Total < a.told.Lightest) {
		a.told.Complies, a.told.Lightest = true, as.Mass.Total
	}
	if a.watch != nil {
		a.watch(a.told)
	}
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
	var tries [][]int
	for gene := range point {
		if u, asked := culprits[gene]; asked {
			for _, o := range a.tries(point, gene, u) {
				tries = append(tries, a.with(point, gene, o))
			}
		}
	}
	if err := a.ask(true, tries...); err != nil {
		return nil, err
	}
	var best []int
	var bestScore [4]float64
	for _, try := range tries {
		as := a.seen[a.key(try)]
		if as == nil || as.Class > now.Class || as.Class == now.Class && !as.Complies && as.shortfall() > now.shortfall()-1e-4 {
			continue
		}
		score := [4]float64{float64(as.Class), as.shortfall(), a.weight(try), as.Mass.Total}
		if best == nil || slices.Compare(score[:], bestScore[:]) < 0 {
			best, bestScore = try, score
		}
	}
	return best, nil
}

// with is a point with another option of one decision, repaired.
func (a *adviser) with(point []int, gene, option int) []int {
	try := slices.Clone(point)
	try[gene] = option
	_, try = a.p.Canonical(try)
	return try
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

// takeBack returns decisions to the drawing where the design complies without the change, one after another. While one is
// judged, so are the next, in case that it stays as it is.
func (a *adviser) takeBack(point []int) ([]int, error) {
	drawn, _ := a.p.Encode(a.p.Drawn)
	for i := range point {
		try := a.takenBack(point, drawn, i)
		if try == nil {
			continue
		}
		batch := [][]int{try}
		for j := i + 1; j < len(point) && len(batch) < abreast; j++ {
			if next := a.takenBack(point, drawn, j); next != nil {
				batch = append(batch, next)
			}
		}
		if _, ok := a.seen[a.key(try)]; ok {
			batch = nil
		}
		if err := a.ask(false, batch...); err != nil {
			return nil, err
		}
		if a.known(try) {
			point = try
		}
	}
	return point, nil
}

// takenBack is a point with one decision as drawn; nil where it is so already or would weigh more as a departure.
func (a *adviser) takenBack(point, drawn []int, gene int) []int {
	if point[gene] == drawn[gene] {
		return nil
	}
	if try := a.with(point, gene, drawn[gene]); a.weight(try) <= a.weight(point) {
		return try
	}
	return nil
}

// weight is the departures' weight of a point.
func (a *adviser) weight(point []int) float64 {
	d, _ := a.p.Decode(point)
	return shed.TotalWeight(a.p.Departures(d))
}

func (a *adviser) mass(point []int) float64 { return a.p.Mass(point) }

// Mass is the mass of a point's design (kg), but for round-off what its assessment has. It needs no analysis.
func (p *Problem) Mass(point []int) float64 {
	d, _ := p.Decode(point)
	return p.outline(d).Mass.Total
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
