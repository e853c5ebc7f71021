package optimize

import (
	"context"
	"errors"
	"math"
	"strings"
	"testing"
)

// Source: the front of all variants, compared all with all.
func TestEnumerateProvesTheFront(t *testing.T) {
	want := plain(exhaust(newToy(4, 7)))
	found := run(t, newToy(4, 7), Config{Population: 12, Stop: Stop{Generations: 10}}).Front
	var least int
	for name, cfg := range map[string]Enumeration{"all": {NoBounds: true}, "bounds": {}, "workers": {Workers: 4}, "known": {Known: found}} {
		p := newToy(4, 7)
		proof, err := Enumerate(context.Background(), p, cfg)
		if err != nil {
			t.Fatal(err)
		}
		if got := plain(proof.Front); got != want || !proof.Proven {
			t.Errorf("%s: proven %v, front\n%swant\n%s", name, proof.Proven, got, want)
		}
		if proof.Gap != 0 {
			t.Errorf("%s: gap %v of a proven front", name, proof.Gap)
		}
		if name == "all" {
			least = proof.Evaluated
		}
		if int(p.calls.Load()) != proof.Evaluated {
			t.Errorf("%s: %d evaluations counted, %d made", name, proof.Evaluated, p.calls.Load())
		}
	}
	// 7^4 sizes, 1 absent or 4 present props, 3 braces: 7^4 * 5 * 3 variants.
	if least != 36015 {
		t.Errorf("%d variants evaluated without bounds, want 36015", least)
	}
	proof, _ := Enumerate(context.Background(), newToy(4, 7), Enumeration{})
	if proof.Evaluated >= least || proof.Branches == 0 {
		t.Errorf("with bounds %d of %d evaluated, %v left out in branches", proof.Evaluated, least, proof.Branches)
	}
}

func TestEnumerateBeyondItsLimitIsHonest(t *testing.T) {
	full, err := Enumerate(context.Background(), newToy(4, 7), Enumeration{})
	if err != nil {
		t.Fatal(err)
	}
	p := newToy(4, 7)
	part, err := Enumerate(context.Background(), p, Enumeration{Limit: 700, Known: full.Front})
	if err != nil {
		t.Fatal(err)
	}
	if part.Proven || part.Evaluated != 700 {
		t.Errorf("limit 700: proven %v after %d evaluations", part.Proven, part.Evaluated)
	}
	if part.Floor > full.Floor || math.IsInf(part.Floor, 0) || part.Gap <= 0 || part.Gap >= 1 {
		t.Errorf("floor %v, gap %v; the lightest is %v", part.Floor, part.Gap, full.Floor)
	}
	none, err := Enumerate(context.Background(), newToy(4, 7), Enumeration{Limit: 700, NoBounds: true})
	if err != nil {
		t.Fatal(err)
	}
	if !math.IsInf(none.Floor, -1) {
		t.Errorf("no partial bounds: floor %v", none.Floor)
	}
}

func TestFloorEqualsTheOptimumGivenTime(t *testing.T) {
	full, err := Enumerate(context.Background(), newToy(3, 6), Enumeration{NoBounds: true})
	if err != nil {
		t.Fatal(err)
	}
	p := newToy(3, 6)
	e := &enumerator{ctx: context.Background(), problem: p, cfg: Enumeration{Limit: 1 << 20}, space: p.Space(), partial: p, pool: newPool(p, 1)}
	floor, err := e.floor()
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(floor-full.Floor) > 1e-9 {
		t.Errorf("best-first search: %v, enumeration: %v", floor, full.Floor)
	}
}

func TestVerify(t *testing.T) {
	if err := Verify(context.Background(), newToy(4, 7), 1, 200); err != nil {
		t.Error(err)
	}
	p := newToy(4, 7)
	p.loose = true
	if err := Verify(context.Background(), p, 1, 200); err == nil || !strings.Contains(err.Error(), "bound says") {
		t.Errorf("loose bounds: error %v", err)
	}
}

// An enumeration that is interrupted says what it decided and no more, with the bound of the whole space.
func TestInterruptedEnumerationKeepsWhatItHas(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	p, whole := newToy(4, 7), newToy(4, 7)
	got, err := Enumerate(ctx, p, Enumeration{NoBounds: true, Watch: func(decided float64) {
		if decided > 20_000 {
			cancel()
		}
	}})
	if !errors.Is(err, context.Canceled) || got == nil || got.Proven {
		t.Fatalf("interrupted: %+v, error %v", got, err)
	}
	all, err := Enumerate(context.Background(), whole, Enumeration{NoBounds: true})
	if err != nil {
		t.Fatal(err)
	}
	if got.Evaluated < 100 || got.Evaluated >= all.Evaluated || len(got.Front) == 0 || got.Floor > all.Floor {
		t.Errorf("%d evaluated of %d, %d on the front, floor %v", got.Evaluated, all.Evaluated, len(got.Front), got.Floor)
	}
}
