package brief

import (
	"bytes"
	"errors"

	"leanbay/catalog"
)

// files opens the files that the brief names and reads what is in them, so that their mistakes are reported with the
// brief's own. Without an opener the sections of a brief with a list of its own are not looked up.
func (v *validator) files(open opener) {
	f := v.b.Files
	v.b.library = catalog.Default()
	if open == nil {
		if f.Sections != "" {
			v.b.library = nil
		}
		return
	}
	for _, one := range []struct{ path, name string }{
		{"files.overrides", f.Overrides}, {"files.prices", f.Prices}, {"files.sections", f.Sections},
	} {
		if one.name == "" || !v.good(one.path) {
			continue
		}
		data, err := open(one.name)
		if err != nil {
			v.bad.add(one.path)
			v.fault(one.path, "%s cannot be opened: %v; its name is relative to the brief", one.name, err)
			continue
		}
		v.b.attached[one.path] = data
	}
	v.ownSections()
	v.priceList()
}

// ownSections adds the brief's own sections to the catalogue's.
func (v *validator) ownSections() {
	data, ok := v.b.attached["files.sections"]
	if !ok {
		if v.b.Files.Sections != "" {
			v.b.library = nil // it cannot be told what it would hold
		}
		return
	}
	own, err := catalog.Load(bytes.NewReader(data), v.b.Files.Sections)
	lib := catalog.Default()
	if err == nil {
		lib, err = lib.With(own)
	}
	v.b.library = lib
	if err != nil {
		v.b.library = nil
	}
	v.attachedFault("files.sections", err)
}

// priceList reads the prices.
func (v *validator) priceList() {
	data, ok := v.b.attached["files.prices"]
	if !ok || v.b.library == nil {
		return
	}
	prices, err := catalog.ReadPrices(bytes.NewReader(data), v.b.Files.Prices, v.b.library)
	v.b.prices = prices
	v.attachedFault("files.prices", err)
}

// attachedFault reports the mistakes of an attached file at their own places.
func (v *validator) attachedFault(path string, err error) {
	var many catalog.InputErrors
	switch {
	case err == nil:
	case errors.As(err, &many):
		for _, one := range many {
			v.errs = append(v.errs, &Error{File: one.File, Pos: Pos{one.Line, one.Column}, Message: one.Msg})
		}
	default:
		v.fault(path, "%v", err)
	}
}

// lookup asks the catalogue for a section and grade and returns their canonical names.
func (v *validator) lookup(path, section, grade string) (string, string) {
	if v.b.library == nil {
		return section, grade
	}
	s, err := v.b.library.Find(section)
	if err != nil {
		v.fault(path, "%v", err)
		return section, grade
	}
	if grade == "" {
		return s.Name, ""
	}
	g, err := s.Grade(grade)
	if err != nil {
		v.fault(path+".grade", "%v", err)
		return s.Name, grade
	}
	return s.Name, g.Name
}

// Library returns the catalogue with the brief's own sections; nil only for a brief that names a list of its own and was
// read by Read.
func (b *Brief) Library() *catalog.Library { return b.library }

// Prices returns the brief's prices, nil if it names none.
func (b *Brief) Prices() *catalog.PriceList { return b.prices }

// Overrides returns the content of the certifier's file of coefficients, nil if the brief names none.
func (b *Brief) Overrides() []byte { return b.attached["files.overrides"] }
