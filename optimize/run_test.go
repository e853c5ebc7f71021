package optimize

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"
)

func run(t *testing.T, p Problem, cfg Config, r ...Recorder) *Result {
	t.Helper()
	res, err := Run(context.Background(), p, cfg, r...)
	if err != nil {
		t.Fatal(err)
	}
	return res
}

// text is everything that a run answers, down to the last bit of each number.
func text(t *testing.T, r *Result) string {
	t.Helper()
	b, err := json.Marshal([]any{r.Generation, r.Evaluations, r.Tiers, r.Front, r.Stones, r.Hypervolume, r.Reference, r.Restarts, r.Rates, r.Populations})
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func plain(vs []Variant) string {
	var b strings.Builder
	for _, v := range vs {
		fmt.Fprintln(&b, v.Key, v.Score.Objectives)
	}
	return b.String()
}

// Source: the front of all variants, compared all with all.
func TestRunFindsTheEnumeratedFront(t *testing.T) {
	front := exhaust(newToy(4, 7))
	if len(front) < 15 {
		t.Fatalf("the toy has a front of %d variants: too easy a case", len(front))
	}
	want := plain(front)
	for i, cfg := range []Config{{}, {NoBounds: true}, {NoHints: true}, {NoGuess: true}, {Audit: true}, {Islands: 1}} {
		for seed := range uint64(2 - min(i, 1)) {
			cfg.Seed, cfg.Population, cfg.Stop = seed, 24, Stop{Generations: 60, Stagnation: 25}
			p := newToy(4, 7)
			res := run(t, p, cfg)
			if got := plain(res.Front); got != want {
				t.Errorf("seed %d %+v: front\n%swant\n%s", seed, cfg, got, want)
			}
			for k, n := range p.perKey {
				if n > 1 && !cfg.Audit {
					t.Errorf("seed %d: %s was evaluated %d times", seed, k, n)
				}
			}
			if !cfg.Audit && int(p.calls.Load()) != res.Evaluations {
				t.Errorf("seed %d: %d evaluations counted, %d made", seed, res.Evaluations, p.calls.Load())
			}
		}
	}
}

func TestSameSeedSameResultWithAnyWorkers(t *testing.T) {
	cfg := Config{Seed: 7, Islands: 3, Population: 16, Migrate: 3, Stones: 1, Stop: Stop{Generations: 12}}
	var want string
	for _, workers := range []int{1, 2, 8} {
		cfg.Workers = workers
		got := text(t, run(t, newToy(6, 12), cfg))
		if want == "" {
			want = got
		}
		if got != want {
			t.Errorf("%d workers: another result", workers)
		}
	}
	cfg.Seed = 8
	if text(t, run(t, newToy(6, 12), cfg)) == want {
		t.Error("another seed gives the same run")
	}
}

// tape keeps a checkpoint for each generation.
type tape struct {
	all  []Checkpoint
	seen []Variant
}

func (r *tape) Generation(s State) error {
	snap, err := s.Snapshot()
	r.seen = append(r.seen, s.Fresh...)
	r.all = append(r.all, Checkpoint{Snapshot: snap, Seen: append([]Variant(nil), r.seen...)})
	return err
}

func TestResumedRunEndsAsIfUninterrupted(t *testing.T) {
	cfg := Config{Seed: 3, Islands: 2, Population: 12, Migrate: 4, Stones: 1, Stop: Stop{Generations: 20}}
	whole := &tape{}
	want := text(t, run(t, newToy(6, 12), cfg, whole))
	for _, g := range []int{0, 1, 7, 13, 20} {
		// Through text, as a store would keep it.
		stored, err := json.Marshal(whole.all[g])
		if err != nil {
			t.Fatal(err)
		}
		var back Checkpoint
		if err := json.Unmarshal(stored, &back); err != nil {
			t.Fatal(err)
		}
		slices.Reverse(back.Seen) // the order in which a store returns them does not matter
		p := newToy(6, 12)
		resumed := cfg
		resumed.Resume = &back
		rest := &tape{}
		res := run(t, p, resumed, rest)
		if got := text(t, res); got != want {
			t.Errorf("resumed at generation %d: another result", g)
		}
		if len(rest.all) != 20-g {
			t.Errorf("resumed at generation %d: %d generations recorded, want %d", g, len(rest.all), 20-g)
		}
		if got, want := int(p.calls.Load()), res.Evaluations-len(back.Seen); got != want {
			t.Errorf("resumed at generation %d: %d evaluations, want %d: what was known was evaluated again", g, got, want)
		}
	}
}

func TestResumeRefusesAnotherRun(t *testing.T) {
	cfg := Config{Seed: 3, Population: 12, Stop: Stop{Generations: 2}}
	j := &Journal{}
	run(t, newToy(4, 7), cfg, j)
	for name, c := range map[string]struct {
		change func(*Config, *Checkpoint)
		want   string
	}{
		"seed":    {func(c *Config, _ *Checkpoint) { c.Seed = 4 }, "seed 3"},
		"missing": {func(_ *Config, k *Checkpoint) { k.Seen = k.Seen[1:] }, "counts"},
		"damaged": {func(_ *Config, k *Checkpoint) { k.Snapshot = k.Snapshot[:9] }, "cannot be read"},
		"version": {func(_ *Config, k *Checkpoint) { k.Snapshot = []byte(`{"version":99}`) }, "version 99"},
	} {
		bad, k := cfg, j.Checkpoint
		c.change(&bad, &k)
		bad.Resume = &k
		if _, err := Run(context.Background(), newToy(4, 7), bad); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want one that says %q", name, err, c.want)
		}
	}
	cfg.Resume = &j.Checkpoint
	if _, err := Run(context.Background(), newToy(4, 8), cfg); err == nil || !strings.Contains(err.Error(), "another space") {
		t.Errorf("another space: error %v", err)
	}
}

// stopper cancels after a generation.
type stopper struct {
	at     int
	cancel func()
	last   State
}

func (s *stopper) Generation(st State) error {
	s.last = st
	if st.Generation == s.at {
		s.cancel()
	}
	return nil
}

func TestCancelKeepsTheLastWholeGeneration(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	cfg := Config{Seed: 1, Population: 12, Stop: Stop{Generations: 1000}}
	s := &stopper{at: 6, cancel: cancel}
	res, err := Run(ctx, newToy(6, 12), cfg, s)
	if err != nil {
		t.Fatal(err)
	}
	if res.Reason != Cancelled || res.Generation != 6 {
		t.Errorf("stopped by %q at generation %d, want cancelled at 6", res.Reason, res.Generation)
	}
	cfg.Stop = Stop{Generations: 6}
	whole := run(t, newToy(6, 12), cfg)
	if text(t, res) != text(t, whole) {
		t.Error("the cancelled run differs from one of 6 generations")
	}
	if _, err := Run(ctx, newToy(6, 12), cfg); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled before the start: error %v", err)
	}
}

// A run cancelled in the middle of a batch ends with the last whole generation, resumes from it, and ends as if it had
// not been cancelled.
func TestCancelInTheMiddleOfAGeneration(t *testing.T) {
	cfg := Config{Seed: 1, Population: 12, Stop: Stop{Generations: 10}}
	want := text(t, run(t, newToy(6, 12), cfg))
	for _, at := range []int64{40, 95, 130} {
		ctx, cancel := context.WithCancel(context.Background())
		p := newToy(6, 12)
		p.onCall = func(n int64) {
			if n == at {
				cancel()
			}
		}
		j := &Journal{}
		res, err := Run(ctx, p, cfg, j)
		cancel()
		if err != nil || res.Reason != Cancelled {
			t.Fatalf("cancelled at evaluation %d: %v, %v", at, res, err)
		}
		if len(j.Seen) != res.Evaluations || int64(res.Evaluations) >= at {
			t.Errorf("cancelled at evaluation %d: %d evaluations in the state, %d recorded", at, res.Evaluations, len(j.Seen))
		}
		rest := cfg
		rest.Resume = &j.Checkpoint
		if text(t, run(t, newToy(6, 12), rest)) != want {
			t.Errorf("cancelled at evaluation %d and resumed: another result", at)
		}
	}
}

func TestPanicOfAnEvaluatorIsAnError(t *testing.T) {
	p := newToy(4, 7)
	p.onCall = func(n int64) {
		if n == 50 {
			panic("a mistake")
		}
	}
	if _, err := Run(context.Background(), p, Config{Stop: Stop{Generations: 5}}); err == nil || !strings.Contains(err.Error(), "a mistake") {
		t.Errorf("error %v", err)
	}
}

func TestEvaluationsAreAHardLimitAndReplayATimeStop(t *testing.T) {
	for _, limit := range []int{1, 5, 37, 300} {
		p := newToy(6, 12)
		res := run(t, p, Config{Seed: 2, Population: 16, Stop: Stop{Evaluations: limit}})
		if res.Evaluations != limit || int(p.calls.Load()) != limit || res.Reason != Evaluation {
			t.Errorf("limit %d: %d counted, %d made, stopped by %q", limit, res.Evaluations, p.calls.Load(), res.Reason)
		}
	}
	clock := time.Unix(0, 0)
	e, err := newEngine(context.Background(), newToy(6, 12), Config{Seed: 2, Islands: 3, Population: 16, Stop: Stop{Time: 20 * time.Second}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	e.now = func() time.Time { clock = clock.Add(time.Second); return clock }
	if err := e.begin(); err != nil {
		t.Fatal(err)
	}
	if err := e.drive(); err != nil {
		t.Fatal(err)
	}
	if e.last.Reason != TimeUp {
		t.Fatalf("stopped by %q, want time", e.last.Reason)
	}
	replay := run(t, newToy(6, 12), Config{Seed: 2, Islands: 3, Population: 16, Stop: Stop{Evaluations: e.last.Evaluations}})
	if text(t, replay) != text(t, &Result{State: e.last}) {
		t.Errorf("%d evaluations do not replay the run that time stopped", e.last.Evaluations)
	}
}

func TestReasonsForStopping(t *testing.T) {
	small := newToy(1, 3) // 3 sizes, 1 + 4 props, 3 braces
	res := run(t, small, Config{Population: 8, Stop: Stop{Generations: 500}})
	if res.Reason != Exhausted || !res.Settled {
		t.Errorf("small space: stopped by %q, settled %v", res.Reason, res.Settled)
	}
	res = run(t, newToy(5, 9), Config{Population: 20, Stop: Stop{Stagnation: 12}, NoBounds: true})
	if res.Reason != Stagnation {
		t.Errorf("stopped by %q, want stagnation", res.Reason)
	}
	for name, cfg := range map[string]Config{"no limit": {}, "negative": {Stop: Stop{Generations: -1}}, "population": {Population: 2, Stop: Stop{Generations: 1}}} {
		if _, err := Run(context.Background(), newToy(2, 3), cfg); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
}

func TestErrorsDoNotDependOnWorkers(t *testing.T) {
	var want string
	for _, workers := range []int{1, 4} {
		p := newToy(5, 9)
		p.badOnce = "7"
		_, err := Run(context.Background(), p, Config{Seed: 5, Workers: workers, Stop: Stop{Generations: 5}})
		if err == nil || !strings.Contains(err.Error(), "no evaluation beyond") {
			t.Fatalf("%d workers: error %v", workers, err)
		}
		if want == "" {
			want = err.Error()
		}
		if err.Error() != want {
			t.Errorf("%d workers: %v, want %s", workers, err, want)
		}
	}
}

func TestAuditFindsAWrongBound(t *testing.T) {
	p := newToy(4, 7)
	p.loose = true
	if _, err := Run(context.Background(), p, Config{Audit: true, Stop: Stop{Generations: 30}}); err == nil || !strings.Contains(err.Error(), "mend the bound") {
		t.Errorf("error %v, want the audit's", err)
	}
}

func TestStartPointsAreInTheFirstGeneration(t *testing.T) {
	p := newToy(4, 7)
	drawn := []int{1, 2, 3, 4, 0, 3, 1}
	key, _ := p.Canonical(drawn)
	j := &Journal{}
	run(t, p, Config{Start: [][]int{drawn}, Stop: Stop{Generations: 1}}, j)
	found := false
	for _, v := range j.Seen {
		found = found || v.Key == key
	}
	if !found {
		t.Error("the start point was not evaluated")
	}
}

// Source: the front of all variants, compared all with all.
func TestThreeObjectives(t *testing.T) {
	p := newToy(4, 6)
	p.third = true
	want := plain(exhaust(p))
	p = newToy(4, 6)
	p.third = true
	res := run(t, p, Config{Seed: 1, Population: 30, NoGuess: true, Stop: Stop{Generations: 200, Stagnation: 40}})
	if got := plain(res.Front); got != want {
		t.Errorf("front\n%swant\n%s", got, want)
	}
	if !res.Settled {
		t.Error("the front is not settled")
	}
}

// Settled is checked here by its definition: every neighbour scored afresh, none dominates.
func TestSettledMeansNoNeighbourImproves(t *testing.T) {
	p := newToy(5, 9)
	res := run(t, p, Config{Seed: 4, Population: 20, Stop: Stop{Generations: 30}})
	v := newVariation(p.Space())
	settled := 0
	for _, m := range res.Front {
		if !m.Settled {
			continue
		}
		settled++
		for _, mv := range v.neighbours(m.Point, nil) {
			key, q := p.Canonical(mv.from(m.Point))
			s, _ := p.NewEvaluator().Evaluate(context.Background(), q, key)
			if s.Class == 0 && dominates(s.Objectives, m.Score.Objectives) {
				t.Errorf("%s is settled but its neighbour %s dominates it", m.Key, key)
			}
		}
	}
	if settled == 0 {
		t.Error("nothing is settled")
	}
}

func TestSnapshotDoesNotChangeLater(t *testing.T) {
	var first []byte
	var kept State
	r := recorderFunc(func(s State) error {
		if s.Generation == 5 {
			kept = s
			first, _ = s.Snapshot()
		}
		return nil
	})
	run(t, newToy(5, 9), Config{Stop: Stop{Generations: 20}}, r)
	later, err := kept.Snapshot()
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(first, later) {
		t.Error("a state's snapshot changed as the run went on")
	}
}

type recorderFunc func(State) error

func (f recorderFunc) Generation(s State) error { return f(s) }

func TestRecorderErrorEndsTheRun(t *testing.T) {
	full := errors.New("disk full")
	_, err := Run(context.Background(), newToy(4, 7), Config{Stop: Stop{Generations: 20}}, recorderFunc(func(State) error { return full }))
	if !errors.Is(err, full) {
		t.Errorf("error %v, want %v", err, full)
	}
}
