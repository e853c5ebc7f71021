package main

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"

	"github.com/spf13/cobra"

	"leanbay/experiments/runs"
	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/optimize/shedspace"
	"leanbay/solver"
)

// assessOptions are the flags of assess.
type assessOptions struct {
	brief   string
	asJSON  bool
	member  string
	working bool
	braced  bool
	path    bool
	held    bool
	places  bool
	joint   string
	draw    string
	assumed bool
}

// newAssess builds the command that judges what was drawn.
func newAssess(s streams) *cobra.Command {
	var o assessOptions
	c := &cobra.Command{
		Use:   "assess BRIEF",
		Short: "Judge the proposal of a brief: is it stable, what fails, what is missing",
		Long: "assess judges what was drawn, and what was drawn with its missing links added. It exits with 1 when the proposal does not comply.\n\n" +
			solver.Caution,
		Args: cobra.ExactArgs(1),
		RunE: func(c *cobra.Command, args []string) error {
			o.brief = args[0]
			return assess(s, o)
		},
	}
	f := c.Flags()
	f.BoolVar(&o.asJSON, "json", false, "print the answer as JSON")
	f.StringVar(&o.member, "member", "", "one member's checks, by its id: rafter/3/A-ridge; or the governing purlin, girt or joist by that word")
	f.BoolVar(&o.working, "working", false, "with --member: the whole working under the governing combination")
	f.BoolVar(&o.braced, "braced", false, "with --member, --joint, --restraints or --load-path: of the proposal with its missing links added")
	f.BoolVar(&o.path, "load-path", false, "the force in each link from the gables to the feet, for the hardest push each way along the building")
	f.BoolVar(&o.held, "restraints", false, "the restraint map: where each flange of each member is held and by what, and the segments between")
	f.BoolVar(&o.places, "bracing", false, "which bracing each wall and gable can take, bay by bay, and what is in the way of the rest")
	f.StringVar(&o.joint, "joint", "", "one kind of joint with its extremes and working: \"eaves\", \"column base\"")
	f.BoolVar(&o.assumed, "assumptions", false, "which of the main assumptions decide: the design judged again with each taken otherwise")
	f.StringVar(&o.draw, "draw", "", "with --load-path: also draw it into this folder")
	return c
}

// assess prints the assessment of the proposal; exit code 1 says that it does not comply.
func assess(s streams, o assessOptions) error {
	b, err := brief.ReadFile(o.brief)
	if err != nil {
		return badInput(err)
	}
	if !o.asJSON {
		noteOwn(s.out, b)
	}
	p, err := shedspace.New(b)
	if err != nil {
		return badInput(err)
	}
	if o.member != "" {
		return assessMember(s.out, p, o)
	}
	if o.places {
		return printPlaces(s.out, p.Shed)
	}
	if o.assumed {
		d, err := designAsked(p, o.braced)
		if err != nil {
			return badInput(err)
		}
		return printAssumptions(s.out, p, d)
	}
	if o.path {
		d, err := designAsked(p, o.braced)
		if err != nil {
			return badInput(err)
		}
		return printLoadPaths(s.out, p, d, o.draw)
	}
	if o.held {
		return assessRestraints(s.out, p, o)
	}
	if o.joint != "" {
		return assessJoint(s.out, p, o)
	}
	a, err := p.AssessProposal()
	if err != nil {
		return badInput(err)
	}
	braced, added, err := p.AssessBraced()
	if err != nil {
		return badInput(err)
	}
	ofDrawn, ofBraced, err := assumptionsOf(p, a, braced, added)
	if err != nil {
		return badInput(err)
	}
	if o.asJSON {
		err = assessJSON(s.out, b, p, a, braced, added, ofDrawn, ofBraced)
	} else {
		printAssessment(s.out, b, p, a, braced, added, ofDrawn, ofBraced)
	}
	if err != nil {
		return err
	}
	if !a.Complies {
		return notComplying()
	}
	return nil
}

// assumptionsOf judges the main assumptions of the drawing where it stands, else of the drawing with its missing links added.
func assumptionsOf(p *shedspace.Problem, a, braced *shedspace.Assessment, added []string) (ofDrawn, ofBraced []shedspace.Assumption, err error) {
	switch {
	case a.Class < shedspace.ClassUnstable:
		ofDrawn, err = p.Assumptions(a.Design)
	case len(added) > 0 && braced.Class < shedspace.ClassUnstable:
		ofBraced, err = p.Assumptions(braced.Design)
	}
	return ofDrawn, ofBraced, err
}

// designAsked is the proposal, or that with its missing links added.
func designAsked(p *shedspace.Problem, braced bool) (*shed.Design, error) {
	if !braced {
		return p.Drawn, nil
	}
	d, _, err := p.Braced()
	return d, err
}

// assessRestraints prints the restraint map of the design that is asked for.
func assessRestraints(w io.Writer, p *shedspace.Problem, o assessOptions) error {
	d, err := designAsked(p, o.braced)
	if err != nil {
		return badInput(err)
	}
	list, err := p.RestraintMap(d)
	if err != nil {
		return badInput(err)
	}
	if o.asJSON {
		return restraintsJSON(w, list)
	}
	return printRestraints(w, list)
}

// assessJoint prints one kind of joint of the design that is asked for.
func assessJoint(w io.Writer, p *shedspace.Problem, o assessOptions) error {
	a, err := p.AssessProposal()
	if o.braced {
		a, _, err = p.AssessBraced()
	}
	if err != nil {
		return badInput(err)
	}
	j, err := a.JointPage(o.joint)
	if err != nil {
		return badInput(err)
	}
	return printJoint(w, j)
}

// assessMember prints one member's checks as a page that can be followed by hand.
func assessMember(w io.Writer, p *shedspace.Problem, o assessOptions) error {
	d, err := designAsked(p, o.braced)
	if err != nil {
		return badInput(err)
	}
	page, err := p.MemberPage(d, o.member)
	if err != nil {
		return badInput(err)
	}
	m := &page.Member
	fmt.Fprintf(w, "%s: %s %s, %.3f m\n", m.ID, m.Section.Name, m.Grade.Name, m.Length)
	for _, r := range m.Restraints {
		fmt.Fprintf(w, "  held at %6.3f m: %-12s %c  %s\n", r.Station, r.Flange, r.Kind, r.Source)
	}
	if e := m.EffectiveX; e.Length > 0 {
		fmt.Fprintf(w, "  effective length about x %.2f m (%s)\n", e.Length, e.Source)
	}
	fmt.Fprintf(w, "\n  %-28s %-22s %11s %8s  %s\n", "check", "clause", "utilisation", "at m", "combination")
	for i, r := range page.Results {
		fmt.Fprintf(w, "  %-28s %-22s %11.3f %8.2f  %s\n", r.Name, r.Clause, r.Utilisation, r.Station, page.Names[i])
	}
	if o.working {
		fmt.Fprintf(w, "\nWorking under %s\n", page.Combination)
		if err := page.Working.WriteText(w); err != nil {
			return err
		}
	}
	fmt.Fprintf(w, "\n%s\n", solver.Caution)
	return nil
}

// assessAnswer is the JSON form.
type assessAnswer struct {
	Brief           string                     `json:"brief"`
	BriefHash       string                     `json:"brief_hash"`
	Version         string                     `json:"version"`
	Caution         string                     `json:"caution"`
	Actions         string                     `json:"actions"`
	Overrides       string                     `json:"overrides,omitempty"`
	Stable          bool                       `json:"stable"`
	Mechanism       string                     `json:"mechanism,omitempty"`
	Trouble         []string                   `json:"unstable_combinations,omitempty"`
	MassPerM2       float64                    `json:"mass_per_m2"`
	Diagnosis       []shedspace.DiagnosisPoint `json:"diagnosis"` // what to raise, in order
	Proposal        runs.Scores                `json:"proposal"`
	Groups          []groupAnswer              `json:"groups"`
	Reactions       []footAnswer               `json:"reactions"`
	Joints          []jointAnswer              `json:"connections,omitempty"`
	Footings        []footingAnswer            `json:"footings,omitempty"`
	DetailFails     []string                   `json:"details_too_weak,omitempty"`
	Holding         *holdingAnswer             `json:"purlins_as_restraints,omitempty"`
	Braced          *runs.Scores               `json:"proposal_braced,omitempty"`
	BracedBy        []string                   `json:"proposal_braced_by,omitempty"`
	BracedDiagnosis []shedspace.DiagnosisPoint `json:"proposal_braced_diagnosis,omitempty"`
	BracedBest      []groupAnswer              `json:"proposal_braced_groups,omitempty"`
	BracedJoints    []jointAnswer              `json:"proposal_braced_connections,omitempty"`
	BracedFootings  []footingAnswer            `json:"proposal_braced_footings,omitempty"`
	NotCovered      []string                   `json:"not_covered"`
}

// groupAnswer is the governing check of a group.
type groupAnswer struct {
	Group       string   `json:"group"`
	Member      string   `json:"member"`
	Check       string   `json:"check"`
	Clause      string   `json:"clause"`
	Combination string   `json:"combination,omitempty"`
	Utilisation float64  `json:"utilisation"`
	Raw         float64  `json:"raw"`
	Position    *float64 `json:"position_m,omitempty"`
	FrameAlone  bool     `json:"frame_alone,omitempty"`
}

// footAnswer is the envelope of one base in kN.
type footAnswer struct {
	Base    string  `json:"base"`
	Down    float64 `json:"down_kN"`
	Uplift  float64 `json:"uplift_kN"`
	AlongX  float64 `json:"along_kN"`
	AcrossY float64 `json:"across_kN"`
}

func assessJSON(w io.Writer, b *brief.Brief, p *shedspace.Problem, a, braced *shedspace.Assessment, added []string, ofDrawn, ofBraced []shedspace.Assumption) error {
	codes, overrides := p.Pack()
	out := assessAnswer{
		Brief: b.Name, BriefHash: b.Hash(), Version: runs.Version, Caution: solver.Caution, Actions: codes, Overrides: overrides, Stable: a.Stable, Mechanism: a.Mechanism, Trouble: a.Trouble,
		MassPerM2: a.Mass.Total / p.Shed.PlanArea(), Proposal: runs.NewScores(a), Groups: groupAnswers(a), NotCovered: runs.NotCovered(p),
		Diagnosis: p.Diagnosis(a, ofDrawn),
	}
	for _, f := range a.Feet {
		out.Reactions = append(out.Reactions, footAnswer{f.Name, f.Up / 1e3, f.Down / 1e3, f.AlongX / 1e3, f.AcrossY / 1e3})
	}
	out.Holding = newHolding(a)
	out.Joints, out.Footings, out.DetailFails = jointAnswers(a.Connections), footingAnswers(a.Footings), a.DetailFails
	if len(added) > 0 {
		out.BracedJoints, out.BracedFootings = jointAnswers(braced.Connections), footingAnswers(braced.Footings)
		sc := runs.NewScores(braced)
		out.Braced, out.BracedBy, out.BracedBest, out.BracedDiagnosis = &sc, added, groupAnswers(braced), p.Diagnosis(braced, ofBraced)
	}
	enc := json.NewEncoder(w)
	enc.SetIndent("", "  ")
	return enc.Encode(out)
}

func groupAnswers(a *shedspace.Assessment) []groupAnswer {
	var out []groupAnswer
	for _, g := range a.Groups {
		ga := groupAnswer{g.Group, g.Member, g.Name, g.Clause, g.Combination, g.Utilisation, g.Raw, nil, g.Alone}
		if x := g.Station; !math.IsNaN(x) {
			ga.Position = &x
		}
		out = append(out, ga)
	}
	return out
}

// printAssessment says it in the order in which an engineer would raise it.
func printAssessment(w io.Writer, b *brief.Brief, p *shedspace.Problem, a, braced *shedspace.Assessment, added []string, ofDrawn, ofBraced []shedspace.Assumption) {
	fmt.Fprintf(w, "%s: the proposal as drawn %s\n\n", b.Name, a.Says())
	printDiagnosis(w, p.Diagnosis(a, ofDrawn))
	printResults(w, p, a)
	if len(added) == 0 {
		printEnd(w, p)
		return
	}
	fmt.Fprintf(w, "\nWith the missing links added, the proposal %s\n", braced.Says())
	for _, t := range added {
		fmt.Fprintf(w, "  + %s\n", t)
	}
	fmt.Fprintln(w)
	printDiagnosis(w, p.Diagnosis(braced, ofBraced))
	printResults(w, p, braced)
	printEnd(w, p)
}

// printDiagnosis lists what to raise, in order.
func printDiagnosis(w io.Writer, list []shedspace.DiagnosisPoint) {
	if len(list) == 0 {
		return
	}
	fmt.Fprintln(w, "What to raise, in order")
	for i, d := range list {
		where := ""
		if d.Where != "" {
			where = ", " + d.Where
		}
		printLines(w, fmt.Sprintf("%d. %s%s: %s", i+1, d.About, where, d.Text))
	}
	fmt.Fprintln(w)
}

// printResults shows utilisations, movements, rules and masses.
func printResults(w io.Writer, p *shedspace.Problem, a *shedspace.Assessment) {
	groups := slices.Clone(a.Groups)
	slices.SortStableFunc(groups, func(x, y shedspace.GroupResult) int {
		if x.Utilisation > y.Utilisation {
			return -1
		}
		return 1
	})
	fmt.Fprintf(w, "Strength and stability, by group, worst first\n")
	fmt.Fprintf(w, "  %-16s %11s  %-30s %-22s %8s  %-28s %s\n", "group", "utilisation", "check", "clause", "at m", "member", "combination")
	for _, g := range groups {
		position := ""
		if !math.IsNaN(g.Station) {
			position = fmt.Sprintf("%.2f", g.Station)
		}
		combination := g.Combination
		if g.Alone {
			combination += " (frame alone)"
		}
		fmt.Fprintf(w, "  %-16s %11.3f  %-30s %-22s %8s  %-28s %s\n", g.Group, g.Utilisation, g.Name, g.Clause, position, g.Member, combination)
	}
	if a.LambdaC > 0 {
		fmt.Fprintf(w, "  elastic buckling load factor λc = %.2f under %s\n", a.LambdaC, a.LambdaIn)
	}
	if len(a.Service) > 0 {
		fmt.Fprintf(w, "\nService\n  %-36s %9s %9s %11s  %-24s %s\n", "limit", "mm", "allowed", "utilisation", "where", "combination")
	}
	for _, s := range a.Service {
		fmt.Fprintf(w, "  %-36s %9.1f %9.1f %11.3f  %-24s %s\n", s.Limit, s.Value*1e3, s.Allowed*1e3, s.Utilisation, s.Where, s.Combination)
	}
	for _, r := range a.Rules {
		if r.Utilisation > 1 {
			fmt.Fprintf(w, "  %s: %s\n", r.Rule, r.Text)
		}
	}
	if k := float64(p.Brief.Proposal.Bases.ServiceSpring); k > 0 && len(a.Service) > 0 {
		fmt.Fprintf(w, "  worked with a rotational spring of %g kN·m/rad at the pinned feet of the columns\n", k/1e3)
	}
	printFloors(w, a.Floors)
	printMass(w, p, a)
	printConnections(w, a)
	printFootings(w, a)
	for _, t := range a.DetailFails {
		fmt.Fprintf(w, "  %s\n", t)
	}
}

// printMass shows the mass by group and per square metre of plan.
func printMass(w io.Writer, p *shedspace.Problem, a *shedspace.Assessment) {
	fmt.Fprintf(w, "\nMass: %.0f kg, %.1f kg/m² of plan\n", a.Mass.Total, a.Mass.Total/p.Shed.PlanArea())
	for _, g := range brief.Groups {
		if kg := a.Mass.Groups[g.Name]; kg > 0 {
			fmt.Fprintf(w, "  %-22s %8.0f kg  %s\n", g.Name, kg, p.SteelOf(a, g.Name))
		}
	}
	fmt.Fprintf(w, "  %-22s %8.0f kg  assumed plates\n  %-22s %8.0f kg  allowance\n", "base plates", a.Mass.BasePlates, "connections", a.Mass.Connections)
}

// printEnd closes with what is not covered and the caution.
func printEnd(w io.Writer, p *shedspace.Problem) {
	fmt.Fprintf(w, "\nNot covered:\n")
	for _, n := range runs.NotCovered(p) {
		fmt.Fprintf(w, "  - %s\n", n)
	}
	fmt.Fprintf(w, "\n%s\n", solver.Caution)
}
