package strip

import "math"

// matrix8 is a strip's matrix over the freedoms of its two nodes.
type matrix8 [2 * dofs][2 * dofs]float64

// span is the geometry of one strip: width b, thickness t (m), and the direction cosines from I to J.
type span struct{ b, t, cx, cy float64 }

// geometry measures strip e.
func (s *Section) geometry(e int) span {
	st := s.strips[e]
	dx, dy := s.nodes[st.J].X-s.nodes[st.I].X, s.nodes[st.J].Y-s.nodes[st.I].Y
	b := math.Hypot(dx, dy)
	return span{b: b, t: st.T, cx: dx / b, cy: dy / b}
}

// Local freedoms of a strip's end: across (u, in the plate's plane), out of plane (w, to the left of I→J), along (v),
// rotation. rotate turns a matrix over them into section axes; rotation and v are the same in both.
func (g span) rotate(local matrix8) matrix8 {
	turn := [dofs][dofs]float64{
		{g.cx, g.cy, 0, 0},
		{-g.cy, g.cx, 0, 0},
		{0, 0, 1, 0},
		{0, 0, 0, 1},
	}
	var out matrix8
	for p := range 2 {
		for q := range 2 {
			for i := range dofs {
				for j := range dofs {
					sum := 0.0
					for a := range dofs {
						for b := range dofs {
							sum += turn[a][i] * local[dofs*p+a][dofs*q+b] * turn[b][j]
						}
					}
					out[dofs*p+i][dofs*q+j] = sum
				}
			}
		}
	}
	return out
}

// gauss holds four Gauss points and weights on 0…1: exact to degree 7, which is cubic times cubic times linear stress.
var gauss = [4][2]float64{
	{0.5 - 0.5*0.8611363115940526, 0.5 * 0.3478548451374538},
	{0.5 - 0.5*0.3399810435848563, 0.5 * 0.6521451548625461},
	{0.5 + 0.5*0.3399810435848563, 0.5 * 0.6521451548625461},
	{0.5 + 0.5*0.8611363115940526, 0.5 * 0.3478548451374538},
}

// shapes are the interpolations at one point, as rows over the eight local freedoms: u, v, w and their derivatives
// across the strip.
type shapes struct{ u, du, v, dv, w, dw, ddw [2 * dofs]float64 }

// at evaluates the interpolations at the share r of the width: linear u and v, cubic w (Hermite).
func (g span) at(r float64) shapes {
	var s shapes
	b := g.b
	s.u[0], s.u[4] = 1-r, r
	s.du[0], s.du[4] = -1/b, 1/b
	s.v[2], s.v[6] = 1-r, r
	s.dv[2], s.dv[6] = -1/b, 1/b
	s.w[1], s.w[3] = 1-3*r*r+2*r*r*r, b*(r-2*r*r+r*r*r)
	s.w[5], s.w[7] = 3*r*r-2*r*r*r, b*(r*r*r-r*r)
	s.dw[1], s.dw[3] = (6*r*r-6*r)/b, 1-4*r+3*r*r
	s.dw[5], s.dw[7] = (6*r-6*r*r)/b, 3*r*r-2*r
	s.ddw[1], s.ddw[3] = (12*r-6)/(b*b), (6*r-4)/b
	s.ddw[5], s.ddw[7] = (6-12*r)/(b*b), (6*r-2)/b
	return s
}

// addProduct adds f·(p·qᵀ + q·pᵀ)/2 to m.
func (m *matrix8) addProduct(f float64, p, q *[2 * dofs]float64) {
	for i := range m {
		for j := range m {
			m[i][j] += 0.5 * f * (p[i]*q[j] + q[i]*p[j])
		}
	}
}

// stiffness returns the strip's local matrices of k⁰, k¹, k², k⁴. With w, u over sin(ky) and v over cos(ky), the strain
// energy per a/2 is
// D/2·∫(w″² + k⁴w² - 2νk²w″w + 2(1-ν)k²w′²) + t/2·∫(E₁(u′² + k²v² - 2νk u′v) + G(ku + v′)²), E₁ = E/(1-ν²).
func stiffness(g span, mat Material) [4]matrix8 {
	var k [4]matrix8
	e1 := mat.E / (1 - mat.Nu*mat.Nu)
	d := e1 * g.t * g.t * g.t / 12
	for _, p := range gauss {
		s, f := g.at(p[0]), p[1]*g.b
		k[0].addProduct(f*d, &s.ddw, &s.ddw)
		k[2].addProduct(-2*f*d*mat.Nu, &s.ddw, &s.w)
		k[2].addProduct(2*f*d*(1-mat.Nu), &s.dw, &s.dw)
		k[3].addProduct(f*d, &s.w, &s.w)

		et, gt := f*e1*g.t, f*mat.shear()*g.t
		k[0].addProduct(et, &s.du, &s.du)
		k[0].addProduct(gt, &s.dv, &s.dv)
		k[1].addProduct(-2*et*mat.Nu, &s.du, &s.v)
		k[1].addProduct(2*gt, &s.u, &s.dv)
		k[2].addProduct(et, &s.v, &s.v)
		k[2].addProduct(gt, &s.u, &s.u)
	}
	return k
}

// geometric returns the local matrix of the work of stresses s1 at I to s2 at J (compression positive), over k².
func geometric(g span, s1, s2 float64) matrix8 {
	var k matrix8
	for _, p := range gauss {
		s := g.at(p[0])
		f := p[1] * g.b * g.t * (s1 + (s2-s1)*p[0])
		k.addProduct(f, &s.u, &s.u)
		k.addProduct(f, &s.w, &s.w)
	}
	return k
}
