package drawings

import (
	"fmt"
	"math"
	"strings"

	"leanbay/model/actions"
	"leanbay/model/bracing"
	"leanbay/model/shed"
)

// Candidates draws the bracing that a wall (0 south, 1 north, 2 west gable, 3 east gable) could take: the whole wall with the
// diagonals of full panels, then bay by bay a sketch of every pattern. Lines are free or blocked, with a cross where
// something blocks them; under each sketch stands the reason.
func Candidates(s *shed.Shed, side int) SVG {
	face := actions.SouthWall + actions.Face(side)
	us := s.Uprights(side)
	length, high := us[len(us)-1], 0.0
	for _, u := range append(us, s.RidgeY) {
		high = math.Max(high, s.Top(side, u))
	}
	scale := scaleFor(length, usualWidth-2*sideRoom)
	d := newDrawing(s, "bracing candidates, "+faceNames[face], 2*edge+2*sideRoom+scale*length)
	d.scale = scale
	v := &view{drawing: d, scale: d.scale, x0: edge + sideRoom, y0: headHeight + aboveRoom + scale*high, length: length, mirrored: mirrored(side)}
	v.heading(high, 34, faceNames[face]+", from outside")
	v.wallOutline(s, side)
	if face == actions.SouthWall || face == actions.NorthWall {
		v.frameLines(s, high+0.3, v.y0+96)
	} else {
		v.columnLines(s, high+0.3, v.y0+96)
		v.gableBays(us, v.y0+96)
	}
	v.floors(s, face)
	v.openings(s, face)
	list := s.Candidates(side)
	v.obstacles(list, s.BraceClearance())
	for _, c := range list {
		// The crossed pattern draws the lines of both single diagonals.
		if c.Pattern == bracing.CrossedRods && fullPanel(&c) {
			v.candidate(&c, s.BraceClearance())
		}
	}
	v.openingNames(s, face)
	v.chain(us, v.y0+44)
	v.chain([]float64{0, length}, v.y0+68)
	v.chainUp([]float64{0, s.Top(side, 0), high}, v.x0-32)
	d.bottom = v.y0 + 130
	d.sketches(s, face, list, mirrored(side))
	if len(list) == 0 {
		d.table = []string{"The wall has no cladding: it is left open, and no candidates are offered."}
	}
	d.notes = append(d.notes, fmt.Sprintf("A brace keeps %.0f mm from openings and floor edges. A free line is a place for a brace, not yet a brace that is strong enough. The scale bar is that of the whole wall; the sketches are smaller.", s.BraceClearance()*1e3))
	return d.finish()
}

// gableBays numbers the stretches between columns and mullions at y px.
func (v *view) gableBays(us []float64, y float64) {
	for k := 1; k < len(us); k++ {
		x0, _ := v.at(us[k-1], 0)
		x1, _ := v.at(us[k], 0)
		v.text((x0+x1)/2, y, label{}, fmt.Sprintf("bay %d", k))
	}
}

// mirrored says whether a wall seen from outside has its u to the left.
func mirrored(side int) bool { return side == 1 || side == 2 }

// wallOutline draws the floor, the top and the uprights of a wall.
func (v *view) wallOutline(s *shed.Shed, side int) {
	us := s.Uprights(side)
	v.seg("outline", 0, 0, v.length, 0, "", "")
	for k, u := range us {
		v.seg("outline", u, 0, u, s.Top(side, u), "", "")
		if k == 0 {
			continue
		}
		corners := []float64{us[k-1], u}
		if side >= 2 && s.RidgeY > us[k-1] && s.RidgeY < u {
			corners = []float64{us[k-1], s.RidgeY, u}
		}
		for i := 1; i < len(corners); i++ {
			v.seg("outline", corners[i-1], s.Top(side, corners[i-1]), corners[i], s.Top(side, corners[i]), "", "")
		}
	}
}

// fullPanel says whether a candidate's lines run from corner to corner of its panel.
func fullPanel(c *bracing.Candidate) bool { return c.Place == (bracing.Place{}) }

// Sizes of a sketch (px).
const (
	sketchWidth  = 116.0
	sketchPitch  = 156.0
	sketchText   = 9.0
	sketchLine   = 11.0
	sketchGutter = 26.0
)

// sketches draws every candidate small, a bay after the other, in rows from d.bottom downwards.
func (d *drawing) sketches(s *shed.Shed, face actions.Face, list []bracing.Candidate, mirrored bool) {
	perRow := int((d.width - 2*edge) / sketchPitch)
	bay, column, y, high := 0, 0, d.bottom, 0.0
	for i := range list {
		c := &list[i]
		if c.Panel.Bay != bay {
			if bay > 0 {
				y += high
			}
			bay, column = c.Panel.Bay, 0
			y += 16
			d.text(edge, y, label{size: 12, anchor: "start", bold: true}, fmt.Sprintf("bay %d", bay))
			y += 14
		} else if column == perRow {
			y, column = y+high, 0
		}
		if column == 0 {
			high = 0
		}
		high = math.Max(high, d.sketch(s, face, c, edge+sketchPitch*float64(column), y, mirrored))
		column++
	}
	d.reach(y + high)
}

// sketch draws one candidate with its left upper corner at (x, y) and returns the height that it takes.
func (d *drawing) sketch(s *shed.Shed, face actions.Face, c *bracing.Candidate, x, y float64, mirrored bool) float64 {
	k := sketchWidth / (c.Panel.U1 - c.Panel.U0)
	high := math.Max(c.Panel.V1, c.Panel.V1+math.Max(c.Panel.Rise[0], c.Panel.Rise[1]))
	v := &view{drawing: d, scale: k, x0: x - k*c.Panel.U0, y0: y + k*(high-c.Panel.V0), length: c.Panel.U1, mirrored: mirrored}
	if mirrored {
		v.x0 = x
	}
	v.panelOutline(&c.Panel)
	for _, o := range s.Building.Openings {
		if u0, u1 := math.Max(o.U0, c.Panel.U0), math.Min(o.U1, c.Panel.U1); o.Face == face && u1 > u0 {
			v.box("opening", u0, u1, o.V0, o.V1, o.Name)
		}
	}
	for _, f := range floorBands(s, face) {
		if u0, u1 := math.Max(f.u0, c.Panel.U0), math.Min(f.u1, c.Panel.U1); u1 > u0 {
			v.box("floor", u0, u1, f.level-shed.FloorEdge, f.level, f.name)
		}
	}
	v.candidate(c, s.BraceClearance())
	ty := v.y0 + 11
	lines := breakText(reason(c), sketchText, sketchPitch-8)
	for i, l := range lines {
		d.text(x, ty+float64(i)*sketchLine, label{size: sketchText, anchor: "start"}, l)
	}
	return k*(high-c.Panel.V0) + float64(len(lines))*sketchLine + sketchGutter
}

// panelOutline draws a bay's edges.
func (v *view) panelOutline(p *bracing.Panel) {
	mid := (p.U0 + p.U1) / 2
	for _, l := range [][4]float64{
		{p.U0, p.V0, p.U1, p.V0}, {p.U0, p.V0, p.U0, p.V1}, {p.U1, p.V0, p.U1, p.V1 + p.Rise[1]},
		{p.U0, p.V1, mid, p.V1 + p.Rise[0]}, {mid, p.V1 + p.Rise[0], p.U1, p.V1 + p.Rise[1]},
	} {
		v.seg("outline", l[0], l[1], l[2], l[3], "", "")
	}
}

// reason is a candidate's own reason without the bay, which stands above the sketches.
func reason(c *bracing.Candidate) string {
	text := strings.TrimPrefix(c.Reason(), fmt.Sprintf("bay %d: ", c.Panel.Bay))
	if c.Free() {
		return "free: " + text
	}
	return "no: " + text
}

// obstacles outlines what blocks lines, grown by the clearance, once each.
func (v *view) obstacles(list []bracing.Candidate, clearance float64) {
	var done []bracing.Rect
next:
	for _, c := range list {
		for _, b := range c.Blocks {
			for _, r := range done {
				if r == b.Obstacle.Rect {
					continue next
				}
			}
			done = append(done, b.Obstacle.Rect)
			r := b.Obstacle.Rect
			v.box("clearance", math.Max(0, r.U0-clearance), math.Min(v.length, r.U1+clearance), math.Max(0, r.V0-clearance), r.V1+clearance, b.Obstacle.Name)
		}
	}
}

// candidate draws one pattern's lines. A pattern that does not fit for another reason is drawn as blocked.
func (v *view) candidate(c *bracing.Candidate, clearance float64) {
	for i, l := range c.Lines {
		id := fmt.Sprintf("bay %d, %s, line %d", c.Panel.Bay, c.Pattern, i+1)
		class, tip := "free", id+": free"
		if len(c.Blocks) == 0 && !c.Free() {
			class, tip = "blocked", c.Reason()
		}
		for _, b := range c.Blocks {
			if b.Line == i {
				class, tip = "blocked", id+": blocked by "+b.Obstacle.Name
			}
		}
		v.seg(class, l.From.U, l.From.V, l.To.U, l.To.V, id, tip)
		for _, b := range c.Blocks {
			if b.Line == i {
				v.cross(l, grow(b.Obstacle.Rect, clearance))
			}
		}
	}
}

func grow(r bracing.Rect, c float64) bracing.Rect {
	return bracing.Rect{U0: r.U0 - c, U1: r.U1 + c, V0: r.V0 - c, V1: r.V1 + c}
}

// cross marks where a line enters a rectangle, by a point every 0.5 %.
func (v *view) cross(l bracing.Line, r bracing.Rect) {
	const parts = 200
	for k := range parts + 1 {
		f := float64(k) / parts
		u, z := l.From.U+f*(l.To.U-l.From.U), l.From.V+f*(l.To.V-l.From.V)
		if u > r.U0 && u < r.U1 && z > r.V0 && z < r.V1 {
			x, y := v.at(u, z)
			v.text(x, y, label{size: 16, bold: true, halo: true}, "×")
			return
		}
	}
}
