package frame

import "testing"

// TestLanesServe: combinations of a shed are answered side by side; by themselves only those in which slack rods alone hold a
// motion, half of all in this one.
func TestLanesServe(t *testing.T) {
	s := shed(4)
	w := workspace(t, s)
	w.Quick = true
	if err := w.Load(s); err != nil {
		t.Fatal(err)
	}
	rs := make([]Result, len(s.Combinations))
	if err := w.AnalyseEach(s.Combinations, TensionOnlySecondOrder, rs, func(int) bool { return false }); err != nil {
		t.Fatal(err)
	}
	if !w.so.abreast.serves {
		t.Error("lanes do not know the elements of a shed")
	}
	if left := len(w.so.sharing.left); 2*left > len(rs) {
		t.Errorf("%d of %d combinations were answered by themselves", left, len(rs))
	}
}
