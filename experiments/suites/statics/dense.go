package statics

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/solver"
)

// The dense routine is a second opinion for cases without a closed form. It shares the reader and the types with the
// solver, and nothing else: members are cut into cubic (Hermite) elements with their consistent geometric stiffness, their
// inner freedoms are eliminated one by one, the rest is solved with gonum's dense Cholesky. Axial forces are iterated to a
// fixed point; sets of one-way members are found by pivoting one at a time (Murty, Linear Complementarity, 4.2); critical
// factors by bisection on the count of negative pivots. No shear deformation, no rigid arms.

// cuts is how many elements a member is cut into: the error of a load factor is (π/cuts)⁴/720 at most for a member at its
// own Euler load, 2e-6.
const cuts = 16

// manyMembers is the size of a structure from which half as many cuts do: its members are far from their own Euler loads.
const manyMembers = 40

// denseFrame is one load case of a structure.
type denseFrame struct {
	s     *solver.Structure
	lc    *solver.Case
	cuts  int
	index []int // 6 per node: unknown or -1
	n     int
	gone  []bool      // slack elements that are left out
	token []bool      // slack elements with token stiffness
	axial [][]float64 // per element and cut
}

// read takes a form to a structure by the neutral form's reader.
func read(f *form, lc string) (*denseFrame, error) {
	file, err := formFile(f)
	if err != nil {
		return nil, err
	}
	s := file.Structure
	at := slices.IndexFunc(s.Cases, func(c solver.Case) bool { return c.ID == lc })
	if at < 0 {
		return nil, fmt.Errorf("no load case %s", lc)
	}
	n := cuts
	if len(s.Elements) > manyMembers {
		n = cuts / 2
	}
	d := &denseFrame{s: s, lc: &s.Cases[at], cuts: n, gone: make([]bool, len(s.Elements)), token: make([]bool, len(s.Elements))}
	for e := range s.Elements {
		el := &s.Elements[e]
		if el.OffsetI != (r3.Vec{}) || el.OffsetJ != (r3.Vec{}) || el.Asy > 0 || el.Asz > 0 {
			return nil, fmt.Errorf("member %s has arms or shear deformation, which the dense routine does not know", el.ID)
		}
		d.axial = append(d.axial, make([]float64, d.cutsOf(e)))
	}
	d.number()
	return d, nil
}

// bar tells an axial-only element.
func (d *denseFrame) bar(e int) bool {
	return d.s.Elements[e].Bar || d.s.Elements[e].Acts != solver.BothWays
}

func (d *denseFrame) cutsOf(e int) int {
	if d.bar(e) {
		return 1
	}
	return d.cuts
}

// number gives unknowns to what is not held; nodes where only bars meet do not turn.
func (d *denseFrame) number() {
	turns := make([]bool, len(d.s.Nodes))
	for e := range d.s.Elements {
		if !d.bar(e) {
			turns[d.s.Elements[e].I], turns[d.s.Elements[e].J] = true, true
		}
	}
	for i := range d.s.Nodes {
		for k := range 6 {
			if d.s.Nodes[i].Held[k] || k >= 3 && !turns[i] {
				d.index = append(d.index, -1)
				continue
			}
			d.index = append(d.index, d.n)
			d.n++
		}
	}
}

// axes returns local x, y, z as rows and the length.
func (d *denseFrame) axes(e int) (r [3][3]float64, l float64) {
	el := &d.s.Elements[e]
	v := r3.Sub(d.s.Nodes[el.J].Pos, d.s.Nodes[el.I].Pos)
	l = r3.Norm(v)
	x := r3.Scale(1/l, v)
	hint := el.YAxis
	if d.bar(e) {
		hint = r3.Vec{X: 0.31, Y: 0.47, Z: -0.83} // any roll will do for a bar
	}
	z := r3.Unit(r3.Cross(x, hint))
	y := r3.Cross(z, x)
	return [3][3]float64{{x.X, x.Y, x.Z}, {y.X, y.Y, y.Z}, {z.X, z.Y, z.Z}}, l
}

// assemble builds stiffness and loads of the whole; hidden counts negative pivots inside members.
func (d *denseFrame) assemble(lambda float64) (k *mat.SymDense, f []float64, parts []*part, hidden int) {
	k = mat.NewSymDense(d.n, nil)
	f = make([]float64, d.n)
	for _, l := range d.lc.Nodal {
		for c, v := range [6]float64{l.F.X, l.F.Y, l.F.Z, l.M.X, l.M.Y, l.M.Z} {
			if i := d.index[6*l.Node+c]; i >= 0 {
				f[i] += v
			}
		}
	}
	for i := range d.s.Nodes {
		for c, s := range d.s.Nodes[i].Spring {
			if q := d.index[6*i+c]; q >= 0 {
				k.SetSym(q, q, k.At(q, q)+s)
			}
		}
	}
	for e := range d.s.Elements {
		p := d.part(e, lambda)
		hidden += p.negative
		parts = append(parts, p)
		for a := range 12 {
			i := d.unknown(e, a)
			if i < 0 {
				continue
			}
			f[i] += p.gf[a]
			for b := range 12 {
				if j := d.unknown(e, b); j >= 0 && j >= i {
					k.SetSym(i, j, k.At(i, j)+p.gk[a][b])
				}
			}
		}
	}
	return k, f, parts, hidden
}

// unknown is the number of freedom a (of 12) of element e.
func (d *denseFrame) unknown(e, a int) int {
	node := d.s.Elements[e].I
	if a >= 6 {
		node = d.s.Elements[e].J
	}
	return d.index[6*node+a%6]
}

// denseAnswer is displacements (6 per node, global), end forces (local, of the nodes on the ends) and states.
type denseAnswer struct {
	d     *denseFrame
	u     []float64
	ends  [][12]float64
	slack []bool
}

// solve solves once with the axial forces in hand and renews them from the answer. ok is false if the stiffness is not
// positive definite.
func (d *denseFrame) solve(second bool) (a *denseAnswer, change float64, ok bool) {
	lambda := 0.0
	if second {
		lambda = 1
	}
	k, f, parts, hidden := d.assemble(lambda)
	var chol mat.Cholesky
	if !chol.Factorize(k) || hidden > 0 {
		return nil, 0, false
	}
	var x mat.VecDense
	if err := chol.SolveVecTo(&x, mat.NewVecDense(d.n, f)); err != nil {
		return nil, 0, false
	}
	a = &denseAnswer{d: d, u: make([]float64, 6*len(d.s.Nodes)), ends: make([][12]float64, len(parts)), slack: make([]bool, len(parts))}
	for i, q := range d.index {
		if q >= 0 {
			a.u[i] = x.AtVec(q)
		}
	}
	largest := 0.0
	for e, p := range parts {
		var u [12]float64
		el := &d.s.Elements[e]
		copy(u[:6], a.u[6*el.I:6*el.I+6])
		copy(u[6:], a.u[6*el.J:6*el.J+6])
		ends, axial := p.recover(u)
		a.ends[e] = ends
		for c := range axial {
			change = max(change, math.Abs(axial[c]-d.axial[e][c]))
			largest = max(largest, math.Abs(axial[c]))
			d.axial[e][c] = axial[c]
		}
	}
	if largest > 0 {
		change /= largest
	}
	return a, change, true
}

// settle iterates axial forces to a fixed point for the set of slack members in hand.
func (d *denseFrame) settle(second bool) (*denseAnswer, bool) {
	for e := range d.axial {
		clear(d.axial[e])
	}
	if !second {
		a, _, ok := d.solve(false)
		return a, ok
	}
	for range 60 {
		a, change, ok := d.solve(true)
		if !ok {
			return nil, false
		}
		if change < 1e-10 {
			return a, true
		}
	}
	return nil, false
}

// reference answers a load case: linear or second order, one-way members acting as they must if oneWay.
func reference(f *form, lc string, second, oneWay bool) (*denseAnswer, error) {
	d, err := read(f, lc)
	if err != nil {
		return nil, err
	}
	if oneWay {
		a, err := d.pivot(false)
		if err != nil || !second {
			return a, err
		}
		clear(d.gone) // the search goes on from the linear set
		return d.pivot(true)
	}
	a, ok := d.settle(second)
	if !ok {
		return nil, fmt.Errorf("load case %s has no stable state", lc)
	}
	return a, nil
}

// pivot finds which one-way members act: the first wrong one changes its state until none is wrong. Slack ones keep a
// token stiffness meanwhile and are left out of the final answer.
func (d *denseFrame) pivot(second bool) (*denseAnswer, error) {
	for range 2000 {
		a, ok := d.settle(second)
		if !ok {
			return nil, fmt.Errorf("a state met while searching does not stand")
		}
		wrong := -1
		for e := range d.s.Elements {
			stretch := a.stretch(e)
			if acts := d.s.Elements[e].Acts; acts == solver.BothWays {
				continue
			} else if acts == solver.CompressionOnly {
				stretch = -stretch
			}
			if d.token[e] == (stretch > 0) {
				wrong = e
				break
			}
		}
		if wrong < 0 {
			copy(d.gone, d.token)
			a, ok := d.settle(second)
			if !ok {
				return nil, fmt.Errorf("the final state does not stand without its slack members")
			}
			copy(a.slack, d.token)
			return a, nil
		}
		d.token[wrong] = !d.token[wrong]
	}
	return nil, fmt.Errorf("the search for the set of one-way members did not end")
}

// stretch is how much longer the chord of element e has become.
func (a *denseAnswer) stretch(e int) float64 {
	r, _ := a.d.axes(e)
	el := &a.d.s.Elements[e]
	t := 0.0
	for c := range 3 {
		t += r[0][c] * (a.u[6*el.J+c] - a.u[6*el.I+c])
	}
	return t
}

// below counts critical factors under lambda, the axial forces in hand being those at factor 1.
func (d *denseFrame) below(lambda float64) int {
	k, _, _, hidden := d.assemble(lambda)
	rows := make([][]float64, d.n)
	for i := range rows {
		rows[i] = make([]float64, d.n)
		for j := range rows[i] {
			rows[i][j] = k.At(i, j)
		}
	}
	for i := d.n - 1; i >= 0; i-- {
		if rows[i][i] < 0 {
			hidden++
		}
		eliminate(rows, nil, i)
	}
	return hidden
}

// critical returns the lowest n load factors of elastic buckling, the axial forces being those of linear analysis (of the
// state with one-way members as they act).
func critical(f *form, lc string, n int) ([]float64, error) {
	d, err := read(f, lc)
	if err != nil {
		return nil, err
	}
	if _, err := d.pivot(false); err != nil {
		return nil, err
	}
	var out []float64
	lo := 0.0
	for k := 1; k <= n; k++ {
		hi := max(1, 2*lo)
		for d.below(hi) < k {
			hi *= 2
			if hi > 1e9 {
				return out, nil
			}
		}
		a := lo
		for hi-a > 1e-6*hi {
			m := 0.5 * (a + hi)
			if d.below(m) < k {
				a = m
			} else {
				hi = m
			}
		}
		lo = a
		out = append(out, 0.5*(a+hi))
	}
	return out, nil
}

// disp is a displacement by node id.
func (a *denseAnswer) disp(id int, dof string) float64 {
	i := slices.IndexFunc(a.d.s.Nodes, func(n solver.Node) bool { return n.ID == id })
	return a.u[6*i+slices.Index(dofs, dof)]
}

// force is an end force.
func (a *denseAnswer) force(m, end, comp string) float64 {
	e := slices.IndexFunc(a.d.s.Elements, func(el solver.Element) bool { return el.ID == m })
	k := slices.Index(components, comp)
	if end == "j" {
		k += 6
	}
	return a.ends[e][k]
}

// isSlack tells the state of a one-way member.
func (a *denseAnswer) isSlack(m string) bool {
	return a.slack[slices.IndexFunc(a.d.s.Elements, func(el solver.Element) bool { return el.ID == m })]
}
