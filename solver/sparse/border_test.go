package sparse

import (
	"fmt"
	"math"
	"slices"
	"testing"
)

// borders are patterns with unknowns to come last: every other joint of a grid, all, none, some of a random matrix, rods' ends of
// sheds.
func borders() []*Border {
	var list []*Border
	grid := gridPattern(9, 7)
	var feet, all []int32
	for i := range int32(grid.N) {
		all = append(all, i)
		if i/6%2 == 0 && i%6 < 3 {
			feet = append(feet, i)
		}
	}
	list = append(list, NewBorder(grid, feet), NewBorder(grid, all), NewBorder(grid, nil))
	random := randomPattern(newRand(5), 60, 4)
	list = append(list, NewBorder(random, []int32{59, 3, 17, 3, 0, 30, 31}))
	for _, frames := range []int{2, 60} { // those of 60 are filled chunk by chunk
		s := newShed(frames)
		var feet []int32
		for f := 0; f < frames; f += 9 {
			for _, k := range []int{3, 8, 13} {
				feet = append(feet, s.dof[f*jointsAFrame+k][:]...)
			}
		}
		list = append(list, NewBorder(s.pattern, feet))
	}
	return list
}

// TestBorder: solutions by head and rest are those of a factor of the whole (both have errors of round-off), also where eight rests are
// changed each in its own way and the head stays. The inertia is that of the whole by Sylvester's law.
func TestBorder(t *testing.T) {
	for k, b := range borders() {
		p := b.sym.pattern
		t.Run(fmt.Sprint(k), func(t *testing.T) {
			val := dominant(newRand(uint64(40+k)), p)
			if n := b.Rest().N(); n+int(b.sym.head) != p.N || !slices.IsSorted(b.Unknowns()) {
				t.Fatalf("%d unknowns in the border, %d before it, %d in all", n, b.sym.head, p.N)
			}
			h := b.NewHead()
			rest := make([]float64, b.Rest().Pattern().NNZ())
			if err := h.Refactor(rest, val); err != nil {
				t.Fatal(err)
			}
			changed, rows := changeRests(b, val, rest)
			lanes := NewLanes(b.Rest())
			stand := lanes.Refactor(rows)
			x := make([]row8, p.N)
			rhs := randomBlock(newRand(7), p.N*block)
			for i := range x {
				copy(x[i][:], rhs[i*block:])
			}
			y := make([]row8, b.Rest().N())
			h.Forward(x)
			b.Take(y, x)
			lanes.Solve(y)
			b.Put(x, y)
			h.Backward(x)
			for l := range block {
				f := NewFactor(Analyze(p))
				if err := f.Refactor(changed[l]); err != nil {
					t.Fatal(err)
				}
				neg, _, _ := f.Inertia()
				if got := h.Negative() + lanes.Negative(l); got != neg || stand[l] != (neg == 0) {
					t.Errorf("lane %d: %d negative pivots and definite %v, the whole has %d", l, got, stand[l], neg)
				}
				if neg > 0 { // lanes solve definite matrices only
					continue
				}
				want := make([]float64, p.N)
				for i := range want {
					want[i] = rhs[i*block+l]
				}
				f.Solve(want, 1)
				far, size := 0.0, 0.0
				for i, v := range want {
					far, size = max(far, math.Abs(v-x[i][l])), max(size, math.Abs(v))
				}
				assertClose(t, "solution", far, 1e-9*size)
			}
		})
	}
}

// changeRests changes the diagonal of the border, lane by lane, in matrix and rest alike; the last lane is made indefinite.
func changeRests(b *Border, val, rest []float64) (changed [block][]float64, rows []row8) {
	p, q := b.sym.pattern, b.Rest().Pattern()
	rows = make([]row8, len(rest))
	for i, v := range rest {
		for l := range block {
			rows[i][l] = v
		}
	}
	for l := range changed {
		changed[l] = slices.Clone(val)
		for k, i := range b.Unknowns() {
			d := val[p.Ptr[i]]
			add := d * float64((k+l)%3)
			if l == block-1 && k == 0 {
				add = -3 * d
			}
			changed[l][p.Ptr[i]] += add
			rows[q.Ptr[k]][l] += add
		}
	}
	return changed, rows
}

// TestBorderLeast: the least pivot of the head relative to the diagonal of a diagonal matrix is 1, to another scale its inverse.
func TestBorderLeast(t *testing.T) {
	p := NewPattern(5, func(func(i, j int) bool) {})
	b := NewBorder(p, []int32{1, 4})
	h, rest := b.NewHead(), make([]float64, 2)
	if err := h.Refactor(rest, []float64{3, 5, -7, 11, 13}); err != nil {
		t.Fatal(err)
	}
	if least := h.Least([]float64{3, 1, 7, 1, 1}); least != -1 || h.Negative() != 1 || rest[0] != 5 || rest[1] != 13 {
		t.Errorf("least pivot %g, %d negative, rest %v", least, h.Negative(), rest)
	}
	if err := h.Refactor(rest, []float64{3, 5, 0, 11, 13}); err == nil {
		t.Error("a null pivot of the head is no error")
	}
}

// TestOrderLast: those that are to come last do, and under a limit others with them.
func TestOrderLast(t *testing.T) {
	for _, p := range []*Pattern{gridPattern(9, 7), randomPattern(newRand(8), 200, 3)} {
		last := make([]bool, p.N)
		for i := range last {
			last[i] = i%5 == 0 || i > p.N-20
		}
		waits := false
		order, head := orderLast(p, last, p.N)
		for k, v := range order {
			if waits && !last[v] {
				t.Fatalf("unknown %d comes after one that is to come last", v)
			}
			if waits = last[v]; waits != (k >= head) {
				t.Fatalf("unknown %d is the %d-th of %d before the last", v, k, head)
			}
		}
		order, head = orderLast(p, last, 16) // some couple more
		for _, v := range order[:head] {
			if last[v] {
				t.Fatalf("unknown %d comes early", v)
			}
		}
		if AnalyzeWith(p, order).N() != p.N || head == 0 || !slices.ContainsFunc(order[head:], func(v int) bool { return !last[v] }) {
			t.Errorf("%d of %d come early", head, p.N)
		}
	}
}

// BenchmarkBorder: what a matrix costs that differs in its border only, eight at a time.
func BenchmarkBorder(b *testing.B) {
	for _, frames := range benchFrames {
		s := newShed(frames)
		var feet []int32
		for f := 0; f < frames; f += 10 {
			for _, d := range []int{0, 1} {
				for _, k := range []int{3, 6, 8, 10, 13} {
					feet = append(feet, s.dof[min(f+d, frames-1)*jointsAFrame+k][:]...)
				}
			}
		}
		bd := NewBorder(s.pattern, feet)
		h, rest := bd.NewHead(), make([]float64, bd.Rest().Pattern().NNZ())
		rows, lanes := make([]row8, len(rest)), NewLanes(bd.Rest())
		x := make([]row8, s.pattern.N)
		y := make([]row8, bd.Rest().N())
		run := func(name string, do func()) {
			b.Run(fmt.Sprintf("%s/frames=%d", name, frames), func(b *testing.B) {
				var w stopwatch
				for b.Loop() {
					w.run(do)
				}
				b.ReportMetric(float64(w.best.Nanoseconds())/1e3/float64(frames), "best-µs/frame")
				b.ReportMetric(float64(bd.sym.nnz), "nnz(L)")
				b.ReportMetric(float64(bd.rest.nnz), "nnz(rest)")
			})
		}
		run("Head", func() {
			if err := h.Refactor(rest, s.val); err != nil {
				b.Fatal(err)
			}
		})
		for i, v := range rest {
			for l := range block {
				rows[i][l] = v
			}
		}
		run("Rests", func() { lanes.Refactor(rows) })
		run("Solve", func() {
			for i := range x {
				x[i] = row8{1, 2, 3, 4, 5, 6, 7, 8}
			}
			h.Forward(x)
			bd.Take(y, x)
			lanes.Solve(y)
			bd.Put(x, y)
			h.Backward(x)
		})
		run("SolveRest", func() {
			bd.Take(y, x)
			lanes.Solve(y)
		})
	}
}
