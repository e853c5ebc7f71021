package shed

import (
	"fmt"
	"math"
	"strconv"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/catalog"
	"leanbay/model/bracing"
	"leanbay/model/brief"
	"leanbay/solver"
)

// Steel's elastic constants and density (AS 4100 1.4 and 2.2, as4100 values: E 200 GPa, G 80 GPa, 7850 kg/m³).
const (
	youngs  = 200e9
	shearG  = 80e9
	density = 7850.0
)

// beamGap is the least distance of a beam's reaction from the face of its column (AS 4100 4.3.4), m.
const beamGap = 0.100

// Model is a design as a structure, with the indices that loads, findings and service checks need.
type Model struct {
	Structure solver.Structure
	Shed      *Shed
	Design    *Design

	Columns  [][2]int   // member of column A and B, per frame
	Rafters  [][]int    // members of the rafters from A to B, per frame
	Mullions [2][]int   // west, east
	Props    []int      // in the order of the design's lines and frames
	Beams    []beamLine // mezzanine beams
	Posts    []int
	Struts   []int
	Walls    [planes][]int // brace members of the south and north wall, the west and east gable
	// GableStruts tie columns and mullions where braces of a gable meet them between floor and rafter.
	GableStruts []int
	Roof        []int    // roof brace members
	Portals     []Portal // stretches of wall that carry force along the building by bending
	// GableLegs are mullions that carry force across the building by bending, above or below a shortened panel.
	GableLegs []Portal
	Eaves     [][2]int // nodes
	RidgeN    []int    // ridge node per frame (a mono-pitch's higher eaves)
	Bases     []Foot
	Findings  []Finding

	Spans [][]float64 // developed lengths of rafter between columns and props (m), per frame from A to B
	Inner []int       // columns and rafters of the inner frames, one frame after the other
	// Knees are a column and the rafter that it meets, Heads a prop and the rafter over it.
	Knees, Heads [][2]int

	flyPlaces []int     // by member: where it would have fly braces, were its section open; nil where there are none
	holds     []holds   // by member, but for beams
	rests     []beamEnd // by post: how beams rest on it
	beams     []int     // see BeamMembers
	joists    []JoistBeam
}

// Foot is a base: its node and what stands on it.
type Foot struct {
	Node, Member int
}

// beamLine is one mezzanine beam and the floor it carries.
type beamLine struct {
	member, mezzanine int
	primary           bool    // carries joists
	x0, x1, y0, y1    float64 // the floor's area that it carries, plan
	seats             [2]Seat // what its ends stand off
}

// builder grows a Model.
type builder struct {
	*Model
	nameless     bool // for a sketch: nothing has a name
	frames       []frameNodes
	mullionSpots [2][][]spot // by height, head included
	parts        [planes][]wallPart
	lines        []strutLine
	points       [][]float64 // panel points of the roof's braced bays, in the design's order
	elements     []int       // room for members' lists
}

// frameNodes are the nodes of one frame: up the columns and along the rafter line.
type frameNodes struct {
	column [2][]spot // by height
	rafter []spot    // by Y, eaves included
}

// spot is a node at a position along a line.
type spot struct {
	at   float64
	node int
}

// at returns the node nearest to a position, within what distinct takes for one place, or -1.
func at(spots []spot, v float64) int {
	best, node := 0.0101, -1
	for _, s := range spots {
		if d := math.Abs(s.at - v); d < best {
			best, node = d, s.node
		}
	}
	return node
}

// Build makes the structure of design d. Members come in a fixed order (columns, rafters, mullions first), so that loads
// on them are the same for every design of the shed. A design that leaves out a needed link is built as it is and
// explained in Findings.
func (s *Shed) Build(d *Design) *Model {
	m := s.lay(d)
	m.Fit(d)
	return m
}

// lay makes what all designs of d's layout share: everything but what Fit takes from their sections.
func (s *Shed) lay(d *Design) *Model {
	b := &builder{Model: &Model{Shed: s, Design: d}}
	st, built := &b.Structure, &s.known.built
	st.Nodes, st.Elements, st.Members = make([]solver.Node, 0, built[0].Load()), make([]solver.Element, 0, built[1].Load()), make([]solver.Member, 0, built[2].Load())
	b.layMembers()
	b.list()
	b.listMeetings()
	held := b.anchored()
	b.restraints(held)
	b.read(held)
	for i, n := range [3]int{len(st.Nodes), len(st.Elements), len(st.Members)} {
		if int32(n) > built[i].Load() {
			built[i].Store(int32(n))
		}
	}
	return b.Model
}

// read writes down what a reading of the layout shows.
func (b *builder) read(held []bool) {
	r := reading{Shed: b.Shed, d: b.Design, words: !b.nameless}
	r.loadPath()
	r.trace(b.Model, held)
	b.Findings = r.out
}

// layMembers makes nodes, elements and members.
func (b *builder) layMembers() {
	s, d := b.Shed, b.Design
	for side := range planes {
		b.parts[side] = s.wallParts(d, side)
	}
	for _, bay := range d.Roof {
		b.points = append(b.points, s.PanelPoints(bay, d))
	}
	b.lines = s.strutLines(d)
	b.layNodes()
	for f := range s.Frames {
		b.columns(f)
	}
	for f := range s.Frames {
		b.rafters(f)
	}
	b.mullions()
	b.props()
	b.mezzanines()
	var walls [planes]*wallPlane
	for side := range planes {
		if !isGable(side) || len(d.Walls[side]) > 0 {
			walls[side] = b.layWall(side)
			b.wallLines(walls[side])
		}
	}
	b.struts()
	for _, w := range walls {
		if w != nil {
			b.wallBraces(w)
		}
	}
	b.roofBraces()
	b.applyAccident()
}

// node adds a node.
func (b *builder) node(p r3.Vec, name func() string) int {
	st := &b.Structure
	st.Nodes = append(st.Nodes, solver.Node{ID: len(st.Nodes) + 1, Name: b.named(name), Pos: p})
	return len(st.Nodes) - 1
}

// named is a name, or nothing in a sketch.
func (b *builder) named(name func() string) string {
	if b.nameless {
		return ""
	}
	return name()
}

// foot makes a node a base. A pinned foot still holds torsion: two bolts do.
func (b *builder) foot(n int, base brief.Base) {
	h := &b.Structure.Nodes[n]
	h.Held = [6]bool{true, true, true, false, false, true}
	switch base.Kind {
	case brief.FixedBase:
		h.Held[solver.RX], h.Held[solver.RY] = true, true
	case brief.SpringBase:
		h.Spring[solver.RX], h.Spring[solver.RY] = float64(base.Stiffness), float64(base.Stiffness)
	}
}

// layNodes makes the nodes of every frame: column feet, floor levels, eaves, and every place along the rafters where a
// brace, strut, prop or mullion meets them.
func (b *builder) layNodes() {
	s := b.Shed
	bases := s.brief.Proposal.Bases
	for f, x := range s.Frames {
		var fn frameNodes
		for side, y := range []float64{0, s.Span} {
			letter := columnLetter(side)
			foot := b.node(r3.Vec{X: x, Y: y}, func() string { return fmt.Sprintf("base %d/%s", f+1, letter) })
			b.foot(foot, bases.Columns)
			fn.column[side] = append(fn.column[side], spot{0, foot})
			for _, z := range distinct(b.columnCuts(b.floorLevels(x, y), f, side)) {
				n := b.node(r3.Vec{X: x, Y: y, Z: z}, func() string { return fmt.Sprintf("column %d/%s at %.2f", f+1, letter, z) })
				fn.column[side] = append(fn.column[side], spot{z, n})
			}
		}
		for _, y := range b.rafterCuts(f) {
			n := b.node(r3.Vec{X: x, Y: y, Z: s.RoofZ(y)}, func() string { return b.rafterName(f, y) })
			fn.rafter = append(fn.rafter, spot{y, n})
		}
		for side, y := range []float64{0, s.Span} {
			fn.column[side] = append(fn.column[side], spot{s.RoofZ(y), at(fn.rafter, y)})
		}
		b.frames = append(b.frames, fn)
		b.Eaves = append(b.Eaves, [2]int{at(fn.rafter, 0), at(fn.rafter, s.Span)})
		b.RidgeN = append(b.RidgeN, at(fn.rafter, s.RidgeY))
	}
}

// rafterName says where a rafter node is, as a drawing would.
func (b *builder) rafterName(f int, y float64) string {
	s := b.Shed
	switch {
	case near(y, 0):
		return fmt.Sprintf("eaves %d/A", f+1)
	case near(y, s.Span):
		return fmt.Sprintf("eaves %d/B", f+1)
	case near(y, s.RidgeY):
		return fmt.Sprintf("ridge %d", f+1)
	}
	return fmt.Sprintf("rafter %d at Y %.2f", f+1, y)
}

func columnLetter(side int) string { return string(rune('A' + side)) }

// floorLevels are the heights at which floors meet the column at (x, y).
func (b *builder) floorLevels(x, y float64) []float64 {
	var out []float64
	for i := range b.Shed.Mezzanines {
		m := &b.Shed.Mezzanines[i]
		if x > m.X0-1e-3 && x < m.X1+1e-3 && (near(y, m.Y0) || near(y, m.Y1)) {
			out = append(out, m.Level)
		}
	}
	return out
}

// rafterCuts are the Y of all nodes on the rafters of frame f.
func (b *builder) rafterCuts(f int) []float64 {
	s, d := b.Shed, b.Design
	cuts := []float64{0, s.Span, s.RidgeY}
	for k, bay := range d.Roof {
		if f == bay || f == bay+1 {
			cuts = append(cuts, b.points[k]...)
		}
	}
	for _, l := range b.lines {
		if f >= l.from && f <= l.to {
			cuts = append(cuts, l.y)
		}
	}
	cuts = b.gableTops(cuts, f)
	if f == 0 {
		cuts = append(cuts, s.Mullions[0]...)
	}
	if f == len(s.Frames)-1 {
		cuts = append(cuts, s.Mullions[1]...)
	}
	for _, p := range d.Props {
		for _, pf := range p.Frames {
			if pf == f {
				cuts = append(cuts, p.Y)
			}
		}
	}
	return distinct(cuts)
}

// strutLine is a line of struts from frame to frame (0-based, inclusive).
type strutLine struct {
	y        float64
	from, to int
	group    brief.Group
}

// strutLines are the lines of struts that the design has: eaves and ridge from end to end, and at the other nodes of the
// roof bracing through the braced bay and on to the gable it serves.
func (s *Shed) strutLines(d *Design) []strutLine {
	last := len(s.Frames) - 1
	var out []strutLine
	if d.Struts.Eaves {
		out = append(out, strutLine{0, 0, last, brief.GroupEavesStrut}, strutLine{s.Span, 0, last, brief.GroupEavesStrut})
	}
	if d.Struts.Ridge && s.HasRidge() {
		out = append(out, strutLine{s.RidgeY, 0, last, brief.GroupRidgeStrut})
	}
	if !d.Struts.Nodes {
		return out
	}
	for _, bay := range d.Roof {
		from, to := bay, bay+1
		if nearest(d.Roof, 0, s.bays()) == bay {
			from = 0
		}
		if nearest(d.Roof, 1, s.bays()) == bay {
			to = last
		}
		for _, y := range s.PanelPoints(bay, d) {
			if !near(y, 0) && !near(y, s.Span) && !near(y, s.RidgeY) {
				out = append(out, strutLine{y, from, to, brief.GroupNodeStrut})
			}
		}
	}
	return mergeLines(out)
}

// mergeLines joins lines at one Y that overlap or meet, so that no two struts lie in one place.
func mergeLines(lines []strutLine) []strutLine {
	var out []strutLine
next:
	for _, l := range lines {
		for i := range out {
			o := &out[i]
			if near(o.y, l.y) && l.from <= o.to && o.from <= l.to {
				o.from, o.to = min(o.from, l.from), max(o.to, l.to)
				continue next
			}
		}
		out = append(out, l)
	}
	return out
}

// ends says how a member's ends are joined.
type ends struct {
	pinI, pinJ bool // pinned about both axes
	slipJ      bool // the far end also slips along the member and twists freely
	bar        bool // axial only
	tension    bool
	// rigidInPlane keeps the ends of a pinned member rigid in the plane of its web.
	rigidInPlane bool
	// turnsI and turnsJ pin an end in the plane of the web only.
	turnsI, turnsJ bool
	springI        float64 // joint stiffness in the plane of the web, N·m/rad; 0 is rigid
	springJ        float64
}

// member adds a physical member through nodes in order, cut into elements between them. Its section comes with Fit.
func (b *builder) member(name func() string, group brief.Group, role solver.Role, y r3.Vec, nodes []int, e ends) int {
	st := &b.Structure
	id := b.named(name)
	m := solver.Member{ID: id, Group: string(group), Role: role}
	m.Elements = b.elementList(len(nodes) - 1)
	for i := 0; i+1 < len(nodes); i++ {
		el := solver.Element{I: nodes[i], J: nodes[i+1], Member: len(st.Members), E: youngs, G: shearG, Density: density, YAxis: y, Bar: e.bar}
		if !b.nameless {
			el.ID = id + "#" + strconv.Itoa(i+1)
		}
		if e.bar {
			el.Density = 0 // a rod's weight hangs on its ends (Load); its sag is not modelled
		}
		if e.tension {
			el.Acts = solver.TensionOnly
		}
		if i == 0 {
			el.ReleaseI[solver.My], el.ReleaseI[solver.Mz] = e.pinI, e.pinI && !e.rigidInPlane || e.turnsI
			el.SpringI[solver.Mz] = e.springI
		}
		if i+2 == len(nodes) {
			el.ReleaseJ[solver.My], el.ReleaseJ[solver.Mz] = e.pinJ, e.pinJ && !e.rigidInPlane || e.turnsJ
			el.ReleaseJ[solver.T] = e.pinI && e.pinJ || e.slipJ
			el.ReleaseJ[solver.N] = e.slipJ
			el.SpringJ[solver.Mz] = e.springJ
		}
		m.Elements = append(m.Elements, len(st.Elements))
		st.Elements = append(st.Elements, el)
		m.Length += b.ElementLength(len(st.Elements) - 1)
	}
	st.Members = append(st.Members, m)
	return len(st.Members) - 1
}

// elementList is an empty list with room for n elements.
func (b *builder) elementList(n int) []int {
	if n > len(b.elements) {
		b.elements = make([]int, max(n, manyElements))
	}
	out := b.elements[:0:n]
	b.elements = b.elements[n:]
	return out
}

// manyElements is the room that lists of elements are cut from.
const manyElements = 128

// columns adds the two columns of frame f, feet first; local y points outwards.
func (b *builder) columns(f int) {
	var pair [2]int
	for side := range 2 {
		out := r3.Vec{Y: float64(2*side - 1)}
		var nodes []int
		for _, sp := range b.frames[f].column[side] {
			nodes = append(nodes, sp.node)
		}
		group := b.endGroup(f, brief.GroupEndColumn, brief.GroupColumn)
		pair[side] = b.member(func() string { return fmt.Sprintf("column/%d/%s", f+1, columnLetter(side)) }, group, solver.RoleColumn, out, nodes, ends{})
		b.Bases = append(b.Bases, Foot{nodes[0], pair[side]})
	}
	b.Columns = append(b.Columns, pair)
}

// endGroup is the end frames' own group where the design has one.
func (b *builder) endGroup(f int, end, inner brief.Group) brief.Group {
	if _, ok := b.Design.Steel[end]; ok && (f == 0 || f == len(b.Shed.Frames)-1) {
		return end
	}
	return inner
}

// rafters adds the rafters of frame f from each eaves to the ridge (a mono-pitch has one, from A to B); local y points up.
func (b *builder) rafters(f int) {
	s := b.Shed
	joints := s.brief.Proposal.Joints
	group := b.endGroup(f, brief.GroupEndRafter, brief.GroupRafter)
	spots := b.frames[f].rafter
	var members []int
	add := func(name string, nodes []int, springJ float64) {
		p, q := b.Structure.Nodes[nodes[0]].Pos, b.Structure.Nodes[nodes[len(nodes)-1]].Pos
		x := r3.Unit(r3.Sub(q, p))
		up := r3.Vec{Y: -x.Z, Z: x.Y}
		if up.Z < 0 {
			up = r3.Scale(-1, up)
		}
		members = append(members, b.member(func() string { return fmt.Sprintf("rafter/%d/%s", f+1, name) }, group, solver.RoleRafter, up, nodes,
			ends{springI: float64(joints.Eaves), springJ: springJ}))
	}
	if len(s.slopes()) == 1 {
		add("A-B", nodesOf(spots, 0, s.Span), float64(joints.Eaves))
	} else {
		add("A-ridge", nodesOf(spots, 0, s.RidgeY), float64(joints.Ridge))
		north := nodesOf(spots, s.RidgeY, s.Span)
		for i, j := 0, len(north)-1; i < j; i, j = i+1, j-1 {
			north[i], north[j] = north[j], north[i]
		}
		add("B-ridge", north, float64(joints.Ridge))
	}
	b.Rafters = append(b.Rafters, members)
}

// nodesOf lists the nodes between two positions, ends included.
func nodesOf(spots []spot, from, to float64) []int {
	var out []int
	for _, s := range spots {
		if s.at > from-1e-3 && s.at < to+1e-3 {
			out = append(out, s.node)
		}
	}
	return out
}

// struts adds the struts of the roof along the building, bay by bay, pinned: they carry their own weight in bending. Those
// at the eaves belong to the walls.
func (b *builder) struts() {
	for _, l := range b.lines {
		if l.group == brief.GroupEavesStrut {
			continue
		}
		for f := l.from; f < l.to; f++ {
			i, j := at(b.frames[f].rafter, l.y), at(b.frames[f+1].rafter, l.y)
			name := func() string { return fmt.Sprintf("%s/%d/Y%.2f", l.group, f+1, l.y) }
			b.Struts = append(b.Struts, b.member(name, l.group, solver.RoleStrut, r3.Vec{Z: 1}, []int{i, j}, ends{pinI: true, pinJ: true}))
		}
	}
}

// roofBraces adds what braces the roof between the panel points of every braced bay: crossed rods, or one diagonal a panel
// that works both ways.
func (b *builder) roofBraces() {
	s, d := b.Shed, b.Design
	for i, bay := range d.Roof {
		points := b.points[i]
		lo, hi := b.frames[bay].rafter, b.frames[bay+1].rafter
		for k := 0; k+1 < len(points); k++ {
			rising := [2]int{at(lo, points[k]), at(hi, points[k+1])}
			falling := [2]int{at(lo, points[k+1]), at(hi, points[k])}
			name := func(kind, which string) func() string {
				return func() string { return fmt.Sprintf("%s/%d/panel %d%s", kind, bay+1, k+1, which) }
			}
			switch {
			case !d.roofDiagonals():
				b.roofRod(name("roof rod", "/a"), rising)
				b.roofRod(name("roof rod", "/b"), falling)
			case s.climbs(d.RoofPattern, k, points):
				b.roofDiagonal(name("roof diagonal", ""), rising)
			default:
				b.roofDiagonal(name("roof diagonal", ""), falling)
			}
		}
	}
}

// climbs says which way the diagonal of panel k runs: alternating in a zig-zag, else mirrored about mid-span.
func (s *Shed) climbs(p bracing.Pattern, k int, points []float64) bool {
	if p == bracing.ZigZag {
		return k%2 == 0
	}
	return (points[k]+points[k+1])/2 < s.Span/2
}

func (b *builder) roofRod(name func() string, n [2]int) {
	if without := b.Design.Accident.Without; without != "" && without == name() {
		return
	}
	b.Roof = append(b.Roof, b.member(name, brief.GroupRoofRod, solver.RoleRoofBrace, r3.Vec{Z: 1}, n[:], ends{bar: true, tension: true}))
}

func (b *builder) roofDiagonal(name func() string, n [2]int) {
	b.Roof = append(b.Roof, b.member(name, brief.GroupRoofDiagonal, solver.RoleRoofBrace, r3.Vec{Z: 1}, n[:], ends{pinI: true, pinJ: true}))
}

// FaceOffset is how far (m) from a column's axis a beam's reaction acts: half the section, along its web or across it, and the
// gap of AS 4100 4.3.4.
func FaceOffset(sec *catalog.Section, along bool) float64 {
	half := sec.Dims.D / 2
	if !along && sec.Dims.B > 0 {
		half = sec.Dims.B / 2
	}
	return math.Abs(half) + beamGap
}
