package as4100

import (
	"fmt"
	"math"

	"leanbay/catalog"
	"leanbay/solver"
	"leanbay/solver/checks"
)

// restraintStep is one line of the restraint table.
func restraintStep(r *solver.Restraint) checks.Step {
	flange := [...]string{"top flange", "bottom flange", "both flanges"}[r.Flange]
	return checks.Step{Clause: "AS 4100 5.4.2", Symbol: fmt.Sprintf("restraint at %.3f m", r.Station), Formula: fmt.Sprintf("%s, %c: %s", flange, r.Kind, r.Source), Value: math.NaN()}
}

func boundTension(r *run) float64 { return r.Tension * r.c.weights.tension }

func findTension(r *run) {
	for i := range r.stations {
		n := r.stations[i].Forces[solver.N]
		u := n / (r.c.Cap.phi * r.c.base.Nt)
		r.take(found{ratio: Ratio{"AS 4100 7.1", u, u}, station: r.stations[i].X, demand: n, capacity: r.c.Cap.phi * r.c.base.Nt, a: Actions{N: -n}})
	}
}

func workTension(r *run, w *checks.Working) float64 {
	r.c.Cap.Tension(r.c.opt.Kt, w)
	return noteUtilisation(w, r.found.ratio.Clause, "N*", r.found.demand, r.found.capacity, "kN")
}

// noteUtilisation records demand over design capacity and returns it.
func noteUtilisation(w *checks.Working, clause, symbol string, demand, capacity float64, unit string) float64 {
	u := demand / capacity
	w.Add(checks.Step{Clause: clause, Symbol: "u", Formula: symbol + " over the design capacity", Numbers: fmt.Sprintf("%.4g/%.4g %s", demand/1e3, capacity/1e3, unit), Value: u, Unit: "-"})
	return u
}

func boundCompression(r *run) float64 { return r.Compression * r.c.weights.compression }

func findCompression(r *run) {
	for i := range r.stations {
		n := -r.stations[i].Forces[solver.N]
		u := n / (r.c.Cap.phi * r.c.ncLeast)
		r.take(found{ratio: Ratio{"AS 4100 6.1", u, u}, station: r.stations[i].X, demand: n, capacity: r.c.Cap.phi * r.c.ncLeast, a: Actions{N: n}})
	}
}

func workCompression(r *run, w *checks.Working) float64 {
	c := r.c
	c.Cap.formFactor(w)
	source := func(e solver.EffectiveLength) string {
		if e.Length > 0 {
			return e.Source
		}
		return "restraints"
	}
	note := func(axis Axis, l float64, why string) {
		w.Add(checks.Step{Clause: "AS 4100 6.3.2", Symbol: "Le" + axis.String(), Formula: why, Value: l * 1e3, Unit: "mm"})
		c.Cap.Nc(axis, l, w)
	}
	why := [2]string{source(c.Member.EffectiveX), source(c.Member.EffectiveY)}
	sway := [2]float64{c.ncSwayX, c.ncSwayY}
	for axis, e := range [2]solver.EffectiveLength{c.Member.EffectiveX, c.Member.EffectiveY} {
		if !math.IsInf(sway[axis], 1) {
			note(Axis(axis), e.Length, "sway length: "+e.Source)
			why[axis] = "ke = 1.0, for the interaction"
		}
	}
	note(X, c.lengthX, why[X])
	note(Y, c.lengthY, why[Y])
	if c.flangeHeld > 0 {
		c.Cap.NcEnforced(c.flangeHeld, c.lengthY, w)
	}
	if c.torsional() {
		c.Cap.NcTorsional(c.lengthX, c.lengthZ, w)
	}
	return noteUtilisation(w, r.found.ratio.Clause, "N*", r.found.demand, r.found.capacity, "kN")
}

// shearAxis is what one direction of shear needs.
type shearAxis struct {
	phi    float64
	vv, ms float64 // nominal
	v, m   solver.Component
}

func (c *Checker) shearX() shearAxis {
	vv := c.Cap.Vvx
	if c.Cap.Section.Family == catalog.EA {
		vv = c.Cap.VFlanges
	}
	return shearAxis{c.Cap.phi, vv, c.Cap.Msx, solver.Vy, solver.Mz}
}

func (c *Checker) shearY() shearAxis {
	vv := c.Cap.Vvy
	if !c.Cap.closed() {
		vv = c.Cap.VFlanges
	}
	return shearAxis{c.Cap.phi, vv, c.Cap.Msy(), solver.Vz, solver.My}
}

func boundShearX(r *run) float64 {
	w := &r.c.weights
	return shearWeighed(r.Vy*w.shearX, max(r.Mx[0], r.Mx[1])*w.x)
}

func boundShearY(r *run) float64 {
	w := &r.c.weights
	return shearWeighed(r.Vz*w.shearY, max(r.My[0], r.My[1])*w.y)
}

// shearWeighed is zero where there is no shear: bending alone is another check.
func shearWeighed(v, m float64) float64 {
	if v == 0 {
		return 0
	}
	return ShearBendingRadial(v, m)
}

// shearBound is shearWeighed of actions; zero where no capacity is defined.
func shearBound(s shearAxis, v, m float64) float64 {
	if v == 0 || !checks.Defined(s.vv) {
		return 0
	}
	return shearWeighed(v/(s.phi*s.vv), quotient(m, s.phi*s.ms))
}

func findShearX(r *run) { findShear(r, r.c.shearX(), "AS 4100 5.12.3") }
func findShearY(r *run) { findShear(r, r.c.shearY(), "AS 4100 5.12.3") }

// findShear seeks the worst of the two lines of 5.12.3 along the member: at piece ends, where the shear turns, and where
// a weighted sum of shear and moment does.
func findShear(r *run, s shearAxis, clause string) {
	for i := range r.d.Pieces {
		p := &r.d.Pieces[i]
		v, m := &p.Vy, &p.Mz
		if s.v == solver.Vz {
			v, m = &p.Vz, &p.My
		}
		at := func(xi float64) {
			f := p.Forces(xi)
			shear, moment := math.Abs(f[s.v]), math.Abs(f[s.m])
			u := shearBound(s, shear, moment)
			r.take(found{ratio: Ratio{clause, u, u}, station: p.X + xi*p.L, demand: shear, capacity: r.c.Cap.phi * r.c.Cap.Rules.ShearInBending(s.vv, moment, s.ms), a: Actions{Mx: moment}})
		}
		at(0)
		at(1)
		if t := -v[1] / (2 * v[2]); t > 0 && t < 1 {
			at(t)
		}
		for _, sign := range [2]float64{1, -1} {
			r.mix.Len = max(3, m.Len)
			for k := range r.mix.Len {
				r.mix.C[k] = sign * 1.6 * m.C[k] / s.ms
				if k < 3 {
					r.mix.C[k] += v[k] / s.vv
				}
			}
			for _, xi := range turns(&r.mix, r.peaks[:0]) {
				at(xi)
			}
		}
	}
}

func workShearX(r *run, w *checks.Working) float64 { return workShear(r, r.c.shearX(), w) }
func workShearY(r *run, w *checks.Working) float64 { return workShear(r, r.c.shearY(), w) }

func workShear(r *run, s shearAxis, w *checks.Working) float64 {
	m := r.c.Cap.Section.Dims
	switch f := r.c.Cap.Section.Family; {
	case f == catalog.RHS || f == catalog.SHS:
		if s.v == solver.Vy {
			r.c.Cap.hollowShear(m.D, m.B, m.T).capacity("x", w)
		} else {
			r.c.Cap.hollowShear(m.B, m.D, m.T).capacity("y", w)
		}
	case f == catalog.EA:
		w.Add(checks.Step{Clause: "AS 4100 5.11.3", Symbol: "phi Vv", Formula: "phi 2 x 0.6 fy b t/(0.9 + 1.5), one leg as a plate", Value: checks.KN(r.c.Cap.phi * s.vv), Unit: "kN", Mark: checks.MarkOwnRule})
	case s.v == solver.Vy && f != catalog.CHS:
		webShear{phi: r.c.Cap.phi, area: m.D * m.Tw, dp: m.D - 2*m.Tf, t: m.Tw, fy: r.c.Cap.FyW, formula: "d tw"}.capacity("x", w)
	case f != catalog.CHS:
		w.Add(checks.Step{Clause: "AS 4100 5.11.3", Symbol: "phi Vv", Formula: "phi 2 x 0.6 fy (2 bf tf)/(0.9 + 1.5), both flanges as plates", Value: checks.KN(r.c.Cap.phi * s.vv), Unit: "kN", Mark: checks.MarkOwnRule})
	}
	v, mm := r.found.demand, r.found.a.Mx
	u := shearBound(s, v, mm)
	w.Add(checks.Step{Clause: "AS 4100 5.12.3", Symbol: "u", Formula: "max(V*/(phi Vv), (V*/(phi Vv) + 1.6 M*/(phi Ms))/2.2)", Mark: checks.MarkSeen,
		Numbers: fmt.Sprintf("V* %.4g, phi Vv %.4g kN, M* %.4g, phi Ms %.4g kN·m", v/1e3, r.c.Cap.phi*s.vv/1e3, mm/1e3, r.c.Cap.phi*s.ms/1e3), Value: u, Unit: "-"})
	return u
}

func boundTorsion(r *run) float64 {
	if r.T == 0 || !r.c.Cap.closed() {
		return 0
	}
	w := &r.c.weights
	return torsionShares(r.c.Cap, r.T*w.torsion, r.Vy*w.shearX, r.Vz*w.shearY)
}

// torsionRatio is torsionShares of actions.
func torsionRatio(c *Capacity, t, vy, vz float64) float64 {
	return torsionShares(c, math.Abs(t)/(c.phi*c.Mz), math.Abs(vy)/(c.phi*c.Vvx), math.Abs(vz)/(c.phi*c.Vvy))
}

// torsionShares adds the shear stresses of torsion and of the greater shear (of both together in a tube), as shares of what they may be.
func torsionShares(c *Capacity, t, x, y float64) float64 {
	if c.Section.Family == catalog.CHS {
		return t + math.Hypot(x, y)
	}
	return t + max(x, y)
}

func findTorsion(r *run) {
	for i := range r.d.Pieces {
		p := &r.d.Pieces[i]
		at := func(xi float64) {
			f := p.Forces(xi)
			if f[solver.T] == 0 {
				return
			}
			u := torsionRatio(r.c.Cap, f[solver.T], f[solver.Vy], f[solver.Vz])
			r.take(found{ratio: Ratio{"AS 4100 5.11.4", u, u}, station: p.X + xi*p.L, demand: math.Abs(f[solver.T]), capacity: r.c.Cap.phi * r.c.Cap.Mz,
				a: Actions{N: f[solver.T], Mx: f[solver.Vy], My: f[solver.Vz]}})
		}
		at(0)
		at(1)
		for _, v := range [2]*[3]float64{&p.Vy, &p.Vz} {
			if t := -v[1] / (2 * v[2]); t > 0 && t < 1 {
				at(t)
			}
		}
		if r.c.Cap.Section.Family == catalog.CHS {
			r.tubeShear(p, at)
		}
	}
}

// tubeShear visits where the resultant shear of a tube may peak inside a piece: the squared resultant is a quartic.
func (r *run) tubeShear(p *solver.Piece, at func(float64)) {
	r.mix.Len = 5
	clear(r.mix.C[:5])
	for _, v := range [2]*[3]float64{&p.Vy, &p.Vz} {
		for i := range v {
			for j := range v {
				r.mix.C[i+j] += v[i] * v[j]
			}
		}
	}
	for _, xi := range turns(&r.mix, r.peaks[:0]) {
		at(xi)
	}
}

func workTorsion(r *run, w *checks.Working) float64 {
	t, vy, vz := r.found.a.N, r.found.a.Mx, r.found.a.My
	u := torsionRatio(r.c.Cap, t, vy, vz)
	w.Add(checks.Step{Clause: "AS 4100 5.11.4", Symbol: "u", Formula: "T*/(phi 0.6 fy C) + V*/(phi Vv)", Mark: checks.MarkOwnRule, Unit: "-", Value: u,
		Numbers: fmt.Sprintf("%.4g/%.4g kN·m, Vy* %.4g/%.4g, Vz* %.4g/%.4g kN", math.Abs(t)/1e3, r.c.Cap.phi*r.c.Cap.Mz/1e3, math.Abs(vy)/1e3, r.c.Cap.phi*r.c.Cap.Vvx/1e3, math.Abs(vz)/1e3, r.c.Cap.phi*r.c.Cap.Vvy/1e3)})
	return u
}

// turns appends to dst the places strictly inside 0..1 where c has a stationary point, at most 8: in closed form up to a
// cubic, else between sign changes of the slope on eight parts.
func turns(c *solver.Curve, dst []float64) []float64 {
	inside := func(x float64) {
		if x > 0 && x < 1 && len(dst) < cap(dst) {
			dst = append(dst, x)
		}
	}
	if c.Len <= 4 {
		a, b, k := 0.0, 0.0, 0.0
		switch {
		case c.Len == 4:
			a, b, k = 3*c.C[3], 2*c.C[2], c.C[1]
		case c.Len == 3:
			b, k = 2*c.C[2], c.C[1]
		}
		if a == 0 {
			if b != 0 {
				inside(-k / b)
			}
			return dst
		}
		disc := b*b - 4*a*k
		if disc >= 0 {
			q := -0.5 * (b + math.Copysign(math.Sqrt(disc), b))
			inside(q / a)
			if q != 0 {
				inside(k / q)
			}
		}
		return dst
	}
	const parts = 8
	x0, s0 := 0.0, c.Slope(0)
	for i := 1; i <= parts; i++ {
		x1 := float64(i) / parts
		s1 := c.Slope(x1)
		if s0*s1 < 0 {
			inside(slopeRoot(c, x0, x1, s0))
		} else if s1 == 0 {
			inside(x1)
		}
		x0, s0 = x1, s1
	}
	return dst
}

// slopeRoot bisects the slope of c, which is s0 at a and has the other sign at b.
func slopeRoot(c *solver.Curve, a, b, s0 float64) float64 {
	for range 50 {
		m := 0.5 * (a + b)
		if c.Slope(m)*s0 > 0 {
			a = m
		} else {
			b = m
		}
	}
	return 0.5 * (a + b)
}
