package solver

import (
	"math/rand/v2"
	"testing"
)

// TestSpan: the columns of a row from the first to the last with a force, found by going along it.
func TestSpan(t *testing.T) {
	rng := rand.New(rand.NewPCG(95, 96))
	const columns = 7
	places := make([]PointPlace, 40)
	force := make([]float64, 3*len(places)*columns)
	for range len(force) / 3 {
		force[rng.IntN(len(force))] = rng.NormFloat64()
	}
	clear(force[:columns]) // one row without any
	table := NewPointTable(places, columns, force)
	for k := range places {
		for axis := range 3 {
			from, to := 0, 0
			for c, f := range table.Row(k, axis) {
				if f != 0 && to == 0 {
					from = c
				}
				if f != 0 {
					to = c + 1
				}
			}
			if a, b := table.Span(k, axis); a != from || b != to {
				t.Errorf("place %d, axis %d: columns %d to %d, want %d to %d", k, axis, a, b, from, to)
			}
		}
	}
}
