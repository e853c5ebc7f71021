package frame

import (
	"testing"

	"leanbay/solver"
)

// quickAnswers are the quick answers of all combinations of a structure, in second order with rods, and the workspace that gave them.
func quickAnswers(t *testing.T, s *solver.Structure) (*Workspace, []Result) {
	t.Helper()
	w := workspace(t, s)
	w.Quick = true
	if err := w.Load(s); err != nil {
		t.Fatal(err)
	}
	rs := make([]Result, len(s.Combinations))
	if err := w.AnalyseEach(s.Combinations, TensionOnlySecondOrder, rs, func(int) bool { return false }); err != nil {
		t.Fatal(err)
	}
	return w, rs
}

// TestLanesServe: combinations of a shed are answered side by side, and none by itself.
func TestLanesServe(t *testing.T) {
	s := shed(4)
	w, rs := quickAnswers(t, s)
	if !w.so.abreast.serves {
		t.Error("lanes do not know the elements of a shed")
	}
	if n := w.so.sharing.single; n != 0 {
		t.Errorf("%d of %d combinations were answered by themselves", n, len(rs))
	}
}

// TestBarMargin: what a bar's axial force adds to the stiffness is its mean over the length, however it varies: a straight bar of length L
// that turns by θ takes up ½∫N dx θ² = ½ N_mean L θ². So the margin of an answer above its factor is that of the mean, and none where the bar is slack.
func TestBarMargin(t *testing.T) {
	sc := make([]float64, scNumbers)
	sc[0], sc[4], sc[8], sc[scStretch], sc[scInverse] = 1, 1, 1, 1000, 0.5 // N/m and 1/m
	rows := func(n int) []row8 { return make([]row8, n) }
	u, v, sums, act, acc, ends, g := rows(6), rows(6), rows(sumRows), rows(actRows), rows(accRows), rows(12), rows(12)
	for l := range lanes {
		v[0][l] = 0.005 // m: 5 N
		sums[sumSwing][l] = 10
		act[actLow][l] = 2
		if l%2 == 0 {
			act[0][l] = 1
		}
		acc[accMargin][l] = 100
	}
	barLanes(sc, u, v, sums, act, acc, ends, g[:6], g[6:])
	for l, m := range acc[accMargin] {
		want := 0.0
		if act[0][l] == 1 {
			want = 5 - 2
		}
		if d := m - want; d > 1e-12 || d < -1e-12 {
			t.Errorf("lane %d: margin %g N, want %g", l, m, want)
		}
	}
}
