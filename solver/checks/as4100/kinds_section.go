package as4100

import (
	"fmt"
	"math"

	"leanbay/solver"
	"leanbay/solver/checks"
)

// sectionWeights are the factors that turn N (tension, compression), Mx and My into shares of the section check.
type sectionWeights struct{ tension, compression, x, y float64 }

func (c *Checker) sectionWeights() sectionWeights {
	if checks.Defined(c.incident) {
		m := 1 / (c.Cap.phi * c.incident)
		return sectionWeights{1 / (c.Cap.phi * c.base.Nt), 1 / (c.Cap.phi * c.ncLeast), m, m}
	}
	return sectionWeights{1 / (c.Cap.phi * c.base.Nt), 1 / (c.Cap.phi * c.Cap.Ns), 1 / (c.Cap.phi * c.Cap.Msx), 1 / (c.Cap.phi * c.Cap.Msy())}
}

// axial is the share of axial force n, tension positive.
func (s *sectionWeights) axial(n float64) float64 { return max(s.tension*n, -s.compression*n) }

// rounding is the share of moments in a bar's utilisation below which they are none.
const rounding = 1e-9

func boundSection(r *run) float64 {
	s := &r.c.section
	axial := max(s.tension*r.Tension, s.compression*r.Compression)
	bent := s.x*max(r.Mx[0], r.Mx[1]) + s.y*max(r.My[0], r.My[1])
	if checks.Defined(r.c.incident) && bent <= rounding*axial {
		return 0 // a rod without moments has its checks of axial force
	}
	return (axial + bent) * (1 + weightSlack)
}

// sectionCase is the section check for forces f.
func (r *run) sectionCase(f *solver.Forces, w *checks.Working) (Ratio, Actions, int) {
	a, side := actionsAt(f)
	if checks.Defined(r.c.incident) {
		return r.firstYield(f, w), a, side
	}
	k := r.k
	k.Msy = r.c.msy(side)
	return k.Section(a, w), a, side
}

// firstYield is the check of sections whose bending the pack does not cover: member axial capacity and first yield of
// incidental moments, added.
func (r *run) firstYield(f *solver.Forces, w *checks.Working) Ratio {
	s := &r.c.section
	n, x, y := s.axial(f[solver.N]), s.x*math.Abs(f[solver.Mz]), s.y*math.Abs(f[solver.My])
	u := n + x + y
	if w != nil {
		w.Add(checks.Step{Clause: "no clause", Symbol: "u", Formula: "N*/(phi N) + (|M about z| + |M about y|)/(phi M at first yield, any direction)", Mark: checks.MarkOwnRule,
			Numbers: fmt.Sprintf("%.4g + %.4g + %.4g", n, x, y), Value: u, Unit: "-"})
	}
	return Ratio{"first yield (no clause)", u, u}
}

// findSection seeks the worst station: piece ends, and where any signed sum of the shares turns. The linear sum's
// greatest value lies among these exactly; the power form of 8.3.4 is searched on each piece besides.
func findSection(r *run) {
	s := r.c.section
	power := !checks.Defined(r.c.incident) && r.k.powerForm()
	for i := range r.d.Pieces {
		p := &r.d.Pieces[i]
		if r.pieceBound(p, s) <= max(r.floor, r.found.ratio.Radial) {
			continue
		}
		r.sectionAt(p, 0)
		r.sectionAt(p, 1)
		if power {
			r.searchPower(p)
			continue
		}
		r.turningStations(p, s)
	}
}

// turningStations tries every stationary point of a signed sum of the shares on a piece.
func (r *run) turningStations(p *solver.Piece, s sectionWeights) {
	for _, n := range [2]float64{s.tension, -s.compression} {
		for _, x := range [2]float64{s.x, -s.x} {
			for _, y := range [2]float64{s.y, -s.y} {
				r.blend(p, n, x, y)
				for _, xi := range turns(&r.mix, r.peaks[:0]) {
					r.sectionAt(p, xi)
				}
			}
		}
	}
}

// powerParts is into how many parts a piece is cut to find the humps of the power form: its curves are cubics at most in
// first order and bend at most a few times in second order. A hump rises above its samples by far less than humpReserve.
const (
	powerParts  = 16
	humpReserve = 1.1
)

// searchPower finds the worst station of the power form on a piece: samples, then golden section about every hump that
// could exceed what was found.
func (r *run) searchPower(p *solver.Piece) {
	const h = 1.0 / powerParts
	before, here := math.Inf(-1), r.sample(p, 0)
	for i := 0; i <= powerParts; i++ {
		after := math.Inf(-1)
		if i < powerParts {
			after = r.sample(p, float64(i+1)*h)
		}
		if here >= before && here >= after && here*humpReserve > max(r.floor, r.found.ratio.Radial) {
			r.climb(p, max(0, float64(i-1)*h), min(1, float64(i+1)*h))
		}
		before, here = here, after
	}
}

// sample tries a station unless its linear sum, an upper bound, or the power form at the level of interest shows that it
// cannot count, nor a hump beside it; it returns the utilisation, or minus infinity where that is far below.
func (r *run) sample(p *solver.Piece, xi float64) float64 {
	level := max(r.floor, r.found.ratio.Radial) / humpReserve
	if level > 0 {
		f := p.Forces(xi)
		a, side := actionsAt(&f)
		k := r.k
		k.Msy = r.c.msy(side)
		if k.sectionShares(a).sum() <= level || k.sectionPower(a.scaled(level), nil) <= 1 {
			return math.Inf(-1)
		}
	}
	return r.sectionAt(p, xi)
}

// climb narrows the greatest section utilisation between a and b of a piece by golden section.
func (r *run) climb(p *solver.Piece, a, b float64) {
	const golden = 0.6180339887498949
	x1, x2 := b-golden*(b-a), a+golden*(b-a)
	u1, u2 := r.sectionAt(p, x1), r.sectionAt(p, x2)
	for range 20 {
		if u1 > u2 {
			b, x2, u2 = x2, x1, u1
			x1 = b - golden*(b-a)
			u1 = r.sectionAt(p, x1)
		} else {
			a, x1, u1 = x1, x2, u2
			x2 = a + golden*(b-a)
			u2 = r.sectionAt(p, x2)
		}
	}
}

// pieceBound bounds the section's linear sum on a piece.
func (r *run) pieceBound(p *solver.Piece, s sectionWeights) float64 {
	lo, hi := quadRange(&p.N)
	n := max(s.tension*hi, -s.compression*lo)
	lo, hi = curveRange(&p.Mz)
	x := s.x * max(hi, -lo)
	lo, hi = curveRange(&p.My)
	return n + x + s.y*max(hi, -lo)
}

// blend fills r.mix with n·N + x·Mz + y·My on a piece.
func (r *run) blend(p *solver.Piece, n, x, y float64) {
	r.mix.Len = max(3, p.Mz.Len, p.My.Len)
	for k := range r.mix.Len {
		v := 0.0
		if k < 3 {
			v = n * p.N[k]
		}
		if k < p.Mz.Len {
			v += x * p.Mz.C[k]
		}
		if k < p.My.Len {
			v += y * p.My.C[k]
		}
		r.mix.C[k] = v
	}
}

// sectionAt tries one station.
func (r *run) sectionAt(p *solver.Piece, xi float64) float64 {
	f := p.Forces(xi)
	ratio, a, side := r.sectionCase(&f, nil)
	r.take(found{ratio: ratio, station: p.X + xi*p.L, a: a, side: side})
	return ratio.Radial
}

func workSection(r *run, w *checks.Working) float64 {
	a := r.found.a
	f := solver.Forces{solver.N: -a.N, solver.Mz: a.Mx, solver.My: a.My}
	if r.found.side == 1 {
		f[solver.My] = -a.My
	}
	noteActions(w, a, r.found.station)
	ratio, _, _ := r.sectionCase(&f, w)
	return ratio.Radial
}

// noteActions records the design actions of a case and its station.
func noteActions(w *checks.Working, a Actions, station float64) {
	w.Add(checks.Step{Symbol: fmt.Sprintf("at %.3f m: N* (compression +), Mx*, My*", station), Numbers: fmt.Sprintf("%.4g kN, %.4g kN·m, %.4g kN·m", a.N/1e3, a.Mx/1e3, a.My/1e3), Value: math.NaN()})
}
