package joints

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/catalog"
	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver"
	"leanbay/solver/checks"
	"leanbay/solver/checks/as4100"
)

// place is one joint: an end of a member, or a base.
type place struct {
	kind    int // index in kinds
	member  int
	far     bool   // the member's end j
	node    int    // of a base; -1 for others
	webX    bool   // base: the web lies along X
	name    string // of the member, or of the base
	fixed   bool   // a base that takes moment
	steel   *as4100.Capacity
	least   minimum
	support *as4100.Capacity // what the joint bears on: the rafter over a prop; nil for none
	face    face             // the hollow wall that a cleat is welded to; the zero value for none
}

// face is a wall of a hollow column or rafter that an end meets.
type face struct {
	width, wall, fy float64 // m, m, Pa
	square          float64 // share of the member's axial force that acts square to the wall
}

// minimum are the least design actions of 9.1.4 at one joint (N, N·m); 0 where there is none.
type minimum struct {
	tension, compression, shear, moment float64
	clause, words                       string
}

// placer lists the joints of a model.
type placer struct {
	m     *shed.Model
	caps  map[steelKey]*as4100.Capacity
	rules *as4100.Rules
	out   []place
	err   error
}

type steelKey struct {
	section *catalog.Section
	grade   string
}

// places lists every joint of m, kind by kind. turnbuckle says of rods of the walls and the roof whether their detail has one.
func places(m *shed.Model, d *brief.Details, rules *as4100.Rules) ([]place, error) {
	p := &placer{m: m, rules: rules, caps: map[steelKey]*as4100.Capacity{}}
	for f := range m.Rafters {
		for _, r := range m.Rafters[f] {
			p.end(Eaves, r, false)
			last := Ridge
			if len(m.Rafters[f]) == 1 { // a mono-pitch has two eaves and no ridge
				last = Eaves
			}
			p.end(last, r, true)
		}
	}
	for i := range m.Structure.Members {
		p.byRole(i, d)
	}
	for _, f := range m.Bases {
		p.base(f)
	}
	return p.out, p.err
}

// byRole adds the ends of props, mullions, beams, struts and braces.
func (p *placer) byRole(i int, d *brief.Details) {
	mem := &p.m.Structure.Members[i]
	if mem.Section == nil {
		return
	}
	switch mem.Role {
	case solver.RoleProp:
		if e := &p.m.Structure.Elements[mem.Elements[0]]; !p.m.Structure.Nodes[e.I].Held[solver.UZ] {
			p.end(PropCap, i, false) // it stands on a beam or a post's head
		}
		p.end(PropCap, i, true)
		p.bearsOn(i)
	case solver.RoleMullion:
		p.end(MullionTop, i, true)
	case solver.RoleBeam:
		p.both(BeamEnd, i)
	case solver.RoleStrut:
		p.both(StrutEnd, i)
	case solver.RoleWallBrace:
		if mem.Group == string(brief.GroupPortalColumn) { // its foot is a base
			p.end(WallBraceEnd, i, true)
			return
		}
		p.brace(WallBraceEnd, i, d.WallBraceEnd)
	case solver.RoleRoofBrace:
		p.brace(RoofBraceEnd, i, d.RoofBraceEnd)
	}
}

func (p *placer) both(k Kind, m int) {
	p.end(k, m, false)
	p.end(k, m, true)
}

// brace adds both ends of a rod or diagonal. A rod is tightened by a turnbuckle unless its detail says otherwise.
func (p *placer) brace(k Kind, m int, d *brief.Detail) {
	first := len(p.out)
	p.both(k, m)
	if p.err != nil || p.m.Structure.Members[m].Section.Family != catalog.Rod || d != nil && !d.Turnbuckle {
		return
	}
	for i := range p.out[first:] {
		q := &p.out[first+i]
		q.least.tension, q.least.clause = p.rules.MinimumAction(as4100.TurnbuckleRod, q.steel.Phi()*q.steel.Tension(1, nil))
		q.least.words = "1.0 phi Nt of the rod (turnbuckle)"
	}
}

// end adds one end of a member.
func (p *placer) end(k Kind, m int, far bool) {
	if p.err != nil {
		return
	}
	mem := &p.m.Structure.Members[m]
	c := p.capacity(mem)
	if c == nil {
		return
	}
	q := place{kind: indexOf(k), member: m, far: far, node: -1, name: mem.ID, steel: c, least: leastOf(k, c, mem, true)}
	if (k == StrutEnd || k == WallBraceEnd) && p.turnsWith(mem, far) && checks.Defined(c.Msx) {
		q.least.moment, _ = c.Rules.MinimumAction(as4100.RigidJoint, c.Phi()*c.Msx)
		q.least.words = "0.5 phi Mb (phi Ms taken) of a portal's beam or column; " + q.least.words
	}
	q.face = p.faceAt(m, far)
	p.out = append(p.out, q)
}

// faceAt is the wall of the hollow column or rafter at a member's end: of its depth's side for a member that comes along the
// building, of its width's for one that comes across it.
func (p *placer) faceAt(m int, far bool) face {
	st := &p.m.Structure
	mem := &st.Members[m]
	e := &st.Elements[mem.Elements[0]]
	node := e.I
	if far {
		e = &st.Elements[mem.Elements[len(mem.Elements)-1]]
		node = e.J
	}
	s := columnOrRafterAt(p.m, node)
	if s < 0 || s == m || !tube(st.Members[s].Section) {
		return face{}
	}
	d := r3.Unit(r3.Sub(st.Nodes[e.J].Pos, st.Nodes[e.I].Pos))
	sec := st.Members[s].Section
	if math.Abs(d.X) >= math.Abs(d.Y) {
		return face{sec.Dims.D, sec.Dims.T, st.Members[s].Grade.Fy, math.Abs(d.X)}
	}
	return face{sec.Dims.B, sec.Dims.T, st.Members[s].Grade.Fy, math.Abs(d.Y)}
}

// columnOrRafterAt is a frame's column or rafter on which a node lies, or -1; of both, at a knee, the column.
func columnOrRafterAt(m *shed.Model, node int) int {
	for _, pair := range m.Columns {
		for _, c := range pair {
			for _, e := range m.Structure.Members[c].Elements {
				if el := &m.Structure.Elements[e]; el.I == node || el.J == node {
					return c
				}
			}
		}
	}
	return m.RafterAt(node)
}

// turnsWith says whether a member's end is joined rigidly in the plane of its web, as a portalised bay's are.
func (p *placer) turnsWith(mem *solver.Member, far bool) bool {
	first, last := &p.m.Structure.Elements[mem.Elements[0]], &p.m.Structure.Elements[mem.Elements[len(mem.Elements)-1]]
	if far {
		return !last.Bar && !last.ReleaseJ[solver.Mz]
	}
	return !first.Bar && !first.ReleaseI[solver.Mz]
}

// base adds what stands on the ground.
func (p *placer) base(f shed.Foot) {
	mem := &p.m.Structure.Members[f.Member]
	k := ColumnBase
	switch mem.Role {
	case solver.RoleProp:
		k = PropBase
	case solver.RoleMullion:
		k = MullionBase
	case solver.RolePost:
		k = PostBase
	}
	c := p.capacity(mem)
	if c == nil {
		return
	}
	st := &p.m.Structure
	n := &st.Nodes[f.Node]
	y := st.Elements[mem.Elements[0]].YAxis
	fixed := n.Held[solver.RX] || n.Held[solver.RY] || n.Spring[solver.RX] != 0 || n.Spring[solver.RY] != 0
	p.out = append(p.out, place{
		kind: indexOf(k), member: f.Member, node: f.Node, webX: math.Abs(y.X) > math.Abs(y.Y), fixed: fixed, name: n.Name, steel: c, least: leastOf(k, c, mem, fixed),
	})
}

// capacity is the member's section capacity, worked once per section and grade.
func (p *placer) capacity(mem *solver.Member) *as4100.Capacity {
	key := steelKey{mem.Section, mem.Grade.Name}
	if c, ok := p.caps[key]; ok {
		return c
	}
	c, err := p.rules.New(mem.Section, mem.Grade)
	if err != nil {
		p.err = fmt.Errorf("joints of %s: %w", mem.ID, err)
		return nil
	}
	p.caps[key] = c
	return c
}

// bearsOn finds the rafter over the prop's cap that was added last.
func (p *placer) bearsOn(prop int) {
	if p.err != nil {
		return
	}
	if r := p.m.RafterAt(p.m.FarNode(prop)); r >= 0 {
		p.out[len(p.out)-1].support = p.capacity(&p.m.Structure.Members[r])
	}
}

// leastOf are the minimum design actions of a kind of joint of a member. phi Mb is taken as phi Ms, its greatest value,
// and capacities as those of the member as it is, not of the smallest that would do (the clause asks for no more):
// both on the safe side. A compression member's length is its own. fixed says whether a base takes moment.
func leastOf(k Kind, c *as4100.Capacity, mem *solver.Member, fixed bool) minimum {
	var m minimum
	switch k {
	case Eaves, Ridge:
		m.moment, m.clause = c.Rules.MinimumAction(as4100.RigidJoint, c.Phi()*c.Msx)
		m.words = "0.5 phi Mb of the rafter (phi Ms taken)"
	case BeamEnd, MullionTop, MullionBase:
		m.simple(c)
	case ColumnBase:
		m.simple(c)
		if fixed {
			m.moment, m.clause = c.Rules.MinimumAction(as4100.RigidJoint, c.Phi()*c.Msx)
			m.words = "0.5 phi Mb of the column (phi Ms taken), and shear of min(0.15 phi Vv, 40 kN)"
		}
	case PropCap, PropBase, PostBase, StrutEnd, WallBraceEnd, RoofBraceEnd:
		m.compression, m.clause = c.Rules.MinimumAction(as4100.TieOrStrutEnd, c.Phi()*strutCapacity(c, mem.Length))
		m.tension, _ = c.Rules.MinimumAction(as4100.TieOrStrutEnd, c.Phi()*c.Tension(c.Rules.DefaultKt(c.Section.Family), nil))
		m.words = "0.3 phi Nt or 0.3 phi Nc of the member, for each sign of force that occurs"
	}
	m.drop()
	return m
}

// drop leaves out minimums of capacities that the code does not define for the section.
func (m *minimum) drop() {
	for _, v := range []*float64{&m.tension, &m.compression, &m.shear, &m.moment} {
		if !checks.Defined(*v) {
			*v = 0
		}
	}
}

func (m *minimum) simple(c *as4100.Capacity) {
	m.shear, m.clause = c.Rules.MinimumAction(as4100.SimpleBeam, c.Phi()*c.Vvx)
	m.words = "shear of min(0.15 phi Vv, 40 kN)"
}

// strutCapacity is the nominal capacity in compression (N) over the member's own length, pinned at both ends.
func strutCapacity(c *as4100.Capacity, l float64) float64 {
	n := math.Min(c.Nc(as4100.X, l, nil), c.Nc(as4100.Y, l, nil))
	if t := c.NcTorsional(l, l, nil); t < n { // NaN where it is not asked for
		n = t
	}
	return n
}
