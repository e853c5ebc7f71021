package shedspace

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver"
	"leanbay/solver/frame"
)

// A bound of the eaves' sway across, from the frames without what runs along the building. Let A be the shed's frames with their
// floors, held along the building, and p the forces across at all eaves under which every eaves of A moves across by one. Then
// each rafter moves along itself by the same, so what lies in the planes of roof and walls between frames (struts, rods,
// diagonals) keeps its length, and the frames' motion under p is that of the whole shed as well. By Betti's theorem the
// work of p on the sway u of the whole shed under any loads is that of the loads on that motion, and so the work of p on
// the sway a of A under the same loads: Σ p u = Σ p a. So where every |u| keeps to its height h over the limit's number,
// |Σ p a| is no more than Σ |p| h over that number, whatever braces the shed, and which rods are slack.
//
// It holds for members that keep their length and in first order. What rafters, columns and props give in length, the weight of
// what is left out, and second order, which matters the less the stiffer the frames, are together worth less than swayShare where
// the sway is near its limit: for sheds of one bay, where the bound should be the sway itself, it comes to 0.97 of it.

// swayShare is taken off the bound of the sway, in place of what it leaves out.
const swayShare = 0.06

// swayForce is the force across of a unit case (N).
const swayForce = 1e3

// boundsSway says whether sway across is a hard limit, and the theorem covers all designs: no gable can be braced, mullions carry
// no rafter, and they, posts and props stand between pins.
func (p *Problem) boundsSway() bool {
	for _, b := range []brief.Base{p.Brief.Proposal.Bases.Mullions, p.Brief.Proposal.Bases.Posts, p.Brief.Proposal.Bases.Props} {
		if b.Kind != brief.PinnedBase {
			return false
		}
	}
	return p.Brief.Limits.ServiceHard && !p.softService("eaves sway across") && !p.Shed.CarryMullions && !p.gablesMayBrace()
}

// swayPart says of a design that fails whenever its frames do by their sway. It depends on the sections of plane frames, props and
// spacings.
func (p *Problem) swayPart(d *shed.Design) part {
	if !p.boundsSway() {
		return part{}
	}
	key := fmt.Sprintf("sway %s;%v;%s", setupKey(d), d.Props, steelKey(d, nothingOpen, planeGroups...))
	return p.bench.parts.find(key, func() part { return part{fails: p.leastSway(d)*(1-swayShare) > 1} })
}

// leastSway bounds the greatest use of the limit on sway across; 0 where nothing can be said.
func (p *Problem) leastSway(d *shed.Design) float64 {
	m := p.loaded(d)
	if k := float64(p.Brief.Proposal.Bases.ServiceSpring); k > 0 {
		defer springFeet(m, k)()
	}
	st := swayFrames(m)
	var eaves []int
	for _, pair := range m.Eaves {
		eaves = append(eaves, pair[0], pair[1])
	}
	first := len(st.Cases)
	for _, n := range eaves {
		st.Cases = append(st.Cases, solver.Case{ID: "unit", Nodal: []solver.NodalLoad{{Node: n, F: r3.Vec{Y: swayForce}}}})
	}
	j := p.lendJudge()
	defer p.bench.parts.judges.Put(j)
	if j.part.load(st, true) != nil {
		return 0
	}
	if len(j.answers) == 0 {
		j.answers = append(j.answers, frame.Result{})
	}
	answer := &j.answers[0]
	sway := func(c *solver.Combination) []float64 {
		if j.part.work.Analyse(c, frame.Linear, answer) != nil || !answer.Stable {
			return nil
		}
		out := make([]float64, len(eaves))
		for i, n := range eaves {
			out[i] = answer.U[6*n+int(solver.UY)]
		}
		return out
	}
	pull := pulls(sway, first, len(eaves))
	allowed, most := 0.0, 0.0
	for k := range pull {
		allowed += math.Abs(pull[k]) * st.Nodes[eaves[k]].Pos.Z / float64(p.Brief.Limits.EavesSway)
	}
	for _, i := range p.bench.service {
		c := &m.Structure.Combinations[i]
		if pull == nil || !kindsIn(&m.Structure, c).wind {
			continue
		}
		a := sway(c)
		if a == nil {
			return 0
		}
		work := 0.0
		for k := range a {
			work += pull[k] * a[k]
		}
		most = math.Max(most, math.Abs(work)/allowed)
	}
	return most
}

// pulls are the forces across (in unit cases, which begin at first) under which every eaves moves by the same; nil where there
// are none.
func pulls(sway func(*solver.Combination) []float64, first, n int) []float64 {
	flex, ones := mat.NewDense(n, n, nil), mat.NewVecDense(n, nil)
	for i := range n {
		u := sway(&solver.Combination{ID: "unit", State: solver.Service, Terms: []solver.Term{{Case: first + i, Factor: 1}}})
		if u == nil {
			return nil
		}
		flex.SetCol(i, u)
		ones.SetVec(i, 1)
	}
	var out mat.VecDense
	if out.SolveVec(flex, ones) != nil {
		return nil
	}
	return out.RawVector().Data
}

// swayFrames are the frames of a loaded model with its floors, without what runs along the building and without mullions, held
// along the building and against turning out of their planes. The nodes keep their numbers.
func swayFrames(m *shed.Model) *solver.Structure {
	st, room := &m.Structure, &planeRoom{}
	out := &room.plane
	out.Nodes, out.Combinations = append(out.Nodes, st.Nodes...), st.Combinations
	for i := range out.Nodes {
		h := &out.Nodes[i].Held
		h[solver.UX], h[solver.RY], h[solver.RZ] = true, true, true
	}
	room.copyMembers(st, func(i int) bool {
		role := st.Members[i].Role
		return inPlane(&st.Members[i]) && role != solver.RoleMullion || role == solver.RoleOther
	})
	out.Cases, out.Table, out.TableIndex = make([]solver.Case, len(st.Cases)), st.Table, room.index
	for i := range st.Cases {
		keepLoads(&out.Cases[i], &st.Cases[i], room.index, func(int) bool { return false })
	}
	return out
}

// heaviest takes the heaviest section of a list.
func heaviest(list []shed.Steel) shed.Steel {
	out := list[0]
	for _, s := range list {
		if s.Section.Props.Mass > out.Section.Props.Mass {
			out = s
		}
	}
	return out
}

// swayPair is swayPart of a branch's design with a pair of column and rafter. Props, posts and beams that are open are the
// heaviest that are left: they stand between pins and hold no frame upright, so their section hardly matters to the sway.
func (b *branch) swayPair(k framePair) part {
	if !b.p.boundsSway() {
		return part{}
	}
	steel := map[brief.Group]shed.Steel{brief.GroupColumn: k.column, brief.GroupRafter: k.rafter}
	for _, g := range b.p.Shed.UsedGroups(b.d) {
		switch {
		case !slices.Contains(planeGroups, g) || g == brief.GroupColumn || g == brief.GroupRafter || !b.open(g):
			continue
		case g == brief.GroupEndColumn || g == brief.GroupEndRafter:
			return part{}
		}
		steel[g] = heaviest(b.left(g))
	}
	return b.p.swayPart(b.with(steel))
}

// mostPropLayouts is the number of places of props up to which a pair is looked at with each of them: of the packhouse's 27, over
// all spacings, that took a minute and raised the bound of the whole space by an eighth.
const mostPropLayouts = 8

// swayAnyProps is the best that any place of the props makes of a pair, where they are not decided.
func (b *branch) swayAnyProps(k framePair) part {
	all := b.propLayouts()
	if len(all) == 0 {
		return part{}
	}
	for _, props := range all {
		with := *b
		d := *b.d
		d.Props = props
		if with.d = &d; !with.swayPair(k).fails {
			return part{}
		}
	}
	return part{fails: true}
}

// propLayouts are the lines of props that the genes left open may place; none where there are too many.
func (b *branch) propLayouts() [][]shed.PropLine {
	d := *b.d
	d.Props = nil
	list := []*shed.Design{&d}
	for i := range b.p.genes {
		g := &b.p.genes[i]
		if !g.props {
			continue
		}
		var next []*shed.Design
		for o := range g.Count() {
			if i < b.fixed && o != b.point[i] {
				continue
			}
			for _, from := range list {
				with := *from
				with.Props = clonedProps(from.Props)
				g.apply(&with, o)
				next = append(next, &with)
			}
		}
		if list = next; len(list) > mostPropLayouts {
			return nil
		}
	}
	var out [][]shed.PropLine
	for _, d := range list {
		out = append(out, d.Props)
	}
	return out
}

// clonedProps copies lines of props so that AddProp changes the copy alone.
func clonedProps(list []shed.PropLine) []shed.PropLine {
	out := slices.Clone(list)
	for i := range out {
		out[i].Frames = slices.Clone(out[i].Frames)
	}
	return out
}
