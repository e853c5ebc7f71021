package strip

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// The distortional half-wavelength of an outline by constrained modes. The deformations of the sharp-cornered outline
// are confined to those that strain no plate in its plane across and in shear (each side keeps its length and its right
// angle) and that warp independently of rigid motion: what is left is pure distortion, two modes for a lipped channel or
// zed. Sources: S. Adany, B. W. Schafer, Buckling mode decomposition of single-branched open cross-section members via
// finite strip method, Thin-Walled Structures 44 (2006); for reading the full solution at the half-wavelength found here,
// Z. Li, B. W. Schafer, Application of the finite strip method in cold-formed steel member design, J. Constr. Steel Res.
// 66 (2010).

// frame is the sharp-cornered outline with one strip a side.
type frame struct {
	*Section
	warps [][]float64 // warping of the points, a row per pure distortional mode
}

// newFrame prepares the distortional modes of o; nil if it has none (fewer than five points).
func newFrame(o Outline, m Material) (*frame, error) {
	if len(o.Points) < 5 {
		return nil, nil
	}
	o.R = 0
	s, err := o.Section(Mesh{Corner: 1, Least: 1, Most: 1, Width: 1}, m)
	if err != nil {
		return nil, err
	}
	return &frame{Section: s, warps: pureDistortion(o)}, nil
}

// pureDistortion returns the warpings that are orthogonal along the mid-line to those of the rigid motions: constant,
// X, Y and the sectorial coordinate.
func pureDistortion(o Outline) [][]float64 {
	n := len(o.Points)
	weight := mat.NewSymDense(n, nil)
	sector := make([]float64, n)
	for i := range n - 1 {
		p, q := o.Points[i], o.Points[i+1]
		l := dist(p, q)
		weight.SetSym(i, i, weight.At(i, i)+l/3)
		weight.SetSym(i+1, i+1, weight.At(i+1, i+1)+l/3)
		weight.SetSym(i, i+1, l/6)
		sector[i+1] = sector[i] + p.X*q.Y - q.X*p.Y
	}
	seeds := [][]float64{make([]float64, n), make([]float64, n), make([]float64, n), sector}
	for i, p := range o.Points {
		seeds[0][i], seeds[1][i], seeds[2][i] = 1, p.X, p.Y
	}
	for i := range n {
		unit := make([]float64, n)
		unit[i] = 1
		seeds = append(seeds, unit)
	}
	inner := func(a, b []float64) float64 {
		return mat.Inner(mat.NewVecDense(n, a), weight, mat.NewVecDense(n, b))
	}
	var basis [][]float64
	for _, v := range seeds {
		v = append([]float64(nil), v...)
		before := math.Sqrt(inner(v, v))
		for range 2 {
			for _, b := range basis {
				axpy(v, -inner(v, b), b)
			}
		}
		left := math.Sqrt(inner(v, v))
		if left <= 1e-6*before {
			continue
		}
		for i := range v {
			v[i] /= left
		}
		basis = append(basis, v)
	}
	return basis[4:]
}

// shape returns the freedoms of a warping v at wave number k: in-plane translations from zero shear (k·u + v′ = 0), the
// rest from equilibrium of the cross-section as a frame of plates bending across.
func (f *frame) shape(v []float64, k float64) []float64 {
	n := len(v)
	x := make([]float64, dofs*n)
	slide := make([]float64, n-1)
	for e := range slide {
		slide[e] = -(v[e+1] - v[e]) / (k * f.geometry(e).b)
	}
	for i := range n {
		x[dofs*i+dofLong] = v[i]
		if i == 0 || i == n-1 {
			continue
		}
		a, b := f.geometry(i-1), f.geometry(i)
		det := a.cx*b.cy - a.cy*b.cx
		x[dofs*i+dofX] = (slide[i-1]*b.cy - slide[i]*a.cy) / det
		x[dofs*i+dofY] = (a.cx*slide[i] - b.cx*slide[i-1]) / det
	}
	f.settle(x, slide)
	return x
}

// settle finds the unknown freedoms by least transverse bending energy. An end's slide is imposed by writing the end's
// translation as slide·along + w·normal with w unknown.
func (f *frame) settle(x []float64, slide []float64) {
	n := len(x) / dofs
	// Columns: turns of all points, then w of the two ends.
	cols := n + 2
	lift := mat.NewDense(dofs*n, cols, nil)
	for i := range n {
		lift.Set(dofs*i+dofTurn, i, 1)
	}
	for c, i := range []int{0, n - 1} {
		e := min(i, n-2)
		g := f.geometry(e)
		x[dofs*i+dofX], x[dofs*i+dofY] = slide[e]*g.cx, slide[e]*g.cy
		lift.Set(dofs*i+dofX, n+c, -g.cy)
		lift.Set(dofs*i+dofY, n+c, g.cx)
	}
	bend := f.bendingAcross()
	var kb, left mat.Dense
	kb.Mul(bend, lift)
	left.Mul(lift.T(), &kb)
	right := mat.NewVecDense(cols, nil)
	right.MulVec(kb.T(), mat.NewVecDense(len(x), append([]float64(nil), x...)))
	right.ScaleVec(-1, right)
	var sol mat.VecDense
	if err := sol.SolveVec(&left, right); err != nil {
		panic("strip: the frame of an outline is a mechanism: " + err.Error())
	}
	var add mat.VecDense
	add.MulVec(lift, &sol)
	for i := range x {
		x[i] += add.AtVec(i)
	}
}

// bendingAcross assembles ∫D·w″² alone, without the plates' stretching.
func (f *frame) bendingAcross() *mat.SymDense {
	out := mat.NewSymDense(dofs*len(f.nodes), nil)
	for e, st := range f.strips {
		g := f.geometry(e)
		d := f.mat.E * g.t * g.t * g.t / (12 * (1 - f.mat.Nu*f.mat.Nu))
		var k matrix8
		for _, p := range gauss {
			s := g.at(p[0])
			k.addProduct(p[1]*g.b*d, &s.ddw, &s.ddw)
		}
		k = g.rotate(k)
		at := func(i int) int { return dofs*[2]int{st.I, st.J}[i/dofs] + i%dofs }
		for i := range k {
			for j := i; j < len(k); j++ {
				p, q := at(i), at(j)
				out.SetSym(p, q, out.At(p, q)+k[i][j])
			}
		}
	}
	return out
}

// factor is the lowest factor of pure distortion at half-wavelength a under the stresses g was made from; +Inf if none.
func (f *frame) factor(g *skyline, a float64) float64 {
	v := &Solver{s: f.Section, k: newSkyline(f.Section.shape)}
	k := v.setLength(a)
	m := len(f.warps)
	x := make([][]float64, m)
	ks, gs := mat.NewSymDense(m, nil), mat.NewSymDense(m, nil)
	y := make([]float64, dofs*len(f.nodes))
	for j := range m {
		x[j] = f.shape(f.warps[j], k)
		v.k.mul(y, x[j])
		for i := 0; i <= j; i++ {
			ks.SetSym(i, j, dot(x[i], y))
		}
		g.mul(y, x[j])
		for i := 0; i <= j; i++ {
			gs.SetSym(i, j, k*k*dot(x[i], y))
		}
	}
	mu, _ := generalised(gs, ks)
	if mu[0] <= 0 {
		return math.Inf(1)
	}
	return 1 / mu[0]
}

// least finds the half-wavelength (m) and factor of the least pure distortion between two lengths; ok is false if the
// least lies at an end, or if nothing is compressed.
func (f *frame) least(kind Loading, from, to float64) (wave, factor float64, ok bool) {
	g := f.stressStiffness(f.Stress(kind))
	at := func(x float64) float64 { return f.factor(g, math.Exp(x)) }
	xs := Lengths(from, to, 40)
	best, i := math.Inf(1), 0
	for j, l := range xs {
		if q := f.factor(g, l); q < best {
			best, i = q, j
		}
	}
	if i == 0 || i == len(xs)-1 {
		return 0, 0, false
	}
	x, fx := brent(at, math.Log(xs[i-1]), math.Log(xs[i]), math.Log(xs[i+1]), waveTol)
	return math.Exp(x), fx, true
}
