package shed

import (
	"cmp"
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/catalog"
	"leanbay/model/brief"
	"leanbay/solver"
)

// anchorReach is how far along the rafter a purlin may sit from an anchored node and still be held by it: the depth of a
// usual connection plate (m). Beyond it the rafter would have to bend sideways to carry the restraint's force.
const anchorReach = 0.150

// anchored finds the nodes that bracing holds along the building: those that an unbroken chain of wall braces, roof
// braces and struts ties to a foot.
func (b *builder) anchored() []bool {
	st := &b.Structure
	links := make([][]int, len(st.Nodes))
	link := func(m int) {
		for _, k := range st.Members[m].Elements {
			e := &st.Elements[k]
			links[e.I] = append(links[e.I], e.J)
			links[e.J] = append(links[e.J], e.I)
		}
	}
	for _, set := range [][]int{b.Walls[0], b.Walls[1], b.Roof, b.Struts} {
		for _, m := range set {
			link(m)
		}
	}
	for _, p := range b.Portals { // its columns carry the force on
		for _, m := range p.Columns {
			link(m)
		}
	}
	seen := make([]bool, len(st.Nodes))
	var queue []int
	for n := range st.Nodes {
		if st.Nodes[n].Held[solver.UX] && len(links[n]) > 0 {
			seen[n] = true
			queue = append(queue, n)
		}
	}
	for len(queue) > 0 {
		n := queue[0]
		queue = queue[1:]
		for _, k := range links[n] {
			if !seen[k] {
				seen[k] = true
				queue = append(queue, k)
			}
		}
	}
	return seen
}

// restraints lists what holds each member's flanges. Ends of pinned pieces are held by their joints; columns and rafters
// by the eaves, by anchored nodes (of mid-height struts too), and by purlins whose line runs to an anchored node; beams by
// the joists of a floor that is a diaphragm. A girt holds nothing here: no girt line ends on a node of the wall bracing.
func (b *builder) restraints(held []bool) {
	b.holds = make([]holds, len(b.Structure.Members))
	for i := range b.Structure.Members {
		m := &b.Structure.Members[i]
		switch m.Role {
		case solver.RoleColumn:
			b.hold(i, 0, solver.BothFlanges, solver.RestraintF, "base")
			b.holdNodes(i, held)
		case solver.RoleRafter:
			b.holdNodes(i, held)
		case solver.RoleOther, solver.RoleBeam: // beams are as long as their columns leave: see holdBeam
		default:
			b.hold(i, 0, solver.BothFlanges, solver.RestraintF, "end joint")
			b.hold(i, m.Length, solver.BothFlanges, solver.RestraintF, "end joint")
		}
	}
	b.purlinRestraints(held)
	b.endEccentricities()
	for i := range b.holds {
		h := &b.holds[i]
		inOrder(h.open)
		if h.hollow == nil {
			h.hollow = h.open
		} else {
			inOrder(h.hollow)
		}
	}
}

// inOrder sorts restraints along their member.
func inOrder(list []solver.Restraint) {
	slices.SortStableFunc(list, func(p, q solver.Restraint) int { return cmp.Compare(p.Station, q.Station) })
}

// holds are what holds a member if its section is open, and if it is hollow.
type holds struct{ open, hollow []solver.Restraint }

// fewRestraints is the room that a member's restraints begin with: most have no more.
const fewRestraints = 4

// hold adds a restraint.
func (b *builder) hold(m int, station float64, fl solver.Flange, k solver.RestraintKind, source string) {
	r := solver.Restraint{Station: station, Flange: fl, Kind: k, Source: source}
	b.holdEither(m, r, r)
}

// holdEither adds a restraint that depends on whether the section is open or hollow.
func (b *builder) holdEither(m int, open, hollow solver.Restraint) {
	h := &b.holds[m]
	if h.hollow == nil && open != hollow {
		h.hollow = append(make([]solver.Restraint, 0, len(h.open)+fewRestraints), h.open...)
	}
	if h.hollow != nil {
		h.hollow = append(h.hollow, hollow)
	}
	if h.open == nil {
		h.open = make([]solver.Restraint, 0, fewRestraints)
	}
	h.open = append(h.open, open)
}

// holdNodes adds the restraint of every anchored node along a member. At its ends the frame's joint keeps the section
// from twisting; in between a strut at mid-depth holds a hollow section fully and an open one partially.
func (b *builder) holdNodes(m int, held []bool) {
	mem := &b.Structure.Members[m]
	station := 0.0
	for k, e := range mem.Elements {
		el := &b.Structure.Elements[e]
		if k == 0 && held[el.I] {
			b.hold(m, 0, solver.BothFlanges, solver.RestraintF, b.Structure.Nodes[el.I].Name+", anchored")
		}
		station += b.length(e)
		if !held[el.J] {
			continue
		}
		r := solver.Restraint{Station: station, Flange: solver.BothFlanges, Kind: solver.RestraintF, Source: b.Structure.Nodes[el.J].Name + ", anchored"}
		open := r
		if k < len(mem.Elements)-1 {
			open.Kind = solver.RestraintP
		}
		b.holdEither(m, open, r)
	}
}

// length is an element's length between its nodes.
func (m *Model) length(e int) float64 {
	el := &m.Structure.Elements[e]
	p, q := m.Structure.Nodes[el.I].Pos, m.Structure.Nodes[el.J].Pos
	return r3.Norm(r3.Sub(q, p))
}

// hollow says whether a section is closed.
func hollow(s *catalog.Section) bool {
	return s != nil && (s.Family == catalog.RHS || s.Family == catalog.SHS || s.Family == catalog.CHS)
}

// purlinRestraints holds the top flange of rafters at each purlin whose line passes an anchored node, and both flanges
// where it has a fly brace.
func (b *builder) purlinRestraints(held []bool) {
	s := b.Shed
	if b.Design.FlyBraces > 0 {
		b.flyPlaces = make([]int, len(b.Structure.Members))
	}
	count := 0
	for _, l := range s.purlinLines(b.Design.PurlinSpacing) {
		count++
		anchor := b.anchorOf(&l, held)
		if anchor < 0 {
			continue
		}
		where := b.named(func() string {
			return fmt.Sprintf("purlin at Y %.2f, anchored at %s", l.v, b.Structure.Nodes[anchor].Name)
		})
		fly := b.Design.FlyBraces > 0 && count%b.Design.FlyBraces == 0
		both := where
		if fly {
			both += ", fly brace"
		}
		for _, sup := range l.supports {
			r := solver.Restraint{Station: sup.station, Flange: solver.TopFlange, Kind: solver.RestraintF, Source: where}
			open := r
			if fly { // hollow rafters have none
				b.flyPlaces[sup.member]++
				open.Flange, open.Source = solver.BothFlanges, both
			}
			if b.holds == nil { // a sketch
				continue
			}
			b.holdEither(sup.member, open, r)
		}
	}
}

// beamEnd is how beams rest on a post (AS 4100 4.3.4): at its face on a cap, gap beyond it (m) by a cleat. Where beams that carry
// joists come from both sides, one side's reaction alone is off the centroid.
type beamEnd struct {
	gap       float64
	bothSides bool
}

// endEccentricities gives struts and braces the distance from their centroid at which their stated cleats are joined, and says
// how beams rest on posts.
func (b *builder) endEccentricities() {
	d := &b.Shed.brief.Proposal.Details
	stated := map[solver.Role]*brief.Detail{solver.RoleStrut: d.StrutEnd, solver.RoleWallBrace: d.WallBraceEnd, solver.RoleRoofBrace: d.RoofBraceEnd}
	for i := range b.Structure.Members {
		m := &b.Structure.Members[i]
		if detail := stated[m.Role]; detail != nil && !b.Structure.Elements[m.Elements[0]].Bar {
			m.EndEccentricity = float64(detail.Eccentricity)
		}
	}
	for _, p := range b.Posts {
		m := &b.Structure.Members[p]
		m.EccentricitySource = "beams on a cap: reaction at the post's face (4.3.4)"
		rest := beamEnd{bothSides: b.betweenBeams(p)}
		if d.BeamEnd != nil && d.BeamEnd.Kind != "cap plate" {
			rest.gap = beamGap
			m.EccentricitySource = "beams on cleats: reaction 100 mm off the post's face (4.3.4)"
		}
		if rest.bothSides {
			m.EccentricitySource += ", of one side's beam, half the force"
		}
		b.rests = append(b.rests, rest)
	}
}

// betweenBeams says whether beams that carry joists meet on a post from both sides.
func (b *builder) betweenBeams(post int) bool {
	head := b.Structure.Elements[b.Structure.Members[post].Elements[0]].J
	n := 0
	for _, line := range b.Beams {
		es := b.Structure.Members[line.member].Elements
		if line.primary && (b.Structure.Elements[es[0]].I == head || b.Structure.Elements[es[len(es)-1]].J == head) {
			n++
		}
	}
	return n == 2
}

// anchorOf is the anchored rafter node within reach of a purlin line, or -1.
func (b *builder) anchorOf(l *line, held []bool) int {
	for _, fn := range b.frames {
		for _, sp := range fn.rafter {
			if held[sp.node] && b.Shed.slopeLength(sp.at, l.v) <= anchorReach && b.sameSlope(sp.at, l) {
				return sp.node
			}
		}
	}
	return -1
}

// sameSlope says whether a rafter position lies on the line's slope, its ends included.
func (b *builder) sameSlope(y float64, l *line) bool {
	sl := b.Shed.slopes()[int(l.face)-firstRoof]
	return y >= sl.from-1e-3 && y <= sl.to+1e-3
}
