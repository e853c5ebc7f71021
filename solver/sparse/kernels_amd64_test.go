package sparse

import "testing"

// withoutVectors runs do on the portable kernels.
func withoutVectors(do func()) {
	had := vectors
	vectors = false
	defer func() { vectors = had }()
	do()
}

// A processor without vectors must give the bits of one that has them, from the values to the solution.
func TestSolutionsDoNotDependOnVectors(t *testing.T) {
	s := newShed(3)
	const nrhs = 13
	b := randomBlock(newRand(91), s.pattern.N*nrhs)
	f, g := NewFactor(Analyze(s.pattern)), NewFactor(Analyze(s.pattern))
	x := solved(t, f, s.val, b, nrhs)
	var y []float64
	withoutVectors(func() { y = solved(t, g, s.val, b, nrhs) })
	assertSameBits(t, "solution", x, y)
	assertSameBits(t, "pivots", f.d, g.d)
}

// The same of eight factors side by side.
func TestLanesDoNotDependOnVectors(t *testing.T) {
	p := newShed(2).pattern
	rows, _ := laneValues(17, p)
	f, g := NewLanes(Analyze(p)), NewLanes(Analyze(p))
	x := make([]row8, p.N)
	for i := range x {
		x[i] = row8{1, 2, 3, 4, 5, 6, 7, float64(i)}
	}
	y := append([]row8(nil), x...)
	f.Refactor(rows)
	f.Solve(x)
	withoutVectors(func() { g.Refactor(rows); g.Solve(y) })
	for i := range x {
		assertSameBits(t, "solution", x[i][:], y[i][:])
	}
	for i := range f.lx {
		assertSameBits(t, "factor", f.lx[i][:], g.lx[i][:])
	}
}

func BenchmarkPortable(b *testing.B) {
	s := newShed(12)
	sym := Analyze(s.pattern)
	f := NewFactor(sym)
	withoutVectors(func() {
		b.Run("refactor", func(b *testing.B) {
			var w stopwatch
			for b.Loop() {
				w.run(func() {
					if err := f.Refactor(s.val); err != nil {
						b.Fatal(err)
					}
				})
			}
			w.report(b, float64(sym.Flops()))
		})
		b.Run("rhs=40", func(b *testing.B) {
			x := make([]float64, sym.N()*40)
			var w stopwatch
			for b.Loop() {
				for i := range x {
					x[i] = float64(i % 17)
				}
				w.run(func() { f.Solve(x, 40) })
			}
			w.report(b, 4*float64(sym.NNZ()*40))
		})
	})
}
