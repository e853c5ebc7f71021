package optimize

import (
	"context"
	"errors"
	"fmt"
	"math/rand"
	"runtime"
	"slices"
	"time"

	"github.com/MaxHalford/eaopt"
)

// engine is one run. Between generations only eaopt's callback touches it; during one, each island breeds on its own
// goroutine and reads what is frozen then: the archive, the seen variants, the other fields of engine.
type engine struct {
	ctx        context.Context
	problem    Problem
	space      *Space
	cfg        Config
	vary       *variation
	litters    int         // selections in a generation
	directions [][]float64 // nil for up to two objectives
	bounder    Bounder     // nil if there is none or it is switched off
	pool       *pool
	recorders  []Recorder
	now        func() time.Time
	began      time.Time

	generation int
	seen       map[string]Variant
	latest     []string // keys evaluated last, at most guessWindow of them
	guesses    Guesser  // nil if there is none or it is switched off
	features   *features
	forecaster Forecaster // nil if there is none or it is switched off
	scouting   scouting
	places     [][]float64
	fresh      []Variant // evaluated in this generation
	archive    *Archive
	tiers      Tiers
	restarts   int
	islands    []*island
	muster     *muster
	polish     *polisher
	screened   keySet   // left half way by local improvement: no front from now on takes them in
	closing    *closing // nil before the search has stopped
	lookup     lookup
	progress   *progress
	members    [][]Variant // what eaopt's populations start from
	idle       int         // generations in a row that found nothing new
	last       State
	reason     Reason
	err        error
}

// island is what one population keeps beside its variants.
type island struct {
	index  int
	cross  rates
	mutate rates
	origin rates
	inject []Variant // join the next selection: from other islands and from local improvement
	renew  bool      // start afresh in the next generation
	scout  *scout    // nil without forecasts
	lookup lookup

	// Of the generation that runs; only the island's own goroutine writes them.
	repeated, bounded, guessed int
	excluded                   []candidate // left out by a bound, kept for an audit
}

// candidate is a point that may be evaluated.
type candidate struct {
	key           string
	point         []int
	cross, mutate int // operators that made it; -1 for none
	origin        int
	looked        *looked // what is remembered of its point; nil outside breeding, chasing and local improvement
}

// Run searches until a stop or until ctx ends, and returns the state after the last complete generation. It returns an
// error for a configuration or a checkpoint that cannot be used, an error of an evaluator or a recorder, and where ctx
// ended before the first generation was complete.
//
// Each generation: islands breed; their children are evaluated together in one pool; islands select (several times, where genes
// are real numbers); now and then they exchange variants; the archive takes in what is new; the lightest that complies is chased
// for lighter ones; variants on the front are improved locally; the stop decides; recorders look. A search that has stopped by
// itself may end with a closer look around its front (Config.Closing).
func Run(ctx context.Context, p Problem, cfg Config, recorders ...Recorder) (*Result, error) {
	e, err := newEngine(ctx, p, cfg, recorders)
	if err != nil {
		return nil, err
	}
	if err := e.begin(); err != nil {
		return nil, err
	}
	if err := e.drive(); err != nil {
		return nil, err
	}
	if e.err == nil {
		e.err = e.close()
	}
	if e.err != nil && !(errors.Is(e.err, ctx.Err()) && e.last.snapshot != nil) {
		return nil, e.err
	}
	if e.err != nil {
		e.reason = Cancelled
		e.last.Reason = Cancelled
	}
	return &Result{e.last}, nil
}

func newEngine(ctx context.Context, p Problem, cfg Config, recorders []Recorder) (*engine, error) {
	space := p.Space()
	if err := space.Validate(); err != nil {
		return nil, err
	}
	cfg, err := cfg.complete()
	if err != nil {
		return nil, err
	}
	objectives := p.Objectives()
	if len(objectives) == 0 {
		return nil, errors.New("optimize: the problem has no objectives; name at least one")
	}
	e := &engine{
		ctx: ctx, problem: p, space: space, cfg: cfg, recorders: recorders, now: time.Now,
		vary: newVariation(space).without(cfg), pool: newPool(p, cfg.Workers), seen: map[string]Variant{},
		archive: NewArchive(cfg.Stones), muster: newMuster(cfg.Islands), progress: newProgress(objectives),
		polish: newPolisher(), screened: keySet{}, members: make([][]Variant, cfg.Islands),
	}
	if b, ok := p.(Bounder); ok && !cfg.NoBounds {
		e.bounder = b
	}
	if g, ok := p.(Guesser); ok && !cfg.NoGuess {
		e.guesses, e.features = g, newFeatures(space)
	}
	if f, ok := e.pool.evaluators[0].(Forecaster); ok && !cfg.NoForecast && len(e.vary.fine) == 0 && len(e.vary.open) > 0 {
		e.forecaster, e.places = f, places(space)
	}
	e.litters = 1
	floor := rateFloor
	if len(e.vary.fine) > 0 {
		floor = min(fineFloor, 1/float64(max(len(e.vary.cross), len(e.vary.mutate))))
	}
	if len(e.vary.fine) > 0 && !cfg.NoLitters {
		e.litters = fineLitters
	}
	if len(objectives) > 2 {
		e.directions = referenceDirections(len(objectives), cfg.Population)
	}
	for i := range cfg.Islands {
		e.islands = append(e.islands, &island{index: i, cross: newRates(len(e.vary.cross), floor), mutate: newRates(len(e.vary.mutate), floor), origin: newRates(origins, rateFloor)})
		if e.forecaster != nil {
			e.islands[i].scout = &scout{Penalty: firstPenalty}
		}
	}
	return e, nil
}

// complete fills in the defaults and refuses what cannot be run.
func (c Config) complete() (Config, error) {
	c.Islands = orDefault(c.Islands, 2)
	c.Population = orDefault(c.Population, 60)
	c.Workers = orDefault(c.Workers, runtime.GOMAXPROCS(0))
	c.Migrate = orDefault(c.Migrate, 10)
	c.Guesses = orDefault(c.Guesses, 3)
	if c.Islands < 1 || c.Population < 4 || c.Workers < 1 || c.Migrate < 1 || c.Guesses < 1 || c.Stones < 0 {
		return c, fmt.Errorf("optimize: islands %d, population %d, workers %d, migrate %d, guesses %d, stones %d: the population is at least 4, stones at least 0, the others at least 1", c.Islands, c.Population, c.Workers, c.Migrate, c.Guesses, c.Stones)
	}
	s := c.Stop
	if s.Generations < 0 || s.Evaluations < 0 || s.Time < 0 || s.Stagnation < 0 {
		return c, fmt.Errorf("optimize: a limit is negative: %+v", s)
	}
	if s == (Stop{}) {
		return c, errors.New("optimize: nothing would end the run; set a number of generations, evaluations, a time or a stagnation")
	}
	return c, nil
}

func orDefault(v, d int) int {
	if v == 0 {
		return d
	}
	return v
}

// begin fills the populations: from the checkpoint, or with the start points and random ones.
func (e *engine) begin() error {
	e.began = e.now()
	if e.cfg.Resume != nil {
		return e.resume(e.cfg.Resume)
	}
	lists := make([][]candidate, len(e.islands))
	var all []candidate
	for i := range e.islands {
		lists[i] = e.firstPoints(i)
		all = append(all, lists[i]...)
	}
	if err := e.evaluate(all); err != nil {
		return err
	}
	for i, list := range lists {
		e.members[i] = e.known(list)
		if len(e.members[i]) == 0 { // the limit on evaluations was reached before this island
			e.members[i] = slices.Clone(e.members[0][:1])
		}
	}
	return nil
}

// firstPoints returns distinct candidates for an island: the start points, then random ones.
func (e *engine) firstPoints(island int) []candidate {
	var out []candidate
	taken := map[string]bool{}
	for _, p := range e.cfg.Start {
		if c := e.canonical(p); !taken[c.key] {
			taken[c.key] = true
			out = append(out, c)
		}
	}
	for slot := len(out); slot < e.cfg.Population; slot++ {
		rng := generator(e.cfg.Seed, island, 0, slot)
		for range newcomerTries {
			if c := e.canonical(e.vary.random(rng)); !taken[c.key] {
				taken[c.key] = true
				out = append(out, c)
				break
			}
		}
	}
	return out
}

// lookUp names a point and remembers it; for what runs between generations.
func (e *engine) lookUp(p []int) candidate { return e.lookup.look(e.problem, p) }

func (e *engine) canonical(p []int) candidate {
	key, repaired := e.problem.Canonical(p)
	return candidate{key: key, point: repaired, cross: -1, mutate: -1}
}

// known returns the evaluated variants of a list of candidates.
func (e *engine) known(list []candidate) []Variant {
	var out []Variant
	for _, c := range list {
		if v, ok := e.seen[c.key]; ok {
			out = append(out, v)
		}
	}
	return out
}

// evaluate scores what is new in batch, each key once, in the order of batch and up to the limit on evaluations.
// Nothing is kept if it fails.
func (e *engine) evaluate(batch []candidate) error {
	var todo []candidate
	taken := map[string]bool{}
	for _, c := range batch {
		if _, ok := e.seen[c.key]; ok || taken[c.key] {
			continue
		}
		if e.spent(len(todo)) {
			break
		}
		taken[c.key] = true
		todo = append(todo, c)
	}
	vs, err := e.pool.evaluate(e.ctx, todo)
	if err == nil {
		err = e.pool.complete(e.ctx, vs, e.archive)
	}
	if err == nil {
		e.take(vs)
	}
	return err
}

// take notes what was evaluated.
func (e *engine) take(vs []Variant) {
	for _, v := range vs {
		e.seen[v.Key] = v
		e.latest = append(e.latest, v.Key)
	}
	e.latest = slices.Clone(e.latest[max(0, len(e.latest)-guessWindow):])
	e.fresh = append(e.fresh, vs...)
	e.tiers.Evaluated += len(vs)
}

// spent says whether further evaluations beside those done would exceed the limit.
func (e *engine) spent(more int) bool {
	return e.cfg.Stop.Evaluations > 0 && len(e.seen)+more >= e.cfg.Stop.Evaluations
}

// drive lets eaopt run the generations. Its random numbers decide nothing here; a fixed source keeps it from the clock.
func (e *engine) drive() error {
	conf := eaopt.GAConfig{
		NPops: uint(e.cfg.Islands), PopSize: uint(e.cfg.Population), NGenerations: 1 << 62, HofSize: 1,
		Model: model{e}, RNG: rand.New(rand.NewSource(1)),
		Callback:  e.endGeneration,
		EarlyStop: func(*eaopt.GA) bool { return e.reason != Running || e.err != nil },
	}
	if e.cfg.Islands > 1 {
		conf.Migrator, conf.MigFrequency = migrator{e}, uint(e.cfg.Migrate)
	}
	ga, err := conf.NewGA()
	if err != nil {
		return err
	}
	if err := ga.Minimize(e.newGenome()); err != nil && e.err == nil {
		e.err = err
	}
	return nil
}

// newGenome hands out the first members, island by island, as eaopt asks for them. Where an island has fewer distinct
// variants than places, they are repeated: eaopt's populations have a fixed size.
func (e *engine) newGenome() func(*rand.Rand) eaopt.Genome {
	next := 0
	return func(*rand.Rand) eaopt.Genome {
		members := e.members[next/e.cfg.Population]
		v := members[next%e.cfg.Population%len(members)]
		next++
		return &genome{v}
	}
}

// endGeneration is what happens while no population runs. If it fails the generation is discarded: the last state
// stands.
func (e *engine) endGeneration(ga *eaopt.GA) {
	if ga.Generations == 0 && e.named(ga) {
		return
	}
	e.generation = int(ga.Generations)
	for _, i := range e.islands {
		e.tiers.Repeated += i.repeated
		e.tiers.Bounded += i.bounded
		e.tiers.Guessed += i.guessed
	}
	for _, v := range e.fresh {
		e.archive.Add(v)
	}
	if e.err = e.reconnoitre(); e.err != nil {
		return
	}
	if e.err = e.chase(); e.err != nil {
		return
	}
	if e.err = e.improve(); e.err != nil {
		return
	}
	e.progress.look(e)
	e.idle++
	if len(e.fresh) > 0 {
		e.idle = 0
	}
	e.renew()
	e.reason = e.stop()
	for i := range ga.Populations {
		e.members[i] = variantsOf(&ga.Populations[i])
	}
	e.record()
}

// named numbers eaopt's populations after its start, and for a resumed run sets its counters; it reports whether the
// generation was recorded before the interruption.
func (e *engine) named(ga *eaopt.GA) bool {
	for i := range ga.Populations {
		ga.Populations[i].ID = islandName(i)
		ga.Populations[i].Generations = uint(e.generation)
	}
	if e.cfg.Resume == nil {
		return false
	}
	ga.Generations = uint(e.generation)
	if e.reason = e.stop(); e.goesOnClosing() {
		e.reason = e.closing.Reason
	}
	e.last.Reason = e.reason
	return true
}

// record makes the state and shows it to the recorders.
func (e *engine) record() {
	e.last = e.state()
	e.fresh = nil
	for _, r := range e.recorders {
		if err := r.Generation(e.last); err != nil {
			e.err = fmt.Errorf("optimize: generation %d could not be recorded: %w", e.generation, err)
			return
		}
	}
}
