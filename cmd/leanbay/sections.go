package main

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"leanbay/catalog"
	"leanbay/solver"
)

// sectionsOptions is what `leanbay sections` was asked.
type sectionsOptions struct {
	streams
	family string // empty: all
	json   bool
	add    []string // CSV files of the user's own sections
}

func newSections(s streams) *cobra.Command {
	o := sectionsOptions{streams: s}
	c := &cobra.Command{
		Use:   "sections [FAMILY]",
		Short: "List the steel sections of the stock",
		Long: "List the steel sections of the stock, by family and mass. Families: RHS, SHS, CHS, UB, PFC, EA, ROD, C, Z.\n" +
			"mark tells how sure the dimensions are: verified in a published table, from memory, or the user's own.\n\n" +
			"A file of your own sections (--add) is CSV. " + catalog.OwnSections + "\n" + solver.Caution,
		Args: cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				o.family = args[0]
			}
			return listSections(o)
		},
	}
	c.Flags().BoolVar(&o.json, "json", false, "print JSON")
	c.Flags().StringArrayVar(&o.add, "add", nil, "CSV `file` of your own sections, in addition to the stock (may be repeated)")
	return c
}

// listSections prints the stock or one family of it.
func listSections(o sectionsOptions) error {
	lib, err := stock(o.add)
	if err != nil {
		return err
	}
	families := catalog.Families()
	if o.family != "" {
		f := catalog.Family(strings.ToUpper(strings.TrimSpace(o.family)))
		if !slices.Contains(families, f) {
			return badInput(fmt.Errorf("unknown family %q; families: %s", o.family, joined(families)))
		}
		families = []catalog.Family{f}
	}
	if o.json {
		return sectionsJSON(o.out, lib, families)
	}
	return sectionsText(o.out, lib, families)
}

func joined(families []catalog.Family) string {
	names := make([]string, len(families))
	for i, f := range families {
		names[i] = string(f)
	}
	return strings.Join(names, ", ")
}

// sectionsText prints a table per family.
func sectionsText(w io.Writer, lib *catalog.Library, families []catalog.Family) error {
	var b strings.Builder
	count := 0
	for _, f := range families {
		list := lib.ByFamily(f)
		count += len(list)
		if len(list) > 0 {
			familyTable(&b, list)
		}
	}
	fmt.Fprintf(&b, "%d sections. kg/m; mm; Ix, Iy in 10⁶ mm⁴; Zx in 10³ mm³.\n%s\n", count, solver.Caution)
	_, err := io.WriteString(w, b.String())
	return err
}

// familyTable prints one family: designation, mass, dimensions, Ix, Iy, Zx, grades, mark.
func familyTable(b *strings.Builder, list []*catalog.Section) {
	head := []string{string(list[0].Family), "kg/m"}
	for _, d := range list[0].Dimensions() {
		head = append(head, d.Symbol)
	}
	numbers := len(head) + 3
	rows := [][]string{append(head, "Ix", "Iy", "Zx", "grades", "mark")}
	for _, s := range list {
		row := []string{s.Name, digits(s.Props.Mass, 3)}
		for _, d := range s.Dimensions() {
			row = append(row, digits(d.Value, 5))
		}
		row = append(row, digits(s.Props.Ix*1e6, 4), digits(s.Props.Iy*1e6, 4), digits(s.Props.Zx*1e6, 4))
		rows = append(rows, append(row, strings.Join(gradeNames(s), "/"), string(s.Mark)))
	}
	writeTable(b, rows, func(col int) bool { return col > 0 && col < numbers })
	b.WriteByte('\n')
}

func gradeNames(s *catalog.Section) []string {
	names := make([]string, len(s.Grades))
	for i, g := range s.Grades {
		names[i] = g.Name
	}
	return names
}

// writeTable prints rows in aligned columns; right tells which are set to the right.
func writeTable(b *strings.Builder, rows [][]string, right func(col int) bool) {
	var widths []int
	for _, row := range rows {
		for i, cell := range row {
			if i == len(widths) {
				widths = append(widths, 0)
			}
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
	}
	for _, row := range rows {
		var line strings.Builder
		for i, cell := range row {
			pad := strings.Repeat(" ", widths[i]-utf8.RuneCountInString(cell))
			if right(i) {
				cell, pad = pad+cell, ""
			}
			line.WriteString(cell + pad + "  ")
		}
		b.WriteString(strings.TrimRight(line.String(), " ") + "\n")
	}
}

// digits prints v with n significant digits, whole numbers in full, never with an exponent.
func digits(v float64, n int) string {
	if v == 0 || math.IsInf(v, 0) || math.IsNaN(v) {
		return strconv.FormatFloat(v, 'f', -1, 64)
	}
	places := n - 1 - int(math.Floor(math.Log10(math.Abs(v))))
	s := strconv.FormatFloat(v, 'f', max(0, places), 64)
	if n >= 5 && places > 0 { // a dimension: no trailing zeros
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// sectionsJSON prints the same as JSON: lengths in mm and their powers.
func sectionsJSON(w io.Writer, lib *catalog.Library, families []catalog.Family) error {
	out := struct {
		Caution  string        `json:"caution"`
		Sections []sectionLine `json:"sections"`
	}{Caution: solver.Caution, Sections: []sectionLine{}}
	for _, f := range families {
		for _, s := range lib.ByFamily(f) {
			out.Sections = append(out.Sections, sectionLine{
				Name: s.Name, Family: s.Family, Mass: significant(s.Props.Mass), Dimensions: values(s.Dimensions()),
				Ix: significant(s.Props.Ix * 1e12), Iy: significant(s.Props.Iy * 1e12), Zx: significant(s.Props.Zx * 1e9),
				Grades: gradeNames(s), Mark: s.Mark,
			})
		}
	}
	return writeJSON(w, out)
}

// sectionLine is a section in a list.
type sectionLine struct {
	Name       string             `json:"section"`
	Family     catalog.Family     `json:"family"`
	Mass       float64            `json:"mass"`
	Dimensions map[string]float64 `json:"dimensions"`
	Ix         float64            `json:"Ix"`
	Iy         float64            `json:"Iy"`
	Zx         float64            `json:"Zx"`
	Grades     []string           `json:"grades"`
	Mark       catalog.Mark       `json:"mark"`
}

// significant rounds to 8 significant digits: what a computation in binary leaves beyond is noise.
func significant(v float64) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 8, 64), 64)
	if err != nil {
		return v
	}
	return r
}

// values lists quantities by symbol.
func values(qs []catalog.Quantity) map[string]float64 {
	out := make(map[string]float64, len(qs))
	for _, q := range qs {
		out[q.Symbol] = significant(q.Value)
	}
	return out
}

func writeJSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(v)
}
