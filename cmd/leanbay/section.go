package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"leanbay/catalog"
	"leanbay/solver"
)

// sectionOptions is what `leanbay section` was asked.
type sectionOptions struct {
	streams
	name  string
	grade string // empty: all grades of the section
	json  bool
	add   []string // CSV files of the user's own sections

	buckling bool   // elastic buckling by finite strips, of lipped channels and zeds
	picture  string // file for its picture
}

func newSection(s streams) *cobra.Command {
	o := sectionOptions{streams: s}
	c := &cobra.Command{
		Use:   "section NAME",
		Short: "Show one section: dimensions, properties, grades, source",
		Long: "Show one section: dimensions, properties computed from them, grades with yields, and where the dimensions come from.\n" +
			"The name may be in any usual spelling: 200x100x5.0RHS, \"RHS 200 x 100 x 5\", \"380 PFC\", 460UB82, C15015.\n" +
			"The form of a file of your own sections (--add): see 'leanbay sections --help'.\n\n" + solver.Caution,
		Args: cobra.MinimumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			o.name = strings.Join(args, " ")
			return showSection(o)
		},
	}
	c.Flags().BoolVar(&o.json, "json", false, "print JSON")
	c.Flags().StringVar(&o.grade, "grade", "", "show this `grade` only")
	c.Flags().StringArrayVar(&o.add, "add", nil, "CSV `file` of your own sections, in addition to the stock (may be repeated)")
	c.Flags().BoolVar(&o.buckling, "buckling", false, "elastic local and distortional buckling of a lipped channel or zed, and its signature curves")
	c.Flags().StringVar(&o.picture, "svg", "", "with --buckling: draw the signature curves to this `file` (.svg or .png)")
	return c
}

// showSection prints the section.
func showSection(o sectionOptions) error {
	lib, err := stock(o.add)
	if err != nil {
		return err
	}
	s, err := lib.Find(o.name)
	if err != nil {
		return badInput(err)
	}
	grades := s.Grades
	if o.grade != "" {
		g, err := s.Grade(o.grade)
		if err != nil {
			return badInput(err)
		}
		grades = []catalog.Grade{g}
	}
	buckling, err := o.analyse(s, grades)
	if err != nil {
		return err
	}
	if o.json {
		a := sectionAnswer(s, grades)
		a.Buckling = buckling
		return writeJSON(o.out, a)
	}
	var b strings.Builder
	fmt.Fprintf(&b, "%s (%s)\n", s.Name, s.Family.Title())
	for _, part := range sectionParts {
		b.WriteByte('\n')
		part(&b, s, grades)
	}
	if buckling != nil {
		b.WriteByte('\n')
		bucklingText(&b, buckling)
	}
	fmt.Fprintf(&b, "\n%s\n", solver.Caution)
	_, err = io.WriteString(o.out, b.String())
	return err
}

// analyse does the buckling analysis and its picture where they are asked for; else it returns nil.
func (o sectionOptions) analyse(s *catalog.Section, grades []catalog.Grade) (*bucklingJSON, error) {
	if !o.buckling {
		if o.picture != "" {
			return nil, badInput(fmt.Errorf("--svg draws the curves of --buckling: give both"))
		}
		return nil, nil
	}
	a, err := bucklingAnswer(s, grades[0])
	if err == nil && o.picture != "" {
		err = drawBuckling(s, a, o.picture)
	}
	return a, err
}

// sectionParts are the parts of the page in their order; what a flag asks for in addition is printed after them.
var sectionParts = []func(b *strings.Builder, s *catalog.Section, grades []catalog.Grade){
	dimensionPart, propertyPart, gradePart, sourcePart,
}

func dimensionPart(b *strings.Builder, s *catalog.Section, _ []catalog.Grade) {
	quantityTable(b, "Dimensions", s.Dimensions(), 5)
}

func propertyPart(b *strings.Builder, s *catalog.Section, _ []catalog.Grade) {
	quantityTable(b, "Properties, computed from the dimensions (x major, y minor axis)", s.Quantities(), 4)
	if note := s.Family.AxesNote(); note != "" {
		fmt.Fprintf(b, "  %s\n", note)
	}
}

// quantityTable prints symbol, value with n significant digits, unit and name.
func quantityTable(b *strings.Builder, title string, qs []catalog.Quantity, n int) {
	rows := make([][]string, len(qs))
	for i, q := range qs {
		v, unit := q.Shown()
		rows[i] = []string{"  " + q.Symbol, digits(v, n), unit, q.Name}
	}
	fmt.Fprintln(b, title)
	writeTable(b, rows, func(col int) bool { return col == 1 })
}

func gradePart(b *strings.Builder, _ *catalog.Section, grades []catalog.Grade) {
	rows := [][]string{{"  grade", "fy flange", "fy web", "fu", "mark"}}
	for _, g := range grades {
		rows = append(rows, []string{"  " + g.Name, digits(g.Fy/1e6, 3), digits(g.FyW/1e6, 3), digits(g.Fu/1e6, 3), string(g.Mark)})
	}
	fmt.Fprintln(b, "Grades, MPa")
	writeTable(b, rows, func(col int) bool { return col > 0 && col < 4 })
}

func sourcePart(b *strings.Builder, s *catalog.Section, _ []catalog.Grade) {
	fmt.Fprintf(b, "Dimensions: %s. Source: %s\n", s.Mark, s.Source)
}

// sectionJSON is the JSON answer: lengths in mm and their powers, mass in kg/m, strengths in MPa.
type sectionJSON struct {
	Section    string             `json:"section"`
	Family     catalog.Family     `json:"family"`
	Dimensions map[string]float64 `json:"dimensions"`
	Properties map[string]float64 `json:"properties"`
	Units      map[string]string  `json:"units"`
	Grades     []gradeJSON        `json:"grades"`
	Mark       catalog.Mark       `json:"mark"`
	Source     string             `json:"source"`
	Axes       string             `json:"axes,omitempty"`
	Buckling   *bucklingJSON      `json:"buckling,omitempty"`
	Caution    string             `json:"caution"`
}

type gradeJSON struct {
	Name string       `json:"name"`
	Fy   float64      `json:"fy"`
	FyW  float64      `json:"fyw"`
	Fu   float64      `json:"fu"`
	Mark catalog.Mark `json:"mark"`
}

func sectionAnswer(s *catalog.Section, grades []catalog.Grade) sectionJSON {
	a := sectionJSON{
		Section: s.Name, Family: s.Family, Mark: s.Mark, Source: s.Source, Axes: s.Family.AxesNote(), Caution: solver.Caution,
		Dimensions: values(s.Dimensions()), Properties: values(s.Quantities()), Units: map[string]string{},
	}
	plain := strings.NewReplacer("²", "2", "³", "3", "⁴", "4", "⁶", "6", "°", "deg")
	for _, q := range append(s.Dimensions(), s.Quantities()...) {
		a.Units[q.Symbol] = plain.Replace(q.Unit)
	}
	for _, g := range grades {
		a.Grades = append(a.Grades, gradeJSON{g.Name, significant(g.Fy / 1e6), significant(g.FyW / 1e6), significant(g.Fu / 1e6), g.Mark})
	}
	return a
}
