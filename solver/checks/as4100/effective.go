package as4100

import (
	"fmt"
	"math"

	"leanbay/catalog"
	"leanbay/solver/checks"
)

// effectiveModulus is Ze of 5.2.3 to 5.2.5 (m³) and the class, bending in direction d. ze is NaN with a reason where the
// code gives no rule.
func (c *Capacity) effectiveModulus(d Direction, w *checks.Working) (ze float64, class Compactness, reason string) {
	s := c.Section
	list := bendingElements(s, d)
	if list == nil {
		return math.NaN(), "", fmt.Sprintf("bending of %s sections is not covered", s.Family)
	}
	g := c.Rules.govern(list, forming[s.Family], c.Fy, w)
	if g.beyond {
		return math.NaN(), Slender, "a web in bending is more slender than Table 5.2 allows (115): AS 4100 5.2.5 gives no rule"
	}
	z, plastic := moduli(s, d)
	zc := math.Min(plastic, 1.5*z)
	switch g.class {
	case Compact:
		ze = zc
		if w != nil {
			w.Add(checks.Step{Clause: "AS 4100 5.2.3", Symbol: "Ze", Formula: "Zc = min(S, 1.5 Z)", Value: checks.MM3(ze), Unit: "mm³",
				Numbers: fmt.Sprintf("min(%.4ge3, 1.5 x %.4ge3)", plastic*1e6, z*1e6)})
		}
	case NonCompact:
		ze = z + (zc-z)*(g.limits.ey-g.lambda)/(g.limits.ey-g.limits.ep)
		if w != nil {
			w.Add(checks.Step{Clause: "AS 4100 5.2.4", Symbol: "Ze", Formula: "Z + (Zc - Z)(lambda_sy - lambda_s)/(lambda_sy - lambda_sp)",
				Numbers: fmt.Sprintf("%.4[1]ge3 + (%.4[2]g - %.4[1]g)e3 (%[3]g - %.4[4]g)/(%[3]g - %[5]g)", z*1e6, zc*1e6, g.limits.ey, g.lambda, g.limits.ep),
				Value:   checks.MM3(ze), Unit: "mm³"})
		}
	default:
		ze = slenderModulus(s, d, g, z, w)
	}
	return ze, g.class, ""
}

// moduli are the elastic and the plastic modulus (m³) in direction d; an angle's are about its principal axes.
func moduli(s *catalog.Section, d Direction) (z, plastic float64) {
	p := &s.Props
	switch {
	case s.Family == catalog.EA && d == AboutX:
		return p.Zmajor, p.Smajor
	case s.Family == catalog.EA:
		return math.Min(p.ZminorHeel, p.ZminorToes), p.Sminor
	case d == AboutX:
		return p.Zx, p.Sx
	}
	return p.Zy, p.Sy
}

// slenderModulus is 5.2.5: hollow sections by omitting the excess width, outstands and tubes by the ratio of limits.
func slenderModulus(s *catalog.Section, d Direction, g governed, z float64, w *checks.Working) float64 {
	ratio := g.limits.ey / g.lambda
	var ze float64
	formula, mark := "", checks.MarkSeen
	switch {
	case g.support == tube:
		ze = z * math.Min(math.Sqrt(ratio), 4*ratio*ratio)
		formula = "min(Z sqrt(lambda_sy/lambda_s), Z (2 lambda_sy/lambda_s)^2)"
	case g.stress == freeEdge:
		ze = z * ratio * ratio
		formula = "Z (lambda_sy/lambda_s)^2"
	case s.Family == catalog.RHS || s.Family == catalog.SHS:
		ze = omittedModulus(s, d, g.b*(1-ratio))
		formula, mark = "Z of the section without the flange's width beyond b lambda_sy/lambda_s", checks.MarkVerified
	default:
		ze = z * ratio
		formula = "Z lambda_sy/lambda_s"
	}
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 5.2.5", Symbol: "Ze", Formula: formula, Mark: mark, Value: checks.MM3(ze), Unit: "mm³",
			Numbers: fmt.Sprintf("Z %.4ge3, lambda_sy/lambda_s = %g/%.4g", z*1e6, g.limits.ey, g.lambda)})
	}
	return ze
}

// omittedModulus is the elastic modulus (m³) at the compressed fibre of a hollow section that lost width omit from its
// compressed wall; the neutral axis shifts away from that wall.
func omittedModulus(s *catalog.Section, d Direction, omit float64) float64 {
	m, p := s.Dims, s.Props
	depth, inertia := m.D, p.Ix
	if d != AboutX {
		depth, inertia = m.B, p.Iy
	}
	lost := omit * m.T
	arm := (depth - m.T) / 2
	area := p.A - lost
	shift := lost * arm / area
	inertia -= lost*(arm*arm+m.T*m.T/12) + area*shift*shift
	return inertia / (depth/2 + shift)
}

// formFactor is kf of 6.2.2: effective area over gross area.
func (c *Capacity) formFactor(w *checks.Working) float64 {
	s := c.Section
	effective := s.Props.A
	for _, e := range compressionElements(s) {
		lim := c.Rules.compressionLimit(e, forming[s.Family])
		l := e.slenderness(c.Fy)
		keep := math.Min(1, lim.ey/l)
		if e.support == tube {
			keep = math.Min(1, math.Min(math.Sqrt(lim.ey/l), 9*(lim.ey/l)*(lim.ey/l)))
		}
		if w != nil {
			w.Add(checks.Step{Clause: "AS 4100 6.2.4", Symbol: "be, " + e.name, Formula: effectiveWidthFormula(e), Mark: lim.mark,
				Numbers: fmt.Sprintf("%.4g mm, lambda_e %.4g, lambda_ey %g", e.b*1e3, l, lim.ey), Value: keep * e.b * 1e3, Unit: "mm"})
		}
		if e.support == tube {
			effective = math.Min(s.Props.A, math.Pi*(keep*e.b-e.t)*e.t)
			continue
		}
		effective -= e.count * e.b * (1 - keep) * e.t
	}
	kf := effective / s.Props.A
	if kf > 1-1e-12 {
		kf = 1
	}
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 6.2.2", Symbol: "kf", Formula: "Ae/Ag", Value: kf, Unit: "-",
			Numbers: fmt.Sprintf("%.5g/%.5g", effective*1e6, s.Props.A*1e6)})
	}
	return kf
}

// effectiveWidthFormula is the rule of 6.2.4 in the code's symbols.
func effectiveWidthFormula(e element) string {
	if e.support == tube {
		return "min(do sqrt(lambda_ey/lambda_e), do (3 lambda_ey/lambda_e)^2) <= do"
	}
	return "b lambda_ey/lambda_e <= b"
}
