package optimize

import (
	"context"
	"strings"
	"testing"
)

// lean is a problem by hand: a layout that saves 8 kg asks for a section of at least 7 where the other is content with 3, and
// each step of the section weighs 1 kg. Of two more genes, one weighs 2 kg a step and does nothing.
type lean struct{}

func (lean) Space() *Space {
	return &Space{Genes: []Gene{{Name: "layout", Levels: 2}, {Name: "section", Levels: 10, Ordered: true}, {Name: "idle", Levels: 4, Ordered: true}}}
}
func (lean) Objectives() []Objective { return []Objective{{Name: "mass"}} }
func (lean) Canonical(p []int) (string, []int) {
	return strings.Join([]string{"a b"[2*p[0] : 2*p[0]+1], "0123456789"[p[1] : p[1]+1], "0123"[p[2] : p[2]+1]}, ""), append([]int(nil), p...)
}
func (lean) Bound(p []int, _ string) Bound {
	return Bound{Objectives: []float64{100 - 8*float64(p[0]) + float64(p[1]) + 2*float64(p[2])}}
}
func (lean) NewEvaluator() Evaluator { return leanEvaluator{} }

type leanEvaluator struct{}

func (leanEvaluator) Evaluate(_ context.Context, p []int, _ string) (Score, error) {
	need := []int{3, 7}[p[0]]
	u := float64(need+1) / float64(p[1]+1)
	s := Score{Objectives: lean{}.Bound(p, "").Objectives, Complies: u <= 1, Measures: []float64{u}}
	if u > 1 {
		s.Class, s.Violation = 1, u-1
	}
	return s, nil
}

func (leanEvaluator) Hint(_ context.Context, _ []int, _ string, s Score) ([]float64, error) {
	return []float64{0, s.Measures[0] - 0.95, 0}, nil
}

// By hand: from the heavy layout with section 3 (103 kg) the light one with section 3 fails, and with section 7 it is the
// lightest that complies (99 kg). No single step and no pair of steps of one leads there. Nothing heavier than what is known to
// comply is evaluated.
func TestChaseMendsWhatASavingBreaks(t *testing.T) {
	e, err := newEngine(context.Background(), lean{}, Config{Population: 4, Workers: 1, Stop: Stop{Generations: 1}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if err := e.evaluate([]candidate{e.canonical([]int{0, 3, 1})}); err != nil {
		t.Fatal(err)
	}
	e.takeIn(0)
	for before := -1; before < len(e.seen); {
		before = len(e.seen)
		if err := e.chase(); err != nil {
			t.Fatal(err)
		}
	}
	l := e.archive.Lightest()
	if l == nil || l.Key != "b70" {
		t.Errorf("the lightest is %+v, want b70", l)
	}
	for _, v := range e.seen {
		if v.Score.Objectives[0] > 105 {
			t.Errorf("%s was evaluated at %v kg, above the 105 kg of the start", v.Key, v.Score.Objectives[0])
		}
	}
	e.cfg.NoChase, e.seen = true, map[string]Variant{}
	if err := e.chase(); err != nil || len(e.seen) > 0 {
		t.Errorf("switched off, it evaluated %d variants, %v", len(e.seen), err)
	}
}
