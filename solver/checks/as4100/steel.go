package as4100

import (
	"math"

	"leanbay/catalog"
	"leanbay/solver/checks"
)

// Constants of steel (AS 4100 1.4: E, G).
const (
	E = 200e9 // Pa
	G = 80e9  // Pa
)

// Factor is one capacity factor of Table 3.4 with its clause and certainty mark.
type Factor struct {
	Name   string
	Value  float64
	Clause string
	Mark   string
}

// capacityFactors are the rows of Table 3.4 that this pack uses.
var capacityFactors = []Factor{
	{"member in bending, shear, tension, compression, combined actions", 0.90, "AS 4100 Table 3.4", checks.MarkVerified},
	{"bolt, bolt group", 0.80, "AS 4100 Table 3.4", checks.MarkSeen},
	{"ply in bearing", 0.90, "AS 4100 Table 3.4", checks.MarkSeen},
	{"block shear", 0.75, "AS 4100 Table 3.4", checks.MarkSeen},
	{"complete-penetration butt weld, SP", 0.90, "AS 4100 Table 3.4", checks.MarkMemory},
	{"fillet and incomplete-penetration weld, SP", 0.80, "AS 4100 Table 3.4", checks.MarkMemory},
	{"longitudinal fillet of hollow section thinner than 3 mm, SP", 0.70, "AS 4100 Table 3.4", checks.MarkMemory},
	{"any weld, GP", 0.60, "AS 4100 Table 3.4", checks.MarkMemory},
}

// The places of the factors in the table.
const (
	factorMember = iota
	factorBolt
	factorPly
	factorBlockShear
	factorButt
	factorFillet
	factorThinTube
	factorGP
)

// FormingClass is the residual-stress class by which Tables 5.2 and 6.2.4 choose their limits.
type FormingClass string

// The residual-stress classes.
const (
	StressRelieved FormingClass = "SR"
	HotRolled      FormingClass = "HR"
	LightlyWelded  FormingClass = "LW"
	ColdFormed     FormingClass = "CF"
	HeavilyWelded  FormingClass = "HW"
)

// forming gives the residual-stress class of each family.
var forming = map[catalog.Family]FormingClass{
	catalog.RHS: ColdFormed, // AS/NZS 1163, cold-formed
	catalog.SHS: ColdFormed,
	catalog.CHS: ColdFormed,
	catalog.UB:  HotRolled, // AS/NZS 3679.1
	catalog.PFC: HotRolled,
	catalog.EA:  HotRolled,
	catalog.Rod: HotRolled,
}

// alphaBRow is one row of Table 6.3.3: the member section constant by family and form factor.
type alphaBRow struct {
	family      catalog.Family
	full, local float64 // kf = 1, kf < 1
	clause      string
	mark        string
}

// alphaBTable holds Tables 6.3.3(1) and (2) for the families of the catalogue, flanges up to 40 mm.
var alphaBTable = []alphaBRow{
	{catalog.RHS, -0.5, -0.5, "AS 4100 Tables 6.3.3(1), (2)", checks.MarkVerified}, // cold-formed, not stress relieved
	{catalog.SHS, -0.5, -0.5, "AS 4100 Tables 6.3.3(1), (2)", checks.MarkVerified},
	{catalog.CHS, -0.5, -0.5, "AS 4100 Tables 6.3.3(1), (2)", checks.MarkVerified},
	{catalog.UB, 0, 0, "AS 4100 Tables 6.3.3(1), (2)", checks.MarkSeen}, // tf <= 40 mm
	{catalog.PFC, 0.5, 1.0, "AS 4100 Tables 6.3.3(1), (2)", checks.MarkSeen},
	{catalog.EA, 0.5, 1.0, "AS 4100 Tables 6.3.3(1), (2)", checks.MarkSeen},
	{catalog.Rod, 0.5, 1.0, "AS 4100 Tables 6.3.3(1), (2)", checks.MarkSeen}, // section not listed
}

// memberConstant gives the row of alphaBTable for f and its value for the form factor; ok is false for other families.
func (r *Rules) memberConstant(f catalog.Family, kf float64) (row alphaBRow, alphaB float64, ok bool) {
	for _, a := range r.alphaB {
		if a.family != f {
			continue
		}
		if kf < 1 {
			return a, a.local, true
		}
		return a, a.full, true
	}
	return alphaBRow{}, math.NaN(), false
}

// yieldRatio is sqrt(fy/250 MPa).
func yieldRatio(fy float64) float64 { return math.Sqrt(fy / 250e6) }
