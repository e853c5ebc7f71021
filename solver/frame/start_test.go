package frame

import (
	"math"
	"testing"

	"leanbay/solver"
)

// startedWorkspace is one with s loaded whose careful answers start from quick ones.
func startedWorkspace(t *testing.T, s *solver.Structure) *Workspace {
	w := workspace(t, s)
	w.StartQuick = true
	return w
}

// sameStarted holds answers that start from quick ones to those that do not: stability and notes agree, and displacements and end forces of
// the stable ones to 1e-8 of the greatest of their kind, since both leave 1e-10 of the greatest force out of balance. It returns how
// many are stable.
func sameStarted(t *testing.T, name string, w, alone *Workspace, cs []solver.Combination, kind Analysis) (stable int) {
	t.Helper()
	rs := make([]Result, len(cs))
	if err := w.AnalyseEach(cs, kind, rs, func(int) bool { return false }); err != nil {
		t.Fatal(err)
	}
	var want Result
	for i := range cs {
		if err := alone.Analyse(&cs[i], kind, &want); err != nil {
			t.Fatal(err)
		}
		r := &rs[i]
		if r.Stable != want.Stable || len(r.Mechanisms) != len(want.Mechanisms) {
			t.Errorf("%s, combination %d: started %v %v, by itself %v %v", name, i, r.Stable, r.Notes, want.Stable, want.Notes)
			continue
		}
		if !r.Stable {
			continue
		}
		stable++
		var far, size [2]float64
		for k := range r.U {
			far[0], size[0] = max(far[0], math.Abs(r.U[k]-want.U[k])), max(size[0], math.Abs(want.U[k]))
		}
		for e := range r.Ends {
			for k := range r.Ends[e] {
				far[1], size[1] = max(far[1], math.Abs(r.Ends[e][k]-want.Ends[e][k])), max(size[1], math.Abs(want.Ends[e][k]))
			}
		}
		if !(far[0] <= 1e-8*size[0] && far[1] <= 1e-8*size[1]) {
			t.Errorf("%s, combination %d: displacements differ by %.2g of the greatest, end forces by %.2g", name, i, far[0]/size[0], far[1]/size[1])
		}
		if r.Residual > balanceNote {
			t.Errorf("%s, combination %d: out of balance by %.2g", name, i, r.Residual)
		}
	}
	return stable
}

// TestStartedAnswers: careful answers that start from quick ones are those that do not, in sheds on rods, in towers and frames at random
// (arms, releases, springs, shear deformation, which quick answers do not know side by side), with the loads as they are and growing
// through the critical ones.
func TestStartedAnswers(t *testing.T) {
	s := shed(4)
	w, alone := startedWorkspace(t, s), workspace(t, s)
	for _, kind := range []Analysis{SecondOrder, TensionOnlySecondOrder} {
		if n := sameStarted(t, "shed", w, alone, s.Combinations, kind); n != len(s.Combinations) || w.start.taken == 0 {
			t.Errorf("%v: %d of %d are stable, %d came of their start", kind, n, len(s.Combinations), w.start.taken)
		}
	}
	taken := w.start.taken
	if n := 2 * len(s.Combinations); taken != n {
		t.Errorf("%d of %d answers came of their start", taken, n)
	}
	if n := sameStarted(t, "loads that grow", w, alone, growing(s), TensionOnlySecondOrder); n < 5 || n > 35 {
		t.Errorf("%d of 40 are stable: the loads do not pass the critical ones", n)
	}
	for seed := range 12 {
		for name, b := range map[string]*build{"tower": randomTower(seed), "frame": randomFrame(seed)} {
			st := &b.s
			if len(st.Combinations) == 0 {
				var terms []solver.Term
				for c := range st.Cases {
					terms = append(terms, solver.Term{Case: c, Factor: 1})
				}
				st.Combinations = []solver.Combination{{ID: "all", Terms: terms}}
			}
			sameStarted(t, name, startedWorkspace(t, st), workspace(t, st), st.Combinations, TensionOnlySecondOrder)
		}
	}
}

// TestStartless: where quick answers are not to be had, each combination is analysed by itself, to the bit.
func TestStartless(t *testing.T) {
	s := shed(3)
	w, alone := startedWorkspace(t, s), workspace(t, s)
	var r, want Result
	var none Result
	for i := range s.Combinations {
		c := &s.Combinations[i]
		if err := w.analyseFrom(&none, c, TensionOnlySecondOrder, &r); err != nil {
			t.Fatal(err)
		}
		if err := alone.Analyse(c, TensionOnlySecondOrder, &want); err != nil {
			t.Fatal(err)
		}
		for k := range want.U {
			if r.U[k] != want.U[k] {
				t.Fatalf("combination %d: freedom %d moves by %g instead of %g", i, k, r.U[k], want.U[k])
			}
		}
	}
	if w.start.taken != 0 {
		t.Errorf("%d answers came of a start", w.start.taken)
	}
}

// growing is 40 combinations whose loads pass the critical ones.
func growing(s *solver.Structure) (cs []solver.Combination) {
	for k := range 40 {
		c := solver.Combination{}
		for _, term := range s.Combinations[k%4].Terms {
			c.Terms = append(c.Terms, solver.Term{Case: term.Case, Factor: term.Factor * (1 + 0.9*float64(k))})
		}
		cs = append(cs, c)
	}
	return cs
}
