package frame

import (
	"math/rand/v2"
	"testing"
)

// TestHoldPlaces: with and without vectors, from rows of many cases and of eight, places do to the held rows of an element's sums what
// they do there in second order, to the bit.
func TestHoldPlaces(t *testing.T) {
	rng := rand.New(rand.NewPCG(97, 98))
	random := func(n int) []float64 {
		out := make([]float64, n)
		for i := range out {
			out[i] = rng.NormFloat64()
		}
		return out
	}
	for range 200 {
		const places, from = 9, 3
		stride := lanes + from + rng.IntN(5)
		basis, force := random(places*basisNumbers), random(3*places*stride)
		var order []int32
		for range rng.IntN(6) {
			order = append(order, int32(rng.IntN(places)))
		}
		var rows [3 * places]row8
		for i := range rows {
			copy(rows[i][:], force[i*stride+from:])
		}
		want := make([]row8, sumRows)
		for i := range want {
			copy(want[i][:], random(lanes))
		}
		got, plain := append([]row8(nil), want...), append([]row8(nil), want...)
		for _, k := range order {
			weighPlaces(basis, []int32{k}, rows[:], want)
		}
		holdPlaces(order, basis, force[from:], stride, got)
		holdPlacesGo(order, basis, force[from:], stride, plain)
		for i := range heldRows {
			if got[i] != want[i] || plain[i] != want[i] {
				t.Fatalf("row %d: %v and %v, in second order %v", i, got[i], plain[i], want[i])
			}
		}
	}
}
