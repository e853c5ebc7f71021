package frame

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestSpectrum: the rows are unit vectors square to each other, and the matrix times each is its eigenvalue times it: for matrices of
// random rank, with equal eigenvalues, of blocks that are apart, and none at all.
func TestSpectrum(t *testing.T) {
	rng := rand.New(rand.NewPCG(12, 13))
	for round := range 300 {
		p := 1 + rng.IntN(16)
		a, v, e := make([]float64, p*p), make([]float64, p*p), make([]float64, p)
		for range rng.IntN(p + 1) {
			x, size := make([]float64, p), math.Pow(10, -3*rng.Float64())
			for i := range x {
				if round%3 != 0 || rng.IntN(3) == 0 {
					x[i] = 2*rng.Float64() - 1
				}
			}
			for i := range p {
				for j := range p {
					a[i*p+j] += size * x[i] * x[j]
				}
			}
		}
		for i := range p {
			a[i*p+i] += float64(round % 2)
		}
		was := append([]float64(nil), a...)
		size := 0.0
		for _, x := range was {
			size = max(size, math.Abs(x))
		}
		spectrum(a, v, e, p)
		for c := range p {
			row := v[c*p : c*p+p]
			for b := range c + 1 {
				want := 0.0
				if b == c {
					want = 1
				}
				if got := dot(row, v[b*p:b*p+p]); math.Abs(got-want) > 1e-13 {
					t.Fatalf("round %d: vectors %d and %d of %d: product %g", round, c, b, p, got)
				}
			}
			for i := range p {
				if got := dot(was[i*p:i*p+p], row); math.Abs(got-a[c*p+c]*row[i]) > 1e-13*size*float64(p) {
					t.Fatalf("round %d: vector %d of %d, row %d: %g, want %g", round, c, p, i, got, a[c*p+c]*row[i])
				}
			}
		}
	}
}

func BenchmarkSpectrum(b *testing.B) {
	const p = 12
	rng := rand.New(rand.NewPCG(14, 15))
	was := make([]float64, p*p)
	for i := range p {
		for j := range i + 1 {
			was[i*p+j] = rng.Float64()
			was[j*p+i] = was[i*p+j]
		}
	}
	a, v, e := make([]float64, p*p), make([]float64, p*p), make([]float64, p)
	for b.Loop() {
		copy(a, was)
		spectrum(a, v, e, p)
	}
}
