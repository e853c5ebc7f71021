package as4100

import (
	"fmt"
	"math"

	"leanbay/solver"
	"leanbay/solver/checks"
)

func boundInPlane(r *run) float64 {
	if r.Compression == 0 || checks.Defined(r.c.incident) {
		return 0
	}
	w := &r.c.weights
	return r.Compression*w.inPlane + max(max(r.Mx[0], r.Mx[1])*w.x, r.minorShare())
}

// minorShare bounds My over the section's capacity for the side that it compresses.
func (r *run) minorShare() float64 {
	w := &r.c.weights
	return max(r.My[0]*w.my[0], r.My[1]*w.my[1])
}

// inPlaneCase is the in-plane check about an axis for the member's greatest actions.
func (r *run) inPlaneCase(axis Axis, w *checks.Working) (Ratio, Actions) {
	a := Actions{N: r.Compression, Mx: max(r.Mx[0], r.Mx[1])}
	k := r.k
	if axis == Y {
		_, side := r.c.myShare(r.My)
		a.Mx, a.My, k.Msy = 0, r.My[side], r.c.msy(side)
	}
	return k.InPlane(axis, a, w), a
}

func findInPlane(r *run) {
	for _, axis := range [2]Axis{X, Y} {
		ratio, a := r.inPlaneCase(axis, nil)
		f := found{ratio: ratio, a: a, axis: axis}
		f.demand, f.station = a.Mx, r.stationOf(solver.Mz, a.Mx)
		if axis == Y {
			f.demand, f.station = a.My, r.stationOf(solver.My, a.My)
		}
		if f.demand == 0 {
			f.station = r.stationOf(solver.N, a.N)
		} else {
			f.capacity = f.demand / ratio.Raw
		}
		r.take(f)
	}
}

// stationOf is the first station at which a component has magnitude v.
func (r *run) stationOf(c solver.Component, v float64) float64 {
	for i := range r.stations {
		if math.Abs(r.stations[i].Forces[c]) == v {
			return r.stations[i].X
		}
	}
	return math.NaN()
}

func workInPlane(r *run, w *checks.Working) float64 {
	noteActions(w, r.found.a, r.found.station)
	ratio, _ := r.inPlaneCase(r.found.axis, w)
	return ratio.Radial
}

func boundOutOfPlane(r *run) float64 {
	if checks.Defined(r.c.incident) {
		return 0
	}
	w := &r.c.weights // of what is pulled only the section is weaker for it
	return max(r.Compression*w.outOfPlane+r.lateralShare(), r.Tension*w.tension+max(r.Mx[0], r.Mx[1])*w.xPulled)
}

// lateralShare bounds Mx*/(phi Mbx) over the segments.
func (r *run) lateralShare() float64 {
	w := &r.c.weights
	most := max(r.Mx[0]*w.lateral[0], r.Mx[1]*w.lateral[1])
	if r.known {
		return min(most, r.lateral)
	}
	return most
}

// segmentActions gathers a segment's greatest actions: the most compressive axial force, the greatest moment that
// compresses its flange with its station, and the moments about y of either sign.
func (r *run) segmentActions(s *Segment, flange int) (n, mx, x float64, my [2]float64) {
	n, x = math.Inf(-1), s.From
	sign := 1.0
	if flange == 1 {
		sign = -1
	}
	visit := func(at float64, f *solver.Forces) {
		n = max(n, -f[solver.N])
		if m := sign * f[solver.Mz]; m > mx {
			mx, x = m, at
		}
		my[0], my[1] = max(my[0], f[solver.My]), max(my[1], -f[solver.My])
	}
	for _, at := range [2]float64{s.From, s.To} {
		f := r.d.At(at)
		visit(at, &f)
	}
	for i := range r.stations {
		st := &r.stations[i]
		if st.X > s.From-1e-9 && st.X < s.To+1e-9 {
			visit(st.X, &st.Forces)
		}
	}
	return n, mx, x, my
}

// momentFactor is alpha_m of a segment from the diagram, for its greatest moment mx of the sign checked.
func (r *run) momentFactor(s *Segment, mx float64, w *checks.Working) float64 {
	l := s.To - s.From
	if s.Free() {
		free, held := r.d.At(s.From)[solver.Mz], r.d.At(s.To)[solver.Mz]
		if s.Ends.J == 'U' {
			free, held = held, free
		}
		middle := r.d.At(s.From + l/2)[solver.Mz]
		am := r.c.Cap.Rules.AlphaMCantilever(free, middle, held)
		if w != nil {
			w.Add(checks.Step{Clause: "AS 4100 5.6.2", Symbol: "alpha_m", Formula: "1/sum of share/alpha_m over end moment 0.25, tip load 1.25, uniform load 2.25", Mark: checks.MarkOwnRule,
				Numbers: fmt.Sprintf("M free end %.4g, middle %.4g, held end %.4g", free/1e3, middle/1e3, held/1e3), Value: am, Unit: "-"})
		}
		return am
	}
	m2, m3, m4 := r.d.At(s.From + l/4)[solver.Mz], r.d.At(s.From + l/2)[solver.Mz], r.d.At(s.From + 3*l/4)[solver.Mz]
	am := AlphaMQuarter(mx, m2, m3, m4)
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 5.6.1.1(a)", Symbol: "alpha_m", Formula: "1.7 Mm*/sqrt(M2*² + M3*² + M4*²), 1.0 to 2.5", Mark: checks.MarkSeen,
			Numbers: fmt.Sprintf("1.7 x %.4g/sqrt(%.4g² + %.4g² + %.4g²)", mx/1e3, m2/1e3, m3/1e3, m4/1e3), Value: am, Unit: "-"})
	}
	return am
}

// lateralCase sets up the interaction of one segment.
func (r *run) lateralCase(s *Segment, mx float64, w *checks.Working) Interaction {
	k := r.k
	if w != nil {
		noteSegment(w, s)
	}
	am := r.momentFactor(s, mx, w)
	k.Tier = r.tier(s)
	if w != nil {
		k.Mbx = r.c.Cap.Mb(s.Le, am, w)
		return k
	}
	k.Mbx = min(am*s.AlphaS*r.c.Cap.Msx, r.c.Cap.Msx)
	return k
}

// tier is what the second form of 8.4.4.1 needs in a segment, where it is open: no load across the member, and F or P at both
// ends.
func (r *run) tier(s *Segment) LateralTier {
	if !r.straight || !r.c.Cap.lateralTier() || restraintRank(s.Ends.I) < 2 || restraintRank(s.Ends.J) < 2 {
		return LateralTier{}
	}
	return LateralTier{Mbxo: s.Mb, Noz: r.c.Cap.Noz(s.To - s.From), Beta: endRatio(r.d.At(s.From)[solver.Mz], r.d.At(s.To)[solver.Mz], r.c.Cap.Msx)}
}

// noteSegment records a segment and its effective length.
func noteSegment(w *checks.Working, s *Segment) {
	flange := [...]string{"top", "bottom"}[s.Critical]
	w.Add(checks.Step{Clause: "AS 4100 5.3, 5.4", Symbol: "segment", Formula: fmt.Sprintf("%.3f to %.3f m, %s flange critical, ends %c%c", s.From, s.To, flange, s.Ends.I, s.Ends.J), Value: math.NaN()})
	w.Add(checks.Step{Clause: "AS 4100 5.6.3", Symbol: "Le", Formula: "kt kl kr L", Mark: checks.MarkSeen,
		Numbers: fmt.Sprintf("%.4g x %.4g x %.4g x %.0f", s.Kt, s.Kl, s.Kr, (s.To-s.From)*1e3), Value: s.Le * 1e3, Unit: "mm"})
}

// leastFactor is the least alpha_m that a segment can have.
func (s *Segment) leastFactor(r *Rules) float64 {
	if s.Free() {
		return r.moments[2].alphaM
	}
	return alphaMLeast
}

func findOutOfPlane(r *run) {
	for flange := range 2 {
		segs := r.c.of(flange)
		for i := range segs {
			s := &segs[i]
			n, mx, x, _ := r.segmentActions(s, flange)
			if mx == 0 && n <= 0 {
				continue
			}
			bound := mx/(r.c.Cap.phi*s.Mb*s.leastFactor(r.c.Cap.Rules)) + r.k.ratioMember(n)
			if bound <= max(r.floor, r.found.ratio.Radial) {
				continue
			}
			a := Actions{N: n, Mx: mx}
			k := r.lateralCase(s, mx, nil)
			ratio := k.OutOfPlane(a, nil)
			if ratio.Radial > r.floor {
				r.take(found{ratio: ratio, station: x, demand: mx, capacity: r.c.Cap.phi * k.Mox(n, nil), a: a, flange: flange, segment: i})
			}
		}
	}
}

// ratioMember bounds the axial share of the member checks: compression over phi Nc, tension over phi Nt.
func (k *Interaction) ratioMember(n float64) float64 {
	if n > 0 {
		return n / (k.C.phi * min(k.Ncx, k.Ncy))
	}
	return -n / (k.C.phi * k.Nt)
}

func workOutOfPlane(r *run, w *checks.Working) float64 {
	noteActions(w, r.found.a, r.found.station)
	k := r.lateralCase(&r.c.of(r.found.flange)[r.found.segment], r.found.a.Mx, w)
	return k.OutOfPlane(r.found.a, w).Radial
}

func boundBiaxial(r *run) float64 {
	if (r.My[0] == 0 && r.My[1] == 0) || (r.Mx[0] == 0 && r.Mx[1] == 0) || checks.Defined(r.c.incident) {
		return 0
	}
	w := &r.c.weights
	return max(r.Tension*w.tension, r.Compression*w.inPlane) + normAbove(r.lateralShare(), r.minorShare())
}

// normAbove bounds (x^p + y^p)^(1/p), p being biaxialPower, from above, and by x + y at most. All capacities of 8.4.5 are at least those
// without axial force times 1 less its share, so that the share and this norm add up to more than the utilisation (see memberBounds):
// with s = y/x at most 1 the norm is x (1 + s^1.4)^(1/1.4), at most x (1 + s^1.4/1.4) and, so that roots do, x (1 + s^1.25/1.4).
func normAbove(x, y float64) float64 {
	if x < y {
		x, y = y, x
	}
	if !(y > 0) {
		return x + y
	}
	return (x + y*math.Sqrt(math.Sqrt(y/x))/biaxialPower) * (1 + 2*radialTolerance)
}

func findBiaxial(r *run) {
	for flange := range 2 {
		segs := r.c.of(flange)
		for i := range segs {
			s := &segs[i]
			n, mx, x, my := r.segmentActions(s, flange)
			y, side := r.c.myShare(my)
			if mx == 0 || y == 0 {
				continue
			}
			bound := mx/(r.c.Cap.phi*s.Mb*s.leastFactor(r.c.Cap.Rules)) + y + r.k.ratioMember(n)
			if bound <= max(r.floor, r.found.ratio.Radial) {
				continue
			}
			a := Actions{N: n, Mx: mx, My: my[side]}
			k := r.lateralCase(s, mx, nil)
			k.Msy = r.c.msy(side)
			if level := max(r.floor, r.found.ratio.Radial); level > 0 && k.biaxialSum(a.scaled(level), nil) <= 1 {
				continue
			}
			r.take(found{ratio: k.Biaxial(a, nil), station: x, a: a, flange: flange, segment: i, side: side})
		}
	}
}

func workBiaxial(r *run, w *checks.Working) float64 {
	noteActions(w, r.found.a, r.found.station)
	k := r.lateralCase(&r.c.of(r.found.flange)[r.found.segment], r.found.a.Mx, w)
	k.Msy = r.c.msy(r.found.side)
	return k.Biaxial(r.found.a, w).Radial
}
