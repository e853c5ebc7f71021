package frame

import "math"

// The lowest buckling factor of a quick answer is bracketed by eight stiffnesses, a lane each: below it they are definite, from it on
// they are not. Inside a narrow bracket the stiffness is nearly linear in the factor, so that inverse iteration with that of the
// lower end finds the mode, and the work of the stiffnesses on it the factor, which depends on the mode's error by its square. Where an
// element buckles between its nodes, which stand still, no stiffness does work on the mode: the element by itself has the factor.

const (
	// quickFactor is the relative width of the bracket in which the factor of a quick answer is left.
	quickFactor = 2e-5
	// closeBracket is the ratio of two factors between which the stiffness is nearly linear: a seventh of the way, in ratios, to the
	// limit of 2.5 that most briefs have.
	closeBracket = 1.15
	// modeRounds bounds the inverse iterations, and modeSettled is the relative change of the factor at which they end.
	modeRounds  = 30
	modeSettled = 1e-6
	// firstSearch is the ratio of the greatest factor that is first looked at to the least, and of those that come next.
	firstSearch = 17.0
)

// nearFactors are the relative distances from an estimate at which it is bracketed.
var nearFactors = row8{-1e-3, -1e-4, -2e-5, -4e-6, 4e-6, 2e-5, 1e-4, 1e-3}

// laneBuckling is the storage of the search.
type laneBuckling struct {
	r       *Result
	x       row8 // factors in hand
	vary    []row8
	lo, hi  float64   // the lowest factor lies between
	at      int       // the lane of lo; that of hi is the next
	below   float64   // where Withstands found some factor of the answer in hand to lie below; 0 where it was not asked
	lower   []float64 // stiffness at lo less that at hi, over hi less lo
	y, by   []float64 // n x ritzColumns
	mode    []float64
	k, g, e [ritzColumns * ritzColumns]float64
}

// lowestAbreast finds the lowest buckling factor of state r, and its mode or the elements that buckle between their nodes; false if lanes
// cannot.
func (w *Workspace) lowestAbreast(r *Result) (factor float64, mode []float64, local []int, ok bool) {
	if !w.Quick || w.m.n < ritzColumns || !w.prepareLanes() {
		return 0, nil, nil, false
	}
	b := &w.so.buckling
	if b.r != r {
		b.r, b.below = r, 0
	}
	b.vary = sized(b.vary, chordTerms)
	if !w.bracket() {
		return 0, nil, nil, false
	}
	if est, local := w.localFactor(); local != nil {
		if factor, ok := w.proveFactor(est, func() float64 { return est }); ok {
			return factor, nil, local, true
		}
		if !w.bracket() { // the lanes have other factors now
			return 0, nil, nil, false
		}
	}
	est, ok := w.findMode()
	if ok {
		factor, ok = w.proveFactor(est, func() float64 { return w.modeFactor(0, lanes-1) })
	}
	return factor, b.mode, nil, ok
}

// proveFactor brackets the lowest factor about an estimate, which better makes anew from what the lanes about it have; false if it lies elsewhere.
func (w *Workspace) proveFactor(est float64, better func() float64) (factor float64, ok bool) {
	b := &w.so.buckling
	for range 4 {
		for l, d := range nearFactors {
			b.x[l] = est * (1 + d)
		}
		stand := w.factorLanes(w.timesForces)
		l := lastDefinite(&stand)
		if l < 0 || l == lanes-1 {
			return 0, false
		}
		b.lo, b.hi = b.x[l], b.x[l+1]
		est = min(max(better(), b.lo), b.hi)
		if b.hi-b.lo <= quickFactor*b.hi {
			return est, true
		}
	}
	return 0, false
}

// localFactor finds the lowest factor within the bracket at which an element buckles between its nodes, and the elements that do; none if
// no element does.
func (w *Workspace) localFactor() (factor float64, local []int) {
	b := &w.so.buckling
	factor = b.hi
	for e := range w.els {
		if w.els[e].bar || b.r.Slack[e] || !w.hides(e, factor*(1+proofGap)) {
			continue
		}
		lo, hi := b.lo, factor*(1+proofGap)
		for hi-lo > factorTol*hi {
			if mid := (lo + hi) / 2; w.hides(e, mid) {
				hi = mid
			} else {
				lo = mid
			}
		}
		if hi < factor*(1-proofGap) {
			local = local[:0]
		}
		factor, local = min(factor, hi), append(local, e)
	}
	return factor, local
}

// hides tells whether element e has buckled between its nodes at a factor on the state in hand.
func (w *Workspace) hides(e int, factor float64) bool {
	st := &w.so.state
	w.stateTimes(e, w.so.buckling.r.axialOf(e), factor, st)
	return st.negJ > 0
}

// bracket encloses the lowest factor between two that differ by a few hundredths; their stiffnesses are those of lane at
// and of the next. It is false where none is found up to what smooth elements are good for.
func (w *Workspace) bracket() bool {
	b := &w.so.buckling
	top := w.reachFactor()
	b.lo, b.hi = 1, min(firstSearch, top)
	if b.below > 1 {
		b.hi = min(b.below, top)
	}
	for pass := range 3 {
		if !(b.hi > b.lo) {
			return false
		}
		for l := range b.x {
			b.x[l] = b.lo * math.Pow(b.hi/b.lo, float64(l)/(lanes-1))
		}
		stand := w.factorLanes(w.timesForces)
		switch l := lastDefinite(&stand); {
		case l < 0:
			return false
		case l < lanes-1:
			b.lo, b.hi = b.x[l], b.x[l+1]
			if b.at = l; b.hi < closeBracket*b.lo {
				return true
			}
		case pass > 0:
			return false
		default:
			b.lo, b.hi = b.hi, min(firstSearch*b.hi, top)
		}
	}
	return false
}

// lastDefinite is the last of the lanes from the first on that are definite; -1 if none is.
func lastDefinite(stand *[lanes]bool) int {
	l := -1
	for l+1 < lanes && stand[l+1] {
		l++
	}
	return l
}

// reachFactor is the factor up to which all elements are smooth.
func (w *Workspace) reachFactor() float64 {
	most := 0.0
	for e := range w.els {
		el := &w.els[e]
		if el.bar {
			continue
		}
		s := &w.so.smooth[e].smoothLoad
		size := math.Abs(w.so.buckling.r.axialOf(e) + s.axial[0])
		for _, v := range s.axial[1:] {
			size += math.Abs(v)
		}
		most = max(most, size*el.L*el.L/el.weakest)
	}
	return smoothReach / most
}

// timesForces are the axial forces of the state, times the factors in hand. What is slack and does not stand ready is left out.
func (w *Workspace) timesForces(e int, f *laneForces) {
	b := &w.so.buckling
	r, s := b.r, &w.so.smooth[e]
	n := r.axialOf(e)
	f.vary = nil
	switch {
	case r.Slack[e]:
		f.act[0], f.mean[0] = row8{}, row8{}
		if r.Touching[e] {
			fillRow(&f.act[0], 1)
		}
		return
	case w.els[e].bar:
		fillRow(&f.act[0], 1)
	case s.varies:
		for i, v := range s.chordVariation() {
			for l, x := range b.x {
				b.vary[i][l] = x * v
			}
		}
		f.vary = b.vary
	}
	for l, x := range b.x {
		f.mean[0][l] = x * (n + s.axial[0])
		f.pulls[0][l], f.pulls[1][l] = x*n, x*(n+s.drop)
	}
}

func fillRow(r *row8, v float64) {
	for l := range r {
		r[l] = v
	}
}

// findMode looks for the mode of the lowest factor, which b.lo and b.hi enclose, by subspace iteration with the stiffness at b.lo, and
// estimates the factor by the mode's work, of which the lanes about it make a cubic.
func (w *Workspace) findMode() (est float64, ok bool) {
	so, n := &w.so, w.m.n
	b := &so.buckling
	w.readySecond()
	so.factors.fac.Take(b.at, so.fac)
	so.act.ready = false
	b.lower = sized(b.lower, len(w.val))
	for i := range b.lower {
		v := &so.factors.val[i]
		b.lower[i] = (v[b.at] - v[b.at+1]) / (b.hi - b.lo)
	}
	b.y, b.by, b.mode = sized(b.y, n*ritzColumns), sized(b.by, n*ritzColumns), sized(b.mode, n)
	seed(b.y)
	w.m.pattern.Mul(b.by, b.lower, b.y, ritzColumns)
	for range modeRounds {
		copy(b.y, b.by)
		so.fac.Solve(b.y, ritzColumns)
		gram(b.k[:], b.y, b.by, n, ritzColumns) // yᵀKy, since Ky = by
		w.m.pattern.Mul(b.by, b.lower, b.y, ritzColumns)
		gram(b.g[:], b.y, b.by, n, ritzColumns)
		theta, ok := reduce(b.k[:], b.g[:], b.e[:], ritzColumns)
		if !ok || !(theta > 0) {
			return 0, false
		}
		combine(b.y, b.e[:], n, ritzColumns)
		combine(b.by, b.e[:], n, ritzColumns)
		last := est
		if est = b.lo + 1/theta; math.Abs(est-last) <= modeSettled*est {
			break
		}
	}
	for i := range b.mode {
		b.mode[i] = b.y[i*ritzColumns]
	}
	near := [4]int{b.at, b.at + 1, b.at - 1, b.at + 2}
	switch {
	case b.at == 0:
		near[2] = b.at + 3
	case b.at+2 == lanes:
		near[3] = b.at - 2
	}
	return min(max(w.modeFactor(near[:]...), b.lo), b.hi), true
}

// modeFactor is the factor at which the stiffness does no work on the mode, by the works of some lanes on it: the polynomial through
// their factors over work, at none.
func (w *Workspace) modeFactor(of ...int) (factor float64) {
	b := &w.so.buckling
	work := w.modeWork()
	for _, l := range of {
		x := b.x[l]
		for _, k := range of {
			if k != l {
				x *= work[k] / (work[k] - work[l])
			}
		}
		factor += x
	}
	return factor
}

// modeWork is what the stiffness of each lane does on the mode (twice the work).
func (w *Workspace) modeWork() (sum row8) {
	b, p := &w.so.buckling, w.m.pattern
	val := w.so.factors.val
	for j, v := range b.mode {
		at := p.Ptr[j]
		for l, k := range val[at] {
			sum[l] += v * v * k
		}
		for i := at + 1; i < p.Ptr[j+1]; i++ {
			t := 2 * v * b.mode[p.Row[i]]
			for l, k := range val[i] {
				sum[l] += t * k
			}
		}
	}
	return sum
}
