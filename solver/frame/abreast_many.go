package frame

import (
	"cmp"
	"slices"

	"leanbay/solver"
)

// With many one-way elements (see manyRods) there are no tables of all on all from which a group could take slack elements out of a
// shared factor. First order then goes combination by combination, and second order eight combinations side by side, each with a factor
// of its own from the beginning.

// answerMany is answerEach for many one-way elements.
func (w *Workspace) answerMany(cs []solver.Combination, a Analysis, rs []Result, stop func(i int) bool) error {
	sh, t := &w.so.sharing, &w.so.abreast
	sh.left, sh.single = sh.left[:0], 0
	sh.press = zeroed(sh.press, len(cs))
	sh.swing = zeroed(sh.swing, len(cs)*len(w.els))
	for i := range cs {
		r := &rs[i]
		ok, err := w.begin(&cs[i], a, r)
		if err != nil {
			return err
		}
		if !ok || !w.startSecond(r) {
			if stop(i) {
				return nil
			}
			continue
		}
		r.size = w.so.size
		t.weighed = weighedCases(t.weighed, r.factors)
		w.swingOf(i, t.weighed)
		sh.press[i] = w.pressure(r)
		sh.left = append(sh.left, i)
		r.Stable = false // until it is answered
	}
	slices.SortStableFunc(sh.left, func(i, j int) int { return cmp.Compare(sh.press[i], sh.press[j]) })
	_, err := w.answerLeft(cs, a, rs, stop)
	return err
}

// startMany sets the displacements of first order, which the results of a group hold.
func (w *Workspace) startMany(group []int) {
	s := &w.so.abreast
	for l := range group {
		for k, d := range w.m.dof {
			if d >= 0 {
				s.x[d][l] = s.lane[l].r.U[k]
			}
		}
	}
}
