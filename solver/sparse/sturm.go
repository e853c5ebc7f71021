package sparse

import "fmt"

// Sturm counts eigenvalues of K φ = λ B φ by the inertia of K - σB (Sylvester's law): a proof that is independent of any
// iteration. It owns no factor: f is refactored at every count.
type Sturm struct {
	f    *Factor
	k, b []float64
	work []float64
}

// NewSturm returns a counter for values k and b on the pattern of f. f must not be the factor of an iteration in progress.
func NewSturm(f *Factor, k, b []float64) *Sturm {
	p := f.sym.pattern
	p.checkValues("NewSturm", k)
	p.checkValues("NewSturm", b)
	return &Sturm{f: f, k: k, b: b, work: make([]float64, len(k))}
}

// sturmNudge is the relative step by which a count moves away from a shift at which a pivot vanishes, and sturmTries the
// number of steps; the first is below any tolerance on an eigenvalue, and they double.
const (
	sturmNudge = 1e-9
	sturmTries = 12
)

// Negative returns the number of negative eigenvalues of K - σB. For positive definite K that is the number of λ between 0
// and σ; for positive definite B the number of λ below σ. Where σ meets an eigenvalue, or a pivot vanishes by chance, the
// count is taken a little farther from zero (by 4e-6 at most); the error is that of the last attempt.
func (s *Sturm) Negative(sigma float64) (int, error) {
	step := sturmNudge
	var err error
	at := sigma
	for range sturmTries {
		for e, v := range s.k {
			s.work[e] = v - at*s.b[e]
		}
		if err = s.f.Refactor(s.work); err == nil {
			neg, _, _ := s.f.Inertia()
			return neg, nil
		}
		at = sigma * (1 + step)
		if sigma == 0 {
			break
		}
		step *= 2
	}
	return 0, fmt.Errorf("sparse: no inertia count at %.6g: %w", sigma, err)
}
