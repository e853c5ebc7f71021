package frame

import (
	"fmt"
	"math"
	"slices"

	"leanbay/solver"
	"leanbay/solver/sparse"
)

const (
	// nullShift makes the scaled stiffness (unit diagonal) regular for inverse iteration.
	nullShift = 1e-9
	// nullMode is the eigenvalue of the scaled stiffness under which a motion meets no resistance. Soft sheds, standing by
	// twist and weak-axis bending, lie at 1e-7 and above; round-off of a null mode at 1e-15.
	nullMode = 1e-12
	// maxNull limits how many independent mechanisms are sought.
	maxNull = 48
	// smallAmount is the share of a motion under which a freedom does not count as moving.
	smallAmount = 1e-6
	// softCondition is the condition number of the scaled stiffness above which an answer carries a note.
	softCondition = 1e9
)

// Mechanisms returns every independent motion that the loaded structure does not resist with all one-way elements acting;
// none if it stands. Joint rotations that meet nothing at all (nodes where only bars and pins meet) are not among them.
func (w *Workspace) Mechanisms() ([]Mechanism, error) {
	if w.s == nil {
		return nil, errNotLoaded
	}
	w.factorise()
	var out []Mechanism
	if w.status == singular {
		out = append(out, w.mechanisms()...)
	}
	for _, e := range w.loose {
		out = append(out, w.looseMember(e))
	}
	return out, nil
}

// mechanisms names the null modes of the first-order stiffness, which is known to be singular.
func (w *Workspace) mechanisms() []Mechanism {
	if len(w.mechs) > 0 {
		return w.mechs
	}
	modes := w.nulls
	if modes == nil {
		modes = w.nullModes(w.val)
	}
	w.separate(modes)
	for _, u := range modes {
		w.mechs = append(w.mechs, w.describe(u, nil))
	}
	if len(w.mechs) == 0 { // singular by its pivots, yet no mode within the limit: say where the elimination stopped
		w.mechs = append(w.mechs, w.describePivot())
	}
	return w.mechs
}

// nullModes returns a basis of the motions that the stiffness val does not resist, as unknowns, by subspace iteration with
// the inverse of the scaled and slightly shifted matrix.
func (w *Workspace) nullModes(val []float64) [][]float64 {
	n := w.m.n
	scale := make([]float64, n)
	for i := range scale {
		scale[i] = 1
		if d := val[w.m.pattern.Ptr[i]]; d > 0 {
			scale[i] = 1 / math.Sqrt(d)
		}
	}
	scaled := scaledCopy(w.m.pattern, val, scale)
	shifted := slices.Clone(scaled)
	for i := range n {
		shifted[w.m.pattern.Ptr[i]] += nullShift
	}
	f := sparse.NewFactor(w.m.sym)
	if err := f.Refactor(shifted); err != nil {
		return nil
	}
	for p := min(4, n); ; p = min(2*p, n, maxNull) {
		x := make([]float64, n*p)
		seed(x)
		lambda := subspace(w.m.pattern, scaled, f, x, n, p)
		found := 0
		for found < p && lambda[found] < nullMode {
			found++
		}
		if found < p || p == n || p == maxNull {
			return unscaled(x, scale, n, p, found)
		}
	}
}

func scaledCopy(p *sparse.Pattern, val, scale []float64) []float64 {
	out := make([]float64, len(val))
	for j := range p.N {
		for k := p.Ptr[j]; k < p.Ptr[j+1]; k++ {
			out[k] = val[k] * scale[j] * scale[p.Row[k]]
		}
	}
	return out
}

// seed fills x with numbers that look random and are always the same (a Weyl sequence).
func seed(x []float64) {
	t := 0.5
	for i := range x {
		t += math.Phi
		t -= math.Floor(t)
		x[i] = t - 0.5
	}
}

// subspace improves the p columns of x (row-major) towards the lowest eigenvectors of a by inverse iteration with f, a
// factor of a plus a shift, and returns their eigenvalues ascending.
func subspace(pat *sparse.Pattern, a []float64, f *sparse.Factor, x []float64, n, p int) []float64 {
	ax := make([]float64, n*p)
	small := make([]float64, p*p)
	vec := make([]float64, p*p)
	lambda := make([]float64, p)
	for range 12 {
		f.Solve(x, p)
		orthonormalise(x, n, p)
		pat.Mul(ax, a, x, p)
		gram(small, x, ax, n, p)
		jacobi(small, vec, p)
		for i := range lambda {
			lambda[i] = small[i*p+i]
		}
		combine(x, vec, n, p)
	}
	sortColumns(lambda, x, n, p)
	return lambda
}

// unscaled takes the first found columns of x back to unknowns, one slice each.
func unscaled(x, scale []float64, n, p, found int) [][]float64 {
	out := make([][]float64, found)
	for c := range out {
		out[c] = make([]float64, n)
		for i := range n {
			out[c][i] = x[i*p+c] * scale[i]
		}
	}
	return out
}

// separate turns a basis of null motions into one whose members move as few freedoms as can be: reduced echelon form with
// the greatest translation (then rotation) as pivot.
func (w *Workspace) separate(modes [][]float64) {
	length := w.size()
	kind := w.kindOfUnknown()
	done := 0
	for pass := range 2 { // translations first
		for done < len(modes) {
			best, row, col := 0.0, -1, -1
			for r := done; r < len(modes); r++ {
				rot := 0.0
				for k, v := range modes[r] {
					if kind[k] >= 3 {
						rot = max(rot, math.Abs(v)*length)
					}
				}
				for k, v := range modes[r] {
					a := math.Abs(v)
					if (kind[k] >= 3) != (pass == 1) || pass == 0 && a < 1e-7*rot {
						continue
					}
					if a > best*(1+1e-9) {
						best, row, col = a, r, k
					}
				}
			}
			if row < 0 {
				break
			}
			modes[done], modes[row] = modes[row], modes[done]
			pivot(modes, done, col)
			done++
		}
	}
}

// pivot scales row r to one at col and clears col in the other rows.
func pivot(modes [][]float64, r, col int) {
	p := modes[r][col]
	for k := range modes[r] {
		modes[r][k] /= p
	}
	for i := range modes {
		if i == r {
			continue
		}
		f := modes[i][col]
		for k := range modes[i] {
			modes[i][k] -= f * modes[r][k]
		}
	}
}

// kindOfUnknown returns the freedom (0..5) of each unknown.
func (w *Workspace) kindOfUnknown() []int8 {
	kind := make([]int8, w.m.n)
	for k, d := range w.m.dof {
		if d >= 0 {
			kind[d] = int8(k % 6)
		}
	}
	return kind
}

// size is the greatest extent of the structure (m).
func (w *Workspace) size() float64 {
	l := 0.0
	for e := range w.els {
		l = max(l, w.els[e].L)
	}
	return max(l, 1e-9)
}

// describe puts a null motion (unknowns) into movements and words. slack lists the one-way elements that do not
// stop it.
func (w *Workspace) describe(u []float64, slack []int) Mechanism {
	full := make([]float64, 6*len(w.m.nodes))
	shift, turn := 0.0, 0.0
	for k, d := range w.m.dof {
		if d < 0 {
			continue
		}
		full[k] = u[d]
		if k%6 < 3 {
			shift = max(shift, math.Abs(u[d]))
		} else {
			turn = max(turn, math.Abs(u[d]))
		}
	}
	m := Mechanism{Kind: Sway, Member: -1}
	unit := shift
	if shift < smallAmount*turn*w.size() {
		m.Kind, unit = JointRotation, turn
		for k := range full {
			if k%6 < 3 {
				full[k] = 0
			}
		}
	}
	unit = signOfLargest(full, unit)
	for k, v := range full {
		if a := v / unit; math.Abs(a) >= smallAmount {
			m.Moving = append(m.Moving, Movement{Node: k / 6, DOF: solver.DOF(k % 6), Amount: a})
		}
		full[k] = v / unit
	}
	if m.Kind == Sway {
		m.Text = w.swayText(full, slack)
	} else {
		m.Kind, m.Text = w.turnText(full)
	}
	return m
}

// signOfLargest gives unit the sign of the first component that has its size, so that the motion reads as positive.
func signOfLargest(v []float64, unit float64) float64 {
	for _, a := range v {
		if math.Abs(a) > unit*(1-1e-6) && math.Abs(a) < unit*(1+1e-6) {
			return math.Copysign(unit, a)
		}
	}
	return unit
}

// noteIdle tells what was left out or held quietly. The texts are kept as long as the same places are concerned.
func (w *Workspace) noteIdle(r *Result) {
	if !w.idleSame() {
		w.idleNotes, w.idleWritten = w.writeIdle(w.idleNotes[:0]), true
	}
	r.Notes = append(r.Notes, w.idleNotes...)
}

// idleSame tells whether free turns and spins are those for which idleNotes was written.
func (w *Workspace) idleSame() bool {
	same := w.idleWritten && len(w.idleTurns) == len(w.turns) && slices.Equal(w.idleSpun, w.spun)
	for i := 0; same && i < len(w.turns); i++ {
		same = w.idleTurns[i] == w.turns[i].node
	}
	return same
}

// axialOnly lists the one-way elements that were not given as bars and have bending stiffness.
func (w *Workspace) axialOnly() (names []string) {
	for _, e := range w.m.oneWay {
		if el := &w.s.Elements[e]; !el.Bar && el.Iy+el.Iz > 0 {
			names = append(names, el.ID)
		}
	}
	return names
}

// writeIdle appends what noteIdle says.
func (w *Workspace) writeIdle(notes []string) []string {
	if len(w.m.idle) > 0 {
		notes = append(notes, w.listNodes(w.m.idle)+": joined to nothing, left out")
	}
	w.idleTurns, w.idleSpun = w.idleTurns[:0], append(w.idleSpun[:0], w.spun...)
	for i := range w.turns {
		w.idleTurns = append(w.idleTurns, w.turns[i].node)
	}
	if len(w.turns) > 0 {
		notes = append(notes, w.listNodes(slices.Compact(slices.Clone(w.idleTurns)))+
			": only bars and pins meet there; rotations that nothing takes part in were held")
	}
	if names := w.axialOnly(); len(names) > 0 {
		notes = append(notes, plural("element", names)+": acts one way and is taken as a pinned bar, without bending")
	}
	if len(w.spun) > 0 {
		var names []string
		for _, e := range w.spun {
			names = append(names, w.s.Elements[e].ID)
		}
		notes = append(notes, plural("element", names)+
			": torsion is released at both ends, so nothing holds the spin about its own axis; no torque acts on it")
	}
	return notes
}

// findLostLoads looks for loads on what nothing holds: joints that turn freely, elements that spin, nodes joined to nothing.
func (w *Workspace) findLostLoads(r *Result) {
	for _, i := range w.m.idle {
		for d := range 6 {
			if w.applied[6*i+d] != 0 && !w.m.nodes[i].held[d] {
				r.lost(Mechanism{Kind: Sway, Member: -1, Moving: []Movement{{i, solver.DOF(d), 1}},
					Text: fmt.Sprintf("mechanism: node %s carries a load along %s but is joined to nothing", w.nodeName(i), solver.DOF(d))})
				break
			}
		}
	}
	for _, e := range w.spun {
		f := w.fe[e]
		if w.els[e].condenseLoads(&w.els[e].linear, &f) {
			r.lost(Mechanism{Kind: Spin, Member: e, Text: fmt.Sprintf(
				"mechanism: a torque acts on element %s, whose torsion is released at both ends; take one release away", w.s.Elements[e].ID)})
		}
	}
	if len(w.turns) == 0 {
		return
	}
	copy(w.g, w.applied)
	size := 0.0
	for _, v := range w.applied {
		size = max(size, math.Abs(v))
	}
	for e := range w.els {
		f := w.fe[e]
		w.els[e].condenseLoads(&w.els[e].linear, &f)
		for k := range f {
			size = max(size, math.Abs(f[k]))
			f[k] = -f[k]
		}
		t := &w.m.elements[e]
		w.els[e].scatter(&f, w.g[6*t.i:6*t.i+6], w.g[6*t.j:6*t.j+6])
	}
	for i := range w.turns {
		t := &w.turns[i]
		g := w.g[6*t.node+3:]
		if m := g[0]*t.dir[0] + g[1]*t.dir[1] + g[2]*t.dir[2]; math.Abs(m) > 1e-9*size {
			mech := Mechanism{Kind: JointRotation, Member: -1, Text: fmt.Sprintf(
				"mechanism: a moment acts at node %s, where only bars and pins meet and nothing resists it", w.nodeName(t.node))}
			for d, v := range t.dir {
				if math.Abs(v) >= smallAmount {
					mech.Moving = append(mech.Moving, Movement{t.node, solver.RX + solver.DOF(d), v})
				}
			}
			r.lost(mech)
		}
	}
}

func (r *Result) lost(m Mechanism) {
	r.Stable = false
	r.Mechanisms = append(r.Mechanisms, m)
}

// condition estimates the spectral condition number of the scaled first-order stiffness by power iteration both ways.
func (w *Workspace) condition() float64 {
	n := w.m.n
	if w.cond != 0 || n == 0 {
		return w.cond
	}
	x, y := make([]float64, n), make([]float64, n)
	root := make([]float64, n)
	for i := range root {
		root[i] = math.Sqrt(w.diag[i])
	}
	iterate := func(step func()) (lambda float64) {
		seed(x)
		for range 12 {
			step()
			s := 0.0
			for i := range y {
				s += y[i] * y[i]
			}
			lambda = math.Sqrt(s)
			for i := range y {
				x[i] = y[i] / lambda
			}
		}
		return lambda
	}
	high := iterate(func() {
		for i := range x {
			x[i] /= root[i]
		}
		w.m.pattern.MulVec(y, w.val, x)
		for i := range y {
			y[i] /= root[i]
		}
	})
	low := iterate(func() {
		for i := range x {
			y[i] = x[i] * root[i]
		}
		w.fac.Solve(y, 1)
		for i := range y {
			y[i] *= root[i]
		}
	})
	w.cond = high * low
	return w.cond
}
