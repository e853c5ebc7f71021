package shedspace

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"leanbay/optimize"
)

// TestPartsNeverExceedTheWhole evaluates designs with other sections and layouts around a sturdy one of each example, and every
// point of a small space of the kit, and holds what the shared parts say, and every bound on the way to the design, to the
// evaluation.
func TestPartsNeverExceedTheWhole(t *testing.T) {
	for name, points := range map[string]func(p *Problem) [][]int{"kit space": everyPoint, "kit": aroundSturdy, "packhouse": aroundSturdy, "barn": aroundSturdy} {
		p := (*Problem)(nil)
		if name == "kit space" {
			p = kitSpace(t)
		} else {
			p = example(t, name)
		}
		e := p.NewEvaluator()
		said, near, ranked := 0, 0, 0
		list := points(p)
		for _, pt := range list {
			key, pt := p.Canonical(pt)
			s, err := e.Evaluate(context.Background(), pt, key)
			if err != nil {
				t.Fatal(err)
			}
			checkBounds(t, p, pt, key, s)
			b, err := e.(optimize.Screener).Screen(context.Background(), pt, key)
			if err != nil {
				t.Fatal(err)
			}
			checkBound(t, b, key+", screened", s)
			d, _ := p.Decode(pt)
			w := p.partsOf(d, nothingOpen)
			if w.u > 0 {
				said++
			}
			if s.Class < ClassUnstable && w.u > 0.8*s.Tie {
				near++
			}
			if s.Class == ClassRanked {
				ranked++
			}
			if s.Class < ClassUnstable && s.Measures[len(measured)] != unknownMeasure && w.u > s.Tie {
				t.Errorf("%s: %s is used to %.5f, its parts to %.5f", name, key, s.Tie, w.u)
			}
		}
		if said < len(list)/2 || name == "kit space" && ranked < 20 {
			t.Errorf("%s: parts speak of only %d of %d designs, %d are ranked", name, said, len(list), ranked)
		}
		t.Logf("%s: %d designs, %d ranked, parts speak of %d, within a fifth of the whole in %d", name, len(list), ranked, said, near)
	}
}

// everyPoint lists a space that is small.
func everyPoint(p *Problem) [][]int {
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
func aroundSturdy(p *Problem) [][]int {
	sturdy, err := p.Sturdy()
	if err != nil {
		panic(err)
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

// checkBounds holds the bounds of a point and of the branches it lies on to its evaluation.
func checkBounds(t *testing.T, p *Problem, pt []int, key string, s optimize.Score) {
	t.Helper()
	for fixed := 3; fixed <= len(pt); fixed++ {
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
