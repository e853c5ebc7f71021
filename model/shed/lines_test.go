package shed

import (
	"math"
	"math/rand/v2"
	"sync"
	"testing"
)

// TestReactions holds a uniform load over equal spans against the classic coefficients (R/(qL)), e.g. Roark's Formulas
// for Stress and Strain, continuous beams: two spans 3/8, 10/8, 3/8; three 0.4, 1.1, 1.1, 0.4; four 11/28, 32/28, 26/28.
func TestReactions(t *testing.T) {
	tests := []struct {
		xs         []float64
		loads      []stretch
		continuous bool
		want       []float64
	}{
		{[]float64{0, 1, 2}, []stretch{{0, 2, 1}}, true, []float64{.375, 1.25, .375}},
		{[]float64{0, 1, 2, 3}, []stretch{{0, 3, 1}}, true, []float64{.4, 1.1, 1.1, .4}},
		{[]float64{0, 1, 2, 3, 4}, []stretch{{0, 4, 1}}, true, []float64{11. / 28, 32. / 28, 26. / 28, 32. / 28, 11. / 28}},
		// One of two spans loaded: 7/16, 10/16, -1/16.
		{[]float64{0, 1, 2}, []stretch{{0, 1, 1}}, true, []float64{7. / 16, 10. / 16, -1. / 16}},
		{[]float64{0, 1, 2}, []stretch{{0, 2, 1}}, false, []float64{.5, 1, .5}},
		// Overhangs of 0.5 at both ends go to the end supports.
		{[]float64{0, 1}, []stretch{{-0.5, 1.5, 2}}, false, []float64{2, 2}},
	}
	for _, tt := range tests {
		got := reactions(tt.xs, tt.loads, tt.continuous)
		for i := range got {
			if math.Abs(got[i]-tt.want[i]) > 1e-12 {
				t.Errorf("%v %v: got %v, want %v", tt.xs, tt.loads, got, tt.want)
				break
			}
		}
	}
}

// TestReactionsEquilibrium: forces and moments about the origin balance for any spans and loads, and a mirrored line has
// mirrored reactions.
func TestReactionsEquilibrium(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	for range 200 {
		xs := []float64{0}
		for range 1 + rng.IntN(6) {
			xs = append(xs, xs[len(xs)-1]+1+4*rng.Float64())
		}
		end := xs[len(xs)-1]
		var loads, mirrored []stretch
		force, moment := 0.0, 0.0
		for range 1 + rng.IntN(4) {
			a, b := rng.Float64()*end, rng.Float64()*end
			l := stretch{min(a, b), max(a, b), rng.NormFloat64()}
			loads = append(loads, l)
			mirrored = append(mirrored, stretch{end - l.to, end - l.from, l.q})
			force += l.q * (l.to - l.from)
			moment += l.q * (l.to - l.from) * (l.from + l.to) / 2
		}
		flipped := make([]float64, len(xs))
		for i, x := range xs {
			flipped[len(xs)-1-i] = end - x
		}
		r, m := reactions(xs, loads, true), reactions(flipped, mirrored, true)
		for i := range r {
			force -= r[i]
			moment -= r[i] * xs[i]
			if d := r[i] - m[len(m)-1-i]; math.Abs(d) > 1e-9 {
				t.Fatalf("mirrored line differs by %g", d)
			}
		}
		if math.Abs(force) > 1e-9 || math.Abs(moment) > 1e-8 {
			t.Fatalf("force left over %g, moment %g", force, moment)
		}
	}
}

func TestStations(t *testing.T) {
	got := stations(8.2, 0.1, 1.2) // 8.0 m in gaps of at most 1.2: seven gaps
	if len(got) != 8 || math.Abs(got[0]-0.1) > 1e-12 || math.Abs(got[7]-8.1) > 1e-12 {
		t.Errorf("got %v", got)
	}
	if n := len(stations(6.2, 0.1, 1.2)); n != 6 { // exactly five gaps of 1.2
		t.Errorf("exact division gave %d stations", n)
	}
}

// TestLinesFoundOnce: whoever asks for the lines of a spacing, all at once, gets the same.
func TestLinesFoundOnce(t *testing.T) {
	s := read(t, anyBrief(rand.New(rand.NewPCG(9, 10))))
	var group sync.WaitGroup
	var got [8][3]*lineSet
	for i := range got {
		group.Go(func() {
			for k := range got[i] {
				got[i][k] = s.purlins(1 + float64((i+k)%3)/10)
			}
		})
	}
	group.Wait()
	for i := range got {
		for k, l := range got[i] {
			if spacing := 1 + float64((i+k)%3)/10; l != s.purlins(spacing) || l.spacing != spacing || math.Abs(l.length-lineLength(s.layPurlins(spacing))) > 1e-9 {
				t.Errorf("caller %d got other lines for %g m", i, spacing)
			}
		}
	}
}
