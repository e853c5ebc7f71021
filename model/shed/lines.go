package shed

// A purlin or girt is a beam over its frames. Its reactions do not depend on its section as long as that is the same
// along the line, so they are worked once per brief and spacing, and act on the members at their stations.

// stretch is a uniform load q (N/m) on a part of a line, from < to (m).
type stretch struct{ from, to, q float64 }

// reactions returns the upward support reactions (N) of a beam over supports xs (ascending, m) under downward loads:
// simply supported spans, or one continuous beam of constant stiffness by Clapeyron's three-moment equation. What
// overhangs the first or last support goes to that support alone, as a girt corner or a roof edge does.
func reactions(xs []float64, loads []stretch, continuous bool) []float64 {
	n := len(xs)
	r := make([]float64, n)
	left := make([]float64, n)  // three-moment load terms of span i, seen from its right support
	right := make([]float64, n) // and from its left support
	for _, l := range loads {
		if end := xs[0]; l.from < end {
			r[0] += l.q * (min(l.to, end) - l.from)
		}
		if end := xs[n-1]; l.to > end {
			r[n-1] += l.q * (l.to - max(l.from, end))
		}
		for i := 0; i+1 < n; i++ {
			a, b := max(l.from, xs[i])-xs[i], min(l.to, xs[i+1])-xs[i]
			if a >= b {
				continue
			}
			span := xs[i+1] - xs[i]
			force := l.q * (b - a)
			share := (a + b) / 2 / span
			r[i] += force * (1 - share)
			r[i+1] += force * share
			left[i] += l.q * (momentTerm(b, span) - momentTerm(a, span))
			right[i] += l.q * (momentTerm(span-a, span) - momentTerm(span-b, span))
		}
	}
	if continuous && n > 2 {
		addContinuity(r, xs, left, right)
	}
	return r
}

// momentTerm is ∫ x(L² - x²)/L dx, the three-moment load term 6Aa/L of a unit uniform load up to x.
func momentTerm(x, span float64) float64 { return x*x*span/2 - x*x*x*x/(4*span) }

// addContinuity adds to simply supported reactions the effect of the moments over inner supports: Clapeyron's equation
// M(i-1)·L(i) + 2·M(i)·(L(i)+L(i+1)) + M(i+1)·L(i+1) = -(6Aa/L)(i) - (6Ab/L)(i+1), solved by elimination.
func addContinuity(r, xs, left, right []float64) {
	n := len(xs)
	diag := make([]float64, n)
	m := make([]float64, n)
	for i := 1; i < n-1; i++ {
		before, after := xs[i]-xs[i-1], xs[i+1]-xs[i]
		diag[i] = 2 * (before + after)
		m[i] = -(left[i-1] + right[i])
		if i > 1 {
			f := before / diag[i-1]
			diag[i] -= f * before
			m[i] -= f * m[i-1]
		}
	}
	for i := n - 2; i >= 1; i-- {
		if i < n-2 {
			m[i] -= (xs[i+1] - xs[i]) * m[i+1]
		}
		m[i] /= diag[i]
	}
	for i := 0; i+1 < n; i++ {
		shear := (m[i+1] - m[i]) / (xs[i+1] - xs[i])
		r[i] += shear
		r[i+1] -= shear
	}
}

// stations returns the offsets (m) of purlins or girts along a length: the first at edge from the start, the last at
// edge from the end, and between them equal gaps not greater than spacing.
func stations(length, edge, spacing float64) []float64 {
	inner := length - 2*edge
	gaps := max(1, int(ceilTol(inner/spacing)))
	out := make([]float64, gaps+1)
	for i := range out {
		out[i] = edge + inner*float64(i)/float64(gaps)
	}
	return out
}

// ceilTol rounds up, forgiving the last digits of a division that should be whole.
func ceilTol(x float64) float64 {
	n := float64(int(x))
	if x-n > 1e-9 {
		n++
	}
	return n
}
