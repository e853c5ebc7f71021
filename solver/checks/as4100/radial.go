package as4100

import "math"

// radialTolerance is the relative width at which the root of a limit surface is taken as found: far below any
// coefficient's certainty, and above the rounding of the power forms.
const radialTolerance = 1e-12

// root finds u in [lo, hi] with raw(u) = 1, where raw is the code's sum for the design actions divided by u: it falls
// as u grows, may be infinite near lo, and is at most 1 at hi. If raw is below 1 at lo as well, lo is returned.
//
// It works on 1 - raw^(-1/1.4), which is a straight line in u where all capacities fall by one factor 1 - N*/(u phi Nc),
// so that the secant needs few steps; false position keeps the bracket, with halving against slow ends.
func root(raw func(u float64) float64, lo, hi float64) float64 {
	if !(hi > 0) || lo >= hi {
		return hi
	}
	f := func(u float64) float64 { return 1 - math.Pow(raw(u), -1/biaxialPower) }
	a, b := lo, hi
	fa, fb := 1.0, f(b)
	if a > 0 {
		fa = f(a)
	}
	switch {
	case fa <= 0:
		return a
	case fb >= 0: // at the bound, up to rounding
		return b
	}
	side := 0
	for i := 0; i < 200 && b-a > radialTolerance*b; i++ {
		u := (a*fb - b*fa) / (fb - fa)
		if i%6 == 5 || !(u > a && u < b) {
			u = 0.5 * (a + b)
		}
		fu := f(u)
		switch {
		case math.Abs(fu) < 0.1*radialTolerance:
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
