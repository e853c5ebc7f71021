package optimize

import (
	"cmp"
	"fmt"
	"slices"
)

// A generation's local improvement evaluates at most polishShare of what the populations do, in rounds: after each the
// front is up to date, so that what it now dominates is not looked at. Where a model chooses what to evaluate, it waits
// until the front has stood still for stalledAfter generations: on five sizing problems that halved the evaluations to the
// best. Scouts leave it little to find but the proof that a design is settled: it waits for scoutedAfter.
const (
	polishShare  = 0.75
	stalledAfter = 3
	scoutedAfter = 6
	polishRound  = 32
	// screenedPart is how many variants left half way count as much as an evaluation.
	screenedPart = 4
)

// move is one or two steps from a point: gene to option. The second gene is -1 for a single step.
type move struct{ gene, option, gene2, option2 int32 }

// polisher remembers how far the neighbourhood of each variant on the front was looked at.
type polisher struct {
	at    map[string]int    // next move, by key
	moves map[string][]move // in the order they are tried
}

func newPolisher() *polisher { return &polisher{at: map[string]int{}, moves: map[string][]move{}} }

// settled says that every move from the variant was looked at.
func (p *polisher) settled(key string) bool {
	moves, ok := p.moves[key]
	return ok && p.at[key] >= len(moves)
}

// improve looks around the front until its share of evaluations is used or the front is settled: single steps of all
// variants first, then paired ones. What enters the front also joins the populations.
func (e *engine) improve() error {
	if !e.polishes() {
		return nil
	}
	if e.guesses != nil && e.progress.Since < stalledAfter || e.forecaster != nil && e.progress.Since < scoutedAfter {
		return nil
	}
	budget := max(polishRound, int(polishShare*float64(e.cfg.Islands*e.cfg.Population)))
	_, err := e.lookAround(budget*screenedPart, nil)
	return err
}

// polishes says whether there is local improvement: real numbers have no next neighbours.
func (e *engine) polishes() bool { return !e.cfg.NoPolish && len(e.vary.fine) == 0 }

// lookAround looks around the front, first around the variants named, until the work is used or the front is settled. Work
// is counted in parts of an evaluation; it returns what was used.
func (e *engine) lookAround(work int, named []string) (used int, err error) {
	for used < work {
		if err := e.prepare(); err != nil {
			return used, err
		}
		n := min(polishRound, (work-used+screenedPart-1)/screenedPart)
		if l := e.cfg.Stop.Evaluations; l > 0 {
			n = min(n, l-len(e.seen)) // what cannot be evaluated is not looked at
		}
		batch, at := e.around(n, named)
		if len(batch) > 0 {
			left, err := e.look(batch)
			if err != nil {
				return used, err
			}
			used += len(batch)*screenedPart - left*(screenedPart-1)
		}
		if e.polish.at = at; len(batch) == 0 {
			break
		}
	}
	return used, nil
}

// look evaluates neighbours of the front as far as each may improve it, and returns how many were left half way.
func (e *engine) look(batch []candidate) (left int, err error) {
	before := len(e.fresh)
	if e.cfg.NoScreen || e.cfg.NoBounds || !e.pool.screens() {
		err = e.evaluate(batch)
	} else {
		left, err = e.screen(batch)
	}
	if err == nil {
		e.takeIn(before)
	}
	return left, err
}

// screen evaluates what the front does not exclude half way.
func (e *engine) screen(batch []candidate) (left int, err error) {
	vs, err := e.pool.screen(e.ctx, batch, e.archive)
	if err == nil {
		err = e.pool.complete(e.ctx, vs, e.archive)
	}
	if err != nil {
		return 0, err
	}
	e.take(vs)
	var out []candidate
	for _, c := range batch {
		if _, ok := e.seen[c.key]; !ok {
			out = append(out, c)
			e.screened.add(c.key)
		}
	}
	e.tiers.Screened += len(out)
	if e.cfg.Audit {
		return len(out), e.auditScreened(out)
	}
	return len(out), nil
}

// auditScreened evaluates what was left half way and fails if one of them belongs on the front.
func (e *engine) auditScreened(list []candidate) error {
	vs, err := e.pool.evaluate(e.ctx, list)
	for _, v := range vs {
		if err == nil && v.Score.Class == 0 && !e.archive.Excludes(v.Score.Objectives) {
			return fmt.Errorf("optimize: audit: variant %q was left half way but the front does not exclude %v; mend the screen", v.Key, v.Score.Objectives)
		}
	}
	return err
}

// prepare lists the moves of front variants that are new there, and forgets those of variants that left.
func (e *engine) prepare() error {
	var fresh []Variant
	at, moves := map[string]int{}, map[string][]move{}
	for _, v := range e.archive.Front() {
		at[v.Key] = e.polish.at[v.Key]
		if m, ok := e.polish.moves[v.Key]; ok {
			moves[v.Key] = m
		} else {
			fresh = append(fresh, v)
		}
	}
	e.polish.at = at
	hints := make([][]float64, len(fresh))
	err := e.pool.each(e.ctx, len(fresh), func(w Evaluator, i int) (err error) {
		if h, ok := w.(Hinter); ok && !e.cfg.NoHints {
			hints[i], err = h.Hint(e.ctx, fresh[i].Point, fresh[i].Key, fresh[i].Score)
		}
		return err
	})
	for i, v := range fresh {
		moves[v.Key] = e.vary.neighbours(v.Point, hints[i])
	}
	e.polish.moves = moves
	return err
}

// around collects up to n candidates next to the front, first next to the variants that were looked at least, and
// returns with them how far each variant will have been looked at. Where variants are named, it looks around these first.
func (e *engine) around(n int, named []string) ([]candidate, map[string]int) {
	at := make(map[string]int, len(e.polish.at))
	for k, i := range e.polish.at {
		at[k] = i
	}
	order := slices.Clone(e.archive.Front())
	slices.SortStableFunc(order, func(a, b Variant) int { return cmp.Compare(at[a.Key], at[b.Key]) })
	focus := e.archive.Lightest()
	taken := map[string]bool{}
	var batch []candidate
	look := func(v Variant, upto int) {
		moves := e.polish.moves[v.Key]
		for at[v.Key] < len(moves) && len(batch) < upto {
			c := e.lookUp(moves[at[v.Key]].from(v.Point))
			at[v.Key]++
			if e.tries(c, taken) {
				batch = append(batch, c)
			}
		}
	}
	for _, key := range named {
		if i := slices.IndexFunc(order, func(v Variant) bool { return v.Key == key }); i >= 0 {
			look(order[i], n)
		}
	}
	if focus != nil { // the variant that is asked for most is looked around first
		look(*focus, n/2)
	}
	for step := polishRound / 8; len(batch) < n && step < 1<<20; step *= 2 {
		for _, v := range order {
			look(v, min(n, len(batch)+step))
		}
	}
	return batch, at
}

// tries reports whether c is new and may enter the front.
func (e *engine) tries(c candidate, taken map[string]bool) bool {
	if _, ok := e.seen[c.key]; ok || taken[c.key] || e.screened.has(c.key) {
		e.tiers.Repeated++
		return false
	}
	if e.bounder != nil && e.archive.Excludes(e.boundOf(c).Objectives) {
		e.tiers.Bounded++
		return false
	}
	taken[c.key] = true
	return true
}

// from returns the point that the move leads to.
func (m move) from(p []int) []int {
	q := slices.Clone(p)
	q[m.gene] = int(m.option)
	if m.gene2 >= 0 {
		q[m.gene2] = int(m.option2)
	}
	return q
}

// single is a step of one gene with its direction: up 1, down -1, neither 0 (another option without order, the like
// place in another family).
type single struct {
	gene, option int32
	way          int
}

func (v *variation) singles(p []int) []single {
	var out []single
	for _, i := range v.open {
		g := &v.space.Genes[i]
		add := func(o, way int) { out = append(out, single{int32(i), int32(o), way}) }
		if !g.Ordered {
			for o := range g.Count() {
				if o != p[i] {
					add(o, 0)
				}
			}
			continue
		}
		if p[i] > 0 {
			add(p[i]-1, -1)
		}
		if p[i] < g.Count()-1 {
			add(p[i]+1, 1)
		}
		if v.chain[i] != nil {
			if o := v.along(i, p[i], -1, 1); o < p[i]-1 {
				add(o, -1)
			}
			if o := v.along(i, p[i], 1, 1); o > p[i]+1 {
				add(o, 1)
			}
		}
		if g.Family != nil {
			for _, o := range likePlaces(g, p[i]) {
				if !slices.ContainsFunc(out, func(s single) bool { return s.gene == int32(i) && s.option == int32(o) }) {
					add(o, 0)
				}
			}
		}
	}
	return out
}

// neighbours lists every single step from p, then every pair of steps of two genes, one up and one down or at least one
// of them neither. Hints, if there are any, put the most promising first within singles and within pairs.
func (v *variation) neighbours(p []int, hints []float64) []move {
	steps := v.singles(p)
	promise := func(s single) float64 {
		switch {
		case hints == nil:
			return 0
		case s.way == 0:
			return 0.5 * max(hints[s.gene], -hints[s.gene])
		}
		return float64(s.way) * hints[s.gene]
	}
	slices.SortStableFunc(steps, func(a, b single) int { return cmp.Compare(promise(b), promise(a)) })
	out := make([]move, 0, len(steps)*len(steps)/3)
	worth := make([]float64, 0, cap(out))
	for _, s := range steps {
		out, worth = append(out, move{s.gene, s.option, -1, 0}), append(worth, promise(s))
	}
	if v.single {
		return out
	}
	for a, s := range steps {
		for _, t := range steps[a+1:] {
			if s.gene != t.gene && s.way*t.way <= 0 {
				out = append(out, move{s.gene, s.option, t.gene, t.option})
				worth = append(worth, promise(s)+promise(t))
			}
		}
	}
	if hints != nil {
		sortPairs(out[len(steps):], worth[len(steps):])
	}
	return out
}

func sortPairs(pairs []move, worth []float64) {
	order := make([]int, len(pairs))
	for k := range order {
		order[k] = k
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(worth[b], worth[a]) })
	sorted := make([]move, len(pairs))
	for k, o := range order {
		sorted[k] = pairs[o]
	}
	copy(pairs, sorted)
}
