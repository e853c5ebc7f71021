package optimize

import (
	"context"
	"fmt"
)

// pool owns one evaluator for each worker. One batch runs at a time.
type pool struct {
	evaluators []Evaluator
	objectives int
}

func newPool(p Problem, workers int) *pool {
	out := &pool{objectives: len(p.Objectives())}
	for range workers {
		out.evaluators = append(out.evaluators, p.NewEvaluator())
	}
	return out
}

// each shares the indexes below n among the workers, each with its own evaluator, see Share.
func (p *pool) each(ctx context.Context, n int, f func(e Evaluator, i int) error) error {
	return Share(ctx, p.evaluators, n, f)
}

// evaluate scores points into slots of the same order.
func (p *pool) evaluate(ctx context.Context, batch []candidate) ([]Variant, error) {
	out := make([]Variant, len(batch))
	err := p.each(ctx, len(batch), func(e Evaluator, i int) error {
		c := batch[i]
		score, err := e.Evaluate(ctx, c.point, c.key)
		if err != nil {
			return fmt.Errorf("optimize: variant %q: %w", c.key, err)
		}
		out[i] = Variant{Key: c.key, Point: c.point, Score: score}
		return checkScore(score, p.objectives, c.key)
	})
	return out, err
}

// screens says whether the problem's evaluators can leave an evaluation half way.
func (p *pool) screens() bool {
	_, ok := p.evaluators[0].(Screener)
	return ok
}

// screen scores those of a batch that are of class 0 and that the front, as it stands, does not exclude, in their order.
func (p *pool) screen(ctx context.Context, batch []candidate, front *Archive) ([]Variant, error) {
	all, kept := make([]Variant, len(batch)), make([]bool, len(batch))
	err := p.each(ctx, len(batch), func(e Evaluator, i int) error {
		c := batch[i]
		score, keep, err := e.(Screener).Screen(ctx, c.point, c.key, front.Excludes)
		if err != nil {
			return fmt.Errorf("optimize: variant %q: %w", c.key, err)
		}
		if keep {
			all[i], kept[i] = Variant{Key: c.key, Point: c.point, Score: score}, true
			return checkScore(score, p.objectives, c.key)
		}
		return nil
	})
	var out []Variant
	for i, v := range all {
		if kept[i] {
			out = append(out, v)
		}
	}
	return out, err
}

// complete finds the pending objectives of variants that could enter the front with them, in place. Which ones these are is
// decided on the front as it stands, so that it does not depend on the workers.
func (p *pool) complete(ctx context.Context, vs []Variant, front *Archive) error {
	var todo []int
	for i := range vs {
		if s := &vs[i].Score; s.Pending && s.Class == 0 && !front.Excludes(s.Objectives) {
			todo = append(todo, i)
		}
	}
	return p.each(ctx, len(todo), func(e Evaluator, k int) error {
		v := &vs[todo[k]]
		c, ok := e.(Completer)
		if !ok {
			return fmt.Errorf("optimize: variant %q is pending, and its evaluator completes nothing", v.Key)
		}
		score, err := c.Complete(ctx, v.Point, v.Key, v.Score)
		if err != nil {
			return fmt.Errorf("optimize: variant %q: %w", v.Key, err)
		}
		for m, o := range score.Objectives {
			if o < v.Score.Objectives[m] {
				return fmt.Errorf("optimize: variant %q: objective %d was %v pending and is %v complete; a pending value is the least there can be", v.Key, m, v.Score.Objectives[m], o)
			}
		}
		v.Score = score
		return checkScore(score, p.objectives, v.Key)
	})
}
