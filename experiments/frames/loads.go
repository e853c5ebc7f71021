package frames

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/experiments/jsontree"
	"leanbay/solver"
)

func (r *reader) takeCases(v *jsontree.Value) {
	s := r.file.Structure
	ids := map[string]bool{}
	r.each(v, "load_cases", func(i int, item *jsontree.Value) {
		c := solver.Case{Kind: solver.KindOther}
		var analysis string
		what := labelled("load case", item, i)
		r.object(item, what, true, []field{
			{"id", "a text", true, r.label(what+": id", &c.ID)},
			{"analysis", "the kind of analysis", true, r.word(what+": analysis", analyses, &analysis)},
			{"nodal", "", false, r.nodal(what, &c)},
			{"udl", "", false, r.lineLoads(what, &c)},
			{"point", "", false, r.pointLoads(what, &c)},
			{"self_weight", "", false, r.selfWeight(what, &c)},
		})
		if ids[c.ID] && c.ID != "" {
			r.mistake(item.Pos, "load case %s is given twice; ids must differ", c.ID)
		}
		ids[c.ID] = true
		s.Combinations = append(s.Combinations, solver.Combination{ID: c.ID, Terms: []solver.Term{{Case: len(s.Cases), Factor: 1}}})
		s.Cases = append(s.Cases, c)
		r.file.Asked = append(r.file.Asked, Analysis(analysis))
	})
	if v.Kind == jsontree.List && len(v.Items) == 0 {
		r.mistake(v.Pos, "load_cases is empty; give at least one, with the analysis that it wants")
	}
}

func (r *reader) nodal(in string, c *solver.Case) func(*jsontree.Value) {
	return func(v *jsontree.Value) {
		r.each(v, in+": nodal", func(i int, item *jsontree.Value) {
			what := fmt.Sprintf("%s, nodal load %d", in, i+1)
			l := solver.NodalLoad{Node: -1}
			r.object(item, what, false, []field{
				{"node", "the id of a node", true, r.nodeRef(what+": node", &l.Node)},
				{"F", "", false, r.vector(what+": F", &l.F)},
				{"M", "", false, r.vector(what+": M", &l.M)},
			})
			r.needOne(item, what)
			c.Nodal = append(c.Nodal, l)
		})
	}
}

// needOne complains of a load with neither force nor moment.
func (r *reader) needOne(v *jsontree.Value, what string) {
	for _, f := range v.Fields {
		if f.Key != "F" && f.Key != "M" && f.Key != "node" && f.Key != "member" && f.Key != "a" && f.Key != "axes" {
			return // an unknown key, reported: it may be meant for one of them
		}
		if (f.Key == "F" || f.Key == "M") && f.Value.Kind != jsontree.Null {
			return
		}
	}
	if v.Kind == jsontree.Object {
		r.mistake(v.Pos, "%s has neither F nor M; give [x, y, z] in N or N·m", what)
	}
}

// stationSlack is how far beyond its member's end (relative to its length) a load may lie by the rounding of a file.
const stationSlack = 1e-6

var axesWords = []string{"global", "local"}

func loadAxes(word string) solver.LoadAxes {
	if word == "local" {
		return solver.LocalAxes
	}
	return solver.GlobalAxes
}

func (r *reader) lineLoads(in string, c *solver.Case) func(*jsontree.Value) {
	return func(v *jsontree.Value) {
		r.each(v, in+": udl", func(i int, item *jsontree.Value) {
			what := fmt.Sprintf("%s, udl %d", in, i+1)
			l := solver.LineLoad{Member: -1, From: math.NaN(), To: math.NaN(), Q2: r3.Vec{X: math.NaN()}}
			var axes, per string
			r.object(item, what, false, []field{
				{"member", "the id of a member", true, r.memberRef(what+": member", &l.Member)},
				{"q", "[x, y, z] in N/m", true, r.vector(what+": q", &l.Q1)},
				{"axes", "", false, r.word(what+": axes", axesWords, &axes)},
				{"per", "", false, r.word(what+": per", []string{"length", "projected"}, &per)},
				{"from", "", false, r.real(what+": from", &l.From)},
				{"to", "", false, r.real(what+": to", &l.To)},
				{"q2", "", false, r.vector(what+": q2", &l.Q2)},
			})
			l.Axes, l.Projected = loadAxes(axes), per == "projected"
			if math.IsNaN(l.Q2.X) {
				l.Q2 = l.Q1
			}
			if l.Member >= 0 {
				r.checkLine(item, what, &l)
			}
			c.Line = append(c.Line, l)
		})
	}
}

// checkLine fills in where a line load begins and ends, and checks it.
func (r *reader) checkLine(v *jsontree.Value, what string, l *solver.LineLoad) {
	length := r.length[l.Member]
	if length == 0 { // its member is mistaken: reported there
		return
	}
	if math.IsNaN(l.From) {
		l.From = 0
	}
	if math.IsNaN(l.To) {
		l.To = length
	}
	slack := stationSlack * length
	if !(l.From < l.To) || l.From < -slack || l.To > length+slack {
		r.mistake(v.Pos, "%s: from %g to %g m does not lie on member %s in order; it is %g m long",
			what, l.From, l.To, r.file.Structure.Members[l.Member].ID, length)
	}
	l.From, l.To = min(max(l.From, 0), length), min(max(l.To, 0), length)
	if !l.Projected {
		return
	}
	if l.Axes == solver.LocalAxes {
		r.mistake(v.Pos, "%s: a load per projected length is given in global axes; write \"axes\": \"global\"", what)
	}
	if r3.Norm(r3.Cross(l.Q1, l.Q2)) > 1e-9*r3.Norm(l.Q1)*r3.Norm(l.Q2) {
		r.mistake(v.Pos, "%s: q and q2 of a load per projected length must have one direction, to be projected square to it", what)
	}
}

func (r *reader) pointLoads(in string, c *solver.Case) func(*jsontree.Value) {
	return func(v *jsontree.Value) {
		r.each(v, in+": point", func(i int, item *jsontree.Value) {
			what := fmt.Sprintf("%s, point load %d", in, i+1)
			l := solver.PointLoad{Member: -1}
			var axes string
			r.object(item, what, false, []field{
				{"member", "the id of a member", true, r.memberRef(what+": member", &l.Member)},
				{"a", "metres from end i", true, r.real(what+": a", &l.At)},
				{"F", "", false, r.vector(what+": F", &l.F)},
				{"M", "", false, r.vector(what+": M", &l.M)},
				{"axes", "", false, r.word(what+": axes", axesWords, &axes)},
			})
			r.needOne(item, what)
			l.Axes = loadAxes(axes)
			if l.Member >= 0 {
				r.checkPoint(item, what, &l)
			}
			c.Point = append(c.Point, l)
		})
	}
}

func (r *reader) checkPoint(v *jsontree.Value, what string, l *solver.PointLoad) {
	length := r.length[l.Member]
	if length == 0 {
		return
	}
	s := r.file.Structure
	el := &s.Elements[l.Member]
	slack := stationSlack * length
	if l.At < -slack || l.At > length+slack {
		r.mistake(v.Pos, "%s: a = %g m does not lie on member %s; it is %g m long", what, l.At, el.ID, length)
	}
	l.At = min(max(l.At, 0), length)
	if !el.Bar && el.Acts == solver.BothWays {
		return
	}
	torque := l.M.X
	if l.Axes == solver.GlobalAxes {
		d := r3.Sub(r3.Add(s.Nodes[el.J].Pos, el.OffsetJ), r3.Add(s.Nodes[el.I].Pos, el.OffsetI))
		torque = r3.Dot(l.M, d) / length
	}
	if math.Abs(torque) > 1e-9*r3.Norm(l.M) {
		r.mistake(v.Pos, "%s: a torque of %g N·m cannot act on the bar %s, which has no torsional stiffness", what, torque, el.ID)
	}
}

// selfWeight takes the multiples of each member's weight, and warns if there is none to multiply.
func (r *reader) selfWeight(in string, c *solver.Case) func(*jsontree.Value) {
	return func(v *jsontree.Value) {
		r.vector(in+": self_weight", &c.SelfWeight)(v)
		for i := range r.file.Structure.Elements {
			if r.file.Structure.Elements[i].Density > 0 {
				return
			}
		}
		r.warn(v.Pos, "%s: self_weight has nothing to multiply: no member has a density", in)
	}
}
