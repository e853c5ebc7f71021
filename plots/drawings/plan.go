package drawings

import (
	"fmt"
	"math"

	"leanbay/model/actions"
	"leanbay/model/shed"
	"leanbay/solver"
)

// wallBand is how thick openings are drawn in plan (px).
const wallBand = 14.0

// Plan draws the ground plan: columns, mullions, props and posts, mezzanines with their beams, doors and windows with their
// names, and what is kept free.
func Plan(m *shed.Model) SVG {
	s := m.Shed
	last := s.Frames[len(s.Frames)-1]
	d := newDrawing(s, "ground plan", 2*edge+2*sideRoom+80+planScale(s)*last)
	d.scale, d.plan, d.sched = planScale(s), true, newSchedule(m)
	v := &view{drawing: d, scale: d.scale, x0: edge + sideRoom + 40, y0: headHeight + aboveRoom + 30 + d.scale*s.Span, length: last}
	v.frameLines(s, s.Span+0.9, v.y0+136)
	for side, w := range []float64{0, s.Span} {
		x0, py := v.at(0, w)
		x1, _ := v.at(last, w)
		v.line("grid", x0-104, py, x1+14, py, "", "")
		v.bubble(x0-115, py, string(rune('A'+side)))
	}
	v.box("outline", 0, last, 0, s.Span, "")
	for _, z := range s.ClearZones() {
		x0, y0, x1, y1 := v.box("zone", z.X0, z.X1, z.Y0, z.Y1, z.Name)
		v.text((x0+x1)/2, y0+(y1-y0)/3, label{size: 10, halo: true}, fmt.Sprintf("%s, clear %.2f", z.Name, z.Height))
	}
	for i := range s.Mezzanines {
		z := &s.Mezzanines[i]
		v.box("floor", z.X0, z.X1, z.Y0, z.Y1, z.Name)
	}
	v.planOpenings(s)
	ys := v.planMembers(itemsOf(m, d.sched), s)
	for i := range s.Mezzanines {
		v.mezzanineName(&s.Mezzanines[i])
	}
	v.chain(s.Frames, v.y0+84)
	v.chain([]float64{0, last}, v.y0+108)
	v.chainUp(ys, v.x0-58)
	v.chainUp([]float64{0, s.Span}, v.x0-84)
	d.reach(v.y0 + 150)
	d.notes = append(d.notes, "Seen from above, lengths in m between centre lines. Walls carry the names of the brief, whatever the compass says.")
	return d.finish()
}

// mezzanineName writes a floor's name, level and joists in its middle.
func (v *view) mezzanineName(m *shed.Mezzanine) {
	x, y := v.at((m.X0+m.X1)/2, (m.Y0+m.Y1)/2)
	way := "Y"
	if m.JoistsAlongX {
		way = "X"
	}
	v.text(x, y-8, label{size: 12, halo: true}, fmt.Sprintf("%s, level %.2f", m.Name, m.Level))
	v.text(x, y+8, label{size: 10, halo: true}, fmt.Sprintf("joists along %s, %.2f m apart", way, m.JoistSpacing))
}

// planOpenings draws doors and windows in their walls, with their names outside; those at one place share a stack of names.
func (v *view) planOpenings(s *shed.Shed) {
	last := s.Frames[len(s.Frames)-1]
	stacked := map[string]int{}
	for _, o := range s.Building.Openings {
		half := wallBand / 2 / v.scale
		key := fmt.Sprintf("%d %.1f", o.Face, (o.U0+o.U1)/2)
		off := 16 + 12*float64(stacked[key])
		stacked[key]++
		mid := (o.U0 + o.U1) / 2
		switch o.Face {
		case actions.SouthWall, actions.NorthWall:
			y, way := 0.0, 1.0
			if o.Face == actions.NorthWall {
				y, way = s.Span, -1
			}
			v.box("opening", o.U0, o.U1, y-half, y+half, o.Name)
			px, py := v.at(mid, y)
			v.text(px, py+way*(off+3), label{size: 9.5, halo: true}, o.Name)
		case actions.WestGable, actions.EastGable:
			x, way := 0.0, -1.0
			if o.Face == actions.EastGable {
				x, way = last, 1
			}
			v.box("opening", x-half, x+half, o.U0, o.U1, o.Name)
			px, py := v.at(x, mid)
			v.text(px+way*off, py, label{size: 9.5, turn: -90, halo: true}, o.Name)
		}
	}
}

// planMembers draws beams as lines and uprights as squares with their marks, and returns the Y that want dimensions.
func (v *view) planMembers(items []item, s *shed.Shed) []float64 {
	ys := []float64{0, s.Span}
	var upright []item
	for _, it := range items {
		switch it.role {
		case solver.RoleBeam:
			v.draw(it, inPlan)
		case solver.RoleColumn, solver.RoleMullion, solver.RoleProp, solver.RolePost:
			upright = append(upright, it)
			ys = append(ys, it.a.Y)
		}
	}
	v.uprights(upright)
	for _, it := range items {
		if it.role == solver.RoleBeam && math.Hypot(it.b.X-it.a.X, it.b.Y-it.a.Y)*v.scale > 40 {
			v.markAt(it, inPlan, 0.3)
		}
	}
	return ys
}
