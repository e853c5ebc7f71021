package frame

import (
	"math"
	"testing"

	"leanbay/solver"
)

// TestBowsBoundDiagram: the exact curve of a member lies within the bounds of its bows from a quick answer, which leave open a small
// part of the greatest one on average, or no curve would be passed over.
func TestBowsBoundDiagram(t *testing.T) {
	s := shed(4)
	s.Cases[2].Point[3].M.X = 2500 // a couple
	_, rs := quickAnswers(t, s)
	var d solver.Diagram
	var list []Bow
	slack, counted := 0.0, 0
	for i := range rs {
		for m := range s.Members {
			if list = rs[i].Bows(m, list[:0]); len(list) == 0 {
				continue
			}
			rs[i].Diagram(m, &d)
			most, off := 0.0, 0.0
			for k := range list[1:] {
				a, b := &list[k], &list[k+1]
				for part := range 9 {
					f := float64(part) / 8
					y, _ := d.ChordDeflection(a.X + f*(b.X-a.X))
					if bound := min(a.Off, b.Off) + 1e-12; !(math.Abs(y-(1-f)*a.Y-f*b.Y) <= bound) {
						t.Errorf("combination %d, member %d at %.3f m: %.9f m beside %.9f and %.9f, bound %.2g", i, m, a.X+f*(b.X-a.X), y, a.Y, b.Y, bound)
					}
					most = max(most, math.Abs(y))
				}
				off = max(off, a.Off, b.Off)
			}
			if most > 2e-3 {
				slack += off / most
				counted++
			}
		}
	}
	mean := slack / float64(counted)
	t.Logf("%d members: %.4f of the greatest bow left open on average", counted, mean)
	if counted < 50 || mean > 0.1 {
		t.Errorf("bounds of the bows of %d members leave open %.3f of the greatest on average", counted, mean)
	}
}

// TestMomentsBoundDiagram: likewise for moments along members.
func TestMomentsBoundDiagram(t *testing.T) {
	s := shed(4)
	_, rs := quickAnswers(t, s)
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
