package frame

import (
	"errors"
	"fmt"
	"math"

	"leanbay/solver"
)

// Buckling is solved without linearising the members: the exact stiffness under λ times the axial forces of the state is
// K(λ), and by Wittrick and Williams (Quarterly Journal of Mechanics and Applied Mathematics 24, 1971) the number of load
// factors below λ is the number of negative eigenvalues of K(λ) plus those hidden inside elements. Every factor is
// bracketed by these counts, so none is missed; between, it is improved by inverse iteration.

const (
	// factorTol is the relative accuracy of load factors (and of squared frequencies).
	factorTol = 1e-9
	// proofGap is the relative distance at which the counts below and above a root are taken.
	proofGap = 1e-6
)

// BucklingMode is one elastic buckling mode.
type BucklingMode struct {
	Factor float64   // on the loads of the state; ascending, positive
	Shape  []float64 // 6 per node, greatest translation 1 (or rotation, if no node is translated)
	Local  []int     // elements that buckle between their nodes, which stand still; Shape is then zero
}

var errStale = errors.New("frame: the answer is not stable, or its workspace has been loaded again")

// Buckling returns the n lowest elastic buckling load factors of the state r, with shapes: all actions of its combination
// grow together. Fewer, or none, are returned where there are no more, as under pure tension. One-way elements are as they
// were found: what acts takes part, what is slack does not, except those that stand ready (Result.Touching) and, unless
// RodsAsFound is set, those of which a mode would stretch some whichever way it went: it could not grow past them. They are
// then marked in r.Touching. Torsional and flexural-torsional buckling are not covered.
func (w *Workspace) Buckling(r *Result, n int) ([]BucklingMode, error) {
	if r.w != w || r.load != w.loadNo || !r.Stable {
		return nil, errStale
	}
	w.factors = append(w.factors[:0], r.factors...)
	w.so.gathered = false
	if w.Quick {
		w.combineSmooth()
	}
	if n == 1 {
		if mode, ok := w.lowestMode(r); ok {
			return []BucklingMode{mode}, nil
		}
	}
	w.gatherAll()
	limit := w.bucklingLimit(r, n)
	if limit == 0 {
		return nil, nil
	}
	p := &pencil{w: w, fill: func(x float64) int { return w.fillBuckling(r, x) }}
	for {
		roots, err := p.lowest(n, 1.0123*min(1, limit/2), limit)
		if err != nil {
			return nil, fmt.Errorf("frame: buckling: %w", err)
		}
		modes := make([]BucklingMode, 0, len(roots))
		touched := false
		for _, rt := range roots {
			mode := BucklingMode{Factor: rt.x, Shape: w.shape(rt.vec), Local: rt.local}
			touched = touched || !w.RodsAsFound && w.touch(&mode, r)
			modes = append(modes, mode)
		}
		if !touched {
			return modes, nil
		}
	}
}

// lowestMode finds the lowest mode with eight stiffnesses side by side; false if that does not go.
func (w *Workspace) lowestMode(r *Result) (mode BucklingMode, ok bool) {
	for {
		factor, vec, local, ok := w.lowestAbreast(r)
		if !ok {
			return mode, false
		}
		mode = BucklingMode{Factor: factor, Shape: w.shape(vec), Local: local}
		if w.RodsAsFound || !w.touch(&mode, r) {
			return mode, true
		}
	}
}

// touchShare is the strain energy of a slack element, were it taut, relative to that of a mode, from which it counts as
// stretched by it.
const touchShare = 0.01

// touch marks the slack elements that a mode would stretch one way or the other, if some stand in each way.
func (w *Workspace) touch(mode *BucklingMode, r *Result) bool {
	var total float64
	forth, back := false, false
	for pass := range 2 {
		for _, e := range w.m.oneWay {
			if !r.Slack[e] || r.Touching[e] || mode.Local != nil {
				continue
			}
			if total == 0 {
				if !w.so.gathered {
					w.gatherAll()
				}
				_, total = w.bendingEnergy(mode, r)
			}
			el, t := &w.els[e], &w.m.elements[e]
			d := el.local(mode.Shape[6*t.i:6*t.i+6], mode.Shape[6*t.j:6*t.j+6])
			stretch := d[6] - d[0]
			if t.acts == solver.CompressionOnly {
				stretch = -stretch
			}
			if el.linear.kA*stretch*stretch < touchShare*total {
				continue
			}
			if pass == 1 {
				r.Touching[e] = true
			}
			forth, back = forth || stretch > 0, back || stretch < 0
		}
		if !forth || !back {
			return false
		}
	}
	return true
}

// axialOf is the axial force just beyond end i of element e in state r; zero if it is slack.
func (r *Result) axialOf(e int) float64 {
	if r.Slack[e] {
		return 0
	}
	return -r.Ends[e][0]
}

// bucklingLimit is a load factor up to which n modes are sought: from the least clamped Euler factor of a compressed
// element, under which its own first mode lies; 0 if nothing is compressed.
func (w *Workspace) bucklingLimit(r *Result, n int) float64 {
	bars, limit := false, math.Inf(1)
	least := 1e-9 * r.greatestAxial()
	for e := range w.els {
		el := &w.els[e]
		b := &w.so.strips
		b.spans = append(b.spans[:0], w.so.arena[w.so.first[e]:w.so.first[e+1]]...)
		b.setAxial(r.axialOf(e))
		press := -b.meanAxial(el.L)
		if press <= least {
			continue
		}
		for p := range 2 {
			if el.slender[p] {
				bars = true
			} else {
				limit = min(limit, 4*math.Pi*math.Pi*el.EI[p]/(el.L*el.L*press))
			}
		}
	}
	switch {
	case !math.IsInf(limit, 1):
		return limit * float64(max(64, 4*n*n))
	case bars:
		return 1e5
	}
	return 0
}

func (r *Result) greatestAxial() float64 {
	a := 0.0
	for e := range r.Ends {
		a = max(a, math.Abs(r.Ends[e][0]), math.Abs(r.Ends[e][6]))
	}
	return a
}

// fillBuckling assembles K(λ) in so.val and returns the hidden count; so.hidden holds it by element.
func (w *Workspace) fillBuckling(r *Result, lambda float64) (hidden int) {
	return w.fillExact(func(e int, st *state) bool {
		if r.Slack[e] {
			*st = w.els[e].linear
			return r.Touching[e]
		}
		w.stateTimes(e, r.axialOf(e), lambda, st)
		return true
	})
}

// fillExact assembles so.val from the states that of gives; an element for which it returns false is left out.
func (w *Workspace) fillExact(of func(e int, st *state) bool) (hidden int) {
	so := &w.so
	so.val = zeroed(so.val, len(w.val))
	so.hidden = zeroed(so.hidden, len(w.els))
	so.act.ready = false
	st := &so.state
	for e := range w.els {
		if !of(e, st) {
			continue
		}
		so.hidden[e] = st.negJ
		hidden += st.negJ
		w.els[e].global(st, &w.kk)
		addAt(so.val, w.m.place[e][:], w.kk[:])
	}
	w.addNodeSprings(so.val)
	w.addTurns(so.val)
	return hidden
}

// exactState computes the stiffness of element e under lambda times the axial force that begins with n at end i, vibrating
// at the squared circular frequency w2 (0 for statics).
func (w *Workspace) exactState(e int, n, lambda, w2 float64, st *state) {
	el := &w.els[e]
	*st = el.linear
	b := &w.so.strips
	b.spans = append(b.spans[:0], w.so.arena[w.so.first[e]:w.so.first[e+1]]...)
	b.setAxial(n)
	for i := range b.spans {
		s := &b.spans[i]
		for k := range s.n {
			s.n[k] *= lambda
		}
		s.q0, s.q1, s.F, s.M = [3]float64{}, [3]float64{}, [3]float64{}, [3]float64{}
	}
	b.tailF, b.tailM = [3]float64{}, [3]float64{}
	mu := w.massPerLength(e) * w2
	b.refine(el, mu)
	for p := range 2 {
		if el.slender[p] {
			k := b.meanAxial(el.L) / el.L
			st.plane[p] = block{0: {0: k, 2: -k}, 2: {0: -k, 2: k}}
			continue
		}
		k, neg := b.chain(el, p, mu, nil)
		st.plane[p], _ = k.asBlock()
		st.negJ += neg + st.planeC[p].condense(&st.plane[p], 4, &el.plane[p])
	}
	if el.arms {
		first, last := &b.spans[0], &b.spans[len(b.spans)-1]
		ends := [2]float64{first.n[0], last.n[0] + last.n[1] + last.n[2]}
		for end, sign := range [2]float64{1, -1} {
			a := &el.arm[end]
			st.arm[end] = sign * ends[end] * (a[0]*el.R[0][0] + a[1]*el.R[0][1] + a[2]*el.R[0][2])
		}
	}
}

// massPerLength is ρA of element e (kg/m).
func (w *Workspace) massPerLength(e int) float64 {
	el := &w.s.Elements[e]
	return el.Density * el.A
}

// shape spreads a vector of unknowns to the nodes, its greatest translation 1.
func (w *Workspace) shape(x []float64) []float64 {
	u := make([]float64, 6*len(w.m.nodes))
	if x == nil {
		return u
	}
	shift, turn := 0.0, 0.0
	for k, d := range w.m.dof {
		if d < 0 {
			continue
		}
		u[k] = x[d]
		if k%6 < 3 {
			shift = max(shift, math.Abs(x[d]))
		} else {
			turn = max(turn, math.Abs(x[d]))
		}
	}
	unit := shift
	if shift < smallAmount*turn*w.size() {
		unit = turn
	}
	if unit == 0 {
		return u
	}
	unit = signOfLargest(u, unit)
	for k := range u {
		u[k] /= unit
	}
	return u
}
