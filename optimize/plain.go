package optimize

import (
	"context"
	"errors"
	"math"
	"math/rand"

	"github.com/MaxHalford/eaopt"
)

// plainGenome is a point in eaopt's own generational model: one number for fitness, the objective raised by a penalty.
type plainGenome struct {
	point []int
	run   *plainRun
}

// plainRun is shared by all genomes of a run; eaopt evaluates them one after another.
type plainRun struct {
	ctx       context.Context
	problem   Problem
	space     *Space
	objective func([]int) float64
	evaluator Evaluator
	seen      map[string]float64
	limit     int
	best      float64 // least objective of those that comply
	bestAt    int
}

// Evaluate implements eaopt.Genome: objective times (1 + violation)², a usual penalty. A variant known already costs nothing.
func (g *plainGenome) Evaluate() (float64, error) {
	r := g.run
	key, point := r.problem.Canonical(g.point)
	if f, ok := r.seen[key]; ok {
		return f, nil
	}
	if len(r.seen) >= r.limit {
		return math.MaxFloat64, nil
	}
	s, err := r.evaluator.Evaluate(r.ctx, point, key)
	if err != nil {
		return 0, err
	}
	value := r.objective(point)
	fitness := value * (1 + s.Violation) * (1 + s.Violation)
	r.seen[key] = fitness
	if s.Complies && value < r.best {
		r.best, r.bestAt = value, len(r.seen)
	}
	return fitness, nil
}

// Mutate implements eaopt.Genome: each gene with chance 1/n to another option.
func (g *plainGenome) Mutate(rng *rand.Rand) {
	for i := range g.point {
		if rng.Intn(len(g.point)) == 0 {
			g.point[i] = rng.Intn(g.run.space.Genes[i].Count())
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

// Plain is a yardstick for Run: the same operators' package without our model. It runs eaopt's own generational model with
// tournament selection on one objective (positive, known without evaluation) with a penalty, from random points, until as many
// distinct variants were evaluated, and returns the least objective of those that comply (+Inf if none) and after how many
// variants it came.
func Plain(ctx context.Context, p Problem, objective func(point []int) float64, seed uint64, evaluations int) (best float64, at int, err error) {
	r := &plainRun{ctx: ctx, problem: p, space: p.Space(), objective: objective, evaluator: p.NewEvaluator(), seen: map[string]float64{}, limit: evaluations, best: math.Inf(1)}
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
		g := &plainGenome{point: make([]int, len(r.space.Genes)), run: r}
		for i := range g.point {
			g.point[i] = rng.Intn(r.space.Genes[i].Count())
		}
		return g
	})
	return r.best, r.bestAt, errors.Join(err, ctx.Err())
}
