package sparse

import (
	"errors"
	"fmt"
	"math"
)

// operator is A, self-adjoint in the inner product of a positive definite G, as the block Krylov method sees it.
type operator struct {
	apply func(w, v []float64, m int)  // w = A v for m vectors one after another
	weigh func(p, v []float64)         // p = G v
	value func(theta float64) float64  // λ of an eigenvalue θ of A
	ahead func(theta float64) float64  // the larger, the more wanted; its reciprocal is the distance; <= 0: not wanted
	count func(r float64) (int, error) // how many wanted modes have a distance up to r; nil if that is not known
}

// krylov is a block Lanczos process with full reorthogonalisation and thick restarts. The basis v is orthonormal in G; t is
// A projected on it, kept in full rather than as a band, so that restarts and new start vectors need no special cases.
// Sources: K. Wu, H. Simon, Thick-restart Lanczos method for large symmetric eigenvalue problems, SIAM J. Matrix Anal. Appl.
// 22 (2000) 602-616; R. Grimes, J. Lewis, H. Simon, A shifted block Lanczos algorithm for solving sparse symmetric
// generalized eigenproblems, SIAM J. Matrix Anal. Appl. 15 (1994) 228-272.
type krylov struct {
	op     operator
	n      int
	room   int       // vectors that fit
	v, p   []float64 // basis and G times it, vector after vector
	t      []float64 // room x room: the projection
	r      []float64 // room x room: r[i*room+j] is the part along new vector i of A times active vector j
	w      []float64 // A times the active block
	h      []float64 // coefficients of one orthogonalisation
	first  int       // the active block, not yet multiplied, is first..size-1
	size   int
	seed   int32 // start vectors drawn so far
	solves int
	ritz   ritz
}

// Sizes of the method. Four vectors find multiplicities up to four at once (more after fresh starts), and a block of up to
// eight costs hardly more to solve than one.
const (
	krylovBlock   = 4
	krylovSteps   = 400   // block multiplications of one round before giving up
	krylovLook    = 3     // convergence is looked at every so many multiplications: the projection costs as much as one
	krylovRounds  = 8     // fresh starts after a count that found more modes
	krylovPatient = 60    // block multiplications after which modes that do not show are taken not to exist
	rankTolerance = 1e-11 // what is left of a vector inside the basis, relative to the vector
	negligible    = 1e-12 // of the largest |θ|: an eigenvalue at infinity
	countBeyond   = 1e-6  // relative distance beyond the last mode up to which modes are counted
)

// ErrNoConvergence is returned (wrapped) when the residual stays above the tolerance.
var ErrNoConvergence = errors.New("sparse: eigenvalues did not converge")

// run finds o.Modes modes of op, and proves them where op can count: a count up to just beyond the last mode must not exceed
// what was found; if it does, the iteration goes on for more modes with fresh start vectors.
func (e *Eigen) run(n int, op operator, o EigenOptions) (*Modes, error) {
	want, all := o.Modes, false
	if op.count != nil && o.Upper > 0 {
		there, err := op.count(o.Upper)
		if err != nil {
			return nil, err
		}
		want, all = min(want, there), there <= want
		if want == 0 {
			return &Modes{N: n, Proved: true}, nil
		}
	}
	k := &e.k
	k.begin(n, op, min(n, want+krylovBlock))
	goal := want
	for range krylovRounds {
		if err := k.iterate(goal, o.Tol); err != nil {
			return nil, err
		}
		m := k.modes(want, o)
		m.Proved = all && len(m.Values) == want
		if op.count == nil || m.Proved || len(m.Values) == 0 && o.Upper == 0 {
			return m, nil
		}
		there, err := k.missed(m, want, o)
		if err != nil || m.Proved || !k.refresh() {
			return m, err
		}
		goal = min(n, max(goal, there))
	}
	m := k.modes(want, o)
	_, err := k.missed(m, want, o)
	return m, err
}

// missed counts up to just beyond the last mode of m, sets m.Missed and m.Proved, and returns the count.
func (k *krylov) missed(m *Modes, want int, o EigenOptions) (there int, err error) {
	if len(m.Values) == 0 {
		m.Missed = want // by the count up to the limit
		return want, nil
	}
	r := (1 + countBeyond) / k.op.ahead(k.ritz.theta[len(m.Values)-1])
	if there, err = k.op.count(r); err != nil {
		return 0, err
	}
	found := k.ritz.converged(k.op, o.Tol, r)
	m.Missed = max(0, there-found)
	m.Proved = m.Missed == 0 && (len(m.Values) == want || o.Upper == 0)
	return there, nil
}

// begin clears the process and draws the first block. target is the number of modes the basis is made roomy for.
func (k *krylov) begin(n int, op operator, target int) {
	k.op, k.n, k.size, k.first, k.seed, k.solves = op, n, 0, 0, 0, 0
	k.setRoom(min(n, max(2*target+4*krylovBlock, 40)) + krylovBlock)
	k.ritz.dim = 0
	k.draw(krylovBlock)
}

// setRoom makes room for so many vectors; it is called with an empty basis or one that is kept.
func (k *krylov) setRoom(room int) {
	old := k.room
	t := make([]float64, room*room)
	for i := range min(k.size, old) {
		copy(t[i*room:], k.t[i*old:i*old+k.size])
	}
	k.room, k.t = room, t
	k.r = grown(k.r, room*room)
	k.h = grown(k.h, room)
	v, p := grown(k.v, room*k.n), grown(k.p, room*k.n)
	copy(v, k.v[:k.size*k.n])
	copy(p, k.p[:k.size*k.n])
	k.v, k.p = v, p
}

// draw appends up to m new vectors: fixed pseudo-random ones, multiplied once by A, which takes them into its range (a
// singular B has directions that belong to no eigenvalue) and towards the wanted modes.
func (k *krylov) draw(m int) (drawn int) {
	k.w = grown(k.w, k.n*max(m, krylovBlock))
	x := grown(k.ritz.spare, k.n)
	k.ritz.spare = x
	for range m {
		k.seed++
		for i := range x {
			x[i] = float64(int64(mix64(uint64(k.seed)<<32|uint64(i)))>>11) / (1 << 52) // -1..1
		}
		k.op.apply(k.w[:k.n], x, 1)
		k.solves++
		if k.admit(k.w[:k.n], nil) {
			drawn++
		}
	}
	return drawn
}

// refresh adds fresh start vectors to the active block. It reports false if the basis already spans everything.
func (k *krylov) refresh() bool {
	if k.size+krylovBlock > k.room {
		k.setRoom(k.room + krylovBlock)
	}
	return k.draw(krylovBlock) > 0
}

// admit orthogonalises w against the basis and appends it normalised; it reports false if nothing of it is left. into, if
// not nil, receives the coefficients along the basis as it was.
func (k *krylov) admit(w []float64, into []float64) bool {
	if k.size == k.room {
		return false
	}
	n, c := k.n, k.size
	p := k.p[c*n : (c+1)*n]
	h := k.h[:c]
	var inside, left float64
	for pass := range 3 {
		dots(h, k.p[:c*n], w)
		subColumns(w, k.v[:c*n], h, columns{n, 1, 0}, c)
		for i, v := range h {
			if into != nil {
				into[i] += v
			}
			if pass == 0 {
				inside += v * v
			}
		}
		if pass == 0 {
			continue
		}
		k.op.weigh(p, w)
		left = math.Sqrt(max(0, dot(w, p)))
		if left > 1e-3*math.Sqrt(inside) {
			break
		}
	}
	if !(left > rankTolerance*math.Sqrt(inside+left*left)) || c >= n {
		return false
	}
	v := k.v[c*n : (c+1)*n]
	for i, x := range w {
		v[i] = x / left
		p[i] /= left
	}
	for i := range k.room {
		k.t[c*k.room+i], k.t[i*k.room+c] = 0, 0
		k.r[c*k.room+i] = 0
	}
	if into != nil {
		into[c] = left
	}
	k.size++
	return true
}

// iterate multiplies and restarts until the goal first Ritz values have converged, or there are no more.
func (k *krylov) iterate(goal int, tol float64) error {
	for step := range krylovSteps {
		if k.first == k.size && !k.refresh() {
			k.project(k.size, 0)
			return nil // the basis spans everything: the Ritz values are exact
		}
		from, to := k.first, k.size
		if need := 2*to - from; need > k.room {
			k.setRoom(need)
		}
		k.expand(from, to)
		full := k.size+krylovBlock > k.room
		if !full && k.size > to && step%krylovLook != krylovLook-1 {
			continue
		}
		k.project(to, to-from)
		if k.ritz.settled(k.op, goal, tol, step > krylovPatient) {
			return nil
		}
		if full {
			k.restart(to, goal)
		}
	}
	return fmt.Errorf("%w in %d steps: relative residual %.2g of mode %d against a tolerance of %.2g", ErrNoConvergence,
		krylovSteps, k.ritz.worst(goal), goal, tol)
}

// expand multiplies the active block by A, fills its part of the projection, and appends the next block.
func (k *krylov) expand(from, to int) {
	n, m := k.n, to-from
	k.w = grown(k.w, n*max(m, krylovBlock))
	k.op.apply(k.w[:n*m], k.v[from*n:to*n], m)
	k.solves += m
	clear(k.r)
	coef := make([]float64, k.room)
	for j := from; j < to; j++ {
		clear(coef)
		k.admit(k.w[(j-from)*n:(j-from+1)*n], coef)
		for i := range to {
			k.t[i*k.room+j], k.t[j*k.room+i] = coef[i], coef[i]
		}
		for i := to; i < k.size; i++ {
			k.r[i*k.room+j] = coef[i]
		}
	}
	k.first = to
}

// project finds the Ritz values of the first dim basis vectors, the last m of which were multiplied last, and the norms of
// their residuals, which lie along the block that follows.
func (k *krylov) project(dim, m int) {
	z := &k.ritz
	z.solve(k.t, k.room, dim, k.op.ahead)
	for c := range dim {
		var sum float64
		for i := dim; i < k.size; i++ {
			var part float64
			for j := dim - m; j < dim; j++ {
				part += k.r[i*k.room+j] * z.s[c*dim+j]
			}
			sum += part * part
		}
		z.res[c] = math.Sqrt(sum)
	}
}

// restart replaces the first dim vectors of the basis by their best Ritz vectors; the active block follows them.
func (k *krylov) restart(dim, goal int) {
	n, z := k.n, &k.ritz
	need := goal + 4*krylovBlock
	if need > k.room {
		k.setRoom(min(n, need) + krylovBlock)
	}
	keep := min(dim-1, max(goal+krylovBlock, k.room-3*krylovBlock))
	keep = min(keep, k.room-2*krylovBlock)
	if keep < 1 || keep >= dim {
		return
	}
	z.combine(k.v, n, dim, keep)
	z.combine(k.p, n, dim, keep)
	block := k.size - dim
	copy(k.v[keep*n:], k.v[dim*n:k.size*n])
	copy(k.p[keep*n:], k.p[dim*n:k.size*n])
	clear(k.t)
	for c := range keep {
		k.t[c*k.room+c] = z.theta[c]
	}
	k.first, k.size = keep, keep+block
}

// modes returns up to want modes that have converged and lie within the limit, with their residuals computed afresh.
func (k *krylov) modes(want int, o EigenOptions) *Modes {
	z, n := &k.ritz, k.n
	m := &Modes{N: n}
	x, px := make([]float64, n), make([]float64, n)
	for c := range min(want, z.dim) {
		far := o.Upper > 0 && 1/k.op.ahead(z.theta[c]) > o.Upper*(1+countBeyond)
		if !z.exists(k.op, c) || far {
			break
		}
		clear(x)
		for i := range z.dim {
			axpy(x, z.s[c*z.dim+i], k.v[i*n:(i+1)*n])
		}
		m.Values = append(m.Values, k.op.value(z.theta[c]))
		m.Residuals = append(m.Residuals, k.residual(x, px, z.theta[c]))
		m.Vectors = append(m.Vectors, scaled(x)...)
	}
	m.Solves = k.solves
	return m
}

// residual returns ‖A x - θ x‖ / (|θ| ‖x‖) in the norm of G.
func (k *krylov) residual(x, px []float64, theta float64) float64 {
	w := k.w[:k.n]
	k.op.apply(w, x, 1)
	k.solves++
	k.op.weigh(px, x)
	size := math.Sqrt(dot(x, px))
	axpy(w, -theta, x)
	k.op.weigh(px, w)
	return math.Sqrt(max(0, dot(w, px))) / (math.Abs(theta) * size)
}

// scaled divides x by its entry of largest magnitude.
func scaled(x []float64) []float64 {
	var most float64
	for _, v := range x {
		if math.Abs(v) > math.Abs(most) {
			most = v
		}
	}
	if most != 0 {
		for i := range x {
			x[i] /= most
		}
	}
	return x
}

func dot(x, y []float64) float64 {
	y = y[:len(x)]
	var sum float64
	for i, v := range x {
		sum += v * y[i]
	}
	return sum
}

// dots sets h[i] to the product of w with the i-th vector of p, four at a time.
func dots(h, p, w []float64) {
	n := len(w)
	i := 0
	for ; i+4 <= len(h); i += 4 {
		a, b, c, d := p[i*n:][:n], p[(i+1)*n:][:n], p[(i+2)*n:][:n], p[(i+3)*n:][:n]
		var sa, sb, sc, sd float64
		for j, v := range w {
			sa += a[j] * v
			sb += b[j] * v
			sc += c[j] * v
			sd += d[j] * v
		}
		h[i], h[i+1], h[i+2], h[i+3] = sa, sb, sc, sd
	}
	for ; i < len(h); i++ {
		h[i] = dot(w, p[i*n:])
	}
}
