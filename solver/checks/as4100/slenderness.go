package as4100

import (
	"fmt"
	"math"

	"leanbay/catalog"
	"leanbay/solver/checks"
)

// support says which edges of a flat element are held by others.
type support string

// stress says how stress varies over a flat element.
type stress string

const (
	oneEdge   support = "one edge"
	bothEdges support = "both edges"
	tube      support = "tube"

	uniform  stress = "uniform compression"
	freeEdge stress = "greatest compression at the free edge, zero or tension at the supported edge"
	gradient stress = "compression at one edge, tension at the other"
)

// limitRow is one entry of Table 5.2: plasticity and yield limits of plate slenderness.
type limitRow struct {
	support support
	stress  stress
	class   FormingClass
	ep, ey  float64
	mark    string
}

// table52 is AS 4100 Table 5.2.
var table52 = []limitRow{
	{oneEdge, uniform, StressRelieved, 10, 16, checks.MarkSeen},
	{oneEdge, uniform, HotRolled, 9, 16, checks.MarkTables},
	{oneEdge, uniform, LightlyWelded, 8, 15, checks.MarkSeen},
	{oneEdge, uniform, ColdFormed, 8, 15, checks.MarkSeen},
	{oneEdge, uniform, HeavilyWelded, 8, 14, checks.MarkSeen},
	{oneEdge, freeEdge, StressRelieved, 10, 25, checks.MarkSeen},
	{oneEdge, freeEdge, HotRolled, 9, 25, checks.MarkTables},
	{oneEdge, freeEdge, LightlyWelded, 8, 22, checks.MarkSeen},
	{oneEdge, freeEdge, ColdFormed, 8, 22, checks.MarkSeen},
	{oneEdge, freeEdge, HeavilyWelded, 8, 22, checks.MarkSeen},
	{bothEdges, uniform, StressRelieved, 30, 45, checks.MarkSeen},
	{bothEdges, uniform, HotRolled, 30, 45, checks.MarkSeen},
	{bothEdges, uniform, LightlyWelded, 30, 40, checks.MarkSeen},
	{bothEdges, uniform, ColdFormed, 30, 40, checks.MarkVerified},
	{bothEdges, uniform, HeavilyWelded, 30, 35, checks.MarkSeen},
	{bothEdges, gradient, StressRelieved, 82, 115, checks.MarkSeen},
	{bothEdges, gradient, HotRolled, 82, 115, checks.MarkSeen},
	{bothEdges, gradient, LightlyWelded, 82, 115, checks.MarkSeen},
	{bothEdges, gradient, ColdFormed, 82, 115, checks.MarkVerified},
	{bothEdges, gradient, HeavilyWelded, 82, 115, checks.MarkSeen},
	{tube, uniform, StressRelieved, 50, 120, checks.MarkSeen},
	{tube, uniform, HotRolled, 50, 120, checks.MarkSeen},
	{tube, uniform, LightlyWelded, 42, 120, checks.MarkSeen},
	{tube, uniform, ColdFormed, 50, 120, checks.MarkSeen},
	{tube, uniform, HeavilyWelded, 42, 120, checks.MarkSeen},
}

// yieldRow is one entry of Table 6.2.4: the yield limit in uniform compression.
type yieldRow struct {
	support support
	class   FormingClass
	ey      float64
	mark    string
}

// table624 is AS 4100 Table 6.2.4.
var table624 = []yieldRow{
	{oneEdge, StressRelieved, 16, checks.MarkSeen},
	{oneEdge, HotRolled, 16, checks.MarkSeen},
	{oneEdge, LightlyWelded, 15, checks.MarkSeen},
	{oneEdge, ColdFormed, 15, checks.MarkSeen},
	{oneEdge, HeavilyWelded, 14, checks.MarkSeen},
	{bothEdges, StressRelieved, 45, checks.MarkSeen},
	{bothEdges, HotRolled, 45, checks.MarkTables},
	{bothEdges, LightlyWelded, 40, checks.MarkSeen},
	{bothEdges, ColdFormed, 40, checks.MarkVerified},
	{bothEdges, HeavilyWelded, 35, checks.MarkSeen},
	{tube, StressRelieved, 82, checks.MarkSeen},
	{tube, HotRolled, 82, checks.MarkSeen},
	{tube, LightlyWelded, 82, checks.MarkSeen},
	{tube, ColdFormed, 82, checks.MarkSeen},
	{tube, HeavilyWelded, 82, checks.MarkSeen},
}

// element is one plate of a section, or the wall of a tube.
type element struct {
	name    string
	b, t    float64 // m, clear width and thickness (tube: diameter, wall)
	count   float64 // how many of it the section has
	support support
	stress  stress
}

// slenderness is lambda_e of 5.2.2 and 6.2.3 for yield fy (Pa).
func (e element) slenderness(fy float64) float64 {
	if e.support == tube {
		return e.b / e.t * fy / 250e6
	}
	return e.b / e.t * yieldRatio(fy)
}

// bendingLimits looks up Table 5.2. It panics on a combination that the table does not hold.
func (r *Rules) bendingLimits(e element, class FormingClass) limitRow {
	for _, row := range r.table52 {
		if row.support == e.support && row.stress == e.stress && row.class == class {
			return row
		}
	}
	panic(fmt.Sprintf("as4100: Table 5.2 has no row for %s, %s, %s", e.support, e.stress, class))
}

// compressionLimit looks up Table 6.2.4. It panics on a combination that the table does not hold.
func (r *Rules) compressionLimit(e element, class FormingClass) yieldRow {
	for _, row := range r.table624 {
		if row.support == e.support && row.class == class {
			return row
		}
	}
	panic(fmt.Sprintf("as4100: Table 6.2.4 has no row for %s, %s", e.support, class))
}

// Direction is a sense of bending for which the compressed elements differ.
type Direction int

// The directions of bending. Only channels and angles tell toes from web or heel; for others both are alike. An angle's
// axes are its principal ones, x the axis of symmetry.
const (
	AboutX     Direction = iota
	AboutYToes           // about y, toes (or either side, if alike) in compression
	AboutYWeb            // about y, back of the web (an angle's heel) in compression
)

// String says the direction in words.
func (d Direction) String() string {
	return [...]string{"about x", "about y", "about y, web or heel in compression"}[d]
}

// bendingElements lists the plates in compression when s bends in direction d; nil if the pack has no rule.
func bendingElements(s *catalog.Section, d Direction) []element {
	m := s.Dims
	across, along := element{name: "wall across the width", b: m.B - 2*m.T, t: m.T}, element{name: "wall along the depth", b: m.D - 2*m.T, t: m.T}
	web := element{name: "web", b: m.D - 2*m.Tf, t: m.Tw, support: bothEdges}
	outstand := element{name: "flange outstand", t: m.Tf, support: oneEdge}
	switch s.Family {
	case catalog.RHS, catalog.SHS:
		flange, side := across, along
		if d != AboutX {
			flange, side = along, across
		}
		flange.support, flange.stress = bothEdges, uniform
		side.support, side.stress = bothEdges, gradient
		return []element{flange, side}
	case catalog.CHS:
		return []element{{name: "wall", b: m.D, t: m.T, support: tube, stress: uniform}}
	case catalog.UB, catalog.PFC:
		outstand.b = m.B - m.Tw
		if s.Family == catalog.UB {
			outstand.b /= 2
		}
		if d == AboutX {
			outstand.stress, web.stress = uniform, gradient
			return []element{outstand, web}
		}
		if d == AboutYWeb && s.Family == catalog.PFC {
			web.stress = uniform
			return []element{web}
		}
		outstand.stress = freeEdge
		return []element{outstand}
	case catalog.EA:
		if d == AboutYWeb { // the toes are pulled, the heel cannot buckle: Table 5.2 has no limit
			return []element{}
		}
		return []element{{name: "leg", b: m.D - m.T, t: m.T, support: oneEdge, stress: freeEdge}}
	}
	return nil
}

// compressionElements lists the plates of s in uniform compression with their numbers; nil for solid bars.
func compressionElements(s *catalog.Section) []element {
	m := s.Dims
	switch s.Family {
	case catalog.RHS, catalog.SHS:
		return []element{
			{name: "wall across the width", b: m.B - 2*m.T, t: m.T, count: 2, support: bothEdges, stress: uniform},
			{name: "wall along the depth", b: m.D - 2*m.T, t: m.T, count: 2, support: bothEdges, stress: uniform},
		}
	case catalog.CHS:
		return []element{{name: "wall", b: m.D, t: m.T, count: 1, support: tube, stress: uniform}}
	case catalog.UB:
		return []element{
			{name: "flange outstand", b: (m.B - m.Tw) / 2, t: m.Tf, count: 4, support: oneEdge, stress: uniform},
			{name: "web", b: m.D - 2*m.Tf, t: m.Tw, count: 1, support: bothEdges, stress: uniform},
		}
	case catalog.PFC:
		return []element{
			{name: "flange outstand", b: m.B - m.Tw, t: m.Tf, count: 2, support: oneEdge, stress: uniform},
			{name: "web", b: m.D - 2*m.Tf, t: m.Tw, count: 1, support: bothEdges, stress: uniform},
		}
	case catalog.EA:
		return []element{{name: "leg", b: m.D - m.T, t: m.T, count: 2, support: oneEdge, stress: uniform}}
	}
	return nil
}

// Compactness is the class of a section in bending (5.2.3 to 5.2.5).
type Compactness string

// The classes: compact, non-compact, slender.
const (
	Compact    Compactness = "C"
	NonCompact Compactness = "N"
	Slender    Compactness = "S"
)

// governed is a section's slenderness: that of the element with the largest lambda_e/lambda_ey (5.2.2).
type governed struct {
	element
	limits limitRow
	lambda float64
	class  Compactness
	beyond bool // some web with a stress gradient exceeds its yield limit: outside the rule
}

// govern finds the governing element of a list for yield fy.
func (r *Rules) govern(list []element, class FormingClass, fy float64, w *checks.Working) governed {
	var g governed
	worst := math.Inf(-1)
	for _, e := range list {
		lim := r.bendingLimits(e, class)
		l := e.slenderness(fy)
		if w != nil {
			w.Add(checks.Step{Clause: "AS 4100 5.2.2", Symbol: "lambda_e, " + e.name, Formula: slendernessFormula(e),
				Numbers: fmt.Sprintf("%.4g/%.4g, fy %.0f; limits %g, %g (%s, %s)", e.b*1e3, e.t*1e3, fy/1e6, lim.ep, lim.ey, e.support, class),
				Value:   l, Unit: "-", Mark: lim.mark})
		}
		if e.stress == gradient && l > lim.ey {
			g.beyond = true
		}
		if l/lim.ey > worst {
			worst = l / lim.ey
			g.element, g.limits, g.lambda = e, lim, l
		}
	}
	switch {
	case g.lambda <= g.limits.ep:
		g.class = Compact
	case g.lambda <= g.limits.ey:
		g.class = NonCompact
	default:
		g.class = Slender
	}
	return g
}

// slendernessFormula is the formula of lambda_e in the code's symbols.
func slendernessFormula(e element) string {
	if e.support == tube {
		return "(do/t)(fy/250)"
	}
	return "(b/t) sqrt(fy/250)"
}
