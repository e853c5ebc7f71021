package drawings

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/shed"
	"leanbay/solver"
)

// DistinctFrames groups the frames (0-based, ascending) that are alike: the same members of the same steel at the same
// places, and the same struts, beams and clear zones meeting them.
func DistinctFrames(m *shed.Model) [][]int {
	items := itemsOf(m, newSchedule(m))
	var keys []string
	var out [][]int
	for f := range m.Shed.Frames {
		key := frameKey(m.Shed, f, items)
		if k := slices.Index(keys, key); k >= 0 {
			out[k] = append(out[k], f)
			continue
		}
		keys, out = append(keys, key), append(out, []int{f})
	}
	return out
}

// frameKey says what a frame looks like in its plane.
func frameKey(s *shed.Shed, f int, items []item) string {
	inside := planeOf(s, f)
	var parts []string
	for _, it := range items {
		switch {
		case inside(it.a) && inside(it.b):
			parts = append(parts, fmt.Sprintf("%s %.3f %.3f %.3f %.3f", it.mark, it.a.Y, it.a.Z, it.b.Y, it.b.Z))
		case inside(it.a) || inside(it.b):
			at := it.a
			if inside(it.b) {
				at = it.b
			}
			if it.role == solver.RoleStrut || it.role == solver.RoleBeam {
				parts = append(parts, fmt.Sprintf("%s at %.3f %.3f", it.mark, at.Y, at.Z))
			}
		}
	}
	slices.Sort(parts)
	for _, z := range s.ClearZones() {
		if crossesZone(s, f, z) {
			parts = append(parts, z.Name)
		}
	}
	return strings.Join(slices.Compact(parts), ";")
}

// crossesZone says whether a frame's plane cuts a clear zone.
func crossesZone(s *shed.Shed, f int, z shed.ClearZone) bool {
	return s.Frames[f] > z.X0-tolerance && s.Frames[f] < z.X1+tolerance
}

// Frame draws the elevation of frame f (0-based) looking towards the west gable, so that column line A is on the left:
// members at their depth, props, floors' beams, struts seen from their ends, sections written along the members.
func Frame(m *shed.Model, f int) SVG {
	s := m.Shed
	d := newDrawing(s, frameTitle(alikeWith(m, f)), 2*edge+2*sideRoom+frameScale(s)*s.Span)
	d.scale, d.sched = frameScale(s), newSchedule(m)
	v := &view{drawing: d, scale: d.scale, x0: math.Max(edge+sideRoom, (d.width-d.scale*s.Span)/2), y0: headHeight + aboveRoom + d.scale*s.Ridge, length: s.Span}
	v.seg("outline", -0.5, 0, s.Span+0.5, 0, "", "")
	v.columnLines(s, s.RoofZ(0)+0.5, v.y0+112)
	items, inside := itemsOf(m, d.sched), planeOf(s, f)
	ys, levels := []float64{0, s.Span}, []float64{0, s.EavesA, s.EavesB, s.Ridge}
	for _, n := range feetOf(m) {
		if inside(n.Pos) {
			v.foot(n, acrossSpan)
			ys = append(ys, n.Pos.Y)
		}
	}
	var drawn []item
	for _, it := range items {
		if inside(it.a) && inside(it.b) {
			drawn = append(drawn, it)
			if it.role == solver.RoleBeam {
				levels = append(levels, it.a.Z)
			}
		}
	}
	v.pieces(drawn)
	v.zones(s, acrossSpan, func(z shed.ClearZone) bool { return crossesZone(s, f, z) })
	taken := v.endOn(items, acrossSpan, inside)
	for _, it := range drawn {
		taken = v.along(it, taken)
	}
	v.slopes(s)
	v.frameDimensions(s, ys, levels)
	d.reach(v.y0 + 130)
	d.notes = append(d.notes, "Seen from the east; heights and lengths between centre lines, in m. Members are drawn at their depth.")
	return d.finish()
}

func frameScale(s *shed.Shed) float64 { return scaleFor(s.Span, usualWidth-400) }

// alikeWith are the frames that one drawing of frame f stands for.
func alikeWith(m *shed.Model, f int) []int {
	for _, set := range DistinctFrames(m) {
		if slices.Contains(set, f) {
			return set
		}
	}
	panic(fmt.Sprintf("drawings: no frame %d", f))
}

// frameTitle names the frames of a drawing.
func frameTitle(fs []int) string {
	if len(fs) > 1 {
		return "frames " + framesText(fs) + ", all alike"
	}
	return "frame " + framesText(fs)
}

// framesText numbers frames as drawings do.
func framesText(fs []int) string {
	var out []string
	for _, f := range fs {
		out = append(out, fmt.Sprint(f+1))
	}
	return strings.Join(out, ", ")
}

// piece draws a member at its depth with its centre line. Rafters are cut upright, so that they meet at the ridge and reach
// the outer faces of the columns.
func (v *view) piece(it item, overhang float64) {
	x0, y0 := v.at(it.a.Y, it.a.Z)
	x1, y1 := v.at(it.b.Y, it.b.Z)
	length := math.Hypot(x1-x0, y1-y0)
	half := math.Max(it.depth*v.scale/2, 1.5)
	nx, ny := half*(y1-y0)/length, -half*(x1-x0)/length
	pts := [][2]float64{{x0 + nx, y0 + ny}, {x1 + nx, y1 + ny}, {x1 - nx, y1 - ny}, {x0 - nx, y0 - ny}}
	if it.role == solver.RoleRafter {
		grade, up := (y1-y0)/(x1-x0), half*length/math.Abs(x1-x0)
		out0, out1 := v.overhang(it.a.Y, overhang), v.overhang(it.b.Y, overhang)
		p0, p1 := [2]float64{x0 + out0, y0 + grade*out0}, [2]float64{x1 + out1, y1 + grade*out1}
		pts = [][2]float64{{p0[0], p0[1] - up}, {p1[0], p1[1] - up}, {p1[0], p1[1] + up}, {p0[0], p0[1] + up}}
	}
	v.polygon("piece", pts, it.id, it.tip)
	v.line("grid", x0, y0, x1, y1, "", "")
}

// overhang is how far (px, to the right) a rafter's end at y goes on to the outer face of a column half as deep.
func (v *view) overhang(y, half float64) float64 {
	switch {
	case near(y, 0):
		return -half * v.scale
	case near(y, v.length):
		return half * v.scale
	}
	return 0
}

// pieces draws a frame's members, rafters last, since uprights end under them.
func (v *view) pieces(items []item) {
	half := 0.0
	for _, it := range items {
		if it.role == solver.RoleColumn {
			half = it.depth / 2
		}
	}
	for _, last := range []bool{false, true} {
		for _, it := range items {
			if (it.role == solver.RoleRafter) == last {
				v.piece(it, half)
			}
		}
	}
}

// along writes mark and section along a member, beside it, where no other such text is; taken are their middles.
func (v *view) along(it item, taken [][4]float64) [][4]float64 {
	x0, y0 := v.at(it.a.Y, it.a.Z)
	x1, y1 := v.at(it.b.Y, it.b.Z)
	if x1 < x0-1 || math.Abs(x1-x0) <= 1 && y1 > y0 {
		x0, y0, x1, y1 = x1, y1, x0, y0
	}
	length := math.Hypot(x1-x0, y1-y0)
	text := it.mark + "  " + it.tip[len(it.id)+2:]
	if widthOf(text, textSize) > length-8 {
		text = it.mark
	}
	v.shown[it.mark] = true
	dx, dy := (x1-x0)/length, (y1-y0)/length
	off, reach := it.depth*v.scale/2+10, widthOf(text, textSize)/2
	var x, y float64
	var box [4]float64
	for _, f := range []float64{0.5, 0.5, 0.7, 0.7, 0.3, 0.3} {
		// Left of an upright member's way up and above any other; then on its other side.
		x, y = x0+f*(x1-x0)+off*dy, y0+f*(y1-y0)-off*dx
		box = [4]float64{x - reach*math.Abs(dx) - 7, x + reach*math.Abs(dx) + 7, y - reach*math.Abs(dy) - 7, y + reach*math.Abs(dy) + 7}
		if !slices.ContainsFunc(taken, func(o [4]float64) bool { return box[0] < o[1] && o[0] < box[1] && box[2] < o[3] && o[2] < box[3] }) {
			break
		}
		off = -off
	}
	v.text(x, y, label{turn: math.Atan2(dy, dx) * 180 / math.Pi, halo: true}, text)
	return append(taken, box)
}

// slopes writes the pitch of each roof plane under the rafters.
func (v *view) slopes(s *shed.Shed) {
	ends := []float64{0, s.RidgeY, s.Span}
	for k := range 2 {
		a, b := ends[k], ends[k+1]
		if b-a < tolerance {
			continue
		}
		rise := s.RoofZ(b) - s.RoofZ(a)
		deg := math.Atan2(rise, b-a) * 180 / math.Pi
		mid := r3.Vec{Y: a + 0.3*(b-a)}
		if k == 1 {
			mid.Y = b - 0.3*(b-a)
		}
		x, y := v.at(mid.Y, s.RoofZ(mid.Y))
		v.text(x, y+34, label{turn: -deg, halo: true}, fmt.Sprintf("%.1f°", math.Abs(deg)))
	}
}

// frameDimensions draws the rows below and the heights on both sides.
func (v *view) frameDimensions(s *shed.Shed, ys, levels []float64) {
	if len(distinct(ys)) > 2 {
		v.chain(ys, v.y0+46)
	}
	v.chain([]float64{0, s.Span}, v.y0+76)
	v.chainUp([]float64{0, s.EavesA, s.Ridge}, v.x0-70)
	if l := distinct(append(levels[:0:0], levels...)); len(l) > 3 {
		v.chainUp(l, v.x0-44)
	}
}
