package sparse

import (
	"errors"
	"testing"
)

// updated adds sigma w wᵀ to the values.
func updated(p *Pattern, val []float64, idx []int32, w []float64, sigma float64) []float64 {
	out := append([]float64(nil), val...)
	for a, i := range idx {
		for b, j := range idx {
			if i >= j {
				out[p.Index(int(i), int(j))] += sigma * w[a] * w[b]
			}
		}
	}
	return out
}

func TestUpdateAgainstRefactor(t *testing.T) {
	rng := newRand(51)
	for trial := range 60 {
		p := gridPattern(1+rng.IntN(4), 2+rng.IntN(4))
		val := dominant(rng, p)
		sym := Analyze(p)
		f, g := NewFactor(sym), NewFactor(sym)
		b := randomBlock(rng, p.N*2)
		solved(t, f, val, b, 2)
		// Some rods in a row: they come in stiff and half of them goes out again, or they make the matrix indefinite.
		for range 5 {
			idx, w := randomRod(rng.IntN, rng.NormFloat64, p)
			scale := val[p.Ptr[idx[0]]]
			for _, sigma := range []float64{0.3 * scale, -0.15 * scale} {
				if trial%3 == 0 {
					sigma *= -7.3
				}
				val = updated(p, val, idx, w, sigma)
				if err := f.Update(idx, w, sigma); err != nil {
					t.Fatal(err)
				}
			}
		}
		want := solved(t, g, val, b, 2)
		x := append([]float64(nil), b...)
		f.Solve(x, 2)
		one := make([]float64, p.N)
		for i := range one {
			one[i] = b[2*i]
		}
		f.Solve(one, 1)
		for i, v := range one {
			if v != x[2*i] {
				t.Fatalf("unknown %d is %v alone and %v in a block", i, v, x[2*i])
			}
		}
		limit := 1e-11
		if trial%3 == 0 {
			limit = 1e-7 // indefinite: pivots of any size may come up on the way
		}
		assertClose(t, "updated", largestDifference(p, val, x, want, 2), limit)
		n1, z1, p1 := f.Inertia()
		n2, z2, p2 := g.Inertia()
		if n1 != n2 || z1 != z2 || p1 != p2 {
			t.Errorf("inertia updated (%d, %d, %d), refactored (%d, %d, %d)", n1, z1, p1, n2, z2, p2)
		}
	}
}

// randomRod couples some freedoms of two neighbouring joints of a grid.
func randomRod(intN func(int) int, norm func() float64, p *Pattern) (idx []int32, w []float64) {
	for {
		a, b := intN(p.N/6)*6, intN(p.N/6)*6
		if a == b || p.Index(a, b) < 0 {
			continue
		}
		for k := range 3 {
			v := norm()
			idx = append(idx, int32(a+k), int32(b+k))
			w = append(w, v, -v)
		}
		return idx, w
	}
}

func TestUpdateOutAndIn(t *testing.T) {
	s := newShed(3)
	f := NewFactor(Analyze(s.pattern))
	b := randomBlock(newRand(52), s.pattern.N)
	want := solved(t, f, s.val, b, 1)
	idx, w := randomRod(newRand(53).IntN, newRand(54).NormFloat64, gridPattern(1, 3))
	base := s.dof[1][0]
	for k := range idx {
		idx[k] = base + idx[k]%12 // joints 1 and 2 of the first frame
	}
	for _, sigma := range []float64{1e7, -1e7} {
		if err := f.Update(idx, w, sigma); err != nil {
			t.Fatal(err)
		}
	}
	x := append([]float64(nil), b...)
	f.Solve(x, 1)
	assertClose(t, "rod in and out again", largestDifference(s.pattern, s.val, x, want, 1), 1e-8)
}

func TestUpdateFindsTheMechanism(t *testing.T) {
	// One freedom held by a spring of 3 and coupled to another by one of 2: without the first spring nothing holds them.
	p := NewPattern(2, func(yield func(i, j int) bool) { yield(0, 1) })
	f := NewFactor(AnalyzeWith(p, []int{0, 1}))
	if err := f.Refactor([]float64{5, -2, 2}); err != nil {
		t.Fatal(err)
	}
	var pe *PivotError
	if err := f.Update([]int32{0}, []float64{1}, -3); !errors.As(err, &pe) || pe.Column != 1 {
		t.Errorf("%v, want a null pivot at unknown 1", err)
	}
	if err := f.Refactor([]float64{5, -2, 2}); err != nil {
		t.Fatal(err)
	}
	x := []float64{1, 0}
	f.Solve(x, 1)
	assertClose(t, "after the mechanism, x0 = 1/3", abs(x[0]-1.0/3), 1e-15)
	assertClose(t, "after the mechanism, x1 = 1/3", abs(x[1]-1.0/3), 1e-15)
}

func TestUpdateRefusesUncoupled(t *testing.T) {
	p := NewPattern(4, func(yield func(i, j int) bool) { _ = yield(0, 1) && yield(2, 3) })
	f := NewFactor(Analyze(p))
	val := []float64{2, 1, 2, 2, 1, 2}
	if err := f.Refactor(val); err != nil {
		t.Fatal(err)
	}
	if err := f.Update([]int32{0, 3}, []float64{1, 1}, 1); err == nil {
		t.Error("no error for unknowns that the pattern does not couple")
	}
	// The factor is as it was: 2x + y = 3, x + 2y = 3.
	x := []float64{3, 3, 0, 0}
	f.Solve(x, 1)
	assertClose(t, "untouched factor", abs(x[0]-1)+abs(x[1]-1), 1e-15)
}
