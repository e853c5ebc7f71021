package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime"
	"slices"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"leanbay/experiments/sizing"
	"leanbay/experiments/speed"
	"leanbay/experiments/suites"
	"leanbay/plots/charts"
	"leanbay/solver"
)

type benchSearchOptions struct {
	evaluations []int
	population  int
	seeds       int
	functions   []string
	sizing      int
	problems    []string
	sheds       []string
	shedLimit   int
	workers     int
	ablation    bool
	compare     bool
	json        bool
	out         string
	record      string
}

// newBenchSearch builds `leanbay bench search`.
func newBenchSearch(s streams) *cobra.Command {
	var o benchSearchOptions
	cmd := &cobra.Command{
		Use:   "search",
		Short: "Measure the search on functions and trusses with known optima",
		Long: "Measure the search: the hypervolume (reference point 1.1) that it reaches on ZDT1 to 4, ZDT6 and DTLZ2, in its\n" +
			"population and in everything non-dominated that it found, beside that of the true front; and the evaluations that it\n" +
			"needs to the published best of the discrete sizing problems that are shipped. With --sheds also what it finds for shipped\n" +
			"briefs within a number of evaluations, from the mended drawing: the lightest design that complies and the hypervolume of\n" +
			"mass against utilisation.",
		Example: "  leanbay bench search\n  leanbay bench search --functions none --sizing 0 --sheds barn,packhouse --seeds 3 --ablation\n  leanbay bench search --functions ZDT1,ZDT4 --evaluations 10000 --seeds 3 --sizing 0\n  leanbay bench search --functions none --ablation --compare",
		Args:    cobra.NoArgs,
		RunE:    func(cmd *cobra.Command, _ []string) error { return benchSearch(cmd.Context(), s, o) },
	}
	f := cmd.Flags()
	f.StringSliceVar(&o.sheds, "sheds", nil, "shipped briefs to search: kit, packhouse, barn; default none")
	f.IntVar(&o.shedLimit, "shed-evaluations", 1000, "evaluations of each search of a shed, all of which it uses")
	f.IntSliceVar(&o.evaluations, "evaluations", []int{10_000, 25_000}, "note the hypervolume after so many evaluations, rising")
	f.IntVar(&o.population, "population", 100, "size of the population on functions")
	f.IntVar(&o.seeds, "seeds", 11, "number of seeds, from 1")
	f.StringSliceVar(&o.functions, "functions", nil, "functions by name; default all, 'none' for none")
	f.StringSliceVar(&o.problems, "problems", nil, "sizing problems by name; default all that are shipped")
	f.IntVar(&o.sizing, "sizing", 2000, "limit of designs analysed on the sizing problems; 0 leaves them out")
	f.IntVar(&o.workers, "workers", 0, "goroutines that evaluate; 0 is one a processor; the figures are the same")
	f.BoolVar(&o.ablation, "ablation", false, "repeat with one part of the search off at a time")
	f.BoolVar(&o.compare, "compare", false, "repeat the sizing problems and the sheds with eaopt's own single-objective model")
	f.BoolVar(&o.json, "json", false, "print the figures as JSON")
	f.StringVar(&o.record, "record", "", "write the figures as tables into this Markdown file, with the options that gave them")
	f.StringVar(&o.out, "out", "", "write a picture of the fronts found into this folder: fronts.png, fronts.svg")
	return cmd
}

// benchSearchAnswer is what --json prints.
type benchSearchAnswer struct {
	Functions []suites.SearchRow `json:"functions"`
	Sizing    []sizing.Row       `json:"sizing"`
	Sheds     []suites.ShedRow   `json:"sheds"`
	Caution   string             `json:"caution"`
}

// benchSearch measures and prints.
func benchSearch(ctx context.Context, s streams, o benchSearchOptions) error {
	functions, err := o.chosen()
	if err != nil {
		return badInput(err)
	}
	a := benchSearchAnswer{Functions: []suites.SearchRow{}, Sizing: []sizing.Row{}, Sheds: []suites.ShedRow{}, Caution: solver.Caution}
	if len(functions) > 0 {
		if a.Functions, err = o.measureFunctions(ctx, functions); err != nil {
			return err
		}
	}
	if o.out != "" {
		if err := errors.Join(os.MkdirAll(o.out, 0o755), charts.WriteFronts(a.Functions, functions, o.out)); err != nil {
			return badInput(err)
		}
	}
	if o.sizing > 0 {
		if a.Sizing, err = o.measureSizing(ctx); err != nil {
			return err
		}
	}
	if len(o.sheds) > 0 {
		if a.Sheds, err = o.measureSheds(ctx, s.err); err != nil {
			return err
		}
	}
	if o.record != "" {
		if err := os.WriteFile(o.record, []byte(o.markdown(a)), 0o644); err != nil {
			return badInput(err)
		}
	}
	if o.json {
		e := json.NewEncoder(s.out)
		e.SetIndent("", "  ")
		return e.Encode(a)
	}
	return printBenchSearch(s.out, a)
}

// chosen checks the options and returns the functions asked for.
func (o benchSearchOptions) chosen() ([]suites.Function, error) {
	if o.seeds < 1 || o.sizing < 0 || o.workers < 0 || o.population < 4 || len(o.evaluations) == 0 {
		return nil, errors.New("--seeds is at least 1, --population at least 4, --sizing and --workers at least 0, and --evaluations has at least one number")
	}
	last := o.population - 1
	for _, n := range o.evaluations {
		if n <= last {
			return nil, fmt.Errorf("--evaluations %v: give rising numbers, the first no less than the population, %d", o.evaluations, o.population)
		}
		last = n
	}
	if err := o.checkProblems(); err != nil {
		return nil, err
	}
	for _, name := range o.sheds {
		if !slices.Contains(speed.ExampleNames, name) {
			return nil, fmt.Errorf("--sheds: there is no %q; choose from %v", name, speed.ExampleNames)
		}
	}
	if len(o.sheds) > 0 && o.shedLimit < leastShed {
		return nil, fmt.Errorf("--shed-evaluations %d: give at least %d", o.shedLimit, leastShed)
	}
	all := suites.Functions()
	if len(o.functions) == 0 {
		return all, nil
	}
	if len(o.functions) == 1 && o.functions[0] == "none" {
		return nil, nil
	}
	var out []suites.Function
	for _, name := range o.functions {
		n := len(out)
		for _, f := range all {
			if strings.EqualFold(f.Name, name) {
				out = append(out, f)
			}
		}
		if len(out) == n {
			return nil, fmt.Errorf("--functions: there is no %q; choose from ZDT1, ZDT2, ZDT3, ZDT4, ZDT6, DTLZ2, or none", name)
		}
	}
	return out, nil
}

// measureFunctions runs the functions with every method asked for.
func (o benchSearchOptions) measureFunctions(ctx context.Context, functions []suites.Function) ([]suites.SearchRow, error) {
	parts := suites.Parts()
	if !o.ablation {
		parts = parts[:1]
	}
	var out []suites.SearchRow
	for _, f := range functions {
		for _, p := range parts {
			b := suites.SearchBench{Functions: []suites.Function{f}, Evaluations: o.evaluations, Seeds: o.seeds, Population: o.population, Workers: o.workers, Part: p}
			rows, err := b.Run(ctx)
			if err != nil {
				return nil, err
			}
			out = append(out, rows...)
		}
	}
	return out, nil
}

// leastShed is the least number of evaluations with which a search of a shed says anything; shedPopulation is that of
// optimise.
const (
	leastShed      = 20
	shedPopulation = 40
)

// measureSheds searches the sheds asked for, with one part off at a time where that was asked.
func (o benchSearchOptions) measureSheds(ctx context.Context, progress io.Writer) ([]suites.ShedRow, error) {
	b := suites.ShedBench{Briefs: o.sheds, Parts: suites.ShedParts(), Seeds: o.seeds, Evaluations: o.shedLimit, Population: shedPopulation, Workers: o.workers, Plain: o.compare}
	if !o.ablation {
		b.Parts = b.Parts[:1]
	}
	if b.Workers == 0 {
		b.Workers = runtime.GOMAXPROCS(0)
	}
	b.Watch = func(brief, search string, seed int) {
		fmt.Fprintf(progress, "%s, %s: seed %d\n", brief, search, seed)
	}
	return b.Run(ctx)
}

// checkProblems refuses a name that no shipped problem has.
func (o benchSearchOptions) checkProblems() error {
	names, _ := sizing.Shipped()
	for _, p := range o.problems {
		if !slices.Contains(names, p+".json") {
			return fmt.Errorf("--problems: there is no %q; choose from %s", p, strings.ReplaceAll(strings.Join(names, ", "), ".json", ""))
		}
	}
	return nil
}

// measureSizing runs every shipped problem with every method asked for.
func (o benchSearchOptions) measureSizing(ctx context.Context) ([]sizing.Row, error) {
	methods := sizing.Parts()
	if !o.ablation {
		methods = methods[:1]
	}
	if o.compare {
		methods = append(methods, sizing.PlainMethod())
	}
	var out []sizing.Row
	names, texts := sizing.Shipped()
	for i, name := range names {
		if len(o.problems) > 0 && !slices.Contains(o.problems, strings.TrimSuffix(name, ".json")) {
			continue
		}
		for _, m := range methods {
			row, err := sizing.Measure(ctx, name, texts[i], m, o.seeds, o.sizing, o.workers)
			if err != nil {
				return nil, err
			}
			out = append(out, row)
		}
	}
	return out, nil
}

func printBenchSearch(out io.Writer, a benchSearchAnswer) error {
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', tabwriter.AlignRight)
	if len(a.Functions) > 0 {
		fmt.Fprintf(out, "Hypervolume, reference point %g: least, median and greatest over the seeds\n", suites.Reference)
		fmt.Fprintln(w, "function\tmethod\tevaluations\tpopulation\t\t\tall found\t\t\ttrue front\t")
		for _, r := range a.Functions {
			p, f := r.Population, r.Archive
			fmt.Fprintf(w, "%s\t%s\t%d\t%.4f\t%.4f\t%.4f\t%.4f\t%.4f\t%.4f\t%.4f\t\n", r.Function, r.Method, r.Evaluations, p.Least, p.Median, p.Greatest, f.Least, f.Median, f.Greatest, r.True)
		}
		if err := w.Flush(); err != nil {
			return err
		}
		fmt.Fprintln(out)
	}
	if len(a.Sizing) > 0 {
		fmt.Fprintln(out, "Discrete sizing: runs that found the published best; mass found and designs analysed up to it, least, median and greatest")
		fmt.Fprintln(w, "problem\tmethod\tpublished\tlimit\thits\tmass\t\t\tto best\t\t\t")
		for _, r := range a.Sizing {
			mass, to := r.Masses()
			m, e := suites.SpreadOf(mass), suites.SpreadOf(to)
			fmt.Fprintf(w, "%s\t%s\t%.2f\t%d\t%d of %d\t%.2f\t%.2f\t%.2f\t%.0f\t%.0f\t%.0f\t\n",
				r.Problem, r.Method, r.Published, r.Limit, r.Hits(), len(r.Runs), m.Least, m.Median, m.Greatest, e.Least, e.Median, e.Greatest)
		}
		if err := w.Flush(); err != nil {
			return err
		}
		fmt.Fprintln(out)
	}
	if len(a.Sheds) > 0 {
		fmt.Fprintln(out, "Sheds: lightest design that complies, evaluations up to it, hypervolume of mass against utilisation: least, median and greatest")
		fmt.Fprintln(w, "brief\tmethod\tfound\tlightest kg\t\t\tafter\t\t\thypervolume\t\t\t")
		for _, r := range a.Sheds {
			fmt.Fprintf(w, "%s\t%s\t%d of %d\t%s\t\n", r.Brief, r.Search(), r.Found, r.Seeds, strings.Join(shedFigures(r), "\t"))
		}
		if err := w.Flush(); err != nil {
			return err
		}
		fmt.Fprintln(out)
	}
	_, err := fmt.Fprintln(out, a.Caution)
	return err
}

// shedFigures are the spreads of a row, least, median and greatest of each: mass, evaluations, hypervolume; dashes where there are none.
func shedFigures(r suites.ShedRow) []string {
	var out []string
	for i, of := range []suites.Spread{r.Lightest, r.After, r.Volume} {
		for _, v := range []float64{of.Least, of.Median, of.Greatest} {
			text := fmt.Sprintf([]string{"%.1f", "%.0f", "%.1f"}[i], v)
			if r.Found == 0 || i == 2 && r.Method != "" {
				text = "-"
			}
			out = append(out, text)
		}
	}
	return out
}
