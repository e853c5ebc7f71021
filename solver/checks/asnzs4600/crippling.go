package asnzs4600

import (
	"fmt"
	"math"

	"leanbay/catalog"
	"leanbay/solver/checks"
)

// Support says how a concentrated force reaches a web.
type Support struct {
	Length    float64 // m, bearing length along the member
	TwoFlange bool    // opposite forces face each other within 1.5 d1
	Interior  bool    // at least 1.5 d1 from the member's end
}

// cripplingRow is one row of the web crippling tables: stiffened flanges, fastened to the support.
type cripplingRow struct {
	family              catalog.Family
	twoFlange, interior bool
	c, cr, cl, cw       float64
	phi, ratio          float64 // capacity factor; greatest ri/tw
	clause, mark        string
}

// Coefficients of AISI S100-16 Tables G5-2 (C) and G5-3 (Z) and its LRFD factors; that AS/NZS 4600 3.3.6 prints the same
// is from memory.
var cripplingRows = []cripplingRow{
	{catalog.C, false, false, 4, 0.14, 0.35, 0.02, 0.85, 9, "AS/NZS 4600 3.3.6 (C, one-flange end)", checks.MarkMemory},
	{catalog.C, false, true, 13, 0.23, 0.14, 0.01, 0.90, 5, "AS/NZS 4600 3.3.6 (C, one-flange interior)", checks.MarkMemory},
	{catalog.C, true, false, 7.5, 0.08, 0.12, 0.048, 0.85, 12, "AS/NZS 4600 3.3.6 (C, two-flange end)", checks.MarkMemory},
	{catalog.C, true, true, 20, 0.10, 0.08, 0.031, 0.85, 12, "AS/NZS 4600 3.3.6 (C, two-flange interior)", checks.MarkMemory},
	{catalog.Z, false, false, 4, 0.14, 0.35, 0.02, 0.85, 9, "AS/NZS 4600 3.3.6 (Z, one-flange end)", checks.MarkMemory},
	{catalog.Z, false, true, 13, 0.23, 0.14, 0.01, 0.90, 5.5, "AS/NZS 4600 3.3.6 (Z, one-flange interior)", checks.MarkMemory},
	{catalog.Z, true, false, 9, 0.05, 0.16, 0.052, 0.85, 12, "AS/NZS 4600 3.3.6 (Z, two-flange end)", checks.MarkMemory},
	{catalog.Z, true, true, 24, 0.07, 0.07, 0.04, 0.80, 12, "AS/NZS 4600 3.3.6 (Z, two-flange interior)", checks.MarkMemory},
}

// Limits of the crippling formula, 3.3.6 [from memory]: d1/tw, lb/tw, lb/d1.
const (
	cripplingWeb     = 200
	cripplingBearing = 210
	cripplingDepth   = 2
)

// flatWeb is d1, the flat depth of the web (m).
func flatWeb(s *catalog.Section) float64 { return s.Dims.D - 2*(s.Dims.T+s.Dims.Ri) }

// Crippling is the nominal bearing capacity Rb (N) of one web and its capacity factor, 3.3.6, for a flange fastened to
// its support. The error says which limit of the rule is passed.
func (c *Code) Crippling(s *catalog.Section, fy float64, at Support, w *checks.Working) (rb, phi float64, err error) {
	t, ri, d1, lb := s.Dims.T, s.Dims.Ri, flatWeb(s), at.Length
	for i := range cripplingRows {
		r := &cripplingRows[i]
		if r.family != s.Family || r.twoFlange != at.TwoFlange || r.interior != at.Interior {
			continue
		}
		if err := r.limits(s.Name, t, ri, d1, lb); err != nil {
			return 0, 0, err
		}
		rb = r.c * t * t * fy * (1 - r.cr*math.Sqrt(ri/t)) * (1 + r.cl*math.Sqrt(lb/t)) * (1 - r.cw*math.Sqrt(d1/t))
		if w != nil {
			w.Add(checks.Step{Clause: r.clause, Symbol: "Rb", Formula: "C tw^2 fy (1 - Cr sqrt(ri/tw))(1 + Cl sqrt(lb/tw))(1 - Cw sqrt(d1/tw))", Mark: r.mark,
				Numbers: fmt.Sprintf("%g x %g^2 x %g (1 - %g sqrt(%s))(1 + %g sqrt(%s))(1 - %g sqrt(%s))", r.c, checks.MM(t), checks.MPa(fy), r.cr, figure(ri/t), r.cl, figure(lb/t), r.cw, figure(d1/t)),
				Value:   checks.KN(rb), Unit: "kN"})
		}
		return rb, r.phi, nil
	}
	return 0, 0, fmt.Errorf("web crippling of %s: the rows cover lipped channels and zeds only", s.Name)
}

// limits reports the first limit of the rule that is passed.
func (r *cripplingRow) limits(name string, t, ri, d1, lb float64) error {
	for _, l := range []struct {
		what       string
		value, max float64
	}{
		{"ri/tw", ri / t, r.ratio}, {"d1/tw", d1 / t, cripplingWeb}, {"lb/tw", lb / t, cripplingBearing}, {"lb/d1", lb / d1, cripplingDepth},
	} {
		if l.value > l.max {
			return fmt.Errorf("web crippling of %s: %s %.1f is above %g, the limit of the rule (%s); bolt the web to a cleat, or change the bearing", name, l.what, l.value, l.max, r.clause)
		}
	}
	if !(lb > 0) {
		return fmt.Errorf("web crippling of %s: give a bearing length", name)
	}
	return nil
}

// BendingWithCrippling is the radial utilisation of bending with a concentrated force on a single web, 3.3.7: both
// printed forms are satisfied, since which of them the edition in force has is open. m is the moment and r the force
// (N·m, N), ms and rb nominal capacities.
func (c *Code) BendingWithCrippling(m, ms, r, rb, phiW float64) (utilisation float64) {
	phi := c.at(PhiBending)
	first := (c.at(cripplingOldR)*r/(phiW*rb) + m/(phi*ms)) / c.at(cripplingOldSum)
	second := (c.at(cripplingNewR)*r/rb + m/ms) / (c.at(cripplingNewSum) * phi)
	return max(first, second, r/(phiW*rb), m/(phi*ms))
}

// BendingWithShear is the radial utilisation of (M*/phi Ms)² + (V*/phi Vv)² <= 1, 3.3.5 and 7.2.3.5, for an unstiffened
// web; ms is the section's capacity with local buckling alone.
func (c *Code) BendingWithShear(m, ms, v, vv float64) (utilisation float64) {
	return math.Hypot(m/(c.at(PhiBending)*ms), v/(c.at(PhiShear)*vv))
}
