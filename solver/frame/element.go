package frame

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/solver"
)

// rigid is the stiffness of an end connection that has neither release nor spring.
var rigid = math.Inf(1)

// block is a symmetric stiffness of up to four local freedoms. The two bending planes use (deflection, slope) at end i, then
// at end j: plane 0 is (v, θz) with Vy, Mz; plane 1 is (w, -θy) with Vz, -My, so that one theory serves both.
type block [4][4]float64

// planeSign turns a plane's slope and moment into the local rotation and moment: +θz, Mz and -θy, -My.
var planeSign = [2]float64{1, -1}

// deflDOF and turnDOF are the local freedoms (of one end) of each plane.
var (
	deflDOF = [2]int{1, 2}
	turnDOF = [2]int{5, 4}
)

// element holds the numbers of one element that do not depend on loads.
type element struct {
	L       float64
	R       [3][3]float64 // rows: local x, y, z in global axes
	EA, GJ  float64
	EI      [2]float64 // per plane: EIz, EIy
	shear   [2]float64 // per plane: 1/(G As), 0 without shear deformation
	bar     bool
	slender [2]bool       // per plane: no bending stiffness (a bar, or I = 0); lateral loads go to the ends as on a simple beam
	arms    bool          // has rigid offsets
	arm     [2][3]float64 // from node to end, global
	loose   bool          // some joint at its ends is not rigid
	axial   joint
	torsion joint
	plane   [2]joint
	weakest float64 // the lesser EI of the planes that bend, 0 if none does
	linear  state   // first-order stiffness
}

// joint is how the ends of one block are connected to the nodes: stiffness per freedom, rigid, sprung or 0.
type joint struct {
	k     [4]float64
	loose bool
}

// pinned tells whether both ends of a bending plane turn freely and are held across it.
func (j *joint) pinned() bool { return j.k == [4]float64{rigid, 0, rigid, 0} }

// state is the stiffness of an element under some axial force, with its joints condensed.
type state struct {
	kA, kT  float64 // stretch and twist, N/m and N·m/rad
	plane   [2]block
	axialC  condensation
	twistC  condensation
	planeC  [2]condensation
	arm     [2]float64 // geometric stiffness of the rigid arms, N·m/rad about axes square to x
	negJ    int        // negative eigenvalues hidden inside the element (Wittrick and Williams' J0)
	deadAny bool       // a joint condensation met a freedom without any stiffness
}

// bend returns the first-order stiffness of a plane (Przemieniecki, Theory of Matrix Structural Analysis, 5.6).
func bend(ei, shear, l float64) block {
	phi := 12 * ei * shear / (l * l)
	c := ei / (l * l * l * (1 + phi))
	a, b := 12*c, 6*l*c
	d, e := (4+phi)*l*l*c, (2-phi)*l*l*c
	return block{{a, b, -a, b}, {b, d, -b, e}, {-a, -b, a, -b}, {b, e, -b, d}}
}

// condensation records how joints were eliminated from a block of n freedoms, so that loads can follow.
type condensation struct {
	n     int
	steps int
	step  [4]condStep
	dead  [4]bool // freedoms that the element leaves free inside: no stiffness was left to hold them
}

type condStep struct {
	dof   int
	col   [4]float64 // k_ir / (k_rr + spring)
	alpha float64    // spring / (k_rr + spring)
}

// nullJoint is the share of a freedom's own stiffness at or below which condensation leaves nothing but round-off.
const nullJoint = 1e-10

// condense eliminates from k the member ends behind joints that are not rigid and leaves the stiffness that the nodes see.
// It returns the number of negative pivots.
func (c *condensation) condense(k *block, n int, j *joint) (neg int) {
	c.n, c.steps, c.dead = n, 0, [4]bool{}
	if !j.loose {
		return 0
	}
	own := [4]float64{k[0][0], k[1][1], k[2][2], k[3][3]}
	for r := range n {
		ks := j.k[r]
		if math.IsInf(ks, 1) {
			continue
		}
		pivot := k[r][r] + ks
		s := &c.step[c.steps]
		*s = condStep{dof: r}
		c.steps++
		if math.Abs(pivot) <= nullJoint*math.Abs(own[r]) {
			c.dead[r] = own[r] > 0
			for i := range n {
				k[i][r], k[r][i] = 0, 0
			}
			continue
		}
		if pivot < 0 {
			neg++
		}
		s.alpha = ks / pivot
		for i := range n {
			if i != r {
				s.col[i] = k[i][r] / pivot
			}
		}
		row := k[r]
		for i := range n {
			for m := range n {
				switch {
				case i == r && m == r:
					k[i][m] = ks * row[r] / pivot
				case i == r:
					k[i][m] = ks * s.col[m]
				case m == r:
					k[i][m] = ks * s.col[i]
				default:
					k[i][m] -= s.col[i] * row[m]
				}
			}
		}
	}
	k.clean(n, &own)
	return neg
}

// clean clears the rows of freedoms that joints have left without stiffness: what stands there is the round-off of large
// numbers that cancelled, and would pass for a soft support.
func (k *block) clean(n int, own *[4]float64) {
	for i := range n {
		if math.Abs(k[i][i]) > nullJoint*math.Abs(own[i]) {
			continue
		}
		for m := range n {
			k[i][m], k[m][i] = 0, 0
		}
	}
}

// loads takes the fixed-end forces of the unjointed element to those of the jointed one. It reports whether a load falls
// on a freedom that nothing holds, beyond tol.
func (c *condensation) loads(f *[4]float64, tol float64) (lost bool) {
	for i := range c.steps {
		s := &c.step[i]
		fr := f[s.dof]
		if c.dead[s.dof] {
			lost = lost || math.Abs(fr) > tol
			f[s.dof] = 0
			continue
		}
		for m := range c.n {
			f[m] -= s.col[m] * fr
		}
		f[s.dof] = s.alpha * fr
	}
	return lost
}

// setLinear fills s with the first-order stiffness of e.
func (e *element) setLinear(s *state) {
	*s = state{}
	s.kA = e.EA / e.L
	if e.bar {
		return
	}
	s.kT = e.GJ / e.L
	k := pair(s.kA)
	s.axialC.condense(&k, 2, &e.axial)
	s.kA = k[0][0]
	k = pair(s.kT)
	s.twistC.condense(&k, 2, &e.torsion)
	s.kT = k[0][0]
	for p := range s.plane {
		if e.slender[p] {
			continue
		}
		s.plane[p] = bend(e.EI[p], e.shear[p], e.L)
		s.planeC[p].condense(&s.plane[p], 4, &e.plane[p])
	}
	s.noteDead()
}

func pair(k float64) block { return block{{k, -k}, {-k, k}} }

func (s *state) noteDead() {
	none := [4]bool{}
	s.deadAny = s.axialC.dead != none || s.twistC.dead != none || s.planeC[0].dead != none || s.planeC[1].dead != none
}

// axesOf is an element's length and local axes.
func axesOf(s *solver.Structure, el *solver.Element) (l float64, axes [3][3]float64) {
	a := r3.Add(s.Nodes[el.I].Pos, el.OffsetI)
	b := r3.Add(s.Nodes[el.J].Pos, el.OffsetJ)
	d := r3.Sub(b, a)
	l = distance(d)
	x := r3.Scale(1/l, d)
	y := r3.Sub(el.YAxis, r3.Scale(r3.Dot(el.YAxis, x), x))
	if n := distance(y); n > alongAxis*distance(el.YAxis) {
		y = r3.Scale(1/n, y)
	} else {
		y = anySquareTo(x)
	}
	z := r3.Cross(x, y)
	return l, [3][3]float64{{x.X, x.Y, x.Z}, {y.X, y.Y, y.Z}, {z.X, z.Y, z.Z}}
}

// distance is r3.Norm, which takes two roots, without those that find what is plain: of the same bits.
func distance(v r3.Vec) float64 {
	yz := 0.0
	switch {
	case v.Y == 0:
		yz = math.Abs(v.Z)
	case v.Z == 0:
		yz = math.Abs(v.Y)
	default:
		yz = math.Hypot(v.Y, v.Z)
	}
	switch {
	case v.X == 0:
		return yz
	case yz == 0:
		return math.Abs(v.X)
	}
	return math.Hypot(v.X, yz)
}

// fill computes the numbers of e from a structure whose values have been checked.
func (e *element) fill(s *solver.Structure, el *solver.Element) {
	e.L, e.R = axesOf(s, el)
	e.EA, e.GJ = el.E*el.A, el.G*el.It
	e.EI = [2]float64{el.E * el.Iz, el.E * el.Iy}
	e.shear = [2]float64{flexibility(el.G, el.Asy), flexibility(el.G, el.Asz)}
	e.bar = isBar(el)
	e.slender = [2]bool{e.bar || e.EI[0] == 0, e.bar || e.EI[1] == 0}
	e.weakest = 0
	for p := range 2 {
		if !e.slender[p] && (e.weakest == 0 || e.EI[p] < e.weakest) {
			e.weakest = e.EI[p]
		}
	}
	e.arm = [2][3]float64{vec(el.OffsetI), vec(el.OffsetJ)}
	e.arms = e.arm != [2][3]float64{}
	e.setJoints(el)
	e.setLinear(&e.linear)
}

// setJoints reads how the ends are connected.
func (e *element) setJoints(el *solver.Element) {
	if none := ([6]bool{}); isBar(el) || el.ReleaseI == none && el.ReleaseJ == none && el.SpringI == [6]float64{} && el.SpringJ == [6]float64{} {
		all := joint{k: [4]float64{rigid, rigid, rigid, rigid}}
		e.axial, e.torsion, e.plane, e.loose = joint{k: [4]float64{rigid, rigid}}, all, [2]joint{all, all}, false
		return
	}
	e.axial = ends(el, 0)
	e.torsion = ends(el, 3)
	e.axial = joint{k: [4]float64{e.axial.k[0], e.axial.k[1]}, loose: e.axial.loose}
	for p := range e.plane {
		v, t := ends(el, deflDOF[p]), ends(el, turnDOF[p])
		e.plane[p] = joint{k: [4]float64{v.k[0], t.k[0], v.k[1], t.k[1]}, loose: v.loose || t.loose}
	}
	e.loose = e.axial.loose || e.torsion.loose || e.plane[0].loose || e.plane[1].loose
}

// isBar tells whether an element is axial only. One-way elements are: what goes slack has no bending to keep.
func isBar(el *solver.Element) bool { return el.Bar || el.Acts != solver.BothWays }

func flexibility(g, as float64) float64 {
	if as <= 0 || g <= 0 {
		return 0
	}
	return 1 / (g * as)
}

func vec(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

// anySquareTo gives a bar, which has no roll, some pair of axes.
func anySquareTo(x r3.Vec) r3.Vec {
	t := r3.Vec{Z: 1}
	if math.Abs(x.Z) > 0.9 {
		t = r3.Vec{X: 1}
	}
	return r3.Unit(r3.Sub(t, r3.Scale(r3.Dot(t, x), x)))
}

// ends reads how local component c (0..5) of a beam is connected at the two ends.
func ends(el *solver.Element, c int) joint {
	j := joint{k: [4]float64{rigid, rigid, rigid, rigid}}
	released := [2]bool{el.ReleaseI[c], el.ReleaseJ[c]}
	springs := [2]float64{el.SpringI[c], el.SpringJ[c]}
	for end := range 2 {
		switch {
		case released[end]:
			j.k[end], j.loose = 0, true
		case springs[end] > 0:
			j.k[end], j.loose = springs[end], true
		}
	}
	return j
}

// global writes the lower triangle of the 12x12 stiffness of state s in global axes at the nodes, row by row.
func (e *element) global(s *state, out *[78]float64) {
	var k [12][12]float64
	x, y, z := &e.R[0], &e.R[1], &e.R[2]
	pz, py := &s.plane[0], &s.plane[1]
	for a := range 2 {
		for b := range a + 1 {
			sign := 1.0
			if a != b {
				sign = -1
			}
			va, ta, vb, tb := 2*a, 2*a+1, 2*b, 2*b+1
			kx, ky, kz := sign*s.kA, pz[va][vb], py[va][vb]
			rx, ry, rz := sign*s.kT, py[ta][tb], pz[ta][tb]
			vt, wt := pz[va][tb], -py[va][tb] // deflection at a, turn at b
			tv, tw := pz[ta][vb], -py[ta][vb] // turn at a, deflection at b
			for i := range 3 {
				kxi, kyi, kzi, rxi, ryi, rzi := kx*x[i], ky*y[i], kz*z[i], rx*x[i], ry*y[i], rz*z[i]
				vti, wti, tvi, twi := vt*y[i], wt*z[i], tv*z[i], tw*y[i]
				move, turn := k[6*a+i][6*b:6*b+6], k[6*a+3+i][6*b:6*b+6]
				for j := range 3 {
					move[j] = kxi*x[j] + kyi*y[j] + kzi*z[j]
					turn[3+j] = rxi*x[j] + ryi*y[j] + rzi*z[j]
					move[3+j] = vti*z[j] + wti*y[j]
					turn[j] = tvi*y[j] + twi*z[j]
				}
			}
		}
	}
	if e.arms {
		e.applyArms(&k, s)
	}
	n := 0
	for i := range 12 {
		for j := range i + 1 {
			out[n] = k[i][j]
			n++
		}
	}
}

// addBar adds the stiffness of a bar without arms to the places of its lower triangle.
func (e *element) addBar(k float64, val []float64, place *[78]int32) {
	x := &e.R[0]
	for n, at := range barPlaces {
		p := place[at]
		if p < 0 {
			continue
		}
		i, j := barFreedoms[n][0], barFreedoms[n][1]
		s := k
		if i/3 != j/3 {
			s = -k
		}
		val[p] += s * x[i%3] * x[j%3]
	}
}

// applyArms takes k (lower blocks filled) from the element's ends to the nodes: u_end = u + θ × arm. The arms' own
// geometric stiffness under axial force acts on rotations square to x: the moment of a force whose arm turns.
func (e *element) applyArms(k *[12][12]float64, s *state) {
	for i := range 12 {
		for j := range i {
			k[j][i] = k[i][j]
		}
	}
	for end := range 2 {
		a := &e.arm[end]
		t := 6 * end
		for r := range 12 { // columns: K·T
			row := &k[r]
			ux, uy, uz := row[t], row[t+1], row[t+2]
			row[t+3] += uz*a[1] - uy*a[2]
			row[t+4] += ux*a[2] - uz*a[0]
			row[t+5] += uy*a[0] - ux*a[1]
		}
		for c := range 12 { // rows: Tᵀ·K
			ux, uy, uz := k[t][c], k[t+1][c], k[t+2][c]
			k[t+3][c] += uz*a[1] - uy*a[2]
			k[t+4][c] += ux*a[2] - uz*a[0]
			k[t+5][c] += uy*a[0] - ux*a[1]
		}
		if g := s.arm[end]; g != 0 {
			for i := range 3 {
				for j := range 3 {
					k[t+3+i][t+3+j] += g * (e.R[1][i]*e.R[1][j] + e.R[2][i]*e.R[2][j])
				}
			}
		}
	}
}

// local takes the global displacements of the two nodes to those of the element's ends in local axes.
func (e *element) local(ui, uj []float64) (d [12]float64) {
	for end, u := range [2][]float64{ui, uj} {
		ux, uy, uz := u[0], u[1], u[2]
		if e.arms {
			a := &e.arm[end]
			ux += u[4]*a[2] - u[5]*a[1]
			uy += u[5]*a[0] - u[3]*a[2]
			uz += u[3]*a[1] - u[4]*a[0]
		}
		for i := range 3 {
			r := &e.R[i]
			d[6*end+i] = r[0]*ux + r[1]*uy + r[2]*uz
			d[6*end+3+i] = r[0]*u[3] + r[1]*u[4] + r[2]*u[5]
		}
	}
	return d
}

// scatter adds the end forces f (local, at the ends) to the six-vectors of the nodes, global.
func (e *element) scatter(f *[12]float64, fi, fj []float64) {
	for end, g := range [2][]float64{fi, fj} {
		var F, M [3]float64
		for i := range 3 {
			F[i] = e.R[0][i]*f[6*end] + e.R[1][i]*f[6*end+1] + e.R[2][i]*f[6*end+2]
			M[i] = e.R[0][i]*f[6*end+3] + e.R[1][i]*f[6*end+4] + e.R[2][i]*f[6*end+5]
		}
		if e.arms {
			a := &e.arm[end]
			M[0] += a[1]*F[2] - a[2]*F[1]
			M[1] += a[2]*F[0] - a[0]*F[2]
			M[2] += a[0]*F[1] - a[1]*F[0]
		}
		for i := range 3 {
			g[i] += F[i]
			g[3+i] += M[i]
		}
	}
}

// planeOf picks the four freedoms of plane p out of a local twelve-vector.
func planeOf(d *[12]float64, p int) [4]float64 {
	s := planeSign[p]
	return [4]float64{d[deflDOF[p]], s * d[turnDOF[p]], d[6+deflDOF[p]], s * d[6+turnDOF[p]]}
}

// putPlane is the inverse of planeOf.
func putPlane(d *[12]float64, p int, v *[4]float64) {
	s := planeSign[p]
	d[deflDOF[p]], d[turnDOF[p]], d[6+deflDOF[p]], d[6+turnDOF[p]] = v[0], s*v[1], v[2], s*v[3]
}

// endForces returns K·d + fixed for state s, where fixed are the fixed-end forces with joints condensed.
func (e *element) endForces(s *state, d, fixed *[12]float64) (f [12]float64) {
	f = *fixed
	n := s.kA * (d[6] - d[0])
	t := s.kT * (d[9] - d[3])
	f[0] -= n
	f[6] += n
	f[3] -= t
	f[9] += t
	for p := range s.plane {
		v, g := planeOf(d, p), planeOf(&f, p)
		k := &s.plane[p]
		for i := range 4 {
			g[i] += k[i][0]*v[0] + k[i][1]*v[1] + k[i][2]*v[2] + k[i][3]*v[3]
		}
		putPlane(&f, p, &g)
	}
	return f
}

// condenseLoads takes the fixed-end forces of the unjointed element to those with joints; lost tells that a load falls on
// something that nothing holds.
func (e *element) condenseLoads(s *state, f *[12]float64) (lost bool) {
	if !e.loose {
		return false
	}
	size := 0.0
	for i := range 3 {
		size = max(size, math.Abs(f[i]), math.Abs(f[6+i]), math.Abs(f[3+i])/e.L, math.Abs(f[9+i])/e.L)
	}
	tol := 1e-9 * size * max(1, e.L)
	v := [4]float64{f[0], f[6]}
	lost = s.axialC.loads(&v, tol)
	f[0], f[6] = v[0], v[1]
	v = [4]float64{f[3], f[9]}
	lost = s.twistC.loads(&v, tol) || lost
	f[3], f[9] = v[0], v[1]
	for p := range s.plane {
		v = planeOf(f, p)
		lost = s.planeC[p].loads(&v, tol) || lost
		putPlane(f, p, &v)
	}
	return lost
}
