package drawings

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/actions"
	"leanbay/model/shed"
	"leanbay/solver"
)

// Room around an elevation (px): heights on the left, dimension rows and bubbles below, title above.
const (
	sideRoom  = 96.0
	belowRoom = 150.0
	aboveRoom = 64.0
	between   = 70.0
)

// faceNames are the walls as drawings name them, with where they lie.
var faceNames = [4]string{"south wall, line A", "north wall, line B", "west gable", "east gable"}

// scaleFor is the px per metre at which a length fills a width, held where text stays readable.
func scaleFor(length, width float64) float64 {
	return math.Min(90, math.Max(34, width/length))
}

// usualWidth is the width that content aims at (px).
const usualWidth = 1500.0

// Walls draws both long walls and both gables, seen from outside: frame lines, cladding outline, openings, floors that meet
// the wall, what is kept free up to it, and the steel in its plane.
func Walls(m *shed.Model) SVG {
	s := m.Shed
	length := s.Frames[len(s.Frames)-1]
	scale := scaleFor(math.Max(length, 2*s.Span+2), usualWidth-2*sideRoom)
	d := newDrawing(s, "walls and gables from outside", 2*edge+2*sideRoom+scale*math.Max(length, 2*s.Span)+between)
	d.scale, d.sched = scale, newSchedule(m)
	items := itemsOf(m, d.sched)
	y := headHeight
	for side := range 2 {
		y = d.longWall(m.Shed, side, y, items, feetOf(m))
	}
	west := d.gable(m.Shed, 0, edge+sideRoom, y, items, feetOf(m))
	east := d.gable(m.Shed, 1, edge+2*sideRoom+scale*s.Span+between, y, items, feetOf(m))
	d.bottom = math.Max(west, east)
	d.notes = append(d.notes, "Centre lines; heights above the floor, in m. Walls carry the names of the brief, whatever the compass says.")
	return d.finish()
}

// feetOf are the nodes of all bases.
func feetOf(m *shed.Model) []*solver.Node {
	var out []*solver.Node
	for _, f := range m.Bases {
		out = append(out, &m.Structure.Nodes[f.Node])
	}
	return out
}

// wallPlane is the projection of a face and whether a member's end lies in it.
func wallPlane(s *shed.Shed, face actions.Face) (projection, func(r3.Vec) bool) {
	last := s.Frames[len(s.Frames)-1]
	switch face {
	case actions.SouthWall:
		return alongWall, func(p r3.Vec) bool { return near(p.Y, 0) }
	case actions.NorthWall:
		return alongWall, func(p r3.Vec) bool { return near(p.Y, s.Span) }
	case actions.WestGable:
		return acrossSpan, func(p r3.Vec) bool { return near(p.X, 0) }
	}
	return acrossSpan, func(p r3.Vec) bool { return near(p.X, last) }
}

// longWall draws one long wall below y and returns where its room ends.
func (d *drawing) longWall(s *shed.Shed, side int, y float64, items []item, feet []*solver.Node) float64 {
	face, eaves := actions.SouthWall, s.EavesA
	if side == 1 {
		face, eaves = actions.NorthWall, s.EavesB
	}
	length := s.Frames[len(s.Frames)-1]
	v := &view{drawing: d, scale: d.scale, x0: edge + sideRoom, y0: y + aboveRoom + d.scale*s.Ridge, length: length, mirrored: side == 1}
	v.heading(s.Ridge, 34, faceNames[face])
	v.seg("outline", 0, 0, length, 0, "", "")
	for _, x := range []float64{0, length} {
		v.seg("outline", x, eaves, x, s.Ridge, "", "")
	}
	v.seg("outline", 0, s.Ridge, length, s.Ridge, "", "")
	v.frameLines(s, math.Max(eaves, s.Ridge)+0.3, v.y0+118)
	v.inWall(s, face, items, feet)
	v.wallDimensions(s, face, s.Frames, []float64{0, eaves, s.Ridge})
	return v.y0 + belowRoom
}

// gable draws one gable with its left edge at x below y and returns where its room ends.
func (d *drawing) gable(s *shed.Shed, gable int, x, y float64, items []item, feet []*solver.Node) float64 {
	face := actions.WestGable + actions.Face(gable)
	v := &view{drawing: d, scale: d.scale, x0: x, y0: y + aboveRoom + d.scale*s.Ridge, length: s.Span, mirrored: gable == 0}
	v.heading(s.Ridge, 34, fmt.Sprintf("%s, line %d", faceNames[face], 1+gable*(len(s.Frames)-1)))
	v.seg("outline", 0, 0, s.Span, 0, "", "")
	v.columnLines(s, s.RoofZ(0)+0.3, v.y0+118)
	v.gableBays(s.Uprights(2+gable), v.y0+118)
	v.inWall(s, face, items, feet)
	v.wallDimensions(s, face, append([]float64{0, s.Span}, s.Mullions[gable]...), []float64{0, s.EavesA, s.EavesB, s.Ridge})
	return v.y0 + belowRoom
}

// inWall draws what lies in a wall's plane: openings, floors, zones that reach the wall, steel, feet.
func (v *view) inWall(s *shed.Shed, face actions.Face, items []item, feet []*solver.Node) {
	p, inside := wallPlane(s, face)
	v.floors(s, face)
	v.openings(s, face)
	v.zones(s, p, func(z shed.ClearZone) bool {
		return inside(r3.Vec{X: z.X0, Y: z.Y0}) || inside(r3.Vec{X: z.X1, Y: z.Y1})
	})
	for _, n := range feet {
		if inside(n.Pos) {
			v.foot(n, p)
		}
	}
	v.steel(items, p, inside)
	v.openingNames(s, face)
}

// steel draws the members in a plane, then those that run out of it as squares, then the marks over both.
func (v *view) steel(items []item, p projection, inside func(r3.Vec) bool) {
	var drawn []item
	for _, it := range items {
		if inside(it.a) && inside(it.b) {
			v.draw(it, p)
			drawn = append(drawn, it)
		}
	}
	v.endOn(items, p, inside)
	for _, it := range drawn {
		f := 0.5
		switch it.role {
		case solver.RoleColumn, solver.RoleMullion, solver.RoleProp, solver.RolePost:
			f = 0.14
		case solver.RoleWallBrace:
			f = 0.3
		case solver.RoleRafter:
			f = 0.32
		}
		v.markAt(it, p, f)
	}
}

// endOn draws struts and beams that run out of the plane, once a place, and returns the boxes that they take (px: left,
// right, top, bottom).
func (v *view) endOn(items []item, p projection, inside func(r3.Vec) bool) (taken [][4]float64) {
	var seen [][2]float64
	for _, it := range items {
		if it.role != solver.RoleStrut && it.role != solver.RoleBeam || inside(it.a) == inside(it.b) {
			continue
		}
		at := it.a
		if inside(it.b) {
			at = it.b
		}
		u, z := p(at)
		if slices.ContainsFunc(seen, func(s [2]float64) bool { return near(s[0], u) && near(s[1], z) }) {
			continue
		}
		seen = append(seen, [2]float64{u, z})
		x, y := v.at(u, z)
		v.rect("endon", x-4, y-4, x+4, y+4, it.tip)
		taken = append(taken, [4]float64{x - 16, x + 16, y - 18, y + 10})
		if it.mark != "" {
			v.text(x, y-11, label{size: 9.5, halo: true}, it.mark)
			v.shown[it.mark] = true
		}
	}
	return taken
}

// openings draws the doors and windows of a face.
func (v *view) openings(s *shed.Shed, face actions.Face) {
	for _, o := range s.Building.Openings {
		if o.Face == face {
			v.box("opening", o.U0, o.U1, o.V0, o.V1, fmt.Sprintf("%s: %.2f x %.2f m, sill %.2f", o.Name, o.U1-o.U0, o.V1-o.V0, o.V0))
		}
	}
}

// openingNames writes the names of a face's openings, over what else is drawn.
func (v *view) openingNames(s *shed.Shed, face actions.Face) {
	for _, o := range s.Building.Openings {
		if o.Face != face {
			continue
		}
		xa, y0 := v.at(o.U0, o.V1)
		xb, y1 := v.at(o.U1, o.V0)
		x0, x1 := math.Min(xa, xb), math.Max(xa, xb)
		if !v.fitText(x0, y0, x1, y1, o.Name) {
			v.text((x0+x1)/2, y0-7, label{size: 8, halo: true}, o.Name)
		}
	}
}

// floorBand is the edge of a mezzanine in a face (m).
type floorBand struct {
	name          string
	u0, u1, level float64
}

// floorBands are the edges of the mezzanines that meet a face.
func floorBands(s *shed.Shed, face actions.Face) []floorBand {
	last := s.Frames[len(s.Frames)-1]
	var out []floorBand
	for i := range s.Mezzanines {
		m := &s.Mezzanines[i]
		u0, u1 := m.X0, m.X1
		touches := near(m.Y0, 0)
		switch face {
		case actions.NorthWall:
			touches = near(m.Y1, s.Span)
		case actions.WestGable:
			u0, u1, touches = m.Y0, m.Y1, near(m.X0, 0)
		case actions.EastGable:
			u0, u1, touches = m.Y0, m.Y1, near(m.X1, last)
		}
		if touches {
			out = append(out, floorBand{m.Name, u0, u1, m.Level})
		}
	}
	return out
}

// floors draws the edges of the mezzanines that meet a face.
func (v *view) floors(s *shed.Shed, face actions.Face) {
	for _, f := range floorBands(s, face) {
		_, y0, x1, _ := v.box("floor", f.u0, f.u1, f.level-shed.FloorEdge, f.level, f.name)
		v.text(x1-6, y0-7, label{size: 9, anchor: "end", halo: true}, fmt.Sprintf("%s, %.2f", f.name, f.level))
	}
}

// zones draws the silhouettes of the clear zones that keep says are to be seen.
func (v *view) zones(s *shed.Shed, p projection, keep func(shed.ClearZone) bool) {
	for _, z := range s.ClearZones() {
		if !keep(z) {
			continue
		}
		u0, _ := p(r3.Vec{X: z.X0, Y: z.Y0})
		u1, _ := p(r3.Vec{X: z.X1, Y: z.Y1})
		x0, y0, _, _ := v.box("zone", u0, u1, 0, z.Height, z.Name)
		v.text(x0+16, y0-7, label{size: 9, anchor: "start", halo: true}, fmt.Sprintf("%s, clear %.2f", z.Name, z.Height))
	}
}

// wallDimensions draws the rows below a wall (openings, grid, overall) and the column of heights on its left.
func (v *view) wallDimensions(s *shed.Shed, face actions.Face, grid, heights []float64) {
	us, levels := []float64{0, v.length}, slices.Clone(heights)
	for _, o := range s.Building.Openings {
		if o.Face == face {
			us = append(us, o.U0, o.U1)
			levels = append(levels, o.V0, o.V1)
		}
	}
	if len(us) > 2 {
		v.chain(us, v.y0+34)
	}
	v.chain(grid, v.y0+62)
	v.chain([]float64{0, v.length}, v.y0+88)
	v.chainUp(heights, v.x0-32)
	if len(levels) > len(heights) {
		v.chainUp(levels, v.x0-60)
	}
}
