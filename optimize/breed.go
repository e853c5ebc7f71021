package optimize

import (
	"fmt"
	"math/rand/v2"
	"slices"
)

// How hard to look for a child that is new: matings first, then random points. A slot that finds none stays empty.
const (
	matingTries   = 20
	newcomerTries = 10
)

// Shares of special slots.
const (
	frontMate   = 0.15 // matings whose second parent comes from the front
	renewedFrom = 0.25 // variants of a renewed population that are shaken from the front; the others are random
	shakes      = 4    // mutations that shake one
)

// fineLitters is the number of litters in a generation where genes are varied like real numbers: parents chosen after every
// few children follow what was found sooner.
const fineLitters = 5

// dreamRounds is the number of rounds of breeding on guesses. Which share of a generation's places its children fill is
// learnt like an operator's rate; the others are bred plainly, so that a wrong model cannot stop the search.
const dreamRounds = 6

// The two ways in which a child comes about, by index in island.origin.
const (
	bredPlainly = iota
	bredOnGuesses
	origins
)

// breed returns the children of an island: new to the run, distinct, none proven to be dominated. The archive and the
// seen variants are frozen while it runs.
func (e *engine) breed(here *island, parents []Variant, generation, litter int) []candidate {
	if here.excluded = nil; litter == 0 {
		here.repeated, here.bounded, here.guessed = 0, 0, 0
	}
	b := &breeder{e: e, here: here, generation: generation, slot: litter << 16, taken: map[string]bool{}}
	n := e.cfg.Population
	if !here.renew {
		n = (n + e.litters - 1) / e.litters
	}
	var out []candidate
	if !here.renew {
		out = b.dream(parents)
	}
	return append(out, b.children(parents, standings(parents, e.directions), n-len(out))...)
}

// breeder makes one generation of one island. Each child has a slot and thereby a generator of its own.
type breeder struct {
	e          *engine
	here       *island
	generation int
	slot       int
	taken      map[string]bool
}

// children breeds n candidates.
func (b *breeder) children(parents []Variant, s []standing, n int) []candidate {
	e := b.e
	var out []candidate
	for range n {
		rng := generator(e.cfg.Seed, b.here.index, b.generation, b.slot)
		b.slot++
		for try := range matingTries + newcomerTries {
			var c candidate
			switch {
			case try >= matingTries:
				c = b.here.lookup.look(e.problem, e.vary.random(rng))
			case b.here.renew:
				c = e.renewed(b.here, rng)
			default:
				c = e.mate(b.here, parents, s, rng)
			}
			if e.admit(b.here, c, b.taken) {
				b.taken[c.key] = true
				out = append(out, c)
				break
			}
		}
	}
	return out
}

// dream breeds for some rounds on guessed scores and returns the best of the guessed candidates, as many as its share
// of the generation; none if there is no model.
func (b *breeder) dream(parents []Variant) []candidate {
	e := b.e
	if e.guesses == nil {
		return nil
	}
	model := learn(e.guesses, e.features, e.lessons(parents))
	if model == nil {
		return nil
	}
	n := e.cfg.Population
	dreamt := map[string]candidate{}
	pool := slices.Clone(parents)
	for range dreamRounds {
		for _, c := range b.children(pool, standings(pool, e.directions), e.cfg.Guesses*n) {
			s := model.guess(c.point, c.key)
			if checkScore(s, e.pool.objectives, c.key) == nil {
				b.here.guessed++
				dreamt[c.key] = c
				pool = append(pool, Variant{Key: c.key, Point: c.point, Score: s})
			}
		}
		rng := generator(e.cfg.Seed, b.here.index, b.generation, b.slot)
		b.slot++
		pool = survivors(distinct(pool), 2*n, e.directions, rng)
	}
	clear(b.taken)
	return b.awake(pool, dreamt, int(b.here.origin.share(bredOnGuesses)*float64(n)))
}

// awake picks the n best of the pool that are not evaluated yet.
func (b *breeder) awake(pool []Variant, dreamt map[string]candidate, n int) []candidate {
	pool = slices.DeleteFunc(pool, func(v Variant) bool { _, ok := dreamt[v.Key]; return !ok })
	rng := generator(b.e.cfg.Seed, b.here.index, b.generation, b.slot)
	b.slot++
	var out []candidate
	for _, v := range survivors(pool, n, b.e.directions, rng) {
		b.taken[v.Key] = true
		c := dreamt[v.Key]
		c.origin = bredOnGuesses
		out = append(out, c)
	}
	return out
}

// lessons returns what a model learns from: the population and the latest evaluations.
func (e *engine) lessons(parents []Variant) []Variant {
	vs := slices.Clone(parents)
	for _, k := range e.latest {
		vs = append(vs, e.seen[k])
	}
	return distinct(vs)
}

// admit refuses what is known already or cannot enter the front.
func (e *engine) admit(here *island, c candidate, taken map[string]bool) bool {
	if _, ok := e.seen[c.key]; ok || taken[c.key] {
		here.repeated++
		return false
	}
	if e.bounder != nil && e.archive.Excludes(e.boundOf(c).Objectives) {
		here.bounded++
		if e.cfg.Audit {
			here.excluded = append(here.excluded, c)
		}
		return false
	}
	return true
}

// mate makes one child of two parents.
func (e *engine) mate(here *island, parents []Variant, s []standing, rng *rand.Rand) candidate {
	child := slices.Clone(parents[tournament(s, rng)].Point)
	mate := parents[tournament(s, rng)].Point
	if front := e.archive.Front(); len(front) > 0 && rng.Float64() < frontMate {
		mate = front[rng.IntN(len(front))].Point
	}
	x, m := here.cross.pick(rng), here.mutate.pick(rng)
	if o := e.vary.cross[x]; o.others != nil {
		o.others(e.vary, child, parents[rng.IntN(len(parents))].Point, parents[rng.IntN(len(parents))].Point, rng)
	} else {
		o.apply(e.vary, child, mate, rng)
	}
	e.vary.mutate[m].apply(e.vary, child, nil, rng)
	c := here.lookup.look(e.problem, child)
	c.cross, c.mutate = x, m
	return c
}

// renewed makes one variant of a population that starts afresh.
func (e *engine) renewed(here *island, rng *rand.Rand) candidate {
	front := e.archive.Front()
	if len(front) == 0 || rng.Float64() >= renewedFrom {
		return here.lookup.look(e.problem, e.vary.random(rng))
	}
	p := slices.Clone(front[rng.IntN(len(front))].Point)
	for range shakes {
		e.vary.mutate[rng.IntN(len(e.vary.mutate))].apply(e.vary, p, nil, rng)
	}
	return here.lookup.look(e.problem, p)
}

// audit evaluates what the bounds left out in this generation and fails if one of them would have entered the front.
func (e *engine) audit() error {
	for _, here := range e.islands {
		if err := e.auditList(here.excluded); err != nil {
			return err
		}
	}
	return nil
}

func (e *engine) auditList(list []candidate) error {
	vs, err := e.pool.evaluate(e.ctx, list)
	if err != nil {
		return err
	}
	for _, v := range vs {
		bound := e.bounder.Bound(v.Point, v.Key)
		if v.Score.Class == 0 && !covers(bound.Objectives, v.Score.Objectives) || bound.CannotComply && v.Score.Complies {
			return fmt.Errorf("optimize: audit: variant %q scores %v, its bound says %+v; mend the bound", v.Key, v.Score.Objectives, bound)
		}
		if e.archive.clone().Add(v) {
			return fmt.Errorf("optimize: audit: variant %q was left out by its bound %v but belongs on the front with %v", v.Key, bound.Objectives, v.Score.Objectives)
		}
	}
	return nil
}
