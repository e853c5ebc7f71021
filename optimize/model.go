package optimize

import (
	"errors"
	"math/rand"
	"slices"
	"strconv"
	"sync"

	"github.com/MaxHalford/eaopt"
)

// genome is a variant in eaopt's populations. It is never changed: the model puts new ones in its place.
type genome struct{ v Variant }

// Evaluate gives eaopt one honest number that can be compared across generations: the first objective of a variant that
// complies, else a number beyond any of them that grows with class and violation.
func (g *genome) Evaluate() (float64, error) {
	s := &g.v.Score
	if s.Class == 0 {
		if s.Complies {
			return s.Objectives[0], nil
		}
		return 1e100, nil
	}
	return 1e100 * (1 + float64(s.Class) + s.Violation/(1+s.Violation)), nil
}

// Mutate and Crossover do nothing: variation is the model's.
func (g *genome) Mutate(*rand.Rand)                  {}
func (g *genome) Crossover(eaopt.Genome, *rand.Rand) {}
func (g *genome) Clone() eaopt.Genome                { return &genome{g.v} }

func islandName(i int) string { return strconv.Itoa(i) }

// variantsOf returns the distinct variants of a population in the order of compareVariants, whatever order eaopt left.
func variantsOf(pop *eaopt.Population) []Variant {
	out := make([]Variant, len(pop.Individuals))
	for i, ind := range pop.Individuals {
		out[i] = ind.Genome.(*genome).v
	}
	return distinct(out)
}

// distinct puts vs in order and drops repeated keys. It reuses vs.
func distinct(vs []Variant) []Variant {
	slices.SortFunc(vs, compareVariants)
	return slices.CompactFunc(vs, func(a, b Variant) bool { return a.Key == b.Key })
}

// model is the whole generation of one island on eaopt's interface. One value serves all populations at once.
type model struct{ e *engine }

// Validate implements eaopt.Model.
func (m model) Validate() error { return nil }

// Apply breeds, evaluates together with the other islands, and selects.
func (m model) Apply(pop *eaopt.Population) error {
	e := m.e
	index, err := strconv.Atoi(pop.ID)
	if err != nil {
		return err
	}
	here, generation := e.islands[index], int(pop.Generations)+1
	chosen := variantsOf(pop)
	for litter := range e.litters {
		var children []candidate
		failed := guarded(func() error {
			children = e.breed(here, chosen, generation, litter)
			return nil
		})
		if err := e.muster.meet(index, children, failed, e.evaluateTogether); err != nil {
			return err
		}
		chosen = e.selectNext(here, chosen, children, generation, litter)
	}
	for k := range pop.Individuals {
		pop.Individuals[k] = eaopt.NewIndividual(&genome{chosen[k%len(chosen)]}, pop.RNG)
	}
	return nil
}

// selectNext merges parents, newcomers from elsewhere and children, and returns the survivors.
func (e *engine) selectNext(here *island, parents []Variant, children []candidate, generation, litter int) []Variant {
	merged := e.known(children)
	if here.renew && len(merged) > 0 {
		here.renew = false
	} else {
		merged = append(merged, parents...)
	}
	merged = distinct(append(merged, here.inject...))
	here.inject = nil
	chosen := survivors(merged, e.cfg.Population, e.directions, generator(e.cfg.Seed, here.index, generation, streamSurvive-litter<<20))
	if !e.cfg.NoAdapt {
		here.credit(children, chosen)
	}
	return chosen
}

// credit rewards the operators whose children survived.
func (here *island) credit(children []candidate, chosen []Variant) {
	alive := make(map[string]bool, len(chosen))
	for _, v := range chosen {
		alive[v.Key] = true
	}
	here.cross.begin()
	here.mutate.begin()
	here.origin.begin()
	for _, c := range children {
		here.cross.count(c.cross, alive[c.key])
		here.mutate.count(c.mutate, alive[c.key])
		here.origin.count(c.origin, alive[c.key])
	}
	here.cross.learn()
	here.mutate.learn()
	here.origin.learn()
}

// evaluateTogether evaluates the children of all islands, island by island.
func (e *engine) evaluateTogether(lists [][]candidate) error {
	if e.cfg.Audit {
		if err := e.audit(); err != nil {
			return err
		}
	}
	return e.evaluate(slices.Concat(lists...))
}

// muster brings the islands of a generation together: the last to arrive does the common work while the others wait.
type muster struct {
	mu     sync.Mutex
	lists  [][]candidate
	failed []error
	came   int
	done   chan struct{}
	err    error
}

func newMuster(islands int) *muster {
	return &muster{lists: make([][]candidate, islands), failed: make([]error, islands), done: make(chan struct{})}
}

// meet waits for all islands and returns the error of the work, the same for each of them. An island that failed
// arrives too, with its error, so that nobody waits for ever.
func (m *muster) meet(island int, list []candidate, failed error, work func([][]candidate) error) error {
	m.mu.Lock()
	m.lists[island], m.failed[island] = list, failed
	m.came++
	done := m.done
	if m.came < len(m.lists) {
		m.mu.Unlock()
		<-done
		return m.err // the next meeting cannot begin before this island comes to it
	}
	defer m.mu.Unlock()
	m.err = errors.Join(m.failed...)
	if m.err == nil {
		m.err = guarded(func() error { return work(m.lists) })
	}
	m.came, m.done = 0, make(chan struct{})
	close(done)
	return m.err
}

// migrator sends each island's best to the next one in a ring. It runs alone, before the islands breed.
type migrator struct{ e *engine }

// Validate implements eaopt.Migrator.
func (m migrator) Validate() error { return nil }

// migrants is the share of a population that is sent on: one in ten, one at least.
const migrants = 10

// Apply implements eaopt.Migrator. It draws from the first layer; the migrants join the next selection of the island
// they go to.
func (m migrator) Apply(pops eaopt.Populations, _ *rand.Rand) {
	e := m.e
	for i := range pops {
		vs := variantsOf(&pops[i])
		first := layers(vs)[0]
		rng := generator(e.cfg.Seed, i, e.generation, streamMigrate)
		to := e.islands[(i+1)%len(pops)]
		for _, k := range rng.Perm(len(first))[:min(len(first), max(1, e.cfg.Population/migrants))] {
			to.inject = append(to.inject, vs[first[k]])
		}
	}
}
