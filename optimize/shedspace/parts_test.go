package shedspace

import (
	"cmp"
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"leanbay/optimize"
)

// TestPartsNeverExceedTheWhole evaluates designs with other sections and layouts around a sturdy one of each example, what a
// short search ranked, and every point of a small space of the kit, and holds what the shared parts say, and every bound on the
// way from the whole space to the design, to the evaluation.
func TestPartsNeverExceedTheWhole(t *testing.T) {
	for _, tt := range []struct {
		name     string
		space    func(t testing.TB) *Problem
		points   func(t *testing.T, p *Problem) [][]int
		ranked   int // at least
		complies int // likewise
	}{
		{"kit space", kitSpace, everyPoint, 20, 0},
		{"kit", nil, aroundSturdy, 0, 0},
		{"packhouse", nil, aroundSturdy, 0, 0},
		{"barn", nil, aroundSturdy, 0, 0},
		{"kit", nil, searched, mostSearched, mostSearched / 2},
		{"barn", nil, searched, mostSearched, mostSearched / 2},
	} {
		p := (*Problem)(nil)
		if tt.space != nil {
			p = tt.space(t)
		} else {
			p = example(t, tt.name)
		}
		got := holdParts(t, p, tt.points(t, p))
		if got.said < got.designs/2 || got.ranked < tt.ranked || got.complies < tt.complies {
			t.Errorf("%s: too little was tried: %+v", tt.name, got)
		}
		t.Logf("%s: %+v", tt.name, got)
	}
}

// tried counts designs: of how many parts speak, how many they use within a fifth of the whole, how many are ranked, comply.
type tried struct{ designs, said, near, ranked, complies int }

// holdParts holds what parts and bounds say of some designs to their evaluation.
func holdParts(t *testing.T, p *Problem, list [][]int) tried {
	t.Helper()
	e := p.NewEvaluator()
	var out tried
	for _, pt := range list {
		key, pt := p.Canonical(pt)
		s, err := e.Evaluate(context.Background(), pt, key)
		if err != nil {
			t.Fatal(err)
		}
		checkBounds(t, p, pt, key, s)
		d, _ := p.Decode(pt)
		w := p.partsOf(d, nothingOpen)
		out.designs++
		count := func(n *int, is bool) {
			if is {
				*n++
			}
		}
		count(&out.said, w.u > 0)
		count(&out.near, s.Class < ClassUnstable && w.u > 0.8*s.Tie)
		count(&out.ranked, s.Class == ClassRanked)
		count(&out.complies, s.Complies)
		if s.Class < ClassUnstable && s.Measures[len(measured)] != unknownMeasure && w.u > s.Tie {
			t.Errorf("%s is used to %.5f, its parts to %.5f", key, s.Tie, w.u)
		}
	}
	return out
}

// mostSearched is the number of designs that searched takes.
const mostSearched = 8

// searched are ranked designs that a short search came to: complying ones first, those with the least first objective first.
func searched(t *testing.T, p *Problem) [][]int {
	t.Helper()
	mu.Lock()
	defer mu.Unlock()
	if found := found[p]; found != nil {
		return found
	}
	var seen ranking
	cfg := optimize.Config{Seed: 5, Population: 8, Start: p.Start(), Stones: 1, Workers: 1, Stop: optimize.Stop{Evaluations: 160}}
	if _, err := optimize.Run(context.Background(), p, cfg, &seen); err != nil {
		t.Fatal(err)
	}
	slices.SortFunc(seen, func(a, b optimize.Variant) int {
		if a.Score.Complies != b.Score.Complies {
			if a.Score.Complies {
				return -1
			}
			return 1
		}
		return cmp.Or(cmp.Compare(a.Score.Objectives[0], b.Score.Objectives[0]), cmp.Compare(a.Key, b.Key))
	})
	var out [][]int
	for _, v := range seen[:min(mostSearched, len(seen))] {
		out = append(out, v.Point)
	}
	found[p] = out
	return out
}

// found keeps what searched found, for all tests.
var found = map[*Problem][][]int{}

// ranking keeps the ranked variants of a search; it implements optimize.Recorder.
type ranking []optimize.Variant

// Generation implements optimize.Recorder.
func (r *ranking) Generation(st optimize.State) error {
	for _, v := range st.Fresh {
		if v.Score.Class == ClassRanked {
			*r = append(*r, v)
		}
	}
	return nil
}

// everyPoint lists a space that is small.
func everyPoint(_ *testing.T, p *Problem) [][]int {
	out := [][]int{make([]int, len(p.genes))}
	for i := range p.genes {
		for _, pt := range out {
			for o := 1; o < p.genes[i].Count(); o++ {
				q := slices.Clone(pt)
				q[i] = o
				out = append(out, q)
			}
		}
	}
	return out
}

// aroundSturdy are points with other sections near those of a sturdy design, and a few with another layout.
func aroundSturdy(t *testing.T, p *Problem) [][]int {
	t.Helper()
	sturdy, err := p.Sturdy()
	if err != nil {
		t.Fatal(err)
	}
	at, _ := p.Encode(sturdy)
	rng, first := rand.New(rand.NewPCG(21, 22)), p.layoutDecided()
	var out [][]int
	for k := range 8 {
		pt := slices.Clone(at)
		for range 3 {
			i := first + rng.IntN(len(pt)-first)
			if k%4 == 0 {
				i = 2 + rng.IntN(len(pt)-2)
			}
			pt[i] = min(max(0, pt[i]+rng.IntN(9)-4), p.genes[i].Count()-1)
		}
		out = append(out, pt)
	}
	return out
}

// checkBounds holds the bounds of a point and of the branches it lies on, the whole space first, to its evaluation.
func checkBounds(t *testing.T, p *Problem, pt []int, key string, s optimize.Score) {
	t.Helper()
	checkBound(t, p.Bound(pt, key), key+", before any analysis", s)
	for fixed := range len(pt) + 1 {
		checkBound(t, p.BoundPartial(pt, fixed), fmt.Sprintf("%s, first %d genes", key, fixed), s)
	}
}

func checkBound(t *testing.T, b optimize.Bound, what string, s optimize.Score) {
	t.Helper()
	for i, o := range b.Objectives {
		if s.Class == ClassRanked && o > s.Objectives[i] {
			t.Errorf("%s: objective %d is bounded by %v, the design has %v", what, i, o, s.Objectives[i])
		}
	}
	if s.Complies && (b.CannotComply || b.Complying > s.Objectives[0]) {
		t.Errorf("%s complies with %v kg; its bound says never, or %v kg", what, s.Objectives[0], b.Complying)
	}
}
