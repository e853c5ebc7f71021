package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"leanbay/experiments/speed"
	"leanbay/solver"
)

type benchOptions struct {
	examples []string
	frames   []int
	matrix   string
	repeat   int
	cores    bool
	search   bool
	json     bool
}

// newBench builds `leanbay bench`, and what hangs on it.
func newBench(s streams) *cobra.Command {
	var o benchOptions
	cmd := &cobra.Command{
		Use:   "bench",
		Short: "Time leanbay phase by phase; 'bench search' measures the search against known answers",
		Long: "Time each phase of an evaluation on the example briefs and on generated sheds: order, structure of the factor, values,\n" +
			"assembly, factor, solution, rods, second order, and for the examples loads, checks, buckling, service and score.\n\n" +
			"A generated shed has frames of four members, 24 m span, 7.5 m apart, with purlins every 1.2 m, struts at eaves and\n" +
			"ridge, and crossed rods in walls and roof in the first bay and every tenth after it; six cases, twenty combinations.\n" +
			"Operations are counted from the columns of the factor. Times are the shortest of --repeat. Ctrl-C keeps what is complete.\n\n" + solver.Caution,
		Example: "  leanbay bench\n  leanbay bench --frames 50,500 --examples none --cores=false\n  leanbay bench --frames 12 --matrix out/matrices\n  leanbay bench --frames none --examples packhouse --search",
		Args:    cobra.NoArgs,
		RunE:    func(cmd *cobra.Command, _ []string) error { return bench(cmd.Context(), s, o) },
	}
	f := cmd.Flags()
	frames := newFrameList(&o.frames, 5, 50, 500, 2000)
	f.Var(frames, "frames", "frames of the generated sheds, 2 or more each, separated by commas; 'none' for no shed")
	f.StringSliceVar(&o.examples, "examples", speed.ExampleNames, "shipped briefs, separated by commas; 'none' for none")
	f.StringVar(&o.matrix, "matrix", "", "write stiffness matrices and load vectors into this folder in Matrix Market form")
	f.IntVar(&o.repeat, "repeat", 10, "times that each phase is run, the shortest of which counts; long sheds a tenth as often, all phases at least twice: the first go finds room in memory")
	f.BoolVar(&o.cores, "cores", true, "measure what all processors bring, to a compute loop and to the search of packhouse")
	f.BoolVar(&o.search, "search", false, "time each example's search to its first complying variant and to its end (minutes)")
	f.BoolVar(&o.json, "json", false, "print the figures as JSON, in seconds, bytes and operations")
	cmd.AddCommand(newBenchSearch(s), newBenchProof(s))
	return cmd
}

// bench measures and prints.
func bench(ctx context.Context, s streams, o benchOptions) error {
	if len(o.examples) == 1 && o.examples[0] == "none" {
		o.examples = nil
	}
	for _, name := range o.examples {
		if !slices.Contains(speed.ExampleNames, name) {
			return badInput(fmt.Errorf("--examples: there is no %q; choose from %v, or none", name, speed.ExampleNames))
		}
	}
	if o.repeat < 1 {
		return badInput(errors.New("--repeat is at least 1"))
	}
	show := newProgress(s.err, "mass")
	a, err := speed.Bench{
		Examples: o.examples, Frames: o.frames, Repeat: o.repeat, Matrix: o.matrix, Cores: o.cores, Search: o.search, Watch: show.step,
	}.Run(ctx)
	show.end()
	if err != nil {
		return err
	}
	if o.json {
		e := json.NewEncoder(s.out)
		e.SetIndent("", "  ")
		return e.Encode(a)
	}
	return printBench(s.out, a)
}

// printBench shows the tables: sizes, phases of the analysis, phases of an evaluation, cores, searches.
func printBench(out io.Writer, a *speed.Answer) error {
	fmt.Fprintf(out, "Peak of one core: %.1f Gflop/s (%s).\nTimes: %s.\n", a.Peak.Rate/1e9, a.Peak.Method, a.Clock)
	if len(a.Rows) > 0 {
		printSizes(out, a.Rows)
		printPhases(out, a)
		printEvaluations(out, a.Rows)
	}
	if c := a.Cores; c != nil {
		fmt.Fprintf(out, "\n%d processors against one, medians of %d alternating rounds: a compute loop %.2f times (%.1f to %.1f Gflop/s), the search of packhouse %.2f times (%.1f to %.1f evaluations a second): %.0f %% of the loop's.\n",
			c.Workers, c.Rounds, c.Loop.Factor, c.Loop.One/1e9, c.Loop.All/1e9, c.Search.Factor, c.Search.One, c.Search.All, 100*c.Share)
	}
	printSearches(out, a.Searches)
	if a.Interrupted {
		fmt.Fprintln(out, "\nInterrupted: only what was complete is shown.")
	}
	_, err := fmt.Fprintf(out, "\n%s\n", a.Caution)
	return err
}

func table(out io.Writer) *tabwriter.Writer {
	return tabwriter.NewWriter(out, 0, 0, 2, ' ', tabwriter.AlignRight)
}

func printSizes(out io.Writer, rows []speed.Row) {
	fmt.Fprintln(out, "\nSizes: K is the lower triangle of the stiffness, L its factor; operations are those of one factor")
	w := table(out)
	fmt.Fprintln(w, "shed\tframes\trods\tunknowns\tnnz(K)\tnnz(L)\tMflop\tfactor, MB\tpeak heap, MB\theld, MB\tcases\tcombinations\tidentical\tinner frames\tservice\t")
	for i := range rows {
		r := &rows[i]
		fmt.Fprintf(w, "%s\t%d\t%d\t%d\t%d\t%d\t%.2f\t%.1f\t%.0f\t%.0f\t%d\t%d\t%d\t%s\t%s\t\n", r.Name, r.Frames, r.OneWay, r.Unknowns, r.NonZeroK, r.NonZeroL,
			float64(r.FactorFlops)/1e6, float64(r.FactorBytes)/1e6, float64(r.PeakHeap)/1e6, float64(r.PeakHeld)/1e6, r.Cases, r.Combinations, r.Identical, orDash(r.Planar), orDash(r.Service))
	}
	w.Flush()
	fmt.Fprint(out, "identical: combinations that weigh every case as an earlier one does, which proves an equal answer; no other combination is\n"+
		"proven to be dominated in the whole shed, since answers are not linear, and none is dropped there.\n"+
		"inner frames: those of the combinations that are analysed again for inner frames alone; the others only push along the\n"+
		"building, which a plane frame does not feel.\n")
}

func orDash(n int) string {
	if n == 0 {
		return "-"
	}
	return fmt.Sprint(n)
}

// printPhases has a row a shed and a column a phase, then the same a frame, then the rates.
func printPhases(out io.Writer, a *speed.Answer) {
	for _, t := range []struct {
		head  string
		value func(r *speed.Row, p speed.Phase) string
	}{
		{"Analysis, ms", func(_ *speed.Row, p speed.Phase) string { return fmt.Sprintf("%.3f", p.Seconds*1e3) }},
		{"Analysis, µs a frame", func(r *speed.Row, p speed.Phase) string {
			return fmt.Sprintf("%.1f", p.Seconds*1e6/float64(r.Frames))
		}},
		{"Analysis, Gflop/s and share of the peak", func(_ *speed.Row, p speed.Phase) string {
			if p.Rate == 0 {
				return "-"
			}
			return fmt.Sprintf("%.1f (%.0f %%)", p.Rate/1e9, 100*p.Rate/a.Peak.Rate)
		}},
	} {
		fmt.Fprintf(out, "\n%s\n", t.head)
		w := table(out)
		fmt.Fprint(w, "shed\t")
		for _, p := range a.Rows[0].Phases {
			fmt.Fprintf(w, "%s\t", p.Name)
		}
		fmt.Fprintln(w)
		for i := range a.Rows {
			fmt.Fprintf(w, "%s\t", a.Rows[i].Name)
			for _, p := range a.Rows[i].Phases {
				fmt.Fprintf(w, "%s\t", t.value(&a.Rows[i], p))
			}
			fmt.Fprintln(w)
		}
		w.Flush()
	}
	for _, n := range speed.PhaseNotes {
		fmt.Fprintf(out, "%s: %s.\n", n[0], n[1])
	}
}

// printEvaluations has a row a brief and a column a phase of an evaluation.
func printEvaluations(out io.Writer, rows []speed.Row) {
	var w *tabwriter.Writer
	for i := range rows {
		r := &rows[i]
		if r.Evaluation == nil {
			continue
		}
		if w == nil {
			fmt.Fprintln(out, "\nOne evaluation in the search, topology known, of a design that is judged to the end, ms")
			w = table(out)
			fmt.Fprint(w, "brief\t")
			for _, p := range r.Evaluation {
				fmt.Fprintf(w, "%s\t", p.Name)
			}
			fmt.Fprintln(w, "whole\t")
		}
		fmt.Fprintf(w, "%s\t", r.Name)
		for _, p := range r.Evaluation {
			fmt.Fprintf(w, "%.3f\t", p.Seconds*1e3)
		}
		fmt.Fprintf(w, "%.3f\t\n", r.Total*1e3)
	}
	if w != nil {
		w.Flush()
	}
}

func printSearches(out io.Writer, runs []speed.SearchRun) {
	if len(runs) == 0 {
		return
	}
	fmt.Fprintln(out, "\nSearches from a cold start, seconds of elapsed time from reading the brief")
	w := table(out)
	fmt.Fprintln(w, "brief\tworkers\tprepared\tfirst complying\tevaluations\tsettled\tend\tevaluations\tfront\tlightest, kg\tended by\t")
	for _, r := range runs {
		fmt.Fprintf(w, "%s\t%d\t%.1f\t%s\t%d\t%s\t%.1f\t%d\t%d\t%.0f\t%s\t\n", r.Name, r.Workers, r.Prepare, secondsOr(r.First), r.FirstAfter, secondsOr(r.Settled), r.Total, r.Evaluations, r.Front, r.Lightest, r.Reason)
	}
	w.Flush()
}

func secondsOr(s float64) string {
	if s == 0 {
		return "not"
	}
	return fmt.Sprintf("%.1f", s)
}
