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
// the joists of a floor that is a diaphragm. A girt holds nothing here: no girt line ends on a node of the wall bracing. It
// returns which nodes are anchored.
func (b *builder) restraints() []bool {
	held := b.anchored()
	for i := range b.Structure.Members {
		m := &b.Structure.Members[i]
		switch m.Role {
		case solver.RoleColumn:
			b.hold(i, 0, solver.BothFlanges, solver.RestraintF, "base")
			b.holdNodes(i, held)
		case solver.RoleRafter:
			b.holdNodes(i, held)
		case solver.RoleOther:
		default:
			b.hold(i, 0, solver.BothFlanges, solver.RestraintF, "end joint")
			b.hold(i, m.Length, solver.BothFlanges, solver.RestraintF, "end joint")
		}
	}
	b.purlinRestraints(held)
	b.joistRestraints()
	b.topLoads()
	b.endEccentricities()
	for i := range b.Structure.Members {
		slices.SortStableFunc(b.Structure.Members[i].Restraints, func(p, q solver.Restraint) int { return cmp.Compare(p.Station, q.Station) })
	}
	return held
}

// fewRestraints is the room that a member's restraints begin with: most have no more.
const fewRestraints = 4

// hold adds a restraint.
func (b *builder) hold(m int, station float64, fl solver.Flange, k solver.RestraintKind, source string) {
	mem := &b.Structure.Members[m]
	if mem.Restraints == nil {
		mem.Restraints = make([]solver.Restraint, 0, fewRestraints)
	}
	mem.Restraints = append(mem.Restraints, solver.Restraint{Station: station, Flange: fl, Kind: k, Source: source})
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
		kind := solver.RestraintP
		if k == len(mem.Elements)-1 || hollow(mem.Section) {
			kind = solver.RestraintF
		}
		b.hold(m, station, solver.BothFlanges, kind, b.Structure.Nodes[el.J].Name+", anchored")
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
		where := fmt.Sprintf("purlin at Y %.2f, anchored at %s", l.v, b.Structure.Nodes[anchor].Name)
		fly := b.Design.FlyBraces > 0 && count%b.Design.FlyBraces == 0
		for _, sup := range l.supports {
			if fly {
				b.flyPlaces[sup.member]++
			}
			if fly && !hollow(b.Structure.Members[sup.member].Section) {
				b.hold(sup.member, sup.station, solver.BothFlanges, solver.RestraintF, where+", fly brace")
			} else {
				b.hold(sup.member, sup.station, solver.TopFlange, solver.RestraintF, where)
			}
		}
	}
}

// joistRestraints holds the top flange of beams sideways at every joist of a floor that the brief calls a diaphragm.
// Joists on the flange do not keep the beam from twisting.
func (b *builder) joistRestraints() {
	for _, line := range b.Beams {
		m := &b.Shed.Mezzanines[line.mezzanine]
		if !line.primary || !m.Diaphragm {
			continue
		}
		end := b.Structure.Members[line.member].Length
		for x := m.JoistSpacing; x < end-anchorReach; x += m.JoistSpacing {
			b.hold(line.member, x, solver.TopFlange, solver.RestraintL, "joist of the floor's diaphragm")
		}
	}
}

// topLoads says where purlins, girts and joists load the outer flange: they may move with it where they hold nothing.
func (b *builder) topLoads() {
	st, sec := &b.Structure, &b.Shed.brief.Building.Secondary
	for i := range st.Members {
		switch m := &st.Members[i]; m.Role {
		case solver.RoleRafter:
			if !sec.Purlins.Flush {
				m.TopLoads = b.Design.PurlinSpacing
			}
		case solver.RoleColumn, solver.RoleMullion:
			if !sec.Girts.Flush {
				m.TopLoads = b.Design.GirtSpacing
			}
		}
	}
	for _, j := range b.JoistBeams() {
		st.Members[j.Member].TopLoads = j.Spacing
	}
}

// endEccentricities gives struts and braces the distance from their centroid at which their stated cleats are joined, and
// posts that at which beams rest on them (AS 4100 4.3.4): at their face on a cap, 100 mm beyond it by a cleat. Where beams
// that carry joists come from both sides, one side's reaction alone is off the centroid.
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
		m.EndEccentricity, m.EccentricitySource = m.Section.Dims.D/2, "beams on a cap: reaction at the post's face (4.3.4)"
		if d.BeamEnd != nil && d.BeamEnd.Kind != "cap plate" {
			m.EndEccentricity += beamGap
			m.EccentricitySource = "beams on cleats: reaction 100 mm off the post's face (4.3.4)"
		}
		if b.betweenBeams(p) {
			m.EndEccentricity /= 2
			m.EccentricitySource += ", of one side's beam, half the force"
		}
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
