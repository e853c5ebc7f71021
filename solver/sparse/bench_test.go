package sparse

import (
	"fmt"
	"testing"
)

var benchFrames = []int{12, 50, 500, 2000}

func BenchmarkAnalyze(b *testing.B) {
	for _, frames := range benchFrames {
		s := newShed(frames)
		b.Run(fmt.Sprintf("frames=%d", frames), func(b *testing.B) {
			for b.Loop() {
				Analyze(s.pattern)
			}
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
			for b.Loop() {
				if err := f.Refactor(s.val); err != nil {
					b.Fatal(err)
				}
			}
			perFrame(b, frames)
			b.ReportMetric(float64(sym.NNZ()), "nnz(L)")
			b.ReportMetric(float64(sym.Stored()), "stored")
			b.ReportMetric(float64(len(sym.super)), "panels")
			b.ReportMetric(float64(sym.Flops()), "flop")
			b.ReportMetric(float64(sym.Flops())*float64(b.N)/b.Elapsed().Seconds()/1e9, "Gflop/s")
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
				for b.Loop() {
					copy(work, x)
					f.Solve(work, nrhs)
				}
				perFrame(b, frames)
				b.ReportMetric(4*float64(sym.NNZ())*float64(nrhs)*float64(b.N)/b.Elapsed().Seconds()/1e9, "Gflop/s")
			})
		}
	}
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
				for b.Loop() {
					m, err := e.Lowest(f, s.val, mass, o)
					if err != nil {
						b.Fatal(err)
					}
					solves = m.Solves
				}
				b.ReportMetric(float64(solves), "solves")
			})
		}
	}
}
