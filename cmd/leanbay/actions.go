package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"leanbay/model/actions"
	"leanbay/model/actions/asnzs1170"
	"leanbay/model/brief"
	"leanbay/model/coefficients"
	"leanbay/model/shed"
	"leanbay/plots/drawings"
	"leanbay/solver"
)

// actionsOptions are what the user asks: a brief or a case, and the forms of the answer.
type actionsOptions struct {
	brief, caseFile, svg, overrides string
	coefficients, json              bool
}

// newActions builds `leanbay actions`.
func newActions(s streams) *cobra.Command {
	var o actionsOptions
	cmd := &cobra.Command{
		Use:   "actions [BRIEF]",
		Short: "Work out what acts on a shed: wind, imposed, snow, earthquake, and their combinations",
		Long: "Work out what acts on a shed to the AS/NZS 1170 series, clause by clause, with the certainty of each coefficient; the cases,\n" +
			"the combinations with their reasons, and the pressures that each door and window must resist. --svg draws them.\n" +
			"With --case, answer one clause's case from a JSON file instead.\n\nNot covered:\n  " +
			strings.Join(asnzs1170.New(nil, asnzs1170.Options{}).NotCovered(), "\n  ") + "\n\n" + solver.Caution,
		Example: "  leanbay actions packhouse.yaml\n" +
			"  leanbay actions --coefficients\n" +
			"  leanbay actions packhouse.yaml --svg out --overrides certifier.yaml\n" +
			"  leanbay actions --case shielding.json --json",
		Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 1 {
				o.brief = args[0]
			}
			if o.coefficients {
				return listCoefficients(s.out, o)
			}
			if (o.brief == "") == (o.caseFile == "") {
				return badInput(errors.New("give a brief, or a case by --case; see 'leanbay actions --help'"))
			}
			if o.caseFile != "" {
				return actionsCase(s.out, o)
			}
			return actionsBrief(s, o)
		},
	}
	f := cmd.Flags()
	f.StringVar(&o.caseFile, "case", "", "JSON file with one clause's case: type and inputs")
	f.StringVar(&o.svg, "svg", "", "folder for drawings of the pressures, one a wind direction")
	f.StringVar(&o.overrides, "overrides", "", "certifier's coefficients (YAML); default those that the brief names")
	f.BoolVar(&o.coefficients, "coefficients", false, "list every coefficient of actions and checks by name, with value, certainty and clause")
	f.BoolVar(&o.json, "json", false, "print JSON")
	return cmd
}

// readOverrides reads the actions' part of the flag's file, or else of what the brief brings (nil for none).
func readOverrides(o actionsOptions, b *brief.Brief) (*asnzs1170.Overrides, error) {
	set, err := readCoefficients(o.overrides, b)
	if err != nil {
		return nil, err
	}
	return set.Actions, nil
}

// readCoefficients reads the certifier's coefficients from a file, or else what the brief brings.
func readCoefficients(file string, b *brief.Brief) (*coefficients.Set, error) {
	switch {
	case file != "":
		content, err := os.ReadFile(file)
		if err != nil {
			return nil, fmt.Errorf("cannot read the overrides: %w", err)
		}
		return coefficients.Read(file, content)
	case b != nil:
		return coefficients.Read(b.Files.Overrides, b.Overrides())
	}
	return coefficients.Standard(), nil
}

// noteOwn names the certifier's own coefficients at the head of what is printed. A file that cannot be read is named by
// what reads it next.
func noteOwn(w io.Writer, b *brief.Brief) {
	if set, err := readCoefficients("", b); err == nil && set.Digest() != "" {
		fmt.Fprintf(w, "With the certifier's own coefficients of %s, sha256 %s\n\n", b.Files.Overrides, set.Digest())
	}
}

// listCoefficients prints what an override file can set.
func listCoefficients(out io.Writer, o actionsOptions) error {
	set, err := readCoefficients(o.overrides, nil)
	if err != nil {
		return badInput(err)
	}
	list := asnzs1170.NewTable(set.Actions).Coefficients()
	for _, r := range set.Rows() {
		list = append(list, asnzs1170.Coefficient{Name: r.Name, Value: r.Value, Clause: r.Clause, Mark: asnzs1170.Mark(r.Mark)})
	}
	if o.json {
		var all []asnzs1170.ReportedCoeff
		for _, c := range list {
			all = append(all, asnzs1170.ReportedCoeff(c))
		}
		return printJSON(out, map[string]any{"caution": solver.Caution, "coefficients": all})
	}
	fmt.Fprintln(out, solver.Caution)
	fmt.Fprintln(out, "Set any of these by name in a file for --overrides, one a line:\n  wall.windward: {value: 0.8, reason: \"read from the printed table\"}\n"+
		"Certainty: V current edition, V-old earlier edition, V40 draft notes on the current edition, M memory, M? doubtful, own: the tool's own choice, given: yours; the checks' marks are in words, their strengths in Pa")
	for _, c := range list {
		fmt.Fprintf(out, "%-36s %-10.6g %-6s %s\n", c.Name, c.Value, c.Mark, c.Clause)
	}
	return nil
}

// actionsCase answers one clause's case.
func actionsCase(out io.Writer, o actionsOptions) error {
	content, err := os.ReadFile(o.caseFile)
	if err != nil {
		return badInput(fmt.Errorf("cannot read the case: %w", err))
	}
	over, err := readOverrides(o, nil)
	if err != nil {
		return badInput(err)
	}
	w := &actions.Working{}
	answer, err := asnzs1170.AnswerCase(asnzs1170.NewTable(over), w, content)
	if err != nil {
		return badInput(fmt.Errorf("%s: %w", o.caseFile, err))
	}
	answer["caution"] = solver.Caution
	if over != nil {
		answer["overrides_sha256"] = over.Hash
	}
	if o.json {
		return printJSON(out, answer)
	}
	for _, line := range asnzs1170.Lines(answer) {
		fmt.Fprintln(out, line)
	}
	if len(w.Steps) > 0 {
		fmt.Fprintln(out, "\nWorking")
	}
	for _, st := range w.Steps {
		printStep(out, asnzs1170.ReportedStep{Symbol: st.Symbol, Value: st.Value, Unit: st.Unit, Formula: st.Formula, Numbers: st.Numbers, Clause: st.Clause, Mark: st.Mark})
	}
	return nil
}

func printJSON(out io.Writer, v any) error {
	e := json.NewEncoder(out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

// actionsBrief reports the actions on a brief's shed.
func actionsBrief(s streams, o actionsOptions) error {
	b, err := brief.ReadFile(o.brief)
	if err != nil {
		return badInput(err)
	}
	building, site, err := shed.Building(b)
	if err != nil {
		return badInput(err)
	}
	over, err := readOverrides(o, b)
	if err != nil {
		return badInput(err)
	}
	pack := asnzs1170.New(over, asnzs1170.Options{CombinationFactor: b.Actions.CombinationFactor})
	r, err := pack.Report(building, site)
	if err != nil {
		return badInput(fmt.Errorf("%s: %w", o.brief, err))
	}
	sums, err := shed.Combine(b, r.Source, r.Sums)
	if err != nil {
		return badInput(err)
	}
	r.Recombine(building, sums)
	if o.svg != "" {
		if err := drawPressures(s.err, o.svg, b.Name, building, site, r); err != nil {
			return badInput(err)
		}
	}
	if o.json {
		return printJSON(s.out, r)
	}
	printActions(s.out, b.Name, r)
	return nil
}

// drawPressures writes one sheet a direction: the case that lifts most beside the one that presses most.
func drawPressures(log io.Writer, dir, name string, b *actions.Building, site *actions.Site, r *asnzs1170.Report) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("cannot make the folder of drawings: %w", err)
	}
	var sheets []drawings.PressureSheet
	var all []*actions.Case
	for i := range r.Directions {
		cases := r.Extremes(i)
		all = append(all, cases...)
		sheets = append(sheets, drawings.PressureSheet{Title: fmt.Sprintf("%s: ultimate wind from the %s", name, r.Directions[i].Name()),
			Building: b, BearingX: site.BearingX, Cases: cases})
	}
	limit := drawings.LargestPressure(all) // one scale for all sheets
	for i, sheet := range sheets {
		sheet.Limit = limit
		path := filepath.Join(dir, "wind-"+r.Directions[i].Name()+".svg")
		f, err := os.Create(path)
		if err != nil {
			return fmt.Errorf("cannot write the drawing: %w", err)
		}
		if err := errors.Join(drawings.Pressures(f, sheet), f.Close()); err != nil {
			return fmt.Errorf("cannot write %s: %w", path, err)
		}
		fmt.Fprintln(log, "wrote", path)
	}
	return nil
}

// printActions prints the report in reading order.
func printActions(out io.Writer, name string, r *asnzs1170.Report) {
	fmt.Fprintf(out, "Actions on %s to %s\n%s\n", name, r.Pack, r.Caution)
	printOverrides(out, r)
	part := ""
	for _, st := range r.Working {
		if st.Part != part {
			part = st.Part
			fmt.Fprintf(out, "\n%s\n", part)
		}
		printStep(out, st)
	}
	fmt.Fprintln(out, "\nDoors and windows: strength pressures when shut, kPa (inwards, outwards)")
	for _, d := range r.Schedule {
		fmt.Fprintf(out, "  %-28s %-11s %6.2f m²  %+6.2f  %+6.2f  %s: %s\n", d.Name, d.Wall, d.Area, d.In, d.Out, d.State, d.RestsOn)
		if d.LockPull > 0 {
			fmt.Fprintf(out, "  %-28s wind locks pull each jamb with %.2f kN/m\n", "", d.LockPull)
		}
	}
	fmt.Fprintln(out, "\nLocal zones of cladding, purlins and girts: strength pressures, kPa (inwards, outwards), Ka = 1")
	for _, z := range r.LocalZones {
		size := ""
		if z.Area > 0 {
			size = fmt.Sprintf(" of up to %.2f m²", z.Area)
		}
		fmt.Fprintf(out, "  %-4s Kl %.1f  %+6.2f  %+6.2f  %s%s\n", z.Name, z.Kl, z.In, z.Out, z.Where, size)
	}
	fmt.Fprintln(out, "\nCases: whole force of patches and floors along X, Y, Z, kN (the steel's own weight comes with the model)")
	for _, c := range r.Cases {
		fmt.Fprintf(out, "  %-26s %9.2f %9.2f %9.2f  %s\n", c.ID, c.Force[0], c.Force[1], c.Force[2], c.Title)
	}
	fmt.Fprintln(out, "\nCombinations")
	for _, c := range r.Combinations {
		fmt.Fprintf(out, "  %-9s  %s\n             %s\n             %s\n", c.State, c.ID, c.TermText(), c.Reason)
	}
	printList(out, "Left out", r.LeftOut)
	fmt.Fprintln(out, "\nCoefficients from memory or doubtful: confirm against the standard")
	for _, c := range r.Confirm {
		fmt.Fprintf(out, "  %-38s %-9.5g %-2s  %s\n", c.Name, c.Value, c.Mark, c.Clause)
	}
	printList(out, "Not covered", r.NotCovered)
}

func printOverrides(out io.Writer, r *asnzs1170.Report) {
	if r.OverridesSHA == "" {
		return
	}
	fmt.Fprintf(out, "\nCertifier's coefficients, sha256 %s\n", r.OverridesSHA)
	for _, o := range r.Overrides {
		unused := ""
		if !o.Used {
			unused = " (this shed does not use it)"
		}
		fmt.Fprintf(out, "  %s = %g: %s%s\n", o.Name, o.Value, o.Reason, unused)
	}
}

func printList(out io.Writer, title string, list []string) {
	fmt.Fprintf(out, "\n%s\n", title)
	for _, l := range list {
		fmt.Fprintf(out, "  %s\n", l)
	}
}

// printStep prints one line of working.
func printStep(out io.Writer, st asnzs1170.ReportedStep) {
	line := fmt.Sprintf("  %-10s = %9.4g %-4s %s", st.Symbol, st.Value, st.Unit, st.Formula)
	if st.Numbers != "" {
		line += "; " + st.Numbers
	}
	if st.Clause != "" {
		line += "  [" + st.Clause + "; " + st.Mark + "]"
	}
	fmt.Fprintln(out, line)
}
