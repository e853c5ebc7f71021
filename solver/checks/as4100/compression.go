package as4100

import (
	"fmt"
	"math"

	"leanbay/catalog"
	"leanbay/solver/checks"
)

// AlphaC is the member slenderness reduction factor of 6.3.3 for modified slenderness lambda_n and section constant
// alpha_b (seen; verified for -0.5).
func AlphaC(lambdaN, alphaB float64) float64 {
	a := 2100 * (lambdaN - 13.5) / (lambdaN*lambdaN - 15.3*lambdaN + 2050)
	lambda := lambdaN + a*alphaB
	if lambda <= 13.5 {
		return 1
	}
	eta := math.Max(0, 0.00326*(lambda-13.5))
	r := (lambda / 90) * (lambda / 90)
	xi := (r + 1 + eta) / (2 * r)
	q := 90 / (xi * lambda)
	return math.Min(1, xi*(1-math.Sqrt(math.Max(0, 1-q*q))))
}

// LambdaN is the modified slenderness of 6.3.3: (Le/r) sqrt(kf) sqrt(fy/250).
func LambdaN(le, r, kf, fy float64) float64 { return le / r * math.Sqrt(kf) * yieldRatio(fy) }

// Nc is the nominal member capacity in compression (N) by flexural buckling about an axis for effective length le (m);
// zero length gives the section capacity.
func (c *Capacity) Nc(axis Axis, le float64, w *checks.Working) float64 {
	r := c.Rx
	if axis == Y {
		r = c.Ry
	}
	ln := LambdaN(le, r, c.Kf, c.Fy)
	ac := AlphaC(ln, c.AlphaB)
	nc := ac * c.Ns
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 6.3.3", Symbol: "lambda_n" + axis.String(), Formula: "(Le/r) sqrt(kf) sqrt(fy/250)", Unit: "-",
			Numbers: fmt.Sprintf("(%.0f/%.4g) sqrt(%.4g) sqrt(%.0f/250)", le*1e3, r*1e3, c.Kf, c.Fy/1e6), Value: ln})
		a := 2100 * (ln - 13.5) / (ln*ln - 15.3*ln + 2050)
		w.Add(checks.Step{Clause: "AS 4100 6.3.3", Symbol: "lambda", Formula: "lambda_n + alpha_a alpha_b", Unit: "-",
			Numbers: fmt.Sprintf("%.4g + %.4g x %.1f", ln, a, c.AlphaB), Value: ln + a*c.AlphaB})
		w.Add(checks.Step{Clause: "AS 4100 6.3.3", Symbol: "alpha_c" + axis.String(), Formula: "xi (1 - sqrt(1 - (90/(xi lambda))^2)) <= 1", Value: ac, Unit: "-", Mark: checks.MarkVerified})
		w.Add(checks.Step{Clause: "AS 4100 6.3.3", Symbol: "phi Nc" + axis.String(), Formula: "phi alpha_c Ns", Unit: "kN",
			Numbers: fmt.Sprintf("%.2f x %.4g x %.5g", c.phi, ac, checks.KN(c.Ns)), Value: checks.KN(c.phi * nc)})
	}
	return nc
}

// NcEnforced is the nominal member capacity in compression (N) of a doubly symmetric section one of whose flanges is held
// sideways every spacing (m), between sections length (m) apart that are held at the centroid and against twist: the
// elastic load is the lesser of flexure about y between the flange's restraints and torsion about the axis that they
// enforce, at half the depth, (GJ + pi² (E Iw + E Iy a²)/L²)/(rx² + ry² + a²) (Timoshenko and Gere, Theory of elastic
// stability, 5.5); 6.3.4's lambda_n = 90 sqrt(Ns/Nom) brings it into the column curve.
func (c *Capacity) NcEnforced(spacing, length float64, w *checks.Working) float64 {
	p, a := &c.Section.Props, c.Section.Dims.D/2
	pi2E := math.Pi * math.Pi * E
	iw := p.Iw
	if c.closed() {
		iw = 0
	}
	flexure := pi2E * p.Iy / (spacing * spacing)
	torsion := (G*p.J + pi2E*(iw+p.Iy*a*a)/(length*length)) / (c.Rx*c.Rx + c.Ry*c.Ry + a*a)
	nom := math.Min(flexure, torsion)
	ln := 90 * math.Sqrt(c.Ns/nom)
	ac := AlphaC(ln, c.AlphaB)
	if w != nil {
		w.Add(checks.Step{Clause: "elastic buckling", Symbol: "Nom", Formula: "min(pi² E Iy/s², (GJ + pi² (E Iw + E Iy a²)/L²)/(rx² + ry² + a²)), one flange held", Mark: checks.MarkOwnRule, Unit: "kN",
			Numbers: fmt.Sprintf("s %.0f, L %.0f, a %.1f mm: %.5g and %.5g", spacing*1e3, length*1e3, a*1e3, checks.KN(flexure), checks.KN(torsion)), Value: checks.KN(nom)})
		w.Add(checks.Step{Clause: "AS 4100 6.3.4, 6.3.3", Symbol: "phi Ncy", Formula: "phi alpha_c Ns, lambda_n = 90 sqrt(Ns/Nom)", Mark: checks.MarkSeen, Unit: "kN",
			Numbers: fmt.Sprintf("lambda_n %.4g, alpha_c %.4g", ln, ac), Value: checks.KN(c.phi * ac * c.Ns)})
	}
	return ac * c.Ns
}

// polarRadius2 is ro1² = rx² + ry² + the squared distance of shear centre and centroid (m²), and that distance.
func (c *Capacity) polarRadius2() (ro2, x0 float64) {
	p := c.Section.Props
	x0 = math.Hypot(p.X0, p.Y0)
	return c.Rx*c.Rx + c.Ry*c.Ry + x0*x0, x0
}

// NcTorsional is the nominal capacity (N) in flexural-torsional buckling of channels and equal angles for effective
// lengths lx about the symmetry axis (their major axis) and lz in torsion: 0.85 Nc of AS/NZS 4600, as 6.3.3's note sends
// hot-rolled channels that are braced about the minor axis. It is NaN for other families. For equal angles the note
// excepts unlipped angles; the value is an added, safe check.
func (c *Capacity) NcTorsional(lx, lz float64, w *checks.Working) float64 {
	if f := c.Section.Family; f != catalog.PFC && f != catalog.EA {
		return math.NaN()
	}
	p := c.Section.Props
	ro2, x0 := c.polarRadius2()
	pi2E := math.Pi * math.Pi * E
	fox := pi2E / math.Pow(math.Max(lx, 1e-6)/c.Rx, 2)
	iw := p.Iw
	if c.Section.Family == catalog.EA {
		iw = 0
	}
	foz := (G*p.J + pi2E*iw/math.Pow(math.Max(lz, 1e-6), 2)) / (p.A * ro2)
	beta := 1 - x0*x0/ro2
	s := fox + foz
	foc := (s - math.Sqrt(math.Max(0, s*s-4*beta*fox*foz))) / (2 * beta)
	lc2 := c.Fy / foc
	fn := 0.877 / lc2 * c.Fy
	if lc2 <= 2.25 {
		fn = math.Pow(0.658, lc2) * c.Fy
	}
	nc := 0.85 * c.Kf * p.A * fn
	if w != nil {
		clause := "AS/NZS 4600 3.4 (by AS 4100 6.3.3 note)"
		w.Add(checks.Step{Clause: clause, Symbol: "foz", Formula: "(GJ + pi² E Iw/Loz²)/(A ro1²)", Value: checks.MPa(foz), Unit: "MPa", Mark: checks.MarkSeen,
			Numbers: fmt.Sprintf("J %.4g mm4, Iw %.4g mm6, Loz %.0f mm, ro1 %.4g mm", p.J*1e12, iw*1e18, lz*1e3, math.Sqrt(ro2)*1e3)})
		w.Add(checks.Step{Clause: clause, Symbol: "foxz", Formula: "[fox + foz - sqrt((fox + foz)² - 4 beta fox foz)]/(2 beta)", Value: checks.MPa(foc), Unit: "MPa",
			Numbers: fmt.Sprintf("fox %.4g, beta %.4g", checks.MPa(fox), beta)})
		w.Add(checks.Step{Clause: clause, Symbol: "phi Ncz", Formula: "phi 0.85 kf Ag fn", Value: checks.KN(c.phi * nc), Unit: "kN", Mark: checks.MarkSeen,
			Numbers: fmt.Sprintf("%.2f x 0.85 x %.4g x %.5g x %.4g", c.phi, c.Kf, p.A*1e6, fn/1e6)})
	}
	return nc
}
