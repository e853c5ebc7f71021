package as4100

import (
	"math"

	"leanbay/solver"
	"leanbay/solver/checks"
)

// Maxima are a member's greatest actions under one combination, as magnitudes in N and N·m.
type Maxima struct {
	Tension, Compression float64
	Vy, Vz, T            float64
	Mx                   [2]float64 // compressing the top (+y) and the bottom flange
	My                   [2]float64 // compressing the -z and the +z side
}

// Bound is an upper bound of the governing utilisation of the member for actions that do not exceed x: enough to pass
// over a combination before its diagram is made.
func (c *Checker) Bound(x Maxima) float64 {
	if c.angle() { // either component about a principal axis is at most the sum over sqrt 2
		m := (max(x.Mx[0], x.Mx[1]) + max(x.My[0], x.My[1])) / math.Sqrt2
		v := (x.Vy + x.Vz) / math.Sqrt2
		x.Mx, x.My, x.Vy, x.Vz = [2]float64{m, m}, [2]float64{m, m}, v, v
	}
	r := &c.run
	r.c, r.Maxima = c, x
	return max(boundTension(r), boundCompression(r), boundShearX(r), boundShearY(r), boundTorsion(r), // of the list
		boundSection(r), boundInPlane(r), boundOutOfPlane(r), boundBiaxial(r), boundEccentric(r))
}

// BoundNear is Bound where the moments about x are known within Reach of the member's ends as well, compressing the top and the bottom
// flange: a short free segment there, such as a rafter's beyond its last purlin, does not meet the greatest moment of the member.
func (c *Checker) BoundNear(x Maxima, near [2][2]float64) float64 {
	r, w := &c.run, &c.weights
	r.lateral, r.known = 0, true
	for f, most := range x.Mx {
		r.lateral = max(r.lateral, most*w.inner[f], min(most, near[0][f])*w.atEnd[0][f], min(most, near[1][f])*w.atEnd[1][f])
	}
	u := c.Bound(x)
	r.known = false
	return u
}

// run is the state of one call of Check, kept in the checker so that nothing is allocated.
type run struct {
	Maxima
	c        *Checker
	d        *solver.Diagram
	stations []solver.Station
	k        Interaction     // c.base with this diagram's end moments
	straight bool            // no load across the member along its web
	floor    float64         // a case counts only above this
	along    []solver.Moment // for BoundAlong
	lateral  float64         // a bound of lateral buckling that counts where known says so
	known    bool
	found    found
	mix      solver.Curve
	peaks    [8]float64
}

// found is the governing case of one check.
type found struct {
	ratio    Ratio
	station  float64
	demand   float64
	capacity float64
	a        Actions
	flange   int // out-of-plane and biaxial: which list of segments
	segment  int
	axis     Axis
	side     int // sign of My
}

// Check checks the member for one combination's diagram and keeps in env what exceeds it; comb is the combination's
// index, for the results. With w it also records the working of every check's governing case in this combination; the
// results are the same. The diagram is only read; Check panics if it holds NaN.
func (c *Checker) Check(d *solver.Diagram, comb int, env *Envelope, w *checks.Working) {
	if c.angle() {
		c.checkAngle(d, comb, env, w)
		return
	}
	c.check(d, comb, env, w)
}

// check is Check for a diagram about the section's own axes.
func (c *Checker) check(d *solver.Diagram, comb int, env *Envelope, w *checks.Working) {
	r := &c.run
	r.c, r.d = c, d
	if r.enclose(); w == nil && !r.exceeds(func(k Kind) float64 { return env.Results[k].Utilisation }) {
		return
	}
	r.scan()
	if w != nil {
		c.preface(w)
	}
	for k := range list {
		r.floor = env.Results[k].Utilisation
		if w != nil {
			r.floor = 0
		}
		if list[k].bound(r) <= r.floor {
			continue
		}
		r.found = found{}
		list[k].find(r)
		u := r.found.ratio.Radial
		if !(u > r.floor) {
			continue
		}
		if w != nil {
			w.Heading(list[k].Name + ", " + list[k].Clause)
			u = list[k].work(r, w)
		}
		if u > env.Results[k].Utilisation {
			env.Results[k] = r.result(Kind(k), u, comb)
		}
	}
}

// Worst is what would govern an Envelope after Check of this diagram alone, if its utilisation is above floor; else the zero Result.
// The kind with the greatest bound comes first, and those whose bound shows that they do not govern are left out.
func (c *Checker) Worst(d *solver.Diagram, comb int, floor float64) (worst checks.Result) {
	if c.angle() { // which may be checked twice
		var env Envelope
		for k := range env.Results {
			env.Results[k].Utilisation = floor
		}
		c.Check(d, comb, &env, nil)
		return env.Governing()
	}
	r := &c.run
	r.c, r.d = c, d
	if r.enclose(); !r.exceeds(func(Kind) float64 { return floor }) {
		return worst
	}
	r.scan()
	var bounds [NumKinds]float64
	for k := range list {
		bounds[k] = list[k].bound(r)
	}
	kind := NumKinds // of the worst
	for range list {
		k := Kind(0)
		for o := range bounds {
			if bounds[o] > bounds[k] {
				k = Kind(o)
			}
		}
		if bounds[k] <= floor || bounds[k] < worst.Utilisation {
			break
		}
		r.floor, r.found = max(floor, math.Nextafter(worst.Utilisation, 0)), found{} // of equal ones the first kind governs
		list[k].find(r)
		if u := r.found.ratio.Radial; u > r.floor && (u > worst.Utilisation || k < kind) {
			worst, kind = r.result(k, u, comb), k
		}
		bounds[k] = math.Inf(-1)
	}
	return worst
}

// result puts what was found for a kind in words.
func (r *run) result(k Kind, u float64, comb int) checks.Result {
	return checks.Result{Name: list[k].Name, Clause: r.found.ratio.Clause, Utilisation: u, Raw: r.found.ratio.Raw,
		Station: r.found.station, Combination: comb, Demand: r.found.demand, Capacity: r.found.capacity}
}

// take keeps a case that exceeds the floor and what was found before; it reports whether it did.
func (r *run) take(f found) bool {
	if f.ratio.Radial > r.floor && f.ratio.Radial > r.found.ratio.Radial {
		r.found = f
		return true
	}
	return false
}

// enclose bounds the greatest actions from the diagram's curves, without their roots.
func (r *run) enclose() {
	r.Maxima = Maxima{}
	for i := range r.d.Pieces {
		p := &r.d.Pieces[i]
		lo, hi := quadRange(&p.N)
		r.Tension, r.Compression = max(r.Tension, hi), max(r.Compression, -lo)
		lo, hi = quadRange(&p.Vy)
		r.Vy = max(r.Vy, max(hi, -lo))
		lo, hi = quadRange(&p.Vz)
		r.Vz = max(r.Vz, max(hi, -lo))
		r.T = max(r.T, math.Abs(p.T))
		lo, hi = curveRange(&p.Mz)
		r.Mx[0], r.Mx[1] = max(r.Mx[0], hi), max(r.Mx[1], -lo)
		lo, hi = curveRange(&p.My)
		r.My[0], r.My[1] = max(r.My[0], hi), max(r.My[1], -lo)
	}
}

// exceeds reports whether the bound of some kind exceeds its floor.
func (r *run) exceeds(floor func(Kind) float64) bool {
	for k := range list {
		if !(list[k].bound(r) <= floor(Kind(k))) { // true for NaN as well, which scan then names
			return true
		}
	}
	return false
}

// quadRange bounds a quadratic on 0..1 from its ends and curvature.
func quadRange(c *[3]float64) (lo, hi float64) {
	a, b := c[0], c[0]+c[1]+c[2]
	bow := math.Abs(c[2]) / 4
	return min(a, b) - bow, max(a, b) + bow
}

// curveRange bounds a curve on 0..1: its chord, and for every power the greatest distance of ξ^k from ξ.
func curveRange(c *solver.Curve) (lo, hi float64) {
	a, b, bow := c.C[0], 0.0, 0.0
	for k := 0; k < c.Len; k++ {
		b += c.C[k]
		switch {
		case k == 2:
			bow += math.Abs(c.C[2]) / 4
		case k == 3:
			bow += math.Abs(c.C[3]) * 0.3850
		case k > 3:
			bow += math.Abs(c.C[k])
		}
	}
	return min(a, b) - bow, max(a, b) + bow
}

// scan reads the diagram's exact extremes and its end moments.
func (r *run) scan() {
	r.stations = r.d.Extremes(r.stations[:0])
	r.Maxima = Maxima{}
	for i := range r.stations {
		f := &r.stations[i].Forces
		if s := f[0] + f[1] + f[2] + f[3] + f[4] + f[5]; math.IsNaN(s) {
			panic("as4100: Check: " + r.c.Member.ID + ": the diagram holds NaN; check only solved structures")
		}
		r.Tension, r.Compression = max(r.Tension, f[solver.N]), max(r.Compression, -f[solver.N])
		r.T = max(r.T, math.Abs(f[solver.T]))
		r.Mx[0], r.Mx[1] = max(r.Mx[0], f[solver.Mz]), max(r.Mx[1], -f[solver.Mz])
		r.My[0], r.My[1] = max(r.My[0], f[solver.My]), max(r.My[1], -f[solver.My])
	}
	straightY, straightZ := true, true
	for i := range r.d.Pieces {
		p := &r.d.Pieces[i]
		lo, hi := quadRange(&p.Vy)
		r.Vy = max(r.Vy, max(hi, -lo))
		straightY = straightY && sameShear(&p.Vy, &r.d.Pieces[0].Vy)
		lo, hi = quadRange(&p.Vz)
		r.Vz = max(r.Vz, max(hi, -lo))
		straightZ = straightZ && sameShear(&p.Vz, &r.d.Pieces[0].Vz)
	}
	r.k, r.straight = r.c.base, straightY
	first, last := &r.stations[0].Forces, &r.stations[len(r.stations)-1].Forces
	if straightY {
		r.k.BetaX = endRatio(first[solver.Mz], last[solver.Mz], r.k.C.Msx)
	}
	if straightZ {
		r.k.BetaY = endRatio(first[solver.My], last[solver.My], r.k.Msy)
	}
}

// sameShear reports whether a piece's shear is constant and that of the first piece: no load across the member.
func sameShear(v, first *[3]float64) bool {
	tol := 1e-6 * math.Abs(first[0])
	return math.Abs(v[1]) <= tol && math.Abs(v[2]) <= tol && math.Abs(v[0]-first[0]) <= tol
}

// noMoment is the share of a section's moment capacity below which end moments are round-off, as at hinges.
const noMoment = 1e-6

// endRatio is beta_m: the smaller over the larger end moment, positive in reverse curvature; -1, which is the worst, where neither is a
// moment worth the name beside the section's capacity.
func endRatio(a, b, capacity float64) float64 {
	if math.Abs(a) < math.Abs(b) {
		a, b = b, a
	}
	if math.Abs(a) <= noMoment*capacity {
		return -1
	}
	return -b / a
}

// msy is the section moment capacity (N·m) for the side that My compresses (0: -z, 1: +z).
func (c *Checker) msy(side int) float64 {
	switch c.opt.Toes {
	case ToesPlusZ:
		return [2]float64{c.Cap.MsyWeb, c.Cap.MsyToes}[side]
	case ToesMinusZ:
		return [2]float64{c.Cap.MsyToes, c.Cap.MsyWeb}[side]
	}
	return c.Cap.Msy()
}

// myShare is the greatest My over its section capacity, with the side that it compresses.
func (c *Checker) myShare(my [2]float64) (share float64, side int) {
	a, b := quotient(my[0], c.Cap.phi*c.msy(0)), quotient(my[1], c.Cap.phi*c.msy(1))
	if b > a {
		return b, 1
	}
	return a, 0
}

// actionsAt turns internal forces into design actions (compression positive, moments as magnitudes) and the side that
// My compresses.
func actionsAt(f *solver.Forces) (a Actions, side int) {
	if f[solver.My] < 0 {
		side = 1
	}
	return Actions{N: -f[solver.N], Mx: math.Abs(f[solver.Mz]), My: math.Abs(f[solver.My])}, side
}

// preface records the section's capacities and the member's restraints in the working.
func (c *Checker) preface(w *checks.Working) {
	w.Heading(c.Member.ID + ": " + c.Cap.Section.Name + ", " + c.Cap.Grade.Name)
	if len(c.Member.Restraints) == 0 {
		w.Add(checks.Step{Clause: "AS 4100 5.4.2", Symbol: "restraints", Formula: "none listed: both ends taken as F", Value: math.NaN(), Mark: "assumed"})
	}
	for i := range c.Member.Restraints {
		w.Add(restraintStep(&c.Member.Restraints[i]))
	}
	// The same section and grade were accepted when the checker was made, so that no error can arise.
	_, _ = c.Cap.Rules.Explain(c.Cap.Section, c.Cap.Grade, w)
}
