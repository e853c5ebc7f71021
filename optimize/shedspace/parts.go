package shedspace

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

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
	if !out.fails && !slices.ContainsFunc(planeGroups, open) {
		out = out.worse(p.swayPart(d))
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
	key := fmt.Sprintf("mullions %s;%s", setupKey(d), steelKey(d, none, brief.GroupMullion))
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
	room := &planeRoom{}
	room.copyMembers(st, func(i int) bool { return keep[i] })
	out := &room.plane
	out.Nodes, out.Combinations, out.Cases = append(out.Nodes, st.Nodes...), st.Combinations, make([]solver.Case, len(st.Cases))
	out.Table, out.TableIndex = st.Table, room.index
	for i := range st.Cases {
		keepLoads(&out.Cases[i], &st.Cases[i], room.index, func(int) bool { return false })
	}
	return out, room.index
}
