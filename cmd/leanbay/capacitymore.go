package main

import (
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"

	"leanbay/catalog"
	"leanbay/model/coefficients"
	"leanbay/solver/checks"
	"leanbay/solver/checks/as4100"
	"leanbay/solver/checks/asnzs4600"
)

// The names of fasteners beside those of sections: M20, 6FW.
var (
	boltWord   = regexp.MustCompile(`(?i)^\s*(?:bolt\s*)?M\s*(\d+)\s*$`)
	filletWord = regexp.MustCompile(`(?i)^\s*(\d+(?:\.\d+)?)\s*C?FW\s*$`)
)

// boltName reads a bolt's size in m.
func boltName(s string) (d float64, ok bool) { return sizeIn(boltWord, s) }

// filletName reads a fillet's leg in m.
func filletName(s string) (leg float64, ok bool) { return sizeIn(filletWord, s) }

func sizeIn(word *regexp.Regexp, s string) (float64, bool) {
	m := word.FindStringSubmatch(s)
	if m == nil {
		return 0, false
	}
	v, err := strconv.ParseFloat(m[1], 64)
	return v / kilo, err == nil
}

// boltCapacity answers for one bolt.
func boltCapacity(out io.Writer, o capacityOptions, d float64, rules *as4100.Rules, w *checks.Working) error {
	category := o.grade
	if category == "" {
		category = "8.8/S"
	}
	a, err := rules.AskBolt(as4100.BoltQuery{Diameter: d, Category: category, Ply: o.ply / kilo, PlyFu: o.plyFu * 1e6, Edge: o.edge / kilo}, w)
	if err != nil {
		return badInput(err)
	}
	if o.json {
		return writeIndented(out, a)
	}
	fmt.Fprintf(out, "%s bolt, %s: fuf %g MPa, As %g, Ac %g, Ao %g mm²\n", a.Bolt, a.Category, a.Fuf, a.As, a.Ac, a.Ao)
	if err := w.WriteText(out); err != nil {
		return err
	}
	printCapacities(out, []capacityRow{{"phi Ntf, without prying", a.PhiNtf, "kN"}, {"phi Vf, thread in the plane", a.PhiVfn, "kN"}, {"phi Vf, shank in the plane", a.PhiVfx, "kN"}, {"phi Vb of the ply", a.PhiVb, "kN"}})
	_, err = fmt.Fprintf(out, "\n%s\n", a.Caution)
	return err
}

// weldCapacity answers for a fillet weld.
func weldCapacity(out io.Writer, o capacityOptions, leg float64, rules *as4100.Rules, w *checks.Working) error {
	metal, quality := "E49XX", as4100.SP
	for _, word := range strings.Fields(o.grade) {
		if word = strings.ToUpper(word); word == "SP" || word == "GP" {
			quality = as4100.WeldQuality(word)
			continue
		}
		metal = word
	}
	a, err := rules.AskFillet(leg, metal, quality, w)
	if err != nil {
		return badInput(err)
	}
	if o.json {
		return writeIndented(out, a)
	}
	fmt.Fprintf(out, "%g mm fillet weld, %s %s: fuw %g MPa\n", a.Leg, a.Metal, a.Quality, a.Fuw)
	if err := w.WriteText(out); err != nil {
		return err
	}
	printCapacities(out, []capacityRow{{"phi vw", a.PhiVw, "kN/mm"}})
	_, err = fmt.Fprintf(out, "\n%s\n", a.Caution)
	return err
}

// coldCapacity answers for a lipped channel or zed.
func coldCapacity(out io.Writer, o capacityOptions, sec *catalog.Section, g catalog.Grade, set *coefficients.Set, w *checks.Working) error {
	const interiorAt = 1.5 // of the web's depth, AS/NZS 4600 3.3.6
	q := asnzs4600.Query{LengthX: o.lengthX, LengthY: o.lengthY, Length: o.length, Cb: o.alphaM, N: kilo * o.n, Mx: kilo * o.mx, My: kilo * o.my, Combined: o.combined,
		Bearing: o.bearing / kilo, Interior: o.endDistance/kilo >= interiorAt*sec.Dims.D}
	if err := q.Validate(); err != nil {
		return badInput(err)
	}
	a, err := set.ColdFormed.Ask(sec, g, q, w)
	if err != nil {
		return badInput(err)
	}
	a.Overrides = set.Digest()
	if o.json {
		return writeIndented(out, a)
	}
	p := a.Properties
	fmt.Fprintf(out, "%s, grade %s: fy %g, fu %g MPa; %s\n", a.Section, a.Grade, a.Fy, a.Fu, a.Code)
	fmt.Fprintf(out, "  mass %s kg/m, Ag %s mm², Ix %s, Iy %s mm⁴, Zx %s, Zy %s mm³, rx %s, ry %s mm\n", checks.Figure(p.Mass), checks.Figure(p.Ag),
		checks.Figure(p.Ix), checks.Figure(p.Iy), checks.Figure(p.Zx), checks.Figure(p.Zy), checks.Figure(p.Rx), checks.Figure(p.Ry))
	if err := w.WriteText(out); err != nil {
		return err
	}
	printCapacities(out, []capacityRow{
		{"phi Nt", a.PhiNt, "kN"}, {"phi Ns", a.PhiNs, "kN"}, {"phi Nc, flexure about x", a.PhiNcx, "kN"}, {"phi Nc, flexure about y", a.PhiNcy, "kN"}, {"phi Nc, twist", a.PhiNcz, "kN"},
		{"phi Nc, the least", a.PhiNc, "kN"}, {"phi Msx", a.PhiMsx, "kN·m"}, {"phi Msy, lips in compression", a.PhiMsyLips, "kN·m"}, {"phi Msy, web in compression", a.PhiMsyWeb, "kN·m"},
		{"phi Mbx", a.PhiMbx, "kN·m"}, {"phi Vvx", a.PhiVvx, "kN"}, {"phi Rb, web crippling", a.PhiRb, "kN"},
	})
	if c := a.Combined; c != nil {
		for _, u := range c.Utilisations {
			fmt.Fprintf(out, "\nCombined %s: the code's sum %s, utilisation %s (actions divided by it meet the limit)\n", u.Clause, orExhausted(u.Value), orExhausted(u.Radial))
		}
	}
	for _, s := range a.Outside {
		fmt.Fprintf(out, "Outside the rules: %s\n", s)
	}
	if a.Overrides != "" {
		fmt.Fprintf(out, "The certifier's own coefficients: sha256 %s\n", a.Overrides)
	}
	_, err = fmt.Fprintf(out, "\n%s\n", a.Caution)
	return err
}
