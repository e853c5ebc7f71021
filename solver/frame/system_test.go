package frame

import (
	"math"
	"testing"

	"leanbay/solver"
)

// TestSystem: the stiffness that is written out, times the displacements of each case, gives the load vectors that are
// written out.
func TestSystem(t *testing.T) {
	s := shed(4)
	w := workspace(t, s)
	p := w.m.Symbolic().Pattern()
	nc := len(s.Cases)
	k, f, x, kx := make([]float64, p.NNZ()), make([]float64, p.N*nc), make([]float64, p.N*nc), make([]float64, p.N*nc)
	w.Stiffness(k)
	w.LoadVectors(f)
	for c := range s.Cases {
		var r Result
		if err := w.Analyse(&solver.Combination{Terms: []solver.Term{{Case: c, Factor: 1}}}, Linear, &r); err != nil {
			t.Fatal(err)
		}
		for i := range p.N {
			node, dof := w.m.Freedom(i)
			x[i*nc+c] = r.U[6*node+int(dof)]
		}
	}
	p.Mul(kx, k, x, nc)
	size := 0.0
	for _, v := range f {
		size = math.Max(size, math.Abs(v))
	}
	for i := range f {
		if math.Abs(kx[i]-f[i]) > 1e-9*size {
			t.Fatalf("unknown %d, case %d: K·x is %g, the load %g", i/nc, i%nc, kx[i], f[i])
		}
	}
	sum := 0.0
	for i := range p.N {
		if _, dof := w.m.Freedom(i); dof == solver.UZ {
			sum += f[i*nc+1]
		}
	}
	if want := -4.0 * 2 * 7 * 4000; math.Abs(sum-want) > 1e-6*-want { // four frames, two rafters, seven points of 4 kN; bases are held, but no load reaches them directly
		t.Errorf("case Q adds up to %g N, want %g", sum, want)
	}
}
