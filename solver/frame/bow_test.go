package frame

import (
	"math"
	"testing"

	"leanbay/solver"
)

// TestBowsBoundDiagram: the exact curve of a member lies within the bounds of its bows from a quick or careful answer, which leave open a
// small part of the greatest one on average, or no curve would be passed over; rough ones leave open more.
func TestBowsBoundDiagram(t *testing.T) {
	for _, tt := range []struct {
		name  string
		quick bool
		bows  func(r *Result, m int, dst []Bow) []Bow
		least int     // members with bounds
		most  float64 // left open on average
	}{
		{"bows", true, (*Result).Bows, 50, 0.1}, {"bows, carefully", false, (*Result).Bows, 50, 0.1}, {"rough bows", true, (*Result).RoughBows, 50, 1.5},
	} {
		s := shed(4)
		s.Cases[2].Point[3].M.X = 2500 // a couple
		rs := answersOneByOne(t, s, false)
		if tt.quick {
			_, rs = quickAnswers(t, s)
		}
		var d solver.Diagram
		var list []Bow
		slack, counted := 0.0, 0
		for i := range rs {
			for m := range s.Members {
				if list = tt.bows(&rs[i], m, list[:0]); len(list) == 0 || math.IsInf(list[0].Off, 1) {
					continue
				}
				rs[i].Diagram(m, &d)
				most, off := holdBows(t, &d, list)
				if most > 2e-3 {
					slack += off / most
					counted++
				}
			}
		}
		mean := slack / float64(counted)
		t.Logf("%s of %d members: %.4f of the greatest left open on average", tt.name, counted, mean)
		if counted < tt.least || mean > tt.most {
			t.Errorf("%s: bounds of %d members leave open %.3f of the greatest on average", tt.name, counted, mean)
		}
	}
}

// holdBows holds a member's curve to bounds of its bow, and returns its greatest bow and the most that is left open (m).
func holdBows(t *testing.T, d *solver.Diagram, list []Bow) (most, off float64) {
	t.Helper()
	for k := range list[1:] {
		a, b := &list[k], &list[k+1]
		for part := range 9 {
			f := float64(part) / 8
			y, _ := d.ChordDeflection(a.X + f*(b.X-a.X))
			if bound := min(a.Off, b.Off) + 1e-12; !(math.Abs(y-(1-f)*a.Y-f*b.Y) <= bound) {
				t.Errorf("at %.3f m: %.9f m beside %.9f and %.9f, bound %.2g", a.X+f*(b.X-a.X), y, a.Y, b.Y, bound)
			}
			most = max(most, math.Abs(y))
		}
		off = max(off, a.Off, b.Off)
	}
	return most, off
}

// TestMomentsBoundDiagram: likewise for moments along members.
func TestMomentsBoundDiagram(t *testing.T) {
	s := shed(4)
	_, quick := quickAnswers(t, s)
	for _, rs := range [][]Result{quick, answersOneByOne(t, s, false)} {
		holdMoments(t, s, rs)
	}
}

// holdMoments holds the moments of members in some answers to bounds.
func holdMoments(t *testing.T, s *solver.Structure, rs []Result) {
	t.Helper()
	var d solver.Diagram
	var list []solver.Moment
	slack, counted := 0.0, 0
	for i := range rs {
		for m := range s.Members {
			if list = rs[i].Moments(m, list[:0]); len(list) == 0 {
				continue
			}
			rs[i].Diagram(m, &d)
			most, off := 0.0, 0.0
			for k := range list[1:] {
				a, b := &list[k], &list[k+1]
				for part := 1; part < 8 && b.X > a.X; part++ {
					f := float64(part) / 8
					y := d.At(a.X + f*(b.X-a.X))[solver.Mz]
					if bound := min(a.Off, b.Off) + 1e-6; !(math.Abs(y-(1-f)*a.Mz-f*b.Mz) <= bound) {
						t.Errorf("combination %d, member %d at %.3f m: %.3f beside %.3f and %.3f, bound %.2g", i, m, a.X+f*(b.X-a.X), y, a.Mz, b.Mz, bound)
					}
					most = max(most, math.Abs(y))
				}
				off = max(off, a.Off, b.Off)
			}
			if most > 10e3 {
				slack += off / most
				counted++
			}
		}
	}
	mean := slack / float64(counted)
	t.Logf("%d members: %.4f of the greatest moment left open on average", counted, mean)
	if counted < 50 || mean > 0.1 {
		t.Errorf("bounds of the moments of %d members leave open %.3f of the greatest on average", counted, mean)
	}
}
