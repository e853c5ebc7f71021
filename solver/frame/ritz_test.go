package frame

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestSmoothElement holds smooth elements against exact ones, which closed forms hold (TestKnownAnswers and others): stiffness
// relative to the first-order one, fixed-end forces relative to the greatest of their kind, under axial force that is even or
// falls along the element by a tenth, with loads of every kind at purlins' places. The bounds are those stated in ritz.go.
func TestSmoothElement(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for _, tt := range []struct{ reach, varies, stiffness, forces float64 }{
		{2, 0, 1e-8, 1e-5},
		{6, 0, 1e-8, 1e-3},
		{smoothReach, 0, 1e-6, 1e-3},
		{2, 0.1, 1e-6, 1e-4},
		{6, 0.1, 1e-5, 1e-3},
		{smoothReach, 0.1, 1e-4, 1e-2},
	} {
		worstK, worstF, tried := 0.0, 0.0, 0
		for range 200 {
			e := plainElement()
			n := (2*rng.Float64() - 1) * tt.reach * e.weakest / (e.L * e.L)
			loads := purlinLoads(rng, e.L, n*tt.varies)
			if k, f, ok := smoothAgainstExact(t, e, loads, n); ok {
				worstK, worstF, tried = max(worstK, k), max(worstF, f), tried+1
			}
		}
		if tried < 100 || !(worstK <= tt.stiffness) || !(worstF <= tt.forces) {
			t.Errorf("|N|l²/EI to %g, varying by %g: stiffness off by %.2g, forces by %.2g, %d elements", tt.reach, tt.varies, worstK, worstF, tried)
		}
	}
}

func plainElement() *element {
	e := &element{L: 3, EA: 1e9, EI: [2]float64{2e6, 1e6}, weakest: 1e6, R: [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}}
	for p := range e.plane {
		e.plane[p] = joint{k: [4]float64{rigid, rigid, rigid, rigid}}
	}
	e.setLinear(&e.linear)
	return e
}

// purlinLoads are eight forces with moments, a load all along and one on a stretch; the axial parts sum to about axial.
func purlinLoads(rng *rand.Rand, l, axial float64) (loads []load) {
	for i := range 8 {
		a := l * (float64(i) + 0.2 + 0.6*rng.Float64()) / 8
		loads = append(loads, load{point: true, a: a, b: a, q1: [3]float64{axial / 10 * rng.Float64(), rng.Float64(), rng.Float64()},
			q2: [3]float64{0, 0.2 * rng.Float64(), 0.1 * rng.Float64()}})
	}
	q := axial / 10 / l
	return append(loads, load{b: l, q1: [3]float64{q, 1, -1}, q2: [3]float64{q, 1, -1}},
		load{a: l / 8, b: 0.73 * l, q1: [3]float64{q, 1, -1}, q2: [3]float64{2 * q, 2, 0}})
}

// smoothAgainstExact returns the greatest relative differences of stiffness and of fixed-end forces; ok is false where the
// element may not be smooth.
func smoothAgainstExact(t *testing.T, e *element, loads []load, n float64) (worstK, worstF float64, ok bool) {
	var f [12]float64
	var s smoothSum
	for i := range loads {
		e.addFixed(&loads[i], &f)
		e.addSmooth(&loads[i], &s.smoothLoad)
	}
	if !e.smoothable(n, &s.smoothLoad) {
		return 0, 0, false
	}
	s.settle()
	st := e.linear
	e.smoothState(n, &s, &st, &f)
	var b stripSet
	b.gather(loads, nil, []float64{1}, e.L)
	b.setAxial(n)
	if last := &b.spans[len(b.spans)-1]; math.Abs(n+s.drop-(last.n[0]+last.n[1]+last.n[2]-b.tailF[0])) > 1e-9*math.Abs(n) {
		t.Errorf("axial force at end j: %g", n+s.drop)
	}
	b.refine(e, 0)
	for p := range 2 {
		k, neg := b.chain(e, p, 0, nil)
		want, wantF := k.asBlock()
		got, gotF := st.plane[p], planeOf(&f, p)
		if neg != st.negJ {
			t.Errorf("hidden: %d, exact %d", st.negJ, neg)
		}
		for i := range 4 {
			for j := range 4 {
				size := math.Sqrt(e.linear.plane[p][i][i] * e.linear.plane[p][j][j])
				worstK = max(worstK, math.Abs(got[i][j]-want[i][j])/size)
			}
			size := max(math.Abs(wantF[i%2]), math.Abs(wantF[2+i%2]))
			worstF = max(worstF, math.Abs(gotF[i]-wantF[i])/size)
		}
	}
	return worstK, worstF, true
}

// TestGeometricStiffness compares with the well-known consistent geometric stiffness of a beam under even axial force
// (Przemieniecki, Theory of Matrix Structural Analysis, 15.2): 6/5, 1/10, 2/15, -1/30.
func TestGeometricStiffness(t *testing.T) {
	g := &geometric[0]
	for _, tt := range []struct {
		i, j int
		want float64
	}{{0, 0, 1.2}, {1, 0, 0.1}, {1, 1, 2.0 / 15}, {2, 0, -1.2}, {2, 1, -0.1}, {2, 2, 1.2}, {3, 0, 0.1}, {3, 1, -1.0 / 30}, {3, 2, -0.1}, {3, 3, 2.0 / 15}} {
		if math.Abs(g[tt.i][tt.j]-tt.want) > 1e-13 {
			t.Errorf("%d %d: %.15g, want %.15g", tt.i, tt.j, g[tt.i][tt.j], tt.want)
		}
	}
}
