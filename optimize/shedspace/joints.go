package shedspace

import (
	"fmt"

	"leanbay/model/brief"
	"leanbay/model/joints"
	"leanbay/model/shed"
	"leanbay/solver"
	"leanbay/solver/checks/asnzs4600"
	"leanbay/solver/frame"
)

// startJoints prepares the collection of connection forces of a full assessment; the search and figures alone have none.
func (j *judge) startJoints(m *shed.Model, set *setup) (err error) {
	j.joints = nil
	if j.brief || j.figures {
		return nil
	}
	b := j.p.Brief
	if j.joints, err = joints.New(m, &b.Proposal.Details, float64(b.Site.GroundBearing), j.p.bench.rules); err != nil {
		return err
	}
	for _, r := range set.secondaries.Results {
		if r.Group == string(brief.GroupJoist) {
			own := permanentStrength * set.secondaries.Sections.Joist.Props.Mass * asnzs4600.Gravity
			j.joints.Joint(joints.JoistEnd, r.Member, joints.Action{V: (r.Need.Inward*r.Need.Spacing + own) * r.Need.Span / 2})
		}
	}
	return nil
}

// gather takes the answers in hand to the joints. index is nil for the whole shed.
func (j *judge) gather(st *solver.Structure, index []int) {
	for k := range j.combos {
		a := j.answer(st, index, k)
		j.joints.Add(a)
		j.joints.Ground(a, solver.Strength)
	}
}

// answer is combination k of those in hand.
func (j *judge) answer(st *solver.Structure, index []int, k int) *joints.Answer {
	return &joints.Answer{Name: j.combos[k].ID, Structure: st, Index: index, Ends: j.res[k].Ends, Reactions: j.res[k].Reactions, Alone: index != nil}
}

// innerOnly is an index of plane frames with nothing but the inner frames' columns and rafters (and so the columns' bases), in out's
// storage.
func innerOnly(m *shed.Model, index, out []int) []int {
	out = out[:0]
	for range index {
		out = append(out, -1)
	}
	for _, i := range m.Inner {
		out[i] = index[i]
	}
	return out
}

// gatherService takes the feet's push in service to the footings.
func (j *judge) gatherService(st *solver.Structure) {
	for k := range j.combos {
		if j.joints != nil {
			j.joints.Ground(j.answer(st, nil, k), solver.Service)
		}
	}
}

// finishJoints analyses the combinations for stability, by which footings are judged, and writes joints and footings up.
// A shed that does not stand under one of them says so; it is no member's failure.
func (j *judge) finishJoints(m *shed.Model, a *Assessment) error {
	if j.joints == nil {
		return nil
	}
	var under Assessment
	if err := j.analyse(&j.whole, m.Structure.Combinations, j.p.bench.stability, frame.TensionOnlySecondOrder, &under); err != nil {
		return err
	}
	for k := range j.combos {
		if j.res[k].Stable && under.Mechanism == "" {
			j.joints.Ground(j.answer(&m.Structure, nil, k), solver.Stability)
		}
	}
	if under.Mechanism != "" {
		under.Trouble = append(under.Trouble, under.Mechanism)
	}
	for _, t := range under.Trouble {
		a.FootingNotes = append(a.FootingNotes, "no stable answer, so not in these figures: "+t)
	}
	if err := j.holdingPurlin(&a.Holding); err != nil {
		return err
	}
	a.Connections, a.Footings = j.joints.Joints(), j.joints.Footings()
	j.joints = nil
	return nil
}

// holdDetails lets stated connections and pads decide as well: they belong to what was drawn, not to the search's variants.
func (a *Assessment) holdDetails() {
	for i := range a.Connections {
		if a.Connections[i].Fails() {
			a.DetailFails = append(a.DetailFails, fmt.Sprintf("%s as detailed: utilisation %.3f", a.Connections[i].Kind, a.Connections[i].Utilisation()))
		}
	}
	for i := range a.Footings {
		if f := &a.Footings[i]; f.Utilisation() > 1 {
			a.DetailFails = append(a.DetailFails, fmt.Sprintf("pad of %s: utilisation %.3f", f.Name, f.Utilisation()))
		}
	}
	a.Complies = a.Complies && len(a.DetailFails) == 0
}

// springFeet puts a rotational spring (N·m/rad) on every column's pinned foot, and returns what takes it off again.
func springFeet(m *shed.Model, k float64) (undo func()) {
	var feet []int
	for _, f := range m.Bases {
		n := &m.Structure.Nodes[f.Node]
		if m.Structure.Members[f.Member].Role == solver.RoleColumn && !n.Held[solver.RX] && n.Spring[solver.RX] == 0 {
			feet = append(feet, f.Node)
			n.Spring[solver.RX], n.Spring[solver.RY] = k, k
		}
	}
	return func() {
		for _, f := range feet {
			n := &m.Structure.Nodes[f]
			n.Spring[solver.RX], n.Spring[solver.RY] = 0, 0
		}
	}
}
