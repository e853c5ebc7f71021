package frame

import "testing"

// BenchmarkLaneKernels times the element programs of a round, for numbers in the nearest cache.
func BenchmarkLaneKernels(b *testing.B) {
	numbers := func(n int) []float64 {
		v := make([]float64, n)
		for i := range v {
			v[i] = 0.1 + float64(i%7)/10
		}
		return v
	}
	rows := func(n int) []row8 {
		v := make([]row8, n)
		for i := range v {
			for l := range v[i] {
				v[i][l] = 0.01 * float64((i+l)%5)
			}
		}
		return v
	}
	sc, sp, sb := numbers(scNumbers), numbers(2*spNumbers), numbers(8*basisNumbers)
	ui, uj, gi, gj := rows(6), rows(6), rows(6), rows(6)
	sums, acc, t, pull, ends, vary := rows(sumRows), rows(accRows), rows(tRows), rows(pullRows), rows(12), rows(chordTerms)
	places, at := []int32{0, 1, 2, 3, 4, 5, 6, 7}, rows(3*8)
	kernels := map[string]func(){
		"beamIn":         func() { beamIn(sc, ui, uj, sums, acc, t, pull) },
		"planeEven":      func() { planeEven(sp, t, t[tMean:], sums[sumInner:], sums[4:], acc, t[tForce:]) },
		"planeEvenLoose": func() { planeEvenLoose(sp, t, t[tMean:], sums[sumInner:], sums[4:], acc, t[tForce:]) },
		"planeVary":      func() { planeVary(sp, t, t[tMean:], vary, sums[sumInner:], sums[4:], acc, t[tForce:]) },
		"planeVaryLoose": func() { planeVaryLoose(sp, t, t[tMean:], vary, sums[sumInner:], sums[4:], acc, t[tForce:]) },
		"beamOut":        func() { beamOut(sc, t, ends, gi, gj, acc) },
		"beamVary":       func() { beamVary(sc, sp, ui, uj, sums, vary, acc, pull, ends, gi, gj) },
		"beamVaryLoose":  func() { beamVaryLoose(sc, sp, ui, uj, sums, vary, acc, pull, ends, gi, gj) },
		"beamPinned":     func() { beamPinned(sc, sp, ui, uj, sums, acc, pull, ends, gi, gj) },
		"settleLanes":    func() { settleLanes(sums, vary) },
		"weighPlaces":    func() { weighPlaces(sb, places, at, ends2) },
		"stiffVary":      func() { stiffVary(sp, t[tMean:], vary, acc, stiff) },
	}
	for _, name := range []string{"beamIn", "planeEven", "planeEvenLoose", "planeVary", "planeVaryLoose", "beamOut", "beamVary", "beamVaryLoose", "beamPinned", "settleLanes", "weighPlaces", "stiffVary"} {
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				kernels[name]()
			}
		})
	}
}

var ends2, stiff = make([]row8, sumRows), make([]row8, 10)
