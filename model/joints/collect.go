package joints

import (
	"math"

	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver"
	"leanbay/solver/checks/as4100"
)

// Collector gathers the design actions of every joint, combination by combination, and checks the stated details as it
// goes, so that no combination's forces are kept.
type Collector struct {
	m       *shed.Model
	details *brief.Details
	places  []place
	joints  []gathered // by kind
	bases   []Footing
	scratch []ratio
	ground  float64 // Pa, allowable; 0 is not stated
	rules   *as4100.Rules
}

// gathered is what is known of one kind.
type gathered struct {
	count  int
	demand Demand
	detail detailCheck
	open   []string // what the detail does not state
	worst  []worst
	first  int // place, for words
}

// worst is the governing joint of one check.
type worst struct {
	ratio
	place  int
	action Action
	in     string
	alone  bool
}

// ratio is one check of one joint under one action: a radial utilisation with the figures behind it.
type ratio struct {
	name, clause     string
	u                float64
	demand, capacity float64
}

// Answer is one combination's result on a structure that holds the model's members.
type Answer struct {
	Name      string
	Structure *solver.Structure
	Index     []int         // the member's place in Structure by its index in the model, -1 for none; nil: the same
	Ends      [][12]float64 // per element: what the node exerts on end i, then on end j (see solver/frame)
	Reactions []float64     // 6 per node
	Alone     bool          // a plane frame by itself
}

// New prepares the collector of m. It fails on a member whose section AS 4100 does not cover here.
// ground is the allowable bearing pressure of the site (Pa), 0 where it is not stated; rules are the coefficients in force.
func New(m *shed.Model, d *brief.Details, ground float64, rules *as4100.Rules) (*Collector, error) {
	c := &Collector{m: m, details: d, joints: make([]gathered, len(kinds)), ground: ground, rules: rules}
	var err error
	if c.places, err = places(m, d, rules); err != nil {
		return nil, err
	}
	for i := range c.places {
		g := &c.joints[c.places[i].kind]
		if g.count == 0 {
			g.first = i
		}
		g.count++
	}
	for k := range c.joints {
		if d := kinds[k].detail(d); d != nil && c.joints[k].count > 0 {
			c.joints[k].detail, c.joints[k].open = newDetail(kinds[k].kind, d, &c.places[c.joints[k].first], rules)
		}
	}
	for i := range c.places {
		if p := &c.places[i]; p.node >= 0 {
			c.bases = append(c.bases, Footing{Name: p.name, Kind: kinds[p.kind].kind, place: i})
		}
	}
	c.minimums()
	return c, nil
}

// minimums enters the minimum design actions that hold whatever the analysis finds: of moment and of shear, in both
// signs, and of compression members.
func (c *Collector) minimums() {
	for i := range c.places {
		l := &c.places[i].least
		if l.moment > 0 {
			c.take(i, Action{M: l.moment}, "", false)
			c.take(i, Action{M: -l.moment}, "", false)
		}
		if l.shear > 0 {
			c.take(i, Action{V: l.shear}, "", false)
		}
		if k := kinds[c.places[i].kind].kind; k == PropCap || k == PropBase || k == PostBase {
			c.take(i, Action{N: -l.compression}, "", false)
		}
	}
}

// Add takes one combination of a strength analysis.
func (c *Collector) Add(a *Answer) {
	for i := range c.places {
		if act, ok := c.actionAt(i, a); ok {
			c.take(i, c.places[i].least.raise(act), a.Name, a.Alone)
		}
	}
}

// actionAt reads the action of place i out of an answer; ok is false where the answer has no such member.
func (c *Collector) actionAt(i int, a *Answer) (Action, bool) {
	p := &c.places[i]
	at := p.member
	if at < 0 { // not of the model
		return Action{}, false
	}
	if a.Index != nil {
		at = a.Index[p.member]
	}
	if at < 0 {
		return Action{}, false
	}
	if p.node >= 0 {
		return baseAction(p, a.Reactions), true
	}
	es := a.Structure.Members[at].Elements
	if p.far {
		f := a.Ends[es[len(es)-1]][6:]
		return Action{f[solver.N], f[solver.Vy], f[solver.Vz], f[solver.Mz], f[solver.My]}, true
	}
	f := a.Ends[es[0]][:6] // what the node exerts on end i is minus the internal force there
	return Action{-f[solver.N], -f[solver.Vy], -f[solver.Vz], -f[solver.Mz], -f[solver.My]}, true
}

// baseAction turns a support's reactions into what the base carries.
func baseAction(p *place, r []float64) Action {
	v := r[6*p.node : 6*p.node+6]
	a := Action{N: -v[solver.UZ], V: v[solver.UY], W: v[solver.UX], M: v[solver.RX], S: v[solver.RY]}
	if p.webX {
		a.V, a.W, a.M, a.S = a.W, a.V, a.S, a.M
	}
	return a
}

// raise lifts an action to the minimum design actions, each with its sign.
func (m *minimum) raise(a Action) Action {
	up := func(v, least float64) float64 { return math.Copysign(math.Max(math.Abs(v), least), v) }
	switch {
	case a.N > 0:
		a.N = up(a.N, m.tension)
	case a.N < 0:
		a.N = up(a.N, m.compression)
	}
	if a.V != 0 {
		a.V = up(a.V, m.shear)
	}
	if a.M != 0 {
		a.M = up(a.M, m.moment)
	}
	return a
}

// take enters one action of one joint; in is empty for a minimum action by itself.
func (c *Collector) take(i int, a Action, in string, alone bool) {
	p := &c.places[i]
	g := &c.joints[p.kind]
	d := &g.demand
	for _, e := range [...]struct {
		x     *Extreme
		v     float64
		least float64
	}{
		{&d.Tension, a.N, p.least.tension}, {&d.Compression, -a.N, p.least.compression}, {&d.Shear, math.Abs(a.V), p.least.shear}, {&d.Across, math.Abs(a.W), -1},
		{&d.Inside, a.M, p.least.moment}, {&d.Outside, -a.M, p.least.moment}, {&d.Minor, math.Abs(a.S), -1},
	} {
		if e.v > e.x.Value {
			*e.x = Extreme{Value: e.v, Member: p.name, Combination: in, Alone: alone}
			if e.v == e.least {
				e.x.Minimum = p.least.clause
			}
		}
	}
	c.scratch = c.scratch[:0]
	if g.detail != nil {
		c.scratch = g.detail.check(c.scratch, p, a, nil)
	} else if p.rigid() {
		c.scratch = p.fullStrength(c.scratch, a, nil)
	}
	for _, r := range c.scratch {
		g.note(worst{r, i, a, in, alone})
	}
}

// note keeps the worst of each check.
func (g *gathered) note(w worst) {
	for i := range g.worst {
		if g.worst[i].name == w.name {
			if w.u > g.worst[i].u {
				g.worst[i] = w
			}
			return
		}
	}
	g.worst = append(g.worst, w)
}

// Joint enters one joint that is not a member of the model, as a joist's end, by its shear.
func (c *Collector) Joint(k Kind, member string, a Action) {
	i := indexOf(k)
	c.places = append(c.places, place{kind: i, member: -1, node: -1, name: member})
	g := &c.joints[i]
	if g.count == 0 {
		g.first = len(c.places) - 1
		if d := kinds[i].detail(c.details); d != nil {
			g.detail, g.open = newDetail(k, d, &c.places[g.first], c.rules)
		}
	}
	g.count++
	c.take(len(c.places)-1, a, "", false)
}
