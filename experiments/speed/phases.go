package speed

import (
	"context"
	"fmt"
	"runtime"

	"leanbay/solver"
	"leanbay/solver/frame"
	"leanbay/solver/sparse"
)

// Phase is a part of the work and the shortest time that it took.
type Phase struct {
	Name    string  `json:"name"`
	Seconds float64 `json:"seconds"`
	Flops   int64   `json:"flops,omitempty"`           // counted, where they can be
	Rate    float64 `json:"flop_per_second,omitempty"` // Flops over Seconds
}

// Row is what was measured of one structure.
type Row struct {
	Name     string `json:"name"`
	Frames   int    `json:"frames"`
	Nodes    int    `json:"nodes"`
	Elements int    `json:"elements"`
	OneWay   int    `json:"one_way"` // rods
	Unknowns int    `json:"unknowns"`
	NonZeroK int    `json:"nonzeros_k"` // lower triangle with the diagonal
	NonZeroL int    `json:"nonzeros_l"` // with the unit diagonal

	FactorFlops int64  `json:"factor_flops"` // the sum of the squared column counts of L
	SolveFlops  int64  `json:"solve_flops"`  // of one right-hand side: 4(nnz(L)-n)+n
	FactorBytes int    `json:"factor_bytes"` // L with the zeros and padding of its panels
	PeakHeap    uint64 `json:"peak_heap_bytes"`
	PeakHeld    uint64 `json:"peak_held_bytes"` // held from the system by the whole process

	Cases        int `json:"cases"`
	Combinations int `json:"combinations"`
	// Identical counts the combinations with the factors of an earlier one, case by case: their answer is the same number for
	// number, whatever the analysis. Nothing else about domination is proven for the analysis of the whole structure.
	Identical int `json:"combinations_identical"`
	// Planar counts those analysed for inner frames alone, of a brief; the rest only push along the building, which a plane frame
	// does not feel, and are left out there. Service counts those of serviceability.
	Planar  int `json:"combinations_inner_frames,omitempty"`
	Service int `json:"combinations_service,omitempty"`

	Rounds int     `json:"rounds"` // of the active set and of second order, all combinations
	Phases []Phase `json:"phases"`
	// Evaluation are the phases of one evaluation in the search, topology known, of a brief; Total is the shortest whole one.
	Evaluation []Phase `json:"evaluation,omitempty"`
	Total      float64 `json:"evaluation_seconds,omitempty"`
}

// The phases of Row.Phases, in order.
const (
	PhaseOrder    = "order"
	PhaseSymbolic = "symbolic"
	PhaseLoad     = "load"
	PhaseAssemble = "assemble"
	PhaseFactor   = "factor"
	PhaseSolve    = "solve"
	PhaseForces   = "forces"
	PhaseRods     = "rods"
	PhaseSecond   = "second order"
)

// PhaseNotes say what each phase is.
var PhaseNotes = [][2]string{
	{PhaseOrder, "the fill-reducing order, once per topology"},
	{PhaseSymbolic, "the structure of the factor, once per topology"},
	{PhaseLoad, "values of a structure into the workspace: elements, loads resolved, stiffness assembled"},
	{PhaseAssemble, "the stiffness alone, from its elements (part of load)"},
	{PhaseFactor, "LDLᵀ of the first-order stiffness"},
	{PhaseSolve, "all cases as one block of right-hand sides"},
	{PhaseForces, "first order, all combinations: superposition, end forces, reactions, residual"},
	{PhaseRods, "what tension-only rods add to first order, all combinations"},
	{PhaseSecond, "the whole analysis of a loaded structure under all combinations, rods and second order included, as the search does it"},
}

// meter times the phases of one structure.
type meter struct {
	ctx    context.Context
	s      *solver.Structure
	combos []solver.Combination
	repeat int
	model  *frame.Model
	work   *frame.Workspace
	res    []frame.Result
	row    *Row
	err    error
}

// measure fills r with the phases of s under combos.
func measure(ctx context.Context, s *solver.Structure, combos []solver.Combination, repeat int, r *Row) error {
	m := &meter{ctx: ctx, s: s, combos: combos, repeat: max(1, repeat), row: r}
	r.Nodes, r.Elements, r.Cases, r.Combinations = len(s.Nodes), len(s.Elements), len(s.Cases), len(combos)
	for i := range s.Elements {
		if s.Elements[i].Acts != solver.BothWays {
			r.OneWay++
		}
	}
	r.Identical = identical(combos, len(s.Cases))
	runtime.LockOSThread() // now is the time of one thread
	defer runtime.UnlockOSThread()
	m.symbolic()
	m.linear()
	m.nonlinear()
	return m.err
}

// leastTimes is how often the phases are run at least that take little time: the first one also finds room in memory.
const leastTimes = 3

// shortest returns the shortest of so many times of do, in seconds; prepare runs before each, untimed.
func (m *meter) shortest(times int, prepare, do func() error) float64 {
	best := 0.0
	for n := range times {
		if m.err == nil {
			m.err = m.ctx.Err()
		}
		if m.err == nil && prepare != nil {
			m.err = prepare()
		}
		if m.err != nil {
			return best
		}
		start := now()
		m.err = do()
		if t := (now() - start).Seconds(); n == 0 || t < best {
			best = t
		}
	}
	return best
}

func (m *meter) note(name string, seconds float64, flops int64) {
	p := Phase{Name: name, Seconds: seconds, Flops: flops}
	if flops > 0 && seconds > 0 {
		p.Rate = float64(flops) / seconds
	}
	m.row.Phases = append(m.row.Phases, p)
}

// symbolic times what is done once per topology, and counts.
func (m *meter) symbolic() {
	if m.model, m.err = frame.Compile(m.s); m.err != nil {
		return
	}
	sym := m.model.Symbolic()
	if sym == nil {
		m.err = fmt.Errorf("%s: nothing in it can move", m.row.Name)
		return
	}
	p := sym.Pattern()
	r := m.row
	r.Unknowns, r.NonZeroK, r.NonZeroL = p.N, p.NNZ(), sym.NNZ()
	r.FactorFlops, r.FactorBytes = sym.Flops(), 8*sym.Stored()
	r.SolveFlops = int64(4*(sym.NNZ()-p.N) + p.N)
	var order []int
	many := max(m.repeat, leastTimes)
	m.note(PhaseOrder, m.shortest(many, nil, func() error { order = sparse.Order(p); return nil }), 0)
	m.note(PhaseSymbolic, m.shortest(many, nil, func() error { sparse.AnalyzeWith(p, order); return nil }), 0)
}

// linear times what first order needs.
func (m *meter) linear() {
	if m.err != nil {
		return
	}
	m.work = m.model.NewWorkspace()
	m.work.Quick = true
	many := max(m.repeat, leastTimes)
	m.note(PhaseLoad, m.shortest(many, nil, m.load), 0)
	if m.err != nil {
		return
	}
	sym, nc := m.model.Symbolic(), len(m.s.Cases)
	k, f := make([]float64, m.row.NonZeroK), make([]float64, m.row.Unknowns*nc)
	m.note(PhaseAssemble, m.shortest(many, nil, func() error { m.work.Stiffness(k); return nil }), 0)
	fac := sparse.NewFactor(sym)
	m.note(PhaseFactor, m.shortest(many, nil, func() error { return fac.Refactor(k) }), m.row.FactorFlops)
	fill := func() error { m.work.LoadVectors(f); return nil }
	m.note(PhaseSolve, m.shortest(many, fill, func() error { fac.Solve(f, nc); return nil }), m.row.SolveFlops*int64(nc))
}

func (m *meter) load() error { return m.work.Load(m.s) }

// nonlinear times first order, rods and second order over all combinations. Of first order and rods what each adds is noted; second
// order, which has a way of its own, is noted whole.
func (m *meter) nonlinear() {
	if m.err != nil {
		return
	}
	m.res = make([]frame.Result, len(m.combos))
	n := len(m.row.Phases)
	before := m.row.Phases[n-2].Seconds + m.row.Phases[n-1].Seconds
	for _, k := range []struct {
		name string
		kind frame.Analysis
	}{{PhaseForces, frame.Linear}, {PhaseRods, frame.TensionOnly}, {PhaseSecond, frame.TensionOnlySecondOrder}} {
		times := max(m.repeat, 2) // the first one finds room in memory and analyses the border of the rods, once per topology
		if k.kind == frame.Linear {
			times = max(times, leastTimes)
		}
		t := m.shortest(times, m.load, func() error { return m.analyse(k.kind) })
		if m.err != nil {
			return
		}
		if k.kind == frame.TensionOnlySecondOrder {
			before = 0
		}
		m.note(k.name, max(0, t-before), 0)
		before = t
	}
	for i := range m.res {
		m.row.Rounds += m.res[i].Iterations
	}
}

// analyse answers all combinations; one without an answer is an error, since its time would mean nothing.
func (m *meter) analyse(kind frame.Analysis) error {
	err := m.work.AnalyseEach(m.combos, kind, m.res, func(int) bool { return m.ctx.Err() != nil })
	if err != nil || m.ctx.Err() != nil {
		return err
	}
	for i := range m.res {
		if r := &m.res[i]; !r.Stable {
			return fmt.Errorf("%s: combination %s has no stable answer (%v): %v", m.row.Name, m.combos[i].ID, kind, r.Notes)
		}
	}
	return nil
}

// identical counts combinations that weigh every case as an earlier one does.
func identical(combos []solver.Combination, cases int) int {
	seen := map[string]bool{}
	count := 0
	for i := range combos {
		factors := make([]float64, cases)
		for _, t := range combos[i].Terms {
			factors[t.Case] += t.Factor
		}
		key := fmt.Sprint(factors)
		if seen[key] {
			count++
		}
		seen[key] = true
	}
	return count
}
