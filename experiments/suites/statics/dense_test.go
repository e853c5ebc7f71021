package statics

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// TestDenseBeam holds the dense routine itself to beam formulas, so that a second opinion is one.
func TestDenseBeam(t *testing.T) {
	const l, p = 6.0, 40e3
	f := span(l, planeSection, fixedEnd, freeEnd)
	f.load("a", "linear").force(2, 0, 0, -p)
	f.load("s", "second_order").force(2, -1e6, 0, -p)
	a, err := reference(f, "a", false, false)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := a.disp(2, "uz"), -p*l*l*l/(3*planeSection.eiz()); math.Abs(got/want-1) > 1e-9 {
		t.Errorf("tip %g, want %g (PL³/3EI)", got, want)
	}
	if got := a.force("m", "i", "Mz"); math.Abs(got/(p*l)-1) > 1e-9 {
		t.Errorf("root moment %g, want %g", got, p*l)
	}
	b, err := reference(f, "s", true, false)
	if err != nil {
		t.Fatal(err)
	}
	k := math.Sqrt(1e6 / planeSection.eiz())
	if got, want := b.force("m", "i", "Mz"), p*math.Tan(k*l)/k; math.Abs(got/want-1) > 1e-6 {
		t.Errorf("second-order root moment %g, want %g (P tan(kL)/k)", got, want)
	}
}

// TestDenseBuckling compares the count of negative pivots with gonum's eigenvalues of the same matrices: K x = λ(-Kg)x as a
// symmetric problem by K's Cholesky factor.
func TestDenseBuckling(t *testing.T) {
	f := gable(20, 6, 2, planeSection, planeSection.times(0.8), pinned)
	f.load("b", "buckling").udl("rafter left", 0, 0, -6e3).udl("rafter right", 0, 0, -6e3)
	d, err := read(f, "b")
	if err != nil {
		t.Fatal(err)
	}
	d.cuts = 1 // no inner freedoms: the stiffness is linear in λ
	for e := range d.axial {
		d.axial[e] = d.axial[e][:1]
	}
	if _, ok := d.settle(false); !ok {
		t.Fatal("it does not stand")
	}
	k0, _, _, _ := d.assemble(0)
	k1, _, _, _ := d.assemble(1)
	var chol mat.Cholesky
	if !chol.Factorize(k0) {
		t.Fatal("K is not definite")
	}
	var l mat.TriDense
	chol.LTo(&l)
	var g, x, y mat.Dense
	g.Sub(k0, k1) // -Kg
	if err := x.Solve(&l, &g); err != nil {
		t.Fatal(err)
	}
	if err := y.Solve(&l, x.T()); err != nil {
		t.Fatal(err)
	}
	sym := mat.NewSymDense(d.n, nil)
	for i := range d.n {
		for j := range i + 1 {
			sym.SetSym(i, j, 0.5*(y.At(i, j)+y.At(j, i)))
		}
	}
	var eig mat.EigenSym
	if !eig.Factorize(sym, false) {
		t.Fatal("no eigenvalues")
	}
	mu := eig.Values(nil)
	for m := range 3 {
		want := 1 / mu[len(mu)-1-m]
		if lo, hi := d.below(want*(1-1e-7)), d.below(want*(1+1e-7)); lo != m || hi != m+1 {
			t.Errorf("mode %d at %g by eigenvalues: counts %d and %d beside it", m+1, want, lo, hi)
		}
	}
}

// TestHeavyColumns holds the power series to published figures: Timoshenko and Gere, 2.12, give 7.837 for the cantilever;
// Duan and Wang, Exact solutions for buckling of columns including self-weight, J. Eng. Mech. 134 (2008), Table 1, the rest.
func TestHeavyColumns(t *testing.T) {
	for _, c := range []struct {
		foot, top string
		want      float64
	}{{"fixed", "free", 7.837}, {"pinned", "pinned", 18.569}, {"fixed", "pinned", 52.501}, {"fixed", "fixed", 74.629}} {
		if got := heavyColumn(c.foot, c.top); math.Abs(got-c.want) > 6e-4 {
			t.Errorf("%s-%s: %.4f, want %.3f", c.foot, c.top, got, c.want)
		}
	}
}

// TestStabilityFunctions holds them to values of Livesley and Chandler's tables: at P = Euler's load s = 2.4674 (π²/4), sc =
// 2.4674; at zero 4 and 2.
func TestStabilityFunctions(t *testing.T) {
	for _, c := range []struct{ u, s, sc float64 }{{0, 4, 2}, {1e-2, 4 - 2.0/15*1e-4, 2 + 1.0/30*1e-4}, {math.Pi, math.Pi * math.Pi / 4, math.Pi * math.Pi / 4}} {
		if s, sc := stabilityS(c.u), stabilitySC(c.u); math.Abs(s-c.s) > 1e-6 || math.Abs(sc-c.sc) > 1e-6 {
			t.Errorf("u = %g: s %g, sc %g; want %g, %g", c.u, s, sc, c.s, c.sc)
		}
	}
}
