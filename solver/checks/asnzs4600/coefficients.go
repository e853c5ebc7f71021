package asnzs4600

import (
	"fmt"
	"sort"
	"strings"

	"leanbay/solver/checks"
)

// Key names a coefficient of the pack.
type Key int

// The coefficients, in the order of Coefficients.
const (
	PhiCompression Key = iota
	PhiBending
	PhiTension
	PhiShear
	ModulusE
	ModulusG
	columnLimit
	columnBase
	columnElastic
	localLimit
	localFactor
	localPower
	distortColumnLimit
	distortColumnFactor
	distortColumnPower
	distortBeamLimit
	distortBeamFactor
	distortBeamPower
	lateralElastic
	lateralFull
	tensionFracture
	shearYield
	shearBuckling
	shearFirst
	shearSecond
	cripplingOldR
	cripplingOldSum
	cripplingNewR
	cripplingNewSum
	smallAxial
	numKeys
)

// Coefficient is one figure of the code: its value, clause and certainty.
type Coefficient struct {
	Key    Key
	Name   string // the name by which a certifier's file overrides it
	Value  float64
	Unit   string // "-" or "Pa"
	Clause string
	Mark   string
}

// coefficients holds one row per Key. Sources of the curves: B. W. Schafer, Review: the direct strength method, 2006;
// AISI S100-16 chapters E and F have the same. The clause numbers of AS/NZS 4600:2018 are from memory.
var coefficients = [numKeys]Coefficient{
	{PhiCompression, "phi compression", 0.85, "-", "AS/NZS 4600 Table 1.6.3", checks.MarkMemory},
	{PhiBending, "phi bending", 0.90, "-", "AS/NZS 4600 Table 1.6.3", checks.MarkMemory},
	{PhiTension, "phi tension", 0.90, "-", "AS/NZS 4600 Table 1.6.3", checks.MarkMemory},
	{PhiShear, "phi shear", 0.90, "-", "AS/NZS 4600 Table 1.6.3", checks.MarkMemory},
	{ModulusE, "E", 200e9, "Pa", "AS/NZS 4600 1.4", checks.MarkMemory},
	{ModulusG, "G", 80e9, "Pa", "AS/NZS 4600 1.4", checks.MarkMemory},
	{columnLimit, "column curve limit", 1.5, "-", "AS/NZS 4600 7.2.1.2", checks.MarkSeen},
	{columnBase, "column curve base", 0.658, "-", "AS/NZS 4600 7.2.1.2", checks.MarkSeen},
	{columnElastic, "column curve elastic factor", 0.877, "-", "AS/NZS 4600 7.2.1.2", checks.MarkSeen},
	{localLimit, "local limit", 0.776, "-", "AS/NZS 4600 7.2.1.3, 7.2.2.3", checks.MarkSeen},
	{localFactor, "local factor", 0.15, "-", "AS/NZS 4600 7.2.1.3, 7.2.2.3", checks.MarkSeen},
	{localPower, "local power", 0.4, "-", "AS/NZS 4600 7.2.1.3, 7.2.2.3", checks.MarkSeen},
	{distortColumnLimit, "distortional limit, compression", 0.561, "-", "AS/NZS 4600 7.2.1.4", checks.MarkSeen},
	{distortColumnFactor, "distortional factor, compression", 0.25, "-", "AS/NZS 4600 7.2.1.4", checks.MarkSeen},
	{distortColumnPower, "distortional power, compression", 0.6, "-", "AS/NZS 4600 7.2.1.4", checks.MarkSeen},
	{distortBeamLimit, "distortional limit, bending", 0.673, "-", "AS/NZS 4600 7.2.2.4", checks.MarkSeen},
	{distortBeamFactor, "distortional factor, bending", 0.22, "-", "AS/NZS 4600 7.2.2.4", checks.MarkSeen},
	{distortBeamPower, "distortional power, bending", 0.5, "-", "AS/NZS 4600 7.2.2.4", checks.MarkSeen},
	{lateralElastic, "lateral buckling: elastic below Mo/My", 0.56, "-", "AS/NZS 4600 7.2.2.2", checks.MarkSeen},
	{lateralFull, "lateral buckling: none above Mo/My", 2.78, "-", "AS/NZS 4600 7.2.2.2", checks.MarkSeen},
	{tensionFracture, "tension fracture factor", 0.85, "-", "AS/NZS 4600 3.2.1", checks.MarkMemory},
	{shearYield, "shear yield factor", 0.6, "-", "AS/NZS 4600 7.2.3", checks.MarkMemory},
	{shearBuckling, "kv of an unstiffened web", 5.34, "-", "AS/NZS 4600 7.2.3", checks.MarkMemory},
	{shearFirst, "shear first limit and factor", 0.815, "-", "AS/NZS 4600 7.2.3", checks.MarkSeen},
	{shearSecond, "shear second limit", 1.227, "-", "AS/NZS 4600 7.2.3", checks.MarkMemory},
	{cripplingOldR, "bending and crippling, first form, R factor", 1.07, "-", "AS/NZS 4600 3.3.7 (form of the 2005 edition)", checks.MarkMemory},
	{cripplingOldSum, "bending and crippling, first form, sum", 1.42, "-", "AS/NZS 4600 3.3.7 (form of the 2005 edition)", checks.MarkMemory},
	{cripplingNewR, "bending and crippling, second form, R factor", 0.91, "-", "AS/NZS 4600 3.3.7 (form of AISI S100 since 2004)", checks.MarkMemory},
	{cripplingNewSum, "bending and crippling, second form, sum", 1.33, "-", "AS/NZS 4600 3.3.7 (form of AISI S100 since 2004)", checks.MarkMemory},
	{smallAxial, "axial force small enough for the plain sum", 0.15, "-", "AS/NZS 4600 3.5.1", checks.MarkMemory},
}

// Code is the pack with its coefficients; the zero value is not usable, see New. It is read-only while checks run.
type Code struct{ rows [numKeys]Coefficient }

// New returns the pack with its own coefficients.
func New() *Code { return &Code{rows: coefficients} }

// Coefficients lists the rows in force.
func (c *Code) Coefficients() []Coefficient { return append([]Coefficient(nil), c.rows[:]...) }

// Override sets a coefficient by its name and marks it as the certifier's, with their reason as its clause's remark. The
// error lists the names if there is none such, and refuses values that are not positive.
func (c *Code) Override(name string, value float64, reason string) error {
	if !(value > 0) {
		return fmt.Errorf("coefficient %q of AS/NZS 4600: %g is not positive", name, value)
	}
	names := make([]string, 0, numKeys)
	for i := range c.rows {
		if strings.EqualFold(c.rows[i].Name, name) {
			c.rows[i].Value, c.rows[i].Mark = value, checks.MarkCertifier+reason
			return nil
		}
		names = append(names, c.rows[i].Name)
	}
	sort.Strings(names)
	return fmt.Errorf("AS/NZS 4600 has no coefficient %q; it has: %s", name, strings.Join(names, "; "))
}

// at is the value of a coefficient.
func (c *Code) at(k Key) float64 { return c.rows[k].Value }

// step is a line of working whose clause and mark are those of the coefficient.
func (c *Code) step(k Key, symbol, formula, numbers string, value float64, unit string) checks.Step {
	r := &c.rows[k]
	return checks.Step{Clause: r.Clause, Symbol: symbol, Formula: formula, Numbers: numbers, Value: value, Unit: unit, Mark: r.Mark}
}
