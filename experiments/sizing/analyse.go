package sizing

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/solver"
	"leanbay/solver/frame"
)

// response is how a design answers to its load cases, as ratios to the limits: the greatest over cases.
type response struct {
	stress       []float64 // by group
	displacement float64   // 0 if there are no limits
	stable       bool      // false: a mechanism, the ratios say nothing
}

// analyser answers for designs of one truss; it is for one goroutine.
type analyser interface {
	// analyse fills r for areas by group.
	analyse(areas []float64, r *response) error
}

// barAnalyser analyses with solver/frame: bars between nodes whose rotations are held, since nothing resists them. The
// truss's units pass through unchanged: linear statics is the same in any consistent units.
type barAnalyser struct {
	truss        *Truss
	structure    *solver.Structure
	combinations []solver.Combination
	workspace    *frame.Workspace
	results      []frame.Result
	group        []int // by member
}

// newModel compiles the truss's topology, to be shared by all analysers.
func newModel(t *Truss) (*frame.Model, error) {
	s, _ := t.structure()
	return frame.Compile(s)
}

func newBarAnalyser(t *Truss, m *frame.Model) *barAnalyser {
	a := &barAnalyser{truss: t, workspace: m.NewWorkspace(), results: make([]frame.Result, len(t.Cases)), group: t.groupOf()}
	a.structure, a.combinations = t.structure()
	return a
}

// structure describes the truss in the solver's words, with all areas 1.
func (t *Truss) structure() (*solver.Structure, []solver.Combination) {
	s := &solver.Structure{}
	for i, p := range t.Nodes {
		held := [6]bool{t.Held[i][0], t.Held[i][1], t.Held[i][2], true, true, true}
		s.Nodes = append(s.Nodes, solver.Node{ID: i, Pos: r3.Vec{X: p[0], Y: p[1], Z: p[2]}, Held: held})
	}
	for i, m := range t.Members {
		s.Elements = append(s.Elements, solver.Element{ID: fmt.Sprint(i), I: m[0], J: m[1], Member: -1, E: t.E, Density: t.Density, A: 1, Bar: true})
	}
	var combinations []solver.Combination
	for i, c := range t.Cases {
		one := solver.Case{ID: fmt.Sprint(i), Kind: solver.KindOther, Title: c.Name}
		for _, l := range c.Loads {
			one.Nodal = append(one.Nodal, solver.NodalLoad{Node: l.Node, F: r3.Vec{X: l.Force[0], Y: l.Force[1], Z: l.Force[2]}})
		}
		s.Cases = append(s.Cases, one)
		combinations = append(combinations, solver.Combination{ID: one.ID, Terms: []solver.Term{{Case: i, Factor: 1}}})
	}
	return s, combinations
}

// groupOf returns each member's group.
func (t *Truss) groupOf() []int {
	out := make([]int, len(t.Members))
	for g, members := range t.Groups {
		for _, m := range members {
			out[m] = g
		}
	}
	return out
}

// stands reports in words why the truss is a mechanism, if it is one; areas do not matter to that.
func (a *barAnalyser) stands() error {
	var r response
	if err := a.analyse(slices.Repeat([]float64{slices.Max(a.truss.Areas)}, len(a.truss.Groups)), &r); err != nil {
		return fmt.Errorf("the truss cannot be analysed: %w", err)
	}
	if r.stable {
		return nil
	}
	advice := "add bars or supports"
	if d := a.truss.plane(); d >= 0 {
		advice = fmt.Sprintf("all nodes lie in one plane: hold every one of them in %c", 'x'+d)
	}
	for _, m := range a.results[0].Mechanisms {
		return fmt.Errorf("the truss is a mechanism, whatever its areas: %s; %s", m.Text, advice)
	}
	return fmt.Errorf("the truss is a mechanism, whatever its areas; %s", advice)
}

// plane returns the direction (0 x, 1 y, 2 z) square to a plane that all nodes lie in, of which some are free to leave it;
// -1 if there is none.
func (t *Truss) plane() int {
	for d := range 3 {
		flat, free := true, false
		for n, p := range t.Nodes {
			flat = flat && p[d] == t.Nodes[0][d]
			free = free || !t.Held[n][d]
		}
		if flat && free {
			return d
		}
	}
	return -1
}

func (a *barAnalyser) analyse(areas []float64, r *response) error {
	for i := range a.structure.Elements {
		a.structure.Elements[i].A = areas[a.group[i]]
	}
	if err := a.workspace.Load(a.structure); err != nil {
		return err
	}
	if err := a.workspace.AnalyseAll(a.combinations, frame.Linear, a.results); err != nil {
		return err
	}
	r.reset(len(a.truss.Groups))
	for c := range a.results {
		res := &a.results[c]
		if !res.Stable {
			r.stable = false
			return nil
		}
		for i := range a.group {
			a.truss.addStress(r, a.group[i], res.Ends[i][6]/areas[a.group[i]])
		}
		a.truss.addDisplacement(r, func(node, direction int) float64 { return res.U[6*node+direction] })
	}
	return nil
}

func (r *response) reset(groups int) {
	if len(r.stress) != groups {
		r.stress = make([]float64, groups)
	}
	clear(r.stress)
	r.displacement, r.stable = 0, true
}

// addStress takes in one member's stress, tension positive.
func (t *Truss) addStress(r *response, group int, stress float64) {
	limit := t.Tension
	if stress < 0 {
		limit = t.Compression
	}
	r.stress[group] = math.Max(r.stress[group], math.Abs(stress)/limit)
}

// addDisplacement takes in the displacements of one case.
func (t *Truss) addDisplacement(r *response, at func(node, direction int) float64) {
	for _, l := range t.Displacement {
		for _, n := range l.Nodes {
			for _, d := range l.Directions {
				r.displacement = math.Max(r.displacement, math.Abs(at(n, d))/l.Limit)
			}
		}
	}
}
