package sparse

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// denseEigen returns all eigenvalues 1/μ of K φ = λ B φ by gonum: K = L Lᵀ, then those μ of L⁻¹ B L⁻ᵀ.
func denseEigen(t *testing.T, p *Pattern, k, b []float64) []float64 {
	t.Helper()
	var ch mat.Cholesky
	if !ch.Factorize(dense(p, k)) {
		t.Fatal("gonum finds K not positive definite")
	}
	var l mat.TriDense
	ch.LTo(&l)
	var half, full mat.Dense
	if err := half.Solve(&l, dense(p, b)); err != nil {
		t.Fatal(err)
	}
	if err := full.Solve(&l, half.T()); err != nil {
		t.Fatal(err)
	}
	c := mat.NewSymDense(p.N, nil)
	for i := range p.N {
		for j := range i + 1 {
			c.SetSym(i, j, (full.At(i, j)+full.At(j, i))/2)
		}
	}
	out := eigenvalues(t, c)
	for i, v := range out {
		out[i] = 1 / v
	}
	return out
}

// nearest sorts by distance and keeps those that keep allows.
func nearest(values []float64, n int, distance func(float64) float64) []float64 {
	out := slices.DeleteFunc(slices.Clone(values), func(v float64) bool { return distance(v) < 0 })
	slices.SortFunc(out, func(a, b float64) int {
		if distance(a) < distance(b) {
			return -1
		}
		return 1
	})
	return out[:min(n, len(out))]
}

func positive(v float64) float64 {
	if v > 1e12 {
		return -1 // the reciprocal of a rounded zero
	}
	return v
}

func assertValues(t *testing.T, what string, m *Modes, want []float64, tol float64) {
	t.Helper()
	if len(m.Values) != len(want) {
		t.Errorf("%s: %d modes %v, want %d: %v", what, len(m.Values), m.Values, len(want), want)
		return
	}
	for i, v := range want {
		if !(abs(m.Values[i]-v) <= tol*abs(v)) {
			t.Errorf("%s: mode %d is %.12g, want %.12g", what, i, m.Values[i], v)
		}
	}
	for i, r := range m.Residuals {
		if !(r <= 2e-6) { // the tolerance asked for is 1e-6 or less; the factor adds round-off
			t.Errorf("%s: mode %d has residual %.3g", what, i, r)
		}
	}
}

// randomSymmetric has entries of either sign: an indefinite B.
func randomSymmetric(norm func() float64, p *Pattern, k []float64) []float64 {
	b := make([]float64, len(k))
	for j := range p.N {
		for e := p.Ptr[j]; e < p.Ptr[j+1]; e++ {
			b[e] = norm() * math.Sqrt(k[p.Ptr[j]]*k[p.Ptr[p.Row[e]]])
		}
	}
	return b
}

func TestLowestAgainstDense(t *testing.T) {
	rng := newRand(71)
	var e Eigen
	for range 40 {
		p := randomPattern(rng, 1+rng.IntN(60), 4)
		k := dominant(rng, p)
		b := randomSymmetric(rng.NormFloat64, p, k)
		sym := Analyze(p)
		f, g := NewFactor(sym), NewFactor(sym)
		if err := f.Refactor(k); err != nil {
			t.Fatal(err)
		}
		all := denseEigen(t, p, k, b)
		n := 1 + rng.IntN(8)
		for _, want := range []Want{SmallestPositive, LeastMagnitude} {
			distance := positive
			if want == LeastMagnitude {
				distance = math.Abs
			}
			m, err := e.Lowest(f, k, b, EigenOptions{Modes: n, Want: want, Tol: 1e-8, Count: NewSturm(g, k, b).Negative})
			if err != nil {
				t.Fatal(err)
			}
			assertValues(t, "random pencil", m, nearest(all, n, distance), 1e-9)
			if !m.Proved && len(m.Values) > 0 {
				t.Errorf("not proved: %d missed", m.Missed)
			}
		}
	}
}

// chain is a string of n points between two supports with unit springs: λ_k = 4 sin²(kπ / (2(n+1))).
func chain(n int) (*Pattern, []float64) {
	p := NewPattern(n, func(yield func(i, j int) bool) {
		for i := 1; i < n; i++ {
			if !yield(i, i-1) {
				return
			}
		}
	})
	val := make([]float64, p.NNZ())
	for j := range n {
		val[p.Ptr[j]] = 2
		if j+1 < n {
			val[p.Ptr[j]+1] = -1
		}
	}
	return p, val
}

func chainValue(n, k int) float64 {
	s := math.Sin(float64(k) * math.Pi / (2 * float64(n+1)))
	return 4 * s * s
}

func identity(p *Pattern) []float64 {
	b := make([]float64, p.NNZ())
	for j := range p.N {
		b[p.Ptr[j]] = 1
	}
	return b
}

func TestChainClosedForm(t *testing.T) {
	const n = 500
	p, k := chain(n)
	b := identity(p)
	sym := Analyze(p)
	f, g := NewFactor(sym), NewFactor(sym)
	if err := f.Refactor(k); err != nil {
		t.Fatal(err)
	}
	var e Eigen
	m, err := e.Lowest(f, k, b, EigenOptions{Modes: 10, Tol: 1e-8, Count: NewSturm(g, k, b).Negative})
	if err != nil {
		t.Fatal(err)
	}
	want := make([]float64, 10)
	for i := range want {
		want[i] = chainValue(n, i+1)
	}
	assertValues(t, "chain", m, want, 1e-10)
	if !m.Proved {
		t.Error("not proved")
	}
	// In the middle of the spectrum, on both sides of a shift.
	shift := (chainValue(n, 200) + 2*chainValue(n, 201)) / 3
	shifted := append([]float64(nil), k...)
	shiftDiagonal(p, shifted, k, slices.Repeat([]float64{1}, n), -shift)
	if err := f.Refactor(shifted); err != nil {
		t.Fatal(err)
	}
	m, err = e.Near(f, k, b, shift, EigenOptions{Modes: 4, Count: NewSturm(g, k, b).Negative})
	if err != nil {
		t.Fatal(err)
	}
	assertValues(t, "inside", m, []float64{chainValue(n, 201), chainValue(n, 200), chainValue(n, 202), chainValue(n, 199)}, 1e-9)
	if !m.Proved {
		t.Error("inside: not proved")
	}
}

// Twelve chains that do not touch: every eigenvalue twelve times, more than a block holds.
func TestMultiplicity(t *testing.T) {
	const copies, n = 12, 30
	q, kq := chain(n)
	p := NewPattern(copies*n, func(yield func(i, j int) bool) {
		for c := range copies {
			for i := 1; i < n; i++ {
				if !yield(c*n+i, c*n+i-1) {
					return
				}
			}
		}
	})
	k := slices.Repeat(kq, copies)
	if len(k) != p.NNZ() || q.N != n {
		t.Fatal("copies do not fit")
	}
	b := identity(p)
	sym := Analyze(p)
	f, g := NewFactor(sym), NewFactor(sym)
	if err := f.Refactor(k); err != nil {
		t.Fatal(err)
	}
	var e Eigen
	for _, modes := range []int{5, 12, 15} {
		m, err := e.Lowest(f, k, b, EigenOptions{Modes: modes, Count: NewSturm(g, k, b).Negative})
		if err != nil {
			t.Fatal(err)
		}
		want := slices.Repeat([]float64{chainValue(n, 1)}, copies)
		want = append(want, chainValue(n, 2), chainValue(n, 2), chainValue(n, 2))
		assertValues(t, "multiple", m, want[:modes], 1e-9)
		if !m.Proved {
			t.Errorf("%d modes: not proved, %d missed", modes, m.Missed)
		}
	}
}

// A frame in tension everywhere does not buckle: B = -Kg is negative definite and no positive λ exists.
func TestNoPositiveEigenvalue(t *testing.T) {
	p, k := chain(200)
	b := identity(p)
	for i := range b {
		b[i] = -b[i]
	}
	sym := Analyze(p)
	f, g := NewFactor(sym), NewFactor(sym)
	if err := f.Refactor(k); err != nil {
		t.Fatal(err)
	}
	var e Eigen
	for _, upper := range []float64{0, 1000} {
		m, err := e.Lowest(f, k, b, EigenOptions{Modes: 3, Upper: upper, Count: NewSturm(g, k, b).Negative})
		if err != nil {
			t.Fatal(err)
		}
		if len(m.Values) != 0 || m.Proved != (upper > 0) {
			t.Errorf("limit %v: %v, proved %v", upper, m.Values, m.Proved)
		}
	}
}

// Upper cuts the list: the chain has exactly three values up to the fourth one less a little.
func TestUpperLimit(t *testing.T) {
	p, k := chain(100)
	b := identity(p)
	sym := Analyze(p)
	f, g := NewFactor(sym), NewFactor(sym)
	if err := f.Refactor(k); err != nil {
		t.Fatal(err)
	}
	var e Eigen
	m, err := e.Lowest(f, k, b, EigenOptions{Modes: 8, Upper: 0.999 * chainValue(100, 4), Count: NewSturm(g, k, b).Negative})
	if err != nil {
		t.Fatal(err)
	}
	assertValues(t, "limited", m, []float64{chainValue(100, 1), chainValue(100, 2), chainValue(100, 3)}, 1e-10)
	if !m.Proved {
		t.Error("not proved")
	}
}

// Euler's column, pinned at both ends: P = (kπ)² EI / L². Beam elements with the cubic geometric stiffness (J. S.
// Przemieniecki, Theory of Matrix Structural Analysis, 1968, ch. 15) are above it by about (kπ/m)⁴/720 for m elements.
func TestEulerColumn(t *testing.T) {
	const m, ei, length = 16, 3e6, 8.0
	p, k, b := eulerColumn(m, ei, length)
	sym := Analyze(p)
	f, g := NewFactor(sym), NewFactor(sym)
	if err := f.Refactor(k); err != nil {
		t.Fatal(err)
	}
	var e Eigen
	modes, err := e.Lowest(f, k, b, EigenOptions{Modes: 3, Upper: 1e9, Count: NewSturm(g, k, b).Negative})
	if err != nil {
		t.Fatal(err)
	}
	for i, v := range modes.Values {
		kp := float64(i+1) * math.Pi
		want := kp * kp * ei / (length * length)
		excess := math.Pow(kp/m, 4) / 720
		if over := v/want - 1; over < 0.5*excess-1e-9 || over > 1.5*excess+1e-9 {
			t.Errorf("mode %d: %.9g, Euler %.9g: above by %.3g, the elements' error is %.3g", i, v, want, over, excess)
		}
	}
	if !modes.Proved || len(modes.Values) != 3 {
		t.Errorf("proved %v, %d modes", modes.Proved, len(modes.Values))
	}
	// The shape is a sine: middle +-1, quarter point sqrt(1/2) of it. Freedoms are θ0, then w, θ at inner points.
	shape := modes.Vector(0)
	if r := shape[2*m/4-1] / shape[2*m/2-1]; abs(r-math.Sqrt(0.5)) > 1e-5 {
		t.Errorf("quarter point %.6f of the middle, want sqrt(1/2)", r)
	}
}

// eulerColumn returns K and -Kg for a unit axial compression; freedoms: rotation at the foot, then deflection and rotation
// of each inner point, then the rotation at the top.
func eulerColumn(m int, ei, length float64) (*Pattern, []float64, []float64) {
	l := length / float64(m)
	dof := func(point int) [2]int32 {
		switch point {
		case 0:
			return [2]int32{-1, 0}
		case m:
			return [2]int32{-1, int32(2*m - 1)}
		}
		return [2]int32{int32(2*point - 1), int32(2 * point)}
	}
	var cliques [][]int32
	for e := range m {
		a, b := dof(e), dof(e+1)
		cliques = append(cliques, []int32{a[0], a[1], b[0], b[1]})
	}
	p := NewPatternFromCliques(2*m, cliques)
	k, g := make([]float64, p.NNZ()), make([]float64, p.NNZ())
	elastic := []float64{12, 6 * l, -12, 6 * l, 6 * l, 4 * l * l, -6 * l, 2 * l * l, -12, -6 * l, 12, -6 * l, 6 * l, 2 * l * l, -6 * l, 4 * l * l}
	geometric := []float64{36, 3 * l, -36, 3 * l, 3 * l, 4 * l * l, -3 * l, -l * l, -36, -3 * l, 36, -3 * l, 3 * l, -l * l, -3 * l, 4 * l * l}
	for _, c := range cliques {
		addDense(p, k, c, elastic, ei/(l*l*l))
		addDense(p, g, c, geometric, 1/(30*l))
	}
	return p, k, g
}

// A shed that is held nowhere has exactly the six motions of a rigid body, whatever its flexibility.
func TestSoftestFindsRigidBodyMotions(t *testing.T) {
	s := newShed(3)
	for i := range s.dof {
		for c := range s.dof[i] {
			s.dof[i][c] = int32(6*i + c)
		}
	}
	n := 6 * len(s.dof)
	s.assemble(n)
	var e Eigen
	m, soft, err := e.Softest(NewFactor(Analyze(s.pattern)), s.val, 7, 1e-11)
	if err != nil {
		t.Fatal(err)
	}
	if soft != 6 {
		t.Errorf("%d modes below 1e-11, want the 6 of a rigid body", soft)
	}
	for i, v := range m.Values {
		if (abs(v) < 1e-12) != (i < 6) {
			t.Errorf("mode %d has λ = %.3g", i, v)
		}
	}
	assertRigid(t, s, m)
}

// assertRigid checks that in each null mode no bar changes its length.
func assertRigid(t *testing.T, s *shed, m *Modes) {
	t.Helper()
	for i := range 6 {
		x := m.Vector(i)
		for _, b := range s.bars {
			p, q := s.joints[b[0]], s.joints[b[1]]
			l := dist(p, q)
			var stretch float64
			for c := range 3 {
				stretch += (q[c] - p[c]) / l * (x[s.dof[b[1]][c]] - x[s.dof[b[0]][c]])
			}
			if abs(stretch) > 1e-6 {
				t.Fatalf("mode %d stretches bar %v by %.3g", i, b, stretch)
			}
		}
	}
}

func TestSoftestAgainstDense(t *testing.T) {
	s := newShed(2)
	var e Eigen
	m, soft, err := e.Softest(NewFactor(Analyze(s.pattern)), s.val, 6, 1e-9)
	if err != nil {
		t.Fatal(err)
	}
	d := diagonalScale(s.pattern, s.val)
	a := dense(s.pattern, s.val)
	for i := range s.pattern.N {
		for j := range i + 1 {
			a.SetSym(i, j, a.At(i, j)/math.Sqrt(d[i]*d[j]))
		}
	}
	assertValues(t, "softest of a standing shed", m, eigenvalues(t, a)[:6], 1e-7)
	if soft != 0 {
		t.Errorf("%d modes below 1e-9 in a shed that stands", soft)
	}
}

// Freedoms without any stiffness, many of them, are all counted.
func TestSoftestCountsFreeRotations(t *testing.T) {
	p := gridPattern(2, 3)
	val := dominant(newRand(73), p)
	for j := range p.N {
		for e := p.Ptr[j]; e < p.Ptr[j+1]; e++ {
			if j%6 > 3 || p.Row[e]%6 > 3 {
				val[e] = 0
			}
		}
	}
	var e Eigen
	m, soft, err := e.Softest(NewFactor(Analyze(p)), val, 12, 1e-10)
	if err != nil {
		t.Fatal(err)
	}
	if soft != 12 || len(m.Values) != 12 || abs(m.Values[11]) > 1e-13 {
		t.Errorf("%d soft modes, values %v; want 12 of zero", soft, m.Values)
	}
}

func TestEigenIsDeterministic(t *testing.T) {
	s := newShed(4)
	b := randomSymmetric(newRand(74).NormFloat64, s.pattern, s.val)
	f := NewFactor(Analyze(s.pattern))
	if err := f.Refactor(s.val); err != nil {
		t.Fatal(err)
	}
	var used, fresh Eigen
	other, k := chain(700)
	g := NewFactor(Analyze(other))
	if err := g.Refactor(k); err != nil {
		t.Fatal(err)
	}
	if _, err := used.Lowest(g, k, identity(other), EigenOptions{Modes: 9}); err != nil {
		t.Fatal(err)
	}
	m1, err1 := used.Lowest(f, s.val, b, EigenOptions{Modes: 4})
	m2, err2 := fresh.Lowest(f, s.val, b, EigenOptions{Modes: 4})
	if err1 != nil || err2 != nil {
		t.Fatal(err1, err2)
	}
	assertSameBits(t, "values", m1.Values, m2.Values)
	assertSameBits(t, "vectors", m1.Vectors, m2.Vectors)
}

func TestLowestRefusesIndefinite(t *testing.T) {
	p, k := chain(5)
	k[0] = -1
	f := NewFactor(Analyze(p))
	if err := f.Refactor(k); err != nil {
		t.Fatal(err)
	}
	var e Eigen
	if _, err := e.Lowest(f, k, identity(p), EigenOptions{}); err != ErrNotDefinite {
		t.Errorf("%v, want ErrNotDefinite", err)
	}
}
