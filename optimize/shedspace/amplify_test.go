package shedspace

import (
	"math"
	"testing"

	"leanbay/solver"
	"leanbay/solver/checks/as4100"
	"leanbay/solver/frame"
)

// TestSecondOrderAgainstAmplification cross-checks second order by the amplification of first order (AS 4100 4.4.2.3):
// what a notional push across adds to the eaves' movement beside the same vertical loads is amplified by 1/(1 - 1/λc) of
// the frame's sway mode. Each frame stands alone; the weakest one sets λc, the others grow less.
func TestSecondOrderAgainstAmplification(t *testing.T) {
	p := example(t, "kit")
	d, _, err := p.Braced()
	if err != nil {
		t.Fatal(err)
	}
	m := p.Shed.Build(d)
	m.Load(p.bench.drawn.loads, 0)
	plane, _ := planeFrames(m)
	model, err := frame.Compile(plane)
	if err != nil {
		t.Fatal(err)
	}
	w := model.NewWorkspace()
	if err := w.Load(plane); err != nil {
		t.Fatal(err)
	}
	pushed := withH(t, plane)
	upright := pushed
	upright.Terms = nil
	for i := range pushed.Terms { // six times the vertical loads, for an amplification that shows
		if plane.Cases[pushed.Terms[i].Case].Kind != solver.KindNotional {
			pushed.Terms[i].Factor *= 6
			upright.Terms = append(upright.Terms, pushed.Terms[i])
		}
	}
	var first, firstUp, second, secondUp frame.Result
	for _, run := range []struct {
		c *solver.Combination
		a frame.Analysis
		r *frame.Result
	}{{&pushed, frame.Linear, &first}, {&upright, frame.Linear, &firstUp}, {&pushed, frame.SecondOrder, &second}, {&upright, frame.SecondOrder, &secondUp}} {
		if err := w.Analyse(run.c, run.a, run.r); err != nil || !run.r.Stable {
			t.Fatalf("%s: %v %v", run.a, err, run.r.Notes)
		}
	}
	modes, err := w.Buckling(&first, 1)
	if err != nil || len(modes) == 0 {
		t.Fatalf("no buckling mode: %v", err)
	}
	limit := as4100.DeltaSway(modes[0].Factor)
	most := 0.0
	for f := range m.Eaves {
		n := 6*m.Eaves[f][0] + int(solver.UY)
		grown := (second.U[n] - secondUp.U[n]) / (first.U[n] - firstUp.U[n])
		if grown < 1 || grown > 1.03*limit {
			t.Errorf("frame %d moves %.4f times as far as in first order; the weakest frame's factor is %.4f (λc %.2f)", f+1, grown, limit, modes[0].Factor)
		}
		most = math.Max(most, grown)
	}
	if math.Abs(most/limit-1) > 0.03 {
		t.Errorf("the weakest frame grows by %.4f, its sway mode's factor is %.4f", most, limit)
	}
}

// withH is a gravity combination with the notional force across.
func withH(t *testing.T, st *solver.Structure) solver.Combination {
	t.Helper()
	for _, c := range st.Combinations {
		if contains(c.ID, "1.5Qr+H +Y") {
			c.Terms = append([]solver.Term(nil), c.Terms...)
			return c
		}
	}
	t.Fatal("no gravity combination with a notional force across")
	return solver.Combination{}
}
