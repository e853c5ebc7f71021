package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
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
			"The output folder gets run.db (the run, which a second call continues), front.json, and the pictures front, compare and explain as png and svg; with other\n" +
			"objectives than mass and compliance a picture of those too. Costs go by the brief's price list, or by an example list that is marked with a star.\n" +
			"With --prove every variant of a small space is then looked at or excluded by bounds, and the front is proven; of a larger space a lower bound is shown.\n" +
			"Ctrl-C ends the search, or the proof, and keeps what was found.\n\n" + solver.Caution,
		Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			o.brief = args[0]
			if n := o.settings.Evaluations; n > 0 && !c.Flags().Changed("strengthen") {
				o.settings.Strengthen = min(o.settings.Strengthen, n/2)
			}
			return optimise(c.Context(), s, o)
		},
	}
	f := c.Flags()
	f.StringVar(&o.out, "out", "", "output folder (default out/NAME of the brief)")
	f.Uint64Var(&o.settings.Seed, "seed", 1, "seed of the search: the same seed, brief and program give the same result")
	f.IntVar(&o.settings.Generations, "generations", 60, "most generations")
	f.IntVar(&o.settings.Population, "population", 40, "variants in each of two populations")
	f.IntVar(&o.settings.Evaluations, "evaluations", 0, "most distinct variants evaluated; 0 is no limit")
	f.IntVar(&o.settings.Stagnation, "stagnation", 10, "generations without progress after which a settled search ends; 0 never")
	f.IntVar(&o.settings.Strengthen, "strengthen", shedspace.MendFirst, "designs judged first, in mending the drawing step by step, for the search to start from; part of --evaluations (at most half of them, unless given); 0 starts from the drawing")
	f.Float64Var(&o.settings.Closing, "closing", 0.2, "share of the search's work that may be spent, after it has stopped by generations or stagnation, on looking around the front until it is locally optimal, the named points first; 0 is none. It comes on top of --time")
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
	if !(o.settings.Closing >= 0) || math.IsInf(o.settings.Closing, 0) {
		return badInput(fmt.Errorf("--closing %v: give a share from 0, such as 0.2", o.settings.Closing))
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
	o.settings.Watch, o.settings.Mending, o.settings.Told = show.proof, show.mending, show.front
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
	if err := charts.WriteObjectives(front, o.out); err != nil {
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
	pictures := "front, compare and explain"
	if len(front.Further()) > 0 {
		pictures = "front, objectives, compare and explain"
	}
	fmt.Fprintf(s.out, "\n%s\nWritten to %s: %s, %s, %s as png and svg\n", solver.Caution, o.out, runs.RunFile, runs.FrontFile, pictures)
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
	mu       sync.Mutex // of front
	w        io.Writer
	terminal bool
	began    time.Time
	last     time.Time
	first    int    // evaluations at the first generation seen: a resumed run starts with some
	seen     bool   // something was shown
	counted  bool   // first is set
	complied bool   // mending has told of a design that complies
	ranks    string // the first objective
}

func newProgress(w io.Writer, ranks string) *progress {
	f, ok := w.(*os.File)
	return &progress{w: w, terminal: ok && term.IsTerminal(int(f.Fd())), began: time.Now(), ranks: ranks}
}

// plainEvery is the least time between plain lines.
const plainEvery = 2 * time.Second

func (p *progress) generation(st optimize.State) {
	first := !p.counted
	if first {
		p.seen, p.counted, p.first = true, true, st.Evaluations-len(st.Fresh)
	}
	if !p.terminal && !first && time.Since(p.last) < plainEvery && st.Reason == optimize.Running {
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
	line := fmt.Sprintf("generation %3d  %6d evaluated  %6d in part  %6.1f/s  %s  front %d  hypervolume %.4g", st.Generation, st.Evaluations, st.Tiers.Screened, rate, lightest, len(st.Front), st.Hypervolume)
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

// mending tells how far the mending of the drawing is, before the first generation: at once when something complies.
func (p *progress) mending(m shedspace.Mended) {
	first := m.Complies && !p.complied
	p.complied = m.Complies
	if !p.terminal && time.Since(p.last) < plainEvery && !first {
		return
	}
	p.last, p.seen = time.Now(), true
	lightest := "none complies yet"
	if m.Complies {
		lightest = fmt.Sprintf("lightest that complies %.0f kg", m.Lightest)
	}
	line := fmt.Sprintf("mending the drawing: %d designs judged  %s", m.Judged, lightest)
	if p.terminal {
		line = "\r\x1b[K" + line
	} else {
		line += "\n"
	}
	fmt.Fprint(p.w, line)
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

// front tells how far the final front is confirmed, or judged again. Several workers call it at once.
func (p *progress) front(what string, done, of int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if !p.terminal && done < of && time.Since(p.last) < plainEvery {
		return
	}
	p.last = time.Now()
	p.step(fmt.Sprintf("front: %d of %d variants %s", done, of, what))
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
