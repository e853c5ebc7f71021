package shedspace

import (
	"context"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"leanbay/optimize"
	"leanbay/solver/checks/as4100"
	"leanbay/solver/checks/asnzs4600"
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
	q.bench = p.bench.alike()
	q.bench.loads, q.bench.drawn, q.bench.framed = p.bench.loads, p.bench.drawn, p.bench.framed
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

// TestBenchAlike: a bench for another design has all that the first one judges by; only loads, and what is filled as designs come
// up, are its own.
func TestBenchAlike(t *testing.T) {
	own := []string{"loads", "drawn", "framed", "blows", "layouts", "parts", "dear"}
	first := example(t, "packhouse").bench
	p := &bench{
		pack: first.pack, cases: first.cases, combinations: first.combinations, strength: first.strength, planar: first.planar, wholeCases: first.wholeCases, planarCases: first.planarCases, planarInWhole: first.planarInWhole, serviceCases: first.serviceCases,
		service: first.service, inWhole: first.inWhole, stability: first.stability, rules: new(as4100.Rules), coldFormed: new(asnzs4600.Code), stock: first.stock, tables: first.tables,
	}
	one, other := reflect.ValueOf(p).Elem(), reflect.ValueOf(p.alike()).Elem()
	for i := range one.NumField() {
		name := one.Type().Field(i).Name
		if one.Field(i).IsZero() && !slices.Contains(own, name) {
			t.Errorf("%s is not set in the example: the test shows nothing of it", name)
		}
		if !slices.Contains(own, name) && one.Field(i).IsZero() != other.Field(i).IsZero() {
			t.Errorf("%s is lost", name)
		}
	}
}
