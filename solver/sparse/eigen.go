package sparse

import (
	"errors"
	"fmt"
	"math"
)

// Want says which eigenvalues of K φ = λ B φ are looked for.
type Want int

const (
	// SmallestPositive asks for the smallest λ > 0: load factors of buckling with B = -Kg, squares of circular frequencies
	// with B the mass matrix.
	SmallestPositive Want = iota
	// LeastMagnitude asks for the smallest |λ|: buckling under the load or its reverse.
	LeastMagnitude
)

// EigenOptions says what to look for. The zero value asks for the smallest positive eigenvalue, unproved.
type EigenOptions struct {
	Modes int     // number wanted; 0 means 1
	Want  Want    // which; Near and Softest do not use it
	Upper float64 // nothing farther than this from zero (for Near: from the shift) is of interest; 0 means no limit
	Tol   float64 // largest relative residual (see Modes.Residuals); 0 means 1e-6

	// Count returns the number of negative eigenvalues of K - σB, usually Sturm.Negative. With it the result is proved, and
	// modes that the iteration would miss are looked for again. Without it Modes.Proved is false.
	Count func(sigma float64) (int, error)
}

// Modes is a set of eigenpairs in the order asked for: nearest first.
type Modes struct {
	N       int
	Values  []float64 // λ
	Vectors []float64 // Vector(m) is Vectors[m*N:(m+1)*N], scaled to a largest entry of +1 in magnitude and sign
	// Residuals holds ‖A φ - θ φ‖ / (|θ| ‖φ‖) in the norm of the definite matrix, A being the inverted operator and θ its
	// eigenvalue: computed afresh from the returned vector. It bounds the relative error of θ; that of λ is of its square.
	Residuals []float64
	Solves    int  // right-hand sides solved
	Proved    bool // an inertia count found no further mode among those returned or before the last of them
	Missed    int  // modes that the count knows and the iteration did not find
}

// Vector returns the m-th mode; it is not a copy.
func (m *Modes) Vector(i int) []float64 { return m.Vectors[i*m.N : (i+1)*m.N] }

// ErrNotDefinite is returned by Lowest where K has a null or negative pivot.
var ErrNotDefinite = errors.New("sparse: Lowest: the matrix K is not positive definite; find its modes with Near or Softest")

// Eigen finds eigenpairs by a block Krylov method and keeps its workspace between calls. The zero value is ready. Each
// worker owns one. Start vectors are fixed, so equal input gives equal bits.
type Eigen struct {
	k  krylov
	x  []float64 // block of right-hand sides
	bv []float64
}

// Lowest finds the eigenvalues of K φ = λ B φ nearest to zero, K positive definite and B symmetric, definite or not. f holds
// a valid factor of K; k and b are values on its pattern. It returns ErrNotDefinite if K is not positive definite, and fewer
// modes than asked for where there are no more (none at all, say, for buckling in pure tension).
//
// The operator K⁻¹B is self-adjoint in the inner product of K, so neither an indefinite nor a singular B does harm.
func (e *Eigen) Lowest(f *Factor, k, b []float64, o EigenOptions) (*Modes, error) {
	f.mustBeValid("Lowest")
	p := f.sym.pattern
	p.checkValues("Lowest", k)
	p.checkValues("Lowest", b)
	if neg, zero, _ := f.Inertia(); neg+zero > 0 {
		return nil, ErrNotDefinite
	}
	o.setDefaults(p.N)
	op := operator{
		apply: e.inverse(f, func(y, x []float64) { p.MulVec(y, b, x) }),
		weigh: func(y, x []float64) { p.MulVec(y, k, x) },
		value: func(theta float64) float64 { return 1 / theta },
		ahead: func(theta float64) float64 { return theta },
		count: o.countFromZero(),
	}
	if o.Want == LeastMagnitude {
		op.ahead = math.Abs
	}
	return e.run(p.N, op, o)
}

// Near finds the eigenvalues of K φ = λ B φ nearest to shift, on either side, B positive definite and K symmetric. f holds a
// valid factor of K - shift·B; k and b are values on its pattern.
func (e *Eigen) Near(f *Factor, k, b []float64, shift float64, o EigenOptions) (*Modes, error) {
	f.mustBeValid("Near")
	p := f.sym.pattern
	p.checkValues("Near", k)
	p.checkValues("Near", b)
	o.setDefaults(p.N)
	mul := func(y, x []float64) { p.MulVec(y, b, x) }
	return e.run(p.N, e.shifted(f, mul, shift, o), o)
}

// shifted is the operator (K - shift·B)⁻¹ B in the inner product of B.
func (e *Eigen) shifted(f *Factor, mulB func(y, x []float64), shift float64, o EigenOptions) operator {
	return operator{
		apply: e.inverse(f, mulB),
		weigh: mulB,
		value: func(theta float64) float64 { return shift + 1/theta },
		ahead: math.Abs,
		count: o.countAround(shift),
	}
}

// inverse returns the operator that multiplies by mul and solves with f, for m vectors that lie one after another.
func (e *Eigen) inverse(f *Factor, mul func(y, x []float64)) func(w, v []float64, m int) {
	n := f.sym.n
	return func(w, v []float64, m int) {
		e.x, e.bv = grown(e.x, n*m), grown(e.bv, n)
		for c := range m {
			mul(e.bv, v[c*n:(c+1)*n])
			for i, z := range e.bv {
				e.x[i*m+c] = z
			}
		}
		f.Solve(e.x, m)
		for c := range m {
			col := w[c*n : (c+1)*n]
			for i := range col {
				col[i] = e.x[i*m+c]
			}
		}
	}
}

func (o *EigenOptions) setDefaults(n int) {
	if o.Modes <= 0 {
		o.Modes = 1
	}
	o.Modes = min(o.Modes, n)
	if o.Tol <= 0 {
		o.Tol = 1e-6
	}
}

// countFromZero returns a function that counts the eigenvalues from zero to r (and to -r where magnitude is asked for), K
// being positive definite; nil without Count.
func (o *EigenOptions) countFromZero() func(r float64) (int, error) {
	if o.Count == nil {
		return nil
	}
	if o.Want == SmallestPositive {
		return o.Count
	}
	return func(r float64) (int, error) {
		right, err := o.Count(r)
		if err != nil {
			return 0, err
		}
		left, err := o.Count(-r)
		return left + right, err
	}
}

// countAround returns a function that counts the eigenvalues no farther than r from shift, B being positive definite.
func (o *EigenOptions) countAround(shift float64) func(r float64) (int, error) {
	if o.Count == nil {
		return nil
	}
	return func(r float64) (int, error) {
		below, err := o.Count(shift - r)
		if err != nil {
			return 0, err
		}
		upto, err := o.Count(shift + r)
		return upto - below, err
	}
}

// softShift is the shift of Softest relative to the diagonal: far above round-off (1e-16), far below what a standing
// frame has (1e-6 and more), so that null modes stand out by orders of magnitude.
const softShift = 1e-9

// Softest finds the n modes of least |λ| of K φ = λ D φ, D being the magnitudes of the diagonal of K: a measure of softness
// that does not depend on units. λ is about 1e-14 or less for a mode without stiffness, and 1 for a freedom held by
// itself. f is workspace and is refactored with a shifted matrix; k may be singular or indefinite. A freedom without any stiffness is
// a mode of its own. soft is how many modes have λ below `below` by an inertia count (negative ones included), or -1
// if the count broke down.
func (e *Eigen) Softest(f *Factor, k []float64, n int, below float64) (modes *Modes, soft int, err error) {
	p := f.sym.pattern
	p.checkValues("Softest", k)
	d := diagonalScale(p, k)
	work := make([]float64, len(k))
	shift, err := refactorShifted(f, k, d, work)
	if err != nil {
		return nil, -1, fmt.Errorf("sparse: Softest: no usable shift: %w", err)
	}
	o := EigenOptions{Modes: n}
	o.setDefaults(p.N)
	mulD := func(y, x []float64) {
		for i, v := range x {
			y[i] = d[i] * v
		}
	}
	modes, err = e.run(p.N, e.shifted(f, mulD, shift, o), o)
	if err != nil {
		return nil, -1, err
	}
	modes.rayleigh(p, k, d)
	return modes, countBelow(f, k, d, below, work), nil
}

// rayleigh replaces the values by Rayleigh quotients with K and D, which do not carry the shift's round-off.
func (m *Modes) rayleigh(p *Pattern, k, d []float64) {
	y := make([]float64, m.N)
	for c := range m.Values {
		x := m.Vector(c)
		p.MulVec(y, k, x)
		var num, den float64
		for i, v := range x {
			num += v * y[i]
			den += v * v * d[i]
		}
		m.Values[c] = num / den
	}
}

// diagonalScale returns |k_ii|, or the largest magnitude of the row where that is zero, or 1 for a row of zeros.
func diagonalScale(p *Pattern, k []float64) []float64 {
	d, most := make([]float64, p.N), make([]float64, p.N)
	for j := range p.N {
		d[j] = math.Abs(k[p.Ptr[j]])
		for e := p.Ptr[j] + 1; e < p.Ptr[j+1]; e++ {
			a, i := math.Abs(k[e]), p.Row[e]
			most[j], most[i] = max(most[j], a), max(most[i], a)
		}
	}
	for i, v := range d {
		if v == 0 {
			d[i] = most[i]
		}
		if d[i] == 0 {
			d[i] = 1
		}
	}
	return d
}

// refactorShifted factorises K + s D for a small s, trying others where a pivot vanishes by chance, and returns -s.
func refactorShifted(f *Factor, k, d, work []float64) (shift float64, err error) {
	s := softShift
	for range 6 {
		shiftDiagonal(f.sym.pattern, work, k, d, s)
		if err = f.Refactor(work); err == nil {
			return -s, nil
		}
		s *= 1.7
	}
	return 0, err
}

// countBelow counts the eigenvalues of K φ = λ D φ below λ by inertia.
func countBelow(f *Factor, k, d []float64, lambda float64, work []float64) int {
	for range 6 {
		shiftDiagonal(f.sym.pattern, work, k, d, -lambda)
		if f.Refactor(work) == nil {
			neg, _, _ := f.Inertia()
			return neg
		}
		lambda *= 1 + 1e-3
	}
	return -1
}

func shiftDiagonal(p *Pattern, out, k, d []float64, s float64) {
	copy(out, k)
	for j := range p.N {
		out[p.Ptr[j]] += s * d[j]
	}
}

func grown(x []float64, n int) []float64 {
	if cap(x) < n {
		return make([]float64, n)
	}
	return x[:n]
}
