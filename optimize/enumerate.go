package optimize

import (
	"context"
	"fmt"
	"math"
	"slices"
)

// Enumeration says how to look at every variant of a space.
type Enumeration struct {
	// Limit is the greatest number of evaluations; 0 is a million.
	Limit   int
	Workers int // 0 is one
	// Known are evaluated variants, such as the front of a search: bounds leave out more from the start.
	Known    []Variant
	NoBounds bool // evaluate everything
	// FloorOnly leaves the space unvisited and seeks the lower bound alone: for spaces that are too large to be decided.
	FloorOnly bool
	// Watch, if set, is told now and then how many points of the space are decided.
	Watch func(decided float64)
}

// Proof is what an enumeration shows.
type Proof struct {
	Points    float64 // points of the space
	Repeated  float64 // points that are another point's variant under another name, or known from the start
	Branches  float64 // points left out with their whole branch, by partial bounds
	Bounded   float64 // points left out one by one, by bounds
	Screened  float64 // points left out in the course of their evaluation
	Evaluated int
	Front     []Variant
	// Proven says that every point was decided: no variant of the space dominates one of Front, and none is missing.
	Proven bool
	// Floor is proven to be no greater than the first objective of any complying variant. If Proven and there is one,
	// it is that of the lightest. Otherwise it comes from partial bounds, and is -Inf if the problem has none.
	Floor float64
	// Gap is how far the lightest known complying variant stands above Floor, as a share of its first objective; NaN if
	// there is none.
	Gap float64
}

// enumerationBatch is how many variants are evaluated between two updates of the front: a constant, so that what is
// left out does not depend on the workers.
const enumerationBatch = 64

// enumerator walks the space as a tree, gene by gene.
type enumerator struct {
	ctx     context.Context
	problem Problem
	cfg     Enumeration
	space   *Space
	bounder Bounder
	partial PartialBounder
	pool    *pool
	archive *Archive
	below   []float64 // below[i] is the number of points that share i genes
	proof   Proof
	known   map[string]bool
	batch   []candidate
	full    bool // the limit is reached
}

// Enumerate looks at every point of the problem's space, but for those that bounds prove to be dominated, and returns
// the exact front. Where that takes more than the limit it returns what it found, not proven, and the best lower bound
// on the first objective of what complies that as many steps of a best-first search give. Where ctx ends it returns what it
// has, not proven, with the bound of the whole space, and the context's error.
func Enumerate(ctx context.Context, p Problem, cfg Enumeration) (*Proof, error) {
	space := p.Space()
	if err := space.Validate(); err != nil {
		return nil, err
	}
	cfg.Limit = orDefault(cfg.Limit, 1_000_000)
	e := &enumerator{
		ctx: ctx, problem: p, cfg: cfg, space: space, pool: newPool(p, max(1, cfg.Workers)), archive: NewArchive(0),
		below: make([]float64, len(space.Genes)+1), known: map[string]bool{},
	}
	if !cfg.NoBounds {
		e.bounder, _ = p.(Bounder)
		e.partial, _ = p.(PartialBounder)
	}
	e.below[len(space.Genes)] = 1
	for i := len(space.Genes) - 1; i >= 0; i-- {
		e.below[i] = e.below[i+1] * float64(space.Genes[i].Count())
	}
	for _, v := range cfg.Known {
		e.archive.Add(v)
		e.known[v.Key] = true
	}
	err := e.visit()
	if err == nil {
		err = e.finish()
	}
	if err != nil && ctx.Err() != nil {
		e.conclude(false, e.rootFloor())
		return &e.proof, err
	}
	if err != nil {
		return nil, err
	}
	return &e.proof, nil
}

// visit decides as many points of the space as it may.
func (e *enumerator) visit() error {
	if e.cfg.FloorOnly {
		e.full = true
		return nil
	}
	if err := e.walk(make([]int, len(e.space.Genes)), 0); err != nil {
		return err
	}
	return e.flush()
}

// rootFloor is the bound of the whole space.
func (e *enumerator) rootFloor() float64 {
	if e.partial == nil {
		return math.Inf(-1)
	}
	return e.partial.BoundPartial(make([]int, len(e.space.Genes)), 0).Objectives[0]
}

// walk decides every point that shares the first fixed genes of p.
func (e *enumerator) walk(p []int, fixed int) error {
	if e.full {
		return nil
	}
	if err := e.ctx.Err(); err != nil {
		return err
	}
	if e.partial != nil && fixed < len(p) && e.archive.Excludes(e.partial.BoundPartial(p, fixed).Objectives) {
		e.proof.Branches += e.below[fixed]
		return nil
	}
	if fixed == len(p) {
		return e.leaf(p)
	}
	for o := range e.space.Genes[fixed].Count() {
		p[fixed] = o
		if err := e.walk(p, fixed+1); err != nil {
			return err
		}
	}
	p[fixed] = 0
	return nil
}

// leaf decides one point. A point that repair changes is another point's variant, and is decided there.
func (e *enumerator) leaf(p []int) error {
	key, repaired := e.problem.Canonical(p)
	switch {
	case !slices.Equal(p, repaired) || e.known[key]:
		e.proof.Repeated++
	case e.bounder != nil && e.archive.Excludes(e.bounder.Bound(repaired, key).Objectives),
		e.partial != nil && e.archive.Excludes(e.partial.BoundPartial(repaired, len(repaired)).Objectives):
		e.proof.Bounded++
	default:
		e.batch = append(e.batch, candidate{key: key, point: repaired})
	}
	if len(e.batch) < enumerationBatch {
		return nil
	}
	return e.flush()
}

// flush evaluates what is waiting, up to the limit.
func (e *enumerator) flush() error {
	if room := e.cfg.Limit - e.proof.Evaluated; len(e.batch) > room {
		e.batch, e.full = e.batch[:room], true
	}
	vs, err := e.evaluate()
	if err == nil {
		err = e.pool.complete(e.ctx, vs, e.archive)
	}
	if err != nil {
		return err
	}
	for _, v := range vs {
		e.archive.Add(v)
	}
	e.proof.Evaluated += len(vs)
	e.proof.Screened += float64(len(e.batch) - len(vs))
	e.batch = e.batch[:0]
	if e.cfg.Watch != nil {
		e.cfg.Watch(e.decided())
	}
	return nil
}

// evaluate scores the batch; where evaluations can be left half way, all that the front as it stands does not exclude.
func (e *enumerator) evaluate() ([]Variant, error) {
	if e.cfg.NoBounds || !e.pool.screens() {
		return e.pool.evaluate(e.ctx, e.batch)
	}
	return e.pool.screen(e.ctx, e.batch, e.archive)
}

func (e *enumerator) decided() float64 {
	return e.proof.Repeated + e.proof.Branches + e.proof.Bounded + e.proof.Screened + float64(e.proof.Evaluated)
}

// finish draws the conclusions of a visit that was not interrupted.
func (e *enumerator) finish() error {
	proven := !e.full
	if proven && e.decided() != e.below[0] {
		return fmt.Errorf("optimize: %v of %v points were decided: the enumeration lost count", e.decided(), e.below[0])
	}
	switch lightest := e.archive.Lightest(); {
	case proven && lightest != nil:
		e.conclude(true, lightest.Score.Objectives[0])
	case proven:
		e.conclude(true, math.Inf(1))
	default:
		floor, err := e.floor()
		if err != nil {
			return err
		}
		e.conclude(false, floor)
	}
	return nil
}

// conclude writes down what is known, with a proven lower bound on the first objective of what complies.
func (e *enumerator) conclude(proven bool, floor float64) {
	out := &e.proof
	out.Points, out.Front, out.Proven, out.Floor, out.Gap = e.below[0], e.archive.Front(), proven, floor, math.NaN()
	if lightest := e.archive.Lightest(); lightest != nil {
		best := lightest.Score.Objectives[0]
		out.Floor = min(floor, best)
		out.Gap = (best - out.Floor) / math.Abs(best)
	}
}
