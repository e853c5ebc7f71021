package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"leanbay/experiments/runs"
	"leanbay/model/brief"
	"leanbay/solver"
)

// adviseOptions are the flags of advise.
type adviseOptions struct {
	brief    string
	asJSON   bool
	settings runs.Settings
}

// newAdvise builds the command that says what to change in a drawing.
func newAdvise(s streams) *cobra.Command {
	var o adviseOptions
	c := &cobra.Command{
		Use:   "advise BRIEF",
		Short: "Say what to change in the drawing: the least that makes it comply, then what each further change saves",
		Long: "advise searches for variants that comply, and lists those that no other beats in both mass and departures from the drawing:\n" +
			"first the least change that makes the drawing comply, then what saves steel for each further change. The weights of\n" +
			"departures are in the brief (objectives.departures). It exits with 1 when nothing that complies was found.\n\n" + solver.Caution,
		Example: "  leanbay advise packhouse.yaml\n  leanbay advise packhouse.yaml --evaluations 5000 --json",
		Args:    cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			o.brief = args[0]
			return advise(c.Context(), s, o)
		},
	}
	f := c.Flags()
	f.BoolVar(&o.asJSON, "json", false, "print the answer as JSON")
	f.Uint64Var(&o.settings.Seed, "seed", 1, "seed of the search: the same seed, brief and program give the same advice")
	f.IntVar(&o.settings.Evaluations, "evaluations", 800, "most distinct variants evaluated")
	f.IntVar(&o.settings.Population, "population", 30, "variants in each of two populations")
	f.IntVar(&o.settings.Stagnation, "stagnation", 20, "generations without progress after which the search ends; 0 never")
	f.IntVar(&o.settings.Workers, "workers", 0, "parallel evaluations; 0 is one per processor (it never changes the result)")
	return c
}

// advise finds and prints the advice.
func advise(ctx context.Context, s streams, o adviseOptions) error {
	if o.settings.Evaluations < 10 {
		return badInput(fmt.Errorf("--evaluations %d: too few to find anything; give at least 10", o.settings.Evaluations))
	}
	b, err := brief.ReadFile(o.brief)
	if err != nil {
		return badInput(err)
	}
	if !o.asJSON {
		noteOwn(s.out, b)
	}
	show := newProgress(s.err, "mass")
	o.settings.Mending = show.mending
	a, err := runs.Advise(ctx, b, o.settings, show.generation)
	show.end()
	switch {
	case errors.Is(err, context.Canceled):
		return &exitError{code: exitInput, err: errors.New("stopped before anything was found")}
	case err != nil:
		return badInput(err)
	}
	if o.asJSON {
		enc := json.NewEncoder(s.out)
		enc.SetIndent("", "  ")
		err = enc.Encode(a)
	} else {
		printAdvice(s.out, a)
	}
	if err == nil && len(a.Steps) == 0 {
		return notComplying()
	}
	return err
}

// printAdvice prints the list as one would send it.
func printAdvice(w io.Writer, a *runs.Advice) {
	fmt.Fprintf(w, "%s: the drawing %s; %.0f kg as drawn\n\n", a.Brief, verdictText(&a.Proposal), a.Proposal.Mass)
	if len(a.Steps) == 0 {
		fmt.Fprintf(w, "Nothing that complies was found in %d evaluations (%s). Give more with --evaluations, or open the freedoms of the brief.\n", a.Evaluations, a.Stopped)
	}
	for i := range a.Steps {
		st := &a.Steps[i]
		fmt.Fprintf(w, "%2d. %s\n", i+1, a.Headline(i))
		for _, c := range st.New {
			if why := st.Why[c]; why != "" {
				c += " (without it: " + why + ")"
			}
			fmt.Fprintf(w, "      %s\n", c)
		}
		for _, c := range st.Dropped {
			fmt.Fprintf(w, "      no longer needed: %s\n", c)
		}
		if g := st.Governing; g != nil {
			fmt.Fprintf(w, "      the most used member is then %s, at %.2f (%s)\n", g.Member, g.Utilisation, g.Check)
		}
	}
	fmt.Fprintf(w, "\n%d variants were evaluated (%s). Of what complies, none that was found beats one of these in both mass and\ndepartures; steps that save less than 20 kg are left out. Weights are those of the brief (objectives.departures).\n", a.Evaluations, a.Stopped)
	fmt.Fprintf(w, "\n%s\n", solver.Caution)
}

// verdictText says how the drawing fares.
func verdictText(s *runs.Scores) string {
	if s.Complies {
		return "complies"
	}
	return "does not comply (" + s.Verdict + ")"
}
