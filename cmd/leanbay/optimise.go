package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"leanbay/experiments/runs"
	"leanbay/model/brief"
	"leanbay/optimize"
	"leanbay/optimize/shedspace"
	"leanbay/plots/charts"
	"leanbay/solver"
)

// optimiseOptions are the flags of optimise.
type optimiseOptions struct {
	brief      string
	out        string
	settings   runs.Settings
	objectives string
}

// newOptimise builds the main command.
func newOptimise(s streams) *cobra.Command {
	var o optimiseOptions
	c := &cobra.Command{
		Use:   "optimise BRIEF",
		Short: "Search for lighter layouts of a shed that comply",
		Long: "optimise searches over sections, prop positions and bracing, and ends with a front of steel mass against compliance.\n" +
			"The output folder gets run.db (the run, which a second call continues), front.json, and the pictures front, compare and explain as png and svg.\n" +
			"With --prove every variant of a small space is then looked at or excluded by bounds, and the front is proven; of a larger space a lower bound is shown.\n" +
			"Ctrl-C ends the search, or the proof, and keeps what was found.\n\n" + solver.Caution,
		Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			o.brief = args[0]
			return optimise(c.Context(), s, o)
		},
	}
	f := c.Flags()
	f.StringVar(&o.out, "out", "", "output folder (default out/NAME of the brief)")
	f.Uint64Var(&o.settings.Seed, "seed", 1, "seed of the search: the same seed, brief and program give the same result")
	f.IntVar(&o.settings.Generations, "generations", 60, "most generations")
	f.IntVar(&o.settings.Population, "population", 40, "variants in each of two populations")
	f.IntVar(&o.settings.Evaluations, "evaluations", 0, "most distinct variants evaluated; 0 is no limit")
	f.IntVar(&o.settings.Stagnation, "stagnation", 15, "generations without progress after which a settled search ends; 0 never")
	f.IntVar(&o.settings.Workers, "workers", 0, "parallel evaluations; 0 is one per processor (it never changes the result)")
	f.DurationVar(&o.settings.Time, "time", 0, "most time for the search, such as 90s or 10m; 0 is no limit")
	f.BoolVar(&o.settings.Prove, "prove", false, "after the search, prove the front (spaces of up to two million points) or show a lower bound")
	f.StringVar(&o.settings.Review, "what-ifs", runs.ReviewNamed, "variants judged again under what-ifs, with their wind reserve: named (lightest, 5 % reserve, knee), all that comply, or none")
	f.StringVar(&o.objectives, "objectives", "", "two or three objectives, separated by commas, the one that ranks complying variants first (default those of the brief): "+strings.Join(shedspace.ObjectiveNames(), ", "))
	f.StringArrayVar(&o.settings.Limits, "limit", nil, "further hard limit on what could be an objective, such as departures=4, cost=40000 or compliance=0.95; may be repeated. What is an objective is no hard limit: beyond it variants are stepping stones that do not comply")
	return c
}

// optimise runs the search and writes its answer.
func optimise(ctx context.Context, s streams, o optimiseOptions) error {
	if o.settings.Time < 0 {
		return badInput(fmt.Errorf("--time %v: give a time above 0, or leave it out", o.settings.Time))
	}
	if !slices.Contains([]string{runs.ReviewNamed, runs.ReviewAll, runs.ReviewNone}, o.settings.Review) {
		return badInput(fmt.Errorf("--what-ifs %q: give %s, %s or %s", o.settings.Review, runs.ReviewNamed, runs.ReviewAll, runs.ReviewNone))
	}
	b, err := brief.ReadFile(o.brief)
	if err != nil {
		return badInput(err)
	}
	o.settings.Objectives = objectivesOf(b, o.objectives)
	noteOwn(s.out, b)
	if o.out == "" {
		o.out = filepath.Join("out", b.Name)
	}
	fmt.Fprintf(s.err, "%s: search with seed %d into %s (Ctrl-C keeps what is found)\n", b.Name, o.settings.Seed, o.out)
	show := newProgress(s.err, o.settings.Objectives[0])
	o.settings.Watch = show.proof
	front, err := runs.Optimise(ctx, b, o.out, o.settings, show.generation)
	show.end()
	switch {
	case errors.Is(err, context.Canceled):
		return &exitError{code: exitInput, err: errors.New("stopped before the first generation was complete; nothing was found yet")}
	case err != nil:
		return badInput(err)
	}
	if err := front.Write(o.out); err != nil {
		return err
	}
	if err := charts.WriteFront(front, o.out); err != nil {
		return err
	}
	if err := charts.WriteCompare(front, o.out); err != nil {
		return err
	}
	if err := charts.WriteExplain(front, o.out); err != nil {
		return err
	}
	printFront(s.out, front)
	printExplain(s.out, front)
	fmt.Fprintf(s.out, "\n%s\nWritten to %s: %s, %s, front, compare and explain as png and svg\n", solver.Caution, o.out, runs.RunFile, runs.FrontFile)
	return nil
}

// objectivesOf are the objectives of the flag, else of the brief.
func objectivesOf(b *brief.Brief, flag string) []string {
	if flag != "" {
		list := strings.Split(flag, ",")
		for i := range list {
			list[i] = strings.TrimSpace(list[i])
		}
		return list
	}
	var out []string
	for _, o := range b.Objectives.Use {
		out = append(out, string(o))
	}
	return out
}

// progress shows one line that renews itself on a terminal, plain lines elsewhere.
type progress struct {
	w        io.Writer
	terminal bool
	began    time.Time
	last     time.Time
	first    int // evaluations at the first generation seen: a resumed run starts with some
	seen     bool
	ranks    string // the first objective
}

func newProgress(w io.Writer, ranks string) *progress {
	f, ok := w.(*os.File)
	return &progress{w: w, terminal: ok && term.IsTerminal(int(f.Fd())), began: time.Now(), ranks: ranks}
}

// plainEvery is the least time between plain lines.
const plainEvery = 2 * time.Second

func (p *progress) generation(st optimize.State) {
	if !p.seen {
		p.seen, p.first = true, st.Evaluations-len(st.Fresh)
	}
	if !p.terminal && time.Since(p.last) < plainEvery && st.Reason == optimize.Running {
		return
	}
	p.last = time.Now()
	lightest := "none complies yet"
	if st.Lightest != nil {
		lightest = fmt.Sprintf("lightest %.0f kg", st.Lightest.Score.Objectives[0])
		if p.ranks != "mass" {
			lightest = fmt.Sprintf("best %s %.4g", p.ranks, st.Lightest.Score.Objectives[0])
		}
	}
	rate := float64(st.Evaluations-p.first) / time.Since(p.began).Seconds()
	line := fmt.Sprintf("generation %3d  %6d evaluated  %6.1f/s  %s  front %d  hypervolume %.4g", st.Generation, st.Evaluations, rate, lightest, len(st.Front), st.Hypervolume)
	if p.terminal {
		fmt.Fprintf(p.w, "\r\x1b[K%s", line)
		return
	}
	fmt.Fprintln(p.w, line)
}

// end leaves the line that renews itself.
func (p *progress) end() {
	if p.terminal && p.seen {
		fmt.Fprintln(p.w)
	}
}

// step tells what is being done.
func (p *progress) step(what string) {
	p.seen = true
	if p.terminal {
		fmt.Fprintf(p.w, "\r\x1b[K%s", what)
		return
	}
	fmt.Fprintln(p.w, what)
}

// proof tells how far a proof is.
func (p *progress) proof(decided, points float64) {
	if !p.terminal && time.Since(p.last) < plainEvery {
		return
	}
	p.last, p.seen = time.Now(), true
	line := fmt.Sprintf("proof: %.6g of %.6g points decided (%.0f %%)", decided, points, 100*decided/points)
	if p.terminal {
		line = "\r\x1b[K" + line
	} else {
		line += "\n"
	}
	fmt.Fprint(p.w, line)
}

// mostRows is the number of variants listed on the screen; the file has them all.
const mostRows = 24

// printFront shows the front as an engineer reads it: what was drawn, the named points, the list.
func printFront(w io.Writer, f *runs.Front) {
	fmt.Fprintf(w, "%s: %d variants on the front after %d evaluations in %d generations, seed %d\n",
		f.Brief, len(f.Variants), f.Evaluations, f.Generations, f.Seed)
	fmt.Fprintf(w, "The search ended: %s.\n", f.StoppedText)
	if f.Tiers != "" {
		fmt.Fprintln(w, f.Tiers)
	}
	if f.Proof != nil {
		fmt.Fprintln(w, f.Proof.Text)
	}
	fmt.Fprintln(w)
	fmt.Fprintf(w, "  as drawn           %7.0f kg  %s\n", f.Proposal.Mass, utilisationText(&f.Proposal))
	if f.Braced != nil {
		fmt.Fprintf(w, "  drawn and braced   %7.0f kg  %s\n", f.Braced.Mass, utilisationText(f.Braced))
	}
	if len(f.Points) == 0 {
		fmt.Fprintf(w, "\nNo compliant variant was found. Widen the freedoms, or search longer with --generations.\n")
	}
	for _, name := range []string{"lightest", "reserve_5", "knee"} {
		v := f.Variant(f.Points[name])
		if v == nil {
			continue
		}
		saved := ""
		if f.Braced != nil {
			saved = fmt.Sprintf("  %+.1f %% against drawn and braced", 100*(v.Mass/f.Braced.Mass-1))
		}
		fmt.Fprintf(w, "  %-18s %7.0f kg  %s%s\n", strings.ReplaceAll(name, "_5", " of 5 %"), v.Mass, utilisationText(&v.Scores), saved)
		if v.Review != nil {
			fmt.Fprintf(w, "  %-18s %10s  %s\n", "", "", v.Review.Text())
			if r := v.Review.WindReserve; r != nil {
				fmt.Fprintf(w, "  %-18s %10s  wind: %s\n", "", "", r.Text)
			}
		}
	}
	printVariants(w, f)
	if v := f.Variant(f.Points["lightest"]); v != nil {
		fmt.Fprintf(w, "\nThe lightest that complies:\n")
		for _, k := range slices.Sorted(maps.Keys(v.Design)) {
			fmt.Fprintf(w, "  %-18s %s\n", k, v.Design[k])
		}
		printYardsticks(w, v.Review)
	}
}

// printYardsticks measures a variant's bracing, where that was asked.
func printYardsticks(w io.Writer, r *runs.Review) {
	if r == nil || len(r.Bracing) == 0 {
		return
	}
	fmt.Fprintf(w, "\nIts bracing beside the least that any layout could need at full stress, buckling left out:\n")
	for _, y := range r.Bracing {
		printLines(w, y.Text)
	}
}

// printExplain says what the front has in common and what it trades.
func printExplain(w io.Writer, f *runs.Front) {
	if f.Explain == nil {
		return
	}
	fmt.Fprintln(w, "\nWhat the front says:")
	for _, t := range f.Explain.Text {
		fmt.Fprintf(w, "  - %s\n", t)
	}
}

// printVariants lists the front: what complies, then apart from it what nearly does.
func printVariants(w io.Writer, f *runs.Front) {
	var good, near []*runs.Variant
	reviewed := false
	for i := range f.Variants {
		v := &f.Variants[i]
		reviewed = reviewed || v.Review != nil
		if v.Complies {
			good = append(good, v)
		} else {
			near = append(near, v)
		}
	}
	if len(good) > 0 {
		variantRows(w, fmt.Sprintf("%d that comply", len(good)), good, mostRows, reviewed)
		if reviewed {
			printLines(w, runs.TagsText+" Reserve: the factor on the site wind speed up to which all passes.")
		}
	}
	if len(near) > 0 {
		variantRows(w, fmt.Sprintf("%d that do not comply, by up to a quarter", len(near)), near, mostRows/3, false)
	}
}

// variantRows lists variants, at most some of them.
func variantRows(w io.Writer, title string, list []*runs.Variant, most int, reviewed bool) {
	head := ""
	if reviewed {
		head = fmt.Sprintf("%-9s %7s  ", "what-ifs", "reserve")
	}
	fmt.Fprintf(w, "\n%s\n  %9s  %11s  %s%-34s %-26s %s\n", title, "mass kg", "utilisation", head, "governed by", "member", "combination")
	for i, v := range list {
		if i == most {
			fmt.Fprintf(w, "  … and %d more in %s\n", len(list)-most, runs.FrontFile)
			return
		}
		g := v.Governing
		if g == nil {
			g = &runs.Governing{}
		}
		cells := ""
		if reviewed {
			tags, reserve := "", ""
			if v.Review != nil {
				tags = v.Review.Tags()
				if r := v.Review.WindReserve; r != nil {
					reserve = fmt.Sprintf("%.2f", r.Factor)
				}
			}
			cells = fmt.Sprintf("%-9s %7s  ", tags, reserve)
		}
		fmt.Fprintf(w, "  %9.0f  %11.3f  %s%-34s %-26s %s\n", v.Mass, v.Utilisation, cells, g.Check+", "+g.Clause, g.Member, g.Combination)
	}
}

// printLines prints a paragraph in lines of a usual width.
func printLines(w io.Writer, text string) {
	line := " "
	for _, word := range strings.Fields(text) {
		if len(line)+1+len(word) > 120 {
			fmt.Fprintln(w, line)
			line = " "
		}
		line += " " + word
	}
	fmt.Fprintln(w, line)
}

// utilisationText says how a design fares.
func utilisationText(s *runs.Scores) string {
	if s.Complies {
		return fmt.Sprintf("utilisation %.3f, complies", s.Utilisation)
	}
	if s.Governing == nil || s.LambdaC == 0 {
		return s.Verdict
	}
	return fmt.Sprintf("utilisation %.3f, %s", s.Utilisation, s.Verdict)
}
