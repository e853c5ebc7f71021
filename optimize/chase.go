package optimize

import (
	"cmp"
	"slices"
)

// A chase looks for what is lighter than the lightest variant that complies and complies itself once what then fails is
// mended. It takes the lightest, every change of one gene that makes it lighter, evaluated or not; and of each that fails, the
// steps up that its hints ask for most, while they leave it lighter, up to chaseDepth changes after the first. What is violated
// must shrink on the way. So a change of the layout is found together with the sections that it needs, which neither single nor
// paired steps of front variants come to.
const (
	chaseShare = 0.2 // of the populations' size, evaluated in a generation
	chaseRound = 8
	chaseDepth = 3
	chaseGenes = 3 // genes that a failing variant is mended by
)

// chase evaluates what the chase from the lightest comes to next, in rounds: what the first find decides where the next go.
func (e *engine) chase() error {
	if e.cfg.NoChase || e.bounder == nil || e.forecaster != nil || len(e.vary.fine) > 0 {
		return nil
	}
	var model *guesser
	if e.guesses != nil {
		model = learn(e.guesses, e.features, e.lessons(e.archive.Front()))
	}
	for budget := max(chaseRound, int(chaseShare*float64(e.cfg.Islands*e.cfg.Population))); budget > 0; {
		batch, err := e.quarry(model, min(budget, chaseRound))
		if err != nil || len(batch) == 0 {
			return err
		}
		before := len(e.fresh)
		if err := e.evaluate(batch); err != nil {
			return err
		}
		e.takeIn(before)
		if len(e.fresh)-before < len(batch) {
			return nil
		}
		budget -= len(batch)
	}
	return nil
}

// takeIn offers what was evaluated since to the archive; what enters also joins the populations.
func (e *engine) takeIn(since int) {
	for k, v := range e.fresh[since:] {
		if e.archive.Add(v) {
			here := e.islands[k%len(e.islands)]
			here.inject = append(here.inject, v)
		}
	}
}

// trail is a chase on its way.
type trail struct {
	e     *engine
	hints Hinter
	model *guesser // nil if there is none
	limit float64  // the objective to stay below
	taken map[string]bool
	list  []tracked
}

// tracked is a candidate with what it is thought to violate, or without a model what the variant before it violates.
type tracked struct {
	candidate
	violation float64
}

// quarry returns up to n candidates, those first that are thought to violate least, and of these the lightest. It depends on
// what was evaluated alone.
func (e *engine) quarry(model *guesser, n int) ([]candidate, error) {
	l := e.archive.Lightest()
	hints, ok := e.pool.evaluators[0].(Hinter)
	if l == nil || !ok {
		return nil, nil
	}
	t := &trail{e: e, hints: hints, model: model, limit: l.Score.Objectives[0], taken: map[string]bool{l.Key: true}}
	for _, s := range e.vary.wideSingles(l.Point) {
		if err := t.follow(s.from(l.Point), 0, 0); err != nil {
			return nil, err
		}
	}
	slices.SortStableFunc(t.list, func(a, b tracked) int {
		return cmp.Or(cmp.Compare(a.violation, b.violation), cmp.Compare(e.boundOf(a.candidate).Objectives[0], e.boundOf(b.candidate).Objectives[0]))
	})
	var out []candidate
	for _, c := range t.list[:min(n, len(t.list))] {
		out = append(out, c.candidate)
	}
	return out, nil
}

// follow lists a point that is not evaluated yet, or goes on from it if it fails. violation is that of the one before.
func (t *trail) follow(p []int, violation float64, depth int) error {
	c := t.e.lookUp(p)
	if t.taken[c.key] || !(t.e.boundOf(c).Objectives[0] < t.limit) {
		return nil
	}
	t.taken[c.key] = true
	v, ok := t.e.seen[c.key]
	if !ok {
		if t.model != nil {
			s := t.model.guess(c.point, c.key)
			if violation = float64(max(0, s.Class-1)) + s.Violation; s.Complies {
				violation = 0
			}
		}
		t.list = append(t.list, tracked{c, violation})
		return nil
	}
	s := &v.Score
	if s.Complies || s.Measures == nil || depth == chaseDepth || depth > 0 && s.Violation >= violation {
		return nil
	}
	hints, err := t.hints.Hint(t.e.ctx, v.Point, v.Key, v.Score)
	if err != nil {
		return err
	}
	for _, g := range strongest(hints) {
		for _, o := range t.e.vary.upwards(g, v.Point[g]) {
			q := slices.Clone(v.Point)
			q[g] = o
			if err := t.follow(q, s.Violation, depth+1); err != nil {
				return err
			}
		}
	}
	return nil
}

// strongest returns the genes that hints ask to step up most.
func strongest(hints []float64) []int {
	var out []int
	for g, h := range hints {
		if h > 0 {
			out = append(out, g)
		}
	}
	slices.SortStableFunc(out, func(a, b int) int { return cmp.Compare(hints[b], hints[a]) })
	return out[:min(len(out), chaseGenes)]
}

// wideSingles are singles with more steps of each gene.
func (v *variation) wideSingles(p []int) []move {
	var out []move
	for _, i := range v.open {
		for _, o := range v.near(i, p[i]) {
			out = append(out, move{int32(i), int32(o), -1, 0})
		}
	}
	return out
}

// fewLevels is the number of options up to which each is taken to be near every other.
const fewLevels = 8

// near lists options of a gene near option o: all others where there is no order or there are few; else those within two steps,
// within two along its chain, and in like places of other families.
func (v *variation) near(i, o int) []int {
	g := &v.space.Genes[i]
	var out []int
	for k := range g.Count() {
		if k != o && (!g.Ordered || g.Count() <= fewLevels || k >= o-2 && k <= o+2) {
			out = append(out, k)
		}
	}
	if g.Ordered && g.Family != nil {
		out = append(out, likePlaces(g, o)...)
	}
	if v.chain[i] != nil {
		for n := 1; n <= 2; n++ {
			out = append(out, v.along(i, o, -1, n), v.along(i, o, 1, n))
		}
	}
	slices.Sort(out)
	return slices.DeleteFunc(slices.Compact(out), func(k int) bool { return k == o })
}

// upwards lists options above o: along the gene's chain a step, two and three; else a step, two and four. There are none
// without order.
func (v *variation) upwards(i, o int) []int {
	g := &v.space.Genes[i]
	if !g.Ordered {
		return nil
	}
	var out []int
	for n := 1; n <= 3; n++ {
		k := min(o+1<<(n-1), g.Count()-1)
		if v.chain[i] != nil {
			k = v.along(i, o, 1, n)
		}
		if k > o && !slices.Contains(out, k) {
			out = append(out, k)
		}
	}
	return out
}
