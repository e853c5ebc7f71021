package sparse

import (
	"errors"
	"math"
	"strings"
	"sync"
	"testing"

	"gonum.org/v1/gonum/mat"
)

func TestSolveAgainstDenseCholesky(t *testing.T) {
	rng := newRand(21)
	var worst float64
	for trial := range 120 {
		p := randomPattern(rng, 1+rng.IntN(70), rng.IntN(7))
		if trial%4 == 0 {
			p = gridPattern(1+rng.IntN(3), 1+rng.IntN(5))
		}
		val := dominant(rng, p)
		nrhs := 1 + rng.IntN(20)
		b := randomBlock(rng, p.N*nrhs)
		x := solved(t, NewFactor(Analyze(p)), val, b, nrhs)
		want := denseSolve(t, dense(p, val), b, nrhs, true)
		worst = max(worst, largestDifference(p, val, x, want, nrhs))
	}
	assertClose(t, "120 random positive definite systems against gonum's Cholesky", worst, 1e-12)
}

// The shed's matrix is far worse conditioned than a dominant one; the dense routine has the same trouble, so that both are
// compared through the residual and through each other.
func TestShedAgainstDenseCholesky(t *testing.T) {
	s := newShed(4)
	b := randomBlock(newRand(22), s.pattern.N*3)
	x := solved(t, NewFactor(Analyze(s.pattern)), s.val, b, 3)
	want := denseSolve(t, dense(s.pattern, s.val), b, 3, true)
	assertClose(t, "shed of 4 frames", largestDifference(s.pattern, s.val, x, want, 3), 1e-9)
	r := make([]float64, len(b))
	s.pattern.Residual(r, s.val, x, b, 3)
	var most, size float64
	for i := range r {
		most, size = max(most, abs(r[i])), max(size, abs(x[i]))
	}
	assertClose(t, "residual / (|K| |x|)", most/(s.pattern.Norm1(s.val, nil)*size), 1e-15)
}

func TestInertiaAgainstDenseEigenvalues(t *testing.T) {
	rng := newRand(23)
	for range 60 {
		p := randomPattern(rng, 1+rng.IntN(40), rng.IntN(6))
		val, negative := quasiDefinite(rng, p)
		f := NewFactor(Analyze(p))
		b := randomBlock(rng, p.N*2)
		x := solved(t, f, val, b, 2)
		neg, zero, pos := f.Inertia()
		wantNeg := negativeEigenvalues(t, dense(p, val))
		if neg != wantNeg || neg != negative || zero != 0 || neg+pos != p.N {
			t.Fatalf("inertia (%d, %d, %d) of %d; gonum has %d negative, by construction %d", neg, zero, pos, p.N, wantNeg, negative)
		}
		want := denseSolve(t, dense(p, val), b, 2, false)
		assertClose(t, "indefinite system against gonum's LU", largestDifference(p, val, x, want, 2), 1e-10)
	}
}

func negativeEigenvalues(t *testing.T, a *mat.SymDense) (neg int) {
	t.Helper()
	for _, v := range eigenvalues(t, a) {
		if v < 0 {
			neg++
		}
	}
	return neg
}

// Indefinite matrices that are not quasi-definite: K - σD for random σ.
func TestInertiaOfShiftedMatrices(t *testing.T) {
	rng := newRand(24)
	for range 60 {
		p := randomPattern(rng, 2+rng.IntN(40), 4)
		val := dominant(rng, p)
		d := diagonalScale(p, val)
		shiftDiagonal(p, val, val, d, -2*rng.Float64())
		f := NewFactor(Analyze(p))
		if err := f.Refactor(val); err != nil {
			t.Fatal(err)
		}
		// Congruence with D^-1/2 keeps the signs and spares the dense routine the scales.
		a := dense(p, val)
		for i := range p.N {
			for j := range i + 1 {
				a.SetSym(i, j, a.At(i, j)/math.Sqrt(d[i]*d[j]))
			}
		}
		if neg, _, _ := f.Inertia(); neg != negativeEigenvalues(t, a) {
			t.Fatalf("%d negative pivots, gonum has %d negative eigenvalues", neg, negativeEigenvalues(t, a))
		}
	}
}

// Renumbering the unknowns must not change the answer, whatever the elimination order.
func TestRenumberingInvariance(t *testing.T) {
	rng := newRand(25)
	for range 20 {
		p := gridPattern(1+rng.IntN(3), 2+rng.IntN(3))
		val := dominant(rng, p)
		b := randomBlock(rng, p.N)
		x := solved(t, NewFactor(Analyze(p)), val, b, 1)
		label := rng.Perm(p.N)
		q, qval := renumbered(p, val, label)
		qb := make([]float64, p.N)
		for i, v := range label {
			qb[v] = b[i]
		}
		for _, s := range []*Symbolic{Analyze(q), AnalyzeWith(q, rng.Perm(p.N))} {
			y := solved(t, NewFactor(s), qval, qb, 1)
			back := make([]float64, p.N)
			for i, v := range label {
				back[i] = y[v]
			}
			assertClose(t, "renumbered", largestDifference(p, val, back, x, 1), 1e-12)
		}
	}
}

// renumbered returns the matrix with unknown i called label[i].
func renumbered(p *Pattern, val []float64, label []int) (*Pattern, []float64) {
	q := NewPattern(p.N, func(yield func(i, j int) bool) {
		for j := range p.N {
			for _, i := range p.Row[p.Ptr[j]:p.Ptr[j+1]] {
				if !yield(label[i], label[j]) {
					return
				}
			}
		}
	})
	out := make([]float64, len(val))
	for j := range p.N {
		for e := p.Ptr[j]; e < p.Ptr[j+1]; e++ {
			out[q.Index(label[p.Row[e]], label[j])] = val[e]
		}
	}
	return q, out
}

func TestColumnsDoNotDependOnTheBlock(t *testing.T) {
	s := newShed(3)
	n := s.pattern.N
	f := NewFactor(Analyze(s.pattern))
	const nrhs = 21
	b := randomBlock(newRand(26), n*nrhs)
	x := solved(t, f, s.val, b, nrhs)
	for k := range nrhs {
		one := make([]float64, n)
		for i := range one {
			one[i] = b[i*nrhs+k]
		}
		f.Solve(one, 1)
		for i, v := range one {
			if v != x[i*nrhs+k] {
				t.Fatalf("column %d of %d: unknown %d is %v alone and %v in the block", k, nrhs, i, v, x[i*nrhs+k])
			}
		}
	}
}

func TestRefactorForgetsWhatWasThere(t *testing.T) {
	s := newShed(2)
	f, g := NewFactor(Analyze(s.pattern)), NewFactor(Analyze(s.pattern))
	b := randomBlock(newRand(27), s.pattern.N)
	other, _ := quasiDefinite(newRand(28), s.pattern)
	solved(t, f, other, b, 1)
	x, y := solved(t, f, s.val, b, 1), solved(t, g, s.val, b, 1)
	for i := range x {
		if x[i] != y[i] {
			t.Fatalf("unknown %d: %v after another matrix, %v on a fresh factor", i, x[i], y[i])
		}
	}
}

func TestSingularNamesTheUnknown(t *testing.T) {
	// A chain of three springs on four points, held nowhere, in natural order: the last pivot is what is left, zero.
	chain := func(extra float64) (*Pattern, []float64) {
		p := NewPattern(4, func(yield func(i, j int) bool) { _ = yield(0, 1) && yield(1, 2) && yield(2, 3) })
		val := make([]float64, p.NNZ())
		for i := range 3 {
			val[p.Index(i, i)]++
			val[p.Index(i+1, i+1)]++
			val[p.Index(i, i+1)]--
		}
		val[0] += extra
		return p, val
	}
	p, val := chain(0)
	var pe *PivotError
	f := NewFactor(AnalyzeWith(p, []int{0, 1, 2, 3}))
	if err := f.Refactor(val); !errors.As(err, &pe) || pe.Column != 3 || pe.Pivot != 0 {
		t.Errorf("chain held nowhere: %v, want a null pivot at unknown 3", err)
	}
	if neg, zero, pos := f.Inertia(); neg != 0 || zero != 1 || pos != 3 {
		t.Errorf("inertia (%d, %d, %d), want (0, 1, 3)", neg, zero, pos)
	}
	// Held by a spring a thousand million times softer it stands.
	p, val = chain(1e-9)
	if err := f.Refactor(val); err != nil {
		t.Errorf("softly held chain: %v", err)
	}
	if r, at := f.PivotRatio(); at != 3 || r < 1e-10 || r > 1e-8 {
		t.Errorf("PivotRatio %.3g at %d, want about 1e-9 at 3", r, at)
	}
}

// A freedom without any stiffness is named whatever the order and whatever the others' stiffness.
func TestUnattachedFreedomIsNamed(t *testing.T) {
	rng := newRand(29)
	for range 30 {
		p := gridPattern(2, 2)
		val := dominant(rng, p)
		free := rng.IntN(p.N)
		for j := range p.N {
			for e := p.Ptr[j]; e < p.Ptr[j+1]; e++ {
				if j == free || int(p.Row[e]) == free {
					val[e] = 0
				}
			}
		}
		var pe *PivotError
		err := NewFactor(AnalyzeWith(p, rng.Perm(p.N))).Refactor(val)
		if !errors.As(err, &pe) || pe.Column != free {
			t.Fatalf("%v, want a null pivot at unknown %d", err, free)
		}
		if !strings.Contains(err.Error(), "singular at unknown") {
			t.Errorf("message %q", err)
		}
	}
}

// The null test must give one verdict whatever the units of the unknowns.
func TestNullTestIsInvariantUnderScaling(t *testing.T) {
	rng := newRand(30)
	s := newShed(2)
	for _, soft := range []float64{1, 0} {
		val := append([]float64(nil), s.val...)
		if soft == 0 {
			val = floatingShed(s) // all of it may move: six null modes
		}
		for range 5 {
			scaled := append([]float64(nil), val...)
			by := make([]float64, s.pattern.N)
			for i := range by {
				by[i] = math.Ldexp(1, rng.IntN(40)-20) // powers of two: scaling without rounding
			}
			for j := range s.pattern.N {
				for e := s.pattern.Ptr[j]; e < s.pattern.Ptr[j+1]; e++ {
					scaled[e] *= by[j] * by[s.pattern.Row[e]]
				}
			}
			f, g := NewFactor(Analyze(s.pattern)), NewFactor(Analyze(s.pattern))
			err1, err2 := f.Refactor(val), g.Refactor(scaled)
			if (err1 == nil) != (soft == 1) || (err1 == nil) != (err2 == nil) {
				t.Fatalf("soft %v: unscaled %v, scaled %v", soft, err1, err2)
			}
			if err1 != nil && err1.(*PivotError).Column != err2.(*PivotError).Column {
				t.Fatalf("unscaled %v, scaled %v", err1, err2)
			}
		}
	}
}

// floatingShed takes the stiffness of the bottom bars out, so that the frames float over their bases; the bases' freedoms
// keep a stiffness of their own.
func floatingShed(s *shed) []float64 {
	val := append([]float64(nil), s.val...)
	for _, b := range s.bars {
		if s.dof[b[0]][0] >= 0 && s.dof[b[1]][0] >= 0 {
			continue
		}
		k := barStiffness(s.joints[b[0]], s.joints[b[1]], 200e9, 80e9, 4e-3, 8e-5, 6e-6, 3e-7)
		addDense(s.pattern, val, append(append([]int32{}, s.dof[b[0]][:]...), s.dof[b[1]][:]...), k[:], -1)
	}
	for i, d := range s.dof {
		if k := i % jointsAFrame; k == 0 || k == jointsAFrame-1 {
			for _, j := range d {
				if j >= 0 {
					val[s.pattern.Ptr[j]] = 1e6
				}
			}
		}
	}
	return val
}

func TestValuesThatAreNotFinite(t *testing.T) {
	s := newShed(2)
	f := NewFactor(Analyze(s.pattern))
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		val := append([]float64(nil), s.val...)
		val[len(val)/2] = bad
		err := f.Refactor(val)
		if err == nil || !strings.Contains(err.Error(), "not finite") {
			t.Errorf("with %v: %v", bad, err)
		}
	}
	defer func() {
		if recover() == nil {
			t.Error("Solve after a failed Refactor did not panic")
		}
	}()
	f.Solve(make([]float64, s.pattern.N), 1)
}

func TestNoAllocation(t *testing.T) {
	s := newShed(2)
	f := NewFactor(Analyze(s.pattern))
	x := randomBlock(newRand(31), s.pattern.N*11)
	one := x[:s.pattern.N]
	idx, w := []int32{0, 1, 2}, []float64{1, -1, 1}
	for what, run := range map[string]func(){
		"Refactor": func() {
			if err := f.Refactor(s.val); err != nil {
				t.Fatal(err)
			}
		},
		"Solve 11": func() { f.Solve(x, 11) },
		"Solve 1":  func() { f.Solve(one, 1) },
		"Update": func() {
			if err := f.Update(idx, w, 1e-3); err != nil {
				t.Fatal(err)
			}
		},
	} {
		if err := f.Refactor(s.val); err != nil {
			t.Fatal(err)
		}
		if got := testing.AllocsPerRun(20, run); got != 0 {
			t.Errorf("%s allocates %v times", what, got)
		}
	}
}

func TestEmptyMatrix(t *testing.T) {
	f := NewFactor(Analyze(NewPattern(0, none)))
	if err := f.Refactor(nil); err != nil {
		t.Fatal(err)
	}
	f.Solve(nil, 3)
}

// One analysis serves any number of workers, and each has the bits that it would have alone.
func TestWorkersShareOneAnalysis(t *testing.T) {
	s := newShed(3)
	sym := Analyze(s.pattern)
	b := randomBlock(newRand(32), s.pattern.N*9)
	alone := solved(t, NewFactor(sym), s.val, b, 9)
	const workers = 4
	got := make([][]float64, workers)
	var group sync.WaitGroup
	for k := range workers {
		group.Go(func() {
			f := NewFactor(sym)
			for range 3 {
				if f.Refactor(s.val) == nil {
					got[k] = append([]float64(nil), b...)
					f.Solve(got[k], 9)
				}
			}
		})
	}
	group.Wait()
	for k := range workers {
		if len(got[k]) != len(alone) {
			t.Fatalf("worker %d has no solution", k)
		}
		assertSameBits(t, "worker", got[k], alone)
	}
}

// TestSolveRows: eight right-hand sides by rows have the bits of Solve.
func TestSolveRows(t *testing.T) {
	rng := newRand(7)
	p := randomPattern(rng, 60, 4)
	val := dominant(rng, p)
	f := NewFactor(Analyze(p))
	if err := f.Refactor(val); err != nil {
		t.Fatal(err)
	}
	rows, flat := make([][8]float64, p.N), make([]float64, 8*p.N)
	for i := range flat {
		flat[i] = math.Sin(float64(i + 1))
		rows[i/8][i%8] = flat[i]
	}
	f.Solve(flat, 8)
	f.SolveRows(rows)
	for i, v := range flat {
		if rows[i/8][i%8] != v {
			t.Fatalf("unknown %d, right-hand side %d: %g, Solve %g", i/8, i%8, rows[i/8][i%8], v)
		}
	}
}
