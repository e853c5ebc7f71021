package frame

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/solver"
)

// TestLaneStiffness: the stiffness of every lane is that of the elements one by one under the lane's axial forces (smoothState and
// global, which other tests hold): with arms, joints that turn in springs or freely, bars that act or not, springs at nodes.
func TestLaneStiffness(t *testing.T) {
	s := shed(3)
	for e := range s.Elements {
		el := &s.Elements[e]
		switch {
		case el.Bar:
		case el.ReleaseI[4]: // a strut
			el.OffsetI, el.OffsetJ = r3.Vec{X: 0.1, Y: -0.2, Z: 0.15}, r3.Vec{Y: 0.05, Z: -0.1}
		case e%3 == 1:
			el.SpringI[4], el.SpringJ[5] = 3e6, 5e5
		case e%3 == 2:
			el.ReleaseI[5] = true
		}
	}
	s.Elements[len(s.Elements)-1].Acts = solver.BothWays
	s.Nodes[4].Spring = [6]float64{1e5, 0, 2e4, 0, 3e3, 0}
	w := workspace(t, s)
	w.Quick = true
	if err := w.Load(s); err != nil {
		t.Fatal(err)
	}
	if !w.readyLanes() {
		t.Fatal("the structure does not stand, or lanes do not know it")
	}
	rng := rand.New(rand.NewPCG(8, 9))
	a := &w.so.abreast
	forces, acts := make([][lanes]float64, len(w.els)), make([][lanes]bool, len(w.els))
	for e := range w.els {
		for l := range lanes {
			n := 0.5 * (2*rng.Float64() - 1) * smoothReach * w.els[e].weakest / (w.els[e].L * w.els[e].L)
			if acts[e][l] = true; w.els[e].bar {
				n = 1e5 * rng.Float64()
				acts[e][l] = rng.IntN(3) > 0
				a.acting[actRows*a.act[e]][l] = map[bool]float64{true: 1}[acts[e][l]]
			}
			forces[e][l] = n
			a.lowOf(e)[l] = n
		}
	}
	f := &w.so.factors
	w.fillLanes(w.lowForces)
	var none smoothSum
	for l := range lanes {
		want := make([]float64, len(w.val))
		for e := range w.els {
			var fixed [12]float64
			st := w.els[e].linear
			w.els[e].smoothState(forces[e][l], &none, &st, &fixed)
			if !acts[e][l] {
				st.kA = 0
			}
			w.els[e].global(&st, &w.kk)
			addAt(want, w.m.place[e][:], w.kk[:])
		}
		w.addNodeSprings(want)
		w.addTurns(want)
		for j := range w.m.n {
			for k := w.m.pattern.Ptr[j]; k < w.m.pattern.Ptr[j+1]; k++ {
				size := math.Sqrt(w.diag[j] * w.diag[w.m.pattern.Row[k]])
				if got := f.val[k][l]; math.Abs(got-want[k]) > 1e-12*size {
					t.Fatalf("lane %d, unknowns %d and %d: %g, want %g", l, j, w.m.pattern.Row[k], got, want[k])
				}
			}
		}
	}
}

// TestOwnFactors: where no group has a definite factor, combinations are answered with factors of their own as they are by
// themselves, slack rods or not.
func TestOwnFactors(t *testing.T) {
	s := shed(4)
	w, single := workspace(t, s), workspace(t, s)
	for _, w := range []*Workspace{w, single} {
		w.Quick = true
		if err := w.Load(s); err != nil {
			t.Fatal(err)
		}
	}
	if !w.readyLanes() {
		t.Fatal("lanes do not know the elements of a shed")
	}
	rs := make([]Result, len(s.Combinations))
	never := func(int) bool { return false }
	if done, err := w.firstOrder(s.Combinations, TensionOnlySecondOrder, rs, never); done || err != nil {
		t.Fatal(done, err)
	}
	var want Result
	answered, slack := 0, 0
	for from := 0; from < len(w.so.sharing.order); from += lanes {
		group := w.so.sharing.order[from:min(from+lanes, len(w.so.sharing.order))]
		w.startOwn(group, rs)
		w.answerLanes()
		for _, i := range group {
			r := &rs[i]
			if !r.Stable {
				continue
			}
			answered++
			if err := single.Analyse(&s.Combinations[i], TensionOnlySecondOrder, &want); err != nil || !want.Stable {
				t.Fatal(err, want.Notes)
			}
			far, size := 0.0, 0.0
			for e := range r.Ends {
				if r.Slack[e] != want.Slack[e] {
					t.Errorf("combination %d: element %d slack %v, by itself %v", i, e, r.Slack[e], want.Slack[e])
				}
				if r.Slack[e] {
					slack++
				}
				for c := range r.Ends[e] {
					far, size = max(far, math.Abs(r.Ends[e][c]-want.Ends[e][c])), max(size, math.Abs(want.Ends[e][c]))
				}
			}
			if far > 1e-5*size {
				t.Errorf("combination %d: end forces differ by %g of the greatest", i, far/size)
			}
		}
	}
	if 2*answered < len(rs) || slack == 0 {
		t.Errorf("%d of %d combinations were answered, with %d slack rods", answered, len(rs), slack)
	}
}

// TestBucklingAbreast: the lowest factor by eight stiffnesses side by side is that of the counts, which closed forms hold
// (TestEulerCases and others), within the bracket; modes turn the same rods ready.
func TestBucklingAbreast(t *testing.T) {
	for _, found := range []bool{true, false} {
		s := shed(3)
		w := workspace(t, s)
		w.Quick, w.RodsAsFound = true, found
		if err := w.Load(s); err != nil {
			t.Fatal(err)
		}
		tried := 0
		for i := range s.Combinations[:12] {
			var r, same Result
			for _, r := range []*Result{&r, &same} {
				if err := w.Analyse(&s.Combinations[i], TensionOnlySecondOrder, r); err != nil || !r.Stable {
					t.Fatal(err, r.Notes)
				}
			}
			w.factors = append(w.factors[:0], r.factors...)
			w.so.gathered = false
			w.combineSmooth()
			mode, ok := w.lowestMode(&r)
			if !ok {
				continue
			}
			tried++
			modes, err := w.Buckling(&same, 2) // of more than one, lanes know nothing
			if err != nil {
				t.Fatal(err)
			}
			if want := modes[0].Factor; math.Abs(mode.Factor-want) > quickFactor*want {
				t.Errorf("combination %d: %.9g, want %.9g", i, mode.Factor, want)
			}
			for e := range r.Touching {
				if r.Touching[e] && !same.Touching[e] {
					t.Errorf("combination %d: element %d stands ready by the lowest mode alone", i, e)
				}
			}
			along, all := 0.0, 0.0
			for k, v := range mode.Shape {
				along, all = along+v*modes[0].Shape[k], all+v*v
			}
			if share := along / all; math.Abs(share-1) > 1e-4 {
				t.Errorf("combination %d: the mode is %g of the other", i, share)
			}
		}
		if tried < 6 {
			t.Errorf("lanes answered %d of 12", tried)
		}
	}
}

// TestLocalBucklingAbreast: a prop pinned at both ends that buckles before the frames do has Euler's factor, pi² EI/(L² N), its nodes
// standing still; stiffer, it leaves the lowest factor to the frames, also where its own lies close above.
func TestLocalBucklingAbreast(t *testing.T) {
	const length = 7
	euler := func(i, n float64) float64 { return math.Pi * math.Pi * testE * i / (length * length * n) }
	lowest := 0.0
	for _, share := range []float64{0.3, 0.5, 0.8, 0.95, 1.02, 1.1, 2} {
		b := build{s: *shed(3)}
		prop := b.beam(b.node(6, 10, 0, "xyzZ"), 13, r3.Vec{X: 1}) // up to the middle frame's ridge
		prop.Density, prop.A, prop.Iz = 0, 0.001, 1e-4
		for _, k := range []int{4, 5} {
			prop.ReleaseI[k], prop.ReleaseJ[k] = true, true
		}
		at := len(b.s.Elements) - 1
		answer := func() (w *Workspace, r, same *Result) {
			w, r, same = workspace(t, &b.s), &Result{}, &Result{}
			w.Quick = true
			if err := w.Load(&b.s); err != nil {
				t.Fatal(err)
			}
			for _, r := range []*Result{r, same} {
				if err := w.Analyse(&b.s.Combinations[0], TensionOnlySecondOrder, r); err != nil || !r.Stable {
					t.Fatal(err, r.Notes)
				}
			}
			w.factors = append(w.factors[:0], r.factors...)
			w.so.gathered = false
			w.combineSmooth()
			return w, r, same
		}
		prop.Iy = 1e-4
		w, r, _ := answer()
		if lowest == 0 {
			mode, ok := w.lowestMode(r)
			if lowest = mode.Factor; !ok || mode.Local != nil {
				t.Fatalf("the frames' own factor: %v, elements %v", ok, mode.Local)
			}
		}
		prop.Iy = share * lowest / euler(1, -r.axial[at])
		w, r, same := answer()
		mode, ok := w.lowestMode(r)
		modes, err := w.Buckling(same, 2)
		if err != nil || !ok {
			t.Fatal(ok, err)
		}
		if want := modes[0].Factor; math.Abs(mode.Factor-want) > quickFactor*want || !slices.Equal(mode.Local, modes[0].Local) {
			t.Errorf("prop at %g: %.9g, elements %v; by counts %.9g, %v", share, mode.Factor, mode.Local, want, modes[0].Local)
		}
		if share > 1 {
			if mode.Local != nil {
				t.Errorf("prop at %g: elements %v buckle", share, mode.Local)
			}
			continue
		}
		if want := euler(prop.Iy, -r.axial[at]); math.Abs(mode.Factor-want) > quickFactor*want || !slices.Equal(mode.Local, []int{at}) {
			t.Errorf("prop at %g: %.9g, elements %v; Euler's %.9g of %d", share, mode.Factor, mode.Local, want, at)
		}
		for k, v := range mode.Shape {
			if v != 0 {
				t.Fatalf("prop at %g: node %d moves", share, k/6)
			}
		}
	}
}
