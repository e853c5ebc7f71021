package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"runtime"
	"slices"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"leanbay/experiments/suites"
	"leanbay/solver"
)

type benchProofOptions struct {
	spaces      []string
	seeds       int
	evaluations int
	population  int
	workers     int
	ablation    bool
	json        bool
}

// newBenchProof builds `leanbay bench proof`.
func newBenchProof(s streams) *cobra.Command {
	var o benchProofOptions
	var names []string
	for _, p := range suites.Subspaces() {
		names = append(names, p.Name)
	}
	cmd := &cobra.Command{
		Use:   "proof",
		Short: "Hold the search to the proven front of small spaces of the examples",
		Long: "Search narrowed spaces of the shipped briefs with several seeds, then decide every point of each space by enumeration with\n" +
			"bounds, and compare: how many seeds end with exactly the proven front, after how many evaluations, and what became of the\n" +
			"points. A line is printed as each space ends, and the tables at the end; Ctrl-C keeps what is done. Spaces: " + strings.Join(names, "; ") + ".",
		Example: "  leanbay bench proof --spaces \"kit, sections\" --seeds 3\n  leanbay bench proof --json",
		Args:    cobra.NoArgs,
		RunE:    func(cmd *cobra.Command, _ []string) error { return benchProof(cmd.Context(), s, o) },
	}
	f := cmd.Flags()
	f.StringArrayVar(&o.spaces, "spaces", nil, "space by name, may be repeated; default all")
	f.IntVar(&o.seeds, "seeds", 10, "number of seeds, from 1")
	f.IntVar(&o.evaluations, "evaluations", 2500, "most evaluations of each search")
	f.IntVar(&o.population, "population", 20, "variants in each of two populations")
	f.IntVar(&o.workers, "workers", 0, "goroutines that evaluate; 0 is one a processor; the figures are the same")
	f.BoolVar(&o.ablation, "ablation", false, "repeat the searches with one part of the search off at a time")
	f.BoolVar(&o.json, "json", false, "print the figures as JSON")
	return cmd
}

// benchProof measures and prints.
func benchProof(ctx context.Context, s streams, o benchProofOptions) error {
	if o.seeds < 1 || o.evaluations < 1 || o.population < 4 || o.workers < 0 {
		return badInput(errors.New("--seeds and --evaluations are at least 1, --population at least 4, --workers at least 0"))
	}
	spaces, err := chosenSpaces(o.spaces)
	if err != nil {
		return badInput(err)
	}
	b := suites.ProofBench{Subspaces: spaces, Seeds: o.seeds, Evaluations: o.evaluations, Population: o.population, Workers: o.workers, Ablation: o.ablation}
	if o.workers == 0 {
		b.Workers = runtime.GOMAXPROCS(0)
	}
	show := newProgress(s.err, "mass")
	b.Watch = func(space string, seed int) {
		if seed == 0 {
			show.step(space + ": enumeration")
		} else {
			show.step(fmt.Sprintf("%s: seed %d", space, seed))
		}
	}
	b.Progress = show.proof
	b.Done = func(rows []suites.ProofRow) {
		show.end()
		if !o.json {
			fmt.Fprintln(s.out, proofLine(&rows[0]))
		}
	}
	rows, err := b.Run(ctx)
	show.end()
	if err != nil && (ctx.Err() == nil || len(rows) == 0) {
		return err
	}
	if o.json {
		e := json.NewEncoder(s.out)
		e.SetIndent("", "  ")
		return e.Encode(struct {
			Spaces  []suites.ProofRow `json:"spaces"`
			Caution string            `json:"caution"`
		}{rows, solver.Caution})
	}
	fmt.Fprintln(s.out)
	return printProofs(s.out, rows)
}

// proofLine says in a line what a space came to.
func proofLine(r *suites.ProofRow) string {
	return fmt.Sprintf("%s: %.6g points decided in %.0f s, %d on the front, best %.0f kg; %d of %d seeds with the front, after %.0f evaluations (%.0f to %.0f)",
		r.Subspace, r.Points, r.Seconds, r.Front, r.Lightest, r.Hits, r.Seeds, r.Complete.Median, r.Complete.Least, r.Complete.Greatest)
}

// chosenSpaces finds spaces by name.
func chosenSpaces(names []string) ([]suites.Subspace, error) {
	all := suites.Subspaces()
	if len(names) == 0 {
		return all, nil
	}
	var out []suites.Subspace
	for _, n := range names {
		i := slices.IndexFunc(all, func(s suites.Subspace) bool { return s.Name == n })
		if i < 0 {
			return nil, fmt.Errorf("--spaces %q: there is no such space; leanbay bench proof --help lists them", n)
		}
		out = append(out, all[i])
	}
	return out, nil
}

// printProofs prints one line a space, and what became of its points.
func printProofs(out io.Writer, rows []suites.ProofRow) error {
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	fmt.Fprintln(w, "space\tpoints\tproven\tfront\tbest kg\tseeds with the front\twith its best\tevaluations\tuntil complete")
	for _, r := range rows {
		if r.Without != "" {
			r.Subspace = "  without " + r.Without
		}
		if !r.Proven {
			r.Subspace += " (interrupted)"
		}
		fmt.Fprintf(w, "%s\t%.6g\t%v\t%d\t%.0f\t%d of %d\t%d\t%.0f (%.0f to %.0f)\t%.0f (%.0f to %.0f)\n", r.Subspace, r.Points, r.Proven, r.Front, r.Lightest,
			r.Hits, r.Seeds, r.HitsBest, r.Searched.Median, r.Searched.Least, r.Searched.Greatest, r.Complete.Median, r.Complete.Least, r.Complete.Greatest)
	}
	fmt.Fprintln(w)
	fmt.Fprintln(w, "what became of the points\tknown or other names\tin excluded branches\texcluded by bounds\tleft half way\tevaluated for the proof\tby all searches\tseconds")
	for _, r := range rows {
		if r.Without != "" {
			continue // the space is decided once
		}
		fmt.Fprintf(w, "%s\t%.0f\t%.0f\t%.0f\t%.0f\t%d\t%d\t%.0f\n", r.Subspace, r.Repeated, r.Branches, r.Bounded, r.Screened, r.Evaluated, r.Known, r.Seconds)
	}
	fmt.Fprintf(w, "\n%s\n", solver.Caution)
	return w.Flush()
}
