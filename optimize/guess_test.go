package optimize

import (
	"math"
	"math/rand/v2"
	"testing"
)

// powers is a problem whose measures are products of powers of its sizes: straight lines in logarithms.
type powers struct{ *toy }

func (powers) Guess(_ []int, _ string, m []float64) Score {
	return Score{Objectives: []float64{m[0], m[1]}}
}

func TestModelInterpolatesAndIsExactOnPowers(t *testing.T) {
	values := []float64{1, 1.3, 1.9, 2.4, 3.7, 5.5, 9}
	space := &Space{}
	for range 3 {
		space.Genes = append(space.Genes, Gene{Options: make([]string, len(values)), Values: values, Ordered: true})
	}
	measure := func(p []int) []float64 {
		return []float64{3 * math.Pow(values[p[0]], -1) * math.Pow(values[p[2]], 0.5), 0.2 * math.Pow(values[p[1]], -2)}
	}
	rng := rand.New(rand.NewPCG(1, 2))
	var vs []Variant
	for range 60 {
		p := []int{rng.IntN(7), rng.IntN(7), rng.IntN(7)}
		key := string([]byte{byte('a' + p[0]), byte('a' + p[1]), byte('a' + p[2])})
		vs = append(vs, Variant{Key: key, Point: p, Score: Score{Measures: measure(p)}})
	}
	vs = distinct(vs)
	model := learn(powers{}, newFeatures(space), vs)
	if model == nil {
		t.Fatalf("nothing was learnt from %d points", len(vs))
	}
	for i := range 343 {
		p := []int{i % 7, i / 7 % 7, i / 49}
		got := model.guess(p, "").Objectives
		for k, want := range measure(p) { // closed form
			if math.Abs(got[k]-want) > 1e-6*want {
				t.Errorf("%v: measure %d is guessed %v, is %v", p, k, got[k], want)
			}
		}
	}
	if learn(powers{}, newFeatures(space), vs[:guessLeast-1]) != nil {
		t.Error("a model of too few points")
	}
}

func TestGuessingSavesEvaluations(t *testing.T) {
	want := len(exhaust(newToy(4, 7)))
	reach := func(cfg Config) int {
		worst := 0
		for seed := range uint64(2) {
			cfg.Seed, cfg.Population, cfg.Stop = seed, 20, Stop{Generations: 80, Stagnation: 12}
			at := 0
			run(t, newToy(4, 7), cfg, recorderFunc(func(s State) error {
				if len(s.Front) != want || at == 0 {
					at = s.Evaluations
				}
				return nil
			}))
			worst = max(worst, at)
		}
		return worst
	}
	with, without := reach(Config{}), reach(Config{NoGuess: true})
	if with > without {
		t.Errorf("the front took %d evaluations with a model, %d without", with, without)
	}
	t.Logf("front complete after %d evaluations with a model, %d without", with, without)
}
