package as4100

import (
	"fmt"
	"math"

	"leanbay/catalog"
	"leanbay/solver/checks"
)

// Axis is a section axis of the code.
type Axis int

// The axes: x major, y minor (principal for equal angles).
const (
	X Axis = iota
	Y
)

// String names the axis.
func (a Axis) String() string { return [...]string{"x", "y"}[a] }

// Capacity is what a section in a grade can carry, as far as it does not depend on length. Capacities are nominal
// (without phi), in N and N·m; NaN marks what the code does not define. It is read-only after New and may be shared.
type Capacity struct {
	Rules       *Rules // the coefficients in force
	Section     *catalog.Section
	Grade       catalog.Grade
	Fy, FyW, Fu float64 // Pa: flange (or whole section), web, tensile

	Kf             float64     // form factor, 6.2.2
	AlphaB         float64     // member section constant, Table 6.3.3
	Rx, Ry         float64     // m, radii of gyration about the axes of the code
	Zex            float64     // m³, effective modulus about x
	ZeyToes        float64     // about y, toes of a channel (or either side of others) in compression
	ZeyWeb         float64     // about y, back of a channel's web in compression; equal to ZeyToes for others
	ClassX, ClassY Compactness // ClassY is that of the toes

	Ns, Nt         float64 // section compression; tension with kt = 1
	Msx            float64
	MsyToes        float64 // by direction, as ZeyToes and ZeyWeb
	MsyWeb         float64
	Vvx, Vvy       float64 // shear with bending about x (along the web) and about y; Vvy is NaN for open sections
	VFlanges       float64 // shear across the flanges of an open section, by 5.11.3 and 5.11.4 on both flanges; of an angle: of one leg
	Mz             float64 // torsion of closed sections, 0.6 fy C
	mrxCompression float64 // factor on Msx (1 - n) in 8.3.2
	mrxTension     float64

	// Outside lists what the code gives no rule for, in words.
	Outside []string

	phi float64 // of members, from Rules
}

// New works out the capacities of sec in grade g. It fails on a family without rules here (C, Z: AS/NZS 4600) and on a
// grade without yield or tensile strength.
func (r *Rules) New(sec *catalog.Section, g catalog.Grade) (*Capacity, error) {
	return r.Explain(sec, g, nil)
}

// Explain is New with the working recorded in w.
func (r *Rules) Explain(sec *catalog.Section, g catalog.Grade, w *checks.Working) (*Capacity, error) {
	if sec == nil {
		return nil, fmt.Errorf("as4100: no section given")
	}
	if _, ok := forming[sec.Family]; !ok {
		return nil, fmt.Errorf("as4100: %s is of family %s, which AS 4100 does not cover here; use the AS/NZS 4600 checks", sec.Name, sec.Family)
	}
	if !(g.Fy > 0) || !(g.Fu > 0) {
		return nil, fmt.Errorf("as4100: grade %q of %s has no yield or tensile strength", g.Name, sec.Name)
	}
	r = r.in()
	c := &Capacity{Rules: r, Section: sec, Grade: g, Fy: g.Fy, FyW: g.FyW, Fu: g.Fu, phi: r.Phi()}
	if !(c.FyW > 0) {
		c.FyW = c.Fy
	}
	if w != nil && len(r.own) > 0 {
		w.Heading("Coefficients of the certifier's own")
		w.Steps = append(w.Steps, r.own...)
	}
	c.Rx, c.Ry = sec.Props.Rx, sec.Props.Ry
	if sec.Family == catalog.EA { // principal axes
		c.Rx, c.Ry = math.Sqrt(sec.Props.Imax/sec.Props.A), math.Sqrt(sec.Props.Imin/sec.Props.A)
	}
	c.tension(w)
	c.compression(w)
	c.bending(w)
	c.shear(w)
	c.torsion(w)
	c.reducedFactors()
	return c, nil
}

// outside records a quantity that the code does not define.
func (c *Capacity) outside(what string) {
	for _, o := range c.Outside {
		if o == what {
			return
		}
	}
	c.Outside = append(c.Outside, what)
}

// tension fills Nt with kt = 1.
func (c *Capacity) tension(w *checks.Working) {
	w.Heading("Tension, section 7")
	c.Nt = c.Tension(1, w)
}

// compression fills kf, alpha_b and Ns.
func (c *Capacity) compression(w *checks.Working) {
	w.Heading("Section in compression, 6.2")
	c.Kf = c.formFactor(w)
	row, alphaB, _ := c.Rules.memberConstant(c.Section.Family, c.Kf)
	c.AlphaB = alphaB
	c.Ns = c.Kf * c.Section.Props.A * c.Fy
	if w != nil {
		w.Add(checks.Step{Clause: row.clause, Symbol: "alpha_b", Numbers: fmt.Sprintf("%s, kf %.3f", c.Section.Family, c.Kf), Value: alphaB, Unit: "-", Mark: row.mark})
		w.Add(checks.Step{Clause: "AS 4100 6.2.1", Symbol: "phi Ns", Formula: "phi kf An fy", Mark: checks.MarkVerified,
			Numbers: fmt.Sprintf("%.2f x %.4g x %.5g x %.0f", c.phi, c.Kf, c.Section.Props.A*1e6, c.Fy/1e6), Value: checks.KN(c.phi * c.Ns), Unit: "kN"})
	}
}

// bending fills the effective moduli, classes and section moment capacities.
func (c *Capacity) bending(w *checks.Working) {
	if bendingElements(c.Section, AboutX) != nil {
		w.Heading("Section in bending, 5.2")
	}
	c.Zex, c.ClassX, c.Msx = c.sectionMoment(AboutX, w)
	c.ZeyToes, c.ClassY, c.MsyToes = c.sectionMoment(AboutYToes, w)
	c.ZeyWeb, c.MsyWeb = c.ZeyToes, c.MsyToes
	if f := c.Section.Family; f == catalog.PFC || f == catalog.EA {
		c.ZeyWeb, _, c.MsyWeb = c.sectionMoment(AboutYWeb, w)
	}
}

// sectionMoment is Ze, the class and Ms = fy Ze in direction d; NaN where there is no rule.
func (c *Capacity) sectionMoment(d Direction, w *checks.Working) (ze float64, class Compactness, ms float64) {
	ze, class, reason := c.effectiveModulus(d, w)
	if reason != "" {
		c.outside(reason)
		return ze, class, math.NaN()
	}
	ms = c.Fy * ze
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 5.2.1", Symbol: "phi Ms " + d.String(), Formula: "phi fy Ze", Mark: momentMark(c.Section.Family),
			Numbers: fmt.Sprintf("%.2f x %.0f x %.4ge3", c.phi, c.Fy/1e6, ze*1e6), Value: checks.KNm(c.phi * ms), Unit: "kN·m"})
	}
	return ze, class, ms
}

// momentMark says how far the section moment rules of a family were confirmed.
func momentMark(f catalog.Family) string {
	switch f {
	case catalog.RHS, catalog.SHS:
		return checks.MarkVerified
	case catalog.UB, catalog.PFC:
		return checks.MarkTables
	}
	return checks.MarkSeen
}

// Msy is the lesser section moment capacity about y (N·m).
func (c *Capacity) Msy() float64 { return math.Min(c.MsyToes, c.MsyWeb) }

// torsion fills Mz of closed sections.
func (c *Capacity) torsion(w *checks.Working) {
	c.Mz = math.NaN()
	if !c.closed() {
		return
	}
	w.Heading("Torsion of the closed section")
	c.Mz = 0.6 * c.Fy * c.Section.Props.Ct
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 5.11.4 (shear yield)", Symbol: "phi Mz", Formula: "phi 0.6 fy C", Mark: checks.MarkVerified, Unit: "kN·m",
			Numbers: fmt.Sprintf("%.2f x 0.6 x %.0f x %.4ge3", c.phi, c.Fy/1e6, c.Section.Props.Ct*1e6), Value: checks.KNm(c.phi * c.Mz)})
	}
}

// closed reports whether the section is hollow.
func (c *Capacity) closed() bool {
	f := c.Section.Family
	return f == catalog.RHS || f == catalog.SHS || f == catalog.CHS
}

// doubly reports whether the higher tiers for doubly symmetric I, RHS and SHS may apply.
func (c *Capacity) doubly() bool {
	f := c.Section.Family
	return f == catalog.RHS || f == catalog.SHS || f == catalog.UB
}

// clearWeb is the clear depth and thickness of the web, and the number of webs, for bending about x.
func (c *Capacity) clearWeb() (d1, tf, tw, webs float64) {
	m := c.Section.Dims
	if c.closed() {
		return m.D - 2*m.T, m.T, m.T, 2
	}
	if c.Section.Family == catalog.EA {
		return m.D - m.T, m.T, m.T, 1
	}
	return m.D - 2*m.Tf, m.Tf, m.Tw, 1
}
