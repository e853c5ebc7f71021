package shed

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/bracing"
	"leanbay/model/brief"
	"leanbay/solver"
)

// wallPlane is the steel in the plane of one wall or gable between its columns and mullions: horizontal lines (struts, beams,
// eaves) with the nodes on them, and what ends on those.
type wallPlane struct {
	side  int
	lines map[level]*wallLine
	order []level       // lines in the order of bays and heights
	feet  map[place]int // bases between the columns, by bay and u
	us    []float64     // uprights
	parts []wallPart    // in the order of the design's braces
}

// level is a horizontal line in one bay, at a height of whole millimetres.
type level struct{ bay, mm int }

// place is a point between the columns of a bay, in whole millimetres along the wall.
type place struct{ bay, mm int }

func millimetres(v float64) int { return int(math.Round(v * 1e3)) }

// wallLine is one horizontal piece and the nodes along it, columns included.
type wallLine struct {
	group brief.Group
	rigid bool // joined rigidly to what stands at its ends, in the wall's plane
	stubs bool // four spots: a beam between the inner two, and struts from them to the columns
	spots []spot
}

// wallPart is one part of a brace.
type wallPart struct {
	Brace
	bracing.Part
}

// wallParts lists the parts of all braces of a wall.
func (s *Shed) wallParts(d *Design, side int) []wallPart {
	if len(d.Walls[side]) == 0 {
		return nil
	}
	us := s.Uprights(side)
	var out []wallPart
	for _, w := range d.Walls[side] {
		for _, p := range bracing.Parts(w.Pattern, s.panel(side, w.Bay, us), w.Place) {
			out = append(out, wallPart{w, p})
		}
	}
	return out
}

// wallCuts appends the heights at which bracing meets the upright at u of a wall, between floor and top.
func (b *builder) wallCuts(out []float64, u float64, side int) []float64 {
	for i := range b.parts[side] {
		line := &b.parts[side][i].Line
		for _, pt := range [2]bracing.Point{line.From, line.To} {
			if near(pt.U, u) && pt.V > 0.010 && pt.V < b.Shed.Top(side, u)-0.010 {
				out = append(out, pt.V)
			}
		}
	}
	return out
}

// columnCuts appends the heights at which bracing of a long wall, or of the gable that it stands in, meets the column of frame f.
func (b *builder) columnCuts(out []float64, f, side int) []float64 {
	s := b.Shed
	out = b.wallCuts(out, s.Frames[f], side)
	for gable := westGable; gable < planes; gable++ {
		if f == s.gableFrame(gable) {
			out = b.wallCuts(out, float64(side)*s.Span, gable)
		}
	}
	return out
}

// gableTops appends the Y between mullions at which a gable's bracing meets the end rafter.
func (b *builder) gableTops(out []float64, f int) []float64 {
	s := b.Shed
	for gable := westGable; gable < planes; gable++ {
		if f != s.gableFrame(gable) {
			continue
		}
		for i := range b.parts[gable] {
			line := &b.parts[gable][i].Line
			for _, pt := range [2]bracing.Point{line.From, line.To} {
				if near(pt.V, s.RoofZ(pt.U)) {
					out = append(out, pt.U)
				}
			}
		}
	}
	return out
}

// carries says whether bracing of a gable, by its parts, ends at the head of the mullion at y, which then presses and pulls the
// mullion.
func (s *Shed) carries(parts []wallPart, y float64) bool {
	return slices.ContainsFunc(parts, func(p wallPart) bool {
		top := func(pt bracing.Point) bool { return near(pt.U, y) && near(pt.V, s.RoofZ(y)) }
		return top(p.Line.From) || top(p.Line.To)
	})
}

// layWall makes the nodes that a wall's bracing needs between its columns.
func (b *builder) layWall(side int) *wallPlane {
	s := b.Shed
	w := &wallPlane{side: side, lines: map[level]*wallLine{}, feet: map[place]int{}, parts: b.parts[side], us: s.Uprights(side)}
	if b.Design.Struts.Eaves && !isGable(side) {
		for bay := range s.bays() {
			w.line(b, bay, s.Top(side, 0), brief.GroupEavesStrut)
		}
	}
	for _, p := range w.parts {
		if p.Pattern == bracing.DoorPortal && p.Kind == bracing.Beam {
			w.doorBeam(b, p)
		} else if p.Kind == bracing.Strut || p.Kind == bracing.Beam {
			l := w.line(b, p.Bay, p.Line.From.V, partGroup(p.Pattern, p.Kind))
			l.rigid = l.rigid || p.Kind == bracing.Beam && p.Pattern != bracing.KneeBraces
			l.stubs = l.stubs || p.Pattern == bracing.PortalFrame
		}
	}
	for _, p := range w.parts {
		if p.Kind != bracing.Strut && p.Kind != bracing.Beam {
			w.point(b, p, p.Line.From)
			w.point(b, p, p.Line.To)
		}
	}
	slices.SortFunc(w.order, func(a, c level) int { return cmp.Or(cmp.Compare(c.mm, a.mm), cmp.Compare(a.bay, c.bay)) })
	return w
}

// line finds or makes the horizontal line of a bay; a beam takes the place of a strut.
func (w *wallPlane) line(b *builder, bay int, z float64, group brief.Group) *wallLine {
	key := level{bay, millimetres(z)}
	l, ok := w.lines[key]
	if !ok {
		l = &wallLine{group: group, spots: []spot{
			{w.us[bay], at(b.column(w.side, bay), z)}, {w.us[bay+1], at(b.column(w.side, bay+1), z)},
		}}
		w.lines[key], w.order = l, append(w.order, key)
	}
	if group == brief.GroupPortalBeam {
		l.group = group
	}
	return l
}

// doorBeam makes the beam of a portal round a door: from leg to leg, rigid at both.
func (w *wallPlane) doorBeam(b *builder, p wallPart) {
	key := level{p.Bay, millimetres(p.Line.From.V)}
	l := &wallLine{group: brief.GroupPortalBeam, rigid: true}
	for _, pt := range []bracing.Point{p.Line.From, p.Line.To} {
		name := func() string {
			return fmt.Sprintf("%s, bay %d at X %.2f, Z %.2f", PlaneNames[w.side], p.Bay+1, pt.U, pt.V)
		}
		l.spots = append(l.spots, spot{pt.U, b.node(b.Shed.inSpace(w.side, pt), name)})
	}
	w.lines[key], w.order = l, append(w.order, key)
}

// point makes the node at a point between the columns, if there is none.
func (w *wallPlane) point(b *builder, p wallPart, pt bracing.Point) {
	s := b.Shed
	if near(pt.U, w.us[p.Bay]) || near(pt.U, w.us[p.Bay+1]) || w.onRafter(b, pt) >= 0 {
		return
	}
	pos, axis := s.inSpace(w.side, pt), "X"
	if isGable(w.side) {
		axis = "Y"
	}
	if near(pt.V, 0) {
		key := place{p.Bay, millimetres(pt.U)}
		if _, ok := w.feet[key]; !ok {
			n := b.node(pos, func() string {
				return fmt.Sprintf("base in %s bay %d at %s %.2f", wallNames[w.side], p.Bay+1, axis, pt.U)
			})
			b.foot(n, s.brief.Proposal.Bases.Columns)
			w.feet[key] = n
		}
		return
	}
	l := w.lines[level{p.Bay, millimetres(pt.V)}]
	if l == nil { // no strut was drawn there: the node hangs on what meets in it, and the analysis says so
		l = w.line(b, p.Bay, pt.V, "")
	}
	if at(l.spots, pt.U) >= 0 {
		return
	}
	name := func() string {
		return fmt.Sprintf("%s, bay %d at %s %.2f, Z %.2f", PlaneNames[w.side], p.Bay+1, axis, pt.U, pt.V)
	}
	l.spots = append(l.spots, spot{pt.U, b.node(pos, name)})
	slices.SortFunc(l.spots, func(a, c spot) int { return cmp.Compare(a.at, c.at) })
}

// onRafter is the node of the end rafter at a point of a gable, or -1 where the point does not lie on it.
func (w *wallPlane) onRafter(b *builder, pt bracing.Point) int {
	if !isGable(w.side) || !near(pt.V, b.Shed.RoofZ(pt.U)) {
		return -1
	}
	return at(b.frames[b.Shed.gableFrame(w.side)].rafter, pt.U)
}

// nodeAt is the node at a point of a part.
func (w *wallPlane) nodeAt(b *builder, p wallPart, pt bracing.Point) int {
	for _, k := range []int{p.Bay, p.Bay + 1} {
		if near(pt.U, w.us[k]) {
			return at(b.column(w.side, k), pt.V)
		}
	}
	if n := w.onRafter(b, pt); n >= 0 {
		return n
	}
	if near(pt.V, 0) {
		return w.feet[place{p.Bay, millimetres(pt.U)}]
	}
	return at(w.lines[level{p.Bay, millimetres(pt.V)}].spots, pt.U)
}

// wallLines adds the struts and beams of a wall, eaves first. Struts are pinned to the columns; the beam of a portalised bay
// on the frames' columns is joined rigidly to them in the wall's plane, which bends them about their minor axis.
func (b *builder) wallLines(w *wallPlane) {
	for _, key := range w.order {
		l := w.lines[key]
		if l.group == "" {
			continue
		}
		var nodes []int
		for _, sp := range l.spots {
			nodes = append(nodes, sp.node)
		}
		part := func(which string) func() string {
			return func() string { return b.lineID(l.group, w.side, key) + which }
		}
		if last := len(nodes) - 1; l.stubs && last > 2 { // a piece through to the columns would pry on the legs
			stub := l.group
			if b.Design.Struts.Eaves {
				stub = brief.GroupEavesStrut
			}
			b.wallLine(w, stub, part("/west"), nodes[:2], ends{pinI: true, turnsJ: true})
			b.wallLine(w, l.group, part(""), nodes[1:last], ends{})
			b.wallLine(w, stub, part("/east"), nodes[last-1:], ends{turnsI: true, pinJ: true})
			continue
		}
		b.wallLine(w, l.group, part(""), nodes, ends{pinI: true, pinJ: true, rigidInPlane: l.rigid})
	}
}

// wallLine adds one piece of a wall's horizontal line.
func (b *builder) wallLine(w *wallPlane, group brief.Group, name func() string, nodes []int, e ends) {
	m := b.member(name, group, solver.RoleStrut, r3.Vec{Z: 1}, nodes, e)
	if isGable(w.side) {
		b.GableStruts = append(b.GableStruts, m)
	} else {
		b.Struts = append(b.Struts, m)
	}
}

// lineID names a horizontal piece of a wall: by its line at the eaves, by wall and height elsewhere.
func (b *builder) lineID(group brief.Group, side int, key level) string {
	if z := float64(key.mm) / 1e3; isGable(side) || !near(z, b.Shed.Top(side, 0)) {
		return fmt.Sprintf("%s/%s/%d/Z%.2f", group, wallNames[side], key.bay+1, z)
	}
	return fmt.Sprintf("%s/%d/Y%.2f", group, key.bay+1, float64(side)*b.Shed.Span)
}

// wallBraces adds what is inclined or upright in a wall's plane: rods, diagonals, knees, and a portal's own columns.
func (b *builder) wallBraces(w *wallPlane) {
	for _, p := range w.parts {
		if p.Kind == bracing.Strut || p.Kind == bracing.Beam {
			continue
		}
		name := func() string { return partID(w.side, p) }
		if without := b.Design.Accident.Without; without != "" && without == name() {
			continue
		}
		i, j := w.nodeAt(b, p, p.Line.From), w.nodeAt(b, p, p.Line.To)
		nodes := []int{i, j}
		group := partGroup(p.Pattern, p.Kind)
		e, up := ends{pinI: true, pinJ: true}, r3.Vec{Y: 1}
		if isGable(w.side) {
			up = r3.Vec{X: 1}
		}
		switch {
		case p.Pattern == bracing.DoorPortal && p.Kind == bracing.Leg: // the beam meets it on its way up to the eaves strut
			e, up = ends{pinJ: true}, r3.Vec{X: 1}
			nodes = []int{i, at(w.lines[level{p.Bay, millimetres(p.Place.Mid)}].spots, p.Line.From.U), j}
		case p.Kind == bracing.Leg: // webs lie in the wall's plane; the foot is a base, the head is welded or bolted to the beam
			e, up = ends{}, r3.Vec{X: 1}
		case group == brief.GroupWallRod:
			e = ends{bar: true, tension: true}
		}
		m := b.member(name, group, solver.RoleWallBrace, up, nodes, e)
		b.Walls[w.side] = append(b.Walls[w.side], m)
		for _, n := range []int{i, j} {
			if b.newFoot(n) {
				b.Bases = append(b.Bases, Foot{n, m})
			}
		}
	}
	for _, br := range b.Design.Walls[w.side] {
		if isGable(w.side) {
			b.noteLegs(w.side, br)
		} else {
			b.notePortal(w.side, br)
		}
	}
}

// partID reads like a drawing: group, wall, bay, and which of the panel.
func partID(side int, p wallPart) string {
	id := fmt.Sprintf("%s/%s/%d/%s", partGroup(p.Pattern, p.Kind), wallNames[side], p.Bay+1, p.Name)
	if z := p.Place.From; z > 0 {
		id += fmt.Sprintf(" from %.2f", z)
	}
	return id
}

// newFoot says whether a node is a base that no member was entered for.
func (b *builder) newFoot(n int) bool {
	return b.Structure.Nodes[n].Held[solver.UZ] && !slices.ContainsFunc(b.Bases, func(f Foot) bool { return f.Node == n })
}

// Portal is a stretch of wall whose force along the building goes down by bending: of the frames' columns about their minor
// axis, or of columns that stand in the wall for it. Its columns sway in the wall's plane.
type Portal struct {
	Side, Bay int // 0-based
	Columns   []int
	Own       bool    // its own columns, about their major axis
	Leg       float64 // m, free height from the foot
	Beam      int     // member; -1 where a braced panel stands on the legs and turns with them as one
	Span      float64 // m, between the columns
}

// notePortal lists the portal that a brace makes, if it makes one.
func (b *builder) notePortal(side int, w Brace) {
	_, eaves := b.Shed.wallFace(side)
	p := Portal{Side: side, Bay: w.Bay, Leg: eaves, Beam: -1, Span: b.Shed.Frames[w.Bay+1] - b.Shed.Frames[w.Bay]}
	switch {
	case w.Pattern == bracing.PortalFrame || w.Pattern == bracing.DoorPortal:
		p.Own, p.Span = true, p.Span-2*w.Reach
		for _, m := range b.Walls[side] {
			mem := &b.Structure.Members[m]
			if mem.Group == string(brief.GroupPortalColumn) && b.inBay(mem, w.Bay) {
				p.Columns = append(p.Columns, m)
			}
		}
	case !w.bends():
		return
	default:
		p.Columns = []int{b.Columns[w.Bay][side], b.Columns[w.Bay+1][side]}
	}
	switch {
	case w.Pattern == bracing.KneeBraces:
		p.Leg, p.Span = eaves-w.Reach, p.Span-2*w.Reach
		p.Beam = b.beamOf(w.Bay, side, eaves)
	case w.Pattern == bracing.DoorPortal:
		p.Leg, p.Beam = max(w.Mid, eaves-w.Mid), b.beamOf(w.Bay, side, w.Mid)
	case w.Pattern == bracing.PortalBay || w.Pattern == bracing.PortalFrame:
		p.Beam = b.beamOf(w.Bay, side, eaves)
	case w.From > 0 && w.To > 0:
		p.Leg = max(w.From, eaves-w.To)
	case w.From > 0:
		p.Leg = w.From
	default:
		p.Leg = eaves - w.To
	}
	b.Portals = append(b.Portals, p)
}

// noteLegs lists the mullions that carry the force in a gable's plane by bending above or below a shortened panel. Columns
// of the end frame bend about their major axis there, as a frame's do.
func (b *builder) noteLegs(side int, w Brace) {
	for _, k := range []int{w.Bay, w.Bay + 1} {
		m := b.upright(side, k)
		mem := &b.Structure.Members[m]
		leg := w.From
		if w.To > 0 {
			leg = max(leg, mem.Length-w.To)
		}
		if mem.Role == solver.RoleMullion && leg > 0 {
			b.GableLegs = append(b.GableLegs, Portal{Side: side, Bay: w.Bay, Columns: []int{m}, Leg: leg, Beam: -1})
		}
	}
}

// inBay says whether a member's first node is in a bay.
func (b *builder) inBay(m *solver.Member, bay int) bool {
	x := b.Structure.Nodes[b.Structure.Elements[m.Elements[0]].I].Pos.X
	return x > b.Shed.Frames[bay] && x < b.Shed.Frames[bay+1]
}

// beamOf is the portal beam of a bay at a height, or -1; in a sketch it is not looked for.
func (b *builder) beamOf(bay, side int, z float64) int {
	if b.nameless {
		return -1
	}
	id := b.lineID(brief.GroupPortalBeam, side, level{bay, millimetres(z)})
	for _, m := range b.Struts {
		if b.Structure.Members[m].ID == id {
			return m
		}
	}
	return -1
}
