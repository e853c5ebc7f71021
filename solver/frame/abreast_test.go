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
