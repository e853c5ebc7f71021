package frame

import (
	"math"
	"testing"
)

// TestWithstands: one count agrees with the lowest factor that is sought, on either side of it, for quick and strict
// workspaces. Where a quick one does not withstand a factor, Buckling goes on from what was found, with the same answer.
func TestWithstands(t *testing.T) {
	s := shed(3)
	for _, quick := range []bool{false, true} {
		w := workspace(t, s)
		w.Quick, w.RodsAsFound = quick, true
		if err := w.Load(s); err != nil {
			t.Fatal(err)
		}
		var r Result
		for _, i := range []int{0, 1, 2, 3, 39} {
			if err := w.Analyse(&s.Combinations[i], TensionOnlySecondOrder, &r); err != nil || !r.Stable {
				t.Fatal(err, r.Notes)
			}
			modes, err := w.Buckling(&r, 1)
			if err != nil || len(modes) != 1 {
				t.Fatal(err, modes)
			}
			for _, share := range []float64{0.3, 0.99, 1.01, 1.5} {
				got, err := w.Withstands(&r, share*modes[0].Factor)
				if err != nil {
					t.Fatal(err)
				}
				if got != (share < 1) {
					t.Errorf("combination %d, quick %v: withstands %g of the lowest factor %g: %v", i, quick, share, modes[0].Factor, got)
				}
				if got || !quick {
					continue
				}
				again, err := w.Buckling(&r, 1)
				if err != nil || len(again) != 1 || !(math.Abs(again[0].Factor-modes[0].Factor) <= 2*quickFactor*modes[0].Factor) {
					t.Fatalf("combination %d: %v, after it did not withstand %g; want %g (error %v)", i, again, share*modes[0].Factor, modes[0].Factor, err)
				}
			}
		}
	}
}
