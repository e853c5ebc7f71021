package speed

import (
	"context"
	"math"
	"testing"
	"time"

	"leanbay/optimize"
)

// TestRates: rates are positive and finite, and medians and factors are those by hand.
func TestRates(t *testing.T) {
	if s := speedUp([]float64{3, 1, 2}, []float64{8, 2, 4, 2}); s.One != 2 || s.All != 3 || s.Factor != 1.5 {
		t.Errorf("%+v", s)
	}
	p, err := open("kit")
	if err != nil {
		t.Fatal(err)
	}
	for _, workers := range []int{1, 2} {
		rate, err := searchRate(context.Background(), p, workers, 50)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range []float64{rate, loopRate(workers)} {
			if !(r > 0) || math.IsInf(r, 0) {
				t.Errorf("%d workers: rate %g", workers, r)
			}
		}
	}
	if _, err := open("depot"); err == nil {
		t.Error("an example was opened that there is not")
	}
}

// TestSearchTimes: the first generation with a complying variant and the first settled one are noted, and no later ones.
func TestSearchTimes(t *testing.T) {
	var r SearchRun
	w := searchTimes{&r, time.Now().Add(-time.Second)}
	light := &optimize.Variant{}
	for i, st := range []optimize.State{
		{Evaluations: 40},
		{Evaluations: 80, Lightest: light, Front: make([]optimize.Variant, 3)},
		{Evaluations: 120, Lightest: light, Front: make([]optimize.Variant, 7), Settled: true},
		{Evaluations: 160, Lightest: light, Settled: true},
	} {
		if err := w.Generation(st); err != nil {
			t.Fatal(err)
		}
		if (r.First > 0) != (i >= 1) || (r.Settled > 0) != (i >= 2) {
			t.Fatalf("after generation %d: %+v", i, r)
		}
	}
	if r.FirstAfter != 80 || r.FirstFront != 3 || r.First < 1 || r.Settled < r.First {
		t.Errorf("%+v", r)
	}
}
