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
	for budget := max(chaseRound, int(chaseShare*float64(e.cfg.Islands*e.cfg.Population))); budget > 0; {
		batch, err := e.quarry(min(budget, chaseRound))
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
	limit float64 // the objective to stay below
	taken map[string]bool
	list  []tracked
}

// tracked is a candidate, with what is violated before its change.
type tracked struct {
	candidate
	violation float64
}

// quarry returns up to n candidates, those first that mend what is violated least. It depends on what was evaluated alone.
func (e *engine) quarry(n int) ([]candidate, error) {
	l := e.archive.Lightest()
	hints, ok := e.pool.evaluators[0].(Hinter)
	if l == nil || !ok {
		return nil, nil
	}
	t := &trail{e: e, hints: hints, limit: l.Score.Objectives[0], taken: map[string]bool{l.Key: true}}
	for _, s := range e.vary.wideSingles(l.Point) {
		if err := t.follow(s.from(l.Point), 0, 0); err != nil {
			return nil, err
		}
	}
	slices.SortStableFunc(t.list, func(a, b tracked) int { return cmp.Compare(a.violation, b.violation) })
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

// wideSingles are singles with two steps and the next of the same family beside them: lists ordered by mass put other families
// between.
func (v *variation) wideSingles(p []int) []move {
	var out []move
	for _, i := range v.open {
		for _, o := range v.around(i, p[i]) {
			out = append(out, move{int32(i), int32(o), -1, 0})
		}
	}
	return out
}

// around lists the options near option o of a gene, or all others where there is no order or there are few.
func (v *variation) around(i, o int) []int {
	g := &v.space.Genes[i]
	var out []int
	for k := range g.Count() {
		if k != o && (!g.Ordered || g.Count() <= 8 || k >= o-2 && k <= o+2) {
			out = append(out, k)
		}
	}
	if g.Ordered && g.Family != nil {
		out = append(out, nextOfFamily(g, o, -1)...)
		out = append(out, nextOfFamily(g, o, 1)...)
		out = append(out, likePlaces(g, o)...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// upwards lists options above o: a step, two, four, and the next of the same family. There are none without order.
func (v *variation) upwards(i, o int) []int {
	g := &v.space.Genes[i]
	if !g.Ordered {
		return nil
	}
	var out []int
	for _, k := range []int{o + 1, o + 2, o + 4} {
		if k < g.Count() {
			out = append(out, k)
		}
	}
	if g.Family != nil {
		out = append(out, nextOfFamily(g, o, 1)...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// nextOfFamily is the next option of the same family in a direction, if there is one.
func nextOfFamily(g *Gene, o, way int) []int {
	for k := o + way; k >= 0 && k < g.Count(); k += way {
		if g.Family[k] == g.Family[o] {
			return []int{k}
		}
	}
	return nil
}
