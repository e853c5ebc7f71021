package sizing

import (
	"context"
	"errors"
	"math"
	"math/rand"

	"github.com/MaxHalford/eaopt"

	"leanbay/optimize"
)

// plainGenome is a design in eaopt's own generational model: one number for fitness, mass raised by a penalty. It is the
// yardstick for the search: the same operators' package without our model.
type plainGenome struct {
	point []int
	run   *plainRun
}

// plainRun is shared by all genomes of a run; eaopt evaluates them one after another.
type plainRun struct {
	p         *problem
	evaluator optimize.Evaluator
	seen      map[string]float64
	limit     int
	best      float64 // least feasible mass
	bestAt    int
}

// Evaluate implements eaopt.Genome: mass times (1 + violation)², a usual penalty. A design known already costs nothing.
func (g *plainGenome) Evaluate() (float64, error) {
	r := g.run
	key, _ := r.p.Canonical(g.point)
	if f, ok := r.seen[key]; ok {
		return f, nil
	}
	if len(r.seen) >= r.limit {
		return math.MaxFloat64, nil
	}
	s, err := r.evaluator.Evaluate(context.Background(), g.point, key)
	if err != nil {
		return 0, err
	}
	mass := r.p.mass(g.point)
	fitness := mass * (1 + s.Violation) * (1 + s.Violation)
	r.seen[key] = fitness
	if s.Complies && mass < r.best {
		r.best, r.bestAt = mass, len(r.seen)
	}
	return fitness, nil
}

// Mutate implements eaopt.Genome: each gene with chance 1/n to another area.
func (g *plainGenome) Mutate(rng *rand.Rand) {
	for i := range g.point {
		if rng.Intn(len(g.point)) == 0 {
			g.point[i] = rng.Intn(len(g.run.p.truss.Areas))
		}
	}
}

// Crossover implements eaopt.Genome: uniform, exchanging genes.
func (g *plainGenome) Crossover(mate eaopt.Genome, rng *rand.Rand) {
	m := mate.(*plainGenome)
	for i := range g.point {
		if rng.Intn(2) == 0 {
			g.point[i], m.point[i] = m.point[i], g.point[i]
		}
	}
}

// Clone implements eaopt.Genome.
func (g *plainGenome) Clone() eaopt.Genome {
	return &plainGenome{point: append([]int(nil), g.point...), run: g.run}
}

// Plain runs eaopt's own generational model with tournament selection on a penalised mass until as many distinct designs
// were analysed, and returns the least feasible mass (+Inf if none) and after how many designs it came.
func Plain(ctx context.Context, t *Truss, seed uint64, evaluations int) (mass float64, at int, err error) {
	model, err := newModel(t)
	if err != nil {
		return 0, 0, err
	}
	p := newProblem(t, func() analyser { return newBarAnalyser(t, model) })
	r := &plainRun{p: p, evaluator: p.NewEvaluator(), seen: map[string]float64{}, limit: evaluations, best: math.Inf(1)}
	conf := eaopt.GAConfig{
		NPops: 1, PopSize: 50, NGenerations: uint(20 * evaluations / 50), HofSize: 1, RNG: rand.New(rand.NewSource(int64(seed))),
		Model:     eaopt.ModGenerational{Selector: eaopt.SelTournament{NContestants: 3}, MutRate: 0.5, CrossRate: 0.7},
		EarlyStop: func(*eaopt.GA) bool { return len(r.seen) >= r.limit || ctx.Err() != nil },
	}
	ga, err := conf.NewGA()
	if err != nil {
		return 0, 0, err
	}
	err = ga.Minimize(func(rng *rand.Rand) eaopt.Genome {
		g := &plainGenome{point: make([]int, len(t.Groups)), run: r}
		for i := range g.point {
			g.point[i] = rng.Intn(len(t.Areas))
		}
		return g
	})
	return r.best, r.bestAt, errors.Join(err, ctx.Err())
}
