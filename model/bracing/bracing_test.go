package bracing

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// TestCandidates works a wall of five bays by hand (similar triangles: the rising diagonal of a bay 4.9 m wide and 5.2 m
// high is at v = 5.2/4.9·(u - u0)).
func TestCandidates(t *testing.T) {
	panels := []Panel{
		{Rect: Rect{0, 4.9, 0, 5.2}, Bay: 1},
		{Rect: Rect{4.9, 9.8, 0, 5.2}, Bay: 2},
		{Rect: Rect{9.8, 15.4, 0, 5.2}, Bay: 3},
	}
	obstacles := []Obstacle{
		{Rect{3.6, 4.52, 0, 2.1}, "the personnel door at X 3.6-4.5"}, // rising passes it at 3.82 m, falling at 1.38-0.40 m
		{Rect{6.2, 8.6, 1.1, 2.0}, "the window at X 6.2-8.6"},        // both diagonals pass through the band
	}
	want := map[int][]bool{1: {false, true, false}, 2: {false, false, false}, 3: {true, true, true}}
	for _, c := range Candidates(panels, obstacles, 0.15) {
		i := slices.Index(FullPanel, c.Pattern)
		if i < 0 || c.Place != (Place{}) {
			continue
		}
		if free := want[c.Panel.Bay][i]; c.Free() != free {
			t.Errorf("bay %d %s: free %v, by hand %v (%s)", c.Panel.Bay, c.Pattern, c.Free(), free, c.Reason())
		}
	}
}

func TestReason(t *testing.T) {
	door := []Obstacle{{Rect{3.6, 4.52, 0, 2.1}, "the personnel door at X 3.6-4.5"}}
	c := Candidates([]Panel{{Rect: Rect{0, 4.9, 0, 5.2}, Bay: 1}}, door, 0.1)[0]
	if got, want := c.Reason(), "bay 1: the personnel door at X 3.6-4.5 blocks one diagonal of crossed rods"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	free := Candidates([]Panel{{Rect: Rect{0, 4.9, 0, 5.2}, Bay: 1}}, nil, 0.1)[0]
	if !strings.Contains(free.Reason(), "clear of every opening") {
		t.Errorf("free candidate explained as %q", free.Reason())
	}
}

// TestCrossesBySampling compares the clipping with points walked along the line.
func TestCrossesBySampling(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 3000 {
		l := Line{Point{rng.Float64() * 5, rng.Float64() * 5}, Point{rng.Float64() * 5, rng.Float64() * 5}}
		r := Rect{U0: rng.Float64() * 4, V0: rng.Float64() * 4}
		r.U1, r.V1 = r.U0+rng.Float64(), r.V0+rng.Float64()
		inside := false
		for k := 0; k <= 2000 && !inside; k++ {
			s := float64(k) / 2000
			u, v := l.From.U+s*(l.To.U-l.From.U), l.From.V+s*(l.To.V-l.From.V)
			inside = u > r.U0 && u < r.U1 && v > r.V0 && v < r.V1
		}
		// Sampling can miss a clipped corner shorter than its step, never the other way round.
		if inside && !l.Crosses(r) {
			t.Fatalf("%v runs through %v but is called clear", l, r)
		}
		if small := (Rect{r.U0 + 0.01, r.U1 - 0.01, r.V0 + 0.01, r.V1 - 0.01}); !inside && small.U0 < small.U1 && small.V0 < small.V1 && l.Crosses(small) {
			t.Fatalf("%v is clear of %v but is said to cross it", l, r)
		}
	}
}

func TestTouchingIsNotCrossing(t *testing.T) {
	r := Rect{1, 2, 1, 2}
	for _, l := range []Line{
		{Point{0, 1}, Point{3, 1}},   // along an edge
		{Point{0, 2}, Point{2, 0}},   // through the corner (1, 1)
		{Point{0, 0}, Point{1, 1.5}}, // ends on an edge
	} {
		if l.Crosses(r) {
			t.Errorf("%v only touches %v", l, r)
		}
	}
}
