package optimize

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"testing"
)

// staged is a toy whose evaluations can be left after their first half: mass, and the first group's ratio.
type staged struct {
	*toy
	wrong bool // it leaves also what belongs on the front, to be found by an audit
}

func (s staged) NewEvaluator() Evaluator { return stagedEvaluator{toyEvaluator{s.toy}, s.wrong} }

type stagedEvaluator struct {
	toyEvaluator
	wrong bool
}

// Screen implements Screener.
func (w stagedEvaluator) Screen(ctx context.Context, p []int, key string, excluded func([]float64) bool) (Score, bool, error) {
	half := []float64{w.t.mass(p), max(0.8, w.t.ratios(p)[0])}
	if w.wrong {
		half[0] *= 1.02
	}
	if w.t.third {
		half = append(half, 1)
	}
	if excluded(half) {
		return Score{}, false, nil
	}
	s, err := w.Evaluate(ctx, p, key)
	return s, err == nil && s.Class == 0 && !excluded(s.Objectives), err
}

var _ Screener = stagedEvaluator{}

// Source: the front of all variants, compared all with all. Half evaluations save some, in searches and in enumerations.
func TestScreenedSearchFindsTheEnumeratedFront(t *testing.T) {
	want := plain(exhaust(newToy(4, 7)))
	var full, screened int
	for seed := range uint64(2) {
		for _, cfg := range []Config{{}, {NoScreen: true}, {Audit: true}} {
			cfg.Seed, cfg.Population, cfg.Stop = seed, 24, Stop{Generations: 60, Stagnation: 25}
			res := run(t, staged{toy: newToy(4, 7)}, cfg)
			if got := plain(res.Front); got != want || !res.Settled {
				t.Errorf("seed %d %+v: settled %v, front\n%swant\n%s", seed, cfg, res.Settled, got, want)
			}
			switch {
			case cfg.NoScreen && res.Tiers.Screened > 0:
				t.Errorf("%d variants were screened though that was off", res.Tiers.Screened)
			case cfg.NoScreen:
				full += res.Evaluations
			case !cfg.Audit:
				screened += res.Evaluations
			}
		}
	}
	if screened >= full {
		t.Errorf("%d evaluations with screening, %d without", screened, full)
	}
	p := staged{toy: newToy(4, 7)}
	proof, err := Enumerate(context.Background(), p, Enumeration{})
	if err != nil || plain(proof.Front) != want || !proof.Proven || proof.Screened == 0 {
		t.Errorf("enumeration: %+v, error %v", proof, err)
	}
}

func TestAuditFindsAWrongScreen(t *testing.T) {
	p := staged{newToy(4, 7), true}
	_, err := Run(context.Background(), p, Config{Audit: true, Population: 12, NoGuess: true, Stop: Stop{Generations: 20}})
	if err == nil || !strings.Contains(err.Error(), "mend the screen") {
		t.Errorf("error %v, want the audit's", err)
	}
}

// closingRun is a search that stops early, with a close look around its front.
func closingRun() Config {
	return Config{Seed: 3, Population: 12, Stones: 1, Closing: 3, Stop: Stop{Generations: 6}}
}

// A search that stops before its front is settled goes on looking around it: what is named first is settled first, and in
// the end everything, if the share allows.
func TestClosingSettlesTheFront(t *testing.T) {
	open := closingRun()
	open.Closing = 0
	before := run(t, staged{toy: newToy(6, 12)}, open)
	if before.Settled || before.Lightest.Settled {
		t.Fatal("settled without closing: too easy a case")
	}
	res := run(t, staged{toy: newToy(6, 12)}, closingRun())
	if !res.Lightest.Settled || res.Reason != Generation {
		t.Errorf("lightest settled: %v, stopped by %q", res.Lightest.Settled, res.Reason)
	}
	if !covers(res.Lightest.Score.Objectives[:1], before.Lightest.Score.Objectives[:1]) {
		t.Errorf("closing made the lightest %v of %v", res.Lightest.Score.Objectives, before.Lightest.Score.Objectives)
	}
	last := closingRun()
	var named []string
	last.Closing, last.Named = 0.5, func(front []Variant) []string {
		named = []string{front[len(front)-1].Key}
		return named
	}
	res = run(t, staged{toy: newToy(6, 12)}, last)
	for _, v := range res.Front {
		if v.Key == named[0] && !v.Settled {
			t.Errorf("the named variant is not settled, %d others are", len(res.Front))
		}
	}
}

func TestClosingIsTheSameWithAnyWorkersAndAfterAnInterruption(t *testing.T) {
	cfg := closingRun()
	whole := &tape{}
	res := run(t, staged{toy: newToy(6, 12)}, cfg, whole)
	want := text(t, res)
	if len(whole.all) < cfg.Stop.Generations+3 {
		t.Fatalf("%d generations with closing: too few to interrupt", len(whole.all))
	}
	for _, workers := range []int{1, 8} {
		with := cfg
		with.Workers = workers
		if text(t, run(t, staged{toy: newToy(6, 12)}, with)) != want {
			t.Errorf("%d workers: another result", workers)
		}
	}
	for g := range whole.all {
		stored, err := json.Marshal(whole.all[g])
		if err != nil {
			t.Fatal(err)
		}
		var back Checkpoint
		if err := json.Unmarshal(stored, &back); err != nil {
			t.Fatal(err)
		}
		resumed := cfg
		resumed.Resume = &back
		rest := &tape{}
		again := run(t, staged{toy: newToy(6, 12)}, resumed, rest)
		if text(t, again) != want || again.Reason != res.Reason || len(rest.all) != len(whole.all)-1-g {
			t.Errorf("resumed at generation %d: another result, or %d generations, stopped by %q", g, len(rest.all), again.Reason)
		}
	}
	longer := cfg // a limit that was raised since: the search goes on instead
	longer.Stop.Generations = 40
	longer.Resume = &whole.all[len(whole.all)-1]
	if got := run(t, staged{toy: newToy(6, 12)}, longer); got.Generation < 40 {
		t.Errorf("%d generations after the limit was raised", got.Generation)
	}
}

func TestKeySet(t *testing.T) {
	s := keySet{}
	for i := range 100 {
		s.add(fmt.Sprint(i))
	}
	back := keySetOf(s.bytes())
	for i := range 200 {
		if back.has(fmt.Sprint(i)) != (i < 100) {
			t.Errorf("%d: %v", i, i >= 100)
		}
	}
	if keySetOf(s.bytes()[1:]) != nil {
		t.Error("a damaged list was read")
	}
}
