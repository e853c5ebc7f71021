package as4100

import (
	"fmt"
	"math"

	"leanbay/solver/checks"
)

// WeldQuality is the category of a weld.
type WeldQuality string

// The weld categories of AS/NZS 1554.1.
const (
	SP WeldQuality = "SP" // structural purpose
	GP WeldQuality = "GP" // general purpose
)

// weldMetal is one row of weld metal strength.
type weldMetal struct {
	name   string
	fuw    float64 // Pa
	clause string
	mark   string
}

// weldMetals are the usual weld metals: those of the 2020 edition, and those of the 1998 edition to which printed tables go.
var weldMetals = []weldMetal{
	{"E43XX", 430e6, "AS 4100:2020 Table 9.6.3.10(A)", checks.MarkSeen},
	{"E49XX", 490e6, "AS 4100:2020 Table 9.6.3.10(A)", checks.MarkSeen},
	{"E55XX", 550e6, "AS 4100:2020 Table 9.6.3.10(A)", checks.MarkSeen},
	{"E41XX", 410e6, "AS 4100:1998 Table 9.6.3.10(1)", checks.MarkMemory},
	{"E48XX", 480e6, "AS 4100:1998 Table 9.6.3.10(1)", checks.MarkMemory},
}

// FilletWeld is an equal-leg fillet.
type FilletWeld struct {
	Leg      float64 // m
	Length   float64 // m, for the length factor; 0 is short
	Strength float64 // Pa, fuw
	Quality  WeldQuality
	ThinTube bool   // longitudinal fillet of a hollow section thinner than 3 mm
	Rules    *Rules // nil: the code's own
}

// FilletOf makes a fillet of leg (m) in a named weld metal.
func (r *Rules) FilletOf(leg float64, metal string, q WeldQuality) (FilletWeld, error) {
	for _, m := range r.in().metals {
		if m.name == metal {
			return FilletWeld{Leg: leg, Strength: m.fuw, Quality: q, Rules: r}, nil
		}
	}
	return FilletWeld{}, fmt.Errorf("as4100: no weld metal %q; metals: E43XX, E49XX, E55XX, and of the 1998 edition E41XX, E48XX", metal)
}

// Factor is the capacity factor of the fillet (Table 3.4).
func (f FilletWeld) Factor() float64 {
	switch {
	case f.Quality == GP:
		return f.Rules.in().factors[factorGP].Value
	case f.ThinTube:
		return f.Rules.in().factors[factorThinTube].Value
	}
	return f.Rules.in().factors[factorFillet].Value
}

// Capacity is the design capacity (N per m, phi included) of the fillet: phi 0.6 fuw tt kr (9.6.3.10; seen).
func (f FilletWeld) Capacity(w *checks.Working) float64 {
	tt := f.Leg / math.Sqrt2
	kr := 1.0
	switch {
	case f.Length > 8:
		kr = 0.62
	case f.Length > 1.7:
		kr = 1.10 - 0.06*f.Length
	}
	v := f.Factor() * 0.6 * f.Strength * tt * kr
	if w != nil {
		w.Add(checks.Step{Clause: "AS 4100 9.6.3.10", Symbol: "phi vw", Formula: "phi 0.6 fuw tt kr", Mark: checks.MarkSeen, Unit: "kN/mm",
			Numbers: fmt.Sprintf("%.2f x 0.6 x %.0f x %.2f x %.2f", f.Factor(), f.Strength/1e6, tt*1e3, kr), Value: v / 1e6})
	}
	return v
}

// WeldRadial is the utilisation of a weld of design capacity v (N per m) under three components of force per metre.
func WeldRadial(v, along, across, normal float64) float64 {
	return math.Sqrt(along*along+across*across+normal*normal) / v
}
