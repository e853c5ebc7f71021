package suites

import (
	"context"
	"slices"
	"sync"
	"time"

	"leanbay/optimize"
	"leanbay/optimize/shedspace"
)

// ProofBench says on which spaces the search is held to the proven front, and how.
type ProofBench struct {
	Subspaces   []Subspace
	Seeds       int // seeds 1 to Seeds
	Evaluations int // limit of each search
	Population  int // of each of two islands
	Workers     int
	Ablation    bool                            // repeat the searches with one part off at a time
	Watch       func(subspace string, seed int) // seed 0 is the enumeration; nil for none
	// Progress, if set, is told now and then how many points of the space in hand are decided; Done hears of each space as it
	// ends.
	Progress func(decided, points float64)
	Done     func(rows []ProofRow)
}

// ProofRow is the outcome on one space.
type ProofRow struct {
	Subspace string  `json:"subspace"`
	Without  string  `json:"without,omitempty"` // the part of the search that was off
	Points   float64 `json:"points"`
	// Of the points: evaluated by a search before or other names of a variant, left out by bounds with whole branches or one
	// by one, left out in the course of their evaluation, and evaluated for the proof.
	Repeated  float64 `json:"repeated"`
	Branches  float64 `json:"branches"`
	Bounded   float64 `json:"bounded"`
	Screened  float64 `json:"screened"`
	Evaluated int     `json:"evaluated"`
	Known     int     `json:"known"` // distinct variants that all searches together evaluated
	Proven    bool    `json:"proven"`
	Front     int     `json:"front"`    // variants on the proven front
	Lightest  float64 `json:"lightest"` // first objective of the best complying one; 0 if none complies
	// Of the searches: those that end with exactly the proven front, those that have its best, their evaluations, and the
	// evaluations until the front was complete (of those that found it).
	Seeds    int     `json:"seeds"`
	Hits     int     `json:"hits"`
	HitsBest int     `json:"hits_best"`
	Searched Spread  `json:"searched"`
	Complete Spread  `json:"complete"`
	Seconds  float64 `json:"seconds"` // of the enumeration
}

// stagnation is the number of generations without growth after which a search on a narrowed space ends.
const stagnation = 15

// remembered is a problem that remembers scores between searches: an evaluation is a pure function of the key, so seeds share
// the work and each still counts its own.
type remembered struct {
	*shedspace.Problem
	mu    sync.RWMutex
	known map[string]optimize.Score
}

// NewEvaluator implements optimize.Problem.
func (r *remembered) NewEvaluator() optimize.Evaluator {
	return &rememberer{r, r.Problem.NewEvaluator()}
}

type rememberer struct {
	r *remembered
	optimize.Evaluator
}

// Evaluate implements optimize.Evaluator.
func (e *rememberer) Evaluate(ctx context.Context, p []int, key string) (optimize.Score, error) {
	e.r.mu.RLock()
	s, ok := e.r.known[key]
	e.r.mu.RUnlock()
	if ok {
		return s, nil
	}
	s, err := e.Evaluator.Evaluate(ctx, p, key)
	if err == nil {
		e.r.mu.Lock()
		e.r.known[key] = s
		e.r.mu.Unlock()
	}
	return s, err
}

// Hint implements optimize.Hinter.
func (e *rememberer) Hint(ctx context.Context, p []int, key string, s optimize.Score) ([]float64, error) {
	return e.Evaluator.(optimize.Hinter).Hint(ctx, p, key, s)
}

// Screen implements optimize.Screener.
func (e *rememberer) Screen(ctx context.Context, p []int, key string, excluded func([]float64) bool) (optimize.Score, bool, error) {
	e.r.mu.RLock()
	s, ok := e.r.known[key]
	e.r.mu.RUnlock()
	if ok {
		return s, s.Class == 0 && !excluded(s.Objectives), nil
	}
	return e.Evaluator.(optimize.Screener).Screen(ctx, p, key, excluded)
}

// Run searches each space with every seed, then enumerates it, and compares the fronts variant by variant. When ctx ends it
// returns the spaces that are done, and what was decided of the one in hand, with the context's error.
func (b ProofBench) Run(ctx context.Context) ([]ProofRow, error) {
	var out []ProofRow
	for _, s := range b.Subspaces {
		rows, err := b.one(ctx, s)
		out = append(out, rows...)
		if err != nil {
			return out, err
		}
		if b.Done != nil {
			b.Done(rows)
		}
	}
	return out, nil
}

// searched is what one seed found.
type searched struct {
	front []optimize.Variant
	spent int
	seen  []optimize.Variant // in order
}

// Generation implements optimize.Recorder.
func (s *searched) Generation(st optimize.State) error {
	s.seen = append(s.seen, st.Fresh...)
	s.front, s.spent = slices.Clone(st.Front), st.Evaluations
	return nil
}

// parts are the parts of the search that an ablation switches off, one at a time; the first is none.
var parts = []struct {
	name string
	off  func(*optimize.Config)
}{
	{"", func(*optimize.Config) {}},
	{"bounds", func(c *optimize.Config) { c.NoBounds = true }},
	{"local improvement", func(c *optimize.Config) { c.NoPolish = true }},
	{"hints", func(c *optimize.Config) { c.NoHints = true }},
	{"restarts", func(c *optimize.Config) { c.NoRestart = true }},
	{"adapted rates", func(c *optimize.Config) { c.NoAdapt = true }},
	{"guesses", func(c *optimize.Config) { c.NoGuess = true }},
}

// one searches a space and decides it.
func (b ProofBench) one(ctx context.Context, s Subspace) ([]ProofRow, error) {
	narrowed, err := s.Problem()
	if err != nil {
		return nil, err
	}
	p := &remembered{Problem: narrowed, known: map[string]optimize.Score{}}
	use, known := parts[:1], map[string]optimize.Variant{}
	if b.Ablation {
		use = parts
	}
	var runs [][]searched
	for _, part := range use {
		name := s.Name
		if part.name != "" {
			name += ", without " + part.name
		}
		found, err := b.search(ctx, p, name, part.off)
		if err != nil {
			return nil, err
		}
		runs = append(runs, found)
		for _, r := range found {
			for _, v := range r.seen {
				known[v.Key] = v
			}
		}
	}
	if b.Watch != nil {
		b.Watch(s.Name, 0)
	}
	began := time.Now()
	cfg := optimize.Enumeration{Workers: b.Workers, Known: inOrder(known)}
	if b.Progress != nil {
		points := p.Space().Size()
		cfg.Watch = func(decided float64) { b.Progress(decided, points) }
	}
	proof, err := optimize.Enumerate(ctx, p, cfg)
	if proof == nil {
		return nil, err
	}
	var out []ProofRow
	for i, found := range runs {
		row := ProofRow{Subspace: s.Name, Without: use[i].name, Points: proof.Points, Repeated: proof.Repeated, Branches: proof.Branches, Bounded: proof.Bounded,
			Screened: proof.Screened, Evaluated: proof.Evaluated, Known: len(known), Proven: proof.Proven, Front: len(proof.Front), Seeds: b.Seeds, Seconds: time.Since(began).Seconds()}
		row.compare(proof, found)
		out = append(out, row)
	}
	return out, err
}

// search runs every seed with a part of the search off.
func (b ProofBench) search(ctx context.Context, p *remembered, name string, off func(*optimize.Config)) ([]searched, error) {
	runs := make([]searched, b.Seeds)
	for i := range runs {
		if b.Watch != nil {
			b.Watch(name, i+1)
		}
		cfg := optimize.Config{Seed: uint64(i + 1), Population: b.Population, Start: p.Start(), Stones: 1, Workers: b.Workers,
			Stop: optimize.Stop{Evaluations: b.Evaluations, Stagnation: stagnation}}
		off(&cfg)
		if _, err := optimize.Run(ctx, p, cfg, &runs[i]); err != nil {
			return nil, err
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
	}
	return runs, nil
}

// inOrder lists variants by their keys.
func inOrder(known map[string]optimize.Variant) []optimize.Variant {
	var out []optimize.Variant
	for _, v := range known {
		out = append(out, v)
	}
	slices.SortFunc(out, func(a, b optimize.Variant) int { return slices.Compare([]byte(a.Key), []byte(b.Key)) })
	return out
}

// compare holds the searches to the proven front.
func (r *ProofRow) compare(proof *optimize.Proof, runs []searched) {
	want := keysOf(proof.Front)
	best := slices.IndexFunc(proof.Front, func(v optimize.Variant) bool { return v.Score.Complies })
	if best >= 0 {
		r.Lightest = proof.Front[best].Score.Objectives[0]
	}
	var spent, complete []float64
	for _, s := range runs {
		got := keysOf(s.front)
		spent = append(spent, float64(s.spent))
		if slices.Equal(got, want) {
			r.Hits++
			complete = append(complete, float64(completeAt(s.seen, want)))
		}
		if best >= 0 && slices.Contains(got, want[best]) {
			r.HitsBest++
		}
	}
	r.Searched = SpreadOf(spent)
	if len(complete) > 0 {
		r.Complete = SpreadOf(complete)
	}
}

func keysOf(vs []optimize.Variant) []string {
	out := make([]string, len(vs))
	for i := range vs {
		out[i] = vs[i].Key
	}
	return out
}

// completeAt is the number of evaluations after which all of some variants were seen.
func completeAt(seen []optimize.Variant, want []string) int {
	last := 0
	for i, v := range seen {
		if slices.Contains(want, v.Key) {
			last = i + 1
		}
	}
	return last
}
