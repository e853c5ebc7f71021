package as4100

import (
	"fmt"
	"math"

	"leanbay/catalog"
	"leanbay/solver/checks"
)

// Mo is the reference buckling moment of 5.6.1.1 (N·m) for effective length le (m), about x; infinite at zero length.
func (c *Capacity) Mo(le float64, w *checks.Working) float64 {
	p := c.Section.Props
	iy, iw := p.Iy, p.Iw
	switch {
	case c.closed():
		iw = 0
	case c.Section.Family == catalog.EA: // 5.6.1.3
		iy, iw = p.Imin, 0
	}
	mo := ReferenceMoment(iy, p.J, iw, 0, le)
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 5.6.1.1", Symbol: "Mo", Formula: "sqrt((pi² E Iy/Le²)(GJ + pi² E Iw/Le²))", Mark: checks.MarkSeen, Unit: "kN·m",
			Numbers: fmt.Sprintf("Le %.0f mm, Iy %.4ge6, J %.4ge3, Iw %.4ge9", le*1e3, iy*1e12*1e-6, p.J*1e12*1e-3, iw*1e18*1e-9), Value: checks.KNm(mo)})
	}
	return mo
}

// ReferenceMoment is Mo (N·m) of 5.6.1.1, or of 5.6.1.2 for a section unsymmetric about the bending axis with
// monosymmetry constant betaX (m, positive when the larger flange is in compression). Inputs in m⁴, m⁶, m.
func ReferenceMoment(iy, j, iw, betaX, le float64) float64 {
	if le <= 0 {
		return math.Inf(1)
	}
	p := math.Pi * math.Pi * E * iy / (le * le)
	t := G*j + math.Pi*math.Pi*E*iw/(le*le)
	b := betaX * math.Sqrt(p) / 2
	return math.Sqrt(p) * (math.Sqrt(t+b*b) + b)
}

// AlphaS is the slenderness reduction factor of 5.6.1.1 (seen).
func AlphaS(ms, mo float64) float64 {
	r := ms / mo
	return math.Min(1, 0.6*(math.Sqrt(r*r+3)-r))
}

// Mb is the nominal member moment capacity about x (N·m) for effective length le (m) and moment factor alphaM.
func (c *Capacity) Mb(le, alphaM float64, w *checks.Working) float64 {
	mo := c.Mo(le, w)
	as := AlphaS(c.Msx, mo)
	mb := math.Min(alphaM*as*c.Msx, c.Msx)
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 5.6.1.1", Symbol: "alpha_s", Formula: "0.6 (sqrt((Ms/Mo)² + 3) - Ms/Mo) <= 1", Mark: checks.MarkSeen, Unit: "-",
			Numbers: fmt.Sprintf("Ms/Mo = %.4g/%.4g", checks.KNm(c.Msx), checks.KNm(mo)), Value: as})
		w.Add(checks.Step{Clause: "AS 4100 5.6.1.1", Symbol: "phi Mbx", Formula: "phi alpha_m alpha_s Ms <= phi Ms", Mark: checks.MarkSeen, Unit: "kN·m",
			Numbers: fmt.Sprintf("%.2f x %.4g x %.4g x %.4g", c.phi, alphaM, as, checks.KNm(c.Msx)), Value: checks.KNm(c.phi * mb)})
	}
	return mb
}

// The bounds of alpha_m for segments restrained at both ends, 5.6.1.1(a) (seen): 1.0 is always allowed, 2.5 the most.
const (
	alphaMLeast = 1.0
	alphaMMost  = 2.5
)

// AlphaMQuarter is alpha_m of 5.6.1.1(a)(iii) from the greatest moment and those at the quarter points (absolute values
// are taken), held between 1.0 and 2.5.
func AlphaMQuarter(mm, m2, m3, m4 float64) float64 {
	s := math.Sqrt(m2*m2 + m3*m3 + m4*m4)
	if s == 0 {
		return alphaMMost
	}
	return math.Min(alphaMMost, math.Max(alphaMLeast, 1.7*math.Abs(mm)/s))
}

// AlphaMLinear is alpha_m of Table 5.6.1 for a linear moment with ratio betaM of the smaller to the larger end moment,
// positive in double curvature.
func AlphaMLinear(betaM float64) float64 {
	if betaM > 0.6 {
		return alphaMMost
	}
	return 1.75 + 1.05*betaM + 0.3*betaM*betaM
}

// momentFactorRow is one entry of Tables 5.6.1 and 5.6.2.
type momentFactorRow struct {
	shape  string
	alphaM float64
	clause string
	mark   string
}

// momentFactors are the entries that the pack names; cantilever rows are read by AlphaMCantilever.
var momentFactors = []momentFactorRow{
	{"uniform load, simply supported", 1.13, "AS 4100 Table 5.6.1", checks.MarkSeen},
	{"central load, simply supported", 1.35, "AS 4100 Table 5.6.1", checks.MarkSeen},
	{"cantilever, end moment", 0.25, "AS 4100 Table 5.6.2", checks.MarkSeen},
	{"cantilever, tip load", 1.25, "AS 4100 Table 5.6.2", checks.MarkSeen},
	{"cantilever, uniform load", 2.25, "AS 4100 Table 5.6.2", checks.MarkSeen},
}

// AlphaMCantilever is alpha_m of a segment with one end unrestrained, from the moments at the free end, in the middle
// and at the restrained end. The moment is split into end moment, tip load and uniform load; their rows of Table 5.6.2
// combine as 1/alpha_m = sum of share/alpha_m, which is safe because the domain of stable loads is convex (Papkovich).
func (r *Rules) AlphaMCantilever(free, middle, held float64) float64 {
	r = r.in()
	uniformPart := 2 * (held - 2*middle + free)
	tip := held - free - uniformPart
	whole := math.Abs(free) + math.Abs(tip) + math.Abs(uniformPart)
	if whole == 0 {
		return r.moments[4].alphaM
	}
	inverse := math.Abs(free)/r.moments[2].alphaM + math.Abs(tip)/r.moments[3].alphaM + math.Abs(uniformPart)/r.moments[4].alphaM
	return whole / inverse
}

// Ends are the restraint classes at the two ends of a segment, by solver.RestraintKind letters.
type Ends struct{ I, J byte }

// free reports whether an end is unrestrained.
func (e Ends) free() bool { return e.I == 'U' || e.J == 'U' }

// twistRow is one entry of Table 5.6.3(1): how many ends are partially restrained against twist.
type twistRow struct {
	ends    string
	partial float64
	clause  string
	mark    string
}

// twistTable is Table 5.6.3(1); ends are read in either order.
var twistTable = []twistRow{
	{"FF", 0, "AS 4100 Table 5.6.3(1)", checks.MarkSeen},
	{"FL", 0, "AS 4100 Table 5.6.3(1)", checks.MarkSeen},
	{"LL", 0, "AS 4100 Table 5.6.3(1)", checks.MarkSeen},
	{"FU", 0, "AS 4100 Table 5.6.3(1)", checks.MarkSeen},
	{"FP", 1, "AS 4100 Table 5.6.3(1)", checks.MarkSeen},
	{"PL", 1, "AS 4100 Table 5.6.3(1)", checks.MarkSeen},
	{"PU", 1, "AS 4100 Table 5.6.3(1)", checks.MarkSeen},
	{"PP", 2, "AS 4100 Table 5.6.3(1)", checks.MarkSeen},
}

// Kt is the twist restraint factor for a segment of length l (m) with web clear depth d1, flange tf, web tw and number
// of webs. It is NaN where both ends have no class of the table (LU, UU).
func Kt(e Ends, l, d1, tf, tw, webs float64) float64 {
	for _, r := range twistTable {
		if (r.ends[0] == e.I && r.ends[1] == e.J) || (r.ends[0] == e.J && r.ends[1] == e.I) {
			return 1 + r.partial*d1/l*math.Pow(tf/(2*tw), 3)/webs
		}
	}
	return math.NaN()
}

// LoadHeight says where the load that bends a segment acts.
type LoadHeight int

// The load heights of Table 5.6.3(2).
const (
	AtShearCentre LoadHeight = iota
	TopWithin                // on the flange in compression, within the segment, moving with it
	TopAtEnd                 // the same, at a segment end
)

// Kl is the load height factor of Table 5.6.3(2) (seen).
func Kl(e Ends, h LoadHeight) float64 {
	switch {
	case h == AtShearCentre:
		return 1
	case e.free():
		return 2
	case h == TopWithin:
		return 1.4
	}
	return 1
}

// Kr is the lateral rotation restraint factor of Table 5.6.3(3) for held ends (0, 1 or 2); it applies only between F or
// P ends (seen).
func Kr(e Ends, held int) float64 {
	for _, k := range [2]byte{e.I, e.J} {
		if k != 'F' && k != 'P' {
			return 1
		}
	}
	return [3]float64{1, 0.85, 0.70}[held]
}
