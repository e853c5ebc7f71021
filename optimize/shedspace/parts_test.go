package shedspace

import (
	"context"
	"fmt"
	"math/rand/v2"
	"testing"

	"leanbay/optimize"
)

// TestPartsNeverExceedTheWhole evaluates random designs, near the braced drawing so that many of them stand, and holds what
// the shared parts say, and every bound on the way to the design, to the evaluation.
func TestPartsNeverExceedTheWhole(t *testing.T) {
	for _, name := range []string{"kit", "packhouse", "barn"} {
		p := example(t, name)
		rng := rand.New(rand.NewPCG(21, 22))
		sturdy, err := p.Sturdy()
		if err != nil {
			t.Fatal(err)
		}
		at, _ := p.Encode(sturdy)
		e := p.NewEvaluator()
		said, near, ranked := 0, 0, 0
		for k := range 24 {
			pt, first := append([]int(nil), at...), p.layoutDecided()
			for range 3 { // mostly other sections, some other layouts
				i := first + rng.IntN(len(pt)-first)
				if k%6 == 0 {
					i = rng.IntN(len(pt))
				}
				pt[i] = min(max(0, pt[i]+rng.IntN(9)-4), p.genes[i].Count()-1)
			}
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
		if said < 10 {
			t.Errorf("%s: parts speak of only %d designs", name, said)
		}
		t.Logf("%s: %d ranked, parts speak of %d, within a fifth of the whole in %d", name, ranked, said, near)
	}
}

// checkBounds holds the bounds of a point and of the branches it lies on to its evaluation.
func checkBounds(t *testing.T, p *Problem, pt []int, key string, s optimize.Score) {
	t.Helper()
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
