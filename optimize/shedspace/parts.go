package shedspace

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
	"sync"

	"leanbay/catalog"
	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver"
	"leanbay/solver/frame"
)

// part is what is found of a piece of a shed that the rest of the design cannot change: a tier of evaluation that designs
// share. Every figure of it is also a figure of each such design's own evaluation, or no greater.
type part struct {
	u     float64 // greatest utilisation of its members
	fails bool    // it is a mechanism, has no stable answer, or breaks a hard limit of service: no such design is ranked
}

// worse joins what two parts say.
func (a part) worse(b part) part { return part{math.Max(a.u, b.u), a.fails || b.fails} }

// partShare is taken off the utilisations of parts: they are quick answers of another cutting into elements, each within
// quickShare of the careful one, so within twice that of each other.
const partShare = 3 * quickShare

// parts keeps what was found, by what it depends on. An entry is a pure function of its key.
type parts struct {
	mu     sync.RWMutex
	known  map[string]part
	judges sync.Pool

	pairs map[string]least // of branches (addPair), by pairKey

	once     sync.Once
	harshest []int
}

// mostParts bounds the memory.
const mostParts = 200_000

// find looks a part up, or works it out.
func (c *parts) find(key string, work func() part) part {
	c.mu.RLock()
	got, ok := c.known[key]
	c.mu.RUnlock()
	if ok {
		return got
	}
	got = work()
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.known == nil || len(c.known) >= mostParts {
		c.known = map[string]part{}
	}
	c.known[key] = got
	return got
}

// judge lends a judge as the search's evaluators have it.
func (p *Problem) lendJudge() *judge {
	if j, ok := p.bench.parts.judges.Get().(*judge); ok {
		return j
	}
	j := newJudge(p)
	j.quick, j.brief = true, true
	return j
}

// partsOf is what the parts of a design whose groups are all chosen, but for the open ones, say of it.
func (p *Problem) partsOf(d *shed.Design, open func(brief.Group) bool) part {
	var out part
	if len(p.Shed.Mullions[0])+len(p.Shed.Mullions[1]) > 0 && !open(brief.GroupMullion) {
		out = out.worse(p.mullionPart(d))
	}
	if !open(brief.GroupColumn) && !open(brief.GroupRafter) {
		out = out.worse(p.framePart(d, open, false))
	}
	return out
}

// steelKey names the sections of some groups, open ones left out.
func steelKey(d *shed.Design, open func(brief.Group) bool, groups ...brief.Group) string {
	var b strings.Builder
	for _, g := range groups {
		if s := d.Of(g); s.Section != nil && !open(g) {
			fmt.Fprintf(&b, "%s=%s;", g, s)
		}
	}
	return b.String()
}

// mullionPart analyses the mullions by themselves. A mullion on a pinned foot whose head slips is a simple beam between its
// foot and its head: its moments and its axial force (its own weight and what hangs on it) follow from its own loads. So they
// are in every design what they are here, but for the moment of that weight about a head that moves, which tilt allows for.
// With any other foot, where mullions carry the rafter, or in a braced gable, nothing is said.
func (p *Problem) mullionPart(d *shed.Design) part {
	if p.Shed.CarryMullions || p.Brief.Proposal.Bases.Mullions.Kind != brief.PinnedBase || len(d.Walls[2])+len(d.Walls[3]) > 0 {
		return part{}
	}
	none := func(brief.Group) bool { return false }
	key := fmt.Sprintf("mullions %v/%v/%v;%s", d.PurlinSpacing, d.GirtSpacing, d.DrawnSecondaries, steelKey(d, none, brief.GroupMullion))
	return p.bench.parts.find(key, func() part {
		m := p.loaded(d)
		st, list := mullionsAlone(m)
		j := p.lendJudge()
		defer p.bench.parts.judges.Put(j)
		a, ok := j.judgePart(st, &m.Structure, list, p.ownOnly(p.bench.strength), frame.SecondOrder)
		if !ok {
			return part{fails: true}
		}
		out := part{u: math.Max(0, a.worst()-j.tilt(m, list))}
		if p.Brief.Limits.ServiceHard && j.analyse(&j.part, st.Combinations, p.bench.service, frame.SecondOrder, a) == nil {
			out.fails = j.mullionBow(m, list) > 1.02
		}
		return out
	})
}

// tilted is the greatest movement of a mullion's head, as a share of its height, that tilt allows for: five times the usual
// limit of sway in service.
const tilted = 1.0 / 30

// tilt is how much less a mullion may be used where its head has moved. A weight P spread over the height h has then, beside
// the moments of the upright mullion, PΔ/2·(ξ - ξ²) at ξh below the head, no more than PΔ/8 about either axis; a weight in
// one place has no more than twice that at its own height.
func (j *judge) tilt(m *shed.Model, list []memberPlace) float64 {
	most := 0.0
	for _, at := range list {
		mem := &m.Structure.Members[at.member]
		c, err := j.capacity(shed.Steel{Section: mem.Section, Grade: mem.Grade})
		if err != nil {
			continue
		}
		for k := range j.combos {
			j.res[k].Diagram(at.in, &j.curve)
			moment := math.Abs(j.curve.At(0)[solver.N]) * tilted * mem.Length / 4
			most = math.Max(most, moment/c.Msx+moment/c.Msy())
		}
	}
	return most
}

// ownOnly leaves out the combinations with a sideways force whose share on a member depends on the rest of the shed.
func (p *Problem) ownOnly(list []int) []int {
	return slices.DeleteFunc(slices.Clone(list), func(i int) bool {
		return slices.ContainsFunc(p.bench.combinations[i].Terms, func(t solver.Term) bool {
			c := &p.bench.cases[t.Case]
			return c.Fraction != 0 && (c.HeightPower != 0 || c.Offset != 0)
		})
	})
}

// loaded builds a design as the evaluation does.
func (p *Problem) loaded(d *shed.Design) *shed.Model {
	set := p.setupOf(d)
	m := p.Shed.Build(d)
	setEffectiveLengths(m)
	m.Load(set.loads, set.joistMass)
	return m
}

// judgePart analyses a piece of a structure and checks the members listed (whole tells of them); false where it does not
// stand.
func (j *judge) judgePart(st, whole *solver.Structure, list []memberPlace, combinations []int, kind frame.Analysis) (*Assessment, bool) {
	a := &Assessment{}
	if err := j.part.load(st, true); err != nil {
		return a, true // nothing is said: the evaluation will tell
	}
	if err := j.analyse(&j.part, st.Combinations, combinations, kind, a); err != nil {
		return a, true
	}
	if a.Mechanism != "" || len(a.Trouble) > 0 {
		return a, false
	}
	j.checkMembers(whole, list, false, a)
	return a, true
}

// worst is the greatest utilisation noted, less what quick answers may differ by.
func (a *Assessment) worst() float64 {
	u := 0.0
	for i := range a.Groups {
		u = math.Max(u, a.Groups[i].Utilisation)
	}
	return u * (1 - partShare)
}

// mullionBow is the greatest use of the limit on the mullions' bow in service wind.
func (j *judge) mullionBow(m *shed.Model, list []memberPlace) float64 {
	use := 0.0
	for k := range j.combos {
		if !kindsIn(&m.Structure, &j.combos[k]).wind {
			continue
		}
		for _, at := range list {
			j.res[k].Diagram(at.in, &j.curve)
			bow, _, _, _ := j.curve.MaxChordDeflection()
			use = math.Max(use, math.Abs(bow)*float64(j.p.Brief.Limits.MullionWind)/m.Structure.Members[at.member].Length)
		}
	}
	return use
}

// mullionsAlone is the structure of the mullions with their heads held, and where each stands in it.
func mullionsAlone(m *shed.Model) (*solver.Structure, []memberPlace) {
	keep := make([]bool, len(m.Structure.Members))
	for _, gable := range m.Mullions {
		for _, i := range gable {
			keep[i] = true
		}
	}
	st, index := pieceOf(&m.Structure, keep)
	var list []memberPlace
	for i, in := range index {
		if in < 0 {
			continue
		}
		list = append(list, memberPlace{i, in})
		elements := st.Members[in].Elements
		st.Nodes[st.Elements[elements[len(elements)-1]].J].Held = [6]bool{true, true, true, true, true, true}
	}
	return st, list
}

// pieceOf is a structure of some members of another, with their loads; index gives each member's place in it, or -1.
func pieceOf(st *solver.Structure, keep []bool) (*solver.Structure, []int) {
	out := &solver.Structure{Nodes: append([]solver.Node(nil), st.Nodes...), Combinations: st.Combinations}
	index := make([]int, len(st.Members))
	for i := range st.Members {
		index[i] = -1
		if !keep[i] {
			continue
		}
		mem := st.Members[i]
		mem.Elements = nil
		index[i] = len(out.Members)
		for _, e := range st.Members[i].Elements {
			el := st.Elements[e]
			el.Member = len(out.Members)
			mem.Elements = append(mem.Elements, len(out.Elements))
			out.Elements = append(out.Elements, el)
		}
		out.Members = append(out.Members, mem)
	}
	for i := range st.Cases {
		out.Cases = append(out.Cases, keepLoads(&st.Cases[i], nil, index, func(int) bool { return false }))
	}
	return out, index
}

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
		holding = p.layoutOf(d).holding.of(d)
	}
	key := fmt.Sprintf("frames %v/%v/%v;%v;%s%s", d.PurlinSpacing, d.GirtSpacing, d.DrawnSecondaries, d.Props, steelKey(d, open, planeGroups...), holding)
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
	only.Columns, only.Rafters = append([][2]int(nil), m.Columns[0]), append([][]int(nil), m.Rafters[0])
	for _, f := range frames {
		only.Columns, only.Rafters = append(only.Columns, m.Columns[f]), append(only.Rafters, m.Rafters[f])
	}
	only.Columns, only.Rafters = append(only.Columns, m.Columns[0]), append(only.Rafters, m.Rafters[0])
	plane, index := planeFrames(&only)
	list := innerPlaces(&only, index)
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
		list := innerPlaces(m, index)
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

// innerPlaces lists the columns and rafters of the inner frames, with their places in another structure.
func innerPlaces(m *shed.Model, index []int) []memberPlace {
	var list []memberPlace
	for f := 1; f < len(m.Columns)-1; f++ {
		for _, i := range append(m.Columns[f][:], m.Rafters[f]...) {
			list = append(list, memberPlace{i, index[i]})
		}
	}
	return list
}

// closedFrames are the inner frames that hang together with members of chosen groups only.
func closedFrames(m *shed.Model, open func(brief.Group) bool) []int {
	st := &m.Structure
	root, loose := hangTogether(st), map[int]bool{}
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
