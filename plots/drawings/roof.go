package drawings

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"leanbay/model/shed"
	"leanbay/solver"
)

// Roof draws the roof in plan: frames and column lines, purlin lines, roof bracing with its nodes, struts, and the heads of
// props and mullions.
func Roof(m *shed.Model) SVG {
	s := m.Shed
	d := newDrawing(s, "roof plan", 2*edge+2*sideRoom+planScale(s)*s.Frames[len(s.Frames)-1])
	d.scale, d.sched = planScale(s), newSchedule(m)
	d.bottom = d.roofPlan(s, headHeight, itemsOf(m, d.sched), m.Design.PurlinSpacing)
	d.notes = append(d.notes, fmt.Sprintf("Seen from above, plan lengths in m. Purlins not more than %.2f m apart along the slope%s.", m.Design.PurlinSpacing, flyNote(m.Design)+secondaryNote(m.Design)))
	return d.finish()
}

// secondaryNote says which wind purlins and girts are sized for, where it is not the site's own.
func secondaryNote(d *shed.Design) string {
	if d.SecondaryWind == 0 {
		return ""
	}
	return "; purlins, girts, jambs and lintels are sized " + shed.SecondaryWindText(d.SecondaryWind)
}

// flyNote says where fly braces are.
func flyNote(d *shed.Design) string {
	switch d.FlyBraces {
	case 0:
		return "; no fly braces"
	case 1:
		return "; fly braces at every purlin where the rafter is an open section"
	}
	return fmt.Sprintf("; fly braces at every %d purlins where the rafter is an open section", d.FlyBraces)
}

func planScale(s *shed.Shed) float64 {
	return scaleFor(s.Frames[len(s.Frames)-1], usualWidth-2*sideRoom)
}

// roofPlan draws the plan below y and returns where its room ends. A purlin spacing of 0 leaves the purlins out.
func (d *drawing) roofPlan(s *shed.Shed, y float64, items []item, purlins float64) float64 {
	last := s.Frames[len(s.Frames)-1]
	d.plan = true
	v := &view{drawing: d, scale: d.scale, x0: edge + sideRoom, y0: y + aboveRoom + d.scale*s.Span, length: last}
	v.heading(s.Span, 46, "roof plan")
	v.frameLines(s, s.Span+0.4, v.y0+96)
	for side, w := range []float64{0, s.Span} {
		x0, py := v.at(0, w)
		x1, _ := v.at(last, w)
		v.line("grid", x0-70, py, x1+14, py, "", "")
		v.bubble(x0-81, py, string(rune('A'+side)))
	}
	if purlins > 0 {
		for _, w := range s.PurlinPositions(purlins) {
			v.seg("purlin", 0, w, last, w, "", fmt.Sprintf("purlin at Y %.2f", w))
		}
	}
	if s.RidgeY > tolerance && s.RidgeY < s.Span-tolerance {
		v.seg("outline", 0, s.RidgeY, last, s.RidgeY, "", "ridge")
		x, py := v.at(last, s.RidgeY)
		v.text(x+20, py, label{size: 9.5, anchor: "start", halo: true}, "ridge")
	}
	for i, name := range []string{"south wall", "north wall"} {
		x, py := v.at(last/2, float64(i)*s.Span)
		v.text(x, py+16-40*float64(i), label{size: 9.5, halo: true}, name)
	}
	v.planSteel(s, items)
	v.chain(s.Frames, v.y0+44)
	v.chain([]float64{0, last}, v.y0+68)
	west, east := braceNodes(items, 0, last/2), braceNodes(items, last/2, last)
	v.chainUp(append([]float64{0, s.Span}, west...), v.x0-30)
	if len(east) > 0 && !slices.EqualFunc(west, east, near) {
		v.chainUp(append([]float64{0, s.Span}, east...), v.x0+d.scale*last+70)
	}
	v.chainUp([]float64{0, s.Span}, v.x0-54)
	return v.y0 + 118
}

// planSteel draws roof members as lines and upright ones as squares.
func (v *view) planSteel(s *shed.Shed, all []item) {
	var nodes [][2]float64
	var items, upright []item
	for _, it := range all {
		if it.role == solver.RoleStrut && !near(it.a.Z, s.RoofZ(it.a.Y)) {
			continue // a strut in a wall, under the eaves
		}
		items = append(items, it)
		switch it.role {
		case solver.RoleRafter, solver.RoleStrut, solver.RoleRoofBrace:
			v.draw(it, inPlan)
		case solver.RoleColumn, solver.RoleProp, solver.RoleMullion:
			upright = append(upright, it)
		}
		if it.role == solver.RoleRoofBrace {
			nodes = append(nodes, [2]float64{it.a.X, it.a.Y}, [2]float64{it.b.X, it.b.Y})
		}
	}
	for _, n := range distinctPlaces(nodes) {
		x, y := v.at(n[0], n[1])
		v.disc("node", x, y, 3)
	}
	v.uprights(upright)
	for _, it := range items {
		switch it.role {
		case solver.RoleRafter:
			v.markAt(it, inPlan, 0.42)
		case solver.RoleStrut:
			v.markAt(it, inPlan, 0.5)
		case solver.RoleRoofBrace:
			v.markAt(it, inPlan, 0.28)
		}
	}
}

// uprights draws columns, props and mullions as squares; all but columns get their marks.
func (v *view) uprights(items []item) {
	for _, it := range items {
		x, y := v.at(it.a.X, it.a.Y)
		class := "upright"
		if it.class == "added" || it.class == "removed" || it.class == "changed" {
			class = it.class
		}
		const half = 5.0
		v.polygon(class, [][2]float64{{x - half, y - half}, {x + half, y - half}, {x + half, y + half}, {x - half, y + half}}, it.id, it.tip)
		if it.role == solver.RoleColumn || it.mark == "" {
			continue
		}
		dx := 15.0
		if it.role == solver.RoleMullion && it.a.X < tolerance {
			dx = -15
		}
		v.text(x+dx, y+10, label{size: 9.5, halo: true}, it.mark)
		if it.count {
			v.shown[it.mark] = true
		}
	}
}

// braceNodes are the Y at which the roof bracing with its middle in a stretch of X meets the rafters.
func braceNodes(items []item, from, to float64) []float64 {
	var out []float64
	for _, it := range items {
		if x := (it.a.X + it.b.X) / 2; it.role == solver.RoleRoofBrace && it.class != "removed" && x >= from && x < to {
			out = append(out, it.a.Y, it.b.Y)
		}
	}
	return distinct(out)
}

// distinctPlaces drops places that are drawn already.
func distinctPlaces(p [][2]float64) [][2]float64 {
	var out [][2]float64
	for _, q := range p {
		if !slices.ContainsFunc(out, func(o [2]float64) bool { return near(o[0], q[0]) && near(o[1], q[1]) }) {
			out = append(out, q)
		}
	}
	return out
}

// planeOf says whether a place lies in the plane of a frame.
func planeOf(s *shed.Shed, f int) func(r3.Vec) bool {
	return func(p r3.Vec) bool { return math.Abs(p.X-s.Frames[f]) < tolerance }
}
