// Package asnzs1170 is the actions pack for Australia and New Zealand: AS/NZS 1170.0, .1, .2 (2021), .3 and AS 1170.4,
// with the notional forces of AS 4100.
//
// In: a building and a site as plain numbers (actions.Building, actions.Site). Out: cases made of pressures on faces,
// combinations with reasons, the working, local pressures for cladding and secondary steel, and a schedule of doors and
// windows. It knows neither members nor the brief's file form.
//
// Every coefficient is a row of data with edition, clause and certainty mark, and has a name by which the certifier can
// set it (Overrides). Breakpoints of a table's axes are part of the table and are not coefficients.
package asnzs1170

import (
	"fmt"
	"slices"
	"strings"

	"leanbay/catalog/typo"
	"leanbay/model/actions"
)

// Mark says how certain a coefficient is.
type Mark string

// The marks of certainty.
const (
	V     Mark = "V"     // agrees with a public source for the current edition
	VOld  Mark = "V-old" // agrees with a public source for an earlier edition (2002, 2011)
	V40   Mark = "V40"   // agrees with public notes on the 2021 edition that are marked draft
	M     Mark = "M"     // from memory, internally consistent
	MM    Mark = "M?"    // from memory and doubtful: to be confirmed by the certifier
	Given Mark = "given" // set by the certifier's override file
	Own   Mark = "own"   // this pack's own choice, on the safe side
)

// Coefficient is one number of the code.
type Coefficient struct {
	Name   string
	Value  float64
	Clause string // document, edition and clause
	Mark   Mark
}

// The documents, with the editions that the tables hold.
const (
	std0   = "AS/NZS 1170.0:2002 "
	std1   = "AS/NZS 1170.1:2002 "
	std2   = "AS/NZS 1170.2:2021 "
	std3   = "AS/NZS 1170.3:2003 "
	std4   = "AS 1170.4:2007 "
	ncc    = "NCC 2022 Volume One "
	as4100 = "AS 4100:2020 "
)

// row is one line of a table: the names of its columns and their values. A row with cols "" is a single coefficient.
type row struct {
	name   string
	cols   string // separated by spaces
	vals   []float64
	clause string
	mark   Mark
}

func one(name string, v float64, clause string, m Mark) row {
	return row{name: name, vals: []float64{v}, clause: clause, mark: m}
}

// allRows lists every table, in the order of the codes.
func allRows() []row {
	return slices.Concat(eventRows, siteRows, internalRows, wallRows, roofRows, reductionRows, localRows, dragRows,
		freeRoofRows, imposedRows, combinationRows, snowRows, earthquakeRows, notionalRows, guideRows)
}

// Defaults returns every coefficient as the tables have it, in the order of the codes.
func Defaults() []Coefficient {
	var out []Coefficient
	for _, r := range allRows() {
		cols := strings.Fields(r.cols)
		if len(cols) == 0 {
			cols = []string{""}
		}
		if len(cols) != len(r.vals) {
			panic(fmt.Sprintf("asnzs1170: row %s has %d columns and %d values", r.name, len(cols), len(r.vals)))
		}
		for i, c := range cols {
			name := r.name
			if c != "" {
				name += "." + c
			}
			out = append(out, Coefficient{Name: name, Value: r.vals[i], Clause: r.clause, Mark: r.mark})
		}
	}
	return out
}

// Table holds the coefficients in force. It is never changed once made, so that clause functions are pure.
type Table struct {
	list  []Coefficient
	index map[string]int
	log   *actions.Working // notes every coefficient that is read, for a report; nil otherwise
}

// NewTable returns the default coefficients with the overrides o laid over them; nil is none.
func NewTable(o *Overrides) *Table {
	t := &Table{list: Defaults(), index: map[string]int{}}
	for i, c := range t.list {
		if _, twice := t.index[c.Name]; twice {
			panic("asnzs1170: two coefficients are named " + c.Name)
		}
		t.index[c.Name] = i
	}
	if o == nil {
		return t
	}
	for _, e := range o.Entries {
		i, ok := t.index[e.Name]
		if !ok {
			panic("asnzs1170: override of unknown coefficient " + e.Name + " was not refused by its reader")
		}
		t.list[i].Value, t.list[i].Mark = e.Value, Given
	}
	return t
}

// Coefficients returns a copy of the coefficients in force.
func (t *Table) Coefficients() []Coefficient { return slices.Clone(t.list) }

// at returns a coefficient by name and records its use. It panics on an unknown name: names are this package's own.
func (t *Table) at(w *actions.Working, name string) float64 {
	i, ok := t.index[name]
	if !ok {
		panic("asnzs1170: no coefficient " + name)
	}
	w.Use(name)
	t.log.Use(name)
	return t.list[i].Value
}

// Value returns a coefficient by name, and whether there is one.
func (t *Table) Value(name string) (v float64, ok bool) {
	i, ok := t.index[name]
	if ok {
		v = t.list[i].Value
	}
	return v, ok
}

// has reports whether a coefficient of that name exists.
func (t *Table) has(name string) bool { _, ok := t.index[name]; return ok }

// series returns the columns of a row.
func (t *Table) series(w *actions.Working, name string, cols ...string) []float64 {
	out := make([]float64, len(cols))
	for i, c := range cols {
		out[i] = t.at(w, name+"."+c)
	}
	return out
}

// source returns the clause and mark of a coefficient, for the working.
func (t *Table) source(name string) (clause string, m Mark) {
	c := t.list[t.index[name]]
	return c.Clause, c.Mark
}

// nearest returns the known name closest to name by edit distance.
func nearest(name string, known []string) string {
	best, least := "", 1<<30
	for _, k := range known {
		if d := typo.Distance(name, k); d < least {
			best, least = k, d
		}
	}
	return best
}

// interpolate is linear in x over ascending xs; outside, the end values hold.
func interpolate(xs, ys []float64, x float64) float64 {
	if x <= xs[0] {
		return ys[0]
	}
	for i := 1; i < len(xs); i++ {
		if x <= xs[i] {
			f := (x - xs[i-1]) / (xs[i] - xs[i-1])
			return ys[i-1] + f*(ys[i]-ys[i-1])
		}
	}
	return ys[len(ys)-1]
}
