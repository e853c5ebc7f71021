package sparse

import (
	"math"
	"testing"
)

// laneValues are eight matrices of one pattern, dominant and hence definite, but for the lanes in not: there the diagonal of one
// unknown is negative.
func laneValues(seed uint64, p *Pattern, not ...int) (rows []row8, lanes [block][]float64) {
	rng := newRand(seed)
	rows = make([]row8, p.NNZ())
	for l := range lanes {
		lanes[l] = dominant(rng, p)
		for _, n := range not {
			if n == l {
				lanes[l][p.Ptr[p.N/2]] *= -1
			}
		}
		for i, v := range lanes[l] {
			rows[i][l] = v
		}
	}
	return rows, lanes
}

// TestLanes: every lane has the bits of a factor of its own matrix, in solutions and when it is taken over, and what is not
// definite is told.
func TestLanes(t *testing.T) {
	for _, p := range []*Pattern{gridPattern(9, 7), randomPattern(newRand(5), 60, 4), newShed(2).pattern, newShed(15).pattern} { // the last is filled chunk by chunk
		sym := Analyze(p)
		f := NewLanes(sym)
		for round, not := range [][]int{nil, {2, 5}} {
			rows, val := laneValues(uint64(31+round), p, not...)
			stand := f.Refactor(rows)
			b := randomBlock(newRand(7), p.N*block)
			x := make([]row8, p.N)
			for i := range x {
				copy(x[i][:], b[i*block:])
			}
			f.Solve(x)
			taken := NewFactor(sym)
			all := make([]*Factor, 8-5*round)
			for l := range all {
				all[l] = NewFactor(sym)
			}
			f.TakeAll(all)
			for l := range val {
				own := NewFactor(sym)
				err := own.Refactor(val[l])
				neg, zero, _ := own.Inertia()
				if want := err == nil && neg+zero == 0; stand[l] != want {
					t.Fatalf("lane %d: definite %v, its own factor says %v", l, stand[l], want)
				}
				if !stand[l] {
					if got := f.Negative(l); got != neg {
						t.Errorf("lane %d: %d negative pivots, its own factor has %d", l, got, neg)
					}
					continue
				}
				want, got := make([]float64, p.N), make([]float64, p.N)
				for i := range want {
					want[i], got[i] = b[i*block+l], x[i][l]
				}
				other := append([]float64(nil), want...)
				own.Solve(want, 1)
				assertSameBits(t, "solution", got, want)
				f.Take(l, taken)
				taken.Solve(other, 1)
				assertSameBits(t, "solution of what was taken", other, want)
				assertSameBits(t, "factor", taken.lx, own.lx)
				if l < len(all) {
					for i := range other {
						other[i] = b[i*block+l]
					}
					all[l].Solve(other, 1)
					assertSameBits(t, "solution of what was taken with the others", other, want)
				}
				wantRatio, _ := own.PivotRatio()
				gotRatio, _ := taken.PivotRatio()
				assertClose(t, "pivot ratio", math.Abs(gotRatio/wantRatio-1), 1e-12)
			}
		}
	}
}

// TestLanesLeast: the least pivot relative to a scale is that of the lane's own factor.
func TestLanesLeast(t *testing.T) {
	p := gridPattern(6, 5)
	sym := Analyze(p)
	rows, val := laneValues(3, p)
	f, own := NewLanes(sym), NewFactor(sym)
	f.Refactor(rows)
	scale := make([]float64, p.N)
	for i := range scale {
		scale[i] = 1 + float64(i)
	}
	least := f.Least(scale)
	for l := range val {
		if err := own.Refactor(val[l]); err != nil {
			t.Fatal(err)
		}
		want := math.Inf(1)
		for k, v := range sym.perm {
			want = min(want, own.d[k]/scale[v])
		}
		if least[l] != want {
			t.Errorf("lane %d: %g, want %g", l, least[l], want)
		}
	}
}

// TestLanesAllocateNothing: a factor and a solution take the storage that is there.
func TestLanesAllocateNothing(t *testing.T) {
	p := newShed(2).pattern
	f := NewLanes(Analyze(p))
	rows, _ := laneValues(3, p)
	x := make([]row8, p.N)
	if n := testing.AllocsPerRun(3, func() { f.Refactor(rows); f.Solve(x) }); n != 0 {
		t.Errorf("%g allocations", n)
	}
}

func BenchmarkLanes(b *testing.B) {
	p := newShed(5).pattern
	sym := Analyze(p)
	rows, val := laneValues(3, p)
	f, one := NewLanes(sym), NewFactor(sym)
	x := make([]row8, p.N)
	b.Run("refactor", func(b *testing.B) {
		for b.Loop() {
			f.Refactor(rows)
		}
	})
	b.Run("solve", func(b *testing.B) {
		for b.Loop() {
			f.Solve(x)
		}
	})
	b.Run("one/refactor", func(b *testing.B) {
		for b.Loop() {
			if err := one.Refactor(val[0]); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("one/solve rows", func(b *testing.B) {
		for b.Loop() {
			one.SolveRows(x)
		}
	})
	b.Run("take", func(b *testing.B) {
		for b.Loop() {
			f.Take(3, one)
		}
	})
}
