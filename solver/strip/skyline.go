package strip

// profile is the pattern of a symmetric matrix stored by rows from the first non-zero to the diagonal.
type profile struct {
	first []int // first column of each row
	start []int // where row i begins in the values; start[n] is their number
}

// newProfile lays out rows that begin at first.
func newProfile(first []int) *profile {
	p := &profile{first: first, start: make([]int, len(first)+1)}
	for i, f := range first {
		p.start[i+1] = p.start[i] + i - f + 1
	}
	return p
}

// n is the number of equations.
func (p *profile) n() int { return len(p.first) }

// row returns the values of row i, from column first[i] to the diagonal.
func (m *skyline) row(i int) []float64 { return m.val[m.start[i]:m.start[i+1]] }

// skyline is a symmetric matrix on a profile.
type skyline struct {
	*profile
	val []float64
}

// newSkyline returns a zero matrix on p.
func newSkyline(p *profile) *skyline {
	return &skyline{profile: p, val: make([]float64, p.start[p.n()])}
}

// add adds v at (i, j), j <= i, which must lie in the profile.
func (m *skyline) add(i, j int, v float64) { m.val[m.start[i]+j-m.first[i]] += v }

// mul sets y to m·x.
func (m *skyline) mul(y, x []float64) {
	clear(y)
	for i, f := range m.first {
		row := m.row(i)
		sum, xi := 0.0, x[i]
		for j, v := range row[:i-f] {
			sum += v * x[f+j]
			y[f+j] += v * xi
		}
		y[i] += sum + row[i-f]*xi
	}
}

// factor replaces m by its LDLᵀ factors without pivoting and returns the number of negative pivots, which by
// Sylvester's law is the number of negative eigenvalues. A zero pivot is moved off by rounding's own size, so that a
// shift that hits an eigenvalue exactly still counts.
func (m *skyline) factor() (negative int) {
	first, start, val := m.first, m.start, m.val
	for i, fi := range first {
		ri := val[start[i]:start[i+1]]
		for j := fi; j < i; j++ {
			fj := first[j]
			lo := max(fi, fj)
			a, b := ri[lo-fi:j-fi], val[start[j]+lo-fj:start[j]+j-fj]
			sum := ri[j-fi]
			for k, ak := range a {
				sum -= ak * b[k]
			}
			ri[j-fi] = sum // L·D so far
		}
		d, diag := ri[i-fi], ri[i-fi]
		for j := fi; j < i; j++ {
			l := ri[j-fi] / val[start[j+1]-1]
			d -= l * ri[j-fi]
			ri[j-fi] = l
		}
		if d == 0 {
			d = 1e-16 * (1e-300 + abs(diag))
		}
		if d < 0 {
			negative++
		}
		ri[i-fi] = d
	}
	return negative
}

// solve overwrites x by the solution with the factors in m.
func (m *skyline) solve(x []float64) {
	for i, f := range m.first {
		row := m.row(i)
		sum := x[i]
		for j, l := range row[:i-f] {
			sum -= l * x[f+j]
		}
		x[i] = sum
	}
	for i, f := range m.first {
		x[i] /= m.row(i)[i-f]
	}
	for i := m.n() - 1; i >= 0; i-- {
		f := m.first[i]
		xi := x[i]
		for j, l := range m.row(i)[:i-f] {
			x[f+j] -= l * xi
		}
	}
}

// abs is math.Abs, kept local to the kernel.
func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}
