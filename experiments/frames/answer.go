package frames

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"leanbay/solver"
	"leanbay/solver/frame"
)

// Options say how much is asked beyond the load cases.
type Options struct {
	Modes    int // buckling factors a case; 0 is 4
	Stations int // of every member's diagram, besides its extremes; 0 is no diagrams, else at least 2
}

// Six is a displacement (m, rad) or a reaction (N, N·m) along and about global X, Y, Z.
type Six [6]float64

// Answer is the answer to a file in the neutral form.
type Answer struct {
	ID      string       `json:"id"`
	Caution string       `json:"caution"`
	Cases   []CaseAnswer `json:"cases"`
}

// CaseAnswer answers one load case. What was not asked for, or does not exist, is absent.
type CaseAnswer struct {
	ID            string                    `json:"id"`
	Analysis      Analysis                  `json:"analysis"`
	Stable        bool                      `json:"stable"`
	Displacements map[string]Six            `json:"displacements,omitempty"`   // by node
	Reactions     map[string]Six            `json:"reactions,omitempty"`       // by supported node: what the support exerts
	EndForces     map[string]Ends           `json:"end_forces,omitempty"`      // by member
	States        map[string]string         `json:"states,omitempty"`          // of one-way members: active or slack
	Factors       []float64                 `json:"buckling_factors,omitzero"` // ascending; empty if nothing buckles
	Mechanisms    []Motion                  `json:"mechanisms,omitzero"`       // what moves, if it does not stand
	Diagrams      map[string][]DiagramPoint `json:"diagrams,omitempty"`        // by member
	Notes         []string                  `json:"notes,omitempty"`
	Residual      *float64                  `json:"residual,omitempty"`  // out-of-balance over the greatest force
	Condition     float64                   `json:"condition,omitempty"` // of the scaled first-order stiffness, estimated
}

// Ends are the forces that the nodes exert on a member's ends in its undeformed local axes: N, Vy, Vz, T, My, Mz (N, N·m).
type Ends struct {
	I Six `json:"i"`
	J Six `json:"j"`
}

// Motion is a mechanism: the freedoms that move, scaled so that the largest translation is 1, and the same in words.
type Motion struct {
	Moving []Moving `json:"moving"`
	Text   string   `json:"text"`
}

// Moving is one freedom of a motion.
type Moving struct {
	Node   int     `json:"node"` // id
	DOF    string  `json:"dof"`
	Amount float64 `json:"amount"`
}

// DiagramPoint is a station of a member: internal forces with the signs of solver.Forces (tension positive) and the
// displacements along local y and z. Where a load makes forces jump there are two points of one x.
type DiagramPoint struct {
	X  float64 `json:"x"`
	N  float64 `json:"N"`
	Vy float64 `json:"Vy"`
	Vz float64 `json:"Vz"`
	T  float64 `json:"T"`
	My float64 `json:"My"`
	Mz float64 `json:"Mz"`
	Uy float64 `json:"uy"`
	Uz float64 `json:"uz"`
}

// Stands tells whether every case was analysed: none is unstable that was not asked as a mechanism.
func (a *Answer) Stands() bool {
	for i := range a.Cases {
		if !a.Cases[i].Stable && a.Cases[i].Analysis != Mechanism {
			return false
		}
	}
	return true
}

// analyst answers the cases of one file.
type analyst struct {
	file *File
	w    *frame.Workspace
	opts Options
}

// Analyse answers every load case of f. An error means that the file is not a structure that can be analysed; one that
// does not stand is an answer.
func Analyse(f *File, opts Options) (*Answer, error) {
	m, err := frame.Compile(f.Structure)
	if err != nil {
		return nil, err
	}
	w := m.NewWorkspace()
	w.WantCondition = true
	if err := w.Load(f.Structure); err != nil {
		return nil, err
	}
	if opts.Modes == 0 {
		opts.Modes = 4
	}
	a := &analyst{file: f, w: w, opts: opts}
	out := &Answer{ID: f.ID, Caution: solver.Caution}
	for i := range f.Asked {
		c, err := a.answer(i)
		if err != nil {
			return nil, fmt.Errorf("load case %s: %w", f.Structure.Cases[i].ID, err)
		}
		out.Cases = append(out.Cases, c)
	}
	return out, nil
}

// answer analyses case i.
func (a *analyst) answer(i int) (CaseAnswer, error) {
	asked := a.file.Asked[i]
	c := CaseAnswer{ID: a.file.Structure.Cases[i].ID, Analysis: asked}
	kind := a.kind(asked)
	var r frame.Result
	if asked == SecondOrder || asked == TensionOnlySecondOrder {
		if err := a.w.Analyse(&a.file.Structure.Combinations[i], frame.Linear, &r); err != nil {
			return c, err
		}
		if why := a.tooSlender(&r); why != "" {
			c.Notes = []string{why}
			return c, nil
		}
	}
	if err := a.w.Analyse(&a.file.Structure.Combinations[i], kind, &r); err != nil {
		return c, err
	}
	c.Stable, c.Notes = r.Stable, r.Notes
	if !r.Stable {
		c.Mechanisms = a.motions(r.Mechanisms)
		return c, nil
	}
	if why := a.doubt(&r); why != "" {
		c.Stable = false
		c.Notes = append(c.Notes, why)
		return c, nil
	}
	c.Condition = r.Condition
	if asked == Mechanism {
		c.Mechanisms = []Motion{}
		return c, nil
	}
	a.report(&c, &r)
	if asked == Buckling {
		if why := a.tooSlender(&r); why != "" {
			return CaseAnswer{ID: c.ID, Analysis: asked, Notes: []string{why}}, nil
		}
		return c, a.buckle(&c, &r)
	}
	return c, nil
}

// kind is the static analysis that answers, or comes before, what is asked. One-way members are judged in the state in
// which they are found: also before buckling, and to tell whether the structure stands at all.
func (a *analyst) kind(asked Analysis) frame.Analysis {
	switch asked {
	case SecondOrder:
		return frame.SecondOrder
	case TensionOnly:
		return frame.TensionOnly
	case TensionOnlySecondOrder:
		return frame.TensionOnlySecondOrder
	case Buckling, Mechanism:
		for e := range a.file.Structure.Elements {
			if a.file.Structure.Elements[e].Acts != solver.BothWays {
				return frame.TensionOnly
			}
		}
	}
	return frame.Linear
}

func (a *analyst) motions(ms []frame.Mechanism) []Motion {
	out := make([]Motion, len(ms))
	for i := range ms {
		out[i] = Motion{Moving: []Moving{}, Text: ms[i].Text}
		for _, m := range ms[i].Moving {
			out[i].Moving = append(out[i].Moving, Moving{Node: a.file.Structure.Nodes[m.Node].ID, DOF: m.DOF.String(), Amount: m.Amount})
		}
	}
	return out
}

const (
	// unbalanced is the residual (relative) above which forces are out of balance: no answer, whatever it claims.
	unbalanced = 1e-6
	// indistinct is the condition number of the scaled stiffness beyond which a motion with resistance cannot be told from
	// one without in double precision; soft sheds stay under 1e10.
	indistinct = 1e14
)

// doubt is the last line before an answer goes out: why its numbers cannot be believed, if so.
func (a *analyst) doubt(r *frame.Result) string {
	switch {
	case !finiteAnswer(r):
		return "the numbers of the answer are not finite: stiffnesses or loads differ too much in size to be computed together"
	case r.Condition > indistinct:
		return fmt.Sprintf("a motion meets no resistance that can be told from none (condition number %.1g): "+
			"it is a mechanism, or stiffnesses differ too much in size", r.Condition)
	case r.Residual > unbalanced:
		return fmt.Sprintf("the forces are out of balance by %.1g of the greatest: it is a mechanism, or stiffnesses differ too much in size", r.Residual)
	}
	return ""
}

// stringLike is the N·L²/EI beyond which a member is no beam-column: it bends within a ten-thousandth of its length, and an
// exact solution would take thousands of pieces. Rods have none.
const stringLike = 1e8

// tooSlender says which member axial force makes a string, so that second order cannot be solved for it; "" if none.
func (a *analyst) tooSlender(r *frame.Result) string {
	if !r.Stable {
		return ""
	}
	for e := range r.Ends {
		el := &a.file.Structure.Elements[e]
		i := min(el.Iy, el.Iz)
		if el.Bar || el.Acts != solver.BothWays || i == 0 {
			continue
		}
		l := a.file.Structure.Members[el.Member].Length
		if n := max(math.Abs(r.Ends[e][0]), math.Abs(r.Ends[e][6])); n*l*l > stringLike*el.E*i {
			return fmt.Sprintf("member %s: its axial force of %.3g N is too great for its bending stiffness (N·L²/EI is %.1g); make it a rod or check its values",
				el.ID, n, n*l*l/(el.E*i))
		}
	}
	return ""
}

func finiteAnswer(r *frame.Result) bool {
	sum := r.Residual
	for _, u := range r.U {
		sum += u
	}
	for e := range r.Ends {
		for _, f := range r.Ends[e] {
			sum += f
		}
	}
	for _, f := range r.Reactions {
		sum += f
	}
	return !math.IsNaN(sum) && !math.IsInf(sum, 0)
}

// report writes displacements, reactions, end forces, states and diagrams.
func (a *analyst) report(c *CaseAnswer, r *frame.Result) {
	s := a.file.Structure
	residual := r.Residual
	c.Residual = &residual
	c.Displacements, c.Reactions = map[string]Six{}, map[string]Six{}
	for i := range s.Nodes {
		n := &s.Nodes[i]
		key := strconv.Itoa(n.ID)
		c.Displacements[key] = six(r.U[6*i : 6*i+6])
		if n.Held != [6]bool{} || n.Spring != [6]float64{} {
			c.Reactions[key] = six(r.Reactions[6*i : 6*i+6])
		}
	}
	c.EndForces = map[string]Ends{}
	for e := range s.Elements {
		c.EndForces[s.Elements[e].ID] = Ends{I: six(r.Ends[e][:6]), J: six(r.Ends[e][6:])}
	}
	if r.Analysis == frame.TensionOnly || r.Analysis == frame.TensionOnlySecondOrder {
		c.States = states(s, r)
	}
	if a.opts.Stations > 0 {
		c.Diagrams = a.diagrams(r)
	}
}

// six copies six values and turns minus zero to zero.
func six(v []float64) (s Six) {
	for i := range s {
		s[i] = v[i] + 0
	}
	return s
}

func states(s *solver.Structure, r *frame.Result) map[string]string {
	out := map[string]string{}
	for e := range s.Elements {
		switch {
		case s.Elements[e].Acts == solver.BothWays:
		case r.Slack[e]:
			out[s.Elements[e].ID] = "slack"
		default:
			out[s.Elements[e].ID] = "active"
		}
	}
	return out
}

func (a *analyst) diagrams(r *frame.Result) map[string][]DiagramPoint {
	out := map[string][]DiagramPoint{}
	var d solver.Diagram
	for m := range a.file.Structure.Members {
		r.Diagram(m, &d)
		out[a.file.Structure.Members[m].ID] = points(&d, a.opts.Stations)
	}
	return out
}

// points merges n equal stations with the extremes of d.
func points(d *solver.Diagram, n int) []DiagramPoint {
	at := d.Extremes(nil)
	extremes := len(at)
	for k := range n {
		x := d.Length * float64(k) / float64(n-1)
		there := slices.ContainsFunc(at[:extremes], func(s solver.Station) bool { return math.Abs(s.X-x) < 1e-9*d.Length })
		if !there {
			at = append(at, solver.Station{X: x, Forces: d.At(x)})
		}
	}
	slices.SortStableFunc(at, func(p, q solver.Station) int {
		switch {
		case p.X < q.X:
			return -1
		case p.X > q.X:
			return 1
		}
		return 0
	})
	out := make([]DiagramPoint, len(at))
	for i, s := range at {
		_, uy, uz := d.Deflection(s.X)
		f := s.Forces
		out[i] = DiagramPoint{X: s.X, N: f[solver.N], Vy: f[solver.Vy], Vz: f[solver.Vz], T: f[solver.T], My: f[solver.My], Mz: f[solver.Mz], Uy: uy, Uz: uz}
	}
	return out
}
