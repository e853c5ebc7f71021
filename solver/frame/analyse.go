package frame

import (
	"fmt"
	"math"
	"slices"

	"leanbay/solver"
)

// Analyse analyses one combination and fills r, whose storage is reused. An error means that the request is wrong; a
// structure that does not stand is an answer, with Stable false.
func (w *Workspace) Analyse(c *solver.Combination, a Analysis, r *Result) error {
	if ok, err := w.begin(c, a, r); !ok || err != nil {
		return err
	}
	if w.WantCondition {
		if r.Condition = w.condition(); r.Condition > softCondition {
			r.Notes = append(r.Notes, fmt.Sprintf("soft: the condition number of the scaled stiffness is %.1g; the structure stands, but some motion meets little resistance",
				r.Condition))
		}
	}
	switch {
	case a == Linear:
		w.superpose(w.x)
		w.finish(r)
		if r.Residual > refineOver {
			w.refine(r)
		}
	case a == TensionOnly:
		w.analyseOneWay(r)
	default:
		w.analyseSecond(r)
	}
	return nil
}

// begin weighs the cases, prepares r and solves the cases in first order; false if the structure does not stand.
func (w *Workspace) begin(c *solver.Combination, a Analysis, r *Result) (bool, error) {
	if w.s == nil {
		return false, errNotLoaded
	}
	if err := w.weigh(c); err != nil {
		return false, err
	}
	w.reset(r, a)
	w.factorise()
	w.combineFixed()
	if !w.holds(a, r) {
		return false, nil
	}
	w.solveCases()
	return true, nil
}

// refineOver is the residual of a first-order answer over which one step of iterative refinement is taken.
const refineOver = 1e-10

// refine takes one step of iterative refinement of the first-order displacements w.x.
func (w *Workspace) refine(r *Result) {
	w.outOfBalance(r, w.b)
	w.solveLinear(w.b, 1)
	for i, v := range w.b {
		w.x[i] += v
	}
	w.finish(r)
}

// AnalyseAll analyses the combinations cs into rs, which must be of equal length. All cases are solved as one block, and
// the first-order factor and the influence of one-way elements are shared.
func (w *Workspace) AnalyseAll(cs []solver.Combination, a Analysis, rs []Result) error {
	if len(cs) != len(rs) {
		panic(fmt.Sprintf("frame: AnalyseAll: %d results for %d combinations", len(rs), len(cs)))
	}
	for i := range cs {
		if err := w.Analyse(&cs[i], a, &rs[i]); err != nil {
			return err
		}
	}
	return nil
}

// weigh turns the terms of c into a factor per case.
func (w *Workspace) weigh(c *solver.Combination) error {
	w.factors = slices.Grow(w.factors[:0], len(w.s.Cases))[:len(w.s.Cases)]
	clear(w.factors)
	for _, t := range c.Terms {
		if t.Case < 0 || t.Case >= len(w.factors) {
			return fmt.Errorf("combination %s: names case index %d of %d", c.ID, t.Case, len(w.factors))
		}
		if !finite(t.Factor) {
			return fmt.Errorf("combination %s: the factor of case %s is not a number", c.ID, w.s.Cases[t.Case].ID)
		}
		w.factors[t.Case] += t.Factor
	}
	return nil
}

// reset prepares r for an answer of the structure in hand.
func (w *Workspace) reset(r *Result, a Analysis) {
	w.resetLanes(r, a)
	clear(r.U)
	clear(r.Reactions)
	clear(r.Ends)
	clear(r.axial)
}

// resetLanes is reset for an answer that comes side by side, which is written as a whole.
func (w *Workspace) resetLanes(r *Result, a Analysis) {
	n, m := len(w.m.nodes), len(w.m.elements)
	w.so.buckling.below = 0 // r may be the answer that it was found for
	*r = Result{
		Stable: true, Analysis: a, w: w, load: w.loadNo,
		U:          sized(r.U, 6*n),
		Reactions:  sized(r.Reactions, 6*n),
		Ends:       sized(r.Ends, m),
		Slack:      zeroed(r.Slack, m),
		Touching:   zeroed(r.Touching, m),
		Mechanisms: r.Mechanisms[:0],
		Notes:      r.Notes[:0],
		factors:    append(r.factors[:0], w.factors...),
		rough:      r.rough[:0],
		axial:      sized(r.axial, m),
	}
}

// zeroed returns s with length n, all zero, reusing its storage.
func zeroed[T any](s []T, n int) []T {
	s = slices.Grow(s[:0], n)[:n]
	clear(s)
	return s
}

// combineFixed sums nodal loads and fixed-end forces of the weighed cases.
func (w *Workspace) combineFixed() {
	clear(w.applied)
	clear(w.fe)
	for c, factor := range w.factors {
		if factor == 0 {
			continue
		}
		w.applyNodal(w.applied, c, factor, false)
		for i := w.loads.caseAt[c]; i < w.loads.caseAt[c+1]; i++ {
			fx := &w.loads.fixed[i]
			f := &w.fe[fx.element]
			for k := range f {
				f[k] += factor * fx.f[k]
			}
		}
	}
	for e := range w.fe {
		for _, p := range w.loads.places.under(e, w.factors) {
			w.els[e].addFixedPoint(p.a, &p.f, &[3]float64{}, &w.fe[e])
		}
	}
}

// sized returns s with length n and whatever is in it.
func sized[T any](s []T, n int) []T { return slices.Grow(s[:0], n)[:n] }

// superpose sums the displacements of the weighed cases into u.
func (w *Workspace) superpose(u []float64) {
	clear(u)
	nc := len(w.factors)
	for c, factor := range w.factors {
		if factor == 0 {
			continue
		}
		for i := range u {
			u[i] += factor * w.cu[i*nc+c]
		}
	}
}

// holds tells whether the structure with all elements acting stands at all and carries its loads to somewhere; if not, it
// says why in r.
func (w *Workspace) holds(a Analysis, r *Result) bool {
	w.noteIdle(r)
	switch {
	case w.status == singular:
		r.Stable = false
		r.Mechanisms = append(r.Mechanisms, w.mechanisms()...)
	case len(w.loose) > 0:
		r.Stable = false
		for _, e := range w.loose {
			r.Mechanisms = append(r.Mechanisms, w.looseMember(e))
		}
	}
	w.findLostLoads(r)
	return r.Stable
}

// finish computes end forces, reactions and residual of the first-order displacements w.x, with slack elements gone.
func (w *Workspace) finish(r *Result) {
	w.spread(r)
	clear(w.g)
	for e := range w.els {
		el, t := &w.els[e], &w.m.elements[e]
		st := &el.linear
		f := w.fe[e]
		el.condenseLoads(st, &f)
		if !r.Slack[e] {
			d := el.local(r.U[6*t.i:6*t.i+6], r.U[6*t.j:6*t.j+6])
			f = el.endForces(st, &d, &f)
		}
		r.Ends[e] = f
		el.scatter(&f, w.g[6*t.i:6*t.i+6], w.g[6*t.j:6*t.j+6])
	}
	w.react(r)
}

// spread writes the unknowns w.x to the nodes.
func (w *Workspace) spread(r *Result) {
	for k, d := range w.m.dof {
		if d >= 0 {
			r.U[k] = w.x[d]
		} else {
			r.U[k] = 0
		}
	}
}

// react turns the sums of element forces at nodes (w.g) into reactions and the residual.
func (w *Workspace) react(r *Result) {
	worst, size := 0.0, 0.0
	for e := range r.Ends {
		for _, v := range r.Ends[e] {
			size = max(size, math.Abs(v))
		}
	}
	for i := range w.m.nodes {
		node := &w.s.Nodes[i]
		for f := range 6 {
			k := 6*i + f
			size = max(size, math.Abs(w.applied[k]))
			out := w.g[k] - w.applied[k]
			if w.m.dof[k] < 0 {
				r.Reactions[k] = out
				continue
			}
			if spring := node.Spring[f]; spring != 0 {
				r.Reactions[k] = -spring * r.U[k]
				out += spring * r.U[k]
			}
			worst = max(worst, math.Abs(out))
		}
	}
	if size > 0 {
		r.Residual = worst / size
	}
}
