package frame

import (
	"errors"
	"math"
	"slices"
)

// pencil is a symmetric matrix that depends on a parameter and whose count of negative eigenvalues, hidden ones included,
// grows with it: K(λ) in buckling, K(ω²) in vibration.
type pencil struct {
	w    *Workspace
	fill func(x float64) (hidden int) // fills w.so.val
}

// root is a parameter at which the matrix is singular (or hidden inside elements), and its vector.
type root struct {
	x     float64
	vec   []float64 // nil if no node moves
	local []int
}

// aside are the relative steps by which a parameter is avoided at which the matrix cannot be factorised: where a root lies on
// a pole (a strut whose second mode is that of its clamped element) round-off calls for a wide step.
var aside = [...]float64{0, 1e-9, 1e-8, 1e-7, 1e-6, 1e-5}

// count returns the number of roots below x; the factor at x, or a step aside of it, is left in so.fac.
func (p *pencil) count(x float64) (int, error) {
	so := &p.w.so
	p.w.readySecond()
	var err error
	for _, step := range aside {
		hidden := p.fill(x * (1 + step))
		if p.w.m.n == 0 {
			return hidden, nil
		}
		if err = so.fac.Refactor(so.val); err == nil {
			neg, _, _ := so.fac.Inertia()
			return hidden + neg, nil
		}
	}
	return 0, err
}

// lowest returns the n lowest roots under limit, ascending, starting the search at guess.
func (p *pencil) lowest(n int, guess, limit float64) ([]root, error) {
	out := p.first(guess, limit)
	if len(out) >= n {
		return out[:n], nil
	}
	lo, hi := 0.0, guess
	if len(out) > 0 {
		lo = out[0].x * (1 + proofGap)
		hi = 2 * lo
	}
	ch, err := p.count(hi)
	for err == nil && ch < n && hi < limit {
		if ch <= len(out) {
			lo = hi
		}
		hi = min(2*hi, limit)
		ch, err = p.count(hi)
	}
	if err != nil {
		return nil, err
	}
	for lo == 0 && ch > 0 { // go down to where nothing has buckled
		x := hi
		for range 200 {
			x /= 4
			c, err := p.count(x)
			if err != nil {
				return nil, err
			}
			if c == 0 {
				lo = x
				break
			}
		}
		if lo == 0 {
			return nil, errors.New("the state itself is not stable")
		}
	}
	for k := len(out) + 1; k <= min(n, ch); {
		found, err := p.kth(k, lo, hi)
		if err != nil {
			return nil, err
		}
		out = append(out, found...)
		k += len(found)
	}
	if len(out) > n {
		out = out[:n]
	}
	return out, nil
}

// first looks for the lowest root by inverse iteration from near nothing; what it returns (none if that fails) is proven by
// counts on either side.
func (p *pencil) first(guess, limit float64) []root {
	n := p.w.m.n
	if n == 0 {
		return nil
	}
	est, v := p.ritz(1e-3 * guess)
	if v == nil || est > limit {
		return nil
	}
	x, ok := p.improve(est, v, 0, limit)
	if !ok {
		return nil
	}
	below, above, err := p.around(x, 1e-8)
	if err != nil || below != 0 || above == 0 {
		return nil
	}
	if above > 1 { // several coincide: find all their vectors
		out, err := p.vectors(1, x)
		if err != nil {
			return nil
		}
		return out
	}
	return []root{{x: x, vec: v}}
}

// ritzColumns is the number of vectors of the subspace: sheds of many like frames have that many roots close together.
const ritzColumns = 8

// ritz estimates the lowest root and its vector by subspace iteration from x, which must be near nothing: K - λB with K the
// matrix at x and B = -dK/dx there. v is nil if there is none.
func (p *pencil) ritz(x float64) (est float64, v []float64) {
	w, n := p.w, p.w.m.n
	cols := min(ritzColumns, n)
	b := p.slope(x)
	if c, err := p.count(x); err != nil || c > 0 {
		return 0, nil
	}
	y, by := make([]float64, n*cols), make([]float64, n*cols)
	k, g, e := make([]float64, cols*cols), make([]float64, cols*cols), make([]float64, cols*cols)
	seed(y)
	for round := range 12 {
		w.m.pattern.Mul(by, b, y, cols)
		copy(y, by)
		w.so.fac.Solve(y, cols)
		gram(k, y, by, n, cols) // yᵀKy, since Ky = by
		w.m.pattern.Mul(by, b, y, cols)
		gram(g, y, by, n, cols)
		theta, ok := reduce(k, g, e, cols)
		if !ok || !(theta > 0) {
			return 0, nil
		}
		combine(y, e, n, cols)
		last := est
		if est = x + 1/theta; round > 3 && math.Abs(est-last) < 1e-4*est {
			break
		}
	}
	v = make([]float64, n)
	for i := range n {
		v[i] = y[i*cols]
	}
	return est, v
}

// slope returns B = -dK/dx at x, positive semidefinite, by a difference.
func (p *pencil) slope(x float64) []float64 {
	d := 1e-5 * x
	p.fill(x - d)
	b := slices.Clone(p.w.so.val)
	p.fill(x + d)
	for i, k := range p.w.so.val {
		b[i] = (b[i] - k) / (2 * d)
	}
	return b
}

// reduce solves g·c = θ k·c for small symmetric matrices, k definite: the rows of e become the vectors, normalised by k, the
// greatest θ first. k and g are overwritten.
func reduce(k, g, e []float64, p int) (theta float64, ok bool) {
	scale := 0.0
	for i := range p {
		scale = max(scale, k[i*p+i])
	}
	if !cholesky(k, p, 1e-14*scale) {
		return 0, false
	}
	for c := range p { // rows, then columns: L⁻¹ g L⁻ᵀ
		lowerSolve(k, g[c*p:c*p+p], p)
	}
	transpose(g, p)
	for c := range p {
		lowerSolve(k, g[c*p:c*p+p], p)
	}
	for a := range p {
		for b := range a {
			m := 0.5 * (g[a*p+b] + g[b*p+a])
			g[a*p+b], g[b*p+a] = m, m
		}
	}
	jacobi(g, e, p)
	best := 0
	for c := range p {
		upperSolve(k, e[c*p:c*p+p], p)
		if g[c*p+c] > g[best*p+best] {
			best = c
		}
	}
	for i := range p {
		e[i], e[best*p+i] = e[best*p+i], e[i]
	}
	return g[best*p+best], true
}

// kth finds the k-th root between lo (fewer than k below) and hi (at least k below), with all roots that coincide with it.
func (p *pencil) kth(k int, lo, hi float64) ([]root, error) {
	tried := false
	v := make([]float64, p.w.m.n)
	for hi-lo > factorTol*hi {
		mid := 0.5 * (lo + hi)
		if hi > 8*lo {
			mid = math.Sqrt(lo * hi)
		}
		if hi-lo < 0.05*hi && !tried {
			tried = true
			seed(v)
			if x, ok := p.improve(mid, v, lo, hi); ok {
				if below, above, err := p.around(x, 1e-8); err == nil && below < k && above >= k {
					lo, hi = x*(1-1e-8), x*(1+1e-8)
					break
				}
			}
		}
		c, err := p.count(mid)
		if err != nil {
			return nil, err
		}
		if c < k {
			lo = mid
		} else {
			hi = mid
		}
	}
	return p.vectors(k, 0.5*(lo+hi))
}

// around counts the roots below x(1-gap) and x(1+gap).
func (p *pencil) around(x, gap float64) (below, above int, err error) {
	if below, err = p.count(x * (1 - gap)); err != nil {
		return 0, 0, err
	}
	above, err = p.count(x * (1 + gap))
	return below, above, err
}

// improve moves x towards the nearest root by inverse iteration from v with -dK/dx as the metric; ok if it converged inside
// lo..hi.
func (p *pencil) improve(x float64, v []float64, lo, hi float64) (float64, bool) {
	if len(v) == 0 {
		return x, false
	}
	for range 8 {
		next, ok := p.step(x, v, 1, 3)
		if !ok || next < lo || next > hi {
			return x, false
		}
		done := math.Abs(next-x) < 1e-8*x // the difference quotient is good to about 1e-10
		x = next
		if done {
			return x, true
		}
	}
	return x, false
}

// step takes inverse iterations at x on the p columns of v and returns the estimate of the nearest root by the first.
func (p *pencil) step(x float64, v []float64, cols, times int) (float64, bool) {
	w, n := p.w, p.w.m.n
	low := p.slope(x)
	if _, err := p.count(x); err != nil {
		return 0, false
	}
	bv := make([]float64, n*cols)
	theta := 0.0
	for range times {
		w.m.pattern.Mul(bv, low, v, cols)
		vbv := columnDot(v, bv, n, cols)
		copy(v, bv)
		w.so.fac.Solve(v, cols)
		theta = columnDot(v, bv, n, cols) / vbv
		orthonormalise(v, n, cols)
	}
	next := x + 1/theta
	return next, finite(next)
}

// columnDot is the product of the first columns of a and b.
func columnDot(a, b []float64, n, cols int) (s float64) {
	for i := range n {
		s += a[i*cols] * b[i*cols]
	}
	return s
}

// vectors returns the roots that coincide with the k-th at x, with their vectors; those that no node takes part in name the
// elements that hide them.
func (p *pencil) vectors(k int, x float64) ([]root, error) {
	w, n := p.w, p.w.m.n
	below, err := p.count(x * (1 - proofGap))
	if err != nil {
		return nil, err
	}
	inside := slices.Clone(w.so.hidden)
	above, err := p.count(x * (1 + proofGap))
	if err != nil {
		return nil, err
	}
	many := max(1, above-max(below, k-1))
	var local []int
	for e, c := range w.so.hidden {
		if c > inside[e] {
			local = append(local, e)
		}
	}
	if n == 0 {
		return []root{{x: x, local: local}}, nil
	}
	cols := min(many, n)
	v := make([]float64, n*cols)
	seed(v)
	est, ok := p.step(x*(1-3e-7), v, cols, 6)
	if local != nil && (!ok || math.Abs(est-x) > 1e-4*x) {
		out := make([]root, many)
		for i := range out {
			out[i] = root{x: x, local: local}
		}
		return out, nil
	}
	out := make([]root, 0, many)
	for c := range cols {
		vec := make([]float64, n)
		for i := range n {
			vec[i] = v[i*cols+c]
		}
		out = append(out, root{x: x, vec: vec})
	}
	return out, nil
}
