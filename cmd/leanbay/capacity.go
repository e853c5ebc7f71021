package main

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/spf13/cobra"

	"leanbay/catalog"
	"leanbay/solver"
	"leanbay/solver/checks"
	"leanbay/solver/checks/as4100"
	"leanbay/solver/checks/asnzs4600"
)

// capacityOptions are what the user asks: a section, a grade, lengths in m, actions in kN and kN·m, small sizes in mm.
type capacityOptions struct {
	section, grade   string
	lengthX          float64
	lengthY          float64
	length           float64
	alphaM           float64
	betaM            float64
	endM             bool // betaM is stated
	n, mx, my, v     float64
	combined         bool
	kt, netArea      float64
	bearing          float64
	endDistance      float64
	oneFlange        bool
	onWidth          bool
	overrides        string
	ply, plyFu, edge float64
	json             bool
}

// newCapacity builds `leanbay capacity`.
func newCapacity(s streams) *cobra.Command {
	var o capacityOptions
	cmd := &cobra.Command{
		Use:   "capacity SECTION",
		Short: "Work out what one section can carry to AS 4100 or AS/NZS 4600, clause by clause",
		Long: "Work out what one section can carry to AS 4100: bending, shear, bearing, compression, tension, torsion of closed sections and,\n" +
			"where actions are given, the combined checks. Lipped channels and zeds are worked to AS/NZS 4600 by the direct strength method.\n" +
			"M20 with --grade 8.8/S is a bolt, 6FW with --grade \"E49XX SP\" a fillet weld. Capacities include the capacity factor. The\n" +
			"working is printed clause by clause with the certainty of each coefficient; --json prints the figures alone.\n\nNot covered:\n  " +
			strings.Join(as4100.NotCovered(), "\n  ") + "\n  " + strings.Join(asnzs4600.NotCovered(), "\n  ") + "\n\n" + solver.Caution,
		Example: "  leanbay capacity 200x100x5.0RHS --grade C350L0 --length-x 4 --length-y 2 --length 2\n" +
			"  leanbay capacity 310UB40.4 --length 3 --alpha-m 1.13 --n 80 --mx 60 --json\n" +
			"  leanbay capacity 350x250x6.0RHS --bearing 100 --end-distance 400\n" +
			"  leanbay capacity C20019 --length-x 5 --length-y 1.7 --length 1.7\n" +
			"  leanbay capacity M20 --grade 8.8/S --ply 10 --ply-fu 410 --edge 35",
		Args: cobra.MinimumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			o.section = strings.Join(args, " ")
			f := cmd.Flags()
			o.combined = f.Changed("n") || f.Changed("mx") || f.Changed("my") || f.Changed("v")
			if o.endM = f.Changed("beta-m"); o.endM && !f.Changed("alpha-m") {
				o.alphaM = as4100.AlphaMLinear(o.betaM) // Table 5.6.1
			}
			if !f.Changed("end-distance") {
				o.endDistance = farFromEnd
			}
			return capacity(s.out, o)
		},
	}
	f := cmd.Flags()
	f.StringVar(&o.grade, "grade", "", "steel grade, default the section's first; of a bolt its category, of a weld its metal and quality")
	f.Float64Var(&o.lengthX, "length-x", 0, "effective length for compression about x, m; 0 is the section alone")
	f.Float64Var(&o.lengthY, "length-y", 0, "effective length for compression about y (and twist), m")
	f.Float64Var(&o.length, "length", 0, "effective length for lateral buckling in bending, m")
	f.Float64Var(&o.alphaM, "alpha-m", 1, "moment modification factor (cold-formed sections: Cb)")
	f.Float64Var(&o.betaM, "beta-m", -1, "ratio of end moments, positive in double curvature, where no load acts between the ends: sets alpha-m by Table 5.6.1 and opens the higher tiers of 8.4.2.2 and 8.4.4.1")
	f.Float64Var(&o.n, "n", 0, "design axial force, kN, compression positive")
	f.Float64Var(&o.mx, "mx", 0, "design moment about x, kN·m")
	f.Float64Var(&o.my, "my", 0, "design moment about y, kN·m")
	f.Float64Var(&o.v, "v", 0, "design shear with bending about x, kN, beside --mx (5.12.3)")
	f.Float64Var(&o.kt, "kt", 0, "correction factor of Table 7.3.2 for the tension capacity; default 1, with the factor for one side beside it")
	f.Float64Var(&o.netArea, "net-area", 0, "net area for the tension capacity, mm²; default the gross area")
	f.Float64Var(&o.bearing, "bearing", 0, "stiff bearing length along the member, mm: web bearing by 5.13, or web crippling of cold-formed sections")
	f.Float64Var(&o.endDistance, "end-distance", farFromEnd, "distance from the bearing to the member's end, mm; default far from it")
	f.BoolVar(&o.oneFlange, "one-flange", false, "only one flange is held sideways at the bearing (open webs)")
	f.BoolVar(&o.onWidth, "on-width", false, "the force acts along the width of a rectangular hollow section, in bending about y")
	f.Float64Var(&o.ply, "ply", 0, "thickness of the ply that a bolt bears on, mm")
	f.Float64Var(&o.plyFu, "ply-fu", 0, "tensile strength of that ply, MPa")
	f.Float64Var(&o.edge, "edge", 0, "ae of 9.2.2.4, from the hole's edge to the ply's plus half the bolt, mm; default far from an edge")
	f.StringVar(&o.overrides, "overrides", "", "certifier's own coefficients (YAML); their names: leanbay actions --coefficients")
	f.BoolVar(&o.json, "json", false, "print the figures as JSON")
	return cmd
}

// kilo turns the trade's kN and kN·m into N and N·m; farFromEnd is a distance in mm at which no end is near.
const (
	kilo       = 1e3
	farFromEnd = 1e6
)

// capacity answers o on out.
func capacity(out io.Writer, o capacityOptions) error {
	w := &checks.Working{}
	if o.json {
		w = nil
	}
	set, err := readCoefficients(o.overrides, nil)
	if err != nil {
		return badInput(err)
	}
	if d, ok := boltName(o.section); ok {
		return boltCapacity(out, o, d, set.Steel, w)
	}
	if leg, ok := filletName(o.section); ok {
		return weldCapacity(out, o, leg, set.Steel, w)
	}
	sec, err := catalog.Find(o.section)
	if err != nil {
		return badInput(err)
	}
	grade, err := sec.Grade(o.grade)
	if err != nil {
		return badInput(err)
	}
	if sec.Family == catalog.C || sec.Family == catalog.Z {
		return coldCapacity(out, o, sec, grade, set, w)
	}
	q := as4100.Query{
		LengthX: o.lengthX, LengthY: o.lengthY, Length: o.length, AlphaM: o.alphaM, Shear: kilo * o.v, Kt: o.kt, NetArea: o.netArea / 1e6,
		Actions: as4100.Actions{N: kilo * o.n, Mx: kilo * o.mx, My: kilo * o.my}, Combined: o.combined,
		Bearing: as4100.BearingLoad{Length: o.bearing / kilo, EndDistance: o.endDistance / kilo, OneFlange: o.oneFlange, OnWidth: o.onWidth},
	}
	if o.endM {
		q.EndM = &o.betaM
	}
	answer, err := set.Steel.Ask(sec, grade, q, w)
	if err != nil {
		return badInput(err)
	}
	answer.Overrides = set.Digest()
	if o.json {
		return writeIndented(out, answer)
	}
	return printCapacity(out, answer, w)
}

// writeIndented writes an answer as JSON.
func writeIndented(out io.Writer, answer any) error {
	e := json.NewEncoder(out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(answer)
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
	rows := []capacityRow{
		{"phi Nt", a.PhiNt, "kN"}, {"phi Nt, connected on one side", a.PhiNtEnd, "kN"}, {"phi Ns", a.PhiNs, "kN"}, {"phi Ncx", a.PhiNcx, "kN"},
		{"phi Ncy", a.PhiNcy, "kN"}, {"phi Ncz, flexural-torsional", a.PhiNcz, "kN"}, {"phi Nc, by one leg", a.PhiNcLeg, "kN"}, {"phi Msx", a.PhiMsx, "kN·m"}, {"phi Msy", a.PhiMsy, "kN·m"},
		{"  toes in compression", a.PhiMsyToes, "kN·m"}, {"  web or heel in compression", a.PhiMsyWeb, "kN·m"},
		{"phi Mbx", a.PhiMbx, "kN·m"}, {"phi Vvx", a.PhiVvx, "kN"}, {"phi Vvx beside the moment", a.PhiVvm, "kN"}, {"phi Vvy", a.PhiVvy, "kN"}, {"phi Mz", a.PhiMz, "kN·m"},
	}
	if b := a.Bearing; b != nil {
		rows = append(rows, capacityRow{"phi Rby, bearing yield", b.PhiRby, "kN"}, capacityRow{"phi Rbb, bearing buckling", b.PhiRbb, "kN"})
	}
	printCapacities(out, rows)
	if a.Combined != nil {
		printCombined(out, a.Combined)
	}
	for _, o := range a.Outside {
		fmt.Fprintf(out, "Outside the rules: %s\n", o)
	}
	if a.Overrides != "" {
		fmt.Fprintf(out, "The certifier's own coefficients: sha256 %s\n", a.Overrides)
	}
	_, err := fmt.Fprintf(out, "\n%s\n", a.Caution)
	return err
}

// capacityRow is one line of the summary; it is left out where the code defines no such capacity.
type capacityRow struct {
	name  string
	value *float64
	unit  string
}

func printCapacities(out io.Writer, rows []capacityRow) {
	fmt.Fprintf(out, "\nDesign capacities (phi included)\n")
	for _, r := range rows {
		if r.value != nil {
			fmt.Fprintf(out, "  %-30s %10s %s\n", r.name, checks.Figure(*r.value), r.unit)
		}
	}
}

// printCombined prints the combined checks, the code's own sum beside the radial utilisation.
func printCombined(out io.Writer, c *as4100.AnswerCombined) {
	fmt.Fprintf(out, "\nCombined checks                  the code's sum   utilisation (actions divided by it meet the limit)\n")
	for _, u := range c.Utilisations {
		fmt.Fprintf(out, "  %-30s %14s   %11s\n", strings.TrimSpace(u.Clause+" "+u.Form), orExhausted(u.Value), orExhausted(u.Radial))
	}
	fmt.Fprintf(out, "  governing: %s by %s\n", orExhausted(c.Governing), c.GoverningClause)
}

// orExhausted prints a ratio; there is none where the axial force alone is too much.
func orExhausted(v *float64) string {
	if v == nil || math.IsInf(*v, 0) {
		return "exhausted"
	}
	return fmt.Sprintf("%.3f", *v)
}
