package catalog

import (
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// PriceList is what steel and its working cost, in Currency.
type PriceList struct {
	Name     string
	Currency string
	Mark     Mark // Doubtful for the example list

	perKg       map[string]float64 // by family, by "family/grade" and by squeezed section name; other
	connections map[string]float64 // by kind; other
	cut, base   float64
}

// other is the price of what a list does not name.
const other = "other"

// Rate returns the price per kg of a section in a grade: the section's own if the list has one, else the grade's in the
// family, else the family's, else that of other steel.
func (p *PriceList) Rate(s *Section, g Grade) float64 {
	for _, key := range []string{squeeze(s.Name), gradeKey(s.Family, g.Name), string(s.Family)} {
		if v, ok := p.perKg[key]; ok {
			return v
		}
	}
	return p.perKg[other]
}

// FamilyRate returns the price per kg of a family, or of other steel.
func (p *PriceList) FamilyRate(f Family) float64 {
	if v, ok := p.perKg[string(f)]; ok {
		return v
	}
	return p.perKg[other]
}

// gradeKey is the key of a grade's price; no squeezed name holds a slash before a grade.
func gradeKey(f Family, grade string) string { return string(f) + "/" + squeeze(grade) }

// Connection returns the price of one connection of a kind ("knee", "cleat"), or of other kinds.
func (p *PriceList) Connection(kind string) float64 {
	if v, ok := p.connections[strings.ToLower(strings.TrimSpace(kind))]; ok {
		return v
	}
	return p.connections[other]
}

// Cut returns the price of one cut.
func (p *PriceList) Cut() float64 { return p.cut }

// Base returns the price of one base plate with its anchors, placed.
func (p *PriceList) Base() float64 { return p.base }

// ExamplePrices returns the embedded example list: a scenario of our own, marked Doubtful, for trying things out. Results
// that use it must say so.
func ExamplePrices() *PriceList { return examplePrices() }

var examplePrices = sync.OnceValue(func() *PriceList {
	const name = "data/prices.yaml"
	f, err := data.Open(name)
	if err != nil {
		panic("catalog: example prices: " + err.Error())
	}
	defer f.Close()
	p, err := ReadPrices(f, name, Default())
	if err != nil {
		panic("catalog: example prices: " + err.Error())
	}
	p.Mark = Doubtful
	return p
})

// priceEntry is one price as read, with its place in the file.
type priceEntry struct {
	item, of, grade, value string
	line, column           int
}

// priceItems are what an entry can price; other items hold text.
var priceItems = []string{"per_kg", "cut", "connection", "base", "name", "currency"}

// ReadPrices reads a price list from YAML (name ends in .yaml or .yml) or CSV (.csv); name is the file's, for messages.
// Sections are looked up in lib. All mistakes are collected, each with file:line:column (an InputErrors).
//
// YAML:
//
//	name: spring list
//	currency: AUD
//	per_kg: {RHS: 3.20, UB: 2.80, other: 3.50}   # by family; other for families not named
//	grades: {RHS: {C450L0: 3.30}}                # per kg, in place of the family's
//	sections: {200x100x5.0RHS: 3.05}             # per kg, in place of the grade's
//	cut: 8
//	connections: {knee: 220, other: 120}
//	base: 180
//
// CSV has the columns item, of, grade, value: item is per_kg (of a family, a section, or other), cut, connection (of a
// kind), base, name or currency.
//
// The currency, the price per kg of every family or of other, and other connections' price must be given; cut and base
// left out are free.
func ReadPrices(r io.Reader, name string, lib *Library) (*PriceList, error) {
	var entries []priceEntry
	var errs InputErrors
	switch strings.ToLower(filepath.Ext(name)) {
	case ".csv":
		entries, errs = pricesCSV(r, name)
	case ".yaml", ".yml":
		entries, errs = pricesYAML(r, name)
	default:
		return nil, fmt.Errorf("%s: a price list is a .yaml, .yml or .csv file", name)
	}
	b := priceBuilder{file: name, lib: lib, errs: errs, seen: map[string]bool{}}
	b.list = &PriceList{Mark: UserGiven, perKg: map[string]float64{}, connections: map[string]float64{}}
	for _, e := range entries {
		b.add(e)
	}
	if len(b.errs) == 0 {
		b.complete()
	}
	if err := b.errs.err(); err != nil {
		return nil, err
	}
	return b.list, nil
}

// pricesCSV reads the entries of a CSV list.
func pricesCSV(r io.Reader, name string) ([]priceEntry, InputErrors) {
	cols := []string{"item", "of", "grade", "value"}
	t := openTable(r, name, cols, []string{"item", "value"})
	var out []priceEntry
	for t.next() {
		e := priceEntry{item: strings.ToLower(t.text("item")), of: t.text("of"), grade: t.text("grade"), value: t.text("value")}
		e.line, e.column = t.csv.FieldPos(min(t.index["value"], len(t.row)-1))
		if !slices.Contains(priceItems, e.item) {
			t.fail("item", "unknown item %q; items: %s", e.item, strings.Join(priceItems, ", "))
			continue
		}
		out = append(out, e)
	}
	return out, t.errs
}

// priceBuilder turns entries into a list.
type priceBuilder struct {
	list *PriceList
	file string
	lib  *Library
	errs InputErrors
	seen map[string]bool
}

func (b *priceBuilder) fail(e priceEntry, format string, args ...any) {
	b.errs = append(b.errs, &InputError{b.file, max(1, e.line), max(1, e.column), fmt.Sprintf(format, args...)})
}

// add takes in one entry.
func (b *priceBuilder) add(e priceEntry) {
	key := e.item
	switch e.item {
	case "per_kg":
		key = b.steelKey(e)
	case "connection":
		key = strings.ToLower(e.of)
	}
	if key == "" {
		if e.item == "connection" {
			b.fail(e, "a connection needs its kind, or other")
		}
		return
	}
	if where := e.item + "\x00" + key; b.seen[where] {
		b.fail(e, "the price of %s is given twice", strings.TrimSpace(e.item+" "+e.of))
		return
	} else {
		b.seen[where] = true
	}
	switch e.item {
	case "name":
		b.list.Name = e.value
		return
	case "currency":
		b.list.Currency = e.value
		return
	}
	v, ok := b.price(e)
	if !ok {
		return
	}
	switch e.item {
	case "per_kg":
		b.list.perKg[key] = v
	case "connection":
		b.list.connections[key] = v
	case "cut":
		b.list.cut = v
	case "base":
		b.list.base = v
	}
}

// price reads the entry's number: zero or more, finite.
func (b *priceBuilder) price(e priceEntry) (float64, bool) {
	v, err := strconv.ParseFloat(e.value, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) || v < 0 {
		b.fail(e, "%s: %q is no price; give a number of zero or more", strings.TrimSpace(e.item+" "+e.of), e.value)
		return 0, false
	}
	return v, true
}

// steelKey is the key of a price per kg, empty (with the mistake noted) if it names nothing.
func (b *priceBuilder) steelKey(e priceEntry) string {
	f := Family(strings.ToUpper(e.of))
	switch {
	case strings.EqualFold(e.of, other) && e.grade == "":
		return other
	case slices.Contains(families, f) && e.grade == "":
		return string(f)
	case slices.Contains(families, f):
		if !slices.Contains(b.gradesOf(f), squeeze(e.grade)) {
			b.fail(e, "no %s has grade %q; grades: %s", f, e.grade, strings.Join(b.gradesOf(f), ", "))
			return ""
		}
		return gradeKey(f, e.grade)
	}
	s, err := b.lib.Find(e.of)
	if err != nil {
		b.fail(e, "per_kg of %q: no family (%s) and %v", e.of, joinFamilies(), err)
		return ""
	}
	if e.grade != "" {
		b.fail(e, "a section's own price holds for all its grades; leave the grade out")
		return ""
	}
	return squeeze(s.Name)
}

// gradesOf lists the grades that the library's sections of a family have.
func (b *priceBuilder) gradesOf(f Family) []string {
	var out []string
	for _, s := range b.lib.all {
		if s.Family != f {
			continue
		}
		for _, g := range s.Grades {
			if n := squeeze(g.Name); !slices.Contains(out, n) {
				out = append(out, n)
			}
		}
	}
	return out
}

// complete reports what a list must hold and does not.
func (b *priceBuilder) complete() {
	top := priceEntry{line: 1, column: 1}
	if b.list.Currency == "" {
		b.fail(top, "currency is missing")
	}
	if _, ok := b.list.perKg[other]; !ok {
		for _, f := range families {
			if _, ok := b.list.perKg[string(f)]; !ok {
				b.fail(top, "per_kg of %s is missing; give it, or other", f)
			}
		}
	}
	if _, ok := b.list.connections[other]; !ok {
		b.fail(top, "connections: the price of other connections is missing")
	}
}
