package frame

import "math"

// gauss3 are the points and weights of three-point Gauss-Legendre integration on 0..1, exact to degree five: a linear load
// on cubic shape functions is of degree four.
var gauss3 = [3]struct{ x, w float64 }{
	{0.5 - math.Sqrt(0.15), 5.0 / 18},
	{0.5, 8.0 / 18},
	{0.5 + math.Sqrt(0.15), 5.0 / 18},
}

// shape returns the deflection at x of a Timoshenko beam for unit deflection and slope of end i, then of end j, and turn
// the rotations of the section there. They solve the unloaded beam exactly, so by reciprocity -∫q·shape is the exact
// fixed-end force. phi is 12EI/(G As L²). (Przemieniecki, 5.6, and Cowper's rotation of the section.)
func shape(x, l, phi float64) (defl, turn [4]float64) {
	t := x / l
	c := 1 / (1 + phi)
	t2, t3 := t*t, t*t*t
	defl = [4]float64{
		c * (1 - 3*t2 + 2*t3 + phi*(1-t)),
		c * l * (t - 2*t2 + t3 + phi/2*(t-t2)),
		c * (3*t2 - 2*t3 + phi*t),
		c * l * (t3 - t2 - phi/2*(t-t2)),
	}
	turn = [4]float64{
		c * 6 / l * (t2 - t),
		c * (1 - 4*t + 3*t2 + phi*(1-t)),
		c * 6 / l * (t - t2),
		c * (3*t2 - 2*t + phi*t),
	}
	return defl, turn
}

// addFixed adds to f the fixed-end forces of ld.
func (e *element) addFixed(ld *load, f *[12]float64) {
	if ld.point {
		e.addFixedPoint(ld.a, &ld.q1, &ld.q2, f)
		return
	}
	h := ld.b - ld.a
	if h == e.L && ld.q1 == ld.q2 && e.shear == [2]float64{} { // by far the most: own weight, wind on walls
		e.addFixedUniform(&ld.q1, f)
		return
	}
	for _, g := range gauss3 {
		var q [3]float64
		for k := range q {
			q[k] = ((1-g.x)*ld.q1[k] + g.x*ld.q2[k]) * g.w * h
		}
		e.addFixedPoint(ld.a+g.x*h, &q, &[3]float64{}, f)
	}
}

// addFixedPoint adds the fixed-end forces of a force and a moment at station a.
func (e *element) addFixedPoint(a float64, force, moment *[3]float64, f *[12]float64) {
	t := a / e.L
	f[0] -= force[0] * (1 - t)
	f[6] -= force[0] * t
	f[3] -= moment[0] * (1 - t)
	f[9] -= moment[0] * t
	for p := range 2 {
		v := planeOf(f, p)
		q, m := force[deflDOF[p]], planeSign[p]*moment[turnDOF[p]-3]
		if e.slender[p] {
			v[0] -= q*(1-t) - m/e.L
			v[2] -= q*t + m/e.L
		} else {
			n, r := shape(a, e.L, 12*e.EI[p]*e.shear[p]/(e.L*e.L))
			for k := range v {
				v[k] -= q*n[k] + m*r[k]
			}
		}
		putPlane(f, p, &v)
	}
}

// addFixedUniform adds those of a load that is the same all along, without shear deformation: qL/2 and qL²/12.
func (e *element) addFixedUniform(q *[3]float64, f *[12]float64) {
	half := q[0] * e.L / 2
	f[0] -= half
	f[6] -= half
	half = q[1] * e.L / 2
	f[1] -= half
	f[7] -= half
	if !e.slender[0] {
		f[5] -= half * e.L / 6
		f[11] += half * e.L / 6
	}
	half = q[2] * e.L / 2
	f[2] -= half
	f[8] -= half
	if !e.slender[1] { // moments about y have the other sign
		f[4] += half * e.L / 6
		f[10] -= half * e.L / 6
	}
}
