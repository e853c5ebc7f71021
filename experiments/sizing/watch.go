package sizing

import (
	"cmp"
	"math"
	"slices"
)

// watched is the share of the greatest displacement ratio from which a displacement is forecast; mostWatched bounds how
// many are, the greatest first. One that is left out and comes to govern is seen when the design is analysed.
const (
	watched     = 0.4
	mostWatched = 60
)

// watch is a displacement, or a bar's stretch, that is forecast by virtual work.
type watch struct {
	unit     int // among the unit loads
	cause    int // load case
	up, down float64
}

// choose picks what to watch from the solutions of the cases and returns the unit loads that this needs.
func (f *forecast) choose(u []float64) []unitLoad {
	all := append(f.displacements(u), f.stretches(u)...)
	slices.SortStableFunc(all, func(a, b place) int { return cmp.Compare(b.ratio, a.ratio) })
	f.skip = make([]bool, f.cases*len(f.s.group))
	var units []unitLoad
	for _, p := range all {
		at := slices.Index(units, p.unit)
		if at < 0 && len(units) == mostWatched {
			continue
		}
		if at < 0 {
			at, units = len(units), append(units, p.unit)
		}
		if p.unit.member >= 0 {
			f.skip[p.cause*len(f.s.group)+p.unit.member] = true
		}
		f.watch = append(f.watch, watch{at, p.cause, p.up, p.down})
	}
	return units
}

// place is a displacement or a stretch that might be watched.
type place struct {
	unit     unitLoad
	cause    int
	up, down float64 // limits of a positive and of a negative value
	ratio    float64
}

// worthWatching leaves out what is far below the greatest ratio.
func worthWatching(all []place) []place {
	greatest := 0.0
	for _, p := range all {
		greatest = max(greatest, p.ratio)
	}
	return slices.DeleteFunc(all, func(p place) bool { return p.ratio < watched*greatest })
}

func (f *forecast) displacements(u []float64) []place {
	t := f.s.problem.truss
	limits := make([]float64, f.s.n)
	for _, l := range t.Displacement {
		for _, n := range l.Nodes {
			for _, d := range l.Directions {
				if k := f.s.unknown[3*n+d]; k >= 0 && (limits[k] == 0 || l.Limit < limits[k]) {
					limits[k] = l.Limit
				}
			}
		}
	}
	var all []place
	for k, limit := range limits {
		for c := range f.cases {
			if limit > 0 {
				all = append(all, place{unitLoad{-1, k}, c, limit, limit, math.Abs(u[k*f.cases+c]) / limit})
			}
		}
	}
	return worthWatching(all)
}

func (f *forecast) stretches(u []float64) []place {
	var all []place
	for m := range f.s.group {
		up, down := f.s.up[m], f.s.down[m]
		for c := range f.cases {
			v := f.s.stretch(m, u, c, f.cases)
			all = append(all, place{unitLoad{m, -1}, c, up, down, max(v/up, -v/down)})
		}
	}
	return worthWatching(all)
}
