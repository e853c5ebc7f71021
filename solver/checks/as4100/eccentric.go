package as4100

import (
	"fmt"
	"math"

	"leanbay/catalog"
	"leanbay/solver"
	"leanbay/solver/checks"
)

// eccentric is what an axial force off the centroid needs, prepared once. Capacities are design ones, phi included. The
// zero value is a member whose force enters at its centroid.
type eccentric struct {
	e      float64 // m; 0: concentric
	source string
	angle  bool // a single angle by one leg: 8.4.6

	nc float64 // N: an angle's Nch about the axis along the loaded leg; of others the least Nc
	ns float64 // N, section (angles)
	nt float64 // N, tension (others); infinite where kt accounts for the eccentricity
	mb float64 // N·m, about x, uniform moment over the member
	mx float64 // N·m, section, about x (angles)
	my float64 // N·m, section, about y
}

// eccentricEnds prepares the eccentricity of a member: the stated one, else that of a single angle by one leg or of a
// channel that braces by its web.
func (c *Checker) eccentricEnds() eccentric {
	m, k := c.Member, c.Cap
	x := eccentric{e: m.EndEccentricity, source: m.EccentricitySource, angle: c.angle(), nt: math.Inf(1)}
	if x.source == "" {
		x.source = "stated"
	}
	d, p := k.Section.Dims, &k.Section.Props
	if x.e == 0 {
		switch {
		case x.angle:
			x.e, x.source = p.Xc-d.T/2, "c - t/2, to the middle of the loaded leg"
		case k.Section.Family == catalog.PFC && braces(m.Role):
			x.e, x.source = p.Xc-d.Tw/2, "to the middle of the web"
		default:
			return eccentric{}
		}
	}
	x.ns, x.mx, x.my = c.Cap.phi*k.Ns, c.Cap.phi*k.Msx, c.Cap.phi*k.Msy()
	if x.angle {
		x.nc, x.mb = c.Cap.phi*k.nch(m.Length, nil), c.Cap.phi*k.Mb(m.Length, 1, nil)
		return x
	}
	x.nc, x.mb = c.Cap.phi*c.ncLeast, c.Cap.phi*min(c.least[0], c.least[1])
	if k.Section.Family != catalog.PFC {
		x.nt = c.Cap.phi * c.base.Nt
	}
	return x
}

// braces says whether a role's members carry axial force by cleats at their ends.
func braces(r solver.Role) bool {
	return r == solver.RoleStrut || r == solver.RoleWallBrace || r == solver.RoleRoofBrace
}

// angle reports whether the section is a single angle, whose axes here are its principal ones.
func (c *Checker) angle() bool { return c.Cap.Section.Family == catalog.EA }

// nch is an angle's nominal capacity (N) for buckling about the axis parallel to a leg over length l (8.4.6).
func (c *Capacity) nch(l float64, w *checks.Working) float64 {
	r := c.Section.Props.Rx
	ln := LambdaN(l, r, c.Kf, c.Fy)
	ac := AlphaC(ln, c.AlphaB)
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 8.4.6, 6.3.3", Symbol: "phi Nch", Formula: "phi alpha_c Ns, about the axis along the loaded leg", Mark: checks.MarkSeen, Unit: "kN",
			Numbers: fmt.Sprintf("l/rh %.0f/%.4g, lambda_n %.4g, alpha_c %.4g", l*1e3, r*1e3, ln, ac), Value: checks.KN(c.phi * ac * c.Ns)})
	}
	return ac * c.Ns
}

// OneLeg is the greatest nominal compression (N) of a single angle of length l (m) that is connected through one leg at
// both ends by two bolts or more or by weld, and carries nothing else: 8.4.6 with M*h = N* (c - t/2), and the section
// check of 8.3. It is NaN for other families.
func (c *Capacity) OneLeg(l float64, w *checks.Working) float64 {
	if c.Section.Family != catalog.EA {
		return math.NaN()
	}
	e := c.Section.Props.Xc - c.Section.Dims.T/2
	nch, mb := c.nch(l, w), c.Mb(l, 1, w)
	member := 1 / (1/nch + math.Sqrt2*e/mb)
	section := 1 / (1/c.Ns + e/math.Sqrt2*(1/c.Msx+1/c.Msy()))
	n := min(member, section)
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 8.4.6", Symbol: "phi N, one leg", Formula: "1/(1/(phi Nch) + e/(phi Mbx cos 45°)), at most 1/(1/(phi Ns) + (e/sqrt 2)(1/(phi Msx) + 1/(phi Msy)))", Mark: checks.MarkSeen, Unit: "kN",
			Numbers: fmt.Sprintf("e = c - t/2 = %.4g mm: %.4g and %.4g", e*1e3, checks.KN(c.phi*member), checks.KN(c.phi*section)), Value: checks.KN(c.phi * n)})
	}
	return n
}

// sums are the linear sums of the check for compression or tension and the analysed moments; all are radial. The member's
// and, of an angle, the section's.
func (x *eccentric) sums(r *run) (member, section float64) {
	mx, my := max(r.Mx[0], r.Mx[1]), max(r.My[0], r.My[1])
	if x.angle {
		// 45° between the principal axes and those along the legs.
		end := r.Compression * x.e
		legs := end + (mx+my)/math.Sqrt2
		part := end / math.Sqrt2
		return r.Compression/x.nc + legs*math.Sqrt2/x.mb, r.Compression/x.ns + (mx+part)/x.mx + (my+part)/x.my
	}
	n, along := r.Compression, r.Compression/x.nc
	if t := r.Tension / x.nt; t > 0 && (t > along || n == 0) {
		n, along = r.Tension, t
	}
	return along + (n*x.e+my)/x.my + mx/x.mb, 0
}

// boundEccentric takes either axial force with the greater of both, so that it grows with every action.
func boundEccentric(r *run) float64 {
	x := &r.c.eccentric
	if x.e == 0 || r.Compression == 0 && (r.Tension == 0 || math.IsInf(x.nt, 1)) {
		return 0
	}
	u := max(x.sums(r))
	if !x.angle && r.Tension > 0 && r.Compression > 0 && !math.IsInf(x.nt, 1) {
		mx, my := max(r.Mx[0], r.Mx[1]), max(r.My[0], r.My[1])
		along := max(r.Compression/x.nc, r.Tension/x.nt)
		u = max(u, along+(max(r.Compression, r.Tension)*x.e+my)/x.my+mx/x.mb)
	}
	return u
}

func findEccentric(r *run) {
	u := max(r.c.eccentric.sums(r))
	n := r.Compression
	if t := r.Tension / r.c.eccentric.nt; t > n/r.c.eccentric.nc {
		n = -r.Tension
	}
	clause := "AS 4100 8.4.5, linear"
	if r.c.eccentric.angle {
		clause = "AS 4100 8.4.6"
	}
	r.take(found{ratio: Ratio{clause, u, u}, station: r.stationOf(solver.N, n), demand: math.Abs(n), a: Actions{N: n}})
}

func workEccentric(r *run, w *checks.Working) float64 {
	x, c := &r.c.eccentric, r.c.Cap
	member, section := x.sums(r)
	mx, my := max(r.Mx[0], r.Mx[1]), max(r.My[0], r.My[1])
	w.Add(checks.Step{Clause: "AS 4100 8.4.6", Symbol: "e", Formula: x.source, Value: x.e * 1e3, Unit: "mm", Mark: checks.MarkSeen})
	if !x.angle {
		axial := x.nc
		if r.found.a.N < 0 {
			axial = x.nt
		}
		w.Add(checks.Step{Clause: "AS 4100 8.4.5, linear", Symbol: "u", Formula: "N*/(phi N) + (N* e + My*)/(phi Msy) + Mx*/(phi Mbx)", Mark: checks.MarkOwnRule, Value: member, Unit: "-",
			Numbers: fmt.Sprintf("N* %.4g, phi N %.4g kN; My* %.4g, phi Msy %.4g, Mx* %.4g, phi Mbx %.4g kN·m", checks.KN(r.found.a.N), checks.KN(axial), checks.KNm(my), checks.KNm(x.my), checks.KNm(mx), checks.KNm(x.mb))})
		return member
	}
	w.Add(checks.Step{Clause: "AS 4100 8.4.6", Symbol: "ends", Formula: "through one leg, two bolts or more or welded", Value: math.NaN(), Mark: "assumed"})
	c.nch(r.c.Member.Length, w)
	c.Mb(r.c.Member.Length, 1, w)
	w.Add(checks.Step{Clause: "AS 4100 8.4.6", Symbol: "u", Formula: "N*/(phi Nch) + Mh*/(phi Mbx cos 45°), Mh* = N* e + analysed moment", Mark: checks.MarkSeen, Value: member, Unit: "-",
		Numbers: fmt.Sprintf("%.4g/%.4g kN + (%.4g x %.4g + %.4g)/(%.4g x 0.7071) kN·m", checks.KN(r.Compression), checks.KN(x.nc), checks.KN(r.Compression), x.e, checks.KNm((mx+my)/math.Sqrt2), checks.KNm(x.mb))})
	w.Add(checks.Step{Clause: "AS 4100 8.3.4", Symbol: "u, section", Formula: "N*/(phi Ns) + Mx*/(phi Msx) + My*/(phi Msy), each with N* e/sqrt 2", Mark: checks.MarkSeen, Value: section, Unit: "-",
		Numbers: fmt.Sprintf("phi Ns %.4g kN, phi Msx %.4g, phi Msy %.4g kN·m", checks.KN(x.ns), checks.KNm(x.mx), checks.KNm(x.my))})
	return max(member, section)
}

// checkAngle checks a single angle: the diagram, whose axes lie along the legs, is turned to the principal axes. Which
// way the second leg points is not known; where both moments act, both are tried and the worse counts.
func (c *Checker) checkAngle(d *solver.Diagram, comb int, env *Envelope, w *checks.Working) {
	if !bothMoments(d) {
		c.turn(d, 1)
		c.check(&c.turned, comb, env, w)
		return
	}
	for _, hand := range [2]float64{1, -1} {
		if w != nil {
			w.Heading(fmt.Sprintf("The second leg taken along %cz", "- +"[int(hand)+1]))
		}
		c.turn(d, hand)
		c.check(&c.turned, comb, env, w)
	}
}

// bothMoments says whether a diagram has moments about both axes.
func bothMoments(d *solver.Diagram) bool {
	var y, z bool
	for i := range d.Pieces {
		p := &d.Pieces[i]
		for k := range p.My.Len {
			y = y || p.My.C[k] != 0
		}
		for k := range p.Mz.Len {
			z = z || p.Mz.C[k] != 0
		}
	}
	return y && z
}

// turn fills c.turned with d about axes turned by 45° about the member: with hand 1 the second leg points along +z, so
// that z' lies along the axis of symmetry; with -1 along -z.
func (c *Checker) turn(d *solver.Diagram, hand float64) {
	t := &c.turned
	t.Reset()
	t.Length = d.Length
	const s = math.Sqrt2 / 2
	for i := range d.Pieces {
		t.Pieces = append(t.Pieces, d.Pieces[i])
		p, q := &d.Pieces[i], &t.Pieces[i]
		for k := range 3 {
			q.Vy[k], q.Vz[k] = s*(p.Vy[k]-hand*p.Vz[k]), s*(hand*p.Vy[k]+p.Vz[k])
		}
		q.My.Len = max(p.My.Len, p.Mz.Len)
		q.Mz.Len = q.My.Len
		for k := range q.My.Len {
			my, mz := p.My.C[k], p.Mz.C[k]
			q.My.C[k], q.Mz.C[k] = s*(my-hand*mz), s*(hand*my+mz)
		}
	}
}
