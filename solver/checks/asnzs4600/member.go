package asnzs4600

import (
	"fmt"
	"math"

	"leanbay/catalog"
	"leanbay/solver/checks"
)

// Resistance holds a section's nominal capacities (N, N·m) that do not depend on lengths, in one grade.
type Resistance struct {
	*Buckling
	Grade      catalog.Grade
	Ny         float64
	Ns, Nt, Vv float64
	My         [numBends]float64 // first yield
	Ms, Msl    [numBends]float64 // section capacity; with local buckling alone
}

// Resist computes the section's capacities in the grade; kt is 1 (tension uniform over the ends).
func (c *Code) Resist(b *Buckling, g catalog.Grade, w *checks.Working) *Resistance {
	s := b.Section
	p := &s.Props
	r := &Resistance{Buckling: b, Grade: g, Ny: p.A * g.Fy}
	w.Heading(fmt.Sprintf("%s, %s: section capacities; elastic buckling by finite strips", s.Name, g.Name))
	r.Ns = c.Column(r.Ny, b.Nol, b.Nod, math.Inf(1), w).Nc
	r.Nt = c.Tension(p.A, g.Fy, g.Fu, 1, w)
	r.Vv = c.Shear(flatWeb(s), s.Dims.T, g.Fy, w)
	for i := range r.Ms {
		z := p.Zx
		if bend := Bend(i); bend == Right || bend == Left {
			z = p.Zy
		}
		r.My[i] = z * g.Fy
		if w != nil {
			w.Heading("Bending, " + Bend(i).String() + " in compression")
		}
		f := c.Beam(r.My[i], b.Mol[i], b.Mod[i], math.Inf(1), w)
		r.Ms[i], r.Msl[i] = f.Mb, f.Mbl
	}
	return r
}

// eitherWay is the resistance of a member that may lie with either flange outside, as every second zed of a lapped run
// does: the lesser of its two flanges in compression for both.
func (r *Resistance) eitherWay() *Resistance {
	if r.Section.Family != catalog.Z {
		return r
	}
	out, b := *r, *r.Buckling
	for _, m := range []*[numBends]float64{&out.Ms, &out.Msl, &b.Mol, &b.Mod} {
		m[Top], m[Bottom] = weaker(*m, Top, Bottom), weaker(*m, Top, Bottom)
	}
	out.Buckling = &b
	return &out
}

// Member holds the nominal member capacities for one segment.
type Member struct {
	Nc  float64
	Noc float64
	Mbx [2]float64 // Top, Bottom in compression
	Mby [2]float64 // Right, Left
}

// Segment computes the member capacities for effective lengths l and, for each flange, the lengths of its lateral buckling
// segment and moment factor (see LateralMoment).
func (c *Code) Segment(r *Resistance, l Lengths, lateral [2]Lengths, cb [2]float64, w *checks.Working) Member {
	var m Member
	m.Noc = c.GlobalColumn(r.Section, l, w)
	m.Nc = c.Column(r.Ny, r.Nol, r.Nod, m.Noc, w).Nc
	for i := range 2 {
		m.Mbx[i] = c.MemberMoment(r, Bend(i), lateral[i], cb[i], w)
		m.Mby[i] = c.Beam(r.My[2+i], r.Mol[2+i], r.Mod[2+i], c.MinorMoment(r.Section, Bend(2+i), l), nil).Mb
	}
	return m
}

// MemberMoment is Mb (N·m) for bending about x with flange f in compression.
func (c *Code) MemberMoment(r *Resistance, f Bend, l Lengths, cb float64, w *checks.Working) float64 {
	return c.Beam(r.My[f], r.Mol[f], r.Mod[f], c.LateralMoment(r.Section, l, cb, w), w).Mb
}

// Actions are design actions at a station: N positive in tension, moments with Mx positive where it compresses the top
// flange and My positive where it compresses the right side, shear along the web (N, N·m).
type Actions struct{ N, Mx, My, V float64 }

// Combined is the radial utilisation and the code's sum of axial force with bending, 3.5, for the member capacities m
// over effective lengths l; cm is the moment factor of both axes (1 is safe). First-order moments are amplified here.
func (c *Code) Combined(a Actions, r *Resistance, m Member, l Lengths, cm float64, w *checks.Working) (utilisation, raw float64) {
	f, g := Top, Right
	if a.Mx < 0 {
		f = Bottom
	}
	if a.My < 0 {
		g = Left
	}
	pb := c.at(PhiBending)
	mbx, mby := pb*m.Mbx[f], pb*m.Mby[g-Right]
	msx, msy := pb*r.Ms[f], pb*r.Ms[g]
	mx, my := math.Abs(a.Mx), math.Abs(a.My)
	if a.N >= 0 {
		return c.withTension(a, r, mbx, mby, w)
	}
	n := -a.N
	nc, ns := c.at(PhiCompression)*m.Nc, c.at(PhiCompression)*r.Ns
	nex := c.euler(r.Section.Props.Ix, 1, l.X)
	ney := c.euler(r.Section.Props.Iy, 1, l.Y)
	sum := func(u float64) float64 {
		section := n/u/ns + mx/u/msx + my/u/msy
		if n/u/nc <= c.at(smallAxial) {
			return max(section, n/u/nc+mx/u/mbx+my/u/mby)
		}
		ax, ay := 1-n/u/nex, 1-n/u/ney
		if ax <= 0 || ay <= 0 {
			return math.Inf(1)
		}
		return max(section, n/u/nc+cm*mx/u/(mbx*ax)+cm*my/u/(mby*ay), n/u/nc)
	}
	raw = sum(1)
	utilisation = radial(sum)
	if w != nil {
		kn, km := checks.KN, checks.KNm
		w.Add(c.step(smallAxial, "sum", "N*/(phi Nc) + Cm Mx*/(phi Mbx alpha_nx) + Cm My*/(phi Mby alpha_ny); alpha_n left out up to N*/(phi Nc) = 0.15; section form",
			fmt.Sprintf("%s/%s + %g x %s/(%s (1 - %s/%s)) + %g x %s/(%s (1 - %s/%s))", figure(kn(n)), figure(kn(nc)), cm, figure(km(mx)), figure(km(mbx)), figure(kn(n)), figure(kn(nex)), cm, figure(km(my)), figure(km(mby)), figure(kn(n)), figure(kn(ney))), raw, "-"))
	}
	return utilisation, raw
}

// withTension is 3.5.2: Mx/(phi Mbx) + My/(phi Mby) - N/(phi Nt) and the section form, in which first yield at the tension
// fibre replaces Ms.
func (c *Code) withTension(a Actions, r *Resistance, mbx, mby float64, w *checks.Working) (utilisation, raw float64) {
	mx, my := math.Abs(a.Mx), math.Abs(a.My)
	nt := c.at(PhiTension) * r.Nt
	pb := c.at(PhiBending)
	member := mx/mbx + my/mby - a.N/nt
	section := mx/(pb*r.My[Top]) + my/(pb*r.My[Right]) + a.N/nt
	raw = max(member, section)
	if w != nil {
		numbers := fmt.Sprintf("max(%s/%s + %s/%s - %s/%s, %s/%s + %s/%s + %s/%s)", figure(checks.KNm(mx)), figure(checks.KNm(mbx)), figure(checks.KNm(my)), figure(checks.KNm(mby)), figure(checks.KN(a.N)), figure(checks.KN(nt)),
			figure(checks.KNm(mx)), figure(checks.KNm(pb*r.My[Top])), figure(checks.KNm(my)), figure(checks.KNm(pb*r.My[Right])), figure(checks.KN(a.N)), figure(checks.KN(nt)))
		w.Add(checks.Step{Clause: "AS/NZS 4600 3.5.2", Symbol: "sum", Numbers: numbers, Formula: "max(Mx*/(phi Mbx) + My*/(phi Mby) - N*/(phi Nt), Mx*/(phi Zft fy) + My*/(phi Zft fy) + N*/(phi Nt))", Value: raw, Unit: "-", Mark: checks.MarkMemory})
	}
	return raw, raw // both forms are proportional to load
}

// radialTol is the relative width of a radial utilisation: far below the accuracy of any coefficient.
const radialTol = 1e-9

// radial finds u with sum(u) = 1, where sum is the code's sum for the actions divided by u; it falls as u grows. A sum
// that jumps (the plain sum gives way to the amplified one) is bracketed at the jump, on the side that complies.
func radial(sum func(u float64) float64) float64 {
	hi := sum(1)
	if hi == 0 {
		return 0
	}
	if math.IsInf(hi, 1) || math.IsNaN(hi) {
		hi = 1
	}
	for sum(hi) > 1 {
		hi *= 2
	}
	lo := hi / 2
	for sum(lo) <= 1 {
		if hi, lo = lo, lo/2; lo < 1e-12 {
			return hi
		}
	}
	for hi-lo > radialTol*hi {
		if mid := (lo + hi) / 2; sum(mid) > 1 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}
