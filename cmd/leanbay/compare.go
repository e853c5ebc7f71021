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
	"leanbay/plots/charts"
	"leanbay/solver"
)

// compareOptions are the flags of compare.
type compareOptions struct {
	brief, out  string
	evaluations int
	asJSON      bool
}

// newCompare builds the command that compares ways to brace the walls.
func newCompare(s streams) *cobra.Command {
	var o compareOptions
	c := &cobra.Command{
		Use:   "compare BRIEF",
		Short: "Compare ways to brace the long walls: the same shed under each, with its sections optimised",
		Long: "compare fixes the long walls' bracing to one family after another (rods, diagonals, two tiers, V, shortened panels, knees,\n" +
			"portalised bays), makes everything else as light as complies in a limited search, and prints mass, braces, connections, sway\n" +
			"and base uplift side by side, and what blocks a family where a wall cannot have it.\n\n" + solver.Caution,
		Example: "  leanbay compare packhouse.yaml --out bracing",
		Args:    cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			o.brief = args[0]
			return compare(c.Context(), s, o)
		},
	}
	f := c.Flags()
	f.IntVar(&o.evaluations, "evaluations", 300, "most variants evaluated under each family")
	f.StringVar(&o.out, "out", "", "also draw bracing.png and bracing.svg into this folder")
	f.BoolVar(&o.asJSON, "json", false, "print the answer as JSON")
	return c
}

// compare prints the table and draws the chart.
func compare(ctx context.Context, s streams, o compareOptions) error {
	if o.evaluations < 1 {
		return badInput(fmt.Errorf("--evaluations %d: give at least 1", o.evaluations))
	}
	b, err := brief.ReadFile(o.brief)
	if err != nil {
		return badInput(err)
	}
	if o.out != "" { // before the work, which takes minutes
		if err := os.MkdirAll(o.out, 0o777); err != nil {
			return badInput(fmt.Errorf("%w; choose another folder with --out", err))
		}
	}
	if !o.asJSON {
		noteOwn(s.out, b)
	}
	table, err := runs.CompareBracing(ctx, b, o.evaluations, func(name string) { fmt.Fprintf(s.err, "%s\n", name) })
	if err != nil {
		return badInput(err)
	}
	if o.asJSON {
		enc := json.NewEncoder(s.out)
		enc.SetIndent("", "  ")
		err = enc.Encode(table)
	} else {
		printBracing(s.out, table)
	}
	if err == nil && o.out != "" {
		err = charts.WriteBracing(table, o.out)
	}
	return err
}

// printBracing prints the table of families, then what blocks what.
func printBracing(w io.Writer, t *runs.BracingTable) {
	fmt.Fprintf(w, "%s: the long walls braced in different ways, everything else as light as complies in %d evaluations each\n\n", t.Brief, t.Evaluations)
	fmt.Fprintf(w, "  %-32s %9s %10s %7s %7s %6s %7s %9s  %s\n", "walls", "mass, kg", "bracing,kg", "braces", "joints", "U", "sway", "uplift,kN", "verdict")
	for i := range t.Options {
		o := &t.Options[i]
		if !o.Found {
			fmt.Fprintf(w, "  %-32s fits in neither wall\n", o.Family)
			continue
		}
		verdict := o.Verdict
		if o.Fails != "" {
			verdict = "does not comply yet: " + o.Fails
		}
		fmt.Fprintf(w, "  %-32s %9.0f %10.0f %7d %7d %6.2f %7.2f %9.1f  %s\n", o.Family, o.Mass, o.Bracing, o.Braces, o.Connections, o.Utilisation, o.Sway, o.Uplift, verdict)
	}
	fmt.Fprintf(w, "\nWhere\n")
	for i := range t.Options {
		o := &t.Options[i]
		for side, name := range []string{"south", "north"} {
			switch {
			case o.Blocked[side] != "" && o.Found:
				fmt.Fprintf(w, "  %s, %s wall: not there (%s); it has %s\n", o.Family, name, o.Blocked[side], o.Walls[side])
			case o.Blocked[side] != "":
				fmt.Fprintf(w, "  %s, %s wall: not there (%s)\n", o.Family, name, o.Blocked[side])
			default:
				fmt.Fprintf(w, "  %s, %s wall: %s\n", o.Family, name, o.Walls[side])
			}
		}
	}
	fmt.Fprintf(w, "\nJoints are the made ends in the walls' planes, those of plain eaves struts left out. Sway is the use of the limit on the eaves' movement along the building.\n\n%s\n", solver.Caution)
}
