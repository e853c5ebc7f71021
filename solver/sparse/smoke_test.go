package sparse

import (
	"math"
	"math/rand/v2"
	"testing"
)

func TestSmoke(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 300 {
		n := 1 + rng.IntN(60)
		var prs [][2]int
		for range rng.IntN(3 * n) {
			prs = append(prs, [2]int{rng.IntN(n), rng.IntN(n)})
		}
		p := NewPattern(n, func(y func(i, j int) bool) {
			for _, q := range prs {
				if !y(q[0], q[1]) {
					return
				}
			}
		})
		val := make([]float64, p.NNZ())
		for j := range n {
			for e := p.Ptr[j]; e < p.Ptr[j+1]; e++ {
				val[e] = rng.NormFloat64()
				if e == p.Ptr[j] {
					val[e] += 20
				}
			}
		}
		s := Analyze(p)
		f := NewFactor(s)
		if err := f.Refactor(val); err != nil {
			t.Fatal(err)
		}
		nr := 1 + rng.IntN(20)
		x := make([]float64, n*nr)
		for i := range x {
			x[i] = rng.NormFloat64()
		}
		b := append([]float64{}, x...)
		f.Solve(x, nr)
		r := make([]float64, n*nr)
		p.Residual(r, val, x, b, nr)
		for _, v := range r {
			if math.Abs(v) > 1e-11 {
				t.Fatal(v)
			}
		}
	}
}
