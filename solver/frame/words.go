package frame

import (
	"fmt"
	"math"
	"strings"

	"leanbay/solver"
	"leanbay/solver/sparse"
)

var axisName = [3]string{"X", "Y", "Z"}

// nodeName is how a message calls a node.
func (w *Workspace) nodeName(i int) string {
	n := &w.s.Nodes[i]
	if n.Name != "" {
		return fmt.Sprintf("%s (node %d)", n.Name, n.ID)
	}
	return fmt.Sprint(n.ID)
}

// listNodes writes "node 4" or "nodes 4, 5, 6 and 12 more".
func (w *Workspace) listNodes(nodes []int) string {
	names := make([]string, 0, len(nodes))
	for _, i := range nodes {
		names = append(names, w.nodeName(i))
	}
	return plural("node", names)
}

func plural(what string, names []string) string {
	const most = 10
	if len(names) == 1 {
		return what + " " + names[0]
	}
	tail := ""
	if len(names) > most {
		tail = fmt.Sprintf(" and %d more", len(names)-most)
		names = names[:most]
	}
	return what + "s " + strings.Join(names, ", ") + tail
}

// swayText says which nodes move in which direction, which members lean, and what would stop it.
func (w *Workspace) swayText(u []float64, slack []int) string {
	var parts []string
	axes := ""
	for d := range 3 {
		var with, against []int
		for i := range w.m.nodes {
			switch a := u[6*i+d]; {
			case a > 0.02:
				with = append(with, i)
			case a < -0.02:
				against = append(against, i)
			}
		}
		if with == nil && against == nil {
			continue
		}
		axes = joinAxes(axes, axisName[d])
		if with != nil {
			parts = append(parts, fmt.Sprintf("%s %s along %s", w.listNodes(with), verb(len(with)), axisName[d]))
		}
		if against != nil {
			parts = append(parts, fmt.Sprintf("%s %s along -%s", w.listNodes(against), verb(len(against)), axisName[d]))
		}
	}
	text := "mechanism: " + strings.Join(parts, "; ")
	if names := w.leaning(u); len(names) > 0 {
		text += "; " + plural("member", names) + " " + leanVerb(len(names))
	}
	text += fmt.Sprintf("; no load path resists motion along %s: a support, a brace or a rigid joint that acts along %s at one of these nodes would",
		axes, axes)
	if len(slack) > 0 {
		var names []string
		for _, e := range slack {
			names = append(names, w.s.Elements[e].ID)
		}
		text += "; slack and of no help: " + plural("element", names)
	}
	return text
}

func joinAxes(a, b string) string {
	if a == "" {
		return b
	}
	return a + "/" + b
}

func verb(n int) string {
	if n == 1 {
		return "sways"
	}
	return "sway"
}

func leanVerb(n int) string {
	if n == 1 {
		return "leans with them"
	}
	return "lean with them"
}

// leaning lists the elements (by member where they have one) whose ends move relative to each other across their axis.
func (w *Workspace) leaning(u []float64) []string {
	var names []string
	for e := range w.els {
		t := &w.m.elements[e]
		d := w.els[e].local(u[6*t.i:6*t.i+6], u[6*t.j:6*t.j+6])
		if math.Hypot(d[7]-d[1], d[8]-d[2]) < 0.02 {
			continue
		}
		name := w.s.Elements[e].ID
		if m := w.s.Elements[e].Member; m >= 0 && m < len(w.s.Members) && w.s.Members[m].ID != "" {
			name = w.s.Members[m].ID
		}
		if len(names) == 0 || names[len(names)-1] != name {
			names = append(names, name)
		}
	}
	return names
}

// turnText tells the spin of members about their own axis from joints that turn.
func (w *Workspace) turnText(u []float64) (MotionKind, string) {
	var nodes []int
	for i := range w.m.nodes {
		if u[6*i+3] != 0 || u[6*i+4] != 0 || u[6*i+5] != 0 {
			if math.Abs(u[6*i+3])+math.Abs(u[6*i+4])+math.Abs(u[6*i+5]) > 0.02 {
				nodes = append(nodes, i)
			}
		}
	}
	var spinning []string
	for e := range w.els {
		t := &w.m.elements[e]
		d := w.els[e].local(u[6*t.i:6*t.i+6], u[6*t.j:6*t.j+6])
		if math.Abs(d[3]) > 0.02 && math.Abs(d[9]-d[3]) < 1e-6 && math.Abs(d[4])+math.Abs(d[5])+math.Abs(d[10])+math.Abs(d[11]) < 1e-3 {
			spinning = append(spinning, w.s.Elements[e].ID)
		}
	}
	if len(spinning) > 0 {
		return Spin, fmt.Sprintf("mechanism: %s can spin about its own axis (%s turn with it); hold its twist at one end",
			plural("element", spinning), w.listNodes(nodes))
	}
	return JointRotation, fmt.Sprintf("mechanism: %s can turn without resistance; fix its rotation or make one connection there rigid", w.listNodes(nodes))
}

// looseMember describes an element whose releases leave it without support in itself.
func (w *Workspace) looseMember(e int) Mechanism {
	el := &w.s.Elements[e]
	st := &w.els[e].linear
	var what []string
	if st.axialC.dead[0] || st.axialC.dead[1] {
		what = append(what, "slides along its axis")
	}
	for p, name := range [2]string{"y", "z"} {
		if st.planeC[p].dead != [4]bool{} {
			what = append(what, "moves or turns in its local x-"+name+" plane")
		}
	}
	if st.twistC.dead != [4]bool{} {
		what = append(what, "spins about its axis")
	}
	return Mechanism{Kind: LooseMember, Member: e, Text: fmt.Sprintf(
		"mechanism: element %s, between nodes %d and %d, is loose in itself: the releases at its two ends together let it go (it %s); take one release away",
		el.ID, w.s.Nodes[el.I].ID, w.s.Nodes[el.J].ID, strings.Join(what, " and "))}
}

// describePivot falls back on the unknown at which the elimination broke down.
func (w *Workspace) describePivot() Mechanism {
	m := Mechanism{Kind: Sway, Member: -1}
	pe, ok := w.failed.(*sparse.PivotError)
	if !ok {
		m.Text = "mechanism: the stiffness is not positive definite; check stiffnesses of very different size"
		return m
	}
	for k, d := range w.m.dof {
		if d >= 0 && int(d) == pe.Column {
			m.Moving = []Movement{{Node: k / 6, DOF: solver.DOF(k % 6), Amount: 1}}
			m.Text = fmt.Sprintf("mechanism: node %s is not held in its freedom %s: the stiffness there is only %.1g of what adds up to it; "+
				"check for members of very different stiffness", w.nodeName(k/6), solver.DOF(k%6), pe.Pivot/pe.Scale)
		}
	}
	return m
}
