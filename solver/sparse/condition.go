package sparse

import (
	"fmt"
	"math"
)

// hagerSteps bounds the steps of the norm estimate; two or three are usual.
const hagerSteps = 5

// Condition estimates the condition number of the matrix in the 1-norm after both sides are scaled to a unit diagonal, so
// that units do not count: about how many times softer the softest motion is than the stiffest. val holds the values that f
// was refactored with. The estimate is a lower bound, almost always within a factor of 3. A single solution loses about
// log10 of it in digits, of 16. work has at least 3n entries or is nil.
// Source: W. W. Hager, Condition estimates, SIAM J. Sci. Stat. Comput. 5 (1984) 311-316; N. J. Higham, FORTRAN codes for
// estimating the one-norm of a real or complex matrix, ACM Trans. Math. Softw. 14 (1988) 381-396.
func (f *Factor) Condition(val, work []float64) float64 {
	f.mustBeValid("Condition")
	p, n := f.sym.pattern, f.sym.n
	p.checkValues("Condition", val)
	if work == nil {
		work = make([]float64, 3*n)
	}
	if len(work) < 3*n {
		panic(fmt.Sprintf("sparse: Condition: work of %d for %d unknowns", len(work), n))
	}
	if n == 0 {
		return 1
	}
	s, x, sign := work[:n], work[n:2*n], work[2*n:3*n]
	p.rootScale(s, val)
	norm := p.scaledNorm1(x, val, s)
	return norm * f.inverseNorm1(s, x, sign)
}

// rootScale sets s[i] to 1/sqrt|k_ii|, or 1 where the diagonal is zero.
func (p *Pattern) rootScale(s, val []float64) {
	for j := range s {
		s[j] = 1
		if d := math.Abs(val[p.Ptr[j]]); d > 0 {
			s[j] = 1 / math.Sqrt(d)
		}
	}
}

// scaledNorm1 is the 1-norm of S K S; sum is scratch.
func (p *Pattern) scaledNorm1(sum, val, s []float64) (norm float64) {
	clear(sum)
	for j := range p.N {
		sum[j] += math.Abs(val[p.Ptr[j]]) * s[j] * s[j]
		for e := p.Ptr[j] + 1; e < p.Ptr[j+1]; e++ {
			i := p.Row[e]
			a := math.Abs(val[e]) * s[i] * s[j]
			sum[i] += a
			sum[j] += a
		}
	}
	for _, v := range sum {
		norm = max(norm, v)
	}
	return norm
}

// inverseNorm1 estimates the 1-norm of (S K S)⁻¹ by Hager's ascent; x and sign are scratch.
func (f *Factor) inverseNorm1(s, x, sign []float64) (est float64) {
	n := len(x)
	for i := range x {
		x[i] = 1 / float64(n)
	}
	last := -1
	clear(sign)
	for range hagerSteps {
		f.scaledSolve(x, s)
		norm, turned := signs(sign, x)
		if norm <= est || !turned {
			est = max(est, norm)
			break
		}
		est = norm
		copy(x, sign)
		f.scaledSolve(x, s)
		j := largestAt(x)
		if j == last {
			break
		}
		last = j
		clear(x)
		x[j] = 1
	}
	for i := range x {
		x[i] = 1
		if n > 1 {
			x[i] += float64(i) / float64(n-1)
		}
		if i%2 == 1 {
			x[i] = -x[i]
		}
	}
	f.scaledSolve(x, s)
	norm, _ := signs(sign, x)
	return max(est, 2*norm/(3*float64(n)))
}

// scaledSolve replaces x by S⁻¹ K⁻¹ S⁻¹ x.
func (f *Factor) scaledSolve(x, s []float64) {
	for i := range x {
		x[i] /= s[i]
	}
	f.Solve(x, 1)
	for i := range x {
		x[i] /= s[i]
	}
}

// signs writes the signs of x and returns its 1-norm and whether any sign has changed.
func signs(sign, x []float64) (norm float64, turned bool) {
	for i, v := range x {
		norm += math.Abs(v)
		s := math.Copysign(1, v)
		turned = turned || s != sign[i]
		sign[i] = s
	}
	return norm, turned
}

func largestAt(x []float64) (at int) {
	for i, v := range x {
		if math.Abs(v) > math.Abs(x[at]) {
			at = i
		}
	}
	return at
}
