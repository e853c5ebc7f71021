package frame

import (
	"fmt"
	"math"
	"slices"
)

// setSearch remembers the slack sets that second order has passed through.
type setSearch struct {
	seen    []uint64
	cycled  bool
	changes int
	current []bool // the set for which so.act is decomposed
}

func (q *setSearch) reset() { q.seen, q.cycled, q.changes = q.seen[:0], false, 0 }

// prepareSlack makes so.act ready for the slack set of r under the factor in hand; false if nothing is slack.
func (w *Workspace) prepareSlack(r *Result) bool {
	s, q := &w.so.act, &w.so.search
	any := false
	for _, e := range w.m.oneWay {
		any = any || r.Slack[e]
	}
	if !any {
		return false
	}
	fresh := !s.ready
	if fresh {
		w.prepareOneWay(s, w.solveSecond)
		s.ready, s.size = true, w.so.size
	}
	for i, e := range w.m.oneWay {
		fresh = fresh || s.slack[i] != r.Slack[e] || len(q.current) != s.m || q.current[i] != r.Slack[e]
		s.slack[i] = r.Slack[e]
	}
	if fresh {
		q.current = append(q.current[:0], s.slack...)
		s.listSet()
		s.decompose()
		if s.nulls > 0 {
			s.findLean()
		}
	}
	return true
}

// innerSteps bounds the corrections between two exact evaluations, and innerFall is the fall of the out-of-balance at which
// they stop.
const (
	innerSteps = 12
	innerFall  = 1e-8
	quickFall  = 1e-4 // the states moved along are hardly better
)

// correct adds to the displacements what the factor in hand answers to the out-of-balance forces, slack elements gone, and
// repeats it with the states moved along. It returns false if a mechanism was found.
func (w *Workspace) correct(r *Result) bool {
	w.outOfBalance(r, w.b)
	start := norm(w.b)
	last := start
	fall := innerFall
	if w.Quick {
		fall = quickFall
	}
	for step := range innerSteps {
		if !w.answer(r) {
			return w.push(r, &w.so.act)
		}
		w.so.mix.advance(w.x, w.b, step)
		w.restate(r)
		w.outOfBalance(r, w.b)
		left := norm(w.b)
		if left < fall*start || left > 2*last {
			break
		}
		last = min(last, left)
	}
	return true
}

// answer turns the forces in w.b into the displacements that the factor in hand answers with, slack elements gone; false if they
// drive a motion that nothing that acts resists, which is then in so.act.tmp.
func (w *Workspace) answer(r *Result) bool {
	w.solveSecond(w.b, 1)
	if w.prepareSlack(r) {
		s := &w.so.act
		s.stretches(s.e0, w.b)
		if s.nulls > 0 && s.drive(s.tmp[:s.nulls]) {
			return false
		}
		s.solveSet()
		s.move(w.b, s.y, w.m.n)
	}
	return true
}

// norm is the greatest magnitude.
func norm(v []float64) (m float64) {
	for _, x := range v {
		m = max(m, math.Abs(x))
	}
	return m
}

// push moves the structure along the motion in s.tmp, which the load drives and nothing that acts resists, until the first
// slack element bites.
func (w *Workspace) push(r *Result, s *activeSet) bool {
	far, bite := w.drift(s)
	w.so.search.changes++
	if bite < 0 || w.so.search.changes > maxSets {
		r.Stable = false
		r.Mechanisms = append(r.Mechanisms, w.describe(slices.Clone(w.b), w.slackList(r)))
		r.Notes = append(r.Notes, "under its axial forces the load pushes the structure along a motion that no acting element resists")
		return false
	}
	for i, v := range w.b {
		w.x[i] += far * v
	}
	r.Slack[w.m.oneWay[bite]] = false
	return true
}

// drift puts the motion in s.tmp into w.b, and finds how far along it from w.x the first slack element bites, and which; -1 if none
// does.
func (w *Workspace) drift(s *activeSet) (far float64, bite int) {
	z := s.tmp[:s.nulls]
	s.stretches(s.e, w.x)
	p := len(s.set)
	clear(s.y)
	for c := range z {
		for a, q := range s.set {
			s.y[q] += z[c] * s.root[q] * s.null[c*p+a]
		}
	}
	clear(w.b)
	s.move(w.b, s.y, w.m.n)
	far, bite = math.Inf(1), -1
	for a, q := range s.set {
		rate := dot(s.lean[a*s.nulls:(a+1)*s.nulls], z)
		if rate*s.root[q] > 1e-9*math.Sqrt(dot(z, z)) {
			if t := max(0, -s.e[q]/rate); t < far {
				far, bite = t, q
			}
		}
	}
	return far, bite
}

func (w *Workspace) slackList(r *Result) (list []int) {
	for _, e := range w.m.oneWay {
		if r.Slack[e] {
			list = append(list, int(e))
		}
	}
	return list
}

// setsChange tells whether answers of r's kind have slack sets.
func (w *Workspace) setsChange(r *Result) bool { return r.Analysis.oneWay() && len(w.m.oneWay) > 0 }

// settled tells whether the converged displacements agree with the slack set; if not, it changes the set. When a set
// returns, only the first disagreeing element changes from then on (Murty's least-index rule, which ends).
func (w *Workspace) settled(r *Result) bool {
	if !w.setsChange(r) {
		return true
	}
	s, q := &w.active, &w.so.search
	tol := 1e-9 * s.stretches(s.e, w.x) // displacements are as good as the residual
	changed := false
	for i, e := range w.m.oneWay {
		wrong := r.Slack[e] && s.e[i] > tol || !r.Slack[e] && s.e[i] < -tol
		if wrong && !(q.cycled && changed) {
			r.Slack[e] = !r.Slack[e]
			changed = true
		}
		s.next[i] = r.Slack[e]
	}
	if !changed {
		return true
	}
	q.changes++
	if q.changes > maxSets {
		r.Stable = false
		r.Notes = append(r.Notes, fmt.Sprintf("the active set of one-way elements did not settle in %d changes under second order; no answer is given", maxSets))
		return false
	}
	h := hashSet(s.next)
	if !q.cycled && slices.Contains(q.seen, h) {
		q.cycled = true
		r.Notes = append(r.Notes, "the active set returned to an earlier state under second order; it was finished one element at a time")
	}
	q.seen = append(q.seen, h)
	return false
}
