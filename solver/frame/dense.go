package frame

import "math"

// Small dense helpers on row-major matrices: x is n rows by p columns, small matrices are p x p.

// orthonormalise makes the columns of x orthonormal by modified Gram-Schmidt, twice.
func orthonormalise(x []float64, n, p int) {
	for range 2 {
		for c := range p {
			for b := range c {
				s := 0.0
				for i := range n {
					s += x[i*p+b] * x[i*p+c]
				}
				for i := range n {
					x[i*p+c] -= s * x[i*p+b]
				}
			}
			s := 0.0
			for i := range n {
				s += x[i*p+c] * x[i*p+c]
			}
			s = math.Sqrt(s)
			if s == 0 {
				continue
			}
			for i := range n {
				x[i*p+c] /= s
			}
		}
	}
}

// gram sets g = xᵀ y, symmetrised.
func gram(g, x, y []float64, n, p int) {
	clear(g)
	for i := range n {
		for a := range p {
			xa := x[i*p+a]
			for b := range p {
				g[a*p+b] += xa * y[i*p+b]
			}
		}
	}
	for a := range p {
		for b := range a {
			s := 0.5 * (g[a*p+b] + g[b*p+a])
			g[a*p+b], g[b*p+a] = s, s
		}
	}
}

// combine sets x = x v, where the rows of v are the new columns' coefficients.
func combine(x, v []float64, n, p int) {
	var room [maxNull]float64
	row := room[:p]
	for i := range n {
		xi := x[i*p : i*p+p]
		for a := range p {
			s := 0.0
			for b := range p {
				s += v[a*p+b] * xi[b]
			}
			row[a] = s
		}
		copy(xi, row)
	}
}

// sortColumns sorts lambda ascending and the columns of x with it.
func sortColumns(lambda, x []float64, n, p int) {
	for a := range p {
		least := a
		for b := a + 1; b < p; b++ {
			if lambda[b] < lambda[least] {
				least = b
			}
		}
		if least == a {
			continue
		}
		lambda[a], lambda[least] = lambda[least], lambda[a]
		for i := range n {
			x[i*p+a], x[i*p+least] = x[i*p+least], x[i*p+a]
		}
	}
}

// jacobi diagonalises the symmetric p x p matrix a in place; the rows of v become its unit eigenvectors.
func jacobi(a, v []float64, p int) {
	for i := range v[:p*p] {
		v[i] = 0
	}
	for i := range p {
		v[i*p+i] = 1
	}
	for range 60 {
		off, on := 0.0, 0.0
		for i := range p {
			on += a[i*p+i] * a[i*p+i]
			for j := range i {
				off += a[i*p+j] * a[i*p+j]
			}
		}
		if off <= 1e-34*on || off == 0 {
			return
		}
		least := 1e-34 * on / float64(p*p) // of all that is passed over the sum stays below what ends the sweeps
		for q := 1; q < p; q++ {
			for r := range q {
				if x := a[r*p+q]; x*x > least {
					rotate(a, v, p, r, q)
				}
			}
		}
	}
}

// rotate makes the entry at row r and column q of the symmetric matrix a vanish: its rows are turned, and its columns copied from
// them.
func rotate(a, v []float64, p, r, q int) {
	theta := (a[q*p+q] - a[r*p+r]) / (2 * a[r*p+q])
	t := 1 / (math.Abs(theta) + math.Sqrt(theta*theta+1))
	if theta < 0 {
		t = -t
	}
	c := 1 / math.Sqrt(t*t+1)
	s := t * c
	turn := t * a[r*p+q]
	rr, qq := a[r*p+r]-turn, a[q*p+q]+turn
	turnRows(a[r*p:r*p+p], a[q*p:q*p+p], c, s)
	turnRows(v[r*p:r*p+p], v[q*p:q*p+p], c, s)
	for k := range p {
		a[k*p+r], a[k*p+q] = a[r*p+k], a[q*p+k]
	}
	a[r*p+r], a[q*p+q], a[r*p+q], a[q*p+r] = rr, qq, 0, 0
}

func turnRows(x, y []float64, c, s float64) {
	y = y[:len(x)]
	for k, u := range x {
		w := y[k]
		x[k], y[k] = c*u-s*w, s*u+c*w
	}
}

// spectrum is jacobi for matrices of more than a few rows, with errors of round-off of the greatest eigenvalue: Householder's reduction to
// three diagonals, then implicit QL steps (Numerische Mathematik 11, 1968, 181 and 293). e is scratch of p.
func spectrum(a, v, e []float64, p int) {
	reduceRows(a, v, e, p)
	tiny := 0.0
	for i := range p {
		tiny = max(tiny, math.Abs(a[i*p+i])+math.Abs(e[i]))
	}
	tiny *= 1e-16
	for l := range p {
		for range 60 {
			m := l
			for m < p-1 && math.Abs(e[m]) > tiny {
				m++
			}
			if m == l {
				break
			}
			stepQL(a, v, e, p, l, m)
		}
	}
}

// reduceRows turns the symmetric matrix a to one of three diagonals: its own, which a keeps, and that beside it in e, whose last
// is 0. The rows of v are the new axes.
func reduceRows(a, v, e []float64, p int) {
	clear(v[:p*p])
	for i := range p {
		v[i*p+i], e[i] = 1, 0
	}
	for k := 0; k+1 < p; k++ {
		u := a[k*p+k+1 : k*p+p]
		size := dot(u[1:], u[1:])
		if e[k] = u[0]; size == 0 {
			clear(u) // nothing is mirrored
			continue
		}
		e[k] = -math.Copysign(math.Sqrt(size+u[0]*u[0]), u[0])
		u[0] -= e[k]
		scale := 1 / math.Sqrt((size+u[0]*u[0])/2)
		for i := range u {
			u[i] *= scale
		}
		mirrorBoth(a, u, v[:len(u)], p, k+1)
	}
	clear(v[:p])
	v[0] = 1
	for k := p - 2; k >= 0; k-- {
		u := a[k*p+k+1 : k*p+p]
		for i := k + 1; i < p; i++ {
			row := v[i*p+k+1 : i*p+p]
			t := dot(row, u)
			for j, x := range u {
				row[j] -= t * x
			}
		}
	}
}

// mirrorBoth applies 1 - u·uᵀ on both sides to the rows and columns of a from the one at from on. w is scratch.
func mirrorBoth(a, u, w []float64, p, from int) {
	t := 0.0
	for i := range u {
		w[i] = dot(u, a[(from+i)*p+from:(from+i)*p+p])
		t += u[i] * w[i]
	}
	for i := range u {
		w[i] -= t / 2 * u[i]
	}
	for i := range u {
		row := a[(from+i)*p+from : (from+i)*p+p]
		for j := range row {
			row[j] -= u[i]*w[j] + w[i]*u[j]
		}
	}
}

// stepQL is one implicit QL step on the diagonals from l to m, with Wilkinson's shift.
func stepQL(a, v, e []float64, p, l, m int) {
	d := func(i int) *float64 { return &a[i*p+i] }
	g := (*d(l + 1) - *d(l)) / (2 * e[l])
	g = *d(m) - *d(l) + e[l]/(g+math.Copysign(math.Sqrt(g*g+1), g))
	s, c, shift := 1.0, 1.0, 0.0
	for i := m - 1; i >= l; i-- {
		f, b := s*e[i], c*e[i]
		r := math.Sqrt(f*f + g*g)
		if e[i+1] = r; r == 0 { // it has come apart
			*d(i + 1) -= shift
			e[m] = 0
			return
		}
		s, c = f/r, g/r
		g = *d(i + 1) - shift
		r = (*d(i)-g)*s + 2*c*b
		shift = s * r
		*d(i + 1) = g + shift
		g = c*r - b
		turnRows(v[i*p:i*p+p], v[(i+1)*p:(i+1)*p+p], c, s)
	}
	*d(l) -= shift
	e[l], e[m] = g, 0
}

// cholesky factorises the lower triangle of the symmetric p x p matrix a in place; a pivot under floor is raised to it.
// It returns false at a pivot that is not positive.
func cholesky(a []float64, p int, floor float64) bool {
	for j := range p {
		for k := range j {
			l := a[j*p+k]
			for i := j; i < p; i++ {
				a[i*p+j] -= a[i*p+k] * l
			}
		}
		d := max(a[j*p+j], floor)
		if !(d > 0) {
			return false
		}
		d = math.Sqrt(d)
		a[j*p+j] = d
		for i := j + 1; i < p; i++ {
			a[i*p+j] /= d
		}
	}
	return true
}

// lowestPivot is the least pivot of a Cholesky factor.
func lowestPivot(a []float64, p int) float64 {
	low := math.Inf(1)
	for i := range p {
		low = min(low, a[i*p+i]*a[i*p+i])
	}
	return low
}

// cholSolve solves with the factor of cholesky.
func cholSolve(a, x []float64, p int) {
	lowerSolve(a, x, p)
	upperSolve(a, x, p)
}

// lowerSolve solves L x = b in place.
func lowerSolve(a, x []float64, p int) {
	for i := range p {
		for k := range i {
			x[i] -= a[i*p+k] * x[k]
		}
		x[i] /= a[i*p+i]
	}
}

// upperSolve solves Lᵀ x = b in place.
func upperSolve(a, x []float64, p int) {
	for i := p - 1; i >= 0; i-- {
		for k := i + 1; k < p; k++ {
			x[i] -= a[k*p+i] * x[k]
		}
		x[i] /= a[i*p+i]
	}
}

func transpose(a []float64, p int) {
	for i := range p {
		for j := range i {
			a[i*p+j], a[j*p+i] = a[j*p+i], a[i*p+j]
		}
	}
}
