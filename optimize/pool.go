package optimize

import (
	"context"
	"fmt"
	"sync"
	"sync/atomic"
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

// each calls f for every index below n, spread over the workers, each with its own evaluator. Of several errors it
// returns that of the lowest index, so that the error does not depend on the number of workers; once ctx ends it starts
// nothing more and returns the context's error.
func (p *pool) each(ctx context.Context, n int, f func(e Evaluator, i int) error) error {
	errs := make([]error, n)
	var next atomic.Int64
	var wg sync.WaitGroup
	for _, e := range p.evaluators[:min(len(p.evaluators), n)] {
		wg.Go(func() {
			for ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				errs[i] = guarded(func() error { return f(e, i) })
			}
		})
	}
	wg.Wait()
	if err := ctx.Err(); err != nil {
		return err
	}
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// guarded turns a panic into an error: a panic on another goroutine than the caller's could not be caught by the caller.
func guarded(f func() error) (err error) {
	defer func() {
		if v := recover(); v != nil {
			err = fmt.Errorf("optimize: internal fault of the problem: %v", v)
		}
	}()
	return f()
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
