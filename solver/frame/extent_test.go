package frame

import (
	"math"
	"testing"

	"leanbay/solver"
)

// TestExtentBoundsDiagram: no force of the exact curve along a member exceeds the bound from a second-order answer, quick or careful, and
// the bounds of moments that matter are no more than a tenth above it on average, or nothing would be passed over.
func TestExtentBoundsDiagram(t *testing.T) {
	s := shed(4)
	s.Cases[2].Point[3].M.X = 2500 // a couple
	for _, quick := range []bool{true, false} {
		rs := answersOneByOne(t, s, quick)
		var d solver.Diagram
		slack, counted := 0.0, 0
		for i := range rs {
			for m := range s.Members {
				x := rs[i].Extent(m)
				rs[i].Diagram(m, &d)
				got := extentOf(&d)
				for k, pair := range pairs(&x, &got) {
					if !(pair[1] <= pair[0]+1e-6) {
						t.Errorf("combination %d, member %d, component %d, quick %v: bound %g, curve %g", i, m, k, quick, pair[0], pair[1])
					}
				}
				if top := max(got.Mz[0], got.Mz[1]); top > 10e3 {
					slack += max(x.Mz[0], x.Mz[1])/top - 1
					counted++
				}
			}
		}
		if mean := slack / float64(counted); counted < 100 || mean > 0.1 {
			t.Errorf("quick %v: bounds of %d moments lie %.3f above them on average", quick, counted, mean)
		}
	}
}

// answersOneByOne are those of second order to all combinations, which must stand.
func answersOneByOne(t *testing.T, s *solver.Structure, quick bool) []Result {
	t.Helper()
	w := workspace(t, s)
	w.Quick = quick
	if err := w.Load(s); err != nil {
		t.Fatal(err)
	}
	rs := make([]Result, len(s.Combinations))
	for i := range s.Combinations {
		if err := w.Analyse(&s.Combinations[i], TensionOnlySecondOrder, &rs[i]); err != nil || !rs[i].Stable {
			t.Fatal(err, rs[i].Notes)
		}
	}
	return rs
}

// TestRoughExtentBoundsDiagram: likewise for the bounds of combinations that were answered side by side, which may lie further above.
func TestRoughExtentBoundsDiagram(t *testing.T) {
	s := shed(4)
	s.Cases[2].Point[3].M.X = 2500 // a couple, of which they know nothing
	_, rs := quickAnswers(t, s)
	var d solver.Diagram
	slack, counted, none := 0.0, 0, 0
	for i := range rs {
		for m := range s.Members {
			if len(rs[i].rough) == 0 || rs[i].rough[m] == unbounded {
				none++
				continue
			}
			x := rs[i].RoughExtent(m)
			rs[i].Diagram(m, &d)
			got := extentOf(&d)
			for k, pair := range pairs(&x, &got) {
				if !(pair[1] <= pair[0]+1e-6) {
					t.Errorf("combination %d, member %d, component %d: bound %g, curve %g", i, m, k, pair[0], pair[1])
				}
			}
			if top := max(got.Mz[0], got.Mz[1]); top > 10e3 {
				slack += max(x.Mz[0], x.Mz[1])/top - 1
				counted++
			}
		}
	}
	mean := slack / float64(counted)
	t.Logf("%d moments bounded %.3f above on average, %d members without bounds", counted, mean, none)
	if counted < 50 || mean > 0.3 || 4*none > 3*len(rs)*len(s.Members) {
		t.Errorf("bounds of %d moments lie %.3f above them on average, %d members have none", counted, mean, none)
	}
}

// TestNearEndsBoundDiagram: no moment of the curve within reach of a member's ends exceeds the bound there, which is far below that of
// the whole member for one in ten.
func TestNearEndsBoundDiagram(t *testing.T) {
	s := shed(4)
	s.Cases[2].Point[3].M.X = 2500 // a couple, of which they know nothing
	_, rs := quickAnswers(t, s)
	var d solver.Diagram
	lower, counted := 0, 0
	for i := range rs {
		for m := range s.Members {
			x := rs[i].RoughExtent(m)
			rs[i].Diagram(m, &d)
			reach := [2]float64{d.Length / 20, d.Length / 30}
			near := rs[i].NearEnds(m, reach, &x)
			for k := range 21 {
				at := float64(k) / 20
				for end, f := range [2]solver.Forces{d.At(at * reach[0]), d.At(d.Length - at*reach[1])} {
					if mz := f[solver.Mz]; !(mz <= near[end][0]+1e-6 && -mz <= near[end][1]+1e-6) {
						t.Errorf("combination %d, member %d, end %d: bounds %v, curve %g", i, m, end, near[end], mz)
					}
				}
			}
			for end := range near {
				for sign, most := range x.Mz {
					if most > 10e3 && !math.IsInf(most, 1) {
						counted++
						if near[end][sign] < 0.8*most {
							lower++
						}
					}
				}
			}
		}
	}
	t.Logf("of %d bounds %d are lower by a fifth near the ends", counted, lower)
	if counted < 100 || 10*lower < counted {
		t.Errorf("of %d bounds %d are lower by a fifth near the ends", counted, lower)
	}
}

// TestWidestKeepsWhatIsNoNumber: a bound that is no number is none for all answers together either, whatever comes before and after it.
func TestWidestKeepsWhatIsNoNumber(t *testing.T) {
	for at := range 3 {
		var x Extent
		for i := range 3 {
			o := Extent{Tension: float64(i), Mz: [2]float64{float64(i), 2}}
			if i == at {
				o.Tension, o.Mz[1] = math.NaN(), math.NaN()
			}
			x.widen(&o)
		}
		if !math.IsNaN(x.Tension) || !math.IsNaN(x.Mz[1]) || x.Mz[0] != 2 {
			t.Errorf("no number as number %d of three: together %+v", at, x)
		}
	}
}

// extentOf reads the extremes of a curve.
func extentOf(d *solver.Diagram) (x Extent) {
	for _, s := range d.Extremes(nil) {
		f := &s.Forces
		x.Tension, x.Compression = max(x.Tension, f[solver.N]), max(x.Compression, -f[solver.N])
		x.Vy, x.Vz, x.T = max(x.Vy, math.Abs(f[solver.Vy])), max(x.Vz, math.Abs(f[solver.Vz])), max(x.T, math.Abs(f[solver.T]))
		x.Mz[0], x.Mz[1] = max(x.Mz[0], f[solver.Mz]), max(x.Mz[1], -f[solver.Mz])
		x.My[0], x.My[1] = max(x.My[0], f[solver.My]), max(x.My[1], -f[solver.My])
	}
	return x
}

func pairs(a, b *Extent) [9][2]float64 {
	return [9][2]float64{{a.Tension, b.Tension}, {a.Compression, b.Compression}, {a.Vy, b.Vy}, {a.Vz, b.Vz}, {a.T, b.T},
		{a.My[0], b.My[0]}, {a.My[1], b.My[1]}, {a.Mz[0], b.Mz[0]}, {a.Mz[1], b.Mz[1]}}
}

// TestQuickAnswers: quick second order is within 1e-5 of the strict one, displacements and end forces relative to the greatest
// of their kind.
func TestQuickAnswers(t *testing.T) {
	s := shed(4)
	strict, quick := workspace(t, s), workspace(t, s)
	quick.Quick = true
	if err := quick.Load(s); err != nil {
		t.Fatal(err)
	}
	var a Result
	each := make([]Result, len(s.Combinations))
	for _, kind := range []Analysis{SecondOrder, TensionOnlySecondOrder} {
		answered := 0
		if err := quick.AnalyseEach(s.Combinations, kind, each, func(int) bool { answered++; return false }); err != nil {
			t.Fatal(err)
		}
		if answered != len(each) {
			t.Errorf("%d of %d combinations were answered", answered, len(each))
		}
		for i := range s.Combinations {
			b := &each[i]
			if err := strict.Analyse(&s.Combinations[i], kind, &a); err != nil {
				t.Fatal(err)
			}
			if a.Stable != b.Stable {
				t.Fatalf("combination %d: strict %v, quick %v", i, a.Stable, b.Stable)
			}
			far, size := 0.0, 0.0
			for e := range a.Ends {
				for c := range a.Ends[e] {
					far, size = max(far, math.Abs(a.Ends[e][c]-b.Ends[e][c])), max(size, math.Abs(a.Ends[e][c]))
				}
			}
			if far > 1e-5*size {
				t.Errorf("combination %d, %v: end forces differ by %g of the greatest", i, kind, far/size)
			}
			far, size = 0, 0
			for k := range a.U {
				far, size = max(far, math.Abs(a.U[k]-b.U[k])), max(size, math.Abs(a.U[k]))
			}
			if far > 1e-4*size {
				t.Errorf("combination %d, %v: displacements differ by %g of the greatest", i, kind, far/size)
			}
		}
	}
}

// TestQuickStability: as loads grow through the critical ones, quick answers are stable where strict ones are, and answers stop
// where they are told to.
func TestQuickStability(t *testing.T) {
	s := shed(3)
	strict, quick := workspace(t, s), workspace(t, s)
	quick.Quick = true
	if err := quick.Load(s); err != nil {
		t.Fatal(err)
	}
	cs := growing(s)
	each := make([]Result, len(cs))
	if err := quick.AnalyseEach(cs, TensionOnlySecondOrder, each, func(int) bool { return false }); err != nil {
		t.Fatal(err)
	}
	var r Result
	stable := 0
	for i := range cs {
		if err := strict.Analyse(&cs[i], TensionOnlySecondOrder, &r); err != nil {
			t.Fatal(err)
		}
		if r.Stable != each[i].Stable {
			t.Errorf("combination %d: strict %v %v, quick %v %v", i, r.Stable, r.Notes, each[i].Stable, each[i].Notes)
		}
		if r.Stable {
			stable++
		}
	}
	if stable < 5 || stable > 35 {
		t.Errorf("%d of %d are stable: the loads do not pass the critical ones", stable, len(cs))
	}
	count := 0
	if err := quick.AnalyseEach(cs, TensionOnlySecondOrder, each, func(int) bool { count++; return count == 3 }); err != nil || count != 3 {
		t.Errorf("stopped after %d: %v", count, err)
	}
}
