package shedspace

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"

	"leanbay/catalog"
	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver"
	"leanbay/solver/frame"
)

// planeGroups are the groups that plane frames may be made of.
var planeGroups = []brief.Group{
	brief.GroupColumn, brief.GroupRafter, brief.GroupEndColumn, brief.GroupEndRafter, brief.GroupProp, brief.GroupBeam, brief.GroupPost,
}

// framePart analyses those inner frames by themselves that hang together with members of chosen groups only. It is what
// innerFramesAlone does to them in every such design; where the brief wants no frames alone, nothing is said. Of the layout
// it depends on what holds the frames' members, so layouts that hold them alike share it. Where the layout is not decided
// yet (anyLayout), the members are taken as held all along: no layout gives them more capacity.
func (p *Problem) framePart(d *shed.Design, open func(brief.Group) bool, anyLayout bool) part {
	if p.Brief.Limits.InnerFrames == brief.WholeShed || len(p.Shed.Frames) < 3 {
		return part{}
	}
	if open(brief.GroupProp) && !p.bareFrame(d) {
		return part{}
	}
	holding := "all along"
	if !anyLayout {
		holding = p.holdingOf(d).of(d)
	}
	key := fmt.Sprintf("frames %s;%v;%s%s", setupKey(d), d.Props, steelKey(d, open, planeGroups...), holding)
	return p.bench.parts.find(key, func() part {
		m := p.loaded(d)
		frames := closedFrames(m, open)
		if len(frames) == 0 {
			return part{}
		}
		for _, f := range frames {
			for _, i := range append(m.Columns[f][:], m.Rafters[f]...) {
				loosen(&m.Structure.Members[i], anyLayout)
			}
		}
		return p.framesBy(m, frames)
	})
}

// bareFrame says whether some inner frame has neither prop nor floor.
func (p *Problem) bareFrame(d *shed.Design) bool {
	for f := 1; f < len(p.Shed.Frames)-1; f++ {
		x := p.Shed.Frames[f]
		propped := slices.ContainsFunc(d.Props, func(l shed.PropLine) bool { return slices.Contains(l.Frames, f) })
		floored := slices.ContainsFunc(p.Shed.Mezzanines, func(m shed.Mezzanine) bool { return x > m.X0-samePlace && x < m.X1+samePlace })
		if !propped && !floored {
			return true
		}
	}
	return false
}

// heldEvery is the distance of restraints that hold a member all along (m): far less than what lets any section of the
// catalogue buckle sideways.
const heldEvery = 0.2

// loosen leaves out of a frame's member what the rest of the design decides, on the safe side for a bound: the sway length in
// the wall's plane of columns that are legs of a portal, which only ever lowers the capacity; and, if all is set, what holds
// it, as if it were held all along.
func loosen(m *solver.Member, all bool) {
	m.EffectiveY = solver.EffectiveLength{}
	if !all {
		return
	}
	m.Restraints, m.TopLoads = nil, 0
	n := math.Ceil(m.Length / heldEvery)
	for k := range int(n) + 1 {
		m.Restraints = append(m.Restraints, solver.Restraint{Station: m.Length * float64(k) / n, Flange: solver.BothFlanges, Kind: solver.RestraintF, Source: "bound"})
	}
}

// framesBy analyses some inner frames of a loaded model alone.
func (p *Problem) framesBy(m *shed.Model, frames []int) part {
	only := *m // with the frames wanted between two ends, which planeFrames leaves out
	only.Columns, only.Rafters, only.Inner = append([][2]int(nil), m.Columns[0]), append([][]int(nil), m.Rafters[0]), nil
	for _, f := range frames {
		only.Columns, only.Rafters = append(only.Columns, m.Columns[f]), append(only.Rafters, m.Rafters[f])
		only.Inner = append(append(only.Inner, m.Columns[f][:]...), m.Rafters[f]...)
	}
	only.Columns, only.Rafters = append(only.Columns, m.Columns[0]), append(only.Rafters, m.Rafters[0])
	plane, index := planeFrames(&only)
	list := innerPlaces(&only, index, nil)
	j := p.lendJudge()
	defer p.bench.parts.judges.Put(j)
	planar := p.ownOnly(p.bench.planar)
	for _, combinations := range [][]int{p.harshest(), planar} {
		a, stands := j.judgePart(plane, &m.Structure, list, combinations, frame.SecondOrder)
		if w := (part{a.worst(), !stands}); w.unfit(p) || len(combinations) == len(planar) {
			return w
		}
	}
	return part{}
}

// fewHarshest is the number of combinations that are asked first: most frames that are too weak are so under one of them.
const fewHarshest = 4

// harshest are the combinations that use the inner frames of the braced drawing, each by itself, most. They only save work: a
// frame that passes them is asked all.
func (p *Problem) harshest() []int {
	p.bench.parts.once.Do(func() {
		p.bench.parts.harshest = p.ownOnly(p.bench.planar)
		d, _, err := p.Braced()
		if err != nil {
			return
		}
		m := p.loaded(d)
		plane, index := planeFrames(m)
		list := innerPlaces(m, index, nil)
		use, order := map[int]float64{}, slices.Clone(p.bench.parts.harshest)
		j := p.lendJudge()
		defer p.bench.parts.judges.Put(j)
		for _, c := range order {
			if a, stands := j.judgePart(plane, &m.Structure, list, []int{c}, frame.SecondOrder); stands {
				use[c] = a.worst()
			} else {
				use[c] = math.Inf(1)
			}
		}
		slices.SortStableFunc(order, func(x, y int) int { return sign(use[y] - use[x]) })
		p.bench.parts.harshest = order[:min(fewHarshest, len(order))]
	})
	return p.bench.parts.harshest
}

// innerPlaces appends the columns and rafters of the inner frames, with their places in another structure.
func innerPlaces(m *shed.Model, index []int, list []memberPlace) []memberPlace {
	for _, i := range m.Inner {
		list = append(list, memberPlace{i, index[i]})
	}
	return list
}

// closedFrames are the inner frames that hang together with members of chosen groups only.
func closedFrames(m *shed.Model, open func(brief.Group) bool) []int {
	st := &m.Structure
	var together planeRoom
	together.hangTogether(st)
	root, loose := together.root, map[int]bool{}
	for i := range st.Members {
		if inPlane(&st.Members[i]) && open(brief.Group(st.Members[i].Group)) {
			loose[root(st.Elements[st.Members[i].Elements[0]].I)] = true
		}
	}
	var out []int
	for f := 1; f < len(m.Columns)-1; f++ {
		if !loose[root(st.Elements[st.Members[m.Columns[f][0]].Elements[0]].I)] {
			out = append(out, f)
		}
	}
	return out
}

// holding is what a layout's lines and braces decide about the checks of the inner frames' members, by whether columns and
// rafters are hollow: an anchored node holds a hollow section more than an open one.
type holding map[[2]bool]string

// of is the layout's holding of a design; one that the search does not have is like no other.
func (h holding) of(d *shed.Design) string {
	if text, ok := h[frameKind(d)]; ok {
		return text
	}
	return d.Key(nil)
}

func frameKind(d *shed.Design) [2]bool {
	return [2]bool{hollow(d.Of(brief.GroupColumn)), hollow(d.Of(brief.GroupRafter))}
}

// holdings reads the holding of d's layout, of which m is the model, for each kind of frame in the stock.
func (p *Problem) holdings(d *shed.Design, m *shed.Model) holding {
	out := holding{frameKind(d): holdingOf(m)}
	for _, c := range p.stockKinds(brief.GroupColumn) {
		for _, r := range p.stockKinds(brief.GroupRafter) {
			with := *d
			with.Steel = maps.Clone(d.Steel)
			with.Steel[brief.GroupColumn], with.Steel[brief.GroupRafter] = c, r
			if _, ok := out[frameKind(&with)]; !ok {
				out[frameKind(&with)] = holdingOf(p.Shed.Build(&with))
			}
		}
	}
	return out
}

// stockKinds are a hollow and an open section of a group's stock, as far as it has them.
func (p *Problem) stockKinds(g brief.Group) []shed.Steel {
	var out []shed.Steel
	for i := range p.genes {
		for _, s := range p.genes[i].stock(g) {
			if !slices.ContainsFunc(out, func(o shed.Steel) bool { return hollow(o) == hollow(s) }) {
				out = append(out, s)
			}
		}
	}
	return out
}

func hollow(s shed.Steel) bool {
	f := s.Section.Family
	return f == catalog.RHS || f == catalog.SHS || f == catalog.CHS
}

// holdingOf reads the restraints of a model's inner frames, and what moves with their flanges.
func holdingOf(m *shed.Model) string {
	var b strings.Builder
	for f := 1; f < len(m.Columns)-1; f++ {
		for _, i := range append(m.Columns[f][:], m.Rafters[f]...) {
			for _, r := range m.Structure.Members[i].Restraints {
				fmt.Fprintf(&b, "%v%d%c,", r.Station, r.Flange, r.Kind)
			}
			fmt.Fprintf(&b, "%v;", m.Structure.Members[i].TopLoads)
		}
	}
	return b.String()
}
