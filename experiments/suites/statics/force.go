package statics

import "math"

// gableRedundants solves a pitched portal by the force method. The released frame is a cantilever from the left foot;
// redundants are the right foot's horizontal and vertical reaction and its moment (turning from X to Z). For hinged feet
// the moments at both feet vanish, which fixes the vertical reaction by statics. Bending only.
func gableRedundants(l, h, rise, q, eic, eir float64, fixed, onRafter bool) [3]float64 {
	type point struct{ x, z float64 }
	pts := []point{{0, 0}, {0, h}, {l / 2, h + rise}, {l, h}, {l, 0}}
	stiff := []float64{eic, eir, eir, eic}
	s := math.Hypot(l/2, rise)
	// loadMoment is the moment (turning from X to Z) at a point of the frame by the load beyond it.
	loadMoment := func(part int, t float64, at point) float64 {
		if onRafter {
			switch { // downward q per true length on the left rafter
			case part == 0:
				return -q * s * (l/4 - at.x)
			case part == 1:
				rest := s * (1 - t)
				return -q * rest * (l / 2 * (1 - t)) / 2
			}
			return 0
		}
		if part == 0 { // pushing along +X on the left column: a force +X above turns from Z to X
			rest := h * (1 - t)
			return -q * rest * rest / 2
		}
		return 0
	}
	// unit moments at a point: a force along X, along Z and a moment at the right foot (l, 0).
	unit := func(at point) [3]float64 { return [3]float64{at.z, l - at.x, 1} }
	var flex [3][3]float64
	var gap [3]float64
	for part := range 4 {
		a, b := pts[part], pts[part+1]
		length := math.Hypot(b.x-a.x, b.z-a.z)
		for _, g := range [...]struct{ t, w float64 }{{0.5 - math.Sqrt(0.15), 5.0 / 18}, {0.5, 8.0 / 18}, {0.5 + math.Sqrt(0.15), 5.0 / 18}} {
			at := point{a.x + g.t*(b.x-a.x), a.z + g.t*(b.z-a.z)}
			m, m0 := unit(at), loadMoment(part, g.t, at)
			for i := range 3 {
				gap[i] += g.w * length / stiff[part] * m[i] * m0
				for j := range 3 {
					flex[i][j] += g.w * length / stiff[part] * m[i] * m[j]
				}
			}
		}
	}
	if fixed {
		return solve3(flex, [3]float64{-gap[0], -gap[1], -gap[2]})
	}
	// Hinged: no moment at the left foot gives the vertical reaction; the horizontal one closes the gap with the left foot
	// free to turn.
	v := -loadMoment(0, 0, pts[0]) / l
	// Vertical unit load and its equilibrant at the left foot leave the moments z for H only: work with m_H = z.
	hg := gap[0] + v*flex[0][1]
	return [3]float64{-hg / flex[0][0], v, 0}
}

// solve3 solves a symmetric 3x3 system by Cramer's rule.
func solve3(a [3][3]float64, b [3]float64) (x [3]float64) {
	det := func(m [3][3]float64) float64 {
		return m[0][0]*(m[1][1]*m[2][2]-m[1][2]*m[2][1]) - m[0][1]*(m[1][0]*m[2][2]-m[1][2]*m[2][0]) + m[0][2]*(m[1][0]*m[2][1]-m[1][1]*m[2][0])
	}
	d := det(a)
	for c := range 3 {
		m := a
		for r := range 3 {
			m[r][c] = b[r]
		}
		x[c] = det(m) / d
	}
	return x
}
