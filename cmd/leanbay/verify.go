package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"leanbay/experiments/suites/statics"
	"leanbay/solver"
)

// verifyOptions is what `leanbay verify` was asked.
type verifyOptions struct {
	streams
	names             []string
	list, json, table bool
	frame             bool
}

// newVerify builds `leanbay verify`.
func newVerify(s streams) *cobra.Command {
	o := verifyOptions{streams: s}
	c := &cobra.Command{
		Use:   "verify [NAME...]",
		Short: "Check the frame solver against structures with known answers",
		Long: "Analyse the shipped suite of structures with known answers (closed forms, published figures, an independent dense\n" +
			"routine) and print expected, got, difference and verdict. NAME is a case, or the beginning of several.\n" +
			"Exit code 1 if a figure does not agree.\n\n" + solver.Caution,
		RunE: func(_ *cobra.Command, args []string) error {
			o.names = args
			return verify(o)
		},
	}
	c.Flags().BoolVar(&o.list, "list", false, "list the names of the cases")
	c.Flags().BoolVar(&o.json, "json", false, "print JSON")
	c.Flags().BoolVar(&o.table, "table", false, "print a table in Markdown: "+statics.TablePath)
	c.Flags().BoolVar(&o.frame, "frame", false, "print one case in the neutral form, for 'leanbay frame'")
	c.MarkFlagsMutuallyExclusive("list", "json", "table", "frame")
	return c
}

// verify runs the chosen cases and prints them.
func verify(o verifyOptions) error {
	cases, err := statics.Select(o.names)
	if err != nil {
		return badInput(err)
	}
	switch {
	case o.list:
		return listCases(o.out, cases)
	case o.frame:
		return printCase(o.out, cases)
	}
	var rows []statics.Row
	for i := range cases {
		rows = append(rows, cases[i].Run()...)
	}
	return printRows(o, rows)
}

// printRows prints the figures in the form that was asked for; one that does not agree is a no.
func printRows(o verifyOptions, rows []statics.Row) error {
	var err error
	switch {
	case o.table:
		err = statics.WriteTable(o.out, rows)
	case o.json:
		err = writeJSON(o.out, verifyAnswer(rows))
	default:
		_, err = io.WriteString(o.out, verifyText(rows))
	}
	if err != nil {
		return err
	}
	if t := statics.Count(rows); t.Agree < t.Figures {
		return notComplying()
	}
	return nil
}

func listCases(out io.Writer, cases []statics.Case) error {
	var b strings.Builder
	for i := range cases {
		fmt.Fprintln(&b, cases[i].Name)
	}
	fmt.Fprintf(&b, "\n%d cases\n\n%s\n", len(cases), solver.Caution)
	_, err := io.WriteString(out, b.String())
	return err
}

func printCase(out io.Writer, cases []statics.Case) error {
	if len(cases) != 1 {
		return badInput(fmt.Errorf("--frame prints one case, and %d are meant; give the whole name of one (see 'leanbay verify --list')", len(cases)))
	}
	text, err := cases[0].JSON()
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(out, "%s\n", text)
	return err
}

func verifyText(rows []statics.Row) string {
	var b strings.Builder
	table := [][]string{{"case", "figure", "expected", "got", "unit", "difference", "verdict", "by"}}
	for i := range rows {
		r := &rows[i]
		got := r.Shown(r.Got, 6)
		if r.Problem != "" {
			got = r.Problem
		}
		table = append(table, []string{r.Case, r.What, r.Shown(r.Want, 6), got, r.Unit, r.Off(), verdictOf(r), r.Rank.String()})
	}
	writeTable(&b, table, func(col int) bool { return col == 2 || col == 3 || col == 5 })
	t := statics.Count(rows)
	fmt.Fprintf(&b, "\n%d cases, %d figures: %d agree, %d do not\n", t.Cases, t.Figures, t.Agree, t.Figures-t.Agree)
	fmt.Fprintf(&b, "by closed form %d, published %d, independent routine %d\n", t.ByRank[statics.ClosedForm], t.ByRank[statics.Published], t.ByRank[statics.Independent])
	if t.LargestAt != "" {
		fmt.Fprintf(&b, "largest difference %.2g %% (%s)\n", 100*t.Largest, t.LargestAt)
	}
	fmt.Fprintf(&b, "\n%s\n", solver.Caution)
	return b.String()
}

func verdictOf(r *statics.Row) string {
	if r.Agrees {
		return "agrees"
	}
	return "DIFFERS"
}

// verifyJSON is the JSON answer, SI units.
type verifyJSON struct {
	Caution string          `json:"caution"`
	Cases   int             `json:"cases"`
	Figures int             `json:"figures"`
	Agree   int             `json:"agree"`
	Rows    []verifyRowJSON `json:"rows"`
}

type verifyRowJSON struct {
	Case       string  `json:"case"`
	Figure     string  `json:"figure"`
	Unit       string  `json:"unit"` // "" for yes (1) and no (0)
	Expected   float64 `json:"expected"`
	Got        float64 `json:"got"`
	Difference float64 `json:"difference"` // relative; absolute where 0 is expected
	Tolerance  float64 `json:"tolerance"`
	Agrees     bool    `json:"agrees"`
	Rank       string  `json:"rank"`
	Source     string  `json:"source"`
	Problem    string  `json:"problem,omitempty"`
}

func verifyAnswer(rows []statics.Row) verifyJSON {
	t := statics.Count(rows)
	a := verifyJSON{Caution: solver.Caution, Cases: t.Cases, Figures: t.Figures, Agree: t.Agree, Rows: []verifyRowJSON{}}
	for i := range rows {
		r := &rows[i]
		a.Rows = append(a.Rows, verifyRowJSON{r.Case, r.What, r.Unit, r.Want, r.Got, r.Difference, r.Tol, r.Agrees, r.Rank.String(), r.Source, r.Problem})
	}
	return a
}
