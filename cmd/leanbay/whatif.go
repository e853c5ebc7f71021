package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"

	"github.com/spf13/cobra"

	"leanbay/experiments/runs"
	"leanbay/model/brief"
	"leanbay/solver"
)

// whatIfOptions are the flags of whatif.
type whatIfOptions struct {
	brief, front         string
	all, reserve, asJSON bool
}

// newWhatIf builds the command that scores variants again under changes.
func newWhatIf(s streams) *cobra.Command {
	var o whatIfOptions
	c := &cobra.Command{
		Use:   "whatif BRIEF",
		Short: "Which variants still comply when a door fails, a prop is lost, the terrain is smoother, a base settles",
		Long: "whatif judges variants again under the changes that the brief names (what_ifs): doors taken as shut fail open, a prop is lost,\n" +
			"the next smoother terrain, more load on floors, yielding or settling ground under props, one slack rod. Without --front it\n" +
			"judges the proposal with its missing links added. --wind-reserve finds the largest factor on the site wind speed at which\n" +
			"a variant passes everything, between 0.5 and 1.5.\n\n" + solver.Caution,
		Example: "  leanbay whatif packhouse.yaml --front out/packhouse/front.json --wind-reserve",
		Args:    cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			o.brief = args[0]
			return whatIf(c.Context(), s, o)
		},
	}
	f := c.Flags()
	f.StringVar(&o.front, "front", "", "front.json of a search on this brief: its named points are judged")
	f.BoolVar(&o.all, "all", false, "with --front: every variant that complies")
	f.BoolVar(&o.reserve, "wind-reserve", false, "also the reserve of wind speed")
	f.BoolVar(&o.asJSON, "json", false, "print the answer as JSON")
	return c
}

// whatIf judges and prints.
func whatIf(ctx context.Context, s streams, o whatIfOptions) error {
	b, err := brief.ReadFile(o.brief)
	if err != nil {
		return badInput(err)
	}
	if !o.asJSON {
		noteOwn(s.out, b)
	}
	var front *runs.Front
	if o.front != "" {
		file, err := os.Open(o.front)
		if err != nil {
			return badInput(err)
		}
		defer file.Close()
		if front, err = runs.ReadFront(file, o.front); err != nil {
			return badInput(err)
		}
	}
	table, err := runs.WhatIfs(ctx, b, front, o.all, o.reserve, func(name string) { fmt.Fprintln(s.err, name) })
	if err != nil {
		return badInput(err)
	}
	if o.asJSON {
		enc := json.NewEncoder(s.out)
		enc.SetIndent("", "  ")
		return enc.Encode(table)
	}
	printWhatIfs(s.out, table)
	return nil
}

// printWhatIfs prints each variant with what becomes of it.
func printWhatIfs(w io.Writer, t *runs.WhatIfTable) {
	fmt.Fprintf(w, "%s: what if\n", t.Brief)
	for i := range t.Rows {
		r := &t.Rows[i]
		fmt.Fprintf(w, "\n%s: %.0f kg, utilisation %.2f%s\n", r.Name, r.Mass, r.Utilisation, map[bool]string{true: ", complies", false: ", does not comply as it is"}[r.Complies])
		for _, c := range r.Cases {
			switch {
			case !c.Applies:
				fmt.Fprintf(w, "  %-14s -              %s\n", c.What, c.Text)
			case c.Complies:
				fmt.Fprintf(w, "  %-14s complies       %.2f  %s\n", c.What, c.Utilisation, c.Text)
			default:
				fmt.Fprintf(w, "  %-14s does not       %.2f  %s: %s\n", c.What, c.Utilisation, c.Text, c.Fails)
			}
		}
		if r.WindReserve != nil {
			fmt.Fprintf(w, "  wind reserve   %s\n", r.WindReserve.Text)
		}
	}
	fmt.Fprintln(w)
	printLines(w, "The figure is the greatest utilisation of frames and bracing; what fails may be a limit on movement, or a purlin. What is there stays: sections, spacings, purlins, girts, joists, jambs and lintels.")
	fmt.Fprintf(w, "\n%s\n", solver.Caution)
}
