package as4100

import "math"

// radialTolerance is the relative width at which the root of a limit surface is taken as found: far below any
// coefficient's certainty, and above the rounding of the power forms.
const radialTolerance = 1e-12

// root finds u in [lo, hi] with raw(u) = 1, where raw is the code's sum for the design actions divided by u: it falls
// as u grows, may be infinite near lo, and is at most 1 at hi. If raw is below 1 at lo as well, lo is returned.
func root(raw func(u float64) float64, lo, hi float64) float64 {
	f := func(u float64) float64 { return math.Min(raw(u), 1e3) - 1 }
	if !(hi > 0) || lo >= hi {
		return hi
	}
	a, b := lo, hi
	fa, fb := 1e3-1, f(b)
	if a > 0 {
		fa = f(a)
	}
	if fa <= 0 {
		return a
	}
	if fb >= 0 { // at the bound, up to rounding
		return b
	}
	side := 0
	for i := 0; i < 200 && b-a > radialTolerance*b; i++ {
		u := (a*fb - b*fa) / (fb - fa)
		if i%4 == 3 || !(u > a && u < b) { // never slower than halving
			u = 0.5 * (a + b)
		}
		fu := f(u)
		switch {
		case fu == 0:
			return u
		case fu > 0:
			a, fa = u, fu
			if side == 1 {
				fb /= 2
			}
			side = 1
		default:
			b, fb = u, fu
			if side == -1 {
				fa /= 2
			}
			side = -1
		}
	}
	return b
}
