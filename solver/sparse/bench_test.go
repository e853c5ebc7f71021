package sparse

import (
	"fmt"
	"slices"
	"testing"
	"time"
)

var benchFrames = []int{12, 50, 500, 2000}

func BenchmarkPattern(b *testing.B) {
	s := newShed(12)
	var cliques [][]int32
	for _, q := range s.bars {
		cliques = append(cliques, append(append([]int32{}, s.dof[q[0]][:]...), s.dof[q[1]][:]...))
	}
	var w stopwatch
	for b.Loop() {
		w.run(func() { NewPatternFromCliques(s.pattern.N, cliques) })
	}
	b.ReportMetric(float64(w.best.Nanoseconds())/1e3, "best-µs")
}

func BenchmarkAnalyze(b *testing.B) {
	for _, frames := range benchFrames {
		s := newShed(frames)
		b.Run(fmt.Sprintf("frames=%d", frames), func(b *testing.B) {
			var w stopwatch
			for b.Loop() {
				w.run(func() { Analyze(s.pattern) })
			}
			b.ReportMetric(float64(w.best.Nanoseconds())/1e3, "best-µs")
			perFrame(b, frames)
		})
	}
}

func BenchmarkRefactor(b *testing.B) {
	for _, frames := range benchFrames {
		s := newShed(frames)
		b.Run(fmt.Sprintf("frames=%d", frames), func(b *testing.B) {
			sym := Analyze(s.pattern)
			f := NewFactor(sym)
			b.ReportAllocs()
			var w stopwatch
			for b.Loop() {
				w.run(func() {
					if err := f.Refactor(s.val); err != nil {
						b.Fatal(err)
					}
				})
			}
			perFrame(b, frames)
			b.ReportMetric(float64(sym.NNZ()), "nnz(L)")
			b.ReportMetric(float64(sym.Stored()), "stored")
			b.ReportMetric(float64(len(sym.super)), "panels")
			b.ReportMetric(float64(sym.Flops()), "flop")
			w.report(b, float64(sym.Flops()))
		})
	}
}

func BenchmarkSolve(b *testing.B) {
	for _, frames := range benchFrames {
		s := newShed(frames)
		sym := Analyze(s.pattern)
		f := NewFactor(sym)
		if err := f.Refactor(s.val); err != nil {
			b.Fatal(err)
		}
		for _, nrhs := range []int{1, 8, 40} {
			b.Run(fmt.Sprintf("frames=%d/rhs=%d", frames, nrhs), func(b *testing.B) {
				x := make([]float64, sym.N()*nrhs)
				for i := range x {
					x[i] = float64(i % 17)
				}
				work := make([]float64, len(x))
				b.ReportAllocs()
				var w stopwatch
				for b.Loop() {
					copy(work, x)
					w.run(func() { f.Solve(work, nrhs) })
				}
				perFrame(b, frames)
				w.report(b, 4*float64(sym.NNZ()*nrhs))
			})
		}
	}
}

// BenchmarkSimplicial is the other candidate: entry by entry, up-looking.
func BenchmarkSimplicial(b *testing.B) {
	for _, frames := range benchFrames {
		s := newShed(frames)
		sym := Analyze(s.pattern)
		g := newSimplicial(sym)
		b.Run(fmt.Sprintf("frames=%d/refactor", frames), func(b *testing.B) {
			var w stopwatch
			for b.Loop() {
				w.run(func() { g.refactor(s.val) })
			}
			w.report(b, float64(sym.Flops()))
		})
		b.Run(fmt.Sprintf("frames=%d/rhs=40", frames), func(b *testing.B) {
			x := make([]float64, sym.N()*40)
			var w stopwatch
			for b.Loop() {
				for i := range x {
					x[i] = float64(i % 17)
				}
				w.run(func() { g.solve(x, 40) })
			}
			w.report(b, 4*float64(sym.NNZ()*40))
		})
	}
}

// BenchmarkUpdate brings one rod in and takes it out again.
func BenchmarkUpdate(b *testing.B) {
	s := newShed(12)
	f := NewFactor(Analyze(s.pattern))
	if err := f.Refactor(s.val); err != nil {
		b.Fatal(err)
	}
	from, to := s.dof[3], s.dof[jointsAFrame+6] // a rod of the roof
	idx := []int32{from[0], from[1], from[2], to[0], to[1], to[2]}
	along := []float64{0.72, 0.69, 0.04, -0.72, -0.69, -0.04}
	var w stopwatch
	sigma := 1e7
	for b.Loop() {
		w.run(func() {
			if err := f.Update(idx, along, sigma); err != nil {
				b.Fatal(err)
			}
		})
		sigma = -sigma
	}
	b.ReportMetric(float64(w.best.Nanoseconds())/1e3, "best-µs")
}

// BenchmarkOrders reports the fill of other elimination orders of the 12-frame shed.
func BenchmarkOrders(b *testing.B) {
	s := newShed(12)
	natural := make([]int, s.pattern.N)
	for i := range natural {
		natural[i] = i
	}
	for name, perm := range map[string][]int{"degree": Order(s.pattern), "natural": natural, "band": reverseCuthillMcKee(s.pattern)} {
		b.Run(name, func(b *testing.B) {
			sym := AnalyzeWith(s.pattern, perm)
			f := NewFactor(sym)
			var w stopwatch
			for b.Loop() {
				w.run(func() {
					if err := f.Refactor(s.val); err != nil {
						b.Fatal(err)
					}
				})
			}
			w.report(b, float64(sym.Flops()))
			b.ReportMetric(float64(sym.NNZ()), "nnz(L)")
		})
	}
}

// reverseCuthillMcKee is a band order: breadth first from a vertex far out, by degree, reversed. E. Cuthill, J. McKee, Proc.
// 24th Nat. Conf. ACM (1969) 157-172; J. A. George, Stanford report STAN-CS-71-208 (1971).
func reverseCuthillMcKee(p *Pattern) []int {
	ptr, adj := p.adjacency()
	degree := func(v int32) int32 { return ptr[v+1] - ptr[v] }
	breadth := func(start int32) []int32 {
		seen := make([]bool, p.N)
		order := []int32{start}
		seen[start] = true
		for k := 0; k < len(order); k++ {
			at := len(order)
			for _, u := range adj[ptr[order[k]]:ptr[order[k]+1]] {
				if !seen[u] {
					seen[u] = true
					order = append(order, u)
				}
			}
			slices.SortStableFunc(order[at:], func(a, b int32) int { return int(degree(a) - degree(b)) })
		}
		return order
	}
	far := breadth(0)
	far = breadth(far[len(far)-1])
	var out []int
	for _, v := range slices.Backward(breadth(far[len(far)-1])) {
		out = append(out, int(v))
	}
	return out
}

// stopwatch keeps the shortest of many runs: what the code needs when nothing else runs on the machine.
type stopwatch struct{ best time.Duration }

func (w *stopwatch) run(do func()) {
	start := time.Now()
	do()
	if d := time.Since(start); w.best == 0 || d < w.best {
		w.best = d
	}
}

// report gives the shortest time and the rate for so many operations.
func (w *stopwatch) report(b *testing.B, flops float64) {
	b.ReportMetric(float64(w.best.Nanoseconds())/1e3, "best-µs")
	b.ReportMetric(flops/w.best.Seconds()/1e9, "Gflop/s")
}

func perFrame(b *testing.B, frames int) {
	b.ReportMetric(float64(b.Elapsed().Microseconds())/float64(b.N)/float64(frames), "µs/frame")
}

// BenchmarkLowest finds the lowest frequencies of the shed with equal masses at all freedoms, with and without the proof.
func BenchmarkLowest(b *testing.B) {
	for _, frames := range []int{12, 50} {
		s := newShed(frames)
		sym := Analyze(s.pattern)
		f, g := NewFactor(sym), NewFactor(sym)
		if err := f.Refactor(s.val); err != nil {
			b.Fatal(err)
		}
		mass := identity(s.pattern)
		for _, o := range []EigenOptions{{Modes: 1}, {Modes: 4}, {Modes: 4, Count: NewSturm(g, s.val, mass).Negative}} {
			b.Run(fmt.Sprintf("frames=%d/modes=%d/proof=%v", frames, o.Modes, o.Count != nil), func(b *testing.B) {
				var e Eigen
				var solves int
				var w stopwatch
				for b.Loop() {
					w.run(func() {
						m, err := e.Lowest(f, s.val, mass, o)
						if err != nil {
							b.Fatal(err)
						}
						solves = m.Solves
					})
				}
				b.ReportMetric(float64(w.best.Nanoseconds())/1e3, "best-µs")
				b.ReportMetric(float64(solves), "solves")
			})
		}
	}
}
