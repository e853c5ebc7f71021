package sizing

import (
	"context"

	"leanbay/optimize"
)

// Plain runs eaopt's own generational model on a penalised mass until as many distinct designs were analysed, and returns the
// least feasible mass (+Inf if none) and after how many designs it came.
func Plain(ctx context.Context, t *Truss, seed uint64, evaluations int) (mass float64, at int, err error) {
	model, err := newModel(t)
	if err != nil {
		return 0, 0, err
	}
	p := newProblem(t, func() analyser { return newBarAnalyser(t, model) })
	return optimize.Plain(ctx, p, p.mass, seed, evaluations)
}
