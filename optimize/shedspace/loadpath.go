package shedspace

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver"
	"leanbay/solver/frame"
)

// The steps of the path along the building, from the gable to the ground.
const (
	StepHeads  = "mullion heads and gable columns"
	StepRoof   = "roof bracing"
	StepStruts = "struts to the roof bracing"
	StepEaves  = "eaves struts and beams"
	StepWalls  = "wall bracing"
	StepGables = "gable bracing"
	StepFrames = "feet, frame by frame"
	StepFeet   = "feet of the braced bays"
)

// Steps lists them in order.
var Steps = []string{StepHeads, StepRoof, StepStruts, StepEaves, StepWalls, StepGables, StepFrames, StepFeet}

// LoadPath is how the force along the building reaches the ground under one combination; or where a gable is braced, that
// across it.
type LoadPath struct {
	Across      bool // the path is that across the building
	Forward     bool // the actions push towards +X, across the building towards +Y
	Combination string
	Reason      string
	Applied     float64 // N along the path, all actions of the combination
	Links       []Link
	// Feet is what feet take along the path (N): those of the south wall, the north wall, and all others; across the building
	// those of the west gable's frame, the east gable's, and all others.
	Feet    [3]float64
	Trouble string // why there are no forces
	model   *shed.Model
}

// Link is one piece of the path and what it carries.
type Link struct {
	Step   string
	Member string // or the foot's name
	Group  string
	Axial  float64 // N, tension positive; for heads the push along the path, for feet the shear along it
	Moment float64 // N·m, greatest in the wall's plane, where a member works by bending
	Uplift float64 // N, feet only: pull on the footing, negative where it presses
	A, B   r3.Vec  // ends
}

// LoadPaths follows the force along the building through a design, for the strength combination that pushes hardest each
// way: in the structure as analysed for its assessment, second order, rods in tension only. Where a gable is braced it also
// follows the force across the building, which the braced gable draws to itself through the roof bracing.
func (p *Problem) LoadPaths(d *shed.Design) ([]LoadPath, error) {
	out, err := p.paths(d, false)
	if err != nil || len(d.Walls[2])+len(d.Walls[3]) == 0 {
		return out, err
	}
	across, err := p.paths(d, true)
	return append(out, across...), err
}

// paths are those along the building, or across it.
func (p *Problem) paths(d *shed.Design, across bool) ([]LoadPath, error) {
	j := newJudge(p)
	set := p.setupOf(d)
	if set == nil || d.PurlinSpacing == p.Drawn.PurlinSpacing && d.GirtSpacing == p.Drawn.GirtSpacing {
		set = p.bench.drawn
	}
	m := p.Shed.Build(d)
	setEffectiveLengths(m)
	m.Load(set.loads, set.joistMass)
	if err := j.whole.load(&m.Structure, false); err != nil {
		return nil, err
	}
	var out []LoadPath
	for _, forward := range []bool{true, false} {
		way := pathWay{across, forward}
		k, total := hardest(&m.Structure, p.bench.strength, way)
		if k < 0 {
			continue
		}
		path, err := j.follow(m, k, way)
		if err != nil {
			return nil, err
		}
		path.Applied = total
		out = append(out, path)
	}
	return out, nil
}

// pathWay is one sense of a path.
type pathWay struct{ across, forward bool }

// of is a vector's part along the path.
func (w pathWay) of(v r3.Vec) float64 {
	if w.across {
		return v.Y
	}
	return v.X
}

// hardest is the strength combination with the greatest force along a path one way, and that force.
func hardest(st *solver.Structure, list []int, way pathWay) (k int, total float64) {
	k = -1
	for _, i := range list {
		sum := 0.0
		for _, t := range st.Combinations[i].Terms {
			sum += t.Factor * along(&st.Cases[t.Case], way)
		}
		if way.forward && sum > total || !way.forward && sum < total {
			k, total = i, sum
		}
	}
	return k, total
}

// along is the force of a case along a path (N).
func along(c *solver.Case, way pathWay) float64 {
	sum := 0.0
	for _, l := range c.Point {
		sum += way.of(l.F)
	}
	for _, l := range c.Nodal {
		sum += way.of(l.F)
	}
	for _, l := range c.Line {
		sum += (way.of(l.Q1) + way.of(l.Q2)) / 2 * (l.To - l.From)
	}
	return sum
}

// follow analyses combination k and collects the links.
func (j *judge) follow(m *shed.Model, k int, way pathWay) (LoadPath, error) {
	c := &m.Structure.Combinations[k]
	out := LoadPath{Across: way.across, Forward: way.forward, Combination: c.ID, Reason: c.Reason, model: m}
	res := &frame.Result{}
	if err := j.whole.work.Analyse(c, frame.TensionOnlySecondOrder, res); err != nil {
		return out, err
	}
	if !res.Stable {
		out.Trouble = firstOr(res.Notes, "no stable answer")
		if len(res.Mechanisms) > 0 {
			out.Trouble = res.Mechanisms[0].Text
		}
		return out, nil
	}
	w := &walker{m: m, res: res, out: &out}
	w.members(StepRoof, m.Roof, false)
	if way.across {
		w.across()
		return out, nil
	}
	w.heads()
	var eaves, other []int
	for _, i := range m.Struts {
		if atEaves(m, i) {
			eaves = append(eaves, i)
		} else {
			other = append(other, i)
		}
	}
	w.members(StepStruts, other, false)
	w.members(StepEaves, eaves, true)
	w.members(StepWalls, slices.Concat(m.Walls[0], m.Walls[1]), true)
	w.legs()
	w.feet()
	return out, nil
}

// walker collects links from a result.
type walker struct {
	m     *shed.Model
	res   *frame.Result
	out   *LoadPath
	curve solver.Diagram
}

func (w *walker) add(step string, i int, axial, moment float64) {
	mem := &w.m.Structure.Members[i]
	first, last := &w.m.Structure.Elements[mem.Elements[0]], &w.m.Structure.Elements[mem.Elements[len(mem.Elements)-1]]
	w.out.Links = append(w.out.Links, Link{
		Step: step, Member: mem.ID, Group: mem.Group, Axial: axial, Moment: moment,
		A: w.m.Structure.Nodes[first.I].Pos, B: w.m.Structure.Nodes[last.J].Pos,
	})
}

// heads are the pushes of mullions on the roof: the shear at their heads, in the sense of +X. A mullion's web points out of
// its gable, towards -X in the west and +X in the east.
func (w *walker) heads() {
	for gable, list := range w.m.Mullions {
		for _, i := range list {
			w.res.Diagram(i, &w.curve)
			// What the part beyond exerts on the part before is what the roof gives the mullion; the roof gets the opposite.
			push := -w.curve.At(w.curve.Length)[solver.Vy] * float64(2*gable-1)
			w.add(StepHeads, i, push, 0)
		}
	}
}

// members adds the axial force of each member that is greatest in magnitude, and its moment where asked.
func (w *walker) members(step string, list []int, bending bool) {
	for _, i := range list {
		w.res.Diagram(i, &w.curve)
		n, _ := w.curve.MaxAbs(solver.N)
		moment := 0.0
		if mem := &w.m.Structure.Members[i]; bending && (mem.Group == string(brief.GroupPortalBeam) || mem.Group == string(brief.GroupPortalColumn)) {
			moment, _ = w.curve.MaxAbs(solver.Mz)
		}
		w.add(step, i, n, moment)
	}
}

// across collects what is left of a path across the building: the gables' bracing with the mullions that it ends on, what
// each frame's feet take, and the feet of the braced gables.
func (w *walker) across() {
	m := w.m
	w.members(StepGables, slices.Concat(m.Walls[2], m.Walls[3], m.GableStruts), false)
	for gable := range m.Mullions {
		if len(m.Walls[longWalls+gable]) > 0 {
			w.members(StepGables, m.Mullions[gable], false)
		}
	}
	st, last := &m.Structure, len(m.Shed.Frames)-1
	frames := make([]float64, len(m.Shed.Frames))
	for _, f := range m.Bases {
		n := &st.Nodes[f.Node]
		push, where := -w.res.Reactions[6*f.Node+int(solver.UY)], 2
		for k, x := range m.Shed.Frames {
			if math.Abs(n.Pos.X-x) > 1e-6 {
				continue
			}
			frames[k] += push
			if k == 0 || k == last {
				where = k / last
			}
		}
		w.out.Feet[where] += push
		role := st.Members[f.Member].Role
		if where < 2 && len(m.Walls[longWalls+where]) > 0 && (role == solver.RoleColumn || role == solver.RoleMullion) {
			w.out.Links = append(w.out.Links, Link{
				Step: StepFeet, Member: n.Name, Group: "foot", Axial: push, Uplift: -w.res.Reactions[6*f.Node+int(solver.UZ)], A: n.Pos, B: n.Pos,
			})
		}
	}
	for k, push := range frames {
		pos := r3.Vec{X: m.Shed.Frames[k]}
		w.out.Links = append(w.out.Links, Link{Step: StepFrames, Member: fmt.Sprintf("frame %d", k+1), Group: "foot", Axial: push, A: pos, B: pos})
	}
}

// legs adds the frames' columns that work as legs of a portal, by their moment in the wall's plane.
func (w *walker) legs() {
	var done []int
	for _, p := range w.m.Portals {
		for _, c := range p.Columns {
			if p.Own || slices.Contains(done, c) {
				continue
			}
			done = append(done, c)
			w.res.Diagram(c, &w.curve)
			n, _ := w.curve.MaxAbs(solver.N)
			moment, _ := w.curve.MaxAbs(solver.My)
			w.add(StepWalls, c, n, moment)
		}
	}
}

// feet adds the reactions of the feet that braces and portals stand on, and sums the others.
func (w *walker) feet() {
	st := &w.m.Structure
	braced := w.bracedNodes()
	for _, f := range w.m.Bases {
		along := -w.res.Reactions[6*f.Node+int(solver.UX)] // what the footing gets
		pos := st.Nodes[f.Node].Pos
		switch {
		case math.Abs(pos.Y) < 1e-6:
			w.out.Feet[0] += along
		case math.Abs(pos.Y-w.m.Shed.Span) < 1e-6:
			w.out.Feet[1] += along
		default:
			w.out.Feet[2] += along
		}
		if !braced[f.Node] {
			continue
		}
		w.out.Links = append(w.out.Links, Link{
			Step: StepFeet, Member: st.Nodes[f.Node].Name, Group: "foot", Axial: along, Uplift: -w.res.Reactions[6*f.Node+int(solver.UZ)], A: pos, B: pos,
		})
	}
}

// bracedNodes are the feet that wall bracing leads to: those of its own, and those of the columns that it or a portal uses.
func (w *walker) bracedNodes() map[int]bool {
	st := &w.m.Structure
	out := map[int]bool{}
	column := map[int]int{} // node of a column to its foot
	for f := range w.m.Columns {
		for _, c := range w.m.Columns[f] {
			els := st.Members[c].Elements
			for _, e := range els {
				column[st.Elements[e].I], column[st.Elements[e].J] = st.Elements[els[0]].I, st.Elements[els[0]].I
			}
		}
	}
	note := func(n int) {
		if st.Nodes[n].Held[solver.UX] {
			out[n] = true
		} else if foot, ok := column[n]; ok {
			out[foot] = true
		}
	}
	for _, i := range slices.Concat(w.m.Walls[0], w.m.Walls[1]) {
		for _, e := range st.Members[i].Elements {
			note(st.Elements[e].I)
			note(st.Elements[e].J)
		}
	}
	for _, p := range w.m.Portals {
		for _, c := range p.Columns {
			note(st.Elements[st.Members[c].Elements[0]].I)
		}
	}
	return out
}

// atEaves says whether a strut runs along one of the eaves.
func atEaves(m *shed.Model, i int) bool {
	st := &m.Structure
	e := &st.Elements[st.Members[i].Elements[0]]
	p := st.Nodes[e.I].Pos
	for _, y := range []float64{0, m.Shed.Span} {
		if math.Abs(p.Y-y) < 1e-6 && math.Abs(p.Z-m.Shed.RoofZ(y)) < 1e-6 {
			return true
		}
	}
	return false
}

// Model is the structure that the path was read from.
func (l *LoadPath) Model() *shed.Model { return l.model }

// Of lists the links of a step, those that carry most first.
func (l *LoadPath) Of(step string) []Link {
	var out []Link
	for _, k := range l.Links {
		if k.Step == step {
			out = append(out, k)
		}
	}
	slices.SortStableFunc(out, func(a, b Link) int { return sign(math.Abs(b.Axial) - math.Abs(a.Axial)) })
	return out
}

// Way names the sense of the push.
func (l *LoadPath) Way() string {
	switch {
	case l.Across && l.Forward:
		return "towards the north wall (+Y)"
	case l.Across:
		return "towards the south wall (-Y)"
	case l.Forward:
		return "towards the east gable (+X)"
	}
	return "towards the west gable (-X)"
}

// Axis is the direction in which pushes and shears of the path count as positive.
func (l *LoadPath) Axis() string {
	if l.Across {
		return "+Y"
	}
	return "+X"
}

// String sums the path up.
func (l *LoadPath) String() string {
	names := [2]string{"south wall", "north wall"}
	if l.Across {
		names = [2]string{"west gable's frame", "east gable's frame"}
	}
	return fmt.Sprintf("%s: %.1f kN under %s; %s %.1f, %s %.1f, other feet %.1f kN", l.Way(), math.Abs(l.Applied)/1e3, l.Combination,
		names[0], math.Abs(l.Feet[0])/1e3, names[1], math.Abs(l.Feet[1])/1e3, math.Abs(l.Feet[2])/1e3)
}
