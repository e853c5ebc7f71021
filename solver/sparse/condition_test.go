package sparse

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// exactCondition is the 1-norm condition number of the scaled matrix by gonum's dense inverse.
func exactCondition(t *testing.T, p *Pattern, val []float64) float64 {
	t.Helper()
	s := make([]float64, p.N)
	p.rootScale(s, val)
	a := mat.NewDense(p.N, p.N, nil)
	for i := range p.N {
		for j := range p.N {
			if e := p.Index(i, j); e >= 0 {
				a.Set(i, j, val[e]*s[i]*s[j])
			}
		}
	}
	var inv mat.Dense
	if err := inv.Inverse(a); err != nil {
		t.Logf("gonum: %v", err) // it warns of bad conditioning
	}
	return mat.Norm(a, 1) * mat.Norm(&inv, 1)
}

func TestConditionAgainstDenseInverse(t *testing.T) {
	rng := newRand(81)
	for trial := range 80 {
		p := randomPattern(rng, 1+rng.IntN(50), rng.IntN(6))
		val := dominant(rng, p)
		if trial%2 == 0 {
			val, _ = quasiDefinite(rng, p)
		}
		f := NewFactor(Analyze(p))
		if err := f.Refactor(val); err != nil {
			t.Fatal(err)
		}
		exact := exactCondition(t, p, val)
		if got := f.Condition(val, nil); got > exact*(1+1e-9) || got < exact/3 {
			t.Errorf("n=%d: estimate %.4g, exact %.4g; want at most that and at least a third", p.N, got, exact)
		}
	}
	s := newShed(2)
	f := NewFactor(Analyze(s.pattern))
	if err := f.Refactor(s.val); err != nil {
		t.Fatal(err)
	}
	exact := exactCondition(t, s.pattern, s.val)
	if got := f.Condition(s.val, nil); got > exact*1.001 || got < exact/3 {
		t.Errorf("shed: estimate %.4g, exact %.4g", got, exact)
	}
}

// A chain of n unit springs, held at one end by one more: K⁻¹ has entries min(i, j), so its 1-norm is n(n+1)/2; the scaled
// matrix has half of K's off-diagonals and, at the free end, sqrt(1/2).
func TestConditionOfChain(t *testing.T) {
	const n = 100
	p, val := chain(n)
	val[p.Ptr[n-1]] = 1
	f := NewFactor(Analyze(p))
	if err := f.Refactor(val); err != nil {
		t.Fatal(err)
	}
	// Column j of the scaled inverse is sum over i of min(i, j) r_i r_j with r = sqrt 2 but 1 at the free end.
	r := func(i int) float64 {
		if i == n {
			return 1
		}
		return math.Sqrt2
	}
	var inverse float64
	for j := 1; j <= n; j++ {
		var sum float64
		for i := 1; i <= n; i++ {
			sum += float64(min(i, j)) * r(i) * r(j)
		}
		inverse = max(inverse, sum)
	}
	norm := 1 + 0.5 + math.Sqrt(0.5) // the last column but one
	if got, want := f.Condition(val, make([]float64, 3*n)), norm*inverse; got > want*(1+1e-9) || got < want/3 {
		t.Errorf("estimate %.6g, closed form %.6g", got, want)
	}
}

func TestConditionDoesNotAllocate(t *testing.T) {
	s := newShed(2)
	f := NewFactor(Analyze(s.pattern))
	if err := f.Refactor(s.val); err != nil {
		t.Fatal(err)
	}
	work := make([]float64, 3*s.pattern.N)
	if got := testing.AllocsPerRun(5, func() { f.Condition(s.val, work) }); got != 0 {
		t.Errorf("Condition allocates %v times", got)
	}
}
