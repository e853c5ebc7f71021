package drawings

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/brief"
	"leanbay/model/shed"
	"leanbay/solver"
)

// tolerance says what lies in a plane or at a place (m): above rounding, below any size of steel.
const tolerance = 0.005

// near says whether two positions are one on the drawing.
func near(a, b float64) bool { return math.Abs(a-b) < tolerance }

// view is a picture on a sheet: (u, v) in metres, u to the right (to the left where mirrored) and v up.
type view struct {
	*drawing
	scale    float64 // px per m
	x0, y0   float64 // px of the place that (0, 0), or where mirrored (length, 0), has
	length   float64 // m, extent in u
	mirrored bool
}

// at maps metres to px.
func (v *view) at(u, z float64) (x, y float64) {
	if v.mirrored {
		u = v.length - u
	}
	return v.x0 + v.scale*u, v.y0 - v.scale*z
}

// seg draws a line between two places (m).
func (v *view) seg(class string, u0, z0, u1, z1 float64, id, tip string) {
	x0, y0 := v.at(u0, z0)
	x1, y1 := v.at(u1, z1)
	v.line(class, x0, y0, x1, y1, id, tip)
}

// box draws a rectangle (m) and returns its corners in px, ordered.
func (v *view) box(class string, u0, u1, z0, z1 float64, tip string) (x0, y0, x1, y1 float64) {
	x0, y0 = v.at(u0, z1)
	x1, y1 = v.at(u1, z0)
	x0, x1 = math.Min(x0, x1), math.Max(x0, x1)
	v.rect(class, x0, y0, x1, y1, tip)
	return x0, y0, x1, y1
}

// projection maps global axes to a view's (u, v).
type projection func(r3.Vec) (u, v float64)

func alongWall(p r3.Vec) (u, v float64)  { return p.X, p.Z }
func acrossSpan(p r3.Vec) (u, v float64) { return p.Y, p.Z }
func inPlan(p r3.Vec) (u, v float64)     { return p.X, p.Y }

// item is a member as it is drawn.
type item struct {
	id, mark, tip string
	role          solver.Role
	a, b          r3.Vec // ends, offsets included (m)
	class         string
	depth         float64 // in the frame's plane (m)
	count         bool    // its mark is noted in the schedule
}

// itemsOf lists the members of a model as they are drawn, in the model's order; bars that stand for floors are left out.
func itemsOf(m *shed.Model, sc *schedule) []item {
	var out []item
	for i := range m.Structure.Members {
		mem := &m.Structure.Members[i]
		if standIn(mem) {
			continue
		}
		a, b := endsOf(&m.Structure, i)
		out = append(out, item{
			id: mem.ID, mark: sc.mark[i], tip: mem.ID + ": " + steelOf(mem), role: mem.Role, a: a, b: b, class: classOf(&m.Structure, i),
			depth: depthInFrame(mem), count: true,
		})
	}
	return out
}

// standIn says that a member is no piece of steel: a bar that stands for a floor.
func standIn(m *solver.Member) bool { return m.Role == solver.RoleOther && m.Section == nil }

// endsOf are the ends of a member with its rigid offsets.
func endsOf(st *solver.Structure, i int) (a, b r3.Vec) {
	els := st.Members[i].Elements
	first, last := &st.Elements[els[0]], &st.Elements[els[len(els)-1]]
	return r3.Add(st.Nodes[first.I].Pos, first.OffsetI), r3.Add(st.Nodes[last.J].Pos, last.OffsetJ)
}

// classOf is the kind of line of a member.
func classOf(st *solver.Structure, i int) string {
	m := &st.Members[i]
	first, last := &st.Elements[m.Elements[0]], &st.Elements[m.Elements[len(m.Elements)-1]]
	rigid := !first.Bar && !first.ReleaseI[solver.Mz] && !last.ReleaseJ[solver.Mz]
	switch m.Role {
	case solver.RoleStrut:
		if rigid || m.Group == string(brief.GroupPortalBeam) {
			return "frame" // a beam of a rigid frame in the wall's plane
		}
		return "strut"
	case solver.RoleBeam:
		return "beam"
	case solver.RoleWallBrace, solver.RoleRoofBrace:
		switch {
		case first.Acts == solver.TensionOnly:
			return "rod"
		case rigid || !first.Bar && !first.ReleaseI[solver.Mz]: // a column of a portal, pinned at its head perhaps

			return "frame"
		}
		return "diagonal"
	}
	return "frame"
}

// steelOf is a member's section and grade.
func steelOf(m *solver.Member) string {
	if m.Section == nil {
		return "no section"
	}
	return m.Section.Name + " " + m.Grade.Name
}

// depthInFrame is the size of a member seen along the building (m): a mullion shows its width, all others their depth.
func depthInFrame(m *solver.Member) float64 {
	if m.Section == nil {
		return 0
	}
	if m.Role == solver.RoleMullion && m.Section.Dims.B > 0 {
		return m.Section.Dims.B
	}
	return m.Section.Dims.D
}

// schedule gives each group's steel a mark: C1, R1, and so on, the same on every sheet of a model.
type schedule struct {
	entries []scheduleEntry
	mark    []string // per member
}

// scheduleEntry is one mark.
type scheduleEntry struct{ mark, group, steel string }

// markLetters are the letters of marks by role.
var markLetters = map[solver.Role]string{
	solver.RoleColumn: "C", solver.RoleRafter: "R", solver.RoleProp: "P", solver.RoleMullion: "M", solver.RoleBeam: "B",
	solver.RolePost: "T", solver.RoleStrut: "S", solver.RoleWallBrace: "W", solver.RoleRoofBrace: "X",
}

// otherLetter begins the marks of members of any other role.
const otherLetter = "N"

// newSchedule marks the members of a model.
func newSchedule(m *shed.Model) *schedule {
	sc := &schedule{}
	next := map[string]int{}
	for i := range m.Structure.Members {
		mem := &m.Structure.Members[i]
		letter, group, steel := markLetters[mem.Role], mem.Group, steelOf(mem)
		if standIn(mem) {
			sc.mark = append(sc.mark, "")
			continue
		}
		if letter == "" {
			letter = otherLetter
		}
		k := slices.IndexFunc(sc.entries, func(e scheduleEntry) bool { return e.group == group && e.steel == steel })
		if k < 0 {
			next[letter]++
			k = len(sc.entries)
			sc.entries = append(sc.entries, scheduleEntry{fmt.Sprintf("%s%d", letter, next[letter]), group, steel})
		}
		sc.mark = append(sc.mark, sc.entries[k].mark)
	}
	return sc
}

// draw draws an item as a line, without its mark.
func (v *view) draw(it item, p projection) {
	u0, z0 := p(it.a)
	u1, z1 := p(it.b)
	v.seg(it.class, u0, z0, u1, z1, it.id, it.tip)
}

// markAt writes an item's mark beside the line at a part f of its length, and notes it in the schedule.
func (v *view) markAt(it item, p projection, f float64) {
	if it.mark == "" {
		return
	}
	u0, z0 := p(it.a)
	u1, z1 := p(it.b)
	x0, y0 := v.at(u0, z0)
	x1, y1 := v.at(u1, z1)
	length := math.Hypot(x1-x0, y1-y0)
	if length < 1 {
		return
	}
	nx, ny := (y1-y0)/length, -(x1-x0)/length
	if ny > 0 || ny == 0 && nx < 0 {
		nx, ny = -nx, -ny
	}
	off := 9.0 + 4*math.Abs(nx)
	v.text(x0+f*(x1-x0)+off*nx, y0+f*(y1-y0)+off*ny, label{size: 9.5, halo: true}, it.mark)
	if it.count {
		v.shown[it.mark] = true
	}
}

// foot draws the foot of a column, prop, mullion or post.
func (v *view) foot(n *solver.Node, p projection) {
	u, z := p(n.Pos)
	x, y := v.at(u, z)
	class := "foot"
	if n.Held[solver.RX] || n.Held[solver.RY] || n.Spring[solver.RX] > 0 || n.Spring[solver.RY] > 0 {
		class = "footheld"
	}
	v.polygon(class, [][2]float64{{x, y}, {x - 6, y + 9}, {x + 6, y + 9}}, "", n.Name)
}

// chain draws a row of dimensions between positions along u, at y px. Figures are in m; a figure wider than its space is
// set above its neighbours.
func (v *view) chain(us []float64, y float64) {
	us = distinct(us)
	raised := false
	for i, u := range us {
		x, _ := v.at(u, 0)
		v.line("dim", x-4, y+4, x+4, y-4, "", "")
		if i == 0 {
			continue
		}
		xa, _ := v.at(us[i-1], 0)
		v.line("dim", xa, y, x, y, "", "")
		t := fmt.Sprintf("%.2f", u-us[i-1])
		up := 0.0
		if math.Abs(x-xa) < widthOf(t, textSize-1) && !raised {
			up = 10
		}
		raised = up > 0
		v.text((x+xa)/2, y-8-up, label{size: textSize - 1, halo: true}, t)
	}
}

// chainUp draws a column of dimensions between heights, at x px.
func (v *view) chainUp(zs []float64, x float64) {
	zs = distinct(zs)
	raised := false
	for i, z := range zs {
		_, y := v.at(0, z)
		v.line("dim", x-4, y+4, x+4, y-4, "", "")
		if i == 0 {
			continue
		}
		_, ya := v.at(0, zs[i-1])
		v.line("dim", x, ya, x, y, "", "")
		t := fmt.Sprintf("%.2f", z-zs[i-1])
		up := 0.0
		if math.Abs(y-ya) < widthOf(t, textSize-1) && !raised {
			up = 10
		}
		raised = up > 0
		v.text(x-8-up, (y+ya)/2, label{size: textSize - 1, turn: -90, halo: true}, t)
	}
}

// distinct sorts positions and drops repeats.
func distinct(v []float64) []float64 {
	v = slices.Clone(v)
	slices.Sort(v)
	return slices.CompactFunc(v, near)
}

// bubble draws the name of a grid line in a circle.
func (v *view) bubble(x, y float64, name string) {
	v.disc("dim", x, y, 11)
	v.text(x, y, label{bold: true}, name)
}

// frameLines draws the grid lines of the frames from z1 down to their bubbles at y px, with the bays' numbers between.
func (v *view) frameLines(s *shed.Shed, z1, y float64) {
	for f, x := range s.Frames {
		px, top := v.at(x, z1)
		v.line("grid", px, top, px, y-11, "", "")
		v.bubble(px, y, fmt.Sprint(f+1))
		if f > 0 {
			a, _ := v.at(s.Frames[f-1], 0)
			v.text((a+px)/2, y, label{}, fmt.Sprintf("bay %d", f))
		}
	}
}

// columnLines draws the grid lines A and B across the span.
func (v *view) columnLines(s *shed.Shed, z1, y float64) {
	for side, u := range []float64{0, s.Span} {
		px, top := v.at(u, z1)
		v.line("grid", px, top, px, y-11, "", "")
		v.bubble(px, y, string(rune('A'+side)))
	}
}

// heading writes a view's title above it.
func (v *view) heading(z, rise float64, t string) {
	_, y := v.at(0, z)
	v.text(v.x0, y-rise, label{size: 13, anchor: "start", bold: true}, t)
}
