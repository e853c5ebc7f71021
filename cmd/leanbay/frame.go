package main

import (
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"leanbay/experiments/frames"
	"leanbay/solver"
)

// frameOptions is what `leanbay frame` was asked.
type frameOptions struct {
	streams
	file string
	json bool
	ask  frames.Options
}

// newFrame builds `leanbay frame`.
func newFrame(s streams) *cobra.Command {
	o := frameOptions{streams: s}
	c := &cobra.Command{
		Use:   "frame FILE.json",
		Short: "Analyse a frame given in the neutral form",
		Long: "Analyse a frame given as JSON: nodes, supports, members, and load cases with the kind of analysis that each wants\n" +
			"(linear, second_order, tension_only, tension_only_second_order, buckling, mechanism). SI units in the file: N, m, Pa.\n" +
			"A FILE of - is standard input.\n\n" +
			"End forces are what a node exerts on a member's end, in the member's undeformed axes: a bar in tension has N below\n" +
			"zero at end i and above zero at end j. Diagrams show internal forces, tension positive.\n\n" +
			"Exit code 0: every case was analysed. 1: a case is unstable and was not asked as a mechanism. 2: the file is wrong.\n\n" + solver.Caution,
		Args: cobra.ExactArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			o.file = args[0]
			return analyseFrame(o)
		},
	}
	c.Flags().BoolVar(&o.json, "json", false, "print JSON, in SI units")
	c.Flags().IntVar(&o.ask.Modes, "modes", 4, "`number` of buckling factors a case")
	c.Flags().IntVar(&o.ask.Stations, "diagrams", 0, "print forces and deflections along members at this `number` of stations and at the extremes")
	return c
}

// analyseFrame reads the file, answers its cases and prints them.
func analyseFrame(o frameOptions) error {
	if o.ask.Modes < 1 || o.ask.Modes > 100 {
		return badInput(fmt.Errorf("--modes is %d; give 1 to 100", o.ask.Modes))
	}
	if o.ask.Stations != 0 && (o.ask.Stations < 2 || o.ask.Stations > 1000) {
		return badInput(fmt.Errorf("--diagrams is %d; give 2 to 1000 stations", o.ask.Stations))
	}
	data, err := readInput(o.in, o.file)
	if err != nil {
		return badInput(err)
	}
	f, err := frames.Read(o.file, data)
	if err != nil {
		return badInput(err)
	}
	for _, w := range f.Warnings {
		fmt.Fprintln(o.err, w)
	}
	a, err := frames.Analyse(f, o.ask)
	if err != nil {
		return badInput(fmt.Errorf("%s: %w", o.file, err))
	}
	if o.json {
		err = writeJSON(o.out, a)
	} else {
		_, err = io.WriteString(o.out, frameText(f, a))
	}
	if err != nil {
		return err
	}
	if !a.Stands() {
		return notComplying()
	}
	return nil
}

// readInput reads a file, or standard input for "-".
func readInput(in io.Reader, file string) ([]byte, error) {
	if file == "-" {
		return io.ReadAll(in)
	}
	return os.ReadFile(file)
}

// frameText writes the answer as an engineer reads it: kN, kN·m, mm, mrad.
func frameText(f *frames.File, a *frames.Answer) string {
	var b strings.Builder
	title := strings.TrimSpace(f.ID + "  " + f.Title)
	if title != "" {
		fmt.Fprintf(&b, "%s\n\n", title)
	}
	for i := range a.Cases {
		caseText(&b, f.Structure, &a.Cases[i])
	}
	fmt.Fprintf(&b, "%s\n", solver.Caution)
	return b.String()
}
