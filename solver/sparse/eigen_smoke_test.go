package sparse

import (
	"math"
	"testing"
)

func TestEigenSmoke(t *testing.T) {
	s := newShed(12)
	sym := Analyze(s.pattern)
	f, g := NewFactor(sym), NewFactor(sym)
	if err := f.Refactor(s.val); err != nil {
		t.Fatal(err)
	}
	// mass = lumped
	b := make([]float64, len(s.val))
	for j := range s.pattern.N {
		b[s.pattern.Ptr[j]] = 100
	}
	var e Eigen
	m, err := e.Lowest(f, s.val, b, EigenOptions{Modes: 6, Count: NewSturm(g, s.val, b).Negative})
	if err != nil {
		t.Fatal(err)
	}
	t.Log(m.Values, m.Residuals, m.Solves, m.Proved, m.Missed)
	for j := range s.pattern.N {
		b[s.pattern.Ptr[j]] = 100 * math.Sin(float64(j))
	}
	for _, w := range []Want{SmallestPositive, LeastMagnitude} {
		m, err = e.Lowest(f, s.val, b, EigenOptions{Modes: 6, Want: w, Count: NewSturm(g, s.val, b).Negative})
		if err != nil {
			t.Fatal(err)
		}
		t.Log(m.Values, m.Residuals, m.Solves, m.Proved, m.Missed)
	}
	mm, soft, err := e.Softest(g, s.val, 5, 1e-6)
	if err != nil {
		t.Fatal(err)
	}
	t.Log(mm.Values, mm.Residuals, mm.Solves, soft)
}
