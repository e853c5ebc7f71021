package frame

import (
	"math"

	"leanbay/solver"
)

// Careful second order may start from quick answers of the same structure: exact elements then have a hundred-millionth of the greatest
// force to put right, instead of all that second order does. What decides is the same as without: the balance of the exact elements, the
// slack set that agrees with it, and a definite stiffness. Where a start does not lead there at once, the combination is
// analysed by itself as always, so that whatever is said not to stand is said by that analysis.

const (
	// startBalance is the residual of quick answers to start from. Smooth elements leave a tenth of it to exact ones, so that one
	// correction is enough; that of quick answers that are used themselves would ask for another, which costs more than it spares.
	startBalance = 2e-8
	// startRounds bounds the exact evaluations of a start, and startFall is the fall of the residual that each must bring.
	startRounds = 8
	startFall   = 0.5
	// startless is how many combinations without a quick answer end the search for quick answers.
	startless = 3
)

// starting is the storage of quick answers to start from.
type starting struct {
	work  *Workspace
	load  uint64 // the careful workspace's load that work has
	rs    []Result
	taken int // answers that came of their start, since the workspace was made
}

// analyseStarted is AnalyseEach for careful answers that start from quick ones.
func (w *Workspace) analyseStarted(cs []solver.Combination, a Analysis, rs []Result, stop func(i int) bool) error {
	starts, err := w.quickStarts(cs, a)
	if err != nil {
		return err
	}
	for i := range cs {
		if err := w.analyseFrom(&starts[i], &cs[i], a, &rs[i]); err != nil || stop(i) {
			return err
		}
	}
	return nil
}

// quickStarts answers combinations quickly, in a workspace of its own; what is not answered is not stable.
func (w *Workspace) quickStarts(cs []solver.Combination, a Analysis) ([]Result, error) {
	st := &w.start
	if st.work == nil {
		st.work = w.m.NewWorkspace()
		st.work.Quick, st.work.starts = true, true
	}
	if st.load != w.loadNo {
		st.work.Use(w.m)
		st.work.keptRods = w.keptRods
		if err := st.work.Load(w.s); err != nil {
			return nil, err
		}
		st.load = w.loadNo
	}
	for len(st.rs) < len(cs) {
		st.rs = append(st.rs, Result{})
	}
	rs, without := st.rs[:len(cs)], 0
	for i := range rs {
		rs[i].Stable = false // whatever it was before
	}
	return rs, st.work.AnalyseEach(cs, a, rs, func(i int) bool {
		if !rs[i].Stable {
			without++
		}
		return without == startless
	})
}

// analyseFrom is Analyse in second order from the quick answer q, if there is one.
func (w *Workspace) analyseFrom(q *Result, c *solver.Combination, a Analysis, r *Result) error {
	rounds := 0
	if q.Stable && !w.WantCondition {
		if ok, err := w.begin(c, a, r); !ok || err != nil {
			return err
		}
		w.takeStart(q, r)
		if w.iterateStart(r) {
			w.start.taken++
			return nil
		}
		rounds = r.Iterations
	}
	err := w.Analyse(c, a, r)
	r.Iterations += rounds
	return err
}

// takeStart sets displacements and slack set of r to those of q.
func (w *Workspace) takeStart(q, r *Result) {
	if w.setsChange(r) {
		s := &w.active
		if !s.ready {
			w.prepareOneWay(s, w.solveLinear)
			s.ready = true
		}
		w.superpose(w.x)
		s.measure(s.stretches(s.e0, w.x))
		w.so.size = s.size
	}
	for k, d := range w.m.dof {
		if d >= 0 {
			w.x[d] = q.U[k]
		}
	}
	copy(r.Slack, q.Slack)
	w.gatherAll()
	w.so.search.reset()
}

// iterateStart runs the rounds of second order from the displacements w.x and the slack set in r; false if they do not lead to a
// stable answer at once. The first round's factor is of the exact states there, and its correction leaves so little that the next
// round is most often the last.
func (w *Workspace) iterateStart(r *Result) bool {
	last := math.Inf(1)
	for round := range startRounds {
		hidden := w.evaluate(r)
		r.Iterations++
		if !finite(r.Residual) || hidden > 0 || r.Residual > startFall*last {
			return false
		}
		switch last = r.Residual; {
		case round == 0:
			if !w.beginStart(r) {
				return false
			}
		case r.Residual > strictBalance:
			if !w.correct(r) {
				return false
			}
		case w.settled(r):
			w.prove(r)
			return r.Stable
		case !r.Stable:
			return false
		default:
			last = math.Inf(1) // another slack set
		}
	}
	return false
}

// beginStart makes the factor of the states evaluated last, keeps them as the base of restate, and corrects the displacements once; false
// if they are not definite.
func (w *Workspace) beginStart(r *Result) bool {
	if neg, ok := w.factorEvaluated(r); neg > 0 || !ok {
		return false
	}
	so := &w.so
	so.base = sized(so.base, len(w.els))
	for e := range so.base {
		so.base[e] = base{ok: !r.Slack[e], n: r.axial[e], plane: w.states[e].plane, fixed: so.fixed[e]}
	}
	w.outOfBalance(r, w.b)
	if !w.answer(r) {
		return false
	}
	for i, v := range w.b {
		w.x[i] += v
	}
	return true
}
