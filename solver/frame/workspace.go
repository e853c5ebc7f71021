package frame

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"leanbay/solver"
	"leanbay/solver/sparse"
)

// Workspace holds all storage of one worker for one topology at a time. It is not safe for use by two goroutines at once.
type Workspace struct {
	// WantCondition asks for Result.Condition, at the cost of a few solves a load.
	WantCondition bool
	// Quick answers second order for a search: elements whose |N|·L²/EI is moderate are smooth (see smoothReach), and the
	// balance is settled to quickBalance. Set it before Load.
	Quick bool
	// StartQuick has AnalyseEach start careful second order from quick answers of the same structure. Equilibrium, slack set and
	// definiteness are those of the exact elements as without; answers agree within what strictBalance leaves open.
	StartQuick bool
	// RodsAsFound makes Buckling leave out slack one-way elements even where a mode would stretch some of them either way.
	RodsAsFound bool

	keptRods int  // see the constant; tests set it
	starts   bool // quick answers are for careful ones to start from

	m      *Model
	s      *solver.Structure // kept from Load to the next; it must not change meanwhile
	loadNo uint64

	els   []element
	loads loadSet
	turns []freeTurn // joint rotations that nothing holds
	loose []int      // elements that their releases leave loose in themselves
	spun  []int      // elements whose torsion is released at both ends

	idleNotes   []string // what noteIdle says, and of which nodes and elements
	idleWritten bool
	idleTurns   []int
	idleSpun    []int
	upright     map[[3]int]string // what noteTouching has said

	val    []float64 // first-order stiffness, all elements acting
	diag   []float64
	fac    *sparse.Factor
	status factorStatus
	failed error
	nulls  [][]float64 // its null modes, where they had to be looked for
	mechs  []Mechanism // of the first-order stiffness, if it is singular
	cond   float64

	casesDone bool
	cu        []float64 // unknowns of all cases, n x cases, row-major

	x, b    []float64 // unknowns, loads
	applied []float64 // 6 per node
	g       []float64 // 6 per node: element forces
	fe      [][12]float64
	factors []float64
	states  []state
	active  activeSet
	so      secondOrder
	start   starting
	kk      [78]float64
}

// factorStatus says what is known of the factor of the first-order stiffness.
type factorStatus int

const (
	unknown factorStatus = iota
	definite
	singular
)

// freeTurn is a direction about which nothing holds a node: no stiffness, hence no effect on anything else. It is held by
// a token spring so that the matrix can be factorised; a moment about it is not carried.
type freeTurn struct {
	node int
	dir  [3]float64
	k    float64
}

var errNotLoaded = errors.New("frame: nothing is loaded in this workspace; call Load first")

// NewWorkspace returns a workspace for structures of m's topology.
func (m *Model) NewWorkspace() *Workspace {
	w := &Workspace{keptRods: keptRods}
	w.Use(m)
	return w
}

// Use makes w a workspace for structures of m's topology, in the storage that it has as far as that goes: a worker that goes to and
// fro between topologies needs no storage for each, and what it works on stays near the processor. Nothing is loaded then, and
// answers of what was loaded are no longer good.
func (w *Workspace) Use(m *Model) {
	if w.m == m {
		return
	}
	w.m, w.s = m, nil
	w.loadNo++
	e, n := len(m.elements), 6*len(m.nodes)
	w.els, w.fe = sized(w.els, e), sized(w.fe, e)
	w.val, w.diag = sized(w.val, m.pattern.NNZ()), sized(w.diag, m.n)
	w.x, w.b = sized(w.x, m.n), sized(w.b, m.n)
	w.applied, w.g = sized(w.applied, n), sized(w.g, n)
	w.loads.slot, w.loads.stamped = sized(w.loads.slot, e), sized(w.loads.stamped, e)
	w.idleWritten = false
	w.active.ready, w.active.many = false, nil
	w.so.act.ready, w.so.act.many = false, nil
	if m.n > 0 {
		w.fac = factorFor(w.fac, m.sym)
	}
}

// factorFor returns f as a factor for the matrices of sym, or a new one.
func factorFor(f *sparse.Factor, sym *sparse.Symbolic) *sparse.Factor {
	if f == nil {
		return sparse.NewFactor(sym)
	}
	if f.Symbolic() != sym {
		f.Use(sym)
	}
	return f
}

// Load takes the values of s: stiffness of all elements, and loads of all cases. s must have the model's topology and must
// not change until the next Load. It allocates only while its storage grows to the loads of s.
func (w *Workspace) Load(s *solver.Structure) error {
	if err := w.forget(s); err != nil {
		return err
	}
	if err := checkValues(s); err != nil {
		return err
	}
	for e := range w.els {
		w.els[e].fill(s, &s.Elements[e])
		w.noteLoose(e)
	}
	if err := w.loads.resolve(w.m, s, w.els, w.Quick); err != nil {
		return err
	}
	w.take(s)
	return nil
}

// forget begins anew for s.
func (w *Workspace) forget(s *solver.Structure) error {
	w.s = nil
	if !w.m.SameTopology(s) {
		return errors.New("frame: the structure has another topology than the model; compile it first")
	}
	w.loose, w.spun = w.loose[:0], w.spun[:0]
	return nil
}

// take goes over to s, whose elements and loads are in place.
func (w *Workspace) take(s *solver.Structure) {
	w.s = s
	w.loadNo++
	w.status, w.failed, w.cond, w.casesDone = unknown, nil, 0, false
	w.mechs, w.nulls = w.mechs[:0], nil
	w.active.ready = false
	w.assembleLinear()
}

// noteLoose lists elements that are loose in themselves.
func (w *Workspace) noteLoose(e int) {
	st := &w.els[e].linear
	if !st.deadAny {
		return
	}
	none := [4]bool{}
	if st.axialC.dead != none || st.planeC[0].dead != none || st.planeC[1].dead != none {
		w.loose = append(w.loose, e)
		return
	}
	w.spun = append(w.spun, e)
}

// assembleLinear sums the first-order stiffness and finds joint rotations that nothing holds.
func (w *Workspace) assembleLinear() {
	w.sumElements(w.val)
	w.findFreeTurns()
	w.addTurns(w.val)
	for i := range w.diag {
		w.diag[i] = w.val[w.m.pattern.Ptr[i]]
	}
}

// sumElements sums the first-order stiffness of elements and node springs into val.
func (w *Workspace) sumElements(val []float64) {
	clear(val)
	for e := range w.els {
		el := &w.els[e]
		if el.bar && !el.arms {
			el.addBar(el.linear.kA, val, &w.m.place[e])
			continue
		}
		el.global(&el.linear, &w.kk)
		addAt(val, w.m.place[e][:], w.kk[:])
	}
	w.addNodeSprings(val)
}

func addAt(val []float64, place []int32, k []float64) {
	for n, p := range place {
		if p >= 0 {
			val[p] += k[n]
		}
	}
}

func (w *Workspace) addNodeSprings(val []float64) {
	for i := range w.s.Nodes {
		for d, k := range w.s.Nodes[i].Spring {
			if p := w.m.own[i][triangle(d, d)]; k != 0 && p >= 0 {
				val[p] += k
			}
		}
	}
}

// triangle is the place of (i, j), i >= j, in a lower triangle stored by rows.
func triangle(i, j int) int { return i*(i+1)/2 + j }

// nullTurn is the stiffness of a joint's rotation, relative to its stiffest, under which only round-off holds it. Torsion
// of open sections beside bending of heavy ones stays above 1e-6.
const nullTurn = 1e-11

// findFreeTurns looks for directions about which the rotation of a node meets no stiffness at all.
func (w *Workspace) findFreeTurns() {
	w.turns = w.turns[:0]
	for i := range w.m.nodes {
		var k [3][3]float64
		largest := 0.0
		free := [3]bool{}
		for a := range 3 {
			for b := range a + 1 {
				if p := w.m.own[i][triangle(3+a, 3+b)]; p >= 0 {
					k[a][b], k[b][a] = w.val[p], w.val[p]
					free[a] = free[a] || a == b
				}
			}
			largest = max(largest, k[a][a])
		}
		if free == [3]bool{} {
			continue
		}
		if det := det3(&k, &free); det > 1e-3*largest*largest*largest { // plainly regular: no need to look closer
			continue
		}
		w.addNullTurns(i, &k, &free, largest)
	}
}

// det3 is the determinant with held directions given the weight of the largest entry.
func det3(k *[3][3]float64, free *[3]bool) float64 {
	m := *k
	big := max(m[0][0], m[1][1], m[2][2])
	for a := range 3 {
		if !free[a] {
			m[a][a] = big
		}
	}
	return m[0][0]*(m[1][1]*m[2][2]-m[1][2]*m[2][1]) - m[0][1]*(m[1][0]*m[2][2]-m[1][2]*m[2][0]) +
		m[0][2]*(m[1][0]*m[2][1]-m[1][1]*m[2][0])
}

func (w *Workspace) addNullTurns(node int, k *[3][3]float64, free *[3]bool, largest float64) {
	token := largest
	if token == 0 {
		token = 1 // N·m/rad: nothing moves it, any size will do
	}
	a := *k
	for d := range 3 {
		if !free[d] {
			a[d][d] = 2 * token
		}
	}
	val, dir := eigen3(a)
	for c, l := range val {
		if l <= nullTurn*largest {
			w.turns = append(w.turns, freeTurn{node: node, dir: dir[c], k: token})
		}
	}
}

func (w *Workspace) addTurns(val []float64) {
	for i := range w.turns {
		t := &w.turns[i]
		for a := range 3 {
			for b := range a + 1 {
				if p := w.m.own[t.node][triangle(3+a, 3+b)]; p >= 0 {
					val[p] += t.k * t.dir[a] * t.dir[b]
				}
			}
		}
	}
}

// eigen3 returns the eigenvalues and unit eigenvectors (rows) of a symmetric 3x3 matrix by Jacobi rotations.
func eigen3(a [3][3]float64) (val [3]float64, vec [3][3]float64) {
	v := [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	for range 30 {
		off := math.Abs(a[0][1]) + math.Abs(a[0][2]) + math.Abs(a[1][2])
		if off <= 1e-17*(math.Abs(a[0][0])+math.Abs(a[1][1])+math.Abs(a[2][2])) {
			break
		}
		for p := range 2 {
			for q := p + 1; q < 3; q++ {
				if a[p][q] == 0 {
					continue
				}
				theta := (a[q][q] - a[p][p]) / (2 * a[p][q])
				t := 1 / (math.Abs(theta) + math.Sqrt(theta*theta+1))
				if theta < 0 {
					t = -t
				}
				c := 1 / math.Sqrt(t*t+1)
				s := t * c
				for k := range 3 {
					akp, akq := a[k][p], a[k][q]
					a[k][p], a[k][q] = c*akp-s*akq, s*akp+c*akq
				}
				for k := range 3 {
					apk, aqk := a[p][k], a[q][k]
					a[p][k], a[q][k] = c*apk-s*aqk, s*apk+c*aqk
					v[p][k], v[q][k] = c*v[p][k]-s*v[q][k], s*v[p][k]+c*v[q][k]
				}
			}
		}
	}
	return [3]float64{a[0][0], a[1][1], a[2][2]}, v
}

// doubtfulPivot is the least relative pivot that needs no closer look: below it the null modes of the scaled stiffness decide
// between soft and unstable, since round-off of positions alone can leave a pivot of 1e-12 to a true mechanism.
const doubtfulPivot = 1e-8

// factorise makes the first-order factor, once per Load.
func (w *Workspace) factorise() {
	if w.status != unknown {
		return
	}
	w.status = definite
	if w.m.n == 0 {
		return
	}
	err := w.fac.Refactor(w.val)
	if err == nil {
		if neg, zero, _ := w.fac.Inertia(); neg+zero > 0 {
			err = fmt.Errorf("frame: the stiffness has %d negative pivots", neg+zero)
		}
	}
	if err == nil {
		if ratio, _ := w.fac.PivotRatio(); ratio < doubtfulPivot {
			if w.nulls = w.nullModes(w.val); len(w.nulls) > 0 {
				err = errors.New("frame: the stiffness has null modes")
			}
		}
	}
	if err != nil {
		w.status, w.failed = singular, err
	}
}

// solveCases solves the first-order displacements of all cases as one block, once per Load.
func (w *Workspace) solveCases() {
	if w.casesDone || w.status != definite {
		return
	}
	nc := len(w.s.Cases)
	w.cu = slices.Grow(w.cu[:0], w.m.n*nc)[:w.m.n*nc]
	w.loadCases(w.cu)
	if w.m.n > 0 && nc > 0 {
		w.fac.Solve(w.cu, nc)
	}
	w.casesDone = true
}

// loadCases writes the equivalent nodal loads of all cases to the unknowns, n x cases, row-major.
func (w *Workspace) loadCases(f []float64) {
	nc := len(w.s.Cases)
	if w.Quick && w.prepareLanes() {
		w.loadCasesAbreast(f)
		return
	}
	clear(f)
	for c := range w.s.Cases {
		w.applyNodal(w.g, c, 1, true)
		for _, fx := range w.loads.fixed[w.loads.caseAt[c]:w.loads.caseAt[c+1]] {
			e := &w.els[fx.element]
			q := fx.f
			e.condenseLoads(&e.linear, &q)
			for k := range q {
				q[k] = -q[k]
			}
			t := &w.m.elements[fx.element]
			e.scatter(&q, w.g[6*t.i:6*t.i+6], w.g[6*t.j:6*t.j+6])
		}
		for k, d := range w.m.dof {
			if d >= 0 {
				f[int(d)*nc+c] = w.g[k]
			}
		}
	}
}

// applyNodal adds factor times the nodal loads of case c to f; first clears it before.
func (w *Workspace) applyNodal(f []float64, c int, factor float64, first bool) {
	if first {
		clear(f)
	}
	for i := range w.s.Cases[c].Nodal {
		l := &w.s.Cases[c].Nodal[i]
		at := f[6*l.Node : 6*l.Node+6]
		F, M := vec(l.F), vec(l.M)
		for k := range 3 {
			at[k] += factor * F[k]
			at[3+k] += factor * M[k]
		}
	}
}
