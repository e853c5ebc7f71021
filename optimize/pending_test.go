package optimize

import (
	"context"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
)

// lazyToy is a toy whose third objective is left pending at the least that any variant has.
type lazyToy struct {
	*toy
	completed atomic.Int64
	lie       bool // completes below what was pending
}

func newLazyToy() *lazyToy {
	t := &lazyToy{toy: newToy(3, 5)}
	t.third = true
	return t
}

func (t *lazyToy) NewEvaluator() Evaluator { return lazyEvaluator{t, toyEvaluator{t.toy}} }

// Guess leaves pending what Evaluate does.
func (t *lazyToy) Guess(p []int, key string, ratios []float64) Score {
	return leavePending(t.toy.Guess(p, key, ratios))
}

type lazyEvaluator struct {
	t *lazyToy
	toyEvaluator
}

func leavePending(s Score) Score {
	if s.Class == 0 {
		s.Objectives, s.Pending = append(slices.Clone(s.Objectives[:2]), 1), true
	}
	return s
}

func (w lazyEvaluator) Evaluate(ctx context.Context, p []int, key string) (Score, error) {
	s, err := w.toyEvaluator.Evaluate(ctx, p, key)
	return leavePending(s), err
}

func (w lazyEvaluator) Complete(_ context.Context, p []int, key string, s Score) (Score, error) {
	w.t.completed.Add(1)
	full := w.t.toy.Guess(p, key, w.t.ratios(p))
	if w.t.lie {
		full.Objectives[2] = 0
	}
	return full, nil
}

// TestPendingObjectivesNeverCostAFrontMember: enumeration and search complete what could enter the front, and end with the
// front of all variants compared all with all; few need it, and workers change nothing.
func TestPendingObjectivesNeverCostAFrontMember(t *testing.T) {
	eager := newToy(3, 5)
	eager.third = true
	want := plain(exhaust(eager))
	for _, workers := range []int{1, 4} {
		p := newLazyToy()
		proof, err := Enumerate(context.Background(), p, Enumeration{Workers: workers})
		if err != nil {
			t.Fatal(err)
		}
		if got := plain(proof.Front); got != want || !proof.Proven {
			t.Errorf("%d workers: front\n%swant\n%s", workers, got, want)
		}
		if n := int(p.completed.Load()); n == 0 || n > proof.Evaluated/2 {
			t.Errorf("%d of %d variants were completed", n, proof.Evaluated)
		}
	}
	cfg := Config{Seed: 1, Population: 24, Workers: 1, Stop: Stop{Generations: 60, Stagnation: 25}}
	first := run(t, newLazyToy(), cfg)
	if got := plain(first.Front); got != want {
		t.Errorf("search: front\n%swant\n%s", got, want)
	}
	cfg.Workers = 3
	if again := run(t, newLazyToy(), cfg); text(t, again) != text(t, first) {
		t.Error("three workers give another run than one")
	}
}

// TestPendingValueIsTheLeast: completing below what was pending is a fault that is told.
func TestPendingValueIsTheLeast(t *testing.T) {
	p := newLazyToy()
	p.lie = true
	if _, err := Run(context.Background(), p, Config{Stop: Stop{Generations: 3}}); err == nil || !strings.Contains(err.Error(), "least there can be") {
		t.Errorf("error %v", err)
	}
	if p.completed.Load() == 0 {
		t.Error("nothing was completed")
	}
}
