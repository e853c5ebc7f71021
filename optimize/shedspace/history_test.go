package shedspace

import (
	"context"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"leanbay/optimize"
)

// TestScoresForgetWhatCameBefore: whole evaluations of designs of many topologies, in random order, with designs left half way
// in between, on judges that judged others before and with layouts that other designs laid down: each score is to the last bit
// that of a judge and a problem that have seen nothing else.
func TestScoresForgetWhatCameBefore(t *testing.T) {
	const n = 10
	for seed, name := range []string{"kit", "barn", "packhouse"} {
		rng := rand.New(rand.NewPCG(51, uint64(seed)))
		used := example(t, name)
		points := wander(t, used, n, rng)
		want := make([]optimize.Score, len(points))
		for i, pt := range points {
			want[i] = scoreOn(t, fresh(used), pt)
		}
		e := used.NewEvaluator().(*evaluator)
		for range 2 {
			for _, i := range rng.Perm(len(points)) {
				if rng.IntN(3) == 0 {
					leaveHalfWay(t, e, points[rng.IntN(len(points))])
				}
				if got := scoreOn(t, e, points[i]); !reflect.DeepEqual(got, want[i]) {
					t.Errorf("%s, %v: after others %+v, by itself %+v", name, points[i], got, want[i])
				}
			}
		}
	}
}

// fresh returns an evaluator that shares with p what is only read.
func fresh(p *Problem) *evaluator {
	q := *p
	b := p.bench
	q.bench = &bench{
		pack: b.pack, cases: b.cases, combinations: b.combinations, strength: b.strength, planar: b.planar, planarCases: b.planarCases,
		service: b.service, stability: b.stability, loads: b.loads, drawn: b.drawn, rules: b.rules, coldFormed: b.coldFormed,
		stock: b.stock, tables: b.tables, framed: b.framed,
	}
	return q.NewEvaluator().(*evaluator)
}

// wander returns n distinct repaired points: the start and what a walk of random changes comes to from there, of sections and
// layouts alike.
func wander(t *testing.T, p *Problem, n int, rng *rand.Rand) [][]int {
	t.Helper()
	starts := p.Start()
	var out [][]int
	topologies := map[string]bool{}
	for len(out) < n {
		pt := slices.Clone(starts[rng.IntN(len(starts))])
		for range rng.IntN(2 * len(pt)) {
			i := rng.IntN(len(pt))
			pt[i] = rng.IntN(p.genes[i].Count())
		}
		d, r := p.Decode(pt)
		if !slices.ContainsFunc(out, func(o []int) bool { return slices.Equal(o, r) }) {
			topologies[d.Key(nil)] = true
			out = append(out, r)
		}
	}
	if len(topologies) < n/3 {
		t.Errorf("only %d layouts of %d designs: the test shows little", len(topologies), n)
	}
	return out
}

func scoreOn(t *testing.T, e *evaluator, point []int) optimize.Score {
	t.Helper()
	key, r := e.p.Canonical(point)
	s, err := e.Evaluate(context.Background(), r, key)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// leaveHalfWay screens a design against a front that excludes all utilisations above 0.6.
func leaveHalfWay(t *testing.T, e *evaluator, point []int) {
	t.Helper()
	key, r := e.p.Canonical(point)
	if _, _, err := e.Screen(context.Background(), r, key, func(o []float64) bool { return o[1] > 0.6 || math.IsInf(o[0], 1) }); err != nil {
		t.Fatal(err)
	}
}
