package shedspace

import (
	"context"
	"testing"

	"leanbay/optimize"
)

// TestStagesExcludeWhatTheEvaluationExcludes screens designs around a sturdy one of each example, what a short search ranked,
// and every point of a small space, against fronts that lie just beyond and just short of each, and holds the answer to the
// evaluation. One evaluator has screened the others before, another is new for each: both answer alike.
func TestStagesExcludeWhatTheEvaluationExcludes(t *testing.T) {
	for _, tt := range []struct {
		name   string
		points func(t *testing.T, p *Problem) [][]int
		early  int // left half way, at least
	}{
		{"kit space", everyPoint, 100}, {"kit", searched, 4}, {"packhouse", aroundSturdy, 4}, {"barn", searched, 4}, {"barn", aroundSturdy, 4},
	} {
		var p *Problem
		if tt.name == "kit space" {
			p = kitSpace(t)
		} else {
			p = example(t, tt.name)
		}
		old := p.NewEvaluator().(*evaluator)
		ranked := 0
		for _, pt := range tt.points(t, p) {
			key, pt := p.Canonical(pt)
			s, err := p.NewEvaluator().Evaluate(context.Background(), pt, key)
			if err != nil {
				t.Fatal(err)
			}
			shares := []float64{1 - 1e-3, 1 - 1e-6, 1 + 1e-6}
			if s.Class != ClassRanked {
				shares = shares[:1]
			}
			for _, share := range shares {
				front := optimize.NewArchive(0)
				front.Add(optimize.Variant{Key: "rival", Score: optimize.Score{Objectives: rival(s, share)}})
				want := s.Class == ClassRanked && !front.Excludes(s.Objectives)
				for _, e := range []*evaluator{old, p.NewEvaluator().(*evaluator)} {
					got, kept, err := e.Screen(context.Background(), pt, key, front.Excludes)
					if err != nil || kept != want || kept && got.Tie != s.Tie {
						t.Errorf("%s: a rival at %v of %+v: kept %v, want %v (%+v, error %v)", key, share, s.Objectives, kept, want, got.Objectives, err)
					}
				}
			}
			if s.Class == ClassRanked {
				ranked++
			}
		}
		if old.left < tt.early {
			t.Errorf("%s: only %d evaluations were left half way", tt.name, old.left)
		}
		t.Logf("%s: %d ranked designs, %d evaluations left half way", tt.name, ranked, old.left)
	}
}

// rival are objectives as heavy as a design's, with a share of its utilisation; of a design that is not ranked, any.
func rival(s optimize.Score, share float64) []float64 {
	if s.Class != ClassRanked {
		return []float64{1, 0.9}
	}
	return []float64{s.Objectives[0] * (1 - 1e-6), s.Objectives[1] * share}
}
