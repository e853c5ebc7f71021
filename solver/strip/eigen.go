package strip

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// Mode is a buckled shape: four values per node (X, Y, along, rotation), scaled so that the greatest translation in the
// plane of the cross-section is 1 and positive at its first appearance.
type Mode []float64

// bracketTol is the relative width to which a factor is enclosed before the mode is taken: an enclosure, so that no
// lower factor exists below it, and small beside the 0.5 % that a buckling stress is asked to hold.
const bracketTol = 1e-5

// Solver finds the lowest load factors of one section under one stress distribution. It keeps the last mode as a start
// for the next half-wavelength, so ask for neighbouring lengths in turn. Not for use by two goroutines at once.
type Solver struct {
	s     *Section
	g     *skyline // geometric stiffness over k²
	k, f  *skyline // stiffness at the current half-wavelength; factors of the shifted matrix
	x, y  []float64
	warm  bool
	scale float64 // greatest stress, Pa
}

// Solver prepares the analysis of node stresses in Pa, compression positive. It panics if there is not one per node.
func (s *Section) Solver(stress []float64) *Solver {
	v := &Solver{s: s, g: s.stressStiffness(stress), k: newSkyline(s.shape), f: newSkyline(s.shape)}
	v.x, v.y = make([]float64, s.shape.n()), make([]float64, s.shape.n())
	for _, q := range stress {
		v.scale = max(v.scale, math.Abs(q))
	}
	return v
}

// setLength assembles the stiffness for half-wavelength a (m).
func (v *Solver) setLength(a float64) (k float64) {
	k = math.Pi / a
	k2 := k * k
	s := v.s
	for i := range v.k.val {
		v.k.val[i] = s.a0.val[i] + k*s.a1.val[i] + k2*s.a2.val[i] + k2*k2*s.a4.val[i]
	}
	return k
}

// below factors K - q·G and returns how many eigenvalues lie in (0, q).
func (v *Solver) below(q float64) int {
	for i, kv := range v.k.val {
		v.f.val[i] = kv - q*v.g.val[i]
	}
	return v.f.factor()
}

// quotient returns xᵀKx/xᵀGx, +Inf if the denominator is not positive. It is an upper bound of the lowest eigenvalue.
func (v *Solver) quotient() float64 {
	v.k.mul(v.y, v.x)
	num := dot(v.x, v.y)
	v.g.mul(v.y, v.x)
	den := dot(v.x, v.y)
	if !(den > 0) {
		return math.Inf(1)
	}
	return num / den
}

// iterate does n inverse iterations with the factors at hand and returns the quotient.
func (v *Solver) iterate(n int) float64 {
	for range n {
		v.g.mul(v.y, v.x)
		copy(v.x, v.y)
		v.f.solve(v.x)
		top := 0.0
		for _, xi := range v.x {
			top = max(top, math.Abs(xi))
		}
		if top == 0 {
			v.stir(1)
			continue
		}
		for i := range v.x {
			v.x[i] /= top
		}
	}
	return v.quotient()
}

// stir adds a fixed rough vector of size f to x, so that no mode is missing from the start.
func (v *Solver) stir(f float64) {
	for i := range v.x {
		v.x[i] += f * math.Sin(1.7*float64(i)+0.3*float64(i%7)+1)
	}
}

// Lowest returns the lowest positive load factor at half-wavelength a (m), +Inf if none exists (no compression), and its
// mode. The factor is enclosed: the matrix just below it is shown to be positive definite.
func (v *Solver) Lowest(a float64) (factor float64, mode Mode) {
	k := v.setLength(a)
	q, ok := v.lowest(k)
	if !ok {
		return math.Inf(1), nil
	}
	return q / (k * k), v.s.expand(v.x)
}

// lowest works in q = factor·k². It holds lo (nothing below it) and hi (something below it) and closes them: by inverse
// iteration where the start is good, by bisection where it is not.
func (v *Solver) lowest(k float64) (q float64, ok bool) {
	lo, hi := 0.0, math.Inf(1)
	if v.warm {
		hi = v.quotient()
	}
	if math.IsInf(hi, 1) {
		if hi, ok = v.ceiling(k); !ok {
			return 0, false
		}
		v.stir(1)
	}
	best, factored := math.Inf(1), -1.0
	margin := 0.03
	for hi-lo > bracketTol*hi {
		shift := hi * (1 - margin)
		if shift <= lo {
			shift = (lo + hi) / 2
		}
		factored = shift
		if v.below(shift) > 0 {
			hi, margin = shift, min(0.3, 4*margin)
			v.stir(1e-3)
			continue
		}
		lo = shift
		best = v.iterate(2)
		hi = min(hi, best)
		margin = max(bracketTol/2, margin/50)
	}
	v.warm = true
	if factored != lo {
		v.below(lo)
		best = v.iterate(1)
	}
	for n := 0; n < 50 && !(best <= hi*(1+bracketTol)); n++ {
		best = v.iterate(2)
	}
	return min(best, hi), true
}

// ceiling returns a q below which eigenvalues exist, or false if there is none up to stresses of ten times E.
func (v *Solver) ceiling(k float64) (float64, bool) {
	if v.scale == 0 {
		return 0, false
	}
	for f := 1e-7; f < 10; f *= 4 {
		q := f * v.s.mat.E / v.scale * k * k
		if v.below(q) > 0 {
			return q, true
		}
	}
	return 0, false
}

// expand spreads equations over nodes and scales the mode.
func (s *Section) expand(x []float64) Mode {
	m := make(Mode, len(s.number))
	top, at := 0.0, 0
	for i, eq := range s.number {
		if eq < 0 {
			continue
		}
		m[i] = x[eq]
	}
	for n := range s.nodes {
		if d := math.Hypot(m[dofs*n+dofX], m[dofs*n+dofY]); d > top*(1+1e-9) {
			top, at = d, n
		}
	}
	if top == 0 {
		return m
	}
	scale := 1 / top
	if m[dofs*at+dofX]+m[dofs*at+dofY] < 0 {
		scale = -scale
	}
	for i := range m {
		m[i] *= scale
	}
	return m
}

// Modes returns up to n lowest positive factors at half-wavelength a with their modes, ascending, by subspace iteration
// (K. J. Bathe, Finite element procedures, 11.6) from just below the lowest. Fewer come back if fewer are positive.
func (v *Solver) Modes(a float64, n int) (factors []float64, modes []Mode) {
	k := v.setLength(a)
	first, ok := v.lowest(k)
	if !ok {
		return nil, nil
	}
	base := 0.9 * first
	v.below(base)
	m := v.s.shape.n()
	p := min(2*n+4, m)
	x := make([][]float64, p)
	for j := range x {
		x[j] = make([]float64, m)
		for i := range x[j] {
			x[j][i] = math.Sin(float64(1+i)*(0.37+0.113*float64(j)) + float64(j))
		}
	}
	copy(x[0], v.x)
	var mu []float64
	for sweep := 0; sweep < 60; sweep++ {
		next := v.ritz(x, base)
		done := len(mu) == len(next)
		for i := range min(n, len(next)) {
			done = done && math.Abs(next[i]-mu[i]) <= 1e-7*math.Abs(next[i])
		}
		if mu = next; done {
			break
		}
	}
	for j := 0; j < p && len(factors) < n; j++ {
		if mu[j] <= 0 {
			break
		}
		// (K - base·G)x = (q - base)·Gx and mu = 1/(q - base); a negative q gives a negative mu.
		factors = append(factors, (base+1/mu[j])/(k*k))
		modes = append(modes, v.s.expand(x[j]))
	}
	return factors, modes
}

// ritz does one sweep of subspace iteration on x with the factors of S = K - base·G, and returns mu descending, where
// Gx = mu·Sx.
func (v *Solver) ritz(x [][]float64, base float64) []float64 {
	p := len(x)
	gx := make([][]float64, p)
	small := func(op func(y, x []float64)) *mat.SymDense {
		out := mat.NewSymDense(p, nil)
		for j := range x {
			gx[j] = append(gx[j][:0], make([]float64, len(x[j]))...)
			op(gx[j], x[j])
			for i := 0; i <= j; i++ {
				out.SetSym(i, j, dot(x[i], gx[j]))
			}
		}
		return out
	}
	for j := range x {
		v.g.mul(v.y, x[j])
		copy(x[j], v.y)
		v.f.solve(x[j])
	}
	orthonormalise(x)
	g := small(v.g.mul)
	s := small(func(y, x []float64) {
		v.k.mul(y, x)
		v.g.mul(v.y, x)
		for i := range y {
			y[i] -= base * v.y[i]
		}
	})
	mu, w := generalised(g, s)
	mixed := make([][]float64, p)
	for j := range mixed {
		mixed[j] = make([]float64, len(x[0]))
		for i := range x {
			axpy(mixed[j], w.At(i, j), x[i])
		}
	}
	copy(x, mixed)
	return mu
}

// orthonormalise makes the vectors orthonormal in place (Gram-Schmidt, twice); a dependent one is refilled.
func orthonormalise(x [][]float64) {
	for j := range x {
		for pass := 0; pass < 2; pass++ {
			for i := 0; i < j; i++ {
				axpy(x[j], -dot(x[i], x[j]), x[i])
			}
			n := math.Sqrt(dot(x[j], x[j]))
			if n < 1e-200 {
				for i := range x[j] {
					x[j][i] = math.Cos(float64(i*(j+3)) + 0.5)
				}
				n, pass = math.Sqrt(dot(x[j], x[j])), -1
			}
			for i := range x[j] {
				x[j][i] /= n
			}
		}
	}
}

// generalised solves g·w = mu·s·w for symmetric g and positive definite s; mu descends and w has wᵀsw = 1.
func generalised(g, s *mat.SymDense) (mu []float64, w *mat.Dense) {
	p := g.SymmetricDim()
	var chol mat.Cholesky
	if !chol.Factorize(s) {
		panic("strip: subspace matrix is not positive definite")
	}
	var l mat.TriDense
	chol.LTo(&l)
	var t, u mat.Dense
	if err := t.Solve(&l, g); err != nil {
		panic("strip: " + err.Error())
	}
	if err := u.Solve(&l, t.T()); err != nil {
		panic("strip: " + err.Error())
	}
	sym := mat.NewSymDense(p, nil)
	for i := range p {
		for j := i; j < p; j++ {
			sym.SetSym(i, j, 0.5*(u.At(i, j)+u.At(j, i)))
		}
	}
	var eig mat.EigenSym
	if !eig.Factorize(sym, true) {
		panic("strip: eigenvalues of the subspace did not converge")
	}
	asc := eig.Values(nil)
	var vec, back mat.Dense
	eig.VectorsTo(&vec)
	if err := back.Solve(l.T(), &vec); err != nil {
		panic("strip: " + err.Error())
	}
	mu, w = make([]float64, p), mat.NewDense(p, p, nil)
	for j := range p {
		mu[j] = asc[p-1-j]
		for i := range p {
			w.Set(i, j, back.At(i, p-1-j))
		}
	}
	return mu, w
}

// dot is the inner product.
func dot(a, b []float64) float64 {
	sum := 0.0
	for i, v := range a {
		sum += v * b[i]
	}
	return sum
}

// axpy adds f·x to y.
func axpy(y []float64, f float64, x []float64) {
	for i, v := range x {
		y[i] += f * v
	}
}
