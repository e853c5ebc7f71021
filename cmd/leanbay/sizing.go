package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"leanbay/experiments/sizing"
	"leanbay/solver"
)

type sizingOptions struct {
	file        string
	seed        uint64
	evaluations int
	workers     int
	json        bool
}

// newSizing builds `leanbay sizing`.
func newSizing(s streams) *cobra.Command {
	var o sizingOptions
	cmd := &cobra.Command{
		Use:   "sizing FILE.json",
		Short: "Search the lightest areas of a pin-jointed truss from a list (benchmark form)",
		Long: "Search the lightest areas of pin-jointed bars from a list, within limits of stress and displacement: the neutral form\n" +
			"of a discrete sizing problem, in any consistent units. Small displacements, no self weight, no buckling of bars: a\n" +
			"measure of the search, not a design. Exit code 1 if no feasible design was found.\n\n" + solver.Caution,
		Example: "  leanbay sizing truss.json\n  leanbay sizing truss.json --seed 7 --evaluations 2000 --json",
		Args:    cobra.ExactArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			o.file = args[0]
			return size(cmd.Context(), s.out, o)
		},
	}
	f := cmd.Flags()
	f.Uint64Var(&o.seed, "seed", 1, "seed: the same seed gives the same answer")
	f.IntVar(&o.evaluations, "evaluations", 20_000, "hard limit on distinct designs analysed")
	f.IntVar(&o.workers, "workers", 0, "goroutines that analyse; 0 is one a processor; the answer is the same")
	f.BoolVar(&o.json, "json", false, "print the answer as JSON")
	return cmd
}

// size answers o on out.
func size(ctx context.Context, out io.Writer, o sizingOptions) error {
	if o.evaluations < 1 || o.workers < 0 {
		return badInput(errors.New("--evaluations is at least 1 and --workers at least 0"))
	}
	text, err := os.ReadFile(o.file)
	if err != nil {
		return badInput(err)
	}
	truss, err := sizing.Read(o.file, text)
	if err != nil {
		return badInput(err)
	}
	a, err := sizing.Search(ctx, truss, sizing.Options{Seed: o.seed, Evaluations: o.evaluations, Workers: o.workers})
	if err != nil {
		return badInput(fmt.Errorf("%s: %w", o.file, err))
	}
	if err := printSizing(out, a, o.json); err != nil {
		return err
	}
	if !a.Feasible {
		return notComplying()
	}
	return nil
}

func printSizing(out io.Writer, a *sizing.Answer, asJSON bool) error {
	if asJSON {
		e := json.NewEncoder(out)
		e.SetIndent("", "  ")
		return e.Encode(a)
	}
	unit := func(of string) string {
		if u := a.Units[of]; u != "" {
			return " " + u
		}
		return ""
	}
	if a.Feasible {
		fmt.Fprintf(out, "%s: lightest feasible design %.6g%s\n", a.Name, a.Mass, unit("mass"))
	} else {
		fmt.Fprintf(out, "%s: no feasible design was found; the nearest has %.6g%s\n", a.Name, a.Mass, unit("mass"))
	}
	fmt.Fprintf(out, "  areas by group%s: %s\n", unit("area"), strings.Trim(fmt.Sprint(a.Areas), "[]"))
	fmt.Fprintf(out, "  greatest ratio of stress %.6f, of displacement %.6f\n", a.StressRatio, a.DisplacementRatio)
	fmt.Fprintf(out, "  seed %d: design %d of %d analysed; stopped by %s", a.Seed, a.EvaluationsToBest, a.Evaluations, a.Stopped)
	if a.Settled {
		fmt.Fprint(out, "; no single or paired step improves it")
	}
	fmt.Fprintf(out, "\n\nFront of mass against the greatest ratio\n")
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintf(w, "mass%s\tratio\t\n", unit("mass"))
	for _, d := range a.Front {
		fmt.Fprintf(w, "%.6g\t%.4f\t\n", d.Mass, d.Ratio)
	}
	if err := w.Flush(); err != nil {
		return err
	}
	_, err := fmt.Fprintf(out, "\n%s\n", a.Caution)
	return err
}
