package main

import (
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"leanbay/catalog"
	"leanbay/solver"
	"leanbay/solver/checks"
	"leanbay/solver/checks/as4100"
)

// capacityOptions are what the user asks: a section, a grade, lengths in m, actions in kN and kN·m.
type capacityOptions struct {
	section, grade string
	lengthX        float64
	lengthY        float64
	length         float64
	alphaM         float64
	n, mx, my      float64
	combined       bool
	json           bool
}

// newCapacity builds `leanbay capacity`.
func newCapacity(s streams) *cobra.Command {
	var o capacityOptions
	cmd := &cobra.Command{
		Use:   "capacity SECTION",
		Short: "Work out what one section can carry to AS 4100, clause by clause",
		Long: "Work out what one section can carry to AS 4100: bending, shear, compression, tension, torsion of closed sections and,\n" +
			"where actions are given, the combined checks. Capacities include the capacity factor. The working is printed clause by\n" +
			"clause with the certainty of each coefficient; --json prints the figures alone.\n\nNot covered:\n  " +
			strings.Join(as4100.NotCovered(), "\n  ") + "\n\n" + solver.Caution,
		Example: "  leanbay capacity 200x100x5.0RHS --grade C350L0 --length-x 4 --length-y 2 --length 2\n" +
			"  leanbay capacity 310UB40.4 --length 3 --alpha-m 1.13 --n 80 --mx 60 --json",
		Args: cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			o.section = strings.Join(args, " ")
			o.combined = cmd.Flags().Changed("n") || cmd.Flags().Changed("mx") || cmd.Flags().Changed("my")
			return capacity(s.out, o)
		},
	}
	f := cmd.Flags()
	f.StringVar(&o.grade, "grade", "", "steel grade; default the section's first")
	f.Float64Var(&o.lengthX, "length-x", 0, "effective length for compression about x, m; 0 is the section alone")
	f.Float64Var(&o.lengthY, "length-y", 0, "effective length for compression about y, m")
	f.Float64Var(&o.length, "length", 0, "effective length for lateral buckling in bending, m")
	f.Float64Var(&o.alphaM, "alpha-m", 1, "moment modification factor")
	f.Float64Var(&o.n, "n", 0, "design axial force, kN, compression positive")
	f.Float64Var(&o.mx, "mx", 0, "design moment about x, kN·m")
	f.Float64Var(&o.my, "my", 0, "design moment about y, kN·m")
	f.BoolVar(&o.json, "json", false, "print the figures as JSON")
	return cmd
}

// kilo turns the trade's kN and kN·m into N and N·m.
const kilo = 1e3

// capacity answers o on out.
func capacity(out io.Writer, o capacityOptions) error {
	sec, err := catalog.Find(o.section)
	if err != nil {
		return badInput(err)
	}
	grade, err := sec.Grade(o.grade)
	if err != nil {
		return badInput(err)
	}
	w := &checks.Working{}
	if o.json {
		w = nil
	}
	answer, err := as4100.Ask(sec, grade, as4100.Query{
		LengthX: o.lengthX, LengthY: o.lengthY, Length: o.length, AlphaM: o.alphaM,
		Actions: as4100.Actions{N: kilo * o.n, Mx: kilo * o.mx, My: kilo * o.my}, Combined: o.combined,
	}, w)
	if err != nil {
		return badInput(err)
	}
	if o.json {
		e := json.NewEncoder(out)
		e.SetEscapeHTML(false)
		e.SetIndent("", "  ")
		return e.Encode(answer)
	}
	return printCapacity(out, answer, w)
}

// printCapacity prints the working and a summary to be read by hand.
func printCapacity(out io.Writer, a as4100.Answer, w *checks.Working) error {
	p := a.Properties
	fmt.Fprintf(out, "%s, grade %s: fy %g, fu %g MPa\n", a.Section, a.Grade, a.Fy, a.Fu)
	if a.FyWeb != nil {
		fmt.Fprintf(out, "  web: fy %g MPa\n", *a.FyWeb)
	}
	fmt.Fprintf(out, "  mass %s kg/m, Ag %s mm², Ix %s, Iy %s mm⁴, Zx %s, Zy %s mm³, rx %s, ry %s mm\n", checks.Figure(p.Mass), checks.Figure(p.Ag),
		checks.Figure(p.Ix), checks.Figure(p.Iy), checks.Figure(p.Zx), checks.Figure(p.Zy), checks.Figure(p.Rx), checks.Figure(p.Ry))
	if err := w.WriteText(out); err != nil {
		return err
	}
	fmt.Fprintf(out, "\nDesign capacities (phi included)\n")
	for _, row := range []struct {
		name  string
		value *float64
		unit  string
	}{
		{"phi Nt", a.PhiNt, "kN"}, {"phi Nt, connected on one side", a.PhiNtEnd, "kN"}, {"phi Ns", a.PhiNs, "kN"}, {"phi Ncx", a.PhiNcx, "kN"},
		{"phi Ncy", a.PhiNcy, "kN"}, {"phi Ncz, flexural-torsional", a.PhiNcz, "kN"}, {"phi Nc, by one leg", a.PhiNcLeg, "kN"}, {"phi Msx", a.PhiMsx, "kN·m"}, {"phi Msy", a.PhiMsy, "kN·m"},
		{"  toes in compression", a.PhiMsyToes, "kN·m"}, {"  web or heel in compression", a.PhiMsyWeb, "kN·m"},
		{"phi Mbx", a.PhiMbx, "kN·m"}, {"phi Vvx", a.PhiVvx, "kN"}, {"phi Vvy", a.PhiVvy, "kN"}, {"phi Mz", a.PhiMz, "kN·m"},
	} {
		if row.value != nil {
			fmt.Fprintf(out, "  %-30s %10s %s\n", row.name, checks.Figure(*row.value), row.unit)
		}
	}
	if a.Combined != nil {
		printCombined(out, a.Combined)
	}
	for _, o := range a.Outside {
		fmt.Fprintf(out, "Outside the rules: %s\n", o)
	}
	_, err := fmt.Fprintf(out, "\n%s\n", a.Caution)
	return err
}

// printCombined prints the combined checks, the code's own sum beside the radial utilisation.
func printCombined(out io.Writer, c *as4100.AnswerCombined) {
	fmt.Fprintf(out, "\nCombined checks                  the code's sum   utilisation (actions divided by it meet the limit)\n")
	figure := func(v *float64) string {
		if v == nil {
			return "exhausted"
		}
		return fmt.Sprintf("%.3f", *v)
	}
	for _, u := range c.Utilisations {
		fmt.Fprintf(out, "  %-30s %14s   %11s\n", strings.TrimSpace(u.Clause+" "+u.Form), figure(u.Value), figure(u.Radial))
	}
	fmt.Fprintf(out, "  governing: %s by %s\n", figure(c.Governing), c.GoverningClause)
}
