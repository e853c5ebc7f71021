package sizing

import (
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"

	"leanbay/optimize"
	"leanbay/solver/sparse"
)

// forecast predicts designs near an analysed one. Bar forces, under the loads and under a unit load at each watched
// displacement, are taken as linear in a bounded function of each area, with their exact derivatives at the centre;
// displacements, and the stretches of the bars that are stressed most, follow from the predicted forces by virtual work.
// The error of either set of forces is of second order and in equilibrium with nothing, so that theirs is of fourth. The
// other stresses are force over area. Nothing is solved for a predicted design. Source:
// G. N. Vanderplaats, E. Salajegheh, New approximation method for stress constraints in structural synthesis, AIAA
// Journal 27(3), 1989 (forces as intermediate quantities).
type forecast struct {
	s           *skeleton
	cases       int
	watch       []watch
	skip        []bool      // by case and member: its stress is watched
	centre      []float64   // areas by group
	forces      []float64   // at the centre: column by column, members within; first the cases, then the unit loads
	slopes      [][]float64 // by group: change of forces with the logarithm of its area
	base        []int       // point around which it is asked; nil before the first
	baseZ       []float64   // by group: the place of its area
	baseF       []float64   // forces there
	baseInverse []float64   // by group: one over its area
	baseWork    []float64   // by watch
	parts       []float64   // by watch, groups within: its part of the work times its area
	rough       []float64   // by watch, at the point looked at: estimated ratio; -Inf once computed
	trial       []float64   // bars' forces under the cases at the point looked at
	unit        []float64   // and under one unit load
	seen        []int       // the point that trial, moved, areas, give and blur are of
	blur        float64
	moved       []moved   // groups in which it differs from base
	areas       []float64 // by group, at it
	give        []float64 // by member, at it: length / (E area)
}

// moved is a group whose area differs from that of the base: by how much its place differs.
type moved struct {
	group   int
	by      float64
	inverse float64 // of the reciprocal of its area
}

// unitLoad is a pair of forces of 1 that pulls a member's ends apart, or a force of 1 at an unknown.
type unitLoad struct{ member, unknown int }

// Forecast implements optimize.Forecaster. A design that cannot be solved has none.
func (e *evaluator) Forecast(_ context.Context, point []int, _ string) (optimize.Forecast, error) {
	if e.skeleton == nil {
		e.skeleton = newSkeleton(e.p)
	}
	s, t := e.skeleton, e.p.truss
	f := &forecast{s: s, cases: len(t.Cases), centre: e.p.areas(point)}
	factor, err := s.factor(f.centre)
	if err != nil {
		return nil, nil
	}
	loads := make([]float64, s.n*f.cases)
	for c := range t.Cases {
		for _, l := range t.Cases[c].Loads {
			for d := range 3 {
				if u := s.unknown[3*l.Node+d]; u >= 0 {
					loads[int(u)*f.cases+c] += l.Force[d]
				}
			}
		}
	}
	factor.Solve(loads, f.cases)
	units := f.choose(loads)
	virtual := make([]float64, s.n*len(units))
	for k, u := range units {
		if u.member >= 0 {
			s.pull(u.member, 1, virtual, k, len(units))
		} else {
			virtual[u.unknown*len(units)+k] = 1
		}
	}
	if len(units) > 0 {
		factor.Solve(virtual, len(units))
	}
	f.differentiate(factor, loads, virtual, len(units))
	f.prepare()
	return f, nil
}

// differentiate fills forces and slopes from the solutions under the cases and under the unit loads.
func (f *forecast) differentiate(factor *sparse.Factor, loads, virtual []float64, units int) {
	s, t := f.s, f.s.problem.truss
	members, columns := len(t.Members), f.cases+units
	f.forces = make([]float64, columns*members)
	for q := range columns {
		for m := range t.Members {
			ea := t.E * f.centre[s.group[m]] / s.length[m]
			if q < f.cases {
				f.forces[q*members+m] = ea * s.stretch(m, loads, q, f.cases)
			} else {
				f.forces[q*members+m] = ea * s.stretch(m, virtual, q-f.cases, units)
			}
		}
	}
	// K u = p: a group's stiffness times u is the pull of its own bars' forces, so that K du = -pull.
	rhs := make([]float64, s.n*columns)
	for g, own := range t.Groups {
		clear(rhs)
		for _, m := range own {
			for q := range columns {
				s.pull(m, -f.forces[q*members+m], rhs, q, columns)
			}
		}
		factor.Solve(rhs, columns)
		slope := make([]float64, columns*members)
		for m := range t.Members {
			ea := t.E * f.centre[s.group[m]] / s.length[m]
			for q := range columns {
				slope[q*members+m] = ea * s.stretch(m, rhs, q, columns)
				if s.group[m] == g {
					slope[q*members+m] += f.forces[q*members+m]
				}
			}
		}
		f.slopes = append(f.slopes, slope)
	}
}

func (f *forecast) prepare() {
	f.baseZ = make([]float64, len(f.centre))
	f.baseF, f.trial = make([]float64, len(f.forces)), make([]float64, len(f.skip))
	f.areas, f.give, f.unit = make([]float64, len(f.centre)), make([]float64, len(f.s.group)), make([]float64, len(f.s.group))
	f.baseInverse, f.baseWork = make([]float64, len(f.centre)), make([]float64, len(f.watch))
	f.parts, f.rough = make([]float64, len(f.watch)*len(f.centre)), make([]float64, len(f.watch))
}

// at is the bounded function of an area in which forces are linear: 2(r-1)/(r+1), with r the ratio to the area at
// the centre, goes like its logarithm nearby and to ±2 far away, as a bar's share of force does.
func (f *forecast) at(group int, area float64) float64 {
	r := area / f.centre[group]
	return 2 * (r - 1) / (r + 1)
}

// At implements optimize.Forecast. After the first time only what changed is brought up to date.
func (f *forecast) At(p []int) {
	if f.base == nil {
		f.base = slices.Repeat([]int{-1}, len(p))
		copy(f.baseF, f.forces)
	}
	for g, o := range p {
		if o == f.base[g] {
			continue
		}
		f.base[g] = o
		area := f.s.problem.truss.Areas[o]
		z := f.at(g, area)
		floats.AddScaled(f.baseF, z-f.baseZ[g], f.slopes[g])
		f.baseZ[g], f.baseInverse[g] = z, 1/area
	}
	f.seen = f.seen[:0]
	f.fold()
}

// fold computes for each watch the virtual work at the base, and each group's part of it times the group's area: with
// forces kept as they are, work is linear in the reciprocals of areas.
func (f *forecast) fold() {
	members := len(f.s.group)
	clear(f.parts)
	for i, w := range f.watch {
		real := f.baseF[w.cause*members:][:members]
		unit := f.baseF[(f.cases+w.unit)*members:][:members]
		parts := f.parts[i*len(f.centre):][:len(f.centre)]
		for m, g := range f.s.group {
			parts[g] += float64(float64(real[m]*unit[m]) * f.s.length[m])
		}
		sum := 0.0
		for g, v := range parts {
			parts[g] = v / f.s.problem.truss.E
			sum += float64(parts[g] * f.baseInverse[g])
		}
		f.baseWork[i] = sum
	}
}

// Objective implements optimize.Forecast: mass is known.
func (f *forecast) Objective(p []int) float64 { return f.s.problem.mass(p) }

// Distance implements optimize.Forecast: the greatest share, over the load cases, that the energy of the forces' change has
// in the energy of the forces. Where forces do not change, what is forecast is right however much areas do.
func (f *forecast) Distance(p []int) float64 {
	f.blur = f.change(p)
	members, far := len(f.s.group), 0.0
	for c := range f.cases {
		whole, part := 0.0, 0.0
		for m, give := range f.give {
			n := f.trial[c*members+m]
			d := n - f.forces[c*members+m]
			whole += float64(float64(n*n) * give)
			part += float64(float64(d*d) * give)
		}
		if whole > 0 {
			far = max(far, part/whole)
		}
	}
	return far
}

// Excess implements optimize.Forecast. Watches are first estimated with the forces of the base; those are then computed
// that the estimate does not leave well below the worst.
func (f *forecast) Excess(p []int, enough float64) float64 {
	if !slices.Equal(p, f.seen) {
		f.blur = f.change(p)
	}
	blur := f.blur
	f.estimate()
	members, worst := len(f.s.group), f.barStress()
	for worst-1 <= enough {
		i := floats.MaxIdx(f.rough)
		if f.rough[i] < worst-blur || math.IsInf(f.rough[i], -1) {
			break
		}
		f.rough[i] = math.Inf(-1)
		w := f.watch[i]
		v := f.work(f.trial[w.cause*members:][:members], (f.cases+w.unit)*members)
		worst = max(worst, v/w.up, -v/w.down)
	}
	return worst - 1
}

// change notes in what p differs from the base, computes the bars' forces under the cases, and returns how far an
// estimate with the base's forces is trusted.
func (f *forecast) change(p []int) (blur float64) {
	t := f.s.problem.truss
	f.moved, f.seen = f.moved[:0], append(f.seen[:0], p...)
	n := f.cases * len(f.s.group)
	copy(f.trial, f.baseF[:n])
	blur = 0.02
	for g, o := range p {
		f.areas[g] = t.Areas[o]
		if o != f.base[g] {
			dz := f.at(g, t.Areas[o]) - f.baseZ[g]
			f.moved = append(f.moved, moved{g, dz, 1/t.Areas[o] - f.baseInverse[g]})
			floats.AddScaled(f.trial, dz, f.slopes[g][:n])
			blur += 0.3 * dz * dz
		}
	}
	for m, g := range f.s.group {
		f.give[m] = f.s.length[m] / (t.E * f.areas[g])
	}
	return blur
}

// estimate fills rough with the ratios of the watches if forces were those of the base.
func (f *forecast) estimate() {
	groups := len(f.centre)
	for i, w := range f.watch {
		v := f.baseWork[i]
		for _, d := range f.moved {
			v += float64(f.parts[i*groups+d.group] * d.inverse)
		}
		f.rough[i] = max(v/w.up, -v/w.down)
	}
}

// barStress returns the greatest ratio of the stresses that are not watched.
func (f *forecast) barStress() float64 {
	worst := 0.0
	for i, n := range f.trial {
		if !f.skip[i] {
			m := i % len(f.s.group)
			stretch := n * f.give[m]
			worst = max(worst, stretch/f.s.up[m], -stretch/f.s.down[m])
		}
	}
	return worst
}

// work is the virtual work of the forces in column at of the unit loads on the stretches of bars under real forces.
func (f *forecast) work(real []float64, at int) float64 {
	unit := f.unit
	copy(unit, f.baseF[at:])
	for _, d := range f.moved {
		floats.AddScaled(unit, d.by, f.slopes[d.group][at:at+len(unit)])
	}
	sum := 0.0
	for m, n := range real {
		sum += float64(float64(n*unit[m]) * f.give[m])
	}
	return sum
}

// Excess implements optimize.Forecaster.
func (e *evaluator) Excess(s optimize.Score) float64 { return s.Tie - 1 }
