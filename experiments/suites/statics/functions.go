package statics

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// root bisects f between a and b, where it has different signs; NaN if it has not.
func root(f func(float64) float64, a, b float64) float64 {
	fa := f(a)
	if fa*f(b) > 0 {
		return math.NaN()
	}
	for range 200 {
		m := 0.5 * (a + b)
		if f(m)*fa > 0 {
			a = m
		} else {
			b = m
		}
	}
	return 0.5 * (a + b)
}

// roots returns the first n sign changes of f above from, walked in steps, poles left out (there |f| grows beyond any
// bound).
func roots(f func(float64) float64, from, step float64, n int) []float64 {
	var out []float64
	for a := from; len(out) < n && a < from+1e5*step; a += step {
		if f(a)*f(a+step) > 0 {
			continue
		}
		r := root(f, a, a+step)
		if math.Abs(f(r)) < 1e-3*(math.Abs(f(a))+math.Abs(f(a+step))) {
			out = append(out, r)
		}
	}
	return out
}

// Stability functions of a member under compression with u = L√(P/EI): end moments over EI/L for a unit turn of an end, at
// that end (s) and at the other (sc), and at an end whose other end is hinged (Livesley and Chandler, Stability Functions
// for Structural Frameworks).
func stabilityS(u float64) float64 {
	if u < 1e-4 {
		return 4
	}
	return u * (math.Sin(u) - u*math.Cos(u)) / (2 - 2*math.Cos(u) - u*math.Sin(u))
}

func stabilitySC(u float64) float64 {
	if u < 1e-4 {
		return 2
	}
	return u * (u - math.Sin(u)) / (2 - 2*math.Cos(u) - u*math.Sin(u))
}

func stabilityHinged(u float64) float64 {
	s, sc := stabilityS(u), stabilitySC(u)
	return s - sc*sc/s
}

// swayHinged is the end moment over EI/L of a member free to sway with no shear, for a unit turn of the end, the other end
// hinged: u·-tan u.
func swayHinged(u float64) float64 { return -u * math.Tan(u) }

// Timoshenko and Gere's functions of a simple beam under compression, u = (L/2)√(P/EI) (Theory of Elastic Stability, 1.3 to
// 1.11): deflection and moment amplified over first order.
func chi(u float64) float64     { return 3 * (math.Tan(u) - u) / (u * u * u) }
func eta(u float64) float64     { return 12 * (2/math.Cos(u) - 2 - u*u) / (5 * u * u * u * u) }
func lambdaU(u float64) float64 { return 2 * (1/math.Cos(u) - 1) / (u * u) }
func psi(u float64) float64     { return 3 / (2 * u) * (1/(2*u) - 1/math.Tan(2*u)) }
func phi(u float64) float64     { return 3 / u * (1/math.Sin(2*u) - 1/(2*u)) }

// heavyColumn returns the lowest critical q·L³/EI of a column under an axial load q per length that grows downwards from
// its top, with the ends named. The equation (q(L-x)y')' + EI·y”” = 0 is solved by power series in x from the foot; the
// determinant of the conditions at the top is sought for its first root.
func heavyColumn(foot, top string) float64 {
	det := func(q float64) float64 {
		// Base solutions start at the foot with y, y', y'', y''' free of the foot's conditions.
		starts := map[string][2]int{"fixed": {2, 3}, "pinned": {1, 3}}[foot]
		var col [2][4]float64
		for i, k := range starts {
			col[i] = seriesTop(q, k)
		}
		ends := map[string][2]int{"fixed": {0, 1}, "pinned": {0, 2}, "free": {2, 3}}[top]
		return col[0][ends[0]]*col[1][ends[1]] - col[0][ends[1]]*col[1][ends[0]]
	}
	return roots(det, 0.5, 0.25, 1)[0]
}

// seriesTop integrates y”” = -q((1-x)y')' = -q((1-x)y” - y') over 0..1 from a unit k-th derivative at 0, and returns y,
// y', y” and the transverse force y”' + q(1-x)y' at 1.
func seriesTop(q float64, k int) [4]float64 {
	const terms = 120
	var a [terms + 4]float64
	fact := 1.0
	for i := 2; i <= k; i++ {
		fact *= float64(i)
	}
	a[k] = 1 / fact
	for n := 0; n < terms; n++ {
		// coefficient of x^n: (n+4)(n+3)(n+2)(n+1)a[n+4] = -q[(n+2)(n+1)a[n+2] - (n+1)n a[n+1] - (n+1)a[n+1]]
		f := float64(n)
		rhs := (f+2)*(f+1)*a[n+2] - (f+1)*f*a[n+1] - (f+1)*a[n+1]
		a[n+4] = -q * rhs / ((f + 4) * (f + 3) * (f + 2) * (f + 1))
	}
	var v [4]float64
	for n, c := range a {
		f := float64(n)
		v[0] += c
		v[1] += f * c
		v[2] += f * (f - 1) * c
		v[3] += f * (f - 1) * (f - 2) * c
	}
	return v // at x = 1 the axial force is gone, so the transverse force is y'''
}

// determinant of a small matrix given by rows.
func determinant(rows ...[]float64) float64 {
	m := mat.NewDense(len(rows), len(rows), nil)
	for i, r := range rows {
		m.SetRow(i, r)
	}
	return mat.Det(m)
}
