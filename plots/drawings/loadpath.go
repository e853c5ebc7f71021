package drawings

import (
	"fmt"
	"math"

	"leanbay/optimize/shedspace"
)

// leastShown is the axial force below which a piece carries no figure (N).
const leastShown = 100.0

// LoadPath draws how the force along or across the building reaches the ground under one combination: the roof in plan between
// both long walls, or above both gables, with the axial force in each piece of bracing, what the mullions' heads push, and
// what the feet take.
func LoadPath(l *shedspace.LoadPath) SVG {
	s := l.Model().Shed
	length := s.Frames[len(s.Frames)-1]
	title, scale := "path of the force along the building, ", planScale(s)
	width := scale * length
	if l.Across {
		title = "path of the force across the building, "
		scale = math.Min(scale, (usualWidth-2*sideRoom-between)/(2*s.Span))
		width = math.Max(scale*length, between+scale*2*s.Span)
	}
	d := newDrawing(s, title+l.Way(), 2*edge+2*sideRoom+width)
	d.scale = scale
	if l.Across {
		d.acrossPath(l)
	} else {
		d.alongPath(l, length)
	}
	d.table = []string{l.String(), l.Reason}
	if l.Trouble != "" {
		d.table = append(d.table, "No forces: "+l.Trouble)
	}
	note := "Axial forces in kN from the second-order analysis of this one combination, other actions of it included. Frame columns bend besides, where a bay is portalised."
	if l.Across {
		note = "Axial forces in kN from the second-order analysis of this one combination, other actions of it included. Every frame takes its share by bending besides."
	}
	d.notes = append(d.notes, note)
	return d.finish()
}

// alongPath draws both long walls and the roof between them.
func (d *drawing) alongPath(l *shedspace.LoadPath, length float64) {
	s := l.Model().Shed
	x, y := edge+sideRoom, headHeight
	north := &view{drawing: d, scale: d.scale, x0: x, y0: y + aboveRoom + d.scale*s.EavesB, length: length}
	north.wallPath(l, s.Span, s.EavesB, "north wall, line B, seen from inside")
	plan := &view{drawing: d, scale: d.scale, x0: x, y0: north.y0 + 110 + d.scale*s.Span, length: length}
	plan.roofPath(l)
	south := &view{drawing: d, scale: d.scale, x0: x, y0: plan.y0 + 110 + d.scale*s.EavesA, length: length}
	south.wallPath(l, 0, s.EavesA, "south wall, line A, seen from outside")
	south.frameLines(s, s.EavesA, south.y0+70)
	d.reach(south.y0 + 90)
}

// acrossPath draws the roof with what each frame's feet take, and below it both gables, seen from the east.
func (d *drawing) acrossPath(l *shedspace.LoadPath) {
	s := l.Model().Shed
	length := s.Frames[len(s.Frames)-1]
	x := edge + sideRoom
	plan := &view{drawing: d, scale: d.scale, x0: x, y0: headHeight + 90 + d.scale*s.Span, length: length}
	plan.roofPath(l)
	for _, k := range l.Of(shedspace.StepFrames) {
		px, py := plan.at(k.A.X, 0)
		plan.text(px, py+40, label{size: 9.5, halo: true}, fmt.Sprintf("%s: %.1f", k.Member, math.Abs(k.Axial)/1e3))
	}
	plan.text(x, plan.y0+60, label{size: 9.5, anchor: "start"}, "what the feet of each frame take across the building, kN")
	top := plan.y0 + 140 + d.scale*s.Ridge
	for gable := range 2 {
		v := &view{drawing: d, scale: d.scale, x0: x + float64(gable)*(d.scale*s.Span+between), y0: top, length: s.Span}
		v.heading(s.Ridge, 30, faceNames[2+gable]+", seen from the east")
		v.wallOutline(s, 2+gable)
		at := float64(gable) * length
		for _, k := range l.Links {
			switch {
			case !near(k.A.X, at) || !near(k.B.X, at) || k.Step != shedspace.StepGables && k.Step != shedspace.StepFeet:
			case k.Step == shedspace.StepFeet:
				v.footPath(&k, k.A.Y)
			default:
				v.force(&k, acrossSpan)
			}
		}
		v.columnLines(s, s.EavesA, v.y0+70)
	}
	d.reach(top + 90)
}

// wallPath draws one long wall with the forces in its plane.
func (v *view) wallPath(l *shedspace.LoadPath, wallY, eaves float64, title string) {
	m := l.Model()
	v.heading(eaves, 34, title)
	v.seg("outline", 0, 0, v.length, 0, "", "")
	v.seg("outline", 0, eaves, v.length, eaves, "", "")
	for _, x := range m.Shed.Frames {
		v.seg("outline", x, 0, x, eaves, "", "")
	}
	for _, k := range l.Links {
		if !near(k.A.Y, wallY) || !near(k.B.Y, wallY) || k.Step == shedspace.StepHeads {
			continue
		}
		if k.Step == shedspace.StepFeet {
			v.footPath(&k, k.A.X)
			continue
		}
		v.force(&k, alongWall)
	}
}

// footPath writes what a foot at u takes along the wall and upwards.
func (v *view) footPath(k *shedspace.Link, u float64) {
	x, y := v.at(u, 0)
	v.arrow(x, y+12, k.Axial)
	v.text(x, y+26, label{size: 9, halo: true}, fmt.Sprintf("%.1f along", math.Abs(k.Axial)/1e3))
	word := "up"
	if k.Uplift < 0 {
		word = "down"
	}
	v.text(x, y+38, label{size: 9, halo: true}, fmt.Sprintf("%.1f %s", math.Abs(k.Uplift)/1e3, word))
}

// roofPath draws the roof in plan with the forces in its bracing, and the pushes of the mullions' heads.
func (v *view) roofPath(l *shedspace.LoadPath) {
	m := l.Model()
	s := m.Shed
	v.heading(s.Span, 30, "roof plan")
	for _, y := range []float64{0, s.Span} {
		v.seg("outline", 0, y, v.length, y, "", "")
	}
	for _, x := range s.Frames {
		v.seg("outline", x, 0, x, s.Span, "", "")
	}
	for _, k := range l.Links {
		switch k.Step {
		case shedspace.StepRoof, shedspace.StepStruts, shedspace.StepEaves:
			if near(k.A.Z, s.RoofZ(k.A.Y)) {
				v.force(&k, inPlan)
			}
		case shedspace.StepHeads:
			x, y := v.at(k.B.X, k.B.Y)
			at := x - 34
			if k.B.X > v.length/2 {
				at = x + 34
			}
			v.arrow(at, y, k.Axial)
			v.text(at, y-10, label{size: 9, halo: true}, fmt.Sprintf("%.1f", math.Abs(k.Axial)/1e3))
		}
	}
}

// force draws a piece with its axial force.
func (v *view) force(k *shedspace.Link, p projection) {
	class := "pull"
	switch {
	case math.Abs(k.Axial) < leastShown:
		class = "idle"
	case k.Axial < 0:
		class = "push"
	}
	u0, z0 := p(k.A)
	u1, z1 := p(k.B)
	v.seg(class, u0, z0, u1, z1, k.Member, fmt.Sprintf("%s: %.2f kN", k.Member, k.Axial/1e3))
	if class == "idle" {
		return
	}
	f := 0.5
	if math.Abs(u1-u0) > tolerance && math.Abs(z1-z0) > tolerance {
		f = 0.3 // crossed pieces keep their figures apart
	}
	x, y := v.at(u0+f*(u1-u0), z0+f*(z1-z0))
	v.text(x, y-7, label{size: 9.5, halo: true}, fmt.Sprintf("%.1f", math.Abs(k.Axial)/1e3))
}

// arrow points along +X or -X at a place on the sheet.
func (v *view) arrow(x, y, along float64) {
	if math.Abs(along) < leastShown {
		return
	}
	way := math.Copysign(1, along)
	v.polygon("arrow", [][2]float64{{x - 14*way, y - 1}, {x + 6*way, y - 1}, {x + 6*way, y - 5}, {x + 14*way, y}, {x + 6*way, y + 5}, {x + 6*way, y + 1}, {x - 14*way, y + 1}}, "", fmt.Sprintf("%.2f kN", along/1e3))
}
